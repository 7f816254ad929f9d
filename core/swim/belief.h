/* belief.h -- how a set's row and snapshot lie. Internal.
 *
 * Row          [evidence][families][p_many 3][mean of each z][mean of z_i z_j, j <= i], then a mark's
 *              [evidence then][left n_mark_reads][fish n_mark_reads] for each mark, then now's quantities, n_reads values each:
 *              bfi_belief_now and, behind them, size classes and ledger intervals; then, where particles are drawn,
 *              [the model's moment][model_columns columns of n_drawn particles]
 * Particles    columns of the model (its state, then its parameters as used), z (cloud.h), "eaten up to" each ledger instant but
 *              the last, family, log weights
 * Family       which particle of the last grid instant one descends from
 */
#ifndef BFI_SWIM_BELIEF_H
#define BFI_SWIM_BELIEF_H

#include "baitfall/belief.h"
#include "core/swim/model.h"

enum {
    BFI_ROW_EVIDENCE,
    BFI_ROW_FAMILIES,
    BFI_ROW_MANY,
    BFI_ROW_MEAN = BFI_ROW_MANY + BF_N_MANY,
    BFI_ROW_PRODUCT = BFI_ROW_MEAN + BF_SWIM_N_PARAMETERS,
    BFI_ROW_MARKS = BFI_ROW_PRODUCT + BF_SWIM_N_PARAMETERS * (BF_SWIM_N_PARAMETERS + 1) / 2
};

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
    int n_marks, n_mark_reads, n_reads, n_classes, n_ledger, n_drawn;
    int n_spots;                      /* that are read apart; 0: there is but one */
    int mark_columns, n_columns;      /* of a row                                     */
    int state_columns, model_columns; /* of a particle: without and with parameters   */
    int z_column, ledger_column;      /* where these begin                            */
    int n_carried;                    /* all of them; the last two: family, log weights */
} bfi_belief_shape;

bfi_belief_shape bfi_belief_shape_of(const bf_belief_job *job);

/* Where the values of quantity `now` begin in a row; class k: BFI_NOW_CLASSES + k, interval k: + n_classes + k. */
static inline int bfi_row_now(const bfi_belief_shape *shape, int now) {
    return BFI_ROW_MARKS + shape->n_marks * shape->mark_columns + now * shape->n_reads;
}

/* Which quantity is what is left at a spot; the next one is its fish. */
static inline int bfi_now_spot(const bfi_belief_shape *shape, int spot) {
    return BFI_NOW_CLASSES + shape->n_classes + shape->n_ledger + 2 * spot;
}

/* Where the moment stands that the particles drawn are at; they follow it. */
static inline int bfi_row_drawn(const bfi_belief_shape *shape) {
    return bfi_row_now(shape, bfi_now_spot(shape, shape->n_spots));
}

/* Where the mean of z_i z_j stands, j <= i. */
static inline int bfi_row_product(int i, int j) {
    return BFI_ROW_PRODUCT + i * (i + 1) / 2 + j;
}

/* One set's filter on its way. */
typedef struct bfi_filter {
    const bf_belief_job *job;
    bfi_belief_shape shape;
    bfi_swim *swim;
    double *x;              /* n_carried columns of n_particles    */
    double *family, *log_w; /* the last two of them       */
    double *spare;          /* two columns                         */
    double *sign;           /* as many as there are signs          */
    int *from;              /* the larger of n_particles, n_reads  */
    double *row;
    int set;
    double log_evidence; /* -infinity: the set has stopped */
    double grid_s;       /* the next instant to round at */
    int n_marks;         /* passed */
    int n_ledger;        /* ledger instants passed */
    int n_resampled;
    double families; /* effective number at the last grid instant */
} bfi_filter;

/* What each set weighs at the end, sum 1. weight: (out n_sets, and as many to spare). */
void bfi_belief_weights(const bf_belief_job *job, const double *rows, double *weight);

/* A filter laid out in scratch (bf_belief_scratch_bytes), its set and row still to be told; at the beginning of the story, or taken
 * up from a snapshot (NULL: none). */
bfi_filter bfi_filter_in(const bf_belief_job *job, void *scratch);
void bfi_filter_begin(bfi_filter *f, const void *snapshot);

/* Lets time pass, rounding at grid instants before to_s; meets an event there. Once log_evidence is -infinity the set has stopped:
 * neither may be called any more. */
void bfi_filter_pass(bfi_filter *f, double to_s);
void bfi_filter_meet(bfi_filter *f, const bf_swim_event *event);

/* Gives the particles the parameters that their z say. */
void bfi_filter_own(const bfi_filter *f);

/* Particles are kept in single precision, z in steps of 2^-12 between -8 and 8. */
#define BFI_Z_STEPS 4096.0
#define BFI_Z_MOST 32767.0

/* Leaves the filter, which stands rounded at at_s, as a snapshot. */
void bfi_filter_save(const bfi_filter *f, double at_s, void *snapshot);
/* Takes one up that fits: row and ledger are then as the job's own. */
void bfi_filter_load(bfi_filter *f, const void *snapshot);

/* The instant a snapshot stands at, and its bytes. */
double bfi_snapshot_at_s(const void *snapshot);
size_t bfi_snapshot_bytes_of(const void *snapshot);

#endif
