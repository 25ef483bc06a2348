#include "model/name.h"

#include <string.h>

#include "base/buf.h"

static const char *const texts[] = {
#define NAME(key, text) text,
#include "names.def"
};

const char *name_text(struct arena *arena, struct name name) {
    static const char number[] = "{number}", own[] = "{name}";
    struct buf out = {.arena = arena};
    for (const char *text = texts[name.key]; *text;) {
        if (strncmp(text, number, strlen(number)) == 0) {
            buf_printf(&out, "%d", name.number);
            text += strlen(number);
        } else if (strncmp(text, own, strlen(own)) == 0) {
            buf_str(&out, name.own);
            text += strlen(own);
        } else {
            buf_char(&out, *text++);
        }
    }
    return out.data ? out.data : "";
}

bool name_equal(struct name a, struct name b) {
    return a.key == b.key && a.number == b.number && str_equal(a.own, b.own);
}

const struct stage_row name_stages[STAGE_COUNT] = {
#define STAGE(key, text, in_test) {text, in_test},
#include "names.def"
};

const char *const name_float_states[STATE_COUNT] = {
#define FLOAT_STATE(key, text) text,
#include "names.def"
};

const char *const name_tow_forces[FORCES] = {
#define TOW_FORCE(key, text) text,
#include "names.def"
};

const char *const name_runs[VERDICT_COUNT] = {
#define VERDICT(key, runs, holds) runs,
#include "names.def"
};

const char *const name_holds[VERDICT_COUNT] = {
#define VERDICT(key, runs, holds) holds,
#include "names.def"
};

const char *const name_wood_sources[WOOD_SOURCE_COUNT] = {
#define WOOD_SOURCE(key, text) text,
#include "names.def"
};

const char *const name_marks[MARK_COUNT] = {
#define WATER_MARK(key, text) text,
#include "names.def"
};

const char *const name_places[] = {
#define FITTING_PLACE(key, word, tie, hanger) word,
#include "choices.def"
};

const char *const name_sides[] = {
#define BORE_SIDE(key, word, from) from,
#include "choices.def"
};

const char *const name_papers[] = {
#define PAPER(key, word) word,
#include "choices.def"
};
