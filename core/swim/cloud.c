/* cloud.c -- see cloud.h. */
#include "core/swim/cloud.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/random.h"
#include "core/swim/axes.h"

#define D BF_SWIM_N_PARAMETERS
#define MOST_PARTICLES 4096 /* that share an index */

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

bfi_cloud bfi_cloud_of(const double *log_w, int n, const double *z, double *spare) {
    bfi_cloud cloud;
    double covariance[D][D], *w = spare, *wz = spare + n;
    memset(&cloud, 0, sizeof cloud);
    take_weights(log_w, n, w);
    for (int i = 0; i < D; i++) cloud.mean[i] = product_sum(w, z + i * n, n);
    for (int i = 0; i < D; i++) {
        for (int p = 0; p < n; p++) wz[p] = w[p] * (z[i * n + p] - cloud.mean[i]);
        for (int j = 0; j <= i; j++) covariance[i][j] = product_sum(wz, z + j * n, n);
    }
    bfi_root_of(D, covariance, cloud.lower);
    return cloud;
}

/* ---- Moving ---- */

/* Sixteen numbers of mean 0 and variance 1 from two blocks, sixteen bits each. */
static void drawn_of(uint64_t seed, uint64_t stream, uint64_t index, double e[16]) {
    for (int b = 0; b < 2; b++) {
        bf_philox_block block = bf_philox(seed, stream, 2 * index + (uint64_t)b);
        for (int k = 0; k < 8; k++) {
            uint32_t bits = block.word[k / 2] >> 16 * (k % 2) & 0xffff;
            e[8 * b + k] = ((double)(int)bits - 32767.5) * (3.4641016151377544 / 65536);
        }
    }
}
_Static_assert(D <= 16, "two blocks are enough");

void bfi_cloud_move(const bfi_cloud *cloud, uint64_t seed, uint64_t stream, uint64_t index, int n,
                    double *z) {
    const double keep = sqrt(1 - BFI_CLOUD_MOVE * BFI_CLOUD_MOVE);
    for (int p = 0; p < n; p++) {
        double e[16];
        drawn_of(seed, stream, index * MOST_PARTICLES + (uint64_t)p, e);
        for (int i = 0; i < D; i++) {
            double off = 0, *at = &z[i * n + p];
            for (int j = 0; j <= i; j++) off += cloud->lower[i][j] * e[j];
            *at = cloud->mean[i] + keep * (*at - cloud->mean[i]) + BFI_CLOUD_MOVE * off;
        }
    }
}
