/* Ten thousand random events of every kind go through the database, JSON Lines and CSV, and come back as the same state. */
#define _XOPEN_SOURCE 700

#include "logbook/logbook.h"

#define N_EVENTS 10000
#define N_SESSIONS 12

/* ---- Random lines from the field table itself: whatever a line may say ---- */

static uint64_t seed = 20260412;

/* xorshift64*: Vigna, "An experimental exploration of Marsaglia's xorshift generators, scrambled", 2016 (constants from memory). */
static uint64_t bits(void) {
    seed ^= seed >> 12;
    seed ^= seed << 25;
    seed ^= seed >> 27;
    return seed * 2685821657736338717u;
}

static int below(int n) {
    return (int)(bits() >> 33) % n;
}

static double between(double least, double most) {
    return least + (most - least) * (double)(bits() >> 11) / 9007199254740992.0;
}

/* Names and notes that have hurt others. */
static const char *const nasty[] = {"long",        "=cmd|' /C calc'!A0",
                                    "+1",          "-2",
                                    "@x",          "'q",
                                    "a,b",         "<script>alert(1)</script>",
                                    "a \\\"b\\\"", "\\u202Eevil",
                                    "caf\u00e9",   "\\ttab",
                                    "two\\nlines", "cr\\r\\nlf"};
#define N_NASTY ((int)(sizeof nasty / sizeof nasty[0]))
#define N_NASTY_NAMES (N_NASTY - 3) /* names have no control characters; notes may */

typedef struct id_pair {
    char id[33];
    int session;
} id_pair;

static id_pair given[N_EVENTS];
static char session_id[N_SESSIONS][33];

static void put_instant(char *out, double ms, int east_min) {
    bf_instant_write(ms, east_min, out);
}

static size_t put_field(char *out, const bf_field *field, double at_ms) {
    char instant[BF_INSTANT_BYTES];
    switch (field->kind) {
    case BF_REAL:
        return (size_t)sprintf(out, "\"%s\":%.17g,", field->name, between(field->least, field->most));
    case BF_INT:
        return (size_t)sprintf(out, "\"%s\":%d,", field->name,
                               (int)field->least + below((int)(field->most - field->least) + 1));
    case BF_CHOICE:
        return (size_t)sprintf(out, "\"%s\":\"%s\",", field->name, field->words[below((int)field->most + 1)]);
    case BF_INSTANT:
        put_instant(instant, at_ms + (strcmp(field->name, "to") == 0 ? 3600000.0 : 0), 60);
        return (size_t)sprintf(out, "\"%s\":\"%s\",", field->name, instant);
    default: return (size_t)sprintf(out, "\"%s\":\"%s\",", field->name, nasty[below(N_NASTY_NAMES)]);
    }
}

/* Only one amount is allowed: the others of feed, box and fix are left out. */
static int is_second_amount(const char *name, int *n_amounts) {
    static const char *const amounts[] = {"count", "volume_m3", "fill_frac", "mass_kg"};
    for (size_t i = 0; i < sizeof amounts / sizeof amounts[0]; i++)
        if (strcmp(name, amounts[i]) == 0) return (*n_amounts)++ > 0;
    return 0;
}

static size_t put_body(char *out, int kind, double at_ms) {
    uint64_t has = bf_event_fields(kind), must = bf_event_must(kind);
    size_t n = (size_t)sprintf(out, "\"body\":{");
    int n_amounts = 0;
    for (int i = 0; i < bf_body_table.n_fields; i++) {
        const bf_field *field = &bf_body_table.field[i];
        int is_stretch = kind == BF_FIX && field->kind == BF_INSTANT && strcmp(field->name, "at") != 0;
        if (!(has >> i & 1) || is_stretch || (!(must >> i & 1) && below(3) == 0)) continue;
        if (is_second_amount(field->name, &n_amounts)) continue;
        n += put_field(out + n, field, at_ms);
    }
    if (below(4) == 0) n += (size_t)sprintf(out + n, "\"note\":\"%s\",", nasty[below(N_NASTY)]);
    if (out[n - 1] == ',') n--;
    return n + (size_t)sprintf(out + n, "}}");
}

static size_t put_event(char *out, int k) {
    id_pair *mine = &given[k];
    int is_open = k < N_SESSIONS, kind = is_open ? BF_OPEN : below(BF_N_EVENT_KINDS), dev = below(3);
    char instant[BF_INSTANT_BYTES], entered[BF_INSTANT_BYTES];
    mine->session = is_open ? k : below(N_SESSIONS);
    sprintf(mine->id, "%016llx%016llx", (unsigned long long)bits(), (unsigned long long)bits());
    if (is_open) strcpy(session_id[k], mine->id);
    double at_ms = 1775980800000.0 + 86400000.0 * mine->session + (double)below(5 * 3600000);
    put_instant(instant, at_ms, 60);
    put_instant(entered, at_ms + below(100000), 60);
    size_t n = (size_t)sprintf(
        out,
        "{\"v\":1,\"id\":\"%s\",\"session\":\"%s\",\"dev\":\"0000000%d\",\"run\":\"0000000b\",\"seq\":%d,",
        mine->id, session_id[mine->session], dev + 1, k + 1);
    if (below(2)) n += (size_t)sprintf(out + n, "\"mono_ms\":%d,", below(10000000));
    n += (size_t)sprintf(out + n, "\"kind\":\"%s\",\"at\":\"%s\",\"pm_s\":%d,\"rec\":\"%s\",",
                         bf_event_words[kind], instant, below(120), entered);
    if (bf_event_is_correction(kind)) {
        int of = below(k);
        n += (size_t)sprintf(out + n, "\"of\":\"%s\",", given[of].id);
    }
    return n + put_body(out + n, kind, at_ms);
}

static text_sink random_lines(void) {
    text_sink all = {0};
    static char line[BF_LINE_MOST];
    for (int k = 0; k < N_EVENTS; k++) {
        size_t n = put_event(line, k);
        line[n++] = '\n';
        write_text(&all, line, n);
    }
    return all;
}

/* ---- There and back ---- */

static void say_refused(void *to, bf_told_kind kind, long long number, const char *sentence) {
    (void)to;
    if (kind == BF_TOLD_REFUSED) print_message("line %lld: %s\n", number, sentence);
}

static void ten_thousand_random_events_come_back_the_same_through_database_lines_and_table(void **state) {
    (void)state;
    text_sink made = random_lines();
    bf_store *store = opened(at("j.db"));
    bf_import counts = imported(store, made.text, made.n, say_refused, NULL);
    assert_int_equal(counts.fresh, N_EVENTS);
    uint64_t hash = state_of(store);

    text_sink lines = exported(store, BF_EXPORT_LINES);
    bf_store *of_lines = opened(at("lines.db"));
    assert_int_equal(imported(of_lines, lines.text, lines.n, say_refused, NULL).fresh, N_EVENTS);
    assert_true(state_of(of_lines) == hash);
    text_sink again = exported(of_lines, BF_EXPORT_LINES);
    assert_string_equal(again.text, lines.text); /* byte for byte */

    text_sink table = exported(store, BF_EXPORT_CSV);
    bf_store *of_table = opened(at("table.db"));
    assert_int_equal(imported(of_table, table.text, table.n, say_refused, NULL).fresh, N_EVENTS);
    assert_true(state_of(of_table) == hash);
    assert_int_equal(imported(of_table, lines.text, lines.n, say_refused, NULL).known,
                     N_EVENTS); /* the same lines, notes and all */

    is_whole(store);
    is_whole(of_table);
    bf_store_close(store);
    bf_store_close(of_lines);
    bf_store_close(of_table);
    free(made.text);
    free(lines.text);
    free(again.text);
    free(table.text);
}

/* The same journal straight into memory, in the reverse order, is the same state as through the database. */
static void the_state_is_the_same_with_and_without_the_database(void **state) {
    (void)state;
    text_sink made = random_lines();
    bf_store *store = opened(at("j.db"));
    imported(store, made.text, made.n, say_refused, NULL);
    void *memory = malloc(bf_journal_bytes(N_EVENTS, 2 * made.n));
    bf_journal *journal = bf_journal_start(memory, N_EVENTS, 2 * made.n);
    size_t end = made.n - 1;
    for (size_t i = end; i-- > 0;) {
        bf_taken taken;
        bf_error error;
        if (i > 0 && made.text[i - 1] != '\n') continue;
        assert_int_equal(bf_take(journal, made.text + i, end - i, &taken, &error), BF_OK);
        end = i - 1;
    }
    assert_int_equal(bf_journal_n(journal), N_EVENTS);
    assert_true(bf_journal_fold(journal)->hash == state_of(store));
    free(memory);
    free(made.text);
    bf_store_close(store);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(
            ten_thousand_random_events_come_back_the_same_through_database_lines_and_table, make_folder,
            drop_folder),
        cmocka_unit_test_setup_teardown(the_state_is_the_same_with_and_without_the_database, make_folder,
                                        drop_folder),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
