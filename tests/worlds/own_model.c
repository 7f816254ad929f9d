/* own_model.c -- W0: the swim's own model, one particle of it, whose bites happen.
 *
 * As play.h, but every second has luck of its own: how much hazard is still to come before a fish moves and before something shows has no
 * memory, so both are drawn anew each second, and what happens in it depends on its rates alone. */
#include "worlds/world.h"

#include <math.h>

#include "baitfall/elementary.h"
#include "baitfall/random.h"
#include "core/swim/fixed.h"
#include "core/swim/rollout.h"

#define STREAM_SWIM UINT64_C(0x3a10000000000000)
#define STREAM_MOVES UINT64_C(0x3a11000000000000)
#define STREAM_SHOWS UINT64_C(0x3a12000000000000)
#define STEPS_A_SECOND                                                                                       \
    4 /* the model draws by the number of its step: an act cuts a second into two at most */

typedef struct own {
    bfi_swim_alone alone;
    uint64_t seed;
} own;
_Static_assert(sizeof(own) <= WORLD_BYTES, "a world has room");

void own_model_truth(uint64_t seed, double *of_parameters) {
    bf_swim_prior book = bf_swim_book();
    bf_swim_set set = bf_swim_drawn_set(&book, seed, 0, 1);
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) of_parameters[i] = set.of[i];
}

static void start(void *world, const bf_swim_scene *scene, uint64_t seed) {
    own *w = world;
    bf_swim_set truth;
    own_model_truth(seed, truth.of);
    w->seed = seed;
    bfi_swim_prepare(&w->alone.swim, scene, &truth, seed, STREAM_SWIM);
    bfi_swim_begin(&w->alone.swim, 1, w->alone.x);
}

static void act(void *world, const bf_swim_event *event) {
    own *w = world;
    double log_w = 0;
    bfi_swim_meet(&w->alone.swim, 1, w->alone.x, event, &log_w);
}

/* What shows, by its share of the hazards. */
static int what_shows(const own *w, double u) {
    const bfi_swim *swim = &w->alone.swim;
    double h[N_SHOWN], all = 0;
    bfi_swim_shows(swim, 1, w->alone.x, (int)swim->now.rig_spot, (int)swim->now.rig_hook, 0, h);
    for (int i = 0; i < N_SHOWN; i++) all += h[i];
    int shown = 0;
    for (double at = u * all - h[0]; at >= 0 && shown + 1 < N_SHOWN; at -= h[shown]) shown++;
    return shown;
}

/* One second; 1 when something showed in it. */
static int second(own *w, world_sign *sign) {
    bfi_swim *swim = &w->alone.swim;
    double t_s = swim->now.t_s, log_w = 0, moves, shows[2];
    moves = bf_uniform(w->seed, STREAM_MOVES, (uint64_t)t_s);
    bf_uniform2(w->seed, STREAM_SHOWS, (uint64_t)t_s, shows);
    swim->now.step = t_s * STEPS_A_SECOND;
    w->alone.x[CLOCK] = -bf_log(moves);
    bfi_swim_run(swim, 1, w->alone.x, t_s + 1, &log_w);
    if (swim->now.rig_spot < 0 || shows[0] > -bf_expm1(log_w)) return 0;
    int shown = what_shows(w, shows[1]), spot = (int)swim->now.rig_spot;
    *sign = (world_sign){swim->now.t_s, shown == SHOWN_TOUCH ? BF_TOUCHED : shown};
    if (shown == SHOWN_TOUCH) return 1;
    bfi_swim_ends(swim, 1, w->alone.x, spot, shown);
    swim->now.rig_spot = swim->now.rig_hook = -1;
    return 1;
}

static int run(void *world, double to_s, world_sign *sign) {
    own *w = world;
    while (w->alone.swim.now.t_s < to_s)
        if (second(w, sign)) return 1;
    return 0;
}

const world_kind own_model = {.name = "W0",
                              .what = "the swim's own model",
                              .bytes = sizeof(own),
                              .put_in_s = 15,
                              .unseen = NOT_ENTERED,
                              .wrong = MISLABELLED,
                              .start = start,
                              .act = act,
                              .run = run};
