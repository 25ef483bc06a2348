/* What weighs how much, and where: sums that can be done by hand on a box of 100 x 20 x 20 mm.
 * Source of all formulas: docs/physics.md, 4; densities of metals and sheets as printed there. */
#include "recipe_text.h"

#include "compute/plug/mass.h"
#include "model/reference.h"

static const double box_volume = 0.100 * 0.020 * 0.020;
static const double box_surface = 2 * 0.020 * 0.020 + 4 * 0.020 * 0.100;

/* --- helpers --------------------------------------------------------------------------------- */

struct scene {
    const struct recipe *recipe;
    struct plug plug;
    struct bore_fill fills[MAX_BORES];
    struct mass_list masses;
};

static struct scene weigh(struct bench *b, struct recipe_parts parts) {
    struct scene w = {.recipe = bench_good(b, parts)};
    w.plug = plug_of(&b->arena, w.recipe);
    for (int i = 0; w.recipe->ballast && i < w.recipe->ballast->bore_count; i++)
        w.fills[i] = bore_as_written(&w.plug, i);
    w.masses = mass_rows(&b->arena, &w.plug, w.fills);
    return w;
}

static const struct mass_row *row_of(const struct scene *w, const char *item) {
    for (int i = 0; i < w->masses.count; i++)
        if (is_called(w->masses.rows[i].item, item)) return &w->masses.rows[i];
    print_error("no row %s\n", item);
    fail();
    return NULL;
}

static bool has_row(const struct scene *w, const char *item) {
    for (int i = 0; i < w->masses.count; i++)
        if (is_called(w->masses.rows[i].item, item)) return true;
    return false;
}

static void expect_row(const struct scene *w, const char *item, enum stage stage, double mass,
                       double x, double z) {
    const struct mass_row *row = row_of(w, item);
    assert_int_equal(row->stage, stage);
    assert_close(row->mass, mass, 1e-9);
    assert_near(row->x, x, 1e-9);
    assert_near(row->z, z, 1e-9);
}

/* The box less a part of `volume` about (x, z), and the pilot of its nose. */
static void expect_wood(const struct scene *w, double volume, double x, double z) {
    double nose = disc(0.002) * 0.020, left = box_volume - nose - volume;
    expect_row(w, "wood", STAGE_SHAPED, box_wood * left,
               (box_volume * box_length / 2 - nose * 0.010 - volume * x) / left,
               -volume * z / left);
}

/* --- wood ------------------------------------------------------------------------------------ */

static void wood_is_the_body_less_the_pilot_of_the_line_tie(void **state) {
    struct scene w = weigh(*state, PARTS(.head = NULL));
    assert_close(w.plug.bare.volume, box_volume, 1e-9);
    assert_close(w.plug.bare.surface, box_surface, 1e-9);
    expect_wood(&w, 0, 0, 0);
    assert_int_equal(w.masses.count, 2); /* and the tie's wire */
}

static void a_slot_lies_half_its_depth_behind_its_mouth(void **state) {
    struct scene w =
        weigh(*state, PARTS(.lip = "lip: {thickness: 2 mm, length: 30 mm, width: 15 mm, "
                                   "shape: square, at: 10 mm, angle: 30 deg, "
                                   "slot: 8 mm}\n"));
    double angle = 30 * one_degree;
    expect_wood(&w, 0.008 * 0.002 * box_width, 0.010 + 0.004 * cos(angle),
                -0.010 + 0.004 * sin(angle));
}

static void sockets_are_two_cylinders_at_the_eyes(void **state) {
    struct scene w = weigh(*state, PARTS(.eyes = "eyes: {size: 6 mm, at: 15 mm, up: 4 mm}\n"));
    expect_wood(&w, 2 * disc(0.006) * 0.002, 0.015, 0.004);
}

static void a_ballast_bore_goes_straight_up_from_the_belly(void **state) {
    struct scene w =
        weigh(*state, PARTS(.ballast = "ballast: {bores: [{at: 40 %, drill: 8 mm, depth: 12 mm, "
                                       "load: []}]}\n"));
    expect_wood(&w, disc(0.008) * 0.012, 0.040, -0.010 + 0.006);
}

static void pilots_go_inward_from_their_mouths(void **state) {
    static const struct {
        const char *hanger;
        double x, z, diameter, depth;
    } cases[] = {
        /* 20 mm deep where nothing is said, in belly and back two thirds of the height at most */
        {"{place: tail}", 0.100 - 0.010, 0, 0.002, 0.020},
        {"{place: belly, at: 60 mm}", 0.060, -0.010 + 0.020 / 3, 0.002, 0.040 / 3},
        {"{place: back, at: 60 mm}", 0.060, 0.010 - 0.020 / 3, 0.002, 0.040 / 3},
        {"{place: tail, depth: 31 mm}", 0.100 - 0.0155, 0, 0.002, 0.031},
        {"{place: belly, at: 60 %, depth: 9 mm, pilot: 2.5 mm}", 0.060, -0.0055, 0.0025, 0.009},
        {"{place: back, at: 60 mm, pilot: no 30}", 0.060, 0.010 - 0.020 / 3, 0.1285 * 0.0254,
         0.040 / 3},
    };
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const char *hardware = arena_printf(&b->arena,
                                            "hardware:\n  wire: {diameter: 1 mm}\n"
                                            "  line tie: {place: nose}\n  hangers: [%s]\n",
                                            cases[i].hanger);
        struct scene w = weigh(b, PARTS(.hardware = hardware));
        expect_wood(&w, disc(cases[i].diameter) * cases[i].depth, cases[i].x, cases[i].z);
    }
}

static void the_weighed_density_overrides_the_table_and_the_blank_overrides_both(void **state) {
    struct scene w = weigh(*state, PARTS(.wood = "wood: {species: basswood, moisture: 12 %}\n"));
    assert_close(w.plug.wood_density, 414.400, 1e-5); /* G12 0.37: 1120 G12 */
    assert_int_equal(w.plug.wood_source, WOOD_BY_TABLE);
    w = weigh(*state, PARTS(.wood = "wood: {species: basswood, density: 0.41 g/cm3}\n"));
    assert_close(w.plug.wood_density, 410, 1e-12);
    assert_int_equal(w.plug.wood_source, WOOD_BY_DENSITY);
    w = weigh(*state, PARTS(.lip = "lip: {thickness: 2 mm, length: 30 mm, width: 15 mm, "
                                   "shape: square, at: 10 mm, angle: 30 deg, slot: 8 mm}\n",
                            .measured = "measured: {blank: 15.9 g}\n"));
    assert_close(w.plug.wood_density,
                 0.0159 / (box_volume - 0.008 * 0.002 * 0.020 - disc(0.002) * 0.020), 1e-9);
    assert_int_equal(w.plug.wood_source, WOOD_BY_BLANK);
}

/* --- wire ------------------------------------------------------------------------------------ */

/* Two strands with a lay of six diameters: each longer than its bore by sqrt(1 + (pi/6)^2). */
static double twisted(double depth) {
    return 2 * sqrt(1 + (circle / 6) * (circle / 6)) * depth;
}

static void twisted_wire_acts_at_half_depth_and_its_eye_at_the_mouth(void **state) {
    struct scene w = weigh(
        *state, PARTS(.hardware = "hardware:\n  wire: {diameter: 1.2 mm, material: spring steel}\n"
                                  "  line tie: {place: nose, depth: 24 mm, eye: 4 mm}\n"
                                  "  hangers: [{place: belly, at: 60 mm, depth: 12 mm}]\n"));
    double metre = 7850 * disc(0.0012), legs = metre * twisted(0.024),
           eye = metre * circle * (0.004 + 0.0012);
    expect_row(&w, "line tie wire", STAGE_HUNG, legs + eye, legs * 0.012 / (legs + eye), 0);
    legs = metre * twisted(0.012), eye = metre * circle * (0.003 + 0.0012);
    expect_row(&w, "hanger wire 1", STAGE_HUNG, legs + eye, 0.060,
               -0.010 + legs * 0.006 / (legs + eye));
}

static void wires_weigh_what_their_metal_does(void **state) {
    static const struct {
        const char *metal;
        double density;
    } metals[] = {{"stainless", 7900}, {"brass", 8500}, {"spring steel", 7850}};
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof metals / sizeof *metals; i++) {
        const char *hardware = arena_printf(&b->arena,
                                            "hardware: {wire: {diameter: 1 mm, material: %s}, "
                                            "line tie: {place: nose}}\n",
                                            metals[i].metal);
        struct scene w = weigh(b, PARTS(.hardware = hardware));
        assert_close(row_of(&w, "line tie wire")->mass,
                     metals[i].density * disc(0.001) * (twisted(0.020) + circle * 0.004), 1e-9);
    }
}

static void a_tie_on_the_lip_is_an_eye_alone(void **state) {
    struct scene w = weigh(
        *state, PARTS(.lip = "lip: {thickness: 2 mm, length: 30 mm, width: 15 mm, shape: square, "
                             "at: 10 mm, angle: 30 deg, slot: 8 mm}\n",
                      .hardware = "hardware: {wire: {diameter: 1 mm}, "
                                  "line tie: {place: lip, at: 5 mm}}\n"));
    double s = 0.030 - 0.008 - 0.005, angle = 30 * one_degree;
    expect_row(&w, "line tie eye", STAGE_LIPPED, 7900 * disc(0.001) * 2 * circle * 0.004,
               0.010 - s * cos(angle), -0.010 - s * sin(angle));
    assert_false(has_row(&w, "line tie wire"));
    double slot = 0.008 * 0.002 * box_width, left = box_volume - slot;
    assert_close(row_of(&w, "wood")->mass, box_wood * left, 1e-9); /* no pilot */
}

/* --- ballast --------------------------------------------------------------------------------- */

static void soft_metal_fills_the_end_of_its_bore_as_a_slug(void **state) {
    struct scene w = weigh(*state, PARTS(.ballast = "ballast: {bores: [{at: 40 mm, drill: 8 mm, "
                                                    "depth: 14 mm, load: [{mass: 2.5 g}, "
                                                    "{ball: 6 mm, count: 2}]}]}\n"));
    double load = 0.0025 + 2 * ball(0.006) * lead, slug = load / (lead * disc(0.008));
    expect_row(&w, "ballast bore 1", STAGE_BALLASTED, load, 0.040, -0.010 + 0.014 - slug / 2);
    double rest = 0.014 - slug;
    expect_row(&w, "filler bore 1", STAGE_FILLED, bore_filler * disc(0.008) * rest, 0.040,
               -0.010 + rest / 2);
    assert_true(w.fills[0].fits);
}

/* No filler runs into the gaps between balls. */
static void hard_balls_stand_on_each_other(void **state) {
    struct scene w = weigh(
        *state,
        PARTS(.ballast = "ballast: {material: tungsten, filler: 1.3 g/cm3, bores: [{at: 40 mm, "
                         "drill: 6 mm, depth: 18 mm, load: [{ball: 6 mm, count: 2}, "
                         "{mass: 1 g}]}]}\n"));
    double load = 2 * ball(0.006) * tungsten + 0.001;
    double height = 2 * 0.006 + 0.001 / (tungsten * disc(0.006));
    expect_row(&w, "ballast bore 1", STAGE_BALLASTED, load, 0.040, -0.010 + 0.018 - height / 2);
    expect_row(&w, "filler bore 1", STAGE_FILLED, 1300 * disc(0.006) * (0.018 - height), 0.040,
               -0.010 + (0.018 - height) / 2);
    assert_close(w.fills[0].slug, height, 1e-12);
}

static void only_lead_and_tin_are_driven_home(void **state) {
    static const struct {
        const char *metal;
        double density;
        bool soft;
    } metals[] = {
        {"lead", 11340, true},          {"tungsten", 17750, false}, {"tin", 7310, true},
        {"bismuth", 9747, false},       {"brass", 8500, false},     {"steel", 7850, false},
        {"pure tungsten", 19300, false}};
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof metals / sizeof *metals; i++) {
        const char *ballast = arena_printf(&b->arena,
                                           "ballast: {material: %s, bores: [{at: 40 mm, "
                                           "drill: 8 mm, load: [{ball: 6 mm}]}]}\n",
                                           metals[i].metal);
        struct scene w = weigh(b, PARTS(.ballast = ballast));
        assert_close(w.fills[0].load, ball(0.006) * metals[i].density, 1e-9);
        assert_close(w.fills[0].slug, metals[i].soft ? ball(0.006) / disc(0.008) : 0.006, 1e-9);
    }
}

static void a_density_of_ones_own_replaces_that_of_the_metal(void **state) {
    struct scene w =
        weigh(*state, PARTS(.ballast = "ballast: {density: 10 g/cm3, bores: [{at: 40 mm, "
                                       "drill: 8 mm, load: [{ball: 6 mm}]}]}\n"));
    assert_close(w.fills[0].load, ball(0.006) * 10000, 1e-9);
    assert_close(w.fills[0].slug, ball(0.006) / disc(0.008), 1e-9); /* still soft */
}

static void a_bore_left_to_the_compiler_is_as_deep_as_load_and_cover(void **state) {
    struct scene w = weigh(*state, PARTS(.ballast = "ballast: {cover: 3 mm, bores: [{at: 40 mm, "
                                                    "drill: 8 mm, load: [{mass: 4 g}]}]}\n"));
    double slug = 0.004 / (lead * disc(0.008));
    assert_close(w.fills[0].depth, slug + 0.003, 1e-12);
    assert_close(row_of(&w, "filler bore 1")->mass, bore_filler * disc(0.008) * 0.003, 1e-9);
}

static void a_load_higher_than_its_bore_does_not_fit(void **state) {
    /* 6 g of lead in 8 mm stand 10.5 mm high */
    static const char *const depths[] = {"10.5 mm", "10.6 mm"};
    struct bench *b = *state;
    for (int i = 0; i < 2; i++) {
        const char *ballast = arena_printf(&b->arena,
                                           "ballast: {bores: [{at: 40 mm, drill: 8 mm, "
                                           "depth: %s, load: [{mass: 6 g}]}]}\n",
                                           depths[i]);
        struct scene w = weigh(b, PARTS(.ballast = ballast));
        assert_int_equal(w.fills[0].fits, w.fills[0].slug <= w.fills[0].depth);
        assert_int_equal(w.fills[0].fits, i);
    }
}

/* --- lip ------------------------------------------------------------------------------------- */

/* Mass and place of a lip 2 mm thick and 16 mm wide, 22 mm of it outside and 8 mm in its slot; the
 * part outside has this area, and its centroid at this distance from the mouth. */
static void expect_lip(struct bench *b, const char *shape, double area, double centroid) {
    const char *lip = arena_printf(&b->arena,
                                   "lip: {thickness: 2 mm, length: 30 mm, width: 16 mm, %s, "
                                   "at: 10 mm, angle: 40 deg, slot: 8 mm}\n",
                                   shape);
    struct scene w = weigh(b, PARTS(.lip = lip));
    double slot = 0.008 * 0.016, s = (area * centroid - slot * 0.004) / (area + slot);
    expect_row(&w, "lip", STAGE_LIPPED, 1200 * 0.002 * (area + slot),
               0.010 - s * cos(40 * one_degree), -0.010 - s * sin(40 * one_degree));
    assert_close(row_of(&w, "lip")->outside, 0.002 * area, 1e-9);
}

static void a_square_lip_is_a_rectangle(void **state) {
    expect_lip(*state, "shape: square", 0.016 * 0.022, 0.011);
}

/* Trapezoid: centroid at h (a + 2 b) / (3 (a + b)) from side a. */
static void a_tapered_lip_is_a_trapezoid(void **state) {
    expect_lip(*state, "shape: taper, tip: 10 mm", (0.016 + 0.010) / 2 * 0.022,
               0.022 * (0.016 + 2 * 0.010) / (3 * (0.016 + 0.010)));
    expect_lip(*state, "shape: taper, tip: 24 mm", (0.016 + 0.024) / 2 * 0.022,
               0.022 * (0.016 + 2 * 0.024) / (3 * (0.016 + 0.024)));
}

/* Half a disc has its centroid 4 r / (3 pi) off its diameter. */
static void a_round_lip_ends_in_half_a_disc(void **state) {
    double straight = 0.022 - 0.008, plate = 0.016 * straight, half = disc(0.016) / 2;
    double area = plate + half;
    expect_lip(*state, "shape: round", area,
               (plate * straight / 2 + half * (straight + 4 * 0.008 / (3 * circle))) / area);
}

static void lips_weigh_what_their_sheet_does(void **state) {
    static const struct {
        const char *sheet;
        double density;
    } sheets[] = {{"polycarbonate", 1200},
                  {"acrylic", 1190},
                  {"aluminium", 2700},
                  {"stainless", 7900},
                  {"circuit board", 1850}};
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof sheets / sizeof *sheets; i++) {
        const char *lip = arena_printf(&b->arena,
                                       "lip: {material: %s, thickness: 1 mm, length: 30 mm, "
                                       "width: 16 mm, shape: square, at: 10 mm, angle: 40 deg, "
                                       "slot: 8 mm}\n",
                                       sheets[i].sheet);
        struct scene w = weigh(b, PARTS(.lip = lip));
        assert_close(row_of(&w, "lip")->mass, sheets[i].density * 0.001 * 0.030 * 0.016, 1e-9);
    }
}

/* --- finish ---------------------------------------------------------------------------------- */

static void sealer_keeps_its_uptake_by_coat_and_adds_no_thickness(void **state) {
    struct scene w =
        weigh(*state, PARTS(.finish = "finish: {seal: {coats: 3, uptake: 50 g/m2}}\n"));
    expect_row(&w, "sealer", STAGE_SEALED, 3 * 0.050 * box_surface, 0.050, 0);
    assert_near(w.plug.finish, 0, 0);
}

/* Common practice, no source: what share of a plug each part of it is. */
static void a_layer_weighs_and_thickens_by_what_it_covers(void **state) {
    static const struct {
        const char *where;
        double cover;
    } parts[] = {{"whole", 1.00}, {"back", 0.30}, {"flanks", 0.40}, {"belly", 0.30},
                 {"head", 0.15},  {"tail", 0.10}, {"bars", 0.15},   {"spots", 0.08}};
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
        const char *finish = arena_printf(&b->arena,
                                          "finish: {paint: {film: 15 um, density: 1.4 g/cm3, "
                                          "layers: [{colour: x, kind: opaque, where: %s, "
                                          "coats: 2}]}}\n",
                                          parts[i].where);
        struct scene w = weigh(b, PARTS(.finish = finish));
        double film = 15e-6 * 2 * parts[i].cover;
        expect_row(&w, "colour 1", STAGE_PAINTED, 1400 * film * box_surface, 0.050, 0);
        assert_close(w.plug.finish, film, 1e-12);
    }
    struct scene w = weigh(b, PARTS(.finish = "finish: {paint: {layers: [{colour: x, "
                                              "kind: opaque, where: back, cover: 55 %}]}}\n"));
    assert_close(w.plug.finish, 12e-6 * 0.55, 1e-12);
}

static void the_topcoat_lies_over_everything(void **state) {
    struct scene w = weigh(*state, PARTS(.finish = "finish:\n  paint: {layers: [{colour: x, "
                                                   "kind: opaque}]}\n"
                                                   "  topcoat: {kind: epoxy, coats: 3, "
                                                   "film: 0.2 mm}\n"));
    expect_row(&w, "topcoat", STAGE_TOPCOATED, 1150 * 0.6e-3 * box_surface, 0.050, 0);
    assert_close(w.plug.finish, 0.6e-3 + 12e-6, 1e-12);
}

/* A square section grows to a + t and h + t with corners of radius t; the length does not grow. */
static void a_finish_grows_the_sections_and_not_the_length(void **state) {
    struct scene w = weigh(
        *state, PARTS(.finish = "finish: {topcoat: {kind: epoxy, coats: 2, film: 0.5 mm}}\n"));
    double t = 0.001;
    double area = (box_width + 2 * t) * (box_height + 2 * t) - (4 - circle) * t * t;
    assert_close(w.plug.finished_hull.volume, area * box_length, 1e-7);
    assert_close(w.plug.bare_hull.volume, box_volume, 1e-7);
}

static void a_mapping_that_is_not_given_is_not_done(void **state) {
    struct scene w = weigh(*state, PARTS(.finish = "finish: {}\n"));
    assert_int_equal(w.masses.count, 2);
    assert_near(w.plug.finish, 0, 0);
}

/* --- eyes, rings, hooks ---------------------------------------------------------------------- */

static void an_eye_weighs_what_fills_its_socket_unless_it_is_weighed(void **state) {
    struct scene w =
        weigh(*state, PARTS(.eyes = "eyes: {size: 6 mm, depth: 3 mm, at: 15 mm, up: 4 mm}\n"));
    expect_row(&w, "eyes", STAGE_EYED, 2 * disc(0.006) * 0.003 * 1100, 0.015, 0.004);
    w = weigh(*state, PARTS(.eyes = "eyes: {size: 6 mm, at: 15 mm, mass: 0.2 g}\n"));
    expect_row(&w, "eyes", STAGE_EYED, 0.0004, 0.015, 0);
}

static void hooks_and_rings_hang_at_the_mouth_and_displace_their_own_volume(void **state) {
    struct scene w = weigh(
        *state, PARTS(.hardware = "hardware:\n  wire: {diameter: 1 mm}\n  line tie: {place: nose}\n"
                                  "  hangers:\n"
                                  "    - {place: belly, at: 60 mm, hook: {size: \"1/0\"}, "
                                  "ring: {mass: 0.4 g}}\n"
                                  "    - {place: tail, hook: {size: \"1/0\", mass: 5.1 g}}\n"));
    /* a typical 1/0 treble, common practice, no source */
    expect_row(&w, "hook 1", STAGE_RIGGED, 0.0044, 0.060, -0.010);
    expect_row(&w, "ring 1", STAGE_RIGGED, 0.0004, 0.060, -0.010);
    expect_row(&w, "hook 2", STAGE_RIGGED, 0.0051, 0.100, 0);
    assert_close(row_of(&w, "hook 1")->outside, 0.0044 / 7900, 1e-9);
    assert_close(row_of(&w, "ring 1")->outside, 0.0004 / 7900, 1e-9);
    assert_false(has_row(&w, "ring 2"));
    struct burden burden = mass_burden(&w.masses, CONDITION_FINISHED);
    assert_close(burden.hung_volume, (0.0044 + 0.0004 + 0.0051) / 7900, 1e-9);
    assert_close(burden.hung_x, (0.0048 * 0.060 + 0.0051 * 0.100) / 0.0099, 1e-9);
    assert_close(burden.hung_z, 0.0048 * -0.010 / 0.0099, 1e-9);
}

/* --- stages ---------------------------------------------------------------------------------- */

static const struct recipe_parts everything = {
    .lip = "lip: {thickness: 2 mm, length: 30 mm, width: 15 mm, shape: square, at: 10 mm, "
           "angle: 30 deg, slot: 8 mm}\n",
    .hardware = "hardware:\n  wire: {diameter: 1 mm}\n  line tie: {place: lip, at: 4 mm}\n"
                "  hangers: [{place: tail, hook: {size: 2}, ring: {mass: 0.3 g}}]\n",
    .ballast = "ballast: {bores: [{at: 40 mm, drill: 8 mm, load: [{mass: 4 g}]}]}\n"
               "chambers: [{at: 60 mm, drill: 6 mm, depth: 9 mm, holds: {name: x, mass: 1 g}}]\n",
    .eyes = "eyes: {size: 6 mm, at: 70 mm}\n",
    .finish = "finish:\n  seal: {}\n  paint: {layers: [{colour: x, kind: opaque}]}\n"
              "  topcoat: {kind: epoxy}\n"};

static void the_float_test_is_weighed_without_filler_paint_eyes_and_topcoat(void **state) {
    struct scene w = weigh(*state, everything);
    double all = 0, left_out = 0;
    for (int i = 0; i < w.masses.count; i++) all += w.masses.rows[i].mass;
    static const char *const later[] = {"filler bore 1", "colour 1", "eyes", "topcoat"};
    for (int i = 0; i < 4; i++) left_out += row_of(&w, later[i])->mass;
    assert_close(mass_burden(&w.masses, CONDITION_FINISHED).mass, all, 1e-12);
    assert_close(mass_burden(&w.masses, CONDITION_TEST).mass, all - left_out, 1e-12);
}

static void a_whole_plug_has_rows_in_every_stage_of_its_build(void **state) {
    struct scene w = weigh(*state, everything);
    bool seen[STAGE_COUNT] = {false};
    for (int i = 0; i < w.masses.count; i++) seen[w.masses.rows[i].stage] = true;
    for (int stage = 0; stage < STAGE_COUNT; stage++) assert_true(seen[stage]);
}

/* What the ballast is solved with is the same as the rows added up. */
static void the_tally_of_a_bore_agrees_with_the_rows(void **state) {
    struct scene w = weigh(*state, everything);
    struct bore_fill none[MAX_BORES] = {{.drill = 0}};
    struct mass_list without = mass_rows(&((struct bench *)*state)->arena, &w.plug, none);
    for (int kind = CONDITION_TEST; kind <= CONDITION_FINISHED; kind++) {
        struct burden with = mass_burden(&w.masses, (enum condition_kind)kind);
        struct burden base = mass_burden(&without, (enum condition_kind)kind);
        struct tally sum = {base.mass, base.mass * base.x, base.mass * base.z};
        bore_tally(&w.plug, &w.fills[0], (enum condition_kind)kind, &sum);
        assert_close(sum.mass, with.mass, 1e-12);
        assert_close(sum.x / sum.mass, with.x, 1e-10);
        assert_close(sum.z / sum.mass, with.z, 1e-10);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(wood_is_the_body_less_the_pilot_of_the_line_tie),
        BENCH_TEST(a_slot_lies_half_its_depth_behind_its_mouth),
        BENCH_TEST(sockets_are_two_cylinders_at_the_eyes),
        BENCH_TEST(a_ballast_bore_goes_straight_up_from_the_belly),
        BENCH_TEST(pilots_go_inward_from_their_mouths),
        BENCH_TEST(the_weighed_density_overrides_the_table_and_the_blank_overrides_both),
        BENCH_TEST(twisted_wire_acts_at_half_depth_and_its_eye_at_the_mouth),
        BENCH_TEST(wires_weigh_what_their_metal_does),
        BENCH_TEST(a_tie_on_the_lip_is_an_eye_alone),
        BENCH_TEST(soft_metal_fills_the_end_of_its_bore_as_a_slug),
        BENCH_TEST(hard_balls_stand_on_each_other),
        BENCH_TEST(only_lead_and_tin_are_driven_home),
        BENCH_TEST(a_density_of_ones_own_replaces_that_of_the_metal),
        BENCH_TEST(a_bore_left_to_the_compiler_is_as_deep_as_load_and_cover),
        BENCH_TEST(a_load_higher_than_its_bore_does_not_fit),
        BENCH_TEST(a_square_lip_is_a_rectangle),
        BENCH_TEST(a_tapered_lip_is_a_trapezoid),
        BENCH_TEST(a_round_lip_ends_in_half_a_disc),
        BENCH_TEST(lips_weigh_what_their_sheet_does),
        BENCH_TEST(sealer_keeps_its_uptake_by_coat_and_adds_no_thickness),
        BENCH_TEST(a_layer_weighs_and_thickens_by_what_it_covers),
        BENCH_TEST(the_topcoat_lies_over_everything),
        BENCH_TEST(a_finish_grows_the_sections_and_not_the_length),
        BENCH_TEST(a_mapping_that_is_not_given_is_not_done),
        BENCH_TEST(an_eye_weighs_what_fills_its_socket_unless_it_is_weighed),
        BENCH_TEST(hooks_and_rings_hang_at_the_mouth_and_displace_their_own_volume),
        BENCH_TEST(the_float_test_is_weighed_without_filler_paint_eyes_and_topcoat),
        BENCH_TEST(a_whole_plug_has_rows_in_every_stage_of_its_build),
        BENCH_TEST(the_tally_of_a_bore_agrees_with_the_rows),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
