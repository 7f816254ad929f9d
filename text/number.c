/* number.c -- see baitfall/number.h. */
#include "baitfall/number.h"

#include <stdint.h>
#include <string.h>

/* ---- Big integers: just what follows needs ---- */

/* 800 digits over 10^1143, the worst quotient of bf_number_read, take 3862 bits. */
#define MOST_LIMBS 128

/* A natural number, least limb first, no leading zero limbs. */
typedef struct big {
    int n;
    uint32_t limb[MOST_LIMBS];
} big;

static void big_push(big *a, uint32_t limb) {
    BF_ASSERT(a->n < MOST_LIMBS);
    a->limb[a->n++] = limb;
}

static void big_set(big *a, uint64_t value) {
    a->n = 0;
    for (; value; value >>= 32) big_push(a, (uint32_t)value);
}

static void big_copy(big *to, const big *from) {
    to->n = from->n;
    memcpy(to->limb, from->limb, (size_t)from->n * sizeof from->limb[0]);
}

/* a = a * by + plus */
static void big_multiply(big *a, uint32_t by, uint32_t plus) {
    uint64_t carry = plus;
    for (int i = 0; i < a->n; i++) {
        carry += (uint64_t)a->limb[i] * by;
        a->limb[i] = (uint32_t)carry;
        carry >>= 32;
    }
    if (carry) big_push(a, (uint32_t)carry);
}

static void big_times_power_of_ten(big *a, int power) {
    for (; power >= 9; power -= 9) big_multiply(a, 1000000000u, 0);
    for (; power > 0; power--) big_multiply(a, 10, 0);
}

static void big_shift_left(big *a, int bits) {
    if (!a->n) return;
    int limbs = bits / 32;
    BF_ASSERT(a->n + limbs <= MOST_LIMBS);
    memmove(a->limb + limbs, a->limb, (size_t)a->n * sizeof a->limb[0]);
    memset(a->limb, 0, (size_t)limbs * sizeof a->limb[0]);
    a->n += limbs;
    big_multiply(a, (uint32_t)1 << bits % 32, 0);
}

static int big_compare(const big *a, const big *b) {
    if (a->n != b->n) return a->n < b->n ? -1 : 1;
    for (int i = a->n; i-- > 0;)
        if (a->limb[i] != b->limb[i]) return a->limb[i] < b->limb[i] ? -1 : 1;
    return 0;
}

/* a = a - b, a >= b */
static void big_subtract(big *a, const big *b) {
    int64_t borrow = 0;
    for (int i = 0; i < a->n; i++) {
        borrow += (int64_t)a->limb[i] - (i < b->n ? (int64_t)b->limb[i] : 0);
        a->limb[i] = (uint32_t)borrow;
        borrow >>= 32;
    }
    while (a->n && !a->limb[a->n - 1]) a->n--;
}

static void big_add(big *a, const big *b) {
    uint64_t carry = 0;
    for (int i = 0; i < a->n || i < b->n || carry; i++) {
        if (i == a->n) big_push(a, 0);
        carry += (uint64_t)a->limb[i] + (i < b->n ? b->limb[i] : 0);
        a->limb[i] = (uint32_t)carry;
        carry >>= 32;
    }
}

/* Sign of a + b - c. */
static int big_compare_sum(const big *a, const big *b, const big *c) {
    big sum;
    big_copy(&sum, a);
    big_add(&sum, b);
    return big_compare(&sum, c);
}

/* a = a / by; returns the remainder. */
static uint32_t big_divide(big *a, uint32_t by) {
    uint64_t rest = 0;
    for (int i = a->n; i-- > 0;) {
        rest = rest << 32 | a->limb[i];
        a->limb[i] = (uint32_t)(rest / by);
        rest %= by;
    }
    while (a->n && !a->limb[a->n - 1]) a->n--;
    return (uint32_t)rest;
}

static int bit_length(uint64_t value) {
    return value ? 64 - __builtin_clzll(value) : 0;
}

static int big_bit_length(const big *a) {
    return a->n ? (a->n - 1) * 32 + bit_length(a->limb[a->n - 1]) : 0;
}

/* ---- Reading ---- */

static size_t digits_span(const char *text, size_t n) {
    size_t i = 0;
    while (i < n && text[i] >= '0' && text[i] <= '9') i++;
    return i;
}

size_t bf_number_span(const char *text, size_t n) {
    size_t i = n && text[0] == '-';
    size_t whole = digits_span(text + i, n - i);
    if (!whole || (text[i] == '0' && whole > 1)) return 0;
    i += whole;
    if (i < n && text[i] == '.') {
        size_t part = digits_span(text + i + 1, n - i - 1);
        if (part) i += 1 + part;
    }
    if (i < n && (text[i] == 'e' || text[i] == 'E')) {
        size_t sign = i + 1 < n && (text[i + 1] == '+' || text[i + 1] == '-');
        size_t part = digits_span(text + i + 1 + sign, n - i - 1 - sign);
        if (part) i += 1 + sign + part;
    }
    return i;
}

#define MOST_DIGITS 800

/* A number as written: digit[0 .. n) times ten to `power`, without leading zeros. */
typedef struct decimal {
    int is_negative;
    int n;
    int64_t power;
    unsigned char digit[MOST_DIGITS + 1];
} decimal;

static void decimal_take(decimal *d, char c, int is_fraction) {
    unsigned char digit = (unsigned char)(c - '0');
    if (is_fraction) d->power--;
    if (!d->n && !digit) return;
    if (d->n < MOST_DIGITS) {
        d->digit[d->n++] = digit;
        return;
    }
    // Past the digits kept: one last digit 1 stands for "something more".
    d->power++;
    if (digit && d->n == MOST_DIGITS) {
        d->digit[d->n++] = 1;
        d->power--;
    }
}

/* text is one JSON number. */
static void decimal_read(decimal *d, const char *text, size_t n) {
    size_t i = text[0] == '-';
    d->is_negative = text[0] == '-';
    d->n = 0;
    d->power = 0;
    int is_fraction = 0;
    for (; i < n && text[i] != 'e' && text[i] != 'E'; i++) {
        if (text[i] == '.')
            is_fraction = 1;
        else
            decimal_take(d, text[i], is_fraction);
    }
    if (i == n) return;
    i++;
    int is_down = text[i] == '-';
    if (text[i] == '-' || text[i] == '+') i++;
    int64_t exponent = 0;
    for (; i < n; i++)
        if (exponent < 1000000000) exponent = exponent * 10 + (text[i] - '0');
    d->power += is_down ? -exponent : exponent;
}

static double double_of_bits(uint64_t bits) {
    double value;
    memcpy(&value, &bits, sizeof value);
    return value;
}

/* The double nearest to top / below, both above 0, ties to even; infinity when too large. */
static double nearest_quotient(big *top, big *below) {
    // Bring the quotient into [1, 2): it is then the number divided by 2^exponent.
    int exponent = big_bit_length(top) - big_bit_length(below);
    big_shift_left(exponent < 0 ? top : below, exponent < 0 ? -exponent : exponent);
    if (big_compare(top, below) < 0) {
        big_shift_left(top, 1);
        exponent--;
    }
    uint64_t quotient = 0;
    for (int i = 0; i < 64; i++) {
        quotient <<= 1;
        if (big_compare(top, below) >= 0) {
            big_subtract(top, below);
            quotient |= 1;
        }
        big_shift_left(top, 1);
    }
    if (top->n) quotient |= 1; // bits beyond the 64 only break ties

    // Fewer than 53 bits remain for subnormal numbers.
    int keep = exponent >= -1022 ? 53 : 53 + exponent + 1022;
    if (keep < 0) return 0;
    uint64_t mantissa = keep ? quotient >> (64 - keep) : 0;
    uint64_t rest = quotient << keep, half = (uint64_t)1 << 63;
    if (rest > half || (rest == half && (mantissa & 1))) mantissa++;

    // The mantissa's leading bit, when there, adds one to the exponent field; so does a carry.
    uint64_t field = exponent >= -1022 ? (uint64_t)(exponent + 1022) : 0;
    uint64_t bits = (field << 52) + mantissa;
    return bits >> 52 >= 2047 ? __builtin_inf() : double_of_bits(bits);
}

/* Powers of ten that a double holds exactly. */
static const double exact_ten[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
                                   1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};

static double decimal_value(const decimal *d) {
    if (!d->n || d->n + d->power < -330) return 0;
    if (d->n + d->power > 310) return __builtin_inf();
    if (d->n <= 15 && d->power >= -22 && d->power <= 22) {
        double whole = 0;
        for (int i = 0; i < d->n; i++) whole = whole * 10 + d->digit[i];
        return d->power < 0 ? whole / exact_ten[-d->power] : whole * exact_ten[d->power];
    }
    big top, below;
    big_set(&top, 0);
    big_set(&below, 1);
    for (int i = 0; i < d->n; i++) big_multiply(&top, 10, d->digit[i]);
    big_times_power_of_ten(d->power < 0 ? &below : &top, (int)(d->power < 0 ? -d->power : d->power));
    return nearest_quotient(&top, &below);
}

bf_status bf_number_read(const char *text, size_t n, double *value) {
    *value = __builtin_nan("");
    if (!n || bf_number_span(text, n) != n) return BF_E_SYNTAX;
    decimal d;
    decimal_read(&d, text, n);
    double size = decimal_value(&d);
    if (size > 1.7976931348623157e308) return BF_E_NOT_FINITE;
    *value = d.is_negative ? -size : size;
    return BF_OK;
}

/* ---- Writing ---- */

/* |value| = mantissa * 2^exponent */
static uint64_t split(double value, int *exponent, int *is_negative) {
    uint64_t bits;
    memcpy(&bits, &value, sizeof bits);
    *is_negative = (int)(bits >> 63);
    int field = (int)(bits >> 52 & 2047);
    uint64_t mantissa = bits & 0xfffffffffffffull;
    BF_ASSERT(field != 2047);
    *exponent = (field ? field : 1) - 1075;
    return field ? mantissa | (uint64_t)1 << 52 : mantissa;
}

/* Shortest digits that fall inside the interval that rounds to mantissa * 2^exponent: 0.d1 d2 d3 ... * 10^*point. */
static int shortest_digits(uint64_t mantissa, int exponent, unsigned char digit[20], int *point) {
    // The number is top / below; `up` and `down` are half the distances to its neighbours, over `below` too.
    big top, below, up, down;
    int is_edge = mantissa == (uint64_t)1 << 52 && exponent > -1074; // the neighbour below is nearer
    big_set(&top, mantissa);
    big_set(&below, 1);
    big_set(&up, 1);
    big_set(&down, 1);
    big_shift_left(&top, 1 + is_edge + (exponent > 0 ? exponent : 0));
    big_shift_left(&below, 1 + is_edge + (exponent < 0 ? -exponent : 0));
    big_shift_left(&up, is_edge + (exponent > 0 ? exponent : 0));
    big_shift_left(&down, exponent > 0 ? exponent : 0);

    // Scale by the power of ten: first from below, from the bits alone, then one up when that was too low.
    int takes_ends = !(mantissa & 1); // ties read back to even
    double log10_low = (exponent + bit_length(mantissa) - 1) * 0.30102999566398120 - 1e-10;
    *point = (int)log10_low + (log10_low > 0);
    if (*point >= 0) {
        big_times_power_of_ten(&below, *point);
    } else {
        big_times_power_of_ten(&top, -*point);
        big_times_power_of_ten(&up, -*point);
        big_times_power_of_ten(&down, -*point);
    }
    if (big_compare_sum(&top, &up, &below) >= !takes_ends)
        ++*point;
    else {
        big_multiply(&top, 10, 0);
        big_multiply(&up, 10, 0);
        big_multiply(&down, 10, 0);
    }

    for (int n = 0;;) {
        unsigned char next = 0;
        for (; big_compare(&top, &below) >= 0; next++) big_subtract(&top, &below);
        int low_is_near = big_compare(&top, &down) < takes_ends;
        int high_is_near = big_compare_sum(&top, &up, &below) >= !takes_ends;
        if (low_is_near || high_is_near) {
            int is_upper =
                low_is_near && high_is_near ? big_compare_sum(&top, &top, &below) >= 0 : high_is_near;
            digit[n++] = (unsigned char)(next + is_upper);
            return n;
        }
        digit[n++] = next;
        big_multiply(&top, 10, 0);
        big_multiply(&up, 10, 0);
        big_multiply(&down, 10, 0);
    }
}

/* The same for numbers of few decimals, the most there are, without big integers; 0: it is none of them. A whole number below
 * 10^15 over a power of ten up to 22 is one exact division when read; no other text of 15 digits gives the same double. */
static int few_digits(double size, unsigned char digit[20], int *point) {
    for (int decimals = 0; decimals <= 12; decimals++) {
        double scaled = size * exact_ten[decimals];
        if (!(scaled < 1e15)) return 0;
        uint64_t whole = (uint64_t)(scaled + 0.5);
        if (!whole || (double)whole / exact_ten[decimals] != size) continue;
        int n = 0, zeros = 0;
        for (uint64_t rest = whole; rest; rest /= 10) n++;
        for (int i = n; i-- > 0; whole /= 10) digit[i] = (unsigned char)(whole % 10);
        *point = n - decimals;
        while (!digit[n - 1 - zeros]) zeros++;
        return n - zeros;
    }
    return 0;
}

/* Small non-negative integer in decimal; returns the end. */
static char *put_int(char *to, int value) {
    char text[12];
    int n = 0;
    do text[n++] = (char)('0' + value % 10);
    while (value /= 10);
    while (n) *to++ = text[--n];
    return to;
}

size_t bf_number_write(double value, char out[BF_NUMBER_MOST]) {
    int exponent, is_negative, point = 1, n = 1;
    uint64_t mantissa = split(value, &exponent, &is_negative);
    unsigned char digit[20] = {0};
    if (mantissa) n = few_digits(is_negative ? -value : value, digit, &point);
    if (mantissa && !n) n = shortest_digits(mantissa, exponent, digit, &point);

    char *to = out;
    if (is_negative) *to++ = '-';
    int has_exponent = point > 21 || point < -5;
    int shown_point = has_exponent ? 1 : point;
    if (shown_point <= 0) {
        *to++ = '0';
        *to++ = '.';
        for (int i = shown_point; i < 0; i++) *to++ = '0';
    }
    for (int i = 0; i < n || i < shown_point; i++) {
        if (i && i == shown_point) *to++ = '.';
        *to++ = (char)('0' + (i < n ? digit[i] : 0));
    }
    if (has_exponent) {
        *to++ = 'e';
        *to++ = point > 0 ? '+' : '-';
        to = put_int(to, point > 0 ? point - 1 : 1 - point);
    }
    *to = 0;
    return (size_t)(to - out);
}

/* a = a / 2^bits to the nearest integer, ties to even; bits > 0. */
static void big_round_shift(big *a, int bits) {
    big half;
    big_set(&half, 1);
    big_shift_left(&half, bits - 1);
    big_add(a, &half);
    uint32_t rest = 0;
    for (; bits > 0; bits -= 31) rest |= big_divide(a, (uint32_t)1 << (bits < 31 ? bits : 31));
    if (!rest && a->n) a->limb[0] &= ~(uint32_t)1; // a tie that went up to an odd number
    if (a->n == 1 && !a->limb[0]) a->n = 0;
}

size_t bf_number_fixed(double value, int decimals, char out[BF_NUMBER_MOST]) {
    BF_ASSERT(decimals >= 0 && decimals <= 9);
    if (value >= 1e21 || value <= -1e21) return bf_number_write(value, out);
    int exponent, is_negative;
    big whole;
    big_set(&whole, split(value, &exponent, &is_negative));
    big_times_power_of_ten(&whole, decimals);
    if (exponent > 0) big_shift_left(&whole, exponent);
    if (exponent < 0) big_round_shift(&whole, -exponent);

    char backwards[BF_NUMBER_MOST];
    int n = 0;
    int is_zero = !whole.n;
    while (whole.n || n <= decimals) {
        if (n == decimals && n) backwards[n] = '.';
        backwards[n + (decimals && n >= decimals)] = (char)('0' + big_divide(&whole, 10));
        n++;
    }
    n += decimals > 0;
    char *to = out;
    if (is_negative && !is_zero) *to++ = '-';
    while (n) *to++ = backwards[--n];
    *to = 0;
    return (size_t)(to - out);
}
