/* rig and lay as commands: how a rig is told, what the answer holds, what is refused. What the numbers are worth is tested in
 * tests/tackle. */
#include "answered.h"

#define WATER "\"water\":{\"depth\":\"1.6 m\",\"wind\":\"3 m/s\",\"wind_side\":\"90 deg\",\"temp\":\"12 C\"}"
#define FEW "\"draws\":32,"

static void a_rig_is_told_by_a_word_an_id_or_whole(void **state) {
    (void)state;
    answered by_word = answered_ask("rig", "{" FEW WATER ",\"hook_bait\":\"hard-6\",\"rig\":\"middle\"}");
    // A row of the kit whose id is a catalogue word starts from the catalogue.
    answered by_id = answered_ask("rig", "{" FEW WATER ",\"hook_bait\":\"hard-6\",\"rig\":\"heavy\","
                                         "\"kit\":{\"rigs\":[{\"id\":\"heavy\",\"hook\":{\"size\":20}}]}}");
    answered other = answered_ask("rig", "{" FEW WATER ",\"hook_bait\":\"hard-6\",\"rig\":{\"id\":\"middle\","
                                         "\"float\":{\"rating\":\"1 g\"}}}");
    BF_CHECK_ABS(answered_number(&by_id, "inputs.rig.float.rating_kg"), 1e-3, 1e-18);
    BF_CHECK_ABS(answered_number(&by_id, "inputs.rig.hook.size"), 20, 0);
    BF_CHECK_ABS(answered_number(&by_word, "inputs.rig.float.rating_kg"), 0.4e-3, 1e-18);
    BF_CHECK_ABS(answered_number(&other, "inputs.rig.float.rating_kg"), 1e-3, 1e-18);
    BF_CHECK_ABS(answered_number(&other, "inputs.rig.line.diameter_m"),
                 answered_number(&by_word, "inputs.rig.line.diameter_m"), 0);
    // A heavier float carries more shot and hangs less far off.
    assert_true(answered_number(&other, "tension_n.nominal") >
                answered_number(&by_word, "tension_n.nominal"));
    assert_true(answered_number(&other, "off_m.nominal") < answered_number(&by_word, "off_m.nominal"));
    answered_free(&by_word);
    answered_free(&by_id);
    answered_free(&other);
}

static void a_hook_bait_is_looked_up_among_hook_baits_then_baits_then_the_catalogue(void **state) {
    (void)state;
#define KIT                                                                                                  \
    "\"kit\":{\"baits\":[{\"id\":\"a\",\"density\":1101},{\"id\":\"b\",\"density\":1102}],"                  \
    "\"hook_baits\":[{\"id\":\"a\",\"density\":1103}]}"
    static const struct {
        const char *name;
        double density;
    } cases[] = {{"a", 1103}, {"b", 1102}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char request[512];
        snprintf(request, sizeof request,
                 "{\"nominal\":true," WATER "," KIT ",\"rig\":\"middle\",\"hook_bait\":\"%s\"}",
                 cases[i].name);
        answered a = answered_ask("rig", request);
        BF_CHECK_ABS(answered_number(&a, "inputs.hook_bait.density_kg_m3"), cases[i].density, 0);
        answered_free(&a);
    }
    answered_refused("rig", "{" WATER ",\"rig\":\"middle\",\"hook_bait\":\"c\"}", "hook_bait",
                     "hook_bait is \"c\", which is not one of the words known here; accepted is ");
}

/* Most fish what they feed: it is taken to be on the hook, by its name, and said. */
static void without_a_hook_bait_what_is_fed_is_on_the_hook(void **state) {
    (void)state;
    answered a = answered_ask("lay", "{\"draws\":16," WATER ",\"rig\":\"middle\",\"bait\":\"hard-4\"}");
    assert_string_equal(answered_text(&a, "inputs.hook_bait.id"), "hard-4");
    BF_CHECK_ABS(answered_number(&a, "inputs.hook_bait.diameter_m"),
                 answered_number(&a, "inputs.bait.diameter_m"), 0);
    assert_true(answered_has_note(&a, "notes", "hook-as-fed"));
    answered_free(&a);
    answered said = answered_ask("lay", "{\"draws\":16," WATER
                                        ",\"rig\":\"middle\",\"bait\":\"hard-4\",\"hook_bait\":\"hard-6\"}");
    assert_string_equal(answered_text(&said, "inputs.hook_bait.id"), "hard-6");
    assert_false(answered_has_note(&said, "notes", "hook-as-fed"));
    answered_free(&said);
    answered_refused("aim", "{\"draws\":16," WATER ",\"rig\":\"middle\",\"bait\":\"groundbait\"}",
                     "hook_bait", "hook_bait is missing; accepted is ");
    answered_refused("rig", "{\"draws\":16," WATER ",\"rig\":\"middle\",\"hook_bait\":\"groundbait\"}",
                     "hook_bait", "hook_bait is outside the accepted range; accepted is a bait that a hook");
}

/* Which part of the rig moves the bait is worked out at the inputs as given, and said without a range. */
static void each_parts_own_share_of_the_offset_is_said(void **state) {
    (void)state;
    static const char *const parts[] = {"air_part_m", "float_part_m", "water_line_part_m", "shot_part_m",
                                        "bait_part_m"};
    answered a =
        answered_ask("rig", "{\"draws\":16,\"water\":{\"depth\":\"1.6 m\",\"wind\":\"3 m/s\",\"wind_side\":"
                            "\"90 deg\"},\"rig\":\"middle\",\"hook_bait\":\"hard-6\"}");
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        char path[64];
        snprintf(path, sizeof path, "%s.nominal", parts[i]);
        assert_true(answered_number(&a, path) == answered_number(&a, path));
        snprintf(path, sizeof path, "%s.text", parts[i]);
        assert_null(strstr(answered_text(&a, path), "no answer"));
    }
    answered_free(&a);
}

/* A rig without shot is shotted, and the shot are said. */
static void the_inputs_name_every_shot(void **state) {
    (void)state;
    answered a =
        answered_ask("rig", "{\"nominal\":true," WATER ",\"hook_bait\":\"hard-6\",\"rig\":\"middle\"}");
    assert_true(answered_count(&a, "inputs.rig.shots") >= 2);
    assert_true(answered_number(&a, "inputs.rig.shots[0].count") >= 1);
    answered_free(&a);
}

static void inputs_given_back_give_the_same_answer(void **state) {
    (void)state;
    static const char *const commands[] = {"rig", "lay", "aim"};
    for (int c = 0; c < 3; c++) {
        size_t n;
        char request[512];
        snprintf(request, sizeof request,
                 "{\"draws\":16," WATER ",\"rig\":\"middle\",\"hook_bait\":\"hard-6\"%s}",
                 c ? ",\"bait\":\"hard-4\"" : "");
        answered first = answered_ask(commands[c], request);
        const char *inputs = bf_json_raw(&first.json, answered_at(&first, "inputs"), &n);
        char *again_request = malloc(n + 64);
        sprintf(again_request, "{\"draws\":16,%.*s", (int)n - 1, inputs + 1);
        answered again = answered_ask(commands[c], again_request);
        assert_string_equal(first.text, again.text);
        free(again_request);
        answered_free(&first);
        answered_free(&again);
    }
}

static void any_cut_gives_the_same_bytes(void **state) {
    (void)state;
    static const char *const commands[] = {"rig", "lay", "aim"};
    static const int runs[] = {1, 7, 16};
    for (int c = 0; c < 3; c++) {
        char request[512];
        snprintf(request, sizeof request,
                 "{\"draws\":%d," WATER ",\"rig\":\"middle\",\"hook_bait\":\"hard-6\"%s}", c == 1 ? 16 : 40,
                 c ? ",\"bait\":\"hard-4\"" : "");
        answered whole = answered_ask(commands[c], request);
        for (size_t i = 0; i < sizeof runs / sizeof runs[0]; i++) {
            answered cut = answered_cut(commands[c], request, runs[i]);
            assert_string_equal(whole.text, cut.text);
            answered_free(&cut);
        }
        answered_free(&whole);
    }
}

static void nominal_is_the_nominal_of_the_whole_answer_and_nothing_else(void **state) {
    (void)state;
    static const struct {
        const char *command, *output;
    } cases[] = {{"rig", "off_m"}, {"lay", "down_s"}, {"aim", "miss_m"}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char request[512], path[64];
        const char *rest = WATER ",\"rig\":\"middle\",\"hook_bait\":\"hard-6\"";
        snprintf(request, sizeof request, "{\"nominal\":true,%s%s}", rest, i ? ",\"bait\":\"hard-4\"" : "");
        answered alone = answered_ask(cases[i].command, request);
        snprintf(request, sizeof request, "{\"draws\":16,%s%s}", rest, i ? ",\"bait\":\"hard-4\"" : "");
        answered whole = answered_ask(cases[i].command, request);
        snprintf(path, sizeof path, "%s.nominal", cases[i].output);
        BF_CHECK_ABS(answered_number(&alone, path), answered_number(&whole, path), 0);
        snprintf(path, sizeof path, "%s.mid", cases[i].output);
        assert_false(answered_has(&alone, path));
        assert_true(answered_has(&whole, path));
        assert_false(answered_has(&alone, "shares"));
        answered_free(&alone);
        answered_free(&whole);
    }
    answered_refused("fall", "{\"bait\":\"hard-4\",\"nominal\":true}", "nominal",
                     "nominal is not a key known here");
    answered_refused("rig", "{" WATER ",\"nominal\":1}", "nominal",
                     "nominal is 1, which has the wrong type; accepted is true or false.");
}

static void whatever_shows_a_rig_carries_the_power_lines(void **state) {
    (void)state;
    static const char *const commands[] = {"rig", "lay", "aim"};
    for (int c = 0; c < 3; c++) {
        answered a =
            answered_ask(commands[c], "{\"nominal\":true," WATER
                                      ",\"rig\":\"middle\",\"hook_bait\":\"hard-6\",\"bait\":\"hard-4\"}");
        assert_true(answered_has_note(&a, "notes", "power-lines"));
        assert_true(answered_has_note(&a, "notes", "estimate"));
        answered_free(&a);
    }
}

/* Five parts, and every draw breaks at one of them. */
static void the_chain_gives_somewhere(void **state) {
    (void)state;
    answered a =
        answered_ask("rig", "{\"nominal\":true," WATER ",\"rig\":\"middle\",\"hook_bait\":\"hard-6\"}");
    double sum = 0;
    assert_int_equal(answered_count(&a, "chain"), 5);
    for (int i = 0; i < 5; i++) {
        char path[64];
        snprintf(path, sizeof path, "chain[%d].gives_first_frac", i);
        sum += answered_number(&a, path);
    }
    BF_CHECK_ABS(sum, 1, 1e-12);
    assert_string_equal(answered_text(&a, "chain[0].part"), "hook");
    answered_free(&a);
}

/* The arrows are of the current that the rig feels. */
static void the_current_is_drawn_as_it_is_said_to_run_near_the_bottom(void **state) {
    (void)state;
    answered usual, twice;
#define ALONG                                                                                                \
    "\"water\":{\"depth\":\"1.6 m\",\"wind\":\"4 m/s\",\"wind_side\":\"0 "                                   \
    "deg\"},\"rig\":\"middle\",\"hook_bait\":\"hard-6\""
    usual = answered_ask("rig", "{\"nominal\":true,\"pictures\":[\"section\"]," ALONG "}");
    twice = answered_ask("rig", "{\"nominal\":true,\"pictures\":[\"section\"]," ALONG
                                ",\"hold\":{\"near_bed_frac\":3}}");
    assert_true(answered_has_cell(&usual, "pictures.section.table", "Current, surface and deepest shown"));
    char deepest[2][128] = {"", ""};
    const answered *both[2] = {&usual, &twice};
    for (int k = 0; k < 2; k++)
        for (int i = 0; i < answered_count(both[k], "pictures.section.table"); i++) {
            char path[64];
            snprintf(path, sizeof path, "pictures.section.table[%d][0]", i);
            if (strcmp(answered_text(both[k], path), "Current, surface and deepest shown") != 0) continue;
            snprintf(path, sizeof path, "pictures.section.table[%d][1]", i);
            snprintf(deepest[k], sizeof deepest[k], "%.127s", answered_text(both[k], path));
        }
    assert_true(deepest[0][0] && deepest[1][0]);
    assert_string_not_equal(deepest[0], deepest[1]);
    answered_free(&usual);
    answered_free(&twice);
}

static void a_rig_is_drawn_in_section_live_and_with_its_ranges(void **state) {
    (void)state;
    static const char *const how[] = {"\"nominal\":true", "\"draws\":64"};
    static const char *const commands[] = {"rig", "lay", "aim"};
    for (int c = 0; c < 3; c++)
        for (int i = 0; i < 2; i++) {
            char request[512];
            snprintf(request, sizeof request,
                     "{%s,\"pictures\":[\"section\",\"above\"]," WATER
                     ",\"rig\":\"middle\",\"hook_bait\":\"hard-6\",\"bait\":\"hard-4\"}",
                     how[i]);
            answered a = answered_ask(commands[c], request);
            assert_true(answered_count(&a, "pictures.section.table") > 0);
            assert_non_null(strstr(answered_text(&a, "pictures.section.svg"), "<svg"));
            assert_non_null(strstr(answered_text(&a, "pictures.section.finding"), "0.4 g"));
            assert_int_equal(answered_has(&a, "pictures.above"), c == 2 && i == 1);
            answered_free(&a);
        }
}

static void every_bad_rig_names_its_place(void **state) {
    (void)state;
    static const struct {
        const char *command, *rest, *field, *begins;
    } cases[] = {
        {"rig", "\"hook_bait\":\"hard-6\",\"rig\":\"huge\"", "rig",
         "rig is \"huge\", which is not one of the words known here; accepted is light, middle"},
        {"rig", "\"hook_bait\":\"hard-6\",\"rig\":{\"shots\":[{\"size\":\"No 8\",\"above_hook\":\"20 m\"}]}",
         "rig.shots[0].above_hook_m", "rig.shots[0].above_hook_m is 20 m; accepted is "},
        {"rig", "\"hook_bait\":\"hard-6\",\"rig\":{\"shots\":[{\"size\":\"No 8\"}]}",
         "rig.shots[0].above_hook_m", "rig.shots[0].above_hook_m is missing; accepted is "},
        {"rig", "\"hook_bait\":\"hard-6\",\"rig\":{\"float\":{\"rating\":\"4 cm\"}}", "rig.float.rating_kg",
         "rig.float.rating_kg is \"4 cm\", which has the wrong unit; accepted is "},
        {"rig", "\"hook_bait\":\"hard-6\",\"rig\":{\"elastic\":\"mine\"}", "rig.elastic",
         "rig.elastic is \"mine\""},
        {"rig",
         "\"hook_bait\":\"hard-6\",\"rig\":\"b\",\"kit\":{\"rigs\":[{\"id\":\"a\"},{\"id\":\"b\",\"shots\":[{"
         "\"size\":"
         "\"No 8\",\"above_hook\":\"-5 cm\"}]}]}",
         "kit.rigs[1].shots[0].above_hook_m", "kit.rigs[1].shots[0].above_hook_m is -5 cm; accepted is "},
        {"rig", "\"rig\":\"middle\"", "hook_bait", "hook_bait is missing; accepted is "},
        {"lay", "\"rig\":\"middle\",\"hook_bait\":\"hard-6\"", "bait", "bait is missing; accepted is "},
        {"rig", "\"hook_bait\":\"hard-6\",\"hold\":{\"tip_height\":\"9 m\"}", "hold.tip_height_m",
         "hold.tip_height_m is 9 m; accepted is "},
        {"aim", "\"hook_bait\":\"hard-6\",\"bait\":\"hard-4\",\"aim\":{\"ship\":\"1 kg\"}", "aim.ship_m",
         "aim.ship_m is"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char request[512];
        snprintf(request, sizeof request, "{\"draws\":16," WATER ",%s}", cases[i].rest);
        answered_refused(cases[i].command, request, cases[i].field, cases[i].begins);
    }
    answered_refused("rig", "{\"hook_bait\":\"hard-6\",\"rig\":\"middle\"}", "water.depth_m",
                     "water.depth_m is missing");
}

/* A tip so high that the line does not reach the water has no balance: a sentence, not a crash and not a number. */
static void a_rig_without_a_balance_is_refused_with_a_sentence(void **state) {
    (void)state;
    static const char *const commands[] = {"rig", "lay", "aim"};
    for (int c = 0; c < 3; c++)
        answered_refused(
            commands[c],
            "{\"draws\":16," WATER ",\"bait\":\"hard-4\",\"hook_bait\":\"hard-6\",\"rig\":{\"id\":"
            "\"light\",\"tip_to_float\":\"5 cm\"},\"hold\":{\"tip_height\":\"4 m\"}}",
            "rig.tip_to_float_m",
            "rig.tip_to_float_m leads outside the range where the model holds; accepted is more line");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_rig_is_told_by_a_word_an_id_or_whole),
        cmocka_unit_test(a_hook_bait_is_looked_up_among_hook_baits_then_baits_then_the_catalogue),
        cmocka_unit_test(without_a_hook_bait_what_is_fed_is_on_the_hook),
        cmocka_unit_test(each_parts_own_share_of_the_offset_is_said),
        cmocka_unit_test(the_inputs_name_every_shot),
        cmocka_unit_test(inputs_given_back_give_the_same_answer),
        cmocka_unit_test(any_cut_gives_the_same_bytes),
        cmocka_unit_test(nominal_is_the_nominal_of_the_whole_answer_and_nothing_else),
        cmocka_unit_test(whatever_shows_a_rig_carries_the_power_lines),
        cmocka_unit_test(the_chain_gives_somewhere),
        cmocka_unit_test(the_current_is_drawn_as_it_is_said_to_run_near_the_bottom),
        cmocka_unit_test(a_rig_is_drawn_in_section_live_and_with_its_ranges),
        cmocka_unit_test(every_bad_rig_names_its_place),
        cmocka_unit_test(a_rig_without_a_balance_is_refused_with_a_sentence),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
