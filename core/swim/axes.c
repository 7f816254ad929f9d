/* axes.c -- see axes.h. */
#include "core/swim/axes.h"

#include <math.h>
#include <string.h>

#define D BFI_MOST_AXES
#define MOST_SWEEPS 40
#define NOTHING 1e-12 /* of a variance */

/* Turns axes p and q so that they no longer vary together. */
static void turn(int n, double c[D][D], double axis[D][D], int p, int q) {
    double half = 0.5 * (c[q][q] - c[p][p]), off = c[p][q];
    double t = (half < 0 ? -1 : 1) * off / (fabs(half) + sqrt(half * half + off * off));
    double cosine = 1 / sqrt(1 + t * t), sine = t * cosine;
    for (int k = 0; k < n; k++) {
        double a = c[k][p], b = c[k][q];
        c[k][p] = cosine * a - sine * b, c[k][q] = sine * a + cosine * b;
    }
    for (int k = 0; k < n; k++) {
        double a = c[p][k], b = c[q][k];
        c[p][k] = cosine * a - sine * b, c[q][k] = sine * a + cosine * b;
        a = axis[k][p], b = axis[k][q];
        axis[k][p] = cosine * a - sine * b, axis[k][q] = sine * a + cosine * b;
    }
}

void bfi_axes_of(int n, double covariance[D][D], double r[D], double axis[D][D]) {
    double c[D][D];
    for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++) c[i][j] = covariance[i][j], axis[i][j] = i == j;
    for (int sweep = 0; sweep < MOST_SWEEPS; sweep++) {
        double beside = 0, all = 0;
        for (int i = 0; i < n; i++)
            for (int j = 0; j < n; j++) all += c[i][j] * c[i][j], beside += i == j ? 0 : c[i][j] * c[i][j];
        if (!(beside > 1e-32 * all)) break;
        for (int p = 0; p < n; p++)
            for (int q = p + 1; q < n; q++)
                if (c[p][q] != 0) turn(n, c, axis, p, q);
    }
    for (int i = 0; i < n; i++) r[i] = c[i][i];
}

static double between(double x, double lo, double hi) {
    return x < lo ? lo : x > hi ? hi : x;
}

void bfi_root_of(int n, double matrix[D][D], double lower[D][D]) {
    memset(lower, 0, sizeof(double[D][D]));
    for (int i = 0; i < n; i++) {
        double sd = sqrt(matrix[i][i] > 0 ? matrix[i][i] : 0);
        for (int j = 0; j <= i; j++) {
            double rest = matrix[i][j];
            for (int k = 0; k < j; k++) rest -= lower[i][k] * lower[j][k];
            if (j < i)
                lower[i][j] = lower[j][j] > 0 ? between(rest / lower[j][j], -sd, sd) : 0;
            else
                lower[i][i] = rest > NOTHING * matrix[i][i] ? sqrt(rest) : 0;
        }
    }
}

void bfi_solve_root(int n, double lower[D][D], double x[D]) {
    for (int i = 0; i < n; i++) {
        for (int k = 0; k < i; k++) x[i] -= lower[i][k] * x[k];
        x[i] /= lower[i][i];
    }
    for (int i = n - 1; i >= 0; i--) {
        for (int k = i + 1; k < n; k++) x[i] -= lower[k][i] * x[k];
        x[i] /= lower[i][i];
    }
}
