/* unit_fuzz.c -- any bytes as a quantity: what is accepted is finite, and what is said of it reads back. */
#include <math.h>
#include <string.h>

#include "baitfall/unit.h"
#include "fuzz.h"

static void check_said(bf_quantity quantity, bf_dimension dimension) {
    char text[BF_SAY_MOST];
    bf_quantity again;
    int says_pm;
    size_t n = bf_say_quantity(quantity, dimension, text);
    BF_ASSERT(n == strlen(text) && n < BF_SAY_MOST);
    // Numbers within what the tables hold; said with six figures.
    if (!quantity.is_unknown && !(fabs(quantity.value) < 1e9 && fabs(quantity.pm) < 1e9)) return;
    bf_status status = bf_quantity_read(text, n, dimension, &again, &says_pm);
    BF_ASSERT(status == BF_OK && again.is_unknown == quantity.is_unknown);
    BF_ASSERT(quantity.is_unknown ||
              fabs(again.value - quantity.value) <= 1e-5 * fabs(quantity.value) + 1e-300);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    const char *text = (const char *)data;
    double number;
    bf_dimension guessed;
    for (int dimension = 0; dimension < BF_N_DIMENSIONS; dimension++) {
        bf_quantity quantity;
        int says_pm;
        bf_status status = bf_quantity_read(text, size, (bf_dimension)dimension, &quantity, &says_pm);
        if (status) {
            BF_ASSERT(isnan(quantity.value) && isnan(quantity.pm) && !says_pm);
            continue;
        }
        BF_ASSERT(quantity.is_unknown ||
                  (isfinite(quantity.value) && isfinite(quantity.pm) && quantity.pm >= 0));
        check_said(quantity, (bf_dimension)dimension);
    }
    bf_status status = bf_dimension_read(text, size, &guessed);
    BF_ASSERT(status || guessed < BF_N_DIMENSIONS);
    size_t span = bf_number_span(text, size);
    BF_ASSERT(span <= size);
    status = bf_number_read(text, span, &number);
    BF_ASSERT(status || isfinite(number));
    return 0;
}
