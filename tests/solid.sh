#!/bin/bash
# What is written for machines: the shaped body as STL and 3MF, looked at with tools from outside, and
# the cut lines.  admesh counts what is wrong with a mesh and measures what it encloses.
. "$(dirname "$0")/shared.sh"
needs admesh unzip xmllint pandoc weasyprint
cd "$scratch" || exit 2

body_volume() { "$program" weigh --json "$1" 2>/dev/null | sed -n 's/.*"volume_cm3": \([0-9.]*\).*/\1/p' | head -n 1; }
body_length() { "$program" weigh --json "$1" 2>/dev/null | sed -n 's/.*"length_mm": \([0-9.]*\).*/\1/p' | head -n 1; }

# agree GOT WANT SHARE: within that share of WANT.
agree() {
    awk -v got="$1" -v want="$2" -v share="$3" '
        BEGIN { off = got - want; exit !(want > 0 && off <= share * want && off >= -share * want) }' &&
        return
    echo "$1 is not $2 within $3"
    return 1
}

# --- STL ----------------------------------------------------------------------------------------

# mesh_says NAME: a figure out of admesh's report of the last mesh.
mesh_says() { sed -n "s/.*$1 *: *\([-0-9.]*\).*/\1/p" mesh | head -n 1; }

# facets_of STL: as many as its length has room for, or nothing where it has odd bytes.
facets_of() {
    local size
    size=$(wc -c <"$1")
    [ $(((size - 84) % 50)) = 0 ] && echo $(((size - 84) / 50))
}

# sound: admesh has found nothing to mend in the last mesh.
sound() {
    local name
    for name in "Facets with 1 disconnected edge" "Facets with 2 disconnected edges" \
        "Facets with 3 disconnected edges" "Total disconnected facets" "Degenerate facets" \
        "Edges fixed" "Facets removed" "Facets added" "Facets reversed" "Backwards edges" \
        "Normals fixed"; do
        [ "$(mesh_says "$name")" = 0 ] || { echo "$name: $(mesh_says "$name")" && return 1; }
    done
}

# --- 3MF ----------------------------------------------------------------------------------------

path() { xmllint --xpath "$2" "$1"; }

# enclosed MODEL: the volume inside its triangles, in mm3: less than 0 where they look inward.
enclosed() {
    tr '<' '\n' <"$1" | awk -F'"' '
        /^vertex / { x[n] = $2; y[n] = $4; z[n++] = $6 }
        /^triangle / {
            a = $2; b = $4; c = $6
            if (a == b || b == c || c == a || a >= n || b >= n || c >= n) bad = 1
            sum += x[a] * (y[b] * z[c] - z[b] * y[c])
            sum += y[a] * (z[b] * x[c] - x[b] * z[c])
            sum += z[a] * (x[b] * y[c] - y[b] * x[c])
        }
        END { printf "%.3f\n", bad ? 0 : sum / 6 }'
}

# placed MODEL: the build leaves no coordinate below zero, and wastes no room.
placed() {
    local move
    move=$(path "$1" 'string(//*[local-name()="item"]/@transform)')
    tr '<' '\n' <"$1" | awk -F'"' -v move="$move" '
        /^vertex / {
            for (i = 1; i <= 3; i++) if (!n || $(2 * i) < low[i]) low[i] = $(2 * i)
            n++
        }
        END {
            if (split(move, part, " ") != 12 || move !~ /^1 0 0 0 1 0 0 0 1 /) exit 1
            for (i = 1; i <= 3; i++) {
                least = low[i] + part[9 + i]
                if (least > 1e-6 || least < -1e-6) exit 1
            }
        }'
}

# --- outlines -----------------------------------------------------------------------------------

# only_cuts SVG: one group of paths and circles with one thin stroke and no fill.
only_cuts() {
    xmllint --noout "$1" && ! grep -qE '<(text|title|desc|image|rect|style|use|line|polygon)' "$1" &&
        [ "$(path "$1" 'count(//*[local-name()="g"])')" = 1 ] &&
        [ "$(path "$1" 'count(//*)')" = "$(path "$1" 'count(//*[local-name()="path" or local-name()="circle"]) + 2')" ] &&
        [ "$(path "$1" 'count(//@fill)')" = 1 ] && grep -q '<g fill="none" stroke="#000" stroke-width="0.01"' "$1" &&
        [ "$(path "$1" 'count(//@stroke)')" = 1 ]
}

# true_size SVG: its millimetres are its units.
true_size() {
    local width height
    width=$(path "$1" 'string(/*/@width)')
    height=$(path "$1" 'string(/*/@height)')
    [ "$(path "$1" 'string(/*/@viewBox)')" = "0 0 ${width%mm} ${height%mm}" ] && [ "$width" != "${width%mm}" ]
}

# reach SVG N: how far path N goes from left to right.
reach() {
    path "$1" "string(//*[local-name()='path'][$2]/@d)" | tr -s 'MLCZ' ' ' |
        awk '{
            for (i = 1; i < NF; i += 2) {
                if (i == 1 || $i < low) low = $i
                if (i == 1 || $i > high) high = $i
            }
        } END { printf "%.3f\n", high - low }'
}

paths_are() { [ "$(path "$1" 'count(//*[local-name()="path"])')" = "$2" ]; }

# --- all recipes --------------------------------------------------------------------------------

for recipe in "${shipped[@]}"; do
    name=$(basename "$recipe" .yaml)
    there=out/$name
    it "$name: the body is written" gives 0 order --solid --outlines "$recipe"
    it "$name: and where" prints_line "out/$name/$name.stl"
    it "$name: as 3MF too" prints_line "out/$name/$name.3mf"
    it "$name: and the outlines" prints_line "out/$name/outlines.svg"

    due=$(body_volume "$recipe")
    it "$name: the mesh can be read" ends 0 admesh "$there/$name.stl"
    cp printed mesh
    it "$name: nothing of it is to be mended" sound
    it "$name: it is one body" [ "$(mesh_says "Number of parts")" = 1 ]
    it "$name: its volume is the body's" agree "$(mesh_says Volume)" "$(awk -v v="$due" 'BEGIN {print 1e3 * v}')" 0.001
    it "$name: it begins at the nose" grep -q 'Min X = *0.000000,' mesh
    it "$name: it is as long" agree "$(sed -n 's/.*Max X = *//p' mesh)" "$(body_length "$recipe")" 1e-6
    facets=$(facets_of "$there/$name.stl")
    it "$name: the file holds what it says" grep -qE "^Number of facets *: *$facets " mesh

    rm -rf package && mkdir package
    it "$name: the package is whole" ends 0 unzip -q "$there/$name.3mf" -d package
    it "$name: it has three parts" [ "$(cd package && find . -type f | LC_ALL=C sort | tr '\n' ' ')" = "./3D/3dmodel.model ./[Content_Types].xml ./_rels/.rels " ]
    model=package/3D/3dmodel.model
    it "$name: they are XML" xmllint --noout "$model" "package/[Content_Types].xml" package/_rels/.rels
    it "$name: in millimetres" [ "$(path $model 'string(/*/@unit)')" = millimeter ]
    it "$name: with the same facets" [ "$(grep -c '<triangle ' $model)" = "$facets" ]
    it "$name: which look outward around the same volume" agree "$(enclosed $model)" "$(awk -v v="$due" 'BEGIN {print 1e3 * v}')" 0.001
    it "$name: set down where a printer begins" placed $model

    it "$name: there are cut lines and nothing else" only_cuts "$there/outlines.svg"
    it "$name: in true size" true_size "$there/outlines.svg"
    for view in 1 2; do
        it "$name: outline $view is as long as the body" agree "$(reach "$there/outlines.svg" $view)" "$(body_length "$recipe")" 1e-6
    done
    more=$("$program" facts "$recipe" | grep -oE '^(lip|face)\.' | sort -u | wc -l)
    it "$name: side, top, and what else is cut" paths_are "$there/outlines.svg" $((2 + more))
done

# --- the package as others read it --------------------------------------------------------------

recipe=$top/recipes/grebe.yaml
unzip -qo out/grebe/grebe.3mf -d package
it "the root relation leads to the model" [ "$(path package/_rels/.rels 'string(//*[local-name()="Relationship"]/@Target)')" = /3D/3dmodel.model ]
it "the model's kind is told" grep -q 'Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"' "package/[Content_Types].xml"
it "the model's elements are those of the core" [ "$(path package/3D/3dmodel.model 'namespace-uri(/*)')" = http://schemas.microsoft.com/3dmanufacturing/core/2015/02 ]
it "no zero has a sign" not grep -q '"-0\.0000"' package/3D/3dmodel.model
sed 's/^name:.*/name: "A < B \& > C"/' "$recipe" >marks.yaml
it "a name may hold what means something in XML" gives 0 order --solid marks.yaml
unzip -qo out/marks/marks.3mf -d marks
it "and comes back as it is" [ "$(path marks/3D/3dmodel.model 'string(//*[local-name()="metadata"][@name="Title"])')" = "A < B & > C" ]

# --- the same bytes; one generation -------------------------------------------------------------

TZ=Pacific/Chatham it "the same recipe on another clock" gives 0 order --solid --outlines -o again "$recipe"
it "gives the same bytes" diff -r out/grebe again/grebe
it "without the options" gives 0 order -o plain "$recipe"
it "none of it is there" [ ! -e plain/grebe/grebe.stl ] && [ ! -e plain/grebe/grebe.3mf ] && [ ! -e plain/grebe/outlines.svg ]
it "and the order is the same" diff -r -x '*.stl' -x '*.3mf' -x outlines.svg -x .plugwright plain/grebe again/grebe
it "what was made of this recipe stays" gives 0 order -o again "$recipe"
it "beside the order" [ -s again/grebe/grebe.stl ]
it "with a PDF" gives 0 order --pdf --html --solid --outlines -o again "$recipe"
for file in grebe.md grebe.pdf grebe.html grebe.stl grebe.3mf outlines.svg; do
    it "there is $file" [ -s again/grebe/$file ]
    it "and its place is printed" prints_line again/grebe/$file
done
sed 's/^name:.*/name: Another/' "$recipe" >grebe.yaml
it "an order of another design" gives 0 order --force -o again grebe.yaml
for file in grebe.stl grebe.3mf outlines.svg; do
    it "takes $file of the former away" [ ! -e again/grebe/$file ]
done
it "a body of a recipe with errors is not written" gives 1 order --solid -o wrong "$top/tests/golden/unknown-keys.yaml"
it "nor its folder" [ ! -e wrong ]
it "only orders have a solid" gives 2 check --solid "$recipe"

# --- what is not cut into it --------------------------------------------------------------------

cp "$top/recipes/workshop.yaml" . # which these three name
sed '/^joints:/,/^$/d' "$top/recipes/bittern.yaml" >whole.yaml
it "a plug without its joint" gives 0 order --solid whole.yaml
it "has the body of the one with it" cmp out/whole/whole.stl out/bittern/bittern.stl
sed '/halves: true/d; /^chambers:/,/^$/d; /^ballast:/,/^$/d' "$top/recipes/turnstone.yaml" >one.yaml
it "a plug in one piece" gives 0 order --solid one.yaml
it "has the body of the one in halves" cmp out/one/one.stl out/turnstone/turnstone.stl
sed '/^face:/,/^$/d' "$top/recipes/wagtail.yaml" >flat.yaml
it "a plug without its cup" gives 0 order --solid flat.yaml
it "has another body" not cmp -s out/flat/flat.stl out/wagtail/wagtail.stl

# --- other sections, and ends that are a point, an edge and a blade -------------------------------

# ends_in BACK BELLY WIDTH SECTION: grebe with that tail is sound, and its volume is the body's.
ends_in() {
    sed -E "s/(at: 100 %, *back: )[^,]*(, *belly: )[^,]*(, *width: )[^}]*/\1$1\2$2\3$3/
        s/section: .*/section: $4/; /place: tail/d" "$recipe" >ends.yaml
    "$program" order --solid -o ends ends.yaml >printed 2>said || { cat said && return 1; }
    admesh ends/ends/ends.stl >mesh && sound &&
        agree "$(mesh_says Volume)" "$(body_volume ends.yaml | awk '{print 1e3 * $1}')" 0.001
}
for section in "{shape: oval}" "{shape: square}" "{shape: rounded, radius: 4 mm}"; do
    it "$section: a tail that is a point" ends_in "0 mm" "0 mm" "0 mm" "$section"
    it "$section: a tail that is an edge" ends_in "0 mm" "0 mm" "5 mm" "$section"
    it "$section: a tail that is a blade" ends_in "3 mm" "3 mm" "0 mm" "$section"
    it "$section: a tail that is a face" ends_in "3 mm" "3 mm" "5 mm" "$section"
done

finish
