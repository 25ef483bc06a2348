/* Rings across the body, joined by strips and closed by fans.  Half of the chord error is spent
 * around a ring, half along the body:
 *     around  an arc of radius a in steps of 2 d leaves a (1 - cos d)
 *     along   between two rings all points run straight; where the section halfway does not agree
 *             with that, a ring is put in between
 */
#include "compute/shape/mesh.h"

#include <math.h>

#include "compute/shape/section.h"

enum { MAX_RINGS = 4000, MAX_QUARTER = 200, DEEPEST = 10 };

static const double quarter_turn = 1.57079632679489661923;

/* What is being built. */
struct builder {
    const struct outline *outline;
    double chord;
    double *ring; /* x of each */
    int ring_count;
    int quarter; /* steps of a quarter round */
    int around;  /* points of a ring */
    struct mesh mesh;
};

/* --- rings ---------------------------------------------------------------------------------- */

static double corner_radius(const struct section *s) {
    return fmin(s->radius, fmin(s->half_width, s->half_height));
}

/* How far a section lies from halfway between two others, at most, at any of its points. */
static double off_straight(const struct section *a, const struct section *b,
                           const struct section *between, double share) {
    double wide = a->half_width + share * (b->half_width - a->half_width) - between->half_width;
    double high = a->half_height + share * (b->half_height - a->half_height) - between->half_height;
    double centre = a->centre + share * (b->centre - a->centre) - between->centre;
    double ra = corner_radius(a), rb = corner_radius(b);
    double radius =
        a->shape == SECTION_ROUNDED ? ra + share * (rb - ra) - corner_radius(between) : 0.0;
    return hypot(fabs(wide) + fabs(radius), fabs(high) + fabs(centre) + fabs(radius));
}

static void split(struct builder *b, double from, double to, int deep) {
    struct section start = section_at(b->outline, from, 0.0), end = section_at(b->outline, to, 0.0);
    double worst = 0.0;
    for (int i = 1; i < 4; i++) {
        struct section between = section_at(b->outline, from + (to - from) * i / 4.0, 0.0);
        worst = fmax(worst, off_straight(&start, &end, &between, i / 4.0));
    }
    if (worst > b->chord / 2.0 && deep < DEEPEST && b->ring_count < MAX_RINGS - DEEPEST) {
        double middle = (from + to) / 2.0;
        split(b, from, middle, deep + 1);
        split(b, middle, to, deep + 1);
        return;
    }
    if (b->ring_count < MAX_RINGS) b->ring[b->ring_count++] = to;
}

/* A square section has its four corners alone. */
static int quarter_steps(const struct outline *outline, double chord) {
    double most = 0.0;
    if (outline->shape == SECTION_SQUARE) return 0;
    for (int i = 0; i < outline->width.count; i++)
        most =
            fmax(most, fmax(outline->width.y[i], outline->back.y[i] + outline->belly.y[i]) / 2.0);
    double radius = outline->shape == SECTION_ROUNDED ? fmin(outline->radius, most) : most;
    if (!(radius > chord / 2.0)) return 1;
    double step = 2.0 * acos(1.0 - chord / 2.0 / radius);
    return (int)fmin(MAX_QUARTER, ceil(quarter_turn / step));
}

/* Anticlockwise seen from behind: from the right flank over the back. */
static struct mesh_point ring_point(const struct builder *b, const struct section *s, double x,
                                    int index) {
    static const double side[4] = {1, -1, -1, 1}, up[4] = {1, 1, -1, -1};
    int quarter = index / (b->quarter + 1), step = index % (b->quarter + 1);
    bool oval = s->shape == SECTION_OVAL;
    double r = s->shape == SECTION_ROUNDED ? corner_radius(s) : 0.0;
    double wide = oval ? s->half_width : r, high = oval ? s->half_height : r;
    int along = quarter % 2 ? b->quarter - step : step;
    /* Exact at the ends, so that quarters meet. */
    double turn = b->quarter ? quarter_turn * along / b->quarter : 0.0;
    double c = along == b->quarter && b->quarter ? 0.0 : cos(turn);
    double n = along == b->quarter && b->quarter ? 1.0 : sin(turn);
    return (struct mesh_point){x, side[quarter] * (s->half_width - wide + wide * c),
                               s->centre + up[quarter] * (s->half_height - high + high * n)};
}

/* --- points, each once ---------------------------------------------------------------------- */

static bool same_point(const struct mesh_point *a, const struct mesh_point *b) {
    return (float)(1e3 * a->x) == (float)(1e3 * b->x) &&
           (float)(1e3 * a->y) == (float)(1e3 * b->y) && (float)(1e3 * a->z) == (float)(1e3 * b->z);
}

/* The point's index, new or among those from `first` on. */
static int add_point(struct mesh *mesh, int first, struct mesh_point point) {
    for (int i = first; i < mesh->point_count; i++)
        if (same_point(&mesh->points[i], &point)) return i;
    mesh->points[mesh->point_count] = point;
    return mesh->point_count++;
}

static void add_face(struct mesh *mesh, int a, int b, int c) {
    if (a == b || b == c || c == a) return;
    mesh->faces[mesh->face_count++] = (struct mesh_face){{a, b, c}};
}

static void add_ring(struct builder *b, int ring, int *index) {
    struct section section = section_at(b->outline, b->ring[ring], 0.0);
    int first = b->mesh.point_count;
    for (int i = 0; i < b->around; i++)
        index[i] = add_point(&b->mesh, first, ring_point(b, &section, b->ring[ring], i));
}

/* --- the mesh ------------------------------------------------------------------------------- */

static void strip(struct builder *b, const int *fore, const int *aft) {
    for (int i = 0; i < b->around; i++) {
        int next = (i + 1) % b->around;
        add_face(&b->mesh, fore[i], fore[next], aft[next]);
        add_face(&b->mesh, fore[i], aft[next], aft[i]);
    }
}

/* Closes an end that has an area; a point or an edge is closed as it is. */
static void cap(struct builder *b, const int *ring, double x, bool nose) {
    struct section s = section_at(b->outline, x, 0.0);
    if (section_empty(s.half_width, s.half_height)) return;
    int middle = b->mesh.point_count++;
    b->mesh.points[middle] = (struct mesh_point){x, 0.0, s.centre};
    for (int i = 0; i < b->around; i++) {
        int next = (i + 1) % b->around;
        if (nose)
            add_face(&b->mesh, middle, ring[next], ring[i]);
        else
            add_face(&b->mesh, middle, ring[i], ring[next]);
    }
}

static void place_rings(struct builder *b, struct arena *arena) {
    const struct curve *width = &b->outline->width;
    b->ring = NEW(arena, double, MAX_RINGS);
    b->ring[b->ring_count++] = 0.0;
    for (int i = 0; i + 1 < width->count; i++) split(b, width->x[i], width->x[i + 1], 0);
}

struct mesh mesh_of(struct arena *arena, const struct outline *outline, double chord) {
    struct builder b = {.outline = outline, .chord = chord};
    place_rings(&b, arena);
    b.quarter = quarter_steps(outline, chord);
    b.around = 4 * (b.quarter + 1);
    b.mesh.points = NEW(arena, struct mesh_point, b.ring_count * b.around + 2);
    b.mesh.faces = NEW(arena, struct mesh_face, 2 * b.ring_count * b.around + 2 * b.around);
    int *fore = NEW(arena, int, b.around), *aft = NEW(arena, int, b.around);
    add_ring(&b, 0, fore);
    cap(&b, fore, 0.0, true);
    for (int i = 1; i < b.ring_count; i++) {
        add_ring(&b, i, aft);
        strip(&b, fore, aft);
        int *done = fore;
        fore = aft;
        aft = done;
    }
    cap(&b, fore, outline->length, false);
    return b.mesh;
}

double mesh_volume(const struct mesh *mesh) {
    double six = 0.0;
    for (int i = 0; i < mesh->face_count; i++) {
        const struct mesh_point *p = &mesh->points[mesh->faces[i].corner[0]];
        const struct mesh_point *q = &mesh->points[mesh->faces[i].corner[1]];
        const struct mesh_point *r = &mesh->points[mesh->faces[i].corner[2]];
        six += p->x * (q->y * r->z - q->z * r->y) - p->y * (q->x * r->z - q->z * r->x) +
               p->z * (q->x * r->y - q->y * r->x);
    }
    return six / 6.0;
}
