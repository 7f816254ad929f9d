/* The same question put to the renderer that makes PDF and PNG: where does librsvg itself put every word? */
#include <librsvg/rsvg.h>

#include "bed_scenes.h"
#include "common/check.h"
#include "inside.h"
#include "plan_kinds.h"
#include "record_kinds.h"

#define N_SCENES 200
#define N_RECORDS 25
#define MOST_WORDS 1024

static char svg[BF_RECORD_SVG_BYTES], named[BF_RECORD_SVG_BYTES + 16384];

/* The same picture with an id for every <text> and without its paper size, so that it fills a page of its own units;
 * returns how many words there are. */
static int name_words(void) {
    int n = 0;
    char *out = named;
    const char *size = strstr(svg, " width=\""), *after_size = strstr(svg, " viewBox=\"");
    for (const char *at = svg; *at;) {
        if (at == size) at = after_size;
        if (strncmp(at, "<text ", 6) == 0) {
            out += sprintf(out, "<text id=\"w%d\" ", n++);
            at += 6;
        } else {
            *out++ = *at++;
        }
    }
    *out = 0;
    return n;
}

/* The boxes of all words in mm, in the bold look; letters as filled, without their casing. */
static void measure(int n_words, double width_mm, double height_mm, RsvgRectangle *box) {
    GError *error = NULL;
    RsvgHandle *handle = rsvg_handle_new_from_data((const guint8 *)named, strlen(named), &error);
    assert_non_null(handle);
    assert_true(
        rsvg_handle_set_stylesheet(handle, (const guint8 *)bf_picture_css, strlen(bf_picture_css), &error));
    RsvgRectangle page = {0, 0, width_mm, height_mm};
    for (int k = 0; k < n_words; k++) {
        char id[16];
        snprintf(id, sizeof id, "#w%d", k);
        assert_true(rsvg_handle_get_geometry_for_layer(handle, id, &page, NULL, &box[k], &error));
    }
    g_object_unref(handle);
}

static int overlap(const RsvgRectangle *a, const RsvgRectangle *b) {
    return a->x < b->x + b->width && b->x < a->x + a->width && a->y < b->y + b->height &&
           b->y < a->y + a->height;
}

static int check_picture(int scene) {
    static RsvgRectangle box[MOST_WORDS];
    double width_mm, height_mm;
    inside_size(svg, &width_mm, &height_mm);
    int n = name_words();
    assert_in_range(n, 1, MOST_WORDS - 1);
    measure(n, width_mm, height_mm, box);
    for (int a = 0; a < n; a++) {
        assert_true(box[a].width > 0.3 && box[a].height > 0.3);
        BF_CHECK_IN(box[a].x, 0, width_mm);
        BF_CHECK_IN(box[a].x + box[a].width, 0, width_mm);
        BF_CHECK_IN(box[a].y, 0, height_mm);
        BF_CHECK_IN(box[a].y + box[a].height, 0, height_mm);
        for (int b = 0; b < a; b++)
            if (overlap(&box[a], &box[b])) fail_msg("scene %d: words %d and %d overlap", scene, a, b);
    }
    return n;
}

static void no_two_words_overlap_in_200_random_pictures_of_each_kind(void **state) {
    (void)state;
    static scene_above above;
    static bf_side_view side;
    bf_labels labels;
    bf_picture picture;
    void *work = malloc(bf_picture_work_bytes());
    int n_words = 0;
    for (int n = 0; n < N_SCENES; n++) {
        scene_labels(n, &labels);
        scene_above_random(n, &above);
        above.view.look = BF_LOOK_SUN;
        assert_int_equal(
            bf_picture_above(&above.view, above.density, &labels, work, svg, sizeof svg, &picture), BF_OK);
        n_words += check_picture(n);
        scene_side_random(n, &side);
        side.look = BF_LOOK_SUN;
        assert_int_equal(bf_picture_side(&side, &labels, svg, sizeof svg, &picture), BF_OK);
        n_words += check_picture(n);
    }
    free(work);
    assert_true(n_words > 2 * N_SCENES * 8);
}

static void no_two_words_overlap_in_random_pictures_of_the_record(void **state) {
    (void)state;
    bf_picture picture;
    int n_words = 0;
    for (int kind = 0; kind < N_RECORD_KINDS; kind++)
        for (int n = 0; n < N_RECORDS; n++) {
            assert_int_equal(record_kinds[kind].draw(n, BF_LOOK_SUN, svg, sizeof svg, &picture), BF_OK);
            n_words += check_picture(n);
        }
    assert_true(n_words > N_RECORD_KINDS * N_RECORDS * 10);
}

static void no_two_words_overlap_in_200_random_plans(void **state) {
    (void)state;
    bf_picture picture;
    int n_words = 0;
    for (int kind = 0; kind < N_PLAN_KINDS; kind++)
        for (int n = 0; n < N_SCENES; n++) {
            assert_int_equal(plan_kinds[kind].draw(n, BF_LOOK_SUN, svg, sizeof svg, &picture), BF_OK);
            n_words += check_picture(n);
        }
    assert_true(n_words > N_PLAN_KINDS * N_SCENES * 10);
}

static void no_two_words_overlap_in_200_random_beds(void **state) {
    (void)state;
    static scene_bed scene;
    bf_picture picture;
    int n_words = 0;
    for (int kind = 0; kind < N_BED_KINDS; kind++)
        for (int n = 0; n < N_SCENES; n++) {
            scene_bed_random(n, &scene);
            scene.view.look = BF_LOOK_SUN;
            assert_int_equal(bed_kinds[kind].draw(&scene.view, svg, sizeof svg, &picture), BF_OK);
            n_words += check_picture(n);
        }
    assert_true(n_words > N_BED_KINDS * N_SCENES * 5);
}

/* Our own table of widths against the renderer's: bold words, filled extent against advance. The filled extent leaves
 * out the side bearings of the first and last letter, at most 0.12 em each for these. */
static void our_widths_are_the_renderers(void **state) {
    (void)state;
    static const char *const words[] = {"9 in 10 inside", "hook bait", "12 s (10-15) to the bottom", "W",
                                        "0"};
    for (size_t k = 0; k < sizeof words / sizeof words[0]; k++) {
        snprintf(
            named, sizeof named,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"bf\" data-look=\"sun\" viewBox=\"0 0 80 20\">"
            "<text id=\"w0\" x=\"2\" y=\"10\">%s</text></svg>",
            words[k]);
        RsvgRectangle box;
        measure(1, 80, 20, &box);
        double ours = 4 * bf_text_width_mm(words[k], strlen(words[k]), 1);
        BF_CHECK_IN(ours - box.width, -0.1, 2 * 0.12 * 4);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_two_words_overlap_in_200_random_pictures_of_each_kind),
        cmocka_unit_test(no_two_words_overlap_in_random_pictures_of_the_record),
        cmocka_unit_test(no_two_words_overlap_in_200_random_plans),
        cmocka_unit_test(no_two_words_overlap_in_200_random_beds),
        cmocka_unit_test(our_widths_are_the_renderers),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
