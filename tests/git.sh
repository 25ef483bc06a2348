#!/bin/bash
# Recipes in a real git repository: its own commands show designs, the ids on an order find their
# commit, `diff` and `diff --history` read what was committed.  Nothing outside a temporary folder is
# touched, and no configuration but the repository's own is read.
set -u
program=$(realpath "${PLUGWRIGHT:-out/bin/plugwright}") || exit 2
recipes=$(realpath "$(dirname "$0")/../recipes") || exit 2
hook=$(realpath "$(dirname "$0")/../docs/pre-commit") || exit 2
scratch=$(mktemp -d) || exit 2
trap 'rm -rf "$scratch"' EXIT
export HOME=$scratch XDG_CONFIG_HOME=$scratch GIT_CONFIG_NOSYSTEM=1 GIT_PAGER=cat NO_COLOR=1
export GIT_AUTHOR_DATE="2026-01-10T20:00:00Z" GIT_COMMITTER_DATE="2026-01-10T20:00:00Z"
unset GIT_DIR GIT_WORK_TREE GIT_INDEX_FILE GIT_PREFIX
PATH=$(dirname "$program"):$PATH
passed=0
failed=0

good() { passed=$((passed + 1)); }
bad() {
    failed=$((failed + 1))
    echo "git: $1"
    [ -z "${2:-}" ] || sed 's/^/    /' "$2" | head -40
}
# has WHAT FILE TEXT: a line of FILE is TEXT.  lacks: none is.  holds: TEXT stands somewhere in it.
has() { if grep -qxF -e "$3" "$2"; then good; else bad "$1: no line '$3'" "$2"; fi; }
lacks() { if grep -qF -e "$3" "$2"; then bad "$1: there is '$3'" "$2"; else good; fi; }
holds() { if grep -qF -e "$3" "$2"; then good; else bad "$1: no '$3'" "$2"; fi; }
# gives STATUS WHAT COMMAND...: standard output in $scratch/out, standard error in $scratch/err.
gives() {
    local due=$1 what=$2
    shift 2
    "$@" >"$scratch/out" 2>"$scratch/err" </dev/null
    local status=$?
    if [ $status = "$due" ]; then good; else bad "$what: status $status, not $due" "$scratch/err"; fi
}

mkdir "$scratch/shop" && cd "$scratch/shop" || exit 2
git init -q -b main . && git config user.name Builder && git config user.email builder@example.org
git config diff.plugwright.textconv "'$program' facts --own"
mkdir recipes
cp "$recipes"/.gitattributes "$recipes"/grebe.yaml "$recipes"/grebe-dusk.yaml recipes/
git add -A && git commit -q -m "Carve the first Grebe"
first=$(git rev-parse HEAD)

# --- writing is no change -------------------------------------------------------------------------
sed -i 's/length: 95 mm/length: 9.5 cm/; s/^water:.*/water: {temperature: 14 degC, salinity: 0 g\/kg}   # the lake/' \
    recipes/grebe.yaml
gives 0 "git diff of another way of writing" git diff -- recipes/grebe.yaml
lacks "git diff of another way of writing" "$scratch/out" "body"
git show HEAD:recipes/grebe.yaml >"$scratch/old.yaml"
gives 0 "diff of another way of writing" "$program" diff "$scratch/old.yaml" recipes/grebe.yaml
git commit -q -a -m "Note where it is fished"

# --- a design changes -----------------------------------------------------------------------------
sed -i 's/length: 30 mm/length: 34 mm/; s/reserve: 15 %/reserve: 13 %/; s/Second winter/Third winter/' \
    recipes/grebe.yaml
gives 0 "git diff" git diff -- recipes/grebe.yaml
has "git diff" "$scratch/out" "-lip.length = 30 mm"
has "git diff" "$scratch/out" "+lip.length = 34 mm"
has "git diff" "$scratch/out" "-result.float.finished.reserve = 15.0 %"
has "git diff" "$scratch/out" "+result.float.finished.reserve = 13.0 %"
lacks "git diff" "$scratch/out" "lip.width = 19 mm "
"$program" order recipes/grebe.yaml -o "$scratch/orders" >/dev/null || bad "order"
git commit -q -a -m "Longer lip, lower in the water"
longer=$(git rev-parse HEAD)

gives 0 "git log -p" git log -p --format=%s -- recipes/grebe.yaml
holds "git log -p" "$scratch/out" "Longer lip, lower in the water"
has "git log -p" "$scratch/out" "+lip.length = 34 mm"
has "git log -p" "$scratch/out" "+name = Grebe 95"
gives 0 "git show" git show --format=%s HEAD
has "git show" "$scratch/out" "+ballast.aim.reserve = 13 %"

# --- a printed order finds its commit -------------------------------------------------------------
# ids ORDER: the blob ids that it prints.
ids() { grep -oE '[0-9a-f]{40}' "$scratch/orders/$1/order.md" | sort -u; }
id=$(ids grebe)
gives 0 "find-object" git log --format=%H --find-object="$id"
has "find-object" "$scratch/out" "$longer"
"$program" order recipes/grebe-dusk.yaml -o "$scratch/orders" >/dev/null || bad "order of a variant"
for id in $(ids grebe-dusk); do
    gives 0 "find-object of a variant" git log --format=%H --find-object="$id"
    if [ -s "$scratch/out" ]; then good; else bad "find-object of a variant: nothing"; fi
done

# --- variants -------------------------------------------------------------------------------------
gives 0 "git show of a variant" git show --format=%s "$first" -- recipes/grebe-dusk.yaml
has "git show of a variant" "$scratch/out" "+base = grebe.yaml"
lacks "git show of a variant" "$scratch/out" "error"
sed -i 's/plum back/violet back/' recipes/grebe-dusk.yaml
gives 0 "git diff of a variant" git diff
has "git diff of a variant" "$scratch/out" \
    "+finish.paint.layers = white ground, copper flanks, violet back, black spots, amber belly"
lacks "git diff of a variant" "$scratch/out" "body.length"
git commit -q -a -m "Violet"
gives 1 "diff between variants" "$program" diff recipes/grebe.yaml recipes/grebe-dusk.yaml
holds "diff between variants" "$scratch/out" 'layer "violet back"'
lacks "diff between variants" "$scratch/out" "base"
printf 'recipe: 1\nname: No lip\nbase: grebe.yaml\nlip: none\nballast: {aim: {reserve: 14 %%}}\n' \
    >recipes/bare.yaml
gives 0 "facts of a variant that drops its lip" "$program" facts --own recipes/bare.yaml
has "facts of a variant that drops its lip" "$scratch/out" "lip = none"
gives 0 "merged facts of a variant" "$program" facts recipes/bare.yaml
has "merged facts of a variant" "$scratch/out" "body.length = 95 mm"
lacks "merged facts of a variant" "$scratch/out" "lip."
rm recipes/bare.yaml

# --- conflicts ------------------------------------------------------------------------------------
git checkout -q -b other && sed -i 's/angle: 35 deg/angle: 40 deg/' recipes/grebe.yaml
git commit -q -a -m "Steeper lip"
git checkout -q main && sed -i 's/angle: 35 deg/angle: 30 deg/' recipes/grebe.yaml
git commit -q -a -m "Flatter lip"
git merge -q other >/dev/null 2>&1 && bad "the merge should conflict"
gives 1 "check in a conflict" "$program" check recipes/grebe.yaml
if [ "$(grep -c ': error: ' "$scratch/err")" = 1 ]; then good; else bad "one error" "$scratch/err"; fi
holds "check in a conflict" "$scratch/err" "a merge conflict stands open here [conflict]"
gives 2 "diff in a conflict" "$program" diff "$scratch/old.yaml" recipes/grebe.yaml
gives 0 "facts in a conflict" "$program" facts recipes/grebe.yaml
holds "facts in a conflict" "$scratch/out" "error[conflict] = line"
gives 0 "git diff in a conflict" git diff
git checkout -q --theirs recipes/grebe.yaml && git commit -q -a -m "Steeper it is"

gives 0 "history of a variant" "$program" diff --history recipes/grebe-dusk.yaml
holds "history of a variant" "$scratch/out" "Violet"
holds "a base's change is a version of the variant" "$scratch/out" "Longer lip"

# --- history --------------------------------------------------------------------------------------
git mv recipes/grebe.yaml recipes/grebe-95.yaml && sed -i 's/grebe.yaml/grebe-95.yaml/' recipes/grebe-dusk.yaml
git commit -q -a -m "Name it by its length"
printf 'broken: [\n' >recipes/grebe-95.yaml && git commit -q -a -m "$(printf 'Slip of the hand \033[31m')"
git checkout -q HEAD~1 -- recipes/grebe-95.yaml && git commit -q -a -m "Put right"
gives 0 "history" "$program" diff --history recipes/grebe-95.yaml
holds "history" "$scratch/out" "Carve the first Grebe"
holds "history" "$scratch/out" "note: Third winter"
holds "history" "$scratch/out" "no plug: "
lacks "history" "$scratch/out" "$(printf '\033')"
lacks "history of what is committed" "$scratch/out" "not committed"
gives 0 "history as JSON" "$program" diff --history --json recipes/grebe-95.yaml
if [ "$(grep -c '"number"' "$scratch/out")" -ge 7 ]; then good; else bad "versions" "$scratch/out"; fi
sed -i 's/make: 6/make: 2/' recipes/grebe-95.yaml
gives 0 "history with a change that is not committed" "$program" diff --history recipes/grebe-95.yaml
holds "history with a change that is not committed" "$scratch/out" "not committed"
git checkout -q recipes/grebe-95.yaml
gives 0 "history of a variant" "$program" diff --history recipes/grebe-dusk.yaml
(cd recipes && "$program" diff --history grebe-dusk.yaml) >"$scratch/inside" 2>&1
sed 1d "$scratch/out" >"$scratch/from-top"
if sed 1d "$scratch/inside" | diff - "$scratch/from-top"; then good; else bad "history from a subfolder"; fi
cp recipes/grebe-95.yaml "$scratch/alone.yaml"
gives 2 "history outside a repository" "$program" diff --history "$scratch/alone.yaml"
printf 'recipe: 1\n' >recipes/new.yaml
gives 2 "history of what git does not know" "$program" diff --history recipes/new.yaml
gives 2 "history of standard input" "$program" diff --history -
rm recipes/new.yaml
gives 2 "history of no pattern" "$program" diff --history ':(glob)recipes/*.yaml'

# --- diff, its statuses and forms -----------------------------------------------------------------
gives 1 "diff" "$program" diff "$scratch/old.yaml" recipes/grebe-95.yaml
holds "diff" "$scratch/out" "In short: "
"$program" diff - recipes/grebe-95.yaml <"$scratch/old.yaml" >"$scratch/piped"
if [ $? = 1 ]; then good; else bad "diff from a pipe"; fi
holds "diff from a pipe" "$scratch/piped" "length 30 mm"
gives 2 "diff of two pipes" "$program" diff - -
gives 2 "diff of one recipe" "$program" diff recipes/grebe-95.yaml
gives 2 "diff of what is not there" "$program" diff recipes/grebe-95.yaml recipes/none.yaml
gives 1 "diff --markdown" "$program" diff --markdown -o "$scratch/pages" "$scratch/old.yaml" recipes/grebe-95.yaml
for file in difference.md overlay.svg rest.svg; do
    if [ -s "$scratch/pages/old-to-grebe-95/$file" ]; then good; else bad "no $file"; fi
done
gives 1 "diff --json" "$program" diff --json "$scratch/old.yaml" recipes/grebe-95.yaml
holds "diff --json" "$scratch/out" '"path": "lip.length"'
cp "$scratch/out" "$scratch/once"
gives 1 "diff --json again" "$program" diff --json "$scratch/old.yaml" recipes/grebe-95.yaml
if cmp -s "$scratch/once" "$scratch/out"; then good; else bad "the same diff gives other bytes"; fi

# --- before a commit ------------------------------------------------------------------------------
cp "$hook" .git/hooks/pre-commit && chmod +x .git/hooks/pre-commit
sed -i 's/drill: 8 mm/drill: 8/' recipes/grebe-95.yaml
gives 1 "the hook refuses a broken recipe" git commit -q -a -m "Without a unit"
holds "the hook refuses a broken recipe" "$scratch/err" "error:"
git checkout -q HEAD -- recipes && sed -i 's/drill: 8 mm/drill: 8.2 mm/' recipes/grebe-95.yaml
git add -A && sed -i 's/drill: 8.2 mm/drill: 8/' recipes/grebe-95.yaml
gives 0 "the hook judges what is committed, not what lies on the bench" git commit -q -m "Wider bore"

echo "git: $passed passed, $failed failed"
[ $failed = 0 ]
