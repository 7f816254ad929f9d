/* Measurements of tackle and aim as requests: what they narrow, where it is kept, and that it is used from then on. */
#include "baitfall/answer.h"

#include "common/check.h"
#include "common/json_at.h"

#define OUT_MOST (1 << 20)
#define TOKENS (1 << 16)

static char out[OUT_MOST], kit[1 << 16];
static bf_json json;

static bf_status answer(const char *command, const char *request) {
    static void *tokens;
    size_t n_out, n = bf_work_bytes(command);
    bf_json_fault fault;
    void *work = aligned_alloc(16, n);
    if (!tokens) tokens = malloc(bf_json_bytes(TOKENS));
    memset(work, 0xA5, n < (8u << 20) ? n : 8u << 20);
    bf_status status = bf_answer(work, command, request, strlen(request), out, sizeof out, &n_out);
    free(work);
    assert_int_equal(bf_json_read(out, n_out, tokens, TOKENS, &json, &fault), BF_OK);
    if (status) print_message("%s\n", json_text_at(&json, "error/text"));
    return status;
}

/* Measures with the kit as it stands, which is "{}" at first, and keeps what comes back. */
static bf_status measure(const char *what, const char *rest) {
    static char request[1 << 17];
    snprintf(request, sizeof request, "{\"what\":\"%s\",\"date\":\"2026-04-11\",%s,\"kit\":%s}", what, rest,
             kit);
    bf_status status = answer("measure", request);
    if (status) return status;
    size_t n;
    const char *raw = bf_json_raw(&json, json_at(&json, "kit"), &n);
    snprintf(kit, sizeof kit, "%.*s", (int)n, raw);
    return BF_OK;
}

static void start_kit(const char *text) {
    snprintf(kit, sizeof kit, "%s", text);
}

static double number_at(const char *path) {
    return json_number_at(&json, path);
}

static const char *text_at(const char *path) {
    return json_text_at(&json, path);
}

/* A rig of the kit: only its float is written anew; its elastic stays named, its shot stand as they stood. */
static void a_float_is_kept_on_its_rig_and_the_rest_stands(void **state) {
    (void)state;
    start_kit("{\"elastics\":[{\"id\":\"red\",\"outer\":\"1.4 mm\"}],\"rigs\":[{\"id\":\"winder "
              "3\",\"name\":\"Three\",\"float\":{\"rating\":\"0.4 g\",\"bristle\":\"1.5 mm\"},"
              "\"shots\":[{\"size\":\"No 8\",\"count\":5,\"above_hook\":\"40 cm\"}],\"elastic\":\"red\"}]}");
    assert_int_equal(measure("float", "\"rig\":\"winder 3\",\"took\":[\"0.37 g\",\"0.38 g\"],\"mass_frac\":1,"
                                      "\"mass_pm_frac\":0.01"),
                     BF_OK);
    BF_CHECK_ABS(number_at("now/rig/float/capacity_kg"), 0.000375, 5e-6);
    assert_string_equal(text_at("was/rig/float/capacity_kg"), "don't know");
    assert_string_equal(text_at("kept/rig"), "winder 3");
    assert_non_null(strstr(text_at("text"), "rig.float.capacity"));
    assert_string_equal(text_at("kit/rigs/0/name"), "Three");
    assert_string_equal(text_at("kit/rigs/0/elastic"), "red");
    assert_string_equal(text_at("kit/rigs/0/shots/0/above_hook"), "40 cm");
    BF_CHECK_ABS(number_at("kit/rigs/0/float/bristle_m"), 0.0015, 0);
    BF_CHECK_ABS(number_at("kit/rigs/0/float/capacity_kg"), number_at("now/rig/float/capacity_kg"), 0);
    assert_string_equal(text_at("kit/rigs/0/was/0/by"), "float");
    BF_CHECK_ABS(number_at("kit/rigs/0/was/0/float/capacity_pm_frac"), 0.12, 1e-15);

    /* Again: from what is known now, and two old values stand in it. */
    double before = number_at("now/rig/float/capacity_kg");
    assert_int_equal(
        measure("float", "\"rig\":\"winder 3\",\"took\":[\"0.375 g\"],\"mass_frac\":1,\"mass_pm_frac\":0.01"),
        BF_OK);
    BF_CHECK_ABS(number_at("was/rig/float/capacity_kg"), before, 0);
    BF_CHECK_ABS(number_at("kit/rigs/0/was/1/float/capacity_kg"), before, 0);
    assert_true(number_at("now/rig/float/capacity_pm_frac") <
                number_at("was/rig/float/capacity_pm_frac") + 1e-3);
}

/* A start rig that is not in the kit yet is added whole, under its word. */
static void a_start_rig_is_kept_under_its_word(void **state) {
    (void)state;
    start_kit("{}");
    assert_int_equal(measure("break", "\"rig\":\"middle\",\"broke\":[\"0.55 kg\",\"0.6 kg\",\"0.57 kg\"]"),
                     BF_OK);
    assert_string_equal(text_at("kept/rig"), "middle");
    assert_string_equal(text_at("kit/rigs/0/id"), "middle");
    BF_CHECK_ABS(number_at("kit/rigs/0/float/rating_kg"), 0.0004, 1e-15);
    BF_CHECK_REL(number_at("kit/rigs/0/hooklength/break_n"), 0.573 * 9.80665, 0.03);
    assert_int_equal(measure("weigh",
                             "\"rig\":\"middle\",\"size\":\"No 8\",\"count\":20,\"together\":\"1.26 g\","
                             "\"scale_scatter\":\"1 mg\""),
                     BF_OK);
    BF_CHECK_REL(number_at("now/rig/shot_error"), 0.5, 0.01);
    assert_int_equal(bf_json_next(&json, json_at(&json, "kit/rigs/0")), -1);
    BF_CHECK_REL(number_at("kit/rigs/0/hooklength/break_n"), 0.573 * 9.80665, 0.03);
    BF_CHECK_ABS(number_at("kit/rigs/0/shot_error"), number_at("now/rig/shot_error"), 0);
    assert_string_equal(text_at("kit/rigs/0/was/0/by"), "break");
    assert_string_equal(text_at("kit/rigs/0/was/1/by"), "weigh");
    assert_non_null(strstr(out, "One No 8 of these weighs 0.063 g"));
}

static void an_elastic_is_kept_and_used_by_its_name(void **state) {
    (void)state;
    start_kit("{}");
    assert_int_equal(measure("pull",
                             "\"elastic\":{\"outer\":\"1.2 mm\"},\"rest\":\"30 cm\",\"load\":[\"70 g\",\"140 "
                             "g\"],\"long\":[\"60 cm\",\"120 cm\"]"),
                     BF_OK);
    assert_string_equal(text_at("kept/elastic"), "my elastic");
    double frac = number_at("now/elastic/force_frac");
    BF_CHECK_ABS(frac, 1.03, 0.03);
    BF_CHECK_ABS(number_at("kit/elastics/0/force_frac"), frac, 0);
    assert_int_equal(
        measure("pull", "\"elastic\":\"my elastic\",\"rest\":\"30 cm\",\"load\":[\"75 g\"],\"long\":[\"60 "
                        "cm\"]"),
        BF_OK);
    BF_CHECK_ABS(number_at("was/elastic/force_frac"), frac, 0);
}

#define DROPS                                                                                                \
    "\"distance\":\"11 m\",\"out\":[0.04,-0.02,0.01,0.07,0.03,0,-0.03,0.05,0.02,0.03],"                      \
    "\"right\":[0.01,0,-0.02,0.02,0.01,-0.01,0,0.03,-0.03,-0.01]"

/* The angler's own aim is used where a request does not mention one. */
static void an_aim_is_kept_and_used_unnamed(void **state) {
    (void)state;
    start_kit("{}");
    assert_int_equal(measure("aim", DROPS), BF_OK);
    assert_string_equal(text_at("kept/aim"), "my aim");
    double ship = number_at("now/aim/ship_pm_m"), bearing = number_at("now/aim/bearing_pm_deg");
    BF_CHECK_ABS(number_at("now/aim/ship_m"), 0.02, 1e-12);
    BF_CHECK_ABS(number_at("kit/aims/0/bearing_pm_deg"), bearing, 0);
    assert_int_equal(measure("aim", DROPS ",\"held\":[0.01,0.02,0.01]"), BF_OK);
    BF_CHECK_ABS(number_at("was/aim/ship_pm_m"), ship, 0);
    assert_true(number_at("now/aim/steady_pm_m") < 0.03);
    assert_non_null(strstr(out, "By 10 drops two in three come down within"));

    /* A plan's spot that says no aim has it; one that says some has its own. */
    static char request[1 << 17];
    snprintf(request, sizeof request,
             "{\"nominal\":true,\"spots\":[{\"id\":\"long\",\"distance\":11,\"depth\":1.6},{\"id\":\"short\","
             "\"distance\":5,"
             "\"depth\":1,\"aim\":{\"ship_pm\":0.3}}],\"feed\":[{\"spot\":\"long\",\"bait\":\"hard-4\"}],"
             "\"kit\":%s}",
             kit);
    double kept = number_at("kit/aims/0/bearing_pm_deg");
    assert_int_equal(answer("plan", request), BF_OK);
    BF_CHECK_ABS(number_at("inputs/spots/0/aim/bearing_pm_deg"), kept, 0);
    BF_CHECK_ABS(number_at("inputs/spots/1/aim/ship_pm_m"), 0.3, 0);
    BF_CHECK_ABS(number_at("inputs/spots/1/aim/bearing_pm_deg"), 0.3, 1e-15);
}

/* Only the list of the thing that was measured has a row more. */
static void a_measured_bait_does_not_become_a_hook_bait(void **state) {
    (void)state;
    start_kit("{\"hook_baits\":[{\"id\":\"meat-6\"}]}");
    assert_int_equal(measure("count", "\"bait\":\"hard-4\",\"count\":[50]"), BF_OK);
    assert_string_equal(text_at("kit/baits/0/id"), "hard-4");
    assert_int_equal(bf_json_next(&json, json_at(&json, "kit/hook_baits/0")), -1);
    assert_string_equal(text_at("kit/hook_baits/0/id"), "meat-6");
}

static void what_is_wrong_is_said_in_one_sentence(void **state) {
    static const struct {
        const char *what, *rest, *text;
        bf_status status;
    } bad[] = {
        {"float", "\"took\":[\"0.37 g\"]",
         "rig is missing; accepted is a word of the catalogue, an id of the kit or an object.", BF_E_MISSING},
        {"float", "\"rig\":\"middle\"",
         "took_kg is missing; accepted is up to 40 values, each 0.02 g to 30 g.", BF_E_MISSING},
        {"float", "\"rig\":\"middle\",\"took\":[\"0.37 g\",\"0.73 g\"]",
         "The readings cannot be explained; accepted is readings without a slip, or a start nearer the "
         "truth.",
         BF_E_DATA},
        {"pull", "\"elastic\":{},\"rest\":0.3,\"load\":[0.1,0.2],\"long\":[0.6]",
         "load_kg has 2 values and long_m has 1; accepted is as many of one as of the other.", BF_E_COUNT},
        {"aim", "\"distance\":11,\"out\":[0.1,0.2],\"right\":[0.1,0.1]",
         "out_m has 2 values; accepted is at least 3.", BF_E_COUNT},
        {"aim", "\"out\":[0.1,0.2,0.3],\"right\":[0.1,0.1,0]",
         "distance_m is missing; accepted is 1 m to 20 m.", BF_E_MISSING},
        {"weigh", "\"rig\":\"middle\",\"size\":\"No 99\",\"count\":10,\"together\":\"0.6 g\"", NULL,
         BF_E_CHOICE},
        {"break", "\"rig\":\"middle\",\"broke\":[\"0.6 kg\"],\"of\":\"rod\"",
         "of is \"rod\", which is not one of the words known here; accepted is hooklength or line.",
         BF_E_CHOICE},
        {"weighs", "\"rig\":\"middle\"",
         "what is \"weighs\", which is not one of the words known here; accepted is drop, count, soak, "
         "throw, float, "
         "pull, break, weigh or aim.",
         BF_E_CHOICE},
    };
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        start_kit("{}");
        assert_int_equal(measure(bad[i].what, bad[i].rest), bad[i].status);
        if (bad[i].text) assert_string_equal(text_at("error/text"), bad[i].text);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_float_is_kept_on_its_rig_and_the_rest_stands),
        cmocka_unit_test(a_start_rig_is_kept_under_its_word),
        cmocka_unit_test(an_elastic_is_kept_and_used_by_its_name),
        cmocka_unit_test(an_aim_is_kept_and_used_unnamed),
        cmocka_unit_test(a_measured_bait_does_not_become_a_hook_bait),
        cmocka_unit_test(what_is_wrong_is_said_in_one_sentence),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
