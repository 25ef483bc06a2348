#include "serve/session.h"

#include "base/json.h"
#include "serve/answer.h"
#include "serve/post.h"

/* Codes of errors (JSON-RPC 2.0, 5.1; Language Server Protocol, 3.17). */
enum failure {
    FAILURE_NONE = 0,
    FAILURE_PARSE = -32700,
    FAILURE_REQUEST = -32600,
    FAILURE_METHOD = -32601,
    FAILURE_PARAMS = -32602,
    FAILURE_NOT_YET = -32002,
};

enum state { STATE_NEW, STATE_OPEN, STATE_SHUT, STATE_OVER };

struct session {
    struct post post;
    enum state state;
    enum encoding encoding;
    const char *version;
    struct document_open documents[SESSION_DOCUMENTS];
    int count;
    bool broken; /* nobody reads what is written */
};

/* A message as it is dealt with. */
struct message {
    struct session *session;
    struct arena *arena;
    const struct json_value *id, *params;
    struct json *json; /* of the response */
};

/* --- writing ---------------------------------------------------------------------------------- */

static void send_json(struct session *s, struct json *json) {
    struct buf out = {.arena = json->arena};
    json_end(json, &out);
    if (!post_put(&s->post, buf_whole(&out))) s->broken = true;
}

static struct json begin(struct arena *arena) {
    struct json json = json_begin(arena);
    json_put_text(&json, "jsonrpc", "2.0");
    return json;
}

static void put_id(struct json *json, const struct json_value *id) {
    if (id && id->kind == VALUE_TEXT)
        json_put_str(json, "id", id->text);
    else if (id && id->kind == VALUE_NUMBER && id->whole)
        json_put_whole(json, "id", (int64_t)id->number);
    else
        json_put_null(json, "id");
}

static void refuse(struct session *s, struct arena *arena, const struct json_value *id,
                   enum failure code, const char *why) {
    struct json json = begin(arena);
    put_id(&json, id);
    json_open_object(&json, "error");
    json_put_whole(&json, "code", code);
    json_put_text(&json, "message", why);
    json_close(&json);
    send_json(s, &json);
}

/* --- documents -------------------------------------------------------------------------------- */

static struct document_open *find(struct session *s, struct str uri) {
    for (int i = 0; i < s->count; i++)
        if (str_is(uri, s->documents[i].uri)) return &s->documents[i];
    return NULL;
}

static struct document_open *named(const struct message *m) {
    return find(m->session, json_text_at(m->params, "textDocument.uri"));
}

static struct answer answer_for(struct session *s, struct arena *arena, struct json *json,
                                struct document_open *document) {
    return (struct answer){arena, json, s->encoding, document};
}

static void publish(struct session *s, struct document_open *d, bool closed) {
    struct arena arena = {0};
    struct json json = begin(&arena);
    const struct answer answer = answer_for(s, &arena, &json, d);
    json_put_text(&json, "method", "textDocument/publishDiagnostics");
    json_open_object(&json, "params");
    json_put_text(&json, "uri", d->uri);
    if (closed) {
        json_open_list(&json, "diagnostics");
        json_close(&json);
    } else {
        json_put_whole(&json, "version", d->version);
        answer_diagnostics(&answer);
    }
    json_close(&json);
    send_json(s, &json);
    d->told = true;
    arena_free(&arena);
}

static void publish_all(struct session *s) {
    for (int i = 0; i < s->count; i++)
        if (!s->documents[i].told) publish(s, &s->documents[i], false);
}

/* What hints offer is tried while nobody types: that may take longer than from key to key. */
static void settle_all(struct session *s) {
    enum { IDLE = 150 }; /* ms */
    for (int i = 0; i < s->count; i++) {
        struct document_open *d = &s->documents[i];
        if (document_settled(d)) continue;
        if (post_waits(&s->post, IDLE)) return;
        document_settle(d);
        publish(s, d, false);
    }
}

static void did_open(const struct message *m) {
    struct session *s = m->session;
    struct str uri = json_text_at(m->params, "textDocument.uri");
    if (!uri.size || find(s, uri) || s->count == SESSION_DOCUMENTS) return;
    document_open(&s->documents[s->count++], uri,
                  json_whole_at(m->params, "textDocument.version", 0),
                  json_text_at(m->params, "textDocument.text"));
}

static size_t byte_at(const struct message *m, const struct document_open *d,
                      const struct json_value *place) {
    const struct text_place at = {json_whole_at(place, "line", 0),
                                  json_whole_at(place, "character", 0)};
    return document_byte(d, at, m->session->encoding);
}

/* One of the changes of a message: of a range, or of the whole text. */
static void change(const struct message *m, struct document_open *d, const struct json_value *edit,
                   int64_t version) {
    const struct json_value *range = json_at(edit, "range");
    struct str text = json_text_at(edit, "text");
    size_t from = 0, to = d->text.size;
    if (range) {
        from = byte_at(m, d, json_at(range, "start"));
        to = byte_at(m, d, json_at(range, "end"));
        if (to < from) to = from;
    }
    struct buf now = {.arena = m->arena};
    buf_bytes(&now, d->text.data, from);
    buf_str(&now, text);
    buf_bytes(&now, d->text.data + to, d->text.size - to);
    if (now.size <= POST_MOST) document_change(d, version, buf_whole(&now));
}

static void did_change(const struct message *m) {
    struct document_open *d = named(m);
    const struct json_value *edits = json_at(m->params, "contentChanges");
    if (!d || !edits || edits->kind != VALUE_LIST) return;
    int64_t version = json_whole_at(m->params, "textDocument.version", 0);
    for (const struct json_value *edit = edits->first; edit; edit = edit->next)
        change(m, d, edit, version);
}

/* Others may have it as their base or workshop. */
static void did_save(const struct message *m) {
    for (int i = 0; i < m->session->count; i++) document_outdate(&m->session->documents[i]);
}

static void did_close(const struct message *m) {
    struct session *s = m->session;
    struct document_open *d = named(m);
    if (!d) return;
    publish(s, d, true);
    document_close(d);
    *d = s->documents[--s->count];
}

/* --- requests --------------------------------------------------------------------------------- */

static bool offers_utf8(const struct json_value *params) {
    const struct json_value *list = json_at(params, "capabilities.general.positionEncodings");
    bool offered = false;
    for (const struct json_value *one = list && list->kind == VALUE_LIST ? list->first : NULL; one;
         one = one->next)
        offered |= one->kind == VALUE_TEXT && str_is(one->text, "utf-8");
    return offered;
}

static void put_sync(struct json *json) {
    enum { INCREMENTAL = 2 };
    json_open_object(json, "textDocumentSync");
    json_put_flag(json, "openClose", true);
    json_put_whole(json, "change", INCREMENTAL);
    json_put_flag(json, "save", true);
    json_close(json);
}

static void initialize(const struct message *m) {
    struct json *json = m->json;
    m->session->state = STATE_OPEN;
    m->session->encoding = offers_utf8(m->params) ? ENCODING_UTF8 : ENCODING_UTF16;
    json_open_object(json, "result");
    json_open_object(json, "capabilities");
    json_put_text(json, "positionEncoding",
                  m->session->encoding == ENCODING_UTF8 ? "utf-8" : "utf-16");
    put_sync(json);
    json_open_object(json, "completionProvider");
    json_open_list(json, "triggerCharacters");
    json_put_text(json, NULL, " ");
    json_put_text(json, NULL, "{");
    json_close(json);
    json_close(json);
    json_put_flag(json, "hoverProvider", true);
    json_put_flag(json, "definitionProvider", true);
    json_put_flag(json, "documentSymbolProvider", true);
    json_put_flag(json, "colorProvider", true);
    json_put_flag(json, "inlayHintProvider", true);
    json_close(json);
    json_open_object(json, "serverInfo");
    json_put_text(json, "name", "plugwright");
    json_put_text(json, "version", m->session->version);
    json_close(json);
    json_close(json);
}

static void shut_down(const struct message *m) {
    m->session->state = STATE_SHUT;
    json_put_null(m->json, "result");
}

static void leave(const struct message *m) {
    if (m->session->state != STATE_SHUT) m->session->broken = true;
    m->session->state = STATE_OVER;
}

static void nothing(const struct message *m) {
    (void)m;
}

/* A request about a place in a document. */
static void at_place(const struct message *m, void (*ask)(const struct answer *, size_t)) {
    struct document_open *d = named(m);
    const struct answer answer = answer_for(m->session, m->arena, m->json, d);
    ask(&answer, byte_at(m, d, json_at(m->params, "position")));
}

static void completion(const struct message *m) {
    at_place(m, answer_completion);
}

static void hover(const struct message *m) {
    at_place(m, answer_hover);
}

static void definition(const struct message *m) {
    at_place(m, answer_definition);
}

static void symbols(const struct message *m) {
    const struct answer answer = answer_for(m->session, m->arena, m->json, named(m));
    answer_symbols(&answer);
}

static void colours(const struct message *m) {
    const struct answer answer = answer_for(m->session, m->arena, m->json, named(m));
    answer_colours(&answer);
}

static void presentation(const struct message *m) {
    static const char *const channels[] = {"color.red", "color.green", "color.blue"};
    struct buf text = {.arena = m->arena};
    buf_text(&text, "\"#");
    for (int i = 0; i < 3; i++) {
        const struct json_value *value = json_at(m->params, channels[i]);
        double share = value && value->kind == VALUE_NUMBER ? value->number : 0;
        share = share > 1 ? 1 : share > 0 ? share : 0;
        buf_printf(&text, "%02X", (unsigned)(share * 255 + 0.5));
    }
    buf_char(&text, '"');
    json_open_list(m->json, "result");
    json_open_object(m->json, NULL);
    json_put_text(m->json, "label", text.data);
    json_close(m->json);
    json_close(m->json);
}

static void hints(const struct message *m) {
    const struct answer answer = answer_for(m->session, m->arena, m->json, named(m));
    answer_hints(&answer, json_whole_at(m->params, "range.start.line", 0),
                 json_whole_at(m->params, "range.end.line", INT32_MAX));
}

/* --- messages --------------------------------------------------------------------------------- */

enum wants { WANTS_NOTHING, WANTS_DOCUMENT };

static const struct method {
    const char *name;
    bool asks; /* a request, which gets a response */
    enum wants wants;
    void (*take)(const struct message *message);
} methods[] = {
    {"initialize", true, WANTS_NOTHING, initialize},
    {"shutdown", true, WANTS_NOTHING, shut_down},
    {"exit", false, WANTS_NOTHING, leave},
    {"initialized", false, WANTS_NOTHING, nothing},
    {"textDocument/didOpen", false, WANTS_NOTHING, did_open},
    {"textDocument/didChange", false, WANTS_NOTHING, did_change},
    {"textDocument/didSave", false, WANTS_NOTHING, did_save},
    {"textDocument/didClose", false, WANTS_NOTHING, did_close},
    {"textDocument/completion", true, WANTS_DOCUMENT, completion},
    {"textDocument/hover", true, WANTS_DOCUMENT, hover},
    {"textDocument/definition", true, WANTS_DOCUMENT, definition},
    {"textDocument/documentSymbol", true, WANTS_DOCUMENT, symbols},
    {"textDocument/documentColor", true, WANTS_DOCUMENT, colours},
    {"textDocument/colorPresentation", true, WANTS_DOCUMENT, presentation},
    {"textDocument/inlayHint", true, WANTS_DOCUMENT, hints},
};

static const struct method *method_of(struct str name) {
    for (size_t i = 0; i < sizeof methods / sizeof *methods; i++)
        if (str_is(name, methods[i].name)) return &methods[i];
    return NULL;
}

/* Why a request is not answered, or FAILURE_NONE. */
static enum failure failure_of(const struct message *m, const struct method *method,
                               const char **why) {
    enum state state = m->session->state;
    bool first = method && method->take == initialize;
    *why = "the conversation has not begun with initialize";
    if (state == STATE_NEW && !first) return FAILURE_NOT_YET;
    *why = state == STATE_SHUT ? "after shutdown only exit follows" : "it has begun already";
    if (state == STATE_SHUT || (first && state != STATE_NEW)) return FAILURE_REQUEST;
    *why = "there is no such method";
    if (!method || !method->asks) return FAILURE_METHOD;
    *why = "this document is not open";
    if (method->wants == WANTS_DOCUMENT && !named(m)) return FAILURE_PARAMS;
    return FAILURE_NONE;
}

static void respond(const struct message *m, const struct method *method) {
    const char *why;
    enum failure failure = failure_of(m, method, &why);
    if (failure != FAILURE_NONE) {
        refuse(m->session, m->arena, m->id, failure, why);
        return;
    }
    struct json json = begin(m->arena);
    struct message answered = *m;
    answered.json = &json;
    put_id(&json, m->id);
    method->take(&answered);
    send_json(m->session, &json);
}

/* A notification: what is not known, or comes too early or too late, is left alone. */
static void note(const struct message *m, const struct method *method) {
    bool over = method && method->take == leave;
    if (method && !method->asks && (over || m->session->state == STATE_OPEN)) method->take(m);
}

static void take_message(struct session *s, struct arena *arena, struct str body) {
    const char *wrong;
    const struct json_value *root = json_read(arena, body, &wrong);
    if (!root) {
        refuse(s, arena, NULL, FAILURE_PARSE, wrong);
        return;
    }
    const struct message m = {s, arena, json_at(root, "id"), json_at(root, "params"), NULL};
    const struct json_value *name = json_at(root, "method");
    bool answers = json_at(root, "result") || json_at(root, "error");
    if (answers && !name) return; /* nothing is asked of the editor */
    if (!name || name->kind != VALUE_TEXT)
        refuse(s, arena, m.id, FAILURE_REQUEST, "a message has a method");
    else if (m.id)
        respond(&m, method_of(name->text));
    else
        note(&m, method_of(name->text));
}

/* Takes messages until one ends it; what was wrong. */
static const char *converse(struct session *s) {
    const char *wrong = NULL;
    while (s->state != STATE_OVER && !s->broken && !wrong) {
        struct arena arena = {0};
        struct str body;
        if (!post_waits(&s->post, 0)) publish_all(s);
        if (!post_waits(&s->post, 0)) settle_all(s);
        enum post_state state = post_take(&s->post, &arena, &body, &wrong);
        if (state == POST_MESSAGE) {
            wrong = NULL;
            take_message(s, &arena, body);
        } else if (state == POST_END) {
            wrong = "the editor went away without a word";
            if (s->state == STATE_SHUT) s->state = STATE_OVER, wrong = NULL;
        }
        arena_free(&arena);
    }
    return wrong;
}

const char *session_hold(struct arena *arena, int in, int out, const char *version) {
    struct session *s = NEW(arena, struct session, 1);
    s->post = (struct post){.in = in, .out = out};
    s->version = version;
    const char *wrong = converse(s);
    while (s->count) document_close(&s->documents[--s->count]);
    if (!wrong && s->broken) wrong = "the editor ended it before it was due";
    return wrong;
}
