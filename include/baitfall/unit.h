/* unit.h -- quantities with their units as text, read and written.
 *
 * What is understood, for the dimension a field asks for (capital or small letters alike):
 *
 *     length       mm cm m in ft   5ft 3in   5' 3"         volume    ml l cm3 m3
 *     area         cm2 m2                                  mass      g kg oz lb   4lb 6oz
 *     density      kg/m3 g/cm3                             time      s min h   1 min 30 s
 *     temperature  C F                                     speed     cm/s m/s km/h mph kn   3 Beaufort
 *     angle        deg                                     force     mN N
 *     viscosity    mPa s, Pa s                             tension   mN/m N/m      pressure  Pa hPa kPa
 *     ratio        no unit, or %
 *
 * after each "give or take" (or "+-", "+/-", the plus-minus sign) and a second amount; one unit may serve both.
 * "don't know" stands for a quantity that is not known. Prime marks, degree and superscript signs are optional UTF-8.
 *
 * Sources  inch 25.4 mm, foot 0.3048 m, pound 0.45359237 kg, all exact: international yard and pound agreement, 1959;
 *          mile 1609.344 m by the same; nautical mile 1852 m: Monaco conference, 1929. Fahrenheit: (F - 32) / 1.8 C.
 *          Beaufort: v = 0.836 B^1.5 m/s, the scale of the WMO (Manual on Codes; from memory), with half the width of
 *          its class, between B - 0.5 and B + 0.5, as give or take.
 *
 * Pure. Tests: tests/text/unit_test.c
 */
#ifndef BAITFALL_UNIT_H
#define BAITFALL_UNIT_H

#include "baitfall/field.h"
#include "baitfall/number.h"
#include "baitfall/summary.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Reads text (n bytes) as a quantity of one dimension.
 *
 * *quantity  SI; pm is 0 when *says_pm is 0. "Don't know": is_unknown 1, value and pm NaN. On error both are NaN.
 * *says_pm   1 when the text carries its own "give or take" (a Beaufort force does)
 *
 * Returns BF_OK
 *         BF_E_SYNTAX      no number where one is due, or a negative "give or take"
 *         BF_E_UNIT        no unit, an unknown one, one of another dimension, or units that do not go together
 *         BF_E_NOT_FINITE  too large for a double
 *         BF_E_RANGE      a Beaufort force other than 0, 1 ... 12
 *
 * Examples  "5ft 3in" -> 1.6002 m;  "1.5 m give or take 5 cm" -> 1.5 m, pm 0.05 m;  "3 Beaufort" -> 4.34 m/s, pm 1.08. */
BF_CHECK bf_status bf_quantity_read(const char *text, size_t n, bf_dimension dimension, bf_quantity *quantity,
                                    int *says_pm);

/* The dimension that the first unit in text belongs to, for words given without a key ("12C" -> BF_TEMPERATURE).
 * Returns BF_OK, BF_E_SYNTAX (text does not begin with a number), BF_E_UNIT (no unit, or one of none). */
BF_CHECK bf_status bf_dimension_read(const char *text, size_t n, bf_dimension *dimension);

/* Bytes that hold anything said here, with its closing NUL. */
#define BF_SAY_MOST 192

/* The units of a dimension as a list for sentences: "mm, cm, m, in or ft". Static; "a number without a unit" for
 * BF_PURE. */
const char *bf_units_of(bf_dimension dimension);

/* A value and its unit, six figures or all whole digits: "1.5 m". The unit is chosen by size (mm below 1 cm, cm below 1 m, m;
 * s below 2 min, min below 2 h, h; g below 1 kg; ml below 1 l; cm/s below 1 m/s; ...). Not finite: "no number".
 * Returns the length. */
size_t bf_say(double value, bf_dimension dimension, char out[BF_SAY_MOST]);

/* The name of the unit that bf_say would choose for a value; "" for BF_PURE. Static. */
const char *bf_unit_like(double like, bf_dimension dimension);

/* A quantity as bf_quantity_read understands it: "1.5 m give or take 5 cm", "4 mm", "don't know". */
size_t bf_say_quantity(bf_quantity quantity, bf_dimension dimension, char out[BF_SAY_MOST]);

/* A computed range: the middle, its unit, and from where to where eight worlds in ten lie: "12 s (10-15)",
 * "14 cm (11-19)", "52 (45-60)", and with a negative end "2 cm (-3 to 15)".
 *
 * The range decides the digits: decimals and units step by the power of ten that goes between 2 and 20 times into half of
 * it; whole tens and more only when they go at least 5 times into it. No width: three figures and no brackets. A middle
 * that is not a number: "no answer"; an end that is infinite: "12 s
 * (10 and up)". */
size_t bf_say_range(bf_range range, bf_dimension dimension, char out[BF_SAY_MOST]);

/* A fish's or a net's weight as it is weighed in, to the ounce: "14 oz", "2 lb", "56 lb 12 oz". Not finite: "no number". */
size_t bf_say_weight(double kg, char out[BF_SAY_MOST]);

/* The same of a computed weight, in pounds (below one, in ounces): "40 lb (35-46)"; no width: as bf_say_weight. */
size_t bf_say_weight_range(bf_range kg, char out[BF_SAY_MOST]);

/* The range of a field's value: as bf_say_range, but a ratio in percent, "60 % (40-100)". */
size_t bf_say_range_of(const bf_field *field, bf_range range, char out[BF_SAY_MOST]);

/* What was given of a field's value, as such a range whose ends stay within what the field accepts; "don't know". */
size_t bf_say_given(const bf_field *field, bf_quantity given, char out[BF_SAY_MOST]);

#ifdef __cplusplus
}
#endif
#endif
