/* Between two stations back, belly and the middle line of the flank are cubics; less the waterline,
 * a straight line, they are cubics still, and their roots are found one and all. */
#include "compute/plug/waterline.h"

#include <math.h>

#include "model/reference.h"

struct seeker {
    const struct outline *outline;
    struct water_level level;
    double finish;
};

/* Height of the waterline. */
static double level_at(const struct seeker *s, double x) {
    return s->level.nose + (s->level.tail - s->level.nose) * x / s->outline->length;
}

/* What stands between two stations at `back` of back and `belly` of belly, counted upward, over the
 * water. */
static struct cubic over_water(const struct seeker *s, int row, double back, double belly,
                               double more) {
    struct cubic up = curve_cubic(&s->outline->back, row);
    struct cubic down = curve_cubic(&s->outline->belly, row);
    double x = s->outline->back.x[row];
    for (int i = 0; i < 4; i++) up.c[i] = back * up.c[i] + belly * down.c[i];
    up.c[0] += more - level_at(s, x);
    up.c[1] -= (s->level.tail - s->level.nose) / s->outline->length;
    return up;
}

/* Foremost and aftmost crossing of one line; false where there is none. */
static bool crossings(const struct seeker *s, double back, double belly, double more,
                      double *foremost, double *aftmost) {
    const struct curve *curve = &s->outline->back;
    bool any = false;
    for (int row = 0; row + 1 < curve->count; row++) {
        double roots[3];
        struct cubic cubic = over_water(s, row, back, belly, more);
        int count = cubic_roots(&cubic, curve->x[row + 1] - curve->x[row], roots);
        for (int i = 0; i < count; i++, any = true) {
            *aftmost = curve->x[row] + roots[i];
            if (!any) *foremost = *aftmost;
        }
    }
    return any;
}

static void offer(struct water_marks *marks, enum mark_on on, double foremost, double aftmost) {
    if (marks->fore.on == MARK_NONE || foremost < marks->fore.at)
        marks->fore = (struct water_mark){on, foremost};
    if (marks->aft.on == MARK_NONE || aftmost > marks->aft.at)
        marks->aft = (struct water_mark){on, aftmost};
}

/* Whether an end face is there and the water stands on it. */
static bool on_face(const struct seeker *s, double x, double level) {
    double top = curve_at(&s->outline->back, x) + s->finish;
    double bottom = -curve_at(&s->outline->belly, x) - s->finish;
    return top > bottom && level >= bottom && level <= top;
}

struct water_marks waterline_marks(const struct plug *plug, double finish,
                                   struct water_level level) {
    const struct seeker s = {&plug->outline, level, finish};
    struct water_marks marks = {0};
    double fore, aft;
    if (crossings(&s, 1, 0, finish, &fore, &aft)) offer(&marks, MARK_BACK, fore, aft);
    if (crossings(&s, 0, -1, -finish, &fore, &aft)) offer(&marks, MARK_BELLY, fore, aft);
    if (on_face(&s, 0, level.nose)) marks.fore = (struct water_mark){MARK_NOSE, level.nose};
    if (on_face(&s, plug->outline.length, level.tail))
        marks.aft = (struct water_mark){MARK_TAIL, level.tail};
    marks.flank_given = crossings(&s, 0.5, -0.5, 0, &marks.flank, &aft);
    return marks;
}

struct point {
    double x, z;
};

struct water_level waterline_read(const struct plug *plug, const struct waterline *read) {
    struct point points[2 + 2 * MAX_READINGS] = {{0}};
    double length = plug->outline.length;
    int count = 0;
    if (read->nose.given) points[count++] = (struct point){0, read->nose.value};
    for (int i = 0; i < read->back_count; i++)
        points[count++] = (struct point){read->back[i], plug_top(plug, read->back[i])};
    for (int i = 0; i < read->belly_count; i++)
        points[count++] = (struct point){read->belly[i], plug_bottom(plug, read->belly[i])};
    if (read->tail.given) points[count++] = (struct point){length, read->tail.value};
    double rise = (points[1].z - points[0].z) / (points[1].x - points[0].x);
    return (struct water_level){points[0].z - rise * points[0].x,
                                points[0].z + rise * (length - points[0].x)};
}

double waterline_doubt(const struct plug *plug) {
    return 2 * reference_fact[FACT_RULE_DOUBT].value / plug->outline.length;
}
