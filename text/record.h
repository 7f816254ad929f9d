/* record.h -- what the questions about a journal share. Internal to text/.
 *
 * One verb a question, in a file of its own (bank.c, log.c, peg.c, review.c, season.c, trial.c, bed.c, foretell.c, next.c, rehearse.c, otherwise.c); ask.c finds
 * it, reads the request and lays out the memory. */
#ifndef BFI_RECORD_H
#define BFI_RECORD_H

#include "baitfall/belief.h"
#include "baitfall/journal.h"
#include "text/fault.h"
#include "text/write.h"

typedef struct bfi_ask_verb bfi_ask_verb;

/* One question on its way. */
typedef struct bfi_ask {
    const bfi_ask_verb *verb; /* NULL: there is no such question */
    bf_journal *journal;
    const bf_fold *fold;
    bf_turnaround turnaround;
    bf_json json; /* the request */
    void *spare;  /* spare_bytes of the verb, 16-aligned, not cleared */
    bf_error error;
    /* What is to be computed between begin and answer, by items that do not know of each other; NULL: nothing. */
    const bf_belief_job *job;
    int foretells; /* 1: its rows are those of predict.h; 0: of belief.h */
    const double *rows;
} bfi_ask;

struct bfi_ask_verb {
    const char *name;
    size_t (*spare_bytes)(const bf_journal *journal); /* NULL: none */
    /* Members of the answer after "schema" and "command". An error: ask->error (by bfi_fail), what was written is thrown away. */
    bf_status (*answer)(bfi_ask *ask, bfi_json *out);
    /* Reads the request and sets ask->job; errors as above. NULL: nothing is computed before the answer. */
    bf_status (*begin)(bfi_ask *ask);
};

extern const bfi_ask_verb bfi_bank_verb, bfi_log_verb, bfi_peg_verb, bfi_review_verb, bfi_season_verb,
    bfi_trial_verb, bfi_bed_verb, bfi_foretell_verb, bfi_next_verb, bfi_rehearse_verb, bfi_otherwise_verb;

/* ---- Shared by the verbs (ask.c) ---- */

/* The session that "session" names, or the open one, or the last: its index; -1 with ask->error set when the
 * request names one that is not there, -1 with status BF_OK in ask->error when there is none at all. */
int bfi_ask_session(bfi_ask *ask);

/* The instant under a key, or NaN when not given; BF_E_* with ask->error set when it is no instant. */
BF_CHECK bf_status bfi_ask_instant(bfi_ask *ask, const char *key, double *ms, int *east_min);

/* A number under a key by a range, `start` when not given. */
BF_CHECK bf_status bfi_ask_number(bfi_ask *ask, const char *key, double least, double most, double start,
                                  double *number);

/* The text under a key, cut to most - 1 bytes, "" when not given; BF_E_TYPE when it is not text. */
BF_CHECK bf_status bfi_ask_text(bfi_ask *ask, const char *key, char *out, size_t most);

/* An error about a key of the root, with its value when it has one. Returns status. */
bf_status bfi_ask_fail(bfi_ask *ask, bf_status status, const char *key, const char *accepted);

/* Refuses keys of the root that are none of these (NULL-ended). */
BF_CHECK bf_status bfi_ask_only(bfi_ask *ask, const char *const *keys);

/* "11:42" (local clock of the session) and "11:42:07". */
void bfi_put_clock(bfi_pen *pen, double ms, int east_min, int with_seconds);

/* How long since, for a glance: "2:10" below ten minutes, then "12 min", past 99 min "2 h". */
void bfi_put_since(bfi_pen *pen, double s);

/* The note that an entry has now: of the last fix that gives one, else its own; cut to most - 1 bytes. (log.c) */
void bfi_entry_note(const bfi_ask *ask, int i_live, char *note, size_t most);

/* The word of an entry: "Fish", "Missed", "Feed" ... Static. (log.c) */
const char *bfi_entry_word(int kind, const bf_body *body);

#endif
