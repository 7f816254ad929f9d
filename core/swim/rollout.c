/* rollout.c -- see rollout.h. */
#include "core/swim/rollout.h"

#include <math.h>

#include "baitfall/choice.h"
#include "baitfall/elementary.h"
#include "baitfall/quantity.h"
#include "baitfall/random.h"

/* Streams of a scenario's luck, apart from those of belief and play. */
#define STREAM_SWIM UINT64_C(0x4011000000000000)
#define STREAM_SHOWS UINT64_C(0x4011100000000000)
#define STREAM_FISH UINT64_C(0x4011200000000000)
#define STREAM_STEP UINT64_C(0x4011300000000000)

void bfi_swim_take(const bfi_swim *swim, int n, const double *x, int p, bfi_swim_alone *alone) {
    alone->swim = *swim;
    for (int c = 0; c < bfi_own_column(swim) + BF_SWIM_N_PARAMETERS; c++) alone->x[c] = x[c * n + p];
}

/* ---- One rollout on its way ---- */

typedef struct outing {
    const bfi_rollout *is;
    bfi_swim *swim;
    double *x;
    uint64_t scenario;
    double end_s, put_s; /* put: the last put-in */
    double slot;         /* five seconds of the clock, from the first of the session */
    double quiet, used;  /* nothing shows in it while hazard used so far is below -log quiet */
    double late_s;       /* since the bite that ended the last drop */
    uint64_t n_shown;
    int n_bites; /* since the last put-in */
    const bfi_rule *rule;
    bfi_haul haul;
} outing;

/* The model draws by its number of the step: by the clock here, four steps a second. */
static void number_step(bfi_swim *swim) {
    double first = floor(swim->now.t_s) * 4;
    if (!(swim->now.step > first && swim->now.step < first + 4)) swim->now.step = first;
}

/* How much hazard is still to come before a fish moves and before something shows has no memory, so both may be drawn anew as
 * five seconds begin: then what happens in them depends on their rates alone, not on how much happened before. */
static void draw_luck(outing *o, double slot) {
    double u[2];
    bf_uniform2(o->is->seed, STREAM_STEP + o->scenario, (uint64_t)slot, u);
    o->x[CLOCK] = -bf_log(u[0]);
    o->quiet = u[1], o->used = 0;
    o->slot = slot;
}

/* One step, not beyond to_s; returns the hazard of it. */
static double step(outing *o, double to_s) {
    double slot = floor(o->swim->now.t_s / BFI_SWIM_STEP_S), next = (slot + 1) * BFI_SWIM_STEP_S, log_w = 0;
    if (slot != o->slot) draw_luck(o, slot);
    number_step(o->swim);
    bfi_swim_run(o->swim, 1, o->x, next < to_s ? next : to_s, &log_w);
    return -log_w;
}

static void pass(outing *o, double to_s) {
    if (to_s > o->end_s) to_s = o->end_s;
    while (o->swim->now.t_s < to_s) step(o, to_s);
}

static void act(outing *o, bf_swim_event event) {
    double log_w = 0;
    bfi_swim_meet(o->swim, 1, o->x, &event, &log_w);
}

static double fish_kg(const outing *o, int k) {
    const bfi_hands *hands = &o->is->hands;
    double spread = bf_log(hands->fish_spread) / BF_PM_PER_SD;
    return hands->fish_kg * bf_exp(spread * bf_normal(o->is->seed, STREAM_FISH + o->scenario, (uint64_t)k));
}

/* ---- With the rig in ---- */

/* What shows, by its share of the hazards. */
static int what_shows(const outing *o, double u) {
    double h[N_SHOWN], all = 0;
    bfi_swim_shows(o->swim, 1, o->x, o->rule->spot, o->rule->hook, 0, h);
    for (int i = 0; i < N_SHOWN; i++) all += h[i];
    int shown = 0;
    for (double at = u * all - h[0]; at >= 0 && shown + 1 < N_SHOWN; at -= h[shown]) shown++;
    return shown;
}

static void count_fish(outing *o, int outcome) {
    if (outcome == BF_LANDED) o->haul.kg += fish_kg(o, o->haul.n[BF_LANDED]);
    o->haul.n[outcome]++, o->n_bites++;
}

/* All that a step showed; a bite, where in it the hazard was used up, ends it. Returns the bite, or BF_NOTHING. */
static int shown_in_step(outing *o, double hazard, double dt_s) {
    o->used += hazard;
    if (o->quiet < 1 - o->used) return BF_NOTHING; /* below e^-used then, known without a logarithm */
    double quiet = bf_log(o->quiet), over = o->used + quiet;
    int shown = BF_NOTHING;
    while (over >= 0 && shown == BF_NOTHING) {
        double u[2];
        bf_uniform2(o->is->seed, STREAM_SHOWS + o->scenario, o->n_shown++, u);
        shown = what_shows(o, u[0]);
        if (shown == SHOWN_TOUCH) {
            shown = BF_NOTHING;
            over += bf_log(u[1]);
            continue;
        }
        o->late_s = over / hazard * dt_s;
        over = bf_log(u[1]);
        count_fish(o, shown);
        bfi_swim_ends(o->swim, 1, o->x, o->rule->spot, shown);
    }
    o->used = over - quiet;
    return shown;
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
                .scenario = (uint64_t)scenario,
                .slot = -1,
                .n_bites = rollout->n_bites};
    o.swim->seed = rollout->seed, o.swim->stream = STREAM_SWIM + o.scenario;
    double begin_s = o.swim->now.t_s;
    o.end_s = begin_s + rollout->for_s, o.put_s = begin_s - rollout->since_put_s;
    while (o.swim->now.t_s < o.end_s) {
        o.rule = o.swim->now.t_s < begin_s + rollout->first_s ? &rollout->first : &rollout->then;
        drop(&o);
    }
    return o.haul;
}
