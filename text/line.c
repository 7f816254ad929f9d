/* line.c -- one line of a journal: read, checked and written in canonical form. See baitfall/journal.h. */
#include <math.h>
#include <string.h>

#include "core/base/room.h"
#include "core/record/mix.h"
#include "text/line.h"
#include "text/read.h"

#define LINE_TOKENS 256 /* more than every key of every kind with its value */
#define NAMES_OF_LINE ((int)(sizeof((bf_line *)0)->name / sizeof((bf_line *)0)->name[0]))

/* The keys of a line, in canonical order. */
enum { V, ID, SESSION, DEV, RUN, SEQ, MONO, KIND, INSTANT, PM, REC, OF, BODY, N_KEYS };
static const char *const keys[] = {"v",    "id", "session", "dev", "run", "seq",  "mono_ms",
                                   "kind", "at", "pm_s",    "rec", "of",  "body", NULL};

typedef struct line_reader {
    bf_json json;
    int value[N_KEYS]; /* tokens, -1: not given */
    int note;
    bf_line *line;
    bf_error *error;
    char note_text[BFI_NOTE_MOST + 1];
} line_reader;

static size_t reader_bytes(void) {
    return bfi_room(sizeof(line_reader));
}

size_t bf_line_work_bytes(void) {
    return reader_bytes() + bfi_room(bf_json_bytes(LINE_TOKENS));
}

/* ---- Hex ---- */

static bf_status read_hex(const char *text, size_t n_digits, uint64_t *value) {
    *value = 0;
    for (size_t i = 0; i < n_digits; i++) {
        char c = text[i];
        int digit = c >= '0' && c <= '9'   ? c - '0'
                    : c >= 'a' && c <= 'f' ? c - 'a' + 10
                    : c >= 'A' && c <= 'F' ? c - 'A' + 10
                                           : -1;
        if (digit < 0) return BF_E_SYNTAX;
        *value = *value << 4 | (uint64_t)digit;
    }
    return BF_OK;
}

static void write_hex(uint64_t value, int n_digits, char *out) {
    for (int i = n_digits; i-- > 0; value >>= 4) out[i] = "0123456789abcdef"[value & 15];
    out[n_digits] = 0;
}

bf_status bf_id_read(const char *text, size_t n, bf_id *id) {
    *id = (bf_id){0, 0};
    if (n != 32) return BF_E_SYNTAX;
    bf_status status = read_hex(text, 16, &id->high);
    if (!status) status = read_hex(text + 16, 16, &id->low);
    if (status) *id = (bf_id){0, 0};
    return status;
}

bf_status bfi_word_read(const char *text, size_t n, uint32_t *word) {
    uint64_t value = 0;
    bf_status status = n == 8 ? read_hex(text, n, &value) : BF_E_SYNTAX;
    *word = status ? 0 : (uint32_t)value;
    return status;
}

void bf_id_write(bf_id id, char out[33]) {
    write_hex(id.high, 16, out);
    write_hex(id.low, 16, out + 16);
}

/* ---- Errors ---- */

#define ID_ACCEPTED "32 hex digits, not all zero"
#define NAME_ACCEPTED "a name of 1 to 48 bytes without control characters"
#define NOTE_ACCEPTED "text of at most 16384 bytes"

static bf_status fail(line_reader *r, bf_status status, const char *path, int value, const char *accepted) {
    return bfi_fail(r->error, status, path, &r->json, value, accepted);
}

static bf_status fail_field(line_reader *r, bf_status status, const char *path, const bf_field *field,
                            int value) {
    char accepted[sizeof r->error->accepted];
    bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
    if (field->kind == BF_REF)
        bfi_put(&pen, NAME_ACCEPTED);
    else
        bfi_put_accepted(&pen, NULL, field, 0, bfi_says_units(status));
    return fail(r, status, path, value, accepted);
}

/* "body.volume_m3" */
static void body_path(const char *key, char path[BFI_KEY_MOST]) {
    bfi_pen pen = bfi_pen_open(path, BFI_KEY_MOST);
    bfi_put(&pen, "body.");
    bfi_put(&pen, key);
}

static bf_status fail_body(line_reader *r, bf_status status, int i_field, int value) {
    char path[BFI_KEY_MOST];
    const bf_field *field = &bf_body_table.field[i_field];
    body_path(field->name, path);
    return fail_field(r, status, path, field, value);
}

/* ---- The envelope ---- */

/* Where a key stands in a list of n names; as a rule keys come in order, so the search begins at `from`. -1:
 * nowhere. */
static int find_key(const bf_json *json, int key, const char *(*name_at)(int i), int n, int from) {
    for (int k = 0; k < n; k++) {
        int i = from + k < n ? from + k : from + k - n;
        if (bf_json_is(json, key, name_at(i))) return i;
    }
    return -1;
}

static const char *root_key(int i) {
    return keys[i];
}

static bf_status find_root_keys(line_reader *r) {
    for (int i = 0; i < N_KEYS; i++) r->value[i] = -1;
    int i = -1;
    for (int key = bf_json_first(&r->json, 0); key >= 0; key = bf_json_next(&r->json, key)) {
        i = find_key(&r->json, key, root_key, N_KEYS, i + 1);
        if (i < 0) {
            char path[BFI_KEY_MOST], accepted[sizeof r->error->accepted];
            bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
            bf_json_path(&r->json, key, path, sizeof path);
            bfi_put_words(&pen, keys);
            return fail(r, BF_E_KEY, path, -1, accepted);
        }
        r->value[i] = key + 1;
    }
    return BF_OK;
}

/* What stands between the quotes; nothing when it is no string. */
static const char *string_inside(line_reader *r, int value, size_t *n) {
    *n = 0;
    if (value < 0 || bf_json_kind_of(&r->json, value) != BF_JSON_STRING) return "";
    const char *raw = bf_json_raw(&r->json, value, n);
    *n -= 2;
    return raw + 1;
}

static bf_status fail_key(line_reader *r, bf_status status, int key, const char *accepted) {
    int value = r->value[key];
    if (value < 0)
        status = BF_E_MISSING;
    else if (bf_json_kind_of(&r->json, value) != BF_JSON_STRING)
        status = BF_E_TYPE;
    return fail(r, status, keys[key], value, accepted);
}

static bf_status take_id(line_reader *r, int key, bf_id *id) {
    size_t n;
    const char *text = string_inside(r, r->value[key], &n);
    bf_status status = bf_id_read(text, n, id);
    if (!status && !id->high && !id->low) status = BF_E_RANGE;
    return status ? fail_key(r, status, key, ID_ACCEPTED) : BF_OK;
}

static bf_status take_word(line_reader *r, int key, uint32_t *word) {
    size_t n;
    const char *text = string_inside(r, r->value[key], &n);
    bf_status status = bfi_word_read(text, n, word);
    return status ? fail_key(r, status, key, "8 hex digits") : BF_OK;
}

static bf_status take_instant(line_reader *r, int key, double *ms, int *east_min) {
    size_t n;
    const char *text = string_inside(r, r->value[key], &n);
    bf_status status = bf_instant_read(text, n, ms, east_min);
    if (!status) return BF_OK;
    return fail_key(r, status, key, "an instant such as 2026-04-12T09:31:05.120+01:00");
}

/* One value into a member of the event, range checked. */
static bf_status take_plain(line_reader *r, const char *path, const bf_field *field, int value,
                            void *member) {
    double bad;
    bf_status status = bfi_read_plain(&r->json, value, field, member);
    if (!status) status = bf_field_check(field, member, &bad);
    return status ? fail_field(r, status, path, field, value) : BF_OK;
}

static bf_status take_number(line_reader *r, int key, const bf_field *field, double *number) {
    *number = field->start;
    if (r->value[key] >= 0) return take_plain(r, keys[key], field, r->value[key], number);
    return field->must ? fail_field(r, BF_E_MISSING, keys[key], field, -1) : BF_OK;
}

static bf_status take_numbers(line_reader *r) {
    static const bf_field seq = {
        .name = "seq", .kind = BF_REAL, .most = BF_SEQ_MOST, .start = BF_NAN, .must = 1};
    static const bf_field mono = {.name = "mono_ms", .kind = BF_REAL, .most = BF_SEQ_MOST, .start = BF_NAN};
    static const bf_field pm = {.name = "pm_s",
                                .kind = BF_REAL,
                                .dimension = BF_TIME,
                                .most = BF_EVENT_PM_MOST_S,
                                .start = BF_NAN,
                                .must = 1};
    bf_event *e = &r->line->event;
    bf_status status = take_number(r, SEQ, &seq, &e->seq);
    if (!status && e->seq != floor(e->seq)) status = fail_field(r, BF_E_TYPE, keys[SEQ], &seq, r->value[SEQ]);
    if (!status) status = take_number(r, MONO, &mono, &e->mono_ms);
    if (!status) status = take_number(r, PM, &pm, &e->pm_s);
    return status;
}

static bf_status take_version(line_reader *r) {
    double v;
    int value = r->value[V];
    if (value < 0) return fail(r, BF_E_MISSING, keys[V], -1, "1");
    if (bf_json_kind_of(&r->json, value) != BF_JSON_NUMBER) return fail(r, BF_E_TYPE, keys[V], value, "1");
    bf_status status = bf_json_number(&r->json, value, &v);
    return status || v != 1 ? fail(r, BF_E_CHOICE, keys[V], value, "1") : BF_OK;
}

static bf_status take_of(line_reader *r) {
    bf_event *e = &r->line->event;
    if (bf_event_is_correction(e->kind)) return take_id(r, OF, &e->of);
    if (r->value[OF] < 0) return BF_OK;
    return fail(r, BF_E_KEY, keys[OF], -1, "in cross, restore and fix only");
}

static bf_status take_envelope(line_reader *r) {
    static const bf_field kind = {
        .name = "kind", .kind = BF_CHOICE, .most = BF_N_EVENT_KINDS - 1, .words = bf_event_words};
    bf_event *e = &r->line->event;
    bf_status status = find_root_keys(r);
    if (!status) status = take_version(r);
    if (!status) status = take_id(r, ID, &e->id);
    if (!status) status = take_id(r, SESSION, &e->session);
    if (!status) status = take_word(r, DEV, &e->dev);
    if (!status) status = take_word(r, RUN, &e->run);
    if (!status && r->value[KIND] < 0) status = fail_field(r, BF_E_MISSING, keys[KIND], &kind, -1);
    if (!status) status = take_plain(r, keys[KIND], &kind, r->value[KIND], &e->kind);
    if (!status) status = take_instant(r, INSTANT, &e->at_ms, &e->at_east_min);
    if (!status) status = take_instant(r, REC, &e->rec_ms, &e->rec_east_min);
    if (!status) status = take_numbers(r);
    return status ? status : take_of(r);
}

/* ---- The body ---- */

static int is_name(const char *text) {
    for (const unsigned char *c = (const unsigned char *)text; *c; c++) {
        int is_c1 = c[0] == 0xC2 && c[1] >= 0x80 && c[1] < 0xA0;
        if (*c < 0x20 || *c == 0x7F || is_c1) return 0;
    }
    return text[0] != 0;
}

static bf_status take_name(line_reader *r, int i_field, int value, int *member) {
    bf_line *line = r->line;
    BF_ASSERT(line->n_names < NAMES_OF_LINE);
    char *name = line->name[line->n_names];
    if (bf_json_kind_of(&r->json, value) != BF_JSON_STRING) return fail_body(r, BF_E_TYPE, i_field, value);
    bf_status status = bf_json_string(&r->json, value, name, sizeof line->name[0]);
    if (!status && !is_name(name)) status = BF_E_SYNTAX;
    if (status) return fail_body(r, status, i_field, value);
    int i = 0;
    while (strcmp(line->name[i], name) != 0) i++;
    if (i == line->n_names) line->n_names++;
    *member = i;
    return BF_OK;
}

static bf_status take_note(line_reader *r, int value) {
    if (bf_json_kind_of(&r->json, value) != BF_JSON_STRING)
        return fail(r, BF_E_TYPE, "body.note", value, NOTE_ACCEPTED);
    bf_status status = bf_json_string(&r->json, value, r->note_text, sizeof r->note_text);
    return status ? fail(r, status, "body.note", value, NOTE_ACCEPTED) : BF_OK;
}

static const char *body_key(int i) {
    return bf_body_table.field[i].name;
}

static bf_status fail_body_key(line_reader *r, int key) {
    char path[BFI_KEY_MOST], accepted[sizeof r->error->accepted];
    bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
    uint64_t has = bf_event_fields(r->line->event.kind);
    bf_json_path(&r->json, key, path, sizeof path);
    bfi_put(&pen, "in ");
    bfi_put(&pen, bf_event_words[r->line->event.kind]);
    bfi_put(&pen, ": ");
    for (int i = 0; i < bf_body_table.n_fields; i++)
        if (has >> i & 1) {
            bfi_put(&pen, body_key(i));
            bfi_put(&pen, ", ");
        }
    bfi_put(&pen, "note");
    return fail(r, BF_E_KEY, path, -1, accepted);
}

/* The field that a key means, also without its unit. */
static int find_field(line_reader *r, int key, int from) {
    int is_pm;
    char text[BFI_KEY_MOST];
    int i = find_key(&r->json, key, body_key, bf_body_table.n_fields, from);
    if (i >= 0) return i;
    if (bf_json_string(&r->json, key, text, sizeof text)) return -1;
    return bf_field_find(&bf_body_table, text, strlen(text), &is_pm);
}

static bf_status take_field(line_reader *r, int i_field, int value) {
    const bf_field *field = &bf_body_table.field[i_field];
    void *member = (char *)&r->line->event.body + field->offset;
    if (field->kind == BF_REF) return take_name(r, i_field, value, member);
    char path[BFI_KEY_MOST];
    body_path(field->name, path);
    return take_plain(r, path, field, value, member);
}

static bf_status take_body(line_reader *r) {
    int body = r->value[BODY], i = -1;
    uint64_t has = bf_event_fields(r->line->event.kind), seen = 0;
    r->note_text[0] = 0;
    if (body < 0) return BF_OK;
    if (bf_json_kind_of(&r->json, body) != BF_JSON_OBJECT)
        return fail(r, BF_E_TYPE, keys[BODY], body, "an object");
    for (int key = bf_json_first(&r->json, body); key >= 0; key = bf_json_next(&r->json, key)) {
        bf_status status;
        if (bf_json_is(&r->json, key, "note")) {
            status = take_note(r, key + 1);
        } else {
            i = find_field(r, key, i + 1);
            if (i < 0 || !(has >> i & 1)) return fail_body_key(r, key);
            if (seen >> i & 1) return fail_body(r, BF_E_TWICE, i, -1);
            seen |= (uint64_t)1 << i;
            status = take_field(r, i, key + 1);
        }
        if (status) return status;
    }
    return BF_OK;
}

/* What the core says about the event as a whole: only what cannot be seen key by key. */
static bf_status check_event(line_reader *r) {
    int i;
    bf_status status = bf_event_check(&r->line->event, &i);
    if (!status) return BF_OK;
    if (i < 0) return fail(r, status, "", -1, "");
    char path[BFI_KEY_MOST];
    body_path(body_key(i), path);
    if (status == BF_E_TWICE) return fail(r, status, path, -1, "one amount");
    if (status == BF_E_RANGE) return fail(r, status, path, -1, "not before from, at most a day after it");
    return fail_body(r, status, i, -1);
}

/* ---- Canonical form ---- */

void bfi_json_body(bfi_json *out, const bf_body *body, int east_min,
                   const char *(*name)(const void *user, int i), const void *user) {
    for (int i = 0; i < bf_body_table.n_fields; i++) {
        const bf_field *field = &bf_body_table.field[i];
        const void *member = (const char *)body + field->offset;
        if (!bf_field_is_given(field, member)) continue;
        switch (field->kind) {
        case BF_REF: bfi_json_key_text(out, field->name, name(user, *(const int *)member)); break;
        case BF_CHOICE: bfi_json_key_text(out, field->name, field->words[*(const int *)member]); break;
        case BF_INT: bfi_json_key_real(out, field->name, *(const int *)member); break;
        case BF_INSTANT: bfi_json_instant(out, field->name, *(const double *)member, east_min); break;
        default: bfi_json_key_real(out, field->name, *(const double *)member); break;
        }
    }
}

static void put_id(bfi_json *out, const char *key, bf_id id) {
    char text[33];
    bf_id_write(id, text);
    bfi_json_key_text(out, key, text);
}

void bfi_word_write(uint32_t word, char out[9]) {
    write_hex(word, 8, out);
}

static void put_word(bfi_json *out, const char *key, uint32_t word) {
    char text[9];
    bfi_word_write(word, text);
    bfi_json_key_text(out, key, text);
}

static const char *name_of_line(const void *user, int i) {
    const bf_line *line = user;
    return line->name[i];
}

static bf_status put_line(const bf_line *line, const char *note, char *canonical, size_t most, size_t *n) {
    const bf_event *e = &line->event;
    bfi_json out = bfi_json_open(canonical, most);
    bfi_json_object(&out);
    bfi_json_key_real(&out, keys[V], 1);
    put_id(&out, keys[ID], e->id);
    put_id(&out, keys[SESSION], e->session);
    put_word(&out, keys[DEV], e->dev);
    put_word(&out, keys[RUN], e->run);
    bfi_json_key_real(&out, keys[SEQ], e->seq);
    if (e->mono_ms == e->mono_ms) bfi_json_key_real(&out, keys[MONO], e->mono_ms);
    bfi_json_key_text(&out, keys[KIND], bf_event_words[e->kind]);
    bfi_json_instant(&out, keys[INSTANT], e->at_ms, e->at_east_min);
    bfi_json_key_real(&out, keys[PM], e->pm_s);
    bfi_json_instant(&out, keys[REC], e->rec_ms, e->rec_east_min);
    if (bf_event_is_correction(e->kind)) put_id(&out, keys[OF], e->of);
    bfi_json_key(&out, keys[BODY]);
    bfi_json_object(&out);
    bfi_json_body(&out, &e->body, e->at_east_min, name_of_line, line);
    if (note[0]) bfi_json_key_text(&out, "note", note);
    bfi_json_close(&out);
    bfi_json_close(&out);
    return bfi_json_done(&out, n);
}

/* ---- The whole ---- */

static bf_status read_json(line_reader *r, const char *text, size_t n, void *tokens) {
    bf_json_fault fault = {BF_E_SPACE, BF_LINE_MOST, -1, "at most 65536 bytes"};
    bf_status status = BF_E_SPACE;
    if (n <= BF_LINE_MOST) status = bf_json_read(text, n, tokens, LINE_TOKENS, &r->json, &fault);
    return status ? bfi_fail_json(r->error, "The line", &r->json, &fault) : BF_OK;
}

static void no_error(bf_error *error) {
    error->status = BF_OK;
    error->field[0] = error->value[0] = error->accepted[0] = error->text[0] = 0;
}

static void empty_line(bf_line *line) {
    line->event = (bf_event){.mono_ms = BF_NAN};
    bf_body_start(&line->event.body);
    line->n_names = 0;
    line->n_canonical = 0;
}

bf_status bf_line_read(void *work, const char *text, size_t n_text, bf_line *line, char *canonical,
                       size_t canonical_most, bf_error *error) {
    line_reader *r = work;
    r->line = line;
    r->error = error;
    empty_line(line);
    no_error(error);
    canonical[0] = 0;
    bf_status status = read_json(r, text, n_text, (char *)work + reader_bytes());
    if (!status) status = take_envelope(r);
    if (!status) status = take_body(r);
    if (!status) status = check_event(r);
    if (!status && put_line(line, r->note_text, canonical, canonical_most, &line->n_canonical))
        status = fail(r, BF_E_SPACE, "", -1, "more space for the line");
    if (status)
        empty_line(line);
    else
        line->event.digest = bfi_mix_bytes(0, canonical, line->n_canonical);
    return status;
}

void bfi_line_note(const char *canonical, size_t n, char *out, size_t most) {
    // In a canonical line these bytes stand only before a note: within text, quotes are escaped.
    static const char key[] = "\"note\":\"", ending[] = "\"}}";
    const size_t n_key = sizeof key - 1, n_ending = sizeof ending - 1;
    out[0] = 0;
    for (const char *at = canonical, *end = canonical + n; (at = memchr(at, '"', (size_t)(end - at))); at++) {
        if ((size_t)(end - at) < n_key + n_ending) return;
        if (memcmp(at, key, n_key) != 0) continue;
        at += n_key;
        bf_status status = bf_json_decode(at, (size_t)(end - at) - n_ending, out, most);
        (void)status; // cut is what was asked for
        return;
    }
}
