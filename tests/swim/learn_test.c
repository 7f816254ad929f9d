/* learn_test.c -- learning from session to session.
 *
 * Oracles: closed forms of normal-normal learning for one parameter; the law that a sum which is known does not make its parts
 * known; sessions made by the model itself for a venue whose truth is known.
 */
#include "baitfall/learn.h"

#include "baitfall/random.h"
#include "common/check.h"
#include "core/swim/axes.h"
#include "swim/made_day.h"

#define D BF_SWIM_N_PARAMETERS

static double share_of(int parameter) {
    char level = bf_swim_parameters[parameter].level;
    return level == 'A' ? 0.1 : level == 'D' ? 0.8 : 0.25;
}

/* A summary that tells nothing: posterior = prior. */
static bf_swim_summary blank(int venue, uint64_t story) {
    bf_swim_summary s = {.version = BF_SWIM_VERSION,
                         .venue = venue,
                         .story = story,
                         .prior = bf_swim_book(),
                         .n_effective_sets = 1e12};
    for (int i = 0; i < D; i++) {
        s.mean[i] = s.prior.mean[i];
        s.covariance[i][i] = s.prior.sd[i] * s.prior.sd[i];
    }
    return s;
}

static void check_is_prior(bf_swim_prior got, bf_swim_prior want, double tolerance) {
    for (int i = 0; i < D; i++) {
        BF_CHECK_ABS(got.mean[i], want.mean[i], tolerance);
        BF_CHECK_ABS(got.sd[i], want.sd[i], tolerance);
    }
}

/* ---- Matrices ---- */

static void axes_and_roots_give_the_matrix_back(void **state) {
    (void)state;
    static double c[D][D], axis[D][D], r[D], root[D][D], x[D];
    for (int i = 0; i < D; i++)
        for (int j = 0; j <= i; j++) {
            c[i][j] = 0;
            for (int k = 0; k < 40; k++)
                c[i][j] +=
                    bf_normal(1, (uint64_t)i, (uint64_t)k) * bf_normal(1, (uint64_t)j, (uint64_t)k) / 40;
            c[j][i] = c[i][j];
        }
    bfi_axes_of(D, c, r, axis);
    bfi_root_of(D, c, root);
    for (int i = 0; i < D; i++) {
        x[i] = 0;
        for (int j = 0; j < D; j++) {
            double by_axes = 0, by_root = 0, unit = 0;
            for (int k = 0; k < D; k++) {
                by_axes += r[k] * axis[i][k] * axis[j][k];
                by_root += root[i][k] * root[j][k];
                unit += axis[k][i] * axis[k][j];
            }
            BF_CHECK_ABS(by_axes, c[i][j], 1e-13);
            BF_CHECK_ABS(by_root, c[i][j], 1e-13);
            BF_CHECK_ABS(unit, i == j, 1e-13);
            x[i] += c[i][j] * (j - 5);
        }
    }
    bfi_solve_root(D, root, x);
    for (int i = 0; i < D; i++) BF_CHECK_ABS(x[i], i - 5, 1e-9);
}

/* ---- Closed forms ---- */

static void without_sessions_or_with_ones_that_tell_nothing_it_is_the_book(void **state) {
    (void)state;
    bf_swim_summary s[3] = {blank(0, 1), blank(0, 2), blank(1, 3)};
    bf_swim_learned none = bf_swim_learn(NULL, 0, 0), nothing = bf_swim_learn(s, 3, 0);
    check_is_prior(none.prior, bf_swim_book(), 1e-12);
    check_is_prior(nothing.prior, bf_swim_book(), 1e-12);
    assert_true(none.prior.n_sessions == 0 && nothing.n_venue == 2 && nothing.n_other == 1);
    BF_CHECK_REL(none.lesson[BF_SWIM_STOCK].book, bf_swim_parameters[BF_SWIM_STOCK].middle, 1e-12);
    BF_CHECK_REL(none.lesson[BF_SWIM_STOCK].middle, none.lesson[BF_SWIM_STOCK].book, 1e-12);
}

/* A posterior's variance is taken for 1.2 times what it says. */
#define TOO_SURE 1.2

/* m sessions that each saw one parameter with variance v about y: theta's precision is 1/((1 - share) B^2) + m / (v + share B^2). */
static void one_parameter_is_learned_by_the_normal_law(void **state) {
    (void)state;
    int seen[3] = {BF_SWIM_LEAVE, BF_SWIM_KNOCK, BF_SWIM_TAKE}; /* V, A, D */
    for (int k = 0; k < 3; k++) {
        int i = seen[k];
        bf_swim_summary s[4];
        double b2 = pow(bf_swim_book().sd[i], 2), v = 0.3 * b2, sum = 0, share = share_of(i);
        for (int n = 0; n < 4; n++) {
            s[n] = blank(7, (uint64_t)n);
            double y = s[n].prior.mean[i] + 0.2 * n + 0.1;
            sum += y;
            s[n].covariance[i][i] = 1 / (1 / b2 + 1 / v);
            s[n].mean[i] = s[n].covariance[i][i] * (s[n].prior.mean[i] / b2 + y / v);
        }
        double taken = b2 / (b2 / (TOO_SURE * s[0].covariance[i][i]) - 1); /* for v */
        double known = 1 / ((1 - share) * b2), each = 1 / (taken + share * b2), precision = known + 4 * each;
        double mean = (known * s[0].prior.mean[i] + each * sum) / precision;
        bf_swim_learned learned = bf_swim_learn(s, 4, 7);
        BF_CHECK_ABS(learned.prior.mean[i], mean, 1e-5);
        BF_CHECK_REL(learned.prior.sd[i], sqrt(1 / precision + share * b2), 1e-5);
        BF_CHECK_REL(learned.lesson[i].lo, exp(mean - 1.2815515655446 / sqrt(precision)), 1e-5);
        BF_CHECK_REL(learned.lesson[i].hi, exp(mean + 1.2815515655446 / sqrt(precision)), 1e-5);
        assert_int_equal(learned.lesson[i].n_sessions, 4);
        BF_CHECK_REL(learned.prior.sd[BF_SWIM_STOCK], bf_swim_book().sd[BF_SWIM_STOCK], 1e-6);
    }
}

/* A session that started from a learned prior counts only what it added to it. */
static void what_the_prior_knew_is_not_counted_again(void **state) {
    (void)state;
    bf_swim_summary s = blank(7, 1);
    for (int i = 0; i < D; i++) {
        s.prior.mean[i] += 0.3, s.mean[i] += 0.3;
        s.prior.sd[i] *= 0.5, s.covariance[i][i] *= 0.25;
    }
    check_is_prior(bf_swim_learn(&s, 1, 7).prior, bf_swim_book(), 1e-12);
}

/* Twenty sessions that see nothing but the sum of two parameters: the sum becomes known, the parts stay as open as a sum leaves them. */
static void a_sum_that_is_known_does_not_make_its_parts_known(void **state) {
    (void)state;
    int a = BF_SWIM_SMELL, b = BF_SWIM_SPLASH;
    static bf_swim_summary s[20];
    double b2 = pow(bf_swim_book().sd[a], 2), v = 0.01 * b2,
           y = bf_swim_book().mean[a] + bf_swim_book().mean[b] + 1.2;
    BF_CHECK_ABS(bf_swim_book().sd[a], bf_swim_book().sd[b], 1e-12);
    for (int n = 0; n < 20; n++) {
        s[n] = blank(7, (uint64_t)n);
        double gain = b2 / (2 * b2 + v), off = y - s[n].prior.mean[a] - s[n].prior.mean[b];
        s[n].mean[a] += gain * off, s[n].mean[b] += gain * off;
        s[n].covariance[a][a] = s[n].covariance[b][b] = b2 - gain * b2;
        s[n].covariance[a][b] = s[n].covariance[b][a] = -gain * b2;
    }
    bf_swim_learned learned = bf_swim_learn(s, 20, 7);
    double usual = pow(log(learned.lesson[a].hi / learned.lesson[a].lo) / 2 / 1.2815515655446, 2);
    BF_CHECK_IN(usual / (0.75 * b2), 0.5, 0.53);
    BF_CHECK_ABS(learned.prior.mean[a] + learned.prior.mean[b], y, 0.03);
    BF_CHECK_ABS(learned.prior.mean[a] - learned.prior.mean[b],
                 bf_swim_book().mean[a] - bf_swim_book().mean[b], 1e-6);
}

static void never_narrower_than_the_day(void **state) {
    (void)state;
    static bf_swim_summary s[200];
    for (int n = 0; n < 200; n++) {
        s[n] = blank(7, (uint64_t)n);
        for (int i = 0; i < D; i++) s[n].covariance[i][i] *= 1e-6;
    }
    bf_swim_learned learned = bf_swim_learn(s, 200, 7);
    for (int i = 0; i < D; i++)
        BF_CHECK_IN(learned.prior.sd[i] / bf_swim_book().sd[i], sqrt(share_of(i)), sqrt(share_of(i)) + 0.01);
}

static void other_venues_tell_of_the_angler_alone(void **state) {
    (void)state;
    bf_swim_summary s = blank(3, 1);
    for (int i = 0; i < D; i++) s.covariance[i][i] *= 0.2, s.mean[i] += 0.4;
    for (int venue = -1; venue < 3; venue++) {
        bf_swim_learned learned = bf_swim_learn(&s, 1, venue);
        assert_true(learned.n_venue == 0 && learned.n_other == 1);
        for (int i = 0; i < D; i++) {
            int is_angler = bf_swim_parameters[i].level == 'A';
            assert_int_equal(learned.lesson[i].n_sessions, is_angler);
            assert_int_equal(learned.prior.sd[i] < 0.99 * bf_swim_book().sd[i], is_angler);
        }
    }
}

/* 300 effective sets out of the prior itself: what chance takes off the smallest variances is not taken for knowledge. */
static void chance_alone_teaches_next_to_nothing(void **state) {
    (void)state;
    enum { DRAWS = 300 };
    bf_swim_summary s = blank(7, 1);
    bf_swim_prior book = bf_swim_book();
    static double z[D][DRAWS];
    for (int i = 0; i < D; i++)
        for (int p = 0; p < DRAWS; p++) z[i][p] = bf_normal(2, (uint64_t)i, (uint64_t)p);
    for (int i = 0; i < D; i++)
        for (int j = 0; j < D; j++) {
            double sum = 0;
            for (int p = 0; p < DRAWS; p++) sum += z[i][p] * z[j][p] / DRAWS;
            s.covariance[i][j] = sum * book.sd[i] * book.sd[j];
        }
    s.n_effective_sets = DRAWS;
    check_is_prior(bf_swim_learn(&s, 1, 7).prior, book, 0.02);
}

static void what_cannot_be_used_is_left_out(void **state) {
    (void)state;
    bf_swim_summary s[5];
    for (int n = 0; n < 5; n++) {
        s[n] = blank(7, (uint64_t)n);
        for (int i = 0; i < D; i++) s[n].covariance[i][i] *= 0.2;
    }
    s[0].version++;
    s[1].n_effective_sets = 0;
    s[2].mean[3] = NAN;
    s[3].story = s[4].story;
    s[3].mean[2] += 5;
    bf_swim_learned all = bf_swim_learn(s, 5, 7), last = bf_swim_learn(s + 4, 1, 7);
    assert_int_equal(all.n_venue, 1);
    check_is_prior(all.prior, last.prior, 0);
}

/* ---- Sessions whose truth is known ---- */

/* What sessions of a venue came to. */
typedef struct lesson {
    double gain;      /* expected log density of a new day's parameters, against the book's */
    double error;     /* squared errors of what is usual there, in units of the learned variances, summed */
    double narrowest; /* learned sd over the book's, of the parameter that is known best */
    bf_swim_prior prior;
} lesson;

/* Three hours at a venue: what is usual there is drawn from the book, each day anew around it. */
static lesson learned_at(uint64_t venue) {
    enum { SESSIONS = 3 };
    static made_day day;
    static bf_swim_summary s[SESSIONS];
    bf_swim_prior book = bf_swim_book();
    lesson l = {.prior = book, .narrowest = 1};
    double usual[D];
    for (int i = 0; i < D; i++)
        usual[i] = book.mean[i] + sqrt(1 - share_of(i)) * book.sd[i] * bf_normal(venue, 1, (uint64_t)i);
    for (uint64_t n = 0; n < SESSIONS; n++) {
        bf_swim_set truth;
        for (int i = 0; i < D; i++)
            truth.of[i] =
                exp(usual[i] + sqrt(share_of(i)) * book.sd[i] * bf_normal(venue, 2 + n, (uint64_t)i));
        make_day(&day, &truth, 5 * venue + n, 3600);
        for (int i = 0; i < day.n; i++) day.event[i].held = -1;
        bf_belief_job job = made_day_job(&day, 3600, l.prior, 5);
        double *rows = malloc((size_t)(job.n_sets * bf_belief_columns(&job)) * sizeof *rows);
        void *scratch = malloc(bf_belief_scratch_bytes(&job)), *work = malloc(bf_belief_merge_bytes(&job));
        bf_bed bed;
        bf_belief_rows(&job, 0, job.n_sets, scratch, rows);
        bf_belief_bed(&job, rows, work, &bed);
        s[n] = bf_swim_summary_of(&job, &bed, 7);
        l.prior = bf_swim_learn(s, (int)n + 1, 7).prior;
        free(rows), free(scratch), free(work);
    }
    assert_int_equal(l.prior.n_sessions, SESSIONS);
    for (int i = 0; i < D; i++) {
        double sd = l.prior.sd[i], off = usual[i] - l.prior.mean[i], off_book = usual[i] - book.mean[i],
               day2 = share_of(i) * book.sd[i] * book.sd[i];
        l.gain -= log(sd / book.sd[i]) + 0.5 * (off * off + day2) / (sd * sd) -
                  0.5 * (off_book * off_book + day2) / (book.sd[i] * book.sd[i]);
        l.error += off * off / (sd * sd - day2);
        l.narrowest = fmin(l.narrowest, sd / book.sd[i]);
    }
    return l;
}

/* Learned from three hours at a venue, the expected log density of a new day's parameters is higher than under the book, in the mean over venues by more
 * than two of its standard errors; what the log sees best (KNOCK as a rule) is narrower; what the log does not see is as it was; and none is told with false certainty: the sum of
 * squared errors stays under the 99.99 % point of chi-square (a sound learner fails in 1 of 10 000). Twenty-four venues with BF_LONG; else one, where it
 * must be above 0 (swim.learn_all, without sanitizers; with them, BF_FEW=1, none: belief_test.c has the belief, the tests above the learning). */
static void sessions_of_a_venue_narrow_and_move_towards_the_truth(void **state) {
    (void)state;
    if (getenv("BF_FEW")) skip();
    const int venues = getenv("BF_LONG") ? 24 : 1;
    bf_swim_prior book = bf_swim_book();
    double gain = 0, squares = 0, error = 0, narrowest = 0;
    for (int v = 0; v < venues; v++) {
        lesson l = learned_at(20 + (uint64_t)v);
        print_message("log density of a new day %+.2f, least sd %.3f of the book's, chi-square %.1f\n",
                      l.gain, l.narrowest, l.error);
        gain += l.gain / venues, squares += l.gain * l.gain / venues;
        error += l.error, narrowest += l.narrowest / venues;
        /* no hold was entered, so nothing tells of HOLD, and NEAR is hardly seen beside TAKE: both go on as they were */
        BF_CHECK_REL(l.prior.sd[BF_SWIM_HOLD], book.sd[BF_SWIM_HOLD], 0.02);
        BF_CHECK_REL(l.prior.sd[BF_SWIM_NEAR], book.sd[BF_SWIM_NEAR], 0.05);
        BF_CHECK_ABS(l.prior.mean[BF_SWIM_HOLD], book.mean[BF_SWIM_HOLD], 0.05 * book.sd[BF_SWIM_HOLD]);
    }
    double se = venues > 1 ? sqrt((squares - gain * gain) / (venues - 1)) : 0, free = D * venues;
    double most = free * pow(1 - 2 / (9 * free) + 3.719 * sqrt(2 / (9 * free)), 3); /* Wilson and Hilferty */
    print_message("gain %.2f +- %.2f, least sd %.3f, chi-square %.1f of at most %.1f\n", gain, se, narrowest,
                  error, most);
    assert_true(gain > 2 * se);
    BF_CHECK_IN(narrowest, 0, 0.8);
    BF_CHECK_IN(error, 0, most);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(axes_and_roots_give_the_matrix_back),
        cmocka_unit_test(without_sessions_or_with_ones_that_tell_nothing_it_is_the_book),
        cmocka_unit_test(one_parameter_is_learned_by_the_normal_law),
        cmocka_unit_test(what_the_prior_knew_is_not_counted_again),
        cmocka_unit_test(a_sum_that_is_known_does_not_make_its_parts_known),
        cmocka_unit_test(never_narrower_than_the_day),
        cmocka_unit_test(other_venues_tell_of_the_angler_alone),
        cmocka_unit_test(chance_alone_teaches_next_to_nothing),
        cmocka_unit_test(what_cannot_be_used_is_left_out),
        cmocka_unit_test(sessions_of_a_venue_narrow_and_move_towards_the_truth),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
