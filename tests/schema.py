"""Whether the JSON Schemas and `check` agree: an independent validator (python3-jsonschema) reads
recipes as YAML 1.2 has them (core schema), the compiler as it does.  Prints a line for each thing
tried: + SENTENCE, or - SENTENCE.  Usage: schema.py PROGRAM TOP, in a scratch folder."""
import glob
import json
import os
import re
import subprocess
import sys

import jsonschema
import yaml

PROGRAM, TOP = sys.argv[1:]


class Core(yaml.SafeLoader):
    """Scalars of the core schema (YAML 1.2.2, 10.3.2), and no others."""


Core.yaml_implicit_resolvers = {}
for tag, pattern, first in (
    ("null", r"^(?:~|null|Null|NULL|)$", ["~", "n", "N", ""]),
    ("bool", r"^(?:true|True|TRUE|false|False|FALSE)$", list("tTfF")),
    ("int", r"^[-+]?[0-9]+$", list("-+0123456789")),
    ("float", r"^[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?$", list("-+.0123456789")),
):
    Core.add_implicit_resolver("tag:yaml.org,2002:" + tag, re.compile(pattern), first)


def tried(sentence, fine, found=None):
    print(("+ " if fine else "- ") + sentence)
    if not fine and found:
        print("  " + str(found)[:700], file=sys.stderr)


def schema(name):
    printed = subprocess.run([PROGRAM, "tables", name], stdout=subprocess.PIPE, check=True).stdout
    read = json.loads(printed)
    jsonschema.Draft7Validator.check_schema(read)
    return jsonschema.Draft7Validator(read)


RECIPE, WORKSHOP = schema("schema"), schema("workshop-schema")
tried("both are schemas by the draft that they name",
      all(v.schema["$schema"] == "http://json-schema.org/draft-07/schema#" for v in (RECIPE, WORKSHOP)))
tried("and have names of their own", RECIPE.schema["$id"] != WORKSHOP.schema["$id"])


def by_schema(text):
    """What the schema has against a text, or None."""
    try:
        read = yaml.load(text, Core)
    except yaml.YAMLError as fault:
        return str(fault)
    validator = WORKSHOP if isinstance(read, dict) and isinstance(read.get("workshop"), int) else RECIPE
    fault = jsonschema.exceptions.best_match(validator.iter_errors(read))
    return fault and "%s: %s" % ("/".join(map(str, fault.absolute_path)), fault.message)


def by_check(text, name="tried.yaml"):
    with open(name, "w", encoding="utf-8") as file:
        file.write(text)
    run = subprocess.run([PROGRAM, "check", name], stderr=subprocess.PIPE, check=False)
    return run.stderr.decode() if run.returncode else None


# --- whole recipes ---------------------------------------------------------------------------------

for path in sorted(glob.glob(TOP + "/recipes/*.yaml")):
    fault = by_schema(open(path, encoding="utf-8").read())
    tried("it takes " + os.path.basename(path), fault is None, fault)
for what in (["new", "heron"], ["new", "--workshop", "shed"]):
    text = subprocess.run([PROGRAM] + what, stdout=subprocess.PIPE, check=True).stdout.decode()
    tried("it takes the starter of " + what[-1], by_schema(text) is None, by_schema(text))

# --- one change at a time --------------------------------------------------------------------------

PLUG = """\
recipe: 1
name: A plug
make: 2
wood: {species: basswood, moisture: 8 %}
body:
  length: 110 mm
  section: {shape: oval}
  stations:
    - {at: 0 %, back: 3 mm, belly: 3 mm, width: 6 mm}
    - {at: 15 %, back: 9.5 mm, belly: 10 mm, width: 17 mm}
    - {at: 40 %, back: 12.5 mm, belly: 13.5 mm, width: 24 mm}
    - {at: 70 %, back: 9 mm, belly: 9.5 mm, width: 18 mm}
    - {at: 100 %, back: 2.5 mm, belly: 2.5 mm, width: 5 mm}
hardware:
  wire: {diameter: 1.2 mm}
  line tie: {place: nose}
  hangers:
    - {place: belly, at: 35 %, depth: 9 mm, hook: {size: "6"}}
    - {place: tail, hook: {size: "6"}}
ballast:
  bores:
    - {at: 50 %, drill: 6 mm, load: [{mass: 2 g, count: 1}]}
finish:
  seal: {kind: sanding sealer}
  paint:
    layers:
      - {colour: white, hex: "#F0F0E8", kind: opaque}
  topcoat: {kind: epoxy}
shop:
  start: 2026-12-05T09:00
  open: {mon: "18:00-21:30", sat: ["09:00-12:00", "13:00-17:00"]}
"""
LENGTH, MASS, DRILL, MOISTURE = "length: 110 mm", "mass: 2 g", "drill: 6 mm", "moisture: 8 %"
WIRE, MAKE, HOOK, SECTION = "diameter: 1.2 mm", "make: 2", 'hook: {size: "6"}}', "{shape: oval}"
START, OPEN, HEX = "2026-12-05T09:00", 'mon: "18:00-21:30"', '"#F0F0E8"'

GOOD = [
    (LENGTH, "length: 11 cm"), (LENGTH, "length: 4 3/8 in"), (LENGTH, "length: 4-3/8 in"),
    (LENGTH, "length: 4\u215c in"), (LENGTH, "length: 4 3/8\u2033"), (LENGTH, "length: 4 3/8\u201d"),
    (LENGTH, "length: '4 3/8\"'"), (LENGTH, "length: 4.375 IN"), (LENGTH, "length: 0.11 m"),
    (LENGTH, "length: 110mm"), (LENGTH, "length: 110\u00a0mm"), (LENGTH, "length: 110000 \u00b5m"),
    (LENGTH, "length: +110 mm"), (LENGTH, "length: 4331 thou"), (LENGTH, "length: 110 MM".lower()),
    (MASS, "mass: 2000 mg"), (MASS, "mass: 1/16 oz"), (MASS, "mass: \u00bd gr"), (MASS, "mass: 30 gr"),
    (MASS, "mass: 0.07 OZ"), (MASS, "mass: 0 lb 0.07 oz"), (MASS, "ball: 4 mm"),
    (DRILL, "drill: no 4"), (DRILL, "drill: letter A"), (DRILL, "drill: NO 4"), (DRILL, "drill: 1/4 in"),
    (WIRE, "diameter: 18 awg"), (WIRE, "diameter: 18 WM"), (WIRE, "diameter: .047 in"),
    (MOISTURE, "moisture: 8%"), (MOISTURE, "moisture: 8.5 %"), (MAKE, "make: '2'"), (MAKE, "make: 2.0"),
    ("place: nose}", "place: nose, eye: 3 mm}"), (HOOK, "hook: {size: 6}}"), (HOOK, "hook: {size: '#6'}}"),
    (HOOK, "hook: {size: 6, mass: 1 g}}"), (HOOK, "hook: none}"), (SECTION, "{shape: rounded, radius: 3 mm}"),
    ("section:", "halves: no\n  section:"), ("section:", "halves: false\n  section:"),
    (START, "2026-12-05T09:00:00"), (OPEN, "mon: ~"), (OPEN, "tue: [\"08:00-09:00\"]"),
    ("name: A plug", "name: 12"), ("name: A plug", "name: true"), ("name: A plug", "name: A plug\nnote: x"),
    ("kind: opaque}", "kind: opaque, thin: '2:1', dry: 1 h 30 min}"), ("kind: opaque}", "kind: opaque, dry: 1h30min}"),
    ("kind: opaque}", "kind: opaque, thin: 3 : 2}".replace(" : ", ":")), ("{kind: epoxy}", "{kind: epoxy, at: 70 degF}"),
    ("{kind: epoxy}", "{kind: epoxy, at: 21 \u00b0C}"), ("{kind: epoxy}", "{kind: epoxy, mix: 2:1 by mass}"),
    ("{kind: epoxy}", "{kind: epoxy, density: 72 lb/ft3}"), ("{kind: epoxy}", "{kind: epoxy, density: 1.15 g/cm\u00b3}"),
    ("load: [{mass: 2 g, count: 1}]", "load: [{mass: 2 g}]"), ("make: 2", "currency: EUR\nprices: {hook: 1.5, ring: '0.2'}"),
    ("at: 35 %", "at: 38 mm"), ("at: 35 %", "at: 1 1/2 in"),
]

BAD = [
    (LENGTH, "length: 110"), (LENGTH, "length: 110 g"), (LENGTH, "length: 110 milli"), (LENGTH, "length: 9,5 cm"),
    (LENGTH, "length: long"), (LENGTH, "length: [110 mm]"), (LENGTH, "length: {is: 110 mm}"), (LENGTH, "length:"),
    (LENGTH, "length: 110 mm 5"), (LENGTH, "length: 1e2 mm"), (LENGTH, "length: 110. mm"), (LENGTH, "length: 3/ in"),
    (LENGTH, "length: 110 M m"), (LENGTH, "length: true"), (LENGTH, "lenght: 110 mm"), (LENGTH, "halves: no"),
    (LENGTH, "length: 110 mm\n  depth: 3 mm"), (LENGTH, "length: solve"), (LENGTH, "length: 18 awg"),
    (MASS, "mass: 2"), (MASS, "mass: 2 mm"), (MASS, "mass: 2 ounces"), (MASS, "weight: 2 g"), (MASS, "mass: 2 g 3"),
    (DRILL, "drill: 4"), (DRILL, "drill: number 4"), (DRILL, "drill: letter AB"), (DRILL, "drill: no 100"),
    (WIRE, "diameter: 18"), (WIRE, "diameter: 18 gauge"), (WIRE, "diameter: 1.5 awg"), (WIRE, "gauge: 18 awg"),
    (MOISTURE, "moisture: 8"), (MOISTURE, "moisture: 0.08"), (MOISTURE, "moisture: 8 percent"),
    (MAKE, "make: two"), (MAKE, "make: 2.5"), (MAKE, "make: 0"), (MAKE, "make: -2"), (MAKE, "make: 2 plugs"),
    (MAKE, "make: [2]"), (MAKE, "make: 100000"), (SECTION, "oval"), (SECTION, "{shape: round}"), (SECTION, "{}"),
    (SECTION, "none"), ("section:", "halves: maybe\n  section:"), ("recipe: 1", "recipe: 2"), ("recipe: 1\n", ""),
    ("name: A plug\n", ""), ("name: A plug", "name: ''"), ("name: A plug", "name: " + "x" * 81),
    ("name: A plug", "name: [a]"), ("species: basswood, ", ""), ("place: nose}", "{}"[1:]),
    ("place: nose}", "place: front}"), ("at: 35 %", "at: 35"), ("at: 35 %", "at: middle"),
    (HOOK, "hook: treble}"), (HOOK, "hook: [6]}"), (HOOK, "hook: {size: '6', count: 4}}"), (HOOK, "hok: {size: 6}}"),
    (START, "5.12.2026 09:00"), (START, "2026-12-05"), (OPEN, 'monday: "18:00-21:30"'), (OPEN, "mon: 18-21"),
    (OPEN, "mon: {from: 18}"), (HEX, "F0F0E8"), (HEX, '"#F0F"'), (HEX, "white"), ("kind: opaque}", "kind: thick}"),
    (", kind: opaque}", "}"), ("kind: opaque}", "kind: opaque, coats: 0}"), ("kind: opaque}", "kind: opaque, thin: 2}"),
    ("kind: opaque}", "kind: opaque, dry: '1:30'}"), ("{kind: epoxy}", "{}"), ("{kind: epoxy}", "epoxy"),
    ("{kind: epoxy}", "{kind: epoxy, mix: 2 to 1}"), ("{kind: epoxy}", "{kind: epoxy, at: 21 C}"),
    ("load: [{mass: 2 g, count: 1}]", "load: 2 g"), ("load: [{mass: 2 g, count: 1}]", "load: {mass: 2 g}"),
    (", load: [{mass: 2 g, count: 1}]", ""), ("count: 1", "count: 1 piece"), ("shop:", "workshp:"),
    ("shop:", "Shop:"), ("hangers:", "hanger:"), ("make: 2", "prices: {hook: 1.5 EUR}\ncurrency: EUR"),
    ("width: 5 mm}", "width: 5 mm, hight: 3 mm}"), (", width: 5 mm}", "}"),
]

# What a schema cannot say: ranges of quantities, what depends on another key, what must exist.
CHECK_ALONE = [
    (LENGTH, "length: 2 mm"), (MASS, "mass: 4 kg"), (MOISTURE, "moisture: 90 %"), (SECTION, "{shape: rounded}"),
    ("basswood", "plywood"), (START, "2026-02-30T09:00"), (OPEN, 'mon: "21:30-18:00"'), (LENGTH, "length: 10 mm 10 cm"),
    ("at: 35 %", "at: 135 %"), (MAKE, "make: 2\nmake: 3"),
    ("{shape: oval}", "{shape: oval}\n  section: {shape: square}"),
]


def changed(old, new):
    if PLUG.count(old) < 1:
        sys.exit("nothing to change: " + old)
    return PLUG.replace(old, new, 1)


tried("the plug that is changed is sound", not by_check(PLUG) and not by_schema(PLUG), by_check(PLUG) or by_schema(PLUG))
for old, new in GOOD:
    text = changed(old, new)
    tried("both take %r" % new, not by_check(text) and not by_schema(text), (by_check(text), by_schema(text)))
for old, new in BAD:
    text = changed(old, new)
    tried("both refuse %r for %r" % (new, old), by_check(text) and by_schema(text), (by_check(text), by_schema(text)))
for old, new in CHECK_ALONE:
    text = changed(old, new)
    tried("check alone refuses %r" % new, by_check(text) and not by_schema(text), (by_check(text), by_schema(text)))

# --- variants and workshops ------------------------------------------------------------------------

with open("plug.yaml", "w", encoding="utf-8") as file:
    file.write(PLUG)
SHED = """\
workshop: 1
woods: [{name: garden lime, like: small-leaved lime, density: 480 kg/m3}]
paints: [{name: bone, kind: opaque, hex: "#E8E0D0"}]
topcoats: [{name: the clear one, kind: epoxy, coats: 2}]
shop: {wheel: 4}
"""
with open("shed.yaml", "w", encoding="utf-8") as file:
    file.write(SHED)
tried("both take the workshop", not by_check(SHED, "shed2.yaml") and not by_schema(SHED), by_schema(SHED))
for text, fine in (
    ("recipe: 1\nbase: plug.yaml\nname: B\n", True),
    ("recipe: 1\nbase: plug.yaml\nname: B\nbody: {length: 112 mm}\n", True),
    ("recipe: 1\nbase: plug.yaml\nname: B\nfinish: {topcoat: {coats: 3}}\n", True),
    ("recipe: 1\nbase: plug.yaml\nname: B\nballast: none\n", True),
    ("recipe: 1\nbase: plug.yaml\nname: B\nfinish: {paint: {layers: none}}\n", True),
    ("recipe: 1\nbase: plug.yaml\nname: B\nbody: {lengt: 112 mm}\n", False),
    ("recipe: 1\nbase: plug.yaml\nname: B\nbody: {length: 112}\n", False),
    ("recipe: 1\nbase: plug.yaml\nname: B\nhardware: {hangers: [{at: 30 %}]}\n", False),
    ("recipe: 1\nbase: none\nname: B\n", False),
    (PLUG.replace("{kind: epoxy}", "{name: the clear one}") + "workshop: shed.yaml\n", True),
    (PLUG.replace(', hex: "#F0F0E8", kind: opaque', "").replace("colour: white", "colour: bone")
     + "workshop: shed.yaml\n", True),
    (PLUG.replace("basswood", "garden lime") + "workshop: shed.yaml\n", True),
    (PLUG.replace("{kind: epoxy}", "{name: the clear one, cots: 2}") + "workshop: shed.yaml\n", False),
    (SHED.replace("wheel: 4", "wheel: four"), False),
    (SHED.replace("woods: [{name", "woods: [{nam"), False),
    (SHED.replace("kind: epoxy", "kind: glue"), False),
    (SHED + "finish: {}\n", False),
    (SHED + "stock: {hooks: [{size: 6, count: 12}]}\n", True),
    (SHED + "stock: {hooks: [{size: 6}]}\n", False),
):
    check, said = by_check(text), by_schema(text)
    tried("both %s %r" % ("take" if fine else "refuse", text[-60:]),
          fine == (not check) and fine == (not said), (check, said))

# --- what editors show -----------------------------------------------------------------------------

body = RECIPE.schema["definitions"]["body"]["properties"]
tried("a key has its description", "nose to tail" in body["length"]["description"])
tried("and its default", RECIPE.schema["definitions"]["wood"]["properties"]["moisture"]["default"] == "8 %")
shown = faults = 0
for validator in (RECIPE, WORKSHOP):
    parts = dict(validator.schema["definitions"], root=validator.schema)
    for name, part in parts.items():
        for key, field in part.get("properties", {}).items():
            for example in field.get("examples", []):
                shown += 1
                own = jsonschema.Draft7Validator(field, resolver=jsonschema.RefResolver.from_schema(validator.schema))
                if not own.is_valid(example):
                    faults += 1
                    print("  %s.%s: %r" % (name, key, example), file=sys.stderr)
tried("every example is one, by the schema", shown > 250 and not faults, "%d of %d are not" % (faults, shown))
print("+ all of it was tried")
