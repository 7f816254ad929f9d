#include "core/picture/bed.h"

#include <math.h>

#include "core/picture/words.h"

#define MOST_PIECES 1e6
#define MOST_WIDE_M 100.0
#define LEAST_SPAN_S 600.0
#define MOST_SPAN_S 604800.0
#define MS_PER_S 1000.0

/* ---- checks ---- */

static bf_status check_range(const bf_range *range, double most) {
    const double points[] = {range->lo, range->mid, range->hi};
    return bfi_check_row(points, 3, 0, most);
}

static bf_status check_points(const bf_bed *bed) {
    bf_status status = BF_OK;
    for (int k = 0; k < bed->n_points && !status; k++) {
        const bf_bed_point *point = &bed->point[k];
        if (!bfi_is_finite(point->t_s)) return BF_E_NOT_FINITE;
        if (point->t_s < (k ? bed->point[k - 1].t_s : 0) || point->t_s > bed->t_s) return BF_E_RANGE;
        status = check_range(&point->left, MOST_PIECES);
    }
    return status;
}

static bf_status check_feeds(const bf_bed_view *view) {
    double now_ms = view->start_ms + MS_PER_S * view->bed->t_s;
    for (int k = 0; k < view->n_feeds; k++) {
        const bf_bed_feed *feed = &view->feed[k];
        if (!bfi_is_finite(feed->at_ms) || fabs(feed->count) == BF_INFINITY) return BF_E_NOT_FINITE;
        if (feed->at_ms > now_ms || (k && feed->at_ms < feed[-1].at_ms)) return BF_E_RANGE;
        if (feed->count < 0 || feed->count > MOST_PIECES) return BF_E_RANGE;
    }
    return BF_OK;
}

static bf_status check_numbers(const bf_bed_view *view) {
    const bf_bed *bed = view->bed;
    const double numbers[] = {
        view->start_ms,           view->span_s, bed->t_s, bed->p_many[BF_MANY_FEW], bed->p_many[BF_MANY_SOME],
        bed->p_many[BF_MANY_MANY]};
    for (int k = 0; k < 6; k++)
        if (!bfi_is_finite(numbers[k])) return BF_E_NOT_FINITE;
    if (fabs(view->miss_m) == BF_INFINITY) return BF_E_NOT_FINITE;
    int is_fine = view->span_s >= LEAST_SPAN_S && view->span_s <= MOST_SPAN_S && bed->t_s >= 0 &&
                  !(view->miss_m < 0) && !(view->miss_m > MOST_WIDE_M);
    for (int k = 0; k < BF_N_MANY; k++) is_fine &= bed->p_many[k] >= 0 && bed->p_many[k] <= 1.000001;
    return is_fine ? BF_OK : BF_E_RANGE;
}

bf_status bfi_bed_check(const bf_bed_view *view) {
    const bf_bed *bed = view->bed;
    if (view->n_feeds < 0 || view->n_feeds > BF_BED_MOST_FEEDS || bed->n_points < 0 ||
        bed->n_points > BF_BELIEF_MOST_MARKS)
        return BF_E_COUNT;
    bf_status status = bfi_check_look_and_width(view->look, view->width_mm);
    if (!status) status = check_numbers(view);
    double now_ms = status ? 0 : view->start_ms + MS_PER_S * bed->t_s;
    if (!status) status = bfi_check_stretch(now_ms - MS_PER_S * view->span_s, now_ms, view->east_min);
    if (!status) status = check_range(&bed->left, MOST_PIECES);
    if (!status) status = bfi_check_row(bed->left_dot, BF_N_DOTS, 0, MOST_PIECES);
    if (!status) status = bfi_check_row(bed->fish_dot, BF_N_DOTS, 0, MOST_PIECES);
    if (!status && bed->wide_m.mid == bed->wide_m.mid) status = check_range(&bed->wide_m, MOST_WIDE_M);
    if (!status) status = check_points(bed);
    return status ? status : check_feeds(view);
}

int bfi_bed_is_fed(const bf_bed_view *view) {
    return view->n_feeds > 0;
}

/* ---- ranges ---- */

void bfi_range_deciles(const bf_range *range, double decile[BF_N_DECILES]) {
    /* The normal distribution's quantile at 60, 70, 80 and 90 % over the one at 90 %. */
    static const double part[] = {0.1977, 0.4092, 0.6567, 1};
    const int middle = BF_N_DECILES / 2;
    decile[middle] = range->mid;
    for (int k = 0; k < middle; k++) {
        decile[middle - 1 - k] = range->mid - part[k] * (range->mid - range->lo);
        decile[middle + 1 + k] = range->mid + part[k] * (range->hi - range->mid);
    }
}

/* Whole pieces, from a hundred on to two figures. */
static double whole_of(double pieces) {
    double step = 1;
    while (pieces >= 99.5 * step) step *= 10;
    return step * floor(pieces / step + 0.5);
}

static void put_whole(bfi_pen *pen, double pieces) {
    bfi_put_number(pen, whole_of(pieces), 0);
}

void bfi_put_pieces(bfi_pen *pen, const bf_range *range) {
    if (range->hi < 0.5) {
        bfi_put(pen, "very likely none");
        return;
    }
    if (range->mid < 0.5) {
        bfi_put(pen, "likely none (");
    } else {
        bfi_put(pen, "about ");
        put_whole(pen, range->mid);
        bfi_put(pen, range->mid < 1.5 ? " piece" : " pieces");
        if (whole_of(range->lo) == whole_of(range->hi)) return;
        bfi_put(pen, " (");
    }
    put_whole(pen, range->lo);
    bfi_put(pen, "-");
    put_whole(pen, range->hi);
    bfi_put(pen, ")");
}

void bfi_put_last_feed(bfi_pen *pen, const bf_bed_view *view) {
    const bf_bed_feed *last = &view->feed[view->n_feeds - 1];
    if (last->count == last->count) {
        bfi_put_count(pen, (int)(last->count + 0.5), "piece", "pieces");
        bfi_put(pen, ", ");
    }
    bfi_put_span(pen, view->bed->t_s - (last->at_ms - view->start_ms) / MS_PER_S);
    bfi_put(pen, " ago");
}
