/* rollout.c -- see rollout.h. */
#include "core/swim/rollout.h"

#include "baitfall/choice.h"
#include "baitfall/status.h"
#include "core/swim/lanes.h"

static int columns_of(const bfi_swim *swim) {
    return bfi_own_column(swim) + BF_SWIM_N_PARAMETERS;
}

void bfi_swim_take(const bfi_swim *swim, int n, const double *x, int p, bfi_swim_alone *alone) {
    alone->swim = *swim;
    for (int c = 0; c < columns_of(swim); c++) alone->x[c] = x[c * n + p];
}

/* ---- One of a block, put in and taken out ---- */

static void put_way(bfi_rollouts *r, int p, const bfi_swim_alone *alone) {
    const bfi_swim *swim = &alone->swim;
    for (int c = 0; c < columns_of(swim); c++) r->ways.x[c * r->ways.n + p] = alone->x[c];
    for (int s = 0; s < swim->n_spots; s++)
        r->ways.splash[s][p] = swim->now.splash[s], r->ways.fight[s][p] = swim->now.fight[s];
    r->ways.expect[p] = swim->now.expect, r->ways.fed[p] = swim->now.fed;
}

static bfi_swim_alone *take_way(bfi_rollouts *r, int p) {
    bfi_swim *swim = &r->one.swim;
    for (int c = 0; c < columns_of(swim); c++) r->one.x[c] = r->ways.x[c * r->ways.n + p];
    for (int s = 0; s < swim->n_spots; s++)
        swim->now.splash[s] = r->ways.splash[s][p], swim->now.fight[s] = r->ways.fight[s][p];
    swim->now.expect = r->ways.expect[p], swim->now.fed = r->ways.fed[p];
    swim->stream = r->ways.stream[p];
    return &r->one;
}

/* ---- Rig out ---- */

static int goes_over_the_rig(const bfi_rule *rule) {
    return rule->how == BF_THROW || rule->how == BF_HAND;
}

static int is_due(const bfi_outing *o, double at_s) {
    return o->rule->feed >= 0 && at_s >= o->put_s + o->rule->every_s &&
           (!o->rule->after_bite || o->n_bites > 0);
}

static void put_in(bfi_rollouts *r, int p, double at_s) {
    bfi_outing *o = &r->outing[p];
    const bfi_rule *rule = o->rule;
    const bf_swim_event fed = {.kind = BF_SWIM_FEED,
                               .spot = rule->spot,
                               .what = rule->feed,
                               .how = rule->how,
                               .count = rule->count,
                               .area_m2 = rule->area_m2};
    bfi_swim_alone *one = take_way(r, p);
    bfi_swim_meet(&one->swim, 1, one->x, &fed, NULL);
    put_way(r, p, one);
    o->put_s = at_s, o->n_bites = 0;
    o->haul.n_put_ins++;
    o->haul.pieces += rule->count;
}

/* The rig is out, and at free_s the next drop is thought of. */
static void lift(bfi_rollouts *r, int p, double free_s) {
    bfi_outing *o = &r->outing[p];
    o->is_in = o->is_fed = 0;
    o->free_s = free_s;
    r->ways.rig_at[p] = -1;
}

static void lower(bfi_rollouts *r, int p) {
    bfi_outing *o = &r->outing[p];
    o->is_in = 1;
    o->up_s = o->free_s + o->rule->blank_s;
    r->ways.rig_at[p] = o->rule->spot;
    r->ways.hook_by[p] = r->one.swim.hook_by[o->rule->hook];
    r->ways.hook_soft[p] = r->one.swim.hook_soft[o->rule->hook];
}

static const bfi_rule *rule_at(const bfi_rollouts *r, const bfi_outing *o, double at_s) {
    return at_s < r->begin_s + o->late_s + o->is->first_s ? &o->is->first : &o->is->then;
}

/* 1 when the drop's feed is dealt with: it went in, or none is due. A put-in lands at the nearer end of the step. */
static int has_fed(bfi_rollouts *r, int p, double to_s) {
    bfi_outing *o = &r->outing[p];
    if (o->is_fed) return 1;
    o->rule = rule_at(r, o, o->free_s);
    if (is_due(o, o->free_s) && !goes_over_the_rig(o->rule)) {
        if (o->free_s > 0.5 * (r->one.swim.now.t_s + to_s)) return 0;
        put_in(r, p, o->free_s);
        o->free_s += o->late_s = o->is->hands.put_in_s;
    }
    return o->is_fed = 1;
}

/* ---- Rig in ---- */

static void count_bite(bfi_outing *o, int outcome) {
    const bfi_hands *hands = &o->is->hands;
    if (outcome == BF_LANDED)
        o->haul.kg += bfi_luck_fish_kg(&o->luck, hands->fish_kg, hands->fish_spread, o->haul.n[BF_LANDED]);
    o->haul.n[outcome]++, o->n_bites++;
}

/* What it showed from from_s to until_s in a step of dt_s; a bite ends the drop where in it the hazard was used up. */
static void fish(bfi_rollouts *r, int p, double from_s, double until_s, double dt_s) {
    bfi_outing *o = &r->outing[p];
    double hazard = r->ways.hazard[p] * ((until_s - from_s) / dt_s);
    if (!(until_s > from_s) || bfi_luck_is_quiet(&o->luck, hazard)) return;
    bfi_swim_alone *one = take_way(r, p);
    bfi_shown shown = bfi_luck_shown(&o->luck, &one->swim, one->x, o->rule->spot, o->rule->hook, hazard);
    if (shown.bite == BF_NOTHING) return;
    bfi_swim_ends(&one->swim, 1, one->x, o->rule->spot, shown.bite);
    put_way(r, p, one);
    count_bite(o, shown.bite);
    lift(r, p, until_s - shown.late * (until_s - from_s) + o->is->hands.busy_s[shown.bite]);
}

/* ---- A step ---- */

/* Before it: rig in, feed flies over it when due; rig out, the drop that begins before to_s is made ready. */
static void before(bfi_rollouts *r, int p, double to_s) {
    bfi_outing *o = &r->outing[p];
    double at_s = r->one.swim.now.t_s;
    if (o->is_in) {
        if (goes_over_the_rig(o->rule) && is_due(o, at_s)) put_in(r, p, at_s);
    } else if (o->free_s < to_s && has_fed(r, p, to_s) && o->free_s < to_s) {
        lower(r, p);
    }
}

static void after(bfi_rollouts *r, int p, double from_s, double dt_s) {
    bfi_outing *o = &r->outing[p];
    if (!o->is_in) return;
    double up_s = o->up_s, to_s = from_s + dt_s;
    fish(r, p, o->free_s > from_s ? o->free_s : from_s, up_s < to_s ? up_s : to_s, dt_s);
    if (o->is_in && up_s <= to_s) lift(r, p, up_s + o->is->hands.busy_s[BF_NOTHING]);
}

/* Ways of the same scenario, one after the other, have the same numbers. */
static void draw_luck(bfi_rollouts *r) {
    double slot = floor(r->one.swim.now.t_s / BFI_SWIM_STEP_S), *clock = r->ways.x + CLOCK * r->ways.n;
    for (int p = 0; p < r->n; p++) {
        bfi_luck *luck = &r->outing[p].luck;
        if (p && r->ways.stream[p] == r->ways.stream[p - 1]) {
            bfi_luck_share(luck, &r->outing[p - 1].luck);
            clock[p] = clock[p - 1];
        } else
            clock[p] = bfi_luck_draw(luck, slot);
    }
}

/* Steps end on the clock's five seconds, so each but the first is a slot of its own. */
static void step(bfi_rollouts *r) {
    bfi_swim *swim = &r->one.swim;
    double from_s = swim->now.t_s, to_s = (floor(from_s / BFI_SWIM_STEP_S) + 1) * BFI_SWIM_STEP_S;
    if (to_s > r->end_s) to_s = r->end_s;
    bfi_luck_number_step(swim);
    draw_luck(r);
    for (int p = 0; p < r->n; p++) before(r, p, to_s);
    bfi_swim_step_ways(swim, &r->ways, to_s);
    for (int p = 0; p < r->n; p++) after(r, p, from_s, to_s - from_s);
}

/* ---- The whole ---- */

/* A rig that is in where the first rule wants it stays in until a put-in with the rig out is due; another one is lifted. */
static void begin(bfi_rollouts *r, int p, const bfi_swim_now *now) {
    bfi_outing *o = &r->outing[p];
    o->rule = rule_at(r, o, r->begin_s);
    lift(r, p, r->begin_s);
    if (!(now->rig_spot >= 0)) return;
    int is_right = (int)now->rig_spot == o->rule->spot && (int)now->rig_hook == o->rule->hook;
    if (is_right && (goes_over_the_rig(o->rule) || !is_due(o, r->begin_s)))
        lower(r, p);
    else
        o->free_s += o->late_s = o->is->hands.busy_s[BF_NOTHING];
}

void bfi_rollouts_begin(bfi_rollouts *r, int n) {
    BF_ASSERT(n >= 1 && n <= BFI_WAYS);
    r->n = 0;
    r->ways.n = (n + LANES - 1) / LANES * LANES;
}

void bfi_rollouts_add(bfi_rollouts *r, const bfi_rollout *rollout, const bfi_swim_alone *alone,
                      int scenario) {
    int p = r->n++;
    const bfi_swim_now *now = &alone->swim.now;
    BF_ASSERT(p < r->ways.n);
    if (p == 0) {
        r->one.swim = alone->swim;
        r->one.swim.seed = rollout->seed;
        r->begin_s = now->t_s, r->end_s = now->t_s + rollout->for_s;
    }
    BF_ASSERT(now->t_s == r->begin_s && now->t_s + rollout->for_s == r->end_s);
    r->one.swim.now.loose = (int)r->one.swim.now.loose | (int)now->loose;
    r->outing[p] = (bfi_outing){.is = rollout,
                                .luck = bfi_luck_of(rollout->seed, (uint64_t)scenario),
                                .put_s = now->t_s - rollout->since_put_s,
                                .n_bites = rollout->n_bites};
    r->ways.stream[p] = bfi_luck_stream(&r->outing[p].luck);
    put_way(r, p, alone);
    begin(r, p, now);
}

/* Ways of no use beside the last one, where that is without fellows. */
static void fill_lanes(bfi_rollouts *r) {
    for (int p = r->n; p < r->ways.n; p++) {
        put_way(r, p, take_way(r, p - 1));
        r->ways.stream[p] = r->ways.stream[p - 1];
        r->ways.rig_at[p] = -1, r->ways.hook_by[p] = r->ways.hook_soft[p] = 0;
    }
}

void bfi_rollouts_run(bfi_rollouts *r) {
    fill_lanes(r);
    while (r->one.swim.now.t_s < r->end_s) step(r);
}

bfi_haul bfi_rollout_run(const bfi_rollout *rollout, bfi_swim_alone *alone, int scenario) {
    bfi_rollouts r;
    const bfi_outing *o = &r.outing[0];
    bfi_rollouts_begin(&r, 1);
    bfi_rollouts_add(&r, rollout, alone, scenario);
    bfi_rollouts_run(&r);
    *alone = *take_way(&r, 0);
    alone->swim.now.rig_spot = o->is_in ? o->rule->spot : -1;
    alone->swim.now.rig_hook = o->is_in ? o->rule->hook : -1;
    return o->haul;
}
