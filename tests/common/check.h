/* check.h -- assertions on doubles for the cmocka tests; cmocka itself only compares floats.
 *
 * Each prints both values and the real residual when it fails. Set BF_TOL_SCALE=0 in the environment to see
 * every residual as a failure (how much room a tolerance leaves). */
#ifndef BAITFALL_TESTS_CHECK_H
#define BAITFALL_TESTS_CHECK_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static inline double check_scale(void) {
    const char *scale = getenv("BF_TOL_SCALE");
    return scale ? atof(scale) : 1.0;
}

/* How many samples a test takes of what it would take whole: a tenth where BF_FEW is in the environment, as it is under
 * sanitizers where the same test also runs whole without them (cmake/tests.cmake). */
static inline int check_samples(int whole) {
    return getenv("BF_FEW") ? whole / 10 : whole;
}

static inline void check_near(double got, double want, double tolerance, const char *what, const char *file,
                              int line) {
    double residual = fabs(got - want);
    if (!(residual <= tolerance * check_scale())) {
        print_error("%s: got %.17g, want %.17g, off by %.3g, tolerance %.3g\n", what, got, want, residual,
                    tolerance);
        _fail(file, line);
    }
}

/* |got - want| <= tolerance */
#define BF_CHECK_ABS(got, want, tolerance) check_near((got), (want), (tolerance), #got, __FILE__, __LINE__)

/* |got - want| <= tolerance |want| */
#define BF_CHECK_REL(got, want, tolerance)                                                                   \
    check_near((got), (want), (tolerance)*fabs(want), #got, __FILE__, __LINE__)

/* least <= got <= most */
#define BF_CHECK_IN(got, least, most)                                                                        \
    do {                                                                                                     \
        double got_ = (got), least_ = (least), most_ = (most);                                               \
        if (!(got_ >= least_ && got_ <= most_)) {                                                            \
            print_error("%s: got %.17g, accepted %.17g to %.17g\n", #got, got_, least_, most_);              \
            _fail(__FILE__, __LINE__);                                                                       \
        }                                                                                                    \
    } while (0)

#endif
