/* card.h -- what the files that draw the card share: card.c (what it takes, what it says, its pages), card_front.c, card_back.c and
 * card_words.c. In mm of paper. Internal to core/picture. */
#ifndef BFI_CARD_H
#define BFI_CARD_H

#include "baitfall/plan_picture.h"
#include "core/picture/svg.h"

#define PAGE_W 105.0
#define PAGE_H 148.0
#define X0 6.0
#define X1 99.0
#define INNER_W (X1 - X0)
#define LOW_Y 142.0

/* Letters: 14, 20, 24 and 10 points. */
#define PT14 4.94
#define PT20 7.06
#define PT24 8.47
#define PT10 3.53
#define ROW14 5.8
#define ROW10 4.25

#define TITLE_Y 12.2
#define RULE_Y 14.6

typedef struct bfi_card_page {
    const bf_card_view *view;
    bfi_pen *pen;
} bfi_card_page;

void bfi_card_front(bfi_card_page *p);
void bfi_card_back(bfi_card_page *p);

/* How wide words are in letters of so many mm. */
double bfi_card_width(const char *text, double letter_mm);

/* Bold words cut to their room; with "bf-end" they end at x. */
void bfi_card_put(bfi_card_page *p, const char *class_names, double letter_mm, double x, double y,
                  double room_mm, const char *text);

/* A line from edge to edge. */
void bfi_card_rule(bfi_card_page *p, const char *class_names, double y);

/* "9:30" by the clock, or "+0:30" since the start. */
void bfi_card_put_clock(bfi_pen *pen, const bf_card_view *view, double after_start_s);

/* Whether a line of feed is one put-in. */
int bfi_card_is_once(const bf_card_feed *feed);

/* How much of which bait, and how. */
void bfi_card_put_dose(bfi_pen *word, const bf_card_feed *feed, int has_how);

#endif
