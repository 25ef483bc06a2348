/* lsp: stands behind an editor and tells it what the compiler knows of an open recipe. */
#include <unistd.h>

#include "command/command.h"
#include "serve/session.h"

int command_lsp(struct arena *arena, const struct options *options) {
    (void)options;
    const char *wrong = session_hold(arena, STDIN_FILENO, STDOUT_FILENO, VERSION);
    if (wrong) command_trouble(arena, "%s", wrong);
    return wrong ? STATUS_ERRORS : STATUS_FINE; /* as the protocol has it for an end out of turn */
}
