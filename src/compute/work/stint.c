#include "compute/work/stint.h"

/* The end of the opening that holds tick `at` (touching openings are one), far away where the shop
 * is always open. */
static int64_t closing_after(const struct opening_hours *hours, int64_t at) {
    const int64_t never = INT64_MAX / 4;
    if (!hours->count) return never;
    int64_t of_cycle = (at + hours->origin) % hours->cycle, base = at - of_cycle, end = -1;
    /* Two cycles in a row, so that an opening across the cycle's end is seen whole. */
    for (int i = 0; i < 2 * hours->count; i++) {
        int64_t shift = i < hours->count ? 0 : hours->cycle;
        int64_t from = hours->from[i % hours->count] + shift,
                to = hours->to[i % hours->count] + shift;
        if (end >= 0 && from == end) end = to;
        if (end < 0 && of_cycle >= from && of_cycle < to) end = to;
    }
    return end < 0 ? at : base + end;
}

int stint_split(const struct opening_hours *hours, const struct activity *activity, int64_t start,
                struct stint *list) {
    int count = 0;
    int64_t now = start, closing = closing_after(hours, start);
    for (int piece = 0; piece < activity->pieces; piece++) {
        int64_t length = piece ? activity->each : activity->first;
        if (piece == 0 || now + length > closing) {
            struct activity rest = *activity;
            int64_t end;
            rest.first = length, rest.pieces = 1;
            if (piece && !hours_fit(hours, &rest, now, &now, &end)) return count;
            closing = closing_after(hours, now);
            list[count++] = (struct stint){.from = now, .first_plug = piece + 1};
        }
        now += length;
        list[count - 1].to = now;
        list[count - 1].last_plug = piece + 1;
    }
    if (count) list[count - 1].last = true;
    return count;
}
