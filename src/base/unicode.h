/* Characters: their bytes, whether a reader sees them, and how wide they stand.
 *
 * Hidden is what shows nothing and can mislead: controls, marks and overrides of the direction of
 * writing, joiners, fillers, soft hyphens, tags, what is reserved for private use, for surrogates
 * or for nothing yet (general categories Cc, Cf, Co, Cs and Cn, and what Unicode calls default
 * ignorable).  What ends a line, and a tab, is a break.  Which is which is utf8proc's to say, here
 * alone, so that a text is cleaned alike wherever it goes:
 *     what the bench reads (order, drawings, calendar, terminal) leaves hidden characters out;
 *     a diagnostic has '?' for each, so that columns count on (base/diag.h);
 *     facts and differences write their numbers, so that no two texts read alike (model/walk.h).
 * Source: The Unicode Standard, chapters 4.5 and 5.21; widths, Unicode Standard Annex 11.
 */
#ifndef PLUGWRIGHT_UNICODE_H
#define PLUGWRIGHT_UNICODE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/buf.h"
#include "base/str.h"

#define UNICODE_REPLACEMENT "\xEF\xBF\xBD" /* U+FFFD, in the place of what is not UTF-8 */

enum character_kind {
    CHARACTER_SHOWN,
    CHARACTER_BREAK,  /* ends a line, or is a tab */
    CHARACTER_HIDDEN, /* a control, or what else shows nothing */
    CHARACTER_BROKEN, /* a byte that is not UTF-8 */
};

struct character {
    struct str bytes; /* as they stand */
    uint32_t point;   /* of a broken one, the byte */
    enum character_kind kind;
    int width; /* columns on a terminal: 0 of what is not shown and of combining marks, 1 or 2 */
};

/* Takes one character off the front of a text that is not empty. */
struct character unicode_take(struct str *rest);

/* Decodes the code point at the front of `size` bytes, by RFC 3629: no surrogates, no overlong
 * forms, at most U+10FFFF.  Returns its length in bytes, or 0 if these bytes are none. */
int unicode_decode(const char *data, size_t size, uint32_t *point);

/* Whether a byte belongs to a character that began before it. */
static inline bool unicode_continues(char byte) {
    return ((unsigned char)byte & 0xC0) == 0x80;
}

/* Controls alone: general category Cc. */
static inline bool unicode_is_control(uint32_t point) {
    return point < 0x20 || (point >= 0x7F && point < 0xA0);
}

/* Behind the printable ASCII characters that stand from this byte on; no line ends before. */
size_t unicode_skip_ascii(struct str text, size_t byte);

/* Code points of valid UTF-8, and the columns that a text takes on a terminal. */
size_t unicode_points(struct str text);
int unicode_width(struct str text);

/* The text on one line, for people: hidden characters are left out, breaks are blanks, and what is
 * not UTF-8 reads U+FFFD.  Ended by a zero byte. */
struct str unicode_clean(struct arena *arena, struct str text);

/* The text, or as much of it as fits `most` columns and an ellipsis behind it. */
const char *unicode_cut(struct arena *arena, const char *text, int most);

/* Writes a text in `width` columns, or more where it takes more; negative: flush right. */
void unicode_pad(struct buf *out, const char *text, int width);

#endif
