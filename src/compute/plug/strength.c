/* What can be said with a published formula, and no more.
 *
 * Wire: an eye hangs on two strands, so the wire itself breaks at
 *     2 (pi/4) d^2 R,   R the least tensile strength of spring-tempered stainless wire (ASTM A313);
 * a bent eye opens long before that, for which there is no published formula.
 * Withdrawal: twisted wire glued into a bore is neither a nail nor a screw.  For wires across the
 * grain the handbook's two formulas for side grain stand on either side of it (N and mm; USDA Wood
 * Handbook FPL-GTR-190, chapter 8; test averages of seasoned wood, G at 12 %):
 *     p = 54.12 G^(5/2) D L    a smooth nail, as if there were no glue and no twist,
 *     p = 108.25 G^2 D L       a wood screw, as if the twist were a thread.
 * For wires along the grain (nose and tail) the handbook has no formula, so none is printed. */
#include "compute/plug/strength.h"

#include <math.h>

#include "model/reference.h"

static const double pi = 3.14159265358979323846;

static void add(struct strength *s, const char *fitting, const char *failure,
                enum strength_kind kind, double load, const char *formula, const char *source) {
    s->rows[s->count++] =
        (struct strength_row){fitting, failure, kind, load, load / s->line, formula, source};
}

static void add_wire(struct strength *s, const struct plug *plug, const char *fitting) {
    const struct wire *wire = plug->recipe->hardware->wire;
    const struct wire_strength_row *row = reference_wire_strength(wire->material, wire->diameter);
    const char *failure = "both strands of the wire break";
    if (!row) {
        add(s, fitting, failure, STRENGTH_UNKNOWN, 0, "no published strength for this wire", NULL);
        return;
    }
    double area = pi / 4 * wire->diameter * wire->diameter;
    add(s, fitting, failure, STRENGTH_KNOWN, 2 * area * row->least, "2 (pi/4) d^2 R", row->source);
}

static void add_withdrawal(struct strength *s, const struct plug *plug, const char *fitting,
                           const struct pilot *pilot) {
    const char *failure = "the wire pulls out of the wood";
    if (!pilot->given) {
        add(s, fitting, "the eye tears out of the lip", STRENGTH_UNKNOWN, 0,
            "no published formula for an eye through a thin sheet", NULL);
        return;
    }
    if (pilot->u_x != 0) {
        add(s, fitting, failure, STRENGTH_UNKNOWN, 0,
            "no published formula for a glued wire along the grain", NULL);
        return;
    }
    double gravity = reference_wood_gravity12(&reference_wood[plug->recipe->wood->species]);
    double diameter = 2 * plug->recipe->hardware->wire->diameter * 1e3; /* two strands, mm */
    double area = diameter * pilot->depth * 1e3;
    const char *source = "USDA Wood Handbook FPL-GTR-190, chapter 8";
    add(s, fitting, "the wire pulls out, as a smooth nail would without glue", STRENGTH_FLOOR,
        54.12 * pow(gravity, 2.5) * area, "54.12 G^(5/2) D L", source);
    add(s, fitting, "the wire pulls out, as a wood screw would", STRENGTH_KNOWN,
        108.25 * gravity * gravity * area, "108.25 G^2 D L", source);
}

struct strength strength_of(struct arena *arena, const struct plug *plug) {
    const struct opt *line = &plug->recipe->hardware->line;
    struct strength s = {.given = line->given, .line = line->value};
    if (!s.given) return s;
    s.rows = NEW(arena, struct strength_row, 3 * MAX_FITTINGS);
    for (int i = 0; i < plug->fitting_count; i++) {
        const char *name = i == FITTING_TIE ? "line tie" : arena_printf(arena, "hanger %d", i);
        add_wire(&s, plug, name);
        add_withdrawal(&s, plug, name, &plug->fittings[i].pilot);
    }
    return s;
}
