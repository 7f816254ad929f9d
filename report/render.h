/* render.h -- what the module baitfall_report.so offers to the program that loads it. */
#ifndef BFI_RENDER_H
#define BFI_RENDER_H

#include "baitfall/report.h"

/* width_px 0: a PDF of all pages, else a PNG of the first. */
typedef bf_status (*bfi_render_function)(const bf_report_page *page, int n_pages, int width_px,
                                         bf_report_write write, void *to, char *why);
#define BFI_RENDER_NAME "bfi_render"
__attribute__((visibility("default"))) bf_status
bfi_render(const bf_report_page *page, int n_pages, int width_px, bf_report_write write, void *to, char *why);

#endif
