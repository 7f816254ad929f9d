/* cloud.c -- see cloud.h. */
#include "core/swim/cloud.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/random.h"
#include "core/swim/axes.h"

#define D BF_SWIM_N_PARAMETERS
#define S BFI_MOST_SIGNS
#define MOST_PARTICLES 4096 /* that share an index */
_Static_assert(S <= BFI_MOST_AXES, "one kind of matrix for both");

/* ---- Moments ---- */

/* Sum of a b, in four sums that a compiler may put side by side. */
static double product_sum(const double *a, const double *b, int n) {
    double sum[4] = {0}, rest = 0;
    int p = 0;
    for (; p + 4 <= n; p += 4)
        for (int k = 0; k < 4; k++) sum[k] += a[p + k] * b[p + k];
    for (; p < n; p++) rest += a[p] * b[p];
    return (sum[0] + sum[1]) + (sum[2] + sum[3]) + rest;
}

/* Weights of sum 1. */
static void take_weights(const double *log_w, int n, double *w) {
    double most = log_w[0], sum = 0;
    for (int p = 1; p < n; p++) most = log_w[p] > most ? log_w[p] : most;
    for (int p = 0; p < n; p++) sum += w[p] = bf_exp(log_w[p] - most);
    for (int p = 0; p < n; p++) w[p] /= sum;
}

/* Covariances of signs with signs, parameters with signs and with parameters; j <= i of the symmetric ones. */
typedef struct moments {
    double effective; /* number of particles */
    double ss[BFI_MOST_AXES][BFI_MOST_AXES], zs[D][S], zz[D][D];
} moments;

static void take_moments(const double *w, int n, double *sign, const double *z, double *wz, bfi_cloud *cloud,
                         moments *m) {
    m->effective = 1 / product_sum(w, w, n);
    for (int k = 0; k < cloud->n_signs; k++) {
        double *mine = sign + k * n, mean = product_sum(w, mine, n);
        for (int p = 0; p < n; p++) mine[p] -= mean;
        for (int p = 0; p < n; p++) wz[p] = w[p] * mine[p];
        for (int j = 0; j <= k; j++) m->ss[k][j] = product_sum(wz, sign + j * n, n);
    }
    for (int i = 0; i < D; i++) {
        cloud->mean[i] = product_sum(w, z + i * n, n);
        for (int p = 0; p < n; p++) wz[p] = w[p] * (z[i * n + p] - cloud->mean[i]);
        for (int k = 0; k < cloud->n_signs; k++) m->zs[i][k] = product_sum(wz, sign + k * n, n);
        for (int j = 0; j <= i; j++) m->zz[i][j] = product_sum(wz, z + j * n, n);
    }
}

/* ---- How it is moved ---- */

#define RIDGE 0.05

/* A sign that does not vary tells nothing. */
static void lean_on_signs(moments *m, bfi_cloud *cloud) {
    int n = cloud->n_signs;
    double root[BFI_MOST_AXES][BFI_MOST_AXES], pull[BFI_MOST_AXES];
    for (int k = 0; k < n; k++)
        m->ss[k][k] = m->ss[k][k] > 0 ? m->ss[k][k] * (1 + RIDGE * n / m->effective) : 1;
    bfi_root_of(n, m->ss, root);
    for (int i = 0; i < D; i++) {
        memcpy(pull, m->zs[i], sizeof m->zs[i]);
        bfi_solve_root(n, root, pull);
        memcpy(cloud->lean[i], pull, sizeof cloud->lean[i]);
    }
}

/* C, both halves. */
static void left_open(const moments *m, const bfi_cloud *cloud, double open[BFI_MOST_AXES][BFI_MOST_AXES]) {
    for (int i = 0; i < D; i++)
        for (int j = 0; j <= i; j++) {
            double told = 0; /* the same from either side, but for rounding */
            for (int k = 0; k < cloud->n_signs; k++)
                told += 0.5 * (cloud->lean[i][k] * m->zs[j][k] + cloud->lean[j][k] * m->zs[i][k]);
            open[i][j] = open[j][i] = m->zz[i][j] - told;
        }
}

static void move_along_axes(const moments *m, bfi_cloud *cloud) {
    double open[BFI_MOST_AXES][BFI_MOST_AXES], axis[BFI_MOST_AXES][BFI_MOST_AXES], r[BFI_MOST_AXES];
    left_open(m, cloud, open);
    bfi_axes_of(D, open, r, axis);
    for (int k = 0; k < D; k++) {
        double share = r[k] > 0 ? r[k] < 1 ? r[k] : 1 : 0, h = BFI_CLOUD_MOVE * share;
        double kept = sqrt(1 - h * h), stirred = h * sqrt(r[k] > 0 ? r[k] : 0);
        for (int i = 0; i < D; i++) {
            cloud->stir[i][k] = stirred * axis[i][k];
            for (int j = 0; j < D; j++) cloud->keep[i][j] += kept * axis[i][k] * axis[j][k];
        }
    }
}

bfi_cloud bfi_cloud_of(const double *log_w, int n, int n_signs, double *sign, const double *z,
                       double *spare) {
    bfi_cloud cloud;
    moments m;
    memset(&cloud, 0, sizeof cloud);
    memset(&m, 0, sizeof m);
    cloud.n_signs = n_signs;
    take_weights(log_w, n, spare);
    take_moments(spare, n, sign, z, spare + n, &cloud, &m);
    lean_on_signs(&m, &cloud);
    move_along_axes(&m, &cloud);
    return cloud;
}

/* ---- Moving ---- */

#define TOGETHER 64 /* particles */

#define BLOCKS ((D + 7) / 8)

/* Numbers of mean 0 and variance 1, eight from each block, sixteen bits each; number k at e[k][at]. */
static void drawn_of(uint64_t seed, uint64_t stream, uint64_t index, int at, double e[8 * BLOCKS][TOGETHER]) {
    for (int b = 0; b < BLOCKS; b++) {
        bf_philox_block block = bf_philox(seed, stream, BLOCKS * index + (uint64_t)b);
        for (int k = 0; k < 8; k++) {
            uint32_t bits = block.word[k / 2] >> 16 * (k % 2) & 0xffff;
            e[8 * b + k][at] = ((double)(int)bits - 32767.5) * (3.4641016151377544 / 65536);
        }
    }
}
static void add_scaled(int n, double by, const double *column, double *sum) {
    for (int p = 0; p < n; p++) sum[p] += by * column[p];
}

/* n at z and sign, whose columns are `apart` from each other. */
static void move_together(const bfi_cloud *cloud, double e[8 * BLOCKS][TOGETHER], int n, int apart,
                          const double *sign, double *z) {
    double off[D][TOGETHER];
    for (int i = 0; i < D; i++) {
        double m[TOGETHER], *at = z + i * apart;
        for (int p = 0; p < n; p++) m[p] = cloud->mean[i];
        for (int k = 0; k < cloud->n_signs; k++) add_scaled(n, cloud->lean[i][k], sign + k * apart, m);
        for (int p = 0; p < n; p++) off[i][p] = at[p] - m[p], at[p] = m[p];
    }
    for (int i = 0; i < D; i++)
        for (int j = 0; j < D; j++) {
            add_scaled(n, cloud->keep[i][j], off[j], z + i * apart);
            add_scaled(n, cloud->stir[i][j], e[j], z + i * apart);
        }
}

void bfi_cloud_move(const bfi_cloud *cloud, uint64_t seed, uint64_t stream, uint64_t index, int n,
                    const double *sign, double *z) {
    double e[8 * BLOCKS][TOGETHER];
    for (int from = 0; from < n; from += TOGETHER) {
        int many = n - from < TOGETHER ? n - from : TOGETHER;
        for (int p = 0; p < many; p++)
            drawn_of(seed, stream, index * MOST_PARTICLES + (uint64_t)(from + p), p, e);
        move_together(cloud, e, many, n, sign + from, z + from);
    }
}
