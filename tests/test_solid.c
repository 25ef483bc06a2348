/* Volume, surface and centroids of bodies whose closed forms are school geometry, evaluated from
 * the formula beside them, and of random ones against meshes of triangles. */
#include "close.h"

#include "bodies.h"
#include "compute/shape/section.h"
#include "compute/shape/solid.h"

static const double PI = 3.14159265358979323846;

static struct arena arena;

static int arena_gone(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

static void a_box_has_its_volume_surface_and_centroids(void **state) {
    (void)state;
    struct body_table table = {0};
    body_row(&table, 0, 0.014, 0.006, 0.030); /* 20 mm high, its middle 4 mm above the datum */
    body_row(&table, 0.1, 0.014, 0.006, 0.030);
    struct outline outline = body_outline(&arena, &table, SECTION_SQUARE, 0);
    struct solid solid = solid_of(&outline, 0);
    assert_close(solid.volume, 0.1 * 0.020 * 0.030, 1e-14);
    assert_close(solid.surface, 2 * (0.1 * 0.020 + 0.1 * 0.030 + 0.020 * 0.030), 1e-14);
    assert_close(solid.centroid_x, 0.05, 1e-14);
    assert_close(solid.centroid_z, 0.004, 1e-13);
    assert_close(solid.surface_x, 0.05, 1e-14);
    assert_close(solid.surface_z, 0.004, 1e-13);
    assert_close(solid.plan_area, 0.1 * 0.030, 1e-14);
    assert_close(solid.top, 0.014, 1e-15);
    assert_close(solid.bottom, -0.006, 1e-15);
    assert_close(solid.height, 0.020, 1e-15);
    assert_close(solid.width, 0.030, 1e-15);
}

static void a_cylinder_has_its_volume_and_surface(void **state) {
    (void)state;
    double r = 0.009, length = 0.12;
    struct outline ovals = body_prism(&arena, length, 2 * r, 2 * r, SECTION_OVAL, 0);
    struct outline corners = body_prism(&arena, length, 2 * r, 2 * r, SECTION_ROUNDED, 1);
    struct solid solid[2] = {solid_of(&ovals, 0), solid_of(&corners, 0)};
    for (int i = 0; i < 2; i++) {
        assert_close(solid[i].volume, PI * r * r * length, 1e-13);
        assert_close(solid[i].surface, 2 * PI * r * (length + r), 1e-13);
    }
}

/* Ellipse of 30 x 10 mm: perimeter 4 a E(1 - b^2/a^2); scipy 1.10.1, scipy.special.ellipe(8/9) =
 * 1.1137411017129382. */
static void an_oval_cylinder_has_its_perimeter(void **state) {
    (void)state;
    double a = 0.015, h = 0.005, perimeter = 4 * a * 1.1137411017129382;
    struct outline flat = body_prism(&arena, 0.1, 2 * h, 2 * a, SECTION_OVAL, 0);
    struct outline tall = body_prism(&arena, 0.1, 2 * a, 2 * h, SECTION_OVAL, 0);
    assert_close(solid_of(&flat, 0).surface, perimeter * 0.1 + 2 * PI * a * h, 1e-7);
    assert_close(solid_of(&tall, 0).surface, perimeter * 0.1 + 2 * PI * a * h, 1e-7);
}

/* Rounded rectangle w x h: area w h - (4 - pi) r^2, 30 x 20 with r 5: 578.53982 mm2; with r limited
 * to half the height, a stadium: 514.15927 mm2. */
static void rounded_prisms_have_their_areas_and_perimeters(void **state) {
    (void)state;
    static const struct {
        double radius, kept, area;
    } row[] = {{0.005, 0.005, 578.53982e-6}, {0.050, 0.010, 514.15927e-6}};
    for (int i = 0; i < 2; i++) {
        struct outline outline =
            body_prism(&arena, 0.1, 0.020, 0.030, SECTION_ROUNDED, row[i].radius);
        struct solid solid = solid_of(&outline, 0);
        double perimeter = 2 * (0.020 + 0.030) - (8 - 2 * PI) * row[i].kept;
        assert_close(solid.volume, row[i].area * 0.1, 1e-8);
        assert_close(solid.surface, perimeter * 0.1 + 2 * solid.volume / 0.1, 1e-13);
    }
}

/* V = pi r^2 h/3, lateral area pi r l with l the slant height; centroids 3/4 h and 2/3 h from the
 * point. */
static void a_cone_has_its_volume_surface_and_centroids(void **state) {
    (void)state;
    double r = 0.010, h = 0.08, slant = sqrt(r * r + h * h);
    struct body_table table = {0};
    body_row(&table, 0, 0, 0, 0);
    body_row(&table, h, r, r, 2 * r);
    for (int shape = 0; shape < 2; shape++) {
        struct outline outline =
            body_outline(&arena, &table, shape ? SECTION_ROUNDED : SECTION_OVAL, 1);
        struct solid solid = solid_of(&outline, 0);
        double lateral = PI * r * slant, base = PI * r * r;
        assert_close(solid.volume, PI * r * r * h / 3, 1e-13);
        assert_close(solid.centroid_x, 0.75 * h, 1e-13);
        assert_close(solid.surface, lateral + base, 1e-13);
        assert_close(solid.surface_x, (lateral * h * 2 / 3 + base * h) / (lateral + base), 1e-13);
    }
}

/* A straight wedge: back and sides slope, the belly is flat; every face is a plane trapezoid. */
static void slopes_count_in_the_surface(void **state) {
    (void)state;
    struct body_table table = {0};
    body_row(&table, 0, 0.010, 0.005, 0.020);
    body_row(&table, 0.1, 0.040, 0.005, 0.050);
    struct outline outline = body_outline(&arena, &table, SECTION_SQUARE, 0);
    struct solid solid = solid_of(&outline, 0);
    double back = 0.1 * 0.035 * sqrt(1 + 0.3 * 0.3), belly = 0.1 * 0.035;
    double side = 0.1 * 0.030 * sqrt(1 + 0.15 * 0.15); /* mean height 30 mm */
    double faces = 0.015 * 0.020 + 0.045 * 0.050;
    assert_close(solid.surface, back + belly + 2 * side + faces, 1e-13);
}

/* Stations at the angles of a circle; the curves between them are not the ellipsoid's, which is
 * what the tolerance allows for: it falls as the square of their number. */
static struct solid spheroid(double length, double diameter, int count) {
    struct body_table table = {0};
    for (int i = 0; i < count; i++) {
        double turn = PI * i / (count - 1), r = diameter / 2 * sin(turn);
        if (i == 0 || i == count - 1) r = 0;
        body_row(&table, length / 2 * (1 - cos(turn)), r, r, 2 * r);
    }
    struct outline outline = body_outline(&arena, &table, SECTION_OVAL, 0);
    return solid_of(&outline, 0);
}

/* (pi/6) L B H; surface of the prolate spheroid 2 pi a^2 (1 + c/(a e) asin e). */
static void an_ellipsoid_is_reached_with_many_stations(void **state) {
    (void)state;
    double a = 0.010, c = 0.050, e = sqrt(1 - a * a / (c * c));
    double volume = PI / 6 * 2 * c * 2 * a * 2 * a;
    double surface = 2 * PI * a * a * (1 + c / (a * e) * asin(e));
    struct solid coarse = spheroid(2 * c, 2 * a, 50), fine = spheroid(2 * c, 2 * a, 200);
    assert_close(fine.volume, volume, 2e-5);
    assert_close(fine.surface, surface, 5e-5);
    assert_close(fine.centroid_x, c, 1e-12);
    assert_near(fine.centroid_z, 0, 1e-15);
    assert_true(fabs(fine.volume - volume) < fabs(coarse.volume - volume) / 10);
}

/* y^2 = r^2 x/h: V = pi r^2 h/2, centroid at 2/3 h. */
static void a_paraboloid_is_reached_with_many_stations(void **state) {
    (void)state;
    double r = 0.012, h = 0.06;
    struct body_table table = {0};
    for (int i = 0; i < MAX_STATIONS; i++) {
        double share = (double)i / (MAX_STATIONS - 1);
        body_row(&table, h * share * share, r * share, r * share, 2 * r * share);
    }
    struct outline outline = body_outline(&arena, &table, SECTION_OVAL, 0);
    struct solid solid = solid_of(&outline, 0);
    assert_close(solid.volume, PI * r * r * h / 2, 1e-5);
    assert_close(solid.centroid_x, 2 * h / 3, 1e-5);
}

/* The section's rim in equal steps of the angle; corners only where there are round ones. */
static void rim_point(const struct section *s, double turn, double *y, double *z) {
    double c = cos(turn), n = sin(turn);
    if (s->shape == SECTION_OVAL) {
        *y = s->half_width * c;
        *z = s->centre + s->half_height * n;
    } else {
        *y = s->radius * c + copysign(s->half_width - s->radius, c);
        *z = s->centre + s->radius * n + copysign(s->half_height - s->radius, n);
    }
}

static double triangle(const double a[3], const double b[3], const double c[3]) {
    double u[3], v[3];
    for (int i = 0; i < 3; i++) {
        u[i] = b[i] - a[i];
        v[i] = c[i] - a[i];
    }
    return 0.5 * sqrt(pow(u[1] * v[2] - u[2] * v[1], 2) + pow(u[2] * v[0] - u[0] * v[2], 2) +
                      pow(u[0] * v[1] - u[1] * v[0], 2));
}

/* Surface and volume from nothing but sections in a fine mesh of triangles and a fine sum. */
static void check_by_mesh(const struct outline *outline, const struct solid *solid) {
    enum { ALONG = 3000, AROUND = 240 };
    double surface = 0, lift = 0, volume = 0, first = 0;
    for (int i = 0; i < ALONG; i++) {
        double x0 = outline->length * i / ALONG, x1 = outline->length * (i + 1) / ALONG;
        struct section a = section_at(outline, x0, 0), b = section_at(outline, x1, 0);
        struct section middle = section_at(outline, 0.5 * (x0 + x1), 0);
        volume += (x1 - x0) * section_area(&middle);
        first += (x1 - x0) * section_area(&middle) * 0.5 * (x0 + x1);
        for (int k = 0; k < AROUND; k++) {
            double t0 = 2 * PI * (k + 0.5) / AROUND, t1 = 2 * PI * (k + 1.5) / AROUND;
            double p[4][3] = {{x0}, {x0}, {x1}, {x1}};
            rim_point(&a, t0, &p[0][1], &p[0][2]);
            rim_point(&a, t1, &p[1][1], &p[1][2]);
            rim_point(&b, t0, &p[2][1], &p[2][2]);
            rim_point(&b, t1, &p[3][1], &p[3][2]);
            double area = triangle(p[0], p[1], p[2]) + triangle(p[1], p[2], p[3]);
            surface += area;
            lift += area * (p[0][2] + p[1][2] + p[2][2] + p[3][2]) / 4;
        }
    }
    for (int end = 0; end < 2; end++) {
        struct section face = section_at(outline, end * outline->length, 0);
        surface += section_area(&face);
        lift += section_area(&face) * face.centre;
    }
    assert_close(solid->volume, volume, 1e-6);
    assert_close(solid->centroid_x, first / volume, 1e-6);
    assert_close(solid->surface, surface, 3e-4); /* the mesh's own error: 240 sides */
    assert_near(solid->surface_z, lift / surface, 3e-4 * outline->length);
}

static void any_body_agrees_with_a_fine_mesh(void **state) {
    (void)state;
    unsigned long long seed = 3;
    for (int i = 0; i < 9; i++) {
        struct body_table table = body_any(&seed);
        struct outline outline = body_outline(&arena, &table, (enum section_shape)(i % 3), 0.003);
        struct solid solid = solid_of(&outline, 0);
        check_by_mesh(&outline, &solid);
    }
}

/* --- steep steps -----------------------------------------------------------------------------
 *
 * Stations a third of a millimetre apart with centimetres between their sizes, against sums over
 * many narrow slices: the surface's element is |dr/dx x dr/df|, taken as a cross product here. */

static const double three_at[] = {0.1127016653792583, 0.5, 0.8872983346207417};
static const double three_weight[] = {5.0 / 18, 8.0 / 18, 5.0 / 18};

static struct body_table body_with_steps(unsigned long long *seed, bool round) {
    struct body_table table = {0};
    int rows = 2 + (int)(body_random(seed) * 8);
    double x = 0;
    for (int i = 0; i < rows; i++) {
        bool tip = (i == 0 || i == rows - 1) && rows > 2 && body_random(seed) < 0.3;
        double size = tip ? 0 : body_between(seed, 0.002, 0.030);
        double wide = round ? 1 : body_between(seed, 0.1, 3);
        double back = round ? size : size * body_between(seed, 0.5, 1);
        body_row(&table, x, back, size, 2 * size * wide);
        x += body_random(seed) < 0.5 ? body_between(seed, 0.0003, 0.003)
                                     : body_between(seed, 0.005, 0.030);
    }
    return table;
}

/* dr/dx and dr/df at f around the section, seen from the nearest corner's centre or the middle. */
static double element(const struct section *s, const struct section *slope, double f) {
    double c = cos(f), n = sin(f), out_y = 0, out_z = 0, a = s->half_width, h = s->half_height;
    double a_slope = slope->half_width, h_slope = slope->half_height;
    if (s->shape != SECTION_OVAL) {
        a = h = s->radius;
        out_y = copysign(1, c) * (slope->half_width - slope->radius);
        out_z = copysign(1, n) * (slope->half_height - slope->radius);
        a_slope = h_slope = slope->radius;
    }
    double along_y = a_slope * c + out_y, along_z = slope->centre + h_slope * n + out_z;
    double round_y = -a * n, round_z = h * c;
    return sqrt(pow(along_y * round_z - along_z * round_y, 2) + round_z * round_z +
                round_y * round_y);
}

/* All around the section at x, and the first moment of height. */
static double rim_sum(const struct outline *outline, double x, double *lift) {
    enum { QUARTER = 40 };
    struct section s = section_at(outline, x, 0);
    double back = curve_slope_at(&outline->back, x), belly = curve_slope_at(&outline->belly, x);
    struct section slope = {.half_height = (back + belly) / 2,
                            .centre = (back - belly) / 2,
                            .half_width = curve_slope_at(&outline->width, x) / 2};
    bool limited = s.shape == SECTION_ROUNDED && s.radius < outline->radius;
    if (limited) slope.radius = s.half_width < s.half_height ? slope.half_width : slope.half_height;
    double sum = 0;
    *lift = 0;
    for (int i = 0; i < 4 * QUARTER; i++)
        for (int k = 0; k < 3; k++) {
            double f = PI / 2 * (i + three_at[k]) / QUARTER, y, z;
            double part = PI / 2 / QUARTER * three_weight[k] * element(&s, &slope, f);
            rim_point(&s, f, &y, &z);
            sum += part;
            *lift += part * z;
        }
    if (s.shape == SECTION_OVAL) return sum;
    double flat = 2 * (s.half_width - s.radius), side = 4 * (s.half_height - s.radius);
    double top = flat * sqrt(1 + back * back), bottom = flat * sqrt(1 + belly * belly);
    side *= sqrt(1 + slope.half_width * slope.half_width);
    *lift +=
        side * s.centre + top * (s.centre + s.half_height) + bottom * (s.centre - s.half_height);
    return sum + side + top + bottom;
}

static double dense_surface(const struct outline *outline, int slices, double *height) {
    double sum = 0, lift = 0, rim_lift;
    const double *at = outline->back.x;
    for (int row = 0; row + 1 < outline->back.count; row++)
        for (int i = 0; i < slices; i++)
            for (int k = 0; k < 3; k++) {
                double wide = (at[row + 1] - at[row]) / slices;
                double x = at[row] + wide * (i + three_at[k]);
                sum += wide * three_weight[k] * rim_sum(outline, x, &rim_lift);
                lift += wide * three_weight[k] * rim_lift;
            }
    for (int end = 0; end < 2; end++) {
        struct section face = section_at(outline, end * outline->length, 0);
        sum += section_area(&face);
        lift += section_area(&face) * face.centre;
    }
    *height = lift / sum;
    return sum;
}

/* A slice that holds the place where a corner's radius begins to be limited is integrated over a
 * kink here: that is what the rounded sections' allowance is for. */
static void steep_steps_do_not_spoil_the_surface(void **state) {
    (void)state;
    unsigned long long seed = 11;
    for (int i = 0; i < 24; i++) {
        struct body_table table = body_with_steps(&seed, false);
        struct outline outline = body_outline(&arena, &table, (enum section_shape)(i % 3), 0.003);
        double height, surface = dense_surface(&outline, 250, &height);
        struct solid solid = solid_of(&outline, 0);
        assert_close(solid.surface, surface, i % 3 == SECTION_ROUNDED ? 2e-5 : 1e-6);
        assert_near(solid.surface_z, height, 1e-6 * outline.length);
    }
}

/* Of a body of revolution the surface is 2 pi times the integral of r sqrt(1 + r'^2). */
static void steep_bodies_of_revolution_have_their_surface(void **state) {
    (void)state;
    unsigned long long seed = 12;
    for (int i = 0; i < 40; i++) {
        enum { SLICES = 4000 };
        struct body_table table = body_with_steps(&seed, true);
        struct outline outline = body_outline(&arena, &table, SECTION_OVAL, 0);
        double first = table.back[0], last = table.back[table.count - 1], sum = 0;
        for (int row = 0; row + 1 < table.count; row++)
            for (int k = 0; k < 3 * SLICES; k++) {
                double wide = (table.x[row + 1] - table.x[row]) / SLICES;
                double x = table.x[row] + wide * (k / 3 + three_at[k % 3]);
                sum += wide * three_weight[k % 3] * curve_at(&outline.back, x) *
                       hypot(1, curve_slope_at(&outline.back, x));
            }
        double surface = 2 * PI * sum + PI * (first * first + last * last);
        assert_close(solid_of(&outline, 0).surface, surface, 5e-7);
    }
}

/* A cone from a point to a disc within a tenth of a millimetre, and every steepness before that. */
static void steep_cones_have_their_surface(void **state) {
    (void)state;
    for (double length = 0.1; length > 5e-5; length /= 3) {
        double r = 0.014;
        struct body_table table = {0};
        body_row(&table, 0, 0, 0, 0);
        body_row(&table, length, r, r, 2 * r);
        for (int shape = 0; shape < 2; shape++) {
            struct outline outline =
                body_outline(&arena, &table, shape ? SECTION_ROUNDED : SECTION_OVAL, 1);
            double surface = PI * r * (hypot(r, length) + r);
            assert_close(solid_of(&outline, 0).surface, surface, 1e-12);
        }
    }
}

/* Many panels against few: a station where the curve passes anyway does not change the curve of a
 * straight taper, but halves the panels. */
static void more_stations_on_a_straight_taper_change_nothing(void **state) {
    (void)state;
    for (int shape = 0; shape < 3; shape++) {
        struct body_table few = {0}, many = {0};
        body_row(&few, 0, 0.002, 0.004, 0.003);
        body_row(&few, 0.1, 0.012, 0.010, 0.023);
        for (int i = 0; i < MAX_STATIONS; i++) {
            double t = (double)i / (MAX_STATIONS - 1);
            body_row(&many, 0.1 * t, 0.002 + 0.010 * t, 0.004 + 0.006 * t, 0.003 + 0.020 * t);
        }
        struct outline a = body_outline(&arena, &few, (enum section_shape)shape, 0.004);
        struct outline b = body_outline(&arena, &many, (enum section_shape)shape, 0.004);
        struct solid one = solid_of(&a, 0), other = solid_of(&b, 0);
        assert_close(one.volume, other.volume, 1e-12);
        assert_close(one.surface, other.surface, 1e-6);
        assert_close(one.surface_x, other.surface_x, 1e-6);
        assert_near(one.surface_z, other.surface_z, 1e-8);
        assert_close(one.centroid_z, other.centroid_z, 1e-10);
    }
}

/* A square section grows to a rounded one with the corner radius t. */
static void a_finish_grows_sections_but_not_the_length(void **state) {
    (void)state;
    double t = 0.0005, wide = 0.031, high = 0.021;
    struct outline box = body_prism(&arena, 0.1, 0.020, 0.030, SECTION_SQUARE, 0);
    assert_close(solid_of(&box, t).volume, 0.1 * (wide * high - (4 - PI) * t * t), 1e-13);
    struct outline round = body_prism(&arena, 0.1, 0.020, 0.030, SECTION_ROUNDED, 0.005);
    double r = 0.005 + t;
    assert_close(solid_of(&round, t).volume, 0.1 * (wide * high - (4 - PI) * r * r), 1e-13);
    struct outline oval = body_prism(&arena, 0.1, 0.020, 0.030, SECTION_OVAL, 0);
    struct solid solid = solid_of(&oval, t);
    assert_close(solid.volume, 0.1 * PI * wide * high / 4, 1e-13);
    assert_close(solid.width, wide, 1e-14);
    assert_close(solid.height, high, 1e-14);
}

/* Sections without width or without height stay as they are; between them the body grows. */
static void a_finish_does_not_grow_what_has_no_area(void **state) {
    (void)state;
    struct body_table table = {0};
    body_row(&table, 0.00, 0.010, 0.010, 0.000); /* a blade: height without width */
    body_row(&table, 0.02, 0.010, 0.010, 0.000);
    body_row(&table, 0.04, 0.010, 0.010, 0.020);
    body_row(&table, 0.06, 0.004, -0.004, 0.020); /* a sheet: width without height */
    body_row(&table, 0.08, 0.004, -0.004, 0.020);
    body_row(&table, 0.10, 0.006, 0.006, 0.010);
    for (int shape = 0; shape < 3; shape++) {
        struct outline outline = body_outline(&arena, &table, (enum section_shape)shape, 0.002);
        double t = 0.0005;
        struct solid bare = solid_of(&outline, 0), grown = solid_of(&outline, t);
        double area = 0; /* of the grown sections alone, by a fine sum */
        for (int i = 0; i < 100000; i++) {
            double x = 0.1 * (i + 0.5) / 100000;
            struct section section = section_at(&outline, x, t);
            bool none = x < 0.02 || (x > 0.06 && x < 0.08);
            bool near = fabs(x - 0.02) < 1e-5 || fabs(x - 0.06) < 1e-5 || fabs(x - 0.08) < 1e-5;
            if (none) assert_near(section_area(&section), 0, 1e-20);
            if (!none && !near) assert_true(section.half_width > t && section.half_height > t);
            area += section_area(&section) * 1e-6;
        }
        assert_close(grown.volume, area, 2e-6);
        assert_true(isfinite(bare.surface) && bare.volume > 0 && grown.volume > bare.volume);
        struct section blade = section_at(&outline, 0.01, t), sheet = section_at(&outline, 0.07, t);
        assert_near(blade.half_width, 0, 0);
        assert_near(blade.half_height, 0.010, 1e-15);
        assert_near(sheet.half_height, 0, 1e-18);
        assert_near(sheet.half_width, 0.010, 1e-15);
    }
}

static void lengths_times_k_make_volume_times_k_cubed(void **state) {
    (void)state;
    struct body_table table = body_plug(), larger = {0};
    double k = 3.7;
    for (int i = 0; i < table.count; i++)
        body_row(&larger, k * table.x[i], k * table.back[i], k * table.belly[i],
                 k * table.width[i]);
    for (int shape = 0; shape < 3; shape++) {
        struct outline a = body_outline(&arena, &table, (enum section_shape)shape, 0.005);
        struct outline b = body_outline(&arena, &larger, (enum section_shape)shape, k * 0.005);
        struct solid one = solid_of(&a, 0.0005), other = solid_of(&b, k * 0.0005);
        assert_close(other.volume, k * k * k * one.volume, 1e-12);
        assert_close(other.surface, k * k * one.surface, 1e-12);
        assert_close(other.centroid_x, k * one.centroid_x, 1e-12);
        assert_close(other.surface_z, k * one.surface_z, 1e-10);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_box_has_its_volume_surface_and_centroids),
        cmocka_unit_test(a_cylinder_has_its_volume_and_surface),
        cmocka_unit_test(an_oval_cylinder_has_its_perimeter),
        cmocka_unit_test(rounded_prisms_have_their_areas_and_perimeters),
        cmocka_unit_test(a_cone_has_its_volume_surface_and_centroids),
        cmocka_unit_test(slopes_count_in_the_surface),
        cmocka_unit_test(an_ellipsoid_is_reached_with_many_stations),
        cmocka_unit_test(a_paraboloid_is_reached_with_many_stations),
        cmocka_unit_test(any_body_agrees_with_a_fine_mesh),
        cmocka_unit_test(steep_steps_do_not_spoil_the_surface),
        cmocka_unit_test(steep_bodies_of_revolution_have_their_surface),
        cmocka_unit_test(steep_cones_have_their_surface),
        cmocka_unit_test(more_stations_on_a_straight_taper_change_nothing),
        cmocka_unit_test(a_finish_grows_sections_but_not_the_length),
        cmocka_unit_test(a_finish_does_not_grow_what_has_no_area),
        cmocka_unit_test(lengths_times_k_make_volume_times_k_cubed),
    };
    return cmocka_run_group_tests(tests, NULL, arena_gone);
}
