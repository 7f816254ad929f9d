/* worlds.h -- how home measurements narrow what is believed: worlds drawn, weighed by how well they explain the readings.
 *
 * Internal to the measurements (measure.h says what comes of it). A record holds what is believed and what was read; a world
 * is that record with every quantity at one value. */
#ifndef BFI_WORLDS_H
#define BFI_WORLDS_H

#include "baitfall/measure.h"

#define BFI_MOST_VALUES 3

/* How well a world explains the readings. */
typedef struct bfi_explained {
    double log_likely; /* up to a constant                                                 */
    double misfit;     /* mean square of the readings off, in their own standard deviations */
} bfi_explained;

/* Of a world that cannot have given them. */
bfi_explained bfi_impossible(void);

/* Adds one reading of n, off by so much, to what a world explains; log_slope: logarithm of the rate at which what is
 * compared goes with what was read. */
void bfi_add_reading(bfi_explained *so_far, int n, double off, double sd, double log_slope);

/* What a kind of measurement is made of. `doubted` are offsets in the record of the quantities that may lie anywhere in their
 * usual range after all. `explain` also gives the values of a world whose range is wanted; scatter_factor multiplies the
 * believed scatter from piece to piece, which is as uncertain as a quantity. */
typedef struct bfi_method {
    const bf_schema *schema;
    size_t doubted[2];
    int n_doubted;
    int n_values;
    bfi_explained (*explain)(const void *world, double scatter_factor, double values[BFI_MOST_VALUES]);
} bfi_method;

/* The weight of each world, its misfit and its values, room for a sort, and one record: one after another. */
typedef struct bfi_worlds {
    double *weight, *misfit, *value[BFI_MOST_VALUES], *room;
    void *record;
} bfi_worlds;

/* Bytes that they take for records of this size, and worlds in such memory, 8-aligned. */
size_t bfi_worlds_bytes(size_t record_bytes);
bfi_worlds bfi_worlds_in(void *work);

/* Rounds of worlds until enough of them explain the n readings. Returns BF_OK or BF_E_DATA. */
BF_CHECK bf_status bfi_weigh_worlds(const bfi_method *how, const void *asked, int n_readings,
                                    bfi_worlds *worlds);

/* Range of a value over the weighed worlds. */
bf_quantity bfi_range_of(bfi_worlds *worlds, int i_value);

/* Adds a change of the field of a section that lies at `offset` in its record. */
void bfi_change(bf_measured *out, const bf_schema *schema, int i_section, size_t offset, bf_quantity was,
                bf_quantity now);

#endif
