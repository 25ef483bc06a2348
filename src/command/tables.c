/* tables: prints what the trade knows. */
#include <string.h>

#include "command/command.h"
#include "emit/manual.h"
#include "emit/schema.h"
#include "emit/tables.h"

int command_tables(struct arena *arena, const struct options *options) {
    struct buf out = {.arena = arena};
    struct compilation shop = {0};
    if (options->workshop_file) {
        shop = compile_workshop(arena, options->workshop_file);
        int status = command_report(arena, &shop, options);
        if (status != STATUS_FINE) return status;
    }
    const char *name = options->count ? options->files[0] : NULL;
    if (name && strcmp(name, "fields") == 0)
        manual_emit(&out);
    else if (name && strcmp(name, "schema") == 0)
        schema_emit(&out, PART_recipe);
    else if (name && strcmp(name, "workshop-schema") == 0)
        schema_emit(&out, PART_workshop);
    else if (!tables_emit(&out, name, shop.workshop))
        return command_trouble(
            arena, "there is no table '%s'; there are: %s, fields, schema, workshop-schema", name,
            tables_names(arena));
    if (!name)
        buf_text(&out, "fields     the recipe language, field by field\n"
                       "schema     the same as a JSON Schema for editors\n"
                       "workshop-schema  that of a workshop's file\n");
    return command_print(&out);
}
