/* read.c -- see read.h. */
#include "text/read.h"

#include <string.h>

#include "baitfall/bait.h"
#include "text/kit.h"

#define PATH_MOST 128

/* ---- Reading single values ---- */

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

/* ---- Names ---- */

static bf_status add_name(bfi_reader *reader, const bf_section *section, int row, int value,
                          const char *path) {
    const char *accepted = "text of 1 to 48 bytes";
    if (bf_json_kind_of(reader->json, value) != BF_JSON_STRING)
        return bfi_fail(reader->error, BF_E_TYPE, path, reader->json, value, accepted);
    bfi_name name = {section, row, {""}};
    bf_status status = bf_json_string(reader->json, value, name.text.text, sizeof name.text.text);
    if (status || !name.text.text[0])
        return bfi_fail(reader->error, status ? BF_E_SPACE : BF_E_MISSING, path, reader->json, value,
                        accepted);
    for (int i = 0; i < reader->names->n; i++) {
        const bfi_name *other = &reader->names->name[i];
        if (section->most > 1 && other->section == section && strcmp(other->text.text, name.text.text) == 0)
            return bfi_fail(reader->error, BF_E_TWICE, path, reader->json, value, "each id once");
    }
    BF_ASSERT(reader->names->n < BFI_NAMES_MOST);
    reader->names->name[reader->names->n++] = name;
    return BF_OK;
}

/* The row of an array section at `list` that has the name a string decodes to, -1. */
static int named_row(const bfi_reader *reader, const char *list, int string) {
    for (int i = 0; i < reader->names->n; i++) {
        const bfi_name *name = &reader->names->name[i];
        if (name->section->most > 1 && strcmp(name->section->name, list) == 0 &&
            bf_json_is(reader->json, string, name->text.text))
            return name->row;
    }
    return -1;
}

/* The catalogue's i-th word for records of a table, NULL past the end, and its record. */
static const char *catalogue_word(const bf_table *table, int i, const void **record) {
    if (table == &bf_bait_table && i < bf_n_catalogue) {
        *record = &bf_catalogue[i].bait;
        return bf_catalogue[i].word;
    }
    if (table == &bf_pot_table && i < bf_n_pots) {
        *record = &bf_pots[i].pot;
        return bf_pots[i].word;
    }
    return NULL;
}

/* The catalogue's record of a table by the word a string decodes to, NULL: no such. *word may be NULL. */
static const void *catalogue_record(const bf_table *table, const bf_json *json, int string,
                                    const char **word) {
    const void *record;
    const char *at;
    for (int i = 0; (at = catalogue_word(table, i, &record)) != NULL; i++) {
        if (!bf_json_is(json, string, at)) continue;
        if (word) *word = at;
        return record;
    }
    return NULL;
}

static const bf_section *first_section(const bf_schema *schema, const char *path) {
    for (int i = 0; i < schema->n_sections; i++)
        if (strcmp(schema->section[i].name, path) == 0) return &schema->section[i];
    return NULL;
}

const char *bfi_kit_list(const bf_table *table) {
    if (table == &bf_bait_table) return "kit.baits";
    if (table == &bf_pot_table) return "kit.pots";
    if (table == &bf_sling_table) return "kit.throws";
    return NULL;
}

const char *bfi_own_name(const bf_table *table) {
    return table == &bf_bait_table ? "my bait" : table == &bf_pot_table ? "my pot" : "my catapult";
}

/* The record that a name stands for: the kit's (unless it is the kit that is being read), else the catalogue's, else
 * NULL. */
static const void *named_record(const bfi_reader *reader, const bf_section *section, int string) {
    const char *list = bfi_kit_list(section->table);
    const bf_section *kit = first_section(reader->schema, list);
    int row = kit && kit != section ? named_row(reader, list, string) : -1;
    if (row >= 0 && row < bf_section_count(kit, reader->record))
        return bf_section_row_const(kit, reader->record, row);
    return catalogue_record(section->table, reader->json, string, NULL);
}

static void put_all_names(bfi_pen *pen, const bfi_reader *reader, const bf_table *table) {
    int n = 0;
    for (int i = 0; i < reader->names->n; i++) {
        const bfi_name *name = &reader->names->name[i];
        if (name->section->most > 1 && name->section->table == table)
            bfi_put_word(pen, name->text.text, n++ == 0, 0);
    }
    const void *record, *next;
    const char *word;
    for (int i = 0; (word = catalogue_word(table, i, &record)) != NULL; i++)
        bfi_put_word(pen, word, n++ == 0, !catalogue_word(table, i + 1, &next));
    if (!n) {
        bfi_put(pen, "an id out of ");
        bfi_put(pen, bfi_kit_list(table));
        bfi_put(pen, ", which is empty");
    }
}

/* ---- Reading fields ---- */

static size_t member_offset(const bf_section *section, int row, const bf_field *field) {
    return section->offset + (size_t)row * section->table->bytes + field->offset;
}

static int was_seen(const bfi_reader *reader, size_t offset) {
    return reader->seen[offset / 32] >> offset / 4 % 8 & 1;
}

static void mark_seen(bfi_reader *reader, size_t offset) {
    reader->seen[offset / 32] |= (unsigned char)(1 << offset / 4 % 8);
}

/* The "[1]" of an element of a list behind the path of the list. */
static void put_element(const bfi_reader *reader, int value, char *path, size_t most) {
    char as_written[PATH_MOST];
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
    bfi_field_path(section, row, field, is_pm, path, sizeof path);
    if (f->kind == BF_LIST) put_element(reader, value, path, sizeof path);
    if (status == BF_E_TWICE)
        bfi_put(&pen, "one value");
    else if (f->kind == BF_REF && strcmp(f->words[0], "kit.baits") == 0)
        put_all_names(&pen, reader, &bf_bait_table);
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

static bf_status read_real(bfi_reader *reader, const bf_field *field, int value, double *member) {
    bf_quantity got;
    int says_pm;
    bf_status status = take_quantity(reader->json, value, field->dimension, &got, &says_pm);
    if (status) return status;
    if (says_pm || got.is_unknown) return BF_E_TYPE;
    *member = got.value;
    return BF_OK;
}

static bf_status read_int(bfi_reader *reader, const bf_field *field, int value, int *member) {
    double number;
    if (bf_json_kind_of(reader->json, value) != BF_JSON_NUMBER) return BF_E_TYPE;
    bf_status status = bf_json_number(reader->json, value, &number);
    if (status) return status;
    if (number < field->least || number > field->most) return BF_E_RANGE;
    if (number != (int)number) return BF_E_TYPE;
    *member = (int)number;
    return BF_OK;
}

/* On an error *value is the element that caused it. */
static bf_status read_list(bfi_reader *reader, const bf_field *field, int *value, bf_list *member) {
    if (bf_json_kind_of(reader->json, *value) != BF_JSON_ARRAY) return BF_E_TYPE;
    member->n = 0;
    for (int i = bf_json_first(reader->json, *value); i >= 0; i = bf_json_next(reader->json, i)) {
        bf_status status =
            member->n == BF_LIST_MOST ? BF_E_COUNT : read_real(reader, field, i, &member->at[member->n]);
        if (status) {
            *value = i;
            return status;
        }
        member->n++;
    }
    return BF_OK;
}

/* A catalogue bait or pot that a plan names is taken into the kit. */
static int row_from_catalogue(bfi_reader *reader, const char *list, int value) {
    const bf_section *section = first_section(reader->schema, list);
    const char *word;
    const void *record = section ? catalogue_record(section->table, reader->json, value, &word) : NULL;
    if (!record || reader->names->n == BFI_NAMES_MOST) return -1;
    int *count = (int *)(void *)((char *)reader->record + section->count_offset);
    if (*count == section->most) return -1;
    bfi_name name = {section, *count, {""}};
    bfi_cut(name.text.text, sizeof name.text.text, word, strlen(word));
    reader->names->name[reader->names->n++] = name;
    memcpy(bf_section_row(section, reader->record, *count), record, section->table->bytes);
    return (*count)++;
}

static bf_status read_ref(bfi_reader *reader, const bf_field *field, int value, int *member) {
    if (bf_json_kind_of(reader->json, value) != BF_JSON_STRING) return BF_E_TYPE;
    int row = named_row(reader, field->words[0], value);
    if (row < 0) row = row_from_catalogue(reader, field->words[0], value);
    if (row < 0) return BF_E_CHOICE;
    *member = row;
    return BF_OK;
}

static bf_status read_field(bfi_reader *reader, const bf_section *section, int row, int i_field, int is_pm,
                            int value) {
    const bf_field *field = &section->table->field[i_field];
    size_t offset = member_offset(section, row, field);
    size_t said = offset + (is_pm ? offsetof(bf_quantity, pm) : 0);
    void *member = (char *)reader->record + offset;
    bf_status status = was_seen(reader, said) ? BF_E_TWICE : BF_OK;
    if (!status && is_pm) status = read_pm(reader, field, value, member);
    if (!status && !is_pm) switch (field->kind) {
        case BF_REAL: status = read_real(reader, field, value, member); break;
        case BF_QUANTITY: status = read_quantity(reader, field, value, offset, member); break;
        case BF_INT: status = read_int(reader, field, value, member); break;
        case BF_CHOICE: status = take_choice(reader->json, value, field->words, member); break;
        case BF_LIST: status = read_list(reader, field, &value, member); break;
        case BF_REF: status = read_ref(reader, field, value, member); break;
        }
    if (status) return fail_field(reader, status, section, row, i_field, is_pm, value);
    mark_seen(reader, said);
    return BF_OK;
}

/* ---- Reading places: the sections that share a path ---- */

#define PLACE_MOST 4

typedef struct place {
    char path[PATH_MOST];
    int n;
    const bf_section *section[PLACE_MOST];
} place;

static int is_top(const bf_section *section) {
    return !strchr(section->name, '.');
}

/* The sections at a path. At the top a single section also answers to its table's name ("spot" for what stands in
 * "water"). */
static void find_place(const bf_schema *schema, const char *path, place *p) {
    p->n = 0;
    bfi_cut(p->path, sizeof p->path, path, strlen(path));
    for (int by_table = 0; by_table < 2 && !p->n; by_table++)
        for (int i = 0; i < schema->n_sections; i++) {
            const bf_section *section = &schema->section[i];
            const char *name = by_table ? section->table->name : section->name;
            if (by_table && (section->most > 1 || !is_top(section))) continue;
            if (strcmp(name, path) != 0) continue;
            BF_ASSERT(p->n < PLACE_MOST);
            p->section[p->n++] = section;
        }
}

static int has_below(const bf_schema *schema, const char *path) {
    size_t n = strlen(path);
    for (int i = 0; i < schema->n_sections; i++)
        if (strncmp(schema->section[i].name, path, n) == 0 && schema->section[i].name[n] == '.') return 1;
    return 0;
}

/* The keys that are understood at a place. */
static void put_keys(bfi_pen *pen, const bfi_reader *reader, const place *p) {
    int is_first = 1;
    size_t n = strlen(p->path);
    for (int i = 0; i < p->n; i++)
        for (int f = 0; f < p->section[i]->table->n_fields; f++, is_first = 0)
            bfi_put_word(pen, p->section[i]->table->field[f].name, is_first, 0);
    for (int i = 0; i < reader->schema->n_sections; i++) {
        const char *name = reader->schema->section[i].name;
        if (n && (strncmp(name, p->path, n) != 0 || name[n] != '.')) continue;
        const char *step = n ? name + n + 1 : name;
        size_t n_step = strcspn(step, ".");
        int is_new = n_step > 0;
        for (int k = 0; k < i; k++)
            is_new &= strncmp(reader->schema->section[k].name, name, (size_t)(step - name) + n_step) != 0;
        if (!is_new) continue;
        char key[BFI_KEY_MOST];
        bfi_cut(key, sizeof key, step, n_step);
        bfi_put_word(pen, key, is_first, 0);
        is_first = 0;
    }
    for (int i = 0; !n && reader->others[i]; i++) {
        if (strchr(reader->others[i], '.')) continue;
        bfi_put_word(pen, reader->others[i], is_first, 0);
        is_first = 0;
    }
}

static bf_status fail_key(bfi_reader *reader, const place *p, int key) {
    char path[PATH_MOST], accepted[sizeof reader->error->accepted];
    bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
    bf_json_path(reader->json, key, path, sizeof path);
    put_keys(&pen, reader, p);
    return bfi_fail(reader->error, BF_E_KEY, path, reader->json, -1, accepted);
}

static bf_status fail_at(bfi_reader *reader, bf_status status, int value, const char *accepted) {
    char path[PATH_MOST];
    bf_json_path(reader->json, value, path, sizeof path);
    return bfi_fail(reader->error, status, path, reader->json, value, accepted);
}

/* A place by name: takes over the record that the name stands for. */
static bf_status take_named(bfi_reader *reader, const place *p, int row, int string, int must) {
    const bf_section *section = p->section[0];
    char accepted[sizeof reader->error->accepted];
    bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
    put_all_names(&pen, reader, section->table);
    if (bf_json_kind_of(reader->json, string) != BF_JSON_STRING)
        return fail_at(reader, BF_E_TYPE, string, accepted);
    const void *base = named_record(reader, section, string);
    if (base)
        memcpy(bf_section_row(section, reader->record, row), base, section->table->bytes);
    else if (must)
        return fail_at(reader, BF_E_CHOICE, string, accepted);
    return BF_OK;
}

static bf_status read_place(bfi_reader *reader, const char *path, int value);

/* Keys of a row that are let through without a meaning for the record: what they must be, -1 when the key is none. */
static int remark_kind(const bfi_reader *reader, const place *p, int key) {
    if (!p->n || p->section[0]->most == 1) return -1;
    if (bf_json_is(reader->json, key, "id") || bf_json_is(reader->json, key, "name")) return BF_JSON_STRING;
    if (strncmp(p->path, "kit.", 4) == 0 && bf_json_is(reader->json, key, "was")) return BF_JSON_ARRAY;
    return -1;
}

/* Keys at these paths are the caller's own business. */
static int is_other(const bfi_reader *reader, const char *path) {
    for (int i = 0; reader->others[i]; i++)
        if (strcmp(path, reader->others[i]) == 0) return 1;
    return 0;
}

static bf_status read_member(bfi_reader *reader, const place *p, int row, int key) {
    char name[BFI_KEY_MOST], path[PATH_MOST];
    int is_known_size = bf_json_string(reader->json, key, name, sizeof name) == BF_OK, is_pm;
    int has_id = p->n == 1 && bfi_kit_list(p->section[0]->table);
    bfi_pen pen = bfi_pen_open(path, sizeof path);
    if (p->path[0]) {
        bfi_put(&pen, p->path);
        bfi_put(&pen, ".");
    }
    bfi_put(&pen, name);
    int remark = remark_kind(reader, p, key);
    if (remark >= 0 && (int)bf_json_kind_of(reader->json, key + 1) != remark)
        return fail_at(reader, BF_E_TYPE, key + 1, remark == BF_JSON_STRING ? "text" : "an array");
    if (remark >= 0 || (has_id && strcmp(name, "id") == 0)) return BF_OK;
    if (strchr(name, '.')) return fail_key(reader, p, key);
    if (is_known_size && !pen.is_short && is_other(reader, path)) return BF_OK;
    for (int i = 0; is_known_size && i < p->n; i++) {
        int field = bf_field_find(p->section[i]->table, name, strlen(name), &is_pm);
        if (field >= 0) return read_field(reader, p->section[i], row, field, is_pm, key + 1);
    }
    place below;
    find_place(reader->schema, path, &below);
    if (!is_known_size || pen.is_short || (!below.n && !has_below(reader->schema, path)))
        return fail_key(reader, p, key);
    return read_place(reader, path, key + 1);
}

/* "Give or take" without a value says nothing, and it may be no wider than the field. */
static bf_status check_pm(bfi_reader *reader, const bf_section *section, int row, int i_field) {
    const bf_field *field = &section->table->field[i_field];
    size_t offset = member_offset(section, row, field);
    const bf_quantity *quantity = (const void *)((const char *)reader->record + offset);
    int is_alone = was_seen(reader, offset + offsetof(bf_quantity, pm)) && !was_seen(reader, offset);
    if (is_alone && quantity->is_unknown)
        return fail_field(reader, BF_E_MISSING, section, row, i_field, 0, -1);
    if (quantity->is_unknown || quantity->pm <= field->most - field->least) return BF_OK;
    bf_fault fault = {BF_E_RANGE, section, row, i_field, quantity->pm};
    return bfi_fail_pm(reader->error, reader->names, &fault);
}

static bf_status check_pms(bfi_reader *reader, const place *p, int row) {
    bf_status status = BF_OK;
    for (int i = 0; i < p->n; i++)
        for (int f = 0; !status && f < p->section[i]->table->n_fields; f++)
            if (p->section[i]->table->field[f].kind == BF_QUANTITY)
                status = check_pm(reader, p->section[i], row, f);
    return status;
}

/* One object at a place. */
static bf_status read_row(bfi_reader *reader, const place *p, int row, int value) {
    const bf_section *section = p->n ? p->section[0] : NULL;
    const char *list = p->n == 1 ? bfi_kit_list(section->table) : NULL;
    bf_json_kind kind = bf_json_kind_of(reader->json, value);
    bf_status status = BF_OK;
    int id = kind == BF_JSON_OBJECT ? bf_json_find(reader->json, value, "id") : -1;
    if (list && section->most == 1 && kind == BF_JSON_STRING) id = value;
    if (id < 0 && kind != BF_JSON_OBJECT)
        return fail_at(reader, BF_E_TYPE, value, list ? "an object or an id" : "an object");

    for (int i = 0; i < p->n; i++)
        if (list || section->most > 1)
            bf_record_start(p->section[i]->table, bf_section_row(p->section[i], reader->record, row));
    if (list && id >= 0) status = take_named(reader, p, row, id, section->most == 1);
    if (!status && list && id >= 0 && section->most == 1)
        status = add_name(reader, section, row, id, p->path);
    if (status || kind != BF_JSON_OBJECT) return status;
    for (int key = bf_json_first(reader->json, value); key >= 0; key = bf_json_next(reader->json, key)) {
        status = read_member(reader, p, row, key);
        if (status) return status;
    }
    return check_pms(reader, p, row);
}

static bf_status read_rows(bfi_reader *reader, const place *p, int value) {
    const bf_section *section = p->section[0];
    if (bf_json_kind_of(reader->json, value) != BF_JSON_ARRAY)
        return fail_at(reader, BF_E_TYPE, value, "an array of objects");
    int row = 0;
    for (int i = bf_json_first(reader->json, value); i >= 0; i = bf_json_next(reader->json, i), row++) {
        BF_ASSERT(row < section->most); // read_ids has counted
        // The rows must count before they are read: a row may be named by a later one.
        *(int *)(void *)((char *)reader->record + section->count_offset) = row + 1;
        bf_status status = read_row(reader, p, row, i);
        if (status) return status;
    }
    return BF_OK;
}

static bf_status read_place(bfi_reader *reader, const char *path, int value) {
    place p;
    find_place(reader->schema, path, &p);
    return p.n && p.section[0]->most > 1 ? read_rows(reader, &p, value) : read_row(reader, &p, 0, value);
}

/* ---- The whole ---- */

/* The value at a path of keys, -1. */
static int value_at(const bf_json *json, const char *path) {
    int value = 0;
    while (value >= 0 && *path) {
        char key[BFI_KEY_MOST];
        size_t n = strcspn(path, ".");
        bfi_cut(key, sizeof key, path, n);
        value = bf_json_kind_of(json, value) == BF_JSON_OBJECT ? bf_json_find(json, value, key) : -1;
        path += n + (path[n] == '.');
    }
    return value;
}

/* All ids first, so that a reference may stand before what it names. */
static bf_status read_ids(bfi_reader *reader) {
    for (int i = 0; i < reader->schema->n_sections; i++) {
        const bf_section *section = &reader->schema->section[i];
        int array = section->most > 1 && first_section(reader->schema, section->name) == section
                        ? value_at(reader->json, section->name)
                        : -1;
        if (array < 0 || bf_json_kind_of(reader->json, array) != BF_JSON_ARRAY) continue;
        int row = 0;
        for (int e = bf_json_first(reader->json, array); e >= 0; e = bf_json_next(reader->json, e), row++) {
            char path[PATH_MOST], accepted[64];
            bf_json_path(reader->json, e, path, sizeof path);
            if (row == section->most) {
                bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
                bfi_put(&pen, "up to ");
                bfi_put_number(&pen, section->most, 0);
                bfi_put(&pen, " rows");
                return bfi_fail(reader->error, BF_E_COUNT, path, reader->json, -1, accepted);
            }
            int id =
                bf_json_kind_of(reader->json, e) == BF_JSON_OBJECT ? bf_json_find(reader->json, e, "id") : -1;
            if (id < 0) continue;
            bf_json_path(reader->json, id, path, sizeof path);
            bf_status status = add_name(reader, section, row, id, path);
            if (status) return status;
        }
    }
    return BF_OK;
}

/* The row of a list of the kit that is meant when none is named, -1. */
static int unnamed_row(const bfi_reader *reader, const bf_section *kit) {
    for (int i = 0; i < reader->names->n; i++) {
        const bfi_name *name = &reader->names->name[i];
        if (name->section == kit && strcmp(name->text.text, bfi_own_name(kit->table)) == 0) return name->row;
    }
    return bf_section_count(kit, reader->record) == 1 ? 0 : -1;
}

static void take_unnamed(bfi_reader *reader, const bf_section *section) {
    const bf_section *kit = first_section(reader->schema, bfi_kit_list(section->table));
    int row = kit ? unnamed_row(reader, kit) : -1;
    if (row < 0) return;
    memcpy(bf_section_row(section, reader->record, 0), bf_section_row_const(kit, reader->record, row),
           section->table->bytes);
    bfi_name name = {section, 0, {""}};
    const char *text = bfi_name_of(reader->names, kit, row);
    bfi_cut(name.text.text, sizeof name.text.text, text, strlen(text));
    BF_ASSERT(reader->names->n < BFI_NAMES_MOST);
    reader->names->name[reader->names->n++] = name;
}

static void take_all_unnamed(bfi_reader *reader) {
    for (int i = 0; i < reader->schema->n_sections; i++) {
        const bf_section *section = &reader->schema->section[i];
        int can_be_left_out = section->table == &bf_pot_table || section->table == &bf_sling_table;
        if (section->most == 1 && can_be_left_out && bf_json_find(reader->json, 0, section->name) < 0)
            take_unnamed(reader, section);
    }
}

bf_status bfi_read_record(bfi_reader *reader, const bf_json *json, const bf_schema *schema, void *record,
                          const char *const *others, bfi_names *names, bf_error *error) {
    BF_ASSERT(schema->bytes <= BFI_RECORD_MOST);
    reader->json = json;
    reader->schema = schema;
    reader->record = record;
    reader->others = others;
    reader->names = names;
    reader->error = error;
    memset(reader->seen, 0, sizeof reader->seen);
    names->n = 0;
    bf_status status = read_ids(reader);
    place root;
    find_place(schema, "", &root);
    for (int pass = 0; pass < 2; pass++)
        for (int key = bf_json_first(json, 0); !status && key >= 0; key = bf_json_next(json, key))
            if (bf_json_is(json, key, "kit") == (pass == 0)) status = read_member(reader, &root, 0, key);
    if (!status) take_all_unnamed(reader);
    return status;
}
