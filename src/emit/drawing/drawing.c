#include "emit/drawing/drawing.h"

#include "emit/drawing/inner.h"

struct figure_list drawing_all(struct arena *arena, const struct recipe *recipe,
                               const struct results *results) {
    struct drawing drawing = {.arena = arena,
                              .recipe = recipe,
                              .results = results,
                              .outline = &results->plug.outline,
                              .units = recipe->shop->units};
#define DRAWING(kind, draw, doc) draw(&drawing);
#include "emit/drawing/drawing.def"
    return drawing.list;
}
