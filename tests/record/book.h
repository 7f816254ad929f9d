/* book.h -- a journal written by hand, an event at a time, and its fold. Test code only. */
#ifndef BAITFALL_TESTS_BOOK_H
#define BAITFALL_TESTS_BOOK_H

#include "baitfall/fold.h"
#include "common/check.h"
#include "common/random_event.h"

typedef struct book {
    int n;
    bf_event event[64];
    bf_fold fold;
    void *memory;
} book;

/* Names that the tests use. */
enum { LONG, MARGIN, MICROS, HARD_SIX, CORN, N_NAMES };

static const uint64_t keys[MAKER_NAMES] = {11, 22, 33, 44, 55, 66, 77, 88, 99, 110, 121, 132};

static inline void fold_events(const bf_event *events, int n, bf_fold *fold, void **memory) {
    *memory = malloc(bf_fold_bytes(n) + 1);
    memset(*memory, 0xA5, bf_fold_bytes(n));
    assert_int_equal(bf_fold_events(events, n, keys, MAKER_NAMES, *memory, fold), BF_OK);
}

static inline void fold_book(book *b) {
    free(b->memory);
    for (int i = 0; i < b->n; i++) assert_int_equal(bf_event_check(&b->event[i], NULL), BF_OK);
    fold_events(b->event, b->n, &b->fold, &b->memory);
}

/* One more event so many seconds into the day; its number is its id and seq. */
static inline bf_event *enter(book *b, int kind, double at_s) {
    bf_event *e = &b->event[b->n++];
    *e = (bf_event){.id = {1, (uint64_t)b->n},
                    .session = {1, 1},
                    .dev = 1,
                    .run = 1,
                    .seq = b->n,
                    .mono_ms = 1e7 + b->n * 1000,
                    .kind = kind,
                    .at_ms = MAKER_START_MS + at_s * 1000,
                    .rec_ms = MAKER_START_MS + at_s * 1000,
                    .at_east_min = 60,
                    .rec_east_min = 60,
                    .pm_s = 5,
                    .digest = (uint64_t)b->n};
    bf_body_start(&e->body);
    return e;
}

static inline bf_event *lift(book *b, double at_s, int outcome) {
    bf_event *e = enter(b, BF_LIFT, at_s);
    e->body.outcome = outcome;
    return e;
}

static inline bf_event *feed(book *b, double at_s, int spot, int how) {
    bf_event *e = enter(b, BF_FEED, at_s);
    e->body.bait = MICROS;
    e->body.spot = spot;
    e->body.how = how;
    return e;
}

static inline bf_event *correct(book *b, int kind, const bf_event *of) {
    bf_event *e = enter(b, kind, b->n * 10 + 5000);
    e->of = of->id;
    return e;
}

static inline double t_s(double ms) {
    return (ms - MAKER_START_MS) / 1000;
}

#endif
