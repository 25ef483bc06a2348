/* Each case is the plug in another wood, solved like the plug itself.  A load that was solved need
 * not fit: its bore may be given, or may deepen itself into the back. */
#include "compute/ballast/spread.h"

#include <math.h>

#include "compute/ballast/trim.h"
#include "compute/plug/wall.h"
#include "model/reference.h"

enum { MOST_ROWS = 25 }; /* of the table by the body's mass: half a printed page */

double spread_scatter(const struct recipe *recipe) {
    const struct measured *measured = recipe->measured;
    int count = measured ? measured->blank_count : 0;
    double mean = 0, squares = 0;
    if (count < 2) return 0;
    for (int i = 0; i < count; i++) mean += measured->blank[i] / count;
    for (int i = 0; i < count; i++) squares += pow(measured->blank[i] - mean, 2);
    return sqrt(squares / (count - 1)) / mean;
}

double spread_of(const struct plug *plug) {
    const struct opt *given = &plug->recipe->wood->spread;
    if (given->given) return given->value;
    if (plug->wood_source == WOOD_BY_TABLE || plug->wood_source == WOOD_BY_WORKSHOP)
        return plug->recipe->wood->row->spread;
    return fmax(spread_scatter(plug->recipe), reference_fact[FACT_SPREAD_WEIGHED].value);
}

static struct spread_case solved_in(struct arena *arena, const struct plug *plug, double density,
                                    const struct bore_fill *fills, long *evaluations) {
    struct plug other = plug_with_wood(plug, density);
    struct weighing w = weighing_of(arena, &other, evaluations);
    struct spread_case result = {.wood_density = density, .body = plug_body_mass(&other)};
    struct bore_fill anew[MAX_BORES];
    for (int i = 0; i < MAX_BORES; i++) anew[i] = fills[i];
    struct solution solution = solve_loads(&w, anew);
    result.solvable = solution.status != SOLVE_UNREACHABLE;
    const struct ballast *ballast = plug->recipe->ballast;
    for (int i = 0; ballast && i < ballast->bore_count; i++) {
        result.load[i] = solution.load[i];
        result.depth[i] = anew[i].depth;
        result.fits[i] = result.solvable && (!anew[i].solved || wall_allows(&other, i, &anew[i]));
    }
    return result;
}

struct spread_case spread_case_of(struct arena *arena, const struct plug *plug, double density,
                                  const struct bore_fill *fills, long *evaluations) {
    struct spread_case result = solved_in(arena, plug, density, fills, evaluations);
    struct plug other = plug_with_wood(plug, density);
    struct weighing w = weighing_of(arena, &other, evaluations);
    result.as_built = weighing_outcome(&w, fills, CONDITION_FINISHED);
    return result;
}

static int weighed_bodies(struct arena *arena, const struct plug *plug,
                          const struct bore_fill *fills, struct spread_case *cases,
                          long *evaluations) {
    const struct measured *measured = plug->recipe->measured;
    for (int i = 0; i < measured->blank_count; i++) {
        double density = plug_density_of(plug, measured->blank[i]);
        cases[i] = solved_in(arena, plug, density, fills, evaluations);
        cases[i].plug = i + 1;
    }
    return measured->blank_count;
}

static int scale_steps(struct arena *arena, const struct plug *plug, double spread,
                       const struct bore_fill *fills, struct spread_case *cases,
                       long *evaluations) {
    const double lightest = reference_fact[FACT_LIGHTEST_WOOD].value;
    const double heaviest = reference_fact[FACT_HEAVIEST_WOOD].value;
    double body = plug_body_mass(plug), low = body * (1 - 2 * spread),
           high = body * (1 + 2 * spread);
    int count = 0;
    if (!(body > 0)) return 0;
    /* a row below and a row above the range are within the rows of a page */
    double step = trim_step(plug->recipe, (high - low) / (MOST_ROWS - 3));
    long first = (long)floor(low / step + 1e-9), last = (long)ceil(high / step - 1e-9);
    for (long k = first; k <= last; k++) {
        double density = plug_density_of(plug, (double)k * step);
        if (density < lightest || density > heaviest) continue;
        cases[count++] = solved_in(arena, plug, density, fills, evaluations);
    }
    return count;
}

int spread_by_blank(struct arena *arena, const struct plug *plug, double spread,
                    const struct bore_fill *fills, struct spread_case **cases, long *evaluations) {
    const struct measured *measured = plug->recipe->measured;
    bool several = measured && measured->blank_count > 1;
    *cases = NEW(arena, struct spread_case, several ? measured->blank_count : MOST_ROWS);
    return several ? weighed_bodies(arena, plug, fills, *cases, evaluations)
                   : scale_steps(arena, plug, spread, fills, *cases, evaluations);
}
