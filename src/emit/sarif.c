#include "emit/sarif.h"

#include "emit/write/json.h"
#include "emit/write/uri.h"

static const char schema[] =
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/os/schemas/sarif-schema-2.1.0.json";

static void put_message(struct json *j, const struct diag *d) {
    json_open_object(j, "message");
    json_put_text(j, "text",
                  d->hint ? arena_printf(j->arena, "%s: %s", d->message, d->hint) : d->message);
    json_close(j);
}

static void put_region(struct json *j, const struct span *at) {
    if (at->line < 1) return; /* the file as a whole */
    json_open_object(j, "region");
    json_put_whole(j, "startLine", at->line);
    if (at->column > 0) {
        json_put_whole(j, "startColumn", at->column);
        json_put_whole(j, "endColumn", at->column + (at->length > 0 ? at->length : 1));
    }
    json_close(j);
}

static void put_place(struct json *j, const struct span *at) {
    json_open_list(j, "locations");
    if (at->file) {
        json_open_object(j, NULL);
        json_open_object(j, "physicalLocation");
        json_open_object(j, "artifactLocation");
        json_put_text(j, "uri", uri_of(j->arena, at->file->name));
        json_close(j);
        put_region(j, at);
        json_close(j);
        json_close(j);
    }
    json_close(j);
}

static void put_result(struct json *j, const struct diag *d) {
    json_open_object(j, NULL);
    json_put_text(j, "ruleId", d->rule);
    json_put_text(j, "level", d->severity == SEVERITY_ERROR ? "error" : "warning");
    put_message(j, d);
    put_place(j, &d->at);
    json_close(j);
}

static void put_tool(struct json *j, const char *version) {
    json_open_object(j, "tool");
    json_open_object(j, "driver");
    json_put_text(j, "name", "plugwright");
    json_put_text(j, "version", version);
    json_close(j);
    json_close(j);
}

static void put_results(struct json *j, const struct diags *diags) {
    int count;
    const struct diag **list = diags_chosen(diags, &count);
    for (int i = 0; i < count; i++) put_result(j, list[i]);
}

void sarif_emit(struct buf *out, const char *version, const struct diags *const *lists, int count) {
    struct json j = json_begin(out->arena);
    json_put_text(&j, "$schema", schema);
    json_put_text(&j, "version", "2.1.0");
    json_open_list(&j, "runs");
    json_open_object(&j, NULL);
    put_tool(&j, version);
    json_put_text(&j, "columnKind", "unicodeCodePoints");
    json_open_list(&j, "results");
    for (int i = 0; i < count; i++) put_results(&j, lists[i]);
    json_close(&j);
    json_close(&j);
    json_close(&j);
    json_end(&j, out);
}
