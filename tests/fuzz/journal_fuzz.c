/* journal_fuzz.c -- any bytes as lines of a journal and as a table: each is taken or refused with a sentence, canonical forms read back as
 * they are, the fold and the questions hold. */
#include <stdlib.h>
#include <string.h>

#include "baitfall/csv.h"
#include "baitfall/journal.h"
#include "fuzz.h"

#define MOST_EVENTS 200
#define MOST_TEXT 100000
#define ANSWER_MOST (4u << 20)

static void *block(size_t bytes) {
    void *memory = aligned_alloc(16, (bytes + 15) / 16 * 16);
    BF_ASSERT(memory);
    memset(memory, 0xA5, bytes);
    return memory;
}

/* A line that was kept reads back as itself, and as a row of a table and back. */
static void check_kept(bf_journal *journal, int i) {
    static void *work, *row_work, *csv_memory;
    static bf_line line;
    static char canonical[BF_LINE_MOST + 1], row[BF_CSV_ROW_MOST], head[4096], back[BF_LINE_MOST + 1];
    bf_error error;
    size_t n, n_row, n_head, n_used, n_line;
    if (!work) work = block(bf_line_work_bytes());
    if (!row_work) row_work = block(bf_csv_row_work_bytes());
    if (!csv_memory) csv_memory = block(bf_csv_bytes());
    const char *kept = bf_journal_line(journal, i, &n);
    bf_status status = bf_line_read(work, kept, n, &line, canonical, sizeof canonical, &error);
    BF_ASSERT(!status && line.n_canonical == n && memcmp(kept, canonical, n) == 0);
    status = bf_csv_row(row_work, kept, n, 0, 0, row, sizeof row, &n_row, &error);
    BF_ASSERT(!status);
    bf_csv *csv = bf_csv_start(csv_memory);
    status = bf_csv_head(head, sizeof head, &n_head);
    if (!status) status = bf_csv_read(csv, head, n_head, 0, &n_used, back, sizeof back, &n_line, &error);
    if (!status) status = bf_csv_read(csv, row, n_row, 1, &n_used, back, sizeof back, &n_line, &error);
    BF_ASSERT(!status && n_used == n_row);
    status = bf_line_read(work, back, n_line, &line, canonical, sizeof canonical, &error);
    BF_ASSERT(!status && line.n_canonical == n && memcmp(kept, canonical, n) == 0);
}

static void take(bf_journal *journal, const char *text, size_t n) {
    bf_taken taken;
    bf_error error;
    int before = bf_journal_n(journal);
    bf_status status = bf_take(journal, text, n, &taken, &error);
    BF_ASSERT(status == error.status && !status == !error.text[0]);
    BF_ASSERT(bf_journal_n(journal) == before + (!status && taken != BF_TAKEN_KNOWN));
    if (bf_journal_n(journal) > before) check_kept(journal, before);
}

static void take_lines(bf_journal *journal, const char *text, size_t n) {
    while (n) {
        const char *end = memchr(text, '\n', n);
        size_t n_line = end ? (size_t)(end - text) : n;
        take(journal, text, n_line);
        n -= n_line + (end != NULL);
        text += n_line + (end != NULL);
    }
}

static void take_table(bf_journal *journal, const char *text, size_t n) {
    static char line[BF_LINE_MOST + 1];
    static void *memory;
    if (!memory) memory = block(bf_csv_bytes());
    bf_csv *csv = bf_csv_start(memory);
    while (n) {
        size_t n_used, n_line;
        bf_error error;
        bf_status status = bf_csv_read(csv, text, n, 1, &n_used, line, sizeof line, &n_line, &error);
        BF_ASSERT(n_used > 0 && n_used <= n && status == error.status && !status == !error.text[0]);
        if (!status && n_line) take(journal, line, n_line);
        text += n_used;
        n -= n_used;
    }
}

static void ask(bf_journal *journal, const char *question, const char *json) {
    static char *out;
    size_t n;
    if (!out) out = block(ANSWER_MOST);
    void *work = block(bf_ask_bytes(journal, question));
    bf_status status = bf_ask(journal, work, question, json, strlen(json), out, ANSWER_MOST, &n);
    BF_ASSERT(!status && n > 0);
    free(work);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static void *memory;
    if (!memory) memory = block(bf_journal_bytes(MOST_EVENTS, MOST_TEXT));
    bf_journal *journal = bf_journal_start(memory, MOST_EVENTS, MOST_TEXT);
    take_lines(journal, (const char *)data, size);
    take_table(journal, (const char *)data, size);
    BF_ASSERT(bf_journal_fold(journal)->n_live <= bf_journal_n(journal));
    if (!bf_journal_n(journal)) return 0;
    ask(journal, "log", "{\"most\":1000}");
    ask(journal, "bank", "{\"now\":\"2026-04-12T12:00:00Z\"}");
    ask(journal, "review", "{\"pictures\":[\"timeline\",\"waits\",\"catch\",\"rates\",\"sheet\"]}");
    ask(journal, "season", "{}");
    ask(journal, "trial", "{}");
    ask(journal, "bed", "{\"sets\":1,\"particles\":4,\"pictures\":[\"left\",\"fish\",\"above\"]}");
    ask(journal, "foretell", "{\"sets\":1,\"particles\":4}");
    ask(journal, "next", "{\"sets\":1,\"particles\":4,\"phone\":true,\"ahead_s\":600}");
    return 0;
}
