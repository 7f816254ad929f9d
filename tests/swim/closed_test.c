/* What is known in closed form of jumps and decay, held against the code the swim runs on: the clock of its jumps
 * (core/swim/clock.h) by itself, and the model (core/swim/model.h) with all but one of its mechanisms still.
 *
 * Sources: markov_closed.csv, feed_pulses.csv: exact formulas; sir_exact.csv: the master equation solved; lv_ssa.csv: 1e5 runs of
 * Gillespie's method by another program. Seeds are fixed. Each comparison of a mean or variance is to 4 of its standard errors
 * (1 of 16 000 for sound code; 110 of them: 1 of 140 when written). Under sanitizers the samples are a tenth; swim.closed_all
 * (and BF_LONG=1) takes the whole. */
#include "core/swim/clock.h"
#include "core/swim/fixed.h"
#include "core/swim/state.h"

#include "common/check.h"
#include "common/csv.h"

static int runs_of(int whole) {
    return getenv("BF_LONG") ? whole : whole / 10;
}

/* ---- Moments ------------------------------------------------------------------------------------------------ */

typedef struct moments {
    double n, sum, square, cube, fourth; /* powers of x - about */
    double about;
} moments;

static void take(moments *m, double x) {
    double d = x - m->about, d2 = d * d;
    m->n++;
    m->sum += d, m->square += d2, m->cube += d2 * d, m->fourth += d2 * d2;
}

static double mean_of(const moments *m) {
    return m->about + m->sum / m->n;
}
static double variance_of(const moments *m) {
    double off = m->sum / m->n;
    return m->square / m->n - off * off;
}
/* Of the variance: from the fourth central moment. */
static double variance_se(const moments *m) {
    double o = m->sum / m->n, s2 = m->square / m->n, s3 = m->cube / m->n, s4 = m->fourth / m->n,
           v = variance_of(m);
    double central = s4 - 4 * o * s3 + 6 * o * o * s2 - 3 * o * o * o * o;
    return sqrt((central - v * v) / m->n);
}

/* bias: what the method itself is known to be off by, at most; se_...: the reference's own. */
static void check_moments(const moments *m, double mean, double se_mean, double variance, double se_variance,
                          double bias) {
    BF_CHECK_ABS(mean_of(m), mean, 4 * sqrt(variance / m->n + se_mean * se_mean) + bias * mean);
    BF_CHECK_ABS(variance_of(m), variance,
                 4 * sqrt(pow(variance_se(m), 2) + se_variance * se_variance) + 2 * bias * variance);
}

/* ---- The clock by itself ------------------------------------------------------------------------------------- */

/* Two numbers and up to three kinds of jump. */
typedef struct chain {
    int n_kinds;
    void (*rates)(const double *c, const double *x, double *rate);
    int change[3][2];
    double c[3], x[2];
} chain;

/* From 0 to to_s. step_s 0: from jump to jump, which is exact. */
static void run_chain(const chain *k, uint64_t seed, double to_s, double step_s, double x[2]) {
    double clock = -bf_log(bf_uniform(seed, 1, 0)), now_s = 0;
    uint64_t index = 1;
    x[0] = k->x[0], x[1] = k->x[1];
    while (now_s < to_s) {
        double rate[3], all = 0, at;
        k->rates(k->c, x, rate);
        for (int i = 0; i < k->n_kinds; i++) all += rate[i];
        if (all <= 0) return;
        double dt_s = step_s > 0 ? step_s : clock / all;
        if (dt_s >= to_s - now_s)
            dt_s = to_s - now_s, clock -= all * dt_s;
        else
            clock = step_s > 0 ? clock - all * dt_s : 0;
        now_s += dt_s;
        while (bfi_clock_strikes(&clock, all, seed, 1, index++, &at)) {
            int i = 0;
            while (i + 1 < k->n_kinds && (at -= rate[i]) >= 0) i++;
            if (rate[i] <= 0 || x[0] + k->change[i][0] < 0 || x[1] + k->change[i][1] < 0) continue;
            x[0] += k->change[i][0], x[1] += k->change[i][1];
        }
    }
}

static void comes_and_goes(const double *c, const double *x, double *rate) {
    rate[0] = c[0] + c[1] * x[0];
    rate[1] = c[2] * x[0];
}

/* c: in, born of each, death of each. */
static chain come_and_go(double from, double in, double birth, double death) {
    return (chain){2, comes_and_goes, {{1, 0}, {-1, 0}, {0, 0}}, {in, birth, death}, {from, 0}};
}

static void pure_death_and_immigration_have_their_moments(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "statistics/markov_closed.csv");
    csv_next(&csv);
    int n_rows = 0;
    for (; csv_next(&csv); n_rows++) {
        double from = csv_number(&csv, 1), death = csv_number(&csv, 2), to_s = csv_number(&csv, 3), in = 0,
               birth = 0;
        const char *k = strstr(csv.cell[0], "k="), *lam = strstr(csv.cell[0], "lam=");
        if (k) in = atof(k + 2);
        if (lam) birth = atof(lam + 4);
        chain jumps = come_and_go(from, in, birth, death);
        moments m = {.about = csv_number(&csv, 4)};
        int n = runs_of(from > 400 ? 5000 : 50000);
        for (int i = 0; i < n; i++) {
            double x[2];
            run_chain(&jumps, (uint64_t)(i + 1000000 * (n_rows + 1)), to_s, 0, x);
            take(&m, x[0]);
        }
        check_moments(&m, csv_number(&csv, 4), 0, csv_number(&csv, 5), 0, 0);
    }
    assert_int_equal(n_rows, 8);
}

/* x: susceptible, infected; c: contact over N, recovery. */
static void infects(const double *c, const double *x, double *rate) {
    rate[0] = c[0] * x[0] * x[1];
    rate[1] = c[1] * x[1];
}

static void an_epidemic_has_the_moments_of_its_master_equation(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "statistics/sir_exact.csv");
    csv_next(&csv);
    int n_rows = 0;
    for (; csv_next(&csv); n_rows++) {
        double all = csv_number(&csv, 0), ill = csv_number(&csv, 1);
        chain jumps = {2,
                       infects,
                       {{-1, 1}, {0, -1}, {0, 0}},
                       {csv_number(&csv, 2) / all, csv_number(&csv, 3)},
                       {all - ill, ill}};
        moments s = {.about = csv_number(&csv, 5)}, i = {.about = csv_number(&csv, 7)};
        int n = runs_of(30000), over = 0;
        for (int r = 0; r < n; r++) {
            double x[2];
            run_chain(&jumps, (uint64_t)(r + 1000000 * (n_rows + 1)), csv_number(&csv, 4), 0, x);
            take(&s, x[0]);
            take(&i, x[1]);
            over += x[1] == 0;
        }
        check_moments(&s, csv_number(&csv, 5), 0, csv_number(&csv, 6), 0, 0);
        check_moments(&i, csv_number(&csv, 7), 0, csv_number(&csv, 8), 0, 0);
        double p = csv_number(&csv, 9);
        BF_CHECK_ABS((double)over / n, p, 4 * sqrt(p * (1 - p) / n) + 1.0 / n);
    }
    assert_int_equal(n_rows, 10);
}

/* x: prey, predators. */
static void preys(const double *c, const double *x, double *rate) {
    rate[0] = c[0] * x[0];
    rate[1] = c[1] * x[0] * x[1];
    rate[2] = c[2] * x[1];
}

static void prey_and_predators_have_the_moments_of_gillespie(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "statistics/lv_ssa.csv");
    csv_next(&csv);
    int n_rows = 0;
    for (; csv_next(&csv); n_rows++) {
        chain jumps = {3,
                       preys,
                       {{1, 0}, {-1, 1}, {0, -1}},
                       {csv_number(&csv, 2), csv_number(&csv, 3), csv_number(&csv, 4)},
                       {csv_number(&csv, 0), csv_number(&csv, 1)}};
        double runs = csv_number(&csv, 6);
        moments prey = {.about = csv_number(&csv, 7)}, predators = {.about = csv_number(&csv, 11)};
        double product = 0;
        int n = runs_of(10000);
        for (int r = 0; r < n; r++) {
            double x[2];
            run_chain(&jumps, (uint64_t)(r + 1000000 * (n_rows + 1)), csv_number(&csv, 5), 0, x);
            take(&prey, x[0]);
            take(&predators, x[1]);
            product += (x[0] - prey.about) * (x[1] - predators.about) / n;
        }
        check_moments(&prey, csv_number(&csv, 7), csv_number(&csv, 8), csv_number(&csv, 9),
                      csv_number(&csv, 10), 0);
        double variance = csv_number(&csv, 13);
        check_moments(&predators, csv_number(&csv, 11), csv_number(&csv, 12), variance,
                      variance * sqrt(3 / runs), 0);
        double covariance = product - prey.sum * predators.sum / n / n, cov = csv_number(&csv, 14);
        BF_CHECK_ABS(covariance, cov,
                     4 * sqrt((csv_number(&csv, 9) * variance + 2 * cov * cov) * (1.0 / n + 1 / runs)));
    }
    assert_int_equal(n_rows, 4);
}

/* Rates frozen over a step, as the model has them: a death rate of mu loses mu dt / 2 of the exponent each step. */
static void frozen_steps_are_off_by_half_a_step_and_no_more(void **state) {
    (void)state;
    const double mu = 0.1, to_s = 5, from = 100;
    chain jumps = come_and_go(from, 0, 0, mu);
    for (double step_s = 0.5; step_s > 0.05; step_s /= 2) {
        double stays = pow(1 - mu * step_s, to_s / step_s);
        moments m = {.about = from * stays};
        int n = runs_of(40000);
        for (int i = 0; i < n; i++) {
            double x[2];
            run_chain(&jumps, (uint64_t)(i + 1), to_s, step_s, x);
            take(&m, x[0]);
        }
        BF_CHECK_ABS(mean_of(&m), from * stays, 4 * sqrt(variance_of(&m) / n));
        BF_CHECK_ABS(from * stays, from * exp(-mu * to_s),
                     from * exp(-mu * to_s) * 0.6 * mu * mu * to_s * step_s);
    }
}

/* ---- The model with one thing moving -------------------------------------------------------------------------- */

#define BLOCK 4000
#define MOST_COLUMNS 64

/* One spot, one feed that lasts lasting_s; whatever set a test asks for. */
typedef struct still {
    bf_swim_scene scene;
    bfi_swim swim;
    double x[MOST_COLUMNS * BLOCK], log_w[BLOCK];
} still;

static bf_swim_set middle_set(void) {
    bf_swim_set set;
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) set.of[i] = bf_swim_parameters[i].middle;
    return set;
}

static void begin_still(still *s, const bf_swim_set *set, double lasting_s, uint64_t seed) {
    bf_story_start_scene(&s->scene, 1, 1, 1);
    s->scene.feed[0].lasting_s = lasting_s, s->scene.feed[0].lasting_factor = 1;
    assert_in_range(bfi_swim_columns(&s->scene), 1, MOST_COLUMNS);
    bfi_swim_prepare(&s->swim, &s->scene, set, seed, 0);
    bfi_swim_begin(&s->swim, BLOCK, s->x);
    memset(s->log_w, 0, sizeof s->log_w);
}

static double *shared_column(still *s, int column) {
    return s->x + (size_t)column * BLOCK;
}
static double *spot_column(still *s, int column) {
    return s->x + (size_t)(bfi_spot_column(&s->swim, 0) + column) * BLOCK;
}
static void fill(double *column, double value) {
    for (int p = 0; p < BLOCK; p++) column[p] = value;
}

/* In steps of at most step_s. */
static void run_still(still *s, double to_s, double step_s) {
    while (s->swim.now.t_s < to_s)
        bfi_swim_run(&s->swim, BLOCK, s->x, fmin(to_s, s->swim.now.t_s + step_s), s->log_w);
}

static void take_column(moments *m, const double *column) {
    for (int p = 0; p < BLOCK; p++) take(m, column[p]);
}

/* Pieces that rot only, put in at four instants (feed_pulses.csv). They are real numbers with a binomial's noise, and under half
 * a piece is none: so the last row, less than one piece left, is only held to 0.3 pieces. */
static void feed_that_only_rots_has_the_moments_of_pulses(void **state) {
    (void)state;
    const double put_s[] = {0, 60, 180, 420}, pieces[] = {12, 12, 25, 8};
    static still s;
    bf_swim_set set = middle_set();
    set.of[BF_SWIM_NUISANCE] = 0;
    int n_seeds = runs_of(20), n_rows = 0;
    moments m[5] = {{0}};
    double mean[5], variance[5], at_s[5], rot_1_s = 0;
    csv_file csv;
    csv_open(&csv, "statistics/feed_pulses.csv");
    csv_next(&csv);
    for (; csv_next(&csv); n_rows++) {
        rot_1_s = csv_number(&csv, 0), at_s[n_rows] = csv_number(&csv, 1);
        mean[n_rows] = m[n_rows].about = csv_number(&csv, 2), variance[n_rows] = csv_number(&csv, 3);
    }
    assert_int_equal(n_rows, 5);
    for (int seed = 1; seed <= n_seeds; seed++) {
        begin_still(&s, &set, 1 / rot_1_s, (uint64_t)seed);
        fill(shared_column(&s, NEAR_FISH), 0);
        fill(spot_column(&s, WARY), 1e9); /* nobody comes */
        for (int row = 0, put = 0; row < n_rows;) {
            if (put < 4 && put_s[put] < at_s[row]) {
                run_still(&s, put_s[put], BFI_SWIM_STEP_S);
                bf_swim_event feed = {.t_s = put_s[put],
                                      .kind = BF_SWIM_FEED,
                                      .how = BF_CLUMP,
                                      .count = pieces[put],
                                      .area_m2 = 0.07};
                bfi_swim_meet(&s.swim, BLOCK, s.x, &feed, s.log_w);
                put++;
                continue;
            }
            static double left[BLOCK];
            run_still(&s, at_s[row], BFI_SWIM_STEP_S);
            bfi_swim_left(&s.swim, BLOCK, s.x, 0, -1, left);
            take_column(&m[row++], left);
        }
    }
    for (int row = 0; row < n_rows; row++) {
        print_message("feed pulses, %g s: mean %.4f (exact %.4f), variance %.4f (%.4f)\n", at_s[row],
                      mean_of(&m[row]), mean[row], variance_of(&m[row]), variance[row]);
        if (at_s[row] < 1000)
            check_moments(&m[row], mean[row], 0, variance[row], 0, 1e-3);
        else
            BF_CHECK_ABS(mean_of(&m[row]), mean[row], 0.3);
    }
}

/* Fish that leave a clean bottom and do not come back: a pure death, binomial; the ones near come from it and leave in turn. */
static void fish_that_only_leave_are_a_pure_death(void **state) {
    (void)state;
    static still s;
    bf_swim_set set = middle_set();
    set.of[BF_SWIM_APPETITE] = 1e-14; /* nobody comes from outside or to the feed */
    set.of[BF_SWIM_NUISANCE] = 0;
    const double fish = 40, to_s = 360, leave = LEAVE_ANYWAY + set.of[BF_SWIM_LEAVE], roam = 1 / ROAM_S;
    double stay = exp(-leave * to_s),
           about = leave / (leave - roam) * (exp(-roam * to_s) - exp(-leave * to_s));
    for (double step_s = BFI_SWIM_STEP_S; step_s > 0.2; step_s /= 10) {
        moments on = {.about = fish * stay}, near = {.about = fish * about};
        for (int seed = 1; seed <= runs_of(10); seed++) {
            begin_still(&s, &set, 1e9, (uint64_t)seed);
            fill(shared_column(&s, NEAR_FISH), 0);
            fill(shared_column(&s, HUNGER), 1);
            fill(spot_column(&s, FISH), fish);
            run_still(&s, to_s, step_s);
            take_column(&on, spot_column(&s, FISH));
            take_column(&near, shared_column(&s, NEAR_FISH));
        }
        print_message("steps of %.1f s: on the bait %.3f (exact %.3f), near %.3f (%.3f)\n", step_s,
                      mean_of(&on), fish * stay, mean_of(&near), fish * about);
        double bias = 0.6 * leave * leave * to_s * step_s;
        check_moments(&on, fish * stay, 0, fish * stay * (1 - stay), 0, bias);
        check_moments(&near, fish * about, 0, fish * about * (1 - about), 0, bias);
    }
}

/* Fish near that come from outside while there is room, and leave: linear, so mean and variance obey
 * m' = a - (a/4S + 1/R) m, v' = a - a/4S m + m/R - 2 (a/4S + 1/R) v. From 30 of them. */
static void fish_near_come_and_go_as_a_linear_process(void **state) {
    (void)state;
    static still s;
    bf_swim_set set = middle_set();
    begin_still(&s, &set, 1e9, 1);
    double stock = set.of[BF_SWIM_STOCK], in = stock * s.swim.activity / ROAM_S, less = in / (4 * stock),
           out = 1 / ROAM_S;
    const double from = 30, to_s = 1800, dt = 0.01;
    double mean = from, variance = 0;
    for (double t = 0; t < to_s; t += dt) {
        double flow = in - (less + out) * mean;
        variance += dt * (in - less * mean + out * mean - 2 * (less + out) * variance);
        mean += dt * flow;
    }
    moments m = {.about = mean};
    for (int seed = 1; seed <= runs_of(10); seed++) {
        begin_still(&s, &set, 1e9, (uint64_t)seed);
        fill(shared_column(&s, NEAR_FISH), from);
        fill(spot_column(&s, WARY), 1e15); /* nobody comes to the bait */
        run_still(&s, to_s, BFI_SWIM_STEP_S);
        take_column(&m, shared_column(&s, NEAR_FISH));
    }
    print_message("fish near: mean %.3f (exact %.3f), variance %.3f (%.3f)\n", mean_of(&m), mean,
                  variance_of(&m), variance);
    check_moments(&m, mean, 0, variance, 0, 0.6 * out * BFI_SWIM_STEP_S);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pure_death_and_immigration_have_their_moments),
        cmocka_unit_test(an_epidemic_has_the_moments_of_its_master_equation),
        cmocka_unit_test(prey_and_predators_have_the_moments_of_gillespie),
        cmocka_unit_test(frozen_steps_are_off_by_half_a_step_and_no_more),
        cmocka_unit_test(feed_that_only_rots_has_the_moments_of_pulses),
        cmocka_unit_test(fish_that_only_leave_are_a_pure_death),
        cmocka_unit_test(fish_near_come_and_go_as_a_linear_process),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
