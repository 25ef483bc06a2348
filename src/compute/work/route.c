/* A route is written in four passes: the operations that the recipe needs, and what its own steps
 * make of them (plan.c); the links, in the order of their weight, each refused where it would close
 * a loop with weightier ones; the sorting.
 *
 * Since rules go in first, an order of the recipe's own that a rule forbids is found when it closes
 * the loop, and the shortest chain of links against it holds the reason.  Habits go in after it and
 * yield without a word.  The closure of the order is kept as bits (sequence.c), so that thousands
 * of links cost no more than so many small updates.
 */
#include "compute/work/route.h"

#include <string.h>

#include "base/buf.h"
#include "compute/work/draft.h"
#include "model/reference.h"

#define REASON(key, reason) static const char reason_##key[] = reason;
#include "route.def"

static struct span place(const struct plan *plan, const void *member) {
    return recipe_place(plan->recipe, member);
}

/* --- Links --- */

static int *link_at(const struct plan *plan, int before, int after) {
    return &plan->link_at[(size_t)before * (size_t)plan->count + (size_t)after];
}

static struct plan_link *link_between(const struct plan *plan, int before, int after) {
    int at = *link_at(plan, before, after);
    return at ? &plan->links[at - 1] : NULL;
}

/* Adds a link unless it is there already; false where it would close a loop. */
static bool put_link(struct plan *plan, int before, int after, enum strength strength,
                     const char *reason) {
    if (!sequence_add(plan->sequence, before, after)) return false;
    if (link_between(plan, before, after)) return true;
    if (plan->link_count == plan->link_capacity) {
        plan->link_capacity *= 2;
        struct plan_link *more = NEW(plan->arena, struct plan_link, plan->link_capacity);
        /* plan_of made room for the first of them, which the analyser cannot see */
        memcpy(more, plan->links, (size_t)plan->link_count * sizeof *more); // NOLINT
        plan->links = more;
    }
    struct precedence link = {.before = before, .after = after, .reason = reason};
    plan->links[plan->link_count++] = (struct plan_link){link, strength}; // NOLINT
    *link_at(plan, before, after) = plan->link_count;
    return true;
}

static void link_rules(struct plan *plan, enum strength from, enum strength to) {
    for (int i = 0; i < operation_rule_count; i++) {
        const struct operation_rule *rule = &operation_rules[i];
        int before = plan->last[rule->before], after = plan->first[rule->after];
        if (before >= 0 && after >= 0 && rule->strength >= from && rule->strength <= to)
            put_link(plan, before, after, rule->strength, rule->reason);
    }
}

static void link_chains(struct plan *plan) {
    for (int i = 0; i < operation_chain_count; i++) {
        const struct operation_rule *chain = &operation_chains[i];
        for (int k = plan->first[chain->before]; k >= 0 && k < plan->last[chain->before]; k++)
            put_link(plan, k, k + 1, RULE, chain->reason);
    }
}

/* Every topcoat is due within the window of the one below it that was laid. */
static void link_windows(struct plan *plan) {
    int below = -1;
    for (int i = plan->first[OPERATION_topcoat]; i >= 0 && i <= plan->last[OPERATION_topcoat];
         i++) {
        if (plan->operations[i].skipped) continue;
        if (below >= 0) {
            put_link(plan, below, i, RULE, link_between(plan, i - 1, i)->link.reason);
            link_between(plan, below, i)->link.within = operation_window(plan->recipe);
        }
        below = i;
    }
}

/* The nearest opaque layer below layer `top` that covers all of it, or -1.  Back, flanks and belly
 * together are the whole plug: the layer that completes them counts. */
static int ground_of(const struct paint *paint, int top) {
    const unsigned round = 1u << WHERE_BACK | 1u << WHERE_FLANKS | 1u << WHERE_BELLY;
    unsigned laid = 0;
    int ground = -1;
    for (int i = 0; i < top; i++) {
        const struct layer *layer = &paint->layers[i];
        if (!reference_layer_kind[layer->kind].ground) continue;
        bool was_round = (laid & round) == round;
        laid |= 1u << layer->where;
        bool now_round = (laid & round) == round && !was_round;
        if (layer->where == WHERE_WHOLE || layer->where == paint->layers[top].where || now_round)
            ground = i;
    }
    return ground;
}

static void link_grounds(struct plan *plan) {
    if (plan->first[OPERATION_colour] < 0) return;
    const struct paint *paint = plan->recipe->finish->paint;
    for (int i = 0; i < paint->layer_count; i++) {
        const struct layer *layer = &paint->layers[i];
        if (!reference_layer_kind[layer->kind].needs_ground) continue;
        int ground = ground_of(paint, i), first = plan->first[OPERATION_colour];
        if (ground >= 0)
            put_link(plan, first + ground, first + i, RULE, operation_ground_reason);
        else
            diag_add(plan->diags, SEVERITY_ERROR, place(plan, &layer->kind), "opaque-ground",
                     "list an opaque layer before it, on the whole plug or on the same part",
                     "the %s colour %s has no opaque ground under it",
                     reference_layer_kind[layer->kind].kind,
                     diag_quote(plan->arena, layer->colour));
    }
}

/* The shortest chain of links by which `after` comes before `before`. */
struct objection {
    int *chain, length;
    const struct plan_link *link; /* the weightiest of the chain */
};

static struct objection objection_to(struct plan *plan, int before, int after) {
    struct objection objection = {.chain = NEW(plan->arena, int, plan->count)};
    objection.length = sequence_chain(plan->arena, plan->sequence, after, before, objection.chain);
    for (int i = 0; i + 1 < objection.length; i++) {
        const struct plan_link *link =
            link_between(plan, objection.chain[i], objection.chain[i + 1]);
        if (!objection.link || link->strength < objection.link->strength) objection.link = link;
    }
    return objection;
}

/* "seal, float-test, topcoat-1": the chain in words, where it is more than one link. */
static const char *chain_words(struct plan *plan, const struct objection *objection) {
    enum { MOST = 8 };
    if (objection->length <= 2) return "";
    struct buf words = {.arena = plan->arena};
    buf_text(&words, "the order is ");
    for (int i = 0; i < objection->length && i < MOST; i++)
        buf_printf(&words, i ? ", %s" : "%s", plan->operations[objection->chain[i]].id);
    buf_text(&words, objection->length > MOST ? ", ..., and " : ", and ");
    return words.data;
}

/* Says why `before` cannot come before `after`. */
static void refuse(struct plan *plan, const void *member, int before, int after) {
    const struct operation *operations = plan->operations;
    const char *one = operations[before].id, *other = operations[after].id;
    struct span at = place(plan, member);
    if (before == after) {
        diag_add(plan->diags, SEVERITY_ERROR, at, "step-order", NULL,
                 "'%s' cannot come before itself", one);
        return;
    }
    struct objection objection = objection_to(plan, before, after);
    if (!objection.link) return; /* nothing stands against it */
    const struct precedence *link = &objection.link->link;
    if (objection.link->strength == OWN)
        diag_add(plan->diags, SEVERITY_ERROR, at, "step-order", NULL,
                 "'%s' before '%s' closes a loop: other steps put '%s' before '%s'", one, other,
                 other, one);
    else
        diag_add(plan->diags, SEVERITY_ERROR, at, "step-order", NULL,
                 "'%s' before '%s' would spoil the work: %s%s comes before %s, because %s", one,
                 other, chain_words(plan, &objection), operations[link->before].id,
                 operations[link->after].id, link->reason);
}

static void link_own(struct plan *plan, int before, int after, const void *member,
                     const char *reason) {
    if (before < 0 || after < 0) return;
    if (!put_link(plan, before, after, OWN, reason)) refuse(plan, member, before, after);
}

static void link_order(struct plan *plan, const struct step *step) {
    int before = -1;
    for (int i = 0; i < step->order_count; i++) {
        int after = plan_find_named(plan, step->order[i], &step->order[i]);
        link_own(plan, before, after, &step->order[i], reason_own_order);
        if (after >= 0) before = after;
    }
}

static void link_addition(struct plan *plan, int added) {
    const struct step *step = plan->step[added];
    if (step->after.size) {
        int before = plan_find_named(plan, step->after, &step->after);
        link_own(plan, before, added, &step->after, reason_own_place);
    }
    if (step->before.size) {
        int after = plan_find_named(plan, step->before, &step->before);
        link_own(plan, added, after, &step->before, reason_own_place);
    }
}

/* What the recipe's steps say themselves. */
static void link_steps(struct plan *plan) {
    const struct recipe *recipe = plan->recipe;
    for (int i = 0; i < plan->count; i++)
        if (plan->step[i]) link_addition(plan, i);
    for (int i = 0; i < recipe->step_count; i++)
        if (recipe->steps[i].change == STEP_ORDER) link_order(plan, &recipe->steps[i]);
}

/* Around a skipped operation the order of its neighbours is said outright, so that nobody has to
 * look through it. */
static void link_bridges(struct plan *plan) {
    for (int s = 0; s < plan->count; s++) {
        if (!plan->operations[s].skipped) continue;
        for (int i = 0; i < plan->count; i++) {
            if (!sequence_linked(plan->sequence, i, s)) continue;
            for (int k = 0; k < plan->count; k++)
                if (sequence_linked(plan->sequence, s, k))
                    put_link(plan, i, k, NEED, reason_bridged);
        }
    }
}

/* An added step keeps its place beside the operation that it names: what directly follows that
 * operation (or precedes it) follows (or precedes) the step as well. */
static void link_neighbours(struct plan *plan, int added) {
    const struct step *step = plan->step[added];
    int after = step->after.size ? plan_find(plan, step->after) : -1;
    int before = step->before.size ? plan_find(plan, step->before) : -1;
    for (int i = 0; i < plan->count; i++) {
        if (after >= 0 && !step->before.size && sequence_linked(plan->sequence, after, i))
            put_link(plan, added, i, HABIT, reason_own_place);
        if (before >= 0 && !step->after.size && sequence_linked(plan->sequence, i, before))
            put_link(plan, i, added, HABIT, reason_own_place);
    }
}

/* A scuffing step of the recipe's own lifts the window that it stands in. */
static void lift_own_windows(struct plan *plan) {
    for (int i = 0; i < plan->link_count; i++) {
        struct precedence *link = &plan->links[i].link;
        if (link->within <= 0.0) continue;
        const char *scuff = arena_printf(plan->arena, "%s-%d", operation_stem(OPERATION_scuff),
                                         plan->operations[link->after].coat_number);
        if (plan_find(plan, str_of(scuff)) >= 0) link->within = 0.0;
    }
}

/* --- Sorting --- */

/* Where an added step would like to stand: right behind what it comes after, or right before what
 * it precedes.  Steps may name each other; every round settles at least one, or nothing more can.
 */
static void settle_keys(struct plan *plan, double *key) {
    bool *settled = NEW(plan->arena, bool, plan->count);
    for (int i = 0; i < plan->count; i++) {
        key[i] = plan->step[i] ? plan->count : i;
        settled[i] = !plan->step[i];
    }
    for (bool again = true; again;) {
        again = false;
        for (int i = 0; i < plan->count; i++) {
            if (settled[i]) continue;
            const struct step *step = plan->step[i];
            bool behind = step->after.size > 0;
            int anchor = plan_find(plan, behind ? step->after : step->before);
            if (anchor < 0 || !settled[anchor]) continue;
            key[i] = behind ? key[anchor] : key[anchor] - 0.5;
            settled[i] = again = true;
        }
    }
}

/* Steps that were added beside each other take their neighbours in turn. */
static void link_all_neighbours(struct plan *plan, const double *key, int *sorted) {
    sequence_sort(plan->arena, plan->sequence, key, sorted);
    for (int i = 0; i < plan->count; i++) {
        int at = sorted[i];
        if (plan->step[at] && plan->step[at]->after.size) link_neighbours(plan, at);
    }
    for (int i = plan->count - 1; i >= 0; i--) {
        int at = sorted[i];
        if (plan->step[at] && !plan->step[at]->after.size) link_neighbours(plan, at);
    }
}

/* The finished route, without the links that follow from others. */
static struct route sorted_route(struct plan *plan, const int *sorted) {
    struct route route = {.count = plan->count};
    route.operations = NEW(plan->arena, struct operation, plan->count);
    route.links = NEW(plan->arena, struct precedence, plan->link_count);
    int *place_of = NEW(plan->arena, int, plan->count);
    bool *skipped = NEW(plan->arena, bool, plan->count);
    for (int i = 0; i < plan->count; i++) {
        route.operations[i] = plan->operations[sorted[i]];
        place_of[sorted[i]] = i;
        skipped[i] = plan->operations[i].skipped != NULL;
    }
    for (int i = 0; i < plan->link_count; i++) {
        struct precedence link = plan->links[i].link;
        bool kept = plan->links[i].strength == RULE ||
                    !sequence_implied(plan->sequence, link.before, link.after, skipped);
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
static void check_warmth(struct plan *plan) {
    double shop = plan->recipe->shop->temperature;
    double coldest = reference_fact[FACT_COLDEST_CURE].value;
    if (shop >= coldest) return;
    for (int i = 0; i < plan->count; i++) {
        if (plan->step[i] || plan->operations[i].skipped ||
            !operation_cures_epoxy(plan->recipe, plan->key[i]) ||
            (plan->own_wait[i] && plan->key[i] != OPERATION_topcoat))
            continue;
        diag_add(plan->diags, SEVERITY_ERROR, place(plan, &plan->recipe->shop->temperature),
                 "cold-epoxy", "warm the shop, or give a glued step the wait of a warmer place",
                 "the shop is too cold for the epoxy of '%s': below %g degC it does not cure",
                 plan->operations[i].id, coldest);
        return;
    }
}

struct route route_of(struct arena *arena, const struct recipe *recipe, struct diags *diags) {
    struct plan plan = plan_of(arena, recipe, diags);
    link_grounds(&plan);
    link_chains(&plan);
    link_windows(&plan);
    link_rules(&plan, RULE, NEED);
    link_steps(&plan);
    link_rules(&plan, HABIT, HABIT);
    link_bridges(&plan);

    double *key = NEW(arena, double, plan.count);
    int *sorted = NEW(arena, int, plan.count);
    settle_keys(&plan, key);
    link_all_neighbours(&plan, key, sorted);
    lift_own_windows(&plan);
    sequence_sort(arena, plan.sequence, key, sorted);
    check_warmth(&plan);
    return sorted_route(&plan, sorted);
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
        bool topcoat = after->layer < 0 && after->coat_number == coat;
        if (route->links[i].within > 0.0 && topcoat) return &route->links[i];
    }
    return NULL;
}

/* Makes room for one operation at `at`. */
static struct route widened(struct arena *arena, const struct route *route, int at) {
    struct route wide = {.count = route->count + 1, .link_count = route->link_count};
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
    wide.operations[at] = operation_of(arena, recipe, OPERATION_scuff, coat);
    double cure = operation_cure(recipe);
    if (wide.operations[below].wait < cure) wide.operations[below].wait = cure;
    wide.links[wide.link_count++] =
        (struct precedence){.before = below, .after = at, .reason = reason_scuffed};
    wide.links[wide.link_count++] =
        (struct precedence){.before = at, .after = at + 1, .reason = reason_scuffed};
    return wide;
}
