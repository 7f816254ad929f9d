/* ics.h -- a few appointments as an iCalendar file (RFC 5545), each with an alarm: because a web page may not ring while
 * the screen is off, but the phone's own calendar does.
 *
 * Pure: no clock; the caller says when the file is written. Tests: tests/text/ics_test.c
 *
 * Source   RFC 5545: 3.1 (lines of at most 75 octets, CRLF), 3.3.5 (UTC times), 3.3.11 (escaped text), 3.6.1, 3.6.6 (a
 *          display alarm at the start), 3.8.4.7 (UID); RFC 7986 5.1 (NAME). A UID is made of name, text and time: the same plan read in again
 *          replaces its appointments instead of doubling them.
 */
#ifndef BAITFALL_ICS_H
#define BAITFALL_ICS_H

#include <stddef.h>

#include "baitfall/status.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct bf_ics_event {
    double at_ms;     /* whole milliseconds since 1970 UTC; seconds are written */
    double for_s;     /* 0: no length                                           */
    const char *text; /* UTF-8, one line or more; what is to be done            */
} bf_ics_event;

/* Writes n events as one calendar.
 *
 * name    of the plan, UTF-8; the calendar's name and part of each UID
 * now_ms  when the file is written (DTSTAMP)
 * out     (out most) ended by a 0 byte, "" on error; 1 KiB and 500 bytes an event more than their texts are enough
 *
 * Returns BF_OK, BF_E_RANGE (a time outside BF_INSTANT_LEAST_MS .. BF_INSTANT_MOST_MS, or for_s outside 0 .. 604800),
 * BF_E_SPACE.
 * Example   1776000000000 -> DTSTART:20260412T132000Z */
BF_CHECK bf_status bf_ics_write(const char *name, const bf_ics_event *events, int n, double now_ms, char *out,
                                size_t most, size_t *n_out);

#ifdef __cplusplus
}
#endif
#endif
