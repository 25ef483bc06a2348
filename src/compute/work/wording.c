/* Words in braces are either a value, made by a function here, or a phrase, a row of route.def that
 * shows where its traits hold.  A phrase may hold values and one more phrase; deeper nesting is cut
 * off, so that no row can run away.
 */
#include "compute/work/wording.h"

#include <math.h>
#include <string.h>

#include "base/buf.h"
#include "model/reference.h"

enum { DEEPEST_PHRASE = 2 };

/* A number with at most `decimals` places, without zeros at the end. */
static void put_number(struct buf *out, double value, int decimals) {
    const char *digits = arena_printf(out->arena, "%.*f", decimals, value);
    size_t size = strlen(digits);
    if (strchr(digits, '.')) {
        while (digits[size - 1] == '0') size--;
        if (digits[size - 1] == '.') size--;
    }
    buf_bytes(out, digits, size);
}

/* As a fraction where that is right within a tenth of a millimetre. */
static void put_inches(struct buf *out, double metres) {
    const double inch = 0.0254, near = 0.1e-3;
    int over = (int)lround(metres / inch * 32), under = 32;
    if (over <= 0 || fabs(metres - over * inch / 32) > near) {
        put_number(out, metres / inch, 3);
        return;
    }
    for (; over % 2 == 0 && under > 1; over /= 2) under /= 2;
    if (over >= under) buf_printf(out, over % under ? "%d " : "%d", over / under);
    if (over % under) buf_printf(out, "%d/%d", over % under, under);
}

static void put_length(struct buf *out, const struct wording *w, double metres) {
    bool inch = w->recipe->shop->units == UNITS_INCH;
    if (inch)
        put_inches(out, metres);
    else
        put_number(out, metres * 1e3, 1);
    buf_text(out, inch ? " in" : " mm");
}

static void put_time(struct buf *out, double seconds) {
    bool hours = seconds >= 2 * 3600.0;
    put_number(out, hours ? seconds / 3600.0 : seconds / 60.0, hours ? 1 : 0);
    buf_text(out, hours ? " h" : " min");
}

static void put_angle(struct buf *out, double radians) {
    static const double degree = 57.29577951308232; /* 180 / pi */
    put_number(out, radians * degree, 1);
    buf_text(out, " degrees");
}

static void put_sealer(struct buf *out, const struct seal *seal) {
    buf_str(out, seal->name.size ? seal->name : str_of("sealer"));
}

static void put_coat(struct buf *out, int number, int coats) {
    buf_printf(out, "coat %d of %d", number, coats);
}

static void put_coats(struct buf *out, int coats) {
    buf_printf(out, coats == 1 ? "%d coat" : "%d coats", coats);
}

static void put_parts(struct buf *out, struct parts parts) {
    put_number(out, parts.first, 2);
    buf_char(out, ':');
    put_number(out, parts.second, 2);
    buf_text(out, parts.by_mass ? " by mass" : " by volume");
}

static void put_where(struct buf *out, enum layer_where where) {
    buf_printf(out, where == WHERE_WHOLE ? "the %s plug" : "the %s", reference_cover[where].where);
}

/* The values that may stand in braces. */
enum value {
#define VALUE(key, doc) VALUE_##key,
#include "route.def"
    VALUE_COUNT
};

static const char *const value_names[] = {
#define VALUE(key, doc) #key,
#include "route.def"
};

static double pot_life(const struct recipe *recipe) {
    const struct topcoat *topcoat = recipe->finish->topcoat;
    return topcoat->pot_life * reference_cure_factor(topcoat->at, recipe->shop->temperature);
}

/* Values of the layer in hand. */
static void put_layer_value(struct buf *out, const struct wording *w, enum value value) {
    const struct paint *paint = w->recipe->finish->paint;
    const struct layer *layer = &paint->layers[w->number - 1];
    switch (value) {
    case VALUE_colour:
        buf_str(out, layer->colour);
        break;
    case VALUE_coats:
        put_coats(out, layer->coats);
        break;
    case VALUE_where:
        put_where(out, layer->where);
        break;
    case VALUE_thin:
        put_parts(out, layer->thin_given ? layer->thin : paint->thin);
        break;
    case VALUE_mask:
        buf_str(out, layer->mask);
        break;
    default:
        break;
    }
}

/* Rows of route.def ask only for what their own traits promise: no value of a lip without a lip. */
static void put_value(struct buf *out, const struct wording *w, enum value value) {
    const struct recipe *r = w->recipe;
    switch (value) {
    case VALUE_slot:
        put_length(out, w, r->lip->slot);
        break;
    case VALUE_angle:
        put_angle(out, r->lip->angle);
        break;
    case VALUE_thickness:
        put_length(out, w, r->lip->thickness);
        break;
    case VALUE_sheet:
        buf_text(out, reference_sheet[r->lip->material].name);
        break;
    case VALUE_radius:
        put_length(out, w, r->body->section->radius.value);
        break;
    case VALUE_wire:
        put_length(out, w, r->hardware->wire->diameter);
        break;
    case VALUE_sealer:
        put_sealer(out, r->finish->seal);
        break;
    case VALUE_seal_coats:
        put_coats(out, r->finish->seal->coats);
        break;
    case VALUE_metal:
        buf_text(out, reference_metal[r->ballast->material].name);
        break;
    case VALUE_eye_size:
        put_length(out, w, r->eyes->size);
        break;
    case VALUE_eye_depth:
        put_length(out, w, r->eyes->depth);
        break;
    case VALUE_number:
        buf_printf(out, "%d", w->number);
        break;
    case VALUE_coat:
        put_coat(out, w->number, r->finish->topcoat->coats);
        break;
    case VALUE_mix:
        put_parts(out, r->finish->topcoat->mix);
        break;
    case VALUE_pot_life:
        put_time(out, pot_life(r));
        break;
    case VALUE_fine:
        buf_text(out, r->shop->units == UNITS_INCH ? "1/64 in" : "0.5 mm");
        break;
    case VALUE_coarse:
        buf_text(out, r->shop->units == UNITS_INCH ? "1/32 in" : "1 mm");
        break;
    default:
        put_layer_value(out, w, value);
        break;
    }
}

struct phrase {
    const char *name;
    unsigned traits, lacks;
    const char *text;
};

static const struct phrase phrases[] = {
#define PHRASE(key, traits, lacks, text) {#key, traits, lacks, text},
#include "route.def"
};

static void fill(struct buf *out, const struct wording *w, const char *text, int depth);

static void put_name(struct buf *out, const struct wording *w, struct str name, int depth) {
    for (int i = 0; i < VALUE_COUNT; i++)
        if (str_is(name, value_names[i])) put_value(out, w, (enum value)i);
    for (size_t i = 0; i < sizeof phrases / sizeof *phrases; i++) {
        const struct phrase *phrase = &phrases[i];
        bool shows = (w->traits & phrase->traits) == phrase->traits && !(w->traits & phrase->lacks);
        if (shows && depth < DEEPEST_PHRASE && str_is(name, phrase->name))
            fill(out, w, phrase->text, depth + 1);
    }
}

static void fill(struct buf *out, const struct wording *w, const char *text, int depth) {
    for (;;) {
        const char *open = strchr(text, '{');
        const char *close = open ? strchr(open, '}') : NULL;
        if (!close) break;
        buf_bytes(out, text, (size_t)(open - text));
        put_name(out, w, (struct str){open + 1, (size_t)(close - open - 1)}, depth);
        text = close + 1;
    }
    buf_text(out, text);
}

const char *wording_fill(struct arena *arena, const struct wording *wording, const char *text) {
    if (!text || !strchr(text, '{')) return text;
    struct buf out = {.arena = arena};
    fill(&out, wording, text, 0);
    return out.data ? out.data : "";
}
