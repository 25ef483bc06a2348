/* The run as an iCalendar file (RFC 5545), for the builder's phone.
 *
 * Floating local times in whole minutes; one event for every sitting, and one with an alarm for
 * every deadline: the latest beginning of a coat, the end of a cup's pot life, a wheel to be turned
 * off.  UIDs stay the same from compile to compile.
 */
#ifndef PLUGWRIGHT_CALENDAR_H
#define PLUGWRIGHT_CALENDAR_H

#include "base/buf.h"
#include "compute/results.h"

/* Writes nothing where the run has no start or does not fit the shop's hours. */
void calendar_emit(struct buf *out, const struct recipe *recipe, const struct results *results);

/* Several runs in one calendar; only `run` of each one's results is read. */
void calendar_emit_all(struct buf *out, const struct recipe *const *recipes,
                       const struct results *results, int count);

#endif
