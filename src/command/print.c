/* One scratch folder holds one folder a sheet.  The tools run in the sheet's folder: WeasyPrint
 * looks for drawings beside the page, and there is nothing else to find.  An interrupt stops the
 * tools, and Pandoc with what it has started, before it removes the folder.
 */
#include "command/print.h"

#include <errno.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "base/unicode.h"
#include "emit/print/style.h"
#include "system/path.h"
#include "system/scratch.h"
#include "system/tool.h"

static const char reader[] =
    "--from=commonmark+pipe_tables+task_lists+gfm_auto_identifiers-raw_html";

enum { MAX_AT_ONCE = 64, MAX_ARGUMENTS = 16, REPORT_BYTES = 2000, RESULT_BYTES = 1 << 28 };

/* What one form's file ends in, and how a whole one begins and ends. */
static const struct form {
    enum print_form form;
    const char *ending, *head, *foot;
} forms[] = {
    {PRINT_PDF, "pdf", "%PDF-", "%%EOF"},
    {PRINT_TABLET, "html", "<!DOCTYPE html", "</html>"},
};

enum { FORMS = sizeof forms / sizeof *forms };

struct tool {
    const char *name, *package; /* Debian's */
    const char *path;           /* NULL: not found */
};

/* One order in one form. */
struct sheet {
    int job;
    const struct form *form;
};

/* An order, and what there is of it by now. */
struct rendered {
    struct publish_file *files;
    int count, due;
};

struct child {
    pid_t pid; /* 0: free */
    int sheet;
    time_t until;
};

struct printer {
    struct arena *arena;
    struct print_job *jobs;
    struct rendered *rendered; /* of each job */
    struct sheet *sheets;
    int job_count, count, next, done, failed, seconds;
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

static const struct print_job *job_of(const struct printer *printer, int sheet) {
    return &printer->jobs[printer->sheets[sheet].job];
}

static const char *result_name(const struct printer *printer, int sheet) {
    return arena_printf(printer->arena, "%s.%s", job_of(printer, sheet)->page,
                        printer->sheets[sheet].form->ending);
}

/* In a sheet's folder the page has a name of ours, whatever the recipe's file is called. */
static const char *made_name(const struct printer *printer, int sheet) {
    return arena_printf(printer->arena, "page.%s", printer->sheets[sheet].form->ending);
}

/* A sheet's folder and a file in it, from the scratch folder. */
static const char *sheet_folder(const struct printer *printer, int sheet) {
    return arena_printf(printer->arena, "sheet-%d", sheet);
}

static const char *in_sheet(const struct printer *printer, int sheet, const char *name) {
    return path_join(printer->arena, sheet_folder(printer, sheet), name);
}

/* What Pandoc is called with, ended by NULL. */
static const char *const *arguments(const struct printer *printer, int sheet) {
    const struct print_job *job = job_of(printer, sheet);
    struct arena *arena = printer->arena;
    const char **list = NEW(arena, const char *, MAX_ARGUMENTS + 1);
    int count = 0;
    list[count++] = "pandoc";
    list[count++] = "--quiet";
    list[count++] = "--data-dir=."; /* not the user's own */
    list[count++] = reader;
    list[count++] = "--to=html5-task_lists"; /* its boxes end in tags that HTML does not have */
    list[count++] = "--section-divs";
    list[count++] = "--template=style.html";
    list[count++] = title_argument(arena, job->title);
    list[count++] = arena_printf(arena, "--variable=kind:%s", job->kind);
    if (printer->sheets[sheet].form->form == PRINT_PDF) {
        list[count++] = "--sandbox";
        list[count++] = "--css=style.css";
        list[count++] =
            job->paper == PAPER_LETTER ? "--variable=paper:letter" : "--variable=paper:A4";
        list[count++] = arena_printf(arena, "--pdf-engine=%s", printer->weasyprint.path);
    } else {
        list[count++] = "--css=style.css";
        list[count++] = "--lua-filter=tablet.lua";
        list[count++] = "--self-contained"; /* reads the drawings, which a sandbox would forbid */
    }
    list[count++] = arena_printf(arena, "--output=%s", made_name(printer, sheet));
    list[count++] = "page.md";
    return list;
}

/* The locale is one by which Pandoc reads its arguments as they are; the date is fixed. */
static const char *const *settings(const struct printer *printer, const char *folder) {
    const char **list = NEW(printer->arena, const char *, 5);
    const char *date = getenv("SOURCE_DATE_EPOCH");
    list[0] = arena_printf(printer->arena, "TMPDIR=%s", folder);
    list[1] = arena_printf(printer->arena, "HOME=%s", folder);
    list[2] = "LC_ALL=C.UTF-8";
    list[3] = arena_printf(printer->arena, "SOURCE_DATE_EPOCH=%s", date ? date : "0");
    return list;
}

/* Lays out what the tools may see. */
static const char *fill_folder(const struct printer *printer, int sheet) {
    const struct publication *order = &job_of(printer, sheet)->order;
    const char *page = arena_printf(printer->arena, "%s.md", job_of(printer, sheet)->page);
    const struct publish_file paper[] = {{"style.html", style_order_html},
                                         {"style.css", style_order_css}};
    const struct publish_file tablet[] = {{"style.html", style_tablet_html},
                                          {"style.css", style_tablet_css},
                                          {"tablet.lua", style_tablet_lua},
                                          {"tablet.js", style_tablet_js},
                                          {"run.json", job_of(printer, sheet)->run}};
    bool pdf = printer->sheets[sheet].form->form == PRINT_PDF;
    const struct publish_file *styles = pdf ? paper : tablet;
    int count = pdf ? sizeof paper / sizeof *paper : sizeof tablet / sizeof *tablet;
    for (int i = 0; i < count + order->count; i++) {
        const struct publish_file *file = i < count ? &styles[i] : &order->files[i - count];
        const char *name = strcmp(file->name, page) == 0 ? "page.md" : file->name;
        if (!scratch_write(&printer->scratch, in_sheet(printer, sheet, name), file->bytes))
            return arena_printf(printer->arena, "cannot write %s for %s: %s", file->name,
                                result_name(printer, sheet), strerror(errno));
    }
    return NULL;
}

static void show_progress(const struct printer *printer) {
    if (!printer->terminal) return;
    fprintf(printer->terminal, "\r\033[Kprinted %d of %d", printer->done, printer->count);
    if (printer->done == printer->count) fputs("\r\033[K", printer->terminal);
    fflush(printer->terminal);
}

static void add_failure(struct printer *printer, struct print_job *job, const char *failure) {
    if (!failure) return;
    printer->failed += job->failure == NULL;
    job->failure =
        job->failure ? arena_printf(printer->arena, "%s\n%s", job->failure, failure) : failure;
}

/* The order of a job with all that was made of it. */
static void publish(struct printer *printer, int index) {
    struct print_job *job = &printer->jobs[index];
    struct publication whole = job->order;
    whole.files = printer->rendered[index].files;
    whole.count = printer->rendered[index].count;
    const char *failure = publish_folder(printer->arena, &whole);
    job->published = !failure;
    if (failure) job->made = 0;
    add_failure(printer, job, failure);
}

static void finish(struct printer *printer, int sheet, const char *failure) {
    int job = printer->sheets[sheet].job;
    add_failure(printer, &printer->jobs[job], failure);
    if (--printer->rendered[job].due == 0) publish(printer, job);
    printer->done++;
    show_progress(printer);
}

static const char *missing(const struct printer *printer, int sheet) {
    const struct tool *tools[] = {&printer->pandoc, &printer->weasyprint};
    int needed = printer->sheets[sheet].form->form == PRINT_PDF ? 2 : 1;
    for (int i = 0; i < needed; i++) {
        if (tools[i]->path) continue;
        return arena_printf(printer->arena,
                            "cannot make %s: %s is not in PATH (it is in the Debian package %s)",
                            result_name(printer, sheet), tools[i]->name, tools[i]->package);
    }
    return NULL;
}

static time_t now(void) {
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return time.tv_sec;
}

static void start(struct printer *printer, int sheet) {
    const char *failure = missing(printer, sheet);
    if (!failure) failure = fill_folder(printer, sheet);
    if (failure) {
        finish(printer, sheet, failure);
        return;
    }
    pid_t pid;
    const char *folder =
        path_join(printer->arena, printer->scratch.folder, sheet_folder(printer, sheet));
    struct tool_call call = {.program = printer->pandoc.path,
                             .arguments = arguments(printer, sheet),
                             .settings = settings(printer, folder),
                             .bare = true,
                             .folder = folder};
    int error = tool_start(printer->arena, &call, "report", &printer->scratch.before, &pid);
    if (error) {
        finish(printer, sheet,
               arena_printf(printer->arena, "cannot start %s: %s", call.program, strerror(error)));
        return;
    }
    int slot = 0;
    while (printer->running[slot].pid) slot++;
    printer->running[slot] = (struct child){pid, sheet, now() + printer->seconds};
    printer->busy++;
}

/* What a tool that failed had to say, its end if it said much. */
static const char *report_of(const struct printer *printer, int sheet, int status) {
    struct str said = {"", 0};
    scratch_read(&printer->scratch, in_sheet(printer, sheet, "report"), REPORT_BYTES, &said);
    while (said.size && said.data[said.size - 1] == '\n') said.size--;
    const char *how = WIFSIGNALED(status) ? "was stopped by signal" : "ended with status";
    int number = WIFSIGNALED(status) ? WTERMSIG(status) : WEXITSTATUS(status);
    return arena_printf(printer->arena, "cannot make %s: pandoc %s %d%s%.*s",
                        result_name(printer, sheet), how, number, said.size ? "\n" : "",
                        (int)said.size, said.data);
}

/* A tool that dies in the middle may still say that all went well. */
static bool looks_whole(const struct form *form, struct str bytes) {
    size_t head = strlen(form->head), foot = strlen(form->foot);
    while (bytes.size && strchr("\r\n", bytes.data[bytes.size - 1])) bytes.size--;
    return bytes.size >= head + foot && memcmp(bytes.data, form->head, head) == 0 &&
           memcmp(bytes.data + bytes.size - foot, form->foot, foot) == 0;
}

/* The result of a tool that has ended well joins its order. */
static const char *collect(struct printer *printer, int index) {
    const struct sheet *sheet = &printer->sheets[index];
    const char *name = result_name(printer, index);
    struct rendered *rendered = &printer->rendered[sheet->job];
    struct publish_file file = {.name = name};
    if (!scratch_read(&printer->scratch, in_sheet(printer, index, made_name(printer, index)),
                      RESULT_BYTES, &file.bytes))
        return arena_printf(printer->arena, "cannot read the %s that pandoc made: %s", name,
                            strerror(errno));
    if (!looks_whole(sheet->form, file.bytes))
        return arena_printf(printer->arena, "cannot use the %s that pandoc made: it is not whole",
                            name);
    rendered->files[rendered->count++] = file;
    printer->jobs[sheet->job].made |= sheet->form->form;
    return NULL;
}

/* A child has ended, or was stopped. */
static void settle(struct printer *printer, struct child *child, const char *failure) {
    int sheet = child->sheet;
    child->pid = 0;
    printer->busy--;
    finish(printer, sheet, failure);
    scratch_drop(&printer->scratch, sheet_folder(printer, sheet));
}

static void reap(struct printer *printer) {
    for (int slot = 0; slot < printer->at_once; slot++) {
        struct child *child = &printer->running[slot];
        int status;
        if (!child->pid) continue;
        if (waitpid(child->pid, &status, WNOHANG) == child->pid) {
            bool fine = WIFEXITED(status) && WEXITSTATUS(status) == 0;
            settle(printer, child,
                   fine ? collect(printer, child->sheet)
                        : report_of(printer, child->sheet, status));
        } else if (now() >= child->until) {
            tool_stop(&child->pid, 1);
            settle(printer, child,
                   arena_printf(printer->arena, "cannot make %s: pandoc took longer than %d s",
                                result_name(printer, child->sheet), printer->seconds));
        }
    }
}

static void stop_all(const struct printer *printer) {
    pid_t pids[MAX_AT_ONCE];
    int count = 0;
    for (int slot = 0; slot < printer->at_once; slot++)
        if (printer->running[slot].pid) pids[count++] = printer->running[slot].pid;
    tool_stop(pids, count);
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

/* Every job's files with room for what will be made of it, and the sheets one by one. */
static void lay_out(struct printer *printer) {
    struct arena *arena = printer->arena;
    printer->rendered = NEW(arena, struct rendered, printer->job_count);
    printer->sheets = NEW(arena, struct sheet, printer->job_count * FORMS);
    for (int i = 0; i < printer->job_count; i++) {
        struct print_job *job = &printer->jobs[i];
        struct rendered *rendered = &printer->rendered[i];
        job->published = false;
        job->made = 0;
        job->failure = NULL;
        rendered->files = NEW(arena, struct publish_file, job->order.count + FORMS);
        rendered->count = job->order.count;
        for (int j = 0; j < job->order.count; j++) rendered->files[j] = job->order.files[j];
        for (int j = 0; j < FORMS; j++) {
            if (!(job->forms & forms[j].form)) continue;
            printer->sheets[printer->count++] = (struct sheet){i, &forms[j]};
            rendered->due++;
        }
    }
}

int print_orders(struct arena *arena, struct print_job *jobs, int count, int seconds,
                 FILE *terminal) {
    long processors = sysconf(_SC_NPROCESSORS_ONLN);
    struct printer printer = {
        .arena = arena,
        .jobs = jobs,
        .job_count = count,
        .seconds = seconds,
        .at_once = processors < 1             ? 1
                   : processors > MAX_AT_ONCE ? MAX_AT_ONCE
                                              : (int)processors,
        .pandoc = {"pandoc", "pandoc", tool_find(arena, "pandoc")},
        .weasyprint = {"weasyprint", "weasyprint", tool_find(arena, "weasyprint")},
        .terminal = terminal,
    };
    lay_out(&printer);
    for (int i = 0; i < count; i++)
        if (!printer.rendered[i].due) publish(&printer, i);
    if (!printer.count) return printer.failed;
    if (scratch_open(&printer.scratch, arena)) {
        run_all(&printer);
        scratch_close(&printer.scratch);
    } else {
        const char *why =
            arena_printf(arena, "cannot make a temporary folder: %s", strerror(errno));
        for (int i = 0; i < printer.count; i++) finish(&printer, i, why);
    }
    return printer.failed;
}
