/* smc2_swim.c -- see smc2_swim.h. */
#include "swim/smc2_swim.h"

#include <math.h>

#include "core/swim/state.h"

static void begin(const void *self, const double *z, uint64_t seed, uint64_t stream, int n, double *x,
                  void *shared) {
    const smc2_story *story = self;
    bf_swim_set set;
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++)
        set.of[i] = exp(story->prior.mean[i] + story->prior.sd[i] * z[i]);
    bfi_swim_prepare(shared, story->scene, &set, seed, stream);
    bfi_swim_weigh_entered(shared);
    bfi_swim_begin(shared, n, x);
}

static void meet(const void *self, int i, uint64_t seed, uint64_t stream, int n, double *x, void *shared,
                 double *log_w) {
    const smc2_story *story = self;
    bfi_swim *swim = shared;
    (void)seed;
    swim->stream = stream;
    bfi_swim_run(swim, n, x, i < story->n_events ? story->event[i].t_s : story->until_s, log_w);
    if (i < story->n_events) bfi_swim_meet(swim, n, x, &story->event[i], log_w);
}

smc2_model smc2_swim_model(const smc2_story *story) {
    return (smc2_model){.self = story,
                        .n_parameters = BF_SWIM_N_PARAMETERS,
                        .n_events = story->n_events + 1,
                        .n_columns = bfi_swim_columns(story->scene),
                        .shared_bytes = bfi_swim_bytes(),
                        .begin = begin,
                        .meet = meet};
}

void smc2_swim_shown(const smc2_filter *f, int n_x, int spot, int hook, double *bites_h, double *left,
                     double *fish) {
    bfi_swim_bites_h(f->shared, n_x, f->x, spot, hook, bites_h);
    bfi_swim_left(f->shared, n_x, f->x, spot, -1, left);
    bfi_swim_fish(f->shared, n_x, f->x, spot, fish);
}
