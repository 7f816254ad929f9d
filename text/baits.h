/* baits.h -- the baits that a question about a journal brings along, "baits": rows as a kit has them; and those of the
 * catalogue. A journal only has names. Internal to text/. */
#ifndef BFI_BAITS_H
#define BFI_BAITS_H

#include "baitfall/scene.h"
#include "text/kit.h"
#include "text/read.h"
#include "text/record.h"

typedef struct bfi_baits {
    struct bfi_baits_told {
        int n;
        bf_bait bait[BFI_KIT_BAITS];
    } told;
    bfi_names names;
    bfi_reader reader;
} bfi_baits;

/* Reads the whole request: "baits", and the keys of `others` (as in read.h, "baits.was" among them) are let through. */
BF_CHECK bf_status bfi_baits_read(bfi_ask *ask, const char *const *others, bfi_baits *baits);

/* By name: as told, else as in the catalogue; NULL: not known. */
const bf_bait *bfi_baits_find(const bfi_baits *baits, const char *name);

#endif
