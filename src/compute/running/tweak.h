/* Changes to a plug that are tried under tow: the recipe anew, its loads kept
 * (docs/physics.md, 15.9). */
#ifndef PLUGWRIGHT_RUNNING_TWEAK_H
#define PLUGWRIGHT_RUNNING_TWEAK_H

#include "compute/ballast/ballast.h"
#include "compute/running/rig.h"

/* The changed plug on its line; false where the change cannot be made: there is no lip, no bore, or
 * no such lip. */
bool tweak_rig(struct arena *arena, const struct plug *plug, const struct ballast_result *ballast,
               const struct rig *unchanged, enum tweak tweak, struct rig *rig);

#endif
