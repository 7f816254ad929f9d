/* The module: SVG to PDF and PNG with librsvg and cairo. */
#include "report/render.h"

#include <librsvg/rsvg.h>

#include <cairo-pdf.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "baitfall/picture.h"

/* Where the bytes go, as cairo calls for them. */
typedef struct sink {
    bf_report_write write;
    void *to;
} sink;

static cairo_status_t pass_on(void *closure, const unsigned char *bytes, unsigned int n) {
    const sink *out = closure;
    return out->write(out->to, bytes, n) == 0 ? CAIRO_STATUS_SUCCESS : CAIRO_STATUS_WRITE_ERROR;
}

static bf_status cannot_read(GError *error, char *why) {
    snprintf(why, BF_REPORT_WHY_BYTES, "the picture cannot be read: %s",
             error ? error->message : "it does not say its size");
    if (error) g_error_free(error);
    return BF_E_SYNTAX;
}

/* A picture in the renderer's hands, and its size: one unit of the output is a point, 1/72 inch. */
typedef struct sheet {
    RsvgHandle *handle;
    double width, height;
} sheet;

/* On BF_OK the caller unrefs sheet->handle. */
static bf_status open_sheet(const bf_report_page *page, sheet *opened, char *why) {
    GError *error = NULL;
    opened->handle = rsvg_handle_new_from_data((const guint8 *)page->svg, page->n, &error);
    if (!opened->handle) return cannot_read(error, why);
    rsvg_handle_set_dpi(opened->handle, 72);
    int is_fine = rsvg_handle_set_stylesheet(opened->handle, (const guint8 *)bf_picture_css,
                                             strlen(bf_picture_css), &error) &&
                  rsvg_handle_get_intrinsic_size_in_pixels(opened->handle, &opened->width, &opened->height) &&
                  opened->width > 0 && opened->height > 0;
    if (is_fine) return BF_OK;
    g_object_unref(opened->handle);
    return cannot_read(error, why);
}

static bf_status status_of(cairo_status_t status, char *why) {
    if (status == CAIRO_STATUS_SUCCESS) return BF_OK;
    snprintf(why, BF_REPORT_WHY_BYTES, "the picture could not be written: %s",
             cairo_status_to_string(status));
    return BF_E_SPACE;
}

/* Draws onto the surface and closes it. */
static bf_status draw(RsvgHandle *handle, cairo_surface_t *surface, double width, double height, char *why) {
    GError *error = NULL;
    cairo_t *cairo = cairo_create(surface);
    RsvgRectangle page = {0, 0, width, height};
    gboolean is_drawn = rsvg_handle_render_document(handle, cairo, &page, &error);
    cairo_destroy(cairo);
    if (is_drawn) return BF_OK;
    snprintf(why, BF_REPORT_WHY_BYTES, "the picture could not be drawn: %s", error->message);
    g_error_free(error);
    return BF_E_SYNTAX;
}

static bf_status add_page(const bf_report_page *page, cairo_surface_t *surface, char *why) {
    sheet opened;
    bf_status status = open_sheet(page, &opened, why);
    if (status) return status;
    cairo_pdf_surface_set_size(surface, opened.width, opened.height);
    status = draw(opened.handle, surface, opened.width, opened.height, why);
    cairo_surface_show_page(surface);
    g_object_unref(opened.handle);
    return status;
}

/* Nothing is written of a document with a page that cannot be read. */
static bf_status check_pages(const bf_report_page *page, int n_pages, char *why) {
    bf_status status = BF_OK;
    for (int k = 0; k < n_pages && !status; k++) {
        sheet opened;
        status = open_sheet(&page[k], &opened, why);
        if (!status) g_object_unref(opened.handle);
    }
    return status;
}

static bf_status render_pdf(const bf_report_page *page, int n_pages, sink *out, char *why) {
    bf_status status = check_pages(page, n_pages, why);
    if (status) return status;
    cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(pass_on, out, 1, 1);
    /* No date, so that the same picture gives the same bytes. */
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
    for (int k = 0; k < n_pages && !status; k++) status = add_page(&page[k], surface, why);
    cairo_surface_finish(surface);
    if (!status) status = status_of(cairo_surface_status(surface), why);
    cairo_surface_destroy(surface);
    return status;
}

static bf_status render_png(const bf_report_page *page, int width_px, sink *out, char *why) {
    sheet opened;
    bf_status status = open_sheet(page, &opened, why);
    if (status) return status;
    double height_px = round(width_px * opened.height / opened.width);
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, width_px, (int)height_px);
    status = draw(opened.handle, surface, width_px, height_px, why);
    if (!status) status = status_of(cairo_surface_write_to_png_stream(surface, pass_on, out), why);
    cairo_surface_destroy(surface);
    g_object_unref(opened.handle);
    return status;
}

bf_status bfi_render(const bf_report_page *page, int n_pages, int width_px, bf_report_write write, void *to,
                     char *why) {
    sink out = {write, to};
    return width_px > 0 ? render_png(page, width_px, &out, why) : render_pdf(page, n_pages, &out, why);
}
