#include "compute/schedule/critical.h"

/* Forward pass: an activity starts when the last one before it has ended.  Backward pass from the
 * project's length: it must end before the first one after it has to start.
 *   total float = late start - early start
 *   free float  = earliest start among those after it - early end
 *                 (the project's length - early end where nothing follows)
 * Source: Kelley and Walker, "Critical-path planning and scheduling", Eastern Joint Computer
 * Conference, 1959, 160-173.
 */

#include <math.h>

/* Floats come out of sums of durations: this share of the length is rounding, not float. */
static const double ROUNDING = 1e-9;

struct network {
    int count;
    int *first, *after; /* those that follow i: after[first[i]] .. after[first[i + 1] - 1] */
    int *order;         /* as far as it goes: `ordered` activities */
    int ordered;
};

static void collect_followers(struct arena *arena, struct network *net,
                              const struct critical_link *links, int link_count) {
    net->first = NEW(arena, int, net->count + 1);
    net->after = NEW(arena, int, link_count);
    for (int k = 0; k < link_count; k++) net->first[links[k].before + 1]++;
    for (int i = 0; i < net->count; i++) net->first[i + 1] += net->first[i];
    int *next = NEW(arena, int, net->count);
    for (int i = 0; i < net->count; i++) next[i] = net->first[i];
    for (int k = 0; k < link_count; k++) net->after[next[links[k].before]++] = links[k].after;
}

static void put_in_order(struct arena *arena, struct network *net) {
    int *missing = NEW(arena, int, net->count);
    net->order = NEW(arena, int, net->count);
    for (int k = 0; k < net->first[net->count]; k++) missing[net->after[k]]++;
    for (int i = 0; i < net->count; i++)
        if (missing[i] == 0) net->order[net->ordered++] = i;
    for (int done = 0; done < net->ordered; done++) {
        int i = net->order[done];
        for (int k = net->first[i]; k < net->first[i + 1]; k++)
            if (--missing[net->after[k]] == 0) net->order[net->ordered++] = net->after[k];
    }
}

static struct network network_of(struct arena *arena, int count, const struct critical_link *links,
                                 int link_count) {
    struct network net = {count, NULL, NULL, NULL, 0};
    collect_followers(arena, &net, links, link_count);
    put_in_order(arena, &net);
    return net;
}

const int *critical_order(struct arena *arena, int count, const struct critical_link *links,
                          int link_count) {
    struct network net = network_of(arena, count, links, link_count);
    return net.ordered == count ? net.order : NULL;
}

static double forward(const struct network *net, const double *durations,
                      struct critical_times *times) {
    double length = 0;
    for (int i = 0; i < net->count; i++) times[i].early_start = 0;
    for (int n = 0; n < net->count; n++) {
        int i = net->order[n];
        double end = times[i].early_start + durations[i];
        for (int k = net->first[i]; k < net->first[i + 1]; k++) {
            struct critical_times *next = &times[net->after[k]];
            next->early_start = fmax(next->early_start, end);
        }
        length = fmax(length, end);
    }
    return length;
}

static void backward(const struct network *net, const double *durations, double length,
                     struct critical_times *times) {
    for (int n = net->count - 1; n >= 0; n--) {
        int i = net->order[n];
        double early_end = times[i].early_start + durations[i];
        double next_early = length, next_late = length;
        for (int k = net->first[i]; k < net->first[i + 1]; k++) {
            next_early = fmin(next_early, times[net->after[k]].early_start);
            next_late = fmin(next_late, times[net->after[k]].late_start);
        }
        times[i].late_start = next_late - durations[i];
        times[i].total_float = times[i].late_start - times[i].early_start;
        times[i].free_float = next_early - early_end;
        times[i].critical = times[i].total_float <= ROUNDING * length;
    }
}

double critical_path(struct arena *arena, const double *durations, int count,
                     const struct critical_link *links, int link_count,
                     struct critical_times *times) {
    struct network net = network_of(arena, count, links, link_count);
    if (net.ordered < count) return -1;
    double length = forward(&net, durations, times);
    backward(&net, durations, length, times);
    return length;
}
