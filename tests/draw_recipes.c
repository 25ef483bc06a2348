/* Writes recipes at random (generate.h) into a folder, for tests of the program from outside:
 * Usage: draw_recipes DIRECTORY FIRST COUNT
 * The files are SEED.yaml, from FIRST on: of five one is from the rows alone, the others are
 * recipes of the folder recipes/ varied, each harder than the one before it. */
#include <stdio.h>
#include <stdlib.h>

#include "generate.h"

static const char *drawn(struct arena *arena, const struct generate_stock *stock, uint64_t seed) {
    int kind = (int)(seed % (GENERATE_HARDNESS + 1));
    return kind ? generate_varied(arena, stock, kind, seed) : generate_from_rows(arena, seed);
}

static bool write_recipe(const char *path, const char *text) {
    FILE *file = fopen(path, "w");
    if (!file) return false;
    bool good = fputs(text, file) >= 0;
    return fclose(file) == 0 && good;
}

int main(int argc, char **argv) {
    if (argc != 4) return 2;
    struct arena shelf = {0};
    struct generate_stock stock = generate_stock_of(&shelf, "recipes");
    uint64_t first = strtoull(argv[2], NULL, 10), count = strtoull(argv[3], NULL, 10);
    int status = stock.count ? 0 : 2;
    for (uint64_t seed = first; !status && seed < first + count; seed++) {
        struct arena arena = {0};
        const char *path = arena_printf(&arena, "%s/%llu.yaml", argv[1], (unsigned long long)seed);
        if (!write_recipe(path, drawn(&arena, &stock, seed))) status = 2;
        arena_free(&arena);
    }
    arena_free(&shelf);
    return status;
}
