/* The hull is integrated panel by panel (panel.h).  Towards (p, q) the sections reach from `low` to
 * `high` as seen along the plane's normal; both are smooth along x.  Where high <= level a section
 * is whole, where low >= level it is absent, and between the two it is clipped in closed form.
 * Whole panels come from a table of exact integrals.  A panel in which high or low meets the level
 * is split there, so that no quadrature runs over a kink; the plane may stand as steep as it likes.
 *
 * At such a split the clipped area rises from nothing as the power 1, 3/2 or 2 of the distance, and
 * the chord as its root; a step x = x0 + d t^2 (3 - 2 t) makes all of these smooth in t.
 */
#include "compute/shape/hull.h"

#include <math.h>

#include "compute/shape/clip.h"
#include "compute/shape/panel.h"

/* How far the sections reach along the plane's normal, and how that changes along x. */
struct band {
    double low, high, low_slope, high_slope;
};

struct rim {
    struct section section, slopes;
};

struct hull_panel {
    struct panel panel;
    struct rim front, back; /* sections at the panel's ends */
    struct panel_integrals whole;
    bool joined; /* begins with the section with which the panel before it ends */
    int points;  /* of the quadrature where no split is needed */
};

/* fmin and fmax proper are calls into the library. */
static inline double lesser(double a, double b) {
    return a < b ? a : b;
}

static inline double greater(double a, double b) {
    return a > b ? a : b;
}

static int points_for(double wide, double length) {
    return wide > length / 24 ? 4 : wide > length / 48 ? 3 : 2;
}

static struct hull_panel panel_ready(const struct panel *panel, double length) {
    struct hull_panel ready = {.panel = *panel};
    ready.front.section = panel_slopes(panel, panel->start, &ready.front.slopes);
    ready.back.section = panel_slopes(panel, panel->end, &ready.back.slopes);
    ready.whole = panel_integrate(panel, panel->start, panel->end);
    ready.points = points_for(panel->end - panel->start, length);
    return ready;
}

static void hull_grow(struct hull *hull, const struct hull_panel *added) {
    hull->volume += added->whole.volume;
    hull->moment_x += added->whole.moment_x;
    hull->moment_z += added->whole.moment_z;
    hull->count++;
}

struct hull hull_of(struct arena *arena, const struct outline *outline, double finish,
                    const struct plate *plate) {
    struct hull hull = {.plate = *plate, .length = outline->length};
    struct panel panels[PANELS_MOST];
    int rows = outline->back.count - 1, most = 0;
    for (int row = 0; row < rows; row++) most += panels_between(outline, row, finish, panels);
    struct hull_panel *all = NEW(arena, struct hull_panel, most);
    for (int row = 0; row < rows; row++) {
        int count = panels_between(outline, row, finish, panels);
        for (int i = 0; i < count; i++) {
            if (panels[i].empty) continue;
            all[hull.count] = panel_ready(&panels[i], outline->length);
            all[hull.count].joined =
                hull.count > 0 && all[hull.count - 1].panel.end == panels[i].start;
            hull_grow(&hull, &all[hull.count]);
        }
    }
    for (int i = 0; i <= rows; i++) {
        hull.top = fmax(hull.top, outline->back.y[i] + finish);
        hull.bottom = fmin(hull.bottom, -outline->belly.y[i] - finish);
        hull.half_width = fmax(hull.half_width, 0.5 * outline->width.y[i] + finish);
    }
    hull.panels = all;
    return hull;
}

void hull_take(struct hull *hull, const struct notch *notch) {
    if (notch->volume <= 0) return;
    hull->notches[hull->notch_count++] = *notch;
    hull->volume -= notch->volume;
    hull->moment_x -= notch->volume * notch->at_x;
    hull->moment_z -= notch->volume * notch->at_z;
}

/* How fast a section's reach towards (p, q) changes along x; `reach` is clip_reach of it. */
static double reach_slope(const struct section *s, const struct section *slopes, double p, double q,
                          double reach) {
    if (s->shape != SECTION_OVAL)
        return (slopes->half_width - slopes->radius) * fabs(p) +
               (slopes->half_height - slopes->radius) * fabs(q) + slopes->radius;
    if (p == 0) return slopes->half_height;
    if (!(reach > 0)) return 0;
    return (p * p * s->half_width * slopes->half_width +
            q * q * s->half_height * slopes->half_height) /
           reach;
}

static struct band band_of(const struct plane *plane, const struct rim *rim, double x) {
    double p = plane->p, q = plane->q, reach = clip_reach(&rim->section, p, q);
    double spread = reach_slope(&rim->section, &rim->slopes, p, q, reach);
    double middle = plane->sine * x + plane->cosine * q * rim->section.centre;
    double climb = plane->sine + plane->cosine * q * rim->slopes.centre;
    return (struct band){middle - plane->cosine * reach, middle + plane->cosine * reach,
                         climb - plane->cosine * spread, climb + plane->cosine * spread};
}

static struct band band_at(const struct plane *plane, const struct panel *panel, double x) {
    struct rim rim;
    rim.section = panel_slopes(panel, x, &rim.slopes);
    return band_of(plane, &rim, x);
}

static void add_whole(struct hull_part *part, const struct panel_integrals *whole) {
    part->volume += whole->volume;
    part->moment_x += whole->moment_x;
    part->moment_z += whole->moment_z;
}

/* A clipped section at x, standing for `wide` metres along x; less than 0 takes it out. */
static void add_section(struct hull_part *part, const struct plane *plane, struct section section,
                        double x, double wide) {
    double level = (plane->level - plane->sine * x) / plane->cosine;
    struct cut cut = clip_section(&section, plane->p, plane->q, level);
    part->volume += wide * cut.area;
    part->moment_x += wide * cut.area * x;
    part->moment_y += wide * cut.moment_y;
    part->moment_z += wide * cut.moment_z;
    double area = 2 * cut.half * wide / plane->cosine;
    double s = x * plane->cosine - level * plane->sine, m = cut.middle;
    part->area += area;
    part->area_s += area * s;
    part->area_m += area * m;
    part->area_ss += area * s * s;
    part->area_mm += area * (m * m + cut.half * cut.half / 3);
}

static void add_clipped(struct hull_part *part, const struct plane *plane,
                        const struct panel *panel, double x, double wide) {
    add_section(part, plane, panel_section(panel, x), x, wide);
}

/* How a plane meets a section: 0 it lies above, 2 it is whole below, 1 it is cut. */
static int state_at(const struct plane *plane, const struct notch *notch, double x) {
    struct section section = notch_section(notch, x);
    double reach = clip_reach(&section, plane->p, plane->q);
    double level = (plane->level - plane->sine * x) / plane->cosine - plane->q * section.centre;
    return level <= -reach ? 0 : level >= reach ? 2 : 1;
}

/* From x0 to x1, at both of which what is cut may rise from nothing, as in add_ending. */
static void take_stretch(struct hull_part *part, const struct plane *plane,
                         const struct notch *notch, double x0, double x1) {
    const struct gauss *gauss = &gauss_rule[GAUSS_MOST - 1];
    for (int i = 0; i < GAUSS_MOST; i++) {
        double t = gauss->at[i], x = x0 + (x1 - x0) * t * t * (3 - 2 * t);
        add_section(part, plane, notch_section(notch, x), x,
                    -(x1 - x0) * 6 * t * (1 - t) * gauss->weight[i]);
    }
}

/* Parted where the plane begins or ends to cut it: within a piece it does so once at most, as far
 * as matters. */
static void take_notch(struct hull_part *part, const struct plane *plane,
                       const struct notch *notch) {
    enum { PIECES = 8, HALVINGS = 40 };
    double wide = (notch->end - notch->start) / PIECES;
    for (int piece = 0; piece < PIECES; piece++) {
        double from = notch->start + wide * piece, to = from + wide, low = from, high = to;
        int state = state_at(plane, notch, from);
        bool changes = state != state_at(plane, notch, to);
        for (int i = 0; i < HALVINGS && changes; i++) {
            double middle = (low + high) / 2;
            if (state_at(plane, notch, middle) == state)
                low = middle;
            else
                high = middle;
        }
        take_stretch(part, plane, notch, from, changes ? low : to);
        if (changes) take_stretch(part, plane, notch, low, to);
    }
}

static void add_smooth(struct hull_part *part, const struct plane *plane, const struct panel *panel,
                       int points) {
    const struct gauss *gauss = &gauss_rule[points - 1];
    double wide = panel->end - panel->start;
    for (int i = 0; i < points; i++)
        add_clipped(part, plane, panel, panel->start + wide * gauss->at[i],
                    wide * gauss->weight[i]);
}

/* From x0 to x1, at both of which the clipped area may rise from nothing: x = x0 + d t^2 (3 - 2 t).
 */
static void add_ending(struct hull_part *part, const struct plane *plane, const struct panel *panel,
                       double x0, double x1, int points) {
    const struct gauss *gauss = &gauss_rule[points - 1];
    double wide = x1 - x0;
    for (int i = 0; i < points; i++) {
        double t = gauss->at[i];
        add_clipped(part, plane, panel, x0 + wide * t * t * (3 - 2 * t),
                    wide * 6 * t * (1 - t) * gauss->weight[i]);
    }
}

/* Places along a panel, in rising order. */
enum { SPLITS_MOST = 12 };
struct splits {
    double at[SPLITS_MOST];
    int count;
};

static void split_at(struct splits *splits, double x) {
    if (splits->count == SPLITS_MOST) return;
    int i = splits->count++;
    for (; i > 0 && splits->at[i - 1] > x; i--) splits->at[i] = splits->at[i - 1];
    splits->at[i] = x;
}

/* One of the two reaches less the level, with its slope. */
struct gap {
    double value, slope;
};

static struct gap gap_at(const struct plane *plane, const struct panel *panel, bool high,
                         double x) {
    struct band band = band_at(plane, panel, x);
    return high ? (struct gap){band.high - plane->level, band.high_slope}
                : (struct gap){band.low - plane->level, band.low_slope};
}

/* Where a reach turns between x0 and x1, at which its slope has opposite signs: by false position
 * with the Illinois rule. */
static double turn_between(const struct plane *plane, const struct panel *panel, bool high,
                           double x0, double x1) {
    double s0 = gap_at(plane, panel, high, x0).slope, s1 = gap_at(plane, panel, high, x1).slope;
    for (int i = 0; i < 12; i++) {
        double x = x1 - s1 * (x1 - x0) / (s1 - s0);
        double s = gap_at(plane, panel, high, x).slope;
        if (s == 0) return x;
        if ((s > 0) == (s1 > 0)) {
            s0 *= 0.5;
        } else {
            x0 = x1;
            s0 = s1;
        }
        if (fabs(x - x1) < 1e-9 * (panel->end - panel->start)) return x;
        x1 = x;
        s1 = s;
    }
    return x1;
}

/* Where a reach meets the level between x0 and x1, of which it is on different sides: Newton's
 * steps, halving the bracket where one leads out of it. */
static double crossing_between(const struct plane *plane, const struct panel *panel, bool high,
                               double x0, double x1) {
    bool rises = gap_at(plane, panel, high, x1).value > 0;
    double x = 0.5 * (x0 + x1), step = x1 - x0;
    for (int i = 0; i < 80 && fabs(step) > 1e-16 + 1e-15 * fabs(x); i++) {
        struct gap gap = gap_at(plane, panel, high, x);
        if ((gap.value > 0) == rises)
            x1 = x;
        else
            x0 = x;
        double next = x - gap.value / gap.slope;
        if (!(next > x0 && next < x1)) next = 0.5 * (x0 + x1);
        step = next - x;
        x = next;
    }
    return x;
}

/* Adds the places where a reach meets the level between the panel's ends. */
static void split_reach(struct splits *splits, const struct plane *plane, const struct panel *panel,
                        bool high) {
    double at[3] = {panel->start, panel->end, panel->end};
    struct gap gap[3] = {gap_at(plane, panel, high, at[0]), gap_at(plane, panel, high, at[1])};
    int pieces = 1;
    if (gap[0].slope * gap[1].slope < 0) {
        at[1] = turn_between(plane, panel, high, at[0], at[2]);
        gap[2] = gap[1];
        gap[1] = gap_at(plane, panel, high, at[1]);
        pieces = 2;
    }
    for (int i = 0; i < pieces; i++)
        if ((gap[i].value > 0) != (gap[i + 1].value > 0))
            split_at(splits, crossing_between(plane, panel, high, at[i], at[i + 1]));
}

static void add_split(struct hull_part *part, const struct plane *plane, const struct panel *panel,
                      int points) {
    struct splits splits = {.at = {panel->start}, .count = 1};
    split_reach(&splits, plane, panel, true);
    split_reach(&splits, plane, panel, false);
    split_at(&splits, panel->end);
    for (int i = 0; i + 1 < splits.count; i++) {
        double x0 = splits.at[i], x1 = splits.at[i + 1];
        if (!(x1 > x0)) continue;
        struct band band = band_at(plane, panel, 0.5 * (x0 + x1));
        if (band.high <= plane->level) {
            struct panel_integrals whole = panel_integrate(panel, x0, x1);
            add_whole(part, &whole);
        } else if (band.low < plane->level) {
            add_ending(part, plane, panel, x0, x1, points);
        }
    }
}

/* How far a reach may bulge beyond the panel's ends, from its slopes there: to 1 upwards, to -1
 * downwards. */
static double bulge(double slope0, double slope1, double wide, double sign) {
    if (!(sign * slope0 > 0 && sign * slope1 < 0)) return 0;
    return wide * greater(fabs(slope0), fabs(slope1));
}

/* A panel with the bands `a` and `b` at its ends. */
static void add_panel(struct hull_part *part, const struct plane *plane,
                      const struct hull_panel *ready, struct band a, struct band b,
                      enum fineness fineness) {
    const struct panel *panel = &ready->panel;
    double level = plane->level, wide = panel->end - panel->start;
    double highest = greater(a.high, b.high) + bulge(a.high_slope, b.high_slope, wide, 1);
    double lowest = lesser(a.low, b.low) - bulge(a.low_slope, b.low_slope, wide, -1);
    if (highest <= level) {
        add_whole(part, &ready->whole);
        return;
    }
    if (lowest >= level) return;
    double least_high = lesser(a.high, b.high) - bulge(a.high_slope, b.high_slope, wide, -1);
    double most_low = greater(a.low, b.low) + bulge(a.low_slope, b.low_slope, wide, 1);
    bool fine = fineness == HULL_FINE;
    if (least_high > level && most_low < level)
        add_smooth(part, plane, panel, ready->points + (fine ? 1 : -1));
    else
        add_split(part, plane, panel, fine ? 6 : 4);
}

static void add_plate(struct hull_part *part, const struct plane *plane,
                      const struct plate *plate) {
    double nz = plane->cosine * plane->q;
    struct plate_part lip = plate_below(plate, plane->sine, nz, plane->level);
    part->volume += lip.volume;
    part->moment_x += lip.moment_x;
    part->moment_z += lip.moment_z;
    if (!(lip.rate > 0)) return;
    double s = plane->cosine * lip.trace_x - plane->sine * plane->q * lip.trace_z;
    double m = -plane->p * lip.trace_z;
    part->area += lip.rate;
    part->area_s += lip.rate * s;
    part->area_m += lip.rate * m;
    part->area_ss += lip.rate * s * s;
    part->area_mm += lip.rate * m * m;
}

struct hull_part hull_below(const struct hull *hull, const struct plane *plane,
                            enum fineness fineness) {
    struct hull_part part = {0};
    struct band back = {0};
    for (int i = 0; i < hull->count; i++) {
        const struct hull_panel *ready = &hull->panels[i];
        struct band front =
            ready->joined ? back : band_of(plane, &ready->front, ready->panel.start);
        back = band_of(plane, &ready->back, ready->panel.end);
        add_panel(&part, plane, ready, front, back, fineness);
    }
    for (int i = 0; i < hull->notch_count; i++) take_notch(&part, plane, &hull->notches[i]);
    add_plate(&part, plane, &hull->plate);
    return part;
}
