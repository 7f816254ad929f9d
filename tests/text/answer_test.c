/* answer_test.c -- the answer function from outside: every error's sentence, every command cut in any way. */
#include "common/json_at.h"

#include "baitfall/answer.h"
#include "baitfall/bait.h"
#include "baitfall/json.h"

#define OUT_MOST (4u << 20)
#define TOKENS (1 << 17)

static char out[OUT_MOST], other[OUT_MOST];

/* Work memory full of rubbish: nothing may depend on what it held. */
static void *work_for(const char *command) {
    size_t n = bf_work_bytes(command);
    void *work = aligned_alloc(16, n);
    assert_non_null(work);
    memset(work, 0xA5, n < (8u << 20) ? n : 8u << 20);
    return work;
}

static bf_status answer_n(const char *command, const char *request, size_t n) {
    size_t n_out;
    void *work = work_for(command);
    bf_status status = bf_answer(work, command, request, n, out, sizeof out, &n_out);
    assert_int_equal((int)strlen(out), (int)n_out);
    free(work);
    return status;
}

static bf_status answer(const char *command, const char *request) {
    return answer_n(command, request, strlen(request));
}

/* ---- Looking into an answer ---- */

static bf_json json;

static void read_out(void) {
    static char *memory;
    bf_json_fault fault;
    if (!memory) memory = malloc(bf_json_bytes(TOKENS));
    if (bf_json_read(out, strlen(out), memory, TOKENS, &json, &fault))
        fail_msg("%s at %zu in %.2000s", fault.wanted, fault.at, out);
}

static int at(const char *path) {
    return json_at(&json, path);
}

static const char *text_at(const char *path) {
    return json_text_at(&json, path);
}

static double number_at(const char *path) {
    return json_number_at(&json, path);
}

/* ---- Errors ---- */

#define BAITS                                                                                                \
    "micros-2, hard-3, hard-4, hard-6, hard-8, expander-4, expander-6, maggot, caster, sweetcorn, hemp, "    \
    "meat-6, worm"
#define DEEP(value) "{\"bait\":\"hard-4\",\"water\":{\"depth\":" value "}}"
#define WITH(more) "{\"bait\":\"hard-4\",\"water\":{\"depth\":1}," more "}"
#define LENGTHS " (mm, cm, m, in or ft)"

typedef struct bad {
    const char *command, *request, *code, *field, *text;
} bad;

static const bad bad_requests[] = {
    // Negative, too deep, not a number.
    {"fall", DEEP("-1"), "range", "water.depth_m", "water.depth_m is -1 m; accepted is 5 cm to 12 m."},
    {"fall", DEEP("300"), "range", "water.depth_m", "water.depth_m is 300 m; accepted is 5 cm to 12 m."},
    {"fall", DEEP("\"300 m\""), "range", "water.depth_m",
     "water.depth_m is 300 m; accepted is 5 cm to 12 m."},
    {"fall", DEEP("\"NaN\""), "syntax", "water.depth_m",
     "water.depth_m is \"NaN\", which is not well-formed; accepted is 5 cm to 12 m" LENGTHS "."},
    {"fall", DEEP("NaN"), "syntax", "",
     "The request is not well-formed: at byte 35 there should be a value."},
    {"fall", DEEP("1e999"), "not-finite", "water.depth_m",
     "water.depth_m is 1e999, which is not a finite number; accepted is 5 cm to 12 m."},
    // Wrong unit, no unit, wrong type.
    {"fall", DEEP("\"1.5 kg\""), "unit", "water.depth_m",
     "water.depth_m is \"1.5 kg\", which has the wrong unit; accepted is 5 cm to 12 m" LENGTHS "."},
    {"fall", DEEP("\"1.5\""), "unit", "water.depth_m",
     "water.depth_m is \"1.5\", which has the wrong unit; accepted is 5 cm to 12 m" LENGTHS "."},
    {"fall", DEEP("true"), "type", "water.depth_m",
     "water.depth_m is true, which has the wrong type; accepted is 5 cm to 12 m" LENGTHS "."},
    {"fall", DEEP("[1.5]"), "type", "water.depth_m",
     "water.depth_m is an array, which has the wrong type; accepted is 5 cm to 12 m" LENGTHS "."},
    {"fall", "{\"bait\":\"hard-4\",\"water\":7}", "type", "water",
     "water is 7, which has the wrong type; accepted is an object."},
    {"fall", "{\"bait\":7}", "type", "bait",
     "bait is 7, which has the wrong type; accepted is an object or an id."},
    {"fall", WITH("\"seed\":1.5"), "type", "seed",
     "seed is 1.5, which has the wrong type; accepted is a whole number."},
    // Keys: unknown, twice in any of four ways, missing.
    {"fall", "{\"bait\":\"hard-4\",\"watr\":{}}", "key", "watr",
     "watr is not a key known here; accepted is bait, water, pot, counted, soak, sling, put, "
     "hook_bait, rig, hold, aim, kit, seed, draws, look, pictures."},
    {"fall", "{\"bait\":\"hard-4\",\"put\":{\"cuont\":1}}", "key", "put.cuont", NULL},
    {"fall", WITH("\"kit.baits\":[]"), "key", "kit.baits", NULL},
    {"fall", "{\"bait\":\"hard-4\",\"water\":{\"depth\":1,\"depth\":1}}", "twice", "water.depth",
     "water.depth is given twice; accepted is each key once."},
    {"fall", "{\"bait\":\"hard-4\",\"water\":{\"depth\":1,\"depth_m\":1}}", "twice", "water.depth_m",
     "water.depth_m is given twice; accepted is one value."},
    {"fall", WITH("\"spot\":{\"depth\":2}"), "twice", "water.depth_m",
     "water.depth_m is given twice; accepted is one value."},
    {"fall", "{\"bait\":\"hard-4\",\"water\":{\"depth\":\"1 m give or take 1 cm\",\"depth_pm\":0.1}}",
     "twice", "water.depth_pm_m", "water.depth_pm_m is given twice; accepted is one value."},
    {"fall", "{\"bait\":\"hard-4\",\"water\":{}}", "missing", "water.depth_m",
     "water.depth_m is missing; accepted is 5 cm to 12 m."},
    {"fall", "{\"bait\":\"hard-4\",\"water\":{\"depth_pm\":0.1}}", "missing", "water.depth_m",
     "water.depth_m is missing; accepted is 5 cm to 12 m."},
    {"fall", "{\"water\":{\"depth\":1}}", "missing", "bait",
     "bait is missing; accepted is " BAITS ", groundbait, an id of the kit or an object."},
    // Give or take.
    {"fall", "{\"bait\":\"hard-4\",\"water\":{\"depth\":1,\"depth_pm\":-0.1}}", "range", "water.depth_pm_m",
     "water.depth_pm_m is -0.1; accepted is 0 m to 11.95 m."},
    {"fall", "{\"bait\":\"hard-4\",\"water\":{\"depth\":1,\"depth_pm\":100}}", "range", "water.depth_pm_m",
     "water.depth_pm_m is 100 m; accepted is 0 m to 11.95 m."},
    {"fall", WITH("\"put\":{\"count\":\"5 give or take 1\"}"), "type", "put.count", NULL},
    // Words and names.
    {"fall", "{\"bait\":\"hrad-4\"}", "choice", "bait",
     "bait is \"hrad-4\", which is not one of the words known here; accepted is " BAITS " or groundbait."},
    {"fall", "{\"bait\":{\"id\":\"hrad-4\"}}", "choice", "bait.id",
     "bait.id is \"hrad-4\", which is not one of the words known here; accepted is " BAITS " or groundbait."},
    {"fall", "{\"bait\":{\"form\":\"round\"}}", "choice", "bait.form",
     "bait.form is \"round\", which is not one of the words known here; accepted is sphere, cylinder, lens, "
     "cube or ball."},
    {"fall", WITH("\"pot\":\"medum\""), "choice", "pot",
     "pot is \"medum\", which is not one of the words known here; accepted is small, medium or large."},
    {"fall", WITH("\"look\":\"night\""), "choice", "look",
     "look is \"night\", which is not one of the words known here; accepted is shade, sun or dusk."},
    {"spread", WITH("\"pictures\":[\"below\"]"), "choice", "pictures",
     "pictures is \"below\", which is not one of the words known here; accepted is above, side or "
     "section."},
    {"form", "{\"section\":\"reel\"}", "choice", "section",
     "section is \"reel\", which is not one of the words known here; accepted is bait, water, spot, pot, "
     "counted, soak, "
     "sling, put, rig, line, hooklength, hook, float, elastic, shot, back_shot, hold, aim, feeding, plan, "
     "spot_use, feed, box, session, nets, unknown_peg, drop, count, weigh, throws, tube, pull, break, heap, "
     "ring, trial or body."},
    // The kit.
    {"fall", WITH("\"kit\":{\"baits\":[{\"id\":\"a\"},{\"id\":\"a\"}]}"), "twice", "kit.baits[1].id",
     "kit.baits[1].id is \"a\", which is given twice; accepted is each id once."},
    {"fall", WITH("\"kit\":{\"baits\":[{\"id\":\"\"}]}"), "missing", "kit.baits[0].id", NULL},
    {"fall", WITH("\"kit\":{\"baits\":[{},{\"density\":\"7 g/cm3\"}]}"), "range",
     "kit.baits[1].density_kg_m3",
     "kit.baits[1].density_kg_m3 is 7000 kg/m3; accepted is 300 kg/m3 to 3000 kg/m3."},
    {"fall", WITH("\"kit\":{\"pots\":[{},{},{},{},{},{},{},{},{}]}"), "count", "kit.pots[8]",
     "kit.pots[8] is one too many; accepted is up to 8 rows."},
    {"fall", WITH("\"kit\":{\"pots\":{}}"), "type", "kit.pots",
     "kit.pots is an object, which has the wrong type; accepted is an array of objects."},
    {"fall", WITH("\"kit\":{\"pots\":[{\"id\":\"a\",\"was\":1}]}"), "type", "kit.pots[0].was", NULL},
    // Sections that the command does not read are checked all the same.
    {"fall", WITH("\"soak\":{\"temp\":\"70 C\"}"), "range", "soak.temp_c",
     "soak.temp_c is 70 C; accepted is 0 C to 60 C."},
    {"fall", WITH("\"draws\":1"), "range", "draws", "draws is 1; accepted is 16 to 65536."},
    {"fall", WITH("\"seed\":-1"), "range", "seed", NULL},
    // Text that is no JSON.
    {"fall", "", "syntax", "", "The request is not well-formed: at byte 1 there should be an object."},
    {"fall", "{\"bait\":\"hard-4\"", "syntax", "",
     "The request is not well-formed: at byte 17 there should be a comma or }."},
    {"fall", "{\"bait\":\"hard-4\"} x", "syntax", "",
     "The request is not well-formed: at byte 19 there should be the end."},
    {"fall", "{\"bait\":\"\xff\"}", "syntax", "",
     "The request is not well-formed: at byte 10 there should be valid UTF-8."},
    {"fall", "{\"bait\":[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]}", "space", "",
     "The request is too much: at byte 24 it passes what is accepted, nesting of at most "
     "16."},
    // Plans.
    {"plan",
     "{\"spots\":[{\"id\":\"long\",\"depth\":1}],\"feed\":[{\"spot\":\"short\",\"bait\":\"hard-4\"}]}",
     "choice", "feed[0].spot",
     "feed[0].spot is \"short\", which is not one of the words known here; accepted is long."},
    {"plan",
     "{\"spots\":[{\"id\":\"long\",\"depth\":1}],\"feed\":[{\"spot\":\"long\",\"bait\":\"hard-4\"},{\"spot\":"
     "\"long\","
     "\"bait\":\"hard-4\",\"count\":0}]}",
     "range", "feed[1].count", "feed[1].count is 0; accepted is 1 to 100000."},
    // Measurements.
    {"measure", "{\"what\":\"drop\",\"date\":\"2026-04-31x\",\"bait\":\"hard-4\"}", "syntax", "date", NULL},
    {"measure", "{\"what\":\"drop\",\"date\":\"2026-04-11\",\"bait\":\"hard-4\",\"height\":\"30 cm\"}",
     "missing", "time_s", NULL},
    {"measure", "{\"what\":\"drop\",\"date\":\"2026-04-11\",\"height\":\"30 cm\",\"time\":[3.1]}", "missing",
     "bait", NULL},
    {"measure", "{\"date\":\"2026-04-11\"}", "missing", "what",
     "what is missing; accepted is drop, count, soak, throw, float, pull, break, weigh or aim."},
    {"measure",
     "{\"what\":\"drop\",\"date\":\"2026-04-11\",\"bait\":\"hard-4\",\"height\":\"30 cm\",\"time\":[3.1,\"3 "
     "m\"]}",
     "unit", "time_s[1]", NULL},
};

static void every_bad_request_gets_one_exact_sentence(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof bad_requests / sizeof bad_requests[0]; i++) {
        const bad *b = &bad_requests[i];
        bf_status status = answer(b->command, b->request);
        if (!status) fail_msg("%s %s was answered", b->command, b->request);
        read_out();
        if (strcmp(text_at("error/code"), b->code) != 0)
            fail_msg("code %s: %s", text_at("error/code"), b->request);
        assert_string_equal(text_at("error/code"), bf_status_slug(status));
        if (strcmp(text_at("error/field"), b->field) != 0)
            fail_msg("field %s: %s", text_at("error/field"), b->request);
        const char *text = text_at("error/text");
        if (b->text && strcmp(text, b->text) != 0) fail_msg("%s\n%s", text, b->text);
        assert_true(strlen(text) > 10 && text[strlen(text) - 1] == '.');
        if (b->field[0]) assert_true(strncmp(text, b->field, strlen(b->field)) == 0);
    }
}

static void the_offending_value_is_told_to_programs(void **state) {
    (void)state;
    answer("fall", DEEP("-1"));
    read_out();
    BF_CHECK_ABS(number_at("error/value"), -1, 0);
    assert_string_equal(text_at("error/accepted"), "5 cm to 12 m");
    answer("fall", DEEP("\"1.5 kg\""));
    read_out();
    assert_string_equal(text_at("error/value"), "1.5 kg");
    answer("fall", DEEP("\"0123456789012345678901234567890123456789012345678901234567890123456789 m\""));
    read_out();
    assert_string_equal(text_at("error/value"), "01234567890123456789012345678901234567890123...");
}

static void too_long_a_request_is_refused(void **state) {
    (void)state;
    size_t n = BF_JSON_BYTES_MOST + 1;
    char *request = malloc(n);
    memset(request, ' ', n);
    assert_int_equal(answer_n("fall", request, n), BF_E_SPACE);
    read_out();
    assert_string_equal(text_at("error/text"), "The request is too much: at byte 1048577 it passes what "
                                               "is accepted, at most 1048576 bytes.");
    // A flat mebibyte of values is more than a request can mean.
    request[0] = '{';
    size_t at_byte = 1;
    for (int i = 0; at_byte < n - 20; i++)
        at_byte += (size_t)sprintf(request + at_byte, "%s\"k%d\":0", i ? "," : "", i);
    request[at_byte++] = '}';
    assert_int_equal(answer_n("fall", request, at_byte), BF_E_SPACE);
    free(request);
}

static void an_unknown_command_is_named(void **state) {
    (void)state;
    size_t n;
    assert_int_equal((int)bf_work_bytes("fal"), 0);
    assert_int_equal(bf_answer(NULL, "fal", "{}", 2, out, sizeof out, &n), BF_E_CHOICE);
    read_out();
    assert_string_equal(text_at("error/field"), "command");
    assert_string_equal(text_at("error/text"),
                        "There is no command \"fal\"; accepted is fall, pot, soak, throw, spread, rig, "
                        "lay, aim, plan, peg, measure, catalogue or form.");
}

/* ---- One request for each command ---- */

typedef struct question {
    const char *command, *request;
} question;

static const question questions[] = {
    {"fall", "{\"bait\":\"hard-4\",\"water\":{\"depth\":\"1.5m\",\"temp\":\"12C\"},\"draws\":300}"},
    {"pot", "{\"bait\":\"hard-4\",\"counted\":{\"bait\":\"micros-2\",\"count\":400},\"draws\":300}"},
    {"pot", "{\"draws\":50}"},
    {"pot", "{\"bait\":\"hard-4\",\"pot\":\"small\",\"draws\":64}"},
    {"soak", "{\"bait\":\"micros-2\",\"soak\":{\"for\":\"5 min 30 s\"},\"draws\":300}"},
    {"throw", "{\"bait\":\"hard-6\",\"sling\":{\"speed\":\"12 m/s\"},\"draws\":200}"},
    {"spread",
     "{\"bait\":\"hard-4\",\"water\":{\"depth\":\"5ft 3in\",\"wind\":\"3 Beaufort\",\"wind_side\":\"90 deg\","
     "\"drift\":\"wind\"},\"put\":{\"how\":\"sprinkle\"},\"pictures\":[\"above\",\"side\"],\"draws\":130}"},
    {"plan", "{\"spots\":[{\"id\":\"long\",\"depth\":\"1.6 "
             "m\"}],\"feed\":[{\"spot\":\"long\",\"bait\":\"hard-4\",\"count\":15},"
             "{\"spot\":\"long\",\"bait\":\"micros-2\",\"how\":\"sprinkle\"}],\"draws\":40}"},
    {"measure", "{\"what\":\"drop\",\"date\":\"2026-04-11\",\"bait\":\"hard-4\",\"height\":\"30 "
                "cm\",\"vessel\":\"25 cm\","
                "\"time\":[2.6,2.8,2.5]}"},
    {"catalogue", "{}"},
    {"form", "{}"},
};
#define N_QUESTIONS (sizeof questions / sizeof questions[0])

/* Rows from .. to - 1 in n ranges in backward order, each with scratch of its own. */
static void compute_in_ranges(const void *work, int from, int to, int n_ranges, int n_columns, double *rows) {
    for (int r = n_ranges; r-- > 0;) {
        int i = from + (to - from) * r / n_ranges, j = from + (to - from) * (r + 1) / n_ranges;
        size_t scratch_bytes = bf_scratch_bytes(work);
        void *scratch = aligned_alloc(16, (scratch_bytes + 16) / 16 * 16);
        memset(scratch, r, scratch_bytes);
        assert_int_equal(bf_range_rows(work, scratch, i, j, rows + (size_t)i * (size_t)n_columns), BF_OK);
        free(scratch);
    }
}

/* Begin, each round in so many ranges, finish. */
static void answer_in_ranges(const question *q, int n_ranges, char *to, size_t most, size_t *n_to) {
    int n_items, n_columns;
    size_t bytes = bf_state_bytes(q->command);
    void *work = aligned_alloc(16, bytes);
    memset(work, 0x5A, bytes);
    assert_int_equal(bf_begin(work, q->command, q->request, strlen(q->request), &n_items, &n_columns), BF_OK);
    double *rows = malloc(((size_t)n_items * (size_t)n_columns + 1) * sizeof *rows);
    for (int done = 0, next; done < n_items; done = next) {
        next = bf_next(work, rows, done);
        compute_in_ranges(work, done, next, n_ranges, n_columns, rows);
    }
    assert_int_equal(bf_finish(work, rows, to, most, n_to), BF_OK);
    free(rows);
    free(work);
}

static void any_cut_gives_the_same_bytes(void **state) {
    (void)state;
    static const int cuts[] = {1, 2, 8};
    for (size_t i = 0; i < N_QUESTIONS; i++) {
        if (answer(questions[i].command, questions[i].request)) fail_msg("%s: %s", questions[i].request, out);
        for (size_t c = 0; c < sizeof cuts / sizeof cuts[0]; c++) {
            size_t n;
            answer_in_ranges(&questions[i], cuts[c], other, sizeof other, &n);
            if (strcmp(other, out) != 0) fail_msg("%s in %d ranges differs", questions[i].command, cuts[c]);
            assert_int_equal((int)n, (int)strlen(out));
        }
    }
}

static void every_answer_is_json_with_its_schema_and_command(void **state) {
    (void)state;
    for (size_t i = 0; i < N_QUESTIONS; i++) {
        assert_int_equal(answer(questions[i].command, questions[i].request), BF_OK);
        read_out();
        BF_CHECK_ABS(number_at("schema"), 1, 0);
        assert_string_equal(text_at("command"), questions[i].command);
    }
}

static void too_small_a_buffer_is_said_and_not_passed(void **state) {
    (void)state;
    for (size_t i = 0; i < N_QUESTIONS; i++) {
        const question *q = &questions[i];
        assert_int_equal(answer(q->command, q->request), BF_OK);
        size_t whole = strlen(out), n;
        void *work = work_for(q->command);
        static const size_t mosts[] = {1, 2, 20, 400, 1000};
        for (size_t m = 0; m <= sizeof mosts / sizeof mosts[0]; m++) {
            size_t most = m < sizeof mosts / sizeof mosts[0] ? mosts[m] : whole;
            char *small = malloc(most); // the address sanitizer watches its end
            assert_int_equal(bf_answer(work, q->command, q->request, strlen(q->request), small, most, &n),
                             BF_E_SPACE);
            assert_int_equal((int)strlen(small), (int)n);
            // Either nothing, or the error whole.
            if (n) assert_non_null(strstr(small, "\"code\":\"space\""));
            if (most >= 400) assert_true(n > 0);
            free(small);
        }
        char *exact = malloc(whole + 1);
        assert_int_equal(bf_answer(work, q->command, q->request, strlen(q->request), exact, whole + 1, &n),
                         BF_OK);
        assert_string_equal(exact, out);
        free(exact);
        free(work);
    }
}

static void inputs_as_answered_give_the_same_answer(void **state) {
    (void)state;
    for (size_t i = 0; i < N_QUESTIONS; i++) {
        const question *q = &questions[i];
        if (strcmp(q->command, "measure") == 0 || strcmp(q->command, "catalogue") == 0 ||
            strcmp(q->command, "form") == 0 || strstr(q->request, "pictures") || !strstr(q->request, "bait"))
            continue;
        assert_int_equal(answer(q->command, q->request), BF_OK);
        read_out();
        size_t n;
        const char *inputs = bf_json_raw(&json, at("inputs"), &n);
        char *request = malloc(n + 64);
        const char *draws = strstr(q->request, "\"draws\"");
        sprintf(request, "%.*s,%s", (int)n - 1, inputs, draws);
        strcpy(other, out);
        if (answer(q->command, request)) fail_msg("%s: %s", q->command, out);
        assert_string_equal(out, other);
        free(request);
    }
}

/* ---- What answers say ---- */

static void fall_says_time_range_and_where_it_comes_from(void **state) {
    (void)state;
    assert_int_equal(answer("fall", "{\"bait\":\"hard-4\",\"water\":{\"depth\":\"1.5m\",\"temp\":\"12C\"}}"),
                     BF_OK);
    read_out();
    assert_true(number_at("time_s/lo") < number_at("time_s/mid") &&
                number_at("time_s/mid") < number_at("time_s/hi"));
    BF_CHECK_IN(number_at("time_s/nominal"), number_at("time_s/lo"), number_at("time_s/hi"));
    assert_non_null(strstr(text_at("time_s/text"), " s ("));
    assert_string_equal(text_at("inputs/bait/id"), "hard-4");
    BF_CHECK_ABS(number_at("inputs/water/depth_m"), 1.5, 0);
    BF_CHECK_ABS(number_at("inputs/water/depth_pm_m"), 0.05, 0);

    // Shares sum to 1, and "mostly" names the largest.
    char mostly[128];
    strcpy(mostly, text_at("time_s/mostly"));
    double sum = 0, largest = 0;
    int shares = at("shares/time_s");
    for (int key = bf_json_first(&json, shares); key >= 0; key = bf_json_next(&json, key)) {
        double share;
        assert_int_equal(bf_json_number(&json, key + 1, &share), BF_OK);
        BF_CHECK_IN(share, 0, 1);
        sum += share;
        if (share > largest) largest = share;
    }
    double named;
    assert_int_equal(bf_json_number(&json, bf_json_find(&json, shares, mostly), &named), BF_OK);
    BF_CHECK_ABS(sum, 1, 1e-12);
    BF_CHECK_ABS(named, largest, 0);
    assert_true(bf_json_first(&json, at("notes")) >= 0);
}

static void exact_inputs_leave_less_range_than_uncertain_ones(void **state) {
    (void)state;
    double width[2];
    static const char *const requests[] = {
        "{\"bait\":{\"id\":\"hard-4\",\"density\":\"1225 kg/m3 +- 0 kg/m3\"},\"water\":{\"depth\":1.5}}",
        "{\"bait\":{\"id\":\"hard-4\",\"density\":\"don't know\"},\"water\":{\"depth\":1.5}}"};
    for (int i = 0; i < 2; i++) {
        assert_int_equal(answer("fall", requests[i]), BF_OK);
        read_out();
        width[i] = number_at("time_s/hi") - number_at("time_s/lo");
    }
    assert_true(width[0] < 0.5 * width[1]);
    assert_string_equal(text_at("inputs/bait/density_kg_m3"), "don't know");
}

static void a_bait_that_floats_gets_no_time(void **state) {
    (void)state;
    assert_int_equal(answer("fall", "{\"bait\":{\"id\":\"hard-4\",\"density\":900},\"water\":{\"depth\":1}}"),
                     BF_OK);
    read_out();
    assert_string_equal(text_at("time_s/text"), "no answer");
    assert_int_equal(bf_json_kind_of(&json, at("time_s/mid")), BF_JSON_NULL);
    BF_CHECK_IN(number_at("without_answer_frac/time_s"), 0.5, 1.0);
}

static void a_kit_bait_comes_before_the_catalogue(void **state) {
    (void)state;
    assert_int_equal(
        answer("fall", "{\"bait\":\"hard-4\",\"water\":{\"depth\":1},\"kit\":{\"baits\":[{\"id\":\"hard-4\","
                       "\"density\":1180,\"density_pm\":20}]},\"draws\":16}"),
        BF_OK);
    read_out();
    BF_CHECK_ABS(number_at("inputs/bait/density_kg_m3"), 1180, 0);
    // What the kit does not say is the catalogue's.
    const bf_bait *hard_4 = &bf_catalogue[bf_catalogue_find("hard-4", 6)].bait;
    BF_CHECK_ABS(number_at("inputs/bait/diameter_m"), hard_4->diameter_m.value, 0);
}

static void pot_without_a_bait_answers_for_the_catalogue(void **state) {
    (void)state;
    assert_int_equal(answer("pot", "{\"draws\":64}"), BF_OK);
    read_out();
    int n = 0, each = at("each");
    for (int i = bf_json_first(&json, each); i >= 0; i = bf_json_next(&json, i), n++)
        assert_true(bf_json_is(&json, bf_json_find(&json, i, "bait"), bf_catalogue[n].word));
    assert_int_equal(n, bf_n_catalogue);
}

static void spread_draws_both_pictures(void **state) {
    (void)state;
    assert_int_equal(answer("spread", questions[6].request), BF_OK);
    read_out();
    static const char *const pictures[] = {"pictures/above/", "pictures/side/"};
    for (int i = 0; i < 2; i++) {
        char path[64];
        static char svg[1 << 18];
        snprintf(path, sizeof path, "%ssvg", pictures[i]);
        assert_int_equal(bf_json_string(&json, at(path), svg, sizeof svg), BF_OK);
        assert_true(strncmp(svg, "<svg", 4) == 0 && strstr(svg, "</svg>"));
        snprintf(path, sizeof path, "%sfinding", pictures[i]);
        assert_true(strlen(text_at(path)) > 20);
        snprintf(path, sizeof path, "%stable", pictures[i]);
        assert_true(bf_json_first(&json, at(path)) >= 0);
    }
}

static void a_measured_bait_is_narrower_and_keeps_its_old_values(void **state) {
    (void)state;
    static const char request[] =
        "{\"what\":\"drop\",\"date\":\"2026-04-11\",\"bait\":\"hard-4\",\"height\":\"30 cm\",\"vessel\":\"25 "
        "cm\","
        "\"temp\":\"15C\",\"time\":[2.6,2.8,2.5,2.7,2.6,2.9,2.4,2.6,2.7,2.5],"
        "\"kit\":{\"baits\":[{\"id\":\"soft "
        "two\",\"name\":\"Soft\\u0020two\",\"density\":1100}],\"pots\":[{\"id\":\"medium\"}]}}";
    assert_int_equal(answer("measure", request), BF_OK);
    read_out();
    assert_true(number_at("now/bait/density_pm_kg_m3") < 0.6 * number_at("was/bait/density_pm_kg_m3"));
    assert_non_null(strstr(text_at("text"), "bait.density (density of one piece as it goes in) was 12"));

    // The kit: what was there stands as it stood; the new bait has its history.
    double now = number_at("now/bait/density_kg_m3"), was = number_at("was/bait/density_kg_m3"), kept;
    size_t n;
    int first = bf_json_first(&json, at("kit/baits")), second = bf_json_next(&json, first);
    const char *raw = bf_json_raw(&json, first, &n);
    assert_memory_equal(raw, "{\"id\":\"soft two\",\"name\":\"Soft\\u0020two\",\"density\":1100}", n);
    assert_true(bf_json_is(&json, bf_json_find(&json, second, "id"), "hard-4"));
    assert_int_equal(bf_json_number(&json, bf_json_find(&json, second, "density_kg_m3"), &kept), BF_OK);
    BF_CHECK_ABS(kept, now, 0);
    int old = bf_json_first(&json, bf_json_find(&json, second, "was"));
    assert_true(bf_json_is(&json, bf_json_find(&json, old, "until"), "2026-04-11"));
    assert_int_equal(bf_json_number(&json, bf_json_find(&json, old, "density_kg_m3"), &kept), BF_OK);
    BF_CHECK_ABS(kept, was, 0);

    // Measured again with that kit: the row is replaced, and two old values stand in it.
    char *again = malloc(1 << 16);
    const char *kit = bf_json_raw(&json, at("kit"), &n);
    sprintf(again,
            "{\"what\":\"drop\",\"date\":\"2026-05-02\",\"bait\":\"hard-4\",\"height\":\"30 "
            "cm\",\"vessel\":\"25 cm\","
            "\"time\":[2.6,2.7,2.5],\"kit\":%.*s}",
            (int)n, kit);
    assert_int_equal(answer("measure", again), BF_OK);
    free(again);
    read_out();
    BF_CHECK_ABS(number_at("was/bait/density_kg_m3"), now, 0);
    second = bf_json_next(&json, bf_json_first(&json, at("kit/baits")));
    assert_int_equal(bf_json_next(&json, second), -1);
    old = bf_json_first(&json, bf_json_find(&json, second, "was"));
    assert_true(bf_json_is(&json, bf_json_find(&json, bf_json_next(&json, old), "until"), "2026-05-02"));
}

static void weighings_and_times_must_be_as_many(void **state) {
    (void)state;
    assert_int_equal(answer("measure", "{\"what\":\"soak\",\"date\":\"2026-04-11\",\"bait\":\"hard-4\","
                                       "\"dry\":\"20 g\",\"at\":[300,900],\"wet\":[\"25 g\"]}"),
                     BF_E_COUNT);
    read_out();
    assert_string_equal(text_at("error/text"),
                        "wet_kg has 1 value and at_s has 2; accepted is as many of one as of "
                        "the other.");
}

static void readings_that_no_bait_explains_are_refused(void **state) {
    (void)state;
    assert_int_equal(
        answer("measure",
               "{\"what\":\"drop\",\"date\":\"2026-04-11\",\"bait\":\"hard-4\",\"height\":\"30 cm\","
               "\"vessel\":\"25 cm\",\"time\":[0.1,0.1,0.1]}"),
        BF_E_DATA);
    read_out();
    assert_string_equal(text_at("error/code"), "data");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_bad_request_gets_one_exact_sentence),
        cmocka_unit_test(the_offending_value_is_told_to_programs),
        cmocka_unit_test(too_long_a_request_is_refused),
        cmocka_unit_test(an_unknown_command_is_named),
        cmocka_unit_test(any_cut_gives_the_same_bytes),
        cmocka_unit_test(every_answer_is_json_with_its_schema_and_command),
        cmocka_unit_test(too_small_a_buffer_is_said_and_not_passed),
        cmocka_unit_test(inputs_as_answered_give_the_same_answer),
        cmocka_unit_test(fall_says_time_range_and_where_it_comes_from),
        cmocka_unit_test(exact_inputs_leave_less_range_than_uncertain_ones),
        cmocka_unit_test(a_bait_that_floats_gets_no_time),
        cmocka_unit_test(a_kit_bait_comes_before_the_catalogue),
        cmocka_unit_test(pot_without_a_bait_answers_for_the_catalogue),
        cmocka_unit_test(spread_draws_both_pictures),
        cmocka_unit_test(a_measured_bait_is_narrower_and_keeps_its_old_values),
        cmocka_unit_test(weighings_and_times_must_be_as_many),
        cmocka_unit_test(readings_that_no_bait_explains_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
