/* No argument of ours can be taken for an option or a pattern: files stand behind `--`, pathspecs
 * are literal, and revisions begin with a commit's id.  Pagers, colours, signatures and converters
 * of the user's configuration are switched off, and so is every way out: in a repository that lacks
 * objects git would fetch them by a program that its configuration names.
 */
#include "system/git.h"

#include <string.h>

#include "system/tool.h"

enum { LOG_BYTES = 1 << 22, PREFIX_BYTES = 1 << 13 };

struct git git_in(struct arena *arena, const char *folder) {
    return (struct git){arena, tool_find(arena, "git"), folder};
}

/* "git", what every call has, and the arguments, which NULL ends. */
static const char *const *argument_list(const struct git *git, const char *const *arguments) {
    const char *const first[] = {"git",
                                 "-C",
                                 git->folder,
                                 "--no-pager",
                                 "--literal-pathspecs",
                                 "--no-optional-locks",
                                 "-c",
                                 "log.showRoot=true"};
    enum { FIRST = sizeof first / sizeof *first };
    int count = 0;
    while (arguments[count]) count++;
    const char **list = NEW(git->arena, const char *, FIRST + count + 1);
    for (int i = 0; i < FIRST + count; i++) list[i] = i < FIRST ? first[i] : arguments[i - FIRST];
    return list;
}

/* No protocol is allowed, whatever a configuration says; newer versions fetch nothing by
 * themselves. */
static const char *const shut[] = {"GIT_ALLOW_PROTOCOL=", "GIT_NO_LAZY_FETCH=1",
                                   "GIT_TERMINAL_PROMPT=0", NULL};

/* False where it cannot be started, fails, or has more to say than `most` bytes. */
static bool ask(const struct git *git, const char *const *arguments, size_t most,
                struct str *said) {
    struct tool_call call = {
        .program = git->program, .arguments = argument_list(git, arguments), .settings = shut};
    return git->program && tool_capture(git->arena, &call, most, said);
}

const char *git_refusal(const struct git *git) {
    static const char *const arguments[] = {"rev-parse", "--show-prefix", NULL};
    struct tool_call call = {.program = git->program,
                             .arguments = argument_list(git, arguments),
                             .settings = shut,
                             .errors = true};
    struct str said = {"", 0};
    if (!git->program || tool_capture(git->arena, &call, PREFIX_BYTES, &said)) return NULL;
    const char *words = arena_copy(git->arena, said.data, said.size);
    return strstr(words, "dubious ownership") ? words : NULL;
}

/* The text up to the next zero byte, which is stepped over. */
static struct str next_field(struct str *rest) {
    const char *zero = memchr(rest->data, '\0', rest->size);
    struct str field = {rest->data, zero ? (size_t)(zero - rest->data) : rest->size};
    size_t taken = field.size + (zero != NULL);
    rest->data += taken;
    rest->size -= taken;
    return field;
}

/* The word up to a blank, which is stepped over. */
static const char *next_word(struct arena *arena, struct str *rest) {
    size_t size = 0;
    while (size < rest->size && rest->data[size] != ' ') size++;
    const char *word = arena_copy(arena, rest->data, size);
    size += size < rest->size;
    rest->data += size;
    rest->size -= size;
    return word;
}

/* "ID DATE SUBJECT", and behind a line break the file's path. */
static void read_log(const struct git *git, struct str said, int most, struct git_log *log) {
    log->commits = NEW(git->arena, struct git_commit, most);
    while (said.size) {
        struct str field = next_field(&said);
        if (field.size && field.data[0] == '\n') {
            if (log->count)
                log->commits[log->count - 1].path =
                    arena_copy(git->arena, field.data + 1, field.size - 1);
            continue;
        }
        if (log->count == most) break;
        struct git_commit *commit = &log->commits[log->count++];
        commit->id = next_word(git->arena, &field);
        commit->date = next_word(git->arena, &field);
        commit->subject = arena_copy(git->arena, field.data, field.size);
    }
}

bool git_log(const struct git *git, const char *const *files, int file_count, int most,
             struct git_log *log) {
    const char *const first[] = {"log",
                                 arena_printf(git->arena, "--max-count=%d", most),
                                 "--format=%H %ad %s",
                                 "--date=short",
                                 "--encoding=UTF-8",
                                 "--no-color",
                                 "--no-show-signature",
                                 "--no-ext-diff",
                                 "--no-textconv",
                                 "-z",
                                 file_count == 1 ? "--follow" : "--no-patch",
                                 file_count == 1 ? "--name-only" : "--no-notes",
                                 "--"};
    enum { FIRST = sizeof first / sizeof *first };
    const char **arguments = NEW(git->arena, const char *, FIRST + file_count + 1);
    for (int i = 0; i < FIRST; i++) arguments[i] = first[i];
    for (int i = 0; i < file_count; i++) arguments[FIRST + i] = files[i];
    struct str said;
    *log = (struct git_log){0};
    if (!ask(git, arguments, LOG_BYTES, &said)) return false;
    read_log(git, said, most, log);
    return true;
}

bool git_prefix(const struct git *git, const char **prefix) {
    static const char *const arguments[] = {"rev-parse", "--show-prefix", NULL};
    struct str said;
    if (!ask(git, arguments, PREFIX_BYTES, &said)) return false;
    if (said.size && said.data[said.size - 1] == '\n') said.size--;
    *prefix = arena_copy(git->arena, said.data, said.size);
    return true;
}

bool git_commit_id(const struct git *git, const char *revision, const char **id) {
    const char *const arguments[] = {"rev-parse",
                                     "--verify",
                                     "--quiet",
                                     "--end-of-options",
                                     arena_printf(git->arena, "%s^{commit}", revision),
                                     NULL};
    struct str said;
    if (revision[0] == '-' || !ask(git, arguments, PREFIX_BYTES, &said)) return false;
    while (said.size && said.data[said.size - 1] == '\n') said.size--;
    *id = arena_copy(git->arena, said.data, said.size);
    return said.size >= 40 && strspn(*id, "0123456789abcdef") == said.size;
}

bool git_blob(const struct git *git, const char *commit, const char *path, size_t most,
              struct str *bytes) {
    const char *const arguments[] = {"cat-file", "blob",
                                     arena_printf(git->arena, "%s:%s", commit, path), NULL};
    return ask(git, arguments, most, bytes);
}
