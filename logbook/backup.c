/* backup.c -- a copy of the database that is checked before it takes its name. */
#include <stdlib.h>
#include <string.h>

#include "logbook/file.h"
#include "logbook/parts.h"
#include "logbook/room.h"

#define PAGES_AT_ONCE 1024

/* Events in order, counted and hashed. */
typedef struct sum {
    bf_store *store;
    long long n;
    uint64_t hash;
} sum;

static bf_store_what add_up(void *to, sqlite3_stmt *row, bf_store_error *error) {
    sum *s = to;
    const void *line = sqlite3_column_blob(row, 1);
    int n = sqlite3_column_bytes(row, 1);
    if (!line) return bfi_fault(s->store, error);
    s->n++;
    bfi_hash(&s->hash, &n, sizeof n);
    bfi_hash(&s->hash, line, (size_t)n);
    return BF_STORE_OK;
}

static bf_store_what sum_of(bf_store *store, sum *s, bf_store_error *error) {
    long long n_damaged;
    *s = (sum){store, 0, BFI_HASH_START};
    bf_store_what what = bfi_walk(store, add_up, NULL, s, &n_damaged, error);
    if (what == BF_STORE_OK && n_damaged > 0)
        what =
            bfi_say(error, BF_STORE_DAMAGED, "%lld rows of %.1000s cannot be read.", n_damaged, store->path);
    return what;
}

/* Copies every page. Busy pages are waited for by the busy timeout of the store. */
static bf_store_what copy_pages(bf_store *store, bf_store *copy, bf_store_error *error) {
    sqlite3_backup *backup = sqlite3_backup_init(copy->db, "main", store->db, "main");
    if (!backup) return bfi_fault(copy, error);
    int code;
    do code = sqlite3_backup_step(backup, PAGES_AT_ONCE);
    while (code == SQLITE_OK);
    (void)sqlite3_backup_finish(backup);
    if (code == SQLITE_DONE) return BF_STORE_OK;
    return bfi_refused(copy->db, copy->path, code, error);
}

/* The copy as a single file, without a log beside it. */
static bf_store_what settle(bf_store *copy, bf_store_error *error) {
    if (sqlite3_exec(copy->db, "PRAGMA journal_mode=DELETE", NULL, NULL, NULL) != SQLITE_OK)
        return bfi_fault(copy, error);
    return BF_STORE_OK;
}

static bf_store_what look_whole(bf_store *copy, bf_store_error *error) {
    sqlite3_stmt *check = NULL;
    if (sqlite3_prepare_v2(copy->db, "PRAGMA integrity_check", -1, &check, NULL) != SQLITE_OK)
        return bfi_fault(copy, error);
    int row = bfi_step(copy, check, error);
    const char *text = row > 0 ? (const char *)sqlite3_column_text(check, 0) : NULL;
    int is_ok = text && strcmp(text, "ok") == 0;
    (void)sqlite3_finalize(check);
    if (row < 0) return error->what;
    return is_ok ? BF_STORE_OK
                 : bfi_say(error, BF_STORE_DAMAGED,
                           "the database is damaged, and so is its copy: `baitfall log check` says where.");
}

static bf_store_what compare(bf_store *copy, const sum *want, bf_store_error *error) {
    sum got;
    bf_store_what what = look_whole(copy, error);
    if (what == BF_STORE_OK) what = sum_of(copy, &got, error);
    if (what != BF_STORE_OK || (got.n == want->n && got.hash == want->hash)) return what;
    return bfi_say(error, BF_STORE_DAMAGED, "the copy has not the same entries as the database.");
}

/* Pages, settings and the comparison, on a connection of the copy's own. */
static bf_store_what fill(bf_store *store, const char *path, const sum *want, bf_store_error *error) {
    bf_store *copy = bfi_room(sizeof *copy);
    if (!copy) return bfi_say(error, BF_STORE_MEMORY, "out of memory.");
    memset(copy, 0, sizeof *copy);
    strcpy(copy->path, path);
    bf_store_what what = bfi_open_database(copy, BFI_WRITABLE, error);
    if (what == BF_STORE_OK) what = copy_pages(store, copy, error);
    if (what == BF_STORE_OK) what = settle(copy, error);
    if (what == BF_STORE_OK) what = compare(copy, want, error);
    bf_store_close(copy);
    return what;
}

/* One transaction: what is summed up is what is copied, whatever others add meanwhile. */
static bf_store_what sum_and_fill(bf_store *store, const char *path, sum *want, bf_store_error *error) {
    bf_store_what what = bfi_look(store, error);
    if (what != BF_STORE_OK) return what;
    what = sum_of(store, want, error);
    if (what == BF_STORE_OK) what = fill(store, path, want, error);
    return bfi_end(store, what, error);
}

bf_store_what bf_store_backup(bf_store *store, const char *path, long long *n_events, bf_store_error *error) {
    bfi_new_file file;
    sum want = {store, 0, 0};
    *n_events = 0;
    bf_file begun = bfi_file_begin(path, 0, &file);
    if (begun != BF_FILE_OK) return bfi_file_refused(begun, path, error);
    bf_store_what what = sum_and_fill(store, file.temporary, &want, error);
    if (what != BF_STORE_OK) {
        bfi_file_drop(&file);
        return what;
    }
    bf_file ended = bfi_file_end(&file, path, 0);
    if (ended != BF_FILE_OK) return bfi_file_refused(ended, path, error);
    *n_events = want.n;
    return BF_STORE_OK;
}
