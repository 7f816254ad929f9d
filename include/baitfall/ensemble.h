/* ensemble.h -- carry "give or take" through any model by Monte Carlo, and say what the range comes from.
 *
 * A model is a function of a record. Draw k of the ensemble replaces every quantity of the record by its
 * value at a uniform random number that depends on (seed, which quantity, k) alone, runs the model and keeps
 * its outputs as one row. Rows may be computed in any order and on any thread; the answer does not depend on
 * how they were cut.
 *
 * Shares are first-order variance shares by binned conditional means of the very same draws: the part of the
 * output's variance that would go if that input alone were known exactly,
 *
 *     S = (sum over bins n_b (mean_b - mean)^2 - (B - 1) s_within^2) / sum (y - mean)^2,
 *
 * over B = 16 bins of equal probability of the input's own uniform number; the term taken off is what chance
 * alone puts between the bins. y is held within its 80 % range widened by its own width at both ends, so that
 * the shares speak of the range that is shown and not of a few strays. `together` is the rest: interactions,
 * and what differs from piece to piece or cast to cast at fixed inputs. They sum to 1. A share that chance
 * alone reaches about one time in forty is given as 0. With fewer than BF_LEAST_FOR_SHARES draws, or an output
 * that never varies, all are 0.
 *
 * Source:   A. Saltelli et al., "Global Sensitivity Analysis: The Primer", 2008 (first-order index; the Ishigami
 *           function's exact values, the check in tests/base/ensemble_test.c).
 * Accuracy: at 4096 draws one standard deviation of a share is about 0.01; variation inside a bin counts as chance, so
 *           an only cause reads 0.98 (normal input) or 0.996 (uniform).
 * Tests:    tests/base/ensemble_test.c
 */
#ifndef BAITFALL_ENSEMBLE_H
#define BAITFALL_ENSEMBLE_H

#include "baitfall/field.h"
#include "baitfall/summary.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BF_DRAWS_START 4096
#define BF_DRAWS_MOST 65536
#define BF_LEAST_FOR_SHARES 128
#define BF_MOST_OUTPUTS 24
#define BF_MOST_INPUTS 96

/* Which repetition of the world a model is asked for. Models take every random number of their own from
 * bf_uniform(seed, BF_STREAM_MODEL + their stream, index ...). With is_nominal set the model answers at the
 * inputs exactly as given, with piece-to-piece scatter at its middle. */
typedef struct bf_draw {
    uint64_t seed;
    uint64_t index;
    int is_nominal;
} bf_draw;

/* The first of the models' streams. The quantities' own, made from their names, are all 2^63 and above. */
#define BF_STREAM_MODEL 4096u

/* Answers `out[0 .. n_out)` for `record`, whose quantities' `.value` are to be used as they stand. May write
 * NaN for an output that has no meaning for these inputs. */
typedef bf_status (*bf_model)(const void *record, const bf_draw *draw, double *out);

typedef struct bf_ensemble {
    const bf_schema *schema;
    const void *record; /* checked by bf_schema_check */
    bf_model model;
    int n_out; /* outputs that are summarised, <= BF_MOST_OUTPUTS */
    int n_raw; /* further columns the model writes after them, passed on as they are */
    uint64_t seed;
    int n_draws; /* 16 .. BF_DRAWS_MOST */
} bf_ensemble;

/* One uncertain quantity of the record. */
typedef struct bf_input {
    int section, row, field;
} bf_input;

/* Lists the quantities that vary (pm > 0 or unknown), at most BF_MOST_INPUTS; returns how many. */
int bf_ensemble_inputs(const bf_ensemble *ensemble, bf_input inputs[BF_MOST_INPUTS]);

/* Work space in bytes that bf_ensemble_range and bf_ensemble_finish need. */
size_t bf_ensemble_work_bytes(const bf_ensemble *ensemble);

/* Rows i <= k < j into out, (j - i) x (n_out + n_raw), row after row. work: bf_ensemble_work_bytes,
 * 8-aligned. Returns the first status that is not BF_OK, with that row's outputs NaN; all rows are still
 * computed. */
BF_CHECK bf_status bf_ensemble_range(const bf_ensemble *ensemble, int i, int j, void *work, double *out);

/* The model at the inputs as given, into out[n_out + n_raw]. */
BF_CHECK bf_status bf_ensemble_nominal(const bf_ensemble *ensemble, double *out);

typedef struct bf_ensemble_result {
    bf_range range[BF_MOST_OUTPUTS]; /* nominal, mid, lo, hi of each output            */
    int n_inputs;
    bf_input input[BF_MOST_INPUTS];
    double share[BF_MOST_OUTPUTS][BF_MOST_INPUTS]; /* first-order share of each input in each output */
    double together[BF_MOST_OUTPUTS];              /* the rest                                       */
} bf_ensemble_result;

/* Merges all n_draws rows (as bf_ensemble_range wrote them, in index order). Outputs that are NaN in some
 * rows are summarised over the others; NaN in all rows: NaN range. work as above. */
void bf_ensemble_finish(const bf_ensemble *ensemble, const double *rows, const double *nominal, void *work,
                        bf_ensemble_result *result);

#ifdef __cplusplus
}
#endif
#endif
