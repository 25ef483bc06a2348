#!/bin/bash
# No two files of a room of compute need each other, directly or by others: each can be read after
# those that it uses.
. "$(dirname "$0")/shared.sh"
needs nm tsort
set -o pipefail
objects=$(dirname "$program")/src
[ -d "$objects" ] || objects=$top/out/release/src

# For every symbol that an object needs: "object object", if the second has it.
uses() {
    nm -A -P "$@" | awk '
        { name = $1; sub(/:$/, "", name); sub(/.*\//, "", name) }
        $3 == "U" { needs[++count] = name " " $2 }
        $3 ~ /^[TDRB]$/ { home[$2] = name }
        END { for (i = 1; i <= count; i++) { split(needs[i], n, " "); if (n[2] in home) print n[1], home[n[2]] } }'
}

# straight FOLDER: its files stand in a line; if not, those on a circle are named.
straight() {
    local source list=()
    for source in "$top/src/$1"/*.c; do list+=("$objects/$1/$(basename "$source" .c).o"); done
    uses "${list[@]}" >"$scratch/uses" && ends 0 tsort "$scratch/uses"
}

for folder in "$top"/src/compute "$top"/src/compute/*/; do
    folder=${folder#"$top/src/"}
    it "there is no circle in $folder" straight "${folder%/}"
done
finish
