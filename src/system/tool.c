/* See tool.h.  posix_spawn keeps everything between fork and exec out of our hands, so nothing can
 * go wrong there that we would have to tell of.
 */
#include "system/tool.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <spawn.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "base/buf.h"

extern char **environ;

const char *tool_find(struct arena *arena, const char *name) {
    const char *path = getenv("PATH");
    if (!path) path = "/usr/local/bin:/usr/bin:/bin";
    while (*path) {
        size_t size = strcspn(path, ":");
        /* Only absolute folders: the tools are started from elsewhere. */
        if (*path == '/') {
            const char *file = arena_printf(arena, "%.*s/%s", (int)size, path, name);
            struct stat info;
            if (!access(file, X_OK) && !stat(file, &info) && S_ISREG(info.st_mode)) return file;
        }
        path += size + (path[size] == ':');
    }
    return NULL;
}

/* What the program is started with: our environment, or PATH alone, but for what is set anew. */
static char **environment(struct arena *arena, const char *const *settings, bool bare) {
    size_t ours = 0, set = 0, count = 0;
    while (environ[ours]) ours++;
    while (settings && settings[set]) set++;
    char **result = NEW(arena, char *, ours + set + 1);
    for (size_t i = 0; i < ours; i++) {
        size_t name = strcspn(environ[i], "=") + 1, j = 0;
        while (j < set && strncmp(environ[i], settings[j], name) != 0) j++;
        bool kept = !bare || strncmp(environ[i], "PATH=", name) == 0;
        if (j == set && kept) result[count++] = environ[i];
    }
    for (size_t i = 0; i < set; i++)
        result[count++] = arena_copy(arena, settings[i], strlen(settings[i]));
    return result;
}

/* posix_spawn takes strings that it may change. */
static char **copy_list(struct arena *arena, const char *const *list) {
    size_t count = 0;
    while (list[count]) count++;
    char **result = NEW(arena, char *, count + 1);
    for (size_t i = 0; i < count; i++) result[i] = arena_copy(arena, list[i], strlen(list[i]));
    return result;
}

/* posix_spawn cannot change the folder (POSIX.1-2008): we go there and back. */
static int spawn_in(struct arena *arena, const struct tool_call *call,
                    const posix_spawn_file_actions_t *actions, const posix_spawnattr_t *attributes,
                    pid_t *pid) {
    int here = call->folder ? open(".", O_RDONLY | O_DIRECTORY | O_CLOEXEC) : -1;
    if (call->folder && (here < 0 || chdir(call->folder))) {
        int error = errno;
        if (here >= 0) close(here);
        return error;
    }
    int error =
        posix_spawn(pid, call->program, actions, attributes, copy_list(arena, call->arguments),
                    environment(arena, call->settings, call->bare));
    if (call->folder && fchdir(here) && !error) error = errno;
    if (call->folder) close(here);
    return error;
}

/* Standard output goes to `output`, an open file, or if that is negative to the file `report`,
 * together with standard error.  With a mask it is started by itself. */
static int spawn(struct arena *arena, const struct tool_call *call, int output, const char *report,
                 const sigset_t *mask, pid_t *pid) {
    posix_spawn_file_actions_t actions;
    posix_spawnattr_t attributes;
    signal(SIGCHLD, SIG_DFL); /* where children are ignored, nobody learns how they end */
    if (posix_spawn_file_actions_init(&actions)) return ENOMEM;
    if (posix_spawnattr_init(&attributes)) {
        posix_spawn_file_actions_destroy(&actions);
        return ENOMEM;
    }
    posix_spawn_file_actions_addopen(&actions, 0, "/dev/null", O_RDONLY, 0);
    if (report) {
        posix_spawn_file_actions_addopen(&actions, 1, report, O_WRONLY | O_CREAT | O_TRUNC, 0600);
        posix_spawn_file_actions_adddup2(&actions, 1, 2);
    } else {
        posix_spawn_file_actions_adddup2(&actions, output, 1);
        if (call->errors)
            posix_spawn_file_actions_adddup2(&actions, output, 2);
        else
            posix_spawn_file_actions_addopen(&actions, 2, "/dev/null", O_WRONLY, 0);
    }
    if (mask) {
        posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETPGROUP | POSIX_SPAWN_SETSIGMASK);
        posix_spawnattr_setpgroup(&attributes, 0);
        posix_spawnattr_setsigmask(&attributes, mask);
    }
    int error = spawn_in(arena, call, &actions, &attributes, pid);
    posix_spawnattr_destroy(&attributes);
    posix_spawn_file_actions_destroy(&actions);
    return error;
}

int tool_start(struct arena *arena, const struct tool_call *call, const char *report,
               const sigset_t *mask, pid_t *pid) {
    return spawn(arena, call, -1, report, mask, pid);
}

/* --- its end --------------------------------------------------------------------------------- */

static int64_t milliseconds(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

/* Waits for those that have not been waited for yet, until `deadline`; whether all have ended. */
static bool all_ended(const pid_t *pids, bool *ended, int count, int64_t deadline) {
    static const struct timespec moment = {.tv_nsec = 10000000};
    while (true) {
        int left = 0;
        for (int i = 0; i < count; i++) {
            if (!ended[i]) ended[i] = waitpid(pids[i], NULL, WNOHANG) != 0;
            left += !ended[i];
        }
        if (!left) return true;
        if (milliseconds() >= deadline) return false;
        nanosleep(&moment, NULL);
    }
}

/* The leader of a group may end before what it has started does: the group gets the last signal in
 * any case. */
void tool_stop(const pid_t *pids, int count) {
    enum { MOST = 64, GRACE = 2000 };
    for (int from = 0; from < count; from += MOST) {
        bool ended[MOST] = {false};
        int some = count - from < MOST ? count - from : MOST;
        for (int i = 0; i < some; i++) kill(-pids[from + i], SIGTERM);
        all_ended(pids + from, ended, some, milliseconds() + GRACE);
        for (int i = 0; i < some; i++) kill(-pids[from + i], SIGKILL);
        for (int i = 0; i < some; i++)
            if (!ended[i]) waitpid(pids[from + i], NULL, 0);
    }
}

/* Everything up to `most` bytes; false where there was more, reading failed, or time ran out. */
static bool take(int pipe, size_t most, int64_t deadline, struct buf *said) {
    char chunk[8192];
    while (true) {
        int64_t left = deadline - milliseconds();
        struct pollfd source = {.fd = pipe, .events = POLLIN};
        int ready = left > 0 ? poll(&source, 1, (int)left) : 0;
        if (ready < 0 && errno == EINTR) continue;
        if (ready <= 0) return false;
        ssize_t got = read(pipe, chunk, sizeof chunk);
        if (got < 0 && errno == EINTR) continue;
        if (got <= 0) return got == 0;
        if ((size_t)got > most - said->size) return false;
        buf_bytes(said, chunk, (size_t)got);
    }
}

static bool ended_well(pid_t pid) {
    int status;
    while (waitpid(pid, &status, 0) < 0)
        if (errno != EINTR) return false;
    return WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

/* One that has closed its output has ended or is about to. */
static bool ends_well(pid_t pid, bool all, int64_t deadline) {
    bool ended = false;
    siginfo_t info = {0};
    static const struct timespec moment = {.tv_nsec = 1000000};
    while (all && !ended && milliseconds() < deadline) {
        ended = waitid(P_PID, (id_t)pid, &info, WEXITED | WNOWAIT | WNOHANG) == 0 && info.si_pid;
        if (!ended) nanosleep(&moment, NULL);
    }
    if (!ended) kill(pid, SIGKILL);
    return ended_well(pid);
}

bool tool_capture(struct arena *arena, const struct tool_call *call, size_t most,
                  struct str *said) {
    struct buf out = {.arena = arena};
    int64_t deadline = milliseconds() + 1000 * (int64_t)(call->seconds ? call->seconds : 60);
    int ends[2];
    pid_t pid = 0;
    if (pipe(ends)) return false;
    /* Only its standard output keeps the pipe open in the program. */
    for (int i = 0; i < 2; i++) fcntl(ends[i], F_SETFD, FD_CLOEXEC);
    bool started = spawn(arena, call, ends[1], NULL, NULL, &pid) == 0;
    close(ends[1]);
    bool all = started && take(ends[0], most, deadline, &out);
    close(ends[0]);
    bool well = started && ends_well(pid, all, deadline);
    *said = buf_whole(&out);
    return all && well;
}
