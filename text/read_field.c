/* read_field.c -- one value into a field of a record. See read_parts.h. */
#include <string.h>

#include "baitfall/bait.h"
#include "baitfall/instant.h"
#include "text/read_parts.h"

/* ---- Single values ---- */

/* A number, or text with a unit. */
static bf_status take_quantity(const bf_json *json, int value, bf_dimension dimension, bf_quantity *quantity,
                               int *says_pm) {
    char text[256];
    *says_pm = 0;
    *quantity = (bf_quantity){BF_NAN, BF_NAN, 0};
    switch (bf_json_kind_of(json, value)) {
    case BF_JSON_NUMBER: return bf_json_number(json, value, &quantity->value);
    case BF_JSON_STRING:
        if (bf_json_string(json, value, text, sizeof text)) return BF_E_SYNTAX;
        return bf_quantity_read(text, strlen(text), dimension, quantity, says_pm);
    default: return BF_E_TYPE;
    }
}

static void take_unknown(const bf_field *field, bf_quantity *quantity) {
    *quantity = (bf_quantity){(field->usual_least + field->usual_most) / 2, 0, 1};
}

static bf_status take_choice(const bf_json *json, int value, const char *const *words, int *choice) {
    if (bf_json_kind_of(json, value) != BF_JSON_STRING) return BF_E_TYPE;
    for (int i = 0; words[i]; i++)
        if (bf_json_is(json, value, words[i])) {
            *choice = i;
            return BF_OK;
        }
    return BF_E_CHOICE;
}

bf_status bfi_read_choice(const bf_json *json, int value, const char *path, const char *const *words,
                          int *choice, bf_error *error) {
    bf_status status = take_choice(json, value, words, choice);
    if (!status) return BF_OK;
    char accepted[sizeof error->accepted];
    bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
    bfi_put_words(&pen, words);
    return bfi_fail(error, status, path, json, value, accepted);
}

bf_status bfi_read_quantity(const bf_json *json, int value, const char *path, const bf_field *field,
                            bf_quantity *quantity, bf_error *error) {
    int says_pm;
    bf_status status = take_quantity(json, value, field->dimension, quantity, &says_pm);
    if (!status && quantity->is_unknown) take_unknown(field, quantity);
    if (!status && !says_pm) quantity->pm = quantity->is_unknown ? 0 : field->start_pm;
    if (!status && (quantity->value < field->least || quantity->value > field->most)) status = BF_E_RANGE;
    if (!status) return BF_OK;
    char accepted[sizeof error->accepted];
    bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
    bfi_put_accepted(&pen, NULL, field, 0, bfi_says_units(status));
    return bfi_fail(error, status, path, json, value, accepted);
}

/* ---- Fields ---- */

static size_t member_offset(const bf_section *section, int row, const bf_field *field) {
    return section->offset + (size_t)row * section->table->bytes + field->offset;
}

/* Offsets count from the record that is read; what was seen, from the whole. */
static size_t in_whole(const bfi_reader *reader, size_t offset) {
    return (size_t)((const char *)reader->record - (const char *)reader->whole_record) + offset;
}

static int was_seen(const bfi_reader *reader, size_t offset) {
    size_t at = in_whole(reader, offset);
    return reader->seen[at / 32] >> at / 4 % 8 & 1;
}

static void mark_seen(bfi_reader *reader, size_t offset) {
    size_t at = in_whole(reader, offset);
    reader->seen[at / 32] |= (unsigned char)(1 << at / 4 % 8);
}

static bf_fault fault_of(const bfi_reader *reader, bf_status status, const bf_section *section, int row,
                         int field, double value) {
    return (bf_fault){status, section, row, field, value, reader->within, reader->within_row};
}

/* The "[1]" of an element of a list behind the path of the list. */
static void put_element(const bfi_reader *reader, int value, char *path, size_t most) {
    char as_written[BFI_PATH_MOST];
    bf_json_path(reader->json, value, as_written, sizeof as_written);
    const char *index = NULL;
    for (const char *c = as_written; *c; c++)
        if (*c == '[') index = c;
    size_t n = strlen(path);
    if (index && !strchr(index, '.')) bfi_cut(path + n, most - n, index, strlen(index));
}

static bf_status fail_field(bfi_reader *reader, bf_status status, const bf_section *section, int row,
                            int field, int is_pm, int value) {
    char path[sizeof reader->error->field], accepted[sizeof reader->error->accepted];
    bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
    const bf_field *f = &section->table->field[field];
    bf_fault fault = fault_of(reader, status, section, row, field, BF_NAN);
    bfi_fault_path(&fault, is_pm, path, sizeof path);
    if (f->kind == BF_LIST) put_element(reader, value, path, sizeof path);
    if (status == BF_E_TWICE)
        bfi_put(&pen, "one value");
    else if (f->kind == BF_REF && strncmp(f->words[0], "kit.", 4) == 0)
        bfi_put_all_names(&pen, reader, bfi_first_section(reader->whole, f->words[0]));
    else
        bfi_put_accepted(&pen, reader->names, f, is_pm, bfi_says_units(status));
    return bfi_fail(reader->error, status, path, reader->json, status == BF_E_TWICE ? -1 : value, accepted);
}

static bf_status read_pm(bfi_reader *reader, const bf_field *field, int value, bf_quantity *member) {
    static const char prefix[] = "0 give or take ";
    char text[256];
    int says_pm;
    bf_quantity got;
    bf_status status = BF_E_TYPE;
    if (bf_json_kind_of(reader->json, value) == BF_JSON_NUMBER) {
        status = bf_json_number(reader->json, value, &got.pm);
        if (!status && got.pm < 0) status = BF_E_RANGE;
    } else if (bf_json_kind_of(reader->json, value) == BF_JSON_STRING) {
        // A difference: 9 F are 5 C here.
        memcpy(text, prefix, sizeof prefix);
        status =
            bf_json_string(reader->json, value, text + sizeof prefix - 1, sizeof text - sizeof prefix + 1);
        status =
            status ? BF_E_SYNTAX : bf_quantity_read(text, strlen(text), field->dimension, &got, &says_pm);
    }
    if (!status) member->pm = got.pm;
    return status;
}

static bf_status read_quantity(bfi_reader *reader, const bf_field *field, int value, size_t offset,
                               bf_quantity *member) {
    size_t pm_offset = offset + offsetof(bf_quantity, pm);
    bf_quantity got;
    int says_pm;
    bf_status status = take_quantity(reader->json, value, field->dimension, &got, &says_pm);
    if (status) return status;
    int pm_is_elsewhere = was_seen(reader, pm_offset);
    if (pm_is_elsewhere && (says_pm || got.is_unknown)) return BF_E_TWICE;
    if (says_pm || got.is_unknown) mark_seen(reader, pm_offset);
    if (got.is_unknown) {
        take_unknown(field, member);
        return BF_OK;
    }
    member->pm = says_pm ? got.pm : pm_is_elsewhere ? member->pm : field->start_pm;
    member->value = got.value;
    member->is_unknown = 0;
    return BF_OK;
}

static bf_status read_real(const bf_json *json, const bf_field *field, int value, double *member) {
    bf_quantity got;
    int says_pm;
    bf_status status = take_quantity(json, value, field->dimension, &got, &says_pm);
    if (status) return status;
    if (says_pm || got.is_unknown) return BF_E_TYPE;
    *member = got.value;
    return BF_OK;
}

static bf_status read_int(const bf_json *json, const bf_field *field, int value, int *member) {
    double number;
    if (bf_json_kind_of(json, value) != BF_JSON_NUMBER) return BF_E_TYPE;
    bf_status status = bf_json_number(json, value, &number);
    if (status) return status;
    if (number < field->least || number > field->most) return BF_E_RANGE;
    if (number != (int)number) return BF_E_TYPE;
    *member = (int)number;
    return BF_OK;
}

static bf_status read_instant(const bf_json *json, int value, double *member) {
    char text[BF_INSTANT_BYTES];
    double ms;
    int east_min;
    if (bf_json_kind_of(json, value) != BF_JSON_STRING) return BF_E_TYPE;
    if (bf_json_string(json, value, text, sizeof text)) return BF_E_SYNTAX;
    bf_status status = bf_instant_read(text, strlen(text), &ms, &east_min);
    if (!status) *member = ms;
    return status;
}

bf_status bfi_read_plain(const bf_json *json, int value, const bf_field *field, void *member) {
    switch (field->kind) {
    case BF_REAL: return read_real(json, field, value, member);
    case BF_INT: return read_int(json, field, value, member);
    case BF_CHOICE: return take_choice(json, value, field->words, member);
    case BF_INSTANT: return read_instant(json, value, member);
    default: BF_ASSERT(0); return BF_E_TYPE;
    }
}

/* On an error *value is the element that caused it. */
static bf_status read_list(bfi_reader *reader, const bf_field *field, int *value, bf_list *member) {
    if (bf_json_kind_of(reader->json, *value) != BF_JSON_ARRAY) return BF_E_TYPE;
    member->n = 0;
    for (int i = bf_json_first(reader->json, *value); i >= 0; i = bf_json_next(reader->json, i)) {
        bf_status status = member->n == BF_LIST_MOST
                               ? BF_E_COUNT
                               : read_real(reader->json, field, i, &member->at[member->n]);
        if (status) {
            *value = i;
            return status;
        }
        member->n++;
    }
    return BF_OK;
}

static bf_status read_ref(bfi_reader *reader, const bf_field *field, int value, int *member) {
    if (bf_json_kind_of(reader->json, value) != BF_JSON_STRING) return BF_E_TYPE;
    int row = bfi_named_row(reader, field->words[0], value);
    if (row < 0) row = bfi_row_from_elsewhere(reader, field->words[0], value);
    if (row < 0) return BF_E_CHOICE;
    *member = row;
    return BF_OK;
}

bf_status bfi_read_field(bfi_reader *reader, const bf_section *section, int row, int i_field, int is_pm,
                         int value) {
    const bf_field *field = &section->table->field[i_field];
    size_t offset = member_offset(section, row, field);
    size_t said = offset + (is_pm ? offsetof(bf_quantity, pm) : 0);
    void *member = (char *)reader->record + offset;
    bf_status status = was_seen(reader, said) ? BF_E_TWICE : BF_OK;
    if (!status && is_pm) status = read_pm(reader, field, value, member);
    if (!status && !is_pm) switch (field->kind) {
        case BF_QUANTITY: status = read_quantity(reader, field, value, offset, member); break;
        case BF_LIST: status = read_list(reader, field, &value, member); break;
        case BF_REF: status = read_ref(reader, field, value, member); break;
        default: status = bfi_read_plain(reader->json, value, field, member); break;
        }
    if (status) return fail_field(reader, status, section, row, i_field, is_pm, value);
    mark_seen(reader, said);
    return BF_OK;
}

bf_status bfi_check_pm(bfi_reader *reader, const bf_section *section, int row, int i_field) {
    const bf_field *field = &section->table->field[i_field];
    size_t offset = member_offset(section, row, field);
    const bf_quantity *quantity = (const void *)((const char *)reader->record + offset);
    int is_alone = was_seen(reader, offset + offsetof(bf_quantity, pm)) && !was_seen(reader, offset);
    if (is_alone && quantity->is_unknown)
        return fail_field(reader, BF_E_MISSING, section, row, i_field, 0, -1);
    if (quantity->is_unknown || quantity->pm <= field->most - field->least) return BF_OK;
    bf_fault fault = fault_of(reader, BF_E_RANGE, section, row, i_field, quantity->pm);
    return bfi_fail_pm(reader->error, reader->names, &fault);
}
