/* The plan command: what goes in, what is let through, what comes out. */
#include "baitfall/answer.h"

#include "baitfall/json.h"
#include "common/check.h"

#define ANSWER_BYTES (1u << 20)
#define MOST_TOKENS 65536

/* Numbers with units and without, a catalogue bait and one of the kit, every way of feeding. */
static const char a_plan[] =
    "{\"seed\":3,\"draws\":16,\"water\":{\"temp\":\"11.5 C\",\"wind\":\"3 m/s\"},"
    "\"kit\":{\"baits\":[{\"id\":\"soft two\",\"state\":\"soaked\",\"density\":\"1110 kg/m3\"}],"
    "\"pots\":[{\"id\":\"small\",\"volume\":\"3 ml\"}],\"throws\":[{\"id\":\"green\",\"speed\":\"14 m/s\"}]},"
    "\"box\":[{\"bait\":\"hard-4\",\"mass\":\"0.2 kg\"}],"
    "\"spots\":[{\"id\":\"long\",\"depth\":\"5ft "
    "3in\",\"pot\":\"small\"},{\"id\":\"margin\",\"depth_m\":0.6}],"
    "\"feed\":[{\"spot\":\"long\",\"bait\":\"soft two\",\"fill\":0.5,\"how\":\"sprinkle\",\"to\":\"1 "
    "h\",\"every\":\"10 min\"},"
    "{\"spot\":\"margin\",\"bait\":\"hard-4\",\"count\":12,\"how\":\"hand\",\"from\":\"20 min\"},"
    "{\"spot\":\"long\",\"bait\":\"hard-4\",\"count\":5,\"how\":\"throw\",\"throw\":\"green\",\"every\":600}]"
    ","
    "\"session\":{\"hours\":2}}";

/* An answer that reads as JSON. */
typedef struct answer {
    bf_status status;
    char *text;
    size_t n;
    void *tokens;
    bf_json json;
} answer;

static void read_answer(answer *a) {
    bf_json_fault fault;
    a->tokens = malloc(bf_json_bytes(MOST_TOKENS));
    assert_int_equal(bf_json_read(a->text, a->n, a->tokens, MOST_TOKENS, &a->json, &fault), BF_OK);
}

/* Asks with the rows cut into runs of at most `run` items. */
static answer ask_cut(const char *request, int run) {
    answer a = {BF_OK, malloc(ANSWER_BYTES), 0, NULL, {0}};
    int n_items, n_columns;
    double *rows = NULL;
    void *work = aligned_alloc(16, (bf_state_bytes("plan") + 15) / 16 * 16);
    bf_status begun = bf_begin(work, "plan", request, strlen(request), &n_items, &n_columns);
    if (!begun) {
        void *scratch = aligned_alloc(16, (bf_scratch_bytes(work) + 15) / 16 * 16);
        rows = malloc((size_t)n_items * (size_t)n_columns * sizeof(double));
        for (int i = 0, next = 0; i < n_items;) {
            if (i == next) next = bf_next(work, rows, i);
            int j = i + run < next ? i + run : next;
            assert_int_equal(bf_range_rows(work, scratch, i, j, rows + (size_t)i * (size_t)n_columns), BF_OK);
            i = j;
        }
        free(scratch);
    }
    a.status = bf_finish(work, rows, a.text, ANSWER_BYTES, &a.n);
    assert_int_equal(begun != BF_OK, a.status != BF_OK);
    free(rows);
    free(work);
    read_answer(&a);
    return a;
}

static answer ask(const char *request) {
    return ask_cut(request, 1000);
}

static void drop(answer *a) {
    free(a->text);
    free(a->tokens);
}

static void assert_same_member(const answer *a, const answer *b, const char *key) {
    size_t n_a, n_b;
    const char *in_a = bf_json_raw(&a->json, bf_json_find(&a->json, 0, key), &n_a);
    const char *in_b = bf_json_raw(&b->json, bf_json_find(&b->json, 0, key), &n_b);
    assert_int_equal(n_a, n_b);
    assert_memory_equal(in_a, in_b, n_a);
}

static void the_answer_does_not_depend_on_the_cut(void **state) {
    (void)state;
    answer whole = ask(a_plan);
    assert_int_equal(whole.status, BF_OK);
    static const int runs[] = {1, 25};
    for (size_t i = 0; i < sizeof runs / sizeof runs[0]; i++) {
        answer cut = ask_cut(a_plan, runs[i]);
        assert_string_equal(whole.text, cut.text);
        drop(&cut);
    }
    drop(&whole);
}

/* A plan written out stands alone: its own inputs, asked again, give the same. */
static void the_inputs_asked_again_give_the_same_answer(void **state) {
    (void)state;
    size_t n;
    answer first = ask(a_plan);
    const char *inputs = bf_json_raw(&first.json, bf_json_find(&first.json, 0, "inputs"), &n);
    char *request = malloc(n + 64);
    sprintf(request, "{\"seed\":3,\"draws\":16,%.*s", (int)n - 1, inputs + 1);
    answer again = ask(request);
    assert_int_equal(again.status, BF_OK);
    assert_same_member(&first, &again, "feed");
    assert_same_member(&first, &again, "baits");
    assert_same_member(&first, &again, "inputs");
    free(request);
    drop(&first);
    drop(&again);
}

static double number_at(const answer *a, int object, const char *key) {
    double number;
    int value = bf_json_find(&a->json, object, key);
    assert_true(value >= 0);
    assert_int_equal(bf_json_number(&a->json, value, &number), BF_OK);
    return number;
}

/* By hand: a throw of 5 every 10 minutes for 2 hours, 13 times, and 12 by hand once: 77 pieces, 38.5 an hour. */
static void amounts_are_what_the_plan_says(void **state) {
    (void)state;
    answer a = ask(a_plan);
    int baits = bf_json_find(&a.json, 0, "baits"), soft = bf_json_first(&a.json, baits);
    int hard = bf_json_next(&a.json, soft);
    assert_true(bf_json_is(&a.json, bf_json_find(&a.json, hard, "bait"), "hard-4"));
    BF_CHECK_ABS(number_at(&a, hard, "put_ins"), 14, 0);
    BF_CHECK_ABS(number_at(&a, bf_json_find(&a.json, hard, "pieces"), "hi"), 77, 0);
    BF_CHECK_ABS(number_at(&a, bf_json_find(&a.json, hard, "pieces_per_h"), "mid"), 38.5, 1e-12);
    double mass = number_at(&a, bf_json_find(&a.json, hard, "mass_kg"), "nominal");
    BF_CHECK_REL(number_at(&a, bf_json_find(&a.json, hard, "left_kg"), "nominal"), 0.2 - mass, 1e-12);
    BF_CHECK_ABS(number_at(&a, soft, "put_ins"), 7, 0);
    assert_int_equal(bf_json_find(&a.json, soft, "enough_frac"), -1);
    drop(&a);
}

/* a_plan with the text `with` put behind the first `at`. */
static char *changed(const char *at, const char *with) {
    char *request = malloc(sizeof a_plan + 512);
    const char *place = strstr(a_plan, at);
    assert_non_null(place);
    place += strlen(at);
    sprintf(request, "%.*s%s%s", (int)(place - a_plan), a_plan, with, place);
    return request;
}

/* Keys of the plan format that nothing reads yet, and things of the kit that no line uses. */
static void what_nothing_reads_changes_nothing(void **state) {
    (void)state;
    static const char head[] =
        "{\"schema\":1,\"nominal\":true,\"name\":\"a\",\"venue\":{\"name\":\"Withy "
        "Pool\",\"lat_deg\":52,\"rules\":[]},\"kit\":{\"rigs\":[{\"id\":\"r\",\"shots\":[]}],"
        "\"elastics\":[],\"hook_baits\":[]},\"session\":{\"hours\":2,\"species\":[],"
        "\"objective\":\"weight\",\"target_kg\":5},";
    static const char rest[] = "\"spots\":[{\"id\":\"a\",\"name\":\"the a\",\"depth\":1,\"rig\":\"middle\"}],"
                               "\"feed\":[{\"spot\":\"a\",\"bait\":\"hard-4\",\"every\":600}]}";
    char with_all[1024], without[1024];
    snprintf(with_all, sizeof with_all, "%s%s", head, rest);
    snprintf(without, sizeof without, "{\"nominal\":true,\"session\":{\"hours\":2},%s", rest);
    answer a = ask(with_all), plain = ask(without);
    assert_int_equal(a.status, BF_OK);
    assert_same_member(&plain, &a, "feed");
    assert_same_member(&plain, &a, "baits");
    assert_same_member(&plain, &a, "spots");
    drop(&a);
    drop(&plain);
}

static void every_bad_plan_names_its_place(void **state) {
    (void)state;
    static const struct {
        const char *at, *with;
        bf_status status;
        const char *field;
    } cases[] = {
        {"{", "\"colour\":1,", BF_E_KEY, "colour"},
        {"\"kit\":{", "\"colour\":1,", BF_E_KEY, "kit.colour"},
        {"{\"id\":\"small\",", "\"colour\":1,", BF_E_KEY, "kit.pots[0].colour"},
        {"{\"id\":\"long\",", "\"colour\":1,", BF_E_KEY, "spots[0].colour"},
        {"\"feed\":[{", "\"colour\":1,", BF_E_KEY, "feed[0].colour"},
        {"\"session\":{", "\"colour\":1,", BF_E_KEY, "session.colour"},
        {"{", "\"schema\":2,", BF_E_RANGE, "schema"},
        {"\"feed\":[{", "\"count\":4,", BF_E_TWICE, "feed[0].fill"},
        {"\"feed\":[{", "\"from\":\"2 h\",", BF_E_RANGE, "feed[0].to_s"},
        {"\"feed\":[{", "\"wide\":\"3 kg\",", BF_E_UNIT, "feed[0].wide_m"},
        {"\"feed\":[", "{\"spot\":\"short\",\"bait\":\"hard-4\"},", BF_E_CHOICE, "feed[0].spot"},
        {"\"feed\":[", "{\"spot\":\"long\",\"bait\":\"hard-5\"},", BF_E_CHOICE, "feed[0].bait"},
        {"\"feed\":[", "{\"spot\":\"long\"},", BF_E_MISSING, "feed[0].bait"},
        {"\"box\":[", "{\"bait\":\"hard-4\",\"count\":3},", BF_E_TWICE, "box[1].bait"},
        {"\"box\":[", "{\"bait\":\"soft two\"},", BF_E_MISSING, "box[0].mass_kg"},
        {"\"spots\":[", "{\"id\":\"short\",\"depth\":\"300 m\"},", BF_E_RANGE, "spots[0].depth_m"},
        {"\"spots\":[", "{\"id\":\"short\",\"depth\":\"1 m\",\"pot\":\"huge\"},", BF_E_CHOICE,
         "spots[0].pot"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char *request = changed(cases[i].at, cases[i].with), field[128];
        answer a = ask(request);
        int error = bf_json_find(&a.json, 0, "error");
        assert_true(error >= 0);
        assert_int_equal(bf_json_string(&a.json, bf_json_find(&a.json, error, "field"), field, sizeof field),
                         BF_OK);
        assert_string_equal(field, cases[i].field);
        assert_int_equal(a.status, cases[i].status);
        free(request);
        drop(&a);
    }
}

static void more_draws_than_fit_are_refused(void **state) {
    (void)state;
    answer a = ask("{\"draws\":4097,\"spots\":[{\"id\":\"a\",\"depth\":1}],\"feed\":[{\"spot\":\"a\","
                   "\"bait\":\"hard-4\"}]}");
    assert_int_equal(a.status, BF_E_RANGE);
    drop(&a);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_answer_does_not_depend_on_the_cut),
        cmocka_unit_test(the_inputs_asked_again_give_the_same_answer),
        cmocka_unit_test(amounts_are_what_the_plan_says),
        cmocka_unit_test(what_nothing_reads_changes_nothing),
        cmocka_unit_test(every_bad_plan_names_its_place),
        cmocka_unit_test(more_draws_than_fit_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
