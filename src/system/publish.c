/* All work is done relative to descriptors of the folders, so that nobody can exchange a folder for
 * a link between the check and the use.
 *
 * A folder that is not in its place (a new generation before the exchange, a former one behind it)
 * is a claim: hidden, locked while its owner lives.  One procedure retires a former generation,
 * whether this run or a dead one has left it: what is not the program's goes back to the folder,
 * the rest is removed.
 */
#define _GNU_SOURCE /* renameat2 */

#include "system/publish.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/buf.h"
#include "system/claim.h"
#include "system/path.h"
#include "system/record.h"

static const int folder_flags = O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC;

struct site {
    struct arena *arena;
    const struct publication *publication;
    const char *prefix; /* of what waits beside the folder */
    int outer;          /* DIRECTORY */
    int former;         /* DIRECTORY/STEM as it stands, or -1 */
    struct record before, now;
    struct claim claim; /* the new generation */
};

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

static const char *file_failure(const struct site *site, int error, const char *what,
                                const char *name) {
    return failure(site->arena, error, "%s %s/%s/%s", what, site->publication->directory,
                   site->publication->stem, name);
}

static const char *folder_failure(const struct site *site, int error, const char *what) {
    return failure(site->arena, error, "%s %s/%s", what, site->publication->directory,
                   site->publication->stem);
}

/* --- the disk -------------------------------------------------------------------------------- */

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

/* Brings the names of new folders to the disk: those of the open folder `inner`, `levels` up. */
static void parents_to_disk(int inner, int levels) {
    int folder = openat(inner, ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    while (folder >= 0 && levels-- >= 0) {
        bring_to_disk(folder);
        int above = openat(folder, "..", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
        close(folder);
        folder = above;
    }
    if (folder >= 0) close(folder);
}

static int levels_of(const char *path) {
    int levels = 1;
    for (; *path; path++) levels += *path == '/';
    return levels;
}

/* --- what is there already ------------------------------------------------------------------- */

/* Calls `visit` for every name in an open folder but those of the folder itself and its record;
 * false with errno set where it cannot be listed. */
static bool each_entry(int folder, void (*visit)(void *context, const char *name), void *context) {
    int again = openat(folder, ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    DIR *list = again < 0 ? NULL : fdopendir(again);
    if (!list) {
        int error = errno;
        if (again >= 0) close(again);
        errno = error;
        return false;
    }
    for (struct dirent *entry; (entry = readdir(list));) {
        const char *name = entry->d_name;
        if (strcmp(name, ".") != 0 && strcmp(name, "..") != 0 && strcmp(name, RECORD_NAME) != 0)
            visit(context, name);
    }
    closedir(list);
    return true;
}

struct retirement {
    int former, present; /* present: -1 where no folder stands */
    struct record before, now;
    bool left; /* something that was made could not be removed */
};

static bool same_file(const struct stat *a, const struct stat *b) {
    return a->st_dev == b->st_dev && a->st_ino == b->st_ino;
}

/* One entry of a former generation.  What was made is removed; what somebody else has put there
 * goes to the present folder, and where that has another of this name it stays where it is. */
static void retire_entry(void *context, const char *name) {
    struct retirement *r = context;
    struct stat old, new;
    if (fstatat(r->former, name, &old, AT_SYMLINK_NOFOLLOW)) return;
    bool there = r->present >= 0 && fstatat(r->present, name, &new, AT_SYMLINK_NOFOLLOW) == 0;
    bool made = record_has(&r->before, name) || record_has(&r->now, name);
    if (made || (there && same_file(&old, &new)))
        r->left |= unlinkat(r->former, name, 0) != 0;
    else if (!there && r->present >= 0)
        renameat(r->former, name, r->present, name);
}

/* A former generation, or what a dead run has begun: an open folder called `name` beside ours. */
static void retire(const struct site *site, const char *name, int former) {
    struct retirement r = {.former = former,
                           .present = openat(site->outer, site->publication->stem, folder_flags)};
    bool known = record_read(site->arena, former, &r.before) &&
                 (r.present < 0 || record_read(site->arena, r.present, &r.now));
    bool seen = known && each_entry(former, retire_entry, &r);
    if (r.present >= 0) close(r.present);
    if (!seen || r.left) return; /* the next run finds all as it is, and what was made */
    unlinkat(former, RECORD_NAME, 0);
    unlinkat(site->outer, name, AT_REMOVEDIR);
}

static void retire_dead(int outer, const struct claim *dead, void *context) {
    (void)outer;
    retire(context, dead->name, dead->folder);
}

/* --- the new generation ---------------------------------------------------------------------- */

static bool is_new(const struct site *site, const char *name) {
    for (int i = 0; i < site->publication->count; i++)
        if (strcmp(site->publication->files[i].name, name) == 0) return true;
    return false;
}

/* A file that stays is one file in both generations until the former is retired.  What cannot be
 * linked (a folder, a file system without links) follows then, if it is not the program's. */
static void carry(void *context, const char *name) {
    struct site *site = context;
    bool made = record_has(&site->before, name);
    if (is_new(site, name)) return;
    if (made && strcmp(site->before.of, site->publication->of) != 0) return;
    if (linkat(site->former, name, site->claim.folder, name, 0) == 0 && made)
        record_add(site->arena, &site->now, arena_copy(site->arena, name, strlen(name)));
}

/* Writes one file into the new generation; 0 or an errno. */
static int write_file(const struct site *site, const char *name, struct str bytes) {
    int flags = O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC;
    int file = openat(site->claim.folder, name, flags, 0666);
    if (file < 0) return errno;
    int error = publish_bytes(file, bytes) && bring_to_disk(file) ? 0 : errno;
    if (close(file) && !error) error = errno;
    return error;
}

/* Its place must not be taken by a folder. */
static int place_error(const struct site *site, const char *name) {
    struct stat info;
    if (!path_is_plain(name)) return EINVAL;
    if (site->former < 0 || fstatat(site->former, name, &info, AT_SYMLINK_NOFOLLOW)) return 0;
    return S_ISDIR(info.st_mode) ? EISDIR : 0;
}

/* The record comes first: so a run that dies has always said which files are its own. */
static const char *fill(struct site *site) {
    const struct publication *p = site->publication;
    for (int i = 0; i < p->count; i++) {
        int error = place_error(site, p->files[i].name);
        if (error) return file_failure(site, error, "write", p->files[i].name);
        record_add(site->arena, &site->now, p->files[i].name);
    }
    if (site->former >= 0 && !each_entry(site->former, carry, site))
        return folder_failure(site, errno, "list the folder");
    int error = write_file(site, RECORD_NAME, record_bytes(site->arena, &site->now));
    if (error) return file_failure(site, error, "write", RECORD_NAME);
    for (int i = 0; i < p->count; i++) {
        error = write_file(site, p->files[i].name, p->files[i].bytes);
        if (error) return file_failure(site, error, "write", p->files[i].name);
    }
    if (!bring_to_disk(site->claim.folder)) return folder_failure(site, errno, "bring to disk");
    return NULL;
}

/* --- the exchange ---------------------------------------------------------------------------- */

/* Where a system cannot exchange two folders, the former one steps aside first: for that moment
 * there is none, which another run must not meet, hence the turns. */
static int step_aside(struct site *site) {
    struct claim aside;
    const char *stem = site->publication->stem;
    if (!claim_make(site->arena, site->outer, site->prefix, 0777, &aside)) return errno;
    int error = 0;
    if (renameat(site->outer, stem, site->outer, aside.name)) {
        error = errno;
        unlinkat(site->outer, aside.name, AT_REMOVEDIR);
    } else if (renameat(site->outer, site->claim.name, site->outer, stem)) {
        error = errno;
        renameat(site->outer, aside.name, site->outer, stem);
    } else {
        site->claim.name = aside.name;
    }
    claim_release(&aside);
    return error;
}

/* Afterwards the claim's name is that of the former generation, if there was one; 0 or an errno. */
static int exchange(struct site *site) {
    const char *stem = site->publication->stem;
#if defined(RENAME_EXCHANGE) && !defined(PORTABLE)
    if (renameat2(site->outer, site->claim.name, site->outer, stem, RENAME_EXCHANGE) == 0) return 0;
#endif
    if (renameat(site->outer, site->claim.name, site->outer, stem) == 0) return 0;
    return errno == ENOTEMPTY || errno == EEXIST ? step_aside(site) : errno;
}

static void retire_former(const struct site *site) {
    int former = openat(site->outer, site->claim.name, folder_flags);
    if (former < 0) return;
    retire(site, site->claim.name, former);
    close(former);
}

/* The folder's rights are those that it had. */
static int take_rights(const struct site *site) {
    struct stat info;
    if (site->former < 0) return 0;
    if (faccessat(site->former, ".", W_OK, 0) || fstat(site->former, &info)) return errno;
    return fchmod(site->claim.folder, info.st_mode & 0777) ? errno : 0;
}

static const char *replace(struct site *site) {
    if (!claim_make(site->arena, site->outer, site->prefix, 0777, &site->claim))
        return folder_failure(site, errno, "make the folder");
    const char *error = fill(site);
    int code = error ? 0 : take_rights(site);
    if (!error && !code) code = exchange(site);
    if (code) error = folder_failure(site, code, "put in place");
    if (error)
        claim_remove(site->outer, site->claim.name);
    else if (!bring_to_disk(site->outer))
        error = folder_failure(site, errno, "bring to disk");
    if (!error) retire_former(site);
    claim_release(&site->claim);
    return error;
}

/* --- the folder ------------------------------------------------------------------------------ */

/* Opens DIRECTORY, made as needed; a negative number with `*error` set on failure. */
static int open_outer(struct arena *arena, const char *directory, const char **error) {
    struct stat info;
    bool there = stat(directory, &info) == 0;
    const char *unmade = path_make(arena, directory, 0777);
    int outer = unmade ? -1 : open(directory, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (unmade)
        *error = failure(arena, errno, "make the folder %s", unmade);
    else if (outer < 0)
        *error = failure(arena, errno, "open the folder %s", directory);
    else if (!there)
        parents_to_disk(outer, levels_of(directory));
    return outer;
}

static const char *publish_at(struct site *site) {
    site->former = openat(site->outer, site->publication->stem, folder_flags);
    if (site->former < 0 && errno != ENOENT) return folder_failure(site, errno, "open the folder");
    if (site->former >= 0 && !record_read(site->arena, site->former, &site->before)) {
        const char *unknown = file_failure(site, errno, "read", RECORD_NAME);
        close(site->former);
        return unknown;
    }
    claim_sweep(site->outer, site->prefix, retire_dead, site);
    const char *error = replace(site);
    if (site->former >= 0) close(site->former);
    return error;
}

const char *publish_folder(struct arena *arena, const struct publication *publication) {
    const char *error = NULL;
    if (!path_is_plain(publication->stem))
        return arena_printf(arena, "cannot name a folder of %s \"%s\"", publication->directory,
                            publication->stem);
    struct site site = {.arena = arena,
                        .publication = publication,
                        .prefix = arena_printf(arena, RECORD_NAME "-%s-", publication->stem),
                        .now = {.of = publication->of}};
    site.outer = open_outer(arena, publication->directory, &error);
    if (site.outer < 0) return error;
    claim_turn(site.outer);
    error = publish_at(&site);
    close(site.outer);
    return error;
}

const char *publish_made_of(struct arena *arena, const char *directory, const char *stem) {
    int folder = open(path_join(arena, directory, stem), folder_flags);
    if (folder < 0) return "";
    struct record record;
    record_read(arena, folder, &record); /* who then writes there is told what cannot be read */
    close(folder);
    return record.of;
}
