#define _DEFAULT_SOURCE /* flock, getentropy */

#include "system/claim.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>
#ifdef __APPLE__
#include <sys/random.h> /* getentropy */
#endif

#include "base/buf.h"

enum {
    TRIES = 100,
    TURN_TRIES = 1000,
    TURN_PAUSE_NS = 10000000,
    CHANCE_BYTES = 8,
    CHANCE_DIGITS = 2 * CHANCE_BYTES
};

static const int folder_flags = O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC;

/* `prefix` and digits by chance; NULL with errno set where the system has no chance to give. */
static const char *name_by_chance(struct arena *arena, const char *prefix) {
    unsigned char chance[CHANCE_BYTES];
    struct buf name = {.arena = arena};
    if (getentropy(chance, sizeof chance)) return NULL;
    buf_text(&name, prefix);
    for (int i = 0; i < CHANCE_BYTES; i++) buf_printf(&name, "%02x", chance[i]);
    return name.data;
}

/* --- locks ----------------------------------------------------------------------------------- */

/* Between its making and its lock a folder looks dead to others: it may be gone by then. */
static bool is_there(int parent, const char *name, int folder) {
    struct stat ours, there;
    return fstat(folder, &ours) == 0 && fstatat(parent, name, &there, AT_SYMLINK_NOFOLLOW) == 0 &&
           ours.st_dev == there.st_dev && ours.st_ino == there.st_ino;
}

/* True where the folder is ours, or where there are no locks to tell by. */
static bool lock(int folder) {
    return flock(folder, LOCK_EX | LOCK_NB) == 0 || errno != EWOULDBLOCK;
}

bool claim_make(struct arena *arena, int parent, const char *prefix, mode_t mode,
                struct claim *claim) {
    for (int i = 0; i < TRIES; i++) {
        const char *name = name_by_chance(arena, prefix);
        if (!name || mkdirat(parent, name, mode)) {
            if (name && errno == EEXIST) continue;
            return false;
        }
        int folder = openat(parent, name, folder_flags);
        if (folder >= 0 && lock(folder) && is_there(parent, name, folder)) {
            *claim = (struct claim){name, folder};
            return true;
        }
        int error = errno;
        if (folder >= 0) close(folder);
        if (folder < 0 && error != ENOENT) {
            unlinkat(parent, name, AT_REMOVEDIR);
            errno = error;
            return false;
        }
    }
    errno = EEXIST;
    return false;
}

void claim_release(const struct claim *claim) {
    close(claim->folder);
}

void claim_turn(int folder) {
    const struct timespec pause = {.tv_nsec = TURN_PAUSE_NS};
    for (int i = 0; i < TURN_TRIES && !lock(folder); i++) nanosleep(&pause, NULL);
}

/* --- what the dead left ---------------------------------------------------------------------- */

static bool is_claim(const char *name, const char *prefix) {
    size_t size = strlen(prefix);
    return strncmp(name, prefix, size) == 0 && strlen(name + size) == CHANCE_DIGITS &&
           strspn(name + size, "0123456789abcdef") == CHANCE_DIGITS;
}

static bool is_dead(int folder) {
    struct stat info;
    return fstat(folder, &info) == 0 && info.st_uid == geteuid() &&
           flock(folder, LOCK_EX | LOCK_NB) == 0;
}

/* A list of an open folder that can be closed by itself; NULL where it cannot be read. */
static DIR *list_of(int folder) {
    int again = openat(folder, ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    DIR *list = again < 0 ? NULL : fdopendir(again);
    if (!list && again >= 0) close(again);
    return list;
}

void claim_sweep(int parent, const char *prefix,
                 void (*clear)(int parent, const struct claim *dead, void *context),
                 void *context) {
    DIR *list = list_of(parent);
    if (!list) return;
    for (struct dirent *entry; (entry = readdir(list));) {
        if (!is_claim(entry->d_name, prefix)) continue;
        struct claim dead = {entry->d_name, openat(parent, entry->d_name, folder_flags)};
        if (dead.folder < 0) continue;
        if (is_dead(dead.folder)) clear(parent, &dead, context);
        close(dead.folder);
    }
    closedir(list);
}

void claim_remove(int parent, const char *name) {
    int folder = openat(parent, name, folder_flags);
    DIR *list = folder < 0 ? NULL : fdopendir(folder);
    if (!list) {
        if (folder >= 0) close(folder);
        return;
    }
    for (struct dirent *entry; (entry = readdir(list));) {
        if (!strcmp(entry->d_name, ".") || !strcmp(entry->d_name, "..")) continue;
        if (unlinkat(folder, entry->d_name, 0)) claim_remove(folder, entry->d_name);
    }
    closedir(list);
    unlinkat(parent, name, AT_REMOVEDIR);
}
