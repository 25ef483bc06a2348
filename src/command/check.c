/* check: says what is wrong with recipes, and nothing where all is well. */
#include "command/command.h"

int command_check(struct arena *arena, const struct options *options) {
    int status = STATUS_FINE;
    for (int i = 0; i < options->count; i++) {
        struct arena own = {0};
        struct compilation c = compile_check(&own, options->files[i]);
        status = command_worse(status, command_report(arena, &c, options));
        arena_free(&own);
    }
    return status;
}
