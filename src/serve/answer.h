/* What an editor asks about an open recipe, answered as the protocol writes it (Language Server
 * Protocol, 3.17): each puts the value of `result` under that key.
 */
#ifndef PLUGWRIGHT_SERVE_ANSWER_H
#define PLUGWRIGHT_SERVE_ANSWER_H

#include "emit/write/json.h"
#include "serve/document.h"

struct answer {
    struct arena *arena; /* of the message */
    struct json *json;
    enum encoding encoding;
    struct document_open *document;
};

void answer_completion(const struct answer *answer, size_t at); /* what may stand here */
void answer_hover(const struct answer *answer, size_t at);      /* what stands here */
void answer_definition(const struct answer *answer, size_t at); /* the file that is named here */
void answer_symbols(const struct answer *answer);               /* the parts of the recipe */
void answer_colours(const struct answer *answer);               /* where one is written */

/* What follows from the recipe, beside the key that it follows from, between two lines. */
void answer_hints(const struct answer *answer, int first_line, int last_line);

/* All diagnostics, under the key `diagnostics`: those of another file stand at what names it. */
void answer_diagnostics(const struct answer *answer);

/* A range of bytes. */
void answer_range(const struct answer *answer, const char *key, size_t from, size_t to);

#endif
