#include "baitfall/field.h"

#include <math.h>
#include <string.h>

const char *bf_dimension_suffix(bf_dimension dimension) {
    static const char *const suffix[BF_N_DIMENSIONS] = {
        [BF_PURE] = "",        [BF_LENGTH] = "_m",      [BF_AREA] = "_m2", [BF_VOLUME] = "_m3",
        [BF_MASS] = "_kg",     [BF_DENSITY] = "_kg_m3", [BF_TIME] = "_s",  [BF_TEMPERATURE] = "_c",
        [BF_SPEED] = "_m_s",   [BF_ANGLE] = "_deg",     [BF_FORCE] = "_n", [BF_VISCOSITY] = "_pa_s",
        [BF_TENSION] = "_n_m", [BF_PRESSURE] = "_pa",
    };
    return suffix[dimension];
}

static int is_finite(double x) {
    return x - x == 0;
}

static int is_nan(double x) {
    return x != x;
}

/* Start values ------------------------------------------------------------------------------------------- */

static void field_start(const bf_field *field, void *member) {
    switch (field->kind) {
    case BF_REAL:
    case BF_INSTANT: *(double *)member = field->start; break;
    case BF_INT:
    case BF_CHOICE: *(int *)member = is_nan(field->start) ? -1 : (int)field->start; break;
    case BF_REF: *(int *)member = -1; break;
    case BF_LIST: *(bf_list *)member = (bf_list){0}; break;
    case BF_QUANTITY: {
        int is_unknown = is_nan(field->start);
        double middle = 0.5 * (field->usual_least + field->usual_most);
        *(bf_quantity *)member =
            (bf_quantity){is_unknown ? middle : field->start, is_unknown ? 0 : field->start_pm, is_unknown};
        break;
    }
    }
}

void bf_record_start(const bf_table *table, void *record) {
    for (int i = 0; i < table->n_fields; i++)
        field_start(&table->field[i], (char *)record + table->field[i].offset);
}

void bf_schema_start(const bf_schema *schema, void *record) {
    for (int i = 0; i < schema->n_sections; i++) {
        const bf_section *section = &schema->section[i];
        if (section->most == 1)
            bf_record_start(section->table, (char *)record + section->offset);
        else
            *(int *)((char *)record + section->count_offset) = 0;
    }
}

void bf_row_start(const bf_section *section, void *record, int row) {
    void *at = bf_section_row(section, record, row);
    bf_record_start(section->table, at);
    if (section->parts) bf_schema_start(section->parts, at);
}

/* Rows --------------------------------------------------------------------------------------------------- */

int bf_section_count(const bf_section *section, const void *record) {
    return section->most == 1 ? 1 : *(const int *)((const char *)record + section->count_offset);
}

const void *bf_section_row_const(const bf_section *section, const void *record, int row) {
    return (const char *)record + section->offset + (size_t)row * section->table->bytes;
}

void *bf_section_row(const bf_section *section, void *record, int row) {
    return (char *)record + section->offset + (size_t)row * section->table->bytes;
}

/* Checks ------------------------------------------------------------------------------------------------- */

static bf_status check_number(const bf_field *field, double number, double *value) {
    *value = number;
    if (!is_finite(number)) return BF_E_NOT_FINITE;
    return number < field->least || number > field->most ? BF_E_RANGE : BF_OK;
}

static bf_status check_quantity(const bf_field *field, const bf_quantity *quantity, double *value) {
    if (quantity->is_unknown && field->must && is_nan(field->start)) return BF_E_MISSING;
    bf_status status = check_number(field, quantity->value, value);
    if (status || quantity->is_unknown) return status;
    *value = quantity->pm;
    if (!is_finite(quantity->pm)) return BF_E_NOT_FINITE;
    return quantity->pm < 0 || quantity->pm > field->most - field->least ? BF_E_RANGE : BF_OK;
}

static bf_status check_list(const bf_field *field, const bf_list *list, double *value) {
    for (int i = 0; i < list->n; i++) {
        bf_status status = check_number(field, list->at[i], value);
        if (status) return status;
    }
    return BF_OK;
}

int bf_field_is_given(const bf_field *field, const void *member) {
    switch (field->kind) {
    case BF_REAL:
    case BF_INSTANT: return !is_nan(*(const double *)member);
    case BF_QUANTITY: return !((const bf_quantity *)member)->is_unknown;
    case BF_INT: return !is_nan(field->start) || *(const int *)member != -1;
    case BF_CHOICE:
    case BF_REF: return *(const int *)member != -1;
    case BF_LIST: return ((const bf_list *)member)->n > 0;
    }
    return 0;
}

static bf_status check_instant(const bf_field *field, double ms, double *value) {
    bf_status status = check_number(field, ms, value);
    return !status && ms != floor(ms) ? BF_E_RANGE : status;
}

bf_status bf_field_check(const bf_field *field, const void *member, double *value) {
    *value = BF_NAN;
    if (field->kind == BF_QUANTITY) return check_quantity(field, member, value);
    int may_lack = is_nan(field->start) || field->kind == BF_REF || field->kind == BF_LIST;
    if (may_lack && !bf_field_is_given(field, member)) return field->must ? BF_E_MISSING : BF_OK;
    switch (field->kind) {
    case BF_REAL: return check_number(field, *(const double *)member, value);
    case BF_INSTANT: return check_instant(field, *(const double *)member, value);
    case BF_LIST: return check_list(field, member, value);
    case BF_INT: return check_number(field, *(const int *)member, value);
    case BF_REF: return *(const int *)member < 0 ? BF_E_CHOICE : BF_OK;
    case BF_CHOICE:
        *value = *(const int *)member;
        return *value < field->least || *value > field->most ? BF_E_CHOICE : BF_OK;
    default: return BF_OK;
    }
}

bf_status bf_record_check(const bf_table *table, const void *record, int *i_field, double *value) {
    for (int i = 0; i < table->n_fields; i++) {
        double bad;
        bf_status status =
            bf_field_check(&table->field[i], (const char *)record + table->field[i].offset, &bad);
        if (status) {
            if (i_field) *i_field = i;
            if (value) *value = bad;
            return status;
        }
    }
    return BF_OK;
}

bf_status bf_row_check(const bf_section *section, const void *record, int row, bf_fault *fault) {
    const void *at = bf_section_row_const(section, record, row);
    *fault = (bf_fault){.section = section, .row = row, .field = -1, .value = BF_NAN};
    fault->status = bf_record_check(section->table, at, &fault->field, &fault->value);
    if (fault->status) return fault->status;
    if (section->parts && bf_schema_check(section->parts, at, fault)) {
        fault->within = section;
        fault->within_row = row;
        return fault->status;
    }
    *fault = (bf_fault){0};
    return BF_OK;
}

bf_status bf_schema_check(const bf_schema *schema, const void *record, bf_fault *fault) {
    *fault = (bf_fault){0};
    for (int i = 0; i < schema->n_sections; i++) {
        const bf_section *section = &schema->section[i];
        int count = bf_section_count(section, record);
        BF_ASSERT(count >= 0 && count <= section->most);
        for (int row = 0; row < count; row++) {
            bf_status status = bf_row_check(section, record, row, fault);
            if (status) return status;
        }
    }
    return BF_OK;
}

/* Names -------------------------------------------------------------------------------------------------- */

static int is_name(const char *name, size_t n, const char *text, size_t n_text) {
    return n == n_text && memcmp(name, text, n) == 0;
}

const char *bf_field_suffix(const bf_field *field) {
    static const char frac[] = "_frac";
    size_t n = strlen(field->name), n_frac = sizeof frac - 1;
    int is_ratio = field->dimension == BF_PURE && n > n_frac && strcmp(field->name + n - n_frac, frac) == 0;
    return is_ratio ? frac : bf_dimension_suffix(field->dimension);
}

int bf_field_find(const bf_table *table, const char *name, size_t n, int *is_pm) {
    static const char pm[] = "_pm";
    const size_t n_pm = sizeof pm - 1;
    *is_pm = 0;
    for (int i = 0; i < table->n_fields; i++) {
        const bf_field *field = &table->field[i];
        const char *suffix = bf_field_suffix(field);
        size_t n_full = strlen(field->name), n_suffix = strlen(suffix), n_stem = n_full - n_suffix;
        if (is_name(name, n, field->name, n_full) || is_name(name, n, field->name, n_stem)) return i;
        if (field->kind != BF_QUANTITY || n < n_stem + n_pm) continue;
        int has_stem = memcmp(name, field->name, n_stem) == 0 && memcmp(name + n_stem, pm, n_pm) == 0;
        const char *rest = name + n_stem + n_pm;
        size_t n_rest = n - n_stem - n_pm;
        if (has_stem && (n_rest == 0 || is_name(rest, n_rest, suffix, n_suffix))) {
            *is_pm = 1;
            return i;
        }
    }
    return -1;
}
