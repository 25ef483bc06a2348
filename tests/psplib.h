/* Reads project scheduling instances in PSPLIB's `.sm` form (single mode, renewable resources). */
#ifndef PLUGWRIGHT_PSPLIB_H
#define PLUGWRIGHT_PSPLIB_H

#include "compute/schedule/solve.h"

/* False, with a message on standard error, when the file cannot be read or is not of that form. */
bool psplib_read(struct arena *arena, const char *path, struct project *project);

/* The known optimum of `problem` in a table of rows "problem,optimum"; -1 when it is not there. */
long psplib_optimum(const char *table_path, const char *problem);

#endif
