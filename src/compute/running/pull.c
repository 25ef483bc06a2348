/* With s, c sine and cosine of the trim the water flows along (c, -s) in the body's frame, and
 * world up is n = (s, c).  In a stream of 1/2 rho V^2 = q:
 * - across the body (across.c): F_z = -q k s|s| J, its moment about the pull point likewise;
 * - Munk's couple (1924, NACA TR 184): q k V sin 2 trim;
 * - along the body: F_x = q C A c|c|, at the height of its centroid;
 * - each hook: drag with the flow, at its mouth;
 * - the lip: square to the plate, from the flow's side (blade.c), weakened by the power of its
 *   aspect ratio that was found on lips of one area;
 * - weight along -n, buoyancy along n.
 */
#include "compute/running/pull.h"

#include <math.h>

#include "compute/running/root.h"

static const double GRAVITY = 9.80665, DEGREE = 0.017453292519943295;

static double fact(enum fact which) {
    return reference_fact[which].value;
}

/* --- the plug under tow ---------------------------------------------------------------------- */

static struct tow_lip lip_of(const struct plug *plug) {
    const struct plate *plate = &plug->plate;
    struct tow_lip lip = {.given = plate->given && plate->extent > 0};
    double moment;
    if (!lip.given) return lip;
    plate_area(plate, 0, plate->extent, &lip.area, &moment);
    lip.mouth = (struct pull_spot){plate->mouth_x, plate->mouth_z};
    lip.angle = plug->recipe->lip->angle;
    lip.extent = plate->extent;
    lip.width = plate->width;
    lip.centroid = moment / lip.area;
    double aspect = lip.width * lip.width / lip.area;
    lip.blade = blade_of(aspect);
    lip.aspect = fmin(fmax(aspect, fact(FACT_LIP_ASPECT_LEAST)), fact(FACT_LIP_ASPECT_MOST));
    return lip;
}

static void put_tie(struct tow *tow, const struct plug *plug) {
    const struct fitted *tie = &plug->fittings[FITTING_TIE];
    tow->eye = tie->fitting->eye;
    tow->tie_on_lip = !tie->pilot.given;
    if (tow->tie_on_lip)
        tow->tie_s = hypot(tie->eye_x - plug->plate.mouth_x, tie->eye_z - plug->plate.mouth_z);
    else
        tow->tie = (struct pull_spot){tie->eye_x - tie->pilot.u_x * tow->eye,
                                      tie->eye_z - tie->pilot.u_z * tow->eye};
}

static void put_hooks(struct tow *tow, const struct plug *plug) {
    for (int i = FITTING_HANGERS; i < plug->fitting_count; i++) {
        const struct fitted *hanger = &plug->fittings[i];
        const struct hook *hook = hanger->fitting->hook;
        if (!hook) continue;
        double grams = hook_mass(hook) * 1e3; /* of one */
        tow->hooks[tow->hook_count++] =
            (struct tow_hook){{hanger->eye_x, hanger->eye_z},
                              hook->count * fact(FACT_HOOK_DRAG) * cbrt(grams * grams)};
    }
}

/* Under water everything is displaced: the hull, and what each row has outside of it. */
static void put_buoyancy(struct tow *tow, const struct plug *plug, const struct mass_list *masses) {
    const struct hull *hull = &plug->finished_hull;
    double volume = hull->volume, x = hull->moment_x, z = hull->moment_z;
    for (int i = 0; i < masses->count; i++) {
        const struct mass_row *row = &masses->rows[i];
        volume += row->outside;
        x += row->outside * row->x;
        z += row->outside * row->z;
    }
    tow->buoyancy = GRAVITY * plug->water * volume;
    tow->centre = (struct pull_spot){x / volume, z / volume};
}

struct tow tow_of(const struct plug *plug, const struct mass_list *masses,
                  const struct rest *rest) {
    struct tow tow = {.water = plug->water, .rest = rest->found ? rest->attitude : 0};
    struct burden burden = mass_burden(masses, CONDITION_FINISHED);
    tow.across = across_of(&plug->outline, plug->finish);
    tow.lip = lip_of(plug);
    put_tie(&tow, plug);
    put_hooks(&tow, plug);
    put_buoyancy(&tow, plug, masses);
    tow.weight = GRAVITY * burden.mass;
    tow.gravity = (struct pull_spot){burden.x, burden.z};
    return tow;
}

enum tow_kind tow_kind_of(const struct tow *tow) {
    if (tow->lip.given) return TOW_BY_LIP;
    return tow->weight > tow->buoyancy ? TOW_BY_WEIGHT : TOW_ON_TOP;
}

/* --- in the stream --------------------------------------------------------------------------- */

static void put_lip(struct stream *stream) {
    const struct tow_lip *lip = &stream->tow->lip;
    stream->lip_angle = lip->angle + stream->k.lip_angle;
    stream->lip_sine = sin(stream->lip_angle);
    stream->lip_cosine = cos(stream->lip_angle);
    stream->lip_size = lip->area * stream->k.lip * pow(lip->aspect, stream->k.lip_aspect);
    stream->lip_reach = lip->centroid + lip->extent * stream->k.lip_centre;
}

static struct pull_spot tie_of(const struct stream *stream) {
    const struct tow *tow = stream->tow;
    struct pull_spot tie = tow->tie;
    if (tow->tie_on_lip) {
        tie.x = tow->lip.mouth.x - stream->lip_cosine * tow->tie_s - stream->lip_sine * tow->eye;
        tie.z = tow->lip.mouth.z - stream->lip_sine * tow->tie_s + stream->lip_cosine * tow->eye;
    }
    tie.z += tow->tie_raised;
    return tie;
}

struct stream stream_of(const struct tow *tow, const struct coefficients *k) {
    struct stream stream = {.tow = tow, .k = *k};
    const struct across *across = &tow->across;
    if (tow->lip.given) put_lip(&stream);
    struct pull_spot tie = stream.tie = tie_of(&stream);
    stream.across = k->crossflow * across->plan;
    stream.across_moment = k->crossflow * (across->plan_x - tie.x * across->plan);
    stream.couple = k->couple * across->heave;
    stream.along = k->along * across->girth;
    stream.along_z = across->z - tie.z;
    for (int i = 0; i < tow->hook_count; i++) {
        double drag = k->hooks * tow->hooks[i].drag;
        stream.hooks += drag;
        stream.hooks_x += drag * (tow->hooks[i].at.x - tie.x);
        stream.hooks_z += drag * (tow->hooks[i].at.z - tie.z);
    }
    stream.righting.x =
        tow->buoyancy * (tow->centre.x - tie.x) - tow->weight * (tow->gravity.x - tie.x);
    stream.righting.z =
        tow->buoyancy * (tow->centre.z - tie.z) - tow->weight * (tow->gravity.z - tie.z);
    return stream;
}

/* Of the water in a stream of 1/2 rho V^2 = 1, in the body's frame. */
struct forces {
    double x, z, moment;
    struct lip_push lip;
};

static struct lip_push lip_push_at(const struct stream *stream, double trim) {
    const struct tow_lip *lip = &stream->tow->lip;
    struct lip_push push = {.incidence = stream->lip_angle + trim};
    push.centre = blade_centre(push.incidence);
    push.force = stream->lip_size * blade_force(&lip->blade, push.incidence);
    double s = stream->lip_reach + lip->extent * push.centre;
    push.at = (struct pull_spot){lip->mouth.x - stream->lip_cosine * s,
                                 lip->mouth.z - stream->lip_sine * s};
    return push;
}

static struct forces forces_at(const struct stream *stream, double trim, double s, double c) {
    double across = -s * fabs(s), along = stream->along * c * fabs(c);
    struct forces f = {
        .x = along + stream->hooks * c,
        .z = stream->across * across - stream->hooks * s,
        .moment = stream->across_moment * across + stream->couple * 2 * s * c -
                  stream->along_z * along - stream->hooks_x * s - stream->hooks_z * c,
    };
    if (!stream->tow->lip.given) return f;
    f.lip = lip_push_at(stream, trim);
    double x = f.lip.force * stream->lip_sine, z = -f.lip.force * stream->lip_cosine;
    f.x += x;
    f.z += z;
    f.moment += (f.lip.at.x - stream->tie.x) * z - (f.lip.at.z - stream->tie.z) * x;
    return f;
}

static double pressure(const struct stream *stream, double speed) {
    return 0.5 * stream->tow->water * speed * speed;
}

double pull_moment(const struct stream *stream, double speed, double trim) {
    double s = sin(trim), c = cos(trim);
    struct forces forces = forces_at(stream, trim, s, c);
    return pressure(stream, speed) * forces.moment + stream->righting.x * c -
           stream->righting.z * s;
}

/* --- equilibrium ----------------------------------------------------------------------------- */

struct turning {
    const struct stream *stream;
    double speed;
};

static double turning_at(const void *context, double trim) {
    const struct turning *turning = context;
    return pull_moment(turning->stream, turning->speed, trim);
}

/* From the attitude at rest the way the moment turns it, to where the moment first falls to zero:
 * so it is stable. */
static bool find_trim(const struct turning *turning, double rest, double *trim) {
    const double step = DEGREE, end = 90 * DEGREE, close = 1e-12;
    double last = fmin(fmax(rest, -end), end), at_last = turning_at(turning, last);
    double way = at_last < 0 ? -1 : 1;
    for (int i = 1; way * last < end; i++) {
        double next = fmin(fmax(rest + way * i * step, -end), end);
        double at_next = turning_at(turning, next);
        if (way * at_next <= 0) {
            struct bracket bracket = {last, next, at_last, at_next};
            *trim = root_between(bracket, close, turning_at, turning);
            return true;
        }
        last = next, at_last = at_next;
    }
    return false;
}

/* Weight alone holds it down: level, with no lift. */
static struct pull pull_level(const struct stream *stream, double speed) {
    double q = pressure(stream, speed);
    struct forces forces = forces_at(stream, 0, 0, 1);
    return (struct pull){.steady = true, .speed = speed, .back = q * forces.x};
}

static struct pull pull_trimmed(const struct stream *stream, double speed) {
    struct turning turning = {stream, speed};
    struct pull pull = {.speed = speed};
    pull.steady = find_trim(&turning, stream->tow->rest, &pull.trim);
    if (!pull.steady) return pull;
    double s = sin(pull.trim), c = cos(pull.trim), q = pressure(stream, speed);
    struct forces forces = forces_at(stream, pull.trim, s, c);
    pull.back = q * (forces.x * c - forces.z * s);
    pull.down = -q * (forces.x * s + forces.z * c);
    pull.lip = forces.lip;
    pull.lip.force *= q;
    return pull;
}

struct pull pull_with_down(const struct pull *pull, double line_down) {
    struct pull other = *pull;
    other.line_down = line_down;
    other.tension = hypot(line_down, pull->line_back);
    other.angle = atan2(line_down, pull->line_back);
    return other;
}

struct pull pull_at(const struct stream *stream, double speed) {
    const struct tow *tow = stream->tow;
    struct pull pull = tow->lip.given ? pull_trimmed(stream, speed) : pull_level(stream, speed);
    if (!pull.steady) return pull;
    pull.line_back = stream->k.back * pull.back;
    return pull_with_down(&pull, stream->k.down * pull.down - (tow->buoyancy - tow->weight));
}

void pull_forces(const struct stream *stream, const struct pull *pull, struct force force[FORCES]) {
    const struct tow *tow = stream->tow;
    const struct across *across = &tow->across;
    double s = sin(pull->trim), c = cos(pull->trim);
    double x = pull->lip.force * stream->lip_sine, z = -pull->lip.force * stream->lip_cosine;
    force[FORCE_LINE] = (struct force){stream->tie, -pull->line_back, pull->line_down};
    force[FORCE_LIP] = (struct force){pull->lip.at, x * c - z * s, x * s + z * c};
    force[FORCE_BODY] =
        (struct force){{across->plan > 0 ? across->plan_x / across->plan : 0, across->z},
                       pull->back - force[FORCE_LIP].aft,
                       -pull->down - force[FORCE_LIP].up};
    force[FORCE_WEIGHT] = (struct force){tow->gravity, 0, -tow->weight};
    force[FORCE_BUOYANCY] = (struct force){tow->centre, 0, tow->buoyancy};
}

/* One that turns over does not dive. */
static double dive_at(const void *context, double speed) {
    struct pull pull = pull_at(context, speed);
    return pull.steady ? pull.line_down : -INFINITY;
}

double pull_dives_from(const struct stream *stream) {
    const double close = 1e-9;
    double slowest = fact(FACT_TOW_SLOWEST), fastest = fact(FACT_TOW_FASTEST);
    if (!(dive_at(stream, fastest) > 0)) return INFINITY;
    return root_rising(slowest, fastest, close, dive_at, stream);
}
