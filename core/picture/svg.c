#include "core/picture/svg.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "baitfall/picture.h"
#include "core/picture/font.h"

bfi_pen bfi_pen_open(char *at, size_t most) {
    BF_ASSERT(most >= 1);
    at[0] = 0;
    return (bfi_pen){.at = at, .most = most};
}

void bfi_put_bytes(bfi_pen *pen, const char *text, size_t n) {
    if (n >= pen->most - pen->n) {
        pen->is_short = 1;
        return;
    }
    memcpy(pen->at + pen->n, text, n);
    pen->n += n;
    pen->at[pen->n] = 0;
}

void bfi_put(bfi_pen *pen, const char *text) {
    bfi_put_bytes(pen, text, strlen(text));
}

void bfi_put_number(bfi_pen *pen, double value, int decimals) {
    static const int64_t power[] = {1, 10, 100, 1000, 10000};
    BF_ASSERT(decimals >= 0 && decimals <= 4 && fabs(value) < 1e12);
    int64_t scaled = (int64_t)floor(fabs(value) * (double)power[decimals] + 0.5);
    if (value < 0 && scaled > 0) bfi_put_bytes(pen, "-", 1);
    while (decimals > 0 && scaled % 10 == 0) {
        scaled /= 10;
        decimals -= 1;
    }
    /* Digits from the right, with the point in its place and at least one digit before it. */
    char digits[24];
    size_t first = sizeof digits;
    for (int k = 0; scaled > 0 || k <= decimals; k++) {
        if (k == decimals && k > 0) digits[--first] = '.';
        digits[--first] = (char)('0' + scaled % 10);
        scaled /= 10;
    }
    bfi_put_bytes(pen, digits + first, sizeof digits - first);
}

void bfi_put_length(bfi_pen *pen, double value_m) {
    double size = fabs(value_m);
    if (size >= 0.995) {
        bfi_put_number(pen, value_m, 1);
        bfi_put(pen, " m");
    } else if (size >= 0.0095 || size == 0) {
        bfi_put_number(pen, value_m * 100, 0);
        bfi_put(pen, " cm");
    } else {
        bfi_put_number(pen, value_m * 1000, 0);
        bfi_put(pen, " mm");
    }
}

#define REPLACEMENT 0xFFFDu

unsigned int bfi_utf8_next(const char **text, const char *end) {
    const unsigned char *at = (const unsigned char *)*text;
    unsigned int lead = at[0];
    int more = lead < 0x80 ? 0 : lead >= 0xC2 && lead < 0xE0 ? 1 : lead >= 0xE0 && lead < 0xF0 ? 2 : 3;
    *text += 1;
    if (more == 0) return lead;
    if (lead < 0xC2 || lead > 0xF4 || end - *text < more) return REPLACEMENT;
    unsigned int code = lead & (0x3Fu >> more);
    for (int k = 1; k <= more; k++) {
        if ((at[k] & 0xC0u) != 0x80u) return REPLACEMENT;
        code = code << 6 | (at[k] & 0x3Fu);
    }
    static const unsigned int least[] = {0, 0x80, 0x800, 0x10000};
    if (code < least[more] || code > 0x10FFFF || (code >= 0xD800 && code < 0xE000)) return REPLACEMENT;
    *text += more;
    return code;
}

static const char *escape_of(unsigned int code) {
    switch (code) {
    case '&': return "&amp;";
    case '<': return "&lt;";
    case '>': return "&gt;";
    case '"': return "&quot;";
    case '\'': return "&#39;";
    default: return NULL;
    }
}

static int is_xml_character(unsigned int code) {
    return code >= 0x20 && code != 0xFFFE && code != 0xFFFF && code != REPLACEMENT;
}

void bfi_put_escaped(bfi_pen *pen, const char *text) {
    const char *end = text + strlen(text);
    while (text < end) {
        const char *start = text;
        unsigned int code = bfi_utf8_next(&text, end);
        const char *escape = escape_of(code);
        if (escape)
            bfi_put(pen, escape);
        else if (is_xml_character(code))
            bfi_put_bytes(pen, start, (size_t)(text - start));
        else
            bfi_put(pen, "\xEF\xBF\xBD");
    }
}

double bf_text_width_mm(const char *text, size_t n, int is_bold) {
    const unsigned short *advance = is_bold ? bfi_font_bold : bfi_font_regular;
    int width = 0;
    for (const char *end = text + n; text < end;) {
        unsigned int code = bfi_utf8_next(&text, end);
        int own = bfi_font_units;
        for (int k = 0; k < bfi_font_n_blocks; k++) {
            const bfi_font_block *block = &bfi_font_blocks[k];
            if (code >= block->first && code <= block->last)
                own = advance[block->start + (int)(code - block->first)];
        }
        width += own;
    }
    return (double)width / bfi_font_units;
}

/* ---- elements ---- */

static void put_attribute(bfi_pen *pen, const char *name, double value) {
    bfi_put(pen, " ");
    bfi_put(pen, name);
    bfi_put(pen, "=\"");
    bfi_put_number(pen, value, 2);
    bfi_put(pen, "\"");
}

static void put_element(bfi_pen *pen, const char *element, const char *class_names) {
    bfi_put(pen, "<");
    bfi_put(pen, element);
    bfi_put(pen, " class=\"");
    bfi_put(pen, class_names);
    bfi_put(pen, "\"");
}

static void put_described(bfi_pen *pen, const char *element, const char *id, const char *suffix,
                          const char *text) {
    const char *const parts[] = {"<", element, " id=\"bf-", id, suffix, "\">"};
    for (size_t k = 0; k < sizeof parts / sizeof parts[0]; k++) bfi_put(pen, parts[k]);
    bfi_put_escaped(pen, text);
    bfi_put(pen, "</");
    bfi_put(pen, element);
    bfi_put(pen, ">\n");
}

void bfi_svg_open(bfi_pen *pen, const char *id, double width_mm, double height_mm, int look,
                  const char *title, const char *desc) {
    bfi_svg_open_scaled(pen, id, width_mm, height_mm, 1, look, title, desc);
}

void bfi_svg_open_scaled(bfi_pen *pen, const char *id, double width_mm, double height_mm, double paper_mm,
                         int look, const char *title, const char *desc) {
    static const char *const look_words[] = {NULL, "shade", "sun", "dusk", "print"};
    bfi_put(pen, "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"bf\"");
    if (look_words[look]) {
        bfi_put(pen, " data-look=\"");
        bfi_put(pen, look_words[look]);
        bfi_put(pen, "\"");
    }
    bfi_put(pen, " width=\"");
    bfi_put_number(pen, width_mm * paper_mm, 2);
    bfi_put(pen, "mm\" height=\"");
    bfi_put_number(pen, height_mm * paper_mm, 2);
    bfi_put(pen, "mm\" viewBox=\"0 0 ");
    bfi_put_number(pen, width_mm, 2);
    bfi_put(pen, " ");
    bfi_put_number(pen, height_mm, 2);
    const char *const parts[] = {"\" role=\"img\" aria-labelledby=\"bf-", id, "-title bf-", id, "-desc\">\n"};
    for (size_t k = 0; k < sizeof parts / sizeof parts[0]; k++) bfi_put(pen, parts[k]);
    put_described(pen, "title", id, "-title", title);
    put_described(pen, "desc", id, "-desc", desc);
    bfi_svg_rect(pen, "bf-sheet", 0, 0, width_mm, height_mm);
}

void bfi_svg_close(bfi_pen *pen) {
    bfi_put(pen, "</svg>\n");
}

void bfi_svg_rect(bfi_pen *pen, const char *class_names, double x, double y, double width, double height) {
    put_element(pen, "rect", class_names);
    put_attribute(pen, "x", pen->x0 + x);
    put_attribute(pen, "y", pen->y0 + y);
    put_attribute(pen, "width", width);
    put_attribute(pen, "height", height);
    bfi_put(pen, "/>\n");
}

void bfi_svg_circle(bfi_pen *pen, const char *class_names, double x, double y, double radius) {
    put_element(pen, "circle", class_names);
    put_attribute(pen, "cx", pen->x0 + x);
    put_attribute(pen, "cy", pen->y0 + y);
    put_attribute(pen, "r", radius);
    bfi_put(pen, "/>\n");
}

void bfi_svg_text(bfi_pen *pen, const char *class_names, double x, double y, const char *text) {
    put_element(pen, "text", class_names);
    put_attribute(pen, "x", pen->x0 + x);
    put_attribute(pen, "y", pen->y0 + y);
    bfi_put(pen, ">");
    bfi_put_escaped(pen, text);
    bfi_put(pen, "</text>\n");
}

void bfi_svg_path_begin(bfi_pen *pen, const char *class_names) {
    put_element(pen, "path", class_names);
    bfi_put(pen, " d=\"");
}

void bfi_svg_point(bfi_pen *pen, char command, double x, double y) {
    bfi_put_bytes(pen, &command, 1);
    bfi_put_number(pen, pen->x0 + x, 2);
    bfi_put(pen, " ");
    bfi_put_number(pen, pen->y0 + y, 2);
}

void bfi_svg_path_end(bfi_pen *pen, int is_closed) {
    bfi_put(pen, is_closed ? "Z\"/>\n" : "\"/>\n");
}

void bfi_svg_half_disc(bfi_pen *pen, const char *class_names, double x, double y, double radius) {
    bfi_svg_path_begin(pen, class_names);
    bfi_svg_point(pen, 'M', x, y - radius);
    bfi_put(pen, "A");
    bfi_put_number(pen, radius, 2);
    bfi_put(pen, " ");
    bfi_put_number(pen, radius, 2);
    bfi_put(pen, " 0 0 0 ");
    bfi_put_number(pen, pen->x0 + x, 2);
    bfi_put(pen, " ");
    bfi_put_number(pen, pen->y0 + y + radius, 2);
    bfi_svg_path_end(pen, 1);
}

void bfi_svg_line(bfi_pen *pen, const char *class_names, double x0, double y0, double x1, double y1) {
    bfi_svg_path_begin(pen, class_names);
    bfi_svg_point(pen, 'M', x0, y0);
    bfi_svg_point(pen, 'L', x1, y1);
    bfi_svg_path_end(pen, 0);
}

void bfi_svg_arrow(bfi_pen *pen, const char *class_names, double x0, double y0, double x1, double y1,
                   double head) {
    double length = sqrt((x1 - x0) * (x1 - x0) + (y1 - y0) * (y1 - y0));
    double along_x = head * (x1 - x0) / length, along_y = head * (y1 - y0) / length;
    bfi_svg_path_begin(pen, class_names);
    bfi_svg_point(pen, 'M', x0, y0);
    bfi_svg_point(pen, 'L', x1, y1);
    bfi_svg_point(pen, 'M', x1 - along_x - 0.5 * along_y, y1 - along_y + 0.5 * along_x);
    bfi_svg_point(pen, 'L', x1, y1);
    bfi_svg_point(pen, 'L', x1 - along_x + 0.5 * along_y, y1 - along_y - 0.5 * along_x);
    bfi_svg_path_end(pen, 0);
}
