/* fish.c -- what is published of fish: appetite, maintenance, mass by length, oxygen. See baitfall/swim.h. */
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

double bf_fish_mass_kg(bf_fish fish, double length_m) {
    static const struct {
        double a_g, b;
    } law[BF_N_FISH] = {
        [BF_CARP] = {0.0191, 2.92}, [BF_BREAM] = {0.0106, 3.2098}, [BF_TENCH] = {0.0151, 2.9993}};
    return 1e-3 * law[fish].a_g * bf_pow(100 * length_m, law[fish].b);
}

double bf_fish_oxygen_kg_m3(double temp_c) {
    double r = 1 / (temp_c + 273.15);
    return 1e-3 *
           bf_exp(-139.34411 + r * (1.575701e5 + r * (-6.642308e7 + r * (1.243800e10 - r * 8.621949e11))));
}
