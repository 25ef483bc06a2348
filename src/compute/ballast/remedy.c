/* Each remedy is tried alone, by solving a changed recipe anew: lighter wood, lighter hooks, fewer
 * coats, one bore moved.  Only asked for when the aim is out of reach, so thoroughness is cheap. */
#include "compute/ballast/remedy.h"

#include <math.h>

#include "model/reference.h"

/* A recipe with the parts copied that a remedy changes. */
struct variant {
    struct recipe recipe;
    struct ballast ballast;
    struct bore bores[MAX_BORES];
    struct hardware hardware;
    struct fitting hangers[MAX_HANGERS];
    struct finish finish;
    struct topcoat topcoat;
};

static struct variant *variant_of(struct arena *arena, const struct recipe *recipe) {
    struct variant *v = NEW(arena, struct variant, 1);
    v->recipe = *recipe;
    v->ballast = *recipe->ballast;
    for (int i = 0; i < v->ballast.bore_count; i++) v->bores[i] = recipe->ballast->bores[i];
    v->ballast.bores = v->bores;
    v->recipe.ballast = &v->ballast;
    v->hardware = *recipe->hardware;
    for (int i = 0; i < v->hardware.hanger_count; i++) v->hangers[i] = recipe->hardware->hangers[i];
    v->hardware.hangers = v->hangers;
    v->recipe.hardware = &v->hardware;
    if (recipe->finish) {
        v->finish = *recipe->finish;
        v->recipe.finish = &v->finish;
        if (v->finish.topcoat) {
            v->topcoat = *v->finish.topcoat;
            v->finish.topcoat = &v->topcoat;
        }
    }
    return v;
}

static bool reachable(struct arena *arena, const struct plug *plug) {
    long evaluations = 0;
    struct weighing w = weighing_of(arena, plug, &evaluations);
    struct bore_fill fills[MAX_BORES] = {0};
    for (int i = 0; i < plug->recipe->ballast->bore_count; i++) fills[i] = bore_as_written(plug, i);
    return solve_loads(&w, fills).status == SOLVE_FOUND;
}

/* The densest wood that reaches the aim, in whole kg/m3, as far down as it is worth looking for. */
static double lighter_wood(struct arena *arena, const struct plug *plug) {
    const double lightest = reference_fact[FACT_LIGHT_WOOD].value;
    struct plug trial = plug_with_wood(plug, lightest);
    if (!reachable(arena, &trial)) return 0;
    double low = lightest, high = plug->wood_density;
    while (high - low > 0.5) {
        double middle = (low + high) / 2;
        trial = plug_with_wood(plug, middle);
        if (reachable(arena, &trial))
            low = middle;
        else
            high = middle;
    }
    return floor(low);
}

static int fewer_coats(struct arena *arena, const struct plug *plug) {
    struct variant *v = variant_of(arena, plug->recipe);
    if (!v->finish.topcoat) return 0;
    for (int less = 1; less < plug->recipe->finish->topcoat->coats; less++) {
        v->topcoat.coats = plug->recipe->finish->topcoat->coats - less;
        struct plug trial = plug_of(arena, &v->recipe);
        if (reachable(arena, &trial)) return less;
    }
    return 0;
}

/* The hangers with all hooks and rings lighter by the same share. */
static void lighten(struct arena *arena, struct variant *v, const struct hardware *was,
                    double share) {
    for (int i = 0; i < was->hanger_count; i++) {
        struct fitting *hanger = &v->hangers[i];
        *hanger = was->hangers[i];
        if (hanger->hook) {
            hanger->hook = NEW(arena, struct hook, 1);
            hanger->hook->count = was->hangers[i].hook->count;
            hanger->hook->mass = (struct opt){(1 - share) * hook_mass(was->hangers[i].hook), true};
        }
        const struct ring *ring = hanger->ring;
        if (ring) {
            hanger->ring = NEW(arena, struct ring, 1);
            hanger->ring->mass = (struct opt){(1 - share) * ring_mass(ring), true};
        }
    }
}

double remedy_hooks(const struct hardware *hardware) {
    double all = 0;
    for (int i = 0; i < hardware->hanger_count; i++) {
        const struct fitting *hanger = &hardware->hangers[i];
        if (hanger->hook) all += hooks_mass(hanger->hook);
        if (hanger->ring) all += ring_mass(hanger->ring);
    }
    return all;
}

/* How much less all of them together have to weigh, as closely as a balance tells. */
static double lighter_hooks(struct arena *arena, const struct plug *plug) {
    const double most = reference_fact[FACT_LIGHTER_HOOKS].value;
    const double told = reference_fact[FACT_BALANCE_DOUBT].value;
    const struct hardware *was = plug->recipe->hardware;
    struct variant *v = variant_of(arena, plug->recipe);
    double all = remedy_hooks(was), low = 0, high = most;
    struct plug trial = plug_with_recipe(plug, &v->recipe);
    lighten(arena, v, was, most);
    if (all <= 0 || !reachable(arena, &trial)) return 0;
    while ((high - low) * all > told / 10) {
        double middle = (low + high) / 2;
        lighten(arena, v, was, middle);
        if (reachable(arena, &trial))
            high = middle;
        else
            low = middle;
    }
    return ceil(high * all / told) * told;
}

/* Keeps the nearest places; of two that are as near the first that came. */
static void keep_place(struct remedy *remedy, struct remedy_place place) {
    int i = remedy->place_count;
    if (i == REMEDY_PLACES && remedy->places[i - 1].moved <= place.moved) return;
    if (i < REMEDY_PLACES)
        remedy->place_count++;
    else
        i--;
    for (; i > 0 && remedy->places[i - 1].moved > place.moved; i--)
        remedy->places[i] = remedy->places[i - 1];
    remedy->places[i] = place;
}

/* Places from which one of the solved bores reaches the aim. */
static void move_bore(struct arena *arena, const struct plug *plug, struct remedy *remedy) {
    enum { PLACES = 100 };
    double length = plug->outline.length;
    struct variant *v = variant_of(arena, plug->recipe);
    for (int bore = 0; bore < v->ballast.bore_count; bore++) {
        if (!v->bores[bore].solve || !v->bores[bore].at.given) continue;
        struct position was = v->bores[bore].at;
        for (int i = 1; i < PLACES; i++) {
            double at = round(length * i / PLACES * 1e4) / 1e4;
            v->bores[bore].at = (struct position){at, false, true};
            struct plug trial = plug_with_recipe(plug, &v->recipe);
            if (reachable(arena, &trial))
                keep_place(remedy,
                           (struct remedy_place){bore, at, fabs(at - position_in(was, length))});
        }
        v->bores[bore].at = was;
    }
}

struct remedy remedy_of(struct arena *arena, const struct plug *plug) {
    struct remedy remedy = {.place_count = 0};
    remedy.wood_density = lighter_wood(arena, plug);
    remedy.fewer_coats = fewer_coats(arena, plug);
    remedy.lighter_hooks = lighter_hooks(arena, plug);
    move_bore(arena, plug, &remedy);
    return remedy;
}
