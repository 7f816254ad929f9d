/* plan_spot.c -- rig, lay-in, aim, suggestions and what-ifs of each spot. See plans.h. */
#include <string.h>

#include "baitfall/whatif.h"
#include "text/plans.h"
#include "text/stood.h"

static void put_quantity(bfi_json *out, const char *key, const bf_quantity *given, bf_dimension dimension) {
    double value = given->value, pm = given->is_unknown ? BF_NAN : given->pm;
    bfi_json_range(out, key, (bf_range){value, value, value - pm, value + pm}, dimension);
    bfi_json_close(out);
}

/* All outputs of a job, kept in `ranges` for the card. */
static void put_outputs(bfi_work *work, const bf_table *table, const bf_schema *schema, bf_range *ranges,
                        bfi_json *out) {
    const bfi_plan *o = work->own;
    for (int i = 0; i < table->n_fields; i++) bfi_json_output(out, table, i, schema, &o->result);
    if (ranges) memcpy(ranges, o->result.range, (size_t)table->n_fields * sizeof ranges[0]);
}

/* ---- The rig ---- */

static void put_rig_heads(const bfi_work *work, int spot, bfi_json *out) {
    const bfi_plan *o = work->own;
    const bfi_plan_spot *s = &o->spot[spot];
    char title[256];
    bfi_pen pen = bfi_pen_open(title, sizeof title);
    int row = o->plan.spot_use[spot].rig;
    bfi_put_rig(&pen, &s->stand.rig);
    bfi_json_key(out, "id");
    if (row >= 0)
        bfi_json_text(out, bfi_plan_name(work, BF_PLAN_KIT_RIGS, row));
    else
        bfi_json_raw(out, "null", 4);
    bfi_json_key(out, "is_suggested");
    bfi_json_truth(out, s->is_suggested);
    bfi_json_key_text(out, "title", title);
    bfi_json_key(out, "record");
    bfi_json_rig(out, &s->stand.rig);
    bfi_json_key_real(out, "set_m", bfi_set_m(&s->stand));
}

double bfi_set_m(const bf_stand *stand) {
    return stand->scene.spot.depth_m.value + stand->hold.overdepth_m.value;
}

int bfi_json_spot_rig(bfi_work *work, int spot, const double *rows, bfi_json *out) {
    bfi_plan *o = work->own;
    bfi_plan_spot *s = &o->spot[spot];
    const bfi_job *job = bfi_plan_job(o, BFI_JOB_RIG, spot);
    bf_note notes[BF_MOST_NOTES];
    bfi_json_key(out, "rig");
    bfi_json_object(out);
    put_rig_heads(work, spot, out);
    bf_status status = job ? bfi_job_finish(work, job, rows, &o->put, NULL) : s->status;
    if (status) {
        bfi_json_key_text(
            out, "error",
            "This rig finds no balance here: its line does not reach, or its float does not carry "
            "what hangs on it.");
        return 0;
    }
    put_outputs(work, &bf_rig_out_table, &bf_rig_schema, s->rig, out);
    bfi_json_chain(out, &s->stand.rig);
    bfi_json_notes(out, notes, bf_rig_notes(&s->stand, &o->result, notes));
    return 1;
}

/* ---- Lay-in and aim ---- */

/* 1 when the job is there and answers; else its member is null. */
static int is_answered(bfi_work *work, const char *key, const bfi_job *job, const double *rows,
                       bfi_json *out) {
    bfi_plan *o = work->own;
    bfi_json_key(out, key);
    if (job && bfi_job_finish(work, job, rows, &o->put, NULL) == BF_OK) return 1;
    bfi_json_raw(out, "null", 4);
    return 0;
}

void bfi_json_lay(bfi_work *work, int spot, const double *rows, bfi_json *out) {
    bfi_plan *o = work->own;
    bf_note notes[BF_MOST_NOTES];
    bfi_plan_spot *s = &o->spot[spot];
    if (!is_answered(work, "lay", bfi_plan_job(o, BFI_JOB_LAY, spot), rows, out)) return;
    bfi_json_object(out);
    put_outputs(work, &bf_lay_out_table, &bf_lay_schema, s->lay, out);
    bfi_json_notes(out, notes, bf_lay_notes(&s->stand, &o->result, notes));
    bfi_json_close(out);
}

static void put_mends(const bfi_work *work, int spot, const double *rows, bfi_json *out) {
    const bfi_plan *o = work->own;
    const bfi_job *aim = bfi_plan_job(o, BFI_JOB_AIM, spot);
    const bfi_job *job = bfi_plan_job(o, BFI_JOB_MEND, spot);
    bf_mend_tried tried[BF_N_MENDS];
    bf_mend mends[BF_N_MENDS];
    for (int kind = 0; kind < BF_N_MENDS; kind++)
        memcpy(&tried[kind], bfi_job_row(job, rows, kind), sizeof tried[kind]);
    int n = bf_aim_mends_of(&o->spot[spot].aiming, work->seed, bfi_job_row(aim, rows, 0), aim->n_items, tried,
                            work->spare, mends);
    bfi_json_mends(out, mends, n);
}

void bfi_json_aim(bfi_work *work, int spot, const double *rows, bfi_json *out) {
    bfi_plan *o = work->own;
    bf_note notes[BF_MOST_NOTES];
    const bf_aiming *aiming = &o->spot[spot].aiming;
    const bfi_job *job = bfi_plan_job(o, BFI_JOB_AIM, spot);
    if (!is_answered(work, "aim", job, rows, out)) return;
    bfi_json_object(out);
    put_outputs(work, &bf_aim_out_table, &bf_aim_schema, NULL, out);
    if (!o->is_nominal) {
        bfi_json_chance(out, bfi_job_row(job, rows, 0), job->n_items);
        bfi_json_fit(out, aiming);
        put_mends(work, spot, rows, out);
    }
    bfi_json_notes(out, notes, bf_aim_notes(aiming, &o->result, notes));
    bfi_json_close(out);
}

/* ---- Suggestions and what-ifs ---- */

/* Middles of a lay-in's draws; of the inputs as given alone, what those come to. */
static bf_lay_out lay_in_of(const bfi_plan *o, const bfi_plan_spot *s) {
    double middle[sizeof(bf_lay_out) / sizeof(double)];
    bf_lay_out lay;
    for (size_t i = 0; i < sizeof middle / sizeof middle[0]; i++)
        middle[i] = o->is_nominal ? s->lay[i].nominal : s->lay[i].mid;
    memcpy(&lay, middle, sizeof lay);
    return lay;
}

/* The other way of lowering what is fished, by what it changes at the inputs as given. */
static void against_middles(const bfi_plan_spot *s, const bf_lay_out *is, bf_lay_out *other) {
    double middle[sizeof *is / sizeof(double)], way[sizeof *is / sizeof(double)];
    memcpy(middle, is, sizeof *is);
    memcpy(way, other, sizeof *other);
    for (size_t i = 0; i < sizeof way / sizeof way[0]; i++) way[i] += middle[i] - s->lay[i].nominal;
    memcpy(other, way, sizeof *other);
}

/* When to lower: of a rig that is fished, what "lay" says of it. */
static void suggest_lay_in(bfi_plan *o, int spot, const double *rows) {
    bfi_plan_spot *s = &o->spot[spot];
    const bfi_job *ways = o->is_nominal ? NULL : bfi_plan_job(o, BFI_JOB_WAY, spot);
    int lowering = s->stand.hold.lowering;
    bf_lay_out way[BFI_WAYS];
    for (int k = 0; k < BFI_WAYS; k++) {
        way[k] = (bf_lay_out){BF_NAN, BF_NAN, BF_NAN, BF_NAN, BF_NAN};
        if (ways) memcpy(&way[k], bfi_job_row(ways, rows, k), sizeof way[k]);
    }
    if (bfi_is_suggested_fished(s)) {
        way[lowering] = lay_in_of(o, s);
        against_middles(s, &way[lowering], &way[!lowering]);
    }
    s->suggestion.item[BF_SUGGEST_LAY_IN] = bf_suggest_lay_in(lowering, &way[lowering], &way[!lowering]);
}

static void put_suggestions(bfi_plan *o, int spot, const double *rows, bfi_json *out) {
    const bfi_plan_spot *s = &o->spot[spot];
    if (!s->suggest_status) suggest_lay_in(o, spot, rows);
    bfi_json_key(out, "suggestions");
    bfi_json_array(out);
    for (int i = 0; !s->suggest_status && i < BF_N_SUGGESTS; i++) {
        const bf_suggested *item = &s->suggestion.item[i];
        if (item->choose.code == BF_SAID_NOTHING) continue;
        bfi_json_object(out);
        bfi_json_key_text(out, "what", bf_suggest_words[i]);
        bfi_json_said(out, "choice", &item->choose, o->pot_names);
        bfi_json_said(out, "because", &item->because, o->pot_names);
        bfi_json_said(out, "runner_up", &item->other, o->pot_names);
        bfi_json_said(out, "why_not", &item->why_not, o->pot_names);
        bfi_json_close(out);
    }
    bfi_json_close(out);
}

/* What becomes of it, and, when it does not hold then, why: before what other float to take, of which that does not speak. */
static void put_what_if(bfi_json *out, const bfi_what_if *if_so) {
    char text[512];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    int said = (int)if_so->said, why = (int)if_so->why;
    int is_why_first = said == BF_SAID_WHATIF_TAKE || said == BF_SAID_WHATIF_FAILS;
    if (is_why_first) bfi_put_said(&pen, bf_said_sentence(why), if_so->why_number, NULL);
    if (is_why_first) bfi_put(&pen, " ");
    bfi_put_said(&pen, bf_said_sentence(said), if_so->number, NULL);
    if (!is_why_first && why != BF_SAID_NOTHING) {
        bfi_put(&pen, " ");
        bfi_put_said(&pen, bf_said_sentence(why), if_so->why_number, NULL);
    }
    bfi_json_key_text(out, "text", text);
}

static void put_what_ifs(const bfi_work *work, int spot, const double *rows, bfi_json *out) {
    const bfi_job *job = bfi_plan_job(work->own, BFI_JOB_WHAT_IF, spot);
    for (int what = 0; job && what < BF_N_WHATIFS; what++) {
        bfi_what_if if_so;
        memcpy(&if_so, bfi_job_row(job, rows, what), sizeof if_so);
        if (if_so.status != 0 || (int)if_so.said == BF_SAID_NOTHING) continue;
        bfi_json_object(out);
        bfi_json_key_text(out, "what", bf_whatif_title(what));
        bfi_json_key_text(out, "spot", bfi_plan_name(work, BF_PLAN_SPOT, spot));
        put_what_if(out, &if_so);
        bfi_json_close(out);
    }
}

/* ---- All spots ---- */

static bf_status put_spot(bfi_work *work, int spot, const double *rows, bfi_json *out) {
    bfi_plan *o = work->own;
    const bf_spot *where = &o->plan.spot[spot];
    bfi_json_object(out);
    bfi_json_key_text(out, "spot", bfi_plan_name(work, BF_PLAN_SPOT, spot));
    put_quantity(out, "distance_m", &where->distance_m, BF_LENGTH);
    put_quantity(out, "depth_m", &where->depth_m, BF_LENGTH);
    bfi_json_spot_rig(work, spot, rows, out);
    bfi_json_close(out);
    bfi_json_lay(work, spot, rows, out);
    bfi_json_aim(work, spot, rows, out);
    put_suggestions(o, spot, rows, out);
    bf_status status = bfi_json_spot_pictures(work, spot, rows, out);
    if (!status) bfi_json_close(out);
    return status;
}

bf_status bfi_json_plan_spots(bfi_work *work, const double *rows, bfi_json *out) {
    const bfi_plan *o = work->own;
    bfi_json_key(out, "spots");
    bfi_json_array(out);
    for (int i = 0; i < o->plan.n_spots; i++) {
        bf_status status = put_spot(work, i, rows, out);
        if (status) return status;
    }
    bfi_json_close(out);
    if (o->is_nominal) return BF_OK;
    bfi_json_key(out, "what_if");
    bfi_json_array(out);
    for (int i = 0; i < o->plan.n_spots; i++) put_what_ifs(work, i, rows, out);
    bfi_json_close(out);
    return BF_OK;
}
