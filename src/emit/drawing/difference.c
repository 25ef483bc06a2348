/* Both plugs share the nose, the datum line and the scale; at rest they share the surface of the
 * water and the place half-way along the datum line.  The old plug is drawn first: where nothing
 * was changed, the new lines hide it.
 */
#include "emit/drawing/difference.h"

#include <math.h>

#include "emit/drawing/inner.h"

static const char dash[] = "2 1.2";

struct pens {
    struct svg_style outline, detail;
};

static const struct pens old_pens = {
    .outline = {.stroke = "#9c3a1a", .width = 0.4, .dash = dash},
    .detail = {.stroke = "#9c3a1a", .width = 0.22, .dash = "1.3 0.9"},
};
static const struct pens new_pens = {
    .outline = {.stroke = "#000", .width = 0.5},
    .detail = {.stroke = "#000", .width = 0.25},
};
static const struct svg_style wood = {.fill = "#fbf7ee"};

/* --- one plug in lines ----------------------------------------------------------------------- */

/* What closes a bore ends in a line across. */
static void bore_lines(struct svg *svg, const struct view *view, const struct part_hole *hole) {
    const struct axis *axis = &hole->axis;
    struct svg_point corners[4];
    double radius = hole->drill / 2.0;
    if (axis_level(axis)) {
        struct svg_point centre = view_point(view, axis->x, axis->z);
        svg_circle(svg, centre.x, centre.y, view->scale * radius);
        return;
    }
    part_bar(corners, view, axis->x, axis->z, axis->u_x, axis->u_z, hole->depth, hole->drill);
    svg_polygon(svg, corners, 4);
    if (!hole->loaded && !hole->hollow) return;
    double x = axis_x(axis, hole->closed), z = axis_z(axis, hole->closed);
    struct svg_point left = view_point(view, x - radius * axis->u_z, z + radius * axis->u_x);
    struct svg_point right = view_point(view, x + radius * axis->u_z, z - radius * axis->u_x);
    svg_line(svg, left.x, left.y, right.x, right.y);
}

static void pilot_lines(struct svg *svg, const struct view *view, const struct pilot *pilot) {
    if (!pilot_bored(pilot)) return;
    struct svg_point corners[4];
    part_bar(corners, view, pilot->mouth_x, pilot->mouth_z, pilot->u_x, pilot->u_z, pilot->depth,
             pilot->diameter);
    svg_polyline(svg, corners, 4);
}

static void lip_lines(struct svg *svg, const struct view *view, const struct drawing *drawing) {
    const struct plate *plate = &drawing->results->plug.plate;
    struct svg_point corners[4];
    if (!plate->given) return;
    double slot = drawing->recipe->lip->slot;
    part_bar(corners, view, plate->mouth_x - plate->u_x * slot, plate->mouth_z - plate->u_z * slot,
             plate->u_x, plate->u_z, plate->extent + slot, plate->thickness);
    svg_polygon(svg, corners, 4);
}

/* What an eye sees from the side. */
static void side_lines(struct svg *svg, const struct view *view, const struct drawing *drawing,
                       const struct pens *pens) {
    const struct eyes *eyes = drawing->recipe->eyes;
    svg_group(svg, &pens->outline);
    part_side_outline(svg, view, drawing->outline);
    svg_group_end(svg);
    svg_group(svg, &pens->detail);
    lip_lines(svg, view, drawing);
    if (eyes) {
        struct svg_point at =
            view_point(view, position_in(eyes->at, drawing->outline->length), eyes->up);
        svg_circle(svg, at.x, at.y, view->scale * eyes->size / 2.0);
    }
    svg_group_end(svg);
}

/* What is bored into it. */
static void bored_lines(struct svg *svg, const struct view *view, const struct drawing *drawing,
                        const struct pens *pens) {
    const struct results *r = drawing->results;
    struct part_hole holes[PART_HOLES];
    int count = part_holes(drawing, holes);
    svg_group(svg, &pens->detail);
    for (int i = 0; i < count; i++) bore_lines(svg, view, &holes[i]);
    for (int i = 0; i < r->plug.fitting_count; i++)
        pilot_lines(svg, view, &r->plug.fittings[i].pilot);
    svg_group_end(svg);
}

/* The new loads stand out, since they are what is cast and driven in. */
static void load_hatches(struct svg *svg, const struct view *view, const struct drawing *drawing) {
    const struct ballast_result *ballast = &drawing->results->ballast;
    svg_group(svg, &(struct svg_style){.stroke = "#000", .width = 0.16});
    for (int i = 0; i < ballast->bore_count; i++) {
        const struct bore_fill *fill = &ballast->fills[i];
        struct svg_point corners[4];
        const struct axis *axis = &fill->axis;
        part_bar(corners, view, axis_x(axis, fill->depth), axis_z(axis, fill->depth), -axis->u_x,
                 -axis->u_z, fill->slug, fill->drill);
        if (fill->slug > 0.0 && !axis_level(axis)) svg_hatch(svg, corners, 4, 45.0, 0.9);
    }
    svg_group_end(svg);
}

static void lip_from_above(struct svg *svg, const struct view *view, const struct plate *plate) {
    enum { POINTS = 33 };
    static const double quarter = 3.14159265358979323846 / 2.0;
    struct svg_point edge[2 * POINTS];
    for (int i = 0; i < POINTS; i++) {
        double s = plate->extent * sin(quarter * i / (POINTS - 1)); /* closer at the round end */
        double x = plate->mouth_x + s * plate->u_x, half = plate_width(plate, s) / 2.0;
        edge[i] = view_point(view, x, half);
        edge[2 * POINTS - 1 - i] = view_point(view, x, -half);
    }
    svg_polygon(svg, edge, 2 * POINTS);
}

static void plan_lines(struct svg *svg, const struct view *view, const struct drawing *drawing,
                       const struct pens *pens) {
    const struct results *r = drawing->results;
    struct part_hole holes[PART_HOLES];
    int count = part_holes(drawing, holes);
    svg_group(svg, &pens->outline);
    part_plan_outline(svg, view, drawing->outline);
    svg_group_end(svg);
    svg_group(svg, &pens->detail);
    if (r->plug.plate.given) lip_from_above(svg, view, &r->plug.plate);
    for (int i = 0; i < count; i++) {
        struct svg_point centre = view_point(view, holes[i].axis.x, 0.0);
        if (holes[i].axis.u_z == 0.0)
            part_hole_from_above(svg, view, &holes[i]);
        else
            svg_circle(svg, centre.x, centre.y, view->scale * holes[i].drill / 2.0);
    }
    svg_group_end(svg);
}

/* --- both ------------------------------------------------------------------------------------ */

struct pair {
    struct drawing old, new;
};

static struct drawing drawing_of(struct arena *arena, const struct results *r,
                                 enum unit_system units) {
    return (struct drawing){.arena = arena,
                            .recipe = r->plug.recipe,
                            .results = r,
                            .outline = &r->plug.outline,
                            .units = units};
}

static void legend(struct svg *svg, const char *title, double scale) {
    struct svg_font right = font_at(&font_small, SVG_END);
    svg_text(svg, 0.0, 3.4, &font_bold, title);
    svg_group(svg, &new_pens.outline);
    svg_line(svg, 78.0, 2.4, 90.0, 2.4);
    svg_group_end(svg);
    svg_text(svg, 92.0, 3.4, &font_plain, "new");
    svg_group(svg, &old_pens.outline);
    svg_line(svg, 106.0, 2.4, 118.0, 2.4);
    svg_group_end(svg);
    svg_text(svg, 120.0, 3.4, &font_plain, "old");
    svg_text(svg, page_width, 3.4, &right,
             arena_printf(svg->out.arena, "scale %s", part_scale_name(scale)));
}

static void datum(struct svg *svg, const struct view *view, double length) {
    struct svg_point nose = view_point(view, -0.005, 0.0),
                     tail = view_point(view, length + 0.005, 0.0);
    svg_group(svg, &pen_centre);
    svg_line(svg, nose.x, nose.y, tail.x, tail.y);
    svg_group_end(svg);
}

static struct extent common_extent(const struct pair *p) {
    struct extent a = part_extent(&p->old), b = part_extent(&p->new);
    extent_add(&a, b.left, b.bottom);
    extent_add(&a, b.right, b.top);
    return a;
}

static double half_width(const struct drawing *drawing) {
    const struct plate *plate = &drawing->results->plug.plate;
    return fmax(drawing->results->plug.bare.width, plate->given ? plate->width : 0.0) / 2.0;
}

static void draw_views(struct pair *p) {
    struct extent e = common_extent(p);
    double half = fmax(half_width(&p->old), half_width(&p->new)), wide = e.right - e.left;
    double scale =
        part_scale(fmin(page_width / wide, fmin(80.0 / (e.top - e.bottom), 70.0 / (2.0 * half))));
    double left = (page_width - scale * wide) / 2.0 - scale * e.left;
    struct view side = {left, 9.0 + scale * e.top, scale, 0.0};
    double plan_top = view_y(&side, e.bottom) + 10.0;
    struct view plan = {left, plan_top + scale * half, scale, 0.0};
    double length = fmax(p->old.outline->length, p->new.outline->length);

    struct svg svg;
    part_begin(&p->new, &svg, FIGURE_SIDE, "overlay.svg",
               "Side and top view, the old plug dashed under the new one in full lines", page_width,
               plan.y + scale * half + 3.0, 0);
    legend(&svg, "Side view", scale);
    svg_group(&svg, &wood);
    part_side_outline(&svg, &side, p->new.outline);
    part_plan_outline(&svg, &plan, p->new.outline);
    svg_group_end(&svg);
    side_lines(&svg, &side, &p->old, &old_pens);
    bored_lines(&svg, &side, &p->old, &old_pens);
    load_hatches(&svg, &side, &p->new);
    bored_lines(&svg, &side, &p->new, &new_pens);
    side_lines(&svg, &side, &p->new, &new_pens);
    datum(&svg, &side, length);
    svg_text(&svg, 0.0, plan_top - 3.0, &font_bold, "Top view");
    plan_lines(&svg, &plan, &p->old, &old_pens);
    plan_lines(&svg, &plan, &p->new, &new_pens);
    datum(&svg, &plan, length);
    part_end(&p->new, &svg);
}

/* --- at rest --------------------------------------------------------------------------------- */

static const double air = 10.0, deep = 8.0; /* mm of paper */

/* Height of the surface above the middle of the datum line, in metres; a plug that does not float
 * is drawn with its top a finger's breadth under. */
static double surface_over(const struct drawing *drawing) {
    const struct rest *rest = &drawing->results->finished.rest;
    double middle = drawing->outline->length / 2.0 * sin(rest->attitude);
    if (rest->afloat) return rest->level - middle;
    return drawing->results->plug.bare.top +
           drawing->outline->length / 2.0 * fabs(sin(rest->attitude)) + 0.01;
}

/* The view with its surface at y = 0 and the middle of the datum line at x = 0. */
static struct view resting_view(const struct drawing *drawing, double scale) {
    double turn = drawing->results->finished.rest.attitude, half = drawing->outline->length / 2.0;
    struct view view = {.scale = scale, .turn = turn};
    struct svg_point middle = view_point(&view, half, 0.0);
    view.x = -middle.x;
    view.y = scale * surface_over(drawing) - middle.y;
    return view;
}

/* What a resting plug takes up on paper at scale 1, up positive. */
static void add_resting(struct extent *extent, const struct drawing *drawing) {
    enum { SAMPLES = 60 };
    struct view view = resting_view(drawing, 1.0);
    const struct plate *plate = &drawing->results->plug.plate;
    for (int i = 0; i <= SAMPLES; i++) {
        double x = drawing->outline->length * i / SAMPLES;
        struct svg_point back = view_point(&view, x, curve_at(&drawing->outline->back, x));
        struct svg_point belly = view_point(&view, x, -curve_at(&drawing->outline->belly, x));
        extent_add(extent, back.x, -back.y);
        extent_add(extent, belly.x, -belly.y);
    }
    if (!plate->given) return;
    struct svg_point end = view_point(&view, plate->mouth_x + plate->u_x * plate->extent,
                                      plate->mouth_z + plate->u_z * plate->extent);
    extent_add(extent, end.x, -end.y);
}

static void gravity(struct svg *svg, const struct view *view, const struct drawing *drawing,
                    const struct pens *pens) {
    const struct burden *burden = &drawing->results->finished.burden;
    struct svg_point at = view_point(view, burden->x, burden->z);
    svg_group(svg, &pens->detail);
    part_cross(svg, at, 1.8);
    svg_group_end(svg);
    struct svg_style ring = pens->detail;
    ring.dash = NULL;
    svg_group(svg, &ring);
    svg_circle(svg, at.x, at.y, 1.2);
    svg_group_end(svg);
}

/* "7.0 degrees nose down, reserve 13 %". */
static const char *how(const struct drawing *drawing) {
    const struct rest *rest = &drawing->results->finished.rest;
    return arena_printf(drawing->arena, "%s, reserve %s",
                        measure_attitude(drawing->arena, rest->attitude),
                        measure_share(drawing->arena, rest->reserve));
}

static void draw_resting(struct pair *p) {
    struct extent e = {-0.01, 0.01, 0.0, 0.0};
    add_resting(&e, &p->old);
    add_resting(&e, &p->new);
    double wide = e.right - e.left, high = e.top - e.bottom;
    double scale = part_scale(fmin((page_width - 10.0) / wide, 90.0 / high));
    double surface = air + scale * e.top, bottom = surface - scale * e.bottom + deep;
    double middle = (page_width - scale * wide) / 2.0 - scale * e.left;
    struct view old = resting_view(&p->old, scale), new = resting_view(&p->new, scale);
    old.x += middle, new.x += middle;
    old.y += surface, new.y += surface;

    struct svg svg;
    part_begin(&p->new, &svg, FIGURE_GLANCE, "rest.svg",
               "At rest in the same water, the old plug dashed under the new one in full lines",
               page_width, bottom + 7.0, 0);
    svg_group(&svg, &pen_water);
    svg_rect(&svg, 0.0, surface, page_width, bottom - surface, 0.0);
    svg_group_end(&svg);
    legend(&svg, "At rest, finished", scale);
    side_lines(&svg, &old, &p->old, &old_pens);
    side_lines(&svg, &new, &p->new, &new_pens);
    gravity(&svg, &old, &p->old, &old_pens);
    gravity(&svg, &new, &p->new, &new_pens);
    svg_group(&svg, &pen_surface);
    svg_line(&svg, 0.0, surface, page_width, surface);
    svg_group_end(&svg);
    svg_text(&svg, 0.0, bottom + 4.5, &font_plain,
             arena_printf(p->new.arena, "new: %s; old: %s", how(&p->new), how(&p->old)));
    struct svg_font right = font_at(&font_small, SVG_END);
    svg_text(&svg, page_width, bottom + 4.5, &right, "ringed: centre of gravity");
    part_end(&p->new, &svg);
}

struct figure_list drawing_difference(struct arena *arena, const struct results *old,
                                      const struct results *new) {
    enum unit_system units = new->plug.recipe->shop->units;
    struct pair p = {drawing_of(arena, old, units), drawing_of(arena, new, units)};
    draw_views(&p);
    draw_resting(&p);
    return p.new.list;
}
