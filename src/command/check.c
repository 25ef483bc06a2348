/* check: says what is wrong with recipes, and nothing where all is well; for programs as JSON or
 * SARIF too.
 */
#include "command/command.h"
#include "emit/report.h"
#include "emit/sarif.h"

/* Every recipe has an arena of its own, which goes with it: a million recipes take no more memory.
 */
static int check_in_words(struct arena *arena, const struct options *options) {
    int status = STATUS_FINE;
    for (int i = 0; i < options->count; i++) {
        struct arena own = {0};
        struct compilation c = compile_check(&own, options->files[i]);
        status = command_worse(status, command_report(arena, &c, options));
        arena_free(&own);
    }
    return status;
}

static int check_for_programs(struct arena *arena, const struct options *options) {
    struct compilation *all = NEW(arena, struct compilation, options->count);
    const struct diags **lists = NEW(arena, const struct diags *, options->count);
    struct buf out = {.arena = arena};
    int status = STATUS_FINE;
    for (int i = 0; i < options->count; i++) {
        all[i] = compile_check(arena, options->files[i]);
        lists[i] = &all[i].diags;
        status = command_worse(status, command_report(arena, &all[i], options));
    }
    if (options->sarif)
        sarif_emit(&out, VERSION, lists, options->count);
    else
        report_all_diagnostics(&out, lists, options->count);
    return command_worse(status, command_print(&out));
}

int command_check(struct arena *arena, const struct options *options) {
    if (options->json || options->sarif) return check_for_programs(arena, options);
    return check_in_words(arena, options);
}
