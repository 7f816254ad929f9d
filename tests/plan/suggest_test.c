/* Suggestions: against every float and shot pattern of the catalogue, judged here anew from the solver alone. */
#include "baitfall/suggest.h"

#include "baitfall/pot.h"
#include "common/check.h"
#include "plan/random_stand.h"

#define PI 3.14159265358979323846

/* Judged anew -------------------------------------------------------------------------------------------- */

static double far_m(const double a[3], const double b[3]) {
    return hypot(a[0] - b[0], a[1] - b[1]);
}

/* 1 when the line from the tip does not carry the float, and only bristle shows of it. */
static int floats_well(const bf_stand *stand, const bf_rig_shape *shape) {
    return !shape->is_lifted && shape->bristle_m >= BF_BRISTLE_LEAST_M &&
           shape->bristle_m <= stand->rig.flt.bristle_long_m;
}

/* 1 when a rig is within the header's limits in one wind; *hang_m is made the larger of it and the hang there. */
static int is_within(const bf_stand *stand, double wind_m_s, double *hang_m) {
    const double tip[3] = {0, 0, 0};
    bf_stand windy = *stand;
    bf_rig_shape mean, gust;
    windy.scene.lake.wind_m_s = bf_exactly(wind_m_s);
    if (bf_rig_solve(&windy, 1, 0, &mean) || !floats_well(stand, &mean)) return 0;
    *hang_m = fmax(*hang_m, far_m(mean.bait_m, tip));
    if (far_m(mean.bait_m, tip) > BF_HANG_MOST_M) return 0;
    if (bf_rig_solve(&windy, windy.hold.gust_frac.value, 0, &gust) || !floats_well(stand, &gust)) return 0;
    return far_m(gust.bait_m, mean.bait_m) <= BF_GUST_MOST_M;
}

/* A minute of arc from the bank, when the lowest shot's weight comes off the bristle. */
static int shows_a_bite(const bf_stand *stand) {
    const bf_rig *rig = &stand->rig;
    double water = bf_lake_density_kg_m3(&stand->scene.lake), lowest = BF_INFINITY, kg = 0, metal = BF_NAN;
    for (int i = 0; i < rig->n_shots; i++)
        if (rig->shot[i].at_m < lowest) {
            lowest = rig->shot[i].at_m;
            kg = bf_shot_mass_kg(&rig->shot[i], rig->shot_error.value);
            metal = bf_metal_density_kg_m3(bf_shot_metal(&rig->shot[i]));
        }
    double area = PI / 4 * rig->flt.bristle_m * rig->flt.bristle_m;
    double rise = fmin(kg * (1 - water / metal) / (water * area), rig->flt.bristle_long_m);
    return rise >= PI / 180 / 60 * stand->scene.spot.distance_m.value;
}

/* A point of the wind's distribution, by the normal cut off at 0 and 20 m/s: bisected, not by the sampler. */
static double wind_at(bf_quantity wind, double p) {
    if (wind.is_unknown) return 6 * p;
    if (wind.pm == 0) return wind.value;
    double sd = wind.pm / 1.2815515655446004, low = 0, high = 20;
    double below = erfc((wind.value - 0) / sd / sqrt(2)) / 2,
           all = 1 - erfc((20 - wind.value) / sd / sqrt(2)) / 2 - below;
    for (int i = 0; i < 60; i++) {
        double middle = (low + high) / 2,
               part = (erfc((wind.value - middle) / sd / sqrt(2)) / 2 - below) / all;
        if (part < p)
            low = middle;
        else
            high = middle;
    }
    return low;
}

/* 1 when the rig holds; *hang_m: in the worst of the winds. */
static int holds_anew(const bf_stand *stand, double *hang_m) {
    bf_quantity wind = stand->scene.lake.wind_m_s;
    *hang_m = 0;
    return shows_a_bite(stand) && is_within(stand, wind_at(wind, 0.9), hang_m) &&
           is_within(stand, wind.value, hang_m) && is_within(stand, wind_at(wind, 0.1), hang_m);
}

/* The search against all of the catalogue ---------------------------------------------------------------- */

static void put_back_shots_on(bf_rig *rig, const bf_back_choice *choice) {
    rig->n_back_shots = choice->count > 0;
    if (choice->count == 0) return;
    bf_record_start(&bf_back_shot_table, &rig->back_shot[0]);
    rig->back_shot[0].size = bf_shot_size_find(choice->size);
    rig->back_shot[0].count = choice->count;
    rig->back_shot[0].at_m = fmin(choice->above_m, rig->tip_to_float_m / 2);
}

/* What a rig costs within its float: hang in the worst wind and what its back shots must gain; infinite: does not hold. */
static double price_anew(const bf_stand *stand) {
    double hang_m, back_kg = 0;
    for (int i = 0; i < stand->rig.n_back_shots; i++)
        back_kg += stand->rig.back_shot[i].count *
                   bf_shot_mass_kg(&stand->rig.back_shot[i], stand->rig.shot_error.value);
    return holds_anew(stand, &hang_m) ? hang_m + BF_BACK_GAIN_M_PER_KG * back_kg : BF_INFINITY;
}

/* A float of the catalogue in one pattern with one choice of back shots. */
static bf_stand with_float(const bf_stand *stand, int flt, int pattern, int back) {
    double wet_m = stand->scene.spot.depth_m.value + stand->hold.overdepth_m.value;
    bf_stand with = *stand;
    with.rig.flt = bf_float_settled(&bf_floats[flt]);
    with.rig.n_shots = bf_pattern_shot(&with.rig, pattern, stand->rig.shot[0].metal, wet_m,
                                       bf_lake_density_kg_m3(&stand->scene.lake));
    put_back_shots_on(&with.rig, &bf_back_choices[back]);
    return with;
}

/* The last choice of back shots that weighs no more than a third of the rating (0.33, as the header says). */
static int most_back_shots(const bf_stand *stand, double rating_kg) {
    int most = 0;
    for (int back = 1; back < bf_n_back_choices; back++) {
        bf_shot shot;
        bf_record_start(&bf_back_shot_table, &shot);
        shot.size = bf_shot_size_find(bf_back_choices[back].size);
        double kg = bf_back_choices[back].count * bf_shot_mass_kg(&shot, stand->rig.shot_error.value);
        if (kg <= 0.33 * rating_kg) most = back;
    }
    return most;
}

/* The lightest float with which any pattern holds, bare or with as many back shots as it may bear, and the price of the
 * best; bf_n_floats: none. */
static int lightest_anew(const bf_stand *stand, int has_back, double *price) {
    for (int flt = 0; flt < bf_n_floats; flt++) {
        int back = has_back ? most_back_shots(stand, bf_floats[flt].rating_kg) : 0;
        *price = BF_INFINITY;
        for (int pattern = 0; pattern < BF_N_PATTERNS; pattern++) {
            bf_stand with = with_float(stand, flt, pattern, back);
            if (with.rig.n_shots > 0) *price = fmin(*price, price_anew(&with));
        }
        if (*price < BF_INFINITY) return flt;
    }
    return bf_n_floats;
}

static bf_suggestion suggested(const bf_stand *stand, int has_rig) {
    bf_suggest_ask ask = {.has_rig = has_rig};
    bf_suggestion out;
    assert_int_equal(bf_suggest(stand, &ask, &out), BF_OK);
    return out;
}

static int float_of(const bf_suggestion *suggestion) {
    return suggestion->item[BF_SUGGEST_FLOAT].choice;
}

/* The same, first on the line as given, then on one with 10 cm of slack and back shots; *on is the stand it was found on. */
static int lightest_on_any_line(const bf_stand *stand, bf_stand *on, double *price) {
    int lightest = bf_n_floats;
    *on = *stand;
    for (int has_back = 0; has_back < 2 && lightest == bf_n_floats; has_back++)
        lightest = lightest_anew(on, has_back, price);
    if (on->rig.tip_to_float_m <= on->hold.tip_height_m.value + 0.10) return lightest;
    if (lightest < bf_n_floats) return lightest;
    on->rig.tip_to_float_m = on->hold.tip_height_m.value + 0.10;
    lightest = lightest_anew(on, 1, price);
    return lightest;
}

/* How many random plans: a few, or with BF_LONG=1 in the environment all of them. */
static int plans(int few, int all) {
    return getenv("BF_LONG") ? all : few;
}

static void no_float_or_pattern_of_the_catalogue_beats_the_suggested_one(void **state) {
    (void)state;
    int n_plans = plans(12, 200), n_hold = 0, floats[32] = {0}, patterns[BF_N_PATTERNS] = {0}, backs[8] = {0},
        shortened = 0;
    for (int index = 0; index < n_plans; index++) {
        bf_stand stand = random_stand(index), with = stand, on;
        bf_suggestion out = suggested(&stand, 0);
        double price;
        int lightest = lightest_on_any_line(&stand, &on, &price);
        assert_int_equal(out.holds, lightest < bf_n_floats);
        if (!out.holds) continue;
        n_hold++;
        int pattern = out.item[BF_SUGGEST_SHOT].choice;
        with.rig = out.rig;
        assert_int_equal(float_of(&out), lightest);
        BF_CHECK_ABS(out.rig.tip_to_float_m, on.rig.tip_to_float_m, 0);
        double suggested_price = price_anew(&with);
        assert_true(suggested_price <= price + BF_SAME_M);
        for (int back = 0; back <= most_back_shots(&stand, bf_floats[lightest].rating_kg); back++) {
            bf_stand other = with_float(&on, lightest, pattern, back);
            assert_true(suggested_price <= price_anew(&other) + BF_SAME_M);
        }
        floats[lightest]++;
        patterns[pattern]++;
        backs[out.item[BF_SUGGEST_BACK_SHOTS].choice]++;
        shortened += out.rig.tip_to_float_m < stand.rig.tip_to_float_m;
    }
    print_message("of %d random plans %d have a rig that holds, %d on a shorter line; by float:", n_plans,
                  n_hold, shortened);
    for (int i = 0; i < bf_n_floats; i++) print_message(" %g g %d,", bf_floats[i].rating_kg * 1e3, floats[i]);
    for (int i = 0; i < BF_N_PATTERNS; i++) print_message(" %s %d,", bf_pattern_words[i], patterns[i]);
    for (int i = 0; i < bf_n_back_choices; i++) print_message(" back shots %d: %d,", i, backs[i]);
    print_message("\n");
    /* Both answers must have been met often, else the comparison says little. */
    assert_in_range(n_hold, n_plans / 10, n_plans - n_plans / 10);
}

/* Practice ----------------------------------------------------------------------------------------------- */

/* A usual spot: "long" of the invented Withy Pool, the middle start rig's lines. */
static bf_stand usual_stand(double wind_m_s) {
    bf_stand stand;
    bf_stand_start(&stand);
    stand.scene.lake.temp_c = bf_exactly(11.5);
    stand.scene.lake.wind_m_s = bf_exactly(wind_m_s);
    stand.scene.lake.wind_side_deg = bf_exactly(90);
    stand.scene.spot.distance_m = bf_exactly(11.5);
    stand.scene.spot.depth_m = bf_exactly(1.62);
    stand.hook_bait = bf_catalogue[bf_catalogue_find("hard-6", 6)].bait;
    stand.rig = bf_rigs[1].rig;
    bf_stand_settle(&stand);
    return stand;
}

static double shot_kg_of_size(const bf_rig *rig, const char *size, int *count) {
    double sum = 0;
    *count = 0;
    for (int i = 0; i < rig->n_shots; i++) {
        sum += rig->shot[i].count * bf_shot_mass_kg(&rig->shot[i], 0);
        if (rig->shot[i].size == bf_shot_size_find(size)) *count += rig->shot[i].count;
    }
    return sum;
}

/* trade.md 8, common practice, no source: a 0.4 g float takes five No 8 shot and a few trimmers. */
static void a_04_g_float_is_suggested_with_about_five_no_8_and_trimmers(void **state) {
    (void)state;
    bf_stand stand = usual_stand(2);
    bf_rig rig;
    int i = 0, no_8;
    while (fabs(bf_floats[i].rating_kg - 0.4e-3) > 1e-9) i++;
    assert_int_equal(bf_suggest_rig(&stand, i, BF_PATTERN_BULK, &rig), BF_OK);
    double kg = shot_kg_of_size(&rig, "No 8", &no_8);
    assert_in_range(no_8, 4, 6);
    BF_CHECK_IN(kg, 0.34e-3, 0.44e-3);
}

/* trade_rules.csv (from memory, common practice): 0.1 to 0.4 g a metre of depth, still and calm (at 2.5 m it comes out at 0.08: in a
 * dead calm nothing that is judged asks for more, and how fast a rig goes down is not among the limits); more in wind: 0.5 to 1 g at
 * 2 m in a breeze. No limit was moved for it. */
static void a_calm_asks_for_01_to_04_g_a_metre(void **state) {
    (void)state;
    static const double depths_m[] = {0.6, 1.0, 1.62, 2.5};
    for (size_t i = 0; i < sizeof depths_m / sizeof depths_m[0]; i++) {
        bf_stand stand = usual_stand(0);
        stand.scene.spot.depth_m = bf_exactly(depths_m[i]);
        bf_suggestion out = suggested(&stand, 0);
        assert_true(out.holds);
        BF_CHECK_IN(out.rig.flt.rating_kg / depths_m[i], depths_m[i] < 2 ? 0.1e-3 : 0.08e-3, 0.4e-3);
        if (depths_m[i] != 1.62) continue; /* the header's example */
        BF_CHECK_ABS(out.rig.flt.rating_kg, 0.2e-3, 1e-12);
        assert_int_equal(out.item[BF_SUGGEST_FLOAT].why_not.code, BF_SAID_WHY_HIGH_CALM);
        assert_int_equal(out.item[BF_SUGGEST_SHOT].choice, BF_PATTERN_BULK);
        assert_int_equal(out.rig.n_back_shots, 0);
    }
}

static void a_breeze_asks_for_05_to_1_g_at_two_metres(void **state) {
    (void)state;
    bf_stand stand = usual_stand(2);
    stand.scene.lake.wind_m_s = (bf_quantity){2, 1.5, 0};
    stand.scene.spot.depth_m = bf_exactly(2);
    stand.hold.overdepth_m.value = 0.10;
    bf_suggestion out = suggested(&stand, 0), calm;
    stand.scene.lake.wind_m_s = bf_exactly(0);
    calm = suggested(&stand, 0);
    assert_true(out.holds && calm.holds);
    assert_true(out.rig.flt.rating_kg > calm.rig.flt.rating_kg);
    BF_CHECK_IN(out.rig.flt.rating_kg, 0.5e-3, 1e-3);
}

/* An angler's own rig ------------------------------------------------------------------------------------- */

static void a_rig_of_ones_own_that_holds_is_kept(void **state) {
    (void)state;
    int kept = 0, replaced = 0;
    for (int index = 0; index < plans(8, 30); index++) {
        bf_stand stand = random_stand(index);
        bf_suggestion own = suggested(&stand, 1), any = suggested(&stand, 0);
        double hang_m;
        int holds = holds_anew(&stand, &hang_m);
        int is_same_line =
            any.rig.tip_to_float_m == stand.rig.tip_to_float_m; /* one's own is not shortened */
        assert_int_equal(own.own.limit == BF_LIMIT_NONE, holds);
        if (holds) {
            kept++;
            assert_true(own.holds && own.is_own);
            assert_int_equal(float_of(&own), -1);
            assert_int_equal(own.item[BF_SUGGEST_FLOAT].because.code, BF_SAID_YOURS_HOLDS);
            assert_memory_equal(&own.rig.flt, &stand.rig.flt, sizeof own.rig.flt);
            if (is_same_line) assert_int_equal(own.item[BF_SUGGEST_FLOAT].runner_up, float_of(&any));
        } else if (any.holds && !own.is_own && is_same_line) {
            replaced++;
            assert_int_equal(float_of(&own), float_of(&any));
            assert_int_equal(own.item[BF_SUGGEST_FLOAT].because.code, BF_SAID_YOURS_FAILS);
            assert_int_equal(own.item[BF_SUGGEST_FLOAT].other.code, BF_SAID_YOURS);
        }
    }
    print_message("%d rigs kept, %d replaced\n", kept, replaced);
    assert_true(kept > 0 && replaced > 0);
}

/* When nothing holds -------------------------------------------------------------------------------------- */

static int is_of(int code, const int *codes, int n) {
    for (int i = 0; i < n; i++)
        if (codes[i] == code) return 1;
    return 0;
}

static void when_nothing_holds_the_nearest_miss_is_said(void **state) {
    (void)state;
    static const int no[] = {BF_SAID_NO_FLOAT_HANG, BF_SAID_NO_FLOAT_GUST,    BF_SAID_NO_FLOAT_BITE,
                             BF_SAID_NO_FLOAT_HIGH, BF_SAID_NO_FLOAT_DROWNED, BF_SAID_NO_FLOAT_STANDS};
    for (int wind = 12; wind <= 20; wind += 4) {
        bf_stand stand = usual_stand(wind);
        bf_suggestion out = suggested(&stand, 0);
        const bf_suggested *item = &out.item[BF_SUGGEST_FLOAT];
        assert_int_equal(out.holds, 0);
        assert_true(out.judged.limit != BF_LIMIT_NONE && out.judged.miss_frac > 1);
        assert_true(is_of(item->because.code, no, 6));
        assert_int_equal(item->choose.code, BF_SAID_NEAREST);
        assert_int_equal(item->other.code, BF_SAID_FLOAT);
        assert_true(item->why_not.code != BF_SAID_NOTHING);
        assert_true(out.rig.n_shots > 0);
    }
}

/* Judging ------------------------------------------------------------------------------------------------- */

static void a_bite_is_judged_by_the_lowest_shot_and_a_minute_of_arc(void **state) {
    (void)state;
    bf_stand stand = usual_stand(0);
    bf_judged judged;
    stand.rig.n_shots = 1;
    bf_record_start(&bf_shot_table, &stand.rig.shot[0]);
    stand.rig.shot[0].mass_kg = 0.3e-3;
    stand.rig.shot[0].metal = BF_LEAD;
    stand.rig.shot[0].count = 1;
    stand.rig.shot[0].at_m = 0.5;
    stand.rig.shot[1] = stand.rig.shot[0];
    stand.rig.n_shots = 2;
    stand.rig.shot[1].mass_kg = 1e-5;
    stand.rig.shot[1].at_m = 0.2;
    stand.rig.flt.bristle_m = 1e-3;
    assert_int_equal(bf_judge(&stand, &judged), BF_OK);
    /* tackle.md 5: a 10 mg lead shot moves a 1.0 mm bristle 11.62 mm (15 C; here the water is a little denser). */
    BF_CHECK_REL(judged.bite_m, 11.62e-3, 2e-3);
    BF_CHECK_REL(judged.seen_m, 11.5 * tan(PI / 180 / 60), 1e-6);
    stand.rig.flt.bristle_m = 2.5e-3;
    assert_int_equal(bf_judge(&stand, &judged), BF_OK);
    assert_int_equal(judged.limit, BF_LIMIT_BITE);
}

/* Pots ---------------------------------------------------------------------------------------------------- */

/* The 10 % point of what a pot holds, by an ensemble of the pot's own model. */
static double holds_nine_in_ten(const bf_scene *scene) {
    enum { DRAWS = 2048 };
    static double rows[DRAWS * 4], nominal[4], work[1 << 16];
    static bf_ensemble_result result;
    bf_ensemble ensemble = {&bf_pot_schema, scene, bf_pot_model, 4, 0, 1, DRAWS};
    assert_true(bf_ensemble_work_bytes(&ensemble) <= sizeof work);
    assert_int_equal(bf_ensemble_nominal(&ensemble, nominal), BF_OK);
    assert_int_equal(bf_ensemble_range(&ensemble, 0, DRAWS, work, rows), BF_OK);
    bf_ensemble_finish(&ensemble, rows, nominal, work, &result);
    return result.range[0].lo;
}

static void the_pot_is_the_smallest_that_holds_the_put_in_nine_times_in_ten(void **state) {
    (void)state;
    int met[8] = {0};
    for (int count = 5; count <= 500; count = count * 5 / 3 + 1) {
        bf_stand stand = usual_stand(0);
        stand.scene.bait = bf_catalogue[bf_catalogue_find("hard-4", 6)].bait;
        stand.scene.put.how = BF_CLUMP;
        stand.scene.put.count = count;
        bf_suggestion out = suggested(&stand, 0);
        const bf_suggested *item = &out.item[BF_SUGGEST_POT];
        for (int i = 0; i < bf_n_pots; i++) {
            bf_scene with = stand.scene;
            with.pot = bf_pots[i].pot;
            double least = holds_nine_in_ten(&with);
            if (fabs(least - count) < 0.08 * count) continue; /* too close for the sum of squares to tell */
            int covers = item->because.code == BF_SAID_POT_COVERS;
            if (least >= count)
                assert_true(covers && bf_pots[item->choice].pot.volume_m3.value <= with.pot.volume_m3.value);
            else
                assert_true(!covers || item->choice != i);
        }
        if (item->because.code == BF_SAID_POT_COVERS)
            met[item->choice]++;
        else
            assert_int_equal(item->because.code, BF_SAID_POT_NEAREST);
    }
    for (int i = 0; i < bf_n_pots; i++) assert_true(met[i] > 0);
}

static void a_potful_and_a_throw_ask_for_no_pot(void **state) {
    (void)state;
    bf_stand stand = usual_stand(0);
    bf_suggestion out = suggested(&stand, 0);
    assert_int_equal(out.item[BF_SUGGEST_POT].because.code, BF_SAID_POT_FULL);
    stand.scene.put.count = 20;
    stand.scene.put.how = BF_THROW;
    out = suggested(&stand, 0);
    assert_int_equal(out.item[BF_SUGGEST_POT].because.code, BF_SAID_POT_UNUSED);
}

/* Sentences ------------------------------------------------------------------------------------------------ */

static void every_sentence_asks_only_for_numbers_it_has(void **state) {
    (void)state;
    static const char *const forms[] = {"m",   "mm",      "cm",   "s",   "n",      "pct",  "g",
                                        "m_s", "pattern", "shot", "pot", "tenths", "count"};
    assert_string_equal(bf_said_sentence(BF_SAID_NOTHING), "");
    for (int code = 1; code < BF_N_SAIDS; code++) {
        const char *at = bf_said_sentence(code);
        assert_true(strlen(at) > 0);
        while ((at = strchr(at, '{'))) {
            char form[16] = {0};
            int known = 0;
            size_t n = strcspn(at, "}");
            assert_true(at[1] >= '0' && at[1] <= '3' && at[2] == ':' && at[n] == '}' && n - 3 < sizeof form);
            memcpy(form, at + 3, n - 3);
            for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) known |= strcmp(form, forms[i]) == 0;
            assert_true(known);
            at += n;
        }
    }
}

/* 1 when two say the same, to the last bit. */
static int is_same_said(const bf_said *a, const bf_said *b) {
    return a->code == b->code && memcmp(a->number, b->number, sizeof a->number) == 0;
}

/* Own rigs that hold and that do not, among them such as the catalogue replaces. */
static void candidates_tried_side_by_side_suggest_the_same(void **state) {
    (void)state;
    int n_kept = 0;
    for (int k = 0; k < plans(4, 24); k++) {
        bf_stand stand = random_stand(k);
        const bf_suggest_ask ask = {.has_rig = 1};
        bf_suggest_tried tried[BF_SUGGEST_TRIES];
        bf_suggestion here, from;
        for (int i = BF_SUGGEST_TRIES - 1; i >= 0; i--) bf_suggest_try(&stand, i, &tried[i]);
        assert_int_equal(bf_suggest_tackle(&stand, &ask, NULL, &here), BF_OK);
        assert_int_equal(bf_suggest_tackle(&stand, &ask, tried, &from), BF_OK);
        assert_int_equal(here.holds, from.holds);
        assert_int_equal(here.is_own, from.is_own);
        assert_int_equal(here.is_as_it_is, from.is_as_it_is);
        assert_memory_equal(&here.judged, &from.judged, sizeof here.judged);
        assert_memory_equal(&here.own, &from.own, sizeof here.own);
        for (int i = 0; i < BF_N_SUGGESTS; i++) {
            const bf_suggested *a = &here.item[i], *b = &from.item[i];
            assert_int_equal(a->choice, b->choice);
            assert_int_equal(a->runner_up, b->runner_up);
            assert_true(is_same_said(&a->choose, &b->choose) && is_same_said(&a->because, &b->because));
            assert_true(is_same_said(&a->other, &b->other) && is_same_said(&a->why_not, &b->why_not));
        }
        n_kept += here.is_own;
    }
    printf("%d own rigs kept\n", n_kept);
    assert_true(n_kept > 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_float_or_pattern_of_the_catalogue_beats_the_suggested_one),
        cmocka_unit_test(a_04_g_float_is_suggested_with_about_five_no_8_and_trimmers),
        cmocka_unit_test(a_calm_asks_for_01_to_04_g_a_metre),
        cmocka_unit_test(a_breeze_asks_for_05_to_1_g_at_two_metres),
        cmocka_unit_test(a_rig_of_ones_own_that_holds_is_kept),
        cmocka_unit_test(candidates_tried_side_by_side_suggest_the_same),
        cmocka_unit_test(when_nothing_holds_the_nearest_miss_is_said),
        cmocka_unit_test(a_bite_is_judged_by_the_lowest_shot_and_a_minute_of_arc),
        cmocka_unit_test(the_pot_is_the_smallest_that_holds_the_put_in_nine_times_in_ten),
        cmocka_unit_test(a_potful_and_a_throw_ask_for_no_pot),
        cmocka_unit_test(every_sentence_asks_only_for_numbers_it_has),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
