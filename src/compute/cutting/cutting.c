/* From lengths in metres to whole nanometres, and back to boards, stretches and strips. */
#include "compute/cutting/cutting.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "compute/cutting/inner.h"

enum { MOST_STRIPS = 10000 };

static const double unit_length = 1e-9, unit_wood = 1e-13;

struct section {
    int64_t width, thickness; /* with a kerf; the thickness is no more than the width */
};

static int64_t whole(double value, double unit) {
    int64_t units = llround(value / unit);
    return units > 0 ? units : 1;
}

static int64_t with_kerf(const struct saw *s, double length) {
    return whole(length, unit_length) + s->kerf;
}

/* --- what the saw has to do ------------------------------------------------------------------ */

static struct section section_of(const struct saw *s, double width, double thickness) {
    return (struct section){with_kerf(s, fmax(width, thickness)),
                            with_kerf(s, fmin(width, thickness))};
}

/* Side by side and on top of each other, flat or turned, as more come out of it. */
static int strips_of(const struct section *board, const struct section *part) {
    int64_t flat = board->width / part->width * (board->thickness / part->thickness);
    int64_t turned = board->width / part->thickness * (board->thickness / part->width);
    int64_t strips = flat > turned ? flat : turned;
    return strips < MOST_STRIPS ? (int)strips : MOST_STRIPS;
}

static void take_boards(struct saw *s, const struct cutting_task *task) {
    s->kind_count = task->board_count;
    s->kinds = NEW(s->arena, struct saw_kind, task->board_count);
    s->unused = NEW(s->arena, int, task->board_count);
    for (int k = 0; k < task->board_count; k++) {
        const struct cutting_board *b = &task->boards[k];
        s->kinds[k] =
            (struct saw_kind){with_kerf(s, b->length),
                              whole(b->length * b->width * b->thickness, unit_wood), b->count};
        s->unused[k] = b->count;
    }
}

/* The section of every want, each once, and how many strips of it a board gives. */
static void take_sections(struct saw *s, const struct cutting_task *task, int *section_of_want) {
    struct section *sections = NEW(s->arena, struct section, task->want_count);
    s->strips = NEW(s->arena, int, (size_t)task->want_count *(size_t)task->board_count);
    for (int w = 0; w < task->want_count; w++) {
        const struct cutting_want *want = &task->wants[w];
        struct section own = section_of(s, want->width, want->thickness);
        int i = 0;
        while (i < s->section_count &&
               (sections[i].width != own.width || sections[i].thickness != own.thickness))
            i++;
        section_of_want[w] = i;
        if (i < s->section_count) continue;
        sections[s->section_count++] = own;
        for (int k = 0; k < task->board_count; k++) {
            const struct cutting_board *b = &task->boards[k];
            struct section board = section_of(s, b->width, b->thickness);
            s->strips[i * task->board_count + k] = strips_of(&board, &own);
        }
    }
}

static int compare_parts(const void *left, const void *right) {
    const struct saw_part *a = left, *b = right;
    if (a->length != b->length) return a->length > b->length ? -1 : 1;
    if (a->section != b->section) return a->section - b->section;
    if (a->set != b->set) return a->set - b->set;
    return a->want - b->want;
}

/* The longest first; those of a blank stay together, for what is equal here is the same part. */
static void take_parts(struct saw *s, const struct cutting_task *task, const int *section_of_want) {
    s->want_count = task->want_count;
    for (int w = 0; w < task->want_count; w++)
        s->part_count += task->wants[w].set * task->wants[w].count;
    s->parts = NEW(s->arena, struct saw_part, s->part_count);
    int next = 0;
    for (int w = 0; w < task->want_count; w++) {
        const struct cutting_want *want = &task->wants[w];
        const struct saw_part part = {
            .length = with_kerf(s, want->length),
            .wood = whole(want->length * want->width * want->thickness, unit_wood),
            .section = section_of_want[w],
            .want = w,
            .set = want->set};
        for (int i = 0; i < want->set * want->count; i++) s->parts[next++] = part;
    }
    qsort(s->parts, (size_t)s->part_count, sizeof *s->parts, compare_parts);
    for (int i = 1; i < s->part_count; i++)
        if (s->parts[i].want == s->parts[i - 1].want)
            s->parts[i].of_set = (s->parts[i - 1].of_set + 1) % s->parts[i].set;
}

struct saw saw_of(struct arena *arena, const struct cutting_task *task) {
    struct saw s = {.arena = arena};
    s.kerf = task->kerf > 0 ? llround(task->kerf / unit_length) : 0;
    int *section_of_want = NEW(arena, int, task->want_count);
    take_boards(&s, task);
    take_sections(&s, task, section_of_want);
    take_parts(&s, task, section_of_want);
    s.boards = NEW(arena, struct saw_board, s.part_count);
    s.places = NEW(arena, struct saw_place, s.part_count);
    s.steps = NEW(arena, struct saw_step, s.part_count);
    s.best.kinds = NEW(arena, int, s.part_count);
    s.best.places = NEW(arena, struct saw_place, s.part_count);
    return s;
}

/* --- what is told ---------------------------------------------------------------------------- */

/* Parts that are cut, as they lie in the boards. */
struct lying {
    int board, section, strip, part;
};

struct telling {
    const struct saw *saw;
    const struct cutting_task *task;
    const struct lying *lying;
    int at, count;
};

static int compare_lying(const void *left, const void *right) {
    const struct lying *a = left, *b = right;
    if (a->board != b->board) return a->board - b->board;
    if (a->section != b->section) return a->section - b->section;
    if (a->strip != b->strip) return a->strip - b->strip;
    return a->part - b->part;
}

static struct telling telling_of(const struct saw *s, const struct cutting_task *task) {
    struct lying *lying = NEW(s->arena, struct lying, s->part_count);
    int count = 0;
    for (int i = 0; i < s->part_count; i++) {
        struct saw_place place = s->best.places[i];
        if (place.board != LEFT_OUT)
            lying[count++] = (struct lying){place.board, s->parts[i].section, place.strip, i};
    }
    qsort(lying, (size_t)count, sizeof *lying, compare_lying);
    return (struct telling){s, task, lying, 0, count};
}

/* Parts from here on that lie in the same strip, stretch or board. */
static int strip_end(const struct telling *t, int from) {
    int to = from;
    while (to < t->count && t->lying[to].board == t->lying[from].board &&
           t->lying[to].section == t->lying[from].section &&
           t->lying[to].strip == t->lying[from].strip)
        to++;
    return to;
}

static int stretch_end(const struct telling *t, int from) {
    int to = from;
    while (to < t->count && t->lying[to].board == t->lying[from].board &&
           t->lying[to].section == t->lying[from].section)
        to++;
    return to;
}

static const struct saw_part *part_at(const struct telling *t, int at) {
    return &t->saw->parts[t->lying[at].part];
}

static struct cutting_strip tell_strip(struct telling *t, int64_t *load) {
    int end = strip_end(t, t->at), count = 0;
    struct cutting_piece *pieces = NEW(t->saw->arena, struct cutting_piece, end - t->at);
    for (; t->at < end; t->at++) {
        const struct saw_part *part = part_at(t, t->at);
        if (count && pieces[count - 1].want == part->want)
            pieces[count - 1].count++;
        else
            pieces[count++] = (struct cutting_piece){part->want, 1};
        *load += part->length;
    }
    return (struct cutting_strip){1, pieces, count};
}

static bool same_strip(const struct cutting_strip *a, const struct cutting_strip *b) {
    if (a->count != b->count) return false;
    for (int i = 0; i < a->count; i++)
        if (a->pieces[i].want != b->pieces[i].want || a->pieces[i].count != b->pieces[i].count)
            return false;
    return true;
}

static void add_strip(struct cutting_strip *strips, int *count, struct cutting_strip strip) {
    for (int i = 0; i < *count; i++)
        if (same_strip(&strips[i], &strip)) {
            strips[i].alike++;
            return;
        }
    strips[(*count)++] = strip;
}

static struct cutting_stretch tell_stretch(struct telling *t, int64_t *taken) {
    const struct cutting_want *want = &t->task->wants[part_at(t, t->at)->want];
    int end = stretch_end(t, t->at), count = 0;
    struct cutting_strip *strips = NEW(t->saw->arena, struct cutting_strip, end - t->at);
    int64_t longest = 0;
    while (t->at < end) {
        int64_t load = 0;
        add_strip(strips, &count, tell_strip(t, &load));
        if (load > longest) longest = load;
    }
    *taken += longest;
    return (struct cutting_stretch){(double)(longest - t->saw->kerf) * unit_length,
                                    fmax(want->width, want->thickness),
                                    fmin(want->width, want->thickness), strips, count};
}

static double waste_of(double blanks, double used) {
    return fmax(1 - blanks / used, 0);
}

/* Wood of a board that is not left over whole, m3. */
static double used_of(const struct cutting_board *board, double left) {
    return (board->length - left) * board->width * board->thickness;
}

static struct cutting_begun tell_board(struct telling *t, double *used) {
    const struct saw *s = t->saw;
    int board = t->lying[t->at].board, kind = s->best.kinds[board], count = 0;
    int64_t taken = s->kerf, blanks = 0;
    struct cutting_stretch *stretches = NEW(s->arena, struct cutting_stretch, s->section_count);
    for (int i = t->at; i < t->count && t->lying[i].board == board; i++)
        blanks += part_at(t, i)->wood;
    while (t->at < t->count && t->lying[t->at].board == board)
        stretches[count++] = tell_stretch(t, &taken);
    double left = fmax((double)(s->kinds[kind].length - taken) * unit_length, 0);
    double own = used_of(&t->task->boards[kind], left);
    *used += own;
    return (struct cutting_begun){kind,  1,    stretches,
                                  count, left, waste_of((double)blanks * unit_wood, own)};
}

static bool same_board(const struct cutting_begun *a, const struct cutting_begun *b) {
    if (a->board != b->board || a->count != b->count) return false;
    for (int i = 0; i < a->count; i++) {
        const struct cutting_stretch *p = &a->stretches[i], *q = &b->stretches[i];
        if (p->width != q->width || p->thickness != q->thickness || p->count != q->count)
            return false;
        for (int k = 0; k < p->count; k++)
            if (p->strips[k].alike != q->strips[k].alike ||
                !same_strip(&p->strips[k], &q->strips[k]))
                return false;
    }
    return true;
}

/* Boards that are cut like the one before them are told with it. */
static void tell_boards(struct cutting *c, struct telling *t) {
    struct cutting_begun *begun =
        NEW(t->saw->arena, struct cutting_begun, t->saw->best.board_count);
    double used = 0;
    while (t->at < t->count) {
        struct cutting_begun board = tell_board(t, &used);
        if (c->count && same_board(&begun[c->count - 1], &board))
            begun[c->count - 1].alike++;
        else
            begun[c->count++] = board;
    }
    c->begun = begun;
    if (c->count) c->waste = waste_of(c->blanks, used);
}

static void count_blanks(struct cutting *c, const struct saw *s) {
    int *got = NEW(s->arena, int, s->want_count);
    int64_t wood = 0;
    for (int i = 0; i < s->part_count; i++) {
        if (s->best.places[i].board == LEFT_OUT) continue;
        wood += s->parts[i].wood;
        got[s->parts[i].want] += s->parts[i].of_set == 0;
    }
    c->got = got;
    c->blanks = (double)wood * unit_wood;
}

static struct cutting_wood wood_of(const struct saw_layout *layout) {
    return (struct cutting_wood){(double)layout->wood * unit_wood,
                                 (double)layout->missing * unit_wood, layout->taken * unit_wood};
}

struct cutting cutting_of(struct arena *arena, const struct cutting_task *task) {
    struct cutting c = {0};
    struct saw s = saw_of(arena, task);
    saw_run_by_run(&s);
    c.run_by_run = wood_of(&s.best);
    saw_first_fit(&s);
    bool searched = saw_search(&s, task->visits);
    int64_t bound = searched ? s.best.wood : saw_bound(&s, &s.best);
    c.wood = wood_of(&s.best);
    c.bound = (double)bound * unit_wood;
    c.least = s.best.wood <= bound;
    c.most = searched || !s.best.missing || s.best.missing <= saw_missing_bound(&s);
    count_blanks(&c, &s);
    struct telling telling = telling_of(&s, task);
    tell_boards(&c, &telling);
    return c;
}
