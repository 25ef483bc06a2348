#!/bin/bash
# Every text of a recipe holds characters that show nothing: none of them reaches what a person
# reads, whatever it is written as.  What is hidden is judged by grep's own tables, not by ours.
. "$(dirname "$0")/shared.sh"
export LC_ALL=C.UTF-8 NO_COLOR=1
recipe=$top/recipes/grebe.yaml
cd "$scratch" || exit 2

shows_all() { ! grep -anP '[\p{C}\p{Zl}\p{Zp}\x{3164}\x{FE0F}]' "$1"; } # but its line ends
holds() { grep -qaF -e "$1" "$2"; }

# Marks of direction, what has no width, a byte order mark, a soft hyphen, a joiner, a filler, a
# variation selector, a tag, private use; in quotes also what ends a line.  They lead nowhere.
hidden=$'\u202E\u200B\u2066\uFEFF\u200F\u061C\u00AD\u200D\u3164\uFE0F\U000E0041\uE000'
seen=$'pe\u0301ch\u9B5A' # a combining acute, and a sign of two columns
text="$seen$hidden\\u202E\\u2028\\uFFFE"
sed -e "s|^name:.*|name: \"$text\"|" -e "s|kind: sanding sealer|&, name: \"$text\"|" -e "s|moss green back|\"$text\"|" \
    -e "s|comb held 5 mm off|\"$text\"|" -e "s|^  Second winter|  $seen$hidden &|" \
    -e "s|^currency: .*|currency: \"$hidden\"|" -e "s|size: \"6\"|size: \"6$hidden\", mass: 1 g|" \
    "$recipe" >hostile.yaml
cat >>hostile.yaml <<END
steps:
  - {add: own, title: "$text", after: sand, hands-on: 5 min, say: "$text", needs: "$text"}
  - {skip: hang, because: "$text"}
END
printf 'E%s' "$hidden" >control
it "the test sees what is hidden" not shows_all control >/dev/null
it "the test's recipe holds it in many places" test "$(grep -c "$hidden" hostile.yaml)" -ge 10

"$program" check hostile.yaml >said 2>&1
it "the recipe is fine, but for its currency" holds "$seen" hostile.yaml
it "diagnostics show all" shows_all said
sed -i "s|^currency: .*|currency: EUR|" hostile.yaml
for command in check weigh facts; do
    "$program" $command hostile.yaml >"said.$command" 2>&1
    it "$command ends well" test $? = 0
    it "$command shows all" shows_all "said.$command"
done
it "facts write what they do not show" holds 'u{202e}' said.facts
it "weigh keeps what can be seen" holds "$seen" said.weigh

"$program" weigh --json hostile.yaml >said 2>&1
it "JSON is written" test $? = 0
it "JSON shows all" shows_all said
it "JSON escapes what it does not show" holds 'u202e\u200b\u2066\ufeff' said
it "JSON escapes what lies beyond 16 bits" holds 'udb40\udc41' said

"$program" order -o orders hostile.yaml >said 2>&1
it "an order is written" test $? = 0
it "order shows all" shows_all said
it "there are drawings and a calendar" test "$(find orders -name '*.svg' -o -name '*.ics' | wc -l)" -ge 15
for file in orders/hostile/*; do
    tr -d '\r' <"$file" >shown
    it "${file##*/} shows all" shows_all shown
done
for file in hostile.md plug.svg hostile.ics; do
    sed -z 's/\r\n //g' "orders/hostile/$file" >shown
    it "$file keeps what can be seen" holds "$seen" shown
done

for way in "$recipe hostile.yaml" "hostile.yaml $recipe"; do
    # shellcheck disable=SC2086 # two names
    "$program" diff $way >said 2>&1
    it "diff shows all" shows_all said
    # shellcheck disable=SC2086
    "$program" diff --json $way >said 2>&1
    it "diff --json shows all" shows_all said
    # shellcheck disable=SC2086
    "$program" diff --markdown -o pages $way >said 2>&1
    it "diff --markdown says so" shows_all said
done
while read -r file; do
    it "${file##*/} shows all" shows_all "$file"
done < <(find pages -type f)

# A slip in a line with all of it: the caret stands under the slip, counted in columns.
printf 'recipe: 1\n%s: 1\nbelly%s: [1\n' "$seen" "$hidden" >slip.yaml
"$program" check slip.yaml >slip 2>&1
it "a slip among hidden characters shows all" shows_all slip
printf 'recipe: 1\n%s: {x: 1, belly: 2}\n' "$seen" >wide.yaml
"$program" check wide.yaml >wide 2>&1
it "a caret is as long as its word is wide" holds '      | ^~~~~~' wide
printf 'recipe: 1\nname: "a\\u0007b"\n' >bell.yaml
"$program" check bell.yaml >bell 2>&1
it "a control character is refused" holds '[control-character]' bell
finish
