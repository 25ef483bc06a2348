/* The plug after each layer of colour.
 *
 * The side is divided into cells (head, middle, tail by back, flank, belly, then bars and spots),
 * and each cell's colour is that of all layers on it so far, laid over each other per channel, with
 * u the colour below and c the layer's own, both 0 to 1:
 *     opaque       c
 *     transparent  u ((1 - k) + k c), k = 1 - 0.4^coats: a glaze, deeper with each coat
 *     fluorescent  0.45 u c + 0.55 c: a glaze that gives light back
 *     pearl        1 - (1 - u)(1 - 0.35 c): a bloom of light over what is below
 *     metallic     0.7 c + 0.3 u: flakes that hide most of it
 * This shows the order of layers and roughly their look; no more is claimed.  A hatching and a
 * number tell the newest layer in black and white too, each kind with its own direction.
 */
#include "emit/drawing/inner.h"

#include <math.h>
#include <string.h>

enum {
    STEPS = 25, /* along the plug; all borders between cells stand on one */
    ALONG = 3,
    ACROSS = 3,
    BARS = 5,
    FIRST_BAR = 7, /* its steps: from 7 to 8, the next from 10 to 11, … */
    BAR_STEP = 3,
    FIRST_SPOT = 9,
    CELL_POINTS = 2 * (STEPS + 1),
    ROUND_POINTS = 25,
};
enum pattern { PLAIN, BAR, SPOT, PATTERNS };

/* Borders of the cells, as steps of the length and shares of half the height (back, flank and belly
 * have 30, 40 and 30 % of the girth of an oval; cos(0.3 pi) = 0.588). */
static const int along[ALONG + 1] = {0, 5, 22, STEPS};
static const double across[ACROSS + 1] = {1.0, 0.588, -0.588, -1.0};
static const double spot_up = 0.2, spot_size = 0.016;

struct rgb {
    double channel[3];
};

struct cell {
    int u, v; /* along, across */
    enum pattern pattern;
};

static const struct rgb bare_wood = {{0.90, 0.83, 0.70}};
static const struct rgb unnamed = {{0.62, 0.62, 0.62}}; /* a layer whose hex is not given */

/* --- colours -------------------------------------------------------------------------------- */

static struct rgb own_colour(const struct layer *layer) {
    if (!layer->hex_given) return unnamed;
    struct rgb own;
    for (int i = 0; i < 3; i++) own.channel[i] = (layer->hex >> (16 - 8 * i) & 0xff) / 255.0;
    return own;
}

static double laid_over(enum layer_kind kind, int coats, double u, double c) {
    double glaze = 1.0 - pow(0.4, coats);
    switch (kind) {
    case LAYER_OPAQUE:
        return c;
    case LAYER_TRANSPARENT:
        return u * (1.0 - glaze + glaze * c);
    case LAYER_FLUORESCENT:
        return 0.45 * u * c + 0.55 * c;
    case LAYER_PEARL:
        return 1.0 - (1.0 - u) * (1.0 - 0.35 * c);
    case LAYER_METALLIC:
        return 0.7 * c + 0.3 * u;
    }
    return c;
}

static bool covers(enum layer_where where, struct cell cell) {
    switch (where) {
    case WHERE_WHOLE:
        return true;
    case WHERE_BACK:
        return cell.v == 0;
    case WHERE_FLANKS:
        return cell.v == 1;
    case WHERE_BELLY:
        return cell.v == 2;
    case WHERE_HEAD:
        return cell.u == 0;
    case WHERE_TAIL:
        return cell.u == 2;
    case WHERE_BARS:
        return cell.pattern == BAR;
    case WHERE_SPOTS:
        return cell.pattern == SPOT;
    }
    return false;
}

/* Colour of a cell after layer `last`, and which layer lies on top (-1: none). */
static struct rgb colour_of(const struct paint *paint, int last, struct cell cell, int *top) {
    struct rgb colour = bare_wood;
    *top = -1;
    for (int i = 0; i <= last; i++) {
        const struct layer *layer = &paint->layers[i];
        if (!covers(layer->where, cell)) continue;
        struct rgb own = own_colour(layer);
        for (int k = 0; k < 3; k++) {
            colour.channel[k] =
                laid_over(layer->kind, layer->coats, colour.channel[k], own.channel[k]);
        }
        *top = i;
    }
    return colour;
}

static const char *hex_of(struct arena *arena, struct rgb colour) {
    int part[3];
    for (int i = 0; i < 3; i++) {
        part[i] = (int)lround(255.0 * fmax(0.0, fmin(1.0, colour.channel[i])));
    }
    return arena_printf(arena, "#%02x%02x%02x", (unsigned)part[0], (unsigned)part[1],
                        (unsigned)part[2]);
}

static bool is_dark(struct rgb colour) {
    return 0.299 * colour.channel[0] + 0.587 * colour.channel[1] + 0.114 * colour.channel[2] < 0.45;
}

/* --- shapes --------------------------------------------------------------------------------- */

/* The side on paper: every step along it with its section, so that each is computed once. */
struct skin {
    struct view view; /* not turned */
    double length;
    struct section at[STEPS + 1];
};

static struct skin skin_of(const struct drawing *drawing, const struct view *view) {
    struct skin skin = {.view = *view, .length = drawing->outline->length};
    for (int i = 0; i <= STEPS; i++) {
        skin.at[i] = section_at(drawing->outline, skin.length * i / STEPS, 0.0);
    }
    return skin;
}

/* A point of the side: `height` is a share of half the height there. */
static struct svg_point on_skin(const struct skin *skin, int step, double height) {
    const struct section *section = &skin->at[step];
    return (struct svg_point){view_x(&skin->view, skin->length * step / STEPS),
                              view_y(&skin->view, section->centre + height * section->half_height)};
}

/* A patch between two steps and two shares of the half-height.  Returns the number of points. */
static int patch(struct svg_point points[CELL_POINTS], const struct skin *skin, int from, int to,
                 double high, double low) {
    int count = 2 * (to - from + 1);
    for (int i = from; i <= to; i++) {
        points[i - from] = on_skin(skin, i, high);
        points[count - 1 - (i - from)] = on_skin(skin, i, low);
    }
    return count;
}

static int bar_patch(struct svg_point points[CELL_POINTS], const struct skin *skin, int bar,
                     double high, double low) {
    int from = FIRST_BAR + bar * BAR_STEP;
    return patch(points, skin, from, from + 1, high, low);
}

static int spot_patch(struct svg_point points[ROUND_POINTS], const struct skin *skin, int spot) {
    struct svg_point centre =
        on_skin(skin, FIRST_SPOT + spot * BAR_STEP, spot % 2 ? -spot_up : spot_up);
    double size = skin->length * spot_size * skin->view.scale;
    for (int i = 0; i < ROUND_POINTS; i++) {
        double angle = 2.0 * 3.14159265358979323846 * i / ROUND_POINTS;
        points[i].x = centre.x + size * cos(angle);
        points[i].y = centre.y + size * sin(angle);
    }
    return ROUND_POINTS;
}

/* Calls `shape` for every piece of a cell, each a polygon. */
typedef void shape_function(struct svg *svg, const struct svg_point *points, int count,
                            const void *how);

static void each_piece(const struct skin *skin, struct svg *svg, struct cell cell,
                       shape_function *shape, const void *how) {
    struct svg_point points[CELL_POINTS];
    double high = across[cell.v], low = across[cell.v + 1];
    if (cell.pattern == PLAIN) {
        shape(svg, points, patch(points, skin, along[cell.u], along[cell.u + 1], high, low), how);
        return;
    }
    for (int i = 0; i < BARS - (cell.pattern == SPOT); i++) {
        int count = cell.pattern == BAR ? bar_patch(points, skin, i, high, low)
                                        : spot_patch(points, skin, i);
        shape(svg, points, count, how);
    }
}

/* Plain cells first, then bars over back and flanks, then spots on the flanks. */
static int all_cells(struct cell cells[16]) {
    int n = 0;
    for (int v = 0; v < ACROSS; v++) {
        for (int u = 0; u < ALONG; u++) cells[n++] = (struct cell){u, v, PLAIN};
    }
    cells[n++] = (struct cell){1, 0, BAR};
    cells[n++] = (struct cell){1, 1, BAR};
    cells[n++] = (struct cell){1, 1, SPOT};
    return n;
}

static bool pattern_used(const struct paint *paint, int last, enum pattern pattern) {
    for (int i = 0; i <= last; i++) {
        if (pattern == BAR && paint->layers[i].where == WHERE_BARS) return true;
        if (pattern == SPOT && paint->layers[i].where == WHERE_SPOTS) return true;
    }
    return pattern == PLAIN;
}

static void fill_shape(struct svg *svg, const struct svg_point *points, int count,
                       const void *how) {
    (void)how;
    svg_polygon(svg, points, count);
}

/* Opaque one way, transparent the other, fluorescent upright, pearl level, metallic crossed. */
static void hatch_shape(struct svg *svg, const struct svg_point *points, int count,
                        const void *how) {
    const struct layer *layer = how;
    static const double turn[] = {45.0, -45.0, 90.0, 0.0, 45.0};
    svg_hatch(svg, points, count, turn[layer->kind], 2.2);
    if (layer->kind == LAYER_METALLIC) svg_hatch(svg, points, count, -45.0, 2.2);
}

static struct svg_style hatch_pen(bool dark) {
    return (struct svg_style){.stroke = dark ? "#fff" : "#000", .width = 0.14, .fade = 0.55};
}

/* The edge of what is masked for a layer. */
static void mask_edge(const struct skin *skin, struct svg *svg, enum layer_where where) {
    struct svg_point points[CELL_POINTS];
    int count = 0;
    svg_group(svg, &(struct svg_style){.stroke = "#000", .width = 0.3, .dash = "1.6 0.9"});
    switch (where) {
    case WHERE_WHOLE:
        break;
    case WHERE_BACK:
        count = patch(points, skin, 0, STEPS, across[0], across[1]);
        break;
    case WHERE_FLANKS:
        count = patch(points, skin, 0, STEPS, across[1], across[2]);
        break;
    case WHERE_BELLY:
        count = patch(points, skin, 0, STEPS, across[2], across[3]);
        break;
    case WHERE_HEAD:
        count = patch(points, skin, along[0], along[1], 1.0, -1.0);
        break;
    case WHERE_TAIL:
        count = patch(points, skin, along[2], along[3], 1.0, -1.0);
        break;
    case WHERE_BARS:
        for (int i = 0; i < BARS; i++) {
            svg_polygon(svg, points, bar_patch(points, skin, i, across[0], across[2]));
        }
        break;
    case WHERE_SPOTS:
        each_piece(skin, svg, (struct cell){1, 1, SPOT}, fill_shape, NULL);
        break;
    }
    svg_polygon(svg, points, count);
    svg_group_end(svg);
}

/* --- the painted plug ----------------------------------------------------------------------- */

static void colours_up_to(struct drawing *drawing, struct svg *svg, const struct skin *skin,
                          int last) {
    const struct paint *paint = drawing->recipe->finish->paint;
    struct cell cells[16];
    int count = all_cells(cells), top;
    for (int i = 0; i < count; i++) {
        if (!pattern_used(paint, last, cells[i].pattern)) continue;
        struct rgb colour = colour_of(paint, last, cells[i], &top);
        const char *hex = hex_of(drawing->arena, colour);
        svg_group(svg, &(struct svg_style){.fill = hex, .stroke = hex, .width = 0.12});
        each_piece(skin, svg, cells[i], fill_shape, NULL);
        svg_group_end(svg);
    }
}

void part_paint(struct drawing *drawing, struct svg *svg, const struct view *view) {
    const struct finish *finish = drawing->recipe->finish;
    if (!finish || !finish->paint) return;
    struct skin skin = skin_of(drawing, view);
    colours_up_to(drawing, svg, &skin, finish->paint->layer_count - 1);
}

static void newest_hatched(struct drawing *drawing, struct svg *svg, const struct skin *skin,
                           int last) {
    const struct paint *paint = drawing->recipe->finish->paint;
    struct cell cells[16];
    int count = all_cells(cells), top;
    for (int i = 0; i < count; i++) {
        if (!pattern_used(paint, last, cells[i].pattern)) continue;
        struct rgb colour = colour_of(paint, last, cells[i], &top);
        if (top != last) continue;
        struct svg_style pen = hatch_pen(is_dark(colour));
        svg_group(svg, &pen);
        each_piece(skin, svg, cells[i], hatch_shape, &paint->layers[last]);
        svg_group_end(svg);
    }
}

static void painted(struct drawing *drawing, struct svg *svg, const struct skin *skin, int last) {
    colours_up_to(drawing, svg, skin, last);
    newest_hatched(drawing, svg, skin, last);
    mask_edge(skin, svg, drawing->recipe->finish->paint->layers[last].where);
    svg_group(svg, &pen_outline);
    part_side_outline(svg, &skin->view, drawing->outline);
    svg_group_end(svg);
}

/* --- callouts ------------------------------------------------------------------------------- */

static void badge(struct drawing *drawing, struct svg *svg, double x, double y, int layer,
                  bool newest) {
    static const struct svg_style white = {.fill = "#fff", .stroke = "#000", .width = 0.25};
    static const struct svg_style black = {.fill = "#000", .stroke = "#000", .width = 0.25};
    svg_group(svg, newest ? &black : &white);
    svg_circle(svg, x, y, 2.4);
    svg_group_end(svg);
    struct svg_font font = {
        .size = 2.8, .anchor = SVG_MIDDLE, .bold = newest, .fill = newest ? "#fff" : "#000"};
    svg_text(svg, x, y + 1.0, &font, arena_printf(drawing->arena, "%d", layer + 1));
}

/* A point well inside a cell, clear of bars and spots. */
static struct svg_point anchor_of(const struct skin *skin, struct cell cell) {
    static const int step[ACROSS][ALONG] = {{4, 12, 23}, {2, 15, 24}, {4, 14, 23}};
    static const double height[ACROSS] = {0.79, -0.32, -0.79};
    if (cell.pattern == BAR) {
        int left_edge = FIRST_BAR + (cell.v == 0 ? 1 : 3) * BAR_STEP;
        double up = cell.v == 0 ? 0.79 : 0.0;
        struct svg_point left = on_skin(skin, left_edge, up),
                         right = on_skin(skin, left_edge + 1, up);
        return (struct svg_point){(left.x + right.x) / 2.0, (left.y + right.y) / 2.0};
    }
    if (cell.pattern == SPOT) return on_skin(skin, FIRST_SPOT, spot_up);
    return on_skin(skin, step[cell.v][cell.u], height[cell.v] * (cell.u == 1 ? 1.0 : 0.9));
}

struct callout {
    struct svg_point at;
    int layer;
};

static void callout_row(struct drawing *drawing, struct svg *svg, struct callout *callouts,
                        int count, double y, double right, int newest) {
    double places[16];
    for (int i = 1; i < count; i++) {
        for (int k = i; k > 0 && callouts[k].at.x < callouts[k - 1].at.x; k--) {
            struct callout swapped = callouts[k];
            callouts[k] = callouts[k - 1];
            callouts[k - 1] = swapped;
        }
    }
    for (int i = 0; i < count; i++) places[i] = callouts[i].at.x;
    part_spread(places, count, 6.0, 3.0, right);
    for (int i = 0; i < count; i++) {
        svg_group(svg, &(struct svg_style){.stroke = "#fff", .width = 0.6});
        svg_line(svg, places[i], y, callouts[i].at.x, callouts[i].at.y);
        svg_group_end(svg);
        svg_group(svg, &(struct svg_style){.fill = "#000", .stroke = "#000", .width = 0.2});
        svg_line(svg, places[i], y, callouts[i].at.x, callouts[i].at.y);
        svg_circle(svg, callouts[i].at.x, callouts[i].at.y, 0.5);
        svg_group_end(svg);
        badge(drawing, svg, places[i], y, callouts[i].layer, callouts[i].layer == newest);
    }
}

/* Every layer that is still seen somewhere, called out where it covers most; backs and bars above
 * the plug, all else below. */
static void callouts(struct drawing *drawing, struct svg *svg, const struct skin *skin, int last,
                     double above, double below, double right) {
    static const int order[] = {1, 4, 7, 9, 11, 10, 0, 3, 6, 2, 5, 8}; /* cells, large ones first */
    const struct paint *paint = drawing->recipe->finish->paint;
    struct cell cells[16];
    struct callout up[16], down[16];
    bool told[MAX_LAYERS] = {false};
    int ups = 0, downs = 0;
    all_cells(cells);
    for (size_t i = 0; i < sizeof order / sizeof *order; i++) {
        struct cell cell = cells[order[i]];
        int top;
        if (!pattern_used(paint, last, cell.pattern)) continue;
        (void)colour_of(paint, last, cell, &top);
        if (top < 0 || told[top]) continue;
        told[top] = true;
        struct callout callout = {anchor_of(skin, cell), top};
        if (cell.v == 0)
            up[ups++] = callout;
        else
            down[downs++] = callout;
    }
    callout_row(drawing, svg, up, ups, above, right, last);
    callout_row(drawing, svg, down, downs, below, right, last);
}

/* --- one figure a layer --------------------------------------------------------------------- */

static void draw_layer(struct drawing *drawing, int index) {
    static const double width = 57.0, side = 4.0, tallest = 24.0;
    const struct solid *bare = &drawing->results->plug.bare;
    const struct layer *layer = &drawing->recipe->finish->paint->layers[index];
    double length = drawing->outline->length;
    double scale = fmin((width - 2.0 * side) / length, tallest / bare->height);
    double above = 2.6, top = above + 4.6, below = top + scale * bare->height + 4.6;
    struct view view = {side, top + scale * bare->top, scale, 0.0};

    struct svg svg;
    const char *file = arena_printf(drawing->arena, "colour-%d.svg", index + 1);
    const char *title = arena_printf(drawing->arena, "The plug after layer %d of colour, %s",
                                     index + 1, part_text(drawing, layer->colour));
    part_begin(drawing, &svg, FIGURE_COLOUR, file, title, width, below + 2.8, index);
    struct skin skin = skin_of(drawing, &view);
    painted(drawing, &svg, &skin, index);
    if (drawing->recipe->eyes) {
        const struct eyes *eyes = drawing->recipe->eyes;
        struct svg_point eye = view_point(&view, position_in(eyes->at, length), eyes->up);
        svg_group(&svg, &pen_hidden);
        svg_circle(&svg, eye.x, eye.y, scale * eyes->size / 2.0);
        svg_group_end(&svg);
    }
    callouts(drawing, &svg, &skin, index, above, below, view.x + scale * length);
    part_end(drawing, &svg);
}

void draw_colours(struct drawing *drawing) {
    const struct finish *finish = drawing->recipe->finish;
    if (!finish || !finish->paint) return;
    for (int i = 0; i < finish->paint->layer_count; i++) draw_layer(drawing, i);
}

/* --- stencils ------------------------------------------------------------------------------- */

/* True to size and seen from the side; what is bold is cut out. */
struct stencil {
    enum pattern pattern;
    const char *name;
    double from_nose; /* how much of the plug it shows, m */
};

static const double stencil_rim = 7.0, stencil_head = 8.0, stencil_widest = 182.0;

static void stencil_shapes(struct drawing *drawing, struct svg *svg, const struct skin *skin,
                           enum pattern pattern) {
    const struct eyes *eyes = drawing->recipe->eyes;
    struct svg_point points[CELL_POINTS];
    for (int i = 0; pattern == BAR && i < BARS; i++)
        svg_polygon(svg, points, bar_patch(points, skin, i, across[0], across[2]));
    if (pattern == SPOT) each_piece(skin, svg, (struct cell){1, 1, SPOT}, fill_shape, NULL);
    if (!eyes) return;
    struct svg_point eye = view_point(&skin->view, position_in(eyes->at, skin->length), eyes->up);
    svg_circle(svg, eye.x, eye.y, 1e3 * eyes->size / 2.0);
    part_cross(svg, eye, 1.5);
}

static void draw_stencil(struct drawing *drawing, const struct stencil *stencil, int index) {
    const struct solid *bare = &drawing->results->plug.bare;
    double width = 1e3 * stencil->from_nose + 2.0 * stencil_rim;
    double height = stencil_head + 1e3 * bare->height + 2.0 * stencil_rim;
    bool turned = width > stencil_widest;
    struct view view = {stencil_rim, stencil_head + stencil_rim + 1e3 * bare->top, 1e3, 0.0};
    struct skin skin = skin_of(drawing, &view);
    const char *file = arena_printf(drawing->arena, "stencil-%d.svg", index + 1);
    const char *title = arena_printf(drawing->arena, "Stencil in true size: %s", stencil->name);
    double paper = fmax(width, 96.0); /* its words fit too */
    struct svg svg;
    part_begin(drawing, &svg, FIGURE_STENCIL, file, title, turned ? height : paper,
               turned ? paper : height, index);
    if (turned) svg_group_moved(&svg, height, 0.0, 90.0);
    svg_text(&svg, 0.0, 3.4, &font_bold,
             arena_printf(drawing->arena, "Stencil, %s; turned over for the right", stencil->name));
    svg_group_clipped(&svg, 0.0, stencil_head, width, height - stencil_head);
    svg_group(&svg, &pen_thin);
    part_side_outline(&svg, &view, drawing->outline);
    svg_line(&svg, 0.0, view.y, width, view.y);
    svg_group_end(&svg);
    svg_group(&svg, &pen_outline);
    stencil_shapes(drawing, &svg, &skin, stencil->pattern);
    svg_group_end(&svg);
    svg_group_end(&svg);
    svg_group(&svg, &pen_detail);
    svg_rect(&svg, 0.15, stencil_head, width - 0.3, height - stencil_head - 0.15, 0.0);
    svg_group_end(&svg);
    if (turned) svg_group_end(&svg);
    part_end(drawing, &svg);
}

void draw_stencils(struct drawing *drawing) {
    static const char *const names[PATTERNS] = {"the eyes", "bars", "spots"};
    const struct finish *finish = drawing->recipe->finish;
    const struct paint *paint = finish ? finish->paint : NULL;
    const struct eyes *eyes = drawing->recipe->eyes;
    double length = drawing->outline->length;
    int count = 0;
    for (int pattern = BAR; paint && pattern < PATTERNS; pattern++) {
        if (!pattern_used(paint, paint->layer_count - 1, (enum pattern)pattern)) continue;
        struct stencil stencil = {(enum pattern)pattern, names[pattern], length};
        draw_stencil(drawing, &stencil, count++);
    }
    if (count || !eyes) return;
    double behind = position_in(eyes->at, length) + eyes->size / 2.0 + 0.012;
    struct stencil stencil = {PLAIN, names[PLAIN], fmin(length, behind)};
    draw_stencil(drawing, &stencil, 0);
}
