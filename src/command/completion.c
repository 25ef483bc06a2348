/* The shells differ in how a choice is offered; what is offered comes from the same rows. */
#include <string.h>

#include "command/describe.h"
#include "command/list.h"
#include "command/options.h"

/* Inside single quotes, with a backslash before each of `special`. */
static void put_quoted(struct buf *out, const char *text, const char *special) {
    for (; *text; text++) {
        if (*text == '\'')
            buf_text(out, "'\\''");
        else
            buf_printf(out, "%s%c", strchr(special, *text) ? "\\" : "", *text);
    }
}

static bool takes(const struct command *command, const struct option_row *row) {
    return !row->bit || row->bit & command->options;
}

static bool is_file(const struct command *command) {
    return strstr(command->arguments, "FILE") || strstr(command->arguments, "OLD");
}

static const char *words_of(const struct option_row *row) {
    return strcmp(row->name, "color") == 0 ? "auto always never" : NULL;
}

/* The words that stand for a command's operand, where they are no files. */
static const char *operands_of(const struct command *command) {
    return strcmp(command->name, "describe") == 0 ? "man man-recipe bash zsh fish" : NULL;
}

/* --- bash ------------------------------------------------------------------------------------- */

static void bash_command(struct buf *out, const struct command *command) {
    int count;
    const struct option_row *rows = options_rows(&count);
    buf_printf(out, "        %s)\n            options='", command->name);
    for (int i = 0; i < count; i++)
        if (takes(command, &rows[i])) buf_printf(out, "--%s ", rows[i].name);
    buf_text(out, "'\n");
    if (operands_of(command)) buf_printf(out, "            words='%s'\n", operands_of(command));
    if (is_file(command)) buf_text(out, "            files=yes\n");
    buf_text(out, "            ;;\n");
}

void describe_bash(struct buf *out) {
    int count;
    const struct command *commands = list_commands(&count);
    buf_text(out, "# Completion of plugwright for bash, written by 'plugwright describe bash'.\n"
                  "_plugwright() {\n"
                  "    local current=${COMP_WORDS[COMP_CWORD]} options= words= files=\n"
                  "    COMPREPLY=()\n"
                  "    if [ \"$COMP_CWORD\" = 1 ]; then\n        words='");
    for (int i = 0; i < count; i++) buf_printf(out, "%s ", commands[i].name);
    buf_text(out, "'\n        options='--help --version'\n    fi\n"
                  "    case ${COMP_WORDS[COMP_CWORD - 1]} in\n"
                  "        -o | --output)\n"
                  "            mapfile -t COMPREPLY < <(compgen -d -- \"$current\")\n"
                  "            return\n            ;;\n"
                  "        --color)\n"
                  "            mapfile -t COMPREPLY < <(compgen -W 'auto always never' -- "
                  "\"$current\")\n"
                  "            return\n            ;;\n"
                  "        --copies) return ;;\n    esac\n"
                  "    [ \"$COMP_CWORD\" = 1 ] || case ${COMP_WORDS[1]} in\n");
    for (int i = 0; i < count; i++) bash_command(out, &commands[i]);
    buf_text(out,
             "    esac\n"
             "    case $current in\n"
             "        -*) mapfile -t COMPREPLY < <(compgen -W \"$options\" -- \"$current\") ;;\n"
             "        *)\n"
             "            [ -z \"$words\" ] ||\n"
             "                mapfile -t COMPREPLY < <(compgen -W \"$words\" -- \"$current\")\n"
             "            [ -z \"$files\" ] || mapfile -t COMPREPLY < <(\n"
             "                compgen -d -- \"$current\"\n"
             "                compgen -f -X '!*.y?(a)ml' -- \"$current\"\n"
             "            )\n"
             "            ;;\n"
             "    esac\n"
             "}\n"
             "shopt -s extglob\n"
             "complete -o filenames -F _plugwright plugwright\n");
}

/* --- zsh -------------------------------------------------------------------------------------- */

static void zsh_option(struct buf *out, const struct option_row *row) {
    buf_text(out, "                ");
    if (row->letter)
        buf_printf(out, "'(-%c --%s)'{-%c%s,--%s%s}'[", row->letter, row->name, row->letter,
                   row->argument ? "+" : "", row->name, row->argument ? "=" : "");
    else
        buf_printf(out, "'--%s%s[", row->name, row->argument ? "=" : "");
    put_quoted(out, row->says, "[]:\\");
    buf_char(out, ']');
    if (row->argument) {
        buf_printf(out, ":%s:", row->argument);
        if (words_of(row)) buf_printf(out, "(%s)", words_of(row));
        if (row->bit == OPTION_OUTPUT) buf_text(out, "_files -/");
    }
    buf_text(out, "' \\\n");
}

static void zsh_command(struct buf *out, const struct command *command) {
    int count;
    const struct option_row *rows = options_rows(&count);
    buf_printf(out, "        %s)\n            _arguments -s \\\n", command->name);
    for (int i = 0; i < count; i++)
        if (takes(command, &rows[i])) zsh_option(out, &rows[i]);
    if (operands_of(command))
        buf_printf(out, "                '*:form:(%s)'\n", operands_of(command));
    else if (is_file(command))
        buf_text(out, "                '*:recipe:_files -g \"*.(yaml|yml)\"'\n");
    else
        buf_text(out, "                '*:name:'\n");
    buf_text(out, "            ;;\n");
}

void describe_zsh(struct buf *out) {
    int count;
    const struct command *commands = list_commands(&count);
    buf_text(out, "#compdef plugwright\n"
                  "# Completion of plugwright for zsh, written by 'plugwright describe zsh'.\n"
                  "_plugwright() {\n    local -a commands=(\n");
    for (int i = 0; i < count; i++) {
        buf_printf(out, "        '%s:", commands[i].name);
        put_quoted(out, commands[i].what, ":\\");
        buf_text(out, "'\n");
    }
    buf_text(out, "    )\n"
                  "    if ((CURRENT == 2)); then\n"
                  "        _describe command commands\n"
                  "        return\n"
                  "    fi\n"
                  "    local command=$words[2]\n"
                  "    shift words\n"
                  "    ((CURRENT--))\n"
                  "    case $command in\n");
    for (int i = 0; i < count; i++) zsh_command(out, &commands[i]);
    buf_text(out, "    esac\n}\n"
                  "if [ \"$funcstack[1]\" = _plugwright ]; then\n"
                  "    _plugwright \"$@\"\nelse\n    compdef _plugwright plugwright\nfi\n");
}

/* --- fish ------------------------------------------------------------------------------------- */

static void fish_option(struct buf *out, const struct command *command,
                        const struct option_row *row) {
    buf_printf(out, "complete -c plugwright -n '__fish_seen_subcommand_from %s' -l %s",
               command->name, row->name);
    if (row->letter) buf_printf(out, " -s %c", row->letter);
    if (words_of(row))
        buf_printf(out, " -x -a '%s'", words_of(row));
    else if (row->bit == OPTION_OUTPUT)
        buf_text(out, " -x -a '(__fish_complete_directories)'");
    else if (row->argument)
        buf_text(out, " -x");
    buf_text(out, " -d '");
    put_quoted(out, row->says, "");
    buf_text(out, "'\n");
}

static void fish_command(struct buf *out, const struct command *command) {
    int count;
    const struct option_row *rows = options_rows(&count);
    buf_printf(out, "complete -c plugwright -n __fish_use_subcommand -a %s -d '", command->name);
    put_quoted(out, command->what, "");
    buf_text(out, "'\n");
    for (int i = 0; i < count; i++)
        if (takes(command, &rows[i])) fish_option(out, command, &rows[i]);
    const char *operands = is_file(command)
                               ? "(__fish_complete_suffix .yaml; __fish_complete_suffix .yml)"
                               : operands_of(command);
    if (operands)
        buf_printf(out, "complete -c plugwright -n '__fish_seen_subcommand_from %s' -a '%s'\n",
                   command->name, operands);
}

void describe_fish(struct buf *out) {
    int count;
    const struct command *commands = list_commands(&count);
    buf_text(out, "# Completion of plugwright for fish, written by 'plugwright describe fish'.\n"
                  "complete -c plugwright -f\n");
    for (int i = 0; i < count; i++) fish_command(out, &commands[i]);
}
