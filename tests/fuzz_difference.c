/* Two recipes, one behind the other with a zero byte between: compared, and the difference told in
 * every form, from the one to the other and back. */
#include "fuzz.h"

#include "command/compare.h"

static void tell(struct arena *arena, const struct difference *d) {
    struct figure_list none = {0};
    struct buf screen = {.arena = arena}, markdown = {.arena = arena}, json = {.arena = arena},
               page = {.arena = arena};
    difference_terminal(&screen, d);
    demand_text("difference", bytes_of(&screen));
    difference_markdown(&markdown, d, &none);
    demand_text("Markdown", bytes_of(&markdown));
    difference_page(&page, d);
    demand_text("page", bytes_of(&page));
    difference_json(&json, d);
    demand_json("JSON", &json);
    demand_text("words", str_of(difference_words(arena, d)));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    struct arena arena = {0};
    struct str rest = {arena_copy(&arena, (const char *)data, size), size};
    struct compilation old = compile_text(&arena, "old", next_file(&rest));
    struct compilation new = compile_text(&arena, "new", next_file(&rest));
    if (!compilation_failed(&old) && !compilation_failed(&new)) {
        struct difference there = compare(&arena, &old, &new), back = compare(&arena, &new, &old);
        tell(&arena, &there);
        tell(&arena, &back);
        DEMAND(there.changes.count == back.changes.count, "%d changes there, %d back",
               there.changes.count, back.changes.count);
    }
    arena_free(&arena);
    return 0;
}
