/* plan_feed.c -- what each line of feed comes to, and the box against their sum. See plans.h. */
#include <string.h>

#include "text/plans.h"

static const char *how_word(int how) {
    int is_pm, field = bf_field_find(&bf_put_table, "how", 3, &is_pm);
    return bf_put_table.field[field].words[how];
}

void bfi_say_amount(const bf_plan *plan, int line, char text[BF_SAY_MOST]) {
    const bf_put *put = &plan->put[line];
    const bf_plan_line *said = &plan->line[line];
    int is_by_pot = put->how == BF_CLUMP || put->how == BF_SPRINKLE;
    bfi_pen pen = bfi_pen_open(text, BF_SAY_MOST);
    if (put->count == put->count) {
        bfi_put_figures(&pen, put->count, 15);
    } else if (said->volume_m3 == said->volume_m3) {
        bf_say(said->volume_m3, BF_VOLUME, text);
    } else if (said->fill_frac == said->fill_frac) {
        bfi_put_figures(&pen, said->fill_frac, 2);
        bfi_put(&pen, " pot");
    } else {
        bfi_put(&pen, is_by_pot ? "1 pot" : "a pinch");
    }
}

/* When a line goes in. */
static void put_times(const bf_plan *plan, int line, bfi_json *out) {
    double last_s;
    int n = bf_plan_times(plan, line, &last_s);
    bfi_json_key_real(out, "put_ins", n);
    bfi_json_key_real(out, "from_s", plan->line[line].from_s);
    if (n == 1) return;
    bfi_json_key_real(out, "every_s", plan->line[line].every_s);
    bfi_json_key_real(out, "until_s", last_s);
}

static int column_of(const bf_table *table, const char *name) {
    int i = 0;
    while (strcmp(table->field[i].name, name) != 0) i++;
    return i;
}

static bf_status put_line(bfi_work *work, int line, const double *rows, bfi_json *out) {
    bfi_plan *o = work->own;
    bf_note notes[BF_MOST_NOTES];
    const bfi_job *job = bfi_plan_job(o, BFI_JOB_FEED, line);
    bf_status status = bfi_job_finish(work, job, rows, &o->put, o->nominal + line * BF_PLAN_N_OUT);
    if (status) {
        char path[32];
        bfi_field_path(&bf_plan_schema.section[BF_PLAN_LINE], line, -1, 0, path, sizeof path);
        return bfi_fail(&work->error, status, path, NULL, -1, "");
    }
    o->line_pieces[line] = o->result.range[BF_PLAN_PIECES];
    o->line_wide_m[line] = o->result.range[column_of(&bf_spread_out_table, "wide_m")];
    o->line_last_s[line] = o->result.range[column_of(&bf_spread_out_table, "last_s")];
    bfi_json_object(out);
    bfi_json_key_text(out, "spot", bfi_plan_name(work, BF_PLAN_SPOT, o->plan.line[line].spot));
    bfi_json_key_text(out, "bait", bfi_plan_name(work, BF_PLAN_KIT_BAITS, o->plan.line[line].bait));
    bfi_json_key_text(out, "how", how_word(o->plan.put[line].how));
    put_times(&o->plan, line, out);
    for (int i = 0; i < BF_PLAN_N_OUT; i++) bfi_json_output(out, &o->columns, i, &o->put.schema, &o->result);
    int n = bf_plan_notes(&o->put, &o->result, notes);
    if (n < BF_MOST_NOTES) n += bf_plan_time_notes(&o->plan, line, notes + n);
    bfi_json_notes(out, notes, n);
    bfi_json_close(out);
    return BF_OK;
}

static void put_range(bfi_json *out, const char *key, bf_range range, bf_dimension dimension) {
    bfi_json_range(out, key, range, dimension);
    bfi_json_close(out);
}

static void put_box(const bf_plan_supply *supply, bfi_json *out) {
    switch (supply->unit) {
    case BF_PLAN_MASS: put_range(out, "left_kg", supply->left, BF_MASS); break;
    case BF_PLAN_VOLUME: put_range(out, "left_m3", supply->left, BF_VOLUME); break;
    default: put_range(out, "left_pieces", supply->left, BF_PURE); break;
    }
    bfi_json_key_real(out, "enough_frac", supply->enough_frac);
}

static void put_bait(bfi_work *work, int bait, const double *rows, bfi_json *out) {
    bfi_plan *o = work->own;
    bf_plan_supply *supply = &o->supply[bait];
    int n_draws = o->is_nominal ? 0 : work->n_draws;
    /* The lines' jobs stand behind each other. */
    if (n_draws > 0) rows = bfi_job_row(bfi_plan_job(o, BFI_JOB_FEED, 0), rows, 0);
    bf_plan_sum(&o->plan, bait, rows, BFI_PLAN_COLUMNS, o->nominal, n_draws, work->spare, supply);
    if (supply->n_put_ins == 0 && supply->box < 0) return;
    bfi_json_object(out);
    bfi_json_key_text(out, "bait", bfi_plan_name(work, BF_PLAN_KIT_BAITS, bait));
    bfi_json_key_real(out, "put_ins", supply->n_put_ins);
    put_range(out, "pieces", supply->pieces, BF_PURE);
    put_range(out, "mass_kg", supply->mass_kg, BF_MASS);
    put_range(out, "volume_m3", supply->volume_m3, BF_VOLUME);
    put_range(out, "pieces_per_h", supply->pieces_per_h, BF_PURE);
    if (supply->box >= 0) put_box(supply, out);
    bfi_json_close(out);
}

bf_status bfi_json_plan_feed(bfi_work *work, const double *rows, bfi_json *out) {
    const bfi_plan *o = work->own;
    bf_status status = BF_OK;
    bfi_json_key(out, "feed");
    bfi_json_array(out);
    for (int i = 0; !status && i < o->plan.n_lines; i++) status = put_line(work, i, rows, out);
    if (status) return status;
    bfi_json_close(out);
    bfi_json_key(out, "baits");
    bfi_json_array(out);
    for (int i = 0; i < o->plan.n_baits; i++) put_bait(work, i, rows, out);
    bfi_json_close(out);
    return BF_OK;
}
