#include "compute/plug/clearance.h"

#include <math.h>

#include "compute/plug/wall.h"

static void add_opening(struct clearances *c, struct opening opening) {
    c->openings[c->count++] = opening;
}

static void list_openings(const struct plug *plug, const struct bore_fill *fills,
                          struct clearances *c) {
    const struct recipe *recipe = plug->recipe;
    int bores = recipe->ballast ? recipe->ballast->bore_count : 0;
    if (recipe->lip) add_opening(c, opening_of_slot(plug));
    for (int i = 0; i < plug->fitting_count; i++)
        if (pilot_bored(&plug->fittings[i].pilot))
            add_opening(c, opening_of_wire(&plug->fittings[i].pilot, i));
    if (recipe->eyes) add_opening(c, opening_of_sockets(plug));
    for (int i = 0; i < bores; i++) add_opening(c, opening_of_bore(i, &fills[i]));
    c->count += opening_of_chambers(plug, &c->openings[c->count]);
}

struct clearances clearances_of(const struct plug *plug, const struct bore_fill *fills) {
    struct clearances c = {.count = 0};
    list_openings(plug, fills, &c);
    for (int i = 0; i < c.count; i++) {
        const struct opening *one = &c.openings[i];
        c.wall[i] = wall_of(plug, one);
        if (axis_level(&one->axis) && !axis_from_inside(&one->axis))
            c.pairs[c.pair_count++] = (struct clearance){i, i, opening_between_floors(one)};
        for (int k = i + 1; k < c.count; k++)
            c.pairs[c.pair_count++] =
                (struct clearance){i, k, opening_distance(one, &c.openings[k])};
    }
    return c;
}

static bool is_it(const struct opening *opening, enum opening_kind kind, int index) {
    return opening->kind == kind && opening->index == index;
}

const struct opening *clearance_nearest(const struct clearances *clearances, enum opening_kind kind,
                                        int index, double *distance) {
    const struct opening *nearest = NULL;
    for (int i = 0; i < clearances->pair_count; i++) {
        const struct clearance *pair = &clearances->pairs[i];
        const struct opening *one = &clearances->openings[pair->one];
        const struct opening *other = &clearances->openings[pair->other];
        bool first = is_it(one, kind, index);
        if (one == other || (!first && !is_it(other, kind, index))) continue;
        if (nearest && pair->distance >= *distance) continue;
        nearest = first ? other : one;
        *distance = pair->distance;
    }
    return nearest;
}
