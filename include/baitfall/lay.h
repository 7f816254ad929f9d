/* lay.h -- how the rig goes down, when the bait is down and settled, and when to lower after a put-in. (LAY completes.) */
#ifndef BAITFALL_LAY_H
#define BAITFALL_LAY_H

#include "baitfall/rig.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct bf_lay_out {
    double down_s;     /* from letting go until the bait is on the bottom, or as deep as it hangs       */
    double settled_s;  /* ... until it moves less than 1 mm/s for good                                  */
    double feed_s;     /* nine pieces in ten of the put-in are down, from the put-in                     */
    double wait_s;     /* start to lower so long after the put-in: then the bait comes down on feed that lies; 0: at once */
    double off_m;      /* where the bait is when it gets down, against the point under the tip          */
} bf_lay_out;
extern const bf_table bf_lay_out_table;
bf_status bf_lay_model(const void *stand, const bf_draw *draw, double *out);
int bf_lay_notes(const void *stand, const bf_ensemble_result *result, bf_note notes[BF_MOST_NOTES]);

#ifdef __cplusplus
}
#endif
#endif
