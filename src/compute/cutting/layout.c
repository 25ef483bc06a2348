/* What is cut so far, part by part, and back. */
#include "compute/cutting/inner.h"

int saw_open(struct saw *s, int kind) {
    struct saw_board *board = &s->boards[s->board_count];
    if (!board->stretches) board->stretches = NEW(s->arena, struct saw_stretch, s->section_count);
    board->kind = kind;
    board->room = s->kinds[kind].length;
    s->unused[kind]--;
    s->wood += s->kinds[kind].wood;
    return s->board_count++;
}

void saw_close(struct saw *s) {
    int kind = s->boards[--s->board_count].kind;
    s->unused[kind]++;
    s->wood -= s->kinds[kind].wood;
}

int64_t saw_growth(const struct saw_stretch *stretch, int strip, int64_t length) {
    int64_t load = (strip < stretch->count ? stretch->loads[strip] : 0) + length;
    return load > stretch->longest ? load - stretch->longest : 0;
}

bool saw_fits(const struct saw *s, const struct saw_part *part, int board, int strip) {
    const struct saw_board *b = &s->boards[board];
    return strip < saw_strips(s, part->section, b->kind) &&
           saw_growth(&b->stretches[part->section], strip, part->length) <= b->room;
}

void saw_put(struct saw *s, int part, int board, int strip) {
    const struct saw_part *p = &s->parts[part];
    struct saw_board *b = &s->boards[board];
    struct saw_stretch *stretch = &b->stretches[p->section];
    int64_t growth = saw_growth(stretch, strip, p->length);
    s->steps[part] = (struct saw_step){stretch->longest, strip == stretch->count};
    if (strip == stretch->count) {
        GROW(s->arena, stretch->loads, stretch->count, stretch->capacity);
        stretch->loads[stretch->count++] = 0;
    }
    stretch->loads[strip] += p->length;
    stretch->longest += growth;
    b->room -= growth;
    s->places[part] = (struct saw_place){board, strip};
}

void saw_take_back(struct saw *s, int part) {
    const struct saw_part *p = &s->parts[part];
    struct saw_place place = s->places[part];
    if (place.board == LEFT_OUT) {
        s->missing -= p->wood;
        return;
    }
    struct saw_board *b = &s->boards[place.board];
    struct saw_stretch *stretch = &b->stretches[p->section];
    stretch->loads[place.strip] -= p->length;
    stretch->count -= s->steps[part].opened;
    b->room += stretch->longest - s->steps[part].longest;
    stretch->longest = s->steps[part].longest;
}

void saw_leave_out(struct saw *s, int part) {
    s->places[part].board = LEFT_OUT;
    s->missing += s->parts[part].wood;
}

double saw_taken(const struct saw *s) {
    double taken = 0;
    for (int i = 0; i < s->board_count; i++) {
        const struct saw_kind *kind = &s->kinds[s->boards[i].kind];
        int64_t length = kind->length - s->boards[i].room;
        taken += (double)kind->wood * (double)length / (double)kind->length;
    }
    return taken;
}

static bool is_better(const struct saw *s, double taken) {
    const struct saw_layout *best = &s->best;
    const double rounding = 1;
    if (!best->found || s->missing != best->missing)
        return !best->found || s->missing < best->missing;
    if (s->wood != best->wood) return s->wood < best->wood;
    return taken < best->taken - rounding;
}

void saw_clear(struct saw *s) {
    while (s->board_count) {
        const struct saw_board *board = &s->boards[s->board_count - 1];
        for (int i = 0; i < s->section_count; i++)
            board->stretches[i].count = 0, board->stretches[i].longest = 0;
        saw_close(s);
    }
    s->missing = 0;
}

void saw_keep(struct saw *s) {
    struct saw_layout *best = &s->best;
    double taken = saw_taken(s);
    if (!is_better(s, taken)) return;
    for (int i = 0; i < s->board_count; i++) best->kinds[i] = s->boards[i].kind;
    for (int i = 0; i < s->part_count; i++) best->places[i] = s->places[i];
    best->board_count = s->board_count;
    best->wood = s->wood;
    best->missing = s->missing;
    best->taken = taken;
    best->found = true;
}
