/* Strength of the hardware against the line (docs/physics.md). */
#ifndef PLUGWRIGHT_PLUG_STRENGTH_H
#define PLUGWRIGHT_PLUG_STRENGTH_H

#include "compute/plug/plug.h"

enum strength_kind {
    STRENGTH_UNKNOWN, /* no published formula covers the joint */
    STRENGTH_FLOOR,   /* a formula for something weaker */
    STRENGTH_KNOWN,   /* the nearest published formula: judged against the line */
};

/* One way in which one fitting may fail. */
struct strength_row {
    const char *fitting; /* "line tie", "hanger 1" */
    const char *failure; /* "the wire breaks", "the wire pulls out of the wood" */
    enum strength_kind kind;
    double load;         /* N; 0 where unknown */
    double factor;       /* load over the line's breaking load */
    const char *formula; /* as printed; or why none is printed */
    const char *source;
};

struct strength {
    bool given;  /* the recipe names a line */
    double line; /* N */
    struct strength_row *rows;
    int count;
};

struct strength strength_of(struct arena *arena, const struct plug *plug);

#endif
