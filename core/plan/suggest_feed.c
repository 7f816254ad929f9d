/* suggest_feed.c -- the smallest pot that covers the put-in, and when to lower after it. */
#include "suggest_feed.h"

#include <math.h>
#include <string.h>

#include "baitfall/pot.h"

/* The pot ------------------------------------------------------------------------------------------------ */

/* What one pot holds: at the inputs as given, and at least, nine times in ten. */
typedef struct holding {
    double pieces, least;
} holding;

/* What the pot of a scene holds with one quantity at probability p. */
static double pieces_at(const bf_scene *scene, const bf_section *section, int i_field, double p) {
    bf_scene moved = *scene;
    const bf_field *field = &section->table->field[i_field];
    bf_quantity *q = (bf_quantity *)((char *)bf_section_row(section, &moved, 0) + field->offset);
    bf_sampler sampler = bf_sampler_of(*q, field->least, field->most, field->usual_least, field->usual_most);
    bf_pot_out out;
    *q = bf_exactly(bf_sampler_at(&sampler, p));
    return bf_pot_holds(&moved.bait, &moved.pot, &moved.counted, &out) ? 0 : out.pieces;
}

/* The 10 % point, each quantity moved alone and the losses added as squares. */
static holding holding_of(const bf_scene *scene) {
    bf_pot_out out;
    holding of = {0, 0};
    double squares = 0;
    if (bf_pot_holds(&scene->bait, &scene->pot, &scene->counted, &out)) return of;
    for (int s = 0; s < bf_pot_schema.n_sections; s++) {
        const bf_section *section = &bf_pot_schema.section[s];
        for (int f = 0; f < section->table->n_fields; f++) {
            if (section->table->field[f].kind != BF_QUANTITY) continue;
            double low = pieces_at(scene, section, f, 0.1), high = pieces_at(scene, section, f, 0.9);
            double loss = out.pieces - (low < high ? low : high);
            if (loss > 0) squares += loss * loss;
        }
    }
    of.pieces = out.pieces;
    of.least = out.pieces - sqrt(squares);
    if (of.least < 0) of.least = 0;
    return of;
}

/* The pots offered, each with what it holds. */
typedef struct offer {
    int n;
    holding of[BF_SUGGEST_POTS];
    double volume_m3[BF_SUGGEST_POTS];
} offer;

static offer offer_of(const bf_scene *scene, const bf_suggest_ask *ask) {
    offer pots;
    pots.n = ask->n_pots > 0 ? ask->n_pots : bf_n_pots;
    BF_ASSERT(pots.n <= BF_SUGGEST_POTS);
    for (int i = 0; i < pots.n; i++) {
        bf_scene with = *scene;
        with.pot = ask->n_pots > 0 ? ask->pot[i] : bf_pots[i].pot;
        with.counted.count = bf_exactly(0); /* that was one pot, not all of them */
        pots.of[i] = holding_of(&with);
        pots.volume_m3[i] = with.pot.volume_m3.value;
    }
    return pots;
}

/* The smallest pot above one that covers so many (above < 0: of all), or -1. */
static int smallest_that_covers(const offer *pots, double goes_in, int above) {
    int best = -1;
    for (int i = 0; i < pots->n; i++) {
        if (pots->of[i].least < goes_in ||
            (above >= 0 && (i == above || pots->volume_m3[i] < pots->volume_m3[above])))
            continue;
        if (best < 0 || pots->volume_m3[i] < pots->volume_m3[best]) best = i;
    }
    return best;
}

/* The largest of those that do not cover so many but hold some, or -1. */
static int largest_that_does_not(const offer *pots, double goes_in) {
    int best = -1;
    for (int i = 0; i < pots->n; i++)
        if (pots->of[i].pieces > 0 && pots->of[i].least < goes_in &&
            (best < 0 || pots->volume_m3[i] > pots->volume_m3[best]))
            best = i;
    return best;
}

static bf_said about(int code, double goes_in, const holding *of) {
    return (bf_said){code, {goes_in, floor(of->pieces + 0.5), floor(of->least), 0}};
}

static bf_said named(int pot) {
    return (bf_said){BF_SAID_POT, {pot, 0, 0, 0}};
}

/* No choice to make, and why. */
static bf_suggested no_choice(int choose, int because) {
    bf_suggested item;
    memset(&item, 0, sizeof item);
    item.choice = item.runner_up = -1;
    item.choose.code = choose;
    item.because.code = because;
    return item;
}

bf_suggested bfi_suggest_pot(const bf_scene *scene, const bf_suggest_ask *ask) {
    double goes_in = scene->put.count;
    if (scene->put.how != BF_CLUMP && scene->put.how != BF_SPRINKLE)
        return no_choice(BF_SAID_POT_NONE, BF_SAID_POT_UNUSED);
    if (goes_in != goes_in) return no_choice(BF_SAID_POT_ANY, BF_SAID_POT_FULL);

    offer pots = offer_of(scene, ask);
    int small = largest_that_does_not(&pots, goes_in), choice = smallest_that_covers(&pots, goes_in, -1);
    bf_suggested item = no_choice(BF_SAID_POT_NONE, BF_SAID_POT_NO_FIT);
    if (choice < 0 && small < 0) return item;
    item.choice = choice >= 0 ? choice : small;
    item.choose = named(item.choice);
    item.because =
        about(choice >= 0 ? BF_SAID_POT_COVERS : BF_SAID_POT_NEAREST, goes_in, &pots.of[item.choice]);
    if (choice < 0) return item;

    int large = smallest_that_covers(&pots, goes_in, choice);
    item.runner_up = small >= 0 ? small : large;
    if (item.runner_up < 0) return item;
    item.other = named(item.runner_up);
    item.why_not =
        about(small >= 0 ? BF_SAID_WHY_POT_SMALL : BF_SAID_WHY_POT_LARGE, goes_in, &pots.of[item.runner_up]);
    return item;
}

/* When to lower ------------------------------------------------------------------------------------------ */

void bf_suggest_way(const bf_stand *stand, int lowering, bf_lay_out *out) {
    static const bf_draw as_given = {1, 0, 1};
    bf_stand lowered = *stand;
    double columns[sizeof *out / sizeof(double)];
    lowered.hold.lowering = lowering;
    bf_status status = bf_lay_model(&lowered, &as_given, columns);
    memcpy(out, columns, sizeof *out);
    if (status) *out = (bf_lay_out){BF_NAN, BF_NAN, BF_NAN, BF_NAN, BF_NAN};
}

bf_suggested bf_suggest_lay_in(int lowering, const bf_lay_out *is, const bf_lay_out *other) {
    static const int way_said[] = {BF_SAID_LAY_UPRIGHT, BF_SAID_LAY_FLAT};
    bf_suggested item = no_choice(BF_SAID_LAY_NOT_KNOWN, BF_SAID_LAY_UNKNOWN);
    if (is->wait_s != is->wait_s) return item;
    item.choice = lowering;
    item.choose = (bf_said){is->wait_s > 0 ? BF_SAID_LAY : BF_SAID_LAY_NOW, {is->wait_s}};
    item.because = (bf_said){BF_SAID_LAY_BECAUSE, {is->feed_s, is->down_s}};
    if (other->wait_s != other->wait_s) return item;
    item.runner_up = !lowering;
    item.other = (bf_said){way_said[item.runner_up], {0}};
    item.why_not = (bf_said){BF_SAID_WHY_NOT_THAT_WAY, {other->down_s, is->down_s, other->off_m, is->off_m}};
    return item;
}
