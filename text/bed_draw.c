/* bed_draw.c -- the pictures of the bed account. */
#include <math.h>

#include "text/bedded.h"

#define WIDE_MM 80.0 /* of a phone */

typedef struct drawing {
    bf_bed_view view;
    bf_bed_feed feed[BF_BED_MOST_FEEDS];
    bf_picture picture;
    char svg[BF_BED_SVG_BYTES];
} drawing;

size_t bfi_bed_draw_bytes(void) {
    return sizeof(drawing);
}

static void look_at(const bfi_bedded *b, drawing *d) {
    int n = b->n_puts < BF_BED_MOST_FEEDS ? b->n_puts : BF_BED_MOST_FEEDS;
    d->view = (bf_bed_view){.look = b->look,
                            .width_mm = WIDE_MM,
                            .bed = &b->bed,
                            .start_ms = b->begins_ms,
                            .east_min = b->session->east_min,
                            .span_s = BFI_BED_SPAN_S,
                            .n_feeds = n,
                            .feed = d->feed,
                            .miss_m = b->scene.spot[b->job.spot].miss_m};
    for (int i = 0; i < n; i++) {
        const bfi_bed_put *put = &b->puts[b->n_puts - n + i];
        d->feed[i] = (bf_bed_feed){bfi_bed_ms(b, put->t_s), put->pieces};
    }
}

void bfi_json_bed_pictures(bfi_json *out, bfi_bedded *b) {
    static const struct {
        const char *key;
        bf_status (*draw)(const bf_bed_view *, char *, size_t, bf_picture *);
    } pictures[BFI_BED_N_PICTURES] = {[BFI_BED_LEFT] = {"left", bf_picture_bed_left},
                                      [BFI_BED_FISH] = {"fish", bf_picture_bed_fish},
                                      [BFI_BED_ABOVE] = {"above", bf_picture_bed_above}};
    drawing *d = b->spare;
    int is_drawable = !isnan(b->bed.left.mid), n = 0;
    b->is_not_drawn = 0;
    for (int i = 0; i < BFI_BED_N_PICTURES; i++) n += b->wants[i];
    if (n == 0) return;
    bfi_json_key(out, "pictures");
    bfi_json_object(out);
    look_at(b, d);
    for (int i = 0; is_drawable && i < BFI_BED_N_PICTURES; i++) {
        if (!b->wants[i]) continue;
        bf_status status = pictures[i].draw(&d->view, d->svg, sizeof d->svg, &d->picture);
        if (status)
            b->is_not_drawn = 1; // numbers beyond what can be drawn
        else
            bfi_json_picture(out, pictures[i].key, d->svg, &d->picture);
    }
    bfi_json_close(out);
}
