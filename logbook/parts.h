/* parts.h -- what the files of the store share. Internal to logbook/. */
#ifndef BFI_PARTS_H
#define BFI_PARTS_H

#include <sqlite3.h>

#include "baitfall/store.h"

/* X(name, SQL): every statement that is used more than once; prepared when first used. */
#define BFI_STATEMENT_LIST(X)                                                                                \
    X(BFI_BEGIN, "BEGIN IMMEDIATE")                                                                          \
    X(BFI_LOOK, "BEGIN")                                                                                     \
    X(BFI_COMMIT, "COMMIT")                                                                                  \
    X(BFI_ROLLBACK, "ROLLBACK")                                                                              \
    X(BFI_SAME_ID, "SELECT digest, line, session FROM event WHERE id = ?1")                                  \
    X(BFI_INSERT, "INSERT INTO event (id, digest, session, dev, seq, kind, at_ms, rec_ms, line)"             \
                  " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)")                                            \
    X(BFI_COUNT, "SELECT count(*) FROM event")                                                               \
    X(BFI_LARGEST_SEQ, "SELECT max(last_seq) FROM session")                                                  \
    X(BFI_LARGEST_NTH, "SELECT max(nth) FROM event INDEXED BY event_by_session")                             \
    X(BFI_FIND, "SELECT id, session FROM event WHERE id BETWEEN ?1 AND ?2 GROUP BY id ORDER BY id LIMIT 2")  \
    X(BFI_HAS_SESSION, "SELECT 1 FROM event WHERE session = ?1 LIMIT 1")                                     \
    X(BFI_ROWS, "SELECT nth, line, id, digest, session, dev, seq, kind, at_ms, rec_ms FROM event"            \
                " WHERE nth >= ?1 ORDER BY nth")                                                             \
    X(BFI_ROW, "SELECT nth, line, id, digest, session, dev, seq, kind, at_ms, rec_ms FROM event"             \
               " WHERE nth = ?1")                                                                            \
    X(BFI_SESSION_SIZE, "SELECT count(*), sum(length(CAST(line AS BLOB)) + 1) FROM event"                    \
                        " WHERE session = ?1 OR id IN (SELECT id FROM event WHERE session = ?1)")            \
    X(BFI_SESSION_LINES, "SELECT line FROM event"                                                            \
                         " WHERE session = ?1 OR id IN (SELECT id FROM event WHERE session = ?1)"            \
                         " ORDER BY nth")                                                                    \
    X(BFI_ALL_SIZE, "SELECT count(*), sum(length(CAST(line AS BLOB)) + 1) FROM event")                       \
    X(BFI_ALL_LINES, "SELECT line FROM event ORDER BY nth")                                                  \
    X(BFI_SOME_STALE, "SELECT session FROM stale LIMIT 1")                                                   \
    X(BFI_STALE, "INSERT OR IGNORE INTO stale VALUES (?1)")                                                  \
    X(BFI_NOT_STALE, "DELETE FROM stale WHERE session = ?1")                                                 \
    X(BFI_DROP_SESSION, "DELETE FROM session WHERE id = ?1")                                                 \
    X(BFI_N_OF_SESSION, "SELECT count(*), max(seq) FROM event WHERE session = ?1")                           \
    X(BFI_PUT_SESSION,                                                                                       \
      "INSERT INTO session VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15)")       \
    X(BFI_PUT_WAIT,                                                                                          \
      "INSERT INTO wait VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15)")          \
    X(BFI_PUT_PUT_IN, "INSERT INTO put_in VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)")                 \
    X(BFI_SESSIONS, "SELECT * FROM session ORDER BY opened_ms, id")                                          \
    X(BFI_SESSION_ROWS, "SELECT * FROM session WHERE id = ?1")                                               \
    X(BFI_WAIT_ROWS, "SELECT * FROM wait WHERE session = ?1 ORDER BY nth")                                   \
    X(BFI_PUT_IN_ROWS, "SELECT * FROM put_in WHERE session = ?1 ORDER BY nth")                               \
    X(BFI_NEXT_SESSION, "SELECT min(id) FROM (SELECT min(session) AS id FROM event WHERE session > ?1"       \
                        " UNION ALL SELECT min(id) FROM session WHERE id > ?1)")

typedef enum bfi_statement_name {
#define BFI_STATEMENT_NAME(name, sql) name,
    BFI_STATEMENT_LIST(BFI_STATEMENT_NAME)
#undef BFI_STATEMENT_NAME
        BFI_N_STATEMENTS
} bfi_statement_name;

struct bf_store {
    sqlite3 *db;
    sqlite3_stmt *statement[BFI_N_STATEMENTS];
    int unprepared;              /* why the last statement that is NULL is so */
    char path[BF_PATH_MOST + 8]; /* of a temporary file, too */
    char notice[BF_PATH_MOST + 256];
    uint32_t dev;
    bf_id stale;     /* the session that was marked last in this transaction; zero: none */
    void *line_work; /* of bf_line_read */
    bf_line line;
    char canonical[BF_LINE_MOST + 1];
};

/* ---- Errors: each fills *error and returns its `what` ---- */

__attribute__((format(printf, 3, 4))) bf_store_what bfi_say(bf_store_error *error, bf_store_what what,
                                                            const char *sentence, ...);

/* BF_STORE_READ_ONLY, and what to do about it. */
bf_store_what bfi_say_unwritable(bf_store_error *error, const char *path, const char *why);

/* What SQLite last refused on this connection. `code` is what the failing call returned. */
bf_store_what bfi_refused(sqlite3 *db, const char *path, int code, bf_store_error *error);

/* The same for a file, with errno. */
bf_store_what bfi_file_refused(bf_file what, const char *path, bf_store_error *error);

/* ---- Statements ---- */

/* The statement, reset and with nothing bound. NULL: it cannot be prepared; stepping it says why. */
sqlite3_stmt *bfi_statement(bf_store *store, bfi_statement_name name);

/* bfi_refused of the last call on this store. */
bf_store_what bfi_fault(bf_store *store, bf_store_error *error);

/* Steps a statement: 1 a row, 0 done, -1 with *error. A statement that gives no more rows is reset. NULL statement: -1. */
int bfi_step(bf_store *store, sqlite3_stmt *statement, bf_store_error *error);

/* Steps a statement that gives no rows, and resets it. */
BF_CHECK bf_store_what bfi_run(bf_store *store, sqlite3_stmt *statement, bf_store_error *error);

/* The first column of the first row as a whole number, `none` when there is no row or it is NULL. */
BF_CHECK bf_store_what bfi_number(bf_store *store, sqlite3_stmt *statement, long long none, long long *number,
                                  bf_store_error *error);

/* Binds an id. bytes (out 16) must live until the statement was stepped: a copy of SQLite's own could fail unnoticed. */
void bfi_bind_id(sqlite3_stmt *statement, int nth, bf_id id, unsigned char bytes[16]);
bf_id bfi_column_id(sqlite3_stmt *statement, int column);

/* Begins a transaction that writes; ends it: commits when *what is BF_STORE_OK, else, or when that fails, rolls back. */
BF_CHECK bf_store_what bfi_begin(bf_store *store, bf_store_error *error);
BF_CHECK bf_store_what bfi_end(bf_store *store, bf_store_what what, bf_store_error *error);

/* Begins a transaction that only reads: one state of the database until bfi_end. */
BF_CHECK bf_store_what bfi_look(bf_store *store, bf_store_error *error);

/* Takes back an open transaction, if there is one. */
void bfi_roll_back(bf_store *store);

/* ---- Parts ---- */

/* How a database is opened: to be written, made when it is not there; to be read only, with the log that another program keeps
 * beside it; to be read only as a file that nobody changes, without a log. */
typedef enum bfi_way { BFI_WRITABLE, BFI_READABLE, BFI_UNCHANGING } bfi_way;

/* Opens store->path with SQLite. */
BF_CHECK bf_store_what bfi_open_database(bf_store *store, bfi_way way, bf_store_error *error);

/* Brings the schema to BF_STORE_SCHEMA; writes store->notice when it moved an older one. */
BF_CHECK bf_store_what bfi_migrate(bf_store *store, bf_store_error *error);

/* Lines of an import that go in with one transaction; a test makes it small. */
extern int bfi_batch_lines;

/* Reads one line into store->line and store->canonical: BF_STORE_OK or BF_STORE_REFUSED. */
BF_CHECK bf_store_what bfi_read_line(bf_store *store, const char *text, size_t n, bf_store_error *error);

/* Puts the line that was read, within a transaction. BF_STORE_REFUSED when another line has its id and its digest. */
BF_CHECK bf_store_what bfi_put_line(bf_store *store, bf_taken *taken, bf_store_error *error);

/* Walks the rows of all events in order. A row that cannot be read is passed over. each: the statement stands at the row (columns of BFI_ROWS);
 * returns BF_STORE_OK to go on. damaged (may be NULL): row nth cannot be read. *n_damaged counts them. */
typedef bf_store_what (*bfi_each_row)(void *to, sqlite3_stmt *row, bf_store_error *error);
typedef void (*bfi_damaged_row)(void *to, long long nth);
BF_CHECK bf_store_what bfi_walk(bf_store *store, bfi_each_row each, bfi_damaged_row damaged, void *to,
                                long long *n_damaged, bf_store_error *error);

/* Makes the derived rows of one session anew, within a transaction. */
BF_CHECK bf_store_what bfi_derive(bf_store *store, bf_id session, bf_store_error *error);

/* Makes all stale sessions anew, within the transaction that has begun or else in its own. */
BF_CHECK bf_store_what bfi_refresh(bf_store *store, bf_store_error *error);

/* bf_store_export as CSV. */
BF_CHECK bf_store_what bfi_export_csv(bf_store *store, const bf_id *session, bf_sink write, void *to,
                                      long long *n_rows, bf_store_error *error);

/* FNV-1a, 64 bits, goes on from *hash. */
#define BFI_HASH_START 14695981039346656037u
void bfi_hash(uint64_t *hash, const void *bytes, size_t n);

#endif
