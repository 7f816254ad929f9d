#include "core/picture/words.h"

#include <math.h>
#include <string.h>

#include "core/picture/place.h"

bfi_pen bfi_row_open(bf_picture *picture, const char *heading) {
    BF_ASSERT(picture->n_rows < BF_PICTURE_MOST_ROWS);
    char(*row)[80] = picture->cell[picture->n_rows];
    picture->n_rows += 1;
    bfi_pen pen = bfi_pen_open(row[0], sizeof row[0]);
    bfi_put(&pen, heading);
    return bfi_pen_open(row[1], sizeof row[1]);
}

/* "2 h" of 2 h 0 min */
static void put_two_units(bfi_pen *pen, double large, const char *large_unit, double small,
                          const char *small_unit) {
    bfi_put_number(pen, large, 0);
    bfi_put(pen, large_unit);
    if (small == 0) return;
    bfi_put(pen, " ");
    bfi_put_number(pen, small, 0);
    bfi_put(pen, small_unit);
}

void bfi_put_span(bfi_pen *pen, double s) {
    int whole_s = s > 0 ? (int)(s < 1e9 ? s + 0.5 : 1e9) : 0;
    int minutes = (whole_s + 30) / 60;
    if (whole_s < 60)
        put_two_units(pen, whole_s, " s", 0, "");
    else if (whole_s < 600)
        put_two_units(pen, whole_s / 60, " min", whole_s % 60, " s");
    else if (minutes < 60)
        put_two_units(pen, minutes, " min", 0, "");
    else
        put_two_units(pen, minutes / 60, " h", minutes % 60, " min");
}

void bfi_put_about(bfi_pen *pen, double s) {
    double step = s < 60 ? 1 : s < 600 ? 10 : 60;
    bfi_put_span(pen, step * floor(s / step + 0.5));
}

void bfi_put_pounds(bfi_pen *pen, double kg) {
    double ounces = floor(16 * kg / BFI_POUND_KG + 0.5), pounds = floor(ounces / 16);
    if (pounds == 0 && ounces > 0)
        put_two_units(pen, ounces, " oz", 0, "");
    else
        put_two_units(pen, pounds, " lb", ounces - 16 * pounds, " oz");
}

void bfi_put_rig_length(bfi_pen *pen, double m) {
    if (m >= 0.9975) {
        bfi_put_number(pen, m, 2);
        bfi_put(pen, " m");
    } else {
        bfi_put_number(pen, 0.5 * floor(200 * m + 0.5), 1);
        bfi_put(pen, " cm");
    }
}

void bfi_put_inches(bfi_pen *pen, double m) {
    static const char *const parts[] = {"", "\xC2\xBC", "\xC2\xBD", "\xC2\xBE"};
    const double quarter_m = 0.0254 / 4;
    double quarters = floor(m / quarter_m + 0.5), inches = floor(quarters / 4), feet = floor(inches / 12);
    int part = (int)(quarters - 4 * inches);
    if (feet >= 3) {
        bfi_put_number(pen, feet, 0);
        bfi_put(pen, " ft");
        inches -= 12 * feet;
        if (inches == 0 && part == 0) return;
        bfi_put(pen, " ");
    }
    if (inches > 0 || part == 0) bfi_put_number(pen, inches, 0);
    bfi_put(pen, parts[part]);
    bfi_put(pen, " in");
}

void bfi_put_speed(bfi_pen *pen, double m_s) {
    bfi_put_number(pen, m_s, m_s < 0.95);
    bfi_put(pen, " m/s");
}

void bfi_put_offset(bfi_pen *pen, double out_m, double right_m) {
    const double least_m = 0.005;
    int has_out = fabs(out_m) >= least_m, has_right = fabs(right_m) >= least_m;
    if (has_out) {
        bfi_put_length(pen, fabs(out_m));
        bfi_put(pen, out_m > 0 ? " out" : " in");
    }
    if (has_out && has_right) bfi_put(pen, ", ");
    if (has_right) {
        bfi_put_length(pen, fabs(right_m));
        bfi_put(pen, right_m > 0 ? " right" : " left");
    }
    if (!has_out && !has_right) bfi_put(pen, "none");
}

void bfi_put_direction(bfi_pen *pen, double out, double right) {
    /* A part smaller than tan(22.5 degrees) of the other is not said. */
    const double part = 0.41421356237309503;
    int has_out = fabs(out) >= part * fabs(right), has_right = fabs(right) >= part * fabs(out);
    if (has_out) bfi_put(pen, out > 0 ? "out" : "in");
    if (has_out && has_right) bfi_put(pen, " and ");
    if (has_right) bfi_put(pen, right > 0 ? "right" : "left");
}

void bfi_put_fitted_at(bfi_pen *pen, const char *text, double letter_mm, double room_mm) {
    bfi_put_fitted(pen, text, room_mm * BFI_LETTER_MM / letter_mm);
}

void bfi_put_fitted(bfi_pen *pen, const char *text, double room_mm) {
    if (bfi_word_width(text) <= room_mm) {
        bfi_put(pen, text);
        return;
    }
    static const char more[] = "...";
    double room = room_mm - bfi_word_width(more);
    const char *end = text + strlen(text), *fits = text;
    for (const char *next = text; next < end;) {
        bfi_utf8_next(&next, end);
        if (BFI_LETTER_MM * bf_text_width_mm(text, (size_t)(next - text), 1) > room) break;
        fits = next;
    }
    bfi_put_bytes(pen, text, (size_t)(fits - text));
    bfi_put(pen, more);
}

/* Where the line that starts at `text` ends: before the last space at which it still fits, or behind the last letter
 * that does; at least one letter. */
static const char *end_of_line(const char *text, double room_mm) {
    const char *end = text + strlen(text), *at = text, *space = NULL;
    while (at < end) {
        const char *next = at;
        bfi_utf8_next(&next, end);
        if (BFI_LETTER_MM * bf_text_width_mm(text, (size_t)(next - text), 1) > room_mm) {
            if (*at == ' ') return at;
            return space ? space : at > text ? at : next;
        }
        if (*at == ' ') space = at;
        at = next;
    }
    return end;
}

static const char *after_spaces(const char *text) {
    while (*text == ' ') text += 1;
    return text;
}

int bfi_n_lines(const char *text, double room_mm, int most) {
    int n = 0;
    for (text = after_spaces(text); *text && n < most; n++) text = after_spaces(end_of_line(text, room_mm));
    return n;
}

void bfi_svg_lines(bfi_pen *pen, const char *class_names, double x, double y, double room_mm, double step_mm,
                   int most, const char *text) {
    text = after_spaces(text);
    for (int n = 0; *text && n < most; n++) {
        char line[256];
        bfi_pen word = bfi_pen_open(line, sizeof line);
        const char *end = end_of_line(text, room_mm);
        if (n == most - 1)
            bfi_put_fitted(&word, text, room_mm);
        else
            bfi_put_bytes(&word, text, (size_t)(end - text));
        bfi_svg_text(pen, class_names, x, y + n * step_mm, line);
        text = after_spaces(end);
    }
}

bf_status bfi_picture_end(bfi_pen *pen, bf_picture *picture) {
    if (pen->is_short) {
        pen->at[0] = 0;
        memset(picture, 0, sizeof *picture);
        return BF_E_SPACE;
    }
    picture->n_svg = pen->n;
    return BF_OK;
}
