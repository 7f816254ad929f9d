/* measure.c -- a home measurement in, the kit with narrower values out.
 *
 * Request  {"what":"drop|count|soak|throw|float|pull|break|weigh|aim","date":"2026-04-11","bait":"hard-4","kit":{...}, readings}:
 *          the readings are keys of the root, by the measurement's table (measure.h, tackle_measure.h): drop: time, height,
 *          vessel, temp ...; count: count, water ...; soak: dry, at, wet, temp ...; throw: distance ...; float: took ...;
 *          pull: load, long, rest ...; break: broke, of ...; weigh: size, count, together ...; aim: out, right, held,
 *          distance ...; and the things they are of: "bait", "pot", "sling", "water", "rig", "elastic", "aim". Those that one has
 *          one of as a rule (pot, sling, aim) may be left out; the others must be named or described.
 * Answer   "was" and "now": the values that changed, by section; "text": the same for people; "kept": under which names;
 *          "kit": the kit to keep. In it
 *          the measured thing has its new values and its old ones in "was":[{"until":date,"by":"drop",...}]; a thing that
 *          was not in the kit yet is added under its name, or as "my bait", "my pot", "my rig". Of a rig of the kit only what
 *          changed is written anew: an elastic that it names stays named. */
#include "baitfall/measure.h"

#include <string.h>

#include "baitfall/tackle_measure.h"
#include "text/kit.h"
#include "text/said.h"
#include "text/work.h"

typedef struct request {
    union {
        bf_measure feed;
        bf_tackle_measure tackle;
    } of; /* first: the sections of the measurement hold for the request too */
    bfi_kit kit;
} request;

static const bf_section kit_sections[] = {BFI_KIT_SECTIONS(request)};
#define N_KIT_SECTIONS ((int)(sizeof kit_sections / sizeof kit_sections[0]))
#define MOST_SECTIONS 24
#define MOST_KINDS 16
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

/* The i-th of all measurements, NULL past the end. */
static const bf_measurement *measurement(int i) {
    if (i < bf_n_measurements) return &bf_measurements[i];
    i -= bf_n_measurements;
    return i < bf_n_tackle_measurements ? &bf_tackle_measurements[i] : NULL;
}

static bf_status read_what(bfi_work *work, const bf_measurement **how) {
    const char *words[MOST_KINDS] = {0};
    char accepted[128];
    int value = bfi_option(work, "what"), choice = 0;
    BF_ASSERT(bf_n_measurements + bf_n_tackle_measurements < MOST_KINDS);
    for (int i = 0; measurement(i); i++) words[i] = measurement(i)->word;
    bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
    bfi_put_words(&pen, words);
    if (value < 0) return bfi_fail(&work->error, BF_E_MISSING, "what", NULL, -1, accepted);
    bf_status status = bfi_read_choice(&work->json, value, "what", words, &choice, &work->error);
    *how = measurement(choice);
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

/* What is measured must be said, but for what one has one of as a rule. */
static bf_status check_things(bfi_work *work, const own *o) {
    for (int i = 0; i < o->how->in->n_sections; i++) {
        const bf_section *section = &o->section[i];
        int is_thing = bfi_kit_list(section) && !strchr(section->name, '.');
        if (is_thing && !bfi_can_be_left_out(section->table) && bfi_option(work, section->name) < 0)
            return bfi_fail(&work->error, BF_E_MISSING, section->name, NULL, -1,
                            "a word of the catalogue, an id of the kit or an object");
    }
    return BF_OK;
}

static bf_status begin(bfi_work *work) {
    static const char *const others[] = {"what", "date", NULL};
    own *o = work->own;
    bf_fault fault;
    memset(&o->request, 0, sizeof o->request);
    bf_status status = read_what(work, &o->how);
    if (!status) status = read_date(work, o->date);
    if (status) return status;
    o->how->start(&o->request);
    make_schema(o);
    status = bfi_read_record(&work->reader, &work->json, &o->schema, &o->request, others, &work->names,
                             &work->error);
    if (status) return status;
    status = bf_schema_check(&o->schema, &o->request, &fault);
    if (status) return bfi_fail_fault(&work->error, &work->names, &fault);
    return check_things(work, o);
}

/* ---- What changed ---- */

static const bf_section *section_of(const own *o, const bf_before_after *change) {
    return &o->section[change->section];
}

static const bf_field *field_of(const own *o, const bf_before_after *change) {
    return &section_of(o, change)->table->field[change->field];
}

/* The thing that a section is of: "rig" of "rig.float", else the section itself. */
static const bf_section *thing_of(const own *o, const bf_section *section) {
    size_t n = strcspn(section->name, ".");
    if (!section->name[n]) return section;
    for (int s = 0; s < o->how->in->n_sections; s++)
        if (strncmp(o->section[s].name, section->name, n) == 0 && !o->section[s].name[n])
            return &o->section[s];
    BF_ASSERT(0);
    return NULL;
}

/* "float" of "rig.float", "" of "rig". */
static const char *part_of(const bf_section *section) {
    const char *dot = strchr(section->name, '.');
    return dot ? dot + 1 : "";
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

static int has_changed(const own *o, const bf_section *section) {
    for (int i = 0; i < o->measured.n_changes; i++)
        if (section_of(o, &o->measured.change[i]) == section) return 1;
    return 0;
}

/* Members for the changes in one section, those of a part in an object of their own. */
static void put_changes(bfi_json *out, const own *o, const bf_section *section, int is_now) {
    const char *part = part_of(section);
    if (part[0]) bfi_json_key(out, part);
    if (part[0]) bfi_json_object(out);
    for (int i = 0; i < o->measured.n_changes; i++) {
        const bf_before_after *change = &o->measured.change[i];
        if (section_of(o, change) == section)
            put_value(out, field_of(o, change), is_now ? &change->now : &change->was);
    }
    if (part[0]) bfi_json_close(out);
}

/* The section that has changed of a thing, NULL: none. A measurement changes one section of each. */
static const bf_section *changed_of(const own *o, const bf_section *thing) {
    for (int s = 0; s < o->how->in->n_sections; s++)
        if (thing_of(o, &o->section[s]) == thing && has_changed(o, &o->section[s])) return &o->section[s];
    return NULL;
}

static void put_side(bfi_json *out, const own *o, const char *key, int is_now) {
    bfi_json_key(out, key);
    bfi_json_object(out);
    for (int s = 0; s < o->how->in->n_sections; s++) {
        const bf_section *changed = changed_of(o, &o->section[s]);
        if (!changed) continue;
        bfi_json_key(out, o->section[s].name);
        bfi_json_object(out);
        put_changes(out, o, changed, is_now);
        bfi_json_close(out);
    }
    bfi_json_close(out);
}

/* "bait.density (density of one piece as it goes in)"; a part of something keeps its "_frac", so that it is not taken for
 * the thing. */
static void put_what_it_is(bfi_pen *pen, const bf_section *section, const bf_field *field) {
    const char *suffix = bf_field_suffix(field);
    size_t n_left_out = strcmp(suffix, "_frac") == 0 ? 0 : strlen(suffix);
    bfi_put(pen, section->name);
    bfi_put(pen, ".");
    bfi_put_bytes(pen, field->name, strlen(field->name) - n_left_out);
    bfi_put(pen, " (");
    bfi_put_bytes(pen, field->help, strcspn(field->help, ";"));
    bfi_put(pen, ")");
}

/* "bait.density (...) was 1225 kg/m3 (1150-1300), now 1138 kg/m3 (1107-1169); ...". */
static void put_sentence(bfi_json *out, const own *o) {
    char text[1024], range[BF_SAY_MOST];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    for (int i = 0; i < o->measured.n_changes; i++) {
        const bf_before_after *change = &o->measured.change[i];
        const bf_field *field = field_of(o, change);
        bfi_put(&pen, i ? "; " : "");
        put_what_it_is(&pen, section_of(o, change), field);
        bfi_put(&pen, " was ");
        bf_say_given(field, change->was, range);
        bfi_put(&pen, change->was.is_unknown ? "not known" : range);
        bfi_put(&pen, ", now ");
        bf_say_given(field, change->now, range);
        bfi_put(&pen, range);
    }
    bfi_put(&pen, ".");
    bfi_json_key_text(out, "text", text);
}

static void apply_changes(own *o) {
    for (int i = 0; i < o->measured.n_changes; i++) {
        const bf_before_after *change = &o->measured.change[i];
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
        if (changed_of(o, &o->section[s]))
            bfi_json_key_text(out, o->section[s].name, kept_name(work, &o->section[s]));
    bfi_json_close(out);
}

/* The thing that belongs into this list of the kit and has changed; NULL: none. */
static const bf_section *changed_for(const own *o, const bf_section *list) {
    for (int s = 0; s < o->how->in->n_sections; s++) {
        const char *own_list = bfi_kit_list(&o->section[s]);
        if (own_list && strcmp(own_list, list->name) == 0 && changed_of(o, &o->section[s]))
            return &o->section[s];
    }
    return NULL;
}

static void put_raw(const bfi_work *work, int value, bfi_json *out) {
    size_t n;
    const char *raw = bf_json_raw(&work->json, value, &n);
    bfi_json_raw(out, raw, n);
}

static int member(const bfi_work *work, int value, const char *key) {
    return value >= 0 ? bf_json_find(&work->json, value, key) : -1;
}

/* 1: this key of a row is written anew, or apart. */
static int is_anew(const bfi_work *work, int key, const bf_section *changed) {
    char name[BFI_KEY_MOST];
    int is_pm;
    if (bf_json_string(&work->json, key, name, sizeof name)) return 0;
    if (strcmp(name, "id") == 0 || strcmp(name, "was") == 0) return 1;
    return part_of(changed)[0] ? strcmp(name, part_of(changed)) == 0
                               : bf_field_find(changed->table, name, strlen(name), &is_pm) >= 0;
}

/* The other members of a row as they stand. */
static void put_others(const bfi_work *work, int value, const bf_section *changed, bfi_json *out) {
    for (int key = bf_json_first(&work->json, value); key >= 0; key = bf_json_next(&work->json, key)) {
        char name[BFI_KEY_MOST];
        if (is_anew(work, key, changed) || bf_json_string(&work->json, key, name, sizeof name)) continue;
        bfi_json_key(out, name);
        put_raw(work, key + 1, out);
    }
}

/* A row of the kit that is not there yet, left open. */
static void open_new(const bfi_work *work, const own *o, const bf_section *thing, bfi_json *out) {
    int is_rig = thing->table == &bf_rig_table;
    if (is_rig)
        bfi_json_rig_open(out, &o->request.of.tackle.rig);
    else
        bfi_json_object(out);
    bfi_json_key_text(out, "id", kept_name(work, thing));
    if (!is_rig) bfi_json_fields(out, &o->schema, &work->names, thing, &o->request, 0);
}

/* One that is: what changed anew and the rest as it stood, left open. */
static void open_old(const bfi_work *work, const own *o, const bf_section *thing, int value, bfi_json *out) {
    const bf_section *changed = changed_of(o, thing);
    const char *part = part_of(changed);
    bfi_json_object(out);
    bfi_json_key_text(out, "id", kept_name(work, thing));
    put_others(work, value, changed, out);
    if (part[0]) bfi_json_key(out, part);
    if (part[0]) bfi_json_object(out);
    bfi_json_fields(out, &o->schema, &work->names, changed, &o->request, 0);
    if (part[0]) bfi_json_close(out);
}

/* The measured thing as a row of the kit; value: the row it takes the place of, -1: none. */
static void put_measured(const bfi_work *work, const own *o, const bf_section *thing, int value,
                         bfi_json *out) {
    int was = member(work, value, "was");
    if (value < 0)
        open_new(work, o, thing, out);
    else
        open_old(work, o, thing, value, out);
    bfi_json_key(out, "was");
    bfi_json_array(out);
    for (int i = was >= 0 ? bf_json_first(&work->json, was) : -1; i >= 0; i = bf_json_next(&work->json, i))
        put_raw(work, i, out);
    bfi_json_object(out);
    bfi_json_key_text(out, "until", o->date);
    bfi_json_key_text(out, "by", o->how->word);
    put_changes(out, o, changed_of(o, thing), 0);
    bfi_json_close(out);
    bfi_json_close(out);
    bfi_json_close(out);
}

/* One list of the kit: rows as they stand, but for the measured one. */
static bf_status put_list(bfi_work *work, const own *o, const bf_section *list, int array, bfi_json *out) {
    const bf_section *thing = changed_for(o, list);
    int n = 0, is_put = !thing;
    bfi_json_array(out);
    for (int i = array >= 0 ? bf_json_first(&work->json, array) : -1; i >= 0;
         i = bf_json_next(&work->json, i), n++) {
        int id = bf_json_find(&work->json, i, "id");
        if (is_put || id < 0 || !bf_json_is(&work->json, id, kept_name(work, thing))) {
            put_raw(work, i, out);
            continue;
        }
        put_measured(work, o, thing, i, out);
        is_put = 1;
    }
    if (!is_put && n == list->most)
        return bfi_fail(&work->error, BF_E_COUNT, list->name, NULL, -1, "fewer rows: it is full");
    if (!is_put) put_measured(work, o, thing, -1, out);
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
        status = put_list(work, o, &kit_sections[s], member(work, kit, key), out);
    }
    if (!status) bfi_json_close(out);
    return status;
}

/* ---- The answer ---- */

/* The readings of a measurement by their name, which stand at the root. */
static int n_readings(const own *o, const char *name) {
    const bf_section *readings = &o->section[o->how->in->n_sections - 1];
    int is_pm, i = bf_field_find(readings->table, name, strlen(name), &is_pm);
    const char *record = bf_section_row_const(readings, &o->request, 0);
    return ((const bf_list *)(const void *)(record + readings->table->field[i].offset))->n;
}

/* "wet_kg has 3"; how many. */
static int put_n_readings(bfi_pen *pen, const own *o, const char *name) {
    int n = n_readings(o, name);
    bfi_put(pen, name);
    bfi_put(pen, " has ");
    bfi_put_number(pen, n, 0);
    return n;
}

/* The sentences are this room's own: no single value is wrong. */
static bf_status fail_measurement(bfi_work *work, const own *o, bf_status status) {
    const char *const *paired = o->how->paired;
    bf_error *error = &work->error;
    char accepted[96];
    bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
    int is_short = status == BF_E_COUNT && n_readings(o, paired[0]) < o->how->least_readings;
    if (is_short) {
        bfi_put(&pen, "at least ");
        bfi_put_number(&pen, o->how->least_readings, 0);
    } else if (status == BF_E_COUNT) {
        bfi_put(&pen, "as many of one as of the other");
    } else if (status == BF_E_RANGE) {
        bfi_put(&pen, "each heavier than the one before: on its way back it pulls less");
    } else {
        bfi_put(&pen, "readings without a slip, or a start nearer the truth");
    }
    bfi_fail(error, status, status == BF_E_DATA ? o->how->word : paired[0], NULL, -1, accepted);
    pen = bfi_pen_open(error->text, sizeof error->text);
    if (status == BF_E_COUNT)
        bfi_put(&pen, put_n_readings(&pen, o, paired[0]) == 1 ? " value" : " values");
    else if (status == BF_E_RANGE) {
        bfi_put(&pen, paired[0]);
        bfi_put(&pen, " does not rise from one to the next");
    } else
        bfi_put(&pen, "The readings cannot be explained");
    if (status == BF_E_COUNT && !is_short) {
        bfi_put(&pen, " and ");
        put_n_readings(&pen, o, paired[1]);
    }
    bfi_put(&pen, "; accepted is ");
    bfi_put(&pen, error->accepted);
    bfi_put(&pen, ".");
    return status;
}

static bf_status finish(bfi_work *work, const double *rows, bfi_json *out) {
    own *o = work->own;
    (void)rows;
    bf_status status = o->how->run(&o->request, work->spare, &o->measured);
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
    size_t feed = bf_measure_work_bytes(), tackle = bf_tackle_measure_work_bytes();
    (void)command;
    return feed > tackle ? feed : tackle;
}

const bfi_verb bfi_measure_verb = {
    .name = "measure", .own_bytes = own_bytes, .spare_bytes = spare_bytes, .begin = begin, .finish = finish};
