/* Bytes to a checked text.
 *
 * Lines end where libyaml ends them, so that its line numbers are ours.  What libyaml's reader
 * would refuse by byte offset alone (bad UTF-8, control characters) is refused here first, with its
 * place.
 *
 * Source of the blob id: git, "Git Internals - Git Objects": SHA-1 of `blob`, a blank, the size in
 * decimal, a zero byte and the bytes.
 */
#include "read/source.h"

#include <errno.h>
#include <fcntl.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/digest.h"
#include "base/unicode.h"
#include "read/text.h"

static const char BOM[] = "\xEF\xBB\xBF";

/* Checks */

/* What YAML 1.1 calls printable, which is all that libyaml takes. */
static bool is_printable(uint32_t point) {
    if (point == '\t' || point == '\n' || point == '\r' || point == 0x85) return true;
    return !unicode_is_control(point) && point != 0xFFFE && point != 0xFFFF;
}

static bool refuse_bytes(const struct text_file *file, size_t offset, uint32_t point, bool decoded,
                         struct diags *diags) {
    struct span at = text_span_at(file, offset);
    if (decoded)
        diag_add(diags, SEVERITY_ERROR, at, "source", "remove it",
                 "the control character U+%04X has no place in a recipe", (unsigned)point);
    else
        diag_add(diags, SEVERITY_ERROR, at, "source", "save the recipe as UTF-8",
                 "byte 0x%02X is not UTF-8", (unsigned)(unsigned char)file->text.data[offset]);
    return false;
}

/* Only the first bad place is told: a file in another encoding has thousands. */
static bool check_characters(const struct text_file *file, struct diags *diags) {
    struct str text = file->text;
    for (size_t at = 0;;) {
        at = unicode_skip_ascii(text, at);
        if (at == text.size) return true;
        uint32_t point = 0;
        int size = unicode_decode(text.data + at, text.size - at, &point);
        if (size == 0 || !is_printable(point))
            return refuse_bytes(file, at, point, size > 0, diags);
        at += (size_t)size;
    }
}

/* A line of seven signs, as a merge leaves them: `<<<<<<<`, `|||||||` or `>>>>>>>`. */
static bool is_conflict_marker(struct str text, size_t start) {
    if (start == text.size || !strchr("<|>", text.data[start])) return false;
    static const char *const MARKERS[] = {"<<<<<<<", "|||||||", ">>>>>>>"};
    for (size_t i = 0; i < sizeof MARKERS / sizeof *MARKERS; i++) {
        if (!text_starts_with(text, start, MARKERS[i])) continue;
        size_t end = start + strlen(MARKERS[i]);
        return end == text.size || text.data[end] == ' ' || text_break_size(text, end) > 0;
    }
    return false;
}

static bool check_conflict(const struct text_file *file, struct diags *diags) {
    for (int line = 0; line < file->line_count; line++) {
        if (!is_conflict_marker(file->text, file->line_start[line])) continue;
        struct span at = {file, line + 1, 1, 7};
        diag_add(diags, SEVERITY_ERROR, at, "conflict",
                 "keep one side of it, and remove the lines that begin with <<<<<<<, ======= and "
                 ">>>>>>>",
                 "a merge conflict stands open here");
        return false;
    }
    return true;
}

static bool check_encoding(const struct text_file *file, struct diags *diags) {
    if (!text_starts_with(file->text, 0, "\xFE\xFF") &&
        !text_starts_with(file->text, 0, "\xFF\xFE"))
        return true;
    struct span at = {file, 1, 1, 1};
    diag_add(diags, SEVERITY_ERROR, at, "source", "save the recipe as UTF-8",
             "this is UTF-16, and a recipe is UTF-8");
    return false;
}

static bool check_size(const struct text_file *file, size_t size, struct diags *diags) {
    if (size <= SOURCE_MAX_BYTES) return true;
    struct span at = {.file = file};
    diag_add(diags, SEVERITY_ERROR, at, "source", NULL, "a recipe has at most %d bytes",
             SOURCE_MAX_BYTES);
    return false;
}

/* Reading */

void source_id(struct str bytes, char id[BLOB_ID_SIZE]) {
    char header[40];
    int header_size = snprintf(header, sizeof header, "blob %zu", bytes.size);
    digest_sha1((struct str){header, (size_t)header_size + 1}, bytes, id);
}

const struct source *source_of(struct arena *arena, const char *name, struct str bytes,
                               struct diags *diags) {
    struct source *source = NEW(arena, struct source, 1);
    struct text_file *file = &source->file;
    file->name = name;
    file->text = str_of("");
    bool fits = check_size(file, bytes.size, diags);
    if (fits) source_id(bytes, source->blob_id);
    if (fits && bytes.size) {
        size_t bom = text_starts_with(bytes, 0, BOM) ? strlen(BOM) : 0;
        file->text = (struct str){bytes.data + bom, bytes.size - bom};
        source->mark = (int)bom;
    }
    text_index_lines(arena, file);
    source->readable = fits && check_encoding(file, diags) && check_characters(file, diags) &&
                       check_conflict(file, diags);
    return source;
}

const struct source *source_read_open(struct arena *arena, const char *name, int fd,
                                      struct diags *diags, const char **reason) {
    struct buf bytes = {.arena = arena};
    char chunk[16384];
    buf_text(&bytes, "");
    while (bytes.size <= SOURCE_MAX_BYTES) {
        ssize_t size = read(fd, chunk, sizeof chunk);
        if (size == 0) break;
        if (size < 0 && errno == EINTR) continue;
        if (size < 0) {
            *reason = strerror(errno);
            return NULL;
        }
        buf_bytes(&bytes, chunk, (size_t)size);
    }
    return source_of(arena, name, (struct str){bytes.data, bytes.size}, diags);
}

/* NULL, or why a recipe is not read from such a thing.  A device would be harmful or endless. */
static const char *refusal(const struct stat *status) {
    if (S_ISREG(status->st_mode) || S_ISFIFO(status->st_mode)) return NULL;
    return S_ISDIR(status->st_mode) ? "it is a folder" : "it is neither a file nor a pipe";
}

static int open_file(const char *path, const char **reason) {
    struct stat status;
    int fd = -1;
    *reason = stat(path, &status) == 0 ? refusal(&status) : strerror(errno);
    if (!*reason) fd = open(path, O_RDONLY | O_CLOEXEC | O_NOCTTY);
    if (!*reason && fd < 0) *reason = strerror(errno);
    return fd;
}

const struct source *source_read(struct arena *arena, const char *path, struct diags *diags,
                                 const char **failure) {
    const struct source *source = NULL;
    const char *reason = NULL;
    bool standard_input = strcmp(path, "-") == 0;
    int fd = standard_input ? STDIN_FILENO : open_file(path, &reason);
    if (fd >= 0) source = source_read_open(arena, path, fd, diags, &reason);
    if (fd >= 0 && !standard_input) close(fd);
    *failure =
        source ? NULL : arena_printf(arena, "cannot read %s: %s", diag_clean(arena, path), reason);
    return source;
}
