/* import.c -- lines from outside: cut, taken one by one, made durable by batches. */
#include <stdlib.h>
#include <string.h>

#include "baitfall/csv.h"
#include "logbook/parts.h"
#include "logbook/room.h"

#define CHUNK_BYTES 65536

/* A smaller batch writes the same pages of the index again and again. */
int bfi_batch_lines = 200000;

typedef struct intake {
    bf_store *store;
    bf_told told;
    void *to;
    bf_import *durable; /* of the batches that are committed */
    bf_import batch;    /* of the one that is open           */
    int is_open;
    long long number;           /* of the line at hand */
    int is_long;                /* the beginning of a line that is too long was passed over */
    void *csv;                  /* NULL: JSON Lines */
    char row[BF_LINE_MOST + 1]; /* a row of CSV as a line */
    size_t n;                   /* bytes waiting to be cut */
    char bytes[BF_CSV_ROW_MOST + BF_LINE_MOST + CHUNK_BYTES];
} intake;

/* One line cut off the front of the bytes. */
typedef struct cut {
    size_t n_used; /* 0: it goes on behind them */
    int has_line;
    const char *text;
    size_t n;
    int is_refused; /* it could not even be cut; error has the sentence */
} cut;

static void tell(const intake *in, bf_told_kind kind, const char *sentence) {
    if (in->told) in->told(in->to, kind, in->number, sentence);
}

static void sum_up(bf_import *sum, const bf_import *part) {
    sum->lines += part->lines;
    sum->fresh += part->fresh;
    sum->known += part->known;
    sum->clashes += part->clashes;
    sum->refused += part->refused;
}

/* ---- Batches ---- */

static bf_store_what end_batch(intake *in, bf_store_what what, bf_store_error *error) {
    if (!in->is_open) return what;
    in->is_open = 0;
    what = bfi_end(in->store, what, error);
    if (what != BF_STORE_OK) return what;
    sum_up(in->durable, &in->batch);
    memset(&in->batch, 0, sizeof in->batch);
    tell(in, BF_TOLD_STORED, "");
    return BF_STORE_OK;
}

static bf_store_what begin_batch(intake *in, bf_store_error *error) {
    if (in->is_open) return BF_STORE_OK;
    bf_store_what what = bfi_begin(in->store, error);
    in->is_open = what == BF_STORE_OK;
    return what;
}

/* ---- One line ---- */

static void count_taken(intake *in, bf_taken taken) {
    in->batch.fresh += taken == BF_TAKEN_NEW;
    in->batch.known += taken == BF_TAKEN_KNOWN;
    in->batch.clashes += taken == BF_TAKEN_CLASH;
    if (taken == BF_TAKEN_CLASH)
        tell(in, BF_TOLD_CLASH, "its id is that of another line, which says something else; both are kept.");
}

static bf_store_what take_text(intake *in, const char *text, size_t n, bf_store_error *error) {
    bf_taken taken = BF_TAKEN_NEW;
    bf_store_what what = bfi_read_line(in->store, text, n, error);
    if (what == BF_STORE_OK) what = bfi_put_line(in->store, &taken, error);
    if (what == BF_STORE_OK) count_taken(in, taken);
    return what;
}

/* A refused line is told and counted; it stops nothing. */
static bf_store_what take_line(intake *in, const cut *line, bf_store_error *error) {
    bf_store_error begin;
    bf_store_what what = begin_batch(in, &begin);
    if (what != BF_STORE_OK) {
        *error = begin;
        return what;
    }
    in->batch.lines++;
    what = line->is_refused ? BF_STORE_REFUSED : take_text(in, line->text, line->n, error);
    if (what == BF_STORE_REFUSED) {
        in->batch.refused++;
        tell(in, BF_TOLD_REFUSED, error->sentence);
        what = BF_STORE_OK;
    }
    return what == BF_STORE_OK && in->batch.lines < bfi_batch_lines ? what : end_batch(in, what, error);
}

/* ---- Cutting lines of JSON ---- */

static int is_blank(const char *text, size_t n) {
    while (n > 0 && (text[n - 1] == ' ' || text[n - 1] == '\t' || text[n - 1] == '\r')) n--;
    return n == 0;
}

static cut cut_line(intake *in, const char *text, size_t n, int is_last, bf_store_error *error) {
    const char *newline = memchr(text, '\n', n);
    cut c = {.text = text, .n = newline ? (size_t)(newline - text) : n};
    int is_long = in->is_long || c.n > BF_LINE_MOST;
    if (!newline && !is_last) { /* of a line too long one byte is kept, so that its end is seen */
        in->is_long = is_long;
        c.n_used = is_long ? n - 1 : 0;
        return c;
    }
    c.n_used = newline ? c.n + 1 : c.n;
    if (c.n > 0 && c.text[c.n - 1] == '\r') c.n--;
    c.has_line = is_long || !is_blank(c.text, c.n);
    c.is_refused = is_long;
    if (is_long) (void)bfi_say(error, BF_STORE_REFUSED, "it is longer than %d bytes.", BF_LINE_MOST);
    in->is_long = 0;
    in->number++;
    return c;
}

/* ---- Cutting rows of CSV ---- */

static cut cut_row(intake *in, const char *text, size_t n, int is_last, bf_store_error *error) {
    cut c = {.text = in->row};
    bf_error refusal;
    bf_status status =
        bf_csv_read(in->csv, text, n, is_last, &c.n_used, in->row, sizeof in->row, &c.n, &refusal);
    c.is_refused = status != BF_OK;
    c.has_line = c.is_refused || c.n > 0;
    if (c.is_refused) (void)bfi_say(error, BF_STORE_REFUSED, "%s", refusal.text);
    if (c.n_used > 0) in->number++;
    return c;
}

/* A head of columns: it has these two names, and no line of JSON. */
static int has_head(const char *text, size_t n) {
    static const char *const names[] = {"session", "kind"};
    int found = 0;
    for (size_t i = 0; i < n && text[i] != '\n'; i++) {
        if (text[i] == '{') return 0;
        for (int k = 0; k < 2; k++)
            if (n - i >= strlen(names[k]) && memcmp(text + i, names[k], strlen(names[k])) == 0)
                found |= 1 << k;
    }
    return found == 3;
}

/* ---- All of it ---- */

static bf_store_what take_bytes(intake *in, int is_last, bf_store_error *error) {
    const char *at = in->bytes, *end = in->bytes + in->n;
    bf_store_what what = BF_STORE_OK;
    while (what == BF_STORE_OK && at < end) {
        size_t n = (size_t)(end - at);
        cut c = in->csv ? cut_row(in, at, n, is_last, error) : cut_line(in, at, n, is_last, error);
        if (c.n_used == 0) break;
        if (c.has_line) what = take_line(in, &c, error);
        at += c.n_used;
    }
    in->n = (size_t)(end - at);
    memmove(in->bytes, at, in->n);
    return what;
}

/* What the first bytes say: a byte order mark goes; a head of columns means CSV. */
static bf_store_what look_at_start(intake *in, bf_store_error *error) {
    static const char mark[] = "\xef\xbb\xbf";
    if (in->n >= 3 && memcmp(in->bytes, mark, 3) == 0) memmove(in->bytes, in->bytes + 3, in->n -= 3);
    if (!has_head(in->bytes, in->n)) return BF_STORE_OK;
    void *memory = bfi_room(bf_csv_bytes());
    if (!memory) return bfi_say(error, BF_STORE_MEMORY, "out of memory.");
    in->csv = bf_csv_start(memory);
    return BF_STORE_OK;
}

static bf_store_what take_all(intake *in, bf_source read, void *from, bf_store_error *error) {
    int is_start = 1;
    long n;
    bf_store_what what = BF_STORE_OK;
    while (what == BF_STORE_OK && (n = read(from, in->bytes + in->n, CHUNK_BYTES)) > 0) {
        in->n += (size_t)n;
        if (is_start) what = look_at_start(in, error);
        is_start = 0;
        if (what == BF_STORE_OK) what = take_bytes(in, 0, error);
    }
    /* A last line without its newline counts; one that a failed read may have cut short does not. */
    if (what == BF_STORE_OK && n == 0) what = take_bytes(in, 1, error);
    if (what == BF_STORE_OK) what = end_batch(in, what, error);
    if (what == BF_STORE_OK && n < 0)
        what = bfi_say(error, BF_STORE_SYSTEM,
                       "the input could not be read to its end; what came before is kept.");
    return what;
}

bf_store_what bf_store_import(bf_store *store, bf_source read, void *from, bf_told told, void *to,
                              bf_import *counts, bf_store_error *error) {
    memset(counts, 0, sizeof *counts);
    bf_store_what what = bf_store_count(store, &counts->before, error);
    if (what != BF_STORE_OK) return what;
    intake *in = bfi_room(sizeof *in);
    if (!in) return bfi_say(error, BF_STORE_MEMORY, "out of memory.");
    memset(in, 0, sizeof *in);
    in->store = store;
    in->told = told;
    in->to = to;
    in->durable = counts;
    what = end_batch(in, take_all(in, read, from, error), error);
    free(in->csv);
    free(in);
    return what;
}
