/* Every rule of grammar/rules.def: a recipe that breaks it, and the place that is blamed. */
#include "recipe_text.h"

#define BODY(length, stations, section) \
    "body:\n  length: " length "\n  section: " section "\n  stations:\n" stations
#define STATION(at, back, belly, width) \
    "    - {at: " at ", back: " back ", belly: " belly ", width: " width "}\n"
#define NOSE   STATION("0 %", "10 mm", "10 mm", "20 mm")
#define TAIL   STATION("100 %", "10 mm", "10 mm", "20 mm")
#define HALVES BODY("100 mm\n  halves: true", NOSE TAIL, "{shape: square}")
#define RATTLE "drill: 5 mm, depth: 4 mm, holds: {name: balls, mass: 0.2 g}}]\n"
#define HARDWARE(tie, hangers) \
    "hardware:\n  wire: {diameter: 1 mm}\n  line tie: " tie "\n  hangers: " hangers "\n"
#define LIP(rest) "lip:\n  thickness: 2 mm\n  width: 20 mm\n  angle: 30 deg\n" rest
#define LIP_OF(length, angle)                                                                    \
    "lip: {thickness: 2 mm, width: 20 mm, shape: square, at: 10 mm, slot: 8 mm, length: " length \
    ", angle: " angle "}\n"
#define AIMED(depth) \
    "running: {diameter: 0.3 mm, aim: {depth: " depth ", out: 20 m, speed: 1 m/s}}\n"
#define JOINTS(at, more) \
    "joints: [{at: " at ", gap: 2 mm, angle: 20 deg, hinge: {name: pin, mass: 1 g}}" more "]\n"
#define SCREW      "{mass: 0.4 g, shank: 12 mm, diameter: 1.8 mm}"
#define STEP(text) "steps:\n  - " text "\n"

struct rule_case {
    struct recipe_parts parts;
    const char *at, *said; /* words that are blamed; "severity rule: message" */
};

static const struct rule_case cases[] = {
    {{.head = "recipe: 1\nname: Box\ndue: 2027-03-01\n"},
     "2027-03-01",
     "error due: the run is due on a date, but nothing says when it begins"},
    {{.prices = "prices: {wood: 5}\n"},
     "5}",
     "error currency: prices are given without a currency"},
    {{.head = "recipe: 1\nname: Box\ncurrency: eur\n"},
     "eur",
     "error currency: a currency is the three capital letters of ISO 4217"},
    {{.head = "recipe: 1\nname: Box\ncurrency: EU\n"},
     "EU",
     "error currency: a currency is the three capital letters of ISO 4217"},

    {{.body = BODY("100 mm", STATION("1 mm", "5 mm", "5 mm", "9 mm") TAIL, "{shape: oval}")},
     "1 mm",
     "error stations: the first station stands at the nose"},
    {{.body = BODY("100 mm",
                   NOSE STATION("60 mm", "5 mm", "5 mm", "9 mm")
                       STATION("6 cm", "4 mm", "4 mm", "8 mm") TAIL,
                   "{shape: oval}")},
     "6 cm",
     "error stations: stations run from nose to tail, each further aft than the one before"},
    {{.body = BODY("100 mm", NOSE STATION("99.9 mm", "5 mm", "5 mm", "9 mm"), "{shape: oval}")},
     "99.9 mm",
     "error stations: the last station stands at the body's length"},
    {{.body = BODY("100 mm", NOSE STATION("100.1 mm", "5 mm", "5 mm", "9 mm"), "{shape: oval}")},
     "100.1 mm",
     "error stations: the last station stands at the body's length"},
    {{.body = BODY("100 mm", NOSE STATION("100 %", "3 mm", "-4 mm", "9 mm"), "{shape: oval}")},
     "3 mm",
     "error outline: back and belly cross: their sum is negative"},

    {{.body = BODY("100 mm", NOSE TAIL, "{shape: rounded}")},
     "rounded",
     "error section: a rounded section needs its radius"},
    {{.body = BODY("100 mm", NOSE TAIL, "{shape: square, radius: 6 mm}")},
     "6 mm",
     "error section: only a rounded section has a radius"},

    {{.lip = LIP("  shape: taper\n  length: 30 mm\n  at: 10 mm\n  slot: 8 mm\n")},
     "taper",
     "error lip: a tapered lip needs its width at the tip"},
    {{.lip = LIP("  shape: round\n  tip: 12 mm\n  length: 30 mm\n  at: 10 mm\n  slot: 8 mm\n")},
     "12 mm",
     "error lip: only a tapered lip has a tip"},
    {{.lip = LIP("  shape: square\n  length: 8 mm\n  at: 10 mm\n  slot: 8.0 mm\n")},
     "8.0 mm",
     "error lip: the slot swallows the whole lip"},
    {{.lip = LIP("  shape: round\n  length: 17.9 mm\n  at: 10 mm\n  slot: 8 mm\n")},
     "17.9 mm",
     "error lip: a round lip reaches at least half its width beyond the slot"},
    {{.lip = LIP("  shape: square\n  length: 30 mm\n  at: 101 mm\n  slot: 8 mm\n")},
     "101 mm",
     "error position: the lip's slot lies beyond the body"},

    {{.hardware = HARDWARE("{place: lip, at: 4 mm}", "[]")},
     "lip,",
     "error line-tie: there is no lip to tie the line to"},
    {{.hardware = HARDWARE("{place: back}", "[]")},
     "back}",
     "error line-tie: a tie on back, belly or lip needs to know at what distance"},
    {{.hardware = HARDWARE("{place: nose, at: 5 mm}", "[]")},
     "5 mm",
     "error line-tie: a tie in the nose has no distance of its own"},
    {{.hardware = HARDWARE("{place: lip, at: 22.1 mm}", "[]"),
      .lip = LIP("  shape: square\n  length: 30 mm\n  at: 10 mm\n  slot: 8 mm\n")},
     "22.1 mm",
     "error position: the tie lies beyond the part of the lip that stands out"},
    {{.hardware = HARDWARE("{place: belly, at: 100.5 mm}", "[]")},
     "100.5 mm",
     "error position: the tie lies beyond the body"},
    {{.hardware = HARDWARE("{place: lip, at: 4 mm, depth: 12 mm}", "[]"),
      .lip = LIP("  shape: square\n  length: 30 mm\n  at: 10 mm\n  slot: 8 mm\n")},
     "lip,",
     "warning line-tie: a tie on the lip has no bore: its depth and pilot are not used"},
    {{.hardware = HARDWARE("{place: lip, at: 4 mm, pilot: 2 mm}", "[]"),
      .lip = LIP("  shape: square\n  length: 30 mm\n  at: 10 mm\n  slot: 8 mm\n")},
     "lip,",
     "warning line-tie: a tie on the lip has no bore: its depth and pilot are not used"},

    {{.hardware = HARDWARE("{place: nose}", "[{place: belly, hook: {mass: 1 g}}]")},
     "belly,",
     "error hanger: a hanger on back or belly needs to know at what distance"},
    {{.hardware = HARDWARE("{place: nose}", "[{place: tail, at: 95 mm, hook: {mass: 1 g}}]")},
     "95 mm",
     "error hanger: a hanger in the tail has no distance of its own"},
    {{.hardware = HARDWARE("{place: nose}", "[{place: belly, at: 4 in, hook: {mass: 1 g}}]")},
     "4 in",
     "error position: the hanger lies beyond the body"},
    {{.hardware = HARDWARE("{place: nose}", "[{place: tail}]")},
     "tail}",
     "warning hook: no hook hangs here: none is weighed"},
    {{.hardware = HARDWARE("{place: nose}", "[{place: tail, hook: {size: 9/0}}]")},
     "hook:",
     "error hook: this hook's mass is not known"},
    {{.hardware = HARDWARE("{place: nose}", "[{place: tail, hook: {}}]")},
     "hook:",
     "error hook: this hook's mass is not known"},

    {{.ballast = "ballast: {bores: [{at: 10.1 cm, drill: 6 mm, load: []}]}\n"},
     "10.1 cm",
     "error position: the bore lies beyond the body"},
    {{.ballast = "ballast: {bores: [{drill: 6 mm, load: []}]}\n"},
     "6 mm",
     "error bore: a bore from belly, back or flank needs to know at what distance"},
    {{.ballast =
          "ballast: {bores: [{from: tail, at: 48 mm, drill: 6 mm, depth: 9 mm, load: []}]}\n"},
     "48 mm",
     "error bore: a bore from nose or tail begins at that end, and has no distance of its own"},
    {{.ballast = "ballast: {bores: [{from: nose, drill: 6 mm, load: []}]}\n"},
     "6 mm",
     "error bore: a bore from nose or tail needs its depth"},
    {{.ballast = "ballast: {bores: [{at: 48 mm, drill: 6 mm, load: []}]}\n",
      .shop = "shop: {bore: square}\n"},
     "6 mm",
     "error bore: a bore into the square block needs its depth"},
    {{.ballast = "ballast: {bores: [{from: back, at: 48 mm, up: 3 mm, drill: 6 mm, load: []}]}\n"},
     "3 mm",
     "error bore: a bore from belly or back goes straight through the datum line, and has no "
     "height "
     "of its own"},
    {{.ballast = "chambers: [{drill: 6 mm, depth: 9 mm, holds: {name: balls, mass: 1 g}}]\n"},
     "6 mm",
     "error chamber: a chamber from belly, back or flank needs to know at what distance"},
    {{.ballast = "chambers: [{from: tail, at: 48 mm, drill: 6 mm, depth: 9 mm, holds: {name: "
                 "balls, mass: 1 g}}]\n"},
     "48 mm",
     "error chamber: a chamber from nose or tail begins at that end, and has no distance of its "
     "own"},
    {{.ballast = "chambers: [{at: 48 mm, up: 3 mm, drill: 6 mm, depth: 9 mm, holds: {name: balls, "
                 "mass: 1 g}}]\n"},
     "3 mm",
     "error chamber: a chamber from belly or back goes straight through the datum line, and has no "
     "height of its own"},
    {{.ballast =
          "chambers: [{at: 10.1 cm, drill: 6 mm, depth: 9 mm, holds: {name: balls, mass: 1 g}}]\n"},
     "10.1 cm",
     "error position: the chamber lies beyond the body"},
    {{.ballast = "chambers: [{at: 48 mm, drill: 6 mm, depth: 9 mm, stopper: 9.5 mm, holds: {name: "
                 "balls, mass: 1 g}}]\n"},
     "9.5 mm",
     "error chamber: the stopper takes all of the chamber's depth"},
    {{.ballast = "chambers: [{at: 48 mm, drill: 6 mm, depth: 9 mm, filler: 1.3 g/cm3, holds: "
                 "{name: balls, mass: 1 g}}]\n"},
     "1.3 g/cm3",
     "error chamber: no filler closes this chamber"},
    {{.ballast = "ballast: {bores: [{at: 5 cm, drill: 6 mm, load: [{count: 2}]}]}\n"},
     "{count: 2}",
     "error piece: a piece is either a ball by its diameter or a mass"},
    {{.ballast = "ballast: {bores: [{at: 5 cm, drill: 6 mm, load: [{ball: 5 mm, mass: 1 g}]}]}\n"},
     "5 mm",
     "error piece: a piece is either a ball by its diameter or a mass"},
    {{.ballast = "ballast: {bores: [{at: 5 cm, drill: 6 mm, load: [{mass: 1 g, count: 1.5}]}]}\n"},
     "1.5",
     "error piece: pieces are counted in whole numbers"},
    {{.ballast = "ballast: {bores: [{at: 5 cm, drill: 6 mm, load: [{ball: 6.21 mm}]}]}\n"},
     "6.21 mm",
     "error ball: the ball is wider than the drill by more than 0.2 mm"},
    {{.ballast = "ballast: {material: brass, bores: [{at: 5 cm, drill: 6 mm, load: [{ball: 6.01 "
                 "mm}]}]}\n"},
     "6.01",
     "error ball: a ball of hard metal is wider than the drill"},
    {{.ballast = "ballast: {pieces: [{count: 3}]}\n"},
     "{count: 3}",
     "error piece: a piece is either a ball by its diameter or a mass"},
    {{.ballast = "ballast: {pieces: [{mass: 1 g, count: 5/2}]}\n"},
     "5/2",
     "error piece: pieces are counted in whole numbers"},
    {{.ballast = "ballast: {bores: [{at: 5 cm, drill: 6 mm, load: solve}]}\n"},
     "solve",
     "error solve: there is no aim to solve this load for"},
    {{.ballast = "ballast: {aim: {reserve: 9 %, attitude: 3 deg}, bores: [\n"
                 "  {at: 3 cm, drill: 6 mm, load: solve}, {at: 5 cm, drill: 6 mm, load: solve},\n"
                 "  {at: 7 cm, drill: 6 mm, load: \"solve\"}]}\n"},
     "\"solve\"",
     "error solve: at most two loads can be solved"},
    {{.ballast =
          "ballast: {aim: {reserve: 9 %}, bores: [\n"
          "  {at: 3 cm, drill: 6 mm, load: solve}, {at: 5 cm, drill: 6 mm, load: 'solve'}]}\n"},
     "'solve'",
     "error solve: two loads are to be solved with one aim alone"},
    {{.ballast =
          "ballast: {aim: {attitude: 2 deg}, bores: [\n"
          "  {at: 3 cm, drill: 6 mm, load: solve}, {at: 5 cm, drill: 6 mm, load: 'solve'}]}\n"},
     "'solve'",
     "error solve: two loads are to be solved with one aim alone"},
    {{.ballast = "ballast:\n  aim: {}\n"}, "aim", "warning aim: the aim says nothing"},
    {{.ballast = "ballast:\n  aim: {reserve: -5 %, sink: 6 s/m}\n"},
     "6 s/m",
     "error aim: reserve and sink aim at the same mass"},

    {{.eyes = "eyes: {size: 6 mm, at: 200 mm}\n"},
     "200 mm",
     "error position: the eyes lie beyond the body"},
    {{.finish = "finish: {topcoat: {kind: epoxy, recoat: {after: 5 h, before: 4 h}}}\n"},
     "4 h",
     "error recoat: the recoat window closes before it opens"},
    {{.finish = "finish: {topcoat: {kind: varnish, mix: '2:1'}}\n"},
     "'2:1'",
     "error mix: a topcoat of this kind comes in one part"},
    {{.finish = "finish: {topcoat: {kind: lacquer, pot life: 20 min}}\n"},
     "lacquer",
     "warning mix: a topcoat of this kind is not mixed: its resin, hardener and pot life are not "
     "used"},
    {{.finish = "finish: {topcoat: {kind: epoxy, turn: 5 h, recoat: {after: 3 h}}}\n"},
     "5 h",
     "error turn: the wheel turns longer than until the next coat may follow"},
    {{.finish = "finish: {topcoat: {kind: epoxy, cure: 24 h, fish: 23 h}}\n"},
     "23 h",
     "error cure: the topcoat may be fished before it may be handled"},
    {{.shop = "shop:\n  open: {mon: []}\n"}, "{mon: []}", "error open: the shop is never open"},
    {{.measured = "measured: {sealed: [15 g, 16 g]}\n"},
     "[15 g, 16 g]",
     "error measured: more plugs were weighed than are made"},
    {{.measured = "measured: {blank: [15 g, 16 g]}\n"},
     "[15 g",
     "error measured: more bodies were weighed than plugs are made"},
    {{.measured = "measured: {float: {nose: 2 mm}}\n"},
     "2 mm",
     "error measured: two places fix a waterline"},
    {{.measured = "measured: {float: {back: [20 mm, 20.5 mm]}}\n"},
     "[20 mm",
     "error measured: two readings in one place fix no waterline"},
    {{.measured = "measured: {float: {back: 20 mm, belly: 120 mm}}\n"},
     "20 mm, belly",
     "error position: a reading lies beyond the body"},
    {{.running = "running: {diameter: 0.3 mm, out: [20 m, 20 m]}\n"},
     "[20 m",
     "error running: lengths of line are listed from the shortest to the longest"},
    {{.measured = "measured: {running: {speed: 1 m/s, out: 30 m, depth: 2 m}}\n"},
     "2 m}",
     "error running: a depth was measured, but nothing says on which line"},
    {{.running = "running: {diameter: 0.3 mm}\n",
      .measured = "measured: {running: {speed: 1 m/s, out: 30 m, depth: 30 m}}\n"},
     "30 m}}",
     "error running: a plug runs less deep than its line is long"},
    {{.lip = LIP_OF("solve", "solve")},
     "solve}",
     "error solve: length and angle cannot both be solved"},
    {{.lip = LIP_OF("solve", "40 deg")},
     "solve,",
     "error solve: there is no aim to solve the lip's length for"},
    {{.lip = LIP_OF("30 mm", "solve")},
     "solve}",
     "error solve: there is no aim to solve the lip's angle for"},
    {{.lip = "", .running = AIMED("2 m")},
     "2 m,",
     "error running: a plug without a lip has nothing to meet a depth with"},
    {{.lip = LIP_OF("30 mm", "40 deg"), .running = AIMED("2 m")},
     "2 m,",
     "error running: there is an aim, and nothing to solve for it"},
    {{.lip = LIP_OF("solve", "40 deg"), .running = AIMED("20 m")},
     "20 m,",
     "error running: a plug runs less deep than its line is long"},
    {{.hardware = HARDWARE("{place: lip, at: 4 mm, screw: " SCREW "}", "[]"),
      .lip = LIP_OF("30 mm", "40 deg")},
     "screw: {mass: 0.4 g",
     "error screw: a screw eye has no hold in a lip"},
    {{.hardware = HARDWARE("{place: nose, depth: 9 mm, screw: " SCREW "}", "[]")},
     "9 mm",
     "error screw: a screw eye goes in as deep as its shank is long"},
    {{.hardware =
          HARDWARE("{place: nose, screw: {mass: 0.1 g, shank: 12 mm, diameter: 2 mm}}", "[]")},
     "screw: {mass: 0.1 g",
     "error screw: a screw eye weighs more than its shank alone"},
    {{.hardware = HARDWARE("{place: nose}",
                           "[{place: tail, depth: 9 mm, hook: {size: '6'}, screw: " SCREW "}]")},
     "9 mm",
     "error screw: a screw eye goes in as deep as its shank is long"},
    {{.hardware = HARDWARE("{place: nose}", "[{place: tail, hook: {size: '6'}, screw: {mass: 0.1 "
                                            "g, shank: 12 mm, diameter: 2 mm}}]")},
     "screw: {mass: 0.1 g",
     "error screw: a screw eye weighs more than its shank alone"},
    {{.lip = JOINTS("120 mm", "")}, "120 mm", "error position: the joint lies beyond the body"},
    {{.lip = JOINTS("60 mm",
                    ", {at: 50 mm, gap: 2 mm, angle: 20 deg, hinge: {name: pin, mass: 1 g}}")},
     "50 mm",
     "error joint: joints are listed from the nose aft"},
    {{.lip = JOINTS("60 mm", ""), .hardware = HARDWARE("{place: nose}\n  through: {}", "[]")},
     "60 mm",
     "error joint: a joint would cut the through wire"},
    {{.lip =
          JOINTS("30 mm", ", {at: 70 mm, gap: 2 mm, angle: 20 deg, hinge: {name: pin, mass: 1 g}}"),
      .running = "running: {diameter: 0.3 mm}\n"},
     "70 mm",
     "error joint: how a plug of more than two parts runs is not computed"},
    {{.lip = "face: {cup: {width: 10 mm, depth: 6 mm}}\n"},
     "6 mm",
     "error cup: a spherical cup is no deeper than half its width"},
    {{.lip = "face: {cup: {width: 19 mm, depth: 4 mm}}\n"},
     "19 mm",
     "error cup: the nose is too small for the mouth of the cup, with a rim all round"},
    {{.body = HALVES}, "true", "error halves: nothing lies between the halves"},
    {{.body = HALVES, .hardware = HARDWARE("{place: nose}\n  through: {from: back}", "[]")},
     "back}",
     "error halves: in halves no kerf is sawn: the wire lies in a groove between them"},
    {{.body = HALVES,
      .ballast = "ballast: {bores: [{from: inside, at: 60 mm, drill: 5 mm, load: [{mass: 1 g}]}]}\n"
                 "chambers: [{from: inside, at: 40 mm, " RATTLE},
     "inside, at: 60",
     "error halves: a load between the halves cannot be trimmed after the float test"},
    {{.ballast = "chambers: [{from: inside, at: 40 mm, " RATTLE},
     "inside",
     "error halves: only a body in halves can be bored from inside"},
    {{.body = HALVES, .ballast = "chambers: [{from: inside, stopper: 2 mm, at: 40 mm, " RATTLE},
     "inside",
     "error halves: a chamber from inside is closed by the other half"},
    {{.hardware = HARDWARE("{place: belly, at: 20 mm}\n  through: {}", "[]")},
     "belly, at: 20",
     "error through: a through wire begins in the nose"},
    {{.hardware = HARDWARE("{place: nose, depth: 12 mm}\n  through: {}", "[]")},
     "nose",
     "error through: a through wire makes the eyes of nose and tail: they have no bore of their "
     "own"},
    {{.hardware = HARDWARE("{place: nose}\n  through: {}",
                           "[{place: tail, pilot: 3 mm, hook: {size: '6'}}]")},
     "tail",
     "error through: a through wire makes the eyes of nose and tail: they have no bore of their "
     "own"},
    {{.hardware = HARDWARE("{place: nose}\n  through: {}",
                           "[{place: belly, at: 50 mm, depth: 9 mm, hook: {size: '6'}}]")},
     "9 mm",
     "error through: the opening of a hanger on a through wire is as deep as the wire lies"},
    {{.hardware = HARDWARE("{place: nose}\n  through: {kerf: 0.8 mm}", "[]")},
     "0.8 mm",
     "error through: the wire does not go into its kerf"},
    {{.hardware = "hardware:\n  line tie: {place: nose}\n"},
     "hardware",
     "error wire: eyes are twisted from wire, and none is given"},
    {{.hardware =
          HARDWARE("{place: nose}", "[{place: tail, hook: {size: '6'}, ring: {size: '40'}}]")},
     "ring: {size: '40'",
     "error ring: this ring's mass is not known"},
    {{.steps = "fittings:\n  - {name: skirt, at: 120 mm, mass: 1 g}\n"},
     "120 mm",
     "error position: the fitting lies beyond the body"},
    {{.steps = "fittings:\n  - {name: skirt, at: tail, mass: 1 g, price: 2}\n"},
     "2}",
     "error currency: a price is given without a currency"},
    {{.steps = "fittings:\n  - {name: float, at: tail, mass: 1 g, volume: 11 ml}\n"},
     "11 ml",
     "warning fitting: the fitting displaces more than ten times its mass in water"},
    {{.steps = STEP("{skip: sand, change: seal}")},
     "{skip",
     "error steps: a step says exactly one of add, change, skip and order"},
    {{.steps = STEP("{say: hello}")},
     "{say",
     "error steps: a step says exactly one of add, change, skip and order"},
    {{.steps = STEP("{add: wax, skip: sand}")},
     "{add",
     "error steps: a step says exactly one of add, change, skip and order"},
    {{.steps = STEP("{skip: seal, caution: [epoxy]}")},
     "[epoxy]",
     "error steps: only an added or changed step has a caution"},
    {{.steps = STEP("{change: seal, because: so}")},
     "so}",
     "error steps: only a skipped step has a because"},
};

enum { CASES = sizeof cases / sizeof *cases };

static void every_rule_blames_what_breaks_it(void **state) {
    struct bench *b = *state;
    for (int i = 0; i < CASES; i++) {
        bench_recipe(b, cases[i].parts);
        bench_expect(b, cases[i].at, cases[i].said);
    }
}

/* A row that is added to the rules without a case here fails this test; those of a workshop have
 * theirs in test_workshop.c. */
static void no_rule_is_without_a_case(void **state) {
    struct bench *b = *state;
    static const char *const rows[] = {
#define RULE(subject, predicate, member, level, rule, message, hint) rule ": " message,
#include "rules.def"
    };
    for (size_t r = 0; r < sizeof rows / sizeof *rows; r++) {
        bool covered = strncmp(rows[r], "workshop: ", strlen("workshop: ")) == 0;
        for (int i = 0; i < CASES; i++) covered |= strstr(cases[i].said, rows[r]) != NULL;
        if (!covered) print_error("%s\n", rows[r]);
        assert_true(covered);
    }
    (void)b;
}

/* What stands exactly on the edge of a rule is still allowed. */
static void what_stands_on_the_edge_of_a_rule_is_allowed(void **state) {
    static const struct recipe_parts edges[] = {
        /* the last station a thousandth of a millimetre off: 1 um (docs/physics.md, 1.3) */
        {.body =
             BODY("100 mm", NOSE STATION("99.9991 mm", "5 mm", "5 mm", "9 mm"), "{shape: oval}")},
        {.body = BODY("4 in", NOSE STATION("101.6 mm", "5 mm", "5 mm", "9 mm"), "{shape: oval}")},
        {.body = BODY("100 mm", NOSE STATION("100 %", "4 mm", "-4 mm", "0 mm"), "{shape: oval}")},
        {.lip = LIP("  shape: round\n  length: 18 mm\n  at: 10 mm\n  slot: 8 mm\n")},
        {.lip = LIP("  shape: square\n  length: 30 mm\n  at: 100 mm\n  slot: 8 mm\n")},
        {.hardware = HARDWARE("{place: lip, at: 22 mm}", "[]"),
         .lip = LIP("  shape: square\n  length: 30 mm\n  at: 10 mm\n  slot: 8 mm\n")},
        {.ballast = "ballast: {bores: [{at: 5 cm, drill: 6 mm, load: [{ball: 6.2 mm}]}]}\n"},
        {.ballast = "ballast: {bores: [{at: 100 %, drill: 6 mm, load: []}]}\n"},
        {.ballast =
             "ballast: {aim: {reserve: 9 %, attitude: 3 deg}, bores: [\n"
             "  {at: 3 cm, drill: 6 mm, load: solve}, {at: 5 cm, drill: 6 mm, load: solve},\n"
             "  {at: 7 cm, drill: 6 mm, load: []}]}\n"},
        {.ballast = "ballast: {aim: {reserve: 9 %, attitude: 3 deg}, bores: [\n"
                    "  {at: 3 cm, drill: 6 mm, load: solve}]}\n"},
        {.finish = "finish: {topcoat: {kind: epoxy, recoat: {after: 4 h, before: 4 h}}}\n"},
        {.finish = "finish: {topcoat: {kind: epoxy, turn: 3 h, recoat: {after: 3 h}}}\n"},
        {.finish = "finish: {topcoat: {kind: epoxy, coats: 1, turn: 5 h}}\n"},
        {.hardware = HARDWARE("{place: nose}", "[{place: tail, hook: {size: 9/0, mass: 30 g}}]")},
        {.head = "recipe: 1\nname: Box\ncurrency: EUR\n", .prices = "prices: {wood: 5}\n"},
        {.prices = "prices: {}\n"},
    };
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof edges / sizeof *edges; i++) {
        bench_good(b, edges[i]);
        assert_string_equal(bench_said(b), "");
    }
}

/* Every size of the language is known, of its own kind, and none beside. */
static void sizes_of_hooks_are_known_by_kind(void **state) {
    static const char *const trebles[] = {"14",  "12",  "10",  "8",   "6",   "5",
                                          "4",   "3",   "2",   "1",   "1/0", "2/0",
                                          "3/0", "4/0", "5/0", "6/0", "7/0", "8/0"};
    static const char *const singles[] = {"8",   "6",   "4",   "2",   "1",   "1/0",
                                          "2/0", "3/0", "4/0", "5/0", "6/0", "7/0"};
    const char *hardware = HARDWARE("{place: nose}", "[{place: tail, hook: {%s: '%s'}}]");
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof trebles / sizeof *trebles; i++)
        bench_good(b, PARTS(.hardware = arena_printf(&b->arena, hardware, "size", trebles[i])));
    for (size_t i = 0; i < sizeof singles / sizeof *singles; i++)
        bench_good(b, PARTS(.hardware = arena_printf(&b->arena, hardware, "kind: single, size",
                                                     singles[i])));
    bench_recipe(b,
                 PARTS(.hardware = arena_printf(&b->arena, hardware, "kind: single, size", "14")));
    assert_int_equal(bench_count(b, "hook"), 1);
}

/* One slip, one message: rules leave alone what could not be read. */
static void a_value_that_could_not_be_read_breaks_no_rule_as_well(void **state) {
    struct bench *b = *state;
    bench_recipe(b, PARTS(.body = BODY("100", NOSE TAIL, "{shape: round, radius: 6 mm}")));
    assert_string_equal(bench_said(b),
                        "5:11 error value: a length is due, '100' has no unit\n"
                        "6:20 error value: 'round' is no shape that is known here\n");
    bench_recipe(b, PARTS(.hardware = HARDWARE("{place: top}", "[]")));
    bench_expect(b, "top", "error value: 'top' is no place that is known here");
    bench_recipe(
        b, PARTS(.ballast = "ballast: {bores: [{at: 5 cm, drill: 6, load: [{ball: 9 mm}]}]}\n"));
    bench_expect(b, "6, load", "error value: a drill size is due, '6' has no unit");
    bench_recipe(b, PARTS(.ballast = "ballast: {aim: {reserv: 9 %}, bores: [\n"
                                     "  {at: 5 cm, drill: 6 mm, load: solve}]}\n"));
    bench_expect(b, "reserv", "error unknown-key: unknown key 'reserv' in the aim");
    bench_recipe(b, PARTS(.ballast = "ballast: {aim: 9 %, bores: [\n"
                                     "  {at: 5 cm, drill: 6 mm, load: solve}]}\n"));
    bench_expect(b, "9 %", "error node-kind: 'aim' has keys of its own, each with its value");
    bench_recipe(
        b, PARTS(.hardware = HARDWARE("{place: lip, at: 4 mm}", "[]"), .lip = "lip: 30 mm\n"));
    bench_expect(b, "30 mm", "error node-kind: 'lip' has keys of its own, each with its value");
    bench_recipe(b, PARTS(.hardware = HARDWARE("{place: lip, at: 4 mm}", "[]"),
                          .lip = LIP("  shape: square\n  length: 30\n  at: 9 mm\n  slot: 8 mm\n")));
    bench_expect(b, "30\n", "error value: a length is due, '30' has no unit");
}

static void rules_are_asked_of_every_item_of_a_list(void **state) {
    struct bench *b = *state;
    bench_recipe(
        b, PARTS(.hardware =
                     HARDWARE("{place: nose}", "[{place: belly}, {place: tail}, {place: back}]"),
                 .ballast = "ballast:\n  bores:\n"
                            "    - {at: 50 mm, drill: 6 mm, load: [{ball: 9 mm}, {ball: 8 mm}]}\n"
                            "    - {at: 70 mm, drill: 8 mm, load: [{ball: 9 mm}]}\n"));
    assert_int_equal(bench_count(b, "hanger"), 2);
    assert_int_equal(bench_count(b, "ball"), 3);
    assert_int_equal(bench_count(b, "hook"), 3);
    assert_int_equal(b->diags.count, 8);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(every_rule_blames_what_breaks_it),
        BENCH_TEST(no_rule_is_without_a_case),
        BENCH_TEST(what_stands_on_the_edge_of_a_rule_is_allowed),
        BENCH_TEST(sizes_of_hooks_are_known_by_kind),
        BENCH_TEST(a_value_that_could_not_be_read_breaks_no_rule_as_well),
        BENCH_TEST(rules_are_asked_of_every_item_of_a_list),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
