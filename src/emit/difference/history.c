/* Versions below each other, each with what its builder wrote about it: the commit's subject, and
 * the recipe's note where it was changed. */
#include <string.h>

#include "base/unicode.h"
#include "emit/difference/inner.h"
#include "emit/write/json.h"

enum { WIDTH = 78, COLUMNS = 9, NOTE_SHOWN = 210, SUBJECT_SHOWN = 64 };

static const int widths[COLUMNS] = {3, -10, -11, -10, -9, -10, -10, -8, -12};

struct sheet {
    struct telling t;
    struct buf *out;
    bool runs, priced; /* whether any version does */
};

static void row(const struct sheet *s, const char *const cells[COLUMNS]) {
    for (int i = 0; i < COLUMNS - !s->priced; i++)
        if (i != COLUMNS - 2 || s->runs) unicode_pad(s->out, cells[i], widths[i]);
    buf_char(s->out, '\n');
}

/* Text in lines of the width, four columns in. */
static void paragraph(const struct sheet *s, const char *text) {
    int at = WIDTH;
    for (bool first = true; *text; first = false) {
        size_t size = strcspn(text, " ");
        int width = unicode_width((struct str){text, size});
        if (first || at + 1 + width > WIDTH) {
            buf_text(s->out, first ? "    " : "\n    ");
            at = 4;
        } else {
            buf_char(s->out, ' ');
            at++;
        }
        buf_bytes(s->out, text, size);
        at += width;
        text += size + strspn(text + size, " ");
    }
    buf_char(s->out, '\n');
}

/* The recipe's line ends are blanks here. */
static const char *one_line(const struct sheet *s, const char *note) {
    char *text = arena_copy(s->t.arena, note, strlen(note));
    for (char *c = text; *c; c++)
        if (*c == '\n') *c = ' ';
    return unicode_cut(s->t.arena, walk_plain(s->t.arena, str_trim(str_of(text))), NOTE_SHOWN);
}

static void numbers(const struct sheet *s, const struct difference_version *v) {
    const struct telling *t = &s->t;
    const char *const cells[COLUMNS] = {
        arena_printf(t->arena, "%d", v->number),
        *v->date ? v->date : "now",
        telling_value(t, SHOWN_MASS, v->mass),
        telling_value(t, SHOWN_SHARE, v->reserve),
        telling_value(t, SHOWN_ANGLE, v->attitude),
        telling_value(t, SHOWN_LENGTH, v->gm),
        telling_value(t, SHOWN_MASS, v->ballast),
        v->runs ? telling_value(t, SHOWN_DEPTH, v->depth) : "-",
        v->priced ? telling_value(t, SHOWN_MONEY, v->cost) : "-",
    };
    row(s, cells);
}

static void version(const struct sheet *s, const struct difference_version *v, const char *before) {
    if (v->failure) {
        unicode_pad(s->out, arena_printf(s->t.arena, "%d", v->number), widths[0]);
        unicode_pad(s->out, *v->date ? v->date : "now", widths[1]);
        buf_printf(s->out, "  no plug: %s\n",
                   unicode_cut(s->t.arena, diag_clean(s->t.arena, v->failure), 60));
    } else {
        numbers(s, v);
    }
    const char *subject =
        unicode_cut(s->t.arena, diag_clean(s->t.arena, v->subject), SUBJECT_SHOWN);
    if (*v->id) paragraph(s, arena_printf(s->t.arena, "%.10s %s", v->id, subject));
    if (!*v->id) paragraph(s, "not committed");
    if (*v->note && strcmp(v->note, before) != 0)
        paragraph(s, arena_printf(s->t.arena, "note: %s", one_line(s, v->note)));
}

void difference_history_terminal(struct buf *out, const struct difference_history *h) {
    static const char *const head[COLUMNS] = {"no", "date",    "mass",  "reserve", "attitude",
                                              "GM", "ballast", "depth", "cost"};
    struct sheet s = {{.arena = out->arena, .units = h->units}, out, false, false};
    s.t.currency = walk_plain(out->arena, str_of(h->currency));
    for (int i = 0; i < h->count; i++) {
        s.priced |= h->versions[i].priced;
        s.runs |= h->versions[i].runs;
    }
    int all = h->count + h->omitted;
    buf_printf(out, "%s: %d version%s\n", diag_clean(out->arena, h->file), all,
               all == 1 ? "" : "s");
    if (h->omitted) buf_printf(out, "the oldest %d are not shown\n", h->omitted);
    buf_char(out, '\n');
    row(&s, head);
    const char *note = "";
    for (int i = 0; i < h->count; i++) {
        version(&s, &h->versions[i], note);
        if (*h->versions[i].note) note = h->versions[i].note;
    }
}

/* --- JSON ------------------------------------------------------------------------------------ */

static void version_json(struct json *j, const struct difference_version *v) {
    bool plug = !v->failure;
    json_open_object(j, NULL);
    json_put_whole(j, "number", v->number);
    json_put_text(j, "commit", *v->id ? v->id : NULL);
    json_put_text(j, "date", *v->date ? v->date : NULL);
    json_put_text(j, "subject", *v->id ? diag_clean(j->arena, v->subject) : NULL);
    json_put_text(j, "note", v->note);
    json_put_text(j, "failure", v->failure ? diag_clean(j->arena, v->failure) : NULL);
    json_put_text(j, "state", plug ? name_float_states[v->state] : NULL);
    json_put_shown_if(j, "mass_g", plug, SHOWN_MASS, v->mass);
    json_put_shown_if(j, "reserve_percent", plug, SHOWN_SHARE, v->reserve);
    json_put_shown_if(j, "attitude_deg", plug, SHOWN_ANGLE, v->attitude);
    json_put_shown_if(j, "gm_mm", plug, SHOWN_LENGTH, v->gm);
    json_put_shown_if(j, "ballast_g", plug, SHOWN_MASS, v->ballast);
    json_put_number_if(j, "depth_m", plug && v->runs, v->depth);
    json_put_shown_if(j, "hands_on_min", plug, SHOWN_TIME, v->hands_on);
    json_put_number_if(j, "cost", plug && v->priced, v->cost);
    json_close(j);
}

void difference_history_json(struct buf *out, const struct difference_history *h) {
    struct json j = json_begin(out->arena);
    json_put_text(&j, "file", diag_clean(out->arena, h->file));
    json_put_whole(&j, "omitted", h->omitted);
    json_open_list(&j, "versions");
    for (int i = 0; i < h->count; i++) version_json(&j, &h->versions[i]);
    json_close(&j);
    json_end(&j, out);
}
