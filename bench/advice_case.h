/* advice_case.h -- one advice to be timed, natively and in wasm: an invented spot twenty minutes after its first pot, three baits and
 * three hook baits to choose from. */
#ifndef BAITFALL_BENCH_ADVICE_CASE_H
#define BAITFALL_BENCH_ADVICE_CASE_H

#include "baitfall/advise.h"
#include "baitfall/field.h"

#define CASE_SETS 8
#define CASE_PARTICLES 256
#define CASE_ROWS (1 << 18) /* doubles */
#define CASE_WORK (1 << 18)

static bf_swim_scene case_scene;
static bf_swim_event case_event[2];
static bf_belief_job case_belief;
static double case_rows[CASE_ROWS];
static _Alignas(16) double case_work[CASE_WORK];

/* The belief, which is not timed. */
static inline void case_believe(void) {
    static _Alignas(16) double scratch[CASE_WORK];
    bf_story_start_scene(&case_scene, 1, 3, 3);
    for (int i = 0; i < 3; i++) case_scene.feed[i].diameter_m = 0.002 * (i + 1);
    case_event[0] = (bf_swim_event){.t_s = 60,
                                    .kind = BF_SWIM_FEED,
                                    .what = 1,
                                    .how = BF_CLUMP,
                                    .count = 40,
                                    .area_m2 = 0.07,
                                    .live = -1};
    case_event[1] = (bf_swim_event){.t_s = 90, .kind = BF_SWIM_IN, .live = -1};
    case_belief = (bf_belief_job){.scene = &case_scene,
                                  .event = case_event,
                                  .n_events = 2,
                                  .until_s = 1200,
                                  .prior = bf_swim_book(),
                                  .seed = 1,
                                  .n_sets = CASE_SETS,
                                  .n_particles = CASE_PARTICLES,
                                  .n_drawn = BF_ADVISE_DRAWN};
    BF_ASSERT(CASE_SETS * bf_belief_columns(&case_belief) <= CASE_ROWS);
    BF_ASSERT(bf_belief_scratch_bytes(&case_belief) <= sizeof scratch);
    bf_belief_rows(&case_belief, 0, CASE_SETS, scratch, case_rows);
}

/* Returns how many hours were tried, so that nothing can be left out. */
static inline int case_advise(int is_phone, uint64_t seed) {
    static bf_advice advice;
    bf_advise_job job = {.belief = &case_belief,
                         .every_s = 300,
                         .most_kg = BF_INFINITY,
                         .objective = BF_FOR_NUMBER,
                         .fish_kg = 1,
                         .for_s = 3600,
                         .busy_s = 45,
                         .put_in_s = 15,
                         .blank_s = 150,
                         .n_acts_most = is_phone ? BF_ADVISE_PHONE_ACTS : BF_ADVISE_MOST_ACTS,
                         .n_scenarios = is_phone ? BF_ADVISE_PHONE_SCENARIOS : BF_ADVISE_SCENARIOS,
                         .n_run_off = is_phone ? BF_ADVISE_PHONE_RUN_OFF : BF_ADVISE_RUN_OFF,
                         .n_hooks = 3,
                         .hook = {0, 1, 2},
                         .seed = seed};
    for (int s = 0; s < BF_SWIM_MOST_SPOTS; s++) job.since_put_s[s] = s ? BF_INFINITY : 1140;
    for (int feed = 0; feed < 3; feed++)
        for (int how = BF_CLUMP; how <= BF_SPRINKLE; how++)
            job.way[job.n_ways++] = (bf_way){0, (feed + 1) % 3, how, 40, case_scene.spot[0].area_m2[how]};
    BF_ASSERT(bf_advise_bytes(&job) <= sizeof case_work);
    bf_advise(&job, case_rows, case_work, &advice);
    return advice.n_rollouts;
}

#endif
