/* Drawings as values: what the order refers to by name and the publisher writes beside it. */
#ifndef PLUGWRIGHT_DRAWING_FIGURE_H
#define PLUGWRIGHT_DRAWING_FIGURE_H

#include "base/buf.h"

enum figure_kind {
#define DRAWING(kind, draw, doc) FIGURE_##kind,
#include "emit/drawing/drawing.def"
    FIGURE_KINDS,
    FIGURE_LEARNED /* of no order: what the bench taught */
};

struct figure {
    enum figure_kind kind;
    const char *file;     /* "side.svg": plain name inside the order's folder */
    const char *title;    /* what it shows, in words: the text for those who cannot see it */
    double width, height; /* mm: its true size on paper */
    struct buf svg;
    int layer; /* FIGURE_COLOUR: index of the layer; FIGURE_TEMPLATE and FIGURE_TIMELINE: sheet
                * from 0 */
};

struct figure_list {
    struct figure *figures;
    int count;
};

#endif
