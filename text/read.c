/* read.c -- places of a request, and the whole. See read.h. */
#include "text/read.h"

#include <string.h>

#include "text/kit.h"
#include "text/read_parts.h"

/* ---- Places: the sections that share a path ---- */

#define PLACE_MOST 4

typedef struct place {
    char path[BFI_PATH_MOST];
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

/* The steps below a path: "bait", "water" ... */
static void put_steps(bfi_pen *pen, const bf_schema *schema, const char *path, int *is_first) {
    size_t n = strlen(path);
    for (int i = 0; i < schema->n_sections; i++) {
        const char *name = schema->section[i].name;
        if (n && (strncmp(name, path, n) != 0 || name[n] != '.')) continue;
        const char *step = n ? name + n + 1 : name;
        size_t n_step = strcspn(step, ".");
        int is_new = n_step > 0;
        for (int k = 0; k < i; k++)
            is_new &= strncmp(schema->section[k].name, name, (size_t)(step - name) + n_step) != 0;
        if (!is_new) continue;
        char key[BFI_KEY_MOST];
        bfi_cut(key, sizeof key, step, n_step);
        bfi_put_word(pen, key, *is_first, 0);
        *is_first = 0;
    }
}

/* The keys that are understood at a place. */
static void put_keys(bfi_pen *pen, const bfi_reader *reader, const place *p) {
    int is_first = 1, is_root = !p->path[0] && !reader->within;
    for (int i = 0; i < p->n; i++)
        for (int f = 0; f < p->section[i]->table->n_fields; f++, is_first = 0)
            bfi_put_word(pen, p->section[i]->table->field[f].name, is_first, 0);
    for (int i = 0; i < p->n; i++)
        if (p->section[i]->parts) put_steps(pen, p->section[i]->parts, "", &is_first);
    put_steps(pen, reader->schema, p->path, &is_first);
    for (int i = 0; is_root && reader->others[i]; i++) {
        if (strchr(reader->others[i], '.')) continue;
        bfi_put_word(pen, reader->others[i], is_first, 0);
        is_first = 0;
    }
}

static bf_status fail_key(bfi_reader *reader, const place *p, int key) {
    char path[BFI_PATH_MOST], accepted[sizeof reader->error->accepted];
    bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
    bf_json_path(reader->json, key, path, sizeof path);
    put_keys(&pen, reader, p);
    return bfi_fail(reader->error, BF_E_KEY, path, reader->json, -1, accepted);
}

static bf_status fail_at(bfi_reader *reader, bf_status status, int value, const char *accepted) {
    char path[BFI_PATH_MOST];
    bf_json_path(reader->json, value, path, sizeof path);
    return bfi_fail(reader->error, status, path, reader->json, value, accepted);
}

/* A place by name: takes over the record that the name stands for. */
static bf_status take_named(bfi_reader *reader, const place *p, int row, int string, int must) {
    const bf_section *section = p->section[0];
    char accepted[sizeof reader->error->accepted];
    bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
    bfi_put_all_names(&pen, reader, section);
    if (bf_json_kind_of(reader->json, string) != BF_JSON_STRING)
        return fail_at(reader, BF_E_TYPE, string, accepted);
    const void *base = must ? bfi_named_record(reader, section, string)
                            : bfi_catalogue_record(reader, section->table, string);
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

/* The parts of an array's row: sections over the row, read like a record of its own. */
static bf_status read_part(bfi_reader *reader, const bf_section *section, int row, const char *path,
                           int value) {
    const bf_schema *schema = reader->schema;
    void *record = reader->record;
    reader->schema = section->parts;
    reader->record = bf_section_row(section, record, row);
    reader->within = section;
    reader->within_row = row;
    bf_status status = read_place(reader, path, value);
    reader->schema = schema;
    reader->record = record;
    reader->within = NULL;
    return status;
}

/* The section at a place whose rows have a part of this name, NULL. */
static const bf_section *section_with_part(const place *p, const char *name) {
    place part;
    for (int i = 0; i < p->n; i++) {
        if (!p->section[i]->parts) continue;
        find_place(p->section[i]->parts, name, &part);
        if (part.n) return p->section[i];
    }
    return NULL;
}

/* "kit" and "baits" are "kit.baits"; 0: too long for any place. */
static int put_path(const place *p, const char *name, char path[BFI_PATH_MOST]) {
    bfi_pen pen = bfi_pen_open(path, BFI_PATH_MOST);
    bfi_put(&pen, p->path);
    if (p->path[0]) bfi_put(&pen, ".");
    bfi_put(&pen, name);
    return !pen.is_short;
}

static bf_status read_member(bfi_reader *reader, const place *p, int row, int key) {
    char name[BFI_KEY_MOST], path[BFI_PATH_MOST];
    int is_pm, remark = remark_kind(reader, p, key);
    int has_id = p->n && bfi_kit_list(p->section[0]);
    int is_short = bf_json_string(reader->json, key, name, sizeof name) == BF_OK && put_path(p, name, path);
    if (remark >= 0 && (int)bf_json_kind_of(reader->json, key + 1) != remark)
        return fail_at(reader, BF_E_TYPE, key + 1, remark == BF_JSON_STRING ? "text" : "an array");
    if (remark >= 0 || (has_id && strcmp(name, "id") == 0)) return BF_OK;
    if (!is_short || strchr(name, '.')) return fail_key(reader, p, key);
    if (!reader->within && is_other(reader, path)) return BF_OK;
    for (int i = 0; i < p->n; i++) {
        int field = bf_field_find(p->section[i]->table, name, strlen(name), &is_pm);
        if (field >= 0) return bfi_read_field(reader, p->section[i], row, field, is_pm, key + 1);
    }
    const bf_section *with_part = section_with_part(p, name);
    if (with_part) return read_part(reader, with_part, row, name, key + 1);
    place below;
    find_place(reader->schema, path, &below);
    if (!below.n && !has_below(reader->schema, path)) return fail_key(reader, p, key);
    return read_place(reader, path, key + 1);
}

static bf_status check_pms(bfi_reader *reader, const place *p, int row) {
    bf_status status = BF_OK;
    for (int i = 0; i < p->n; i++)
        for (int f = 0; !status && f < p->section[i]->table->n_fields; f++)
            if (p->section[i]->table->field[f].kind == BF_QUANTITY)
                status = bfi_check_pm(reader, p->section[i], row, f);
    return status;
}

/* What stands at a place and below it, from its start values. */
static void start_place(bfi_reader *reader, const place *p, int row) {
    size_t n = strlen(p->path);
    for (int i = 0; i < p->n; i++) bf_row_start(p->section[i], reader->record, row);
    for (int i = 0; i < reader->schema->n_sections; i++) {
        const bf_section *section = &reader->schema->section[i];
        int is_below = strncmp(section->name, p->path, n) == 0 && section->name[n] == '.';
        if (!is_below) continue;
        const bf_schema alone = {"below", reader->schema->bytes, section, 1};
        bf_schema_start(&alone, reader->record);
    }
}

/* Rigs have parts that name other things of the kit: they are read when those are known. */
static int is_for_later(const bfi_reader *reader, const place *p, int key) {
    char name[BFI_KEY_MOST], path[BFI_PATH_MOST];
    place below;
    if (bf_json_string(reader->json, key, name, sizeof name) || !put_path(p, name, path)) return 0;
    find_place(reader->schema, path, &below);
    return below.n && below.section[0]->parts;
}

/* One object at a place. */
static bf_status read_row(bfi_reader *reader, const place *p, int row, int value) {
    const bf_section *section = p->n ? p->section[0] : NULL;
    const char *list = p->n ? bfi_kit_list(section) : NULL;
    bf_json_kind kind = bf_json_kind_of(reader->json, value);
    bf_status status = BF_OK;
    int id = kind == BF_JSON_OBJECT ? bf_json_find(reader->json, value, "id") : -1;
    if (list && section->most == 1 && kind == BF_JSON_STRING) id = value;
    if (id < 0 && kind != BF_JSON_OBJECT)
        return fail_at(reader, BF_E_TYPE, value, list ? "an object or an id" : "an object");

    if (list || (section && section->most > 1)) start_place(reader, p, row);
    for (int i = 0; section && section->most > 1 && i < p->n; i++)
        bfi_take_unnamed_parts(reader, p->section[i], row);
    if (list && id >= 0) status = take_named(reader, p, row, id, section->most == 1);
    if (!status && list && id >= 0 && section->most == 1 && !reader->within)
        status = bfi_add_name(reader, section, row, id, p->path);
    if (status || kind != BF_JSON_OBJECT) return status;
    for (int pass = 0; pass < 2; pass++)
        for (int key = bf_json_first(reader->json, value); key >= 0; key = bf_json_next(reader->json, key)) {
            if (is_for_later(reader, p, key) != pass) continue;
            status = read_member(reader, p, row, key);
            if (status) return status;
        }
    return check_pms(reader, p, row);
}

static bf_status fail_count(bfi_reader *reader, const bf_section *section, int value) {
    char accepted[64];
    bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
    bfi_put(&pen, "up to ");
    bfi_put_number(&pen, section->most, 0);
    bfi_put(&pen, " rows");
    char path[BFI_PATH_MOST];
    bf_json_path(reader->json, value, path, sizeof path);
    return bfi_fail(reader->error, BF_E_COUNT, path, reader->json, -1, accepted);
}

static bf_status read_rows(bfi_reader *reader, const place *p, int value) {
    const bf_section *section = p->section[0];
    if (bf_json_kind_of(reader->json, value) != BF_JSON_ARRAY)
        return fail_at(reader, BF_E_TYPE, value, "an array of objects");
    int row = 0;
    for (int i = bf_json_first(reader->json, value); i >= 0; i = bf_json_next(reader->json, i), row++) {
        if (row == section->most) return fail_count(reader, section, i);
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
        int array = section->most > 1 && bfi_first_section(reader->schema, section->name) == section
                        ? value_at(reader->json, section->name)
                        : -1;
        if (array < 0 || bf_json_kind_of(reader->json, array) != BF_JSON_ARRAY) continue;
        int row = 0;
        for (int e = bf_json_first(reader->json, array); e >= 0; e = bf_json_next(reader->json, e), row++) {
            char path[BFI_PATH_MOST];
            if (row == section->most) return fail_count(reader, section, e);
            int id =
                bf_json_kind_of(reader->json, e) == BF_JSON_OBJECT ? bf_json_find(reader->json, e, "id") : -1;
            if (id < 0) continue;
            bf_json_path(reader->json, id, path, sizeof path);
            bf_status status = bfi_add_name(reader, section, row, id, path);
            if (status) return status;
        }
    }
    return BF_OK;
}

bf_status bfi_read_record(bfi_reader *reader, const bf_json *json, const bf_schema *schema, void *record,
                          const char *const *others, bfi_names *names, bf_error *error) {
    BF_ASSERT(schema->bytes <= BFI_RECORD_MOST);
    reader->json = json;
    reader->schema = schema;
    reader->record = record;
    reader->whole = schema;
    reader->whole_record = record;
    reader->within = NULL;
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
    if (!status) bfi_take_all_unnamed(reader);
    return status;
}
