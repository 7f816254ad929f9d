/* The program's side: loads the renderer when it is first asked for a picture. */
#define _POSIX_C_SOURCE 200809L
#include "baitfall/report.h"

#include <dlfcn.h>
#include <stdio.h>
#include <string.h>
#include <sys/types.h>
#include <unistd.h>

#include "report/render.h"

/* From the folder of the program: in a build, and installed. */
static const char *const places[] = {"baitfall_report.so", "../lib/baitfall/baitfall_report.so"};

/* Path of places[k] into path[most]; 0 when it does not fit. */
static int find_place(int k, char *path, size_t most) {
    ssize_t n = readlink("/proc/self/exe", path, most - 1);
    if (n < 0) return 0;
    path[n] = 0;
    char *name = strrchr(path, '/') + 1;
    size_t room = most - (size_t)(name - path);
    return (size_t)snprintf(name, room, "%s", places[k]) < room;
}

static bfi_render_function load(char *why) {
    snprintf(why, BF_REPORT_WHY_BYTES, "the picture renderer baitfall_report.so is not beside the program");
    for (int k = 0; k < 2; k++) {
        char path[4096];
        if (!find_place(k, path, sizeof path) || access(path, R_OK) != 0) continue;
        void *module = dlopen(path, RTLD_NOW | RTLD_LOCAL);
        void *symbol = module ? dlsym(module, BFI_RENDER_NAME) : NULL;
        if (!symbol) {
            snprintf(why, BF_REPORT_WHY_BYTES, "the picture renderer cannot be loaded: %s", dlerror());
            return NULL;
        }
        /* POSIX lets an object pointer from dlsym stand for a function; C only through its bytes. */
        bfi_render_function render;
        memcpy(&render, &symbol, sizeof render);
        return render;
    }
    return NULL;
}

static bf_status render(const bf_report_page *page, int n_pages, int width_px, bf_report_write write,
                        void *to, char *why) {
    bfi_render_function function = load(why);
    if (!function) return BF_E_MISSING;
    why[0] = 0;
    return function(page, n_pages, width_px, write, to, why);
}

bf_status bf_report_pdf(const char *svg, size_t n, bf_report_write write, void *to, char *why) {
    return render(&(bf_report_page){svg, n}, 1, 0, write, to, why);
}

bf_status bf_report_pdf_pages(const bf_report_page *page, int n_pages, bf_report_write write, void *to,
                              char *why) {
    if (n_pages < 1 || n_pages > BF_REPORT_MOST_PAGES) {
        snprintf(why, BF_REPORT_WHY_BYTES, "%d pages; accepted is 1 to %d", n_pages, BF_REPORT_MOST_PAGES);
        return BF_E_COUNT;
    }
    return render(page, n_pages, 0, write, to, why);
}

bf_status bf_report_png(const char *svg, size_t n, int width_px, bf_report_write write, void *to, char *why) {
    if (width_px < BF_REPORT_LEAST_PX || width_px > BF_REPORT_MOST_PX) {
        snprintf(why, BF_REPORT_WHY_BYTES, "the width is %d px; accepted is %d to %d px", width_px,
                 BF_REPORT_LEAST_PX, BF_REPORT_MOST_PX);
        return BF_E_RANGE;
    }
    return render(&(bf_report_page){svg, n}, 1, width_px, write, to, why);
}
