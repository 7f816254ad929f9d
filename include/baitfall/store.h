/* store.h -- the journal on this machine: an SQLite database of lines that never change, and what is derived from them.
 *
 * Events     Every line is kept in its canonical form (journal.h) and is never changed or deleted: the database itself refuses it. The
 *            same line again is known and changes nothing; the same id with other bytes is a clash, both are kept.
 * Derived    Sessions, waits and put-ins stand in tables of their own, made from the events by the fold (fold.h). New events mark
 *            their sessions as stale; what reads these tables first makes stale ones anew. Nothing is lost when these tables are.
 * Durable    A call that adds returns BF_STORE_OK only after the disk has it (write-ahead log, synchronous=FULL). After a crash, a kill or
 *            a failed write each event is whole or absent, and every one that was acknowledged is there.
 * Schema     application_id 0x42616974 ("Bait"), user_version BF_STORE_SCHEMA. Older ones are brought forward when opened, step by step, each
 *            step in one transaction after all lines were written to a file beside the database. A newer schema, another
 *            program's database and a file that is no database are refused and left as they are.
 * Errors     Every call that can fail fills a bf_store_error (not NULL): what, and one whole sentence for people. Nothing is printed.
 * Memory     A store holds at most about 160 MiB whatever its size; only bf_store_load takes memory by the size of what it loads.
 * Other programs may read and write the same database at the same time; a store that finds it locked waits five seconds.
 * A store belongs to one thread.
 *
 * Tests: tests/logbook/store_test.c, fault_test.c, refused_test.c, at_once_test.c, kill_test.c, round_test.c
 */
#ifndef BAITFALL_STORE_H
#define BAITFALL_STORE_H

#include "baitfall/journal.h"
#include "baitfall/kit.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BF_STORE_APPLICATION 0x42616974
#define BF_STORE_SCHEMA 2

typedef struct bf_store bf_store;

typedef enum bf_store_what {
    BF_STORE_OK,
    BF_STORE_ABSENT,    /* there is no such database, session or entry                      */
    BF_STORE_REFUSED,   /* the line is not valid: the sentence of bf_line_read              */
    BF_STORE_THERE,     /* the file to be written exists already                            */
    BF_STORE_FOREIGN,   /* not a database, or another program's                             */
    BF_STORE_NEWER,     /* of a later version of this program                               */
    BF_STORE_BUSY,      /* locked by another program for longer than we wait                */
    BF_STORE_READ_ONLY, /* the file or its folder cannot be written or opened               */
    BF_STORE_FULL,      /* the disk is full, or a limit on file size was reached            */
    BF_STORE_DAMAGED,   /* the database, or a row, is not what was written                  */
    BF_STORE_MEMORY,    /* out of memory, or more than a journal in memory can hold         */
    BF_STORE_SYSTEM     /* anything else the system refused                                 */
} bf_store_what;

typedef struct bf_store_error {
    bf_store_what what;
    char sentence[2048];
} bf_store_error;

/* ---- Opening ---- */

/* Where the journal lies when nobody says: $XDG_DATA_HOME/baitfall/journal.db, as bf_kit_path. */
int bf_store_path(char path[BF_PATH_MOST]);

/* What a database is opened for. */
typedef enum bf_store_use {
    BF_STORE_TO_READ, /* where it or its folder cannot be written it is read all the same; what is derived stands in memory then,
                       * and adding gives BF_STORE_READ_ONLY. A log that another program left there, and that cannot be read
                       * without writing, is refused: entries would be missing */
    BF_STORE_TO_MAKE, /* to be written; one that is not there is made, with its folders (mode 0700) and a random device id */
    BF_STORE_TO_ADD /* to be written; BF_STORE_ABSENT when it is not there */
} bf_store_use;

/* Opens a database.
 *
 * *store    NULL on any error. The caller closes it.
 * Returns BF_STORE_OK, ABSENT, FOREIGN, NEWER, BUSY, READ_ONLY, FULL, DAMAGED, MEMORY, SYSTEM. */
BF_CHECK bf_store_what bf_store_open(const char *path, bf_store_use use, bf_store **store,
                                     bf_store_error *error);

/* NULL is allowed. */
void bf_store_close(bf_store *store);

/* What opening did that people should know, in whole sentences ("... was brought from schema 1 to 2; all lines
 * were first written to ..."); "" as a rule. */
const char *bf_store_notice(const bf_store *store);

/* The id of this device, never 0: made at random once with the database. */
uint32_t bf_store_dev(const bf_store *store);

/* ---- Adding ---- */

/* Adds one line, durably. Returns BF_STORE_OK with *taken, BF_STORE_REFUSED, or a fault of the store: then the line may
 * or may not be in; adding it again is safe. */
BF_CHECK bf_store_what bf_store_add(bf_store *store, const char *text, size_t n, bf_taken *taken,
                                    bf_store_error *error);

/* Puts at most `most` bytes of input into `bytes`: their number, 0 at the end, -1 when reading failed. */
typedef long (*bf_source)(void *from, char *bytes, size_t most);

/* Something import has to say. */
typedef enum bf_told_kind {
    BF_TOLD_REFUSED, /* line `number` is not in; sentence says why   */
    BF_TOLD_CLASH,   /* line `number` has the id of another line; both are in now */
    BF_TOLD_STORED   /* everything up to line `number` is durable; sentence is "" */
} bf_told_kind;
typedef void (*bf_told)(void *to, bf_told_kind kind, long long number, const char *sentence);

typedef struct bf_import {
    long long before;                         /* events in the database before          */
    long long lines;                          /* lines that were not empty              */
    long long fresh, known, clashes, refused; /* what became of them; they sum to lines */
} bf_import;

/* Takes JSON Lines, or CSV as bf_store_export writes it (told by the first line), in constant memory. Good lines are kept whatever stands between them; a
 * line ends with LF or CR LF, a byte order mark at the start is skipped. Lines (CSV: records) count from 1, the head of a CSV included.
 *
 * Lines go in by batches, each one transaction. On a fault of the store *counts has what is durable: the batches before.
 * told may be NULL. Returns BF_STORE_OK even when lines were refused. */
BF_CHECK bf_store_what bf_store_import(bf_store *store, bf_source read, void *from, bf_told told, void *to,
                                       bf_import *counts, bf_store_error *error);

/* ---- Reading ---- */

typedef enum bf_export_form { BF_EXPORT_LINES, BF_EXPORT_CSV } bf_export_form;

/* Takes n bytes; 0, or -1 when it cannot. */
typedef int (*bf_sink)(void *to, const char *bytes, size_t n);

/* Writes all lines, or those of one session (NULL: all), in the order they came in; as CSV (csv.h) session by
 * session, the oldest first. Rows that cannot be read are left out and
 * named in the error (BF_STORE_DAMAGED) after all others were written. *n_lines (out): how many were.
 * Returns BF_STORE_ABSENT when the session is not there. */
BF_CHECK bf_store_what bf_store_export(bf_store *store, const bf_id *session, bf_export_form form,
                                       bf_sink write, void *to, long long *n_lines, bf_store_error *error);

/* The same into a file, at once: the name is taken by the whole file or not at all. replace 0: BF_STORE_THERE when it is taken.
 * When rows were damaged the file is kept, and the error says so. */
BF_CHECK bf_store_what bf_store_export_file(bf_store *store, const bf_id *session, bf_export_form form,
                                            const char *path, int replace, long long *n_lines,
                                            bf_store_error *error);

/* Events in the database. */
BF_CHECK bf_store_what bf_store_count(bf_store *store, long long *n, bf_store_error *error);

/* One more than the largest seq in the database, 1 when it is empty. */
BF_CHECK bf_store_what bf_store_next_seq(bf_store *store, long long *seq, bf_store_error *error);

/* All events, or those of one session, as a journal in memory. The caller frees *journal with free(); NULL on error.
 * BF_STORE_MEMORY also when there are more names than a journal holds. */
BF_CHECK bf_store_what bf_store_load(bf_store *store, const bf_id *session, bf_journal **journal,
                                     bf_store_error *error);

/* A session as derived. Text as in the journal; "" not told. */
typedef struct bf_stored_session {
    bf_id id;
    char venue[BF_NAME_BYTES + 1], peg[BF_NAME_BYTES + 1];
    double opened_ms, closed_ms, last_ms; /* NaN: all crossed out; open; as opened */
    int east_min;
    int n_events;             /* lines of it, crosses and fixes included */
    int count[BF_N_OUTCOMES]; /* as bf_session */
} bf_stored_session;

/* Every session, oldest first, to `each`, which stops the walk by returning 1. */
typedef int (*bf_each_session)(void *to, const bf_stored_session *session);
BF_CHECK bf_store_what bf_store_sessions(bf_store *store, bf_each_session each, void *to,
                                         bf_store_error *error);

/* The session that bf_fold_open_session means; BF_STORE_ABSENT when none is open. */
BF_CHECK bf_store_what bf_store_open_session(bf_store *store, bf_stored_session *session,
                                             bf_store_error *error);

/* bf_store_add of an `open`, unless a session is open: of any number of programs that try it at once one succeeds. BF_STORE_THERE:
 * one is, in *open (out), and nothing was added. */
BF_CHECK bf_store_what bf_store_add_opening(bf_store *store, const char *text, size_t n,
                                            bf_stored_session *open, bf_taken *taken, bf_store_error *error);

/* The event whose id begins with so many hex digits; a session is found by the id of its `open`.
 * *n (out): how many different ids do, 2 at most counted; *id is the first, *session the one it belongs to. BF_STORE_ABSENT when
 * none. */
BF_CHECK bf_store_what bf_store_find(bf_store *store, const char *hex, bf_id *id, bf_id *session, int *n,
                                     bf_store_error *error);

/* ---- Keeping whole ---- */

typedef struct bf_store_state {
    long long events, sessions;
    long long damaged;  /* rows that are not what their line says, or whose line cannot be read */
    long long derived;  /* sessions whose rows were not what the fold makes; they are now       */
    long long database; /* faults of the file itself                                            */
} bf_store_state;

/* Looks at everything: the file (integrity_check, foreign_key_check), every line (canonical, its digest, the columns beside it), every
 * session's derived rows against a fresh fold. told (may be NULL) gets a sentence for each fault, with the row's number.
 * What is derived is looked at only when file and lines are whole.
 * Returns BF_STORE_OK when it could look, whatever it found. */
typedef void (*bf_found)(void *to, const char *sentence);
BF_CHECK bf_store_what bf_store_check(bf_store *store, bf_found told, void *to, bf_store_state *state,
                                      bf_store_error *error);

/* Copies the database into a new file, while others may write, and checks the copy before it takes its name: integrity, as many events, the
 * same hash of all of them. Never replaces: BF_STORE_THERE. */
BF_CHECK bf_store_what bf_store_backup(bf_store *store, const char *path, long long *n_events,
                                       bf_store_error *error);

#ifdef __cplusplus
}
#endif
#endif
