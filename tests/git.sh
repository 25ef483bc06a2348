#!/bin/bash
# Recipes in a real git repository: its own commands show designs, the ids on an order find their
# commit, `diff` and `diff --history` read what was committed.  Nothing outside a temporary folder is
# touched, and no configuration but the repository's own is read.
. "$(dirname "$0")/shared.sh"
needs git
recipes=$top/recipes
hook=$top/docs/pre-commit
export HOME=$scratch XDG_CONFIG_HOME=$scratch GIT_CONFIG_NOSYSTEM=1 GIT_PAGER=cat NO_COLOR=1
export GIT_AUTHOR_DATE="2026-01-10T20:00:00Z" GIT_COMMITTER_DATE="2026-01-10T20:00:00Z"
unset GIT_DIR GIT_WORK_TREE GIT_INDEX_FILE GIT_PREFIX
PATH=$(dirname "$program"):$PATH

mkdir "$scratch/shop" && cd "$scratch/shop" || exit 2
git init -q -b main . && git config user.name Builder && git config user.email builder@example.org
git config diff.plugwright.textconv "'$program' facts --own --"
mkdir recipes
cp "$recipes"/.gitattributes "$recipes"/grebe.yaml "$recipes"/grebe-dusk.yaml recipes/
git add -A && git commit -q -m "Carve the first Grebe"
first=$(git rev-parse HEAD)

# --- writing is no change -------------------------------------------------------------------------
sed -i 's/length: 95 mm/length: 9.5 cm/; s/^water:.*/water: {temperature: 14 degC, salinity: 0 g\/kg}   # the lake/' \
    recipes/grebe.yaml
it "another way of writing has a git diff" ends 0 git diff -- recipes/grebe.yaml
it "but not of the body" not prints "body"
git show HEAD:recipes/grebe.yaml >"$scratch/old.yaml"
it "to diff it is the same design" gives 0 diff "$scratch/old.yaml" recipes/grebe.yaml
git commit -q -a -m "Note where it is fished"

# --- a design changes -----------------------------------------------------------------------------
sed -i 's/length: 30 mm/length: 34 mm/; s/reserve: 15 %/reserve: 13 %/; s/Second winter/Third winter/' \
    recipes/grebe.yaml
it "git diff shows a design" ends 0 git diff -- recipes/grebe.yaml
it "as it was" prints_line "-lip.length = 30 mm"
it "as it is" prints_line "+lip.length = 34 mm"
it "with what it did" prints_line "-result.float.finished.reserve = 15.0 %"
it "and does" prints_line "+result.float.finished.reserve = 13.0 %"
it "and not what stayed" not prints "lip.width = 19 mm "
it "it is ordered" gives 0 order recipes/grebe.yaml -o "$scratch/orders"
git commit -q -a -m "Longer lip, lower in the water"
longer=$(git rev-parse HEAD)

it "git log -p shows designs" ends 0 git log -p --format=%s -- recipes/grebe.yaml
it "with their subjects" prints "Longer lip, lower in the water"
it "their changes" prints_line "+lip.length = 34 mm"
it "and the first whole" prints_line "+name = Grebe 95"
it "git show shows one" ends 0 git show --format=%s HEAD
it "by its facts" prints_line "+ballast.aim.reserve = 13 %"

# --- a printed order finds its commit -------------------------------------------------------------
# ids ORDER: the blob ids that it prints.
ids() { grep -oE '[0-9a-f]{40}' "$scratch/orders/$1/$1.md" | sort -u; }
it "an order's id is looked for" ends 0 git log --format=%H --find-object="$(ids grebe)"
it "and finds its commit" prints_line "$longer"
it "a variant is ordered" gives 0 order recipes/grebe-dusk.yaml -o "$scratch/orders"
it "its order has the ids of both files" [ "$(ids grebe-dusk | wc -l)" = 2 ]
for id in $(ids grebe-dusk); do
    it "the id $id is looked for" ends 0 git log --format=%H --find-object="$id"
    it "and found" not prints_nothing
done

# --- variants -------------------------------------------------------------------------------------
it "git show shows a variant" ends 0 git show --format=%s "$first" -- recipes/grebe-dusk.yaml
it "with its base" prints_line "+base = grebe.yaml"
it "and no error" not prints "error"
sed -i 's/plum back/violet back/' recipes/grebe-dusk.yaml
it "git diff shows a variant" ends 0 git diff
it "by its layers" prints_line \
    "+finish.paint.layers = white ground, copper flanks, violet back, black spots, amber belly"
it "and nothing of its base" not prints "body.length"
git commit -q -a -m "Violet"
it "a variant differs from its base" gives 1 diff recipes/grebe.yaml recipes/grebe-dusk.yaml
it "in its layers" prints 'layer "violet back"'
it "and not in its base" not prints "base"
printf 'recipe: 1\nname: No lip\nbase: grebe.yaml\nlip: none\nballast: {aim: {reserve: 14 %%}}\n' \
    >recipes/bare.yaml
it "a variant that drops its lip has facts of its own" gives 0 facts --own recipes/bare.yaml
it "that tell so" prints_line "lip = none"
it "and merged facts" gives 0 facts recipes/bare.yaml
it "with the body of its base" prints_line "body.length = 95 mm"
it "and no lip" not prints "lip."
rm recipes/bare.yaml
printf 'workshop: 1\nwoods: [{name: pond lime, like: basswood}]\nshop: {wheel: 3}\n' >recipes/pond.yaml
sed 's/^name:.*/&\nworkshop: pond.yaml/' recipes/grebe.yaml >recipes/pond-grebe.yaml
it "a recipe with a workshop has facts of its own" gives 0 facts --own recipes/pond-grebe.yaml
it "with what it names" prints_line "workshop = pond.yaml"
it "and results" prints "result.float.finished.reserve = "
cp recipes/pond-grebe.yaml "$scratch/apart.yaml"
it "also where its workshop is not there" gives 0 facts --own "$scratch/apart.yaml"
it "which are the same" prints "result.float.finished.reserve = "
sed -i 's/species: .*/species: pond lime}/' recipes/pond-grebe.yaml
it "one of an own wood has no results" gives 0 facts --own recipes/pond-grebe.yaml
it "not even a wrong one" not prints "result."
it "and no error" not prints "error"
it "in its workshop it has" gives 0 facts recipes/pond-grebe.yaml
it "and tells what was the workshop's" prints_line "workshop.wood.species = own workshop"
rm recipes/pond.yaml recipes/pond-grebe.yaml

# --- conflicts ------------------------------------------------------------------------------------
git checkout -q -b other && sed -i 's/angle: 35 deg/angle: 40 deg/' recipes/grebe.yaml
git commit -q -a -m "Steeper lip"
git checkout -q main && sed -i 's/angle: 35 deg/angle: 30 deg/' recipes/grebe.yaml
git commit -q -a -m "Flatter lip"
it "two angles conflict" ends 1 git merge -q other
it "a conflict is an error" gives 1 check recipes/grebe.yaml
it "a single one" [ "$(grep -c ': error: ' "$scratch/said")" = 1 ]
it "that says what it is" says "a merge conflict stands open here [conflict]"
it "it cannot be compared" gives 2 diff "$scratch/old.yaml" recipes/grebe.yaml
it "but it has facts" gives 0 facts recipes/grebe.yaml
it "which tell the error" prints "error[conflict] = line"
it "so git can show it" ends 0 git diff
git checkout -q --theirs recipes/grebe.yaml && git commit -q -a -m "Steeper it is"

TMPDIR=$scratch/none it "a variant has a history, and no file is made for it" \
    gives 0 diff --history recipes/grebe-dusk.yaml
it "with its own changes" prints "Violet"
it "and those of its base" prints "Longer lip"

# --- history --------------------------------------------------------------------------------------
git mv recipes/grebe.yaml recipes/grebe-95.yaml && sed -i 's/grebe.yaml/grebe-95.yaml/' recipes/grebe-dusk.yaml
git commit -q -a -m "Name it by its length"
printf 'broken: [\n' >recipes/grebe-95.yaml && git commit -q -a -m "$(printf 'Slip of the hand \033[31m')"
git checkout -q HEAD~1 -- recipes/grebe-95.yaml && git commit -q -a -m "Put right"
it "a recipe has a history" gives 0 diff --history recipes/grebe-95.yaml
it "from its first name" prints "Carve the first Grebe"
it "with its notes" prints "note: Third winter"
it "and versions that are none" prints "no plug: "
it "no subject reaches the terminal as an order to it" not prints "$(printf '\033')"
it "and all is committed" not prints "not committed"
it "a history is JSON too" gives 0 diff --history --json recipes/grebe-95.yaml
it "with every version" [ "$(grep -c '"number"' "$scratch/printed")" -ge 7 ]
sed -i 's/make: 6/make: 2/' recipes/grebe-95.yaml
it "what lies there has a history" gives 0 diff --history recipes/grebe-95.yaml
it "and comes last" prints "not committed"
git checkout -q recipes/grebe-95.yaml
it "a variant keeps its history" gives 0 diff --history recipes/grebe-dusk.yaml
sed 1d "$scratch/printed" >"$scratch/from-top"
(cd recipes && "$program" diff --history grebe-dusk.yaml) 2>&1 | sed 1d >"$scratch/inside"
it "which is the same from a subfolder" diff "$scratch/inside" "$scratch/from-top"
cp recipes/grebe-95.yaml "$scratch/alone.yaml"
it "outside a repository there is none" gives 2 diff --history "$scratch/alone.yaml"
printf 'recipe: 1\n' >recipes/new.yaml
it "nor of what git does not know" gives 2 diff --history recipes/new.yaml
it "nor of standard input" gives 2 diff --history -
rm recipes/new.yaml
it "nor of a pattern" gives 2 diff --history ':(glob)recipes/*.yaml'

# --- one version of git's -------------------------------------------------------------------------

it "the last version is what lies there" gives 0 diff HEAD:recipes/grebe-95.yaml recipes/grebe-95.yaml
it "an earlier one is another design" gives 1 diff "$longer~1:recipes/grebe.yaml" recipes/grebe-95.yaml
it "by its own name" prints "$longer~1:recipes/grebe.yaml"
it "a variant has the base of its commit" gives 0 diff HEAD:recipes/grebe-dusk.yaml recipes/grebe-dusk.yaml
here() (cd recipes && "$program" diff HEAD:./grebe-95.yaml grebe-95.yaml)
it "with a dot the path is from here" ends 0 here
it "a version that is not there" gives 2 diff nowhere:recipes/grebe-95.yaml recipes/grebe-95.yaml
it "is told" says "git knows no such version"
it "so is a file that was not there" gives 2 diff HEAD:recipes/none.yaml recipes/grebe-95.yaml
it "by its name" says "HEAD:recipes/none.yaml: it was not there"
it "no revision is an option" gives 2 diff -- --output=x:recipes/grebe-95.yaml recipes/grebe-95.yaml
it "and none is run as one" [ ! -e 'x^{commit}' ]

# --- diff, its statuses and forms -----------------------------------------------------------------

it "two designs differ" gives 1 diff "$scratch/old.yaml" recipes/grebe-95.yaml
it "that is told in short" prints "In short: "
input=$scratch/old.yaml it "one of them may come from a pipe" gives 1 diff - recipes/grebe-95.yaml
it "and is told as well" prints "length 30 mm"
it "but not both" gives 2 diff - -
it "one alone differs from nothing" gives 2 diff recipes/grebe-95.yaml
it "nor from what is not there" gives 2 diff recipes/grebe-95.yaml recipes/none.yaml
it "a difference has a page" gives 1 diff --markdown -o "$scratch/pages" "$scratch/old.yaml" recipes/grebe-95.yaml
for file in difference.md overlay.svg rest.svg; do
    it "$file lies there" [ -s "$scratch/pages/old-to-grebe-95/$file" ]
done
it "a difference is JSON too" gives 1 diff --json "$scratch/old.yaml" recipes/grebe-95.yaml
it "by its paths" prints '"path": "lip.length"'
cp "$scratch/printed" "$scratch/once"
it "and again" gives 1 diff --json "$scratch/old.yaml" recipes/grebe-95.yaml
it "byte for byte" cmp "$scratch/once" "$scratch/printed"

# --- before a commit ------------------------------------------------------------------------------
cp "$hook" .git/hooks/pre-commit && chmod +x .git/hooks/pre-commit
sed -i 's/drill: 8 mm/drill: 8/' recipes/grebe-95.yaml
it "the hook refuses a broken recipe" ends 1 git commit -q -a -m "Without a unit"
it "and says why" says "error:"
git checkout -q HEAD -- recipes && sed -i 's/drill: 8 mm/drill: 8.2 mm/' recipes/grebe-95.yaml
git add -A && sed -i 's/drill: 8.2 mm/drill: 8/' recipes/grebe-95.yaml
it "the hook judges what is committed, not what lies on the bench" ends 0 git commit -q -m "Wider bore"

git checkout -q HEAD -- recipes
mkdir -p plugs/old && printf 'recipe: 1\nname: [\n' >plugs/old/broken.yml && git add plugs
it "a broken one elsewhere is refused too" ends 1 git commit -q -m "Into another folder"
printf '"recipe": 1\nname: Nothing\n' >plugs/old/broken.yml && git add plugs
it "and one with its key in quotes" ends 1 git commit -q -m "In quotes"
printf 'workshop: 1 # the shed\nshop: {wheel: four}\n' >plugs/old/broken.yml && git add plugs
it "and a broken workshop" ends 1 git commit -q -m "The shed"
it "which is judged as one" says "wheel is a whole number"
printf 'jobs: [\nworkshop: 1st floor\n' >plugs/old/broken.yml && git add plugs
it "what is no recipe is none of its business" ends 0 git commit -q -m "Something else"

# --- names that look like options, and a variant younger than its base ---------------------------
cp recipes/grebe-95.yaml ./--help.yaml && printf -- '--help.yaml diff=plugwright\n' >>.gitattributes
git add -A 2>/dev/null && git commit -q -m "A name like an option" 2>/dev/null
sed -i 's/angle: 40 deg/angle: 41 deg/' ./--help.yaml
it "a recipe called --help.yaml has a git diff" ends 0 git diff
it "by its facts" prints_line "+lip.angle = 41 deg"
git checkout -q -- . && git rm -q -- ./--help.yaml && git commit -q -m "Away with it" 2>/dev/null
printf 'recipe: 1\nname: Young\nbase: grebe-95.yaml\nmake: 1\n' >recipes/young.yaml
git add -A 2>/dev/null && git commit -q -m "A young variant" 2>/dev/null
sed -i 's/make: 1/make: 2/' recipes/young.yaml && git commit -q -a -m "Two of them" 2>/dev/null
it "a variant's history begins with itself" gives 0 diff --history recipes/young.yaml
it "with its first commit" prints "A young variant"
it "and two versions in all" prints "2 versions"
git config log.showRoot false
it "the first version is not dropped" gives 0 diff --history recipes/grebe-95.yaml
it "whatever the configuration" prints "Carve the first Grebe"
git config --unset log.showRoot

# --- a hostile repository -------------------------------------------------------------------------
# A blob that is missing would be fetched by what the configuration names.
git clone -q --no-hardlinks . "$scratch/hostile" && cd "$scratch/hostile" || exit 2
cat >"$scratch/evil" <<END
#!/bin/sh
touch "$scratch/evil-was-here"
END
chmod +x "$scratch/evil"
git config core.repositoryformatversion 1
git config extensions.partialClone origin
git config remote.origin.promisor true
git config remote.origin.uploadpack "$scratch/evil"
git config protocol.file.allow always
git config protocol.ext.allow always
mkdir "$scratch/packs" && find .git/objects/pack -name '*.pack' -exec mv {} "$scratch/packs/" \;
for pack in "$scratch"/packs/*.pack; do [ -e "$pack" ] && git unpack-objects -q <"$pack"; done
rm -f .git/objects/pack/*
blob=$(git rev-parse "$first:recipes/grebe.yaml")
rm -f ".git/objects/${blob:0:2}/${blob:2}"
ext=$scratch/evil
for url in "file://$scratch/none" "ext::$ext" "ssh://none/none"; do
    git config remote.origin.url "$url"
    git config core.sshCommand "$scratch/evil"
    it "a history with a missing version is read" gives 0 diff --history recipes/grebe-95.yaml
    it "and nothing is started to fetch it by $url" [ ! -e "$scratch/evil-was-here" ]
done
git cat-file blob "$blob" >/dev/null 2>&1
it "which git itself would have started" [ -e "$scratch/evil-was-here" ]

finish
