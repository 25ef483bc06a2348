/* A recipe that is open in an editor: its unsaved text, compiled, and places in it as the protocol
 * counts them.
 */
#ifndef PLUGWRIGHT_SERVE_DOCUMENT_H
#define PLUGWRIGHT_SERVE_DOCUMENT_H

#include "compile.h"

/* What a place in a line counts (Language Server Protocol, 3.17, Position). */
enum encoding { ENCODING_UTF16, ENCODING_UTF8 };

struct document_open {
    struct arena arena; /* of all below; a change makes a new one */
    const char *uri;
    const char *path; /* NULL: it is no file, so it can have no base */
    int version;
    struct str text;
    const size_t *lines; /* first bytes; lines end at LF, CR LF and CR */
    int line_count;
    struct compilation compilation;
};

struct text_place {
    int line, character; /* from 0 */
};

struct text_range {
    struct text_place from, to;
};

/* Texts are copied; `document` is empty before. */
void document_open(struct document_open *document, struct str uri, int version, struct str text);
void document_change(struct document_open *document, int version, struct str text);
void document_close(struct document_open *document);

/* Between bytes and places; what lies behind the end of a line or text is its end. */
struct text_place document_place(const struct document_open *document, size_t byte,
                                 enum encoding unit);
size_t document_byte(const struct document_open *document, struct text_place place,
                     enum encoding unit);

/* Whether a span lies in this text and not in a base's, and its bytes: [*from, *to). */
bool document_bytes(const struct document_open *document, struct span span, size_t *from,
                    size_t *to);

#endif
