#include "system/renew.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "system/path.h"
#include "system/publish.h"
#include "system/record.h"

static const int folder_flags = O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC;

static const char *failure(const struct renewal *r, const char *what, const char *name) {
    const char *why = strerror(errno);
    return arena_printf(r->arena, "cannot %s %s/%s%s%s: %s", what, r->directory, r->stem,
                        *name ? "/" : "", name, why);
}

static void remove_dead(int place, const struct claim *dead, void *context) {
    (void)context;
    claim_remove(place, dead->name);
}

/* A sign that no stem's own generations have in this place (system/publish). */
static const char *prefix_of(const struct renewal *r) {
    return arena_printf(r->arena, RECORD_NAME "+%s+", r->stem);
}

static const char *make(struct renewal *r) {
    const char *unmade = path_make(r->arena, r->directory, 0777);
    if (unmade)
        return arena_printf(r->arena, "cannot make the folder %s: %s", unmade, strerror(errno));
    r->outer = open(r->directory, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (r->outer < 0) return failure(r, "open the folder above", "");
    claim_sweep(r->outer, prefix_of(r), remove_dead, NULL);
    if (claim_make(r->arena, r->outer, prefix_of(r), 0777, &r->claim)) return NULL;
    const char *why = failure(r, "make a folder beside", "");
    close(r->outer);
    r->outer = -1;
    return why;
}

const char *renew_open(struct renewal *r, struct arena *arena, const char *directory,
                       const char *stem) {
    *r = (struct renewal){.arena = arena, .directory = directory, .stem = stem, .outer = -1};
    if (!path_is_plain(stem))
        return arena_printf(arena, "cannot name a folder of %s \"%s\"", directory, stem);
    return make(r);
}

void renew_close(struct renewal *r) {
    if (r->outer < 0) return;
    claim_remove(r->outer, r->claim.name);
    claim_release(&r->claim);
    close(r->outer);
    r->outer = -1;
}

/* The folder that the file is meant for, open; -1 with errno set. */
static int open_folder(const struct renewal *r) {
    if (mkdirat(r->outer, r->stem, 0777) && errno != EEXIST) return -1;
    return openat(r->outer, r->stem, folder_flags);
}

static bool write_new(const struct renewal *r, const char *name, struct str bytes) {
    int flags = O_WRONLY | O_CREAT | O_TRUNC | O_NOFOLLOW | O_CLOEXEC;
    int file = openat(r->claim.folder, name, flags, 0666);
    if (file < 0) return false;
    bool written = publish_bytes(file, bytes);
    int error = errno;
    if (close(file) && written) return false;
    errno = error;
    return written;
}

/* 0 or an errno. */
static int put(const struct renewal *r, const char *name, struct str bytes) {
    int folder = open_folder(r), error = 0;
    if (folder < 0) return errno;
    if (!write_new(r, name, bytes) || renameat(r->claim.folder, name, folder, name)) error = errno;
    if (error) unlinkat(r->claim.folder, name, 0);
    close(folder);
    return error;
}

const char *renew_file(struct renewal *r, const char *name, struct str bytes) {
    const char *why = r->outer < 0 ? make(r) : NULL;
    if (why) return why;
    int error = put(r, name, bytes);
    if (error == ENOENT) { /* somebody has removed the folders */
        renew_close(r);
        if ((why = make(r))) return why;
        error = put(r, name, bytes);
    }
    errno = error;
    return error ? failure(r, "write", name) : NULL;
}
