/* Figures of the trade that docs/physics.md, 2 to 12 repeat: each is that of its row. */
#include "close.h"

#include <stdio.h>
#include <stdlib.h>

#include "base/arena.h"
#include "model/reference.h"

static struct arena arena;
static const char *page;

static int page_read(void **state) {
    (void)state;
    FILE *file = fopen("docs/physics.md", "r");
    if (!file) return -1;
    enum { MOST = 1 << 18 };
    char *text = NEW(&arena, char, MOST);
    size_t size = fread(text, 1, MOST - 1, file);
    fclose(file);
    page = text;
    return size > 0 && size < MOST - 1 ? 0 : -1;
}

static int page_gone(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

static const char *const fact_key[FACT_COUNT] = {
#define FACT(key, ...) #key,
#include "tables/fact.def"
};

/* "20 mm", "45°": a figure in its row's unit, as the page writes it. */
static const char *figure_of(const struct fact_row *fact) {
    static const char *const written[][2] = {
        {"kg/m3", " kg/m³"}, {"cm2", " cm²"}, {"degC", " °C"}, {"deg", "°"}, {"", ""}};
    const char *unit = arena_printf(&arena, " %s", fact->unit);
    for (size_t i = 0; i < sizeof written / sizeof *written; i++)
        if (strcmp(fact->unit, written[i][0]) == 0) unit = written[i][1];
    return arena_printf(&arena, "%.4g%s", fact->value / fact->scale, unit);
}

/* Every figure stands on the page with its mark behind it, and never another in its place. */
static void every_single_figure_is_that_of_its_row(void **state) {
    (void)state;
    for (int i = 0; i < FACT_COUNT; i++) {
        const char *mark = arena_printf(&arena, " (`%s`", fact_key[i]);
        const char *figure = figure_of(&reference_fact[i]);
        size_t size = strlen(figure);
        const char *at = strstr(page, mark);
        if (!at) print_error("the page does not use %s\n", fact_key[i]);
        assert_non_null(at);
        for (; at; at = strstr(at + 1, mark)) {
            bool same =
                memcmp(at - size, figure, size) == 0 && !strchr("0123456789.", at[-1 - (long)size]);
            if (!same) print_error("%s is %s: \"...%.40s\"\n", fact_key[i], figure, at - 20);
            assert_true(same);
        }
    }
}

/* The page has a row that begins with the name, or has it behind a comma, and then the density. */
static void expect_density(const char *name, double density) {
    const char *figure = arena_printf(&arena, "| %.4g", density / 1e3);
    for (const char *at = strstr(page, "\n### 4.2 "); (at = strstr(at, name)); at++) {
        bool whole = strncmp(at - 2, "| ", 2) == 0 || strncmp(at - 2, ", ", 2) == 0;
        const char *cell = strstr(at, "| ");
        if (!whole || !strchr(" ,", at[strlen(name)]) || !cell) continue;
        if (strtod(cell + 2, NULL) != density / 1e3) print_error("%s is not %s\n", name, figure);
        assert_near(strtod(cell + 2, NULL), density / 1e3, 1e-12);
        return;
    }
    fail_msg("docs/physics.md, 4.2 lacks %s", name);
}

static void every_density_is_that_of_its_row(void **state) {
    (void)state;
    for (int i = 0; i < reference_metal_count; i++)
        expect_density(reference_metal[i].name, reference_metal[i].density);
    for (int i = 0; i < reference_sheet_count; i++)
        expect_density(reference_sheet[i].name, reference_sheet[i].density);
}

static void every_cover_is_that_of_its_row(void **state) {
    (void)state;
    const char *section = strstr(page, "\n### 2.3 ");
    assert_non_null(section);
    for (int i = 0; i < reference_cover_count; i++) {
        const struct cover_row *row = &reference_cover[i];
        const char *due = arena_printf(&arena, " %s %.4g %%", row->where, row->cover * 100);
        if (!strstr(section, due)) print_error("docs/physics.md, 2.3 lacks%s\n", due);
        assert_non_null(strstr(section, due));
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_single_figure_is_that_of_its_row),
        cmocka_unit_test(every_density_is_that_of_its_row),
        cmocka_unit_test(every_cover_is_that_of_its_row),
    };
    return cmocka_run_group_tests_name("physics", tests, page_read, page_gone);
}
