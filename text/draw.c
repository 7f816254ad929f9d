/* draw.c -- the two drawings of a spread answer, from its rows. */
#include <string.h>

#include "baitfall/picture.h"
#include "baitfall/spread.h"
#include "baitfall/wind.h"
#include "core/base/room.h"
#include "text/read_parts.h"
#include "text/work.h"

/* ---- What the request asks for ---- */

const bfi_see bfi_command_sees[] = {
    {"above", BFI_SEE_ABOVE}, {"side", BFI_SEE_SIDE}, {"section", BFI_SEE_SECTION}, {NULL, 0}};

#define SEES_MOST 8

static bf_status read_look(bfi_work *work, int *look) {
    static const char *const looks[] = {"shade", "sun", "dusk", NULL};
    static const int look_of[] = {BF_LOOK_SHADE, BF_LOOK_SUN, BF_LOOK_DUSK};
    int value = bfi_option(work, "look"), choice = 0;
    *look = BF_LOOK_OPEN;
    if (value < 0) return BF_OK;
    bf_status status = bfi_read_choice(&work->json, value, "look", looks, &choice, &work->error);
    if (!status) *look = look_of[choice];
    return status;
}

bf_status bfi_read_pictures(bfi_work *work, const bfi_see *sees, bfi_wanted *wanted) {
    const char *words[SEES_MOST] = {0};
    int value = bfi_option(work, "pictures"), choice;
    *wanted = (bfi_wanted){BF_LOOK_OPEN, 0};
    bf_status status = read_look(work, &wanted->look);
    if (status || value < 0) return status;
    for (int i = 0; sees[i].word; i++) {
        BF_ASSERT(i + 1 < SEES_MOST);
        words[i] = sees[i].word;
    }
    if (bf_json_kind_of(&work->json, value) != BF_JSON_ARRAY) {
        char accepted[128];
        bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
        bfi_put(&pen, "an array of ");
        bfi_put_words(&pen, words);
        return bfi_fail(&work->error, BF_E_TYPE, "pictures", &work->json, value, accepted);
    }
    for (int i = bf_json_first(&work->json, value); i >= 0; i = bf_json_next(&work->json, i)) {
        status = bfi_read_choice(&work->json, i, "pictures", words, &choice, &work->error);
        if (status) return status;
        wanted->pictures |= sees[choice].bit;
    }
    return BF_OK;
}

/* ---- Memory for drawing, in work->spare ---- */

#define DRAWS_MOST 2048 /* draws that the map is made of: 32768 pieces are plenty */
#define POINTS_MOST ((size_t)DRAWS_MOST * BF_SPREAD_RAW_PIECES)
#define SVG_MOST 131072

typedef struct drawing {
    double x_m[DRAWS_MOST * BF_SPREAD_RAW_PIECES], y_m[DRAWS_MOST * BF_SPREAD_RAW_PIECES];
    double density[BF_LANDING_MOST_CELLS];
    char svg[SVG_MOST];
    bf_above_view above;
    bf_side_view side;
    bf_picture picture;
    bf_labels labels;
} drawing;

static size_t larger(size_t a, size_t b) {
    return a > b ? a : b;
}

size_t bfi_draw_bytes(const bf_command *command) {
    if (!command->n_raw) return 0;
    return bfi_room(sizeof(drawing)) +
           larger(bf_landing_map_work_bytes(POINTS_MOST), bf_picture_work_bytes());
}

static void *behind(void *spare) {
    return (char *)spare + bfi_room(sizeof(drawing));
}

/* ---- Words ---- */

static void label(bf_label *to, const char *text) {
    bfi_cut(to->text, sizeof to->text, text, strlen(text));
}

static int output_index(const bf_table *out, const char *name) {
    for (int i = 0; i < out->n_fields; i++)
        if (strcmp(out->field[i].name, name) == 0) return i;
    return -1;
}

/* "1.5 m", or with its range. */
static bf_range range_of(bf_quantity q) {
    return (bf_range){q.value, q.value, q.value - q.pm, q.value + q.pm};
}

static void fill_labels(const bfi_work *work, const bf_scene *scene, const bf_ensemble_result *result,
                        bf_labels *labels) {
    const bf_table *out = work->command->out;
    int first = output_index(out, "first_s"), last = output_index(out, "last_s"),
        wide = output_index(out, "wide_m");
    char text[BF_SAY_MOST];
    BF_ASSERT(first >= 0 && last >= 0 && wide >= 0);
    *labels = (bf_labels){{""}, {""}, {""}, {""}};
    label(&labels->bait,
          bf_bait_name(bfi_name_of(&work->names, bfi_first_section(work->command->in, "bait"), 0)));
    bf_say_range(result->range[last], BF_TIME, text);
    label(&labels->time, text);
    bf_say_range(result->range[wide], BF_LENGTH, text);
    label(&labels->wide, text);
    bf_say_range(range_of(scene->spot.depth_m), BF_LENGTH, text);
    label(&labels->depth, text);
}

/* ---- Views ---- */

void bfi_json_picture(bfi_json *out, const char *key, const char *svg, const bf_picture *picture) {
    bfi_json_key(out, key);
    bfi_json_object(out);
    bfi_json_key_text(out, "svg", svg);
    bfi_json_key_text(out, "finding", picture->finding);
    bfi_json_key(out, "table");
    bfi_json_array(out);
    for (int i = 0; i < picture->n_rows; i++) {
        bfi_json_array(out);
        bfi_json_text(out, picture->cell[i][0]);
        bfi_json_text(out, picture->cell[i][1]);
        bfi_json_close(out);
    }
    bfi_json_close(out);
    bfi_json_close(out);
}

/* Whether it is known which way the skin of the water goes. */
int bfi_is_drift_known(const bf_lake *lake) {
    switch (lake->drift) {
    case BF_DRIFT_WIND: return !lake->wind_side_deg.is_unknown;
    case BF_DRIFT_MEASURED: return !lake->drift_side_deg.is_unknown;
    default: return 0;
    }
}

bf_status bfi_see_above(const bf_scene *scene, const double *x_m, const double *y_m, size_t n, void *memory,
                        double *density, bf_above_view *view) {
    bf_landing_map map;
    bf_current current;
    bf_status status = bf_landing_map_of(x_m, y_m, n, memory, density, &map);
    if (!status) status = bf_current_of(&scene->lake, scene->spot.depth_m.value, &current);
    if (status) return status;
    *view = (bf_above_view){.nx = map.nx,
                            .ny = map.ny,
                            .cell_m = map.cell_m,
                            .origin_x_m = map.origin_x_m,
                            .origin_y_m = map.origin_y_m,
                            .level50 = map.level50_per_m2,
                            .level90 = map.level90_per_m2,
                            .how = scene->put.how};
    if (bfi_is_drift_known(&scene->lake)) bf_current_at(&current, 0, &view->drift_x_m_s, &view->drift_y_m_s);
    return BF_OK;
}

static bf_status draw_above(bfi_work *work, const bf_scene *scene, drawing *d, size_t n, int look,
                            bfi_json *out) {
    bf_status status = bfi_see_above(scene, d->x_m, d->y_m, n, behind(work->spare), d->density, &d->above);
    if (status) return status;
    d->above.look = look;
    d->above.hook_share_frac = bf_landing_share(d->x_m, d->y_m, n, 0, 0, BF_HOOK_RING_M);
    status = bf_picture_above(&d->above, d->density, &d->labels, behind(work->spare), d->svg, SVG_MOST,
                              &d->picture);
    if (!status) bfi_json_picture(out, "above", d->svg, &d->picture);
    return status;
}

/* The path counts from its release, the pieces from the point meant: it is moved to end in their middle. */
static void end_path_at(bf_side_view *view, double middle_x_m) {
    double by_m = middle_x_m - view->step_x_m[view->n_steps - 1];
    for (int i = 0; i < view->n_steps; i++) view->step_x_m[i] += by_m;
}

static bf_status draw_side(const bf_scene *scene, drawing *d, size_t n, int look, bfi_json *out) {
    bf_quantity depth = scene->spot.depth_m;
    bf_side_view *view = &d->side;
    *view = (bf_side_view){.look = look,
                           .distance_m = scene->spot.distance_m.value,
                           .depth_m = depth.value,
                           .depth_lo_m = depth.value - depth.pm,
                           .depth_hi_m = depth.value + depth.pm,
                           .slope_deg = scene->spot.slope_deg.value,
                           .bottom = scene->spot.bottom,
                           .how = scene->put.how,
                           .n_steps = 32};
    if (view->depth_lo_m < depth.value / 2)
        view->depth_lo_m = depth.value / 2; // the drawing needs water under it
    bf_status status = bf_spread_path(scene, view->n_steps, view->step_s, view->step_x_m, view->step_z_m);
    if (status) return status;
    view->n_pieces = n < BF_SIDE_MOST_PIECES ? (int)n : BF_SIDE_MOST_PIECES;
    for (int i = 0; i < view->n_pieces; i++)
        view->piece_x_m[i] = d->x_m[(size_t)i * n / (size_t)view->n_pieces];
    bf_sort(d->x_m, n);
    view->wide_lo_x_m = bf_quantile_sorted(d->x_m, n, 0.05);
    view->wide_hi_x_m = bf_quantile_sorted(d->x_m, n, 0.95);
    end_path_at(view, bf_quantile_sorted(d->x_m, n, 0.5));
    status = bf_picture_side(view, &d->labels, d->svg, SVG_MOST, &d->picture);
    if (!status) bfi_json_picture(out, "side", d->svg, &d->picture);
    return status;
}

bf_status bfi_json_pictures(bfi_work *work, const bf_ensemble *ensemble, const double *rows,
                            const bf_ensemble_result *result, bfi_json *out) {
    bfi_wanted wanted;
    const bf_scene *scene = ensemble->record;
    drawing *d = work->spare;
    bf_status status = bfi_read_pictures(work, bfi_command_sees, &wanted);
    if (status || !ensemble->n_raw || !(wanted.pictures & (BFI_SEE_ABOVE | BFI_SEE_SIDE))) return status;
    size_t n_rows = (size_t)(ensemble->n_draws < DRAWS_MOST ? ensemble->n_draws : DRAWS_MOST);
    size_t n = bf_spread_points(rows, n_rows, d->x_m, d->y_m);
    fill_labels(work, scene, result, &d->labels);
    bfi_json_key(out, "pictures");
    bfi_json_object(out);
    if (wanted.pictures & BFI_SEE_ABOVE) status = draw_above(work, scene, d, n, wanted.look, out);
    if (!status && wanted.pictures & BFI_SEE_SIDE)
        status = draw_side(scene, d, n, wanted.look, out); // sorts the points: last
    if (status) return bfi_fail(&work->error, status, "pictures", &work->json, -1, "");
    bfi_json_close(out);
    return BF_OK;
}
