/* belief.h -- how a set's row and snapshot lie. Internal.
 *
 * Row          [evidence][p_many 3] then a mark's [evidence then][left n_mark_reads][fish n_mark_reads] for each mark, then
 *              now's quantities, n_reads values each: bfi_belief_now and, behind them, size classes and ledger intervals
 * Particles    columns of the model, then "eaten up to" each ledger instant but the last, then log weights
 */
#ifndef BFI_SWIM_BELIEF_H
#define BFI_SWIM_BELIEF_H

#include "baitfall/belief.h"
#include "core/swim/model.h"

enum { BFI_ROW_EVIDENCE, BFI_ROW_MANY, BFI_ROW_MARKS = BFI_ROW_MANY + BF_N_MANY };

typedef enum bfi_belief_now {
    BFI_NOW_LEFT,
    BFI_NOW_LEFT_KG,
    BFI_NOW_FISH,
    BFI_NOW_NEAR,
    BFI_NOW_BITES_H,
    BFI_NOW_WIDE_M,
    BFI_NOW_CLASSES
} bfi_belief_now;

typedef struct bfi_belief_shape {
    int n_marks, n_mark_reads, n_reads, n_classes, n_ledger;
    int mark_columns, n_columns;  /* of a row      */
    int model_columns, n_carried; /* of a particle */
} bfi_belief_shape;

bfi_belief_shape bfi_belief_shape_of(const bf_belief_job *job);

/* Where the values of quantity `now` begin in a row; class k: BFI_NOW_CLASSES + k, interval k: + n_classes + k. */
static inline int bfi_row_now(const bfi_belief_shape *shape, int now) {
    return BFI_ROW_MARKS + shape->n_marks * shape->mark_columns + now * shape->n_reads;
}

/* Upper ends of few and some, halfway to the next whole number. */
#define BFI_MOST_FEW 2.5
#define BFI_MOST_SOME 6.5

/* One set's filter on its way. */
typedef struct bfi_filter {
    const bf_belief_job *job;
    bfi_belief_shape shape;
    bfi_swim *swim;
    double *x;     /* n_carried columns of n_particles    */
    double *log_w; /* the last of them                    */
    double *spare; /* two columns                         */
    int *from;     /* the larger of n_particles, n_reads  */
    double *row;
    int set;
    double log_evidence; /* -infinity: the set has stopped */
    double grid_s;       /* the next instant to round at */
    int n_marks;         /* passed */
    int n_ledger;        /* ledger instants passed */
    int n_resampled;
} bfi_filter;

/* Leaves the filter, which stands rounded at at_s, as a snapshot. */
void bfi_filter_save(const bfi_filter *f, double at_s, void *snapshot);
/* Takes one up that fits: row and ledger are then as the job's own. */
void bfi_filter_load(bfi_filter *f, const void *snapshot);

/* The instant a snapshot stands at, and its bytes. */
double bfi_snapshot_at_s(const void *snapshot);
size_t bfi_snapshot_bytes_of(const void *snapshot);

#endif
