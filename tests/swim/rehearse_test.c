/* rehearse_test.c -- sessions that did not take place (baitfall/rehearse.h).
 *
 * Oracles: play.h, in steps of 1 s, for how soon a bite comes; the integrated hazard for how many. Seeds are fixed; what is drawn is held to
 * bounds that a right program misses once in a thousand (stated where it stands). */
#include "baitfall/rehearse.h"

#include "baitfall/random.h"
#include "common/check.h"
#include "core/swim/advise.h"
#include "swim/days.h"

#define BUSY_S 45.0
#define PUT_IN_S 15.0
#define MOST_EVENTS 2000

static bf_swim_scene scene;
static double truth[200];
static bf_swim_event event[MOST_EVENTS], other[MOST_EVENTS];
static bf_rehearse_point point[800];

/* All parameters at their middles but the logarithms' spread. */
static bf_swim_prior certain(void) {
    bf_swim_prior prior = bf_swim_book();
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) prior.sd[i] = 0;
    return prior;
}

static bf_turn fed(double t_s, double count) {
    return (bf_turn){
        .t_s = t_s, .kind = BF_TURN_FEED, .what = DAYS_HARD_FOUR, .count = count, .area_m2 = 0.07};
}
static bf_turn lowered(double t_s, int hook) {
    return (bf_turn){.t_s = t_s, .kind = BF_TURN_LOWER, .what = hook};
}
static bf_turn waited(double t_s, double for_s) {
    return (bf_turn){.t_s = t_s, .kind = BF_TURN_WAIT, .for_s = for_s};
}

static bf_rehearsal rehearsal_of(const bf_swim_prior *prior, uint64_t seed, const bf_turn *turn, int n,
                                 double until_s) {
    scene = days_scene(16);
    assert_true(bf_rehearse_columns(&scene) <= (int)(sizeof truth / sizeof truth[0]));
    bf_rehearse_begin(&scene, prior, seed, truth);
    return (bf_rehearsal){.scene = &scene,
                          .truth = truth,
                          .seed = seed,
                          .turn = turn,
                          .n_turns = n,
                          .until_s = until_s,
                          .busy_s = BUSY_S,
                          .put_in_s = PUT_IN_S,
                          .fish_kg = BF_REHEARSE_FISH_KG,
                          .fish_spread = BF_REHEARSE_FISH_SPREAD};
}

static bf_rehearse_day day_of(const bf_rehearsal *r, bf_swim_event *into) {
    bf_rehearse_day day = {.event = into, .most_events = MOST_EVENTS, .point = point, .most_points = 800};
    memset(into, 0, MOST_EVENTS * sizeof *into);
    bf_rehearse(r, &day);
    assert_true(day.n_events <= MOST_EVENTS);
    return day;
}

/* An hour: 15 hard four every 5 min, the rig in again as it can be. */
#define FED_TURNS 13
static void fed_turns(bf_turn *turn) {
    for (int i = 0; i < 12; i++) turn[i + (i > 0)] = fed(300 * i, 15);
    turn[1] = lowered(0, DAYS_SOFT_SIX);
}

/* ---- The day ---- */

static void same_seed_and_choices_are_the_same_day(void **state) {
    (void)state;
    bf_turn turn[FED_TURNS];
    bf_swim_prior book = bf_swim_book();
    fed_turns(turn);
    bf_rehearsal r = rehearsal_of(&book, 3, turn, FED_TURNS, 3600);
    r.goes_in_again = 1;
    bf_rehearse_day a = day_of(&r, event);
    bf_rehearse_day b = day_of(&r, other);
    assert_true(a.n_events > FED_TURNS && a.n_events == b.n_events && a.kg == b.kg && a.due == b.due);
    assert_memory_equal(event, other, sizeof event);
    r.seed = 4;
    b = day_of(&r, other);
    assert_true(memcmp(event, other, sizeof event) != 0);
}

/* Events before an instant. */
static int n_before(const bf_swim_event *of, int n, double t_s) {
    int k = 0;
    while (k < n && of[k].t_s < t_s) k++;
    return k;
}

static void a_choice_late_in_the_day_changes_nothing_before_it(void **state) {
    (void)state;
    bf_turn turn[FED_TURNS + 3];
    bf_swim_prior book = bf_swim_book();
    int n_seen = 0;
    fed_turns(turn);
    for (uint64_t seed = 1; seed <= 40; seed++) {
        bf_rehearsal r = rehearsal_of(&book, seed, turn, FED_TURNS, 3600);
        r.goes_in_again = 1;
        bf_rehearse_day a = day_of(&r, event);
        turn[FED_TURNS] = fed(3400, 500), turn[FED_TURNS + 1] = lowered(3420, DAYS_BANDED_SIX);
        turn[FED_TURNS + 2] = (bf_turn){.t_s = 3500, .kind = BF_TURN_LIFT};
        r.n_turns = FED_TURNS + 3;
        bf_rehearse_day b = day_of(&r, other);
        int n = n_before(event, a.n_events, 3400);
        assert_int_equal(n, n_before(other, b.n_events, 3400));
        assert_memory_equal(event, other, (size_t)n * sizeof *event);
        n_seen += n;
    }
    assert_true(n_seen > 40 * FED_TURNS);
}

/* However it is asked for, piece by piece as a screen does it. */
static void looking_in_between_changes_nothing(void **state) {
    (void)state;
    bf_turn turn[FED_TURNS];
    bf_swim_prior book = bf_swim_book();
    fed_turns(turn);
    bf_rehearsal r = rehearsal_of(&book, 8, turn, FED_TURNS, 3600);
    r.goes_in_again = 1;
    bf_rehearse_day whole = day_of(&r, event);
    for (double until_s = 37; until_s < 3600; until_s += 37) {
        r.until_s = until_s;
        bf_rehearse_day part = day_of(&r, other);
        assert_true(part.t_s >= until_s &&
                    part.t_s == BF_REHEARSE_TICK_S * floor(part.t_s / BF_REHEARSE_TICK_S));
        assert_true(part.n_events <= whole.n_events);
        assert_memory_equal(event, other, (size_t)part.n_events * sizeof *event);
    }
}

static void it_stops_at_the_first_bite_if_asked_to(void **state) {
    (void)state;
    bf_turn turn[2] = {fed(0, 30), lowered(0, DAYS_SOFT_SIX)};
    bf_swim_prior book = certain();
    bf_rehearsal r = rehearsal_of(&book, 2, turn, 2, 7200);
    bf_rehearse_day whole = day_of(&r, event);
    r.stops_at_bite = 1;
    bf_rehearse_day day = day_of(&r, other);
    const bf_swim_event *last = &other[day.n_events - 1];
    assert_true(last->kind == BF_SWIM_LIFT && last->outcome < BF_NOTHING && last->live == -1);
    assert_true(day.t_s < 7200 && day.t_s - last->t_s <= BF_REHEARSE_TICK_S && day.rig_spot == -1);
    assert_memory_equal(event, other, (size_t)day.n_events * sizeof *event);
    assert_true(whole.n_events >= day.n_events);
}

static void hands_are_busy_for_a_while(void **state) {
    (void)state;
    bf_turn turn[4] = {fed(0, 15), lowered(0, DAYS_SOFT_SIX), fed(100, 15), lowered(101, DAYS_BANDED_SIX)};
    bf_swim_prior book = certain();
    book.mean[BF_SWIM_STOCK] = book.mean[BF_SWIM_NUISANCE] = -20; /* no fish, no bites */
    bf_rehearsal r = rehearsal_of(&book, 2, turn, 4, 100);
    bf_rehearse_day day = day_of(&r, event);
    assert_int_equal(day.n_done, 3);
    assert_true(event[0].kind == BF_SWIM_FEED && event[0].t_s == 0);
    assert_true(event[1].kind == BF_SWIM_IN && event[1].t_s == PUT_IN_S);
    const bf_swim_event *out = &event[day.n_events - 2], *again = &event[day.n_events - 1];
    assert_true(out->kind == BF_SWIM_LIFT && out->outcome == BF_NOTHING && out->live == 2 && out->t_s == 100);
    assert_true(again->kind == BF_SWIM_FEED && again->live == 2 && again->t_s == 100 + BUSY_S);
    turn[2].how = BF_THROW, turn[2].area_m2 = 3; /* over the rig, at once */
    day = day_of(&r, event);
    assert_true(event[day.n_events - 1].kind == BF_SWIM_FEED && event[day.n_events - 1].t_s == 100);
    assert_int_equal(day.rig_spot, 0);
}

static void weights_are_read_to_ten_grams_and_add_up(void **state) {
    (void)state;
    bf_turn turn[FED_TURNS];
    bf_swim_prior book = certain();
    double kg = 0, all = 0;
    fed_turns(turn);
    for (uint64_t seed = 1; seed <= 30; seed++) {
        bf_rehearsal r = rehearsal_of(&book, seed, turn, FED_TURNS, 3600);
        r.goes_in_again = 1;
        bf_rehearse_day day = day_of(&r, event);
        double sum = 0;
        int n[BF_FOUL + 1] = {0};
        for (int k = 0; k < day.n_events; k++) {
            if (event[k].kind != BF_SWIM_LIFT || event[k].outcome >= BF_NOTHING) continue;
            n[event[k].outcome]++;
            assert_int_equal(isnan(event[k].value), event[k].outcome != BF_LANDED);
            if (event[k].outcome != BF_LANDED) continue;
            BF_CHECK_ABS(100 * event[k].value, floor(100 * event[k].value + 0.5), 1e-9);
            sum += event[k].value;
        }
        assert_memory_equal(n, day.n, sizeof n);
        BF_CHECK_ABS(sum, day.kg, 1e-9);
        kg += day.kg, all += day.n[BF_LANDED];
    }
    /* log-normal, factor 2 for eight in ten: mean 0.7 exp(0.541^2 / 2) = 0.81 kg; once in a thousand beyond 3.3 standard errors */
    assert_true(all > 100);
    BF_CHECK_ABS(kg / all, 0.81, 3.3 * 0.81 * 0.58 / sqrt(all));
}

/* ---- As many bites as there should be ---- */

/* What came less what was due is a martingale: mean 0, variance what was due. Beyond 3.3 of its roots once in a thousand. */
static void what_shows_is_what_was_due(void **state) {
    (void)state;
    bf_turn turn[FED_TURNS];
    bf_swim_prior book = bf_swim_book();
    double came = 0, due = 0;
    fed_turns(turn);
    for (int seed = 1; seed <= check_samples(300); seed++) {
        bf_rehearsal r = rehearsal_of(&book, (uint64_t)seed, turn, FED_TURNS, 3600);
        r.goes_in_again = 1;
        bf_rehearse_day day = day_of(&r, event);
        came += day.n_touches, due += day.due;
        for (int i = 0; i <= BF_FOUL; i++) came += day.n[i];
    }
    assert_true(due > 300);
    BF_CHECK_ABS(came, due, 3.3 * sqrt(due));
}

/* The share of first drops that end with a bite within ten minutes, here and as play.h has it: parameters from the book, the same for both;
 * luck of both apart. Two shares of so many: beyond 3.3 standard errors once in a thousand. */
static void bites_come_as_soon_as_in_a_play(void **state) {
    (void)state;
    int n = check_samples(3000), bitten[2] = {0, 0};
    bf_turn turn[2] = {fed(0, 15), lowered(0, DAYS_SOFT_SIX)};
    bf_swim_prior book = bf_swim_book();
    bf_play *play = malloc(bf_play_bytes());
    for (int seed = 1; seed <= n; seed++) {
        bf_rehearsal r = rehearsal_of(&book, (uint64_t)seed, turn, 2, PUT_IN_S + 600);
        r.stops_at_bite = 1;
        bf_rehearse_day day = day_of(&r, event);
        bitten[0] += day.rig_spot < 0;
        bf_swim_set set = bf_swim_drawn_set(&book, (uint64_t)seed, 0, 1);
        bf_swim_event shown,
            in = {.kind = BF_SWIM_IN, .what = DAYS_SOFT_SIX},
            feed = {.kind = BF_SWIM_FEED, .what = DAYS_HARD_FOUR, .count = 15, .area_m2 = 0.07};
        int what;
        bf_play_start(play, &scene, &set, (uint64_t)seed + 100000);
        bf_play_act(play, &feed);
        bf_play_run(play, PUT_IN_S, &shown);
        bf_play_act(play, &in);
        while ((what = bf_play_run(play, PUT_IN_S + 600, &shown)) != 0 && shown.kind == BF_SWIM_TOUCH)
            continue;
        bitten[1] += what != 0;
    }
    free(play);
    double share = (bitten[0] + bitten[1]) / (2.0 * n);
    assert_true(share > 0.2 && share < 0.9);
    BF_CHECK_ABS(bitten[0] / (double)n, bitten[1] / (double)n, 3.3 * sqrt(2 * share * (1 - share) / n));
}

/* Two days that differ by one put-in are more alike than two days: the variance of the difference of landed fish is less than half of that of
 * unrelated days (measured: 0.12). */
static void a_choice_does_not_shuffle_luck_elsewhere(void **state) {
    (void)state;
    bf_turn turn[FED_TURNS], less[FED_TURNS];
    bf_swim_prior prior = certain();
    int n = check_samples(400) < 80 ? 80 : check_samples(400);
    double d = 0, dd = 0, a = 0, aa = 0;
    fed_turns(turn);
    memcpy(less, turn, sizeof less);
    less[3].count = 8;
    for (int seed = 1; seed <= n; seed++) {
        bf_rehearsal r = rehearsal_of(&prior, (uint64_t)seed, turn, FED_TURNS, 3600);
        r.goes_in_again = 1;
        double first = day_of(&r, event).n[BF_LANDED];
        r.turn = less;
        double second = day_of(&r, event).n[BF_LANDED];
        d += first - second, dd += (first - second) * (first - second), a += first, aa += first * first;
    }
    double of_difference = dd / n - d / n * (d / n), of_one = aa / n - a / n * (a / n);
    assert_true(of_one > 1);
    assert_true(of_difference < 0.5 * 2 * of_one);
}

/* ---- Truths ---- */

static void a_truth_is_known_by_its_numbers(void **state) {
    (void)state;
    bf_swim_prior book = bf_swim_book();
    double t_s, good[200];
    rehearsal_of(&book, 5, NULL, 0, 0);
    int n = bf_rehearse_columns(&scene);
    assert_true(bf_rehearse_is_truth(&scene, truth, &t_s) && t_s == 0);
    bf_swim_set drawn = bf_swim_drawn_set(&book, 5, 0, 1), said = bf_rehearse_parameters(&scene, truth);
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++)
        BF_CHECK_REL(said.of[i], i == BF_SWIM_TAKE && drawn.of[i] > 1 ? 1 : drawn.of[i], 1e-12);
    memcpy(good, truth, sizeof good);
    const double bad[] = {NAN, INFINITY, -INFINITY, 1e300, -1e300};
    for (int c = 0; c < n; c++)
        for (size_t k = 0; k < sizeof bad / sizeof bad[0]; k++) {
            bfi_swim_now now;
            memcpy(truth, good, sizeof good);
            truth[c] = bad[k];
            memcpy(&now, truth, sizeof now);
            int is_no_temperature = isnan(bad[k]) && isnan(now.temp_c);
            assert_int_equal(bf_rehearse_is_truth(&scene, truth, &t_s), is_no_temperature);
        }
    const struct {
        size_t at;
        double value;
    } wrong[] = {{offsetof(bfi_swim_now, rig_spot), 1},     {offsetof(bfi_swim_now, rig_spot), 0},
                 {offsetof(bfi_swim_now, rig_hook), 0.5},   {offsetof(bfi_swim_now, last_hook), DAYS_HOOKS},
                 {offsetof(bfi_swim_now, stretch_spot), 7}, {offsetof(bfi_swim_now, t_s), -1}};
    for (size_t k = 0; k < sizeof wrong / sizeof wrong[0]; k++) {
        memcpy(truth, good, sizeof good);
        truth[wrong[k].at / sizeof(double)] = wrong[k].value;
        assert_false(bf_rehearse_is_truth(&scene, truth, &t_s));
    }
}

/* A small belief of half an hour, and its rows. */
typedef struct believed {
    bf_belief_job job;
    bf_swim_event story[8];
    double *rows;
    void *work;
} believed;

static believed *believe(const bf_swim_prior *prior) {
    believed *b = calloc(1, sizeof *b);
    scene = days_scene(16);
    b->story[0] = (bf_swim_event){
        .kind = BF_SWIM_FEED, .what = DAYS_HARD_FOUR, .count = 30, .area_m2 = 0.07, .held = -1, .live = -1};
    b->story[1] =
        (bf_swim_event){.t_s = 20, .kind = BF_SWIM_IN, .what = DAYS_SOFT_SIX, .held = -1, .live = -1};
    b->story[2] =
        (bf_swim_event){.t_s = 300, .kind = BF_SWIM_LIFT, .outcome = BF_LANDED, .held = -1, .live = -1};
    b->story[3] =
        (bf_swim_event){.t_s = 400, .kind = BF_SWIM_IN, .what = DAYS_SOFT_SIX, .held = -1, .live = -1};
    b->job = (bf_belief_job){.scene = &scene,
                             .event = b->story,
                             .n_events = 4,
                             .until_s = 1800,
                             .prior = *prior,
                             .seed = 1,
                             .n_sets = 4,
                             .n_particles = 200,
                             .n_drawn = 50};
    size_t columns = (size_t)bf_belief_columns(&b->job);
    void *scratch = aligned_alloc(16, bf_belief_scratch_bytes(&b->job));
    b->rows = calloc(4 * columns, sizeof *b->rows);
    bf_belief_rows(&b->job, 0, 4, scratch, b->rows);
    free(scratch);
    b->work = aligned_alloc(16, bf_rehearse_draw_bytes(&b->job));
    return b;
}

static void forget(believed *b) {
    free(b->rows);
    free(b->work);
    free(b);
}

static void a_real_session_is_gone_on_with_from_a_particle_of_its_belief(void **state) {
    (void)state;
    bf_swim_prior book = bf_swim_book();
    believed *b = believe(&book);
    double t_s, first[200], left = 0;
    int n = bf_rehearse_columns(&scene), different = 0;
    for (uint64_t seed = 1; seed <= 40; seed++) {
        assert_true(bf_rehearse_draw(&b->job, b->rows, seed, b->work, truth));
        assert_true(bf_rehearse_is_truth(&scene, truth, &t_s));
        BF_CHECK_ABS(t_s, 1800, 0);
        bf_rehearsal r = {.scene = &scene,
                          .truth = truth,
                          .seed = seed,
                          .until_s = 1800,
                          .busy_s = 1,
                          .put_in_s = 1,
                          .fish_kg = 1,
                          .fish_spread = 1};
        bf_rehearse_day day = day_of(&r, event);
        assert_true(day.n_events == 0 && day.rig_spot == 0 && day.t_s == 1800); /* it was in */
        if (seed == 1) memcpy(first, truth, sizeof first);
        different += memcmp(first, truth, (size_t)n * sizeof *truth) != 0;
        left += point[0].left[0];
    }
    assert_true(different > 30);
    void *merge = aligned_alloc(16, (bf_belief_merge_bytes(&b->job) + 15) / 16 * 16);
    bf_bed bed;
    bf_belief_bed(&b->job, b->rows, merge, &bed);
    BF_CHECK_IN(left / 40, 0.5 * bed.left.lo, 30); /* of its own spread */
    free(merge);
    forget(b);
}

static void nothing_is_drawn_where_nothing_explains_the_session(void **state) {
    (void)state;
    bf_swim_prior book = bf_swim_book();
    believed *b = believe(&book);
    int columns = bf_belief_columns(&b->job);
    for (int set = 0; set < 4; set++) b->rows[set * columns] = -INFINITY; /* the evidence stands first */
    truth[0] = 17;
    assert_int_equal(bf_rehearse_draw(&b->job, b->rows, 1, b->work, truth), 0);
    assert_true(truth[0] == 17);
    forget(b);
}

/* ---- Costs ---- */

static bf_advise_job job_of(const bf_rehearse_decision *d, double since_put_s) {
    bf_advise_job job = {.n_ways = 1,
                         .way = {{.feed = DAYS_HARD_FOUR, .how = BF_CLUMP, .count = 15, .area_m2 = 0.07}},
                         .n_hooks = 1,
                         .hook = {d->hook},
                         .every_s = 300,
                         .most_kg = BF_INFINITY,
                         .objective = BF_FOR_NUMBER,
                         .fish_kg = 0.7,
                         .for_s = 3600,
                         .busy_s = BUSY_S,
                         .put_in_s = PUT_IN_S,
                         .blank_s = 150};
    for (int s = 0; s < BF_SWIM_MOST_SPOTS; s++) job.since_put_s[s] = BF_INFINITY;
    job.since_put_s[0] = since_put_s;
    return job;
}

static bf_rehearse_cost price(const bf_rehearsal *r, int i, double since_put_s) {
    bf_rehearse_decision d;
    bf_rehearse_cost cost;
    void *work = aligned_alloc(16, (bf_rehearse_cost_bytes(r->scene) + 15) / 16 * 16);
    assert_true(bf_rehearse_decided(r, i, &d));
    bf_advise_job job = job_of(&d, since_put_s);
    bf_rehearse_price(r, i, &d, &job, work, &cost);
    free(work);
    return cost;
}

static void which_turns_are_decisions(void **state) {
    (void)state;
    bf_swim_prior book = certain();
    bf_turn turn[] = {fed(0, 15),      lowered(0, 0),   waited(20, 300),
                      waited(320, 30), lowered(320, 0), lowered(400, 1),
                      fed(500, 8),     fed(500, 8),     {.t_s = 600, .kind = BF_TURN_LIFT},
                      waited(700, 100)};
    turn[7].is_further = 1;
    const int is_one[] = {1, 0, 1, 0, 0, 1, 1, 0, 0, 1};
    bf_rehearsal r = rehearsal_of(&book, 1, turn, 10, 1000);
    for (int i = 0; i < 10; i++) {
        bf_rehearse_decision d;
        assert_int_equal(bf_rehearse_decided(&r, i, &d), is_one[i]);
        if (!is_one[i]) continue;
        assert_true(d.t_s >= turn[i].t_s && !d.is_beside);
        assert_int_equal(d.act.what, turn[i].kind == BF_TURN_FEED ? BF_WHAT_FEED : BF_WHAT_WAIT);
        if (turn[i].kind == BF_TURN_WAIT) BF_CHECK_ABS(d.act.wait_s, turn[i].for_s, 0);
        if (i == 5) assert_true(d.hook == 0 && d.act.hook == 1);
    }
}

static void feed_beside_is_told_from_a_move(void **state) {
    (void)state;
    bf_swim_prior book = certain();
    bf_turn turn[] = {lowered(0, 0), fed(100, 10), waited(150, 120), fed(300, 10), lowered(300, 0)};
    bf_rehearse_decision d;
    bf_rehearsal r = rehearsal_of(&book, 1, turn, 5, 600);
    scene.n_spots = 2, scene.spot[1] = scene.spot[0], scene.spot[1].distance_m = 3;
    bf_rehearse_begin(&scene, &book, 1, truth);
    turn[1].spot = turn[3].spot = turn[4].spot = 1;
    assert_true(bf_rehearse_decided(&r, 1, &d) && d.is_beside && d.spot == 0);
    assert_true(bf_rehearse_decided(&r, 3, &d) && !d.is_beside && d.act.what == BF_WHAT_MOVE &&
                d.act.spot == 1);
    assert_false(bf_rehearse_decided(&r, 4, &d)); /* one decision with the put-in */
    turn[3].spot = 0;
    assert_true(bf_rehearse_decided(&r, 4, &d) && d.act.what == BF_WHAT_MOVE && d.act.feed == -1);
}

/* Done as the best says, a choice costs exactly nothing: both are the same way on, on the same luck. */
static void the_best_action_s_own_choice_costs_nothing(void **state) {
    (void)state;
    bf_swim_prior book = certain();
    int n_fed = 0;
    for (uint64_t seed = 1; seed <= 4; seed++) {
        bf_turn turn[] = {lowered(0, DAYS_SOFT_SIX), fed(120, 60)};
        bf_rehearsal r = rehearsal_of(&book, seed, turn, 2, 200);
        bf_rehearse_cost cost = price(&r, 1, BF_INFINITY);
        assert_int_equal(cost.n_lucks, BF_REHEARSE_LUCKS);
        assert_true(cost.cost.lo <= cost.cost.mid && cost.cost.mid <= cost.cost.hi && cost.cost.mid >= 0);
        BF_CHECK_IN(cost.p_more, 0, 1);
        if (cost.best.what != BF_WHAT_FEED) continue;
        n_fed++;
        turn[1] = fed(120, cost.best.count), turn[1].how = cost.best.how, turn[1].area_m2 = cost.best.area_m2;
        bf_rehearse_cost again = price(&r, 1, BF_INFINITY);
        assert_true(again.is_best && again.best.count == cost.best.count);
        assert_true(again.cost.mid == 0 && again.cost.lo == 0 && again.cost.hi == 0 && again.p_more == 0.5);
    }
    assert_true(n_fed >= 2); /* a bare bed is fed, as a rule */
}

static void a_wait_of_an_hour_on_a_bare_bed_costs_fish(void **state) {
    (void)state;
    bf_swim_prior book = certain();
    bf_turn turn[] = {lowered(0, DAYS_SOFT_SIX), waited(120, 3600)};
    bf_rehearsal r = rehearsal_of(&book, 1, turn, 2, 200);
    bf_rehearse_cost cost = price(&r, 1, BF_INFINITY);
    assert_true(!cost.is_best && cost.cost.lo > 1 && cost.p_more > 0.7);
    bf_rehearse_cost again = price(&r, 1, BF_INFINITY);
    assert_memory_equal(&cost, &again, sizeof cost);
}

/* ---- Otherwise ---- */

static void the_same_feeding_comes_to_exactly_the_same(void **state) {
    (void)state;
    bf_swim_prior book = bf_swim_book();
    believed *b = believe(&book);
    bf_turn turn[3] = {fed(0, 30), lowered(20, DAYS_SOFT_SIX), fed(900, 30)},
            none[1] = {lowered(20, DAYS_SOFT_SIX)};
    b->job.until_s = 3600;
    bf_rehearse_other_job job = {.belief = &b->job,
                                 .rows = b->rows,
                                 .turn = {turn, turn},
                                 .n_turns = {3, 3},
                                 .busy_s = BUSY_S,
                                 .put_in_s = PUT_IN_S,
                                 .fish_kg = 1,
                                 .seed = 1};
    double landed[2], fed_fish = 0, unfed = 0;
    for (int s = 0; s < 60; s++) {
        assert_true(bf_rehearse_other(&job, s, b->work, landed));
        assert_true(landed[0] == landed[1]);
        fed_fish += landed[0];
    }
    job.turn[1] = none, job.n_turns[1] = 1;
    for (int s = 0; s < 60; s++) {
        assert_true(bf_rehearse_other(&job, s, b->work, landed));
        unfed += landed[1];
    }
    assert_true(fed_fish > 60 && unfed < 0.5 * fed_fish); /* and another does not */
    forget(b);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(same_seed_and_choices_are_the_same_day),
        cmocka_unit_test(a_choice_late_in_the_day_changes_nothing_before_it),
        cmocka_unit_test(looking_in_between_changes_nothing),
        cmocka_unit_test(it_stops_at_the_first_bite_if_asked_to),
        cmocka_unit_test(hands_are_busy_for_a_while),
        cmocka_unit_test(weights_are_read_to_ten_grams_and_add_up),
        cmocka_unit_test(what_shows_is_what_was_due),
        cmocka_unit_test(bites_come_as_soon_as_in_a_play),
        cmocka_unit_test(a_choice_does_not_shuffle_luck_elsewhere),
        cmocka_unit_test(a_truth_is_known_by_its_numbers),
        cmocka_unit_test(a_real_session_is_gone_on_with_from_a_particle_of_its_belief),
        cmocka_unit_test(nothing_is_drawn_where_nothing_explains_the_session),
        cmocka_unit_test(which_turns_are_decisions),
        cmocka_unit_test(feed_beside_is_told_from_a_move),
        cmocka_unit_test(the_best_action_s_own_choice_costs_nothing),
        cmocka_unit_test(a_wait_of_an_hour_on_a_bare_bed_costs_fish),
        cmocka_unit_test(the_same_feeding_comes_to_exactly_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
