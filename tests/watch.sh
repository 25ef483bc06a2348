#!/bin/bash
# The living page: it follows every save however an editor does it, also of a base; it ends cleanly;
# it is valid HTML; and in a browser it renews itself where it lies (watch.py).
. "$(dirname "$0")/shared.sh"
needs tidy chromium chromedriver python3
set -m # jobs in the background take interrupts
cd "$scratch" || exit 2
cp "$top/recipes/grebe.yaml" "$top/recipes/grebe-dusk.yaml" .
page=out/grebe/view.html

# within SECONDS COMMAND...: the command succeeds before that.
within() {
    local due=$1 i
    shift
    for ((i = 0; i < due * 50; i++)); do
        "$@" 2>/dev/null && return
        sleep 0.02
    done
    return 1
}
shows() { grep -qF -e "$1" "$page"; }
shows_not() { [ -e "$page" ] && ! shows "$1"; }
begin() { # begin ARGUMENT...: watch in the background, once its page is there
    rm -f "$scratch/printed" # of the one before
    "$program" watch "$@" >"$scratch/printed" 2>"$scratch/said" </dev/null &
    pid=$!
    within 10 grep -q 'view\.html$' "$scratch/printed"
}
end() { # end SIGNAL STATUS
    local status
    kill -s "$1" "$pid"
    wait "$pid"
    status=$?
    [ $status = "$2" ] || { echo "exit status $status, not $2" && return 1; }
}
left_alone() { # nothing but what belongs there
    [ "$(ls -A out)" = grebe ] && [ "$(cd out/grebe && ls -A)" = "$(printf 'view.html\nview.js')" ]
}
names_page() { grep -qF "data-state=\"$(cut -d '"' -f 2 out/grebe/view.js)\"" "$page"; }

# Saves of all sorts.
it "watch writes a page" begin grebe.yaml
it "with the plug's name" shows "<h1>Grebe 95</h1>"
it "with drawings" shows "src=\"data:image/svg+xml,"
for chapter in diagnostics drawings weights floating ballast running; do
    it "with $chapter" shows "<section id=\"$chapter\">"
done
it "a first state differs from none" shows_not "<ins>"
sed 's/length: 95 mm/length: 97 mm/' grebe.yaml >new && cat new >grebe.yaml
it "a save in place is followed" within 5 shows "<ins>97.0 mm"
it "what was changed is told" shows "95 mm → 97 mm"
sed 's/length: 97 mm/length: 98 mm/' grebe.yaml >new && mv new grebe.yaml
it "so is a new file in the old one's place" within 5 shows "97 mm → 98 mm"
mv grebe.yaml grebe.yaml~ && sed 's/length: 98 mm/length: 99 mm/' grebe.yaml~ >grebe.yaml
it "so is one after the old one was moved away" within 5 shows "98 mm → 99 mm"
echo "# a note" >>grebe.yaml
it "a save that changes nothing keeps what was changed" within 1 shows "98 mm → 99 mm"
sed -i 's/length: 99 mm/length: 99 g/' grebe.yaml
it "an error is told" within 5 shows "a length is due"
it "with its line" shows "length: <mark>99 g</mark>"
it "and the last good state below it" shows "What follows is the last state without errors."
it "which has what it has" shows "<section id=\"floating\">"
it "the terminal tells it too" within 1 says "error: a length is due"
sed -i 's/length: 99 g/length: 96 mm/' grebe.yaml
it "its mending is seen" within 5 shows_not "a length is due"
it "beside the last good state" shows "99 mm → 96 mm"
mv grebe.yaml away
it "a file that is gone is told" within 5 shows "No such file"
mv away grebe.yaml
it "and when it is back" within 5 shows_not "No such file"
rm -r out
echo "# again" >>grebe.yaml
sed -i 's/length: 96 mm/length: 95 mm/' grebe.yaml
it "a page whose folder was removed is made again" within 5 shows "96 mm → 95 mm"
it "its script names it" within 1 names_page
it "SIGTERM ends it with 0" end TERM 0
it "nothing else is left" left_alone
it "the script says that it has ended" grep -q 'false);$' out/grebe/view.js
for signal in INT HUP; do
    it "it begins again" begin grebe.yaml
    it "SIG$signal ends it with 0" end "$signal" 0
done

# Bases, one that is missing at first too, and links.
page=out/grebe-dusk/view.html
mv grebe.yaml base-to-come
it "a variant without its base is watched" begin grebe-dusk.yaml
it "and tells that it is not there" shows "cannot read the base"
mv base-to-come grebe.yaml
it "a base that comes is seen" within 5 shows "<section id=\"floating\">"
sed -i 's/length: 95 mm/length: 97 mm/' grebe.yaml
it "a save of a base is followed" within 5 shows "95 mm → 97 mm"
it "it ends" end TERM 0
page=out/link/view.html
mkdir elsewhere && cp grebe.yaml elsewhere/ && ln -s elsewhere/grebe.yaml link.yaml
it "a link is watched" begin link.yaml
sed -i 's/length: 97 mm/length: 98 mm/' elsewhere/grebe.yaml
it "where it leads to" within 5 shows "97 mm → 98 mm"
kill -KILL "$pid" && wait "$pid" 2>/dev/null
it "what a killed one leaves is hidden" [ "$(find out -maxdepth 1 -name '.plugwright+link+*' | wc -l)" = 1 ]
it "and the next clears it" gives 0 watch --once link.yaml
it "so that nothing is left" [ -z "$(find out -maxdepth 1 -name '.*' -name '*plug*')" ]

# Misuse.
it "standard input is not watched" gives 2 watch -
it "a file that is not there neither" gives 2 watch nothing.yaml
it "an order stays where it is" gives 0 order -o own grebe.yaml
it "the page lies beside it" gives 0 watch --once -o own grebe.yaml
it "with the order" [ -e own/grebe/grebe.md ] && [ -e own/grebe/view.html ]
mkdir other && sed 's/make: 6/make: 5/' grebe.yaml >other/grebe.yaml
it "the folder of another recipe's order is refused" gives 2 watch --once -o own other/grebe.yaml
it "with a way out" says "-o DIR"
it "a page that cannot be written is told" gives 2 watch --once -o /proc/nowhere grebe.yaml

# Valid HTML; tidy is older than the attribute that the page's policy goes by.
valid() { ! tidy -quiet -errors "$1" 2>&1 | grep -v 'proprietary attribute "nonce"' | grep .; }
hurts='<b>x</b><script>window.hurt=1</script><img src=x onerror=window.hurt=2>"'"''"
sed -e "s|^name: .*|name: '$hurts'|" "$top/recipes/grebe.yaml" >hostile.yaml
sed -e "s|^name: .*|name: 'Hurt'|; s|species: basswood|species: '$hurts'|" "$top/recipes/grebe.yaml" >wrong.yaml
for recipe in "${shipped[@]}" hostile.yaml; do
    it "$(basename "$recipe" .yaml) has a page" gives 0 watch --once -o pages "$recipe"
done
it "a hostile mistake has one too" gives 1 watch --once -o pages wrong.yaml
for page in pages/*/view.html; do it "$page is valid HTML" valid "$page"; done
sed 's,</h1>,</h1></input>,' pages/grebe/view.html >spoilt.html
it "a stray end tag would be found" not valid spoilt.html >"$scratch/printed"

# In the browser.
cp "$top/recipes/grebe.yaml" grebe.yaml
rm -rf out
python3 -B "$top/tests/watch.py" "$scratch" "$program" >lines 2>complaint
while read -r mark sentence; do it "$sentence" [ "$mark" = + ]; done <lines
it "the browser was driven to the end" grep -qx '+ all of it was tried' lines
cat complaint
finish
