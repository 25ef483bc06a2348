/* What is asked of a plug while it is still being put together: plug.c needs its fittings, and they
 * need this. */
#include "compute/plug/plug.h"

#include <math.h>

double plug_top(const struct plug *plug, double x) {
    return curve_at(&plug->outline.back, x);
}

double plug_bottom(const struct plug *plug, double x) {
    return -curve_at(&plug->outline.belly, x);
}

double plug_nose(const struct plug *plug) {
    const struct notch *cup = &plug->cup;
    if (cup->volume <= 0 || fabs(cup->z) >= cup->radius) return 0;
    return fmax(cup->x + sqrt(cup->radius * cup->radius - cup->z * cup->z), 0);
}

double plug_joint_reach(const struct plug *plug, int joint) {
    const struct joint_cut *cut = &plug->recipe->joints[joint];
    return cut->gap / 2 + tan(cut->angle) * plug->joints[joint].section.half_width;
}

struct name fitting_name(int fitting, enum name_key tie, enum name_key hanger) {
    return (struct name){fitting == FITTING_TIE ? tie : hanger, fitting, {0}};
}

double pilot_volume(const struct pilot *pilot) {
    const double pi = 3.14159265358979323846;
    return pi / 4 * pilot->diameter * pilot->diameter * pilot->depth;
}

bool side_is_end(enum bore_side side) {
    return side == SIDE_NOSE || side == SIDE_TAIL;
}

bool side_in_block(const struct recipe *recipe, enum bore_side side) {
    return side_is_end(side) || (recipe->shop->bore == BORED_SQUARE && side != SIDE_INSIDE);
}

bool side_is_pair(enum bore_side side) {
    return side == SIDE_FLANK || side == SIDE_INSIDE;
}

struct name plug_shaped_name(const struct recipe *recipe) {
    const struct ballast *ballast = recipe->ballast;
    bool ends = false;
    if (recipe->shop->bore == BORED_SQUARE) return (struct name){.key = NAME_SHAPED_BORED};
    for (int i = 0; ballast && i < ballast->bore_count; i++)
        ends |= side_is_end(ballast->bores[i].from);
    for (int i = 0; i < recipe->chamber_count; i++) ends |= side_is_end(recipe->chambers[i].from);
    if (recipe->hardware->through && recipe->body->halves)
        return (struct name){.key =
                                 ends ? NAME_SHAPED_WITH_GROOVE_AND_ENDS : NAME_SHAPED_WITH_GROOVE};
    if (recipe->hardware->through)
        return (struct name){.key = ends ? NAME_SHAPED_WITH_BOTH : NAME_SHAPED_WITH_KERF};
    return (struct name){.key = ends ? NAME_SHAPED_WITH_ENDS : NAME_SHAPED};
}
