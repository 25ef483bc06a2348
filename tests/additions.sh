#!/bin/bash
# How to add is tried, not believed: in a copy of the project, a field, a wood, an operation with its
# caution and a drawing are added, each by what DEVELOPERS.md says and nothing else.  Then the copy
# is built, the program shows them, and every test that knows the model passes.
#
# The copy stays in out/additions, so that the next run builds only what has changed.
. "$(dirname "$0")/shared.sh"
needs awk make
copy=$top/out/additions
fresh=$scratch/fresh

# behind FILE TEXT: puts standard input behind the first line of the file that holds the text.
behind() {
    added=$(cat) awk -v text="$2" '
        { print }
        !done && index($0, text) { print ENVIRON["added"]; done = 1 }
        END { exit !done }' "$fresh/$1" >"$scratch/longer" && cp "$scratch/longer" "$fresh/$1"
}

add_field() {
    behind src/model/recipe.h 'struct str species;' <<'END' &&
    struct opt knots;
END
        behind grammar/recipe.def 'SPECIES(wood, species' <<'END' &&
OPT(wood, knots, "knots", LENGTH, 0, 20 * MM, "the largest knot in the blank")
END
        behind grammar/examples.def 'EXAMPLE(wood, "spread"' <<'END'
EXAMPLE(wood, "knots", "5 mm")
END
}

add_wood() {
    behind grammar/tables/wood.def 'WOOD("basswood"' <<'END'
WOOD("western white pine", "Pinus monticola", 0.38, AT_12, false, USUAL, "from memory")
END
}

add_operation() {
    behind grammar/cautions.def '#endif' <<'END' &&
CAUTION(RINGING, "ringing", "Ringing in the ears", "an arm away from the ear.",
        "Do not hold the blank to your ear while you tap it: hold it between two fingers at a "
        "quarter of its length, an arm away, and tap it with a knuckle.",
        "Ask a doctor about ringing that stays.", "common practice, no source")
END
        behind grammar/route.def 'PLACE(WHEEL' <<'END' &&
OPERATION(knock,
    .title = "Knock on the block",
    .what = "Hold the block lightly and tap it from end to end.",
    .with = "A knuckle",
    .check = "It rings alike everywhere.",
    .ruins = "Holding it tight: what is held cannot ring.",
    .risk = "A crack in the block shows when the plug is painted.",
    .phase = PHASE_SHAPING, .place = AT_BENCH,
    .fixed = 1, .each = 1,
    .cautions = WARNS(RINGING))
END
        behind grammar/route.def 'PRECEDE(RULE, layout, slot' <<'END'
PRECEDE(RULE, knock, layout, "a cracked block is not worth a line")
END
}

add_drawing() {
    cat >"$fresh/src/emit/drawing/ring.c" <<'END' &&
/* The end of the block with its rings. */
#include "emit/drawing/inner.h"

void draw_ring(struct drawing *drawing) {
    struct svg svg;
    part_begin(drawing, &svg, FIGURE_RING, "ring.svg", "The end of the block", 40.0, 40.0, 0);
    svg_group(&svg, &pen_outline);
    svg_circle(&svg, 20.0, 20.0, 15.0);
    svg_group_end(&svg);
    part_end(drawing, &svg);
}
END
        behind src/emit/drawing/drawing.def 'DRAWING(PLUG' <<'END' &&
DRAWING(RING, draw_ring, "the end of the block with its rings")
END
        behind src/emit/order/bores.c 'order_figures(order, FIGURE_TOP);' <<'END'
    order_figures(order, FIGURE_RING);
END
}

# What differs goes into the copy, what is no longer there goes out of it.
refresh() {
    local file
    mkdir -p "$copy" || return
    (cd "$fresh" && find . -type f) | sort >"$scratch/new"
    (cd "$copy" && find . -path ./out -prune -o -type f -print) | sort >"$scratch/old"
    while read -r file; do
        cmp -s "$fresh/$file" "$copy/$file" && continue
        mkdir -p "$copy/$(dirname "$file")" && cp -p "$fresh/$file" "$copy/$file" && touch "$copy/$file"
    done <"$scratch/new"
    comm -13 "$scratch/new" "$scratch/old" | while read -r file; do rm "$copy/$file"; done
}

# makes TARGET...: in the copy, quickly built; a warning is an error.
makes() {
    ends 0 make -C "$copy" --no-print-directory -j2 VARIANT=release CFLAGS=-O0 WERROR=-Werror "$@"
}

# The tests that can meet an added row, by what they include.
knowing_tests() {
    grep -lE '"(model|emit|compute/work)/|"compute/[a-z]*\.h|"recipe_text' "$copy"/tests/test_*.c |
        xargs -n 1 basename | sed 's,\.c$,,'
}

passes() { ends 0 "$copy/out/release/tests/$1"; }
script_passes() { PLUGWRIGHT=$copy/out/release/plugwright ends 0 bash "$copy/tests/$1.sh"; }
plugwright() { ends "$1" "$copy/out/release/plugwright" "${@:2}"; }
holds() { grep -qF -e "$2" "$1"; }
recipe() { sed "$1" "$copy/recipes/grebe.yaml" >"$scratch/added.yaml"; }
order=$scratch/orders/added

(cd "$top" && tar -cf - --exclude=./out --exclude=./.git .) | (mkdir "$fresh" && tar -xf - -C "$fresh")
it "a field is added" add_field
it "a wood is added" add_wood
it "an operation with its caution is added" add_operation
it "a drawing is added" add_drawing
it "the copy is there" refresh
it "the copy is built" makes all
it "rows that are generated are written anew" makes grammar
it "expected outputs are written anew" makes golden

recipe 's/^wood:.*/wood: {species: western white pine, knots: 5 kg}/'
it "the field is checked for what it is" plugwright 1 check "$scratch/added.yaml"
it "a wrong dimension is named" says "a length is due, 'kg' is a mass"
recipe 's/^wood:.*/wood: {species: western white pine, knots: 30 mm}/'
it "its range is checked" plugwright 1 check "$scratch/added.yaml"
it "the range is told" says "knots 30 mm is outside"
recipe 's/^wood:.*/wood: {species: western white pine, knots: 5 mm}/'
it "a right one is taken" plugwright 0 check "$scratch/added.yaml"
it "facts are told" plugwright 0 facts "$scratch/added.yaml"
it "the field is among them" prints_line "wood.knots = 5 mm"
it "so is the wood" prints_line "wood.species = western white pine"
it "versions differ" plugwright 1 diff "$copy/recipes/grebe.yaml" "$scratch/added.yaml"
it "the field is part of the comparison" prints "knots"
it "the language's table is printed" plugwright 0 tables fields
it "the field is in it" prints "the largest knot in the blank"
it "the schema is printed" plugwright 0 tables schema
it "editors know the field" prints '"knots"'
it "the woods are printed" plugwright 0 tables wood
it "the wood is among them" prints "Pinus monticola"

it "an order is written" plugwright 0 order -o "$scratch/orders" "$scratch/added.yaml"
it "the operation is a step" holds "$order/added.md" "Knock on the block"
it "its caution is there" holds "$order/added.md" "Ringing in the ears"
it "the drawing is there" holds "$order/ring.svg" "<circle"
it "the order shows it" holds "$order/added.md" "(ring.svg)"
printf 'steps:\n  - {skip: knock, because: the block rang at the yard}\n' >>"$scratch/added.yaml"
it "steps may name the operation" plugwright 0 check "$scratch/added.yaml"

mapfile -t tests < <(knowing_tests)
it "the tests are built" makes "${tests[@]/#/out/release/tests/}"
for name in "${tests[@]}"; do it "$name passes" passes "$name"; done
for name in golden command language citations; do it "$name passes" script_passes "$name"; done
it "headers and layers hold" makes headers layers grammar-check
finish
