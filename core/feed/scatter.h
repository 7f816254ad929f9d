/* scatter.h -- the random numbers that make one piece of a put-in differ from the next. */
#ifndef BAITFALL_FEED_SCATTER_H
#define BAITFALL_FEED_SCATTER_H

#include "baitfall/ensemble.h"
#include "baitfall/random.h"

/* What differs; each is a stream of its own. */
typedef enum bfi_scatter {
    BFI_PIECE_SIZE,
    BFI_PIECE_DENSITY,
    BFI_THROW_SPEED,
    BFI_THROW_ANGLE,
    BFI_THROW_BEARING,
    BFI_SURFACE_X,
    BFI_SURFACE_Y,
    BFI_RELEASE_TIME,
    BFI_LATERAL_X,
    BFI_LATERAL_Y,
    BFI_HANG
} bfi_scatter;

/* Pieces that hang or float are worth a word from one in twenty on. */
#define BFI_WORTH_A_WORD 0.05

/* Most pieces followed in one draw. */
#define BFI_MOST_PIECES 64

/* The streams of throw and spread begin here, above those of the other feed models. */
#define BFI_STREAM_SCATTER (BF_STREAM_MODEL + 256u)

/* Draws are numbered from 0; the answer at the inputs as given takes the pieces of the draw after the last
 * possible. */
static inline uint64_t bfi_piece_index(const bf_draw *draw, int i_piece) {
    uint64_t draw_index = draw->is_nominal ? BF_DRAWS_MOST : draw->index;
    return draw_index * BFI_MOST_PIECES + (uint64_t)i_piece;
}

static inline double bfi_scatter_normal(const bf_draw *draw, bfi_scatter what, int i_piece) {
    return bf_normal(draw->seed, BFI_STREAM_SCATTER + (uint64_t)what, bfi_piece_index(draw, i_piece));
}

static inline double bfi_scatter_uniform(const bf_draw *draw, bfi_scatter what, int i_piece) {
    return bf_uniform(draw->seed, BFI_STREAM_SCATTER + (uint64_t)what, bfi_piece_index(draw, i_piece));
}

#endif
