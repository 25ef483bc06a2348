/* Attitudes can run away, so no slopes: every move is weighed anew in both conditions. */
#include "compute/ballast/trim.h"

#include <math.h>

#include "base/unit.h"
#include "model/reference.h"

/* How far a move shifts the plug in the float test: the end that moves more, and its attitude. */
struct shift {
    bool seen; /* there is a waterline before and after */
    double rise, turn, reserve;
};

double trim_step(const struct recipe *recipe, double least) {
    const double unit = shown_form(SHOWN_MASS, recipe->shop->units).unit->scale;
    static const double steps[] = {1, 2, 5};
    double enough = fmax(least, reference_fact[FACT_SCALE_STEP].value) * (1 - 1e-9);
    double decimal = unit * pow(10, floor(log10(enough / unit)));
    for (int i = 0; i < 3; i++)
        if (steps[i] * decimal >= enough) return steps[i] * decimal;
    return 10 * decimal;
}

static struct water_marks marks_of(const struct plug *plug, const struct outcome *o) {
    if (!o->waterline_given) return (struct water_marks){0};
    return waterline_marks(plug, 0, (struct water_level){o->waterline_nose, o->waterline_tail});
}

/* More or less in one bore that stays as it was drilled, or is drilled to suit. */
static struct trial trial_of(const struct weighing *w, const struct bore_fill *fills, int bore,
                             double change, double height) {
    struct bore_fill changed[MAX_BORES];
    struct trial trial = {.bore = bore, .change = change, .piece = -1};
    double load = fills[bore].load + change;
    if (load < 0) return trial;
    for (int i = 0; i < MAX_BORES; i++) changed[i] = fills[i];
    changed[bore] = bore_filled(w->plug, bore, load, fmax(fills[bore].slug + height, 0));
    trial.possible = changed[bore].fits;
    if (!trial.possible) return trial;
    trial.test = weighing_outcome(w, changed, CONDITION_TEST);
    trial.finished = weighing_outcome(w, changed, CONDITION_FINISHED);
    trial.marks = marks_of(w->plug, &trial.test);
    return trial;
}

static struct shift shift_of(const struct outcome *before, const struct outcome *after) {
    struct shift s = {.seen = before->waterline_given && after->waterline_given};
    s.turn = fabs(after->attitude - before->attitude);
    s.reserve = fabs(after->reserve - before->reserve);
    if (s.seen)
        s.rise = fmax(fabs(after->waterline_nose - before->waterline_nose),
                      fabs(after->waterline_tail - before->waterline_tail));
    return s;
}

struct trimmer {
    const struct weighing *w;
    const struct bore_fill *fills;
    struct outcome test, finished; /* as it is */
    struct trial *trials;
    int count;
};

/* Past this a plug is no longer trimmed but another one. */
static bool bearable(const struct trimmer *t, const struct trial *trial) {
    const double most = reference_fact[FACT_TRIM_TURN].value;
    return trial->possible && shift_of(&t->test, &trial->test).turn <= most &&
           shift_of(&t->finished, &trial->finished).turn <= most;
}

/* Whether a move can be seen: on the waterline, or under water by what it leaves in reserve. */
static bool shows(const struct trimmer *t, const struct trial *trial) {
    struct shift s = shift_of(&t->test, &trial->test);
    return s.seen ? s.rise >= reference_fact[FACT_TRIM_LEAST].value
                  : s.reserve >= reference_fact[FACT_RESERVE_STEP].value;
}

static bool too_far(const struct trimmer *t, const struct trial *trial) {
    struct shift s = shift_of(&t->test, &trial->test);
    return !bearable(t, trial) || (s.seen && s.rise > reference_fact[FACT_TRIM_MOST].value);
}

/* The finest step that shows; a coarser one than the finest is taken only if it moves no further
 * than can be followed. */
static double step_of(const struct trimmer *t, int bore) {
    const double heaviest = 0.1; /* kg: no bore is trimmed by more */
    double step = trim_step(t->w->plug->recipe, 0);
    while (step < heaviest) {
        struct trial up = trial_of(t->w, t->fills, bore, step, bore_slug(t->w->plug, bore, step));
        if (!up.possible || shows(t, &up)) break;
        double next = trim_step(t->w->plug->recipe, step * 1.5);
        struct trial more = trial_of(t->w, t->fills, bore, next, bore_slug(t->w->plug, bore, next));
        if (too_far(t, &more)) break;
        step = next;
    }
    return step;
}

static void try_both_ways(struct trimmer *t, int bore, double mass, double height, int piece) {
    for (int sign = 1; sign >= -1; sign -= 2) {
        struct trial trial = trial_of(t->w, t->fills, bore, sign * mass, sign * height);
        trial.piece = piece;
        if (bearable(t, &trial) && t->count < BALLAST_TRIALS) t->trials[t->count++] = trial;
    }
}

/* The pieces that lie on hand, each mass once, the lightest first; as many as the card has room
 * for. */
static void try_pieces(struct trimmer *t, int bore) {
    const struct plug *plug = t->w->plug;
    const struct ballast *ballast = plug->recipe->ballast;
    const double give = reference_ball_give(ballast->material);
    const double widest = ballast->bores[bore].drill + give + 1e-9;
    double last = 0;
    for (int n = 0; n < BALLAST_MOVES; n++) {
        int lightest = -1;
        for (int i = 0; i < ballast->piece_count; i++) {
            const struct piece *piece = &ballast->pieces[i];
            double mass = piece_mass(plug, piece);
            if (mass <= last * (1 + 1e-9) || (piece->ball.given && piece->ball.value > widest))
                continue;
            if (lightest < 0 || mass < piece_mass(plug, &ballast->pieces[lightest])) lightest = i;
        }
        if (lightest < 0) return;
        last = piece_mass(plug, &ballast->pieces[lightest]);
        try_both_ways(t, bore, last, bore_piece_height(plug, bore, &ballast->pieces[lightest]),
                      lightest);
    }
}

int trim_moves(const struct weighing *weighing, const struct bore_fill *fills,
               struct trial trials[BALLAST_TRIALS]) {
    const struct ballast *ballast = weighing->plug->recipe->ballast;
    struct trimmer t = {.w = weighing, .fills = fills, .trials = trials};
    if (!ballast || !ballast->bore_count) return 0;
    t.test = weighing_outcome(weighing, fills, CONDITION_TEST);
    t.finished = weighing_outcome(weighing, fills, CONDITION_FINISHED);
    for (int i = 0; i < ballast->bore_count; i++) {
        double step = ballast->piece_count ? 0 : step_of(&t, i);
        if (ballast->piece_count)
            try_pieces(&t, i);
        else
            try_both_ways(&t, i, step, bore_slug(weighing->plug, i, step), -1);
    }
    return t.count;
}
