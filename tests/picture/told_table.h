/* told_table.h -- the table of figures that a picture tells beside it, against the rows that are wanted. Test code only. */
#ifndef BAITFALL_TESTS_TOLD_TABLE_H
#define BAITFALL_TESTS_TOLD_TABLE_H

#include "baitfall/picture.h"
#include "common/check.h"

static inline void check_told_table(const bf_picture *picture, const char *const (*want)[2], int n) {
    assert_int_equal(picture->n_rows, n);
    for (int k = 0; k < n; k++) {
        assert_string_equal(picture->cell[k][0], want[k][0]);
        assert_string_equal(picture->cell[k][1], want[k][1]);
    }
}

#endif
