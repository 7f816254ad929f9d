/* PDF and PNG of a picture. */
#define _POSIX_C_SOURCE 200809L
#include "baitfall/report.h"

#include "../picture/plan_scenes.h"
#include "common/check.h"

typedef struct heap {
    unsigned char at[512 * 1024];
    size_t n;
    size_t most; /* stop beyond this */
} heap;

static heap one, two;
static char svg[BF_RECORD_SVG_BYTES], why[BF_REPORT_WHY_BYTES];
static bf_picture picture;

static int take(void *to, const unsigned char *bytes, size_t n) {
    heap *all = to;
    if (all->n + n > all->most) return 1;
    memcpy(all->at + all->n, bytes, n);
    all->n += n;
    return 0;
}

static heap *emptied(heap *all) {
    all->n = 0;
    all->most = sizeof all->at;
    return all;
}

static int draw(void **state) {
    (void)state;
    static bf_side_view view;
    bf_labels labels;
    scene_side_everyday(&view);
    scene_labels_everyday(&labels);
    return bf_picture_side(&view, &labels, svg, sizeof svg, &picture) != BF_OK;
}

static unsigned long big_endian(const unsigned char *at) {
    return (unsigned long)at[0] << 24 | (unsigned long)at[1] << 16 | (unsigned long)at[2] << 8 | at[3];
}

static void a_png_has_the_width_asked_for_and_the_shape_of_the_picture(void **state) {
    (void)state;
    double height_mm = atof(strstr(svg, " height=\"") + strlen(" height=\""));
    for (int width = 80; width <= 1280; width *= 4) {
        assert_int_equal(bf_report_png(svg, picture.n_svg, width, take, emptied(&one), why), BF_OK);
        assert_string_equal(why, "");
        assert_memory_equal(one.at, "\x89PNG\r\n\x1a\n", 8);
        assert_int_equal(big_endian(one.at + 16), width);
        BF_CHECK_ABS((double)big_endian(one.at + 20), width * height_mm / 80, 1);
    }
}

static void the_same_picture_gives_the_same_bytes(void **state) {
    (void)state;
    for (int is_png = 0; is_png < 2; is_png++) {
        heap *const heaps[] = {&one, &two};
        for (int k = 0; k < 2; k++) {
            bf_status status = is_png ? bf_report_png(svg, picture.n_svg, 360, take, emptied(heaps[k]), why)
                                      : bf_report_pdf(svg, picture.n_svg, take, emptied(heaps[k]), why);
            assert_int_equal(status, BF_OK);
        }
        assert_int_equal(one.n, two.n);
        assert_memory_equal(one.at, two.at, one.n);
    }
}

static void a_pdf_carries_no_date_and_is_as_large_as_the_picture(void **state) {
    (void)state;
    assert_int_equal(bf_report_pdf(svg, picture.n_svg, take, emptied(&one), why), BF_OK);
    assert_memory_equal(one.at, "%PDF-1.", 7);
    one.at[one.n] = 0;
    double width = NAN;
    int has_date = 0;
    for (size_t k = 0; k + 16 < one.n; k++) {
        has_date |= memcmp(one.at + k, "/CreationDate", 13) == 0;
        if (memcmp(one.at + k, "/MediaBox [", 11) == 0)
            sscanf((char *)one.at + k + 11, "%*f %*f %lf", &width);
    }
    assert_false(has_date);
    BF_CHECK_ABS(width, 80 / 25.4 * 72, 0.01);
}

/* What another program says of the document in `one`: `command` with the name of its file for %s. */
static void ask_reader(const char *command, char *text, size_t most) {
    char name[] = "/tmp/baitfall-report-XXXXXX", line[128];
    int file = mkstemp(name);
    assert_true(file >= 0);
    FILE *out = fdopen(file, "wb");
    assert_int_equal(fwrite(one.at, 1, one.n, out), one.n);
    assert_int_equal(fclose(out), 0);
    const char *place = strstr(command, "%s");
    snprintf(line, sizeof line, "%.*s%s%s", (int)(place - command), command, name, place + 2);
    FILE *in = popen(line, "r");
    assert_non_null(in);
    text[fread(text, 1, most - 1, in)] = 0;
    assert_int_equal(pclose(in), 0);
    remove(name);
}

/* pdftotext (poppler) is a reader of its own: the words are text there, not outlines. */
static void the_words_of_a_pdf_are_text(void **state) {
    (void)state;
    char text[4096];
    assert_int_equal(bf_report_pdf(svg, picture.n_svg, take, emptied(&one), why), BF_OK);
    ask_reader("pdftotext %s -", text, sizeof text);
    assert_non_null(strstr(text, "9 in 10 down in 12 s (10-15)"));
    assert_non_null(strstr(text, "silt"));
}

static void what_is_no_picture_is_refused_with_a_sentence(void **state) {
    (void)state;
    static const char *const bad[] = {"", "no picture", "<svg xmlns=\"http://www.w3.org/2000/svg\">",
                                      "<html/>"};
    for (size_t k = 0; k < sizeof bad / sizeof bad[0]; k++) {
        assert_int_equal(bf_report_pdf(bad[k], strlen(bad[k]), take, emptied(&one), why), BF_E_SYNTAX);
        assert_int_equal(strncmp(why, "the picture cannot be read: ", 28), 0);
        assert_int_equal(one.n, 0);
    }
}

static void a_width_out_of_range_is_refused(void **state) {
    (void)state;
    static const int bad[] = {-1, 0, BF_REPORT_LEAST_PX - 1, BF_REPORT_MOST_PX + 1};
    for (int k = 0; k < 4; k++) {
        assert_int_equal(bf_report_png(svg, picture.n_svg, bad[k], take, emptied(&one), why), BF_E_RANGE);
        assert_non_null(strstr(why, "accepted is 16 to 8192 px"));
    }
}

static void a_writer_that_stops_is_said(void **state) {
    (void)state;
    emptied(&one);
    one.most = 100;
    assert_int_equal(bf_report_pdf(svg, picture.n_svg, take, &one, why), BF_E_SPACE);
    assert_int_equal(strncmp(why, "the picture could not be written", 32), 0);
    emptied(&one);
    one.most = 100;
    assert_int_equal(bf_report_png(svg, picture.n_svg, 360, take, &one, why), BF_E_SPACE);
}

/* 148 x 210 mm in points of 1/72 inch. */
static void a_review_sheet_is_one_a5_page(void **state) {
    (void)state;
    static scene_sheet sheet;
    bf_picture review;
    scene_sheet_everyday(&sheet, 4);
    assert_int_equal(bf_picture_sheet(&sheet.view, svg, sizeof svg, &review), BF_OK);
    assert_int_equal(bf_report_pdf(svg, review.n_svg, take, emptied(&one), why), BF_OK);
    one.at[one.n] = 0;
    double width = NAN, height = NAN;
    int n_pages = 0;
    for (size_t k = 0; k + 16 < one.n; k++) {
        if (memcmp(one.at + k, "/MediaBox [", 11) == 0) {
            sscanf((char *)one.at + k + 11, "%*f %*f %lf %lf", &width, &height);
            n_pages += 1;
        }
    }
    assert_int_equal(n_pages, 1);
    BF_CHECK_ABS(width, 148 / 25.4 * 72, 0.01);
    BF_CHECK_ABS(height, 210 / 25.4 * 72, 0.01);
}

/* The card: two pages of A6 in one file, or one of A5 across. pdfinfo and pdffonts (poppler) say what they read. */
static void a_card_is_two_pages_of_a6_or_one_of_a5_with_its_fonts_inside(void **state) {
    (void)state;
    static bf_card_view card;
    static char front[BF_PLAN_SVG_BYTES], back[BF_PLAN_SVG_BYTES];
    bf_picture drawn;
    scene_card_everyday(&card);
    assert_int_equal(bf_picture_card_a6_front(&card, front, sizeof front, &drawn), BF_OK);
    bf_report_page pages[2] = {{front, drawn.n_svg}};
    assert_int_equal(bf_picture_card_a6_back(&card, back, sizeof back, &drawn), BF_OK);
    pages[1] = (bf_report_page){back, drawn.n_svg};
    for (int is_a5 = 0; is_a5 < 2; is_a5++) {
        char text[4096];
        if (is_a5) {
            assert_int_equal(bf_picture_card_a5(&card, front, sizeof front, &drawn), BF_OK);
            pages[0].n = drawn.n_svg;
        }
        assert_int_equal(bf_report_pdf_pages(pages, is_a5 ? 1 : 2, take, emptied(&one), why), BF_OK);
        ask_reader("pdfinfo -f 1 -l 9 %s", text, sizeof text);
        assert_int_equal(atoi(strstr(text, "Pages:") + strlen("Pages:")), is_a5 ? 1 : 2);
        int n_sizes = 0;
        for (const char *at = text; (at = strstr(at, " size:")); at++) {
            double width = NAN, height = NAN;
            if (sscanf(at + strlen(" size:"), "%lf x %lf pts", &width, &height) != 2) continue;
            BF_CHECK_ABS(width, (is_a5 ? 210 : 105) / 25.4 * 72, 0.01);
            BF_CHECK_ABS(height, 148 / 25.4 * 72, 0.01);
            n_sizes += 1;
        }
        assert_int_equal(n_sizes, is_a5 ? 1 : 2);
        ask_reader("pdffonts %s", text, sizeof text);
        int n_fonts = 0, n_inside = 0;
        for (const char *at = text; (at = strstr(at, "DejaVuSans")); at++) n_fonts++;
        /* Embedded, a subset, with its characters. */
        for (const char *at = text; (at = strstr(at, "yes yes yes")); at++) n_inside++;
        assert_true(n_fonts >= 2);
        assert_int_equal(n_inside, n_fonts);
        ask_reader("pdftotext %s -", text, sizeof text);
        assert_non_null(strstr(text, "wait, then lower"));
        assert_non_null(strstr(text, "Estimates, not measurements."));
    }
}

static void pages_that_cannot_be_are_refused_and_nothing_is_written(void **state) {
    (void)state;
    const bf_report_page pages[2] = {{svg, picture.n_svg}, {"no picture", 10}};
    assert_int_equal(bf_report_pdf_pages(pages, 0, take, emptied(&one), why), BF_E_COUNT);
    assert_int_equal(bf_report_pdf_pages(pages, BF_REPORT_MOST_PAGES + 1, take, &one, why), BF_E_COUNT);
    assert_non_null(strstr(why, "accepted is 1 to 16"));
    assert_int_equal(bf_report_pdf_pages(pages, 2, take, &one, why), BF_E_SYNTAX);
    assert_int_equal(one.n, 0);
}

/* The three looks differ on paper as well: the stylesheet reaches the renderer. */
static void the_look_reaches_the_renderer(void **state) {
    (void)state;
    static bf_side_view view;
    bf_labels labels;
    scene_side_everyday(&view);
    scene_labels_everyday(&labels);
    size_t size[4];
    for (int look = BF_LOOK_SHADE; look <= BF_LOOK_DUSK; look++) {
        view.look = look;
        assert_int_equal(bf_picture_side(&view, &labels, svg, sizeof svg, &picture), BF_OK);
        assert_int_equal(bf_report_png(svg, picture.n_svg, 360, take, emptied(&one), why), BF_OK);
        size[look] = one.n;
    }
    assert_true(size[1] != size[2] && size[2] != size[3] && size[1] != size[3]);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_png_has_the_width_asked_for_and_the_shape_of_the_picture),
        cmocka_unit_test(the_same_picture_gives_the_same_bytes),
        cmocka_unit_test(a_pdf_carries_no_date_and_is_as_large_as_the_picture),
        cmocka_unit_test(the_words_of_a_pdf_are_text),
        cmocka_unit_test(what_is_no_picture_is_refused_with_a_sentence),
        cmocka_unit_test(a_width_out_of_range_is_refused),
        cmocka_unit_test(a_writer_that_stops_is_said),
        cmocka_unit_test(a_review_sheet_is_one_a5_page),
        cmocka_unit_test(a_card_is_two_pages_of_a6_or_one_of_a5_with_its_fonts_inside),
        cmocka_unit_test(pages_that_cannot_be_are_refused_and_nothing_is_written),
        cmocka_unit_test(the_look_reaches_the_renderer),
    };
    return cmocka_run_group_tests(tests, draw, NULL);
}
