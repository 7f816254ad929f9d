/* rollout_test.c -- ways on from here (core/swim/rollout.h).
 *
 * Oracle: play.h, in steps of 1 s, fished by the same rule (days.h). Seeds are fixed. */
#include "core/swim/rollout.h"

#include "baitfall/random.h"
#include "common/check.h"
#include "core/swim/fixed.h"
#include "core/swim/planner.h"
#include "swim/days.h"

static int runs_of(int whole, int small) {
    return getenv("BF_LONG") ? whole : small;
}

static bfi_hands hands_of_days(void) {
    bfi_hands hands = {.put_in_s = 15, .fish_kg = 1.2, .fish_spread = 2};
    for (int outcome = 0; outcome <= BF_NOTHING; outcome++) hands.busy_s[outcome] = days_busy_s(outcome);
    return hands;
}

static bfi_rule fours(double count, double every_s) {
    return (bfi_rule){.hook = DAYS_SOFT_SIX,
                      .feed = DAYS_HARD_FOUR,
                      .how = BF_CLUMP,
                      .count = count,
                      .area_m2 = 0.07,
                      .every_s = every_s,
                      .blank_s = 150};
}

static bfi_rollout by_one_rule(bfi_rule rule, double for_s, uint64_t seed) {
    return (bfi_rollout){.first = rule,
                         .then = rule,
                         .for_s = for_s,
                         .since_put_s = INFINITY,
                         .hands = hands_of_days(),
                         .seed = seed};
}

/* A session's beginning, its parameters drawn from the book. */
static void begin(bfi_swim_alone *alone, double temp_c, int i) {
    bf_swim_scene scene = days_scene(temp_c);
    bf_swim_prior book = bf_swim_book();
    bf_swim_set set = bf_swim_drawn_set(&book, 1, i % 256, 256);
    double x[BFI_SWIM_MOST_COLUMNS];
    bfi_swim swim;
    bfi_swim_prepare(&swim, &scene, &set, 77, (uint64_t)i);
    bfi_swim_begin(&swim, 1, x);
    bfi_swim_take(&swim, 1, x, 0, alone);
}

static bfi_haul from_the_beginning(const bfi_rollout *rollout, int i) {
    bfi_swim_alone alone;
    begin(&alone, 18, i);
    return bfi_rollout_run(rollout, &alone, i);
}

static double bites(const bfi_haul *haul) {
    return haul->n[BF_LANDED] + haul->n[BF_LOST] + haul->n[BF_MISSED] + haul->n[BF_FOUL];
}

typedef struct pairs {
    int n;
    double a, b, aa, bb, d, dd;
} pairs;

static void take(pairs *p, double a, double b) {
    p->n++, p->a += a, p->b += b, p->aa += a * a, p->bb += b * b, p->d += a - b, p->dd += (a - b) * (a - b);
}
static double variance(double n, double sum, double squares) {
    return (squares - sum * sum / n) / (n - 1);
}

/* ---- Against play ---- */

/* Landed fish that would be entered as such. */
static double entered_as_landed(const bfi_haul *haul) {
    double landed = haul->n[BF_LANDED], all = bites(haul);
    return landed - (1 - NOT_ENTERED) * MISLABELLED * (landed - (all - landed) / (N_BITES - 1));
}

/* To four standard errors, and 1.5 % for the longer steps. */
static void a_rollout_brings_what_a_play_by_the_same_rule_does(void **state) {
    (void)state;
    int n = runs_of(3000, 150);
    bfi_rollout base = by_one_rule(fours(15, 180), 3600, 5);
    const days_rule rule = {
        .feed = DAYS_HARD_FOUR, .hook = DAYS_SOFT_SIX, .pieces = 15, .every_s = 180, .patience_s = 150};
    bf_swim_scene scene = days_scene(18);
    bf_swim_prior book = bf_swim_book();
    pairs all = {0}, landed = {0};
    for (int i = 0; i < n; i++) {
        bfi_haul haul = from_the_beginning(&base, i);
        bf_swim_set set = bf_swim_drawn_set(&book, 1, i % 256, 256);
        days_angler angler = days_open(&scene, &set, (uint64_t)i);
        days_tally tally = days_fish(&angler, &rule, 3600);
        days_close(&angler);
        take(&all, bites(&haul), tally.bites);
        take(&landed, entered_as_landed(&haul), tally.outcome[BF_LANDED]);
    }
    double se_all = sqrt(variance(n, all.d, all.dd) / n),
           se_landed = sqrt(variance(n, landed.d, landed.dd) / n);
    print_message("bites %.3f and %.3f (se %.3f), landed %.3f and %.3f (se %.3f)\n", all.a / n, all.b / n,
                  se_all, landed.a / n, landed.b / n, se_landed);
    BF_CHECK_ABS(all.a / n, all.b / n, 4 * se_all + 0.015 * all.b / n);
    BF_CHECK_ABS(landed.a / n, landed.b / n, 4 * se_landed + 0.015 * landed.b / n);
}

/* ---- Shared luck ---- */

static void the_same_rule_and_luck_bring_the_same_and_a_longer_outing_begins_with_the_shorter(void **state) {
    (void)state;
    bfi_rollout hour = by_one_rule(fours(15, 180), 3600, 5), half = by_one_rule(fours(15, 180), 1800, 5);
    for (int i = 0; i < 20; i++) {
        bfi_haul a = from_the_beginning(&hour, i), b = from_the_beginning(&hour, i);
        assert_memory_equal(&a, &b, sizeof a);
        b = from_the_beginning(&half, i);
        for (int outcome = 0; outcome <= BF_FOUL; outcome++) assert_true(b.n[outcome] <= a.n[outcome]);
        assert_true(b.n_put_ins < a.n_put_ins && b.kg <= a.kg);
    }
}

static void fish_k_weighs_the_same_under_every_rule(void **state) {
    (void)state;
    bfi_rollout a = by_one_rule(fours(15, 180), 3600, 5), b = by_one_rule(fours(30, 240), 3600, 5);
    int n_equal = 0;
    for (int i = 0; i < 60; i++) {
        bfi_haul of_a = from_the_beginning(&a, i), of_b = from_the_beginning(&b, i);
        int less = of_a.n[BF_LANDED] <= of_b.n[BF_LANDED];
        assert_true(less ? of_a.kg <= of_b.kg : of_b.kg <= of_a.kg);
        if (of_a.n[BF_LANDED] != of_b.n[BF_LANDED] || of_a.n[BF_LANDED] == 0) continue;
        n_equal++;
        assert_true(of_a.kg == of_b.kg);
    }
    assert_true(n_equal >= 3);
}

/* Blocks of every size, of several rules and scenarios, spots and ways of feeding. */
static void side_by_side_each_brings_what_it_does_alone(void **state) {
    (void)state;
    static bfi_rollouts block;
    bfi_rollout rollout[4] = {by_one_rule(fours(15, 180), 1201, 5), by_one_rule(fours(30, 60), 1201, 5),
                              by_one_rule(fours(8, 90), 1201, 5), by_one_rule(fours(20, 240), 1201, 5)};
    rollout[1].then.how = rollout[1].first.how = BF_THROW, rollout[1].first_s = 300;
    rollout[2].then.after_bite = 1, rollout[3].then.hook = DAYS_BANDED_SIX, rollout[3].first.feed = -1;
    for (int n = 1; n <= BFI_WAYS; n++) {
        bfi_rollouts_begin(&block, n);
        for (int i = 0; i < n; i++) {
            bfi_swim_alone alone;
            begin(&alone, 18, i / 3);
            bfi_rollouts_add(&block, &rollout[i % 4], &alone, i / 3);
        }
        bfi_rollouts_run(&block);
        for (int i = 0; i < n; i++) {
            bfi_haul haul = from_the_beginning(&rollout[i % 4], i / 3);
            assert_memory_equal(&haul, &block.outing[i].haul, sizeof haul);
        }
    }
}

/* Variance of a difference of landed fish, truth and luck of both apart, over that of pairs; and of pairs with luck apart. */
static void pairs_that_share_truth_and_luck_tell_rules_apart_sooner(void **state) {
    (void)state;
    enum { CHANGES = 7 };
    static const char *const words[CHANGES] = {"12 pieces, not 15",
                                               "8",
                                               "30",
                                               "every 90 s, not 180",
                                               "lifted after 240 s, not 150",
                                               "a banded hook bait",
                                               "60 every 600 s"};
    bfi_rule changed[CHANGES] = {fours(12, 180), fours(8, 180),  fours(30, 180), fours(15, 90),
                                 fours(15, 180), fours(15, 180), fours(60, 600)};
    changed[4].blank_s = 240, changed[5].hook = DAYS_BANDED_SIX;
    int n = runs_of(1500, 100);
    double paired_all = 0, truth_all = 0;
    bfi_rollout base = by_one_rule(fours(15, 180), 3600, 5);
    for (int k = 0; k < CHANGES; k++) {
        bfi_rollout change = by_one_rule(changed[k], 3600, 5), other_luck = by_one_rule(changed[k], 3600, 6);
        pairs paired = {0}, truth = {0};
        for (int i = 0; i < n; i++) {
            bfi_haul a = from_the_beginning(&base, i), b = from_the_beginning(&change, i),
                     c = from_the_beginning(&other_luck, i);
            take(&paired, a.n[BF_LANDED], b.n[BF_LANDED]);
            take(&truth, a.n[BF_LANDED], c.n[BF_LANDED]);
        }
        double apart = variance(n, paired.a, paired.aa) + variance(n, paired.b, paired.bb),
               of_pairs = variance(n, paired.d, paired.dd), of_truth = variance(n, truth.d, truth.dd);
        print_message("%-28s %5.2f, not %5.2f; apart over pairs %.1f, over pairs with luck apart %.1f\n",
                      words[k], paired.b / n, paired.a / n, apart / of_pairs, apart / of_truth);
        assert_true(apart > 4 * of_pairs);
        paired_all += of_pairs, truth_all += of_truth;
    }
    assert_true(truth_all > 1.3 * paired_all);
}

/* ---- Rules ---- */

/* An hour's beginning without a fish about. */
static void begin_empty(bfi_swim_alone *alone) {
    begin(alone, 18, 0);
    double *own = alone->x + bfi_own_column(&alone->swim);
    alone->x[NEAR_FISH] = 0, own[BF_SWIM_STOCK] = 1e-9, own[BF_SWIM_NUISANCE] = 0;
}

static void thrown_feed_goes_in_on_time_over_the_rig(void **state) {
    (void)state;
    bfi_rule rule = fours(12, 60);
    rule.how = BF_THROW, rule.area_m2 = 3, rule.blank_s = 5000;
    bfi_rollout rollout = by_one_rule(rule, 600, 5);
    bfi_swim_alone alone;
    begin_empty(&alone);
    bfi_haul haul = bfi_rollout_run(&rollout, &alone, 0);
    assert_int_equal(haul.n_put_ins, 10);
    BF_CHECK_REL(haul.pieces, 120.0, 1e-15);
    assert_int_equal((int)alone.swim.now.rig_spot, 0);
    BF_CHECK_ABS(alone.swim.now.t_s, 600, 0);
}

static void a_pot_waits_for_the_rig_to_be_out(void **state) {
    (void)state;
    bfi_rollout rollout = by_one_rule(fours(40, 60), 1000, 5);
    bfi_swim_alone alone;
    begin_empty(&alone);
    /* 15 s for the pot, 150 s of fishing, 10 s to lift: every 175 s, at 0, 175, ... 875 */
    assert_int_equal(bfi_rollout_run(&rollout, &alone, 0).n_put_ins, 6);
}

static void the_first_rule_holds_for_its_time_and_a_put_in_is_due_by_the_last_one(void **state) {
    (void)state;
    bfi_rollout rollout = by_one_rule(fours(40, 300), 1000, 5);
    bfi_swim_alone alone;
    rollout.since_put_s = 200; /* due at 100, goes in when the rig is out: 160, 505, 840 */
    begin_empty(&alone);
    assert_int_equal(bfi_rollout_run(&rollout, &alone, 0).n_put_ins, 3);
    rollout.first.feed = -1, rollout.first_s = 600; /* at 640 and 975 */
    begin_empty(&alone);
    assert_int_equal(bfi_rollout_run(&rollout, &alone, 0).n_put_ins, 2);
    rollout.first_s = 1000;
    begin_empty(&alone);
    bfi_haul haul = bfi_rollout_run(&rollout, &alone, 0);
    assert_true(haul.n_put_ins == 0 && haul.pieces == 0);
}

static void after_a_bite_means_that_without_one_nothing_goes_in(void **state) {
    (void)state;
    bfi_rollout rollout = by_one_rule(fours(40, 60), 1000, 5);
    rollout.first.after_bite = rollout.then.after_bite = 1;
    bfi_swim_alone alone;
    begin_empty(&alone);
    assert_int_equal(bfi_rollout_run(&rollout, &alone, 0).n_put_ins, 0);
    rollout.n_bites = 1;
    begin_empty(&alone);
    assert_int_equal(bfi_rollout_run(&rollout, &alone, 0).n_put_ins, 1);
    bfi_haul haul = from_the_beginning(&rollout, 4);
    print_message("%g bites, %d put-ins\n", bites(&haul), haul.n_put_ins);
    assert_true(bites(&haul) >= 2 && haul.n_put_ins >= 2 && haul.n_put_ins <= 1 + bites(&haul));
}

static void a_rig_that_is_in_stays_and_another_is_lifted(void **state) {
    (void)state;
    for (int hook = 0; hook < 2; hook++) {
        bfi_rule rule = fours(15, 180);
        rule.feed = -1;
        bfi_rollout rollout = by_one_rule(rule, 8, 5);
        bfi_swim_alone alone;
        double log_w = 0;
        begin_empty(&alone);
        bfi_swim_meet(&alone.swim, 1, alone.x, &(bf_swim_event){.kind = BF_SWIM_IN, .what = hook}, &log_w);
        bfi_rollout_run(&rollout, &alone, 0);
        assert_int_equal((int)alone.swim.now.rig_spot, hook == DAYS_SOFT_SIX ? 0 : -1);
    }
}

/* ---- Steps ---- */

/* Small fish rob the bait at a rate that never changes: bites are a renewal process, whose mean and spread are known (D. Cox,
 * Renewal Theory, 1962, from memory). knock: touches besides, which must not matter. */
static void check_robbed(double knock) {
    enum { N = 20 };
    const double busy_s = 20, for_s = 3600;
    double all = 0, bites_h = 0;
    for (int i = 0; i < N; i++) {
        bfi_swim_alone alone;
        begin_empty(&alone);
        double *own = alone.x + bfi_own_column(&alone.swim);
        own[BF_SWIM_NUISANCE] = 1000, own[BF_SWIM_KNOCK] = knock;
        bfi_swim_bites_h(&alone.swim, 1, alone.x, 0, DAYS_SOFT_SIX, &bites_h);
        bfi_rule rule = fours(15, 180);
        rule.feed = -1, rule.blank_s = 1e4;
        bfi_rollout rollout = by_one_rule(rule, for_s, 5);
        for (int outcome = 0; outcome <= BF_NOTHING; outcome++) rollout.hands.busy_s[outcome] = busy_s;
        bfi_haul haul = bfi_rollout_run(&rollout, &alone, i);
        all += bites(&haul);
    }
    double wait_s = 3600 / bites_h, cycle_s = wait_s + busy_s, spread = wait_s * wait_s / (cycle_s * cycle_s);
    BF_CHECK_IN(wait_s, 3, 12);
    BF_CHECK_ABS(all / N, (for_s + busy_s) / cycle_s + 0.5 * (spread - 1),
                 4 * sqrt(for_s / cycle_s * spread / N));
}

static void bites_come_at_their_rate_whatever_the_steps_and_touches(void **state) {
    (void)state;
    check_robbed(0);
    check_robbed(0.5);
}

/* Fish near after an hour without feed and with nothing that takes the bait. */
static double near_then(int i, double blank_s, uint64_t seed) {
    bfi_rule rule = fours(15, 180);
    rule.feed = -1, rule.blank_s = blank_s;
    bfi_rollout rollout = by_one_rule(rule, 3600, seed);
    bfi_swim_alone alone;
    begin(&alone, 18, i);
    double *own = alone.x + bfi_own_column(&alone.swim), near;
    own[BF_SWIM_TAKE] = own[BF_SWIM_LINE] = own[BF_SWIM_NUISANCE] = 0;
    bfi_rollout_run(&rollout, &alone, i);
    bfi_swim_near(&alone.swim, 1, alone.x, &near);
    return near;
}

/* Rules that only differ in when the rig is lifted differ in the number of steps, but mostly not in the fish. */
static void luck_goes_by_the_clock_and_not_by_the_number_of_steps(void **state) {
    (void)state;
    enum { N = 60 };
    int alike = 0, by_chance = 0;
    for (int i = 0; i < N; i++) {
        double near = near_then(i, 151, 5);
        alike += near == near_then(i, 213, 5);
        by_chance += near == near_then(i, 213, 6);
    }
    print_message("fish near alike in %d of %d, with other luck in %d\n", alike, N, by_chance);
    assert_true(alike >= 3 * by_chance && alike >= N / 3);
}

static void a_particle_taken_from_a_block_is_that_particle(void **state) {
    (void)state;
    enum { N = 3, P = 1 };
    bf_swim_scene scene = days_scene(18);
    bf_swim_set set = days_book();
    double x[N * BFI_SWIM_MOST_COLUMNS], of_block[N], of_one;
    bfi_swim swim;
    bfi_swim_prepare(&swim, &scene, &set, 3, 0);
    bfi_swim_begin(&swim, N, x);
    bfi_swim_alone alone;
    bfi_swim_take(&swim, N, x, P, &alone);
    bfi_swim_bites_h(&swim, N, x, 0, 0, of_block);
    bfi_swim_bites_h(&alone.swim, 1, alone.x, 0, 0, &of_one);
    assert_true(of_one == of_block[P]);
    bfi_swim_near(&swim, N, x, of_block);
    bfi_swim_near(&alone.swim, 1, alone.x, &of_one);
    assert_true(of_one == of_block[P]);
}

/* ---- With the planner ---- */

static void feeding_is_told_from_not_feeding(void **state) {
    (void)state;
    enum { RULES = 5, SCENARIOS = 32 };
    bfi_rule rule[RULES] = {fours(15, 180), fours(15, 180), fours(5, 180), fours(15, 180), fours(30, 180)};
    rule[0].feed = -1, rule[3].blank_s = 600;
    static double value[RULES * SCENARIOS];
    bfi_planner planner;
    bfi_planner_begin(&planner, RULES, 0, SCENARIOS, SCENARIOS);
    do
        for (int i = 0; i < bfi_planner_items(&planner); i++) {
            bfi_planner_item item = bfi_planner_item_of(&planner, i);
            bfi_rollout rollout = by_one_rule(rule[item.candidate], 3600, 5);
            value[item.at] = from_the_beginning(&rollout, item.scenario).n[BF_LANDED];
        }
    while (bfi_planner_next(&planner, value));
    bfi_verdict verdict = bfi_planner_verdict(&planner, value);
    assert_int_not_equal(verdict.best, 0);
    assert_true(verdict.gain.lo > 0);
    /* how much it is said to bring is what it brings on other truths with other luck, to four standard errors of both */
    pairs fresh = {0};
    bfi_rollout fed = by_one_rule(rule[verdict.best], 3600, 5), bare = by_one_rule(rule[0], 3600, 5);
    for (int i = 1000; i < 1200; i++)
        take(&fresh, from_the_beginning(&fed, i).n[BF_LANDED], from_the_beginning(&bare, i).n[BF_LANDED]);
    double of_fresh = variance(fresh.n, fresh.d, fresh.dd) / fresh.n,
           sd = (verdict.gain.hi - verdict.gain.mid) / 1.2815515655446004;
    print_message("gain said %g (%g to %g) landed an hour, came %g\n", verdict.gain.mid, verdict.gain.lo,
                  verdict.gain.hi, fresh.d / fresh.n);
    BF_CHECK_ABS(verdict.gain.mid, fresh.d / fresh.n, 4 * sqrt(of_fresh + sd * sd));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_rollout_brings_what_a_play_by_the_same_rule_does),
        cmocka_unit_test(the_same_rule_and_luck_bring_the_same_and_a_longer_outing_begins_with_the_shorter),
        cmocka_unit_test(fish_k_weighs_the_same_under_every_rule),
        cmocka_unit_test(side_by_side_each_brings_what_it_does_alone),
        cmocka_unit_test(pairs_that_share_truth_and_luck_tell_rules_apart_sooner),
        cmocka_unit_test(thrown_feed_goes_in_on_time_over_the_rig),
        cmocka_unit_test(a_pot_waits_for_the_rig_to_be_out),
        cmocka_unit_test(the_first_rule_holds_for_its_time_and_a_put_in_is_due_by_the_last_one),
        cmocka_unit_test(after_a_bite_means_that_without_one_nothing_goes_in),
        cmocka_unit_test(a_rig_that_is_in_stays_and_another_is_lifted),
        cmocka_unit_test(bites_come_at_their_rate_whatever_the_steps_and_touches),
        cmocka_unit_test(luck_goes_by_the_clock_and_not_by_the_number_of_steps),
        cmocka_unit_test(a_particle_taken_from_a_block_is_that_particle),
        cmocka_unit_test(feeding_is_told_from_not_feeding),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
