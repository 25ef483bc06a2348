/* In the body's frame, for a radian of yaw: the body across the flow sideways, what Munk's couple
 * turns about the pull in the two planes, the hooks, and the lip, whose force moves aside as it
 * does along the lip where that stands askew.  N_b and the moment about the flow follow by turning
 * the frame through the trim.
 */
#include "compute/running/hold.h"

#include <math.h>

#include "compute/running/root.h"

/* Moments per radian of yaw, about the body's own axes. */
struct yawed {
    double x, z;
};

static struct yawed yawed_at(const struct stream *stream, const struct pull *pull, double q) {
    const struct across *a = &stream->tow->across;
    const struct tow_lip *lip = &stream->tow->lip;
    const struct coefficients *k = &stream->k;
    const double edge = 1e-6; /* of a lip square to the flow */
    double s = sin(pull->trim), c = cos(pull->trim), side = q * k->crossflow * fabs(s);
    double couple = 2 * q * k->couple;
    double aside = k->lip_centre_yawed * lip->width * fabs(pull->lip.centre) /
                   fmax(fabs(cos(pull->lip.incidence)), edge);
    double push = aside * pull->lip.force;
    return (struct yawed){
        side * (a->side_z - stream->tie.z * a->side) +
            couple * k->couple_keel * (a->sway - a->heave) * s + q * stream->hooks_z -
            push * stream->lip_cosine,
        -side * (a->side_x - stream->tie.x * a->side) + couple * a->sway * c - q * stream->hooks_x -
            push * stream->lip_sine,
    };
}

struct hold hold_at(const struct stream *stream, const struct pull *pull) {
    double s = sin(pull->trim), c = cos(pull->trim);
    double q = 0.5 * stream->tow->water * pull->speed * pull->speed;
    struct yawed yawed = yawed_at(stream, pull, q);
    double turning = yawed.x * s + yawed.z * c;
    struct hold hold = {.yaws_off = turning >= 0};
    if (hold.yaws_off) return hold;
    double ahead = stream->righting.x * c - stream->righting.z * s;
    double upright = stream->righting.x * s + stream->righting.z * c;
    hold.yaw = -(yawed.x * c - yawed.z * s) / turning;
    hold.stiffness = upright - hold.yaw * ahead;
    double heeling = pull->down + hold.yaw * pull->back;
    if (heeling <= 0)
        hold.tie_aside = INFINITY;
    else
        hold.tie_aside = reference_fact[FACT_ROLL_MOST].value * fmax(hold.stiffness, 0) / heeling;
    return hold;
}

/* What the tie's place lacks of the offset; above 0 where it rolls out. */
static double lack_at(const void *context, double speed) {
    struct pull pull = pull_at(context, speed);
    double aside = pull.steady ? hold_at(context, &pull).tie_aside : 0;
    return reference_fact[FACT_TIE_ASIDE].value - aside;
}

double hold_speed(const struct stream *stream) {
    const double close = 1e-9;
    return root_rising(reference_fact[FACT_TOW_SLOWEST].value,
                       reference_fact[FACT_TOW_FASTEST].value, close, lack_at, stream);
}
