/* Before the C library by LD_PRELOAD: of one kind of system call one fails, or a signal that nobody
 * can catch comes in its place.  Only the program that FAULT_PROGRAM names is touched.
 *
 *   FAULT_KIND   open, write, sync, rename, close, make, remove or read, or any
 *   FAULT_AT     which one of these, from 1 on; 0: none
 *   FAULT_ERROR  a number of errno, -1: half of it is done (write, read), -9: the process is killed
 *   FAULT_COUNT  a file: how many there were, written at the end
 *
 * A failed close has closed all the same, as on Linux.
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define REAL(name) ((__typeof__(&(name)))dlsym(RTLD_NEXT, #name))

enum { HALF = -1, KILLED = -9 };

static long calls;

static const char *setting(const char *name) {
    const char *value = getenv(name);
    return value ? value : "";
}

static bool is_meant(void) {
    return strcmp(program_invocation_short_name, setting("FAULT_PROGRAM")) == 0;
}

/* 0: this call goes on; else what becomes of it. */
static int fault(const char *kind) {
    const char *due = setting("FAULT_KIND");
    int saved = errno;
    if (!is_meant() || (strcmp(due, "any") != 0 && strcmp(due, kind) != 0)) return 0;
    if (++calls != atol(setting("FAULT_AT"))) return 0;
    int what = atoi(setting("FAULT_ERROR"));
    if (what == KILLED) kill(getpid(), SIGKILL);
    errno = what > 0 ? what : saved;
    return what;
}

static mode_t mode_of(int flags, va_list args) {
    return flags & (O_CREAT | O_TMPFILE) ? va_arg(args, mode_t) : 0;
}

int open(const char *path, int flags, ...) {
    va_list args;
    va_start(args, flags);
    mode_t mode = mode_of(flags, args);
    va_end(args);
    return fault("open") > 0 ? -1 : REAL(open)(path, flags, mode);
}

int openat(int folder, const char *path, int flags, ...) {
    va_list args;
    va_start(args, flags);
    mode_t mode = mode_of(flags, args);
    va_end(args);
    return fault("open") > 0 ? -1 : REAL(openat)(folder, path, flags, mode);
}

ssize_t write(int file, const void *bytes, size_t size) {
    int what = fault("write");
    return what > 0 ? -1 : REAL(write)(file, bytes, what == HALF ? (size + 1) / 2 : size);
}

ssize_t read(int file, void *bytes, size_t size) {
    int what = fault("read");
    return what > 0 ? -1 : REAL(read)(file, bytes, what == HALF ? (size + 1) / 2 : size);
}

int fsync(int file) {
    return fault("sync") > 0 ? -1 : REAL(fsync)(file);
}

int renameat(int from_folder, const char *from, int to_folder, const char *to) {
    return fault("rename") > 0 ? -1 : REAL(renameat)(from_folder, from, to_folder, to);
}

int renameat2(int from_folder, const char *from, int to_folder, const char *to, unsigned flags) {
    return fault("rename") > 0 ? -1 : REAL(renameat2)(from_folder, from, to_folder, to, flags);
}

int linkat(int from_folder, const char *from, int to_folder, const char *to, int flags) {
    return fault("make") > 0 ? -1 : REAL(linkat)(from_folder, from, to_folder, to, flags);
}

int mkdir(const char *path, mode_t mode) {
    return fault("make") > 0 ? -1 : REAL(mkdir)(path, mode);
}

int mkdirat(int folder, const char *path, mode_t mode) {
    return fault("make") > 0 ? -1 : REAL(mkdirat)(folder, path, mode);
}

int unlinkat(int folder, const char *path, int flags) {
    return fault("remove") > 0 ? -1 : REAL(unlinkat)(folder, path, flags);
}

int close(int file) {
    int what = fault("close"), error = errno, result = REAL(close)(file);
    if (what <= 0) return result;
    errno = error;
    return -1;
}

__attribute__((destructor)) static void tell(void) {
    const char *path = setting("FAULT_COUNT");
    if (!*path || !is_meant()) return;
    FILE *file = fopen(path, "w");
    if (!file) return;
    fprintf(file, "%ld\n", calls);
    fclose(file);
}
