/* What hints tell the author to write is written into the text of the recipe, by a way of its own,
 * and the text is compiled: the mistake is gone and no other came. */
#include "recipe_text.h"

#include <dirent.h>

#include "hint.h"

/* --- writing into a text --------------------------------------------------------------------- */

static size_t indent_of(const char *line) {
    return strspn(line, " -");
}

/* Past the value that begins here: at the comma or bracket that ends it. */
static const char *value_end(const char *at) {
    int depth = 0;
    char quote = 0;
    for (; *at && *at != '\n'; at++) {
        if (quote)
            quote = *at == quote ? 0 : quote;
        else if (*at == '"' || *at == '\'')
            quote = *at;
        else if (*at == '{' || *at == '[')
            depth++;
        else if ((*at == '}' || *at == ']') && depth-- == 0)
            break;
        else if (*at == ',' && depth == 0)
            break;
    }
    return at;
}

static bool is_key(const char *at, const char *key) {
    return strncmp(at, key, strlen(key)) == 0 && at[strlen(key)] == ':';
}

static char *replaced(struct arena *arena, const char *text, const char *from, const char *to,
                      const char *with) {
    return arena_printf(arena, "%.*s%s%s", (int)(from - text), text, with, to);
}

/* {a: 1, b: 2} from its bracket on. */
static char *put_flow(struct arena *arena, const char *text, const char *open, const char *key,
                      const char *pair) {
    const char *at = open + 1;
    while (*at && *at != '}') {
        while (*at == ' ') at++;
        const char *end = value_end(at);
        if (is_key(at, key)) return replaced(arena, text, at, end, pair);
        at = *end == ',' ? end + 1 : end;
    }
    return replaced(arena, text, open + 1, open + 1,
                    *at == '}' && at > open + 1 ? arena_printf(arena, "%s, ", pair) : pair);
}

/* The lines of a block, which are indented like its first. */
static char *put_block(struct arena *arena, const char *text, const char *first, const char *key,
                       const char *pair) {
    size_t indent = indent_of(first);
    for (const char *line = first; *line && (line == first || indent_of(line) >= indent);) {
        const char *end = strchr(line, '\n');
        if (!end) break;
        if (indent_of(line) == indent && is_key(line + indent, key))
            return replaced(arena, text, line + indent, end, pair);
        line = end + 1;
    }
    return replaced(arena, text, first + indent, first + indent,
                    arena_printf(arena, "%s\n%*s", pair, (int)indent, ""));
}

static const char *place_in(const char *text, int line, int column) {
    while (--line) text = strchr(text, '\n') + 1;
    return text + column - 1; /* these recipes hold no wide characters before it */
}

/* One pair of an edit into the mapping that begins at, or whose key stands at, a place. */
static char *put(struct arena *arena, const char *text, struct span part, const char *pair) {
    const char *at = place_in(text, part.line, part.column);
    char *key = arena_copy(arena, pair, strcspn(pair, ":"));
    if (*at != '{') {
        const char *colon = strchr(at, ':'), *value = colon + 1 + strspn(colon + 1, " ");
        if (*value == '\n') return put_block(arena, text, value + 1, key, pair);
        if (*value != '{') return put_block(arena, text, place_in(text, part.line, 1), key, pair);
        at = value;
    }
    return put_flow(arena, text, at, key, pair);
}

/* An edit is pairs in a line, in brackets if there are several. */
static char *edited(struct arena *arena, const char *text, const struct diag_edit *edit) {
    char *result = arena_copy(arena, text, strlen(text));
    const char *at = edit->text + (*edit->text == '{');
    while (*at) {
        const char *end = value_end(at);
        result = put(arena, result, edit->part, arena_copy(arena, at, (size_t)(end - at)));
        at = *end == ',' ? end + 1 + strspn(end + 1, " ") : "";
    }
    return result;
}

/* --- what a change brings -------------------------------------------------------------------- */

/* Texts may be longer or shorter behind an edit: a mistake is known by its rule and line. */
static int count_in(const struct diags *diags, const struct diag *like, enum severity severity) {
    int count = 0;
    for (int i = 0; i < diags->count; i++)
        count += diags->items[i].severity == severity && diags->items[i].at.line == like->at.line &&
                 strcmp(diags->items[i].rule, like->rule) == 0;
    return count;
}

/* How many offers of a recipe were printed; each holds. */
static int expect_hold(const char *name, const char *text, const struct diags *before) {
    int printed = 0;
    for (int i = 0; i < before->count; i++) {
        const struct diag *blamed = &before->items[i];
        for (int k = 0; k < blamed->offer_count; k++) {
            const struct diag_offer *offer = &blamed->offers[k];
            if (!offer->holds) continue;
            assert_non_null(strstr(blamed->hint, offer->words));
            const char *changed = text;
            struct arena own = {0};
            for (int e = offer->edit_count - 1; e >= 0;
                 e--) /* what stands before keeps its place */
                changed = edited(&own, changed, &offer->edits[e]);
            struct compilation after = compile_text(&own, name, str_of(changed));
            int was = count_in(before, blamed, blamed->severity);
            bool gone = count_in(&after.diags, blamed, blamed->severity) < was, more = false;
            for (int d = 0; d < after.diags.count; d++)
                more |= count_in(&after.diags, &after.diags.items[d], SEVERITY_ERROR) >
                        count_in(before, &after.diags.items[d], SEVERITY_ERROR);
            if (!gone || more) {
                diags_print(&after.diags, stderr, false);
                print_error("%s: %s: %s\n%s", name, blamed->message, offer->words, changed);
            }
            assert_true(gone && !more);
            printed++;
            arena_free(&own);
        }
    }
    return printed;
}

static void what_goldens_are_told_to_write_holds(void **state) {
    struct bench *b = *state;
    DIR *folder = opendir("tests/golden");
    struct dirent *entry;
    int printed = 0;
    assert_non_null(folder);
    while ((entry = readdir(folder))) {
        const char *failure = NULL, *end = strrchr(entry->d_name, '.');
        if (!end || strcmp(end, ".yaml") != 0) continue;
        const char *path = arena_printf(&b->arena, "tests/golden/%s", entry->d_name);
        struct diags ignored = {.arena = &b->arena};
        const struct source *source = source_read(&b->arena, path, &ignored, &failure);
        assert_non_null(source);
        if (!source->readable) continue;
        const char *text = source->file.text.data;
        struct compilation c = compile_text(&b->arena, path, str_of(text));
        printed += expect_hold(path, text, &c.diags);
    }
    closedir(folder);
    print_message("goldens: %d hints hold\n", printed);
    assert_true(printed >= 60);
}

/* --- bad recipes by the hundred -------------------------------------------------------------- */

struct dice {
    unsigned state;
};

/* A whole number of tenths in a range; xorshift, so that every run throws the same. */
static double throw(struct dice * dice, double least, double most) {
    dice->state ^= dice->state << 13;
    dice->state ^= dice->state >> 17;
    dice->state ^= dice->state << 5;
    return least + (most - least) * (dice->state % 1000) / 1000;
}

enum mistake {
    MISTAKE_LOAD,
    MISTAKE_WALL,
    MISTAKE_SOLVED,
    MISTAKE_DRILL,
    MISTAKE_MEETING,
    MISTAKE_WIRE,
    MISTAKE_SLOT,
    MISTAKE_EYES,
    MISTAKE_OUTLINE,
    MISTAKE_AIM,
    MISTAKES,
};

static const char *const blamed_rule[MISTAKES] = {
    "load", "wall", "wall", "drill", "collision", "pilot", "wall", "eyes", "outline", "aim",
};

static const char *bores_of(struct arena *arena, struct dice *dice, enum mistake mistake) {
    switch (mistake) {
    case MISTAKE_LOAD:
        return arena_printf(arena,
                            "bores: [{at: %.1f mm, drill: %.1f mm, depth: %.1f mm, "
                            "load: [{mass: %.1f g}]}]",
                            throw(dice, 30, 110), throw(dice, 5, 9), throw(dice, 4, 12),
                            throw(dice, 2, 9));
    case MISTAKE_WALL:
        return arena_printf(
            arena, "bores: [{at: %.1f mm, drill: %.1f mm, depth: %.1f mm, load: [{mass: 1 g}]}]",
            throw(dice, 20, 125), throw(dice, 5, 9), throw(dice, 14, 26));
    case MISTAKE_SOLVED:
        return arena_printf(
            arena, "aim: {reserve: %.1f %%}, bores: [{at: %.1f mm, drill: %.1f mm, load: solve}]",
            throw(dice, 2, 20), throw(dice, 30, 90), throw(dice, 4, 8));
    case MISTAKE_DRILL:
        return arena_printf(arena, "bores: [{at: %.1f mm, drill: %.1f mm, load: [{mass: %.1f g}]}]",
                            throw(dice, 10, 130), throw(dice, 20, 40), throw(dice, 2, 9));
    case MISTAKE_MEETING:
        return arena_printf(arena,
                            "bores: [{at: %.1f mm, drill: 8 mm, load: [{mass: 3 g}]}, {at: %.1f "
                            "mm, drill: 8 mm, load: [{mass: 3 g}]}]",
                            throw(dice, 60, 70), throw(dice, 66, 78));
    case MISTAKE_AIM:
        return arena_printf(arena,
                            "aim: {reserve: %.1f %%, attitude: %.1f deg}, bores: [{at: %.1f mm, "
                            "drill: 9 mm, load: solve}, {at: %.1f mm, drill: 9 mm, load: solve}]",
                            throw(dice, 2, 40), throw(dice, -12, 14), throw(dice, 30, 50),
                            throw(dice, 70, 110));
    default:
        return "bores: []";
    }
}

/* Both fall and rise steeply between stations whose sums are all above zero. */
static const char *crossing_body(struct arena *arena, struct dice *dice) {
    double step = throw(dice, 0, 3), deep = throw(dice, 16, 22);
    return arena_printf(arena,
                        "body:\n  length: 100 mm\n  section: {shape: oval}\n  stations:\n"
                        "    - {at: 0 mm, back: 10 mm, belly: -9 mm, width: 10 mm}\n"
                        "    - {at: %.1f mm, back: 10 mm, belly: -9 mm, width: 10 mm}\n"
                        "    - {at: 50 mm, back: -%.1f mm, belly: %.1f mm, width: 10 mm}\n"
                        "    - {at: 60 mm, back: -%.1f mm, belly: 40 mm, width: 10 mm}\n"
                        "    - {at: 100 mm, back: 5 mm, belly: 5 mm, width: 10 mm}\n",
                        38 + step, deep, deep + 1, deep + 1);
}

static const char whole_body[] = "body:\n  length: 140 mm\n  section: {shape: oval}\n  stations:\n"
                                 "    - {at: 0 %, back: 5 mm, belly: 5 mm, width: 9 mm}\n"
                                 "    - {at: 12 %, back: 10 mm, belly: 11 mm, width: 17 mm}\n"
                                 "    - {at: 35 %, back: 14 mm, belly: 16 mm, width: 24 mm}\n"
                                 "    - {at: 70 %, back: 10 mm, belly: 11 mm, width: 18 mm}\n"
                                 "    - {at: 100 %, back: 4 mm, belly: 4 mm, width: 8 mm}\n";

static const char *bad_recipe(struct arena *arena, struct dice *dice, enum mistake mistake,
                              const char *units) {
    double depth = mistake == MISTAKE_WIRE ? throw(dice, 20, 40) : 12;
    double slot = mistake == MISTAKE_SLOT ? throw(dice, 14, 35) : 9;
    double up = mistake == MISTAKE_EYES ? throw(dice, 11, 25) : 3;
    if (mistake == MISTAKE_EYES && throw(dice, 0, 1) < 0.5) up = -up;
    struct recipe_parts parts = {
        .body = whole_body,
        .hardware = arena_printf(
            arena,
            "hardware:\n  wire: {diameter: 1.2 mm}\n  line tie: {place: back, at: 20 mm, depth: 8 "
            "mm}\n  hangers:\n    - {place: belly, at: 54 mm, depth: %.1f mm, hook: {size: "
            "\"4\"}}\n    - {place: tail, depth: 12 mm, hook: {mass: 1.5 g}, ring: {mass: 0.2 "
            "g}}\n",
            depth),
        .lip = arena_printf(arena,
                            "lip: {thickness: 1.5 mm, length: 40 mm, width: 25 mm, shape: square, "
                            "at: 14 mm, angle: 60 deg, slot: %.1f mm}\n",
                            slot),
        .ballast = arena_printf(arena, "ballast: {%s}\n", bores_of(arena, dice, mistake)),
        .eyes = arena_printf(arena, "eyes: {size: 5 mm, at: 30 mm, up: %.1f mm}\n", up),
        .finish = swimmer_finish,
        .shop = arena_printf(arena, "shop: {units: %s}\n", units),
    };
    if (mistake == MISTAKE_OUTLINE)
        parts = (struct recipe_parts){
            .body = crossing_body(arena, dice),
            .hardware = "hardware:\n  wire: {diameter: 1 mm}\n  line tie: {place: back, at: 80 "
                        "mm, depth: 5 mm}\n",
            .shop = parts.shop,
        };
    return recipe_text_of(arena, parts).data;
}

/* Of every kind of mistake some get a hint that they can write, and what they get holds. */
static void what_bad_recipes_are_told_to_write_holds(void **state) {
    enum { EACH = 16 };
    struct bench *b = *state;
    for (int mistake = 0; mistake < MISTAKES; mistake++) {
        struct dice dice = {2463534242u + (unsigned)mistake};
        int bad = 0, helped = 0;
        for (int i = 0; i < EACH; i++) {
            const char *text =
                bad_recipe(&b->arena, &dice, (enum mistake)mistake, i % 2 ? "inch" : "metric");
            struct compilation c = compile_text(&b->arena, "bad", str_of(text));
            b->diags = c.diags;
            if (!bench_count(b, blamed_rule[mistake])) continue;
            bad++;
            helped += expect_hold("bad", text, &c.diags) > 0;
        }
        print_message("%s: %d bad, %d helped\n", blamed_rule[mistake], bad, helped);
        assert_true(bad >= EACH / 4);
        assert_true(helped >= bad / 2);
    }
}

/* Eight bores in a heap, each with everything wrong: no more is tried than is said. */
static void a_hostile_recipe_is_tried_a_bounded_number_of_times(void **state) {
    struct bench *b = *state;
    struct buf ballast = {.arena = &b->arena};
    buf_text(&ballast, "ballast:\n  bores:\n");
    for (int i = 0; i < MAX_BORES; i++)
        buf_printf(&ballast, "    - {at: %d mm, drill: 8 mm, depth: 22 mm, load: [{mass: 40 g}]}\n",
                   40 + i);
    struct compilation c = bench_compile(b, PARTS(SWIMMER, .ballast = ballast.data));
    int offers = 0;
    for (int i = 0; i < c.diags.count; i++) offers += c.diags.items[i].offer_count;
    assert_true(offers > HINT_MOST_TRIALS);
    assert_int_equal(hints_settle(&b->arena, c.document.root, NULL, c.recipe, &c.diags),
                     HINT_MOST_TRIALS);
}

/* The same with a table of 200 offsets, each try of which takes longer. */
static void of_a_large_recipe_less_is_tried(void **state) {
    struct bench *b = *state;
    struct buf body = {.arena = &b->arena}, ballast = {.arena = &b->arena};
    buf_text(&body, "body:\n  length: 95 mm\n  section: {shape: oval}\n  stations:\n");
    for (int i = 0; i < MAX_STATIONS; i++)
        buf_printf(&body, "    - {at: %.3f mm, back: 9 mm, belly: 9 mm, width: 16 mm}\n",
                   95.0 * i / (MAX_STATIONS - 1));
    buf_text(&ballast, "ballast:\n  bores:\n");
    for (int i = 0; i < MAX_BORES; i++)
        buf_printf(&ballast, "    - {at: %d mm, drill: 8 mm, depth: 22 mm, load: [{mass: 40 g}]}\n",
                   40 + i);
    struct recipe_parts parts = PARTS(SWIMMER, .ballast = ballast.data);
    parts.body = body.data;
    struct compilation c = bench_compile(b, parts);
    int tried = hints_settle(&b->arena, c.document.root, NULL, c.recipe, &c.diags);
    assert_in_range(tried, 1, HINT_MOST_VALUES / (4 * MAX_STATIONS));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(what_goldens_are_told_to_write_holds),
        BENCH_TEST(what_bad_recipes_are_told_to_write_holds),
        BENCH_TEST(a_hostile_recipe_is_tried_a_bounded_number_of_times),
        BENCH_TEST(of_a_large_recipe_less_is_tried),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
