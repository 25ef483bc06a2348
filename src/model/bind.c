/* One walk over the tree, led by the rows of the grammar: a mapping binds a part, each of its keys
 * a field of that part; what was not written takes its default from the row. */
#include "model/bind.h"

#include <string.h>

#include "model/grammar.h"
#include "model/places.h"
#include "model/reference.h"
#include "model/value.h"
#include "tables/fact.def"

/* A part that is being bound, in the one that holds it. */
struct frame {
    const struct frame *outer;
    const struct part *part;
    void *object;
};

struct binder {
    struct arena *arena;
    struct diags *diags;
    struct places *places;
    const struct frame *frame;       /* the innermost */
    const struct part *spilled;      /* whose keys stand beside their own, said already */
    const struct workshop *workshop; /* whose own woods are known, or NULL */
    const struct node *woods;        /* of a workshop itself: as they are written, or NULL */
};

static void fail(struct binder *b, struct span at, const char *rule, const char *hint,
                 const char *message) {
    diag_add(b->diags, SEVERITY_ERROR, at, rule, hint, "%s", message);
}

/* "length: nose to tail, without hardware", as a hint. */
static const char *field_hint(struct binder *b, const struct field *field) {
    return arena_printf(b->arena, "%s: %s", field->key, field->doc);
}

static void bind_part(struct binder *b, const struct node *node, struct span at, enum part_id id,
                      void *object);

static void fail_kind(struct binder *b, const struct node *node, const struct field *field,
                      const char *due) {
    fail(b, node->at, "node-kind", field_hint(b, field),
         arena_printf(b->arena, "'%s' is due as %s", field->key, due));
}

/* `none` where no base gives the part, and an empty value, both mean "not given". */
static bool is_none(const struct node *node) {
    return node->kind == NODE_SCALAR && str_is(node->text, "none");
}

struct kind {
    enum field_kind kind;
    bool (*bind)(struct binder *b, const struct node *node, const struct field *field,
                 void *object);
};
static const struct kind kinds[FIELD_KINDS];

/* Fit to be written behind a key in braces: as it is, or in quotes. */
static const char *as_value(struct binder *b, struct str text) {
    bool plain = text.size > 0;
    for (size_t i = 0; i < text.size; i++) {
        char c = text.data[i];
        bool word = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
        plain = plain && (word || (i > 0 && c && strchr(" ./%", c)));
        if (c == '"' || c == '\\' || (unsigned char)c < ' ') return NULL;
    }
    return arena_printf(b->arena, plain ? "%.*s" : "\"%.*s\"", (int)text.size, text.data);
}

/* The field of a part that a lone value may have been meant for: one that must be given and takes
 * it, else the first that takes it. */
static const struct field *meant_for(struct binder *b, const struct part *part, struct str text) {
    void *scratch = arena_alloc(b->arena, part->size);
    const struct field *first = NULL;
    for (int i = 0; i < part->field_count; i++) {
        const struct field *field = &part->fields[i];
        struct value_problem problem = {.rule = "value"};
        bool single = grammar_is_leaf(field) && !kinds[field->kind].bind;
        if (!single || !value_read(b->arena, text, field, scratch, &problem)) continue;
        if (grammar_required(field)) return field;
        if (!first) first = field;
    }
    return first;
}

/* The shape of a part in which this lone value has its place, as a hint. */
static const char *shape_hint(struct binder *b, const struct node *node,
                              const struct field *field) {
    const struct part *part = &grammar_parts[field->part];
    bool lone = node->kind == NODE_SCALAR && field->kind == FIELD_PART;
    const struct field *meant = lone ? meant_for(b, part, node->text) : NULL;
    const char *value = meant ? as_value(b, node->text) : NULL;
    if (value) return arena_printf(b->arena, "such as %s: {%s: %s}", field->key, meant->key, value);
    struct buf keys = {.arena = b->arena};
    for (int i = 0; i < part->field_count; i++)
        if (grammar_required(&part->fields[i]))
            buf_printf(&keys, "%s%s: ...", keys.size ? ", " : "", part->fields[i].key);
    if (!keys.size) buf_printf(&keys, "%s: ...", part->fields[0].key);
    const char *before = field->kind == FIELD_PART ? "" : "- ";
    return arena_printf(b->arena, "such as %s{%s}; %s: %s", before, keys.data, field->key,
                        field->doc);
}

static bool bind_sub(struct binder *b, const struct node *node, const struct field *field,
                     void *object) {
    if (node && node->kind != NODE_MAPPING) {
        fail(b, node->at, "node-kind", shape_hint(b, node, field),
             arena_printf(b->arena, "'%s' has keys of its own, each with its value", field->key));
        return false;
    }
    const struct part *part = &grammar_parts[field->part];
    void *child = arena_alloc(b->arena, part->size);
    *(void **)grammar_member(field, object) = child;
    bind_part(b, node, node ? node->key_at : (struct span){0}, field->part, child);
    return true;
}

static bool count_allowed(struct binder *b, const struct node *node, const struct field *field) {
    if (node->count >= (int)field->min && node->count <= (int)field->max) return true;
    fail(b, node->key_at, "range", field_hint(b, field),
         arena_printf(b->arena, "'%s' has %d item%s; %d to %d are allowed", field->key, node->count,
                      node->count == 1 ? "" : "s", (int)field->min, (int)field->max));
    return false;
}

static bool bind_list(struct binder *b, const struct node *node, const struct field *field,
                      void *object) {
    if (node->kind != NODE_SEQUENCE) {
        fail(b, node->at, "node-kind",
             arena_printf(b->arena, "each entry begins with a dash and a blank; %s",
                          field_hint(b, field)),
             arena_printf(b->arena, "'%s' is a list", field->key));
        return false;
    }
    if (!count_allowed(b, node, field)) return false;
    const struct part *part = &grammar_parts[field->part];
    char *items = arena_array(b->arena, (size_t)node->count, part->size);
    *(void **)grammar_member(field, object) = items;
    *(int *)grammar_beside(field, object) = node->count;
    for (const struct node *item = node->first; item; item = item->next, items += part->size) {
        bool mapping = item->kind == NODE_MAPPING;
        if (!mapping)
            fail(b, item->at, "node-kind", shape_hint(b, item, field),
                 arena_printf(b->arena, "each entry of '%s' has keys of its own", field->key));
        places_part(b->places, items, part->size, item->at);
        if (mapping)
            bind_part(b, item, item->at, field->part, items);
        else
            places_break(b->places, items);
    }
    return true;
}

static bool bind_load(struct binder *b, const struct node *node, const struct field *field,
                      void *object) {
    struct bore *bore = object;
    if (node->kind == NODE_SEQUENCE) return bind_list(b, node, field, object);
    if (node->kind == NODE_SCALAR && str_is(node->text, "solve")) return bore->solve = true;
    fail_kind(b, node, field, "a list of pieces, or the word solve");
    return false;
}

static bool bind_words(struct binder *b, const struct node *node, const struct field *field,
                       void *object) {
    if (node->kind != NODE_SEQUENCE) {
        fail_kind(b, node, field, "a list of words");
        return false;
    }
    if (!count_allowed(b, node, field)) return false;
    struct str *words = NEW(b->arena, struct str, node->count);
    *(struct str **)grammar_member(field, object) = words;
    *(int *)grammar_beside(field, object) = node->count;
    for (const struct node *item = node->first; item; item = item->next, words++) {
        if (item->kind != NODE_SCALAR) {
            fail_kind(b, item, field, "a list of words");
            return false;
        }
        *words = item->text;
        places_value(b->places, words, item->at);
    }
    return true;
}

/* Whether the file that is bound has an own wood of this name. */
static bool names_wood(const struct node *woods, struct str name) {
    for (const struct node *item = woods ? woods->first : NULL; item; item = item->next) {
        const struct node *own = tree_find(item, "name");
        if (own && own->kind == NODE_SCALAR && str_equal(own->text, name)) return true;
    }
    return false;
}

/* A wood of the workshop's own; in the workshop itself its row is settled when all are known. */
static bool bind_own_wood(struct binder *b, struct str name, const struct field *field,
                          void *object) {
    const struct wood_row *row = workshop_wood(b->workshop, name);
    if (!row && !names_wood(b->woods, name)) return false;
    *(struct str *)grammar_member(field, object) = name;
    *(const struct wood_row **)grammar_beside(field, object) = row;
    return true;
}

/* What a wood that is not known may have been meant for, the workshop's own among them; NULL where
 * it has none. */
static const char *species_hint(struct binder *b, struct str text, const struct field *field) {
    const char *names[2 * MAX_OWN + 128], *name;
    struct buf own = {.arena = b->arena};
    size_t count = 0;
    for (int i = 0; b->workshop && i < b->workshop->own_wood_count; i++) {
        names[count++] = b->workshop->woods[i].row.name;
        buf_printf(&own, "%s, ", names[count - 1]);
    }
    if (!count) return NULL;
    for (int i = 0; count < sizeof names / sizeof *names && (name = grammar_word(field, i)); i++)
        if (*name) names[count++] = name;
    const char *nearest = str_nearest(text, names, count);
    return nearest
               ? arena_printf(b->arena, "did you mean '%s'?", nearest)
               : arena_printf(b->arena, "one of: %s%s", own.data, grammar_words(b->arena, field));
}

static bool bind_scalar(struct binder *b, struct str text, struct span at,
                        const struct field *field, void *object) {
    if (field->kind == FIELD_SPECIES && bind_own_wood(b, text, field, object)) return true;
    struct value_problem problem = {.at = at, .rule = "value"};
    if (value_read(b->arena, text, field, object, &problem)) return true;
    const char *own = field->kind == FIELD_SPECIES ? species_hint(b, text, field) : NULL;
    const char *hint = own ? own : problem.hint;
    fail(b, at, problem.rule, hint ? hint : field_hint(b, field), problem.error);
    return false;
}

/* Of one of a field's quantities. */
static bool bind_item(struct binder *b, struct str text, struct span at, const struct field *field,
                      double *item) {
    struct field one = *field;
    one.kind = FIELD_QUANTITY, one.offset = 0;
    return bind_scalar(b, text, at, &one, item);
}

static double *place_quantities(struct binder *b, const struct field *field, void *object,
                                int count) {
    double *items = NEW(b->arena, double, count);
    *(double **)grammar_member(field, object) = items;
    *(int *)grammar_beside(field, object) = count;
    return items;
}

/* One quantity, or a list of them.  What was refused leaves nothing behind. */
static bool bind_quantities(struct binder *b, const struct node *node, const struct field *field,
                            void *object) {
    bool many = node->kind == NODE_SEQUENCE, clean = true;
    int count = many ? node->count : 1;
    if (count < 1 || count > field->most) {
        fail(b, node->at, "range", field_hint(b, field),
             arena_printf(b->arena, "'%s' has %d items; 1 to %d are allowed", field->key, count,
                          field->most));
        return false;
    }
    double *item = place_quantities(b, field, object, count);
    for (const struct node *n = many ? node->first : node; n; n = many ? n->next : NULL, item++) {
        places_value(b->places, item, n->at);
        if (n->kind == NODE_SCALAR) {
            clean &= bind_item(b, n->text, n->at, field, item);
        } else {
            fail_kind(b, n, field, "a value, or a list of values");
            clean = false;
        }
    }
    if (!clean) *(int *)grammar_beside(field, object) = 0;
    return clean;
}

/* Each word is read as one row of the field's table; all of them are bits of one member. */
static bool bind_marks(struct binder *b, const struct node *node, const struct field *field,
                       void *object) {
    struct field word = *field;
    int row = 0;
    unsigned marks = 0;
    bool clean = true;
    word.kind = FIELD_ROW, word.offset = 0;
    if (node->kind != NODE_SEQUENCE) {
        fail_kind(b, node, field, "a list of words");
        return false;
    }
    if (!count_allowed(b, node, field)) return false;
    for (const struct node *item = node->first; item; item = item->next) {
        bool scalar = item->kind == NODE_SCALAR;
        if (!scalar) fail_kind(b, item, field, "a list of words");
        bool known = scalar && bind_scalar(b, item->text, item->at, &word, &row);
        if (known) marks |= 1u << row;
        clean &= known;
    }
    memcpy(grammar_member(field, object), &marks, sizeof marks);
    return clean;
}

/* A text that goes on behind a #, for whoever wrote it and not for YAML. */
static void warn_of_tail(struct binder *b, const struct node *node) {
    struct str text = node->text, tail = node->tail;
    if (!tail.size) return;
    diag_add(b->diags, SEVERITY_WARNING, node->at, "comment",
             arena_printf(b->arena,
                          "\"%.*s %.*s\" if it belongs to it; else two blanks before the #, "
                          "and one behind it",
                          (int)text.size, text.data, (int)tail.size, tail.data),
             "this text ends before the #, which begins a comment");
}

/* "10 m, 20 m" of a row. */
static void default_quantities(struct binder *b, const struct field *field, const char *text,
                               void *object) {
    int count = 1;
    for (const char *c = text; *c; c++) count += *c == ',';
    double *items = place_quantities(b, field, object, count);
    for (int i = 0; i < count; i++) {
        size_t size = strcspn(text, ",");
        bind_item(b, str_trim((struct str){text, size}), (struct span){0}, field, &items[i]);
        text += size + 1;
    }
}

static bool bind_single(struct binder *b, const struct node *node, const struct field *field,
                        void *object) {
    if (node->kind == NODE_SCALAR && field->kind == FIELD_TEXT) warn_of_tail(b, node);
    if (node->kind == NODE_SCALAR) return bind_scalar(b, node->text, node->at, field, object);
    fail_kind(b, node, field, "a single value");
    return false;
}

static bool bind_hours(struct binder *b, const struct node *node, const struct field *field,
                       void *object) {
    struct value_problem problem = {.at = node->at, .rule = "value"};
    if (value_hours(b->arena, node, grammar_member(field, object), &problem)) return true;
    fail(b, problem.at, problem.rule, problem.hint, problem.error);
    return false;
}

static const struct kind kinds[FIELD_KINDS] = {
#define KIND(id, ...)  [FIELD_##id] = {.kind = FIELD_##id, __VA_ARGS__},
#define BIND(function) .bind = function,
#include "model/kind.def"
};

/* Returns whether the value was understood. */
static bool bind_value(struct binder *b, const struct node *node, const struct field *field,
                       void *object) {
    if (node->kind == NODE_FAULTY) return false; /* said already */
    return (kinds[field->kind].bind ? kinds[field->kind].bind : bind_single)(b, node, field,
                                                                             object);
}

/* Where a word of these is chosen in this part, or NULL. */
static const int *choice_in(const struct frame *frame, const char *const *words) {
    for (int i = 0; i < frame->part->field_count; i++)
        if (frame->part->fields[i].words == words)
            return grammar_member(&frame->part->fields[i], frame->object);
    return NULL;
}

/* Which of the words was chosen in this part, or in the nearest that holds it, as the rows of the
 * grammar promise; the first of them where none was understood, which is an error by then. */
static int chosen(const struct frame *frame, const char *const *words) {
    const int *choice;
    while (!(choice = choice_in(frame, words))) frame = frame->outer;
    return *choice;
}

static const char *default_of(const struct binder *b, const struct field *field) {
    return field->by_kind ? field->by_kind(chosen(b->frame, field->kinds)) : field->fallback;
}

static void bind_default(struct binder *b, const struct field *field, void *object) {
    const char *text = default_of(b, field);
    if (field->kind == FIELD_PART && field->need == ALWAYS) bind_sub(b, NULL, field, object);
    if (!text) return;
    if (field->kind == FIELD_QUANTITIES)
        default_quantities(b, field, text, object);
    else
        bind_scalar(b, str_of(text), (struct span){0}, field, object);
    places_default(b->places, grammar_member(field, object), text);
}

/* body: and below it length:, no further in: keys of that part among those of the part around. */
static bool fail_spilled(struct binder *b, const struct node *node, const struct field *field) {
    if (grammar_is_leaf(field) || field->kind != FIELD_PART || !node->next) return false;
    const struct part *inner = &grammar_parts[field->part];
    const struct node *next = node->next;
    if (!grammar_field(inner, next->key) || grammar_field(b->frame->part, next->key)) return false;
    fail(b, next->key_at, "key",
         arena_printf(b->arena, "two blanks more before it, and before the lines that follow"),
         arena_printf(b->arena, "this belongs to '%s', and stands no further in", field->key));
    b->spilled = inner;
    return true;
}

/* A key without a value. An unquoted colour is the usual cause where a colour is due. */
static bool bind_empty(struct binder *b, const struct node *node, const struct field *field) {
    struct str comment = tree_comment(node);
    if (field->kind == FIELD_HEX && comment.size > 1) {
        fail(b, node->at, "empty",
             arena_printf(b->arena, "put the colour in quotes: hex: \"%.*s\"", (int)comment.size,
                          comment.data),
             "an unquoted # begins a comment, so 'hex' has no value");
        return false;
    }
    diag_add(b->diags, SEVERITY_WARNING, node->key_at, "empty", field_hint(b, field),
             "'%s' has no value and counts as not given", field->key);
    return true;
}

/* shape:square in braces, or section:{…: the field whose key stands before the colon. */
static const struct field *field_before_colon(const struct part *part, struct str key) {
    const char *colon = memchr(key.data, ':', key.size);
    if (!colon) return NULL;
    return grammar_field(part, (struct str){key.data, (size_t)(colon - key.data)});
}

static void fail_colon(struct binder *b, const struct node *node, const struct field *field) {
    size_t size = strlen(field->key) + 1;
    struct span at = node->key_at;
    at.column += (int)size - 1;
    at.length = 1;
    fail(b, at, "key", arena_printf(b->arena, "write %s: with a blank behind it", field->key),
         "a blank is missing behind this colon");
}

static void fail_unknown(struct binder *b, const struct part *part, const struct node *node) {
    const char *names[64];
    size_t count = 0;
    for (int i = 0; i < part->field_count && count < 64; i++) names[count++] = part->fields[i].key;
    const char *nearest = str_nearest(node->key, names, count);
    const char *hint = nearest ? arena_printf(b->arena, "did you mean '%s'?", nearest) : NULL;
    diag_add(b->diags, SEVERITY_ERROR, node->key_at, "unknown-key", hint, "unknown key %s in %s",
             diag_quote(b->arena, node->key), part->name);
}

static void fail_missing(struct binder *b, struct span at, const struct part *part,
                         const struct field *field) {
    diag_add(b->diags, SEVERITY_ERROR, at, "missing-key", field_hint(b, field),
             "%s lacks its key '%s'", part->name, field->key);
}

/* Binds the value of one key; `seen` is told what was given. */
static bool bind_key(struct binder *b, const struct node *node, const struct part *part,
                     void *object, bool *seen) {
    const struct field *field = grammar_field(part, node->key);
    if (!field) {
        const struct field *near = field_before_colon(part, node->key);
        if (near) {
            seen[near - part->fields] = true;
            fail_colon(b, node, near);
        } else if (!b->spilled || !grammar_field(b->spilled, node->key)) {
            fail_unknown(b, part, node);
        }
        return false;
    }
    if (node->kind == NODE_EMPTY && fail_spilled(b, node, field)) {
        seen[field - part->fields] = true;
        return false;
    }
    if (node->kind == NODE_EMPTY) {
        if (bind_empty(b, node, field)) return true;
        seen[field - part->fields] = true;
        return false;
    }
    bool optional_part = !grammar_is_leaf(field);
    if (is_none(node) && optional_part && !grammar_required(field)) return true;
    seen[field - part->fields] = true;
    places_value(b->places, grammar_member(field, object), optional_part ? node->key_at : node->at);
    return bind_value(b, node, field, object);
}

static bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/* 9,5 mm between braces: the value 9, and a key "5 mm" without a value. */
static bool fail_decimal_comma(struct binder *b, const struct node *node) {
    const struct node *next = node->next;
    if (node->kind != NODE_SCALAR || !next || next->kind != NODE_EMPTY || !next->key.size)
        return false;
    if (!node->text.size || !is_digit(next->key.data[0])) return false;
    for (size_t i = 0; i < node->text.size; i++)
        if (!is_digit(node->text.data[i])) return false;
    fail(b, node->at, "value",
         arena_printf(b->arena, "write %.*s.%.*s", (int)node->text.size, node->text.data,
                      (int)next->key.size, next->key.data),
         "a comma is not a decimal sign: it parts one key from the next");
    return true;
}

/* The keys that are choices, or those that are not. */
static bool bind_keys(struct binder *b, const struct node *node, const struct part *part,
                      void *object, bool *seen, bool choices) {
    bool clean = true;
    for (const struct node *child = node ? node->first : NULL; child; child = child->next) {
        const struct field *field = grammar_field(part, child->key);
        const struct field *near = field ? field : field_before_colon(part, child->key);
        bool choice = near && near->kind == FIELD_CHOICE;
        if (choice != choices) continue;
        if (field && fail_decimal_comma(b, child)) {
            seen[field - part->fields] = true;
            clean = false;
            child = child->next;
        } else {
            clean &= bind_key(b, child, part, object, seen);
        }
    }
    return clean;
}

static bool bind_missing(struct binder *b, struct span at, const struct part *part, void *object,
                         const bool *seen, bool choices) {
    bool clean = true;
    for (int i = 0; i < part->field_count; i++) {
        const struct field *field = &part->fields[i];
        if (seen[i] || (field->kind == FIELD_CHOICE) != choices) continue;
        if (grammar_required(field)) {
            fail_missing(b, at, part, field);
            clean = false;
        } else {
            bind_default(b, field, object);
        }
    }
    return clean;
}

/* Choices first: defaults of the others, and of the parts among them, may depend on these. */
static void bind_part(struct binder *b, const struct node *node, struct span at, enum part_id id,
                      void *object) {
    const struct part *part = &grammar_parts[id];
    const struct frame frame = {b->frame, part, object};
    bool seen[64] = {false}, clean = true;
    places_part(b->places, object, part->size, at);
    b->frame = &frame;
    for (int round = 0; round < 2; round++) {
        bool choices = round == 0;
        clean &= bind_keys(b, node, part, object, seen, choices);
        clean &= bind_missing(b, at, part, object, seen, choices);
    }
    b->frame = frame.outer;
    if (!clean) places_break(b->places, object);
}

/* What `steps` say once: which of the four keys, and the id that it names. */
static void settle_step(struct step *step) {
    step->change = STEP_ORDER;
    if (step->skip_id.size) step->change = STEP_SKIP, step->id = step->skip_id;
    if (step->change_id.size) step->change = STEP_CHANGE, step->id = step->change_id;
    if (step->add_id.size) step->change = STEP_ADD, step->id = step->add_id;
}

static void settle_hardware(struct hardware *hardware) {
    for (int i = 0; hardware && i < hardware->hanger_count; i++) {
        if (hardware->hangers[i].hook) workshop_plain_size(&hardware->hangers[i].hook->size);
        if (hardware->hangers[i].ring) workshop_plain_size(&hardware->hangers[i].ring->size);
    }
}

/* A layer that says nothing of its thinning takes the paint's. */
static void settle_layers(struct recipe *recipe) {
    struct paint *paint = recipe->finish ? recipe->finish->paint : NULL;
    for (int i = 0; paint && i < paint->layer_count; i++) {
        struct layer *layer = &paint->layers[i];
        layer->thin_given = recipe_wrote(recipe, &layer->thin);
        if (!layer->thin_given) layer->thin = paint->thin;
    }
}

const struct recipe *bind_recipe(struct arena *arena, const struct node *root,
                                 const struct workshop *workshop, struct diags *diags) {
    struct binder b = {
        .arena = arena, .diags = diags, .places = places_new(arena), .workshop = workshop};
    struct recipe *recipe = NEW(arena, struct recipe, 1);
    recipe->places = b.places;
    recipe->workshop = workshop;
    bind_part(&b, root, root->at, PART_recipe, recipe);
    for (int i = 0; i < recipe->step_count; i++) settle_step(&recipe->steps[i]);
    settle_layers(recipe);
    settle_hardware(recipe->hardware);
    return recipe;
}

/* What an own wood leaves out is that of the wood that it is like, or is called. */
static void settle_wood(struct binder *b, struct own_wood *wood) {
    const struct field *like = grammar_field(&grammar_parts[PART_own_wood], str_of("like"));
    int row =
        places_wrote(b->places, &wood->like) ? wood->like : grammar_word_find(like, wood->name);
    const struct wood_row *table = row < 0 ? NULL : &reference_wood[row];
    const char *times = !wood->weighed.given ? ""
                        : wood->weighed.value == 1
                            ? ", weighed once"
                            : arena_printf(b->arena, ", weighed %.0f times", wood->weighed.value);
    wood->row = table ? *table : (struct wood_row){.latin = "", .hardwood = true};
    wood->row.name = diag_clean(
        b->arena, arena_copy(b->arena, wood->name.data ? wood->name.data : "", wood->name.size));
    wood->row.source = arena_printf(b->arena, "own workshop%s", times);
    if (!table) wood->row.spread = FIGURE_SPREAD_TABLE * 0.01;
    if (wood->spread.given) wood->row.spread = wood->spread.value;
    if (!wood->density.given) return;
    wood->row.gravity = reference_wood_basic(wood->density.value, wood->moisture);
    wood->row.basic = wood->row.own = true;
}

/* What the stock says, now that the own woods are known. */
static void settle_stock(const struct stock *stock, const struct workshop *workshop) {
    for (int i = 0; stock && i < stock->stock_board_count; i++) {
        const struct wood_row *own = workshop_wood(workshop, stock->boards[i].species);
        if (own) stock->boards[i].row = own;
    }
    for (int i = 0; stock && i < stock->stock_hook_count; i++)
        workshop_plain_size(&stock->hooks[i].size);
    for (int i = 0; stock && i < stock->stock_ring_count; i++)
        workshop_plain_size(&stock->rings[i].size);
}

const struct workshop *bind_workshop(struct arena *arena, const struct node *root,
                                     struct diags *diags) {
    struct binder b = {.arena = arena, .diags = diags, .places = places_new(arena)};
    struct workshop *workshop = NEW(arena, struct workshop, 1);
    b.woods = tree_find(root, "woods");
    workshop->file = root->at.file;
    workshop->places = b.places;
    bind_part(&b, root, root->at, PART_workshop, workshop);
    for (int i = 0; i < workshop->own_wood_count; i++) settle_wood(&b, &workshop->woods[i]);
    for (int i = 0; i < workshop->own_hook_count; i++)
        workshop_plain_size(&workshop->hooks[i].size);
    for (int i = 0; i < workshop->own_ring_count; i++)
        workshop_plain_size(&workshop->rings[i].size);
    settle_stock(workshop->stock, workshop);
    return workshop;
}
