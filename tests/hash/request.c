/* One request answered in one call and in ranges; lines taken into a journal, and questions about it. In
 * static memory, so that it runs in wasm as it does natively. */
#include <string.h>

#include "baitfall/answer.h"
#include "baitfall/journal.h"
#include "tests/hash/kernel.h"

#define OUT_MOST (4u << 20)
#define WORK_MOST (48u << 20)
#define ROWS_MOST (1u << 20)

static char one[OUT_MOST], cut[OUT_MOST];
static _Alignas(16) unsigned char work[WORK_MOST], scratch[1 << 20];
static double rows[ROWS_MOST];

uint64_t bf_hash_bytes(uint64_t hash, const void *bytes, size_t n) {
    const unsigned char *at = bytes;
    for (size_t i = 0; i < n; i++) hash = (hash ^ at[i]) * 0x100000001b3u;
    return hash;
}

/* The answer by bf_begin, each round in n_cuts times bf_range_rows (the last range first), bf_finish. */
static size_t answer_in_cuts(const char *command, const char *json, size_t n_json, int n_cuts) {
    int n_items = 0, n_columns = 0;
    size_t n_out = 0;
    BF_ASSERT(bf_state_bytes(command) <= WORK_MOST);
    bf_status begun = bf_begin(work, command, json, n_json, &n_items, &n_columns);
    BF_ASSERT((size_t)n_items * (size_t)n_columns <= ROWS_MOST);
    for (int done = 0, next; done < n_items; done = next) {
        next = bf_next(work, rows, done);
        for (int c = n_cuts - 1; c >= 0; c--) {
            int n = next - done, i = done + n * c / n_cuts, j = done + n * (c + 1) / n_cuts;
            BF_ASSERT(bf_scratch_bytes(work) <= sizeof scratch);
            bf_status status = bf_range_rows(work, scratch, i, j, rows + (size_t)i * (size_t)n_columns);
            BF_ASSERT(status == BF_OK);
        }
    }
    bf_status finished = bf_finish(work, n_items > 0 ? rows : NULL, cut, OUT_MOST, &n_out);
    BF_ASSERT(finished == begun);
    return n_out;
}

#define MOST_EVENTS 1000
#define MOST_TEXT (512u << 10)
#define JOURNAL_MOST (8u << 20)

static _Alignas(16) unsigned char room[JOURNAL_MOST];
static bf_journal *journal;

static uint64_t take_hash(uint64_t hash, const char *line, size_t n) {
    bf_error error;
    bf_taken taken;
    if (!journal) {
        BF_ASSERT(bf_journal_bytes(MOST_EVENTS, MOST_TEXT) <= JOURNAL_MOST);
        journal = bf_journal_start(room, MOST_EVENTS, MOST_TEXT);
    }
    bf_status status = bf_take(journal, line, n, &taken, &error);
    BF_ASSERT(!status && taken == BF_TAKEN_NEW);
    uint64_t state = bf_journal_fold(journal)->hash;
    return bf_hash_bytes(hash, &state, sizeof state);
}

static uint64_t question_hash(uint64_t hash, const char *question, const char *json, size_t n_json) {
    size_t n = 0;
    BF_ASSERT(bf_ask_bytes(journal, question) <= WORK_MOST);
    bf_status status = bf_ask(journal, work, question, json, n_json, one, OUT_MOST, &n);
    hash = bf_hash_bytes(hash, &(char){(char)status}, 1);
    return bf_hash_bytes(hash, one, n);
}

uint64_t bf_request_hash(uint64_t hash, const char *command, const char *json, size_t n_json) {
    if (strcmp(command, "take") == 0) return take_hash(hash, json, n_json);
    if (strncmp(command, "ask ", 4) == 0) return question_hash(hash, command + 4, json, n_json);
    static const int cuts[] = {1, 2, 8};
    size_t n_one = 0;
    BF_ASSERT(bf_work_bytes(command) <= WORK_MOST);
    bf_status status = bf_answer(work, command, json, n_json, one, OUT_MOST, &n_one);
    for (int c = 0; c < 3; c++) {
        size_t n_cut = answer_in_cuts(command, json, n_json, cuts[c]);
        if (n_cut != n_one || memcmp(one, cut, n_one) != 0) return 0;
    }
    hash = bf_hash_bytes(hash, &(char){(char)status}, 1);
    return bf_hash_bytes(hash, one, n_one);
}
