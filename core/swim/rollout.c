/* rollout.c -- see rollout.h. */
#include "core/swim/rollout.h"

#include "baitfall/choice.h"
#include "core/swim/luck.h"

void bfi_swim_take(const bfi_swim *swim, int n, const double *x, int p, bfi_swim_alone *alone) {
    alone->swim = *swim;
    for (int c = 0; c < bfi_own_column(swim) + BF_SWIM_N_PARAMETERS; c++) alone->x[c] = x[c * n + p];
}

/* ---- One rollout on its way ---- */

typedef struct outing {
    const bfi_rollout *is;
    bfi_swim *swim;
    double *x;
    bfi_luck luck;
    double end_s, put_s; /* put: the last put-in */
    double late_s;       /* since the bite that ended the last drop */
    int n_bites;         /* since the last put-in */
    const bfi_rule *rule;
    bfi_haul haul;
} outing;

static double step(outing *o, double to_s) {
    return bfi_luck_step(&o->luck, o->swim, o->x, to_s);
}

static void pass(outing *o, double to_s) {
    if (to_s > o->end_s) to_s = o->end_s;
    while (o->swim->now.t_s < to_s) step(o, to_s);
}

static void act(outing *o, bf_swim_event event) {
    double log_w = 0;
    bfi_swim_meet(o->swim, 1, o->x, &event, &log_w);
}

/* ---- With the rig in ---- */

static void count_fish(outing *o, int outcome) {
    const bfi_hands *hands = &o->is->hands;
    if (outcome == BF_LANDED)
        o->haul.kg += bfi_luck_fish_kg(&o->luck, hands->fish_kg, hands->fish_spread, o->haul.n[BF_LANDED]);
    o->haul.n[outcome]++, o->n_bites++;
}

/* The bite that a step showed, or BF_NOTHING. */
static int shown_in_step(outing *o, double hazard, double dt_s) {
    bfi_shown shown = bfi_luck_shown(&o->luck, o->swim, o->x, o->rule->spot, o->rule->hook, hazard);
    if (shown.bite == BF_NOTHING) return BF_NOTHING;
    o->late_s = shown.late * dt_s;
    count_fish(o, shown.bite);
    bfi_swim_ends(o->swim, 1, o->x, o->rule->spot, shown.bite);
    return shown.bite;
}

static void put_in(outing *o) {
    const bfi_rule *rule = o->rule;
    act(o, (bf_swim_event){.kind = BF_SWIM_FEED,
                           .spot = rule->spot,
                           .what = rule->feed,
                           .how = rule->how,
                           .count = rule->count,
                           .area_m2 = rule->area_m2});
    o->put_s = o->swim->now.t_s, o->n_bites = 0;
    o->haul.n_put_ins++;
    o->haul.pieces += rule->count;
}

static int is_due(const outing *o) {
    return o->rule->feed >= 0 && o->swim->now.t_s >= o->put_s + o->rule->every_s &&
           (!o->rule->after_bite || o->n_bites > 0);
}
static int goes_over_the_rig(const bfi_rule *rule) {
    return rule->how == BF_THROW || rule->how == BF_HAND;
}

/* Until a bite, the blank's end, or the end of all. Returns the outcome. */
static int fish(outing *o, double up_s) {
    o->late_s = 0;
    if (up_s > o->end_s) up_s = o->end_s;
    while (o->swim->now.t_s < up_s) {
        if (is_due(o) && goes_over_the_rig(o->rule)) put_in(o);
        double from_s = o->swim->now.t_s, hazard = step(o, up_s);
        int outcome = shown_in_step(o, hazard, o->swim->now.t_s - from_s);
        if (outcome != BF_NOTHING) return outcome;
    }
    return BF_NOTHING;
}

/* ---- The whole ---- */

static int is_in(const outing *o) {
    return (int)o->swim->now.rig_spot == o->rule->spot && (int)o->swim->now.rig_hook == o->rule->hook;
}

static void lift(outing *o) {
    o->swim->now.rig_spot = o->swim->now.rig_hook = -1;
}

/* One drop with what comes before and after it. */
static void drop(outing *o) {
    int by_hand = is_due(o) && !goes_over_the_rig(o->rule);
    if (o->swim->now.rig_spot >= 0 && (by_hand || !is_in(o))) {
        lift(o);
        pass(o, o->swim->now.t_s + o->is->hands.busy_s[BF_NOTHING]);
    }
    if (by_hand) {
        put_in(o);
        pass(o, o->swim->now.t_s + o->is->hands.put_in_s);
    }
    if (o->swim->now.t_s >= o->end_s) return;
    if (!is_in(o)) act(o, (bf_swim_event){.kind = BF_SWIM_IN, .spot = o->rule->spot, .what = o->rule->hook});
    int outcome = fish(o, o->swim->now.t_s + o->rule->blank_s);
    if (o->swim->now.t_s >= o->end_s) return;
    lift(o);
    pass(o, o->swim->now.t_s + o->is->hands.busy_s[outcome] - o->late_s);
}

bfi_haul bfi_rollout_run(const bfi_rollout *rollout, bfi_swim_alone *alone, int scenario) {
    outing o = {.is = rollout,
                .swim = &alone->swim,
                .x = alone->x,
                .luck = bfi_luck_of(rollout->seed, (uint64_t)scenario),
                .n_bites = rollout->n_bites};
    bfi_luck_meet(&o.luck, o.swim);
    double begin_s = o.swim->now.t_s;
    o.end_s = begin_s + rollout->for_s, o.put_s = begin_s - rollout->since_put_s;
    while (o.swim->now.t_s < o.end_s) {
        o.rule = o.swim->now.t_s < begin_s + rollout->first_s ? &rollout->first : &rollout->then;
        drop(&o);
    }
    return o.haul;
}
