#!/bin/bash
# The page of rules has every rule that a message can name: those of the rows, and those that the expected
# messages show; and no rule that there is not.
# shellcheck source-path=SCRIPTDIR
. "$(dirname "$0")/shared.sh"
page=$top/docs/rules.md
cd "$top" || exit 2

named() { # in the rows, in the code and in the goldens
    {
        sed -nE 's/.*\b(ERROR|WARNING|FAULT), "([a-z-]+)",.*/\2/p' grammar/rules.def
        grep -rhoE '\[[a-z-]+\]$' tests/golden | tr -d '[]'
    } | sort -u
}
# shellcheck disable=SC2016 # marks of Markdown
told() { sed -n 's/^| \(`.*`\) | .*/\1/p' "$page" | grep -oE '[a-z-]+' | sort; }

named >"$scratch/named"
told >"$scratch/told"
it "rules are found in the rows" grep -qx stations "$scratch/named"
it "rules are found in expected messages" grep -qx syntax "$scratch/named"
comm -23 "$scratch/named" "$scratch/told" >"$scratch/printed"
it "every rule has its reason" prints_nothing
sort "$scratch/told" | uniq -d >"$scratch/printed"
it "each stands there once" prints_nothing
while read -r rule; do
    grep -rqF "\"$rule\"" src grammar/rules.def || echo "$rule"
done <"$scratch/told" >"$scratch/printed"
it "and no rule that there is not" prints_nothing
finish
