#!/bin/bash
# What the bench taught as a page: what stands in it, that it is valid, that its plots are drawings,
# and that no text of a recipe becomes markup.  And what it taught in the past, by a git repository
# in a temporary folder.
. "$(dirname "$0")/shared.sh"
needs tidy xmllint python3 git
cd "$scratch" || exit 2
page=out/learn/learn.html
recipe=$scratch/recipe.yaml # without the workshop that it shares
sed 's/^workshop: .*/currency: EUR/; s/, hex: "#F4F3EE"}/, hex: "#F4F3EE", kind: opaque, coats: 2}/' \
    "$top/recipes/sanderling.yaml" >"$recipe"

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

# --- the past -------------------------------------------------------------------------------------
export HOME=$scratch XDG_CONFIG_HOME=$scratch GIT_CONFIG_NOSYSTEM=1
unset GIT_DIR GIT_WORK_TREE GIT_INDEX_FILE GIT_PREFIX
export GIT_AUTHOR_NAME=Builder GIT_AUTHOR_EMAIL=builder@example.org
export GIT_COMMITTER_NAME=Builder GIT_COMMITTER_EMAIL=builder@example.org
mkdir shed && cd shed && git init -q -b main . || exit 2
page=out/learn/learn.html
# commit DATE FILE: what comes in is the file's next version
commit() {
    cat >"$2" && git add "$2" || exit 2
    GIT_AUTHOR_DATE="$1T12:00:00Z" GIT_COMMITTER_DATE="$1T12:00:00Z" git commit -q -m "$1" || exit 2
}
# learns PLUGS READINGS ARGUMENT...: so many plugs, and so many readings of the wood
learns() {
    local plugs=$1 readings=$2
    shift 2
    gives 0 learn "$@" && prints "What $plugs plugs of" &&
        grep -q "^  density of basswood .* $readings  *[0-9]* %\$" "$scratch/printed"
}
cp "$recipe" teal.yaml
it "what is not committed has no history" gives 2 learn --history teal.yaml
it "which is said" says 'git knows no commit of this file'
input=teal.yaml it "nor has standard input" gives 2 learn --history -

sed '/^measured:/,$d' "$recipe" | commit 2026-01-01 teal.yaml
it "a version without readings adds nothing" gives 0 learn --history teal.yaml
it "which is said too" prints_line '  1 was read; 0 have plugs or times of their own.'
taught Teal '  blank: [5.7 g, 5.9 g, 5.6 g]' '  minutes: [{step: round, took: 100 min}]' | commit 2026-01-02 teal.yaml
it "what is committed and lies there counts once" learns 3 3 --history teal.yaml
taught Teal '  blank: [5.7 g, 5.9 g, 5.6 g]' '  sealed: [6.9 g, 7.2 g, 6.8 g]' '  minutes: [{step: round, took: 100 min}]' | commit 2026-02-01 teal.yaml
it "a stage that came later is of the same plugs" learns 3 6 --history teal.yaml
taught Teal '  blank: [5700 mg, 5.9 g, 5.6 g]' '  sealed: [6.9 g, 7.1 g, 6.8 g]' '  finished: [11.6 g]' | commit 2026-02-02 teal.yaml
it "so are readings in other units, and one put right" learns 3 7 --history teal.yaml
it "minutes that were taken away are still known" prints 'time for round'
taught Teal '  blank: [6.0 g, 5.5 g]' '  minutes: [{step: round, took: 90 min}]' | commit 2026-03-01 teal.yaml
it "the next run adds its plugs" learns 5 9 --history teal.yaml
it "and its times" prints_line '  5 were read; 2 have plugs or times of their own.'
it "without the option the past is left alone" learns 2 2 teal.yaml
it "and nothing is said of it" not prints 'Committed versions'
printf 'recipe: 1\nname: [\n' | commit 2026-03-02 teal.yaml
taught Teal '  blank: [6.0 g, 5.5 g]' '  minutes: [{step: round, took: 90 min}]' | commit 2026-03-03 teal.yaml
it "a version that is no recipe does not stop it" learns 5 9 --history teal.yaml
it "it is named and left out" prints "teal.yaml of 2026-03-02 ($(git rev-parse HEAD~1 | cut -c 1-10)) is left out: "
taught Teal '  blank: [6.0 g, 5.5 g, 5.8 g]' '  minutes: [{step: round, took: 90 min}]' >teal.yaml
it "what is not committed yet counts as well" learns 6 10 --history teal.yaml
it "programs are told of the past" gives 0 learn --history --json teal.yaml
it "how many versions there were" prints '"versions": 7'
it "and why one is left out" prints '"failure": '
it "a page has the past's plugs" gives 0 learn --history --html teal.yaml
it "it is valid" valid "$page"
drawings "$page"
it "its plots are drawings" are_xml
it "they say which version a plug is of" grep -q '>Teal 2026-02-02: plug 3<' plot-2.svg

# What was learned stands in the workshop then: older plugs are measured against that, not against
# what their own version had.
printf 'workshop: 1\n' | commit 2026-04-01 bench.yaml
sed '/^name:/a workshop: bench.yaml' teal.yaml >shopped.yaml && commit 2026-04-02 teal.yaml <shopped.yaml
wood() { sed -n 's/^  density of basswood *\([0-9]*\) kg.m³ *\([0-9]*\) .*/\1 \2/p' "$scratch/printed"; }
it "what a workshop stands on is learned" learns 6 10 --history teal.yaml
read -r stood is < <(wood)
it "it is another wood than the table's" [ "$((is > stood + 5))" = 1 ]
it "what the past taught is written" gives 0 learn --history --write teal.yaml
it "with all its readings" grep -q "name: \"basswood\", density: $is kg/m3,.* weighed: 10" bench.yaml
cp bench.yaml once.yaml && commit 2026-04-03 bench.yaml <once.yaml
it "it is learned again" learns 6 10 --history teal.yaml
read -r stands again < <(wood)
it "it stands as it was learned" [ "$stands" = "$is" ]
it "and is hardly moved by the same plugs" [ "$((again - is < 6 && is - again < 6))" = 1 ]
it "which are not written twice" gives 0 learn --history --write teal.yaml
it "so the file stays" cmp -s bench.yaml once.yaml

cp teal.yaml other.yaml && git add other.yaml && git commit -q -m "Another"
it "several recipes have their pasts" gives 0 learn --history teal.yaml other.yaml
for i in {1..500}; do
    printf 'commit refs/heads/long\ncommitter B <b@example.org> %d +0000\ndata 1\n.\nM 100644 inline long.yaml\ndata 7\n# %04d\n\n' $((1800000000 + i)) "$i"
done | git fast-import --quiet && git checkout -q long 2>/dev/null
commit 2028-01-01 long.yaml <"$recipe"
it "too many versions are refused" gives 1 learn --history long.yaml
it "with how many there are" says 'these recipes have 501 committed versions, and learn reads 500 at most'
git checkout -q --orphan runs && git rm -q -r -f . 2>/dev/null
for i in {1..256}; do
    taught Run "  blank: [$((5000 + i)) mg]" >run.yaml
    printf 'commit refs/heads/runs\ncommitter B <b@example.org> %d +0000\ndata 1\n.\nM 100644 inline run.yaml\ndata %d\n' \
        $((1800000000 + i)) "$(wc -c <run.yaml)"
    cat run.yaml
done | git fast-import --quiet && git reset -q --hard
it "256 runs of one plug are as many as it takes" learns 256 256 --history run.yaml
taught Run '  blank: [4.9 g]' >run.yaml
it "but not one more" gives 1 learn --history run.yaml
it "which is told" says 'learn takes 256 recipes and versions with plugs of their own at most'
cd "$scratch" || exit 2
it "outside a repository there is no past" gives 2 learn --history taught.yaml

finish
