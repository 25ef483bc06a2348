/* A recipe with one part of another. */
#ifndef PLUGWRIGHT_GRAFT_H
#define PLUGWRIGHT_GRAFT_H

#include "model/change.h"

/* The recipe `stock` with what a group changed taken from `scion`; neither is touched.  The way of
 * the group leads through parts that both have. */
const struct recipe *graft(struct arena *arena, const struct recipe *stock,
                           const struct recipe *scion, const struct change_group *group);

#endif
