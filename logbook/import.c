/* import.c -- lines from outside: cut, taken one by one, made durable by batches. */
#include <stdlib.h>
#include <string.h>

#include "logbook/parts.h"
#include "logbook/room.h"

#define CHUNK_BYTES 65536
#define BATCH_LINES 200000 /* a smaller batch writes the same pages of the index again and again */

typedef struct intake {
    bf_store *store;
    bf_told told;
    void *to;
    bf_import *durable; /* of the batches that are committed */
    bf_import batch;    /* of the one that is open           */
    int is_open;
    long long number; /* of the line at hand */
    /* the line at hand */
    size_t n;
    int is_long; /* it did not fit and is passed over */
    char text[BF_LINE_MOST];
    char chunk[CHUNK_BYTES];
} intake;

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
    if (in->is_long) return bfi_say(error, BF_STORE_REFUSED, "it is longer than %d bytes.", BF_LINE_MOST);
    bf_store_what what = bfi_read_line(in->store, text, n, error);
    if (what == BF_STORE_OK) what = bfi_put_line(in->store, &taken, error);
    if (what == BF_STORE_OK) count_taken(in, taken);
    return what;
}

static int is_blank(const char *text, size_t n) {
    while (n > 0 && (text[n - 1] == ' ' || text[n - 1] == '\t' || text[n - 1] == '\r')) n--;
    return n == 0;
}

/* The line at hand is complete. */
static bf_store_what take_line(intake *in, bf_store_error *error) {
    static const char mark[] = "\xef\xbb\xbf"; /* byte order mark */
    const char *text = in->text;
    size_t n = in->n;
    in->number++;
    if (in->number == 1 && n >= 3 && memcmp(text, mark, 3) == 0) text += 3, n -= 3;
    if (n > 0 && text[n - 1] == '\r') n--;
    if (!in->is_long && is_blank(text, n)) return BF_STORE_OK;
    bf_store_what what = begin_batch(in, error);
    if (what != BF_STORE_OK) return what;
    in->batch.lines++;
    what = take_text(in, text, n, error);
    if (what == BF_STORE_REFUSED) {
        in->batch.refused++;
        tell(in, BF_TOLD_REFUSED, error->sentence);
        what = BF_STORE_OK;
    }
    return what == BF_STORE_OK && in->batch.lines < BATCH_LINES ? what : end_batch(in, what, error);
}

/* ---- Cutting ---- */

static void append(intake *in, const char *bytes, size_t n) {
    if (n > sizeof in->text - in->n) in->is_long = 1;
    if (in->is_long) return;
    memcpy(in->text + in->n, bytes, n);
    in->n += n;
}

static bf_store_what take_chunk(intake *in, const char *bytes, size_t n, bf_store_error *error) {
    bf_store_what what = BF_STORE_OK;
    for (const char *end = bytes + n; what == BF_STORE_OK && bytes < end;) {
        const char *newline = memchr(bytes, '\n', (size_t)(end - bytes));
        append(in, bytes, (size_t)((newline ? newline : end) - bytes));
        if (!newline) break;
        what = take_line(in, error);
        in->n = 0;
        in->is_long = 0;
        bytes = newline + 1;
    }
    return what;
}

static bf_store_what take_all(intake *in, bf_source read, void *from, bf_store_error *error) {
    long n;
    while ((n = read(from, in->chunk, sizeof in->chunk)) > 0) {
        bf_store_what what = take_chunk(in, in->chunk, (size_t)n, error);
        if (what != BF_STORE_OK) return what;
    }
    /* A last line without its newline counts; one that a failed read may have cut short does not. */
    bf_store_what what = n == 0 && (in->n > 0 || in->is_long) ? take_line(in, error) : BF_STORE_OK;
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
    free(in);
    return what;
}
