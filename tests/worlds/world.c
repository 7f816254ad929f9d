/* world.c -- the scene that all worlds share. See world.h. */
#include "worlds/world.h"

#include "baitfall/choice.h"
#include "baitfall/elementary.h"
#include "baitfall/quantity.h"
#include "baitfall/random.h"

#define STREAM_SCENE UINT64_C(0x3a01000000000000)
#define STREAM_DRAWN UINT64_C(0x3a02000000000000)

const world_kind *const world_kinds[N_WORLDS] = {&own_model,    &pond_other_forms, &shoal,
                                                 &pond_regimes, &pond_heavy_tails, &pond_meddled,
                                                 &pond_late,    &clockwork,        &clockwork_perverse};

bf_swim_scene world_scene(uint64_t seed) {
    bf_swim_scene scene = {.n_spots = WORLD_SPOTS, .n_feeds = WORLD_FEEDS, .n_hooks = WORLD_HOOKS};
    scene.temp_c = 9 + 13 * bf_uniform(seed, STREAM_SCENE, 0);
    for (int s = 0; s < WORLD_SPOTS; s++)
        scene.spot[s] = (bf_swim_spot){.depth_m = s ? 1.1 : 1.6,
                                       .distance_m = s ? 6 : 11.5,
                                       .side_m = s ? 3 : 0,
                                       .miss_m = 0.08,
                                       .miss_pm_m = 0.05,
                                       .area_m2 = {0.07, 0.13, 3, 1}};
    scene.feed[WORLD_SOFT_TWO] = (bf_swim_feed){
        .diameter_m = 2.2e-3, .piece_kg = 7.5e-6, .lasting_s = 7200, .is_soft = 1, .lasting_factor = 2.5};
    scene.feed[WORLD_HARD_FOUR] =
        (bf_swim_feed){.diameter_m = 4e-3, .piece_kg = 6e-5, .lasting_s = 14400, .lasting_factor = 2.5};
    scene.feed[WORLD_HARD_SIX] =
        (bf_swim_feed){.diameter_m = 6e-3, .piece_kg = 2e-4, .lasting_s = 14400, .lasting_factor = 2.5};
    scene.hook[WORLD_SOFT_HOOK] = (bf_swim_hook){.diameter_m = 6e-3};
    scene.hook[WORLD_BANDED_HOOK] = (bf_swim_hook){.diameter_m = 6e-3, .is_hard = 1};
    return scene;
}

double world_drawn(uint64_t seed, int which, double middle, double spread) {
    double sd = bf_log(spread) / BF_PM_PER_SD;
    return middle * bf_exp(sd * bf_normal(seed, STREAM_DRAWN, (uint64_t)which));
}
