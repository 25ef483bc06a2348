/* What `learn` prints: the figures of the bench with their doubt, how good they prove, and what to
 * weigh next; for people, and as JSON.
 */
#ifndef PLUGWRIGHT_EMIT_LESSON_H
#define PLUGWRIGHT_EMIT_LESSON_H

#include "base/buf.h"
#include "compute/lesson.h"
#include "emit/write/listing.h"
#include "read/amend.h"

/* A committed version that could not be learned from. */
struct lesson_version {
    const char *file, *id, *date, *failure;
};

/* The committed versions of all recipes. */
struct lesson_past {
    int read, count; /* those that were read, and those with plugs or times of their own */
    struct lesson_version *left_out;
    int left_out_count;
};

struct lesson_view {
    const struct lesson *lesson;
    const struct recipe *const *recipes; /* as they are */
    const char *const *files;
    int count;
    const struct lesson_past *past; /* NULL: nobody asked for it */
};

/* The table, how good it proves, and what to weigh next. */
struct listing lesson_listing(struct arena *arena, const struct lesson_view *view);
void lesson_terminal(struct buf *out, const struct lesson_view *view);

/* The figures that have proved themselves, as rows of the workshop's file (their number returned);
 * `untold` says of each of the others why it stays out.  There is room for one a figure. */
int lesson_amendments(const struct lesson_view *view, struct arena *arena, const struct node *root,
                      struct amendment *amendments, struct buf *untold);

void lesson_json(struct buf *out, const struct lesson_view *view);

#endif
