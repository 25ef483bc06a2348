/* The waterplane seen from the side is a straight line through its heights at nose and tail: its
 * height amidships is their mean, and tan(attitude) = (nose - tail) / length.
 */
#include "compute/bench.h"

#include <math.h>

#include "model/reference.h"

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

static struct bench_reading reading(double predicted, double read, double doubt) {
    return (struct bench_reading){true, predicted, read, doubt, fabs(read - predicted) > doubt};
}

static void weighed(struct bench_reading *to, bool given, double predicted, double read) {
    if (given) *to = reading(predicted, read, reference_fact[FACT_BALANCE_DOUBT].value);
}

struct bench_comparison bench_compare(const struct recipe *recipe, const struct results *results) {
    struct bench_comparison c = {0};
    const struct measured *measured = recipe->measured;
    const struct condition *test = &results->test, *finished = &results->finished;
    if (!measured) return c;
    weighed(&c.body, measured->blank_count > 0, plug_assumed_density(recipe) * results->plug.shaped,
            bench_mass(results, WEIGHED_SHAPED));
    weighed(&c.sealed, measured->sealed_count > 0, bench_mass(results, WEIGHED_SEALED),
            plug_mean(measured->sealed, measured->sealed_count));
    weighed(&c.finished, measured->finished_count > 0, bench_mass(results, WEIGHED_FINISHED),
            plug_mean(measured->finished, measured->finished_count));
    if (c.finished.given) c.reserve = 1 - c.finished.read / finished->rest.capacity;
    if (measured->waterline && test->waterline_given) {
        const struct plug *plug = &results->plug;
        struct water_level read = waterline_read(plug, measured->waterline);
        const double rule = reference_fact[FACT_RULE_DOUBT].value;
        c.nose = reading(test->waterline_nose, read.nose, rule);
        c.tail = reading(test->waterline_tail, read.tail, rule);
        c.attitude =
            reading(test->rest.attitude, atan((read.nose - read.tail) / plug->outline.length),
                    waterline_doubt(plug));
    }
    return c;
}
