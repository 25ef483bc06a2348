/* A row of grammar/tolerance.def becomes two functions of the results, and a row of a table. */
#include "compute/effect.h"

#include <math.h>

#include "model/reference.h"
#include "si.def"

double effect_strength(const struct results *results) {
    double least = 0;
    for (int i = 0; i < results->strength.count; i++) {
        const struct strength_row *row = &results->strength.rows[i];
        if (reference_joint[row->joint].kind >= STRENGTH_CEILING &&
            (least <= 0 || row->factor < least))
            least = row->factor;
    }
    return least;
}

/* --- rows ------------------------------------------------------------------------------------ */

struct result_row {
    const char *path, *label;
    enum shown_as kind;
    double tolerance, share;
    bool (*given)(const struct results *r);
    double (*value)(const struct results *r);
    const struct estimate *(*estimate)(const struct results *r); /* or NULL */
};

struct bore_row {
    const char *path, *label;
    enum shown_as kind;
    double tolerance, share;
    double (*value)(const struct bore_fill *fill);
};

struct material_row {
    enum shown_as kind;
    double tolerance, share;
};

#define RESULT(id, path, label, kind, tolerance, share, has, number, why) \
    static bool given_##id(const struct results *r) {                     \
        (void)r;                                                          \
        return has;                                                       \
    }                                                                     \
    static double value_##id(const struct results *r) {                   \
        return number;                                                    \
    }
#define TOW_RESULT(id, path, label, kind, tolerance, share, which, why)                \
    static const struct estimate *estimate_##id(const struct results *r) {             \
        const struct running_speed *tow = &r->running.speeds[r->running.middle_speed]; \
        int out = r->running.middle_out;                                               \
        (void)tow, (void)out;                                                          \
        return &which;                                                                 \
    }
#define BORE_RESULT(id, path, label, kind, tolerance, share, has, number, why) \
    static double bore_##id(const struct bore_fill *fill) {                    \
        return number;                                                         \
    }
#include "tolerance.def"

static const struct result_row result_rows[] = {
#define RESULT(id, path, label, kind, tolerance, share, has, number, why) \
    {path, label, SHOWN_##kind, tolerance, share, given_##id, value_##id, NULL},
#define TOW_RESULT(id, path, label, kind, tolerance, share, which, why) \
    {path, label, SHOWN_##kind, tolerance, share, NULL, NULL, estimate_##id},
#include "tolerance.def"
};

static const struct bore_row bore_rows[] = {
#define BORE_RESULT(id, path, label, kind, tolerance, share, has, number, why) \
    {path, label, SHOWN_##kind, tolerance, share, bore_##id},
#include "tolerance.def"
};

static const struct material_row material_rows[] = {
#define MATERIAL(unit, kind, tolerance, share, why) [unit] = {SHOWN_##kind, tolerance, share},
#include "tolerance.def"
};

enum { BORE_RESULTS = sizeof bore_rows / sizeof *bore_rows };

/* --- readings -------------------------------------------------------------------------------- */

static void add(struct effect_values *list, struct effect_value reading, double share) {
    reading.tolerance = fmax(reading.tolerance, share * fabs(reading.value));
    list->items[list->count++] = reading;
}

static void read_result(struct effect_values *list, enum effect_result result,
                        const struct results *r) {
    const struct result_row *row = &result_rows[result];
    const struct estimate *estimate = row->estimate ? row->estimate(r) : NULL;
    if (estimate ? !estimate->band.given || isinf(estimate->band.median) : !row->given(r)) return;
    add(list,
        (struct effect_value){
            .group = EFFECT_MAIN,
            .result = result,
            .kind = row->kind,
            .path = {NAME_ITSELF, 0, str_of(row->path)},
            .label = {NAME_ITSELF, 0, str_of(row->label)},
            .value = estimate ? estimate->band.median : row->value(r),
            .tolerance = row->tolerance,
            .estimate = estimate,
        },
        row->share);
}

static void read_bore(struct effect_values *list, int bore, const struct bore_fill *fill) {
    for (int i = 0; i < BORE_RESULTS; i++) {
        const struct bore_row *row = &bore_rows[i];
        add(list,
            (struct effect_value){
                .group = EFFECT_BORE,
                .result = RESULT_COUNT,
                .kind = row->kind,
                .path = {NAME_PATH_OF_BORE, bore + 1, str_of(row->path)},
                .label = {NAME_RESULT_OF_BORE, bore + 1, str_of(row->label)},
                .value = row->value(fill),
                .tolerance = row->tolerance,
            },
            row->share);
    }
}

/* The ballast's own metal is told bore by bore. */
static void read_materials(struct effect_values *list, const struct supply *supply) {
    for (int i = 0; i < supply->count; i++) {
        const struct supply_row *row = &supply->rows[i];
        const struct material_row *kind = &material_rows[row->unit];
        if (row->group == SUPPLY_BALLAST && row->unit == SUPPLY_MASS) continue;
        add(list,
            (struct effect_value){
                .group = EFFECT_MATERIAL,
                .result = RESULT_COUNT,
                .kind = row->group == SUPPLY_WOOD ? SHOWN_SOLID : kind->kind,
                .label = row->item,
                .value = row->one,
                .tolerance = kind->tolerance,
            },
            kind->share);
    }
}

struct effect_values effect_values_of(struct arena *arena, const struct results *r) {
    struct effect_values list = {0};
    int most = RESULT_COUNT + r->ballast.bore_count * BORE_RESULTS + r->supply.count;
    list.items = NEW(arena, struct effect_value, most);
    for (enum effect_result i = 0; i < RESULT_COUNT; i++) read_result(&list, i, r);
    for (int i = 0; i < r->ballast.bore_count; i++) read_bore(&list, i, &r->ballast.fills[i]);
    read_materials(&list, &r->supply);
    return list;
}

/* --- differences ----------------------------------------------------------------------------- */

/* The same from either side. */
static bool differ(const struct effect_value *before, const struct effect_value *after) {
    if (!before || !after) return before != after;
    return fabs(after->value - before->value) > fmax(before->tolerance, after->tolerance);
}

static struct effect between(const struct effect_value *before, const struct effect_value *after) {
    struct effect effect = {.any = after ? after : before, .before = before, .after = after};
    if (before && after && before->estimate && after->estimate)
        effect.change = running_change(before->estimate, after->estimate);
    return effect;
}

static bool alike(const struct effect_value *a, const struct effect_value *b) {
    return a->group == b->group && name_equal(a->label, b->label);
}

/* Two layers may have one colour: the second stands for the second. */
static const struct effect_value *partner(const struct effect_values *own, int index,
                                          const struct effect_values *other) {
    const struct effect_value *value = &own->items[index];
    int before = 0;
    for (int i = 0; i < index; i++) before += alike(&own->items[i], value);
    for (int i = 0; i < other->count; i++)
        if (alike(&other->items[i], value) && before-- == 0) return &other->items[i];
    return NULL;
}

/* In the order of the new list; what only the old one has stands before what followed it there. */
struct effect_list effect_between(struct arena *arena, const struct effect_values *before,
                                  const struct effect_values *after) {
    struct effect_list list = {0};
    int told = 0;
    list.items = NEW(arena, struct effect, before->count + after->count);
    for (int i = 0; i <= after->count; i++) {
        const struct effect_value *now = i < after->count ? &after->items[i] : NULL;
        const struct effect_value *old = now ? partner(after, i, before) : NULL;
        int up_to = now ? old ? (int)(old - before->items) : told : before->count;
        for (; told < up_to; told++)
            if (!partner(before, told, after))
                list.items[list.count++] = between(&before->items[told], NULL);
        if (differ(old, now)) list.items[list.count++] = between(old, now);
    }
    return list;
}
