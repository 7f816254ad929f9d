/* told.c -- see told.h. */
#include "text/told.h"

#include <math.h>
#include <string.h>

void bfi_told_start(bfi_told *told) {
    told->pen = bfi_pen_open(told->text, sizeof told->text);
}

/* ---- Pieces ---- */

void bfi_put_between(bfi_pen *pen, double mid, double lo, double hi) {
    char text[BF_SAY_MOST];
    if (isnan(mid)) {
        bfi_put(pen, BFI_TOO_EARLY);
        return;
    }
    bfi_put_bytes(pen, text, bf_say_range((bf_range){mid, mid, lo, hi}, BF_PURE, text));
}

void bfi_put_estimate(bfi_pen *pen, bf_estimate estimate) {
    bfi_put_between(pen, estimate.mid, estimate.lo, estimate.hi);
}

void bfi_put_wait(bfi_pen *pen, bf_banded wait_s) {
    if (!isfinite(wait_s.value)) {
        bfi_put(pen, isnan(wait_s.value) ? BFI_TOO_EARLY : "not reached");
        return;
    }
    bfi_put_about(pen, wait_s.value);
    if (isnan(wait_s.lower)) return;
    bfi_put(pen, " (");
    bfi_put_about(pen, wait_s.lower);
    if (isfinite(wait_s.upper)) {
        bfi_put(pen, "-");
        bfi_put_about(pen, wait_s.upper);
        bfi_put(pen, ")");
    } else {
        bfi_put(pen, " and up)");
    }
}

static void put_factor(bfi_pen *pen, double factor) {
    if (isfinite(factor))
        bfi_put_figures(pen, factor, 2);
    else
        bfi_put(pen, "any");
}

void bfi_put_ratio(bfi_pen *pen, bf_banded ratio) {
    if (isnan(ratio.value)) {
        bfi_put(pen, BFI_TOO_EARLY);
        return;
    }
    put_factor(pen, ratio.value);
    bfi_put(pen, " (");
    put_factor(pen, ratio.lower);
    bfi_put(pen, isfinite(ratio.upper) ? "-" : " to ");
    put_factor(pen, ratio.upper);
    bfi_put(pen, ")");
}

void bfi_put_times(bfi_pen *pen, double ratio) {
    if (ratio > 20) bfi_put(pen, "over ");
    bfi_put_figures(pen, ratio > 20 ? 20 : ratio, 2);
    bfi_put(pen, " times");
}

static double tens(double p) {
    return floor(10 * p + 0.5);
}

void bfi_put_in_ten(bfi_pen *pen, double p) {
    double n = tens(p);
    if (n < 1) bfi_put(pen, "under ");
    if (n > 9) bfi_put(pen, "over ");
    bfi_put_number(pen, n < 1 ? 1 : n > 9 ? 9 : n, 0);
    bfi_put(pen, " in 10");
}

void bfi_put_share(bfi_pen *pen, bf_estimate share) {
    if (isnan(share.mid)) {
        bfi_put(pen, BFI_TOO_EARLY);
        return;
    }
    bfi_put_number(pen, tens(share.mid), 0);
    bfi_put(pen, " in 10 (");
    bfi_put_number(pen, tens(share.lo), 0);
    bfi_put(pen, "-");
    bfi_put_number(pen, tens(share.hi), 0);
    bfi_put(pen, ")");
}

void bfi_put_so_many(bfi_pen *pen, double n, const char *one, const char *more) {
    int is_whole = n == floor(n);
    if (!is_whole) bfi_put(pen, "about ");
    bfi_put_number(pen, n, is_whole ? 0 : 1);
    bfi_put(pen, " ");
    bfi_put(pen, n == 1 ? one : more);
}

const char *const bfi_how_said[] = {
    [BF_CLUMP] = "tipped", [BF_SPRINKLE] = "shaken out", [BF_THROW] = "by catapult", [BF_HAND] = "by hand"};

const char *const bfi_held_said[] = {"top lip middle", "top lip side", "bottom lip",
                                     "corner",         "outside",      "body"};

const char *const bfi_months[12] = {"January", "February", "March",     "April",   "May",      "June",
                                    "July",    "August",   "September", "October", "November", "December"};

void bfi_put_date(bfi_pen *pen, double ms, int east_min, int is_short) {
    char text[BF_INSTANT_BYTES];
    bf_instant_write(ms, east_min, text); // 2026-04-12T...
    const char *month = bfi_months[10 * (text[5] - '0') + text[6] - '0' - 1];
    int has_zero = text[8] == '0';
    bfi_put_bytes(pen, text + 8 + has_zero, has_zero ? 1 : 2);
    bfi_put(pen, " ");
    bfi_put_bytes(pen, month, is_short ? 3 : strlen(month));
    bfi_put(pen, " ");
    bfi_put_bytes(pen, text, 4);
}

void bfi_put_hours(bfi_pen *pen, double from_ms, double to_ms, int east_min) {
    bfi_put_clock(pen, from_ms, east_min, 0);
    bfi_put(pen, "-");
    bfi_put_clock(pen, to_ms, east_min, 0);
}

const char *bfi_find_text(const char *text, const char *part) {
    size_t n = strlen(part);
    for (; *text; text++)
        if (strncmp(text, part, n) == 0) return text;
    return NULL;
}

/* ---- Members ---- */

void bfi_json_estimate(bfi_json *out, const char *key, double mid, double lo, double hi) {
    bfi_told told;
    bfi_told_start(&told);
    bfi_put_between(&told.pen, mid, lo, hi);
    bfi_json_key(out, key);
    bfi_json_object(out);
    bfi_json_key_real(out, "mid", mid);
    bfi_json_key_real(out, "lo", lo);
    bfi_json_key_real(out, "hi", hi);
    bfi_json_key_text(out, "text", told.text);
    bfi_json_close(out);
}

void bfi_json_note(bfi_json *out, const char *code, const char *text) {
    bfi_json_object(out);
    bfi_json_key_text(out, "code", code);
    bfi_json_key_text(out, "text", text);
    bfi_json_close(out);
}

void bfi_label_short(bf_label *to, const char *id) {
    bfi_cut(to->text, sizeof to->text, bf_bait_name(id), bf_bait_short(id));
}

void bfi_json_short(bfi_json *out, const char *id) {
    bf_label name;
    bfi_label_short(&name, id);
    bfi_json_text(out, name.text);
}

void bfi_table_start(bfi_json *out, const char *name, const char *title, const char *finding,
                     const char *const *heads) {
    bfi_json_object(out);
    bfi_json_key_text(out, "name", name);
    bfi_json_key_text(out, "title", title);
    bfi_json_key_text(out, "finding", finding);
    bfi_json_key(out, "heads");
    bfi_json_array(out);
    for (int i = 0; heads[i]; i++) bfi_json_text(out, heads[i]);
    bfi_json_close(out);
    bfi_json_key(out, "rows");
    bfi_json_array(out);
}

void bfi_table_end(bfi_json *out) {
    bfi_json_close(out);
    bfi_json_close(out);
}

void bfi_cell_count(bfi_json *out, double n) {
    bfi_told told;
    bfi_told_start(&told);
    bfi_put_number(&told.pen, n, n == floor(n) ? 0 : 1);
    bfi_json_text(out, told.text);
}

void bfi_cell_told(bfi_json *out, const bfi_told *told) {
    bfi_json_text(out, told->text);
}
