/* How much wood must be begun at least: by dual feasible functions.
 *
 * Such a function f of a part's share x of a strip, 0 <= f(x) <= 1, gives no more than 1 for all
 * parts of a strip together.  Of n strips side by side a part takes f(x) / n of the board, whatever
 * else is cut out of it: of each stretch take the strip that has most by f; put one behind another
 * they are a strip of the whole board, and no stretch has more on the average of its strips.  So
 * every part costs at least the least of V f(x) / n over the boards that it comes out of, with V
 * the board's wood, and all of them together no more than the boards that are begun.
 *
 * The functions are those of the bound L2 (Martello and Toth 1990) and those of Fekete and Schepers
 * (2001) that round down to a k-th; the share itself is one of the first.
 */
#include <math.h>

#include "compute/cutting/inner.h"

enum { MOST_KTH = 20, MOST_SUMS = 10000 };

struct dual {
    int64_t threshold; /* where > 0: shorter parts count nothing, what leaves less room is whole */
    int kth;           /* where > 0: rounded down to a k-th */
};

static double dual_of(const struct dual *f, int64_t length, int64_t board) {
    double share = (double)length / (double)board;
    if (f->threshold > 0 && 2 * f->threshold <= board) {
        if (length > board - f->threshold) return 1;
        return length >= f->threshold ? share : 0;
    }
    int64_t parts = (f->kth + 1) * length, whole = parts / board;
    if (f->kth == 0 || parts % board == 0) return share;
    return (double)whole / f->kth;
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

/* --- what boards can add up to --------------------------------------------------------------- */

/* The least sum of boards' wood that is no less than the need. */
struct sums {
    const struct saw *saw;
    int64_t need, best;
    int *counts, *best_counts; /* boards of each kind */
    int left;                  /* sums to be tried */
};

static void add_boards(struct sums *x, int kind, int64_t sum) {
    const struct saw *s = x->saw;
    if (x->left <= 0 || sum >= x->best) return;
    x->left--;
    if (sum >= x->need) {
        x->best = sum;
        for (int i = 0; i < s->kind_count; i++) x->best_counts[i] = i < kind ? x->counts[i] : 0;
        return;
    }
    if (kind == s->kind_count) return;
    const struct saw_kind *k = &s->kinds[kind];
    int64_t most = (x->need - sum + k->wood - 1) / k->wood;
    if (most > k->count) most = k->count;
    for (int64_t n = most; n >= 0 && x->left > 0; n--) {
        x->counts[kind] = (int)n;
        add_boards(x, kind + 1, sum + n * k->wood);
    }
}

bool saw_least_boards(const struct saw *s, int64_t need, int *counts, int64_t *wood) {
    struct sums sums = {s, need, INT64_MAX, NEW(s->arena, int, s->kind_count), counts, MOST_SUMS};
    add_boards(&sums, 0, 0);
    *wood = sums.best;
    return sums.left > 0 && sums.best < INT64_MAX;
}

/* --- the bound ------------------------------------------------------------------------------- */

/* Parts that are cut, those alike counted together. */
struct batch {
    const struct saw_part *part;
    int count;
};

static double need_by(const struct saw *s, const struct batch *batches, int count,
                      const struct dual *f) {
    double need = 0;
    for (int i = 0; i < count; i++) need += batches[i].count * cost_of(s, batches[i].part, f);
    return need;
}

static int batches_of(const struct saw *s, const struct saw_layout *layout, struct batch *batches) {
    int count = 0;
    for (int i = 0; i < s->part_count; i++) {
        if (layout->places[i].board == LEFT_OUT) continue;
        const struct batch *last = count ? &batches[count - 1] : NULL;
        if (!last || last->part->length != s->parts[i].length ||
            last->part->section != s->parts[i].section)
            batches[count++] = (struct batch){&s->parts[i], 0};
        batches[count - 1].count++;
    }
    return count;
}

int64_t saw_bound(const struct saw *s, const struct saw_layout *layout) {
    const double rounding = 1e-9;
    struct batch *batches = NEW(s->arena, struct batch, s->part_count);
    int count = batches_of(s, layout, batches);
    double need = 0;
    for (int i = 0; i < count; i++)
        need = fmax(
            need, need_by(s, batches, count, &(struct dual){.threshold = batches[i].part->length}));
    for (int k = 0; k <= MOST_KTH; k++)
        need = fmax(need, need_by(s, batches, count, &(struct dual){.kth = k}));
    int64_t wood, least = (int64_t)ceil(need * (1 - rounding));
    return saw_least_boards(s, least, NEW(s->arena, int, s->kind_count), &wood) ? wood : least;
}
