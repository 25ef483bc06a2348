#!/bin/bash
# Blanks in names: the project in a folder with one builds and passes, and goes to and from a PREFIX
# with one.  The objects are made anew, without the optimizer, for this is not about them.
. "$(dirname "$0")/shared.sh"
unset MAKEFLAGS MAKELEVEL MFLAGS VARIANT
export CFLAGS=-O0

mkdir "$scratch/a folder" && cd "$scratch/a folder" || exit 2
cp -R "$top"/{Makefile,.ci,README.md,docs,grammar,recipes,src,tests} . || exit 2
place=$scratch/a\ place
mkdir "$place" && touch "$scratch/a" "$place/kept" || exit 2

it "it builds" ends 0 make -s -j2 all
it "it passes" ends 0 make -s scripts layers grammar-check \
    SCRIPTS="tests/command.sh tests/golden.sh"
it "it is installed" ends 0 make -s install PREFIX="$place"
it "and works from there" ends 0 "$place/bin/plugwright" check recipes/grebe.yaml
it "with its manual" grep -q '^.Dt PLUGWRIGHT 1' "$place/share/man/man1/plugwright.1"
it "the recipe's" grep -q '^.Dt PLUGWRIGHT-RECIPE 5' "$place/share/man/man5/plugwright-recipe.5"
for file in bash-completion/completions/plugwright zsh/site-functions/_plugwright \
    fish/vendor_completions.d/plugwright.fish plugwright/recipe.schema.json plugwright/pre-commit \
    doc/plugwright/language.md; do
    it "there is $file" [ -s "$place/share/$file" ]
done
named() { # named ARGUMENT...: the schema that a starter names is there
    local first
    first=$("$place/bin/plugwright" new "$@" | head -n 1)
    [ "${first#*schema=}" != "$first" ] && [ -s "${first#*schema=}" ]
}
it "the example recipes lie there" ends 0 "$place/bin/plugwright" check "$place"/share/doc/plugwright/examples/*.yaml
it "with the workshop that they share" [ -s "$place/share/doc/plugwright/examples/workshop.yaml" ]
it "a starter names the schema that is installed" named heron
it "and a workshop's its own" named --workshop shed
it "it is taken away again" ends 0 make -s uninstall PREFIX="$place"
it "with nothing left of it" [ -z "$(find "$place" -name '*plugwright*')" ]
it "and all else left alone" [ -e "$place/kept" ]
it "also where the path would end at the blank" [ -e "$scratch/a" ]
it "it is staged for a package" ends 0 make -s install DESTDIR="$place" PREFIX="/usr local"
it "below the stage" [ -x "$place/usr local/bin/plugwright" ]

git init -q . 2>/dev/null
it "git is told of it" ends 0 make -s git-setup
it "by a path that a shell can read" ends 0 sh -c \
    "$(git config diff.plugwright.textconv) recipes/grebe.yaml"
it "so that it shows designs" prints_line "name = Grebe 95"

it "and checks recipes before a commit" [ -x .git/hooks/pre-commit ]
echo '#!/bin/sh' >.git/hooks/pre-commit
it "another hook is told of" ends 0 make -s git-setup
it "and stays" prints "is another hook and stays"

finish
