/* Every weighing is foretold by the rows of mass that are on the plug at its stage: of wood as of
 * the density that the recipe gives without any body on the scale, which is what a weighed body is
 * then read against.  A figure is known by its kind and name, whichever recipe it stands in.
 */
#include "compute/lesson.h"

#include <math.h>

#include "compute/bench.h"
#include "model/reference.h"
#include "model/workshop.h"

#define TO_SEALED   (unsigned)SEALED_STAGES
#define TO_BALLAST  (TO_SEALED | 1u << STAGE_BALLASTED | 1u << STAGE_FILLED)
#define TO_PAINT    (TO_BALLAST | 1u << STAGE_LIPPED | 1u << STAGE_PAINTED)
#define TO_TOPCOAT  (TO_PAINT | 1u << STAGE_EYED | 1u << STAGE_TOPCOATED)
#define TO_FINISHED (TO_TOPCOAT | 1u << STAGE_RIGGED)

const struct lesson_stage lesson_stages[LESSON_STAGES] = {
    {"blank", 1u << STAGE_SHAPED}, {"hung", TO_SEALED & ~(1u << STAGE_SEALED)},
    {"sealed", TO_SEALED},         {"ballasted", TO_BALLAST},
    {"painted", TO_PAINT},         {"topcoated", TO_TOPCOAT},
    {"finished", TO_FINISHED},
};

enum { BLANK, SHAPING = 0 /* the first figure of every task of masses */, CHUNK = 64 };

struct gatherer {
    struct arena *arena;
    struct lesson_task masses, times;
    struct learn_reading *mass_readings, *time_readings;
    size_t mass_capacity, time_capacity, figure_capacity, minute_capacity;
    size_t plug_capacity, run_capacity;
    int source;         /* whose readings are gathered */
    bool former;        /* that being a version of the past */
    double *capacities; /* greatest displacement of the plug of each reading of mass */
    size_t capacity_capacity;
    int loads_figure;
};

static double fact(enum fact key) {
    return reference_fact[key].value;
}

/* A row that says how often it was weighed may be what was learned from these very plugs: its
 * narrow spread would count them twice, so learning begins with the usual one. */
static double share_of(const struct opt *spread, const struct opt *weighed, enum fact usual) {
    bool own = spread->given && spread->value > 0;
    return own && !(weighed->given && spread->value < fact(usual)) ? spread->value : fact(usual);
}

static double wood_prior(const struct recipe *recipe) {
    const struct wood *wood = recipe->wood;
    const struct workshop *workshop = recipe->workshop;
    if (wood->spread.given && wood->spread.value > 0) return wood->spread.value;
    if (wood->density.given) return fact(FACT_SPREAD_WEIGHED); /* this board alone */
    for (int i = 0; workshop && i < workshop->own_wood_count; i++)
        if (&workshop->woods[i].row == wood->row)
            return share_of(&workshop->woods[i].spread, &workshop->woods[i].weighed,
                            FACT_SPREAD_TABLE);
    return wood->row->spread;
}

/* --- figures --------------------------------------------------------------------------------- */

/* The figure of this kind and name, noted when it is met first; its prior is that of the tables,
 * and the widest of those that are met. */
static int figure_of(struct gatherer *g, struct lesson_task *task, size_t *capacity,
                     enum lesson_kind kind, struct str name, double stands, double prior) {
    for (int i = 0; i < task->task.count; i++) {
        struct lesson_figure *f = &task->figures[i];
        if (f->kind != kind || !str_equal(f->name, name)) continue;
        if (f->lone && f->stands != stands) continue; /* another board */
        f->deviation = fmax(f->deviation, prior);
        return i;
    }
    GROW(g->arena, task->figures, task->task.count, *capacity);
    task->figures[task->task.count] =
        (struct lesson_figure){.kind = kind, .name = name, .stands = stands, .deviation = prior};
    return task->task.count++;
}

static int mass_figure(struct gatherer *g, enum lesson_kind kind, struct str name, double stands,
                       double prior) {
    return figure_of(g, &g->masses, &g->figure_capacity, kind, name, stands, prior);
}

/* What was computed of a version of the past stood on the figure as it was: times this it stands on
 * the figure as it is. */
static double as_now(const struct gatherer *g, int figure, double stood) {
    return g->former ? g->masses.figures[figure].stands / stood : 1;
}

/* --- parts of a mass ------------------------------------------------------------------------- */

/* How a recipe's plug is made up: one part for every row, and one for what does not change. */
struct made {
    const struct recipe *recipe;
    const struct results *results;
    int wood;
    double wood_as_now;
    double wood_scatter, shaping_scatter;
    double loads_scatter; /* of all loads together: each is off by what the scale is */
};

static struct learn_part constant(double amount) {
    return (struct learn_part){.amount = amount};
}

static struct learn_part part(double amount, int figure, double scatter) {
    return (struct learn_part){amount, {{figure, scatter}}, 1};
}

static struct learn_part wooden(const struct made *m, double volume) {
    double density = plug_assumed_density(m->recipe);
    struct learn_part wood = part(volume * density * m->wood_as_now, m->wood, m->wood_scatter);
    wood.of[wood.factor_count++] = (struct learn_factor){SHAPING, m->shaping_scatter};
    return wood;
}

static struct learn_part sealed(struct gatherer *g, const struct made *m, double mass) {
    const struct seal *seal = m->recipe->finish->seal;
    struct str name = seal->name.size ? seal->name : str_of(reference_seal[seal->kind].kind);
    int figure = mass_figure(g, LESSON_SEALER, name, seal->uptake,
                             share_of(&seal->spread, &seal->weighed, FACT_SEAL_DOUBT));
    return part(mass * as_now(g, figure, seal->uptake), figure, fact(FACT_COAT_SCATTER));
}

static struct learn_part coloured(struct gatherer *g, const struct made *m, int number,
                                  double mass) {
    const struct layer *layer = &m->recipe->finish->paint->layers[number - 1];
    double film = layer_colour(m->recipe, layer).film;
    int figure = mass_figure(g, LESSON_PAINT, layer->colour, film,
                             share_of(&layer->spread, &layer->weighed, FACT_FILM_DOUBT));
    return part(mass * as_now(g, figure, film), figure, fact(FACT_COAT_SCATTER));
}

static struct learn_part topcoated(struct gatherer *g, const struct made *m, double mass) {
    const struct topcoat *topcoat = m->recipe->finish->topcoat;
    struct str name =
        topcoat->name.size ? topcoat->name : str_of(reference_topcoat[topcoat->kind].kind);
    int figure = mass_figure(g, LESSON_TOPCOAT, name, topcoat->film,
                             share_of(&topcoat->spread, &topcoat->weighed, FACT_FILM_DOUBT));
    return part(mass * as_now(g, figure, topcoat->film), figure, fact(FACT_COAT_SCATTER));
}

static struct learn_part hooked(struct gatherer *g, const struct made *m, int hanger, double mass) {
    const struct hook *hook = m->results->plug.fittings[FITTING_HANGERS + hanger - 1].fitting->hook;
    const char *name =
        arena_printf(g->arena, "%s %.*s", hook->kind == HOOK_TREBLE ? "treble" : "single",
                     (int)hook->size.size, hook->size.data);
    int figure = mass_figure(g, LESSON_HOOK, str_of(name), hook_mass(hook),
                             share_of(&hook->spread, &hook->weighed, FACT_HOOK_DOUBT));
    return part(mass * as_now(g, figure, hook_mass(hook)), figure, fact(FACT_HOOK_SCATTER));
}

static struct learn_part part_of_row(struct gatherer *g, const struct made *m,
                                     const struct mass_row *row) {
    switch (row->item.key) {
    case NAME_WOOD:
        return wooden(m, row->mass / m->results->plug.wood_density);
    case NAME_SEALER:
        return sealed(g, m, row->mass);
    case NAME_COLOUR:
        return coloured(g, m, row->item.number, row->mass);
    case NAME_TOPCOAT:
        return topcoated(g, m, row->mass);
    case NAME_HOOK:
        return hooked(g, m, row->item.number, row->mass);
    case NAME_LOAD:
        return part(row->mass, g->loads_figure, m->loads_scatter);
    default:
        return constant(row->mass);
    }
}

/* --- readings -------------------------------------------------------------------------------- */

static void add_reading(struct gatherer *g, const struct made *m, double value, double doubt,
                        const struct learn_part *parts, int count) {
    int at = g->masses.task.reading_count++;
    GROW(g->arena, g->mass_readings, at, g->mass_capacity);
    GROW(g->arena, g->capacities, at, g->capacity_capacity);
    g->mass_readings[at] = (struct learn_reading){g->masses.plugs, value, doubt, parts, count};
    g->capacities[at] = m->results->finished.rest.capacity;
}

static struct learn_part *parts_at(struct gatherer *g, const struct made *m, unsigned stages,
                                   int *count) {
    const struct mass_list *masses = &m->results->masses;
    struct learn_part *parts = NEW(g->arena, struct learn_part, masses->count + 3);
    *count = 0;
    for (int i = 0; i < masses->count; i++)
        if (stages & 1u << masses->rows[i].stage)
            parts[(*count)++] = part_of_row(g, m, &masses->rows[i]);
    return parts;
}

/* What a plug should weigh at a stage; the body is weighed before its bores. */
static struct learn_part *parts_of(struct gatherer *g, const struct made *m, int stage,
                                   int *count) {
    if (stage != BLANK) return parts_at(g, m, lesson_stages[stage].stages, count);
    struct learn_part *parts = NEW(g->arena, struct learn_part, 1);
    parts[0] = wooden(m, m->results->plug.shaped);
    *count = 1;
    return parts;
}

/* Where several bodies were weighed each plug has loads of its own (compute/ballast/spread.h): by
 * so much the loads of plug `plug`, from 0, are more than those that the rows have. */
static double own_loads(const struct made *m, int plug) {
    const struct ballast_result *ballast = &m->results->ballast;
    double more = 0;
    for (int k = 0; k < ballast->by_blank_count; k++) {
        const struct spread_case *own = &ballast->by_blank[k];
        for (int i = 0; own->plug == plug + 1 && i < ballast->bore_count; i++)
            if (ballast->fills[i].solved && own->fits[i])
                more +=
                    axis_count(&ballast->fills[i].axis) * (own->load[i] - ballast->fills[i].load);
    }
    return more;
}

/* The waterline of the first plug weighs it too: it is off by what was displaced less what it
 * weighs, which a body of another volume shifts. */
static void add_waterline(struct gatherer *g, const struct made *m) {
    const struct condition *test = &m->results->test;
    const struct waterline *read = m->recipe->measured->waterline;
    double doubt;
    int count;
    if (!read || !test->waterline_given) return;
    unsigned stages = 0;
    for (int i = 0; i < STAGE_COUNT; i++)
        if (stage_counts((enum stage)i, CONDITION_TEST)) stages |= 1u << i;
    const struct plug *plug = &m->results->plug;
    double displaced =
        correction_mass_afloat(plug, waterline_read(plug, read), test->burden.hung_volume, &doubt);
    double of_body = displaced - plug->water * test->burden.hung_volume;
    struct learn_part *parts = parts_at(g, m, stages, &count);
    parts[count++] = part(-of_body, SHAPING, m->shaping_scatter);
    parts[count++] = constant(of_body + own_loads(m, 0));
    add_reading(g, m, displaced, doubt, parts, count);
}

static bool counts_elsewhere(const struct weighing_repeats *repeats, int plug) {
    return repeats && plug < repeats->plug_count && repeats->plugs[plug];
}

static void add_plugs(struct gatherer *g, const struct made *m,
                      const struct weighing_repeats *repeats) {
    const struct measured *measured = m->recipe->measured;
    for (int plug = 0; plug < MAX_RUN; plug++) {
        if (counts_elsewhere(repeats, plug)) continue;
        int before = g->masses.task.reading_count;
        if (plug == 0) add_waterline(g, m);
        for (int stage = 0; stage < LESSON_STAGES; stage++) {
            struct weighing_list list = weighing_at(measured, stage);
            int count;
            if (plug >= list.count) continue;
            struct learn_part *parts = parts_of(g, m, stage, &count);
            if (lesson_stages[stage].stages & 1u << STAGE_BALLASTED)
                parts[count++] = constant(own_loads(m, plug));
            add_reading(g, m, list.values[plug], fact(FACT_BALANCE_DOUBT), parts, count);
        }
        if (g->masses.task.reading_count == before) {
            if (plug) return;
            continue;
        }
        GROW(g->arena, g->masses.sources, g->masses.plugs, g->plug_capacity);
        g->masses.sources[g->masses.plugs++] = (struct lesson_plug){g->source, plug + 1};
    }
}

/* What the run as planned takes with that operation, hands on. */
static double planned(const struct results *results, struct str id) {
    double sum = 0;
    for (int i = 0; i < results->run.count; i++) {
        const struct run_step *step = &results->run.steps[i];
        if (str_is(id, results->run.route.operations[step->operation].id))
            sum += (double)step->hands_on;
    }
    return sum;
}

static void add_times(struct gatherer *g, const struct made *m,
                      const struct weighing_repeats *repeats) {
    const struct measured *measured = m->recipe->measured;
    for (int i = 0; i < measured->timing_count; i++) {
        const struct timing *timing = &measured->minutes[i];
        if (repeats && repeats->minutes[i]) continue;
        double expected = planned(m->results, timing->step);
        if (!(expected > 0)) continue; /* a step that is said to take no time has no ratio */
        struct learn_part *parts = NEW(g->arena, struct learn_part, 1);
        int figure = figure_of(g, &g->times, &g->minute_capacity, LESSON_TIME, timing->step, 1,
                               fact(FACT_TIME_DOUBT));
        parts[0] = part(expected, figure, fact(FACT_TIME_SCATTER));
        int at = g->times.task.reading_count++;
        GROW(g->arena, g->time_readings, at, g->time_capacity);
        g->time_readings[at] =
            (struct learn_reading){g->times.plugs, timing->took, fact(FACT_CLOCK_DOUBT), parts, 1};
        GROW(g->arena, g->times.sources, g->times.plugs, g->run_capacity);
        g->times.sources[g->times.plugs++] = (struct lesson_plug){g->source, 0};
    }
}

static double loads_scatter(const struct mass_list *masses) {
    double sum = 0;
    int loads = 0;
    for (int i = 0; i < masses->count; i++) {
        if (masses->rows[i].item.key != NAME_LOAD) continue;
        sum += masses->rows[i].mass;
        loads++;
    }
    return sum > 0 ? fact(FACT_BALANCE_DOUBT) * sqrt(loads) / sum : 0;
}

static struct made made_of(struct gatherer *g, const struct recipe *recipe,
                           const struct results *results) {
    const struct wood *wood = recipe->wood;
    struct made m = {.recipe = recipe, .results = results};
    bool weighed = wood->density.given; /* this board alone, not all of its kind */
    const char *name = weighed ? arena_printf(g->arena, "%s, the board of %.*s", wood->row->name,
                                              (int)recipe->name.size, recipe->name.data)
                               : wood->row->name;
    m.wood =
        mass_figure(g, LESSON_WOOD, str_of(name), plug_assumed_density(recipe), wood_prior(recipe));
    struct lesson_figure *figure = &g->masses.figures[m.wood];
    if (!figure->row) {
        figure->row = wood->row;
        figure->moisture = fmax(wood->moisture, 1e-9);
    }
    figure->lone = weighed;
    m.wood_as_now = g->former && !weighed ? reference_wood_density(figure->row, wood->moisture) /
                                                plug_assumed_density(recipe)
                                          : 1;
    m.wood_scatter = fact(FACT_WOOD_SCATTER);
    m.shaping_scatter =
        fact(FACT_SHAPING_SKIN) * results->plug.bare.surface / results->plug.bare.volume;
    m.loads_scatter = loads_scatter(&results->masses);
    return m;
}

/* --- what follows ---------------------------------------------------------------------------- */

static void estimate(struct gatherer *g, struct lesson_task *task,
                     const struct learn_reading *readings) {
    int n = task->task.count;
    double *prior = NEW(g->arena, double, n);
    for (int i = 0; i < n; i++) prior[i] = task->figures[i].deviation;
    task->task.prior = prior;
    task->task.readings = readings;
    task->estimate = learn_estimate_of(g->arena, &task->task);
    for (int i = 0; i < n; i++) {
        task->figures[i].mean = task->estimate.mean[i];
        task->figures[i].deviation = task->estimate.deviation[i];
        task->figures[i].prior_share = task->estimate.prior_share[i];
        task->figures[i].readings = task->estimate.readings[i];
    }
}

/* Squares of what the last readings are off, with a figure and with what stands in its place. */
struct proof {
    double with, without;
};

static void prove(struct proof *proofs, const struct learn_reading *reading, double *mean, int n) {
    double with = reading->value - learn_predict(reading, mean);
    for (int j = 0; j < n; j++) {
        if (!learn_bears(reading, j)) continue;
        double own = mean[j];
        mean[j] = 0;
        double without = reading->value - learn_predict(reading, mean);
        mean[j] = own;
        proofs[j].with += with * with;
        proofs[j].without += without * without;
    }
}

/* Each plug is foretold by the others; of its readings the last counts.  `unit` is what an error is
 * a share of, for the second pair of figures. */
static struct lesson_trial trial_of(struct gatherer *g, const struct lesson_task *task,
                                    const double *unit) {
    struct lesson_trial trial = {.plugs = task->plugs};
    const struct learn_reading *readings = task->task.readings;
    int n = task->task.count;
    double *means = NEW(g->arena, double, task->plugs *n), *none = NEW(g->arena, double, n);
    struct proof *proofs = NEW(g->arena, struct proof, n);
    if (!task->plugs) return trial;
    learn_leave_out(g->arena, &task->task, &task->estimate, means);
    for (int i = 0, plug = 0; i < task->task.reading_count; i++) {
        bool last = i + 1 == task->task.reading_count || readings[i + 1].plug != readings[i].plug;
        if (!last) continue;
        double before = readings[i].value - learn_predict(&readings[i], none);
        double after = readings[i].value - learn_predict(&readings[i], means + (ptrdiff_t)plug * n);
        trial.before += before * before;
        trial.after += after * after;
        trial.reserve_before += pow(before / unit[i], 2);
        trial.reserve_after += pow(after / unit[i], 2);
        prove(proofs, &readings[i], means + (ptrdiff_t)plug * n, n);
        plug++;
    }
    for (int j = 0; j < n && trial.plugs > 1; j++)
        task->figures[j].improves = proofs[j].with < proofs[j].without;
    trial.before = sqrt(trial.before / trial.plugs);
    trial.after = sqrt(trial.after / trial.plugs);
    trial.reserve_before = sqrt(trial.reserve_before / trial.plugs);
    trial.reserve_after = sqrt(trial.reserve_after / trial.plugs);
    return trial;
}

static double dot(const double *x, const double *y, int n) {
    double sum = 0;
    for (int i = 0; i < n; i++) sum += x[i] * y[i];
    return sum;
}

/* y = C x */
static void spread_by(const struct learn_estimate *e, int n, const double *x, double *y) {
    for (int i = 0; i < n; i++) y[i] = dot(e->covariance + (ptrdiff_t)i * n, x, n);
}

struct seeker {
    struct gatherer *g;
    const struct made *made;
    int count;
    double *reserves; /* slopes of each recipe's reserve, a row each */
    double *joint;    /* covariance of the unknowns with what is weighed */
};

static struct learn_reading foretold(struct gatherer *g, const struct made *m, int stage) {
    struct learn_reading r = {.doubt = fact(FACT_BALANCE_DOUBT)};
    r.parts = parts_of(g, m, stage, &r.part_count);
    return r;
}

/* Sum of the variances of all reserves. */
static double doubt_of(const struct seeker *s) {
    int n = s->g->masses.task.count;
    double sum = 0;
    for (int i = 0; i < s->count; i++) {
        const double *reserve = s->reserves + (ptrdiff_t)i * n;
        spread_by(&s->g->masses.estimate, n, reserve, s->joint);
        sum += dot(reserve, s->joint, n);
    }
    return sum;
}

/* What a weighing with these slopes, and this variance of its own, would take off that. */
static double gain_by(const struct seeker *s, const double *slopes, double variance) {
    int n = s->g->masses.task.count;
    double gain = 0;
    spread_by(&s->g->masses.estimate, n, slopes, s->joint);
    double own = dot(slopes, s->joint, n) + variance;
    for (int i = 0; i < s->count; i++)
        gain += pow(dot(s->reserves + (ptrdiff_t)i * n, s->joint, n), 2) / own;
    return gain;
}

static struct lesson_next next_of(struct gatherer *g, const struct made *made, int count) {
    const struct lesson_task *task = &g->masses;
    int n = task->task.count;
    double *slopes = NEW(g->arena, double, n);
    struct seeker s = {g, made, count, NEW(g->arena, double, count *n), NEW(g->arena, double, n)};
    struct lesson_next next = {0};
    for (int i = 0; i < count; i++) {
        struct learn_reading whole = foretold(g, &made[i], LESSON_STAGES - 1);
        learn_slopes(&task->task, &whole, task->estimate.mean, 1, s.reserves + (ptrdiff_t)i * n);
        for (int j = 0; j < n; j++)
            s.reserves[i * n + j] /= made[i].results->finished.rest.capacity;
    }
    double before = doubt_of(&s), most = 0;
    for (int i = 0; i < count; i++)
        for (int stage = 0; stage < LESSON_STAGES; stage++) {
            struct learn_reading r = foretold(g, &made[i], stage);
            double variance =
                learn_slopes(&task->task, &r, task->estimate.mean, task->estimate.scatter, slopes);
            double gain = gain_by(&s, slopes, variance + r.doubt * r.doubt);
            if (gain <= most) continue;
            most = gain;
            next = (struct lesson_next){true, i, stage, sqrt(before / count),
                                        sqrt(fmax(before - gain, 0) / count)};
        }
    return next;
}

struct lesson lesson_of(struct arena *arena, const struct lesson_source *sources, int count,
                        int current) {
    struct gatherer g = {.arena = arena};
    struct lesson lesson = {0};
    struct made *made = NEW(arena, struct made, count);
    mass_figure(&g, LESSON_SHAPING, str_of("bodies"), 1, fact(FACT_SHAPING_DOUBT));
    g.loads_figure = mass_figure(&g, LESSON_LOADS, str_of("loads"), 1, 1e-3);
    for (int i = 0; i < count; i++) {
        int rows;
        g.source = i;
        g.former = sources[i].date != NULL;
        made[i] = made_of(&g, sources[i].recipe, sources[i].results);
        parts_of(&g, &made[i], LESSON_STAGES - 1, &rows); /* its figures are known from here on */
        if (!sources[i].recipe->measured) continue;
        add_plugs(&g, &made[i], sources[i].repeats);
        add_times(&g, &made[i], sources[i].repeats);
    }
    lesson.too_many = g.masses.task.count + g.times.task.count > LESSON_MOST_FIGURES;
    if (lesson.too_many) return lesson;
    estimate(&g, &g.masses, g.mass_readings);
    estimate(&g, &g.times, g.time_readings);
    lesson.mass_trial = trial_of(&g, &g.masses, g.capacities);
    double *expected = NEW(arena, double, g.times.task.reading_count);
    for (int i = 0; i < g.times.task.reading_count; i++) expected[i] = g.time_readings[i].value;
    lesson.time_trial = trial_of(&g, &g.times, expected);
    lesson.next = next_of(&g, made, current);
    lesson.masses = g.masses;
    lesson.times = g.times;
    return lesson;
}

/* --- single plugs ---------------------------------------------------------------------------- */

static void claims_of(struct arena *arena, struct lesson_task *task) {
    task->claims = learn_claims(arena, &task->task, &task->estimate, &task->claim_count);
}

void lesson_claims(struct arena *arena, struct lesson *lesson) {
    claims_of(arena, &lesson->masses);
    claims_of(arena, &lesson->times);
}

/* Drops the claim that says least. */
static void drop_weakest(struct lesson_points *points) {
    int weakest = 0;
    for (int i = 1; i < points->count; i++)
        if (points->claims[i]->deviation > points->claims[weakest]->deviation) weakest = i;
    points->count--;
    points->more++;
    for (int i = weakest; i < points->count; i++) points->claims[i] = points->claims[i + 1];
}

struct lesson_points lesson_points_of(struct arena *arena, const struct lesson_task *task,
                                      int figure) {
    struct lesson_points points = {.claims =
                                       NEW(arena, const struct learn_claim *, LESSON_POINTS + 1)};
    for (int i = 0; i < task->claim_count; i++) {
        const struct learn_claim *claim = &task->claims[i];
        if (claim->unknown != figure) continue;
        if (claim->deviation > 2 * task->task.prior[figure]) {
            points.weaker++;
            continue;
        }
        points.claims[points.count++] = claim;
        if (points.count > LESSON_POINTS) drop_weakest(&points);
    }
    return points;
}
