/* catalogue.c -- catalogue and form: what the tables hold, as answers. */
#include <string.h>

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

static bf_status finish_catalogue(bfi_work *work, const double *rows, bfi_json *out) {
    static const bf_section one[] = {{"inputs", &bf_bait_table, 0, 1, 0}};
    static const bf_schema schema = {"bait", sizeof(bf_bait), one, 1};
    (void)rows;
    bfi_json_key(out, "baits");
    bfi_json_array(out);
    for (int i = 0; i < bf_n_catalogue; i++) {
        const bf_catalogue_entry *entry = &bf_catalogue[i];
        bfi_json_object(out);
        bfi_json_key_text(out, "word", entry->word);
        bfi_json_key_text(out, "title", entry->title);
        bfi_json_key_text(out, "origin", entry->origin);
        bfi_json_key(out, "inputs");
        bfi_json_object(out);
        bfi_json_fields(out, &schema, &work->names, &one[0], &entry->bait, 0);
        bfi_json_close(out);
        bfi_json_close(out);
    }
    bfi_json_close(out);
    return BF_OK;
}

const bfi_verb bfi_catalogue_verb = {"catalogue",     no_bytes, no_bytes, NULL,
                                     begin_catalogue, NULL,     NULL,     finish_catalogue};

/* ---- form ---- */

static const bf_table *const form_tables[] = {&bf_bait_table,    &bf_lake_table,   &bf_spot_table,
                                              &bf_pot_table,     &bf_put_table,    &bf_sling_table,
                                              &bf_soaking_table, &bf_counted_table};
#define N_FORM_TABLES ((int)(sizeof form_tables / sizeof form_tables[0]))

/* What stands in work->own: which table, or N_FORM_TABLES for all. */
static size_t form_bytes(const bf_command *command) {
    (void)command;
    return sizeof(int);
}

static bf_status begin_form(bfi_work *work) {
    static const char *const keys[] = {"section", NULL};
    const char *words[N_FORM_TABLES + 1] = {0};
    int *which = work->own;
    bf_status status = begin_nothing(work, keys);
    int section = bfi_option(work, "section");
    *which = N_FORM_TABLES;
    for (int i = 0; i < N_FORM_TABLES; i++) words[i] = form_tables[i]->name;
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

static void put_field(bfi_json *out, const bf_field *field) {
    static const char *const kinds[] = {
        [BF_REAL] = "number", [BF_QUANTITY] = "quantity", [BF_INT] = "whole number", [BF_CHOICE] = "word",
        [BF_REF] = "id",      [BF_LIST] = "list"};
    bfi_json_object(out);
    bfi_json_key_text(out, "name", field->name);
    bfi_json_key_text(out, "kind", kinds[field->kind]);
    if (field->kind == BF_CHOICE) {
        put_words(out, field);
        bfi_json_key_text(out, "start", field->words[(int)field->start]);
    } else if (field->kind != BF_REF) {
        put_numbers(out, field);
    }
    bfi_json_key(out, "must");
    bfi_json_raw(out, field->must ? "true" : "false", field->must ? 4 : 5);
    bfi_json_key_text(out, "help", field->help);
    bfi_json_close(out);
}

static bf_status finish_form(bfi_work *work, const double *rows, bfi_json *out) {
    const int *which = work->own;
    (void)rows;
    bfi_json_key(out, "sections");
    bfi_json_object(out);
    for (int i = 0; i < N_FORM_TABLES; i++) {
        if (*which != i && *which != N_FORM_TABLES) continue;
        bfi_json_key(out, form_tables[i]->name);
        bfi_json_array(out);
        for (int f = 0; f < form_tables[i]->n_fields; f++) put_field(out, &form_tables[i]->field[f]);
        bfi_json_close(out);
    }
    bfi_json_close(out);
    return BF_OK;
}

const bfi_verb bfi_form_verb = {"form", form_bytes, no_bytes, NULL, begin_form, NULL, NULL, finish_form};
