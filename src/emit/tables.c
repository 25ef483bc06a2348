#include "emit/tables.h"

#include <math.h>
#include <string.h>

#include "base/gauge.h"
#include "compute/work/operation.h"
#include "model/reference.h"
#include "model/walk.h"

static const double degree = 0.017453292519943295;

static void put_wood(struct buf *out, const struct wood_row *w) {
    buf_printf(out, "%-24s %-26s %7.3f %6s %5.0f %%  %s\n", w->name, w->latin, w->gravity,
               w->basic ? "basic" : "12 %", w->spread * 100, w->source);
}

static void wood(struct buf *out) {
    buf_printf(out, "%-24s %-26s %7s %6s %7s  %s\n", "wood", "species", "gravity", "basis",
               "spread", "source");
    for (int i = 0; i < reference_wood_count; i++) put_wood(out, &reference_wood[i]);
}

static void metal(struct buf *out) {
    buf_printf(out, "%-14s %10s %6s %6s  %-8s %-5s %-12s %s\n", "metal", "g/cm3", "from", "to",
               "ballast", "wire", "in a bore", "source");
    for (int i = 0; i < reference_metal_count; i++) {
        const struct metal_row *m = &reference_metal[i];
        buf_printf(out, "%-14s %10.3f %6.2f %6.2f  %-8s %-5s %-12s %s\n", m->name,
                   m->density / 1000, m->least / 1000, m->most / 1000, m->ballast ? "yes" : "-",
                   m->wire ? "yes" : "-", m->soft ? "driven home" : "stacked", m->source);
    }
}

static void sheet(struct buf *out) {
    buf_printf(out, "%-16s %6s %7s  %s\n", "lip sheet", "g/cm3", "effort", "source");
    for (int i = 0; i < reference_sheet_count; i++)
        buf_printf(out, "%-16s %6.2f %7g  %s\n", reference_sheet[i].name,
                   reference_sheet[i].density / 1000, reference_sheet[i].effort,
                   reference_sheet[i].source);
}

static void ring(struct buf *out) {
    buf_printf(out, "%-12s %8s  %s\n", "size", "grams", "source");
    for (int i = 0; i < reference_ring_count; i++)
        buf_printf(out, "%-12s %8.2f  %s\n", reference_ring[i].size, reference_ring[i].mass * 1e3,
                   reference_ring[i].source);
}

static const char *const hook_kinds[] = {
#define HOOK_KIND(key, word) word,
#include "choices.def"
};

static void hook(struct buf *out) {
    buf_printf(out, "%-8s %-12s %8s %6s  %s\n", "hook", "size", "grams", "mm", "source");
    for (int i = 0; i < reference_hook_count; i++)
        buf_printf(out, "%-8s %-12s %8.2f %6.1f  %s\n", hook_kinds[reference_hook[i].kind],
                   reference_hook[i].size, reference_hook[i].mass * 1e3,
                   reference_hook[i].length * 1e3, reference_hook[i].source);
}

static void wire(struct buf *out) {
    const char *system;
    buf_printf(out, "%-8s", "gauge");
    for (size_t s = 0; (system = gauge_system(s)); s++) buf_printf(out, "%10s", system);
    buf_text(out, "   diameter in mm\n");
    for (int number = 0; number <= 40; number++) {
        buf_printf(out, "%-8d", number);
        for (size_t s = 0; (system = gauge_system(s)); s++) {
            double diameter = gauge_wire(system, number);
            if (diameter > 0)
                buf_printf(out, "%10.4f", diameter * 1e3);
            else
                buf_printf(out, "%10s", "-");
        }
        buf_char(out, '\n');
    }
    buf_text(out, "\nsources:\n");
#define WIRE_SYSTEM(key, name, source) buf_printf(out, "  %s, %s: %s\n", key, name, source);
#include "tables/wire.def"
}

/* All drills of a set, several on a line. */
static void set(struct buf *out, enum unit_system units) {
    const char *size;
    double diameter;
    for (int i = 0; (size = gauge_set_drill(out->arena, units, i, &diameter)); i++)
        buf_printf(out, "%s%s", i == 0 ? "  " : i % 10 ? ", " : ",\n  ", size);
    buf_char(out, '\n');
}

static void drill(struct buf *out) {
    for (int number = 1; number <= 80; number++)
        buf_printf(out, "no %-3d %8.4f mm%s", number, gauge_drill_number(number) * 1e3,
                   number % 4 ? "    " : "\n");
    for (int letter = 'A'; letter <= 'Z'; letter++)
        buf_printf(out, "letter %c %7.4f mm%s", letter, gauge_drill_letter((char)letter) * 1e3,
                   (letter - 'A') % 4 == 3 ? "\n" : "  ");
    buf_text(out, "\n\nsets:\n");
    set(out, UNITS_METRIC);
    set(out, UNITS_INCH);
    buf_text(out, "\nsources:\n");
#define DRILL_SOURCE(source) buf_printf(out, "  numbers and letters: %s\n", source);
#include "tables/drill.def"
    buf_text(out, "  sets: common practice, no source\n");
}

/* "film 0.25 mm, density 1.15 g/cm3, ...": what a row of a kind has. */
static void put_default(struct buf *out, const char *name, const char *text) {
    if (text) buf_printf(out, " %s %s;", name, text);
}

static void finish(struct buf *out) {
    for (int i = 0; i < reference_seal_count; i++) {
        const struct seal_row *row = &reference_seal[i];
        buf_printf(out, "sealer, %s\n ", row->kind);
#define PUT(member) put_default(out, #member, row->member);
        REFERENCE_SEAL_DEFAULTS(PUT)
        buf_printf(out, "%s\n  source: %s\n\n", row->hastened ? " hastened by warmth" : "",
                   row->source);
    }
    for (int i = 0; i < reference_topcoat_count; i++) {
        const struct topcoat_row *row = &reference_topcoat[i];
        buf_printf(out, "topcoat, %s\n ", row->kind);
        REFERENCE_TOPCOAT_DEFAULTS(PUT)
#undef PUT
        buf_printf(out, "%s\n  source: %s\n\n", row->hastened ? " hastened by warmth" : "",
                   row->source);
    }
    for (int i = 0; i < reference_filler_count; i++)
        buf_printf(out, "filler, %s\n  density %s;\n  source: %s\n\n", reference_filler[i].kind,
                   reference_filler[i].density, reference_filler[i].source);
    buf_printf(out, "%-10s %8s  %s\n", "where", "cover", "source");
    for (int i = 0; i < reference_cover_count; i++)
        buf_printf(out, "%-10s %6.0f %%  %s\n", reference_cover[i].where,
                   reference_cover[i].cover * 100, reference_cover[i].source);
}

static void fact(struct buf *out) {
    for (int i = 0; i < FACT_COUNT; i++) {
        const struct fact_row *f = &reference_fact[i];
        buf_printf(out, "%-60s %8g %-6s  %s\n", f->name, f->value / f->scale, f->unit, f->source);
    }
}

/* Of diameters over the one, up to the other. */
static void strength(struct buf *out) {
    buf_printf(out, "%-12s %8s %8s %6s  %s\n", "wire", "over mm", "to mm", "MPa", "source");
    for (int i = 0; i < reference_wire_strength_count; i++) {
        const struct wire_strength_row *w = &reference_wire_strengths[i];
        buf_printf(out, "%-12s %8.3f %8.3f %6.0f  %s\n", w->metal, w->over * 1e3, w->up_to * 1e3,
                   w->least / 1e6, w->source);
    }
}

/* "hang", "colour-1 ...": what a recipe's steps call it. */
static const char *called(struct arena *arena, enum operation_key key) {
    if (operation_rows[key].times == ONCE) return operation_id(arena, key, 0);
    int first = operation_rows[key].times == ON_DEMAND ? 2 : 1; /* scuffing stands before a coat */
    return arena_printf(arena, "%s ...", operation_id(arena, key, first));
}

static void operation(struct buf *out) {
    buf_printf(out, "%-16s %-12s %6s %6s\n", "operation", "place", "fixed", "each");
    for (int i = 0; i < OPERATION_KEYS; i++) {
        const struct operation_row *row = &operation_rows[i];
        buf_printf(out, "%-16s %-12s %6g %6g\n", called(out->arena, (enum operation_key)i),
                   operation_places[row->place].word, row->fixed, row->each);
    }
    buf_text(out, "\nMinutes of hands-on work, for a load and for each plug, wire, bore, hanger or "
                  "coat of it.\nsource: common practice, no source\n");
}

static void running(struct buf *out) {
    buf_printf(out, "%-60s %8s %8s %-4s  %s\n", "coefficient of a plug under tow", "from", "to", "",
               "source");
    for (int i = 0; i < COEFFICIENTS; i++) {
        const struct spread_row *s = &reference_spread[i];
        buf_printf(out, "%-60s %8g %8g %-4s  %s\n", s->name, s->low, s->high, s->unit, s->source);
    }
    buf_printf(out, "\n%-12s %8s  %s\n", "slenderness", "drag", "source");
    for (int i = 0; i < reference_cylinder_count; i++)
        buf_printf(out, "%-12g %8.2f  %s\n", reference_cylinder[i].slenderness,
                   reference_cylinder[i].drag, reference_cylinder[i].source);
    buf_printf(out, "\n%-12s %8s %8s  %s\n", "lip, aspect", "attached", "stalled", "source");
    for (int i = 0; i < reference_stall_count; i++) {
        const struct stall_row *s = &reference_stall[i];
        buf_printf(out, "%-12.3g %8.0f %8.0f  %s\n", s->aspect, s->attached / degree,
                   s->stalled / degree, s->source);
    }
    buf_printf(out, "\n%-12s %8s  %s\n", "line", "g/cm3", "source");
    for (int i = 0; i < reference_line_count; i++)
        buf_printf(out, "%-12s %8.2f  %s\n", reference_line[i].name,
                   reference_line[i].density / 1000, reference_line[i].source);
}

static void caution(struct buf *out) {
    for (int i = 0; i < CAUTION_COUNT; i++) {
        const struct caution_row *c = &reference_caution[i];
        buf_printf(out, "%s (%s)\n  %s\n  %s\n  source: %s\n\n", c->title, c->id, c->text, c->defer,
                   c->source);
    }
}

/* "wood dust, power tools". */
static const char *warned_of(struct arena *arena, unsigned cautions) {
    struct buf list = {.arena = arena};
    for (int i = 0; i < CAUTION_COUNT; i++)
        if (cautions & 1u << i)
            buf_printf(&list, "%s%s", list.size ? ", " : "", reference_caution[i].id);
    return list.data;
}

static void effort(struct buf *out) {
    buf_printf(out, "%12s %7s  %s\n", "up to kg/m3", "effort", "source");
    for (int i = 0; i < reference_effort_count; i++) {
        const struct effort_row *e = &reference_effort[i];
        const char *up_to = isfinite(e->up_to) ? arena_printf(out->arena, "%g", e->up_to) : "all";
        buf_printf(out, "%12s %7g  %s\n", up_to, e->factor, e->source);
    }
}

static void tool(struct buf *out) {
    buf_printf(out, "%-16s %-26s %s\n", "tool", "cautions", "source");
    for (int i = 0; i < reference_tool_count; i++)
        buf_printf(out, "%-16s %-26s %s\n", reference_tool[i].name,
                   warned_of(out->arena, reference_tool[i].cautions), reference_tool[i].source);
}

/* --- the workshop's own rows -------------------------------------------------------------------
 */

static const char *own_source(struct arena *arena, const struct opt *weighed) {
    if (!weighed->given) return "own workshop";
    if (weighed->value == 1) return "own workshop, weighed once";
    return arena_printf(arena, "own workshop, weighed %.0f times", weighed->value);
}

static const char *plain(struct buf *out, struct str text) {
    return diag_clean(out->arena, walk_plain(out->arena, text));
}

static void own_wood(struct buf *out, const struct workshop *shop) {
    for (int i = 0; i < shop->own_wood_count; i++) put_wood(out, &shop->woods[i].row);
}

static void own_hook(struct buf *out, const struct workshop *shop) {
    for (int i = 0; i < shop->own_hook_count; i++) {
        const struct own_hook *own = &shop->hooks[i];
        const char *length =
            own->length.given ? arena_printf(out->arena, "%.1f", own->length.value * 1e3) : "-";
        buf_printf(out, "%-8s %-12s %8.2f %6s  %s\n", hook_kinds[own->kind], plain(out, own->size),
                   own->mass * 1e3, length, own_source(out->arena, &own->weighed));
    }
}

static void own_ring(struct buf *out, const struct workshop *shop) {
    for (int i = 0; i < shop->own_ring_count; i++)
        buf_printf(out, "%-12s %8.2f  %s\n", plain(out, shop->rings[i].size),
                   shop->rings[i].mass * 1e3, own_source(out->arena, &shop->rings[i].weighed));
}

/* What its row says, field by field. */
static void own_product(struct buf *out, const struct workshop *shop, const char *what,
                        struct str name, enum part_id part, const void *row,
                        const struct opt *weighed) {
    const struct recipe around = {.places = shop->places, .workshop = shop};
    const struct walk walk = {.arena = out->arena, .recipe = &around, .own = true};
    const struct walk_facts facts = walk_part(&walk, part, row);
    buf_printf(out, "\n%s, %s\n ", what, plain(out, name));
    for (int i = 0; i < facts.count; i++)
        if (strcmp(facts.items[i].path, "name") != 0 && strcmp(facts.items[i].path, "weighed") != 0)
            buf_printf(out, " %s %s;", facts.items[i].path,
                       diag_clean(out->arena, facts.items[i].text));
    buf_printf(out, "\n  source: %s\n", own_source(out->arena, weighed));
}

static void own_finish(struct buf *out, const struct workshop *shop) {
    for (int i = 0; i < shop->seal_count; i++)
        own_product(out, shop, "sealer", shop->sealers[i].name, PART_seal, &shop->sealers[i],
                    &shop->sealers[i].weighed);
    for (int i = 0; i < shop->own_paint_count; i++)
        own_product(out, shop, "paint", shop->paints[i].name, PART_own_paint, &shop->paints[i],
                    &shop->paints[i].weighed);
    for (int i = 0; i < shop->topcoat_count; i++)
        own_product(out, shop, "topcoat", shop->topcoats[i].name, PART_topcoat, &shop->topcoats[i],
                    &shop->topcoats[i].weighed);
}

static const struct {
    const char *name;
    void (*emit)(struct buf *out, const struct workshop *shop);
} own_rows[] = {
    {"wood", own_wood},
    {"hook", own_hook},
    {"ring", own_ring},
    {"finish", own_finish},
};

static void put_own(struct buf *out, const char *table, const struct workshop *shop) {
    for (size_t i = 0; shop && i < sizeof own_rows / sizeof *own_rows; i++)
        if (strcmp(own_rows[i].name, table) == 0) own_rows[i].emit(out, shop);
}

static const struct {
    const char *name, *what;
    void (*emit)(struct buf *out);
} tables[] = {
    {"wood", "woods by specific gravity", wood},
    {"metal", "metals for ballast and wire", metal},
    {"wire", "wire gauges in three systems", wire},
    {"drill", "number and letter drills", drill},
    {"hook", "typical masses of hooks", hook},
    {"ring", "typical masses of split rings", ring},
    {"sheet", "sheet for lips", sheet},
    {"finish", "sealers, topcoats, fillers, and how much of a plug a layer covers", finish},
    {"strength", "least tensile strengths of wire", strength},
    {"running", "coefficients of a plug under tow, with their spreads", running},
    {"fact", "single figures of the trade", fact},
    {"operation", "what the route is made of, by the names that steps use", operation},
    {"effort", "how much longer harder wood takes", effort},
    {"tool", "tools that bring a caution where an added step needs them", tool},
    {"caution", "what can hurt, and the usual precautions", caution},
};

enum { TABLES = sizeof tables / sizeof *tables };

bool tables_emit(struct buf *out, const char *name, const struct workshop *workshop) {
    for (int i = 0; i < TABLES; i++) {
        if (!name) buf_printf(out, "%-10s %s\n", tables[i].name, tables[i].what);
        if (!name || strcmp(name, tables[i].name) != 0) continue;
        tables[i].emit(out);
        put_own(out, name, workshop);
        return true;
    }
    return !name;
}

const char *tables_names(struct arena *arena) {
    struct buf list = {.arena = arena};
    for (int i = 0; i < TABLES; i++) buf_printf(&list, "%s%s", i ? ", " : "", tables[i].name);
    return list.data;
}
