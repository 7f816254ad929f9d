/* The card: front and back of A6, or both beside each other on A5. In mm of paper; 6 mm are left free at every edge.
 *
 *     front  y 6 .. 15    peg and spot, how far out
 *            y 15 .. s    left the rig with every distance, right the key numbers
 *            y s .. 136   other spots and lines of feed, as many as there are, 5.8 mm each
 *            y 136 .. 142 the power-line caution; the back has the one for thunder
 *     back   y 6 .. 15    venue, peg
 *            y 15 .. t    tally, a row each half hour, 8 mm high
 *            y t .. 142   limits and cautions; "estimates, not measurements"; day and version
 */
#include <math.h>
#include <string.h>

#include "core/picture/card.h"
#include "core/picture/chart.h"
#include "core/picture/drawn_rig.h"
#include "core/picture/words.h"

/* ---- checks ---- */

static bf_status check_spot(const bf_card_spot *spot) {
    bf_status status = bfi_drawn_rig_check(&spot->rig);
    if (status) return status;
    if (!(fabs(spot->depth_m) < BF_INFINITY) || fabs(spot->distance_m) == BF_INFINITY) return BF_E_NOT_FINITE;
    int is_fine = spot->depth_m > 0 && spot->depth_m <= 100 && !(spot->distance_m < 0) &&
                  !(spot->distance_m > 100) && spot->bottom >= -1 && spot->bottom <= BF_WEED;
    return is_fine ? BF_OK : BF_E_RANGE;
}

static bf_status check_feed(const bf_card_feed *feed, int n_spots) {
    if (!(fabs(feed->from_s) < BF_INFINITY) || fabs(feed->every_s) == BF_INFINITY) return BF_E_NOT_FINITE;
    if (feed->spot < 0 || feed->spot >= n_spots || feed->from_s < 0 || feed->from_s > 1e6) return BF_E_RANGE;
    if (bfi_card_is_once(feed)) return BF_OK;
    if (!(fabs(feed->to_s) < BF_INFINITY)) return BF_E_NOT_FINITE;
    int is_fine =
        feed->every_s > 0 && feed->every_s <= 1e6 && feed->to_s >= feed->from_s && feed->to_s <= 1e6;
    return is_fine ? BF_OK : BF_E_RANGE;
}

static bf_status check_view(const bf_card_view *view) {
    if (view->n_spots < 1 || view->n_spots > BF_CARD_SPOTS || view->n_feeds < 0 ||
        view->n_feeds > BF_CARD_FEEDS || view->n_limits < 0 || view->n_limits > BF_CARD_LIMITS)
        return BF_E_COUNT;
    if (!(fabs(view->hours) < BF_INFINITY) || fabs(view->starts_min) == BF_INFINITY) return BF_E_NOT_FINITE;
    if (!(view->hours > 0 && view->hours <= 48) || view->starts_min < 0 || view->starts_min > 1440)
        return BF_E_RANGE;
    bf_status status = BF_OK;
    for (int k = 0; k < view->n_spots && !status; k++) status = check_spot(&view->spot[k]);
    for (int k = 0; k < view->n_feeds && !status; k++) status = check_feed(&view->feed[k], view->n_spots);
    return status;
}

/* ---- what it says ---- */

static void tell_row(bf_picture *picture, const char *heading, const char *text) {
    if (!text[0] || picture->n_rows == BF_PICTURE_MOST_ROWS) return;
    bfi_pen pen = bfi_row_open(picture, heading);
    bfi_put(&pen, text);
}

static void tell(const bf_card_view *view, bf_picture *picture) {
    const bf_card_spot *spot = &view->spot[0];
    bfi_pen pen = bfi_pen_open(picture->finding, sizeof picture->finding);
    bfi_put(&pen, "Card");
    bfi_put(&pen, view->peg.text[0] ? " for peg " : "");
    bfi_put(&pen, view->peg.text);
    bfi_put(&pen, spot->name.text[0] ? ", " : "");
    bfi_put(&pen, spot->name.text);
    bfi_put(&pen, ": ");
    bfi_put_number(&pen, spot->depth_m, 2);
    bfi_put(&pen, " m deep, float ");
    bfi_put(&pen, spot->rig.float_name.text);
    bfi_put(&pen, spot->wait.text[0] ? "; after the put-in wait " : "");
    bfi_put(&pen, spot->wait.text);
    bfi_put(&pen, spot->wait.text[0] ? ", then lower." : ".");
    tell_row(picture, "Pieces of a put-in", spot->pieces.text);
    tell_row(picture, "Feed down", spot->feed_down.text);
    tell_row(picture, "Wait, then lower", spot->wait.text);
    tell_row(picture, "Rig down", spot->rig_down.text);
    for (int k = 0; k < view->n_feeds && picture->n_rows < BF_PICTURE_MOST_ROWS; k++) {
        const bf_card_feed *feed = &view->feed[k];
        char when[80];
        bfi_pen word = bfi_pen_open(when, sizeof when);
        bfi_card_put_clock(&word, view, feed->from_s);
        if (!bfi_card_is_once(feed)) {
            bfi_put(&word, ", every ");
            bfi_put_span(&word, feed->every_s);
        }
        pen = bfi_row_open(picture, when);
        bfi_card_put_dose(&pen, feed, 1);
    }
}

/* ---- the pages ---- */

static bf_status draw_card(const bf_card_view *view, const char *id, const char *title, double width,
                           int has_front, int has_back, char *svg, size_t most, bf_picture *picture) {
    memset(picture, 0, sizeof *picture);
    bfi_pen pen = bfi_pen_open(svg, most);
    bf_status status = check_view(view);
    if (status) return status;
    tell(view, picture);
    bfi_svg_open_scaled(&pen, id, width, PAGE_H, 1, BFI_LOOK_PRINT, title, picture->finding);
    bfi_card_page p = {view, &pen};
    if (has_front) bfi_card_front(&p);
    if (has_front && has_back) {
        bfi_svg_line(&pen, "bf-p2 bf-dash", PAGE_W, 2, PAGE_W, PAGE_H - 2);
        pen.x0 = PAGE_W;
    }
    if (has_back) bfi_card_back(&p);
    bfi_svg_close(&pen);
    return bfi_picture_end(&pen, picture);
}

bf_status bf_picture_card_a6_front(const bf_card_view *view, char *svg, size_t most, bf_picture *picture) {
    return draw_card(view, "card-front", "Card, front: rig and feed", PAGE_W, 1, 0, svg, most, picture);
}

bf_status bf_picture_card_a6_back(const bf_card_view *view, char *svg, size_t most, bf_picture *picture) {
    return draw_card(view, "card-back", "Card, back: tally and cautions", PAGE_W, 0, 1, svg, most, picture);
}

bf_status bf_picture_card_a5(const bf_card_view *view, char *svg, size_t most, bf_picture *picture) {
    return draw_card(view, "card", "Card: rig and feed, tally and cautions", 2 * PAGE_W, 1, 1, svg, most,
                     picture);
}
