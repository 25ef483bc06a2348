/* Every part on the way is copied, so that the pointer to the next one can be changed; all the rest
 * is shared with the stock.  Members are moved as bytes, by what their kind takes up.
 */
#include "model/graft.h"

#include <string.h>

static size_t member_size(enum field_kind kind) {
    switch (kind) {
    case FIELD_QUANTITY:
        return sizeof(double);
    case FIELD_OPT:
        return sizeof(struct opt);
    case FIELD_POSITION:
        return sizeof(struct position);
    case FIELD_INTEGER:
    case FIELD_CHOICE:
    case FIELD_ROW:
        return sizeof(int);
    case FIELD_FLAG:
        return sizeof(bool);
    case FIELD_TEXT:
        return sizeof(struct str);
    case FIELD_PARTS:
        return sizeof(struct parts);
    case FIELD_HEX:
        return sizeof(unsigned);
    case FIELD_MOMENT:
        return sizeof(struct moment);
    case FIELD_HOURS:
    case FIELD_LOAD:
    case FIELD_WORDS:
    case FIELD_PART:
    case FIELD_LIST:
        return sizeof(void *);
    }
    return 0;
}

static void take(void *to, const void *from, const struct field *field) {
    memcpy((char *)to + field->offset, (const char *)from + field->offset,
           member_size(field->kind));
    size_t count = field->kind == FIELD_HEX ? sizeof(bool) : sizeof(int);
    if (field->count_offset)
        memcpy((char *)to + field->count_offset, (const char *)from + field->count_offset, count);
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
        memcpy((char *)to + field->offset, &next, sizeof next);
        to = next;
        from = walk_sub(field, from);
    }
    if (group->whole) {
        take(to, from, group->way[steps]);
        return root;
    }
    for (int i = 0; i < grammar_parts[part].field_count; i++)
        if (walk_is_leaf(&grammar_parts[part].fields[i]))
            take(to, from, &grammar_parts[part].fields[i]);
    return root;
}
