/* Rings around the sections, and strips of facets from ring to ring.
 *
 * A ring has the same number of points everywhere: so many on each of four corners, which of a
 * square section coincide and of an oval meet.  Points that coincide are one, and facets that lose
 * a corner by that are left out; what is closed stays closed.  So points, edges and blades need
 * nothing of their own: there a ring is folded to a point or to a line.
 *
 * A strip whose facets miss the surface by too much is halved along x.  What the points around
 * miss is half of what is allowed, so that halving ends.
 */
#include "compute/shape/mesh.h"

#include <math.h>

#include "compute/shape/panel.h"

static const double chord_most = 0.018e-3; /* m between surface and facets: 0.02 mm, less what
                                            the places that are looked at may miss */
static const double volume_most = 0.0005;  /* of the volume */
static const double grid = 1e-7;           /* m: coordinates are whole numbers of it */
static const double thinnest = 0.5e-6;     /* m: of half a section that is not folded */
static const double quarter_turn = 1.57079632679489661923;

enum { HALVINGS = 12, ATTEMPTS = 8, CORNERS = 4, FEWEST_STEPS = 4 };

struct rim {
    struct section section;
    double x;
    int *points;       /* of the mesh */
    bool flat, narrow; /* folded: without height, without width */
};

struct meshing {
    struct arena *arena;
    struct mesh mesh;
    size_t point_room, facet_room;
    const struct notch *cup; /* NULL: none */
    double chord;
    int steps;             /* of a corner */
    int around;            /* points of a ring */
    double *cosine, *sine; /* of a corner's angle, in half steps */
    struct rim last;
    bool open; /* there is a last ring */
};

/* --- points --------------------------------------------------------------------------------- */

static bool folded(const struct rim *ring) {
    return ring->flat || ring->narrow;
}

static struct rim ring_at(const struct panel *panel, double x) {
    struct rim ring = {.section = panel_section(panel, x), .x = x};
    struct section *s = &ring.section;
    ring.flat = s->half_height < thinnest;
    ring.narrow = s->half_width < thinnest;
    if (ring.flat) s->half_height = 0;
    if (ring.narrow) s->half_width = 0;
    if (s->shape != SECTION_OVAL) s->radius = fmin(s->radius, fmin(s->half_width, s->half_height));
    return ring;
}

/* On the corner at `half` of its steps, counted anticlockwise as seen from the tail: the first
 * corner is that of starboard and back. */
static struct mesh_point corner_point(const struct meshing *m, const struct rim *ring, int corner,
                                      int half) {
    const struct section *s = &ring->section;
    bool oval = s->shape == SECTION_OVAL;
    double round_y = oval ? s->half_width : s->radius, round_z = oval ? s->half_height : s->radius;
    double side = corner == 0 || corner == 3 ? 1 : -1, up = corner < 2 ? 1 : -1;
    int at = corner % 2 ? 2 * m->steps - half : half;
    return (struct mesh_point){ring->x, side * (s->half_width - round_y + round_y * m->cosine[at]),
                               s->centre + up * (s->half_height - round_z + round_z * m->sine[at])};
}

static struct mesh_point between(struct mesh_point a, struct mesh_point b) {
    return (struct mesh_point){(a.x + b.x) / 2, (a.y + b.y) / 2, (a.z + b.z) / 2};
}

/* Point `at` of a ring, or what lies halfway to the next. */
static struct mesh_point rim_point(const struct meshing *m, const struct rim *ring, int at,
                                   bool halfway) {
    int corner = at / (m->steps + 1), step = at % (m->steps + 1);
    struct mesh_point point =
        corner_point(m, ring, corner, 2 * step + (halfway && step < m->steps));
    if (!halfway || step < m->steps) return point;
    return between(point, corner_point(m, ring, (corner + 1) % CORNERS, 0));
}

static double on_grid(double value) {
    return round(value / grid) * grid + 0.0; /* and no -0 */
}

static int add_point(struct meshing *m, struct mesh_point point) {
    struct mesh *mesh = &m->mesh;
    GROW(m->arena, mesh->points, mesh->point_count, m->point_room);
    mesh->points[mesh->point_count] = point;
    return mesh->point_count++;
}

/* The mesh's points of a ring: those in one place are one. */
static void add_ring(struct meshing *m, struct rim *ring) {
    int first = m->mesh.point_count;
    ring->points = NEW(m->arena, int, m->around);
    for (int i = 0; i < m->around; i++) {
        struct mesh_point point = rim_point(m, ring, i, false);
        point = (struct mesh_point){on_grid(point.x), on_grid(point.y), on_grid(point.z)};
        int same = first;
        for (; same < m->mesh.point_count; same++) {
            const struct mesh_point *other = &m->mesh.points[same];
            if (other->y == point.y && other->z == point.z) break;
        }
        ring->points[i] = same < m->mesh.point_count ? same : add_point(m, point);
    }
}

/* --- facets --------------------------------------------------------------------------------- */

static void add_facet(struct meshing *m, int a, int b, int c) {
    struct mesh *mesh = &m->mesh;
    if (a == b || b == c || c == a) return;
    GROW(m->arena, mesh->facets, mesh->facet_count, m->facet_room);
    mesh->facets[mesh->facet_count++] = (struct mesh_facet){{a, b, c}};
}

/* Which way the four points between two rings are parted: mirror images are parted alike.  Beside
 * the tip of a ring that is folded to a line the parting line begins at that tip, since the next
 * point of the line belongs to both sides. */
static bool parted_upward(const struct meshing *m, const struct rim *front, const struct rim *back,
                          int at) {
    bool even = at / (m->steps + 1) % 2 == 0;
    return even != (front->narrow || back->flat);
}

static void add_strip(struct meshing *m, const struct rim *front, const struct rim *back) {
    for (int i = 0; i < m->around; i++) {
        int next = (i + 1) % m->around;
        int a = front->points[i], b = front->points[next];
        int c = back->points[next], d = back->points[i];
        if (parted_upward(m, front, back, i)) {
            add_facet(m, a, b, c);
            add_facet(m, a, c, d);
        } else {
            add_facet(m, a, b, d);
            add_facet(m, d, b, c);
        }
    }
}

/* Steps of a corner of that radius whose chords leave the arc by no more than half of what is
 * allowed. */
static int steps_for(double radius, double chord) {
    double most = 2 * acos(fmax(1 - 0.5 * chord / radius, 0));
    return (int)fmax(ceil(quarter_turn / most), FEWEST_STEPS);
}

/* --- faces ---------------------------------------------------------------------------------- */

/* Points one behind the other, closed, anticlockwise as seen from the tail. */
struct loop {
    int *points; /* of the mesh */
    int count;
};

static struct loop loop_of(const struct meshing *m, const struct rim *rim) {
    struct loop loop = {NEW(m->arena, int, m->around), 0};
    for (int i = 0; i < m->around; i++)
        if (rim->points[i] != rim->points[(i + 1) % m->around])
            loop.points[loop.count++] = rim->points[i];
    return loop;
}

static int loop_at(const struct loop *loop, int i) {
    return loop->points[i % loop->count];
}

static double apart(const struct meshing *m, int a, int b) {
    const struct mesh_point *p = &m->mesh.points[a], *q = &m->mesh.points[b];
    return hypot(p->y - q->y, p->z - q->z);
}

/* Whether p lies on the right of the line from a to b, seen from the tail. */
static bool right_of(const struct meshing *m, int p, int a, int b) {
    const struct mesh_point *at = m->mesh.points;
    return (at[b].y - at[a].y) * (at[p].z - at[a].z) < (at[b].z - at[a].z) * (at[p].y - at[a].y);
}

/* Which point of the mouth is nearest to one of the rim. */
static int nearest_of(const struct meshing *m, const struct loop *mouth, int point) {
    int best = 0;
    for (int k = 1; k < mouth->count; k++)
        if (apart(m, point, mouth->points[k]) < apart(m, point, mouth->points[best])) best = k;
    return best;
}

/* A face that looks forward, between a convex rim and a convex mouth inside it: one step along
 * either by turns, whichever makes the shorter edge between them of those that do not run through
 * the mouth. */
static void add_shoulder(struct meshing *m, const struct loop *rim, const struct loop *mouth) {
    int first = nearest_of(m, mouth, rim->points[0]), i = 0, k = 0;
    while (i < rim->count || k < mouth->count) {
        int p = loop_at(rim, i), next_p = loop_at(rim, i + 1);
        int c = loop_at(mouth, first + k), next_c = loop_at(mouth, first + k + 1);
        bool inner = k < mouth->count && right_of(m, p, c, next_c);
        bool outer = i < rim->count && right_of(m, next_p, c, next_c);
        if (inner && outer) inner = apart(m, p, next_c) <= apart(m, next_p, c);
        if (inner) {
            add_facet(m, c, next_c, p);
            k++;
        } else if (i < rim->count) {
            add_facet(m, c, next_p, p);
            i++;
        } else {
            return; /* the mouth is not inside the rim */
        }
    }
}

/* Around the cup at `turn` from its axis. */
static struct loop cup_loop(struct meshing *m, double turn, int count) {
    const struct notch *cup = m->cup;
    struct loop loop = {NEW(m->arena, int, count), count};
    double x = cup->x + cup->radius * cos(turn), radius = cup->radius * sin(turn);
    for (int i = 0; i < count; i++) {
        double round = 4 * quarter_turn * i / count;
        loop.points[i] = add_point(m, (struct mesh_point){on_grid(x), on_grid(radius * cos(round)),
                                                          on_grid(cup->z + radius * sin(round))});
    }
    return loop;
}

/* The cup's floor from its mouth to its deepest point. */
static void add_floor(struct meshing *m, struct loop outer, double turn, int rings) {
    for (int k = rings - 1; k >= 0; k--) {
        struct loop inner = cup_loop(m, turn * k / rings, k ? outer.count : 1);
        for (int i = 0; i < outer.count; i++) {
            int a = loop_at(&inner, i), b = loop_at(&inner, i + 1);
            add_facet(m, a, b, outer.points[i]);
            add_facet(m, b, loop_at(&outer, i + 1), outer.points[i]);
        }
        outer = inner;
    }
}

static void add_hollow_face(struct meshing *m, const struct rim *rim) {
    const struct notch *cup = m->cup;
    double turn = acos(fmin(fmax(-cup->x / cup->radius, -1), 1));
    int around = CORNERS * steps_for(cup->radius * sin(turn), m->chord);
    int rings = (int)ceil(turn / quarter_turn * steps_for(cup->radius, m->chord));
    struct loop outside = loop_of(m, rim), mouth = cup_loop(m, turn, around);
    add_shoulder(m, &outside, &mouth);
    add_floor(m, mouth, turn, rings);
}

/* The flat face of a ring in upright strips from back to belly; a folded one has none. */
static void add_face(struct meshing *m, const struct rim *ring, bool aft) {
    if (folded(ring)) return;
    if (m->cup && !aft && ring->x == 0) {
        add_hollow_face(m, ring);
        return;
    }
    for (int i = 0; i + 1 < m->around / 2; i++) {
        int a = ring->points[i], b = ring->points[i + 1];
        int c = ring->points[m->around - 2 - i], d = ring->points[m->around - 1 - i];
        if (aft) {
            add_facet(m, a, b, c);
            add_facet(m, a, c, d);
        } else {
            add_facet(m, a, c, b);
            add_facet(m, a, d, c);
        }
    }
}

/* --- how far the facets are from the surface ------------------------------------------------ */

static struct mesh_point cross_of(struct mesh_point a, struct mesh_point b, struct mesh_point c) {
    double ux = b.x - a.x, uy = b.y - a.y, uz = b.z - a.z;
    double vx = c.x - a.x, vy = c.y - a.y, vz = c.z - a.z;
    return (struct mesh_point){uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx};
}

/* From the plane through three points; less than 0 where they make none. */
static double off_plane(struct mesh_point p, struct mesh_point a, struct mesh_point b,
                        struct mesh_point c) {
    struct mesh_point n = cross_of(a, b, c);
    double size = sqrt(n.x * n.x + n.y * n.y + n.z * n.z);
    if (!(size > grid * grid)) return -1;
    return fabs(n.x * (p.x - a.x) + n.y * (p.y - a.y) + n.z * (p.z - a.z)) / size;
}

/* Four points between two rings, as add_strip parts them. */
struct patch {
    struct mesh_point a, b, c, d;
    bool upward;
};

/* Of a place on the surface above the patch, `along` from front to back and `round` from a to b. */
static double off_patch(const struct patch *patch, struct mesh_point p, double along,
                        double round) {
    bool first = patch->upward ? round >= along : round + along <= 1;
    for (int i = 0; i < 2; i++, first = !first) {
        double off;
        if (patch->upward)
            off = first ? off_plane(p, patch->a, patch->b, patch->c)
                        : off_plane(p, patch->a, patch->c, patch->d);
        else
            off = first ? off_plane(p, patch->a, patch->b, patch->d)
                        : off_plane(p, patch->d, patch->b, patch->c);
        if (off >= 0) return off;
    }
    return 0;
}

/* From the line through a and d: what a sharp edge is off. */
static double off_edge(const struct patch *patch, struct mesh_point p) {
    struct mesh_point a = patch->a, d = patch->d, n = cross_of(p, a, d);
    double size =
        sqrt((d.x - a.x) * (d.x - a.x) + (d.y - a.y) * (d.y - a.y) + (d.z - a.z) * (d.z - a.z));
    return sqrt(n.x * n.x + n.y * n.y + n.z * n.z) / size;
}

static struct patch patch_at(const struct meshing *m, const struct rim *front,
                             const struct rim *back, int at) {
    int next = (at + 1) % m->around;
    return (struct patch){rim_point(m, front, at, false), rim_point(m, front, next, false),
                          rim_point(m, back, next, false), rim_point(m, back, at, false),
                          parted_upward(m, front, back, at)};
}

static bool strip_fits(const struct meshing *m, const struct panel *panel, const struct rim *front,
                       const struct rim *back) {
    enum { PLACES = 3 };
    struct rim inner[PLACES];
    for (int k = 0; k < PLACES; k++)
        inner[k] = ring_at(panel, front->x + (back->x - front->x) * (k + 1) / (PLACES + 1));
    for (int i = 0; i < m->around; i++) {
        struct patch patch = patch_at(m, front, back, i);
        for (int k = 0; k < 2 * PLACES; k++) {
            bool halfway = k % 2;
            int place = k / 2;
            double along = (place + 1.0) / (PLACES + 1);
            struct mesh_point p = rim_point(m, &inner[place], i, halfway);
            bool sharp = m->steps == 0 && !halfway;
            double off =
                sharp ? off_edge(&patch, p) : off_patch(&patch, p, along, halfway ? 0.5 : 0);
            if (off > m->chord) return false;
        }
    }
    return true;
}

/* --- the body ------------------------------------------------------------------------------- */

static void close_shell(struct meshing *m) {
    if (m->open) add_face(m, &m->last, true);
    m->open = false;
}

/* Two shells may touch in a folded ring, but share no point of it. */
static void begin_strip(struct meshing *m, const struct rim *front) {
    if (m->open && !folded(&m->last)) return;
    m->last = *front;
    add_ring(m, &m->last);
    add_face(m, &m->last, false);
    m->open = true;
}

/* From the last ring, at x0, to x1; halved as often as it must be. */
static void add_stretch(struct meshing *m, const struct panel *panel, double x0, double x1,
                        int halvings) {
    struct rim front = ring_at(panel, x0), back = ring_at(panel, x1);
    if (halvings && !strip_fits(m, panel, &front, &back)) {
        double middle = 0.5 * (x0 + x1);
        add_stretch(m, panel, x0, middle, halvings - 1);
        add_stretch(m, panel, middle, x1, halvings - 1);
        return;
    }
    if ((front.flat && back.flat) || (front.narrow && back.narrow)) {
        close_shell(m);
        return;
    }
    begin_strip(m, &front);
    add_ring(m, &back);
    add_strip(m, &m->last, &back);
    m->last = back;
}

static double greatest_radius(const struct outline *outline) {
    double radius = 0, high = 0;
    for (int i = 0; i < outline->back.count; i++) {
        radius = fmax(radius, outline->width.y[i] / 2);
        high = fmax(high, (outline->back.y[i] + outline->belly.y[i]) / 2);
    }
    if (outline->shape == SECTION_OVAL) return fmax(radius, high);
    return fmin(outline->radius, fmin(radius, high));
}

static struct meshing meshing_of(struct arena *arena, const struct outline *outline,
                                 const struct notch *cup, double chord) {
    struct meshing m = {.arena = arena, .cup = cup, .chord = chord};
    double radius = greatest_radius(outline);
    m.steps = outline->shape == SECTION_SQUARE || !(radius > 0) ? 0 : steps_for(radius, chord);
    m.around = CORNERS * (m.steps + 1);
    m.cosine = NEW(arena, double, 2 * m.steps + 1);
    m.sine = NEW(arena, double, 2 * m.steps + 1);
    for (int i = 0; i <= 2 * m.steps; i++) {
        double turn = m.steps ? quarter_turn * i / (2 * m.steps) : 0;
        m.cosine[i] = cos(turn);
        m.sine[i] = sin(turn);
    }
    return m;
}

/* And the volume that it should have. */
static struct mesh mesh_within(struct arena *arena, const struct outline *outline,
                               const struct notch *cup, double chord, double *volume) {
    struct meshing m = meshing_of(arena, outline, cup, chord);
    *volume = cup ? -cup->volume : 0;
    for (int row = 0; row + 1 < outline->back.count; row++) {
        struct panel panels[PANELS_MOST];
        int count = panels_between(outline, row, 0, panels);
        for (int i = 0; i < count; i++) {
            const struct panel *panel = &panels[i];
            *volume += panel_integrate(panel, panel->start, panel->end).volume;
            if (panel->empty)
                close_shell(&m);
            else
                add_stretch(&m, panel, panel->start, panel->end, HALVINGS);
        }
    }
    close_shell(&m);
    return m.mesh;
}

double mesh_volume(const struct mesh *mesh) {
    double sum = 0;
    for (int i = 0; i < mesh->facet_count; i++) {
        const int *corner = mesh->facets[i].corner;
        struct mesh_point a = mesh->points[corner[0]], b = mesh->points[corner[1]];
        struct mesh_point c = mesh->points[corner[2]];
        sum += a.x * (b.y * c.z - b.z * c.y) + a.y * (b.z * c.x - b.x * c.z) +
               a.z * (b.x * c.y - b.y * c.x);
    }
    return sum / 6;
}

struct mesh_point mesh_normal(const struct mesh *mesh, int facet) {
    const int *corner = mesh->facets[facet].corner;
    struct mesh_point n =
        cross_of(mesh->points[corner[0]], mesh->points[corner[1]], mesh->points[corner[2]]);
    double size = sqrt(n.x * n.x + n.y * n.y + n.z * n.z);
    if (!(size > 0)) return (struct mesh_point){0, 0, 0};
    return (struct mesh_point){n.x / size, n.y / size, n.z / size};
}

/* What the volume misses goes with the chord. */
struct mesh mesh_of(struct arena *arena, const struct outline *outline, const struct notch *cup) {
    double chord = chord_most, volume;
    struct mesh mesh = mesh_within(arena, outline, cup, chord, &volume);
    for (int i = 0; i < ATTEMPTS && volume > 0; i++) {
        double missed = fabs(mesh_volume(&mesh) - volume) / volume;
        if (missed <= volume_most) break;
        chord *= fmin(0.9 * volume_most / missed, 0.9);
        mesh = mesh_within(arena, outline, cup, chord, &volume);
    }
    return mesh;
}
