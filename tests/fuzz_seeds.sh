#!/bin/sh
# What the fuzzer begins with, a folder for each entry under DIRECTORY/seeds: fuzz_seeds.sh DIRECTORY
set -eu
cd "$(dirname "$0")/.."
seeds=$1/seeds
for entry in recipe quantity files difference generated protocol; do
    rm -rf "${seeds:?}/$entry" && mkdir -p "$seeds/$entry"
done
cp recipes/*.yaml tests/golden/*.yaml "$seeds/recipe"

# recipes in memory have no workshop
alone=$seeds/alone
rm -rf "$alone" && mkdir "$alone"
for recipe in $(sh tests/recipes.sh recipes); do cp "$recipe" "$alone"; done
grep -lx 'workshop: workshop.yaml' "$alone"/* | xargs sed -i -f tests/alone.sed
cp "$alone"/*.yaml "$seeds/recipe"

# what stands behind a colon, and such as handbooks write
number=0
grep -ohE ': *[0-9][^,}]{0,40}' recipes/*.yaml tests/golden/*.yaml | cut -c 3- | sort -u | head -n 400 |
    while IFS= read -r value; do
        number=$((number + 1))
        printf '%s' "$value" >"$seeds/quantity/$number"
    done
for value in '1/2 in' '2 3/4"' '-0.0 mm' '1e3 g' '12 degC' '1:3' '3 parts 1' '½ in' '5 ft 2 in' '19:00'; do
    printf '%s' "$value" >"$seeds/quantity/$(printf '%s' "$value" | tr -c 'a-z0-9' _)"
done

# join FILE...: one behind the other with a zero byte between
join() {
    cat "$1" && shift
    for file; do printf '\0' && cat "$file"; done
}
for recipe in recipes/*.yaml tests/golden/*.yaml; do
    name=$(basename "$recipe")
    base=$(sed -n 's/^base: *//p' "$recipe" | head -n 1)
    shop=$(sed -n 's/^workshop: *\([a-z].*\)/\1/p' "$recipe" | head -n 1)
    folder=$(dirname "$recipe")
    { [ -n "$base" ] && [ -f "$folder/$base" ]; } || base=
    { [ -n "$shop" ] && [ -f "$folder/$shop" ]; } || shop=
    [ -z "$base$shop" ] ||
        join "$recipe" "${base:+$folder/}${base:-/dev/null}" "${shop:+$folder/}${shop:-/dev/null}" \
            >"$seeds/files/$name"
done
last=recipes/grebe.yaml
for recipe in "$alone"/*.yaml tests/golden/box.yaml tests/golden/inches.yaml; do
    join "$last" "$recipe" >"$seeds/difference/$(basename "$recipe")"
    join "$recipe" "$recipe" >"$seeds/difference/same-$(basename "$recipe")"
    last=$recipe
done
rm -r "$alone"
for digit in 0 1 2 3 4 5; do printf '%s' "1234567$digit$digit" >"$seeds/generated/$digit"; done

# what editors ask
number=0
document='"textDocument":{"uri":"untitled:1","version":2}'
for method in completion hover definition documentSymbol documentColor colorPresentation inlayHint didChange didSave didClose; do
    number=$((number + 1))
    printf '{"id":%d,"method":"textDocument/%s","params":{%s,"position":{"line":4,"character":%d},"range":{"start":{"line":0,"character":0},"end":{"line":9,"character":0}},"color":{"red":1},"contentChanges":[{"range":{"start":{"line":3,"character":0},"end":{"line":4,"character":3}},"text":"lip:\\n  an"}]}}' \
        "$number" "$method" "$document" "$number" >"$seeds/protocol/$method"
done
sed 's/"id":[0-9]*,//' "$seeds/protocol/didChange" >"$seeds/protocol/change"
{ cat "$seeds/protocol/change" && printf '\0' && cat "$seeds/protocol/completion" && printf '\0' && cat "$seeds/protocol/inlayHint"; } >"$seeds/protocol/talk"
printf '\0Content-Length: 2\r\n\r\n{}' >"$seeds/protocol/raw"
