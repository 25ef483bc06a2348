/* Each doubt is the change of the reserve 1 - M/C by one standard deviation of its cause, M being
 * the mass and C the greatest displacement; they do not depend on each other, so squares add up. */
#include "compute/plug/budget.h"

#include <math.h>

#include "model/reference.h"

static double fact(enum fact key) {
    return reference_fact[key].value;
}

static double stages_mass(const struct mass_list *masses, unsigned stages) {
    return mass_tally(masses, stages).mass;
}

/* Of a figure with a spread of its own, that; else the trade's. */
static double share_of(const struct opt *spread, enum fact usual) {
    return spread->given ? spread->value : fact(usual);
}

/* Hooks by the table; those that were weighed are as good as their spread, or as the scale. */
static double hooks_doubt(const struct plug *plug) {
    double squares = 0;
    for (int i = 0; i < plug->fitting_count; i++) {
        const struct hook *hook = plug->fittings[i].fitting->hook;
        if (!hook) continue;
        bool by_scale = hook->mass.given && !hook->spread.given;
        double doubt = by_scale ? fmin(fact(FACT_BALANCE_DOUBT), hook->mass.value)
                                : share_of(&hook->spread, FACT_HOOK_DOUBT) * hook_mass(hook);
        doubt *= hook->count; /* alike, and wrong alike */
        squares += doubt * doubt;
    }
    return sqrt(squares);
}

/* Films without a spread of their own are thick or thin alike; of the others each is by itself. */
struct films {
    double water, surface; /* that a metre of film displaces, kg, less the share that floats */
    double alike, squares; /* kg */
};

/* A thicker film weighs more and displaces more. */
static void add_film(struct films *films, const struct opt *spread, double thickness,
                     double density) {
    double net = thickness * (films->surface * density - films->water);
    if (!spread->given)
        films->alike += net;
    else
        films->squares += spread->value * net * spread->value * net;
}

static double films_doubt(const struct plug *plug, const struct condition *finished) {
    const struct recipe *recipe = plug->recipe;
    const struct paint *paint = recipe->finish ? recipe->finish->paint : NULL;
    const struct topcoat *topcoat = recipe->finish ? recipe->finish->topcoat : NULL;
    double all = topcoat ? topcoat->film * topcoat->coats : 0;
    for (int i = 0; paint && i < paint->layer_count; i++)
        all += layer_thickness(recipe, &paint->layers[i]);
    if (!(all > 0)) return 0;
    double volume = plug->finished_hull.volume - plug->bare_hull.volume;
    struct films films = {.water = plug->water * (1 - finished->rest.reserve) * volume / all,
                          .surface = plug->bare.surface};
    for (int i = 0; paint && i < paint->layer_count; i++) {
        const struct layer *layer = &paint->layers[i];
        add_film(&films, &layer->spread, layer_thickness(recipe, layer),
                 layer_colour(recipe, layer).density);
    }
    if (topcoat)
        add_film(&films, &topcoat->spread, topcoat->film * topcoat->coats, topcoat->density);
    double alike = fact(FACT_FILM_DOUBT) * films.alike;
    return sqrt(alike * alike + films.squares) / finished->rest.capacity;
}

/* Half a millimetre of a rule, over the waterplane of the float test. */
static double reading_doubt(const struct plug *plug, const struct condition *test) {
    if (!test->waterline_given) return fact(FACT_BALANCE_DOUBT) / test->rest.capacity;
    double angle = test->rest.attitude;
    struct plane plane = {
        .sine = sin(angle), .cosine = cos(angle), .q = 1, .level = test->rest.level};
    struct hull_part part = hull_below(&plug->bare_hull, &plane, HULL_FINE);
    return plug->water * part.area * fact(FACT_RULE_DOUBT) / test->rest.capacity;
}

static double seal_doubt(const struct recipe *recipe, const struct mass_list *masses) {
    const struct seal *seal = recipe->finish ? recipe->finish->seal : NULL;
    if (!seal) return 0;
    return share_of(&seal->spread, FACT_SEAL_DOUBT) * stages_mass(masses, 1u << STAGE_SEALED);
}

/* How many loads are weighed. */
static int loads_of(const struct recipe *recipe) {
    const struct ballast *ballast = recipe->ballast;
    int count = 0;
    for (int i = 0; ballast && i < ballast->bore_count; i++)
        count += side_is_pair(ballast->bores[i].from) ? 2 : 1;
    return count;
}

struct budget budget_of(const struct plug *plug, const struct mass_list *masses,
                        const struct condition *test, const struct condition *finished,
                        double spread) {
    struct budget b = {.built = 0};
    double capacity = finished->rest.capacity;
    if (!(capacity > 0)) return b;
    b.part[DOUBT_WOOD] = spread * mass_find(masses, NAME_WOOD)->mass / capacity;
    b.part[DOUBT_LOADS] = fact(FACT_BALANCE_DOUBT) * sqrt(loads_of(plug->recipe)) / capacity;
    b.part[DOUBT_SEALER] = seal_doubt(plug->recipe, masses) / capacity;
    b.part[DOUBT_HOOKS] = hooks_doubt(plug) / capacity;
    b.part[DOUBT_FILMS] = films_doubt(plug, finished);
    b.part[DOUBT_READING] = reading_doubt(plug, test);
    for (int i = 0; i < DOUBT_READING; i++) b.built += b.part[i] * b.part[i];
    b.built = sqrt(b.built);
    b.trimmed = hypot(b.part[DOUBT_FILMS], b.part[DOUBT_READING]);
    return b;
}

/* --- the last trim ---------------------------------------------------------------------------- */

/* The finished plug with a mass of steel more at a hanger, or less. */
static struct condition with_more(const struct plug *plug, const struct condition *finished,
                                  int fitting, double change) {
    struct burden burden = finished->burden;
    const struct fitted *at = &plug->fittings[fitting];
    double volume = change / fact(FACT_HOOK_DENSITY), hung = burden.hung_volume + volume;
    struct tally sum = {0}, outside = {0};
    tally_add(&sum, burden.mass, burden.x, burden.z);
    tally_add(&sum, change, at->eye_x, at->eye_z);
    tally_add(&outside, burden.hung_volume, burden.hung_x, burden.hung_z);
    tally_add(&outside, volume, at->eye_x, at->eye_z);
    burden = (struct burden){.mass = sum.mass,
                             .x = sum.x / sum.mass,
                             .z = sum.z / sum.mass,
                             .hung_volume = hung,
                             .hung_x = hung > 0 ? outside.x / hung : 0,
                             .hung_z = hung > 0 ? outside.z / hung : 0};
    return condition_of(plug, &burden, CONDITION_FINISHED, finished->ballast_mass);
}

/* The row next in mass to one of the table, of the same kind; NULL at its end. */
static const struct hook_row *next_size(const struct hook_row *row, bool heavier) {
    const struct hook_row *next = NULL;
    for (int i = 0; i < reference_hook_count; i++) {
        const struct hook_row *other = &reference_hook[i];
        if (other->kind != row->kind) continue;
        if (heavier ? other->mass <= row->mass : other->mass >= row->mass) continue;
        if (!next || (heavier ? other->mass < next->mass : other->mass > next->mass)) next = other;
    }
    return next;
}

int swaps_of(const struct plug *plug, const struct condition *finished,
             struct swap swaps[MAX_SWAPS]) {
    int count = 0;
    for (int i = FITTING_HANGERS; i < plug->fitting_count; i++) {
        const struct fitting *hanger = plug->fittings[i].fitting;
        const struct hook *hook = hanger->hook;
        const struct hook_row *row = hook ? reference_hook_of((int)hook->kind, hook->size) : NULL;
        for (int heavier = 1; row && heavier >= 0; heavier--) {
            const struct hook_row *next = next_size(row, heavier);
            if (!next) continue;
            double change = hook->count * (next->mass - hook_mass(hook));
            if ((change > 0) != heavier) continue; /* its own hook is not the table's */
            swaps[count++] = (struct swap){
                SWAP_HOOK, i, row->size, next->size, change, with_more(plug, finished, i, change)};
        }
        if (hanger->ring)
            swaps[count++] = (struct swap){SWAP_RING,
                                           i,
                                           NULL,
                                           NULL,
                                           ring_mass(hanger->ring),
                                           with_more(plug, finished, i, ring_mass(hanger->ring))};
    }
    return count;
}
