/* Every part on the way is copied, so that the pointer to the next one can be changed; all the rest
 * is shared with the stock.  Members are moved as bytes.
 */
#include "model/graft.h"

#include <string.h>

static void take(void *to, const void *from, const struct field *field) {
    memcpy(grammar_member(field, to), grammar_member(field, from), field->size);
    memcpy(grammar_beside(field, to), grammar_beside(field, from), field->count_size);
}

static void *copy(struct arena *arena, const void *object, enum part_id part) {
    size_t size = grammar_parts[part].size;
    return memcpy(arena_alloc(arena, size), object, size);
}

const struct recipe *graft(struct arena *arena, const struct recipe *stock,
                           const struct recipe *scion, const struct change_group *group) {
    void *root = copy(arena, stock, PART_recipe), *to = root;
    const void *from = scion;
    enum part_id part = PART_recipe;
    int steps = group->whole ? group->depth - 1 : group->depth;
    for (int i = 0; i < steps; i++) {
        const struct field *field = group->way[i];
        part = field->part;
        void *next = copy(arena, walk_sub(field, to), part);
        memcpy(grammar_member(field, to), &next, sizeof next);
        to = next;
        from = walk_sub(field, from);
    }
    if (group->whole) {
        take(to, from, group->way[steps]);
        return root;
    }
    for (int i = 0; i < grammar_parts[part].field_count; i++)
        if (grammar_is_leaf(&grammar_parts[part].fields[i]))
            take(to, from, &grammar_parts[part].fields[i]);
    return root;
}
