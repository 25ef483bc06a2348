/* A route is written in four passes: the operations that the recipe needs, and what its own steps
 * make of them (draft.c); the links, in the order of their weight, each refused where it would
 * close a loop with weightier ones; the sorting.
 *
 * Since rules go in first, an order of the recipe's own that a rule forbids is found when it closes
 * the loop, and the shortest chain of links against it holds the reason.  Habits go in after it and
 * yield without a word.  The closure of the order is kept as bits (sequence.c), so that thousands
 * of links cost no more than so many small updates.
 */
#include "compute/work/route.h"

#include "base/buf.h"
#include "compute/work/draft.h"
#include "model/reference.h"

#define REASON(key, reason) static const char reason_##key[] = reason;
#include "route.def"

static struct span place(const struct draft *draft, const void *member) {
    return recipe_place(draft->recipe, member);
}

/* --- Links --- */

static int *link_at(const struct draft *draft, int before, int after) {
    return &draft->link_at[(size_t)before * (size_t)draft->count + (size_t)after];
}

static struct precedence *link_between(const struct draft *draft, int before, int after) {
    int at = *link_at(draft, before, after);
    return at ? &draft->links[at - 1] : NULL;
}

/* Adds a link unless it is there already; false where it would close a loop. */
static bool put_link(struct draft *draft, int before, int after, enum link_weight weight,
                     const char *reason) {
    if (!sequence_add(draft->sequence, before, after)) return false;
    if (link_between(draft, before, after)) return true;
    GROW(draft->arena, draft->links, draft->link_count, draft->link_capacity);
    draft->links[draft->link_count++] =
        (struct precedence){.before = before, .after = after, .weight = weight, .reason = reason};
    *link_at(draft, before, after) = draft->link_count;
    return true;
}

/* A step that does nothing to the plug, left out: what stood on either side of it is free. */
static bool is_gone(const struct draft *draft, int operation) {
    const struct operation *o = &draft->operations[operation];
    return o->skipped && !o->added && operation_rows[o->key].passing;
}

static void link_rules(struct draft *draft, enum link_weight from, enum link_weight to) {
    for (int i = 0; i < operation_rule_count; i++) {
        const struct operation_rule *rule = &operation_rules[i];
        int before = draft->last[rule->before], after = draft->first[rule->after];
        if (before < 0 || after < 0 || is_gone(draft, before) || is_gone(draft, after)) continue;
        if (rule->weight >= from && rule->weight <= to)
            put_link(draft, before, after, rule->weight, rule->reason);
    }
}

static void link_chains(struct draft *draft) {
    for (int i = 0; i < operation_chain_count; i++) {
        const struct operation_rule *chain = &operation_chains[i];
        for (int k = draft->first[chain->before]; k >= 0 && k < draft->last[chain->before]; k++)
            put_link(draft, k, k + 1, RULE, chain->reason);
    }
}

/* Every topcoat is due within the window of the one below it that was laid. */
static void link_windows(struct draft *draft) {
    int below = -1;
    for (int i = draft->first[OPERATION_topcoat]; i >= 0 && i <= draft->last[OPERATION_topcoat];
         i++) {
        if (draft->operations[i].skipped) continue;
        if (below >= 0) {
            put_link(draft, below, i, RULE, link_between(draft, i - 1, i)->reason);
            link_between(draft, below, i)->within = operation_window(draft->recipe);
        }
        below = i;
    }
}

/* Whether the parts of the plug that were laid make up the whole. */
static bool goes_round(unsigned laid) {
    for (int i = 0; i < reference_cover_count; i++)
        if (reference_cover[i].round && !(laid & 1u << i)) return false;
    return true;
}

/* The nearest opaque layer below layer `top` that covers all of it, or -1.  Where several make up
 * the whole plug, the layer that completes them counts. */
static int ground_of(const struct paint *paint, int top) {
    unsigned laid = 0;
    int ground = -1;
    for (int i = 0; i < top; i++) {
        const struct layer *layer = &paint->layers[i];
        if (!reference_layer_kind[layer->kind].ground) continue;
        bool was_round = goes_round(laid);
        laid |= 1u << layer->where;
        bool now_round = goes_round(laid) && !was_round;
        if (layer->where == WHERE_WHOLE || layer->where == paint->layers[top].where || now_round)
            ground = i;
    }
    return ground;
}

static void link_grounds(struct draft *draft) {
    if (draft->first[OPERATION_colour] < 0) return;
    const struct paint *paint = draft->recipe->finish->paint;
    for (int i = 0; i < paint->layer_count; i++) {
        const struct layer *layer = &paint->layers[i];
        if (!reference_layer_kind[layer->kind].needs_ground) continue;
        int ground = ground_of(paint, i), first = draft->first[OPERATION_colour];
        if (ground >= 0)
            put_link(draft, first + ground, first + i, RULE, operation_ground_reason);
        else
            diag_add(draft->diags, SEVERITY_ERROR, place(draft, &layer->kind), "opaque-ground",
                     "list an opaque layer before it, on the whole plug or on the same part",
                     "the %s colour %s has no opaque ground under it",
                     reference_layer_kind[layer->kind].kind,
                     diag_quote(draft->arena, layer->colour));
    }
}

/* The shortest chain of links by which `after` comes before `before`. */
struct objection {
    int *chain, length;
    const struct precedence *link; /* the weightiest of the chain */
};

/* Of two that weigh the same, why one coat follows another of its kind says less. */
static bool says_more(const struct draft *draft, const struct precedence *link,
                      const struct precedence *than) {
    if (!than || link->weight != than->weight) return !than || link->weight < than->weight;
    const struct operation *o = draft->operations;
    return o[than->before].key == o[than->after].key && o[link->before].key != o[link->after].key;
}

static struct objection objection_to(struct draft *draft, int before, int after) {
    struct objection objection = {.chain = NEW(draft->arena, int, draft->count)};
    objection.length =
        sequence_chain(draft->arena, draft->sequence, after, before, objection.chain);
    for (int i = 0; i + 1 < objection.length; i++) {
        const struct precedence *link =
            link_between(draft, objection.chain[i], objection.chain[i + 1]);
        if (says_more(draft, link, objection.link)) objection.link = link;
    }
    return objection;
}

/* "seal, float-test, topcoat-1": the chain in words, where it is more than one link. */
static const char *chain_words(struct draft *draft, const struct objection *objection) {
    enum { MOST = 8 };
    if (objection->length <= 2) return "";
    struct buf words = {.arena = draft->arena};
    buf_text(&words, "the order is ");
    for (int i = 0; i < objection->length && i < MOST; i++)
        buf_printf(&words, i ? ", %s" : "%s", draft->operations[objection->chain[i]].id);
    buf_text(&words, objection->length > MOST ? ", ..., and " : ", and ");
    return words.data;
}

/* Says why `before` cannot come before `after`. */
static void refuse(struct draft *draft, const void *member, int before, int after) {
    const struct operation *operations = draft->operations;
    const char *one = operations[before].id, *other = operations[after].id;
    struct span at = place(draft, member);
    if (before == after) {
        diag_add(draft->diags, SEVERITY_ERROR, at, "step-order", NULL,
                 "'%s' cannot come before itself", one);
        return;
    }
    struct objection objection = objection_to(draft, before, after);
    if (!objection.link) return; /* nothing stands against it */
    const struct precedence *link = objection.link;
    if (link->weight == OWN)
        diag_add(draft->diags, SEVERITY_ERROR, at, "step-order", NULL,
                 "'%s' before '%s' closes a loop: other steps put '%s' before '%s'", one, other,
                 other, one);
    else
        diag_add(draft->diags, SEVERITY_ERROR, at, "step-order", NULL,
                 "'%s' before '%s' would spoil the work: %s%s comes before %s, because %s", one,
                 other, chain_words(draft, &objection), operations[link->before].id,
                 operations[link->after].id, link->reason);
}

static void link_own(struct draft *draft, int before, int after, const void *member,
                     const char *reason) {
    if (before < 0 || after < 0) return;
    if (!put_link(draft, before, after, OWN, reason)) refuse(draft, member, before, after);
}

static void link_order(struct draft *draft, const struct step *step) {
    int before = -1;
    for (int i = 0; i < step->order_count; i++) {
        int after = draft_find_named(draft, step->order[i], &step->order[i]);
        link_own(draft, before, after, &step->order[i], reason_own_order);
        if (after >= 0) before = after;
    }
}

static void link_addition(struct draft *draft, int added) {
    const struct step *step = draft->operations[added].added;
    if (step->after.size) {
        int before = draft_find_named(draft, step->after, &step->after);
        link_own(draft, before, added, &step->after, reason_own_place);
    }
    if (step->before.size) {
        int after = draft_find_named(draft, step->before, &step->before);
        link_own(draft, added, after, &step->before, reason_own_place);
    }
}

/* What the recipe's steps say themselves. */
static void link_steps(struct draft *draft) {
    const struct recipe *recipe = draft->recipe;
    for (int i = 0; i < draft->count; i++)
        if (draft->operations[i].added) link_addition(draft, i);
    for (int i = 0; i < recipe->step_count; i++)
        if (recipe->steps[i].change == STEP_ORDER) link_order(draft, &recipe->steps[i]);
}

/* Around a skipped operation the order of its neighbours is said outright, so that nobody has to
 * look through it. */
static void link_bridges(struct draft *draft) {
    for (int s = 0; s < draft->count; s++) {
        if (!draft->operations[s].skipped) continue;
        for (int i = 0; i < draft->count; i++) {
            if (!sequence_linked(draft->sequence, i, s)) continue;
            for (int k = 0; k < draft->count; k++)
                if (sequence_linked(draft->sequence, s, k))
                    put_link(draft, i, k, NEED, reason_bridged);
        }
    }
}

/* An added step keeps its place beside the operation that it names: what directly follows that
 * operation (or precedes it) follows (or precedes) the step as well. */
static void link_neighbours(struct draft *draft, int added) {
    const struct step *step = draft->operations[added].added;
    int after = step->after.size ? draft_find(draft, step->after) : -1;
    int before = step->before.size ? draft_find(draft, step->before) : -1;
    for (int i = 0; i < draft->count; i++) {
        if (after >= 0 && !step->before.size && sequence_linked(draft->sequence, after, i))
            put_link(draft, added, i, HABIT, reason_own_place);
        if (before >= 0 && !step->after.size && sequence_linked(draft->sequence, i, before))
            put_link(draft, i, added, HABIT, reason_own_place);
    }
}

/* A scuffing step of the recipe's own lifts the window that it stands in. */
static void lift_own_windows(struct draft *draft) {
    for (int i = 0; i < draft->link_count; i++) {
        struct precedence *link = &draft->links[i];
        if (link->within <= 0.0) continue;
        int coat = draft->operations[link->after].number;
        const char *scuff = operation_id(draft->arena, OPERATION_scuff, coat);
        if (draft_find(draft, str_of(scuff)) < 0) continue;
        link->within = 0.0;
        draft->operations[link->after].traits |= HAS(SCUFFED);
    }
}

/* --- Sorting --- */

/* Where an added step would like to stand: right behind what it comes after, or right before what
 * it precedes.  Steps may name each other; every round settles at least one, or nothing more can.
 */
static void settle_keys(struct draft *draft, double *key) {
    bool *settled = NEW(draft->arena, bool, draft->count);
    for (int i = 0; i < draft->count; i++) {
        key[i] = draft->operations[i].added ? draft->count : i;
        settled[i] = !draft->operations[i].added;
    }
    for (bool again = true; again;) {
        again = false;
        for (int i = 0; i < draft->count; i++) {
            if (settled[i]) continue;
            const struct step *step = draft->operations[i].added;
            bool behind = step->after.size > 0;
            int anchor = draft_find(draft, behind ? step->after : step->before);
            if (anchor < 0 || !settled[anchor]) continue;
            key[i] = behind ? key[anchor] : key[anchor] - 0.5;
            settled[i] = again = true;
        }
    }
}

/* Steps that were added beside each other take their neighbours in turn. */
static void link_all_neighbours(struct draft *draft, const double *key, int *sorted) {
    sequence_sort(draft->arena, draft->sequence, key, sorted);
    for (int i = 0; i < draft->count; i++) {
        const struct step *added = draft->operations[sorted[i]].added;
        if (added && added->after.size) link_neighbours(draft, sorted[i]);
    }
    for (int i = draft->count - 1; i >= 0; i--) {
        const struct step *added = draft->operations[sorted[i]].added;
        if (added && !added->after.size) link_neighbours(draft, sorted[i]);
    }
}

/* The finished route, without the links that follow from others. */
static struct route sorted_route(struct draft *draft, const int *sorted) {
    struct route route = {.count = draft->count, .surface = draft->surface};
    route.operations = NEW(draft->arena, struct operation, draft->count);
    route.links = NEW(draft->arena, struct precedence, draft->link_count);
    int *place_of = NEW(draft->arena, int, draft->count);
    bool *skipped = NEW(draft->arena, bool, draft->count);
    for (int i = 0; i < draft->count; i++) {
        route.operations[i] = draft->operations[sorted[i]];
        place_of[sorted[i]] = i;
        skipped[i] = draft->operations[i].skipped != NULL;
    }
    for (int i = 0; i < draft->link_count; i++) {
        struct precedence link = draft->links[i];
        bool kept = link.weight == RULE ||
                    !sequence_implied(draft->sequence, link.before, link.after, skipped);
        if (!kept) continue;
        link.before = place_of[link.before];
        link.after = place_of[link.after];
        route.links[route.link_count++] = link;
    }
    return route;
}

/* --- The whole --- */

/* A step whose wait the recipe gives itself is taken to cure somewhere warm; a topcoat is not, for
 * the wheel stands in the shop. */
static void check_warmth(struct draft *draft) {
    double shop = draft->recipe->shop->temperature;
    double coldest = reference_fact[FACT_COLDEST_CURE].value;
    if (shop >= coldest) return;
    for (int i = 0; i < draft->count; i++) {
        const struct operation *o = &draft->operations[i];
        bool own_wait = o->changed && o->changed->wait.given;
        if (o->skipped || !operation_cures_epoxy(draft->recipe, o->key)) continue;
        if (own_wait && o->key != OPERATION_topcoat) continue;
        diag_add(draft->diags, SEVERITY_ERROR, place(draft, &draft->recipe->shop->temperature),
                 "cold-epoxy", "warm the shop, or give a glued step the wait of a warmer place",
                 "the shop is too cold for the epoxy of '%s': below %g degC it does not cure",
                 o->id, coldest);
        return;
    }
}

struct route route_of(struct arena *arena, const struct recipe *recipe, double surface,
                      struct diags *diags) {
    struct draft draft = draft_of(arena, recipe, surface, diags);
    link_grounds(&draft);
    link_chains(&draft);
    link_windows(&draft);
    link_rules(&draft, RULE, NEED);
    link_steps(&draft);
    link_rules(&draft, HABIT, HABIT);
    link_bridges(&draft);

    double *key = NEW(arena, double, draft.count);
    int *sorted = NEW(arena, int, draft.count);
    settle_keys(&draft, key);
    link_all_neighbours(&draft, key, sorted);
    lift_own_windows(&draft);
    sequence_sort(arena, draft.sequence, key, sorted);
    check_warmth(&draft);
    return sorted_route(&draft, sorted);
}

int route_find(const struct route *route, struct str id) {
    for (int i = 0; i < route->count; i++)
        if (str_is(id, route->operations[i].id)) return i;
    return -1;
}

/* The link whose window ends with this topcoat, or NULL. */
static struct precedence *window_of(const struct route *route, int coat) {
    for (int i = 0; i < route->link_count; i++) {
        const struct operation *after = &route->operations[route->links[i].after];
        bool ends = after->key == OPERATION_topcoat && after->number == coat;
        if (route->links[i].within > 0.0 && ends) return &route->links[i];
    }
    return NULL;
}

/* Makes room for one operation at `at`. */
static struct route widened(struct arena *arena, const struct route *route, int at) {
    struct route wide = *route;
    wide.count = route->count + 1;
    wide.operations = NEW(arena, struct operation, wide.count);
    wide.links = NEW(arena, struct precedence, route->link_count + 2);
    for (int i = 0; i < route->count; i++) wide.operations[i + (i >= at)] = route->operations[i];
    for (int i = 0; i < route->link_count; i++) {
        wide.links[i] = route->links[i];
        wide.links[i].before += route->links[i].before >= at;
        wide.links[i].after += route->links[i].after >= at;
    }
    return wide;
}

struct route route_scuff(struct arena *arena, const struct route *route,
                         const struct recipe *recipe, int coat) {
    const struct precedence *window = window_of(route, coat);
    if (!window) return *route;
    int at = window->after, below = window->before;
    struct route wide = widened(arena, route, at);
    window_of(&wide, coat)->within = 0.0;
    wide.operations[at + 1].traits |= HAS(SCUFFED);
    wide.operations[at] = operation_of(arena, recipe, route->surface, OPERATION_scuff, coat);
    double cure = operation_cure(recipe);
    if (wide.operations[below].wait < cure) wide.operations[below].wait = cure;
    struct precedence link = {below, at, NEED, reason_scuffed, 0.0};
    wide.links[wide.link_count++] = link;
    link.before = at, link.after = at + 1;
    wide.links[wide.link_count++] = link;
    return wide;
}
