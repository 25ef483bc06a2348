/* What comes out in numbers: the report, the terminal, the tables. */
#include "recipe_text.h"

#include <jansson.h>

#include "emit/report.h"
#include "emit/tables.h"
#include "emit/terminal.h"
#include "model/reference.h"

/* A plug with everything that a report has a place for. */
static const struct recipe_parts whole = {
    .head = "recipe: 1\nname: 'Heron \"140\" µ \\ </x>'\nmake: 4\ncurrency: EUR\n",
    .body = swimmer_body,
    .hardware = swimmer_hardware,
    .eyes = swimmer_eyes,
    .finish = swimmer_finish,
    .lip = "lip: {thickness: 2 mm, length: 34 mm, width: 20 mm, shape: round, at: 8 mm, angle: 35 "
           "deg, slot: 6 mm}\n",
    .ballast =
        "ballast:\n  aim: {reserve: 11 %, attitude: 4 deg}\n"
        "  bores: [{at: 40 mm, drill: 10 mm, load: solve}, {at: 85 mm, drill: 8 mm, load: solve},\n"
        "          {at: 110 mm, drill: 4 mm, load: [{mass: 0.2 g}]}]\n"
        "  pieces: [{ball: \"0.310 in\"}, {mass: 1 g}, {mass: 0.25 g, count: 4}]\n",
    .shop = "shop: {start: 2026-12-05T09:00}\n",
    .prices = "prices: {wood: 12}\n"};

static json_t *parsed(const struct buf *out) {
    json_error_t error;
    json_t *root = json_loadb(out->data, out->size, 0, &error);
    if (!root) print_error("%d:%d %s\n", error.line, error.column, error.text);
    assert_non_null(root);
    return root;
}

static json_t *report_on(struct bench *b, struct recipe_parts parts) {
    struct compilation c = bench_compile(b, parts);
    struct buf out = {.arena = &b->arena};
    if (c.diags.errors) print_error("%s", bench_said(b));
    assert_int_equal(c.diags.errors, 0);
    report_emit(&out, c.recipe, &c.results, &c.diags);
    assert_int_equal(out.data[out.size - 1], '\n');
    return parsed(&out);
}

/* "float.finished.gm_mm", "masses.0.item": keys and numbers of items. */
static json_t *at(json_t *root, const char *path) {
    char key[64];
    for (const char *p = path; *p;) {
        size_t size = strcspn(p, ".");
        assert_true(size < sizeof key);
        memcpy(key, p, size), key[size] = '\0';
        root = json_is_array(root) ? json_array_get(root, (size_t)atoi(key))
                                   : json_object_get(root, key);
        if (!root) print_error("no %s\n", path);
        assert_non_null(root);
        p += size + (p[size] == '.');
    }
    return root;
}

static double number_at(json_t *root, const char *path) {
    assert_true(json_is_number(at(root, path)));
    return json_number_value(at(root, path));
}

/* --- the report ------------------------------------------------------------------------------ */

/* docs/report.md, The plug, and what follows there. */
static void the_report_has_every_key_that_is_fixed(void **state) {
    static const struct {
        const char *path;
        char type; /* n number, s string, b boolean, z null, a array */
    } keys[] = {
        {"recipe.name", 's'},
        {"recipe.make", 'n'},
        {"recipe.digest", 's'},
        {"body.length_mm", 'n'},
        {"body.volume_cm3", 'n'},
        {"body.surface_cm2", 'n'},
        {"body.centroid_mm.0", 'n'},
        {"body.centroid_mm.1", 'n'},
        {"body.centroid_mm.2", 'n'},
        {"body.surface_centroid_mm.2", 'n'},
        {"body.blank_mm.2", 'n'},
        {"wood.density_kg_m3", 'n'},
        {"wood.source", 's'},
        {"water.density_kg_m3", 'n'},
        {"masses.0.item", 's'},
        {"masses.0.stage", 's'},
        {"masses.0.mass_g", 'n'},
        {"masses.0.x_mm", 'n'},
        {"masses.0.z_mm", 'n'},
        {"masses.0.outside_cm3", 'n'},
        {"float.finished.mass_g", 'n'},
        {"float.finished.centre_of_gravity_mm.0", 'n'},
        {"float.finished.centre_of_gravity_mm.1", 'n'},
        {"float.finished.displacement_g", 'n'},
        {"float.finished.reserve_percent", 'n'},
        {"float.finished.state", 's'},
        {"float.finished.attitude_deg", 'n'},
        {"float.finished.waterline_nose_mm", 'n'},
        {"float.finished.waterline_tail_mm", 'n'},
        {"float.finished.water_fore.on", 's'},
        {"float.finished.water_aft.at_mm", 'n'},
        {"float.finished.gm_mm", 'n'},
        {"float.finished.righting_arm_mm.18", 'n'},
        {"float.finished.self_righting", 'b'},
        {"float.finished.lean_deg_per_mm", 'n'},
        {"float.finished.speed_mm_s", 'n'},
        {"float.finished.stable", 'b'},
        {"float.test.mass_g", 'n'},
        {"ballast.bores.0.at_mm", 'n'},
        {"ballast.bores.0.drill_mm", 'n'},
        {"ballast.bores.0.depth_mm", 'n'},
        {"ballast.bores.0.load_g", 'n'},
        {"ballast.bores.0.solved", 'b'},
        {"ballast.bores.0.slug_mm", 'n'},
        {"ballast.bores.0.wall_mm", 'n'},
        {"ballast.spread.light.loads_g.0", 'n'},
        {"ballast.spread.light.reserve_percent", 'n'},
        {"ballast.spread.heavy.attitude_deg", 'n'},
        {"ballast.by_blank.0.plug", 'z'},
        {"ballast.by_blank.0.blank_g", 'n'},
        {"ballast.by_blank.0.density_kg_m3", 'n'},
        {"ballast.by_blank.1.loads_g.0", 'n'},
        {"ballast.by_blank.1.depths_mm.0", 'n'},
        {"wood.blank_g", 'n'},
        {"wood.scatter_percent", 'z'},
        {"wood.spread_percent", 'n'},
        {"ballast.pieces.0.loads.1", 'a'},
        {"ballast.pieces.0.reserve_percent", 'n'},
        {"ballast.pieces.0.attitude_deg", 'n'},
        {"materials.0.item", 's'},
        {"materials.0.one", 'n'},
        {"materials.0.run", 'n'},
        {"materials.0.unit", 's'},
        {"materials.0.cost", 'n'},
        {"materials.1.cost", 'z'},
        {"materials.0.on_hand", 'z'},
        {"steps.0.id", 's'},
        {"steps.0.hands_on_min", 'n'},
        {"steps.0.wait_min", 'n'},
        {"steps.0.after", 'a'},
        {"steps.0.early_start_min", 'n'},
        {"steps.0.late_start_min", 'n'},
        {"steps.0.critical", 'b'},
        {"run.makespan_min", 'n'},
        {"run.hands_on_min", 'n'},
        {"run.steps.0.id", 's'},
        {"run.steps.0.start", 's'},
        {"run.steps.0.end", 's'},
        {"diagnostics", 'a'},
    };
    json_t *root = report_on(*state, whole);
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) {
        json_t *value = at(root, keys[i].path);
        char type = json_is_number(value)    ? 'n'
                    : json_is_string(value)  ? 's'
                    : json_is_boolean(value) ? 'b'
                    : json_is_null(value)    ? 'z'
                    : json_is_array(value)   ? 'a'
                                             : 'o';
        if (type != keys[i].type) print_error("%s\n", keys[i].path);
        assert_int_equal(type, keys[i].type);
    }
    assert_int_equal(json_array_size(at(root, "float.test.righting_arm_mm")), 19);
    assert_non_null(json_object_get(at(root, "float.finished"), "vanishing_deg"));
    json_decref(root);
}

/* Keys of the object and of all that it holds, each as the page writes it: `key`. */
static void expect_told(const char *page, json_t *value) {
    const char *key;
    json_t *member;
    size_t i;
    json_object_foreach(value, key, member) {
        char written[64];
        snprintf(written, sizeof written, "`%s`", key);
        if (!strstr(page, written)) print_error("the page does not tell of %s\n", written);
        assert_non_null(strstr(page, written));
        expect_told(page, member);
    }
    json_array_foreach(value, i, member) expect_told(page, member);
}

static void every_key_is_told_of(void **state) {
    struct bench *b = *state;
    enum { MOST = 1 << 16 };
    char *page = NEW(&b->arena, char, MOST);
    FILE *file = fopen("docs/report.md", "r");
    assert_non_null(file);
    size_t size = fread(page, 1, MOST - 1, file);
    fclose(file);
    assert_in_range(size, 1, MOST - 2);
    json_t *root = report_on(b, whole);
    expect_told(page, root);
    json_decref(root);
    struct buf out = {.arena = &b->arena};
    struct compilation c = bench_compile(b, PARTS(.water = "water: {temprature: 15 degC}\n"));
    report_diagnostics(&out, &c.diags);
    root = parsed(&out);
    assert_int_equal(json_array_size(at(root, "diagnostics")), 1);
    expect_told(page, root);
    json_decref(root);
}

/* At least eight digits, in the units that the keys name. */
static void numbers_are_those_of_the_results_to_nine_digits(void **state) {
    struct bench *b = *state;
    struct compilation c = bench_compile(b, whole);
    struct buf out = {.arena = &b->arena};
    report_emit(&out, c.recipe, &c.results, &c.diags);
    json_t *root = parsed(&out);
    const struct results *r = &c.results;
    const struct condition *f = &r->finished;
    const struct {
        const char *path;
        double value;
    } rows[] = {
        {"body.length_mm", 140},
        {"body.volume_cm3", r->plug.bare.volume * 1e6},
        {"body.surface_cm2", r->plug.bare.surface * 1e4},
        {"body.blank_mm.0", 146},
        {"wood.density_kg_m3", 400},
        {"masses.0.mass_g", r->masses.rows[0].mass * 1e3},
        {"masses.0.x_mm", r->masses.rows[0].x * 1e3},
        {"float.finished.mass_g", f->burden.mass * 1e3},
        {"float.finished.centre_of_gravity_mm.1", f->burden.z * 1e3},
        {"float.finished.displacement_g", f->rest.capacity * 1e3},
        {"float.finished.reserve_percent", f->rest.reserve * 100},
        {"float.finished.attitude_deg", f->rest.attitude / one_degree},
        {"float.finished.waterline_tail_mm", f->waterline_tail * 1e3},
        {"float.finished.gm_mm", f->rest.gm * 1e3},
        {"float.finished.righting_arm_mm.5", f->righting.arm[5] * 1e3},
        {"float.finished.speed_mm_s", f->speed * 1e3},
        {"float.finished.lean_deg_per_mm", condition_lean(f, f->ballast_mass, 0.001) / one_degree},
        {"ballast.bores.1.load_g", r->ballast.fills[1].load * 1e3},
        {"ballast.bores.1.depth_mm", r->ballast.fills[1].depth * 1e3},
        {"ballast.bores.1.wall_mm", r->ballast.wall[1] * 1e3},
        {"ballast.spread.heavy.loads_g.0", r->ballast.heavy.load[0] * 1e3},
        {"ballast.pieces.0.reserve_percent", r->ballast.best[0].outcome.reserve * 100},
        {"materials.0.run", r->supply.rows[0].run * 1e6},
        {"materials.0.cost", r->supply.rows[0].cost},
        {"run.makespan_min", (double)r->run.makespan / 60},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_close(number_at(root, rows[i].path), rows[i].value, 1e-9);
    json_decref(root);
}

static void what_is_reported_adds_up(void **state) {
    json_t *root = report_on(*state, whole), *row;
    size_t i;
    double mass = 0, moment = 0;
    json_array_foreach(at(root, "masses"), i, row) {
        mass += number_at(row, "mass_g");
        moment += number_at(row, "mass_g") * number_at(row, "x_mm");
    }
    assert_close(number_at(root, "float.finished.mass_g"), mass, 1e-9);
    assert_close(number_at(root, "float.finished.centre_of_gravity_mm.0"), moment / mass, 1e-9);
    assert_close(number_at(root, "float.finished.reserve_percent"),
                 100 * (1 - mass / number_at(root, "float.finished.displacement_g")), 1e-8);
    double lost = 0, colours = 0; /* 1 ml of thinned paint of each colour stays in the cup */
    json_array_foreach(at(root, "materials"), i, row) {
        const char *item = json_string_value(json_object_get(row, "item"));
        bool paint = strncmp(item, "paint: ", 7) == 0, reducer = strncmp(item, "reducer ", 8) == 0;
        double more = number_at(row, "run") - 4 * number_at(row, "one");
        colours += paint;
        if (paint || reducer)
            lost += more;
        else
            assert_near(more, 0, 1e-9 * number_at(row, "run"));
    }
    assert_true(colours > 0);
    assert_close(lost, colours, 1e-9);
    json_decref(root);
}

static void the_name_comes_out_as_it_went_in(void **state) {
    json_t *root = report_on(*state, whole);
    assert_string_equal(json_string_value(at(root, "recipe.name")), "Heron \"140\" µ \\ </x>");
    assert_int_equal(strlen(json_string_value(at(root, "recipe.digest"))), 40);
    json_decref(root);
}

static void pieces_are_named_as_the_recipe_names_them(void **state) {
    json_t *root = report_on(*state, whole), *load, *bore, *piece;
    size_t i, k, m;
    int balls = 0, others = 0;
    json_array_foreach(at(root, "ballast.pieces"), i, load) {
        assert_int_equal(json_array_size(json_object_get(load, "loads")),
                         2); /* solved bores alone */
        json_array_foreach(json_object_get(load, "loads"), k, bore)
            json_array_foreach(bore, m, piece) {
            const char *name = json_string_value(piece);
            if (strcmp(name, "0.310 in ball") == 0)
                balls++;
            else if (strcmp(name, "1 g") == 0 || strcmp(name, "0.25 g") == 0)
                others++;
            else
                fail_msg("a piece called %s", name);
        }
    }
    assert_true(balls > 0 && others > 0);
    json_decref(root);
}

static void what_does_not_exist_is_null(void **state) {
    struct bench *b = *state;
    /* sinks: no waterline; no prices: no costs */
    json_t *root =
        report_on(b, PARTS(SWIMMER, .ballast = "ballast: {aim: {reserve: -9 %}, bores: [{at: "
                                               "41 mm, drill: 12 mm, load: solve}]}\n"));
    assert_true(json_is_null(at(root, "float.finished.waterline_nose_mm")));
    assert_true(json_is_null(at(root, "float.finished.waterline_tail_mm")));
    assert_string_equal(json_string_value(at(root, "float.finished.state")), "sinks");
    assert_true(number_at(root, "float.finished.speed_mm_s") < 0);
    assert_true(json_is_null(at(root, "materials.0.cost")));
    json_decref(root);
    /* falls over: no lean, and its righting arm vanishes at once */
    root = report_on(b, PARTS(.wood = "wood: {species: basswood, density: 500 kg/m3}\n"));
    assert_true(json_is_null(at(root, "float.finished.lean_deg_per_mm")));
    assert_near(number_at(root, "float.finished.vanishing_deg"), 0, 0);
    assert_true(json_is_false(at(root, "float.finished.stable")));
    json_decref(root);
}

static void spread_loads_are_null_where_no_load_meets_the_aim(void **state) {
    json_t *root = report_on(
        *state,
        PARTS(SWIMMER, .wood = "wood: {species: basswood, density: 500 kg/m3, spread: 50 %}\n",
              .ballast = "ballast: {aim: {reserve: 15 %}, bores: [{at: 43 mm, drill: 10 mm, load: "
                         "solve}]}\n"));
    assert_true(json_is_null(at(root, "ballast.spread.heavy.loads_g")));
    assert_true(json_is_array(at(root, "ballast.spread.light.loads_g")));
    json_decref(root);
}

static void a_plug_without_ballast_has_empty_lists(void **state) {
    json_t *root = report_on(*state, PARTS(.head = NULL));
    assert_int_equal(json_array_size(at(root, "ballast.bores")), 0);
    assert_int_equal(json_array_size(at(root, "ballast.pieces")), 0);
    assert_int_equal(json_array_size(at(root, "ballast.spread.light.loads_g")), 0);
    json_decref(root);
}

static void times_of_a_run_are_dates_or_without_a_start_durations(void **state) {
    json_t *root = report_on(*state, whole);
    assert_string_equal(json_string_value(at(root, "run.steps.0.start")), "2026-12-05T09:00");
    json_decref(root);
    root = report_on(*state, PARTS(SWIMMER));
    assert_string_equal(json_string_value(at(root, "run.steps.0.start")), "P0DT00H00M");
    json_decref(root);
}

/* Every step stands behind those that it follows, and the critical ones have no slack. */
static void steps_are_in_an_order_that_can_be_worked(void **state) {
    json_t *root = report_on(*state, whole), *step, *before, *other;
    size_t i, k, m;
    json_array_foreach(at(root, "steps"), i, step) {
        double slack = number_at(step, "late_start_min") - number_at(step, "early_start_min");
        assert_int_equal(json_is_true(json_object_get(step, "critical")), fabs(slack) < 1e-6);
        json_array_foreach(json_object_get(step, "after"), k, before) {
            bool found = false;
            json_array_foreach(at(root, "steps"), m, other) {
                if (m >= i) break;
                if (!json_equal(json_object_get(other, "id"), before)) continue;
                found = true;
                assert_true(number_at(step, "early_start_min") >=
                            number_at(other, "early_start_min") + number_at(other, "hands_on_min") +
                                number_at(other, "wait_min") - 1e-6);
            }
            assert_true(found);
        }
    }
    json_decref(root);
}

static void a_recipe_with_errors_reports_its_diagnostics_alone(void **state) {
    struct bench *b = *state;
    struct buf out = {.arena = &b->arena};
    struct compilation c = bench_compile(b, PARTS(.water = "water: {temprature: 15 degC}\n"));
    report_diagnostics(&out, &c.diags);
    json_t *root = parsed(&out);
    assert_int_equal(json_object_size(root), 1);
    json_t *d = at(root, "diagnostics.0");
    assert_string_equal(json_string_value(at(d, "file")), "test");
    assert_int_equal(number_at(d, "line"), 13);
    assert_int_equal(number_at(d, "column"), 9);
    assert_string_equal(json_string_value(at(d, "severity")), "error");
    assert_string_equal(json_string_value(at(d, "rule")), "unknown-key");
    assert_string_equal(json_string_value(at(d, "message")),
                        "unknown key 'temprature' in the water");
    assert_string_equal(json_string_value(at(d, "hint")), "did you mean 'temperature'?");
    json_decref(root);
}

static void a_file_name_that_is_no_text_still_gives_a_report(void **state) {
    struct bench *b = *state;
    struct compilation c = compile_text(&b->arena, "caf\xe9.yaml", str_of("recipe: 1\n"));
    struct buf out = {.arena = &b->arena};
    report_diagnostics(&out, &c.diags);
    json_t *root = parsed(&out);
    assert_string_equal(json_string_value(at(root, "diagnostics.0.file")), "caf?.yaml");
    json_decref(root);
}

static struct str report_text(struct bench *b, struct recipe_parts parts) {
    struct compilation c = bench_compile(b, parts);
    struct buf out = {.arena = &b->arena};
    report_emit(&out, c.recipe, &c.results, &c.diags);
    return (struct str){out.data, out.size};
}

static void the_same_recipe_gives_the_same_bytes(void **state) {
    assert_true(str_equal(report_text(*state, whole), report_text(*state, whole)));
    assert_null(strstr(report_text(*state, whole).data, "-0.0,"));
}

static void the_order_of_keys_does_not_matter(void **state) {
    struct bench *b = *state;
    struct compilation one = bench_compile(
        b, PARTS(SWIMMER, .ballast =
                              "ballast: {aim: {reserve: 11 %, attitude: 4 deg}, bores: [{at: 45 "
                              "mm, drill: 10 mm, load: solve}, {at: 85 mm, drill: 8 mm, load: "
                              "solve}]}\n"));
    const char *turned =
        arena_printf(&b->arena,
                     "%s%s%sballast: {bores: [{load: solve, drill: 10 mm, at: 45 mm}, {drill: 8 "
                     "mm, load: solve, at: "
                     "85 mm}], aim: {attitude: 4 deg, reserve: 11 %%}}\n"
                     "wood: {density: 400 kg/m3, species: basswood}\n%sname: Box\nrecipe: 1\n",
                     swimmer_finish, swimmer_eyes, swimmer_body, swimmer_hardware);
    struct compilation other = compile_text(&b->arena, "test", str_of(turned));
    assert_int_equal(other.diags.errors, 0);
    struct buf first = {.arena = &b->arena}, second = {.arena = &b->arena};
    terminal_emit(&first, one.recipe, &one.results);
    terminal_emit(&second, other.recipe, &other.results);
    assert_string_equal(first.data, second.data);
}

/* --- the terminal ---------------------------------------------------------------------------- */

static const char *screen(struct bench *b, struct recipe_parts parts) {
    struct compilation c = bench_compile(b, parts);
    struct buf out = {.arena = &b->arena};
    if (c.diags.errors) print_error("%s", bench_said(b));
    assert_int_equal(c.diags.errors, 0);
    terminal_emit(&out, c.recipe, &c.results);
    return out.data;
}

static void expect_on(const char *text, const char *words) {
    if (!strstr(text, words)) print_error("not on the screen: %s\n%s", words, text);
    assert_non_null(strstr(text, words));
}

static void the_terminal_shows_masses_floating_ballast_and_time(void **state) {
    const char *text = screen(*state, whole);
    expect_on(text, "4 plugs of basswood (400 kg/m³, weighed density)\n");
    expect_on(text, "140.0 mm long, 30.0 mm high, 24.0 mm wide");
    expect_on(text, "\n  ballasted  ballast bore 1 ");
    expect_on(text, "\n  reserve");
    expect_on(text, "11.0 %");
    expect_on(text, "bore 1 at 40.0 mm, drill 10.00 mm, ");
    expect_on(text, " (solved); wall ");
    expect_on(text, "light wood, 396 kg/m³: bore 1 ");
    expect_on(text, "0.310 in ball");
    expect_on(text, "hands-on ");
    expect_on(text, " EUR");
    assert_null(strstr(text, "nan"));
    assert_null(strstr(text, "inf"));
}

static void the_terminal_uses_the_units_of_the_shop(void **state) {
    struct recipe_parts inches = whole;
    inches.shop = "shop: {units: inch}\n";
    const char *text = screen(*state, inches);
    expect_on(text, "oz");
    expect_on(text, "5 1/2 (5.512) in long");
    assert_null(strstr(text, "kg/m"));
}

/* Marks of writing direction would show the line in another order. */
static void a_name_cannot_steer_the_terminal(void **state) {
    const char *text =
        screen(*state, PARTS(.head = "recipe: 1\nname: \"Box\xE2\x80\xAE\\u202e\"\n"));
    expect_on(text, "Box, 1 plug of basswood");
}

static void a_plug_that_does_not_float_upright_says_so_without_numbers(void **state) {
    const char *text =
        screen(*state, PARTS(.wood = "wood: {species: basswood, density: 500 kg/m3}\n"));
    expect_on(text, "ballast off the middle for 2° lean");
    assert_null(strstr(text, "nan"));
    assert_null(strstr(text, "?"));
}

/* --- the tables ------------------------------------------------------------------------------ */

static void every_table_is_listed_and_shown(void **state) {
    struct bench *b = *state;
    static const char *const names[] = {"wood", "metal",     "wire",   "drill",
                                        "hook", "sheet",     "finish", "strength",
                                        "fact", "operation", "caution"};
    struct buf list = {.arena = &b->arena};
    assert_true(tables_emit(&list, NULL, NULL));
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        struct buf table = {.arena = &b->arena};
        expect_on(list.data, names[i]);
        expect_on(tables_names(&b->arena), names[i]);
        assert_true(tables_emit(&table, names[i], NULL));
        assert_non_null(strstr(table.data, "source"));
    }
    struct buf nothing = {.arena = &b->arena};
    assert_false(tables_emit(&nothing, "reel", NULL));
    assert_int_equal(nothing.size, 0);
}

static void tables_show_the_values_that_are_computed_with(void **state) {
    struct bench *b = *state;
    static const struct {
        const char *table, *row;
    } rows[] = {
        /* sources as printed there: Wood Handbook Table 5-3a; ASTM B258; ASME B94.11M */
        {"wood", "basswood                 Tilia americana              0.370   12 %    10 %"},
        {"metal", "lead               11.340  11.34  11.34  yes      -     driven home"},
        {"metal", "tungsten           17.750  17.00  18.50  yes      -     stacked"},
        {"wire", "\n18          1.0237    1.2065    1.2192\n"},
        {"wire", "\n  awg, American wire gauge: ASTM B258"},
        {"drill", "no 30    3.2639 mm"},
        {"drill", "letter F  6.5278 mm"},
        {"hook", "treble   1/0              4.40"},
        {"hook", "single   1/0              1.80"},
        {"sheet", "polycarbonate      1.20"},
        {"finish", "back           30 %"},
        /* ASTM A313: 280 ksi over 0.034 in to 0.037 in */
        {"strength", "stainless       0.864    0.940   1931"},
        {"operation", "bore-wires       bench             8      2\n"},
        {"operation", "colour-1 ...     spray place"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct buf table = {.arena = &b->arena};
        tables_emit(&table, rows[i].table, NULL);
        expect_on(table.data, rows[i].row);
    }
}

static void every_row_of_a_table_names_its_source(void **state) {
    struct bench *b = *state;
    struct buf table = {.arena = &b->arena};
    tables_emit(&table, "wood", NULL);
    for (int i = 0; i < reference_wood_count; i++) {
        expect_on(table.data, reference_wood[i].name);
        expect_on(table.data, reference_wood[i].source);
        assert_true(strlen(reference_wood[i].source) > 8);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(the_report_has_every_key_that_is_fixed),
        BENCH_TEST(every_key_is_told_of),
        BENCH_TEST(numbers_are_those_of_the_results_to_nine_digits),
        BENCH_TEST(what_is_reported_adds_up),
        BENCH_TEST(the_name_comes_out_as_it_went_in),
        BENCH_TEST(pieces_are_named_as_the_recipe_names_them),
        BENCH_TEST(what_does_not_exist_is_null),
        BENCH_TEST(spread_loads_are_null_where_no_load_meets_the_aim),
        BENCH_TEST(a_plug_without_ballast_has_empty_lists),
        BENCH_TEST(times_of_a_run_are_dates_or_without_a_start_durations),
        BENCH_TEST(steps_are_in_an_order_that_can_be_worked),
        BENCH_TEST(a_recipe_with_errors_reports_its_diagnostics_alone),
        BENCH_TEST(a_file_name_that_is_no_text_still_gives_a_report),
        BENCH_TEST(the_same_recipe_gives_the_same_bytes),
        BENCH_TEST(the_order_of_keys_does_not_matter),
        BENCH_TEST(the_terminal_shows_masses_floating_ballast_and_time),
        BENCH_TEST(the_terminal_uses_the_units_of_the_shop),
        BENCH_TEST(a_name_cannot_steer_the_terminal),
        BENCH_TEST(a_plug_that_does_not_float_upright_says_so_without_numbers),
        BENCH_TEST(every_table_is_listed_and_shown),
        BENCH_TEST(tables_show_the_values_that_are_computed_with),
        BENCH_TEST(every_row_of_a_table_names_its_source),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
