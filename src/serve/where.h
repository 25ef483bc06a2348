/* Which part of the language a place in an unfinished recipe belongs to.
 *
 * While one types, a recipe is often none that can be read; so this looks at the text before the
 * place alone, by indentation and brackets, and takes what it finds as it stands.  Time is linear
 * in the text, memory bounded by WHERE_LEVELS.
 */
#ifndef PLUGWRIGHT_SERVE_WHERE_H
#define PLUGWRIGHT_SERVE_WHERE_H

#include "model/grammar.h"

enum { WHERE_LEVELS = 40 };

struct where {
    const struct part *part;   /* whose key or value stands here; NULL: of nothing that is known */
    const struct field *field; /* the key that stands here, or whose value does; NULL: none, or none
                                * that is known */
    bool value;                /* a value, and no key */
    bool flow;                 /* within brackets */
    size_t from, to;           /* the key, or the value, that the place is in: bytes */
    size_t word;               /* where the last word of it before the place begins */
    struct str *given;         /* keys of the same part that are there, before and behind */
    int given_count;
    size_t given_capacity;
};

struct where where_find(struct arena *arena, struct str text, size_t at);

#endif
