/* What hooks can reach on their hangers: each other, the lip, the line (docs/physics.md, 7.4).
 * Metres.
 */
#ifndef PLUGWRIGHT_PLUG_REACH_H
#define PLUGWRIGHT_PLUG_REACH_H

#include "compute/plug/plug.h"

enum reach_kind { REACH_HOOK, REACH_LIP, REACH_LINE };
enum { MAX_REACHES = MAX_HANGERS * (MAX_HANGERS - 1) / 2 + 2 * MAX_HANGERS };

/* A hook and what it may reach. */
struct reach {
    enum reach_kind kind;
    int hanger, other; /* fittings; `other` is the second hook's */
    double swing;      /* how far the hook gets from its mouth, of two hooks both together */
    double distance;   /* from its mouth; it is reached where this is less than the swing */
};

struct reaches {
    struct reach list[MAX_REACHES];
    int count;
};

/* Over all, as written, or by its size, or else by its mass. */
double hook_length(const struct hook *hook);
/* Inner width, by its mass. */
double ring_length(const struct ring *ring);

/* How far from its mouth a hanger's hook can get: through eye and ring, and its own length. */
double reach_swing(const struct fitting *hanger);

struct reaches reaches_of(const struct plug *plug);

#endif
