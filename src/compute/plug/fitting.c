/* A depth that the recipe does not say is the usual one, or as much less as keeps the wire clear of
 * what else is cut into the wood.  Which wire gives way is settled by their order: first stand
 * those whose depth is written, then those across the body, which have less room, then those along
 * it. */
#include "compute/plug/fitting.h"

#include <math.h>

#include "compute/plug/opening.h"
#include "compute/plug/wall.h"
#include "model/reference.h"

static const struct fitting *fitting_of(const struct plug *plug, int fitting) {
    const struct hardware *hardware = plug->recipe->hardware;
    return fitting == FITTING_TIE ? hardware->line_tie
                                  : &hardware->hangers[fitting - FITTING_HANGERS];
}

/* --- bores ----------------------------------------------------------------------------------- */

double fitting_thickness(const struct recipe *recipe, const struct fitting *fitting) {
    return fitting->screw ? fitting->screw->diameter : recipe->hardware->wire->diameter;
}

double fitting_drill(const struct recipe *recipe, const struct fitting *fitting) {
    if (fitting->pilot.given) return fitting->pilot.value;
    double share = fitting->screw ? reference_fact[FACT_SCREW_PILOT].value : 2;
    return share * fitting_thickness(recipe, fitting);
}

static struct pilot pilot_of(const struct plug *plug, const struct fitting *fitting) {
    double length = plug->outline.length, at = position_in(fitting->at, length);
    double top = plug_top(plug, at), bottom = plug_bottom(plug, at);
    double usual = reference_fact[FACT_WIRE_DEPTH].value;
    double share = reference_fact[FACT_WIRE_SHARE].value;
    double drill = fitting_drill(plug->recipe, fitting);
    struct pilot pilot = {
        .given = true, .depth = usual, .diameter = drill, .screw = fitting->screw != NULL};
    switch (fitting->place) {
    case PLACE_NOSE:
        pilot.mouth_x = plug_nose(plug), pilot.u_x = 1;
        break;
    case PLACE_TAIL:
        pilot.mouth_x = length, pilot.u_x = -1;
        break;
    case PLACE_BELLY:
        pilot.mouth_x = at, pilot.mouth_z = bottom, pilot.u_z = 1;
        break;
    case PLACE_BACK:
        pilot.mouth_x = at, pilot.mouth_z = top, pilot.u_z = -1;
        break;
    case PLACE_LIP:
        return (struct pilot){.diameter = drill};
    }
    if (pilot.u_z != 0) pilot.depth = fmin(usual, share * (top - bottom));
    const struct through *through = plug->recipe->hardware->through;
    if (through && pilot.u_x != 0) {
        pilot.through = true, pilot.mouth_z = through->up;
        pilot.depth = pilot.diameter = 0;
        return pilot;
    }
    if (through && !fitting->screw) pilot.depth = fmax(fabs(pilot.mouth_z - through->up), 1e-4);
    if (fitting->depth.given) pilot.depth = fitting->depth.value;
    if (fitting->screw) pilot.depth = fitting->screw->shank;
    return pilot;
}

/* --- staying clear --------------------------------------------------------------------------- */

struct obstacles {
    struct opening list[MAX_OPENINGS];
    int count;
};

/* A bore that follows its load may become as deep as the wall allows. */
static struct opening bore_at_most(const struct plug *plug, int bore) {
    const struct bore *b = &plug->recipe->ballast->bores[bore];
    struct bore_fill fill = {.axis = axis_of_bore(plug, b), .drill = b->drill};
    fill.depth = b->depth.given ? b->depth.value : axis_deepest(&fill.axis);
    return opening_of_bore(bore, &fill);
}

static struct obstacles obstacles_of(const struct plug *plug) {
    const struct recipe *recipe = plug->recipe;
    struct obstacles o = {.count = 0};
    if (recipe->lip) o.list[o.count++] = opening_of_slot(plug);
    if (recipe->eyes) o.list[o.count++] = opening_of_sockets(plug);
    for (int i = 0; recipe->ballast && i < recipe->ballast->bore_count; i++)
        o.list[o.count++] = bore_at_most(plug, i);
    o.count += opening_of_chambers(plug, &o.list[o.count]);
    return o;
}

/* The least distance of a wire that goes so deep. */
static double room_at(const struct obstacles *o, struct pilot pilot, double depth) {
    double least = INFINITY;
    pilot.depth = depth;
    struct opening wire = opening_of_wire(&pilot, 0);
    for (int i = 0; i < o->count; i++) least = fmin(least, opening_distance(&wire, &o->list[i]));
    return least;
}

/* The greatest depth, in steps from the usual one down, at which a wire stays clear; where none
 * does, the least if that at least meets nothing, and else the usual one. */
static double clear_depth(const struct obstacles *o, const struct pilot *pilot) {
    const double due = reference_fact[FACT_CLEARANCE_DOUBTFUL].value;
    const double least = reference_fact[FACT_WIRE_DEPTH_LEAST].value;
    const double step = reference_fact[FACT_WIRE_DEPTH_STEP].value;
    if (!wall_short(room_at(o, *pilot, pilot->depth), due) || pilot->depth <= least)
        return pilot->depth;
    for (int steps = (int)ceil(pilot->depth / step - 1); steps * step > least; steps--)
        if (!wall_short(room_at(o, *pilot, steps * step), due)) return steps * step;
    double room = room_at(o, *pilot, least);
    bool helps = room > 0 && (!wall_short(room, due) || room_at(o, *pilot, pilot->depth) <= 0);
    return helps ? least : pilot->depth;
}

/* --- the wire -------------------------------------------------------------------------------- */

/* Two strands around each other, whose middles run on a round as wide as the wire is thick: each is
 * longer than the bore by sqrt(1 + (pi d / lay)^2). */
static double twisted_length(double depth) {
    const double pi = 3.14159265358979323846;
    double slope = pi / reference_fact[FACT_WIRE_LAY].value;
    return 2 * sqrt(1 + slope * slope) * depth;
}

/* On the lip `at` counts from its outer end. */
static void place_on_lip(const struct plug *plug, struct fitted *fitted) {
    const struct plate *plate = &plug->plate;
    if (!plate->given) return;
    double s = plate->extent - position_in(fitted->fitting->at, plug->recipe->lip->length);
    fitted->eye_x = plate->mouth_x + s * plate->u_x;
    fitted->eye_z = plate->mouth_z + s * plate->u_z;
}

static void bend_wire(const struct plug *plug, struct fitted *fitted) {
    const double pi = 3.14159265358979323846;
    double round = pi * (fitted->fitting->eye + fitting_thickness(plug->recipe, fitted->fitting));
    fitted->eye_x = fitted->pilot.mouth_x;
    fitted->eye_z = fitted->pilot.mouth_z;
    if (fitted->fitting->screw || fitted->pilot.through) return;
    fitted->twisted = fitted->pilot.given ? twisted_length(fitted->pilot.depth) : 0;
    fitted->looped = fitted->pilot.given ? round : 2 * round;
    if (!fitted->pilot.given) place_on_lip(plug, fitted);
    /* round the through wire and back, both legs straight */
    if (plug->recipe->hardware->through) fitted->twisted = 2 * fitted->pilot.depth;
}

void fittings_fit(struct plug *plug) {
    enum { WRITTEN, ACROSS, ALONG, TURNS };
    struct obstacles o = obstacles_of(plug);
    plug->fitting_count = 1 + plug->recipe->hardware->hanger_count;
    for (int turn = WRITTEN; turn < TURNS; turn++)
        for (int i = 0; i < plug->fitting_count; i++) {
            struct fitted fitted = {.fitting = fitting_of(plug, i)};
            fitted.pilot = pilot_of(plug, fitted.fitting);
            bool written = fitted.fitting->depth.given || fitted.fitting->screw ||
                           !fitted.pilot.given || plug->recipe->hardware->through;
            if (turn != (written ? WRITTEN : fitted.pilot.u_z != 0 ? ACROSS : ALONG)) continue;
            if (!written) fitted.pilot.depth = clear_depth(&o, &fitted.pilot);
            bend_wire(plug, &fitted);
            plug->fittings[i] = fitted;
            if (pilot_bored(&fitted.pilot)) o.list[o.count++] = opening_of_wire(&fitted.pilot, i);
        }
}
