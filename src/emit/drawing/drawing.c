#include "emit/drawing/drawing.h"

#include "emit/drawing/inner.h"

static struct drawing drawing_begin(struct arena *arena, const struct recipe *recipe,
                                    const struct results *results) {
    return (struct drawing){.arena = arena,
                            .recipe = recipe,
                            .results = results,
                            .outline = &results->plug.outline,
                            .units = recipe->shop->units};
}

struct figure_list drawing_all(struct arena *arena, const struct recipe *recipe,
                               const struct results *results) {
    struct drawing drawing = drawing_begin(arena, recipe, results);
#define DRAWING(kind, draw, doc) draw(&drawing);
#include "emit/drawing/drawing.def"
    return drawing.list;
}

struct figure_list drawing_of_kind(struct arena *arena, const struct recipe *recipe,
                                   const struct results *results, enum figure_kind wanted) {
    struct drawing drawing = drawing_begin(arena, recipe, results);
#define DRAWING(kind, draw, doc) \
    if (wanted == FIGURE_##kind) draw(&drawing);
#include "emit/drawing/drawing.def"
    return drawing.list;
}
