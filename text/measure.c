/* measure.c -- a home measurement in, the kit with narrower values out.
 *
 * Request  {"what":"drop|count|soak|throw","date":"2026-04-11","bait":"hard-4","kit":{...}, readings}: the readings are
 *          keys of the root, by the measurement's table (measure.h): drop: time, height, vessel, temp ...; count: count,
 *          water ...; soak: dry, at, wet, temp ...; throw: distance ...; and "pot", "sling", "water" where they are read.
 * Answer   "was" and "now": the values that changed, by section; "text": the same for people; "kept": under which names;
 *          "kit": the kit to keep. In it
 *          the measured thing has its new values and its old ones in "was":[{"until":date,"by":"drop",...}]; a thing that
 *          was not in the kit yet is added under its name, or as "my bait", "my pot", "my catapult". */
#include "baitfall/measure.h"

#include <string.h>

#include "text/kit.h"
#include "text/work.h"

typedef struct request {
    bf_measure measure; /* first: the sections of the measurement hold for the request too */
    bfi_kit kit;
} request;

static const bf_section kit_sections[] = {BFI_KIT_SECTIONS(request)};
#define N_KIT_SECTIONS ((int)(sizeof kit_sections / sizeof kit_sections[0]))
#define MOST_SECTIONS 12
#define DATE_MOST 11

/* What stands in work->own. */
typedef struct own {
    request request;
    const bf_measurement *how;
    char date[DATE_MOST];
    bf_section section[MOST_SECTIONS]; /* the measurement's, its readings at the root, then the kit's */
    bf_schema schema;
    bf_measured measured;
} own;

/* ---- The request ---- */

static bf_status read_what(bfi_work *work, const bf_measurement **how) {
    const char *words[8] = {0};
    int value = bfi_option(work, "what"), choice = 0;
    BF_ASSERT(bf_n_measurements < 8);
    for (int i = 0; i < bf_n_measurements; i++) words[i] = bf_measurements[i].word;
    if (value < 0)
        return bfi_fail(&work->error, BF_E_MISSING, "what", NULL, -1, "drop, count, soak or throw");
    bf_status status = bfi_read_choice(&work->json, value, "what", words, &choice, &work->error);
    *how = &bf_measurements[choice];
    return status;
}

static int is_date(const char *text) {
    static const char shape[] = "dddd-dd-dd"; // ISO 8601; 31 days are let through for every month
    if (strlen(text) != sizeof shape - 1) return 0;
    for (size_t i = 0; i < sizeof shape - 1; i++) {
        int is_digit = text[i] >= '0' && text[i] <= '9';
        if (shape[i] == 'd' ? !is_digit : text[i] != '-') return 0;
    }
    int month = (text[5] - '0') * 10 + text[6] - '0', day = (text[8] - '0') * 10 + text[9] - '0';
    return month >= 1 && month <= 12 && day >= 1 && day <= 31;
}

static bf_status read_date(bfi_work *work, char date[DATE_MOST]) {
    static const char accepted[] = "a day such as 2026-04-11";
    int value = bfi_option(work, "date");
    if (value < 0) return bfi_fail(&work->error, BF_E_MISSING, "date", NULL, -1, accepted);
    if (bf_json_kind_of(&work->json, value) != BF_JSON_STRING)
        return bfi_fail(&work->error, BF_E_TYPE, "date", &work->json, value, accepted);
    if (bf_json_string(&work->json, value, date, DATE_MOST) || !is_date(date))
        return bfi_fail(&work->error, BF_E_SYNTAX, "date", &work->json, value, accepted);
    return BF_OK;
}

/* Sections of the measurement keep their numbers, which its changes refer to. */
static void make_schema(own *o) {
    int n = o->how->in->n_sections;
    BF_ASSERT(n + N_KIT_SECTIONS <= MOST_SECTIONS);
    memcpy(o->section, o->how->in->section, (size_t)n * sizeof o->section[0]);
    for (int i = 0; i < n; i++)
        if (strcmp(o->section[i].name, "readings") == 0) o->section[i].name = "";
    memcpy(o->section + n, kit_sections, sizeof kit_sections);
    o->schema = (bf_schema){"measure", sizeof(request), o->section, n + N_KIT_SECTIONS};
}

static bf_status begin(bfi_work *work) {
    static const char *const others[] = {"what", "date", NULL};
    own *o = work->own;
    bf_fault fault;
    memset(&o->request, 0, sizeof o->request);
    bf_measure_start(&o->request.measure);
    bf_status status = read_what(work, &o->how);
    if (!status) status = read_date(work, o->date);
    if (status) return status;
    make_schema(o);
    status = bfi_read_record(&work->reader, &work->json, &o->schema, &o->request, others, &work->names,
                             &work->error);
    if (status) return status;
    status = bf_schema_check(&o->schema, &o->request, &fault);
    if (status) return bfi_fail_fault(&work->error, &work->names, &fault);
    if (bfi_option(work, "bait") < 0)
        return bfi_fail(&work->error, BF_E_MISSING, "bait", NULL, -1,
                        "a word of the catalogue, an id of the kit or an object");
    return BF_OK;
}

/* ---- What changed ---- */

static const bf_section *section_of(const own *o, const bf_change *change) {
    return &o->section[change->section];
}

static const bf_field *field_of(const own *o, const bf_change *change) {
    return &section_of(o, change)->table->field[change->field];
}

static void put_value(bfi_json *out, const bf_field *field, const bf_quantity *value) {
    char key[BFI_KEY_MOST];
    if (value->is_unknown) {
        bfi_json_key_text(out, field->name, "don't know");
        return;
    }
    bfi_json_key_real(out, field->name, value->value);
    if (field->kind != BF_QUANTITY) return;
    bfi_pm_key(field, key);
    bfi_json_key_real(out, key, value->pm);
}

/* Members for the changes in one section. */
static void put_changes(bfi_json *out, const own *o, const bf_section *section, int is_now) {
    for (int i = 0; i < o->measured.n_changes; i++) {
        const bf_change *change = &o->measured.change[i];
        if (section_of(o, change) == section)
            put_value(out, field_of(o, change), is_now ? &change->now : &change->was);
    }
}

static int has_changed(const own *o, const bf_section *section) {
    for (int i = 0; i < o->measured.n_changes; i++)
        if (section_of(o, &o->measured.change[i]) == section) return 1;
    return 0;
}

static void put_side(bfi_json *out, const own *o, const char *key, int is_now) {
    bfi_json_key(out, key);
    bfi_json_object(out);
    for (int s = 0; s < o->schema.n_sections; s++) {
        if (!has_changed(o, &o->section[s])) continue;
        bfi_json_key(out, o->section[s].name);
        bfi_json_object(out);
        put_changes(out, o, &o->section[s], is_now);
        bfi_json_close(out);
    }
    bfi_json_close(out);
}

/* "bait.density (density of one piece as it goes in)". */
static void put_what_it_is(bfi_pen *pen, const bf_section *section, const bf_field *field) {
    bfi_put(pen, section->name);
    bfi_put(pen, ".");
    bfi_put_bytes(pen, field->name, strlen(field->name) - strlen(bf_field_suffix(field)));
    bfi_put(pen, " (");
    bfi_put_bytes(pen, field->help, strcspn(field->help, ";"));
    bfi_put(pen, ")");
}

/* "bait.density (...) was 1225 kg/m3 (1150-1300), now 1138 kg/m3 (1107-1169); ...". */
static void put_sentence(bfi_json *out, const own *o) {
    char text[1024], range[BF_SAY_MOST];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    for (int i = 0; i < o->measured.n_changes; i++) {
        const bf_change *change = &o->measured.change[i];
        const bf_field *field = field_of(o, change);
        bfi_put(&pen, i ? "; " : "");
        put_what_it_is(&pen, section_of(o, change), field);
        bfi_put(&pen, " was ");
        bf_say_given(field, change->was, range);
        bfi_put(&pen, range);
        bfi_put(&pen, ", now ");
        bf_say_given(field, change->now, range);
        bfi_put(&pen, range);
    }
    bfi_put(&pen, ".");
    bfi_json_key_text(out, "text", text);
}

static void apply_changes(own *o) {
    for (int i = 0; i < o->measured.n_changes; i++) {
        const bf_change *change = &o->measured.change[i];
        const bf_field *field = field_of(o, change);
        char *member = (char *)bf_section_row(section_of(o, change), &o->request, 0) + field->offset;
        if (field->kind == BF_QUANTITY)
            memcpy(member, &change->now, sizeof change->now);
        else
            memcpy(member, &change->now.value, sizeof change->now.value);
    }
}

/* ---- The kit to keep ---- */

/* The name under which a section's thing is kept. */
static const char *kept_name(const bfi_work *work, const bf_section *section) {
    const char *name = bfi_name_of(&work->names, section, 0);
    return name[0] ? name : bfi_own_name(section->table);
}

/* "kept":{"bait":"hard-4"}: under which names the kit has what changed. */
static void put_kept_names(const bfi_work *work, const own *o, bfi_json *out) {
    bfi_json_key(out, "kept");
    bfi_json_object(out);
    for (int s = 0; s < o->how->in->n_sections; s++)
        if (has_changed(o, &o->section[s]))
            bfi_json_key_text(out, o->section[s].name, kept_name(work, &o->section[s]));
    bfi_json_close(out);
}

/* The section of the measurement whose thing belongs into this list of the kit and has changed; NULL: none. */
static const bf_section *changed_for(const own *o, const bf_section *list) {
    for (int s = 0; s < o->how->in->n_sections; s++)
        if (o->section[s].table == list->table && has_changed(o, &o->section[s])) return &o->section[s];
    return NULL;
}

static void put_raw(const bfi_work *work, int value, bfi_json *out) {
    size_t n;
    const char *raw = bf_json_raw(&work->json, value, &n);
    bfi_json_raw(out, raw, n);
}

/* The measured thing as a row of the kit; value: the row it takes the place of, -1: none. */
static void put_measured(const bfi_work *work, const own *o, const bf_section *section, int value,
                         bfi_json *out) {
    int name = value >= 0 ? bf_json_find(&work->json, value, "name") : -1;
    int was = value >= 0 ? bf_json_find(&work->json, value, "was") : -1;
    bfi_json_object(out);
    bfi_json_key_text(out, "id", kept_name(work, section));
    if (name >= 0) {
        bfi_json_key(out, "name");
        put_raw(work, name, out);
    }
    bfi_json_fields(out, &o->schema, &work->names, section, &o->request, 0);
    bfi_json_key(out, "was");
    bfi_json_array(out);
    for (int i = was >= 0 ? bf_json_first(&work->json, was) : -1; i >= 0; i = bf_json_next(&work->json, i))
        put_raw(work, i, out);
    bfi_json_object(out);
    bfi_json_key_text(out, "until", o->date);
    bfi_json_key_text(out, "by", o->how->word);
    put_changes(out, o, section, 0);
    bfi_json_close(out);
    bfi_json_close(out);
    bfi_json_close(out);
}

/* One list of the kit: rows as they stand, but for the measured one. */
static bf_status put_list(bfi_work *work, const own *o, const bf_section *list, int array, bfi_json *out) {
    const bf_section *section = changed_for(o, list);
    int n = 0, is_put = !section;
    bfi_json_array(out);
    for (int i = array >= 0 ? bf_json_first(&work->json, array) : -1; i >= 0;
         i = bf_json_next(&work->json, i), n++) {
        int id = bf_json_find(&work->json, i, "id");
        if (is_put || id < 0 || !bf_json_is(&work->json, id, kept_name(work, section))) {
            put_raw(work, i, out);
            continue;
        }
        put_measured(work, o, section, i, out);
        is_put = 1;
    }
    if (!is_put && n == list->most)
        return bfi_fail(&work->error, BF_E_COUNT, list->name, NULL, -1, "fewer rows: it is full");
    if (!is_put) put_measured(work, o, section, -1, out);
    bfi_json_close(out);
    return BF_OK;
}

static bf_status put_kit(bfi_work *work, const own *o, bfi_json *out) {
    int kit = bfi_option(work, "kit");
    bf_status status = BF_OK;
    bfi_json_key(out, "kit");
    bfi_json_object(out);
    for (int s = 0; !status && s < N_KIT_SECTIONS; s++) {
        const char *key = kit_sections[s].name + strlen("kit.");
        bfi_json_key(out, key);
        status =
            put_list(work, o, &kit_sections[s], kit >= 0 ? bf_json_find(&work->json, kit, key) : -1, out);
    }
    if (!status) bfi_json_close(out);
    return status;
}

/* ---- The answer ---- */

/* The sentences are this room's own: no single value is wrong. */
static bf_status fail_measurement(bfi_work *work, const own *o, bf_status status) {
    const bf_weigh_test *weigh = &o->request.measure.weigh;
    bf_error *error = &work->error;
    if (status == BF_E_COUNT)
        bfi_fail(error, status, "wet_kg", NULL, -1, "as many weighings as times");
    else
        bfi_fail(error, status, o->how->word, NULL, -1,
                 "readings without a slip, or a start nearer the truth");
    bfi_pen pen = bfi_pen_open(error->text, sizeof error->text);
    if (status == BF_E_COUNT) {
        bfi_put(&pen, "wet_kg has ");
        bfi_put_number(&pen, weigh->wet_kg.n, 0);
        bfi_put(&pen, weigh->wet_kg.n == 1 ? " value and at_s has " : " values and at_s has ");
        bfi_put_number(&pen, weigh->at_s.n, 0);
    } else {
        bfi_put(&pen, "The readings cannot be explained");
    }
    bfi_put(&pen, "; accepted is ");
    bfi_put(&pen, error->accepted);
    bfi_put(&pen, ".");
    return status;
}

static bf_status finish(bfi_work *work, const double *rows, bfi_json *out) {
    own *o = work->own;
    (void)rows;
    bf_status status = o->how->run(&o->request.measure, work->spare, &o->measured);
    if (status) return fail_measurement(work, o, status);
    bfi_json_key_text(out, "what", o->how->word);
    put_side(out, o, "was", 0);
    put_side(out, o, "now", 1);
    put_sentence(out, o);
    apply_changes(o);
    bfi_json_notes(out, o->measured.note, o->measured.n_notes);
    put_kept_names(work, o, out);
    return put_kit(work, o, out);
}

static size_t own_bytes(const bf_command *command) {
    (void)command;
    return sizeof(own);
}

static size_t spare_bytes(const bf_command *command) {
    (void)command;
    return bf_measure_work_bytes();
}

const bfi_verb bfi_measure_verb = {"measure", own_bytes, spare_bytes, NULL, begin, NULL, NULL, finish};
