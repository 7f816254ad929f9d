/* aim_fit.c -- see aim.h: the rig solved at 64 well spread conditions, and the draws between them sketched. */
#include <string.h>

#include "baitfall/elementary.h"
#include "core/tackle/hang.h"
#include "core/tackle/rest.h"
#include "core/tackle/sketch.h"

/* Conditions ----------------------------------------------------------------------------------------------- */

/* Quantities of a stand that move its bait, those that move it most first. */
static const size_t moves_bait[] = {
#define AT(member) offsetof(bf_stand, member)
    AT(scene.lake.wind_m_s),
    AT(hold.tip_height_m),
    AT(hold.overdepth_m),
    AT(scene.lake.skin_frac),
    AT(scene.lake.surface_drift_m_s),
    AT(scene.lake.wind_side_deg),
    AT(scene.lake.drift_side_deg),
    AT(scene.lake.skin_m),
    AT(scene.lake.mixing_frac),
    AT(scene.lake.undertow_m_s),
    AT(scene.spot.depth_m),
    AT(hold.near_bed_frac),
    AT(hold.friction_frac),
    AT(hold.line_drag_error),
    AT(hook_bait.density_kg_m3),
    AT(hook_bait.diameter_m),
    AT(hook_bait.length_m),
    AT(rig.shot_error),
    AT(rig.flt.capacity_frac),
    AT(scene.spot.slope_deg),
    AT(hook_bait.drag_law_error),
    AT(rig.flt.meets_deg),
    AT(scene.lake.temp_c),
    AT(scene.lake.fetch_m),
    AT(rig.dotted_m),
#undef AT
};
#define N_MOVES ((int)(sizeof moves_bait / sizeof moves_bait[0]))

/* Generators of a digital net in base 2 (H. Niederreiter 1992): bit b of the point's number adds net[d][b] by exclusive
 * or, in 64ths; shift[d] is added to all. Each coordinate meets every 64th once. Found by a random search for a small
 * largest discrepancy and correlation of any two coordinates: no correlation is above 0.21, of the first sixteen 0.07. */
static const unsigned char net[N_MOVES][6] = {
    {32, 16, 8, 4, 2, 1},     {32, 16, 40, 44, 26, 63}, {32, 16, 8, 60, 22, 57},  {32, 16, 40, 52, 38, 63},
    {32, 48, 24, 60, 30, 51}, {32, 48, 56, 52, 10, 23}, {32, 48, 40, 60, 22, 37}, {32, 16, 56, 28, 18, 45},
    {32, 48, 56, 4, 26, 49},  {32, 48, 24, 36, 14, 13}, {32, 48, 40, 12, 30, 11}, {32, 16, 24, 20, 46, 35},
    {32, 16, 56, 44, 46, 19}, {32, 16, 8, 44, 42, 63},  {32, 16, 24, 36, 22, 7},  {32, 16, 8, 52, 38, 1},
    {32, 48, 40, 12, 38, 37}, {32, 48, 24, 4, 14, 55},  {32, 48, 24, 4, 38, 63},  {32, 48, 24, 60, 46, 5},
    {32, 16, 8, 4, 30, 57},   {32, 16, 8, 20, 50, 13},  {32, 16, 56, 52, 2, 7},   {32, 48, 40, 52, 34, 55},
    {32, 16, 56, 4, 14, 13},
};

/* Coordinate d of point i, in (0, 1). */
static double net_at(int i, int d) {
    unsigned x = 37u * (unsigned)(d + 1) % 64;
    for (int b = 0; b < 6; b++)
        if (i >> b & 1) x ^= net[d][b];
    return (x + 0.5) / BF_AIM_SOLVES;
}

/* The quantities that do vary, each with its own coordinate of the net. */
typedef struct varied {
    int n;
    int coordinate[N_MOVES];
    bf_sampler sampler[N_MOVES];
} varied;

static void note_varied(varied *v, size_t offset, const bf_field *field, const bf_quantity *quantity) {
    for (int d = 0; d < N_MOVES; d++) {
        if (moves_bait[d] != offset) continue;
        v->coordinate[v->n] = d;
        v->sampler[v->n++] =
            bf_sampler_of(*quantity, field->least, field->most, field->usual_least, field->usual_most);
    }
}

static varied varied_of(const bf_stand *stand) {
    bf_ensemble ensemble = {.schema = &bf_rig_schema, .record = stand};
    bf_input input[BF_MOST_INPUTS];
    varied v = {0};
    int n = bf_ensemble_inputs(&ensemble, input);
    for (int i = 0; i < n; i++) {
        const bf_section *section = &bf_rig_schema.section[input[i].section];
        const bf_field *field = &section->table->field[input[i].field];
        const char *row = bf_section_row_const(section, stand, input[i].row);
        const void *quantity = row + field->offset;
        note_varied(&v, (size_t)((const char *)quantity - (const char *)stand), field, quantity);
    }
    return v;
}

/* Condition i of the net. */
static void set(const varied *v, int i, bf_stand *stand) {
    for (int k = 0; k < v->n; k++) {
        int d = v->coordinate[k];
        bf_quantity *quantity = (void *)((char *)stand + moves_bait[d]);
        quantity->value = bf_sampler_at(&v->sampler[k], net_at(i, d));
    }
}

/* Solved --------------------------------------------------------------------------------------------------- */

bf_status bfi_hang_solved(const bf_stand *stand, double bait_m[2]) {
    bf_rig_shape shape;
    bf_status status = bf_rig_solve(stand, 1, 0, &shape);
    bait_m[0] = shape.bait_m[0];
    bait_m[1] = shape.bait_m[1];
    return status;
}

void bfi_hang_solve(const bf_stand *stand, int i, bf_aim_solved *one) {
    varied v = varied_of(stand);
    bf_stand at = *stand;
    bfi_rigging rigging;
    bfi_rest rest;
    set(&v, i, &at);
    bf_status status = bfi_rest_in(&at, 1, 0, &rigging, &rest);
    *one = (bf_aim_solved){(double)status, BF_NAN, BF_NAN};
    if (status) return;
    one->out_m = rest.bait_m[0];
    one->right_m = rest.bait_m[1];
}

/* Sketched ------------------------------------------------------------------------------------------------- */

/* What the solves have beyond their sketches. */
typedef struct beyond {
    int n, is_held[BF_AIM_SOLVES];
    double along_m[BF_AIM_SOLVES], across_m[BF_AIM_SOLVES]; /* of the wind */
} beyond;

/* A smaller part with an answer is no ground for a fit. */
#define LEAST_SOLVED 0.25

static bf_status sketch_all(const bf_stand *stand, const varied *v, const bf_aim_solved solves[],
                            int n_solves, bf_aim_fit *fit, beyond *all) {
    bf_stand at = *stand;
    bf_status failed = BF_OK;
    for (int i = 0; i < n_solves; i++) {
        bfi_rigging rigging;
        bfi_sketched sketched;
        if (solves[i].status != 0) {
            failed = (bf_status)solves[i].status;
            continue;
        }
        fit->n++;
        set(v, i, &at);
        if (bfi_rigging_of(&at, 1, 0, &rigging) || bfi_sketch(&rigging, &sketched))
            continue; /* such a draw is solved */
        double x = solves[i].out_m - sketched.bait_m[0], y = solves[i].right_m - sketched.bait_m[1];
        all->is_held[all->n] = sketched.is_held;
        all->along_m[all->n] = sketched.cosine * x + sketched.sine * y;
        all->across_m[all->n++] = sketched.cosine * y - sketched.sine * x;
    }
    fit->n_failed = n_solves - fit->n;
    return fit->n < LEAST_SOLVED * n_solves ? failed : BF_OK;
}

/* The middle of what solves of one kind, held or not, have beyond their sketches, one of them left out (-1: none); 0 without any. */
static double middle_beyond(const beyond *all, int is_held, int left_out) {
    double along_m[BF_AIM_SOLVES];
    int n = 0;
    for (int i = 0; i < all->n; i++)
        if (i != left_out && all->is_held[i] == is_held) along_m[n++] = all->along_m[i];
    bf_sort(along_m, (size_t)n);
    return n > 0 ? bf_quantile_sorted(along_m, (size_t)n, 0.5) : 0;
}

static bf_status put_right(const bf_stand *stand, const bf_aim_solved solves[], int n_solves,
                           bf_aim_fit *fit) {
    varied v = varied_of(stand);
    beyond all = {0};
    double off_m[BF_AIM_SOLVES];
    bf_status status = sketch_all(stand, &v, solves, n_solves, fit, &all);
    if (status) return status;
    for (int i = 0; i < all.n; i++)
        off_m[i] = bf_hypot(all.along_m[i] - middle_beyond(&all, all.is_held[i], i), all.across_m[i]);
    bf_sort(off_m, (size_t)all.n);
    fit->error_m = all.n > 0 ? bf_quantile_sorted(off_m, (size_t)all.n, 0.95) : 0;
    for (int is_held = 0; is_held < 2; is_held++) fit->beyond_m[is_held] = middle_beyond(&all, is_held, -1);
    return BF_OK;
}

/* The whole ------------------------------------------------------------------------------------------------ */

bf_status bfi_hang_fit_of(const bf_stand *stand, const bf_aim_solved solves[], int n_solves,
                          bf_aim_fit *fit) {
    memset(fit, 0, sizeof *fit);
    bf_status status = put_right(stand, solves, n_solves, fit);
    if (status) memset(fit, 0, sizeof *fit);
    return status;
}

bf_status bfi_hang_fit(const bf_stand *stand, int n_solves, bf_aim_fit *fit) {
    bf_aim_solved solves[BF_AIM_SOLVES];
    for (int i = 0; i < n_solves; i++) bfi_hang_solve(stand, i, &solves[i]);
    return bfi_hang_fit_of(stand, solves, n_solves, fit);
}

void bfi_hang_fitted(const bf_aim_fit *fit, const bf_stand *stand, double bait_m[2]) {
    bfi_rigging rigging;
    bfi_sketched sketched;
    if (bfi_rigging_of(stand, 1, 0, &rigging) || bfi_sketch(&rigging, &sketched)) {
        if (bfi_hang_solved(stand, bait_m)) bait_m[0] = bait_m[1] = BF_NAN;
        return;
    }
    double along_m = fit->beyond_m[sketched.is_held];
    bait_m[0] = sketched.bait_m[0] + sketched.cosine * along_m;
    bait_m[1] = sketched.bait_m[1] + sketched.sine * along_m;
}
