/* play.c -- a made-up session: one particle of the model, whose bites happen. */
#include "baitfall/play.h"

#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/random.h"
#include "core/swim/fixed.h"
#include "core/swim/state.h"

#define PLAY_STEP_S 1.0
#define MOST_COLUMNS                                                                                         \
    (N_SHARED + BF_SWIM_MOST_SPOTS * (PIECES + 2 * BF_SWIM_MOST_CLASSES) + STRETCH_COLUMNS +                 \
     BF_SWIM_N_PARAMETERS)
#define STREAM_ANGLER UINT64_C(0xa2617e4000000000)

struct bf_play {
    bfi_swim swim;
    double x[MOST_COLUMNS];
    double until_next; /* integrated hazard still to come before something shows */
    uint64_t seed, draws;
};

size_t bf_play_bytes(void) {
    return sizeof(bf_play);
}

static double drawn(bf_play *play) {
    return bf_uniform(play->seed, STREAM_ANGLER, play->draws++);
}

void bf_play_start(bf_play *play, const bf_swim_scene *scene, const bf_swim_set *truth, uint64_t seed) {
    play->seed = seed;
    play->draws = 0;
    bfi_swim_prepare(&play->swim, scene, truth, seed, 0);
    bfi_swim_begin(&play->swim, 1, play->x);
    play->until_next = -bf_log(drawn(play));
}

void bf_play_act(bf_play *play, const bf_swim_event *act) {
    double log_w = 0;
    bfi_swim_meet(&play->swim, 1, play->x, act, &log_w);
}

/* One of n by weights that add up to all. */
static int chosen(double u, const double *weight, int n) {
    double past = 0;
    for (int i = 0; i < n; i++) past += weight[i];
    past *= u;
    for (int i = 0; i < n - 1; i++)
        if ((past -= weight[i]) < 0) return i;
    return n - 1;
}

/* Where the hook had hold, as far as the model tells. */
static int held_in(bf_play *play, int spot, int outcome) {
    if (outcome == BF_FOUL) return BF_OUTSIDE;
    if (outcome != BF_LANDED) return -1;
    double left;
    bfi_swim_left(&play->swim, 1, play->x, spot, -1, &left);
    return drawn(play) < bfi_swim_top_lip(play->swim.of[BF_SWIM_HOLD], left) ? BF_LIP_TOP_MIDDLE
                                                                             : BF_LIP_BOTTOM;
}

/* What shows, and how it is entered. */
static int something_shows(bf_play *play, bf_swim_event *event) {
    bfi_swim *swim = &play->swim;
    int spot = (int)swim->now.rig_spot, hook = (int)swim->now.rig_hook;
    double h[N_SHOWN];
    bfi_swim_shows(swim, 1, play->x, spot, hook, 0, h);
    int shown = chosen(drawn(play), h, N_SHOWN);
    play->until_next = -bf_log(drawn(play));
    *event = (bf_swim_event){.t_s = swim->now.t_s, .spot = spot, .what = hook, .held = -1, .live = -1};
    if (shown == SHOWN_TOUCH) {
        event->kind = BF_SWIM_TOUCH, event->n = 1;
        return 1;
    }
    event->kind = BF_SWIM_LIFT, event->outcome = shown, event->held = held_in(play, spot, shown);
    bfi_swim_ends(swim, 1, play->x, spot, shown);
    swim->now.rig_spot = swim->now.rig_hook = -1;
    if (drawn(play) < NOT_ENTERED) return 2;
    if (drawn(play) < MISLABELLED) {
        event->outcome = (shown + 1 + (int)(drawn(play) * (N_BITES - 1))) % N_BITES;
        event->held = -1;
    }
    return 1;
}

/* Lets time pass to to_s, at most a step, but stops where something shows: the step is then taken again as far as that. Returns 1 if so. */
static int step_shows(bf_play *play, double to_s) {
    bfi_swim *swim = &play->swim;
    const bfi_swim before = *swim;
    double x[MOST_COLUMNS], taken = 0, again = 0, from_s = swim->now.t_s;
    memcpy(x, play->x, sizeof x);
    bfi_swim_run(swim, 1, play->x, to_s, &taken); /* takes the integrated hazard off */
    if (play->until_next + taken > 0) {
        play->until_next += taken;
        return 0;
    }
    *swim = before;
    memcpy(play->x, x, sizeof x);
    bfi_swim_run(swim, 1, play->x, from_s + (to_s - from_s) * (play->until_next / -taken), &again);
    return 1;
}

int bf_play_run(bf_play *play, double to_s, bf_swim_event *event) {
    const bfi_swim_now *now = &play->swim.now;
    while (now->t_s < to_s) {
        double next = now->t_s + PLAY_STEP_S < to_s ? now->t_s + PLAY_STEP_S : to_s;
        if (step_shows(play, next)) return something_shows(play, event);
    }
    return 0;
}

bf_play_truth bf_play_see(const bf_play *play, int spot, int hook) {
    const bfi_swim *swim = &play->swim;
    bf_play_truth truth = {.t_s = swim->now.t_s};
    bfi_swim_left(swim, 1, play->x, spot, -1, &truth.left);
    bfi_swim_fish(swim, 1, play->x, spot, &truth.fish);
    bfi_swim_near(swim, 1, play->x, &truth.near);
    bfi_swim_bites_h(swim, 1, play->x, spot, hook, &truth.bites_h);
    bfi_swim_eaten(swim, 1, play->x, spot, &truth.eaten);
    return truth;
}
