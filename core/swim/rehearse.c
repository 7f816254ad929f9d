/* rehearse.c -- the day as it is played: turns done when hands are free, what shows between them. See baitfall/rehearse.h. */
#include "core/swim/rehearse.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

#include "baitfall/status.h"
#include "core/base/room.h"
#include "core/swim/luck.h"

/* Luck of the day itself, apart from that of rollouts; which truth; how the hook had hold. */
#define DAY_LUCK 4000000
#define STREAM_TRUTH UINT64_C(0x4e8ea00000000000)
#define STREAM_HELD UINT64_C(0x4e8ea10000000000)

const char *const bf_turn_words[] = {"feed", "lower", "lift", "wait", NULL};

/* ---- The day on its way ---- */

typedef struct outing {
    const bf_rehearsal *is;
    bfi_swim *swim;
    double *x;
    bfi_luck luck;
    int spot, hook; /* where it goes in again by itself; -1: nowhere */
    bf_rehearse_day *day;
} outing;

static double now_s(const outing *o) {
    return o->swim->now.t_s;
}
static int is_in(const outing *o) {
    return o->swim->now.rig_spot >= 0;
}

static void note(outing *o, bf_swim_event event) {
    bf_rehearse_day *day = o->day;
    if (day->n_events < day->most_events) day->event[day->n_events] = event;
    day->n_events++;
}

static bf_swim_event nothing_yet(const outing *o, int kind, int turn) {
    return (bf_swim_event){.t_s = now_s(o),
                           .kind = kind,
                           .spot = (int)o->swim->now.rig_spot,
                           .what = (int)o->swim->now.rig_hook,
                           .held = -1,
                           .live = turn,
                           .value = BF_NAN};
}

static void note_truth(outing *o) {
    bf_rehearse_day *day = o->day;
    if (day->n_points < day->most_points) {
        bf_rehearse_point *point = &day->point[day->n_points];
        *point = (bf_rehearse_point){.t_s = now_s(o)};
        bfi_swim_near(o->swim, 1, o->x, &point->near);
        for (int s = 0; s < o->swim->n_spots; s++) {
            bfi_swim_left(o->swim, 1, o->x, s, -1, &point->left[s]);
            bfi_swim_fish(o->swim, 1, o->x, s, &point->fish[s]);
        }
    }
    day->n_points++;
}

/* ---- What shows ---- */

/* Where the hook had hold, as far as the model tells. */
static int held_in(const outing *o, int spot, int outcome) {
    if (outcome == BF_FOUL) return BF_OUTSIDE;
    if (outcome != BF_LANDED) return -1;
    double left, hold = o->x[bfi_own_column(o->swim) + BF_SWIM_HOLD];
    bfi_swim_left(o->swim, 1, o->x, spot, -1, &left);
    double u = bf_uniform(o->is->seed, STREAM_HELD, (uint64_t)o->day->n[BF_LANDED]);
    return u < bfi_swim_top_lip(hold, left) ? BF_LIP_TOP_MIDDLE : BF_LIP_BOTTOM;
}

static void rig_out(outing *o, double at_s) {
    o->swim->now.rig_spot = o->swim->now.rig_hook = -1;
    o->day->free_s = at_s + o->is->busy_s;
}

/* To ten grams. */
static double on_scales(double kg) {
    double read = floor(100 * kg + 0.5) / 100;
    return read > 0.01 ? read : 0.01;
}

static void bitten(outing *o, int outcome, double at_s) {
    bf_rehearse_day *day = o->day;
    int spot = (int)o->swim->now.rig_spot;
    bf_swim_event lift = nothing_yet(o, BF_SWIM_LIFT, -1);
    lift.t_s = at_s, lift.outcome = outcome, lift.held = held_in(o, spot, outcome);
    if (outcome == BF_LANDED) {
        lift.value =
            on_scales(bfi_luck_fish_kg(&o->luck, o->is->fish_kg, o->is->fish_spread, day->n[BF_LANDED]));
        day->kg += lift.value;
    }
    day->n[outcome]++;
    note(o, lift);
    bfi_swim_ends(o->swim, 1, o->x, spot, outcome);
    rig_out(o, at_s);
}

/* To the end of the five seconds; 1 when they brought a bite. */
static int pass(outing *o) {
    double from_s = now_s(o), to_s = (floor(from_s / BFI_SWIM_STEP_S) + 1) * BFI_SWIM_STEP_S;
    int was_in = is_in(o), spot = (int)o->swim->now.rig_spot, hook = (int)o->swim->now.rig_hook;
    double hazard = bfi_luck_step(&o->luck, o->swim, o->x, to_s), dt_s = to_s - from_s;
    bfi_shown shown = {.bite = BF_NOTHING};
    if (was_in) shown = bfi_luck_shown(&o->luck, o->swim, o->x, spot, hook, hazard);
    for (int k = 0; k < shown.n_touches && k < BFI_LUCK_MOST_TOUCHES; k++) {
        bf_swim_event touch = nothing_yet(o, BF_SWIM_TOUCH, -1);
        touch.t_s = to_s - shown.touch_late[k] * dt_s, touch.n = 1;
        note(o, touch);
    }
    o->day->n_touches += shown.n_touches;
    o->day->due += hazard * (1 - shown.late);
    if (shown.bite != BF_NOTHING) bitten(o, shown.bite, to_s - shown.late * dt_s);
    if (to_s / BF_REHEARSE_POINT_S == floor(to_s / BF_REHEARSE_POINT_S)) note_truth(o);
    return shown.bite != BF_NOTHING;
}

/* ---- Turns ---- */

static int goes_over_the_rig(const bf_turn *turn) {
    return turn->how == BF_THROW || turn->how == BF_HAND;
}

static int needs_hands(const bf_turn *turn) {
    if (turn->kind == BF_TURN_FEED) return !goes_over_the_rig(turn) && !turn->is_further;
    return turn->kind == BF_TURN_LOWER;
}

static int is_due(const outing *o, const bf_turn *turn) {
    return now_s(o) >= turn->t_s && (!needs_hands(turn) || now_s(o) >= o->day->free_s);
}

/* Out without a bite. */
static void lift(outing *o, int turn) {
    if (!is_in(o)) return;
    bf_swim_event event = nothing_yet(o, BF_SWIM_LIFT, turn);
    event.outcome = BF_NOTHING;
    note(o, event);
    rig_out(o, now_s(o));
}

static void act(outing *o, const bf_swim_event *event) {
    double log_w = 0;
    bfi_luck_number_step(o->swim); /* what a put-in draws is the clock's */
    bfi_swim_meet(o->swim, 1, o->x, event, &log_w);
    note(o, *event);
}

static void feed(outing *o, const bf_turn *turn, int i) {
    bf_swim_event event = nothing_yet(o, BF_SWIM_FEED, i);
    event.spot = turn->spot, event.what = turn->what, event.how = turn->how;
    event.is_further = turn->is_further;
    event.count = turn->count, event.count_pm_frac = turn->count_pm_frac, event.area_m2 = turn->area_m2;
    act(o, &event);
    if (needs_hands(turn)) o->day->free_s = now_s(o) + o->is->put_in_s;
}

static void lower(outing *o, int spot, int hook, int i) {
    bf_swim_event event = nothing_yet(o, BF_SWIM_IN, i);
    event.spot = spot, event.what = hook;
    act(o, &event);
    o->day->rig_since_s = now_s(o);
}

static int is_in_there(const outing *o, const bf_turn *turn) {
    return (int)o->swim->now.rig_spot == turn->spot && (int)o->swim->now.rig_hook == turn->what;
}

/* 1 when turn i is done; 0 when the rig had to come out first. */
static int done(outing *o, int i) {
    const bf_turn *turn = &o->is->turn[i];
    int is_there = turn->kind == BF_TURN_LOWER && is_in_there(o, turn);
    if (turn->kind == BF_TURN_LIFT || (needs_hands(turn) && is_in(o) && !is_there)) {
        lift(o, i);
        if (turn->kind == BF_TURN_LIFT) o->spot = -1;
        return turn->kind == BF_TURN_LIFT;
    }
    if (turn->kind == BF_TURN_FEED) feed(o, turn, i);
    if (turn->kind == BF_TURN_LOWER) {
        if (!is_there) lower(o, turn->spot, turn->what, i);
        o->spot = turn->spot, o->hook = turn->what;
    }
    return 1;
}

/* ---- The whole ---- */

void bfi_rehearse_stand(const bf_rehearsal *is, bfi_swim_alone *alone) {
    bf_swim_set none = {{0}}; /* the truth has its own */
    bfi_swim_prepare(&alone->swim, is->scene, &none, is->seed, 0);
    bfi_swim_restore(&alone->swim, is->truth);
    memcpy(alone->x, is->truth + BFI_SWIM_MOMENT, (size_t)bfi_swim_columns(is->scene) * sizeof(double));
}

static void start_day(bf_rehearse_day *day) {
    bf_rehearse_day fresh = {.event = day->event,
                             .most_events = day->most_events,
                             .point = day->point,
                             .most_points = day->most_points};
    *day = fresh;
}

static void play(const bf_rehearsal *is, bfi_swim_alone *alone, uint64_t scenario, bf_rehearse_day *day) {
    outing o = {.is = is,
                .swim = &alone->swim,
                .x = alone->x,
                .luck = bfi_luck_of(is->seed, scenario),
                .spot = -1,
                .day = day};
    start_day(day);
    bfi_luck_meet(&o.luck, o.swim);
    day->free_s = day->rig_since_s = now_s(&o);
    note_truth(&o);
    for (int has_bite = 0;;) {
        const bf_turn *turn = day->n_done < is->n_turns ? &is->turn[day->n_done] : NULL;
        if (turn && turn->t_s > is->until_s) turn = NULL;
        if (turn && is_due(&o, turn)) {
            day->n_done += done(&o, day->n_done);
            continue;
        }
        if (!turn && (now_s(&o) >= is->until_s || (has_bite && is->stops_at_bite))) break;
        if (is->goes_in_again && o.spot >= 0 && !is_in(&o) && now_s(&o) >= day->free_s)
            lower(&o, o.spot, o.hook, -1);
        has_bite = pass(&o) && !turn;
    }
    day->t_s = now_s(&o);
    day->rig_spot = (int)o.swim->now.rig_spot, day->rig_hook = (int)o.swim->now.rig_hook;
}

void bfi_rehearse_play(const bf_rehearsal *is, bfi_swim_alone *alone, bf_rehearse_day *day) {
    play(is, alone, DAY_LUCK, day);
}

void bf_rehearse(const bf_rehearsal *rehearsal, bf_rehearse_day *day) {
    bfi_swim_alone alone;
    BF_ASSERT(rehearsal->n_turns >= 0 && rehearsal->n_turns <= BF_REHEARSE_MOST_TURNS);
    BF_ASSERT(rehearsal->busy_s > 0 && rehearsal->put_in_s > 0);
    bfi_rehearse_stand(rehearsal, &alone);
    bfi_rehearse_play(rehearsal, &alone, day);
}

/* ---- Truths ---- */

int bf_rehearse_columns(const bf_swim_scene *scene) {
    return BFI_SWIM_MOMENT + bfi_swim_columns(scene);
}

static void keep(const bfi_swim_alone *alone, const bf_swim_scene *scene, double *truth) {
    bfi_swim_save(&alone->swim, truth);
    memcpy(truth + BFI_SWIM_MOMENT, alone->x, (size_t)bfi_swim_columns(scene) * sizeof *truth);
}

void bf_rehearse_begin(const bf_swim_scene *scene, const bf_swim_prior *prior, uint64_t seed, double *truth) {
    bfi_swim_alone alone;
    bf_swim_set set = bf_swim_drawn_set(prior, seed, 0, 1);
    bfi_swim_prepare(&alone.swim, scene, &set, seed, STREAM_TRUTH);
    bfi_swim_begin(&alone.swim, 1, alone.x);
    keep(&alone, scene, truth);
}

size_t bf_rehearse_draw_bytes(const bf_belief_job *belief) {
    return bfi_room(bfi_swim_bytes()) + bfi_room(2 * (size_t)belief->n_sets * sizeof(double));
}

/* Particle of scenario s; 0: nothing explains the session. */
static int drawn(const bf_belief_job *belief, const double *rows, uint64_t seed, int scenario, void *work,
                 bfi_swim_alone *alone) {
    bf_advise_job job = {.belief = belief, .seed = seed};
    bf_swim_set none = {{0}}; /* each truth has its own */
    double all = 0;
    bfi_advising a = {.job = &job,
                      .rows = rows,
                      .shape = bfi_belief_shape_of(belief),
                      .ready = work,
                      .weight = (double *)(void *)((char *)work + bfi_room(bfi_swim_bytes()))};
    bfi_swim_prepare(a.ready, belief->scene, &none, seed, 0);
    bfi_belief_weights(belief, rows, a.weight);
    for (int s = 0; s < belief->n_sets; s++) all += a.weight[s];
    if (!(all > 0)) return 0;
    bfi_advise_truth(&a, scenario, alone);
    return 1;
}

int bf_rehearse_draw(const bf_belief_job *belief, const double *rows, uint64_t seed, void *work,
                     double *truth) {
    bfi_swim_alone alone;
    if (!drawn(belief, rows, seed, 0, work, &alone)) return 0;
    keep(&alone, belief->scene, truth);
    return 1;
}

bf_swim_set bf_rehearse_parameters(const bf_swim_scene *scene, const double *truth) {
    bf_swim_set set;
    const double *own = truth + bf_rehearse_columns(scene) - BF_SWIM_N_PARAMETERS;
    memcpy(set.of, own, sizeof set.of);
    set.of[BF_SWIM_APPETITE] /=
        2 - set.of[BF_SWIM_APPETITE]; /* the model's factor of activity, below 2, as odds again */
    return set;
}

static int is_within(double number, double least, double most) {
    return number >= least && number <= most;
}

/* An index of 0 .. n - 1, or from -1 on. */
static int is_index(double number, int least, int n) {
    return is_within(number, least, n - 1) && number == floor(number);
}

#define TEMPERATURE ((int)(offsetof(bfi_swim_now, temp_c) / sizeof(double)))
#define MOST 1e9 /* fish, pieces, rates: more than any session has */

/* Of bits and memories no more is asked than that they are numbers an int holds. */
static int can_be_now(const bf_swim_scene *scene, const bfi_swim_now *now, const double *moment) {
    int can = is_within(now->t_s, 0, BF_STORY_MOST_S) && (now->rig_spot < 0) == (now->rig_hook < 0);
    can &= is_index(now->rig_spot, -1, scene->n_spots) && is_index(now->rig_hook, -1, scene->n_hooks);
    can &= is_index(now->stretch_spot, -1, scene->n_spots);
    for (int s = 0; s < BF_SWIM_MOST_SPOTS; s++) can &= is_index(now->last_hook[s], 0, scene->n_hooks);
    for (int c = 0; c < BFI_SWIM_MOMENT; c++)
        can &= is_within(moment[c], -5, MOST) || (c == TEMPERATURE && isnan(moment[c]));
    return can;
}

/* Areas, what crumbles, and parameters are above 0; counts are not below it; the clock is drawn anew. */
static int can_be_columns(const bfi_swim *swim, const double *x) {
    int own = bfi_own_column(swim), can = 1;
    for (int c = 0; c < own + BF_SWIM_N_PARAMETERS; c++)
        can &= is_within(x[c], c == CLOCK ? -MOST : c < own ? 0 : 1e-12, MOST);
    for (int s = 0; s < swim->n_spots; s++) {
        const double *spot = x + bfi_spot_column(swim, s);
        can &= spot[TIGHT_M2] > 0 && spot[LOOSE_M2] > 0 && spot[CRUMBLING] > 0;
    }
    return can;
}

int bf_rehearse_is_truth(const bf_swim_scene *scene, const double *truth, double *t_s) {
    bfi_swim swim;
    bf_swim_set none = {{0}};
    bfi_swim_now now;
    memcpy(&now, truth, sizeof now);
    bfi_swim_prepare(&swim, scene, &none, 0, 0);
    *t_s = now.t_s;
    return can_be_now(scene, &now, truth) && can_be_columns(&swim, truth + BFI_SWIM_MOMENT);
}

/* ---- Fished again ---- */

int bf_rehearse_other(const bf_rehearse_other_job *job, int scenario, void *work, double landed[2]) {
    bfi_swim_alone begun, alone;
    if (!drawn(job->belief, job->rows, job->seed, scenario, work, &begun)) return 0;
    bf_swim_set none = {{0}};
    bfi_luck luck = bfi_luck_of(job->seed, DAY_LUCK + (uint64_t)scenario);
    bfi_swim_prepare(&begun.swim, job->belief->scene, &none, luck.seed, STREAM_TRUTH + luck.scenario);
    bfi_swim_begin_own(&begun.swim, 1, begun.x);
    for (int k = 0; k < 2; k++) {
        bf_rehearse_day day = {.event = NULL};
        bf_rehearsal is = {.scene = job->belief->scene,
                           .seed = job->seed,
                           .turn = job->turn[k],
                           .n_turns = job->n_turns[k],
                           .until_s = job->belief->until_s,
                           .goes_in_again = 1,
                           .busy_s = job->busy_s,
                           .put_in_s = job->put_in_s,
                           .fish_kg = job->fish_kg,
                           .fish_spread = 1};
        alone = begun;
        play(&is, &alone, luck.scenario, &day);
        landed[k] = day.n[BF_LANDED];
    }
    return 1;
}
