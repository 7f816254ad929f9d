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
#include "core/swim/fixed.h"
#include "core/swim/shown.h"

#define LANES 8

size_t bfi_swim_bytes(void) {
    return sizeof(bfi_swim);
}

int bfi_swim_columns(const bf_swim_scene *scene) {
    double size_m[BF_SWIM_MOST_CLASSES];
    return N_SHARED + scene->n_spots * (PIECES + 2 * bfi_swim_classes(scene, size_m)) + STRETCH_COLUMNS;
}

void bfi_swim_save(const bfi_swim *swim, double moment[BFI_SWIM_MOMENT]) {
    memcpy(moment, &swim->now, sizeof swim->now);
}

void bfi_swim_restore(bfi_swim *swim, const double moment[BFI_SWIM_MOMENT]) {
    memcpy(&swim->now, moment, sizeof swim->now);
    bfi_swim_warm(swim, swim->now.temp_c);
}

/* Draws of a step: 0 to 62 for the jumps, two each; the last for the noise of eating, one block for all particles. */
#define DRAWS 64
static uint64_t draw_index(const bfi_swim *swim, int p, int draw) {
    return ((uint64_t)swim->now.step * 4096 + (uint64_t)p) * DRAWS + (uint64_t)draw;
}

double bfi_swim_uniform(const bfi_swim *swim, int p, int draw) {
    return bf_uniform(swim->seed, swim->stream, draw_index(swim, p, draw));
}

void bfi_swim_begin(bfi_swim *swim, int n, double *x) {
    memset(x, 0, (size_t)n * (size_t)(bfi_stretch_column(swim) + STRETCH_COLUMNS) * sizeof *x);
    for (int p = 0; p < n; p++) {
        /* a Poisson number of fish near, counted off against the sum of exponentials */
        double left = swim->of[BF_SWIM_STOCK] * swim->activity;
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
        }
    }
}

/* ---- One step -------------------------------------------------------------------------------------------------- */

/* What a step has of its own, the same for all particles. */
typedef struct step_pace {
    double dt_s, expect, splash[BF_SWIM_MOST_SPOTS], fight[BF_SWIM_MOST_SPOTS], all_splash;
    uint64_t noise;
} step_pace;

/* Rates of fish between near and each spot, for lanes of particles. */
typedef struct traffic {
    double come[BF_SWIM_MOST_SPOTS][LANES], go[BF_SWIM_MOST_SPOTS][LANES];
    double in[LANES], out[LANES];
} traffic;

/* 64 mixed bits (the finisher of splitmix64: S. Vigna, from memory): noise of eating needs unit variance, no more. */
static inline uint64_t mixed(uint64_t z) {
    z = (z ^ z >> 30) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ z >> 27) * UINT64_C(0x94d049bb133111eb);
    return z ^ z >> 31;
}

/* Sixteen bits of them as a number of mean 0 and variance 1. */
static inline double unit_noise(uint64_t bits, int k) {
    return ((double)(int)(bits >> 16 * k & 0xffff) - 32767.5) * (3.4641016151377544 / 65536);
}

/* Pieces after a flow that takes each with the integrated rate y: (1 + y + y^2/2)^-1 for e^-y, and the noise of a
 * binomial. Under half a piece is none. */
static inline double flowed(double pieces, double y, double noise) {
    double stay = 1 / (1 + y + 0.5 * y * y);
    double left = pieces * stay - noise * sqrt(pieces * stay * (1 - stay));
    return left < 0.5 ? 0 : left;
}

/* W particles at spot s through a step: eats, wears the ground, and leaves the rates of coming and going. */
static inline __attribute__((always_inline)) void
spot_step(const bfi_swim *swim, const step_pace *pace, int s, const double *restrict near,
          const double *restrict hunger, double *restrict c, int n, int p0, const int W, const int K,
          traffic *restrict go, double *restrict eaten_kg, bfi_about *restrict hook) {
    const double dt = pace->dt_s, activity = swim->activity, nuisance = swim->of[BF_SWIM_NUISANCE] * activity;
    const int loose = bfi_has_loose(swim, s);
    double *restrict tight = c + PIECES * n, *restrict wide = c + (PIECES + K) * n;
    uint64_t bits[2][LANES];
    for (int w = 0; w < W; w++)
        for (int zone = 0; zone <= loose; zone++)
            bits[zone][w] = mixed(pace->noise + ((uint64_t)(p0 + w) * 16 + (uint64_t)(2 * s + zone)) *
                                                    UINT64_C(0x9e3779b97f4a7c15));

    for (int w = 0; w < W; w++) {
        double fish = c[FISH * n + w], wary = c[WARY * n + w], at = c[TIGHT_M2 * n + w];
        double keen = activity * bfi_feeding_keenness(FULL_KEEN, hunger[w]);

        /* what lies there: search area, time in handling, smell, small feed */
        double search = 0, handle = 0, smell = 0, easy = 0;
        for (int k = 0; k < K; k++) {
            double pieces = tight[k * n + w], a = swim->search_m2_s[k] * pieces;
            search += a, handle += a * swim->handle_s[k];
            smell += swim->size_mm[k] * pieces, easy += swim->easy[k] * pieces;
        }
        double search_wide = 0, handle_wide = 0;
        if (loose)
            for (int k = 0; k < K; k++) {
                double pieces = wide[k * n + w], a = swim->search_m2_s[k] * pieces;
                search_wide += a, handle_wide += a * swim->handle_s[k];
                smell += swim->size_mm[k] * pieces;
            }

        /* the fish part themselves between the fed patch and what lies round it */
        double to_tight = (LURE_SPOT + LURE_TIGHT * search) * (1 + SHY_LOOSE * wary);
        double to_loose = (LURE_ROUND + LURE_LOOSE * search_wide) * (1 + SHY_TIGHT * wary);
        double on = fish * to_tight / (to_tight + to_loose), off = fish - on;

        /* eating on the patch, by its predicted middle */
        double scrum = at * (1 + CROWDING * (on > 1 ? on - 1 : 0));
        double rate = keen * on / (scrum + handle);
        double small_rate = nuisance * NUISANCE_EAT_1_S / (easy + NUISANCE_HALF);
        double middle[BF_SWIM_MOST_CLASSES], search_mid = 0, handle_mid = 0, kg = 0, small = 0;
        for (int k = 0; k < K; k++) {
            double y = swim->search_m2_s[k] * rate + swim->easy[k] * small_rate + swim->rot_1_s[k];
            middle[k] = tight[k * n + w] / (1 + 0.5 * dt * y);
            double a = swim->search_m2_s[k] * middle[k];
            search_mid += a, handle_mid += a * swim->handle_s[k], kg += a * swim->piece_kg[k];
            small += swim->small[k] * middle[k];
        }
        rate = keen * on / (scrum + handle_mid);
        double gone = 0;
        for (int k = 0; k < K; k++) {
            double y = swim->search_m2_s[k] * rate + swim->easy[k] * small_rate + swim->rot_1_s[k];
            double before = tight[k * n + w], after = flowed(before, y * dt, unit_noise(bits[0][w], k));
            tight[k * n + w] = after, gone += before - after;
        }
        double intake = rate * search_mid, mass = rate * kg, graze = 0;
        hook[w].on = on, hook[w].rate = rate, hook[w].at_m2 = at, hook[w].small = small, hook[w].wary = wary;

        /* and round it, where it is thin enough to take the start of the step */
        if (loose) {
            double lo = c[LOOSE_M2 * n + w];
            double thin = keen * off / (lo * (1 + CROWDING * (off > 1 ? off - 1 : 0)) + handle_wide);
            for (int k = 0; k < K; k++) {
                double y = swim->search_m2_s[k] * thin + swim->rot_1_s[k];
                double before = wide[k * n + w], after = flowed(before, y * dt, unit_noise(bits[1][w], k));
                wide[k * n + w] = after, gone += before - after;
                mass += swim->search_m2_s[k] * thin * 0.5 * (before + after) * swim->piece_kg[k];
            }
            intake += thin * search_wide;
            graze = GRAZE * search_wide / (search_wide + GRAZE_HALF);
        }
        eaten_kg[w] += mass * dt;
        c[GONE * n + w] += gone;
        c[TIGHT_M2 * n + w] = at + SCATTER_M2 * rate * search_mid * dt;
        c[WARY * n + w] = wary * (1 - dt * (1 + graze) / WARY_S);

        /* who comes, who goes */
        double call = (ARRIVE_ANYWAY + swim->of[BF_SWIM_SPLASH] * pace->splash[s]) * (smell + SMELL_HALF_MM) +
                      swim->of[BF_SWIM_SMELL] * smell;
        go->come[s][w] = near[w] * keen * call * (fish * (1 + COMPANY) + COMPANY_HALF) /
                         ((smell + SMELL_HALF_MM) * (fish + COMPANY_HALF) * (1 + SHY_ARRIVE * wary));
        double full = GIVE_UP_1_S * fish;
        double bare = full * full / (full * full + intake * intake + 1e-12);
        go->go[s][w] = fish *
                       (LEAVE_ANYWAY + swim->of[BF_SWIM_LEAVE] * pace->expect * bare +
                        LEAVE_FIGHT * pace->fight[s] + LEAVE_WARY * wary) *
                       (1.5 - 0.5 * hunger[w]);
    }
}

/* One fish jumps for particle p (lane w): which way, by u times the sum of the rates. */
static void jump(const bfi_swim *swim, int n, double *x, int p, const traffic *t, int w, double u,
                 double which) {
    double *near = x + NEAR_FISH * n + p;
    double past = u - t->in[w];
    if (past < 0) {
        double about = *near + 1;
        for (int s = 0; s < swim->n_spots; s++) about += x[(bfi_spot_column(swim, s) + FISH) * n + p];
        x[HUNGER * n + p] += (1 - x[HUNGER * n + p]) / about; /* a newcomer is hungry */
        ++*near;
        return;
    }
    if ((past -= t->out[w]) < 0) {
        if (*near >= 1) --*near;
        return;
    }
    for (int s = 0; s < swim->n_spots; s++) {
        double *fish = x + (bfi_spot_column(swim, s) + FISH) * n + p;
        if ((past -= t->come[s][w]) < 0) {
            if (*near >= 1) --*near, ++*fish;
            return;
        }
        if ((past -= t->go[s][w]) < 0) {
            if (*fish < 1) return;
            --*fish;
            for (int to = 0; to < swim->n_spots; to++) /* straight to another spot, or off */
                if (to != s && (which -= swim->beside[s][to]) < 0) {
                    ++x[(bfi_spot_column(swim, to) + FISH) * n + p];
                    return;
                }
            ++*near;
            return;
        }
    }
}

/* The rig at spot s over a step: all its hazards against the weight; or, in a stretch not logged tap by tap, each into its
 * integral. */
static inline __attribute__((always_inline)) void rig_step(const bfi_swim *swim, int s, double dt_s, int n,
                                                           double *x, int p0, const int W,
                                                           const bfi_about *hook, double *log_w) {
    const bfi_swim_now *now = &swim->now;
    if ((int)now->rig_spot == s)
        for (int w = 0; w < W; w++)
            log_w[p0 + w] -= bfi_meets_all(bfi_meets_of(swim, s, (int)now->rig_hook, hook[w])) * dt_s;
    if ((int)now->stretch_spot == s)
        for (int w = 0; w < W; w++) {
            double h[N_SHOWN];
            bfi_meets_parted(swim, bfi_meets_of(swim, s, (int)now->last_hook[s], hook[w]), hook[w].on, h);
            for (int i = 0; i < N_SHOWN; i++) x[(bfi_stretch_column(swim) + i) * n + p0 + w] += h[i] * dt_s;
        }
}

static inline __attribute__((always_inline)) void lanes_step(const bfi_swim *swim, const step_pace *pace,
                                                             int n, double *x, int p0, const int W,
                                                             const int K, double *log_w) {
    double eaten_kg[LANES] = {0}, total[LANES], about[LANES];
    bfi_about hook[LANES];
    traffic t;
    double *near = x + NEAR_FISH * n + p0, *hunger = x + HUNGER * n + p0, *clock = x + CLOCK * n + p0;
    for (int w = 0; w < W; w++) total[w] = 0, about[w] = near[w];
    for (int s = 0; s < swim->n_spots; s++) {
        double *c = x + (size_t)bfi_spot_column(swim, s) * (size_t)n + p0;
        spot_step(swim, pace, s, near, hunger, c, n, p0, W, K, &t, eaten_kg, hook);
        rig_step(swim, s, pace->dt_s, n, x, p0, W, hook, log_w);
        for (int w = 0; w < W; w++) {
            total[w] += t.come[s][w] + t.go[s][w];
            about[w] += c[FISH * n + w];
        }
    }
    const double stock = swim->of[BF_SWIM_STOCK];
    const double inflow = stock * swim->activity * (1 + ROAM_NOISE * pace->all_splash) / ROAM_S;
    for (int w = 0; w < W; w++) {
        double room = 1 - about[w] / (4 * stock);
        t.in[w] = inflow * (room > 0 ? room : 0);
        t.out[w] = near[w] / ROAM_S;
        total[w] += t.in[w] + t.out[w];
        clock[w] -= total[w] * pace->dt_s;
        double hungry =
            hunger[w] + (1 - hunger[w]) * pace->dt_s / HUNGER_S - eaten_kg[w] / (MEAL_KG * (about[w] + 1));
        hunger[w] = hungry > 0 ? hungry : 0;
    }
    for (int w = 0; w < W; w++)
        for (int draw = 0; clock[w] <= 0 && draw < DRAWS - 2; draw += 2) {
            double u[2];
            bf_uniform2(swim->seed, swim->stream, draw_index(swim, p0 + w, draw), u);
            jump(swim, n, x, p0 + w, &t, w, u[0] * total[w], bfi_swim_uniform(swim, p0 + w, draw + 1));
            clock[w] -= bf_log(u[1]);
        }
}

/* The whole block, eight particles at a time, then one by one: the same arithmetic, so the same bits. */
static inline __attribute__((always_inline)) void block_step(const bfi_swim *swim, const step_pace *pace,
                                                             int n, double *x, const int K, double *log_w) {
    int p = 0;
    for (; p + LANES <= n; p += LANES) lanes_step(swim, pace, n, x, p, LANES, K, log_w);
    for (; p < n; p++) lanes_step(swim, pace, n, x, p, 1, K, log_w);
}

/* What of now fades in dt_s: left at the middle in *pace, at the end in now. */
static step_pace paced(bfi_swim *swim, double dt_s) {
    bfi_swim_now *now = &swim->now;
    step_pace pace = {.dt_s = dt_s};
    double splash = bf_exp(-0.5 * dt_s / SPLASH_S), fight = bf_exp(-0.5 * dt_s / FIGHT_S),
           expect = bf_exp(-0.5 * dt_s / EXPECT_S);
    now->expect *= expect;
    pace.expect = 1 / (1 + now->expect / EXPECT_HALF);
    now->expect *= expect;
    for (int s = 0; s < swim->n_spots; s++) {
        pace.splash[s] = now->splash[s] *= splash;
        pace.fight[s] = now->fight[s] *= fight;
        pace.all_splash += pace.splash[s];
        now->splash[s] *= splash, now->fight[s] *= fight;
    }
    bf_philox_block block = bf_philox(swim->seed, swim->stream, draw_index(swim, 4095, DRAWS - 1));
    pace.noise = (uint64_t)block.word[1] << 32 | block.word[0];
    return pace;
}

void bfi_swim_run(bfi_swim *swim, int n, double *x, double to_s, double *log_w) {
    while (swim->now.t_s < to_s) {
        double next = (floor(swim->now.t_s / BFI_SWIM_STEP_S) + 1) * BFI_SWIM_STEP_S;
        if (next > to_s) next = to_s;
        step_pace pace = paced(swim, next - swim->now.t_s);
        switch (swim->n_classes) {
        case 1: block_step(swim, &pace, n, x, 1, log_w); break;
        case 2: block_step(swim, &pace, n, x, 2, log_w); break;
        case 3: block_step(swim, &pace, n, x, 3, log_w); break;
        default: block_step(swim, &pace, n, x, 4, log_w);
        }
        swim->now.t_s = next;
        swim->now.step++;
    }
}
