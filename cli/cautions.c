/* cautions.c -- see cautions.h. */
#include "cli/cautions.h"

#include "baitfall/note.h"
#include "cli/show.h"

const char *cli_caution(void) {
    return bf_note_sentence(BF_NOTE_POWER_LINES);
}

void cli_show_cautions(const char *first) {
    for (int i = 0; i < BF_N_CAUTIONS; i++) cli_show_wrapped(first, bf_note_sentence(bf_cautions[i]));
}
