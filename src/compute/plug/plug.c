#include "compute/plug/plug.h"

#include <math.h>

#include "compute/float/water.h"
#include "model/reference.h"

double plug_top(const struct plug *plug, double x) {
    return curve_at(&plug->outline.back, x);
}

double plug_bottom(const struct plug *plug, double x) {
    return -curve_at(&plug->outline.belly, x);
}

double layer_cover(const struct layer *layer) {
    return layer->cover.given ? layer->cover.value : reference_cover[layer->where].cover;
}

double layer_thickness(const struct recipe *recipe, const struct layer *layer) {
    return recipe->finish->paint->film * layer->coats * layer_cover(layer);
}

struct name fitting_name(int fitting, enum name_key tie, enum name_key hanger) {
    return (struct name){fitting == FITTING_TIE ? tie : hanger, fitting, {0}};
}

static double finish_thickness(const struct recipe *recipe) {
    const struct finish *finish = recipe->finish;
    double thickness = 0;
    if (!finish) return 0;
    for (int i = 0; finish->paint && i < finish->paint->layer_count; i++)
        thickness += layer_thickness(recipe, &finish->paint->layers[i]);
    if (finish->topcoat) thickness += finish->topcoat->film * finish->topcoat->coats;
    return thickness;
}

static struct plate plate_of(const struct plug *plug) {
    const struct lip *lip = plug->recipe->lip;
    if (!lip) return (struct plate){0};
    double at = position_in(lip->at, plug->outline.length);
    return (struct plate){
        .given = true,
        .mouth_x = at,
        .mouth_z = plug_bottom(plug, at),
        .u_x = -cos(lip->angle),
        .u_z = -sin(lip->angle),
        .extent = lip->length - lip->slot,
        .thickness = lip->thickness,
        .width = lip->width,
        .tip = lip->tip.given ? lip->tip.value : lip->width,
        .shape = lip->shape,
    };
}

void plug_slot_centre(const struct plug *plug, double *x, double *z) {
    const struct plate *plate = &plug->plate;
    double half = plug->recipe->lip->slot / 2;
    *x = plate->mouth_x - plate->u_x * half;
    *z = plate->mouth_z - plate->u_z * half;
}

static double slot_volume(const struct plug *plug) {
    const struct lip *lip = plug->recipe->lip;
    if (!lip) return 0;
    return lip->slot * lip->thickness * curve_at(&plug->outline.width, plug->plate.mouth_x);
}

double fitting_drill(const struct recipe *recipe, const struct fitting *fitting) {
    return fitting->pilot.given ? fitting->pilot.value : 2 * recipe->hardware->wire->diameter;
}

static struct pilot pilot_of(const struct plug *plug, const struct fitting *fitting) {
    double length = plug->outline.length, at = position_in(fitting->at, length);
    double top = plug_top(plug, at), bottom = plug_bottom(plug, at);
    double usual = reference_fact[FACT_WIRE_DEPTH].value;
    double share = reference_fact[FACT_WIRE_SHARE].value;
    double drill = fitting_drill(plug->recipe, fitting);
    struct pilot pilot = {.given = true, .depth = usual, .diameter = drill};
    switch (fitting->place) {
    case PLACE_NOSE:
        pilot.u_x = 1;
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
    if (fitting->depth.given) pilot.depth = fitting->depth.value;
    return pilot;
}

/* Two strands around each other, whose middles run on a round as wide as the wire is thick: each is
 * longer than the bore by sqrt(1 + (pi d / lay)^2). */
static double twisted_length(double depth) {
    const double pi = 3.14159265358979323846;
    double slope = pi / reference_fact[FACT_WIRE_LAY].value;
    return 2 * sqrt(1 + slope * slope) * depth;
}

double pilot_volume(const struct pilot *pilot) {
    const double pi = 3.14159265358979323846;
    return pi / 4 * pilot->diameter * pilot->diameter * pilot->depth;
}

/* On the lip `at` counts from its outer end. */
static void place_on_lip(const struct plug *plug, struct fitted *fitted) {
    const struct plate *plate = &plug->plate;
    if (!plate->given) return;
    double s = plate->extent - position_in(fitted->fitting->at, plug->recipe->lip->length);
    fitted->eye_x = plate->mouth_x + s * plate->u_x;
    fitted->eye_z = plate->mouth_z + s * plate->u_z;
}

static void fit(struct plug *plug, const struct fitting *fitting) {
    const double pi = 3.14159265358979323846;
    struct fitted fitted = {.fitting = fitting, .pilot = pilot_of(plug, fitting)};
    double round = pi * (fitting->eye + plug->recipe->hardware->wire->diameter);
    fitted.eye_x = fitted.pilot.mouth_x;
    fitted.eye_z = fitted.pilot.mouth_z;
    fitted.twisted = fitted.pilot.given ? twisted_length(fitted.pilot.depth) : 0;
    fitted.looped = fitted.pilot.given ? round : 2 * round;
    if (!fitted.pilot.given) place_on_lip(plug, &fitted);
    plug->fittings[plug->fitting_count++] = fitted;
}

double plug_body_mass(const struct plug *plug) {
    return plug->wood_density * plug->shaped;
}

double plug_density_of(const struct plug *plug, double body_mass) {
    return body_mass / plug->shaped;
}

double plug_assumed_density(const struct recipe *recipe) {
    const struct wood *wood = recipe->wood;
    if (wood->density.given) return wood->density.value;
    return reference_wood_density(&reference_wood[wood->species], wood->moisture);
}

/* The body is weighed when it is shaped and sanded: the slot and the pilots were cut into the
 * square block, ballast bores and sockets are still to come. */
static double shaped_volume(const struct plug *plug) {
    double volume = plug->bare.volume - plug->slot_volume;
    for (int i = 0; i < plug->fitting_count; i++) {
        const struct pilot *pilot = &plug->fittings[i].pilot;
        if (pilot->given) volume -= pilot_volume(pilot);
    }
    return volume;
}

static void weigh_wood(struct plug *plug) {
    const struct recipe *recipe = plug->recipe;
    const struct measured *measured = recipe->measured;
    if (measured && measured->blank_count) {
        double sum = 0;
        for (int i = 0; i < measured->blank_count; i++) sum += measured->blank[i];
        plug->wood_density = plug_density_of(plug, sum / measured->blank_count);
        plug->wood_source = WOOD_BY_BLANK;
    } else {
        plug->wood_density = plug_assumed_density(recipe);
        plug->wood_source = recipe->wood->density.given ? WOOD_BY_DENSITY : WOOD_BY_TABLE;
    }
}

static void weigh_ballast(struct plug *plug) {
    const struct ballast *ballast = plug->recipe->ballast;
    if (!ballast) return;
    const struct metal_row *metal = &reference_metal[ballast->material];
    plug->ballast_density = ballast->density.given ? ballast->density.value : metal->density;
    plug->ballast_soft = metal->soft;
}

struct plug plug_of(struct arena *arena, const struct recipe *recipe) {
    struct plug plug = {.recipe = recipe};
    plug.outline = outline_of(arena, recipe->body);
    plug.bare = solid_of(&plug.outline, 0);
    plug.finish = finish_thickness(recipe);
    plug.plate = plate_of(&plug);
    plug.slot_volume = slot_volume(&plug);
    fit(&plug, recipe->hardware->line_tie);
    for (int i = 0; i < recipe->hardware->hanger_count; i++)
        fit(&plug, &recipe->hardware->hangers[i]);
    plug.shaped = shaped_volume(&plug);
    weigh_wood(&plug);
    weigh_ballast(&plug);
    plug.bare_hull = hull_of(arena, &plug.outline, 0, &plug.plate);
    plug.finished_hull = hull_of(arena, &plug.outline, plug.finish, &plug.plate);
    plug.water = water_density(recipe->water->temperature, recipe->water->salinity);
    return plug;
}

struct plug plug_with_wood(const struct plug *plug, double density) {
    struct plug other = *plug;
    other.wood_density = density;
    return other;
}

struct plug plug_with_recipe(const struct plug *plug, const struct recipe *recipe) {
    const struct hardware *hardware = recipe->hardware;
    struct plug other = *plug;
    other.recipe = recipe;
    other.fittings[FITTING_TIE].fitting = hardware->line_tie;
    for (int i = 0; i < hardware->hanger_count; i++)
        other.fittings[FITTING_HANGERS + i].fitting = &hardware->hangers[i];
    return other;
}
