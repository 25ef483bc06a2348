#include "emit/view.h"

#include "emit/print/style.h"
#include "emit/write/markup.h"
#include "emit/write/page.h"

/* --- diagnostics ----------------------------------------------------------------------------- */

static void source_line(struct buf *out, const struct diag_place *place) {
    if (!place->before) return;
    buf_text(out, "<pre>");
    markup_text(out, str_of(place->before));
    if (*place->at) markup_element(out, "mark", place->at);
    markup_text(out, str_of(place->after));
    buf_text(out, "</pre>\n");
}

static void diagnostic(struct buf *out, const struct diag *diag) {
    bool error = diag->severity == SEVERITY_ERROR;
    struct diag_place place = diag_place(out->arena, diag->at);
    buf_printf(out, "<article class=\"%s\">\n<p>", error ? "error" : "warning");
    markup_element(out, "b", error ? "error:" : "warning:");
    buf_char(out, ' ');
    markup_element(out, "span", diag->message);
    buf_char(out, ' ');
    markup_element(out, "code", arena_printf(out->arena, "[%s]", diag->rule));
    buf_text(out, "</p>\n");
    markup_element(out, "p", place.words);
    source_line(out, &place);
    if (diag->hint) markup_element(out, "p", diag->hint);
    buf_text(out, "</article>\n");
}

static const char *counted(struct arena *arena, int count, const char *what) {
    return arena_printf(arena, "%d %s%s", count, what, count == 1 ? "" : "s");
}

/* "2 errors, 1 warning"; "" where all is well. */
static const char *summary(struct arena *arena, const struct view_now *view) {
    const struct diags *d = view->diags;
    if (view->failure) return "cannot be read";
    const char *errors = d->errors ? counted(arena, d->errors, "error") : "";
    const char *warnings = d->warnings ? counted(arena, d->warnings, "warning") : "";
    return arena_printf(arena, "%s%s%s", errors, *errors && *warnings ? ", " : "", warnings);
}

static void diagnostics(struct buf *out, const struct view_now *view) {
    const char *words = summary(out->arena, view);
    int count;
    const struct diag **list = diags_shown(view->diags, &count);
    buf_text(out, "<section id=\"diagnostics\">\n");
    markup_element(out, "h2", *words ? words : "No errors, no warnings");
    buf_char(out, '\n');
    if (view->failure) markup_element(out, "p", view->failure);
    for (int i = 0; i < count; i++) diagnostic(out, list[i]);
    if (view->diags->count > count)
        buf_printf(out, "<p>and %d more</p>\n", view->diags->count - count);
    buf_text(out, "</section>\n");
}

/* --- a state without errors ------------------------------------------------------------------ */

/* What is cut out or painted by, and the run: the printed order has them in full size. */
static bool for_paper(enum figure_kind kind) {
    return kind == FIGURE_TEMPLATE || kind == FIGURE_LIP || kind == FIGURE_CUP ||
           kind == FIGURE_COLOUR || kind == FIGURE_STENCIL || kind == FIGURE_TIMELINE;
}

static void figure(struct buf *out, const struct figure *figure) {
    buf_text(out, "<figure>");
    markup_image(out, figure->title, buf_whole(&figure->svg));
    markup_element(out, "figcaption", figure->title);
    buf_text(out, "</figure>\n");
}

static int figures(struct buf *out, const struct figure_list *list, bool paper) {
    int shown = 0;
    for (int i = 0; list && i < list->count; i++)
        if (for_paper(list->figures[i].kind) == paper) {
            figure(out, &list->figures[i]);
            shown++;
        }
    return shown;
}

static void drawings(struct buf *out, const struct view_good *good) {
    struct buf sheets = {.arena = out->arena};
    buf_text(out, "<section id=\"drawings\">\n<h2>Drawings</h2>\n");
    figures(out, good->overlays, false);
    figures(out, good->figures, false);
    if (figures(&sheets, good->figures, true)) {
        buf_text(out, "<details id=\"sheets\">\n<summary>Templates, colours and the run, "
                      "not to scale on a screen</summary>\n");
        buf_str(out, buf_whole(&sheets));
        buf_text(out, "</details>\n");
    }
    buf_text(out, "</section>\n");
}

void view_good(struct buf *out, const struct view_good *good) {
    buf_str(out, good->changes);
    drawings(out, good);
    listing_page(out, good->listing, good->former);
}

/* --- the page -------------------------------------------------------------------------------- */

static void content(struct buf *out, const struct view_now *view) {
    bool failed = view->failure || view->diags->errors;
    buf_text(out, "<header>\n");
    if (view->name.size) {
        buf_text(out, "<h1>");
        markup_text(out, view->name);
        buf_text(out, "</h1>\n");
    } else {
        markup_element(out, "h1", view->file);
    }
    markup_element(out, "p", view->file);
    buf_text(out, "\n<p id=\"watched\" hidden></p>\n</header>\n<main>\n");
    diagnostics(out, view);
    if (failed && view->good.size)
        buf_text(out, "<p class=\"last\">What follows is the last state without errors.</p>\n");
    if (view->good.size) {
        buf_printf(out, "<div id=\"good\"%s>\n", failed ? " class=\"past\"" : "");
        buf_str(out, view->good);
        buf_text(out, "</div>\n");
    }
    buf_text(out, "</main>\n");
}

void view_page(struct buf *out, const struct view_now *view, char state[BLOB_ID_SIZE]) {
    struct buf shown = {.arena = out->arena};
    const char *words = summary(out->arena, view);
    content(&shown, view);
    source_id(buf_whole(&shown), state);
    struct page page = {.title = view->name.size ? view->name : str_of(view->file),
                        .more = *words ? arena_printf(out->arena, ": %s", words) : "",
                        .word = state,
                        .style = style_view_css,
                        .script = style_view_js};
    page_begin(out, &page);
    buf_str(out, buf_whole(&shown));
    page_end(out, &page);
}

void view_state(struct buf *out, const char *state, bool watched) {
    buf_printf(out, "plugwrightState(\"%s\", %s);\n", state, watched ? "true" : "false");
}
