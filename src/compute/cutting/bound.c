/* How much wood must be begun at least, and how much cannot be cut: by dual feasible functions.
 *
 * Such a function f of a part's share x of a strip, 0 <= f(x) <= 1, gives no more than 1 for all
 * parts of a strip together.  Of n strips side by side a part takes f(x) / n of the board, whatever
 * else is cut out of it: of each stretch take the strip that has most by f; put one behind another
 * they are a strip of the whole board, and no stretch has more on the average of its strips.  So
 * every part costs at least the least of V f(x) / n over the boards that it comes out of, with V
 * the board's wood, and all of them together no more than the boards that are begun.
 *
 * The functions are those of the bound L2 (Martello and Toth 1990) and those of Fekete and Schepers
 * (2001) that round down to a k-th: one k for all boards, or as many as a board's length has of one
 * part.  The share itself is one of the first.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "compute/cutting/inner.h"

enum { MOST_KTH = 20, MOST_SUMS = 10000 };

struct dual {
    int64_t threshold; /* where > 0: shorter parts count nothing, what leaves less room is whole */
    int64_t kth_of; /* where > 0: rounded down to a k-th, with k parts of this length in a board */
    int kth;        /* where > 0: the same with this k */
};

static double dual_of(const struct dual *f, int64_t length, int64_t board) {
    double share = (double)length / (double)board;
    if (f->threshold > 0 && 2 * f->threshold <= board) {
        if (length > board - f->threshold) return 1;
        return length >= f->threshold ? share : 0;
    }
    int64_t kth = f->kth_of > 0 ? board / f->kth_of : f->kth;
    int64_t parts = (kth + 1) * length, whole = parts / board;
    if (kth == 0 || parts % board == 0) return share;
    return (double)whole / (double)kth;
}

static double cost_of(const struct saw *s, const struct saw_part *part, const struct dual *f) {
    double least = -1;
    for (int k = 0; k < s->kind_count; k++) {
        if (!saw_suits(s, part, k)) continue;
        double cost = (double)s->kinds[k].wood * dual_of(f, part->length, s->kinds[k].length) /
                      saw_strips(s, part->section, k);
        if (least < 0 || cost < least) least = cost;
    }
    return fmax(least, 0);
}

double saw_share(const struct saw *s, const struct saw_part *part) {
    return cost_of(s, part, &(struct dual){0});
}

/* --- sums of boards, or of blanks ------------------------------------------------------------ */

/* The least sum that is no less than the need. */
struct sums {
    const struct saw_kind *kinds;
    int kind_count;
    int64_t need, best;
    int *counts, *best_counts; /* of each kind */
    int left;                  /* sums to be tried */
};

static void add_kinds(struct sums *x, int kind, int64_t sum) {
    if (x->left <= 0 || sum >= x->best) return;
    x->left--;
    if (sum >= x->need) {
        x->best = sum;
        for (int i = 0; i < x->kind_count; i++) x->best_counts[i] = i < kind ? x->counts[i] : 0;
        return;
    }
    if (kind == x->kind_count) return;
    const struct saw_kind *k = &x->kinds[kind];
    int64_t most = (x->need - sum + k->wood - 1) / k->wood;
    if (most > k->count) most = k->count;
    for (int64_t n = most; n >= 0 && x->left > 0; n--) {
        x->counts[kind] = (int)n;
        add_kinds(x, kind + 1, sum + n * k->wood);
    }
}

static bool least_sum(struct arena *arena, const struct saw_kind *kinds, int count, int64_t need,
                      int *counts, int64_t *wood) {
    struct sums sums = {kinds, count, need, INT64_MAX, NEW(arena, int, count), counts, MOST_SUMS};
    add_kinds(&sums, 0, 0);
    *wood = sums.best;
    return sums.left > 0 && sums.best < INT64_MAX;
}

bool saw_least_boards(const struct saw *s, int64_t need, int *counts, int64_t *wood) {
    return least_sum(s->arena, s->kinds, s->kind_count, need, counts, wood);
}

/* --- what parts take ------------------------------------------------------------------------- */

/* Parts that are the same to the saw but for their sets. */
struct batch {
    const struct saw_part *part;
    int count;
    double cost; /* of each, by one function */
};

struct batches {
    struct batch *items;
    int count;
};

/* Of the parts that a layout cuts; NULL: of all that come out of some board. */
static struct batches batches_of(const struct saw *s, const struct saw_layout *layout) {
    struct batches b = {NEW(s->arena, struct batch, s->part_count), 0};
    for (int i = 0; i < s->part_count; i++) {
        const struct saw_part *part = &s->parts[i];
        if (layout ? layout->places[i].board == LEFT_OUT : !saw_suits_any(s, part)) continue;
        const struct batch *last = b.count ? &b.items[b.count - 1] : NULL;
        if (!last || last->part->length != part->length || last->part->section != part->section)
            b.items[b.count++] = (struct batch){part, 0, 0};
        b.items[b.count - 1].count++;
    }
    return b;
}

/* What all of them take by one function. */
static double take_by(const struct saw *s, struct batches *b, const struct dual *f) {
    double sum = 0;
    for (int i = 0; i < b->count; i++) {
        b->items[i].cost = cost_of(s, b->items[i].part, f);
        sum += b->items[i].count * b->items[i].cost;
    }
    return sum;
}

/* The functions one after the other; false behind the last. */
static bool next_dual(const struct batches *b, int which, struct dual *f) {
    *f = (struct dual){0};
    if (which < b->count) f->threshold = b->items[which].part->length;
    if (which >= b->count && which < 2 * b->count)
        f->kth_of = b->items[which - b->count].part->length;
    if (which >= 2 * b->count) f->kth = which - 2 * b->count;
    return f->kth <= MOST_KTH;
}

/* --- the bounds ------------------------------------------------------------------------------ */

static const double rounding = 1e-9;

int64_t saw_bound(const struct saw *s, const struct saw_layout *layout) {
    struct batches batches = batches_of(s, layout);
    struct dual f;
    double need = 0;
    for (int i = 0; next_dual(&batches, i, &f); i++) need = fmax(need, take_by(s, &batches, &f));
    int64_t wood, least = (int64_t)ceil(need * (1 - rounding));
    return saw_least_boards(s, least, NEW(s->arena, int, s->kind_count), &wood) ? wood : least;
}

static double wood_by_cost(const struct batch *b) {
    return b->cost > 0 ? (double)b->part->wood / b->cost : HUGE_VAL;
}

static int compare_batches(const void *left, const void *right) {
    double a = wood_by_cost(left), b = wood_by_cost(right);
    return a < b ? -1 : a > b;
}

/* Least wood of parts that together take so much. */
static double wood_of(struct batches b, double take) {
    double wood = 0;
    qsort(b.items, (size_t)b.count, sizeof *b.items, compare_batches);
    for (int i = 0; i < b.count && take > 0; i++) {
        double own = fmin(b.items[i].count * b.items[i].cost, take);
        if (own > 0) wood += own * wood_by_cost(&b.items[i]);
        take -= own;
    }
    return wood;
}

/* Whole blanks that hold no less. */
static int64_t whole_blanks(const struct saw *s, int64_t wood) {
    struct saw_kind *blanks = NEW(s->arena, struct saw_kind, s->want_count);
    for (int i = 0; i < s->part_count; i++) {
        struct saw_kind *blank = &blanks[s->parts[i].want];
        blank->wood = s->parts[i].wood * s->parts[i].set;
        blank->count += s->parts[i].of_set == 0;
    }
    int kinds = 0;
    for (int w = 0; w < s->want_count; w++)
        if (blanks[w].count) blanks[kinds++] = blanks[w];
    int64_t sum;
    return least_sum(s->arena, blanks, kinds, wood, NEW(s->arena, int, kinds), &sum) ? sum : wood;
}

int64_t saw_missing_bound(const struct saw *s) {
    struct batches batches = batches_of(s, NULL), sorted = batches;
    sorted.items = NEW(s->arena, struct batch, batches.count);
    double all = 0, missing = 0, certain = 0;
    for (int k = 0; k < s->kind_count; k++)
        all += (double)s->kinds[k].count * (double)s->kinds[k].wood;
    for (int i = 0; i < s->part_count; i++)
        if (!saw_suits_any(s, &s->parts[i])) certain += (double)s->parts[i].wood;
    struct dual f;
    for (int i = 0; next_dual(&batches, i, &f); i++) {
        double too_much = take_by(s, &batches, &f) * (1 - rounding) - all;
        if (too_much <= 0) continue;
        memcpy(sorted.items, batches.items, (size_t)batches.count * sizeof *batches.items);
        missing = fmax(missing, wood_of(sorted, too_much));
    }
    return whole_blanks(s, (int64_t)ceil((certain + missing) * (1 - rounding)));
}
