/* What the bench told, turned into corrected loads (docs/physics.md, 8).
 *
 * A weighed blank already stands in the plug's wood density.  A sealed body that was weighed, or
 * else a waterline that was read in the float test, says how much heavier the body is than it was
 * computed to be: heavier wood where its density comes from a table, more sealer where the wood was
 * weighed.  With that body the loads are solved anew.  SI units.  Without a reading all is zero.
 */
#ifndef PLUGWRIGHT_BALLAST_CORRECTION_H
#define PLUGWRIGHT_BALLAST_CORRECTION_H

#include "compute/ballast/ballast.h"
#include "compute/plug/condition.h"

enum correction_by { CORRECTED_BY_NOTHING, CORRECTED_BY_SEALED, CORRECTED_BY_FLOAT };
enum correction_cause { CAUSE_WOOD, CAUSE_SEALER };

struct correction {
    enum correction_by by;
    double excess, doubt; /* kg that the body is heavier, and how far that may be off */
    bool told;            /* the excess is more than that: something is to be corrected */
    enum correction_cause cause;
    double wood_density; /* that explains the excess, kg/m3 */
    double density_doubt;
    double uptake;           /* of one coat of sealer that explains it, kg/m2; 0: no sealer */
    bool closed;             /* the ballast is closed in: the plug was weighed finished */
    bool solvable;           /* loads below meet the aim with that body, */
    bool fits;               /* and go into their bores with wood enough above */
    double load[MAX_BORES];  /* every bore; as they were where nothing is to be solved */
    struct outcome as_built; /* finished, with the loads left as they were */
};

/* Mass that floats with the waterline at these heights above the datum: what it displaces.  `doubt`
 * is what a rule makes of it. */
double correction_mass_afloat(const struct plug *plug, struct water_level read, double hung_volume,
                              double *doubt);

/* `ballast`, `masses` and `test` are those of the plug as computed. */
struct correction correction_of(struct arena *arena, const struct plug *plug,
                                const struct ballast_result *ballast,
                                const struct mass_list *masses, const struct condition *test);

#endif
