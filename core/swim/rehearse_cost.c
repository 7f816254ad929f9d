/* rehearse_cost.c -- what a decision cost: the chosen act against the best of the offer, from the true state. See baitfall/rehearse.h. */
#include <string.h>

#include "baitfall/status.h"
#include "core/base/room.h"
#include "core/swim/luck.h"
#include "core/swim/rehearse.h"

#define STREAM_PRICE UINT64_C(0x4e8ea20000000000)
/* The best is looked for among as many acts as on a phone, on more scenarios: they differ by luck alone. */
#define SCENARIOS 128
#define RUN_OFF 256
#define COMPARE_LUCK 3000000 /* none that chose */

/* ---- Which turns are decisions ---- */

/* Where the angler fished before turn i; 0: nowhere yet. */
static int fished_before(const bf_rehearsal *r, int i, int *spot, int *hook) {
    bfi_swim_now begun;
    for (int k = i - 1; k >= 0; k--)
        if (r->turn[k].kind == BF_TURN_LOWER) {
            *spot = r->turn[k].spot, *hook = r->turn[k].what;
            return 1;
        }
    memcpy(&begun, r->truth, sizeof begun);
    *spot = (int)begun.rig_spot, *hook = (int)begun.rig_hook;
    return *spot >= 0;
}

/* The lowering that goes with the put-in of turn i: before a wait or another put-in; NULL: none. */
static const bf_turn *lowered_with(const bf_rehearsal *r, int i) {
    for (int k = i + 1; k < r->n_turns; k++) {
        const bf_turn *turn = &r->turn[k];
        if (turn->kind == BF_TURN_LOWER) return turn;
        if (turn->kind == BF_TURN_WAIT || (turn->kind == BF_TURN_FEED && !turn->is_further)) break;
    }
    return NULL;
}

/* 1 when a put-in just before turn i, a lowering, went to the same spot: both are one decision. */
static int was_fed_with(const bf_rehearsal *r, int i) {
    for (int k = i - 1; k >= 0 && r->turn[k].kind != BF_TURN_WAIT; k--) {
        if (r->turn[k].kind == BF_TURN_FEED && !r->turn[k].is_further)
            return r->turn[k].spot == r->turn[i].spot;
        if (r->turn[k].kind == BF_TURN_LOWER) break;
    }
    return 0;
}

static int decided_feed(const bf_rehearsal *r, int i, int has_fished, bf_rehearse_decision *d) {
    const bf_turn *turn = &r->turn[i], *with = lowered_with(r, i);
    if (turn->is_further) return 0;
    if (!has_fished) d->spot = with ? with->spot : turn->spot, d->hook = with ? with->what : 0;
    int goes_to = with ? with->spot : d->spot;
    d->is_beside = goes_to != turn->spot;
    d->act = (bf_act){.what = turn->spot != d->spot ? BF_WHAT_MOVE : BF_WHAT_FEED,
                      .spot = turn->spot,
                      .hook = with ? with->what : d->hook,
                      .feed = turn->what,
                      .how = turn->how,
                      .count = turn->count,
                      .area_m2 = turn->area_m2};
    return 1;
}

static int decided_lower(const bf_rehearsal *r, int i, int has_fished, bf_rehearse_decision *d) {
    const bf_turn *turn = &r->turn[i];
    int moves = turn->spot != d->spot, changes = turn->what != d->hook;
    if (!has_fished || (!moves && !changes) || (moves && was_fed_with(r, i))) return 0;
    d->act = (bf_act){
        .what = moves ? BF_WHAT_MOVE : BF_WHAT_WAIT, .spot = turn->spot, .hook = turn->what, .feed = -1};
    return 1;
}

static int decided_wait(const bf_rehearsal *r, int i, int has_fished, bf_rehearse_decision *d) {
    if (!has_fished || !(r->turn[i].for_s >= BF_REHEARSE_LEAST_WAIT_S)) return 0;
    d->act = (bf_act){.what = BF_WHAT_WAIT, .spot = d->spot, .hook = d->hook, .feed = -1};
    d->act.wait_s = r->turn[i].for_s;
    return 1;
}

/* The day until turn i was decided. */
static bf_rehearsal until_turn(const bf_rehearsal *r, int i) {
    bf_rehearsal before = *r;
    before.n_turns = i, before.until_s = r->turn[i].t_s, before.stops_at_bite = 0;
    return before;
}

int bf_rehearse_decided(const bf_rehearsal *rehearsal, int i, bf_rehearse_decision *decision) {
    bf_rehearse_day day = {.event = NULL};
    bf_rehearse_decision d = {.t_s = BF_NAN};
    int has_fished = fished_before(rehearsal, i, &d.spot, &d.hook), is_one = 0;
    BF_ASSERT(i >= 0 && i < rehearsal->n_turns);
    switch ((bf_turn_kind)rehearsal->turn[i].kind) {
    case BF_TURN_FEED: is_one = decided_feed(rehearsal, i, has_fished, &d); break;
    case BF_TURN_LOWER: is_one = decided_lower(rehearsal, i, has_fished, &d); break;
    case BF_TURN_WAIT: is_one = decided_wait(rehearsal, i, has_fished, &d); break;
    case BF_TURN_LIFT:
    case BF_N_TURNS: break;
    }
    if (!is_one) return 0;
    bf_rehearsal before = until_turn(rehearsal, i);
    bf_rehearse(&before, &day);
    d.t_s = day.t_s;
    *decision = d;
    return 1;
}

/* ---- The best of the offer ---- */

/* A belief that knows the truth: one set, one particle of it drawn. */
static bf_belief_job sure_of(const bf_swim_scene *scene, int spot) {
    return (bf_belief_job){
        .scene = scene, .spot = spot, .prior = bf_swim_book(), .n_sets = 1, .n_particles = 4, .n_drawn = 1};
}

static size_t rows_bytes(const bf_belief_job *belief) {
    return bfi_room((size_t)bf_belief_columns(belief) * sizeof(double));
}

static void take_setting(bf_advise_job *job) {
    job->has_given = 0;
    job->n_acts_most = BF_ADVISE_PHONE_ACTS;
    job->n_scenarios = SCENARIOS;
    job->n_run_off = RUN_OFF;
}

static size_t values_bytes(void) {
    return bfi_room(2 * BF_REHEARSE_LUCKS * sizeof(double));
}

size_t bf_rehearse_cost_bytes(const bf_swim_scene *scene) {
    bf_belief_job belief = sure_of(scene, 0);
    bf_advise_job job = {.belief = &belief};
    take_setting(&job);
    return rows_bytes(&belief) + values_bytes() + bf_advise_bytes(&job);
}

static void lay_row(const bf_belief_job *belief, const bfi_swim_alone *alone, double *row) {
    bfi_belief_shape shape = bfi_belief_shape_of(belief);
    memset(row, 0, rows_bytes(belief));
    double *drawn = row + bfi_row_drawn(&shape);
    bfi_swim_save(&alone->swim, drawn);
    memcpy(drawn + BFI_SWIM_MOMENT, alone->x, (size_t)shape.model_columns * sizeof(double));
}

/* The rule by which the best act goes on. */
static bfi_rule rule_after(const bf_advise_job *job, const bf_advice *advice) {
    bfi_rule rule[BFI_ADVISE_RULES];
    bfi_advise_rules(job, rule);
    rule[0].every_s = advice->every_s, rule[0].count = advice->count;
    rule[0].after_bite = advice->after_bites;
    if (!advice->is_fed) rule[0].feed = -1;
    return bfi_advise_rule_of(job, &rule[0], &advice->act[advice->best]);
}

/* ---- The chosen beside it ---- */

/* What the chosen act is begun from: the true state; where feed was put beside, with that feed. */
static bfi_swim_alone begun_from(const bf_turn *turn, const bf_rehearse_decision *d,
                                 const bfi_swim_alone *alone) {
    bfi_swim_alone begun = *alone;
    double log_w = 0;
    bf_swim_event feed = {.kind = BF_SWIM_FEED,
                          .spot = turn->spot,
                          .what = turn->what,
                          .how = turn->how,
                          .count = turn->count,
                          .area_m2 = turn->area_m2};
    if (d->is_beside) bfi_swim_meet(&begun.swim, 1, begun.x, &feed, &log_w);
    return begun;
}

static bf_act chosen_act(const bf_rehearse_decision *d) {
    const bf_act stay = {.what = BF_WHAT_WAIT, .spot = d->spot, .hook = d->hook, .feed = -1};
    return d->is_beside ? stay : d->act;
}

static double share_above(const double *best, const double *chosen, int n) {
    double above = 0;
    for (int s = 0; s < n; s++) above += best[s] > chosen[s] ? 1 : best[s] == chosen[s] ? 0.5 : 0;
    return above / n;
}

_Static_assert(BF_REHEARSE_LUCKS % (BFI_WAYS / 2) == 0, "whole blocks of lucks");

/* Doing what was chosen, then going on as the best does, at its spot and with its hook bait. A move or another hook bait is kept to
 * until it would be looked at again. */
static bfi_rollout chosen_then(const bf_advise_job *job, const bfi_rule *rule,
                               const bf_rehearse_decision *d) {
    bf_act chosen = chosen_act(d);
    bfi_rollout rollout = bfi_advise_rollout(job, rule, &chosen);
    rollout.then = *rule;
    if (chosen.what == BF_WHAT_MOVE || chosen.hook != d->hook) rollout.first_s = BF_ADVISE_LOOK_S;
    return rollout;
}

typedef struct contest {
    bf_rehearse_cost *cost;
    bfi_rollout rollout[2]; /* the best, the chosen */
    const bfi_swim_alone *from[2];
} contest;

/* Both on lucks from .. to - 1, side by side. */
static void fish_both(const contest *c, const bf_advise_job *job, int from, int to, double *value) {
    bfi_rollouts both;
    bfi_rollouts_begin(&both, 2 * (to - from));
    for (int s = from; s < to; s++)
        for (int k = 0; k < 2; k++) bfi_rollouts_add(&both, &c->rollout[k], c->from[k], COMPARE_LUCK + s);
    bfi_rollouts_run(&both);
    for (int s = from; s < to; s++)
        for (int k = 0; k < 2; k++)
            value[k * BF_REHEARSE_LUCKS + s] = bfi_advise_worth(job, &both.outing[2 * (s - from) + k].haul);
}

/* value: 2 x BF_REHEARSE_LUCKS */
static void compare(const contest *c, const bf_advise_job *job, double *value) {
    bfi_planner planner;
    for (int s = 0; s < BF_REHEARSE_LUCKS; s += BFI_WAYS / 2) fish_both(c, job, s, s + BFI_WAYS / 2, value);
    bfi_planner_begin(&planner, 2, 1, BF_REHEARSE_LUCKS, BF_REHEARSE_LUCKS);
    while (bfi_planner_next(&planner, value)) continue; /* all is known already */
    c->cost->cost = bfi_planner_difference(&planner, value, 0, 1);
    c->cost->n_lucks = BF_REHEARSE_LUCKS;
    c->cost->p_more = share_above(value, value + BF_REHEARSE_LUCKS, BF_REHEARSE_LUCKS);
}

/* The best of the offer is the best only as far as some scenarios could tell: what was chosen and brings more takes its place. */
static void hand_over(bf_rehearse_cost *cost, const bf_rehearse_decision *d) {
    if (!(cost->cost.mid < 0)) return;
    cost->best = d->act, cost->is_best = 1, cost->p_more = 0.5;
    cost->cost = (bf_range){0, 0, 0, 0};
}

void bf_rehearse_price(const bf_rehearsal *rehearsal, int i, const bf_rehearse_decision *decision,
                       bf_advise_job *job, void *work, bf_rehearse_cost *cost) {
    bf_belief_job belief = sure_of(rehearsal->scene, decision->spot);
    double *row = work, *value = (double *)(void *)((char *)work + rows_bytes(&belief));
    void *advising = (char *)value + values_bytes();
    bf_rehearsal before = until_turn(rehearsal, i);
    bf_rehearse_day day = {.event = NULL};
    bfi_swim_alone alone;
    bf_advice advice;
    bfi_rehearse_stand(&before, &alone);
    bfi_rehearse_play(&before, &alone, &day);
    lay_row(&belief, &alone, row);
    bf_philox_block seed = bf_philox(rehearsal->seed, STREAM_PRICE, (uint64_t)i);
    job->belief = &belief, job->seed = (uint64_t)seed.word[0] << 20 | seed.word[1] >> 12;
    take_setting(job);
    bf_advise(job, row, advising, &advice);
    const bf_act *best = &advice.act[advice.best];
    bfi_rule rule = rule_after(job, &advice);
    bfi_swim_alone begun = begun_from(&rehearsal->turn[i], decision, &alone);
    contest c = {.cost = cost,
                 .rollout = {bfi_advise_rollout(job, &rule, best), chosen_then(job, &rule, decision)},
                 .from = {&alone, &begun}};
    *cost = (bf_rehearse_cost){.best = *best};
    cost->is_best = !decision->is_beside && bfi_advise_does_same(best, &decision->act);
    compare(&c, job, value);
    hand_over(cost, decision);
}
