/* See tool.h.  posix_spawn keeps everything between fork and exec out of our hands, so nothing can
 * go wrong there that we would have to tell of.
 */
#include "system/tool.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <spawn.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

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

void tool_remove_folder(const char *path) {
    remove_at(AT_FDCWD, path);
}

/* What the child is started with: ours, but for its temporary files, its locale (Pandoc reads its
 * arguments by it) and a fixed date. */
static char **child_environment(struct arena *arena, const char *folder) {
    size_t count = 0;
    while (environ[count]) count++;
    char **result = NEW(arena, char *, count + 4);
    size_t kept = 0;
    bool dated = false;
    for (size_t i = 0; i < count; i++) {
        if (!strncmp(environ[i], "TMPDIR=", 7) || !strncmp(environ[i], "LC_ALL=", 7)) continue;
        dated = dated || !strncmp(environ[i], "SOURCE_DATE_EPOCH=", 18);
        result[kept++] = environ[i];
    }
    result[kept++] = arena_printf(arena, "TMPDIR=%s", folder);
    result[kept++] = arena_printf(arena, "LC_ALL=C.UTF-8");
    if (!dated) result[kept++] = arena_printf(arena, "SOURCE_DATE_EPOCH=0");
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
int tool_start(struct arena *arena, const char *path, const char *const *arguments,
               const char *folder, const sigset_t *mask, pid_t *pid) {
    posix_spawn_file_actions_t actions;
    posix_spawnattr_t attributes;
    if (posix_spawn_file_actions_init(&actions)) return ENOMEM;
    if (posix_spawnattr_init(&attributes)) {
        posix_spawn_file_actions_destroy(&actions);
        return ENOMEM;
    }
    int write_flags = O_WRONLY | O_CREAT | O_TRUNC;
    posix_spawn_file_actions_addopen(&actions, 0, "/dev/null", O_RDONLY, 0);
    posix_spawn_file_actions_addopen(&actions, 1, "report", write_flags, 0600);
    posix_spawn_file_actions_adddup2(&actions, 1, 2);
    posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETPGROUP | POSIX_SPAWN_SETSIGMASK);
    posix_spawnattr_setpgroup(&attributes, 0);
    posix_spawnattr_setsigmask(&attributes, mask);

    int here = open(".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    int error = here < 0 || chdir(folder) ? errno : 0;
    if (!error) {
        error = posix_spawn(pid, path, &actions, &attributes, copy_list(arena, arguments),
                            child_environment(arena, folder));
        if (fchdir(here) && !error) error = errno;
    }
    if (here >= 0) close(here);
    posix_spawnattr_destroy(&attributes);
    posix_spawn_file_actions_destroy(&actions);
    return error;
}
