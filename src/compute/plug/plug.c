#include "compute/plug/plug.h"

#include <math.h>

#include "compute/float/water.h"
#include "compute/plug/fitting.h"
#include "compute/plug/through.h"
#include "model/reference.h"

double layer_cover(const struct layer *layer) {
    return layer->cover.given ? layer->cover.value : reference_cover[layer->where].cover;
}

const char *plug_wood_source(const struct plug *plug) {
    if (plug->wood_source == WOOD_BY_WORKSHOP) return plug->recipe->wood->row->source;
    return name_wood_sources[plug->wood_source];
}

static double own_or(const struct opt *own, double paint) {
    return own->given ? own->value : paint;
}

struct colour layer_colour(const struct recipe *recipe, const struct layer *layer) {
    const struct paint *paint = recipe->finish->paint;
    return (struct colour){
        .film = own_or(&layer->film, paint->film),
        .density = own_or(&layer->density, paint->density),
        .solids = own_or(&layer->solids, paint->solids),
        .transfer = own_or(&layer->transfer, paint->transfer),
    };
}

double layer_thickness(const struct recipe *recipe, const struct layer *layer) {
    return layer_colour(recipe, layer).film * layer->coats * layer_cover(layer);
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

double plug_body_mass(const struct plug *plug) {
    return plug->wood_density * plug->shaped;
}

double plug_density_of(const struct plug *plug, double body_mass) {
    return body_mass / plug->shaped;
}

double plug_mean(const double *readings, int count) {
    double sum = 0;
    for (int i = 0; i < count; i++) sum += readings[i];
    return count ? sum / count : 0;
}

double plug_assumed_density(const struct recipe *recipe) {
    const struct wood *wood = recipe->wood;
    if (wood->density.given) return wood->density.value;
    return reference_wood_density(wood->row, wood->moisture);
}

static double bored_volume(double drill, double depth) {
    const double pi = 3.14159265358979323846;
    return pi / 4 * drill * drill * depth;
}

/* Of all that is bored into the square block beside slot and pilots. */
static double block_bored(const struct recipe *recipe) {
    const struct ballast *ballast = recipe->ballast;
    double volume = 0;
    for (int i = 0; ballast && i < ballast->bore_count; i++) {
        const struct bore *bore = &ballast->bores[i];
        int count = side_is_pair(bore->from) ? 2 : 1;
        if (side_in_block(recipe, bore->from))
            volume += count * bored_volume(bore->drill, bore->depth.value);
    }
    for (int i = 0; i < recipe->chamber_count; i++) {
        const struct chamber *chamber = &recipe->chambers[i];
        int count = side_is_pair(chamber->from) ? 2 : 1;
        if (side_in_block(recipe, chamber->from))
            volume += count * bored_volume(chamber->drill, chamber->depth);
    }
    if (recipe->eyes && recipe->shop->bore == BORED_SQUARE)
        volume += 2 * bored_volume(recipe->eyes->size, recipe->eyes->depth);
    return volume;
}

/* The body is weighed when it is shaped and sanded: the slot, the pilots and the bores from nose
 * and tail were cut into the square block; all others and the sockets are still to come, unless
 * the shop bores these there too. */
static double shaped_volume(const struct plug *plug) {
    double volume =
        plug->bare.volume - plug->slot_volume - plug->through.kerf - block_bored(plug->recipe);
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
        plug->wood_density =
            plug_density_of(plug, plug_mean(measured->blank, measured->blank_count));
        plug->wood_source = WOOD_BY_BLANK;
    } else {
        plug->wood_density = plug_assumed_density(recipe);
        plug->wood_source = recipe->wood->density.given ? WOOD_BY_DENSITY
                            : recipe->wood->row->own    ? WOOD_BY_WORKSHOP
                                                        : WOOD_BY_TABLE;
    }
}

static void weigh_ballast(struct plug *plug) {
    const struct ballast *ballast = plug->recipe->ballast;
    if (!ballast) return;
    const struct metal_row *metal = &reference_metal[ballast->material];
    plug->ballast_density = ballast->density.given ? ballast->density.value : metal->density;
    plug->ballast_soft = metal->soft;
}

static void take_lined(struct hull *hull, const struct cup *cup, double finish) {
    struct notch lined = notch_cup(cup->width, cup->depth, cup->up, finish);
    hull_take(hull, &lined);
}

/* The body less its cup, whose floor is larger than its mouth by pi depth^2. */
static void hollow_face(struct plug *plug, const struct cup *cup) {
    const double pi = 3.14159265358979323846;
    struct solid *body = &plug->bare;
    const struct notch *notch = &plug->cup;
    double volume = body->volume - notch->volume, more = pi * cup->depth * cup->depth;
    double surface = body->surface + more;
    body->centroid_x = (body->volume * body->centroid_x - notch->volume * notch->at_x) / volume;
    body->centroid_z = (body->volume * body->centroid_z - notch->volume * notch->at_z) / volume;
    body->volume = volume;
    body->surface_x = body->surface * body->surface_x / surface;
    body->surface_z = (body->surface * body->surface_z + more * cup->up) / surface;
    body->surface = surface;
}

/* A V from both parts, as long on the mean as the gap and twice the tangent of its angle times the
 * mean half-breadth of the section (docs/physics.md, 2.7); the finish narrows it from both sides.
 */
static struct notch joint_notch(const struct plug *plug, const struct joint_cut *cut,
                                double finish) {
    double x = position_in(cut->at, plug->outline.length);
    struct section bare = section_at(&plug->outline, x, 0);
    struct section section = section_at(&plug->outline, x, finish);
    double half_breadth = bare.half_height > 0 ? section_area(&bare) / (4 * bare.half_height) : 0;
    double length = cut->gap + 2 * tan(cut->angle) * half_breadth - 2 * finish;
    return notch_cut(&section, x, fmax(length, 0));
}

static void cut_joints(struct plug *plug) {
    plug->joint_count = plug->recipe->joint_count;
    for (int i = 0; i < plug->joint_count; i++) {
        const struct joint_cut *cut = &plug->recipe->joints[i];
        struct notch lined = joint_notch(plug, cut, plug->finish);
        plug->joints[i] = joint_notch(plug, cut, 0);
        hull_take(&plug->bare_hull, &plug->joints[i]);
        hull_take(&plug->finished_hull, &lined);
    }
}

struct plug plug_of(struct arena *arena, const struct recipe *recipe) {
    struct plug plug = {.recipe = recipe};
    plug.outline = outline_of(arena, recipe->body);
    plug.bare = solid_of(&plug.outline, 0);
    plug.finish = finish_thickness(recipe);
    plug.plate = plate_of(&plug);
    plug.slot_volume = slot_volume(&plug);
    const struct cup *cup = recipe->face ? recipe->face->cup : NULL;
    if (cup) plug.cup = notch_cup(cup->width, cup->depth, cup->up, 0);
    if (cup) hollow_face(&plug, cup);
    plug.through = through_of(&plug);
    fittings_fit(&plug);
    plug.shaped = shaped_volume(&plug);
    weigh_wood(&plug);
    weigh_ballast(&plug);
    plug.bare_hull = hull_of(arena, &plug.outline, 0, &plug.plate);
    plug.finished_hull = hull_of(arena, &plug.outline, plug.finish, &plug.plate);
    if (cup) hull_take(&plug.bare_hull, &plug.cup);
    if (cup) take_lined(&plug.finished_hull, cup, plug.finish);
    cut_joints(&plug);
    plug.water = water_density(recipe->water->temperature, recipe->water->salinity);
    return plug;
}

struct plug plug_with_wood(const struct plug *plug, double density) {
    struct plug other = *plug;
    other.wood_density = density;
    return other;
}

/* A body that was weighed weighs as much whatever is cut into it. */
static void refit(struct plug *plug) {
    double shaped = plug->shaped;
    fittings_fit(plug);
    plug->shaped = shaped_volume(plug);
    if (plug->wood_source == WOOD_BY_BLANK) plug->wood_density *= shaped / plug->shaped;
}

struct plug plug_with_recipe(const struct plug *plug, const struct recipe *recipe) {
    struct plug other = *plug;
    other.recipe = recipe;
    refit(&other);
    return other;
}

struct plug plug_with_lip(const struct plug *plug, const struct recipe *recipe) {
    struct plug other = *plug;
    other.recipe = recipe;
    other.plate = plate_of(&other);
    other.slot_volume = slot_volume(&other);
    other.bare_hull.plate = other.finished_hull.plate = other.plate;
    refit(&other);
    return other;
}
