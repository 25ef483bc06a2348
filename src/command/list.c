#include "command/list.h"

#include "command/options.h"

enum { ANY_NUMBER = 1 << 20 };

static const struct command commands[] = {
    {"check", "FILE...", "say what is wrong with recipes",
     "plugwright check --strict recipes/*.yaml", 1, ANY_NUMBER,
     OPTION_STRICT | OPTION_JSON | OPTION_SARIF, command_check},
    {"weigh", "FILE", "masses, floating, ballast; --json for the whole report",
     "plugwright weigh recipes/grebe.yaml", 1, 1, OPTION_JSON, command_weigh},
    {"order", "FILE...", "write the work order to out/NAME/; --pdf and --html render it",
     "plugwright order --pdf recipes/grebe.yaml", 1, ANY_NUMBER,
     OPTION_OUTPUT | OPTION_PDF | OPTION_HTML | OPTION_CARD | OPTION_BRIEF | OPTION_COPIES |
         OPTION_SOLID | OPTION_OUTLINES | OPTION_FORCE | OPTION_DONE | OPTION_FROM,
     command_order},
    {"plan", "FILE...", "several runs on one bench: what to do when, and one shopping list",
     "plugwright plan recipes/grebe.yaml recipes/grebe-dusk.yaml", 1, ANY_NUMBER,
     OPTION_OUTPUT | OPTION_PDF | OPTION_HTML | OPTION_JSON | OPTION_FORCE, command_plan},
    {"learn", "FILE...", "the builder's own figures, by what was measured of many plugs",
     "plugwright learn recipes/*.yaml", 1, ANY_NUMBER,
     OPTION_JSON | OPTION_WRITE | OPTION_PAST | OPTION_PLOTS | OPTION_OUTPUT | OPTION_FORCE,
     command_learn},
    {"watch", "FILE", "keep out/NAME/view.html up to date while the recipe is written",
     "plugwright watch recipes/grebe.yaml", 1, 1, OPTION_OUTPUT | OPTION_FORCE | OPTION_ONCE,
     command_watch},
    {"lsp", "", "for editors: the Language Server Protocol over standard input and output",
     "plugwright lsp", 0, 0, 0, command_lsp},
    {"diff", "OLD NEW", "what changed, and what it does; --history FILE: all versions in git",
     "plugwright diff recipes/grebe.yaml recipes/grebe-dusk.yaml", 1, 2,
     OPTION_JSON | OPTION_OUTPUT | OPTION_MARKDOWN | OPTION_HISTORY, command_diff},
    {"facts", "FILE", "a recipe as sorted lines, for git; --own: without its base",
     "plugwright facts recipes/grebe.yaml", 1, 1, OPTION_OWN, command_facts},
    {"tables", "[NAME]", "the reference tables with their sources", "plugwright tables wood", 0, 1,
     OPTION_OWN_ROWS, command_tables},
    {"new", "NAME", "a commented starter recipe on standard output",
     "plugwright new heron >heron.yaml", 1, 1, OPTION_WORKSHOP, command_new},
    {"describe", "FORM", "the program itself: man, man-recipe, or completion for bash, zsh, fish",
     "plugwright describe man", 1, 1, 0, command_describe},
};

const struct command *list_commands(int *count) {
    *count = sizeof commands / sizeof *commands;
    return commands;
}
