/* The record of a folder: which files the program has put there, and what they were made of.
 *
 * It is the hidden file ".plugwright": a first line with what the files were made of, and one line
 * with the name of each.
 */
#ifndef PLUGWRIGHT_RECORD_H
#define PLUGWRIGHT_RECORD_H

#include <stdbool.h>

#include "base/arena.h"
#include "base/str.h"

#define RECORD_NAME ".plugwright"

struct record {
    const char *of; /* "" where there is no record */
    const char **names;
    size_t count, capacity;
};

/* Of the open folder, or an empty one where none is there; false with errno set where one is there
 * that cannot be read. */
bool record_read(struct arena *arena, int folder, struct record *record);

bool record_has(const struct record *record, const char *name);

/* Adds a name that it does not have yet. */
void record_add(struct arena *arena, struct record *record, const char *name);

/* Its bytes in the file. */
struct str record_bytes(struct arena *arena, const struct record *record);

#endif
