/* What can be said with a published formula, and no more: the rows of grammar/tables/strength.def.
 *
 * Wire: an eye hangs on two strands, so the wire itself breaks at 2 (pi/4) d^2 R, R the least
 * tensile strength of spring-tempered wire.  That is a ceiling: a bent eye opens long before, for
 * which there is no published formula. Withdrawal: a screw eye's thread holds as a wood screw does,
 * along the grain less. Twisted wire glued into a bore is neither a nail nor a screw. For wires
 * across the grain the handbook's two formulas for side grain stand on either side of it (test
 * averages of seasoned wood): a smooth nail, as if there were no glue and no twist, and a wood
 * screw, as if the twist were a thread.  For wires along the grain (nose and tail) the handbook has
 * no formula, so none is printed. */
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

/* What the wood holds, on so much of thickness times depth. */
static double held(const struct plug *plug, enum joint joint, double area) {
    const struct joint_row *row = &reference_joint[joint];
    double gravity = reference_wood_gravity12(plug->recipe->wood->row);
    return row->p * pow(gravity, row->n) * area;
}

/* One strand carries the pull from eye to eye, and the wood holds nothing; an eye between them
 * hangs on two strands, and those on the wire. */
static void add_through(struct strength *s, const struct plug *plug, int fitting) {
    const struct wire *wire = plug->recipe->hardware->wire;
    const struct wire_strength_row *row = reference_wire_strength(wire->material, wire->diameter);
    double one = row ? pi / 4 * wire->diameter * wire->diameter * row->least : 0;
    add(s, fitting, row ? JOINT_THROUGH : JOINT_THROUGH_UNKNOWN, one, row);
    if (!plug->fittings[fitting].pilot.through) add(s, fitting, JOINT_ON_WIRE, 0, NULL);
}

static void add_screw(struct strength *s, const struct plug *plug, int fitting) {
    const struct screw *screw = plug->fittings[fitting].fitting->screw;
    bool along = plug->fittings[fitting].pilot.u_x != 0;
    enum joint joint = along ? JOINT_SCREW_END : JOINT_SCREW;
    add(s, fitting, JOINT_SHANK, 0, NULL);
    add(s, fitting, joint, held(plug, joint, screw->diameter * screw->shank), NULL);
}

static void add_withdrawal(struct strength *s, const struct plug *plug, int fitting) {
    static const enum joint joints[] = {JOINT_AS_NAIL, JOINT_AS_SCREW};
    const struct pilot *pilot = &plug->fittings[fitting].pilot;
    if (!pilot->given || pilot->u_x != 0) {
        add(s, fitting, pilot->given ? JOINT_ALONG_GRAIN : JOINT_IN_LIP, 0, NULL);
        return;
    }
    double area = 2 * plug->recipe->hardware->wire->diameter * pilot->depth; /* two strands */
    for (size_t i = 0; i < sizeof joints / sizeof *joints; i++)
        add(s, fitting, joints[i], held(plug, joints[i], area), NULL);
}

struct strength strength_of(struct arena *arena, const struct plug *plug) {
    const struct hardware *hardware = plug->recipe->hardware;
    struct strength s = {.given = hardware->line.given, .line = hardware->line.value};
    if (!s.given) return s;
    s.rows = NEW(arena, struct strength_row, JOINT_COUNT * MAX_FITTINGS);
    for (int i = 0; i < plug->fitting_count; i++) {
        if (plug->fittings[i].fitting->screw) {
            add_screw(&s, plug, i);
        } else if (hardware->through) {
            add_through(&s, plug, i);
        } else {
            add_strands(&s, hardware->wire, i);
            add_withdrawal(&s, plug, i);
        }
        add(&s, i, JOINT_OPENS, 0, NULL);
    }
    return s;
}
