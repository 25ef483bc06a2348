/* The rest of a run: which steps are done, and when it goes on, as the command line says it. */
#ifndef PLUGWRIGHT_COMMAND_RESUME_H
#define PLUGWRIGHT_COMMAND_RESUME_H

#include "compile.h"

/* Plans anew what is left of the run of a recipe without errors.  `done`: numbers of steps as the
 * order prints them, "1-9,12", or NULL; `from`: a day, "2027-01-16", when the shop opens first from
 * then on, or a moment, "2027-01-16T18:30"; NULL: nothing to do.  Returns NULL, or what is wrong.
 */
const char *resume_compiled(struct arena *arena, struct compilation *c, const char *done,
                            const char *from);

#endif
