/* Every combination counts, few are weighed in the water.
 *
 * The reserve of a combination is plain arithmetic and bounds its miss from below, so combinations
 * are taken by rising bound: for each choice of the first bore the choices of the second, sorted by
 * mass, are walked outward from the mass that is still wanted, and a heap keeps the first bore's
 * choices by the bound of their next partner.  The search ends when the next bound is no better
 * than the fifth best found.  Where the attitude counts too, a first walk only estimates, and
 * weighs what looks best; the second leaves out what cannot lie within the window of attitudes that
 * the fifth best leaves open, by its torques at the window's edges (rests so close to each other
 * that two fit into one window aside).  The answer is that of weighing them all. */
#include "compute/ballast/pieces.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "compute/ballast/torque.h"
#include "compute/plug/wall.h"
#include "model/reference.h"

/* What may go into one bore. */
struct choice {
    signed char piece[BALLAST_PIECES_PER_BORE];
    struct bore_fill fill;
    struct tally gain; /* what the finished plug gains by it */
};

/* A choice of the first bore with its next partners in the second: those below and above. */
struct walk {
    int first, below, above;
    double bound;
};

/* One choice for each bore. */
struct pair {
    int first, second;
    double bound;
};

struct picker {
    const struct weighing *w;
    const struct ballast *ballast;
    struct bore_fill fills[MAX_BORES];
    int bores[2], count;
    struct choice *choices[2];
    int choice_count[2];
    double drillable[2], too_deep[2]; /* depths known to leave wall enough, and not to */
    double capacity;                  /* greatest displacement, finished */
    struct tally empty;               /* finished, those bores absent */
    struct walk *heap;
    int heap_count;
    struct piece_load *best;
    int best_count;
};

static double available(const struct piece *piece) {
    return piece->count.given ? piece->count.value : 2 * BALLAST_PIECES_PER_BORE;
}

static int used(const struct choice *choice, int piece) {
    int count = 0;
    for (int i = 0; i < BALLAST_PIECES_PER_BORE; i++) count += choice->piece[i] == piece;
    return count;
}

/* Whether there are enough of each piece for one choice, or for two of them. */
static bool enough(const struct picker *p, const struct choice *a, const struct choice *b) {
    for (int i = 0; i < BALLAST_PIECES_PER_BORE; i++) {
        int piece = a->piece[i];
        if (piece < 0) continue;
        if (used(a, piece) + (b ? used(b, piece) : 0) > available(&p->ballast->pieces[piece]))
            return false;
    }
    return true;
}

/* Adds a choice for one bore if its pieces go in. */
static void offer_choice(struct picker *p, int which, struct choice *choice) {
    const struct plug *plug = p->w->plug;
    int bore = p->bores[which];
    double mass = 0, height = 0;
    double widest = p->ballast->bores[bore].drill + reference_fact[FACT_BALL_GIVE].value + 1e-9;
    struct tally gain = {0};
    for (int i = 0; i < BALLAST_PIECES_PER_BORE && choice->piece[i] >= 0; i++) {
        const struct piece *piece = &p->ballast->pieces[choice->piece[i]];
        if (piece->ball.given && piece->ball.value > widest) return;
        mass += piece_mass(plug, piece);
        height += bore_piece_height(plug, bore, piece);
    }
    choice->fill = bore_filled(plug, bore, mass, height);
    if (!choice->fill.fits) return;
    bore_tally(plug, &choice->fill, CONDITION_FINISHED, &gain);
    choice->gain = gain;
    p->choices[which][p->choice_count[which]++] = *choice;
}

static int by_gain(const void *a, const void *b) {
    const struct choice *x = a, *y = b;
    if (x->gain.mass != y->gain.mass) return x->gain.mass < y->gain.mass ? -1 : 1;
    return memcmp(x->piece, y->piece, sizeof x->piece);
}

/* All multisets of at most three pieces, as lists that never rise. */
static void list_choices(struct picker *p, int which) {
    int kinds = p->ballast->piece_count;
    for (int a = -1; a < kinds; a++)
        for (int b = -1; b <= a; b++)
            for (int c = -1; c <= b; c++) {
                struct choice choice = {.piece = {(signed char)a, (signed char)b, (signed char)c}};
                if (enough(p, &choice, NULL)) offer_choice(p, which, &choice);
            }
    qsort(p->choices[which], (size_t)p->choice_count[which], sizeof **p->choices, by_gain);
}

/* --- combinations by rising bound ------------------------------------------------------------ */

static double bound_of(const struct picker *p, int first, int second) {
    const struct aim *aim = p->w->aim;
    double mass = p->empty.mass + p->choices[0][first].gain.mass;
    if (p->count == 2) mass += p->choices[1][second].gain.mass;
    struct outcome outcome = {.reserve = 1 - mass / p->capacity,
                              .attitude = aim->attitude.given ? aim->attitude.value : 0};
    return solve_miss(aim, &outcome);
}

/* The nearer of a walk's two next partners; -1 where it has come to both ends. */
static int next_partner(const struct picker *p, const struct walk *walk) {
    int last = p->count == 2 ? p->choice_count[1] - 1 : 0;
    if (walk->below < 0) return walk->above > last ? -1 : walk->above;
    if (walk->above > last) return walk->below;
    return bound_of(p, walk->first, walk->below) <= bound_of(p, walk->first, walk->above)
               ? walk->below
               : walk->above;
}

static bool sooner(const struct walk *a, const struct walk *b) {
    return a->bound != b->bound ? a->bound < b->bound : a->first < b->first;
}

static void sift_down(struct picker *p, int at) {
    for (;;) {
        int least = at;
        for (int child = 2 * at + 1; child <= 2 * at + 2 && child < p->heap_count; child++)
            if (sooner(&p->heap[child], &p->heap[least])) least = child;
        if (least == at) return;
        struct walk swap = p->heap[at];
        p->heap[at] = p->heap[least];
        p->heap[least] = swap;
        at = least;
    }
}

/* Where the walk through the second bore's choices begins: at the mass that is still wanted. */
static int first_above(const struct picker *p, int first) {
    const struct aim *aim = p->w->aim;
    if (p->count < 2 || !aim->reserve.given) return 0;
    double wanted =
        p->capacity * (1 - aim->reserve.value) - p->empty.mass - p->choices[0][first].gain.mass;
    int low = 0, high = p->choice_count[1];
    while (low < high) {
        int middle = (low + high) / 2;
        if (p->choices[1][middle].gain.mass < wanted)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

static void start_walks(struct picker *p) {
    p->heap_count = 0;
    for (int i = 0; i < p->choice_count[0]; i++) {
        int above = first_above(p, i);
        struct walk walk = {.first = i, .below = above - 1, .above = above};
        walk.bound = bound_of(p, i, next_partner(p, &walk));
        p->heap[p->heap_count++] = walk;
    }
    for (int i = p->heap_count / 2 - 1; i >= 0; i--) sift_down(p, i);
}

/* Takes the partner from the walk on top of the heap and moves it on. */
static void step(struct picker *p, int partner) {
    struct walk *top = &p->heap[0];
    if (partner == top->below)
        top->below--;
    else
        top->above++;
    int next = next_partner(p, top);
    if (next >= 0)
        top->bound = bound_of(p, top->first, next);
    else
        *top = p->heap[--p->heap_count];
    sift_down(p, 0);
}

/* --- the best five --------------------------------------------------------------------------- */

static double worst_kept(const struct picker *p) {
    return p->best_count < BALLAST_BEST_LOADS ? INFINITY : p->best[BALLAST_BEST_LOADS - 1].miss;
}

static bool kept_already(const struct picker *p, const struct piece_load *load) {
    for (int i = 0; i < p->best_count; i++)
        if (memcmp(p->best[i].piece, load->piece, sizeof load->piece) == 0) return true;
    return false;
}

static void keep(struct picker *p, struct pair pair, const struct outcome *outcome) {
    int chosen[2] = {pair.first, pair.second}, at = p->best_count;
    struct piece_load load = {.outcome = *outcome};
    load.miss = solve_miss(p->w->aim, outcome);
    memset(load.piece, -1, sizeof load.piece);
    for (int i = 0; i < MAX_BORES; i++) load.load[i] = p->fills[i].load;
    for (int i = 0; i < p->count; i++)
        for (int k = 0; k < BALLAST_PIECES_PER_BORE; k++)
            load.piece[p->bores[i]][k] = p->choices[i][chosen[i]].piece[k];
    while (at > 0 && p->best[at - 1].miss > load.miss) at--;
    if (at == BALLAST_BEST_LOADS || kept_already(p, &load)) return;
    if (p->best_count < BALLAST_BEST_LOADS) p->best_count++;
    memmove(&p->best[at + 1], &p->best[at], (size_t)(p->best_count - at - 1) * sizeof load);
    p->best[at] = load;
}

/* A bore that is deepened to suit may come too near the surface: such a load does not fit.  The
 * wall only shrinks with depth, so what is known of one depth holds for all beyond it. */
static bool is_drillable(struct picker *p, int which, int choice) {
    const struct choice *c = &p->choices[which][choice];
    double depth = c->fill.depth;
    if (p->ballast->bores[p->bores[which]].depth.given || c->piece[0] < 0) return true;
    if (depth > p->drillable[which] && depth < p->too_deep[which]) {
        if (wall_enough(wall_least(p->w->plug, &c->fill)))
            p->drillable[which] = depth;
        else
            p->too_deep[which] = depth;
    }
    return depth <= p->drillable[which];
}

static bool pair_drillable(struct picker *p, struct pair pair) {
    return is_drillable(p, 0, pair.first) && (p->count < 2 || is_drillable(p, 1, pair.second));
}

static void weigh_pair(struct picker *p, struct pair pair) {
    p->fills[p->bores[0]] = p->choices[0][pair.first].fill;
    if (p->count == 2) p->fills[p->bores[1]] = p->choices[1][pair.second].fill;
    struct outcome outcome = weighing_outcome(p->w, p->fills, CONDITION_FINISHED);
    if (outcome.found) keep(p, pair, &outcome);
}

/* The next pair by rising bound for which there are pieces enough; false at the end, or where the
 * bound reaches `most`. */
static bool next_pair(struct picker *p, double most, struct pair *pair) {
    while (p->heap_count && p->heap[0].bound < most) {
        *pair = (struct pair){p->heap[0].first, next_partner(p, &p->heap[0]), p->heap[0].bound};
        step(p, pair->second);
        if (p->count < 2 || enough(p, &p->choices[0][pair->first], &p->choices[1][pair->second]))
            return true;
    }
    return false;
}

static void gain(struct tally *sum, const struct choice *choice) {
    sum->mass += choice->gain.mass;
    sum->x += choice->gain.x;
    sum->z += choice->gain.z;
}

static struct tally tally_of(const struct picker *p, struct pair pair) {
    struct tally sum = p->empty;
    gain(&sum, &p->choices[0][pair.first]);
    if (p->count == 2) gain(&sum, &p->choices[1][pair.second]);
    return sum;
}

/* A window around the attitude aimed at, for all loads whose reserve misses by less than `miss`.
 * A submerged plug has no waterplane and is weighed without more ado: the window ends before. */
static bool open_window(const struct picker *p, struct torque_window *window, double half,
                        double miss) {
    const double step = reference_fact[FACT_RESERVE_STEP].value, almost = 1 - 1e-6;
    double reserve = p->w->aim->reserve.value, water = p->w->plug->water;
    double least = p->capacity * (1 - reserve - miss * step);
    double most = p->capacity * fmin(1 - reserve + miss * step, almost);
    least = fmax(least, 0.02 * p->capacity);
    return least < most && torque_window_open(window, p->w, p->w->aim->attitude.value, half,
                                              least / water, most / water);
}

/* --- the first walk: estimates --------------------------------------------------------------- */

enum { ESTIMATED = 20000, PROMISING = BALLAST_BEST_LOADS + 2 };

/* Miss by one step of Newton from the attitude aimed at, with the torque's slope in the window. */
static double estimate(const struct picker *p, const struct torque_window *window,
                       struct pair pair) {
    double torque[2], half = (window->angle[1] - window->angle[0]) / 2;
    struct tally tally = tally_of(p, pair);
    if (!torque_edges(window, &tally, p->w->plug->water, torque)) return INFINITY;
    double slope = (torque[1] - torque[0]) / (2 * half);
    if (slope <= 0) return INFINITY;
    return pair.bound +
           fabs((torque[0] + torque[1]) / 2 / slope) / reference_fact[FACT_ATTITUDE_STEP].value;
}

/* Weighs those that look best, so that the second walk knows what it has to beat. */
static void weigh_promising(struct picker *p) {
    const double half = 0.5 * reference_fact[FACT_ATTITUDE_STEP].value, miss = 5;
    struct torque_window window;
    struct pair pair, best[PROMISING];
    double estimates[PROMISING];
    int count = 0;
    if (!open_window(p, &window, half, miss)) return;
    start_walks(p);
    for (int i = 0; i < ESTIMATED && next_pair(p, miss, &pair); i++) {
        double value = estimate(p, &window, pair);
        int at = count;
        while (at > 0 && estimates[at - 1] > value) at--;
        if (at == PROMISING || value == INFINITY || !pair_drillable(p, pair)) continue;
        if (count < PROMISING) count++;
        memmove(&best[at + 1], &best[at], (size_t)(count - at - 1) * sizeof *best);
        memmove(&estimates[at + 1], &estimates[at], (size_t)(count - at - 1) * sizeof *estimates);
        best[at] = pair, estimates[at] = value;
    }
    for (int i = 0; i < count; i++) weigh_pair(p, best[i]);
}

/* --- the second walk: proof ------------------------------------------------------------------ */

/* Whether the torques at the edges say that there is no rest between them; a micrometre of lever is
 * left for the interpolation's error. */
static bool ruled_out(const struct picker *p, const struct torque_window *window,
                      struct pair pair) {
    double torque[2];
    struct tally tally = tally_of(p, pair);
    double doubt = 1e-6 * tally.mass;
    return torque_edges(window, &tally, p->w->plug->water, torque) &&
           (torque[0] > doubt || torque[1] < -doubt);
}

/* A hostile recipe can make millions of pairs that no bound tells apart: then the search stops, and
 * says so. */
enum { MOST_PAIRS = 2000000, MOST_WEIGHED = 10000 };

/* Returns whether the best are proven to be the best. */
static bool search(struct picker *p) {
    struct torque_window window;
    struct pair pair;
    long pairs = 0, weighed = 0;
    bool both = p->w->aim->reserve.given && p->w->aim->attitude.given, open = false;
    double opened_for = INFINITY;
    if (both) weigh_promising(p);
    start_walks(p);
    while (next_pair(p, worst_kept(p), &pair)) {
        if (both && worst_kept(p) < opened_for / 2) {
            opened_for = worst_kept(p);
            open = open_window(p, &window, opened_for * reference_fact[FACT_ATTITUDE_STEP].value,
                               opened_for);
        }
        if (++pairs > MOST_PAIRS) return false;
        if ((open && ruled_out(p, &window, pair)) || !pair_drillable(p, pair)) continue;
        if (++weighed > MOST_WEIGHED) return false;
        weigh_pair(p, pair);
    }
    return true;
}

/* Up to three of `kinds` pieces: C(kinds + 3, 3). */
static int most_choices(int kinds) {
    return (kinds + 1) * (kinds + 2) * (kinds + 3) / 6;
}

int pieces_best(struct arena *arena, const struct weighing *weighing, const struct bore_fill *fills,
                struct piece_load best[BALLAST_BEST_LOADS], bool *proven) {
    *proven = true;
    struct picker p = {.w = weighing, .ballast = weighing->plug->recipe->ballast, .best = best};
    if (!p.ballast || !p.w->aim || !p.ballast->piece_count) return 0;
    struct bore_fill absent[MAX_BORES] = {0};
    for (int i = 0; i < p.ballast->bore_count; i++) {
        p.fills[i] = fills[i];
        if (!p.ballast->bores[i].solve || p.count == 2) {
            absent[i] = fills[i];
            continue;
        }
        p.choices[p.count] = NEW(arena, struct choice, most_choices(p.ballast->piece_count));
        p.bores[p.count] = i;
        p.too_deep[p.count] = INFINITY;
        list_choices(&p, p.count++);
    }
    if (!p.count || !p.choice_count[0] || (p.count == 2 && !p.choice_count[1])) return 0;
    p.capacity = weighing_capacity(weighing, CONDITION_FINISHED);
    struct burden empty = weighing_burden(weighing, absent, CONDITION_FINISHED);
    tally_add(&p.empty, empty.mass, empty.x, empty.z);
    p.heap = NEW(arena, struct walk, p.choice_count[0]);
    *proven = search(&p);
    return p.best_count;
}
