#include "compute/running/sounding.h"

#include "compute/running/root.h"

static const double LEAST = 0.3, MOST = 3;

/* One point's pull at the speed of the reading; its trim does not depend on the factor. */
struct sounded {
    const struct rig *rig;
    const struct sounding *read;
    const struct coefficients *k;
    struct pull pull;
};

static double depth_with(const struct sounded *sounded, double factor) {
    double depth, more = sounded->k->down * (factor - 1) * sounded->pull.down;
    struct pull pull = pull_with_down(&sounded->pull, sounded->pull.line_down + more);
    rig_depths(sounded->rig, sounded->k, &pull, LINE_STRIDES, &sounded->read->out, 1, &depth);
    return depth;
}

static double too_deep(const void *context, double factor) {
    const struct sounded *sounded = context;
    return depth_with(sounded, factor) - sounded->read->depth;
}

/* Whether a factor meets the reading; it is then in the point. */
static bool meet(struct coefficients *k, const struct sounded *sounded) {
    const double close = 1e-9;
    struct bracket bracket = {LEAST, MOST, too_deep(sounded, LEAST), too_deep(sounded, MOST)};
    if (!(bracket.at_low <= 0 && bracket.at_high >= 0)) return false;
    k->down *= root_between(bracket, close, too_deep, sounded);
    return true;
}

struct sounding_result sounding_apply(const struct rig *rig, const struct sounding *read,
                                      struct spread *spread) {
    struct sounding_result result = {.given = true};
    struct spread met = *spread;
    double depth[SPREAD_POINTS];
    int steady = 0;
    for (int i = 0; i < SPREAD_POINTS; i++) {
        struct stream stream = stream_of(&rig->tow, &spread->point[i]);
        struct sounded sounded = {rig, read, &spread->point[i], pull_at(&stream, read->speed)};
        met.dropped[i] = true;
        if (!sounded.pull.steady) continue;
        depth[steady++] = depth_with(&sounded, 1);
        met.dropped[i] = !meet(&met.point[i], &sounded);
        result.left += !met.dropped[i];
    }
    result.predicted = band_of(depth, steady);
    if (result.left) *spread = met;
    return result;
}
