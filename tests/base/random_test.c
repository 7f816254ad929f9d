/* random_test.c -- Philox against its authors' library, and that the numbers made from it are what they say.
 *
 * Oracles: Random123 1.14 (D. E. Shaw Research; Debian librandom123-dev); chi-square tail from GSL. The seeds are
 * fixed, so these tests either pass for ever or fail for ever; the false-alarm rate says how likely a sound
 * generator was to fail when they were written.
 */
#include <stdbool.h>

#include <Random123/philox.h>
#include <gsl/gsl_cdf.h>

#include "baitfall/random.h"
#include "baitfall/special.h"
#include "baitfall/summary.h"
#include "common/check.h"

#define SEED 1u
#define MANY 1000000u

/* ---- Philox ----------------------------------------------------------------------------------------------- */

/* The first three rows of philox4x32 10 in Random123's kat_vectors (from memory; the library itself is asked below):
 * all zero, all ones, the digits of pi. */
static void known_answers_of_the_authors_hold(void **state) {
    (void)state;
    const struct {
        uint64_t key, stream, index;
        uint32_t want[4];
    } rows[] = {
        {0, 0, 0, {0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8}},
        {UINT64_MAX, UINT64_MAX, UINT64_MAX, {0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd}},
        {UINT64_C(0x299f31d0a4093822),
         UINT64_C(0x0370734413198a2e),
         UINT64_C(0x85a308d3243f6a88),
         {0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1}},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        bf_philox_block b = bf_philox(rows[i].key, rows[i].stream, rows[i].index);
        assert_memory_equal(b.word, rows[i].want, sizeof b.word);
    }
}

static void a_million_blocks_equal_those_of_random123(void **state) {
    (void)state;
    for (uint64_t i = 0; i < MANY; i++) {
        uint64_t key = i * UINT64_C(0x9e3779b97f4a7c15), stream = i * i, index = i << (i % 45);
        philox4x32_ctr_t counter = {
            {(uint32_t)index, (uint32_t)(index >> 32), (uint32_t)stream, (uint32_t)(stream >> 32)}};
        philox4x32_key_t library_key = {{(uint32_t)key, (uint32_t)(key >> 32)}};
        philox4x32_ctr_t want = philox4x32(counter, library_key);
        bf_philox_block got = bf_philox(key, stream, index);
        if (memcmp(got.word, want.v, sizeof got.word) != 0) fail_msg("block %llu", (unsigned long long)i);
    }
}

/* Uniform numbers ---------------------------------------------------------------------------------------- */

/* An odd whole number of 2^-53, less than 2^53 of them: inside (0, 1), and 1 - u is such a number too. */
static void uniform_numbers_are_odd_multiples_of_2_to_the_minus_53(void **state) {
    (void)state;
    for (uint64_t i = 0; i < MANY; i++) {
        double u = bf_uniform(SEED, 0, i), multiple = u * 0x1p53;
        if (!(multiple == floor(multiple) && fmod(multiple, 2) == 1 && u > 0 && u < 1)) fail_msg("u = %a", u);
    }
}

static void the_first_of_two_uniform_numbers_is_the_single_one(void **state) {
    (void)state;
    for (uint64_t i = 0; i < 1000; i++) {
        double two[2];
        bf_uniform2(SEED, i, 2 * i, two);
        assert_true(two[0] == bf_uniform(SEED, i, 2 * i));
        assert_true(two[1] != two[0]);
    }
}

/* Chi-square of a count in equal cells: both tails 1e-6, false alarm 2e-6 a check. */
static void check_even(const unsigned *count, size_t n_cells, double n) {
    double chi_square = 0, each = n / (double)n_cells;
    for (size_t i = 0; i < n_cells; i++) chi_square += (count[i] - each) * (count[i] - each) / each;
    double chance = gsl_cdf_chisq_Q(chi_square, (double)n_cells - 1);
    BF_CHECK_IN(chance, 1e-6, 1 - 1e-6);
}

static void uniform_numbers_fill_a_thousand_cells_evenly(void **state) {
    (void)state;
    static unsigned first[1000], second[1000];
    for (uint64_t i = 0; i < MANY; i++) {
        double two[2];
        bf_uniform2(SEED, 3, i, two);
        first[(size_t)(1000 * two[0])]++;
        second[(size_t)(1000 * two[1])]++;
    }
    check_even(first, 1000, MANY);
    check_even(second, 1000, MANY);
}

/* Neighbours in index, in stream and in seed, and the two of one block, fill the cells of a 32 by 32 board evenly. */
static void neighbouring_draws_are_independent(void **state) {
    (void)state;
    static unsigned by_index[1024], by_stream[1024], by_seed[1024], in_block[1024];
    for (uint64_t i = 0; i < MANY; i++) {
        double two[2];
        bf_uniform2(SEED, 4, 2 * i, two);
        size_t row = 32 * (size_t)(32 * two[0]);
        by_index[row + (size_t)(32 * bf_uniform(SEED, 4, 2 * i + 1))]++;
        by_stream[row + (size_t)(32 * bf_uniform(SEED, 5, 2 * i))]++;
        by_seed[row + (size_t)(32 * bf_uniform(SEED + 1, 4, 2 * i))]++;
        in_block[row + (size_t)(32 * two[1])]++;
    }
    check_even(by_index, 1024, MANY);
    check_even(by_stream, 1024, MANY);
    check_even(by_seed, 1024, MANY);
    check_even(in_block, 1024, MANY);
}

/* Normal numbers ----------------------------------------------------------------------------------------- */

static void a_normal_number_is_the_quantile_of_its_uniform_number(void **state) {
    (void)state;
    for (uint64_t i = 0; i < 1000; i++)
        BF_CHECK_ABS(bf_normal(SEED, 6, i), gsl_cdf_ugaussian_Pinv(bf_uniform(SEED, 6, i)), 1e-13);
}

/* Kolmogorov and Smirnov: P(D > d) < 2 exp(-2 n d^2); false alarm 1e-6. */
static void normal_numbers_follow_the_normal_distribution(void **state) {
    (void)state;
    enum { N = 200000 };
    static double draws[N];
    for (uint64_t i = 0; i < N; i++) draws[i] = bf_normal(SEED, 7, i);
    bf_sort(draws, N);
    double most = 0;
    for (size_t i = 0; i < N; i++) {
        double want = gsl_cdf_ugaussian_P(draws[i]);
        most = fmax(most, fmax(want - (double)i / N, (double)(i + 1) / N - want));
    }
    BF_CHECK_IN(most, 0, sqrt(log(2 / 1e-6) / (2.0 * N)));
}

/* 64-bit FNV-1a over the bits; the constant was written down from the first build (gcc 12, -O2) and says that every
 * compiler, optimisation level and wasm draws the same numbers. */
static void draws_have_the_same_bits_in_every_build(void **state) {
    (void)state;
    uint64_t hash = UINT64_C(0xcbf29ce484222325);
    for (uint64_t i = 0; i < 100000; i++) {
        double draw = bf_normal(SEED, i % 7, i);
        uint64_t bits;
        memcpy(&bits, &draw, sizeof bits);
        hash = (hash ^ bits) * UINT64_C(0x100000001b3);
    }
    assert_int_equal(hash, UINT64_C(0xd5b84395e18792d8));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(known_answers_of_the_authors_hold),
        cmocka_unit_test(a_million_blocks_equal_those_of_random123),
        cmocka_unit_test(uniform_numbers_are_odd_multiples_of_2_to_the_minus_53),
        cmocka_unit_test(the_first_of_two_uniform_numbers_is_the_single_one),
        cmocka_unit_test(uniform_numbers_fill_a_thousand_cells_evenly),
        cmocka_unit_test(neighbouring_draws_are_independent),
        cmocka_unit_test(a_normal_number_is_the_quantile_of_its_uniform_number),
        cmocka_unit_test(normal_numbers_follow_the_normal_distribution),
        cmocka_unit_test(draws_have_the_same_bits_in_every_build),
    };
    return cmocka_run_group_tests_name("random", tests, NULL, NULL);
}
