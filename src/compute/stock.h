/* What a run takes of the workshop's stock (docs/physics.md, 10.7).
 *
 * SI units.  A copy of the stock is drawn from, so that several rows of a run, and several runs,
 * take nothing twice.  Every function takes up to `wanted` and returns what it took; NULL is a
 * stock of nothing.
 */
#ifndef PLUGWRIGHT_STOCK_H
#define PLUGWRIGHT_STOCK_H

#include "compute/plug/plug.h"
#include "model/workshop.h"

/* A part to cut: length, and what lies across and through the board. */
struct stock_part {
    double length, width, thickness;
};

/* A copy to draw from; NULL where there is no stock. */
struct stock *stock_copy(struct arena *arena, const struct workshop *workshop);

/* How many times `part` with a saw cut between fits into `whole`. */
int stock_fit(double whole, double part, double kerf);

/* Parts in whole sets of `set`, along the grain, each board turned the better way.  A board that
 * is begun keeps the length that is left; what is left beside the parts is lost. */
int stock_boards(struct arena *arena, struct stock *left, struct str species,
                 const struct stock_part *part, double kerf, int set, int wanted);

/* The same of sheet of this material, exactly so thick; lips lie along it or across. */
int stock_sheets(struct arena *arena, struct stock *left, int material,
                 const struct stock_part *part, double kerf, int wanted);

/* One length of wire, whole, out of the first coil that holds it. */
double stock_wire(struct stock *left, int material, double diameter, double wanted);

int stock_hooks(struct stock *left, const struct hook *hook, int wanted);
int stock_rings(struct stock *left, const struct ring *ring, int wanted);
int stock_eyes(struct stock *left, double size, int wanted);

/* Whole pieces of the plug's metal for one load, the heaviest first that still go into it.  kg */
double stock_pieces(struct stock *left, const struct plug *plug, double wanted);

/* m3 of what is called so. */
double stock_sealer(struct stock *left, struct str name, double wanted);
double stock_paint(struct stock *left, struct str name, double wanted);
double stock_topcoat(struct stock *left, struct str name, double wanted);

#endif
