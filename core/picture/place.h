/* place.h -- where the words of a drawing go: one of a few places each, chosen so that nothing overlaps.
 *
 * Boxes are measured in bold, the widest face, so the choice holds in every look. */
#ifndef BFI_PLACE_H
#define BFI_PLACE_H

typedef struct bfi_box {
    double x0, y0, x1, y1;
} bfi_box;

typedef struct bfi_segment {
    double x0, y0, x1, y1;
} bfi_segment;

/* One place a word might take: its text starts at (x, y), on the base line. */
typedef struct bfi_place {
    double x, y;
    bfi_box box; /* the text, with anything that goes with it */
    int has_leader;
    bfi_segment leader;
} bfi_place;

#define BFI_MOST_PLACES 6
#define BFI_MOST_WORDS 6
typedef struct bfi_word {
    const char *text, *class_names;
    int n_places;
    bfi_place place[BFI_MOST_PLACES];
    int chosen;
} bfi_word;

/* Letter size of every drawing, mm. */
#define BFI_LETTER_MM 4.0

/* The value, or the end of least .. most that it is beyond. */
double bfi_clamp(double value, double least, double most);

/* Width of a word in bold at the drawing's letter size, mm. */
double bfi_word_width(const char *text);

/* The box of a word that starts at (x, y): ascent and descent of the font around its base line. */
bfi_box bfi_word_box(const char *text, double x, double y);

/* The box grown so that it holds (x, y). */
bfi_box bfi_box_around(bfi_box box, double x, double y);

int bfi_boxes_overlap(bfi_box a, bfi_box b, double gap);
int bfi_segments_cross(bfi_segment a, bfi_segment b);
int bfi_segment_meets_box(bfi_segment segment, bfi_box box);

/* Chooses a place for each of n words (n <= BFI_MOST_WORDS): of all combinations the one with the fewest overlaps,
 * then the fewest leaders over something, then the shortest leaders. Words and leaders also keep clear of `taken`
 * (n_taken). */
void bfi_choose_places(bfi_word *words, int n, const bfi_box *taken, int n_taken);

#endif
