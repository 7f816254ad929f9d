/* fold.c -- what counts, when it was and in which order; see baitfall/fold.h. What happened in the water:
 * drop.c. */
#include "baitfall/fold.h"

#include <math.h>
#include <string.h>

#include "core/base/room.h"
#include "core/record/folding.h"
#include "core/record/mix.h"

#define CLOCK_SLACK_MS 2000.0
#define ECHO_MS 60000.0

/* ---- Memory ---- */

typedef struct layout {
    size_t live, drop, put_in, stretch, session, twin, by_id, entry, key, spare, by_seq, end;
} layout;

static size_t place(size_t *end, int n, size_t bytes) {
    size_t at = *end;
    *end += bfi_room((size_t)n * bytes);
    return at;
}

static layout layout_of(int n) {
    layout l = {0};
    l.live = place(&l.end, n, sizeof(bf_live));
    l.drop = place(&l.end, n, 2 * sizeof(bf_drop)); // one an event, and one more a session
    l.put_in = place(&l.end, n, sizeof(bf_put_in));
    l.stretch = place(&l.end, n, sizeof(bf_stretch));
    l.session = place(&l.end, n, sizeof(bf_session));
    l.twin = place(&l.end, n, sizeof(bf_twin));
    l.by_id = place(&l.end, n, sizeof(int));
    l.entry = place(&l.end, n, sizeof(bfi_entry));
    l.key = place(&l.end, n, sizeof(bfi_key));
    l.spare = place(&l.end, n, sizeof(bfi_key));
    l.by_seq = place(&l.end, n, sizeof(int));
    return l;
}

size_t bf_fold_bytes(int n_events) {
    return layout_of(n_events).end;
}

static bfi_folding folding_in(void *memory, int n, bf_fold *fold) {
    layout l = layout_of(n);
    char *at = memory;
    *fold = (bf_fold){0};
    fold->live = (void *)(at + l.live);
    fold->drop = (void *)(at + l.drop);
    fold->put_in = (void *)(at + l.put_in);
    fold->stretch = (void *)(at + l.stretch);
    fold->session = (void *)(at + l.session);
    fold->twin = (void *)(at + l.twin);
    fold->by_id = (void *)(at + l.by_id);
    return (bfi_folding){.n = n,
                         .fold = fold,
                         .entry = (void *)(at + l.entry),
                         .key = (void *)(at + l.key),
                         .spare = (void *)(at + l.spare),
                         .by_seq = (void *)(at + l.by_seq)};
}

/* ---- Each id once ---- */

static int is_same(bf_id a, bf_id b) {
    return a.high == b.high && a.low == b.low;
}

static void collect_entries(bfi_folding *f) {
    for (int i = 0; i < f->n; i++) {
        const bf_event *e = &f->events[i];
        f->key[i] = (bfi_key){e->id.high, e->id.low, e->digest, i};
    }
    bfi_sort(f->key, f->n, f->spare);
    for (int i = 0; i < f->n; i++) {
        const bf_event *e = &f->events[f->key[i].at];
        const bf_event *last = i ? &f->events[f->key[i - 1].at] : NULL;
        if (last && is_same(e->id, last->id)) {
            int is_known = e->digest == last->digest;
            f->fold->n_known += is_known;
            f->fold->n_clashes += !is_known;
            f->entry[f->fold->n_live - 1].is_clash |= !is_known;
            continue;
        }
        f->entry[f->fold->n_live++] = (bfi_entry){.event = e, .t_ms = e->at_ms, .pm_s = e->pm_s};
    }
}

/* The entry of an id, -1. */
static int find_entry(const bfi_folding *f, bf_id id) {
    int low = 0, high = f->fold->n_live;
    while (low < high) {
        int middle = low + (high - low) / 2;
        if (bf_id_order(f->entry[middle].event->id, id) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return low < f->fold->n_live && is_same(f->entry[low].event->id, id) ? low : -1;
}

/* ---- Sessions: first in the order of their ids ---- */

static void collect_sessions(bfi_folding *f) {
    bf_fold *fold = f->fold;
    for (int i = 0; i < fold->n_live; i++) {
        bf_id session = f->entry[i].event->session;
        f->key[i] = (bfi_key){session.high, session.low, 0, i};
    }
    bfi_sort(f->key, fold->n_live, f->spare);
    for (int i = 0; i < fold->n_live; i++) {
        bfi_entry *entry = &f->entry[f->key[i].at];
        bf_id id = entry->event->session;
        if (!i || !is_same(fold->session[fold->n_sessions - 1].id, id))
            fold->session[fold->n_sessions++].id = id;
        entry->session = fold->n_sessions - 1;
    }
}

/* ---- Corrections ---- */

static void order_by_seq(bfi_folding *f) {
    for (int i = 0; i < f->fold->n_live; i++) {
        const bf_event *e = f->entry[i].event;
        f->key[i] = (bfi_key){(uint64_t)e->seq, e->dev, 0, i};
    }
    bfi_sort(f->key, f->fold->n_live, f->spare);
    for (int i = 0; i < f->fold->n_live; i++) f->by_seq[i] = f->key[i].at;
}

/* The entry that a correction is about, -1: it means nothing. Fixes of corrections mean nothing; crossing a
 * fix out does. */
static int target_of(const bfi_folding *f, const bfi_entry *correction) {
    int i = find_entry(f, correction->event->of);
    if (i < 0 || f->entry[i].session != correction->session) return -1;
    int kind = f->entry[i].event->kind;
    int is_fine = !bf_event_is_correction(kind) || (kind == BF_FIX && correction->event->kind != BF_FIX);
    return is_fine ? i : -1;
}

static void cross_out(bfi_folding *f) {
    for (int k = 0; k < f->fold->n_live; k++) {
        const bfi_entry *correction = &f->entry[f->by_seq[k]];
        if (!bf_event_is_correction(correction->event->kind)) continue;
        int target = target_of(f, correction);
        if (target < 0)
            f->fold->n_idle++;
        else if (correction->event->kind != BF_FIX)
            f->entry[target].is_crossed = correction->event->kind == BF_CROSS;
    }
}

/* Corrections that fix: what each is about, NULL when this entry is none or is crossed out. */
static bfi_entry *fixed_by(const bfi_folding *f, const bfi_entry *fix) {
    if (fix->event->kind != BF_FIX || fix->is_crossed) return NULL;
    int target = target_of(f, fix);
    return target < 0 ? NULL : &f->entry[target];
}

/* ---- Clocks ---- */

/* An instant as the session's other clocks would have told it. */
static double put_right(double ms, double ahead_ms) {
    double right = floor(ms - ahead_ms + 0.5);
    if (right < BF_INSTANT_LEAST_MS) return BF_INSTANT_LEAST_MS;
    return right > BF_INSTANT_MOST_MS ? BF_INSTANT_MOST_MS : right;
}

static void put_stretch_right(bf_body *body, double ahead_ms) {
    if (body->from_ms == body->from_ms) body->from_ms = put_right(body->from_ms, ahead_ms);
    if (body->to_ms == body->to_ms) body->to_ms = put_right(body->to_ms, ahead_ms);
}

/* One device's clock in one session. */
typedef struct clock_state {
    double jumped_ms;     /* by `clock` events                                          */
    double behind_ms;     /* set back unseen: added while the clock has not caught up   */
    double latest_ms;     /* latest time of entry, put right                            */
    const bf_event *jump; /* the last of those events, NULL: none                       */
} clock_state;

/* The same jump, seen by two pages that were open on one device. */
static int is_echo(const bf_event *a, const bf_event *b) {
    return a && a->run != b->run && fabs(a->rec_ms - b->rec_ms) <= ECHO_MS &&
           fabs(a->body.jump_s - b->body.jump_s) * 1000 <= CLOCK_SLACK_MS;
}

static double clock_ahead_ms(clock_state *clock, const bfi_entry *entry) {
    const bf_event *e = entry->event;
    if (e->kind == BF_CLOCK && !entry->is_crossed && !is_echo(clock->jump, e)) {
        clock->jumped_ms += e->body.jump_s * 1000;
        clock->jump = e;
    }
    double rec_ms = e->rec_ms - clock->jumped_ms;
    if (rec_ms >= clock->latest_ms) clock->behind_ms = 0;
    if (rec_ms + clock->behind_ms < clock->latest_ms - CLOCK_SLACK_MS)
        clock->behind_ms = clock->latest_ms - rec_ms;
    rec_ms += clock->behind_ms;
    if (rec_ms > clock->latest_ms) clock->latest_ms = rec_ms;
    return clock->jumped_ms - clock->behind_ms;
}

static void put_clocks_right(bfi_folding *f) {
    int n = f->fold->n_live;
    for (int i = 0; i < n; i++) {
        const bfi_entry *entry = &f->entry[f->by_seq[i]];
        f->key[i] = (bfi_key){(uint64_t)entry->session, entry->event->dev, 0, f->by_seq[i]};
    }
    bfi_sort(f->key, n, f->spare);
    clock_state clock = {0};
    for (int i = 0; i < n; i++) {
        bfi_entry *entry = &f->entry[f->key[i].at];
        if (!i || bfi_key_order(&f->key[i - 1], &f->key[i]) != 0)
            clock = (clock_state){0, 0, BF_INSTANT_LEAST_MS, NULL};
        entry->ahead_ms = clock_ahead_ms(&clock, entry);
        entry->t_ms = put_right(entry->event->at_ms, entry->ahead_ms);
    }
}

/* Fixes of an event's instant and its give or take; the rest of a fix is for when the bodies are there. */
static void fix_instants(bfi_folding *f) {
    for (int k = 0; k < f->fold->n_live; k++) {
        const bfi_entry *fix = &f->entry[f->by_seq[k]];
        bfi_entry *entry = fixed_by(f, fix);
        if (!entry) continue;
        const bf_body *body = &fix->event->body;
        entry->n_fixes++;
        if (body->at_ms == body->at_ms) entry->t_ms = put_right(body->at_ms, fix->ahead_ms);
        if (body->pm_s == body->pm_s) entry->pm_s = body->pm_s;
    }
}

/* ---- Order ---- */

static int entry_counts(const bfi_entry *entry) {
    int kind = entry->event->kind;
    return !entry->is_crossed && !bf_event_is_correction(kind) && kind != BF_CLOCK;
}

int bfi_counts(const bf_live *live) {
    return !live->is_crossed && !bf_event_is_correction(live->kind) && live->kind != BF_CLOCK;
}

/* NaN counts as later than anything. */
static double earlier(double a, double b) {
    return a < b || b != b ? a : b;
}

/* When each session was opened: by its first `open`, else by the first of anything. */
static void find_openings(bfi_folding *f) {
    bf_fold *fold = f->fold;
    for (int s = 0; s < fold->n_sessions; s++) fold->session[s].opened_ms = fold->session[s].last_ms = BF_NAN;
    for (int i = 0; i < fold->n_live; i++) {
        const bfi_entry *entry = &f->entry[i];
        bf_session *session = &fold->session[entry->session];
        if (!entry_counts(entry)) continue;
        if (entry->event->kind == BF_OPEN) session->opened_ms = earlier(entry->t_ms, session->opened_ms);
        session->last_ms = earlier(entry->t_ms, session->last_ms); // the first, for now
    }
    for (int s = 0; s < fold->n_sessions; s++)
        if (fold->session[s].opened_ms != fold->session[s].opened_ms)
            fold->session[s].opened_ms = fold->session[s].last_ms;
}

/* Sessions by opening, then id. */
static void order_sessions(bfi_folding *f) {
    bf_fold *fold = f->fold;
    int *rank = fold->by_id; // not in use yet
    for (int s = 0; s < fold->n_sessions; s++) {
        const bf_session *session = &fold->session[s];
        f->key[s] = (bfi_key){bfi_key_of(session->opened_ms), session->id.high, session->id.low, s};
    }
    bfi_sort(f->key, fold->n_sessions, f->spare);
    for (int s = 0; s < fold->n_sessions; s++) {
        rank[f->key[s].at] = s;
        fold->session[s].id = (bf_id){f->key[s].b, f->key[s].c};
        fold->session[s].opened_ms = bfi_of_key(f->key[s].a);
    }
    for (int i = 0; i < fold->n_live; i++) f->entry[i].session = rank[f->entry[i].session];
}

/* Lives by session, instant, seq, dev, id. */
static void make_lives(bfi_folding *f) {
    bf_fold *fold = f->fold;
    for (int k = 0; k < fold->n_live; k++) {
        const bfi_entry *entry = &f->entry[f->by_seq[k]];
        f->key[k] = (bfi_key){(uint64_t)entry->session, bfi_key_of(entry->t_ms), 0, f->by_seq[k]};
    }
    bfi_sort(f->key, fold->n_live, f->spare);
    for (int i = 0; i < fold->n_live; i++) {
        const bfi_entry *entry = &f->entry[f->key[i].at];
        fold->by_id[f->key[i].at] = i;
        fold->live[i] = (bf_live){.event = (int)(entry->event - f->events),
                                  .session = entry->session,
                                  .kind = entry->event->kind,
                                  .t_ms = entry->t_ms,
                                  .pm_s = entry->pm_s,
                                  .body = entry->event->body,
                                  .is_crossed = entry->is_crossed,
                                  .n_fixes = entry->n_fixes,
                                  .is_clash = entry->is_clash};
        put_stretch_right(&fold->live[i].body, entry->ahead_ms);
    }
}

/* Of a stretch of which one end was fixed past the other. */
static void put_ends_in_order(bf_body *body) {
    if (!(body->from_ms > body->to_ms)) return;
    double from_ms = body->to_ms;
    body->to_ms = body->from_ms;
    body->from_ms = from_ms;
}

static void fix_bodies(bfi_folding *f) {
    for (int k = 0; k < f->fold->n_live; k++) {
        const bfi_entry *fix = &f->entry[f->by_seq[k]];
        const bfi_entry *entry = fixed_by(f, fix);
        if (!entry) continue;
        bf_live *live = &f->fold->live[f->fold->by_id[entry - f->entry]];
        bf_body body = fix->event->body;
        put_stretch_right(&body, fix->ahead_ms);
        bf_body_fix(&live->body, live->kind, &body);
        put_ends_in_order(&live->body);
    }
}

/* ---- Hash ---- */

static uint64_t bits_of(double x) {
    uint64_t bits;
    x += 0; // one zero
    memcpy(&bits, &x, sizeof bits);
    return bits;
}

static uint64_t hash_field(const bfi_folding *f, uint64_t hash, const bf_field *field, const void *member) {
    if (field->kind == BF_REAL || field->kind == BF_INSTANT)
        return bfi_mix(hash, bits_of(*(const double *)member));
    int value = *(const int *)member;
    if (field->kind != BF_REF) return bfi_mix(hash, (uint64_t)value);
    BF_ASSERT(value < f->n_names);
    return bfi_mix(hash, f->name_keys[value]);
}

static uint64_t hash_live(const bfi_folding *f, uint64_t hash, const bf_live *live) {
    const bf_event *e = &f->events[live->event];
    hash = bfi_mix(bfi_mix(hash, e->session.high), e->session.low);
    hash = bfi_mix(bfi_mix(hash, e->id.high), e->id.low);
    hash = bfi_mix(hash, (uint64_t)live->kind);
    hash = bfi_mix(bfi_mix(hash, bits_of(live->t_ms)), bits_of(live->pm_s));
    for (int i = 0; i < bf_body_table.n_fields; i++) {
        const bf_field *field = &bf_body_table.field[i];
        const void *member = (const char *)&live->body + field->offset;
        if (bf_field_is_given(field, member)) hash = hash_field(f, bfi_mix(hash, (uint64_t)i), field, member);
    }
    return hash;
}

static uint64_t hash_state(const bfi_folding *f) {
    uint64_t hash = 0;
    for (int i = 0; i < f->fold->n_live; i++) {
        const bf_live *live = &f->fold->live[i];
        if (!live->is_crossed && !bf_event_is_correction(live->kind)) hash = hash_live(f, hash, live);
    }
    return hash;
}

/* ---- The whole ---- */

bf_status bf_fold_events(const bf_event *events, int n, const uint64_t *name_keys, int n_names, void *memory,
                         bf_fold *fold) {
    bfi_folding f = folding_in(memory, n, fold);
    f.events = events;
    f.name_keys = name_keys;
    f.n_names = n_names;
    collect_entries(&f);
    collect_sessions(&f);
    order_by_seq(&f);
    cross_out(&f);
    put_clocks_right(&f);
    fix_instants(&f);
    find_openings(&f);
    order_sessions(&f);
    make_lives(&f);
    fix_bodies(&f);
    bfi_fold_drops(&f);
    fold->hash = hash_state(&f);
    return BF_OK;
}

static void reach(bf_span *span, double ms) {
    if (ms < span->from_ms) span->from_ms = ms;
    if (ms > span->to_ms) span->to_ms = ms;
}

bf_span bf_session_span(const bf_fold *fold, int i_session) {
    const bf_session *s = &fold->session[i_session];
    bf_span span = {s->opened_ms, isfinite(s->closed_ms) ? s->closed_ms : s->last_ms};
    for (int i = s->drop_from; i < s->drop_to; i++) reach(&span, fold->drop[i].end_ms);
    for (int i = s->put_from; i < s->put_to; i++)
        if (!(fold->put_in[i].t_ms > s->closed_ms)) reach(&span, fold->put_in[i].t_ms);
    for (int i = s->stretch_from; i < s->stretch_to; i++) {
        reach(&span, fold->stretch[i].from_ms);
        reach(&span, fold->stretch[i].to_ms);
    }
    return span;
}

int bf_fold_open_session(const bf_fold *fold) {
    for (int s = fold->n_sessions; s-- > 0;) {
        const bf_session *session = &fold->session[s];
        if (session->opened_ms == session->opened_ms && session->close_live < 0) return s;
    }
    return -1;
}

int bf_fold_lessons(const bf_fold *fold, double before_ms, int most, int *session) {
    int n = 0;
    for (int i = fold->n_sessions - 1; i >= 0 && n < most; i--) {
        const bf_session *s = &fold->session[i];
        if (s->opened_ms < before_ms && s->put_to > s->put_from && s->drop_to > s->drop_from)
            session[n++] = i;
    }
    return n;
}

int bf_fold_find(const bf_fold *fold, const bf_event *events, bf_id id) {
    int low = 0, high = fold->n_live;
    while (low < high) {
        int middle = low + (high - low) / 2;
        int order = bf_id_order(events[fold->live[fold->by_id[middle]].event].id, id);
        if (order == 0) return fold->by_id[middle];
        if (order < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return -1;
}
