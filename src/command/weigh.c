/* weigh: what a plug weighs and how it floats, or the whole report as JSON. */
#include "command/command.h"
#include "emit/report.h"
#include "emit/terminal.h"

int command_weigh(struct arena *arena, const struct options *options) {
    struct compilation c = compile_recipe(arena, options->files[0]);
    struct buf out = {.arena = arena};
    int status = command_report(arena, &c, options);
    if (status == STATUS_TROUBLE) return status;
    if (options->json && status == STATUS_ERRORS)
        report_diagnostics(&out, &c.diags);
    else if (options->json)
        report_emit(&out, c.recipe, &c.results, &c.diags);
    else if (status == STATUS_FINE)
        terminal_emit(&out, c.recipe, &c.results);
    return command_worse(status, command_print(&out));
}
