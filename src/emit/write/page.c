#include "emit/write/page.h"

#include "emit/write/markup.h"

void page_begin(struct buf *out, const struct page *page) {
    buf_text(out, "<!DOCTYPE html>\n<html lang=\"en\"");
    if (page->script.size) buf_printf(out, " data-state=\"%s\"", page->word);
    buf_printf(
        out,
        ">\n<head>\n"
        "<meta charset=\"utf-8\">\n"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; "
        "style-src 'nonce-%s'",
        page->word);
    if (page->script.size) buf_printf(out, "; script-src 'nonce-%s'", page->word);
    buf_text(out, "\">\n<title>");
    markup_text(out, page->title);
    markup_text(out, str_of(page->more));
    buf_printf(out, "</title>\n<style nonce=\"%s\">\n", page->word);
    buf_str(out, page->style);
    buf_text(out, "</style>\n</head>\n<body>\n");
}

void page_end(struct buf *out, const struct page *page) {
    if (page->script.size) {
        buf_printf(out, "<script nonce=\"%s\">\n", page->word);
        buf_str(out, page->script);
        buf_text(out, "</script>\n");
    }
    buf_text(out, "</body>\n</html>\n");
}
