/* The plug itself, seen from the side (a section along its middle plane) and from above: wood,
 * bores with what is in them, wires, slot, lip and eyes.
 */
#include "emit/drawing/inner.h"

#include <math.h>

#include "model/reference.h"

static const double pi = 3.14159265358979323846;

static double mouth_of_lip(const struct drawing *drawing, double *z) {
    double x = position_in(drawing->recipe->lip->at, drawing->outline->length);
    *z = -curve_at(&drawing->outline->belly, x);
    return x;
}

bool part_waterline_near(const struct drawing *drawing, double nose, double tail) {
    double most = 1.5 * drawing->outline->length;
    return fabs(nose) < most && fabs(tail) < most;
}

struct extent part_extent(const struct drawing *drawing) {
    const struct plug *plug = &drawing->results->plug;
    struct extent extent = {0.0, drawing->outline->length, plug->bare.bottom, plug->bare.top};
    if (plug->plate.given) {
        const struct plate *plate = &plug->plate;
        extent_add(&extent, plate->mouth_x + plate->u_x * plate->extent,
                   plate->mouth_z + plate->u_z * plate->extent);
    }
    for (int i = 0; i < plug->fitting_count; i++) {
        const struct fitting *fitting = plug->fittings[i].fitting;
        const struct pilot *pilot = &plug->fittings[i].pilot;
        if (!pilot->given) continue;
        double out = fitting->eye + 2.0 * fitting_thickness(drawing->recipe, fitting);
        extent_add(&extent, pilot->mouth_x - out * pilot->u_x, pilot->mouth_z - out * pilot->u_z);
    }
    return extent;
}

struct extent part_turned(const struct drawing *drawing, const struct view *view, bool hooks) {
    enum { SAMPLES = 60 };
    const struct plug *plug = &drawing->results->plug;
    struct extent e = {INFINITY, -INFINITY, INFINITY, -INFINITY};
    for (int i = 0; i <= SAMPLES; i++) {
        double x = drawing->outline->length * i / SAMPLES;
        struct svg_point back = view_point(view, x, curve_at(&drawing->outline->back, x));
        struct svg_point belly = view_point(view, x, -curve_at(&drawing->outline->belly, x));
        extent_add(&e, back.x, -back.y);
        extent_add(&e, belly.x, -belly.y);
    }
    struct extent flat = part_extent(drawing);
    struct svg_point nose = view_point(view, flat.left, 0.0),
                     tail = view_point(view, flat.right, 0.0);
    extent_add(&e, nose.x, -nose.y);
    extent_add(&e, tail.x, -tail.y);
    if (plug->plate.given) {
        struct svg_point end =
            view_point(view, plug->plate.mouth_x + plug->plate.u_x * plug->plate.extent,
                       plug->plate.mouth_z + plug->plate.u_z * plug->plate.extent);
        extent_add(&e, end.x, -end.y);
    }
    for (int i = FITTING_HANGERS; hooks && i < plug->fitting_count; i++) {
        const struct fitted *hanger = &plug->fittings[i];
        struct svg_point mouth = view_point(view, hanger->eye_x, hanger->eye_z);
        extent_add(&e, mouth.x, -mouth.y - view->scale * part_hang(hanger->fitting));
    }
    return e;
}

/* --- joints --------------------------------------------------------------------------------- */

static void joint_from_side(struct drawing *drawing, struct svg *svg, const struct view *view,
                            double x) {
    const struct plug *plug = &drawing->results->plug;
    struct svg_point top = view_point(view, x, plug_top(plug, x));
    struct svg_point bottom = view_point(view, x, plug_bottom(plug, x));
    svg_line(svg, top.x, top.y, bottom.x, bottom.y);
}

void part_joints(struct drawing *drawing, struct svg *svg, const struct view *view,
                 bool from_above) {
    const struct plug *plug = &drawing->results->plug;
    svg_group(svg, &pen_detail);
    for (int i = 0; i < plug->joint_count; i++) {
        double x = plug->joints[i].at_x, gap = drawing->recipe->joints[i].gap / 2.0;
        double reach = plug_joint_reach(plug, i), half = plug->joints[i].section.half_width;
        for (int side = -1; side <= 1; side += 2) {
            if (!from_above) joint_from_side(drawing, svg, view, x + side * reach);
            if (!from_above) continue;
            struct svg_point vee[] = {view_point(view, x + side * reach, half),
                                      view_point(view, x + side * gap, 0.0),
                                      view_point(view, x + side * reach, -half)};
            svg_polyline(svg, vee, 3);
        }
    }
    svg_group_end(svg);
}

/* --- wires ---------------------------------------------------------------------------------- */

/* Two strands around each other. */
static void twist(struct svg *svg, const struct view *view, const struct pilot *pilot,
                  double wire) {
    enum { POINTS = 241 };
    struct svg_point strand[POINTS];
    double lay = reference_fact[FACT_WIRE_LAY].value * wire;
    int count = (int)fmin(POINTS, 2.0 + ceil(12.0 * pilot->depth / lay));
    for (int side = -1; side <= 1; side += 2) {
        for (int i = 0; i < count; i++) {
            double s = pilot->depth * i / (count - 1);
            double off = side * wire / 2.0 * sin(2.0 * pi * s / lay);
            strand[i] = view_point(view, pilot->mouth_x + s * pilot->u_x - off * pilot->u_z,
                                   pilot->mouth_z + s * pilot->u_z + off * pilot->u_x);
        }
        svg_polyline(svg, strand, count);
    }
}

/* The eye stands outside the mouth; (ux, uz) points inward. */
static void eye_of(struct svg *svg, const struct view *view, double x, double z, double ux,
                   double uz, double eye, double wire) {
    double out = eye / 2.0 + wire;
    struct svg_point centre = view_point(view, x - out * ux, z - out * uz);
    svg_group(svg, &pen_face);
    svg_circle(svg, centre.x, centre.y, view->scale * (eye / 2.0 + wire));
    svg_circle(svg, centre.x, centre.y, view->scale * eye / 2.0);
    svg_group_end(svg);
}

/* A shank with its thread, down to the point. */
static void thread(struct svg *svg, const struct view *view, const struct pilot *pilot,
                   double diameter) {
    enum { TURNS = 12 };
    struct svg_point corners[4];
    part_bar(corners, view, pilot->mouth_x, pilot->mouth_z, pilot->u_x, pilot->u_z, pilot->depth,
             0.7 * diameter);
    svg_polyline(svg, corners, 4);
    for (int i = 1; i < TURNS; i++) {
        double s = pilot->depth * (0.3 + 0.7 * i / TURNS), half = diameter / 2.0;
        double x = pilot->mouth_x + s * pilot->u_x, z = pilot->mouth_z + s * pilot->u_z;
        struct svg_point one = view_point(view, x - half * pilot->u_z, z + half * pilot->u_x);
        struct svg_point two = view_point(view, x + half * pilot->u_z, z - half * pilot->u_x);
        svg_line(svg, one.x, one.y, two.x, two.y);
    }
}

/* A pilot bore cut open, with what is in it. */
static void wire_in_wood(struct svg *svg, const struct view *view, const struct pilot *pilot,
                         double wire) {
    struct svg_point sides[4];
    part_bar(sides, view, pilot->mouth_x, pilot->mouth_z, pilot->u_x, pilot->u_z, pilot->depth,
             pilot->diameter);
    svg_group(svg, &pen_hidden);
    svg_polyline(svg, sides, 4);
    svg_group_end(svg);
    svg_group(svg, &(struct svg_style){.stroke = "#000", .width = 0.2});
    if (pilot->screw)
        thread(svg, view, pilot, wire);
    else
        twist(svg, view, pilot, wire);
    svg_group_end(svg);
}

/* The kerf's floor with the wire on it, from end to end. */
static void through_wire(struct drawing *drawing, struct svg *svg, const struct view *view) {
    double length = drawing->outline->length;
    const struct through_fit *fit = &drawing->results->plug.through;
    double half = drawing->recipe->hardware->wire->diameter / 2.0;
    svg_group(svg, &pen_thin);
    for (int side = -1; side <= 1; side += 2) {
        struct svg_point from = view_point(view, 0.0, fit->z + side * half);
        struct svg_point to = view_point(view, length, fit->z + side * half);
        svg_line(svg, from.x, from.y, to.x, to.y);
    }
    svg_group_end(svg);
}

static void wires(struct drawing *drawing, struct svg *svg, const struct view *view, int how) {
    const struct plug *plug = &drawing->results->plug;
    if (plug->through.given && how & BODY_SECTIONED) through_wire(drawing, svg, view);
    const struct fitted *tie = &plug->fittings[FITTING_TIE];
    for (int i = 0; i < plug->fitting_count; i++) {
        const struct pilot *pilot = &plug->fittings[i].pilot;
        double wire = fitting_thickness(drawing->recipe, plug->fittings[i].fitting);
        if (!pilot->given) continue;
        if (how & BODY_SECTIONED && pilot_bored(pilot)) wire_in_wood(svg, view, pilot, wire);
        eye_of(svg, view, pilot->mouth_x, pilot->mouth_z, pilot->u_x, pilot->u_z,
               plug->fittings[i].fitting->eye, wire);
    }
    if (tie->pilot.given || !plug->plate.given) return;
    double wire = fitting_thickness(drawing->recipe, tie->fitting);
    double eye = tie->fitting->eye, out = eye / 2.0 + wire; /* centred on the sheet */
    eye_of(svg, view, tie->eye_x, tie->eye_z + out, 0.0, 1.0, eye, wire);
}

/* --- what is bored --------------------------------------------------------------------------- */

static struct part_hole hole_of_bore(const struct drawing *drawing, int index) {
    const struct bore_fill *fill = &drawing->results->ballast.fills[index];
    return (struct part_hole){
        .name = arena_printf(drawing->arena, "bore %d", index + 1),
        .title = arena_printf(drawing->arena, "ballast bore %d", index + 1),
        .from = drawing->recipe->ballast->bores[index].from,
        .axis = fill->axis,
        .drill = fill->drill,
        .depth = fill->depth,
        .closed = fill->depth - fill->slug,
        .loaded = fill->slug > 0.0,
    };
}

static struct part_hole hole_of_chamber(const struct drawing *drawing, int index) {
    struct hollow hollow = hollow_of(&drawing->results->plug, index);
    const char *name = arena_printf(drawing->arena, "chamber %d", index + 1);
    return (struct part_hole){
        .name = name,
        .title = name,
        .from = drawing->recipe->chambers[index].from,
        .axis = hollow.axis,
        .drill = hollow.drill,
        .depth = hollow.depth,
        .closed = hollow.stopper,
        .hollow = true,
    };
}

int part_holes(const struct drawing *drawing, struct part_hole holes[PART_HOLES]) {
    int count = 0;
    for (int i = 0; i < drawing->results->ballast.bore_count; i++)
        holes[count++] = hole_of_bore(drawing, i);
    for (int i = 0; i < drawing->recipe->chamber_count; i++)
        holes[count++] = hole_of_chamber(drawing, i);
    return count;
}

/* --- bores, slot, lip, eyes ----------------------------------------------------------------- */

/* A point `s` inward along an axis in the plane of the side view, and `off` to the side of it. */
static struct svg_point beside(const struct view *view, const struct axis *axis, double s,
                               double off) {
    return view_point(view, axis_x(axis, s) + off * axis->u_z, axis_z(axis, s) - off * axis->u_x);
}

/* How far inward of its mouth a line beside the axis enters the outline. */
static double edge_beside(const struct plug *plug, const struct part_hole *hole, double off) {
    const struct axis *axis = &hole->axis;
    double x = fmin(fmax(axis->x + off * axis->u_z, 0.0), plug->outline.length);
    struct position at = {.value = x, .given = true};
    struct axis near = axis_of(plug, hole->from, at, axis->z - off * axis->u_x);
    if (!axis_along(axis)) return (near.z - axis->z) * axis->u_z;
    return near.room > 0.0 ? (near.x - axis->x) * axis->u_x : 0.0;
}

/* A bore, or part of one, from so far to so far inward, its outer end cut by the outline. */
static void stretch_corners(struct svg_point corners[4], const struct plug *plug,
                            const struct view *view, const struct part_hole *hole, double from,
                            double to) {
    double radius = hole->drill / 2.0;
    double left = fmax(from, edge_beside(plug, hole, -radius));
    double right = fmax(from, edge_beside(plug, hole, radius));
    corners[0] = beside(view, &hole->axis, fmin(left, to), -radius);
    corners[1] = beside(view, &hole->axis, to, -radius);
    corners[2] = beside(view, &hole->axis, to, radius);
    corners[3] = beside(view, &hole->axis, fmin(right, to), radius);
}

/* A pair comes from both flanks, out of the plane that is cut. */
static void level_bore(struct svg *svg, const struct view *view, const struct axis *axis,
                       double drill) {
    struct svg_point centre = view_point(view, axis->x, axis->z);
    double radius = view->scale * drill / 2.0;
    svg_group(svg, &pen_hidden);
    svg_circle(svg, centre.x, centre.y, radius);
    svg_group_end(svg);
    svg_group(svg, &pen_thin);
    part_cross(svg, centre, radius + 1.0);
    svg_group_end(svg);
}

static void filled_hole(struct drawing *drawing, struct svg *svg, const struct view *view,
                        const struct part_hole *hole) {
    static const struct svg_style hatch = {.stroke = "#000", .width = 0.16};
    const struct plug *plug = &drawing->results->plug;
    double outside = -hole->drill, depth = hole->depth;
    struct svg_point whole[4], inner[4], closed[4];
    if (axis_level(&hole->axis)) {
        level_bore(svg, view, &hole->axis, hole->drill);
        return;
    }
    stretch_corners(whole, plug, view, hole, outside, depth);
    stretch_corners(inner, plug, view, hole, hole->closed, depth);
    stretch_corners(closed, plug, view, hole, outside, hole->closed);
    svg_group(svg, &pen_face);
    svg_polygon(svg, whole, 4);
    if (hole->loaded || hole->hollow) svg_polygon(svg, inner, 4);
    svg_group_end(svg);
    svg_group(svg, &hatch);
    if (hole->loaded) svg_hatch(svg, inner, 4, 45.0, 0.7);
    if (hole->closed > 0.0) svg_hatch(svg, closed, 4, -45.0, 1.8);
    svg_group_end(svg);
    struct svg_point low = beside(view, &hole->axis, -0.002, 0.0);
    struct svg_point high = beside(view, &hole->axis, depth + 0.002, 0.0);
    svg_group(svg, &pen_centre);
    svg_line(svg, low.x, low.y, high.x, high.y);
    svg_group_end(svg);
}

static void lip_from_side(struct drawing *drawing, struct svg *svg, const struct view *view,
                          int how) {
    const struct plate *plate = &drawing->results->plug.plate;
    double z, x = mouth_of_lip(drawing, &z);
    struct svg_point corners[4];
    if (how & BODY_SECTIONED) {
        part_bar(corners, view, x, z, -plate->u_x, -plate->u_z, drawing->recipe->lip->slot,
                 plate->thickness);
        svg_group(svg, &pen_face);
        svg_polygon(svg, corners, 4);
        svg_group_end(svg);
        svg_group(svg, &(struct svg_style){.stroke = "#000", .width = 0.13});
        svg_hatch(svg, corners, 4, 15.0, 0.9);
        svg_group_end(svg);
    }
    part_bar(corners, view, plate->mouth_x, plate->mouth_z, plate->u_x, plate->u_z, plate->extent,
             plate->thickness);
    svg_group(svg, &pen_face);
    svg_polygon(svg, corners, 4);
    svg_group_end(svg);
}

static void glued_eyes(struct drawing *drawing, struct svg *svg, const struct view *view) {
    const struct eyes *eyes = drawing->recipe->eyes;
    struct svg_point centre =
        view_point(view, position_in(eyes->at, drawing->outline->length), eyes->up);
    double radius = view->scale * eyes->size / 2.0;
    svg_group(svg, &pen_face);
    svg_circle(svg, centre.x, centre.y, radius);
    svg_group_end(svg);
    svg_group(svg, &pen_solid);
    svg_circle(svg, centre.x, centre.y, radius * 0.45);
    svg_group_end(svg);
}

void part_side_body(struct drawing *drawing, struct svg *svg, const struct view *view, int how) {
    struct part_hole holes[PART_HOLES];
    int count = part_holes(drawing, holes);
    svg_group(svg, &pen_body);
    part_side_outline(svg, view, drawing->outline);
    svg_group_end(svg);
    for (int i = 0; how & BODY_SECTIONED && i < count; i++)
        filled_hole(drawing, svg, view, &holes[i]);
    if (how & BODY_PAINTED) part_paint(drawing, svg, view);
    part_cup(drawing, svg, view, false, !(how & BODY_SECTIONED));
    if (drawing->recipe->joint_count) part_joints(drawing, svg, view, false);
    if (drawing->results->plug.plate.given) lip_from_side(drawing, svg, view, how);
    wires(drawing, svg, view, how);
    if (drawing->recipe->eyes) glued_eyes(drawing, svg, view);
    svg_group(svg, &pen_outline); /* once more, over what was drawn to its edge */
    part_side_outline(svg, view, drawing->outline);
    svg_group_end(svg);
}

/* --- from above ----------------------------------------------------------------------------- */

static void lip_from_above(struct drawing *drawing, struct svg *svg, const struct view *view) {
    enum { POINTS = 33 };
    const struct plate *plate = &drawing->results->plug.plate;
    struct svg_point edge[2 * POINTS];
    for (int i = 0; i < POINTS; i++) {
        double s = plate->extent * sin(pi / 2.0 * i / (POINTS - 1)); /* closer at the round end */
        double x = plate->mouth_x + s * plate->u_x, half = plate_width(plate, s) / 2.0;
        edge[i] = view_point(view, x, half);
        edge[2 * POINTS - 1 - i] = view_point(view, x, -half);
    }
    svg_polygon(svg, edge, 2 * POINTS);
}

static void sockets_from_above(struct drawing *drawing, struct svg *svg, const struct view *view) {
    const struct eyes *eyes = drawing->recipe->eyes;
    double x = position_in(eyes->at, drawing->outline->length);
    struct section section = section_at(drawing->outline, x, 0.0);
    svg_group(svg, &pen_hidden);
    for (int side = -1; side <= 1; side += 2) {
        struct svg_point corners[4];
        part_bar(corners, view, x, side * section.half_width, 0.0, -side, eyes->depth, eyes->size);
        svg_polyline(svg, corners, 4);
    }
    svg_group_end(svg);
}

static void slot_from_above(struct drawing *drawing, struct svg *svg, const struct view *view) {
    double z, x = mouth_of_lip(drawing, &z);
    double half = curve_at(&drawing->outline->width, x) / 2.0;
    svg_group(svg, &pen_hidden);
    svg_line(svg, view_x(view, x), view_y(view, half), view_x(view, x), view_y(view, -half));
    svg_group_end(svg);
}

/* A hole from below or above, with its centre. */
static void round_from_above(struct svg *svg, const struct view *view, double x, double diameter,
                             const struct svg_style *pen) {
    struct svg_point centre = view_point(view, x, 0.0);
    double radius = view->scale * diameter / 2.0;
    svg_group(svg, pen);
    svg_circle(svg, centre.x, centre.y, radius);
    svg_group_end(svg);
    svg_group(svg, &pen_thin);
    part_cross(svg, centre, radius + 1.0);
    svg_group_end(svg);
}

static void pilot_from_above(struct svg *svg, const struct view *view, const struct pilot *pilot) {
    if (!pilot_bored(pilot)) return;
    if (pilot->u_x == 0.0) {
        round_from_above(svg, view, pilot->mouth_x, pilot->diameter, &pen_detail);
        return;
    }
    struct svg_point corners[4];
    part_bar(corners, view, pilot->mouth_x, 0.0, pilot->u_x, 0.0, pilot->depth, pilot->diameter);
    svg_group(svg, &pen_hidden);
    svg_polyline(svg, corners, 4);
    svg_group_end(svg);
}

void part_hole_from_above(struct svg *svg, const struct view *view, const struct part_hole *hole) {
    const struct axis *axis = &hole->axis;
    for (int side = 1; side >= (axis->pair ? -1 : 1); side -= 2) {
        struct svg_point corners[4];
        part_bar(corners, view, axis->x, side * axis->y, axis->u_x, side * axis->u_y, hole->depth,
                 hole->drill);
        svg_polyline(svg, corners, 4);
    }
}

static void hole_from_above(struct svg *svg, const struct view *view,
                            const struct part_hole *hole) {
    if (hole->axis.u_z != 0.0) {
        round_from_above(svg, view, hole->axis.x, hole->drill,
                         hole->axis.u_z > 0.0 ? &pen_hidden : &pen_detail);
        return;
    }
    svg_group(svg, &pen_hidden);
    part_hole_from_above(svg, view, hole);
    svg_group_end(svg);
}

void part_plan_holes(struct drawing *drawing, struct svg *svg, const struct view *view) {
    const struct plug *plug = &drawing->results->plug;
    struct part_hole holes[PART_HOLES];
    int count = part_holes(drawing, holes);
    if (plug->plate.given) slot_from_above(drawing, svg, view);
    for (int i = 0; i < count; i++) hole_from_above(svg, view, &holes[i]);
    for (int i = 0; i < plug->fitting_count; i++)
        pilot_from_above(svg, view, &plug->fittings[i].pilot);
    if (drawing->recipe->eyes) sockets_from_above(drawing, svg, view);
}

void part_plan_body(struct drawing *drawing, struct svg *svg, const struct view *view) {
    if (drawing->results->plug.plate.given) {
        svg_group(svg, &pen_face);
        lip_from_above(drawing, svg, view);
        svg_group_end(svg);
    }
    svg_group(svg, &pen_body);
    part_plan_outline(svg, view, drawing->outline);
    svg_group_end(svg);
    part_cup(drawing, svg, view, true, true);
    if (drawing->recipe->joint_count) part_joints(drawing, svg, view, true);
    part_plan_holes(drawing, svg, view);
}

/* --- features ------------------------------------------------------------------------------- */

static const char *bare(const struct drawing *drawing, double metres) {
    return measure_length_bare(drawing->arena, metres, drawing->units);
}

static struct rung rung_at(struct drawing *drawing, const struct view *view, double x, double z,
                           const char *brief, const char *name, const char *size) {
    return (struct rung){.at = view_x(view, x),
                         .from = view_y(view, z),
                         .brief = brief,
                         .name = name,
                         .size = size,
                         .number = measure_length_short(drawing->arena, x, drawing->units)};
}

static const char *drilled(struct drawing *drawing, double drill, double depth) {
    return arena_printf(drawing->arena, "drill %s, %s deep", bare(drawing, drill),
                        bare(drawing, depth));
}

static struct rung fitting_rung(struct drawing *drawing, const struct view *view, int index) {
    const struct fitted *fitted = &drawing->results->plug.fittings[index];
    const struct pilot *pilot = &fitted->pilot;
    const char *brief = name_text(drawing->arena, fitting_name(index, NAME_TIE, NAME_HANGER));
    const char *name =
        arena_printf(drawing->arena, "%s, %s", brief, name_places[fitted->fitting->place]);
    return rung_at(drawing, view, fitted->eye_x, fitted->eye_z, brief, name,
                   pilot_bored(pilot) ? drilled(drawing, pilot->diameter, pilot->depth) : NULL);
}

static struct rung hole_rung(struct drawing *drawing, const struct view *view,
                             const struct part_hole *hole) {
    const char *side = hole->from == SIDE_BELLY && !hole->hollow
                           ? ""
                           : arena_printf(drawing->arena, ", %s", name_sides[hole->from]);
    return rung_at(drawing, view, hole->axis.x, hole->axis.z, hole->name,
                   arena_printf(drawing->arena, "%s%s", hole->title, side),
                   drilled(drawing, hole->drill, hole->depth));
}

static struct rung slot_rung(struct drawing *drawing, const struct view *view) {
    const struct lip *cut = drawing->recipe->lip;
    double z, x = mouth_of_lip(drawing, &z);
    return rung_at(drawing, view, x, z, "lip slot",
                   arena_printf(drawing->arena, "lip slot at %s to datum",
                                measure_angle(drawing->arena, cut->angle)),
                   arena_printf(drawing->arena, "%s wide, %s deep", bare(drawing, cut->thickness),
                                bare(drawing, cut->slot)));
}

static struct rung eyes_rung(struct drawing *drawing, const struct view *view) {
    const struct eyes *set = drawing->recipe->eyes;
    return rung_at(drawing, view, position_in(set->at, drawing->outline->length), set->up, "eyes",
                   arena_printf(drawing->arena, "eye, %s %s datum", bare(drawing, fabs(set->up)),
                                set->up < 0.0 ? "below" : "above"),
                   drilled(drawing, set->size, set->depth));
}

static struct rung joint_rung(struct drawing *drawing, const struct view *view, int index) {
    const struct joint_cut *cut = &drawing->recipe->joints[index];
    double x = position_in(cut->at, drawing->outline->length);
    return rung_at(drawing, view, x, plug_bottom(&drawing->results->plug, x),
                   arena_printf(drawing->arena, "joint %d", index + 1),
                   arena_printf(drawing->arena, "joint %d, V of %s", index + 1,
                                measure_angle(drawing->arena, cut->angle)),
                   arena_printf(drawing->arena, "gap %s", bare(drawing, cut->gap)));
}

static struct rung extra_rung(struct drawing *drawing, const struct view *view, int index) {
    const struct extra *extra = &drawing->recipe->extras[index];
    const char *name = arena_copy(drawing->arena, extra->name.data, extra->name.size);
    return rung_at(drawing, view, position_in(extra->at, drawing->outline->length), extra->up, name,
                   name, measure_mass(drawing->arena, extra->count * extra->mass, drawing->units));
}

struct rung *part_features(struct drawing *drawing, const struct view *view, int *count) {
    const struct recipe *recipe = drawing->recipe;
    struct rung *rungs =
        NEW(drawing->arena, struct rung, MAX_FITTINGS + PART_HOLES + MAX_EXTRAS + MAX_JOINTS + 2);
    struct part_hole holes[PART_HOLES];
    int n = 0;
    for (int i = 0; i < drawing->results->plug.fitting_count; i++) {
        rungs[n++] = fitting_rung(drawing, view, i);
    }
    int hole_count = part_holes(drawing, holes);
    for (int i = 0; i < hole_count; i++) rungs[n++] = hole_rung(drawing, view, &holes[i]);
    if (recipe->lip) rungs[n++] = slot_rung(drawing, view);
    if (recipe->eyes) rungs[n++] = eyes_rung(drawing, view);
    for (int i = 0; i < recipe->extra_count; i++) rungs[n++] = extra_rung(drawing, view, i);
    for (int i = 0; i < recipe->joint_count; i++) rungs[n++] = joint_rung(drawing, view, i);
    *count = n;
    return rungs;
}

struct rung *part_brief_features(struct drawing *drawing, const struct view *view, int *count) {
    struct rung *rungs = part_features(drawing, view, count);
    for (int i = 0; i < *count; i++) {
        rungs[i].name = rungs[i].brief;
        rungs[i].size = NULL;
    }
    return rungs;
}
