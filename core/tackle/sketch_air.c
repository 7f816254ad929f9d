/* sketch_air.c -- float and air span of a sketched rig: see sketch_parts.h. */
#include "core/tackle/sketch_parts.h"

#include "baitfall/elementary.h"

/* The float ------------------------------------------------------------------------------------------------ */

/* Gauss and Legendre's points and weights on 0 .. 1, for the body on the angle in which its outline is a sine. */
#define BRISTLE_SLICES 4
static const double stem_at[BFI_STEM_SLICES] = {0.21132486540518712, 0.78867513459481288};
static const double bristle_at[BRISTLE_SLICES] = {0.069431844202973714, 0.33000947820757187,
                                                  0.66999052179242813, 0.93056815579702629};
static const double bristle_weight[BRISTLE_SLICES] = {0.17392742256872693, 0.32607257743127307,
                                                      0.32607257743127307, 0.17392742256872693};
static const double body_at[BFI_BODY_SLICES] = {0.005419832704093, 0.125740578351020, 0.5, 0.874259421648980,
                                                0.994580167295907};
static const double body_weight[BFI_BODY_SLICES] = {0.027324175099295, 0.249273708216548, 0.446804288510548,
                                                    0.249273708216548, 0.027324175099295};
static const double body_wide[BFI_BODY_SLICES] = {0.146839478581923, 0.663113520619121, 1, 0.663113520619121,
                                                  0.146839478581923};

static double push_on(const bfi_fluid *fluid, double flow, double wide_m, double long_m) {
    double speed = fabs(flow);
    if (!(speed > 0)) return 0;
    double reynolds = speed * wide_m * fluid->kg_m3 / fluid->pa_s;
    return 0.5 * fluid->kg_m3 * quick_drag(reynolds) * wide_m * long_m * speed * flow;
}

/* Current at a depth whose part of the skin is known. */
static double current_by_skin(const bfi_hung *s, double z_m, double skin) {
    double x = z_m * s->per_depth;
    if (x > 1) x = 1;
    return skin * s->skin_m_s +
           (s->coef_m_s[0] + x * (s->coef_m_s[1] + x * (s->coef_m_s[2] + x * s->coef_m_s[3])));
}

/* Parts of the skin that reach down body and stem, against where the body begins. */
void bfi_know_float(bfi_hung *s) {
    const bf_float *flt = &s->rigging->flt;
    for (int i = 0; i < BFI_BODY_SLICES; i++) s->body_skin[i] = bfi_skin_at(s, body_at[i] * flt->body_long_m);
    for (int i = 0; i < BFI_STEM_SLICES; i++)
        s->stem_skin[i] = bfi_skin_at(s, flt->body_long_m + stem_at[i] * flt->stem_long_m);
}

/* What wind and current do to the float. */
static bfi_vector float_push(const bfi_hung *s, double down_n) {
    const bfi_rigging *r = s->rigging;
    const bf_float *flt = &r->flt;
    const bfi_fluid *water = &r->above.water, *air = &r->above.air;
    double shows = bf_float_shows_m(flt, down_n + r->trim_n, r->below.water.kg_m3, r->tension_n_m);
    double dry = shows < 0 ? 0 : shows < flt->bristle_long_m ? shows : flt->bristle_long_m;
    double wet = flt->bristle_long_m - dry, by_wind = 0, push = 0;
    bfi_vector whole = {0, 0, 0};
    if (!r->feels_float) return whole;
    for (int i = 0; i < BRISTLE_SLICES && dry > 0; i++)
        by_wind +=
            push_on(air, bfi_wind_along(s, -bristle_at[i] * dry), flt->bristle_m, bristle_weight[i] * dry);
    for (int i = 0; i < BRISTLE_SLICES && wet > 0; i++)
        push += push_on(water, bfi_current_along(s, bristle_at[i] * wet), flt->bristle_m,
                        bristle_weight[i] * wet);
    double skin = bfi_skin_at(s, wet), stem_m = wet + flt->body_long_m;
    for (int i = 0; i < BFI_BODY_SLICES; i++) {
        double flow = current_by_skin(s, wet + body_at[i] * flt->body_long_m, skin * s->body_skin[i]);
        push += push_on(water, flow, body_wide[i] * flt->body_m, body_weight[i] * flt->body_long_m);
    }
    for (int i = 0; i < BFI_STEM_SLICES; i++) {
        double flow = current_by_skin(s, stem_m + stem_at[i] * flt->stem_long_m, skin * s->stem_skin[i]);
        push += push_on(water, flow, bf_float_usual_build.stem_m, flt->stem_long_m / BFI_STEM_SLICES);
    }
    bfi_add_along(&whole, by_wind, s->wind_way);
    bfi_add_along(&whole, push, s->current_way);
    return whole;
}

/* The air span --------------------------------------------------------------------------------------------- */

/* log((x + sqrt(x^2 + b^2)) / (y + sqrt(y^2 + b^2))), b2 = b^2 above 0, with the two square roots given. */
static inline double log_ratio(double x, double root_x, double y, double root_y, double b2) {
    double over = x > 0 ? x + root_x : b2 / (root_x - x), under = y > 0 ? y + root_y : b2 / (root_y - y);
    return quick_log(over / under);
}

/* A line under an even load (bfi_even_load). */
static inline void even_stride(bfi_vector q, double h, bfi_vector *at, bfi_vector *pull) {
    double load = sqrt(bfi_square(q)), per = 1 / load;
    double a = (pull->out * q.out + pull->right * q.right + pull->down * q.down) * per, end = a - load * h;
    bfi_vector square = *pull;
    bfi_add(&square, -a * per, q);
    double b2 = bfi_square(square) + 1e-28, root = sqrt(a * a + b2), root_end = sqrt(end * end + b2);
    bfi_add(at, (root - root_end) * per * per, q);
    bfi_add(at, log_ratio(a, root, end, root_end, b2) * per, square);
    bfi_add(pull, -h, q);
}

static inline bfi_vector air_load(const bfi_hung *s, const bfi_feeling *line, double z_m, bfi_vector t) {
    double frac = line->stream->drag_frac, wet = 0;
    if (line->medium != BFI_IN_AIR)
        wet = 1;
    else if (z_m > 0)
        wet = bfi_wet_frac(z_m, SURFACE_M);
    bfi_vector q = {0, 0, wet * line->cable->water_n_m + (1 - wet) * line->cable->air_n_m};
    if (!(frac > 0)) return q;
    if (wet < 1)
        bfi_add_drag(line->stream, &line->air, bfi_wind_along(s, z_m), s->wind_way, t, (1 - wet) * frac, &q);
    if (wet > 0)
        bfi_add_drag(line->stream, &line->water, bfi_current_along(s, z_m), s->current_way, t, wet * frac,
                     &q);
    return q;
}

/* Strides from float to tip, closer together lower down, where line turns most and the wind grows most: few to look where about
 * the tip is met, more to meet it, and most where it is touchy: on slack line a millimetre of height can move the float by
 * centimetres. */
#define COARSE_STRIDES 4
#define FINE_STRIDES 12
#define CROSSING_STRIDES 24
#define FINEST_STRIDES 96
#define STRIDE_GRADE 0.8

static void stride_along(const bfi_hung *s, const bfi_feeling *line, double from_m, double to_m,
                         bfi_vector *at, bfi_vector *pull) {
    double span = s->rigging->above_m;
    bfi_vector q = air_load(s, line, at->down, bfi_way_of(*pull));
    for (int i = 1; to_m - from_m > 1e-9; i++) {
        double u = i * s->per_stride, end_m = span * u * (1 - STRIDE_GRADE + STRIDE_GRADE * u);
        if (u >= 1) end_m = to_m;
        if (end_m <= from_m + 1e-9) continue;
        if (end_m > to_m - 1e-9) end_m = to_m;
        double h = end_m - from_m;
        bfi_vector middle = *pull;
        bfi_add(&middle, -0.5 * h, q);
        middle = bfi_way_of(middle);
        q = air_load(s, line, at->down + 0.5 * h * middle.down, middle);
        even_stride(q, h, at, pull);
        from_m = end_m;
    }
}

static void take_on(const bfi_hung *s, const bfi_bead *bead, int count, bfi_vector at, bfi_vector *pull) {
    const bfi_stream *stream = &s->rigging->above;
    double wet = bfi_wet_frac(at.down + 0.5 * bead->diameter_m, bead->diameter_m);
    if (stream->drag_frac > 0 && wet < 1) {
        double wind = bfi_wind_along(s, at.down);
        double drag = (1 - wet) * bfi_round_drag(&stream->air, &bead->drag, bead->diameter_m, wind);
        bfi_add_along(pull, -count * drag, s->wind_way);
    }
    if (stream->drag_frac > 0 && wet > 0) {
        double current = bfi_current_along(s, at.down);
        double drag = wet * bfi_round_drag(&stream->water, &bead->drag, bead->diameter_m, current);
        bfi_add_along(pull, -count * drag, s->current_way);
    }
    pull->down -= count * (wet * bead->water_n + (1 - wet) * bead->air_n);
}

/* Pulled by less than this a floating line lies as it fell (cable.h). */
#define LIES_AS_FELL_N 1e-6

static void float_along(const bfi_hung *s, double long_m, bfi_vector *at, bfi_vector *pull) {
    const bfi_stream *stream = &s->rigging->above;
    double whole = bfi_size((bfi_level){pull->out, pull->right}), per = whole > 0 ? 1 / whole : 0;
    double reaches = whole / sqrt(whole * whole + LIES_AS_FELL_N * LIES_AS_FELL_N);
    bfi_vector q = {0, 0, 0}, gone = {0, 0, 0}, level = {pull->out, pull->right, 0};
    if (stream->drag_frac > 0)
        bfi_add_drag(stream, &s->sunk.water, bfi_current_along(s, 0), s->current_way,
                     (bfi_vector){per * pull->out, per * pull->right, 0}, stream->drag_frac, &q);
    if (bfi_square(q) > 0)
        even_stride(q, long_m, &gone, &level);
    else
        bfi_add(&gone, per * long_m, level);
    bfi_add(at, reaches, gone);
    *pull = (bfi_vector){level.out, level.right, pull->down};
}

bfi_vector bfi_stride_to_tip(const bfi_hung *s, bfi_vector pull_n) {
    const bfi_rigging *r = s->rigging;
    bfi_vector at = {0, 0, -s->raised_m};
    double from_m = 0, wet_m = s->slack.afloat_m > 0 ? s->slack.afloat_m : s->slack.sunk_m;
    for (int i = 0; i <= r->n_back_loads; i++) {
        double to_m = i < r->n_back_loads ? r->back_load[i].at_m : r->above_m;
        double to_wet_m = wet_m < to_m ? wet_m : to_m;
        if (to_wet_m > from_m) {
            if (s->slack.afloat_m > 0)
                float_along(s, to_wet_m - from_m, &at, &pull_n);
            else
                stride_along(s, &s->sunk, from_m, to_wet_m, &at, &pull_n);
            from_m = to_wet_m;
        }
        if (to_m > from_m) stride_along(s, &s->air, from_m, to_m, &at, &pull_n);
        from_m = to_m;
        if (i < r->n_back_loads) {
            const bfi_load *load = &r->back_load[i];
            take_on(s, &r->back_bead[load->row], load->count, at, &pull_n);
        }
    }
    return at;
}

/* Closing -------------------------------------------------------------------------------------------------- */

/* How closely the tip is met; what is left is put right by the last slope. */
#define MEETS_COARSELY_M 1e-2
#define MEETS_FINELY_M 1e-3
#define MEETS_FINEST_M 1e-4

/* With lift_n in the line above the float: how much too high the tip gets. */
static double lift_gap(bfi_hung *s, double lift_n) {
    s->down_n = s->head_n.down - lift_n;
    bfi_vector push = float_push(s, s->down_n);
    s->tip_m =
        bfi_stride_to_tip(s, (bfi_vector){-s->head_n.out - push.out, -s->head_n.right - push.right, -lift_n});
    return -s->tip_m.down - s->rigging->tip_m;
}

double bfi_whole_lift_n(const bfi_hung *s) {
    return s->head_n.down + s->rigging->float_n + s->rigging->trim_n;
}

double bfi_lifted_gap(bfi_hung *s) {
    return lift_gap(s, bfi_whole_lift_n(s));
}

/* Less sideways pull than this is none, N; and the pull that is left on line that floats (balance.c). */
#define SIDEWAYS_LEAST_N 1e-7
#define LAST_N 1e-9

static double sideways_of(const bfi_hung *s) {
    double sideways = bfi_size((bfi_level){s->head_n.out, s->head_n.right});
    return sideways > SIDEWAYS_LEAST_N ? sideways : SIDEWAYS_LEAST_N;
}

static double slant_of(double slope) {
    return slope < 0 ? -slant_of(-slope) : bf_log(slope + sqrt(1 + slope * slope));
}

/* The unknown is the slope at which the line leaves the float, as its inverse hyperbolic sine (balance.c). */
static bf_status slant_gap(void *of, double slant, double *gap_m) {
    bfi_hung *s = of;
    double e = quick_exp(slant);
    *gap_m = lift_gap(s, 0.5 * sideways_of(s) * (e - 1 / e));
    return BF_OK;
}

static bf_status float_gap(void *of, double less_m, double *gap_m) {
    bfi_hung *s = of;
    s->slack.afloat_m = -less_m;
    *gap_m = lift_gap(s, LAST_N);
    return BF_OK;
}

static double to_shot_m(const bfi_rigging *r) {
    return r->n_back_loads ? r->back_load[0].at_m : r->above_m;
}

/* More line than its pull can lift: it floats, or the lowest back shot draws it under. */
static bf_status hang_slack(bfi_hung *s, double gap_m) {
    const bfi_rigging *r = s->rigging;
    double sinks_m = to_shot_m(r), spare_m = r->above_m - r->tip_m, low_m,
           hung_n = r->above_m * r->line.air_n_m;
    (void)float_gap(s, -sinks_m, &low_m);
    if (low_m <= 0) {
        if (!(s->afloat.slope > 0)) s->afloat = (bfi_known){-0.5 * spare_m, gap_m / spare_m};
        return bfi_close(float_gap, s, -sinks_m, 0, MEETS_FINEST_M, &s->afloat);
    }
    for (int i = 0; i < r->n_back_loads; i++)
        hung_n += r->back_load[i].count * r->back_bead[r->back_load[i].row].air_n;
    s->slack = (bfi_slack){.sunk_m = sinks_m};
    bfi_known slant = {-1, low_m};
    double under = slant_of((bfi_whole_lift_n(s) + hung_n) / sideways_of(s));
    return bfi_close(slant_gap, s, -under, 0, MEETS_FINEST_M, &slant);
}

/* A rise of the tip over slant that is as good as any to begin with, in parts of the line. */
#define RISES 0.25
#define MOST_TRIES 40

/* From the slant known, by secants and within what brackets it: between a line that leaves along the water, then slack, and one
 * that lifts the float, `most`. */
static bf_status meet_tip(bfi_hung *s, double most, double meets_m) {
    double lo = -1, hi = most + 1, x = s->slant, gap, was_x = 0, was_gap = 0;
    bfi_vector was_m = {0, 0, 0};
    s->slack = (bfi_slack){0, 0};
    s->is_lifted = 0;
    for (int n = 0; n < MOST_TRIES; n++) {
        (void)slant_gap(s, x, &gap);
        if (n > 0 && x != was_x && gap != was_gap) {
            s->per_slant = (gap - was_gap) / (x - was_x);
            s->tip_per_gap = (bfi_level){(s->tip_m.out - was_m.out) / (gap - was_gap),
                                         (s->tip_m.right - was_m.right) / (gap - was_gap)};
        }
        s->slant = x;
        if (fabs(gap) <= meets_m) {
            bfi_add_along(&s->tip_m, -gap, s->tip_per_gap);
            return BF_OK;
        }
        s->is_lifted = gap < 0 && x >= most;
        if (s->is_lifted) return BF_OK;
        if (gap > 0 && x <= 0) return meets_m > MEETS_FINELY_M ? BF_OK : hang_slack(s, gap);
        if (gap < 0)
            lo = x;
        else
            hi = x;
        was_x = x;
        was_gap = gap;
        was_m = s->tip_m;
        if (!(s->per_slant > 0)) s->per_slant = RISES * s->rigging->above_m;
        x -= gap / s->per_slant;
        if (x <= lo || x >= hi) x = 0.5 * (lo + hi);
        x = x < 0 ? 0 : x > most ? most : x;
    }
    return BF_OK;
}

void bfi_take_care(bfi_hung *s, bfi_care care) {
    s->per_stride = 1.0 / (care == BFI_COARSE   ? COARSE_STRIDES
                           : care == BFI_FINEST ? FINEST_STRIDES
                           : s->crosses         ? CROSSING_STRIDES
                                                : FINE_STRIDES);
}

bf_status bfi_stride_at(bfi_hung *s, double slant, double *gap_m) {
    if (!(slant > 0 && slant < slant_of(bfi_whole_lift_n(s) / sideways_of(s)))) return BF_E_MODEL_RANGE;
    s->slack = (bfi_slack){0, 0};
    s->is_lifted = 0;
    s->slant = slant;
    return slant_gap(s, slant, gap_m);
}

bf_status bfi_float_at(bfi_hung *s, double less_m, double *gap_m) {
    if (!(less_m < 0 && less_m > -to_shot_m(s->rigging))) return BF_E_MODEL_RANGE;
    s->slack = (bfi_slack){0, 0};
    s->is_lifted = 0;
    s->afloat.at = less_m;
    return float_gap(s, less_m, gap_m);
}

bf_status bfi_hang_air(bfi_hung *s, bfi_care care) {
    const bfi_rigging *r = s->rigging;
    double most = slant_of(bfi_whole_lift_n(s) / sideways_of(s));
    if (!(s->per_slant > 0)) {
        s->slant = slant_of(r->tip_m / sqrt(r->above_m * r->above_m - r->tip_m * r->tip_m));
        s->per_slant = RISES * r->above_m;
    }
    if (s->slant > most) s->slant = most;
    bfi_take_care(s, care == BFI_FINEST ? BFI_FINE : care);
    if (care == BFI_COARSE) return meet_tip(s, most, MEETS_COARSELY_M);
    bf_status status = meet_tip(s, most, MEETS_FINELY_M);
    if (status || care == BFI_FINE || !bfi_is_touchy(s)) return status;
    bfi_take_care(s, BFI_FINEST);
    return meet_tip(s, most, MEETS_FINEST_M);
}
