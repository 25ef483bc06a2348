/* A partial order that grows link by link and refuses loops (docs/physics.md, 11.3): an acyclic
 * graph with its transitive closure, its reduction and its topological order.
 *
 * The transitive closure is kept as rows of bits, so that one link costs count * count / 64 steps
 * at most and every question is answered at once.
 */
#ifndef PLUGWRIGHT_WORK_SEQUENCE_H
#define PLUGWRIGHT_WORK_SEQUENCE_H

#include <stdbool.h>

#include "base/arena.h"

struct sequence;

/* `count` things, numbered from 0, in no order yet. */
struct sequence *sequence_new(struct arena *arena, int count);

/* `before` comes before `after`; false, and nothing changed, where that would close a loop. */
bool sequence_add(struct sequence *sequence, int before, int after);

/* Whether a link was added, and whether the order follows from the links. */
bool sequence_linked(const struct sequence *sequence, int before, int after);
bool sequence_holds(const struct sequence *sequence, int before, int after);

/* Whether the order would still follow without the link between these two, by way of things that
 * are not `ignored`. */
bool sequence_implied(const struct sequence *sequence, int before, int after, const bool *ignored);

/* The shortest chain of links from one thing to another, both included, into `chain`, which has
 * room for `count`.  Returns its length, 0 where there is none. */
int sequence_chain(struct arena *arena, const struct sequence *sequence, int from, int to,
                   int *chain);

/* All things in an order that keeps every link; of those that may come next, the one with the least
 * key does, the first of equals. */
void sequence_sort(struct arena *arena, const struct sequence *sequence, const double *key,
                   int *sorted);

#endif
