/* write.c -- see write.h. */
#include "text/write.h"

#include <string.h>

#include "baitfall/instant.h"

/* ---- Pieces ---- */

bfi_json bfi_json_open(char *out, size_t most) {
    return (bfi_json){.pen = bfi_pen_open(out, most)};
}

bf_status bfi_json_done(bfi_json *json, size_t *n) {
    BF_ASSERT(json->depth == 0 && !json->is_value_due);
    if (json->pen.is_short) json->pen.at[0] = 0;
    *n = json->pen.is_short ? 0 : json->pen.n;
    return json->pen.is_short ? BF_E_SPACE : BF_OK;
}

/* The comma before a key or element. */
static void separate(bfi_json *json) {
    if (json->is_value_due) {
        json->is_value_due = 0;
        return;
    }
    if (!json->depth) return;
    if (json->has_some[json->depth - 1]) bfi_put_bytes(&json->pen, ",", 1);
    json->has_some[json->depth - 1] = 1;
}

static void open_with(bfi_json *json, const char *opening, char closing) {
    separate(json);
    BF_ASSERT(json->depth < BFI_WRITE_NEST_MOST);
    json->closing[json->depth] = closing;
    json->has_some[json->depth] = 0;
    json->depth++;
    bfi_put_bytes(&json->pen, opening, 1);
}

void bfi_json_object(bfi_json *json) {
    open_with(json, "{", '}');
}

void bfi_json_array(bfi_json *json) {
    open_with(json, "[", ']');
}

void bfi_json_close(bfi_json *json) {
    BF_ASSERT(json->depth > 0);
    json->depth--;
    bfi_put_bytes(&json->pen, &json->closing[json->depth], 1);
}

static void put_escape(bfi_pen *pen, unsigned char c) {
    static const char hex[] = "0123456789abcdef";
    char unicode[6] = {'\\', 'u', '0', '0', hex[c >> 4], hex[c & 15]};
    char plain[2] = {'\\', (char)c};
    if (c == '\n') plain[1] = 'n';
    if (c == '\t') plain[1] = 't';
    int is_plain = c == '"' || c == '\\' || c == '\n' || c == '\t';
    bfi_put_bytes(pen, is_plain ? plain : unicode, is_plain ? sizeof plain : sizeof unicode);
}

static void put_quoted(bfi_pen *pen, const char *text) {
    bfi_put_bytes(pen, "\"", 1);
    while (*text) {
        size_t n = 0;
        while ((unsigned char)text[n] >= 0x20 && text[n] != '"' && text[n] != '\\') n++;
        bfi_put_bytes(pen, text, n);
        text += n;
        if (*text) put_escape(pen, (unsigned char)*text++);
    }
    bfi_put_bytes(pen, "\"", 1);
}

void bfi_json_key(bfi_json *json, const char *key) {
    separate(json);
    put_quoted(&json->pen, key);
    bfi_put_bytes(&json->pen, ":", 1);
    json->is_value_due = 1;
}

void bfi_json_text(bfi_json *json, const char *text) {
    separate(json);
    put_quoted(&json->pen, text);
}

void bfi_json_real(bfi_json *json, double number) {
    char text[BF_NUMBER_MOST];
    int is_finite = number - number == 0;
    if (is_finite)
        bfi_json_raw(json, text, bf_number_write(number, text));
    else
        bfi_json_raw(json, "null", 4);
}

void bfi_json_truth(bfi_json *json, int truth) {
    bfi_json_raw(json, truth ? "true" : "false", truth ? 4 : 5);
}

void bfi_json_raw(bfi_json *json, const char *value, size_t n) {
    separate(json);
    bfi_put_bytes(&json->pen, value, n);
}

void bfi_json_key_text(bfi_json *json, const char *key, const char *text) {
    bfi_json_key(json, key);
    bfi_json_text(json, text);
}

void bfi_json_key_real(bfi_json *json, const char *key, double number) {
    bfi_json_key(json, key);
    bfi_json_real(json, number);
}

void bfi_json_instant(bfi_json *json, const char *key, double ms, int east_min) {
    char text[BF_INSTANT_BYTES];
    if (ms != ms) {
        bfi_json_key_real(json, key, ms);
        return;
    }
    bf_instant_write(ms, east_min, text);
    bfi_json_key_text(json, key, text);
}

static int is_nan(double x) {
    return x != x;
}

static void put_range(bfi_json *json, const char *key, bf_range range, const char *text) {
    bfi_json_key(json, key);
    bfi_json_object(json);
    bfi_json_key_real(json, "nominal", range.nominal);
    bfi_json_key_real(json, "mid", range.mid);
    bfi_json_key_real(json, "lo", range.lo);
    bfi_json_key_real(json, "hi", range.hi);
    bfi_json_key_text(json, "text", text);
}

/* What is said of a range: a nominal value that stands alone is said as it is. */
static bf_range said(bf_range range) {
    double alone = range.nominal;
    return is_nan(range.mid) ? (bf_range){alone, alone, alone, alone} : range;
}

void bfi_json_range(bfi_json *json, const char *key, bf_range range, bf_dimension dimension) {
    char text[BF_SAY_MOST];
    bf_say_range(said(range), dimension, text);
    put_range(json, key, range, text);
}

void bfi_json_range_of(bfi_json *json, const bf_field *field, bf_range range) {
    char text[BF_SAY_MOST];
    bf_say_range_of(field, said(range), text);
    put_range(json, field->name, range, text);
}

/* ---- Errors ---- */

const char *bf_status_slug(bf_status status) {
    static const char *const slugs[BF_N_STATUS] = {
        [BF_OK] = "ok",
        [BF_E_NOT_FINITE] = "not-finite",
        [BF_E_RANGE] = "range",
        [BF_E_MODEL_RANGE] = "model-range",
        [BF_E_NO_CONVERGE] = "no-converge",
        [BF_E_SPACE] = "space",
        [BF_E_SYNTAX] = "syntax",
        [BF_E_KEY] = "key",
        [BF_E_UNIT] = "unit",
        [BF_E_TYPE] = "type",
        [BF_E_CHOICE] = "choice",
        [BF_E_MISSING] = "missing",
        [BF_E_TWICE] = "twice",
        [BF_E_COUNT] = "count",
        [BF_E_DATA] = "data",
    };
    BF_ASSERT(status >= 0 && status < BF_N_STATUS);
    return slugs[status];
}

bf_status bfi_json_error(const bf_error *error, char *out, size_t most, size_t *n) {
    bfi_json json = bfi_json_open(out, most);
    bfi_json_object(&json);
    bfi_json_key_real(&json, "schema", 1);
    bfi_json_key(&json, "error");
    bfi_json_object(&json);
    bfi_json_key_text(&json, "code", bf_status_slug(error->status));
    bfi_json_key_text(&json, "field", error->field);
    bfi_json_key(&json, "value");
    bfi_json_raw(&json, error->value[0] ? error->value : "null", error->value[0] ? strlen(error->value) : 4);
    bfi_json_key_text(&json, "accepted", error->accepted);
    bfi_json_key_text(&json, "text", error->text);
    bfi_json_close(&json);
    bfi_json_close(&json);
    return bfi_json_done(&json, n);
}

/* ---- Records ---- */

void bfi_cut(char *out, size_t most, const char *text, size_t n) {
    if (n >= most) {
        n = most - 1;
        while (n && ((unsigned char)text[n] & 0xC0) == 0x80) n--;
    }
    memcpy(out, text, n);
    out[n] = 0;
}

void bfi_pm_key(const bf_field *field, char key[BFI_KEY_MOST]) {
    const char *suffix = bf_field_suffix(field);
    bfi_pen pen = bfi_pen_open(key, BFI_KEY_MOST);
    bfi_put_bytes(&pen, field->name, strlen(field->name) - strlen(suffix));
    bfi_put(&pen, "_pm");
    bfi_put(&pen, suffix);
}

void bfi_field_path(const bf_section *section, int row, int field, int is_pm, char *out, size_t most) {
    char text[BF_NUMBER_MOST];
    bfi_pen pen = bfi_pen_open(out, most);
    bfi_put(&pen, section->name);
    if (section->most > 1) {
        bfi_put(&pen, "[");
        bfi_put_bytes(&pen, text, bf_number_fixed(row, 0, text));
        bfi_put(&pen, "]");
    }
    if (field < 0) return;
    char key[BFI_KEY_MOST];
    if (is_pm) bfi_pm_key(&section->table->field[field], key);
    if (pen.n) bfi_put(&pen, "."); // fields of the root have no section before them
    bfi_put(&pen, is_pm ? key : section->table->field[field].name);
}

void bfi_fault_path(const bf_fault *fault, int is_pm, char *out, size_t most) {
    size_t n = 0;
    if (fault->within) {
        bfi_field_path(fault->within, fault->within_row, -1, 0, out, most);
        n = strlen(out);
        if (n + 2 > most) return;
        memcpy(out + n++, ".", 2);
    }
    bfi_field_path(fault->section, fault->row, fault->field, is_pm, out + n, most - n);
}

const char *bfi_name_of(const bfi_names *names, const bf_section *section, int row) {
    for (int i = 0; names && i < names->n; i++) {
        const bfi_name *name = &names->name[i];
        // Schemas over one record may each have a section for the same place.
        int is_there = name->section->table == section->table && name->section->offset == section->offset;
        if (is_there && name->row == row) return name->text.text;
    }
    return "";
}

/* The name of row `row` of the list that a BF_REF points into. */
static const char *name_in_list(const bf_schema *schema, const bfi_names *names, const char *list, int row) {
    for (int i = 0; i < schema->n_sections; i++) {
        const char *name = bfi_name_of(names, &schema->section[i], row);
        if (strcmp(schema->section[i].name, list) == 0 && name[0]) return name;
    }
    return "";
}

static void put_quantity(bfi_json *json, const bf_field *field, const bf_quantity *quantity) {
    char key[BFI_KEY_MOST];
    if (quantity->is_unknown) {
        bfi_json_key_text(json, field->name, "don't know");
        return;
    }
    bfi_json_key_real(json, field->name, quantity->value);
    bfi_pm_key(field, key);
    bfi_json_key_real(json, key, quantity->pm);
}

static void put_list(bfi_json *json, const bf_field *field, const bf_list *list) {
    bfi_json_key(json, field->name);
    bfi_json_array(json);
    for (int i = 0; i < list->n; i++) bfi_json_real(json, list->at[i]);
    bfi_json_close(json);
}

void bfi_json_fields(bfi_json *json, const bf_schema *schema, const bfi_names *names,
                     const bf_section *section, const void *record, int row) {
    const char *at = bf_section_row_const(section, record, row);
    for (int i = 0; i < section->table->n_fields; i++) {
        const bf_field *field = &section->table->field[i];
        const void *member = at + field->offset;
        if (field->kind == BF_QUANTITY) put_quantity(json, field, member);
        if (field->kind == BF_LIST) put_list(json, field, member);
        if (!bf_field_is_given(field, member)) continue;
        switch (field->kind) {
        case BF_REAL: bfi_json_key_real(json, field->name, *(const double *)member); break;
        case BF_INT: bfi_json_key_real(json, field->name, *(const int *)member); break;
        case BF_CHOICE: bfi_json_key_text(json, field->name, field->words[*(const int *)member]); break;
        case BF_REF:
            bfi_json_key_text(json, field->name,
                              name_in_list(schema, names, field->words[0], *(const int *)member));
            break;
        case BF_INSTANT: bfi_json_instant(json, field->name, *(const double *)member, json->east_min); break;
        default: break;
        }
    }
}

/* Is `name` path itself (n bytes), or below it? */
static int is_under(const char *name, const char *path, size_t n) {
    return strncmp(name, path, n) == 0 && (name[n] == 0 || name[n] == '.');
}

/* One row of all sections that stand at a path; sections of one path have the same rows. */
static void put_members(bfi_json *json, const bf_schema *schema, const bfi_names *names, const void *record,
                        const char *path, size_t n, int row);

static void put_row(bfi_json *json, const bf_schema *schema, const bfi_names *names, const void *record,
                    const char *path, size_t n, int row) {
    bfi_json_object(json);
    put_members(json, schema, names, record, path, n, row);
    bfi_json_close(json);
}

static void put_path(bfi_json *json, const bf_schema *schema, const bfi_names *names, const void *record,
                     const char *path, size_t n) {
    for (int i = 0; i < schema->n_sections; i++) {
        const bf_section *section = &schema->section[i];
        if (strlen(section->name) != n || strncmp(section->name, path, n) != 0 || section->most == 1)
            continue;
        bfi_json_array(json);
        for (int row = 0; row < bf_section_count(section, record); row++)
            put_row(json, schema, names, record, path, n, row);
        bfi_json_close(json);
        return;
    }
    put_row(json, schema, names, record, path, n, 0);
}

/* The paths one step below a path, each once: at the first section there. */
static void put_below(bfi_json *json, const bf_schema *schema, const bfi_names *names, const void *record,
                      const char *path, size_t n) {
    for (int i = 0; i < schema->n_sections; i++) {
        const char *name = schema->section[i].name;
        if (n && (!is_under(name, path, n) || !name[n])) continue;
        const char *step = n ? name + n + 1 : name;
        const char *end = strchr(step, '.');
        size_t n_step = end ? (size_t)(end - step) : strlen(step);
        size_t n_below = (size_t)(step - name) + n_step;
        int is_first = n_step > 0;
        for (int k = 0; k < i; k++) is_first &= !is_under(schema->section[k].name, name, n_below);
        if (!is_first) continue;
        char key[BFI_KEY_MOST];
        bfi_cut(key, sizeof key, step, n_step);
        bfi_json_key(json, key);
        put_path(json, schema, names, record, name, n_below);
    }
}

static void put_members(bfi_json *json, const bf_schema *schema, const bfi_names *names, const void *record,
                        const char *path, size_t n, int row) {
    for (int i = 0; i < schema->n_sections; i++) {
        const bf_section *section = &schema->section[i];
        if (strlen(section->name) != n || strncmp(section->name, path, n) != 0) continue;
        const char *id = bfi_name_of(names, section, row);
        if (id[0]) bfi_json_key_text(json, "id", id);
        bfi_json_fields(json, schema, names, section, record, row);
        // Parts have no names of their own: they are written whole.
        if (section->parts)
            put_below(json, section->parts, NULL, bf_section_row_const(section, record, row), "", 0);
    }
    put_below(json, schema, names, record, path, n);
}

void bfi_json_record_open(bfi_json *json, const bf_schema *schema, const bfi_names *names,
                          const void *record) {
    bfi_json_object(json);
    put_members(json, schema, names, record, "", 0, 0);
}

void bfi_json_record(bfi_json *json, const bf_schema *schema, const bfi_names *names, const void *record) {
    bfi_json_record_open(json, schema, names, record);
    bfi_json_close(json);
}
