/* Opening hours: periods that repeat, and where work can lie in them.
 *
 * Times are whole ticks from any beginning (seconds for a run), before it negative.  Periods that
 * touch (18:00-24:00 and 00:00-02:00 of the next day) are one opening, also across the end of the
 * cycle; hours that leave no gap never close.
 */
#ifndef PLUGWRIGHT_HOURS_H
#define PLUGWRIGHT_HOURS_H

#include <stdbool.h>
#include <stdint.h>

struct period {
    int64_t from, to; /* `to` excluded */
};

struct hours {
    const struct period *period; /* of one cycle: within 0 to `cycle`, sorted, not overlapping */
    int count;                   /* 0: always open */
    int64_t cycle;
    int64_t origin; /* tick 0 is tick `origin` of the cycle */
};

/* The first room for `length` ticks in one opening: from `earliest` or the opening's beginning to
 * its end; false where no opening is that long. */
bool hours_room_from(const struct hours *hours, int64_t earliest, int64_t length,
                     struct period *room);

/* The last room for `length` ticks in one opening that ends at `latest` or earlier: from the
 * opening's beginning. */
bool hours_room_until(const struct hours *hours, int64_t latest, int64_t length,
                      struct period *room);

/* The longest opening, at most a cycle; 0: always open. */
int64_t hours_longest(const struct hours *hours);

/* The rest are for hours that have a period. */

/* Open ticks before `tick`, counted from some fixed tick. */
int64_t hours_open_until(const struct hours *hours, int64_t tick);

/* The first period, as written, that ends after `tick`. */
struct period hours_period_after(const struct hours *hours, int64_t tick);

#endif
