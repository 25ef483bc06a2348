/* Equilibrium under tow, hold, and the depth that follows: limits by hand, and one whole plug whose
 * numbers were computed by two other programs. */
#include "recipe_text.h"

#include "compute/running/hold.h"
#include "compute/running/rig.h"
#include "compute/running/root.h"
#include "compute/running/spread.h"

static const double gravity = 9.80665;

/* --- one whole plug -------------------------------------------------------------------------- */

/* recipes/grebe.yaml on 0.30 mm nylon, the rod's tip 1 m above the water, with the mass that it had
 * in the other programs: how well mass is known is for others to test. */
static struct rig grebe_rig(struct bench *bench) {
    struct compilation c = compile_check(&bench->arena, "recipes/grebe.yaml");
    assert_false(compilation_failed(&c));
    struct running running = {.diameter = 0.30e-3, .density = 1140, .tip = 1};
    struct recipe recipe = *c.recipe;
    recipe.running = &running;
    c.results.plug.recipe = &recipe;
    struct rig rig = rig_of(&c.results.plug, &c.results.masses, &c.results.finished.rest);
    rig.tow.weight = 24.296477561171e-3 * gravity;
    rig.tow.gravity = (struct pull_spot){38.858905683791e-3, -3.828442496792e-3};
    return rig;
}

static void a_whole_plug_agrees_with_two_other_programs(void **state) {
    struct rig rig = grebe_rig(*state);
    const struct across *a = &rig.tow.across;
    assert_close(a->girth, 0.000495590853, 1e-9);
    assert_close(rig.tow.buoyancy / gravity / rig.tow.water, 2.86056479e-05, 1e-8);
    assert_close(rig.tow.centre.x, 0.0400474956, 1e-8);
    assert_close(rig.tow.centre.z, -0.00125522648, 1e-8);
    assert_close(a->slenderness, 3.78187269, 1e-8);
    assert_close(a->plan, 0.000893090769, 1e-8);
    assert_close(a->plan_x, 3.91894143e-05, 1e-8);
    assert_close(a->side, 0.00173946889, 1e-8);
    assert_close(a->side_x, 7.41868499e-05, 1e-8);
    assert_close(a->side_z, -1.45757798e-06, 1e-8);
    assert_close(a->heave, 1.66779468e-05, 1e-8);
    assert_close(a->sway, 2.65059069e-05, 1e-8);
    struct coefficients middle = spread_middle();
    struct stream stream = stream_of(&rig.tow, &middle);
    struct pull pull = pull_at(&stream, 1.5);
    assert_near(pull.trim / one_degree, 28.02226722, 1e-8);
    assert_near(pull.line_back, 0.86879005, 1e-8);
    assert_near(pull.line_down, 0.28853503, 1e-8);
    double out = 30, depth;
    rig_depths(&rig, &middle, &pull, LINE_STEPS, &out, 1, &depth);
    assert_near(depth, 2.66477541, 1e-8);
    rig_depths(&rig, &middle, &pull, LINE_STRIDES, &out, 1, &depth);
    assert_near(depth, 2.66477541, 1e-6);
    struct hold hold = hold_at(&stream, &pull);
    assert_near(hold.yaw, 0.57430943, 1e-8);
    assert_near(hold.tie_aside * 1e3, 0.37588546, 1e-8);
}

/* Weights drop out at high speed; at low speed the tie holds it down, and it hangs from there. */
static void fast_the_water_alone_and_slow_the_weights_alone_set_the_trim(void **state) {
    struct rig rig = grebe_rig(*state);
    struct coefficients middle = spread_middle();
    struct stream stream = stream_of(&rig.tow, &middle);
    double fast = pull_at(&stream, 100).trim, half = pull_at(&stream, 50).trim;
    assert_near(fast / one_degree, half / one_degree, 0.002);
    assert_near(pull_at(&stream, 1e-4).trim / one_degree, 75.0139, 1e-4);
    struct pull slow = pull_at(&stream, 0.05);
    assert_near(slow.line_down + rig.tow.buoyancy - rig.tow.weight, 1.04e-4, 5e-7);
    double out[] = {10, 30}, depth[2];
    assert_true(slow.line_down < 0);
    rig_depths(&rig, &middle, &slow, LINE_STEPS, out, 2, depth);
    assert_true(depth[0] == 0 && depth[1] == 0);
}

/* --- a plug for the rest --------------------------------------------------------------------- */

static const char lip_36[] = "lip: {thickness: 1.5 mm, length: 28 mm, width: 20 mm, shape: square, "
                             "at: 10 mm, angle: 36 deg, slot: 8 mm}\n";
static const char bores[] =
    "ballast:\n  bores:\n    - {at: 40 mm, drill: 8 mm, load: [{mass: 8 g}]}\n";

static struct tow tow_with(struct bench *bench, const char *hardware, const char *lip) {
    struct compilation c = bench_compile(
        bench, PARTS(.body = swimmer_body, .hardware = hardware, .lip = lip, .ballast = bores));
    if (compilation_failed(&c)) print_error("%s", bench_said(bench));
    assert_false(compilation_failed(&c));
    return tow_of(&c.results.plug, &c.results.masses, &c.results.finished.rest);
}

static void without_a_lip_one_that_floats_is_not_computed(void **state) {
    struct tow tow = tow_with(*state, swimmer_hardware, NULL);
    assert_true(tow.buoyancy > tow.weight);
    assert_int_equal(tow_kind_of(&tow), TOW_ON_TOP);
}

/* tan(angle) = net weight / drag, the drag that of a level body with its hooks. */
static void without_a_lip_a_sinker_hangs_on_its_line_by_weight_alone(void **state) {
    struct tow tow = tow_with(*state, swimmer_hardware, NULL);
    tow.weight = 1.03 * tow.buoyancy;
    assert_int_equal(tow_kind_of(&tow), TOW_BY_WEIGHT);
    struct coefficients k = spread_middle();
    struct stream stream = stream_of(&tow, &k);
    struct pull pull = pull_at(&stream, 1.2);
    double q = 0.5 * tow.water * 1.2 * 1.2, area = k.along * tow.across.girth;
    for (int i = 0; i < tow.hook_count; i++) area += k.hooks * tow.hooks[i].drag;
    assert_true(pull.steady && pull.trim == 0 && pull.down == 0);
    assert_close(tan(pull.angle), 0.03 * tow.buoyancy / (k.back * q * area), 1e-12);
    assert_close(pull_dives_from(&stream), reference_fact[FACT_TOW_SLOWEST].value, 1e-12);
}

static void an_upright_lip_on_a_level_plug_pushes_nothing_down(void **state) {
    static const char upright[] = "lip: {thickness: 1.5 mm, length: 18 mm, width: 20 mm, "
                                  "shape: square, at: 10 mm, angle: 90 deg, slot: 8 mm}\n";
    struct tow tow = tow_with(*state, swimmer_hardware, upright);
    struct coefficients k = spread_middle();
    struct stream stream = stream_of(&tow, &k);
    /* Aft only: its arm is its height, and it does not matter how far forward it stands. */
    double q = 0.5 * tow.water, here = pull_moment(&stream, 1, 0);
    double force = q * 1.16820 * tow.lip.area * k.lip * pow(tow.lip.aspect, k.lip_aspect);
    assert_close(tow.lip.aspect, 2, 1e-12);
    tow.lip.mouth.x += 0.010;
    assert_near(pull_moment(&stream, 1, 0), here, 1e-12);
    tow.lip.mouth.z -= 0.010;
    double stalled = blade_force(&tow.lip.blade, 90 * one_degree) / 1.16820;
    assert_close(pull_moment(&stream, 1, 0) - here, 0.010 * force * stalled, 1e-9);
}

/* The moment is the sum of forces times arms, each written out by itself. */
static void the_moment_is_that_of_all_forces_about_the_pull(void **state) {
    struct tow tow = tow_with(*state, swimmer_hardware, lip_36);
    for (int n = 1; n <= SPREAD_POINTS; n++) {
        struct coefficients k = spread_point(n);
        struct stream stream = stream_of(&tow, &k);
        double trim = (n - 20) * one_degree, s = sin(trim), c = cos(trim), v = 0.5 + 0.05 * n;
        double q = 0.5 * tow.water * v * v, px = tow.tie.x, pz = tow.tie.z;
        double across = -q * k.crossflow * s * fabs(s);
        double sum = across * (tow.across.plan_x - px * tow.across.plan);
        sum += q * k.couple * tow.across.heave * sin(2 * trim);
        sum -= (tow.across.z - pz) * q * k.along * tow.across.girth * c * fabs(c);
        for (int i = 0; i < tow.hook_count; i++) {
            double h = q * k.hooks * tow.hooks[i].drag;
            sum += (tow.hooks[i].at.x - px) * -h * s - (tow.hooks[i].at.z - pz) * h * c;
        }
        double angle = 36 * one_degree + k.lip_angle, i = angle + trim;
        struct blade blade = blade_of(20.0 / 20);
        double at = 0.010 + 0.020 * (0.175 * (1 - 2 * fabs(i) / circle) + k.lip_centre);
        double force = q * 0.0004 * k.lip * blade_force(&blade, i); /* m = 1 */
        double lx = tow.lip.mouth.x - at * cos(angle), lz = tow.lip.mouth.z - at * sin(angle);
        sum += (lx - px) * -force * cos(angle) - (lz - pz) * force * sin(angle);
        sum += tow.buoyancy * ((tow.centre.x - px) * c - (tow.centre.z - pz) * s);
        sum -= tow.weight * ((tow.gravity.x - px) * c - (tow.gravity.z - pz) * s);
        assert_near(pull_moment(&stream, v, trim), sum, 1e-12);
    }
}

/* D and Z from the force that holds it: no other force is there, so they are the sum in the world.
 */
static void trim_is_where_the_moment_falls_through_zero(void **state) {
    struct tow tow = tow_with(*state, swimmer_hardware, lip_36);
    int steady = 0;
    for (int n = 1; n <= SPREAD_POINTS; n++)
        for (double v = 0.3; v < 4; v += 0.4) {
            struct coefficients k = spread_point(n);
            struct stream stream = stream_of(&tow, &k);
            struct pull pull = pull_at(&stream, v);
            if (!pull.steady) continue;
            steady++;
            assert_true(pull_moment(&stream, v, pull.trim - 1e-6) > 0);
            assert_true(pull_moment(&stream, v, pull.trim + 1e-6) < 0);
            assert_close(pull.tension, hypot(pull.line_back, pull.line_down), 1e-12);
            assert_close(pull.line_back, k.back * pull.back, 1e-12);
            assert_close(pull.line_down, k.down * pull.down - tow.buoyancy + tow.weight, 1e-9);
            assert_true(pull.back > 0);
        }
    assert_true(steady > 500);
}

/* With nothing left to the wobble the forces of every trim add up to none. */
static void the_forces_hold_each_other(void **state) {
    struct tow tow = tow_with(*state, swimmer_hardware, lip_36);
    for (int n = 1; n <= SPREAD_POINTS; n++) {
        struct coefficients k = spread_point(n);
        k.down = k.back = 1;
        struct stream stream = stream_of(&tow, &k);
        struct pull pull = pull_at(&stream, 1.7);
        struct force force[FORCES];
        double aft = 0, up = 0;
        if (!pull.steady) continue;
        pull_forces(&stream, &pull, force);
        for (int i = 0; i < FORCES; i++) aft += force[i].aft, up += force[i].up;
        assert_near(aft, 0, 1e-12);
        assert_near(up, 0, 1e-12);
        assert_close(hypot(force[FORCE_LIP].aft, force[FORCE_LIP].up), pull.lip.force, 1e-12);
        assert_close(hypot(force[FORCE_LINE].aft, force[FORCE_LINE].up), pull.tension, 1e-12);
        assert_true(force[FORCE_LIP].up < 0 && force[FORCE_LINE].aft < 0);
    }
}

/* A plug that is pulled by its tail has no attitude at which the moment would turn it back. */
static void one_that_nothing_turns_back_turns_over(void **state) {
    struct tow tow = tow_with(*state, swimmer_hardware, lip_36);
    tow.tie.x = 0.5;
    struct coefficients k = spread_middle();
    struct stream stream = stream_of(&tow, &k);
    struct pull pull = pull_at(&stream, 2);
    assert_false(pull.steady);
    assert_true(isinf(pull_dives_from(&stream)));
    assert_close(hold_speed(&stream), reference_fact[FACT_TOW_SLOWEST].value, 1e-12);
}

static void it_dives_from_where_the_line_begins_to_feel_it_below(void **state) {
    struct tow tow = tow_with(*state, swimmer_hardware, lip_36);
    for (int n = 1; n <= SPREAD_POINTS; n++) {
        struct coefficients k = spread_point(n);
        struct stream stream = stream_of(&tow, &k);
        double from = pull_dives_from(&stream);
        assert_true(from > 0.2 && from < 4);
        assert_near(pull_at(&stream, from).line_down, 0, 1e-7);
        assert_true(pull_at(&stream, from + 0.01).line_down > 0);
    }
}

/* A tie on the lip stands on its upper side, an eye's width off it, and turns with it. */
static void a_tie_on_the_lip_turns_with_the_lip(void **state) {
    struct tow tow = tow_with(*state,
                              "hardware:\n  wire: {diameter: 1.2 mm}\n"
                              "  line tie: {place: lip, at: 12 mm, eye: 4 mm}\n",
                              lip_36);
    for (int n = 1; n < 5; n++) {
        struct coefficients k = spread_point(n);
        struct stream stream = stream_of(&tow, &k);
        double a = 36 * one_degree + k.lip_angle;
        double s = 0.020 - 0.012; /* 20 mm stand out, 12 of them beyond the eye */
        assert_close(stream.tie.x, 0.010 - s * cos(a) - 0.004 * sin(a), 1e-12);
        assert_close(stream.tie.z, tow.lip.mouth.z - s * sin(a) + 0.004 * cos(a), 1e-12);
    }
}

static void ties_elsewhere_pull_at_their_eyes_outer_end(void **state) {
    struct tow tow = tow_with(*state, swimmer_hardware, lip_36);
    assert_close(tow.tie.x, -0.003, 1e-12);
    assert_near(tow.tie.z, 0, 1e-15);
    tow = tow_with(*state,
                   "hardware:\n  wire: {diameter: 1.2 mm}\n"
                   "  line tie: {place: back, at: 35 %, eye: 5 mm}\n",
                   lip_36);
    assert_close(tow.tie.x, 0.35 * 0.140, 1e-12);
    assert_close(tow.tie.z, 0.014 + 0.005, 1e-12);
}

/* Drag area of a treble goes by its mass to the power 2/3; rings do not count. */
static void hooks_drag_by_their_mass(void **state) {
    struct tow tow = tow_with(*state, swimmer_hardware, lip_36);
    assert_int_equal(tow.hook_count, 2);
    assert_close(tow.hooks[0].drag, 75e-6 * pow(4.4, 2.0 / 3), 1e-12);
    assert_close(tow.hooks[1].drag, 75e-6 * pow(1.5, 2.0 / 3), 1e-12);
    assert_close(tow.hooks[1].at.x, 0.140, 1e-12);
}

/* --- hold ------------------------------------------------------------------------------------ */

static void a_tie_aside_heels_it_in_proportion(void **state) {
    struct rig rig = grebe_rig(*state);
    struct coefficients middle = spread_middle();
    struct stream stream = stream_of(&rig.tow, &middle);
    struct pull pull = pull_at(&stream, 1.5);
    struct hold hold = hold_at(&stream, &pull);
    double heel = hold.tie_aside * (pull.down + hold.yaw * pull.back) / hold.stiffness;
    assert_close(heel, 30 * one_degree, 1e-12);
    struct pull faster = pull_at(&stream, 2.5);
    assert_true(hold_at(&stream, &faster).tie_aside < hold.tie_aside);
}

static void the_hold_speed_is_where_half_a_millimetre_rolls_it_out(void **state) {
    struct rig rig = grebe_rig(*state);
    int inside = 0;
    for (int n = 1; n <= SPREAD_POINTS; n++) {
        struct coefficients k = spread_point(n);
        struct stream stream = stream_of(&rig.tow, &k);
        double speed = hold_speed(&stream);
        if (speed <= 0.2 || speed >= 4) continue;
        inside++;
        struct pull pull = pull_at(&stream, speed);
        assert_near(hold_at(&stream, &pull).tie_aside, 0.5e-3, 1e-9);
    }
    assert_true(inside > 40);
}

/* Weight far below holds at any speed; above the centre of buoyancy, at none. */
static void a_low_centre_of_gravity_holds_and_a_high_one_does_not(void **state) {
    struct rig rig = grebe_rig(*state);
    struct coefficients middle = spread_middle();
    struct tow low = rig.tow, high = rig.tow;
    low.gravity.z -= 0.005;
    high.gravity.z += 0.010;
    struct stream stream = stream_of(&low, &middle);
    assert_true(hold_speed(&stream) > 2);
    stream = stream_of(&high, &middle);
    struct pull pull = pull_at(&stream, 1.5);
    struct hold hold = hold_at(&stream, &pull);
    assert_true(hold.stiffness < 0 && hold.tie_aside == 0);
    assert_close(hold_speed(&stream), 0.2, 1e-12);
}

/* --- roots ----------------------------------------------------------------------------------- */

static double steep(const void *context, double at) {
    int *asked = *(int *const *)context;
    ++*asked;
    return at < 0.1 ? -INFINITY : at * at * at - 0.3;
}

static void a_root_is_found_in_few_steps_even_beside_infinity(void **state) {
    (void)state;
    int asked = 0, *counter = &asked;
    struct bracket bracket = {0, 5, -INFINITY, 124.7};
    double root = root_between(bracket, 1e-12, steep, &counter);
    assert_near(root, cbrt(0.3), 1e-12);
    assert_true(asked < 25);
    asked = 0;
    assert_near(root_rising(0, 5, 1e-12, steep, &counter), cbrt(0.3), 1e-12);
    assert_true(asked < 25);
    assert_true(root_rising(1, 5, 1e-12, steep, &counter) == 1);
    assert_true(root_rising(0, 0.5, 1e-12, steep, &counter) == 0.5);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_whole_plug_agrees_with_two_other_programs),
        BENCH_TEST(fast_the_water_alone_and_slow_the_weights_alone_set_the_trim),
        BENCH_TEST(without_a_lip_one_that_floats_is_not_computed),
        BENCH_TEST(without_a_lip_a_sinker_hangs_on_its_line_by_weight_alone),
        BENCH_TEST(an_upright_lip_on_a_level_plug_pushes_nothing_down),
        BENCH_TEST(the_moment_is_that_of_all_forces_about_the_pull),
        BENCH_TEST(trim_is_where_the_moment_falls_through_zero),
        BENCH_TEST(the_forces_hold_each_other),
        BENCH_TEST(one_that_nothing_turns_back_turns_over),
        BENCH_TEST(it_dives_from_where_the_line_begins_to_feel_it_below),
        BENCH_TEST(a_tie_on_the_lip_turns_with_the_lip),
        BENCH_TEST(ties_elsewhere_pull_at_their_eyes_outer_end),
        BENCH_TEST(hooks_drag_by_their_mass),
        BENCH_TEST(a_tie_aside_heels_it_in_proportion),
        BENCH_TEST(the_hold_speed_is_where_half_a_millimetre_rolls_it_out),
        BENCH_TEST(a_low_centre_of_gravity_holds_and_a_high_one_does_not),
        BENCH_TEST(a_root_is_found_in_few_steps_even_beside_infinity),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
