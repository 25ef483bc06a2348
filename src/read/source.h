/* A recipe's bytes: read once, bounded, checked to be UTF-8, and named by their git blob id. */
#ifndef PLUGWRIGHT_SOURCE_H
#define PLUGWRIGHT_SOURCE_H

#include <stdbool.h>

#include "base/arena.h"
#include "base/diag.h"

enum { SOURCE_MAX_BYTES = 1 << 20, BLOB_ID_SIZE = 41 };

struct source {
    struct text_file file; /* file.name is the path as the user wrote it, "-" for standard input;
                            * file.text is without a byte order mark */
    char blob_id[BLOB_ID_SIZE]; /* SHA-1 of "blob SIZE\0" and the bytes, in hex: what git stores it
                                 * as; "" if there were too many bytes */
    int mark;                   /* bytes of the byte order mark, which stand before file.text */
    bool readable;              /* false after a diagnostic from which no tree can follow */
};

/* Reads `path` ("-": standard input), which is a regular file or a pipe.
 * Returns NULL and sets *failure to a one-line reason when the file cannot be read (exit status 2).
 * Too many bytes, bad UTF-8, control characters and merge conflict markers are diagnostics instead
 * (rules `source` and `conflict`, at the offending place). */
const struct source *source_read(struct arena *arena, const char *path, struct diags *diags,
                                 const char **failure);

/* The same from an open file, which stays open.  `name` is what diagnostics call it; *reason says
 * in a few words why the result is NULL. */
const struct source *source_read_open(struct arena *arena, const char *name, int fd,
                                      struct diags *diags, const char **reason);

/* The same from memory. */
const struct source *source_of(struct arena *arena, const char *name, struct str bytes,
                               struct diags *diags);

/* The id of any bytes: SHA-1 of "blob SIZE\0" and the bytes, in hex. */
void source_id(struct str bytes, char id[BLOB_ID_SIZE]);

#endif
