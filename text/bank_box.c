/* bank_box.c -- the bait box in the answer to "bank": what was prepared less what went in. */
#include <math.h>

#include "baitfall/pot.h"
#include "text/bank.h"

/* ---- How counts, pours and weights go into each other ---- */

/* The standard deviation of a quantity over its value. */
static double sd_of(bf_quantity quantity) {
    return quantity.pm / BF_PM_PER_SD / quantity.value;
}

/* Packing differs between a pot and a box and with how it is poured (judgement). */
#define SOLID_SD 0.05
#define TUBE_M 0.04 /* a width between a pot's and a box's */

static bf_bait_measure measure_of(const bf_bait *bait) {
    if (!bait) return (bf_bait_measure){BF_NAN, BF_NAN, BF_NAN, BF_NAN, BF_NAN, BF_NAN};
    double d_m = bait->diameter_m.value, l_m = bait->length_m.value, scatter = bait->size_scatter_frac;
    double across = bf_piece_equivalent_m(bait->form, d_m, l_m) / TUBE_M;
    double voidage = bf_pot_voidage(bait->form, bf_piece_sphericity(bait->form, d_m, l_m), across, 0.5);
    int has_length = bait->form == BF_CYLINDER || bait->form == BF_LENS;
    double d_sd = (has_length ? 2 : 3) * sd_of(bait->diameter_m),
           l_sd = has_length ? sd_of(bait->length_m) : 0;
    return (bf_bait_measure){bf_piece_volume_m3(bait->form, d_m, l_m) * (1 + 3 * scatter * scatter),
                             1 - voidage,
                             bait->density_kg_m3.value,
                             sqrt(d_sd * d_sd + l_sd * l_sd),
                             SOLID_SD,
                             sd_of(bait->density_kg_m3)};
}

/* ---- Words ---- */

static double whole(double x) {
    return floor(x + 0.5);
}

/* "about 6 more pots (4-9)" */
static void put_more(bfi_pen *pen, const bf_box *box) {
    static const char *const ones[] = {"pot", "pot", "throw", "handful"};
    double mid = whole(box->put_ins.mid), lo = whole(box->put_ins.lo), hi = whole(box->put_ins.hi);
    bfi_put(pen, "about ");
    bfi_put_figures(pen, mid, 15);
    bfi_put(pen, " more ");
    bfi_put(pen, ones[box->how < 0 ? BF_CLUMP : box->how]);
    if (mid != 1) bfi_put(pen, "s");
    if (lo == hi) return;
    bfi_put(pen, " (");
    bfi_put_figures(pen, lo, 15);
    bfi_put(pen, "-");
    bfi_put_figures(pen, hi, 15);
    bfi_put(pen, ")");
}

#define LONG_S 28800.0 /* later than that is not worth an hour's name */

static void put_until(bfi_pen *pen, const bank *b, double s) {
    bfi_put_clock(pen, whole(b->now_ms + 1000 * s), b->session->east_min, 0);
}

/* ", till about 14:10 at this rate (13:40-14:50)"; of a session whose length is told only as far as its end. */
static void put_lasts(bfi_pen *pen, const bank *b, const bf_box *box) {
    double left_s = (b->session->opened_ms - b->now_ms) / 1000 + 3600 * b->session->hours;
    bf_range lasts_s = box->lasts_s;
    if (!b->is_open || !(lasts_s.mid > 0)) return;
    if (lasts_s.lo > left_s) {
        bfi_put(pen, ", enough to the end at this rate");
        return;
    }
    if (lasts_s.mid > LONG_S) return;
    bfi_put(pen, ", till about ");
    put_until(pen, b, lasts_s.mid);
    bfi_put(pen, " at this rate (");
    put_until(pen, b, lasts_s.lo);
    if (lasts_s.hi < LONG_S) {
        bfi_put(pen, "-");
        put_until(pen, b, lasts_s.hi);
    } else
        bfi_put(pen, " or later");
    bfi_put(pen, ")");
}

static void put_number_of(bfi_pen *pen, int n, const char *after) {
    if (n == 0) return;
    bfi_put(pen, "; ");
    bfi_put_number(pen, n, 0);
    bfi_put(pen, after);
}

static const bf_dimension dimensions[] = {
    [BF_BY_COUNT] = BF_PURE, [BF_BY_VOLUME] = BF_VOLUME, [BF_BY_MASS] = BF_MASS};

static void put_box(bfi_pen *pen, const bank *b, const bf_box *box) {
    char text[BF_SAY_MOST];
    bfi_put(pen, bf_bait_name(bf_journal_name(b->ask->journal, box->bait)));
    if (!(box->prepared > 0))
        bfi_put(pen, ": how much was prepared is not told");
    else if (box->left.hi <= 0)
        bfi_put(pen, ": by the entries the box is empty");
    else if (box->put_ins.mid == box->put_ins.mid) {
        bfi_put(pen, " for ");
        put_more(pen, box);
        put_lasts(pen, b, box);
    } else {
        bfi_put(pen, ": ");
        bfi_put_bytes(pen, text, bf_say(box->prepared, dimensions[box->by], text));
        bfi_put(pen, box->by == BF_BY_COUNT ? " pieces prepared" : " prepared");
        bfi_put(pen, box->n_put_ins ? ", how much went in is not known" : ", none put in yet");
    }
    put_number_of(pen, box->n_guessed, " put in without an amount, taken as the others");
    put_number_of(pen, box->n_after_end, " put in after the end, not counted");
    put_number_of(pen, box->n_mixed, " in another measure not counted: the bait is not known");
}

/* ---- The answer ---- */

static void json_box(bfi_json *out, const bank *b, const bf_box *box) {
    static const char *const units[] = {
        [BF_BY_COUNT] = "count", [BF_BY_VOLUME] = "volume_m3", [BF_BY_MASS] = "mass_kg"};
    char text[480];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    put_box(&pen, b, box);
    bfi_json_object(out);
    bfi_json_key_text(out, "bait", bf_journal_name(b->ask->journal, box->bait));
    bfi_json_key_text(out, "unit", units[box->by]);
    bfi_json_key_real(out, "prepared", box->prepared);
    bfi_json_key(out, "left");
    bfi_json_object(out);
    bfi_json_range(out, units[box->by], box->left, dimensions[box->by]);
    bfi_json_close(out);
    bfi_json_close(out);
    bfi_json_range(out, "put_ins", box->put_ins, BF_PURE);
    bfi_json_close(out);
    bfi_json_range(out, "lasts_s", box->lasts_s, BF_TIME);
    bfi_json_close(out);
    bfi_json_key_real(out, "n_put_ins", box->n_put_ins);
    bfi_json_key(out, "by_hour");
    bfi_json_array(out);
    for (int i = 0; i < box->n_hours; i++) bfi_json_real(out, box->by_hour[i]);
    bfi_json_close(out);
    bfi_json_key_text(out, "text", text);
    bfi_json_close(out);
}

void bfi_json_box(bfi_json *out, const bank *b) {
    int baits[BFI_KIT_BAITS], n = bf_box_baits(b->ask->fold, b->i_session, baits, BFI_KIT_BAITS);
    bfi_json_key(out, "box");
    bfi_json_array(out);
    for (int i = 0; i < n; i++) {
        bf_bait_measure measure =
            measure_of(bfi_baits_find(&b->baits, bf_journal_name(b->ask->journal, baits[i])));
        bf_box box = bf_box_of(b->ask->fold, b->i_session, baits[i], &measure, b->now_ms);
        json_box(out, b, &box);
    }
    bfi_json_close(out);
}
