/* Words in braces are a value, a quote or a phrase, all rows of route.def; a phrase shows where its
 * traits hold.  It may hold values and one more phrase; deeper nesting is cut off, so that no row
 * can run away.
 */
#include "emit/words/words.h"

#include <math.h>
#include <string.h>

#include "base/buf.h"
#include "compute/plug/block.h"
#include "emit/words/size.h"
#include "emit/write/measure.h"
#include "model/reference.h"

enum { DEEPEST_PHRASE = 2 };

/* What the places of one operation are filled from. */
struct filling {
    struct arena *arena;
    const struct recipe *recipe;
    const struct layer *layer; /* in hand, or NULL */
    const struct extra *extra; /* likewise */
    uint64_t traits;
    int number; /* of a layer, a topcoat or a scuffing, from 1; else 0 */
};

/* --- values ---------------------------------------------------------------------------------- */

/* How the rows write their values. */
#define LENGTH(metres)  measure_length(f->arena, metres, f->recipe->shop->units)
#define FINE(metres)    measure_fine(f->arena, metres, f->recipe->shop->units)
#define MASS(kilograms) measure_mass(f->arena, kilograms, f->recipe->shop->units)
#define ANGLE(radians)  measure_angle(f->arena, radians)
#define TIME(seconds)   measure_time(f->arena, seconds)
#define RATIO(parts)    measure_parts(f->arena, parts)
#define TEXT(str)       arena_copy(f->arena, (str).data, (str).size)
#define COATS(count)    arena_printf(f->arena, (count) == 1 ? "%d coat" : "%d coats", count)
#define PRINT(...)      arena_printf(f->arena, __VA_ARGS__)

/* Rows ask only for what their own traits promise: no value of a lip without a lip. */
#define VALUE(key, text, doc)                                 \
    static const char *value_##key(const struct filling *f) { \
        const struct recipe *recipe = f->recipe;              \
        const struct layer *layer = f->layer;                 \
        const struct extra *extra = f->extra;                 \
        int number = f->number;                               \
        (void)recipe, (void)layer, (void)extra, (void)number; \
        return text;                                          \
    }
#include "route.def"

static const struct {
    const char *name;
    const char *(*text)(const struct filling *f);
} values[] = {
#define VALUE(key, text, doc) {#key, value_##key},
#include "route.def"
};

/* --- quotes and phrases
 * --------------------------------------------------------------------------------- */

static const struct phrase {
    const char *name;
    uint64_t traits, lacks;
    const char *text;
} phrases[] = {
#define PHRASE(key, traits, lacks, text) {#key, traits, lacks, text},
#include "route.def"
};

/* Rows ask only for what their own traits promise here too. */
#define QUOTE(key, text, doc)                                     \
    static const char *quote_##key(const struct recipe *recipe) { \
        return text;                                              \
    }
#include "route.def"

static const struct {
    const char *name;
    const char *(*text)(const struct recipe *recipe);
} quotes[] = {
#define QUOTE(key, text, doc) {#key, quote_##key},
#include "route.def"
};

static void fill(struct buf *out, const struct filling *f, const char *text, int depth);

static void put_place(struct buf *out, const struct filling *f, struct str name, int depth) {
    for (size_t i = 0; i < sizeof values / sizeof *values; i++)
        if (str_is(name, values[i].name)) buf_text(out, values[i].text(f));
    for (size_t i = 0; i < sizeof quotes / sizeof *quotes; i++)
        if (depth < DEEPEST_PHRASE && str_is(name, quotes[i].name))
            fill(out, f, quotes[i].text(f->recipe), depth + 1);
    for (size_t i = 0; i < sizeof phrases / sizeof *phrases; i++) {
        const struct phrase *phrase = &phrases[i];
        bool shows = (f->traits & phrase->traits) == phrase->traits && !(f->traits & phrase->lacks);
        if (shows && depth < DEEPEST_PHRASE && str_is(name, phrase->name))
            fill(out, f, phrase->text, depth + 1);
    }
}

static void fill(struct buf *out, const struct filling *f, const char *text, int depth) {
    for (;;) {
        const char *open = strchr(text, '{');
        const char *close = open ? strchr(open, '}') : NULL;
        if (!close) break;
        buf_bytes(out, text, (size_t)(open - text));
        put_place(out, f, (struct str){open + 1, (size_t)(close - open - 1)}, depth);
        text = close + 1;
    }
    buf_text(out, text);
}

static const char *filled(const struct filling *f, const char *text) {
    if (!text || !strchr(text, '{')) return text;
    struct buf out = {.arena = f->arena};
    fill(&out, f, text, 0);
    return out.data;
}

/* --- operations ------------------------------------------------------------------------------ */

static struct filling filling_of(struct arena *arena, const struct recipe *recipe,
                                 const struct operation *o) {
    const struct layer *layer =
        o->key == OPERATION_colour ? &recipe->finish->paint->layers[o->number - 1] : NULL;
    const struct extra *extra = o->added ? NULL : operation_extra(recipe, o->key, o->number);
    return (struct filling){arena, recipe, layer, extra, o->traits, o->number};
}

static const struct {
    enum operation_key key;
    const char *text;
} together[] = {
#define TOGETHER(key, text) {OPERATION_##key, text},
#include "route.def"
};

const char *words_together(struct arena *arena, const struct recipe *recipe,
                           const struct operation *o) {
    struct filling f = filling_of(arena, recipe, o);
    for (size_t i = 0; i < sizeof together / sizeof *together; i++)
        if (together[i].key == o->key) return filled(&f, together[i].text);
    return NULL;
}

const char *words_laying(struct arena *arena, const struct recipe *recipe,
                         const struct operation *o) {
    struct filling f = filling_of(arena, recipe, o);
    return filled(&f, "{laying}");
}

/* NULL for a text that was not given. */
static const char *text_or_null(struct arena *arena, struct str text) {
    return text.size ? arena_copy(arena, text.data, text.size) : NULL;
}

const char *words_title(struct arena *arena, const struct recipe *recipe,
                        const struct operation *o) {
    struct filling f = filling_of(arena, recipe, o);
    if (!o->added) return filled(&f, operation_rows[o->key].title);
    const char *title = text_or_null(arena, o->added->title);
    return title ? title : o->id;
}

/* Whether the recipe leaves the first of a repeated operation as it is, so that its text stands. */
static bool first_stands(const struct filling *f, const struct operation *o) {
    const char *first = operation_id(f->arena, o->key, 1);
    for (int i = 0; i < f->recipe->step_count; i++) {
        const struct step *step = &f->recipe->steps[i];
        if ((step->change == STEP_SKIP || step->change == STEP_CHANGE) && str_is(step->id, first))
            return false;
    }
    return true;
}

/* What the recipe's own steps say goes before what the row says. */
static const char *what(const struct filling *f, const struct operation *o) {
    const struct operation_row *row = &operation_rows[o->key];
    if (o->changed && o->changed->say.size) return text_or_null(f->arena, o->changed->say);
    if (o->added) return text_or_null(f->arena, o->added->say);
    if (o->number > 1 && row->again && first_stands(f, o)) return filled(f, row->again);
    return filled(f, row->what);
}

/* `needs` of an added step that names a place names no tools. */
static const char *with(const struct filling *f, const struct operation *o) {
    if (!o->added) return filled(f, operation_rows[o->key].with);
    bool tools = operation_place(o->added->needs) == AT_NONE;
    return tools ? text_or_null(f->arena, o->added->needs) : NULL;
}

static const char *why_skipped(struct arena *arena, const struct step *skipped) {
    if (!skipped) return NULL;
    const char *because = text_or_null(arena, skipped->because);
    return because ? because : "the recipe gives no reason";
}

struct words words_of(struct arena *arena, const struct recipe *recipe, const struct operation *o) {
    const struct operation_row *row = &operation_rows[o->key];
    struct filling f = filling_of(arena, recipe, o);
    return (struct words){
        .title = words_title(arena, recipe, o),
        .what = what(&f, o),
        .with = with(&f, o),
        .check = filled(&f, row->check),
        .ruins = filled(&f, row->ruins),
        .skipped = why_skipped(arena, o->skipped),
        .risk = filled(&f, row->risk),
    };
}

const char *words_phase(struct arena *arena, const struct recipe *recipe, const struct operation *o,
                        enum phase phase) {
    static const char *const titles[PHASE_COUNT] = {
#define PHASE(key, title) title,
#include "route.def"
    };
    struct filling f = filling_of(arena, recipe, o);
    return filled(&f, titles[phase]);
}
