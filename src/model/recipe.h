/* A recipe as the program thinks of it: plain structs, SI numbers, no text where a number will do.
 *
 * Units: m, kg, s, rad, N; temperatures in degC; shares as fractions of 1; salinity in g/kg.
 * Members keep the names of the recipe's keys.  An optional part that is not given is NULL, an
 * optional value without a default is a `struct opt`.  Where a value was written is kept beside the
 * model (`recipe_place`), so that the arithmetic stays readable.
 */
#ifndef PLUGWRIGHT_RECIPE_H
#define PLUGWRIGHT_RECIPE_H

#include <stdbool.h>

#include "base/clock.h"
#include "base/diag.h"
#include "base/hours.h"
#include "base/quantity.h"

enum {
    MAX_STATIONS = 200,
    MAX_HANGERS = 4,
    MAX_EXTRAS = 12,
    MAX_JOINTS = 3,
    MAX_BORES = 8,
    MAX_CHAMBERS = 6,
    MAX_PIECES = 32,
    MAX_LOAD_PIECES = 32,
    MAX_LAYERS = 40,
    MAX_COATS = 20,
    MAX_STEPS = 200,
    MAX_RUN = 500,
    MAX_SPEEDS = 3,
    MAX_OUTS = 12,
    MAX_PERIODS = 8, /* opening periods of one day */
};

struct opt {
    double value;
    bool given;
};

/* A place along something: a length from its end, or a share of its length. */
struct position {
    double value;
    bool share;
    bool given;
};

struct water {
    double temperature; /* degC */
    double salinity;    /* g/kg */
};

struct wood_row;

struct wood {
    struct str species;
    const struct wood_row *row; /* of that name: the workshop's own, or the table's */
    double moisture;
    struct opt density, spread;
};

struct station {
    struct position at;
    double back, belly, width;
};

enum section_shape {
#define SECTION_SHAPE(key, word) SECTION_##key,
#include "choices.def"
};

struct section_choice {
    enum section_shape shape;
    struct opt radius;
};

struct body {
    double length;
    struct station *stations;
    int station_count;
    struct section_choice *section;
    bool halves; /* two, glued on the plane y = 0 */
};

enum lip_shape {
#define LIP_SHAPE(key, word) LIP_##key,
#include "choices.def"
};

struct lip {
    int material; /* row of the sheet table */
    double thickness, length, width;
    bool length_solve; /* the length is what meets the aim of running: NAN until it is found */
    enum lip_shape shape;
    struct opt tip;
    struct position at;
    double angle, slot;
    bool angle_solve; /* likewise */
};

/* A hollow in the nose: part of a sphere. */
struct cup {
    double width, depth, up;
};

struct nose_face {
    struct cup *cup;
};

struct wire {
    double diameter;
    int material; /* row of the wire metals */
};

enum place {
#define FITTING_PLACE(key, word, tie, hanger) PLACE_##key,
#include "choices.def"
};

enum hook_kind {
#define HOOK_KIND(key, word) HOOK_##key,
#include "choices.def"
};

struct hook {
    int count; /* so many alike on one ring */
    enum hook_kind kind;
    struct str size;
    struct opt mass, length;
    struct opt spread, weighed; /* of the mass */
};

struct ring {
    struct str size;
    struct opt mass;
    struct opt spread, weighed; /* of the mass */
};

/* What hangs between eye and ring, so that the hook swings further: a swivel, a length of wire. */
struct link {
    double mass, length;
};

/* A bought screw eye: the whole mass, and the threaded shank. */
struct screw {
    double mass, shank, diameter;
    bool last; /* turned in when all else is done */
};

/* The line tie and the hangers: an eye of twisted wire in a pilot bore, or a screw eye. */
struct fitting {
    enum place place;
    struct position at;
    struct opt depth;
    double eye;
    struct opt pilot;
    struct screw *screw; /* NULL: twisted from the hardware's wire */
    struct hook *hook;
    struct ring *ring;
    struct link *link;
};

enum kerf_side {
#define KERF_SIDE(key, word) KERF_##key,
#include "choices.def"
};

enum kerf_close {
#define KERF_CLOSE(key, word) CLOSED_BY_##key,
#include "choices.def"
};

/* One wire from the line tie to the tail, laid into a kerf. */
struct through {
    enum kerf_side from;
    double kerf, up;
    int wraps;
    enum kerf_close close;
    double filler;
};

struct hardware {
    struct through *through; /* optional */
    struct wire *wire;       /* NULL where every eye is bought */
    struct fitting *line_tie;
    struct fitting *hangers;
    int hanger_count;
    struct opt line;
};

enum extra_stage {
#define EXTRA_STAGE(key, word, stage) EXTRA_##key,
#include "choices.def"
    EXTRA_STAGES
};

/* Anything else that is fitted to the plug: a propeller, a skirt, a blade, a sticker. */
struct extra {
    struct str name, how;
    struct position at;
    double up, mass; /* mass and volume are those of one */
    struct opt volume;
    enum extra_stage stage;
    int count;
    struct opt price;
};

struct hinge {
    struct str name;
    double mass;
};

/* Where the body is cut into parts that swing about an upright pin. */
struct joint_cut {
    struct position at;
    double gap, angle; /* at the middle; of each part's end to the section */
    struct hinge *hinge;
};

/* One kind of piece of ballast: a ball by its diameter, or a mass.  As part of a load `count` is
 * how many go in; on hand it is how many there are (not given: as many as one likes). */
struct piece {
    struct opt ball, mass;
    struct opt count;
};

enum bore_side {
#define BORE_SIDE(key, ...) SIDE_##key,
#include "choices.def"
};

struct bore {
    struct position at;  /* of one from nose or tail: not given */
    enum bore_side from; /* of a flank: a pair of them, mirror images */
    struct opt up;       /* height above the datum; of one from nose, tail or flank */
    double drill;
    struct opt depth;
    bool solve;
    struct piece *load;
    int load_count;
};

enum stopper_kind {
#define STOPPER(key, word) STOPPER_##key,
#include "choices.def"
};

/* What lies loose in a chamber. */
struct content {
    struct str name;
    double mass;
};

/* A hollow in the wood with something loose in it, closed by a stopper of wood or by filler. */
struct chamber {
    struct position at;
    enum bore_side from;
    struct opt up;
    double drill, depth, stopper; /* stopper: what of the depth is closed */
    enum stopper_kind closing;
    struct opt filler; /* density, where filler closes it */
    struct content *holds;
};

struct aim {
    struct opt reserve, sink, attitude; /* sink: s/m, instead of reserve */
};

enum filler_kind {
#define FILLER_KIND(key, ...) FILLER_##key,
#include "tables/filler.def"
};

struct ballast {
    int material; /* row of the ballast metals */
    struct opt density;
    enum filler_kind closing;
    double filler, cover;
    struct aim *aim;
    struct bore *bores;
    int bore_count;
    struct piece *pieces;
    int piece_count;
};

struct eyes {
    double size, depth;
    struct opt mass;
    struct position at;
    double up;
};

enum seal_kind {
#define SEAL_KIND(key, ...) SEAL_##key,
#include "tables/finish.def"
};

struct seal {
    enum seal_kind kind;
    struct str name;
    int coats;
    double uptake, solids, dry; /* kg/m2 of a coat, kg/m3 of what is poured, s */
    bool sand;
    struct opt spread, weighed; /* of the uptake */
};

enum layer_kind {
#define LAYER_KIND(key, ...) LAYER_##key,
#include "tables/finish.def"
};

enum layer_where {
#define COVER(key, ...) WHERE_##key,
#include "tables/finish.def"
};

struct layer {
    struct str colour;
    unsigned hex; /* 0xRRGGBB */
    bool hex_given;
    enum layer_kind kind;
    enum layer_where where;
    struct opt cover;
    int coats;
    double dry;
    struct parts thin;
    bool thin_given;
    struct str mask;
    struct opt film, density, solids, transfer; /* where they differ from the paint's own */
    struct opt spread, weighed;                 /* of the film */
};

struct paint {
    struct parts thin;
    double film, density, solids, transfer;
    struct layer *layers;
    int layer_count;
};

enum topcoat_kind {
#define TOPCOAT_KIND(key, ...) TOPCOAT_##key,
#include "tables/finish.def"
};

struct recoat {
    double after;
    struct opt before; /* not given: any time later */
};

struct topcoat {
    enum topcoat_kind kind;
    struct str name;
    int coats;
    double film, density, solids, waste;
    struct parts mix; /* not given: it comes in one part */
    struct opt resin, hardener, pot_life;
    struct recoat *recoat;
    double turn, cure, fish, at;
    struct opt spread, weighed; /* of the film */
};

struct finish {
    struct seal *seal;
    struct paint *paint;
    struct topcoat *topcoat;
};

struct allowance {
    double length, height, width;
};

struct board {
    double length, width, thickness;
};

enum bore_time {
#define BORE_TIME(key, word) BORED_##key,
#include "choices.def"
};

enum paper {
#define PAPER(key, word) PAPER_##key,
#include "choices.def"
};

struct shop {
    double temperature;
    struct moment start;
    struct hours *open; /* of a week, in seconds; NULL: always open */
    int wheel;
    double kerf;
    struct allowance *allowance;
    struct board *board;
    enum bore_time bore;
    enum paper paper;
    enum unit_system units;
};

enum step_change { STEP_ADD, STEP_CHANGE, STEP_SKIP, STEP_ORDER };

/* One entry of `steps`.  Which of the texts were given depends on the change. */
struct step {
    enum step_change change;               /* which of the four keys it was written with */
    struct str id;                         /* of the operation that is added, changed or skipped */
    struct str add_id, change_id, skip_id; /* as written; `change` and `id` say it once */
    struct str title, after, before, say, needs, because;
    struct opt hands_on, wait;
    unsigned caution; /* bits: rows of the cautions */
    struct str *order;
    int order_count;
};

enum { MAX_READINGS = 2 };

/* Two readings in all. */
struct waterline {
    struct opt nose, tail; /* heights above the datum */
    double *back, *belly;  /* where the water crosses them, from the nose */
    int back_count, belly_count;
};

/* How deep it is to run. */
struct tow_aim {
    double depth, out, speed;
};

/* How it is towed: through the water at some speeds, on some lengths of line from the rod's tip. */
struct running {
    double diameter, density; /* of the line */
    double *speed, *out;      /* out: rising */
    int speed_count, out_count;
    double tip;          /* height of the rod's tip above the water */
    struct tow_aim *aim; /* optional: what the lip is solved for */
};

/* How deep it ran. */
struct sounding {
    double speed, out, depth;
};

/* What one operation took, of the whole run. */
struct timing {
    struct str step;
    double took;
};

struct measured {
    double *blank; /* shaped bodies, one a plug, in the order of the plugs */
    int blank_count;
    /* Likewise of the whole plug at later stages, in the order of the build. */
    double *hung, *sealed, *ballasted, *painted, *topcoated, *finished;
    int hung_count, sealed_count, ballasted_count, painted_count, topcoated_count, finished_count;
    struct waterline *waterline; /* key `float` */
    struct sounding *running;
    struct timing *minutes;
    int timing_count;
};

struct prices {
    struct opt wood, lip, wire, screw, hook, ring, eye, ballast, seal, paint, topcoat;
};

struct places; /* where each member was written; see below */
struct workshop;

struct recipe {
    int version;
    struct str name, note, currency, base, workshop_file;
    int make;
    struct moment due; /* a day, as the midnight that begins it */
    int rank;
    struct water *water;
    struct wood *wood;
    struct body *body;
    struct nose_face *face;
    struct lip *lip; /* optional: face, lip, ballast and its aim, eyes, the finishes, running and
                        its aim, measured, prices */
    struct hardware *hardware;
    struct joint_cut *joints;
    int joint_count;
    struct extra *extras; /* key `fittings` */
    int extra_count;
    struct ballast *ballast;
    struct chamber *chambers;
    int chamber_count;
    struct eyes *eyes;
    struct finish *finish;
    struct shop *shop;
    struct step *steps;
    int step_count;
    struct running *running;
    struct measured *measured;
    struct prices *prices;
    const struct workshop *workshop; /* what `workshop_file` holds, or NULL */
    const struct places *places;
};

/* Where the value of a member was written; of a part, its key.  A member that took its default
 * answers with the nearest part that was written.  `member` points into this recipe. */
struct span recipe_place(const struct recipe *recipe, const void *member);

/* Where a part's own mapping was written: of an item of a list where it begins, else its key.
 * Without a file where defaults made it. */
struct span recipe_part_place(const struct recipe *recipe, const void *part);

/* Whether a member was written in the recipe (and did not take its default). */
bool recipe_wrote(const struct recipe *recipe, const void *member);

/* The text of a member as it was written, less its quotes; empty where it took its default. */
struct str recipe_text(const struct recipe *recipe, const void *member);

/* The text of the default that a member took; empty where it was written, or has none. */
struct str recipe_default(const struct recipe *recipe, const void *member);

/* Mass of a screw eye's shank: a rod of steel as thick as its thread. */
double screw_shank_mass(const struct screw *screw);

/* A position in metres along `length`. */
double position_in(struct position position, double length);

#endif
