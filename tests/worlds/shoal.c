/* shoal.c -- W2: single fish in the plane, each with a memory of where food was.
 *
 * Every second each fish swims a step towards what draws it most: the smell of a fed spot, as far as it can be smelt; the place it remembers,
 * by how good that was; the middle of the others; and a way of its own that turns now and then. Within reach of a spot it eats piece by
 * piece, crowded by those beside it; food makes the memory better, a bare spot spoils it. A fish lost drives off those near. */
#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/random.h"
#include "worlds/world.h"

#define STREAM_FISH UINT64_C(0x3a60000000000000) /* + number of the fish */
#define STREAM_HOOK UINT64_C(0x3a51000000000000)
#define STREAM_OUTCOME UINT64_C(0x3a52000000000000)

enum { MOST_FISH = 64 };

/* The water that counts, m: along the pole and across. */
#define LONG_M 30.0
#define BROAD_M 24.0
#define REACH_M 0.7 /* of a spot: fish nearer than this feed there */
#define TURN_S 20.0
#define MEMORY_S 1500.0
#define SMELL_FADES_S 500.0
#define REPLACED_S 1800.0 /* another fish swims in for one that was caught */

typedef struct shoal_fish {
    double x, y, way;          /* way: direction of its own, rad */
    double mem_x, mem_y, good; /* the place remembered, and how good it was, 0 to 1 */
    double full, fled_s;       /* fled: until then it keeps away */
    int is_caught;
} shoal_fish;

typedef struct shoal_world {
    uint64_t seed;
    double t_s, keen, speed_m_s, nose_m, company, bite_1_s, meal_kg, take_1_s, among, liked_mm;
    bf_swim_feed feed[WORLD_FEEDS];
    double easy[WORLD_FEEDS], hook[WORLD_HOOKS];
    double spot_x[WORLD_SPOTS], spot_y[WORLD_SPOTS];
    double pieces[WORLD_SPOTS][WORLD_FEEDS], smell[WORLD_SPOTS];
    int rig_spot, rig_hook, n_fish;
    shoal_fish fish[MOST_FISH];
} shoal_world;
_Static_assert(sizeof(shoal_world) <= WORLD_BYTES, "a world has room");

static double ease_of(const shoal_world *w, double diameter_m) {
    double off = bf_log(diameter_m * 1e3 / w->liked_mm);
    return 1 / (1 + 2 * off * off);
}

static void start(void *world, const bf_swim_scene *scene, uint64_t seed) {
    shoal_world *w = world;
    memset(w, 0, sizeof *w);
    w->seed = seed;
    w->keen = world_drawn(seed, 200, 1, 1.8) * (0.3 + 0.7 * (scene->temp_c - 8) / 14);
    w->speed_m_s = world_drawn(seed, 201, 0.12, 1.5);
    w->nose_m = world_drawn(seed, 202, 5, 1.8);
    w->company = world_drawn(seed, 203, 0.6, 2);
    w->bite_1_s = world_drawn(seed, 204, 0.07, 2);
    w->meal_kg = world_drawn(seed, 205, 0.02, 2);
    w->take_1_s = world_drawn(seed, 206, 2.5e-3, 2);
    w->among = world_drawn(seed, 207, 25, 2);
    w->liked_mm = world_drawn(seed, 208, 4.5, 1.5);
    for (int f = 0; f < WORLD_FEEDS; f++)
        w->feed[f] = scene->feed[f], w->easy[f] = ease_of(w, scene->feed[f].diameter_m);
    for (int h = 0; h < WORLD_HOOKS; h++)
        w->hook[h] = ease_of(w, scene->hook[h].diameter_m) * (scene->hook[h].is_hard ? 0.85 : 1);
    for (int s = 0; s < WORLD_SPOTS; s++)
        w->spot_x[s] = scene->spot[s].distance_m, w->spot_y[s] = scene->spot[s].side_m + BROAD_M / 2;
    w->rig_spot = -1;
    double n = floor(world_drawn(seed, 209, 22, 1.8) + 0.5);
    w->n_fish = n < 2 ? 2 : n > MOST_FISH ? MOST_FISH : (int)n;
    for (int i = 0; i < w->n_fish; i++) {
        double u[2];
        bf_uniform2(seed, STREAM_FISH + (uint64_t)i, UINT64_C(1) << 40, u);
        w->fish[i] = (shoal_fish){
            .x = LONG_M * u[0], .y = BROAD_M * u[1], .way = 2 * BF_PI * u[0] * u[1], .full = 0.1};
    }
}

static void act(void *world, const bf_swim_event *event) {
    shoal_world *w = world;
    switch (event->kind) {
    case BF_SWIM_FEED: w->pieces[event->spot][event->what] += event->count; break;
    case BF_SWIM_IN: w->rig_spot = event->spot, w->rig_hook = event->what; break;
    case BF_SWIM_LIFT: w->rig_spot = -1; break;
    default: break;
    }
}

/* ---- A second ---- */

typedef struct shoal_now {
    double menu[WORLD_SPOTS], middle_x, middle_y;
    int n_at[WORLD_SPOTS];
} shoal_now;

static double apart_m(const shoal_world *w, const shoal_fish *fish, int s) {
    double dx = fish->x - w->spot_x[s], dy = fish->y - w->spot_y[s];
    return sqrt(dx * dx + dy * dy);
}

static shoal_now now_of(const shoal_world *w) {
    shoal_now now = {{0}, 0, 0, {0}};
    for (int s = 0; s < WORLD_SPOTS; s++)
        for (int f = 0; f < WORLD_FEEDS; f++) now.menu[s] += w->pieces[s][f] * w->easy[f];
    int n = 0;
    for (int i = 0; i < w->n_fish; i++) {
        if (w->fish[i].is_caught) continue;
        n++, now.middle_x += w->fish[i].x, now.middle_y += w->fish[i].y;
        for (int s = 0; s < WORLD_SPOTS; s++) now.n_at[s] += apart_m(w, &w->fish[i], s) < REACH_M;
    }
    if (n > 0) now.middle_x /= n, now.middle_y /= n;
    return now;
}

static void beds_second(shoal_world *w) {
    for (int s = 0; s < WORLD_SPOTS; s++) {
        double leak = 0;
        for (int f = 0; f < WORLD_FEEDS; f++) {
            double *pieces = &w->pieces[s][f];
            leak += *pieces * w->feed[f].diameter_m * 10; /* 100 pieces of 4 mm: 4 */
            *pieces -= *pieces / w->feed[f].lasting_s;
        }
        w->smell[s] += (leak / (leak + 2) - w->smell[s]) / SMELL_FADES_S;
    }
}

/* Draws the fish towards (x, y) by a weight. */
static void drawn_to(const shoal_fish *fish, double x, double y, double weight, double pull[2]) {
    double dx = x - fish->x, dy = y - fish->y, far = sqrt(dx * dx + dy * dy) + 0.3;
    pull[0] += weight * dx / far, pull[1] += weight * dy / far;
}

static void swim(shoal_world *w, const shoal_now *now, shoal_fish *fish, const double u[2]) {
    double pull[2] = {0.5 * bf_cos(fish->way), 0.5 * bf_sin(fish->way)};
    int is_fled = w->t_s < fish->fled_s;
    for (int s = 0; s < WORLD_SPOTS; s++) {
        double r = apart_m(w, fish, s) / w->nose_m;
        drawn_to(fish, w->spot_x[s], w->spot_y[s], (is_fled ? -1 : 1.5) * w->keen * w->smell[s] / (1 + r * r),
                 pull);
    }
    if (!is_fled) drawn_to(fish, fish->mem_x, fish->mem_y, 1.5 * fish->good, pull);
    drawn_to(fish, now->middle_x, now->middle_y, 0.4 * w->company, pull);
    double all = sqrt(pull[0] * pull[0] + pull[1] * pull[1]) + 1e-9, step = w->speed_m_s * (0.5 + u[1]);
    fish->x += step * pull[0] / all, fish->y += step * pull[1] / all;
    if (u[0] < 1 / TURN_S) fish->way = 2 * BF_PI * u[1];
    if (fish->x < 0 || fish->x > LONG_M) fish->way = BF_PI - fish->way, fish->x = fish->x < 0 ? 0 : LONG_M;
    if (fish->y < 0 || fish->y > BROAD_M) fish->way = -fish->way, fish->y = fish->y < 0 ? 0 : BROAD_M;
}

static void feed_at(shoal_world *w, shoal_now *now, shoal_fish *fish, int s, const double u[2]) {
    double hungry = fish->full < 1 ? 1 - fish->full : 0, menu = now->menu[s];
    double bite = w->bite_1_s * w->keen * hungry * menu / (menu + 10) / (1 + 0.1 * (now->n_at[s] - 1));
    fish->mem_x = w->spot_x[s], fish->mem_y = w->spot_y[s];
    fish->good *= menu < 1 ? 1 - 1.0 / 120 : 1;
    if (u[0] > bite) return;
    int f = 0;
    for (double at = u[1] * menu; f < WORLD_FEEDS - 1 && (at -= w->pieces[s][f] * w->easy[f]) >= 0;) f++;
    if (w->pieces[s][f] < 1) return;
    w->pieces[s][f] -= 1, now->menu[s] -= w->easy[f];
    fish->full += w->feed[f].piece_kg / w->meal_kg;
    fish->good += 0.3 * (1 - fish->good);
}

static void fish_second(shoal_world *w, shoal_now *now, int i) {
    shoal_fish *fish = &w->fish[i];
    double u[2];
    bf_uniform2(w->seed, STREAM_FISH + (uint64_t)i, (uint64_t)w->t_s, u);
    if (fish->is_caught && u[0] < 1 / REPLACED_S) *fish = (shoal_fish){.y = BROAD_M * u[1]};
    if (fish->is_caught) return;
    fish->full -= fish->full / 30000;
    fish->good -= fish->good / MEMORY_S;
    swim(w, now, fish, u);
    for (int s = 0; s < WORLD_SPOTS; s++)
        if (apart_m(w, fish, s) < REACH_M) feed_at(w, now, fish, s, u);
}

/* ---- The rig ---- */

static void drive_off(shoal_world *w, int s, double for_s) {
    for (int i = 0; i < w->n_fish; i++)
        if (apart_m(w, &w->fish[i], s) < 2.5) w->fish[i].fled_s = w->t_s + for_s, w->fish[i].good *= 0.7;
}

static void take_out(shoal_world *w, int s) {
    int nearest = -1;
    for (int i = 0; i < w->n_fish; i++) {
        if (w->fish[i].is_caught) continue;
        if (nearest < 0 || apart_m(w, &w->fish[i], s) < apart_m(w, &w->fish[nearest], s)) nearest = i;
    }
    if (nearest >= 0) w->fish[nearest].is_caught = 1;
}

static int outcome_of(double small, int n, double u) {
    double miss = 0.15 + 0.4 * small * n / (n + 6.0), foul = 0.15 * small * n / (n + 8.0);
    return u < foul ? BF_FOUL : u < foul + miss ? BF_MISSED : u < foul + miss + 0.07 ? BF_LOST : BF_LANDED;
}

static int rig_second(shoal_world *w, const shoal_now *now, world_sign *sign) {
    int s = w->rig_spot, n = now->n_at[s];
    double u[2], v, small = w->pieces[s][WORLD_SOFT_TWO] / (w->pieces[s][WORLD_SOFT_TWO] + 150);
    bf_uniform2(w->seed, STREAM_HOOK, (uint64_t)w->t_s, u);
    v = bf_uniform(w->seed, STREAM_OUTCOME, (uint64_t)w->t_s);
    /* Rivals make bold; food lying about makes the hook bait one of many. */
    double take = w->keen * w->take_1_s * n * (1 + n) / (4.0 + n) * w->hook[w->rig_hook] * w->among /
                  (w->among + now->menu[s]);
    double knock = 0.5 * take + 1e-4 * n + 2e-5;
    if (u[0] > take + knock) return 0;
    *sign = (world_sign){w->t_s, u[0] > take ? BF_TOUCHED : outcome_of(small, n, v)};
    if (sign->outcome == BF_TOUCHED) return 1;
    w->rig_spot = -1;
    if (sign->outcome == BF_LOST || sign->outcome == BF_FOUL) drive_off(w, s, 240);
    if (sign->outcome == BF_LANDED) drive_off(w, s, 30);
    if (sign->outcome == BF_LANDED || sign->outcome == BF_FOUL) take_out(w, s);
    return 1;
}

static int second(shoal_world *w, world_sign *sign) {
    beds_second(w);
    shoal_now now = now_of(w);
    for (int i = 0; i < w->n_fish; i++) fish_second(w, &now, i);
    w->t_s++;
    return w->rig_spot >= 0 && rig_second(w, &now, sign);
}

static int run(void *world, double to_s, world_sign *sign) {
    shoal_world *w = world;
    while (w->t_s < to_s)
        if (second(w, sign)) return 1;
    return 0;
}

const world_kind shoal = {.name = "W2",
                          .what = "a shoal of single fish with a memory",
                          .bytes = sizeof(shoal_world),
                          .put_in_s = 15,
                          .unseen = 0.03,
                          .wrong = 0.03,
                          .start = start,
                          .act = act,
                          .run = run};
