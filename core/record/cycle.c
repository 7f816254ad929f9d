/* cycle.c -- see cycle.h. */
#include "core/record/cycle.h"

#include <math.h>

#include "core/base/calendar.h"

#define DAY_MIN 1440.0
#define LEAST_H (1.0 / 3600) /* no fish is caught in no time */
#define UNKNOWN_MS 60000.0   /* a drop of which nobody knows when it began (judgement, as in story.h) */

static double at_least(double h) {
    return h > LEAST_H ? h : LEAST_H;
}

double bfi_overlap_ms(double a_from, double a_to, double b_from, double b_to) {
    double from = a_from > b_from ? a_from : b_from, to = a_to < b_to ? a_to : b_to;
    return to > from ? to - from : 0;
}

double bfi_stretch_part(const bf_stretch *stretch, double from_ms, double to_ms) {
    double length = stretch->to_ms - stretch->from_ms;
    if (length > 0) return bfi_overlap_ms(stretch->from_ms, stretch->to_ms, from_ms, to_ms) / length;
    return stretch->from_ms >= from_ms && stretch->from_ms < to_ms;
}

double bfi_stretch_h(const bf_stretch *stretch) {
    return at_least((stretch->to_ms - stretch->from_ms) / 3.6e6);
}

static double local_min(double ms, int east_min) {
    return floor(ms / 60000) + east_min;
}

int bfi_half_of_day(double ms, int east_min) {
    double minutes = local_min(ms, east_min), of_day = minutes - DAY_MIN * floor(minutes / DAY_MIN);
    return (int)(of_day / 30);
}

int bfi_month(double ms, int east_min) {
    int year, month, day;
    bfi_date_of((int64_t)floor(local_min(ms, east_min) / DAY_MIN), &year, &month, &day);
    return month - 1;
}

static double cycle_from_ms(const bf_fold *fold, int i_drop) {
    const bf_drop *drop = &fold->drop[i_drop];
    const bf_session *session = &fold->session[drop->session];
    if (i_drop > session->drop_from) return fold->drop[i_drop - 1].end_ms;
    double from = isnan(drop->base_ms) ? session->opened_ms : drop->base_ms;
    return from < drop->end_ms ? from : drop->end_ms - UNKNOWN_MS;
}

double bfi_cycle_h(const bf_fold *fold, int i_drop) {
    const bf_drop *drop = &fold->drop[i_drop];
    const bf_session *session = &fold->session[drop->session];
    double from = cycle_from_ms(fold, i_drop), h = (drop->end_ms - from) / 3.6e6;
    for (int i = session->stretch_from; i < session->stretch_to; i++) {
        const bf_stretch *stretch = &fold->stretch[i];
        h -= bfi_overlap_ms(stretch->from_ms, stretch->to_ms, from, drop->end_ms) / 3.6e6;
    }
    return at_least(h);
}

static const bf_put_in *put_of(const bf_fold *fold, int i_drop) {
    int put = fold->drop[i_drop].put;
    return put < 0 ? NULL : &fold->put_in[fold->put_in[put].first];
}

int bfi_drop_bait(const bf_fold *fold, int i_drop) {
    const bf_put_in *put = put_of(fold, i_drop);
    return put ? put->bait : -1;
}

int bfi_drop_how(const bf_fold *fold, int i_drop) {
    const bf_put_in *put = put_of(fold, i_drop);
    return put ? put->how : -1;
}

int bfi_stretch_put_in(const bf_fold *fold, int i_stretch) {
    const bf_stretch *stretch = &fold->stretch[i_stretch];
    const bf_session *session = &fold->session[stretch->session];
    int last = -1;
    for (int i = session->put_from; i < session->put_to; i++)
        if (fold->put_in[i].t_ms <= stretch->from_ms) last = fold->put_in[i].first;
    return last;
}
