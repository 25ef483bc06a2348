/* jansson bounds the depth of what it reads, and so that of the copy made here. */
#include "base/json.h"

#include <jansson.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>

static void *allocate(size_t size) {
    void *memory = malloc(size);
    if (!memory) arena_out_of_memory();
    return memory;
}

void json_memory(void) {
    json_set_alloc_funcs(allocate, free);
    json_object_seed(1); /* what is read is bounded: no secret, no clock and no device are needed */
}

static struct json_value *copy(struct arena *arena, json_t *from);

static void add(struct json_value ***last, struct json_value *value) {
    **last = value;
    *last = &value->next;
}

static void copy_items(struct arena *arena, json_t *from, struct json_value *into) {
    struct json_value **last = &into->first;
    for (size_t i = 0; i < json_array_size(from); i++)
        add(&last, copy(arena, json_array_get(from, i)));
}

static void copy_members(struct arena *arena, json_t *from, struct json_value *into) {
    struct json_value **last = &into->first;
    const char *key;
    json_t *member;
    json_object_foreach(from, key, member) {
        struct json_value *value = copy(arena, member);
        value->key = str_of(arena_copy(arena, key, strlen(key)));
        add(&last, value);
    }
}

static struct json_value *copy(struct arena *arena, json_t *from) {
    struct json_value *value = NEW(arena, struct json_value, 1);
    if (json_is_object(from)) {
        value->kind = VALUE_OBJECT;
        copy_members(arena, from, value);
    } else if (json_is_array(from)) {
        value->kind = VALUE_LIST;
        copy_items(arena, from, value);
    } else if (json_is_string(from)) {
        size_t size = json_string_length(from);
        value->kind = VALUE_TEXT;
        value->text = (struct str){arena_copy(arena, json_string_value(from), size), size};
    } else if (json_is_number(from)) {
        value->kind = VALUE_NUMBER;
        value->number = json_number_value(from);
        value->whole = json_is_integer(from);
    } else if (json_is_boolean(from)) {
        value->kind = VALUE_FLAG;
        value->flag = json_is_true(from);
    }
    return value;
}

const struct json_value *json_read(struct arena *arena, struct str bytes, const char **wrong) {
    json_error_t error;
    json_memory();
    json_t *root = json_loadb(bytes.data, bytes.size, JSON_ALLOW_NUL | JSON_DECODE_ANY, &error);
    if (!root) {
        *wrong = arena_printf(arena, "line %d: %s", error.line, error.text);
        return NULL;
    }
    const struct json_value *value = copy(arena, root);
    json_decref(root);
    return value;
}

const struct json_value *json_at(const struct json_value *value, const char *keys) {
    while (value && *keys) {
        struct str key = {keys, strcspn(keys, ".")};
        keys += key.size + (keys[key.size] == '.');
        value = value->kind == VALUE_OBJECT ? value->first : NULL;
        while (value && !str_equal(value->key, key)) value = value->next;
    }
    return value;
}

struct str json_text_at(const struct json_value *value, const char *keys) {
    value = json_at(value, keys);
    return value && value->kind == VALUE_TEXT ? value->text : str_of("");
}

int json_whole_at(const struct json_value *value, const char *keys, int otherwise) {
    value = json_at(value, keys);
    bool fits = value && value->kind == VALUE_NUMBER && value->whole && value->number <= INT_MAX &&
                value->number >= INT_MIN;
    return fits ? (int)value->number : otherwise;
}
