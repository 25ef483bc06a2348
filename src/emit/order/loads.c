/* What every bore needs by the mass of the shaped body: on the card while it has room for it. */
#include "emit/order/inner.h"

/* Bodies that no load can bring to the aim share a line: from one mass to another. */
static int end_of_row(const struct ballast_result *ballast, int first) {
    int last = first;
    if (ballast->by_blank[first].plug || ballast->by_blank[first].solvable) return first;
    while (last + 1 < ballast->by_blank_count && !ballast->by_blank[last + 1].solvable) last++;
    return last;
}

/* Load and depth of every solved bore for one body, or for all from the first to the last. */
static void body_row(struct order *order, int first, int last) {
    const struct ballast_result *ballast = &order->results->ballast;
    const struct spread_case *row = &ballast->by_blank[first];
    struct md *md = &order->md;
    if (row->plug) md_cell(md, "%d", row->plug);
    if (last > first)
        md_cell(md, "**%s** to **%s**", order_mass(order, row->body),
                order_mass(order, ballast->by_blank[last].body));
    else
        md_cell(md, "**%s**", order_mass(order, row->body));
    for (int i = 0; i < ballast->bore_count; i++) {
        if (!ballast->fills[i].solved) continue;
        if (row->fits[i]) {
            md_cell(md, "%s", order_mass(order, row->load[i]));
            md_cell(md, "%s", order_length(order, row->depth[i]));
        } else {
            md_cell(md, row->solvable ? "does not fit" : "no load");
            md_cell(md, "\xe2\x80\x93");
        }
    }
}

static int weighing_step(const struct order *order) {
    const struct route *route = &order->results->run.route;
    for (int i = 0; i < route->count; i++)
        if (route->operations[i].key == OPERATION_weigh_bodies) return order_step_number(order, i);
    return 0;
}

static void say_how(struct order *order) {
    const struct ballast_result *ballast = &order->results->ballast;
    int step = weighing_step(order);
    struct md *md = &order->md;
    if (ballast->by_blank[0].plug)
        md_para(md, "Every body as it was weighed, and what its bores need:");
    else if (step)
        md_para(md,
                "Weigh the body (step %d), find its row; between two rows, in proportion. %s is "
                "computed.",
                step, order_mass(order, plug_body_mass(&order->results->plug)));
    else
        md_para(md, "What the bores need by the mass of the shaped body, %s:",
                name_text(order->arena, plug_shaped_name(order->recipe)));
}

/* Whether a row stands in the table: the loads are so nearly straight between the rows that of many
 * every second one will do, with those where a load begins or ceases to fit. */
static bool shown(const struct ballast_result *ballast, int row) {
    enum { MANY = 13 };
    const struct spread_case *rows = ballast->by_blank;
    int last = ballast->by_blank_count - 1;
    if (rows[0].plug || last < MANY || row % 2 == 0 || row == last) return true;
    for (int beside = row - 1; beside <= row + 1; beside += 2) {
        if (rows[beside].solvable != rows[row].solvable) return true;
        for (int i = 0; i < ballast->bore_count; i++)
            if (rows[beside].fits[i] != rows[row].fits[i]) return true;
    }
    return false;
}

/* Writes the rows, or only counts them. */
static int load_rows(struct order *order, const struct ballast_result *ballast) {
    int count = 0;
    for (int i = 0, last; i < ballast->by_blank_count; i = last + 1) {
        last = end_of_row(ballast, i);
        if (last == i && !shown(ballast, i)) continue;
        if (order) body_row(order, i, last);
        count++;
    }
    return count;
}

int order_load_rows(const struct order *order) {
    return load_rows(NULL, &order->results->ballast);
}

void order_load_table(struct order *order) {
    const struct ballast_result *ballast = &order->results->ballast;
    struct md_column columns[2 + 2 * MAX_BORES];
    int count = 0;
    say_how(order);
    if (ballast->by_blank[0].plug) columns[count++] = (struct md_column){"Plug", MD_RIGHT};
    columns[count++] = (struct md_column){"Body", MD_RIGHT};
    for (int i = 0; i < ballast->bore_count; i++) {
        if (!ballast->fills[i].solved) continue;
        columns[count++] = (struct md_column){
            arena_printf(order->arena, ballast->fills[i].axis.pair ? "Bores %d, each" : "Bore %d",
                         i + 1),
            MD_RIGHT};
        columns[count++] = (struct md_column){"deep", MD_RIGHT};
    }
    md_table(&order->md, columns, count);
    load_rows(order, ballast);
    md_table_end(&order->md);
}
