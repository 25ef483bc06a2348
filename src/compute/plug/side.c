/* What is asked of a plug while it is still being put together: plug.c needs its fittings, and they
 * need this. */
#include "compute/plug/plug.h"

double plug_top(const struct plug *plug, double x) {
    return curve_at(&plug->outline.back, x);
}

double plug_bottom(const struct plug *plug, double x) {
    return -curve_at(&plug->outline.belly, x);
}

struct name fitting_name(int fitting, enum name_key tie, enum name_key hanger) {
    return (struct name){fitting == FITTING_TIE ? tie : hanger, fitting, {0}};
}

double pilot_volume(const struct pilot *pilot) {
    const double pi = 3.14159265358979323846;
    return pi / 4 * pilot->diameter * pilot->diameter * pilot->depth;
}

bool bore_from_end(const struct bore *bore) {
    return bore->from == SIDE_NOSE || bore->from == SIDE_TAIL;
}

struct name plug_shaped_name(const struct recipe *recipe) {
    const struct ballast *ballast = recipe->ballast;
    for (int i = 0; ballast && i < ballast->bore_count; i++)
        if (bore_from_end(&ballast->bores[i])) return (struct name){.key = NAME_SHAPED_WITH_ENDS};
    return (struct name){.key = NAME_SHAPED};
}
