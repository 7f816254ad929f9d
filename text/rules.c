/* rules.c -- see rules.h. */
#include "text/rules.h"

#include <string.h>

#include "baitfall/field.h"
#include "baitfall/unit.h"
#include "core/picture/svg.h"
#include "text/told.h"

/* {0} stands for the number; without it the number is `fixed`. */
static const struct {
    int kind;
    const char *phrase;
    double fixed;
} phrases[] = {
#define SAYS(kind, phrase)                                                                                   \
    { kind, phrase, BF_NAN }
    SAYS(BF_RULE_BARBLESS, "barbless hooks"),
    SAYS(BF_RULE_BARBLESS, "barbless hooks only"),
    SAYS(BF_RULE_BARBLESS, "barbless only"),
    SAYS(BF_RULE_BARBLESS, "no barbed hooks"),
    SAYS(BF_RULE_NO_LEAD, "no lead"),
    SAYS(BF_RULE_NO_LEAD, "no lead shot"),
    SAYS(BF_RULE_NO_LEAD, "no lead shot at all"),
    SAYS(BF_RULE_NO_FLOATING, "no floating baits"),
    SAYS(BF_RULE_NO_FLOATING, "no floating bait"),
    SAYS(BF_RULE_NO_GROUNDBAIT, "no groundbait"),
    SAYS(BF_RULE_NO_LIVE, "no live baits"),
    SAYS(BF_RULE_NO_LIVE, "no live bait"),
    SAYS(BF_RULE_NO_THROW, "no catapults"),
    SAYS(BF_RULE_NO_POT, "no pole pots"),
    SAYS(BF_RULE_NO_POT, "no pots"),
    SAYS(BF_RULE_NO_PELLETS, "no pellets"),
    SAYS(BF_RULE_NO_PELLETS, "no pellet"),
    SAYS(BF_RULE_NO_HARD, "no hard pellets"),
    SAYS(BF_RULE_NO_HARD, "soft pellets only"),
    SAYS(BF_RULE_NO_SOFT, "no soft pellets"),
    SAYS(BF_RULE_PELLET_MOST, "no pellets larger than {0}"),
    SAYS(BF_RULE_PELLET_MOST, "no pellets bigger than {0}"),
    SAYS(BF_RULE_PELLET_MOST, "no pellets over {0}"),
    SAYS(BF_RULE_PELLET_MOST, "pellets up to {0}"),
    SAYS(BF_RULE_POLE_MOST, "no pole longer than {0}"),
    SAYS(BF_RULE_POLE_MOST, "no poles longer than {0}"),
    SAYS(BF_RULE_POLE_MOST, "poles up to {0}"),
    SAYS(BF_RULE_POLE_MOST, "pole limit {0}"),
    SAYS(BF_RULE_HOOK_LARGEST, "no hook larger than size {0}"),
    SAYS(BF_RULE_HOOK_LARGEST, "no hooks larger than size {0}"),
    SAYS(BF_RULE_FEED_MOST, "no more than {0} of feed"),
    SAYS(BF_RULE_FEED_MOST, "{0} of feed at most"),
    SAYS(BF_RULE_NETS_MOST, "no more than {0} nets"),
    SAYS(BF_RULE_NETS_MOST, "no more than {0} net"),
    SAYS(BF_RULE_NETS_MOST, "{0} nets at most"),
    SAYS(BF_RULE_NETS_MOST, "{0} net at most"),
    SAYS(BF_RULE_NETS_MOST, "{0} nets only"),
    SAYS(BF_RULE_NETS_MOST, "{0} net only"),
    SAYS(BF_RULE_NETS_MOST, "{0} nets"),
    SAYS(BF_RULE_NETS_MOST, "{0} net"),
    SAYS(BF_RULE_NET_MOST, "no more than {0} of fish in a net"),
    SAYS(BF_RULE_NET_MOST, "no more than {0} a net"),
    SAYS(BF_RULE_NET_MOST, "net limit {0}"),
    SAYS(BF_RULE_FEED_FROM, "no feeding before {0}"),
    SAYS(BF_RULE_FEED_FROM, "no feed before {0}"),
    SAYS(BF_RULE_FEED_FROM, "feeding from {0}"),
    SAYS(BF_RULE_FEED_UNTIL, "no feeding after {0}"),
    SAYS(BF_RULE_FEED_UNTIL, "no feed after {0}"),
    SAYS(BF_RULE_FEED_UNTIL, "feeding until {0}"),
    SAYS(BF_RULE_FEED_LAST, "no feeding in the last {0}"),
    SAYS(BF_RULE_FEED_LAST, "no feed in the last {0}"),
#undef SAYS
    {BF_RULE_FEED_LAST, "no feeding in the last hour", 3600},
    {BF_RULE_FEED_LAST, "no feeding in the last half hour", 1800},
};

static const char *const count_words[] = {"none", "one", "two", "three", "four", "five", "six"};

static int small(int c) {
    return c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c;
}

static int is_same(const char *a, const char *b, size_t n) {
    for (size_t i = 0; i < n; i++)
        if (small(a[i]) != small(b[i])) return 0;
    return 1;
}

static int read_count(const char *text, size_t n, double *count) {
    for (int i = 1; i < (int)(sizeof count_words / sizeof count_words[0]); i++)
        if (strlen(count_words[i]) == n && is_same(text, count_words[i], n)) {
            *count = i;
            return 1;
        }
    if (n < 1 || n > 3) return 0;
    *count = 0;
    for (size_t i = 0; i < n; i++) {
        if (text[i] < '0' || text[i] > '9') return 0;
        *count = *count * 10 + (text[i] - '0');
    }
    return 1;
}

static int read_digits(const char *text, size_t n, double most, double *number) {
    if (n < 1 || n > 2) return 0;
    *number = 0;
    for (size_t i = 0; i < n; i++) {
        if (text[i] < '0' || text[i] > '9') return 0;
        *number = *number * 10 + (text[i] - '0');
    }
    return *number <= most;
}

/* "13:00", "9.30", "1 pm", "10am": seconds after midnight. */
static int read_clock(const char *text, size_t n, double *number) {
    double hours, minutes = 0;
    int half = n > 2 && is_same(text + n - 2, "am", 2) ? 1 : n > 2 && is_same(text + n - 2, "pm", 2) ? 2 : 0;
    if (half) n -= 2;
    while (half && n > 0 && text[n - 1] == ' ') n--;
    size_t colon = 0;
    while (colon < n && text[colon] != ':' && text[colon] != '.') colon++;
    if (colon < n && (n - colon != 3 || !read_digits(text + colon + 1, 2, 59, &minutes))) return 0;
    if ((colon == n && !half) || !read_digits(text, colon, half ? 12 : 24, &hours)) return 0;
    if (half && hours < 1) return 0;
    if (half) hours = hours - (hours == 12 ? 12 : 0) + (half == 2 ? 12 : 0);
    *number = hours * 3600 + minutes * 60;
    return *number <= 86400;
}

/* A bait that venues bar by name, with or without its plural. */
static int read_bait(const char *text, size_t n, double *number) {
    for (int i = 0; i < BF_RULE_N_BAITS; i++) {
        const char *said = bf_rule_baits[i], *stem = bf_rule_stems[i];
        if ((strlen(said) != n || !is_same(text, said, n)) && (strlen(stem) != n || !is_same(text, stem, n)))
            continue;
        *number = i;
        return 1;
    }
    return 0;
}

static int read_number(const char *text, size_t n, const char *unit, double *number) {
    bf_quantity quantity;
    int says_pm;
    bf_dimension dimension = unit[0] == 'm' ? BF_LENGTH : unit[0] == 's' ? BF_TIME : BF_MASS;
    if (strcmp(unit, "n") == 0) return read_count(text, n, number);
    if (strcmp(unit, "clock") == 0) return read_clock(text, n, number);
    if (strcmp(unit, "bait") == 0) return read_bait(text, n, number);
    if (bf_quantity_read(text, n, dimension, &quantity, &says_pm)) return 0;
    *number = quantity.value;
    return !quantity.is_unknown && !says_pm && quantity.value > 0;
}

/* text as a phrase with its number, if it has one. */
static int matches(const char *text, size_t n, const char *phrase, const char *unit, double *number) {
    const char *slot = bfi_find_text(phrase, "{0}");
    *number = BF_NAN;
    if (!slot) return strlen(phrase) == n && is_same(text, phrase, n);
    size_t n_before = (size_t)(slot - phrase), n_after = strlen(slot + 3);
    if (n <= n_before + n_after || !is_same(text, phrase, n_before) ||
        !is_same(text + n - n_after, slot + 3, n_after))
        return 0;
    return read_number(text + n_before, n - n_before - n_after, unit, number);
}

int bfi_rule_read(const char *text, size_t n, bf_rule *rule) {
    while (n > 0 && (text[n - 1] == '.' || text[n - 1] == ' ')) n--;
    for (size_t i = 0; i < sizeof phrases / sizeof phrases[0]; i++) {
        rule->kind = phrases[i].kind;
        if (!matches(text, n, phrases[i].phrase, bf_rule_unit(rule->kind), &rule->limit)) continue;
        if (rule->limit != rule->limit) rule->limit = phrases[i].fixed;
        return 1;
    }
    rule->kind = BF_RULE_NO_BAIT;
    if (matches(text, n, "no {0}", "bait", &rule->limit)) return 1;
    *rule = (bf_rule){-1, BF_NAN};
    return 0;
}

/* A rule's number as it is written. */
static void put_limit(bfi_pen *pen, const bf_rule *rule) {
    char number[BF_SAY_MOST];
    const char *unit = bf_rule_unit(rule->kind);
    int minutes = (int)(rule->limit / 60 + 0.5);
    if (strcmp(unit, "bait") == 0) {
        bfi_put(pen, bf_rule_baits[(int)rule->limit]);
    } else if (strcmp(unit, "clock") == 0) {
        bfi_put_number(pen, minutes / 60, 0);
        bfi_put(pen, minutes % 60 < 10 ? ":0" : ":");
        bfi_put_number(pen, minutes % 60, 0);
    } else {
        bf_say(rule->limit,
               unit[0] == 'm'   ? BF_LENGTH
               : unit[0] == 'k' ? BF_MASS
               : unit[0] == 's' ? BF_TIME
                                : BF_PURE,
               number);
        bfi_put(pen, number);
    }
}

void bfi_rule_say(const bf_rule *rule, char *out, size_t most) {
    bfi_pen pen = bfi_pen_open(out, most);
    for (const char *c = bf_rule_sentence(rule->kind); *c;) {
        if (strncmp(c, "{0}", 3) == 0) {
            put_limit(&pen, rule);
            c += 3;
        } else if (strncmp(c, "{s}", 3) == 0) {
            bfi_put(&pen, rule->limit == 1 ? "" : "s");
            c += 3;
        } else {
            bfi_put_bytes(&pen, c++, 1);
        }
    }
}
