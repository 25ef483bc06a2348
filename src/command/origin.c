#include "command/origin.h"

#include <string.h>

#include "read/source.h"
#include "system/path.h"
#include "system/publish.h"

/* Tells recipe files apart without naming the place where they lie. */
static const char *file_id(struct arena *arena, const char *path) {
    char *id = arena_alloc(arena, BLOB_ID_SIZE);
    const char *real = strcmp(path, "-") != 0 ? path_real(arena, path) : NULL;
    source_id(str_of(real ? real : path), id);
    return id;
}

static const char *same_content(struct arena *arena, const struct compilation *c) {
    return arena_printf(arena, "order of %s from ", variant_digest(arena, &c->document));
}

const char *origin_words(struct arena *arena, const struct compilation *c, const char *path) {
    return arena_printf(arena, "%s%s", same_content(arena, c), file_id(arena, path));
}

static bool is_of_another(struct arena *arena, const struct compilation *c, const char *path,
                          const char *former) {
    const char *from = strstr(former, " from "), *same = same_content(arena, c);
    if (strncmp(former, "order of ", 9) != 0 || !from) return false;
    return strcmp(from + 6, file_id(arena, path)) != 0 && strncmp(former, same, strlen(same)) != 0;
}

const char *origin_refusal(struct arena *arena, const struct compilation *c, const char *path,
                           const char *directory, const char *stem) {
    if (!is_of_another(arena, c, path, publish_made_of(arena, directory, stem))) return NULL;
    return arena_printf(arena,
                        "%s/%s holds the order of another recipe file: say where this one goes "
                        "with -o DIR, or write over it with --force",
                        directory, stem);
}

const char *origin_order_refusal(struct arena *arena, const char *directory, const char *stem,
                                 const char *what) {
    if (strncmp(publish_made_of(arena, directory, stem), "order of ", 9) != 0) return NULL;
    return arena_printf(arena,
                        "%s/%s holds the order of a recipe: say where %s goes with -o DIR, or "
                        "write over it with --force",
                        directory, stem, what);
}
