/* random_event.h -- journals at random: every kind, every field, any mixture. Test code only; shares nothing
 * with the program but the tables that say which fields there are. */
#ifndef BAITFALL_TESTS_RANDOM_EVENT_H
#define BAITFALL_TESTS_RANDOM_EVENT_H

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "baitfall/event.h"

#define MAKER_NAMES 12
#define MAKER_START_MS 1775982600000.0 /* 2026-04-12T09:30:00+01:00 */

typedef struct maker {
    uint64_t state; /* of xorshift64* (S. Vigna, 2016), not 0 */
    int n_devices, n_sessions;
    int n; /* events made */
    double seq;
    double now_ms;
} maker;

static inline uint64_t maker_bits(maker *m) {
    m->state ^= m->state >> 12;
    m->state ^= m->state << 25;
    m->state ^= m->state >> 27;
    return m->state * 2685821657736338717u;
}

static inline int maker_below(maker *m, int n) {
    return (int)((maker_bits(m) >> 33) % (uint64_t)n);
}

static inline double maker_real(maker *m, double least, double most) {
    double u = (double)(maker_bits(m) >> 11) * 0x1p-53, x = least + (most - least) * u;
    switch (maker_below(m, 4)) {
    case 0: return least;
    case 1: return floor(x * 1000) / 1000 < least ? least : floor(x * 1000) / 1000;
    default: return x;
    }
}

static inline void maker_field(maker *m, const bf_field *field, void *member) {
    switch (field->kind) {
    case BF_INSTANT: *(double *)member = m->now_ms - maker_below(m, 7200000); break;
    case BF_REF: *(int *)member = maker_below(m, MAKER_NAMES); break;
    case BF_INT:
    case BF_CHOICE:
        *(int *)member = (int)field->least + maker_below(m, (int)(field->most - field->least) + 1);
        break;
    default: *(double *)member = maker_real(m, field->least, field->most); break;
    }
}

/* Fields that may not stand together are taken back. */
static inline void maker_agree(bf_event *e) {
    bf_body *b = &e->body;
    if (e->kind == BF_FEED || e->kind == BF_BOX || e->kind == BF_FIX) {
        if (!isnan(b->count)) b->volume_m3 = b->fill_frac = NAN;
        if (!isnan(b->volume_m3)) b->fill_frac = NAN;
        if (e->kind == BF_BOX && !(isnan(b->count) && isnan(b->volume_m3))) b->mass_kg = NAN;
    }
    if (b->to_ms < b->from_ms) {
        double swap = b->from_ms;
        b->from_ms = b->to_ms;
        b->to_ms = swap;
    }
}

/* The next event; of: ids of earlier ones, for corrections (NULL at first). */
static inline bf_event maker_event(maker *m, const bf_event *before) {
    bf_event e = {.kind = m->n ? maker_below(m, BF_N_EVENT_KINDS) : BF_OPEN};
    int session = maker_below(m, m->n_sessions);
    m->now_ms += maker_below(m, 60000);
    e.id = (bf_id){maker_bits(m), maker_bits(m) | 1};
    e.session = (bf_id){7, (uint64_t)session + 1};
    e.dev = (uint32_t)maker_below(m, m->n_devices) + 1;
    e.run = (uint32_t)maker_bits(m);
    e.seq = m->seq++;
    e.mono_ms = maker_below(m, 3) ? maker_real(m, 0, 1e7) : NAN;
    e.at_ms = m->now_ms - (maker_below(m, 5) ? 0 : maker_below(m, 600000));
    e.rec_ms = m->now_ms;
    e.at_east_min = maker_below(m, 2) ? 60 : -210;
    e.rec_east_min = 60;
    e.pm_s = maker_real(m, 0, 600);
    e.digest = maker_bits(m);
    bf_body_start(&e.body);
    uint64_t has = bf_event_fields(e.kind), must = bf_event_must(e.kind);
    for (int i = 0; i < bf_body_table.n_fields; i++)
        if ((must >> i & 1) || ((has >> i & 1) && maker_below(m, 2)))
            maker_field(m, &bf_body_table.field[i], (char *)&e.body + bf_body_table.field[i].offset);
    if (e.kind == BF_CLOCK) e.body.jump_s = maker_below(m, 7200) - 3600;
    maker_agree(&e);
    if (bf_event_is_correction(e.kind)) {
        const bf_event *target = &before[maker_below(m, m->n)];
        e.of = maker_below(m, 20) ? target->id : (bf_id){1, 1};
        if (maker_below(m, 20)) e.session = target->session;
    }
    m->n++;
    return e;
}

static inline maker maker_start(uint64_t seed, int n_devices, int n_sessions) {
    return (maker){.state = seed * 0x9E3779B97F4A7C15u + 1,
                   .n_devices = n_devices,
                   .n_sessions = n_sessions,
                   .seq = 1,
                   .now_ms = MAKER_START_MS};
}

static inline void maker_fill(maker *m, bf_event *events, int n) {
    for (int i = 0; i < n; i++) events[i] = maker_event(m, events);
}

static inline void maker_shuffle(maker *m, bf_event *events, int n) {
    for (int i = n - 1; i > 0; i--) {
        int k = maker_below(m, i + 1);
        bf_event swap = events[i];
        events[i] = events[k];
        events[k] = swap;
    }
}

#endif
