#include "compute/plug/plug.h"

#include <math.h>

#include "compute/float/water.h"
#include "model/reference.h"

double frame_top(const struct frame *frame, double x) {
    return curve_at(&frame->outline.back, x);
}

double frame_bottom(const struct frame *frame, double x) {
    return -curve_at(&frame->outline.belly, x);
}

double layer_cover(const struct layer *layer) {
    return layer->cover.given ? layer->cover.value : reference_cover[layer->where].cover;
}

double layer_thickness(const struct recipe *recipe, const struct layer *layer) {
    return recipe->finish->paint->film * layer->coats * layer_cover(layer);
}

const char *wood_source_name(enum wood_source source) {
    static const char *const names[] = {"table of woods", "weighed density", "weighed blank"};
    return names[source];
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

static struct plate plate_of(const struct frame *frame) {
    const struct lip *lip = frame->recipe->lip;
    if (!lip) return (struct plate){0};
    double at = position_in(lip->at, frame->outline.length);
    return (struct plate){
        .given = true,
        .mouth_x = at,
        .mouth_z = frame_bottom(frame, at),
        .u_x = -cos(lip->angle),
        .u_z = -sin(lip->angle),
        .extent = lip->length - lip->slot,
        .thickness = lip->thickness,
        .width = lip->width,
        .tip = lip->tip.given ? lip->tip.value : lip->width,
        .shape = lip->shape,
    };
}

void frame_slot_centre(const struct frame *frame, double *x, double *z) {
    const struct plate *plate = &frame->plate;
    double half = frame->recipe->lip->slot / 2;
    *x = plate->mouth_x - plate->u_x * half;
    *z = plate->mouth_z - plate->u_z * half;
}

static double slot_volume(const struct frame *frame) {
    const struct lip *lip = frame->recipe->lip;
    if (!lip) return 0;
    return lip->slot * lip->thickness * curve_at(&frame->outline.width, frame->plate.mouth_x);
}

static struct pilot pilot_of(const struct frame *frame, const struct fitting *fitting) {
    double length = frame->outline.length, at = position_in(fitting->at, length);
    double top = frame_top(frame, at), bottom = frame_bottom(frame, at);
    double usual = reference_fact[FACT_WIRE_DEPTH].value * 1e-3;
    double share = reference_fact[FACT_WIRE_SHARE].value / 100;
    struct pilot pilot = {.given = true, .depth = usual};
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
        return (struct pilot){0};
    }
    if (pilot.u_z != 0) pilot.depth = fmin(usual, share * (top - bottom));
    if (fitting->depth.given) pilot.depth = fitting->depth.value;
    pilot.diameter =
        fitting->pilot.given ? fitting->pilot.value : 2 * frame->recipe->hardware->wire->diameter;
    return pilot;
}

static void weigh_wood(struct frame *frame) {
    const struct recipe *recipe = frame->recipe;
    if (recipe->measured && recipe->measured->blank.given) {
        /* The blank is weighed with its slot cut, before any bore. */
        frame->wood_density =
            recipe->measured->blank.value / (frame->bare.volume - frame->slot_volume);
        frame->wood_source = WOOD_BY_BLANK;
    } else if (recipe->wood->density.given) {
        frame->wood_density = recipe->wood->density.value;
        frame->wood_source = WOOD_BY_DENSITY;
    } else {
        frame->wood_density =
            reference_wood_density(&reference_wood[recipe->wood->species], recipe->wood->moisture);
        frame->wood_source = WOOD_BY_TABLE;
    }
}

static void weigh_ballast(struct frame *frame) {
    const struct ballast *ballast = frame->recipe->ballast;
    if (!ballast) return;
    const struct metal_row *metal = &reference_metal[ballast->material];
    frame->ballast_density = ballast->density.given ? ballast->density.value : metal->density;
    frame->ballast_soft = metal->soft;
}

struct frame frame_of(struct arena *arena, const struct recipe *recipe) {
    struct frame frame = {.recipe = recipe};
    frame.outline = outline_of(arena, recipe->body);
    frame.bare = solid_of(&frame.outline, 0);
    frame.finish = finish_thickness(recipe);
    frame.plate = plate_of(&frame);
    frame.slot_volume = slot_volume(&frame);
    weigh_wood(&frame);
    weigh_ballast(&frame);
    frame.tie_pilot = pilot_of(&frame, recipe->hardware->line_tie);
    for (int i = 0; i < recipe->hardware->hanger_count; i++)
        frame.hanger_pilot[i] = pilot_of(&frame, &recipe->hardware->hangers[i]);
    frame.bare_hull = hull_of(arena, &frame.outline, 0, &frame.plate);
    frame.finished_hull = hull_of(arena, &frame.outline, frame.finish, &frame.plate);
    frame.water = water_density(recipe->water->temperature, recipe->water->salinity);
    return frame;
}

struct frame frame_with_wood(const struct frame *frame, double density) {
    struct frame other = *frame;
    other.wood_density = density;
    return other;
}
