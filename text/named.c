/* named.c -- names of things in a request: ids, the kit and the catalogue. See read_parts.h. */
#include <string.h>

#include "text/kit.h"
#include "text/read_parts.h"

bf_status bfi_add_name(bfi_reader *reader, const bf_section *section, int row, int value, const char *path) {
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

int bfi_named_row(const bfi_reader *reader, const char *list, int string) {
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

const bf_section *bfi_first_section(const bf_schema *schema, const char *path) {
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

const void *bfi_named_record(const bfi_reader *reader, const bf_section *section, int string) {
    const char *list = bfi_kit_list(section->table);
    const bf_section *kit = bfi_first_section(reader->schema, list);
    int row = kit && kit != section ? bfi_named_row(reader, list, string) : -1;
    if (row >= 0 && row < bf_section_count(kit, reader->record))
        return bf_section_row_const(kit, reader->record, row);
    return catalogue_record(section->table, reader->json, string, NULL);
}

void bfi_put_all_names(bfi_pen *pen, const bfi_reader *reader, const bf_table *table) {
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

int bfi_row_from_catalogue(bfi_reader *reader, const char *list, int value) {
    const bf_section *section = bfi_first_section(reader->schema, list);
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

/* The row of a list of the kit that is meant when none is named, -1. */
static int unnamed_row(const bfi_reader *reader, const bf_section *kit) {
    for (int i = 0; i < reader->names->n; i++) {
        const bfi_name *name = &reader->names->name[i];
        if (name->section == kit && strcmp(name->text.text, bfi_own_name(kit->table)) == 0) return name->row;
    }
    return bf_section_count(kit, reader->record) == 1 ? 0 : -1;
}

static void take_unnamed(bfi_reader *reader, const bf_section *section) {
    const bf_section *kit = bfi_first_section(reader->schema, bfi_kit_list(section->table));
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

void bfi_take_all_unnamed(bfi_reader *reader) {
    for (int i = 0; i < reader->schema->n_sections; i++) {
        const bf_section *section = &reader->schema->section[i];
        int can_be_left_out = section->table == &bf_pot_table || section->table == &bf_sling_table;
        if (section->most == 1 && can_be_left_out && bf_json_find(reader->json, 0, section->name) < 0)
            take_unnamed(reader, section);
    }
}
