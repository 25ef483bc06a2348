#include "model/colourway.h"

#include <string.h>

#include "base/buf.h"

/* Paths, or the beginnings of paths, up to a full stop or bracket. */
static const char *const of_floating[] = {"water", "ballast.aim", NULL};
static const char *const of_colourway[] = {"recipe",       "name",           "note",     "make",
                                           "due",          "rank",           "currency", "prices",
                                           "finish.paint", "finish.topcoat", "running",  NULL};

static bool is_under(const char *path, const char *const *list) {
    for (; *list; list++) {
        size_t size = strlen(*list);
        if (strncmp(path, *list, size) == 0 && strchr(".[", path[size])) return true;
    }
    return false;
}

static void put_fact(struct buf *out, const struct walk_fact *fact) {
    buf_printf(out, "%s = %s\n", fact->path, fact->text);
}

const char *colourway_body(const struct walk *walk) {
    struct walk_facts facts = walk_recipe(walk);
    struct buf out = {.arena = walk->arena};
    for (int i = 0; i < facts.count; i++) {
        const char *path = facts.items[i].path;
        if (!is_under(path, of_colourway) && !is_under(path, of_floating))
            put_fact(&out, &facts.items[i]);
    }
    return out.data;
}

const char *colourway_floating(const struct walk *walk) {
    struct walk_facts facts = walk_recipe(walk);
    struct buf out = {.arena = walk->arena};
    buf_text(&out, "");
    for (int i = 0; i < facts.count; i++)
        if (is_under(facts.items[i].path, of_floating)) put_fact(&out, &facts.items[i]);
    return out.data;
}
