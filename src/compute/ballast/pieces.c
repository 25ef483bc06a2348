/* Every combination counts, few are weighed in the water.
 *
 * What may go into one bore is sorted into cells of loads that a scale does not tell apart
 * (hand.h). A pair of cells, one of each bore, is one choice for the builder, and one load stands
 * for it: the fewest pieces, then the least miss.
 *
 * Every pair has a bound below which its miss cannot be.  The reserve is plain arithmetic; the
 * attitude follows from the torques at a fan of attitudes about the one that is aimed at
 * (torque.h), between which they are as good as straight lines: no load of the pair can come to
 * rest where none of them lets its torque change from below zero to above.  Pairs are settled by
 * rising bound, their loads weighed in the water, until the next bound is no better than the fifth
 * best found.  The answer is that of weighing them all. */
#include "compute/ballast/pieces.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "compute/ballast/hand.h"
#include "compute/ballast/torque.h"
#include "model/reference.h"

/* A cell of the first bore and one of the second, which is the empty one where there is one bore.
 */
struct pair {
    int cell[2];
    double bound; /* no load of it misses less */
};

struct picker {
    struct arena *arena;
    const struct weighing *w;
    const struct ballast *ballast;
    const struct aim *aim;
    struct bore_fill fills[MAX_BORES];
    struct hand hand[2];
    double capacity, wanted;   /* greatest displacement, and the mass aimed at, finished */
    double percent, degrees;   /* what of mass and of attitude makes a miss of 1 */
    struct tally empty;        /* finished, those bores absent */
    double lightest, heaviest; /* of all pairs */
    double grain;              /* by how much the masses of one pair may differ */
    struct piece_load *best;
    struct pair kept[BALLAST_BEST_LOADS];
    int best_count;
    struct pair *pairs; /* to be settled */
    size_t pair_count, pair_room;
    long weighed;
    bool all; /* no pair and no load was left out that could matter */
    struct torque_fan fan;
    bool open;               /* the fan is: an attitude is aimed at, and not anywhere */
    struct range *turned[2]; /* moments of the weights of each hand's cells, at each edge */
};

static const double right_angle = 1.57079632679489661923;

/* A hostile recipe can make millions of pairs that no bound tells apart: then the search stops, and
 * says so. */
enum { MOST_PAIRS = 400000, MOST_WEIGHED = 10000 };

static const struct cell *cell_of(const struct picker *p, const struct pair *pair, int which) {
    return &p->hand[which].cells[pair->cell[which]];
}

/* What plugs of these masses miss of the reserve at least. */
static double reserve_bound(const struct picker *p, struct range mass) {
    if (!p->aim->reserve.given) return 0;
    return fmax(fmax(mass.least - p->wanted, p->wanted - mass.most), 0) / p->percent;
}

static double worst_kept(const struct picker *p) {
    return p->best_count < BALLAST_BEST_LOADS ? INFINITY : p->best[BALLAST_BEST_LOADS - 1].miss;
}

/* --- torques ---------------------------------------------------------------------------------- */

/* How near to the attitude aimed at a rest between two edges can be, where the torques there lie
 * within these ranges; INFINITY if none can be between them. */
static double nearest_between(const struct picker *p, int edge, struct range up, struct range down,
                              double doubt) {
    const double *attitude = &p->fan.attitude[edge];
    double aim = p->aim->attitude.value, apart = attitude[1] - attitude[0];
    if (up.least > doubt || down.most < -doubt) return INFINITY;
    if (attitude[0] >= aim - 1e-12) { /* the first place where some torque is not below zero */
        double way = up.most < -doubt ? (up.most + doubt) / (up.most - down.most) : 0;
        return fmax(attitude[0] + apart * way - aim, 0);
    }
    double way = down.least > doubt ? (down.least - doubt) / (down.least - up.least) : 0;
    return fmax(aim - (attitude[1] - apart * way), 0);
}

/* What loads miss of the attitude at least, by the range of their torques at every edge. */
static double attitude_bound(const struct picker *p, const struct range *torque, double doubt) {
    const struct torque_fan *fan = &p->fan;
    double aim = p->aim->attitude.value, hair = 1e-12;
    double up = aim - fan->attitude[0], down = fan->attitude[fan->edges - 1] - aim;
    double nearest = right_angle; /* the miss of no rest at all */
    if (fan->attitude[0] > -right_angle + hair) nearest = fmin(nearest, up);
    if (fan->attitude[fan->edges - 1] < right_angle - hair) nearest = fmin(nearest, down);
    for (int e = 0; e + 1 < fan->edges; e++)
        nearest = fmin(nearest, nearest_between(p, e, torque[e], torque[e + 1], doubt));
    return nearest / p->degrees;
}

static double pair_bound(const struct picker *p, const struct pair *pair, struct range mass) {
    double bound = reserve_bound(p, mass), doubt = p->open ? torque_doubt(&p->fan, mass) : INFINITY;
    struct range torque[TORQUE_EDGES];
    if (!isfinite(doubt)) return bound;
    for (int e = 0; e < p->fan.edges; e++) {
        const struct range *a = &p->turned[0][pair->cell[0] * p->fan.edges + e];
        const struct range *b = &p->turned[1][pair->cell[1] * p->fan.edges + e];
        struct range up = torque_buoyancy(&p->fan, e, mass);
        double still = torque_weight(&p->fan, e, &p->empty);
        torque[e] = (struct range){still + a->least + b->least - up.most,
                                   still + a->most + b->most - up.least};
    }
    return bound + attitude_bound(p, torque, doubt);
}

/* --- one load ----------------------------------------------------------------------------------
 */

struct load {
    const struct choice *choice[2];
    int pieces;
    double bound;
};

static struct tally tally_of(const struct picker *p, const struct load *load) {
    struct tally sum = p->empty;
    for (int i = 0; i < 2; i++) {
        sum.mass += load->choice[i]->gain;
        sum.x += load->choice[i]->aft;
        sum.z += load->choice[i]->lift;
    }
    return sum;
}

static double load_bound(const struct picker *p, const struct load *load) {
    struct tally tally = tally_of(p, load);
    struct range mass = {tally.mass, tally.mass}, torque[TORQUE_EDGES];
    double bound = reserve_bound(p, mass), doubt = p->open ? torque_doubt(&p->fan, mass) : INFINITY;
    if (!isfinite(doubt)) return bound;
    for (int e = 0; e < p->fan.edges; e++) {
        double up = torque_buoyancy(&p->fan, e, mass).least;
        double at = torque_weight(&p->fan, e, &tally) - up;
        torque[e] = (struct range){at, at};
    }
    return bound + attitude_bound(p, torque, doubt);
}

static bool can_be(struct picker *p, const struct load *load) {
    return hand_together(p->ballast, p->hand, load->choice) &&
           hand_drillable(&p->hand[0], p->w->plug, load->choice[0]) &&
           hand_drillable(&p->hand[1], p->w->plug, load->choice[1]);
}

static void weigh(struct picker *p, const struct load *load, struct piece_load *result) {
    memset(result->piece, -1, sizeof result->piece);
    for (int i = 0; i < 2; i++) {
        const struct hand *hand = &p->hand[i];
        if (hand->bore < 0) continue;
        p->fills[hand->bore] = hand_fill(hand, p->w->plug, load->choice[i]);
        for (int k = 0; k < load->choice[i]->count; k++)
            result->piece[hand->bore][k] = load->choice[i]->piece[k];
    }
    for (int i = 0; i < MAX_BORES; i++) result->load[i] = p->fills[i].load;
    result->outcome = weighing_outcome(p->w, p->fills, CONDITION_FINISHED);
    result->miss = solve_miss(p->aim, &result->outcome);
    p->weighed++;
}

/* --- one pair ----------------------------------------------------------------------------------
 */

static void keep(struct picker *p, const struct pair *pair, const struct piece_load *load) {
    int at = p->best_count;
    while (at > 0 && p->best[at - 1].miss > load->miss) at--;
    if (at == BALLAST_BEST_LOADS) return;
    if (p->best_count < BALLAST_BEST_LOADS) p->best_count++;
    for (int i = p->best_count - 1; i > at; i--)
        p->best[i] = p->best[i - 1], p->kept[i] = p->kept[i - 1];
    p->best[at] = *load, p->kept[at] = *pair;
}

static bool is_kept(const struct picker *p, const struct pair *pair) {
    for (int i = 0; i < p->best_count; i++)
        if (memcmp(p->kept[i].cell, pair->cell, sizeof pair->cell) == 0) return true;
    return false;
}

/* The loads of a pair that have the fewest pieces, as far as there is room, by rising bound. */
static int fewest_loads(struct picker *p, const struct pair *pair, struct load *loads, int room) {
    const struct cell *a = cell_of(p, pair, 0), *b = cell_of(p, pair, 1);
    int fewest = 2 * BALLAST_PIECES_PER_BORE, count = 0;
    for (int i = 0; i < a->count; i++)
        for (int k = 0; k < b->count; k++) {
            struct load load = {
                .choice = {hand_choice(&p->hand[0], a, i), hand_choice(&p->hand[1], b, k)}};
            load.pieces = load.choice[0]->count + load.choice[1]->count;
            if (load.pieces > fewest) break;
            if (!can_be(p, &load)) continue;
            if (load.pieces < fewest) count = 0;
            fewest = load.pieces;
            load.bound = load_bound(p, &load);
            int at = count < room ? count++ : room;
            for (; at > 0 && loads[at - 1].bound > load.bound; at--)
                if (at < room) loads[at] = loads[at - 1];
            if (at < room) loads[at] = load;
        }
    return count;
}

/* Weighs the loads that may stand for a pair, and keeps the nearest if it is among the best. */
static void settle(struct picker *p, const struct pair *pair) {
    enum { ROOM = 64 };
    struct load loads[ROOM];
    struct piece_load nearest = {.miss = INFINITY}, load;
    if (is_kept(p, pair)) return;
    int count = fewest_loads(p, pair, loads, ROOM);
    int i = 0;
    for (; i < count && loads[i].bound < fmin(nearest.miss, worst_kept(p)); i++) {
        weigh(p, &loads[i], &load);
        if (load.miss < nearest.miss) nearest = load;
    }
    if (i == ROOM) p->all = false; /* there may be more of them */
    if (nearest.miss < worst_kept(p)) keep(p, pair, &nearest);
}

/* --- all pairs ---------------------------------------------------------------------------------
 */

/* The least and the most moment that the weights of every cell have at every edge. */
static void turn_cells(struct picker *p, int which) {
    const struct hand *hand = &p->hand[which];
    int edges = p->fan.edges;
    struct range *turned = NEW(p->arena, struct range, (size_t)hand->cell_count * (size_t)edges);
    p->turned[which] = turned;
    for (int c = 0; c < hand->cell_count; c++)
        for (int e = 0; e < edges; e++, turned++) {
            double cosine = p->fan.cosine[e], sine = p->fan.sine[e];
            *turned = (struct range){INFINITY, -INFINITY};
            for (int i = 0; i < hand->cells[c].count; i++) {
                const struct choice *choice = hand_choice(hand, &hand->cells[c], i);
                double weight = choice->aft * cosine - choice->lift * sine;
                if (weight < turned->least) turned->least = weight;
                if (weight > turned->most) turned->most = weight;
            }
        }
}

/* Opens the fan over what attitudes and masses may miss by less than `within`. */
static void open_fan(struct picker *p, double within, struct range mass) {
    p->open = p->aim->attitude.given && isfinite(within) &&
              torque_fan_open(&p->fan, p->w, p->aim->attitude.value, within * p->degrees, mass);
    for (int which = 0; which < 2 && p->open; which++) turn_cells(p, which);
}

/* The first cell of a hand that may be so heavy. */
static int first_reaching(const struct hand *hand, double mass) {
    int low = 0, high = hand->cell_count;
    while (low < high) {
        int middle = (low + high) / 2;
        if (hand->cells[middle].ceiling < mass)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

/* Lists the pairs of one cell of the first bore that lie within a range of masses and whose bound
 * is under `within`. */
static void list_from(struct picker *p, int first, struct range all, double within) {
    const struct hand *other = &p->hand[1];
    const struct cell *cell = &p->hand[0].cells[first];
    const double hair = 1e-12; /* kg, for rounding */
    double lightest = all.least - p->empty.mass - cell->most - hair;
    double heaviest = all.most - p->empty.mass - cell->least + hair;
    for (int k = first_reaching(other, lightest); k < other->cell_count && p->all; k++) {
        const struct cell *partner = &other->cells[k];
        if (partner->floor > heaviest) return;
        struct range mass = {p->empty.mass + cell->least + partner->least,
                             p->empty.mass + cell->most + partner->most};
        if (reserve_bound(p, mass) >= within) continue;
        struct pair pair = {.cell = {first, k}};
        pair.bound = pair_bound(p, &pair, mass);
        if (pair.bound >= within) continue;
        p->all = p->pair_count < MOST_PAIRS;
        GROW(p->arena, p->pairs, p->pair_count, p->pair_room);
        p->pairs[p->pair_count++] = pair;
    }
}

/* Lists all pairs whose bound is under `within`. */
static void list_pairs(struct picker *p, double within) {
    struct range all = {p->lightest, p->heaviest};
    if (p->aim->reserve.given) {
        all.least = fmax(all.least, p->wanted - within * p->percent);
        all.most = fmin(all.most, p->wanted + within * p->percent);
    }
    p->pair_count = 0;
    open_fan(p, within, (struct range){all.least - p->grain, all.most + p->grain});
    for (int i = 0; i < p->hand[0].cell_count; i++) list_from(p, i, all, within);
}

static int by_bound(const void *a, const void *b) {
    const struct pair *x = a, *y = b;
    if (x->bound != y->bound) return x->bound < y->bound ? -1 : 1;
    return memcmp(x->cell, y->cell, sizeof x->cell);
}

/* Settles pairs by rising bound, of those first that may miss by little. */
static void search(struct picker *p) {
    const double first = 0.5, last = 46; /* by more than no rest at all */
    double within = 0;
    while (worst_kept(p) > within) {
        within = within == 0 ? first : within < last ? 2 * within : INFINITY;
        list_pairs(p, within);
        if (p->pair_count) qsort(p->pairs, p->pair_count, sizeof *p->pairs, by_bound);
        for (size_t k = 0; k < p->pair_count && p->pairs[k].bound < worst_kept(p); k++) {
            if (p->weighed < MOST_WEIGHED)
                settle(p, &p->pairs[k]);
            else
                p->all = false;
        }
    }
}

static bool open_hands(struct picker *p) {
    int count = 0;
    p->hand[1] = hand_empty(p->arena);
    for (int i = 0; i < p->ballast->bore_count && count < 2; i++)
        if (p->ballast->bores[i].solve) p->hand[count++] = hand_of(p->arena, p->w->plug, i);
    return count > 0;
}

/* What follows from the hands: the plug without their bores, and the range of its masses. */
static void weigh_hands(struct picker *p) {
    struct bore_fill others[MAX_BORES] = {0};
    for (int i = 0; i < p->ballast->bore_count; i++)
        if (i != p->hand[0].bore && i != p->hand[1].bore) others[i] = p->fills[i];
    struct burden empty = weighing_burden(p->w, others, CONDITION_FINISHED);
    tally_add(&p->empty, empty.mass, empty.x, empty.z);
    p->lightest = p->heaviest = p->empty.mass;
    for (int which = 0; which < 2; which++) {
        const struct hand *hand = &p->hand[which];
        double grain = 0;
        for (int i = 0; i < hand->cell_count; i++)
            grain = fmax(grain, hand->cells[i].most - hand->cells[i].least);
        p->grain += grain;
        p->lightest += hand->cells[0].floor;
        p->heaviest += hand->cells[hand->cell_count - 1].ceiling;
    }
}

int pieces_best(struct arena *arena, const struct weighing *weighing, const struct bore_fill *fills,
                struct piece_load best[BALLAST_BEST_LOADS], bool *proven) {
    const struct ballast *ballast = weighing->plug->recipe->ballast;
    *proven = true;
    if (!ballast || !weighing->aim || !ballast->piece_count) return 0;
    struct picker *p = NEW(arena, struct picker, 1);
    *p = (struct picker){.arena = arena, .w = weighing, .ballast = ballast, .aim = weighing->aim};
    p->best = best;
    for (int i = 0; i < ballast->bore_count; i++) p->fills[i] = fills[i];
    if (!open_hands(p)) return 0;
    weigh_hands(p);
    p->capacity = weighing_capacity(weighing, CONDITION_FINISHED);
    p->wanted = p->capacity * (1 - p->aim->reserve.value);
    p->percent = p->capacity * reference_fact[FACT_RESERVE_STEP].value;
    p->degrees = reference_fact[FACT_ATTITUDE_STEP].value;
    p->all = true;
    search(p);
    *proven = p->all && p->hand[0].complete && p->hand[1].complete;
    return p->best_count;
}
