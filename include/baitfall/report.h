/* report.h -- pictures as PDF and PNG.
 *
 * Native only. The renderer (librsvg, cairo) takes about 10 ms to load, so it is not linked into the program: the
 * module baitfall_report.so is loaded on the first call, from the folder of the program or from
 * ../lib/baitfall beside it. A command that draws nothing pays nothing.
 *
 * Link with the target bf_report; the module is built by the target baitfall_report.
 *
 * The same picture gives the same bytes each time on one machine: no dates are written. Text stays text in a PDF
 * (it can be searched and read aloud), set in DejaVu Sans if it is installed. The stylesheet bf_picture_css is
 * applied, so a picture needs no <style> of its own; its look is its data-look.
 *
 * Tests: tests/report/report_test.c
 */
#ifndef BAITFALL_REPORT_H
#define BAITFALL_REPORT_H

#include <stddef.h>

#include "baitfall/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Takes the next n bytes of the document; returns 0, or anything else to stop. */
typedef int (*bf_report_write)(void *to, const unsigned char *bytes, size_t n);

/* Room for one sentence that says what went wrong. */
#define BF_REPORT_WHY_BYTES 256

#define BF_REPORT_LEAST_PX 16
#define BF_REPORT_MOST_PX 8192

/* A one-page PDF of the picture's own size (millimetres).
 *
 * svg   (in n) a picture of baitfall/picture.h
 * why   (out BF_REPORT_WHY_BYTES) "" or one sentence
 *
 * Returns BF_OK, BF_E_SYNTAX (the renderer cannot read svg), BF_E_SPACE (`write` stopped it),
 * BF_E_MISSING (the renderer is not installed). */
BF_CHECK bf_status bf_report_pdf(const char *svg, size_t n, bf_report_write write, void *to, char *why);

#define BF_REPORT_MOST_PAGES 16
typedef struct bf_report_page {
    const char *svg; /* (in n) */
    size_t n;
} bf_report_page;

/* A PDF of several pages in order, each of its own picture's size: the two sides of a card. Nothing is written when one of
 * them cannot be read.
 *
 * page  (in n_pages) 1 .. BF_REPORT_MOST_PAGES
 * As bf_report_pdf, and BF_E_COUNT for n_pages. */
BF_CHECK bf_status bf_report_pdf_pages(const bf_report_page *page, int n_pages, bf_report_write write,
                                       void *to, char *why);

/* A PNG `width_px` wide (BF_REPORT_LEAST_PX .. BF_REPORT_MOST_PX), as high as the picture's shape asks.
 * As bf_report_pdf, and BF_E_RANGE for the width. */
BF_CHECK bf_status bf_report_png(const char *svg, size_t n, int width_px, bf_report_write write, void *to,
                                 char *why);

#ifdef __cplusplus
}
#endif
#endif
