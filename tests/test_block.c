/* The square block: where the plug lies in it, and how much deeper a bore is from its face. */
#include "recipe_text.h"

#include "compute/plug/block.h"
#include "compute/plug/plug.h"

static const double step = 1e-6; /* of the march, m */

static const char body[] = "body:\n"
                           "  length: 130 mm\n"
                           "  section: {shape: oval}\n"
                           "  stations:\n"
                           "    - {at: 0 mm, back: 3 mm, belly: 4 mm, width: 6 mm}\n"
                           "    - {at: 40 mm, back: 12 mm, belly: 15 mm, width: 22 mm}\n"
                           "    - {at: 80 mm, back: 14 mm, belly: 11 mm, width: 20 mm}\n"
                           "    - {at: 130 mm, back: 2 mm, belly: 2 mm, width: 4 mm}\n";
static const char shop[] = "shop: {allowance: {length: 10 mm, height: 3 mm, width: 4 mm}}\n";

static struct plug plug_with(struct bench *b, const char *lip, const char *hardware) {
    return plug_of(&b->arena, bench_good(b, PARTS(.body = body, .shop = shop, .lip = lip,
                                                  .hardware = hardware)));
}

/* Half of an allowance stands on either side. */
static void the_plug_lies_in_the_middle_of_its_block(void **state) {
    struct plug plug = plug_with(*state, NULL, NULL);
    struct block block = block_of(plug.recipe);
    assert_close(block.length, 0.140, 1e-12);
    assert_close(block.height, 0.014 + 0.015 + 0.003, 1e-12);
    assert_close(block.width, 0.026, 1e-12);
    assert_close(block.nose, 0.005, 1e-12);
    assert_close(block.back, 0.0155, 1e-12);
    assert_close(block.belly, 0.0165, 1e-12);
}

/* No curve between stations leaves the block: looked for on a fine grid. */
static void the_body_never_leaves_its_block(void **state) {
    struct plug plug = plug_with(*state, NULL, NULL);
    struct block block = block_of(plug.recipe);
    double top = 0, bottom = 0;
    for (int i = 0; i <= 13000; i++) {
        top = fmax(top, plug_top(&plug, i * 1e-5));
        bottom = fmin(bottom, plug_bottom(&plug, i * 1e-5));
    }
    assert_close(block.back - top, 0.0015, 1e-6);
    assert_close(block.belly + bottom, 0.0015, 1e-6);
}

static bool in_block(const struct block *block, double x, double z) {
    return x > -block->nose && x < block->length - block->nose && z > -block->belly &&
           z < block->back;
}

/* Step by step out of the wood, the way that a drill comes in. */
static double marched(const struct block *block, double x, double z, double u_x, double u_z) {
    int steps = 0;
    while (in_block(block, x - steps * step * u_x, z - steps * step * u_z)) steps++;
    return steps * step;
}

static void a_bore_is_deeper_in_the_block_by_the_waste_on_its_way(void **state) {
    struct plug plug = plug_with(
        *state, NULL,
        "hardware:\n  wire: {diameter: 1 mm}\n  line tie: {place: nose}\n  hangers:\n"
        "    - {place: belly, at: 60 mm}\n    - {place: back, at: 100 mm}\n    - {place: tail}\n");
    struct block block = block_of(plug.recipe);
    for (int i = 0; i < plug.fitting_count; i++) {
        const struct pilot *p = &plug.fittings[i].pilot;
        double waste = block_waste(&block, p->mouth_x, p->mouth_z, p->u_x, p->u_z);
        assert_near(waste, marched(&block, p->mouth_x, p->mouth_z, p->u_x, p->u_z), 2 * step);
    }
    /* By hand: half the allowance at the ends; at a station, its height below the block's face. */
    assert_close(block_waste(&block, 0, 0, 1, 0), 0.005, 1e-12);
    assert_close(block_waste(&block, 0.130, 0, -1, 0), 0.005, 1e-12);
    assert_close(block_waste(&block, 0.080, -0.011, 0, 1), 0.0165 - 0.011, 1e-12);
    assert_close(block_waste(&block, 0.040, 0.012, 0, -1), 0.0155 - 0.012, 1e-12);
}

/* A flat lip's slot comes in through the front end, a steep one's from below. */
static void a_slot_is_deeper_in_the_block_along_its_cut(void **state) {
    for (int angle = 5; angle <= 90; angle += 5) {
        struct plug plug = plug_with(
            *state,
            arena_printf(
                &((struct bench *)*state)->arena,
                "lip: {thickness: 1 mm, length: 30 mm, width: 14 mm, shape: square, at: 12 "
                "mm, angle: %d deg, slot: 8 mm}\n",
                angle),
            NULL);
        struct block block = block_of(plug.recipe);
        const struct plate *p = &plug.plate;
        double waste = block_waste(&block, p->mouth_x, p->mouth_z, -p->u_x, -p->u_z);
        double ahead = (0.012 + 0.005) / cos(angle * one_degree);
        double below = (0.0165 + plug_bottom(&plug, 0.012)) / sin(angle * one_degree);
        assert_close(waste, fmin(ahead, below), 1e-9);
        assert_near(waste, marched(&block, p->mouth_x, p->mouth_z, -p->u_x, -p->u_z), 2 * step);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(the_plug_lies_in_the_middle_of_its_block),
        BENCH_TEST(the_body_never_leaves_its_block),
        BENCH_TEST(a_bore_is_deeper_in_the_block_by_the_waste_on_its_way),
        BENCH_TEST(a_slot_is_deeper_in_the_block_along_its_cut),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
