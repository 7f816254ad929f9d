/* migrate.c -- the schema brought forward, one step after the other; a new database takes them all at once. */
#include <stdio.h>
#include <string.h>
#include <sys/random.h>
#include <unistd.h>

#include "logbook/parts.h"
#include "logbook/schema.h"

static const char *const step_sql[] = {bfi_schema_1, bfi_schema_2};
_Static_assert(sizeof step_sql / sizeof step_sql[0] == BF_STORE_SCHEMA, "a step for every schema");

static bf_store_what run_sql(bf_store *store, const char *sql, bf_store_error *error) {
    return sqlite3_exec(store->db, sql, NULL, NULL, NULL) == SQLITE_OK ? BF_STORE_OK
                                                                       : bfi_fault(store, error);
}

static bf_store_what schema_of(bf_store *store, long long *schema, bf_store_error *error) {
    sqlite3_stmt *statement = NULL;
    if (sqlite3_prepare_v2(store->db, "PRAGMA user_version", -1, &statement, NULL) != SQLITE_OK)
        return bfi_fault(store, error);
    bf_store_what what = bfi_number(store, statement, 0, schema, error);
    (void)sqlite3_finalize(statement);
    return what;
}

static bf_store_what say_schema(bf_store *store, int schema, bf_store_error *error) {
    char sql[64];
    snprintf(sql, sizeof sql, "PRAGMA user_version=%d", schema);
    return run_sql(store, sql, error);
}

static bf_store_what take_step(bf_store *store, int step, bf_store_error *error) {
    bf_store_what what = run_sql(store, step_sql[step - 1], error);
    return what == BF_STORE_OK ? say_schema(store, step, error) : what;
}

/* The head of a new database, and its device id. */
static bf_store_what put_about(bf_store *store, bf_store_error *error) {
    char sql[128];
    uint32_t dev = 0;
    while (dev == 0)
        if (getrandom(&dev, sizeof dev, 0) != sizeof dev)
            return bfi_say(error, BF_STORE_SYSTEM, "the system gives no random numbers.");
    snprintf(sql, sizeof sql, "PRAGMA application_id=%d; INSERT INTO about VALUES ('dev', '%08x')",
             BF_STORE_APPLICATION, (unsigned int)dev);
    return run_sql(store, sql, error);
}

/* Within the transaction the schema is read again: another process may have been faster. */
static bf_store_what make_new(bf_store *store, bf_store_error *error) {
    long long schema;
    bf_store_what what = bfi_begin(store, error);
    if (what != BF_STORE_OK) return what;
    what = schema_of(store, &schema, error);
    for (int step = 1; what == BF_STORE_OK && schema == 0 && step <= BF_STORE_SCHEMA; step++)
        what = take_step(store, step, error);
    if (what == BF_STORE_OK && schema == 0) what = put_about(store, error);
    return bfi_end(store, what, error);
}

/* "journal.db.schema-1.journal.jsonl", or with a number when that is taken. */
static bf_store_what export_beside(bf_store *store, long long schema, char path[BF_PATH_MOST],
                                   bf_store_error *error) {
    bf_store_what what = BF_STORE_THERE;
    for (int copy = 1; what == BF_STORE_THERE && copy < 1000; copy++) {
        long long n;
        char number[16] = "";
        if (copy > 1) snprintf(number, sizeof number, "-%d", copy);
        int length =
            snprintf(path, BF_PATH_MOST, "%s.schema-%lld%s.journal.jsonl", store->path, schema, number);
        if (length >= BF_PATH_MOST)
            return bfi_say(error, BF_STORE_SYSTEM, "the name of the journal is too long.");
        what = bf_store_export_file(store, NULL, BF_EXPORT_LINES, path, 0, &n, error);
    }
    return what;
}

static bf_store_what step_forward(bf_store *store, long long from, bf_store_error *error) {
    long long schema;
    bf_store_what what = bfi_begin(store, error);
    if (what != BF_STORE_OK) return what;
    what = schema_of(store, &schema, error);
    if (what == BF_STORE_OK && schema == from) what = take_step(store, (int)from + 1, error);
    return bfi_end(store, what, error);
}

bf_store_what bfi_migrate(bf_store *store, bf_store_error *error) {
    long long schema;
    char path[BF_PATH_MOST];
    bf_store_what what = schema_of(store, &schema, error);
    if (what != BF_STORE_OK) return what;
    if (schema == 0) return make_new(store, error);
    if (schema > BF_STORE_SCHEMA) {
        (void)sqlite3_db_config(store->db, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, NULL);
        return bfi_say(error, BF_STORE_NEWER,
                       "%.1000s was written by a later version of this program (schema %lld, known here up "
                       "to %d); it was "
                       "left as it is.",
                       store->path, schema, BF_STORE_SCHEMA);
    }
    if (schema == BF_STORE_SCHEMA) return BF_STORE_OK;
    what = export_beside(store, schema, path, error);
    for (long long from = schema; what == BF_STORE_OK && from < BF_STORE_SCHEMA; from++)
        what = step_forward(store, from, error);
    if (what == BF_STORE_OK)
        snprintf(
            store->notice, sizeof store->notice,
            "The journal was brought from schema %lld to %d; before that all its lines were written to %s.",
            schema, BF_STORE_SCHEMA, path);
    return what;
}
