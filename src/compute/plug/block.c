/* Curves through the stations never leave the range of their ends (docs/physics.md, 2.1), so the
 * greatest height and width of a body stand at stations.
 */
#include "compute/plug/block.h"

#include <math.h>

struct block block_of(const struct recipe *recipe) {
    const struct body *body = recipe->body;
    const struct allowance *allowance = recipe->shop->allowance;
    double back = -INFINITY, belly = -INFINITY, width = 0;
    for (int i = 0; i < body->station_count; i++) {
        back = fmax(back, body->stations[i].back);
        belly = fmax(belly, body->stations[i].belly);
        width = fmax(width, body->stations[i].width);
    }
    return (struct block){
        .length = body->length + allowance->length,
        .height = back + belly + allowance->height,
        .width = width + allowance->width,
        .nose = allowance->length / 2,
        .back = back + allowance->height / 2,
        .belly = belly + allowance->height / 2,
    };
}

/* To the face that lies ahead of a point on its way along one axis. */
static double to_face(double at, double way, double low, double high) {
    if (way > 0) return (high - at) / way;
    return way < 0 ? (low - at) / way : INFINITY;
}

double block_waste(const struct block *block, double mouth_x, double mouth_z, double u_x,
                   double u_z) {
    double lengthwise = to_face(mouth_x, -u_x, -block->nose, block->length - block->nose);
    double upright = to_face(mouth_z, -u_z, -block->belly, block->back);
    return fmax(0, fmin(lengthwise, upright));
}
