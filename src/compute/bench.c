/* The waterplane seen from the side is a straight line through its heights at nose and tail: its
 * height amidships is their mean, and tan(attitude) = (nose - tail) / length.
 */
#include "compute/bench.h"

#include <math.h>

double bench_mass(const struct results *results, enum weighed weighed) {
    switch (weighed) {
    case WEIGHED_SHAPED:
        return plug_body_mass(&results->plug);
    case WEIGHED_SEALED:
        return mass_tally(&results->masses, SEALED_STAGES).mass;
    case WEIGHED_IN_TEST:
        return results->test.burden.mass;
    case WEIGHED_FINISHED:
        return results->finished.burden.mass;
    case WEIGHED_NOT:
        break;
    }
    return 0;
}

double bench_amidships(const struct condition *condition) {
    return (condition->waterline_nose + condition->waterline_tail) / 2;
}

/* tan(lean) is proportional to the offset: docs/physics.md, 5.9. */
double bench_tolerance(const struct condition *condition, double lean) {
    const double trial = 1e-3;
    return trial * tan(lean) / tan(condition_lean(condition, condition->ballast_mass, trial));
}

static struct bench_reading mass_reading(const struct opt *read, double predicted) {
    return (struct bench_reading){read->given, predicted, read->value};
}

struct bench_comparison bench_compare(const struct recipe *recipe, const struct results *results) {
    struct bench_comparison c = {0};
    const struct measured *measured = recipe->measured;
    const struct condition *test = &results->test, *finished = &results->finished;
    if (!measured) return c;
    c.body = (struct bench_reading){measured->blank_count > 0,
                                    plug_assumed_density(recipe) * results->plug.shaped,
                                    bench_mass(results, WEIGHED_SHAPED)};
    c.sealed = mass_reading(&measured->sealed, bench_mass(results, WEIGHED_SEALED));
    c.finished = mass_reading(&measured->finished, bench_mass(results, WEIGHED_FINISHED));
    if (c.finished.given) c.reserve = 1 - c.finished.read / finished->rest.capacity;
    if (measured->waterline && test->waterline_given) {
        struct water_level read = waterline_read(&results->plug, measured->waterline);
        double length = results->plug.outline.length;
        c.nose = (struct bench_reading){true, test->waterline_nose, read.nose};
        c.tail = (struct bench_reading){true, test->waterline_tail, read.tail};
        c.attitude = (struct bench_reading){true, test->rest.attitude,
                                            atan((read.nose - read.tail) / length)};
    }
    return c;
}
