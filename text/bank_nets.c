/* bank_nets.c -- nets, guessing, pace and remarks of the answer to "bank". */
#include <math.h>

#include "text/bank.h"

static void put_mass(bfi_pen *pen, double kg) {
    char text[BF_SAY_MOST];
    bfi_put_bytes(pen, text, bf_say_weight(kg, text));
}

static void put_mass_range(bfi_pen *pen, bf_range kg) {
    char text[BF_SAY_MOST];
    bfi_put_bytes(pen, text, bf_say_weight_range(kg, text));
}

void bfi_put_weight(bfi_pen *pen, bf_range kg) {
    if (kg.hi <= kg.lo) {
        put_mass(pen, kg.mid);
        return;
    }
    bfi_put(pen, "about ");
    put_mass_range(pen, kg);
}

/* ---- Nets ---- */

static void put_net(bfi_pen *pen, const bf_net *net) {
    bfi_put(pen, "Net ");
    bfi_put_number(pen, net->net, 0);
    bfi_put(pen, " ");
    if (net->is_weighed) {
        bfi_put(pen, "weighed ");
        put_mass(pen, net->mass.mid);
        if (net->is_over) bfi_put(pen, ", over the limit");
    } else if (net->n_fish == 0)
        bfi_put(pen, "empty");
    else
        bfi_put_weight(pen, net->mass);
}

static void json_net(bfi_json *out, const bf_nets *nets, const bf_net *net) {
    char text[160];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    put_net(&pen, net);
    bfi_json_object(out);
    bfi_json_key_real(out, "net", net->net);
    bfi_json_range(out, "mass_kg", net->mass, BF_MASS);
    bfi_json_close(out);
    bfi_json_key_real(out, "limit_kg", nets->limit_kg);
    bfi_json_key(out, "change");
    bfi_json_truth(out, net->is_change);
    bfi_json_key(out, "over");
    bfi_json_truth(out, net->is_over);
    bfi_json_key(out, "weighed");
    bfi_json_truth(out, net->is_weighed);
    bfi_json_key_real(out, "n_fish", net->n_fish);
    bfi_json_key_text(out, "text", text);
    bfi_json_close(out);
}

/* 1 when any of the nets still has room. */
static int has_room(const bf_nets *nets) {
    for (int i = 0; i < nets->n; i++)
        if (!nets->net[i].is_change && !nets->net[i].is_over) return 1;
    return 0;
}

static void put_over(bfi_pen *pen, const bank *b, const bf_net *net) {
    bfi_put(pen, "Net ");
    bfi_put_number(pen, net->net, 0);
    bfi_put(pen, " is probably over ");
    put_mass(pen, b->nets.limit_kg);
    bfi_put(pen, ": ");
    bfi_put_weight(pen, net->mass);
    bfi_put(pen, ", since ");
    bfi_put_clock(pen, b->ask->fold->live[net->over_live].t_ms, b->session->east_min, 0);
}

static void put_change(bfi_pen *pen, const bank *b) {
    bfi_put(pen, has_room(&b->nets) || b->session->nets < 1
                     ? "Change net: the next fish may go over "
                     : "No net with room left: the next fish may go over ");
    put_mass(pen, b->nets.limit_kg);
}

/* What is to be said loudest: of the net that fish go into now. Others that are over are among the remarks. */
static void put_net_words(bfi_pen *pen, const bank *b) {
    for (int i = 0; i < b->nets.n; i++) {
        const bf_net *net = &b->nets.net[i];
        if (!net->is_current || net->is_weighed || !net->is_change) continue;
        if (net->is_over)
            put_over(pen, b, net);
        else
            put_change(pen, b);
    }
}

void bfi_json_nets(bfi_json *out, const bank *b) {
    char words[240];
    bfi_pen pen = bfi_pen_open(words, sizeof words);
    bfi_json_key(out, "nets");
    bfi_json_array(out);
    for (int i = 0; i < b->nets.n; i++) json_net(out, &b->nets, &b->nets.net[i]);
    bfi_json_close(out);
    put_net_words(&pen, b);
    bfi_json_key_text(out, "net_words", words);
}

/* ---- Guessing ---- */

#define EARLY 5 /* under so many observations it is too early to say */

/* "10 % light (2-17)": by how much of the real weight guesses fall short; past nothing the other way "heavy". */
static void put_light(bfi_pen *pen, bf_range factor) {
    char text[BF_SAY_MOST];
    int is_light = factor.lo > 1;
    bf_range off = {100 * fabs(1 - 1 / factor.nominal), 100 * fabs(1 - 1 / factor.mid),
                    100 * fabs(1 - 1 / (is_light ? factor.lo : factor.hi)),
                    100 * fabs(1 - 1 / (is_light ? factor.hi : factor.lo))};
    size_t n = bf_say_range(off, BF_PURE, text), n_mid = 0;
    while (n_mid < n && text[n_mid] != ' ') n_mid++;
    bfi_put_bytes(pen, text, n_mid);
    bfi_put(pen, is_light ? " % light" : " % heavy");
    bfi_put_bytes(pen, text + n_mid, n - n_mid);
}

static void put_bias(bfi_pen *pen, bf_range factor, int n_weighings) {
    if (n_weighings < EARLY) {
        bfi_put(pen, "Too early to say how you guess: ");
        if (n_weighings)
            bfi_put_so_many(pen, n_weighings, "net weighed", "nets weighed");
        else
            bfi_put(pen, "no net weighed yet");
        return;
    }
    bfi_put(pen, "You guess ");
    if (factor.lo > 1 || factor.hi < 1) {
        put_light(pen, factor);
        return;
    }
    bfi_put(pen, "about right: between ");
    bfi_put_number(pen, 100 * (1 / factor.lo - 1), 0);
    bfi_put(pen, " % heavy and ");
    bfi_put_number(pen, 100 * (1 - 1 / factor.hi), 0);
    bfi_put(pen, " % light");
}

void bfi_json_bias(bfi_json *out, const bank *b) {
    char text[200];
    bf_range factor = bf_guessing_factor(&b->guessing);
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    put_bias(&pen, factor, b->guessing.n_weighings);
    bfi_json_key(out, "bias");
    bfi_json_object(out);
    bfi_json_range(out, "factor", factor, BF_PURE);
    bfi_json_close(out);
    bfi_json_key_real(out, "n_weighings", b->guessing.n_weighings);
    bfi_json_key_text(out, "text", text);
    bfi_json_close(out);
}

/* ---- Pace ---- */

static int is_told(bf_range range) {
    return range.mid == range.mid;
}

static void put_needs(bfi_pen *pen, const bank *b, const bf_pace *pace) {
    if (!(pace->needs_per_h_kg.mid > 0)) {
        bfi_put(pen, "The target of ");
        put_mass(pen, b->session->target_kg);
        bfi_put(pen, " is probably reached: ");
        bfi_put_weight(pen, pace->mass_kg);
        return;
    }
    bfi_put(pen, "Needs ");
    put_mass_range(pen, pace->needs_per_h_kg);
    bfi_put(pen, " an hour from here");
    if (is_told(pace->last_h_kg)) {
        bfi_put(pen, ", last hour ");
        put_mass_range(pen, pace->last_h_kg);
    } else if (is_told(pace->per_h_kg)) {
        bfi_put(pen, ", so far ");
        put_mass_range(pen, pace->per_h_kg);
    }
}

static void put_so_far(bfi_pen *pen, const bf_pace *pace) {
    put_mass_range(pen, pace->per_h_kg);
    bfi_put(pen, " and ");
    bfi_put_figures(pen, pace->fish_per_h, 2);
    bfi_put(pen, " fish an hour so far");
    if (!is_told(pace->last_h_kg)) return;
    bfi_put(pen, ", last hour ");
    put_mass_range(pen, pace->last_h_kg);
}

static void put_pace(bfi_pen *pen, const bank *b, const bf_pace *pace) {
    if (pace->n_fish < BF_PACE_LEAST || !is_told(pace->per_h_kg)) {
        bfi_put(pen, "Too early to say: ");
        bfi_put_so_many(pen, pace->n_fish, "fish", "fish");
    } else if (is_told(pace->needs_per_h_kg))
        put_needs(pen, b, pace);
    else
        put_so_far(pen, pace);
}

static void json_range(bfi_json *out, const char *key, bf_range range) {
    bfi_json_range(out, key, range, BF_MASS);
    bfi_json_close(out);
}

void bfi_json_pace(bfi_json *out, const bank *b) {
    char text[320];
    bf_pace pace = bf_pace_of(b->ask->fold, &b->guessing, b->now_ms);
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    put_pace(&pen, b, &pace);
    bfi_json_key(out, "pace");
    bfi_json_object(out);
    bfi_json_key_real(out, "n_fish", pace.n_fish);
    json_range(out, "mass_kg", pace.mass_kg);
    json_range(out, "per_h_kg", pace.per_h_kg);
    json_range(out, "last_h_kg", pace.last_h_kg);
    json_range(out, "needs_per_h_kg", pace.needs_per_h_kg);
    bfi_json_key_real(out, "fish_per_h", pace.fish_per_h);
    bfi_json_key_real(out, "last_h_fish", pace.last_h_fish);
    bfi_json_key_real(out, "hours", pace.hours);
    bfi_json_key_real(out, "hours_left", pace.hours_left);
    bfi_json_key_real(out, "target_kg", b->session->target_kg);
    bfi_json_key_text(out, "text", text);
    bfi_json_close(out);
}

/* ---- Remarks ---- */

static void json_over_notes(bfi_json *out, const bank *b) {
    char text[240];
    for (int i = 0; i < b->nets.n; i++) {
        const bf_net *net = &b->nets.net[i];
        if (!net->is_over || net->is_weighed || net->is_current) continue;
        bfi_pen pen = bfi_pen_open(text, sizeof text);
        put_over(&pen, b, net);
        bfi_put(&pen, ".");
        bfi_json_note(out, "net-over", text);
    }
}

void bfi_json_match_notes(bfi_json *out, const bank *b) {
    char text[320];
    int n_foul = b->session->count[BF_FOUL], n_refused = b->guessing.n_refused;
    bfi_json_key(out, "notes");
    bfi_json_array(out);
    json_over_notes(out, b);
    if (n_foul > 0) {
        bfi_pen pen = bfi_pen_open(text, sizeof text);
        bfi_put_so_many(&pen, n_foul, "foul-hooked fish is", "foul-hooked fish are");
        bfi_put(&pen, " not counted in the nets; one that was kept is to be entered as Fish, held outside.");
        bfi_json_note(out, "foul-not-counted", text);
    }
    if (n_refused > 0) {
        bfi_pen pen = bfi_pen_open(text, sizeof text);
        bfi_put_so_many(&pen, n_refused, "weighed net is", "weighed nets are");
        bfi_put(&pen,
                " too far from the fish entered for it to learn how you guess: some are probably missing.");
        bfi_json_note(out, "weighing-not-believed", text);
    }
    if (b->nets.unweighed.untold > 0) {
        bfi_pen pen = bfi_pen_open(text, sizeof text);
        bfi_put_so_many(&pen, b->nets.unweighed.untold, "fish", "fish");
        bfi_put(&pen, " without a size: taken as this lake's mean fish, about ");
        put_mass(&pen, floor(100 * bf_guessing_fish_kg(&b->guessing).mid + 0.5) / 100);
        bfi_put(&pen, ".");
        bfi_json_note(out, "fish-not-told", text);
    }
    bfi_json_close(out);
}
