/* Where the flow follows the plate, potential and vortex lift together (Polhamus 1966, NASA TN
 * D-3767; Torres and Mueller 2004, AIAA Journal 42, 165-173, with Lowry and Polhamus' slope):
 *     C = K sin i cos i + pi sin^2 i,  K = 2 pi A / (2 + sqrt(A^2 + 4))
 * where it has left it (Hoerner, Fluid-Dynamic Drag; Lindenburg 2001, ECN-RX-01-004):
 *     C = 1.98 (1 / (0.56 + 0.44 sin i) - 0.41 (1 - exp(-17 / A))) sin i
 * and a straight line between the two.  The force moves from 0.175 of the length before the middle
 * at no incidence to the middle at 90 degrees.  Formulas and angles were read in public code of a
 * flight simulation that cites these; across the flow a square plate has the 1.17 of the handbooks.
 */
#include "compute/running/blade.h"

#include <math.h>

#include "model/reference.h"

static const double PI = 3.14159265358979323846;

static double attached_force(double lift, double sine, double cosine) {
    return (lift * cosine + PI * sine) * sine;
}

static double let_in(double aspect) {
    return 0.41 * (1 - exp(-17 / aspect));
}

static double stalled_force(double suction, double sine) {
    return 1.98 * (1 / (0.56 + 0.44 * sine) - suction) * sine;
}

double blade_stalled(double aspect, double incidence) {
    return stalled_force(let_in(aspect), sin(incidence));
}

struct blade blade_of(double aspect) {
    const struct stall_row *row = reference_stall;
    const struct stall_row *last = &row[reference_stall_count - 1];
    struct blade blade = {.aspect = fmin(fmax(aspect, row->aspect), last->aspect)};
    while (row + 1 < last && blade.aspect > row[1].aspect) row++;
    double share = (blade.aspect - row->aspect) / (row[1].aspect - row->aspect);
    blade.attached = row->attached + share * (row[1].attached - row->attached);
    blade.stalled = row->stalled + share * (row[1].stalled - row->stalled);
    blade.lift = 2 * PI * blade.aspect / (2 + sqrt(blade.aspect * blade.aspect + 4));
    blade.suction = let_in(blade.aspect);
    blade.at_attached = attached_force(blade.lift, sin(blade.attached), cos(blade.attached));
    blade.at_stalled = stalled_force(blade.suction, sin(blade.stalled));
    return blade;
}

double blade_force(const struct blade *blade, double incidence) {
    double size = fabs(incidence), i = fmin(size, PI - size), force;
    if (i <= blade->attached)
        force = attached_force(blade->lift, sin(i), cos(i));
    else if (i >= blade->stalled)
        force = stalled_force(blade->suction, sin(i));
    else
        force = blade->at_attached + (i - blade->attached) / (blade->stalled - blade->attached) *
                                         (blade->at_stalled - blade->at_attached);
    return incidence < 0 ? -force : force;
}

double blade_centre(double incidence) {
    return 0.175 * (1 - 2 * fabs(incidence) / PI);
}
