/* The swim's model through time: closed forms where there are any, and what must hold of any model. Fixed seeds; bounds of
 * five standard errors unless said (false alarm of a test: below 1e-5). */
#include "common/check.h"

#include "baitfall/elementary.h"
#include "core/swim/fixed.h"
#include "core/swim/state.h"
#include "swim/note.h"

#define MOST 4096

/* One or two invented spots with soft 2 mm and hard 4 mm feed, 6 mm hook baits soft and hard. */
static bf_swim_scene a_scene(int n_spots, double temp_c) {
    bf_swim_scene scene = {.n_spots = n_spots, .n_feeds = 2, .n_hooks = 2, .temp_c = temp_c};
    scene.feed[0] = (bf_swim_feed){.diameter_m = 2e-3, .piece_kg = 8e-6, .lasting_s = 7200, .is_soft = 1};
    scene.feed[1] = (bf_swim_feed){.diameter_m = 4e-3, .piece_kg = 6e-5, .lasting_s = 3600};
    scene.hook[0] = (bf_swim_hook){.diameter_m = 6e-3};
    scene.hook[1] = (bf_swim_hook){.diameter_m = 6e-3, .is_hard = 1};
    for (int s = 0; s < n_spots; s++)
        scene.spot[s] = (bf_swim_spot){
            .depth_m = 1.5, .distance_m = 5 + 6 * s, .miss_m = 0.08, .area_m2 = {0.07, 0.13, 3, 1}};
    return scene;
}

static bf_swim_set book_set(void) {
    bf_swim_set set;
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) set.of[i] = bf_swim_parameters[i].middle;
    return set;
}

typedef struct water {
    bf_swim_scene scene;
    bfi_swim swim;
    int n;
    double x[MOST * 64], log_w[MOST], out[MOST];
} water;
static water W;

static water *at_water(int n, bf_swim_scene scene, bf_swim_set set, uint64_t seed) {
    W.scene = scene, W.n = n;
    assert_true(bfi_swim_columns(&scene) <= 64);
    bfi_swim_prepare(&W.swim, &scene, &set, seed, 7);
    bfi_swim_begin(&W.swim, n, W.x);
    memset(W.log_w, 0, sizeof W.log_w);
    return &W;
}

static void run(water *w, double to_s) {
    bfi_swim_run(&w->swim, w->n, w->x, to_s, w->log_w);
}

static void meet(water *w, bf_swim_event event) {
    event.t_s = w->swim.now.t_s;
    bfi_swim_meet(&w->swim, w->n, w->x, &event, w->log_w);
}

static void feed(water *w, int spot, int what, int how, double count) {
    meet(w, (bf_swim_event){.kind = BF_SWIM_FEED,
                            .spot = spot,
                            .what = what,
                            .how = how,
                            .count = count,
                            .area_m2 = w->scene.spot[spot].area_m2[how]});
}

static int is_long(void) {
    return getenv("BF_LONG") != NULL;
}

static double *column(water *w, int spot, int c) {
    return w->x + (bfi_spot_column(&w->swim, spot) + c) * w->n;
}

static double mean_of(const double *v, int n) {
    double sum = 0;
    for (int i = 0; i < n; i++) sum += v[i];
    return sum / n;
}

static double variance_of(const double *v, int n) {
    double mean = mean_of(v, n), sum = 0;
    for (int i = 0; i < n; i++) sum += (v[i] - mean) * (v[i] - mean);
    return sum / (n - 1);
}

/* A water where no fish comes and none pecks. */
static bf_swim_set empty_water(void) {
    bf_swim_set set = book_set();
    set.of[BF_SWIM_STOCK] = 1e-9;
    set.of[BF_SWIM_NUISANCE] = 1e-9;
    return set;
}

/* 1000 pieces that each last an exponential time of mean 3600 s: after 1200 s a binomial number. */
static void a_bed_without_fish_goes_as_a_pure_death(void **state) {
    (void)state;
    water *w = at_water(1000, a_scene(1, 16), empty_water(), 1);
    feed(w, 0, 1, BF_CLUMP, 1000);
    run(w, 1200);
    double stay = exp(-1200.0 / 3600), mean = 1000 * stay, variance = mean * (1 - stay);
    bfi_swim_left(&w->swim, w->n, w->x, 0, -1, w->out);
    BF_CHECK_ABS(mean_of(w->out, w->n), mean, 5 * sqrt(variance / w->n));
    BF_CHECK_REL(variance_of(w->out, w->n), variance, 5 * sqrt(2.0 / w->n));
    bfi_swim_eaten(&w->swim, w->n, w->x, 0, w->out);
    BF_CHECK_ABS(mean_of(w->out, w->n), 1000 - mean, 5 * sqrt(variance / w->n));
}

/* Two baits that go in together: the noise, the put-in remembered and the fright of one; feed and its area of both. */
static void a_further_bait_of_a_put_in_makes_no_noise_of_its_own(void **state) {
    (void)state;
    water *w = at_water(1, a_scene(1, 16), book_set(), 1);
    column(w, 0, FISH)[0] = 3;
    feed(w, 0, 1, BF_CLUMP, 30);
    double wary = column(w, 0, WARY)[0];
    meet(w, (bf_swim_event){.kind = BF_SWIM_FEED, .is_further = 1, .count = 10, .area_m2 = 0.11});
    assert_true(wary > 0 && column(w, 0, WARY)[0] == wary);
    assert_true(w->swim.now.splash[0] == 1 && w->swim.now.expect == 1);
    bfi_swim_left(&w->swim, 1, w->x, 0, -1, w->out);
    BF_CHECK_REL(w->out[0], 40.0, 1e-15);
    BF_CHECK_REL(column(w, 0, TIGHT_M2)[0], (30 * 0.07 + 10 * 0.11) / 40, 1e-14);
}

static void feed_is_as_wide_as_its_zones_and_no_feed_has_no_width(void **state) {
    (void)state;
    water *w = at_water(1, a_scene(1, 16), book_set(), 1);
    bfi_swim_wide(&w->swim, 1, w->x, 0, w->out);
    assert_true(isnan(w->out[0]));
    feed(w, 0, 1, BF_CLUMP, 30);
    bfi_swim_wide(&w->swim, 1, w->x, 0, w->out);
    BF_CHECK_REL(w->out[0], 2 * sqrt(0.07 / BF_PI), 1e-14);
    feed(w, 0, 1, BF_THROW, 10);
    bfi_swim_wide(&w->swim, 1, w->x, 0, w->out);
    BF_CHECK_REL(w->out[0], 2 * sqrt((30 * 0.07 + 10 * 3) / 40 / BF_PI), 1e-14);
}

/* Fish near: they come at a rate falling to nothing at four stocks and go each by itself, so with no cue to the bait their
 * number settles to a binomial of 4 STOCK (Ehrenfest's urn). */
static void fish_near_settle_to_ehrenfests_binomial(void **state) {
    (void)state;
    bf_swim_set set = book_set();
    set.of[BF_SWIM_STOCK] = 10, set.of[BF_SWIM_NUISANCE] = 1e-9;
    set.of[BF_SWIM_SMELL] = set.of[BF_SWIM_SPLASH] = 1e-12;
    set.of[BF_SWIM_LEAVE] = 0.05; /* who comes anyway is soon gone */
    water *w = at_water(is_long() ? 4000 : 400, a_scene(1, 26.75), set, 2);
    run(w, 4 * ROAM_S);
    double chance = 0.25 / 1.25, mean = 40 * chance, variance = mean * (1 - chance);
    bfi_swim_near(&w->swim, w->n, w->x, w->out);
    BF_CHECK_ABS(mean_of(w->out, w->n), mean, 5 * sqrt(variance / w->n) + 0.01 * mean);
    BF_CHECK_REL(variance_of(w->out, w->n), variance, 5 * sqrt(2.0 / w->n) + 0.02);
}

/* One fish on bare ground leaves with a constant hazard: the share still there falls as e^-ht. */
static void a_lone_fish_leaves_a_bare_bottom_after_an_exponential_time(void **state) {
    (void)state;
    bf_swim_set set = empty_water();
    water *w = at_water(4000, a_scene(1, 16), set, 3);
    for (int p = 0; p < w->n; p++) column(w, 0, FISH)[p] = 1, w->x[HUNGER * w->n + p] = 1;
    run(w, 400);
    double stay = exp(-400 * (LEAVE_ANYWAY + set.of[BF_SWIM_LEAVE]));
    bfi_swim_fish(&w->swim, w->n, w->x, 0, w->out);
    BF_CHECK_ABS(mean_of(w->out, w->n), stay, 5 * sqrt(stay * (1 - stay) / w->n) + 0.004);
}

/* ---- The clockwork ---- */

static void eventful_half_hour(water *w, double stop_every_s) {
    for (int i = 0; i < 6; i++) {
        double begin = 300.0 * i;
        feed(w, 0, i % 2, BF_CLUMP, 20 + 60 * (1 - i % 2));
        if (i == 3) feed(w, 0, 1, BF_THROW, 5);
        run(w, begin + 12.3);
        meet(w, (bf_swim_event){.kind = BF_SWIM_IN});
        for (double t = begin + stop_every_s; t < begin + 200; t += stop_every_s)
            if (t > w->swim.now.t_s) run(w, t);
        run(w, begin + 200);
        meet(w, (bf_swim_event){.kind = BF_SWIM_LIFT, .outcome = i % 3 ? BF_LANDED : BF_MISSED, .held = -1});
        for (double t = begin + 200 + stop_every_s; t < begin + 300; t += stop_every_s) run(w, t);
        run(w, begin + 300);
    }
}

static size_t size_of(const water *w) {
    return (size_t)w->n * (size_t)bfi_swim_columns(&w->scene) * sizeof(double);
}

static void stopping_at_the_grid_and_going_on_from_a_moment_change_no_bit(void **state) {
    (void)state;
    static double x[MOST * 64], log_w[MOST];
    water *w = at_water(41, a_scene(2, 16), book_set(), 4);
    eventful_half_hour(w, 300);
    memcpy(x, w->x, size_of(w)), memcpy(log_w, w->log_w, sizeof log_w);
    w = at_water(41, a_scene(2, 16), book_set(), 4);
    eventful_half_hour(w, 5);
    assert_memory_equal(x, w->x, size_of(w));
    assert_memory_equal(log_w, w->log_w, sizeof log_w);

    double moment[BFI_SWIM_MOMENT];
    bfi_swim_save(&w->swim, moment);
    run(w, 2400);
    memcpy(log_w, w->log_w, sizeof log_w);
    static double after[MOST * 64];
    memcpy(after, w->x, size_of(w));
    bf_swim_set set = book_set();
    bf_swim_scene scene = w->scene;
    bfi_swim_prepare(&w->swim, &scene, &set, 4, 7);
    bfi_swim_restore(&w->swim, moment);
    memcpy(w->x, x, size_of(w));
    run(w, 2400);
    assert_memory_equal(after, w->x, size_of(w));
}

/* Two by two, or the last one alone: what a particle does depends on its slot only. */
static void a_particle_does_not_care_how_many_are_beside_it(void **state) {
    (void)state;
    static double alone[64];
    water *w = at_water(7, a_scene(1, 16), book_set(), 5);
    eventful_half_hour(w, 300);
    int columns = bfi_swim_columns(&w->scene);
    for (int c = 0; c < columns; c++) alone[c] = w->x[c * 7 + 6];
    double weight = w->log_w[6];
    w = at_water(8, a_scene(1, 16), book_set(), 5);
    eventful_half_hour(w, 300);
    for (int c = 0; c < columns; c++) BF_CHECK_ABS(w->x[c * 8 + 6], alone[c], 0);
    BF_CHECK_ABS(w->log_w[6], weight, 0);
}

/* Steps of 5 s and of 2.5 s, the same story: means of pieces left (ten seconds after a pot on a dozen fish, while they fall
 * fastest), fish, fish near, pieces gone and the hook's hazards stay within three parts in a hundred and what 600 particles (BF_LONG:
 * 4000) leave open: five standard errors of the difference. With 40000 they differed by 2.3, 0.5, 1.0, 0.1 and 0.9 %. */
static void halving_the_step_changes_the_means_by_three_percent_at_most(void **state) {
    (void)state;
    enum { READ = 5 };
    const int N = is_long() ? 4000 : 600;
    double mean[2][READ], se[2][READ];
    for (int half = 0; half < 2; half++) {
        water *w = at_water(N, a_scene(1, 18), book_set(), 6 + (uint64_t)half);
        for (int i = 0; i < 8; i++) {
            feed(w, 0, i % 2, BF_CLUMP, i % 2 ? 20 : 80);
            if (i == 4) feed(w, 0, 1, BF_THROW, 5);
            if (i == 4) meet(w, (bf_swim_event){.kind = BF_SWIM_IN});
            double step = half ? 2.5 : 5;
            double end = 150.0 * i + (i < 7 ? 150 : 10); /* read while feed lies there */
            for (double t = 150.0 * i + step; t <= end; t += step) run(w, t);
        }
        double *read[READ] = {w->out, w->out, w->out, w->out, w->log_w};
        for (int r = 0; r < READ; r++) {
            if (r == 0) bfi_swim_left(&w->swim, N, w->x, 0, -1, w->out);
            if (r == 1) bfi_swim_fish(&w->swim, N, w->x, 0, w->out);
            if (r == 2) bfi_swim_near(&w->swim, N, w->x, w->out);
            if (r == 3) bfi_swim_eaten(&w->swim, N, w->x, 0, w->out);
            mean[half][r] = mean_of(read[r], N);
            se[half][r] = sqrt(variance_of(read[r], N) / N);
        }
    }
    for (int r = 0; r < READ; r++)
        BF_CHECK_ABS(mean[0][r], mean[1][r],
                     0.03 * fabs(mean[1][r]) + 5 * sqrt(se[0][r] * se[0][r] + se[1][r] * se[1][r]));
}

/* ---- Eating ---- */

static void hungry_fish_on_the_bait(water *w, double fish) {
    for (int p = 0; p < w->n; p++) column(w, 0, FISH)[p] = fish, w->x[HUNGER * w->n + p] = 1;
}

/* Seconds until nine pieces in ten are gone, on average. */
static double cleared_s(double fish, double temp_c, int what, double pieces) {
    water *w = at_water(24, a_scene(1, temp_c), empty_water(), 8);
    hungry_fish_on_the_bait(w, fish);
    feed(w, 0, what, BF_CLUMP, pieces);
    for (double t = 5; t < 20000; t += 5) {
        for (int p = 0; p < w->n; p++) column(w, 0, FISH)[p] = fish; /* held there */
        run(w, t);
        bfi_swim_left(&w->swim, w->n, w->x, 0, -1, w->out);
        if (mean_of(w->out, w->n) < 0.1 * pieces) return t;
    }
    return 20000;
}

static void a_pot_of_hard_fours_is_gone_in_minutes_under_eight_fish_and_lies_for_long_without(void **state) {
    (void)state;
    BF_CHECK_IN(cleared_s(8, 20, 1, 55), 30, 300);
    BF_CHECK_IN(cleared_s(8, 10, 1, 55), 60, 600);
    BF_CHECK_IN(cleared_s(0, 20, 1, 55), 3600, 20000);
    assert_true(cleared_s(2, 20, 1, 55) >
                2 * cleared_s(8, 20, 1, 55)); /* interference takes some of it back */
}

static void small_feed_of_the_same_weight_holds_longer(void **state) {
    (void)state;
    assert_true(cleared_s(6, 16, 0, 400) > 2 * cleared_s(6, 16, 1, 53)); /* 3.2 g each */
}

/* More pieces about: what one fish takes rises and levels off at one piece a handling time (Holling's second form). */
static void intake_rises_with_the_feed_and_levels_off_at_handling(void **state) {
    (void)state;
    double last = 0;
    for (int i = 0; i < 5; i++) {
        water *w = at_water(512, a_scene(1, 26.75), empty_water(), 9);
        hungry_fish_on_the_bait(w, 1);
        double pieces = 1 << (2 * i + 1), rot = pieces * 10 / 3600.0;
        feed(w, 0, 1, BF_CLUMP, pieces);
        run(w, 5);
        hungry_fish_on_the_bait(w, 1);
        run(w, 10);
        bfi_swim_eaten(&w->swim, w->n, w->x, 0, w->out);
        double eaten = mean_of(w->out, w->n) - rot;
        assert_true(eaten > last);
        last = eaten;
    }
    BF_CHECK_REL(last, 10 / book_set().of[BF_SWIM_HANDLE],
                 0.12); /* 512 pieces; 0.97 of the fish is on the patch */
}

static void fish_eaten_full_slow_down(void **state) {
    (void)state;
    water *w = at_water(64, a_scene(1, 20), empty_water(), 10);
    hungry_fish_on_the_bait(w, 4);
    feed(w, 0, 1, BF_CLUMP, 5000);
    run(w, 5);
    double hunger = mean_of(w->x + HUNGER * w->n, w->n);
    for (double t = 10; t <= 3600; t += 5) {
        for (int p = 0; p < w->n; p++) column(w, 0, FISH)[p] = 4;
        run(w, t);
    }
    double later = mean_of(w->x + HUNGER * w->n, w->n);
    assert_true(later < hunger - 0.2);
    BF_CHECK_IN(later, 0, 1);
}

/* The patch is the landing area, averaged by pieces, and what fish scatter; hand feed leaves it alone. */
static void the_patch_comes_from_the_landing_area_and_from_scattering(void **state) {
    (void)state;
    water *w = at_water(16, a_scene(1, 16), empty_water(), 11);
    feed(w, 0, 1, BF_CLUMP, 30);
    BF_CHECK_ABS(column(w, 0, TIGHT_M2)[0], 0.07, 1e-12);
    feed(w, 0, 0, BF_SPRINKLE, 90);
    BF_CHECK_ABS(column(w, 0, TIGHT_M2)[0], (30 * 0.07 + 90 * 0.13) / 120, 1e-12);
    feed(w, 0, 1, BF_HAND, 10);
    BF_CHECK_ABS(column(w, 0, LOOSE_M2)[0], 1, 1e-12);
    double before = column(w, 0, TIGHT_M2)[0];
    run(w, 300);
    BF_CHECK_ABS(column(w, 0, TIGHT_M2)[0], before, 0); /* nobody there to scatter */
    hungry_fish_on_the_bait(w, 5);
    run(w, 400);
    assert_true(column(w, 0, TIGHT_M2)[0] > before + 1e-3);
}

static void small_fish_eat_soft_small_feed_and_hardly_hard_fours(void **state) {
    (void)state;
    double gone[2];
    for (int what = 0; what < 2; what++) {
        bf_swim_set set = empty_water();
        set.of[BF_SWIM_NUISANCE] = 10;
        water *w = at_water(64, a_scene(1, 20), set, 12);
        w->swim.rot_1_s[0] = w->swim.rot_1_s[1] = 0;
        feed(w, 0, what, BF_CLUMP, 300);
        run(w, 600);
        bfi_swim_eaten(&w->swim, w->n, w->x, 0, w->out);
        gone[what] = mean_of(w->out, w->n);
    }
    BF_CHECK_IN(gone[0], 150, 300);
    BF_CHECK_IN(gone[1], 0, 0.25 * gone[0]);
}

/* ---- Coming and going ---- */

static double fish_after(double temp_c, double pots, bf_swim_set set, uint64_t seed) {
    water *w = at_water(200, a_scene(1, temp_c), set, seed);
    for (int i = 0; i < 6; i++) {
        if (pots > 0) feed(w, 0, 1, BF_CLUMP, pots);
        run(w, 300.0 * (i + 1));
    }
    bfi_swim_fish(&w->swim, w->n, w->x, 0, w->out);
    return mean_of(w->out, w->n);
}

static void fish_come_to_feed_and_more_of_them_when_it_is_warm(void **state) {
    (void)state;
    double none = fish_after(18, 0, book_set(), 13), some = fish_after(18, 30, book_set(), 13),
           cold = fish_after(8, 30, book_set(), 13);
    assert_true(none < 0.3);
    BF_CHECK_IN(some, 2, 15);
    assert_true(cold < 0.5 * some);
}

static void fights_and_wariness_empty_a_spot(void **state) {
    (void)state;
    double left[3];
    for (int i = 0; i < 3; i++) {
        water *w = at_water(800, a_scene(1, 16), empty_water(), 14);
        hungry_fish_on_the_bait(w, 6);
        feed(w, 0, 1, BF_CLUMP, 400);
        if (i == 1) w->swim.now.fight[0] = 3;
        if (i == 2)
            for (int p = 0; p < w->n; p++) column(w, 0, WARY)[p] = 3;
        run(w, 120);
        bfi_swim_fish(&w->swim, w->n, w->x, 0, w->out);
        left[i] = mean_of(w->out, w->n);
    }
    assert_true(left[1] < left[0] - 0.5 && left[2] < left[0] - 0.5);
}

/* Fish on the bait at the first spot after half an hour of 30 pieces every five minutes, over those there when the second one gets 120 each time
 * besides. */
static double fish_beside_a_fed_spot(bf_swim_set set) {
    double fish[2];
    for (int both = 0; both < 2; both++) {
        water *w = at_water(1000, a_scene(2, 18), set, 15);
        for (int i = 0; i < 6; i++) {
            feed(w, 0, 1, BF_CLUMP, 30);
            if (both) feed(w, 1, 1, BF_CLUMP, 120);
            run(w, 300.0 * (i + 1));
        }
        bfi_swim_fish(&w->swim, w->n, w->x, 0, w->out);
        fish[both] = mean_of(w->out, w->n);
    }
    return fish[1] / fish[0];
}

/* Spots share the fish near, weakly: where fish come to feed as soon as they find it, feeding one takes some from the other; in the book's water its noise,
 * and those who leave it for the other, bring about as many as it takes. A few leavers of one try the other. */
static void spots_share_the_fish_weakly(void **state) {
    (void)state;
    bf_swim_set keen = book_set();
    keen.of[BF_SWIM_SMELL] = 1e-2, keen.of[BF_SWIM_SPLASH] = 4e-3;
    double among_keen = fish_beside_a_fed_spot(keen), by_the_book = fish_beside_a_fed_spot(book_set());
    print_message("beside a fed spot %.2f of the fish, by the book %.2f\n", among_keen, by_the_book);
    BF_CHECK_IN(among_keen, 0.4, 0.95);
    BF_CHECK_IN(by_the_book, 0.8, 1.2);

    water *w = at_water(2000, a_scene(2, 16), empty_water(), 16);
    hungry_fish_on_the_bait(w, 1);
    run(w, 600);
    bfi_swim_fish(&w->swim, w->n, w->x, 0, w->out);
    double gone = 1 - mean_of(w->out, w->n);
    bfi_swim_fish(&w->swim, w->n, w->x, 1, w->out);
    BF_CHECK_IN(mean_of(w->out, w->n) / gone, 0.08,
                MOVE / 1.36 + 0.02); /* 6 m apart; some have left that too */
}

/* ---- What is entered ---- */

/* No fish: the hazards are constant. */
static double bare_hazard(const water *w, double h[N_SHOWN]) {
    double all = 0;
    bfi_swim_shows(&w->swim, w->n, w->x, 0, 0, 0, h);
    for (int i = 0; i < N_SHOWN; i++) all += h[i];
    return all;
}

static void no_bite_costs_the_integrated_hazard_and_only_with_the_rig_in(void **state) {
    (void)state;
    bf_swim_set set = empty_water();
    set.of[BF_SWIM_NUISANCE] = 5;
    water *w = at_water(3, a_scene(1, 16), set, 17);
    run(w, 100);
    BF_CHECK_ABS(w->log_w[0], 0, 0);
    meet(w, (bf_swim_event){.kind = BF_SWIM_IN});
    double h[N_SHOWN], all = bare_hazard(w, h);
    assert_true(all > 4e-4);
    run(w, 163.7);
    BF_CHECK_REL(w->log_w[2], -63.7 * all, 1e-9);
    double before = w->log_w[2];
    meet(w,
         (bf_swim_event){.kind = BF_SWIM_LIFT, .outcome = BF_NOTHING, .held = -1}); /* the angler's choice */
    run(w, 300);
    BF_CHECK_ABS(w->log_w[2], before, 0);
}

static void an_entry_weighs_its_hazard_with_wrong_words_and_forgotten_ones(void **state) {
    (void)state;
    double sum = 0, h[N_SHOWN], all = 0;
    for (int o = 0; o < N_BITES; o++) {
        bf_swim_set set = empty_water();
        set.of[BF_SWIM_NUISANCE] = 5;
        water *w = at_water(2, a_scene(1, 16), set, 18);
        meet(w, (bf_swim_event){.kind = BF_SWIM_IN});
        all = bare_hazard(w, h) - h[SHOWN_TOUCH];
        meet(w, (bf_swim_event){.kind = BF_SWIM_LIFT, .outcome = o, .held = -1});
        double want = (1 - NOT_ENTERED) * ((1 - MISLABELLED) * h[o] + MISLABELLED * (all - h[o]) / 3);
        BF_CHECK_REL(exp(w->log_w[1]), want, 1e-12);
        sum += exp(w->log_w[1]);
    }
    BF_CHECK_REL(sum, (1 - NOT_ENTERED) * all, 1e-12);
}

static void a_fish_landed_is_gone_and_frightens_less_than_one_lost(void **state) {
    (void)state;
    double wary[N_BITES];
    for (int o = 0; o < N_BITES; o++) {
        water *w = at_water(2, a_scene(1, 16), book_set(), 19);
        hungry_fish_on_the_bait(w, 3);
        meet(w, (bf_swim_event){.kind = BF_SWIM_IN});
        meet(w, (bf_swim_event){.kind = BF_SWIM_LIFT, .outcome = o, .held = -1});
        BF_CHECK_ABS(column(w, 0, FISH)[1], o == BF_MISSED ? 3 : 2, 0);
        wary[o] = column(w, 0, WARY)[1];
    }
    assert_true(wary[BF_MISSED] < wary[BF_LANDED] && wary[BF_LANDED] < wary[BF_LOST]);
    BF_CHECK_ABS(wary[BF_FOUL], wary[BF_LOST], 0);
}

/* The hook bait's share of what is met is its share of the search area that lies there; each fish passes by for a while what it has refused. */
static void the_hook_bait_is_one_more_piece_on_the_patch(void **state) {
    (void)state;
    bf_swim_set set = empty_water();
    set.of[BF_SWIM_NEAR] = 1e-6, set.of[BF_SWIM_LINE] = 1e-12; /* on the pile; no line bites */
    bf_swim_scene scene = a_scene(1, 20);
    scene.hook[1].diameter_m = 4e-3;
    double take[2];
    for (int i = 0; i < 2; i++) {
        water *w = at_water(2, scene, set, 20);
        hungry_fish_on_the_bait(w, 3);
        feed(w, 0, 1, BF_CLUMP, i ? 40 : 20);
        double h[N_SHOWN];
        bfi_swim_shows(&w->swim, w->n, w->x, 0, 1, 0, h);
        take[i] = h[BF_LANDED] + h[BF_LOST] + h[BF_MISSED] + h[BF_FOUL];
        w->swim.rot_1_s[1] = 0;
        run(w, 1); /* what they eat of the feed in a second, against the hook bait's takes */
        bfi_swim_eaten(&w->swim, w->n, w->x, 0, w->out);
        double pieces = i ? 40 : 20, mean_eaten = 0, on;
        bfi_swim_fish(&w->swim, w->n, w->x, 0, w->out);
        on = w->out[0]; /* nearly all of them are on a patch with so much on it */
        for (int s = 0; s < 400; s++) {
            w = at_water(2, scene, set, 21 + (uint64_t)s);
            hungry_fish_on_the_bait(w, 3);
            w->swim.rot_1_s[1] = 0;
            feed(w, 0, 1, BF_CLUMP, i ? 40 : 20);
            run(w, 1);
            bfi_swim_eaten(&w->swim, w->n, w->x, 0, w->out);
            mean_eaten += (w->out[0] + w->out[1]) / 800;
        }
        double met = mean_eaten / pieces, looked_at = met * on / (on + REFUSED_S * met);
        BF_CHECK_REL(take[i] - 4 * PASSING_1_S, looked_at * book_set().of[BF_SWIM_TAKE], 0.15);
    }
    assert_true(take[1] < 0.7 * take[0]);
}

static void a_soft_hook_bait_is_robbed_by_small_fish_and_a_hard_one_is_not(void **state) {
    (void)state;
    bf_swim_set set = empty_water();
    set.of[BF_SWIM_NUISANCE] = 20;
    water *w = at_water(2, a_scene(1, 20), set, 22);
    double soft[N_SHOWN], hard[N_SHOWN];
    bfi_swim_shows(&w->swim, 2, w->x, 0, 0, 0, soft);
    bfi_swim_shows(&w->swim, 2, w->x, 0, 1, 0, hard);
    assert_true(soft[BF_MISSED] > 20 * hard[BF_MISSED]);
    BF_CHECK_ABS(soft[BF_LANDED], hard[BF_LANDED], 0);
    BF_CHECK_ABS(soft[SHOWN_TOUCH], hard[SHOWN_TOUCH], 0);
}

static void the_eyes_three_words_have_all_the_chance_and_lean_the_right_way(void **state) {
    (void)state;
    double sum[2] = {0};
    for (int eye = 0; eye < BF_N_EYES; eye++) {
        water *w = at_water(2, a_scene(1, 16), empty_water(), 23);
        feed(w, 0, 1, BF_CLUMP, 30);
        column(w, 0, PIECES + 1)[1] = 5; /* less lies at the second particle */
        meet(w, (bf_swim_event){.kind = BF_SWIM_LOOK, .eye = eye, .count = 30});
        for (int p = 0; p < 2; p++) sum[p] += exp(w->log_w[p]);
        if (eye == BF_EYE_LESS) assert_true(w->log_w[1] > w->log_w[0] + 1);
        if (eye == BF_EYE_MORE) assert_true(w->log_w[1] < w->log_w[0] - 1);
    }
    BF_CHECK_ABS(sum[0], 1, 1e-12);
    BF_CHECK_ABS(sum[1], 1, 1e-12);
}

static void a_look_without_a_shown_count_is_held_against_the_blocks_own_mean(void **state) {
    (void)state;
    double against[2][2];
    for (int told = 0; told < 2; told++) {
        water *w = at_water(2, a_scene(1, 16), empty_water(), 24);
        feed(w, 0, 1, BF_CLUMP, 30);
        column(w, 0, PIECES + 1)[1] = 10;
        w->log_w[0] = log(3.0); /* mean (3 * 30 + 10) / 4 = 25 */
        meet(w, (bf_swim_event){.kind = BF_SWIM_LOOK, .eye = BF_EYE_LESS, .count = told ? 25 : NAN});
        for (int p = 0; p < 2; p++) against[told][p] = w->log_w[p];
    }
    for (int p = 0; p < 2; p++) BF_CHECK_ABS(against[1][p], against[0][p], 1e-12);
}

/* Counts of a stretch: Poisson of the hazards over it, the rig in for its usual share; constant hazards give the closed form. */
static void a_tally_is_poisson_of_the_hazards_over_its_stretch(void **state) {
    (void)state;
    bf_swim_set set = empty_water();
    set.of[BF_SWIM_NUISANCE] = 20;
    water *w = at_water(3, a_scene(1, 20), set, 25);
    run(w, 50);
    meet(w, (bf_swim_event){.kind = BF_SWIM_STRETCH});
    double h[N_SHOWN];
    bare_hazard(w, h);
    run(w, 1250);
    BF_CHECK_ABS(w->log_w[2], 0, 0); /* not before the counts are known */
    meet(w, (bf_swim_event){.kind = BF_SWIM_TALLY,
                            .span_s = 1200,
                            .tally = {[BF_LANDED] = 1, [BF_MISSED] = 5, [BF_TOUCHED] = 4}});
    double all = h[BF_LANDED] + h[BF_LOST] + h[BF_MISSED] + h[BF_FOUL], want = 0;
    static const double count[N_SHOWN] = {1, 0, 5, 0, 4};
    for (int i = 0; i < N_SHOWN; i++) {
        double rate = i < N_BITES
                          ? (1 - NOT_ENTERED) * ((1 - MISLABELLED) * h[i] + MISLABELLED * (all - h[i]) / 3)
                          : h[i];
        want += count[i] * log(rate * RIG_IN_SHARE * 1200) - rate * RIG_IN_SHARE * 1200;
    }
    BF_CHECK_ABS(w->log_w[2], want, 1e-9);
}

static void a_hold_tells_nothing_before_it_is_learned(void **state) {
    (void)state;
    double gain[2][2];
    for (int learned = 0; learned < 2; learned++) {
        bf_swim_set set = empty_water();
        set.of[BF_SWIM_HOLD] = learned ? 2 : 1;
        for (int top = 0; top < 2; top++) {
            water *w = at_water(2, a_scene(1, 16), set, 26);
            feed(w, 0, 1, BF_CLUMP, 80);
            column(w, 0, PIECES + 1)[1] = 2;
            meet(w, (bf_swim_event){.kind = BF_SWIM_IN});
            meet(w, (bf_swim_event){.kind = BF_SWIM_LIFT,
                                    .outcome = BF_LANDED,
                                    .held = top ? BF_LIP_TOP_MIDDLE : BF_LIP_BOTTOM});
            gain[learned][top] = w->log_w[1] - w->log_w[0]; /* little feed against much */
        }
    }
    BF_CHECK_ABS(gain[0][1], gain[0][0], 1e-12);
    assert_true(gain[1][1] > gain[1][0] + 0.1);
}

/* ---- Sizes and sets ---- */

static void sizes_are_taken_together_with_the_nearest_until_four_are_left(void **state) {
    (void)state;
    bf_swim_scene scene = a_scene(1, 16);
    static const double mm[] = {2, 8, 4, 6, 11, 2.05};
    scene.n_feeds = 6;
    for (int i = 0; i < 6; i++)
        scene.feed[i] = (bf_swim_feed){.diameter_m = mm[i] * 1e-3, .piece_kg = 1e-5, .lasting_s = 3600};
    double size_m[BF_SWIM_MOST_CLASSES];
    assert_int_equal(bfi_swim_classes(&scene, size_m), 4);
    BF_CHECK_REL(size_m[0], sqrt(2 * 2.05) * 1e-3, 1e-12); /* alike anyway */
    BF_CHECK_REL(size_m[1], 4e-3, 1e-12);
    BF_CHECK_REL(size_m[2], sqrt(6 * 8.0) * 1e-3, 1e-12); /* factor 1.33, the nearest pair */
    BF_CHECK_REL(size_m[3], 11e-3, 1e-12);
    water *w = at_water(2, scene, empty_water(), 27);
    static const int want[] = {0, 2, 1, 2, 3, 0};
    for (int i = 0; i < 6; i++) {
        feed(w, 0, i, BF_CLUMP, 10);
        assert_int_equal(w->swim.class_of[i], want[i]);
    }
    bfi_swim_left(&w->swim, 2, w->x, 0, 2, w->out);
    BF_CHECK_ABS(w->out[0], 20, 0);
    bfi_swim_left_kg(&w->swim, 2, w->x, 0, w->out);
    BF_CHECK_REL(w->out[1], 60 * 1e-5, 1e-12);
    scene.n_feeds = 0;
    assert_int_equal(bfi_swim_classes(&scene, size_m), 1);
}

/* A bank of 256 hits each of a parameter's 256 strata once; parameters are not tied to each other. */
static void a_bank_is_a_latin_hypercube_of_the_prior(void **state) {
    (void)state;
    enum { N = 256 };
    static double z[BF_SWIM_N_PARAMETERS][N];
    bf_swim_prior book = bf_swim_book();
    int hit[N];
    for (int j = 0; j < BF_SWIM_N_PARAMETERS; j++) {
        memset(hit, 0, sizeof hit);
        for (int i = 0; i < N; i++) {
            bf_swim_set set = bf_swim_drawn_set(&book, 3, i, N);
            z[j][i] = (log(set.of[j]) - book.mean[j]) / book.sd[j];
            int stratum = (int)(N * 0.5 * erfc(-z[j][i] / sqrt(2)));
            assert_int_equal(hit[stratum]++, 0);
        }
        BF_CHECK_ABS(mean_of(z[j], N), 0, 0.01);
        BF_CHECK_REL(variance_of(z[j], N), 1.0, 0.03);
    }
    for (int j = 0; j < BF_SWIM_N_PARAMETERS; j++)
        for (int k = 0; k < j; k++) {
            double r = 0;
            for (int i = 0; i < N; i++) r += z[j][i] * z[k][i] / N;
            BF_CHECK_ABS(r, 0, 0.3); /* 4.8 standard errors; 120 pairs: false alarm 2e-4 */
        }
}

/* "spread": eight in ten lie within that factor of the middle. */
static void eight_in_ten_of_a_parameter_lie_within_its_spread(void **state) {
    (void)state;
    enum { N = 1000 };
    bf_swim_prior book = bf_swim_book();
    for (int j = 0; j < BF_SWIM_N_PARAMETERS; j++) {
        int within = 0;
        const bf_swim_named *named = &bf_swim_parameters[j];
        for (int i = 0; i < N; i++) {
            double ratio = bf_swim_drawn_set(&book, 1, i, N).of[j] / named->middle;
            within += ratio < named->spread && ratio > 1 / named->spread;
        }
        assert_in_range(within, 798, 802);
        assert_true(named->level == 'V' || named->level == 'A' || named->level == 'D');
    }
}

/* docs/models/swim.md repeats both tables: every name stands there with its value. */
static void the_note_states_every_number_of_the_model(void **state) {
    (void)state;
    char row[160];
    for (int j = 0; j < BF_SWIM_N_PARAMETERS; j++) {
        const bf_swim_named *named = &bf_swim_parameters[j];
        snprintf(row, sizeof row, "| `%s` | %s | %g | %g | %c |", named->name, named->unit, named->middle,
                 named->spread, named->level);
        if (!strstr(note, row)) fail_msg("docs/models/swim.md lacks: %s", row);
    }
#define STATED(name, unit, value, why)                                                                       \
    snprintf(row, sizeof row, "| `%s` | %s | %g |", #name, unit, (double)(value));                           \
    if (!strstr(note, row)) fail_msg("docs/models/swim.md lacks: %s", row);
    BFI_SWIM_FIXED_LIST(STATED)
#undef STATED
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_bed_without_fish_goes_as_a_pure_death),
        cmocka_unit_test(a_further_bait_of_a_put_in_makes_no_noise_of_its_own),
        cmocka_unit_test(feed_is_as_wide_as_its_zones_and_no_feed_has_no_width),
        cmocka_unit_test(fish_near_settle_to_ehrenfests_binomial),
        cmocka_unit_test(a_lone_fish_leaves_a_bare_bottom_after_an_exponential_time),
        cmocka_unit_test(stopping_at_the_grid_and_going_on_from_a_moment_change_no_bit),
        cmocka_unit_test(a_particle_does_not_care_how_many_are_beside_it),
        cmocka_unit_test(halving_the_step_changes_the_means_by_three_percent_at_most),
        cmocka_unit_test(a_pot_of_hard_fours_is_gone_in_minutes_under_eight_fish_and_lies_for_long_without),
        cmocka_unit_test(small_feed_of_the_same_weight_holds_longer),
        cmocka_unit_test(intake_rises_with_the_feed_and_levels_off_at_handling),
        cmocka_unit_test(fish_eaten_full_slow_down),
        cmocka_unit_test(the_patch_comes_from_the_landing_area_and_from_scattering),
        cmocka_unit_test(small_fish_eat_soft_small_feed_and_hardly_hard_fours),
        cmocka_unit_test(fish_come_to_feed_and_more_of_them_when_it_is_warm),
        cmocka_unit_test(fights_and_wariness_empty_a_spot),
        cmocka_unit_test(spots_share_the_fish_weakly),
        cmocka_unit_test(no_bite_costs_the_integrated_hazard_and_only_with_the_rig_in),
        cmocka_unit_test(an_entry_weighs_its_hazard_with_wrong_words_and_forgotten_ones),
        cmocka_unit_test(a_fish_landed_is_gone_and_frightens_less_than_one_lost),
        cmocka_unit_test(the_hook_bait_is_one_more_piece_on_the_patch),
        cmocka_unit_test(a_soft_hook_bait_is_robbed_by_small_fish_and_a_hard_one_is_not),
        cmocka_unit_test(the_eyes_three_words_have_all_the_chance_and_lean_the_right_way),
        cmocka_unit_test(a_look_without_a_shown_count_is_held_against_the_blocks_own_mean),
        cmocka_unit_test(a_tally_is_poisson_of_the_hazards_over_its_stretch),
        cmocka_unit_test(a_hold_tells_nothing_before_it_is_learned),
        cmocka_unit_test(sizes_are_taken_together_with_the_nearest_until_four_are_left),
        cmocka_unit_test(a_bank_is_a_latin_hypercube_of_the_prior),
        cmocka_unit_test(eight_in_ten_of_a_parameter_lie_within_its_spread),
        cmocka_unit_test_setup(the_note_states_every_number_of_the_model, note_is_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
