/* The run as an iCalendar file (RFC 5545), for the builder's phone.
 *
 * Floating local times; one event for every sitting, one with an alarm where a wheel may be turned
 * off.  UIDs stay the same from compile to compile.
 */
#ifndef PLUGWRIGHT_CALENDAR_H
#define PLUGWRIGHT_CALENDAR_H

#include "base/buf.h"
#include "compute/results.h"

/* Writes nothing where the run has no start or does not fit the shop's hours. */
void calendar_emit(struct buf *out, const struct recipe *recipe, const struct results *results);

#endif
