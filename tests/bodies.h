/* Bodies for tests: outlines from tables of offsets in metres, and lips. */
#ifndef PLUGWRIGHT_BODIES_H
#define PLUGWRIGHT_BODIES_H

#include "compute/float/hydro.h"

enum { BODY_ROWS = MAX_STATIONS };

struct body_table {
    double length;
    int count;
    double x[BODY_ROWS], back[BODY_ROWS], belly[BODY_ROWS], width[BODY_ROWS];
};

static inline void body_row(struct body_table *table, double x, double back, double belly,
                            double width) {
    int i = table->count++;
    table->x[i] = table->length = x;
    table->back[i] = back;
    table->belly[i] = belly;
    table->width[i] = width;
}

static inline struct outline body_outline(struct arena *arena, const struct body_table *table,
                                          enum section_shape shape, double radius) {
    struct station *stations = NEW(arena, struct station, table->count);
    for (int i = 0; i < table->count; i++)
        stations[i] = (struct station){
            .at = {.value = table->x[i], .share = false, .given = true},
            .back = table->back[i],
            .belly = table->belly[i],
            .width = table->width[i],
        };
    struct section_choice section = {shape, {radius, shape == SECTION_ROUNDED}};
    struct body body = {table->length, stations, table->count, &section, false};
    return outline_of(arena, &body);
}

/* A prism about the datum. */
static inline struct outline body_prism(struct arena *arena, double length, double height,
                                        double width, enum section_shape shape, double radius) {
    struct body_table table = {0};
    body_row(&table, 0, height / 2, height / 2, width);
    body_row(&table, length, height / 2, height / 2, width);
    return body_outline(arena, &table, shape, radius);
}

static inline struct hull body_hull(struct arena *arena, const struct outline *outline) {
    struct plate none = {0};
    return hull_of(arena, outline, 0, &none);
}

/* A plug as one might carve it, 140 mm long. */
static inline struct body_table body_plug(void) {
    struct body_table table = {0};
    body_row(&table, 0.000, 0.003, 0.003, 0.006);
    body_row(&table, 0.014, 0.010, 0.011, 0.016);
    body_row(&table, 0.049, 0.013, 0.015, 0.022);
    body_row(&table, 0.084, 0.012, 0.013, 0.020);
    body_row(&table, 0.119, 0.007, 0.008, 0.013);
    body_row(&table, 0.140, 0.0025, 0.0025, 0.004);
    return table;
}

static inline struct plate body_lip(void) {
    return (struct plate){.given = true,
                          .mouth_x = 0.012,
                          .mouth_z = -0.0105,
                          .u_x = -0.8,
                          .u_z = -0.6,
                          .extent = 0.022,
                          .thickness = 0.0015,
                          .width = 0.018,
                          .shape = LIP_ROUND};
}

/* The same numbers on every run and machine (Marsaglia 2003, xorshift), in 0..1 and low..high. */
static inline double body_random(unsigned long long *state) {
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    return (double)(*state >> 11) / 9007199254740992.0;
}

static inline double body_between(unsigned long long *state, double low, double high) {
    return low + (high - low) * body_random(state);
}

/* Anything from a fat popper to a sliver, with points or flat ends. */
static inline struct body_table body_any(unsigned long long *state) {
    struct body_table table = {0};
    int count = 2 + (int)(body_random(state) * 11);
    double at[16], length = body_between(state, 0.03, 0.2);
    at[0] = 0;
    for (int i = 1; i < count; i++) at[i] = at[i - 1] + body_between(state, 0.2, 1);
    for (int i = 0; i < count; i++) {
        double x = i == count - 1 ? length : length * at[i] / at[count - 1];
        bool tip = (i == 0 || i == count - 1) && count > 2 && body_random(state) < 0.4;
        double size = length * (0.04 + 0.5 * x / length * (1 - x / length));
        /* Drawn one after another: the order of arguments is each compiler's own. */
        double width = tip ? 0 : size * body_between(state, 0.8, 2);
        double belly = tip ? 0 : size * body_between(state, 0.4, 1.1);
        double back = tip ? 0 : size * body_between(state, 0.4, 1.1);
        body_row(&table, x, back, belly, width);
    }
    return table;
}

#endif
