#include "compute/ballast/correction.h"

#include <math.h>

#include "compute/ballast/solve.h"
#include "model/reference.h"

static double mass_to(const struct mass_list *masses, unsigned stages) {
    double sum = 0;
    for (int i = 0; i < masses->count; i++)
        if (stages & 1u << masses->rows[i].stage) sum += masses->rows[i].mass;
    return sum;
}

/* Mass that floats with the waterline at these heights above the datum: what it displaces. */
static double mass_displaced(const struct frame *frame, const struct waterline *read,
                             double hung_volume, double *doubt) {
    double angle = atan((read->nose - read->tail) / frame->outline.length);
    struct plane plane = {.sine = sin(angle), .cosine = cos(angle), .q = 1};
    plane.level = read->nose * plane.cosine;
    struct hull_part part = hull_below(&frame->bare_hull, &plane, HULL_FINE);
    *doubt = frame->water * part.area * reference_fact[FACT_RULE_DOUBT].value * 1e-3;
    return frame->water * (part.volume + hung_volume);
}

/* Fills in by what the correction is known, and by how much the body is heavier. */
static void read_excess(struct correction *c, const struct frame *frame,
                        const struct mass_list *masses, const struct condition *test) {
    const struct measured *measured = frame->recipe->measured;
    const unsigned sealed = 1u << STAGE_SHAPED | 1u << STAGE_HUNG | 1u << STAGE_SEALED;
    if (measured && measured->sealed.given) {
        c->by = CORRECTED_BY_SEALED;
        c->excess = measured->sealed.value - mass_to(masses, sealed);
        c->doubt = reference_fact[FACT_BALANCE_DOUBT].value * 1e-3;
    } else if (measured && measured->waterline) {
        double mass =
            mass_displaced(frame, measured->waterline, test->burden.hung_volume, &c->doubt);
        c->by = CORRECTED_BY_FLOAT;
        c->excess = mass - test->burden.mass;
    }
}

/* The plug with the excess put where it most likely sits. */
static struct frame explained(struct arena *arena, const struct frame *frame,
                              const struct mass_list *masses, struct correction *c) {
    const struct finish *finish = frame->recipe->finish;
    const struct seal *seal = finish ? finish->seal : NULL;
    double wood = masses->rows[0].mass / frame->wood_density; /* m3 that are left */
    c->cause = frame->wood_source == WOOD_BY_TABLE || !seal ? CAUSE_WOOD : CAUSE_SEALER;
    c->wood_density = frame->wood_density + c->excess / wood;
    c->density_doubt = c->doubt / wood;
    if (seal) c->uptake = seal->uptake + c->excess / (seal->coats * frame->bare.surface);
    if (c->cause == CAUSE_WOOD) return frame_with_wood(frame, fmax(c->wood_density, 1));
    struct recipe *recipe = NEW(arena, struct recipe, 1);
    struct finish *own = NEW(arena, struct finish, 1);
    struct frame other = *frame;
    *recipe = *frame->recipe;
    *own = *finish;
    own->seal = NEW(arena, struct seal, 1);
    *own->seal = *seal;
    own->seal->uptake = c->uptake;
    recipe->finish = own;
    other.recipe = recipe;
    return other;
}

struct correction correction_of(struct arena *arena, const struct frame *frame,
                                const struct ballast_result *ballast,
                                const struct mass_list *masses, const struct condition *test) {
    struct correction c = {0};
    struct bore_fill fills[MAX_BORES];
    long evaluations = 0;
    read_excess(&c, frame, masses, test);
    if (c.by == CORRECTED_BY_NOTHING) return c;
    struct frame body = explained(arena, frame, masses, &c);
    struct weighing w = weighing_of(arena, &body, &evaluations);
    for (int i = 0; i < MAX_BORES; i++) fills[i] = ballast->fills[i];
    c.closed = frame->recipe->measured->finished.given;
    c.as_built = weighing_outcome(&w, fills, CONDITION_FINISHED);
    struct solution solution = solve_loads(&w, fills);
    c.solvable = solution.status == SOLVE_FOUND;
    for (int i = 0; i < MAX_BORES; i++) c.load[i] = solution.load[i];
    return c;
}
