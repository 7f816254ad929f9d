/* What is told of a rig from a sketch of it, against what the solver says. */
#include "core/plan/judging.h"

#include "common/check.h"
#include "plan/random_stand.h"

/* Every float and pattern of the catalogue, bare and with the most back shots, over 6 stands at random; over 400 with BF_LONG, of
 * whose rejections some 3 000 are told: none may be told wrong, which finds 1 in 1 000 wrong 99 times in 100. */
static void what_a_sketch_rejects_the_solver_rejects(void **state) {
    int n_stands = getenv("BF_LONG") ? 400 : 6, n_told = 0, n_rejected = 0, n_saved = 0;
    (void)state;
    for (int k = 0; k < n_stands; k++) {
        bf_stand stand = random_stand(k);
        bfi_winds winds = bfi_winds_of(&stand);
        for (int i = 0; i < 2 * bf_n_floats * BF_N_PATTERNS; i++) {
            bf_stand with = stand;
            bf_judged solved, told;
            int n_solved = 0, n = 0;
            if (bf_suggest_rig(&stand, i / 2 / BF_N_PATTERNS, i / 2 % BF_N_PATTERNS, &with.rig)) continue;
            if (i % 2) bfi_put_back_shots(&with.rig, bfi_most_back_shots(&with.rig));
            bf_status status = bfi_judge(&with, &winds, BFI_TO_LIMIT, &solved, &n_solved);
            assert_int_equal(bfi_judge(&with, &winds, BFI_WHETHER, &told, &n), status);
            if ((told.limit == BF_LIMIT_NONE) != (solved.limit == BF_LIMIT_NONE))
                fail_msg("stand %d, candidate %d: limit %d told, %d solved", k, i, told.limit, solved.limit);
            n_rejected += solved.limit != BF_LIMIT_NONE;
            n_told += n < n_solved;
            n_saved += n_solved - n;
        }
    }
    print_message("%d of %d that do not hold told from a sketch, %d solves saved\n", n_told, n_rejected,
                  n_saved);
    assert_true(n_told > 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(what_a_sketch_rejects_the_solver_rejects)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
