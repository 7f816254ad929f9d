/* work.h -- what bf_begin leaves in the caller's memory for bf_range_rows and bf_finish. Internal to text/.
 *
 * One verb a kind of command. Its own record stands in work->own, its scratch for finishing in work->spare; both are
 * as many bytes as the verb asks for, 16-aligned and not cleared. */
#ifndef BFI_WORK_H
#define BFI_WORK_H

#include <stdint.h>

#include "baitfall/command.h"
#include "text/read.h"
#include "text/write.h"

#define BFI_TOKENS_MOST 32768 /* keys and values of a request */
#define BFI_SEED_MOST 9007199254740991.0

typedef struct bfi_work bfi_work;

typedef struct bfi_verb {
    const char *name; /* NULL: any of bf_commands */
    size_t (*own_bytes)(const bf_command *command);
    size_t (*spare_bytes)(const bf_command *command);
    size_t (*rows_bytes)(const bf_command *command); /* at most; NULL: no rows */
    /* Reads work->json; sets work->n_items and work->n_columns (0 as it comes). */
    bf_status (*begin)(bfi_work *work);
    size_t (*scratch_bytes)(const bfi_work *work);               /* at most spare_bytes; NULL: no rows */
    int (*next)(bfi_work *work, const double *rows, int n_done); /* as bf_next; NULL: all in one round */
    void (*range)(const bfi_work *work, void *scratch, int i, int j, double *rows);
    /* Members of the answer after "schema" and "command". An error: work->error, what was written is thrown away. */
    bf_status (*finish)(bfi_work *work, const double *rows, bfi_json *out);
} bfi_verb;

struct bfi_work {
    const bfi_verb *verb;
    const bf_command *command; /* NULL when the verb is none of bf_commands */
    bf_json json;
    bf_error error; /* status BF_OK: none */
    bfi_names names;
    bfi_reader reader;
    int n_items, n_columns;
    int n_ready; /* items that bf_next has let go */
    uint64_t seed;
    int n_draws;
    void *own;
    void *spare;
};

extern const bfi_verb bfi_scene_verb, bfi_plan_verb, bfi_peg_day_verb, bfi_measure_verb, bfi_catalogue_verb,
    bfi_form_verb;

/* Root keys that every ensemble command reads by bfi_read_options. */
#define BFI_OPTION_KEYS "seed", "draws"

/* "seed" and "draws" of the request into work, or their start values. */
BF_CHECK bf_status bfi_read_options(bfi_work *work, int draws_start);

/* The value of a key of the root, -1: not there. */
int bfi_option(const bfi_work *work, const char *key);

/* The value of a key of the root that is true or false; *truth stays 0 when it is not there. */
BF_CHECK bf_status bfi_read_truth(bfi_work *work, const char *key, int *truth);

/* A result at the inputs as given only: ranges with a nominal value and nothing else, no shares. */
void bfi_take_nominal(const double *nominal, int n_out, bf_ensemble_result *result);

/* One output: its range, text and where the range mostly comes from, as a member of the open object. */
void bfi_json_output(bfi_json *json, const bf_table *out, int i_out, const bf_schema *in,
                     const bf_ensemble_result *result);

/* "shares":{ output: { "bait.density_kg_m3":0.61, ..., "together":0.08 } } */
void bfi_json_shares(bfi_json *json, const bf_table *out, const bf_schema *in,
                     const bf_ensemble_result *result);

/* "notes":[{"code","text"}], numbers filled in. */
void bfi_json_notes(bfi_json *json, const bf_note *notes, int n);

/* ---- Drawings (draw.c) ---- */

/* What a request asks to see. */
enum { BFI_SEE_ABOVE = 1, BFI_SEE_SIDE = 2, BFI_SEE_SECTION = 4, BFI_SEE_CARD_A5 = 8, BFI_SEE_CARD_A6 = 16 };

typedef struct bfi_wanted {
    int look;          /* bf_look                    */
    unsigned pictures; /* BFI_SEE_...                */
} bfi_wanted;

/* A picture's word and its bit. */
typedef struct bfi_see {
    const char *word;
    unsigned bit;
} bfi_see;

/* Those of bf_commands, ended by a NULL word; one that is not for a command is checked only. */
extern const bfi_see bfi_command_sees[];

/* Reads "look" and "pictures". */
BF_CHECK bf_status bfi_read_pictures(bfi_work *work, const bfi_see *sees, bfi_wanted *wanted);

/* 1 when it is told where the water drifts to. */
int bfi_is_drift_known(const bf_lake *lake);

/* Where n pieces lie, seen from above: the map, the drift and how it was put in; look, hook bait and wind are the caller's. memory:
 * bf_landing_map_work_bytes(n). */
BF_CHECK bf_status bfi_see_above(const bf_scene *scene, const double *x_m, const double *y_m, size_t n,
                                 void *memory, double *density, bf_above_view *view);

/* Bytes of work->spare for drawing; 0: the command draws nothing. */
size_t bfi_draw_bytes(const bf_command *command);

/* "pictures":{"above":{...},"side":{...}} of a spread answer, as the request asks; nothing when it does not.
 * rows of an ensemble of the spread command over `scene`. work->spare is written. */
BF_CHECK bf_status bfi_json_pictures(bfi_work *work, const bf_ensemble *ensemble, const double *rows,
                                     const bf_ensemble_result *result, bfi_json *out);

#endif
