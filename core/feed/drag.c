/* drag.c -- see drag.h. */
#include "baitfall/drag.h"

#include "baitfall/elementary.h"
#include "baitfall/status.h"

bf_drag bf_drag_sphere(void) {
    return (bf_drag){.a = 24.0, .b = 0.150, .n = 0.681, .c = 0.407, .d = 8710.0};
}

bf_drag bf_drag_shape(double sphericity) {
    BF_ASSERT(sphericity > 0 && sphericity <= 1);
    double k1 = 1.0 / (1.0 / 3.0 + 2.0 / 3.0 * bf_pow(sphericity, -0.5));
    double k2 = bf_pow(10.0, 1.8148 * bf_pow(-bf_log10(sphericity), 0.5743));
    return (bf_drag){.a = 24.0 / k1,
                     .b = 0.1118 * bf_pow(k1 * k2, 0.6567),
                     .n = 0.6567,
                     .c = 0.4305 * k2,
                     .d = 3305.0 / (k1 * k2)};
}

double bf_drag_coefficient(const bf_drag *law, double reynolds) {
    BF_ASSERT(reynolds > 0);
    return law->a / reynolds * (1.0 + law->b * bf_pow(reynolds, law->n)) + law->c / (1.0 + law->d / reynolds);
}
