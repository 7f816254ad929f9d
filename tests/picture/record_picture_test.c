/* What holds for all drawings of the record: well-formed, words apart, short buffers, everything within bounds. */
#include "common/check.h"
#include "inside.h"
#include "record_kinds.h"
#include "ruled.h"

static char svg[BF_RECORD_SVG_BYTES], other[BF_RECORD_SVG_BYTES];
static bf_picture picture;

#define N_SCENES 300
#define MOST_WORDS 1024

static void every_picture_is_well_formed_and_has_its_finding_and_table(void **state) {
    (void)state;
    for (int kind = 0; kind < N_RECORD_KINDS; kind++)
        for (int n = 0; n < N_SCENES; n++) {
            bf_status status = record_kinds[kind].draw(n, 0, svg, sizeof svg, &picture);
            if (status) fail_msg("%s %d: status %d", record_kinds[kind].name, n, status);
            assert_int_equal(strlen(svg), picture.n_svg);
            const char *fault = inside_xml_fault(svg);
            if (fault) fail_msg("%s %d: %s", record_kinds[kind].name, n, fault);
            assert_null(strstr(svg, "style="));
            assert_null(strstr(svg, "nan"));
            assert_null(strstr(svg, "inf"));
            assert_true(strlen(picture.finding) > 6);
            assert_true(picture.n_rows <= BF_PICTURE_MOST_ROWS);
            assert_true(picture.n_rows >= (kind == 5 ? 0 : 2));
            for (int row = 0; row < picture.n_rows; row++)
                assert_true(picture.cell[row][0][0] && picture.cell[row][1][0]);
        }
}

static void no_two_words_overlap_and_none_leaves_the_picture(void **state) {
    (void)state;
    static inside_word words[MOST_WORDS];
    int n_words = 0;
    for (int kind = 0; kind < N_RECORD_KINDS; kind++)
        for (int n = 0; n < N_SCENES; n++) {
            assert_int_equal(record_kinds[kind].draw(n, 0, svg, sizeof svg, &picture), BF_OK);
            double width, height;
            inside_size(svg, &width, &height);
            int n_here = inside_words(svg, words, MOST_WORDS);
            assert_in_range(n_here, 1, MOST_WORDS - 1);
            n_words += n_here;
            for (int a = 0; a < n_here; a++) {
                const inside_word *word = &words[a];
                if (!(word->x1 > word->x0))
                    fail_msg("%s %d: a word without letters", record_kinds[kind].name, n);
                if (word->x0 < -0.01 || word->x1 > width + 0.01 || word->y0 < 0 || word->y1 > height)
                    fail_msg("%s %d: \"%s\" leaves the picture", record_kinds[kind].name, n, word->text);
                for (int b = 0; b < a; b++)
                    if (inside_overlap(word, &words[b]))
                        fail_msg("%s %d: \"%s\" lies on \"%s\"", record_kinds[kind].name, n, word->text,
                                 words[b].text);
            }
        }
    assert_true(n_words > N_RECORD_KINDS * N_SCENES * 10);
}

static void a_short_buffer_is_said_and_left_empty(void **state) {
    (void)state;
    for (int kind = 0; kind < N_RECORD_KINDS; kind++) {
        assert_int_equal(record_kinds[kind].draw(4, 0, svg, sizeof svg, &picture), BF_OK);
        size_t whole = picture.n_svg;
        for (size_t most = 1; most <= whole; most += most < 300 ? 23 : 1999) {
            char *tight = malloc(most);
            assert_int_equal(record_kinds[kind].draw(4, 0, tight, most, &picture), BF_E_SPACE);
            assert_int_equal(tight[0], 0);
            assert_int_equal(picture.n_svg + (size_t)picture.n_rows + (size_t)picture.finding[0], 0);
            free(tight);
        }
        assert_int_equal(record_kinds[kind].draw(4, 0, other, whole + 1, &picture), BF_OK);
        assert_string_equal(other, svg);
    }
}

/* As many marks as there may be, on the widest sheet. */
static void the_fullest_pictures_fit_the_bytes_that_are_said(void **state) {
    (void)state;
    size_t most = 0;
    for (int n = 19; n < 400; n += 10) {
        scene_timeline_random(n, &kind_timeline_scene);
        kind_timeline_scene.view.width_mm = BF_RECORD_MOST_WIDTH_MM;
        assert_int_equal(bf_picture_timeline(&kind_timeline_scene.view, svg, sizeof svg, &picture), BF_OK);
        if (picture.n_svg > most) most = picture.n_svg;
        scene_waits_random(n, &kind_waits_scene);
        for (int width = 80; width <= 280; width += 40) {
            kind_waits_scene.view.width_mm = width;
            assert_int_equal(bf_picture_waits(&kind_waits_scene.view, svg, sizeof svg, &picture), BF_OK);
            if (picture.n_svg > most) most = picture.n_svg;
        }
    }
    assert_in_range(most, BF_RECORD_SVG_BYTES / 10, BF_RECORD_SVG_BYTES - 1);
}

static void a_picture_carries_its_look_and_the_sheet_is_for_print(void **state) {
    (void)state;
    static const char *const words[] = {NULL, "data-look=\"shade\"", "data-look=\"sun\"",
                                        "data-look=\"dusk\""};
    for (int kind = 0; kind < N_RECORD_KINDS - 1; kind++)
        for (int look = BF_LOOK_SHADE; look <= BF_LOOK_DUSK; look++) {
            assert_int_equal(record_kinds[kind].draw(7, look, svg, sizeof svg, &picture), BF_OK);
            assert_non_null(strstr(svg, words[look]));
        }
    assert_int_equal(record_kinds[5].draw(7, 0, svg, sizeof svg, &picture), BF_OK);
    assert_non_null(strstr(svg, "data-look=\"print\""));
}

static void every_class_has_its_rule(void **state) {
    (void)state;
    for (int kind = 0; kind < N_RECORD_KINDS; kind++)
        for (int n = 0; n < 40; n++) {
            assert_int_equal(record_kinds[kind].draw(n, 0, svg, sizeof svg, &picture), BF_OK);
            check_classes_ruled(svg, record_kinds[kind].name);
        }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_picture_is_well_formed_and_has_its_finding_and_table),
        cmocka_unit_test(no_two_words_overlap_and_none_leaves_the_picture),
        cmocka_unit_test(a_short_buffer_is_said_and_left_empty),
        cmocka_unit_test(the_fullest_pictures_fit_the_bytes_that_are_said),
        cmocka_unit_test(a_picture_carries_its_look_and_the_sheet_is_for_print),
        cmocka_unit_test(every_class_has_its_rule),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
