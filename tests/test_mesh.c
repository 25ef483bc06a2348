/* The body's mesh: closed, outward, and as near to the surface and its volume as it promises, by
 * closed forms and by places on the facets themselves. */
#include "close.h"

#include <stdlib.h>

#include "bodies.h"
#include "compute/shape/mesh.h"
#include "compute/shape/section.h"
#include "compute/shape/solid.h"

static const double PI = 3.14159265358979323846;

static struct arena arena;

static int arena_gone(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

/* --- closed and outward --------------------------------------------------------------------- */

struct edge {
    int from, to;
};

static int by_ends(const void *left, const void *right) {
    const struct edge *a = left, *b = right;
    return a->from != b->from ? a->from - b->from : a->to - b->to;
}

/* Every edge is there once in each direction: closed, and all facets turned alike. */
static void check_closed(const struct mesh *mesh) {
    int count = 3 * mesh->facet_count;
    struct edge *edges = NEW(&arena, struct edge, count);
    for (int i = 0; i < count; i++) {
        const int *corner = mesh->facets[i / 3].corner;
        edges[i] = (struct edge){corner[i % 3], corner[(i + 1) % 3]};
        assert_true(edges[i].from != edges[i].to);
        assert_true(edges[i].from >= 0 && edges[i].from < mesh->point_count);
    }
    qsort(edges, (size_t)count, sizeof *edges, by_ends);
    for (int i = 0; i < count; i++) {
        struct edge back = {edges[i].to, edges[i].from};
        assert_true(i == 0 || by_ends(&edges[i - 1], &edges[i]) != 0);
        assert_non_null(bsearch(&back, edges, (size_t)count, sizeof *edges, by_ends));
    }
}

/* As the coordinates go into a file of single precision, in millimetres. */
static int points_that_coincide(const struct mesh *mesh) {
    int same = 0, count = mesh->point_count;
    struct single {
        float x, y, z;
    } *all = NEW(&arena, struct single, count);
    for (int i = 0; i < count; i++) {
        struct mesh_point p = mesh->points[i];
        all[i] = (struct single){(float)(1e3 * p.x) + 0.0F, (float)(1e3 * p.y) + 0.0F,
                                 (float)(1e3 * p.z) + 0.0F};
    }
    for (int i = 0; i < count; i++)
        for (int j = i + 1; j < count && j < i + 400; j++)
            same += all[i].x == all[j].x && all[i].y == all[j].y && all[i].z == all[j].z;
    return same;
}

/* --- near ----------------------------------------------------------------------------------- */

static double to_line(double y, double z, double ay, double az, double by, double bz) {
    double uy = by - ay, uz = bz - az, size = uy * uy + uz * uz;
    double t = size > 0 ? fmin(fmax(((y - ay) * uy + (z - az) * uz) / size, 0), 1) : 0;
    return hypot(y - ay - t * uy, z - az - t * uz);
}

static double to_oval(double half_width, double half_height, double y, double z) {
    enum { SIDES = 360 };
    double nearest = INFINITY, ay = half_width, az = 0;
    for (int i = 1; i <= SIDES; i++) {
        double by = half_width * cos(2 * PI * i / SIDES);
        double bz = half_height * sin(2 * PI * i / SIDES);
        nearest = fmin(nearest, to_line(y, z, ay, az, by, bz));
        ay = by, az = bz;
    }
    return nearest;
}

/* From the rim of a section in its own plane: no less than from the surface in space. */
static double to_rim(const struct section *s, double y, double z) {
    double up = z - s->centre;
    if (s->shape == SECTION_OVAL) return to_oval(s->half_width, s->half_height, y, up);
    double beside = fabs(y) - (s->half_width - s->radius);
    double above = fabs(up) - (s->half_height - s->radius);
    double outside = hypot(fmax(beside, 0), fmax(above, 0));
    return fabs(outside + fmin(fmax(beside, above), 0) - s->radius);
}

/* From the surface: sections before and behind are tried until none is nearer. */
static double to_surface(const struct outline *outline, struct mesh_point p) {
    double nearest = INFINITY, wide = 64e-6;
    double at = p.x;
    for (int i = 0; i < 12; i++) {
        double best = at;
        for (int k = -1; k <= 1; k++) {
            double x = fmin(fmax(at + k * wide, 0), outline->length);
            struct section section = section_at(outline, x, 0);
            double off = hypot(x - p.x, to_rim(&section, p.y, p.z));
            if (off < nearest) nearest = off, best = x;
        }
        at = best;
        if (i > 2) wide /= 2;
    }
    return nearest;
}

/* Middles of facets and of their edges, of so many facets; flat ends are left out. */
static double farthest(const struct outline *outline, const struct mesh *mesh, int facets) {
    static const double weight[4][3] = {
        {1.0 / 3, 1.0 / 3, 1.0 / 3}, {0.5, 0.5, 0}, {0, 0.5, 0.5}, {0.5, 0, 0.5}};
    double most = 0;
    for (int i = 0; i < mesh->facet_count; i += 1 + mesh->facet_count / facets) {
        const int *corner = mesh->facets[i].corner;
        struct mesh_point a = mesh->points[corner[0]], b = mesh->points[corner[1]];
        struct mesh_point c = mesh->points[corner[2]];
        if (a.x == b.x && b.x == c.x) continue;
        for (int k = 0; k < 4; k++) {
            const double *w = weight[k];
            struct mesh_point p = {w[0] * a.x + w[1] * b.x + w[2] * c.x,
                                   w[0] * a.y + w[1] * b.y + w[2] * c.y,
                                   w[0] * a.z + w[1] * b.z + w[2] * c.z};
            most = fmax(most, to_surface(outline, p));
        }
    }
    return most;
}

static struct mesh check_mesh(const struct outline *outline) {
    struct mesh mesh = mesh_of(&arena, outline, NULL);
    check_closed(&mesh);
    assert_int_equal(points_that_coincide(&mesh), 0);
    assert_close(mesh_volume(&mesh), solid_of(outline, 0).volume, 5e-4);
    return mesh;
}

/* --- bodies --------------------------------------------------------------------------------- */

/* 20 x 30 x 100 mm: eight corners, twelve facets. */
static void a_box_is_exact(void **state) {
    (void)state;
    struct outline outline = body_prism(&arena, 0.1, 0.020, 0.030, SECTION_SQUARE, 0);
    struct mesh mesh = check_mesh(&outline);
    assert_close(mesh_volume(&mesh), 0.1 * 0.020 * 0.030, 1e-12);
    assert_int_equal((mesh.facet_count - 12) % 8, 0); /* and eight more where panels meet */
}

/* Each of a box's facets lies in one of its six sides and looks away from the box. */
static void normals_of_a_box_look_out_along_its_axes(void **state) {
    (void)state;
    struct outline outline = body_prism(&arena, 0.1, 0.020, 0.030, SECTION_SQUARE, 0);
    struct mesh mesh = check_mesh(&outline);
    for (int i = 0; i < mesh.facet_count; i++) {
        struct mesh_point middle = {0, 0, 0}, n = mesh_normal(&mesh, i);
        for (int k = 0; k < 3; k++) {
            const struct mesh_point *p = &mesh.points[mesh.facets[i].corner[k]];
            middle.x += p->x / 3, middle.y += p->y / 3, middle.z += p->z / 3;
        }
        double ends = fabs(middle.x - 0.05) > 0.05 - 1e-9 ? copysign(1, middle.x - 0.05) : 0;
        double flanks = fabs(middle.y) > 0.015 - 1e-9 ? copysign(1, middle.y) : 0;
        double edges = fabs(middle.z) > 0.010 - 1e-9 ? copysign(1, middle.z) : 0;
        assert_near(n.x, ends, 1e-9);
        assert_near(n.y, flanks, 1e-9);
        assert_near(n.z, edges, 1e-9);
    }
}

static void a_facet_without_area_has_no_normal(void **state) {
    (void)state;
    struct mesh_point points[] = {{0, 0, 0}, {0.01, 0, 0}, {0.02, 0, 0}};
    struct mesh_facet facet = {{0, 1, 2}};
    struct mesh mesh = {points, &facet, 3, 1};
    struct mesh_point n = mesh_normal(&mesh, 0);
    assert_true(n.x == 0 && n.y == 0 && n.z == 0);
}

/* V = pi a h L of an oval cylinder, pi a h L/3 of a cone. */
static void cylinders_and_cones_have_their_volume(void **state) {
    (void)state;
    for (int i = 0; i < 5; i++) {
        double a = 0.002 * (1 << i), h = 0.7 * a, length = 0.12;
        struct outline cylinder = body_prism(&arena, length, 2 * h, 2 * a, SECTION_OVAL, 0);
        struct mesh mesh = check_mesh(&cylinder);
        assert_close(mesh_volume(&mesh), PI * a * h * length, 5e-4);
        assert_true(farthest(&cylinder, &mesh, 100) < 0.02e-3);
        for (int end = 0; end < 2; end++) {
            struct body_table table = {0};
            double x = end ? 0 : h, y = end ? h : 0;
            body_row(&table, 0, x, x, 2 * a / h * x);
            body_row(&table, length, y, y, 2 * a / h * y);
            struct outline cone = body_outline(&arena, &table, SECTION_OVAL, 0);
            mesh = check_mesh(&cone);
            assert_close(mesh_volume(&mesh), PI * a * h * length / 3, 5e-4);
        }
    }
}

/* Half-axes 60, 9 and 12 mm: V = 4/3 pi a b c; stations where the angle grows evenly. */
static void an_ellipsoid_has_its_volume(void **state) {
    (void)state;
    double long_ = 0.060, h = 0.012, a = 0.009;
    struct body_table table = {0};
    for (int i = 0; i < MAX_STATIONS; i++) {
        double turn = PI * i / (MAX_STATIONS - 1);
        bool tip = i == 0 || i == MAX_STATIONS - 1;
        double rise = tip ? 0 : sin(turn);
        body_row(&table, long_ * (1 - cos(turn)), h * rise, h * rise, 2 * a * rise);
    }
    struct outline outline = body_outline(&arena, &table, SECTION_OVAL, 0);
    struct mesh mesh = check_mesh(&outline);
    assert_close(mesh_volume(&mesh), 4.0 / 3 * PI * long_ * h * a, 6e-4);
    assert_true(farthest(&outline, &mesh, 60) < 0.02e-3);
}

/* Area w h - (4 - pi) r^2. */
static void a_rounded_prism_has_its_volume(void **state) {
    (void)state;
    struct outline outline = body_prism(&arena, 0.1, 0.020, 0.030, SECTION_ROUNDED, 0.005);
    struct mesh mesh = check_mesh(&outline);
    assert_close(mesh_volume(&mesh), 0.1 * (0.020 * 0.030 - (4 - PI) * 25e-6), 5e-4);
}

/* pi e^2 (R - e/3) less, shallow and deep, in every kind of nose, beside its middle too; the face
 * around the mouth is flat and looks forward, and the floor stands on the sphere. */
static void a_cup_is_hollowed_out(void **state) {
    (void)state;
    for (int i = 0; i < 24; i++) {
        enum section_shape shape = (enum section_shape)(i % 3);
        double width = i / 3 % 2 ? 0.018 : 0.006, depth = i / 6 % 2 ? width / 2 : width / 6;
        double up = i / 12 ? 0.006 : 0;
        struct outline outline = body_prism(&arena, 0.08, 0.034, 0.026, shape, 0.006);
        struct notch cup = notch_cup(width, depth, up, 0);
        struct mesh mesh = mesh_of(&arena, &outline, &cup);
        double radius = (width * width / 4 + depth * depth) / (2 * depth);
        double less = PI * depth * depth * (radius - depth / 3), face = 0;
        check_closed(&mesh);
        assert_close(mesh_volume(&mesh), solid_of(&outline, 0).volume - less, 5e-4);
        for (int k = 0; k < mesh.facet_count; k++) {
            const int *corner = mesh.facets[k].corner;
            struct mesh_point a = mesh.points[corner[0]], b = mesh.points[corner[1]];
            struct mesh_point c = mesh.points[corner[2]],
                              middle = {(a.x + b.x + c.x) / 3, (a.y + b.y + c.y) / 3,
                                        (a.z + b.z + c.z) / 3};
            double area = ((b.y - a.y) * (c.z - a.z) - (b.z - a.z) * (c.y - a.y)) / 2;
            double off = hypot(middle.x - cup.x, hypot(middle.y, middle.z - cup.z)) - radius;
            if (a.x == 0 && b.x == 0 && c.x == 0) {
                assert_true(area < 1e-13);
                face -= area;
            } else if (middle.x < depth && hypot(middle.y, middle.z - up) < width / 2) {
                assert_near(off, 0, 0.02e-3);
            }
        }
        struct section nose = section_at(&outline, 0, 0);
        assert_close(face, section_area(&nose) - PI * width * width / 4, 2e-3);
    }
}

/* Where both faces beside an edge are off, the edge is off by more. */
static void sharp_edges_are_near_too(void **state) {
    (void)state;
    for (int k = 0; k < 5; k++) {
        double length = 0.2 + 0.04 * k;
        struct body_table table = {0};
        for (int i = 0; i < 6; i++) {
            double half = i % 2 ? 0.040 : 0.050; /* hollow and round by turns */
            body_row(&table, length * i / 5, half, half, 2 * half);
        }
        struct outline outline = body_outline(&arena, &table, SECTION_SQUARE, 0);
        struct mesh mesh = check_mesh(&outline);
        assert_true(farthest(&outline, &mesh, 4000) < 0.02e-3);
    }
}

static void any_body_is_closed_and_near(void **state) {
    (void)state;
    unsigned long long seed = 21;
    for (int i = 0; i < 60; i++) {
        struct body_table table = body_any(&seed);
        struct outline outline = body_outline(&arena, &table, (enum section_shape)(i % 3), 0.003);
        struct mesh mesh = check_mesh(&outline);
        if (i < 18)
            assert_true(farthest(&outline, &mesh, outline.shape == SECTION_OVAL ? 40 : 1000) <
                        0.02e-3);
        arena_free(&arena);
    }
}

/* What has height without width, or width without height, is left out, and what is between stands
 * alone: two shells that do not share a point. */
static void blades_and_sheets_are_left_out(void **state) {
    (void)state;
    struct body_table table = {0};
    body_row(&table, 0.00, 0.010, 0.010, 0.000);
    body_row(&table, 0.02, 0.010, 0.010, 0.000);
    body_row(&table, 0.04, 0.010, 0.010, 0.020);
    body_row(&table, 0.06, 0.004, -0.004, 0.020);
    body_row(&table, 0.08, 0.004, -0.004, 0.020);
    body_row(&table, 0.10, 0.006, 0.006, 0.010);
    for (int shape = 0; shape < 3; shape++) {
        struct outline outline = body_outline(&arena, &table, (enum section_shape)shape, 0.002);
        struct mesh mesh = check_mesh(&outline);
        for (int i = 0; i < mesh.point_count; i++) {
            assert_true(mesh.points[i].x > 0.02 - 1e-9);
            assert_true(mesh.points[i].x < 0.06 + 1e-9 || mesh.points[i].x > 0.08 - 1e-9);
        }
    }
}

/* A body that narrows to a line in its middle: two shells that touch there. */
static void a_pinched_body_is_two_shells(void **state) {
    (void)state;
    for (int flat = 0; flat < 2; flat++) {
        struct body_table table = {0};
        body_row(&table, 0.00, 0.008, 0.008, 0.010);
        body_row(&table, 0.05, flat ? 0 : 0.004, flat ? 0 : 0.004, flat ? 0.004 : 0);
        body_row(&table, 0.10, 0.008, 0.008, 0.010);
        struct outline outline = body_outline(&arena, &table, SECTION_OVAL, 0);
        struct mesh mesh = mesh_of(&arena, &outline, NULL);
        check_closed(&mesh);
        assert_close(mesh_volume(&mesh), solid_of(&outline, 0).volume, 5e-4);
    }
}

static void a_body_without_volume_has_no_facets(void **state) {
    (void)state;
    struct body_table table = {0};
    body_row(&table, 0, 0.01, 0.01, 0);
    body_row(&table, 0.1, 0.01, 0.01, 0);
    struct outline outline = body_outline(&arena, &table, SECTION_OVAL, 0);
    assert_int_equal(mesh_of(&arena, &outline, NULL).facet_count, 0);
}

/* A curved flank needs many facets; the mesh has no more than it needs by far. */
static void a_usual_plug_takes_some_ten_thousand_facets(void **state) {
    (void)state;
    struct body_table table = body_plug();
    struct outline outline = body_outline(&arena, &table, SECTION_OVAL, 0);
    struct mesh mesh = check_mesh(&outline);
    assert_in_range(mesh.facet_count, 5000, 60000);
    assert_true(farthest(&outline, &mesh, 60) < 0.02e-3);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(a_box_is_exact, arena_gone),
        cmocka_unit_test_teardown(normals_of_a_box_look_out_along_its_axes, arena_gone),
        cmocka_unit_test(a_facet_without_area_has_no_normal),
        cmocka_unit_test_teardown(cylinders_and_cones_have_their_volume, arena_gone),
        cmocka_unit_test_teardown(an_ellipsoid_has_its_volume, arena_gone),
        cmocka_unit_test_teardown(a_rounded_prism_has_its_volume, arena_gone),
        cmocka_unit_test_teardown(a_cup_is_hollowed_out, arena_gone),
        cmocka_unit_test_teardown(sharp_edges_are_near_too, arena_gone),
        cmocka_unit_test_teardown(any_body_is_closed_and_near, arena_gone),
        cmocka_unit_test_teardown(blades_and_sheets_are_left_out, arena_gone),
        cmocka_unit_test_teardown(a_pinched_body_is_two_shells, arena_gone),
        cmocka_unit_test_teardown(a_body_without_volume_has_no_facets, arena_gone),
        cmocka_unit_test_teardown(a_usual_plug_takes_some_ten_thousand_facets, arena_gone),
    };
    return cmocka_run_group_tests_name("mesh", tests, NULL, NULL);
}
