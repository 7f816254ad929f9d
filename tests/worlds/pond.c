/* pond.c -- W1 and what is made from it: each fish by itself, in other forms than the model's.
 *
 * Every second, of each fish:
 *     away, comes to a spot      keen x (c0 + c1 smell^0.6 + c2 noise);  smell: grams^(2/3) leaked, fading over ten minutes
 *     at a spot, takes a piece   keen x bite x (1 - full^3) x D^2/(D^2 + D0^2);  D: pieces there, each by how much its size is liked
 *     leaves                     Weibull of the time since its last mouthful (or its coming), shape 2.2, and alarm
 * and of the rig, at its spot: takes grow with the 0.8th power of fish there, by the liking of the hook bait's size, and fall as
 * (1 + D/D1)^-0.7 with what lies about it; small pieces make strikes miss, and foul; alarm grows with fish lost and pots and fades as a
 * power of time. Liked is a size of the session's own, by a bell over the logarithm. */
#include <string.h>

#include "baitfall/choice.h"
#include "baitfall/elementary.h"
#include "baitfall/random.h"
#include "worlds/world.h"

#define STREAM_FISH UINT64_C(0x3a40000000000000) /* + number of the fish */
#define STREAM_HOOK UINT64_C(0x3a31000000000000)
#define STREAM_OUTCOME UINT64_C(0x3a32000000000000)
#define STREAM_REGIME UINT64_C(0x3a33000000000000)
#define STREAM_TAIL UINT64_C(0x3a34000000000000)

enum { MOST_FISH = 96, MOST_REGIMES = 24, MOST_LATE = 512 };
enum { AWAY = -1, CAUGHT = -2 };

#define SMELL_FADES_S 600.0
#define NOISE_FADES_S 60.0
#define RISEN_FADES_S 600.0
#define REPLACED_S 1800.0 /* another fish roams in for one that was caught */
#define SHAPE 2.2         /* of patience */

/* Parameters of a session; middle and spread are judgement. X(name, middle, spread). */
#define POND_LIST(X)                                                                                         \
    X(FISH, 24, 2)        /* within reach                                           */                       \
    X(KEEN, 1, 2)         /* of the day, beside temperature                         */                       \
    X(ANYWAY, 6e-5, 2)    /* coming, 1/s                                            */                       \
    X(SMELL, 6e-4, 2.5)   /* coming, 1/s at a smell of 1                            */                       \
    X(NOISE, 1.5e-3, 2.5) /* coming, 1/s at a put-in's noise                        */                       \
    X(PATIENCE, 420, 2)   /* s without a mouthful                                   */                       \
    X(BITE, 0.06, 2)      /* mouthfuls 1/s where plenty lies                        */                       \
    X(PLENTY, 25, 2)      /* liked pieces at which a quarter more of plenty is near */                       \
    X(MEAL, 0.015, 2)     /* kg that fills a fish                                   */                       \
    X(LIKED, 4.2, 1.5)    /* mm                                                     */                       \
    X(TAKE, 2.2e-3, 2)    /* takes 1/s of one keen fish at a bare spot              */                       \
    X(AMONG, 30, 2)       /* liked pieces that weaken the hook bait                 */                       \
    X(SHY, 0.25, 2)       /* alarm by a fish lost                                   */                       \
    X(SMALL_FRY, 3, 4)    /* nuisance fish (W5)                                     */                       \
    X(RISES, 0.12, 2)     /* share of fish that a pot brings up (W5)                */

enum {
#define POND_NAME(name, middle, spread) name,
    POND_LIST(POND_NAME)
#undef POND_NAME
        N_OF_POND
};

/* What is different from W1. */
typedef struct pond_twist {
    int has_regimes, has_tails, is_meddled;
    double late_s;
} pond_twist;

typedef struct pond_fish {
    int at; /* spot, AWAY or CAUGHT */
    double since_s, full;
} pond_fish;

typedef struct pond_late_feed {
    double t_s, count;
    int spot, feed;
} pond_late_feed;

typedef struct pond {
    uint64_t seed;
    pond_twist twist;
    double of[N_OF_POND];
    double t_s, warmth;
    bf_swim_feed feed[WORLD_FEEDS];
    double liking[WORLD_FEEDS], hook_liking[WORLD_HOOKS];
    int is_hard_hook[WORLD_HOOKS];
    double pieces[WORLD_SPOTS][WORLD_FEEDS], smell[WORLD_SPOTS], noise[WORLD_SPOTS], risen[WORLD_SPOTS];
    double alarm[WORLD_SPOTS], alarmed_s[WORLD_SPOTS];
    int rig_spot, rig_hook;
    int n_fish, n_late, late_from;
    double regime_from_s[MOST_REGIMES];
    int regime[MOST_REGIMES], n_regimes;
    pond_fish fish[MOST_FISH];
    pond_late_feed late[MOST_LATE];
} pond;
_Static_assert(sizeof(pond) <= WORLD_BYTES, "a world has room");

/* ---- A session ---- */

/* Student's t with two degrees of freedom, from a uniform number, in closed form. */
static double student_2(double u) {
    double a = 4 * u * (1 - u);
    return (2 * u - 1) * bf_pow(2 / a, 0.5);
}

/* Three times off either way, and on top of that a tail that no normal has; within a factor of 30 of the middle. */
static double in_tails(uint64_t seed, int which, double middle) {
    double u[2];
    bf_uniform2(seed, STREAM_TAIL, (uint64_t)which, u);
    double off = (u[0] < 0.5 ? -1 : 1) * bf_log(3) + 0.35 * student_2(u[1]);
    off = off > bf_log(30) ? bf_log(30) : off < -bf_log(30) ? -bf_log(30) : off;
    return middle * bf_exp(off);
}

static void draw_parameters(pond *w) {
    static const struct {
        double middle, spread;
    } list[N_OF_POND] = {
#define POND_ROW(name, middle, spread) {middle, spread},
        POND_LIST(POND_ROW)
#undef POND_ROW
    };
    for (int i = 0; i < N_OF_POND; i++)
        w->of[i] = world_drawn(w->seed, 100 + i, list[i].middle, list[i].spread);
    for (int i = 0; w->twist.has_tails && i < N_OF_POND; i++)
        if (i != LIKED && i != KEEN) w->of[i] = in_tails(w->seed, i, list[i].middle);
}

enum { USUAL, FRONT, GONE, SPELL, N_REGIMES };
static const double regime_keen[N_REGIMES] = {1, 0.35, 1, 1.8};

/* Some three an hour, never the same twice running. */
static void draw_regimes(pond *w) {
    double t_s = 0;
    int regime = USUAL;
    for (w->n_regimes = 0; w->n_regimes < MOST_REGIMES; w->n_regimes++) {
        double u[2];
        w->regime_from_s[w->n_regimes] = t_s, w->regime[w->n_regimes] = regime;
        bf_uniform2(w->seed, STREAM_REGIME, (uint64_t)w->n_regimes, u);
        t_s += -1200 * bf_log(u[0]);
        regime = (regime + 1 + (int)(u[1] * (N_REGIMES - 1))) % N_REGIMES;
    }
}

static double liking_of(const pond *w, double diameter_m) {
    double off = bf_log(diameter_m * 1e3 / w->of[LIKED]) / 0.6;
    return bf_exp(-0.5 * off * off);
}

static void start_twisted(pond *w, const bf_swim_scene *scene, uint64_t seed, pond_twist twist) {
    memset(w, 0, sizeof *w);
    w->seed = seed, w->twist = twist;
    draw_parameters(w);
    w->n_regimes = 1;
    if (twist.has_regimes) draw_regimes(w);
    w->warmth = scene->temp_c > 22 ? 1 : 0.25 + 0.75 * (scene->temp_c - 8) / 14;
    for (int f = 0; f < WORLD_FEEDS; f++)
        w->feed[f] = scene->feed[f], w->liking[f] = liking_of(w, scene->feed[f].diameter_m);
    for (int h = 0; h < WORLD_HOOKS; h++) {
        w->is_hard_hook[h] = scene->hook[h].is_hard;
        w->hook_liking[h] = liking_of(w, scene->hook[h].diameter_m) * (scene->hook[h].is_hard ? 0.8 : 1);
    }
    w->rig_spot = -1;
    w->n_fish = (int)(w->of[FISH] + 0.5);
    w->n_fish = w->n_fish < 1 ? 1 : w->n_fish > MOST_FISH ? MOST_FISH : w->n_fish;
    for (int i = 0; i < w->n_fish; i++) w->fish[i] = (pond_fish){.at = AWAY, .full = 0.1};
}

/* ---- Feed ---- */

static void feed_acts(pond *w, int spot, int feed, double count) {
    w->pieces[spot][feed] += count;
    w->noise[spot] += 1;
    w->risen[spot] += w->twist.is_meddled ? w->of[RISES] * (1 - w->risen[spot]) : 0;
}

static void put_in(pond *w, const bf_swim_event *event) {
    w->alarm[event->spot] += 0.02;
    if (w->twist.late_s > 0 && w->n_late < MOST_LATE)
        w->late[w->n_late++] =
            (pond_late_feed){w->t_s + w->twist.late_s, event->count, event->spot, event->what};
    else
        feed_acts(w, event->spot, event->what, event->count);
}

static void act(void *world, const bf_swim_event *event) {
    pond *w = world;
    switch (event->kind) {
    case BF_SWIM_FEED: put_in(w, event); break;
    case BF_SWIM_IN: w->rig_spot = event->spot, w->rig_hook = event->what; break;
    case BF_SWIM_LIFT: w->rig_spot = -1; break;
    default: break;
    }
}

static void late_feed_acts(pond *w) {
    for (; w->late_from < w->n_late && w->late[w->late_from].t_s <= w->t_s; w->late_from++) {
        const pond_late_feed *late = &w->late[w->late_from];
        feed_acts(w, late->spot, late->feed, late->count);
    }
}

static double small_fry_share(const pond *w, int f) {
    return w->feed[f].is_soft ? 1 : 0.1;
}

static void bed_second(pond *w, int s) {
    double leak = 0;
    for (int f = 0; f < WORLD_FEEDS; f++) {
        double *pieces = &w->pieces[s][f], grams = *pieces * w->feed[f].piece_kg * 1e3;
        double eaten = w->twist.is_meddled ? w->of[SMALL_FRY] * 0.08 * small_fry_share(w, f) : 0;
        leak += bf_pow(grams, 2.0 / 3);
        *pieces -= *pieces / w->feed[f].lasting_s + (eaten < *pieces ? eaten : *pieces) * 0.5;
        if (*pieces < 0.5) *pieces = 0;
    }
    w->smell[s] += (leak - w->smell[s]) / SMELL_FADES_S;
    w->noise[s] -= w->noise[s] / NOISE_FADES_S;
    w->risen[s] -= w->risen[s] / RISEN_FADES_S;
}

/* ---- Fish ---- */

/* Liked pieces there. */
static double menu_of(const pond *w, int s) {
    double menu = 0;
    for (int f = 0; f < WORLD_FEEDS; f++) menu += w->pieces[s][f] * w->liking[f];
    return menu;
}

static double alarm_of(const pond *w, int s) {
    return w->alarm[s] / (1 + (w->t_s - w->alarmed_s[s]) / 600);
}

static void startle(pond *w, int s, double by) {
    w->alarm[s] = alarm_of(w, s) + by;
    w->alarmed_s[s] = w->t_s;
}

static int regime_of(const pond *w) {
    int i = w->n_regimes - 1;
    while (i > 0 && w->regime_from_s[i] > w->t_s) i--;
    return w->regime[i];
}

typedef struct pond_now {
    double keen, menu[WORLD_SPOTS], come[WORLD_SPOTS], alarm[WORLD_SPOTS];
    int regime;
} pond_now;

static pond_now now_of(const pond *w) {
    pond_now now = {.regime = regime_of(w)};
    now.keen = w->of[KEEN] * w->warmth * regime_keen[now.regime];
    for (int s = 0; s < WORLD_SPOTS; s++) {
        now.menu[s] = menu_of(w, s);
        now.alarm[s] = alarm_of(w, s);
        now.come[s] = now.keen *
                      (w->of[ANYWAY] + w->of[SMELL] * bf_pow(w->smell[s], 0.6) + w->of[NOISE] * w->noise[s]) /
                      (1 + now.alarm[s]);
    }
    return now;
}

static void comes(const pond_now *now, pond_fish *fish, double u, double t_s) {
    if (now->regime == GONE && u > 0.1 * (now->come[0] + now->come[1])) return;
    for (int s = 0; s < WORLD_SPOTS && fish->at == AWAY; s++)
        if ((u -= now->come[s]) < 0) fish->at = s, fish->since_s = t_s;
}

static void eats(pond *w, pond_now *now, pond_fish *fish, double u) {
    int s = fish->at, f = 0;
    double at = u * now->menu[s];
    while (f < WORLD_FEEDS - 1 && (at -= w->pieces[s][f] * w->liking[f]) >= 0) f++;
    if (w->pieces[s][f] < 1) return;
    w->pieces[s][f] -= 1, now->menu[s] -= w->liking[f];
    fish->full += w->feed[f].piece_kg / w->of[MEAL];
    fish->since_s = w->t_s;
}

static void fish_second(pond *w, pond_now *now, int i) {
    pond_fish *fish = &w->fish[i];
    double u[2];
    bf_uniform2(w->seed, STREAM_FISH + (uint64_t)i, (uint64_t)w->t_s, u);
    fish->full -= fish->full / 30000;
    if (fish->at == CAUGHT && u[0] < 1 / REPLACED_S) fish->at = AWAY;
    if (fish->at == CAUGHT) return;
    if (fish->at == AWAY) {
        comes(now, fish, u[0], w->t_s);
        return;
    }
    double menu = now->menu[fish->at], near = menu * menu / (menu * menu + w->of[PLENTY] * w->of[PLENTY]);
    double hungry = fish->full < 1 ? 1 - fish->full * fish->full * fish->full : 0;
    double bite = now->keen * w->of[BITE] * hungry * near;
    double waited = (w->t_s - fish->since_s) / w->of[PATIENCE];
    double leave = SHAPE / w->of[PATIENCE] * bf_pow(waited, SHAPE - 1) + 2e-3 * now->alarm[fish->at] +
                   (now->regime == GONE ? 5e-3 : 0);
    if (u[0] > 1 - leave)
        fish->at = AWAY;
    else if (u[0] < bite)
        eats(w, now, fish, u[1]);
}

/* ---- The rig ---- */

static int n_at(const pond *w, int s) {
    int n = 0;
    for (int i = 0; i < w->n_fish; i++) n += w->fish[i].at == s;
    return n;
}

static void take_out(pond *w, int s, double u) {
    int k = (int)(u * n_at(w, s));
    for (int i = 0; i < w->n_fish; i++) {
        if (w->fish[i].at != s || k-- > 0) continue;
        w->fish[i] = (pond_fish){.at = CAUGHT};
        return;
    }
}

static double small_share(const pond *w, int s) {
    double small = w->pieces[s][WORLD_SOFT_TWO];
    return small / (small + 120);
}

static int outcome_of(const pond *w, int s, int n, double u) {
    double crowd = small_share(w, s) * bf_pow(n / 8.0, 1.3);
    double landed = 0.72 / (1 + 0.8 * crowd), lost = 0.08, foul = 0.12 * crowd / (1 + crowd);
    return u < landed                 ? BF_LANDED
           : u < landed + lost        ? BF_LOST
           : u < landed + lost + foul ? BF_FOUL
                                      : BF_MISSED;
}

static void drop_ends(pond *w, int s, int outcome, double u) {
    w->rig_spot = -1;
    if (outcome == BF_MISSED) {
        startle(w, s, 0.1 * w->of[SHY]);
        return;
    }
    startle(w, s, (outcome == BF_LOST ? 1 : 0.3) * w->of[SHY]);
    take_out(w, s, u);
}

/* 1 when something showed. */
static int rig_second(pond *w, const pond_now *now, world_sign *sign) {
    int s = w->rig_spot, n = n_at(w, s);
    double u[2], v[2];
    bf_uniform2(w->seed, STREAM_HOOK, (uint64_t)w->t_s, u);
    double take = n ? now->keen * w->of[TAKE] * bf_pow(n, 0.8) * w->hook_liking[w->rig_hook] *
                          bf_pow(1 + now->menu[s] / w->of[AMONG], -0.7) / (1 + now->alarm[s]) *
                          (1 - w->risen[s])
                    : 0;
    double robbed = w->twist.is_meddled && !w->is_hard_hook[w->rig_hook]
                        ? 6e-4 * w->of[SMALL_FRY] * (0.3 + small_share(w, s))
                        : 0;
    double line = 2e-4 * n * small_share(w, s), knock = 0.4 * take + robbed + 3e-5;
    double at = u[0];
    int outcome = BF_NOTHING;
    bf_uniform2(w->seed, STREAM_OUTCOME, (uint64_t)w->t_s, v);
    if ((at -= take) < 0)
        outcome = outcome_of(w, s, n, v[0]);
    else if ((at -= line) < 0)
        outcome = v[0] < 0.15 ? BF_FOUL : BF_MISSED;
    else if ((at -= robbed) < 0)
        outcome = BF_MISSED;
    else if ((at -= knock) < 0)
        outcome = BF_TOUCHED;
    if (outcome == BF_NOTHING) return 0;
    *sign = (world_sign){w->t_s, outcome};
    if (outcome != BF_TOUCHED) drop_ends(w, s, outcome, v[1]);
    return 1;
}

static int second(pond *w, world_sign *sign) {
    late_feed_acts(w);
    for (int s = 0; s < WORLD_SPOTS; s++) bed_second(w, s);
    pond_now now = now_of(w);
    for (int i = 0; i < w->n_fish; i++) fish_second(w, &now, i);
    w->t_s++;
    return w->rig_spot >= 0 && rig_second(w, &now, sign);
}

static int run(void *world, double to_s, world_sign *sign) {
    pond *w = world;
    while (w->t_s < to_s)
        if (second(w, sign)) return 1;
    return 0;
}

/* ---- The worlds ---- */

#define POND_WORLD(kind, name_, what_, missing, mistaken, ...)                                               \
    static void start_##kind(void *world, const bf_swim_scene *scene, uint64_t seed) {                       \
        start_twisted(world, scene, seed, (pond_twist)__VA_ARGS__);                                          \
    }                                                                                                        \
    const world_kind kind = {.name = name_,                                                                  \
                             .what = what_,                                                                  \
                             .bytes = sizeof(pond),                                                          \
                             .put_in_s = 15,                                                                 \
                             .unseen = missing,                                                              \
                             .wrong = mistaken,                                                              \
                             .start = start_##kind,                                                          \
                             .act = act,                                                                     \
                             .run = run}

POND_WORLD(pond_other_forms, "W1", "other functional forms", 0.03, 0.03, {0});
POND_WORLD(pond_regimes, "W3", "regimes switch unseen", 0.03, 0.03, {.has_regimes = 1});
POND_WORLD(pond_heavy_tails, "W4", "heavy tails, three times off", 0.03, 0.03, {.has_tails = 1});
POND_WORLD(pond_meddled, "W5", "nuisance fish, fish off the bottom, a poor journal", 0.1, 0.1,
           {.is_meddled = 1});
POND_WORLD(pond_late, "W6", "feed acts 20 minutes late", 0.03, 0.03, {.late_s = 1200});
