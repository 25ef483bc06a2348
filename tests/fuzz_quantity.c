/* Any bytes as a quantity of each dimension: read, or refused; what is read is a finite number. */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/quantity.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void demand(bool condition, const char *what) {
    if (condition) return;
    fprintf(stderr, "%s\n", what);
    abort();
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    struct arena arena = {0};
    struct str text = {arena_copy(&arena, (const char *)data, size), size};
    for (int d = 0; d < DIM_COUNT_; d++) {
        struct reading r = quantity_parse(&arena, text, (enum dimension)d);
        demand(r.error || isfinite(r.value), "a quantity that is no number");
    }
    struct parts parts;
    const char *hint;
    if (!parts_parse(&arena, text, &parts, &hint))
        demand(parts.first > 0 && parts.second > 0 && isfinite(parts.first / parts.second),
               "parts that are none");
    arena_free(&arena);
    return 0;
}
