/* sketch_water.c -- the water span of a sketched rig: see sketch_parts.h. */
#include "core/tackle/sketch_parts.h"

/* The span's head meets the surface to this. */
#define MEETS_M 2e-6

/* Stretches ------------------------------------------------------------------------------------------------ */

#define WATER_STRIDE_M 0.15
#define SKINS 7 /* as deep the surface's skin reaches */

static void add_stretch(bfi_hung *s, double end_m, bfi_vector shot_n) {
    const bfi_rigging *r = s->rigging;
    double begin_m = s->n_stretches > 0 ? s->stretch[s->n_stretches - 1].end_m : 0;
    double middle_m = 0.5 * (begin_m + end_m);
    int is_fine = middle_m < r->knot_m;
    BF_ASSERT(s->n_stretches < BFI_MOST_STRETCHES);
    s->stretch[s->n_stretches++] =
        (bfi_stretch){end_m,
                      is_fine ? &s->hooklength.water : &s->line.water,
                      is_fine ? r->hooklength.water_n_m : r->line.water_n_m,
                      is_fine ? s->hooklength.stretch_per_n : s->line.stretch_per_n,
                      {0, 0, 0},
                      shot_n};
}

/* Where stretches end between two loads: at the knot, not beyond so much line, and below the surface so many of its skins. */
static void stretch_to(bfi_hung *s, double end_m, bfi_vector shot_n) {
    static const double skins[] = {SKINS, 3.5, 1.7, 0.7};
    const bfi_rigging *r = s->rigging;
    double at_m = s->n_stretches > 0 ? s->stretch[s->n_stretches - 1].end_m : 0;
    const bfi_vector none = {0, 0, 0};
    while (end_m - at_m > 1e-9) {
        double next_m = end_m;
        if (r->knot_m > at_m + 1e-9 && r->knot_m < next_m) next_m = r->knot_m;
        for (size_t i = 0; i < sizeof skins / sizeof skins[0]; i++) {
            double skin_m = r->below_m - skins[i] * r->below.current.skin_m;
            if (skin_m > at_m + 1e-9 && skin_m < next_m) next_m = skin_m;
        }
        int parts = (int)((next_m - at_m) / WATER_STRIDE_M) + 1;
        for (int i = 1; i < parts; i++) add_stretch(s, at_m + (next_m - at_m) * i / parts, none);
        add_stretch(s, next_m, next_m == end_m ? shot_n : none);
        at_m = next_m;
    }
}

#define GAUSS_2 0.28867513459481288 /* from the middle, of the whole */

/* Load on a stretch that runs along t, by the current at two of its depths. */
static void feel(const bfi_hung *s, double z_m, double other_z_m, bfi_vector t, bfi_stretch *of) {
    const bfi_stream *stream = &s->rigging->below;
    double frac = 0.5 * stream->drag_frac;
    of->load_n_m = (bfi_vector){0, 0, of->weight_n_m};
    if (!(frac > 0)) return;
    bfi_add_drag(stream, of->felt, bfi_current_along(s, z_m), s->current_way, t, frac, &of->load_n_m);
    bfi_add_drag(stream, of->felt, bfi_current_along(s, other_z_m), s->current_way, t, frac, &of->load_n_m);
}

/* Upright over the bottom. What stands above the water is taken out of the line between the highest shot and the skin. */
static void feel_upright(bfi_hung *s) {
    const bfi_rigging *r = s->rigging;
    double above_m = r->below_m > r->depth_m ? r->below_m - r->depth_m : 0, begin_m = 0;
    double shot_m = r->n_loads > 0 ? r->load[r->n_loads - 1].at_m : 0,
           skin_m = SKINS * r->below.current.skin_m;
    double bare_m = r->below_m - skin_m - shot_m, frac = bare_m > above_m ? 1 - above_m / bare_m : 0;
    for (int i = 0; i < s->n_stretches; i++) {
        bfi_stretch *of = &s->stretch[i];
        double middle_m = 0.5 * (begin_m + of->end_m), half_m = GAUSS_2 * (of->end_m - begin_m);
        double z_m = r->below_m - middle_m, thinned = 1;
        if (z_m > skin_m && middle_m > shot_m) {
            z_m = skin_m + frac * (z_m - skin_m);
            half_m *= frac;
            thinned = frac;
        } else if (z_m > skin_m) {
            z_m -= above_m;
        }
        feel(s, z_m - half_m, z_m + half_m, (bfi_vector){0, 0, -1}, of);
        of->load_n_m.out *= thinned;
        of->load_n_m.right *= thinned;
        begin_m = of->end_m;
    }
}

void bfi_stretch_water(bfi_hung *s) {
    const bfi_rigging *r = s->rigging;
    s->n_stretches = 0;
    for (int i = 0; i < r->n_loads; i++) {
        const bfi_load *load = &r->load[i];
        const bfi_bead *bead = &r->bead[load->row];
        double flow = bfi_current_along(s, r->below_m - load->at_m);
        double drag =
            r->feels_shot ? bfi_round_drag(&r->below.water, &bead->drag, bead->diameter_m, flow) : 0;
        bfi_vector shot_n = {0, 0, load->count * bead->water_n};
        bfi_add_along(&shot_n, load->count * drag, s->current_way);
        if (s->n_stretches > 0 && load->at_m - s->stretch[s->n_stretches - 1].end_m <= 1e-9) {
            bfi_add(&s->stretch[s->n_stretches - 1].shot_n, 1, shot_n);
        } else {
            stretch_to(s, load->at_m, shot_n);
        }
    }
    stretch_to(s, r->below_m, (bfi_vector){0, 0, 0});
    feel_upright(s);
}

/* Where and as it hung last. */
void bfi_feel_water(bfi_hung *s) {
    bfi_vector below = s->foot_n;
    double z_m = s->foot_z_m, begin_m = s->lies_m;
    for (int i = 0; i < s->n_stretches; i++) {
        bfi_stretch *of = &s->stretch[i];
        double long_m = of->end_m - begin_m;
        if (!(long_m > 0)) continue;
        bfi_vector middle = below;
        bfi_add(&middle, 0.5 * long_m, of->load_n_m);
        bfi_vector t = bfi_way_of((bfi_vector){-middle.out, -middle.right, -middle.down});
        bfi_add(&below, long_m, of->load_n_m);
        bfi_add(&below, 1, of->shot_n);
        feel(s, z_m + (0.5 - GAUSS_2) * long_m * t.down, z_m + (0.5 + GAUSS_2) * long_m * t.down, t, of);
        z_m += long_m * t.down;
        begin_m = of->end_m;
    }
}

/* Up from the foot. Returns how much too low the head comes out. */
double bfi_climb_stretches(bfi_hung *s) {
    bfi_vector below = s->foot_n, head_m = {0, 0, 0};
    double begin_m = s->lies_m;
    for (int i = 0; i < s->n_stretches; i++) {
        const bfi_stretch *of = &s->stretch[i];
        double long_m = of->end_m - begin_m;
        if (!(long_m > 0)) continue;
        bfi_vector middle = below;
        bfi_add(&middle, 0.5 * long_m, of->load_n_m);
        bfi_add(&head_m, -long_m * (1 / (sqrt(bfi_square(middle)) + 1e-12) + of->per_n), middle);
        bfi_add(&below, long_m, of->load_n_m);
        bfi_add(&below, 1, of->shot_n);
        begin_m = of->end_m;
    }
    s->head_m = head_m;
    s->head_n = below;
    return s->foot_z_m + head_m.down + s->raised_m;
}

static double stand_on(bfi_hung *s, double lies_m, double up_n) {
    s->lies_m = lies_m;
    s->up_n = up_n;
    s->foot_n = (bfi_vector){s->bait_n.out, s->bait_n.right, s->lying_n - up_n};
    bfi_add_along(&s->foot_n, up_n, s->grip);
    double pull = bfi_size((bfi_level){s->foot_n.out, s->foot_n.right});
    double per = bfi_size(s->grip) > 0 && pull > 0 ? -lies_m / pull : 0; /* not held at its end: in a heap */
    s->run_m = (bfi_level){per * s->foot_n.out, per * s->foot_n.right};
    s->foot_z_m = s->bed_m + s->rigging->slope * s->run_m.out;
    return bfi_climb_stretches(s);
}

#define LAST_N 1e-9
#define CURRENT_N 1e-6

static double all_of(const bfi_hung *s) {
    double slope = s->rigging->slope;
    return (s->lying_n - slope * s->bait_n.out) / (1 + slope * s->grip.out) - LAST_N;
}

/* As in balance.c: how flat the line leaves; how much of it lies. */
typedef struct leaving {
    bfi_hung *s;
    double most_n, lies_m, from_m, n_m, weight_n;
} leaving;

static bf_status leave_gap(void *of, double flat, double *gap_m) {
    leaving *line = of;
    double sine = 1 - flat, tangent = sine / sqrt(1 - sine * sine);
    double up = (line->most_n - tangent * CURRENT_N) / (1 + bfi_size(line->s->grip) * tangent);
    *gap_m = stand_on(line->s, line->lies_m, up);
    return BF_OK;
}

static bf_status lie_gap(void *of, double lies_m, double *gap_m) {
    leaving *line = of;
    line->s->lying_n = line->weight_n + line->n_m * (lies_m - line->from_m);
    *gap_m = stand_on(line->s, lies_m, all_of(line->s));
    return BF_OK;
}

static bf_status settle_down(bfi_hung *s, double low_m) {
    const bfi_rigging *r = s->rigging;
    double up = 0, at_m = 0, gap;
    for (int i = 0; i <= r->n_loads; i++) {
        double most = all_of(s);
        gap = stand_on(s, s->lies_m, most);
        if (gap >= 0) {
            leaving line = {.s = s, .most_n = most, .lies_m = s->lies_m};
            double tangent = (most - up) / (up * bfi_size(s->grip) + CURRENT_N);
            bfi_known flat = {1 - gap / (gap - low_m), gap - low_m};
            return bfi_close(leave_gap, &line, 1 - tangent / sqrt(1 + tangent * tangent), 1, MEETS_M, &flat);
        }
        s->contact = BF_LIES;
        double next_m = i < r->n_loads ? r->load[i].at_m - 1e-7 : r->below_m;
        while (at_m < next_m) {
            int is_fine = at_m < r->knot_m;
            double to_m = is_fine && r->knot_m < next_m ? r->knot_m : next_m;
            leaving line = {s, 0, 0, at_m, is_fine ? r->hooklength.water_n_m : r->line.water_n_m, s->lying_n};
            (void)lie_gap(&line, to_m, &gap);
            if (gap >= 0) {
                bfi_known lies = {to_m - gap, 1};
                return bfi_close(lie_gap, &line, at_m, to_m, MEETS_M, &lies);
            }
            low_m = gap;
            at_m = to_m;
        }
        up = s->up_n;
        if (i == r->n_loads) break;
        at_m = s->lies_m = r->load[i].at_m;
        s->lying_n += r->load[i].count * r->bead[r->load[i].row].water_n;
    }
    return BF_E_MODEL_RANGE;
}

/* Water span over a bottom at bed_m. */
bf_status bfi_hang_water(bfi_hung *s) {
    s->lying_n = s->bait_n.down;
    if (!(s->lying_n > 0)) return BF_E_MODEL_RANGE;
    s->contact = BF_TOUCHES;
    double gap = stand_on(s, 0, 0);
    if (gap < 0) return settle_down(s, gap);
    s->contact = BF_HANGS;
    s->foot_z_m -= gap;
    return BF_OK;
}
