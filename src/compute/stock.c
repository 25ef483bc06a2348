#include "compute/stock.h"

#include <math.h>
#include <string.h>

#include "compute/plug/mass.h"

/* A gauge's diameter, or a thickness in inches, is the same in millimetres. */
static const double same_size = 1e-6;
static const double rounding = 1e-9;

#define COPY(list, number)                                                             \
    do {                                                                               \
        copy->list = arena_array(arena, (size_t)from->number, sizeof *copy->list);     \
        if (from->number)                                                              \
            memcpy(copy->list, from->list, (size_t)from->number * sizeof *copy->list); \
    } while (0)

struct stock *stock_copy(struct arena *arena, const struct workshop *workshop) {
    const struct stock *from = workshop ? workshop->stock : NULL;
    if (!from) return NULL;
    struct stock *copy = NEW(arena, struct stock, 1);
    *copy = *from;
    COPY(boards, stock_board_count);
    COPY(pieces, stock_piece_count);
    COPY(sheets, stock_sheet_count);
    COPY(wires, stock_wire_count);
    COPY(hooks, stock_hook_count);
    COPY(rings, stock_ring_count);
    COPY(eyes, stock_eye_count);
    COPY(sealers, stock_sealer_count);
    COPY(paints, stock_paint_count);
    COPY(topcoats, stock_topcoat_count);
    return copy;
}

/* --- what is cut ----------------------------------------------------------------------------- */

int stock_fit(double whole, double part, double kerf) {
    double count = floor((whole + kerf) / (part + kerf) + rounding);
    return (int)fmin(fmax(count, 0), 10000);
}

static int smaller(int a, int b) {
    return a < b ? a : b;
}

/* Boards or sheets alike, cut across their length into rows of parts. */
struct lengths {
    int count;
    double length;
    double row;  /* of the length */
    int per_row; /* parts */
    double kerf;
};

static int rows_of(const struct lengths *l) {
    return l->per_row ? stock_fit(l->length, l->row, l->kerf) : 0;
}

static int parts_of(const struct lengths *l) {
    double parts = (double)l->count * rows_of(l) * l->per_row;
    return (int)fmin(parts, 1e8);
}

/* Cuts so many parts, which are there: the whole ones that are left, and what is left of the one
 * that was begun last, 0 if nothing. */
static double cut_parts(struct lengths *l, int parts) {
    int each = rows_of(l), rows = l->per_row ? (parts + l->per_row - 1) / l->per_row : 0;
    if (!each) return 0;
    int begun = rows % each;
    l->count -= rows / each + (begun > 0);
    return begun ? fmax(l->length - begun * (l->row + l->kerf), 0) : 0;
}

static struct lengths lengths_of_board(const struct stock_board *board,
                                       const struct stock_part *part, double kerf) {
    int flat = stock_fit(board->thickness, part->thickness, kerf) *
               stock_fit(board->width, part->width, kerf);
    int turned = stock_fit(board->thickness, part->width, kerf) *
                 stock_fit(board->width, part->thickness, kerf);
    return (struct lengths){board->count, board->length, part->length,
                            flat > turned ? flat : turned, kerf};
}

static void cut_board(struct arena *arena, struct stock *left, int which,
                      const struct stock_part *part, double kerf, int parts) {
    struct lengths l = lengths_of_board(&left->boards[which], part, kerf);
    double rest = cut_parts(&l, parts);
    left->boards[which].count = l.count;
    if (rest <= 0) return;
    int count = left->stock_board_count;
    struct stock_board *more = NEW(arena, struct stock_board, count + 1);
    memcpy(more, left->boards, (size_t)count * sizeof *more);
    more[count] = more[which];
    more[count].count = 1;
    more[count].length = rest;
    left->boards = more;
    left->stock_board_count++;
}

int stock_boards(struct arena *arena, struct stock *left, struct str species,
                 const struct stock_part *part, double kerf, int set, int wanted) {
    double there = 0;
    int count = left ? left->stock_board_count : 0;
    for (int i = 0; i < count; i++)
        if (str_equal(left->boards[i].species, species)) {
            struct lengths l = lengths_of_board(&left->boards[i], part, kerf);
            there += parts_of(&l);
        }
    int taken = (int)fmin(wanted, floor(there / set) * set), more = taken;
    for (int i = 0; i < count && more > 0; i++) {
        if (!str_equal(left->boards[i].species, species)) continue;
        struct lengths l = lengths_of_board(&left->boards[i], part, kerf);
        int here = smaller(more, parts_of(&l));
        if (here > 0) cut_board(arena, left, i, part, kerf, here);
        more -= here;
    }
    return taken;
}

/* Along the sheet or across it, as more come out of it. */
static struct lengths lengths_of_sheet(const struct stock_sheet *sheet,
                                       const struct stock_part *part, double kerf) {
    struct lengths along = {sheet->count, sheet->length, part->length,
                            stock_fit(sheet->width, part->width, kerf), kerf};
    struct lengths across = {sheet->count, sheet->length, part->width,
                             stock_fit(sheet->width, part->length, kerf), kerf};
    return parts_of(&across) > parts_of(&along) ? across : along;
}

static void cut_sheet(struct arena *arena, struct stock *left, int which,
                      const struct stock_part *part, double kerf, int parts) {
    struct lengths l = lengths_of_sheet(&left->sheets[which], part, kerf);
    double rest = cut_parts(&l, parts);
    left->sheets[which].count = l.count;
    if (rest <= 0) return;
    int count = left->stock_sheet_count;
    struct stock_sheet *more = NEW(arena, struct stock_sheet, count + 1);
    memcpy(more, left->sheets, (size_t)count * sizeof *more);
    more[count] = more[which];
    more[count].count = 1;
    more[count].length = rest;
    left->sheets = more;
    left->stock_sheet_count++;
}

int stock_sheets(struct arena *arena, struct stock *left, int material,
                 const struct stock_part *part, double kerf, int wanted) {
    int taken = 0, count = left ? left->stock_sheet_count : 0;
    for (int i = 0; i < count && taken < wanted; i++) {
        const struct stock_sheet *sheet = &left->sheets[i];
        if (sheet->material != material || fabs(sheet->thickness - part->thickness) > same_size)
            continue;
        struct lengths l = lengths_of_sheet(sheet, part, kerf);
        int here = smaller(wanted - taken, parts_of(&l));
        if (here > 0) cut_sheet(arena, left, i, part, kerf, here);
        taken += here;
    }
    return taken;
}

double stock_wire(struct stock *left, int material, double diameter, double wanted) {
    for (int i = 0; left && i < left->stock_wire_count; i++) {
        struct stock_wire *coil = &left->wires[i];
        if (coil->material != material || fabs(coil->diameter - diameter) > same_size ||
            coil->length < wanted - rounding)
            continue;
        coil->length = fmax(coil->length - wanted, 0);
        return wanted;
    }
    return 0;
}

/* --- what is counted ------------------------------------------------------------------------- */

static int take(int *count, int wanted) {
    int taken = smaller(*count, wanted);
    *count -= taken;
    return taken;
}

int stock_hooks(struct stock *left, const struct hook *hook, int wanted) {
    int taken = 0;
    for (int i = 0; left && hook->size.size && i < left->stock_hook_count; i++)
        if (left->hooks[i].kind == hook->kind && str_equal(left->hooks[i].size, hook->size))
            taken += take(&left->hooks[i].count, wanted - taken);
    return taken;
}

int stock_rings(struct stock *left, const struct ring *ring, int wanted) {
    int taken = 0;
    for (int i = 0; left && ring->size.size && i < left->stock_ring_count; i++)
        if (str_equal(left->rings[i].size, ring->size))
            taken += take(&left->rings[i].count, wanted - taken);
    return taken;
}

int stock_eyes(struct stock *left, double size, int wanted) {
    int taken = 0;
    for (int i = 0; left && i < left->stock_eye_count; i++)
        if (fabs(left->eyes[i].size - size) < same_size)
            taken += take(&left->eyes[i].count, wanted - taken);
    return taken;
}

static double mass_of(const struct plug *plug, const struct stock_piece *held) {
    return piece_mass(plug, &(struct piece){.ball = held->ball, .mass = held->mass});
}

/* The heaviest kind on hand of which one goes into so much, or NULL. */
static struct stock_piece *heaviest(struct stock *left, const struct plug *plug, double most) {
    struct stock_piece *best = NULL;
    for (int i = 0; left && i < left->stock_piece_count; i++) {
        struct stock_piece *held = &left->pieces[i];
        double mass = mass_of(plug, held);
        if (held->count <= 0 || held->material != plug->recipe->ballast->material || mass <= 0 ||
            mass > most + rounding)
            continue;
        if (!best || mass > mass_of(plug, best)) best = held;
    }
    return best;
}

double stock_pieces(struct stock *left, const struct plug *plug, double wanted) {
    double taken = 0;
    for (struct stock_piece *held; (held = heaviest(left, plug, wanted - taken));) {
        double mass = mass_of(plug, held);
        taken += mass * take(&held->count, (int)fmin((wanted - taken + rounding) / mass, 1e6));
    }
    return fmin(taken, wanted);
}

/* --- what is poured -------------------------------------------------------------------------- */

static double pour(struct stock_product *products, int count, struct str name, double wanted) {
    double taken = 0;
    for (int i = 0; i < count; i++) {
        if (!str_equal(products[i].name, name)) continue;
        double here = fmin(products[i].volume, wanted - taken);
        products[i].volume -= here;
        taken += here;
    }
    return taken;
}

double stock_sealer(struct stock *left, struct str name, double wanted) {
    return left ? pour(left->sealers, left->stock_sealer_count, name, wanted) : 0;
}

double stock_paint(struct stock *left, struct str name, double wanted) {
    return left ? pour(left->paints, left->stock_paint_count, name, wanted) : 0;
}

double stock_topcoat(struct stock *left, struct str name, double wanted) {
    return left ? pour(left->topcoats, left->stock_topcoat_count, name, wanted) : 0;
}
