/* sketch.c -- see sketch.h. */
#include "core/tackle/sketch.h"

#include "baitfall/elementary.h"
#include "core/tackle/sketch_parts.h"

/* Flows ---------------------------------------------------------------------------------------------------- */

double bfi_current_along(const bfi_hung *s, double z_m) {
    const bf_current *current = &s->rigging->below.current;
    double z = z_m > 0 ? z_m : 0;
    if (z > current->depth_m) z = current->depth_m;
    double x = z * s->per_depth;
    double basin = s->coef_m_s[0] + x * (s->coef_m_s[1] + x * (s->coef_m_s[2] + x * s->coef_m_s[3]));
    return basin + s->skin_m_s * bfi_skin_at(s, z);
}

double bfi_round_drag(const bfi_fluid *fluid, const bf_drag *law, double diameter_m, double flow_m_s) {
    double speed = fabs(flow_m_s);
    if (!(speed > 0)) return 0;
    double cd = bf_drag_coefficient(law, speed * diameter_m * fluid->kg_m3 / fluid->pa_s);
    return cd * 0.5 * fluid->kg_m3 * BF_PI / 4 * diameter_m * diameter_m * speed * flow_m_s;
}

static void begin(bfi_hung *s, const bfi_rigging *r) {
    const bfi_stream *below = &r->below, *above = &r->above;
    double wind = sqrt(above->wind_x * above->wind_x + above->wind_y * above->wind_y);
    s->rigging = r;
    s->cosine = wind > 0 ? above->wind_x / wind : 1;
    s->sine = wind > 0 ? above->wind_y / wind : 0;
    s->wind_per_e_m_s = above->wind.per_e_m_s * wind;
    s->per_roughness = -1 / above->wind.roughness_m;
    s->skin_m_s = s->cosine * below->current.skin_x_m_s + s->sine * below->current.skin_y_m_s;
    for (int k = 0; k < 4; k++)
        s->coef_m_s[k] = s->cosine * below->current.coef_x_m_s[k] + s->sine * below->current.coef_y_m_s[k];
    s->per_depth = 1 / below->current.depth_m;
    s->slope = s->cosine * r->slope;
    s->air = bfi_feeling_of(above, BFI_IN_AIR, &r->line);
    s->sunk = bfi_feeling_of(above, BFI_IN_WATER, &r->line);
    s->line = bfi_feeling_of(below, BFI_IN_WATER, &r->line);
    s->hooklength = bfi_feeling_of(below, BFI_IN_WATER, &r->hooklength);
    s->bait_n = (bfi_plane){0, r->end_n};
    double bait_z_m = r->depth_m < r->below_m ? r->depth_m : r->below_m;
    if (r->feels_bait)
        s->bait_n.along = bfi_round_drag(&below->water, &r->bait.drag, r->bait.equivalent_m,
                                         bfi_current_along(s, bait_z_m));
    s->raised_m = s->slant = s->per_slant = s->along_per_gap = 0;
    s->slack = (bfi_slack){0, 0};
    bfi_know_float(s);
    bfi_stretch_water(s);
}

/* Hung ----------------------------------------------------------------------------------------------------- */

/* Where the bait is put along the wind: let down on a line that is tight from tip to bait (balance.c). */
static double put_down(bfi_hung *s) {
    s->lies_m = 0;
    s->foot_n = s->bait_n;
    s->foot_z_m = s->rigging->depth_m;
    (void)bfi_climb_stretches(s);
    bfi_take_care(s, BFI_COARSE);
    bfi_plane tip_m = bfi_stride_to_tip(s, (bfi_plane){-s->head_n.along, -bfi_whole_lift_n(s)});
    return -(s->head_m.along + tip_m.along);
}

#define LIFTS 8
#define LIFTED_M 2e-5

/* When even the whole weight leaves the tip too low, the float is raised until it does not. */
static bf_status raise(bfi_hung *s) {
    for (int n = 0; n < LIFTS; n++) {
        double gap_m = bfi_lifted_gap(s);
        s->raised_m = s->raised_m > gap_m ? s->raised_m - gap_m : 0;
        if (fabs(gap_m) < LIFTED_M) break;
        bf_status status = bfi_hang_water(s);
        if (status) return status;
    }
    return BF_OK;
}

/* Over the bottom at bed_m, held by a grip: where the bait is along the wind. is_anew: the water's drag is looked up where all hangs now;
 * else it is as it was over another bottom near by. */
static bf_status balance(bfi_hung *s, double bed_m, bfi_care care, int is_anew, double *bait_m) {
    s->bed_m = bed_m;
    s->raised_m = 0;
    bf_status status = bfi_hang_water(s);
    if (!status && is_anew) {
        bfi_feel_water(s);
        status = bfi_hang_water(s);
    }
    if (!status) status = bfi_hang_air(s, care);
    if (!status && s->is_lifted) status = raise(s);
    *bait_m = -(s->head_m.along + s->tip_m.along) - s->run_m;
    return status;
}

/* Dragged -------------------------------------------------------------------------------------------------- */

#define ENDLESS_GRIP 1e3

/* The most grip that the bottom has for a push along a way whose outward part is `out` (rest.c). */
static double most_grip(const bfi_rigging *r, double out) {
    double mu = r->friction_frac, ratio = (1 + mu * mu) / (1 + r->slope * r->slope), lean = r->slope * out;
    double a = 1 - ratio * lean * lean, b = ratio * lean, root = b * b - a * (1 - ratio);
    double most = (b + (root > 0 ? sqrt(root) : 0)) / a;
    return most > 0 && most < ENDLESS_GRIP ? most : ENDLESS_GRIP;
}

/* A bait and the bottom it lies on. */
typedef struct following {
    bfi_hung *s;
    bfi_care care;
    double bait_m, bed_m, gap_m; /* gap: how far the bottom is below the one looked up */
    double rise, bait_per_gap;   /* of the gap over the bottom, of the bait over the gap */
} following;

static double gap_of(const following *f) {
    return f->bed_m - (f->s->rigging->depth_m + f->s->slope * f->bait_m);
}

static bf_status bed_gap(void *of, double bed_m, double *gap_m) {
    following *f = of;
    bf_status status = balance(f->s, bed_m, f->care, 0, &f->bait_m);
    f->bed_m = bed_m;
    *gap_m = f->gap_m = gap_of(f);
    return status;
}

/* A bait and the bottom agree to this, in parts for either care; what is left is put right by the last slope. */
static const double agrees_m[] = {[BFI_COARSE] = 1e-3, [BFI_FINE] = 1e-4};
#define FOLLOWS 6
#define RISE_LEAST 0.1

/* Where the bait goes the bottom is another, and where the bottom is another the bait goes elsewhere. */
static bf_status follow_slope(following *f) {
    const bfi_rigging *r = f->s->rigging;
    double gap;
    for (int n = 0; n < FOLLOWS && f->rise > RISE_LEAST; n++) {
        if (fabs(f->gap_m) <= agrees_m[f->care]) {
            f->bait_m -= f->gap_m * f->bait_per_gap;
            return BF_OK;
        }
        following was = *f;
        bf_status status = bed_gap(f, f->bed_m - f->gap_m / f->rise, &gap);
        if (status) return status;
        if (f->gap_m == was.gap_m) break;
        f->rise = (f->gap_m - was.gap_m) / (f->bed_m - was.bed_m);
        f->bait_per_gap = (f->bait_m - was.bait_m) / (f->gap_m - was.gap_m);
    }
    double reach_m = fabs(f->s->slope) * (r->above_m + r->below_m);
    bfi_known bed = {f->bed_m, 1};
    bf_status status =
        bfi_close(bed_gap, f, r->depth_m - reach_m, r->depth_m + reach_m, agrees_m[f->care], &bed);
    return status == BF_E_NO_CONVERGE ? BF_OK : status; /* where it turns over stands for either side */
}

/* The whole ------------------------------------------------------------------------------------------------ */

/* Held or dragged with so much to spare nothing finer is asked, unless it is touchy. */
#define CLEARLY_M 0.05
#define TOUCHY_CLEARLY_M 0.25

static bf_status rest(bfi_hung *s, double put_m, bfi_sketched *sketched) {
    const bfi_rigging *r = s->rigging;
    double bed_m = r->depth_m + s->slope * put_m, bait_m;
    s->grip = -most_grip(r, -s->cosine);
    bf_status status = balance(s, bed_m, BFI_COARSE, 1, &bait_m);
    if (status) return status;
    double on_m = bait_m - put_m, clearly_m = bfi_is_touchy(s) ? TOUCHY_CLEARLY_M : CLEARLY_M;
    int is_down = s->contact != BF_HANGS, is_fine = !(is_down && fabs(on_m) > clearly_m);
    if (is_fine) {
        status = balance(s, bed_m, BFI_FINE, 0, &bait_m);
        if (status) return status;
        on_m = bait_m - put_m;
    }
    sketched->is_held = is_down && on_m < 0;
    sketched->along_m = sketched->is_held ? put_m : bait_m;
    if (sketched->is_held) return BF_OK;

    /* It hangs, or comes up against the slope; or is dragged on until it is held. */
    following f = {s, BFI_FINE, bait_m, bed_m, 0, 1, 0};
    f.gap_m = gap_of(&f);
    if (!is_down && s->foot_z_m < r->depth_m + s->slope * bait_m) return BF_OK;
    double gap;
    if (!is_fine) status = bed_gap(&f, bed_m - f.gap_m, &gap);
    if (!status && s->slope != 0) status = follow_slope(&f);
    sketched->along_m = f.bait_m;
    return status;
}

bf_status bfi_sketch(const bfi_rigging *rigging, bfi_sketched *sketched) {
    bfi_hung s;
    begin(&s, rigging);
    *sketched = (bfi_sketched){.cosine = s.cosine, .sine = s.sine};
    bf_status status = rest(&s, put_down(&s), sketched);
    sketched->bait_m[0] = s.cosine * sketched->along_m;
    sketched->bait_m[1] = s.sine * sketched->along_m;
    return status;
}
