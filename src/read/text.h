/* Lines, words and places in a text that was read. */
#ifndef PLUGWRIGHT_TEXT_H
#define PLUGWRIGHT_TEXT_H

#include <stdbool.h>
#include <stddef.h>

#include "base/arena.h"
#include "base/diag.h"
#include "base/str.h"

bool text_starts_with(struct str text, size_t byte, const char *prefix);

/* Size of the line break that begins at this byte, or 0.  Lines end at LF, CR LF, CR, NEL (U+0085),
 * LS (U+2028) and PS (U+2029): where libyaml ends them, so that its line numbers are ours. */
size_t text_break_size(struct str text, size_t byte);

/* Whether the text or its line ends here. */
bool text_ends_line(struct str text, size_t byte);

size_t text_skip_blanks(struct str text, size_t byte); /* and tabs */
size_t text_next_point(struct str text, size_t byte);  /* behind the code point at this byte */

/* From here to the end of the line, or of the word: a blank, a comma or a closing bracket. */
struct str text_rest_of_line(struct str text, size_t byte);
struct str text_rest_of_word(struct str text, size_t byte);

/* Fills in the file's line index. */
void text_index_lines(struct arena *arena, struct text_file *file);

/* The place of a byte, one code point long; in time logarithmic in the lines. */
struct span text_span_at(const struct text_file *file, size_t byte);

#endif
