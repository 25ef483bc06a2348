#!/bin/bash
# The manual pages and the shells' completion, judged by mandoc and by the shells themselves.
. "$(dirname "$0")/shared.sh"
needs mandoc zsh fish
cd "$scratch" || exit 2

for form in man man-recipe bash zsh fish; do
    it "there is $form" gives 0 describe $form
    cp printed form.$form
done
it "no other form is known" gives 2 describe tcsh
it "and those that are, are told" says "man, man-recipe, bash, zsh or fish"

for page in man man-recipe; do
    it "mandoc has nothing to say of $page" ends 0 mandoc -Tlint -W warning form.$page
    mandoc -Tutf8 form.$page | col -b >shown.$page
done
"$program" --help | awk '/^  [a-z]/ {print $1}' >commands
while read -r command; do
    it "the page has $command" grep -q "^   $command" shown.man
done <commands
it "it has the options" grep -qe '--copies N' shown.man
it "the other page has the fields" grep -q 'attitude: ' shown.man-recipe
it "their ranges" grep -q 'Range: up to 80 characters' shown.man-recipe
it "and no escape is left over" [ -z "$(tr -dc '\134' <shown.man-recipe)" ]

mkdir plugs 'plugs/a folder'
touch plugs/teal.yaml plugs/teal.txt plugs/gannet.yml 'plugs/a folder/heron.yaml'
cd plugs || exit 2

# in_bash WORD...: what bash offers for the last of them.
in_bash() {
    bash -c '. ../form.bash; COMP_WORDS=(plugwright "$@"); COMP_CWORD=$#; _plugwright
        printf "%s\n" "${COMPREPLY[@]}"' bash "$@" | LC_ALL=C sort | tr '\n' ' '
}
in_zsh() { zsh -f "$top/tests/completion.zsh" ../form.zsh "plugwright $*"; }
in_fish() {
    fish -c "source ../form.fish; complete -C'plugwright $*'" | cut -f 1 | LC_ALL=C sort | tr '\n' ' '
}
# offers SHELL 'OFFER' WORD...
offers() {
    local offered
    offered=$("$1" "${@:3}")
    [ "$offered" = "$2" ] || { echo "offered: <$offered>" && return 1; }
}
it "bash completes commands" offers in_bash "check " ch
it "their options" offers in_bash "--card --color --copies " order --c
it "no others" offers in_bash " " check --pd
it "recipes and folders" offers in_bash "a folder gannet.yml teal.yaml " weigh ""
it "also with a blank" offers in_bash "a folder/heron.yaml " weigh "a folder/"
it "folders behind -o" offers in_bash "a folder " order -o ""
it "words" offers in_bash "always auto " check --color a
it "zsh completes commands" offers in_zsh "plugwright check " ch
it "their options" offers in_zsh "plugwright order --pdf " order --pd
it "recipes" offers in_zsh "plugwright weigh teal.yaml " weigh te
it "words" offers in_zsh "plugwright describe fish " describe "fi"
it "fish completes commands" offers in_fish "check " ch
it "their options" offers in_fish "--card --color --copies " order --c
it "files" offers in_fish "teal.txt teal.yaml " weigh tea
it "words" offers in_fish "always auto never " check --color ""

finish
