/* said.c -- see said.h. */
#include "text/said.h"

#include <math.h>
#include <string.h>

#include "baitfall/pattern.h"

/* ---- Numbers of a sentence ---- */

static void put_number(bfi_pen *pen, double number, double times, int figures, const char *unit) {
    double shown = number * times;
    if (shown - shown != 0)
        bfi_put(pen, "an unknown number of");
    else
        bfi_put_figures(pen, figures ? shown : floor(shown + 0.5), figures ? figures : 15);
    bfi_put(pen, unit);
}

/* "once", "3 times", for "about {0:tenths} in 10". */
static void put_tenths(bfi_pen *pen, double part) {
    double n = floor(10 * part + 0.5);
    if (n == 1) {
        bfi_put(pen, "once");
        return;
    }
    bfi_put_number(pen, n, 0);
    bfi_put(pen, " times");
}

static int is_word(const char *text, size_t n, const char *word) {
    return strlen(word) == n && memcmp(word, text, n) == 0;
}

/* "{0:cm}" and its like: how a number of a sentence is printed. */
static void put_form(bfi_pen *pen, double number, const char *form, size_t n, const bf_label *pots) {
    static const struct {
        const char *form;
        double times;
        int figures; /* 0: a whole number */
        const char *unit;
        int is_to_tenths; /* no finer than a tenth of the unit: nobody measures that */
    } forms[] = {{"m", 1, 2, " m", 0},
                 {"mm", 1000, 2, " mm", 1},
                 {"cm", 100, 2, " cm", 1},
                 {"s", 1, 2, " s", 1},
                 {"min", 1.0 / 60, 2, " min", 1},
                 {"pct", 100, 2, " %", 0},
                 {"n", 1, 0, "", 0},
                 {"c", 1, 2, " C", 1},
                 {"g", 1000, 2, " g", 0},
                 {"m_s", 1, 2, " m/s", 1}};
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) {
        if (!is_word(form, n, forms[i].form)) continue;
        double in_tenths = floor(10 * forms[i].times * number + 0.5) / (10 * forms[i].times);
        put_number(pen, forms[i].is_to_tenths ? in_tenths : number, forms[i].times, forms[i].figures,
                   forms[i].unit);
        return;
    }
    if (is_word(form, n, "count")) {
        bfi_put_number_word(pen, (int)number);
        return;
    }
    if (is_word(form, n, "tenths")) {
        put_tenths(pen, number);
        return;
    }
    int index = (int)number;
    if (is_word(form, n, "pattern"))
        bfi_put(pen, bf_pattern_words[index]);
    else if (is_word(form, n, "shot"))
        bfi_put(pen, bf_shot_sizes[index].word);
    else if (is_word(form, n, "pot") && pots)
        bfi_put(pen, pots[index].text);
    else
        BF_ASSERT(0); // not a form that the headers list
}

void bfi_put_said(bfi_pen *pen, const char *sentence, const double *number, const bf_label *pots) {
    for (const char *at = sentence; *at;) {
        size_t n = strcspn(at, "{");
        bfi_put_bytes(pen, at, n);
        at += n;
        if (!*at) return;
        // {digit:form}
        size_t n_form = strcspn(at, "}");
        BF_ASSERT(n_form >= 4 && at[1] >= '0' && at[1] <= '3' && at[2] == ':');
        put_form(pen, number[at[1] - '0'], at + 3, n_form - 3, pots);
        at += n_form + 1;
    }
}

void bfi_json_said(bfi_json *out, const char *key, const bf_said *said, const bf_label *pots) {
    char text[320];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    if (said->code == BF_SAID_NOTHING) return;
    bfi_put_said(&pen, bf_said_sentence(said->code), said->number, pots);
    bfi_json_key_text(out, key, text);
}

void bfi_put_filled(bfi_pen *pen, const char *sentence, const char *first, const char *second,
                    const char *bait) {
    for (const char *at = sentence; *at;) {
        size_t n = strcspn(at, "{");
        bfi_put_bytes(pen, at, n);
        at += n;
        if (!*at) return;
        bfi_put(pen, at[1] == '0' ? first : at[1] == '1' ? second : bait);
        at += strcspn(at, "}") + 1;
    }
}

void bfi_put_number_word(bfi_pen *pen, int n) {
    static const char *const words[] = {"no",    "one",   "two",  "three", "four",   "five",  "six",
                                        "seven", "eight", "nine", "ten",   "eleven", "twelve"};
    if (n >= 0 && n < (int)(sizeof words / sizeof words[0]))
        bfi_put(pen, words[n]);
    else
        bfi_put_figures(pen, n, 15);
}

/* ---- A rig in words ---- */

static int is_bulk(const bf_shot *shot) {
    return shot->count > 1 && shot->apart_m == 0;
}

/* The row that counts as the bulk: of those that touch each other the heaviest; -1: none. */
static int bulk_row(const bf_rig *rig) {
    int bulk = -1;
    double most_kg = 0;
    for (int i = 0; i < rig->n_shots; i++) {
        double mass_kg = rig->shot[i].count * bf_shot_mass_kg(&rig->shot[i], 0);
        if (!is_bulk(&rig->shot[i]) || mass_kg <= most_kg) continue;
        bulk = i;
        most_kg = mass_kg;
    }
    return bulk;
}

static void put_size(bfi_pen *pen, const bf_shot *shot) {
    if (shot->mass_kg == shot->mass_kg) {
        put_number(pen, shot->mass_kg, 1e6, 3, " mg shot");
        return;
    }
    bfi_put(pen, bf_shot_sizes[shot->size].word);
}

/* "five No 8", one alone without its number. */
static void put_shots(bfi_pen *pen, const bf_shot *shot) {
    if (shot->count > 1) {
        bfi_put_number_word(pen, shot->count);
        bfi_put(pen, " ");
    }
    put_size(pen, shot);
}

static int is_same_size(const bf_shot *a, const bf_shot *b) {
    int is_weighed = a->mass_kg == a->mass_kg;
    return is_weighed ? a->mass_kg == b->mass_kg : b->mass_kg != b->mass_kg && a->size == b->size;
}

/* "five No 8 spread": `count` shot of a row's size, one row or several one below the other. */
static void put_row(bfi_pen *pen, const bf_rig *rig, int row, int count, int bulk) {
    bf_shot shot = rig->shot[row];
    int is_below = bulk >= 0 && shot.at_m < rig->shot[bulk].at_m;
    int is_above = bulk >= 0 && shot.at_m > rig->shot[bulk].at_m;
    int is_spread = shot.apart_m > 0 || count > shot.count;
    shot.count = count;
    if (row == bulk) bfi_put(pen, "bulk of ");
    put_shots(pen, &shot);
    if (is_below)
        bfi_put(pen, count > 1 ? " droppers" : " dropper");
    else if (is_above)
        bfi_put(pen, " above");
    else if (is_spread)
        bfi_put(pen, " spread");
}

/* Rows from the top down; they may stand in any order. */
static void order_rows(const bf_rig *rig, int order[BF_RIG_SHOTS]) {
    for (int i = 0; i < rig->n_shots; i++) {
        int at = i;
        while (at > 0 && rig->shot[order[at - 1]].at_m < rig->shot[i].at_m) {
            order[at] = order[at - 1];
            at--;
        }
        order[at] = i;
    }
}

void bfi_put_rig(bfi_pen *pen, const bf_rig *rig) {
    int order[BF_RIG_SHOTS], bulk = bulk_row(rig);
    order_rows(rig, order);
    put_number(pen, rig->flt.rating_kg, 1000, 3, " g float");
    for (int i = 0, next; i < rig->n_shots; i = next) {
        int row = order[i], count = rig->shot[row].count;
        for (next = i + 1; next < rig->n_shots && row != bulk && order[next] != bulk; next++) {
            if (!is_same_size(&rig->shot[row], &rig->shot[order[next]])) break;
            count += rig->shot[order[next]].count;
        }
        bfi_put(pen, ", ");
        put_row(pen, rig, row, count, bulk);
    }
    for (int i = 0; i < rig->n_back_shots; i++) {
        bfi_put(pen, ", back shot ");
        put_shots(pen, &rig->back_shot[i]);
    }
}

void bfi_json_rig_open(bfi_json *out, const bf_rig *rig) {
    static const bf_section section[] = {{"", &bf_rig_table, 0, 1, 0, &bf_rig_parts}};
    static const bf_schema schema = BF_SCHEMA("rig", bf_rig, section);
    bfi_json_record_open(out, &schema, NULL, rig);
}

void bfi_json_rig(bfi_json *out, const bf_rig *rig) {
    bfi_json_rig_open(out, rig);
    bfi_json_close(out);
}
