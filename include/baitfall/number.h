/* number.h -- doubles as text and back, the same bytes everywhere.
 *
 * The C library's strtod and printf follow the locale, differ between libraries and pull output code into wasm; these
 * use only integers. Exact arithmetic on big integers throughout, so every result is correctly rounded.
 *
 * Pure. No allocation; the stack use is below 4 KiB. Tests: tests/text/number_test.c (against strtod and printf).
 */
#ifndef BAITFALL_NUMBER_H
#define BAITFALL_NUMBER_H

#include <stddef.h>

#include "baitfall/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Bytes that hold any number written here, with its closing NUL. */
#define BF_NUMBER_MOST 40

/* Length of the JSON number at the start of text (n bytes): -? (0 | [1-9][0-9]*) (. [0-9]+)? ([eE] [+-]? [0-9]+)?
 * 0 when there is none. Example: "1.5m" -> 3, "5eggs" -> 1, ".5" -> 0. */
size_t bf_number_span(const char *text, size_t n);

/* The double nearest to the number written in text (n bytes, nothing before or after it), ties to even.
 *
 * Method   at most 15 digits and a power of ten up to 22: one exact operation; else long division of big integers
 *          (digits beyond 800 only count as "something more", which is enough: 767 decide any double).
 *
 * Returns BF_OK; BF_E_SYNTAX when text is not exactly one JSON number; BF_E_NOT_FINITE when it rounds to infinity.
 * *value is NaN on error. Numbers too small become 0 with their sign. Example: "4e-3" -> 0.004. */
BF_CHECK bf_status bf_number_read(const char *text, size_t n, double *value);

/* The shortest text that bf_number_read turns back into the same double, and of those the nearest to it.
 *
 * Form     plain digits from 1e-7 up to below 1e21 in size, else with an exponent ("1e-7", "1.5e+21"): the form that
 *          ECMAScript prescribes for its numbers, so that the page writes the same bytes; except that -0 is "-0".
 * Source   R. G. Burger and R. K. Dybvig, "Printing floating-point numbers quickly and accurately", PLDI 1996.
 *
 * value  finite (asserted);  out (out BF_NUMBER_MOST) ends with NUL.  Returns the length without the NUL. */
size_t bf_number_write(double value, char out[BF_NUMBER_MOST]);

/* The number with a fixed count of decimals, for people: correctly rounded, exact ties to even, never "-0".
 * From 1e21 in size upwards it is written as bf_number_write does.
 *
 * value  finite (asserted);  decimals 0 .. 9 (asserted).  Example: 1.5, 2 -> "1.50"; 0.125, 2 -> "0.12". */
size_t bf_number_fixed(double value, int decimals, char out[BF_NUMBER_MOST]);

#ifdef __cplusplus
}
#endif
#endif
