/* The landing from above: what is refused, what is drawn, that words and leaders keep clear of each other. */
#include "common/check.h"
#include "inside.h"
#include "plan_scenes.h"
#include "told_table.h"

static char svg[SCENE_SVG_BYTES], other[SCENE_SVG_BYTES];
static scene_above scene;
static bf_labels labels;
static bf_picture picture;
static void *work;

static bf_status draw(void) {
    return bf_picture_above(&scene.view, scene.density, &labels, work, svg, sizeof svg, &picture);
}

static void start(void) {
    scene_above_everyday(&scene);
    scene_labels_everyday(&labels);
}

static void bad_views_are_refused_and_leave_nothing(void **state) {
    (void)state;
    for (int k = 0; k < 15; k++) {
        bf_status want = BF_E_RANGE;
        start();
        switch (k) {
        case 0: scene.view.nx = 0, want = BF_E_COUNT; break;
        case 1: scene.view.ny = BF_ABOVE_MOST_SIDE + 1, want = BF_E_COUNT; break;
        case 2: scene.view.cell_m = 0; break;
        case 3: scene.view.cell_m = NAN, want = BF_E_NOT_FINITE; break;
        case 4: scene.view.hook_x_m = INFINITY, want = BF_E_NOT_FINITE; break;
        case 5: scene.density[7] = NAN, want = BF_E_NOT_FINITE; break;
        case 6: scene.density[7] = -1e-9; break;
        case 7: memset(scene.density, 0, sizeof scene.density); break;
        case 8: scene.view.level90 = 0; break;
        case 9: scene.view.level50 = 0.5 * scene.view.level90; break;
        case 10: scene.view.level50 = 2; break;
        case 11: scene.view.hook_share_frac = 1.01; break;
        case 12: scene.view.look = 9; break;
        case 13: scene.view.how = -1; break;
        case 14: scene.view.drift_y_m_s = NAN, want = BF_E_NOT_FINITE; break;
        }
        assert_int_equal(draw(), want);
        assert_int_equal(svg[0], 0);
        assert_int_equal(picture.n_svg + (size_t)picture.n_rows, 0);
        assert_int_equal(picture.finding[0], 0);
    }
}

static void a_short_buffer_is_said_and_left_empty(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    size_t whole = picture.n_svg;
    for (size_t most = 1; most <= whole; most += most < 300 ? 1 : 97) {
        char *tight = malloc(most);
        bf_status status = bf_picture_above(&scene.view, scene.density, &labels, work, tight, most, &picture);
        assert_int_equal(status, BF_E_SPACE);
        assert_int_equal(tight[0], 0);
        free(tight);
    }
    assert_int_equal(bf_picture_above(&scene.view, scene.density, &labels, work, other, whole + 1, &picture),
                     BF_OK);
    assert_string_equal(other, svg);
}

static void every_picture_is_well_formed(void **state) {
    (void)state;
    for (int n = 0; n < 400; n++) {
        scene_above_random(n, &scene);
        scene_labels(n, &labels);
        assert_int_equal(draw(), BF_OK);
        assert_int_equal(strlen(svg), picture.n_svg);
        const char *fault = inside_xml_fault(svg);
        if (fault) fail_msg("scene %d: %s", n, fault);
        assert_non_null(strstr(svg, "role=\"img\""));
        assert_null(strstr(svg, "style="));
    }
}

/* The judge itself must be able to say no. */
static void the_judge_of_well_formedness_refuses_what_is_not(void **state) {
    (void)state;
    const char *const bad[] = {"",         "<a>",       "<a></b>",         "<a>&</a>", "<a b=\"1\" b=\"2\"/>",
                               "<a/><b/>", "<a>x</a>y", "<a b=\"<\"></a>", "<a b=1/>", "<a><</a>"};
    for (size_t k = 0; k < sizeof bad / sizeof bad[0]; k++) assert_non_null(inside_xml_fault(bad[k]));
    assert_null(inside_xml_fault("<a b=\"1\">x &amp; y<c/></a>"));
}

static void no_two_words_overlap_and_none_leaves_the_sheet(void **state) {
    (void)state;
    static inside_word words[64];
    int n_words = 0;
    for (int n = 0; n < 600; n++) {
        scene_above_random(n, &scene);
        scene_labels(n, &labels);
        assert_int_equal(draw(), BF_OK);
        int n_here = inside_words(svg, words, 64);
        n_words += n_here;
        for (int a = 0; a < n_here; a++) {
            BF_CHECK_IN(words[a].x0, 0.5, 79.5);
            BF_CHECK_IN(words[a].x1, 0.5, 79.8);
            BF_CHECK_IN(words[a].y0, 0, 86);
            BF_CHECK_IN(words[a].y1, 0, 86);
            for (int b = 0; b < a; b++)
                if (inside_overlap(&words[a], &words[b]))
                    fail_msg("scene %d: \"%s\" lies on \"%s\"", n, words[a].text, words[b].text);
        }
    }
    assert_true(n_words > 600 * 8);
}

/* Leaders are the straight lines of class bf-r2 or bf-p2 with two points. */
static int leaders(double at[16][4]) {
    int n = 0;
    static const char *const starts[] = {"<path class=\"bf-r2\" d=\"", "<path class=\"bf-p2\" d=\""};
    for (int k = 0; k < 2; k++)
        for (const char *found = svg; (found = strstr(found, starts[k])) && n < 16; found++) {
            double *p = at[n];
            n += sscanf(found + strlen(starts[k]), "M%lf %lfL%lf %lf\"", &p[0], &p[1], &p[2], &p[3]) == 4;
        }
    return n;
}

static double side_of(const double *line, double x, double y) {
    return (line[2] - line[0]) * (y - line[1]) - (line[3] - line[1]) * (x - line[0]);
}

static int cross(const double *a, const double *b) {
    return side_of(a, b[0], b[1]) * side_of(a, b[2], b[3]) < 0 &&
           side_of(b, a[0], a[1]) * side_of(b, a[2], a[3]) < 0;
}

static void no_leader_crosses_another_or_a_word(void **state) {
    (void)state;
    static inside_word words[64];
    int n_leaders = 0, n_bad = 0;
    for (int n = 0; n < 600; n++) {
        if (n % 2)
            scene_aimed_random(n, &scene);
        else
            scene_above_random(n, &scene);
        scene_labels(n, &labels);
        assert_int_equal(draw(), BF_OK);
        double line[16][4];
        int n_lines = leaders(line), n_here = inside_words(svg, words, 64);
        n_leaders += n_lines;
        for (int a = 0; a < n_lines; a++) {
            for (int b = 0; b < a; b++) n_bad += cross(line[a], line[b]);
            for (int w = 0; w < n_here; w++) {
                /* The letters themselves, without the room above and below them. */
                double down[] = {words[w].x0, words[w].y0 + 0.8, words[w].x1, words[w].y1 - 0.9};
                double up[] = {words[w].x0, words[w].y1 - 0.9, words[w].x1, words[w].y0 + 0.8};
                n_bad += cross(line[a], down) || cross(line[a], up);
            }
        }
    }
    assert_int_equal(n_leaders, 3 * 600);
    assert_int_equal(n_bad, 0);
}

/* All numbers of the elements whose class starts with `start`, in order. */
static int numbers_of(const char *start, double *numbers, int most) {
    int n = 0;
    char key[64];
    snprintf(key, sizeof key, "<path class=\"%s", start);
    for (const char *at = svg; (at = strstr(at, key)); at++) {
        const char *p = strstr(at, " d=\"") + 4;
        while (*p != '"' && n < most) {
            if (strchr("MLZ ", *p))
                p++;
            else
                numbers[n++] = strtod(p, (char **)&p);
        }
    }
    return n;
}

static int by_value(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Mirrored left to right, heat and lines are the same set of points with x counted from the other side. */
static void a_mirrored_map_gives_a_mirrored_picture(void **state) {
    (void)state;
    static double one[20000], two[20000];
    static const char *const parts[] = {"bf-heat bf-h1", "bf-heat bf-h6", "bf-r3"};
    for (int n = 0; n < 20; n++) {
        static scene_above mirrored;
        scene_above_random(n, &scene);
        mirrored = scene;
        bf_above_view *view = &mirrored.view;
        for (int i = 0; i < view->nx; i++)
            for (int j = 0; j < view->ny; j++)
                mirrored.density[i * view->ny + j] = scene.density[i * view->ny + view->ny - 1 - j];
        view->origin_y_m = -(scene.view.origin_y_m + view->ny * view->cell_m);
        view->hook_y_m = -view->hook_y_m;
        view->drift_y_m_s = -view->drift_y_m_s;
        for (int part = 0; part < 3; part++) {
            assert_int_equal(draw(), BF_OK);
            int n_one = numbers_of(parts[part], one, 20000);
            bf_status status =
                bf_picture_above(view, mirrored.density, &labels, work, svg, sizeof svg, &picture);
            assert_int_equal(status, BF_OK);
            int n_two = numbers_of(parts[part], two, 20000);
            assert_int_equal(n_one, n_two);
            assert_true(n_one > 0);
            static double across[2][10000];
            for (int k = 0; k < n_one / 2; k++) {
                across[0][k] = one[2 * k];
                across[1][k] = 80 - two[2 * k];
            }
            for (int k = 0; k < 2; k++) qsort(across[k], (size_t)n_one / 2, sizeof(double), by_value);
            for (int k = 0; k < n_one / 2; k++) BF_CHECK_ABS(across[1][k], across[0][k], 0.0101);
        }
    }
}

static void the_picture_is_true_to_scale(void **state) {
    (void)state;
    for (int n = 0; n < 50; n++) {
        scene_above_random(n, &scene);
        assert_int_equal(draw(), BF_OK);
        /* The ring is 5 cm; the bar's figure stands for its length. */
        double ring_mm = inside_number(strstr(svg, "<circle class=\"bf-p3\""), "r");
        double bar_mm = inside_number(strstr(svg, "<rect class=\"bf-p1\""), "width");
        static inside_word words[64];
        int n_words = inside_words(svg, words, 64), n_bars = 0;
        for (int k = 0; k < n_words; k++) {
            double figure;
            char unit[8];
            if (sscanf(words[k].text, "%lf %7s", &figure, unit) != 2 || words[k].y1 < 80) continue;
            double bar_m = figure * (strcmp(unit, "cm") == 0 ? 0.01 : 1);
            n_bars++;
            BF_CHECK_ABS(bar_mm, ring_mm / 0.05 * bar_m, 0.006 * (1 + bar_m / 0.05));
        }
        assert_int_equal(n_bars, 1);
    }
}

static void the_finding_and_the_table_say_what_is_drawn(void **state) {
    (void)state;
    start();
    /* A round heap, standard deviation 5 cm: half within 1.1774 s = 5.9 cm, nine in ten within 2.1460 s = 10.7 cm
     * of the middle, so rings of 12 and 21 cm. */
    scene.view.nx = scene.view.ny = 80;
    scene.view.cell_m = 0.005;
    scene.view.origin_x_m = -0.2 + 0.03;
    scene.view.origin_y_m = -0.2 - 0.04;
    memset(scene.density, 0, sizeof scene.density);
    scene_add_heap(&scene, 0.03, -0.04, 0.05, 0.05, 0, 1);
    scene.view.level50 = 0.5;
    scene.view.level90 = 0.1;
    scene.view.hook_share_frac = 0.34;
    scene.view.drift_x_m_s = 0;
    scene.view.drift_y_m_s = -0.012;
    assert_int_equal(draw(), BF_OK);
    assert_string_equal(picture.finding, "Over many such put-ins, half the pieces lie inside 12 cm out by 12 "
                                         "cm across, nine in ten inside 21 cm "
                                         "out by 21 cm across; about 3 in 10 within 5 cm of the hook bait.");
    const char *const want[][2] = {{"Half inside, over many put-ins", "12 cm out by 12 cm across"},
                                   {"9 in 10 inside, over many put-ins", "21 cm out by 21 cm across"},
                                   {"Ring that holds 9 in 10 of one put-in", "14 cm (11-19)"},
                                   {"Hook bait from the middle of the feed", "3 cm in, 4 cm right"},
                                   {"Within 5 cm of the hook bait", "about 3 in 10"},
                                   {"Drift at the surface", "1.2 cm/s left"}};
    check_told_table(&picture, want, 6);
    assert_non_null(strstr(svg, picture.finding)); /* it is the <desc> too */
}

static void the_same_view_gives_the_same_bytes(void **state) {
    (void)state;
    scene_above_random(3, &scene);
    scene_labels(3, &labels);
    assert_int_equal(draw(), BF_OK);
    memcpy(other, svg, sizeof svg);
    memset(work, 0xA5, bf_picture_work_bytes());
    assert_int_equal(draw(), BF_OK);
    assert_string_equal(other, svg);
}

static void the_style_goes_into_the_picture_once(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    size_t n;
    assert_int_equal(bf_picture_with_style(svg, picture.n_svg, other, sizeof other, &n), BF_OK);
    assert_int_equal(n, picture.n_svg + strlen(bf_picture_css) + strlen("\n<style>\n</style>"));
    assert_non_null(strstr(other, "<style>\n/* Style of every"));
    assert_null(strpbrk(bf_picture_css, "<&")); /* so that it needs no escaping in XML */
    assert_int_equal(bf_picture_with_style(svg, picture.n_svg, other, n, &n), BF_E_SPACE);
    assert_int_equal(other[0], 0);
    assert_int_equal(bf_picture_with_style("plain text", 10, other, sizeof other, &n), BF_E_SYNTAX);
}

static int give_room(void **state) {
    (void)state;
    work = malloc(bf_picture_work_bytes());
    return work == NULL;
}

static int take_room(void **state) {
    (void)state;
    free(work);
    return 0;
}

/* The hook bait's cloud: twenty dots at their places, and the rings that hold half and nine in ten of them. */
static void the_cloud_of_the_hook_bait_is_true_to_scale(void **state) {
    (void)state;
    for (int n = 0; n < 50; n++) {
        scene_aimed_random(n, &scene);
        const bf_above_view *view = &scene.view;
        assert_int_equal(draw(), BF_OK);
        const char *inner = inside_find(svg, "circle", "bf-r2", 1),
                   *outer = inside_find(svg, "circle", "bf-fine-dash", 0);
        double mm_per_m = inside_number(outer, "r") / view->bait90_m;
        double x = inside_number(outer, "cx"), y = inside_number(outer, "cy");
        BF_CHECK_ABS(inside_number(inner, "r"), view->bait50_m * mm_per_m, 0.02);
        assert_false(inside_has_class(inner, "bf-fine-dash"));
        /* The last circle of this kind is the key's. */
        assert_int_equal(inside_count(svg, "circle", "bf-ropen"), BF_ABOVE_BAITS + 1);
        for (int k = 0; k < BF_ABOVE_BAITS; k++) {
            const char *dot = inside_find(svg, "circle", "bf-ropen", k);
            double across_m = view->bait_y_m[k] - view->hook_y_m, out_m = view->bait_x_m[k] - view->hook_x_m;
            double slack = 0.02 + 0.006 / view->bait90_m *
                                      fmax(fabs(across_m), fabs(out_m)); /* r is printed to 0.01 mm */
            BF_CHECK_ABS(inside_number(dot, "cx") - x, across_m * mm_per_m, slack);
            BF_CHECK_ABS(y - inside_number(dot, "cy"), out_m * mm_per_m, slack);
        }
        assert_int_equal(strstr(svg, ">wind ") != NULL, view->wind_x_m_s != 0 || view->wind_y_m_s != 0);
    }
}

static void a_bad_cloud_is_refused(void **state) {
    (void)state;
    for (int k = 0; k < 5; k++) {
        bf_status want = BF_E_RANGE;
        start();
        scene_aimed_random(1, &scene);
        switch (k) {
        case 0: scene.view.n_baits = 19, want = BF_E_COUNT; break;
        case 1: scene.view.bait50_m = 0; break;
        case 2: scene.view.bait90_m = 0.9 * scene.view.bait50_m; break;
        case 3: scene.view.bait_y_m[3] = NAN, want = BF_E_NOT_FINITE; break;
        case 4: scene.view.wind_x_m_s = INFINITY, want = BF_E_NOT_FINITE; break;
        }
        assert_int_equal(draw(), want);
        assert_int_equal(svg[0], 0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bad_views_are_refused_and_leave_nothing),
        cmocka_unit_test(a_short_buffer_is_said_and_left_empty),
        cmocka_unit_test(every_picture_is_well_formed),
        cmocka_unit_test(the_judge_of_well_formedness_refuses_what_is_not),
        cmocka_unit_test(no_two_words_overlap_and_none_leaves_the_sheet),
        cmocka_unit_test(no_leader_crosses_another_or_a_word),
        cmocka_unit_test(a_mirrored_map_gives_a_mirrored_picture),
        cmocka_unit_test(the_picture_is_true_to_scale),
        cmocka_unit_test(the_cloud_of_the_hook_bait_is_true_to_scale),
        cmocka_unit_test(a_bad_cloud_is_refused),
        cmocka_unit_test(the_finding_and_the_table_say_what_is_drawn),
        cmocka_unit_test(the_same_view_gives_the_same_bytes),
        cmocka_unit_test(the_style_goes_into_the_picture_once),
    };
    return cmocka_run_group_tests(tests, give_room, take_room);
}
