/* For a laser or a cutter: what is cut and nothing else, in one pen, without fill and words.  Side,
 * top and lip stand clear of each other; the middle lines and holes stay with the templates.
 */
#include "emit/drawing/drawing.h"
#include "emit/drawing/inner.h"

#include <math.h>

static const double gap = 6.0;

struct buf drawing_outlines(struct arena *arena, const struct recipe *recipe,
                            const struct results *results) {
    struct drawing drawing = {.arena = arena,
                              .recipe = recipe,
                              .results = results,
                              .outline = &results->plug.outline,
                              .units = recipe->shop->units};
    const struct solid *bare = &results->plug.bare;
    double length = 1e3 * drawing.outline->length, high = 1e3 * bare->height,
           wide = 1e3 * bare->width;
    double below = gap + high + gap, lip_top = below + wide + gap;
    double width = length + 2.0 * gap, height = lip_top;
    if (recipe->lip) {
        double across = 1e3 * fmax(recipe->lip->width, results->plug.plate.tip);
        width = fmax(width, across + 2.0 * gap);
        height += 1e3 * recipe->lip->length + gap;
    }
    struct svg svg;
    svg_begin_clear(&svg, arena, "outlines", "Outlines to cut, in true size", width, height);
    svg_group(&svg, &(struct svg_style){.stroke = "#f00", .width = 0.1});
    part_side_outline(&svg, &(struct view){gap, gap + 1e3 * bare->top, 1e3, 0.0}, drawing.outline);
    part_plan_outline(&svg, &(struct view){gap, below + wide / 2.0, 1e3, 0.0}, drawing.outline);
    if (recipe->lip) part_lip_outline(&drawing, &svg, gap, lip_top);
    svg_group_end(&svg);
    svg_end(&svg);
    return svg.out;
}
