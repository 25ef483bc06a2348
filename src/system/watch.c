#include "system/watch.h"

#include <errno.h>
#include <poll.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#if defined(__linux__) && !defined(PORTABLE)
#define SYSTEM_TELLS
#include <sys/inotify.h>
#include <sys/signalfd.h>
#endif
#ifdef __APPLE__
#define st_mtim st_mtimespec
#endif

#include "system/path.h"

/* Milliseconds. */
enum {
    LOOK = 1000,      /* between looks at the files, where the system tells of changes */
    LOOK_ALONE = 100, /* where it does not */
    QUIET = 2,        /* so long nothing more may happen before a change is told */
    NOISY = 40,       /* but at most so long it is waited for that */
    GONE = 100,       /* a file that is gone may come back: editors move the old one away first */
};

/* --- signals --------------------------------------------------------------------------------- */

/* What is ignored (nohup) ends nothing. */
static void hold_signals(struct file_watch *watch) {
    static const int ending[] = {SIGINT, SIGTERM, SIGHUP};
    struct sigaction action;
    sigemptyset(&watch->ending);
    for (size_t i = 0; i < sizeof ending / sizeof *ending; i++)
        if (sigaction(ending[i], NULL, &action) == 0 && action.sa_handler != SIG_IGN)
            sigaddset(&watch->ending, ending[i]);
    sigprocmask(SIG_BLOCK, &watch->ending, &watch->before);
}

bool watch_ended(const struct file_watch *watch) {
    static const int ending[] = {SIGINT, SIGTERM, SIGHUP};
    sigset_t waiting;
    sigpending(&waiting);
    for (size_t i = 0; i < sizeof ending / sizeof *ending; i++)
        if (sigismember(&watch->ending, ending[i]) == 1 && sigismember(&waiting, ending[i]) == 1)
            return true;
    return false;
}

/* Takes the signals that wait, so that they end nothing afterwards. */
static void take_signals(const struct file_watch *watch) {
    int number;
    while (watch_ended(watch) && sigwait(&watch->ending, &number) == 0) {
    }
}

/* --- the files ------------------------------------------------------------------------------- */

static struct watch_stamp stamp_of(const char *path) {
    struct stat info;
    if (stat(path, &info)) return (struct watch_stamp){.there = false};
    return (struct watch_stamp){true, info.st_dev, info.st_ino, info.st_size, info.st_mtim};
}

static bool same_stamp(const struct watch_stamp *a, const struct watch_stamp *b) {
    if (a->there != b->there) return false;
    return !a->there ||
           (a->device == b->device && a->inode == b->inode && a->size == b->size &&
            a->changed.tv_sec == b->changed.tv_sec && a->changed.tv_nsec == b->changed.tv_nsec);
}

/* Looks at all files; whether one is another than when it was looked at last. */
static bool look(struct file_watch *watch) {
    bool changed = false;
    for (int i = 0; i < watch->count; i++) {
        struct watch_stamp now = stamp_of(watch->files[i].path);
        changed |= !same_stamp(&now, &watch->files[i].stamp);
        watch->files[i].stamp = now;
    }
    return changed;
}

static bool all_there(const struct file_watch *watch) {
    for (int i = 0; i < watch->count; i++)
        if (!watch->files[i].stamp.there) return false;
    return true;
}

bool watch_has(const struct file_watch *watch, const char *path) {
    for (int i = 0; i < watch->count; i++)
        if (strcmp(watch->files[i].path, path) == 0) return true;
    return false;
}

/* --- what the system tells ------------------------------------------------------------------- */

#ifdef SYSTEM_TELLS

static void ask_system(struct file_watch *watch) {
    watch->told = watch->polls ? -1 : inotify_init1(IN_NONBLOCK | IN_CLOEXEC);
    watch->asked = signalfd(-1, &watch->ending, SFD_NONBLOCK | SFD_CLOEXEC);
}

static void ask_about(struct file_watch *watch, const char *path) {
    const char *folder = path_folder(&watch->arena, path);
    if (watch->told >= 0)
        inotify_add_watch(watch->told, *folder ? folder : ".",
                          IN_CLOSE_WRITE | IN_MOVED_TO | IN_MOVED_FROM | IN_DELETE | IN_ONLYDIR);
}

static bool is_named(const struct file_watch *watch, const char *name) {
    for (int i = 0; i < watch->count; i++)
        for (int k = 0; k < 2; k++)
            if (strcmp(watch->files[i].name[k], name) == 0) return true;
    return false;
}

/* Reads what was told; whether one of the files was named, or more was told than could be kept. */
static bool read_told(const struct file_watch *watch) {
    union {
        struct inotify_event event;
        char bytes[4096];
    } heap;
    bool named = false;
    ssize_t got;
    while (watch->told >= 0 && (got = read(watch->told, &heap, sizeof heap)) > 0) {
        for (ssize_t at = 0; at < got;) {
            struct inotify_event event;
            memcpy(&event, heap.bytes + at, sizeof event);
            const char *name = heap.bytes + at + sizeof event;
            named |= (event.mask & IN_Q_OVERFLOW) || (event.len && is_named(watch, name));
            at += (ssize_t)(sizeof event + event.len);
        }
    }
    return named;
}

#else

static void ask_system(struct file_watch *watch) {
    watch->told = watch->asked = -1;
}

static void ask_about(struct file_watch *watch, const char *path) {
    (void)watch, (void)path;
}

static bool read_told(const struct file_watch *watch) {
    (void)watch;
    return false;
}

#endif

/* --- watching -------------------------------------------------------------------------------- */

void watch_open(struct file_watch *watch) {
    *watch = (struct file_watch){.polls = watch->polls, .told = -1, .asked = -1};
    hold_signals(watch);
}

static void stop_asking(struct file_watch *watch) {
    if (watch->told >= 0) close(watch->told);
    if (watch->asked >= 0) close(watch->asked);
    watch->told = watch->asked = -1;
}

static void add_file(struct file_watch *watch, const char *path) {
    struct arena *arena = &watch->arena;
    if (watch->count == WATCH_MAX_FILES || watch_has(watch, path)) return;
    struct watch_file *file = &watch->files[watch->count++];
    file->path = arena_copy(arena, path, strlen(path));
    const char *real = path_real(arena, file->path);
    if (!real) real = file->path;
    file->name[0] = path_name(file->path);
    file->name[1] = path_name(real);
    ask_about(watch, file->path);
    ask_about(watch, real);
    file->stamp = stamp_of(file->path);
}

void watch_files(struct file_watch *watch, const char *const *paths, int count) {
    struct arena former = watch->arena; /* `paths` may lie in it */
    watch->arena = (struct arena){0};
    stop_asking(watch);
    watch->count = 0;
    ask_system(watch);
    for (int i = 0; i < count; i++) add_file(watch, paths[i]);
    arena_free(&former);
}

/* Waits until something is told, a signal comes or the time is over. */
static void wait_for(const struct file_watch *watch, int milliseconds) {
    struct pollfd events[] = {{watch->told, POLLIN, 0}, {watch->asked, POLLIN, 0}};
    /* where signals have no descriptor they are looked for often enough */
    if (watch->asked < 0 && milliseconds > LOOK_ALONE) milliseconds = LOOK_ALONE;
    poll(events, 2, milliseconds);
}

/* Waits until the files are left alone. */
static void settle(struct file_watch *watch) {
    int quiet = watch->told >= 0 ? QUIET : LOOK_ALONE;
    int most = watch->told >= 0 ? NOISY : 5 * LOOK_ALONE;
    for (int spent = 0; !watch_ended(watch) && spent < most;) {
        int pause = all_there(watch) ? quiet : GONE;
        wait_for(watch, pause);
        bool told = read_told(watch);
        if (!(look(watch) | told)) return;
        spent += pause;
    }
}

bool watch_wait(struct file_watch *watch) {
    while (!watch_ended(watch)) {
        bool told = read_told(watch);
        if (look(watch) | told) {
            settle(watch);
            return !watch_ended(watch);
        }
        wait_for(watch, watch->told >= 0 ? LOOK : LOOK_ALONE);
    }
    return false;
}

void watch_close(struct file_watch *watch) {
    stop_asking(watch);
    take_signals(watch);
    sigprocmask(SIG_SETMASK, &watch->before, NULL);
    arena_free(&watch->arena);
}
