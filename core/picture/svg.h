/* svg.h -- text and SVG written piece by piece into a caller's buffer.
 *
 * A pen never writes past its buffer, always leaves it ended by a 0 byte, and remembers when something did not fit;
 * whoever opened it asks once at the end. Lengths are millimetres, printed with at most two decimals. */
#ifndef BFI_SVG_H
#define BFI_SVG_H

#include <stddef.h>

typedef struct bfi_pen {
    char *at;
    size_t n, most; /* bytes written, bytes there are (1 or more, for the ending 0) */
    int is_short;   /* something did not fit                                        */
    double x0, y0;  /* added to every place drawn: where a part of a sheet begins   */
} bfi_pen;

bfi_pen bfi_pen_open(char *at, size_t most);

void bfi_put_bytes(bfi_pen *pen, const char *text, size_t n);
void bfi_put(bfi_pen *pen, const char *text);
/* Fixed decimals (0 .. 4), trailing zeros left out, half away from zero; |value| < 1e12, finite (asserted). */
void bfi_put_number(bfi_pen *pen, double value, int decimals);
/* A length for people: "8 mm", "24 cm", "1.5 m". Finite. */
void bfi_put_length(bfi_pen *pen, double value_m);
/* As XML character data: & < > " ' escaped; what XML cannot hold becomes U+FFFD. */
void bfi_put_escaped(bfi_pen *pen, const char *text);

/* Next character of UTF-8 text that ends before `end`; bytes that are not UTF-8 give U+FFFD one by one. */
unsigned int bfi_utf8_next(const char **text, const char *end);

void bfi_svg_open(bfi_pen *pen, const char *id, double width_mm, double height_mm, int look,
                  const char *title, const char *desc);
/* The same on paper of another size: paper_mm of paper for each of the drawing's mm. */
void bfi_svg_open_scaled(bfi_pen *pen, const char *id, double width_mm, double height_mm, double paper_mm,
                         int look, const char *title, const char *desc);
void bfi_svg_close(bfi_pen *pen);
void bfi_svg_rect(bfi_pen *pen, const char *class_names, double x, double y, double width, double height);
void bfi_svg_circle(bfi_pen *pen, const char *class_names, double x, double y, double radius);
void bfi_svg_text(bfi_pen *pen, const char *class_names, double x, double y, const char *text);
/* The left half of a disc. */
void bfi_svg_half_disc(bfi_pen *pen, const char *class_names, double x, double y, double radius);
void bfi_svg_line(bfi_pen *pen, const char *class_names, double x0, double y0, double x1, double y1);
/* A shaft with a head of two strokes at (x1, y1). */
void bfi_svg_arrow(bfi_pen *pen, const char *class_names, double x0, double y0, double x1, double y1,
                   double head);

/* A path in pieces: begin, then moves and lines (bfi_svg_point), then end. */
void bfi_svg_path_begin(bfi_pen *pen, const char *class_names);
void bfi_svg_point(bfi_pen *pen, char command, double x, double y); /* 'M' or 'L' */
void bfi_svg_path_end(bfi_pen *pen, int is_closed);

#endif
