/* Slices of text: a pointer and a size, not owned, not ended by a zero byte. */
#ifndef PLUGWRIGHT_STR_H
#define PLUGWRIGHT_STR_H

#include <stdbool.h>
#include <stddef.h>

struct str {
    const char *data;
    size_t size;
};

struct str str_of(const char *text);                  /* a C string as a slice */
bool str_equal(struct str a, struct str b);           /* byte for byte */
bool str_is(struct str a, const char *text);          /* byte for byte with a C string */
bool str_is_any_case(struct str a, const char *text); /* but for upper and lower case (ASCII) */
struct str str_trim(struct str text);                 /* without blanks and tabs at either end */
int str_compare(struct str a, struct str b); /* as memcmp, a shorter text before its longer one */

/* Edit distance (insert, delete, change, swap of neighbours), given up above `most` with most + 1.
 * Words of more than 64 bytes are never near.
 * Source: the restricted Damerau-Levenshtein recurrence. */
int str_distance(struct str a, struct str b, int most);

/* The candidate nearest to `word`, upper and lower case taken as one, within a third of its length
 * (two edits at least, but never a change of everything), or NULL.
 * `names` holds `count` C strings; the first of equals wins. */
const char *str_nearest(struct str word, const char *const *names, size_t count);

#endif
