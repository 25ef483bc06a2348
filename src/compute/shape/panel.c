/* A panel ends at a station, where the corner radius stops being the recipe's and starts being the
 * half-width or half-height (or one of these takes over from the other), and nowhere reaches over
 * more than a sixteenth of the body.
 */
#include "compute/shape/panel.h"

#include <math.h>

enum { PANELS_ALONG = 16, BREAKS_MOST = PANELS_ALONG + 9 };

const struct gauss gauss_rule[GAUSS_MOST] = {
    {{0.5}, {1}},
    {{0.2113248654051871, 0.7886751345948129}, {0.5, 0.5}},
    {{0.1127016653792583, 0.5, 0.8872983346207417},
     {0.2777777777777778, 0.4444444444444444, 0.2777777777777778}},
    {{0.06943184420297371, 0.3300094782075719, 0.6699905217924281, 0.9305681557970262},
     {0.1739274225687268, 0.3260725774312731, 0.3260725774312731, 0.1739274225687268}},
    {{0.04691007703066802, 0.2307653449471584, 0.5, 0.7692346550528415, 0.9530899229693319},
     {0.1184634425280947, 0.2393143352496831, 0.2844444444444445, 0.2393143352496831,
      0.1184634425280947}},
    {{0.03376524289842397, 0.1693953067668678, 0.3806904069584015, 0.6193095930415985,
      0.8306046932331322, 0.966234757101576},
     {0.08566224618958487, 0.1803807865240695, 0.2339569672863457, 0.2339569672863457,
      0.1803807865240695, 0.08566224618958487}},
};

/* factor (a + b sign) */
static struct cubic mixed(const struct cubic *a, const struct cubic *b, double sign,
                          double factor) {
    struct cubic sum;
    for (int i = 0; i < 4; i++) sum.c[i] = factor * (a->c[i] + sign * b->c[i]);
    return sum;
}

/* Sorts places along a row and drops those that all but coincide; the ends 0 and `end` stay. */
static int tidied(double *at, int count, double end) {
    for (int i = 1; i < count; i++)
        for (int j = i; j > 0 && at[j - 1] > at[j]; j--) {
            double swap = at[j];
            at[j] = at[j - 1];
            at[j - 1] = swap;
        }
    int kept = 1;
    for (int i = 1; i < count; i++)
        if (at[i] - at[kept - 1] > 1e-6 * end) at[kept++] = at[i];
    at[kept - 1] = end;
    return kept;
}

static int add_roots(const struct cubic *cubic, double end, double *at, int count) {
    double roots[3];
    int found = cubic_roots(cubic, end, roots);
    for (int i = 0; i < found; i++) at[count++] = roots[i];
    return count;
}

/* Where the panels of a row begin and end, counted from its station; `whole` is the row, bare. */
static int breaks_of(const struct panel *whole, double length, double at[BREAKS_MOST + 1]) {
    double end = whole->end - whole->start;
    int equal = (int)fmin(fmax(ceil(PANELS_ALONG * end / length - 1e-9), 1), PANELS_ALONG);
    int count = 0;
    for (int i = 0; i < equal; i++) at[count++] = end * i / equal;
    if (whole->shape == SECTION_ROUNDED) {
        struct cubic spare = mixed(&whole->half_width, &whole->half_height, -1, 1);
        count = add_roots(&spare, end, at, count);
        spare = whole->half_width;
        spare.c[0] -= whole->radius;
        count = add_roots(&spare, end, at, count);
        spare = whole->half_height;
        spare.c[0] -= whole->radius;
        count = add_roots(&spare, end, at, count);
    }
    at[count++] = end;
    return tidied(at, count, end);
}

static bool panel_empty(const struct panel *panel) {
    const struct gauss *gauss = &gauss_rule[4];
    for (int i = 0; i < 5; i++) {
        struct section section =
            panel_section(panel, panel->start + (panel->end - panel->start) * gauss->at[i]);
        if (!section_empty(section.half_width, section.half_height)) return false;
    }
    return true;
}

int panels_between(const struct outline *outline, int row, double finish,
                   struct panel panels[PANELS_MOST]) {
    struct cubic back = curve_cubic(&outline->back, row);
    struct cubic belly = curve_cubic(&outline->belly, row);
    struct cubic width = curve_cubic(&outline->width, row);
    struct cubic nothing = {{0}};
    struct panel whole = {
        .start = outline->back.x[row],
        .end = outline->back.x[row + 1],
        .origin = outline->back.x[row],
        .half_height = mixed(&back, &belly, 1, 0.5),
        .centre = mixed(&back, &belly, -1, 0.5),
        .half_width = mixed(&width, &nothing, 1, 0.5),
        .shape = outline->shape,
        .radius = outline->shape == SECTION_ROUNDED ? outline->radius : 0,
    };
    double at[BREAKS_MOST + 1];
    int count = breaks_of(&whole, outline->length, at) - 1;
    for (int i = 0; i < count; i++) {
        struct panel *panel = &panels[i];
        *panel = whole;
        panel->start = whole.origin + at[i];
        if (i + 1 < count) panel->end = whole.origin + at[i + 1];
        panel->empty = panel_empty(panel);
        if (panel->empty) continue;
        panel->finish = finish;
        panel->half_height.c[0] += finish;
        panel->half_width.c[0] += finish;
    }
    return count;
}

/* fmin and fmax proper are calls into the library, and these run in the innermost loops. */
static inline double lesser(double a, double b) {
    return a < b ? a : b;
}

static inline double not_below_zero(double a) {
    return a > 0 ? a : 0;
}

struct section panel_section(const struct panel *panel, double x) {
    double t = x - panel->origin;
    struct section section = {
        .shape = panel->shape,
        .half_height = not_below_zero(cubic_at(&panel->half_height, t)),
        .centre = cubic_at(&panel->centre, t),
        .half_width = not_below_zero(cubic_at(&panel->half_width, t)),
    };
    if (panel->shape != SECTION_OVAL)
        section.radius =
            lesser(panel->radius + panel->finish, lesser(section.half_width, section.half_height));
    return section;
}

struct section panel_slopes(const struct panel *panel, double x, struct section *slopes) {
    double t = x - panel->origin;
    struct section section = panel_section(panel, x);
    *slopes = (struct section){
        .shape = panel->shape,
        .half_height = cubic_slope(&panel->half_height, t),
        .centre = cubic_slope(&panel->centre, t),
        .half_width = cubic_slope(&panel->half_width, t),
    };
    if (panel->shape != SECTION_OVAL && section.radius < panel->radius + panel->finish)
        slopes->radius =
            section.half_width < section.half_height ? slopes->half_width : slopes->half_height;
    return section;
}

struct panel_integrals panel_integrate(const struct panel *panel, double x0, double x1) {
    struct panel_integrals sum = {0};
    if (panel->empty) return sum;
    const struct gauss *gauss = &gauss_rule[4]; /* exact to degree 9: that of area times centre */
    for (int i = 0; i < 5; i++) {
        double x = x0 + (x1 - x0) * gauss->at[i];
        struct section section = panel_section(panel, x);
        double volume = (x1 - x0) * gauss->weight[i] * section_area(&section);
        sum.volume += volume;
        sum.moment_x += volume * x;
        sum.moment_z += volume * section.centre;
    }
    return sum;
}
