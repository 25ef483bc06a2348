/* Sinking, the error budget and the last trim: by second formulas, and by the changed recipe. */
#include "recipe_text.h"

static const struct results *computed(struct bench *b, struct recipe_parts parts) {
    struct compilation c = bench_compile(b, parts);
    if (c.diags.errors) print_error("%s", bench_said(b));
    assert_int_equal(c.diags.errors, 0);
    struct results *r = NEW(&b->arena, struct results, 1);
    *r = c.results;
    return r;
}

static const char two_bores[] =
    "ballast: {aim: {%s}, bores: [{at: 45 mm, drill: 12 mm, load: solve}, "
    "{at: 85 mm, drill: 10 mm, load: solve}]}\n";

static const char *ballast_for(struct bench *b, const char *aim) {
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
    return arena_printf(&b->arena, two_bores, aim);
#pragma GCC diagnostic pop
}

static const char heavy_wood[] = "wood: {species: basswood, density: 620 kg/m3}\n";

/* --- sinking ---------------------------------------------------------------------------------- */

/* Exactly: a metre takes as long as was asked for, and the weight in the water is the drag. */
static void a_time_of_sinking_is_met(void **state) {
    static const double paces[] = {2, 4, 6, 12, 40};
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof paces / sizeof *paces; i++) {
        const char *aim = arena_printf(&b->arena, "sink: %g s/m, attitude: 2 deg", paces[i]);
        const struct results *r =
            computed(b, PARTS(SWIMMER, .wood = heavy_wood, .ballast = ballast_for(b, aim)));
        const struct condition *f = &r->finished;
        assert_close(-1 / f->speed, paces[i], 1e-7);
        double weight = 9.80665 * (f->burden.mass - f->rest.capacity);
        double drag = 0.5 * 0.76 * r->plug.water * r->plug.bare.plan_area / paces[i] / paces[i];
        assert_close(weight, drag, 1e-7);
        assert_near(f->rest.attitude, 2 * one_degree, 0.05 * one_degree);
        /* a recipe with that reserve of its own needs the same loads */
        const char *reserve =
            arena_printf(&b->arena, "reserve: %.12f %%, attitude: 2 deg", f->rest.reserve * 100);
        const struct results *same =
            computed(b, PARTS(SWIMMER, .wood = heavy_wood, .ballast = ballast_for(b, reserve)));
        for (int k = 0; k < 2; k++)
            assert_near(r->ballast.fills[k].load, same->ballast.fills[k].load, 2e-9);
    }
}

static void sixty_seconds_to_the_foot_and_to_the_metre_are_told_apart(void **state) {
    struct bench *b = *state;
    const struct results *foot =
        computed(b, PARTS(SWIMMER, .wood = heavy_wood,
                          .ballast = ballast_for(b, "sink: 1.8288 s/ft, attitude: 2 deg")));
    assert_close(-1 / foot->finished.speed, 6, 1e-7);
}

/* The pieces are judged by the same reserve. */
static void pieces_aim_at_the_time_of_sinking(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(
        b, PARTS(SWIMMER, .wood = heavy_wood,
                 .ballast = "ballast: {aim: {sink: 6 s/m}, bores: [{at: 40 mm, drill: 12 mm, load: "
                            "solve}], pieces: [{mass: 1 g}, {mass: 3 g}, {mass: 8 g}]}\n"));
    assert_true(r->ballast.best_count > 1);
    double least = 1e9;
    for (int i = 0; i < r->ballast.best_count; i++) {
        double miss = fabs(r->ballast.best[i].outcome.reserve - r->finished.rest.reserve);
        if (i == 0) least = miss;
        assert_true(miss >= least - 1e-12);
    }
    assert_true(least < 0.02);
}

static void reserve_and_sink_together_are_an_error(void **state) {
    struct bench *b = *state;
    bench_recipe(b, PARTS(SWIMMER, .ballast = ballast_for(b, "reserve: -5 %, sink: 6 s/m")));
    assert_int_equal(bench_count(b, "aim"), 1);
    bench_compile(b, PARTS(SWIMMER, .ballast = ballast_for(b, "sink: 0.3 s/m, attitude: 2 deg")));
    assert_non_null(strstr(bench_said(b), "reaches sink 0.3 s/m"));
}

/* All moments about the plug's centre of gravity vanish: buoyancy at B and drag at the plan's
 * centroid, both straight up. */
static void on_the_way_down_the_moments_balance(void **state) {
    struct bench *b = *state;
    const struct results *r =
        computed(b, PARTS(SWIMMER, .wood = heavy_wood,
                          .ballast = ballast_for(b, "sink: 3 s/m, attitude: 4 deg")));
    const struct condition *f = &r->finished;
    const struct solid *s = &r->plug.bare;
    double sum_a = 0, sum_x = 0;
    enum { SLICES = 20000 };
    for (int i = 0; i < SLICES; i++) { /* the plan's centroid by slices */
        double x = r->plug.outline.length * (i + 0.5) / SLICES;
        double width = curve_at(&r->plug.outline.width, x);
        sum_a += width, sum_x += width * x;
    }
    assert_close(s->plan_x, sum_x / sum_a, 1e-6);
    assert_true(f->falling_given);
    double sine = sin(f->falling), cosine = cos(f->falling);
    double lift = f->rest.capacity, drag = f->burden.mass - lift;
    /* how far aft of G a point stands, across the vertical */
    double buoyancy =
        (f->rest.buoyancy_x - f->burden.x) * cosine - (f->rest.buoyancy_z - f->burden.z) * sine;
    double pull = (s->plan_x - f->burden.x) * cosine - (s->plan_z - f->burden.z) * sine;
    assert_near(lift * buoyancy + drag * pull, 0, 1e-9);
    const struct results *floats =
        computed(b, PARTS(SWIMMER, .ballast = ballast_for(b, "reserve: 15 %, attitude: 3 deg")));
    assert_false(floats->finished.falling_given);
}

/* --- the error budget ------------------------------------------------------------------------- */

/* Each doubt is the change of the reserve when its cause is off by one standard deviation: the
 * recipe changed so, and weighed. */
static double reserve_of(struct bench *b, struct recipe_parts parts) {
    return computed(b, parts)->finished.rest.reserve;
}

static void every_doubt_is_what_the_changed_recipe_loses(void **state) {
    struct bench *b = *state;
#define FIXED                                                                                   \
    "ballast: {bores: [{at: 45 mm, drill: 12 mm, depth: 12 mm, load: [{mass: %s g}]}, {at: 85 " \
    "mm, "                                                                                      \
    "drill: 10 mm, depth: 9 mm, load: [{mass: 2 g}]}]}\n"
    struct recipe_parts parts =
        PARTS(SWIMMER, .wood = "wood: {species: basswood, density: 400 kg/m3, spread: 10 %}\n");
    parts.ballast = arena_printf(&b->arena, FIXED, "5");
    const struct results *r = computed(b, parts);
    const struct budget *budget = &r->budget;
    double before = r->finished.rest.reserve;

    struct recipe_parts other = parts;
    other.wood = "wood: {species: basswood, density: 440 kg/m3}\n";
    assert_close(budget->part[DOUBT_WOOD], before - reserve_of(b, other), 1e-6);

    other = parts;
    other.ballast = arena_printf(&b->arena, FIXED, "5.1"); /* filler gives way to it */
    double filler = 0.0001 / lead * bore_filler;
    double one = (before - reserve_of(b, other)) * 0.0001 / (0.0001 - filler);
    assert_close(budget->part[DOUBT_LOADS], sqrt(2) * one, 1e-6);

    other = parts;
    other.finish = "finish:\n  seal: {coats: 2, uptake: 50 g/m2}\n" /* for 40 */
                   "  paint: {layers: [{colour: white, kind: opaque}]}\n"
                   "  topcoat: {kind: epoxy, coats: 2}\n";
    assert_close(budget->part[DOUBT_SEALER], before - reserve_of(b, other), 1e-6);

    /* both hooks were weighed: a tenth of a gram each */
    assert_close(budget->part[DOUBT_HOOKS], sqrt(2) * 0.0001 / r->finished.rest.capacity, 1e-9);

    other = parts; /* 20 % thicker films; the volume that they add is not quite linear */
    other.finish = "finish:\n  seal: {coats: 2}\n"
                   "  paint: {film: 14.4 um, layers: [{colour: white, kind: opaque}]}\n"
                   "  topcoat: {kind: epoxy, coats: 2, film: 0.30 mm}\n";
    assert_close(budget->part[DOUBT_FILMS], fabs(before - reserve_of(b, other)), 0.1);

    double squares = 0;
    for (int i = 0; i < DOUBT_READING; i++) squares += pow(budget->part[i], 2);
    assert_close(budget->built, sqrt(squares), 1e-12);
    assert_close(budget->trimmed,
                 sqrt(pow(budget->part[DOUBT_FILMS], 2) + pow(budget->part[DOUBT_READING], 2)),
                 1e-12);
#undef FIXED
}

/* Each doubt with a spread of its own is to the one without as the shares are. */
static void an_own_spread_takes_the_place_of_the_trades(void **state) {
    struct bench *b = *state;
    static const char hardware[] =
        "hardware:\n  wire: {diameter: 1.2 mm}\n  line tie: {place: nose}\n"
        "  hangers: [{place: belly, at: 55 mm, hook: {mass: 2 g%s}}]\n";
    static const char finish[] =
        "finish:\n  seal: {coats: 2%s}\n"
        "  paint: {layers: [{colour: white, kind: opaque, film: 40 um, density: 1.2 g/cm3%s}]}\n"
        "  topcoat: {kind: epoxy, coats: 1, film: 0.25 mm%s}\n";
    static const char *const no[] = {"", "", "", ""}, *const own[] = {
                                                          ", spread: 3 %", ", spread: 5 %",
                                                          ", spread: 40 %", ", spread: 10 %"};
    const char *const *cases[] = {no, own};
    const struct results *r[2];
    for (int i = 0; i < 2; i++) {
        const char *const *c = cases[i];
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
        r[i] = computed(b, PARTS(.body = swimmer_body, .eyes = swimmer_eyes,
                                 .hardware = arena_printf(&b->arena, hardware, c[0]),
                                 .finish = arena_printf(&b->arena, finish, c[1], c[2], c[3])));
#pragma GCC diagnostic pop
    }
    const double *usual = r[0]->budget.part, *spread = r[1]->budget.part;
    double capacity = r[0]->finished.rest.capacity;
    assert_close(spread[DOUBT_HOOKS], 0.03 * 0.002 / capacity, 1e-9);
    assert_close(spread[DOUBT_SEALER], usual[DOUBT_SEALER] * 0.05 / 0.25, 1e-9);
    /* films by themselves: mass less the water they displace, of which their thicknesses share */
    double volume = r[0]->plug.finished_hull.volume - r[0]->plug.bare_hull.volume;
    double water = r[0]->plug.water * (1 - r[0]->finished.rest.reserve) * volume;
    double paint = r[0]->plug.bare.surface * 40e-6 * 1200 - water * 40 / 290;
    double topcoat = 0;
    for (int i = 0; i < r[0]->masses.count; i++)
        if (r[0]->masses.rows[i].stage == STAGE_TOPCOATED) topcoat += r[0]->masses.rows[i].mass;
    topcoat -= water * 250 / 290;
    assert_close(usual[DOUBT_FILMS], 0.2 * fabs(paint + topcoat) / capacity, 1e-9);
    assert_close(spread[DOUBT_FILMS], hypot(0.4 * paint, 0.1 * topcoat) / capacity, 1e-9);
}

/* Half a millimetre over the waterplane, which is what the water says of a mass a little greater.
 */
static void reading_is_half_a_millimetre_of_the_waterline(void **state) {
    struct bench *b = *state;
    const struct results *r =
        computed(b, PARTS(SWIMMER, .ballast = ballast_for(b, "reserve: 20 %, attitude: 0 deg")));
    const struct condition *t = &r->test;
    struct burden heavier = t->burden;
    double more = r->budget.part[DOUBT_READING] * t->rest.capacity;
    heavier.mass += more;
    /* level still: the mass goes where it does not turn the plug */
    struct rest rest = hydro_rest(&r->plug.bare_hull, &heavier, r->plug.water);
    double rise = (rest.level / cos(rest.attitude) - t->rest.level / cos(t->rest.attitude)) -
                  heavier.x * (tan(rest.attitude) - tan(t->rest.attitude));
    assert_near(rise, 0.0005, 0.0001);
}

/* --- the last trim ---------------------------------------------------------------------------- */

/* Every line of the table: the recipe with that hook, or with a ring twice as heavy. */
static void a_swap_is_what_the_changed_recipe_does(void **state) {
    static const char hardware[] =
        "hardware:\n  wire: {diameter: 1.2 mm}\n  line tie: {place: nose}\n  hangers:\n"
        "    - {place: belly, at: 55 mm, depth: 12 mm, hook: {size: \"%s\"}, ring: {mass: %g g}}\n"
        "    - {place: tail, hook: {mass: 1.5 g}, ring: {mass: 0.2 g}}\n";
    static const char built[] =
        "ballast: {bores: [{at: 45 mm, drill: 10 mm, depth: 14 mm, load: [{mass: 5 g}]}, {at: 85 "
        "mm, drill: 8 mm, depth: 10 mm, load: [{mass: 2 g}]}]}\n";
    struct bench *b = *state;
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
#define HANGERS(size, ring) arena_printf(&b->arena, hardware, size, ring)
    struct recipe_parts parts = PARTS(SWIMMER, .ballast = built);
    parts.hardware = HANGERS("2", 0.4);
    const struct results *r = computed(b, parts);
    assert_int_equal(r->swap_count, 4); /* two sizes and a ring on the one, a ring on the other */
    for (int i = 0; i < 3; i++) {
        const struct swap *s = &r->swaps[i];
        assert_int_equal(s->hanger, 1);
        parts.hardware = s->kind == SWAP_HOOK ? HANGERS(s->now, 0.4) : HANGERS("2", 0.8);
        const struct results *other = computed(b, parts);
        assert_near(s->result.burden.mass, other->finished.burden.mass, 1e-12);
        assert_near(s->change, other->finished.burden.mass - r->finished.burden.mass, 1e-12);
        assert_near(s->result.rest.reserve, other->finished.rest.reserve, 1e-9);
        assert_near(s->result.rest.attitude, other->finished.rest.attitude, 1e-7);
        assert_near(s->result.marks.fore.at, other->finished.marks.fore.at, 1e-7);
    }
#pragma GCC diagnostic pop
    assert_true(r->swaps[0].change > 0 && r->swaps[1].change < 0);
    assert_int_equal(r->swaps[3].hanger, 2);
    assert_int_equal(r->swaps[3].kind, SWAP_RING);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_time_of_sinking_is_met),
        BENCH_TEST(sixty_seconds_to_the_foot_and_to_the_metre_are_told_apart),
        BENCH_TEST(pieces_aim_at_the_time_of_sinking),
        BENCH_TEST(reserve_and_sink_together_are_an_error),
        BENCH_TEST(on_the_way_down_the_moments_balance),
        BENCH_TEST(every_doubt_is_what_the_changed_recipe_loses),
        BENCH_TEST(an_own_spread_takes_the_place_of_the_trades),
        BENCH_TEST(reading_is_half_a_millimetre_of_the_waterline),
        BENCH_TEST(a_swap_is_what_the_changed_recipe_does),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
