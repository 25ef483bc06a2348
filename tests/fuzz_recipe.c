/* Any bytes as a recipe: read, compiled, and put out in every form.  `make fuzz` feeds it recipes
 * and goldens, mutated. */
#include "fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    struct arena arena = {0};
    struct str bytes = {arena_copy(&arena, (const char *)data, size), size};
    struct compilation c = compile_text(&arena, "fuzz", bytes);
    demand_all(&arena, &c);
    arena_free(&arena);
    return 0;
}
