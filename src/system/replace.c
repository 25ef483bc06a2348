#include "system/replace.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "system/claim.h"
#include "system/path.h"
#include "system/publish.h"
#include "system/record.h"

static void clear(int parent, const struct claim *dead, void *context) {
    (void)context;
    claim_remove(parent, dead->name);
}

/* Writes the bytes into the claim and moves them to their place; 0 or an errno. */
static int put(int folder, const struct claim *claim, const char *name, struct str bytes) {
    struct stat info;
    if (fstatat(folder, name, &info, AT_SYMLINK_NOFOLLOW)) return errno;
    if (!S_ISREG(info.st_mode)) return EINVAL;
    int flags = O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC;
    int file = openat(claim->folder, name, flags, 0600);
    if (file < 0) return errno;
    bool done = publish_bytes(file, bytes) && fchmod(file, info.st_mode & 07777) == 0 &&
                (fsync(file) == 0 || errno == EINVAL);
    int error = done ? 0 : errno;
    if (close(file) && !error) error = errno;
    if (!error && renameat(claim->folder, name, folder, name)) error = errno;
    return error;
}

const char *replace_file(struct arena *arena, const char *path, struct str bytes) {
    const char *real = path_real(arena, path), *prefix = RECORD_NAME "=";
    int folder = real ? open(path_folder(arena, real), O_RDONLY | O_DIRECTORY | O_CLOEXEC) : -1;
    int error = folder < 0 ? errno : 0;
    struct claim claim;
    if (!error) {
        claim_sweep(folder, prefix, clear, NULL);
        if (!claim_make(arena, folder, prefix, 0700, &claim)) error = errno;
        if (!error) {
            error = put(folder, &claim, path_name(real), bytes);
            claim_remove(folder, claim.name);
            claim_release(&claim);
            if (!error && fsync(folder) && errno != EINVAL) error = errno;
        }
        close(folder);
    }
    return error ? arena_printf(arena, "cannot write %s: %s", path, strerror(error)) : NULL;
}
