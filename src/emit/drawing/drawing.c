#include "emit/drawing/drawing.h"

#include "emit/drawing/inner.h"

struct figure_list drawing_all(struct arena *arena, const struct recipe *recipe,
                               const struct results *results) {
    struct drawing drawing = {.arena = arena,
                              .recipe = recipe,
                              .results = results,
                              .outline = &results->plug.outline,
                              .units = recipe->shop->units};
    draw_plug(&drawing);
    draw_glance(&drawing);
    draw_side(&drawing);
    draw_sections(&drawing);
    draw_templates(&drawing);
    draw_lip(&drawing);
    draw_bores(&drawing);
    draw_float_test(&drawing);
    draw_righting(&drawing);
    draw_colours(&drawing);
    draw_timeline(&drawing);
    return drawing.list;
}
