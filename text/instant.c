/* instant.c -- see baitfall/instant.h. */
#include "baitfall/instant.h"

#include <math.h>
#include <stdint.h>

#include "baitfall/field.h"
#include "core/base/calendar.h"

#define MINUTE_MS 60000
#define DAY_MS 86400000LL
#define DAY_MIN 1440

/* ---- Reading ---- */

typedef struct scan {
    const char *at, *end;
    int is_bad;
} scan;

static int take_digits(scan *s, int n) {
    int value = 0;
    if (s->end - s->at < n) s->is_bad = 1;
    for (; n > 0 && !s->is_bad; n--, s->at++) {
        if (*s->at < '0' || *s->at > '9') s->is_bad = 1;
        value = value * 10 + (*s->at - '0');
    }
    return value;
}

/* One of two characters: 1 for the first. */
static int take_either(scan *s, char a, char b) {
    if (s->is_bad || s->at == s->end || (*s->at != a && *s->at != b)) {
        s->is_bad = 1;
        return 0;
    }
    return *s->at++ == a;
}

static int next_is(const scan *s, char c) {
    return !s->is_bad && s->at < s->end && *s->at == c;
}

/* ".12" -> 120 */
static int take_fraction_ms(scan *s) {
    int thousandths = 0, n = 0, rounds_up = 0;
    if (!next_is(s, '.')) return 0;
    for (s->at++; s->at < s->end && *s->at >= '0' && *s->at <= '9'; s->at++, n++) {
        if (n < 3) thousandths = thousandths * 10 + (*s->at - '0');
        if (n == 3) rounds_up = *s->at >= '5';
    }
    if (!n) s->is_bad = 1;
    for (; n < 3; n++) thousandths *= 10;
    return thousandths + rounds_up;
}

static int take_offset_min(scan *s) {
    if (next_is(s, 'Z') || next_is(s, 'z')) {
        s->at++;
        return 0;
    }
    int is_east = take_either(s, '+', '-');
    int hours = take_digits(s, 2);
    take_either(s, ':', ':');
    int minutes = take_digits(s, 2);
    if (hours > 23 || minutes > 59) s->is_bad = 1;
    return is_east ? hours * 60 + minutes : -(hours * 60 + minutes);
}

bf_status bf_instant_read(const char *text, size_t n, double *ms, int *east_min) {
    scan s = {text, text + n, 0};
    *ms = BF_NAN;
    *east_min = 0;
    int year = take_digits(&s, 4);
    take_either(&s, '-', '-');
    int month = take_digits(&s, 2);
    take_either(&s, '-', '-');
    int day = take_digits(&s, 2);
    take_either(&s, 'T', 't');
    int hour = take_digits(&s, 2);
    take_either(&s, ':', ':');
    int minute = take_digits(&s, 2);
    take_either(&s, ':', ':');
    int second = take_digits(&s, 2);
    int fraction_ms = take_fraction_ms(&s);
    int offset_min = take_offset_min(&s);
    if (s.is_bad || s.at != s.end || month < 1 || month > 12 || day < 1 || hour > 23 || minute > 59 ||
        second > 60 || day > bfi_days_in_month(year, month))
        return BF_E_SYNTAX;
    if (year < 1) return BF_E_RANGE;
    int64_t minutes = bfi_days_of(year, month, day) * DAY_MIN + hour * 60 + minute - offset_min;
    double found = (double)(minutes * MINUTE_MS + second * 1000 + fraction_ms);
    if (found < BF_INSTANT_LEAST_MS || found > BF_INSTANT_MOST_MS) return BF_E_RANGE;
    *ms = found;
    *east_min = offset_min;
    return BF_OK;
}

/* ---- Writing ---- */

static int64_t local_ms(double ms, int east_min) {
    BF_ASSERT(ms >= BF_INSTANT_LEAST_MS && ms <= BF_INSTANT_MOST_MS && ms == floor(ms));
    BF_ASSERT(east_min > -DAY_MIN && east_min < DAY_MIN);
    return (int64_t)ms + (int64_t)east_min * MINUTE_MS;
}

/* Whole days, and the rest of the day. */
static int64_t split_day(int64_t ms, int *of_day_ms) {
    int64_t days = ms >= 0 ? ms / DAY_MS : -((DAY_MS - 1 - ms) / DAY_MS);
    *of_day_ms = (int)(ms - days * DAY_MS);
    return days;
}

static char *put_digits(char *to, int value, int n) {
    for (int i = n; i-- > 0; value /= 10) to[i] = (char)('0' + value % 10);
    return to + n;
}

static char *put_with(char *to, char mark, int value, int n) {
    *to++ = mark;
    return put_digits(to, value, n);
}

size_t bf_instant_write(double ms, int east_min, char out[BF_INSTANT_BYTES]) {
    int year, month, day, rest;
    bfi_date_of(split_day(local_ms(ms, east_min), &rest), &year, &month, &day);
    char *to = put_digits(out, year, 4);
    to = put_with(to, '-', month, 2);
    to = put_with(to, '-', day, 2);
    to = put_with(to, 'T', rest / 3600000, 2);
    to = put_with(to, ':', rest / MINUTE_MS % 60, 2);
    to = put_with(to, ':', rest / 1000 % 60, 2);
    to = put_with(to, '.', rest % 1000, 3);
    int size_min = east_min < 0 ? -east_min : east_min;
    to = put_with(to, east_min < 0 ? '-' : '+', size_min / 60, 2);
    to = put_with(to, ':', size_min % 60, 2);
    *to = 0;
    return (size_t)(to - out);
}

void bf_instant_clock(double ms, int east_min, int *hour, int *minute, int *second) {
    int rest;
    split_day(local_ms(ms, east_min), &rest);
    *hour = rest / 3600000;
    *minute = rest / MINUTE_MS % 60;
    *second = rest / 1000 % 60;
}
