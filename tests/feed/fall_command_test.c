/* The fall command: its ranges, its nominal answer, its notes. What falls beneath it is tested in fall_test.c. */
#include "baitfall/fall.h"

#include "baitfall/random.h"
#include "common/check.h"

#define DRAWS 2048
#define N_OUT ((int)(sizeof(bf_fall_out) / sizeof(double)))

static bf_scene scene_of(const char *word, double depth_m, double temp_c) {
    bf_scene scene;
    bf_scene_start(&scene);
    int i = bf_catalogue_find(word, strlen(word));
    assert_true(i >= 0);
    scene.bait = bf_catalogue[i].bait;
    scene.spot.depth_m = (bf_quantity){depth_m, 0.05, 0};
    scene.lake.temp_c = (bf_quantity){temp_c, 0, 0};
    return scene;
}

/* The answer with its ranges, in result. */
static void ask(const bf_scene *scene, bf_ensemble_result *result) {
    bf_ensemble e = {&bf_fall_schema, scene, bf_fall_model, N_OUT, 0, 1, DRAWS};
    void *work = malloc(bf_ensemble_work_bytes(&e));
    double *rows = malloc(sizeof(double) * DRAWS * (size_t)N_OUT), nominal[N_OUT];
    assert_int_equal(bf_ensemble_nominal(&e, nominal), BF_OK);
    assert_int_equal(bf_ensemble_range(&e, 0, DRAWS, work, rows), BF_OK);
    bf_ensemble_finish(&e, rows, nominal, work, result);
    free(rows);
    free(work);
}

static int has_note(const bf_scene *scene, const bf_ensemble_result *result, bf_note_code code) {
    bf_note notes[BF_MOST_NOTES];
    int n = bf_fall_notes(scene, result, notes), found = 0;
    assert_true(n <= BF_MOST_NOTES);
    for (int i = 0; i < n; i++) found |= notes[i].code == code;
    return found;
}

/* Common practice, no source: hard 4 mm pellets take about 10 to 15 s to the bottom at 1.2 to 1.8 m. Nothing
 * is tuned to it. */
static void hard_4_mm_pellets_take_about_10_to_15_s_at_pole_depths_common_practice_no_source(void **state) {
    (void)state;
    for (double depth_m = 1.2; depth_m < 1.85; depth_m += 0.1) {
        bf_scene scene = scene_of("hard-4", depth_m, 12);
        bf_ensemble_result r;
        ask(&scene, &r);
        assert_true(r.range[0].lo < 15 && r.range[0].hi > 10);
    }
}

/* Piece-to-piece scatter of every catalogue entry against the one published figure: 83 +- 15 mm/s, 18 % (SEPA's model
 * setting for feed; the experiment behind it was not seen). 4000 pieces give a standard deviation within 1.1 %. */
static void pieces_of_one_bag_scatter_in_speed_by_17_to_19_percent(void **state) {
    (void)state;
    for (int k = 0; k < bf_n_catalogue; k++) {
        bf_scene scene = scene_of(bf_catalogue[k].word, 1.5, 12);
        bf_piece middle = bf_piece_of(&scene.bait, &scene.lake);
        double sum = 0, squares = 0, reynolds, speed;
        int n = 0, n_afloat = 0;
        for (uint64_t i = 0; i < 4000; i++) {
            bf_piece piece =
                bf_piece_other(&middle, &scene.bait, bf_normal(7, 2000, i), bf_normal(7, 2001, i));
            if (bf_fall_speed(&piece, &speed, &reynolds) != BF_OK) {
                n_afloat++;
                continue;
            }
            n++;
            sum += speed;
            squares += speed * speed;
        }
        double mean = sum / n, sd = sqrt(squares / n - mean * mean);
        BF_CHECK_IN(sd / mean, 0.17, 0.19);
        assert_true(n_afloat < 20); /* half a per cent of the bag */
    }
}

/* Of casters, 1010 to 1070 kg/m3, some may float; of hard pellets next to none. */
static void a_bait_of_which_part_may_float_is_said_to(void **state) {
    (void)state;
    bf_scene scene = scene_of("caster", 1.5, 12);
    bf_ensemble_result r;
    ask(&scene, &r);
    assert_true(has_note(&scene, &r, BF_NOTE_AFLOAT) && !has_note(&scene, &r, BF_NOTE_FLOATS));
    scene = scene_of("hard-4", 1.5, 12);
    ask(&scene, &r);
    assert_false(has_note(&scene, &r, BF_NOTE_AFLOAT));
}

static void the_nominal_answer_is_the_middle_piece_and_the_range_holds_it(void **state) {
    (void)state;
    bf_scene scene = scene_of("hard-6", 1.5, 12);
    scene.spot.slope_deg = (bf_quantity){0, 0, 0};
    bf_piece middle = bf_piece_of(&scene.bait, &scene.lake);
    bf_current current;
    assert_int_equal(bf_current_of(&scene.lake, 1.5, &current), BF_OK);
    bf_entry rest = {0};
    bf_floor floor = {1.5, 0};
    bf_landing at;
    bf_ensemble_result r;
    assert_int_equal(bf_fall_land(&middle, &rest, &current, &floor, &at), BF_OK);
    ask(&scene, &r);
    assert_true(r.range[0].nominal == at.time_s && r.range[1].nominal == at.speed_m_s);
    assert_true(r.range[0].lo < r.range[0].mid && r.range[0].mid < r.range[0].hi);
    BF_CHECK_REL(r.range[0].mid, r.range[0].nominal, 0.05);
    assert_true(r.range[2].mid < r.range[0].mid && r.range[0].mid < r.range[3].mid);
    assert_true(has_note(&scene, &r, BF_NOTE_DRAG_LAWS) && has_note(&scene, &r, BF_NOTE_MAY_HANG));
    assert_false(has_note(&scene, &r, BF_NOTE_FLOATS));
}

static void after_a_timed_drop_the_drag_law_is_no_reason_for_doubt(void **state) {
    (void)state;
    bf_scene scene = scene_of("hard-4", 1.5, 12);
    bf_ensemble_result r;
    scene.bait.drag_law_error = (bf_quantity){0, 0, 0};
    ask(&scene, &r);
    assert_false(has_note(&scene, &r, BF_NOTE_DRAG_LAWS));
}

/* The ends of the drag law's 80 % range, put in as they are: what is left is the laws' own give or take. */
static void the_drag_law_alone_gives_5_to_6_percent_round_and_8_to_11_otherwise(void **state) {
    (void)state;
    static const int forms[2] = {BF_SPHERE, BF_CYLINDER};
    for (int k = 0; k < 2; k++) {
        bf_scene scene = scene_of("hard-4", 1.5, 12);
        bf_draw nominal = {.is_nominal = 1};
        double speed_m_s[3];
        scene.bait.form = forms[k];
        for (int end = 0; end < 3; end++) {
            double out[N_OUT];
            scene.bait.drag_law_error.value = end - 1;
            assert_int_equal(bf_fall_model(&scene, &nominal, out), BF_OK);
            speed_m_s[end] = out[1];
        }
        double half = (speed_m_s[0] - speed_m_s[2]) / 2 / speed_m_s[1];
        BF_CHECK_IN(half, k ? 0.08 : 0.05, k ? 0.11 : 0.06);
    }
}

static void a_wet_bait_cannot_hang_and_a_floating_one_gives_no_numbers_but_says_so(void **state) {
    (void)state;
    bf_scene scene = scene_of("micros-2", 1.5, 12);
    bf_ensemble_result r;
    ask(&scene, &r);
    assert_false(has_note(&scene, &r, BF_NOTE_MAY_HANG));
    scene.bait.density_kg_m3 = (bf_quantity){900, 0, 0};
    scene.bait.density_scatter_kg_m3 = 0;
    ask(&scene, &r);
    assert_true(isnan(r.range[0].nominal) && isnan(r.range[0].mid) && isnan(r.range[3].hi));
    assert_true(has_note(&scene, &r, BF_NOTE_FLOATS));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hard_4_mm_pellets_take_about_10_to_15_s_at_pole_depths_common_practice_no_source),
        cmocka_unit_test(pieces_of_one_bag_scatter_in_speed_by_17_to_19_percent),
        cmocka_unit_test(a_bait_of_which_part_may_float_is_said_to),
        cmocka_unit_test(the_nominal_answer_is_the_middle_piece_and_the_range_holds_it),
        cmocka_unit_test(after_a_timed_drop_the_drag_law_is_no_reason_for_doubt),
        cmocka_unit_test(the_drag_law_alone_gives_5_to_6_percent_round_and_8_to_11_otherwise),
        cmocka_unit_test(a_wet_bait_cannot_hang_and_a_floating_one_gives_no_numbers_but_says_so),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
