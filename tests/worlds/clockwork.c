/* clockwork.c -- W7 and W8: bites by the clock. A rate for the session, with spells that the clock alone knows; outcomes by fixed chances. In
 * W7 nothing that is fed changes anything, and a pot takes no time, so whatever is done brings the same catch to the fish. In W8 bites grow
 * fewer with all that was fed, of every size and at every spot, until it is forgotten. */
#include "worlds/world.h"

#include "baitfall/elementary.h"
#include "baitfall/random.h"

#define STREAM_BITES UINT64_C(0x3a20000000000000)
#define STREAM_SPELLS UINT64_C(0x3a21000000000000)
#define SPELL_S 900.0
#define SPELL_SD 0.4 /* of the logarithm of a spell's rate */
#define TOUCHES_A_BITE 0.7
#define FORGOTTEN_S 2400.0

typedef struct clock_world {
    uint64_t seed;
    double t_s, bites_1_s;
    double fed_kg, half_kg; /* fed and not forgotten; what halves the bites, infinity: nothing does */
    bf_swim_feed feed[WORLD_FEEDS];
    int is_in;
} clock_world;
_Static_assert(sizeof(clock_world) <= WORLD_BYTES, "a world has room");

static void start(void *world, const bf_swim_scene *scene, uint64_t seed) {
    clock_world *w = world;
    *w = (clock_world){.seed = seed, .bites_1_s = world_drawn(seed, 0, 20, 2) / 3600, .half_kg = 1e9};
    for (int f = 0; f < WORLD_FEEDS; f++) w->feed[f] = scene->feed[f];
}

static void start_perverse(void *world, const bf_swim_scene *scene, uint64_t seed) {
    clock_world *w = world;
    start(world, scene, seed);
    w->half_kg = world_drawn(seed, 1, 0.01, 2);
}

static void act(void *world, const bf_swim_event *event) {
    clock_world *w = world;
    if (event->kind == BF_SWIM_FEED) w->fed_kg += event->count * w->feed[event->what].piece_kg;
    if (event->kind == BF_SWIM_IN) w->is_in = 1;
    if (event->kind == BF_SWIM_LIFT) w->is_in = 0;
}

static int outcome_of(double u) {
    return u < 0.65 ? BF_LANDED : u < 0.73 ? BF_LOST : u < 0.97 ? BF_MISSED : BF_FOUL;
}

static int second(clock_world *w, world_sign *sign) {
    double u[2], spell = bf_normal(w->seed, STREAM_SPELLS, (uint64_t)(w->t_s / SPELL_S));
    bf_uniform2(w->seed, STREAM_BITES, (uint64_t)w->t_s, u);
    w->t_s++;
    w->fed_kg -= w->fed_kg / FORGOTTEN_S;
    if (!w->is_in) return 0;
    double bite = w->bites_1_s * bf_exp(SPELL_SD * spell) / (1 + w->fed_kg / w->half_kg);
    if (u[0] > bite * (1 + TOUCHES_A_BITE)) return 0;
    *sign = (world_sign){w->t_s, u[0] > bite ? BF_TOUCHED : outcome_of(u[1])};
    w->is_in = sign->outcome == BF_TOUCHED;
    return 1;
}

static int run(void *world, double to_s, world_sign *sign) {
    clock_world *w = world;
    while (w->t_s < to_s)
        if (second(w, sign)) return 1;
    return 0;
}

const world_kind clockwork = {.name = "W7",
                              .what = "feed does not matter",
                              .bytes = sizeof(clock_world),
                              .put_in_s = 0,
                              .unseen = 0.03,
                              .wrong = 0.03,
                              .start = start,
                              .act = act,
                              .run = run};
const world_kind clockwork_perverse = {.name = "W8",
                                       .what = "more feed is always worse",
                                       .bytes = sizeof(clock_world),
                                       .put_in_s = 15,
                                       .unseen = 0.03,
                                       .wrong = 0.03,
                                       .start = start_perverse,
                                       .act = act,
                                       .run = run};
