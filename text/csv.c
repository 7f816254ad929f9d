/* csv.c -- see baitfall/csv.h. */
#include "baitfall/csv.h"

#include <string.h>

#include "core/base/room.h"
#include "text/fault.h"
#include "text/line.h"

/* ---- Columns: the envelope, the fields of a body, the note ---- */

enum { ID, SESSION, DEV, RUN, SEQ, MONO, KIND, INSTANT, PM, REC, OF, CROSSED, CLASH, N_ENVELOPE };
static const char *const envelope[] = {"id", "session", "dev", "run", "seq",     "mono_ms", "kind",
                                       "at", "pm_s",    "rec", "of",  "crossed", "clash"};
#define COLUMNS_MOST (N_ENVELOPE + 64 + 1) /* a body has at most 64 fields: they fit a set of bits */

static int n_columns(void) {
    return N_ENVELOPE + bf_body_table.n_fields + 1;
}

static int is_note(int column) {
    return column == N_ENVELOPE + bf_body_table.n_fields;
}

/* The field of the body that a column shows, NULL. */
static const bf_field *field_of(int column) {
    int i = column - N_ENVELOPE;
    return i >= 0 && i < bf_body_table.n_fields ? &bf_body_table.field[i] : NULL;
}

static int is_envelope_name(const char *name) {
    for (int i = 0; i < N_ENVELOPE; i++)
        if (strcmp(envelope[i], name) == 0) return 1;
    return 0;
}

/* Fields of a fix that are called as the event's own have "fix_" before them. */
static void column_name(int column, char name[BFI_KEY_MOST]) {
    const bf_field *field = field_of(column);
    bfi_pen pen = bfi_pen_open(name, BFI_KEY_MOST);
    if (field && is_envelope_name(field->name)) bfi_put(&pen, "fix_");
    bfi_put(&pen, field ? field->name : is_note(column) ? "note" : envelope[column]);
}

static int is_text_column(int column) {
    const bf_field *field = field_of(column);
    return is_note(column) || (field && field->kind == BF_REF);
}

/* ---- Writing ---- */

/* Begins like a formula, or like something guarded. */
static int needs_guard(const char *text) {
    return text[0] && strchr("=+-@\t\r'", text[0]) != NULL;
}

static void put_cell(bfi_pen *pen, const char *text, int is_text) {
    int is_plain = !text[strcspn(text, ",\"\r\n")];
    if (is_text && needs_guard(text)) {
        bfi_put(pen, is_plain ? "'" : "\"'");
    } else if (!is_plain) {
        bfi_put(pen, "\"");
    }
    while (!is_plain && *text) {
        size_t n = strcspn(text, "\"");
        bfi_put_bytes(pen, text, n);
        if (text[n]) bfi_put(pen, "\"\"");
        text += n + (text[n] != 0);
    }
    bfi_put(pen, is_plain ? text : "\"");
}

static void put_number(bfi_pen *pen, double number) {
    char text[BF_NUMBER_MOST];
    if (number == number) bfi_put_bytes(pen, text, bf_number_write(number, text));
}

static void put_instant(bfi_pen *pen, double ms, int east_min) {
    char text[BF_INSTANT_BYTES];
    bfi_put_bytes(pen, text, bf_instant_write(ms, east_min, text));
}

static void put_id(bfi_pen *pen, bf_id id) {
    char text[33];
    bf_id_write(id, text);
    bfi_put(pen, text);
}

static void put_word(bfi_pen *pen, uint32_t word) {
    char text[9];
    bfi_word_write(word, text);
    bfi_put(pen, text);
}

static void put_envelope(bfi_pen *pen, const bf_event *e, int column, int is_crossed, int is_clash) {
    switch (column) {
    case ID: put_id(pen, e->id); break;
    case SESSION: put_id(pen, e->session); break;
    case DEV: put_word(pen, e->dev); break;
    case RUN: put_word(pen, e->run); break;
    case SEQ: put_number(pen, e->seq); break;
    case MONO: put_number(pen, e->mono_ms); break;
    case KIND: bfi_put(pen, bf_event_words[e->kind]); break;
    case INSTANT: put_instant(pen, e->at_ms, e->at_east_min); break;
    case PM: put_number(pen, e->pm_s); break;
    case REC: put_instant(pen, e->rec_ms, e->rec_east_min); break;
    case OF:
        if (bf_event_is_correction(e->kind)) put_id(pen, e->of);
        break;
    case CROSSED: put_number(pen, is_crossed != 0); break;
    default: put_number(pen, is_clash != 0); break;
    }
}

static void put_field(bfi_pen *pen, const bf_line *line, const bf_field *field) {
    const void *member = (const char *)&line->event.body + field->offset;
    if (!bf_field_is_given(field, member)) return;
    switch (field->kind) {
    case BF_REF: put_cell(pen, line->name[*(const int *)member], 1); break;
    case BF_CHOICE: bfi_put(pen, field->words[*(const int *)member]); break;
    case BF_INT: put_number(pen, *(const int *)member); break;
    case BF_INSTANT: put_instant(pen, *(const double *)member, line->event.at_east_min); break;
    default: put_number(pen, *(const double *)member); break;
    }
}

static bf_status end_row(bfi_pen *pen, size_t *n_out) {
    bfi_put(pen, "\r\n");
    *n_out = pen->is_short ? 0 : pen->n;
    if (pen->is_short) pen->at[0] = 0;
    return pen->is_short ? BF_E_SPACE : BF_OK;
}

bf_status bf_csv_head(char *out, size_t most, size_t *n_out) {
    bfi_pen pen = bfi_pen_open(out, most);
    for (int c = 0; c < n_columns(); c++) {
        char name[BFI_KEY_MOST];
        column_name(c, name);
        if (c) bfi_put(&pen, ",");
        bfi_put(&pen, name);
    }
    return end_row(&pen, n_out);
}

typedef struct row_work {
    bf_line line;
    char canonical[BF_LINE_MOST + 1];
    char note[BFI_NOTE_MOST + 1];
} row_work;

static size_t row_work_bytes(void) {
    return bfi_room(sizeof(row_work));
}

size_t bf_csv_row_work_bytes(void) {
    return row_work_bytes() + bf_line_work_bytes();
}

bf_status bf_csv_row(void *work, const char *line, size_t n, int is_crossed, int is_clash, char *out,
                     size_t most, size_t *n_out, bf_error *error) {
    row_work *w = work;
    bfi_pen pen = bfi_pen_open(out, most);
    *n_out = 0;
    bf_status status = bf_line_read((char *)work + row_work_bytes(), line, n, &w->line, w->canonical,
                                    sizeof w->canonical, error);
    if (status) return status;
    bfi_line_note(w->canonical, w->line.n_canonical, w->note, sizeof w->note);
    for (int c = 0; c < n_columns(); c++) {
        const bf_field *field = field_of(c);
        if (c) bfi_put(&pen, ",");
        if (field)
            put_field(&pen, &w->line, field);
        else if (is_note(c))
            put_cell(&pen, w->note, 1);
        else
            put_envelope(&pen, &w->line.event, c, is_crossed, is_clash);
    }
    status = end_row(&pen, n_out);
    return status ? bfi_fail(error, status, "", NULL, -1, "more space for the row") : BF_OK;
}

/* ---- Reading: one row into cells ---- */

struct bf_csv {
    int has_begun; /* something was read: no byte order mark any more */
    int has_head, head_failed;
    int n_columns;
    int column[COLUMNS_MOST]; /* what each column of the table is */
    int n_cells;
    size_t cell[COLUMNS_MOST + 1]; /* where each begins in text */
    char text[BF_CSV_ROW_MOST + COLUMNS_MOST + 1];
};

size_t bf_csv_bytes(void) {
    return bfi_room(sizeof(bf_csv));
}

bf_csv *bf_csv_start(void *memory) {
    bf_csv *csv = memory;
    csv->has_begun = csv->has_head = csv->head_failed = 0;
    csv->n_columns = csv->n_cells = 0;
    return csv;
}

/* What scanning a row came to. */
typedef enum scanned { ROW_WHOLE, ROW_GOES_ON, ROW_BROKEN, ROW_TOO_WIDE } scanned;

typedef struct scan {
    bf_csv *csv;
    const char *at, *end;
    size_t n_text;
} scan;

static void keep(scan *s, char c) {
    s->csv->text[s->n_text++] = c;
}

/* The inside of a quoted cell, from its opening quote to behind its closing one. */
static scanned scan_quoted(scan *s) {
    for (s->at++; s->at < s->end; s->at++) {
        if (*s->at != '"') {
            keep(s, *s->at);
            continue;
        }
        if (s->at + 1 == s->end || s->at[1] != '"') {
            s->at++;
            return ROW_WHOLE;
        }
        keep(s, *s->at++);
    }
    return ROW_GOES_ON;
}

static scanned scan_cell(scan *s) {
    if (s->at < s->end && *s->at == '"') return scan_quoted(s);
    for (; s->at < s->end && *s->at != ',' && *s->at != '\r' && *s->at != '\n'; s->at++) {
        if (*s->at == '"') return ROW_BROKEN;
        keep(s, *s->at);
    }
    return ROW_WHOLE;
}

/* Cells up to a line end, or the end of the text when it is the last. */
static scanned scan_row(scan *s, int is_last) {
    bf_csv *csv = s->csv;
    for (csv->n_cells = 0;; s->at++) {
        if (csv->n_cells == COLUMNS_MOST) return ROW_TOO_WIDE;
        csv->cell[csv->n_cells++] = s->n_text;
        scanned cell = scan_cell(s);
        if (cell != ROW_WHOLE) return cell == ROW_GOES_ON && is_last ? ROW_BROKEN : cell;
        keep(s, 0);
        if (s->at == s->end) return is_last ? ROW_WHOLE : ROW_GOES_ON;
        if (*s->at == ',') continue;
        if (*s->at == '\r' && s->at + 1 == s->end && !is_last) return ROW_GOES_ON;
        if (*s->at == '\r' && s->at + 1 < s->end && s->at[1] == '\n') s->at++;
        if (*s->at != '\r' && *s->at != '\n') return ROW_BROKEN; // something behind a closing quote
        s->at++;
        return ROW_WHOLE;
    }
}

/* Behind the next line end: CR LF, LF or, as old tables have it, CR. */
static size_t to_next_line(const char *text, size_t n) {
    size_t i = 0;
    while (i < n && text[i] != '\r' && text[i] != '\n') i++;
    int is_both = i + 1 < n && text[i] == '\r' && text[i + 1] == '\n';
    return i < n ? i + 1 + (size_t)is_both : n;
}

/* ---- Reading: the first row ---- */

static int column_called(const char *name) {
    for (int c = 0; c < n_columns(); c++) {
        char known[BFI_KEY_MOST];
        column_name(c, known);
        if (strcmp(known, name) == 0) return c;
    }
    return -1;
}

static bf_status take_head(bf_csv *csv, bf_error *error) {
    csv->head_failed = 1;
    for (int i = 0; i < csv->n_cells; i++) {
        const char *name = csv->text + csv->cell[i];
        csv->column[i] = column_called(name);
        if (csv->column[i] < 0)
            return bfi_fail(error, BF_E_KEY, name, NULL, -1, "the columns that an export has");
        for (int k = 0; k < i; k++)
            if (csv->column[k] == csv->column[i])
                return bfi_fail(error, BF_E_TWICE, name, NULL, -1, "each column once");
    }
    csv->n_columns = csv->n_cells;
    csv->has_head = 1;
    csv->head_failed = 0;
    return BF_OK;
}

/* ---- Reading: a row as a line ---- */

/* A cell as text that is no formula any more. */
static const char *unguarded(const char *cell) {
    return cell[0] == '\'' && needs_guard(cell + 1) ? cell + 1 : cell;
}

static void put_value(bfi_json *out, int column, const char *cell) {
    const bf_field *field = field_of(column);
    int may_be_number = field ? field->kind == BF_REAL || field->kind == BF_INT
                              : column == SEQ || column == MONO || column == PM;
    size_t n = strlen(cell);
    if (may_be_number && bf_number_span(cell, n) == n)
        bfi_json_raw(out, cell, n);
    else
        bfi_json_text(out, is_text_column(column) ? unguarded(cell) : cell);
}

/* The members of the envelope (body 0) or of the body (1), those that are given. */
static void put_members(bfi_json *out, const bf_csv *csv, int body) {
    for (int i = 0; i < csv->n_cells; i++) {
        int column = csv->column[i];
        const char *cell = csv->text + csv->cell[i];
        const bf_field *field = field_of(column);
        int is_body = field || is_note(column);
        if (!cell[0] || is_body != body || column == CROSSED || column == CLASH) continue;
        bfi_json_key(out, field ? field->name : is_body ? "note" : envelope[column]);
        put_value(out, column, cell);
    }
}

static bf_status put_line(const bf_csv *csv, char *line, size_t most, size_t *n_line) {
    bfi_json out = bfi_json_open(line, most);
    bfi_json_object(&out);
    bfi_json_key_real(&out, "v", 1);
    put_members(&out, csv, 0);
    bfi_json_key(&out, "body");
    bfi_json_object(&out);
    put_members(&out, csv, 1);
    bfi_json_close(&out);
    bfi_json_close(&out);
    return bfi_json_done(&out, n_line);
}

static int is_empty(const bf_csv *csv) {
    return csv->n_cells == 1 && !csv->text[0];
}

static bf_status fail_row(bf_error *error, bf_status status, const char *text) {
    bfi_fail(error, status, "", NULL, -1, "");
    bfi_pen pen = bfi_pen_open(error->text, sizeof error->text);
    bfi_put(&pen, text);
    return status;
}

/* The row whose cells are there. */
static bf_status take_row(bf_csv *csv, char *line, size_t line_most, size_t *n_line, bf_error *error) {
    if (csv->head_failed)
        return fail_row(error, BF_E_KEY,
                        "The row cannot be read, as the first row does not name the columns.");
    if (is_empty(csv)) return BF_OK;
    if (!csv->has_head) return take_head(csv, error);
    if (csv->n_cells > csv->n_columns)
        return fail_row(error, BF_E_COUNT, "The row has more cells than there are columns.");
    bf_status status = put_line(csv, line, line_most, n_line);
    return status ? fail_row(error, status, "The row is longer than a line of a journal may be.") : BF_OK;
}

bf_status bf_csv_read(bf_csv *csv, const char *text, size_t n, int is_last, size_t *n_used, char *line,
                      size_t line_most, size_t *n_line, bf_error *error) {
    static const char mark[] = "\xEF\xBB\xBF";
    *error = (bf_error){.status = BF_OK};
    *n_used = *n_line = 0;
    line[0] = 0;
    size_t skipped = 0;
    if (!csv->has_begun && n < sizeof mark - 1 && !is_last) return BF_OK;
    if (!csv->has_begun && n >= sizeof mark - 1 && memcmp(text, mark, sizeof mark - 1) == 0)
        skipped = sizeof mark - 1;
    size_t n_seen = n - skipped < BF_CSV_ROW_MOST ? n - skipped : BF_CSV_ROW_MOST;
    scan s = {csv, text + skipped, text + skipped + n_seen, 0};
    scanned result = scan_row(&s, is_last && skipped + n_seen == n);
    if (result == ROW_GOES_ON && n_seen < BF_CSV_ROW_MOST) return BF_OK;
    csv->has_begun = 1;
    if (result == ROW_WHOLE && memchr(text, 0, (size_t)(s.at - text)))
        result = ROW_BROKEN; // would cut a cell
    if (result == ROW_WHOLE) {
        *n_used = (size_t)(s.at - text);
        return take_row(csv, line, line_most, n_line, error);
    }
    *n_used = skipped + to_next_line(text + skipped, n_seen);
    csv->head_failed |= !csv->has_head;
    if (result == ROW_BROKEN)
        return fail_row(
            error, BF_E_SYNTAX,
            "The row has a quote where none should be or that does not close, or a null character.");
    if (result == ROW_TOO_WIDE)
        return fail_row(error, BF_E_COUNT, "The row has more cells than there are columns.");
    return fail_row(error, BF_E_SPACE, "The row is longer than 65536 bytes.");
}
