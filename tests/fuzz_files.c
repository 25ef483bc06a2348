/* A recipe with its base and its workshop, one behind the other with a zero byte between: merged,
 * bound, compiled, and put out in every form.  A recipe that names neither is named one. */
#include "fuzz.h"

struct files {
    struct shelf shelf; /* the first, so that fetch finds the rest */
    struct str recipe, base, workshop;
};

static bool fetch(const struct shelf *shelf, struct arena *arena, const char *path,
                  struct str *bytes, const char **reason) {
    const struct files *files = (const struct files *)shelf;
    (void)arena;
    *reason = "it is not there";
    *bytes = strcmp(path, "fuzz.yaml") == 0                                     ? files->recipe
             : strstr(path, "workshop") != NULL || strstr(path, "shop") != NULL ? files->workshop
                                                                                : files->base;
    return bytes->size > 0;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    struct arena arena = {0};
    struct str rest = {arena_copy(&arena, (const char *)data, size), size};
    struct files files = {.shelf.fetch = fetch, .recipe = next_file(&rest)};
    files.base = next_file(&rest);
    files.workshop = next_file(&rest);
    struct compilation c = compile_shelved(&arena, &files.shelf, "fuzz.yaml");
    demand_all(&arena, &c);
    arena_free(&arena);
    return 0;
}
