#include "hint.h"

#include <string.h>

#include "base/buf.h"
#include "compute/aim.h"
#include "compute/judge.h"
#include "compute/work/route.h"
#include "model/bind.h"
#include "model/check.h"

/* --- edits of a copy of the tree ------------------------------------------------------------- */

static bool same_place(struct span a, struct span b) {
    return a.file == b.file && a.line == b.line && a.column == b.column && a.length == b.length;
}

/* The mapping that begins here, or whose key stands here; or NULL. */
static struct node *mapping_at(struct node *node, struct span at) {
    bool here = same_place(node->at, at) || (node->key_at.file && same_place(node->key_at, at));
    if (node->kind == NODE_MAPPING && here) return node;
    for (struct node *child = node->first; child; child = child->next) {
        struct node *found = mapping_at(child, at);
        if (found) return found;
    }
    return NULL;
}

/* Puts a key with its value into a mapping, in the place of one that is there. */
static void put(struct node *mapping, struct node *value) {
    struct node **link = &mapping->first;
    while (*link && !str_equal((*link)->key, value->key)) link = &(*link)->next;
    value->key_at = *link ? (*link)->key_at : mapping->at;
    value->at = *link ? (*link)->at : mapping->at;
    value->next = *link ? (*link)->next : NULL;
    mapping->count += *link == NULL;
    *link = value;
}

static bool edit(struct arena *arena, struct node *root, const struct diag_edit *e) {
    struct diags ignored = {.arena = arena};
    const struct source *source = source_of(arena, "", str_of(e->text), &ignored);
    struct node *written = tree_read(arena, source, &ignored), *mapping = mapping_at(root, e->part);
    if (!written || !mapping) return false;
    for (struct node *value = written->first, *next; value; value = next) {
        next = value->next;
        put(mapping, value);
    }
    return true;
}

/* --- trying ---------------------------------------------------------------------------------- */

/* What is tried: the recipe as it stands, and what it takes from its workshop. */
struct tried {
    const struct node *root;
    const struct workshop *workshop;
};

enum verdict { FAILS, WARNS, HOLDS };

/* Whether the reader has refused part of it: what takes that part's place is not there. */
static bool is_faulty(const struct node *node) {
    if (node->kind == NODE_FAULTY) return true;
    for (const struct node *child = node->first; child; child = child->next)
        if (is_faulty(child)) return true;
    return false;
}

static void compile(struct arena *arena, const struct tried *tried, const struct node *root,
                    struct diags *diags) {
    const struct recipe *recipe = bind_recipe(arena, root, tried->workshop, diags);
    if (is_faulty(root)) {
        check_recipe(recipe, diags);
        return;
    }
    struct results results = judge_recipe(arena, recipe, diags);
    if (results.masses.count) route_of(arena, recipe, results.plug.bare.surface, diags);
}

static int count_like(const struct diags *diags, const struct diag *like, enum severity severity) {
    int count = 0;
    for (int i = 0; i < diags->count; i++) {
        const struct diag *d = &diags->items[i];
        count += d->severity == severity && same_place(d->at, like->at) &&
                 strcmp(d->rule, like->rule) == 0;
    }
    return count;
}

static enum verdict verdict_of(const struct diags *before, const struct diag *blamed,
                               const struct diags *after) {
    enum verdict verdict = HOLDS;
    if (count_like(after, blamed, blamed->severity)) return FAILS;
    for (int i = 0; i < after->count; i++) {
        const struct diag *d = &after->items[i];
        if (count_like(after, d, d->severity) <= count_like(before, d, d->severity)) continue;
        if (d->severity == SEVERITY_ERROR) return FAILS;
        verdict = WARNS;
    }
    return verdict;
}

static enum verdict try(const struct tried *tried, const struct diags *before,
                        const struct diag *blamed, const struct diag_offer *offer) {
    struct arena own = {0};
    struct diags after = {.arena = &own, .trial = true};
    struct node *changed = tree_copy(&own, tried->root);
    bool written = offer->edit_count > 0;
    for (int i = 0; i < offer->edit_count; i++)
        written = written && edit(&own, changed, &offer->edits[i]);
    if (written) compile(&own, tried, changed, &after);
    enum verdict verdict = written ? verdict_of(before, blamed, &after) : FAILS;
    arena_free(&own);
    return verdict;
}

/* The first offer of a choice that holds, or at least brings no error; or NULL. */
static struct diag_offer *best_of(const struct tried *tried, const struct diags *diags,
                                  const struct diag *diag, int choice, int *trials) {
    struct diag_offer *best = NULL;
    for (int i = 0; i < diag->offer_count; i++) {
        struct diag_offer *offer = &diag->offers[i];
        if (offer->choice != choice || *trials <= 0 || (offer->otherwise && best)) continue;
        --*trials;
        enum verdict verdict = try(tried, diags, diag, offer);
        if (verdict == HOLDS) return offer;
        if (verdict == WARNS && !best) best = offer;
    }
    return best;
}

/* What stands before the offers that hold. */
static const char *lead_of(struct arena *arena, const struct diag *diag) {
    if (diag->lead) return diag->lead;
    return diag->hint ? arena_printf(arena, "%s: write ", diag->hint) : "write ";
}

/* Of its choice. */
static bool is_first(const struct diag *diag, int offer) {
    for (int i = 0; i < offer; i++)
        if (diag->offers[i].choice == diag->offers[offer].choice) return false;
    return true;
}

static const char *hint_of(struct arena *arena, const struct tried *tried,
                           const struct diags *diags, const struct diag *diag, int *trials) {
    struct buf hint = {.arena = arena};
    for (int i = 0; i < diag->offer_count; i++) {
        int choice = diag->offers[i].choice;
        if (!is_first(diag, i)) continue;
        struct diag_offer *offer = best_of(tried, diags, diag, choice, trials);
        if (!offer) continue;
        offer->holds = true;
        buf_printf(&hint, "%s%s", hint.size ? "; or " : lead_of(arena, diag), offer->words);
    }
    return hint.size ? diag_clean(arena, hint.data) : diag->hint;
}

static int count_values(const struct node *node) {
    int count = 1;
    for (const struct node *child = node->first; child; child = child->next)
        count += count_values(child);
    return count;
}

/* At least one.  What seeks a lip is computed over and over at each. */
static int most_trials(const struct node *root, const struct recipe *recipe) {
    enum { TIMES_SEEKING = 40, MOST_SEEKING = 6 };
    bool seeks = recipe && aim_seeks(recipe);
    int most = HINT_MOST_VALUES / count_values(root),
        limit = seeks ? MOST_SEEKING : HINT_MOST_TRIALS;
    if (seeks) most = most / TIMES_SEEKING + 1;
    return most < limit ? most : limit;
}

int hints_settle(struct arena *arena, const struct node *root, const struct workshop *workshop,
                 const struct recipe *recipe, struct diags *diags) {
    const struct tried tried = {root, workshop};
    int most = most_trials(root, recipe), trials = most;
    for (int i = 0; i < diags->count; i++)
        diags->items[i].hint = hint_of(arena, &tried, diags, &diags->items[i], &trials);
    return most - trials;
}
