/* Where something is bored from, in words: for the terminal.
 */
#ifndef PLUGWRIGHT_WORDS_BORE_H
#define PLUGWRIGHT_WORDS_BORE_H

#include "compute/plug/axis.h"

/* "at 45.0 mm"; "from both flanks at 45.0 mm, 2.0 mm above the datum"; "from the tail, on the
 * datum". */
const char *bore_place(struct arena *arena, enum bore_side from, const struct axis *axis,
                       enum unit_system units);

#endif
