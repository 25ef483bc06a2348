/* The living page: a recipe's diagnostics, drawings and results one under the other, and in colour
 * what reads otherwise than in the state before (docs/command.md, The living page).
 *
 * One HTML file without outside files.  It loads a small script beside it, VIEW_STATE_FILE, again
 * and again, and itself anew when that names another state.  A text of the recipe becomes no
 * markup, and the page runs no script but its own and that one: its policy asks for a word that is
 * made of the page's whole content.
 */
#ifndef PLUGWRIGHT_VIEW_H
#define PLUGWRIGHT_VIEW_H

#include "base/diag.h"
#include "emit/drawing/figure.h"
#include "emit/write/listing.h"
#include "read/source.h"

#define VIEW_FILE       "view.html"
#define VIEW_STATE_FILE "view.js"

/* A state without errors. */
struct view_good {
    const struct figure_list *figures;
    const struct listing *listing;
    /* Of another state before it; or NULL, NULL and "": */
    const struct listing *former;
    const struct figure_list *overlays; /* both in one drawing */
    struct str changes;                 /* the chapter on them (difference_page) */
};

/* What the page shows of it. */
void view_good(struct buf *out, const struct view_good *good);

struct view_now {
    const char *file;    /* the recipe, as the user named it */
    struct str name;     /* the plug's, or "" */
    const char *failure; /* the file cannot be read, or NULL */
    struct diags *diags; /* of the state as it is */
    struct str good;     /* what view_good wrote of the last state without errors, or "" */
};

/* The page, and the name of the state that it shows. */
void view_page(struct buf *out, const struct view_now *view, char state[BLOB_ID_SIZE]);

/* The script that names the state of the page beside it, and whether it is still watched. */
void view_state(struct buf *out, const char *state, bool watched);

#endif
