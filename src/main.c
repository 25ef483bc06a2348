/* plugwright: one recipe in, one work order out.  Commands and options only; see DEVELOPERS.md. */
#include <errno.h>
#include <getopt.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "compare.h"
#include "compile.h"
#include "emit/calendar.h"
#include "emit/drawing/drawing.h"
#include "emit/drawing/difference.h"
#include "emit/manual.h"
#include "emit/order/order.h"
#include "emit/print/style.h"
#include "emit/report.h"
#include "emit/schema.h"
#include "emit/tables.h"
#include "emit/terminal.h"
#include "history.h"
#include "inspect.h"
#include "print.h"
#include "system/path.h"
#include "system/publish.h"

#define VERSION "1.0"

/* docs/command.md, Exit status. */
enum { STATUS_FINE = 0, STATUS_ERRORS = 1, STATUS_TROUBLE = 2 };

struct options {
    bool json, pdf, html, markdown, history, own, help;
    const char *directory;
    char **files;
    int count;
};

struct command {
    const char *name, *arguments, *what;
    int least, most; /* operands */
    const char *options;
    int (*run)(struct arena *arena, const struct options *options);
};

/* --- small talk ------------------------------------------------------------------------------ */

static void complain(struct arena *arena, const char *message) {
    fflush(stdout);
    fprintf(stderr, "plugwright: error: %s\n", diag_clean(arena, message));
}

static int worse(int a, int b) {
    return a > b ? a : b;
}

static bool colour_wanted(void) {
    const char *no_color = getenv("NO_COLOR");
    return isatty(STDERR_FILENO) && !(no_color && *no_color);
}

/* Prints what is wrong with a compilation, and gives the exit status that it calls for. */
static int report_problems(struct arena *arena, struct compilation *c, bool summary) {
    if (c->failure) {
        complain(arena, c->failure);
        return STATUS_TROUBLE;
    }
    diags_print(&c->diags, stderr, colour_wanted());
    if (summary) diags_summary(&c->diags, stderr);
    return c->diags.errors ? STATUS_ERRORS : STATUS_FINE;
}

static int print_out(struct arena *arena, const struct buf *out) {
    if (out->size) fwrite(out->data, 1, out->size, stdout);
    if (fflush(stdout) == 0 && !ferror(stdout)) return STATUS_FINE;
    complain(arena, arena_printf(arena, "standard output: %s", strerror(errno)));
    return STATUS_TROUBLE;
}

/* --- commands -------------------------------------------------------------------------------- */

static int run_check(struct arena *arena, const struct options *options) {
    int status = STATUS_FINE;
    for (int i = 0; i < options->count; i++) {
        struct arena own = {0};
        struct compilation c = compile_recipe(&own, options->files[i]);
        status = worse(status, report_problems(arena, &c, true));
        arena_free(&own);
    }
    return status;
}

static int run_weigh(struct arena *arena, const struct options *options) {
    struct compilation c = compile_recipe(arena, options->files[0]);
    struct buf out = {.arena = arena};
    int status = report_problems(arena, &c, true);
    if (status == STATUS_TROUBLE) return status;
    if (options->json && status == STATUS_ERRORS)
        report_diagnostics(&out, &c.diags);
    else if (options->json)
        report_emit(&out, c.recipe, &c.results, &c.diags);
    else if (status == STATUS_FINE)
        terminal_emit(&out, c.recipe, &c.results);
    return worse(status, print_out(arena, &out));
}

static struct str bytes_of(const struct buf *buf) {
    return (struct str){buf->data, buf->size};
}

/* The order's files: its drawings, and the Markdown that refers to them last. */
static struct publish_file *order_files(struct arena *arena, const struct compilation *c,
                                        int *count) {
    struct figure_list figures = drawing_all(arena, c->recipe, &c->results);
    struct publish_file *files = NEW(arena, struct publish_file, figures.count + 2);
    struct buf markdown = {.arena = arena}, calendar = {.arena = arena};
    int last = figures.count;
    calendar_emit(&calendar, c->recipe, &c->results);
    order_emit(&markdown, c->recipe, &c->results, &figures);
    for (int i = 0; i < figures.count; i++)
        files[i] =
            (struct publish_file){figures.figures[i].file, bytes_of(&figures.figures[i].svg)};
    if (calendar.size) files[last++] = (struct publish_file){"run.ics", bytes_of(&calendar)};
    files[last++] = (struct publish_file){"order.md", bytes_of(&markdown)};
    *count = last;
    return files;
}

struct ordering {
    struct arena *arena;
    const struct options *options;
    const char **stems;
    int stem_count;
    struct print_job *jobs;
    int job_count;
};

static bool stem_taken(struct ordering *o, const char *stem) {
    for (int i = 0; i < o->stem_count; i++)
        if (strcmp(o->stems[i], stem) == 0) return true;
    o->stems[o->stem_count++] = stem;
    return false;
}

static void queue(struct ordering *o, enum print_form form, const char *stem,
                  const struct publish_file *files, int count, const struct recipe *recipe) {
    o->jobs[o->job_count++] = (struct print_job){.form = form,
                                                 .directory = o->options->directory,
                                                 .stem = stem,
                                                 .files = files,
                                                 .count = count,
                                                 .title = recipe->name,
                                                 .paper = recipe->shop->paper};
}

static int order_one(struct ordering *o, const char *path) {
    struct compilation c = compile_recipe(o->arena, path);
    int status = report_problems(o->arena, &c, true), count;
    if (status != STATUS_FINE) return status;
    const char *stem = path_stem(o->arena, path);
    if (!stem) stem = "order";
    if (stem_taken(o, stem)) {
        complain(o->arena, arena_printf(o->arena,
                                        "%s: another of these recipes already goes to "
                                        "%s/%s",
                                        path, o->options->directory, stem));
        return STATUS_TROUBLE;
    }
    struct publish_file *files = order_files(o->arena, &c, &count);
    const char *failure = publish_folder(o->arena, o->options->directory, stem, files, count);
    if (failure) {
        complain(o->arena, failure);
        return STATUS_TROUBLE;
    }
    printf("%s/%s/order.md\n", o->options->directory, stem);
    if (o->options->pdf) queue(o, PRINT_PDF, stem, files, count, c.recipe);
    if (o->options->html) queue(o, PRINT_TABLET, stem, files, count, c.recipe);
    return STATUS_FINE;
}

static int print_jobs(struct ordering *o) {
    int failed;
    fflush(stdout);
    failed = print_orders(o->arena, o->jobs, o->job_count, isatty(STDERR_FILENO) ? stderr : NULL);
    for (int i = 0; i < o->job_count; i++) {
        const struct print_job *job = &o->jobs[i];
        if (job->failure)
            complain(o->arena, job->failure);
        else
            printf("%s/%s/order.%s\n", job->directory, job->stem,
                   job->form == PRINT_PDF ? "pdf" : "html");
    }
    return failed ? STATUS_TROUBLE : STATUS_FINE;
}

static int run_order(struct arena *arena, const struct options *options) {
    struct ordering o = {.arena = arena,
                         .options = options,
                         .stems = NEW(arena, const char *, options->count),
                         .jobs = NEW(arena, struct print_job, 2 * options->count)};
    struct buf nothing = {.arena = arena};
    int status = STATUS_FINE;
    for (int i = 0; i < options->count; i++)
        status = worse(status, order_one(&o, options->files[i]));
    if (o.job_count) status = worse(status, print_jobs(&o));
    return worse(status, print_out(arena, &nothing));
}

static int run_tables(struct arena *arena, const struct options *options) {
    struct buf out = {.arena = arena};
    const char *name = options->count ? options->files[0] : NULL;
    if (name && strcmp(name, "fields") == 0)
        manual_emit(&out);
    else if (name && strcmp(name, "schema") == 0)
        schema_emit(&out);
    else if (!tables_emit(&out, name)) {
        complain(arena, arena_printf(arena, "there is no table '%s'; there are: %s", name,
                                     tables_names(arena)));
        return STATUS_TROUBLE;
    }
    if (!name)
        buf_text(&out, "fields     the recipe language, field by field\n"
                       "schema     the same as a JSON Schema for editors\n");
    return print_out(arena, &out);
}

/* A name as a YAML scalar that reads back as it is: single quotes, doubled inside. */
static void put_scalar(struct buf *out, const char *name) {
    buf_char(out, '\'');
    for (; *name; name++) {
        if ((unsigned char)*name < ' ') continue;
        if (*name == '\'') buf_char(out, '\'');
        buf_char(out, *name);
    }
    buf_char(out, '\'');
}

static int run_new(struct arena *arena, const struct options *options) {
    static const char mark[] = "@NAME@";
    struct buf out = {.arena = arena};
    struct str starter = style_starter_yaml;
    for (size_t i = 0; i < starter.size;) {
        if (starter.size - i > strlen(mark) && memcmp(starter.data + i, mark, strlen(mark)) == 0) {
            put_scalar(&out, options->files[0]);
            i += strlen(mark);
        } else {
            buf_char(&out, starter.data[i++]);
        }
    }
    return print_out(arena, &out);
}

/* --- comparing ------------------------------------------------------------------------------- */

/* The page and its drawings go to DIR/OLD-to-NEW/. */
static int publish_difference(struct arena *arena, const struct options *options,
                              const struct difference *d) {
    const char *old = path_stem(arena, d->old.file), *new = path_stem(arena, d->new.file);
    const char *stem = arena_printf(arena, "%s-to-%s", old ? old : "old", new ? new : "new");
    struct figure_list figures = drawing_difference(arena, d->old.results, d->new.results);
    struct publish_file *files = NEW(arena, struct publish_file, figures.count + 1);
    struct buf page = {.arena = arena};
    difference_markdown(&page, d, &figures);
    for (int i = 0; i < figures.count; i++)
        files[i] =
            (struct publish_file){figures.figures[i].file, bytes_of(&figures.figures[i].svg)};
    files[figures.count] = (struct publish_file){"difference.md", bytes_of(&page)};
    const char *failure = publish_folder(arena, options->directory, stem, files, figures.count + 1);
    if (failure) {
        complain(arena, failure);
        return STATUS_TROUBLE;
    }
    printf("%s/%s/difference.md\n", options->directory, stem);
    return STATUS_FINE;
}

static int run_history(struct arena *arena, const struct options *options) {
    struct buf out = {.arena = arena};
    struct difference_history history = {0};
    const char *failure = history_read(arena, options->files[0], &history);
    if (failure) {
        complain(arena, failure);
        return STATUS_TROUBLE;
    }
    if (options->json)
        difference_history_json(&out, &history);
    else
        difference_history_terminal(&out, &history);
    return print_out(arena, &out);
}

static int diff_misused(struct arena *arena, const struct options *options) {
    if (options->history) return 0;
    const char *message =
        options->count < 2 ? "diff compares two recipes: OLD NEW"
        : strcmp(options->files[0], "-") == 0 && strcmp(options->files[1], "-") == 0
            ? "only one of the two can be standard input"
            : NULL;
    if (message) complain(arena, message);
    return message ? STATUS_TROUBLE : STATUS_FINE;
}

/* Statuses of diff as POSIX has them: 0 the same, 1 different, 2 trouble. */
static int run_diff(struct arena *arena, const struct options *options) {
    if (diff_misused(arena, options)) return STATUS_TROUBLE;
    if (options->history) return run_history(arena, options);
    struct compilation old = compile_recipe(arena, options->files[0]);
    struct compilation new = compile_recipe(arena, options->files[1]);
    struct buf out = {.arena = arena};
    if (compilation_failed(&old)) report_problems(arena, &old, true);
    if (compilation_failed(&new)) report_problems(arena, &new, true);
    if (compilation_failed(&old) || compilation_failed(&new)) return STATUS_TROUBLE;
    struct difference d = compare(arena, &old, &new);
    int status = d.changes.count ? STATUS_ERRORS : STATUS_FINE;
    if (options->markdown) status = worse(status, publish_difference(arena, options, &d));
    if (options->json)
        difference_json(&out, &d);
    else if (!options->markdown)
        difference_terminal(&out, &d);
    return worse(status, print_out(arena, &out));
}

/* A recipe with errors has facts too: git would show nothing of a version that is not printed. */
static int run_facts(struct arena *arena, const struct options *options) {
    struct buf out = {.arena = arena};
    const char *failure = inspect_facts(&out, options->files[0], options->own);
    if (!failure) return print_out(arena, &out);
    complain(arena, failure);
    return STATUS_TROUBLE;
}

static const struct command commands[] = {
    {"check", "FILE...", "say what is wrong with recipes", 1, 1 << 20, "", run_check},
    {"weigh", "FILE", "masses, floating, ballast; --json for the whole report", 1, 1, "j",
     run_weigh},
    {"order", "FILE...", "write the work order to out/NAME/; --pdf and --html render it", 1,
     1 << 20, "oph", run_order},
    {"diff", "OLD NEW", "what changed, and what it does; --history FILE: all versions in git", 1, 2,
     "jomy", run_diff},
    {"facts", "FILE", "a recipe as sorted lines, for git; --own: without its base", 1, 1, "w",
     run_facts},
    {"tables", "[NAME]", "the reference tables with their sources", 0, 1, "", run_tables},
    {"new", "NAME", "a commented starter recipe on standard output", 1, 1, "", run_new},
};

enum { COMMANDS = sizeof commands / sizeof *commands };

/* --- the command line ------------------------------------------------------------------------ */

static void usage(FILE *out) {
    fputs("usage: plugwright COMMAND [OPTION]... FILE...\n\n", out);
    for (int i = 0; i < COMMANDS; i++)
        fprintf(out, "  %-7s %-9s %s\n", commands[i].name, commands[i].arguments, commands[i].what);
    fputs(
        "\n  -o, --output DIR  where orders go [out]\n"
        "  -j, --json        print the report as JSON\n"
        "      --pdf         have Pandoc and WeasyPrint render order.pdf\n"
        "      --html        write order.html, one page for a tablet\n"
        "      --markdown    write the difference with its drawings to DIR/OLD-to-NEW/\n"
        "      --history     show every committed version of one recipe\n"
        "      --own         leave a base unread\n"
        "  -h, --help        print this\n"
        "  -V, --version     print the version\n\n"
        "FILE may be - for standard input.  Exit status: 0 fine, 1 the recipe has errors\n"
        "(diff: the recipes differ), 2 wrong use, unreadable file, failed write or missing tool.\n",
        out);
}

static int misuse(struct arena *arena, const char *message) {
    complain(arena, message);
    fputs("try 'plugwright --help'\n", stderr);
    return STATUS_TROUBLE;
}

static const struct command *find_command(const char *name) {
    for (int i = 0; i < COMMANDS; i++)
        if (strcmp(name, commands[i].name) == 0) return &commands[i];
    return NULL;
}

enum { LONG_PDF = 256, LONG_HTML, LONG_MARKDOWN, LONG_HISTORY, LONG_OWN };

static const struct option long_options[] = {
    {"help", no_argument, NULL, 'h'},
    {"version", no_argument, NULL, 'V'},
    {"output", required_argument, NULL, 'o'},
    {"json", no_argument, NULL, 'j'},
    {"pdf", no_argument, NULL, LONG_PDF},
    {"html", no_argument, NULL, LONG_HTML},
    {"markdown", no_argument, NULL, LONG_MARKDOWN},
    {"history", no_argument, NULL, LONG_HISTORY},
    {"own", no_argument, NULL, LONG_OWN},
    {NULL, 0, NULL, 0},
};

/* Takes one option; false where the command has none such. */
static bool take_option(struct options *options, int option, const char *value,
                        const struct command *command) {
    const char *known = command ? command->options : "";
    switch (option) {
    case 'h':
        return options->help = true;
    case 'o':
        options->directory = value;
        return strchr(known, 'o') != NULL;
    case 'j':
        options->json = true;
        return strchr(known, 'j') != NULL;
    case LONG_PDF:
        options->pdf = true;
        return strchr(known, 'p') != NULL;
    case LONG_MARKDOWN:
        options->markdown = true;
        return strchr(known, 'm') != NULL;
    case LONG_HISTORY:
        options->history = true;
        return strchr(known, 'y') != NULL;
    case LONG_OWN:
        options->own = true;
        return strchr(known, 'w') != NULL;
    case LONG_HTML:
        options->html = true;
        return strchr(known, 'h') != NULL;
    default:
        return false;
    }
}

static int dispatch(struct arena *arena, int argc, char **argv) {
    struct options options = {.directory = "out"};
    const struct command *command = argc > 1 ? find_command(argv[1]) : NULL;
    int option;
    if (argc > 1 && !command && argv[1][0] != '-')
        return misuse(arena, arena_printf(arena, "there is no command '%s'", argv[1]));
    optind = command ? 2 : 1;
    while ((option = getopt_long(argc, argv, "ho:jV", long_options, NULL)) != -1) {
        if (option == 'V') {
            puts("plugwright " VERSION);
            return print_out(arena, &(struct buf){.arena = arena});
        }
        if (option == '?') return misuse(arena, "this option is not known or lacks its value");
        if (!take_option(&options, option, optarg, command))
            return misuse(arena, command ? arena_printf(arena, "'%s' does not take this option",
                                                        command->name)
                                         : "options stand behind a command");
    }
    if (options.help) {
        usage(stdout);
        return print_out(arena, &(struct buf){.arena = arena});
    }
    if (!command) return misuse(arena, "a command is due");
    options.files = argv + optind;
    options.count = argc - optind;
    if (options.count < command->least || options.count > command->most)
        return misuse(arena, arena_printf(arena, "usage: plugwright %s %s", command->name,
                                          command->arguments));
    return command->run(arena, &options);
}

int main(int argc, char **argv) {
    struct arena arena = {0};
    int status = dispatch(&arena, argc, argv);
    arena_free(&arena);
    return status;
}
