#include "core/picture/drawn_rig.h"

#include <math.h>
#include <string.h>

#include "core/picture/swim.h"
#include "core/picture/words.h"

/* ---- from a rig ---- */

/* As many whole characters as a label takes. */
static void put_cut(bf_label *label, const char *text) {
    const char *end = text + strlen(text), *fits = text;
    for (const char *next = text; next < end;) {
        bfi_utf8_next(&next, end);
        if (next - text > BF_LABEL_BYTES) break;
        fits = next;
    }
    memcpy(label->text, text, (size_t)(fits - text));
    label->text[fits - text] = 0;
}

static void put_measure(bf_label *label, double value, int decimals, const char *unit) {
    bfi_pen pen = bfi_pen_open(label->text, sizeof label->text);
    if (!(fabs(value) < 1e6)) return;
    bfi_put_number(&pen, value, decimals);
    bfi_put(&pen, unit);
}

static bf_drawn_shot drawn_shot_of(const bf_shot *shot) {
    bf_drawn_shot drawn = {.count = shot->count, .at_m = shot->at_m, .apart_m = shot->apart_m};
    int is_weighed = shot->mass_kg > 0;
    if (is_weighed)
        put_measure(&drawn.name, 1e6 * shot->mass_kg, 0, " mg");
    else if (shot->size >= 0 && shot->size < bf_n_shot_sizes)
        put_cut(&drawn.name, bf_shot_sizes[shot->size].word);
    return drawn;
}

bf_drawn_rig bf_drawn_rig_of(const bf_rig *rig, double float_to_hook_m, const char *hook_bait) {
    bf_drawn_rig drawn = {.tip_to_float_m = rig->tip_to_float_m,
                          .float_to_hook_m = float_to_hook_m,
                          .hooklength_m = rig->hooklength.length_m,
                          .n_shots = rig->n_shots,
                          .n_back_shots = rig->n_back_shots};
    double float_kg = rig->flt.rating_kg > 0 ? rig->flt.rating_kg : rig->flt.capacity_kg;
    if (!(drawn.hooklength_m < float_to_hook_m)) drawn.hooklength_m = 0;
    put_measure(&drawn.float_name, 1e3 * float_kg, 2, " g");
    put_measure(&drawn.line, 1e3 * rig->line.diameter_m, 2, " mm");
    put_measure(&drawn.hooklength, 1e3 * rig->hooklength.diameter_m, 2, " mm");
    put_measure(&drawn.hook, rig->hook.size, 0, "");
    put_cut(&drawn.hook_bait, hook_bait);
    for (int k = 0; k < rig->n_shots; k++) drawn.shot[k] = drawn_shot_of(&rig->shot[k]);
    for (int k = 0; k < rig->n_back_shots; k++) drawn.back_shot[k] = drawn_shot_of(&rig->back_shot[k]);
    return drawn;
}

/* ---- checks ---- */

#define MOST_ALONG_M 30.0
#define MOST_SHOT 40

static bf_status check_rows(const bf_drawn_shot *row, int n, int most) {
    if (n < 0 || n > most) return BF_E_COUNT;
    for (int k = 0; k < n; k++) {
        const double numbers[] = {row[k].at_m, row[k].apart_m};
        if (row[k].count < 1 || row[k].count > MOST_SHOT) return BF_E_COUNT;
        if (!bfi_all_finite(numbers, 2)) return BF_E_NOT_FINITE;
        if (row[k].at_m < 0 || row[k].at_m > MOST_ALONG_M || row[k].apart_m < 0 || row[k].apart_m > 10)
            return BF_E_RANGE;
    }
    return BF_OK;
}

bf_status bfi_drawn_rig_check(const bf_drawn_rig *rig) {
    bf_status status = check_rows(rig->shot, rig->n_shots, BF_RIG_SHOTS);
    if (!status) status = check_rows(rig->back_shot, rig->n_back_shots, BF_RIG_BACK_SHOTS);
    if (status) return status;
    const double numbers[] = {rig->tip_to_float_m, rig->float_to_hook_m, rig->hooklength_m};
    if (!bfi_all_finite(numbers, 3)) return BF_E_NOT_FINITE;
    int is_fine = bfi_all_within(numbers, 3, MOST_ALONG_M) && rig->tip_to_float_m > 0 &&
                  rig->float_to_hook_m > 0 && rig->hooklength_m >= 0 &&
                  rig->hooklength_m < rig->float_to_hook_m;
    return is_fine ? BF_OK : BF_E_RANGE;
}

/* ---- order ---- */

double bfi_row_top_m(const bf_drawn_shot *row) {
    return row->at_m + (row->count - 1) * row->apart_m;
}

/* Distances that are read off a ruler as the same. */
#define SAME_M 0.0026

/* Whether single shot `low`, next below row `high`, goes on with its even distances. */
static int goes_on(const bf_drawn_shot *high, const bf_drawn_shot *low) {
    double apart = high->at_m - low->at_m;
    if (low->count != 1 || strcmp(high->name.text, low->name.text) != 0 || apart < SAME_M) return 0;
    return high->count == 1 || (high->apart_m > 0 && fabs(apart - high->apart_m) < SAME_M);
}

/* Single shot are taken together from the third on: two keep a line each. */
static int join_singles(bf_drawn_shot *row, int n) {
    int n_out = 0;
    for (int k = 0; k < n;) {
        bf_drawn_shot all = row[k];
        int next = k + 1;
        while (row[k].count == 1 && next < n && all.count < MOST_SHOT && goes_on(&all, &row[next])) {
            all.apart_m = all.at_m - row[next].at_m;
            all.at_m = row[next].at_m;
            all.count += 1;
            next += 1;
        }
        if (all.count == 2 && row[k].count == 1) {
            all = row[k];
            next = k + 1;
        }
        row[n_out++] = all;
        k = next;
    }
    return n_out;
}

int bfi_rows_downward(const bf_drawn_shot *row, int n, bf_drawn_shot *out) {
    for (int k = 0; k < n; k++) {
        int at = k;
        while (at > 0 && out[at - 1].at_m < row[k].at_m) {
            out[at] = out[at - 1];
            at -= 1;
        }
        out[at] = row[k];
    }
    return join_singles(out, n);
}

/* ---- in words ---- */

void bfi_put_row(bfi_pen *pen, const bf_drawn_shot *row) {
    const char *name = row->name.text[0] ? row->name.text : "shot";
    if (row->count > 1) {
        bfi_put_number(pen, row->count, 0);
        bfi_put(pen, row->name.text[0] ? " \xC3\x97 " : " ");
    }
    bfi_put(pen, name);
}

static void put_told_row(bfi_pen *pen, const bf_drawn_shot *row) {
    int is_bulk = row->count > 1 && row->apart_m == 0;
    if (is_bulk) bfi_put(pen, "bulk of ");
    if (row->count > 1) {
        bfi_put_number(pen, row->count, 0);
        bfi_put(pen, " ");
    }
    bfi_put(pen, row->name.text[0] ? row->name.text : "shot");
    bfi_put(pen, " at ");
    bfi_put_rig_length(pen, row->at_m);
    if (is_bulk || row->count == 1) return;
    bfi_put(pen, ", then every ");
    bfi_put_rig_length(pen, row->apart_m);
}

void bfi_put_rows(bfi_pen *pen, const bf_drawn_shot *row, int n, size_t room) {
    static const char more[] = ", and more";
    if (n == 0) bfi_put(pen, "no shot");
    for (int k = 0; k < n; k++) {
        char text[128];
        bfi_pen word = bfi_pen_open(text, sizeof text);
        put_told_row(&word, &row[k]);
        size_t last = k < n - 1 ? sizeof more : 0;
        if (word.is_short || word.n + 2 + last > room) {
            bfi_put(pen, k ? more : "several rows");
            return;
        }
        bfi_put(pen, k ? ", " : "");
        bfi_put(pen, text);
        room -= word.n + 2;
    }
}
