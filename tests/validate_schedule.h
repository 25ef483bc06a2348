/* Judges a schedule by the project alone, without any of the scheduler's own code. */
#ifndef PLUGWRIGHT_VALIDATE_SCHEDULE_H
#define PLUGWRIGHT_VALIDATE_SCHEDULE_H

#include "compute/schedule/solve.h"

/* Whether work of activity `i` may start at `start`; if so, where it ends. */
bool validate_start(const struct project *project, int i, int64_t start, int64_t *work_end);

/* Whether no resource is overused by the first `count` activities, nor holds two kinds that are to
 * be kept apart. */
bool validate_resources(const struct project *project, const int64_t *start,
                        const int64_t *work_end, const int64_t *end, int count);

/* What is wrong with a schedule that claims to be feasible; NULL: nothing. */
const char *validate_schedule(const struct project *project, const struct schedule *schedule);

#endif
