/* plugwright: one recipe in, one work order out.  The commands, and which of them is meant. */
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>

#include "command/command.h"
#include "command/options.h"

#define VERSION "1.0"

struct command {
    const char *name, *arguments, *what;
    int least, most;  /* operands */
    unsigned options; /* OPTION_ bits */
    int (*run)(struct arena *arena, const struct options *options);
};

enum { ANY_NUMBER = 1 << 20 };

static const struct command commands[] = {
    {"check", "FILE...", "say what is wrong with recipes", 1, ANY_NUMBER, 0, command_check},
    {"weigh", "FILE", "masses, floating, ballast; --json for the whole report", 1, 1, OPTION_JSON,
     command_weigh},
    {"order", "FILE...", "write the work order to out/NAME/; --pdf and --html render it", 1,
     ANY_NUMBER,
     OPTION_OUTPUT | OPTION_PDF | OPTION_HTML | OPTION_CARD | OPTION_BRIEF | OPTION_COPIES |
         OPTION_SOLID | OPTION_OUTLINES,
     command_order},
    {"diff", "OLD NEW", "what changed, and what it does; --history FILE: all versions in git", 1, 2,
     OPTION_JSON | OPTION_OUTPUT | OPTION_MARKDOWN | OPTION_HISTORY, command_diff},
    {"facts", "FILE", "a recipe as sorted lines, for git; --own: without its base", 1, 1,
     OPTION_OWN, command_facts},
    {"tables", "[NAME]", "the reference tables with their sources", 0, 1, 0, command_tables},
    {"new", "NAME", "a commented starter recipe on standard output", 1, 1, 0, command_new},
};

enum { COMMANDS = sizeof commands / sizeof *commands };

static int help(struct arena *arena) {
    struct buf out = {.arena = arena};
    buf_text(&out, "usage: plugwright COMMAND [OPTION]... FILE...\n\n");
    for (int i = 0; i < COMMANDS; i++)
        buf_printf(&out, "  %-7s %-9s %s\n", commands[i].name, commands[i].arguments,
                   commands[i].what);
    buf_char(&out, '\n');
    options_help(&out);
    buf_text(&out, "\nFILE may be - for standard input.  Exit status: 0 fine, 1 the recipe has "
                   "errors\n(diff: the recipes differ), 2 wrong use, unreadable file, failed write "
                   "or missing tool.\n");
    return command_print(&out);
}

static int version(struct arena *arena) {
    struct buf out = {.arena = arena};
    buf_text(&out, "plugwright " VERSION "\n");
    return command_print(&out);
}

static int misuse(struct arena *arena, const char *message) {
    command_trouble(arena, "%s", message);
    fputs("try 'plugwright --help'\n", stderr);
    return STATUS_TROUBLE;
}

static const struct command *find_command(const char *name) {
    for (int i = 0; i < COMMANDS; i++)
        if (strcmp(name, commands[i].name) == 0) return &commands[i];
    return NULL;
}

static int dispatch(struct arena *arena, int argc, char **argv) {
    struct options options = {.directory = "out"};
    const struct command *command = argc > 1 ? find_command(argv[1]) : NULL;
    if (argc > 1 && !command && argv[1][0] != '-')
        return misuse(arena, arena_printf(arena, "there is no command '%s'", argv[1]));
    const char *wrong =
        options_read(arena, argc, argv, command ? 2 : 1, command ? command->name : NULL,
                     command ? command->options : 0, &options);
    if (wrong) return misuse(arena, wrong);
    if (options.version) return version(arena);
    if (options.help) return help(arena);
    if (!command) return misuse(arena, "a command is due");
    if (options.count < command->least || options.count > command->most)
        return misuse(arena, arena_printf(arena, "usage: plugwright %s %s", command->name,
                                          command->arguments));
    return command->run(arena, &options);
}

/* A file that is opened later must not take the place of a stream that is closed: what is printed
 * would go there.  Writing to it fails, and is told. */
static void keep_streams_apart(void) {
    for (int stream = 0; stream <= 2; stream++)
        if (fcntl(stream, F_GETFD) < 0) open("/dev/null", stream ? O_RDONLY : O_WRONLY);
}

int main(int argc, char **argv) {
    struct arena arena = {0};
    keep_streams_apart();
    signal(SIGXFSZ, SIG_IGN); /* a file that may not grow is a failed write, which is told */
    int status = dispatch(&arena, argc, argv);
    arena_free(&arena);
    /* a warning that nobody saw is no success */
    bool lost = fflush(stderr) != 0 || ferror(stderr);
    return lost && status < STATUS_TROUBLE ? STATUS_TROUBLE : status;
}
