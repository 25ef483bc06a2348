/* Hands-on time of a load = fixed + plugs * each * (number of what the row is per) * effort, where
 * the effort goes by surface, wood and sheet as the row says (docs/physics.md, 11.2).
 *
 * Waits that are a cure hold at a temperature of their own and are scaled to the shop's by the
 * ten-degree rule (reference_cure_factor); drying is not.  Of sealers and topcoats the row of the
 * kind says which of the two it is.
 */
#include "compute/work/operation.h"

#include <string.h>

#include "compute/plug/plug.h"
#include "model/reference.h"

#define WARNS(caution) (1u << CAUTION_##caution)

static const double MINUTE = 60.0;

const struct operation_row operation_rows[OPERATION_KEYS + 1] = {
#define OPERATION(key, ...) [OPERATION_##key] = {__VA_ARGS__},
#include "route.def"
};

const struct place_row operation_places[AT_COUNT] = {
#define PLACE(key, word, title, laid) [AT_##key] = {word, title, laid},
#include "route.def"
};

static const char *const keys[OPERATION_KEYS] = {
#define OPERATION(key, ...) #key,
#include "route.def"
};

struct extra_row {
    enum operation_key key;
    uint64_t traits;
    double each; /* min */
    enum per per;
};

static const struct extra_row extras[] = {
#define EXTRA(key, traits, each, per) {OPERATION_##key, traits, each, per},
#include "route.def"
};

struct warn_row {
    enum operation_key key;
    uint64_t traits;
    unsigned cautions;
};

static const struct warn_row warns[] = {
#define WARN(key, traits, cautions) {OPERATION_##key, traits, cautions},
#include "route.def"
};

const struct operation_rule operation_rules[] = {
#define PRECEDE(weight, before, after, reason) \
    {weight, OPERATION_##before, OPERATION_##after, reason},
#include "route.def"
};

const struct operation_rule operation_chains[] = {
#define CHAIN(key, reason) {RULE, OPERATION_##key, OPERATION_##key, reason},
#include "route.def"
};

const char *const operation_ground_reason =
#define GROUND(reason) reason
#include "route.def"
    ;

#define COUNT(array) ((int)(sizeof(array) / sizeof(array)[0]))

const int operation_rule_count = COUNT(operation_rules);
const int operation_chain_count = COUNT(operation_chains);

static char hyphened(char c) {
    return c == '_' ? '-' : c;
}

const char *operation_id(struct arena *arena, enum operation_key key, int number) {
    char *id = arena_copy(arena, keys[key], strlen(keys[key]));
    for (char *c = id; *c; c++) *c = hyphened(*c);
    return number ? arena_printf(arena, "%s-%d", id, number) : id;
}

bool operation_called(enum operation_key key, struct str stem) {
    size_t size = strlen(keys[key]), same = 0;
    while (same < size && same < stem.size && hyphened(keys[key][same]) == stem.data[same]) same++;
    return same == size && same == stem.size;
}

static int extra_stage_of(enum times times) {
    return times == EACH_EARLY      ? EXTRA_HUNG
           : times == EACH_ON_PAINT ? EXTRA_PAINTED
           : times == EACH_LAST     ? EXTRA_RIGGED
                                    : -1;
}

const struct extra *operation_extra(const struct recipe *recipe, enum operation_key key,
                                    int number) {
    int stage = extra_stage_of(operation_rows[key].times);
    for (int i = 0; stage >= 0 && i < recipe->extra_count; i++)
        if ((int)recipe->extras[i].stage == stage && --number == 0) return &recipe->extras[i];
    return NULL;
}

static int extra_times(const struct recipe *recipe, enum operation_key key) {
    int count = 0;
    while (operation_extra(recipe, key, count + 1)) count++;
    return count;
}

int operation_times(const struct recipe *recipe, enum operation_key key) {
    const struct operation_row *row = &operation_rows[key];
    if ((trait_of_recipe(recipe) & row->needs) != row->needs) return 0;
    if (row->shaped && recipe->shop->bore == BORED_SQUARE) return 0;
    switch (row->times) {
    case EACH_SEAL_COAT:
        return recipe->finish->seal->coats;
    case EACH_LAYER:
        return recipe->finish->paint->layer_count;
    case EACH_TOPCOAT:
        return recipe->finish->topcoat->coats;
    case EACH_EARLY:
    case EACH_ON_PAINT:
    case EACH_LAST:
        return extra_times(recipe, key);
    case ON_DEMAND:
        return 0;
    default:
        return 1;
    }
}

/* A line tie on the lip is no work of the wires' steps. */
static bool screwed(const struct fitting *fitting, bool last) {
    return fitting->screw && fitting->screw->last == last;
}

static int screw_count(const struct hardware *hardware, bool last) {
    int count = screwed(hardware->line_tie, last);
    for (int i = 0; i < hardware->hanger_count; i++) count += screwed(&hardware->hangers[i], last);
    return count;
}

/* Those that a through wire makes have none. */
static bool has_pilot(const struct hardware *hardware, const struct fitting *fitting) {
    bool end = fitting->place == PLACE_NOSE || fitting->place == PLACE_TAIL;
    return fitting->place != PLACE_LIP && !(hardware->through && end);
}

static int pilot_count(const struct hardware *hardware) {
    int count = has_pilot(hardware, hardware->line_tie);
    for (int i = 0; i < hardware->hanger_count; i++)
        count += has_pilot(hardware, &hardware->hangers[i]);
    return count;
}

static int hook_count(const struct hardware *hardware) {
    int count = 0;
    for (int i = 0; i < hardware->hanger_count; i++)
        count += hardware->hangers[i].hook || hardware->hangers[i].ring;
    return count;
}

/* From any of these sides; of a pair both. */
static int bore_count(const struct ballast *ballast, unsigned sides) {
    int count = 0;
    for (int i = 0; i < ballast->bore_count; i++)
        if (sides & 1u << ballast->bores[i].from)
            count += side_is_pair(ballast->bores[i].from) ? 2 : 1;
    return count;
}

static int chamber_count(const struct recipe *recipe, unsigned sides) {
    int count = 0;
    for (int i = 0; i < recipe->chamber_count; i++)
        if (sides & 1u << recipe->chambers[i].from)
            count += side_is_pair(recipe->chambers[i].from) ? 2 : 1;
    return count;
}

static int how_many(const struct recipe *recipe, enum per per, int number) {
    const unsigned ends = 1u << SIDE_NOSE | 1u << SIDE_TAIL, inside = 1u << SIDE_INSIDE;
    switch (per) {
    case PER_BORE:
        return bore_count(recipe->ballast, ~0u);
    case PER_BELLY_BORE:
        return bore_count(recipe->ballast, 1u << SIDE_BELLY);
    case PER_SIDE_BORE:
        return bore_count(recipe->ballast, 1u << SIDE_BACK | 1u << SIDE_FLANK);
    case PER_END_BORE:
        return bore_count(recipe->ballast, ends);
    case PER_CHAMBER:
        return chamber_count(recipe, ~inside);
    case PER_BODY_CHAMBER:
        return chamber_count(recipe, ~(ends | inside));
    case PER_END_CHAMBER:
        return chamber_count(recipe, ends);
    case PER_INSIDE_CHAMBER:
        return chamber_count(recipe, inside);
    case PER_PILOT:
        return pilot_count(recipe->hardware);
    case PER_WIRE:
        return pilot_count(recipe->hardware) - screw_count(recipe->hardware, false) -
               screw_count(recipe->hardware, true);
    case PER_SCREW:
        return screw_count(recipe->hardware, false);
    case PER_LAST_SCREW:
        return screw_count(recipe->hardware, true);
    case PER_JOINT:
        return recipe->joint_count;
    case PER_HOOK:
        return hook_count(recipe->hardware);
    case PER_LAYER_COAT:
        return recipe->finish->paint->layers[number - 1].coats;
    default:
        return 1;
    }
}

static double factor(const struct recipe *recipe, bool hastened, double at) {
    return hastened ? reference_cure_factor(at, recipe->shop->temperature) : 1.0;
}

static double topcoat_factor(const struct recipe *recipe) {
    const struct topcoat *topcoat = recipe->finish->topcoat;
    return factor(recipe, reference_topcoat[topcoat->kind].hastened, topcoat->at);
}

double operation_cure(const struct recipe *recipe) {
    return recipe->finish->topcoat->cure * topcoat_factor(recipe);
}

double operation_window(const struct recipe *recipe) {
    const struct recoat *recoat = recipe->finish->topcoat->recoat;
    return recoat && recoat->before.given ? recoat->before.value * topcoat_factor(recipe) : 0.0;
}

double operation_pot_life(const struct recipe *recipe) {
    const struct opt *pot_life = &recipe->finish->topcoat->pot_life;
    return pot_life->given ? pot_life->value * topcoat_factor(recipe) : 0.0;
}

/* A coat that bears the next one does not sag any more. */
double operation_turn(const struct recipe *recipe) {
    const struct topcoat *topcoat = recipe->finish->topcoat;
    bool next = topcoat->coats > 1 && topcoat->recoat && topcoat->recoat->after < topcoat->turn;
    return (next ? topcoat->recoat->after : topcoat->turn) * topcoat_factor(recipe);
}

static double coat_wait(const struct recipe *recipe, int number) {
    const struct topcoat *topcoat = recipe->finish->topcoat;
    if (number == topcoat->coats || !topcoat->recoat) return operation_cure(recipe);
    return topcoat->recoat->after * topcoat_factor(recipe);
}

/* What is left from handling to fishing. */
static double hardening(const struct recipe *recipe) {
    const struct topcoat *topcoat = recipe->finish->topcoat;
    return (topcoat->fish - topcoat->cure) * topcoat_factor(recipe);
}

static double seal_wait(const struct recipe *recipe) {
    const struct seal *seal = recipe->finish->seal;
    double glue = reference_fact[FACT_GLUE_AT].value;
    return seal->dry * factor(recipe, reference_seal[seal->kind].hastened, glue);
}

static double wait_of(const struct recipe *recipe, const struct operation_row *row, int number) {
    double glue = reference_fact[FACT_GLUE_AT].value;
    switch (row->wait) {
    case DRYING:
        return row->minutes * MINUTE;
    case EPOXY_CURE:
        return row->minutes * MINUTE * factor(recipe, true, glue);
    case SEAL_DRYING:
        return seal_wait(recipe);
    case LAYER_DRYING:
        return recipe->finish->paint->layers[number - 1].dry * how_many(recipe, row->per, number);
    case COAT_CURE:
        return coat_wait(recipe, number);
    case HARDENING:
        return hardening(recipe);
    default:
        return 0.0;
    }
}

/* What the sealer or the topcoat that is laid brings with it. */
static unsigned cautions_of_kind(const struct recipe *recipe, enum wait wait) {
    if (wait == SEAL_DRYING) return reference_seal[recipe->finish->seal->kind].cautions;
    if (wait == COAT_CURE) return reference_topcoat[recipe->finish->topcoat->kind].cautions;
    return 0;
}

bool operation_cures_epoxy(const struct recipe *recipe, enum operation_key key) {
    enum wait wait = operation_rows[key].wait;
    return wait == EPOXY_CURE || cautions_of_kind(recipe, wait) & WARNS(EPOXY);
}

static double each_of(const struct recipe *recipe, enum operation_key key, uint64_t traits,
                      int number) {
    double each = operation_rows[key].each * how_many(recipe, operation_rows[key].per, number);
    for (int i = 0; i < COUNT(extras); i++)
        if (extras[i].key == key && (traits & extras[i].traits) == extras[i].traits)
            each += extras[i].each * how_many(recipe, extras[i].per, number);
    return each * MINUTE;
}

/* What a plug takes longer than the one that the times of the rows are for. */
static double effort_of(const struct recipe *recipe, const struct operation_row *row,
                        double surface) {
    double handling = reference_fact[FACT_WORK_HANDLING].value, effort = 1.0;
    if (row->by_surface)
        effort *= handling + (1.0 - handling) * surface / reference_fact[FACT_WORK_SURFACE].value;
    if (row->by_wood) effort *= reference_effort_of(plug_assumed_density(recipe));
    if (row->by_sheet) effort *= reference_sheet[recipe->lip->material].effort;
    return effort;
}

static unsigned cautions_of(const struct recipe *recipe, enum operation_key key, uint64_t traits) {
    unsigned cautions = operation_rows[key].cautions;
    for (int i = 0; i < COUNT(warns); i++)
        if (warns[i].key == key && (traits & warns[i].traits) == warns[i].traits)
            cautions |= warns[i].cautions;
    return cautions | cautions_of_kind(recipe, operation_rows[key].wait);
}

static uint64_t traits_of(const struct recipe *recipe, enum operation_key key, int number) {
    const struct operation_row *row = &operation_rows[key];
    uint64_t traits = trait_of_recipe(recipe);
    if (row->times == EACH_LAYER)
        traits |= trait_of_layer(&recipe->finish->paint->layers[number - 1]);
    const struct extra *extra = operation_extra(recipe, key, number);
    if (extra && extra->how.size) traits |= HAS(HOW_TOLD);
    if (number > 1) traits |= HAS(LATER_COAT);
    if (number == operation_times(recipe, key)) traits |= HAS(LAST_COAT);
    return traits;
}

/* A topcoat that the wheel does not turn is laid where its kind says. */
static enum station_used place_of(const struct recipe *recipe, const struct operation_row *row) {
    if (row->place != AT_WHEEL || recipe->finish->topcoat->turn > 0) return row->place;
    return reference_topcoat[recipe->finish->topcoat->kind].sprayed ? AT_SPRAY : AT_BENCH;
}

/* Of a repeated operation the last one is weighed. */
struct operation operation_of(struct arena *arena, const struct recipe *recipe, double surface,
                              enum operation_key key, int number) {
    const struct operation_row *row = &operation_rows[key];
    uint64_t traits = traits_of(recipe, key, number);
    enum station_used place = place_of(recipe, row);
    bool last = row->times == ONCE || traits & HAS(LAST_COAT);
    return (struct operation){
        .key = key,
        .number = number,
        .id = operation_id(arena, key, number),
        .traits = traits,
        .cautions = cautions_of(recipe, key, traits),
        .fixed = row->fixed * MINUTE,
        .each = each_of(recipe, key, traits, number) * effort_of(recipe, row, surface),
        .wait = wait_of(recipe, row, number),
        .held = place == AT_WHEEL ? operation_turn(recipe) : 0.0,
        .weighed = last ? row->weighed : WEIGHED_NOT,
        .station = place,
        .coat = row->laid,
        .by_wheel = row->by_wheel && recipe->finish->topcoat->turn > 0,
    };
}

enum station_used operation_place(struct str needs) {
    for (int place = AT_NONE + 1; place < AT_COUNT; place++)
        if (str_is(needs, operation_places[place].word)) return (enum station_used)place;
    return AT_NONE;
}
