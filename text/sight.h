/* sight.h -- drawings of a stand: rig and feed in section, and where hook bait and feed lie from above. Internal to text/. */
#ifndef BFI_SIGHT_H
#define BFI_SIGHT_H

#include "baitfall/aim.h"
#include "baitfall/plan_picture.h"
#include "text/work.h"

/* Memory for them; many hundred KiB. */
typedef struct bfi_sight bfi_sight;
size_t bfi_sight_bytes(void);

/* Begins with nothing but the stand: the drawing of a nominal answer. */
void bfi_sight_start(bfi_sight *sight, int look, const bf_stand *stand);

/* Where the hook bait may hang, from rows of rig; where bait and pieces lie, from rows of aim. n_columns doubles a row. */
void bfi_sight_take_rig(bfi_sight *sight, const double *rows, int n_rows, int n_columns);
void bfi_sight_take_aim(bfi_sight *sight, const double *rows, int n_rows, int n_columns);

/* What is said in them; any may be left "". off: the bait from the point under the tip; down: until the bait is down. */
typedef struct bfi_sight_words {
    bf_labels feed;
    bf_label off, down;
    const char *hook_bait;
} bfi_sight_words;

/* "section": the rig as it is solved at the inputs as given; has_feed: the feed on its way as well. */
BF_CHECK bf_status bfi_json_section(bfi_sight *sight, const bf_rig_shape *shape, int has_feed,
                                    const bfi_sight_words *words, bfi_json *out);

/* "above": only after bfi_sight_take_aim, and before bfi_json_section, which sorts. */
BF_CHECK bf_status bfi_json_above(bfi_sight *sight, const bfi_sight_words *words, bfi_json *out);

#endif
