/* The run as the tablet's page works with it (src/emit/print/tablet.js): its steps, and the pieces
 * of work in the order of the plan, each with a name that stays the same from page to page.
 *
 * JSON in which no `<`, `>` or `&` stands as itself, so that no text of a recipe can end the script
 * element that holds it.  Times to reckon with are in seconds; all other values are text to show.
 */
#ifndef PLUGWRIGHT_TABLET_H
#define PLUGWRIGHT_TABLET_H

#include "base/buf.h"
#include "compute/results.h"

void tablet_emit(struct buf *out, const struct recipe *recipe, const struct results *results);

#endif
