/* rules.c -- see rules.h. */
#include "text/rules.h"

#include <string.h>

#include "baitfall/field.h"
#include "baitfall/unit.h"
#include "core/picture/svg.h"
#include "text/told.h"

/* {0} stands for the number. */
static const struct {
    int kind;
    const char *phrase;
} phrases[] = {
    {BF_RULE_BARBLESS, "barbless hooks"},
    {BF_RULE_BARBLESS, "barbless hooks only"},
    {BF_RULE_NO_LEAD, "no lead"},
    {BF_RULE_NO_LEAD, "no lead shot"},
    {BF_RULE_NO_LEAD, "no lead shot at all"},
    {BF_RULE_NO_FLOATING, "no floating baits"},
    {BF_RULE_NO_GROUNDBAIT, "no groundbait"},
    {BF_RULE_NO_LIVE, "no live baits"},
    {BF_RULE_NO_THROW, "no catapults"},
    {BF_RULE_POLE_MOST, "no pole longer than {0}"},
    {BF_RULE_POLE_MOST, "poles up to {0}"},
    {BF_RULE_HOOK_LARGEST, "no hook larger than size {0}"},
    {BF_RULE_FEED_MOST, "no more than {0} of feed"},
    {BF_RULE_FEED_MOST, "{0} of feed at most"},
    {BF_RULE_NETS_MOST, "{0} nets"},
    {BF_RULE_NETS_MOST, "{0} nets at most"},
    {BF_RULE_NETS_MOST, "no more than {0} nets"},
    {BF_RULE_NET_MOST, "no more than {0} of fish in a net"},
    {BF_RULE_NET_MOST, "no more than {0} a net"},
    {BF_RULE_NET_MOST, "net limit {0}"},
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

static int read_number(const char *text, size_t n, const char *unit, double *number) {
    bf_quantity quantity;
    int says_pm;
    bf_dimension dimension = strcmp(unit, "m") == 0 ? BF_LENGTH : BF_MASS;
    if (strcmp(unit, "n") == 0) return read_count(text, n, number);
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
        if (matches(text, n, phrases[i].phrase, bf_rule_unit(rule->kind), &rule->limit)) return 1;
    }
    *rule = (bf_rule){-1, BF_NAN};
    return 0;
}

void bfi_rule_say(const bf_rule *rule, char *out, size_t most) {
    char number[BF_SAY_MOST];
    const char *unit = bf_rule_unit(rule->kind), *sentence = bf_rule_sentence(rule->kind);
    const char *slot = bfi_find_text(sentence, "{0}");
    bfi_pen pen = bfi_pen_open(out, most);
    if (!slot) {
        bfi_put(&pen, sentence);
        return;
    }
    bf_say(rule->limit, unit[0] == 'm' ? BF_LENGTH : unit[0] == 'k' ? BF_MASS : BF_PURE, number);
    bfi_put_bytes(&pen, sentence, (size_t)(slot - sentence));
    bfi_put(&pen, number);
    bfi_put(&pen, slot + 3);
}
