/* Title block, the plug at a glance. */
#include "emit/order/inner.h"

#include <math.h>
#include <string.h>

#include "system/path.h"

/* --- title block ---------------------------------------------------------------------------- */

enum { SHORT_DIGEST = 8, SHORT_SHOWN = 3, MAX_FILES = 16 };

/* The first figures of every source's id: "3f9a2c1b+77aa01c2". */
static const char *short_digest(const struct order *order) {
    struct buf out = {.arena = order->arena};
    const char *rest = order->results->digest;
    int shown = 0;
    buf_text(&out, "");
    for (; rest && *rest && shown < SHORT_SHOWN; shown++) {
        size_t size = strcspn(rest, " ");
        if (shown) buf_char(&out, '+');
        buf_bytes(&out, rest, size < SHORT_DIGEST ? size : SHORT_DIGEST);
        rest += size + strspn(rest + size, " ");
    }
    if (rest && *rest) buf_text(&out, "+");
    return out.data;
}

/* The files that the recipe was written in, its own first, without their folders: the same sheet
 * wherever it is made.  Its workshop is not one of them. */
static int recipe_files(const struct order *order, const char **files) {
    const struct recipe *r = order->recipe;
    const void *members[] = {&r->version, &r->name, &r->make,     &r->water,    &r->wood,
                             &r->body,    &r->lip,  &r->hardware, &r->ballast,  &r->eyes,
                             &r->finish,  &r->shop, &r->steps,    &r->measured, &r->prices};
    int count = 0;
    for (size_t i = 0; i < sizeof members / sizeof *members && count < MAX_FILES; i++) {
        const struct text_file *file = recipe_place(r, members[i]).file;
        if (!file || (r->workshop && file == r->workshop->file)) continue;
        const char *name = path_name(file->name);
        int known = 0;
        while (known < count && strcmp(files[known], name) != 0) known++;
        if (known == count) files[count++] = name;
    }
    return count;
}

static void recipe_row(struct order *order) {
    const char *files[MAX_FILES] = {0};
    int count = recipe_files(order, files);
    md_cell(&order->md, "Recipe");
    md_open_cell(&order->md);
    for (int i = 0; i < count; i++) {
        const char *name = strcmp(files[i], "-") != 0 ? files[i] : "standard input";
        md_add(&order->md, !i ? "`%s`" : i == 1 ? ", based on `%s`" : ", `%s`", name);
    }
    const struct workshop *workshop = order->recipe->workshop;
    if (workshop) md_add(&order->md, ", workshop `%s`", path_name(workshop->file->name));
    md_end_cell(&order->md);
}

/* "21 h 28 min at the bench, in 13 sittings". */
static void run_rows(struct order *order) {
    const struct run *run = &order->results->run;
    struct arena *arena = order->arena;
    struct md *md = &order->md;
    md_cell(md, order_goes_on(order) ? "Work left" : "Work");
    if (!run->feasible) {
        md_cell(md, "does not fit into the opening hours");
        return;
    }
    struct sittings sittings = rework_sittings(arena, order->results);
    md_cell(md, "%s at the bench, in %s", measure_time(arena, (double)run->hands_on),
            sittings.by_hours ? order_count(order, sittings.all, "sitting", "sittings")
                              : order_count(order, sittings.all, "day", "days"));
    if (!order->recipe->shop->start.given) return;
    md_cell(md, order_goes_on(order) ? "The rest" : "Planned");
    md_cell(md, "%s %d, %s, to %s, %s", order_day(order, 0), order->recipe->shop->start.year,
            order_clock(order, 0), order_day(order, run->makespan),
            order_clock(order, run->makespan));
    order_resumed_rows(order);
}

static void body_rows(struct order *order) {
    const struct plug *plug = &order->results->plug;
    const struct solid *bare = &plug->bare;
    const struct water *water = order->recipe->water;
    struct md *md = &order->md;
    md_cell(md, "Body");
    md_cell(md, "%s long, %s high, %s wide; %s, %s", order_length(order, plug->outline.length),
            order_length(order, bare->height), order_length(order, bare->width),
            order_solid(order, bare->volume),
            measure_area(order->arena, bare->surface, order->units));
    md_cell(md, "Wood");
    md_cell(md, "%s at %s moisture, %s (%s)", order->recipe->wood->row->name,
            measure_share(order->arena, order->recipe->wood->moisture),
            measure_density(order->arena, plug->wood_density, order->units),
            plug_wood_source(plug));
    md_cell(md, "Water");
    md_cell(md, "%s, %s g/kg salt, %s",
            measure_temperature(order->arena, water->temperature, order->units),
            measure_number(order->arena, water->salinity, 0),
            measure_density(order->arena, plug->water, order->units));
    if (plug->finish > 0) {
        md_cell(md, "Finish, dry");
        md_cell(md, "%s all round", order_fine(order, plug->finish));
    }
}

void order_name(struct order *order) {
    const struct recipe *recipe = order->recipe;
    md_heading(&order->md, 1, "Work order: %.*s", MD_STR(recipe->name));
    md_para(&order->md, "Run of %s · sheet `%s`", order_count(order, recipe->make, "plug", "plugs"),
            short_digest(order));
}

void order_title(struct order *order) {
    static const struct md_column columns[] = {{"This order", MD_LEFT}, {"", MD_LEFT}};
    const struct recipe *recipe = order->recipe;
    struct md *md = &order->md;
    order_name(order);
    order_figures(order, FIGURE_PLUG);
    md_table(md, columns, 2);
    recipe_row(order);
    run_rows(order);
    md_cell(md, "Shop");
    md_cell(md, "%s, as all cures are given; paper %s at 100 %%",
            measure_temperature(order->arena, recipe->shop->temperature, order->units),
            name_papers[recipe->shop->paper]);
    body_rows(order);
    md_table_end(md);
    if (str_trim(recipe->note).size) md_quote(md, recipe->note);
}

/* --- at a glance ---------------------------------------------------------------------------- */

typedef const char *(*value_of)(const struct order *order, const struct condition *condition);

static const char *value_capacity(const struct order *order, const struct condition *c) {
    return order_mass(order, c->rest.capacity);
}

static const char *value_reserve(const struct order *order, const struct condition *c) {
    return measure_share(order->arena, c->rest.reserve);
}

static const char *value_state(const struct order *order, const struct condition *c) {
    (void)order;
    return name_float_states[c->state];
}

static const char *value_gm(const struct order *order, const struct condition *c) {
    return order_length(order, c->rest.gm);
}

static const char *value_upright(const struct order *order, const struct condition *c) {
    if (!c->stable) return "does not stand upright";
    if (c->righting.self_righting) return "from any heel";
    if (!c->righting.vanishes) return "up to 180°";
    return arena_printf(order->arena, "up to %s",
                        measure_angle(order->arena, c->righting.vanishing));
}

static const char *value_speed(const struct order *order, const struct condition *c) {
    return arena_printf(order->arena, "%s %s", c->speed < 0 ? "down" : "up",
                        measure_speed(order->arena, fabs(c->speed), order->units));
}

static void float_table(struct order *order) {
    static const struct md_column columns[] = {
        {"", MD_LEFT}, {"Float test", MD_RIGHT}, {"Finished", MD_RIGHT}};
    static const struct {
        const char *name;
        value_of value;
    } rows[] = {
        {"Displaces when pushed under", value_capacity},
        {"Reserve of buoyancy", value_reserve},
        {"State", value_state},
        {"Metacentric height", value_gm},
        {"Rights itself", value_upright},
        {"Let go (estimate)", value_speed},
    };
    md_table(&order->md, columns, 3);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        md_cell(&order->md, "%s", rows[i].name);
        md_cell(&order->md, "%s", rows[i].value(order, &order->results->test));
        md_cell(&order->md, "%s", rows[i].value(order, &order->results->finished));
    }
    md_table_end(&order->md);
}

void order_glance(struct order *order) {
    md_heading(&order->md, 2, "At rest");
    order_figures(order, FIGURE_GLANCE);
    float_table(order);
}
