/* Strength against the line, and where the numbers come from. */
#include "emit/order/inner.h"

#include <string.h>

#include "model/workshop.h"

static bool fails_alike(const struct strength_row *a, const struct strength_row *b) {
    return a->joint == b->joint && a->load == b->load;
}

/* "line tie, hanger 1": all that fail like row `first`. */
static void fittings_cell(struct order *order, int first) {
    const struct strength *strength = &order->results->strength;
    struct md *md = &order->md;
    int shown = 0;
    md_open_cell(md);
    for (int i = first; i < strength->count; i++) {
        if (!fails_alike(&strength->rows[i], &strength->rows[first])) continue;
        md_add(md, shown++ ? ", %s" : "%s",
               name_text(order->arena,
                         fitting_name(strength->rows[i].fitting, NAME_TIE, NAME_HANGER)));
    }
    md_end_cell(md);
}

static bool told_before(const struct strength *strength, int row) {
    for (int i = 0; i < row; i++) {
        if (fails_alike(&strength->rows[i], &strength->rows[row])) return true;
    }
    return false;
}

/* A ceiling that is high enough settles nothing, so it stands without a factor. */
static void strength_cells(struct order *order, const struct strength_row *row) {
    enum strength_kind kind = reference_joint[row->joint].kind;
    struct md *md = &order->md;
    bool settles = kind == STRENGTH_CEILING ? strength_little(row) : kind != STRENGTH_UNKNOWN;
    const char *load = measure_force(order->arena, row->load, order->units);
    md_cell(md,
            kind == STRENGTH_UNKNOWN   ? "not known"
            : kind == STRENGTH_CEILING ? "under %s"
                                       : "%s",
            load);
    md_cell(md, "%s", settles ? measure_number(order->arena, row->factor, 1) : "–");
}

void order_strength(struct order *order) {
    static const struct md_column columns[] = {{"Fails when", MD_LEFT},
                                               {"Fitting", MD_LEFT},
                                               {"Holds", MD_RIGHT},
                                               {"Times the line", MD_RIGHT}};
    const struct strength *strength = &order->results->strength;
    struct md *md = &order->md;
    if (!strength->given) return;
    md_heading(md, 3, "Strength");
    md_para(md, "Against a line that breaks at %s; a factor under %s is little.",
            measure_force(order->arena, strength->line, order->units),
            arena_printf(order->arena, "%g", reference_fact[FACT_STRENGTH_FACTOR].value));
    md_table(md, columns, 4);
    for (int i = 0; i < strength->count; i++) {
        const struct strength_row *row = &strength->rows[i];
        if (told_before(strength, i)) continue;
        md_cell(md, "%s", reference_joint[row->joint].failure);
        fittings_cell(order, i);
        strength_cells(order, row);
    }
    md_table_end(md);
    md_para(
        md,
        "**The eyes themselves are not in these numbers.** An eye that is pulled bends open long "
        "before its wire breaks, and no published formula tells when. Close every eye, twist it "
        "tight, and pull on it with a spring scale before you trust it.");
}

/* --- sources -------------------------------------------------------------------------------- */

/* In one paragraph: they are many. */
static void source(struct order *order, const char *what, const char *where) {
    md_add(&order->md, "**%s:** %s. ", what, where);
}

static void hook_sources(struct order *order) {
    const struct plug *plug = &order->results->plug;
    const char *last = "";
    for (int i = 0; i < plug->fitting_count; i++) {
        const struct hook *hook = plug->fittings[i].fitting->hook;
        const struct hook_row *row =
            hook && !hook->mass.given ? reference_hook_of((int)hook->kind, hook->size) : NULL;
        if (!row || !strcmp(row->source, last)) continue;
        source(order, "Mass of hooks", row->source);
        last = row->source;
    }
}

/* Written on one line for a terminal, a formula reads better with real signs. */
static const char *formula_text(const struct order *order, const char *formula) {
    struct buf text = {.arena = order->arena};
    buf_text(&text, "");
    while (*formula) {
        bool pi = !strncmp(formula, "pi", 2), square = !strncmp(formula, "^2", 2);
        if (pi || square)
            buf_text(&text, pi ? "π" : "²");
        else
            buf_char(&text, *formula);
        formula += pi || square ? 2 : 1;
    }
    return text.data;
}

/* Each formula once, with what it stands for. */
static void strength_sources(struct order *order) {
    const struct strength *strength = &order->results->strength;
    bool said[JOINT_COUNT] = {false};
    for (int i = 0; strength->given && i < strength->count; i++) {
        const struct strength_row *row = &strength->rows[i];
        const struct joint_row *joint = &reference_joint[row->joint];
        const char *where = strength_source(row);
        if (!where || said[row->joint]) continue;
        said[row->joint] = true;
        source(order,
               arena_printf(order->arena, "Strength where %s, %s", joint->failure,
                            formula_text(order, joint->formula)),
               where);
    }
}

/* Of a figure that was written in the workshop's file; its name is the builder's. */
static void own_source(struct order *order, const char *what, struct str name, const void *figure,
                       const struct opt *weighed) {
    const struct recipe *recipe = order->recipe;
    if (!workshop_gave(recipe, figure)) return;
    const char *times = !weighed->given ? ""
                        : weighed->value == 1
                            ? ", weighed once"
                            : arena_printf(order->arena, ", weighed %.0f times", weighed->value);
    source(order, arena_printf(order->arena, "%s %.*s", what, (int)name.size, name.data),
           arena_printf(order->arena, "own workshop%s", times));
}

/* Whether a hanger before this one has the same hook, or the same ring. */
static bool hook_before(const struct hardware *hardware, int hanger) {
    const struct hook *hook = hardware->hangers[hanger].hook;
    for (int i = 0; i < hanger; i++) {
        const struct hook *other = hardware->hangers[i].hook;
        if (other && other->kind == hook->kind && str_equal(other->size, hook->size)) return true;
    }
    return false;
}

static bool ring_before(const struct hardware *hardware, int hanger) {
    const struct ring *ring = hardware->hangers[hanger].ring;
    for (int i = 0; i < hanger; i++) {
        const struct ring *other = hardware->hangers[i].ring;
        if (other && str_equal(other->size, ring->size)) return true;
    }
    return false;
}

static void own_sources(struct order *order) {
    const struct hardware *hardware = order->recipe->hardware;
    const struct finish *finish = order->recipe->finish;
    for (int i = 0; i < hardware->hanger_count; i++) {
        const struct hook *hook = hardware->hangers[i].hook;
        const struct ring *ring = hardware->hangers[i].ring;
        if (hook && !hook_before(hardware, i))
            own_source(order, "Mass of hook", hook->size, &hook->mass, &hook->weighed);
        if (ring && !ring_before(hardware, i))
            own_source(order, "Mass of ring", ring->size, &ring->mass, &ring->weighed);
    }
    const struct seal *seal = finish ? finish->seal : NULL;
    const struct paint *paint = finish ? finish->paint : NULL;
    const struct topcoat *topcoat = finish ? finish->topcoat : NULL;
    if (seal) own_source(order, "Uptake of", seal->name, &seal->uptake, &seal->weighed);
    for (int i = 0; paint && i < paint->layer_count; i++)
        own_source(order, "Film of", paint->layers[i].colour, &paint->layers[i].film,
                   &paint->layers[i].weighed);
    if (topcoat) own_source(order, "Film of", topcoat->name, &topcoat->film, &topcoat->weighed);
}

static void table_sources(struct order *order) {
    const struct recipe *recipe = order->recipe;
    const struct wood_row *wood = recipe->wood->row;
    source(order, arena_printf(order->arena, "Wood, %s", wood->name), wood->source);
    if (recipe->hardware->wire) {
        const struct metal_row *wire = &reference_metal[recipe->hardware->wire->material];
        source(order, arena_printf(order->arena, "Wire, %s", wire->name), wire->source);
    }
    if (recipe->lip) {
        const struct sheet_row *sheet = &reference_sheet[recipe->lip->material];
        source(order, arena_printf(order->arena, "Lip, %s", sheet->name), sheet->source);
    }
    if (recipe->ballast) {
        const struct metal_row *metal = &reference_metal[recipe->ballast->material];
        source(order, arena_printf(order->arena, "Ballast, %s", metal->name), metal->source);
    }
    hook_sources(order);
    own_sources(order);
    strength_sources(order);
}

/* Those of one source together. */
static void caution_sources(struct order *order) {
    unsigned left = rework_cautions(order->results);
    struct md *md = &order->md;
    for (int i = 0; i < CAUTION_COUNT; i++) {
        const char *where = reference_caution[i].source;
        if (!(left & 1u << i)) continue;
        md_add(md, "**%s", reference_caution[i].title);
        for (int k = i + 1; k < CAUTION_COUNT; k++) {
            if (!(left & 1u << k) || strcmp(reference_caution[k].source, where) != 0) continue;
            left &= ~(1u << k);
            md_add(md, ", %s", reference_caution[k].id);
        }
        md_add(md, ":** %s. ", where);
    }
}

void order_sources(struct order *order) {
    md_heading(&order->md, 3, "Sources");
    md_open_para(&order->md);
    table_sources(order);
    for (int i = 0; i < reference_formula_count; i++)
        source(order, reference_formula[i].what, reference_formula[i].source);
    for (int i = 0; order->results->running.given && i < reference_tow_formula_count; i++)
        source(order, reference_tow_formula[i].what, reference_tow_formula[i].source);
    caution_sources(order);
    md_end(&order->md);
}
