/* said.h -- sentences of the core with their numbers filled in, and a rig in words. Internal to text/. */
#ifndef BFI_SAID_H
#define BFI_SAID_H

#include "baitfall/suggest.h"
#include "text/write.h"

/* A sentence of note.h, suggest.h or aim.h: {0:cm} and the like become numbers with their unit, two figures.
 * pots: names of the pots that were offered, for {0:pot}; NULL where a sentence has none. */
void bfi_put_said(bfi_pen *pen, const char *sentence, const double *number, const bf_label *pots);

/* The same of a bf_said, as a member; nothing for BF_SAID_NOTHING. */
void bfi_json_said(bfi_json *out, const char *key, const bf_said *said, const bf_label *pots);

/* A sentence with {0}, {1} and {bait} in which text goes. */
void bfi_put_filled(bfi_pen *pen, const char *sentence, const char *first, const char *second,
                    const char *bait);

/* A small number as a word: "five"; from 13 on in figures. */
void bfi_put_number_word(bfi_pen *pen, int n);

/* "0.4 g float, No 11 above, bulk of five No 8, two No 10 droppers", from the top down. */
void bfi_put_rig(bfi_pen *pen, const bf_rig *rig);

/* Every field of a rig and its parts, as a value that reads back as this rig. */
void bfi_json_rig(bfi_json *out, const bf_rig *rig);
/* The same left open, so that more may follow. */
void bfi_json_rig_open(bfi_json *out, const bf_rig *rig);

#endif
