/* store.c -- opening the database: only one that is ours, of a schema we know, with the settings that keep it whole. */
#include "baitfall/store.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "logbook/file.h"
#include "logbook/parts.h"
#include "logbook/room.h"

#define WAIT_MS 5000
#define STEP_MS 10
#define CACHE_KIB "131072" /* an import touches every page of the indexes again and again */

int bf_store_path(char path[BF_PATH_MOST]) {
    return bfi_data_path("journal.db", path);
}

/* ---- Is the file ours? Its head is read without SQLite, which might change a file that is not ---- */

static unsigned long big_endian(const unsigned char *at) {
    return (unsigned long)at[0] << 24 | (unsigned long)at[1] << 16 | (unsigned long)at[2] << 8 | at[3];
}

/* The head of an SQLite file is 100 bytes: 16 of magic, user_version at 60, application_id at 68 (SQLite, "Database File Format"). */
static bf_store_what judge_head(const char *path, const unsigned char *head, ssize_t n,
                                bf_store_error *error) {
    if (n == 0) return BF_STORE_OK; /* as a first start that was cut short leaves it */
    if (n < 100 || memcmp(head, "SQLite format 3", 16) != 0)
        return bfi_say(error, BF_STORE_FOREIGN, "%.1000s is not a database; it was left as it is.", path);
    if (big_endian(head + 68) != BF_STORE_APPLICATION)
        return bfi_say(error, BF_STORE_FOREIGN,
                       "%.1000s is the database of another program; it was left as it is.", path);
    if (big_endian(head + 60) > BF_STORE_SCHEMA)
        return bfi_say(error, BF_STORE_NEWER,
                       "%.1000s was written by a later version of this program (schema %lu, known here up to "
                       "%d); it was left "
                       "as it is.",
                       path, big_endian(head + 60), BF_STORE_SCHEMA);
    return BF_STORE_OK;
}

static bf_store_what judge_file(const char *path, bf_store_error *error) {
    unsigned char head[100];
    struct stat about;
    if (stat(path, &about) != 0 && (errno == ENOENT || errno == ENOTDIR))
        return bfi_say(error, BF_STORE_ABSENT, "there is no journal at %.1000s.", path);
    int fd = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (fd < 0)
        return bfi_say(
            error, BF_STORE_READ_ONLY,
            "%.1000s cannot be opened (%s). Nothing was changed; make it readable, or name another "
            "journal with --db.",
            path, strerror(errno));
    int is_file = fstat(fd, &about) == 0 && S_ISREG(about.st_mode);
    ssize_t n = is_file ? read(fd, head, sizeof head) : 0;
    close(fd);
    if (!is_file) return bfi_say(error, BF_STORE_FOREIGN, "%.1000s is not a file.", path);
    if (n < 0) return bfi_say(error, BF_STORE_SYSTEM, "%.1000s cannot be read.", path);
    return judge_head(path, head, n, error);
}

/* ---- Opening ---- */

static bf_store_what configure(bf_store *store, bf_store_error *error) {
    static const char settings[] =
        "PRAGMA page_size=8192;" /* of a new database; a tenth less work for an import than with 4096 */
        "PRAGMA foreign_keys=ON; PRAGMA recursive_triggers=ON; PRAGMA synchronous=FULL;"
        "PRAGMA temp_store=MEMORY; PRAGMA cache_size=-" CACHE_KIB ";";
    (void)sqlite3_extended_result_codes(store->db, 1);
    (void)sqlite3_busy_timeout(store->db, WAIT_MS);
    (void)sqlite3_db_config(store->db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
    (void)sqlite3_db_config(store->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
    if (sqlite3_exec(store->db, settings, NULL, NULL, NULL) != SQLITE_OK) return bfi_fault(store, error);
    /* Prepared now: when memory runs out later, taking back must still work. */
    return bfi_statement(store, BFI_ROLLBACK) ? BF_STORE_OK : bfi_fault(store, error);
}

/* The write-ahead log comes after the schema, so that the head of the file always says whose it is. SQLite does not wait by itself
 * where others change to the log, or look into the file, at the same moment. */
static bf_store_what use_log(bf_store *store, bf_store_error *error) {
    for (int waited_ms = 0;; waited_ms += STEP_MS) {
        int code = sqlite3_exec(store->db, "PRAGMA journal_mode=WAL", NULL, NULL, NULL);
        if (code == SQLITE_OK) return BF_STORE_OK;
        if ((code & 0xff) != SQLITE_BUSY || waited_ms >= WAIT_MS) return bfi_fault(store, error);
        (void)sqlite3_sleep(STEP_MS);
    }
}

static bf_store_what read_dev(bf_store *store, bf_store_error *error) {
    sqlite3_stmt *statement = NULL;
    unsigned int dev = 0;
    if (sqlite3_prepare_v2(store->db, "SELECT value FROM about WHERE name = 'dev'", -1, &statement, NULL) !=
        SQLITE_OK)
        return bfi_fault(store, error);
    int row = bfi_step(store, statement, error);
    const char *text = row > 0 ? (const char *)sqlite3_column_text(statement, 0) : NULL;
    if (!text || strlen(text) != 8 || sscanf(text, "%8x", &dev) != 1) dev = 0;
    (void)sqlite3_finalize(statement);
    store->dev = dev;
    if (row < 0) return error->what;
    if (dev == 0)
        return bfi_say(error, BF_STORE_DAMAGED, "%.1000s does not say which device it is of.", store->path);
    return BF_STORE_OK;
}

/* SQLite gives names such as ":memory:" and "file:x" a meaning of their own; "./" before them takes it away. */
static void write_name(const bf_store *store, char *name, size_t most) {
    snprintf(name, most, "%s%s", store->path[0] == '/' ? "" : "./", store->path);
}

/* As a name that tells SQLite that the file does not change, so that it needs no log. */
static void write_unchanging_name(const bf_store *store, char *name, size_t most) {
    size_t n = (size_t)snprintf(name, most, "%s", store->path[0] == '/' ? "file://" : "file:./");
    for (const char *at = store->path; *at && n + 4 < most; at++)
        n += (size_t)snprintf(name + n, most - n, strchr("%?#", *at) ? "%%%02x" : "%c", (unsigned char)*at);
    snprintf(name + n, most - n, "?immutable=1");
}

bf_store_what bfi_open_database(bf_store *store, bfi_way way, bf_store_error *error) {
    static const int flags[] = {[BFI_WRITABLE] = SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE,
                                [BFI_READABLE] = SQLITE_OPEN_READONLY,
                                [BFI_UNCHANGING] = SQLITE_OPEN_READONLY | SQLITE_OPEN_URI};
    char name[3 * sizeof store->path + 32];
    (way == BFI_UNCHANGING ? write_unchanging_name : write_name)(store, name, sizeof name);
    int code = sqlite3_open_v2(name, &store->db, flags[way] | SQLITE_OPEN_NOMUTEX, NULL);
    if (code == SQLITE_OK && way == BFI_WRITABLE && sqlite3_db_readonly(store->db, "main") == 1)
        code = SQLITE_READONLY;
    return code == SQLITE_OK ? BF_STORE_OK : bfi_refused(store->db, store->path, code, error);
}

static void close_database(bf_store *store) {
    for (int i = 0; i < BFI_N_STATEMENTS; i++) {
        (void)sqlite3_finalize(store->statement[i]);
        store->statement[i] = NULL;
    }
    (void)sqlite3_close(store->db);
    store->db = NULL;
}

/* Where nothing can be written, what is derived stands in memory: made anew from the events when it is first asked for. */
static bf_store_what derive_in_memory(bf_store *store, bf_store_error *error) {
    static const char tables[] =
        "SELECT group_concat('CREATE TEMP TABLE' || substr(sql, 13), ';') FROM main.sqlite_schema"
        " WHERE name IN ('stale', 'session', 'wait', 'put_in')";
    sqlite3_stmt *statement = NULL;
    if (sqlite3_prepare_v2(store->db, tables, -1, &statement, NULL) != SQLITE_OK)
        return bfi_fault(store, error);
    int row = bfi_step(store, statement, error);
    const char *sql = row > 0 ? (const char *)sqlite3_column_text(statement, 0) : NULL;
    if (row >= 0 && (!sql || sqlite3_exec(store->db, sql, NULL, NULL, NULL) != SQLITE_OK ||
                     sqlite3_exec(store->db, "INSERT INTO temp.stale SELECT DISTINCT session FROM event",
                                  NULL, NULL, NULL) != SQLITE_OK)) {
        (void)bfi_fault(store, error);
        row = -1;
    }
    (void)sqlite3_finalize(statement);
    return row < 0 ? error->what : BF_STORE_OK;
}

/* A log that stands there holds entries that are not in the file yet. */
static int has_log(const bf_store *store) {
    char log[sizeof store->path + 8];
    struct stat about;
    snprintf(log, sizeof log, "%s-wal", store->path);
    return stat(log, &about) == 0 && about.st_size > 0;
}

static bf_store_what open_as(bf_store *store, bfi_way way, bf_store_error *error) {
    bf_store_what what = bfi_open_database(store, way, error);
    if (what == BF_STORE_OK) what = configure(store, error);
    if (what == BF_STORE_OK) what = bfi_migrate(store, error);
    if (what == BF_STORE_OK)
        what = way == BFI_WRITABLE ? use_log(store, error) : derive_in_memory(store, error);
    if (what == BF_STORE_OK) what = read_dev(store, error);
    return what;
}

/* Where it is to be read and cannot be written: with its log when there is one. Without, no log is begun, since only who may
 * write can tidy it away. */
static bf_store_what open_somehow(bf_store *store, bf_store_use use, bf_store_error *error) {
    bf_store_what what = open_as(store, BFI_WRITABLE, error);
    if (use != BF_STORE_TO_READ || what != BF_STORE_READ_ONLY) return what;
    close_database(store);
    return open_as(store, has_log(store) ? BFI_READABLE : BFI_UNCHANGING, error);
}

static bf_store *new_store(const char *path) {
    bf_store *store = bfi_room(sizeof *store);
    if (!store) return NULL;
    memset(store, 0, sizeof *store);
    memcpy(store->path, path, strlen(path) + 1);
    store->line_work = bfi_room(bf_line_work_bytes());
    if (store->line_work) return store;
    bf_store_close(store);
    return NULL;
}

bf_store_what bf_store_open(const char *path, bf_store_use use, bf_store **store, bf_store_error *error) {
    *store = NULL;
    error->what = BF_STORE_OK;
    error->sentence[0] = 0;
    if (strlen(path) >= BF_PATH_MOST)
        return bfi_say(error, BF_STORE_SYSTEM, "the name of the journal is too long.");
    bf_store_what what = judge_file(path, error);
    if (what == BF_STORE_ABSENT && use == BF_STORE_TO_MAKE) {
        bf_file made = bfi_make_folders(path);
        const char *why = made == BF_FILE_OK ? "" : bf_file_words(made);
        what = made == BF_FILE_OK ? BF_STORE_OK : bfi_file_refused(made, path, error);
        if (what == BF_STORE_READ_ONLY) what = bfi_say_unwritable(error, path, why);
    }
    if (what != BF_STORE_OK) return what;
    bf_store *mine = new_store(path);
    if (!mine) return bfi_say(error, BF_STORE_MEMORY, "out of memory.");
    what = open_somehow(mine, use, error);
    if (what == BF_STORE_OK)
        *store = mine;
    else
        bf_store_close(mine);
    return what;
}

void bf_store_close(bf_store *store) {
    if (!store) return;
    close_database(store);
    free(store->line_work);
    free(store);
}

const char *bf_store_notice(const bf_store *store) {
    return store->notice;
}

uint32_t bf_store_dev(const bf_store *store) {
    return store->dev;
}
