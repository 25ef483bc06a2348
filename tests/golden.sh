#!/bin/bash
# Every recipe in tests/golden is checked, or weighed where NAME.out exists, and what is printed is
# compared with NAME.err and NAME.out byte for byte.  The exit status is 1 where an error is due,
# else 0.  Of the recipes in `whole` below, everything that is printed is kept: a change of wording
# shows in a diff.  GOLDEN=write writes the files anew: read the diff before you commit it.
. "$(dirname "$0")/shared.sh"
cd "$top/tests/golden" || exit 2

# same KIND CASE: what was printed is what is due.
same() {
    if [ "${GOLDEN:-}" = write ]; then
        cp "$scratch/$1" "$2.$1"
    else
        diff -u --label "$2.$1" --label "as printed" "$2.$1" "$scratch/$1"
    fi
}

# kept KIND CASE: the same, counted.
kept() {
    if same "$1" "$2"; then passed=$((passed + 1)); else failed=$((failed + 1)); fi
}

for recipe in *.yaml; do
    case=${recipe%.yaml}
    command=check
    [ -e "$case.out" ] && command=weigh
    "$program" "$command" "$recipe" >"$scratch/out" 2>"$scratch/err" </dev/null
    status=$?
    good=true
    same err "$case" || good=false
    if [ $command = weigh ]; then
        same out "$case" || good=false
    elif [ -s "$scratch/out" ]; then
        echo "$case: check prints on standard output" && good=false
    fi
    due=0
    grep -q '^[^ ].*: error: ' "$case.err" && due=1
    [ $status = $due ] || { echo "$case: exit status $status, not $due" && good=false; }
    if $good; then passed=$((passed + 1)); else failed=$((failed + 1)); fi
done

# whole FILE COMMAND...: what the command prints in the project's own folder is tests/golden/whole/FILE.
whole() {
    local file=$1
    shift
    (cd "$top" && "$program" "$@") >"$scratch/${file##*.}" 2>&1 </dev/null
    kept "${file##*.}" "whole/${file%.*}"
}

# One with a lip, one that sinks, one in inches.
for recipe in grebe merganser sandpiper; do
    whole $recipe.weigh weigh recipes/$recipe.yaml
    whole $recipe.facts facts recipes/$recipe.yaml
    (cd "$top" && "$program" order -o "$scratch" recipes/$recipe.yaml) >/dev/null 2>&1 </dev/null
    cp "$scratch/$recipe/$recipe.md" "$scratch/md"
    kept md whole/$recipe
done
# What is left after an evening that was missed, and what follows a coat of unknown age.
for done in 1-9 1-32; do
    (cd "$top" && "$program" order --card -o "$scratch" --done $done --from 2027-01-16 recipes/grebe.yaml) \
        >/dev/null 2>&1 </dev/null
    cp "$scratch/grebe/grebe-card.md" "$scratch/md"
    kept md "whole/grebe-done-$done"
done
(cd "$top" && "$program" order --brief -o "$scratch" --done 1-26 --from 2027-01-16 recipes/grebe.yaml) \
    >/dev/null 2>&1 </dev/null
sed -n '/^## Steps in brief/,/^## /p' "$scratch/grebe/grebe.md" >"$scratch/md"
kept md whole/grebe-done-brief
# What a workshop gave, and how often it was weighed.
"$program" order -o "$scratch" workshop-own.yaml >/dev/null 2>&1 </dev/null
tr '\n' ' ' <"$scratch/workshop-own/workshop-own.md" |
    grep -o '[*][*][A-Z][^*]*[*][*] own workshop[^.]*' >"$scratch/txt"
kept txt whole/workshop-own
# What lies on hand and what is to buy: of one order, and of two runs that share a stock.
sed 's/^name:.*/name: Own stuff again/; s/^make:.*/make: 2/' workshop-own.yaml >"$scratch/again.yaml"
mkdir -p "$scratch/base"
cp base/shed.yaml "$scratch/base/"
"$program" plan -o "$scratch" workshop-own.yaml "$scratch/again.yaml" >/dev/null 2>&1 </dev/null
sed -n '/^### Shopping list/,/^## /p' "$scratch/workshop-own/workshop-own.md" >"$scratch/md"
kept md whole/workshop-own-list
sed -n '/^## Shopping list/,$p' "$scratch/plan/plan.md" >"$scratch/md"
kept md whole/workshop-own-plan
# What is cut from which board: of short boards that runs must share, and of too few.
mkdir -p "$scratch/few/base"
sed 's/^  boards:.*/  boards: [{species: garden lime, length: 342 mm, width: 26 mm, thickness: 30 mm, count: 6}, {species: garden lime, length: 420 mm, width: 60 mm, thickness: 30 mm}]/' \
    base/shed.yaml >"$scratch/few/base/shed.yaml"
sed 's/^name:.*/name: Long one/; s/length: 95 mm/length: 130 mm/' workshop-own.yaml >"$scratch/few/long.yaml"
for make in 12 30; do
    sed "s/^name:.*/name: Short one/; s/^make:.*/make: $make/" workshop-own.yaml >"$scratch/few/short.yaml"
    "$program" plan -o "$scratch" "$scratch/few/long.yaml" "$scratch/few/short.yaml" >/dev/null 2>&1 </dev/null
    sed -n '/^## What is cut/,$p' "$scratch/plan/plan.md" >"$scratch/md"
    kept md "whole/boards-for-$make"
done
"$program" plan --json "$scratch/few/long.yaml" "$scratch/few/short.yaml" 2>/dev/null </dev/null |
    sed -n '/^  "cutting"/,$p' >"$scratch/json"
kept json whole/boards-for-30
# The same without a stock, of boards like the shop's.
(cd "$top" && "$program" plan -o "$scratch" recipes/grebe.yaml recipes/grebe-dusk.yaml) >/dev/null 2>&1 </dev/null
sed -n '/^## What is cut/,$p' "$scratch/plan/plan.md" >"$scratch/md"
kept md whole/boards-like-the-shops

whole grebe-to-dusk.diff diff recipes/grebe.yaml recipes/grebe-dusk.yaml
whole merganser-to-sandpiper.diff diff recipes/merganser.yaml recipes/sandpiper.yaml
finish
