/* One private folder holds one folder a job.  The tools run in the job's folder: WeasyPrint looks
 * for drawings beside the page, and there is nothing else to find.
 *
 * While tools run, the signals that end a program are blocked and waited for together with the end
 * of a child: an interrupt stops the tools, removes the folder and is then raised again.  Each tool
 * leads a process group of its own, so that stopping Pandoc stops what it has started.
 */
#include "print.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "base/unicode.h"
#include "emit/print/style.h"
#include "system/tool.h"

static const char reader[] =
    "--from=commonmark+pipe_tables+task_lists+gfm_auto_identifiers-raw_html";

enum { MAX_AT_ONCE = 64, MAX_ARGUMENTS = 16, REPORT_BYTES = 2000 };

struct tool {
    const char *name, *package; /* Debian's */
    const char *path;           /* NULL: not found */
};

struct running {
    pid_t pid; /* 0: free */
    int job;
};

struct printer {
    struct arena *arena;
    struct print_job *jobs;
    int count, next, done, failed;
    struct running running[MAX_AT_ONCE];
    int at_once, busy;
    struct tool pandoc, weasyprint;
    const char *folder;      /* private */
    sigset_t ending, before; /* the signals that are waited for; the mask that was found */
    FILE *terminal;
};

/* Pandoc puts a template's variables into the page as they are: ASCII without markup is safe. */
static const char *title_argument(struct arena *arena, struct str title) {
    struct buf out = {.arena = arena};
    buf_text(&out, "--variable=pagetitle:");
    for (struct str rest = unicode_clean(arena, title); rest.size;) {
        uint32_t point = unicode_take(&rest).point;
        bool plain = point == ' ' || (point >= '0' && point <= '9') ||
                     (point >= 'A' && point <= 'Z') || (point >= 'a' && point <= 'z');
        if (plain)
            buf_char(&out, (char)point);
        else
            buf_printf(&out, "&#%lu;", (unsigned long)point);
    }
    return out.data;
}

static const char *job_folder(const struct printer *printer, int job) {
    return arena_printf(printer->arena, "%s/job-%d", printer->folder, job);
}

static const char *result_name(enum print_form form) {
    return form == PRINT_PDF ? "order.pdf" : "order.html";
}

/* What Pandoc is called with, ended by NULL. */
static const char *const *arguments(const struct printer *printer, const struct print_job *job) {
    struct arena *arena = printer->arena;
    const char **list = NEW(arena, const char *, MAX_ARGUMENTS + 1);
    int count = 0;
    list[count++] = "pandoc";
    list[count++] = "--quiet";
    list[count++] = "--data-dir=."; /* not the user's own */
    list[count++] = reader;
    list[count++] = "--to=html5";
    list[count++] = "--section-divs";
    list[count++] = "--template=style.html";
    list[count++] = title_argument(arena, job->title);
    if (job->form == PRINT_PDF) {
        list[count++] = "--sandbox";
        list[count++] = "--css=style.css";
        list[count++] =
            job->paper == PAPER_LETTER ? "--variable=paper:letter" : "--variable=paper:A4";
        list[count++] = arena_printf(arena, "--pdf-engine=%s", printer->weasyprint.path);
    } else {
        list[count++] = "--self-contained"; /* reads the drawings, which a sandbox would forbid */
    }
    list[count++] = arena_printf(arena, "--output=%s", result_name(job->form));
    list[count++] = "order.md";
    return list;
}

/* Lays out what the tools may see. */
static const char *fill_folder(const struct printer *printer, int index) {
    const struct print_job *job = &printer->jobs[index];
    struct publish_file *files = NEW(printer->arena, struct publish_file, job->count + 2);
    bool pdf = job->form == PRINT_PDF;
    files[0] = (struct publish_file){"style.html", pdf ? style_order_html : style_tablet_html};
    files[1] = (struct publish_file){"style.css", style_order_css};
    if (job->count) memcpy(files + 2, job->files, (size_t)job->count * sizeof *files);
    const char *name = arena_printf(printer->arena, "job-%d", index);
    return publish_folder(printer->arena, printer->folder, name, files, job->count + 2);
}

static void show_progress(const struct printer *printer) {
    if (!printer->terminal) return;
    fprintf(printer->terminal, "\r\033[Kprinted %d of %d", printer->done, printer->count);
    if (printer->done == printer->count) fputs("\r\033[K", printer->terminal);
    fflush(printer->terminal);
}

static void finish(struct printer *printer, int job, const char *failure) {
    printer->jobs[job].failure = failure;
    printer->failed += failure != NULL;
    printer->done++;
    show_progress(printer);
}

static const char *missing(const struct printer *printer, const struct print_job *job) {
    const struct tool *tools[] = {&printer->pandoc, &printer->weasyprint};
    int needed = job->form == PRINT_PDF ? 2 : 1;
    for (int i = 0; i < needed; i++) {
        if (tools[i]->path) continue;
        return arena_printf(printer->arena,
                            "cannot make %s: %s is not in PATH (it is in the Debian package %s)",
                            result_name(job->form), tools[i]->name, tools[i]->package);
    }
    return NULL;
}

static void start(struct printer *printer, int job) {
    const char *failure = missing(printer, &printer->jobs[job]);
    if (!failure) failure = fill_folder(printer, job);
    if (failure) {
        finish(printer, job, failure);
        return;
    }
    pid_t pid;
    int error =
        tool_start(printer->arena, printer->pandoc.path, arguments(printer, &printer->jobs[job]),
                   job_folder(printer, job), &printer->before, &pid);
    if (error) {
        finish(printer, job,
               arena_printf(printer->arena, "cannot start %s: %s", printer->pandoc.path,
                            strerror(error)));
        return;
    }
    int slot = 0;
    while (printer->running[slot].pid) slot++;
    printer->running[slot] = (struct running){pid, job};
    printer->busy++;
}

/* A whole file; false with errno set. */
static bool read_file(struct arena *arena, const char *path, struct str *bytes) {
    int file = open(path, O_RDONLY | O_NOFOLLOW | O_CLOEXEC);
    struct stat info;
    if (file < 0) return false;
    if (fstat(file, &info)) {
        close(file);
        return false;
    }
    char *data = arena_alloc(arena, (size_t)info.st_size + 1);
    size_t size = 0;
    for (ssize_t got; size < (size_t)info.st_size; size += (size_t)got) {
        got = read(file, data + size, (size_t)info.st_size - size);
        if (got < 0 && errno == EINTR)
            got = 0;
        else if (got <= 0)
            break;
    }
    close(file);
    *bytes = (struct str){data, size};
    errno = EIO;
    return size == (size_t)info.st_size;
}

/* What a tool that failed had to say, its end if it said much. */
static const char *report_of(const struct printer *printer, int job, int status) {
    struct str said = {"", 0};
    read_file(printer->arena, arena_printf(printer->arena, "%s/report", job_folder(printer, job)),
              &said);
    if (said.size > REPORT_BYTES) {
        said.data += said.size - REPORT_BYTES;
        said.size = REPORT_BYTES;
    }
    while (said.size && said.data[said.size - 1] == '\n') said.size--;
    const char *how = WIFSIGNALED(status) ? "was stopped by signal" : "ended with status";
    int number = WIFSIGNALED(status) ? WTERMSIG(status) : WEXITSTATUS(status);
    return arena_printf(printer->arena, "cannot make %s: pandoc %s %d%s%.*s",
                        result_name(printer->jobs[job].form), how, number, said.size ? "\n" : "",
                        (int)said.size, said.data);
}

/* The result of a job whose tool has ended well goes where the order is. */
static const char *collect(const struct printer *printer, int index) {
    const struct print_job *job = &printer->jobs[index];
    struct publish_file file = {.name = result_name(job->form)};
    const char *path = arena_printf(printer->arena, "%s/%s", job_folder(printer, index), file.name);
    if (!read_file(printer->arena, path, &file.bytes)) {
        return arena_printf(printer->arena, "cannot read %s: %s", path, strerror(errno));
    }
    return publish_folder(printer->arena, job->directory, job->stem, &file, 1);
}

static void reap(struct printer *printer) {
    for (int slot = 0; slot < printer->at_once; slot++) {
        struct running *running = &printer->running[slot];
        int status;
        if (!running->pid || waitpid(running->pid, &status, WNOHANG) != running->pid) continue;
        running->pid = 0;
        printer->busy--;
        bool fine = WIFEXITED(status) && WEXITSTATUS(status) == 0;
        finish(printer, running->job,
               fine ? collect(printer, running->job) : report_of(printer, running->job, status));
        tool_remove_folder(job_folder(printer, running->job));
    }
}

static void stop_all(struct printer *printer) {
    for (int slot = 0; slot < printer->at_once; slot++) {
        pid_t pid = printer->running[slot].pid;
        if (!pid) continue;
        kill(-pid, SIGTERM);
        waitpid(pid, NULL, 0);
    }
}

static void block_signals(struct printer *printer) {
    static const int ending[] = {SIGINT, SIGTERM, SIGHUP, SIGQUIT};
    sigemptyset(&printer->ending);
    for (size_t i = 0; i < sizeof ending / sizeof *ending; i++) {
        sigaddset(&printer->ending, ending[i]);
    }
    sigaddset(&printer->ending, SIGCHLD);
    sigprocmask(SIG_BLOCK, &printer->ending, &printer->before);
}

/* Waits for the end of a child, a second at most; the number of a signal that ends us, or 0. */
static int wait_for_news(const struct printer *printer) {
    struct timespec second = {.tv_sec = 1};
    int number = sigtimedwait(&printer->ending, NULL, &second);
    return number > 0 && number != SIGCHLD ? number : 0;
}

/* Runs all jobs; returns the number of a signal that ended it early, or 0. */
static int run_all(struct printer *printer) {
    show_progress(printer);
    while (printer->done < printer->count) {
        while (printer->next < printer->count && printer->busy < printer->at_once) {
            start(printer, printer->next++);
        }
        int number = printer->busy ? wait_for_news(printer) : 0;
        if (number) {
            stop_all(printer);
            return number;
        }
        reap(printer);
    }
    return 0;
}

static const char *private_folder(struct arena *arena) {
    const char *base = getenv("TMPDIR");
    if (!base || *base != '/') base = "/tmp";
    return mkdtemp(arena_printf(arena, "%s/plugwright-XXXXXX", base));
}

int print_orders(struct arena *arena, struct print_job *jobs, int count, FILE *terminal) {
    long processors = sysconf(_SC_NPROCESSORS_ONLN);
    struct printer printer = {
        .arena = arena,
        .jobs = jobs,
        .count = count,
        .at_once = processors < 1             ? 1
                   : processors > MAX_AT_ONCE ? MAX_AT_ONCE
                                              : (int)processors,
        .pandoc = {"pandoc", "pandoc", tool_find(arena, "pandoc")},
        .weasyprint = {"weasyprint", "weasyprint", tool_find(arena, "weasyprint")},
        .terminal = terminal,
    };
    block_signals(&printer);
    printer.folder = private_folder(arena);
    int number = 0;
    if (printer.folder) {
        number = run_all(&printer);
        tool_remove_folder(printer.folder);
    } else {
        const char *why =
            arena_printf(arena, "cannot make a temporary folder: %s", strerror(errno));
        for (int i = 0; i < count; i++) finish(&printer, i, why);
    }
    sigprocmask(SIG_SETMASK, &printer.before, NULL);
    if (number) raise(number);
    return printer.failed;
}
