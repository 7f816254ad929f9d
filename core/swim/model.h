/* model.h -- the swim's model over a block of particles side by side, each with parameters of its own. Internal.
 *
 * State is columns of doubles: column c of particle p is x[c * n + p]. What the columns are is the model's own
 * business (model.c); whoever resamples copies all of them. Randomness is a function of (seed, stream, step, slot p), so a
 * copy made by resampling goes its own way.
 */
#ifndef BFI_SWIM_MODEL_H
#define BFI_SWIM_MODEL_H

#include "baitfall/swim.h"

/* A model made ready for one scene; what of it changes on the way (rig, temperature, step) is saved with a snapshot. */
typedef struct bfi_swim bfi_swim;

size_t bfi_swim_bytes(void);
void bfi_swim_prepare(bfi_swim *swim, const bf_swim_scene *scene, const bf_swim_set *set, uint64_t seed,
                      uint64_t stream);
/* For a story as it is entered: from now on the weight loses the hazard of bites that are entered only. One that is not ends its drop for
 * the angler's reasons, as far as the journal tells; were its hazard taken off too, what is believed would have 3 % too few bites. */
void bfi_swim_weigh_entered(bfi_swim *swim);
int bfi_swim_columns(const bf_swim_scene *scene);
/* Particles at the start of a session, all with the set prepared: fish near by the stock, none on the bait, a clean bed. */
void bfi_swim_begin(bfi_swim *swim, int n, double *x);
/* The same for particles that have parameters of their own already. */
void bfi_swim_begin_own(const bfi_swim *swim, int n, double *x);
/* Gives particles their own values of a parameter, by the logarithms log_of (in n; may be the column itself): before bfi_swim_begin_own, or on the way. These are
 * the last BF_SWIM_N_PARAMETERS columns, in the order of the list, as the model uses them. */
void bfi_swim_own(const bfi_swim *swim, int n, double *x, int parameter, const double *log_of);

/* Lets time pass from where the model stands to to_s. Steps end at the whole multiples of BFI_SWIM_STEP_S since the session began,
 * and at to_s: stopping on the way at such a multiple changes nothing, not a bit (marks and snapshots stand there). With the rig
 * in, log_w[p] (in/out n) loses the integral of all hazards, step by step: of touches and of bites, entered or not (but see
 * bfi_swim_weigh_entered). Without a rig in log_w may be NULL. */
#define BFI_SWIM_STEP_S 5.0
void bfi_swim_run(bfi_swim *swim, int n, double *x, double to_s, double *log_w);

/* An event at the instant the model stands at: log_w[p] gains the logarithm of its hazard or chance, the state jumps. A BF_SWIM_LOOK
 * without a shown count is held against the block's own weighted mean (log_w as weights). */
void bfi_swim_meet(bfi_swim *swim, int n, double *x, const bf_swim_event *event, double *log_w);

/* What of a model changes on the way (instant, step, rig, temperature), to go on from: with the columns, all of a snapshot. */
#define BFI_SWIM_MOMENT 33
void bfi_swim_save(const bfi_swim *swim, double moment[BFI_SWIM_MOMENT]);
void bfi_swim_restore(bfi_swim *swim, const double moment[BFI_SWIM_MOMENT]);

/* What is read, n values each. of_class -1: all. */
void bfi_swim_left(const bfi_swim *swim, int n, const double *x, int spot, int of_class, double *out);
void bfi_swim_left_kg(const bfi_swim *swim, int n, const double *x, int spot, double *out);
void bfi_swim_fish(const bfi_swim *swim, int n, const double *x, int spot, double *out);
void bfi_swim_near(const bfi_swim *swim, int n, const double *x, double *out);
void bfi_swim_eaten(const bfi_swim *swim, int n, const double *x, int spot,
                    double *out); /* pieces gone since the start */
/* Diameter that holds nine pieces in ten, m; NaN: none lie there. */
void bfi_swim_wide(const bfi_swim *swim, int n, const double *x, int spot, double *out);
/* Bites an hour of all four outcomes, entered or not, were the rig in at spot with hook bait `hook` (in or not). */
void bfi_swim_bites_h(const bfi_swim *swim, int n, const double *x, int spot, int hook, double *out);
/* Bites an hour, as above, to be expected over the next for_s, were the rig in all that time (a bite ends as it may, the rig is in again
 * at once) and nothing fed. Uses the model up: it stands for_s later. */
void bfi_swim_bites_soon_h(bfi_swim *swim, int n, double *x, int spot, int hook, double for_s, double *out);
int bfi_swim_classes(const bf_swim_scene *scene, double diameter_m[BF_SWIM_MOST_CLASSES]);

#endif
