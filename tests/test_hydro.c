/* Rest and metacentric height against closed forms: BM = I/V on bodies whose waterplanes are known
 * (hydrostatics of ships; Encyclopaedia Britannica, 11th edition, 1911, "Hydromechanics"), with the
 * figures evaluated from the formula beside them; other sources stand where they are used. */
#include "close.h"

#include "bodies.h"
#include "compute/shape/section.h"

static const double PI = 3.14159265358979323846, WATER = 1000;

static struct arena arena;

static int arena_gone(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

static double degrees(double radians) {
    return radians * 180 / PI;
}

static struct burden burden_of(double mass, double x, double z) {
    return (struct burden){.mass = mass, .x = x, .z = z};
}

/* A prism about the datum, its mass a share of what it can displace, G at (x, z). */
static struct rest rest_of_prism(double length, double height, double width,
                                 enum section_shape shape, double share, double x, double z) {
    struct outline outline = body_prism(&arena, length, height, width, shape, 0);
    struct hull hull = body_hull(&arena, &outline);
    struct burden burden = burden_of(share * WATER * hull.volume, x, z);
    return hydro_rest(&hull, &burden, WATER);
}

/* Archimedes: draught s h; BM = b^2/(12 s h), GM = KB + BM - KG = 2.83333 mm. */
static void a_box_floats_at_its_share_of_depth(void **state) {
    (void)state;
    struct rest rest = rest_of_prism(0.1, 0.020, 0.030, SECTION_SQUARE, 0.45, 0.05, 0);
    assert_true(rest.afloat && rest.found);
    assert_near(rest.attitude, 0, 1e-12);
    assert_near(rest.level, -0.010 + 0.45 * 0.020, 1e-9);
    assert_close(rest.reserve, 0.55, 1e-12);
    assert_close(rest.capacity, 0.06, 1e-12);
    assert_near(rest.buoyancy_x, 0.05, 1e-12);
    assert_near(rest.buoyancy_z, -0.010 + 0.0045, 1e-9);
    assert_near(rest.gm, 2.833333333e-3, 1e-9);
}

/* s = (th - sin th)/(2 pi), draught R (1 - cos(th/2)); M is the axis. */
static void a_horizontal_cylinder_floats_by_its_segment(void **state) {
    (void)state;
    static const double row[][2] = {{0.25, 0.59602725}, {0.37, 0.79433731}};
    for (int i = 0; i < 2; i++) {
        struct rest rest = rest_of_prism(0.2, 0.02, 0.02, SECTION_OVAL, row[i][0], 0.1, -0.002);
        assert_near(rest.level, 0.01 * (row[i][1] - 1), 1e-9);
        assert_near(rest.gm, 0.002, 1e-9);
    }
}

/* GM = 2 a (a^2 - b^2)(1 - z^2)^(3/2) / (3 s pi a b) for a 12, b 8 mm, G at the centre. */
static void an_oval_section_has_its_metacentric_height(void **state) {
    (void)state;
    static const double row[][2] = {{0.3, 6.017347}, {0.5, 4.244132}, {0.6, 3.405605}};
    for (int i = 0; i < 3; i++) {
        struct rest rest = rest_of_prism(0.2, 0.016, 0.024, SECTION_OVAL, row[i][0], 0.1, 0);
        assert_near(1e3 * rest.gm, row[i][1], 1e-5);
    }
}

/* Face-up below 1/2 - sqrt(1/12) and above 1/2 + sqrt(1/12) (Reid 1963, Am. J. Phys. 31, 565-568).
 */
static void a_square_beam_turns_over_at_its_two_densities(void **state) {
    (void)state;
    static const struct {
        double share;
        bool stable;
    } row[] = {{0.2113249 - 1e-5, true},
               {0.2113249 + 1e-5, false},
               {0.7886751 - 1e-5, false},
               {0.7886751 + 1e-5, true}};
    for (int i = 0; i < 4; i++) {
        struct rest rest = rest_of_prism(0.3, 0.02, 0.02, SECTION_SQUARE, row[i].share, 0.15, 0);
        assert_true((rest.gm > 0) == row[i].stable);
        assert_near(rest.gm, 0, 1e-6);
    }
}

/* Wall-sided along its length: tan t (GM + BM tan^2 t / 2) = x with BM = L^2/(12 T) and G a
 * distance x forward of the middle; holds until an end emerges or dips under (closed form, the same
 * formula). */
static void a_box_trims_by_the_wall_sided_formula(void **state) {
    (void)state;
    double length = 0.12, height = 0.04, draught = 0.02, g = -0.005;
    for (int i = -3; i <= 3; i++) {
        double off = 0.004 * i;
        double bm = length * length / (12 * draught), gm = -0.01 + bm - g; /* KB of -10 mm */
        double low = -1, high = 1;
        for (int k = 0; k < 200; k++) {
            double t = 0.5 * (low + high);
            if (t * (gm + bm * t * t / 2) < off)
                low = t;
            else
                high = t;
        }
        assert_true(fabs(low) * length / 2 < draught);
        struct rest rest =
            rest_of_prism(length, height, 0.03, SECTION_SQUARE, 0.5, length / 2 - off, g);
        assert_true(rest.found);
        assert_near(degrees(rest.attitude), degrees(atan(low)), 1e-5);
    }
}

/* Upright round cylinder: BM = d^2/(16 T); hung by its tail it stands on end exactly,
 * at the bound of the search. */
static void a_cylinder_weighted_at_one_end_stands_upright(void **state) {
    (void)state;
    double d = 0.02, length = 0.15, share = 0.7;
    for (int end = 0; end < 2; end++) {
        double x = end ? 0.120 : 0.030;
        struct rest rest = rest_of_prism(length, d, d, SECTION_OVAL, share, x, 0);
        double draught = share * length;
        assert_true(rest.found);
        assert_near(degrees(rest.attitude), end ? -90 : 90, 1e-4);
        double over = (end ? length - draught / 2 : draught / 2) - x;
        assert_near(rest.gm, d * d / (16 * draught) + fabs(over), 2e-7);
        assert_near(rest.level, end ? draught - length : draught, 1e-7);
    }
}

/* Cone, point down, BM = (3/4) T tan^2 alpha; paraboloid y^2 = 4 f x, BM = 2 f. */
static void a_cone_and_a_paraboloid_float_point_down(void **state) {
    (void)state;
    double h = 0.06, r = 0.02, share = 0.4, low = 0.02;
    struct body_table cone = {0}, bowl = {0};
    body_row(&cone, 0, 0, 0, 0);
    body_row(&cone, h, r, r, 2 * r);
    for (int i = 0; i < MAX_STATIONS; i++) {
        double t = (double)i / (MAX_STATIONS - 1);
        body_row(&bowl, h * t * t, r * t, r * t, 2 * r * t);
    }
    struct outline a = body_outline(&arena, &cone, SECTION_OVAL, 0);
    struct outline b = body_outline(&arena, &bowl, SECTION_OVAL, 0);
    struct hull one = body_hull(&arena, &a), two = body_hull(&arena, &b);
    struct burden burden = burden_of(share * WATER * one.volume, low, 0);
    struct rest rest = hydro_rest(&one, &burden, WATER);
    double draught = h * cbrt(share);
    assert_near(degrees(rest.attitude), 90, 1e-4);
    assert_near(rest.gm, 0.75 * draught * r * r / (h * h) + 0.75 * draught - low, 1e-6);
    burden.mass = share * WATER * two.volume;
    rest = hydro_rest(&two, &burden, WATER);
    draught = h * sqrt(share);
    assert_near(degrees(rest.attitude), 90, 1e-4);
    assert_near(rest.gm, 2 * r * r / (4 * h) + 2 * draught / 3 - low, 1e-6);
}

/* Of what floats with s and what floats with 1 - s upside down, one is the other's mirror (Gilbert
 * 1991).  A body that is its own mirror across the datum then lies as steep the other
 * way. */
static void equilibria_for_a_share_and_its_complement_are_the_same(void **state) {
    (void)state;
    struct body_table table = {0};
    body_row(&table, 0.00, 0.004, 0.004, 0.010);
    body_row(&table, 0.03, 0.014, 0.014, 0.034);
    body_row(&table, 0.08, 0.009, 0.009, 0.022);
    body_row(&table, 0.13, 0.001, 0.001, 0.004);
    for (int shape = 0; shape < 3; shape++) {
        struct outline outline = body_outline(&arena, &table, (enum section_shape)shape, 0.004);
        struct hull hull = body_hull(&arena, &outline);
        double x = hull.moment_x / hull.volume;
        for (int i = 1; i < 10; i++) {
            double s = 0.05 * i;
            struct burden light = burden_of(s * WATER * hull.volume, x, 0);
            struct burden heavy = burden_of((1 - s) * WATER * hull.volume, x, 0);
            struct rest one = hydro_rest(&hull, &light, WATER);
            struct rest other = hydro_rest(&hull, &heavy, WATER);
            assert_true(one.found && other.found);
            assert_true(fabs(one.attitude) > 1e-4);
            assert_near(degrees(one.attitude), -degrees(other.attitude), 1e-3);
            assert_near(one.level, -other.level, 1e-7);
        }
    }
}

static void below_the_surface_g_hangs_under_b(void **state) {
    (void)state;
    double length = 0.1;
    struct outline outline = body_prism(&arena, length, 0.02, 0.03, SECTION_SQUARE, 0);
    struct hull hull = body_hull(&arena, &outline);
    struct burden burden = burden_of(1.1 * WATER * hull.volume, 0.045, -0.004);
    struct rest rest = hydro_rest(&hull, &burden, WATER);
    assert_false(rest.afloat);
    assert_true(rest.found);
    assert_close(rest.reserve, -0.1, 1e-12);
    assert_near(rest.attitude, atan(0.005 / 0.004), 1e-12);
    assert_near(rest.gm, hypot(0.005, 0.004), 1e-12);
    burden.z = 0.004; /* G above B */
    rest = hydro_rest(&hull, &burden, WATER);
    assert_false(rest.found);
    assert_near(rest.gm, -hypot(0.005, 0.004), 1e-12);
}

/* sqrt(2 |F| / (rho C A)): 60 g of box, 6 g too light, A = 30 cm2. */
static void rising_and_sinking_have_their_speed(void **state) {
    (void)state;
    struct rest rest = {.capacity = 0.06};
    double speed = sqrt(2 * 0.006 * 9.80665 / (1000 * 0.76 * 0.003));
    assert_close(hydro_speed(&rest, 0.054, 1000, 0.003), speed, 1e-9);
    assert_close(hydro_speed(&rest, 0.066, 1000, 0.003), -speed, 1e-9);
    assert_near(hydro_speed(&rest, 0.06, 1000, 0.003), 0, 0);
    assert_near(hydro_speed(&rest, 0.05, 1000, 0), 0, 0);
}

static void lengths_times_k_and_masses_times_k_cubed_keep_the_angles(void **state) {
    (void)state;
    struct body_table table = body_plug(), larger = {0};
    double k = 2.3;
    for (int i = 0; i < table.count; i++)
        body_row(&larger, k * table.x[i], k * table.back[i], k * table.belly[i],
                 k * table.width[i]);
    struct plate lip = body_lip(), large = lip;
    large.mouth_x *= k;
    large.mouth_z *= k;
    large.extent *= k;
    large.thickness *= k;
    large.width *= k;
    for (int shape = 0; shape < 3; shape++) {
        struct outline a = body_outline(&arena, &table, (enum section_shape)shape, 0.005);
        struct outline b = body_outline(&arena, &larger, (enum section_shape)shape, k * 0.005);
        struct hull one = hull_of(&arena, &a, 0.0005, &lip);
        struct hull other = hull_of(&arena, &b, k * 0.0005, &large);
        for (int i = 0; i < 8; i++) {
            struct burden light = {
                0.1 * (i + 2) * WATER * one.volume, 0.055 + 0.004 * i, -0.004, 4e-7, 0.08, -0.013};
            struct burden heavy = {k * k * k * light.mass, k * light.x, k * light.z,
                                   k * k * k * 4e-7,       k * 0.08,    k * -0.013};
            struct rest small = hydro_rest(&one, &light, WATER);
            struct rest big = hydro_rest(&other, &heavy, WATER);
            assert_near(big.attitude, small.attitude, 1e-8);
            assert_near(big.gm, k * small.gm, 1e-8);
            assert_near(big.level, k * small.level, 1e-9);
        }
    }
}

static void a_body_turned_nose_for_tail_trims_the_other_way(void **state) {
    (void)state;
    struct body_table table = body_plug(), turned = {0};
    for (int i = table.count - 1; i >= 0; i--)
        body_row(&turned, table.length - table.x[i], table.back[i], table.belly[i], table.width[i]);
    for (int shape = 0; shape < 3; shape++) {
        struct outline a = body_outline(&arena, &table, (enum section_shape)shape, 0.005);
        struct outline b = body_outline(&arena, &turned, (enum section_shape)shape, 0.005);
        struct hull one = body_hull(&arena, &a), other = body_hull(&arena, &b);
        for (int i = 0; i < 20; i++) {
            double x = 0.03 + 0.004 * i;
            struct burden fore = burden_of(0.85 * WATER * one.volume, x, -0.004);
            struct burden aft = burden_of(0.85 * WATER * one.volume, table.length - x, -0.004);
            struct rest nose = hydro_rest(&one, &fore, WATER);
            struct rest tail = hydro_rest(&other, &aft, WATER);
            assert_near(degrees(nose.attitude), -degrees(tail.attitude), 1e-4);
            assert_near(nose.gm, tail.gm, 1e-7);
        }
    }
}

static void more_volume_under_water_never_floats_higher(void **state) {
    (void)state;
    unsigned long long seed = 5;
    for (int i = 0; i < 30; i++) {
        struct body_table table = body_any(&seed);
        struct outline outline = body_outline(&arena, &table, (enum section_shape)(i % 3), 0.004);
        struct plate lip = body_lip();
        struct hull hull = hull_of(&arena, &outline, 0.0005, &lip);
        struct burden burden = {0};
        double attitude = body_between(&seed, -1.5, 1.5), last = -INFINITY;
        for (int k = 1; k < 200; k++) {
            double x, z, level;
            assert_true(hydro_at(&hull, &burden, hull.volume * k / 200, attitude, &x, &z, &level));
            assert_true(level >= last - 1e-9);
            last = level;
        }
    }
}

static void a_volume_that_cannot_be_displaced_is_refused(void **state) {
    (void)state;
    struct outline outline = body_prism(&arena, 0.1, 0.02, 0.03, SECTION_OVAL, 0);
    struct hull hull = body_hull(&arena, &outline);
    struct burden burden = {.hung_volume = 1e-6};
    double x, z, level, all = hull.volume + 1e-6;
    assert_false(hydro_at(&hull, &burden, 0, 0, &x, &z, &level));
    assert_false(hydro_at(&hull, &burden, 1e-6, 0, &x, &z, &level));
    assert_false(hydro_at(&hull, &burden, all * 1.000001, 0, &x, &z, &level));
    assert_true(hydro_at(&hull, &burden, all, 0.3, &x, &z, &level));
    assert_near(x, 0.05 * hull.volume / all, 1e-12);
    assert_true(hydro_at(&hull, &burden, 1.1e-6, 0, &x, &z, &level));
}

/* (G - B).n and (G - B).e at one attitude, from hydro_at alone. */
static double energy_at(const struct hull *hull, const struct burden *burden, double attitude,
                        double *lever) {
    double x, z, level;
    assert_true(hydro_at(hull, burden, burden->mass / WATER, attitude, &x, &z, &level));
    double dx = burden->x - x, dz = burden->z - z;
    *lever = dx * cos(attitude) - dz * sin(attitude);
    return dx * sin(attitude) + dz * cos(attitude);
}

/* The lever that the search follows is the derivative of the potential energy. */
static void the_lever_is_the_slope_of_the_energy(void **state) {
    (void)state;
    struct body_table table = body_plug();
    struct plate lip = body_lip();
    for (int shape = 0; shape < 3; shape++) {
        struct outline outline = body_outline(&arena, &table, (enum section_shape)shape, 0.005);
        struct hull hull = hull_of(&arena, &outline, 0, &lip);
        struct burden burden = {0.8 * WATER * hull.volume, 0.06, -0.003, 4e-7, 0.08, -0.013};
        for (int i = -8; i <= 8; i++) {
            double t = 0.18 * i, step = 1e-3, lever, unused;
            energy_at(&hull, &burden, t, &lever);
            double rise = energy_at(&hull, &burden, t + step, &unused) -
                          energy_at(&hull, &burden, t - step, &unused);
            assert_near(rise / (2 * step), lever, 2e-6);
        }
    }
}

/* A body cut into slices by section_at and each of them into strips, closer towards the edges:
 * nothing of the program's own integration.  Volume under a level plane, and its first moments. */
static void drown(const struct outline *outline, const struct plate *lip, double attitude,
                  double level, double sums[3]) {
    enum { SLICES = 4000, STRIPS = 400 };
    sums[0] = sums[1] = sums[2] = 0;
    double dx = outline->length / SLICES;
    for (int i = 0; i < SLICES; i++) {
        double x = dx * (i + 0.5), z = (level - x * sin(attitude)) / cos(attitude);
        struct section s = section_at(outline, x, 0);
        double low = s.centre - s.half_height, high = fmin(z, s.centre + s.half_height);
        if (high <= low) continue;
        for (int k = 0; k < STRIPS; k++) {
            double t = (k + 0.5) / STRIPS, reach = high - low;
            double at = low + reach * t * t * (3 - 2 * t), dz = reach * 6 * t * (1 - t) / STRIPS;
            double up = fabs(at - s.centre), in = up - (s.half_height - s.radius);
            double half = s.half_width;
            if (s.shape == SECTION_OVAL)
                half *= sqrt(1 - up * up / (s.half_height * s.half_height));
            else if (in > 0)
                half -= s.radius - sqrt(s.radius * s.radius - in * in);
            double part = 2 * half * dz * dx;
            sums[0] += part;
            sums[1] += part * x;
            sums[2] += part * at;
        }
    }
    for (int i = 0; lip->given && i < SLICES; i++) {
        double ds = lip->extent / SLICES, s = ds * (i + 0.5);
        double x = lip->mouth_x + s * lip->u_x, z = lip->mouth_z + s * lip->u_z;
        if (x * sin(attitude) + z * cos(attitude) >= level) continue;
        double part = lip->thickness * plate_width(lip, s) * ds;
        sums[0] += part;
        sums[1] += part * x;
        sums[2] += part * z;
    }
}

/* Weight = buoyancy, and G, B on one plumb line, by that brute force. */
static void a_plug_at_rest_is_in_equilibrium(void **state) {
    (void)state;
    struct body_table table = body_plug();
    struct plate lip = body_lip();
    for (int i = 0; i < 12; i++) {
        struct outline outline = body_outline(&arena, &table, (enum section_shape)(i % 3), 0.005);
        struct hull hull = hull_of(&arena, &outline, 0, &lip);
        double share = 0.5 + 0.04 * i, x = 0.045 + 0.003 * i;
        struct burden burden = burden_of(share * WATER * hull.volume, x, -0.004);
        struct rest rest = hydro_rest(&hull, &burden, WATER);
        assert_true(rest.found);
        double sums[3];
        drown(&outline, &lip, rest.attitude, rest.level, sums);
        assert_close(WATER * sums[0], burden.mass, 2e-5);
        double bx = sums[1] / sums[0], bz = sums[2] / sums[0];
        assert_near(rest.buoyancy_x, bx, 2e-6);
        assert_near(rest.buoyancy_z, bz, 2e-6);
        double lever = (burden.x - bx) * cos(rest.attitude) - (burden.z - bz) * sin(rest.attitude);
        assert_near(lever, 0, 2e-6);
    }
}

/* Downhill all the way from 0 to the rest, by steps of a tenth of a degree, and uphill behind it.
 */
static void check_first_minimum(const struct hull *hull, const struct burden *burden,
                                const struct rest *rest) {
    double lever, step = PI / 1800, down = rest->attitude > 0 ? 1 : -1;
    double last = energy_at(hull, burden, 0, &lever);
    int steps = (int)fmin(fabs(rest->attitude) / step, 899);
    for (int i = 1; i <= steps; i++) {
        double energy = energy_at(hull, burden, down * step * i, &lever);
        assert_true(energy <= last + 1e-9);
        last = energy;
    }
    double bottom = energy_at(hull, burden, rest->attitude, &lever);
    assert_true(bottom <= last + 1e-9);
    if (!rest->found) return;
    for (int side = -1; side <= 1; side += 2) {
        double beside = rest->attitude + side * step;
        if (fabs(beside) < PI / 2)
            assert_true(energy_at(hull, burden, beside, &lever) >= bottom - 1e-10);
    }
}

static struct burden any_burden(unsigned long long *seed, const struct hull *hull,
                                const struct plate *lip) {
    double area, moment, share = body_between(seed, 0.02, 0.999);
    plate_area(lip, 0, lip->extent, &area, &moment);
    double hung = body_random(seed) < 0.5 ? 0 : 0.01 * hull->volume;
    double all = hull->volume + lip->thickness * area + hung;
    double mass = fmax(share * all, 1.2 * hung) * WATER;
    double size = hull->top - hull->bottom;
    return (struct burden){mass,
                           hull->length * body_between(seed, 0.25, 0.75),
                           hull->bottom + size * body_between(seed, 0.2, 0.7),
                           hung,
                           hull->length * 0.6,
                           hull->bottom};
}

static struct plate any_lip(unsigned long long *seed, const struct outline *outline) {
    struct plate lip = {0};
    if (body_random(seed) < 0.4) return lip;
    double angle = body_between(seed, 0, PI / 2), at = outline->length * 0.1;
    return (struct plate){.given = true,
                          .mouth_x = at,
                          .mouth_z = -curve_at(&outline->belly, at),
                          .u_x = -cos(angle),
                          .u_z = -sin(angle),
                          .extent = outline->length * body_between(seed, 0.05, 0.3),
                          .thickness = 0.0015,
                          .width = outline->length * 0.1,
                          .tip = outline->length * 0.07,
                          .shape = (enum lip_shape)(body_random(seed) * 3)};
}

static void any_body_comes_to_rest_in_its_first_minimum(void **state) {
    (void)state;
    unsigned long long seed = 20251126;
    int found = 0, marched = 0, bodies = 600;
    for (int i = 0; i < bodies; i++) {
        struct arena own = {0};
        struct body_table table = body_any(&seed);
        struct outline outline = body_outline(&own, &table, (enum section_shape)(i % 3), 0.004);
        struct plate lip = any_lip(&seed, &outline);
        struct hull hull = hull_of(&own, &outline, i % 2 ? 0.0005 : 0, &lip);
        struct burden burden = any_burden(&seed, &hull, &lip);
        struct rest rest = hydro_rest(&hull, &burden, WATER);
        assert_true(rest.afloat && isfinite(rest.gm) && isfinite(rest.level));
        assert_true(fabs(rest.attitude) <= PI / 2);
        double lever;
        energy_at(&hull, &burden, rest.attitude, &lever);
        if (rest.found) assert_near(lever, 0, 1e-7 * hull.length);
        found += rest.found;
        if (i % 10 == 0) {
            check_first_minimum(&hull, &burden, &rest);
            marched++;
        }
        arena_free(&own);
    }
    assert_true(found > bodies / 2 && marched == bodies / 10);
}

/* Nothing must hang or end in NaN. */
static void check_finite(const struct hull *hull, const struct burden *burden) {
    struct rest rest = hydro_rest(hull, burden, WATER);
    assert_true(isfinite(rest.attitude) && isfinite(rest.level) && isfinite(rest.gm));
    assert_true(isfinite(rest.buoyancy_x) && isfinite(rest.buoyancy_z));
    assert_true(isfinite(rest.reserve) && isfinite(rest.capacity));
    struct righting righting = hydro_righting(hull, burden, WATER, &rest);
    assert_true(isfinite(righting.vanishing));
    for (int i = 0; i < RIGHTING_STEPS; i++) assert_true(isfinite(righting.arm[i]));
}

static void extremes_stay_finite(void **state) {
    (void)state;
    unsigned long long seed = 99;
    static const double shares[] = {1e-12,     1e-9, 1e-4,     1 - 1e-4, 1 - 1e-9,
                                    1 - 1e-15, 1,    1 + 1e-9, 50};
    for (int i = 0; i < 120; i++) {
        struct arena own = {0};
        struct body_table table = body_any(&seed);
        struct outline outline = body_outline(&own, &table, (enum section_shape)(i % 3), 0.004);
        struct plate lip = any_lip(&seed, &outline);
        struct hull hull = hull_of(&own, &outline, i % 2 ? 0.0005 : 0, &lip);
        for (size_t k = 0; k < sizeof shares / sizeof *shares; k++) {
            struct burden burden = any_burden(&seed, &hull, &lip);
            burden.hung_volume = 0;
            burden.mass = shares[k] * hydro_rest(&hull, &burden, WATER).capacity;
            if (i % 4 == 1) burden.x = hull.length * (i % 8 == 1 ? -3 : 4);
            if (i % 4 == 2) burden.z = hull.length * (i % 8 == 2 ? -10 : 10);
            check_finite(&hull, &burden);
        }
        arena_free(&own);
    }
}

static void a_box_that_hardly_floats_or_hardly_wets_itself_is_known(void **state) {
    (void)state;
    static const double shares[] = {1e-9, 1e-6, 1 - 1e-6, 1 - 1e-9};
    for (int i = 0; i < 4; i++) {
        struct rest rest = rest_of_prism(0.1, 0.02, 0.03, SECTION_SQUARE, shares[i], 0.05, -0.004);
        assert_true(rest.found);
        assert_near(rest.attitude, 0, 1e-9);
        assert_near(rest.level, -0.01 + 0.02 * shares[i], 1e-12);
    }
}

static void a_body_without_volume_sinks(void **state) {
    (void)state;
    struct outline blade = body_prism(&arena, 0.1, 0.02, 0, SECTION_OVAL, 0);
    struct outline sheet = body_prism(&arena, 0.1, 0, 0.02, SECTION_ROUNDED, 0.002);
    struct hull hulls[] = {body_hull(&arena, &blade), body_hull(&arena, &sheet)};
    for (int i = 0; i < 2; i++) {
        struct burden burden = burden_of(0.01, 0.05, 0);
        struct rest rest = hydro_rest(&hulls[i], &burden, WATER);
        assert_false(rest.afloat);
        check_finite(&hulls[i], &burden);
    }
}

/* Hooks that would float alone: nothing is left for the hull to hold up. */
static void a_mass_held_up_by_the_hooks_alone_stays_finite(void **state) {
    (void)state;
    struct outline outline = body_prism(&arena, 0.1, 0.02, 0.03, SECTION_OVAL, 0);
    struct hull hull = body_hull(&arena, &outline);
    struct burden burden = {0.001, 0.05, 0, 2e-6, 0.06, -0.01};
    check_finite(&hull, &burden);
}

/* Tail-heavy, so that the lip, 30 degrees steep, comes to lie level at the surface: there the lever
 * jumps, and the plug may stay with the lip floating flat. */
static void a_lip_that_lies_flat_on_the_water_holds_the_plug(void **state) {
    (void)state;
    struct outline outline = body_prism(&arena, 0.12, 0.02, 0.024, SECTION_OVAL, 0);
    struct plate lip = {.given = true,
                        .mouth_x = 0.030,
                        .mouth_z = -0.010,
                        .u_x = -cos(PI / 6),
                        .u_z = -0.5,
                        .extent = 0.03,
                        .thickness = 0.003,
                        .width = 0.03,
                        .shape = LIP_SQUARE};
    struct hull hull = hull_of(&arena, &outline, 0, &lip);
    int flat = 0;
    for (int i = 0; i < 600; i++) {
        double share = 0.5 + 0.03 * (i % 6);
        struct burden burden = burden_of(share * WATER * hull.volume, 0.06 + 5e-5 * i, -0.002);
        struct rest rest = hydro_rest(&hull, &burden, WATER);
        double lever;
        energy_at(&hull, &burden, rest.attitude, &lever);
        if (rest.found) assert_near(lever, 0, 1e-6);
        if (rest.found && fabs(rest.attitude + PI / 6) < 1e-5) flat++;
        if (i % 20 == 0) check_first_minimum(&hull, &burden, &rest);
    }
    assert_true(flat > 0);
}

/* Hung by a tail weight a little below the axis: tan of the angle from upright is the ratio of the
 * distances, for on end a cylinder's B stays on the axis but for its waterplane's turning. */
static void a_body_hangs_all_but_upright(void **state) {
    (void)state;
    double length = 0.15, d = 0.02, share = 0.7, off = -1e-5, x = 0.120;
    struct rest rest = rest_of_prism(length, d, d, SECTION_OVAL, share, x, off);
    double gm = d * d / (16 * share * length) + x - length * (1 - share / 2);
    assert_true(rest.found);
    assert_near(degrees(rest.attitude), -90 + degrees(-off / gm), 1e-4);
}

/* Alike at both ends, hardly afloat, its weight 9 mm over the axis, and with so narrow a waterplane
 * (1.6 mm, I/V = 4.1 mm) that it cannot lie level: it goes down by the nose, and turns over there.
 */
static void a_stick_that_cannot_lie_level_goes_down_by_the_nose(void **state) {
    (void)state;
    struct rest level = rest_of_prism(0.1, 0.02, 0.02, SECTION_OVAL, 0.9999, 0.05, 0.003);
    assert_true(level.afloat && level.found);
    assert_near(level.attitude, 0, 1e-12);
    struct rest over = rest_of_prism(0.1, 0.02, 0.02, SECTION_OVAL, 0.9999, 0.05, 0.009);
    assert_true(over.afloat && !over.found);
    assert_near(degrees(over.attitude), 90, 0.1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_box_floats_at_its_share_of_depth),
        cmocka_unit_test(a_horizontal_cylinder_floats_by_its_segment),
        cmocka_unit_test(an_oval_section_has_its_metacentric_height),
        cmocka_unit_test(a_square_beam_turns_over_at_its_two_densities),
        cmocka_unit_test(a_box_trims_by_the_wall_sided_formula),
        cmocka_unit_test(a_cylinder_weighted_at_one_end_stands_upright),
        cmocka_unit_test(a_cone_and_a_paraboloid_float_point_down),
        cmocka_unit_test(equilibria_for_a_share_and_its_complement_are_the_same),
        cmocka_unit_test(below_the_surface_g_hangs_under_b),
        cmocka_unit_test(rising_and_sinking_have_their_speed),
        cmocka_unit_test(lengths_times_k_and_masses_times_k_cubed_keep_the_angles),
        cmocka_unit_test(a_body_turned_nose_for_tail_trims_the_other_way),
        cmocka_unit_test(more_volume_under_water_never_floats_higher),
        cmocka_unit_test(a_volume_that_cannot_be_displaced_is_refused),
        cmocka_unit_test(the_lever_is_the_slope_of_the_energy),
        cmocka_unit_test(a_plug_at_rest_is_in_equilibrium),
        cmocka_unit_test(any_body_comes_to_rest_in_its_first_minimum),
        cmocka_unit_test(extremes_stay_finite),
        cmocka_unit_test(a_box_that_hardly_floats_or_hardly_wets_itself_is_known),
        cmocka_unit_test(a_body_without_volume_sinks),
        cmocka_unit_test(a_mass_held_up_by_the_hooks_alone_stays_finite),
        cmocka_unit_test(a_lip_that_lies_flat_on_the_water_holds_the_plug),
        cmocka_unit_test(a_body_hangs_all_but_upright),
        cmocka_unit_test(a_stick_that_cannot_lie_level_goes_down_by_the_nose),
    };
    return cmocka_run_group_tests(tests, NULL, arena_gone);
}
