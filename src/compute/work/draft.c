/* The operations of a route: those that the recipe needs, in the order of the rows, and what its
 * `steps` make of them.
 */
#include "compute/work/draft.h"

/* How often a near word is looked for: a hostile recipe may hold thousands of unknown ids. */
enum { MAX_HINTS = 50 };

enum { SOME_LINKS = 128 }; /* room to begin with */

static struct span place(const struct plan *plan, const void *member) {
    return recipe_place(plan->recipe, member);
}

int plan_find(const struct plan *plan, struct str id) {
    for (int i = 0; i < plan->count; i++)
        if (str_is(id, plan->operations[i].id)) return i;
    return -1;
}

static struct str without_number(struct str id) {
    struct str stem = id;
    while (stem.size && stem.data[stem.size - 1] >= '0' && stem.data[stem.size - 1] <= '9')
        stem.size--;
    bool numbered = stem.size < id.size && stem.size && stem.data[stem.size - 1] == '-';
    return numbered ? (struct str){stem.data, stem.size - 1} : id;
}

/* Whether the language knows the id, though this recipe has no use for it. */
static bool known_elsewhere(struct str id) {
    struct str stem = without_number(id);
    for (int key = 0; key < OPERATION_KEYS; key++)
        if (str_is(stem, operation_stem((enum operation_key)key))) return true;
    return false;
}

static const char *id_hint(struct plan *plan, struct str id) {
    if (known_elsewhere(id)) return "the language knows it, but this recipe does not need it";
    if (plan->hints-- <= 0) return NULL;
    const char **names = NEW(plan->arena, const char *, plan->count);
    for (int i = 0; i < plan->count; i++) names[i] = plan->operations[i].id;
    const char *nearest = str_nearest(id, names, (size_t)plan->count);
    return nearest ? arena_printf(plan->arena, "did you mean '%s'?", nearest) : NULL;
}

int plan_find_named(struct plan *plan, struct str id, const void *member) {
    int found = plan_find(plan, id);
    if (found < 0)
        diag_add(plan->diags, SEVERITY_ERROR, place(plan, member), "step-id", id_hint(plan, id),
                 "this route has no operation %s", diag_quote(plan->arena, id));
    return found;
}

static void put_operation(struct plan *plan, struct operation operation, enum operation_key key,
                          const struct step *step) {
    plan->operations[plan->count] = operation;
    plan->key[plan->count] = key;
    plan->step[plan->count] = step;
    plan->count++;
}

static void plan_needed(struct plan *plan) {
    for (int k = 0; k < OPERATION_KEYS; k++) {
        enum operation_key key = (enum operation_key)k;
        int times = operation_times(plan->recipe, key);
        bool numbered = key == OPERATION_colour || key == OPERATION_topcoat;
        plan->first[k] = times ? plan->count : -1;
        for (int i = 1; i <= times; i++) {
            struct operation operation =
                operation_of(plan->arena, plan->recipe, key, numbered ? i : 0);
            put_operation(plan, operation, key, NULL);
        }
        plan->last[k] = times ? plan->count - 1 : -1;
    }
}

/* --- The recipe's own steps --- */

static bool valid_id(struct str id) {
    enum { LONGEST = 40 };
    if (!id.size || id.size > LONGEST || id.data[0] < 'a' || id.data[0] > 'z') return false;
    for (size_t i = 0; i < id.size; i++) {
        char c = id.data[i];
        if (!(c >= 'a' && c <= 'z') && !(c >= '0' && c <= '9') && c != '-') return false;
    }
    return true;
}

/* NULL for a text that was not given. */
static const char *text_or_null(struct plan *plan, struct str text) {
    return text.size ? arena_copy(plan->arena, text.data, text.size) : NULL;
}

static struct operation added_operation(struct plan *plan, const struct step *step) {
    enum station_used station = operation_place(step->needs);
    const char *title = text_or_null(plan, step->title);
    const char *id = arena_copy(plan->arena, step->id.data, step->id.size);
    return (struct operation){
        .id = id,
        .title = title ? title : id,
        .what = text_or_null(plan, step->say),
        .with = station == AT_NONE ? text_or_null(plan, step->needs) : NULL,
        .each = step->hands_on.given ? step->hands_on.value : 0.0,
        .wait = step->wait.given ? step->wait.value : 0.0,
        .station = station == AT_NONE ? AT_BENCH : station,
        .coat = station == AT_SPRAY || station == AT_WHEEL,
        .by_wheel = station == AT_WHEEL,
        .layer = -1,
        .added = true,
    };
}

static void plan_addition(struct plan *plan, const struct step *step) {
    struct span at = place(plan, &step->add_id);
    const char *id = diag_quote(plan->arena, step->id);
    if (!valid_id(step->id)) {
        diag_add(plan->diags, SEVERITY_ERROR, at, "step-id",
                 "small letters, digits and hyphens, a letter first", "%s cannot be an id", id);
    } else if (plan_find(plan, step->id) >= 0) {
        diag_add(plan->diags, SEVERITY_ERROR, at, "step-id",
                 "give the new step an id of its own, or write 'change'",
                 "there is an operation %s already", id);
    } else {
        if (!step->after.size && !step->before.size)
            diag_add(plan->diags, SEVERITY_ERROR, at, "step-place",
                     "write the id that it comes after, or before, or both",
                     "nothing says where %s belongs", id);
        put_operation(plan, added_operation(plan, step), OPERATION_KEYS, step);
    }
}

static void plan_skip(struct plan *plan, const struct step *step) {
    int found = plan_find_named(plan, step->id, &step->skip_id);
    if (found < 0) return;
    struct operation *operation = &plan->operations[found];
    if (operation->skipped)
        diag_add(plan->diags, SEVERITY_ERROR, place(plan, &step->skip_id), "step-id", NULL,
                 "'%s' is skipped twice", operation->id);
    const char *because = text_or_null(plan, step->because);
    operation->skipped = because ? because : "the recipe gives no reason";
    operation->fixed = operation->each = operation->wait = 0.0;
    operation->station = AT_NONE;
    operation->coat = operation->by_wheel = false;
    operation->cautions = 0;
}

/* The topcoat that is left as the last one waits for the full cure. */
static void settle_last_topcoat(struct plan *plan) {
    int first = plan->first[OPERATION_topcoat];
    for (int i = plan->last[OPERATION_topcoat]; i >= 0 && i >= first; i--) {
        if (plan->operations[i].skipped) continue;
        plan->operations[i].wait = operation_cure(plan->recipe);
        return;
    }
}

static void plan_change(struct plan *plan, const struct step *step, bool *changed) {
    int found = plan_find_named(plan, step->id, &step->change_id);
    if (found < 0) return;
    struct operation *operation = &plan->operations[found];
    if (changed[found])
        diag_add(plan->diags, SEVERITY_ERROR, place(plan, &step->change_id), "step-id",
                 "write both changes in one step", "'%s' is changed twice", operation->id);
    changed[found] = true;
    if (step->say.size) operation->what = text_or_null(plan, step->say);
    if (operation->skipped) return;
    if (step->hands_on.given) {
        operation->fixed = 0.0;
        operation->each = step->hands_on.value;
    }
    if (step->wait.given) {
        operation->wait = step->wait.value;
        plan->own_wait[found] = true;
    }
}

/* Additions first, so that any step may name any id; skips before changes, for a skipped operation
 * takes no time whatever else is said of it. */
static void plan_steps(struct plan *plan) {
    const struct step *steps = plan->recipe->steps;
    int count = plan->recipe->step_count;
    for (int i = 0; i < count; i++)
        if (steps[i].change == STEP_ADD) plan_addition(plan, &steps[i]);
    for (int i = 0; i < count; i++)
        if (steps[i].change == STEP_SKIP) plan_skip(plan, &steps[i]);
    settle_last_topcoat(plan);
    bool *changed = NEW(plan->arena, bool, plan->count);
    for (int i = 0; i < count; i++)
        if (steps[i].change == STEP_CHANGE) plan_change(plan, &steps[i], changed);
}

struct plan plan_of(struct arena *arena, const struct recipe *recipe, struct diags *diags) {
    struct plan plan = {.arena = arena, .recipe = recipe, .diags = diags, .hints = MAX_HINTS};
    int room = recipe->step_count;
    for (int key = 0; key < OPERATION_KEYS; key++)
        room += operation_times(recipe, (enum operation_key)key);
    plan.operations = NEW(arena, struct operation, room);
    plan.key = NEW(arena, enum operation_key, room);
    plan.step = NEW(arena, const struct step *, room);
    plan.own_wait = NEW(arena, bool, room);
    plan_needed(&plan);
    plan_steps(&plan);
    plan.sequence = sequence_new(arena, plan.count);
    plan.link_capacity = SOME_LINKS;
    plan.links = NEW(arena, struct plan_link, SOME_LINKS);
    plan.link_at = arena_array(arena, (size_t)plan.count, (size_t)plan.count * sizeof(int));
    return plan;
}
