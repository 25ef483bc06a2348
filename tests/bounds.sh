#!/bin/bash
# No file takes much: every hostile, large or random recipe is compiled in 64 MiB of address space, and
# says that it is well or what is wrong.  With TIMED=SECONDS each call has so long, and what took most
# is told (make torture); without it nothing is measured by the clock.
. "$(dirname "$0")/shared.sh"
needs awk ldd
drawer=$(dirname "$program")/tests/draw_recipes
[ -x "$drawer" ] || drawer=$top/out/release/tests/draw_recipes
needs "$drawer"
if ldd "$program" | grep -q libasan; then
    echo "bounds: not with the address sanitizer, whose shadow needs more than there is"
    exit 0
fi
memory=65536 # KiB
drawn=${DRAWN:-20}
cd "$scratch" || exit 2

# --- what is fed ----------------------------------------------------------------------------------

# mebibyte NAME WORD...: 1 MiB of it
mebibyte() {
    local name=$1
    shift
    yes -- "$@" | tr -d '\n' | head -c 1048576 >"$name.yaml"
}

mebibyte brackets '['
mebibyte braces '{'
mebibyte quotes '"'
mebibyte dashes '- '
mebibyte keys '? '
mebibyte colons ': '
mebibyte anchors '&a '
mebibyte tags '!a '
mebibyte word a
mebibyte marks $'\xe2\x80\x8f'
mebibyte controls $'\x01'
mebibyte comment '#'
head -c 1048576 /dev/zero >nothing.yaml
tr '\0' '\n' <nothing.yaml >lines.yaml
tr '\0' '\r' <nothing.yaml >returns.yaml
tr '\0' '\377' <nothing.yaml >bytes.yaml
yes 'a: 1' | head -c 1048576 >again.yaml
yes $'a: |\n  b' | head -c 1048576 >blocks.yaml
{ printf 'a: "' && yes '\x41' | tr -d '\n' | head -c 1048570 && printf '"'; } >escapes.yaml
{ head -c 1048576 nothing.yaml | tr '\0' ' ' && printf 'x'; } >larger.yaml
seq 9990 | sed 's/$/: 1/' >unknown.yaml   # nearly all the values that a recipe may have
seq 4990 | sed 's/.*/a&: [1]/' >lists.yaml # the same in lists
seq 16 | sed 's/.*/[/' | tr -d '\n' >deep.yaml
{ printf 'recipe: 1\nname: x\nbody:\n  stations:\n' &&
    yes '    - {at: 1 mm, back: -3 mm, bell: 3, width: }' | head -n 1900; } >slips.yaml

# large WHEEL OPEN: 200 stations, 8 bores, 500 plugs, all lists of the workbench full
large() {
    awk -v wheel="$1" -v open="$2" '
        function station(i) {
            share = i / 199
            height = 4 + 44 * sqrt(share * (1 - share))
            printf "    - {at: %.4f %%, back: %.3f mm, belly: %.3f mm, width: %.3f mm}\n",
                100 * share, height * 0.5, height * 0.6, height * 0.9
        }
        function bore(i) {
            printf "    - {at: %d mm, drill: %d mm, load: %s}\n", 60 + 22 * i, i == 2 ? 14 : 6 + 2 * (i % 2),
                i == 2 || i == 5 ? "solve" : "[{mass: 1.5 g}]"
        }
        /^make:/ {print "make: 500"; next}
        /^  open:/ {print "  open: " open; next}
        /^  wheel:/ {print "  wheel: " wheel; next}
        /^  length: 95 mm/ {print "  length: 300 mm"; next}
        /^  stations:/ {print; for (i = 0; i < 200; i++) station(i); skip = 1; next}
        /^  bores:/ {print; for (i = 0; i < 8; i++) bore(i); skip = 1; next}
        skip && /^ *- / {next}
        {skip = 0; print}' "$top/recipes/grebe.yaml" |
        sed -e "s/${3:-at: 13 mm, up}/${4:-at: 25 mm, up}/"
}
large 6 '{tue: "19:00-21:30", thu: "19:00-21:30"}' >large.yaml
large 1 '{tue: "19:00-19:31"}' >slow.yaml
large 6 '{tue: "19:00-21:30", thu: "19:00-21:30"}' 'drill: 14 mm' 'drill: 4 mm' >faulty.yaml
sed 's/^make:.*/make: 500/; s/^  wheel: .*/  wheel: 1/; s/^  open: .*/  open: {tue: "19:00-19:31"}/' \
    "$top/recipes/grebe.yaml" >half-hours.yaml
{ printf 'recipe: 1\nname: x\nbase: 1.yaml\n' >0.yaml; for ((i = 1; i < 20; i++)); do
    printf 'recipe: 1\nname: x\nbase: %d.yaml\n' $((i + 1)) >$i.yaml; done; } # bases without end
mkdir drawn
(cd "$top" && "$drawer" "$scratch/drawn" 0 "$drawn") || exit 2

# --- what it takes --------------------------------------------------------------------------------

slowest=0
slowest_of=nothing

# told ARGUMENT...: the program ends with a known status and, unless all is well, with a reason.
told() {
    local start=$EPOCHREALTIME status took
    (ulimit -v $memory && exec timeout "${TIMED:-60}" "$program" "$@") \
        >"$scratch/printed" 2>"$scratch/said" </dev/null
    status=$?
    took=$((${EPOCHREALTIME//[.,]/} - ${start//[.,]/}))
    [ $took -gt $slowest ] && slowest=$took && slowest_of="$*"
    says_not 'out of memory' || return 1
    case $status in
    0) return 0 ;;
    1) [ -s "$scratch/said" ] || [ "$1" = diff ] ;;
    2) says 'error: ' ;;
    *) echo "exit status $status" && return 1 ;;
    esac
}

for file in *.yaml; do
    it "$file is checked" told check "$file"
    it "$file is reported" told weigh --json "$file"
done
for file in large.yaml slow.yaml half-hours.yaml unknown.yaml brackets.yaml; do
    it "$file is told as SARIF" told check --sarif "$file"
    it "$file is planned" told plan --json "$file"
    it "$file becomes a solid and outlines" told order --solid --outlines --copies 20 -o out "$file"
    it "$file differs from another" told diff "$file" "$top/recipes/grebe.yaml"
done
it "the greatest is well, so that all of it was computed" gives 0 check large.yaml
it "the other is not, and says so" gives 1 check faulty.yaml
for ((seed = 0; seed < drawn; seed++)); do
    it "recipe $seed at random" told order --force -o out "drawn/$seed.yaml"
done
[ -z "${TIMED:-}" ] ||
    printf 'bounds: longest %d ms: %s\n' $((slowest / 1000)) "$slowest_of"
finish
