/* pool_parts.h -- the likelihood that both ways of pooling share. Internal. */
#ifndef BAITFALL_CORE_POOL_PARTS_H
#define BAITFALL_CORE_POOL_PARTS_H

#include "baitfall/pool.h"

/* BF_OK when every group is as pool.h asks; BF_E_DATA for events in no exposure. */
bf_status bfi_pool_check(const bf_pool_group *groups, int n_groups);

/* log likelihood of the counts at a shape and a mean: the part that depends on the mean, and the part that does
 * not. */
double bfi_pool_mean_part(const bf_pool_group *groups, int n_groups, double shape, double mean);
double bfi_pool_shape_part(const bf_pool_group *groups, int n_groups, double shape);

/* The log mean where, at the shape, the log likelihood less precision (log mean - middle)^2 / 2 is highest; it is
 * concave in log mean. *width is 1 / sqrt(-curvature) there. Needs an event or precision > 0. */
double bfi_pool_best_log_mean(const bf_pool_group *groups, int n_groups, double shape, double middle,
                              double precision, double *width);

#endif
