/* timing.h -- what the programs of `make bench` share: a clock, room, and the order of times. */
#ifndef BAITFALL_BENCH_TIMING_H
#define BAITFALL_BENCH_TIMING_H

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

/* Says why there is no measurement, and ends with 70. */
static inline void give_up(const char *program, const char *why) {
    fprintf(stderr, "%s: %s\n", program, why);
    exit(70);
}

/* 16-aligned, never NULL. */
static inline void *room(const char *program, size_t bytes) {
    void *memory = aligned_alloc(16, (bytes + 15) / 16 * 16);
    if (!memory) give_up(program, "out of memory");
    return memory;
}

static inline double now_ms(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec * 1e3 + (double)t.tv_nsec / 1e6;
}

static inline int by_size(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Sorts n times, 1 or more, and gives the middle one. */
static inline double middle_of(double *times, int n) {
    qsort(times, (size_t)n, sizeof times[0], by_size);
    return times[n / 2];
}

#endif
