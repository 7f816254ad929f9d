/* kit.h -- the kit of a request: the angler's own baits, pots, throws, tackle and aim, to look names up in. Internal to text/. */
#ifndef BFI_KIT_H
#define BFI_KIT_H

#include "baitfall/stand.h"

#define BFI_KIT_BAITS 16
#define BFI_KIT_POTS 8
#define BFI_KIT_THROWS 8
#define BFI_KIT_ELASTICS 8
#define BFI_KIT_RIGS 16
#define BFI_KIT_AIMS 4

typedef struct bfi_kit {
    int n_baits, n_hook_baits, n_pots, n_throws, n_elastics, n_rigs, n_aims;
    bf_bait bait[BFI_KIT_BAITS];
    bf_bait hook_bait[BFI_KIT_BAITS];
    bf_pot pot[BFI_KIT_POTS];
    bf_sling sling[BFI_KIT_THROWS];
    bf_elastic elastic[BFI_KIT_ELASTICS];
    bf_rig rig[BFI_KIT_RIGS];
    bf_aim aim[BFI_KIT_AIMS];
} bfi_kit;

/* The sections of a record that has a bfi_kit as its member `kit`. */
/* clang-format off */
#define BFI_KIT_SECTIONS(record)                                                                                     \
    BF_ROWS("kit.baits", bf_bait_table, record, kit.bait, BFI_KIT_BAITS, kit.n_baits),                               \
    BF_ROWS("kit.hook_baits", bf_bait_table, record, kit.hook_bait, BFI_KIT_BAITS, kit.n_hook_baits),                \
    BF_ROWS("kit.pots", bf_pot_table, record, kit.pot, BFI_KIT_POTS, kit.n_pots),                                    \
    BF_ROWS("kit.throws", bf_sling_table, record, kit.sling, BFI_KIT_THROWS, kit.n_throws),                          \
    BF_ROWS("kit.elastics", bf_elastic_table, record, kit.elastic, BFI_KIT_ELASTICS, kit.n_elastics),                \
    BF_ROWS_OF("kit.rigs", bf_rig_table, record, kit.rig, BFI_KIT_RIGS, kit.n_rigs, bf_rig_parts),                   \
    BF_ROWS("kit.aims", bf_aim_table, record, kit.aim, BFI_KIT_AIMS, kit.n_aims)
/* clang-format on */

/* The list of a kit in which the thing of a section is kept: "kit.baits"; NULL: such things have no names. */
const char *bfi_kit_list(const bf_section *section);

/* 1: a thing that a request need not mention, since the angler has one of it as a rule: pot, catapult, aim. */
int bfi_can_be_left_out(const bf_table *table);

/* The name of what was measured without one: "my bait", "my pot", "my catapult". */
const char *bfi_own_name(const bf_table *table);

#endif
