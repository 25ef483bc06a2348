#include "system/scratch.h"

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

static const char prefix[] = "plugwright-work-";

static void remove_dead(int place, const struct claim *dead, void *context) {
    (void)context;
    claim_remove(place, dead->name);
}

static bool open_in(struct scratch *scratch, const char *place) {
    scratch->place = open(place, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (scratch->place < 0) return false;
    claim_sweep(scratch->place, prefix, remove_dead, NULL);
    if (claim_make(scratch->arena, scratch->place, prefix, 0700, &scratch->claim)) {
        scratch->folder = path_join(scratch->arena, place, scratch->claim.name);
        return true;
    }
    int error = errno;
    close(scratch->place);
    errno = error;
    return false;
}

bool scratch_open(struct scratch *scratch, struct arena *arena) {
    const char *place = getenv("TMPDIR");
    if (!place || *place != '/') place = "/tmp";
    *scratch = (struct scratch){.arena = arena};
    hold(scratch);
    if (open_in(scratch, place)) return true;
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

/* What is left of an open file, `size` bytes. */
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

/* An open file, or the last `most` bytes of it. */
static bool read_end(struct arena *arena, int file, off_t size, size_t most, struct str *bytes) {
    size_t all = (size_t)size, taken = all < most ? all : most;
    return lseek(file, (off_t)(all - taken), SEEK_SET) >= 0 && read_all(arena, file, taken, bytes);
}

bool scratch_read(const struct scratch *scratch, const char *path, size_t most, struct str *bytes) {
    struct stat info;
    int file = open(place_of(scratch, path), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    if (file < 0) return false;
    bool regular = fstat(file, &info) == 0 && S_ISREG(info.st_mode);
    if (!regular) errno = EINVAL;
    bool whole = regular && read_end(scratch->arena, file, info.st_size, most, bytes);
    int error = errno;
    close(file);
    errno = error;
    return whole;
}

void scratch_drop(const struct scratch *scratch, const char *path) {
    claim_remove(AT_FDCWD, place_of(scratch, path));
}

void scratch_close(struct scratch *scratch) {
    claim_remove(scratch->place, scratch->claim.name);
    claim_release(&scratch->claim);
    close(scratch->place);
    let_in(scratch);
}
