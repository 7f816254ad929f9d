/* stood.c -- see stood.h. */
#include "text/stood.h"

#include <math.h>

#include "text/told.h"

void bfi_json_chain(bfi_json *out, const bf_rig *rig) {
    bf_chain chain;
    if (bf_chain_of(&rig->hook, &rig->hooklength, &rig->line, &rig->elastic, &chain)) return;
    bfi_json_key(out, "chain");
    bfi_json_array(out);
    for (int i = 0; i < BF_N_CHAIN_PARTS; i++) {
        bfi_json_object(out);
        bfi_json_key_text(out, "part", bf_chain_words[i]);
        bfi_json_range(out, "holds_n", chain.part[i].holds_n, BF_FORCE);
        bfi_json_close(out);
        bfi_json_key_real(out, "gives_first_frac", chain.part[i].gives_first_frac);
        bfi_json_close(out);
    }
    bfi_json_close(out);
}

/* "7 in 10" */
static void put_in_ten(bfi_json *out, const char *key, double chance) {
    char text[32];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    if (chance == chance)
        bfi_put_in_ten(&pen, chance);
    else
        bfi_put(&pen, "no answer");
    bfi_json_key_text(out, key, text);
}

void bfi_json_chance(bfi_json *out, const double *rows, int n_rows) {
    bf_aim_chance chance;
    bf_aim_chance_of(rows, n_rows, &chance);
    bfi_json_key(out, "chance");
    bfi_json_object(out);
    bfi_json_key_real(out, "within_5cm", chance.within_5cm);
    bfi_json_key_real(out, "within_10cm", chance.within_10cm);
    bfi_json_key_real(out, "within_15cm", chance.within_15cm);
    put_in_ten(out, "text", chance.within_5cm);
    put_in_ten(out, "text_10cm", chance.within_10cm);
    put_in_ten(out, "text_15cm", chance.within_15cm);
    bfi_json_close(out);
}

void bfi_json_fit(bfi_json *out, const bf_aiming *aiming) {
    bfi_json_key_real(out, "fit_error_m", aiming->fit.n > 0 ? aiming->fit.error_m : BF_NAN);
}

/* "nine drops in ten lie within 22 cm instead of 30 cm"; where that would be told twice the same, "... 4 mm nearer": no finer than
 * a whole millimetre, since over seeds a gain scatters by as much (aim.h). */
static void put_gain(bfi_json *out, const bf_mend *mend) {
    char text[96];
    const double whole_mm = floor(1000 * mend->gain_m + 0.5);
    const double number[3] = {mend->miss_90_m, mend->miss_90_m + mend->gain_m, whole_mm / 1000};
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    bfi_put_said(&pen,
                 mend->gain_m < 0.01 ? "nine drops in ten lie {2:mm} nearer"
                                     : "nine drops in ten lie within {0:cm} instead of {1:cm}",
                 number, NULL);
    bfi_json_key_text(out, "gain", text);
}

void bfi_json_mends(bfi_json *out, const bf_mend mends[], int n) {
    bfi_json_key(out, "mend");
    bfi_json_array(out);
    for (int i = 0; i < n; i++) {
        char text[320];
        bfi_pen pen = bfi_pen_open(text, sizeof text);
        bfi_put_said(&pen, bf_mend_sentence(mends[i].kind), mends[i].number, NULL);
        bfi_json_object(out);
        bfi_json_key_text(out, "input", bf_mend_input(mends[i].kind));
        bfi_json_key_text(out, "text", text);
        put_gain(out, &mends[i]);
        bfi_json_key_real(out, "share_frac", mends[i].share_frac);
        bfi_json_key_real(out, "miss_50_m", mends[i].miss_50_m);
        bfi_json_key_real(out, "miss_90_m", mends[i].miss_90_m);
        bfi_json_key_real(out, "gain_m", mends[i].gain_m);
        bfi_json_close(out);
    }
    bfi_json_close(out);
}
