/* The bits of the core's arithmetic, folded into one 64-bit number: the same natively (gcc, clang, -O0 to -O3) and
 * in wasm (plain and SIMD). What runs through answers is hashed by requests.tsv; this covers the functions under
 * them over wide ranges of arguments. */
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/fall.h"
#include "baitfall/hazard.h"
#include "baitfall/random.h"
#include "baitfall/special.h"
#include "baitfall/waits.h"
#include "baitfall/water.h"
#include "tests/hash/kernel.h"

static uint64_t fold(uint64_t hash, double x) {
    if (x != x) x = -1.25; /* one NaN is as good as another: wasm leaves their payload open */
    return bf_hash_bytes(hash, &x, sizeof x);
}

/* Arguments over all finite doubles: random bits read as a double. */
static double any_double(uint64_t i) {
    bf_philox_block block = bf_philox(42, 1, i);
    uint64_t bits = (uint64_t)block.word[1] << 32 | block.word[0];
    double x;
    memcpy(&x, &bits, sizeof x);
    return x;
}

static uint64_t elementary_hash(uint64_t hash) {
    for (uint64_t i = 0; i < 20000; i++) {
        double wide = any_double(i), u = bf_uniform(42, 2, i), near = 40 * (u - 0.5);
        const double values[] = {
            bf_exp(wide),        bf_exp(near),          bf_log(wide),       bf_log(u),
            bf_expm1(near),      bf_log1p(near),        bf_sin(1e5 * near), bf_cos(near),
            bf_atan2(near, u),   bf_pow(u, near),       bf_tanh(near),      bf_hypot(near, wide),
            bf_normal_cdf(near), bf_normal_quantile(u),
        };
        for (size_t k = 0; k < sizeof values / sizeof values[0]; k++) hash = fold(hash, values[k]);
    }
    return hash;
}

static uint64_t fall_hash(uint64_t hash) {
    for (uint64_t i = 0; i < 2000; i++) {
        double u[8];
        for (uint64_t k = 0; k < 8; k += 2) bf_uniform2(42, 3 + k, i, u + k);
        double temp_c = 30 * u[0];
        bf_piece piece =
            bf_piece_of_form(BF_CYLINDER, 0.002 + 0.008 * u[1], 0.002 + 0.012 * u[2], 1020 + 350 * u[3],
                             bf_water_density_kg_m3(temp_c), bf_water_viscosity_pa_s(temp_c));
        bf_current current = bf_current_still(0.3 + 4 * u[4]);
        current.skin_x_m_s = 0.1 * u[5];
        current.skin_m = 0.02;
        current.coef_y_m_s[0] = 0.05 * u[6];
        current.coef_y_m_s[1] = -0.1 * u[7];
        bf_entry entry = {0};
        bf_floor floor = {current.depth_m, 0.1 * u[7]};
        bf_landing landing = {0};
        bf_status status = bf_fall_land(&piece, &entry, &current, &floor, &landing);
        hash = fold(hash, status);
        hash = fold(hash, landing.x_m);
        hash = fold(hash, landing.y_m);
        hash = fold(hash, landing.time_s);
    }
    return hash;
}

/* Wait curves and Cox fits: long sums, Newton's steps, and decisions on their last bits. */
static uint64_t hazard_hash(uint64_t hash) {
    enum { N = 200, P = 3 };
    static double wait_s[N], x[N * P], work[20000];
    static unsigned char is_event[N];
    static uint32_t session[N];
    static bf_wait_step step[N];
    for (uint64_t set = 0; set < 50; set++) {
        for (size_t i = 0; i < N; i++) {
            for (size_t k = 0; k < P; k++) x[i * P + k] = bf_normal(42, 20 + k, set * N + i);
            wait_s[i] = floor(1 - 90 * bf_log(bf_uniform(42, 30, set * N + i)) * bf_exp(0.4 * x[i * P]));
            is_event[i] = bf_uniform(42, 31, set * N + i) < 0.8;
            session[i] = (uint32_t)(i / 8);
        }
        size_t n_steps;
        hash = fold(hash, bf_waits_curve(wait_s, is_event, N, BF_BAND_LOG_LOG, 0.8, work, step, &n_steps));
        for (size_t k = 0; k < n_steps; k++) {
            hash = fold(hash, step[k].survival);
            hash = fold(hash, step[k].lower);
            hash = fold(hash, step[k].upper);
        }
        bf_hazard fit;
        hash = fold(hash, bf_hazard_fit(wait_s, is_event, x, session, N, P, BF_EFRON, work, &fit));
        for (size_t k = 0; k < P; k++) {
            bf_banded factor = bf_hazard_factor(&fit, k, 1, 0.8, BF_ERROR_ROBUST);
            hash = fold(hash, fit.coef[k]);
            hash = fold(hash, fit.model[k][0]);
            hash = fold(hash, factor.lower);
            hash = fold(hash, factor.upper);
        }
    }
    return hash;
}

uint64_t bf_kernel_hash(uint64_t hash) {
    return hazard_hash(fall_hash(elementary_hash(hash)));
}
