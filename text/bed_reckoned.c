/* bed_reckoned.c -- what the model believes, as members of the answer to "bed": left, fish, bites, the ledger, the series. */
#include <math.h>

#include "core/picture/bed.h"
#include "text/bedded.h"

static const char *nothing_fed(const bfi_bedded *b) {
    return b->is_cut ? "nothing was fed here in the last 24 hours" : "nothing was fed here";
}

/* ---- What is left ---- */

/* "few", "few to some" */
static void put_band(bfi_pen *pen, const bf_range *fish) {
    int lo = bf_many_of(fish->lo), hi = bf_many_of(fish->hi);
    bfi_put(pen, bf_many_words[lo]);
    if (lo == hi) return;
    bfi_put(pen, " to ");
    bfi_put(pen, bf_many_words[hi]);
}

static const char *left_word(double pieces) {
    return pieces < 1 ? "none" : pieces < 10 ? "few" : pieces < 50 ? "some" : "plenty";
}

/* key:{"mid","lo","hi","text"; left open. */
static void json_between(bfi_json *out, const char *key, bf_range range, const char *text) {
    if (key) bfi_json_key(out, key);
    bfi_json_object(out);
    bfi_json_key_real(out, "mid", range.mid);
    bfi_json_key_real(out, "lo", range.lo);
    bfi_json_key_real(out, "hi", range.hi);
    if (text) bfi_json_key_text(out, "text", text);
}

static void tell_pieces(bfi_told *told, const bfi_bedded *b, const bf_range *range) {
    bfi_told_start(told);
    if (b->n_puts == 0)
        bfi_put(&told->pen, nothing_fed(b));
    else if (isnan(range->mid))
        bfi_put(&told->pen, BFI_TOO_EARLY);
    else
        bfi_put_pieces(&told->pen, range);
}

void bfi_json_bed_spot(bfi_json *out, const bfi_bedded *b, int spot, double fed) {
    const bf_bed_spot *at = &b->bed.spot[spot];
    bfi_told left, fish;
    bfi_told_start(&left);
    bfi_told_start(&fish);
    if (isnan(at->left.mid))
        bfi_put(&left.pen, BFI_TOO_EARLY);
    else if (fed > 0)
        bfi_put_pieces(&left.pen, &at->left);
    else
        bfi_put(&left.pen, nothing_fed(b));
    if (!isnan(at->fish.mid)) put_band(&fish.pen, &at->fish);
    json_between(out, "left", at->left, left.text);
    bfi_json_close(out);
    bfi_json_key_text(out, "fish", fish.text);
}

static void json_left(bfi_json *out, const bfi_bedded *b) {
    bfi_told told;
    tell_pieces(&told, b, &b->bed.left);
    json_between(out, "left", b->bed.left, told.text);
    bfi_json_key_text(out, "word", isnan(b->bed.left.mid) ? "" : left_word(b->bed.left.mid));
    bfi_json_close(out);
    bfi_json_range(out, "left_kg", b->bed.left_kg, BF_MASS);
    bfi_json_close(out);
}

/* Which size class a feed counts to: the nearest by its logarithm, as in the model. */
static int class_of(const bf_bed *bed, double diameter_m) {
    int nearest = 0;
    double least = BF_INFINITY;
    for (int k = 0; k < bed->n_classes; k++) {
        double a = bed->class_m[k], ratio = a > diameter_m ? a / diameter_m : diameter_m / a;
        if (ratio < least) {
            least = ratio;
            nearest = k;
        }
    }
    return nearest;
}

static void json_left_of(bfi_json *out, const bfi_bedded *b) {
    const bf_bed *bed = &b->bed;
    bfi_json_key(out, "left_of");
    bfi_json_array(out);
    for (int k = 0; k < bed->n_classes; k++) {
        bfi_told told, baits, names;
        bfi_told_start(&baits);
        bfi_told_start(&names);
        for (int i = 0; i < b->scene.n_feeds; i++) {
            if (class_of(bed, b->scene.feed[i].diameter_m) != k) continue;
            const char *id = bfi_bed_name(b, b->names.feed[i]), *comma = baits.pen.n ? ", " : "";
            bfi_put(&baits.pen, comma);
            bfi_put(&baits.pen, id);
            bfi_put(&names.pen, comma);
            bfi_put(&names.pen, bf_bait_name(id));
        }
        tell_pieces(&told, b, &bed->left_of[k]);
        json_between(out, NULL, bed->left_of[k], told.text);
        bfi_json_key_real(out, "size_m", bed->class_m[k]);
        bfi_json_key_text(out, "bait", baits.text);
        bfi_json_key_text(out, "name", names.text);
        bfi_json_close(out);
    }
    bfi_json_close(out);
}

static void json_dots(bfi_json *out, const char *key, const double dot[20]) {
    bfi_json_key(out, key);
    bfi_json_array(out);
    for (int i = 0; i < 20; i++) bfi_json_real(out, dot[i]);
    bfi_json_close(out);
}

/* ---- Fish ---- */

/* Shares in tenths that add up to ten: what is cut off goes to those that lose most by it. */
static void in_tenths(const double p[BF_N_MANY], int tenth[BF_N_MANY]) {
    int sum = 0;
    for (int i = 0; i < BF_N_MANY; i++) sum += tenth[i] = (int)floor(10 * p[i]);
    while (sum < 10) {
        int most = 0;
        for (int i = 1; i < BF_N_MANY; i++)
            if (10 * p[i] - tenth[i] > 10 * p[most] - tenth[most]) most = i;
        tenth[most]++, sum++;
    }
}

/* "few to some: few 4 in 10, some 5 in 10", "few, over 9 in 10"; what is not one in ten is left out. */
static void put_fish(bfi_pen *pen, const bf_bed *bed) {
    int n = 0, lo = bf_many_of(bed->fish.lo), hi = bf_many_of(bed->fish.hi), tenth[BF_N_MANY];
    put_band(pen, &bed->fish);
    if (lo == hi) {
        bfi_put(pen, ", ");
        bfi_put_in_ten(pen, bed->p_many[lo]);
        return;
    }
    in_tenths(bed->p_many, tenth);
    for (int i = 0; i < BF_N_MANY; i++) {
        if (tenth[i] == 0) continue;
        bfi_put(pen, n++ ? ", " : ": ");
        bfi_put(pen, bf_many_words[i]);
        bfi_put(pen, " ");
        bfi_put_in_ten(pen, 0.1 * tenth[i]);
    }
}

static void json_fish(bfi_json *out, const bf_bed *bed) {
    bfi_told band, told;
    int is_known = !isnan(bed->fish.mid);
    bfi_told_start(&band);
    bfi_told_start(&told);
    if (is_known) {
        put_band(&band.pen, &bed->fish);
        put_fish(&told.pen, bed);
    } else
        bfi_put(&told.pen, BFI_TOO_EARLY);
    bfi_json_key(out, "fish");
    bfi_json_object(out);
    bfi_json_key_text(out, "word", is_known ? bf_many_words[bf_many_of(bed->fish.mid)] : "");
    bfi_json_key_text(out, "band", band.text);
    bfi_json_key(out, "p");
    bfi_json_object(out);
    for (int i = 0; i < BF_N_MANY; i++) // a sum of shares may end a rounding above 1
        bfi_json_key_real(out, bf_many_words[i], bed->p_many[i] > 1 ? 1 : bed->p_many[i]);
    bfi_json_close(out);
    bfi_json_key_text(out, "text", told.text);
    bfi_json_close(out);
}

/* Of bites an hour more than one a minute is said no closer: each takes a drop. */
#define MOST_BITES_H 60

static void put_bites_h(bfi_pen *pen, double bites_h) {
    bfi_put(pen, bites_h > MOST_BITES_H ? "over " : "");
    bfi_put_figures(pen, bites_h > MOST_BITES_H ? MOST_BITES_H : floor(bites_h + 0.5), 2);
}

/* "about 19 an hour (8 in 10: 3-40)", "under 1 an hour": the mean, since what comes of many days like this one is its mean. */
static void put_bites(bfi_pen *pen, double mean_h, bf_range bites_h) {
    bfi_put(pen, mean_h < 0.5 ? "under 1" : mean_h > MOST_BITES_H ? "" : "about ");
    if (mean_h >= 0.5) put_bites_h(pen, mean_h);
    bfi_put(pen, " an hour");
    if (mean_h >= 0.5 && bites_h.hi < 0.5)
        bfi_put(pen, " (mostly none)");
    else if (bites_h.hi >= 0.5) {
        bfi_put(pen, " (8 in 10: ");
        put_bites_h(pen, bites_h.lo);
        if (bites_h.lo <= MOST_BITES_H) {
            bfi_put(pen, bites_h.hi > MOST_BITES_H ? " to " : "-");
            put_bites_h(pen, bites_h.hi);
        }
        bfi_put(pen, ")");
    }
    bfi_put(pen, " with the rig in, over the next ten minutes");
}

static void json_bites(bfi_json *out, const bf_bed *bed) {
    bfi_told told;
    bfi_told_start(&told);
    if (isnan(bed->bites_h.mid))
        bfi_put(&told.pen, BFI_TOO_EARLY);
    else
        put_bites(&told.pen, bed->bites_mean_h, bed->bites_h);
    json_between(out, "bites_h", bed->bites_h, told.text);
    bfi_json_key_real(out, "mean", bed->bites_mean_h);
    bfi_json_close(out);
}

/* ---- Where it lies ---- */

/* Whole centimetres: the model knows no better. */
static double whole_cm(double m) {
    return floor(100 * m + 0.5);
}

static void put_wide(bfi_pen *pen, bf_range wide, double left) {
    double lo = whole_cm(wide.lo), hi = whole_cm(wide.hi);
    bfi_put(pen, left < 0.5 ? "if anything is left, about " : "about ");
    bfi_put_figures(pen, whole_cm(wide.mid), 15);
    bfi_put(pen, " cm");
    if (!(lo < hi)) return;
    bfi_put(pen, " (");
    bfi_put_figures(pen, lo, 15);
    bfi_put(pen, "-");
    bfi_put_figures(pen, hi, 15);
    bfi_put(pen, ")");
}

static void json_wide(bfi_json *out, const bfi_bedded *b) {
    bfi_told told;
    bfi_told_start(&told);
    if (b->n_puts == 0)
        bfi_put(&told.pen, nothing_fed(b));
    else if (isnan(b->bed.left.mid))
        bfi_put(&told.pen, BFI_TOO_EARLY);
    else if (isnan(b->bed.wide_m.mid))
        bfi_put(&told.pen, "nothing left that lies anywhere");
    else
        put_wide(&told.pen, b->bed.wide_m, b->bed.left.mid);
    json_between(out, "wide_m", b->bed.wide_m, told.text);
    bfi_json_close(out);
}

/* ---- The ledger ---- */

static const bf_range none_gone = {BF_NAN, 0, 0, 0};

/* What went in the k-th interval from the end; the put-in of this very instant has none. */
static bf_range gone_since(const bfi_bedded *b, const bfi_bed_put *put) {
    for (int i = 0; i < b->job.n_ledger; i++)
        if (b->job.ledger_s[i] == put->t_s) return b->bed.ledger[i].eaten;
    return none_gone;
}

static double ends_s(const bfi_bedded *b, int i) {
    return i + 1 < b->n_puts ? b->puts[i + 1].t_s : b->job.until_s;
}

/* "+55, gone 30-45; 3 drops: 1 fish, 2 missed" */
static void put_entry(bfi_pen *pen, const bfi_bedded *b, int i, bf_range gone) {
    bfi_bed_drops drops = bfi_bed_drops_in(b, b->puts[i].t_s, ends_s(b, i));
    bfi_put(pen, "+");
    bfi_put_bed_in(pen, b, &b->puts[i]);
    bfi_put(pen, ", gone ");
    bfi_put_pieces_between(pen, gone);
    if (!drops.n && !drops.n_touches) return;
    bfi_put(pen, "; ");
    bfi_put_bed_drops(pen, &drops);
}

static void json_ledger(bfi_json *out, const bfi_bedded *b) {
    int least = b->n_puts - BF_BELIEF_MOST_LEDGER;
    bfi_json_key(out, "ledger");
    bfi_json_array(out);
    for (int i = b->n_puts - 1; i >= 0 && i >= least; i--) {
        bfi_told what, told;
        bf_range gone = gone_since(b, &b->puts[i]);
        bfi_told_start(&what);
        bfi_told_start(&told);
        bfi_put_bed_put(&what.pen, b, &b->puts[i]);
        put_entry(&told.pen, b, i, gone);
        bfi_json_object(out);
        bfi_json_instant(out, "from", bfi_bed_ms(b, b->puts[i].t_s), b->session->east_min);
        bfi_json_instant(out, "to", bfi_bed_ms(b, ends_s(b, i)), b->session->east_min);
        bfi_json_key_text(out, "what", what.text);
        bfi_json_key_real(out, "in", b->puts[i].pieces);
        json_between(out, "gone", gone, NULL);
        bfi_json_close(out);
        bfi_json_key_text(out, "text", told.text);
        bfi_json_close(out);
    }
    bfi_json_close(out);
}

/* "last pot +55, eaten 30-45, left 10-25" */
static void json_sentence(bfi_json *out, const bfi_bedded *b) {
    static const char *const last[] = {"last pot", "last shake", "last throw", "last handful"};
    bfi_told told;
    bfi_told_start(&told);
    if (b->n_puts == 0)
        bfi_put(&told.pen, "nothing fed: too early to say");
    else {
        const bfi_bed_put *put = &b->puts[b->n_puts - 1];
        bfi_put(&told.pen, last[put->how]);
        bfi_put(&told.pen, " +");
        bfi_put_bed_in(&told.pen, b, put);
        if (b->bed.left.hi < 0.5)
            bfi_put(&told.pen, ", very likely all gone");
        else {
            bfi_put(&told.pen, ", eaten ");
            bfi_put_pieces_between(&told.pen, gone_since(b, put));
            bfi_put(&told.pen, ", left ");
            bfi_put_pieces_between(&told.pen, b->bed.left);
        }
    }
    bfi_json_key_text(out, "sentence", told.text);
}

/* ---- The series, and all together ---- */

static void json_series(bfi_json *out, const bfi_bedded *b) {
    bfi_json_key(out, "series");
    bfi_json_array(out);
    for (int i = 0; i < b->bed.n_points; i++) {
        const bf_bed_point *point = &b->bed.point[i];
        bfi_json_object(out);
        bfi_json_instant(out, "at", bfi_bed_ms(b, point->t_s), b->session->east_min);
        bfi_json_key_real(out, "lo", point->left.lo);
        bfi_json_key_real(out, "mid", point->left.mid);
        bfi_json_key_real(out, "hi", point->left.hi);
        bfi_json_close(out);
    }
    bfi_json_close(out);
}

void bfi_json_bed_reckoned(bfi_json *out, const bfi_bedded *b) {
    json_left(out, b);
    json_left_of(out, b);
    json_dots(out, "left_dots", b->bed.left_dot);
    json_fish(out, &b->bed);
    json_dots(out, "fish_dots", b->bed.fish_dot);
    json_bites(out, &b->bed);
    json_wide(out, b);
    bfi_json_key_real(out, "miss_m", b->scene.spot[b->job.spot].miss_m);
    json_ledger(out, b);
    json_sentence(out, b);
    json_series(out, b);
}
