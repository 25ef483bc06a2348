#include "compute/supply.h"

#include <math.h>

#include "compute/plug/block.h"
#include "compute/plug/chamber.h"
#include "model/reference.h"

struct supplier {
    struct arena *arena;
    const struct plug *plug;
    const struct recipe *recipe;
    const struct ballast_result *ballast;
    const struct route *route;
    int topcoat_load;
    struct stock *left; /* of the stock, or NULL */
    struct supply out;
};

/* Rows at most: blank, lip, wire, screws, hooks, rings, links, eyes, fittings, contents and filler
 * of chambers, metal and filler by bore, sealer, two for each layer, resin and hardener. */
enum {
    MAX_ROWS = 16 + MAX_JOINTS + 4 * MAX_HANGERS + MAX_EXTRAS + 2 * MAX_BORES + MAX_CHAMBERS +
               2 * MAX_LAYERS
};

/* `price` is per `per` of the row's unit; NULL or not given: no cost.  `lost` is what the run takes
 * besides, however many plugs it has. */
static void add_with_loss(struct supplier *s, enum supply_group group, struct name item,
                          enum supply_unit unit, double one, double lost, const struct opt *price,
                          double per) {
    double run = one * s->recipe->make + lost;
    bool priced = price && price->given;
    double cost = priced ? price->value * run / per : 0;
    s->out.rows[s->out.count++] =
        (struct supply_row){group, item, unit, one, run, 0, priced, cost, cost, NAME_NONE};
    s->out.priced |= priced;
    s->out.cost += cost;
    s->out.to_pay += cost;
}

static void add(struct supplier *s, enum supply_group group, struct name item,
                enum supply_unit unit, double one, const struct opt *price, double per) {
    add_with_loss(s, group, item, unit, one, 0, price, per);
}

/* So much of a row lies in the stock, and need not be bought. */
static void have_of(struct supplier *s, struct supply_row *row, double on_hand) {
    const double rounding = 1e-9;
    row->have = on_hand < row->run * (1 - rounding) ? on_hand : row->run;
    s->out.to_pay -= row->to_pay;
    row->to_pay = row->run > 0 ? row->cost * (1 - row->have / row->run) : 0;
    s->out.to_pay += row->to_pay;
}

static void have(struct supplier *s, double on_hand) {
    have_of(s, &s->out.rows[s->out.count - 1], on_hand);
}

/* Of the last row. */
static double wanted(const struct supplier *s) {
    return s->out.rows[s->out.count - 1].run;
}

/* The last row is mixed into the one before it. */
static void mixed(struct supplier *s, enum name_key what) {
    s->out.rows[s->out.count - 1].mixed = what;
}

static struct name plain(enum name_key key) {
    return (struct name){.key = key};
}

static struct name named(enum name_key key, struct str own) {
    return (struct name){.key = key, .own = own};
}

static const struct opt *price_of(const struct supplier *s, size_t member) {
    const char *prices = (const char *)s->recipe->prices;
    return prices ? (const struct opt *)(prices + member) : NULL;
}

#define PRICE(s, member) price_of((s), offsetof(struct prices, member))

static const double litre = 1e-3, square_decimetre = 1e-2;

/* --- wood ------------------------------------------------------------------------------------ */

/* Blanks lie along the grain; the board's thickness is their height or their width, as more come
 * out of it. */
static void cut_board(struct supplier *s) {
    const struct board *board = s->recipe->shop->board;
    double kerf = s->recipe->shop->kerf;
    struct supply *o = &s->out;
    double width = o->blank_width / o->blank_boards;
    if (!board) return;
    o->board_given = true;
    o->board_along = stock_fit(board->length, o->blank_length, kerf);
    for (int turned = 0; turned < 2; turned++) {
        double thick = turned ? width : o->blank_height;
        double across = turned ? o->blank_height : width;
        int layers = stock_fit(board->thickness, thick, kerf),
            rows = stock_fit(board->width, across, kerf);
        int pieces = o->board_along * layers * rows / o->blank_boards;
        if (turned && pieces <= o->board_pieces) continue;
        o->board_pieces = pieces;
        o->board_layers = layers;
        o->board_across = rows;
        o->board_turned = turned;
    }
}

static void supply_wood(struct supplier *s) {
    const struct block block = block_of(s->recipe);
    struct supply *o = &s->out;
    o->blank_length = block.length;
    o->blank_height = block.height;
    o->blank_width = block.width;
    o->blank_boards = s->recipe->body->halves ? 2 : 1;
    const char *species = s->recipe->wood->row->name;
    add(s, SUPPLY_WOOD, named(NAME_BLANK, str_of(species)), SUPPLY_VOLUME,
        o->blank_length * o->blank_height * o->blank_width, PRICE(s, wood), litre);
    const struct stock_part part = {o->blank_length, o->blank_width / o->blank_boards,
                                    o->blank_height};
    int parts = stock_boards(s->arena, s->left, str_of(species), &part, s->recipe->shop->kerf,
                             o->blank_boards, s->recipe->make * o->blank_boards);
    int blanks = parts / o->blank_boards;
    have(s, blanks * o->rows[o->count - 1].one);
    cut_board(s);
}

static void supply_lip(struct supplier *s) {
    const struct lip *lip = s->recipe->lip;
    if (!lip) return;
    const char *name = reference_sheet[lip->material].name;
    double width = fmax(lip->width, lip->tip.given ? lip->tip.value : 0);
    add(s, SUPPLY_LIP, named(NAME_SHEET, str_of(name)), SUPPLY_AREA, lip->length * width,
        PRICE(s, lip), square_decimetre);
    const struct stock_part part = {lip->length, width, lip->thickness};
    int lips = stock_sheets(s->arena, s->left, lip->material, &part, s->recipe->shop->kerf,
                            s->recipe->make);
    have(s, lips * lip->length * width);
}

/* --- hardware -------------------------------------------------------------------------------- */

/* A rule reads whole millimetres, and too short is of no use. */
static double millimetres_up(double metres) {
    const double slack = 1e-9;
    return ceil(metres * 1000 - slack) / 1000;
}

/* Of all plugs' pieces, one after the other. */
static double wire_on_hand(struct supplier *s) {
    const struct wire *wire = s->recipe->hardware->wire;
    double taken = 0;
    for (int plug = 0; plug < s->recipe->make; plug++)
        for (int i = 0; i < s->plug->fitting_count; i++)
            if (s->out.cuts[i].cut > 0)
                taken += stock_wire(s->left, wire->material, wire->diameter, s->out.cuts[i].cut);
    return taken;
}

/* Each piece is cut longer than it is installed (docs/physics.md, 10.2). */
static void supply_wire(struct supplier *s) {
    const struct plug *plug = s->plug;
    double total = 0;
    if (!s->recipe->hardware->wire) return;
    for (int i = 0; i < plug->fitting_count; i++) {
        struct wire_cut *cut = &s->out.cuts[i];
        bool tail = plug->fittings[i].pilot.through && i != FITTING_TIE;
        if (plug->fittings[i].fitting->screw || tail) continue;
        cut->installed = plug->fittings[i].pilot.through
                             ? plug->through.wire
                             : plug->fittings[i].twisted + plug->fittings[i].looped;
        enum fact more = plug->fittings[i].twisted > 0 ? FACT_WIRE_TAIL : FACT_WIRE_END;
        cut->cut = millimetres_up(cut->installed + reference_fact[more].value);
        total += cut->cut;
    }
    const char *metal = reference_metal[s->recipe->hardware->wire->material].name;
    add(s, SUPPLY_HARDWARE, named(NAME_WIRE, str_of(metal)), SUPPLY_LENGTH, total, PRICE(s, wire),
        1);
    have(s, wire_on_hand(s));
}

static bool same_screw(const struct screw *a, const struct screw *b) {
    return a && b && a->mass == b->mass && a->shank == b->shank && a->diameter == b->diameter;
}

/* Equal screw eyes make one row, called after the first. */
static void supply_screws(struct supplier *s) {
    const struct fitted *fittings = s->plug->fittings;
    for (int i = 0; i < s->plug->fitting_count; i++) {
        int same = 0, before = 0;
        for (int k = 0; k < s->plug->fitting_count; k++) {
            if (!same_screw(fittings[i].fitting->screw, fittings[k].fitting->screw)) continue;
            same++;
            before += k < i;
        }
        if (fittings[i].fitting->screw && !before)
            add(s, SUPPLY_HARDWARE, fitting_name(i, NAME_SCREW_AS_TIE, NAME_SCREW_AS_HANGER),
                SUPPLY_PIECES, same, PRICE(s, screw), 1);
    }
}

static void supply_kerf(struct supplier *s) {
    const struct through *through = s->recipe->hardware->through;
    if (!through) return;
    bool strip = s->plug->through.strip, groove = s->plug->through.groove;
    const char *species = s->recipe->wood->row->name;
    add(s, strip ? SUPPLY_WOOD : SUPPLY_HARDWARE,
        strip ? named(NAME_STRIP, str_of(species))
              : plain(groove ? NAME_GROOVE_FILLING : NAME_KERF_FILLING),
        SUPPLY_VOLUME, s->plug->through.closed, NULL, 1);
}

static struct name hook_name(const struct hook *hook) {
    if (!hook->size.size) return plain(NAME_SOME_HOOK);
    return named(hook->kind == HOOK_SINGLE ? NAME_SINGLE : NAME_TREBLE, hook->size);
}

static bool same_hook(const struct hook *a, const struct hook *b) {
    return a && b && a->kind == b->kind && str_equal(a->size, b->size) &&
           a->mass.value == b->mass.value;
}

/* Hangers with the same hook make one row. */
static void supply_hooks(struct supplier *s) {
    const struct fitted *fittings = s->plug->fittings;
    for (int i = 0; i < s->plug->fitting_count; i++) {
        const struct hook *hook = fittings[i].fitting->hook;
        int same = 0, before = 0;
        for (int k = 0; k < s->plug->fitting_count; k++) {
            if (!same_hook(hook, fittings[k].fitting->hook)) continue;
            same += hook->count;
            before += k < i;
        }
        if (!hook || before) continue;
        add(s, SUPPLY_HARDWARE, hook_name(hook), SUPPLY_PIECES, same, PRICE(s, hook), 1);
        have(s, stock_hooks(s->left, hook, same * s->recipe->make));
    }
}

static bool same_ring(const struct ring *a, const struct ring *b) {
    return a && b && str_equal(a->size, b->size);
}

/* Rings of one size, or without one, make one row. */
static void supply_rings(struct supplier *s) {
    const struct fitted *fittings = s->plug->fittings;
    int links = 0;
    for (int i = 0; i < s->plug->fitting_count; i++) {
        const struct ring *ring = fittings[i].fitting->ring;
        int same = 0, before = 0;
        links += fittings[i].fitting->link != NULL;
        for (int k = 0; k < s->plug->fitting_count; k++) {
            if (!same_ring(ring, fittings[k].fitting->ring)) continue;
            same++;
            before += k < i;
        }
        if (!ring || before) continue;
        add(s, SUPPLY_HARDWARE,
            ring->size.size ? named(NAME_RING_SIZED, ring->size) : plain(NAME_SPLIT_RING),
            SUPPLY_PIECES, same, PRICE(s, ring), 1);
        have(s, stock_rings(s->left, ring, same * s->recipe->make));
    }
    if (links) add(s, SUPPLY_HARDWARE, plain(NAME_SOME_LINK), SUPPLY_PIECES, links, NULL, 1);
}

static void supply_eyes(struct supplier *s) {
    if (!s->recipe->eyes) return;
    add(s, SUPPLY_HARDWARE, plain(NAME_EYE), SUPPLY_PIECES, 2, PRICE(s, eye), 1);
    have(s, stock_eyes(s->left, s->recipe->eyes->size, 2 * s->recipe->make));
}

static void supply_chambers(struct supplier *s) {
    double filler = 0;
    for (int i = 0; i < s->recipe->chamber_count; i++) {
        const struct chamber *chamber = &s->recipe->chambers[i];
        struct hollow h = hollow_of(s->plug, i);
        struct name item = {NAME_CONTENT, i + 1, chamber->holds->name};
        add(s, SUPPLY_HARDWARE, item, SUPPLY_MASS, axis_count(&h.axis) * h.content, NULL, 1);
        if (chamber->closing == STOPPER_FILLER) filler += axis_count(&h.axis) * h.closed;
    }
    if (filler > 0)
        add(s, SUPPLY_HARDWARE, plain(NAME_CHAMBER_FILLER), SUPPLY_VOLUME, filler, NULL, 1);
}

static void supply_hinges(struct supplier *s) {
    for (int i = 0; i < s->recipe->joint_count; i++)
        add(s, SUPPLY_HARDWARE, named(NAME_HINGE_BOUGHT, s->recipe->joints[i].hinge->name),
            SUPPLY_PIECES, 1, NULL, 1);
}

static void supply_extras(struct supplier *s) {
    for (int i = 0; i < s->recipe->extra_count; i++) {
        const struct extra *extra = &s->recipe->extras[i];
        add(s, SUPPLY_HARDWARE, named(NAME_EXTRA, extra->name), SUPPLY_PIECES, extra->count,
            &extra->price, 1);
    }
}

/* Of all plugs' loads, one after the other. */
static double pieces_on_hand(struct supplier *s, double load) {
    double taken = 0;
    for (int plug = 0; plug < s->recipe->make; plug++)
        taken += stock_pieces(s->left, s->plug, load);
    return taken;
}

static void supply_ballast(struct supplier *s) {
    const struct ballast *ballast = s->recipe->ballast;
    double filler = 0;
    for (int i = 0; ballast && i < ballast->bore_count; i++) {
        struct name item = named(NAME_METAL, str_of(reference_metal[ballast->material].name));
        item.number = i + 1;
        add(s, SUPPLY_BALLAST, item, SUPPLY_MASS, fill_load(&s->ballast->fills[i]),
            PRICE(s, ballast), 1);
        have(s, pieces_on_hand(s, fill_load(&s->ballast->fills[i])));
        filler += fill_filler(&s->ballast->fills[i]) / ballast->filler;
    }
    if (filler > 0) add(s, SUPPLY_BALLAST, plain(NAME_BORE_FILLER), SUPPLY_VOLUME, filler, NULL, 1);
}

/* --- finishes -------------------------------------------------------------------------------- */

/* Sealer is known by the dry mass that the wood keeps; what to pour follows from its solids. */
static void supply_seal(struct supplier *s, const struct seal *seal) {
    double dry = seal->uptake * seal->coats * s->plug->bare.surface;
    struct str name = seal->name.size ? seal->name : str_of(reference_seal[seal->kind].kind);
    double volume = dry / seal->solids;
    add(s, SUPPLY_FINISH, named(NAME_SEALER_NAMED, name), SUPPLY_VOLUME, volume, PRICE(s, seal),
        litre);
    have(s, stock_sealer(s->left, name, wanted(s)));
}

static void supply_layer(struct supplier *s, const struct layer *layer) {
    struct colour colour = layer_colour(s->recipe, layer);
    double film = layer_thickness(s->recipe, layer) * s->plug->bare.surface;
    double volume = film / colour.solids / colour.transfer;
    double reducer = layer->thin.second / layer->thin.first;
    double lost = reference_fact[FACT_CUP_LOSS].value / (1 + reducer);
    add_with_loss(s, SUPPLY_FINISH, named(NAME_PAINT, layer->colour), SUPPLY_VOLUME, volume, lost,
                  PRICE(s, paint), litre);
    have(s, stock_paint(s->left, layer->colour, wanted(s)));
    add_with_loss(s, SUPPLY_FINISH, named(NAME_REDUCER_FOR, layer->colour), SUPPLY_VOLUME,
                  volume * reducer, lost * reducer, NULL, 1);
    mixed(s, NAME_REDUCER);
}

/* One plug's share of one coat, waste included; parts by mass become parts by volume through the
 * densities (docs/physics.md, 10.4). */
static struct mix mix_of_one(const struct supplier *s, const struct topcoat *topcoat) {
    double dry = topcoat->film * s->plug->bare.surface;
    double volume = dry / topcoat->solids * (1 + topcoat->waste);
    double resin = topcoat->mix.first, hardener = topcoat->mix.second;
    struct mix mix = {.plugs = 1, .two_parts = hardener > 0, .resin = volume};
    if (!mix.two_parts) return mix;
    if (topcoat->mix.by_mass) resin /= topcoat->resin.value, hardener /= topcoat->hardener.value;
    mix.resin = volume * resin / (resin + hardener);
    mix.hardener = volume - mix.resin;
    mix.resin_mass = mix.resin * topcoat->resin.value;
    mix.hardener_mass = mix.hardener * topcoat->hardener.value;
    return mix;
}

static const struct operation *coat_operation(const struct route *route, int coat) {
    for (int i = 0; i < route->count; i++)
        if (route->operations[i].key == OPERATION_topcoat && route->operations[i].number == coat)
            return &route->operations[i];
    return NULL;
}

/* Cups for one coat of one load: as many as the pot life asks for; what needs no mixing is poured
 * out at once. */
static void mix_load(struct supplier *s, const struct topcoat *topcoat, int coat, int load,
                     int plugs) {
    const struct operation *operation = coat_operation(s->route, coat);
    double each = operation ? operation->each : 0;
    double pot = operation_pot_life(s->recipe);
    int most = each > 0 && pot > 0 ? (int)fmax(floor(pot / each), 1) : plugs;
    int cups = (plugs + most - 1) / most;
    struct mix one = mix_of_one(s, topcoat);
    for (int cup = 0; cup < cups; cup++) {
        int share = plugs / cups + (cup < plugs % cups);
        struct mix mix = one;
        mix.coat = coat, mix.load = load, mix.cup = cup + 1, mix.plugs = share;
        mix.resin *= share, mix.hardener *= share;
        mix.resin_mass *= share, mix.hardener_mass *= share;
        mix.hands_on = each * share, mix.pot_life = pot;
        s->out.mixes[s->out.mix_count++] = mix;
    }
}

/* What is on hand of a topcoat in two parts is of both, as they are mixed. */
static void have_topcoat(struct supplier *s, const struct topcoat *topcoat, int rows) {
    struct supply_row *row = &s->out.rows[s->out.count - rows];
    struct str kind = str_of(reference_topcoat[topcoat->kind].kind);
    double all = 0;
    for (int i = 0; i < rows; i++) all += row[i].run;
    double taken = stock_topcoat(s->left, topcoat->name.size ? topcoat->name : kind, all);
    for (int i = 0; i < rows; i++) have_of(s, &row[i], all > 0 ? taken * row[i].run / all : 0);
}

static void supply_topcoat(struct supplier *s, const struct topcoat *topcoat) {
    int make = s->recipe->make, most = s->topcoat_load;
    struct mix one = mix_of_one(s, topcoat);
    s->out.mixes = NEW(s->arena, struct mix, topcoat->coats * make);
    for (int coat = 1; coat <= topcoat->coats; coat++)
        for (int load = 0; load * most < make; load++)
            mix_load(s, topcoat, coat, load + 1,
                     make - load * most < most ? make - load * most : most);
    struct name whole = named(NAME_TOPCOAT_OF, str_of(reference_topcoat[topcoat->kind].kind));
    add(s, SUPPLY_FINISH, one.two_parts ? plain(NAME_RESIN) : whole, SUPPLY_VOLUME,
        one.resin * topcoat->coats, PRICE(s, topcoat), litre);
    if (!one.two_parts) {
        have_topcoat(s, topcoat, 1);
        return;
    }
    add(s, SUPPLY_FINISH, plain(NAME_TOPCOAT_HARDENER), SUPPLY_VOLUME,
        one.hardener * topcoat->coats, PRICE(s, topcoat), litre);
    mixed(s, NAME_HARDENER);
    have_topcoat(s, topcoat, 2);
}

struct supply supply_of(struct arena *arena, const struct plug *plug,
                        const struct ballast_result *ballast, const struct route *route,
                        int topcoat_load, struct stock *left) {
    struct supplier s = {arena, plug, plug->recipe, ballast, route, topcoat_load, left, {0}};
    const struct finish *finish = plug->recipe->finish;
    s.out.rows = NEW(arena, struct supply_row, MAX_ROWS);
    s.out.stocked = left != NULL;
    supply_wood(&s);
    supply_lip(&s);
    supply_wire(&s);
    supply_screws(&s);
    supply_kerf(&s);
    supply_hooks(&s);
    supply_rings(&s);
    supply_eyes(&s);
    supply_hinges(&s);
    supply_extras(&s);
    supply_chambers(&s);
    supply_ballast(&s);
    if (finish && finish->seal) supply_seal(&s, finish->seal);
    for (int i = 0; finish && finish->paint && i < finish->paint->layer_count; i++)
        supply_layer(&s, &finish->paint->layers[i]);
    if (finish && finish->topcoat) supply_topcoat(&s, finish->topcoat);
    return s.out;
}
