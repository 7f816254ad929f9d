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

static RsvgHandle *open_picture(const char *svg, size_t n, GError **error) {
    RsvgHandle *handle = rsvg_handle_new_from_data((const guint8 *)svg, n, error);
    if (!handle) return NULL;
    /* One unit of the output is a point, 1/72 inch. */
    rsvg_handle_set_dpi(handle, 72);
    if (rsvg_handle_set_stylesheet(handle, (const guint8 *)bf_picture_css, strlen(bf_picture_css), error))
        return handle;
    g_object_unref(handle);
    return NULL;
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

static bf_status render_pdf(RsvgHandle *handle, double width, double height, sink *out, char *why) {
    cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(pass_on, out, width, height);
    /* No date, so that the same picture gives the same bytes. */
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
    bf_status status = draw(handle, surface, width, height, why);
    cairo_surface_finish(surface);
    if (!status) status = status_of(cairo_surface_status(surface), why);
    cairo_surface_destroy(surface);
    return status;
}

static bf_status render_png(RsvgHandle *handle, double width, double height, sink *out, char *why) {
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)width, (int)height);
    bf_status status = draw(handle, surface, width, height, why);
    if (!status) status = status_of(cairo_surface_write_to_png_stream(surface, pass_on, out), why);
    cairo_surface_destroy(surface);
    return status;
}

bf_status bfi_render(const char *svg, size_t n, int width_px, bf_report_write write, void *to, char *why) {
    GError *error = NULL;
    RsvgHandle *handle = open_picture(svg, n, &error);
    if (!handle) {
        snprintf(why, BF_REPORT_WHY_BYTES, "the picture cannot be read: %s", error->message);
        g_error_free(error);
        return BF_E_SYNTAX;
    }
    sink out = {write, to};
    double width, height;
    bf_status status;
    if (!rsvg_handle_get_intrinsic_size_in_pixels(handle, &width, &height) || !(width > 0) || !(height > 0)) {
        snprintf(why, BF_REPORT_WHY_BYTES, "the picture cannot be read: it does not say its size");
        status = BF_E_SYNTAX;
    } else if (width_px > 0) {
        status = render_png(handle, width_px, round(width_px * height / width), &out, why);
    } else {
        status = render_pdf(handle, width, height, &out, why);
    }
    g_object_unref(handle);
    return status;
}
