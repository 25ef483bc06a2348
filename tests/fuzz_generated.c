/* Seeds of recipes at random (generate.h): put out in every form, and compared with one of the
 * stock.  The first eight bytes are the seed, the next says how much is varied. */
#include "fuzz.h"

#include "command/compare.h"
#include "generate.h"

static void differ(struct arena *arena, const struct generate_stock *stock, uint64_t seed,
                   const struct compilation *c) {
    struct buf json = {.arena = arena};
    struct difference d = compare(arena, &stock->recipes[seed % (uint64_t)stock->count], c);
    difference_json(&json, &d);
    demand_json("difference", &json);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static struct arena shelf;
    static struct generate_stock stock;
    if (!stock.count) stock = generate_stock_of(&shelf, "recipes");
    if (size < 9 || !stock.count) return 0;
    uint64_t seed;
    memcpy(&seed, data, sizeof seed);
    struct arena arena = {0};
    int hardness = data[8] % (GENERATE_HARDNESS + 2);
    const char *text = hardness > GENERATE_HARDNESS
                           ? generate_from_rows(&arena, seed)
                           : generate_varied(&arena, &stock, hardness, seed);
    struct compilation c = compile_text(&arena, "generated", str_of(text));
    demand_all(&arena, &c);
    if (!compilation_failed(&c)) differ(&arena, &stock, seed, &c);
    arena_free(&arena);
    return 0;
}
