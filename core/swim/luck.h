/* luck.h -- the luck of one swim on its way, as rollout.h and rehearse.h share it. Internal.
 *
 * The noise of eating, the moves of fish and whether something shows are drawn by the clock's five seconds (a slot), each with a number
 * of its own, and not by how much has happened before: what is done otherwise in one slot leaves the numbers of all others as they
 * are. Fish k landed weighs the same whenever it comes.
 */
#ifndef BFI_SWIM_LUCK_H
#define BFI_SWIM_LUCK_H

#include <math.h>

#include "baitfall/elementary.h"
#include "baitfall/quantity.h"
#include "baitfall/random.h"
#include "core/swim/state.h"

/* Streams of a scenario's luck, apart from those of belief and play. */
#define BFI_LUCK_SWIM UINT64_C(0x4011000000000000)
#define BFI_LUCK_SHOWS UINT64_C(0x4011100000000000)
#define BFI_LUCK_FISH UINT64_C(0x4011200000000000)
#define BFI_LUCK_STEP UINT64_C(0x4011300000000000)

typedef struct bfi_luck {
    uint64_t seed, scenario;
    double slot;        /* five seconds of the clock, from the first of the session */
    double quiet, used; /* nothing shows in it while hazard used so far is below -log quiet */
    uint64_t n_shown;
} bfi_luck;

static inline bfi_luck bfi_luck_of(uint64_t seed, uint64_t scenario) {
    return (bfi_luck){.seed = seed, .scenario = scenario, .slot = -1};
}

/* The numbers that the swim itself draws. */
static inline uint64_t bfi_luck_stream(const bfi_luck *luck) {
    return BFI_LUCK_SWIM + luck->scenario;
}

/* The swim draws by it from now on. */
static inline void bfi_luck_meet(const bfi_luck *luck, bfi_swim *swim) {
    swim->seed = luck->seed, swim->stream = bfi_luck_stream(luck);
}

/* The model draws by its number of the step: by the clock here, four steps a second. */
static inline void bfi_luck_number_step(bfi_swim *swim) {
    double first = floor(swim->now.t_s) * 4;
    if (!(swim->now.step > first && swim->now.step < first + 4)) swim->now.step = first;
}

/* How much hazard is still to come before a fish moves and before something shows has no memory, so both may be drawn anew as
 * five seconds begin: then what happens in them depends on their rates alone, not on how much happened before. Returns the swim's
 * CLOCK. */
static inline double bfi_luck_draw(bfi_luck *luck, double slot) {
    double u[2];
    bf_uniform2(luck->seed, BFI_LUCK_STEP + luck->scenario, (uint64_t)slot, u);
    luck->quiet = u[1], luck->used = 0;
    luck->slot = slot;
    return -bf_log(u[0]);
}

/* The same slot of the same scenario, drawn already. */
static inline void bfi_luck_share(bfi_luck *luck, const bfi_luck *drawn) {
    luck->quiet = drawn->quiet, luck->used = 0;
    luck->slot = drawn->slot;
}

/* One step, not beyond to_s; returns the hazard of it. */
static inline double bfi_luck_step(bfi_luck *luck, bfi_swim *swim, double *x, double to_s) {
    double slot = floor(swim->now.t_s / BFI_SWIM_STEP_S), next = (slot + 1) * BFI_SWIM_STEP_S, log_w = 0;
    if (slot != luck->slot) x[CLOCK] = bfi_luck_draw(luck, slot);
    bfi_luck_number_step(swim);
    bfi_swim_run(swim, 1, x, next < to_s ? next : to_s, &log_w);
    return -log_w;
}

/* What shows, by its share of the hazards. */
static inline int bfi_luck_what_shows(const bfi_swim *swim, const double *x, int spot, int hook, double u) {
    double h[N_SHOWN], all = 0;
    bfi_swim_shows(swim, 1, x, spot, hook, 0, h);
    for (int i = 0; i < N_SHOWN; i++) all += h[i];
    int shown = 0;
    for (double at = u * all - h[0]; at >= 0 && shown + 1 < N_SHOWN; at -= h[shown]) shown++;
    return shown;
}

/* What a step showed. `late`: the share of the step that was still to come then, 0 .. 1. */
#define BFI_LUCK_MOST_TOUCHES 8
typedef struct bfi_shown {
    int bite; /* bf_outcome; BF_NOTHING: none */
    double late;
    int n_touches; /* before it; the first BFI_LUCK_MOST_TOUCHES have their times */
    double touch_late[BFI_LUCK_MOST_TOUCHES];
} bfi_shown;

/* 1 when a step of so much hazard certainly shows nothing, known without a logarithm: quiet is below e^-used. It has passed then. */
static inline int bfi_luck_is_quiet(bfi_luck *luck, double hazard) {
    if (!(luck->quiet < 1 - (luck->used + hazard))) return 0;
    luck->used += hazard;
    return 1;
}

/* All that a step of so much hazard showed; a bite, where in it the hazard was used up, ends it. The state's jump at a bite is the
 * caller's (bfi_swim_ends). */
static inline bfi_shown bfi_luck_shown(bfi_luck *luck, const bfi_swim *swim, const double *x, int spot,
                                       int hook, double hazard) {
    bfi_shown shown = {.bite = BF_NOTHING};
    if (bfi_luck_is_quiet(luck, hazard)) return shown;
    luck->used += hazard;
    double quiet = bf_log(luck->quiet), over = luck->used + quiet;
    while (over >= 0 && shown.bite == BF_NOTHING) {
        double u[2], late = over / hazard;
        bf_uniform2(luck->seed, BFI_LUCK_SHOWS + luck->scenario, luck->n_shown++, u);
        int what = bfi_luck_what_shows(swim, x, spot, hook, u[0]);
        if (what == SHOWN_TOUCH) {
            if (shown.n_touches < BFI_LUCK_MOST_TOUCHES) shown.touch_late[shown.n_touches] = late;
            shown.n_touches++;
            over += bf_log(u[1]);
            continue;
        }
        shown.bite = what, shown.late = late;
        over = bf_log(u[1]);
    }
    luck->used = over - quiet;
    return shown;
}

/* What fish k landed weighs, kg: log-normal, eight in ten between kg divided and multiplied by spread. */
static inline double bfi_luck_fish_kg(const bfi_luck *luck, double kg, double spread, int k) {
    double sd = bf_log(spread) / BF_PM_PER_SD;
    return kg * bf_exp(sd * bf_normal(luck->seed, BFI_LUCK_FISH + luck->scenario, (uint64_t)k));
}

#endif
