/* walk.c -- all rows in order, past those that a damaged page hides. */
#include <limits.h>

#include "logbook/parts.h"

typedef struct walk {
    bf_store *store;
    bfi_each_row each;
    bfi_damaged_row damaged;
    void *to;
    long long *n_damaged;
    long long last; /* the row that was given last */
} walk;

/* Gives rows in order until the end or the first that cannot be read (BF_STORE_DAMAGED with *is_row_fault). */
static bf_store_what give_in_order(walk *w, int *is_row_fault, bf_store_error *error) {
    sqlite3_stmt *rows = bfi_statement(w->store, BFI_ROWS);
    bf_store_what what = BF_STORE_OK;
    int row;
    (void)sqlite3_bind_int64(rows, 1, LLONG_MIN);
    while (what == BF_STORE_OK && (row = bfi_step(w->store, rows, error)) != 0) {
        if (row < 0) {
            *is_row_fault = error->what == BF_STORE_DAMAGED;
            return error->what;
        }
        w->last = sqlite3_column_int64(rows, 0);
        what = w->each(w->to, rows, error);
    }
    (void)sqlite3_reset(rows);
    return what;
}

static bf_store_what give_one(walk *w, long long nth, bf_store_error *error) {
    sqlite3_stmt *one = bfi_statement(w->store, BFI_ROW);
    (void)sqlite3_bind_int64(one, 1, nth);
    int row = bfi_step(w->store, one, error);
    if (row < 0 && error->what == BF_STORE_DAMAGED) {
        ++*w->n_damaged;
        if (w->damaged) w->damaged(w->to, nth);
        return BF_STORE_OK;
    }
    bf_store_what what = row > 0 ? w->each(w->to, one, error) : row < 0 ? error->what : BF_STORE_OK;
    (void)sqlite3_reset(one);
    return what;
}

/* Behind a row that cannot be read, each is asked for by its number. The largest is taken from an index: the last page of rows may be
 * the damaged one. */
static bf_store_what give_singly(walk *w, bf_store_error *error) {
    long long largest;
    bf_store_what what = bfi_number(w->store, bfi_statement(w->store, BFI_LARGEST_NTH), 0, &largest, error);
    for (long long nth = w->last + 1; what == BF_STORE_OK && nth <= largest; nth++)
        what = give_one(w, nth, error);
    return what;
}

bf_store_what bfi_walk(bf_store *store, bfi_each_row each, bfi_damaged_row damaged, void *to,
                       long long *n_damaged, bf_store_error *error) {
    walk w = {store, each, damaged, to, n_damaged, 0};
    int is_row_fault = 0;
    *n_damaged = 0;
    bf_store_what what = give_in_order(&w, &is_row_fault, error);
    return is_row_fault ? give_singly(&w, error) : what;
}
