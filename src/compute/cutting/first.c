/* Cuttings that are found at once: run by run, and by first fit in several orders of the parts. */
#include "compute/cutting/inner.h"

/* --- run by run ------------------------------------------------------------------------------ */

/* Boards alike that were not begun, or what is left of one that was. */
struct rest {
    int kind, board, count; /* board LEFT_OUT: it was not begun */
    int64_t length;
};

struct shelf {
    struct saw *saw;
    struct rest *rests;
    int count;
    bool rests_first; /* before boards that are not begun; else as they lie */
    const int *parts; /* of the want, in their order */
    int left;         /* of them, to be cut */
};

/* Rows of a part's length in one board of a rest, and parts in a row. */
static int64_t rows_of(const struct shelf *h, const struct rest *rest,
                       const struct saw_part *part) {
    return saw_strips(h->saw, part->section, rest->kind) ? rest->length / part->length : 0;
}

static int64_t parts_of(const struct shelf *h, const struct rest *rest,
                        const struct saw_part *part) {
    return rest->count * rows_of(h, rest, part) * saw_strips(h->saw, part->section, rest->kind);
}

/* Row by row out of one board; the rows that are cut. */
static int64_t cut_rows(struct shelf *h, int board, int64_t rows, int in_row) {
    int64_t cut = 0;
    for (; cut < rows && h->left > 0; cut++)
        for (int strip = 0; strip < in_row && h->left > 0; strip++, h->left--)
            saw_put(h->saw, *h->parts++, board, strip);
    return cut;
}

static void cut_rest(struct shelf *h, int which) {
    struct rest *rest = &h->rests[which];
    const struct saw_part *part = &h->saw->parts[*h->parts];
    int64_t each = rows_of(h, rest, part);
    int in_row = saw_strips(h->saw, part->section, rest->kind);
    while (each > 0 && rest->count > 0 && h->left > 0) {
        int board = rest->board == LEFT_OUT ? saw_open(h->saw, rest->kind) : rest->board;
        int64_t cut = cut_rows(h, board, each, in_row);
        rest->count--;
        if (cut < each)
            h->rests[h->count++] =
                (struct rest){rest->kind, board, 1, rest->length - cut * part->length};
    }
}

static void cut_want(struct shelf *h, const int *parts, int count) {
    const struct saw_part *part = &h->saw->parts[*parts];
    int64_t there = 0;
    int rests = h->count;
    for (int i = 0; i < rests; i++) there += parts_of(h, &h->rests[i], part);
    int cut = there < count ? (int)there : count;
    h->parts = parts;
    h->left = cut = cut / part->set * part->set;
    for (int i = 0; i < rests && h->left > 0 && h->rests_first; i++)
        if (h->rests[i].board != LEFT_OUT) cut_rest(h, i);
    for (int i = 0; i < rests && h->left > 0; i++) cut_rest(h, i);
    for (int i = cut; i < count; i++) saw_leave_out(h->saw, parts[i]);
}

/* Parts sorted by their want; `first` has the place of each want's, and of the end. */
static int *by_want(const struct saw *s, int *first) {
    int *sorted = NEW(s->arena, int, s->part_count);
    for (int i = 0; i < s->part_count; i++) first[s->parts[i].want + 1]++;
    for (int w = 0; w < s->want_count; w++) first[w + 1] += first[w];
    int *next = NEW(s->arena, int, s->want_count);
    for (int w = 0; w < s->want_count; w++) next[w] = first[w];
    for (int i = 0; i < s->part_count; i++) sorted[next[s->parts[i].want]++] = i;
    return sorted;
}

static void run_by_run(struct saw *s, const int *parts, const int *first, bool rests_first) {
    struct shelf shelf = {.saw = s,
                          .rests = NEW(s->arena, struct rest, s->kind_count + s->part_count),
                          .rests_first = rests_first};
    saw_clear(s);
    for (int k = 0; k < s->kind_count; k++)
        shelf.rests[shelf.count++] =
            (struct rest){k, LEFT_OUT, s->kinds[k].count, s->kinds[k].length};
    for (int w = 0; w < s->want_count; w++)
        if (first[w + 1] > first[w]) cut_want(&shelf, parts + first[w], first[w + 1] - first[w]);
    saw_keep(s);
}

void saw_run_by_run(struct saw *s) {
    int *first = NEW(s->arena, int, s->want_count + 1);
    const int *parts = by_want(s, first);
    run_by_run(s, parts, first, false);
    run_by_run(s, parts, first, true);
}

/* --- one part, first fit --------------------------------------------------------------------- */

/* How a strip is chosen in a board, and a kind of board where none that is begun has room. */
struct way {
    bool fills; /* the first strip that has room; else the one by which the stretch grows least */
    enum choice { BY_SHARE, LEAST_WOOD, LONGEST } board;
};

/* The strip of a board for a part, or LEFT_OUT. */
static int strip_in(const struct saw *s, const struct saw_part *part, int board, bool fills) {
    const struct saw_board *b = &s->boards[board];
    const struct saw_stretch *stretch = &b->stretches[part->section];
    int best = LEFT_OUT;
    int64_t least = 0, fullest = 0;
    for (int i = 0; i <= stretch->count; i++) {
        if (!saw_fits(s, part, board, i)) continue;
        if (fills) return i;
        int64_t growth = saw_growth(stretch, i, part->length);
        int64_t load = i < stretch->count ? stretch->loads[i] : 0;
        if (best != LEFT_OUT && (growth > least || (growth == least && load <= fullest))) continue;
        best = i, least = growth, fullest = load;
    }
    return best;
}

/* Less is better. */
static double price_of(const struct saw *s, const struct saw_part *part, int kind,
                       const struct way *way) {
    const struct saw_kind *k = &s->kinds[kind];
    if (way->board == LEAST_WOOD) return (double)k->wood;
    if (way->board == LONGEST) return -(double)k->length;
    return (double)k->wood / ((double)k->length * saw_strips(s, part->section, kind));
}

static int kind_for(const struct saw *s, const struct saw_part *part, const struct way *way) {
    int best = LEFT_OUT;
    for (int k = 0; k < s->kind_count; k++)
        if (s->unused[k] > 0 && saw_suits(s, part, k) &&
            (best == LEFT_OUT || price_of(s, part, k, way) < price_of(s, part, best, way)))
            best = k;
    return best;
}

/* A part has no room in the boards before that of the one before it, where both are the same. */
static bool put_one(struct saw *s, int i, bool same, const struct way *way) {
    const struct saw_part *part = &s->parts[i];
    if (same && s->places[i - 1].board == LEFT_OUT) return false;
    for (int b = same ? s->places[i - 1].board : 0; b < s->board_count; b++) {
        s->looked += 1 + s->boards[b].stretches[part->section].count;
        int strip = strip_in(s, part, b, way->fills);
        if (strip == LEFT_OUT) continue;
        saw_put(s, i, b, strip);
        return true;
    }
    int kind = kind_for(s, part, way);
    if (kind == LEFT_OUT) return false;
    saw_put(s, i, saw_open(s, kind), 0);
    return true;
}

static bool is_empty(const struct saw *s, const struct saw_board *board) {
    return board->room == s->kinds[board->kind].length;
}

/* All parts of a blank, or none. */
static void put_blank(struct saw *s, int first, const struct way *way) {
    int set = s->parts[first].set, put = 0;
    while (put < set && put_one(s, first + put, saw_same(s, first + put), way)) put++;
    if (put == set) return;
    while (put-- > 0) {
        saw_take_back(s, first + put);
        if (is_empty(s, &s->boards[s->board_count - 1])) saw_close(s);
    }
    for (int i = 0; i < set; i++) saw_leave_out(s, first + i);
}

static bool takes_all_of(const struct saw *s, int kind, const struct saw_board *board) {
    int64_t used = s->kinds[board->kind].length - board->room;
    for (int i = 0; i < s->section_count; i++)
        if (board->stretches[i].count > saw_strips(s, i, kind)) return false;
    return used <= s->kinds[kind].length;
}

/* Each board becomes the one with the least wood that gives the same. */
static void exchange_boards(struct saw *s) {
    for (int i = 0; i < s->board_count; i++) {
        struct saw_board *board = &s->boards[i];
        int old = board->kind, best = old;
        for (int k = 0; k < s->kind_count; k++)
            if (s->unused[k] > 0 && s->kinds[k].wood < s->kinds[best].wood &&
                takes_all_of(s, k, board))
                best = k;
        s->unused[old]++, s->unused[best]--;
        s->wood += s->kinds[best].wood - s->kinds[old].wood;
        board->room += s->kinds[best].length - s->kinds[old].length;
        board->kind = best;
    }
}

/* --- all parts, in many orders --------------------------------------------------------------- */

enum {
    WAYS = 6,
    MOST_SUMS = 64,        /* of few boards that are tried */
    SHUFFLES = 48,         /* for each of them */
    MOST_LOOKED = 20000000 /* strips that are looked at, all in all */
};

/* Parts that are the same to the saw stay together: a batch. */
struct fitting {
    struct saw *saw;
    int *first; /* part of each batch, and the end */
    int *order; /* of the batches */
    int count;
    uint64_t chance;
};

static struct fitting fitting_of(struct saw *s) {
    struct fitting f = {.saw = s,
                        .first = NEW(s->arena, int, s->part_count + 1),
                        .order = NEW(s->arena, int, s->part_count)};
    for (int i = 0; i < s->part_count; i++)
        if (!saw_same(s, i)) f.first[f.count++] = i;
    f.first[f.count] = s->part_count;
    return f;
}

static bool is_tired(const struct saw *s) {
    return s->looked > MOST_LOOKED;
}

static void put_all(struct fitting *f, int way) {
    struct saw *s = f->saw;
    const struct way ways = {way % 2, (enum choice)(way / 2 % 3)};
    if (is_tired(s)) return;
    saw_clear(s);
    for (int n = 0; n < f->count; n++) {
        int batch = f->order[n];
        for (int i = f->first[batch]; i < f->first[batch + 1]; i += s->parts[i].set)
            put_blank(s, i, &ways);
    }
    exchange_boards(s);
    saw_keep(s);
    saw_clear(s);
}

/* The longest first, of all or section by section. */
static void put_decreasing(struct fitting *f) {
    for (int n = 0; n < f->count; n++) f->order[n] = n;
    for (int way = 0; way < WAYS; way++) put_all(f, way);
    int next = 0;
    for (int section = 0; section < f->saw->section_count; section++)
        for (int n = 0; n < f->count; n++)
            if (f->saw->parts[f->first[n]].section == section) f->order[next++] = n;
    for (int way = 0; way < WAYS; way++) put_all(f, way);
}

/* The same recipe gives the same cutting: the dice are a linear congruential generator (Knuth's
 * MMIX) that begins at 0. */
static void shuffle(struct fitting *f) {
    for (int n = f->count - 1; n > 0; n--) {
        f->chance = f->chance * 6364136223846793005u + 1442695040888963407u;
        int other = (int)((f->chance >> 33) % (uint64_t)(n + 1)), batch = f->order[n];
        f->order[n] = f->order[other];
        f->order[other] = batch;
    }
}

static void put_shuffled(struct fitting *f) {
    for (int i = 0; i < SHUFFLES && f->count > 1 && !is_tired(f->saw); i++) {
        shuffle(f);
        put_all(f, i);
    }
}

/* Out of few boards: of those that hold as much as the bound, then ever more, until all parts come
 * out of some. */
static void put_in_few(struct fitting *f, int *few) {
    struct saw *s = f->saw;
    int64_t wood = saw_bound(s, &s->best);
    for (int i = 0; i < MOST_SUMS && wood < s->best.wood && !is_tired(f->saw); i++, wood++) {
        if (!saw_least_boards(s, wood, few, &wood) || wood >= s->best.wood) return;
        put_decreasing(f);
        if (s->best.wood > wood) put_shuffled(f);
    }
}

void saw_first_fit(struct saw *s) {
    struct fitting f = fitting_of(s);
    int *all = s->unused, *few = NEW(s->arena, int, s->kind_count);
    put_decreasing(&f);
    put_shuffled(&f);
    s->unused = few;
    if (!s->best.missing) put_in_few(&f, few);
    for (int k = 0; k < s->kind_count; k++) few[k] = 0;
    for (int i = 0; i < s->best.board_count; i++) few[s->best.kinds[i]]++;
    put_shuffled(&f);
    s->unused = all;
}
