/* A plan of several runs as Markdown, as a drawing with a lane for every recipe, and as JSON. */
#ifndef PLUGWRIGHT_EMIT_PLAN_H
#define PLUGWRIGHT_EMIT_PLAN_H

#include "base/buf.h"
#include "compute/shopping.h"
#include "compute/work/plan.h"

struct plan_view {
    struct arena *arena;
    const struct plan *plan;
    const struct recipe *const *recipes;
    const char *const *sheets; /* what the order of each is called: "grebe" */
    int count;
    const struct shopping *shopping;
};

void plan_markdown(struct buf *out, const struct plan_view *view);
struct buf plan_timeline(const struct plan_view *view);
void plan_json(struct buf *out, const struct plan_view *view);

#endif
