/* Room between openings: against distances that can be worked out by hand, and against solids that
 * are sampled and then drawn together. */
#include "recipe_text.h"

#include "bodies.h"
#include "compute/plug/clearance.h"
#include "compute/plug/wall.h"
#include "compute/shape/section.h"

struct roomy {
    const struct recipe *recipe;
    struct plug plug;
    struct bore_fill fills[MAX_BORES];
    struct clearances c;
};

static struct roomy room(struct bench *b, struct recipe_parts parts) {
    struct roomy r = {.recipe = bench_good(b, parts)};
    r.plug = plug_of(&b->arena, r.recipe);
    for (int i = 0; r.recipe->ballast && i < r.recipe->ballast->bore_count; i++)
        r.fills[i] = bore_as_written(&r.plug, i);
    r.c = clearances_of(&r.plug, r.fills);
    return r;
}

static double between(const struct roomy *r, const char *one, const char *other) {
    for (int i = 0; i < r->c.pair_count; i++) {
        const struct clearance *pair = &r->c.pairs[i];
        struct name a = opening_name(&r->c.openings[pair->one]);
        struct name b = opening_name(&r->c.openings[pair->other]);
        if ((is_called(a, one) && is_called(b, other)) ||
            (is_called(b, one) && is_called(a, other)))
            return pair->distance;
    }
    print_error("no distance of %s to %s\n", one, other);
    fail();
    return 0;
}

static double distance_to(const struct roomy *r, int bore, const char *other) {
    return between(r, bore ? "bore 2" : "bore 1", other);
}

/* One bore, written as "at, drill, depth" in mm. */
static const char *one_bore(struct bench *b, double at, double drill, double depth) {
    return arena_printf(&b->arena,
                        "ballast: {bores: [{at: %g mm, drill: %g mm, depth: %g mm, load: []}]}\n",
                        at, drill, depth);
}

/* --- two bores ------------------------------------------------------------------------------- */

static void two_bores_are_as_far_apart_as_their_sides(void **state) {
    struct roomy r =
        room(*state, PARTS(.ballast = "ballast: {bores: [\n"
                                      "  {at: 40 mm, drill: 8 mm, depth: 12 mm, load: []},\n"
                                      "  {at: 52 mm, drill: 6 mm, depth: 9 mm, load: []},\n"
                                      "  {at: 59 mm, drill: 6 mm, depth: 9 mm, load: []}]}\n"));
    assert_near(distance_to(&r, 0, "bore 2"), 0.012 - 0.004 - 0.003, 1e-12);
    assert_near(distance_to(&r, 0, "bore 3"), 0.019 - 0.004 - 0.003, 1e-12);
    assert_near(distance_to(&r, 1, "bore 3"), 0.007 - 0.006, 1e-12);
    assert_int_equal(r.c.pair_count, 3 + 3); /* and each with the wire of the line tie */
}

/* On a slanting belly one bore begins above the end of the other: corner to corner. */
static void bores_at_different_heights_are_apart_from_corner_to_corner(void **state) {
    struct roomy r = room(
        *state, PARTS(.body = "body:\n  length: 100 mm\n  section: {shape: oval}\n  stations:\n"
                              "    - {at: 0 mm, back: 30 mm, belly: 30 mm, width: 20 mm}\n"
                              "    - {at: 100 mm, back: 30 mm, belly: -10 mm, width: 20 mm}\n",
                      .ballast = "ballast: {bores: [\n"
                                 "  {at: 50 mm, drill: 8 mm, depth: 4 mm, load: []},\n"
                                 "  {at: 65 mm, drill: 6 mm, depth: 5 mm, load: []}]}\n"));
    /* mouths at -10 and -4 mm: 4 mm deep, the first ends at -6, 2 mm below the other's mouth */
    assert_near(distance_to(&r, 0, "bore 2"), hypot(0.015 - 0.004 - 0.003, 0.002), 1e-12);
}

static void bores_that_meet_have_a_distance_of_zero_or_less(void **state) {
    struct roomy r =
        room(*state, PARTS(.ballast = "ballast: {bores: [\n"
                                      "  {at: 40 mm, drill: 8 mm, depth: 12 mm, load: []},\n"
                                      "  {at: 46 mm, drill: 6 mm, depth: 9 mm, load: []},\n"
                                      "  {at: 47 mm, drill: 6 mm, depth: 9 mm, load: []}]}\n"));
    assert_near(distance_to(&r, 0, "bore 2"), 0.006 - 0.007, 1e-12); /* the least shift apart */
    assert_near(distance_to(&r, 0, "bore 3"), 0, 1e-12);
}

/* --- wires, slot, sockets -------------------------------------------------------------------- */

static void a_bore_and_the_wires_are_apart_as_drawn_from_the_side(void **state) {
    struct roomy r = room(
        *state,
        PARTS(.hardware = "hardware:\n  wire: {diameter: 1 mm}\n  line tie: {place: nose}\n"
                          "  hangers:\n    - {place: belly, at: 60 mm, depth: 10 mm}\n"
                          "    - {place: tail, depth: 15 mm}\n"
                          "    - {place: back, at: 48 mm, depth: 6 mm, pilot: 3 mm}\n",
              .ballast = "ballast: {bores: [{at: 50 mm, drill: 8 mm, depth: 9 mm, load: []}]}\n"));
    /* pilots are 2 mm wide; the tie's ends at 20 mm, the tail's at 85 mm, both on the datum,
     * their lower sides 9 mm above the mouth: level with the bore's end */
    assert_near(distance_to(&r, 0, "the wire of the line tie"), 0.046 - 0.020, 1e-12);
    assert_near(distance_to(&r, 0, "the wire of hanger 1"), 0.010 - 0.004 - 0.001, 1e-12);
    assert_near(distance_to(&r, 0, "the wire of hanger 2"), 0.085 - 0.054, 1e-12);
    /* the back's pilot ends at z = 4, the bore at -1; they overlap along the body */
    assert_near(distance_to(&r, 0, "the wire of hanger 3"), 0.005, 1e-12);
}

/* A slot at 45 degrees: its inner end is a corner 3 mm wide, seen against an upright side. */
static void a_bore_and_the_slot_are_apart_as_drawn_from_the_side(void **state) {
    struct roomy r = room(
        *state, PARTS(.lip = "lip: {thickness: 3 mm, length: 30 mm, width: 15 mm, shape: square, "
                             "at: 20 mm, angle: 45 deg, slot: 10 mm}\n",
                      .ballast = "ballast: {bores: [{at: 50 mm, drill: 8 mm, depth: 12 mm, "
                                 "load: []}]}\n"));
    double aft = 0.020 + 0.010 * sqrt(0.5) + 0.0015 * sqrt(0.5); /* the corner furthest aft */
    assert_near(distance_to(&r, 0, "the lip's slot"), 0.046 - aft, 1e-12);
}

static void a_slot_that_runs_into_a_bore_meets_it(void **state) {
    struct roomy r = room(
        *state, PARTS(.lip = "lip: {thickness: 3 mm, length: 60 mm, width: 15 mm, shape: square, "
                             "at: 20 mm, angle: 20 deg, slot: 30 mm}\n",
                      .ballast = "ballast: {bores: [{at: 50 mm, drill: 8 mm, depth: 12 mm, "
                                 "load: []}]}\n"));
    assert_true(distance_to(&r, 0, "the lip's slot") < 0);
}

/* In a box 20 mm wide a socket 3 mm deep has its floor 7 mm off the middle. */
static void a_bore_and_the_sockets_are_apart_across_the_body(void **state) {
    static const struct {
        double drill, depth, up, want;
    } cases[] = {
        {8, 16, 2, 0.003}, /* beside each other: floor at 7 mm, side of the bore at 4 mm */
        {8, 8, 5, 0.005},  /* its end 4 mm below the socket's rim: 3, 4, 5 */
        {16, 16, 2, 0},    /* it reaches past the floor */
    };
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const char *eyes = arena_printf(
            &b->arena, "eyes: {size: 6 mm, depth: 3 mm, at: 50 mm, up: %g mm}\n", cases[i].up);
        struct roomy r = room(
            b, PARTS(.eyes = eyes, .ballast = one_bore(b, 50, cases[i].drill, cases[i].depth)));
        assert_near(distance_to(&r, 0, "an eye socket"), cases[i].want, 1e-9);
    }
}

/* Fore and aft of a socket: 20 mm between centres, less both radii; across, the nearest points lie
 * on the bore's side and the floor's rim. */
static void a_bore_aft_of_the_sockets_is_apart_by_a_slanting_line(void **state) {
    struct bench *b = *state;
    struct roomy r = room(b, PARTS(.eyes = "eyes: {size: 6 mm, depth: 3 mm, at: 30 mm}\n",
                                   .ballast = one_bore(b, 50, 8, 16)));
    double least = INFINITY; /* over the bore's side, finer than the program does it */
    for (int i = 0; i <= 100000; i++) {
        double angle = circle * i / 100000;
        double along = fmax(fabs(0.020 + 0.004 * cos(angle)) - 0.003, 0);
        least = fmin(least, hypot(along, fmax(0.007 - 0.004 * sin(angle), 0)));
    }
    assert_near(distance_to(&r, 0, "an eye socket"), least, 1e-9);
}

/* --- pairs without a bore -------------------------------------------------------------------- */

static const char upright_slot[] = "lip: {thickness: 2 mm, length: 40 mm, width: 15 mm, "
                                   "shape: square, at: %g mm, angle: 90 deg, slot: %g mm}\n";

static void slot_and_wires_are_apart_as_drawn_from_the_side(void **state) {
    struct bench *b = *state;
    struct roomy r =
        room(b, PARTS(.hardware = "hardware:\n  wire: {diameter: 1 mm}\n"
                                  "  line tie: {place: nose, depth: 12 mm}\n"
                                  "  hangers:\n    - {place: belly, at: 25 mm, depth: 10 mm}\n",
                      .lip = arena_printf(&b->arena, upright_slot, 18.0, 8.0)));
    /* the slot from 17 to 19 mm, up to -2; wires of 2 mm; the tie ends at 12, its side at -1 */
    assert_near(between(&r, "the lip's slot", "the wire of the line tie"), hypot(5, 1) * 1e-3,
                1e-12);
    assert_near(between(&r, "the lip's slot", "the wire of hanger 1"), 0.005, 1e-12);
    assert_near(between(&r, "the wire of hanger 1", "the wire of the line tie"), 0.012, 1e-12);
}

/* In a box 20 mm wide: floors 7 mm off the middle; an eye of 6 mm at 30 mm, 5 mm up. */
static void sockets_are_apart_from_slot_wire_and_each_other(void **state) {
    struct bench *b = *state;
    struct roomy r =
        room(b, PARTS(.hardware = "hardware:\n  wire: {diameter: 1 mm}\n"
                                  "  line tie: {place: nose, depth: 32 mm, pilot: 4 mm}\n",
                      .lip = arena_printf(&b->arena, upright_slot, 20.0, 16.0),
                      .eyes = "eyes: {size: 6 mm, depth: 3 mm, at: 30 mm, up: 5 mm}\n"));
    assert_near(between(&r, "an eye socket", "an eye socket"), 0.014, 1e-12);
    assert_near(between(&r, "an eye socket", "the lip's slot"), 0.030 - 0.003 - 0.021, 1e-12);
    /* across the body the round wire is nearest a little above its middle */
    double least = INFINITY;
    for (int i = 0; i <= 200000; i++) {
        double up = 0.002 * (2.0 * i / 200000 - 1), side = sqrt(4e-6 - up * up);
        least = fmin(least, hypot(fmax(0.002 - up, 0), 0.007 - side));
    }
    assert_near(between(&r, "an eye socket", "the wire of the line tie"), least, 1e-9);
}

static void deep_sockets_meet_each_other(void **state) {
    struct roomy r = room(*state, PARTS(.eyes = "eyes: {size: 6 mm, depth: 11 mm, at: 30 mm}\n"));
    assert_near(between(&r, "an eye socket", "an eye socket"), -0.002, 1e-12);
}

/* --- against brute force ---------------------------------------------------------------------- */

struct spot {
    double x, y, z;
};

static const double flank = 0.020; /* how far out sockets and slot are followed */

/* The point of a solid that is nearest to `p`; of the sockets that of the one to starboard. */
static struct spot onto(const struct opening *o, struct spot p) {
    double dx = p.x - o->axis.x, dz = p.z - o->axis.z, most = o->width / 2;
    if (axis_level(&o->axis)) {
        double off = hypot(dx, dz), share = off > most ? most / off : 1;
        return (struct spot){o->axis.x + share * dx, fmin(fmax(p.y, opening_floor(o)), flank),
                             o->axis.z + share * dz};
    }
    double along = dx * o->axis.u_x + dz * o->axis.u_z,
           across = dz * o->axis.u_x - dx * o->axis.u_z, y = p.y;
    along = fmin(fmax(along, 0), o->depth);
    if (o->kind == OPENING_SLOT) {
        across = fmin(fmax(across, -most), most);
        y = fmin(fmax(y, -flank), flank);
    } else if (hypot(across, y) > most) {
        double share = most / hypot(across, y);
        across *= share, y *= share;
    }
    return (struct spot){o->axis.x + along * o->axis.u_x - across * o->axis.u_z, y,
                         o->axis.z + along * o->axis.u_z + across * o->axis.u_x};
}

static double apart(struct spot a, struct spot b) {
    return sqrt((a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y) + (a.z - b.z) * (a.z - b.z));
}

/* The nearest of many points of the one to the other, then drawn to and fro between both:
 * projecting by turns upon two convex sets ends at a nearest pair (Cheney and Goldstein 1959). */
static double drawn_together(const struct opening *a, const struct opening *b, double *sampled) {
    enum { STEPS = 9, TURNS = 20000 };
    struct spot best = {0, 0, 0};
    *sampled = INFINITY;
    for (int i = 0; i <= STEPS; i++)
        for (int k = 0; k <= STEPS; k++)
            for (int m = 0; m <= STEPS; m++) {
                struct spot about = {a->axis.x + 0.060 * ((double)i / STEPS - 0.5),
                                     2 * flank * ((double)k / STEPS - 0.5),
                                     a->axis.z + 0.060 * ((double)m / STEPS - 0.5)};
                struct spot p = onto(a, about);
                double d = apart(p, onto(b, p));
                if (d < *sampled) *sampled = d, best = p;
            }
    double last = INFINITY;
    for (int i = 0; i < TURNS; i++) {
        struct spot q = onto(b, best);
        best = onto(a, q);
        double d = apart(best, q);
        if (last - d < 1e-15) return d;
        last = d;
    }
    return last;
}

static struct opening any_opening(unsigned long long *seed, enum opening_kind kind) {
    static const double ways[][2] = {{1, 0}, {-1, 0}, {0, 1}, {0, -1}};
    struct opening o = {.kind = kind,
                        .axis.x = body_between(seed, 0, 0.035),
                        .axis.z = body_between(seed, -0.015, 0.015),
                        .depth = body_between(seed, 0.002, 0.020),
                        .width = body_between(seed, 0.001, 0.010)};
    int way = (int)(4 * body_random(seed)) % 4;
    double angle = body_between(seed, 0, circle / 2);
    o.axis.u_x = kind == OPENING_SLOT ? cos(angle) : ways[way][0];
    o.axis.u_z = kind == OPENING_SLOT ? sin(angle) : ways[way][1];
    bool level = kind == OPENING_SOCKETS || (kind == OPENING_BORE && body_random(seed) < 0.3);
    if (level)
        o.axis.u_x = o.axis.u_z = 0, o.axis.u_y = -1, o.axis.pair = true,
        o.axis.y = o.depth + body_between(seed, -0.001, 0.012);
    return o;
}

static void no_two_openings_are_nearer_than_said(void **state) {
    (void)state;
    unsigned long long seed = 2;
    int met = 0, clear = 0;
    for (int i = 0; i < 800; i++) {
        struct opening a = any_opening(&seed, (enum opening_kind)(i % 4));
        struct opening b = any_opening(&seed, (enum opening_kind)(i / 4 % 4));
        double sampled, said = opening_distance(&a, &b);
        double found = drawn_together(&a, &b, &sampled);
        assert_true(fmax(said, 0) <= sampled + 1e-9);
        assert_near(fmax(said, 0), found, 2e-6);
        said > 0 ? clear++ : met++;
    }
    assert_true(met > 80 && clear > 400);
}

/* --- wires that make room for themselves ------------------------------------------------------ */

static double tie_depth(struct bench *b, double slot_at, const char *tie) {
    const char *hardware =
        arena_printf(&b->arena, "hardware:\n  wire: {diameter: 1 mm}\n  line tie: {%s}\n", tie);
    struct roomy r = room(b, PARTS(.hardware = hardware,
                                   .lip = arena_printf(&b->arena, upright_slot, slot_at, 14.0)));
    return r.plug.fittings[FITTING_TIE].pilot.depth;
}

/* The slot's fore side stands 1 mm before its middle, and 2 mm are due. */
static void a_depth_that_is_not_said_ends_before_the_slot(void **state) {
    struct bench *b = *state;
    assert_near(tie_depth(b, 30, "place: nose"), 0.020, 1e-12);
    assert_near(tie_depth(b, 23, "place: nose"), 0.020, 1e-12);
    assert_near(tie_depth(b, 22.9, "place: nose"), 0.0195, 1e-12);
    assert_near(tie_depth(b, 15, "place: nose"), 0.012, 1e-12);
    assert_near(tie_depth(b, 11, "place: nose"), 0.008, 1e-12);
    assert_near(tie_depth(b, 10, "place: nose"), 0.008, 1e-12); /* too near, but it meets nothing */
    assert_near(tie_depth(b, 8.5, "place: nose"), 0.020, 1e-12);              /* no depth helps */
    assert_near(tie_depth(b, 15, "place: nose, depth: 17 mm"), 0.017, 1e-12); /* as written */
}

static void the_wire_is_as_long_as_its_bore_was_left(void **state) {
    struct bench *b = *state;
    const char *lip = arena_printf(&b->arena, upright_slot, 15.0, 14.0);
    struct roomy itself = room(b, PARTS(.lip = lip));
    struct roomy written =
        room(b, PARTS(.lip = lip, .hardware = "hardware:\n  wire: {diameter: 1 mm}\n"
                                              "  line tie: {place: nose, depth: 12 mm}\n"));
    const struct fitted *a = &itself.plug.fittings[FITTING_TIE];
    const struct fitted *c = &written.plug.fittings[FITTING_TIE];
    assert_near(a->twisted, 2 * sqrt(1 + circle * circle / 36) * 0.012, 1e-12);
    assert_near(a->twisted, c->twisted, 1e-15);
    struct mass_list one = mass_rows(&b->arena, &itself.plug, itself.fills);
    struct mass_list two = mass_rows(&b->arena, &written.plug, written.fills);
    for (int i = 0; i < one.count; i++) {
        assert_near(one.rows[i].mass, two.rows[i].mass, 1e-15);
        assert_near(one.rows[i].x, two.rows[i].x, 1e-12);
    }
}

/* Of two wires that would meet, one that runs along the body gives way to one across it; a bore
 * that follows its load counts as deep as the wall allows. */
static void wires_give_way_in_their_order(void **state) {
    struct bench *b = *state;
    struct roomy r =
        room(b, PARTS(.hardware = "hardware:\n  wire: {diameter: 1 mm}\n  line tie: {place: nose}\n"
                                  "  hangers: [{place: belly, at: 16 mm}, {place: tail}]\n",
                      .ballast = "ballast: {aim: {reserve: 30 %}, bores: [\n"
                                 "  {at: 84 mm, drill: 6 mm, load: solve}]}\n"));
    assert_near(r.plug.fittings[FITTING_HANGERS].pilot.depth, 2.0 / 3 * 0.020, 1e-9);
    assert_near(r.plug.fittings[FITTING_TIE].pilot.depth, 0.013, 1e-12);         /* 15 - 2 */
    assert_near(r.plug.fittings[FITTING_HANGERS + 1].pilot.depth, 0.011, 1e-12); /* 13 - 2 */
}

/* --- the surface ------------------------------------------------------------------------------ */

static double wall_at(const struct roomy *r, const char *name) {
    for (int i = 0; i < r->c.count; i++)
        if (is_called(opening_name(&r->c.openings[i]), name)) return r->c.wall[i];
    fail();
    return 0;
}

static void what_is_not_its_own_mouth_is_the_surface_of_an_opening(void **state) {
    struct bench *b = *state;
    struct roomy r = room(
        b, PARTS(.hardware = "hardware:\n  wire: {diameter: 1 mm}\n"
                             "  line tie: {place: nose, depth: 12 mm, pilot: 4 mm}\n  hangers:\n"
                             "    - {place: belly, at: 50 mm, depth: 15 mm}\n"
                             "    - {place: back, at: 70 mm, depth: 16 mm}\n"
                             "    - {place: belly, at: 3 mm, depth: 12 mm}\n",
                 .lip = arena_printf(&b->arena, upright_slot, 30.0, 17.5)));
    assert_near(wall_at(&r, "the wire of the line tie"), 0.008, 1e-7); /* to flanks and back */
    assert_near(wall_at(&r, "the wire of hanger 1"), 0.005, 1e-7);     /* to the back */
    assert_near(wall_at(&r, "the wire of hanger 2"), 0.004, 1e-7);     /* to the belly */
    assert_near(wall_at(&r, "the wire of hanger 3"), 0.002, 1e-7);     /* to the nose */
    assert_near(wall_at(&r, "the lip's slot"), 0.0025, 1e-7);
}

/* Dense points of the surface, from the rod that a wire is. */
static double dense_wall(const struct plug *plug, const struct opening *o) {
    enum { X = 900, U = 240 };
    struct opening rod = *o;
    bool along = o->axis.u_z == 0;
    if (along) rod.depth /= 2, rod.axis.x += rod.depth * rod.axis.u_x;
    double least = INFINITY, length = plug->outline.length;
    for (int i = 0; i <= X; i++) {
        struct section s = section_at(&plug->outline, length * i / X, 0);
        for (int k = 0; k <= U; k++) {
            double angle = 2 * circle * k / U, up = sin(angle);
            if (!along && up * o->axis.u_z < -1e-12) continue;
            struct spot p = {length * i / X, s.half_width * cos(angle),
                             s.centre + s.half_height * up};
            least = fmin(least, apart(p, onto(&rod, p)));
        }
    }
    for (int end = 0; end < 2; end++) { /* flat ends, in the middle plane */
        struct section s = section_at(&plug->outline, end * length, 0);
        if (along && (o->axis.u_x > 0) != (end == 1)) continue;
        for (int k = 0; k <= U; k++) {
            double up = 2.0 * k / U - 1;
            if (!along && up * o->axis.u_z < -1e-12) continue;
            struct spot p = {end * length, 0, s.centre + s.half_height * up};
            least = fmin(least, apart(p, onto(&rod, p)));
        }
    }
    return least;
}

static void no_surface_is_nearer_to_a_wire_than_said(void **state) {
    static const double ways[][2] = {{1, 0}, {-1, 0}, {0, 1}, {0, -1}};
    struct bench *b = *state;
    unsigned long long seed = 5;
    for (int i = 0; i < 120; i++) {
        struct body_table table = {0};
        double x = 0;
        for (int row = 0; row < 5; row++) {
            body_row(&table, x, body_between(&seed, 0.003, 0.012),
                     body_between(&seed, 0.003, 0.012), body_between(&seed, 0.006, 0.024));
            x += body_between(&seed, 0.010, 0.030);
        }
        struct plug plug = {.outline = body_outline(&b->arena, &table, SECTION_OVAL, 0)};
        double length = plug.outline.length, at = body_between(&seed, 0.1, 0.9) * length;
        const double *way = ways[i % 4];
        struct opening wire = {.kind = OPENING_WIRE,
                               .axis = {.x = way[1] != 0  ? at
                                             : way[0] > 0 ? 0
                                                          : length,
                                        .z = way[1] > 0   ? plug_bottom(&plug, at)
                                             : way[1] < 0 ? plug_top(&plug, at)
                                                          : 0,
                                        .u_x = way[0],
                                        .u_z = way[1]},
                               .depth = body_between(&seed, 0.003, 0.020),
                               .width = body_between(&seed, 0.001, 0.004)};
        wire.outer = wire.depth / 2;
        double said = wall_of(&plug, &wire), dense = dense_wall(&plug, &wire);
        assert_true(said <= dense + 1.01e-7);
        assert_true(said >= dense - 0.2e-3);
    }
}

/* A socket whose floor comes out over the shoulder of a round body: the floor's top stands `up` and
 * a radius high, where the body is half as wide as the circle says. */
static void a_floor_that_comes_out_meets_the_surface(void **state) {
    static const char round[] = "body:\n  length: 100 mm\n  section: {shape: oval}\n  stations:\n"
                                "    - {at: 0 %, back: 10 mm, belly: 10 mm, width: 20 mm}\n"
                                "    - {at: 100 %, back: 10 mm, belly: 10 mm, width: 20 mm}\n";
    struct bench *b = *state;
    for (int i = 0; i < 12; i++) {
        double up = 0.5 * i, depth = 2;
        const char *eyes = arena_printf(
            &b->arena, "eyes: {size: 6 mm, depth: %g mm, at: 40 mm, up: %g mm}\n", depth, up);
        struct roomy r = room(b, PARTS(.body = round, .eyes = eyes));
        double floor = sqrt(100 - up * up) - depth, top = up + 3;
        double wide = top < 10 ? sqrt(100 - top * top) : 0;
        assert_true((wall_at(&r, "an eye socket") > 0) == (floor <= wide));
    }
}

static void one_opening_has_nothing_to_be_near_to(void **state) {
    struct bench *b = *state;
    struct plug plug = plug_of(&b->arena, bench_good(b, PARTS(.head = NULL)));
    struct clearances c = clearances_of(&plug, NULL);
    assert_int_equal(c.pair_count, 0); /* the line tie is alone */
    assert_int_equal(c.count, 1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(two_bores_are_as_far_apart_as_their_sides),
        BENCH_TEST(bores_at_different_heights_are_apart_from_corner_to_corner),
        BENCH_TEST(bores_that_meet_have_a_distance_of_zero_or_less),
        BENCH_TEST(a_bore_and_the_wires_are_apart_as_drawn_from_the_side),
        BENCH_TEST(a_bore_and_the_slot_are_apart_as_drawn_from_the_side),
        BENCH_TEST(a_slot_that_runs_into_a_bore_meets_it),
        BENCH_TEST(a_bore_and_the_sockets_are_apart_across_the_body),
        BENCH_TEST(a_bore_aft_of_the_sockets_is_apart_by_a_slanting_line),
        BENCH_TEST(slot_and_wires_are_apart_as_drawn_from_the_side),
        BENCH_TEST(sockets_are_apart_from_slot_wire_and_each_other),
        BENCH_TEST(deep_sockets_meet_each_other),
        BENCH_TEST(no_two_openings_are_nearer_than_said),
        BENCH_TEST(a_depth_that_is_not_said_ends_before_the_slot),
        BENCH_TEST(the_wire_is_as_long_as_its_bore_was_left),
        BENCH_TEST(wires_give_way_in_their_order),
        BENCH_TEST(what_is_not_its_own_mouth_is_the_surface_of_an_opening),
        BENCH_TEST(no_surface_is_nearer_to_a_wire_than_said),
        BENCH_TEST(a_floor_that_comes_out_meets_the_surface),
        BENCH_TEST(one_opening_has_nothing_to_be_near_to),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
