/* All work is done relative to descriptors of the two folders, so that nobody can exchange a folder
 * for a link between the check and the use.
 */
#include "system/publish.h"

#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/buf.h"
#include "system/path.h"

__attribute__((format(printf, 3, 4))) static const char *failure(struct arena *arena, int error,
                                                                 const char *format, ...) {
    struct buf what = {.arena = arena};
    va_list args;
    buf_text(&what, "cannot ");
    va_start(args, format);
    buf_vprintf(&what, format, args);
    va_end(args);
    buf_printf(&what, ": %s", strerror(error));
    return what.data;
}

/* Opens DIRECTORY/STEM, made as needed; a negative number with `*error` set on failure. */
static int open_folder(struct arena *arena, const char *directory, const char *stem,
                       const char **error) {
    if (!path_is_plain(stem)) {
        *error = arena_printf(arena, "cannot name a folder of %s \"%s\"", directory, stem);
        return -1;
    }
    const char *unmade = path_make(arena, directory, 0777);
    if (unmade) {
        *error = failure(arena, errno, "make the folder %s", unmade);
        return -1;
    }
    int outer = open(directory, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (outer < 0) {
        *error = failure(arena, errno, "open the folder %s", directory);
        return -1;
    }
    int inner = -1;
    if (mkdirat(outer, stem, 0777) && errno != EEXIST) {
        *error = failure(arena, errno, "make the folder %s/%s", directory, stem);
    } else {
        inner = openat(outer, stem, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
        if (inner < 0) *error = failure(arena, errno, "open the folder %s/%s", directory, stem);
    }
    close(outer);
    return inner;
}

bool publish_bytes(int descriptor, struct str bytes) {
    while (bytes.size) {
        ssize_t done = write(descriptor, bytes.data, bytes.size);
        if (done < 0 && errno == EINTR) continue;
        if (done < 0) return false;
        bytes.data += done;
        bytes.size -= (size_t)done;
    }
    return true;
}

/* Some file systems cannot fsync and say EINVAL: nothing more can be done there. */
static bool bring_to_disk(int descriptor) {
    return fsync(descriptor) == 0 || errno == EINVAL || errno == ENOTSUP;
}

/* Writes one file under its temporary name; 0 or an errno. */
static int write_aside(int folder, const char *aside, struct str bytes) {
    int flags = O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC;
    int file = openat(folder, aside, flags, 0666);
    if (file < 0) return errno;
    int error = publish_bytes(file, bytes) && bring_to_disk(file) ? 0 : errno;
    if (close(file) && !error) error = errno;
    if (error) unlinkat(folder, aside, 0);
    return error;
}

static const char *aside_name(struct arena *arena, int number) {
    return arena_printf(arena, ".plugwright-%ld-%d", (long)getpid(), number);
}

/* Removes the temporary files from number `from` on. */
static void drop_aside(struct arena *arena, int folder, int from, int count) {
    for (int i = from; i < count; i++) unlinkat(folder, aside_name(arena, i), 0);
}

const char *publish_folder(struct arena *arena, const char *directory, const char *stem,
                           const struct publish_file *files, int count) {
    const char *error = NULL;
    int folder = open_folder(arena, directory, stem, &error);
    if (folder < 0) return error;

    int written = 0;
    for (; written < count && !error; written++) {
        const struct publish_file *file = &files[written];
        int code = path_is_plain(file->name)
                       ? write_aside(folder, aside_name(arena, written), file->bytes)
                       : EINVAL;
        if (code) {
            error = failure(arena, code, "write %s/%s/%s", directory, stem, file->name);
            break;
        }
    }
    int placed = 0;
    for (; placed < count && !error; placed++) {
        const char *name = files[placed].name;
        if (renameat(folder, aside_name(arena, placed), folder, name)) {
            error = failure(arena, errno, "put in place %s/%s/%s", directory, stem, name);
            break;
        }
    }
    drop_aside(arena, folder, placed, written);
    if (!error && !bring_to_disk(folder)) {
        error = failure(arena, errno, "bring to disk %s/%s", directory, stem);
    }
    close(folder);
    return error;
}
