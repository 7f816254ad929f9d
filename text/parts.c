/* parts.c -- members that answers have in common: outputs, shares, notes. */
#include <string.h>

#include "text/said.h"
#include "text/work.h"

/* The path of an uncertain input: "bait.density_kg_m3". */
static void input_path(const bf_schema *in, bf_input input, char *path, size_t most) {
    bfi_field_path(&in->section[input.section], input.row, input.field, 0, path, most);
}

/* ---- Outputs ---- */

/* The input with the largest share, -1: no single one has more than what cannot be parted. */
static int largest_share(const bf_ensemble_result *result, int i_out) {
    int largest = -1;
    double share = result->together[i_out];
    for (int q = 0; q < result->n_inputs; q++)
        if (result->share[i_out][q] > share) {
            share = result->share[i_out][q];
            largest = q;
        }
    return largest;
}

void bfi_take_nominal(const double *nominal, int n_out, bf_ensemble_result *result) {
    memset(result, 0, sizeof *result);
    for (int i = 0; i < n_out; i++) result->range[i] = (bf_range){nominal[i], BF_NAN, BF_NAN, BF_NAN};
}

void bfi_json_output(bfi_json *json, const bf_table *out, int i_out, const bf_schema *in,
                     const bf_ensemble_result *result) {
    const bf_field *field = &out->field[i_out];
    bf_range range = result->range[i_out];
    int largest = largest_share(result, i_out);
    char path[128] = "together";
    bfi_json_range_of(json, field, range);
    if (largest >= 0) input_path(in, result->input[largest], path, sizeof path);
    if (range.hi > range.lo) bfi_json_key_text(json, "mostly", path);
    bfi_json_close(json);
}

void bfi_json_shares(bfi_json *json, const bf_table *out, const bf_schema *in,
                     const bf_ensemble_result *result) {
    bfi_json_key(json, "shares");
    bfi_json_object(json);
    for (int o = 0; o < out->n_fields; o++) {
        if (!(result->range[o].hi > result->range[o].lo)) continue;
        bfi_json_key(json, out->field[o].name);
        bfi_json_object(json);
        for (int q = 0; q < result->n_inputs; q++) {
            char path[128];
            input_path(in, result->input[q], path, sizeof path);
            bfi_json_key_real(json, path, result->share[o][q]);
        }
        bfi_json_key_real(json, "together", result->together[o]);
        bfi_json_close(json);
    }
    bfi_json_close(json);
}

/* ---- Notes ---- */

void bfi_json_notes(bfi_json *json, const bf_note *notes, int n) {
    bfi_json_key(json, "notes");
    bfi_json_array(json);
    for (int i = 0; i < n; i++) {
        char text[640];
        bfi_pen pen = bfi_pen_open(text, sizeof text);
        bfi_put_said(&pen, bf_note_sentence(notes[i].code), notes[i].number, NULL);
        bfi_json_object(json);
        bfi_json_key_text(json, "code", bf_note_slug(notes[i].code));
        bfi_json_key_text(json, "text", text);
        bfi_json_close(json);
    }
    bfi_json_close(json);
}
