# A shipped recipe that names the shared workshop, without it: what it cannot do without is written in.
s/^workshop: workshop\.yaml$/currency: EUR/
s/{colour: white ground/&, kind: opaque, coats: 2/
s/{colour: silver flanks/&, kind: metallic/
/{colour: white ground/{/hex:/!s/}$/, hex: "#F3F2EC"}/;}
/{colour: silver flanks/{/hex:/!s/, where:/, hex: "#C9CFD2"&/;}
s/topcoat: {name: slow epoxy}/topcoat: {kind: epoxy, coats: 2}/
