#!/bin/bash
# The page of the language is tried: its first recipe is fine, and with every other example in the
# place of the same sections; its units are those of the rows.
# shellcheck source-path=SCRIPTDIR
. "$(dirname "$0")/shared.sh"
page=$top/docs/language.md

# examples: example-1.yaml, example-2.yaml ... in the scratch folder.
cd "$scratch" || exit 2
awk '/^```yaml$/ { file = "example-" ++count ".yaml"; printf "" >file; next }
     /^```$/ { file = ""; next }
     file { print >file }' "$page"

# combined BASE EXAMPLE: the base, its sections replaced by those that the example has.
combined() {
    awk 'FNR == 1 { second = NR > 1 }
         !second { if (match($0, /^[a-z][a-z ]*:/)) has[substr($0, 1, RLENGTH)] = 1; next }
         match($0, /^[a-z][a-z ]*:/) { left = substr($0, 1, RLENGTH) in has }
         !left' "$2" "$1"
    cat "$2"
}

fine() { gives 0 check "$1" && ! grep -q 'error:' "$scratch/said"; }
units_listed() { # DIMENSION WORD...: the row of the page that begins so lists them
    local row word
    row=$(sed -n "s/^| $1 | \(.*\) |$/ \1 /p" "$page")
    shift
    for word; do [[ $row == *" $word "* ]] || { echo "$word is missing in: $row" && return 1; }; done
}

it "the page has examples" test -e example-12.yaml
it "the first recipe is fine" fine example-1.yaml
mv example-1.yaml heron.yaml
for example in example-*.yaml; do
    if grep -q '^base:' "$example"; then
        it "$(head -1 "$example") is fine" fine "$example"
    else
        combined heron.yaml "$example" >whole.yaml
        it "$(head -1 "$example") is fine" fine whole.yaml
        it "$(head -1 "$example") is computed" gives 0 weigh whole.yaml
    fi
done
sed 's/aim: {reserve: 15 %/aim: {reserve: 95 %/' "$(grep -l 'aim: {reserve: 15 %' example-*.yaml)" >spoilt.yaml
combined heron.yaml spoilt.yaml >whole.yaml
it "an example that cannot be built is found out" gives 1 check whole.yaml

# Dimensions that a field has: "LENGTH a length".
while read -r dimension phrase; do
    grep -qF "| $phrase |" "$top/docs/fields.md" || continue
    units=$(sed -n "s/^UNIT($dimension, *\"\([^\"]*\)\".*/\1/p" "$top/grammar/units.def")
    name=${dimension,,}
    # shellcheck disable=SC2086 # words
    it "$phrase has its units" units_listed "${name//_/ }" $units
done < <(sed -n 's/^DIMENSION(\([A-Z_]*\), *"\([^"]*\)".*/\1 \2/p' "$top/grammar/units.def")
finish
