#define _XOPEN_SOURCE 700 /* realpath */

#include "system/path.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

const char *path_name(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

const char *path_folder(struct arena *arena, const char *path) {
    const char *slash = strrchr(path, '/');
    if (!slash) return "";
    return arena_copy(arena, path, slash == path ? 1 : (size_t)(slash - path));
}

const char *path_stem(struct arena *arena, const char *path) {
    const char *name = path_name(path), *dot = strrchr(name, '.');
    bool ending = dot && dot != name && (!strcmp(dot, ".yaml") || !strcmp(dot, ".yml"));
    const char *stem = arena_copy(arena, name, ending ? (size_t)(dot - name) : strlen(name));
    return path_is_plain(stem) && strcmp(stem, "-") != 0 ? stem : NULL;
}

const char *path_join(struct arena *arena, const char *folder, const char *name) {
    size_t size = strlen(folder);
    bool slash = size > 0 && folder[size - 1] != '/';
    return arena_printf(arena, "%s%s%s", folder, slash ? "/" : "", name);
}

const char *path_within(struct arena *arena, const char *folder, const char *name) {
    const char *rest = arena_printf(arena, "%s/%s", folder, name);
    const char *path = "";
    if (*name == '/') return NULL;
    while (*rest) {
        size_t size = strcspn(rest, "/");
        bool up = size == 2 && memcmp(rest, "..", 2) == 0;
        bool stay = size == 0 || (size == 1 && *rest == '.');
        if (up && !*path) return NULL;
        if (up)
            path = path_folder(arena, path);
        else if (!stay)
            path = path_join(arena, path, arena_copy(arena, rest, size));
        rest += size + (rest[size] == '/');
    }
    return path;
}

const char *path_real(struct arena *arena, const char *path) {
    char *real = realpath(path, NULL);
    if (!real) return NULL;
    const char *copy = arena_copy(arena, real, strlen(real));
    free(real);
    return copy;
}

bool path_is_below(const char *real, const char *tree) {
    size_t size = strlen(tree);
    if (strcmp(tree, "/") == 0) return true;
    return strncmp(real, tree, size) == 0 && real[size] == '/';
}

bool path_is_plain(const char *name) {
    return *name && *name != '.' && !strchr(name, '/');
}

const char *path_make(struct arena *arena, const char *path, mode_t mode) {
    char *part = arena_copy(arena, path, strlen(path));
    for (char *end = part; *end;) {
        end += strspn(end, "/");
        end += strcspn(end, "/");
        char kept = *end;
        *end = '\0';
        if (mkdir(part, mode) && errno != EEXIST) return part;
        *end = kept;
    }
    return NULL;
}
