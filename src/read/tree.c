/* One pass over libyaml's events with a stack of the open mappings and lists.
 *
 * libyaml counts lines and columns from 0 in code points and ends lines where read/source.c does.
 * Two of its habits are undone here: a block mapping has no token of its own (its first key stands
 * for it), and an empty value stands right behind its colon (we look where it would be written).
 *
 * Two of its costs are avoided: quadratic time on deep nesting (by the limit) and on many %TAG
 * directives (by never letting it see one; so a second document is not read at all).
 */
#include "read/tree.h"

#include <stdlib.h>
#include <ctype.h>
#include <string.h>
#include <yaml.h>

#include "base/unicode.h"
#include "read/slip.h"
#include "read/text.h"

/* One mapping or list that is open. */
struct frame {
    struct node *node;
    struct node *last; /* child */
    bool has_key;      /* mapping: a key was read, its value is next */
    bool drop;         /* that value has no place in the tree */
    struct str key;
    struct span key_at;
};

/* A place in the text; moving it by some code points costs as many steps. */
struct cursor {
    size_t byte;
    int line, column; /* from 0 */
};

struct reader {
    struct arena *arena;
    const struct source *source;
    struct diags *diags;
    yaml_parser_t parser;
    struct frame stack[TREE_MAX_DEPTH];
    int depth, nodes;
    struct node *root;
    struct cursor cursor;
    bool stopped; /* nothing useful can follow */
};

/* Places */

static struct str text_of(const struct reader *reader) {
    return reader->source->file.text;
}

/* The byte at a mark.  Marks come nearly in order, so the cursor walks instead of starting over:
 * a long line with many values would take quadratic time otherwise. */
static size_t byte_at(struct reader *reader, yaml_mark_t mark) {
    struct str text = text_of(reader);
    struct cursor *cursor = &reader->cursor;
    int line = (int)mark.line, column = (int)mark.column;
    if (line >= reader->source->file.line_count) return text.size;
    if (line != cursor->line)
        *cursor = (struct cursor){reader->source->file.line_start[line], line, 0};
    size_t byte = cursor->byte;
    for (int step = cursor->column; step < column && byte < text.size; step++)
        while (++byte < text.size && unicode_continues(text.data[byte])) continue;
    for (int step = cursor->column; step > column && byte > 0; step--)
        while (--byte > 0 && unicode_continues(text.data[byte])) continue;
    *cursor = (struct cursor){byte, line, column};
    return byte;
}

/* At the end of a text without a last line break libyaml's mark stands on a line that is not there.
 */
static struct span span_at(const struct reader *reader, yaml_mark_t mark, int length) {
    const struct text_file *file = &reader->source->file;
    if ((int)mark.line >= file->line_count) return text_span_at(file, file->text.size);
    return (struct span){file, (int)mark.line + 1, (int)mark.column + 1, length};
}

static struct span span_over(const struct reader *reader, yaml_mark_t mark, struct str text) {
    int length = (int)unicode_points(text);
    return span_at(reader, mark, length > 0 ? length : 1);
}

/* A scalar over several lines is underlined to the end of its first. */
static struct span span_of(struct reader *reader, const yaml_event_t *event) {
    yaml_mark_t from = event->start_mark, to = event->end_mark;
    if (to.line > from.line)
        return span_over(reader, from, text_rest_of_line(text_of(reader), byte_at(reader, from)));
    int length = (int)to.column - (int)from.column;
    return span_at(reader, from, length > 0 ? length : 1);
}

static struct span word_span(struct reader *reader, yaml_mark_t mark) {
    return span_over(reader, mark, text_rest_of_word(text_of(reader), byte_at(reader, mark)));
}

/* Where the value behind this mark would be written: behind the blanks, if a comment stands there.
 */
static struct span empty_span(struct reader *reader, yaml_mark_t mark) {
    struct str text = text_of(reader);
    size_t start = byte_at(reader, mark), at = text_skip_blanks(text, start);
    if (at == text.size || text.data[at] != '#') return span_at(reader, mark, 1);
    mark.column += at - start;
    return word_span(reader, mark);
}

/* Diagnostics */

static const char WRITE_OUT[] = "write the value out, or use base";

static void refuse(struct reader *reader, struct span at, const char *rule, const char *hint,
                   const char *message) {
    diag_add(reader->diags, SEVERITY_ERROR, at, rule, hint, "%s", message);
}

static void stop(struct reader *reader, struct span at, const char *rule, const char *hint,
                 const char *message) {
    refuse(reader, at, rule, hint, message);
    reader->stopped = true;
}

static const char INDENTED[] = "is it indented like its neighbours?";

/* libyaml's words for whoever reads its documentation, and what they come to for a builder. */
static const struct {
    const char *problem, *message, *hint;
} PLAIN[] = {
    {"tab character", "a tab stands where only blanks may", "indent with blanks, not with tabs"},
    {"cannot start any token", "a text cannot begin with this sign", "put the text in quotes"},
    {"mapping values are not allowed", "a colon with a blank behind it has no place here",
     "a text in which a blank follows a colon needs quotes"},
    {"could not find expected ':'", "a key without its colon",
     "a key wants a colon and a blank behind it"},
    {"unexpected end of stream", "the quotes that open here are not closed",
     "put the same sign behind the text"},
    {"unknown escape", "a backslash has no place between double quotes",
     "put the text between single quotes"},
    {"',' or", "a comma or a closing bracket is missing",
     "values in braces and brackets are parted by commas"},
    {"", "this does not follow from the lines before it", INDENTED},
};

/* The last line before this one with anything but a comment on it. */
static int line_before(const struct reader *reader, int line) {
    const struct text_file *file = &reader->source->file;
    while (--line > 0) {
        size_t at = text_skip_blanks(file->text, file->line_start[line]);
        if (!text_ends_line(file->text, at) && file->text.data[at] != '#') return line;
    }
    return 0;
}

/* Tells of the slip in these lines (from 0), if there is one. */
static bool tell_slip(struct reader *reader, int from, int to) {
    struct slip slip = slip_find(reader->arena, &reader->source->file, from, to);
    if (slip.message) stop(reader, slip.at, "syntax", slip.hint, slip.message);
    return slip.message != NULL;
}

/* What is wrong is often the line before, or where that began which libyaml was reading; else any
 * line before. */
static bool tell_slip_before(struct reader *reader, int line) {
    const yaml_parser_t *parser = &reader->parser;
    int before = line_before(reader, line), context = (int)parser->context_mark.line;
    bool inner = parser->context && !strstr(parser->context, "block");
    if (inner && context < before) before = context;
    return tell_slip(reader, before, line) || tell_slip(reader, 0, line);
}

static void syntax_error(struct reader *reader) {
    const yaml_parser_t *parser = &reader->parser;
    if (parser->error == YAML_MEMORY_ERROR) arena_out_of_memory();
    const char *problem = parser->problem ? parser->problem : "";
    yaml_mark_t mark = parser->problem_mark;
    size_t plain = 0;
    if (tell_slip_before(reader, (int)mark.line)) return;
    while (!strstr(problem, PLAIN[plain].problem)) plain++;
    bool opened = strstr(problem, "unexpected end of stream") != NULL;
    stop(reader, span_at(reader, opened ? parser->context_mark : mark, 1), "syntax",
         PLAIN[plain].hint, PLAIN[plain].message);
}

/* Keys */

static int by_key(const void *left, const void *right) {
    const struct node *a = *(const struct node *const *)left;
    const struct node *b = *(const struct node *const *)right;
    int order = str_compare(a->key, b->key);
    if (order) return order;
    if (a->key_at.line != b->key_at.line) return a->key_at.line < b->key_at.line ? -1 : 1;
    return (a->key_at.column > b->key_at.column) - (a->key_at.column < b->key_at.column);
}

static void unlink_faulty_keys(struct node *mapping) {
    for (struct node **link = &mapping->first; *link;) {
        if ((*link)->key.data) {
            link = &(*link)->next;
            continue;
        }
        *link = (*link)->next;
        mapping->count--;
    }
}

/* Sorting brings equal keys together, in the order of writing. */
static void refuse_duplicates(struct reader *reader, struct node *mapping) {
    if (mapping->count < 2) return;
    size_t count = 0;
    struct node **sorted = NEW(reader->arena, struct node *, mapping->count);
    for (struct node *child = mapping->first; child; child = child->next) sorted[count++] = child;
    qsort(sorted, count, sizeof *sorted, by_key);
    const struct node *first = sorted[0];
    bool found = false;
    for (size_t i = 1; i < count; i++) {
        if (!str_equal(sorted[i]->key, first->key)) {
            first = sorted[i];
            continue;
        }
        diag_add(reader->diags, SEVERITY_ERROR, sorted[i]->key_at, "duplicate-key",
                 arena_printf(reader->arena, "it is given in line %d already", first->key_at.line),
                 "the key %s is given twice", diag_quote(reader->arena, first->key));
        sorted[i]->key = (struct str){NULL, 0};
        found = true;
    }
    if (found) unlink_faulty_keys(mapping);
}

/* Takes a scalar as the key of the mapping on top of the stack. */
static void take_key(struct reader *reader, struct str text, struct span at) {
    struct frame *frame = &reader->stack[reader->depth - 1];
    struct span *whole = &frame->node->at; /* of a block mapping: begins with its first key */
    if (whole->line == at.line && whole->column == at.column) whole->length = at.length;
    frame->has_key = true;
    frame->drop = true;
    frame->key = text;
    frame->key_at = at;
    if (text.size == 0)
        refuse(reader, at, "key", NULL, "a key is missing");
    else if (str_is(text, "<<"))
        refuse(reader, at, "merge-key", WRITE_OUT, "merge keys are not part of the language");
    else
        frame->drop = false;
}

/* Nodes */

/* Whether the node that begins now is a key. */
static bool key_is_due(const struct reader *reader) {
    if (reader->depth == 0) return false;
    const struct frame *frame = &reader->stack[reader->depth - 1];
    return frame->node->kind == NODE_MAPPING && !frame->has_key;
}

/* Hangs a node under the mapping or list that is open; the first becomes the root. */
static void attach(struct reader *reader, struct node *node) {
    if (reader->depth == 0) {
        reader->root = node;
        return;
    }
    struct frame *frame = &reader->stack[reader->depth - 1];
    frame->has_key = false;
    if (frame->drop) {
        frame->drop = false;
        return;
    }
    node->key = frame->key;
    node->key_at = frame->key_at;
    if (frame->last)
        frame->last->next = node;
    else
        frame->node->first = node;
    frame->last = node;
    frame->node->count++;
}

static struct node *new_node(struct reader *reader, enum node_kind kind, struct span at) {
    if (++reader->nodes > TREE_MAX_NODES)
        stop(reader, at, "nodes",
             arena_printf(reader->arena, "at most %d are read", TREE_MAX_NODES),
             "a recipe does not have so many values");
    struct node *node = NEW(reader->arena, struct node, 1);
    node->kind = kind;
    node->at = at;
    return node;
}

static void refuse_anchor(struct reader *reader, struct span at) {
    refuse(reader, at, "anchor", WRITE_OUT, "anchors are not part of the language");
}

static void refuse_tag(struct reader *reader, struct span at) {
    refuse(reader, at, "tag", "leave it out: the field decides what a value is",
           "tags are not part of the language");
}

/* libyaml does not tell of the tag `!` on a scalar, but a scalar with one begins there. */
static bool has_bare_tag(struct reader *reader, const yaml_event_t *event) {
    struct str text = text_of(reader);
    size_t byte = byte_at(reader, event->start_mark);
    bool written = event->start_mark.index < event->end_mark.index;
    return written && byte < text.size && text.data[byte] == '!';
}

static bool is_null(struct str text) {
    return text.size == 0 || str_is(text, "~") || str_is(text, "null");
}

/* Escapes can put characters into a text that source.c would refuse as they are. */
static void refuse_controls(struct reader *reader, struct str text, struct span at) {
    while (text.size) {
        uint32_t point = unicode_take(&text).point;
        if (!unicode_is_control(point) || point == '\t' || point == '\n') continue;
        diag_add(reader->diags, SEVERITY_ERROR, at, "control-character", NULL,
                 "the control character U+%04X has no place in a recipe", (unsigned)point);
        return;
    }
}

/* Most scalars are written as they read, so that they need no copy of their own. */
static struct str scalar_text(struct reader *reader, const yaml_event_t *event, bool quoted) {
    struct str value = {(const char *)event->data.scalar.value, event->data.scalar.length};
    struct str source = text_of(reader);
    size_t byte = byte_at(reader, event->start_mark) + quoted;
    if (byte <= source.size && value.size <= source.size - byte &&
        memcmp(source.data + byte, value.data, value.size) == 0)
        return (struct str){source.data + byte, value.size};
    return (struct str){arena_copy(reader->arena, value.data, value.size), value.size};
}

/* What a reader may take for the end of an unquoted text, though YAML reads a comment there. */
static struct str tail_of(struct reader *reader, const yaml_event_t *event) {
    struct str text = text_of(reader);
    size_t end = byte_at(reader, event->end_mark), sign = text_skip_blanks(text, end);
    if (sign == end || !text_starts_with(text, sign, "#")) return str_of("");
    bool set_off = sign > end + 1,
         word = sign + 1 < text.size && isalnum((unsigned char)text.data[sign + 1]);
    return set_off && !word ? str_of("") : str_trim(text_rest_of_line(text, end));
}

static void take_scalar(struct reader *reader, const yaml_event_t *event) {
    bool quoted = event->data.scalar.style != YAML_PLAIN_SCALAR_STYLE;
    struct str text = scalar_text(reader, event, quoted);
    struct span at = span_of(reader, event);
    if (event->data.scalar.anchor) refuse_anchor(reader, word_span(reader, event->start_mark));
    if (event->data.scalar.tag || has_bare_tag(reader, event))
        refuse_tag(reader, word_span(reader, event->start_mark));
    if (quoted) refuse_controls(reader, text, at);
    if (key_is_due(reader)) {
        take_key(reader, text, at);
        return;
    }
    bool empty = !quoted && is_null(text);
    if (text.size == 0 && !quoted) at = empty_span(reader, event->end_mark);
    struct node *node = new_node(reader, empty ? NODE_EMPTY : NODE_SCALAR, at);
    node->text = text;
    node->quoted = quoted;
    node->tail = quoted || empty ? str_of("") : tail_of(reader, event);
    attach(reader, node);
}

/* A key that is none: its value is read, for its own faults, but has no place in the tree. */
static void drop_pair(struct reader *reader) {
    struct frame *frame = &reader->stack[reader->depth - 1];
    frame->has_key = true;
    frame->drop = true;
}

static void take_alias(struct reader *reader, const yaml_event_t *event) {
    struct span at = span_of(reader, event);
    refuse(reader, at, "alias", WRITE_OUT, "aliases are not part of the language");
    if (key_is_due(reader))
        drop_pair(reader);
    else
        attach(reader, new_node(reader, NODE_FAULTY, at));
}

static void open_collection(struct reader *reader, enum node_kind kind, yaml_mark_t mark,
                            bool anchor, bool tag) {
    struct node *node = new_node(reader, kind, span_at(reader, mark, 1));
    if (anchor) refuse_anchor(reader, word_span(reader, mark));
    if (tag) refuse_tag(reader, word_span(reader, mark));
    if (reader->depth == TREE_MAX_DEPTH) {
        stop(reader, node->at, "depth",
             arena_printf(reader->arena, "at most %d levels are read", TREE_MAX_DEPTH),
             "a recipe does not go so deep");
        return;
    }
    if (key_is_due(reader)) {
        refuse(reader, node->at, "key", "such as length: 140 mm",
               "a key is a word, without braces or brackets");
        drop_pair(reader);
    } else {
        attach(reader, node);
    }
    reader->stack[reader->depth++] = (struct frame){.node = node};
}

static void close_collection(struct reader *reader) {
    struct node *node = reader->stack[--reader->depth].node;
    if (node->kind == NODE_MAPPING) refuse_duplicates(reader, node);
}

/* The document */

/* Looks for %TAG among the lines before the document. */
static void refuse_tag_directive(struct reader *reader) {
    const struct text_file *file = &reader->source->file;
    for (int line = 0; line < file->line_count && !reader->stopped; line++) {
        size_t start = file->line_start[line], at = text_skip_blanks(file->text, start);
        if (text_starts_with(file->text, start, "%TAG")) {
            refuse_tag(reader, (struct span){file, line + 1, 1, 4});
            reader->stopped = true;
        }
        bool before = text_ends_line(file->text, at) || file->text.data[at] == '#' ||
                      file->text.data[start] == '%';
        if (!before) return;
    }
}

static void refuse_rest_at(struct reader *reader, size_t at) {
    struct str text = text_of(reader);
    struct span span = text_span_at(&reader->source->file, at);
    span.length = (int)unicode_points(text_rest_of_word(text, at));
    bool document = text_starts_with(text, at, "---") || text_starts_with(text, at, "%");
    if (document && span.column == 1)
        refuse(reader, span, "second-document", "write it to a file of its own",
               "a recipe is one document, and a second one begins here");
    else if (!tell_slip(reader, line_before(reader, span.line - 1), span.line - 1))
        stop(reader, span, "syntax", INDENTED, "this does not follow from the lines before it");
}

/* What stands behind the document is found but not read. */
static void refuse_rest(struct reader *reader, yaml_mark_t end) {
    const struct text_file *file = &reader->source->file;
    struct str text = file->text;
    size_t at = byte_at(reader, end);
    for (int line = (int)end.line; line < file->line_count; line++) {
        size_t start = file->line_start[line];
        at = text_skip_blanks(text, at > start ? at : start);
        bool dots = at == start && text_starts_with(text, at, "...");
        if (text_ends_line(text, at) || text.data[at] == '#' || dots) continue;
        refuse_rest_at(reader, at);
        return;
    }
}

/* Whether this event can stand where it does: a map at the top, anything inside. */
static bool check_top(struct reader *reader, const yaml_event_t *event) {
    yaml_event_type_t type = event->type;
    bool other =
        type == YAML_SCALAR_EVENT || type == YAML_ALIAS_EVENT || type == YAML_SEQUENCE_START_EVENT;
    if (reader->depth > 0 || !other) return true;
    bool lines = type == YAML_SCALAR_EVENT && event->end_mark.line > event->start_mark.line + 1;
    if (!lines || !tell_slip(reader, 0, (int)event->end_mark.line))
        stop(reader, span_of(reader, event), "top", "such as name: Heron 140",
             "a recipe is made of keys with their values, one a line");
    return false;
}

/* Whether another event is wanted after this one. */
static bool take_event(struct reader *reader, const yaml_event_t *event) {
    if (!check_top(reader, event)) return false;
    switch (event->type) {
    case YAML_SCALAR_EVENT:
        take_scalar(reader, event);
        break;
    case YAML_ALIAS_EVENT:
        take_alias(reader, event);
        break;
    case YAML_MAPPING_START_EVENT:
        open_collection(reader, NODE_MAPPING, event->start_mark, event->data.mapping_start.anchor,
                        event->data.mapping_start.tag);
        break;
    case YAML_SEQUENCE_START_EVENT:
        open_collection(reader, NODE_SEQUENCE, event->start_mark, event->data.sequence_start.anchor,
                        event->data.sequence_start.tag);
        break;
    case YAML_MAPPING_END_EVENT:
    case YAML_SEQUENCE_END_EVENT:
        close_collection(reader);
        break;
    case YAML_DOCUMENT_END_EVENT:
        refuse_rest(reader, event->end_mark);
        return false;
    case YAML_STREAM_END_EVENT:
        stop(reader, (struct span){&reader->source->file, 1, 1, 1}, "top",
             "such as name: Heron 140", "the recipe is empty");
        break;
    default:
        break;
    }
    return !reader->stopped;
}

static void read_events(struct reader *reader) {
    yaml_event_t event;
    bool more = !reader->stopped;
    while (more) {
        if (!yaml_parser_parse(&reader->parser, &event)) {
            syntax_error(reader);
            return;
        }
        more = take_event(reader, &event);
        yaml_event_delete(&event);
    }
}

struct node *tree_read(struct arena *arena, const struct source *source, struct diags *diags) {
    if (!source->readable) return NULL;
    struct reader reader = {.arena = arena, .source = source, .diags = diags};
    struct str text = source->file.text;
    refuse_tag_directive(&reader);
    if (!yaml_parser_initialize(&reader.parser)) arena_out_of_memory();
    yaml_parser_set_encoding(&reader.parser, YAML_UTF8_ENCODING);
    yaml_parser_set_input_string(&reader.parser, (const yaml_char_t *)text.data, text.size);
    read_events(&reader);
    yaml_parser_delete(&reader.parser);
    return reader.stopped ? NULL : reader.root;
}

struct node *tree_find(const struct node *mapping, const char *key) {
    for (struct node *child = mapping->first; child; child = child->next)
        if (str_is(child->key, key)) return child;
    return NULL;
}

struct node *tree_copy(struct arena *arena, const struct node *node) {
    struct node *copy = NEW(arena, struct node, 1), **last = &copy->first;
    *copy = *node;
    copy->first = copy->next = NULL;
    for (const struct node *child = node->first; child; child = child->next) {
        *last = tree_copy(arena, child);
        last = &(*last)->next;
    }
    return copy;
}

struct str tree_comment(const struct node *node) {
    const struct text_file *file = node->at.file;
    size_t byte = file->line_start[node->at.line - 1];
    for (int column = 1; column < node->at.column; column++)
        byte = text_next_point(file->text, byte);
    bool comment = node->kind == NODE_EMPTY && text_starts_with(file->text, byte, "#");
    return comment ? text_rest_of_word(file->text, byte) : str_of("");
}
