/* model.c -- the swim through time: fish come, eat and go, for a block of particles side by side.
 *
 * Feed is eaten as a flow with noise of a binomial's variance; fish are whole and jump when their integrated hazard has used
 * up an exponential number. A step's flows are taken at its predicted middle. docs/models/swim.md has the equations.
 */
#include "core/swim/state.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/random.h"
#include "core/swim/clock.h"
#include "core/swim/fixed.h"
#include "core/swim/shown.h"

size_t bfi_swim_bytes(void) {
    return sizeof(bfi_swim);
}

int bfi_swim_columns(const bf_swim_scene *scene) {
    double size_m[BF_SWIM_MOST_CLASSES];
    return N_SHARED + scene->n_spots * (PIECES + 2 * bfi_swim_classes(scene, size_m)) + STRETCH_COLUMNS +
           BF_SWIM_N_PARAMETERS;
}

void bfi_swim_save(const bfi_swim *swim, double moment[BFI_SWIM_MOMENT]) {
    memcpy(moment, &swim->now, sizeof swim->now);
}

void bfi_swim_restore(bfi_swim *swim, const double moment[BFI_SWIM_MOMENT]) {
    memcpy(&swim->now, moment, sizeof swim->now);
    bfi_swim_warm(swim, swim->now.temp_c);
}

/* Draws of a step: one for each jump; the last for the noise of eating, one block for all particles. */
#define DRAWS 64
static uint64_t draw_index(const bfi_swim *swim, int p, int draw) {
    return ((uint64_t)swim->now.step * MOST_PARTICLES + (uint64_t)p) * DRAWS + (uint64_t)draw;
}

/* A parameter as it is used. */
static double as_used(int parameter, double value) {
    if (parameter == BF_SWIM_TAKE && value > 1) return 1; /* a share; the prior's tail lies beyond */
    return parameter == BF_SWIM_APPETITE ? 2 * value / (1 + value) : value;
}

void bfi_swim_own(const bfi_swim *swim, int n, double *x, int parameter, const double *log_of) {
    double *own = x + (bfi_own_column(swim) + parameter) * n;
    for (int p = 0; p < n; p++) own[p] = as_used(parameter, bf_exp(log_of[p]));
}

void bfi_swim_begin_own(const bfi_swim *swim, int n, double *x) {
    memset(x, 0, (size_t)n * (size_t)bfi_own_column(swim) * sizeof *x);
    for (int p = 0; p < n; p++) {
        /* a Poisson number of fish near, counted off against the sum of exponentials */
        const double *own = x + bfi_own_column(swim) * n + p;
        double left = own[BF_SWIM_STOCK * n] * own[BF_SWIM_APPETITE * n] * swim->activity;
        uint64_t draw = 0;
        for (;; x[NEAR_FISH * n + p]++) {
            left +=
                bf_log(bf_uniform(swim->seed, swim->stream ^ UINT64_C(1) << 63, (uint64_t)p << 20 | draw++));
            if (left <= 0) break;
        }
        double two[2];
        bf_uniform2(swim->seed, swim->stream ^ UINT64_C(1) << 62, (uint64_t)p, two);
        x[HUNGER * n + p] = 0.6 + 0.4 * two[0];
        x[CLOCK * n + p] = -bf_log(two[1]);
    }
    for (int s = 0; s < swim->n_spots; s++) {
        double *spot = x + (size_t)bfi_spot_column(swim, s) * (size_t)n;
        for (int p = 0; p < n; p++) {
            spot[TIGHT_M2 * n + p] = swim->start_m2[s][0];
            spot[LOOSE_M2 * n + p] = swim->start_m2[s][1];
            spot[CRUMBLING * n + p] = 1;
        }
    }
}

void bfi_swim_begin(bfi_swim *swim, int n, double *x) {
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++)
        for (int p = 0; p < n; p++) x[(bfi_own_column(swim) + i) * n + p] = as_used(i, swim->of[i]);
    bfi_swim_begin_own(swim, n, x);
}

/* ---- One step -------------------------------------------------------------------------------------------------- */

/* What a step has for particles side by side: in a belief the same for all of them, of ways on (state.h) each its own. */
typedef struct step_pace {
    double dt_s;
    lanes bare, known[BF_SWIM_MOST_SPOTS], splash[BF_SWIM_MOST_SPOTS], fight[BF_SWIM_MOST_SPOTS], all_splash;
    lanes rig_at, hook_by, hook_soft; /* rig_at: the spot; -1: not in */
    uint64_t noise[LANES];            /* of eating */
    uint64_t stream[LANES];           /* of the jumps, and which slot of it */
    int slot[LANES];
    bfi_swim_ways *ways; /* NULL: a belief's particles */
} step_pace;

/* Rates of fish between near and far, and near and each spot, 1/s. */
typedef struct traffic {
    lanes in, out, come[BF_SWIM_MOST_SPOTS], go[BF_SWIM_MOST_SPOTS];
} traffic;

/* 64 mixed bits (the finisher of splitmix64: S. Vigna, from memory): noise of eating needs unit variance, no more. */
static inline uint64_t mixed(uint64_t z) {
    z = (z ^ z >> 30) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ z >> 27) * UINT64_C(0x94d049bb133111eb);
    return z ^ z >> 31;
}

/* Bits for the classes of a zone of a spot, sixteen each, of particles side by side. */
typedef struct grain {
    uint64_t bits[LANES];
} grain;

#define GOLDEN UINT64_C(0x9e3779b97f4a7c15)
LANES_INLINE grain grain_of(const step_pace *pace, int zone) {
    grain g;
    for (int w = 0; w < LANES; w++) g.bits[w] = mixed(pace->noise[w] + (uint64_t)zone * GOLDEN);
    return g;
}

/* As numbers of mean 0 and variance 1. */
LANES_INLINE lanes unit_noise(const grain *g, int k) {
    lanes whole = lanes_of(0); /* all of it is set; gcc does not see it at -O1 */
    for (int w = 0; w < LANES; w++) whole[w] = (double)(int)(g->bits[w] >> 16 * k & 0xffff);
    return (whole - 32767.5) * (3.4641016151377544 / 65536);
}

/* Pieces after a flow that takes each with the integrated rate y: (1 + y + y^2/2)^-1 for e^-y, and the noise of a
 * binomial. Under half a piece is none. */
LANES_INLINE lanes flowed(lanes pieces, lanes y, lanes noise) {
    lanes stay = 1 / (1 + y + 0.5 * y * y);
    lanes left = pieces * stay - noise * lanes_sqrt(pieces * stay * (1 - stay));
    return lanes_where((lanes_bits)(left >= 0.5), left);
}

/* m particles at spot s through a step: eats, wears the ground, leaves the rates of coming and going, and in *hook what a
 * rig there would meet. c: the spot's columns. */
LANES_INLINE void spot_step(const bfi_swim *swim, const step_pace *pace, bfi_whose own, int s, lanes near,
                            lanes hunger, double *c, int n, const int m, const int K, const int loose,
                            traffic *go, lanes *eaten_kg, bfi_about *hook) {
    const double dt = pace->dt_s;
    const lanes activity = bfi_activity(swim, own), nuisance = bfi_of(own, BF_SWIM_NUISANCE) * activity,
                searches = bfi_of(own, BF_SWIM_SEARCH), handles = searches * bfi_of(own, BF_SWIM_HANDLE);
    double *tight = c + PIECES * n, *wide = tight + K * n;
    lanes fish = lanes_at(c + FISH * n, m), wary = lanes_at(c + WARY * n, m),
          at = lanes_at(c + TIGHT_M2 * n, m);
    lanes keen = bfi_keen(activity, hunger), none = lanes_of(0), crumbling = lanes_at(c + CRUMBLING * n, m);

    /* what lies there: search area, time in handling, what is easy for nuisance fish; smell */
    lanes pieces[BF_SWIM_MOST_CLASSES], thin[BF_SWIM_MOST_CLASSES];
    lanes search = none, handle = none, smell = none, easy = none, search_loose = none, handle_loose = none;
    for (int k = 0; k < K; k++) {
        pieces[k] = lanes_at(tight + k * n, m);
        lanes a = swim->search_by[k] * pieces[k];
        search += a, handle += a * swim->handle_by[k];
        easy += swim->easy[k] * pieces[k];
    }
    if (loose)
        for (int k = 0; k < K; k++) {
            thin[k] = lanes_at(wide + k * n, m);
            lanes a = swim->search_by[k] * thin[k];
            search_loose += a, handle_loose += a * swim->handle_by[k];
            smell += swim->size_mm[k] * thin[k];
        }
    search *= searches, handle *= handles, search_loose *= searches, handle_loose *= handles;
    lanes on = bfi_on_patch(fish, wary, search, search_loose);

    /* eating on the patch, as it lies in the middle of the step */
    lanes rate = bfi_search_rate(keen, on, at, handle), eats = searches * rate;
    lanes pecked = nuisance * NUISANCE_EAT_1_S / (easy + NUISANCE_HALF);
    lanes small = none, mass = none;
    search = handle = none;
    for (int k = 0; k < K; k++) {
        lanes y = swim->search_by[k] * eats + swim->easy[k] * pecked + swim->rot_1_s[k] * crumbling;
        lanes middle = pieces[k] / (1 + 0.5 * dt * y), a = swim->search_by[k] * middle;
        search += a, handle += a * swim->handle_by[k];
        mass += a * swim->piece_kg[k], small += swim->small[k] * middle, smell += swim->size_mm[k] * middle;
    }
    rate = bfi_search_rate(keen, on, at, handles * handle);
    eats = searches * rate;
    grain g = grain_of(pace, 2 * s);
    lanes gone = none;
    for (int k = 0; k < K; k++) {
        lanes y = swim->search_by[k] * eats + swim->easy[k] * pecked + swim->rot_1_s[k] * crumbling;
        lanes left = flowed(pieces[k], y * dt, unit_noise(&g, k));
        lanes_put(tight + k * n, m, left);
        gone += pieces[k] - left;
    }
    lanes taken = eats * search, graze = none;
    *hook = (bfi_about){.on = on, .rate = rate, .at_m2 = at, .small = small, .wary = wary};
    lanes_put(c + TIGHT_M2 * n, m, at + SCATTER_M2 * dt * taken);
    mass *= eats;

    /* and round it, thin enough to take as it lay at the start */
    if (loose) {
        lanes thinly = bfi_search_rate(keen, fish - on, lanes_at(c + LOOSE_M2 * n, m), handle_loose);
        eats = searches * thinly;
        g = grain_of(pace, 2 * s + 1);
        for (int k = 0; k < K; k++) {
            lanes y = swim->search_by[k] * eats;
            lanes left = flowed(thin[k], (y + swim->rot_1_s[k] * crumbling) * dt, unit_noise(&g, k));
            lanes_put(wide + k * n, m, left);
            gone += thin[k] - left;
            mass += y * thin[k] * swim->piece_kg[k];
        }
        taken += thinly * search_loose;
        graze = GRAZE * search_loose / (search_loose + GRAZE_HALF);
    }
    lanes_put(c + GONE * n, m, lanes_at(c + GONE * n, m) + gone);
    lanes_put(c + WARY * n, m, wary * (1 - dt / WARY_S * (1 + graze)));
    *eaten_kg += mass * dt;

    /* who comes, who goes */
    lanes call =
        (bfi_of(own, BF_SWIM_COME) * pace->known[s] + bfi_of(own, BF_SWIM_SPLASH) * pace->splash[s]) *
            (smell + SMELL_HALF_MM) +
        bfi_of(own, BF_SWIM_SMELL) * smell;
    go->come[s] = near * keen * call * (fish * (1 + COMPANY) + COMPANY_HALF) /
                  ((smell + SMELL_HALF_MM) * (fish + COMPANY_HALF) * (1 + SHY_ARRIVE * wary));
    lanes full = GIVE_UP_1_S * fish;
    lanes bare = full * full / (full * full + taken * taken + 1e-12);
    go->go[s] = fish * (1.5 - 0.5 * hunger) *
                (LEAVE_ANYWAY + bfi_of(own, BF_SWIM_LEAVE) * pace->bare * bare +
                 LEAVE_FIGHT * pace->fight[s] + LEAVE_WARY * wary);
}

/* The rig at spot s over a step: all its hazards against the weight; or, in a stretch not logged tap by tap, each into its
 * integral. */
LANES_INLINE void rig_step(const bfi_swim *swim, const step_pace *pace, int s, int n, double *x, int p, int m,
                           const bfi_about *hook, double *log_w) {
    const bfi_swim_now *now = &swim->now;
    const bfi_whose own = bfi_whose_at(swim, n, x, p, m);
    const double dt_s = pace->dt_s;
    const lanes_bits is_in = pace->rig_at == (double)s;
    if (lanes_any(is_in)) {
        bfi_meets meets = bfi_meets_of(swim, own, s, pace->hook_by, pace->hook_soft, hook);
        lanes all = bfi_meets_all(&meets, swim->counted) * dt_s;
        lanes_put(log_w + p, m, lanes_at(log_w + p, m) - lanes_where(is_in, all));
    }
    if ((int)now->stretch_spot == s) {
        lanes h[N_SHOWN];
        int last = (int)now->last_hook[s];
        bfi_meets meets =
            bfi_meets_of(swim, own, s, lanes_of(swim->hook_by[last]), lanes_of(swim->hook_soft[last]), hook);
        bfi_meets_parted(own, &meets, hook->on, h);
        for (int i = 0; i < N_SHOWN; i++) {
            double *sum = x + (bfi_stretch_column(swim) + i) * n + p;
            lanes_put(sum, m, lanes_at(sum, m) + h[i] * dt_s);
        }
    }
}

/* One fish of particle p (lane w) jumps: which way, by `at` along the sum of the rates. */
static void jump(const bfi_swim *swim, int n, double *x, int p, const traffic *t, int w, double at) {
    double *near = x + NEAR_FISH * n + p;
    if ((at -= t->in[w]) < 0) {
        double about = *near + 1;
        for (int s = 0; s < swim->n_spots; s++) about += x[(bfi_spot_column(swim, s) + FISH) * n + p];
        x[HUNGER * n + p] += (1 - x[HUNGER * n + p]) / about; /* a newcomer is hungry */
        ++*near;
        return;
    }
    if ((at -= t->out[w]) < 0) {
        if (*near >= 1) --*near;
        return;
    }
    for (int s = 0; s < swim->n_spots; s++) {
        double *fish = x + (bfi_spot_column(swim, s) + FISH) * n + p;
        if ((at -= t->come[s][w]) < 0) {
            if (*near >= 1) --*near, ++*fish;
            return;
        }
        if ((at -= t->go[s][w]) < 0) {
            if (*fish < 1) return;
            --*fish;
            double way = -at / t->go[s][w];            /* as good as a new uniform number */
            for (int to = 0; to < swim->n_spots; to++) /* straight to another spot, or off */
                if ((way -= swim->beside[s][to]) < 0) {
                    ++x[(bfi_spot_column(swim, to) + FISH) * n + p];
                    return;
                }
            ++*near;
            return;
        }
    }
}

/* The jumps of a step, each when the integrated hazard has used up an exponential number. */
static void jumps(const bfi_swim *swim, const step_pace *pace, int n, double *x, int p, const traffic *t,
                  int w, double rate) {
    double *clock = x + CLOCK * n + p, at;
    for (int draw = 0; draw < DRAWS - 1 && bfi_clock_strikes(clock, rate, swim->seed, pace->stream[w],
                                                             draw_index(swim, pace->slot[w], draw), &at);
         draw++)
        jump(swim, n, x, p, t, w, at);
}

LANES_INLINE void lanes_step(const bfi_swim *swim, const step_pace *pace, int n, double *x, int p,
                             const int m, const int K, double *log_w) {
    lanes near = lanes_at(x + NEAR_FISH * n + p, m), hunger = lanes_at(x + HUNGER * n + p, m);
    lanes eaten_kg = lanes_of(0), rate = lanes_of(0), about = near;
    const bfi_whose own = bfi_whose_at(swim, n, x, p, m);
    traffic t;
    for (int s = 0; s < swim->n_spots; s++) {
        double *c = x + bfi_spot_column(swim, s) * n + p;
        bfi_about hook;
        about += lanes_at(c + FISH * n, m);
        if (bfi_has_loose(swim, s))
            spot_step(swim, pace, own, s, near, hunger, c, n, m, K, 1, &t, &eaten_kg, &hook);
        else
            spot_step(swim, pace, own, s, near, hunger, c, n, m, K, 0, &t, &eaten_kg, &hook);
        rig_step(swim, pace, s, n, x, p, m, &hook, log_w);
        rate += t.come[s] + t.go[s];
    }
    const lanes stock = bfi_of(own, BF_SWIM_STOCK);
    t.in = stock * bfi_activity(swim, own) * ((1 + ROAM_NOISE * pace->all_splash) / ROAM_S) *
           lanes_above_zero(1 - about / (4 * stock));
    t.out = near / ROAM_S;
    rate += t.in + t.out;

    lanes hungry = hunger + (1 - hunger) * (pace->dt_s / HUNGER_S) - eaten_kg / (swim->meal_kg * (about + 1));
    lanes_put(x + HUNGER * n + p, m, lanes_above_zero(hungry));
    lanes clock = lanes_at(x + CLOCK * n + p, m) - rate * pace->dt_s;
    lanes_put(x + CLOCK * n + p, m, clock);
    for (int w = 0; w < m; w++)
        if (clock[w] <= 0) jumps(swim, pace, n, x, p + w, &t, w, rate[w]);
}

/* What particles of a belief have of their own: where their numbers stand. */
LANES_INLINE void number_lanes(step_pace *pace, uint64_t noise, int p) {
    for (int w = 0; w < LANES; w++) {
        pace->slot[w] = p + w;
        pace->noise[w] = noise + (uint64_t)(p + w) * (2 * BF_SWIM_MOST_SPOTS) * GOLDEN;
    }
}

static double known_at(double fed, int s) {
    return (int)fed >> s & 1 ? 1 : UNFED;
}

/* What fades, of ways p and its fellows, in the middle of a step; it stands at the step's end afterwards. */
LANES_INLINE void pace_ways(const bfi_swim *swim, step_pace *pace, int p) {
    bfi_swim_ways *ways = pace->ways;
    const bfi_swim_fade *fade = &swim->fade;
    lanes expect = lanes_at(ways->expect + p, LANES) * fade->expect;
    pace->bare = 1 / (1 + expect / EXPECT_HALF);
    lanes_put(ways->expect + p, LANES, expect * fade->expect);
    pace->all_splash = lanes_of(0);
    for (int s = 0; s < swim->n_spots; s++) {
        double *splash = ways->splash[s] + p, *fight = ways->fight[s] + p;
        for (int w = 0; w < LANES; w++) pace->known[s][w] = known_at(ways->fed[p + w], s);
        pace->splash[s] = lanes_at(splash, LANES) * fade->splash;
        pace->fight[s] = lanes_at(fight, LANES) * fade->fight;
        pace->all_splash += pace->splash[s];
        lanes_put(splash, LANES, pace->splash[s] * fade->splash);
        lanes_put(fight, LANES, pace->fight[s] * fade->fight);
    }
    pace->rig_at = lanes_at(ways->rig_at + p, LANES);
    pace->hook_by = lanes_at(ways->hook_by + p, LANES);
    pace->hook_soft = lanes_at(ways->hook_soft + p, LANES);
    for (int w = 0; w < LANES; w++) {
        pace->slot[w] = 0;
        pace->stream[w] = ways->stream[p + w], pace->noise[w] = ways->noise[p + w];
    }
}

/* The whole block, so many particles at a time, then the last ones each by itself: the same arithmetic, so the same bits. */
LANES_INLINE void block_step(const bfi_swim *swim, step_pace *pace, int n, double *x, const int K,
                             double *log_w) {
    const uint64_t noise = pace->noise[0];
    int p = 0;
    for (; p + LANES <= n; p += LANES) {
        if (pace->ways)
            pace_ways(swim, pace, p);
        else
            number_lanes(pace, noise, p);
        lanes_step(swim, pace, n, x, p, LANES, K, log_w);
    }
    for (; p < n; p++) {
        number_lanes(pace, noise, p);
        lanes_step(swim, pace, n, x, p, 1, K, log_w);
    }
}

LANES_INLINE void any_step(const bfi_swim *swim, step_pace *pace, int n, double *x, double *log_w) {
    switch (swim->n_classes) {
    case 1: block_step(swim, pace, n, x, 1, log_w); break;
    case 2: block_step(swim, pace, n, x, 2, log_w); break;
    case 3: block_step(swim, pace, n, x, 3, log_w); break;
    default: block_step(swim, pace, n, x, 4, log_w);
    }
}

/* The same twice: in registers that hold all lanes at once where the processor has them. No bit depends on it. */
#if defined(__x86_64__)
__attribute__((target("avx2"))) static void wide_step(const bfi_swim *swim, step_pace *pace, int n, double *x,
                                                      double *log_w) {
    any_step(swim, pace, n, x, log_w);
}
#endif

static void plain_step(const bfi_swim *swim, step_pace *pace, int n, double *x, double *log_w) {
    any_step(swim, pace, n, x, log_w);
}

static void whole_step(const bfi_swim *swim, step_pace *pace, int n, double *x, double *log_w) {
#if defined(__x86_64__)
    if (__builtin_cpu_supports("avx2")) {
        wide_step(swim, pace, n, x, log_w);
        return;
    }
#endif
    plain_step(swim, pace, n, x, log_w);
}

static bfi_swim_fade fade_in(double dt_s) {
    return (bfi_swim_fade){dt_s, bf_exp(-0.5 * dt_s / SPLASH_S), bf_exp(-0.5 * dt_s / FIGHT_S),
                           bf_exp(-0.5 * dt_s / EXPECT_S)};
}

static uint64_t noise_of(const bfi_swim *swim, uint64_t stream) {
    bf_philox_block block = bf_philox(swim->seed, stream, draw_index(swim, MOST_PARTICLES - 1, DRAWS - 1));
    return (uint64_t)block.word[1] << 32 | block.word[0];
}

/* What of now fades in dt_s: left at the middle in *pace, at the end in now. */
static step_pace paced(bfi_swim *swim, double dt_s) {
    bfi_swim_now *now = &swim->now;
    int hook = now->rig_hook >= 0 ? (int)now->rig_hook : 0;
    step_pace pace = {.dt_s = dt_s,
                      .rig_at = lanes_of(now->rig_spot),
                      .hook_by = lanes_of(swim->hook_by[hook]),
                      .hook_soft = lanes_of(swim->hook_soft[hook])};
    const bfi_swim_fade *fade = &swim->fade;
    now->expect *= fade->expect;
    pace.bare = lanes_of(1 / (1 + now->expect / EXPECT_HALF));
    now->expect *= fade->expect;
    for (int s = 0; s < swim->n_spots; s++) {
        pace.known[s] = lanes_of(known_at(now->fed, s));
        now->splash[s] *= fade->splash, now->fight[s] *= fade->fight;
        pace.splash[s] = lanes_of(now->splash[s]), pace.fight[s] = lanes_of(now->fight[s]);
        pace.all_splash += pace.splash[s];
        now->splash[s] *= fade->splash, now->fight[s] *= fade->fight;
    }
    pace.noise[0] = noise_of(swim, swim->stream);
    for (int w = 0; w < LANES; w++) pace.stream[w] = swim->stream;
    return pace;
}

/* The end of a step that goes no further than to_s; makes what fades in it ready. */
static double step_ends(bfi_swim *swim, double to_s) {
    double next = (floor(swim->now.t_s / BFI_SWIM_STEP_S) + 1) * BFI_SWIM_STEP_S;
    if (next > to_s) next = to_s;
    double dt_s = next - swim->now.t_s;
    if (swim->fade.dt_s != dt_s) swim->fade = fade_in(dt_s);
    return next;
}

static void end_step(bfi_swim *swim, double t_s) {
    swim->now.t_s = t_s;
    swim->now.step++;
}

void bfi_swim_run(bfi_swim *swim, int n, double *x, double to_s, double *log_w) {
    while (swim->now.t_s < to_s) {
        double next = step_ends(swim, to_s);
        step_pace pace = paced(swim, next - swim->now.t_s);
        whole_step(swim, &pace, n, x, log_w);
        end_step(swim, next);
    }
}

double bfi_swim_step_ways(bfi_swim *swim, bfi_swim_ways *ways, double to_s) {
    double next = step_ends(swim, to_s), dt_s = next - swim->now.t_s, *log_w = ways->hazard;
    step_pace pace = {.dt_s = dt_s, .ways = ways};
    memset(log_w, 0, sizeof ways->hazard);
    for (int p = 0; p < ways->n; p++)
        ways->noise[p] = p && ways->stream[p] == ways->stream[p - 1] ? ways->noise[p - 1]
                                                                     : noise_of(swim, ways->stream[p]);
    whole_step(swim, &pace, ways->n, ways->x, log_w);
    for (int p = 0; p < ways->n; p++) ways->hazard[p] = -log_w[p];
    end_step(swim, next);
    return dt_s;
}
