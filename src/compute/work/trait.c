#include "compute/work/trait.h"

#include "model/reference.h"

_Static_assert(TRAIT_COUNT <= 64, "traits are bits of a uint64_t");

static uint64_t eye_traits(const struct fitting *fitting, const struct through *through) {
    bool end = fitting->place == PLACE_NOSE || fitting->place == PLACE_TAIL;
    if (fitting->place == PLACE_LIP || (through && end)) return 0;
    if (through && !fitting->screw) return HAS(WIRES);
    if (!fitting->screw) return HAS(WIRES) | HAS(TWISTED);
    return HAS(WIRES) | (fitting->screw->last ? HAS(LAST_SCREWS) : HAS(SCREWS));
}

static uint64_t hardware_traits(const struct hardware *hardware, bool halves) {
    const struct through *through = hardware->through;
    uint64_t traits = eye_traits(hardware->line_tie, through);
    for (int i = 0; i < hardware->hanger_count; i++)
        traits |= eye_traits(&hardware->hangers[i], through);
    if (!through) return traits;
    if (halves) return traits | HAS(GROOVE);
    if (through->close == CLOSED_BY_STRIP) traits |= HAS(STRIP);
    if (through->from == KERF_BACK) traits |= HAS(FROM_BACK);
    return traits | HAS(THROUGH);
}

static uint64_t extra_traits(const struct recipe *recipe) {
    static const uint64_t stages[] = {[EXTRA_HUNG] = HAS(FITTED_EARLY),
                                      [EXTRA_PAINTED] = HAS(FITTED_ON_PAINT),
                                      [EXTRA_RIGGED] = HAS(FITTED_LAST)};
    uint64_t traits = 0;
    for (int i = 0; i < recipe->extra_count; i++) traits |= stages[recipe->extras[i].stage];
    return traits;
}

static bool has_rigging(const struct hardware *hardware) {
    for (int i = 0; i < hardware->hanger_count; i++)
        if (hardware->hangers[i].hook || hardware->hangers[i].ring) return true;
    return false;
}

static uint64_t bore_traits(const struct bore *bore) {
    static const uint64_t sides[] = {
        [SIDE_BELLY] = HAS(BELLY_BORES),
        [SIDE_BACK] = HAS(BACK_BORES) | HAS(SIDE_BORES),
        [SIDE_NOSE] = HAS(NOSE_BORES) | HAS(END_BORES),
        [SIDE_TAIL] = HAS(TAIL_BORES) | HAS(END_BORES),
        [SIDE_FLANK] = HAS(FLANK_BORES) | HAS(SIDE_BORES),
    };
    return sides[bore->from] | (bore->solve ? HAS(SOLVED) : 0);
}

static uint64_t ballast_traits(const struct ballast *ballast) {
    if (!ballast || ballast->bore_count == 0) return 0;
    const struct metal_row *metal = &reference_metal[ballast->material];
    uint64_t traits = HAS(BORES);
    for (int i = 0; i < ballast->bore_count; i++) traits |= bore_traits(&ballast->bores[i]);
    if (metal->soft) traits |= HAS(SOFT_METAL);
    if (reference_filler[ballast->closing].dusty) traits |= HAS(DUSTY_FILLER);
    if (metal->cautions & 1u << CAUTION_LEAD) traits |= HAS(LEAD);
    return traits;
}

static uint64_t chamber_traits(const struct chamber *chamber) {
    if (chamber->from == SIDE_INSIDE) return HAS(INSIDE_CHAMBERS);
    bool end = chamber->from == SIDE_NOSE || chamber->from == SIDE_TAIL;
    return HAS(CHAMBERS) | (end ? HAS(END_CHAMBERS) : HAS(BODY_CHAMBERS)) |
           (chamber->from == SIDE_FLANK ? HAS(FLANK_CHAMBERS) : 0) |
           (chamber->closing == STOPPER_WOOD ? HAS(WOOD_STOPPERS) : HAS(FILLER_STOPPERS));
}

static uint64_t section_traits(const struct section_choice *section) {
    switch (section->shape) {
    case SECTION_OVAL:
        return HAS(CURVED) | HAS(OVAL);
    case SECTION_ROUNDED:
        return HAS(CURVED) | HAS(ROUNDED);
    default:
        return 0;
    }
}

static uint64_t sheet_traits(const struct lip *lip) {
    switch (reference_sheet[lip->material].kind) {
    case SHEET_PLASTIC:
        return HAS(PLASTIC_SHEET);
    case SHEET_METAL:
        return HAS(METAL_SHEET);
    default:
        return 0;
    }
}

static uint64_t topcoat_traits(const struct topcoat *topcoat) {
    if (!topcoat || topcoat->coats == 0) return 0;
    uint64_t traits = HAS(TOPCOAT) | HAS(COATED);
    if (topcoat->turn > 0) traits |= HAS(WHEEL);
    if (topcoat->recoat && topcoat->recoat->before.given) traits |= HAS(WINDOW);
    if (topcoat->fish > topcoat->cure) traits |= HAS(HARDENING);
    return traits;
}

static uint64_t finish_traits(const struct finish *finish) {
    if (!finish) return 0;
    uint64_t traits = topcoat_traits(finish->topcoat);
    if (finish->seal) traits |= HAS(SEAL) | HAS(COATED);
    if (finish->seal && finish->seal->sand) traits |= HAS(SANDED_SEAL);
    if (finish->paint && finish->paint->layer_count > 0) traits |= HAS(COLOUR) | HAS(COATED);
    return traits;
}

uint64_t trait_of_recipe(const struct recipe *recipe) {
    uint64_t traits = ballast_traits(recipe->ballast) | section_traits(recipe->body->section) |
                      finish_traits(recipe->finish);
    if (recipe->lip) traits |= HAS(LIP) | sheet_traits(recipe->lip);
    if (recipe->lip && recipe->running) traits |= HAS(TOWED);
    for (int i = 0; i < recipe->chamber_count; i++) traits |= chamber_traits(&recipe->chambers[i]);
    if (recipe->body->halves) traits |= HAS(HALVES);
    if (recipe->joint_count) traits |= HAS(JOINTS);
    if (recipe->face) traits |= HAS(CUP);
    if (recipe->eyes) traits |= HAS(EYES);
    if (recipe->hardware->line_tie->place == PLACE_LIP) traits |= HAS(TIE_ON_LIP);
    traits |= hardware_traits(recipe->hardware, recipe->body->halves) | extra_traits(recipe);
    bool early =
        traits & (HAS(TWISTED) | HAS(SCREWS) | HAS(TIE_ON_LIP) | HAS(THROUGH) | HAS(GROOVE));
    if (traits & HAS(COATED) && early) traits |= HAS(CLOGGED);
    if (has_rigging(recipe->hardware)) traits |= HAS(RIGGING);
    uint64_t entered = HAS(BELLY_BORES) | HAS(SIDE_BORES) | HAS(BODY_CHAMBERS) | HAS(EYES);
    if (recipe->shop->bore == BORED_SQUARE && traits & entered) traits |= HAS(SQUARE_BORES);
    if (recipe->shop->units == UNITS_INCH) traits |= HAS(INCH);
    return traits;
}

uint64_t trait_of_layer(const struct layer *layer) {
    static const uint64_t kinds[] = {
#define LAYER_KIND(key, ...) [LAYER_##key] = HAS(key),
#include "tables/finish.def"
    };
    return kinds[layer->kind] | (layer->mask.size ? HAS(MASKED) : 0);
}
