#include "compute/implied.h"

#include "model/reference.h"

struct teller {
    const struct results *r;
    const struct recipe *recipe;
    struct implied *items;
    int count;
};

/* Wood twice, metal, the tie's two, eyes; three a hanger; layers; heights and pieces of bores;
 * heights and fillers of chambers. */
enum {
    MOST = 8 + 5 * MAX_HANGERS + MAX_EXTRAS + MAX_LAYERS + MAX_BORES * (1 + MAX_LOAD_PIECES) +
           2 * MAX_CHAMBERS
};

static void tell(struct teller *t, const struct opt *member, double value) {
    if (!member->given) t->items[t->count++] = (struct implied){member, value};
}

static void tell_stock(struct teller *t) {
    struct ballast *ballast = t->recipe->ballast;
    tell(t, &t->recipe->wood->density, t->r->plug.wood_density);
    tell(t, &t->recipe->wood->spread, t->r->ballast.spread);
    if (!ballast) return;
    tell(t, &ballast->density, t->r->plug.ballast_density);
    for (int i = 0; i < ballast->bore_count; i++) {
        const struct bore *bore = &ballast->bores[i];
        if (bore->from != SIDE_BELLY && bore->from != SIDE_BACK) tell(t, &bore->up, 0);
        for (int k = 0; k < ballast->bores[i].load_count; k++)
            tell(t, &ballast->bores[i].load[k].count, 1);
    }
}

static void tell_chambers(struct teller *t) {
    for (int i = 0; i < t->recipe->chamber_count; i++) {
        const struct chamber *c = &t->recipe->chambers[i];
        if (c->from != SIDE_BELLY && c->from != SIDE_BACK) tell(t, &c->up, 0);
        if (c->closing == STOPPER_FILLER)
            tell(t, &c->filler, reference_fact[FACT_CHAMBER_FILLER].value);
    }
}

static void tell_fittings(struct teller *t) {
    for (int i = 0; i < t->r->plug.fitting_count; i++) {
        const struct fitting *fitting = t->r->plug.fittings[i].fitting;
        const struct pilot *pilot = &t->r->plug.fittings[i].pilot;
        const struct hook *hook = fitting->hook;
        const struct hook_row *row = hook ? reference_hook_of((int)hook->kind, hook->size) : NULL;
        if (pilot_bored(pilot)) {
            if (!fitting->screw && !t->recipe->hardware->through)
                tell(t, &fitting->depth, pilot->depth);
            tell(t, &fitting->pilot, pilot->diameter);
        }
        if (fitting->ring) tell(t, &fitting->ring->mass, ring_mass(fitting->ring));
        if (row) tell(t, &hook->mass, row->mass);
        if (hook) tell(t, &hook->length, hook_length(hook));
    }
}

static void tell_extras(struct teller *t) {
    for (int i = 0; i < t->recipe->extra_count; i++) {
        const struct extra *extra = &t->recipe->extras[i];
        tell(t, &extra->volume, extra->mass / reference_fact[FACT_HOOK_DENSITY].value);
    }
}

static void tell_finish(struct teller *t) {
    const struct finish *finish = t->recipe->finish;
    const struct paint *paint = finish ? finish->paint : NULL;
    for (int i = 0; i < t->r->masses.count; i++) /* two eyes make one row */
        if (t->r->masses.rows[i].stage == STAGE_EYED)
            tell(t, &t->recipe->eyes->mass, t->r->masses.rows[i].mass / 2);
    for (int i = 0; paint && i < paint->layer_count; i++)
        tell(t, &paint->layers[i].cover, layer_cover(&paint->layers[i]));
}

struct implied_list implied_values(struct arena *arena, const struct results *results) {
    struct teller t = {.r = results, .recipe = results->plug.recipe};
    t.items = NEW(arena, struct implied, MOST);
    tell_stock(&t);
    tell_chambers(&t);
    tell_fittings(&t);
    tell_extras(&t);
    tell_finish(&t);
    return (struct implied_list){t.items, t.count};
}
