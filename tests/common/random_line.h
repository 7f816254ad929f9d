/* random_line.h -- random events as lines of a journal, written by printf: names and notes as hostile as they
 * come. Test code only. */
#ifndef BAITFALL_TESTS_RANDOM_LINE_H
#define BAITFALL_TESTS_RANDOM_LINE_H

#include <stdio.h>
#include <time.h>

#include "common/random_event.h"

static const char *const maker_names[MAKER_NAMES] = {
    "long",
    "=HYPERLINK(\"x\";\"y\")",
    "<script>alert('1')</script>",
    "\xE2\x80\xAE\xD7\xA9\xD7\x9C\xD7\x95\xD7\x9D", /* right to left, overridden */
    "\xF0\x9F\x90\x9F\xF0\x9F\x90\x9F",             /* two fish */
    "'",
    "''=1",
    "a, \"b\"",
    "-5",
    "@at \\ back",
    "48 bytes exactly, counted with care and twice...",
    " blank at both ends ",
};

/* Text as a JSON string at out + *n. */
static inline void put_string(char *out, size_t *n, const char *text) {
    out[(*n)++] = '"';
    for (; *text; text++) {
        unsigned char c = (unsigned char)*text;
        if (c < 0x20 || c == '"' || c == '\\')
            *n += (size_t)sprintf(out + *n, "\\u%04x", c);
        else
            out[(*n)++] = *text;
    }
    out[(*n)++] = '"';
}

/* "" one time in three, else up to 300 bytes. */
static inline void random_note(maker *m, char *note) {
    static const char *const pieces[] = {
        "=cmd|'/C calc'!A0", "\r\n",    "\n", "\"", ",",   "\t", "'", "\x01", "wind easing", "\xE2\x80\x8F",
        "\xF0\x9F\x8E\xA3",  "\\u0000", "+",  "{}", "<b>", ";"};
    size_t n = 0;
    int n_pieces = maker_below(m, 3) ? maker_below(m, 12) : 0;
    note[0] = 0;
    for (int i = 0; i < n_pieces; i++) n += (size_t)sprintf(note + n, "%s", pieces[maker_below(m, 16)]);
}

static inline void put_random_instant(char *out, size_t *n, double ms, int east_min) {
    time_t seconds = (time_t)floor(ms / 1000) + east_min * 60;
    struct tm t;
    char text[40];
    gmtime_r(&seconds, &t);
    strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%S", &t);
    *n += (size_t)sprintf(out + *n, "\"%s.%03d%c%02d:%02d\"", text, (int)(ms - floor(ms / 1000) * 1000),
                          east_min < 0 ? '-' : '+', abs(east_min) / 60, abs(east_min) % 60);
}

static inline void put_body_field(char *out, size_t *n, const bf_event *e, const bf_field *field) {
    const void *member = (const char *)&e->body + field->offset;
    *n += (size_t)sprintf(out + *n, "\"%s\":", field->name);
    switch (field->kind) {
    case BF_REF: put_string(out, n, maker_names[*(const int *)member]); break;
    case BF_CHOICE: put_string(out, n, field->words[*(const int *)member]); break;
    case BF_INT: *n += (size_t)sprintf(out + *n, "%d", *(const int *)member); break;
    case BF_INSTANT: put_random_instant(out, n, *(const double *)member, e->rec_east_min); break;
    default: *n += (size_t)sprintf(out + *n, "%.17g", *(const double *)member); break;
    }
}

/* The line of an event, its body's members in random order. Returns its length. */
static inline size_t write_line(maker *m, const bf_event *e, const char *note, char *out) {
    size_t n = 0;
    n += (size_t)sprintf(
        out,
        "{\"v\":1,\"id\":\"%016llx%016llx\",\"session\":\"%016llx%016llx\",\"dev\":\"%08x\",\"run\":\"%08x\","
        "\"seq\":%.17g,",
        (unsigned long long)e->id.high, (unsigned long long)e->id.low, (unsigned long long)e->session.high,
        (unsigned long long)e->session.low, (unsigned)e->dev, (unsigned)e->run, e->seq);
    if (!isnan(e->mono_ms)) n += (size_t)sprintf(out + n, "\"mono_ms\":%.17g,", e->mono_ms);
    n += (size_t)sprintf(out + n, "\"kind\":\"%s\",\"at\":", bf_event_words[e->kind]);
    put_random_instant(out, &n, e->at_ms, e->at_east_min);
    n += (size_t)sprintf(out + n, ",\"pm_s\":%.17g,\"rec\":", e->pm_s);
    put_random_instant(out, &n, e->rec_ms, e->rec_east_min);
    if (bf_event_is_correction(e->kind))
        n += (size_t)sprintf(out + n, ",\"of\":\"%016llx%016llx\"", (unsigned long long)e->of.high,
                             (unsigned long long)e->of.low);
    n += (size_t)sprintf(out + n, ",\"body\":{");
    int start = maker_below(m, bf_body_table.n_fields), n_members = 0;
    for (int k = 0; k < bf_body_table.n_fields; k++) {
        int i = (start + k) % bf_body_table.n_fields;
        if (!bf_body_has(&e->body, i)) continue;
        if (n_members++) out[n++] = ',';
        put_body_field(out, &n, e, &bf_body_table.field[i]);
    }
    if (note[0]) {
        n += (size_t)sprintf(out + n, "%s\"note\":", n_members ? "," : "");
        put_string(out, &n, note);
    }
    n += (size_t)sprintf(out + n, "}}");
    return n;
}

#endif
