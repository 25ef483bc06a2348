/* Every part of the plug becomes a row with a mass and the place where it acts.  Wood that is
 * drilled or sawn out is taken off the one row of wood, with its first moments. */
#include "compute/plug/mass.h"

#include <math.h>

#include "compute/plug/chamber.h"
#include "model/reference.h"

static const double pi = 3.14159265358979323846;

bool stage_counts(enum stage stage, enum condition_kind kind) {
    return kind == CONDITION_FINISHED || name_stages[stage].in_test;
}

void tally_add(struct tally *tally, double mass, double x, double z) {
    tally->mass += mass;
    tally->x += mass * x;
    tally->z += mass * z;
}

/* --- bores ----------------------------------------------------------------------------------- */

static double disc(double diameter) {
    return pi / 4 * diameter * diameter;
}

double piece_mass(const struct plug *plug, const struct piece *piece) {
    if (piece->mass.given) return piece->mass.value;
    double d = piece->ball.value;
    return pi / 6 * d * d * d * plug->ballast_density;
}

double bore_slug(const struct plug *plug, int bore, double mass) {
    return mass / (plug->ballast_density * disc(plug->recipe->ballast->bores[bore].drill));
}

double bore_piece_height(const struct plug *plug, int bore, const struct piece *piece) {
    if (piece->ball.given && !plug->ballast_soft) return piece->ball.value;
    return bore_slug(plug, bore, piece_mass(plug, piece));
}

struct bore_fill bore_refilled(const struct plug *plug, int bore, const struct bore_fill *was,
                               double mass, double height) {
    const struct ballast *ballast = plug->recipe->ballast;
    const struct bore *b = &ballast->bores[bore];
    struct bore_fill fill = *was;
    fill.depth = b->depth.given ? b->depth.value : height + ballast->cover;
    double rest = fmax(fill.depth - height, 0);
    fill.load = mass;
    fill.slug = height;
    fill.middle = fill.depth - height / 2;
    fill.filler = ballast->filler * disc(b->drill) * rest;
    fill.over = rest / 2;
    fill.fits = height <= fill.depth + 1e-9;
    return fill;
}

struct bore_fill bore_filled(const struct plug *plug, int bore, double mass, double height) {
    const struct bore *b = &plug->recipe->ballast->bores[bore];
    struct bore_fill place = {.axis = axis_of_bore(plug, b), .drill = b->drill, .solved = b->solve};
    return bore_refilled(plug, bore, &place, mass, height);
}

struct bore_fill bore_as_written(const struct plug *plug, int bore) {
    const struct bore *b = &plug->recipe->ballast->bores[bore];
    double mass = 0, height = 0;
    for (int i = 0; i < b->load_count; i++) {
        double count = b->load[i].count.given ? b->load[i].count.value : 1;
        mass += count * piece_mass(plug, &b->load[i]);
        height += count * bore_piece_height(plug, bore, &b->load[i]);
    }
    return bore_filled(plug, bore, mass, height);
}

double fill_load(const struct bore_fill *fill) {
    return axis_count(&fill->axis) * fill->load;
}

double fill_filler(const struct bore_fill *fill) {
    return axis_count(&fill->axis) * fill->filler;
}

static double drilled_mass(const struct plug *plug, const struct bore_fill *fill) {
    return axis_count(&fill->axis) * plug->wood_density * disc(fill->drill) * fill->depth;
}

/* What acts `s` metres inward; of a pair, what acts in both together. */
static void tally_along(struct tally *tally, double mass, const struct axis *axis, double s) {
    tally_add(tally, mass, axis_x(axis, s), axis_z(axis, s));
}

void bore_tally(const struct plug *plug, const struct bore_fill *fill, enum condition_kind kind,
                struct tally *tally) {
    tally_along(tally, -drilled_mass(plug, fill), &fill->axis, fill->depth / 2);
    tally_along(tally, fill_load(fill), &fill->axis, fill->middle);
    if (stage_counts(STAGE_FILLED, kind))
        tally_along(tally, fill_filler(fill), &fill->axis, fill->over);
}

/* --- rows ------------------------------------------------------------------------------------ */

struct weigher {
    const struct plug *plug;
    const struct recipe *recipe;
    struct mass_list list;
};

/* Rows at most: wood, tie, hangers, bores and chambers twice, sealer, lip twice, layers, eyes,
 * topcoat, rings, links and hooks, fittings. */
enum {
    MAX_ROWS = 10 + MAX_JOINTS + 4 * MAX_HANGERS + MAX_EXTRAS + 2 * MAX_BORES + 2 * MAX_CHAMBERS +
               MAX_LAYERS
};

static const enum stage extra_stages[] = {
#define EXTRA_STAGE(key, word, stage) stage,
#include "choices.def"
};

static void add(struct weigher *w, struct name item, enum stage stage, double mass, double x,
                double z, double outside) {
    w->list.rows[w->list.count++] = (struct mass_row){item, stage, mass, x, z, outside};
}

static struct name the(enum name_key key) {
    return (struct name){.key = key};
}

/* `index` counts from 0. */
static struct name one_of(enum name_key key, int index) {
    return (struct name){.key = key, .number = index + 1};
}

static void bore_pilot(const struct pilot *pilot, double density, struct tally *wood) {
    if (!pilot->given) return;
    tally_add(wood, -density * pilot_volume(pilot), pilot->mouth_x + pilot->u_x * pilot->depth / 2,
              pilot->mouth_z + pilot->u_z * pilot->depth / 2);
}

static void add_wood(struct weigher *w, const struct bore_fill *fills) {
    const struct plug *f = w->plug;
    const struct ballast *ballast = w->recipe->ballast;
    struct tally wood = {0};
    tally_add(&wood, f->wood_density * f->bare.volume, f->bare.centroid_x, f->bare.centroid_z);
    if (w->recipe->lip) {
        double x, z;
        plug_slot_centre(f, &x, &z);
        tally_add(&wood, -f->wood_density * f->slot_volume, x, z);
    }
    if (w->recipe->eyes) {
        const struct eyes *eyes = w->recipe->eyes;
        tally_add(&wood, -f->wood_density * 2 * disc(eyes->size) * eyes->depth,
                  position_in(eyes->at, f->outline.length), eyes->up);
    }
    for (int i = 0; i < f->joint_count; i++)
        tally_add(&wood, -f->wood_density * f->joints[i].volume, f->joints[i].at_x,
                  f->joints[i].at_z);
    if (f->through.given)
        tally_add(&wood, -f->wood_density * f->through.kerf, f->through.kerf_x, f->through.kerf_z);
    for (int i = 0; i < f->fitting_count; i++)
        bore_pilot(&f->fittings[i].pilot, f->wood_density, &wood);
    for (int i = 0; ballast && i < ballast->bore_count; i++)
        tally_along(&wood, -drilled_mass(f, &fills[i]), &fills[i].axis, fills[i].depth / 2);
    for (int i = 0; i < w->recipe->chamber_count; i++) {
        struct hollow h = hollow_of(f, i);
        double bored = f->wood_density * disc(h.drill) * h.depth;
        tally_along(&wood, -axis_count(&h.axis) * bored, &h.axis, h.depth / 2);
    }
    double mass = wood.mass != 0 ? wood.mass : 1; /* no division by a weightless body */
    add(w, the(NAME_WOOD), STAGE_SHAPED, wood.mass, wood.x / mass, wood.z / mass, 0);
}

static double wire_mass(const struct weigher *w, double length) {
    const struct wire *wire = w->recipe->hardware->wire;
    return reference_metal[wire->material].density * disc(wire->diameter) * length;
}

/* The shank acts in the middle of the bore, the ring at its mouth. */
static void add_screw(struct weigher *w, struct name item, const struct fitted *fitted) {
    const struct pilot *pilot = &fitted->pilot;
    const struct screw *screw = fitted->fitting->screw;
    double shank = screw_shank_mass(screw);
    struct tally eye = {0};
    tally_add(&eye, shank, pilot->mouth_x + pilot->u_x * pilot->depth / 2,
              pilot->mouth_z + pilot->u_z * pilot->depth / 2);
    tally_add(&eye, screw->mass - shank, fitted->eye_x, fitted->eye_z);
    add(w, item, screw->last ? STAGE_RIGGED : STAGE_HUNG, eye.mass, eye.x / eye.mass,
        eye.z / eye.mass, 0);
}

/* The twist acts in the middle of the bore, the loop at its mouth. */
static void add_wire(struct weigher *w, struct name item, const struct fitted *fitted) {
    const struct pilot *pilot = &fitted->pilot;
    struct tally wire = {0};
    tally_add(&wire, wire_mass(w, fitted->twisted), pilot->mouth_x + pilot->u_x * pilot->depth / 2,
              pilot->mouth_z + pilot->u_z * pilot->depth / 2);
    tally_add(&wire, wire_mass(w, fitted->looped), fitted->eye_x, fitted->eye_z);
    add(w, item, STAGE_HUNG, wire.mass, wire.x / wire.mass, wire.z / wire.mass, 0);
}

/* The wire acts in the middle of its length, what closes the kerf in that of the kerf. */
static void add_through(struct weigher *w) {
    const struct through_fit *fit = &w->plug->through;
    const struct through *through = w->recipe->hardware->through;
    if (!fit->given) return;
    bool strip = fit->strip;
    add(w, the(NAME_THROUGH), STAGE_HUNG, wire_mass(w, fit->wire), w->plug->outline.length / 2,
        fit->z, 0);
    add(w,
        the(strip         ? NAME_KERF_STRIP
            : fit->groove ? NAME_GROOVE_FILLER
                          : NAME_KERF_FILLER),
        STAGE_HUNG, fit->closed * (strip ? w->plug->wood_density : through->filler), fit->kerf_x,
        fit->kerf_z, 0);
}

static void add_wires(struct weigher *w) {
    for (int i = 0; i < w->plug->fitting_count; i++) {
        const struct fitted *fitted = &w->plug->fittings[i];
        if (fitted->fitting->screw)
            add_screw(w, fitting_name(i, NAME_TIE_SCREW, NAME_HANGER_SCREW), fitted);
        else if (pilot_bored(&fitted->pilot))
            add_wire(w, fitting_name(i, NAME_TIE_WIRE, NAME_HANGER_WIRE), fitted);
    }
}

/* Of a pair both together. */
static void add_along(struct weigher *w, struct name item, enum stage stage, double each,
                      const struct axis *axis, double s) {
    add(w, item, stage, axis_count(axis) * each, axis_x(axis, s), axis_z(axis, s), 0);
}

/* What lies loose acts in the middle of the room that it has. */
static void add_chambers(struct weigher *w) {
    for (int i = 0; i < w->recipe->chamber_count; i++) {
        struct hollow h = hollow_of(w->plug, i);
        struct name content = {NAME_CONTENT, i + 1, w->recipe->chambers[i].holds->name};
        add_along(w, content, STAGE_CHAMBERED, h.content, &h.axis, h.middle);
        if (h.stopper > 0)
            add_along(w, one_of(NAME_STOPPER, i), STAGE_CHAMBERED, h.stopper_mass, &h.axis,
                      h.stopper / 2);
    }
}

static void add_ballast(struct weigher *w, const struct bore_fill *fills) {
    const struct ballast *ballast = w->recipe->ballast;
    for (int i = 0; ballast && i < ballast->bore_count; i++) {
        const struct bore_fill *fill = &fills[i];
        add_along(w, one_of(NAME_LOAD, i), STAGE_BALLASTED, fill->load, &fill->axis, fill->middle);
        add_along(w, one_of(NAME_FILLER, i), STAGE_FILLED, fill->filler, &fill->axis, fill->over);
    }
}

static void add_lip(struct weigher *w) {
    const struct lip *lip = w->recipe->lip;
    const struct plate *plate = &w->plug->plate;
    double density, area, moment, inside;
    if (!lip) return;
    density = reference_sheet[lip->material].density;
    plate_area(plate, 0, plate->extent, &area, &moment);
    inside = lip->slot * lip->width; /* the part in the slot, its middle half a slot behind */
    double s = (moment - inside * lip->slot / 2) / (area + inside);
    add(w, the(NAME_LIP), STAGE_LIPPED, density * lip->thickness * (area + inside),
        plate->mouth_x + plate->u_x * s, plate->mouth_z + plate->u_z * s, lip->thickness * area);
}

static void add_lip_tie(struct weigher *w) {
    const struct fitted *tie = &w->plug->fittings[FITTING_TIE];
    if (tie->pilot.given || !w->recipe->lip) return;
    add(w, the(NAME_TIE_EYE), STAGE_LIPPED, wire_mass(w, tie->looped), tie->eye_x, tie->eye_z, 0);
}

static void add_coat(struct weigher *w, struct name item, enum stage stage, double areal_mass) {
    const struct solid *bare = &w->plug->bare;
    add(w, item, stage, areal_mass * bare->surface, bare->surface_x, bare->surface_z, 0);
}

static void add_paint(struct weigher *w) {
    const struct paint *paint = w->recipe->finish ? w->recipe->finish->paint : NULL;
    for (int i = 0; paint && i < paint->layer_count; i++)
        add_coat(w, one_of(NAME_COLOUR, i), STAGE_PAINTED,
                 layer_colour(w->recipe, &paint->layers[i]).density *
                     layer_thickness(w->recipe, &paint->layers[i]));
}

static void add_eyes(struct weigher *w) {
    const struct eyes *eyes = w->recipe->eyes;
    if (!eyes) return;
    double one = eyes->mass.given
                     ? eyes->mass.value
                     : disc(eyes->size) * eyes->depth * reference_fact[FACT_EYE_DENSITY].value;
    add(w, the(NAME_EYES), STAGE_EYED, 2 * one, position_in(eyes->at, w->plug->outline.length),
        eyes->up, 0);
}

double hook_mass(const struct hook *hook) {
    return hook->mass.given ? hook->mass.value
                            : reference_hook_of((int)hook->kind, hook->size)->mass;
}

double hooks_mass(const struct hook *hook) {
    return hook->count * hook_mass(hook);
}

double ring_mass(const struct ring *ring) {
    return ring->mass.given ? ring->mass.value : reference_ring_of(ring->size)->mass;
}

/* A hinge hangs in its gap. */
static void add_hinges(struct weigher *w) {
    double steel = reference_fact[FACT_HOOK_DENSITY].value;
    for (int i = 0; i < w->plug->joint_count; i++) {
        const struct hinge *hinge = w->recipe->joints[i].hinge;
        const struct notch *cut = &w->plug->joints[i];
        add(w, one_of(NAME_HINGE, i), STAGE_RIGGED, hinge->mass, cut->at_x, cut->at_z,
            hinge->mass / steel);
    }
}

static void add_extras(struct weigher *w, enum extra_stage from, enum extra_stage to) {
    double steel = reference_fact[FACT_HOOK_DENSITY].value;
    for (int i = 0; i < w->recipe->extra_count; i++) {
        const struct extra *extra = &w->recipe->extras[i];
        double volume = extra->volume.given ? extra->volume.value : extra->mass / steel;
        if (extra->stage < from || extra->stage > to) continue;
        add(w, (struct name){.key = NAME_EXTRA, .number = i + 1, .own = extra->name},
            extra_stages[extra->stage], extra->count * extra->mass,
            position_in(extra->at, w->plug->outline.length), extra->up, extra->count * volume);
    }
}

/* They hang from the eye, which stands at the mouth. */
static void add_hanging(struct weigher *w, int fitting, enum name_key key, double mass) {
    const struct fitted *fitted = &w->plug->fittings[fitting];
    add(w, fitting_name(fitting, NAME_NONE, key), STAGE_RIGGED, mass, fitted->eye_x, fitted->eye_z,
        mass / reference_fact[FACT_HOOK_DENSITY].value);
}

static void add_rigging(struct weigher *w) {
    for (int i = 0; i < w->plug->fitting_count; i++) {
        const struct fitted *fitted = &w->plug->fittings[i];
        const struct hook *hook = fitted->fitting->hook;
        const struct ring *ring = fitted->fitting->ring;
        const struct link *link = fitted->fitting->link;
        if (link) add_hanging(w, i, NAME_LINK, link->mass);
        if (ring) add_hanging(w, i, NAME_RING, ring_mass(ring));
        if (hook) add_hanging(w, i, NAME_HOOK, hooks_mass(hook));
    }
}

struct mass_list mass_rows(struct arena *arena, const struct plug *plug,
                           const struct bore_fill *fills) {
    struct weigher w = {.plug = plug, .recipe = plug->recipe};
    const struct finish *finish = plug->recipe->finish;
    w.list.rows = NEW(arena, struct mass_row, MAX_ROWS);
    add_wood(&w, fills);
    add_through(&w);
    add_wires(&w);
    add_chambers(&w);
    add_extras(&w, EXTRA_HUNG, EXTRA_HUNG);
    add_ballast(&w, fills);
    if (finish && finish->seal)
        add_coat(&w, the(NAME_SEALER), STAGE_SEALED, finish->seal->uptake * finish->seal->coats);
    add_lip(&w);
    add_lip_tie(&w);
    add_paint(&w);
    add_eyes(&w);
    if (finish && finish->topcoat)
        add_coat(&w, the(NAME_TOPCOAT), STAGE_TOPCOATED,
                 finish->topcoat->density * finish->topcoat->film * finish->topcoat->coats);
    add_extras(&w, EXTRA_PAINTED, EXTRA_RIGGED);
    add_hinges(&w);
    add_rigging(&w);
    return w.list;
}

const struct mass_row *mass_find(const struct mass_list *list, enum name_key item) {
    for (int i = 0; i < list->count; i++)
        if (list->rows[i].item.key == item) return &list->rows[i];
    return NULL;
}

struct tally mass_tally(const struct mass_list *list, unsigned stages) {
    struct tally sum = {0};
    for (int i = 0; i < list->count; i++) {
        const struct mass_row *row = &list->rows[i];
        if (stages & 1u << row->stage) tally_add(&sum, row->mass, row->x, row->z);
    }
    return sum;
}

struct burden mass_burden(const struct mass_list *list, enum condition_kind kind) {
    struct tally sum = {0}, hung = {0};
    for (int i = 0; i < list->count; i++) {
        const struct mass_row *row = &list->rows[i];
        if (!stage_counts(row->stage, kind)) continue;
        tally_add(&sum, row->mass, row->x, row->z);
        if (row->stage == STAGE_RIGGED) tally_add(&hung, row->outside, row->x, row->z);
    }
    struct burden burden = {.mass = sum.mass, .hung_volume = hung.mass};
    if (sum.mass != 0) burden.x = sum.x / sum.mass, burden.z = sum.z / sum.mass;
    if (hung.mass != 0) burden.hung_x = hung.x / hung.mass, burden.hung_z = hung.z / hung.mass;
    return burden;
}
