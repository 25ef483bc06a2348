/* Schedules generated one activity at a time, as early or as late as resources allow. */
#ifndef PLUGWRIGHT_SCHEDULE_GENERATE_H
#define PLUGWRIGHT_SCHEDULE_GENERATE_H

#include "compute/schedule/inner.h"

/* Use of one resource over time. */
struct profile {
    int64_t *time;
    int *used;
    int count, capacity;
};

void profile_clear(struct profile *profile);
void profile_add(struct profile *profile, int64_t from, int64_t to, int amount);

/* Is there no room for `amount` throughout [from, to)?  Then also the first stretch without room
 * that reaches into it. */
bool profile_blocked(const struct profile *profile, int64_t from, int64_t to, int amount,
                     int64_t *block_from, int64_t *block_to);

/* What keeps the activities of one latest time together in a list: those that should stand ahead of
 * the activity it counts from, and those that should follow it at once. */
struct chains {
    const int *ahead_first, *ahead; /* ahead of which i should stand */
    const int *ahead_count;         /* how many should stand ahead of i */
    const int *close_first, *close; /* what should follow i at once */
};

/* Makes lists: orders in which activities can be placed one by one. */
struct lister {
    const struct instance *instance;
    struct chains chains;
    int *missing;  /* links into i from activities not listed yet */
    int *pending;  /* activities that should stand ahead of i, not listed yet */
    bool *urgent;  /* i should follow at once */
    int *eligible; /* can be listed next */
};

struct lister *lister_of(struct arena *arena, const struct instance *instance);

/* The activities by priority (the least first, then the lowest index), each behind all that it
 * follows, and those that a latest time ties together in one run where links allow it. */
void list_by(struct lister *lister, const int64_t *priority, int *list);

/* The workplace of generation: used again for every schedule. */
struct generator {
    const struct instance *instance;
    struct profile profile[SCHEDULE_MAX_RESOURCES];
    struct slot *slot;     /* the schedule generated last */
    int64_t *release;      /* earliest starts, raised where a latest time asks for it */
    int *place;            /* of each activity in the list */
    struct ending *ending; /* scratch of generate_late */
    int stuck;             /* the activity that could not be placed when generation failed */
    long nodes;            /* placings so far */
};

struct generator *generator_of(struct arena *arena, const struct instance *instance);

/* Serial generation: one activity of the list after the other, at its earliest.  Where a latest
 * time cannot be kept, the activity that it counts from is put off and generation resumes there;
 * false after `node_limit` placings in all, or when an activity leaves the horizon. */
bool generate_early(struct generator *g, const int *list, long node_limit);

/* From a finished schedule: every activity as late as the makespan and all others allow, those that
 * end last first. */
void generate_late(struct generator *g);

#endif
