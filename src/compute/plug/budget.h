/* What the bench leaves uncertain of the finished plug's reserve, and what can still be changed
 * when the topcoat is hard (docs/physics.md, 5.12 and 5.13).  SI units; shares as parts of 1.
 */
#ifndef PLUGWRIGHT_PLUG_BUDGET_H
#define PLUGWRIGHT_PLUG_BUDGET_H

#include "compute/plug/condition.h"

enum doubt { DOUBT_WOOD, DOUBT_LOADS, DOUBT_SEALER, DOUBT_HOOKS, DOUBT_FILMS, DOUBT_READING };
enum { DOUBT_COUNT = DOUBT_READING + 1 };

/* Standard deviations of the reserve. */
struct budget {
    double part[DOUBT_COUNT];
    double built;   /* all of them but the reading: a plug that was built by numbers alone */
    double trimmed; /* films and reading: a plug that was trimmed in the float test */
};

/* `spread` is that of the wood's density. */
struct budget budget_of(const struct plug *plug, const struct mass_list *masses,
                        const struct condition *test, const struct condition *finished,
                        double spread);

/* Another hook, or a second ring, on a hanger of the finished plug. */
enum swap_kind { SWAP_HOOK, SWAP_RING };

struct swap {
    enum swap_kind kind;
    int hanger;              /* from 1 */
    const char *was, *now;   /* sizes of hooks; NULL: a ring */
    double change;           /* kg */
    struct condition result; /* finished */
};

enum { MAX_SWAPS = 3 * MAX_HANGERS };

/* The next size up and down of every hook whose size the table has, and a second ring beside every
 * one that is there.  Returns their number. */
int swaps_of(const struct plug *plug, const struct condition *finished,
             struct swap swaps[MAX_SWAPS]);

#endif
