/* Offers are cheap and need not be right: each is compiled before it is printed.  So they are what
 * a builder would try, nearest first, and a few of each. */
#include "compute/advice.h"

#include <math.h>

#include "base/gauge.h"
#include "compute/ballast/remedy.h"
#include "compute/plug/wall.h"
#include "model/offer.h"
#include "model/reference.h"

/* Choices of one diagnostic; of each the first offer that holds is printed.  What is offered for
 * the other of two openings has choices of its own. */
enum choice {
    CHOICE_SIZE,
    CHOICE_DRILL,
    CHOICE_FORWARD,
    CHOICE_AFT,
    CHOICE_UP,
    CHOICES,
    CHOICE_WOOD = 0,
    CHOICE_HOOKS,
    CHOICE_COATS,
    CHOICE_PLACE,
    CHOICE_AIM,
};

enum { TRIED = 8 }; /* sizes of one kind */

static const struct bore *bore_of(const struct results *results, int bore) {
    return &results->plug.recipe->ballast->bores[bore];
}

/* --- sizes and places ------------------------------------------------------------------------ */

static struct offering of_choice(struct offering o, enum choice choice) {
    o.choice += (int)choice;
    return o;
}

/* Drills of the recipe's set, from the next that is wider (or narrower) than `from`, up to `most`.
 */
static void offer_drills(struct offering o, double from, bool wider, double most) {
    const double slack = 1e-6;
    const char *size;
    double diameter = 0;
    int count = 0, next = 0, tried = 0;
    o = of_choice(o, CHOICE_DRILL);
    while (gauge_set_drill(o.diags->arena, o.recipe->shop->units, count, &diameter)) {
        count++;
        next += wider ? diameter <= from + slack : diameter < from - slack;
    }
    for (int i = wider ? next : next - 1; i >= 0 && i < count && tried++ < TRIED;
         i += wider ? 1 : -1) {
        size = gauge_set_drill(o.diags->arena, o.recipe->shop->units, i, &diameter);
        if (diameter <= most + slack) offer(&o, "drill: %s", size);
    }
}

/* Places ever further away; with a depth, if one is given. */
static void offer_side(struct offering o, struct position at, double length, int sign,
                       double depth) {
    static const double shares[] = {0.005, 0.01, 0.02, 0.03, 0.04, 0.06, 0.08,
                                    0.10,  0.13, 0.16, 0.20, 0.25, 0.30, 0.40};
    double step = offer_step(o.recipe);
    struct arena *arena = o.diags->arena;
    for (size_t i = 0; i < sizeof shares / sizeof *shares; i++) {
        double moved = position_in(at, length) + sign * shares[i] * length;
        double to = nearbyint(moved / step) * step;
        if (to <= 0 || to >= length) return;
        const char *place = offer_quantity(arena, o.recipe, to, DIM_LENGTH);
        if (depth > 0)
            offer(&o, "{at: %s, depth: %s}", place,
                  offer_quantity(arena, o.recipe, depth, DIM_LENGTH));
        else
            offer(&o, "at: %s", place);
    }
}

static void offer_places(struct offering o, struct position at, double length) {
    offer_side(of_choice(o, CHOICE_FORWARD), at, length, -1, 0);
    offer_side(of_choice(o, CHOICE_AFT), at, length, 1, 0);
}

/* Ever less of a length, down to the least. */
static void offer_shorter(struct offering o, const char *key, double most, double least) {
    for (int i = 0; i < TRIED && most > 0; i++)
        offer_length(&o, key, most - (most - least) * i / TRIED, OFFER_AT_MOST);
}

/* The widest drill that leaves wood on both sides of a bore. */
static double widest_drill(const struct results *results, const struct axis *axis) {
    double breadth = axis_breadth(&results->plug, axis);
    return breadth - 2 * reference_fact[FACT_WALL_LEAST].value;
}

/* --- openings -------------------------------------------------------------------------------- */

void advise_load(struct diags *diags, const struct results *results, const struct opening *bore) {
    const struct recipe *recipe = results->plug.recipe;
    const struct bore *b = bore_of(results, bore->index);
    struct offering o = {diags, recipe, b, .choice = CHOICE_SIZE};
    const struct bore_fill *fill = &results->ballast.fills[bore->index];
    double slug = fill->slug;
    double step = offer_step(recipe), depth = ceil(slug / step - 1e-6) * step;
    if (diags->trial) return;
    offer_length(&o, "depth", slug + recipe->ballast->cover, OFFER_AT_LEAST);
    offer_length(&o, "depth", depth, OFFER_NEAREST);
    offer_drills(o, b->drill, true, widest_drill(results, &bore->axis));
    o.otherwise = true;
    if (!b->at.given) return;
    offer_side(o, b->at, results->plug.outline.length, -1, depth);
    offer_side(o, b->at, results->plug.outline.length, 1, depth);
}

/* Heights ever nearer to the middle of the section. */
static void offer_nearer(struct offering o, const struct plug *plug, const struct axis *axis) {
    double middle = (plug_top(plug, axis->x) + plug_bottom(plug, axis->x)) / 2;
    for (int i = 1; i <= TRIED; i++)
        offer_length(&o, "up", axis->z + (middle - axis->z) * i / TRIED, OFFER_NEAREST);
}

static void advise_bore(struct offering o, const struct results *results, int index, double lack) {
    const struct bore *bore = o.part;
    const struct bore_fill *fill = &results->ballast.fills[index];
    if (bore->depth.given && fill->depth - lack > fill->slug)
        offer_shorter(o, "depth", fill->depth - lack, fill->slug);
    double widest = widest_drill(results, &fill->axis);
    if (!bore->depth.given) offer_drills(o, bore->drill, true, widest);
    offer_drills(o, bore->drill, false, widest);
    if (bore->at.given) offer_places(o, bore->at, results->plug.outline.length);
    if (fill->axis.u_z == 0) offer_nearer(of_choice(o, CHOICE_UP), &results->plug, &fill->axis);
}

static void advise_chamber(struct offering o, const struct results *results,
                           const struct opening *opening, double lack) {
    const struct chamber *chamber = o.part;
    double least = fmin(chamber->stopper + chamber->drill / 2, chamber->depth);
    if (chamber->depth - lack > least) offer_shorter(o, "depth", chamber->depth - lack, least);
    offer_drills(o, chamber->drill, false, widest_drill(results, &opening->axis));
    if (chamber->at.given) offer_places(o, chamber->at, results->plug.outline.length);
    if (opening->axis.u_z == 0)
        offer_nearer(of_choice(o, CHOICE_UP), &results->plug, &opening->axis);
}

static void advise_wire(struct offering o, const struct results *results,
                        const struct opening *wire, double lack) {
    const struct fitting *fitting = o.part;
    const double least = reference_fact[FACT_WIRE_DEPTH_LEAST].value;
    if (wire->depth - lack >= least) offer_shorter(o, "depth", wire->depth - lack, least);
    if (fitting->at.given) offer_places(o, fitting->at, results->plug.outline.length);
}

void advise_content(struct diags *diags, const struct results *results,
                    const struct opening *opening, double times) {
    const struct recipe *recipe = results->plug.recipe;
    const struct chamber *chamber = &recipe->chambers[opening->index];
    const double step = 1e-4; /* 0.1 g */
    struct offering less = {diags, recipe, chamber->holds, .choice = CHOICE_SIZE};
    struct offering room = {diags, recipe, chamber, .choice = CHOICE_FORWARD};
    if (diags->trial) return;
    offer(&less, "mass: %s",
          offer_quantity(diags->arena, recipe, floor(chamber->holds->mass / times / step) * step,
                         DIM_MASS));
    offer_length(&room, "depth", chamber->stopper + (chamber->depth - chamber->stopper) * times,
                 OFFER_AT_LEAST);
    offer_drills(room, chamber->drill, true, widest_drill(results, &opening->axis));
}

void advise_room(struct diags *diags, const struct results *results, const struct opening *opening,
                 double lack, enum advice_for whom) {
    const struct recipe *recipe = results->plug.recipe;
    struct offering o = {diags, recipe, NULL, .choice = CHOICE_SIZE};
    if (diags->trial) return;
    if (whom == ADVICE_OTHER)
        o.choice = CHOICES, o.whose = name_text(diags->arena, opening_name(opening));
    switch (opening->kind) {
    case OPENING_SLOT:
        o.part = recipe->lip;
        offer_shorter(o, "slot", recipe->lip->slot - lack, recipe->lip->slot / 4);
        break;
    case OPENING_WIRE:
        o.part = results->plug.fittings[opening->index].fitting;
        advise_wire(o, results, opening, lack);
        break;
    case OPENING_SOCKETS:
        o.part = recipe->eyes;
        offer_shorter(o, "depth", recipe->eyes->depth - lack, recipe->eyes->depth / 4);
        offer_places(o, recipe->eyes->at, results->plug.outline.length);
        break;
    case OPENING_CHAMBER:
        o.part = &recipe->chambers[opening->index];
        advise_chamber(o, results, opening, lack);
        break;
    case OPENING_BORE:
        o.part = bore_of(results, opening->index);
        advise_bore(o, results, opening->index, lack);
        break;
    }
}

void advise_drill(struct diags *diags, const struct results *results, const struct opening *bore) {
    const struct recipe *recipe = results->plug.recipe;
    struct boring b = opening_boring(recipe, bore);
    struct offering o = {diags, recipe, b.part, .choice = CHOICE_SIZE};
    if (diags->trial) return;
    double widest = widest_drill(results, &bore->axis);
    offer_drills(o, fmin(*b.drill, widest + 1e-3), false, widest);
    if (b.at->given) offer_places(o, *b.at, results->plug.outline.length);
}

double advice_room(const struct results *results, int bore, double due) {
    struct bore_fill fill = results->ballast.fills[bore];
    const double cover = results->plug.recipe->ballast->cover;
    double low = 0, high = fill.axis.u_z != 0 ? results->plug.bare.height : fill.axis.room;
    while (high - low > 1e-5) {
        fill.depth = (low + high) / 2;
        fill.slug = fmax(fill.depth - cover, 0);
        if (wall_short(wall_least(&results->plug, &fill), due))
            high = fill.depth;
        else
            low = fill.depth;
    }
    return low;
}

/* --- eyes, outline --------------------------------------------------------------------------- */

/* Heights of a part at x, from the side on which it lies outside inward. */
static void offer_heights(struct offering o, const struct plug *plug, double x, double up) {
    double top = plug_top(plug, x), bottom = plug_bottom(plug, x);
    for (int i = 1; i <= TRIED; i++) {
        double in = (top - bottom) * i / (2 * TRIED);
        offer_length(&o, "up", up > top ? top - in : bottom + in, OFFER_NEAREST);
    }
}

void advise_eyes(struct diags *diags, const struct results *results) {
    const struct plug *plug = &results->plug;
    const struct eyes *eyes = plug->recipe->eyes;
    const struct offering o = {diags, plug->recipe, eyes, .choice = CHOICE_SIZE};
    offer_heights(o, plug, position_in(eyes->at, plug->outline.length), eyes->up);
}

void advise_up(struct diags *diags, const struct results *results, const struct opening *bore) {
    const struct plug *plug = &results->plug;
    struct boring b = opening_boring(plug->recipe, bore);
    const struct offering o = {diags, plug->recipe, b.part, .choice = CHOICE_SIZE};
    offer_heights(o, plug, bore->axis.x, b.up->value);
}

/* The back of one of both raised, or its belly lowered. */
void advise_outline(struct diags *diags, const struct recipe *recipe, int row, double lack) {
    static const double times[] = {1, 1.5, 2, 3, 5};
    const struct station *stations = &recipe->body->stations[row];
    for (size_t i = 0; i < 4 * (sizeof times / sizeof *times); i++) {
        int choice = (int)(i / (sizeof times / sizeof *times));
        const struct station *station = &stations[choice / 2];
        struct offering o = {diags, recipe, station, .choice = choice};
        if (choice / 2) o.whose = "the next";
        offer_length(&o, choice % 2 ? "belly" : "back",
                     (choice % 2 ? station->belly : station->back) +
                         lack * times[i % (sizeof times / sizeof *times)],
                     OFFER_AT_LEAST);
    }
}

/* --- the aim --------------------------------------------------------------------------------- */

static void offer_hooks(struct diags *diags, const struct recipe *recipe, double less) {
    const struct hardware *hardware = recipe->hardware;
    double all = remedy_hooks(hardware), step = 1e-5;
    diag_offer(diags, CHOICE_HOOKS, false,
               arena_printf(diags->arena, "hooks and rings %s lighter in all",
                            offer_quantity(diags->arena, recipe, less, DIM_MASS)));
    for (int i = 0; i < hardware->hanger_count; i++) {
        const struct fitting *hanger = &hardware->hangers[i];
        const void *part[] = {hanger->hook, hanger->ring};
        double mass[] = {hanger->hook ? hooks_mass(hanger->hook) : 0,
                         hanger->ring ? ring_mass(hanger->ring) : 0};
        for (int k = 0; k < 2; k++)
            if (part[k])
                diag_edit(
                    diags, recipe_part_place(recipe, part[k]),
                    arena_printf(diags->arena, "mass: %.2f g",
                                 floor(mass[k] * (1 - less / all) / step + 1e-6) * step * 1e3));
    }
}

/* From the nearest that can be reached away from what was wished for, in whole steps. */
static double within(double wanted, double reached, double step, int i) {
    double side = wanted > reached ? -1 : 1;
    return side * (ceil(side * reached / step - 1e-6) + i) * step;
}

/* The aim as near as it can be had; not a time of sinking, which is an estimate. */
static void offer_nearest(struct diags *diags, const struct results *results) {
    const struct recipe *recipe = results->plug.recipe;
    const struct aim *aim = recipe->ballast->aim;
    const struct outcome *reached = &results->ballast.solution.outcome;
    const double percent = 0.01, degree = 3.14159265358979323846 / 180;
    bool floats = aim->reserve.given && fabs(aim->reserve.value - reached->reserve) > 1e-6;
    bool lies = aim->attitude.given && fabs(aim->attitude.value - reached->attitude) > 1e-6;
    for (int i = 0; !aim->sink.given && i < TRIED; i++) {
        double reserve = within(aim->reserve.value, reached->reserve, percent, i);
        double attitude = within(aim->attitude.value, reached->attitude, degree / 2, i);
        const char *up = arena_printf(diags->arena, "reserve: %s",
                                      offer_quantity(diags->arena, recipe, reserve, DIM_SHARE));
        const char *down = arena_printf(diags->arena, "attitude: %s",
                                        offer_quantity(diags->arena, recipe, attitude, DIM_ANGLE));
        if (floats && lies) up = arena_printf(diags->arena, "{%s, %s}", up, down);
        diag_offer(diags, CHOICE_AIM, false, floats ? up : down);
        diag_edit(diags, recipe_part_place(recipe, aim), floats ? up : down);
    }
}

void advise_aim(struct diags *diags, const struct results *results) {
    const struct recipe *recipe = results->plug.recipe;
    if (diags->trial) return;
    struct arena *arena = diags->arena;
    struct remedy r = remedy_of(arena, &results->plug);
    for (int i = 0; r.wood_density > 0 && i < TRIED; i++) {
        double lighter = r.wood_density * (1 - 0.4 * i / TRIED);
        const char *density = offer_quantity(arena, recipe, lighter, DIM_DENSITY);
        diag_offer(diags, CHOICE_WOOD, false, arena_printf(arena, "wood of %s", density));
        diag_edit(diags, recipe_part_place(recipe, recipe->wood),
                  arena_printf(arena, "density: %s", density));
    }
    if (r.lighter_hooks > 0) offer_hooks(diags, recipe, r.lighter_hooks);
    if (r.fewer_coats > 0) {
        diag_offer(diags, CHOICE_COATS, false,
                   arena_printf(arena, "%d %s of topcoat less", r.fewer_coats,
                                r.fewer_coats == 1 ? "coat" : "coats"));
        diag_edit(diags, recipe_part_place(recipe, recipe->finish->topcoat),
                  arena_printf(arena, "coats: %d", recipe->finish->topcoat->coats - r.fewer_coats));
    }
    for (int i = 0; i < r.place_count; i++) {
        const char *place = offer_quantity(arena, recipe, r.places[i].at, DIM_LENGTH);
        diag_offer(diags, CHOICE_PLACE, false,
                   arena_printf(arena, "bore %d at %s", r.places[i].bore + 1, place));
        diag_edit(diags, recipe_part_place(recipe, bore_of(results, r.places[i].bore)),
                  arena_printf(arena, "at: %s", place));
    }
    offer_nearest(diags, results);
}
