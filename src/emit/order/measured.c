/* What the bench told, beside what was computed, and what that means for loads and plug. */
#include "emit/order/inner.h"

#include <math.h>
#include <string.h>

bool order_corrected(const struct order *order) {
    const struct correction *c = &order->results->correction;
    return c->told && c->solvable && c->fits && !c->closed;
}

typedef const char *(*shown)(const struct order *order, double value);

static const char *difference(const struct order *order, const struct bench_reading *reading,
                              shown show) {
    double more = reading->read - reading->predicted;
    return arena_printf(order->arena, "%s %s", show(order, fabs(more)), more < 0 ? "less" : "more");
}

static void measured_row(struct order *order, const char *what, const struct bench_reading *reading,
                         shown show) {
    if (!reading->given) return;
    md_cell(&order->md, "%s", what);
    md_cell(&order->md, "%s", show(order, reading->predicted));
    md_cell(&order->md, "%s", show(order, reading->read));
    md_cell(&order->md, "%s", difference(order, reading, show));
}

static const char *show_angle(const struct order *order, double angle) {
    return measure_angle(order->arena, angle);
}

static const char *cause(const struct order *order, const struct correction *c) {
    if (c->cause == CAUSE_WOOD) {
        return arena_printf(order->arena, "Wood of %s, give or take %s, would explain it.",
                            measure_density(order->arena, c->wood_density, order->units),
                            measure_density(order->arena, c->density_doubt, order->units));
    }
    return arena_printf(order->arena,
                        "Sealer of %s g/m\xc2\xb2 kept by each coat would explain it.",
                        measure_number(order->arena, c->uptake * 1e3, 0));
}

/* What the readings mean for the loads, and for the finished plug; nothing where they tell no more
 * than that they may be off. */
static void correction_items(struct order *order) {
    const struct correction *c = &order->results->correction;
    const struct ballast_result *ballast = &order->results->ballast;
    struct md *md = &order->md;
    if (c->by == CORRECTED_BY_NOTHING) return;
    const char *by =
        c->by == CORRECTED_BY_SEALED ? "its weight when sealed" : "its waterline in the float test";
    if (!c->told) {
        md_item(md, "By %s the body is as heavy as computed, give or take %s.", by,
                order_mass(order, c->doubt));
        return;
    }
    md_item(md, "By %s the body is **%s %s** than computed, give or take %s. %s", by,
            order_mass(order, fabs(c->excess)), c->excess < 0 ? "lighter" : "heavier",
            order_mass(order, c->doubt), cause(order, c));
    md_item(md, "With the loads as they are the finished plug keeps %s in reserve and lies %s.",
            measure_share(order->arena, c->as_built.reserve),
            measure_attitude(order->arena, c->as_built.attitude));
    for (int i = 0; order_corrected(order) && i < ballast->bore_count; i++) {
        if (!ballast->fills[i].solved) continue;
        md_item(md, "Bore %d: **%s** instead of %s.", i + 1, order_mass(order, c->load[i]),
                order_mass(order, ballast->fills[i].load));
    }
    if (c->closed || !ballast->solution.solved_count) return;
    if (!c->solvable)
        md_item(md, "No loads meet the aim with that body.");
    else if (!c->fits)
        md_item(md, "The loads that would meet the aim with that body do not fit its bores.");
}

/* What the scale said of the wood, and of how alike the bodies are. */
static void body_item(struct order *order) {
    const struct results *r = order->results;
    const int count = order->recipe->measured->blank_count;
    const char *density = measure_density(order->arena, r->plug.wood_density, order->units);
    if (count == 1)
        md_item(&order->md, "By its weight the shaped body is wood of **%s**.", density);
    else
        md_item(&order->md,
                "By their weight the shaped bodies are wood of **%s** on average; the %d of them "
                "scatter by %s.",
                density, count, measure_share(order->arena, r->ballast.scatter));
}

static void finished_item(struct order *order, const struct bench_reading *mass, double reserve) {
    const char *kept = measure_share(order->arena, reserve);
    const char *computed = measure_share(order->arena, order->results->finished.rest.reserve);
    if (mass->told)
        md_item(&order->md, "By its weight the finished plug keeps %s in reserve; %s was computed.",
                kept, computed);
    else
        md_item(&order->md, "By its weight the finished plug keeps %s in reserve, as computed.",
                computed);
}

/* An angle that reads the same on paper tells nothing either. */
static void attitude_item(struct order *order, const struct bench_reading *attitude) {
    const char *read = measure_attitude(order->arena, attitude->read);
    const char *computed = measure_attitude(order->arena, attitude->predicted);
    if (!attitude->told || strcmp(read, computed) == 0)
        md_item(&order->md, "In the float test it lay %s, as computed.", computed);
    else
        md_item(&order->md,
                "In the float test it lay %s; %s was computed: its mass lies further %s than "
                "computed.",
                read, computed, attitude->read > attitude->predicted ? "forward" : "aft");
}

static void measured_meaning(struct order *order, const struct bench_comparison *c) {
    if (c->body.given) body_item(order);
    correction_items(order);
    if (c->finished.given) finished_item(order, &c->finished, c->reserve);
    if (c->attitude.given) attitude_item(order, &c->attitude);
}

void order_measured(struct order *order) {
    static const struct md_column columns[] = {{"Measured", MD_LEFT},
                                               {"Computed", MD_RIGHT},
                                               {"At the bench", MD_RIGHT},
                                               {"Difference", MD_RIGHT}};
    struct bench_comparison c = bench_compare(order->recipe, order->results);
    struct md *md = &order->md;
    if (!c.body.given && !c.sealed.given && !c.finished.given && !c.attitude.given) return;
    md_heading(md, 2, "Measured and computed");
    md_table(md, columns, 4);
    measured_row(order, "Shaped body", &c.body, order_mass);
    measured_row(order, "Sealed body", &c.sealed, order_mass);
    measured_row(order, "Finished plug", &c.finished, order_mass);
    measured_row(order, "Waterline at the nose, float test", &c.nose, order_length);
    measured_row(order, "Waterline at the tail, float test", &c.tail, order_length);
    measured_row(order, "Attitude, nose down", &c.attitude, show_angle);
    md_table_end(md);
    measured_meaning(order, &c);
}
