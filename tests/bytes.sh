#!/bin/bash
# The same recipe gives the same bytes: of every program that is named (other compilers, other
# optimizers), in another locale and from another folder.  Usage: bytes.sh PROGRAM PROGRAM...
. "$(dirname "$0")/shared.sh"
programs=()
for name; do programs+=("$(realpath "$name")") || exit 2; done
mkdir "$scratch/a" "$scratch/b" && cp "$top"/recipes/*.yaml "$scratch/a" && cp "$top"/recipes/*.yaml "$scratch/b"

# all_of PROGRAM FOLDER OUT: everything that it makes of the recipes there.
all_of() {
    (
        cd "$2" || exit 2
        mapfile -t recipes < <(sh "$top/tests/recipes.sh" .)
        "$1" order --solid --outlines -o "$3/orders" "${recipes[@]}" && "$1" plan -o "$3" grebe.yaml grebe-dusk.yaml &&
            for recipe in "${recipes[@]}"; do
                "$1" weigh --json "$recipe" >"$3/${recipe##*/}.json" && "$1" facts "$recipe" >"$3/${recipe##*/}.facts" || exit 1
            done
        "$1" diff --json grebe.yaml sandpiper.yaml >"$3/diff.json"
    ) >/dev/null 2>&1
    find "$3" -name .plugwright -delete # tells where the recipe lies
}
same() { ends 0 diff -rq "$scratch/first" "$1"; }

mkdir "$scratch/first" && all_of "${programs[0]}" "$scratch/a" "$scratch/first"
it "there is something to compare" [ "$(find "$scratch/first" -type f | wc -l)" -gt 300 ]
number=0
for program in "${programs[@]:1}"; do
    number=$((number + 1))
    mkdir "$scratch/$number" && all_of "$program" "$scratch/a" "$scratch/$number"
    it "$program makes the same of all recipes" same "$scratch/$number"
done
export LC_ALL=C.UTF-8 TZ=Asia/Kathmandu
mkdir "$scratch/else" && all_of "${programs[0]}" "$scratch/b" "$scratch/else"
it "so it does elsewhere, in another locale and zone" same "$scratch/else"
finish
