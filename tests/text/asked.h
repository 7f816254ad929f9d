/* asked.h -- a journal that questions are put to, for the tests of review, season and trial. Test code only. */
#ifndef BAITFALL_TESTS_ASKED_H
#define BAITFALL_TESTS_ASKED_H

#include "baitfall/journal.h"
#include "common/check.h"
#include "invented.h"

#define ASKED_EVENTS 40000
#define ASKED_ANSWER (4 << 20)

typedef struct asked {
    void *memory;
    bf_journal *journal;
    char *answer;
    void *tokens;
    bf_json json; /* of the answer */
    int seq;      /* of lines written by asked_line */
} asked;

static inline asked asked_start(void) {
    asked a = {.memory = malloc(bf_journal_bytes(ASKED_EVENTS, (size_t)ASKED_EVENTS * 300))};
    a.answer = malloc(ASKED_ANSWER);
    a.tokens = malloc(bf_json_bytes(ASKED_ANSWER / 2));
    a.journal = bf_journal_start(a.memory, ASKED_EVENTS, (size_t)ASKED_EVENTS * 300);
    return a;
}

static inline void asked_free(asked *a) {
    free(a->memory);
    free(a->answer);
    free(a->tokens);
}

/* For invented_write. */
static inline void asked_take(void *user, const char *line, size_t n) {
    asked *a = user;
    bf_taken taken;
    bf_error error;
    bf_status status = bf_take(a->journal, line, n, &taken, &error);
    if (status) print_error("%s\n%.*s\n", error.text, (int)n, line);
    assert_int_equal(status, BF_OK);
}

#define ASKED_SESSION "00000000000000000000000000000001"

/* An entry at so many seconds after 2026-04-12 09:00 UTC; its id is its number. `more`: members after "rec", such as "of". */
static inline void asked_line(asked *a, double at_s, const char *kind, const char *body, const char *more) {
    char line[1024], at[BF_INSTANT_BYTES];
    bf_instant_write(1775984400000.0 + 1000 * at_s, 0, at);
    a->seq++;
    int n =
        snprintf(line, sizeof line,
                 "{\"v\":1,\"id\":\"%032x\",\"session\":\"" ASKED_SESSION "\",\"dev\":\"00000001\","
                 "\"run\":\"00000001\",\"seq\":%d,\"kind\":\"%s\",\"at\":\"%s\",\"pm_s\":5,\"rec\":\"%s\"%s,"
                 "\"body\":{%s}}",
                 (unsigned)a->seq, a->seq, kind, at, at, more, body);
    asked_take(a, line, (size_t)n);
}

/* Puts a question and reads the answer. */
static inline bf_status asked_ask(asked *a, const char *question, const char *request) {
    bf_json_fault fault;
    size_t n;
    void *work = aligned_alloc(16, (bf_ask_bytes(a->journal, question) + 15) / 16 * 16);
    bf_status status =
        bf_ask(a->journal, work, question, request, strlen(request), a->answer, ASKED_ANSWER, &n);
    free(work);
    assert_int_equal(bf_json_read(a->answer, n, a->tokens, ASKED_ANSWER / 2, &a->json, &fault), BF_OK);
    return status;
}

static inline double asked_number(const asked *a, int object, const char *key) {
    double x = NAN;
    int value = bf_json_find(&a->json, object, key);
    if (value < 0) print_error("no %s in the answer\n", key);
    assert_true(value >= 0);
    if (bf_json_kind_of(&a->json, value) != BF_JSON_NULL)
        assert_int_equal(bf_json_number(&a->json, value, &x), BF_OK);
    return x;
}

/* The i-th sentence; "" when there are fewer. */
static inline const char *asked_sentence(const asked *a, int i) {
    static char text[1024];
    int at = bf_json_first(&a->json, bf_json_find(&a->json, 0, "sentences"));
    while (at >= 0 && i-- > 0) at = bf_json_next(&a->json, at);
    text[0] = 0;
    if (at >= 0) assert_int_equal(bf_json_string(&a->json, at, text, sizeof text), BF_OK);
    return text;
}

/* 1 when a note of that code is in the answer. */
static inline int asked_has_note(const asked *a, const char *code) {
    int notes = bf_json_find(&a->json, 0, "notes");
    for (int i = notes < 0 ? -1 : bf_json_first(&a->json, notes); i >= 0; i = bf_json_next(&a->json, i))
        if (bf_json_is(&a->json, bf_json_find(&a->json, i, "code"), code)) return 1;
    return 0;
}

#endif
