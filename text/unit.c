/* unit.c -- see baitfall/unit.h. */
#include "baitfall/unit.h"

#include <math.h>
#include <string.h>

#include "core/picture/words.h"
#include "text/write.h"

typedef struct unit {
    bf_dimension dimension;
    const char *name;
    double times,
        over; /* SI = (amount - zero) * times / over: division keeps 4 mm the double nearest to 0.004 */
    double zero;
    double say_below; /* said for sizes below this (SI); 0: only read */
} unit;

#define READ(dimension, name, times, over)                                                                   \
    { dimension, name, times, over, 0, 0 }
#define SAID(dimension, name, times, over, below)                                                            \
    { dimension, name, times, over, 0, below }
#define ANY BF_INFINITY

#define FOOT_M 0.3048
#define INCH_M 0.0254

static const unit units[] = {
    SAID(BF_PURE, "", 1, 1, ANY),
    READ(BF_PURE, "%", 1, 100),
    SAID(BF_LENGTH, "mm", 1, 1000, 0.01),
    SAID(BF_LENGTH, "cm", 1, 100, 1),
    SAID(BF_LENGTH, "m", 1, 1, ANY),
    READ(BF_LENGTH, "ft", FOOT_M, 1),
    READ(BF_LENGTH, "foot", FOOT_M, 1),
    READ(BF_LENGTH, "feet", FOOT_M, 1),
    READ(BF_LENGTH, "'", FOOT_M, 1),
    READ(BF_LENGTH, "\u2032", FOOT_M, 1),
    READ(BF_LENGTH, "in", INCH_M, 1),
    READ(BF_LENGTH, "inch", INCH_M, 1),
    READ(BF_LENGTH, "inches", INCH_M, 1),
    READ(BF_LENGTH, "\"", INCH_M, 1),
    READ(BF_LENGTH, "\u2033", INCH_M, 1),
    SAID(BF_AREA, "cm2", 1, 10000, 1),
    READ(BF_AREA, "cm\u00b2", 1, 10000),
    SAID(BF_AREA, "m2", 1, 1, ANY),
    READ(BF_AREA, "m\u00b2", 1, 1),
    SAID(BF_VOLUME, "ml", 1, 1e6, 1e-3),
    SAID(BF_VOLUME, "l", 1, 1000, ANY),
    READ(BF_VOLUME, "cm3", 1, 1e6),
    READ(BF_VOLUME, "cm\u00b3", 1, 1e6),
    READ(BF_VOLUME, "m3", 1, 1),
    READ(BF_VOLUME, "m\u00b3", 1, 1),
    READ(BF_MASS, "mg", 1, 1000000),
    SAID(BF_MASS, "g", 1, 1000, 1),
    SAID(BF_MASS, "kg", 1, 1, ANY),
    READ(BF_MASS, "oz", BFI_POUND_KG, 16),
    READ(BF_MASS, "lb", BFI_POUND_KG, 1),
    SAID(BF_DENSITY, "kg/m3", 1, 1, ANY),
    READ(BF_DENSITY, "kg/m\u00b3", 1, 1),
    READ(BF_DENSITY, "g/cm3", 1000, 1),
    READ(BF_DENSITY, "g/cm\u00b3", 1000, 1),
    SAID(BF_TIME, "s", 1, 1, 120),
    READ(BF_TIME, "sec", 1, 1),
    READ(BF_TIME, "seconds", 1, 1),
    SAID(BF_TIME, "min", 60, 1, 7200),
    READ(BF_TIME, "minutes", 60, 1),
    SAID(BF_TIME, "h", 3600, 1, ANY),
    READ(BF_TIME, "hours", 3600, 1),
    SAID(BF_TEMPERATURE, "C", 1, 1, ANY),
    READ(BF_TEMPERATURE, "\u00b0C", 1, 1),
    {BF_TEMPERATURE, "F", 1, 1.8, 32, 0},
    {BF_TEMPERATURE, "\u00b0F", 1, 1.8, 32, 0},
    SAID(BF_SPEED, "cm/s", 1, 100, 1),
    SAID(BF_SPEED, "m/s", 1, 1, ANY),
    READ(BF_SPEED, "km/h", 1, 3.6),
    READ(BF_SPEED, "mph", 1609.344, 3600),
    READ(BF_SPEED, "kn", 1852, 3600),
    READ(BF_SPEED, "Beaufort", 0, 1),
    READ(BF_SPEED, "Bft", 0, 1),
    SAID(BF_ANGLE, "deg", 1, 1, ANY),
    READ(BF_ANGLE, "\u00b0", 1, 1),
    SAID(BF_FORCE, "mN", 1, 1000, 1),
    SAID(BF_FORCE, "N", 1, 1, ANY),
    SAID(BF_VISCOSITY, "mPa s", 1, 1000, 1),
    SAID(BF_VISCOSITY, "Pa s", 1, 1, ANY),
    SAID(BF_TENSION, "mN/m", 1, 1000, 1),
    SAID(BF_TENSION, "N/m", 1, 1, ANY),
    SAID(BF_PRESSURE, "Pa", 1, 1, 1000),
    SAID(BF_PRESSURE, "hPa", 100, 1, ANY),
    READ(BF_PRESSURE, "kPa", 1000, 1),
};
#define N_UNITS ((int)(sizeof units / sizeof units[0]))

static int is_beaufort(const unit *u) {
    return u->times == 0;
}

const char *bf_units_of(bf_dimension dimension) {
    static const char *const lists[BF_N_DIMENSIONS] = {
        [BF_PURE] = "a number without a unit",
        [BF_LENGTH] = "mm, cm, m, in or ft",
        [BF_AREA] = "cm2 or m2",
        [BF_VOLUME] = "ml, l, cm3 or m3",
        [BF_MASS] = "g, kg, oz or lb",
        [BF_DENSITY] = "kg/m3 or g/cm3",
        [BF_TIME] = "s, min or h",
        [BF_TEMPERATURE] = "C or F",
        [BF_SPEED] = "cm/s, m/s, km/h, mph, kn or Beaufort",
        [BF_ANGLE] = "deg",
        [BF_FORCE] = "mN or N",
        [BF_VISCOSITY] = "mPa s or Pa s",
        [BF_TENSION] = "mN/m or N/m",
        [BF_PRESSURE] = "Pa, hPa or kPa",
    };
    return lists[dimension];
}

/* ---- Reading ---- */

typedef struct cursor {
    const char *at, *end;
} cursor;

static size_t left(const cursor *c) {
    return (size_t)(c->end - c->at);
}

static void skip_spaces(cursor *c) {
    while (c->at < c->end && (*c->at == ' ' || *c->at == '\t')) c->at++;
}

static char small_letter(char c) {
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static int is_letter(char c) {
    return small_letter(c) >= 'a' && small_letter(c) <= 'z';
}

static int starts_with(const cursor *c, const char *word) {
    size_t n = strlen(word);
    if (n > left(c)) return 0;
    for (size_t i = 0; i < n; i++)
        if (small_letter(c->at[i]) != small_letter(word[i])) return 0;
    return 1;
}

/* A unit's name ends where a letter or a slash does not go on. */
static int unit_ends(const cursor *c, const unit *u) {
    const char *after = c->at + strlen(u->name);
    char last = after[-1];
    return after == c->end || !is_letter(last) || !(is_letter(*after) || *after == '/');
}

/* The longest unit at the cursor, of the dimension asked for (or of any when BF_N_DIMENSIONS); NULL: none. */
static const unit *unit_at(cursor *c, bf_dimension dimension) {
    const unit *best = NULL;
    for (const unit *u = units; u < units + N_UNITS; u++) {
        if (dimension != BF_N_DIMENSIONS && u->dimension != dimension) continue;
        if (!u->name[0] || !starts_with(c, u->name) || !unit_ends(c, u)) continue;
        if (!best || strlen(u->name) > strlen(best->name)) best = u;
    }
    if (best) c->at += strlen(best->name);
    return best;
}

/* One or more numbers with units, summed: "1.5 m", "5ft 3in". *last is the last unit, NULL when none was said. */
typedef struct amount {
    int n;
    double number; /* of the last unit */
    double si;     /* the sum; meaningless without a unit */
    const unit *last;
} amount;

static double to_si(double number, const unit *u) {
    return (number - u->zero) * u->times / u->over;
}

static bf_status read_amount(cursor *c, bf_dimension dimension, amount *sum) {
    *sum = (amount){0};
    for (skip_spaces(c); c->at < c->end; skip_spaces(c)) {
        size_t n = bf_number_span(c->at, left(c));
        if (!n) return sum->n && sum->last ? BF_E_UNIT : BF_E_SYNTAX;
        bf_status status = bf_number_read(c->at, n, &sum->number);
        if (status) return status;
        c->at += n;
        skip_spaces(c);
        const unit *u = unit_at(c, dimension);
        if (!u && (sum->n || c->at < c->end)) return BF_E_UNIT;
        // Only larger units followed by smaller ones add up.
        if (sum->n &&
            (sum->number < 0 || u->zero != 0 || u->times / u->over >= sum->last->times / sum->last->over))
            return BF_E_UNIT;
        sum->n++;
        sum->last = u;
        if (!u) continue;
        double part = to_si(sum->number, u);
        sum->si += sum->si < 0 ? -part : part; // "-1 ft 3 in" lies below -1 ft
    }
    return sum->n ? BF_OK : BF_E_SYNTAX;
}

static bf_status beaufort(double force, bf_quantity *quantity) {
    if (!(force >= 0 && force <= 12) || floor(force) != force) return BF_E_RANGE;
    double below = force > 0 ? force - 0.5 : 0, above = force + 0.5;
    quantity->value = 0.836 * force * sqrt(force);
    quantity->pm = 0.836 * (above * sqrt(above) - below * sqrt(below)) / 2;
    return BF_OK;
}

static int is_unknown(cursor c) {
    static const char *const words[] = {"don't know", "don\u2019t know", "dont know", "unknown", "?"};
    while (c.end > c.at && (c.end[-1] == ' ' || c.end[-1] == '\t')) c.end--;
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        if (strlen(words[i]) == left(&c) && starts_with(&c, words[i])) return 1;
    return 0;
}

/* Cuts the text at its "give or take"; 1 when there is one. */
static int split_give_or_take(cursor whole, cursor *value, cursor *pm) {
    static const char *const words[] = {"give or take", "+/-", "+-", "\u00b1"};
    *value = whole;
    for (cursor c = whole; c.at < c.end; c.at++)
        for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
            if (starts_with(&c, words[i])) {
                value->end = c.at;
                *pm = (cursor){c.at + strlen(words[i]), c.end};
                return 1;
            }
    return 0;
}

static bf_status read_value_and_pm(cursor value_text, cursor pm_text, bf_dimension dimension,
                                   bf_quantity *quantity, int has_pm) {
    amount value, pm = {0};
    bf_status status = read_amount(&value_text, dimension, &value);
    if (status) return status;
    if (has_pm) {
        status = read_amount(&pm_text, dimension, &pm);
        if (status) return status;
    }
    // One unit may serve both; a ratio needs none.
    static const unit *const pure = &units[0];
    const unit *spare = dimension == BF_PURE ? pure : NULL;
    const unit *value_unit = value.last ? value.last : pm.last ? pm.last : spare;
    const unit *pm_unit = pm.last ? pm.last : value_unit;
    if (!value_unit) return BF_E_UNIT;

    if (is_beaufort(value_unit)) {
        if (value.n > 1) return BF_E_UNIT;
        status = beaufort(value.number, quantity);
        if (status) return status;
    } else {
        quantity->value = value.last ? value.si : to_si(value.number, value_unit);
    }
    if (!has_pm) return BF_OK;
    if (is_beaufort(pm_unit)) return BF_E_UNIT;
    // A difference of temperatures has no zero point.
    double shift = pm_unit->zero * pm_unit->times / pm_unit->over;
    quantity->pm = (pm.last ? pm.si : to_si(pm.number, pm_unit)) + shift;
    return quantity->pm >= 0 ? BF_OK : BF_E_SYNTAX;
}

static int is_finite(double x) {
    return x - x == 0;
}

bf_status bf_quantity_read(const char *text, size_t n, bf_dimension dimension, bf_quantity *quantity,
                           int *says_pm) {
    cursor whole = {text, text + n}, value, pm = {text, text};
    skip_spaces(&whole);
    *says_pm = 0;
    *quantity = (bf_quantity){BF_NAN, BF_NAN, 0};
    if (is_unknown(whole)) {
        quantity->is_unknown = 1;
        return BF_OK;
    }
    int has_pm = split_give_or_take(whole, &value, &pm);
    bf_quantity got = {0, 0, 0};
    bf_status status = read_value_and_pm(value, pm, dimension, &got, has_pm);
    if (status) return status;
    if (!is_finite(got.value) || !is_finite(got.pm)) return BF_E_NOT_FINITE;
    *says_pm = has_pm || got.pm > 0;
    *quantity = got;
    return BF_OK;
}

bf_status bf_dimension_read(const char *text, size_t n, bf_dimension *dimension) {
    cursor c = {text, text + n};
    skip_spaces(&c);
    size_t span = bf_number_span(c.at, left(&c));
    if (!span) return BF_E_SYNTAX;
    c.at += span;
    skip_spaces(&c);
    const unit *u = unit_at(&c, BF_N_DIMENSIONS);
    if (!u) return BF_E_UNIT;
    *dimension = u->dimension;
    return BF_OK;
}

/* ---- Saying ---- */

static const unit *unit_like(double like, bf_dimension dimension) {
    const unit *last = NULL;
    for (const unit *u = units; u < units + N_UNITS; u++) {
        if (u->dimension != dimension || u->say_below == 0) continue;
        last = u;
        // Zero is said in the SI unit: the last of the ladder, or the first of one that starts with it.
        if (fabs(like) < u->say_below && !(like == 0 && u->times < u->over)) break;
    }
    return last;
}

const char *bf_unit_like(double like, bf_dimension dimension) {
    return unit_like(like, dimension)->name;
}

/* 10^power as a double, |power| <= 330. */
static double power_of_ten(int power) {
    char text[8] = "1e";
    int n = 2, size = power < 0 ? -power : power;
    if (power < 0) text[n++] = '-';
    for (int ten = 100; ten; ten /= 10) text[n++] = (char)('0' + size / ten % 10);
    double value;
    bf_status status = bf_number_read(text, (size_t)n, &value);
    return status ? BF_INFINITY : value;
}

/* The largest power of ten, as its exponent, that is not above size > 0. */
static int floor_log10(double size) {
    int power = -324;
    for (int step = 512; step; step /= 2)
        if (power + step <= 308 && power_of_ten(power + step) <= size) power += step;
    return power;
}

/* A number stepped by 10^power, power from -9 up; exactly nothing is "0". */
static void put_stepped(bfi_pen *pen, double number, int power) {
    char text[BF_NUMBER_MOST];
    if (number == 0) power = 0;
    double step = power > 0 ? power_of_ten(power) : 1;
    double shown = power > 0 ? floor(number / step + 0.5) * step : number;
    bfi_put_bytes(pen, text, bf_number_fixed(shown, power < 0 ? -power : 0, text));
}

/* The step of the digits for a range of half width `half`: its power of ten. A shade more than 1/2 and 1/5, so that a half
 * width of exactly 2 or 50 counts as that. */
static int power_of_step(double half) {
    int fine = floor_log10(half * 0.501), coarse = floor_log10(half * 0.2004);
    int power = fine <= 0 ? fine : coarse > 0 ? coarse : 0;
    return power < -9 ? -9 : power;
}

void bfi_put_figures(bfi_pen *pen, double number, int figures) {
    char text[BF_NUMBER_MOST];
    size_t n;
    if (number == 0) {
        bfi_put(pen, "0");
        return;
    }
    int power = floor_log10(fabs(number)) - figures + 1;
    if (power < -9 || power > 15) { // too small or large for plain decimals
        n = bf_number_write(number, text);
    } else {
        n = bf_number_fixed(number, power < 0 ? -power : 0, text);
        while (power < 0 && text[n - 1] == '0') n--;
        if (text[n - 1] == '.') n--;
    }
    bfi_put_bytes(pen, text, n);
}

static void put_unit(bfi_pen *pen, const unit *u) {
    if (u->name[0]) bfi_put(pen, " ");
    bfi_put(pen, u->name);
}

static double from_si(double si, const unit *u) {
    return si * u->over / u->times;
}

size_t bf_say(double value, bf_dimension dimension, char out[BF_SAY_MOST]) {
    bfi_pen pen = bfi_pen_open(out, BF_SAY_MOST);
    const unit *u = unit_like(value, dimension);
    double number = from_si(value, u);
    if (is_finite(number)) {
        bfi_put_figures(&pen, number, 6);
        put_unit(&pen, u);
    } else {
        bfi_put(&pen, "no number");
    }
    return pen.n;
}

size_t bf_say_quantity(bf_quantity quantity, bf_dimension dimension, char out[BF_SAY_MOST]) {
    bfi_pen pen = bfi_pen_open(out, BF_SAY_MOST);
    char part[BF_SAY_MOST];
    if (quantity.is_unknown) {
        bfi_put(&pen, "don't know");
        return pen.n;
    }
    bf_say(quantity.value, dimension, part);
    bfi_put(&pen, part);
    if (quantity.pm > 0) {
        bfi_put(&pen, " give or take ");
        bf_say(quantity.pm, dimension, part);
        bfi_put(&pen, part);
    }
    return pen.n;
}

static double larger(double a, double b) {
    return a > b ? a : b;
}

/* Size of a number when it is finite, else 0. */
static double size_of(double x) {
    return is_finite(x) ? fabs(x) : 0;
}

static size_t say_range_in(bf_range range, const unit *u, char out[BF_SAY_MOST]) {
    bfi_pen pen = bfi_pen_open(out, BF_SAY_MOST);
    if (!is_finite(range.mid)) {
        bfi_put(&pen, "no answer");
        return pen.n;
    }
    double mid = from_si(range.mid, u), lo = from_si(range.lo, u), hi = from_si(range.hi, u);
    double half = is_finite(hi) ? (hi - lo) / 2 : mid - lo;
    if (!(half > 0) || !is_finite(half)) {
        bfi_put_figures(&pen, mid, 3);
        put_unit(&pen, u);
        return pen.n;
    }
    int power = power_of_step(half);
    put_stepped(&pen, mid, power);
    put_unit(&pen, u);
    bfi_put(&pen, " (");
    put_stepped(&pen, lo, power);
    if (!is_finite(hi)) {
        bfi_put(&pen, " and up)");
        return pen.n;
    }
    bfi_put(&pen, lo < 0 ? " to " : "-");
    put_stepped(&pen, hi, power);
    bfi_put(&pen, ")");
    return pen.n;
}

size_t bf_say_range(bf_range range, bf_dimension dimension, char out[BF_SAY_MOST]) {
    // The unit of the middle, unless that is next to nothing against the ends.
    double most = larger(size_of(range.lo), size_of(range.hi));
    return say_range_in(range, unit_like(fabs(range.mid) >= 0.1 * most ? range.mid : most, dimension), out);
}

size_t bf_say_weight(double kg, char out[BF_SAY_MOST]) {
    bfi_pen pen = bfi_pen_open(out, BF_SAY_MOST);
    if (is_finite(kg))
        bfi_put_pounds(&pen, kg);
    else
        bfi_put(&pen, "no number");
    return pen.n;
}

size_t bf_say_weight_range(bf_range kg, char out[BF_SAY_MOST]) {
    static const unit pound = READ(BF_MASS, "lb", BFI_POUND_KG, 1),
                      ounce = READ(BF_MASS, "oz", BFI_POUND_KG, 16);
    if (is_finite(kg.mid) && kg.hi <= kg.lo) return bf_say_weight(kg.mid, out);
    return say_range_in(kg, kg.mid < BFI_POUND_KG ? &ounce : &pound, out);
}

size_t bf_say_range_of(const bf_field *field, bf_range range, char out[BF_SAY_MOST]) {
    static const unit percent = READ(BF_PURE, "%", 1, 100);
    if (strcmp(bf_field_suffix(field), "_frac") != 0) return bf_say_range(range, field->dimension, out);
    return say_range_in(range, &percent, out);
}

size_t bf_say_given(const bf_field *field, bf_quantity given, char out[BF_SAY_MOST]) {
    double lo = given.value - given.pm, hi = given.value + given.pm;
    bfi_pen pen = bfi_pen_open(out, BF_SAY_MOST);
    if (given.is_unknown) {
        bfi_put(&pen, "don't know");
        return pen.n;
    }
    bf_range range = {given.value, given.value, lo < field->least ? field->least : lo,
                      hi > field->most ? field->most : hi};
    return bf_say_range_of(field, range, out);
}
