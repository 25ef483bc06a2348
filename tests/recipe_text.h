/* Recipes for tests, written as text and read like any other.
 *
 * A test gives the sections that matter to it, each with its key and a newline at the end; the rest
 * is a box of 100 x 20 x 20 mm in wood of 400 kg/m3, whose sums can be done by hand.
 */
#ifndef PLUGWRIGHT_RECIPE_TEXT_H
#define PLUGWRIGHT_RECIPE_TEXT_H

#include <stdlib.h>

#include "close.h"

#include "base/buf.h"
#include "compile.h"
#include "model/bind.h"
#include "model/check.h"
#include "model/name.h"
#include "read/source.h"
#include "read/tree.h"

/* In the order in which they stand in the text; NULL: the box's, "": left out. */
struct recipe_parts {
    const char *head, *wood, *body, *hardware;
    const char *water, *lip, *ballast, *eyes, *finish, *shop, *steps, *running, *measured, *prices;
};

struct bench {
    struct arena arena;
    struct diags diags;
    struct str text;
    const struct recipe *recipe;
};

#define PARTS(...) ((struct recipe_parts){__VA_ARGS__})

/* Dimensions of the box, m, and densities, kg/m3. */
static const double box_length = 0.100, box_height = 0.020, box_width = 0.020;
static const double box_wood = 400, lead = 11340, tungsten = 17750, bore_filler = 1200;

static const double circle = 3.14159265358979323846;
static const double one_degree = 3.14159265358979323846 / 180;

static inline double disc(double diameter) {
    return circle / 4 * diameter * diameter;
}

static inline double ball(double diameter) {
    return circle / 6 * diameter * diameter * diameter;
}

/* Whether a name reads like this. */
static inline bool is_called(struct name name, const char *text) {
    struct arena own = {0};
    bool same = strcmp(name_text(&own, name), text) == 0;
    arena_free(&own);
    return same;
}

static inline const char *or_box(const char *text, const char *box) {
    return text ? text : box;
}

static inline struct str recipe_text_of(struct arena *arena, struct recipe_parts parts) {
    struct buf text = {.arena = arena};
    const char *more[] = {parts.water, parts.lip,   parts.ballast, parts.eyes,     parts.finish,
                          parts.shop,  parts.steps, parts.running, parts.measured, parts.prices};
    buf_text(&text, or_box(parts.head, "recipe: 1\nname: Box\n"));
    buf_text(&text, or_box(parts.wood, "wood: {species: basswood, density: 400 kg/m3}\n"));
    buf_text(&text,
             or_box(parts.body, "body:\n"
                                "  length: 100 mm\n"
                                "  section: {shape: square}\n"
                                "  stations:\n"
                                "    - {at: 0 %, back: 10 mm, belly: 10 mm, width: 20 mm}\n"
                                "    - {at: 100 %, back: 10 mm, belly: 10 mm, width: 20 mm}\n"));
    buf_text(&text, or_box(parts.hardware, "hardware:\n"
                                           "  wire: {diameter: 1 mm}\n"
                                           "  line tie: {place: nose}\n"));
    for (size_t i = 0; i < sizeof more / sizeof *more; i++)
        if (more[i]) buf_text(&text, more[i]);
    return (struct str){text.data, text.size};
}

/* A plug that swims: oval, with hooks, sealer, two coats and eyes; bores and aims are the test's.
 */
static const char swimmer_body[] =
    "body:\n  length: 140 mm\n  section: {shape: oval}\n  stations:\n"
    "    - {at: 0 %, back: 3 mm, belly: 3 mm, width: 6 mm}\n"
    "    - {at: 12 %, back: 10 mm, belly: 11 mm, width: 17 mm}\n"
    "    - {at: 35 %, back: 14 mm, belly: 16 mm, width: 24 mm}\n"
    "    - {at: 70 %, back: 10 mm, belly: 11 mm, width: 18 mm}\n"
    "    - {at: 100 %, back: 3 mm, belly: 3 mm, width: 5 mm}\n";
static const char swimmer_hardware[] =
    "hardware:\n  wire: {diameter: 1.2 mm}\n  line tie: {place: nose}\n  hangers:\n"
    "    - {place: belly, at: 55 mm, depth: 12 mm, hook: {mass: 4.4 g}, ring: {mass: 0.4 g}}\n"
    "    - {place: tail, hook: {mass: 1.5 g}, ring: {mass: 0.2 g}}\n";
static const char swimmer_finish[] =
    "finish:\n  seal: {coats: 2}\n  paint: {layers: [{colour: white, kind: opaque}]}\n"
    "  topcoat: {kind: epoxy, coats: 2}\n";
static const char swimmer_eyes[] = "eyes: {size: 7 mm, at: 16 mm, up: 2 mm}\n";

#define SWIMMER                                                                   \
    .body = swimmer_body, .hardware = swimmer_hardware, .finish = swimmer_finish, \
    .eyes = swimmer_eyes

/* --- a bench for every test ------------------------------------------------------------------ */

static inline int bench_open(void **state) {
    struct bench *bench = calloc(1, sizeof *bench);
    if (!bench) return -1;
    bench->diags.arena = &bench->arena;
    *state = bench;
    return 0;
}

static inline int bench_close(void **state) {
    struct bench *bench = *state;
    arena_free(&bench->arena);
    free(bench);
    return 0;
}

#define BENCH_TEST(test) cmocka_unit_test_setup_teardown(test, bench_open, bench_close)

/* Reads, binds and checks a text; what was said before is forgotten. */
static inline const struct recipe *bench_text(struct bench *bench, const char *text) {
    bench->diags = (struct diags){.arena = &bench->arena};
    bench->text = str_of(text);
    const struct source *source = source_of(&bench->arena, "test", bench->text, &bench->diags);
    const struct node *root = tree_read(&bench->arena, source, &bench->diags);
    bench->recipe = NULL;
    if (root) {
        bench->recipe = bind_recipe(&bench->arena, root, NULL, &bench->diags);
        check_recipe(bench->recipe, &bench->diags);
    }
    diags_sort(&bench->diags);
    return bench->recipe;
}

static inline const struct recipe *bench_recipe(struct bench *bench, struct recipe_parts parts) {
    return bench_text(bench, recipe_text_of(&bench->arena, parts).data);
}

/* Everything that was said, one line each: "line:column severity rule: message". */
static inline const char *bench_said(struct bench *bench) {
    struct buf list = {.arena = &bench->arena};
    buf_text(&list, "");
    for (int i = 0; i < bench->diags.count; i++) {
        const struct diag *d = &bench->diags.items[i];
        buf_printf(&list, "%d:%d %s %s: %s\n", d->at.line, d->at.column,
                   d->severity == SEVERITY_ERROR ? "error" : "warning", d->rule, d->message);
    }
    return list.data;
}

/* The same where nothing may be wrong with it. */
static inline const struct recipe *bench_good(struct bench *bench, struct recipe_parts parts) {
    const struct recipe *recipe = bench_recipe(bench, parts);
    if (bench->diags.errors) print_error("%s", bench_said(bench));
    assert_int_equal(bench->diags.errors, 0);
    return recipe;
}

/* All the way through, results and judgement. */
static inline struct compilation bench_compile(struct bench *bench, struct recipe_parts parts) {
    bench->text = recipe_text_of(&bench->arena, parts);
    struct compilation c = compile_text(&bench->arena, "test", bench->text);
    bench->diags = c.diags;
    bench->recipe = c.recipe;
    return c;
}

/* --- what was said --------------------------------------------------------------------------- */

/* "line:column" of the first place where `words` stand in the text, counted in code points. */
static inline const char *bench_place(struct bench *bench, const char *words) {
    const char *at = strstr(bench->text.data, words);
    if (!at) print_error("the recipe has no %s\n", words);
    assert_non_null(at);
    int line = 1, column = 1;
    for (const char *c = bench->text.data; c < at; c++) {
        if (*c == '\n')
            line++, column = 1;
        else if (((unsigned char)*c & 0xC0) != 0x80)
            column++;
    }
    return arena_printf(&bench->arena, "%d:%d", line, column);
}

/* One thing was said, at the first place where `words` stand: "error rule: message". */
static inline void bench_expect(struct bench *bench, const char *words, const char *what) {
    const char *due = arena_printf(&bench->arena, "%s %s\n", bench_place(bench, words), what);
    assert_string_equal(bench_said(bench), due);
}

/* How many times a rule was broken. */
static inline int bench_count(const struct bench *bench, const char *rule) {
    int count = 0;
    for (int i = 0; i < bench->diags.count; i++)
        count += strcmp(bench->diags.items[i].rule, rule) == 0;
    return count;
}

#endif
