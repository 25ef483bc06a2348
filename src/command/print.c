/* One scratch folder holds one folder a job.  The tools run in the job's folder: WeasyPrint looks
 * for drawings beside the page, and there is nothing else to find.  An interrupt stops the tools,
 * and Pandoc with what it has started, before it removes the folder.
 */
#include "command/print.h"

#include <errno.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/unicode.h"
#include "emit/print/style.h"
#include "system/path.h"
#include "system/scratch.h"
#include "system/tool.h"

static const char reader[] =
    "--from=commonmark+pipe_tables+task_lists+gfm_auto_identifiers-raw_html";

enum { MAX_AT_ONCE = 64, MAX_ARGUMENTS = 16, REPORT_BYTES = 2000 };

struct tool {
    const char *name, *package; /* Debian's */
    const char *path;           /* NULL: not found */
};

struct child {
    pid_t pid; /* 0: free */
    int job;
};

struct printer {
    struct arena *arena;
    struct print_job *jobs;
    int count, next, done, failed;
    struct child running[MAX_AT_ONCE];
    int at_once, busy;
    struct tool pandoc, weasyprint;
    struct scratch scratch;
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

/* A job's folder and a file in it, from the scratch folder. */
static const char *job_folder(const struct printer *printer, int job) {
    return arena_printf(printer->arena, "job-%d", job);
}

static const char *in_job(const struct printer *printer, int job, const char *name) {
    return path_join(printer->arena, job_folder(printer, job), name);
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

/* The locale is one by which Pandoc reads its arguments as they are; the date is fixed. */
static const char *const *settings(const struct printer *printer, const char *folder) {
    const char **list = NEW(printer->arena, const char *, 4);
    const char *date = getenv("SOURCE_DATE_EPOCH");
    list[0] = arena_printf(printer->arena, "TMPDIR=%s", folder);
    list[1] = "LC_ALL=C.UTF-8";
    list[2] = arena_printf(printer->arena, "SOURCE_DATE_EPOCH=%s", date ? date : "0");
    return list;
}

/* Lays out what the tools may see. */
static const char *fill_folder(const struct printer *printer, int index) {
    const struct print_job *job = &printer->jobs[index];
    bool pdf = job->form == PRINT_PDF;
    const struct publish_file styles[] = {
        {"style.html", pdf ? style_order_html : style_tablet_html}, {"style.css", style_order_css}};
    for (int i = 0; i < 2 + job->count; i++) {
        const struct publish_file *file = i < 2 ? &styles[i] : &job->files[i - 2];
        if (!scratch_write(&printer->scratch, in_job(printer, index, file->name), file->bytes))
            return arena_printf(printer->arena, "cannot write %s for %s: %s", file->name,
                                result_name(job->form), strerror(errno));
    }
    return NULL;
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
    const char *folder =
        path_join(printer->arena, printer->scratch.folder, job_folder(printer, job));
    struct tool_call call = {.program = printer->pandoc.path,
                             .arguments = arguments(printer, &printer->jobs[job]),
                             .settings = settings(printer, folder),
                             .folder = folder};
    int error = tool_start(printer->arena, &call, "report", &printer->scratch.before, &pid);
    if (error) {
        finish(printer, job,
               arena_printf(printer->arena, "cannot start %s: %s", call.program, strerror(error)));
        return;
    }
    int slot = 0;
    while (printer->running[slot].pid) slot++;
    printer->running[slot] = (struct child){pid, job};
    printer->busy++;
}

/* What a tool that failed had to say, its end if it said much. */
static const char *report_of(const struct printer *printer, int job, int status) {
    struct str said = {"", 0};
    scratch_read(&printer->scratch, in_job(printer, job, "report"), &said);
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
    if (!scratch_read(&printer->scratch, in_job(printer, index, file.name), &file.bytes))
        return arena_printf(printer->arena, "cannot read the %s that pandoc made: %s", file.name,
                            strerror(errno));
    return publish_folder(printer->arena, job->directory, job->stem, &file, 1);
}

static void reap(struct printer *printer) {
    for (int slot = 0; slot < printer->at_once; slot++) {
        struct child *running = &printer->running[slot];
        int status;
        if (!running->pid || waitpid(running->pid, &status, WNOHANG) != running->pid) continue;
        running->pid = 0;
        printer->busy--;
        bool fine = WIFEXITED(status) && WEXITSTATUS(status) == 0;
        finish(printer, running->job,
               fine ? collect(printer, running->job) : report_of(printer, running->job, status));
        scratch_drop(&printer->scratch, job_folder(printer, running->job));
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

static void run_all(struct printer *printer) {
    show_progress(printer);
    while (printer->done < printer->count) {
        while (printer->next < printer->count && printer->busy < printer->at_once)
            start(printer, printer->next++);
        if (printer->busy && !scratch_wait(&printer->scratch)) {
            stop_all(printer);
            return;
        }
        reap(printer);
    }
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
    if (scratch_open(&printer.scratch, arena)) {
        run_all(&printer);
        scratch_close(&printer.scratch);
    } else {
        const char *why =
            arena_printf(arena, "cannot make a temporary folder: %s", strerror(errno));
        for (int i = 0; i < count; i++) finish(&printer, i, why);
    }
    return printer.failed;
}
