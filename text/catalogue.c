/* catalogue.c -- catalogue and form: what the tables hold, as answers. */
#include <string.h>

#include "baitfall/day.h"
#include "baitfall/event.h"
#include "baitfall/measure.h"
#include "baitfall/pattern.h"
#include "baitfall/plan.h"
#include "baitfall/tackle_measure.h"
#include "baitfall/trial.h"
#include "text/said.h"
#include "text/work.h"

static size_t no_bytes(const bf_command *command) {
    (void)command;
    return 0;
}

static bf_status begin_nothing(bfi_work *work, const char *const *keys) {
    bf_schema none = {"none", 0, NULL, 0};
    return bfi_read_record(&work->reader, &work->json, &none, NULL, keys, &work->names, &work->error);
}

/* ---- catalogue ---- */

static bf_status begin_catalogue(bfi_work *work) {
    static const char *const none[] = {NULL};
    return begin_nothing(work, none);
}

static void put_entry(bfi_work *work, bfi_json *out, const bf_table *table, const char *word,
                      const char *name, const char *title, const char *origin, const void *record) {
    const bf_section inputs = {"inputs", table, 0, 1, 0, NULL};
    const bf_schema schema = {"entry", table->bytes, &inputs, 1};
    bfi_json_object(out);
    bfi_json_key_text(out, "word", word);
    if (name) bfi_json_key_text(out, "name", name);
    bfi_json_key_text(out, "title", title);
    bfi_json_key_text(out, "origin", origin);
    bfi_json_key(out, "inputs");
    bfi_json_object(out);
    bfi_json_fields(out, &schema, &work->names, &inputs, record, 0);
    bfi_json_close(out);
    bfi_json_close(out);
}

/* A rig is written with its parts. */
static void put_rigs(bfi_json *out) {
    bfi_json_key(out, "rigs");
    bfi_json_array(out);
    for (int i = 0; i < bf_n_rigs; i++) {
        bfi_json_object(out);
        bfi_json_key_text(out, "word", bf_rigs[i].word);
        bfi_json_key_text(out, "title", bf_rigs[i].title);
        bfi_json_key_text(out, "origin", bf_rigs[i].origin);
        bfi_json_key(out, "inputs");
        bfi_json_rig(out, &bf_rigs[i].rig);
        bfi_json_close(out);
    }
    bfi_json_close(out);
}

static void put_shots(bfi_json *out) {
    bfi_json_key(out, "shots");
    bfi_json_array(out);
    for (int i = 0; i < bf_n_shot_sizes; i++) {
        const bf_shot_size *size = &bf_shot_sizes[i];
        bfi_json_object(out);
        bfi_json_key_text(out, "word", size->word);
        bfi_json_key_real(out, "mass_kg", size->mass_kg);
        bfi_json_key_real(out, "least_kg", size->least_kg);
        bfi_json_key_real(out, "most_kg", size->most_kg);
        bfi_json_key_text(out, "origin", size->origin);
        bfi_json_close(out);
    }
    bfi_json_close(out);
}

/* A word and what it stands for: "light", 2.5 m/s give or take 1. */
static void put_word(bfi_json *out, const char *word, const char *key, bf_quantity value) {
    bfi_json_object(out);
    bfi_json_key_text(out, "word", word);
    bfi_json_key_real(out, key, value.value);
    bfi_json_key_real(out, "pm", value.pm);
    bfi_json_close(out);
}

static void put_winds(bfi_json *out) {
    bfi_json_key(out, "winds");
    bfi_json_array(out);
    for (int i = 0; i < bf_n_wind_words; i++)
        put_word(out, bf_wind_words[i].word, "wind_m_s", bf_wind_words[i].wind_m_s);
    bfi_json_close(out);
    bfi_json_key(out, "sides");
    bfi_json_array(out);
    for (int i = 0; i < bf_n_wind_sides; i++)
        put_word(out, bf_wind_sides[i].word, "wind_side_deg", bf_wind_sides[i].to_deg);
    bfi_json_close(out);
}

static bf_status finish_catalogue(bfi_work *work, const double *rows, bfi_json *out) {
    (void)rows;
    bfi_json_key(out, "baits");
    bfi_json_array(out);
    for (int i = 0; i < bf_n_catalogue; i++) {
        const bf_catalogue_entry *e = &bf_catalogue[i];
        put_entry(work, out, &bf_bait_table, e->word, e->name, e->title, e->origin, &e->bait);
    }
    bfi_json_close(out);
    bfi_json_key(out, "pots");
    bfi_json_array(out);
    for (int i = 0; i < bf_n_pots; i++) {
        const bf_pot_entry *e = &bf_pots[i];
        put_entry(work, out, &bf_pot_table, e->word, NULL, e->title, e->origin, &e->pot);
    }
    bfi_json_close(out);
    put_rigs(out);
    put_shots(out);
    put_winds(out);
    return BF_OK;
}

const bfi_verb bfi_catalogue_verb = {.name = "catalogue",
                                     .own_bytes = no_bytes,
                                     .spare_bytes = no_bytes,
                                     .begin = begin_catalogue,
                                     .finish = finish_catalogue};

/* ---- form ---- */

/* Every table of every request and of the journal, each name once, in the order they are met: a command that reads a part
 * of a table has it under the same name. */
#define MOST_TABLES 64

typedef struct tables {
    int n;
    const bf_table *table[MOST_TABLES];
} tables;

static void add_table(tables *all, const bf_table *table) {
    int i = 0;
    while (i < all->n && strcmp(all->table[i]->name, table->name) != 0) i++;
    BF_ASSERT(i < MOST_TABLES);
    if (i < all->n) return;
    all->table[all->n++] = table;
}

static void add_tables(tables *all, const bf_schema *schema) {
    for (int s = 0; s < schema->n_sections; s++) {
        add_table(all, schema->section[s].table);
        if (schema->section[s].parts) add_tables(all, schema->section[s].parts);
    }
}

static tables all_tables(void) {
    tables all = {0};
    for (int i = 0; i < bf_n_commands; i++) add_tables(&all, bf_commands[i].in);
    add_tables(&all, &bf_plan_schema_with_peg);
    for (int i = 0; i < bf_n_measurements; i++) add_tables(&all, bf_measurements[i].in);
    for (int i = 0; i < bf_n_tackle_measurements; i++) add_tables(&all, bf_tackle_measurements[i].in);
    add_table(&all, &bf_trial_wish_table);
    add_table(&all, &bf_body_table);
    return all;
}

/* What stands in work->own: which table, or -1 for all. */
static size_t form_bytes(const bf_command *command) {
    (void)command;
    return sizeof(int);
}

static bf_status begin_form(bfi_work *work) {
    static const char *const keys[] = {"section", NULL};
    const char *words[MOST_TABLES + 1] = {0};
    tables all = all_tables();
    int *which = work->own;
    bf_status status = begin_nothing(work, keys);
    int section = bfi_option(work, "section");
    *which = -1;
    for (int i = 0; i < all.n; i++) words[i] = all.table[i]->name;
    if (status || section < 0) return status;
    return bfi_read_choice(&work->json, section, "section", words, which, &work->error);
}

static void put_words(bfi_json *out, const bf_field *field) {
    bfi_json_key(out, "words");
    bfi_json_array(out);
    for (int i = 0; field->words[i]; i++) bfi_json_text(out, field->words[i]);
    bfi_json_close(out);
}

static void put_numbers(bfi_json *out, const bf_field *field) {
    bfi_json_key_text(out, "unit", bf_unit_like(0, field->dimension));
    bfi_json_key_text(out, "units", bf_units_of(field->dimension));
    bfi_json_key_real(out, "least", field->least);
    bfi_json_key_real(out, "most", field->most);
    bfi_json_key_real(out, "start", field->start); // NaN, not given or not known: null
    if (field->kind != BF_QUANTITY) return;
    char key[BFI_KEY_MOST];
    bfi_pm_key(field, key);
    bfi_json_key_text(out, "pm_name", key);
    bfi_json_key_real(out, "start_pm", field->start_pm);
    bfi_json_key_real(out, "usual_least", field->usual_least);
    bfi_json_key_real(out, "usual_most", field->usual_most);
}

/* Which kinds of events have field i of a body, and which must have it. */
static void put_kinds(bfi_json *out, const char *key, int i, uint64_t (*fields)(int kind)) {
    bfi_json_key(out, key);
    bfi_json_array(out);
    for (int kind = 0; kind < BF_N_EVENT_KINDS; kind++)
        if (fields(kind) >> i & 1) bfi_json_text(out, bf_event_words[kind]);
    bfi_json_close(out);
}

static void put_field(bfi_json *out, const bf_table *table, int i) {
    const bf_field *field = &table->field[i];
    static const char *const kinds[] = {
        [BF_REAL] = "number", [BF_QUANTITY] = "quantity", [BF_INT] = "whole number", [BF_CHOICE] = "word",
        [BF_REF] = "id",      [BF_LIST] = "list",         [BF_INSTANT] = "instant"};
    bfi_json_object(out);
    bfi_json_key_text(out, "name", field->name);
    bfi_json_key_text(out, "kind", kinds[field->kind]);
    if (field->kind == BF_CHOICE) {
        put_words(out, field);
        if (field->start == field->start)
            bfi_json_key_text(out, "start", field->words[(int)field->start]);
        else
            bfi_json_key_real(out, "start", BF_NAN); // not given: null
    } else if (field->kind != BF_REF && field->kind != BF_INSTANT) {
        put_numbers(out, field);
    }
    bfi_json_key(out, "must");
    bfi_json_raw(out, field->must ? "true" : "false", field->must ? 4 : 5);
    bfi_json_key_text(out, "help", field->help);
    if (table == &bf_body_table) {
        put_kinds(out, "kinds", i, bf_event_fields);
        put_kinds(out, "must_kinds", i, bf_event_must);
    }
    bfi_json_close(out);
}

static bf_status finish_form(bfi_work *work, const double *rows, bfi_json *out) {
    const int *which = work->own;
    tables all = all_tables();
    (void)rows;
    bfi_json_key(out, "sections");
    bfi_json_object(out);
    for (int i = 0; i < all.n; i++) {
        if (*which >= 0 && *which != i) continue;
        bfi_json_key(out, all.table[i]->name);
        bfi_json_array(out);
        for (int f = 0; f < all.table[i]->n_fields; f++) put_field(out, all.table[i], f);
        bfi_json_close(out);
    }
    bfi_json_close(out);
    return BF_OK;
}

const bfi_verb bfi_form_verb = {.name = "form",
                                .own_bytes = form_bytes,
                                .spare_bytes = no_bytes,
                                .begin = begin_form,
                                .finish = finish_form};
