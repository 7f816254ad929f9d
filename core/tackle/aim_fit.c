/* aim_fit.c -- see aim.h: the rig solved at 64 well spread conditions, and what lies between them. */
#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/fall.h"
#include "core/tackle/between.h"
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

/* What the fit sees ---------------------------------------------------------------------------------------- */

/* Everything is seen along the wind, or along the drift where that was measured: turned together, wind, drift and slope
 * turn the answer, so that a direction that is not known costs the fit nothing. */
enum {
    SEES_WIND,
    SEES_WIND_ACROSS,
    SEES_REACH,
    SEES_OVERDEPTH,
    SEES_DEPTH,
    SEES_DRIFT,
    SEES_SKIN,
    SEES_RETURN,
    SEES_NEAR_BED,
    SEES_GRIP,
    SEES_LINE_DRAG,
    SEES_BAIT_WEIGHT,
    SEES_BAIT_SIZE,
    SEES_BAIT_DRAG,
    SEES_SHOT,
    SEES_RIDES,
    SEES_MEETS,
    SEES_SLOPE_ALONG,
    SEES_SLOPE_ACROSS,
    SEES_TEMP,
    SEES_FETCH,
    N_SEES
};
_Static_assert(N_SEES < BF_AIM_FIT_MOST, "the fit has room for what it sees");

typedef struct sight {
    double cosine, sine; /* of the direction it is seen along */
    double seen[N_SEES];
} sight;

/* How far the float can swing from under the tip: half of what makes the hang bend. */
static double reach_m(const bf_stand *stand) {
    double length = stand->rig.tip_to_float_m, height = stand->hold.tip_height_m.value;
    return length > height ? sqrt(length * length - height * height) : 0;
}

static void see_water(const bf_lake *lake, sight *s) {
    int is_measured = lake->drift == BF_DRIFT_MEASURED;
    double wind = lake->wind_side_deg.value * BF_RAD_PER_DEG;
    double along = is_measured ? lake->drift_side_deg.value * BF_RAD_PER_DEG : wind;
    s->cosine = bf_cos(along);
    s->sine = bf_sin(along);
    s->seen[SEES_WIND] = lake->wind_m_s.value * bf_cos(wind - along);
    s->seen[SEES_WIND_ACROSS] = is_measured ? lake->wind_m_s.value * bf_sin(wind - along) : 0;
    s->seen[SEES_DRIFT] = is_measured ? lake->surface_drift_m_s.value : lake->skin_frac.value;
    s->seen[SEES_SKIN] = lake->skin_m.value;
    s->seen[SEES_RETURN] = is_measured ? lake->undertow_m_s.value : lake->mixing_frac.value;
    s->seen[SEES_TEMP] = lake->temp_c.value;
    s->seen[SEES_FETCH] = lake->fetch_m.value;
}

/* Near enough: the temperature is seen by itself. */
#define WATER_KG_M3 1000.0

static void see_bait(const bf_stand *stand, sight *s) {
    const bf_bait *bait = &stand->hook_bait;
    double volume = bf_piece_volume_m3(bait->form, bait->diameter_m.value, bait->length_m.value);
    double weight = volume * (bait->density_kg_m3.value - WATER_KG_M3);
    s->seen[SEES_BAIT_WEIGHT] = weight;
    s->seen[SEES_GRIP] = weight * stand->hold.friction_frac.value;
    s->seen[SEES_BAIT_SIZE] = bait->diameter_m.value;
    s->seen[SEES_BAIT_DRAG] = bait->drag_law_error.value;
}

static sight look(const bf_stand *stand) {
    double slope = bf_tan(stand->scene.spot.slope_deg.value * BF_RAD_PER_DEG);
    sight s;
    see_water(&stand->scene.lake, &s);
    see_bait(stand, &s);
    s.seen[SEES_REACH] = reach_m(stand);
    s.seen[SEES_OVERDEPTH] = stand->hold.overdepth_m.value;
    s.seen[SEES_DEPTH] = stand->scene.spot.depth_m.value;
    s.seen[SEES_NEAR_BED] = stand->hold.near_bed_frac.value;
    s.seen[SEES_LINE_DRAG] = stand->hold.line_drag_error.value;
    s.seen[SEES_SHOT] = stand->rig.shot_error.value;
    s.seen[SEES_RIDES] = stand->rig.dotting == BF_DOTTED_BY_EYE ? stand->rig.dotted_m.value
                                                                : stand->rig.flt.capacity_frac.value;
    s.seen[SEES_MEETS] = stand->rig.flt.meets_deg.value;
    s.seen[SEES_SLOPE_ALONG] = slope * s.cosine;
    s.seen[SEES_SLOPE_ACROSS] = -slope * s.sine;
    return s;
}

/* Half the width of what was tried, on either side: as far as the fit is followed beyond it. */
#define MARGIN 0.5

/* What of it does differ between the solves. */
static void choose_inputs(bf_aim_fit *fit, const double seen[][N_SEES], int n) {
    for (int k = 0; k < N_SEES; k++) {
        double least = seen[0][k], most = seen[0][k];
        for (int i = 1; i < n; i++) {
            least = seen[i][k] < least ? seen[i][k] : least;
            most = seen[i][k] > most ? seen[i][k] : most;
        }
        double width = most - least;
        if (width <= 1e-9 * (fabs(most) + fabs(least))) continue;
        fit->input[fit->n_inputs] = k;
        fit->least[fit->n_inputs] = least - MARGIN * width;
        fit->most[fit->n_inputs++] = most + MARGIN * width;
    }
}

static double held_between(double x, double least, double most) {
    return x < least ? least : x < most ? x : most;
}

static void pick(const bf_aim_fit *fit, const double seen[], double x[]) {
    for (int k = 0; k < fit->n_inputs; k++)
        x[k] = held_between(seen[fit->input[k]], fit->least[k], fit->most[k]);
}

/* Solved --------------------------------------------------------------------------------------------------- */

bf_status bfi_hang_solved(const bf_stand *stand, double bait_m[2]) {
    bf_rig_shape shape;
    bf_status status = bf_rig_solve(stand, 1, 0, &shape);
    bait_m[0] = shape.bait_m[0];
    bait_m[1] = shape.bait_m[1];
    return status;
}

/* The conditions that had an answer. */
typedef struct solved {
    int n, n_held;
    double seen[BF_AIM_SOLVES][N_SEES];
    double bait_m[BF_AIM_SOLVES][2]; /* along, across                                            */
    int is_held[BF_AIM_SOLVES];      /* by the bottom, where it was let down                     */
    double shows[BF_AIM_SOLVES];     /* of the bristle; below 0 it is under, above 1 the body shows */
} solved;

/* A smaller part with an answer is no ground for a fit. */
#define LEAST_SOLVED 0.25

static bf_status solve_all(const bf_stand *stand, const varied *v, int n_solves, solved *all) {
    bf_stand at = *stand;
    bf_status failed = BF_OK;
    for (int i = 0; i < n_solves; i++) {
        bf_rig_shape shape;
        set(v, i, &at);
        bf_status status = bf_rig_solve(&at, 1, 0, &shape);
        if (status) {
            failed = status;
            continue;
        }
        sight s = look(&at);
        int n = all->n++;
        memcpy(all->seen[n], s.seen, sizeof s.seen);
        all->bait_m[n][0] = s.cosine * shape.bait_m[0] + s.sine * shape.bait_m[1];
        all->bait_m[n][1] = s.cosine * shape.bait_m[1] - s.sine * shape.bait_m[0];
        all->is_held[n] = shape.contact != BF_HANGS && shape.friction_used_frac < 1;
        all->shows[n] = shape.bristle_m / at.rig.flt.bristle_long_m;
        all->n_held += all->is_held[n];
    }
    return all->n < LEAST_SOLVED * n_solves ? failed : BF_OK;
}

/* Fitted --------------------------------------------------------------------------------------------------- */

/* One of the fits, through the solves of one side or of both. */
typedef struct part {
    int n, of[BF_AIM_SOLVES]; /* which solves */
    double x[BF_AIM_SOLVES][BF_AIM_FIT_MOST], y[BF_AIM_SOLVES][2], miss[BF_AIM_SOLVES][2];
} part;

static void make(part *p, int n_inputs, bf_between *between) {
    bfi_between_make(p->n, n_inputs, (const double(*)[BF_AIM_FIT_MOST])p->x, (const double(*)[2])p->y,
                     between, p->miss);
}

static double distance(const double a[2], const double b[2]) {
    return bf_hypot(a[0] - b[0], a[1] - b[1]);
}

static void fit_state(const solved *all, bf_aim_fit *fit, part *state) {
    state->n = all->n;
    for (int i = 0; i < all->n; i++) {
        pick(fit, all->seen[i], state->x[i]);
        state->y[i][0] = fit->is_sided && all->is_held[i] ? -1 : 1;
        state->y[i][1] = held_between(all->shows[i], -1, 2);
    }
    make(state, fit->n_inputs, &fit->state);
}

/* What the float does to the hang changes with how much of its bristle shows, and not when all or none of it does. */
static void add_state(const bf_aim_fit *fit, double shows, double x[]) {
    x[fit->n_inputs] = held_between(shows, 0, 1);
}

/* The solves of one side: each with its state as the others predict it, which is how it will be used. */
static part part_of(const solved *all, const bf_aim_fit *fit, const part *state, int is_held) {
    part p = {0};
    for (int i = 0; i < all->n; i++) {
        if (fit->is_sided && all->is_held[i] != is_held) continue;
        memcpy(p.x[p.n], state->x[i], sizeof p.x[0]);
        add_state(fit, state->y[i][1] - state->miss[i][1], p.x[p.n]);
        memcpy(p.y[p.n], all->bait_m[i], sizeof p.y[0]);
        p.of[p.n++] = i;
    }
    return p;
}

/* How far one side's solves are missed: by their own fit, or, where the others would have put them on the wrong side, by
 * that side's. Returns how many. */
static int miss_side(const part *own, const bf_between *other, const part *state, int is_held,
                     double off_m[]) {
    const double none[2] = {0, 0};
    for (int j = 0; j < own->n; j++) {
        int i = own->of[j], seems_held = state->y[i][0] - state->miss[i][0] < 0;
        double wrong_m[2];
        bfi_between_at(other, own->x[j], wrong_m);
        off_m[j] = seems_held == is_held ? distance(own->miss[j], none) : distance(wrong_m, own->y[j]);
    }
    return own->n;
}

static void fit_sides(const solved *all, const part *state, bf_aim_fit *fit) {
    part loose = part_of(all, fit, state, 0), held;
    double off_m[BF_AIM_SOLVES];
    make(&loose, fit->n_inputs + 1, &fit->free);
    fit->held = fit->free;
    int n = 0;
    if (fit->is_sided) {
        held = part_of(all, fit, state, 1);
        make(&held, fit->n_inputs + 1, &fit->held);
        n = miss_side(&held, &fit->free, state, 1, off_m);
    }
    n += miss_side(&loose, &fit->held, state, 0, off_m + n);
    bf_sort(off_m, (size_t)n);
    fit->error_m = bf_quantile_sorted(off_m, (size_t)n, 0.95);
}

/* Between the solves, seen along two directions. */
static bf_status fit_between(const bf_stand *stand, const varied *v, int n_solves, bf_aim_fit *fit) {
    solved all = {0};
    part state = {0};
    bf_status status = solve_all(stand, v, n_solves, &all);
    if (status) return status;
    fit->n = all.n;
    fit->n_failed = n_solves - all.n;
    choose_inputs(fit, (const double(*)[N_SEES])all.seen, all.n);
    fit->is_sided = all.n_held >= BFI_BETWEEN_LEAST && all.n - all.n_held >= BFI_BETWEEN_LEAST;
    fit_state(&all, fit, &state);
    fit_sides(&all, &state, fit);
    return BF_OK;
}

static void hang_between(const bf_aim_fit *fit, const bf_stand *stand, double bait_m[2]) {
    sight s = look(stand);
    double x[BF_AIM_FIT_MOST], state[2], along[2];
    pick(fit, s.seen, x);
    bfi_between_at(&fit->state, x, state);
    add_state(fit, state[1], x);
    bfi_between_at(state[0] < 0 ? &fit->held : &fit->free, x, along);
    bait_m[0] = s.cosine * along[0] - s.sine * along[1];
    bait_m[1] = s.sine * along[0] + s.cosine * along[1];
}

/* Sketched ------------------------------------------------------------------------------------------------- */

/* What the solves have beyond their sketches. */
typedef struct beyond {
    int n, is_held[BF_AIM_SOLVES];
    double along_m[BF_AIM_SOLVES], across_m[BF_AIM_SOLVES]; /* of the wind */
} beyond;

static bf_status sketch_all(const bf_stand *stand, const varied *v, int n_solves, bf_aim_fit *fit,
                            beyond *all) {
    bf_stand at = *stand;
    bf_status failed = BF_OK;
    for (int i = 0; i < n_solves; i++) {
        bfi_rigging rigging;
        bfi_rest rest;
        bfi_sketched sketched;
        set(v, i, &at);
        bf_status status = bfi_rest_in(&at, 1, 0, &rigging, &rest);
        if (status) {
            failed = status;
            continue;
        }
        fit->n++;
        if (bfi_sketch(&rigging, &sketched)) continue; /* such a draw is solved */
        double x = rest.bait_m[0] - sketched.bait_m[0], y = rest.bait_m[1] - sketched.bait_m[1];
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

static bf_status fit_sketch(const bf_stand *stand, const varied *v, int n_solves, bf_aim_fit *fit) {
    beyond all = {0};
    double off_m[BF_AIM_SOLVES];
    bf_status status = sketch_all(stand, v, n_solves, fit, &all);
    if (status) return status;
    for (int i = 0; i < all.n; i++)
        off_m[i] = bf_hypot(all.along_m[i] - middle_beyond(&all, all.is_held[i], i), all.across_m[i]);
    bf_sort(off_m, (size_t)all.n);
    fit->error_m = all.n > 0 ? bf_quantile_sorted(off_m, (size_t)all.n, 0.95) : 0;
    for (int is_held = 0; is_held < 2; is_held++) fit->beyond_m[is_held] = middle_beyond(&all, is_held, -1);
    return BF_OK;
}

static bf_status hang_sketched(const bf_aim_fit *fit, const bf_stand *stand, double bait_m[2]) {
    bfi_rigging rigging;
    bfi_sketched sketched;
    if (bfi_rigging_of(stand, 1, 0, &rigging) || bfi_sketch(&rigging, &sketched))
        return bfi_hang_solved(stand, bait_m);
    double along_m = fit->beyond_m[sketched.is_held];
    bait_m[0] = sketched.bait_m[0] + sketched.cosine * along_m;
    bait_m[1] = sketched.bait_m[1] + sketched.sine * along_m;
    return BF_OK;
}

/* The whole ------------------------------------------------------------------------------------------------ */

bf_status bfi_hang_fit(const bf_stand *stand, int n_solves, bf_aim_fit *fit) {
    varied v = varied_of(stand);
    memset(fit, 0, sizeof *fit);
    fit->is_sketched = stand->scene.lake.drift != BF_DRIFT_MEASURED;
    bf_status status =
        fit->is_sketched ? fit_sketch(stand, &v, n_solves, fit) : fit_between(stand, &v, n_solves, fit);
    if (status) memset(fit, 0, sizeof *fit);
    return status;
}

void bfi_hang_fitted(const bf_aim_fit *fit, const bf_stand *stand, double bait_m[2]) {
    if (!fit->is_sketched)
        hang_between(fit, stand, bait_m);
    else if (hang_sketched(fit, stand, bait_m))
        bait_m[0] = bait_m[1] = BF_NAN;
}
