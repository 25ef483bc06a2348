/* What weighs how much, where: rows of mass by stage of the build (docs/physics.md, 4).
 *
 * SI units; x aft of the nose, z above the datum.  Rows live in the arena, in the order of the
 * build; wood that is bored out is taken off the one row of wood.  The recipe must have passed its
 * checks; a load that does not fit its bore is told by `fits` and weighed all the same.
 */
#ifndef PLUGWRIGHT_PLUG_MASS_H
#define PLUGWRIGHT_PLUG_MASS_H

#include "compute/plug/axis.h"
#include "compute/plug/plug.h"

struct mass_row {
    struct name item;
    enum stage stage;
    double mass, x, z;
    double outside; /* m3 displaced outside the body */
};

struct mass_list {
    struct mass_row *rows;
    int count;
};

/* Mass and first moments, so that parts add up. */
struct tally {
    double mass, x, z; /* kg, kg m, kg m */
};

/* Adds a mass at a place. */
void tally_add(struct tally *tally, double mass, double x, double z);

/* A ballast bore with what is in it; of a pair, each of the two alike. */
struct bore_fill {
    struct axis axis;
    double drill, depth;
    double load;   /* kg; of a pair, in each */
    double slug;   /* height of the load, m */
    double middle; /* of the load, from the mouth inward */
    double filler; /* kg, over the load; of a pair, in each */
    double over;   /* middle of the filler, from the mouth inward */
    bool solved;
    bool fits; /* the load is no higher than the bore is deep */
};

/* All that lies in it, of a pair in both, kg. */
double fill_load(const struct bore_fill *fill);
double fill_filler(const struct bore_fill *fill);

/* As weighed, or typical for its size. */
double hook_mass(const struct hook *hook);
double hooks_mass(const struct hook *hook); /* of all that hang there */
double ring_mass(const struct ring *ring);

/* Of one piece, kg: as written, or a ball of the ballast's density. */
double piece_mass(const struct plug *plug, const struct piece *piece);

/* Height that `mass` of metal takes up as a slug in a bore. */
double bore_slug(const struct plug *plug, int bore, double mass);
/* Height of one piece in a bore: hard balls stand on each other, everything else is a slug. */
double bore_piece_height(const struct plug *plug, int bore, const struct piece *piece);

/* A bore with `mass` of metal that stands `height` high; its depth is the recipe's, or fits. */
struct bore_fill bore_filled(const struct plug *plug, int bore, double mass, double height);
/* The same bore with another load in it. */
struct bore_fill bore_refilled(const struct plug *plug, int bore, const struct bore_fill *was,
                               double mass, double height);
/* A bore with the pieces that the recipe names; one that is to be solved is empty. */
struct bore_fill bore_as_written(const struct plug *plug, int bore);

/* The two conditions of docs/physics.md, 5.2. */
enum condition_kind { CONDITION_TEST, CONDITION_FINISHED };

/* Whether what a stage brings is on the plug in a condition. */
bool stage_counts(enum stage stage, enum condition_kind kind);

/* All rows; `fills` has one entry for every bore of the recipe. */
struct mass_list mass_rows(struct arena *arena, const struct plug *plug,
                           const struct bore_fill *fills);

/* What a bore adds to a condition, of a pair both: its load and filler, less the wood that was
 * drilled out. */
void bore_tally(const struct plug *plug, const struct bore_fill *fill, enum condition_kind kind,
                struct tally *tally);

/* The first row of an item, or NULL. */
const struct mass_row *mass_find(const struct mass_list *list, enum name_key item);

/* What the stages of `stages` (bits 1u << enum stage) have brought: mass and first moments; and the
 * stages of the sealed body with its wires, its chambers closed. */
struct tally mass_tally(const struct mass_list *list, unsigned stages);
enum {
    SEALED_STAGES = 1 << STAGE_SHAPED | 1 << STAGE_HUNG | 1 << STAGE_CHAMBERED | 1 << STAGE_SEALED
};

/* The rows of a condition added up. */
struct burden mass_burden(const struct mass_list *list, enum condition_kind kind);

#endif
