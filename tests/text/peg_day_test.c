/* peg: the place, the rig and the first half hour at the drawn peg. Which rig holds is tested in tests/plan and tests/tackle. */
#include "answered.h"

#define PLAN                                                                                                 \
    "\"plan\":{\"kit\":{\"rigs\":[{\"id\":\"coarse\",\"float\":{\"rating\":\"1.5 g\",\"bristle\":\"1.6 "     \
    "mm\"}},"                                                                                                \
    "{\"id\":\"middle\"},{\"id\":\"fine\",\"float\":{\"rating\":\"0.1 g\",\"bristle\":\"0.8 mm\"}}]},"       \
    "\"water\":{\"temp\":\"12 C\",\"wind\":\"1 m/s\",\"wind_side\":\"90 deg\"},"                             \
    "\"spots\":[{\"id\":\"near\",\"depth\":\"1 m\",\"distance\":\"5 m\",\"hook_bait\":\"hard-6\"},"          \
    "{\"id\":\"far\",\"depth\":\"1.6 m\",\"distance\":\"11 m\",\"hook_bait\":\"hard-6\"}],"                  \
    "\"feed\":[{\"spot\":\"near\",\"bait\":\"hard-4\",\"count\":10,\"every\":\"10 min\"},"                   \
    "{\"spot\":\"far\",\"bait\":\"micros-2\"},"                                                              \
    "{\"spot\":\"near\",\"bait\":\"micros-2\",\"fill\":0.5,\"how\":\"sprinkle\",\"from\":\"5 min\"}]}"

#define FLAT                                                                                                 \
    "\"plumbed\":[{\"id\":\"near\",\"distance\":\"5 m\",\"depth\":\"1.5 m\"},"                               \
    "{\"id\":\"far\",\"distance\":\"11 m\",\"depth\":\"1.55 m\"}]"
#define SHELF                                                                                                \
    "\"plumbed\":[{\"id\":\"ledge\",\"distance\":\"2.5 m\",\"depth\":\"0.6 m\"},"                            \
    "{\"id\":\"near\",\"distance\":\"5 m\",\"depth\":\"1.35 m\"},"                                           \
    "{\"id\":\"far\",\"distance\":\"11.5 m\",\"depth\":\"1.62 m\"}]"

static answered asked(const char *rest) {
    char request[4096];
    snprintf(request, sizeof request, "{\"nominal\":true," PLAN ",%s}", rest);
    return answered_ask("peg", request);
}

/* day.h: the foot of the shelf; without one, be it flat or rising, the farthest; cold water, the deepest. */
static void the_place_is_chosen_and_said_why(void **state) {
    (void)state;
    answered shelf = asked(SHELF), flat = asked(FLAT), cold = asked(SHELF ",\"temp_c\":\"5 C\"");
    answered rising = asked(
        "\"plumbed\":[{\"distance\":\"5 m\",\"depth\":\"2 m\"},{\"distance\":\"11 m\",\"depth\":\"0.6 m\"}]");
    assert_string_equal(answered_text(&shelf, "spot.spot"), "near");
    assert_string_equal(answered_text(&shelf, "spot.text"), "Fish near, off the shelf.");
    assert_string_equal(answered_text(&shelf, "shelf.text"), "from 60 cm at ledge down to 1.35 m at near");
    assert_string_equal(answered_text(&flat, "spot.spot"), "far");
    assert_false(answered_has(&flat, "shelf"));
    assert_string_equal(answered_text(&rising, "spot.why"),
                        "No shelf was plumbed: the farthest place disturbs them least.");
    assert_string_equal(answered_text(&cold, "spot.spot"), "far");
    assert_non_null(strstr(answered_text(&cold, "spot.why"), "5 C"));
    BF_CHECK_ABS(answered_number(&shelf, "rig.set_m"), 1.37, 1e-12);
    answered_free(&shelf);
    answered_free(&flat);
    answered_free(&rising);
    answered_free(&cold);
}

/* A place of no name in the plan is fished as the nearest of the plan's spots. */
static void a_new_place_is_fished_as_the_nearest_spot(void **state) {
    (void)state;
    answered a = asked("\"plumbed\":[{\"id\":\"hole\",\"distance\":\"9 m\",\"depth\":\"2 m\"}]");
    assert_string_equal(answered_text(&a, "spot.spot"), "far");
    assert_string_equal(answered_text(&a, "spot.place"), "hole");
    BF_CHECK_ABS(answered_number(&a, "rig.set_m"), 2.02, 1e-12);
    answered_free(&a);
}

static void of_the_rigs_carried_one_is_taken_and_each_other_has_a_reason(void **state) {
    (void)state;
    answered a = asked(FLAT);
    assert_non_null(strstr(answered_text(&a, "rig.text"), "of the three you carry"));
    assert_int_equal(answered_count(&a, "rig.why_not"), 2);
    assert_true(answered_text(&a, "rig.why")[0] != 0);
    const char *id = answered_text(&a, "rig.id");
    for (int i = 0; i < 2; i++) {
        char path[32];
        snprintf(path, sizeof path, "rig.why_not[%d]", i);
        const char *text = answered_text(&a, path);
        assert_null(strchr(text, '{'));
        assert_true(strncmp(text, id, strlen(id)) != 0);
    }
    answered_free(&a);
}

/* The plan without rigs: the set for its unknown peg is carried; without that one is suggested. */
static void without_rigs_one_is_made_or_suggested(void **state) {
    (void)state;
    static const char rest[] = "{\"nominal\":true,\"plan\":{\"spots\":[{\"id\":\"near\",\"depth\":\"1 m\"}],"
                               "\"water\":{\"wind\":\"1 m/s\",\"wind_side\":\"90 deg\"},"
                               "\"feed\":[{\"spot\":\"near\",\"bait\":\"hard-4\",\"count\":10}]%s},"
                               "\"plumbed\":[{\"distance\":\"8 m\",\"depth\":\"1.1 m\"}]}";
    char request[1024];
    snprintf(request, sizeof request, rest, "");
    answered a = answered_ask("peg", request);
    assert_int_equal(bf_json_kind_of(&a.json, answered_at(&a, "rig.is_suggested")), BF_JSON_TRUE);
    assert_non_null(strstr(answered_text(&a, "rig.text"), "suggested"));
    answered_free(&a);
    snprintf(request, sizeof request, rest,
             ",\"unknown_peg\":{\"depth_least\":\"1 m\",\"depth_most\":\"1.2 m\",\"wind_most\":\"2 m/s\"}");
    a = answered_ask("peg", request);
    assert_non_null(strstr(answered_text(&a, "rig.text"), "you carry"));
    assert_true(answered_number(&a, "rig.record.float.rating_kg") > 0);
    answered_free(&a);
}

/* The rigs that the plan of the evening named are those that are carried, in its order, though the water turns out colder, the
 * wind another, and another spot is fished with another bait. */
static void the_set_that_is_carried_is_the_one_the_plan_named(void **state) {
    (void)state;
    static const char plan[] =
        "{\"draws\":16,\"spots\":[{\"id\":\"near\",\"depth\":\"1 m\",\"distance\":\"5 "
        "m\",\"hook_bait\":\"hard-4\"},"
        "{\"id\":\"far\",\"depth\":\"1.6 m\",\"distance\":\"11 m\",\"hook_bait\":\"hard-8\"}],"
        "\"water\":{\"temp\":\"18 C\",\"wind\":\"1 m/s\",\"wind_side\":\"90 deg\"},"
        "\"unknown_peg\":{\"depth_least\":\"0.8 m\",\"depth_most\":\"1.8 m\",\"wind_most\":\"5 m/s\"},"
        "\"feed\":[{\"spot\":\"near\",\"bait\":\"hard-4\",\"count\":10}]";
    char request[2048];
    snprintf(request, sizeof request, "%s}", plan);
    answered planned = answered_ask("plan", request);
    snprintf(
        request, sizeof request,
        "{\"nominal\":true,\"plan\":%s},\"plumbed\":[{\"id\":\"far\",\"distance\":\"11 m\",\"depth\":\"1.5 "
        "m\"}],\"temp_c\":\"4 C\",\"wind\":\"brisk\",\"wind_side\":\"left\"}",
        plan);
    answered peg = answered_ask("peg", request);
    int n = answered_count(&planned, "unknown_peg.rigs"), at = 0;
    assert_true(n > 1);
    assert_int_equal(answered_count(&peg, "rig.why_not"), n - 1);
    for (int i = 0; i < n; i++) {
        char path[48], other[48];
        snprintf(path, sizeof path, "unknown_peg.rigs[%d].title", i);
        snprintf(other, sizeof other, "rig.why_not[%d]", at);
        const char *title = answered_text(&planned, path);
        at += at < n - 1 && strncmp(answered_text(&peg, other), title, strlen(title)) == 0;
    }
    assert_int_equal(at, n - 1); /* all but the one that is taken, one after the other */
    answered_free(&planned);
    answered_free(&peg);
}

/* What the plan packs besides the kit's own rigs is carried, too: over 1.2 m in 2.5 m/s a rig of 4 g is not the lightest that holds, and
 * a rig made for 1.2 m at most is not asked of 1.6 m. */
static void rigs_made_for_the_unknown_peg_are_carried_beside_the_kits(void **state) {
    (void)state;
    static const char plan[] =
        "{\"draws\":16,\"kit\":{\"rigs\":[{\"id\":\"anchor\",\"float\":{\"rating\":\"4 g\"}}]},"
        "\"spots\":[{\"id\":\"near\",\"depth\":\"1 m\",\"rig\":\"anchor\"}],"
        "\"water\":{\"wind\":\"2.5 m/s\",\"wind_side\":\"90 deg\"},"
        "\"unknown_peg\":{\"depth_least\":\"0.8 m\",\"depth_most\":\"1.2 m\",\"wind_most\":\"4 m/s\"},"
        "\"feed\":[{\"spot\":\"near\",\"bait\":\"hard-4\",\"count\":10}]}";
    char request[2048];
    answered planned = answered_ask("plan", plan);
    int n = answered_count(&planned, "unknown_peg.rigs");
    assert_true(n >= 1);
    for (int deep = 0; deep < 2; deep++) {
        snprintf(request, sizeof request,
                 "{\"nominal\":true,\"plan\":%s,\"plumbed\":[{\"distance\":\"11 m\",\"depth\":\"%s\"}]}",
                 plan, deep ? "1.6 m" : "1.1 m");
        answered peg = answered_ask("peg", request);
        assert_int_equal(answered_count(&peg, "rig.why_not"), n);
        assert_int_equal(strncmp(answered_text(&peg, "rig.text"), "rig 1 ", 6) == 0, deep);
        assert_int_equal(strncmp(answered_text(&peg, "rig.why"), "Made ", 5) == 0, !deep);
        if (deep)
            assert_non_null(strstr(answered_text(&peg, "rig.why_not[0]"), "cannot be set to"));
        else
            assert_int_equal(strncmp(answered_text(&peg, "rig.why_not[0]"), "anchor: ", 8), 0);
        answered_free(&peg);
    }
    answered_free(&planned);
}

/* One line alone would fill the half hour: what goes in besides is told as well, in order of time. */
static void of_very_many_put_ins_the_earliest_are_told(void **state) {
    (void)state;
    answered a = answered_ask(
        "peg", "{\"nominal\":true,\"plan\":{\"spots\":[{\"id\":\"near\",\"depth\":\"1 m\"}],"
               "\"feed\":[{\"spot\":\"near\",\"bait\":\"hard-4\",\"count\":10,\"every\":\"10 s\"},"
               "{\"spot\":\"near\",\"bait\":\"micros-2\",\"from\":\"1 min\"}]},"
               "\"plumbed\":[{\"distance\":\"8 m\",\"depth\":\"1.1 m\"}]}");
    int n = answered_count(&a, "half_hour"), n_micros = 0;
    assert_int_equal(n, 64);
    for (int i = 0; i < n; i++) {
        char path[32];
        snprintf(path, sizeof path, "half_hour[%d].at_s", i);
        BF_CHECK_ABS(answered_number(&a, path), i < 7 ? 10 * i : 10 * (i - 1), 0);
        snprintf(path, sizeof path, "half_hour[%d].text", i);
        n_micros += strstr(answered_text(&a, path), "micros") != NULL;
    }
    assert_int_equal(n_micros, 1);
    answered_free(&a);
}

/* Counted by hand: 10, 20 and 30 minutes and the start, and half a pot at 5 minutes. */
static void the_first_half_hour_is_the_plans(void **state) {
    (void)state;
    answered a = asked(SHELF);
    static const double at_s[] = {0, 300, 600, 1200, 1800};
    assert_int_equal(answered_count(&a, "half_hour"), 5);
    for (int i = 0; i < 5; i++) {
        char path[32];
        snprintf(path, sizeof path, "half_hour[%d].at_s", i);
        BF_CHECK_ABS(answered_number(&a, path), at_s[i], 0);
    }
    assert_string_equal(answered_text(&a, "first_feed.bait"), "hard-4");
    assert_string_equal(answered_text(&a, "first_feed.text"), "10 hard 4 mm pellets, tipped");
    assert_string_equal(answered_text(&a, "half_hour[1].text"), "0.5 pot of soft 2 mm micros, shaken out");
    answered_free(&a);
}

static void wind_is_told_in_words_or_as_a_speed(void **state) {
    (void)state;
    answered words = asked(FLAT ",\"wind\":\"light\",\"wind_side\":\"left\"");
    answered speed =
        asked(FLAT ",\"wind\":\"2.5 m/s give or take 1 m/s\",\"wind_side\":\"90 deg give or take 35 deg\"");
    answered plans = asked(FLAT);
    answered_same(&words, &speed, "rig");
    assert_true(answered_number(&words, "rig.off_m.nominal") != answered_number(&plans, "rig.off_m.nominal"));
    answered_free(&words);
    answered_free(&speed);
    answered_free(&plans);
}

static void whole_answers_do_not_depend_on_the_cut(void **state) {
    (void)state;
    static const char request[] =
        "{\"draws\":16," PLAN "," FLAT ",\"peg\":\"22\",\"pictures\":[\"section\"]}";
    answered whole = answered_ask("peg", request), cut = answered_cut("peg", request, 11);
    assert_string_equal(whole.text, cut.text);
    assert_string_equal(answered_text(&whole, "peg"), "22");
    assert_true(answered_has(&whole, "wait_s.mid"));
    answered_same(&whole, &whole, "chance");
    // Of the feed only what is worked out is said: how wide it lies, not when it is down.
    assert_true(answered_has_cell(&whole, "pictures.section.table", "Feed, 9 in 10 outward"));
    assert_false(answered_has_cell(&whole, "pictures.section.table", "Feed, 9 in 10 down"));
    assert_true(answered_has_note(&whole, "notes", "power-lines"));
    assert_true(answered_has_note(&whole, "notes", "rules-of-thumb"));
    answered_free(&whole);
    answered_free(&cut);
}

static void every_bad_request_names_its_place(void **state) {
    (void)state;
    static const struct {
        const char *rest, *field, *begins;
    } cases[] = {
        {PLAN, "plumbed", "plumbed is missing; accepted is 1 to 6 plumbed places."},
        {FLAT, "plan", "plan is missing; accepted is a plan."},
        {"\"plan\":5," FLAT, "plan",
         "plan is 5, which has the wrong type; accepted is a plan, as an object."},
        {"\"plan\":{}," FLAT, "plan.feed", "plan.feed is missing; accepted is 1 to 32 lines of feed."},
        {"\"plan\":{\"kit\":{\"rigs\":[{\"id\":\"a\",\"shots\":[{\"above_hook\":-1}]}]}}," FLAT,
         "plan.kit.rigs[0].shots[0].above_hook_m",
         "plan.kit.rigs[0].shots[0].above_hook_m is -1 m; accepted is "},
        {PLAN ",\"plumbed\":[{\"depth\":\"1 m\"}]", "plumbed[0].distance_m",
         "plumbed[0].distance_m is missing; accepted"},
        {PLAN ",\"plumbed\":[{\"distance\":\"1 m\"}]", "plumbed[0].depth_m",
         "plumbed[0].depth_m is missing; accepted"},
        {PLAN "," FLAT ",\"wind\":\"gale\"", "wind", "wind is \"gale\""},
        {PLAN "," FLAT ",\"wind\":\"90 m/s\"", "wind", "wind is \"90 m/s\""},
        {PLAN "," FLAT ",\"peg\":14", "peg", "peg is 14, which has the wrong type; accepted is text."},
        {PLAN "," FLAT ",\"tide\":1", "tide", "tide is not a key known here; accepted is plumbed, "},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char request[4096];
        snprintf(request, sizeof request, "{%s}", cases[i].rest);
        answered_refused("peg", request, cases[i].field, cases[i].begins);
    }
}

static void a_place_beyond_the_pole_is_not_fished(void **state) {
    (void)state;
    static const char head[] = "{\"nominal\":true,\"plan\":{\"pole\":\"6 m\",";
    char request[4096];
    const char *rest = strchr(PLAN, '{') + 1;
    snprintf(request, sizeof request, "%s%s," FLAT "}", head, rest);
    answered a = answered_ask("peg", request);
    assert_string_equal(answered_text(&a, "spot.spot"), "near");
    answered_free(&a);
    snprintf(request, sizeof request, "%s%s,\"plumbed\":[{\"distance\":\"9 m\",\"depth\":\"2 m\"}]}", head,
             rest);
    answered_refused("peg", request, "plumbed",
                     "plumbed is outside the accepted range; accepted is a place within reach");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_place_is_chosen_and_said_why),
        cmocka_unit_test(a_new_place_is_fished_as_the_nearest_spot),
        cmocka_unit_test(of_the_rigs_carried_one_is_taken_and_each_other_has_a_reason),
        cmocka_unit_test(without_rigs_one_is_made_or_suggested),
        cmocka_unit_test(the_set_that_is_carried_is_the_one_the_plan_named),
        cmocka_unit_test(rigs_made_for_the_unknown_peg_are_carried_beside_the_kits),
        cmocka_unit_test(of_very_many_put_ins_the_earliest_are_told),
        cmocka_unit_test(the_first_half_hour_is_the_plans),
        cmocka_unit_test(wind_is_told_in_words_or_as_a_speed),
        cmocka_unit_test(whole_answers_do_not_depend_on_the_cut),
        cmocka_unit_test(every_bad_request_names_its_place),
        cmocka_unit_test(a_place_beyond_the_pole_is_not_fished),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
