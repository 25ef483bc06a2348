/* What can be said with a published formula, and no more: the rows of grammar/tables/strength.def.
 *
 * Wire: an eye hangs on two strands, so the wire itself breaks at 2 (pi/4) d^2 R, R the least
 * tensile strength of spring-tempered wire.  That is a ceiling: a bent eye opens long before, for
 * which there is no published formula. Withdrawal: twisted wire glued into a bore is neither a nail
 * nor a screw. For wires across the grain the handbook's two formulas for side grain stand on
 * either side of it (test averages of seasoned wood): a smooth nail, as if there were no glue and
 * no twist, and a wood screw, as if the twist were a thread.  For wires along the grain (nose and
 * tail) the handbook has no formula, so none is printed. */
#include "compute/plug/strength.h"

#include <math.h>

static const double pi = 3.14159265358979323846;

const char *strength_source(const struct strength_row *row) {
    return row->wire ? row->wire->source : reference_joint[row->joint].source;
}

bool strength_little(const struct strength_row *row) {
    return reference_joint[row->joint].kind >= STRENGTH_CEILING &&
           row->factor < reference_fact[FACT_STRENGTH_FACTOR].value;
}

static void add(struct strength *s, int fitting, enum joint joint, double load,
                const struct wire_strength_row *wire) {
    s->rows[s->count++] = (struct strength_row){fitting, joint, load, load / s->line, wire};
}

static void add_strands(struct strength *s, const struct wire *wire, int fitting) {
    const struct wire_strength_row *row = reference_wire_strength(wire->material, wire->diameter);
    double area = pi / 4 * wire->diameter * wire->diameter;
    if (row)
        add(s, fitting, JOINT_STRANDS, 2 * area * row->least, row);
    else
        add(s, fitting, JOINT_STRANDS_UNKNOWN, 0, NULL);
}

static void add_withdrawal(struct strength *s, const struct plug *plug, int fitting) {
    const struct pilot *pilot = &plug->fittings[fitting].pilot;
    if (!pilot->given || pilot->u_x != 0) {
        add(s, fitting, pilot->given ? JOINT_ALONG_GRAIN : JOINT_IN_LIP, 0, NULL);
        return;
    }
    double gravity = reference_wood_gravity12(&reference_wood[plug->recipe->wood->species]);
    double area = 2 * plug->recipe->hardware->wire->diameter * pilot->depth; /* two strands */
    for (enum joint joint = 0; joint < JOINT_COUNT; joint++) {
        const struct joint_row *row = &reference_joint[joint];
        if (row->p > 0) add(s, fitting, joint, row->p * pow(gravity, row->n) * area, NULL);
    }
}

struct strength strength_of(struct arena *arena, const struct plug *plug) {
    const struct hardware *hardware = plug->recipe->hardware;
    struct strength s = {.given = hardware->line.given, .line = hardware->line.value};
    if (!s.given) return s;
    s.rows = NEW(arena, struct strength_row, JOINT_COUNT * MAX_FITTINGS);
    for (int i = 0; i < plug->fitting_count; i++) {
        add_strands(&s, hardware->wire, i);
        add_withdrawal(&s, plug, i);
        add(&s, i, JOINT_OPENS, 0, NULL);
    }
    return s;
}
