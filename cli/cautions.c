/* cautions.c -- see cautions.h. */
#include "cli/cautions.h"

#include <stddef.h>

#include "baitfall/note.h"
#include "cli/show.h"

static const char *const others[] = {
    "Wet banks are slippery and cold water can kill, most of all when you are alone.",
    "Mind hooks near eyes. Cover cuts and wash your hands before you eat: lake water can carry "
    "leptospirosis.",
    "Barbless hooks where the venue says so, and no more in a net than its limit. Wet hands and mats for the "
    "fish; in warm water with little oxygen they need it most. Clean, check and dry nets between waters.",
};

const char *cli_caution(void) {
    return bf_note_sentence(BF_NOTE_POWER_LINES);
}

void cli_show_cautions(const char *first) {
    cli_show_wrapped(first, cli_caution());
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) cli_show_wrapped(first, others[i]);
}
