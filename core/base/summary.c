/* summary.c -- sorting and quantiles. */
#include "baitfall/summary.h"

#include <math.h>

#include "baitfall/status.h"

/* Sorting: quicksort, insertion sort for short runs, heapsort when quicksort goes astray ----------------- */

#define SHORT_RUN 16

static void swap(double *a, double *b) {
    double kept = *a;
    *a = *b;
    *b = kept;
}

static void insertion_sort(double *x, size_t n) {
    for (size_t i = 1; i < n; i++) {
        double moving = x[i];
        size_t j = i;
        for (; j > 0 && x[j - 1] > moving; j--) x[j] = x[j - 1];
        x[j] = moving;
    }
}

static void sift_down(double *x, size_t root, size_t n) {
    for (size_t child; (child = 2 * root + 1) < n; root = child) {
        if (child + 1 < n && x[child + 1] > x[child]) child++;
        if (!(x[child] > x[root])) return;
        swap(&x[root], &x[child]);
    }
}

static void heap_sort(double *x, size_t n) {
    for (size_t root = n / 2; root-- > 0;) sift_down(x, root, n);
    for (size_t last = n; last-- > 1;) {
        swap(&x[0], &x[last]);
        sift_down(x, 0, last);
    }
}

/* Puts the median of first, middle and last in the middle and returns it. */
static double median_of_three(double *x, size_t n) {
    double *first = &x[0], *middle = &x[n / 2], *last = &x[n - 1];
    if (*middle < *first) swap(middle, first);
    if (*last < *middle) swap(last, middle);
    if (*middle < *first) swap(middle, first);
    return *middle;
}

/* Splits x so that nothing in the first part is above anything in the second; returns the length of the first,
 * at least 1 and at most n - 1 (C. A. R. Hoare's scheme; the outer two of the three stop the scans). */
static size_t split(double *x, size_t n) {
    double pivot = median_of_three(x, n);
    size_t low = 0, high = n - 1;
    for (;;) {
        while (x[low] < pivot) low++;
        while (x[high] > pivot) high--;
        if (low >= high) return high + 1;
        swap(&x[low++], &x[high--]);
    }
}

/* `depth` splits are allowed before heapsort takes over; the longer part is done by the loop, so the recursion is
 * never deeper than log2 n. */
static void sort_to_depth(double *x, size_t n, unsigned depth) {
    while (n > SHORT_RUN) {
        if (depth-- == 0) {
            heap_sort(x, n);
            return;
        }
        size_t n_first = split(x, n), n_second = n - n_first;
        if (n_first < n_second) {
            sort_to_depth(x, n_first, depth);
            x += n_first;
            n = n_second;
        } else {
            sort_to_depth(x + n_first, n_second, depth);
            n = n_first;
        }
    }
    insertion_sort(x, n);
}

void bf_sort(double *x, size_t n) {
    for (size_t i = 0; i < n; i++) BF_ASSERT(x[i] == x[i]);

    unsigned depth = 2;
    for (size_t rest = n; rest > 1; rest /= 2) depth += 2;
    sort_to_depth(x, n, depth);
}

/* Quantiles ---------------------------------------------------------------------------------------------- */

double bf_quantile_sorted(const double *sorted, size_t n, double p) {
    BF_ASSERT(p >= 0 && p <= 1);
    if (n == 0) return NAN;

    double h = (double)(n - 1) * p;
    size_t below = (size_t)h;
    if (below + 1 >= n) return sorted[n - 1];
    double left = sorted[below], right = sorted[below + 1], weight = h - (double)below;
    return left == right || weight == 0 ? left : left + weight * (right - left);
}

bf_range bf_range_of(double *values, size_t n, double nominal) {
    bf_sort(values, n);
    return (bf_range){nominal, bf_quantile_sorted(values, n, 0.5), bf_quantile_sorted(values, n, 0.1),
                      bf_quantile_sorted(values, n, 0.9)};
}
