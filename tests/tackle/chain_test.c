/* The strength chain: what gives first, against a million random draws of the same figures, and by hand. */
#include "baitfall/elastic.h"

#include "baitfall/random.h"
#include "baitfall/special.h"
#include "common/check.h"

typedef struct parts {
    bf_hook hook;
    bf_fishing_line hooklength, line;
    bf_elastic elastic;
} parts;

static parts middle(void) {
    parts p;
    bf_record_start(&bf_hook_table, &p.hook);
    bf_record_start(&bf_hooklength_table, &p.hooklength);
    bf_record_start(&bf_line_table, &p.line);
    bf_record_start(&bf_elastic_table, &p.elastic);
    p.hooklength.diameter_m = 0.00012;
    p.line.diameter_m = 0.00015;
    return p;
}

static bf_chain chain_of(const parts *p) {
    bf_chain chain;
    assert_int_equal(bf_chain_of(&p->hook, &p->hooklength, &p->line, &p->elastic, &chain), BF_OK);
    return chain;
}

/* Normal with the 80 % half-width pm, cut off: drawn again until inside. Written apart from the program's sampler. */
static double drawn(double value, double pm, double least, double most, uint64_t stream, uint64_t index) {
    for (uint64_t again = 0;; again++) {
        double x = value + pm / 1.2815515655446004 * bf_normal(77, stream + 100 * again, index);
        if (x >= least && x <= most) return x;
    }
}

/* Odds and ranges of the 1024 even draws against many random ones. One million; 1e5 by default: then one standard deviation
 * of an odd is 0.0016, and 0.013 in all is asked for; of the ranges' ends, 2 % of their width. */
static void odds_are_those_of_many_random_draws(void **state) {
    (void)state;
    const int n = getenv("BF_LONG") ? 1000000 : 100000;
    for (int kind = 0; kind < 3; kind++) {
        parts p = middle();
        if (kind == 1) p.hook.size = 20, p.line.diameter_m = 0.00013;
        if (kind == 2) p.elastic.outer_m = 0.0024, p.hooklength.strength_frac = (bf_quantity){0.9, 0.1, 0};
        bf_chain chain = chain_of(&p);
        double first[BF_N_CHAIN_PARTS] = {0}, before_full = 0, *spare = malloc((size_t)n * sizeof *spare);
        for (int k = 0; k < n; k++) {
            uint64_t i = (uint64_t)k;
            parts q = p;
            bf_quantity hl = p.hooklength.strength_frac, ln = p.line.strength_frac, ff = p.elastic.force_frac;
            q.hooklength.strength_frac.value = drawn(hl.value, hl.pm, 0.2, 3, 1, i);
            q.line.strength_frac.value = drawn(ln.value, ln.pm, 0.2, 3, 2, i);
            q.elastic.force_frac.value = drawn(ff.value, ff.pm, 0.2, 4, 3, i);
            double holds[BF_N_CHAIN_PARTS];
            holds[BF_CHAIN_HOOK] = bf_hook_opens_n(&q.hook) * drawn(1, 0.4, 0.2, 3, 4, i);
            holds[BF_CHAIN_KNOT] = bf_line_break_n(&q.hooklength);
            holds[BF_CHAIN_HOOKLENGTH] = holds[BF_CHAIN_KNOT] / drawn(0.85, 0.1, 0.4, 1, 5, i);
            holds[BF_CHAIN_LINE] = bf_line_break_n(&q.line);
            holds[BF_CHAIN_ELASTIC] =
                24.1e6 * bf_elastic_area_m2(&q.elastic) * drawn(0.5, 0.25, 0.1, 1, 6, i);
            int weakest = 0;
            for (int j = 1; j < BF_N_CHAIN_PARTS; j++)
                if (holds[j] < holds[weakest]) weakest = j;
            first[weakest] += 1.0 / n;
            spare[k] = holds[weakest] - bf_elastic_pull_n(&q.elastic, drawn(5.5, 0.5, 3, 7.5, 7, i));
            before_full += (spare[k] < 0) / (double)n;
        }
        for (int j = 0; j < BF_N_CHAIN_PARTS; j++)
            BF_CHECK_ABS(chain.part[j].gives_first_frac, first[j], 0.013);
        BF_CHECK_ABS(chain.gives_before_full_frac, before_full, 0.013);
        bf_range by_chance = bf_range_of(spare, (size_t)n, 0);
        double width_n = by_chance.hi - by_chance.lo;
        BF_CHECK_ABS(chain.spare_n.lo, by_chance.lo, 0.02 * width_n);
        BF_CHECK_ABS(chain.spare_n.hi, by_chance.hi, 0.02 * width_n);
        free(spare);
    }
}

/* Two normal strengths: the chance that one is the smaller, in closed form. Hook and elastic are made too strong to matter. */
static void two_lines_give_first_as_their_normal_difference_says(void **state) {
    (void)state;
    parts p = middle();
    p.hook.size = 8;
    p.elastic.outer_m = 0.006;
    p.hooklength.break_n = 5, p.hooklength.strength_frac = (bf_quantity){1, 0.2, 0};
    p.line.break_n = 6, p.line.strength_frac = (bf_quantity){1, 0.2, 0};
    bf_chain chain = chain_of(&p);
    double sd = 0.2 / BF_PM_PER_SD * sqrt(25.0 + 36.0);
    BF_CHECK_ABS(chain.part[BF_CHAIN_LINE].gives_first_frac, bf_normal_cdf(-1 / sd), 0.01);
    BF_CHECK_ABS(chain.part[BF_CHAIN_KNOT].gives_first_frac, bf_normal_cdf(1 / sd), 0.01);
}

static void with_everything_known_the_weakest_gives_always(void **state) {
    (void)state;
    parts p = middle();
    p.hook.size = 8; /* opens at 6 N at the very least */
    p.hooklength.break_n = 2.5, p.hooklength.strength_frac = bf_exactly(1);
    p.line.break_n = 9, p.line.strength_frac = bf_exactly(1);
    p.elastic.outer_m = 0.004, p.elastic.force_frac = bf_exactly(1); /* too thick to tear */
    bf_chain chain = chain_of(&p);
    BF_CHECK_ABS(chain.part[BF_CHAIN_KNOT].gives_first_frac, 1, 0);
    BF_CHECK_ABS(chain.part[BF_CHAIN_KNOT].holds_n.lo, 2.5, 1e-12);
    BF_CHECK_ABS(chain.part[BF_CHAIN_KNOT].holds_n.hi, 2.5, 1e-12);
    BF_CHECK_REL(chain.spare_n.nominal, 2.5 - bf_elastic_pull_n(&p.elastic, 5.5), 1e-12);
}

static void odds_add_up_and_a_sound_hooklength_gives_at_its_knot(void **state) {
    (void)state;
    parts p = middle();
    bf_chain chain = chain_of(&p);
    double sum = 0;
    for (int i = 0; i < BF_N_CHAIN_PARTS; i++) {
        const bf_range *holds = &chain.part[i].holds_n;
        sum += chain.part[i].gives_first_frac;
        assert_true(holds->lo < holds->mid && holds->mid < holds->hi && holds->lo > 0);
    }
    BF_CHECK_ABS(sum, 1, 1e-12);
    BF_CHECK_ABS(chain.part[BF_CHAIN_HOOKLENGTH].gives_first_frac, 0, 0);
    assert_non_null(bf_chain_words[BF_N_CHAIN_PARTS - 1]);
    assert_null(bf_chain_words[BF_N_CHAIN_PARTS]);
}

/* Rule from memory: fully out, the elastic pulls no more than about half of what the hooklength holds. The start rig keeps it,
 * and an elastic of twice the diameter gives before it is out. */
static void a_finer_hooklength_or_stronger_elastic_leaves_less_to_spare(void **state) {
    (void)state;
    parts p = middle();
    bf_chain start = chain_of(&p);
    assert_true(start.full_n.nominal < 0.5 * start.part[BF_CHAIN_KNOT].holds_n.nominal);
    p.hooklength.diameter_m = 0.00009;
    bf_chain fine = chain_of(&p);
    assert_true(fine.part[BF_CHAIN_KNOT].gives_first_frac > start.part[BF_CHAIN_KNOT].gives_first_frac);
    assert_true(fine.spare_n.mid < start.spare_n.mid);
    p = middle();
    p.elastic.outer_m *= 2;
    bf_chain strong = chain_of(&p);
    assert_true(strong.gives_before_full_frac > 0.8 && start.gives_before_full_frac < 0.1);
}

static void a_bore_wider_than_the_elastic_is_told(void **state) {
    (void)state;
    parts p = middle();
    bf_chain chain;
    p.elastic.bore_m = 0.0015;
    assert_int_equal(bf_chain_of(&p.hook, &p.hooklength, &p.line, &p.elastic, &chain), BF_E_RANGE);
    assert_true(chain.spare_n.mid != chain.spare_n.mid);
    for (int i = 0; i < BF_N_CHAIN_PARTS; i++)
        assert_true(chain.part[i].holds_n.mid != chain.part[i].holds_n.mid);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(odds_are_those_of_many_random_draws),
        cmocka_unit_test(two_lines_give_first_as_their_normal_difference_says),
        cmocka_unit_test(with_everything_known_the_weakest_gives_always),
        cmocka_unit_test(odds_add_up_and_a_sound_hooklength_gives_at_its_knot),
        cmocka_unit_test(a_finer_hooklength_or_stronger_elastic_leaves_less_to_spare),
        cmocka_unit_test(a_bore_wider_than_the_elastic_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
