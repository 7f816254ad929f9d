/* command.h -- the questions the core answers, each once: what goes in, what comes out, which model, which
 * notes. */
#ifndef BAITFALL_COMMAND_H
#define BAITFALL_COMMAND_H

#include "baitfall/note.h"
#include "baitfall/scene.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct bf_command {
    const char *name;    /* "fall"                                                                    */
    const bf_schema *in; /* over bf_scene, or over bf_stand, which begins with one                    */
    const bf_table *out; /* all BF_REAL, in the order the model writes them                           */
    bf_model model;
    int n_raw;       /* further columns after the outputs (spread: where pieces lie)              */
    int draws_start; /* draws when the caller does not say                                        */
    /* Notes for an answer, at most BF_MOST_NOTES; returns how many. record: as of `in`. */
    int (*notes)(const void *record, const bf_ensemble_result *result, bf_note notes[BF_MOST_NOTES]);
} bf_command;

/* fall, pot, soak, throw, spread of the feed; rig, lay, aim of what is fished over it. */
extern const bf_command bf_commands[];
extern const int bf_n_commands;

const bf_command *bf_command_find(const char *name, size_t n);

#ifdef __cplusplus
}
#endif
#endif
