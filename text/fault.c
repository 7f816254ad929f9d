/* fault.c -- see fault.h. */
#include "text/fault.h"

#include <string.h>

/* The value as JSON for programs: numbers and words as they stand, strings cut, objects and arrays left out. */
static void put_json_value(bf_error *error, const bf_json *json, int value) {
    bf_json_kind kind = bf_json_kind_of(json, value);
    if (kind == BF_JSON_STRING) {
        char text[48];
        size_t n;
        bfi_json out = bfi_json_open(error->value, sizeof error->value);
        if (bf_json_string(json, value, text, sizeof text - 3)) memcpy(text + strlen(text), "...", 4);
        bfi_json_text(&out, text);
        bf_status status = bfi_json_done(&out, &n);
        if (status) error->value[0] = 0; // a string of control characters only
    } else if (kind != BF_JSON_OBJECT && kind != BF_JSON_ARRAY) {
        size_t n;
        const char *raw = bf_json_raw(json, value, &n);
        if (n < sizeof error->value) bfi_cut(error->value, sizeof error->value, raw, n);
    }
}

/* The value for people. */
static void put_said(bfi_pen *pen, const bf_error *error, const bf_json *json, int value) {
    bf_json_kind kind = bf_json_kind_of(json, value);
    if (kind == BF_JSON_OBJECT || kind == BF_JSON_ARRAY)
        bfi_put(pen, kind == BF_JSON_OBJECT ? "an object" : "an array");
    else
        bfi_put(pen, error->value[0] ? error->value : "too long to show");
}

/* "{field} is {said}, which {words}; accepted is {accepted}.", or without a value "{field} {words}; ...". */
static void put_sentence(bf_error *error, const char *said) {
    bfi_pen pen = bfi_pen_open(error->text, sizeof error->text);
    bfi_put(&pen, error->field[0] ? error->field : "The request");
    if (said[0]) {
        bfi_put(&pen, " is ");
        bfi_put(&pen, said);
        if (error->status != BF_E_RANGE) bfi_put(&pen, ", which");
    }
    if (!said[0] || error->status != BF_E_RANGE) {
        bfi_put(&pen, " ");
        bfi_put(&pen, error->status == BF_E_KEY ? "is not a key known here" : bf_status_words(error->status));
    }
    if (error->accepted[0]) {
        bfi_put(&pen, "; accepted is ");
        bfi_put(&pen, error->accepted);
    }
    bfi_put(&pen, ".");
}

bf_status bfi_fail(bf_error *error, bf_status status, const char *path, const bf_json *json, int value,
                   const char *accepted) {
    char said[160];
    bfi_pen pen = bfi_pen_open(said, sizeof said);
    *error = (bf_error){.status = status};
    bfi_cut(error->field, sizeof error->field, path, strlen(path));
    bfi_cut(error->accepted, sizeof error->accepted, accepted, strlen(accepted));
    if (value >= 0) {
        put_json_value(error, json, value);
        put_said(&pen, error, json, value);
    }
    put_sentence(error, said);
    return status;
}

bf_status bfi_fail_json(bf_error *error, const char *whole, const bf_json *json, const bf_json_fault *fault) {
    char number[BF_NUMBER_MOST];
    if (fault->status == BF_E_TWICE) {
        char path[sizeof error->field];
        bf_json_path(json, fault->token, path, sizeof path);
        return bfi_fail(error, BF_E_TWICE, path, json, -1, fault->wanted);
    }
    bfi_fail(error, fault->status, "", NULL, -1, fault->wanted);
    bfi_pen pen = bfi_pen_open(error->text, sizeof error->text);
    bfi_put(&pen, whole);
    bfi_put(&pen, " ");
    bfi_put(&pen, fault->status == BF_E_SYNTAX ? bf_status_words(BF_E_SYNTAX) : "is too much");
    bfi_put(&pen, ": at byte ");
    bfi_put_bytes(&pen, number, bf_number_fixed((double)fault->at + 1, 0, number));
    bfi_put(&pen, fault->status == BF_E_SYNTAX ? " there should be " : " it passes what is accepted, ");
    bfi_put(&pen, fault->wanted);
    bfi_put(&pen, ".");
    return fault->status;
}

void bfi_put_word(bfi_pen *pen, const char *word, int is_first, int is_last) {
    if (!is_first) bfi_put(pen, is_last ? " or " : ", ");
    bfi_put(pen, word);
}

void bfi_put_words(bfi_pen *pen, const char *const *words) {
    for (int i = 0; words[i]; i++) bfi_put_word(pen, words[i], i == 0, !words[i + 1]);
}

/* "5 cm to 12 m": each end in the unit that suits it. */
static void put_span(bfi_pen *pen, double least, double most, bf_dimension dimension) {
    char text[BF_SAY_MOST];
    bf_say(least, dimension, text);
    bfi_put(pen, text);
    bfi_put(pen, " to ");
    bf_say(most, dimension, text);
    bfi_put(pen, text);
}

static void put_known_names(bfi_pen *pen, const bfi_names *names, const char *list) {
    int n = 0;
    for (int i = 0; names && i < names->n; i++) {
        if (strcmp(names->name[i].section->name, list) != 0) continue;
        bfi_put_word(pen, names->name[i].text.text, n == 0, 0);
        n++;
    }
    if (!n) {
        bfi_put(pen, "an id out of ");
        bfi_put(pen, list);
        bfi_put(pen, ", which has none");
    }
}

void bfi_put_accepted(bfi_pen *pen, const bfi_names *names, const bf_field *field, int is_pm,
                      int says_units) {
    switch (field->kind) {
    case BF_CHOICE: bfi_put_words(pen, field->words); return;
    case BF_REF: put_known_names(pen, names, field->words[0]); return;
    case BF_INSTANT: bfi_put(pen, "an instant such as 2026-04-12T09:31:05.120+01:00"); return;
    case BF_INT: bfi_put(pen, "a whole number from "); break;
    case BF_LIST: bfi_put(pen, "up to 40 values, each "); break;
    default: break;
    }
    put_span(pen, is_pm ? 0 : field->least, is_pm ? field->most - field->least : field->most,
             field->dimension);
    if (says_units && field->kind != BF_INT) {
        bfi_put(pen, " (");
        bfi_put(pen, bf_units_of(field->dimension));
        bfi_put(pen, ")");
    }
}

int bfi_says_units(bf_status status) {
    return status == BF_E_UNIT || status == BF_E_TYPE || status == BF_E_SYNTAX;
}

/* what_else: what is accepted, in words; NULL: what the field's table says. */
static bf_status fail_fault(bf_error *error, const bfi_names *names, const bf_fault *fault, int is_pm,
                            const char *what_else) {
    char path[sizeof error->field], accepted[sizeof error->accepted] = "", said[BF_SAY_MOST] = "";
    if (!fault->section) return bfi_fail(error, fault->status, "", NULL, -1, "");
    bfi_fault_path(fault, is_pm, path, sizeof path);
    if (fault->field < 0) return bfi_fail(error, fault->status, path, NULL, -1, "");

    const bf_field *field = &fault->section->table->field[fault->field];
    bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
    if (what_else)
        bfi_put(&pen, what_else);
    else
        bfi_put_accepted(&pen, names, field, is_pm, 0);
    bfi_fail(error, fault->status, path, NULL, -1, accepted);
    if (fault->value == fault->value && field->kind != BF_REF) {
        bfi_json out = bfi_json_open(error->value, sizeof error->value);
        size_t n;
        bfi_json_real(&out, fault->value);
        bf_status status = bfi_json_done(&out, &n);
        BF_ASSERT(!status);
        bf_say(fault->value, field->dimension, said);
    }
    put_sentence(error, said);
    return fault->status;
}

bf_status bfi_fail_fault(bf_error *error, const bfi_names *names, const bf_fault *fault) {
    return fail_fault(error, names, fault, 0, NULL);
}

bf_status bfi_fail_fault_words(bf_error *error, const bfi_names *names, const bf_fault *fault,
                               const char *accepted) {
    return fail_fault(error, names, fault, 0, accepted);
}

bf_status bfi_fail_pm(bf_error *error, const bfi_names *names, const bf_fault *fault) {
    return fail_fault(error, names, fault, 1, NULL);
}
