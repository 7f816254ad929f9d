/* named.c -- names of things in a request: ids, the kit and the catalogue. See read_parts.h. */
#include <string.h>

#include "baitfall/pattern.h"
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

static int is_of_hook_baits(const char *section) {
    return strcmp(section, "hook_bait") == 0 || strcmp(section, "kit.hook_baits") == 0;
}

/* The list of the kit in which the things of a section are kept. */
const char *bfi_kit_list(const bf_section *section) {
    const bf_table *table = section->table;
    if (table == &bf_bait_table) return is_of_hook_baits(section->name) ? "kit.hook_baits" : "kit.baits";
    if (table == &bf_pot_table) return "kit.pots";
    if (table == &bf_sling_table) return "kit.throws";
    if (table == &bf_elastic_table) return "kit.elastics";
    if (table == &bf_rig_table) return "kit.rigs";
    if (table == &bf_aim_table) return "kit.aims";
    return NULL;
}

const char *bfi_own_name(const bf_table *table) {
    if (table == &bf_bait_table) return "my bait";
    if (table == &bf_pot_table) return "my pot";
    if (table == &bf_elastic_table) return "my elastic";
    if (table == &bf_aim_table) return "my aim";
    return table == &bf_rig_table ? "my rig" : "my catapult";
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
    if (table == &bf_rig_table && i < bf_n_rigs) {
        *record = &bf_rigs[i].rig;
        return bf_rigs[i].word;
    }
    return NULL;
}

const void *bfi_catalogue_record(const bfi_reader *reader, const bf_table *table, int string) {
    const void *record;
    const char *word;
    for (int i = 0; (word = catalogue_word(table, i, &record)) != NULL; i++)
        if (bf_json_is(reader->json, string, word)) return record;
    return NULL;
}

const bf_section *bfi_first_section(const bf_schema *schema, const char *path) {
    for (int i = 0; i < schema->n_sections; i++)
        if (strcmp(schema->section[i].name, path) == 0) return &schema->section[i];
    return NULL;
}

/* The record of this name in a list of the kit, NULL. */
static const void *kit_record(const bfi_reader *reader, const char *list, int string) {
    const bf_section *kit = bfi_first_section(reader->whole, list);
    int row = kit ? bfi_named_row(reader, list, string) : -1;
    return row >= 0 && row < bf_section_count(kit, reader->whole_record)
               ? bf_section_row_const(kit, reader->whole_record, row)
               : NULL;
}

const void *bfi_named_record(const bfi_reader *reader, const bf_section *section, int string) {
    const void *record = kit_record(reader, bfi_kit_list(section), string);
    if (!record && section->table == &bf_bait_table)
        record = kit_record(reader, "kit.baits", string); // a hook bait that is fed as well
    return record ? record : bfi_catalogue_record(reader, section->table, string);
}

/* 1 when one of the first n names of this kind of record is the word. */
static int is_named(const bfi_names *names, int n, const bf_table *table, const char *word) {
    for (int i = 0; i < n; i++)
        if (names->name[i].section->most > 1 && names->name[i].section->table == table &&
            strcmp(names->name[i].text.text, word) == 0)
            return 1;
    return 0;
}

void bfi_put_all_names(bfi_pen *pen, const bfi_reader *reader, const bf_section *section) {
    int n = 0;
    for (int i = 0; i < reader->names->n; i++) {
        const bfi_name *name = &reader->names->name[i];
        if (name->section->most > 1 && name->section->table == section->table &&
            !is_named(reader->names, i, section->table, name->text.text)) // fed, and on the hook: once
            bfi_put_word(pen, name->text.text, n++ == 0, 0);
    }
    // A word of the catalogue that stands in the kit by now is named already.
    const void *record, *next;
    const char *word;
    for (int i = 0; (word = catalogue_word(section->table, i, &record)) != NULL; i++)
        if (!is_named(reader->names, reader->names->n, section->table, word))
            bfi_put_word(pen, word, n++ == 0, !catalogue_word(section->table, i + 1, &next));
    if (!n) {
        bfi_put(pen, "an id out of ");
        bfi_put(pen, bfi_kit_list(section));
        bfi_put(pen, ", which is empty");
    }
}

int bfi_row_from_elsewhere(bfi_reader *reader, const char *list, int value) {
    const bf_section *section = bfi_first_section(reader->whole, list);
    int is_of_kit = section && bfi_kit_list(section);
    const void *record = is_of_kit ? bfi_named_record(reader, section, value) : NULL;
    if (!record || reader->names->n == BFI_NAMES_MOST) return -1;
    int *count = (int *)(void *)((char *)reader->whole_record + section->count_offset);
    if (*count == section->most) return -1;
    bfi_name name = {section, *count, {""}};
    if (bf_json_string(reader->json, value, name.text.text, sizeof name.text.text)) return -1;
    reader->names->name[reader->names->n++] = name;
    memcpy(bf_section_row(section, reader->whole_record, *count), record, section->table->bytes);
    return (*count)++;
}

/* The row of a list of the kit that is meant when none is named, -1. */
static int unnamed_row(const bfi_reader *reader, const bf_section *kit) {
    for (int i = 0; i < reader->names->n; i++) {
        const bfi_name *name = &reader->names->name[i];
        if (name->section == kit && strcmp(name->text.text, bfi_own_name(kit->table)) == 0) return name->row;
    }
    return bf_section_count(kit, reader->whole_record) == 1 ? 0 : -1;
}

int bfi_can_be_left_out(const bf_table *table) {
    return table == &bf_pot_table || table == &bf_sling_table || table == &bf_aim_table;
}

static void take_unnamed(bfi_reader *reader, const bf_section *section) {
    const bf_section *kit = bfi_first_section(reader->schema, bfi_kit_list(section));
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
        if (section->most == 1 && bfi_can_be_left_out(section->table) &&
            bf_json_find(reader->json, 0, section->name) < 0)
            take_unnamed(reader, section);
    }
}

void bfi_take_unnamed_parts(bfi_reader *reader, const bf_section *section, int row) {
    for (int i = 0; section->parts && i < section->parts->n_sections; i++) {
        const bf_section *part = &section->parts->section[i];
        const bf_section *kit =
            bfi_can_be_left_out(part->table) ? bfi_first_section(reader->whole, bfi_kit_list(part)) : NULL;
        int from = kit ? unnamed_row(reader, kit) : -1;
        if (from >= 0)
            memcpy(bf_section_row(part, bf_section_row(section, reader->record, row), 0),
                   bf_section_row_const(kit, reader->whole_record, from), part->table->bytes);
    }
}
