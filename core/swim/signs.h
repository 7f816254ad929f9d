/* signs.h -- what of a particle's state tells of the parameters that brought it there. Internal.
 *
 * Many fish about go with a large stock, little feed left with a fast search: a copy whose parameters are moved must not lose this
 * (cloud.h). */
#ifndef BFI_SWIM_SIGNS_H
#define BFI_SWIM_SIGNS_H

#include "core/swim/model.h"

#define BFI_MOST_SIGNS 12

/* Fish near, hunger; then of the first spot, and of all others together: fish on the bait, their logarithm, wariness, pieces left,
 * pieces gone. All but hunger and the fish themselves stand as logarithms, of 1 + count.
 *
 * sign     (out n each; room for BFI_MOST_SIGNS)
 * Returns  how many: 7 with one spot, else 12 */
int bfi_swim_signs(const bfi_swim *swim, int n, const double *x, double *sign);

#endif
