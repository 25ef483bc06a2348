#include "read/merge.h"

#include <stdlib.h>

static int by_key(const void *left, const void *right) {
    const struct node *a = *(const struct node *const *)left;
    const struct node *b = *(const struct node *const *)right;
    return str_compare(a->key, b->key);
}

static bool is_section(const struct node *node) {
    return node->kind == NODE_MAPPING || node->kind == NODE_SEQUENCE;
}

/* What stands for a key that both give, or NULL if it is dropped. */
static struct node *merge_value(const struct merge *merge, struct node *base, struct node *own) {
    if (own->kind == NODE_EMPTY && base->kind != NODE_EMPTY) {
        diag_add(merge->diags, SEVERITY_WARNING, own->at, "empty",
                 is_section(base)
                     ? arena_printf(merge->arena, "`none` drops what %s gives", merge->giver)
                     : NULL,
                 "%s is not given here, so what %s gives stands",
                 diag_quote(merge->arena, own->key), merge->giver);
        return base;
    }
    if (own->kind == NODE_SCALAR && str_is(own->text, "none") && is_section(base)) return NULL;
    return own;
}

static void append(struct node *mapping, struct node **last, struct node *child) {
    child->next = NULL;
    if (*last)
        (*last)->next = child;
    else
        mapping->first = child;
    *last = child;
    mapping->count++;
}

struct node *merge_trees(const struct merge *merge, struct node *base, struct node *own) {
    size_t count = 0;
    struct node **sorted = NEW(merge->arena, struct node *, base->count);
    bool *replaced = NEW(merge->arena, bool, base->count);
    for (struct node *child = base->first; child; child = child->next) sorted[count++] = child;
    qsort(sorted, count, sizeof *sorted, by_key);
    struct node *last = NULL, *next = own->first;
    own->first = NULL;
    own->count = 0;
    for (struct node *child = next; child; child = next) {
        next = child->next;
        struct node **found = bsearch(&child, sorted, count, sizeof *sorted, by_key);
        if (found) {
            replaced[found - sorted] = true;
            bool both = (*found)->kind == NODE_MAPPING && child->kind == NODE_MAPPING;
            child = both ? merge_trees(merge, *found, child) : merge_value(merge, *found, child);
        }
        if (child) append(own, &last, child);
    }
    for (size_t i = 0; i < count; i++)
        if (!replaced[i]) append(own, &last, sorted[i]);
    return own;
}
