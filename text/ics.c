/* ics.c -- see baitfall/ics.h. */
#include "baitfall/ics.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "baitfall/field.h"
#include "baitfall/instant.h"
#include "core/picture/svg.h"

#define LINE_OCTETS 75
#define FOR_MOST_S 604800.0

/* ---- Lines: folded before the 76th octet, never inside a character ---- */

typedef struct sheet {
    bfi_pen pen;
    int n_line; /* octets on the line so far */
} sheet;

static void end_line(sheet *s) {
    bfi_put(&s->pen, "\r\n");
    s->n_line = 0;
}

static int character_octets(unsigned char first) {
    return first < 0x80 ? 1 : first < 0xe0 ? 2 : first < 0xf0 ? 3 : 4;
}

static void put_octets(sheet *s, const char *octets, int n) {
    if (s->n_line + n > LINE_OCTETS) {
        bfi_put(&s->pen, "\r\n ");
        s->n_line = 1;
    }
    bfi_put_bytes(&s->pen, octets, (size_t)n);
    s->n_line += n;
}

static void put_plain(sheet *s, const char *text) {
    while (*text) {
        int n = character_octets((unsigned char)*text);
        put_octets(s, text, n);
        text += n;
    }
}

/* A value of type TEXT. Control characters other than a line's end have no place in one and are left out. */
static void put_text(sheet *s, const char *text) {
    for (; *text; text += character_octets((unsigned char)*text)) {
        unsigned char c = (unsigned char)*text;
        if (c == '\n')
            put_octets(s, "\\n", 2);
        else if (c == '\\' || c == ';' || c == ',')
            put_octets(s, (const char[]){'\\', *text}, 2);
        else if (c >= 0x20 && c != 0x7f)
            put_octets(s, text, character_octets(c));
    }
}

static void put_line(sheet *s, const char *line) {
    put_plain(s, line);
    end_line(s);
}

/* ---- Values ---- */

/* "2026-04-12T13:20:00.000+00:00" -> "20260412T132000Z" */
static void put_time(sheet *s, const char *property, double at_ms) {
    char rfc3339[BF_INSTANT_BYTES], compact[] = "00000000T000000Z";
    bf_instant_write(at_ms, 0, rfc3339);
    for (int from = 0, to = 0; to < 15; from++)
        if (rfc3339[from] != '-' && rfc3339[from] != ':') compact[to++] = rfc3339[from];
    put_plain(s, property);
    put_line(s, compact);
}

/* FNV-1a 64 (public domain; from memory). */
static uint64_t mix(uint64_t hash, const void *bytes, size_t n) {
    const unsigned char *at = bytes;
    for (size_t i = 0; i < n; i++) hash = (hash ^ at[i]) * 0x100000001b3u;
    return hash;
}

static void put_uid(sheet *s, const char *name, const bf_ics_event *event) {
    static const char digits[] = "0123456789abcdef";
    int64_t at_ms = (int64_t)event->at_ms;
    char hex[17] = {0};
    uint64_t hash = mix(0xcbf29ce484222325u, name, strlen(name) + 1);
    hash = mix(hash, event->text, strlen(event->text) + 1);
    for (int i = 0; i < 64; i += 8) hash = mix(hash, &(unsigned char){(unsigned char)(at_ms >> i)}, 1);
    for (int i = 0; i < 16; i++) hex[i] = digits[hash >> (60 - 4 * i) & 15];
    put_plain(s, "UID:");
    put_plain(s, hex);
    put_line(s, "@baitfall.invalid");
}

static void put_event(sheet *s, const char *name, const bf_ics_event *event, double now_ms) {
    put_line(s, "BEGIN:VEVENT");
    put_uid(s, name, event);
    put_time(s, "DTSTAMP:", now_ms);
    put_time(s, "DTSTART:", event->at_ms);
    if (event->for_s > 0) put_time(s, "DTEND:", event->at_ms + floor(event->for_s) * 1000);
    put_plain(s, "SUMMARY:");
    put_text(s, event->text);
    end_line(s);
    put_line(s, "BEGIN:VALARM");
    put_line(s, "ACTION:DISPLAY");
    put_line(s, "TRIGGER:PT0S");
    put_plain(s, "DESCRIPTION:");
    put_text(s, event->text);
    end_line(s);
    put_line(s, "END:VALARM");
    put_line(s, "END:VEVENT");
}

static int is_instant(double ms) {
    return ms >= BF_INSTANT_LEAST_MS && ms + FOR_MOST_S * 1000 <= BF_INSTANT_MOST_MS;
}

static bf_status check(const bf_ics_event *events, int n, double now_ms) {
    if (!is_instant(now_ms)) return BF_E_RANGE;
    for (int i = 0; i < n; i++)
        if (!is_instant(events[i].at_ms) || !(events[i].for_s >= 0 && events[i].for_s <= FOR_MOST_S))
            return BF_E_RANGE;
    return BF_OK;
}

bf_status bf_ics_write(const char *name, const bf_ics_event *events, int n, double now_ms, char *out,
                       size_t most, size_t *n_out) {
    sheet s = {bfi_pen_open(out, most), 0};
    bf_status status = check(events, n, now_ms);
    *n_out = 0;
    if (status) return status;
    put_line(&s, "BEGIN:VCALENDAR");
    put_line(&s, "VERSION:2.0");
    put_line(&s, "PRODID:-//the Baitfall authors//baitfall//EN");
    put_plain(&s, "NAME:");
    put_text(&s, name);
    end_line(&s);
    for (int i = 0; i < n; i++) put_event(&s, name, &events[i], now_ms);
    put_line(&s, "END:VCALENDAR");
    if (s.pen.is_short) {
        out[0] = 0;
        return BF_E_SPACE;
    }
    *n_out = s.pen.n;
    return BF_OK;
}
