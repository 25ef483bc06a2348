/* Choices are listed by their number of pieces: every choice grows by one piece of a kind that does
 * not come before its last.  What is too high for the bore is not grown any further. */
#include "compute/ballast/hand.h"

#include <math.h>
#include <string.h>

#include "compute/plug/wall.h"
#include "model/reference.h"

/* Of 10 kinds without end there are 43758 choices; 32 kinds of shot would make 77 million. */
enum { MOST_CHOICES = 60000 };

/* One kind of the pieces on hand, as it goes into a bore. */
struct kind {
    int most; /* that there are of it, or go into one bore */
    double mass, height;
};

static struct kind kind_of(const struct plug *plug, const struct hand *hand,
                           const struct piece *piece) {
    const struct ballast *ballast = plug->recipe->ballast;
    int bore = hand->bore, count = axis_count(&hand->empty.axis);
    double widest = ballast->bores[bore].drill + reference_ball_give(ballast->material) + 1e-9;
    double most = piece->count.given ? floor(piece->count.value / count) : BALLAST_PIECES_PER_BORE;
    bool goes_in = !piece->ball.given || piece->ball.value <= widest;
    return (struct kind){
        .most = goes_in ? (int)fmin(most, BALLAST_PIECES_PER_BORE) : 0,
        .mass = piece_mass(plug, piece),
        .height = bore_piece_height(plug, bore, piece),
    };
}

/* How high a load may stand: the bore's depth, or what leaves wall enough straight ahead. */
static double room_of(const struct plug *plug, const struct hand *hand) {
    const struct ballast *ballast = plug->recipe->ballast;
    const struct bore *b = &ballast->bores[hand->bore];
    const double hair = 1e-9, micrometre = 1e-6;
    if (b->depth.given) return b->depth.value + hair;
    return axis_deepest(&hand->empty.axis) + micrometre - ballast->cover;
}

struct bore_fill hand_fill(const struct hand *hand, const struct plug *plug,
                           const struct choice *choice) {
    return bore_refilled(plug, hand->bore, &hand->empty, choice->mass, choice->height);
}

/* Adds the choices of one piece more than `from`. */
static void grow(struct hand *hand, const struct choice *from, const struct kind *kinds, int count,
                 double room) {
    int last = from->count ? from->piece[from->count - 1] : 0, used = 0;
    while (used < from->count && from->piece[from->count - 1 - used] == last) used++;
    for (int k = last; k < count; k++, used = 0) {
        if (used >= kinds[k].most || from->height + kinds[k].height > room) continue;
        struct choice *more = &hand->choices[hand->count++];
        *more = *from;
        more->piece[(int)more->count++] = (signed char)k;
        more->mass += kinds[k].mass;
        more->height += kinds[k].height;
    }
}

static void list_choices(struct hand *hand, struct arena *arena, const struct plug *plug) {
    const struct ballast *ballast = plug->recipe->ballast;
    struct kind kinds[MAX_PIECES];
    double room = room_of(plug, hand);
    size_t capacity = 1;
    for (int k = 0; k < ballast->piece_count; k++)
        kinds[k] = kind_of(plug, hand, &ballast->pieces[k]);
    for (int i = 0; i < hand->count; i++) {
        if (hand->choices[i].count == BALLAST_PIECES_PER_BORE) break;
        hand->complete = hand->count < MOST_CHOICES;
        if (!hand->complete) break;
        hand->choices = arena_grow(arena, hand->choices, (size_t)hand->count, MAX_PIECES, &capacity,
                                   sizeof *hand->choices);
        grow(hand, &hand->choices[i], kinds, ballast->piece_count, room);
    }
}

static void weigh_choices(struct hand *hand, const struct plug *plug) {
    const double step = reference_fact[FACT_SCALE_STEP].value, hair = 1e-6;
    for (int i = 0; i < hand->count; i++) {
        struct choice *choice = &hand->choices[i];
        struct bore_fill fill = hand_fill(hand, plug, choice);
        struct tally gain = {0};
        bore_tally(plug, &fill, CONDITION_FINISHED, &gain);
        choice->gain = gain.mass;
        choice->aft = gain.x;
        choice->lift = gain.z;
        choice->shown = (int)(choice->mass / step + 0.5 + hair); /* rounded, as a scale does */
    }
}

/* Sorts the choices into cells; within a cell they keep their order, and so rise in pieces. */
static void sort_cells(struct hand *hand, struct arena *arena) {
    int heaviest = 0, at = 0;
    for (int i = 0; i < hand->count; i++)
        if (hand->choices[i].shown > heaviest) heaviest = hand->choices[i].shown;
    int *next = NEW(arena, int, heaviest + 1);
    for (int i = 0; i < hand->count; i++) next[hand->choices[i].shown]++;
    hand->cells = NEW(arena, struct cell, heaviest + 1);
    hand->cell_count = 0;
    for (int shown = 0; shown <= heaviest; shown++) {
        int count = next[shown];
        next[shown] = at;
        if (count) hand->cells[hand->cell_count++] = (struct cell){.first = at, .count = count};
        at += count;
    }
    hand->order = NEW(arena, int, hand->count);
    for (int i = 0; i < hand->count; i++) hand->order[next[hand->choices[i].shown]++] = i;
}

/* Fills in what the plug gains by each cell. */
static void weigh_cells(struct hand *hand) {
    double floor = INFINITY, ceiling = -INFINITY;
    for (int i = 0; i < hand->cell_count; i++) {
        struct cell *cell = &hand->cells[i];
        cell->least = INFINITY, cell->most = -INFINITY;
        for (int k = 0; k < cell->count; k++) {
            double gain = hand_choice(hand, cell, k)->gain;
            if (gain < cell->least) cell->least = gain;
            if (gain > cell->most) cell->most = gain;
        }
        cell->ceiling = ceiling = fmax(ceiling, cell->most);
    }
    for (int i = hand->cell_count - 1; i >= 0; i--)
        hand->cells[i].floor = floor = fmin(floor, hand->cells[i].least);
}

struct hand hand_empty(struct arena *arena) {
    struct hand hand = {.bore = -1, .count = 1, .complete = true, .too_deep = INFINITY};
    hand.choices = NEW(arena, struct choice, 1);
    memset(hand.choices->piece, -1, sizeof hand.choices->piece);
    sort_cells(&hand, arena);
    weigh_cells(&hand);
    return hand;
}

struct hand hand_of(struct arena *arena, const struct plug *plug, int bore) {
    struct hand hand = hand_empty(arena);
    hand.bore = bore;
    hand.empty = bore_filled(plug, bore, 0, 0);
    hand.too_deep = room_of(plug, &hand) + plug->recipe->ballast->cover + 1e-9;
    list_choices(&hand, arena, plug);
    weigh_choices(&hand, plug);
    sort_cells(&hand, arena);
    weigh_cells(&hand);
    return hand;
}

/* Looks at the wall of a bore so deep: it shrinks with depth, and by no more than the bore gets
 * deeper. */
static void look_deep(struct hand *hand, const struct plug *plug, double depth) {
    struct bore_fill fill = hand->empty;
    fill.depth = depth;
    fill.slug = depth - plug->recipe->ballast->cover;
    double spare = wall_least(plug, &fill) - reference_fact[FACT_WALL_LEAST].value;
    if (!wall_enough(spare + reference_fact[FACT_WALL_LEAST].value))
        hand->too_deep = depth;
    else
        hand->drillable = fmax(depth, depth + spare);
}

/* A second time that a load lies in between, the gap is closed for all that are still to come. */
bool hand_drillable(struct hand *hand, const struct plug *plug, const struct choice *choice) {
    const double micrometre = 1e-6;
    if (hand->bore < 0 || !choice->count) return true;
    if (plug->recipe->ballast->bores[hand->bore].depth.given) return true;
    double depth = choice->height + plug->recipe->ballast->cover;
    if (depth > hand->drillable && depth < hand->too_deep) {
        look_deep(hand, plug, depth);
        while (hand->looked && hand->too_deep - hand->drillable > micrometre)
            look_deep(hand, plug, (hand->drillable + hand->too_deep) / 2);
        hand->looked = true;
    }
    return depth <= hand->drillable;
}

/* Either alone keeps to what there is, so only kinds that are in both are counted. */
bool hand_together(const struct ballast *ballast, const struct hand hands[2],
                   const struct choice *const choices[2]) {
    const struct choice *a = choices[0], *b = choices[1];
    for (int i = 0, k = 0; i < a->count && k < b->count;) {
        int kind = a->piece[i], count = 0;
        if (kind < b->piece[k]) {
            i++;
        } else if (kind > b->piece[k]) {
            k++;
        } else {
            for (; i < a->count && a->piece[i] == kind; i++)
                count += axis_count(&hands[0].empty.axis);
            for (; k < b->count && b->piece[k] == kind; k++)
                count += axis_count(&hands[1].empty.axis);
            const struct opt *most = &ballast->pieces[kind].count;
            if (most->given && count > most->value) return false;
        }
    }
    return true;
}
