/* What the section tells: the rows under it, its finding and its table. */
#include <math.h>
#include <string.h>

#include "core/picture/chart.h"
#include "core/picture/section.h"
#include "core/picture/words.h"

static bfi_pen add_caption(bfi_caption *captions, int *n, const char *class_names) {
    bfi_caption *row = &captions[*n];
    *n += 1;
    row->class_names = class_names;
    return bfi_pen_open(row->text, sizeof row->text);
}

/* Off the tip more across than outward, where this drawing does not show it. */
static int is_mostly_aside(const bf_section_view *view) {
    const double *bait_m = view->shape.bait_m;
    return fabs(bait_m[1]) > 0.02 && fabs(bait_m[1]) > fabs(bait_m[0]);
}

int bfi_section_captions(const bfi_section *s, const bf_labels *labels,
                         bfi_caption captions[BFI_SECTION_CAPTIONS]) {
    const bf_section_view *view = s->view;
    int n = 0;
    bfi_pen pen;
    if (view->off.text[0]) {
        pen = add_caption(captions, &n, "bf-wet bf-r bf-key");
        bfi_put(&pen, "bait ");
        bfi_put(&pen, view->off.text);
        bfi_put(&pen, " off the tip");
    }
    if (is_mostly_aside(view)) {
        pen = add_caption(captions, &n, "bf-wet bf-r");
        bfi_put(&pen,
                view->shape.bait_m[1] > 0 ? "mostly right: see from above" : "mostly left: see from above");
    }
    pen = add_caption(captions, &n, "bf-wet bf-key");
    bfi_put_depth(&pen, &s->fall, labels);
    if (s->fall.bottom >= 0) {
        bfi_put(&pen, ", ");
        bfi_put(&pen, bfi_bottom_word(s->fall.bottom));
    }
    if (bfi_section_fastest_m_s(view) >= BFI_LEAST_CURRENT_M_S) {
        pen = add_caption(captions, &n, "bf-wet");
        bfi_put(&pen, "arrows: current, up to ");
        bfi_put_short(&pen, 100 * bfi_section_fastest_m_s(view));
        bfi_put(&pen, " cm/s");
    }
    pen = add_caption(captions, &n, "bf-label");
    double times = bfi_swim_narrower(&s->swim);
    if (times > 1.05) {
        bfi_put(&pen, "height drawn ");
        bfi_put_number(&pen, times, times < 10);
        bfi_put(&pen, " times");
        pen = add_caption(captions, &n, "bf-label");
        bfi_put(&pen, "float, shot and bait drawn larger");
    } else {
        bfi_put(&pen, "water to scale, float and shot not");
    }
    return n;
}

/* ---- what it says ---- */

static void put_over(bfi_pen *pen, double overdepth_m) {
    if (fabs(overdepth_m) < 0.005) {
        bfi_put(pen, "at full depth");
        return;
    }
    bfi_put_rig_length(pen, fabs(overdepth_m));
    bfi_put(pen, overdepth_m > 0 ? " over depth" : " off the bottom");
}

static const char *const contact_words[] = {"hangs", "touches", "lies"};

static void put_feed_told(bfi_pen *pen, const bfi_section *s) {
    const bf_side_view *fall = &s->fall;
    double middle = bfi_section_has_bracket(s) ? 0.5 * (fall->wide_lo_x_m + fall->wide_hi_x_m)
                                               : fall->step_x_m[fall->n_steps - 1];
    double from_bait = middle - s->view->shape.bait_m[0];
    bfi_put(pen, bfi_section_has_bracket(s) ? "; feed pile " : "; feed");
    if (bfi_section_has_bracket(s)) {
        bfi_put_length(pen, fall->wide_hi_x_m - fall->wide_lo_x_m);
        bfi_put(pen, " wide, its middle");
    }
    if (fabs(from_bait) < 0.005) {
        bfi_put(pen, " at the bait");
        return;
    }
    bfi_put(pen, " ");
    bfi_put_length(pen, fabs(from_bait));
    bfi_put(pen, from_bait > 0 ? " out from the bait" : " in from the bait");
}

static void tell_finding(const bfi_section *s, bf_picture *picture) {
    const bf_section_view *view = s->view;
    bfi_pen pen = bfi_pen_open(picture->finding, sizeof picture->finding);
    bfi_put(&pen, "Float ");
    bfi_put(&pen, view->rig.float_name.text);
    bfi_put(&pen, ", ");
    bfi_put_rows(&pen, s->row, s->n_rows, 100);
    bfi_put(&pen, " above the hook; bait ");
    put_over(&pen, view->overdepth_m);
    if (view->off.text[0]) {
        bfi_put(&pen, ", ");
        bfi_put(&pen, view->off.text);
        bfi_put(&pen, " off the tip");
    }
    if (bfi_section_has_feed(s)) put_feed_told(&pen, s);
    bfi_put(&pen, ".");
}

static void tell_rig(const bfi_section *s, bf_picture *picture) {
    const bf_section_view *view = s->view;
    bfi_pen pen = bfi_row_open(picture, "Float");
    bfi_put(&pen, view->rig.float_name.text);
    bfi_put(&pen, view->shape.bristle_m < 0 ? ", under by " : ", bristle showing ");
    bfi_put_number(&pen, 1000 * fabs(view->shape.bristle_m), 0);
    bfi_put(&pen, " mm");
    if (view->shape.bristle_band_m > 0) {
        bfi_put(&pen, ", give or take ");
        bfi_put_number(&pen, 1000 * view->shape.bristle_band_m, 0);
        bfi_put(&pen, " mm");
    }
    pen = bfi_row_open(picture, "Shot, above the hook");
    bfi_put_rows(&pen, s->row, s->n_rows, 79);
    if (s->n_back_rows > 0) {
        pen = bfi_row_open(picture, "Back shots, above the float");
        bfi_put_rows(&pen, s->back_row, s->n_back_rows, 79);
    }
    if (view->rig.hooklength_m > 0) {
        pen = bfi_row_open(picture, "Hooklength");
        bfi_put_rig_length(&pen, view->rig.hooklength_m);
        bfi_put(&pen, view->rig.hooklength.text[0] ? " of " : "");
        bfi_put(&pen, view->rig.hooklength.text);
    }
    pen = bfi_row_open(picture, "Hook bait");
    bfi_put(&pen, contact_words[view->shape.contact]);
    bfi_put(&pen, ", ");
    put_over(&pen, view->overdepth_m);
    pen = bfi_row_open(picture, "Hook bait from under the tip");
    if (view->off.text[0])
        bfi_put(&pen, view->off.text);
    else
        bfi_put_offset(&pen, view->shape.bait_m[0], view->shape.bait_m[1]);
    if (view->down.text[0]) {
        pen = bfi_row_open(picture, "Hook bait down");
        bfi_put(&pen, view->down.text);
    }
}

static void tell_water(const bfi_section *s, const bf_labels *labels, bf_picture *picture) {
    const bf_section_view *view = s->view;
    bfi_pen pen = bfi_row_open(picture, "Depth and bottom");
    bfi_put_depth(&pen, &s->fall, labels);
    bfi_put(&pen, ", ");
    bfi_put_bottom(&pen, &s->fall);
    if (bfi_section_has_bracket(s)) {
        pen = bfi_row_open(picture, "Feed, 9 in 10 outward");
        bfi_put_length(&pen, s->fall.wide_hi_x_m - s->fall.wide_lo_x_m);
    }
    if (labels->time.text[0]) {
        pen = bfi_row_open(picture, "Feed, 9 in 10 down");
        bfi_put(&pen, labels->time.text);
    }
    if (bfi_section_fastest_m_s(view) >= BFI_LEAST_CURRENT_M_S) {
        pen = bfi_row_open(picture, "Current, surface and deepest shown");
        for (int k = 0; k < 2; k++) {
            double speed = 100 * view->current_m_s[k ? view->n_currents - 1 : 0];
            bfi_put(&pen, k ? "; " : "");
            bfi_put_short(&pen, fabs(speed));
            bfi_put(&pen, " cm/s");
            if (fabs(speed) >= 100 * BFI_LEAST_CURRENT_M_S) bfi_put(&pen, speed > 0 ? " out" : " in");
        }
    }
    if (bfi_section_wind_m_s(view) > 0) {
        pen = bfi_row_open(picture, "Wind blows");
        bfi_put_speed(&pen, bfi_section_wind_m_s(view));
        bfi_put(&pen, " ");
        bfi_put_direction(&pen, view->wind_x_m_s, view->wind_y_m_s);
    }
}

void bfi_section_tell(const bfi_section *s, const bf_labels *labels, bf_picture *picture) {
    tell_finding(s, picture);
    tell_rig(s, picture);
    tell_water(s, labels, picture);
}
