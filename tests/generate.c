#include "generate.h"

#include <glob.h>
#include <math.h>
#include <string.h>

#include "base/buf.h"
#include "model/grammar.h"
#include "model/walk.h"

#include "si.def"

struct generator {
    struct arena *arena;
    uint64_t state;
    struct generate_style style;
    const struct recipe *recipe; /* whose section is being written; NULL: from the rows alone */
    double scale;                /* of everything along and across the body */
    double length;               /* of the body, for what is made from the rows */
    int depth;
};

/* --- dice: splitmix64 (Steele, Lea and Flood, OOPSLA 2014) ------------------------------------ */

static uint64_t roll(struct generator *g) {
    uint64_t z = g->state += 0x9E3779B97F4A7C15u;
    z = (z ^ z >> 30) * 0xBF58476D1CE4E5B9u;
    z = (z ^ z >> 27) * 0x94D049BB133111EBu;
    return z ^ z >> 31;
}

static int below(struct generator *g, int count) {
    return (int)(roll(g) % (uint64_t)count);
}

static double between(struct generator *g, double from, double to) {
    return from + (to - from) * (double)(roll(g) >> 11) / 9007199254740992.0;
}

static bool chance(struct generator *g, double share) {
    return share > 0 && between(g, 0, 1) < share;
}

/* --- one value as text ----------------------------------------------------------------------- */

static const struct {
    enum dimension dimension;
    const char *name;
    double scale, offset;
} units[] = {
#define UNIT(dimension, name, scale, offset, source) {DIM_##dimension, name, scale, offset},
#include "units.def"
};

enum { UNIT_COUNT = sizeof units / sizeof *units, DIGITS = 13 };

static const char *quantity_text(struct generator *g, double value, enum dimension dimension) {
    enum dimension measured = dimension_measured(dimension);
    const struct unit *first = dimension_unit(dimension);
    if (!first || !g->style.units) return quantity_show(g->arena, value, dimension, first, DIGITS);
    int at;
    do at = below(g, UNIT_COUNT);
    while (units[at].dimension != measured);
    struct unit unit = {measured, units[at].name, units[at].scale, units[at].offset};
    return quantity_show(g->arena, value, measured, &unit, DIGITS);
}

/* In quotes, all but plain characters escaped. */
static const char *text_of(struct generator *g, struct str text) {
    struct buf out = {.arena = g->arena};
    buf_text(&out, "\"");
    for (size_t i = 0; i < text.size; i++) {
        unsigned char c = (unsigned char)text.data[i];
        if (c == '"' || c == '\\')
            buf_printf(&out, "\\%c", c);
        else if (c == '\n')
            buf_text(&out, "\\n");
        else
            buf_printf(&out, "%c", c);
    }
    buf_text(&out, "\"");
    return out.data;
}

/* Three digits are enough for what nobody measured. */
static double rounded(double value) {
    if (value == 0) return 0;
    double unit = pow(10, floor(log10(fabs(value))) - 2);
    return round(value / unit) * unit;
}

static double clamped(double value, double low, double high) {
    return value < low ? low : value > high ? high : value;
}

/* --- values from the rows -------------------------------------------------------------------- */

/* Within its range; lengths no longer than the body, and heights near the datum line. */
static double drawn(struct generator *g, const struct field *field) {
    double low = field->min, high = field->max;
    if (field->dimension == DIM_LENGTH && high > 0.3 * g->length && low < 0.3 * g->length)
        high = 0.3 * g->length;
    if (low < 0 && high > 0) return clamped(rounded(between(g, -0.05, 0.05) * high), low, high);
    if (low <= 0) return clamped(rounded(between(g, 0, 0.3) * high), low, high);
    return clamped(rounded(exp(between(g, log(low), log(high)))), low, high);
}

static const char *const words[] = {
    "alder",    "*night* #2", "<b>old</b>", "two | three", "\xC3\xA5l & \xE2\x82\xAC",
    "a\\b `c`", "4",          "8"};

static const char *text_drawn(struct generator *g, const struct field *field) {
    if (strcmp(field->key, "currency") == 0) return "EUR";
    if (strcmp(field->key, "size") == 0) return chance(g, 0.5) ? "\"4\"" : "\"1/0\"";
    struct str word = str_of(words[below(g, (int)(sizeof words / sizeof *words))]);
    if ((double)word.size > field->max) word.size = 1;
    return text_of(g, word);
}

/* Words of a table that stands alone are as good as each other. */
static const char *word_drawn(struct generator *g, const struct field *field) {
    int count = 0;
    while (grammar_word(field, count)) count++;
    const char *word;
    do word = grammar_word(field, below(g, count));
    while (!*word);
    return arena_printf(g->arena, "\"%s\"", word);
}

static const char *hours_drawn(struct generator *g) {
    struct buf out = {.arena = g->arena};
    buf_text(&out, "{");
    int first = below(g, WEEKDAYS), days = 1 + below(g, WEEKDAYS - first);
    for (int i = 0; i < days; i++) {
        int from = below(g, 20), to = from + 1 + below(g, 23 - from);
        buf_printf(&out, "%s%s: \"%02d:%02d-%02d:%02d\"", i ? ", " : "", clock_weekday[first + i],
                   from, below(g, 4) * 15, to, below(g, 4) * 15);
    }
    buf_text(&out, "}");
    return out.data;
}

static const char *list_drawn(struct generator *g, const struct field *field) {
    struct buf out = {.arena = g->arena};
    int count = 1 + below(g, field->most < 3 ? field->most : 3);
    double value = drawn(g, field);
    buf_text(&out, "[");
    for (int i = 0; i < count; i++, value = clamped(rounded(value * 1.4), field->min, field->max))
        buf_printf(&out, "%s%s", i ? ", " : "", quantity_text(g, value, field->dimension));
    buf_text(&out, "]");
    return out.data;
}

static const char *part_text(struct generator *g, enum part_id id, const void *object);

static const char *leaf_drawn(struct generator *g, const struct field *field) {
    struct arena *arena = g->arena;
    switch (field->kind) {
    case FIELD_SOLVABLE:
        if (chance(g, 0.1)) return "solve";
        return quantity_text(g, drawn(g, field), field->dimension);
    case FIELD_QUANTITY:
    case FIELD_OPT:
        return quantity_text(g, drawn(g, field), field->dimension);
    case FIELD_QUANTITIES:
        return list_drawn(g, field);
    case FIELD_POSITION:
        return arena_printf(arena, "%d %%", 8 + below(g, 84));
    case FIELD_INTEGER: {
        double most = field->max < 12 ? field->max : 12;
        return arena_printf(arena, "%.0f", floor(between(g, field->min, most + 0.999)));
    }
    case FIELD_FLAG:
        return chance(g, 0.5) ? "true" : "false";
    case FIELD_TEXT:
        return text_drawn(g, field);
    case FIELD_CHOICE:
    case FIELD_USUAL:
    case FIELD_ROW:
    case FIELD_SPECIES:
        return word_drawn(g, field);
    case FIELD_MARKS:
        return arena_printf(arena, "[%s]", word_drawn(g, field));
    case FIELD_PARTS:
        return arena_printf(arena, "\"%d:%d\"", 1 + below(g, 4), 1 + below(g, 4));
    case FIELD_HEX:
        return arena_printf(arena, "\"#%06X\"", (unsigned)below(g, 0x1000000));
    case FIELD_MOMENT:
        return arena_printf(arena, "2026-%02d-%02dT%02d:%02d", 1 + below(g, 12), 1 + below(g, 28),
                            below(g, 24), below(g, 60));
    case FIELD_HOURS:
        return hours_drawn(g);
    case FIELD_LOAD:
        if (chance(g, 0.4)) return "solve";
        return arena_printf(arena, "[{mass: %d g}]", 1 + below(g, 6));
    case FIELD_WORDS:
        return "[shape, seal]";
    default:
        return NULL;
    }
}

/* Whether fields of a part mostly forbid or ask for one another (grammar/rules.def). */
static bool is_entangled(enum part_id id) {
    switch (id) {
    case PART_piece:
    case PART_bore:
    case PART_chamber:
    case PART_hanger:
    case PART_line_tie:
    case PART_through:
    case PART_section:
    case PART_body:
    case PART_waterline:
        return true;
    default:
        return false;
    }
}

static const double entangled_share = 0.1;

/* --- values of a recipe ---------------------------------------------------------------------- */

/* Whether a length belongs to the body's own scale: films, boards and lines do not. */
static bool is_of_body(enum part_id id) {
    switch (id) {
    case PART_body:
    case PART_station:
    case PART_section:
    case PART_cup:
    case PART_lip:
    case PART_line_tie:
    case PART_hanger:
    case PART_joint:
    case PART_extra:
    case PART_bore:
    case PART_chamber:
    case PART_eyes:
    case PART_waterline:
        return true;
    default:
        return false;
    }
}

static double varied(struct generator *g, enum part_id id, const struct field *field,
                     double value) {
    if (field->dimension == DIM_LENGTH && is_of_body(id)) value *= g->scale;
    bool fixed = id == PART_body || !chance(g, g->style.change);
    if (!fixed) value = rounded(value * exp(between(g, -0.25, 0.25)));
    if (!fixed || g->scale != 1) value = clamped(value, field->min, field->max);
    return value;
}

/* Ends stay ends, and stations stay in their order. */
static const char *position_text(struct generator *g, enum part_id id, const struct position *p) {
    double value = p->share ? p->value : p->value * g->scale;
    if (id != PART_station && id != PART_joint && p->value > 0 && chance(g, g->style.change))
        value *= between(g, 0.95, 1.05);
    if (p->share && value > 1) value = 1;
    return quantity_text(g, value, p->share ? DIM_SHARE : DIM_LENGTH);
}

static const char *quantities_text(struct generator *g, enum part_id id, const struct field *field,
                                   const void *object) {
    const double *values = *(double *const *)grammar_member(field, object);
    struct buf out = {.arena = g->arena};
    buf_text(&out, "[");
    for (int i = 0; i < *(int *)grammar_beside(field, object); i++)
        buf_printf(&out, "%s%s", i ? ", " : "",
                   quantity_text(g, id == PART_waterline ? values[i] * g->scale : values[i],
                                 field->dimension));
    buf_text(&out, "]");
    return out.data;
}

static const char *hours_text(struct generator *g, const struct hours *hours) {
    struct buf out = {.arena = g->arena};
    int last = -1;
    buf_text(&out, "{");
    for (int i = 0; i < hours->count; i++) {
        int day = (int)(hours->period[i].from / SECONDS_OF_DAY);
        int from = (int)(hours->period[i].from % SECONDS_OF_DAY) / SECONDS_OF_MINUTE;
        int to = (int)(hours->period[i].to - (int64_t)day * SECONDS_OF_DAY) / SECONDS_OF_MINUTE;
        if (day != last) buf_printf(&out, "%s%s: [", last < 0 ? "" : "], ", clock_weekday[day]);
        buf_printf(&out, "%s\"%02d:%02d-%02d:%02d\"", day == last ? ", " : "", from / 60, from % 60,
                   to / 60, to % 60);
        last = day;
    }
    buf_text(&out, last < 0 ? "}" : "]}");
    return out.data;
}

static const char *items_text(struct generator *g, const struct field *field, const void *object) {
    struct walk_items items = walk_items(field, object);
    struct buf out = {.arena = g->arena};
    buf_text(&out, "[");
    for (int i = 0; i < items.count; i++)
        buf_printf(&out, "%s%s", i ? ",\n    " : "",
                   part_text(g, field->part, items.first + (size_t)i * items.size));
    buf_text(&out, "]");
    return out.data;
}

static const char *ids_text(struct generator *g, const struct field *field, const void *object) {
    const struct str *ids = *(struct str *const *)grammar_member(field, object);
    struct buf out = {.arena = g->arena};
    buf_text(&out, "[");
    for (int i = 0; i < *(int *)grammar_beside(field, object); i++)
        buf_printf(&out, "%s%s", i ? ", " : "", text_of(g, ids[i]));
    buf_text(&out, "]");
    return out.data;
}

static const char *marks_text(struct generator *g, const struct field *field, unsigned marks) {
    struct buf out = {.arena = g->arena};
    const char *name;
    buf_text(&out, "[");
    for (int row = 0; (name = grammar_word(field, row)); row++)
        if (marks & 1u << row) buf_printf(&out, "%s\"%s\"", out.size > 1 ? ", " : "", name);
    buf_text(&out, "]");
    return out.data;
}

static const char *integer_text(struct generator *g, const struct field *field, int value) {
    bool fixed = field->min == field->max || !chance(g, g->style.change);
    if (!fixed) value += below(g, 3) - 1;
    return arena_printf(g->arena, "%.0f", clamped(value, field->min, field->max));
}

static const char *moment_text(struct generator *g, const struct moment *m) {
    return arena_printf(g->arena, "%04d-%02d-%02dT%02d:%02d", m->year, m->month, m->day, m->hour,
                        m->minute);
}

static const char *ratio_text(struct generator *g, const struct parts *parts) {
    return arena_printf(g->arena, "\"%.13g:%.13g%s\"", parts->first, parts->second,
                        parts->by_mass ? " by mass" : "");
}

static const char *leaf_text(struct generator *g, enum part_id id, const struct field *field,
                             const void *object) {
    const void *member = grammar_member(field, object);
    switch (field->kind) {
    case FIELD_SOLVABLE:
        if (*(const bool *)grammar_beside(field, object)) return "solve";
        return quantity_text(g, varied(g, id, field, *(const double *)member), field->dimension);
    case FIELD_QUANTITY:
        return quantity_text(g, varied(g, id, field, *(const double *)member), field->dimension);
    case FIELD_OPT:
        if (field->dimension == DIM_NUMBER && id == PART_piece)
            return arena_printf(g->arena, "%.0f", ((const struct opt *)member)->value);
        return quantity_text(g, varied(g, id, field, ((const struct opt *)member)->value),
                             field->dimension);
    case FIELD_QUANTITIES:
        return quantities_text(g, id, field, object);
    case FIELD_POSITION:
        return position_text(g, id, member);
    case FIELD_INTEGER:
        return integer_text(g, field, *(const int *)member);
    case FIELD_FLAG:
        return *(const bool *)member ? "true" : "false";
    case FIELD_TEXT:
        return text_of(g, *(const struct str *)member);
    case FIELD_CHOICE:
    case FIELD_USUAL:
    case FIELD_ROW:
        if (chance(g, g->style.change * (is_entangled(id) ? entangled_share : 0.5)))
            return word_drawn(g, field);
        return arena_printf(g->arena, "\"%s\"", grammar_word(field, *(const int *)member));
    case FIELD_SPECIES:
        if (chance(g, g->style.change * 0.5)) return word_drawn(g, field);
        return text_of(g, *(const struct str *)member);
    case FIELD_PARTS:
        return ratio_text(g, member);
    case FIELD_HEX:
        return arena_printf(g->arena, "\"#%06X\"", *(const unsigned *)member);
    case FIELD_MOMENT:
        return moment_text(g, member);
    case FIELD_HOURS:
        if (chance(g, g->style.change)) return hours_drawn(g);
        return hours_text(g, *(struct hours *const *)member);
    case FIELD_LOAD:
        if (((const struct bore *)object)->solve) return "solve";
        return items_text(g, field, object);
    case FIELD_WORDS:
        return ids_text(g, field, object);
    case FIELD_MARKS:
        return marks_text(g, field, *(const unsigned *)member);
    default:
        return NULL;
    }
}

/* --- parts ----------------------------------------------------------------------------------- */

/* A body that swells and thins, from nose to tail. */
static const char *stations_drawn(struct generator *g) {
    struct buf out = {.arena = g->arena};
    int count = 2 + below(g, 6);
    double height = g->length * between(g, 0.06, 0.14), width = height * between(g, 0.8, 2.2);
    double nose = between(g, 0.15, 0.9), tail = between(g, 0.15, 0.9);
    buf_text(&out, "[");
    for (int i = 0; i < count; i++) {
        double at = (double)i / (count - 1);
        double full = nose + (tail - nose) * at + sin(3.14159265358979323846 * at) * 0.6;
        buf_printf(&out, "%s{at: %.15g %%, back: %.2f mm, belly: %.2f mm, width: %.2f mm}",
                   i ? ", " : "", rounded(100 * at), 1e3 * height * full,
                   1e3 * height * full * between(g, 0.9, 1.1), 1e3 * width * full);
    }
    buf_text(&out, "]");
    return out.data;
}

static const char *list_of_rows(struct generator *g, const struct field *field) {
    if (field->part == PART_station) return stations_drawn(g);
    if (field->part == PART_piece) return "[{mass: 1 g}, {mass: 0.5 g}]";
    struct buf out = {.arena = g->arena};
    int least = field->min < 1 ? 1 : (int)field->min;
    int most = field->max < least + 2 ? (int)field->max : least + 2;
    int count = least + below(g, most - least + 1);
    buf_text(&out, "[");
    for (int i = 0; i < count; i++)
        buf_printf(&out, "%s%s", i ? ", " : "", part_text(g, field->part, NULL));
    buf_text(&out, "]");
    return out.data;
}

static const char *field_drawn(struct generator *g, const struct field *field) {
    if (field->part == PART_line_tie && field->kind == FIELD_PART && chance(g, 0.8))
        return "{place: nose}";
    if (field->kind == FIELD_PART) return part_text(g, field->part, NULL);
    if (field->kind == FIELD_LIST) return list_of_rows(g, field);
    return leaf_drawn(g, field);
}

/* What a recipe says of a field; NULL: nothing. */
static const char *field_written(struct generator *g, enum part_id id, const struct field *field,
                                 const void *object) {
    if (field->kind == FIELD_PART) {
        const void *sub = walk_sub(field, object);
        const char *text = sub ? part_text(g, field->part, sub) : NULL;
        return text && field->need == ALWAYS && strcmp(text, "{}") == 0 ? NULL : text;
    }
    if (field->kind == FIELD_LIST)
        return walk_items(field, object).count ? items_text(g, field, object) : NULL;
    if (!recipe_wrote(g->recipe, grammar_member(field, object))) return NULL;
    return leaf_text(g, id, field, object);
}

/* A recipe from memory has no other files. */
static bool is_file(enum part_id id, const struct field *field) {
    return id == PART_recipe &&
           (strcmp(field->key, "base") == 0 || strcmp(field->key, "workshop") == 0);
}

/* The names of steps are those of others. */
static bool is_made(enum part_id id, const struct field *field) {
    return !(id == PART_recipe &&
             (is_file(id, field) || field->part == PART_step || strcmp(field->key, "recipe") == 0));
}

static bool is_added(struct generator *g, enum part_id id, const struct field *field,
                     bool from_rows) {
    if (!is_made(id, field)) return false;
    if (from_rows && grammar_required(field)) return true;
    if (from_rows && strcmp(field->key, "size") == 0) return true;
    if (!from_rows && strcmp(field->key, "currency") == 0) /* a stranger's prices need it */
        return g->style.add > 0 || g->style.cross > 0;
    if (from_rows && id == PART_hardware && strcmp(field->key, "wire") == 0) return true;
    return chance(g, g->style.add * (is_entangled(id) ? entangled_share : from_rows ? 0.5 : 1));
}

static const char *field_text(struct generator *g, enum part_id id, const struct field *field,
                              const void *object) {
    bool version = id == PART_recipe && strcmp(field->key, "recipe") == 0;
    if (is_file(id, field)) return NULL;
    if (version) return "1";
    if (!object) return is_added(g, id, field, true) ? field_drawn(g, field) : NULL;
    if (!grammar_required(field) &&
        chance(g, g->style.drop * (is_entangled(id) ? entangled_share : 1)))
        return NULL;
    const char *text = field_written(g, id, field, object);
    if (!text && is_added(g, id, field, false)) text = field_drawn(g, field);
    return text;
}

/* A section of the recipe; sometimes a stranger's. */
static const char *section_text(struct generator *g, const struct field *field,
                                const struct recipe *recipe) {
    bool fixed = grammar_is_leaf(field) || grammar_required(field) || !g->style.stranger;
    if (fixed || !chance(g, g->style.cross)) return field_text(g, PART_recipe, field, recipe);
    g->recipe = g->style.stranger;
    const char *text = field_text(g, PART_recipe, field, g->recipe);
    g->recipe = recipe;
    return text;
}

static void shuffle(struct generator *g, const char **items, int count) {
    for (int i = count; i-- > 1;) {
        int other = below(g, i + 1);
        const char *item = items[i];
        items[i] = items[other];
        items[other] = item;
    }
}

static const char *part_text(struct generator *g, enum part_id id, const void *object) {
    const struct part *part = &grammar_parts[id];
    const char **entries = NEW(g->arena, const char *, part->field_count);
    struct buf out = {.arena = g->arena};
    bool whole = id == PART_recipe;
    int count = 0;
    for (int i = 0; i < part->field_count; i++) {
        const struct field *field = &part->fields[i];
        const char *text =
            whole && object ? section_text(g, field, object) : field_text(g, id, field, object);
        if (text) entries[count++] = arena_printf(g->arena, "%s: %s", field->key, text);
    }
    if (g->style.keys) shuffle(g, entries, count);
    buf_text(&out, whole ? "" : "{");
    for (int i = 0; i < count; i++)
        buf_printf(&out, "%s%s%s", whole || !i ? "" : ", ", entries[i], whole ? "\n" : "");
    buf_text(&out, whole ? "" : "}");
    return out.data;
}

/* --- recipes --------------------------------------------------------------------------------- */

const char *generate_written(struct arena *arena, const struct recipe *recipe,
                             const struct generate_style *style, uint64_t seed) {
    struct generator g = {.arena = arena,
                          .state = seed,
                          .style = *style,
                          .recipe = recipe,
                          .scale = 1,
                          .length = recipe->body->length};
    if (chance(&g, style->change * 4)) g.scale = rounded(between(&g, 0.75, 1.35));
    return part_text(&g, PART_recipe, recipe);
}

const char *generate_from_rows(struct arena *arena, uint64_t seed) {
    struct generator g = {.arena = arena, .state = seed, .scale = 1};
    g.length = between(&g, 50 * MM, 250 * MM);
    g.style = (struct generate_style){.keys = chance(&g, 0.5), .units = chance(&g, 0.5)};
    g.style.add = between(&g, 0, 0.5);
    return part_text(&g, PART_recipe, NULL);
}

const char *generate_varied(struct arena *arena, const struct generate_stock *stock, int hardness,
                            uint64_t seed) {
    struct generator g = {.arena = arena, .state = seed};
    const struct recipe *recipe = stock->recipes[below(&g, stock->count)].recipe;
    const struct generate_style style = {
        .keys = chance(&g, 0.5),
        .units = chance(&g, 0.5),
        .change = 0.08 * hardness,
        .drop = 0.01 * hardness,
        .add = 0.006 * hardness * hardness,
        .cross = 0.05 * hardness,
        .stranger = stock->recipes[below(&g, stock->count)].recipe,
    };
    return generate_written(arena, recipe, &style, roll(&g));
}

struct compilation generate_valid(struct arena *arena, const struct generate_stock *stock,
                                  uint64_t seed, const char **text) {
    struct compilation c = {0};
    for (int hardness = GENERATE_HARDNESS; hardness >= 0; hardness--)
        for (int attempt = 0; attempt < 3; attempt++) {
            uint64_t own = seed * 16 + (uint64_t)(hardness * 3 + attempt);
            *text = generate_varied(arena, stock, hardness, own);
            c = compile_text(arena, "generated", str_of(*text));
            if (!compilation_failed(&c)) return c;
        }
    return c;
}

struct generate_stock generate_stock_of(struct arena *arena, const char *folder) {
    glob_t found;
    struct generate_stock stock = {0};
    if (glob(arena_printf(arena, "%s/*.yaml", folder), 0, NULL, &found) != 0) return stock;
    struct compilation *recipes = NEW(arena, struct compilation, found.gl_pathc);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        recipes[stock.count] = compile_recipe(arena, arena_printf(arena, "%s", found.gl_pathv[i]));
        stock.count += !compilation_failed(&recipes[stock.count]);
    }
    globfree(&found);
    stock.recipes = recipes;
    return stock;
}
