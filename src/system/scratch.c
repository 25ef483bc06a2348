#define _XOPEN_SOURCE 700 /* mkdtemp */

#include "system/scratch.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "system/path.h"
#include "system/publish.h"

/* --- signals --------------------------------------------------------------------------------- */

/* What is ignored (nohup) ends nothing.  The end of a child is held too: only so can it be waited
 * for together with the others. */
static void hold(struct scratch *scratch) {
    static const int ending[] = {SIGINT, SIGTERM, SIGHUP, SIGQUIT, SIGPIPE, SIGXCPU, SIGXFSZ};
    struct sigaction action;
    sigemptyset(&scratch->held);
    sigaddset(&scratch->held, SIGCHLD);
    for (size_t i = 0; i < sizeof ending / sizeof *ending; i++)
        if (sigaction(ending[i], NULL, &action) == 0 && action.sa_handler != SIG_IGN)
            sigaddset(&scratch->held, ending[i]);
    sigprocmask(SIG_BLOCK, &scratch->held, &scratch->before);
}

static void let_in(const struct scratch *scratch) {
    sigprocmask(SIG_SETMASK, &scratch->before, NULL);
}

bool scratch_wait(const struct scratch *scratch) {
    struct timespec second = {.tv_sec = 1};
    int number = sigtimedwait(&scratch->held, NULL, &second);
    if (number <= 0 || number == SIGCHLD) return true;
    raise(number); /* it waits again */
    return false;
}

/* --- the folder ------------------------------------------------------------------------------ */

bool scratch_open(struct scratch *scratch, struct arena *arena) {
    const char *place = getenv("TMPDIR");
    if (!place || *place != '/') place = "/tmp";
    *scratch = (struct scratch){.arena = arena};
    hold(scratch);
    scratch->folder = mkdtemp(arena_printf(arena, "%s/plugwright-XXXXXX", place));
    if (scratch->folder) return true;
    int error = errno;
    let_in(scratch);
    errno = error;
    return false;
}

static const char *place_of(const struct scratch *scratch, const char *path) {
    return path_join(scratch->arena, scratch->folder, path);
}

bool scratch_write(const struct scratch *scratch, const char *path, struct str bytes) {
    const char *inner = path_within(scratch->arena, "", path);
    errno = EINVAL;
    if (!inner || !*inner) return false;
    const char *whole = place_of(scratch, inner);
    if (path_make(scratch->arena, path_folder(scratch->arena, whole), 0700)) return false;
    int file = open(whole, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0600);
    if (file < 0) return false;
    bool written = publish_bytes(file, bytes);
    return close(file) == 0 && written;
}

/* An open file of `size` bytes. */
static bool read_all(struct arena *arena, int file, size_t size, struct str *bytes) {
    char *data = arena_alloc(arena, size + 1);
    *bytes = (struct str){data, 0};
    while (bytes->size < size) {
        ssize_t got = read(file, data + bytes->size, size - bytes->size);
        if (got < 0 && errno == EINTR) continue;
        if (got == 0) errno = EIO;
        if (got <= 0) return false;
        bytes->size += (size_t)got;
    }
    return true;
}

bool scratch_read(const struct scratch *scratch, const char *path, struct str *bytes) {
    struct stat info;
    int file = open(place_of(scratch, path), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    if (file < 0) return false;
    bool regular = fstat(file, &info) == 0 && S_ISREG(info.st_mode);
    if (!regular) errno = EINVAL;
    bool whole = regular && read_all(scratch->arena, file, (size_t)info.st_size, bytes);
    int error = errno;
    close(file);
    errno = error;
    return whole;
}

/* Removes a folder and what is in it; links are removed, not followed. */
static void remove_at(int parent, const char *name) {
    int folder = openat(parent, name, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
    DIR *list = folder < 0 ? NULL : fdopendir(folder);
    if (!list) {
        if (folder >= 0) close(folder);
        return;
    }
    for (struct dirent *entry; (entry = readdir(list));) {
        if (!strcmp(entry->d_name, ".") || !strcmp(entry->d_name, "..")) continue;
        if (unlinkat(folder, entry->d_name, 0)) remove_at(folder, entry->d_name);
    }
    closedir(list);
    unlinkat(parent, name, AT_REMOVEDIR);
}

void scratch_drop(const struct scratch *scratch, const char *path) {
    remove_at(AT_FDCWD, place_of(scratch, path));
}

void scratch_close(struct scratch *scratch) {
    remove_at(AT_FDCWD, scratch->folder);
    let_in(scratch);
}
