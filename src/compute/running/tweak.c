#include "compute/running/tweak.h"

#include <string.h>

static bool change_lip(struct lip *lip, enum tweak tweak) {
    const double upright = 1.57079632679489662;
    double amount = reference_tweak[tweak].amount;
    switch (tweak) {
    case TWEAK_LIP_STEEPER:
        lip->angle += amount;
        return lip->angle <= upright;
    case TWEAK_LIP_LONGER:
        lip->length *= 1 + amount;
        return true;
    default:
        lip->width *= 1 + amount;
        lip->tip.value *= 1 + amount;
        return lip->shape != LIP_ROUND || lip->length - lip->slot >= lip->width / 2;
    }
}

static int deepest_bore(const struct ballast_result *ballast) {
    int deepest = 0;
    for (int i = 1; i < ballast->bore_count; i++)
        if (ballast->fills[i].depth > ballast->fills[deepest].depth) deepest = i;
    return deepest;
}

static struct rig rig_anew(struct arena *arena, const struct plug *plug,
                           const struct bore_fill *fills) {
    struct mass_list masses = mass_rows(arena, plug, fills);
    struct burden burden = mass_burden(&masses, CONDITION_FINISHED);
    struct rest rest = hydro_rest(&plug->finished_hull, &burden, plug->water);
    return rig_of(plug, &masses, &rest);
}

static bool lip_rig(struct arena *arena, const struct plug *plug,
                    const struct ballast_result *ballast, enum tweak tweak, struct rig *rig) {
    struct recipe recipe = *plug->recipe;
    if (!recipe.lip) return false;
    struct lip lip = *recipe.lip;
    if (!change_lip(&lip, tweak)) return false;
    recipe.lip = &lip;
    struct plug changed = plug_with_lip(plug, &recipe);
    *rig = rig_anew(arena, &changed, ballast->fills);
    return true;
}

static bool ballast_rig(struct arena *arena, const struct plug *plug,
                        const struct ballast_result *ballast, struct rig *rig) {
    struct bore_fill fills[MAX_BORES];
    if (!ballast->bore_count) return false;
    memcpy(fills, ballast->fills, sizeof fills);
    int bore = deepest_bore(ballast);
    double each = reference_tweak[TWEAK_MORE_BALLAST].amount / axis_count(&fills[bore].axis);
    double load = fills[bore].load + each;
    fills[bore] = bore_filled(plug, bore, load, bore_slug(plug, bore, load));
    *rig = rig_anew(arena, plug, fills);
    return fills[bore].fits;
}

bool tweak_rig(struct arena *arena, const struct plug *plug, const struct ballast_result *ballast,
               const struct rig *unchanged, enum tweak tweak, struct rig *rig) {
    *rig = *unchanged;
    switch (tweak) {
    case TWEAK_TIE_UP:
        rig->tow.tie_raised = reference_tweak[tweak].amount;
        return true;
    case TWEAK_LINE_THINNER:
        rig->diameter *= 1 - reference_tweak[tweak].amount;
        return true;
    case TWEAK_MORE_BALLAST:
        return ballast_rig(arena, plug, ballast, rig);
    default:
        return lip_rig(arena, plug, ballast, tweak, rig);
    }
}
