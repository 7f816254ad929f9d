/* A picture with its stylesheet inside. */
#include <string.h>

#include "baitfall/picture.h"
#include "core/picture/svg.h"

bf_status bf_picture_with_style(const char *svg, size_t n, char *out, size_t most, size_t *n_out) {
    *n_out = 0;
    bfi_pen pen = bfi_pen_open(out, most);
    /* The sheet goes right behind the root's opening tag, whose attribute values hold no '>'. */
    const char *end_of_tag = n > 4 && memcmp(svg, "<svg", 4) == 0 ? memchr(svg, '>', n) : NULL;
    if (!end_of_tag) return BF_E_SYNTAX;
    size_t n_tag = (size_t)(end_of_tag - svg) + 1;
    bfi_put_bytes(&pen, svg, n_tag);
    bfi_put(&pen, "\n<style>\n");
    bfi_put(&pen, bf_picture_css);
    bfi_put(&pen, "</style>");
    bfi_put_bytes(&pen, svg + n_tag, n - n_tag);
    if (pen.is_short) {
        out[0] = 0;
        return BF_E_SPACE;
    }
    *n_out = pen.n;
    return BF_OK;
}
