#include "compute/work/stint.h"

int stint_split(const struct hours *hours, const struct activity *activity, int64_t start,
                struct stint *list) {
    int count = 0;
    int64_t now = start;
    struct period room = {start, start};
    for (int piece = 0; piece < activity->pieces; piece++) {
        int64_t length = piece ? activity->each : activity->first;
        if (piece == 0 || now + length > room.to) {
            if (!hours_room_from(hours, now, length, &room)) return count;
            now = room.from;
            list[count++] = (struct stint){.from = now, .first_plug = piece + 1};
        }
        now += length;
        list[count - 1].to = now;
        list[count - 1].last_plug = piece + 1;
    }
    if (count) list[count - 1].last = true;
    return count;
}
