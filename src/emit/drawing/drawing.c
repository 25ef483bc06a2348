#include "emit/drawing/drawing.h"

#include "emit/drawing/inner.h"

struct figure_list drawing_all(struct arena *arena, const struct recipe *recipe,
                               const struct results *results) {
    struct draft draft = {.arena = arena,
                          .recipe = recipe,
                          .results = results,
                          .outline = &results->plug.outline,
                          .units = recipe->shop->units};
    draw_plug(&draft);
    draw_glance(&draft);
    draw_side(&draft);
    draw_sections(&draft);
    draw_templates(&draft);
    draw_lip(&draft);
    draw_bores(&draft);
    draw_float_test(&draft);
    draw_righting(&draft);
    draw_colours(&draft);
    draw_timeline(&draft);
    return draft.list;
}
