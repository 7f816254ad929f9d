/* What the book's prior says before anything was entered, over made-up days whose parameters are drawn from it: is it wide enough, does a
 * blank day happen, does a fish eat no more than it can? The rows stand in docs/models/swim.md; with BF_LONG they are computed anew in
 * full and must stand there to the letter. Without, a few days must agree with them.
 *
 * Oracles: ration and appetite of carp (docs/models/swim.md, published numbers). That a prior is wide enough is a judgement: what is asserted is
 * what an angler would say of any day: the bed may be empty or untouched, fish may be none or many, some days nothing is caught. */
#include "baitfall/summary.h"
#include "common/check.h"
#include "swim/days.h"
#include "swim/note.h"

enum { FEW_DAYS = 60, ALL_DAYS = 1000, ALL_LONG_DAYS = 500 };

static const double temp_c[] = {6, 12, 18, 24};

static int is_long(void) {
    return getenv("BF_LONG") != NULL;
}

static days_angler day_of(int i, int n, double t_c) {
    bf_swim_prior book = bf_swim_book();
    bf_swim_set set = bf_swim_drawn_set(&book, 5, i, n);
    bf_swim_scene scene = days_scene(t_c);
    for (int k = 0; k < scene.n_feeds; k++) scene.feed[k].lasting_factor = BF_STORY_LASTING_FACTOR;
    return days_open(&scene, &set, 900 + (uint64_t)i);
}

/* ---- One pot ----------------------------------------------------------------------------------------------------- */

typedef struct pot {
    bf_range left, fish;
    double gone, many;
} pot;

static pot after_a_pot(double t_c, double pieces, double s, int n) {
    static double left[ALL_DAYS], fish[ALL_DAYS];
    pot p = {.gone = 0};
    for (int i = 0; i < n; i++) {
        days_angler a = day_of(i, n, t_c);
        days_feed(&a, DAYS_HARD_FOUR, BF_CLUMP, pieces, 0.07);
        days_pass(&a, s);
        bf_play_truth seen = bf_play_see(a.play, 0, 0);
        left[i] = seen.left, fish[i] = seen.fish;
        p.gone += (seen.left < 0.5) / (double)n, p.many += (seen.fish > 6.5) / (double)n;
        days_close(&a);
    }
    p.left = bf_range_of(left, (size_t)n, 0);
    p.fish = bf_range_of(fish, (size_t)n, 0);
    return p;
}

static void pot_row(double t_c, double pieces, double s, const pot *p, char *row, size_t size) {
    snprintf(row, size, "| %.0f C | %.0f | %.0f min | %.0f, %.0f, %.0f | %.2f | %.0f, %.0f, %.0f | %.2f |",
             t_c, pieces, s / 60, p->left.lo, p->left.mid, p->left.hi, p->gone, p->fish.lo, p->fish.mid,
             p->fish.hi, p->many);
}

/* ---- A day --------------------------------------------------------------------------------------------------------- */

static const days_rule fours = {
    .feed = DAYS_HARD_FOUR, .hook = DAYS_SOFT_SIX, .pieces = 15, .every_s = 180, .patience_s = 150};

typedef struct caught {
    bf_range landed;
    double blank;
} caught;

static caught in_five_hours(double t_c, int n) {
    static double landed[ALL_LONG_DAYS];
    caught c = {.blank = 0};
    for (int i = 0; i < n; i++) {
        days_angler a = day_of(i, n, t_c);
        days_tally tally = days_fish(&a, &fours, 18000);
        landed[i] = tally.outcome[BF_LANDED];
        c.blank += (landed[i] == 0) / (double)n;
        days_close(&a);
    }
    c.landed = bf_range_of(landed, (size_t)n, 0);
    return c;
}

static void day_row(double t_c, const caught *c, char *row, size_t size) {
    snprintf(row, size, "| %.0f C | %.0f, %.0f, %.0f | %.2f |", t_c, c->landed.lo, c->landed.mid,
             c->landed.hi, c->blank);
}

/* ---- What fish eat --------------------------------------------------------------------------------------------------- */

/* Feed without end and nothing else that takes it: grams that a fish eats while it is about, of n days. */
static bf_range eaten_g(double t_c, int n, double *most_g) {
    static double each[ALL_LONG_DAYS];
    const double stays_s = 1500; /* ROAM_S: how long a fish is about, on average */
    bf_swim_prior book = bf_swim_book();
    for (int i = 0; i < n; i++) {
        bf_swim_set set = bf_swim_drawn_set(&book, 6, i, n);
        bf_swim_scene scene = days_scene(t_c);
        set.of[BF_SWIM_NUISANCE] = 1e-9, scene.feed[DAYS_HARD_FOUR].lasting_s = 1e12;
        days_angler a = days_open(&scene, &set, 900 + (uint64_t)i);
        double fish_s = 0, begun = bf_play_see(a.play, 0, 0).near;
        for (double s = 0; s < 18000; s += 60) {
            days_feed(&a, DAYS_HARD_FOUR, BF_CLUMP, 55, 0.07);
            days_pass(&a, s + 60);
            bf_play_truth seen = bf_play_see(a.play, 0, 0);
            fish_s += 60 * (seen.near + seen.fish);
        }
        double stays = begun + fish_s / stays_s;
        each[i] = stays >= 1 ? 1e3 * 6e-5 * bf_play_see(a.play, 0, 0).eaten / stays : 0;
        days_close(&a);
    }
    bf_range range = bf_range_of(each, (size_t)n, 0);
    *most_g = each[n - 1];
    return range;
}

/* ---- The note ---------------------------------------------------------------------------------------------------------- */

static int is_missing(const char *row) {
    if (strstr(note, row)) return 0;
    print_error("not in docs/models/swim.md:\n%s\n", row);
    return 1;
}

static void the_note_says_what_the_book_expects_of_a_pot(void **state) {
    (void)state;
    static const double pieces[] = {15, 55, 200}, after_s[] = {300, 1800};
    char row[256];
    int wrong = 0;
    if (!is_long()) { /* the widths themselves, of a few days */
        pot p = after_a_pot(12, 200, 1800, FEW_DAYS);
        BF_CHECK_IN(p.left.lo, 0, 20);
        BF_CHECK_IN(p.left.hi, 100, 200);
        return;
    }
    for (int t = 0; t < 4; t++)
        for (int k = 0; k < 6; k++) {
            pot p = after_a_pot(temp_c[t], pieces[k / 2], after_s[k % 2], ALL_DAYS);
            pot_row(temp_c[t], pieces[k / 2], after_s[k % 2], &p, row, sizeof row);
            wrong += is_missing(row);
        }
    assert_int_equal(wrong, 0);
}

static void the_note_says_what_the_book_expects_of_a_day(void **state) {
    (void)state;
    char row[256];
    int wrong = 0;
    if (!is_long()) {
        caught cold = in_five_hours(6, 12), warm = in_five_hours(18, 12);
        assert_true(cold.blank > warm.blank && warm.landed.mid > cold.landed.mid);
        return;
    }
    for (int t = 0; t < 4; t++) {
        caught c = in_five_hours(temp_c[t], ALL_LONG_DAYS);
        day_row(temp_c[t], &c, row, sizeof row);
        wrong += is_missing(row);
    }
    assert_int_equal(wrong, 0);
}

/* A meal is what fills a fish at that temperature: 20 g at the best one, 1 % of 1 to 2 kg at 18 to 22 C; in the cold, where next to nothing
 * fills it, at most a day's maintenance of 1.5 kg (Goolish & Adelman's fit; below 12 C beyond its range). Hunger that comes back while a fish
 * stays adds a tenth. */
static void no_fish_eats_more_than_it_can_while_it_is_about(void **state) {
    (void)state;
    char row[256];
    int wrong = 0;
    for (int t = 0; t < 4; t++) {
        double most_g, meal_g = 20 * bf_fish_appetite(temp_c[t]),
                       day_g = 1500 * bf_fish_maintenance(temp_c[t]);
        bf_range g = eaten_g(temp_c[t], is_long() ? ALL_LONG_DAYS : 8, &most_g);
        BF_CHECK_IN(most_g, 0, fmax(1.1 * meal_g, day_g));
        snprintf(row, sizeof row, "| %.0f C | %.2f, %.2f, %.2f | %.2f | %.2f | %.2f |", temp_c[t], g.lo,
                 g.mid, g.hi, most_g, meal_g, day_g);
        if (is_long()) wrong += is_missing(row);
    }
    assert_int_equal(wrong, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup(the_note_says_what_the_book_expects_of_a_pot, note_is_read),
        cmocka_unit_test_setup(the_note_says_what_the_book_expects_of_a_day, note_is_read),
        cmocka_unit_test_setup(no_fish_eats_more_than_it_can_while_it_is_about, note_is_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
