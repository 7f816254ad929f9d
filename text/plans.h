/* plans.h -- what the files that answer "plan" share: plan.c (the request, its jobs, the verb), plan_feed.c (lines of feed and
 * the box), plan_spot.c (rig, lay-in and aim of a spot), plan_day.c (preparing, packing, rules, the peg not yet drawn),
 * plan_draw.c (the card and the drawings). Internal to text/. */
#ifndef BFI_PLANS_H
#define BFI_PLANS_H

#include "baitfall/aim.h"
#include "baitfall/plan.h"
#include "baitfall/plan_picture.h"
#include "text/said.h"
#include "text/work.h"

/* More draws than this are not worth the memory: rows of 32 lines. */
#define BFI_PLAN_MOST_DRAWS 4096
#define BFI_PLAN_DRAWS_ACCEPTED "16 to 4096"

/* Columns of a row: as many as the widest model writes; the rest of a narrower one is NaN. */
#define BFI_PLAN_COLUMNS 18

/* What is worked out side by side: a job's items are first .. first + n_items - 1. Jobs come in two rounds: those that stand on
 * the request alone; those that stand on what is suggested, on the fit of a spot's hang, or on the rigs chosen for an unknown
 * peg. */
typedef enum bfi_job_kind {
    /* Ensembles: an item a draw. */
    BFI_JOB_FEED,
    BFI_JOB_RIG,
    BFI_JOB_LAY,
    BFI_JOB_AIM,
    /* Others. */
    BFI_JOB_AS_GIVEN, /* each of those jobs at the inputs as given, item k job k */
    BFI_JOB_SUGGEST,  /* candidates beside a rig of the plan's                   */
    BFI_JOB_WAY,      /* ways of lowering the suggested rig                      */
    BFI_JOB_WHAT_IF,  /* changes of a spot                                       */
    BFI_JOB_SET,      /* conditions of an unknown peg                            */
    BFI_JOB_FIT,      /* solves that a spot's fit stands on                      */
    BFI_JOB_CONFIRM,  /* rigs chosen for an unknown peg                          */
    BFI_JOB_MEND      /* mends of a spot's aim                                   */
} bfi_job_kind;

typedef struct bfi_job {
    int kind; /* bfi_job_kind                 */
    int of;   /* the line of feed or the spot */
    int first, n_items;
} bfi_job;

#define BFI_PLAN_JOBS (3 + 8 * BF_PLAN_SPOTS + BF_PLAN_LINES)
#define BFI_WAYS 2

/* A spot once it is decided what is fished there. */
typedef struct bfi_plan_spot {
    int line;         /* of feed, the first here; -1: none, and then there is no lay-in and no aim */
    int is_suggested; /* the plan names no rig                                                     */
    bf_status status; /* of solving its rig at the inputs as given, later of its fit               */
    bf_stand stand;   /* settled                                                                   */
    bf_rig_shape shape;
    bf_aiming aiming;
    bf_status suggest_status;
    bf_suggestion suggestion;
    bf_status judge_status;
    bf_judged judged; /* its rig, for what-ifs */
    bf_range rig[sizeof(bf_rig_out) / sizeof(double)], lay[sizeof(bf_lay_out) / sizeof(double)];
} bfi_plan_spot;

/* What stands in work->own. */
typedef struct bfi_plan {
    bf_plan plan;
    const bf_schema *schema; /* with the unknown peg, if there is one */
    bfi_wanted wanted;
    int is_nominal;
    int east_min;  /* the clock the session's start is written in                   */
    double ics_ms; /* "ics": when the appointments are written; NaN: not asked for  */
    int n_jobs;
    int n_first_items, n_second_items; /* up to the end of a round */
    const double *rows;                /* of the first two          */
    bfi_job job[BFI_PLAN_JOBS];
    bf_plan_put put;
    bf_field column[BF_PLAN_N_OUT]; /* of columns */
    bf_table columns;               /* spread's outputs, then the plan's own */
    double nominal[BF_PLAN_LINES * BF_PLAN_N_OUT];
    double model_out[BFI_PLAN_COLUMNS];
    bf_ensemble_result result;
    bf_range line_pieces[BF_PLAN_LINES], line_last_s[BF_PLAN_LINES], line_wide_m[BF_PLAN_LINES];
    bf_plan_supply supply[BF_PLAN_BAITS];
    bf_label pot_names[BF_SUGGEST_POTS];
    bfi_plan_spot spot[BF_PLAN_SPOTS];
    bf_rig_set rig_set;
    bf_status set_status;
} bfi_plan;

/* The name of a row of a section of the plan; "". */
const char *bfi_plan_name(const bfi_work *work, int section, int row);
/* The id of what a line of feed feeds; and of what is on the hook at a spot: the plan's own, else what is fed there first, else
 * the kit's first hook bait; "". */
const char *bfi_plan_bait(const bfi_work *work, int line);
const char *bfi_plan_hook_bait(const bfi_work *work, int spot);

/* NULL: there is none of this kind, or its spot has no answer. And the rows of a job. */
const bfi_job *bfi_plan_job(const bfi_plan *o, int kind, int of);
const double *bfi_job_row(const bfi_job *job, const double *rows, int k);

/* The ensemble of a job that is one; put: memory for a line of feed. */
bf_ensemble bfi_job_ensemble(const bfi_plan *o, const bfi_job *job, uint64_t seed, bf_plan_put *put);

/* Sums up a job into o->result, from its rows or, when only nominal values are asked for, without. Returns the status at the
 * inputs as given. */
BF_CHECK bf_status bfi_job_finish(bfi_work *work, const bfi_job *job, const double *rows, bf_plan_put *put,
                                  double *nominal);

/* Line from float to hook that a stand is set to. */
double bfi_set_m(const bf_stand *stand);

/* Reads a plan alone: the root of json, whose options are let through, and checks it afterwards. */
BF_CHECK bf_status bfi_read_plan_record(bfi_reader *reader, const bf_json *json, bf_plan *plan,
                                        bfi_names *names, bf_error *error);
BF_CHECK bf_status bfi_check_plan_record(const bf_plan *plan, const bfi_names *names, bf_error *error);

/* ---- What "peg" shares: it has a bfi_plan first in its own ---- */

/* Reads work->json as a plan with its options. */
BF_CHECK bf_status bfi_read_plan(bfi_work *work);

/* Settles what is fished at a spot: the plan's rig or a suggested one, solved at the inputs as given. */
void bfi_decide_spot(bfi_work *work, int spot);

/* 1: what is suggested for a spot is what is fished there. */
int bfi_is_suggested_fished(const bfi_plan_spot *s);

/* The stand whose lines, hook bait, hold and water the set for an unknown peg is made with: the first spot's. */
void bfi_set_stand(const bfi_plan *o, bf_stand *stand);

/* Lists the jobs of a decided spot for "peg", which asks for no what-ifs and no suggestions, and counts the items. */
void bfi_list_spot(bfi_work *work, int spot);

/* What a change comes to, as a row: all numbers. */
typedef struct bfi_what_if {
    double status;             /* a bf_status                                          */
    double said, number[4];    /* a bf_said: what it becomes                           */
    double why, why_number[4]; /* ... and why it does not hold then; BF_SAID_NOTHING: it does */
} bfi_what_if;

size_t bfi_plan_rows_bytes(int n_lines, int n_spots);
size_t bfi_plan_scratch_bytes(const bfi_work *work);
size_t bfi_plan_spare_bytes(const bf_command *command);
void bfi_plan_range(const bfi_work *work, void *scratch, int i, int j, double *rows);
int bfi_plan_next(bfi_work *work, const double *rows, int n_done);

/* "rig":{...} of a spot, left open. Returns 0 when it has no balance, which it then says. */
int bfi_json_spot_rig(bfi_work *work, int spot, const double *rows, bfi_json *out);

/* A range of a put-in's amount as the angler says it: "1 pot", "24", "8 ml". */
void bfi_say_amount(const bf_plan *plan, int line, char text[BF_SAY_MOST]);

/* ---- Members of the answer ---- */

/* "feed":[...] and "baits":[...] */
BF_CHECK bf_status bfi_json_plan_feed(bfi_work *work, const double *rows, bfi_json *out);

/* "lay":{...} and "aim":{...} of a spot, null where there is none. */
void bfi_json_lay(bfi_work *work, int spot, const double *rows, bfi_json *out);
void bfi_json_aim(bfi_work *work, int spot, const double *rows, bfi_json *out);

/* "spots":[...], "what_if":[...] */
BF_CHECK bf_status bfi_json_plan_spots(bfi_work *work, const double *rows, bfi_json *out);

/* "unknown_peg", "prep", "pack", "rules", "ics" */
BF_CHECK bf_status bfi_read_rules(bfi_work *work);
int bfi_plan_rules(const bfi_work *work); /* the array of the request, -1 */
BF_CHECK bf_status bfi_json_plan_day(bfi_work *work, const double *rows, bfi_json *out);

/* A rig of a set for a peg not known yet: what it is, and how long it is made. */
void bfi_put_set_rig(bfi_pen *pen, const bf_set_rig *rig);
/* Bytes of work->spare for it. */
size_t bfi_plan_day_bytes(void);

/* ---- Drawings ---- */

/* Bytes of work->spare for drawing. */
size_t bfi_plan_draw_bytes(void);

/* "pictures":{"section","above"} of a spot; nothing when none is asked for. */
BF_CHECK bf_status bfi_json_spot_pictures(bfi_work *work, int spot, const double *rows, bfi_json *out);

/* "pictures":{"card-a5","card-a6-front","card-a6-back"}; nothing when no card is asked for. */
BF_CHECK bf_status bfi_json_cards(bfi_work *work, bfi_json *out);

#endif
