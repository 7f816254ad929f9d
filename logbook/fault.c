/* fault.c -- what SQLite or the system refused becomes one sentence. */
#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "logbook/parts.h"

bf_store_what bfi_say(bf_store_error *error, bf_store_what what, const char *sentence, ...) {
    va_list rest;
    va_start(rest, sentence);
    error->what = what;
    vsnprintf(error->sentence, sizeof error->sentence, sentence, rest);
    va_end(rest);
    return what;
}

bf_store_what bfi_say_unwritable(bf_store_error *error, const char *path, const char *why) {
    return bfi_say(error, BF_STORE_READ_ONLY,
                   "%.1000s, or the folder it is in, cannot be written (%s). Nothing was changed; make both "
                   "writable, or name another journal with --db.",
                   path, why);
}

static int is_no_space(int system) {
    return system == ENOSPC || system == EDQUOT || system == EFBIG;
}

static bf_store_what kind_of(int code, int system) {
    if (code == SQLITE_IOERR_NOMEM) return BF_STORE_MEMORY;
    switch (code & 0xff) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED: return BF_STORE_BUSY;
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_CANTOPEN: return BF_STORE_READ_ONLY;
    case SQLITE_FULL: return BF_STORE_FULL;
    case SQLITE_CORRUPT: return BF_STORE_DAMAGED;
    case SQLITE_NOTADB: return BF_STORE_DAMAGED;
    case SQLITE_NOMEM: return BF_STORE_MEMORY;
    default: return is_no_space(system) ? BF_STORE_FULL : BF_STORE_SYSTEM;
    }
}

/* What the system last refused on the file of an open database. */
static int last_of(sqlite3_file *file) {
    int system = 0;
    if (file && file->pMethods) (void)file->pMethods->xFileControl(file, SQLITE_FCNTL_LAST_ERRNO, &system);
    return system;
}

/* The system's number for what went wrong, 0: none. SQLite forgets it when it tidies up after a failed write; the
 * files, the database's and its log's, remember. */
static int system_error(sqlite3 *db, int code) {
    sqlite3_file *file = NULL, *log = NULL;
    int system = db ? sqlite3_system_errno(db) : 0;
    if (system || !db || (code & 0xff) != SQLITE_IOERR) return system;
    (void)sqlite3_file_control(db, "main", SQLITE_FCNTL_FILE_POINTER, &file);
    (void)sqlite3_file_control(db, "main", SQLITE_FCNTL_JOURNAL_POINTER, &log);
    system = last_of(log);
    return system ? system : last_of(file);
}

bf_store_what bfi_refused(sqlite3 *db, const char *path, int code, bf_store_error *error) {
    int system = system_error(db, code);
    bf_store_what what = kind_of(code, system);
    const char *why = system ? strerror(system) : sqlite3_errstr(code);
    switch (what) {
    case BF_STORE_BUSY:
        return bfi_say(error, what, "%.1000s is in use by another program; try again when it is done.", path);
    case BF_STORE_READ_ONLY: return bfi_say_unwritable(error, path, system ? why : "it is read-only");
    case BF_STORE_FULL: return bfi_say(error, what, "%.1000s cannot grow: %s.", path, why);
    case BF_STORE_DAMAGED:
        return bfi_say(
            error, what,
            "%.1000s is damaged (%s); `baitfall log check` says where, `baitfall log export` saves "
            "what can still be read.",
            path, sqlite3_errstr(code));
    case BF_STORE_MEMORY: return bfi_say(error, what, "out of memory.");
    default:
        return bfi_say(error, what, "%.1000s could not be read or written: %s.", path,
                       system || !db ? why : sqlite3_errmsg(db));
    }
}

bf_store_what bfi_file_refused(bf_file what, const char *path, bf_store_error *error) {
    int system = errno;
    if (what == BF_FILE_THERE) return bfi_say(error, BF_STORE_THERE, "%.1000s exists already.", path);
    if (what == BF_FILE_DATABASE)
        return bfi_say(error, BF_STORE_THERE, "%.1000s is a database, which is never replaced.", path);
    bf_store_what kind = is_no_space(system)                                      ? BF_STORE_FULL
                         : system == EACCES || system == EROFS || system == EPERM ? BF_STORE_READ_ONLY
                                                                                  : BF_STORE_SYSTEM;
    return bfi_say(error, kind, "%.1000s could not be written: %s.", path, bf_file_words(what));
}

bf_store_what bfi_fault(bf_store *store, bf_store_error *error) {
    return bfi_refused(store->db, store->path, sqlite3_extended_errcode(store->db), error);
}
