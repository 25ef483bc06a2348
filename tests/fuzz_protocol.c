/* What an editor sends: bodies of messages with a zero byte between, framed as they should be, or
 * bytes as they stand where the first is a zero byte.  The conversation begins with initialize and
 * an open recipe, so that something is asked about; all that comes back is framed JSON that hides
 * nothing. */
#define _DEFAULT_SOURCE

#include "fuzz.h"

#include <unistd.h>

#include "serve/session.h"

static const char begin[] = "{\"id\":0,\"method\":\"initialize\",\"params\":{\"capabilities\":{}}}";
static const char opened[] =
    "{\"method\":\"textDocument/didOpen\",\"params\":{\"textDocument\":{\"uri\":\"untitled:1\","
    "\"version\":1,\"text\":\"recipe: 1\\nname: A\\nwood: {species: basswood}\\nbody:\\n  "
    "length: 95 mm\\n  section: {shape: oval}\\n\"}}}";

static void put_framed(struct buf *out, struct str body) {
    buf_printf(out, "Content-Length: %zu\r\n\r\n", body.size);
    buf_str(out, body);
}

static FILE *file_of(const struct buf *bytes) {
    FILE *file = tmpfile();
    DEMAND(file && fwrite(bytes->data, 1, bytes->size, file) == bytes->size && !fflush(file),
           "no file for what is sent");
    rewind(file);
    return file;
}

static void demand_messages(struct arena *arena, FILE *file) {
    size_t size;
    rewind(file);
    while (fscanf(file, "Content-Length: %zu\r\n\r\n", &size) == 1) {
        struct buf body = {.arena = arena};
        char *bytes = arena_alloc(arena, size + 1);
        DEMAND(fread(bytes, 1, size, file) == size, "half a message");
        buf_bytes(&body, bytes, size);
        demand_json("message", &body);
    }
    DEMAND(fgetc(file) == EOF, "more than messages");
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    struct arena arena = {0}, session = {0};
    struct buf sent = {.arena = &arena};
    struct str rest = {arena_copy(&arena, (const char *)data, size), size};
    put_framed(&sent, str_of(begin));
    put_framed(&sent, str_of(opened));
    if (size && !data[0])
        buf_str(&sent, (struct str){rest.data + 1, rest.size - 1});
    else
        while (rest.size) put_framed(&sent, next_file(&rest));
    FILE *in = file_of(&sent), *out = tmpfile();
    DEMAND(out, "no file for what comes back");
    session_hold(&session, fileno(in), fileno(out), "0");
    demand_messages(&arena, out);
    fclose(in);
    fclose(out);
    arena_free(&session);
    arena_free(&arena);
    return 0;
}
