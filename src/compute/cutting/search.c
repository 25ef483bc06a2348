/* Branch and bound, part by part, the longest first: into every strip that is begun, into a
 * further strip, into a board of every kind, or left out.
 *
 * Of parts that are the same to the saw none lies before the one before it, and of strips or boards
 * that hold the same only the first is tried.  What is free in a strip is lost where the shortest
 * part no longer fits.
 */
#include <math.h>

#include "compute/cutting/inner.h"

struct search {
    struct saw *saw;
    int visits;
    double *shares;      /* of a part and all behind it */
    double *wood_each;   /* least wood of one of them in a blank, by what it takes of a board */
    double all;          /* wood of all boards */
    int64_t least, most; /* wood of one board */
    bool spent;
};

static void place_from(struct search *x, int i);

static bool is_over(struct search *x) {
    x->spent = x->spent || x->visits <= 0;
    return x->spent;
}

/* --- what can be pruned ---------------------------------------------------------------------- */

/* What the parts that are still to come can have of the boards that are begun. */
struct room {
    double wood;   /* in all of them */
    double beside; /* of that, beside other strips, so that no stretch grows */
};

/* Adds what is free beside the strips of a stretch, as length by the average of its strips. */
static double free_beside(struct search *x, const struct saw_stretch *stretch, int strips,
                          int64_t room, bool *some) {
    const int64_t shortest = x->saw->parts[x->saw->part_count - 1].length;
    int64_t sum = 0;
    for (int k = 0; k < stretch->count; k++) {
        int64_t beside = stretch->longest - stretch->loads[k];
        if (beside + room < shortest) continue;
        *some = true;
        sum += beside;
    }
    x->visits -= stretch->count;
    if (strips > stretch->count && stretch->longest + room >= shortest) {
        *some = true;
        sum += (strips - stretch->count) * stretch->longest;
    }
    return (double)sum / strips;
}

static struct room room_in(struct search *x) {
    const struct saw *s = x->saw;
    struct room all = {0};
    for (int i = 0; i < s->board_count; i++) {
        const struct saw_board *board = &s->boards[i];
        const struct saw_kind *kind = &s->kinds[board->kind];
        bool some = board->room >= s->parts[s->part_count - 1].length;
        double beside = 0;
        for (int k = 0; k < s->section_count; k++)
            if (board->stretches[k].count)
                beside += free_beside(x, &board->stretches[k], saw_strips(s, k, board->kind),
                                      board->room, &some);
        double by_length = (double)kind->wood / (double)kind->length;
        all.beside += beside * by_length;
        if (some) all.wood += (beside + (double)board->room) * by_length;
    }
    return all;
}

static double more_boards(const struct search *x, double wood) {
    if (wood <= 0) return 0;
    return fmax(wood, ceil(wood / (double)x->most) * (double)x->least);
}

/* Whether nothing better can come of it. */
static bool is_hopeless(struct search *x, int i) {
    const struct saw *s = x->saw;
    const struct saw_layout *best = &s->best;
    if (s->missing > best->missing) return true;
    const double rounding = 1e-9 * x->all;
    struct room room = room_in(x);
    double to_come = x->shares[i] - rounding, more = to_come - room.wood;
    double too_much = more - (x->all - (double)s->wood);
    if (too_much > 0 &&
        (double)s->missing + too_much * x->wood_each[i] * (1 - 1e-9) > (double)best->missing + 0.5)
        return true;
    if (s->missing < best->missing) return false;
    double begun = (double)s->wood + more_boards(x, more) - (double)best->wood;
    if (begun > 0.5) return true;
    return begun > -0.5 && saw_taken(s) + fmax(to_come - room.beside, 0) >= best->taken - 1;
}

/* --- where a part can go --------------------------------------------------------------------- */

static bool are_twins(struct search *x, const struct saw_board *a, const struct saw_board *b) {
    const struct saw *s = x->saw;
    if (a->kind != b->kind || a->room != b->room) return false;
    for (int i = 0; i < s->section_count; i++) {
        const struct saw_stretch *p = &a->stretches[i], *q = &b->stretches[i];
        if (p->count != q->count) return false;
        for (int k = 0; k < p->count; k++)
            if (p->loads[k] != q->loads[k]) return false;
        x->visits -= p->count;
    }
    return true;
}

static bool has_twin(struct search *x, int first, int board) {
    x->visits -= board - first;
    for (int i = first; i < board; i++)
        if (are_twins(x, &x->saw->boards[i], &x->saw->boards[board])) return true;
    return false;
}

static bool is_repeated(const struct saw_stretch *stretch, int first, int strip) {
    for (int i = first; i < strip && strip < stretch->count; i++)
        if (stretch->loads[i] == stretch->loads[strip]) return true;
    return false;
}

static void try_board(struct search *x, int i, int board, int first) {
    struct saw *s = x->saw;
    const struct saw_part *part = &s->parts[i];
    const struct saw_stretch *stretch = &s->boards[board].stretches[part->section];
    for (int strip = first; strip <= stretch->count && !is_over(x); strip++) {
        x->visits -= 1 + strip - first;
        if (!saw_fits(s, part, board, strip) || is_repeated(stretch, first, strip)) continue;
        saw_put(s, i, board, strip);
        place_from(x, i + 1);
        saw_take_back(s, i);
    }
}

static void try_begun(struct search *x, int i) {
    struct saw *s = x->saw;
    struct saw_place from = saw_same(s, i) ? s->places[i - 1] : (struct saw_place){0, 0};
    int whole = from.board + (from.strip > 0); /* boards of which every strip may be taken */
    for (int b = from.board; b < s->board_count && !is_over(x); b++)
        if (b < whole || !has_twin(x, whole, b))
            try_board(x, i, b, b == from.board ? from.strip : 0);
}

static void try_new(struct search *x, int i) {
    struct saw *s = x->saw;
    for (int k = 0; k < s->kind_count && !is_over(x); k++) {
        if (s->unused[k] <= 0 || !saw_suits(s, &s->parts[i], k)) continue;
        saw_put(s, i, saw_open(s, k), 0);
        place_from(x, i + 1);
        saw_take_back(s, i);
        saw_close(s);
    }
}

static void place_from(struct search *x, int i) {
    struct saw *s = x->saw;
    if (is_over(x)) return;
    if (i == s->part_count) {
        saw_keep(s);
        return;
    }
    if (is_hopeless(x, i)) return;
    x->visits--;
    bool in_set = s->parts[i].of_set > 0;
    bool left_out = (in_set || saw_same(s, i)) && s->places[i - 1].board == LEFT_OUT;
    if (!left_out) try_begun(x, i);
    if (!left_out) try_new(x, i);
    if (in_set && !left_out) return;
    saw_leave_out(s, i);
    place_from(x, i + 1);
    saw_take_back(s, i);
}

/* --- all of it ------------------------------------------------------------------------------- */

static void prepare(struct search *x) {
    struct saw *s = x->saw;
    x->shares = NEW(s->arena, double, s->part_count + 1);
    x->wood_each = NEW(s->arena, double, s->part_count + 1);
    x->wood_each[s->part_count] = HUGE_VAL;
    for (int i = s->part_count - 1; i >= 0; i--) {
        double share = saw_share(s, &s->parts[i]);
        x->shares[i] = x->shares[i + 1] + share;
        double each = share > 0 ? (double)s->parts[i].wood / share : HUGE_VAL;
        x->wood_each[i] = fmin(x->wood_each[i + 1], each);
    }
    for (int k = 0; k < s->kind_count; k++) {
        const struct saw_kind *kind = &s->kinds[k];
        x->all += (double)kind->count * (double)kind->wood;
        if (k == 0 || kind->wood < x->least) x->least = kind->wood;
        if (k == 0 || kind->wood > x->most) x->most = kind->wood;
    }
}

bool saw_search(struct saw *s, int visits) {
    struct search x = {.saw = s, .visits = visits};
    prepare(&x);
    place_from(&x, 0);
    return !x.spent;
}
