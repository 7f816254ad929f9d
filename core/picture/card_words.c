/* card_words.c -- words that both sides of the card use; see card.h. */
#include <math.h>

#include "core/picture/card.h"
#include "core/picture/chart.h"
#include "core/picture/words.h"

double bfi_card_width(const char *text, double letter_mm) {
    return bfi_word_width(text) * letter_mm / BFI_LETTER_MM;
}

void bfi_card_put(bfi_card_page *p, const char *class_names, double letter_mm, double x, double y,
                  double room_mm, const char *text) {
    char fitted[256];
    bfi_pen word = bfi_pen_open(fitted, sizeof fitted);
    if (!text[0] || room_mm < letter_mm) return;
    bfi_put_fitted_at(&word, text, letter_mm, room_mm);
    bfi_svg_text(p->pen, class_names, x, y, fitted);
}

void bfi_card_rule(bfi_card_page *p, const char *class_names, double y) {
    bfi_svg_line(p->pen, class_names, X0, y, X1, y);
}

void bfi_card_put_clock(bfi_pen *pen, const bf_card_view *view, double after_start_s) {
    int is_clock = view->starts_min >= 0;
    double minutes = floor(after_start_s / 60 + 0.5) + (is_clock ? view->starts_min : 0);
    double hours = floor(minutes / 60), rest = minutes - 60 * hours;
    if (is_clock) hours -= 24 * floor(hours / 24);
    if (!is_clock) bfi_put(pen, "+");
    bfi_put_number(pen, hours, 0);
    bfi_put(pen, rest < 10 ? ":0" : ":");
    bfi_put_number(pen, rest, 0);
}

int bfi_card_is_once(const bf_card_feed *feed) {
    return feed->every_s != feed->every_s;
}

void bfi_card_put_dose(bfi_pen *word, const bf_card_feed *feed, int has_how) {
    bfi_put(word, feed->amount.text);
    bfi_put(word, feed->amount.text[0] && feed->bait.text[0] ? " " : "");
    bfi_put(word, feed->bait.text);
    if (has_how && feed->how.text[0]) {
        bfi_put(word, ", ");
        bfi_put(word, feed->how.text);
    }
}
