/* Rows become arrays here; nothing else in the program knows that they lie in .def files.
 *
 * Wood: G12 is oven-dry mass over volume at 12 % moisture, G_b over green volume.  With the fibre
 * saturation point at 30 % and a shrinkage of 26.5 G_b percent,
 *     G_M = G_b / (1 - 0.265 a G_b),  a = (30 - M) / 30         (FPL-GTR-190, equation 4-11)
 *     rho = 1000 G_M (1 + M / 100) kg/m3                        (equation 4-12)
 * and so, at M = 12 where a = 0.6, G_b = G12 / (1 + 0.159 G12), and of a board that was weighed at
 * M, G_b = G_M / (1 + 0.265 a G_M).
 */
#include "model/reference.h"

#include <math.h>
#include <string.h>

#include "model/recipe.h"
#include "tables/fact.def"

enum wood_basis { AT_12, BASIC };
enum metal_use { BALLAST = 1, WIRE = 2 };
enum metal_seat { HARD, SOFT };

#define COUNT(array)   ((int)(sizeof(array) / sizeof(array)[0]))
#define WARNS(caution) (1u << CAUTION_##caution)

const struct wood_row reference_wood[] = {
#define USUAL FIGURE_SPREAD_TABLE
#define WOOD(key, latin, gravity, basis, hardwood, spread, source) \
    {key, latin, gravity, (basis) == BASIC, hardwood, (spread)*0.01, source, false},
#include "tables/wood.def"
};
const int reference_wood_count = COUNT(reference_wood);

const struct metal_row reference_metal[] = {
#define METAL(key, density, uses, seat, cautions, source) \
    METAL_RANGE(key, density, density, density, uses, seat, cautions, source)
#define METAL_RANGE(key, density, least, most, uses, seat, cautions, source)                    \
    {key,      density, least, most, ((uses)&BALLAST) != 0, ((uses)&WIRE) != 0, (seat) == SOFT, \
     cautions, source},
#include "tables/metal.def"
};
const int reference_metal_count = COUNT(reference_metal);

const struct sheet_row reference_sheet[] = {
#define SHEET(key, density, kind, effort, source) {key, density, SHEET_##kind, effort, source},
#include "tables/sheet.def"
};
const int reference_sheet_count = COUNT(reference_sheet);

const struct ring_row reference_ring[] = {
#define RING(size, mass, source) {size, mass, source},
#include "tables/ring.def"
};
const int reference_ring_count = COUNT(reference_ring);

const struct hook_row reference_hook[] = {
#define HOOK(kind, size, mass, length, source) {HOOK_##kind, size, mass, length, source},
#include "tables/hook.def"
};
const int reference_hook_count = COUNT(reference_hook);

const struct cover_row reference_cover[] = {
#define COVER(key, word, share, round, source) [WHERE_##key] = {word, share, round, source},
#include "tables/finish.def"
};
const int reference_cover_count = COUNT(reference_cover);

const struct layer_kind_row reference_layer_kind[] = {
#define LAYER_KIND(key, word, ground, needs_ground) [LAYER_##key] = {word, ground, needs_ground},
#include "tables/finish.def"
};
const int reference_layer_kind_count = COUNT(reference_layer_kind);

const struct filler_row reference_filler[] = {
#define FILLER_KIND(key, word, density, dusty, source) \
    [FILLER_##key] = {word, density, dusty, source},
#include "tables/filler.def"
};
const int reference_filler_count = COUNT(reference_filler);

const struct seal_row reference_seal[] = {
#define SEAL_KIND(key, word, ...) [SEAL_##key] = {.kind = word, __VA_ARGS__},
#include "tables/finish.def"
};
const int reference_seal_count = COUNT(reference_seal);

const struct topcoat_row reference_topcoat[] = {
#define TOPCOAT_KIND(key, word, ...) [TOPCOAT_##key] = {.kind = word, __VA_ARGS__},
#include "tables/finish.def"
};
const int reference_topcoat_count = COUNT(reference_topcoat);

/* Figure, unit and scale of a fact: SI = figure * scale. */
#define ONE(figure)     (figure), "", 1
#define PERCENT(figure) (figure) * 1e-2, "%", 1e-2
#define MM(figure)      (figure) * 1e-3, "mm", 1e-3
#define CM2(figure)     (figure) * 1e-4, "cm2", 1e-4
#define ML(figure)      (figure) * 1e-6, "ml", 1e-6
#define MM2(figure)     (figure) * 1e-6, "mm2", 1e-6
#define M_S(figure)     (figure), "m/s", 1
#define GRAM(figure)    (figure) * 1e-3, "g", 1e-3
#define MINUTES(figure) (figure) * 60.0, "min", 60.0
#define KG_M3(figure)   (figure), "kg/m3", 1
#define DEG(figure)     (figure) * 0.017453292519943295, "deg", 0.017453292519943295
#define DEGC(figure)    (figure), "degC", 1
#define HOUR(figure)    (figure) * 3600, "h", 3600

const struct fact_row reference_fact[FACT_COUNT] = {
#define FACT(key, name, figure, source) [FACT_##key] = {name, figure, source},
#include "tables/fact.def"
};

const struct formula_row reference_formula[] = {
#define FORMULA(what, source) {what, source},
#include "tables/fact.def"
};
const int reference_formula_count = COUNT(reference_formula);

const struct spread_row reference_spread[COEFFICIENTS] = {
#define SPREAD(member, name, low, high, one, source) \
    {name, low, high, one, source, offsetof(struct coefficients, member)},
#include "tables/running.def"
};

const struct cylinder_row reference_cylinder[] = {
#define CYLINDER(slenderness, drag, source) {slenderness, drag, source},
#include "tables/running.def"
};
const int reference_cylinder_count = COUNT(reference_cylinder);

const struct stall_row reference_stall[] = {
#define DEGREE 0.017453292519943295
#define STALL(aspect, attached, stalled, source) \
    {aspect, (attached)*DEGREE, (stalled)*DEGREE, source},
#include "tables/running.def"
};
const int reference_stall_count = COUNT(reference_stall);

const struct line_row reference_line[] = {
#define LINE(name, density, source) {name, density, source},
#include "tables/running.def"
};
const int reference_line_count = COUNT(reference_line);

const struct formula_row reference_tow_formula[] = {
#define TOW_FORMULA(what, source) {what, source},
#include "tables/running.def"
};
const int reference_tow_formula_count = COUNT(reference_tow_formula);

const struct tuning_row reference_tuning[TUNINGS] = {
#define TUNING(key, when, what, by) {when, what, TUNING_BY_##by},
#include "tables/running.def"
};

const char *const reference_tow_note[] = {
#define TOW_NOTE(text) text,
#include "tables/running.def"
};
const int reference_tow_note_count = COUNT(reference_tow_note);

const struct tweak_row reference_tweak[TWEAKS] = {
#define TWEAK(key, name, amount) [TWEAK_##key] = {name, amount},
#include "tables/running.def"
};

_Static_assert(CAUTION_COUNT <= 32, "cautions are bits of an unsigned");

const struct caution_row reference_caution[CAUTION_COUNT] = {
#define CAUTION(key, id, title, brief, text, defer, source) \
    [CAUTION_##key] = {id, title, brief, text, defer, source},
#include "cautions.def"
};

const struct tool_row reference_tool[] = {
#define TOOL(name, cautions, source) {name, cautions, source},
#include "tables/tool.def"
};
const int reference_tool_count = COUNT(reference_tool);

const struct effort_row reference_effort[] = {
#define EFFORT(up_to, factor, source) {up_to, factor, source},
#include "tables/effort.def"
};
const int reference_effort_count = COUNT(reference_effort);

double reference_effort_of(double density) {
    int row = 0;
    while (row + 1 < reference_effort_count && density > reference_effort[row].up_to) row++;
    return reference_effort[row].factor;
}

static bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/* How much of the text at `at` is this word, in letters of either case and with the s of several;
 * 0: it is another. */
static size_t word_at(struct str text, size_t at, const char *word) {
    size_t size = strlen(word), end = at + size;
    if (end > text.size || (at && is_letter(text.data[at - 1]))) return 0;
    if (!str_is_any_case((struct str){text.data + at, size}, word)) return 0;
    if (end < text.size && (text.data[end] == 's' || text.data[end] == 'S')) end++;
    return end < text.size && is_letter(text.data[end]) ? 0 : end - at;
}

unsigned reference_tool_cautions(struct str text) {
    unsigned cautions = 0;
    for (size_t at = 0; at < text.size;) {
        const struct tool_row *tool = NULL;
        size_t longest = 0;
        for (int i = 0; i < reference_tool_count; i++) {
            size_t size = word_at(text, at, reference_tool[i].name);
            if (size > longest) longest = size, tool = &reference_tool[i];
        }
        if (tool) cautions |= tool->cautions;
        at += longest ? longest : 1;
    }
    return cautions;
}

bool reference_wood_meant(struct str word, const char *name) {
    static const struct {
        const char *word, *name;
    } rows[] = {
#define WOOD_MEANT(word, name) {word, name},
#include "tables/wood.def"
    };
    for (int i = 0; i < COUNT(rows); i++)
        if (str_is_any_case(word, rows[i].word) && strcmp(rows[i].name, name) == 0) return true;
    return false;
}

const char *reference_wood_name(int row) {
    return row < reference_wood_count ? reference_wood[row].name : NULL;
}

const char *reference_ballast_name(int row) {
    if (row >= reference_metal_count) return NULL;
    return reference_metal[row].ballast ? reference_metal[row].name : "";
}

const char *reference_wire_metal_name(int row) {
    if (row >= reference_metal_count) return NULL;
    return reference_metal[row].wire ? reference_metal[row].name : "";
}

const char *reference_sheet_name(int row) {
    return row < reference_sheet_count ? reference_sheet[row].name : NULL;
}

const char *reference_caution_name(int row) {
    return row < CAUTION_COUNT ? reference_caution[row].id : NULL;
}

const struct ring_row *reference_ring_of(struct str size) {
    for (int i = 0; i < reference_ring_count; i++)
        if (str_is(size, reference_ring[i].size)) return &reference_ring[i];
    return NULL;
}

const char *reference_hook_name(int row) {
    return row < reference_hook_count ? reference_hook[row].size : NULL;
}

const struct hook_row *reference_hook_of(int kind, struct str size) {
    for (int i = 0; i < reference_hook_count; i++)
        if (reference_hook[i].kind == kind && str_is(size, reference_hook[i].size))
            return &reference_hook[i];
    return NULL;
}

/* What wood of this moisture has shrunk, per unit of basic gravity. */
static double shrinkage(double moisture) {
    double saturation = reference_fact[FACT_FIBRE_SATURATION].value;
    return reference_fact[FACT_SHRINKAGE].value * (saturation - moisture) / saturation;
}

static double basic_gravity(const struct wood_row *wood) {
    if (wood->basic) return wood->gravity;
    double shrunk = shrinkage(reference_fact[FACT_TABLE_MOISTURE].value);
    return wood->gravity / (1.0 + shrunk * wood->gravity);
}

static double gravity_at(const struct wood_row *wood, double moisture) {
    double basic = basic_gravity(wood);
    return basic / (1.0 - shrinkage(moisture) * basic);
}

double reference_wood_density(const struct wood_row *wood, double moisture) {
    return 1000.0 * gravity_at(wood, moisture) * (1.0 + moisture);
}

double reference_wood_basic(double density, double moisture) {
    double gravity = density / (1000.0 * (1.0 + moisture));
    return gravity / (1.0 + shrinkage(moisture) * gravity);
}

double reference_ball_give(int metal) {
    return reference_metal[metal].soft ? reference_fact[FACT_BALL_GIVE].value : 0;
}

double reference_wood_gravity12(const struct wood_row *wood) {
    return wood->basic ? gravity_at(wood, reference_fact[FACT_TABLE_MOISTURE].value)
                       : wood->gravity;
}

double reference_cure_factor(double at, double shop) {
    return exp2((at - shop) / reference_fact[FACT_RATE_STEP].value);
}

const struct joint_row reference_joint[JOINT_COUNT] = {
#define N_MM2 1e6
#define JOINT(key, kind, failure, formula, p, n, source) \
    {STRENGTH_##kind, failure, formula, p, n, source},
#include "tables/strength.def"
};

const struct wire_strength_row reference_wire_strengths[] = {
#define INCH                                             0.0254
#define KSI                                              6.894757e6
#define WIRE_STRENGTH(metal, over, up_to, least, source) {metal, over, up_to, least, source},
#include "tables/strength.def"
};
const int reference_wire_strength_count = COUNT(reference_wire_strengths);

const struct wire_strength_row *reference_wire_strength(int metal, double diameter) {
    for (int i = 0; i < reference_wire_strength_count; i++) {
        const struct wire_strength_row *row = &reference_wire_strengths[i];
        if (strcmp(row->metal, reference_metal[metal].name) == 0 && diameter > row->over - 1e-9 &&
            diameter <= row->up_to + 1e-9)
            return row;
    }
    return NULL;
}
