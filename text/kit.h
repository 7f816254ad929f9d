/* kit.h -- the kit of a request: the angler's own baits, pots and throws, to look names up in. Internal to text/. */
#ifndef BFI_KIT_H
#define BFI_KIT_H

#include "baitfall/scene.h"

#define BFI_KIT_BAITS 16
#define BFI_KIT_POTS 8
#define BFI_KIT_THROWS 8

typedef struct bfi_kit {
    int n_baits, n_pots, n_throws;
    bf_bait bait[BFI_KIT_BAITS];
    bf_pot pot[BFI_KIT_POTS];
    bf_sling sling[BFI_KIT_THROWS];
} bfi_kit;

/* The sections of a record that has a bfi_kit as its member `kit`. */
#define BFI_KIT_SECTIONS(record)                                                                             \
    {"kit.baits", &bf_bait_table, offsetof(record, kit.bait), BFI_KIT_BAITS, offsetof(record, kit.n_baits)}, \
        {"kit.pots", &bf_pot_table, offsetof(record, kit.pot), BFI_KIT_POTS, offsetof(record, kit.n_pots)},  \
        {"kit.throws", &bf_sling_table, offsetof(record, kit.sling), BFI_KIT_THROWS,                         \
         offsetof(record, kit.n_throws)},

/* The list of a kit in which things of a table are kept: "kit.baits"; NULL: they have no names. */
const char *bfi_kit_list(const bf_table *table);

/* The name of what was measured without one: "my bait", "my pot", "my catapult". */
const char *bfi_own_name(const bf_table *table);

#endif
