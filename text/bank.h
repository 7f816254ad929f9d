/* bank.h -- what the files that answer "bank" share: bank.c (the request; clocks, counts, undo), bank_nets.c (weights and pace),
 * bank_box.c (the bait box). Internal to text/. */
#ifndef BFI_BANK_H
#define BFI_BANK_H

#include "baitfall/match.h"
#include "text/baits.h"
#include "text/told.h"

/* One answer on its way; stands in ask->spare. */
typedef struct bank {
    bfi_ask *ask;
    int i_session;
    const bf_session *session; /* NULL: none in the journal */
    int is_open;
    double now_ms;
    int has_dev;
    uint32_t dev;
    bf_guessing guessing;
    bf_nets nets;
    bfi_baits baits;
} bank;

/* bank_nets.c: "nets", "net_words"; "bias"; "pace"; "notes" */
void bfi_json_nets(bfi_json *out, const bank *b);
void bfi_json_bias(bfi_json *out, const bank *b);
void bfi_json_pace(bfi_json *out, const bank *b);
void bfi_json_match_notes(bfi_json *out, const bank *b);

/* "about 18 kg (16-21)" of a computed weight; "18.2 kg" when it is exact. */
void bfi_put_weight(bfi_pen *pen, bf_range kg);

/* bank_box.c: "box" */
void bfi_json_box(bfi_json *out, const bank *b);

#endif
