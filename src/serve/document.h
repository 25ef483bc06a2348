/* A recipe that is open in an editor: its unsaved text, and places in it as the protocol counts
 * them.  It is compiled when something asks for that, so that a run of keystrokes costs one.
 */
#ifndef PLUGWRIGHT_SERVE_DOCUMENT_H
#define PLUGWRIGHT_SERVE_DOCUMENT_H

#include "compile.h"

/* What a place in a line counts (Language Server Protocol, 3.17, Position). */
enum encoding { ENCODING_UTF16, ENCODING_UTF8 };

struct document_open {
    struct arena arena; /* of all below; a change makes a new one */
    const char *uri;
    const char *path; /* NULL: it is no file, so it can name no base and no workshop */
    int64_t version;
    struct str text;
    const size_t *lines; /* first bytes; lines end at LF, CR LF and CR */
    int line_count;
    bool compiled; /* the compilation is that of this text */
    bool told;     /* the editor has its diagnostics */
    struct compilation compilation;
};

struct text_place {
    int line, character; /* from 0 */
};

/* Texts are copied; `document` is empty before. */
void document_open(struct document_open *document, struct str uri, int64_t version,
                   struct str text);
void document_change(struct document_open *document, int64_t version, struct str text);
void document_close(struct document_open *document);

/* Its compilation, made now where it is not there; and that it has to be made anew, since a file
 * that it names may have been saved. */
struct compilation *document_compiled(struct document_open *document);
void document_outdate(struct document_open *document);

/* The same with all results, where it has no errors. */
struct compilation *document_completed(struct document_open *document);

/* Whether nothing is left to try of what its hints offer; tries it. */
bool document_settled(struct document_open *document);
void document_settle(struct document_open *document);

/* Between bytes and places; what lies behind the end of a line or text is its end. */
struct text_place document_place(const struct document_open *document, size_t byte,
                                 enum encoding unit);
size_t document_byte(const struct document_open *document, struct text_place place,
                     enum encoding unit);

/* Whether a span of the compilation lies in this text and not in a base's, and its bytes:
 * [*from, *to). */
bool document_bytes(const struct document_open *document, struct span span, size_t *from,
                    size_t *to);

/* The `file:` URI of a path, and the path of one, NULL where it is none (RFC 8089). */
const char *document_uri(struct arena *arena, const char *path);
const char *document_path(struct arena *arena, struct str uri);

#endif
