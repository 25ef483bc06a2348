#!/bin/bash
# The shaped body and the outlines for machines, judged from outside: a mesh tool, an archiver, an XML
# reader.
. "$(dirname "$0")/shared.sh"
needs admesh unzip xmllint awk
recipes=$top/recipes
cd "$scratch" || exit 2

it "bodies and outlines are written beside all orders" gives 0 order --solid --outlines -o out \
    "$recipes"/*.yaml

# sound FILE: closed, one part, nothing to mend.
sound() {
    LC_ALL=C admesh "$1" >mesh 2>&1 &&
        awk '/All facets connected|No unconnected|All facets|already|no unconnected/ {next}
            /Number of parts/ {parts = $5}
            /Degenerate facets/ {bad += $4} /Edges fixed/ {bad += $4} /Facets removed/ {bad += $4}
            /Facets added/ {bad += $4} /Facets reversed/ {bad += $4} /Backwards edges/ {bad += $4}
            /Facets with 1 disconnected edge/ {bad += $6 + $7}
            /Facets with 2 disconnected edges/ {bad += $6 + $7}
            /Facets with 3 disconnected edges/ {bad += $6 + $7}
            END {exit !(parts == 1 && bad == 0)}' mesh
}

volume() { LC_ALL=C admesh "$1" 2>/dev/null | awk -F: '/Volume/ {print $3 + 0}'; }

# as_computed NAME CUT: the mesh's volume is the body's, of which CUT mm3 were taken out, within 0.1 %.
as_computed() {
    local due
    "$program" weigh --json "$recipes/$1.yaml" 2>/dev/null >report
    due=$(awk -F'[:,]' '/"volume_cm3"/ {print 1000 * $2; exit}' report)
    awk -v a="$(volume "out/$1/solid.stl")" -v b="$due" -v cut="$2" \
        'BEGIN {d = a - (b + cut); exit !(a > 0 && b > 0 && (d < 0 ? -d : d) <= 0.001 * b)}' ||
        { echo "$1: $(volume "out/$1/solid.stl"), computed $due, cut $2" && return 1; }
}

# The cup of 12 mm and 3 mm is a cap of a sphere: pi h (3 a^2 + h^2) / 6.
for recipe in "$recipes"/*.yaml; do
    name=$(basename "$recipe" .yaml)
    cut=0
    [ "$name" = wagtail ] && cut=$(awk 'BEGIN {print 3.14159265 * 3 * (3 * 36 + 9) / 6}')
    it "the mesh of $name is sound" sound "out/$name/solid.stl"
    it "its volume is the body's" as_computed "$name" "$cut"
done

it "the package opens" ends 0 unzip -tqq out/grebe/solid.3mf
it "it holds what the format asks for" ends 0 unzip -Z1 out/grebe/solid.3mf
for part in '[Content_Types].xml' _rels/.rels 3D/3dmodel.model; do
    it "$part is in it" prints_line "$part"
done
mkdir package && (cd package && unzip -qq ../out/grebe/solid.3mf)
it "its parts are well-formed" ends 0 xmllint --noout package/3D/3dmodel.model package/_rels/.rels \
    'package/[Content_Types].xml'
count() { grep -c "$1" package/3D/3dmodel.model; }
faces=$(LC_ALL=C admesh out/grebe/solid.stl 2>/dev/null | awk -F: '/Number of facets/ {print $2 + 0}')
it "it has the faces of the other file" [ "$(count '<triangle ')" = "$faces" ]
it "the same recipe gives the same package" gives 0 order --solid -o again "$recipes/grebe.yaml"
it "byte by byte" cmp out/grebe/solid.3mf again/grebe/solid.3mf
TZ=Asia/Tokyo "$program" order --solid -o far "$recipes/grebe.yaml" >/dev/null
it "in every zone" cmp out/grebe/solid.3mf far/grebe/solid.3mf

outlines=out/grebe/outlines.svg
it "outlines are well-formed" ends 0 xmllint --noout $outlines
it "they are lines alone" [ "$(grep -cE '<(text|image|pattern|use)|fill="[^n]' $outlines)" = 0 ]
it "in millimetres" grep -q 'width="107mm"' $outlines
it "a plug without a lip has no lip to cut" [ "$(grep -o '<path' out/teal/outlines.svg | wc -l)" -lt \
    "$(grep -o '<path' $outlines | wc -l)" ]
it "nobody who did not ask gets any" gives 0 order -o plain "$recipes/grebe.yaml"
it "so there is none" [ ! -e plain/grebe/solid.stl ]

finish
