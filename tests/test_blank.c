/* The shaped body on the scale: what it says of the wood, and the table of loads by its mass. */
#include "answer.h"

#include "compute/bench.h"
#include "emit/print/style.h"

static const char one_bore[] = "ballast: {aim: {reserve: 45 %}, bores: [{at: 50 mm, drill: 9 mm, "
                               "load: solve}]}\n";
static const char two_bores[] =
    "ballast: {aim: {reserve: 12 %, attitude: 3 deg}, bores: [" TWO_BORES "]}\n";
static const char table_wood[] = "wood: {species: basswood, moisture: 8 %}\n";

static const struct results *computed(struct bench *b, struct recipe_parts parts) {
    struct results *r = NEW(&b->arena, struct results, 1);
    *r = results_afloat(&b->arena, bench_good(b, parts));
    return r;
}

/* --- the predicted mass printed back ---------------------------------------------------------- */

static void assert_same(double got, double want) {
    assert_near(got, want, 1e-9 * fmax(fabs(want), 1e-3));
}

static void assert_same_condition(const struct condition *got, const struct condition *want) {
    assert_same(got->burden.mass, want->burden.mass);
    assert_same(got->burden.x, want->burden.x);
    assert_same(got->burden.z, want->burden.z);
    assert_same(got->rest.reserve, want->rest.reserve);
    assert_near(got->rest.attitude, want->rest.attitude, 1e-7);
    assert_near(got->waterline_nose, want->waterline_nose, 1e-7);
    assert_near(got->waterline_tail, want->waterline_tail, 1e-7);
}

/* With `count` bodies that all weigh what was predicted. */
static void assert_nothing_changes(struct arena *arena, const struct recipe *recipe, int count) {
    struct results before = results_afloat(arena, recipe);
    double mass = bench_mass(&before, WEIGHED_SHAPED);
    struct recipe told = *recipe;
    struct measured measured = {.blank = NEW(arena, double, count), .blank_count = count};
    for (int i = 0; i < count; i++) measured.blank[i] = mass;
    told.measured = &measured;
    struct results after = results_afloat(arena, &told);
    assert_int_equal(after.plug.wood_source, WOOD_BY_BLANK);
    assert_close(after.plug.wood_density, before.plug.wood_density, 1e-12);
    assert_close(bench_mass(&after, WEIGHED_SHAPED), mass, 1e-12);
    assert_same_condition(&after.test, &before.test);
    assert_same_condition(&after.finished, &before.finished);
    for (int i = 0; i < before.masses.count; i++)
        assert_same(after.masses.rows[i].mass, before.masses.rows[i].mass);
    for (int i = 0; i < before.ballast.bore_count; i++) {
        assert_same(after.ballast.fills[i].load, before.ballast.fills[i].load);
        assert_same(after.ballast.fills[i].depth, before.ballast.fills[i].depth);
    }
}

static void the_predicted_mass_printed_back_changes_nothing_in_the_shipped_recipes(void **state) {
    static const char *const paths[] = {"recipes/cormorant.yaml",   "recipes/grebe.yaml",
                                        "recipes/grebe-dusk.yaml",  "recipes/grebe-ice.yaml",
                                        "recipes/grebe-perch.yaml", "recipes/merganser.yaml",
                                        "recipes/sandpiper.yaml",   "recipes/teal.yaml"};
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof paths / sizeof *paths; i++) {
        struct compilation c = compile_recipe(&b->arena, paths[i]);
        assert_false(compilation_failed(&c));
        for (int count = 1; count <= 3; count++) assert_nothing_changes(&b->arena, c.recipe, count);
    }
}

static void the_predicted_mass_printed_back_changes_nothing_in_the_starter(void **state) {
    struct bench *b = *state;
    struct buf text = {.arena = &b->arena};
    for (size_t i = 0; i < style_starter_yaml.size; i++)
        buf_char(&text, style_starter_yaml.data[i] == '@' ? 'X' : style_starter_yaml.data[i]);
    struct compilation c = compile_text(&b->arena, "starter", (struct str){text.data, text.size});
    assert_false(compilation_failed(&c));
    assert_nothing_changes(&b->arena, c.recipe, 1);
}

/* A linear congruential generator (Knuth, MMIX), so that every run has the same recipes. */
static double random_of(unsigned long long *seed, double least, double most) {
    *seed = *seed * 6364136223846793005ULL + 1442695040888963407ULL;
    return least + (most - least) * (double)(*seed >> 40) / (double)(1 << 24);
}

static struct recipe_parts random_parts(struct arena *arena, unsigned long long *seed) {
    static const char *const shapes[] = {"oval", "square", "rounded, radius: 3 mm"};
    static const char *const species[] = {"basswood", "balsa", "black walnut"};
    double length = random_of(seed, 70, 190), high = random_of(seed, 8, 14);
    struct recipe_parts parts = {0};
    parts.body =
        arena_printf(arena,
                     "body:\n  length: %.3f mm\n  section: {shape: %s}\n  stations:\n"
                     "    - {at: 0 %%, back: 4 mm, belly: 4 mm, width: 8 mm}\n"
                     "    - {at: %.3f %%, back: %.3f mm, belly: %.3f mm, width: %.3f mm}\n"
                     "    - {at: 100 %%, back: 4 mm, belly: 4 mm, width: 8 mm}\n",
                     length, shapes[(int)random_of(seed, 0, 2.999)], random_of(seed, 25, 60), high,
                     high * random_of(seed, 1, 1.2), high * random_of(seed, 1.5, 2));
    parts.wood = arena_printf(arena, "wood: {species: %s, moisture: %.3f %%}\n",
                              species[(int)random_of(seed, 0, 2.999)], random_of(seed, 5, 15));
    parts.hardware = arena_printf(
        arena,
        "hardware:\n  wire: {diameter: %.3f mm}\n  line tie: {place: nose, depth: %.3f mm}\n"
        "  hangers: [{place: tail, pilot: %.3f mm, hook: {mass: %.3f g}}]\n",
        random_of(seed, 0.8, 1.4), random_of(seed, 10, 25), random_of(seed, 1, 3),
        random_of(seed, 0.5, 4));
    if (random_of(seed, 0, 1) < 0.5)
        parts.lip = arena_printf(arena,
                                 "lip: {thickness: 1.5 mm, length: 30 mm, width: 15 mm, shape: "
                                 "square, at: 10 mm, angle: %.3f deg, slot: %.3f mm}\n",
                                 random_of(seed, 20, 60), random_of(seed, 4, 8));
    parts.eyes = random_of(seed, 0, 1) < 0.5 ? "eyes: {size: 4 mm, at: 12 %}\n" : NULL;
    parts.ballast = arena_printf(
        arena,
        "ballast: {aim: {reserve: %.3f %%}, bores: [{at: %.3f mm, drill: 7 mm, load: solve}]}\n",
        random_of(seed, 5, 25), length * random_of(seed, 0.35, 0.5));
    return parts;
}

static void the_predicted_mass_printed_back_changes_nothing_in_random_recipes(void **state) {
    struct bench *b = *state;
    unsigned long long seed = 20251125;
    for (int i = 0; i < 60; i++)
        assert_nothing_changes(&b->arena, bench_good(b, random_parts(&b->arena, &seed)), 1 + i % 3);
}

/* By hand: a box of 40 ml less a slot of 8 x 2 x 20 mm and pilots of 2 x 20 mm and 3 x 12 mm. */
static void a_weighed_body_has_its_slot_and_its_pilots_and_nothing_else(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(
        b, PARTS(.lip = "lip: {thickness: 2 mm, length: 30 mm, width: 15 mm, shape: square, "
                        "at: 10 mm, angle: 30 deg, slot: 8 mm}\n",
                 .hardware = "hardware:\n  wire: {diameter: 1 mm}\n  line tie: {place: nose}\n"
                             "  hangers: [{place: belly, at: 60 mm, depth: 12 mm, pilot: 3 mm}]\n",
                 .eyes = "eyes: {size: 6 mm, depth: 2 mm, at: 30 mm}\n", .ballast = one_bore,
                 .measured = "measured: {blank: 15.9 g}\n"));
    double wood =
        0.1 * 0.02 * 0.02 - 0.008 * 0.002 * 0.020 - disc(0.002) * 0.020 - disc(0.003) * 0.012;
    assert_close(r->plug.wood_density, 0.0159 / wood, 1e-12);
    assert_close(bench_mass(r, WEIGHED_SHAPED), 0.0159, 1e-12);
}

/* --- several bodies --------------------------------------------------------------------------- */

#define SIX "recipe: 1\nname: Box\nmake: 6\n"

static void several_bodies_count_as_their_mean_and_their_scatter_as_the_spread(void **state) {
    struct bench *b = *state;
    const struct results *r =
        computed(b, PARTS(.head = SIX, .wood = table_wood, .ballast = one_bore,
                          .measured = "measured: {blank: [14 g, 15 g, 16.6 g]}\n"));
    double mean = (14 + 15 + 16.6) / 3;
    double scatter = sqrt((pow(14 - mean, 2) + pow(15 - mean, 2) + pow(16.6 - mean, 2)) / 2) / mean;
    assert_close(bench_mass(r, WEIGHED_SHAPED), mean * 1e-3, 1e-12);
    assert_close(r->ballast.scatter, scatter, 1e-12);
    assert_close(r->ballast.spread, scatter, 1e-12);
    /* bodies that a scale cannot tell apart are still only as well known as it weighs */
    r = computed(b, PARTS(.head = SIX, .wood = table_wood, .ballast = one_bore,
                          .measured = "measured: {blank: [15 g, 15 g]}\n"));
    assert_near(r->ballast.scatter, 0, 1e-15);
    assert_close(r->ballast.spread, 0.01, 1e-12);
}

/* One row a plug: what each alone would ask for. */
static void every_weighed_body_has_its_row(void **state) {
    static const double bodies[] = {14, 15, 16.6};
    struct bench *b = *state;
    const struct results *r =
        computed(b, PARTS(.head = SIX, .wood = table_wood, .ballast = one_bore,
                          .measured = "measured: {blank: [14 g, 15 g, 16.6 g]}\n"));
    assert_int_equal(r->ballast.by_blank_count, 3);
    for (int i = 0; i < 3; i++) {
        const struct spread_case *row = &r->ballast.by_blank[i];
        const struct results *alone = computed(
            b, PARTS(.wood = table_wood, .ballast = one_bore,
                     .measured = arena_printf(&b->arena, "measured: {blank: %g g}\n", bodies[i])));
        assert_int_equal(row->plug, i + 1);
        assert_close(row->body, bodies[i] * 1e-3, 1e-12);
        assert_close(row->wood_density, alone->plug.wood_density, 1e-12);
        assert_true(row->fits[0]);
        assert_close(row->load[0], alone->ballast.fills[0].load, 1e-9);
        assert_close(row->depth[0], alone->ballast.fills[0].depth, 1e-9);
    }
}

static void more_bodies_than_plugs_and_what_is_no_wood_are_errors_where_they_stand(void **state) {
    struct bench *b = *state;
    bench_recipe(b, PARTS(.measured = "measured: {blank: [15 g, 16 g]}\n"));
    bench_expect(b, "[15 g", "error measured: more bodies were weighed than plugs are made");
    bench_recipe(b, PARTS(.head = SIX, .measured = "measured: {blank: [15 g, 16 mm]}\n"));
    assert_int_equal(b->diags.errors, 1);
    assert_non_null(strstr(bench_said(b), bench_place(b, "16 mm")));
    bench_recipe(b, PARTS(.head = SIX, .measured = "measured: {blank: []}\n"));
    assert_int_equal(b->diags.errors, 1);
    bench_recipe(b, PARTS(.head = SIX, .measured = "measured: {blank: [{a: 1}]}\n"));
    assert_int_equal(b->diags.errors, 1);
    bench_compile(b, PARTS(.head = SIX, .measured = "measured: {blank: [15 g, 1.1 g, 90 g]}\n"));
    assert_int_equal(bench_count(b, "measured"), 2);
    assert_non_null(strstr(bench_said(b), bench_place(b, "1.1 g")));
    assert_non_null(strstr(bench_said(b), bench_place(b, "90 g")));
}

/* --- the table by the body's mass ------------------------------------------------------------- */

/* Closed form: a box, one bore that follows its load, the reserve alone.  What the finished plug
 * may weigh is the same for every body, and the wood that is drilled out is this body's. */
static void rows_of_one_bore_are_what_the_sums_by_hand_give(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(b, PARTS(.wood = table_wood, .ballast = one_bore));
    double water = r->plug.water, volume = 0.1 * 0.02 * 0.02;
    double shaped = volume - disc(0.002) * 0.020;
    double wire = mass_find(&r->masses, NAME_TIE_WIRE)->mass;
    assert_true(r->ballast.by_blank_count > 10);
    for (int i = 0; i < r->ballast.by_blank_count; i++) {
        const struct spread_case *row = &r->ballast.by_blank[i];
        double wood = row->body / shaped;
        /* load, 2 mm of filler over it, less the wood of a bore that deep */
        double gain = 1 - wood / lead, cover = disc(0.009) * 0.002;
        double load =
            (0.55 * water * volume - row->body - wire - cover * (bore_filler - wood)) / gain;
        assert_int_equal(row->plug, 0);
        assert_close(row->wood_density, wood, 1e-12);
        assert_close(row->load[0], load, 1e-9);
        assert_close(row->depth[0], load / (lead * disc(0.009)) + 0.002, 1e-9);
    }
}

/* Brute force: the recipe with that density of its own, solved. */
static void rows_of_two_bores_are_what_the_recipe_in_that_wood_needs(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(b, PARTS(SWIMMER, .wood = table_wood, .ballast = two_bores));
    assert_true(r->ballast.by_blank_count > 10);
    for (int i = 0; i < r->ballast.by_blank_count; i++) {
        const struct spread_case *row = &r->ballast.by_blank[i];
        struct answer other =
            answer_to(b, PARTS(SWIMMER, .ballast = two_bores,
                               .wood = arena_printf(
                                   &b->arena, "wood: {species: basswood, density: %.9f kg/m3}\n",
                                   row->wood_density)));
        assert_int_equal(row->solvable, other.result.solution.status == SOLVE_FOUND);
        for (int k = 0; row->solvable && k < 2; k++) {
            assert_near(row->load[k], other.result.fills[k].load, 2 * mg);
            assert_near(row->depth[k], other.result.fills[k].depth, 1e-6);
        }
    }
}

/* Whole steps of a scale, in the shop's unit, over two spreads either way and no further. */
static void rows_stand_in_steps_that_a_scale_tells(void **state) {
    static const struct {
        const char *shop;
        double unit; /* kg */
    } shops[] = {{"shop: {units: metric}\n", 1e-3}, {"shop: {units: inch}\n", 0.028349523125}};
    struct bench *b = *state;
    for (int spread = 0; spread <= 50; spread += 10)
        for (int i = 0; i < 2; i++) {
            const struct results *r = computed(
                b, PARTS(.ballast = one_bore, .shop = shops[i].shop,
                         .wood = arena_printf(&b->arena,
                                              "wood: {species: basswood, density: 400 kg/m3, "
                                              "spread: %d %%}\n",
                                              spread)));
            int count = r->ballast.by_blank_count;
            const struct spread_case *row = r->ballast.by_blank;
            double body = bench_mass(r, WEIGHED_SHAPED), share = spread / 100.0;
            assert_in_range(count, spread ? 2 : 1, 25);
            double step = count > 1 ? row[1].body - row[0].body : 0.0001;
            assert_true(step > 0.0001 - 1e-9);
            for (int k = 0; k < count; k++) {
                double steps = row[k].body / step;
                assert_near(steps, round(steps), 1e-6);
                if (k) assert_near(row[k].body - row[k - 1].body, step, 1e-12);
            }
            /* the step is 1, 2 or 5 of a decimal place */
            double figure = step / shops[i].unit;
            double leading = figure / pow(10, floor(log10(figure) + 1e-9));
            if (count > 1)
                assert_true(fabs(leading - 1) < 1e-6 || fabs(leading - 2) < 1e-6 ||
                            fabs(leading - 5) < 1e-6);
            double lightest = fmax(body * (1 - 2 * share), 50 * r->plug.shaped);
            double heaviest = fmin(body * (1 + 2 * share), 1500 * r->plug.shaped);
            assert_true(row[0].body <= lightest + step && row[0].body > lightest - step);
            assert_true(row[count - 1].body >= heaviest - step &&
                        row[count - 1].body < heaviest + step);
        }
}

/* A load that does not fit is none: as the compiler judges the recipe in that wood. */
static void a_row_fits_where_the_recipe_in_that_wood_passes(void **state) {
    static const char *const depths[] = {"", "depth: 9 mm, "};
    struct bench *b = *state;
    for (int given = 0; given < 2; given++) {
        const char *ballast = arena_printf(&b->arena,
                                           "ballast: {aim: {reserve: 20 %%}, bores: [{at: 50 mm, "
                                           "drill: 9 mm, %sload: solve}]}\n",
                                           depths[given]);
        const struct results *r = computed(
            b, PARTS(.ballast = ballast,
                     .wood = "wood: {species: basswood, density: 450 kg/m3, spread: 35 %}\n"));
        int fitting = 0, high = 0;
        for (int i = 0; i < r->ballast.by_blank_count; i++) {
            const struct spread_case *row = &r->ballast.by_blank[i];
            bench_compile(b, PARTS(.ballast = ballast,
                                   .wood = arena_printf(&b->arena,
                                                        "wood: {species: basswood, density: %.9f "
                                                        "kg/m3}\n",
                                                        row->wood_density)));
            assert_int_equal(row->fits[0], b->diags.errors == 0);
            assert_true(row->solvable || !row->fits[0]);
            fitting += row->fits[0];
            high += row->solvable && !row->fits[0];
        }
        assert_true(fitting > 0 && high > 0);
    }
}

static void without_a_load_to_solve_there_is_no_table(void **state) {
    assert_int_equal(computed(*state, PARTS(SWIMMER))->ballast.by_blank_count, 0);
    assert_int_equal(
        computed(*state, PARTS(.ballast = "ballast: {bores: [{at: 50 mm, drill: 8 mm, load: "
                                          "[{mass: 2 g}]}]}\n"))
            ->ballast.by_blank_count,
        0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(the_predicted_mass_printed_back_changes_nothing_in_the_shipped_recipes),
        BENCH_TEST(the_predicted_mass_printed_back_changes_nothing_in_the_starter),
        BENCH_TEST(the_predicted_mass_printed_back_changes_nothing_in_random_recipes),
        BENCH_TEST(a_weighed_body_has_its_slot_and_its_pilots_and_nothing_else),
        BENCH_TEST(several_bodies_count_as_their_mean_and_their_scatter_as_the_spread),
        BENCH_TEST(every_weighed_body_has_its_row),
        BENCH_TEST(more_bodies_than_plugs_and_what_is_no_wood_are_errors_where_they_stand),
        BENCH_TEST(rows_of_one_bore_are_what_the_sums_by_hand_give),
        BENCH_TEST(rows_of_two_bores_are_what_the_recipe_in_that_wood_needs),
        BENCH_TEST(rows_stand_in_steps_that_a_scale_tells),
        BENCH_TEST(a_row_fits_where_the_recipe_in_that_wood_passes),
        BENCH_TEST(without_a_load_to_solve_there_is_no_table),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
