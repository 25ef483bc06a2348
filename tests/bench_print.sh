#!/bin/bash
# How long printing takes: one order against Pandoc alone with the same engine on the same Markdown
# (at most 1.1 times as long), and six orders at once against six in a row (at most 0.6 times as
# long, on two processors or more).  The best of $ROUNDS runs counts, taken by turns.
# shellcheck disable=SC2317 # the timed functions are called by name
. "$(dirname "$0")/shared.sh"
needs pandoc weasyprint
recipes=$top/recipes
rounds=${ROUNDS:-5}
cd "$scratch" || exit 2

one() { "$program" order -o out --pdf "$recipes/grebe.yaml" >/dev/null; }
bare() (
    cd out/grebe &&
        pandoc --quiet --from=commonmark+pipe_tables+task_lists --to=html5 --metadata=title=x \
            --pdf-engine=weasyprint --output=bare.pdf grebe.md
) 2>/dev/null
at_once() { "$program" order -o out --pdf six/*.yaml >/dev/null; }
in_a_row() {
    for recipe in six/*.yaml; do "$program" order -o out --pdf "$recipe" >/dev/null; done
}

mkdir six
for copy in 1 2 3 4 5 6; do cp "$recipes/grebe.yaml" six/copy-$copy.yaml; done
one || exit 1

declare -A best
# timed NAME: keeps the shortest time of the function of that name, in milliseconds.
timed() {
    local start=${EPOCHREALTIME/[.,]/} took
    "$1" || { echo "$1 failed" && exit 1; }
    took=$(((${EPOCHREALTIME/[.,]/} - start) / 1000))
    [ -n "${best[$1]:-}" ] && [ "${best[$1]}" -le $took ] || best[$1]=$took
}

# compare NAME OTHER MOST: prints their ratio; fails where it is above MOST.
compare() {
    awk -v a="${best[$1]}" -v b="${best[$2]}" -v most="$3" -v names="$1 / $2" 'BEGIN {
        printf "%-20s %5d ms / %5d ms = %.2f, at most %.1f\n", names, a, b, a / b, most
        exit a / b > most
    }'
}

for ((round = 0; round < rounds; round++)); do
    timed one
    timed bare
done
for ((round = 0; round < (rounds + 1) / 2; round++)); do
    timed at_once
    timed in_a_row
done
status=0
compare one bare 1.1 || status=1
compare at_once in_a_row 0.6 || status=1
exit $status
