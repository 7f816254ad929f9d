/* inside.h -- reads a drawn picture again: is it well-formed, where are its words and leaders. */
#ifndef BAITFALL_TESTS_INSIDE_H
#define BAITFALL_TESTS_INSIDE_H

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "baitfall/picture.h"

/* A small judge of well-formed XML, apart from the writer: one root, elements nested and closed, attributes quoted
 * and not given twice, no raw & or < in text. Returns NULL or what is wrong. */
static inline const char *inside_xml_fault(const char *at) {
    char open[16][16];
    int depth = 0, n_roots = 0;
    while (*at) {
        if (*at == '&') {
            const char *end = strchr(at, ';');
            static const char *const known[] = {"&amp;", "&lt;", "&gt;", "&quot;", "&#39;"};
            int is_known = 0;
            for (int k = 0; k < 5; k++) is_known |= strncmp(at, known[k], strlen(known[k])) == 0;
            if (!end || !is_known) return "an unknown reference";
            at = end + 1;
        } else if (*at != '<') {
            if (depth == 0 && *at != '\n') return "text outside the root";
            if ((unsigned char)*at < 0x20 && *at != '\n') return "a control character";
            at++;
        } else if (at[1] == '/') {
            size_t n = strcspn(at + 2, ">");
            if (depth == 0 || strlen(open[depth - 1]) != n || strncmp(open[depth - 1], at + 2, n) != 0)
                return "a closing tag without its element";
            depth--;
            at += 2 + n + 1;
        } else {
            size_t n = strspn(at + 1, "abcdefghijklmnopqrstuvwxyz");
            if (n == 0 || n > 15) return "no element name after <";
            if (depth == 0 && n_roots++ > 0) return "a second root";
            if (depth == 16) return "nested too deep";
            memcpy(open[depth], at + 1, n);
            open[depth][n] = 0;
            at += 1 + n;
            char names[16][24];
            int n_names = 0;
            while (*at == ' ') {
                size_t n_name = strspn(at + 1, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ-");
                if (n_name == 0 || n_name > 23 || n_names == 16 || at[1 + n_name] != '=' ||
                    at[2 + n_name] != '"')
                    return "a bad attribute";
                memcpy(names[n_names], at + 1, n_name);
                names[n_names][n_name] = 0;
                for (int k = 0; k < n_names; k++)
                    if (strcmp(names[k], names[n_names]) == 0) return "an attribute given twice";
                n_names++;
                at += 3 + n_name;
                at += strcspn(at, "\"<");
                if (*at != '"') return "an attribute value not closed";
                at++;
            }
            if (at[0] == '/' && at[1] == '>') {
                at += 2;
            } else if (*at == '>') {
                depth++;
                at++;
            } else {
                return "a tag not closed";
            }
        }
    }
    if (depth != 0) return "an element not closed";
    return n_roots == 1 ? NULL : "no root";
}

typedef struct inside_word {
    double x0, y0, x1, y1; /* its box in bold, the widest face */
    char text[512];
} inside_word;

/* The number of attribute `name` in the element that starts at `element`. */
static inline double inside_number(const char *element, const char *name) {
    char key[32];
    snprintf(key, sizeof key, " %s=\"", name);
    const char *found = strstr(element, key);
    return found ? atof(found + strlen(key)) : NAN;
}

static inline void inside_unescape(char *text) {
    static const char *const from[] = {"&lt;", "&gt;", "&quot;", "&#39;", "&amp;"};
    static const char to[] = {'<', '>', '"', '\'', '&'};
    for (int k = 0; k < 5; k++)
        for (char *at = text; (at = strstr(at, from[k])); at++) {
            *at = to[k];
            memmove(at + 1, at + strlen(from[k]), strlen(at + strlen(from[k])) + 1);
        }
}

/* The size of the space a picture is drawn in: of its viewBox. */
static inline void inside_size(const char *svg, double *width, double *height) {
    const char *box = strstr(svg, " viewBox=\"0 0 ");
    *width = *height = NAN;
    if (box) sscanf(box + strlen(" viewBox=\"0 0 "), "%lf %lf", width, height);
}

/* Whether the element that starts at `element` has the class. */
static inline int inside_has_class(const char *element, const char *name) {
    const char *from = strstr(element, " class=\""), *end = strchr(element, '>');
    size_t n = strlen(name);
    if (!from || from > end) return 0;
    for (from += strlen(" class=\""); *from != '"'; from += *from == ' ') {
        size_t word = strcspn(from, " \"");
        if (word == n && strncmp(from, name, n) == 0) return 1;
        from += word;
    }
    return 0;
}

/* How many elements <element class="..."> there are with a class. */
static inline int inside_count(const char *svg, const char *element, const char *class_name) {
    char open[32];
    int n = 0;
    snprintf(open, sizeof open, "<%s ", element);
    for (const char *at = svg; (at = strstr(at, open)); at++) n += inside_has_class(at, class_name);
    return n;
}

/* The k-th of them, from 0; NULL when there are fewer. */
static inline const char *inside_find(const char *svg, const char *element, const char *class_name, int k) {
    char open[32];
    snprintf(open, sizeof open, "<%s ", element);
    for (const char *at = svg; (at = strstr(at, open)); at++)
        if (inside_has_class(at, class_name) && k-- == 0) return at;
    return NULL;
}

/* The points of a path of moves and lines; returns how many. */
static inline int inside_points(const char *path, double (*point)[2], int most) {
    const char *at = strstr(path, " d=\"") + 4;
    int n = 0, used = 0;
    while (n < most && sscanf(at + 1, "%lf %lf%n", &point[n][0], &point[n][1], &used) == 2) {
        at += 1 + used;
        n += 1;
    }
    return n;
}

/* Every <text> of a picture; returns how many. Letter size 4 mm, ascent and descent of DejaVu Sans. */
static inline int inside_words(const char *svg, inside_word *words, int most) {
    int n = 0;
    for (const char *at = svg; (at = strstr(at, "<text ")) && n < most; at++, n++) {
        inside_word *word = &words[n];
        const char *start = strchr(at, '>') + 1, *end = strstr(start, "</text>");
        snprintf(word->text, sizeof word->text, "%.*s", (int)(end - start), start);
        inside_unescape(word->text);
        double x = inside_number(at, "x"), y = inside_number(at, "y");
        double width = 4 * bf_text_width_mm(word->text, strlen(word->text), 1);
        word->x0 = inside_has_class(at, "bf-end")   ? x - width
                   : inside_has_class(at, "bf-mid") ? x - width / 2
                                                    : x;
        word->y0 = y - 0.93 * 4;
        word->x1 = word->x0 + width;
        word->y1 = y + 0.24 * 4;
    }
    return n;
}

static inline int inside_overlap(const inside_word *a, const inside_word *b) {
    return a->x0 < b->x1 && b->x0 < a->x1 && a->y0 < b->y1 && b->y0 < a->y1;
}

#endif
