/* export.c -- lines out again, to a sink or into a file that takes its name at once. */
#include <errno.h>
#include <string.h>

#include "logbook/file.h"
#include "logbook/parts.h"

typedef struct outlet {
    bf_store *store;
    const bf_id *session; /* NULL: all */
    bf_sink write;
    void *to;
    long long *n_lines;
    long long first_damaged;
} outlet;

static void keep_first(void *to, long long nth) {
    outlet *out = to;
    if (out->first_damaged == 0) out->first_damaged = nth;
}

static bf_store_what put_row(void *to, sqlite3_stmt *row, bf_store_error *error) {
    outlet *out = to;
    bf_id session = bfi_column_id(row, 4);
    if (out->session && bf_id_order(session, *out->session) != 0) return BF_STORE_OK;
    const char *line = sqlite3_column_blob(row, 1);
    if (!line) return bfi_fault(out->store, error);
    if (out->write(out->to, line, (size_t)sqlite3_column_bytes(row, 1)) != 0 ||
        out->write(out->to, "\n", 1) != 0)
        return bfi_say(error, BF_STORE_SYSTEM, "the output could not be written.");
    ++*out->n_lines;
    return BF_STORE_OK;
}

/* BF_STORE_ABSENT unless the session has events. */
static bf_store_what must_have(bf_store *store, const bf_id *session, bf_store_error *error) {
    long long has;
    unsigned char id[16];
    sqlite3_stmt *statement = bfi_statement(store, BFI_HAS_SESSION);
    bfi_bind_id(statement, 1, *session, id);
    bf_store_what what = bfi_number(store, statement, 0, &has, error);
    if (what == BF_STORE_OK && !has) what = bfi_say(error, BF_STORE_ABSENT, "there is no such session.");
    return what;
}

bf_store_what bf_store_export(bf_store *store, const bf_id *session, bf_export_form form, bf_sink write,
                              void *to, long long *n_lines, bf_store_error *error) {
    outlet out = {store, session, write, to, n_lines, 0};
    long long n_damaged;
    *n_lines = 0;
    bf_store_what what = session ? must_have(store, session, error) : BF_STORE_OK;
    if (what == BF_STORE_OK && form == BF_EXPORT_CSV)
        return bfi_export_csv(store, session, write, to, n_lines, error);
    if (what == BF_STORE_OK) what = bfi_walk(store, put_row, keep_first, &out, &n_damaged, error);
    if (what == BF_STORE_OK && n_damaged > 0)
        what = bfi_say(error, BF_STORE_DAMAGED,
                       "%lld rows of %.1000s cannot be read, the first is row %lld; all others were written.",
                       n_damaged, store->path, out.first_damaged);
    return what;
}

/* ---- Into a file ---- */

/* Lines gathered into larger writes. */
typedef struct gathered {
    bfi_new_file file;
    bf_file what;
    size_t n;
    char bytes[65536];
} gathered;

static int flush(gathered *to) {
    if (to->what == BF_FILE_OK) to->what = bfi_file_put(&to->file, to->bytes, to->n);
    to->n = 0;
    return to->what == BF_FILE_OK ? 0 : -1;
}

static int gather(void *with, const char *bytes, size_t n) {
    gathered *to = with;
    while (n > 0) {
        size_t part = sizeof to->bytes - to->n < n ? sizeof to->bytes - to->n : n;
        memcpy(to->bytes + to->n, bytes, part);
        to->n += part;
        bytes += part;
        n -= part;
        if (to->n == sizeof to->bytes && flush(to) != 0) return -1;
    }
    return 0;
}

bf_store_what bf_store_export_file(bf_store *store, const bf_id *session, bf_export_form form,
                                   const char *path, int replace, long long *n_lines, bf_store_error *error) {
    gathered to;
    *n_lines = 0;
    to.n = 0;
    to.what = bfi_file_begin(path, replace, &to.file);
    if (to.what != BF_FILE_OK) return bfi_file_refused(to.what, path, error);
    bf_store_what what = bf_store_export(store, session, form, gather, &to, n_lines, error);
    if (what == BF_STORE_OK || what == BF_STORE_DAMAGED) (void)flush(&to);
    if (to.what != BF_FILE_OK || (what != BF_STORE_OK && what != BF_STORE_DAMAGED)) {
        bfi_file_drop(&to.file);
        return to.what != BF_FILE_OK ? bfi_file_refused(to.what, path, error) : what;
    }
    to.what = bfi_file_end(&to.file, path, replace);
    return to.what == BF_FILE_OK ? what : bfi_file_refused(to.what, path, error);
}
