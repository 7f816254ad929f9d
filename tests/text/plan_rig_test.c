/* The part of a plan's answer that is about rigs and the day: spots, suggestions, the peg not yet drawn, preparing, packing,
 * rules, cards. What the numbers are worth is tested in tests/tackle and tests/plan. */
#include "answered.h"
#include "baitfall/pack.h"

/* Two spots, one with a rig of the kit, one without; members may be put into the plan's parts. */
static char *plan_with(const char *root, const char *kit, const char *spot, const char *session) {
    static const char form[] =
        "{\"draws\":16,\"water\":{\"temp\":\"12 C\",\"wind\":\"2.5 m/s\",\"wind_side\":\"90 deg\"},"
        "\"kit\":{\"rigs\":[{\"id\":\"own\",\"float\":{\"rating\":\"0.8 g\",\"bristle\":\"1.4 mm\"},"
        "\"elastic\":\"soft\"}],\"elastics\":[{\"id\":\"soft\",\"outer\":\"1.1 mm\"}],"
        "\"pots\":[{\"id\":\"small\",\"volume\":\"4 ml\"}]%s},"
        "\"spots\":[{\"id\":\"far\",\"depth\":\"1.6 m\",\"distance\":\"11 "
        "m\",\"rig\":\"own\",\"pot\":\"small\","
        "\"hook_bait\":\"hard-6\"%s},{\"id\":\"near\",\"depth\":\"1.2 m\",\"distance\":\"5 m\"}],"
        "\"feed\":[{\"spot\":\"far\",\"bait\":\"micros-2\",\"every\":\"20 min\"},"
        "{\"spot\":\"near\",\"bait\":\"hard-4\",\"count\":10,\"every\":\"10 min\"}],"
        "\"session\":{\"hours\":2%s}%s}";
    size_t most = sizeof form + strlen(root) + strlen(kit) + strlen(spot) + strlen(session);
    char *request = malloc(most);
    snprintf(request, most, form, kit, spot, session, root);
    return request;
}

/* The plan as it stands, and with everything said that can be, each answered once for all. */
static answered plain, busy;
static char *busy_request;

static answered planned(const char *root, const char *kit, const char *spot, const char *session) {
    char *request = plan_with(root, kit, spot, session);
    answered a = answered_ask("plan", request);
    free(request);
    return a;
}

static void every_spot_has_its_rig_lay_in_and_aim(void **state) {
    (void)state;
    assert_int_equal(answered_count(&plain, "spots"), 2);
    assert_string_equal(answered_text(&plain, "spots[0].rig.id"), "own");
    assert_string_equal(answered_text(&plain, "spots[0].spot"), "far");
    BF_CHECK_ABS(answered_number(&plain, "spots[0].rig.set_m"), 1.62, 1e-12);
    BF_CHECK_ABS(answered_number(&plain, "spots[0].rig.record.float.rating_kg"), 0.8e-3, 1e-18);
    BF_CHECK_ABS(answered_number(&plain, "spots[0].rig.record.elastic.outer_m"), 1.1e-3, 1e-18);
    BF_CHECK_ABS(answered_number(&plain, "spots[0].depth_m.nominal"), 1.6, 0);
    for (int i = 0; i < 2; i++) {
        static const char *const paths[] = {
            "rig.off_m.mid",    "rig.bristle_m.nominal", "lay.wait_s.mid",  "lay.down_s.mid",
            "aim.miss_m.mid",   "aim.chance.within_5cm", "aim.fit_error_m", "aim.mend",
            "rig.chain[0].part"};
        for (size_t k = 0; k < sizeof paths / sizeof paths[0]; k++) {
            char path[64];
            snprintf(path, sizeof path, "spots[%d].%s", i, paths[k]);
            if (!answered_has(&plain, path)) fail_msg("no %s", path);
        }
    }
}

/* Without a rig one is suggested, with its shot, and each suggestion says why. */
static void a_spot_without_a_rig_gets_one_and_the_reasons(void **state) {
    (void)state;
    assert_false(answered_has(&plain, "spots[1].rig.id"));
    assert_int_equal(bf_json_kind_of(&plain.json, answered_at(&plain, "spots[1].rig.is_suggested")),
                     BF_JSON_TRUE);
    assert_int_equal(bf_json_kind_of(&plain.json, answered_at(&plain, "spots[0].rig.is_suggested")),
                     BF_JSON_FALSE);
    assert_true(answered_count(&plain, "spots[1].rig.record.shots") >= 1);
    assert_non_null(strstr(answered_text(&plain, "spots[1].rig.title"), " g float, "));
    assert_true(answered_count(&plain, "spots[1].suggestions") >= 3);
    for (int i = 0; i < answered_count(&plain, "spots[1].suggestions"); i++) {
        char path[64];
        snprintf(path, sizeof path, "spots[1].suggestions[%d].because", i);
        assert_null(strchr(answered_text(&plain, path), '{'));
        snprintf(path, sizeof path, "spots[1].suggestions[%d].choice", i);
        assert_true(answered_text(&plain, path)[0] != 0);
    }
}

/* Items of all ensembles, cut anywhere, across their borders too. */
static void the_answer_does_not_depend_on_the_cut(void **state) {
    (void)state;
    answered cut = answered_cut("plan", busy_request, 13);
    assert_string_equal(busy.text, cut.text);
    answered_free(&cut);
}

static void the_inputs_asked_again_give_the_same_spots_and_day(void **state) {
    (void)state;
    size_t n;
    const char *inputs = bf_json_raw(&busy.json, answered_at(&busy, "inputs"), &n);
    char *request = malloc(n + 64);
    sprintf(request, "{\"draws\":16,%.*s", (int)n - 1, inputs + 1);
    answered again = answered_ask("plan", request);
    static const char *const members[] = {"feed",  "what_if", "prep",         "pack",
                                          "rules", "inputs",  "spots[0].rig", "spots[1].aim"};
    for (size_t i = 0; i < sizeof members / sizeof members[0]; i++) answered_same(&busy, &again, members[i]);
    free(request);
    answered_free(&again);
}

/* By hand: 09:00 less 40 minutes; the times are by the clock that the start is written in. */
static void preparing_has_clock_times_when_the_start_is_known(void **state) {
    (void)state;
    int n = answered_count(&busy, "prep"), is_plumbed = 0;
    double last_s = -1e9;
    assert_int_equal(answered_count(&plain, "prep"), n);
    for (int i = 0; i < n; i++) {
        char path[64];
        snprintf(path, sizeof path, "prep[%d].at_s", i);
        double at_s = answered_number(&busy, path);
        assert_true(at_s >= last_s && at_s < 0);
        last_s = at_s;
        snprintf(path, sizeof path, "prep[%d].text", i);
        const char *text = answered_text(&busy, path);
        assert_null(strchr(text, '{'));
        if (strncmp(text, "Plumb", 5) != 0) continue;
        is_plumbed = 1;
        snprintf(path, sizeof path, "prep[%d].at", i);
        assert_string_equal(answered_text(&busy, path), "2026-04-12T08:20:00.000+01:00");
        assert_false(answered_has(&plain, path));
        snprintf(path, sizeof path, "prep[%d].at_text", i);
        assert_string_equal(answered_text(&busy, path), "08:20");
        assert_string_equal(answered_text(&plain, path), "40 min before");
    }
    assert_true(is_plumbed);
    const char *ics = answered_text(&busy, "ics");
    assert_non_null(strstr(ics, "BEGIN:VCALENDAR\r\n"));
}

static void every_thing_the_plan_names_is_packed(void **state) {
    (void)state;
    static const struct {
        const char *what, *id;
    } wanted[] = {{"rig", "own"},          {"pot", "small"}, {"bait", "micros-2"}, {"bait", "hard-4"},
                  {"hook bait", "hard-6"}, {"net", ""},      {"elastic", ""},      {"hooklength", ""}};
    for (size_t k = 0; k < sizeof wanted / sizeof wanted[0]; k++) {
        int is_packed = 0;
        for (int i = 0; i < answered_count(&busy, "pack"); i++) {
            char what[64], id[64];
            snprintf(what, sizeof what, "pack[%d].what", i);
            snprintf(id, sizeof id, "pack[%d].id", i);
            is_packed |= strcmp(answered_text(&busy, what), wanted[k].what) == 0 &&
                         strcmp(answered_text(&busy, id), wanted[k].id) == 0;
        }
        if (!is_packed) fail_msg("%s %s is not packed", wanted[k].what, wanted[k].id);
    }
}

static void rules_are_held_against_the_plan(void **state) {
    (void)state;
    static const char *const status[] = {"broken", "kept", "look", "kept", "look", "broken"};
    assert_int_equal(answered_count(&busy, "rules"), 6);
    for (int i = 0; i < 6; i++) {
        char path[64];
        snprintf(path, sizeof path, "rules[%d].status", i);
        if (strcmp(answered_text(&busy, path), status[i]) != 0)
            fail_msg("rule %d is %s", i, answered_text(&busy, path));
    }
    assert_string_equal(answered_text(&busy, "rules[4].rule"), "keep to the path");
    assert_string_equal(answered_text(&busy, "rules[4].text"),
                        "\"keep to the path\" is not understood here: read it on the venue's board.");
}

/* By what they are called, each once, fed or on a hook. */
static void a_broken_rule_names_the_baits(void **state) {
    (void)state;
    static const char *const said[] = {
        "No hard pellets. The plan does not keep to it: hard 4 mm pellets, hard 6 mm pellets.",
        "No pellets larger than 4 mm. The plan does not keep to it: hard 6 mm pellets.",
        "No pole longer than 9 m. The plan does not keep to it."};
    answered a = answered_ask(
        "plan", "{\"draws\":16,\"pole\":\"13 m\",\"venue\":{\"rules\":[\"no hard pellets\",\"pellets up to 4 "
                "mm\",\"no pole longer than 9 m\"]},\"spots\":[{\"id\":\"long\",\"depth\":\"1.6 m\",\"rig\":"
                "\"middle\",\"hook_bait\":\"hard-6\"}],\"feed\":[{\"spot\":\"long\",\"bait\":\"hard-4\","
                "\"count\":12},{\"spot\":\"long\",\"bait\":\"micros-2\",\"count\":100}]}");
    for (int i = 0; i < 3; i++) {
        char path[64];
        snprintf(path, sizeof path, "rules[%d].text", i);
        assert_string_equal(answered_text(&a, path), said[i]);
    }
    assert_string_equal(answered_text(&a, "feed[0].bait"), "hard-4");
    answered_free(&a);
}

/* Where nothing is fed and no hook bait is named, the kit's first is on the hook: in the sums, and on the card. */
static void the_card_names_the_hook_bait_of_a_spot_that_is_not_fed(void **state) {
    (void)state;
    answered a = answered_ask(
        "plan", "{\"draws\":16,\"pictures\":[\"card-a6\"],"
                "\"kit\":{\"hook_baits\":[{\"id\":\"my corn\",\"density\":1100}]},"
                "\"spots\":[{\"id\":\"long\",\"distance\":\"11 m\",\"depth\":\"1.5 m\",\"rig\":\"middle\"},"
                "{\"id\":\"short\",\"distance\":\"6 m\",\"depth\":\"1.2 m\",\"rig\":\"middle\"}],"
                "\"feed\":[{\"spot\":\"short\",\"bait\":\"hard-4\",\"count\":12}]}");
    assert_non_null(strstr(a.text, ">my corn<")); // as the card has it
    answered_free(&a);
}

static void rigs_for_a_peg_not_yet_drawn(void **state) {
    (void)state;
    answered a =
        planned(",\"unknown_peg\":{\"depth_least\":\"1 m\",\"depth_most\":\"1.4 m\",\"wind_most\":\"2 m/s\"}",
                "", "", "");
    int n = answered_count(&a, "unknown_peg.rigs");
    double needed = 0;
    assert_true(n >= 1 && n <= 6);
    for (int i = 0; i < n; i++) {
        char path[64];
        snprintf(path, sizeof path, "unknown_peg.rigs[%d].needed_frac", i);
        needed += answered_number(&a, path);
        snprintf(path, sizeof path, "unknown_peg.rigs[%d].covers", i);
        assert_null(strchr(answered_text(&a, path), '{'));
        snprintf(path, sizeof path, "unknown_peg.rigs[%d].record.float.rating_kg", i);
        assert_true(answered_number(&a, path) > 0);
        snprintf(path, sizeof path, "unknown_peg.rigs[%d].title", i);
        assert_non_null(strstr(answered_text(&a, path), " m from float to hook"));
        assert_null(strstr(answered_text(&a, path), "spread dropper"));
    }
    // Of what is covered, each condition has one rig to take.
    BF_CHECK_ABS(needed + answered_number(&a, "unknown_peg.uncovered_frac"), 1, 1e-9);
    answered_free(&a);
}

/* Spares are for what is lost while a rig is fished: of a set for a peg not known, in the part of the session that it is
 * likely to be needed. */
static void spares_follow_how_long_a_rig_is_likely_fished(void **state) {
    (void)state;
    answered a = planned(
        ",\"unknown_peg\":{\"depth_least\":\"0.9 m\",\"depth_most\":\"1.9 m\",\"wind_most\":\"5 m/s\"}", "",
        "", "");
    int n = answered_count(&a, "unknown_peg.rigs"), of_set = 0, differ = 0;
    for (int i = 0; i < answered_count(&a, "pack"); i++) {
        char path[64];
        snprintf(path, sizeof path, "pack[%d].what", i);
        if (strcmp(answered_text(&a, path), "rig") != 0) continue;
        snprintf(path, sizeof path, "pack[%d].text", i);
        if (!strstr(answered_text(&a, path), "from float to hook")) continue;
        snprintf(path, sizeof path, "unknown_peg.rigs[%d].needed_frac", of_set++);
        double hours = 2 * answered_number(&a, path);
        int spare = bf_pack_spares(bf_pack_lost_per_h(BF_PACK_RIG), hours, BF_PACK_RISK);
        snprintf(path, sizeof path, "pack[%d].spare", i);
        BF_CHECK_ABS(answered_number(&a, path), spare, 0);
        differ |= spare != bf_pack_spares(bf_pack_lost_per_h(BF_PACK_RIG), 2, BF_PACK_RISK);
    }
    assert_int_equal(of_set, n);
    assert_true(differ);
    answered_free(&a);
}

/* Amounts to two figures, times to half a minute: nobody weighs 40.4 g. */
static void amounts_and_times_are_round(void **state) {
    (void)state;
    for (int i = 0; i < answered_count(&busy, "prep"); i++) {
        char path[64];
        snprintf(path, sizeof path, "prep[%d].text", i);
        const char *text = answered_text(&busy, path);
        int figures = 0;
        for (const char *c = text; *c; c++) {
            figures = *c >= '0' && *c <= '9' ? figures + 1 : *c == '.' ? figures : 0;
            if (figures > 2 && strchr("123456789", *c)) fail_msg("%s", text);
        }
    }
}

/* A word of the catalogue that a spot before has taken into the kit is offered once. */
static void every_name_is_offered_once(void **state) {
    (void)state;
    answered_refused(
        "plan",
        "{\"spots\":[{\"id\":\"a\",\"depth\":\"1 m\",\"rig\":\"middle\"},{\"id\":\"b\",\"depth\":"
        "\"1 m\",\"rig\":\"nope\"}]}",
        "spots[1].rig",
        "spots[1].rig is \"nope\", which is not one of the words known here; accepted is middle, light, "
        "heavy or margin.");
}

/* What a change brings is told with what was before; when the rig does not hold then, with the reason. */
static void every_what_if_that_does_not_hold_says_why(void **state) {
    (void)state;
    static const char *const reasons[] = {"is too far", "goes under",          "body shows",
                                          "carries it", "is needed to see it", "finds no balance"};
    int n_not = 0;
    for (int i = 0; i < answered_count(&busy, "what_if"); i++) {
        char path[64];
        snprintf(path, sizeof path, "what_if[%d].text", i);
        const char *text = answered_text(&busy, path);
        if (!strstr(text, "does not hold")) continue;
        int has_reason = 0;
        for (size_t k = 0; k < sizeof reasons / sizeof reasons[0]; k++)
            has_reason |= strstr(text, reasons[k]) != NULL;
        if (!has_reason) fail_msg("%s", text);
        n_not++;
    }
    assert_true(n_not > 0);
}

/* Shot of one size one below the other are said together, and a lone one over the bulk as such. */
static void a_rig_is_said_as_an_angler_says_it(void **state) {
    (void)state;
    static const struct {
        const char *shots, *title;
    } cases[] = {
        {"{\"size\":\"No 8\",\"above_hook\":\"60 cm\"},{\"size\":\"No 8\",\"above_hook\":\"30 "
         "cm\"},{\"size\":\"No 10\","
         "\"above_hook\":\"15 cm\"}",
         "0.3 g float, two No 8 spread, No 10"},
        {"{\"size\":\"No 11\",\"above_hook\":\"80 cm\"},{\"size\":\"No 8\",\"count\":4,\"above_hook\":\"50 "
         "cm\"},{"
         "\"size\":\"No 10\",\"above_hook\":\"30 cm\"},{\"size\":\"No 10\",\"above_hook\":\"15 cm\"}",
         "0.3 g float, No 11 above, bulk of four No 8, two No 10 droppers"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char request[1024];
        snprintf(request, sizeof request,
                 "{\"nominal\":true,\"kit\":{\"rigs\":[{\"id\":\"own\",\"float\":{\"rating\":\"0.3 "
                 "g\"},\"shots\":[%s]}]},"
                 "\"spots\":[{\"id\":\"a\",\"depth\":\"1.2 "
                 "m\",\"rig\":\"own\"}],\"feed\":[{\"spot\":\"a\",\"bait\":\"hard-4\","
                 "\"count\":10}]}",
                 cases[i].shots);
        answered a = answered_ask("plan", request);
        assert_string_equal(answered_text(&a, "spots[0].rig.title"), cases[i].title);
        answered_free(&a);
    }
}

/* A rig too heavy for its float is said to be so, not left out. */
static void a_rig_without_a_balance_says_so_at_its_spot(void **state) {
    (void)state;
    answered a = planned("", "", ",\"tip_height\":\"4 m\"", "");
    assert_non_null(strstr(answered_text(&a, "spots[0].rig.error"), "finds no balance here"));
    assert_false(answered_has(&a, "spots[0].rig.off_m"));
    answered_free(&a);
}

static void nominal_is_quick_and_says_only_what_it_knows(void **state) {
    (void)state;
    answered a = planned(",\"nominal\":true,\"pictures\":[\"section\",\"above\",\"card-a6\"]", "", "", "");
    assert_true(answered_has(&a, "spots[0].rig.off_m.nominal"));
    assert_true(answered_has(&a, "spots[1].lay.wait_s.nominal"));
    assert_true(answered_has(&a, "feed[0].pieces.nominal"));
    assert_true(answered_has(&a, "baits[0].mass_kg.nominal"));
    assert_true(answered_has(&a, "spots[0].pictures.section.svg"));
    static const char *const absent[] = {"what_if",
                                         "prep",
                                         "pack",
                                         "rules",
                                         "pictures",
                                         "spots[0].aim.chance",
                                         "spots[0].rig.off_m.mid",
                                         "feed[0].pieces.mid",
                                         "spots[0].pictures.above"};
    for (size_t i = 0; i < sizeof absent / sizeof absent[0]; i++)
        if (answered_has(&a, absent[i])) fail_msg("%s is there", absent[i]);
    answered_free(&a);
}

static void what_is_drawn_is_what_is_asked_for(void **state) {
    (void)state;
    assert_non_null(strstr(answered_text(&busy, "pictures.card-a6-front.svg"), "<svg"));
    assert_non_null(strstr(answered_text(&busy, "pictures.card-a6-back.svg"), "<svg"));
    assert_false(answered_has(&busy, "pictures.card-a5"));
    assert_true(answered_count(&busy, "spots[0].pictures.section.table") > 0);
    assert_true(answered_count(&busy, "spots[1].pictures.above.table") > 0);
    assert_false(answered_has(&plain, "pictures"));
    assert_false(answered_has(&plain, "spots[0].pictures"));
}

static void what_is_not_modelled_is_said_and_power_lines_with_it(void **state) {
    (void)state;
    assert_true(answered_has_note(&plain, "notes", "not-modelled"));
    assert_true(answered_has_note(&plain, "notes", "power-lines"));
    assert_true(answered_has_note(&plain, "spots[0].rig.notes", "power-lines"));
}

/* A rig without a balance takes nothing else from the plan. */
static void a_spot_whose_rig_has_no_balance_says_so(void **state) {
    (void)state;
    answered a = planned("", ",\"hook_baits\":[]", ",\"tip_height\":\"4 m\"", "");
    assert_true(answered_text(&a, "spots[0].rig.error")[0] != 0);
    assert_false(answered_has(&a, "spots[0].lay"));
    assert_false(answered_has(&a, "spots[0].aim"));
    assert_true(answered_has(&a, "spots[1].rig.off_m.mid"));
    assert_true(answered_has(&a, "feed[0].pieces.mid"));
    answered_free(&a);
}

static void every_bad_plan_names_its_place(void **state) {
    (void)state;
    static const struct {
        const char *root, *kit, *spot, *session, *field, *begins;
    } cases[] = {
        {",\"pole\":\"90 m\"", "", "", "", "pole_m", "pole_m is 90 m; accepted is "},
        {",\"unknown_peg\":{\"depth_least\":\"1 m\"}", "", "", "", "unknown_peg.depth_most_m",
         "unknown_peg.depth_most_m is missing; accepted is "},
        {",\"unknown_peg\":{\"depth_least\":\"2 m\",\"depth_most\":\"1 m\"}", "", "", "",
         "unknown_peg.depth_most_m", "unknown_peg.depth_most_m is 1 m; accepted is the least first"},
        {"", "", ",\"overdepth\":\"3 m\"", "", "spots[0].overdepth_m",
         "spots[0].overdepth_m is 3 m; accepted is "},
        {"", "", ",\"aim\":{\"ship\":\"4 m\"}", "", "spots[0].aim.ship_m",
         "spots[0].aim.ship_m is 4 m; accepted is "},
        {"", "", ",\"aim\":{\"luck\":1}", "", "spots[0].aim.luck",
         "spots[0].aim.luck is not a key known here"},
        {"", "", "", ",\"starts\":\"09:00\"", "session.starts",
         "session.starts is \"09:00\", which is not well-formed; accepted is an instant such as "
         "2026-04-12T09:"},
        {"", "", "", ",\"nets\":{\"count\":0}", "session.nets.count",
         "session.nets.count is 0; accepted is "},
        {",\"venue\":{\"rules\":\"none\"}", "", "", "", "venue.rules",
         "venue.rules is \"none\", which has the wrong type; accepted is an array of texts."},
        {",\"venue\":{\"rules\":[1]}", "", "", "", "venue.rules[0]",
         "venue.rules[0] is 1, which has the wrong type"},
        {",\"ics\":\"2026-04-11T20:00:00Z\"", "", "", "", "session.starts", "session.starts is missing"},
        {",\"pictures\":[\"card\"]", "", "", "", "pictures",
         "pictures is \"card\", which is not one of the words"},
        {"", ",\"hook_baits\":[{\"id\":\"x\",\"density\":-1}]", "", "", "kit.hook_baits[0].density_kg_m3",
         "kit.hook_baits[0].density_kg_m3 is -1"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char *request = plan_with(cases[i].root, cases[i].kit, cases[i].spot, cases[i].session);
        answered_refused("plan", request, cases[i].field, cases[i].begins);
        free(request);
    }
}

static int ask_once(void **state) {
    (void)state;
    plain = planned("", "", "", "");
    busy_request = plan_with(",\"name\":\"Tomorrow\",\"pole\":\"13 m\",\"ics\":\"2026-04-11T20:00:00Z\","
                             "\"pictures\":[\"section\",\"above\",\"card-a6\"],\"venue\":{\"rules\":["
                             "\"no pole longer than 10 m\",\"no pole longer than 13 m\",\"barbless hooks\","
                             "\"no catapults\",\"keep to the path\",\"two nets\"]}",
                             "", ",\"overdepth\":\"5 cm\"",
                             ",\"starts\":\"2026-04-12T09:00:00+01:00\",\"nets\":{\"count\":3}");
    busy = answered_ask("plan", busy_request);
    return 0;
}

static int forget(void **state) {
    (void)state;
    answered_free(&plain);
    answered_free(&busy);
    free(busy_request);
    return 0;
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_spot_has_its_rig_lay_in_and_aim),
        cmocka_unit_test(a_spot_without_a_rig_gets_one_and_the_reasons),
        cmocka_unit_test(the_answer_does_not_depend_on_the_cut),
        cmocka_unit_test(the_inputs_asked_again_give_the_same_spots_and_day),
        cmocka_unit_test(preparing_has_clock_times_when_the_start_is_known),
        cmocka_unit_test(every_thing_the_plan_names_is_packed),
        cmocka_unit_test(rules_are_held_against_the_plan),
        cmocka_unit_test(a_broken_rule_names_the_baits),
        cmocka_unit_test(the_card_names_the_hook_bait_of_a_spot_that_is_not_fed),
        cmocka_unit_test(rigs_for_a_peg_not_yet_drawn),
        cmocka_unit_test(spares_follow_how_long_a_rig_is_likely_fished),
        cmocka_unit_test(amounts_and_times_are_round),
        cmocka_unit_test(every_name_is_offered_once),
        cmocka_unit_test(every_what_if_that_does_not_hold_says_why),
        cmocka_unit_test(a_rig_is_said_as_an_angler_says_it),
        cmocka_unit_test(a_rig_without_a_balance_says_so_at_its_spot),
        cmocka_unit_test(nominal_is_quick_and_says_only_what_it_knows),
        cmocka_unit_test(what_is_drawn_is_what_is_asked_for),
        cmocka_unit_test(what_is_not_modelled_is_said_and_power_lines_with_it),
        cmocka_unit_test(a_spot_whose_rig_has_no_balance_says_so),
        cmocka_unit_test(every_bad_plan_names_its_place),
    };
    return cmocka_run_group_tests(tests, ask_once, forget);
}
