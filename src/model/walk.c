/* Numbers reach their text in two steps: to twelve significant digits first, which takes away what
 * the arithmetic of units left (6 in is 152.39999999999998 mm), then to the decimals of their
 * dimension.  So two ways of writing one length cannot fall on different sides of a rounding.
 */
#include "model/walk.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/unicode.h"

/* --- texts ----------------------------------------------------------------------------------- */

/* At most `most` characters of the text; what cannot be shown, and the characters of `marks`, are
 * escaped. */
static const char *escaped(struct arena *arena, struct str text, const char *marks, size_t most) {
    struct buf out = {.arena = arena};
    buf_text(&out, "");
    for (size_t points = 0; text.size; points++) {
        if (points == most) {
            buf_text(&out, "\xe2\x80\xa6");
            break;
        }
        struct character c = unicode_take(&text);
        bool mark = c.point < 0x80 && strchr(marks, (int)c.point);
        if (c.point == '\n')
            buf_text(&out, "\\n");
        else if (c.kind != CHARACTER_SHOWN || mark)
            buf_printf(&out, "\\u{%x}", (unsigned)c.point);
        else
            buf_str(&out, c.bytes);
    }
    return out.data;
}

static struct str without_last_breaks(struct str text) {
    while (text.size && text.data[text.size - 1] == '\n') text.size--;
    return text;
}

const char *walk_plain(struct arena *arena, struct str text) {
    return escaped(arena, without_last_breaks(text), "\\", SIZE_MAX);
}

/* --- numbers --------------------------------------------------------------------------------- */

static double settled(double value) {
    char text[40];
    snprintf(text, sizeof text, "%.12g", value);
    return strtod(text, NULL);
}

static const char *decimal(struct arena *arena, double value, int decimals) {
    char *text = arena_printf(arena, "%.*f", decimals, settled(value));
    size_t size = strlen(text);
    if (!strchr(text, '.')) return text;
    while (text[size - 1] == '0') size--;
    if (text[size - 1] == '.') size--;
    text[size] = '\0';
    return strcmp(text, "-0") == 0 ? "0" : text;
}

static void set_number(struct arena *arena, struct walk_fact *fact, double value,
                       enum dimension dimension) {
    const struct unit *unit = dimension_unit(dimension);
    fact->number = settled(unit ? unit_number(unit, value) : value);
    fact->text = decimal(arena, fact->number, dimension_decimals(dimension));
    if (unit) fact->text = arena_printf(arena, "%s %s", fact->text, unit->name);
}

/* What a share of the place is a share of: the lip for a line tie on it, else the body. */
static double length_under(const struct walk *w, enum part_id part, const void *object) {
    const struct fitting *tie = object;
    if (part == PART_line_tie && tie->place == PLACE_LIP)
        return w->recipe->lip ? w->recipe->lip->length : 0;
    return w->recipe->body ? w->recipe->body->length : 0;
}

/* --- canonical texts ------------------------------------------------------------------------- */

/* One value of a part, and where it stands. */
struct leaf {
    const struct walk *walk;
    enum part_id part;
    const struct field *field;
    const void *object, *member;
};

static void tell_quantity(const struct leaf *l, struct walk_fact *fact) {
    set_number(l->walk->arena, fact, *(const double *)l->member, l->field->dimension);
}

static void tell_solvable(const struct leaf *l, struct walk_fact *fact) {
    if (*(const bool *)grammar_beside(l->field, l->object))
        fact->text = "solve";
    else
        tell_quantity(l, fact);
}

static void tell_opt(const struct leaf *l, struct walk_fact *fact) {
    set_number(l->walk->arena, fact, ((const struct opt *)l->member)->value, l->field->dimension);
}

/* One is a number, several are not. */
static void tell_quantities(const struct leaf *l, struct walk_fact *fact) {
    const double *values = *(double *const *)l->member;
    int count = *(int *)grammar_beside(l->field, l->object);
    struct buf out = {.arena = l->walk->arena};
    for (int i = 0; i < count; i++) {
        set_number(l->walk->arena, fact, values[i], l->field->dimension);
        buf_printf(&out, "%s%s", i ? ", " : "", fact->text);
    }
    fact->text = out.data;
    if (count > 1) fact->number = NAN;
}

static void tell_position(const struct leaf *l, struct walk_fact *fact) {
    struct position position = *(const struct position *)l->member;
    double length = length_under(l->walk, l->part, l->object);
    if (position.share && !(length > 0))
        set_number(l->walk->arena, fact, position.value, DIM_SHARE);
    else
        set_number(l->walk->arena, fact, position_in(position, length), DIM_LENGTH);
}

static void tell_integer(const struct leaf *l, struct walk_fact *fact) {
    set_number(l->walk->arena, fact, *(const int *)l->member, DIM_NUMBER);
}

static void tell_flag(const struct leaf *l, struct walk_fact *fact) {
    fact->text = *(const bool *)l->member ? "true" : "false";
}

static void tell_text(const struct leaf *l, struct walk_fact *fact) {
    fact->text = walk_plain(l->walk->arena, *(const struct str *)l->member);
}

static void tell_word(const struct leaf *l, struct walk_fact *fact) {
    fact->text = grammar_word(l->field, *(const int *)l->member);
}

/* 4:2 and 2:1 are the same mix. */
static void tell_parts(const struct leaf *l, struct walk_fact *fact) {
    struct arena *arena = l->walk->arena;
    const struct parts *parts = l->member;
    fact->text = arena_printf(arena, "%s:1%s", decimal(arena, parts->first / parts->second, 6),
                              parts->by_mass ? " by mass" : "");
}

static void tell_hex(const struct leaf *l, struct walk_fact *fact) {
    fact->text = arena_printf(l->walk->arena, "#%06X", *(const unsigned *)l->member);
}

static void tell_moment(const struct leaf *l, struct walk_fact *fact) {
    const struct moment *m = l->member;
    fact->text = arena_printf(l->walk->arena, "%04d-%02d-%02dT%02d:%02d", m->year, m->month, m->day,
                              m->hour, m->minute);
}

static void tell_date(const struct leaf *l, struct walk_fact *fact) {
    const struct moment *m = l->member;
    fact->text = arena_printf(l->walk->arena, "%04d-%02d-%02d", m->year, m->month, m->day);
}

/* "mon 18:00-21:30, sat 09:00-12:00 13:00-17:00" */
static void tell_hours(const struct leaf *l, struct walk_fact *fact) {
    const struct hours *hours = *(struct hours *const *)l->member;
    struct buf out = {.arena = l->walk->arena};
    int last = -1;
    for (int i = 0; i < hours->count; i++) {
        int day = (int)(hours->period[i].from / SECONDS_OF_DAY);
        int from = (int)(hours->period[i].from - day * SECONDS_OF_DAY) / SECONDS_OF_MINUTE;
        int to = (int)(hours->period[i].to - day * SECONDS_OF_DAY) / SECONDS_OF_MINUTE;
        if (day != last) buf_printf(&out, "%s%s", i ? ", " : "", clock_weekday[day]);
        buf_printf(&out, " %02d:%02d-%02d:%02d", from / 60, from % 60, to / 60, to % 60);
        last = day;
    }
    fact->text = hours->count ? out.data : "never";
}

/* A load on one line: "ball 7.874 mm, count 2; mass 2 g". */
static void tell_load(const struct leaf *l, struct walk_fact *fact) {
    struct buf out = {.arena = l->walk->arena};
    struct walk_items pieces = walk_items(l->field, l->object);
    buf_text(&out, pieces.count ? "" : "nothing");
    for (int i = 0; i < pieces.count; i++) {
        struct walk_facts facts =
            walk_part(l->walk, l->field->part, pieces.first + (size_t)i * pieces.size);
        const char *join = i ? "; " : "";
        for (int k = 0; k < facts.count; k++, join = ", ")
            buf_printf(&out, "%s%s %s", join, facts.items[k].path, facts.items[k].text);
    }
    fact->text = ((const struct bore *)l->object)->solve ? "solve" : out.data;
}

static void tell_words(const struct leaf *l, struct walk_fact *fact) {
    struct arena *arena = l->walk->arena;
    const struct str *words = *(struct str *const *)l->member;
    struct buf out = {.arena = arena};
    for (int i = 0; i < *(int *)grammar_beside(l->field, l->object); i++)
        buf_printf(&out, "%s%s", i ? ", " : "", escaped(arena, words[i], "\\,", SIZE_MAX));
    fact->text = out.data;
}

static void tell_marks(const struct leaf *l, struct walk_fact *fact) {
    struct buf out = {.arena = l->walk->arena};
    const char *name;
    for (int row = 0; (name = grammar_word(l->field, row)); row++)
        if (*(const unsigned *)l->member & 1u << row)
            buf_printf(&out, "%s%s", out.size ? ", " : "", name);
    fact->text = out.data;
}

/* --- whether there is something to tell ------------------------------------------------------ */

/* Rules by which a value was not understood; by all others it was understood and is not liked. */
static bool is_rule_of_reading(const char *rule) {
    static const char *const rules[] = {"value", "range", "node-kind", "empty"};
    for (size_t i = 0; i < sizeof rules / sizeof *rules; i++)
        if (strcmp(rule, rules[i]) == 0) return true;
    return false;
}

/* An error about exactly this value. */
static bool is_refused(const struct walk *w, const void *member) {
    struct span at = recipe_place(w->recipe, member);
    for (int i = 0; i < w->diags->count; i++) {
        const struct diag *d = &w->diags->items[i];
        if (d->severity == SEVERITY_ERROR && is_rule_of_reading(d->rule) && d->at.file == at.file &&
            d->at.line == at.line && d->at.column == at.column)
            return true;
    }
    return false;
}

/* A layer takes the paint's thinning where it has none of its own; to write that out says nothing.
 */
static bool is_own_thin(const struct walk *w, const struct layer *layer) {
    const struct paint *paint = w->recipe->finish ? w->recipe->finish->paint : NULL;
    if (!layer->thin_given || !paint) return layer->thin_given;
    return layer->thin.first * paint->thin.second != layer->thin.second * paint->thin.first ||
           layer->thin.by_mass != paint->thin.by_mass;
}

static bool given_opt(const struct leaf *l) {
    return ((const struct opt *)l->member)->given;
}

static bool given_position(const struct leaf *l) {
    return ((const struct position *)l->member)->given;
}

static bool given_word(const struct leaf *l) {
    return *(const int *)l->member != 0;
}

static bool given_text(const struct leaf *l) {
    return ((const struct str *)l->member)->size > 0;
}

static bool given_parts(const struct leaf *l) {
    return ((const struct parts *)l->member)->second > 0;
}

static bool given_hex(const struct leaf *l) {
    return *(bool *)grammar_beside(l->field, l->object);
}

static bool given_moment(const struct leaf *l) {
    return ((const struct moment *)l->member)->given;
}

static bool given_hours(const struct leaf *l) {
    return *(struct hours *const *)l->member;
}

static bool given_items(const struct leaf *l) {
    return *(int *)grammar_beside(l->field, l->object) > 0;
}

static bool given_marks(const struct leaf *l) {
    return *(const unsigned *)l->member != 0;
}

static const struct implied *implied_of(const struct walk *w, const void *member) {
    for (int i = 0; i < w->implied.count; i++)
        if (w->implied.items[i].member == member) return &w->implied.items[i];
    return NULL;
}

/* --- one value ------------------------------------------------------------------------------- */

static const struct {
    enum field_kind kind;
    bool (*given)(const struct leaf *leaf);
    void (*tell)(const struct leaf *leaf, struct walk_fact *fact);
} kinds[FIELD_KINDS] = {
#define KIND(id, ...)   [FIELD_##id] = {.kind = FIELD_##id, __VA_ARGS__},
#define GIVEN(function) .given = function,
#define TELL(function)  .tell = function,
#include "model/kind.def"
};

/* `base` and `workshop` are ways of writing: the merged design is what counts. */
static bool is_way_of_writing(enum part_id part, const struct field *field) {
    return part == PART_recipe && (field->offset == offsetof(struct recipe, base) ||
                                   field->offset == offsetof(struct recipe, workshop_file));
}

bool walk_leaf(const struct walk *w, enum part_id part, const struct field *field,
               const void *object, struct walk_fact *fact) {
    const void *member = grammar_member(field, object);
    const struct leaf leaf = {w, part, field, object, member};
    bool written = recipe_wrote(w->recipe, member);
    *fact = (struct walk_fact){
        .path = field->key, .number = NAN, .written = written, .field = field, .object = object};
    if (is_way_of_writing(part, field) || (w->own && !written)) return false;
    if (written && w->diags && is_refused(w, member)) return false;
    if (!written && grammar_required(field)) return false;
    if (part == PART_layer && field->kind == FIELD_PARTS && !is_own_thin(w, object)) return false;
    if (kinds[field->kind].given && !kinds[field->kind].given(&leaf)) {
        const struct implied *implied = implied_of(w, member);
        if (implied) set_number(w->arena, fact, implied->value, field->dimension);
        return implied != NULL;
    }
    kinds[field->kind].tell(&leaf, fact);
    return true;
}

/* --- parts and lists ------------------------------------------------------------------------- */

const void *walk_sub(const struct field *field, const void *object) {
    return *(void *const *)grammar_member(field, object);
}

struct walk_items walk_items(const struct field *field, const void *object) {
    return (struct walk_items){.first = *(char *const *)grammar_member(field, object),
                               .size = grammar_parts[field->part].size,
                               .count = *(int *)grammar_beside(field, object)};
}

bool walk_name(const struct walk *w, enum part_id part, const void *item, struct walk_fact *name) {
    const struct part *p = &grammar_parts[part];
    for (int i = 0; i < p->field_count; i++) {
        const struct field *field = &p->fields[i];
        bool fit = grammar_is_leaf(field) && field->kind != FIELD_LOAD;
        if (fit && walk_leaf(w, part, field, item, name)) return true;
    }
    return false;
}

enum { NAME_POINTS = 60 };

/* "048 mm", so that places sort as numbers; other leaves than the first with their key. */
static const char *name_in_path(const struct walk *w, enum part_id part, const void *item) {
    struct walk_fact name;
    if (!walk_name(w, part, item, &name)) return "?";
    const char *text = escaped(w->arena, str_of(name.text), "\\[]=#", NAME_POINTS);
    if (name.field->kind == FIELD_POSITION) {
        int whole = (int)strspn(text, "0123456789");
        for (; whole < 3; whole++) text = arena_printf(w->arena, "0%s", text);
    }
    bool first = name.field == grammar_parts[part].fields;
    return first ? text : arena_printf(w->arena, "%s %s", name.field->key, text);
}

/* Names of all items, the second of equal ones with "#2" behind it. */
static const char **names_in_path(const struct walk *w, enum part_id part,
                                  const struct walk_items *items) {
    const char **plain = NEW(w->arena, const char *, items->count);
    const char **names = NEW(w->arena, const char *, items->count);
    for (int i = 0; i < items->count; i++) {
        int before = 0;
        plain[i] = name_in_path(w, part, items->first + (size_t)i * items->size);
        for (int k = 0; k < i; k++) before += strcmp(plain[k], plain[i]) == 0;
        names[i] = before ? arena_printf(w->arena, "%s #%d", plain[i], before + 1) : plain[i];
    }
    return names;
}

static void add(struct arena *arena, struct walk_facts *list, struct walk_fact fact,
                const char *prefix) {
    GROW(arena, list->items, list->count, list->capacity);
    if (*prefix) fact.path = arena_printf(arena, "%s.%s", prefix, fact.path);
    list->items[list->count++] = fact;
}

static void collect(const struct walk *w, enum part_id part, const void *object, const char *prefix,
                    const struct field *told, struct walk_facts *list);

/* First the names in their order, then every item under its name. */
static void collect_items(const struct walk *w, const struct field *field, const void *object,
                          const char *path, struct walk_facts *list) {
    struct walk_items items = walk_items(field, object);
    const char **names = names_in_path(w, field->part, &items);
    struct buf order = {.arena = w->arena};
    if (!items.count) return;
    for (int i = 0; i < items.count; i++) {
        struct walk_fact name;
        bool plain = walk_name(w, field->part, items.first + (size_t)i * items.size, &name) &&
                     name.field->kind == FIELD_POSITION;
        buf_printf(&order, "%s%s", i ? ", " : "", plain ? name.text : names[i]);
    }
    struct walk_fact fact = {.path = path,
                             .text = order.data,
                             .number = NAN,
                             .field = field,
                             .object = object,
                             .written = true};
    add(w->arena, list, fact, "");
    for (int i = 0; i < items.count; i++) {
        const void *item = items.first + (size_t)i * items.size;
        struct walk_fact name = {0};
        walk_name(w, field->part, item, &name);
        collect(w, field->part, item, arena_printf(w->arena, "%s[%s]", path, names[i]), name.field,
                list);
    }
}

/* All but the field `told`, which the path tells already. */
static void collect(const struct walk *w, enum part_id part, const void *object, const char *prefix,
                    const struct field *told, struct walk_facts *list) {
    const struct part *p = &grammar_parts[part];
    for (int i = 0; i < p->field_count; i++) {
        const struct field *field = &p->fields[i];
        const char *dot = *prefix ? "." : "";
        struct walk_fact fact;
        if (field == told) continue;
        if (grammar_is_leaf(field)) {
            if (walk_leaf(w, part, field, object, &fact)) add(w->arena, list, fact, prefix);
            continue;
        }
        const char *path = arena_printf(w->arena, "%s%s%s", prefix, dot, field->key);
        if (field->kind == FIELD_LIST)
            collect_items(w, field, object, path, list);
        else if (walk_sub(field, object))
            collect(w, field->part, walk_sub(field, object), path, NULL, list);
    }
}

struct walk_facts walk_part(const struct walk *w, enum part_id part, const void *object) {
    struct walk_facts list = {0};
    collect(w, part, object, "", NULL, &list);
    return list;
}

static int by_path(const void *a, const void *b) {
    return strcmp(((const struct walk_fact *)a)->path, ((const struct walk_fact *)b)->path);
}

struct walk_facts walk_recipe(const struct walk *w) {
    struct walk_facts list = walk_part(w, PART_recipe, w->recipe);
    if (list.count) qsort(list.items, (size_t)list.count, sizeof *list.items, by_path);
    return list;
}
