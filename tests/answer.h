/* A recipe's ballast, worked out for a test. */
#ifndef PLUGWRIGHT_ANSWER_H
#define PLUGWRIGHT_ANSWER_H

#include "recipe_text.h"

#include "compute/ballast/ballast.h"
#include "compute/ballast/solve.h"

struct answer {
    const struct recipe *recipe;
    struct plug plug;
    struct ballast_result result;
};

static inline struct answer answer_to(struct bench *b, struct recipe_parts parts) {
    struct answer a = {.recipe = bench_good(b, parts)};
    a.plug = plug_of(&b->arena, a.recipe);
    a.result = ballast_of(&b->arena, &a.plug);
    return a;
}

/* A swimmer with this ballast. */
static inline struct answer swimmer(struct bench *b, const char *ballast) {
    return answer_to(b, PARTS(SWIMMER, .ballast = ballast));
}

static inline struct outcome outcome_of(struct bench *b, struct recipe_parts parts,
                                        enum condition_kind kind) {
    struct plug plug = plug_of(&b->arena, bench_good(b, parts));
    struct bore_fill fills[MAX_BORES];
    long count = 0;
    struct weighing w = weighing_of(&b->arena, &plug, &count);
    for (int i = 0; plug.recipe->ballast && i < plug.recipe->ballast->bore_count; i++)
        fills[i] = bore_as_written(&plug, i);
    return weighing_outcome(&w, fills, kind);
}

static const double mg = 1e-6; /* kg */

#define TWO_BORES "{at: 45 mm, drill: 10 mm, load: solve}, {at: 85 mm, drill: 8 mm, load: solve}"

#endif
