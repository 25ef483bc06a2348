#!/bin/bash
# Every recipe in tests/golden is checked, or weighed where NAME.out exists, and what is printed is
# compared with NAME.err and NAME.out byte for byte.  The exit status is 1 where an error is due,
# else 0.  GOLDEN=write writes the files anew: read the diff before you commit it.
set -u
program=$(realpath "${PLUGWRIGHT:-out/bin/plugwright}") || exit 2
cd "$(dirname "$0")/golden" || exit 2
scratch=$(mktemp -d) || exit 2
trap 'rm -rf "$scratch"' EXIT
passed=0
failed=0

# same KIND CASE: what was printed is what is due.
same() {
    if [ "${GOLDEN:-}" = write ]; then
        cp "$scratch/$1" "$2.$1"
    else
        diff -u --label "$2.$1" --label "as printed" "$2.$1" "$scratch/$1"
    fi
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
echo "$passed passed, $failed failed"
[ $failed = 0 ]
