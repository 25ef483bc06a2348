#!/bin/bash
# The tablet's page: valid HTML, and in a browser as a builder uses it (tablet.py).
. "$(dirname "$0")/shared.sh"
needs pandoc tidy chromium chromedriver python3
cd "$scratch" || exit 2

"$program" order --html -o out "${shipped[@]}" >printed 2>said
it "every recipe has a page" [ "$(find out -name '*.html' | wc -l)" = ${#shipped[@]} ]

valid() { # valid PAGE: not one error or warning
    ! tidy -quiet -errors "$1" 2>&1 | cut -c 1-200 | grep .
}
spoilt() { sed 's,</h1>,</h1></input>,' "$1"; }
for page in out/*/*.html; do it "$page is valid HTML" valid "$page"; done
spoilt out/grebe/grebe.html >spoilt.html
it "a stray end tag would be found" not valid spoilt.html >"$scratch/printed"

# Two versions of one recipe, and one whose texts try to be markup.
cp out/grebe/grebe.html order.html
cp order.html first.html
{ cat "$top/recipes/grebe.yaml" && echo "# again"; } >grebe.yaml
it "another version has a page" gives 0 order --html -o second grebe.yaml
cp second/grebe/grebe.html second.html

hurts='</script><b>x</b><script>window.hurt=1</script><img src=x onerror=window.hurt=2>'
sed -e "s|^name: .*|name: '$hurts'|" "$top/recipes/grebe.yaml" >hostile.yaml
cat >>hostile.yaml <<END
steps:
  - add: hurt
    title: '$hurts'
    say: '$hurts <!-- --> &lt;b&gt; \`<i>\`{=html}'
    before: layout
END
it "a hostile recipe has a page" gives 0 order --html -o out hostile.yaml
cp out/hostile/hostile.html hostile.html
it "which is valid HTML" valid hostile.html

python3 "$top/tests/tablet.py" "$scratch" out/*/*.html >lines 2>complaint
while read -r mark sentence; do it "$sentence" [ "$mark" = + ]; done <lines
it "the browser was driven to the end" grep -qx '+ all of it was tried' lines
cat complaint
finish
