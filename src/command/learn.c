/* learn: what the bench taught, by the measured values of many recipes. */
#include "command/command.h"
#include "emit/lesson.h"

static int refused(struct arena *arena, const char *message) {
    command_trouble(arena, "%s", message);
    return STATUS_ERRORS;
}

int command_learn(struct arena *arena, const struct options *options) {
    int count = options->count, status = STATUS_FINE;
    const struct recipe **recipes = NEW(arena, const struct recipe *, count);
    const struct results **results = NEW(arena, const struct results *, count);
    if (count > LESSON_MOST_RECIPES)
        return refused(arena,
                       arena_printf(arena, "learn takes %d recipes at most, and these are %d",
                                    LESSON_MOST_RECIPES, count));
    for (int i = 0; i < count; i++) {
        struct compilation *c = NEW(arena, struct compilation, 1);
        *c = compile_recipe(arena, options->files[i]);
        status = command_worse(status, command_report(arena, c, options));
        recipes[i] = c->recipe;
        results[i] = &c->results;
    }
    if (status != STATUS_FINE) return status;
    struct lesson lesson = lesson_of(arena, recipes, results, count);
    if (lesson.too_many)
        return refused(arena, arena_printf(arena,
                                           "these recipes have more than %d woods, products, "
                                           "hooks and operations: give it fewer at a time",
                                           LESSON_MOST_FIGURES));
    struct lesson_view view = {&lesson, recipes, (const char *const *)options->files, count};
    struct buf out = {.arena = arena};
    if (options->json)
        lesson_json(&out, &view);
    else
        lesson_terminal(&out, &view);
    return command_print(&out);
}
