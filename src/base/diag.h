/* Diagnostics as data: what is wrong, where, by which rule, and what was probably meant.
 *
 * They are collected while a recipe is read and judged, and printed in one go in the order of the
 * source.  Lines and columns count from 1; columns count code points, not bytes (GNU coding
 * standards, "Formatting Error Messages").  Messages are lower case without a full stop.
 *
 * Recipes and file names may be hostile: messages and hints are cleaned as they come in, names and
 * source lines as they are printed, so that nothing here can steer a terminal.
 */
#ifndef PLUGWRIGHT_DIAG_H
#define PLUGWRIGHT_DIAG_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#include "base/arena.h"
#include "base/str.h"

enum { DIAGS_SHOWN = 200 }; /* at most so many are printed; errors go before warnings then */

/* A text that was read, with the name that a person knows it by. */
struct text_file {
    const char *name;
    struct str text;
    const size_t *line_start; /* byte offset of each line's first byte */
    int line_count;
};

/* A run of code points on one line. */
struct span {
    const struct text_file *file; /* NULL: the diagnostic has no place */
    int line, column, length;     /* line 0: the file as a whole */
};

enum severity { SEVERITY_WARNING, SEVERITY_ERROR };

/* Keys and values, as a recipe would write them, for the mapping at `part`. */
struct diag_edit {
    struct span part;
    const char *text;
};

/* What a hint could tell the author to write.  It is worth printing only if it holds: if a recipe
 * with its edits has this diagnostic no more, and no other instead. */
struct diag_offer {
    int choice;        /* of offers with the same choice the first that holds stands for all */
    bool otherwise;    /* only where none before it holds, not even with a new warning */
    const char *words; /* as printed */
    struct diag_edit *edits;
    int edit_count;
    size_t edit_capacity;
    bool holds; /* it was tried, and is printed */
};

struct diag {
    enum severity severity;
    struct span at;
    const char *rule;    /* short, kebab-case: what `[rule]` shows */
    const char *message; /* one line */
    const char *hint;    /* one line, or NULL */
    const char *lead;    /* what offers that hold are printed behind instead of it, or NULL */
    struct diag_offer *offers;
    int offer_count;
    size_t offer_capacity;
    int file_order; /* place of the file in order of first mention */
    int order;      /* in which it was found: breaks ties of place */
};

struct diags {
    struct arena *arena;
    bool trial; /* nobody will read them: offers are neither made nor kept */
    struct diag *items;
    int count;
    size_t capacity;
    int errors, warnings;
    const struct text_file **files; /* in order of first mention */
    int file_count;
    size_t file_capacity;
};

/* Adds one diagnostic; `hint` may be NULL. */
__attribute__((format(printf, 6, 7))) void diag_add(struct diags *diags, enum severity severity,
                                                    struct span at, const char *rule,
                                                    const char *hint, const char *format, ...);

/* Adds to the diagnostic that was added last an offer without edits, and to its last offer an edit;
 * does nothing in a trial.  What holds is printed behind the hint and "write", or behind a lead. */
void diag_offer(struct diags *diags, int choice, bool otherwise, const char *words);
void diag_edit(struct diags *diags, struct span part, const char *text);
void diag_lead(struct diags *diags, const char *lead);

/* The same text on one line that a terminal shows as it stands: hidden characters and bytes that
 * are not UTF-8 (base/unicode.h) become '?', and it is cut at 640 code points. */
const char *diag_clean(struct arena *arena, const char *text);

/* A word of the recipe for use inside a message: cleaned, cut at 40 code points, in single quotes.
 */
const char *diag_quote(struct arena *arena, struct str text);

/* Sorts by file (in the order of first mention), line and column, keeping the order of finding. */
void diags_sort(struct diags *diags);

/* Of sorted ones that say the same of the same place, keeps the first. */
void diags_once(struct diags *diags);

/* Those that are printed, sorted; and the same of some that are sorted already. */
const struct diag **diags_shown(struct diags *diags, int *count);
const struct diag **diags_chosen(const struct diags *diags, int *count);

/* Where one stands, "grebe.yaml:4:11", and its source line as it is printed, in three parts; the
 * parts are NULL where it has no line. */
struct diag_place {
    const char *words, *before, *at, *after;
};
struct diag_place diag_place(struct arena *arena, struct span at);

/* Prints, sorted, `file:line:column: error: message [rule]` with the source line, a caret and the
 * hint under it; long source lines are cut around the caret. */
void diags_print(struct diags *diags, FILE *out, bool colour);

/* Prints the line that counts them, "2 errors, 1 warning", or nothing if there are none. */
void diags_summary(const struct diags *diags, FILE *out);

#endif
