/* What one measured depth says about the coefficients (docs/physics.md, 15.8). */
#ifndef PLUGWRIGHT_RUNNING_SOUNDING_H
#define PLUGWRIGHT_RUNNING_SOUNDING_H

#include "compute/running/rig.h"
#include "compute/running/spread.h"

struct sounding_result {
    bool given;
    struct band predicted; /* depth, by all points */
    int left;              /* points that can be made to meet it; 0: the reading is not used */
};

/* Multiplies each point's downward force by a factor of 0.3 to 3 that meets the reading, and drops
 * the points that none makes meet it; where none is left, all stay as they were. */
struct sounding_result sounding_apply(const struct rig *rig, const struct sounding *read,
                                      struct spread *spread);

#endif
