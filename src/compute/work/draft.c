/* The operations of a route: those that the recipe needs, in the order of the rows, and what its
 * `steps` make of them.
 */
#include "compute/work/draft.h"

#include "model/reference.h"

/* How often a near word is looked for: a hostile recipe may hold thousands of unknown ids. */
enum { MAX_HINTS = 50 };

static struct span place(const struct draft *draft, const void *member) {
    return recipe_place(draft->recipe, member);
}

int draft_find(const struct draft *draft, struct str id) {
    for (int i = 0; i < draft->count; i++)
        if (str_is(id, draft->operations[i].id)) return i;
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
        if (operation_called((enum operation_key)key, stem)) return true;
    return false;
}

/* The key of an operation that this recipe numbers, where the id lacks its number; else none. */
static int lacks_number(const struct draft *draft, struct str id) {
    for (int key = 0; key < OPERATION_KEYS; key++)
        if (draft->first[key] >= 0 && draft->operations[draft->first[key]].number &&
            operation_called((enum operation_key)key, id))
            return key;
    return -1;
}

static const char *id_hint(struct draft *draft, struct str id) {
    int numbered = lacks_number(draft, id);
    if (numbered >= 0)
        return arena_printf(draft->arena, "it is done coat by coat here: '%s' is the first",
                            draft->operations[draft->first[numbered]].id);
    if (known_elsewhere(id)) return "the language knows it, but this recipe does not need it";
    if (draft->hints-- <= 0) return NULL;
    const char **names = NEW(draft->arena, const char *, draft->count);
    for (int i = 0; i < draft->count; i++) names[i] = draft->operations[i].id;
    const char *nearest = str_nearest(id, names, (size_t)draft->count);
    return nearest ? arena_printf(draft->arena, "did you mean '%s'?", nearest) : NULL;
}

int draft_find_named(struct draft *draft, struct str id, const void *member) {
    int found = draft_find(draft, id);
    if (found < 0)
        diag_add(draft->diags, SEVERITY_ERROR, place(draft, member), "step-id", id_hint(draft, id),
                 "this route has no operation %s", diag_quote(draft->arena, id));
    return found;
}

static void draft_needed(struct draft *draft) {
    for (int k = 0; k < OPERATION_KEYS; k++) {
        enum operation_key key = (enum operation_key)k;
        int times = operation_times(draft->recipe, key);
        bool numbered = operation_rows[key].times != ONCE;
        draft->first[k] = times ? draft->count : -1;
        for (int i = 1; i <= times; i++)
            draft->operations[draft->count++] =
                operation_of(draft->arena, draft->recipe, draft->surface, key, numbered ? i : 0);
        draft->last[k] = times ? draft->count - 1 : -1;
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

static struct operation added_operation(struct draft *draft, const struct step *step) {
    enum station_used station = operation_place(step->needs);
    return (struct operation){
        .key = OPERATION_OWN,
        .id = arena_copy(draft->arena, step->id.data, step->id.size),
        .each = step->hands_on.given ? step->hands_on.value : 0.0,
        .wait = step->wait.given ? step->wait.value : 0.0,
        .held = step->wait.given ? step->wait.value : 0.0,
        .station = station == AT_NONE ? AT_BENCH : station,
        .coat = operation_places[station].laid,
        .by_wheel = station == AT_WHEEL,
        .cautions = step->caution | reference_tool_cautions(step->needs),
        .added = step,
    };
}

static void draft_addition(struct draft *draft, const struct step *step) {
    struct span at = place(draft, &step->add_id);
    const char *id = diag_quote(draft->arena, step->id);
    if (!valid_id(step->id)) {
        diag_add(draft->diags, SEVERITY_ERROR, at, "step-id",
                 "small letters, digits and hyphens, a letter first", "%s cannot be an id", id);
    } else if (draft_find(draft, step->id) >= 0) {
        diag_add(draft->diags, SEVERITY_ERROR, at, "step-id",
                 "give the new step an id of its own, or write 'change'",
                 "there is an operation %s already", id);
    } else {
        if (!step->after.size && !step->before.size)
            diag_add(draft->diags, SEVERITY_ERROR, at, "step-place",
                     "write the id that it comes after, or before, or both",
                     "nothing says where %s belongs", id);
        draft->operations[draft->count++] = added_operation(draft, step);
    }
}

static void draft_skip(struct draft *draft, const struct step *step) {
    int found = draft_find_named(draft, step->id, &step->skip_id);
    if (found < 0) return;
    struct operation *operation = &draft->operations[found];
    if (operation->skipped)
        diag_add(draft->diags, SEVERITY_ERROR, place(draft, &step->skip_id), "step-id", NULL,
                 "'%s' is skipped twice", operation->id);
    operation->skipped = step;
    operation->fixed = operation->each = operation->wait = operation->held = 0.0;
    operation->weighed = WEIGHED_NOT;
    operation->station = AT_NONE;
    operation->coat = operation->by_wheel = false;
    operation->cautions = 0;
}

/* The topcoat that is left as the last one waits for the full cure. */
static void settle_last_topcoat(struct draft *draft) {
    int first = draft->first[OPERATION_topcoat];
    for (int i = draft->last[OPERATION_topcoat]; i >= 0 && i >= first; i--) {
        if (draft->operations[i].skipped) continue;
        draft->operations[i].wait = operation_cure(draft->recipe);
        return;
    }
}

static void draft_change(struct draft *draft, const struct step *step) {
    int found = draft_find_named(draft, step->id, &step->change_id);
    if (found < 0) return;
    struct operation *operation = &draft->operations[found];
    if (operation->changed)
        diag_add(draft->diags, SEVERITY_ERROR, place(draft, &step->change_id), "step-id",
                 "write both changes in one step", "'%s' is changed twice", operation->id);
    operation->changed = step;
    if (operation->skipped) return;
    if (step->hands_on.given) {
        operation->fixed = 0.0;
        operation->each = step->hands_on.value;
    }
    if (step->wait.given) operation->wait = step->wait.value;
    operation->cautions |= step->caution;
}

/* Additions first, so that any step may name any id; skips before changes, for a skipped operation
 * takes no time whatever else is said of it. */
static void draft_steps(struct draft *draft) {
    const struct step *steps = draft->recipe->steps;
    int count = draft->recipe->step_count;
    for (int i = 0; i < count; i++)
        if (steps[i].change == STEP_ADD) draft_addition(draft, &steps[i]);
    for (int i = 0; i < count; i++)
        if (steps[i].change == STEP_SKIP) draft_skip(draft, &steps[i]);
    settle_last_topcoat(draft);
    for (int i = 0; i < count; i++)
        if (steps[i].change == STEP_CHANGE) draft_change(draft, &steps[i]);
}

struct draft draft_of(struct arena *arena, const struct recipe *recipe, double surface,
                      struct diags *diags) {
    struct draft draft = {
        .arena = arena, .recipe = recipe, .surface = surface, .diags = diags, .hints = MAX_HINTS};
    int room = recipe->step_count;
    for (int key = 0; key < OPERATION_KEYS; key++)
        room += operation_times(recipe, (enum operation_key)key);
    draft.operations = NEW(arena, struct operation, room);
    draft_needed(&draft);
    draft_steps(&draft);
    draft.sequence = sequence_new(arena, draft.count);
    draft.link_at = arena_array(arena, (size_t)draft.count, (size_t)draft.count * sizeof(int));
    return draft;
}
