#include "compute/ballast/correction.h"

#include <math.h>

#include "compute/ballast/solve.h"
#include "compute/plug/wall.h"
#include "model/reference.h"

double correction_mass_afloat(const struct plug *plug, struct water_level read, double hung_volume,
                              double *doubt) {
    double angle = atan((read.nose - read.tail) / plug->outline.length);
    struct plane plane = {.sine = sin(angle), .cosine = cos(angle), .q = 1};
    plane.level = read.nose * plane.cosine;
    struct hull_part part = hull_below(&plug->bare_hull, &plane, HULL_FINE);
    *doubt = plug->water * part.area * reference_fact[FACT_RULE_DOUBT].value;
    return plug->water * (part.volume + hung_volume);
}

/* Fills in by what the correction is known, and by how much the body is heavier. */
static void read_excess(struct correction *c, const struct plug *plug,
                        const struct mass_list *masses, const struct condition *test) {
    const struct measured *measured = plug->recipe->measured;
    if (measured && measured->sealed_count) {
        c->by = CORRECTED_BY_SEALED;
        c->excess = plug_mean(measured->sealed, measured->sealed_count) -
                    mass_tally(masses, SEALED_STAGES).mass;
        c->doubt = reference_fact[FACT_BALANCE_DOUBT].value;
    } else if (measured && measured->waterline) {
        double mass = correction_mass_afloat(plug, waterline_read(plug, measured->waterline),
                                             test->burden.hung_volume, &c->doubt);
        c->by = CORRECTED_BY_FLOAT;
        c->excess = mass - test->burden.mass;
    }
}

/* The plug with the excess put where it most likely sits. */
static struct plug explained(struct arena *arena, const struct plug *plug,
                             const struct mass_list *masses, struct correction *c) {
    const struct finish *finish = plug->recipe->finish;
    const struct seal *seal = finish ? finish->seal : NULL;
    double wood = mass_find(masses, NAME_WOOD)->mass / plug->wood_density; /* m3 that are left */
    c->cause = plug->wood_source == WOOD_BY_TABLE || plug->wood_source == WOOD_BY_WORKSHOP || !seal
                   ? CAUSE_WOOD
                   : CAUSE_SEALER;
    c->wood_density = plug->wood_density + c->excess / wood;
    c->density_doubt = c->doubt / wood;
    if (seal) c->uptake = seal->uptake + c->excess / (seal->coats * plug->bare.surface);
    if (c->cause == CAUSE_WOOD) return plug_with_wood(plug, fmax(c->wood_density, 1));
    struct recipe *recipe = NEW(arena, struct recipe, 1);
    struct finish *own = NEW(arena, struct finish, 1);
    *recipe = *plug->recipe;
    *own = *finish;
    own->seal = NEW(arena, struct seal, 1);
    *own->seal = *seal;
    own->seal->uptake = c->uptake;
    recipe->finish = own;
    return plug_with_recipe(plug, recipe);
}

struct correction correction_of(struct arena *arena, const struct plug *plug,
                                const struct ballast_result *ballast,
                                const struct mass_list *masses, const struct condition *test) {
    struct correction c = {0};
    struct bore_fill fills[MAX_BORES];
    long evaluations = 0;
    read_excess(&c, plug, masses, test);
    if (c.by == CORRECTED_BY_NOTHING) return c;
    c.told = fabs(c.excess) > c.doubt;
    struct plug body = explained(arena, plug, masses, &c);
    struct weighing w = weighing_of(arena, &body, &evaluations);
    for (int i = 0; i < MAX_BORES; i++) fills[i] = ballast->fills[i];
    c.closed = plug->recipe->measured->finished_count > 0;
    c.as_built = weighing_outcome(&w, fills, CONDITION_FINISHED);
    struct solution solution = solve_loads(&w, fills);
    c.solvable = c.fits = solution.status == SOLVE_FOUND;
    for (int i = 0; i < MAX_BORES; i++) {
        c.load[i] = solution.load[i];
        if (fills[i].solved && !wall_allows(&body, i, &fills[i])) c.fits = false;
    }
    return c;
}
