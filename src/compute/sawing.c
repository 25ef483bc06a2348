#include "compute/sawing.h"

#include "model/workshop.h"

bool sawing_shares(const struct results *a, const struct results *b) {
    const struct workshop *x = a->plug.recipe->workshop, *y = b->plug.recipe->workshop;
    return x && y && str_equal(x->file->text, y->file->text);
}

static struct str species_of(const struct results *run) {
    return str_of(run->plug.recipe->wood->row->name);
}

/* The stock with boards in it, or NULL. */
static const struct stock *stock_for(const struct results *run) {
    const struct workshop *workshop = run->plug.recipe->workshop;
    const struct stock *stock = workshop ? workshop->stock : NULL;
    return stock && stock->stock_board_count ? stock : NULL;
}

static const struct board *like_shops(const struct results *run) {
    return run->plug.recipe->shop->board;
}

static bool same_boards(const struct results *a, const struct results *b) {
    if (stock_for(a) && stock_for(b)) return sawing_shares(a, b);
    return !stock_for(a) && !stock_for(b) && like_shops(a) && like_shops(b);
}

static bool same_wood(const struct results *a, const struct results *b) {
    return str_equal(species_of(a), species_of(b)) && same_boards(a, b);
}

/* Whether a run is the first of its wood. */
static bool is_first(const struct results *const *runs, int which) {
    for (int k = 0; k < which; k++)
        if (same_wood(runs[k], runs[which])) return false;
    return stock_for(runs[which]) || like_shops(runs[which]);
}

static void take_stock(struct arena *arena, struct cutting_task *task, const struct stock *stock,
                       struct str species) {
    struct cutting_board *boards = NEW(arena, struct cutting_board, stock->stock_board_count);
    for (int i = 0; i < stock->stock_board_count; i++) {
        const struct stock_board *b = &stock->boards[i];
        if (str_equal(b->species, species))
            boards[task->board_count++] =
                (struct cutting_board){b->length, b->width, b->thickness, b->count};
    }
    task->boards = boards;
}

/* One for every part would be enough. */
static void take_like_shops(struct arena *arena, struct cutting_task *task,
                            const struct board *board) {
    struct cutting_board *boards = NEW(arena, struct cutting_board, 1);
    *boards = (struct cutting_board){board->length, board->width, board->thickness, 0};
    for (int w = 0; w < task->want_count; w++)
        boards->count += task->wants[w].set * task->wants[w].count;
    task->boards = boards;
    task->board_count = 1;
}

static struct cutting_want want_of(const struct results *run) {
    const struct supply *supply = &run->supply;
    return (struct cutting_want){supply->blank_length, supply->blank_width / supply->blank_boards,
                                 supply->blank_height, supply->blank_boards,
                                 run->plug.recipe->make};
}

/* All runs of the wood of `first`; `blanks` of each are what comes out of the stock. */
static struct sawing_wood saw_wood(struct arena *arena, const struct results *const *runs,
                                   int first, int count, int visits, int *blanks) {
    const struct stock *stock = stock_for(runs[first]);
    struct sawing_wood wood = {.species = species_of(runs[first]), .on_hand = stock != NULL};
    struct cutting_want *wants = NEW(arena, struct cutting_want, count);
    int *owners = NEW(arena, int, count);
    for (int k = first; k < count; k++) {
        if (!same_wood(runs[first], runs[k])) continue;
        owners[wood.task.want_count] = k;
        wants[wood.task.want_count++] = want_of(runs[k]);
    }
    wood.task.wants = wants;
    wood.task.kerf = runs[first]->plug.recipe->shop->kerf;
    wood.task.visits = visits;
    wood.runs = owners;
    if (stock)
        take_stock(arena, &wood.task, stock, wood.species);
    else
        take_like_shops(arena, &wood.task, like_shops(runs[first]));
    wood.cutting = cutting_of(arena, &wood.task);
    for (int w = 0; stock && w < wood.task.want_count; w++) blanks[owners[w]] = wood.cutting.got[w];
    return wood;
}

struct sawing sawing_of(struct arena *arena, const struct results *const *runs, int count) {
    struct sawing s = {.woods = NEW(arena, struct sawing_wood, count)};
    int *blanks = NEW(arena, int, count), *firsts = NEW(arena, int, count), woods = 0;
    for (int k = 0; k < count; k++)
        if (is_first(runs, k)) firsts[woods++] = k;
    for (int i = 0; i < woods; i++)
        s.woods[i] = saw_wood(arena, runs, firsts[i], count, CUTTING_VISITS / woods, blanks);
    s.count = woods;
    s.blanks = blanks;
    return s;
}
