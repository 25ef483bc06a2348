#include "command/options.h"

#include <getopt.h>
#include <limits.h>
#include <stddef.h>
#include <string.h>

#include "base/str.h"

#define MEMBER(member) offsetof(struct options, member)

static const struct option_row rows[] = {
    {OPTION_OUTPUT, "output", 'o', "DIR", "where orders go [out]", MEMBER(directory)},
    {OPTION_JSON, "json", 'j', NULL, "print the report as JSON", MEMBER(json)},
    {OPTION_PDF, "pdf", 0, NULL, "have Pandoc and WeasyPrint render a PDF", MEMBER(pdf)},
    {OPTION_HTML, "html", 0, NULL, "write one page of HTML for a tablet", MEMBER(html)},
    {OPTION_PLOTS, "html", 0, NULL, "write a page with a plot for each figure", MEMBER(html)},
    {OPTION_CARD, "card", 0, NULL, "the card for the wall alone", MEMBER(card)},
    {OPTION_BRIEF, "brief", 0, NULL, "steps for the practised, a line each", MEMBER(brief)},
    {OPTION_COPIES, "copies", 0, "N", "so many prints of the templates [1]", MEMBER(copies)},
    {OPTION_SOLID, "solid", 0, NULL, "write the shaped body as NAME.stl and NAME.3mf",
     MEMBER(solid)},
    {OPTION_OUTLINES, "outlines", 0, NULL, "write outlines.svg, lines to cut in true size",
     MEMBER(outlines)},
    {OPTION_DONE, "done", 0, "STEPS", "plan what these steps leave: 1-9,12", MEMBER(done)},
    {OPTION_FROM, "from", 0, "DATE", "when the run, or the rest of it, begins", MEMBER(from)},
    {OPTION_FORCE, "force", 'f', NULL, "write over the order of another recipe file",
     MEMBER(force)},
    {OPTION_ONCE, "once", 0, NULL, "write the page as the recipe is now, and end", MEMBER(once)},
    {OPTION_SARIF, "sarif", 0, NULL, "print diagnostics as SARIF 2.1.0, for code hosts",
     MEMBER(sarif)},
    {OPTION_STRICT, "strict", 0, NULL, "warnings count as errors", MEMBER(strict)},
    {OPTION_MARKDOWN, "markdown", 0, NULL,
     "write the difference with its drawings to DIR/OLD-to-NEW/", MEMBER(markdown)},
    {OPTION_HISTORY, "history", 0, NULL, "show every committed version of one recipe",
     MEMBER(history)},
    {OPTION_PAST, "history", 0, NULL, "learn from every committed version too", MEMBER(history)},
    {OPTION_WRITE, "write", 0, NULL, "put what has proved itself into the workshop's file",
     MEMBER(write)},
    {OPTION_OWN, "own", 0, NULL, "leave base and workshop unread", MEMBER(own)},
    {OPTION_WORKSHOP, "workshop", 0, NULL, "the starter of a workshop's file", MEMBER(workshop)},
    {OPTION_OWN_ROWS, "workshop", 0, "FILE", "the rows of this workshop besides",
     MEMBER(workshop_file)},
    {0, "color", 0, "WHEN", "colour in messages: auto, always or never [auto]", MEMBER(color)},
    {0, "help", 'h', NULL, "print this", MEMBER(help)},
    {0, "version", 'V', NULL, "print the version", MEMBER(version)},
};

enum { ROWS = sizeof rows / sizeof *rows };

const struct option_row *options_rows(int *count) {
    *count = ROWS;
    return rows;
}

static void set(struct options *options, const struct option_row *row, const char *value) {
    void *member = (char *)options + row->member;
    if (row->argument)
        *(const char **)member = value;
    else
        *(bool *)member = true;
}

/* getopt_long tells a row by its index behind all letters, or by its letter. */
static const struct option_row *row_of(int told) {
    for (int i = 0; i < ROWS; i++)
        if (told == CHAR_MAX + 1 + i || (rows[i].letter && told == rows[i].letter)) return &rows[i];
    return NULL;
}

/* Of two rows with one name a command takes one at most; the other is none of its options. */
static bool is_other(int row, unsigned taken) {
    if (rows[row].bit & taken) return false;
    for (int i = 0; i < ROWS; i++)
        if (i != row && rows[i].bit & taken && strcmp(rows[i].name, rows[row].name) == 0)
            return true;
    for (int i = 0; i < row; i++)
        if (strcmp(rows[i].name, rows[row].name) == 0) return true;
    return false;
}

static void fill(struct option names[ROWS + 1], struct buf *letters, unsigned taken) {
    int count = 0;
    for (int i = 0; i < ROWS; i++) {
        if (is_other(i, taken)) continue;
        bool argument = rows[i].argument != NULL;
        names[count++] = (struct option){rows[i].name, argument ? required_argument : no_argument,
                                         NULL, CHAR_MAX + 1 + i};
        if (rows[i].letter) buf_printf(letters, "%c%s", rows[i].letter, argument ? ":" : "");
    }
    names[count] = (struct option){NULL, 0, NULL, 0};
}

/* "there is no option '--pfd' (did you mean --pdf?)", for what getopt_long did not take. */
static const char *unknown(struct arena *arena, const char *word, unsigned taken) {
    const char *names[ROWS];
    for (int i = 0; i < ROWS; i++) names[i] = rows[i].name;
    if (strncmp(word, "--", 2) != 0) return "this option is not known or lacks its value";
    struct str name = {word + 2, strcspn(word + 2, "=")};
    for (int i = 0; i < ROWS; i++)
        if (str_is(name, rows[i].name) && !is_other(i, taken))
            return arena_printf(
                arena, rows[i].argument ? "--%s is due with a value" : "--%s takes no value",
                rows[i].name);
    const char *near = str_nearest(name, names, ROWS);
    return arena_printf(
        arena, near ? "there is no option '%s' (did you mean --%s?)" : "there is no option '%s'",
        word, near);
}

const char *options_read(struct arena *arena, int argc, char **argv, int first, const char *command,
                         unsigned taken, struct options *options) {
    struct option names[ROWS + 1];
    struct buf letters = {.arena = arena};
    int told;
    fill(names, &letters, taken);
    optind = first;
    opterr = 0; /* what is wrong is told here */
    while ((told = getopt_long(argc, argv, letters.data, names, NULL)) != -1) {
        const struct option_row *row = row_of(told);
        if (!row) return unknown(arena, argv[optind - 1], taken);
        if (row->bit && !command) return "options stand behind a command";
        if (row->bit & ~taken)
            return arena_printf(arena, "'%s' does not take --%s", command, row->name);
        set(options, row, optarg);
    }
    static const char *const whens[] = {"auto", "always", "never"};
    bool known = !options->color;
    for (int i = 0; i < 3 && !known; i++) known = strcmp(options->color, whens[i]) == 0;
    if (!known) return "--color is auto, always or never";
    options->files = argv + optind;
    options->count = argc - optind;
    return NULL;
}

void options_help(struct buf *out, unsigned taken) {
    for (int i = 0; i < ROWS; i++) {
        const struct option_row *row = &rows[i];
        if (row->bit & ~taken) continue;
        const char *name =
            row->argument ? arena_printf(out->arena, "%s %s", row->name, row->argument) : row->name;
        if (row->letter)
            buf_printf(out, "  -%c, --%-14s%s\n", row->letter, name, row->says);
        else
            buf_printf(out, "      --%-14s%s\n", name, row->says);
    }
}
