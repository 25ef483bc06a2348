/* Each rule is a named predicate that is true where the rule is broken, and a row that says whom to
 * blame and what to print.  Predicates see the recipe, the part in question and its number. */
#include "model/check.h"

#include <math.h>

#include "model/offer.h"
#include "model/places.h"
#include "model/reference.h"

static double body_length(const struct recipe *recipe) {
    return recipe->body ? recipe->body->length : 0;
}

/* --- the recipe ------------------------------------------------------------------------------ */

/* The first price that is given, or of those that are the workshop's; or NULL. */
static const struct opt *first_price(const struct recipe *r, const struct prices *p, bool taken) {
    const struct opt *all[] = {&p->wood, &p->lip,     &p->wire, &p->screw, &p->hook,   &p->ring,
                               &p->eye,  &p->ballast, &p->seal, &p->paint, &p->topcoat};
    for (size_t i = 0; i < sizeof all / sizeof *all; i++)
        if (all[i]->given && (!taken || workshop_gave(r, all[i]))) return all[i];
    return NULL;
}

static bool currency_missing(const struct recipe *r, const struct prices *prices, int number) {
    (void)number;
    return !r->currency.size && first_price(r, prices, false);
}

static bool prices_in_two_currencies(const struct recipe *r, const struct recipe *same,
                                     int number) {
    (void)same, (void)number;
    const struct workshop *w = r->workshop;
    if (!w || !w->currency.size || !r->currency.size || !r->prices) return false;
    return !str_equal(w->currency, r->currency) && first_price(r, r->prices, true);
}

static bool due_without_start(const struct recipe *r, const struct recipe *same, int number) {
    (void)same, (void)number;
    return r->due.given && r->shop && !r->shop->start.given;
}

static bool currency_malformed(const struct recipe *r, const struct recipe *same, int number) {
    (void)same, (void)number;
    if (!r->currency.size) return false;
    for (size_t i = 0; i < r->currency.size; i++)
        if (r->currency.data[i] < 'A' || r->currency.data[i] > 'Z') return true;
    return r->currency.size != 3;
}

/* --- the body -------------------------------------------------------------------------------- */

/* The last station may miss the length by rounding of its unit: 1 um (docs/physics.md, 1.3). */
static const double tail_slack = 1e-6;

static double station_x(const struct recipe *r, const struct station *station) {
    return position_in(station->at, body_length(r));
}

static bool first_off_nose(const struct recipe *r, const struct station *station, int number) {
    return number == 0 && station_x(r, station) > 0;
}

/* Not a share of a length that is not known. */
static bool has_x(const struct recipe *r, const struct station *station) {
    return body_length(r) > 0 || !station->at.share;
}

static bool not_rising(const struct recipe *r, const struct station *station, int number) {
    return number > 0 && has_x(r, station) && has_x(r, station - 1) &&
           station_x(r, station) <= station_x(r, station - 1);
}

static bool last_off_tail(const struct recipe *r, const struct station *station, int number) {
    return number == r->body->station_count - 1 && body_length(r) > 0 &&
           fabs(station_x(r, station) - body_length(r)) > tail_slack;
}

static bool upside_down(const struct recipe *r, const struct station *station, int number) {
    (void)r, (void)number;
    return station->back + station->belly < -1e-12;
}

static bool radius_missing(const struct recipe *r, const struct section_choice *section, int n) {
    (void)r, (void)n;
    return section->shape == SECTION_ROUNDED && !section->radius.given;
}

static bool radius_unused(const struct recipe *r, const struct section_choice *section, int n) {
    (void)r, (void)n;
    return section->shape != SECTION_ROUNDED && section->radius.given;
}

static bool beyond_body(const struct recipe *r, struct position at) {
    return body_length(r) > 0 && at.given && position_in(at, body_length(r)) > body_length(r);
}

static double widest(const struct recipe *r) {
    double most = 0;
    for (int i = 0; r->body && i < r->body->station_count; i++)
        most = fmax(most, r->body->stations[i].width);
    return most;
}

static bool halves_empty(const struct recipe *r, const struct body *body, int number) {
    (void)number;
    bool inside = r->hardware && (r->hardware->through || recipe_wrote(r, &r->hardware->through));
    for (int i = 0; i < r->chamber_count; i++)
        inside = inside || r->chambers[i].from == SIDE_INSIDE;
    return body->halves && !inside;
}

/* --- the face -------------------------------------------------------------------------------- */

static bool cup_too_deep(const struct recipe *r, const struct cup *cup, int number) {
    (void)r, (void)number;
    return cup->depth > cup->width / 2 + 1e-9;
}

/* The widest mouth that leaves a rim in the section at the nose, about the cup's own middle; 0
 * where there is no room. */
static double cup_room(const struct recipe *r) {
    const struct station *nose = r->body ? &r->body->stations[0] : NULL;
    if (!nose || places_broken(r->places, nose)) return INFINITY;
    double rim = reference_fact[FACT_CUP_RIM].value, up = r->face->cup->up;
    double above = nose->back - up, below = nose->belly + up;
    double least = fmin(fmin(above, below), nose->width / 2) - rim;
    return least > 0 ? 2 * least : 0;
}

static bool cup_off_nose(const struct recipe *r, const struct cup *cup, int number) {
    (void)number;
    return cup->width > cup_room(r) + 1e-9;
}

/* --- the lip --------------------------------------------------------------------------------- */

static bool tip_missing(const struct recipe *r, const struct lip *lip, int number) {
    (void)r, (void)number;
    return lip->shape == LIP_TAPER && !lip->tip.given;
}

static bool tip_unused(const struct recipe *r, const struct lip *lip, int number) {
    (void)r, (void)number;
    return lip->shape != LIP_TAPER && lip->tip.given;
}

static bool all_in_slot(const struct recipe *r, const struct lip *lip, int number) {
    (void)r, (void)number;
    return lip->slot >= lip->length;
}

static bool round_too_short(const struct recipe *r, const struct lip *lip, int number) {
    bool short_of = lip->length - lip->slot < lip->width / 2 - 1e-9; /* not where it is solved */
    return lip->shape == LIP_ROUND && short_of && !all_in_slot(r, lip, number);
}

static bool both_solved(const struct recipe *r, const struct lip *lip, int number) {
    (void)r, (void)number;
    return lip->length_solve && lip->angle_solve;
}

static bool has_tow_aim(const struct recipe *r) {
    return r->running && (r->running->aim || recipe_wrote(r, &r->running->aim));
}

static bool length_without_aim(const struct recipe *r, const struct lip *lip, int number) {
    (void)number;
    return lip->length_solve && !lip->angle_solve && !has_tow_aim(r);
}

static bool angle_without_aim(const struct recipe *r, const struct lip *lip, int number) {
    (void)number;
    return lip->angle_solve && !lip->length_solve && !has_tow_aim(r);
}

static bool lip_off_body(const struct recipe *r, const struct lip *lip, int number) {
    (void)number;
    return beyond_body(r, lip->at);
}

/* --- the hardware ---------------------------------------------------------------------------- */

static bool at_end(const struct fitting *fitting) {
    return fitting->place == PLACE_NOSE || fitting->place == PLACE_TAIL;
}

static bool at_missing(const struct recipe *r, const struct fitting *fitting, int number) {
    (void)r, (void)number;
    return !at_end(fitting) && !fitting->at.given;
}

static bool at_unused(const struct recipe *r, const struct fitting *fitting, int number) {
    (void)r, (void)number;
    return at_end(fitting) && fitting->at.given;
}

static bool off_body(const struct recipe *r, const struct fitting *fitting, int number) {
    (void)number;
    return fitting->place != PLACE_LIP && !at_end(fitting) && beyond_body(r, fitting->at);
}

static bool tie_without_lip(const struct recipe *r, const struct fitting *tie, int number) {
    (void)number;
    return tie->place == PLACE_LIP && !r->lip && !recipe_wrote(r, &r->lip);
}

static bool tie_off_lip(const struct recipe *r, const struct fitting *tie, int number) {
    (void)number;
    if (tie->place != PLACE_LIP || !r->lip || !tie->at.given) return false;
    if (places_broken(r->places, r->lip)) return false;
    return position_in(tie->at, r->lip->length) > r->lip->length - r->lip->slot;
}

static bool bore_on_lip(const struct recipe *r, const struct fitting *tie, int number) {
    (void)r, (void)number;
    return tie->place == PLACE_LIP && (tie->depth.given || tie->pilot.given);
}

static bool screw_in_lip(const struct recipe *r, const struct fitting *tie, int number) {
    (void)r, (void)number;
    return tie->screw && tie->place == PLACE_LIP;
}

static bool depth_of_screw(const struct recipe *r, const struct fitting *fitting, int number) {
    (void)r, (void)number;
    return fitting->screw && fitting->depth.given;
}

static bool screw_too_light(const struct recipe *r, const struct fitting *fitting, int number) {
    (void)number;
    const struct screw *screw = fitting->screw;
    return screw && !places_broken(r->places, screw) && screw->mass < screw_shank_mass(screw);
}

static bool through_from_nose(const struct recipe *r, const struct fitting *tie, int number) {
    (void)number;
    return r->hardware->through && tie->place != PLACE_NOSE;
}

static bool through_unbored(const struct recipe *r, const struct fitting *fitting, int number) {
    (void)number;
    bool end = fitting->place == PLACE_NOSE || fitting->place == PLACE_TAIL;
    return r->hardware->through && end &&
           (fitting->depth.given || fitting->pilot.given || fitting->screw);
}

static bool through_sets_depth(const struct recipe *r, const struct fitting *hanger, int number) {
    (void)number;
    bool across = hanger->place == PLACE_BELLY || hanger->place == PLACE_BACK;
    return r->hardware->through && across && hanger->depth.given && !hanger->screw;
}

static bool kerf_too_narrow(const struct recipe *r, const struct through *through, int number) {
    (void)number;
    const struct wire *wire = r->hardware->wire;
    return wire && !places_broken(r->places, wire) && through->kerf < wire->diameter - 1e-9;
}

static bool kerf_in_halves(const struct recipe *r, const struct through *through, int number) {
    (void)number;
    return r->body && r->body->halves &&
           (recipe_wrote(r, &through->from) || recipe_wrote(r, &through->close));
}

static bool twists(const struct recipe *r, const struct fitting *fitting) {
    return fitting && !fitting->screw && !recipe_wrote(r, &fitting->screw);
}

static bool wire_missing(const struct recipe *r, const struct hardware *hardware, int number) {
    (void)number;
    bool twisted = twists(r, hardware->line_tie);
    for (int i = 0; i < hardware->hanger_count; i++)
        twisted = twisted || twists(r, &hardware->hangers[i]);
    return twisted && !hardware->wire && !recipe_wrote(r, &hardware->wire);
}

static bool hook_missing(const struct recipe *r, const struct fitting *hanger, int number) {
    (void)number;
    return !hanger->hook && !recipe_wrote(r, &hanger->hook);
}

static bool hook_unknown(const struct recipe *r, const struct fitting *hanger, int number) {
    (void)r, (void)number;
    return hanger->hook && !hanger->hook->mass.given &&
           !reference_hook_of((int)hanger->hook->kind, hanger->hook->size);
}

static bool ring_unknown(const struct recipe *r, const struct fitting *hanger, int number) {
    (void)r, (void)number;
    const struct ring *ring = hanger->ring;
    return ring && !places_broken(r->places, ring) && !ring->mass.given &&
           !reference_ring_of(ring->size);
}

static bool joint_off_body(const struct recipe *r, const struct joint_cut *joint, int number) {
    (void)number;
    return beyond_body(r, joint->at);
}

static bool joints_not_rising(const struct recipe *r, const struct joint_cut *joint, int number) {
    double length = body_length(r);
    return number > 0 &&
           position_in(joint->at, length) <= position_in(r->joints[number - 1].at, length);
}

static bool joint_cuts_wire(const struct recipe *r, const struct joint_cut *joint, int number) {
    (void)joint;
    return number == 0 && r->hardware && r->hardware->through;
}

static bool joints_under_tow(const struct recipe *r, const struct joint_cut *joint, int number) {
    (void)joint;
    return number == 1 && r->running;
}

static bool extra_off_body(const struct recipe *r, const struct extra *extra, int number) {
    (void)number;
    return beyond_body(r, extra->at);
}

static bool extra_without_currency(const struct recipe *r, const struct extra *extra, int number) {
    (void)number;
    return extra->price.given && !r->currency.size;
}

static bool too_large_to_carry(const struct recipe *r, const struct extra *extra, int number) {
    const double water = 1000, most = 10;
    (void)r, (void)number;
    return extra->volume.given && extra->volume.value * water > most * extra->mass;
}

/* --- the ballast ----------------------------------------------------------------------------- */

static bool from_end(enum bore_side side) {
    return side == SIDE_NOSE || side == SIDE_TAIL;
}

static bool upright(enum bore_side side) {
    return side == SIDE_BELLY || side == SIDE_BACK;
}

static bool bore_at_missing(const struct recipe *r, const struct bore *bore, int number) {
    (void)r, (void)number;
    return !from_end(bore->from) && !bore->at.given;
}

static bool bore_at_unused(const struct recipe *r, const struct bore *bore, int number) {
    (void)r, (void)number;
    return from_end(bore->from) && bore->at.given;
}

static bool end_depth_missing(const struct recipe *r, const struct bore *bore, int number) {
    (void)r, (void)number;
    return from_end(bore->from) && !bore->depth.given;
}

static bool square_depth_missing(const struct recipe *r, const struct bore *bore, int number) {
    (void)number;
    return r->shop && r->shop->bore == BORED_SQUARE && !from_end(bore->from) &&
           bore->from != SIDE_INSIDE && !bore->depth.given;
}

static bool bore_up_unused(const struct recipe *r, const struct bore *bore, int number) {
    (void)r, (void)number;
    return upright(bore->from) && bore->up.given;
}

static bool load_inside(const struct recipe *r, const struct bore *bore, int number) {
    (void)r, (void)number;
    return bore->from == SIDE_INSIDE;
}

static bool bore_off_body(const struct recipe *r, const struct bore *bore, int number) {
    (void)number;
    return !from_end(bore->from) && beyond_body(r, bore->at);
}

static bool chamber_at_missing(const struct recipe *r, const struct chamber *chamber, int number) {
    (void)r, (void)number;
    return !from_end(chamber->from) && !chamber->at.given;
}

static bool chamber_at_unused(const struct recipe *r, const struct chamber *chamber, int number) {
    (void)r, (void)number;
    return from_end(chamber->from) && chamber->at.given;
}

static bool chamber_up_unused(const struct recipe *r, const struct chamber *chamber, int number) {
    (void)r, (void)number;
    return upright(chamber->from) && chamber->up.given;
}

static bool chamber_off_body(const struct recipe *r, const struct chamber *chamber, int number) {
    (void)number;
    return !from_end(chamber->from) && beyond_body(r, chamber->at);
}

static bool all_stopper(const struct recipe *r, const struct chamber *chamber, int number) {
    (void)r, (void)number;
    return chamber->from != SIDE_INSIDE && chamber->stopper >= chamber->depth;
}

static bool inside_of_whole(const struct recipe *r, const struct chamber *chamber, int number) {
    (void)number;
    return chamber->from == SIDE_INSIDE && r->body && !r->body->halves;
}

static bool stopper_inside(const struct recipe *r, const struct chamber *chamber, int number) {
    (void)number;
    return chamber->from == SIDE_INSIDE &&
           (recipe_wrote(r, &chamber->stopper) || recipe_wrote(r, &chamber->closing) ||
            chamber->filler.given);
}

static bool filler_unused(const struct recipe *r, const struct chamber *chamber, int number) {
    (void)r, (void)number;
    return chamber->closing != STOPPER_FILLER && chamber->filler.given &&
           chamber->from != SIDE_INSIDE;
}

static bool piece_unclear(const struct recipe *r, const struct piece *piece, int number) {
    (void)r, (void)number;
    return piece->ball.given == piece->mass.given;
}

static bool count_broken(const struct recipe *r, const struct piece *piece, int number) {
    (void)r, (void)number;
    return piece->count.given && piece->count.value != floor(piece->count.value);
}

static bool is_too_wide(const struct recipe *r, const struct piece *piece, int bore) {
    double widest = r->ballast->bores[bore].drill + reference_ball_give(r->ballast->material);
    return piece->ball.given && piece->ball.value > widest + 1e-9;
}

static bool ball_too_wide(const struct recipe *r, const struct piece *piece, int bore) {
    return reference_metal[r->ballast->material].soft && is_too_wide(r, piece, bore);
}

static bool hard_ball_too_wide(const struct recipe *r, const struct piece *piece, int bore) {
    return !reference_metal[r->ballast->material].soft && is_too_wide(r, piece, bore);
}

/* How many bores up to and with `last` are to be solved. */
static int solved_up_to(const struct recipe *r, int last) {
    int count = 0;
    for (int i = 0; i <= last; i++) count += r->ballast->bores[i].solve;
    return count;
}

/* How much is aimed at; as much as there is where the aim could not be read. */
static int aims(const struct recipe *r) {
    const struct aim *aim = r->ballast->aim;
    if (!aim) return recipe_wrote(r, &r->ballast->aim) ? 2 : 0;
    if (places_broken(r->places, aim)) return 2;
    return (aim->reserve.given || aim->sink.given) + aim->attitude.given;
}

static bool solve_without_aim(const struct recipe *r, const struct bore *bore, int number) {
    (void)number;
    return bore->solve && aims(r) == 0;
}

static bool solve_too_many(const struct recipe *r, const struct bore *bore, int number) {
    return bore->solve && solved_up_to(r, number) > 2;
}

static bool solve_underfixed(const struct recipe *r, const struct bore *bore, int number) {
    int all = solved_up_to(r, r->ballast->bore_count - 1);
    return bore->solve && aims(r) == 1 && all == 2 && solved_up_to(r, number) == 2;
}

static bool aim_empty(const struct recipe *r, const struct aim *aim, int number) {
    (void)r, (void)number;
    return !aim->reserve.given && !aim->sink.given && !aim->attitude.given;
}

static bool aim_twice(const struct recipe *r, const struct aim *aim, int number) {
    (void)r, (void)number;
    return aim->reserve.given && aim->sink.given;
}

/* --- the rest -------------------------------------------------------------------------------- */

static bool more_blanks_than_plugs(const struct recipe *r, const struct measured *m, int number) {
    (void)number;
    return m->blank_count > r->make;
}

/* The same of the whole plug at each later stage. */
#define MORE_THAN_PLUGS(stage)                                                              \
    static bool more_##stage##_than_plugs(const struct recipe *r, const struct measured *m, \
                                          int number) {                                     \
        (void)number;                                                                       \
        return m->stage##_count > r->make;                                                  \
    }
MORE_THAN_PLUGS(hung)
MORE_THAN_PLUGS(sealed)
MORE_THAN_PLUGS(ballasted)
MORE_THAN_PLUGS(painted)
MORE_THAN_PLUGS(topcoated)
MORE_THAN_PLUGS(finished)

static int readings(const struct waterline *w) {
    return w->nose.given + w->tail.given + w->back_count + w->belly_count;
}

static bool not_two_readings(const struct recipe *r, const struct waterline *w, int number) {
    (void)r, (void)number;
    return readings(w) != 2;
}

/* Closer to each other than this the line through both is anybody's guess. */
static const double readings_apart = 1e-3;

static bool read_in_one_place(const struct recipe *r, const struct waterline *w, int number) {
    double at[2 * MAX_READINGS + 2] = {0};
    int count = w->nose.given;
    (void)number;
    if (readings(w) != 2) return false;
    for (int i = 0; i < w->back_count; i++) at[count++] = w->back[i];
    for (int i = 0; i < w->belly_count; i++) at[count++] = w->belly[i];
    if (w->tail.given) at[count++] = body_length(r);
    return fabs(at[1] - at[0]) < readings_apart;
}

static bool read_off_body(const struct recipe *r, const struct waterline *w, int number) {
    (void)number;
    for (int i = 0; body_length(r) > 0 && i < w->back_count; i++)
        if (w->back[i] > body_length(r)) return true;
    for (int i = 0; body_length(r) > 0 && i < w->belly_count; i++)
        if (w->belly[i] > body_length(r)) return true;
    return false;
}

static bool eyes_off_body(const struct recipe *r, const struct eyes *eyes, int number) {
    (void)number;
    return beyond_body(r, eyes->at);
}

static bool window_closed(const struct recipe *r, const struct recoat *recoat, int number) {
    (void)r, (void)number;
    return recoat->before.given && recoat->before.value < recoat->after;
}

/* A kind that comes in one part, or a mix by mass of parts whose density nobody said. */
static bool mix_of_one_part(const struct recipe *r, const struct topcoat *topcoat, int number) {
    (void)r, (void)number;
    return topcoat->mix.second > 0 && !(topcoat->resin.given && topcoat->hardener.given);
}

static bool part_unused(const struct recipe *r, const struct topcoat *topcoat, int number) {
    (void)r, (void)number;
    return topcoat->mix.second <= 0 &&
           (topcoat->resin.given || topcoat->hardener.given || topcoat->pot_life.given);
}

static bool turned_too_long(const struct recipe *r, const struct topcoat *topcoat, int number) {
    (void)number;
    return topcoat->coats > 1 && topcoat->recoat->after < topcoat->turn &&
           recipe_wrote(r, &topcoat->turn);
}

static bool fished_before_cured(const struct recipe *r, const struct topcoat *topcoat, int number) {
    (void)number;
    return topcoat->fish < topcoat->cure && recipe_wrote(r, &topcoat->fish);
}

static bool never_open(const struct recipe *r, const struct shop *shop, int number) {
    (void)r, (void)number;
    return shop->open && shop->open->count == 0;
}

static bool step_unclear(const struct recipe *r, const struct step *step, int number) {
    (void)r, (void)number;
    int said = (step->add_id.size > 0) + (step->change_id.size > 0) + (step->skip_id.size > 0) +
               (step->order_count > 0);
    return said != 1;
}

static bool caution_unused(const struct recipe *r, const struct step *step, int number) {
    (void)r, (void)number;
    return step->caution && !step->add_id.size && !step->change_id.size;
}

static bool because_unused(const struct recipe *r, const struct step *step, int number) {
    (void)r, (void)number;
    return step->because.size && !step->skip_id.size;
}

static bool outs_not_rising(const struct recipe *r, const struct running *running, int number) {
    (void)r, (void)number;
    for (int i = 1; i < running->out_count; i++)
        if (!(running->out[i] > running->out[i - 1])) return true;
    return false;
}

static bool aim_without_lip(const struct recipe *r, const struct tow_aim *aim, int number) {
    (void)aim, (void)number;
    return !r->lip && !recipe_wrote(r, &r->lip);
}

static bool nothing_to_solve(const struct recipe *r, const struct tow_aim *aim, int number) {
    (void)aim, (void)number;
    if (!r->lip || places_broken(r->places, r->lip)) return false;
    return !r->lip->length_solve && !r->lip->angle_solve;
}

static bool aim_too_deep(const struct recipe *r, const struct tow_aim *aim, int number) {
    (void)r, (void)number;
    return aim->depth >= aim->out;
}

static bool running_missing(const struct recipe *r, const struct sounding *sounding, int number) {
    (void)sounding, (void)number;
    return !r->running;
}

static bool sounding_too_deep(const struct recipe *r, const struct sounding *sounding, int number) {
    (void)r, (void)number;
    return sounding->depth >= sounding->out;
}

/* --- the workshop ---------------------------------------------------------------------------- */

static bool density_unknown(const struct recipe *r, const struct own_wood *wood, int number) {
    (void)r, (void)number;
    return !(wood->row.gravity > 0);
}

/* An own row is called as one before it. */
#define SAME_NAME(predicate, type, rows)                                                          \
    static bool predicate(const struct recipe *r, const struct type *item, int number) {          \
        for (int i = 0; i < number; i++)                                                          \
            if (item->name.size && str_equal(r->workshop->rows[i].name, item->name)) return true; \
        return false;                                                                             \
    }
SAME_NAME(wood_again, own_wood, woods)
SAME_NAME(sealer_again, seal, sealers)
SAME_NAME(paint_again, own_paint, paints)
SAME_NAME(topcoat_again, topcoat, topcoats)

static bool hook_again(const struct recipe *r, const struct own_hook *hook, int number) {
    const struct own_hook *hooks = r->workshop->hooks;
    for (int i = 0; i < number; i++)
        if (hooks[i].kind == hook->kind && str_equal(hooks[i].size, hook->size)) return true;
    return false;
}

static bool ring_again(const struct recipe *r, const struct own_ring *ring, int number) {
    for (int i = 0; i < number; i++)
        if (str_equal(r->workshop->rings[i].size, ring->size)) return true;
    return false;
}

static bool sealer_nameless(const struct recipe *r, const struct seal *sealer, int number) {
    (void)r, (void)number;
    return !sealer->name.size;
}

static bool topcoat_nameless(const struct recipe *r, const struct topcoat *topcoat, int number) {
    (void)r, (void)number;
    return !topcoat->name.size;
}

static bool not_one_measure(const struct recipe *r, const struct stock_piece *piece, int number) {
    (void)r, (void)number;
    return piece->ball.given == piece->mass.given;
}

/* --- the table ------------------------------------------------------------------------------- */

enum subject {
    SUBJECT_recipe,
    SUBJECT_prices,
    SUBJECT_body,
    SUBJECT_station,
    SUBJECT_section,
    SUBJECT_cup,
    SUBJECT_lip,
    SUBJECT_hardware,
    SUBJECT_through,
    SUBJECT_line_tie,
    SUBJECT_hanger,
    SUBJECT_joint,
    SUBJECT_extra,
    SUBJECT_bore,
    SUBJECT_load_piece,
    SUBJECT_hand_piece,
    SUBJECT_aim,
    SUBJECT_chamber,
    SUBJECT_eyes,
    SUBJECT_topcoat,
    SUBJECT_recoat,
    SUBJECT_running,
    SUBJECT_tow_aim,
    SUBJECT_sounding,
    SUBJECT_shop,
    SUBJECT_measured,
    SUBJECT_waterline,
    SUBJECT_step,
    SUBJECT_own_wood,
    SUBJECT_own_hook,
    SUBJECT_own_ring,
    SUBJECT_own_sealer,
    SUBJECT_own_paint,
    SUBJECT_own_topcoat,
    SUBJECT_stock_piece,
};

typedef struct recipe subject_recipe;
typedef struct prices subject_prices;
typedef struct body subject_body;
typedef struct station subject_station;
typedef struct section_choice subject_section;
typedef struct cup subject_cup;
typedef struct lip subject_lip;
typedef struct hardware subject_hardware;
typedef struct through subject_through;
typedef struct fitting subject_line_tie;
typedef struct fitting subject_hanger;
typedef struct joint_cut subject_joint;
typedef struct extra subject_extra;
typedef struct bore subject_bore;
typedef struct piece subject_load_piece;
typedef struct piece subject_hand_piece;
typedef struct aim subject_aim;
typedef struct chamber subject_chamber;
typedef struct eyes subject_eyes;
typedef struct topcoat subject_topcoat;
typedef struct recoat subject_recoat;
typedef struct running subject_running;
typedef struct tow_aim subject_tow_aim;
typedef struct sounding subject_sounding;
typedef struct shop subject_shop;
typedef struct measured subject_measured;
typedef struct waterline subject_waterline;
typedef struct step subject_step;
typedef struct own_wood subject_own_wood;
typedef struct own_hook subject_own_hook;
typedef struct own_ring subject_own_ring;
typedef struct seal subject_own_sealer;
typedef struct own_paint subject_own_paint;
typedef struct topcoat subject_own_topcoat;
typedef struct stock_piece subject_stock_piece;

/* A predicate of one part's type, callable for any. */
#define RULE(subject, predicate, member, level, rule, message, hint)                               \
    static bool subject##_##predicate(const struct recipe *recipe, const void *item, int number) { \
        return predicate(recipe, (const subject_##subject *)item, number);                         \
    }
#include "rules.def"

enum level { LEVEL_ERROR, LEVEL_FAULT, LEVEL_WARNING };

struct rule {
    enum subject subject;
    bool (*broken)(const struct recipe *recipe, const void *item, int number);
    size_t member;
    enum level level;
    const char *rule, *message, *hint;
};

static const struct rule rules[] = {
#define RULE(subject, predicate, member, level, rule, message, hint) \
    {SUBJECT_##subject,                                              \
     subject##_##predicate,                                          \
     offsetof(subject_##subject, member),                            \
     LEVEL_##level,                                                  \
     rule,                                                           \
     message,                                                        \
     hint},
#include "rules.def"
};

/* What a rule offers; numbers of one part's type, callable for any. */
#define OFFER(subject, predicate, id, choice, part, before, dimension, number, after)              \
    static struct offer_row subject##_##predicate##_##id(const struct recipe *r, const void *item, \
                                                         int n) {                                  \
        const subject_##subject *it = item;                                                        \
        (void)r, (void)it, (void)n;                                                                \
        return (struct offer_row){part, number};                                                   \
    }
struct offer_row {
    const void *part;
    double number;
};
#include "rules.def"

static const struct {
    bool (*broken)(const struct recipe *recipe, const void *item, int number);
    struct offer_row (*row)(const struct recipe *recipe, const void *item, int number);
    int choice;
    enum dimension dimension;
    const char *before, *after;
} offers[] = {
#define OFFER(subject, predicate, id, choice, part, before, dimension, number, after) \
    {subject##_##predicate, subject##_##predicate##_##id, choice, DIM_##dimension, before, after},
#include "rules.def"
};

struct checker {
    const struct recipe *recipe;
    struct diags *diags;
    bool computable;
};

static void offer_row(const struct checker *c, size_t index, const void *item, int number) {
    struct offer_row row = offers[index].row(c->recipe, item, number);
    struct offering o = {c->diags, c->recipe, row.part, .choice = offers[index].choice};
    const char *value = "";
    double step = offers[index].dimension == DIM_LENGTH ? offer_step(c->recipe) : 0;
    if (step > 0) row.number = nearbyint(row.number / step) * step;
    if (!isnan(row.number))
        value = offer_quantity(c->diags->arena, c->recipe, row.number, offers[index].dimension);
    offer(&o, "%s%s%s", offers[index].before, value, offers[index].after);
}

static void judge(struct checker *c, enum subject subject, const void *item, int number) {
    if (!item || places_broken(c->recipe->places, item)) return;
    for (size_t i = 0; i < sizeof rules / sizeof *rules; i++) {
        const struct rule *rule = &rules[i];
        if (rule->subject != subject || !rule->broken(c->recipe, item, number)) continue;
        const char *blamed = (const char *)item + rule->member;
        diag_add(c->diags, rule->level == LEVEL_WARNING ? SEVERITY_WARNING : SEVERITY_ERROR,
                 recipe_place(c->recipe, blamed), rule->rule, rule->hint, "%s", rule->message);
        c->computable &= rule->level != LEVEL_ERROR;
        for (size_t k = 0; k < sizeof offers / sizeof *offers && !c->diags->trial; k++)
            if (offers[k].broken == rule->broken) offer_row(c, k, item, number);
    }
}

static void judge_ballast(struct checker *c, const struct ballast *ballast) {
    judge(c, SUBJECT_aim, ballast->aim, 0);
    for (int i = 0; i < ballast->bore_count; i++) {
        const struct bore *bore = &ballast->bores[i];
        judge(c, SUBJECT_bore, bore, i);
        if (places_broken(c->recipe->places, bore)) continue;
        for (int k = 0; k < bore->load_count; k++) judge(c, SUBJECT_load_piece, &bore->load[k], i);
    }
    for (int i = 0; i < ballast->piece_count; i++)
        judge(c, SUBJECT_hand_piece, &ballast->pieces[i], i);
}

bool check_recipe(const struct recipe *recipe, struct diags *diags) {
    struct checker c = {recipe, diags, true};
    judge(&c, SUBJECT_recipe, recipe, 0);
    judge(&c, SUBJECT_prices, recipe->prices, 0);
    if (recipe->body) {
        for (int i = 0; i < recipe->body->station_count; i++)
            judge(&c, SUBJECT_station, &recipe->body->stations[i], i);
        judge(&c, SUBJECT_section, recipe->body->section, 0);
        judge(&c, SUBJECT_body, recipe->body, 0);
    }
    if (recipe->face) judge(&c, SUBJECT_cup, recipe->face->cup, 0);
    judge(&c, SUBJECT_lip, recipe->lip, 0);
    if (recipe->hardware) {
        judge(&c, SUBJECT_hardware, recipe->hardware, 0);
        judge(&c, SUBJECT_through, recipe->hardware->through, 0);
        judge(&c, SUBJECT_line_tie, recipe->hardware->line_tie, 0);
        for (int i = 0; i < recipe->hardware->hanger_count; i++)
            judge(&c, SUBJECT_hanger, &recipe->hardware->hangers[i], i);
    }
    for (int i = 0; i < recipe->joint_count; i++) judge(&c, SUBJECT_joint, &recipe->joints[i], i);
    for (int i = 0; i < recipe->extra_count; i++) judge(&c, SUBJECT_extra, &recipe->extras[i], i);
    if (recipe->ballast) judge_ballast(&c, recipe->ballast);
    for (int i = 0; i < recipe->chamber_count; i++)
        judge(&c, SUBJECT_chamber, &recipe->chambers[i], i);
    judge(&c, SUBJECT_eyes, recipe->eyes, 0);
    if (recipe->finish && recipe->finish->topcoat) {
        judge(&c, SUBJECT_topcoat, recipe->finish->topcoat, 0);
        judge(&c, SUBJECT_recoat, recipe->finish->topcoat->recoat, 0);
    }
    judge(&c, SUBJECT_running, recipe->running, 0);
    if (recipe->running) judge(&c, SUBJECT_tow_aim, recipe->running->aim, 0);
    if (recipe->measured) judge(&c, SUBJECT_sounding, recipe->measured->running, 0);
    judge(&c, SUBJECT_shop, recipe->shop, 0);
    judge(&c, SUBJECT_measured, recipe->measured, 0);
    if (recipe->measured) judge(&c, SUBJECT_waterline, recipe->measured->waterline, 0);
    for (int i = 0; i < recipe->step_count; i++) judge(&c, SUBJECT_step, &recipe->steps[i], i);
    return c.computable;
}

static void judge_stock(struct checker *c, const struct stock *stock) {
    for (int i = 0; i < stock->stock_piece_count; i++)
        judge(c, SUBJECT_stock_piece, &stock->pieces[i], i);
}

/* A recipe around it, for the rules that a workshop shares with one. */
void check_workshop(struct arena *arena, const struct workshop *w, struct diags *diags) {
    struct recipe *around = NEW(arena, struct recipe, 1);
    around->workshop = w;
    around->places = w->places;
    around->currency = w->currency;
    struct checker c = {around, diags, true};
    if (w->currency.size && currency_malformed(around, around, 0))
        diag_add(diags, SEVERITY_ERROR, recipe_place(around, &w->currency), "currency",
                 "such as EUR, USD or SEK", "a currency is the three capital letters of ISO 4217");
    judge(&c, SUBJECT_prices, w->prices, 0);
    judge(&c, SUBJECT_shop, w->shop, 0);
    for (int i = 0; i < w->own_wood_count; i++) judge(&c, SUBJECT_own_wood, &w->woods[i], i);
    for (int i = 0; i < w->own_hook_count; i++) judge(&c, SUBJECT_own_hook, &w->hooks[i], i);
    for (int i = 0; i < w->own_ring_count; i++) judge(&c, SUBJECT_own_ring, &w->rings[i], i);
    for (int i = 0; i < w->seal_count; i++) judge(&c, SUBJECT_own_sealer, &w->sealers[i], i);
    for (int i = 0; i < w->own_paint_count; i++) judge(&c, SUBJECT_own_paint, &w->paints[i], i);
    for (int i = 0; i < w->topcoat_count; i++) {
        judge(&c, SUBJECT_own_topcoat, &w->topcoats[i], i);
        judge(&c, SUBJECT_topcoat, &w->topcoats[i], i);
        judge(&c, SUBJECT_recoat, w->topcoats[i].recoat, i);
    }
    if (w->stock) judge_stock(&c, w->stock);
}
