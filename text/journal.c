/* journal.c -- a journal in memory. See baitfall/journal.h. */
#include <string.h>

#include "core/base/room.h"
#include "core/record/mix.h"
#include "text/fault.h"
#include "text/line.h"

#define NAME_SLOTS (2 * BF_NAMES_MOST)

struct bf_journal {
    int n, most_events;
    size_t n_text, most_text;
    int n_names;
    int is_folded;
    int n_slots;     /* of ids: a power of two, twice the events or more */
    bf_event *event; /* (most_events) */
    size_t *line;    /* (most_events + 1) where each line begins in text; each ends with a 0 byte */
    int *slot;       /* (n_slots) events by the hash of their ids, open addressing, -1: free */
    char *text;      /* (most_text) */
    void *fold_memory;
    void *line_work;
    bf_line incoming;
    bf_fold fold;
    char canonical[BF_LINE_MOST + 1];
    char name[BF_NAMES_MOST][BF_NAME_BYTES + 1];
    uint64_t name_key[BF_NAMES_MOST];
    int name_slot[NAME_SLOTS]; /* names by name_key, -1: free */
};

/* ---- Memory ---- */

typedef struct layout {
    size_t event, line, slot, fold, work, text, end;
    int n_slots;
} layout;

static size_t place(size_t *end, size_t bytes) {
    size_t at = *end;
    *end += bfi_room(bytes);
    return at;
}

static layout layout_of(int most_events, size_t most_text) {
    layout l = {.n_slots = 2};
    size_t n = (size_t)most_events;
    while (l.n_slots < 2 * most_events) l.n_slots *= 2;
    place(&l.end, sizeof(bf_journal));
    l.event = place(&l.end, n * sizeof(bf_event));
    l.line = place(&l.end, (n + 1) * sizeof(size_t));
    l.slot = place(&l.end, (size_t)l.n_slots * sizeof(int));
    l.fold = place(&l.end, bf_fold_bytes(most_events));
    l.work = place(&l.end, bf_line_work_bytes());
    l.text = place(&l.end, most_text);
    return l;
}

size_t bf_journal_bytes(int most_events, size_t most_text) {
    return layout_of(most_events, most_text).end;
}

bf_journal *bf_journal_start(void *memory, int most_events, size_t most_text) {
    BF_ASSERT(most_events >= 0 && most_events <= BF_EVENTS_MOST);
    layout l = layout_of(most_events, most_text);
    char *at = memory;
    bf_journal *journal = memory;
    journal->n = journal->n_names = journal->is_folded = 0;
    journal->n_text = 0;
    journal->most_events = most_events;
    journal->most_text = most_text;
    journal->n_slots = l.n_slots;
    journal->event = (void *)(at + l.event);
    journal->line = (void *)(at + l.line);
    journal->slot = (void *)(at + l.slot);
    journal->fold_memory = at + l.fold;
    journal->line_work = at + l.work;
    journal->text = at + l.text;
    journal->line[0] = 0;
    for (int i = 0; i < l.n_slots; i++) journal->slot[i] = -1;
    for (int i = 0; i < NAME_SLOTS; i++) journal->name_slot[i] = -1;
    return journal;
}

/* ---- Names ---- */

static uint64_t key_of(const char *name) {
    return bfi_mix_bytes(0, name, strlen(name));
}

/* The slot where a name is, or would go. */
static int find_name_slot(const bf_journal *journal, const char *name, uint64_t key) {
    for (uint64_t i = key;; i++) {
        int slot = (int)(i % NAME_SLOTS), there = journal->name_slot[slot];
        if (there < 0 || (journal->name_key[there] == key && strcmp(journal->name[there], name) == 0))
            return slot;
    }
}

static int add_name(bf_journal *journal, const char *name) {
    uint64_t key = key_of(name);
    int slot = find_name_slot(journal, name, key);
    if (journal->name_slot[slot] >= 0) return journal->name_slot[slot];
    int i = journal->n_names++;
    memcpy(journal->name[i], name, strlen(name) + 1);
    journal->name_key[i] = key;
    journal->name_slot[slot] = i;
    return i;
}

const char *bf_journal_name(const bf_journal *journal, int name) {
    BF_ASSERT(name >= -1 && name < journal->n_names);
    return name < 0 ? "" : journal->name[name];
}

int bf_journal_find_name(const bf_journal *journal, const char *text) {
    return journal->name_slot[find_name_slot(journal, text, key_of(text))];
}

/* The line's own numbers of names become the journal's. */
static void renumber_names(bf_journal *journal, const bf_line *line, bf_body *body) {
    int number[sizeof line->name / sizeof line->name[0]];
    for (int i = 0; i < line->n_names; i++) number[i] = add_name(journal, line->name[i]);
    for (int i = 0; i < bf_body_table.n_fields; i++) {
        const bf_field *field = &bf_body_table.field[i];
        int *member = (int *)(void *)((char *)body + field->offset);
        if (field->kind == BF_REF && *member >= 0) *member = number[*member];
    }
}

/* ---- Taking lines ---- */

/* The event that says the same, or an event of the same id, or none (-1): *slot is where a further one goes.
 * */
static int find_like(const bf_journal *journal, const bf_event *event, const char *canonical, size_t n,
                     int **slot, int *is_same) {
    uint64_t hash = bfi_mix(bfi_mix(0, event->id.high), event->id.low);
    int like = -1;
    *is_same = 0;
    for (uint64_t i = hash;; i++) {
        *slot = &journal->slot[i & (uint64_t)(journal->n_slots - 1)];
        if (**slot < 0) return like;
        const bf_event *there = &journal->event[**slot];
        if (bf_id_order(there->id, event->id) != 0) continue;
        like = **slot;
        size_t n_there;
        const char *line = bf_journal_line(journal, like, &n_there);
        *is_same = n_there == n && memcmp(line, canonical, n) == 0;
        if (*is_same) return like;
    }
}

static int has_room(const bf_journal *journal, const bf_line *line) {
    int n_new = 0;
    for (int i = 0; i < line->n_names; i++) n_new += bf_journal_find_name(journal, line->name[i]) < 0;
    return journal->n < journal->most_events && journal->n_names + n_new <= BF_NAMES_MOST &&
           line->n_canonical + 1 <= journal->most_text - journal->n_text;
}

static void keep(bf_journal *journal, const bf_line *line) {
    bf_event *event = &journal->event[journal->n];
    *event = line->event;
    renumber_names(journal, line, &event->body);
    memcpy(journal->text + journal->n_text, journal->canonical, line->n_canonical + 1);
    journal->n_text += line->n_canonical + 1;
    journal->n++;
    journal->line[journal->n] = journal->n_text;
    journal->is_folded = 0;
}

bf_status bf_take(bf_journal *journal, const char *text, size_t n, bf_taken *taken, bf_error *error) {
    bf_line *line = &journal->incoming;
    bf_status status =
        bf_line_read(journal->line_work, text, n, line, journal->canonical, sizeof journal->canonical, error);
    *taken = BF_TAKEN_KNOWN;
    if (status) return status;
    int is_same, *slot;
    int like = find_like(journal, &line->event, journal->canonical, line->n_canonical, &slot, &is_same);
    if (is_same) return BF_OK;
    if (!has_room(journal, line))
        return bfi_fail(error, BF_E_SPACE, "line", NULL, -1, "a journal with more room");
    *slot = journal->n;
    keep(journal, line);
    *taken = like < 0 ? BF_TAKEN_NEW : BF_TAKEN_CLASH;
    return BF_OK;
}

/* ---- Looking ---- */

int bf_journal_n(const bf_journal *journal) {
    return journal->n;
}

const bf_event *bf_journal_events(const bf_journal *journal) {
    return journal->event;
}

const char *bf_journal_line(const bf_journal *journal, int i, size_t *n) {
    BF_ASSERT(i >= 0 && i < journal->n);
    *n = journal->line[i + 1] - journal->line[i] - 1;
    return journal->text + journal->line[i];
}

void bf_journal_note(const bf_journal *journal, int i, char *out, size_t most) {
    size_t n;
    const char *line = bf_journal_line(journal, i, &n);
    bfi_line_note(line, n, out, most);
}

const bf_fold *bf_journal_fold(bf_journal *journal) {
    if (!journal->is_folded) {
        bf_status status = bf_fold_events(journal->event, journal->n, journal->name_key, journal->n_names,
                                          journal->fold_memory, &journal->fold);
        BF_ASSERT(!status);
        journal->is_folded = 1;
    }
    return &journal->fold;
}
