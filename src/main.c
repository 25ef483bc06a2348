/* plugwright: one recipe in, one work order out.  The commands, and which of them is meant. */
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>

#include "command/command.h"
#include "command/options.h"

#ifndef COMMIT
#define COMMIT "" /* the Makefile knows it */
#endif

struct command {
    const char *name, *arguments, *what, *example;
    int least, most;  /* operands */
    unsigned options; /* OPTION_ bits */
    int (*run)(struct arena *arena, const struct options *options);
};

enum { ANY_NUMBER = 1 << 20 };

static const struct command commands[] = {
    {"check", "FILE...", "say what is wrong with recipes",
     "plugwright check --strict recipes/*.yaml", 1, ANY_NUMBER,
     OPTION_STRICT | OPTION_JSON | OPTION_SARIF, command_check},
    {"weigh", "FILE", "masses, floating, ballast; --json for the whole report",
     "plugwright weigh recipes/grebe.yaml", 1, 1, OPTION_JSON, command_weigh},
    {"order", "FILE...", "write the work order to out/NAME/; --pdf and --html render it",
     "plugwright order --pdf recipes/grebe.yaml", 1, ANY_NUMBER,
     OPTION_OUTPUT | OPTION_PDF | OPTION_HTML | OPTION_CARD | OPTION_BRIEF | OPTION_COPIES |
         OPTION_SOLID | OPTION_OUTLINES | OPTION_FORCE,
     command_order},
    {"plan", "FILE...", "several runs on one bench: what to do when, and one shopping list",
     "plugwright plan recipes/grebe.yaml recipes/grebe-dusk.yaml", 1, ANY_NUMBER,
     OPTION_OUTPUT | OPTION_PDF | OPTION_JSON | OPTION_FORCE, command_plan},
    {"diff", "OLD NEW", "what changed, and what it does; --history FILE: all versions in git",
     "plugwright diff recipes/grebe.yaml recipes/grebe-dusk.yaml", 1, 2,
     OPTION_JSON | OPTION_OUTPUT | OPTION_MARKDOWN | OPTION_HISTORY, command_diff},
    {"facts", "FILE", "a recipe as sorted lines, for git; --own: without its base",
     "plugwright facts recipes/grebe.yaml", 1, 1, OPTION_OWN, command_facts},
    {"tables", "[NAME]", "the reference tables with their sources", "plugwright tables wood", 0, 1,
     0, command_tables},
    {"new", "NAME", "a commented starter recipe on standard output",
     "plugwright new heron >heron.yaml", 1, 1, 0, command_new},
};

enum { COMMANDS = sizeof commands / sizeof *commands };

static const char statuses[] =
    "Exit status: 0 fine, 1 the recipe has errors\n(diff: the recipes differ), 2 wrong use, "
    "unreadable file, failed write or missing tool.\n";

static int help(struct arena *arena) {
    struct buf out = {.arena = arena};
    buf_text(&out, "usage: plugwright COMMAND [OPTION]... FILE...\n\n");
    for (int i = 0; i < COMMANDS; i++)
        buf_printf(&out, "  %-7s %-9s %s\n", commands[i].name, commands[i].arguments,
                   commands[i].what);
    buf_char(&out, '\n');
    options_help(&out, ~0U);
    buf_printf(&out,
               "\nFILE may be - for standard input.  'plugwright COMMAND --help' tells more.\n%s",
               statuses);
    return command_print(&out);
}

static int help_of(struct arena *arena, const struct command *command) {
    struct buf out = {.arena = arena};
    buf_printf(&out, "usage: plugwright %s [OPTION]... %s\n\n%s\n\n", command->name,
               command->arguments, command->what);
    options_help(&out, command->options);
    buf_printf(&out, "\nFor example: %s\n%s", command->example, statuses);
    return command_print(&out);
}

static int version(struct arena *arena) {
    struct buf out = {.arena = arena};
    buf_text(&out, *COMMIT ? "plugwright " VERSION " (" COMMIT ")\n" : "plugwright " VERSION "\n");
    return command_print(&out);
}

static int misuse(struct arena *arena, const struct command *command, const char *message) {
    command_trouble(arena, "%s", message);
    fprintf(stderr, command ? "try 'plugwright %s --help'\n" : "try 'plugwright --help'\n",
            command ? command->name : "");
    return STATUS_TROUBLE;
}

static const char *no_command(struct arena *arena, const char *word) {
    const char *names[COMMANDS];
    for (int i = 0; i < COMMANDS; i++) names[i] = commands[i].name;
    const char *near = str_nearest(str_of(word), names, COMMANDS);
    return arena_printf(
        arena, near ? "there is no command '%s' (did you mean %s?)" : "there is no command '%s'",
        word, near);
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
        return misuse(arena, NULL, no_command(arena, argv[1]));
    const char *wrong =
        options_read(arena, argc, argv, command ? 2 : 1, command ? command->name : NULL,
                     command ? command->options : 0, &options);
    if (wrong) return misuse(arena, command, wrong);
    if (options.version) return version(arena);
    if (options.help) return command ? help_of(arena, command) : help(arena);
    if (!command) return misuse(arena, NULL, "a command is due");
    if (options.count < command->least || options.count > command->most)
        return misuse(
            arena, command,
            arena_printf(arena, "usage: plugwright %s %s", command->name, command->arguments));
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
