/* weights.c -- see weights.h. */
#include "core/swim/weights.h"

#include "baitfall/elementary.h"
#include "baitfall/status.h"

#define NONE (-__builtin_inf())

static double highest(const double *log_w, int n) {
    double most = NONE;
    for (int i = 0; i < n; i++) most = log_w[i] > most ? log_w[i] : most;
    return most;
}

double bfi_weights_level(double *log_w, int n) {
    BF_ASSERT(n > 0);
    double most = highest(log_w, n), sum = 0;
    if (most == NONE) return NONE;
    for (int i = 0; i < n; i++) sum += bf_exp(log_w[i] - most);
    double level = most + bf_log(sum / n);
    for (int i = 0; i < n; i++) log_w[i] -= level;
    return level;
}

double bfi_weights_effective(const double *log_w, int n) {
    double most = highest(log_w, n), sum = 0, squares = 0;
    if (most == NONE) return 0;
    for (int i = 0; i < n; i++) {
        double w = bf_exp(log_w[i] - most);
        sum += w;
        squares += w * w;
    }
    return sum * sum / squares;
}

void bfi_weights_draw(const double *log_w, int n, double u, int m, int *from) {
    double most = highest(log_w, n), sum = 0, reached = 0;
    BF_ASSERT(most > NONE);
    for (int i = 0; i < n; i++) sum += bf_exp(log_w[i] - most);
    int slot = 0, last = 0;
    for (int i = 0; i < n && slot < m; i++) {
        double w = bf_exp(log_w[i] - most);
        reached += w;
        last = w > 0 ? i : last;
        while (slot < m && (slot + u) * sum < reached * m) from[slot++] = i;
    }
    while (slot < m) /* the last bits of a sum */
        from[slot++] = last;
}

void bfi_weights_resample(const double *log_w, int n, double u, int *from) {
    bfi_weights_draw(log_w, n, u, n, from);
}
