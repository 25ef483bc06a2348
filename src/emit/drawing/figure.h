/* Drawings as values: what the order refers to by name and the publisher writes beside it. */
#ifndef PLUGWRIGHT_DRAWING_FIGURE_H
#define PLUGWRIGHT_DRAWING_FIGURE_H

#include "base/buf.h"

enum figure_kind {
    FIGURE_PLUG,     /* the finished plug in its colours: the emblem of the sheet */
    FIGURE_GLANCE,   /* at rest in the water, with numbers */
    FIGURE_SIDE,     /* side and top view, dimensioned */
    FIGURE_SECTIONS, /* sections at the stations */
    FIGURE_TEMPLATE, /* 1:1 sheets, one figure a sheet */
    FIGURE_LIP,      /* lip to cut out, 1:1 */
    FIGURE_RIGHTING, /* righting-arm curve */
    FIGURE_COLOUR,   /* the plug after each layer, one figure a layer */
    FIGURE_TIMELINE, /* the run; several sheets where the route is long */
    FIGURE_BORES,    /* each ballast bore enlarged, with what is in it and the walls around it */
    FIGURE_FLOAT,    /* the waterline of the float test, and how a gram more or less moves it */
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
