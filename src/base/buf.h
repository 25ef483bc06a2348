/* A growing run of bytes in an arena: what emitters write into before anything touches a file. */
#ifndef PLUGWRIGHT_BUF_H
#define PLUGWRIGHT_BUF_H

#include <stdarg.h>
#include <stddef.h>

#include "base/arena.h"
#include "base/str.h"

struct buf {
    struct arena *arena; /* set by the owner before first use */
    char *data;          /* always ended by a zero byte once written to; NULL before */
    size_t size, capacity;
};

void buf_bytes(struct buf *buf, const char *data, size_t size);
void buf_text(struct buf *buf, const char *text);
void buf_str(struct buf *buf, struct str text);
void buf_char(struct buf *buf, char c);
__attribute__((format(printf, 2, 3))) void buf_printf(struct buf *buf, const char *format, ...);
__attribute__((format(printf, 2, 0))) void buf_vprintf(struct buf *buf, const char *format,
                                                       va_list args);
struct str buf_whole(const struct buf *buf); /* all that was written */

#endif
