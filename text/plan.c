/* plan.c -- a plan file in, what its feed, rigs and preparations come to out: the request, its ensembles, the verb.
 *
 * Request  the plan (docs/formats.md), and options: "draws" (512: of each line of feed; twice as many for each spot's aim, a
 *          thirty-second part for its rig and its lay-in), "seed", "nominal" (true: at the inputs as given only, for drawing
 *          live), "look", "pictures" (section, above, card-a5, card-a6), "ics" (the instant of now: adds the appointments
 *          as iCalendar text).
 * Answer   "name", "feed", "baits", "spots", "what_if", "unknown_peg", "prep", "pack", "rules", "ics", "pictures", "inputs",
 *          "notes". */
#include "baitfall/plan.h"

#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/instant.h"
#include "baitfall/whatif.h"
#include "core/base/room.h"
#include "text/plans.h"
#include "text/read_parts.h"

/* Keys that are read here, and keys of a plan that nothing reads yet, or people: one file serves all. */
static const char *const others[] = {
    BFI_OPTION_KEYS,   "nominal",           "pictures",          "look", "ics", "schema", "name", "venue",
    "session.species", "session.objective", "session.target_kg", NULL};

/* ---- The request ---- */

static void make_columns(bfi_plan *o) {
    int n_bed = bf_spread_out_table.n_fields;
    BF_ASSERT(n_bed + bf_plan_put_out_table.n_fields == BF_PLAN_N_OUT);
    memcpy(o->column, bf_spread_out_table.field, (size_t)n_bed * sizeof o->column[0]);
    memcpy(o->column + n_bed, bf_plan_put_out_table.field,
           (size_t)(BF_PLAN_N_OUT - n_bed) * sizeof o->column[0]);
    o->columns = (bf_table){"put_in", sizeof(bf_plan_put_out), o->column, BF_PLAN_N_OUT};
}

static void forget(bf_range *ranges, size_t n) {
    for (size_t i = 0; i < n; i++) ranges[i] = (bf_range){BF_NAN, BF_NAN, BF_NAN, BF_NAN};
}

/* What drawings say of a line or spot that is not worked out: nothing. */
static void forget_answers(bfi_plan *o) {
    o->n_jobs = 0;
    forget(o->line_pieces, BF_PLAN_LINES);
    forget(o->line_last_s, BF_PLAN_LINES);
    forget(o->line_wide_m, BF_PLAN_LINES);
    for (int i = 0; i < BF_PLAN_SPOTS; i++) {
        forget(o->spot[i].rig, sizeof o->spot[i].rig / sizeof(bf_range));
        forget(o->spot[i].lay, sizeof o->spot[i].lay / sizeof(bf_range));
    }
}

static bf_status check_schema(bfi_work *work) {
    double number = 1;
    int value = bfi_option(work, "schema");
    if (value < 0) return BF_OK;
    bf_status status = bf_json_kind_of(&work->json, value) == BF_JSON_NUMBER
                           ? bf_json_number(&work->json, value, &number)
                           : BF_E_TYPE;
    if (!status && number != 1) status = BF_E_RANGE;
    return status ? bfi_fail(&work->error, status, "schema", &work->json, value, "1") : BF_OK;
}

/* What is accepted where one value depends on others (bf_plan_check); NULL: the field's own table says. */
static const char *accepted_by_plan(const bf_fault *fault) {
    if (!fault->section || fault->field < 0) return NULL;
    const bf_field *field = &fault->section->table->field[fault->field];
    int is_box = fault->section == &bf_plan_schema.section[BF_PLAN_BOX];
    int is_peg = fault->section == &bf_plan_schema_with_peg.section[BF_PLAN_UNKNOWN_PEG];
    if (fault->status == BF_E_TWICE) return field->kind == BF_REF ? "each bait once" : "one amount";
    if (fault->status == BF_E_MISSING && is_box && field->kind != BF_REF)
        return "a mass, a volume or a count";
    int is_in_range = fault->value >= field->least && fault->value <= field->most;
    if (fault->status != BF_E_RANGE || !is_in_range) return NULL;
    return is_peg ? "the least first and the most not below it" : "from_s or later";
}

static const bfi_see sees[] = {{"above", BFI_SEE_ABOVE},
                               {"section", BFI_SEE_SECTION},
                               {"card-a5", BFI_SEE_CARD_A5},
                               {"card-a6", BFI_SEE_CARD_A6},
                               {NULL, 0}};

/* An instant and the clock it is written in. */
static bf_status read_clock(bfi_work *work, int value, const char *path, double *ms, int *east_min) {
    char text[BF_INSTANT_BYTES];
    bf_status status = bf_json_kind_of(&work->json, value) == BF_JSON_STRING
                           ? bf_json_string(&work->json, value, text, sizeof text)
                           : BF_E_TYPE;
    if (!status) status = bf_instant_read(text, strlen(text), ms, east_min);
    if (!status) return BF_OK;
    return bfi_fail(&work->error, status == BF_E_TYPE ? status : BF_E_SYNTAX, path, &work->json, value,
                    "an instant such as 2026-04-12T09:00:00+01:00");
}

/* The options of a plan that are no part of it. */
static bf_status read_options(bfi_work *work) {
    bfi_plan *o = work->own;
    int value = bfi_option(work, "ics"), east_min;
    bf_status status = check_schema(work);
    if (!status) status = bfi_read_options(work, BF_PLAN_DRAWS_START);
    if (!status && work->n_draws > BFI_PLAN_MOST_DRAWS)
        status = bfi_fail(&work->error, BF_E_RANGE, "draws", &work->json, bfi_option(work, "draws"),
                          BFI_PLAN_DRAWS_ACCEPTED);
    if (!status) status = bfi_read_truth(work, "nominal", &o->is_nominal);
    if (!status) status = bfi_read_pictures(work, sees, &o->wanted);
    o->ics_ms = BF_NAN;
    if (!status && value >= 0) status = read_clock(work, value, "ics", &o->ics_ms, &east_min);
    return status;
}

/* The clock of the session's start, which the record, an instant, does not keep. */
static bf_status read_start(bfi_work *work) {
    bfi_plan *o = work->own;
    int session = bfi_option(work, "session");
    int starts = session >= 0 ? bf_json_find(&work->json, session, "starts") : -1;
    double ms;
    o->east_min = 0;
    return starts < 0 ? BF_OK : read_clock(work, starts, "session.starts", &ms, &o->east_min);
}

static const bf_schema *schema_of(const bf_plan *plan) {
    return plan->has_unknown_peg ? &bf_plan_schema_with_peg : &bf_plan_schema;
}

bf_status bfi_read_plan_record(bfi_reader *reader, const bf_json *json, bf_plan *plan, bfi_names *names,
                               bf_error *error) {
    memset(plan, 0, sizeof *plan);
    plan->has_unknown_peg = bf_json_find(json, 0, "unknown_peg") >= 0;
    bf_schema_start(schema_of(plan), plan);
    return bfi_read_record(reader, json, schema_of(plan), plan, others, names, error);
}

bf_status bfi_check_plan_record(const bf_plan *plan, const bfi_names *names, bf_error *error) {
    bf_fault fault;
    return bf_plan_check(plan, &fault) ? bfi_fail_fault_words(error, names, &fault, accepted_by_plan(&fault))
                                       : BF_OK;
}

bf_status bfi_read_plan(bfi_work *work) {
    bfi_plan *o = work->own;
    make_columns(o);
    forget_answers(o);
    bf_status status = read_options(work);
    if (!status)
        status = bfi_read_plan_record(&work->reader, &work->json, &o->plan, &work->names, &work->error);
    if (!status) status = read_start(work);
    if (!status) status = bfi_read_rules(work);
    if (!status) status = bfi_check_plan_record(&o->plan, &work->names, &work->error);
    if (status) return status;
    o->schema = schema_of(&o->plan);
    if (o->plan.n_lines == 0)
        return bfi_fail(&work->error, BF_E_MISSING, "feed", NULL, -1, "1 to 32 lines of feed");
    return BF_OK;
}

/* ---- What is fished at each spot ---- */

static void take_pots(const bfi_work *work, bfi_plan *o, bf_suggest_ask *ask) {
    ask->n_pots = o->plan.n_pots;
    memcpy(ask->pot, o->plan.pot, sizeof ask->pot);
    for (int i = 0; i < BF_SUGGEST_POTS; i++) {
        const char *name = o->plan.n_pots == 0 && i < bf_n_pots ? bf_pots[i].word
                           : i < o->plan.n_pots                 ? bfi_plan_name(work, BF_PLAN_KIT_POTS, i)
                                                                : "";
        bfi_cut(o->pot_names[i].text, sizeof o->pot_names[i].text, name, strlen(name));
    }
}

static bf_suggest_ask ask_for(const bfi_work *work, int spot) {
    bfi_plan *o = work->own;
    bf_suggest_ask ask = {.has_rig = o->plan.spot_use[spot].rig >= 0};
    take_pots(work, o, &ask);
    return ask;
}

void bfi_decide_spot(bfi_work *work, int spot) {
    bfi_plan *o = work->own;
    bfi_plan_spot *s = &o->spot[spot];
    bf_suggest_ask ask = ask_for(work, spot);
    s->is_suggested = !ask.has_rig;
    s->line = bf_plan_stand(&o->plan, spot, &s->stand);
    bf_stand_settle(&s->stand);
    s->suggest_status = s->judge_status = BF_E_MISSING;
    if (s->is_suggested) s->suggest_status = bf_suggest_tackle(&s->stand, &ask, NULL, &s->suggestion);
    if (s->is_suggested && !s->suggest_status) s->stand.rig = s->suggestion.rig;
    s->status = bf_rig_solve(&s->stand, 1, 0, &s->shape);
    bf_aim_bare(&s->stand, &s->aiming);
}

/* ---- Jobs ---- */

static void add_job(bfi_plan *o, int kind, int of, int n_items) {
    const bfi_job *last = o->n_jobs > 0 ? &o->job[o->n_jobs - 1] : NULL;
    int first = last ? last->first + last->n_items : 0;
    BF_ASSERT(o->n_jobs < BFI_PLAN_JOBS);
    o->job[o->n_jobs++] = (bfi_job){kind, of, first, n_items};
}

static int n_items_of(const bfi_plan *o) {
    const bfi_job *last = &o->job[o->n_jobs - 1];
    return o->n_jobs > 0 ? last->first + last->n_items : 0;
}

/* Draws of a model that lets the rig down or solves it, in each of them. */
static int n_slow_draws(const bfi_work *work) {
    int n = work->n_draws / 32;
    return n > 16 ? n : 16;
}

static int has_aim(const bfi_plan_spot *s) {
    return !s->status && s->line >= 0;
}

/* Those of the first round. Items that take long come first, so that what threads do last is short. */
static void list_first(bfi_work *work, int spot, int is_suggesting) {
    bfi_plan *o = work->own;
    const bfi_plan_spot *s = &o->spot[spot];
    if (is_suggesting && !s->is_suggested) add_job(o, BFI_JOB_SUGGEST, spot, BF_SUGGEST_TRIES);
    if (has_aim(s)) add_job(o, BFI_JOB_LAY, spot, n_slow_draws(work));
    if (!s->status) add_job(o, BFI_JOB_RIG, spot, n_slow_draws(work));
    if (has_aim(s)) add_job(o, BFI_JOB_FIT, spot, BF_AIM_SOLVES);
}

/* ... of the second. */
static void list_second(bfi_work *work, int spot, int is_suggesting) {
    bfi_plan *o = work->own;
    const bfi_plan_spot *s = &o->spot[spot];
    if (is_suggesting) add_job(o, BFI_JOB_WAY, spot, BFI_WAYS);
    if (is_suggesting && !s->status) add_job(o, BFI_JOB_WHAT_IF, spot, BF_N_WHATIFS);
    if (has_aim(s)) add_job(o, BFI_JOB_AIM, spot, 2 * work->n_draws);
}

/* ... of the third, from rows of the second. */
static void list_third(bfi_plan *o, int spot) {
    if (has_aim(&o->spot[spot])) add_job(o, BFI_JOB_MEND, spot, BF_N_MENDS);
}

static void begin_list(bfi_plan *o) {
    add_job(o, BFI_JOB_AS_GIVEN, 0, BFI_PLAN_JOBS);
}

static void end_list(bfi_work *work) {
    const bfi_plan *o = work->own;
    work->n_items = o->is_nominal ? 0 : n_items_of(o);
    work->n_columns = BFI_PLAN_COLUMNS;
}

void bfi_list_spot(bfi_work *work, int spot) {
    bfi_plan *o = work->own;
    begin_list(o);
    list_first(work, spot, 0);
    o->n_first_items = n_items_of(o);
    list_second(work, spot, 0);
    o->n_second_items = n_items_of(o);
    list_third(o, spot);
    end_list(work);
}

static void list_all(bfi_work *work) {
    bfi_plan *o = work->own;
    begin_list(o);
    for (int i = 0; i < o->plan.n_spots; i++) list_first(work, i, !o->is_nominal);
    if (o->plan.has_unknown_peg) add_job(o, BFI_JOB_SET, 0, BF_RIGSET_CONDITIONS);
    for (int i = 0; i < o->plan.n_lines; i++) add_job(o, BFI_JOB_FEED, i, work->n_draws);
    o->n_first_items = n_items_of(o);
    if (o->plan.has_unknown_peg) add_job(o, BFI_JOB_CONFIRM, 0, BF_RIGSET_MOST);
    for (int i = 0; i < o->plan.n_spots; i++) list_second(work, i, !o->is_nominal);
    o->n_second_items = n_items_of(o);
    for (int i = 0; i < o->plan.n_spots; i++) list_third(o, i);
    end_list(work);
}

static bf_status begin(bfi_work *work) {
    bfi_plan *o = work->own;
    bf_status status = bfi_read_plan(work);
    if (status) return status;
    for (int i = 0; i < o->plan.n_spots; i++) bfi_decide_spot(work, i);
    list_all(work);
    return BF_OK;
}

const bfi_job *bfi_plan_job(const bfi_plan *o, int kind, int of) {
    int is_of_spot =
        kind == BFI_JOB_RIG || kind == BFI_JOB_LAY || kind == BFI_JOB_AIM || kind == BFI_JOB_MEND;
    if (is_of_spot && o->spot[of].status) return NULL;
    for (int i = 0; i < o->n_jobs; i++)
        if (o->job[i].kind == kind && o->job[i].of == of) return &o->job[i];
    return NULL;
}

const double *bfi_job_row(const bfi_job *job, const double *rows, int k) {
    return rows + (size_t)(job->first + k) * BFI_PLAN_COLUMNS;
}

/* ---- Between the rounds ---- */

/* How the spot's rig stands; suggesting has asked that already. */
static void judge(bfi_plan_spot *s) {
    s->judge_status = BF_OK;
    if (s->suggest_status)
        s->judge_status = bf_judge(&s->stand, &s->judged);
    else
        s->judged = s->is_suggested ? s->suggestion.judged : s->suggestion.own;
}

static void take_suggestion(bfi_work *work, int spot, const double *rows) {
    bfi_plan *o = work->own;
    bfi_plan_spot *s = &o->spot[spot];
    const bfi_job *job = bfi_plan_job(o, BFI_JOB_SUGGEST, spot);
    bf_suggest_tried tried[BF_SUGGEST_TRIES];
    bf_suggest_ask ask = ask_for(work, spot);
    for (int k = 0; job && k < BF_SUGGEST_TRIES; k++)
        memcpy(&tried[k], bfi_job_row(job, rows, k), sizeof tried[k]);
    if (job) s->suggest_status = bf_suggest_tackle(&s->stand, &ask, tried, &s->suggestion);
    if (bfi_plan_job(o, BFI_JOB_WHAT_IF, spot)) judge(s);
}

static void take_fit(bfi_plan *o, int spot, const double *rows) {
    bfi_plan_spot *s = &o->spot[spot];
    const bfi_job *job = bfi_plan_job(o, BFI_JOB_FIT, spot);
    bf_aim_solved solved[BF_AIM_SOLVES];
    if (!job) return;
    for (int i = 0; i < BF_AIM_SOLVES; i++) memcpy(&solved[i], bfi_job_row(job, rows, i), sizeof solved[i]);
    s->status = bf_aim_prepare_from(&s->stand, solved, &s->aiming);
}

static void choose_set(bfi_plan *o, const double *rows) {
    const bfi_job *job = bfi_plan_job(o, BFI_JOB_SET, 0);
    bf_rigset_tried tried[BF_RIGSET_CONDITIONS];
    bf_stand stand;
    if (!job) return;
    for (int i = 0; i < BF_RIGSET_CONDITIONS; i++)
        memcpy(&tried[i], bfi_job_row(job, rows, i), sizeof tried[i]);
    bfi_set_stand(o, &stand);
    o->set_status = bf_rigset_choose(&stand, &o->plan.unknown_peg, tried, &o->rig_set);
}

static void take_first(bfi_work *work, const double *rows) {
    bfi_plan *o = work->own;
    for (int i = 0; i < o->plan.n_spots; i++) {
        take_suggestion(work, i, rows);
        take_fit(o, i, rows);
    }
    choose_set(o, rows);
}

int bfi_plan_next(bfi_work *work, const double *rows, int n_done) {
    bfi_plan *o = work->own;
    if (n_done < o->n_first_items) return o->n_first_items;
    if (n_done == o->n_first_items) take_first(work, rows);
    if (n_done < o->n_second_items) return o->n_second_items;
    o->rows = rows;
    return work->n_items;
}

/* ---- Rows ---- */

static int is_ensemble(const bfi_job *job) {
    return job->kind < BFI_JOB_AS_GIVEN;
}

/* A model of a stand. */
static bf_ensemble stand_ensemble(const bf_stand *stand, const bf_schema *schema, const bf_table *table,
                                  bf_model model, uint64_t seed, int n_draws) {
    int n_raw = BFI_PLAN_COLUMNS - table->n_fields;
    return (bf_ensemble){schema, stand, model, table->n_fields, n_raw, seed, n_draws};
}

bf_ensemble bfi_job_ensemble(const bfi_plan *o, const bfi_job *job, uint64_t seed, bf_plan_put *put) {
    const bf_stand *stand = &o->spot[job->kind == BFI_JOB_FEED ? 0 : job->of].stand;
    bf_ensemble aim;
    switch (job->kind) {
    case BFI_JOB_FEED:
        bf_plan_put_in(&o->plan, job->of, put);
        return bf_plan_ensemble(put, BFI_PLAN_COLUMNS - BF_PLAN_N_OUT, seed, job->n_items);
    case BFI_JOB_RIG:
        return stand_ensemble(stand, &bf_rig_schema, &bf_rig_out_table, bf_rig_model, seed, job->n_items);
    case BFI_JOB_LAY:
        return stand_ensemble(stand, &bf_lay_schema, &bf_lay_out_table, bf_lay_model, seed, job->n_items);
    default:
        aim = bf_aim_ensemble(&o->spot[job->of].aiming, seed, job->n_items);
        BF_ASSERT(aim.n_out + aim.n_raw == BFI_PLAN_COLUMNS);
        return aim;
    }
}

static size_t put_bytes(void) {
    return bfi_room(sizeof(bf_plan_put));
}

static size_t larger(size_t a, size_t b) {
    return a > b ? a : b;
}

/* Of the widest record any ensemble copies; a draw's own column is at most so long. */
static size_t ensemble_bytes(int n_draws) {
    bf_schema schema = {"plan", larger(sizeof(bf_aiming), sizeof(bf_plan_put)), NULL, 0};
    bf_ensemble ensemble = {.schema = &schema, .n_draws = n_draws};
    return bf_ensemble_work_bytes(&ensemble);
}

size_t bfi_plan_scratch_bytes(const bfi_work *work) {
    (void)work;
    return larger(put_bytes() + ensemble_bytes(16), bf_aim_mend_bytes(BF_MEND_DRAWS));
}

/* One mend of a spot tried, in as many draws as it takes at most. */
static void try_mend(const bfi_work *work, int spot, int kind, void *scratch, double *row) {
    const bfi_plan *o = work->own;
    bf_mend_tried tried;
    const bfi_job *aim = bfi_plan_job(o, BFI_JOB_AIM, spot);
    if (!aim) return;
    bf_aim_mend_try(&o->spot[spot].aiming, work->seed, bfi_job_row(aim, o->rows, 0), aim->n_items, kind,
                    scratch, &tried);
    memcpy(row, &tried, sizeof tried);
}

static void try_condition(const bfi_plan *o, int condition, double *row) {
    bf_rigset_tried tried;
    bf_stand stand;
    bfi_set_stand(o, &stand);
    bf_rigset_try(&stand, &o->plan.unknown_peg, condition, &tried);
    memcpy(row, &tried, sizeof tried);
}

static void confirm_rig(const bfi_plan *o, int rig, double *row) {
    bf_rigset_confirmed confirmed;
    bf_stand stand;
    if (o->set_status || rig >= o->rig_set.n_rigs) return;
    bfi_set_stand(o, &stand);
    bf_rigset_confirm(&stand, &o->plan.unknown_peg, &o->rig_set.rig[rig], &confirmed);
    memcpy(row, &confirmed, sizeof confirmed);
}

/* A change of a spot; one that does not apply says nothing. */
static void try_what_if(const bfi_plan *o, int spot, int what, double *row) {
    const bf_stand *stand = &o->spot[spot].stand;
    bf_whatif_out if_so;
    bf_stand changed;
    bfi_what_if out = {.why = BF_SAID_NOTHING};
    if (o->spot[spot].judge_status) return;
    out.status = bf_whatif_answer(stand, &o->spot[spot].judged, what, &if_so);
    out.said = if_so.said.code;
    memcpy(out.number, if_so.said.number, sizeof out.number);
    if (if_so.is.limit != BF_LIMIT_NONE && if_so.said.code != BF_SAID_WHATIF_NONE &&
        bf_whatif_change(stand, what, &changed)) {
        bf_said why = bf_why_it_fails(&changed, &if_so.is);
        out.why = why.code;
        memcpy(out.why_number, why.number, sizeof out.why_number);
    }
    memcpy(row, &out, sizeof out);
}

int bfi_is_suggested_fished(const bfi_plan_spot *s) {
    return s->is_suggested || s->suggestion.is_as_it_is;
}

/* A candidate beside the rig of a spot. */
static void try_candidate(const bfi_plan *o, int spot, int k, double *row) {
    bf_suggest_tried tried;
    bf_suggest_try(&o->spot[spot].stand, k, &tried);
    memcpy(row, &tried, sizeof tried);
}

/* The suggested rig lowered one way; the way of one that is fished is known from its lay-in. */
static void try_way(const bfi_plan *o, int spot, int lowering, double *row) {
    const bfi_plan_spot *s = &o->spot[spot];
    bf_stand with = s->stand;
    bf_lay_out lay;
    if (s->suggest_status || (bfi_is_suggested_fished(s) && lowering == with.hold.lowering)) return;
    with.rig = s->suggestion.rig;
    bf_suggest_way(&with, lowering, &lay);
    memcpy(row, &lay, sizeof lay);
}

static void solve_for_fit(const bfi_plan *o, int spot, int k, double *row) {
    bf_aim_solved solved;
    bf_aim_solve(&o->spot[spot].stand, k, &solved);
    memcpy(row, &solved, sizeof solved);
}

/* A job at the inputs as given; where there is no answer the row stays as it is. */
static void try_as_given(const bfi_work *work, int of_job, bf_plan_put *put, double *row) {
    const bfi_plan *o = work->own;
    const bfi_job *job = &o->job[of_job];
    if (of_job >= o->n_jobs || !is_ensemble(job)) return;
    bf_ensemble ensemble = bfi_job_ensemble(o, job, work->seed, put);
    bf_status status = bf_ensemble_nominal(&ensemble, row);
    (void)status; // bfi_job_finish asks again
}

/* An item that is no draw. */
static void try_item(const bfi_work *work, const bfi_job *job, int k, void *scratch, double *row) {
    const bfi_plan *o = work->own;
    switch (job->kind) {
    case BFI_JOB_AS_GIVEN: try_as_given(work, k, scratch, row); break;
    case BFI_JOB_SUGGEST: try_candidate(o, job->of, k, row); break;
    case BFI_JOB_WAY: try_way(o, job->of, k, row); break;
    case BFI_JOB_WHAT_IF: try_what_if(o, job->of, k, row); break;
    case BFI_JOB_SET: try_condition(o, k, row); break;
    case BFI_JOB_FIT: solve_for_fit(o, job->of, k, row); break;
    case BFI_JOB_CONFIRM: confirm_rig(o, k, row); break;
    default: try_mend(work, job->of, k, scratch, row); break;
    }
}

static void draw(const bfi_work *work, const bfi_job *job, int from, int to, void *scratch, double *rows) {
    const bfi_plan *o = work->own;
    if (job->kind == BFI_JOB_AIM && o->spot[job->of].status) return;
    bf_ensemble ensemble = bfi_job_ensemble(o, job, work->seed, scratch);
    // A draw without an answer is a row of NaN, left out of the sums.
    bf_status status = bf_ensemble_range(&ensemble, from, to, (char *)scratch + put_bytes(), rows);
    (void)status;
}

void bfi_plan_range(const bfi_work *work, void *scratch, int i, int j, double *rows) {
    const bfi_plan *o = work->own;
    const bfi_job *job = o->job;
    while (i < j) {
        while (i >= job->first + job->n_items) job++;
        int from = i - job->first, to = j - job->first < job->n_items ? j - job->first : job->n_items;
        size_t n = (size_t)(to - from) * BFI_PLAN_COLUMNS;
        for (size_t k = 0; k < n; k++) rows[k] = BF_NAN;
        if (is_ensemble(job))
            draw(work, job, from, to, scratch, rows);
        else
            for (int k = from; k < to; k++)
                try_item(work, job, k, scratch, rows + (size_t)(k - from) * BFI_PLAN_COLUMNS);
        rows += n;
        i += to - from;
    }
}

/* The job at the inputs as given: from its row, or worked out here when there are none or it says nothing. */
static bf_status take_as_given(const bfi_work *work, const bfi_job *job, const bf_ensemble *ensemble,
                               const double *rows, double *out) {
    const bfi_plan *o = work->own;
    const double *row = o->is_nominal ? NULL : bfi_job_row(&o->job[0], rows, (int)(job - o->job));
    for (int i = 0; row && i < ensemble->n_out; i++) {
        if (row[i] != row[i]) continue;
        memcpy(out, row, BFI_PLAN_COLUMNS * sizeof out[0]);
        return BF_OK;
    }
    return bf_ensemble_nominal(ensemble, out);
}

bf_status bfi_job_finish(bfi_work *work, const bfi_job *job, const double *rows, bf_plan_put *put,
                         double *nominal) {
    bfi_plan *o = work->own;
    double *out = o->model_out;
    bf_ensemble ensemble = bfi_job_ensemble(o, job, work->seed, put);
    bf_status status = take_as_given(work, job, &ensemble, rows, out);
    if (nominal) memcpy(nominal, out, (size_t)ensemble.n_out * sizeof nominal[0]);
    if (o->is_nominal)
        bfi_take_nominal(out, ensemble.n_out, &o->result);
    else
        bf_ensemble_finish(&ensemble, bfi_job_row(job, rows, 0), out, work->spare, &o->result);
    return status;
}

/* ---- The answer ---- */

static size_t own_bytes(const bf_command *command) {
    (void)command;
    return sizeof(bfi_plan);
}

size_t bfi_plan_spare_bytes(const bf_command *command) {
    (void)command;
    size_t finishing = larger(ensemble_bytes(2 * BFI_PLAN_MOST_DRAWS), bfi_plan_scratch_bytes(NULL));
    return larger(larger(finishing, bfi_plan_day_bytes()), bfi_plan_draw_bytes());
}

size_t bfi_plan_rows_bytes(int n_lines, int n_spots) {
    size_t of_lines = (size_t)BFI_PLAN_MOST_DRAWS * (size_t)n_lines;
    size_t of_spot = 2 * BFI_PLAN_MOST_DRAWS + 2 * (BFI_PLAN_MOST_DRAWS / 32) + BF_SUGGEST_TRIES + BFI_WAYS +
                     BF_N_WHATIFS + BF_AIM_SOLVES + BF_N_MENDS;
    size_t of_day = BFI_PLAN_JOBS + BF_RIGSET_CONDITIONS + BF_RIGSET_MOST;
    return (of_lines + of_spot * (size_t)n_spots + of_day) * BFI_PLAN_COLUMNS * sizeof(double);
}

static size_t rows_bytes(const bf_command *command) {
    (void)command;
    return bfi_plan_rows_bytes(BF_PLAN_LINES, BF_PLAN_SPOTS);
}

const char *bfi_plan_name(const bfi_work *work, int section, int row) {
    return bfi_name_of(&work->names, &bf_plan_schema_with_peg.section[section], row);
}

const char *bfi_plan_bait(const bfi_work *work, int line) {
    const bfi_plan *o = work->own;
    return bfi_plan_name(work, BF_PLAN_KIT_BAITS, o->plan.line[line].bait);
}

const char *bfi_plan_hook_bait(const bfi_work *work, int spot) {
    const bfi_plan *o = work->own;
    int named = o->plan.spot_use[spot].hook_bait, line = o->spot[spot].line;
    if (named < 0 && line < 0 && o->plan.n_hook_baits > 0) named = 0;
    if (named >= 0) return bfi_plan_name(work, BF_PLAN_KIT_HOOK_BAITS, named);
    return line < 0 ? "" : bfi_plan_bait(work, line);
}

/* A member of the request as it stands. */
static void put_as_given(const bfi_work *work, const char *key, bf_json_kind kind, bfi_json *out) {
    size_t n;
    int value = bfi_option(work, key);
    if (value < 0 || bf_json_kind_of(&work->json, value) != kind) return;
    const char *raw = bf_json_raw(&work->json, value, &n);
    bfi_json_key(out, key);
    bfi_json_raw(out, raw, n);
}

static void put_inputs(bfi_work *work, bfi_json *out) {
    const bfi_plan *o = work->own;
    bfi_json_key(out, "inputs");
    out->east_min = o->east_min;
    bfi_json_record_open(out, o->schema, &work->names, &o->plan);
    put_as_given(work, "name", BF_JSON_STRING, out);
    put_as_given(work, "venue", BF_JSON_OBJECT, out);
    bfi_json_close(out);
}

static double farthest_m(const bf_plan *plan) {
    double most = 0;
    for (int i = 0; i < plan->n_spots; i++) {
        double away_m = bf_hypot(plan->spot[i].distance_m.value, plan->spot[i].side_m.value);
        if (away_m > most) most = away_m;
    }
    return most;
}

static int plan_notes(const bf_plan *plan, bf_note notes[BF_MOST_NOTES]) {
    int n = 0;
    double away_m = farthest_m(plan), pole_m = plan->whole.pole_m;
    notes[n++] = (bf_note){BF_NOTE_ESTIMATE, {0}};
    notes[n++] = (bf_note){BF_NOTE_NOT_MODELLED, {0}};
    notes[n++] = (bf_note){BF_NOTE_POWER_LINES, {0}};
    if (away_m > pole_m) notes[n++] = (bf_note){BF_NOTE_POLE_SHORT, {away_m - pole_m, 0, 0}};
    return n;
}

static bf_status finish(bfi_work *work, const double *rows, bfi_json *out) {
    const bfi_plan *o = work->own;
    bf_note notes[BF_MOST_NOTES];
    put_as_given(work, "name", BF_JSON_STRING, out);
    bf_status status = bfi_json_plan_feed(work, rows, out);
    if (!status) status = bfi_json_plan_spots(work, rows, out);
    if (!status) status = bfi_json_plan_day(work, rows, out);
    if (!status) status = bfi_json_cards(work, out);
    if (status) return status;
    put_inputs(work, out);
    bfi_json_notes(out, notes, plan_notes(&o->plan, notes));
    return BF_OK;
}

const bfi_verb bfi_plan_verb = {.name = "plan",
                                .own_bytes = own_bytes,
                                .spare_bytes = bfi_plan_spare_bytes,
                                .rows_bytes = rows_bytes,
                                .begin = begin,
                                .scratch_bytes = bfi_plan_scratch_bytes,
                                .next = bfi_plan_next,
                                .range = bfi_plan_range,
                                .finish = finish};
