/* statement.c -- statements of SQL, prepared once; transactions. */
#include <string.h>

#include "logbook/parts.h"

static const char *const sql_of[BFI_N_STATEMENTS] = {
#define BFI_STATEMENT_SQL(name, sql) [name] = (sql),
    BFI_STATEMENT_LIST(BFI_STATEMENT_SQL)
#undef BFI_STATEMENT_SQL
};

sqlite3_stmt *bfi_statement(bf_store *store, bfi_statement_name name) {
    sqlite3_stmt **statement = &store->statement[name];
    int code = SQLITE_OK;
    if (!*statement)
        code = sqlite3_prepare_v3(store->db, sql_of[name], -1, SQLITE_PREPARE_PERSISTENT, statement, NULL);
    if (!*statement) {
        store->unprepared = code;
        return NULL;
    }
    (void)sqlite3_reset(*statement);
    (void)sqlite3_clear_bindings(*statement);
    return *statement;
}

int bfi_step(bf_store *store, sqlite3_stmt *statement, bf_store_error *error) {
    if (!statement) {
        (void)bfi_refused(store->db, store->path, store->unprepared, error);
        return -1;
    }
    int code = sqlite3_step(statement);
    if (code == SQLITE_ROW) return 1;
    if (code != SQLITE_DONE) (void)bfi_fault(store, error);
    (void)sqlite3_reset(statement);
    return code == SQLITE_DONE ? 0 : -1;
}

bf_store_what bfi_run(bf_store *store, sqlite3_stmt *statement, bf_store_error *error) {
    return bfi_step(store, statement, error) < 0 ? error->what : BF_STORE_OK;
}

bf_store_what bfi_number(bf_store *store, sqlite3_stmt *statement, long long none, long long *number,
                         bf_store_error *error) {
    int row = bfi_step(store, statement, error);
    *number = none;
    if (row < 0) return error->what;
    if (row > 0 && sqlite3_column_type(statement, 0) != SQLITE_NULL)
        *number = sqlite3_column_int64(statement, 0);
    (void)sqlite3_reset(statement);
    return BF_STORE_OK;
}

void bfi_bind_id(sqlite3_stmt *statement, int nth, bf_id id, unsigned char bytes[16]) {
    for (int i = 0; i < 8; i++) {
        bytes[i] = (unsigned char)(id.high >> (56 - 8 * i));
        bytes[8 + i] = (unsigned char)(id.low >> (56 - 8 * i));
    }
    (void)sqlite3_bind_blob(statement, nth, bytes, 16, SQLITE_STATIC);
}

bf_id bfi_column_id(sqlite3_stmt *statement, int column) {
    bf_id id = {0, 0};
    const unsigned char *bytes = sqlite3_column_blob(statement, column);
    if (!bytes || sqlite3_column_bytes(statement, column) != 16) return id;
    for (int i = 0; i < 8; i++) {
        id.high = id.high << 8 | bytes[i];
        id.low = id.low << 8 | bytes[8 + i];
    }
    return id;
}

void bfi_roll_back(bf_store *store) {
    bf_store_error unheard; /* what went wrong before is what is said */
    if (!sqlite3_get_autocommit(store->db))
        (void)bfi_step(store, bfi_statement(store, BFI_ROLLBACK), &unheard);
}

static bf_store_what begin(bf_store *store, bfi_statement_name how, bf_store_error *error) {
    bfi_roll_back(store);
    store->stale = (bf_id){0, 0};
    return bfi_run(store, bfi_statement(store, how), error);
}

bf_store_what bfi_begin(bf_store *store, bf_store_error *error) {
    return begin(store, BFI_BEGIN, error);
}

bf_store_what bfi_look(bf_store *store, bf_store_error *error) {
    return begin(store, BFI_LOOK, error);
}

bf_store_what bfi_end(bf_store *store, bf_store_what what, bf_store_error *error) {
    if (what == BF_STORE_OK) what = bfi_run(store, bfi_statement(store, BFI_COMMIT), error);
    if (what != BF_STORE_OK) bfi_roll_back(store);
    return what;
}

void bfi_hash(uint64_t *hash, const void *bytes, size_t n) {
    const unsigned char *byte = bytes;
    for (size_t i = 0; i < n; i++) *hash = (*hash ^ byte[i]) * 1099511628211u;
}
