/* Text inside markup, for SVG and HTML. */
#ifndef PLUGWRIGHT_WRITE_MARKUP_H
#define PLUGWRIGHT_WRITE_MARKUP_H

#include "base/buf.h"

/* Appends a text, cleaned as base/unicode.h says; what would be markup is written as references, in
 * elements and in quoted attributes alike. */
void markup_text(struct buf *out, struct str text);

/* Appends a drawing as an address that an <img> can have: it is by itself there, its ids are its
 * own, and no script runs in it (RFC 2397, percent-encoded). */
void markup_drawing(struct buf *out, struct str svg);

/* Appends <tag>text</tag>, and <img> of a drawing with what it shows in words. */
void markup_element(struct buf *out, const char *tag, const char *text);
void markup_image(struct buf *out, const char *words, struct str svg);

#endif
