/* fish.c -- what is published of carp: appetite and maintenance by temperature. */
#include "baitfall/elementary.h"
#include "baitfall/swim.h"

#define COLDEST_C 6.0
#define BEST_C 26.75
#define WARMEST_C 38.0
#define LEAST_APPETITE 0.02 /* carp do take a few baits in cold water; from memory */

double bf_fish_appetite(double temp_c) {
    if (!(temp_c > COLDEST_C && temp_c < WARMEST_C)) return LEAST_APPETITE;
    double up = (temp_c - COLDEST_C) / (BEST_C - COLDEST_C);
    double down = (WARMEST_C - temp_c) / (WARMEST_C - BEST_C);
    double appetite = down * bf_pow(up, (BEST_C - COLDEST_C) / (WARMEST_C - BEST_C));
    return appetite > LEAST_APPETITE ? appetite : LEAST_APPETITE;
}

double bf_fish_maintenance(double temp_c) {
    return 0.00150 * bf_exp(0.0857 * temp_c);
}
