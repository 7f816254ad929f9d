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

/* The way of a flow, of which some part is not nothing. */
static bfi_level way_of(double out, double right, bfi_level otherwise) {
    double speed = sqrt(out * out + right * right);
    return speed > 0 ? (bfi_level){out / speed, right / speed} : otherwise;
}

/* Current that runs along one line: its way, and its speeds along that. */
static void know_current(bfi_hung *s) {
    const bf_current *current = &s->rigging->below.current;
    bfi_level way = way_of(current->coef_x_m_s[1], current->coef_y_m_s[1], s->wind_way);
    way = way_of(current->skin_x_m_s, current->skin_y_m_s, way);
    s->current_way = way;
    s->skin_m_s = way.out * current->skin_x_m_s + way.right * current->skin_y_m_s;
    for (int k = 0; k < 4; k++)
        s->coef_m_s[k] = way.out * current->coef_x_m_s[k] + way.right * current->coef_y_m_s[k];
    s->per_depth = 1 / current->depth_m;
}

#define CROSSES 1e-6 /* the sine between wind and current */

static void begin(bfi_hung *s, const bfi_rigging *r) {
    const bfi_stream *below = &r->below, *above = &r->above;
    s->rigging = r;
    s->wind_way = way_of(above->wind_x, above->wind_y, (bfi_level){1, 0});
    s->wind_per_e_m_s =
        above->wind.per_e_m_s * (s->wind_way.out * above->wind_x + s->wind_way.right * above->wind_y);
    s->per_roughness = -1 / above->wind.roughness_m;
    know_current(s);
    if (!(s->wind_per_e_m_s > 0)) s->wind_way = s->current_way; /* calm */
    double across = s->current_way.right * s->wind_way.out - s->current_way.out * s->wind_way.right;
    s->crosses = fabs(across) > CROSSES;
    s->air = bfi_feeling_of(above, BFI_IN_AIR, &r->line);
    s->sunk = bfi_feeling_of(above, BFI_IN_WATER, &r->line);
    s->line = bfi_feeling_of(below, BFI_IN_WATER, &r->line);
    s->hooklength = bfi_feeling_of(below, BFI_IN_WATER, &r->hooklength);
    s->bait_n = (bfi_vector){0, 0, r->end_n};
    double bait_z_m = r->depth_m < r->below_m ? r->depth_m : r->below_m;
    if (r->feels_bait)
        bfi_add_along(&s->bait_n,
                      bfi_round_drag(&below->water, &r->bait.drag, r->bait.equivalent_m,
                                     bfi_current_along(s, bait_z_m)),
                      s->current_way);
    s->raised_m = s->slant = s->per_slant = 0;
    s->tip_per_gap = (bfi_level){0, 0};
    s->slack = (bfi_slack){0, 0};
    s->afloat = (bfi_known){0, 0};
    bfi_know_float(s);
    bfi_stretch_water(s);
}

/* Hung ----------------------------------------------------------------------------------------------------- */

/* Where the bait is put: let down on a line that is tight from tip to bait (balance.c). */
static bfi_level put_down(bfi_hung *s) {
    s->lies_m = 0;
    s->foot_n = s->bait_n;
    s->foot_z_m = s->rigging->depth_m;
    (void)bfi_climb_stretches(s);
    bfi_take_care(s, BFI_COARSE);
    bfi_vector tip_m =
        bfi_stride_to_tip(s, (bfi_vector){-s->head_n.out, -s->head_n.right, -bfi_whole_lift_n(s)});
    return (bfi_level){-(s->head_m.out + tip_m.out), -(s->head_m.right + tip_m.right)};
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

static bfi_level bait_of(const bfi_hung *s) {
    return (bfi_level){-(s->head_m.out + s->tip_m.out) - s->run_m.out,
                       -(s->head_m.right + s->tip_m.right) - s->run_m.right};
}

/* Over the bottom at bed_m, held by a grip: where the bait is. is_anew: the water's drag is looked up where all hangs now; else it is
 * as it was over another bottom near by. */
static bf_status balance(bfi_hung *s, double bed_m, bfi_care care, int is_anew, bfi_level *bait_m) {
    s->bed_m = bed_m;
    s->raised_m = 0;
    bf_status status = bfi_hang_water(s);
    if (!status && is_anew) {
        bfi_feel_water(s);
        status = bfi_hang_water(s);
    }
    if (!status) status = bfi_hang_air(s, care);
    if (!status && s->is_lifted) status = raise(s);
    *bait_m = bait_of(s);
    return status;
}

/* On the slope ----------------------------------------------------------------------------------------------- */

/* A bait and the bottom it lies on. */
typedef struct following {
    bfi_hung *s;
    bfi_care care;
    bfi_level bait_m, bait_per_gap; /* bait over the gap */
    double bed_m, gap_m;            /* gap: how far the bottom is below the one looked up */
    double rise;                    /* of the gap over the bottom */
    int n;                          /* times looked               */
} following;

static double bed_at(const bfi_rigging *r, bfi_level place_m) {
    return r->depth_m + r->slope * place_m.out;
}

/* Where slack line jumps over a search would go on for long and say no more. */
#define MOST_BEDS 30
#define MOST_TURNS 16

static bf_status bed_gap(void *of, double bed_m, double *gap_m) {
    following *f = of;
    if (f->n++ == MOST_BEDS) return BF_E_NO_CONVERGE;
    bf_status status = balance(f->s, bed_m, f->care, 0, &f->bait_m);
    f->bed_m = bed_m;
    *gap_m = f->gap_m = bed_m - bed_at(f->s->rigging, f->bait_m);
    return status;
}

/* A bait and the bottom agree to this, in parts for either care; what is left is put right by the last slope. */
static const double agrees_m[] = {[BFI_COARSE] = 1e-3, [BFI_FINE] = 1e-4, [BFI_FINEST] = 1e-4};
#define FOLLOWS 6
#define RISE_LEAST 0.1

/* Where the bait goes the bottom is another, and where the bottom is another the bait goes elsewhere. */
static bf_status follow_slope(following *f) {
    const bfi_rigging *r = f->s->rigging;
    double gap;
    for (int n = 0; n < FOLLOWS && f->rise > RISE_LEAST; n++) {
        if (fabs(f->gap_m) <= agrees_m[f->care]) {
            f->bait_m.out -= f->gap_m * f->bait_per_gap.out;
            f->bait_m.right -= f->gap_m * f->bait_per_gap.right;
            return BF_OK;
        }
        following was = *f;
        bf_status status = bed_gap(f, f->bed_m - f->gap_m / f->rise, &gap);
        if (status) return status;
        double further_m = f->gap_m - was.gap_m;
        if (further_m == 0) break;
        f->rise = further_m / (f->bed_m - was.bed_m);
        f->bait_per_gap = (bfi_level){(f->bait_m.out - was.bait_m.out) / further_m,
                                      (f->bait_m.right - was.bait_m.right) / further_m};
    }
    double reach_m = fabs(r->slope) * (r->above_m + r->below_m);
    bfi_known bed = {f->bed_m, 1};
    bf_status status =
        bfi_close(bed_gap, f, r->depth_m - reach_m, r->depth_m + reach_m, agrees_m[f->care], &bed);
    return status == BF_E_NO_CONVERGE ? BF_OK : status; /* where it turns over stands for either side */
}

/* Held, or dragged -------------------------------------------------------------------------------------------- */

#define ENDLESS_GRIP 1e3

/* What the bottom has at least and at most for a push along a way whose outward part is `out` (rest.c). */
static void edges_of_grip(const bfi_rigging *r, double out, double *least, double *most) {
    double mu = r->friction_frac, ratio = (1 + mu * mu) / (1 + r->slope * r->slope), lean = r->slope * out;
    double a = 1 - ratio * lean * lean, b = ratio * lean, root = b * b - a * (1 - ratio);
    root = root > 0 ? sqrt(root) : 0;
    *least = (b - root) / a;
    *most = (b + root) / a;
}

/* A bait that is held with all the bottom has against what draws it along a way. */
typedef struct drawn {
    following f;
    bfi_level put_m, way;
    double on_m, off_m; /* from where it was put: on along the way, off to its right */
    double strays_m;    /* so much further to the left for a radian to the right     */
} drawn;

static void hold_against(bfi_hung *s, bfi_level way) {
    double least, most;
    edges_of_grip(s->rigging, -way.out, &least, &most);
    if (!(most > 0 && most < ENDLESS_GRIP)) most = ENDLESS_GRIP;
    s->grip = (bfi_level){-most * way.out, -most * way.right};
}

static void see_where(drawn *d) {
    bfi_level gone = {d->f.bait_m.out - d->put_m.out, d->f.bait_m.right - d->put_m.right};
    d->on_m = gone.out * d->way.out + gone.right * d->way.right;
    d->off_m = gone.right * d->way.out - gone.out * d->way.right;
}

/* Held so over the bottom it was put on; or, `follows`, over the one it is dragged to. */
static bf_status draw_along(drawn *d, bfi_level way, bfi_care care, int is_anew, int follows) {
    following *f = &d->f;
    double gap;
    d->way = way;
    f->care = care;
    hold_against(f->s, way);
    bf_status status = BF_OK;
    if (!follows) {
        f->bed_m = bed_at(f->s->rigging, d->put_m);
        status = balance(f->s, f->bed_m, care, is_anew, &f->bait_m);
    } else {
        f->n = 0;
        f->rise = 1;
        f->bait_per_gap = (bfi_level){0, 0};
        status = bed_gap(f, f->bed_m, &gap);
        if (!status && f->s->rigging->slope != 0) status = follow_slope(f);
    }
    see_where(d);
    return status;
}

/* Goes on less far than this without a grip it goes no way in particular. */
#define LOOSE_LEAST_M 1e-3

/* How far it strays to the left of a way turned to the right. */
typedef struct turning {
    drawn *d;
    bfi_level first;
    bfi_care care;
    int follows, n; /* n: turns */
} turning;

static bf_status stray_gap(void *of, double turn, double *gap_m) {
    turning *t = of;
    if (t->n++ == MOST_TURNS) return BF_E_NO_CONVERGE;
    double cosine = bf_cos(turn), sine = bf_sin(turn);
    bfi_level way = {cosine * t->first.out - sine * t->first.right,
                     sine * t->first.out + cosine * t->first.right};
    bf_status status = draw_along(t->d, way, t->care, 0, t->follows);
    *gap_m = -t->d->off_m;
    return status;
}

#define MOST_TURN_RAD 1.5

/* Turns the way until the bait goes along it, which it does at once unless wind and current cross (rest.c). */
static bf_status turn_way(drawn *d, double strays_m, bfi_care care, int follows) {
    if (fabs(d->off_m) <= strays_m) return BF_OK;
    turning t = {d, d->way, care, follows, 0};
    bfi_known turn = {d->off_m / d->strays_m, d->strays_m};
    bf_status status = bfi_close(stray_gap, &t, -MOST_TURN_RAD, MOST_TURN_RAD, strays_m, &turn);
    if (turn.slope > 0) d->strays_m = turn.slope;
    return status == BF_E_NO_CONVERGE ? BF_OK : status;
}

/* The way a bait goes that is not held: with the wind, or as wind and current that cross it take it; how far tells how it strays. */
static bf_status go_loose(drawn *d, bfi_level *way) {
    bfi_hung *s = d->f.s;
    bfi_level at_m;
    *way = s->wind_way;
    d->strays_m = 1;
    if (!s->crosses) return BF_OK;
    s->grip = (bfi_level){0, 0};
    bf_status status = balance(s, bed_at(s->rigging, d->put_m), BFI_COARSE, 1, &at_m);
    bfi_level gone_m = {at_m.out - d->put_m.out, at_m.right - d->put_m.right};
    *way = way_of(gone_m.out, gone_m.right, *way);
    d->strays_m = bfi_size(gone_m) + LOOSE_LEAST_M;
    return status;
}

/* It hangs, or comes up against the slope. */
static bf_status rest_hanging(drawn *d) {
    following *f = &d->f;
    bfi_hung *s = f->s;
    bf_status status = balance(s, s->bed_m, BFI_FINEST, 0, &f->bait_m);
    if (status || s->foot_z_m < bed_at(s->rigging, f->bait_m)) return status;
    bfi_level way = way_of(f->bait_m.out - d->put_m.out, f->bait_m.right - d->put_m.right, s->wind_way);
    f->bed_m = s->bed_m;
    return draw_along(d, way, BFI_FINEST, 0, 1);
}

#define SLIDES 2

/* On a slope steeper than the bottom can hold it slides down until the line holds the rest (rest.c): so far that the water is looked up
 * again where that is. */
static bf_status rest_sliding(drawn *d) {
    following *f = &d->f;
    bfi_hung *s = f->s;
    double least, most, gap, down = s->rigging->slope > 0 ? 1 : -1;
    edges_of_grip(s->rigging, down, &least, &most);
    s->grip = (bfi_level){down * least, 0};
    s->crosses = 1; /* the slope's pull does */
    bf_status status = balance(s, bed_at(s->rigging, d->put_m), BFI_COARSE, 1, &f->bait_m);
    if (status) return status;
    if (s->contact == BF_HANGS) return rest_hanging(d);
    f->care = BFI_FINEST;
    for (int n = 0; n < SLIDES && !status; n++) {
        f->n = 0;
        f->rise = 1;
        bfi_feel_water(s);
        status = bed_gap(f, bed_at(s->rigging, f->bait_m), &gap);
        if (!status) status = follow_slope(f);
    }
    return status;
}

/* Held or dragged with so much to spare, and straying less than half as far, nothing finer is asked. Where it is touchy coarsely says
 * nothing. */
#define CLEARLY_M 0.05
#define STRAYS_FRAC 0.5

static int is_clear(const drawn *d) {
    return fabs(d->on_m) > CLEARLY_M && fabs(d->off_m) <= STRAYS_FRAC * fabs(d->on_m);
}

/* A way is turned until a bait strays no further. */
static const double strays_m[] = {[BFI_COARSE] = 2e-2, [BFI_FINE] = 1e-3, [BFI_FINEST] = 3e-4};

/* Crossing ----------------------------------------------------------------------------------------------------- */

/* Where wind and current cross, the line's slant, the way and the bottom each move what the others close on: they are closed together. A
 * line that is slack has how much of it floats in the slant's place. */
typedef struct crossing {
    drawn *d;
    bfi_level first; /* the way at a turn of 0      */
    double put_bed_m;
    int follows, floats;
} crossing;

#define BED_PER 0.1 /* m: so that the three numbers are of a size */

static bf_status crossing_gaps(void *of, const double x[3], double gap[5]) {
    const crossing *c = of;
    drawn *d = c->d;
    bfi_hung *s = d->f.s;
    double cosine = bf_cos(x[1]), sine = bf_sin(x[1]);
    d->way = (bfi_level){cosine * c->first.out - sine * c->first.right,
                         sine * c->first.out + cosine * c->first.right};
    hold_against(s, d->way);
    s->bed_m = d->f.bed_m = BED_PER * x[2];
    s->raised_m = 0;
    bf_status status = bfi_hang_water(s);
    if (!status && s->contact == BF_HANGS) status = BF_E_MODEL_RANGE;
    if (!status) status = c->floats ? bfi_float_at(s, x[0], &gap[0]) : bfi_stride_at(s, x[0], &gap[0]);
    if (status) return status;
    d->f.bait_m = bait_of(s);
    see_where(d);
    gap[1] = -d->off_m;
    gap[2] = d->f.bed_m - (c->follows ? bed_at(s->rigging, d->f.bait_m) : c->put_bed_m);
    gap[3] = d->f.bait_m.out;
    gap[4] = d->f.bait_m.right;
    return BF_OK;
}

/* What is known of all three as the bait is drawn by now. */
static bfi_together known_of(const crossing *c) {
    const drawn *d = c->d;
    const bfi_hung *s = d->f.s;
    const bfi_known air = c->floats ? s->afloat : (bfi_known){s->slant, s->per_slant};
    bfi_level per = {-air.slope * s->tip_per_gap.out, -air.slope * s->tip_per_gap.right};
    double off = per.right * d->way.out - per.out * d->way.right, rise = c->follows ? s->rigging->slope : 0;
    return (bfi_together){.at = {air.at, 0, d->f.bed_m / BED_PER},
                          .slope = {{air.slope, 0, 0},
                                    {-off, d->strays_m, 0},
                                    {-rise * per.out, 0, BED_PER},
                                    {per.out, 0, 0},
                                    {per.right, 0, 0}}};
}

static bf_status close_crossing(const crossing *c, bfi_care care) {
    static const double meets_m[] = {[BFI_COARSE] = 1e-2, [BFI_FINE] = 1e-3, [BFI_FINEST] = 1e-4};
    static const double most[] = {0.5, 0.3, 0.5};
    drawn *d = c->d;
    bfi_hung *s = d->f.s;
    crossing of = *c;
    const double tolerance[] = {meets_m[care], strays_m[care], agrees_m[care]};
    bfi_together known = known_of(c);
    bfi_take_care(s, care);
    bf_status status = bfi_close_together(crossing_gaps, &of, tolerance, most, &known);
    double rises = known.slope[0][0];
    if (status || !(rises > 0)) return status ? status : BF_E_NO_CONVERGE;
    *(c->floats ? &s->afloat.slope : &s->per_slant) = rises;
    s->tip_per_gap = (bfi_level){-known.slope[3][0] / rises, -known.slope[4][0] / rises};
    if (known.slope[1][1] > 0) d->strays_m = known.slope[1][1];
    d->f.bait_m = (bfi_level){known.out[0], known.out[1]};
    see_where(d);
    return BF_OK;
}

/* Tight or slack; what it was before is tried first. 0: it is neither, or jumps over; then all is as it was. */
static int draw_crossing(drawn *d, bfi_care care, int follows) {
    bfi_hung *s = d->f.s;
    const drawn was = *d;
    const double slant = s->slant;
    const bfi_known afloat = s->afloat;
    if (!s->crosses || s->is_lifted || s->slack.sunk_m > 0) return 0;
    int floats = s->slack.afloat_m > 0;
    for (int n = 0; n < 2; n++, floats = !floats) {
        double put_bed_m = bed_at(s->rigging, d->put_m);
        if (!follows) d->f.bed_m = put_bed_m;
        if (floats && !(s->afloat.slope > 0))
            s->afloat = (bfi_known){-0.5 * (s->rigging->above_m - s->rigging->tip_m), 1};
        if (close_crossing(&(crossing){d, d->way, put_bed_m, follows, floats}, care) == BF_OK) return 1;
        *d = was;
        s->slant = slant;
        s->afloat = afloat;
    }
    return 0;
}

/* Drawn along its way and turned, with a care. */
static bf_status draw_and_turn(drawn *d, bfi_care care, int follows) {
    if (draw_crossing(d, care, follows)) return BF_OK;
    bf_status status = draw_along(d, d->way, care, 0, follows);
    return status || (!follows && is_clear(d)) ? status : turn_way(d, strays_m[care], care, follows);
}

static bf_status rest(drawn *d, int *is_held) {
    following *f = &d->f;
    bfi_hung *s = f->s;
    bfi_level way;
    if (fabs(s->rigging->slope) > s->rigging->friction_frac) return rest_sliding(d);
    bf_status status = go_loose(d, &way);
    if (!status) status = draw_along(d, way, BFI_COARSE, 1, 0);
    if (status) return status;
    if (s->contact == BF_HANGS) return rest_hanging(d);

    int touchy = bfi_is_touchy(s);
    if (!touchy && !is_clear(d)) status = turn_way(d, strays_m[BFI_COARSE], BFI_COARSE, 0);
    if (!status && (touchy || !is_clear(d))) {
        status = draw_and_turn(d, BFI_FINE, 0);
        if (!status && bfi_is_touchy(s) && !is_clear(d)) status = draw_and_turn(d, BFI_FINEST, 0);
    }
    *is_held = d->on_m < 0;
    if (status || *is_held) return status;

    /* Dragged on until it is held. */
    f->bed_m = bed_at(s->rigging, f->bait_m);
    status = draw_and_turn(d, BFI_FINE, 1);
    return status || !bfi_is_touchy(s) ? status : draw_and_turn(d, BFI_FINEST, 1);
}

bf_status bfi_sketch(const bfi_rigging *rigging, bfi_sketched *sketched) {
    bfi_hung s;
    begin(&s, rigging);
    drawn d = {.f = {.s = &s}, .put_m = put_down(&s)};
    *sketched = (bfi_sketched){.cosine = s.wind_way.out, .sine = s.wind_way.right};
    bf_status status = rest(&d, &sketched->is_held);
    bfi_level bait_m = sketched->is_held ? d.put_m : d.f.bait_m;
    sketched->bait_m[0] = bait_m.out;
    sketched->bait_m[1] = bait_m.right;
    return status;
}

/* The grip that just holds --------------------------------------------------------------------------------------- */

typedef struct holding {
    bfi_hung *s;
    bfi_level put_m, toward;
} holding;

/* How far back the bait is held by a grip against what draws it on: the unknown is the grip's logarithm (rest.c). */
static bf_status hold_gap(void *of, double log_frac, double *gap_m) {
    const holding *h = of;
    bfi_hung *s = h->s;
    bfi_level bait_m;
    double frac = bf_exp(log_frac);
    s->grip = (bfi_level){-frac * h->toward.out, -frac * h->toward.right};
    bf_status status = balance(s, s->bed_m, BFI_FINE, 0, &bait_m);
    *gap_m = (h->put_m.out - bait_m.out) * h->toward.out + (h->put_m.right - bait_m.right) * h->toward.right;
    return status;
}

/* The grip's logarithm, and what a fold of e is worth, when all that the bottom has takes the bait back_m back and none of it lets it
 * on_m on. On a tight line the whole way back goes over some such folds; on a slack one it goes with the grip itself. */
#define GRIP_FOLDS 3.5
#define LEAST_PART 1e-3

static bfi_known likely_grip(const bfi_hung *s, double log_most, double back_m, double on_m) {
    double whole_m = back_m + on_m, part = on_m / whole_m;
    int is_slack = s->slack.afloat_m > 0 || s->slack.sunk_m > 0;
    if (is_slack && part > LEAST_PART) return (bfi_known){log_most + bf_log(part), part * whole_m};
    return (bfi_known){log_most - GRIP_FOLDS * back_m / whole_m, whole_m / GRIP_FOLDS};
}

#define HOLDS_M 1e-3
#define SURE_FOLDS 0.2 /* of the grip to spare */

int bfi_sketch_grip(const bfi_rigging *rigging, const double put_m[2], const bfi_pull *pull,
                    bfi_known *log_grip) {
    bfi_hung s;
    double back_m = 0;
    int side;
    begin(&s, rigging);
    holding h = {&s, {put_m[0], put_m[1]}, {pull->toward[0], pull->toward[1]}};
    s.bed_m = bed_at(rigging, h.put_m);
    bf_status status = hold_gap(&h, pull->log_most, &back_m);
    bfi_feel_water(&s);
    *log_grip = likely_grip(&s, pull->log_most, back_m > HOLDS_M ? back_m : HOLDS_M, pull->on_m);
    if (status || back_m <= 0) return 0;
    bfi_known sketched = *log_grip;
    bfi_bracket grips = {pull->log_least, pull->log_most, 0, 1};
    status = bfi_close_within(hold_gap, &h, grips, HOLDS_M, &sketched, &side);
    if (status || side != 0) return 0;
    *log_grip = sketched;
    return !s.crosses && sketched.at < pull->log_most - SURE_FOLDS;
}

/* What shows of the bristle as it hangs now. */
static double shows_of(const bfi_hung *s) {
    const bfi_rigging *r = s->rigging;
    return bf_float_shows_m(&r->flt, s->down_n + r->trim_n, r->below.water.kg_m3, r->tension_n_m);
}

bf_status bfi_sketch_shows_least(const bfi_rigging *rigging, const double *put_m, double *shows_m) {
    bfi_hung s;
    int is_held = 0;
    begin(&s, rigging);
    drawn d = {.f = {.s = &s}, .put_m = put_m ? (bfi_level){put_m[0], put_m[1]} : put_down(&s)};
    bf_status status = rest(&d, &is_held);
    *shows_m = shows_of(&s);
    if (status || !is_held) return status;
    if (s.crosses) return BF_E_MODEL_RANGE;

    /* Held by all the bottom has; by none of it? */
    s.grip = (bfi_level){0, 0};
    status = balance(&s, bed_at(rigging, d.put_m), BFI_FINEST, 1, &d.f.bait_m);
    double loose_m = shows_of(&s);
    if (loose_m < *shows_m) *shows_m = loose_m;
    return status;
}
