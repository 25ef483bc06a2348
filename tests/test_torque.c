/* Torques over a fan of attitudes, against the closed forms of a box. */
#include "answer.h"

#include "compute/ballast/torque.h"

static const double degree = 3.14159265358979323846 / 180;

struct fan {
    struct plug plug;
    struct weighing weighing;
    struct torque_fan torque;
    long evaluations;
};

static struct fan *fan_of(struct bench *b, double middle, double half, struct range mass) {
    struct fan *fan = NEW(&b->arena, struct fan, 1);
    fan->plug = plug_of(&b->arena, bench_good(b, PARTS(0)));
    fan->weighing = weighing_of(&b->arena, &fan->plug, &fan->evaluations);
    assert_true(torque_fan_open(&fan->torque, &fan->weighing, middle, half, mass));
    return fan;
}

static double carried_whole(const struct fan *fan) {
    return fan->plug.water * box_length * box_width * box_height;
}

/* The lever of a box's buoyancy, wall-sided: at a mean draught d its centre lies d/2 over the
 * bottom and in the middle, and at an attitude t moves by L^2 tan t / 12 d to the nose and by half
 * of that times tan t up (moments of the two wedges). */
static double lever_of_box(const struct fan *fan, double mass, double attitude) {
    double draught = mass / (fan->plug.water * box_length * box_width);
    double moved = box_length * box_length * tan(attitude) / (12 * draught);
    double x = box_length / 2 - moved, z = (draught - box_height + moved * tan(attitude)) / 2;
    return x * cos(attitude) - z * sin(attitude);
}

static void edges_are_two_degrees_apart_and_the_middle_is_one(void **state) {
    const struct torque_fan *fan =
        &fan_of(*state, 3 * degree, 5 * degree, (struct range){0.02, 0.02})->torque;
    assert_int_equal(fan->edges, 7); /* three to either side: two would be 2.5 degrees apart */
    assert_near(fan->attitude[3], 3 * degree, 1e-15);
    assert_near(fan->attitude[0], -2 * degree, 1e-15);
    assert_near(fan->attitude[6], 8 * degree, 1e-15);
    for (int i = 0; i < fan->edges; i++) {
        assert_near(fan->sine[i], sin(fan->attitude[i]), 1e-15);
        assert_near(fan->cosine[i], cos(fan->attitude[i]), 1e-15);
    }
}

static void a_fan_ends_at_right_angles(void **state) {
    struct bench *b = *state;
    static const double middle[] = {-80, 0, 80.5};
    for (size_t i = 0; i < sizeof middle / sizeof *middle; i++) {
        const struct torque_fan *fan =
            &fan_of(b, middle[i] * degree, 180 * degree, (struct range){0.02, 0.02})->torque;
        assert_true(fan->edges <= TORQUE_EDGES);
        assert_near(fan->attitude[0], -90 * degree, 1e-12);
        assert_near(fan->attitude[fan->edges - 1], 90 * degree, 1e-12);
        for (int e = 0; e + 1 < fan->edges; e++) {
            double apart = fan->attitude[e + 1] - fan->attitude[e];
            assert_true(apart > 0 && apart < 2 * degree + 1e-12);
        }
    }
}

/* Within the doubt that is told, which is small: a hundredth of a millimetre of lever. */
static void a_floating_box_has_its_wall_sided_levers(void **state) {
    struct range masses = {0.012, 0.030};
    const struct fan *fan = fan_of(*state, degree, 4 * degree, masses);
    for (int e = 0; e < fan->torque.edges; e++)
        for (double mass = masses.least; mass <= masses.most; mass += 0.0009) {
            struct range got = torque_buoyancy(&fan->torque, e, (struct range){mass, mass});
            double due = mass * lever_of_box(fan, mass, fan->torque.attitude[e]);
            double doubt = torque_doubt(&fan->torque, (struct range){mass, mass});
            assert_true(got.least == got.most);
            assert_near(got.least, due, doubt);
            assert_near(got.least, due, mass * 1e-5);
            assert_true(doubt > 0 && doubt < mass * 2e-4);
        }
}

static void several_masses_have_all_their_moments(void **state) {
    struct range masses = {0.012, 0.030};
    const struct fan *fan = fan_of(*state, degree, 4 * degree, masses);
    for (int e = 0; e < fan->torque.edges; e++)
        for (double light = masses.least; light < masses.most - 2e-4; light += 0.0021) {
            struct range some = {light, light + 2e-4};
            struct range got = torque_buoyancy(&fan->torque, e, some);
            double doubt = torque_doubt(&fan->torque, some);
            for (int i = 0; i <= 10; i++) {
                double mass = light + i * 2e-5;
                double due = mass * lever_of_box(fan, mass, fan->torque.attitude[e]);
                assert_true(due >= got.least - doubt && due <= got.most + doubt);
            }
            assert_true(got.most - got.least < 3e-4 * box_length); /* and not many more */
        }
}

/* Under water its centre is the middle of the box, on the datum. */
static void a_sunk_box_has_one_lever(void **state) {
    struct bench *b = *state;
    double whole = carried_whole(fan_of(b, 0, degree, (struct range){0.02, 0.02}));
    struct range masses = {1.1 * whole, 1.5 * whole};
    const struct fan *fan = fan_of(b, 10 * degree, 20 * degree, masses);
    for (int e = 0; e < fan->torque.edges; e++) {
        double lever = box_length / 2 * cos(fan->torque.attitude[e]);
        struct range got = torque_buoyancy(&fan->torque, e, masses);
        assert_near(got.least, masses.least * lever, 1e-9);
        assert_near(got.most, masses.most * lever, 1e-9);
    }
}

static void masses_afloat_and_sunk_lie_in_bands_one_behind_the_other(void **state) {
    struct bench *b = *state;
    double whole = carried_whole(fan_of(b, 0, degree, (struct range){0.02, 0.02}));
    struct range masses = {0.3 * whole, 1.5 * whole};
    const struct torque_fan *fan = &fan_of(b, 0, 2 * degree, masses)->torque;
    assert_near(fan->band[0].mass.least, masses.least, 1e-15);
    assert_near(fan->band[fan->bands - 1].mass.most, masses.most, 1e-15);
    for (int i = 0; i + 1 < fan->bands; i++) {
        assert_true(fan->band[i].mass.most == fan->band[i + 1].mass.least);
        assert_true(fan->band[i].mass.most <= 1.3 * fan->band[i].mass.least + 1e-12);
    }
    assert_near(fan->band[fan->bands - 1].mass.least, whole, 1e-7);
    for (int i = 0; i < fan->bands; i++) {
        double middle = (fan->band[i].mass.least + fan->band[i].mass.most) / 2;
        assert_near(torque_doubt(fan, (struct range){middle, middle}), fan->band[i].doubt * middle,
                    1e-12);
    }
    assert_true(isinf(torque_doubt(fan, (struct range){masses.least * 0.99, masses.least})));
    assert_true(isinf(torque_doubt(fan, (struct range){masses.most, masses.most * 1.01})));
}

/* At a right angle there are two edges and no third to tell the bend between them by: it is taken
 * for apart^2 metres, of which four times an eighth may be missed, and 0.01 m more of the torque.
 */
static void two_edges_allow_for_a_bend_that_nothing_tells(void **state) {
    struct range mass = {0.02, 0.02};
    const struct torque_fan *fan = &fan_of(*state, 90 * degree, degree, mass)->torque;
    assert_int_equal(fan->edges, 2);
    assert_close(torque_doubt(fan, mass), 0.02 * (4 + 0.01) / 8 * degree * degree, 0.01);
}

/* x cos t - z sin t, times the mass. */
static void a_weight_turns_by_its_lever(void **state) {
    const struct torque_fan *fan =
        &fan_of(*state, 0, 60 * degree, (struct range){0.02, 0.02})->torque;
    struct tally tally = {.mass = 0.02, .x = 0.02 * 0.04, .z = 0.02 * -0.003};
    for (int e = 0; e < fan->edges; e++) {
        double t = fan->attitude[e];
        assert_near(torque_weight(fan, e, &tally), 0.02 * (0.04 * cos(t) + 0.003 * sin(t)), 1e-15);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(edges_are_two_degrees_apart_and_the_middle_is_one),
        BENCH_TEST(a_fan_ends_at_right_angles),
        BENCH_TEST(a_floating_box_has_its_wall_sided_levers),
        BENCH_TEST(several_masses_have_all_their_moments),
        BENCH_TEST(a_sunk_box_has_one_lever),
        BENCH_TEST(masses_afloat_and_sunk_lie_in_bands_one_behind_the_other),
        BENCH_TEST(two_edges_allow_for_a_bend_that_nothing_tells),
        BENCH_TEST(a_weight_turns_by_its_lever),
    };
    return cmocka_run_group_tests_name("torque", tests, NULL, NULL);
}
