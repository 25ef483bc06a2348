#!/bin/bash
# What the bench taught as a page: what stands in it, that it is valid, that its plots are drawings,
# and that no text of a recipe becomes markup.
. "$(dirname "$0")/shared.sh"
needs tidy xmllint python3
cd "$scratch" || exit 2
page=out/learn/learn.html
recipe=$top/recipes/sanderling.yaml

# tidy is older than the attribute that the page's policy goes by
valid() { ! tidy -quiet -errors "$1" 2>&1 | grep -v 'proprietary attribute "nonce"' | grep .; }
shows() { grep -qF -e "$1" "$page"; }
# drawings PAGE: its plots as files plot-1.svg, plot-2.svg ...
drawings() {
    rm -f plot-*.svg
    python3 - "$1" <<'EOF'
import re, sys, urllib.parse
page = open(sys.argv[1], encoding="utf-8").read()
for i, drawing in enumerate(re.findall(r'src="data:image/svg\+xml,([^"]*)"', page), 1):
    open(f"plot-{i}.svg", "w", encoding="utf-8").write(urllib.parse.unquote(drawing))
EOF
}
are_xml() { xmllint --noout plot-*.svg; }
none() { ! grep -qF -e "$1" plot-*.svg "$page"; }

# taught NAME MEASURED...: the recipe by that name with what was measured
taught() {
    sed -e '/^measured:/,$d' -e "s|^name:.*|name: $1|" "$recipe"
    shift
    printf '%s\n' 'measured:' "$@"
}

taught Sanderling '  blank: [5.7 g, 5.9 g, 5.6 g]' '  sealed: [6.9 g, 7.2 g, 6.8 g]' \
    '  finished: [11.6 g, 11.9 g]' '  minutes: [{step: round, took: 100 min}]' >taught.yaml
it "what the bench taught is a page" gives 0 learn --html taught.yaml
it "whose place is printed" prints_line "$page"
it "and no table" not prints 'stands as'
it "it is valid" valid "$page"
it "it has the table" shows '<th class="name">density of basswood</th>'
it "and a chapter for each figure" shows '<h3>Density of basswood</h3>'
it "with what stands" shows '<p>As it stands: 405 kg/m³, nine times in ten from 343 kg/m³ to 477 kg/m³.</p>'
it "with what the bench says" shows '<p>By the bench: 430 kg/m³, nine times in ten from 401 kg/m³ to 462 kg/m³.</p>'
it "with what bears on it" shows '<p>8 readings of 3 plugs bear on it; the tables still do 19 %.</p>'
it "with whether it is any good" shows '<p>Plugs that took no part are foretold better with it.</p>'
it "times have one too" shows '<h3>Time for round</h3>'
it "no script runs in it" not grep -q '<script\|script-src' "$page"
it "and nothing is fetched" shows "default-src 'none'; img-src data:; style-src 'nonce-"
drawings "$page"
it "there is a plot for each figure" [ "$(find . -name 'plot-*.svg' | wc -l)" = "$(grep -c '<h3>' "$page")" ]
it "they are drawings" are_xml
it "plugs stand in them" grep -q '>Sanderling: plug 3<' plot-2.svg
it "in the words of the figure" grep -q '<title>Density of basswood: 405 kg/m³ as it stands, 430 kg/m³ by the bench' plot-2.svg
cp "$page" once.html
it "it is written again" gives 0 learn --html taught.yaml
it "the same recipes are the same page" cmp -s "$page" once.html
it "programs get their JSON beside it" gives 0 learn --html --json -o beside taught.yaml
it "which is printed" prints '"prior_share": '
it "and the page is there" [ -s beside/learn/learn.html ]

hostile="'</title><script>alert(1)</script>\" onerror=\"x & ]]>'"
taught "$hostile" '  blank: [5.7 g, 5.9 g, 5.6 g]' >hostile.yaml
it "a name may be anything" gives 0 learn --html hostile.yaml
it "the page is still valid" valid "$page"
drawings "$page"
it "so are its plots" are_xml
it "no text becomes markup" none '<script'
it "nor leaves its attribute" none '" onerror'

taught Crowded "  blank: [$(printf '5.%d g, ' {1..9} {0..9} {0..9} | sed 's/, $//')]" |
    sed 's/^make:.*//; $a make: 29' >crowded.yaml
it "many plugs are not too many" gives 0 learn --html crowded.yaml
it "those that find no room are counted" shows '<p>5 plugs more had no room: those above say most of it.</p>'
drawings "$page"
it "their plots are drawings" are_xml

sed 's/^name:.*/name: learn/' "$recipe" >learn.yaml
it "an order called learn" gives 0 order -o taken learn.yaml
it "is not written over" gives 2 learn --html -o taken taught.yaml
it "which is said" says 'holds the order of a recipe: say where the page goes'
it "unless asked" gives 0 learn --html --force -o taken taught.yaml
it "without weighings there is a page" gives 0 learn --html "$top/recipes/dipper.yaml"
it "that says so" shows 'Nothing of these recipes was weighed yet.'
it "and has no plot" not shows '<h3>'
it "a page that cannot be written is told" gives 2 learn --html -o /dev/null taught.yaml

finish
