/* instant.h -- moments as text: RFC 3339, "2026-04-12T09:31:05.120+01:00".
 *
 * Inside they are whole milliseconds since 1970-01-01 UTC in a double (exact), beside them the local clock's
 * offset. No time zones, no leap seconds (a second 60 is the next minute's first). Pure. Tests:
 * tests/text/journal_test.c
 */
#ifndef BAITFALL_INSTANT_H
#define BAITFALL_INSTANT_H

#include <stddef.h>

#include "baitfall/status.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BF_INSTANT_BYTES 40 /* of text, its closing NUL included */

/* Reads text (n bytes, nothing around it). Fractions of any length, or none, rounded to milliseconds; the
 * offset, or Z, must be there; T and Z may be small.
 *
 * *ms        1900-01-02 to 9999-12-30 (BF_INSTANT_LEAST_MS, BF_INSTANT_MOST_MS); NaN on an error
 * *east_min  local clock minus UTC, less than a day either way; 0 on an error
 *
 * Returns BF_OK, BF_E_SYNTAX (other text, a day or hour that does not exist), BF_E_RANGE.
 * Example: "2026-04-12T09:31:05.120+01:00" -> 1775982665120, 60. */
BF_CHECK bf_status bf_instant_read(const char *text, size_t n, double *ms, int *east_min);

/* Writes it with milliseconds and offset ("+00:00", never Z). ms whole and in range, east_min less than a day
 * (asserted). Returns the length without the NUL. */
size_t bf_instant_write(double ms, int east_min, char out[BF_INSTANT_BYTES]);

/* The local clock at an instant: hour, minute and second of the day. */
void bf_instant_clock(double ms, int east_min, int *hour, int *minute, int *second);

#ifdef __cplusplus
}
#endif
#endif
