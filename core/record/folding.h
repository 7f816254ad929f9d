/* folding.h -- what the files that fold a journal share: fold.c (what counts, when, in which order) and
 * drop.c (what happened). */
#ifndef BFI_FOLDING_H
#define BFI_FOLDING_H

#include "baitfall/fold.h"
#include "core/record/sort.h"

/* One event by its id, before the order is known. */
typedef struct bfi_entry {
    const bf_event *event;
    int session;
    int is_crossed, is_clash, n_fixes;
    double ahead_ms; /* how far its clock was ahead */
    double t_ms, pm_s;
} bfi_entry;

typedef struct bfi_folding {
    const bf_event *events;
    int n;
    const uint64_t *name_keys;
    int n_names;
    bf_fold *fold;
    bfi_entry *entry; /* (fold->n_live) in the order of ids */
    bfi_key *key;     /* (n) */
    bfi_key *spare;   /* (n) */
    int *by_seq;      /* (fold->n_live) entries in the order (seq, dev, id) */
} bfi_folding;

/* Whether an event says something about the water or the angler: no correction, no clock, not crossed out. */
int bfi_counts(const bf_live *live);

/* Put-ins, stretches, drops, counts, twins: from the lives and sessions. Uses key and spare. */
void bfi_fold_drops(bfi_folding *f);

#endif
