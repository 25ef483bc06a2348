/* Strength of the hardware against the line (docs/physics.md, 9).  Loads in N.  Where no formula is
 * published there is a row that says so, and no load.
 */
#ifndef PLUGWRIGHT_PLUG_STRENGTH_H
#define PLUGWRIGHT_PLUG_STRENGTH_H

#include "compute/plug/plug.h"
#include "model/reference.h"

/* One way in which one fitting may fail. */
struct strength_row {
    int fitting;
    enum joint joint;
    double load;                          /* N; 0 where unknown */
    double factor;                        /* load over the line's breaking load */
    const struct wire_strength_row *wire; /* whose strength it rests on, or NULL */
};

struct strength {
    bool given;  /* the recipe names a line */
    double line; /* N */
    struct strength_row *rows;
    int count;
};

/* Where the formula or the figure behind a row comes from; NULL: there is none. */
const char *strength_source(const struct strength_row *row);

/* Whether a row is too little for the line: of what is judged at all. */
bool strength_little(const struct strength_row *row);

/* Up to four rows a fitting, in the order of the fittings; none without a line. */
struct strength strength_of(struct arena *arena, const struct plug *plug);

#endif
