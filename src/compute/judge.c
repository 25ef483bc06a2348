#include "compute/judge.h"

#include <math.h>

#include "compute/advice.h"
#include "compute/aim.h"
#include "compute/bench.h"
#include "compute/plug/through.h"
#include "compute/plug/wall.h"
#include "compute/shape/section.h"
#include "model/check.h"
#include "model/reference.h"

struct judge {
    struct arena *arena;
    const struct recipe *recipe;
    const struct results *results;
    struct diags *diags;
};

static double fact(enum fact which) {
    return reference_fact[which].value;
}

/* In the recipe's units, as results are shown everywhere. */
static const char *show(const struct judge *j, double value, enum dimension dimension, int digits) {
    static const enum shown_as shown[] = {
        [DIM_LENGTH] = SHOWN_LENGTH,  [DIM_MASS] = SHOWN_MASS,   [DIM_DENSITY] = SHOWN_DENSITY,
        [DIM_ANGLE] = SHOWN_ANGLE,    [DIM_SHARE] = SHOWN_SHARE, [DIM_PACE] = SHOWN_PACE,
        [DIM_DISTANCE] = SHOWN_DEPTH,
    };
    struct shown_form form = shown_form(shown[dimension], j->recipe->shop->units);
    return quantity_show(j->arena, value, dimension, form.unit, digits);
}

static struct span place(const struct judge *j, const void *member) {
    return recipe_place(j->recipe, member);
}

/* --- the outline ----------------------------------------------------------------------------- */

bool judge_outline(struct arena *arena, const struct recipe *recipe, struct diags *diags) {
    const struct body *body = recipe->body;
    struct outline outline = outline_of(arena, body);
    bool sound = true;
    for (int row = 0; row + 1 < body->station_count; row++) {
        double least = curve_least_sum(&outline.back, &outline.belly, row);
        if (least >= -1e-9) continue;
        sound = false;
        diag_add(diags, SEVERITY_ERROR, recipe_place(recipe, &body->stations[row].back), "outline",
                 "add a station between, or move these two",
                 "back and belly cross between this station and the next");
        advise_outline(diags, recipe, row, -least);
    }
    return sound;
}

/* --- bores and wires ------------------------------------------------------------------------- */

static bool in_wood(const struct plug *plug, double x, double z) {
    const double slack = 1e-6;
    return x >= -slack && x <= plug->outline.length + slack && z <= plug_top(plug, x) + slack &&
           z >= plug_bottom(plug, x) - slack;
}

/* Whether a bore's whole round lies in the wood where its axis is at x, z. */
static bool round_in_wood(const struct plug *plug, const struct pilot *pilot, double x, double z) {
    enum { ROUND = 24 };
    const double slack = 1e-6;
    for (int i = 0; i < ROUND; i++) {
        double turn = 2 * 3.14159265358979323846 * i / ROUND, r = pilot->diameter / 2;
        double across = r * cos(turn), y = r * sin(turn);
        double at = x + (pilot->u_x == 0 ? across : 0), up = z + (pilot->u_x == 0 ? 0 : across);
        if (at < -slack || at > plug->outline.length + slack) return false;
        struct section section = section_at(&plug->outline, at, 0);
        if (fabs(y) > section_half_width(&section, up) + slack) return false;
    }
    return true;
}

/* Near its mouth a bore may be wider than a pointed end; where it holds the wire, in its inner
 * half, all of it must lie in the wood, and its axis everywhere. */
static bool judge_pilot(const struct judge *j, const struct opening *opening) {
    enum { SAMPLES = 64 };
    const struct plug *plug = &j->results->plug;
    const struct fitted *fitted = &plug->fittings[opening->index];
    const char *name = name_text(j->arena, fitting_name(opening->index, NAME_THE_TIE, NAME_HANGER));
    const struct fitting *fitting = fitted->fitting;
    const struct pilot *pilot = &fitted->pilot;
    if (!pilot_bored(pilot)) return true;
    if (!in_wood(plug, pilot->mouth_x, pilot->mouth_z)) {
        diag_add(j->diags, SEVERITY_ERROR, place(j, &fitting->place), "mouth",
                 "move the datum line, or the tie or hanger to belly or back",
                 "the outline crosses the datum: %s's bore would begin outside the wood", name);
        return false;
    }
    for (int i = 1; i <= SAMPLES; i++) {
        double run = pilot->depth * i / SAMPLES;
        double x = pilot->mouth_x + pilot->u_x * run, z = pilot->mouth_z + pilot->u_z * run;
        if (in_wood(plug, x, z) && (2 * i < SAMPLES || round_in_wood(plug, pilot, x, z))) continue;
        const void *blamed =
            fitting->depth.given ? (const void *)&fitting->depth : (const void *)&fitting->place;
        diag_add(j->diags, SEVERITY_ERROR, place(j, blamed), "pilot", "a shorter depth",
                 "the bore for %s leaves the wood %s deep", name, show(j, run, DIM_LENGTH, 3));
        advise_room(j->diags, j->results, opening, pilot->depth - run, ADVICE_BLAMED);
        return false;
    }
    return true;
}

static bool judge_eyes(const struct judge *j) {
    const struct eyes *eyes = j->recipe->eyes;
    double x = position_in(eyes->at, j->results->plug.outline.length);
    if (in_wood(&j->results->plug, x, eyes->up)) return true;
    diag_add(j->diags, SEVERITY_ERROR, place(j, &eyes->up), "eyes",
             "between belly and back at that place", "the eye's centre lies outside the body");
    advise_eyes(j->diags, j->results);
    return false;
}

/* --- room between openings ------------------------------------------------------------------- */

/* One from nose or tail has no place of its own. */
static const void *blamed_boring(const struct boring *boring) {
    return boring->at->given ? (const void *)boring->at : boring->side;
}

/* What of an opening is blamed: what can be moved or made shorter. */
static const void *blamed_of(const struct judge *j, const struct opening *opening) {
    switch (opening->kind) {
    case OPENING_SLOT:
        return &j->recipe->lip->slot;
    case OPENING_SOCKETS:
        return &j->recipe->eyes->at;
    case OPENING_WIRE: {
        const struct fitting *fitting = j->results->plug.fittings[opening->index].fitting;
        if (fitting->depth.given) return &fitting->depth;
        return fitting->at.given ? (const void *)&fitting->at : &fitting->place;
    }
    case OPENING_CHAMBER:
    case OPENING_BORE:
    default: {
        struct boring boring = opening_boring(j->recipe, opening);
        return blamed_boring(&boring);
    }
    }
}

/* What would make room between it and another opening. */
static const char *help_of(const struct judge *j, const struct opening *opening) {
    const char *name = name_text(j->arena, opening_name(opening));
    bool written = opening->kind != OPENING_WIRE ||
                   j->results->plug.fittings[opening->index].fitting->depth.given;
    if (opening->kind == OPENING_SLOT)
        return "a shorter slot, or another place or angle for the lip";
    if (opening->kind == OPENING_SOCKETS) return "eyes elsewhere, smaller or less deep";
    if (written) return arena_printf(j->arena, "less depth or another place for %s", name);
    return arena_printf(j->arena,
                        "another place for %s, which shortens itself to %s and no further", name,
                        show(j, fact(FACT_WIRE_DEPTH_LEAST), DIM_LENGTH, 3));
}

/* What would leave more wood between it and the surface. */
static const char *help_inside(const struct judge *j, const struct opening *opening) {
    if (opening->kind == OPENING_SOCKETS) return "eyes nearer the middle of the flank, or smaller";
    if (opening->kind == OPENING_WIRE && axis_along(&opening->axis))
        return "a thinner pilot, or a thicker body there";
    return help_of(j, opening);
}

/* Tells how little room there is between two things, at the place of what is blamed. */
static void tell_room(const struct judge *j, const void *blamed, const char *rule, const char *one,
                      const char *other, double distance, double due, bool error,
                      const char *help) {
    enum severity severity = error ? SEVERITY_ERROR : SEVERITY_WARNING;
    const char *needed = arena_printf(j->arena, "%s is due", show(j, due, DIM_LENGTH, 3));
    const char *hint = help ? arena_printf(j->arena, "%s: %s", needed, help) : needed;
    if (distance <= 0)
        diag_add(j->diags, severity, place(j, blamed), rule, hint, "%s meets %s", one, other);
    else
        diag_add(j->diags, severity, place(j, blamed), rule, hint, "only %s between %s and %s",
                 show(j, distance, DIM_LENGTH, 3), one, other);
    diag_lead(j->diags, arena_printf(j->arena, "%s: write ", needed));
}

/* A drill that is as wide as the body leaves nothing else to say of its bore. */
static bool is_too_wide(const struct judge *j, const struct opening *opening, double *width) {
    *width = axis_breadth(&j->results->plug, &opening->axis);
    return opening->width >= *width;
}

/* A bore that begins beside the body leaves nothing else to say of it either. */
static bool begins_in_wood(const struct opening *opening) {
    return opening->axis.room > 0;
}

static bool is_bored(const struct judge *j, const struct opening *opening) {
    double width;
    return begins_in_wood(opening) && !is_too_wide(j, opening, &width);
}

static bool judge_drill(const struct judge *j, const struct opening *opening) {
    struct boring boring = opening_boring(j->recipe, opening);
    double width;
    if (!begins_in_wood(opening)) {
        diag_add(j->diags, SEVERITY_ERROR,
                 place(j, boring.up->given ? boring.up : blamed_boring(&boring)), "mouth",
                 "a height between belly and back where it begins",
                 "at that height the body has no wood to bore into");
        advise_up(j->diags, j->results, opening);
        return false;
    }
    if (!is_too_wide(j, opening, &width)) return true;
    diag_add(j->diags, SEVERITY_ERROR, place(j, boring.drill), "drill", NULL,
             "a drill of %s in a body that is %s wide there",
             show(j, opening->width, DIM_LENGTH, 4), show(j, width, DIM_LENGTH, 3));
    advise_drill(j->diags, j->results, opening);
    return false;
}

/* Whether an opening lies in the wood where it has to. */
static bool judge_place(const struct judge *j, const struct opening *opening) {
    switch (opening->kind) {
    case OPENING_SOCKETS:
        return judge_eyes(j);
    case OPENING_WIRE:
        return judge_pilot(j, opening);
    case OPENING_BORE:
    case OPENING_CHAMBER:
        return judge_drill(j, opening);
    case OPENING_SLOT:
    default:
        return true;
    }
}

static bool is_boring(const struct opening *opening) {
    return opening->kind == OPENING_BORE || opening->kind == OPENING_CHAMBER;
}

static void judge_wall(const struct judge *j, const struct opening *opening, double wall) {
    const double due = fact(FACT_CLEARANCE_DOUBTFUL);
    if (is_boring(opening) || !wall_short(wall, due)) return; /* judge_bores */
    tell_room(j, blamed_of(j, opening), "wall", name_text(j->arena, opening_name(opening)),
              name_text(j->arena, (struct name){.key = NAME_THE_SURFACE}), wall, due, wall <= 0,
              help_inside(j, opening));
    advise_room(j->diags, j->results, opening, due - wall, ADVICE_BLAMED);
}

/* Whether both come from one side of the body, and not from an end. */
static bool runs_beside(const struct axis *a, const struct axis *b) {
    return !axis_along(a) && a->u_z == b->u_z && a->u_y == b->u_y;
}

/* Of two openings a bore is blamed, or else the later; what would help says it of both. */
static void judge_pair(const struct judge *j, const struct clearance *pair) {
    const struct opening *openings = j->results->clearances.openings;
    const struct opening *blamed = &openings[pair->other], *other = &openings[pair->one];
    const double due = fact(FACT_CLEARANCE_DOUBTFUL);
    if (!wall_short(pair->distance, due)) return;
    if (other->kind == OPENING_BORE) blamed = other, other = &openings[pair->other];
    bool itself = pair->one == pair->other;
    bool side_by_side = !itself && runs_beside(&blamed->axis, &other->axis);
    const char *name = name_text(j->arena, opening_name(blamed));
    const char *from = itself ? "the other" : name_text(j->arena, opening_name(other));
    const char *help = help_of(j, blamed);
    if (side_by_side)
        help = arena_printf(j->arena, "another place for %s or %s, or a smaller drill", name, from);
    else if (!itself)
        help = arena_printf(j->arena, "%s; or %s", help, help_of(j, other));
    tell_room(j, blamed_of(j, blamed), "collision", name, from, pair->distance, due,
              pair->distance <= 0, help);
    advise_room(j->diags, j->results, blamed, due - pair->distance, ADVICE_BLAMED);
    if (!itself) advise_room(j->diags, j->results, other, due - pair->distance, ADVICE_OTHER);
}

/* What lies outside the wood is told once; how near it is to anything says nothing. */
/* The cup against all else that is cut into the wood: from the sphere's centre to the nearest point
 * of an opening, less the radius.  What begins in its floor does not count. */
static double cup_distance(const struct notch *cup, const struct opening *o) {
    if (axis_level(&o->axis)) {
        double beside = fmax(hypot(o->axis.x - cup->x, o->axis.z - cup->z) - o->width / 2, 0);
        return hypot(beside, fmax(opening_inmost(o), 0)) - cup->radius;
    }
    double dx = cup->x - o->axis.x, dz = cup->z - o->axis.z;
    double along = dx * o->axis.u_x + dz * o->axis.u_z;
    double across = fabs(-dx * o->axis.u_z + dz * o->axis.u_x);
    double beyond = fmax(fmax(along - o->depth, -along), 0);
    return hypot(beyond, fmax(across - o->width / 2, 0)) - cup->radius;
}

/* From the least x of an opening to its greatest. */
static void lengthwise(const struct opening *o, double *fore, double *aft) {
    double half = o->width / 2, mouth = o->axis.x, inner = axis_x(&o->axis, o->depth);
    double across = axis_level(&o->axis) ? half : half * fabs(o->axis.u_z);
    *fore = fmin(mouth, inner) - across;
    *aft = fmax(mouth, inner) + across;
}

/* A joint against all that is cut into the wood, and the ends of the body. */
static void judge_joint(const struct judge *j, int joint) {
    const struct plug *plug = &j->results->plug;
    const struct clearances *c = &j->results->clearances;
    double x = plug->joints[joint].at_x, reach = plug_joint_reach(plug, joint);
    double due = fact(FACT_CLEARANCE_DOUBTFUL), fore, aft;
    const char *name = name_text(j->arena, (struct name){NAME_JOINT, joint + 1, {0}});
    if (x - reach <= 0 || x + reach >= plug->outline.length)
        diag_add(j->diags, SEVERITY_ERROR, place(j, &j->recipe->joints[joint].at), "joint",
                 "a place nearer the middle, a smaller angle or gap", "%s leaves no part beyond it",
                 name);
    for (int i = 0; i < c->count; i++) {
        const struct opening *o = &c->openings[i];
        lengthwise(o, &fore, &aft);
        double distance = fmax(fore - (x + reach), x - reach - aft);
        if (!wall_short(distance, due)) continue;
        tell_room(j, blamed_of(j, o), "joint", name_text(j->arena, opening_name(o)), name, distance,
                  due, distance <= 0, "another place for one of the two");
        advise_room(j->diags, j->results, o, due - distance, ADVICE_BLAMED);
    }
}

static void judge_joints(const struct judge *j) {
    for (int i = 0; i < j->results->plug.joint_count; i++) judge_joint(j, i);
}

static void judge_cup(const struct judge *j) {
    const struct plug *plug = &j->results->plug;
    const struct clearances *c = &j->results->clearances;
    double due = fact(FACT_CLEARANCE_DOUBTFUL);
    if (!j->recipe->face) return;
    for (int i = 0; i < c->count; i++) {
        const struct opening *o = &c->openings[i];
        bool own = o->kind == OPENING_WIRE && o->axis.u_x > 0;
        double distance = own ? INFINITY : cup_distance(&plug->cup, o);
        if (!wall_short(distance, due)) continue;
        tell_room(j, blamed_of(j, o), "cup", name_text(j->arena, opening_name(o)),
                  name_text(j->arena, (struct name){.key = NAME_CUP}), distance, due, distance <= 0,
                  "another place or less depth for one of the two");
        advise_room(j->diags, j->results, o, due - distance, ADVICE_BLAMED);
    }
}

/* Kerf and wire of a through wire against all else that is cut into the wood. */
static void judge_through(const struct judge *j) {
    const struct plug *plug = &j->results->plug;
    const struct clearances *c = &j->results->clearances;
    const struct through *through = j->recipe->hardware->through;
    double due = fact(FACT_CLEARANCE_DOUBTFUL);
    if (!through) return;
    if (wall_short(plug->through.least, due))
        diag_add(j->diags, SEVERITY_ERROR, place(j, &through->up), "through",
                 "another height for the wire, or a fuller outline there",
                 "the wire leaves the wood, or nearly, %s from the nose",
                 show(j, plug->through.least_x, DIM_LENGTH, 3));
    for (int i = 0; i < c->count; i++) {
        const struct opening *o = &c->openings[i];
        bool own = o->kind == OPENING_WIRE && !o->screw;
        double distance = own ? INFINITY : through_distance(plug, o);
        if (!wall_short(distance, due)) continue;
        enum name_key cut = plug->through.groove ? NAME_GROOVE : NAME_KERF;
        enum name_key what = o->kind == OPENING_SLOT ? NAME_THE_THROUGH : cut;
        tell_room(j, blamed_of(j, o), "through", name_text(j->arena, opening_name(o)),
                  name_text(j->arena, (struct name){.key = what}), distance, due, distance <= 0,
                  plug->through.groove
                      ? "less depth, or the wire at another height"
                      : "less depth, the kerf from the other side, or the wire at another height");
        advise_room(j->diags, j->results, o, due - distance, ADVICE_BLAMED);
    }
}

static void judge_openings(const struct judge *j) {
    const struct clearances *c = &j->results->clearances;
    bool placed[MAX_OPENINGS] = {false};
    for (int i = 0; i < c->count; i++) {
        placed[i] = judge_place(j, &c->openings[i]);
        if (placed[i]) judge_wall(j, &c->openings[i], c->wall[i]);
    }
    /* Where an aim is out of reach, bores are as deep as nobody wants them. */
    bool bores = j->results->ballast.solution.status != SOLVE_UNREACHABLE;
    for (int i = 0; i < c->pair_count; i++) {
        const struct clearance *pair = &c->pairs[i];
        if (!placed[pair->one] || !placed[pair->other]) continue;
        bool with_bore = c->openings[pair->one].kind == OPENING_BORE ||
                         c->openings[pair->other].kind == OPENING_BORE;
        if (bores || !with_bore) judge_pair(j, pair);
    }
}

static void judge_reaches(const struct judge *j) {
    const struct plug *plug = &j->results->plug;
    const struct reaches *reaches = &j->results->reaches;
    for (int i = 0; i < reaches->count; i++) {
        const struct reach *r = &reaches->list[i];
        const char *swing = show(j, r->swing, DIM_LENGTH, 3);
        const char *distance = show(j, r->distance, DIM_LENGTH, 3);
        if (!wall_short(r->distance, r->swing)) continue;
        struct span at =
            place(j, &plug->fittings[r->kind == REACH_HOOK ? r->other : r->hanger].fitting->hook);
        if (r->kind == REACH_HOOK)
            diag_add(
                j->diags, SEVERITY_WARNING, at, "hook", "shorter hooks, or hangers further apart",
                "hooks %d and %d reach each other: %s of eyes, rings and hooks over %s between "
                "their hangers",
                r->hanger, r->other, swing, distance);
        else
            diag_add(j->diags, SEVERITY_WARNING, at, "hook",
                     "a shorter hook, or the hanger further away",
                     "hook %d reaches the %s: it swings %s, and that is %s away", r->hanger,
                     r->kind == REACH_LIP ? "lip" : "line", swing, distance);
    }
}

/* How deep a bore may be for the wood that is due. */
static const char *room_in_words(const struct judge *j, int bore, double due) {
    double room = j->diags->trial ? 0 : advice_room(j->results, bore, due);
    return arena_printf(j->arena, "the wood has room for %s", show(j, room, DIM_LENGTH, 3));
}

/* What goes into a bore needs, and what there is. */
static const char *need_in_words(const struct judge *j, int bore, const char *needs, double depth,
                                 double due) {
    return arena_printf(j->arena, "%s %s, and %s", needs, show(j, depth, DIM_LENGTH, 4),
                        room_in_words(j, bore, due));
}

static void judge_load(const struct judge *j, const struct opening *opening) {
    const struct bore *bore = &j->recipe->ballast->bores[opening->index];
    const struct bore_fill *fill = &j->results->ballast.fills[opening->index];
    if (fill->fits) return;
    diag_add(j->diags, SEVERITY_ERROR, place(j, &bore->load), "load",
             need_in_words(j, opening->index, "the load needs", fill->slug, fact(FACT_WALL_LEAST)),
             "the load stands %s high in a bore that is %s deep",
             show(j, fill->slug, DIM_LENGTH, 4), show(j, fill->depth, DIM_LENGTH, 4));
    advise_load(j->diags, j->results, opening);
}

/* A load that is hardly one: what no scale tells, or what lies in its bore like a coin. */
static void judge_little(const struct judge *j, int bore) {
    const struct bore_fill *fill = &j->results->ballast.fills[bore];
    const double told = fact(FACT_SCALE_STEP), due = fact(FACT_SLUG_LEAST), hair = 1e-9;
    const void *load = &j->recipe->ballast->bores[bore].load;
    if (!(fill->load > 0) && !fill->solved) return;
    if (fill->load < told - hair)
        diag_add(j->diags, SEVERITY_WARNING, place(j, load), "load",
                 arena_printf(j->arena, "%s is due: leave the bore out, or move it",
                              show(j, told, DIM_MASS, 3)),
                 "the load of %s is less than a scale tells", show(j, fill->load, DIM_MASS, 2));
    else if (wall_short(fill->slug, due))
        diag_add(j->diags, SEVERITY_WARNING, place(j, load), "load",
                 arena_printf(j->arena, "%s is due: a narrower drill", show(j, due, DIM_LENGTH, 3)),
                 "the load stands only %s high", show(j, fill->slug, DIM_LENGTH, 2));
}

/* How much wood is left ahead of a bore, or around what lies in it. */
static void judge_ahead(const struct judge *j, const struct opening *opening, double wall,
                        const char *help) {
    struct boring boring = opening_boring(j->recipe, opening);
    const double least = fact(FACT_WALL_LEAST), doubtful = wall_doubtful(&j->results->plug);
    bool error = wall_short(wall, least);
    enum name_key surface = boring.from == SIDE_BELLY ? NAME_SURFACE : NAME_THE_SURFACE;
    if (opening->axis.u_z == 0)
        help = "a narrower drill, a height nearer the middle, or a thicker body there";
    tell_room(j, blamed_boring(&boring), "wall", name_text(j->arena, opening_name(opening)),
              name_text(j->arena, (struct name){.key = surface}), wall, error ? least : doubtful,
              error, help);
}

static void judge_bore(const struct judge *j, const struct opening *opening) {
    const struct bore *bore = &j->recipe->ballast->bores[opening->index];
    const double least = fact(FACT_WALL_LEAST), doubtful = wall_doubtful(&j->results->plug);
    double wall = j->results->ballast.wall[opening->index];
    if (!is_bored(j, opening)) return;
    judge_load(j, opening);
    judge_little(j, opening->index);
    if (!wall_short(wall, doubtful)) return;
    const double due = wall_short(wall, least) ? least : doubtful;
    judge_ahead(j, opening, wall,
                bore->depth.given
                    ? room_in_words(j, opening->index, due)
                    : need_in_words(j, opening->index, "load and filler need",
                                    j->results->ballast.fills[opening->index].depth, due));
    diag_lead(j->diags, NULL); /* what there is room for is worth knowing in any case */
    advise_room(j->diags, j->results, opening, doubtful - wall, ADVICE_BLAMED);
}

/* The densest metal that the table knows. */
static double densest(void) {
    double most = 0;
    for (int i = 0; i < reference_metal_count; i++) most = fmax(most, reference_metal[i].density);
    return most;
}

static void judge_chamber(const struct judge *j, const struct opening *opening, double wall) {
    const struct chamber *chamber = &j->recipe->chambers[opening->index];
    const double doubtful = wall_doubtful(&j->results->plug);
    struct hollow hollow = hollow_of(&j->results->plug, opening->index);
    if (!is_bored(j, opening)) return;
    if (hollow_packing(&hollow) > densest()) {
        diag_add(j->diags, SEVERITY_ERROR, place(j, &chamber->holds->mass), "chamber",
                 "less of it, or a deeper or wider chamber",
                 "%s do not go into a room %s wide and %s deep: no metal is so dense",
                 show(j, hollow.content, DIM_MASS, 3), show(j, hollow.drill, DIM_LENGTH, 3),
                 show(j, hollow.depth - hollow.stopper, DIM_LENGTH, 3));
        advise_content(j->diags, j->results, opening, hollow_packing(&hollow) / densest());
    }
    if (!wall_short(wall, doubtful)) return;
    judge_ahead(j, opening, wall, "less depth");
    advise_room(j->diags, j->results, opening, doubtful - wall, ADVICE_BLAMED);
}

static void judge_bores(const struct judge *j) {
    const struct clearances *c = &j->results->clearances;
    for (int i = 0; i < c->count; i++)
        if (c->openings[i].kind == OPENING_BORE) judge_bore(j, &c->openings[i]);
}

static void judge_chambers(const struct judge *j) {
    const struct clearances *c = &j->results->clearances;
    for (int i = 0; i < c->count; i++)
        if (c->openings[i].kind == OPENING_CHAMBER) judge_chamber(j, &c->openings[i], c->wall[i]);
}

static bool drillable(const struct judge *j) {
    const struct clearances *c = &j->results->clearances;
    for (int i = 0; i < c->count; i++)
        if (c->openings[i].kind == OPENING_BORE && !is_bored(j, &c->openings[i])) return false;
    return true;
}

/* --- the aim --------------------------------------------------------------------------------- */

static double reserve_sinking(const struct judge *j, double pace) {
    const struct plug *plug = &j->results->plug;
    return hydro_reserve(-1 / pace, j->results->finished.rest.capacity, plug->water,
                         plug->bare.plan_area);
}

/* "6 s/m": the reserve as a time of sinking, "nothing" where it does not sink. */
static const char *sinking(const struct judge *j, double reserve) {
    if (!(reserve < 0)) return "nothing";
    /* the force goes with the square of the speed */
    return show(j, sqrt(reserve_sinking(j, 1) / reserve), DIM_PACE, 3);
}

/* "reserve 12 % and attitude 5 deg", of what is aimed at; an attitude that is no number: no rest.
 */
static const char *aim_in_words(const struct judge *j, const struct aim *aim, double reserve,
                                double attitude) {
    const char *floats = aim->sink.given
                             ? arena_printf(j->arena, "sink %s", sinking(j, reserve))
                             : arena_printf(j->arena, "reserve %s", show(j, reserve, DIM_SHARE, 3));
    const char *lies = "no rest between tail down and nose down";
    if (isfinite(attitude))
        lies = arena_printf(j->arena, "attitude %s", show(j, attitude, DIM_ANGLE, 3));
    if (!aim->attitude.given) return floats;
    return aim->reserve.given || aim->sink.given ? arena_printf(j->arena, "%s and %s", floats, lies)
                                                 : lies;
}

static void judge_aim(const struct judge *j) {
    const struct ballast *ballast = j->recipe->ballast;
    const struct solution *s = &j->results->ballast.solution;
    if (!ballast || !ballast->aim) return;
    const struct aim *aim = ballast->aim;
    const char *reached = aim_in_words(j, aim, s->outcome.reserve, s->outcome.attitude);
    double reserve = aim->sink.given ? reserve_sinking(j, aim->sink.value) : aim->reserve.value;
    const char *wanted = aim_in_words(j, aim, reserve, aim->attitude.value);
    if (s->status == SOLVE_UNREACHABLE) {
        diag_add(j->diags, SEVERITY_ERROR, place(j, &j->recipe->ballast->aim), "aim",
                 "lighter wood, smaller hooks or another place for the bores may help; "
                 "no single change of those was enough",
                 "no load of zero or more reaches %s; the nearest is %s", wanted, reached);
        diag_lead(j->diags, "within reach with ");
        advise_aim(j->diags, j->results);
    } else if (s->status == SOLVE_NONE &&
               (aim->reserve.given || aim->sink.given || aim->attitude.given))
        diag_add(j->diags, SEVERITY_WARNING, place(j, &j->recipe->ballast->aim), "aim",
                 "load: solve lets the compiler find the loads",
                 "nothing is left to solve: aimed at %s, the plug has %s", wanted, reached);
    else if (s->attitude_noted)
        diag_add(j->diags, SEVERITY_WARNING, place(j, &j->recipe->ballast->aim), "aim",
                 "a second bore to solve would meet both",
                 "one bore meets the reserve alone: aimed at %s, the plug has %s", wanted, reached);
}

/* --- afloat ---------------------------------------------------------------------------------- */

/* Whether the plug stays upright by itself, and by enough for a bench that drills and casts. */
static void judge_upright(const struct judge *j, const struct condition *c, struct span at) {
    const char *help = "more ballast lower down, or a wider back";
    const double due = fact(FACT_GM_LEAST), reachable = fact(FACT_OFF_MIDDLE_LEAST);
    const double allowed = fact(FACT_LEAN_ALLOWED);
    if (c->rest.gm <= 0)
        diag_add(j->diags, SEVERITY_WARNING, at, "stability", help,
                 "the finished plug does not stay upright: its metacentre lies %s below its centre "
                 "of gravity",
                 show(j, -c->rest.gm, DIM_LENGTH, 2));
    else if (wall_short(c->rest.gm, due))
        diag_add(j->diags, SEVERITY_WARNING, at, "stability",
                 arena_printf(j->arena, "%s is due: %s", show(j, due, DIM_LENGTH, 2), help),
                 "the finished plug hardly stays upright: its metacentre lies only %s above its "
                 "centre of gravity",
                 show(j, c->rest.gm, DIM_LENGTH, 2));
    if (!c->lean_given || !(c->ballast_mass > 0)) return;
    double tolerance = bench_tolerance(c, allowed);
    if (wall_short(tolerance, reachable))
        diag_add(j->diags, SEVERITY_WARNING, at, "stability",
                 arena_printf(j->arena, "%s can be kept to: %s", show(j, reachable, DIM_LENGTH, 2),
                              help),
                 "ballast only %s off the middle makes the finished plug lean %s",
                 show(j, tolerance, DIM_LENGTH, 2), show(j, allowed, DIM_ANGLE, 2));
}

static void judge_floating(const struct judge *j) {
    const struct condition *c = &j->results->finished;
    struct span at = place(j, &j->recipe->body);
    if (!c->rest.found)
        diag_add(j->diags, SEVERITY_WARNING, at, "attitude", NULL,
                 "the finished plug finds no rest between tail down and nose down");
    else if (fabs(c->rest.attitude) > fact(FACT_STEEP_ATTITUDE))
        diag_add(
            j->diags, SEVERITY_WARNING, at, "attitude", NULL, "the finished plug rests %s %s down",
            show(j, fabs(c->rest.attitude), DIM_ANGLE, 3), c->rest.attitude > 0 ? "nose" : "tail");
    judge_upright(j, c, at);
}

/* Density of weighed bodies, and wood that is left after all bores. */
static void judge_wood(const struct judge *j) {
    const struct results *r = j->results;
    const double least = fact(FACT_LIGHTEST_WOOD), most = fact(FACT_HEAVIEST_WOOD);
    const struct measured *measured = j->recipe->measured;
    for (int i = 0; measured && i < measured->blank_count; i++) {
        double density = plug_density_of(&r->plug, measured->blank[i]);
        if (density >= least && density <= most) continue;
        diag_add(j->diags, SEVERITY_ERROR, place(j, &measured->blank[i]), "measured",
                 arena_printf(j->arena, "one shaped body, %s, before any other bore",
                              name_text(j->arena, plug_shaped_name(j->recipe))),
                 "a body of that mass would be wood of %s", show(j, density, DIM_DENSITY, 3));
    }
    if (mass_find(&r->masses, NAME_WOOD)->mass <= 0)
        diag_add(j->diags, SEVERITY_ERROR, place(j, &j->recipe->body), "wood", NULL,
                 "bores, slot and sockets remove more wood than there is");
}

static void judge_strength(const struct judge *j) {
    const struct strength *s = &j->results->strength;
    for (int i = 0; i < s->count; i++) {
        const struct strength_row *row = &s->rows[i];
        const struct joint_row *joint = &reference_joint[row->joint];
        if (strength_little(row))
            diag_add(j->diags, SEVERITY_WARNING, place(j, &j->recipe->hardware->line), "strength",
                     joint->formula, "%s: %s at %.1f times the line's breaking load",
                     name_text(j->arena, fitting_name(row->fitting, NAME_TIE, NAME_HANGER)),
                     joint->failure, row->factor);
    }
}

/* --- under tow ------------------------------------------------------------------------------- */

static void judge_sounding(const struct judge *j, const struct sounding *read) {
    const struct running_result *r = &j->results->running;
    const struct band *band = &r->sounding.predicted;
    struct span at = place(j, &read->depth);
    if (!r->given) return; /* a trial computes no running */
    if (r->kind == TOW_ON_TOP)
        diag_add(j->diags, SEVERITY_WARNING, at, "running", NULL,
                 "a plug that floats and has no lip is not computed: this reading is not used");
    else if (r->sounding.given && !r->sounding.left)
        diag_add(
            j->diags, SEVERITY_WARNING, at, "running",
            "were speed and length of line those at the reading?",
            "no coefficient within its range meets a depth of %s, and the reading is not used; "
            "%s to %s was computed",
            show(j, read->depth, DIM_DISTANCE, 3), show(j, band->low, DIM_DISTANCE, 3),
            show(j, band->high, DIM_DISTANCE, 3));
}

static void judge_running(const struct judge *j) {
    const struct recipe *recipe = j->recipe;
    if (!recipe->running) return;
    if (running_lip_dry(&j->results->plug, &j->results->finished.rest))
        diag_add(j->diags, SEVERITY_WARNING, place(j, &recipe->lip), "running",
                 "a longer lip, a steeper one, or more load forward",
                 "at rest the lip's middle stands out of the water: it may not bite");
    if (recipe->measured && recipe->measured->running) judge_sounding(j, recipe->measured->running);
}

void judge_afloat(struct arena *arena, const struct recipe *recipe, const struct results *results,
                  struct diags *diags) {
    struct judge j = {arena, recipe, results, diags};
    judge_wood(&j);
    /* Where an aim is out of reach, that says it all but for a bore that cannot be drilled. */
    if (results->ballast.solution.status != SOLVE_UNREACHABLE) judge_bores(&j);
    judge_chambers(&j);
    judge_openings(&j);
    judge_through(&j);
    judge_cup(&j);
    judge_joints(&j);
    judge_reaches(&j);
    if (drillable(&j)) judge_aim(&j);
    judge_floating(&j);
    judge_strength(&j);
    judge_running(&j);
}

struct results judge_recipe(struct arena *arena, const struct recipe *recipe, struct diags *diags) {
    struct results results = {0};
    bool bound = !diags->errors;
    if (!check_recipe(recipe, diags) || !bound) return results;
    if (!judge_outline(arena, recipe, diags)) return results;
    if (!aim_meet(arena, recipe, diags)) return results;
    results = results_loaded(arena, recipe);
    judge_afloat(arena, recipe, &results, diags);
    return results;
}

/* A time that was taken belongs to an operation of this recipe. */
static void judge_minutes(const struct recipe *recipe, const struct run *run, struct diags *diags) {
    const struct measured *measured = recipe->measured;
    for (int i = 0; measured && i < measured->timing_count; i++) {
        const struct timing *timing = &measured->minutes[i];
        if (route_find(&run->route, timing->step) >= 0) continue;
        diag_add(diags, SEVERITY_ERROR, recipe_place(recipe, &timing->step), "measured",
                 "'plugwright weigh --json' has the id of every step",
                 "no operation of this recipe is called so");
    }
}

void judge_run(struct arena *arena, const struct recipe *recipe, const struct run *run,
               struct diags *diags) {
    judge_minutes(recipe, run, diags);
    if (run->feasible || diags->errors) return;
    const char *id = run->culprit >= 0 ? run->route.operations[run->culprit].id : "work";
    const char *longest =
        quantity_show(arena, (double)hours_longest(&run->hours), DIM_TIME, NULL, 3);
    diag_add(diags, SEVERITY_ERROR, recipe_place(recipe, &recipe->shop->open), "open",
             "longer hours, fewer plugs in the run, or a smaller wheel load",
             "'%s' fits into no opening; the longest is %s", id, longest);
}
