/* learned.c -- see learned.h. */
#include "text/learned.h"

#include <math.h>
#include <string.h>

#define N BF_SWIM_N_PARAMETERS
#define N_NUMBERS                                                                                            \
    (1 + 3 * N +                                                                                             \
     N * (N + 1) / 2) /* effective sets; prior's mean and sd, mean; covariance below its diagonal */
#define N_DIGITS (8 + 16 + 8 + 8 * N_NUMBERS) /* version, story, sessions, numbers */

#define ACCEPTED "an array of at most 256 summaries as `bed` gives them"

/* ---- Numbers in a row ---- */

/* Lists where a summary's numbers stand, in order. */
static void list_numbers(bf_swim_summary *summary, double *number[N_NUMBERS]) {
    int n = 0;
    number[n++] = &summary->n_effective_sets;
    for (int i = 0; i < N; i++) number[n++] = &summary->prior.mean[i];
    for (int i = 0; i < N; i++) number[n++] = &summary->prior.sd[i];
    for (int i = 0; i < N; i++) number[n++] = &summary->mean[i];
    for (int i = 0; i < N; i++)
        for (int k = 0; k <= i; k++) number[n++] = &summary->covariance[i][k];
    BF_ASSERT(n == N_NUMBERS);
}

/* ---- Digits ---- */

static void put_digits(char **at, uint64_t word, int n) {
    for (int i = n - 1; i >= 0; i--) *(*at)++ = "0123456789abcdef"[word >> 4 * i & 15];
}

/* 1 when all n are digits. */
static int read_digits(const char **at, int n, uint64_t *word) {
    *word = 0;
    for (int i = 0; i < n; i++) {
        char c = *(*at)++;
        int digit = c >= '0' && c <= '9' ? c - '0' : c >= 'a' && c <= 'f' ? c - 'a' + 10 : -1;
        if (digit < 0) return 0;
        *word = *word << 4 | (uint64_t)digit;
    }
    return 1;
}

static uint64_t bits_of(double x) {
    float single = (float)x;
    uint32_t bits;
    memcpy(&bits, &single, sizeof bits);
    return bits;
}

static double number_of(uint64_t bits) {
    uint32_t word = (uint32_t)bits;
    float single;
    memcpy(&single, &word, sizeof single);
    return (double)single;
}

void bfi_json_summary(bfi_json *out, const bf_swim_summary *summary, const char *venue, double opened_ms,
                      int east_min) {
    char data[N_DIGITS + 1], *at = data;
    bf_swim_summary copy = *summary;
    double *number[N_NUMBERS];
    list_numbers(&copy, number);
    put_digits(&at, (uint64_t)summary->version, 8);
    put_digits(&at, summary->story, 16);
    put_digits(&at, (uint64_t)summary->prior.n_sessions, 8);
    for (int i = 0; i < N_NUMBERS; i++) put_digits(&at, bits_of(*number[i]), 8);
    *at = 0;
    bfi_json_object(out);
    bfi_json_key_text(out, "venue", venue);
    bfi_json_instant(out, "opened", opened_ms, east_min);
    bfi_json_key_text(out, "data", data);
    bfi_json_close(out);
}

/* 1 when the digits are a summary that can be learned from. */
static int read_data(const char *at, bf_swim_summary *summary) {
    double *number[N_NUMBERS];
    uint64_t version, sessions, word;
    list_numbers(summary, number);
    if (!read_digits(&at, 8, &version) || !read_digits(&at, 16, &summary->story) ||
        !read_digits(&at, 8, &sessions))
        return 0;
    if (version > 1000000 || sessions > 1000000) return 0;
    summary->version = (int)version;
    summary->prior.n_sessions = (int)sessions;
    for (int i = 0; i < N_NUMBERS; i++) {
        if (!read_digits(&at, 8, &word)) return 0;
        *number[i] = number_of(word);
        if (!isfinite(*number[i])) return 0;
    }
    for (int i = 0; i < N; i++)
        for (int k = i + 1; k < N; k++) summary->covariance[i][k] = summary->covariance[k][i];
    for (int i = 0; i < N; i++)
        if (!(summary->prior.sd[i] > 0) || summary->covariance[i][i] < 0) return 0;
    return 1;
}

/* ---- A request's ---- */

static bf_status refuse(bfi_ask *ask, bf_status status) {
    return bfi_ask_fail(ask, status, "learned", ACCEPTED);
}

/* The string under a key of a summary; 0: there is none of at most so many bytes. */
static int read_text(const bf_json *json, int object, const char *key, char *text, size_t most) {
    int value = bf_json_find(json, object, key);
    return value >= 0 && bf_json_kind_of(json, value) == BF_JSON_STRING &&
           bf_json_string(json, value, text, most) == BF_OK;
}

static bf_status read_one(bfi_ask *ask, int object, const char *venue, double before_ms,
                          bfi_learned_from *from) {
    char name[BF_NAME_BYTES + 1], opened[BF_INSTANT_BYTES], data[N_DIGITS + 1];
    double opened_ms;
    int east_min;
    if (bf_json_kind_of(&ask->json, object) != BF_JSON_OBJECT) return refuse(ask, BF_E_TYPE);
    if (!read_text(&ask->json, object, "venue", name, sizeof name) ||
        !read_text(&ask->json, object, "opened", opened, sizeof opened) ||
        !read_text(&ask->json, object, "data", data, sizeof data))
        return refuse(ask, BF_E_TYPE);
    if (bf_instant_read(opened, strlen(opened), &opened_ms, &east_min)) return refuse(ask, BF_E_SYNTAX);
    bf_swim_summary *summary = &from->summary[from->n];
    if (strlen(data) != N_DIGITS || !read_data(data, summary)) return refuse(ask, BF_E_SYNTAX);
    summary->venue = !name[0] ? -1 : strcmp(name, venue) != 0;
    from->n += opened_ms < before_ms;
    return BF_OK;
}

bf_status bfi_read_learned(bfi_ask *ask, const char *venue, double before_ms, bfi_learned_from *from) {
    const bf_json *json = &ask->json;
    int value = bf_json_find(json, 0, "learned");
    from->n = 0;
    if (value < 0) return BF_OK;
    if (bf_json_kind_of(json, value) != BF_JSON_ARRAY) return refuse(ask, BF_E_TYPE);
    for (int i = bf_json_first(json, value); i >= 0; i = bf_json_next(json, i)) {
        if (from->n == BFI_LEARNED_MOST) return refuse(ask, BF_E_SPACE);
        bf_status status = read_one(ask, i, venue, before_ms, from);
        if (status) return status;
    }
    return BF_OK;
}

/* No session that was fished leads further from the book than this many of its sd. */
#define MOST_OFF 8.0

bf_status bfi_learn(bfi_ask *ask, const bfi_learned_from *from, const char *venue, bf_swim_learned *learned) {
    bf_swim_prior book = bf_swim_book();
    *learned = bf_swim_learn(from->summary, from->n, venue[0] ? 0 : -1);
    for (int i = 0; i < N; i++) {
        double off = fabs(learned->prior.mean[i] - book.mean[i]), sd = learned->prior.sd[i];
        if (!(off <= MOST_OFF * book.sd[i]) || !(sd > 0 && sd <= MOST_OFF * book.sd[i]))
            return refuse(ask, BF_E_RANGE);
    }
    return BF_OK;
}
