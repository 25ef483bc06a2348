/* The body as triangles: volumes of school geometry, every edge shared by two faces, and no point
 * of the skin farther off than the chord error. */
#include "close.h"

#include <stdlib.h>

#include "bodies.h"
#include "compute/shape/mesh.h"
#include "compute/shape/section.h"
#include "compute/shape/solid.h"

static const double PI = 3.14159265358979323846;
static const double chord = 0.02e-3;

static struct arena arena;

static int arena_gone(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

static int by_ends(const void *left, const void *right) {
    const int *a = left, *b = right;
    return a[0] != b[0] ? a[0] - b[0] : a[1] - b[1];
}

/* Every edge runs once each way, and no face has two corners in one place. */
static void assert_closed(const struct mesh *mesh) {
    int count = 3 * mesh->face_count;
    int(*edges)[2] = (int(*)[2])arena_array(&arena, (size_t)count, sizeof *edges);
    for (int i = 0; i < mesh->face_count; i++)
        for (int k = 0; k < 3; k++) {
            edges[3 * i + k][0] = mesh->faces[i].corner[k];
            edges[3 * i + k][1] = mesh->faces[i].corner[(k + 1) % 3];
        }
    qsort(edges, (size_t)count, sizeof *edges, by_ends);
    for (int i = 0; i < count; i++) {
        int back[2] = {edges[i][1], edges[i][0]};
        assert_int_not_equal(edges[i][0], edges[i][1]);
        if (i) assert_int_not_equal(by_ends(edges[i - 1], edges[i]), 0);
        assert_non_null(bsearch(back, edges, (size_t)count, sizeof *edges, by_ends));
    }
}

static void a_box_has_twelve_faces_and_more_only_where_it_is_joined(void **state) {
    (void)state;
    struct outline outline = body_prism(&arena, 0.1, 0.02, 0.03, SECTION_SQUARE, 0);
    struct mesh mesh = mesh_of(&arena, &outline, chord);
    assert_int_equal(mesh.face_count,
                     8 + 2 * 4); /* the sides, and ends as fans about their middles */
    assert_close(mesh_volume(&mesh), 0.1 * 0.02 * 0.03, 1e-12);
    assert_closed(&mesh);
}

/* An n-gon in a circle: V = n/2 r^2 sin(2 pi/n) L; its sagitta is under the chord error. */
static void a_cylinder_is_the_prism_of_its_corners(void **state) {
    (void)state;
    double r = 0.009, length = 0.12;
    struct outline outline = body_prism(&arena, length, 2 * r, 2 * r, SECTION_OVAL, 0);
    struct mesh mesh = mesh_of(&arena, &outline, chord);
    int n = mesh.face_count / 4; /* two strips' worth and two fans */
    assert_close(mesh_volume(&mesh), n / 2.0 * r * r * sin(2 * PI / n) * length, 1e-9);
    assert_true(r * (1 - cos(PI / n)) <= chord);
    assert_closed(&mesh);
}

static void a_body_that_ends_in_a_point_or_an_edge_is_closed(void **state) {
    (void)state;
    static const enum section_shape shapes[] = {SECTION_OVAL, SECTION_ROUNDED, SECTION_SQUARE};
    for (int i = 0; i < 3; i++) {
        for (int edge = 0; edge < 2; edge++) {
            struct body_table table = {0};
            body_row(&table, 0, 0, 0, 0);
            body_row(&table, 0.05, 0.012, 0.010, 0.020);
            body_row(&table, 0.12, edge ? 0.004 : 0, edge ? 0.004 : 0, 0);
            struct outline outline = body_outline(&arena, &table, shapes[i], 0.003);
            struct mesh mesh = mesh_of(&arena, &outline, chord);
            assert_closed(&mesh);
            assert_close(mesh_volume(&mesh), solid_of(&outline, 0).volume, 4e-3);
        }
    }
}

/* Farthest that the true section lies outside the mesh, by the straight lines between the two
 * points of the mesh that are nearest around it: a bound from above. */
static double off_skin(const struct outline *outline, const struct mesh *mesh) {
    double worst = 0;
    for (int i = 0; i < mesh->face_count; i++) {
        const struct mesh_point *p = &mesh->points[mesh->faces[i].corner[0]];
        const struct mesh_point *q = &mesh->points[mesh->faces[i].corner[1]];
        const struct mesh_point *r = &mesh->points[mesh->faces[i].corner[2]];
        double x = (p->x + q->x + r->x) / 3, y = (p->y + q->y + r->y) / 3;
        double z = (p->z + q->z + r->z) / 3;
        if (p->x == q->x && q->x == r->x) continue; /* a flat end */
        struct section s = section_at(outline, x, 0);
        double dy = y / s.half_width, dz = (z - s.centre) / s.half_height, out = hypot(dy, dz);
        worst = fmax(worst, fabs(1 - 1 / out) * hypot(y, z - s.centre));
    }
    return worst;
}

static void no_face_lies_farther_in_than_the_chord_error(void **state) {
    (void)state;
    struct body_table table = body_plug();
    struct outline outline = body_outline(&arena, &table, SECTION_OVAL, 0);
    struct mesh fine = mesh_of(&arena, &outline, chord);
    struct mesh coarse = mesh_of(&arena, &outline, 10 * chord);
    assert_true(off_skin(&outline, &fine) <= chord);
    assert_true(off_skin(&outline, &coarse) <= 10 * chord);
    assert_true(coarse.face_count < fine.face_count / 3);
    double volume = solid_of(&outline, 0).volume;
    assert_true(mesh_volume(&fine) < volume && mesh_volume(&fine) > 0.997 * volume);
    assert_closed(&fine);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_box_has_twelve_faces_and_more_only_where_it_is_joined),
        cmocka_unit_test(a_cylinder_is_the_prism_of_its_corners),
        cmocka_unit_test(a_body_that_ends_in_a_point_or_an_edge_is_closed),
        cmocka_unit_test(no_face_lies_farther_in_than_the_chord_error),
    };
    return cmocka_run_group_tests(tests, NULL, arena_gone);
}
