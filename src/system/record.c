#include "system/record.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/buf.h"
#include "system/path.h"

enum { MOST_BYTES = 1 << 16, MOST_NAMES = 1000 }; /* more is not ours */

static bool read_bytes(struct arena *arena, int file, struct str *bytes) {
    char *data = arena_alloc(arena, MOST_BYTES);
    *bytes = (struct str){data, 0};
    while (bytes->size < MOST_BYTES) {
        ssize_t got = read(file, data + bytes->size, MOST_BYTES - bytes->size);
        if (got < 0 && errno == EINTR) continue;
        if (got <= 0) return got == 0;
        bytes->size += (size_t)got;
    }
    return true;
}

/* The text up to the next line end, which is stepped over; NULL where no whole line is left. */
static const char *next_line(struct arena *arena, struct str *rest) {
    const char *end = memchr(rest->data, '\n', rest->size);
    if (!end) return NULL;
    size_t size = (size_t)(end - rest->data);
    const char *line = arena_copy(arena, rest->data, size);
    rest->data += size + 1;
    rest->size -= size + 1;
    return line;
}

static void take_lines(struct arena *arena, struct str rest, struct record *record) {
    const char *line = next_line(arena, &rest);
    if (line) record->of = line;
    while (line && record->count < MOST_NAMES && (line = next_line(arena, &rest)))
        if (path_is_plain(line)) record_add(arena, record, line);
}

bool record_read(struct arena *arena, int folder, struct record *record) {
    *record = (struct record){.of = ""};
    struct stat info;
    struct str bytes;
    int file = openat(folder, RECORD_NAME, O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    if (file < 0) return errno == ENOENT || errno == ELOOP; /* a link is not ours */
    bool ours = fstat(file, &info) == 0 && S_ISREG(info.st_mode);
    bool good = !ours || read_bytes(arena, file, &bytes);
    if (ours && good) take_lines(arena, bytes, record);
    int error = errno;
    close(file);
    errno = error;
    return good;
}

bool record_has(const struct record *record, const char *name) {
    for (size_t i = 0; i < record->count; i++)
        if (strcmp(record->names[i], name) == 0) return true;
    return false;
}

void record_add(struct arena *arena, struct record *record, const char *name) {
    if (record_has(record, name)) return;
    GROW(arena, record->names, record->count, record->capacity);
    record->names[record->count++] = name;
}

struct str record_bytes(struct arena *arena, const struct record *record) {
    struct buf out = {.arena = arena};
    buf_printf(&out, "%s\n", record->of);
    for (size_t i = 0; i < record->count; i++) buf_printf(&out, "%s\n", record->names[i]);
    return buf_whole(&out);
}
