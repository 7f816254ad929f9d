/* spread.c -- see spread.h. The pieces of one put-in, step by step: how many, where they meet the water, do
 * they hang, do they fall as a cloud, where do they land, what does the pile look like. */
#include "baitfall/spread.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/film.h"
#include "baitfall/pot.h"
#include "core/feed/thrown.h"

/* fall.h takes a piece at most so fast, and water at least so deep. */
#define MOST_ENTRY_M_S 12.0
#define LEAST_DEPTH_M 0.05

/* Radius that holds nine in ten of a round normal pile, in standard deviations: sqrt(2 ln 10). */
#define NINE_TENTHS_RADIUS 2.145966026289347

/* Half the range that holds the middle nine in ten of normal numbers, in standard deviations. */
#define NINE_TENTHS_HALF_RANGE 1.6448536269514722

/* Of pieces too large for the pot's mouth, said to go in nevertheless: a judgement, no source. */
#define LOOSE_VOIDAGE 0.5

/* One put-in: everything decided for this draw, then what becomes of each piece. */
typedef struct put_in {
    const bf_scene *scene;
    const bf_draw *draw;
    int most;       /* pieces that are followed at most     */
    int n;          /* pieces followed                      */
    double pieces;  /* pieces there are                     */
    double lump_m3; /* of a clump, voids included           */
    bf_current current;
    bf_floor floor;
    bf_air air;
    bf_piece middle;
    bf_piece piece[BF_SPREAD_MOST_PIECES];
    bf_entry entry[BF_SPREAD_MOST_PIECES];
    double since_s[BF_SPREAD_MOST_PIECES]; /* when it enters, since the put-in began */
    int hangs[BF_SPREAD_MOST_PIECES];
    int is_down[BF_SPREAD_MOST_PIECES];
    bf_landing landing[BF_SPREAD_MOST_PIECES]; /* time_s since the put-in began */
    double wander_m[BF_SPREAD_MOST_PIECES];    /* one standard deviation        */
} put_in;

/* How many ----------------------------------------------------------------------------------------------- */

static bf_status count_pieces(put_in *p) {
    const bf_scene *s = p->scene;
    bf_pot_out held;
    bf_status status = bf_pot_holds(&s->bait, &s->pot, &s->counted, &held);
    if (status) return status;

    p->pieces = bf_put_pieces(s, held.pieces);
    double whole = floor(p->pieces + 0.5);
    p->n = whole > p->most ? p->most : whole < 1 ? 1 : (int)whole;
    if (!(p->pieces > 0)) p->n = 0;

    double volume = bf_piece_volume_m3(s->bait.form, s->bait.diameter_m.value, s->bait.length_m.value);
    double voidage = held.voidage_frac < 1 ? held.voidage_frac : LOOSE_VOIDAGE;
    p->lump_m3 = p->pieces * volume / (1.0 - voidage);
    return BF_OK;
}

static bf_status begin(put_in *p, const bf_scene *scene, const bf_draw *draw, int most) {
    p->scene = scene;
    p->draw = draw;
    p->most = most;
    p->air = bf_air_of(&scene->lake);
    double slope = scene->spot.slope_deg.value * BF_RAD_PER_DEG;
    p->floor = (bf_floor){scene->spot.depth_m.value, bf_tan(slope)};
    bf_status status = bf_current_of(&scene->lake, scene->spot.depth_m.value, &p->current);
    if (status) return status;
    p->middle = bf_piece_of(&scene->bait, &scene->lake);
    status = count_pieces(p);
    if (status) return status;
    for (int i = 0; i < p->n; i++)
        p->piece[i] = bf_piece_other(&p->middle, &scene->bait, bfi_scatter_normal(draw, BFI_PIECE_SIZE, i),
                                     bfi_scatter_normal(draw, BFI_PIECE_DENSITY, i));
    return BF_OK;
}

/* Where they meet the water ------------------------------------------------------------------------------ */

/* A flight as an entry into the water, no faster than fall.h accepts. */
static bf_entry entry_of(const bf_flight *f) {
    double speed = sqrt(f->u_m_s * f->u_m_s + f->v_m_s * f->v_m_s + f->w_m_s * f->w_m_s);
    double keep = speed > MOST_ENTRY_M_S ? MOST_ENTRY_M_S / speed : 1;
    return (bf_entry){f->x_m, f->y_m, 0, keep * f->u_m_s, keep * f->v_m_s, keep * f->w_m_s};
}

static void move(bf_entry *entry, double x_m, double y_m) {
    entry->x_m += x_m;
    entry->y_m += y_m;
}

/* Moves a piece to its place in a round pile: evenly over a disc, or evenly through a ball seen from above. */
static void place_in_disc(put_in *p, int i, double radius_m, int is_ball) {
    double u = bfi_scatter_uniform(p->draw, BFI_SURFACE_X, i);
    double turn = 2 * BF_PI * bfi_scatter_uniform(p->draw, BFI_SURFACE_Y, i);
    double third = bf_cbrt(1 - u), r = radius_m * sqrt(is_ball ? 1 - third * third : u);
    move(&p->entry[i], r * bf_cos(turn), r * bf_sin(turn));
}

static void place_normal(put_in *p, int i, double wide_m) {
    double sd = wide_m / 2 / NINE_TENTHS_RADIUS;
    move(&p->entry[i], sd * bfi_scatter_normal(p->draw, BFI_SURFACE_X, i),
         sd * bfi_scatter_normal(p->draw, BFI_SURFACE_Y, i));
}

/* Clump, sprinkle, hand: let go from rest; in the air all pieces go as the middle one does. A clump's pieces
 * get their places beside each other later, when it is known whether they fall as a cloud. */
static bf_status drop_all(put_in *p) {
    const bf_put *put = &p->scene->put;
    bf_release release = {put->height_m.value, 0, 0, 0};
    bf_flight flight;
    bf_status status = bf_throw_flight(&p->middle, &release, &p->air, BFI_THROW_TOLERANCE_M, &flight);
    if (status) return status;
    for (int i = 0; i < p->n; i++) {
        p->entry[i] = entry_of(&flight);
        p->since_s[i] = flight.time_s;
        if (put->how != BF_CLUMP) place_normal(p, i, put->wide_m.value);
        if (put->how == BF_SPRINKLE)
            p->since_s[i] += put->over_s.value * bfi_scatter_uniform(p->draw, BFI_RELEASE_TIME, i);
    }
    return BF_OK;
}

/* Throw: from above the butt mark towards the spot; places are then measured from the spot. */
static bf_status throw_all(put_in *p) {
    double out = p->scene->spot.distance_m.value, right = p->scene->spot.side_m.value;
    double bearing_deg = bf_atan2(right, out) / BF_RAD_PER_DEG;
    for (int i = 0; i < p->n; i++) {
        bf_flight flight;
        bf_status status =
            bfi_thrown(&p->scene->sling, bearing_deg, &p->piece[i], &p->air, p->draw, i, &flight);
        if (status) return status;
        p->entry[i] = entry_of(&flight);
        p->since_s[i] = flight.time_s;
        move(&p->entry[i], -out, -right);
    }
    return BF_OK;
}

static bf_status meet_the_water(put_in *p) {
    bf_status status = p->scene->put.how == BF_THROW ? throw_all(p) : drop_all(p);
    if (status) return status;
    for (int i = 0; i < p->n; i++)
        move(&p->entry[i], p->scene->put.offset_out_m.value, p->scene->put.offset_side_m.value);
    return BF_OK;
}

/* On the film -------------------------------------------------------------------------------------------- */

/* A piece that hangs drifts with the very surface and then sinks from rest. It lets go at random:
 * exponential. */
static void hang(put_in *p) {
    double tension = bf_water_tension_n_m(p->scene->lake.temp_c.value), drift_x, drift_y;
    bf_current_at(&p->current, 0, &drift_x, &drift_y);
    for (int i = 0; i < p->n; i++) {
        bf_entry *e = &p->entry[i];
        double mean_s = bf_film_hang_s(&p->scene->bait, &p->piece[i], e->w_m_s, tension);
        p->hangs[i] = mean_s > 0;
        if (!p->hangs[i]) continue;
        double hang_s = -mean_s * bf_log(bfi_scatter_uniform(p->draw, BFI_HANG, i));
        *e = (bf_entry){e->x_m + drift_x * hang_s, e->y_m + drift_y * hang_s, 0, 0, 0, 0};
        p->since_s[i] += hang_s;
    }
}

/* As a cloud --------------------------------------------------------------------------------------------- */

/* The cloud of those pieces of a clump that do not hang; it ends at the bottom if it has not come apart
 * before. */
static bf_status cloud_of(const put_in *p, double entry_m_s, bf_cloud *cloud) {
    int n_hang = 0;
    for (int i = 0; i < p->n; i++) n_hang += p->hangs[i];
    double part = 1.0 - (double)n_hang / p->n, widening = p->scene->put.widening_frac.value;
    *cloud = (bf_cloud){0, 0, 0, 0, 0};
    if (!(part > 0)) return BF_OK;
    bf_status status =
        bf_cloud_of(part * p->pieces, &p->middle, part * p->lump_m3, widening, entry_m_s, cloud);
    if (status || !cloud->is_cloud) return status;

    double most_m = p->floor.depth_m - LEAST_DEPTH_M;
    if (cloud->depth_m > most_m) {
        cloud->radius_m -= widening * (cloud->depth_m - most_m);
        cloud->time_s *= most_m / cloud->depth_m;
        cloud->depth_m = most_m;
    }
    return BF_OK;
}

/* A piece of a cloud goes down with it, drifts with the water it passes, and leaves it sinking as it would
 * alone. */
static void carry_down(put_in *p, int i, const bf_cloud *cloud, double sink_m_s) {
    double drift_x, drift_y, s_per_m = cloud->time_s / cloud->depth_m;
    bf_entry *e = &p->entry[i];
    bf_current_integral(&p->current, cloud->depth_m, &drift_x, &drift_y);
    *e = (bf_entry){e->x_m + drift_x * s_per_m, e->y_m + drift_y * s_per_m, cloud->depth_m, 0, 0, sink_m_s};
    p->since_s[i] += cloud->time_s;
}

/* Gives the pieces of a clump their places: those of a cloud where it comes apart, the others within the
 * pot's mouth. */
static bf_status spread_clump(put_in *p, double entry_m_s) {
    double sink_m_s, reynolds, mouth_radius_m = p->scene->pot.mouth_m.value / 2;
    bf_cloud cloud = {0, 0, 0, 0, 0};
    bf_status status = bf_fall_speed(&p->middle, &sink_m_s, &reynolds);
    if (status == BF_OK && p->floor.depth_m > LEAST_DEPTH_M) status = cloud_of(p, entry_m_s, &cloud);
    if (status && status != BF_E_MODEL_RANGE) return status; /* a bait that floats has no cloud */
    for (int i = 0; i < p->n; i++) {
        int in_cloud = cloud.is_cloud && !p->hangs[i];
        if (in_cloud) carry_down(p, i, &cloud, sink_m_s);
        place_in_disc(p, i, in_cloud ? cloud.radius_m : mouth_radius_m, in_cloud);
    }
    return BF_OK;
}

/* To the bottom ------------------------------------------------------------------------------------------ */

double bf_wander_m(const bf_piece *piece, int form, double fall_m, double wander_frac) {
    double sd = sqrt(0.29 * piece->equivalent_m * (fall_m > 0 ? fall_m : 0));
    return wander_frac * (bf_is_round(form) ? 0.5 : 1.0) * sd;
}

/* Where there is no water under a piece it stays where it fell. */
static void strand(put_in *p, int i) {
    const bf_entry *e = &p->entry[i];
    p->landing[i] = (bf_landing){e->x_m, e->y_m, 0, 0, 0};
    p->is_down[i] = 1;
}

static bf_status sink_all(put_in *p) {
    bf_status status[BF_SPREAD_MOST_PIECES];
    bf_fall_land_many(p->piece, p->entry, (size_t)p->n, &p->current, &p->floor, status, p->landing);
    for (int i = 0; i < p->n; i++) {
        double under_m = p->floor.depth_m + p->floor.slope * p->entry[i].x_m - p->entry[i].z_m;
        p->is_down[i] = status[i] == BF_OK;
        if (status[i] == BF_E_RANGE && !(under_m > 0))
            strand(p, i);
        else if (status[i] && status[i] != BF_E_MODEL_RANGE && status[i] != BF_E_NO_CONVERGE)
            return status[i]; /* those two: it floats, or hovers for ever */
        p->wander_m[i] = bf_wander_m(&p->piece[i], p->scene->bait.form, p->landing[i].z_m - p->entry[i].z_m,
                                     p->scene->put.wander_frac.value);
        p->landing[i].time_s += p->since_s[i];
    }
    return BF_OK;
}

static bf_status land(put_in *p) {
    bf_status status = meet_the_water(p);
    if (status) return status;
    double entry_m_s = p->entry[0].w_m_s;
    hang(p);
    if (p->scene->put.how == BF_CLUMP) status = spread_clump(p, entry_m_s);
    if (status) return status;
    return sink_all(p);
}

static void wander(put_in *p) {
    for (int i = 0; i < p->n; i++) {
        p->landing[i].x_m += p->wander_m[i] * bfi_scatter_normal(p->draw, BFI_LATERAL_X, i);
        p->landing[i].y_m += p->wander_m[i] * bfi_scatter_normal(p->draw, BFI_LATERAL_Y, i);
    }
}

/* One put-in from the count to the bottom, its pieces where they would lie without wander. */
static bf_status put_in_all(put_in *p, const bf_scene *scene, const bf_draw *draw, int most) {
    bf_status status = begin(p, scene, draw, most);
    return status == BF_OK && p->n > 0 ? land(p) : status;
}

bf_status bf_spread_pile(const bf_scene *scene, const bf_draw *draw, int most, bf_pile *pile) {
    BF_ASSERT(most >= 1 && most <= BF_SPREAD_MOST_PIECES);
    put_in p;
    *pile = (bf_pile){0};
    bf_status status = put_in_all(&p, scene, draw, most);
    if (status) return status;
    for (int i = 0; i < p.n; i++) {
        if (!p.is_down[i]) continue;
        pile->x_m[pile->n] = p.landing[i].x_m;
        pile->y_m[pile->n] = p.landing[i].y_m;
        pile->wander_m[pile->n] = p.wander_m[i];
        pile->n++;
    }
    if (p.n > 0) pile->pieces = p.pieces * pile->n / p.n;
    return BF_OK;
}

/* What the pile looks like ------------------------------------------------------------------------------- */

typedef struct lying {
    int n;
    double x[BF_SPREAD_MOST_PIECES], y[BF_SPREAD_MOST_PIECES], time_s[BF_SPREAD_MOST_PIECES];
    double middle_x, middle_y;
} lying;

/* The middle is the median along each axis: one slow piece far off does not move it. */
static double middle_of(const double *values, int n) {
    double sorted[BF_SPREAD_MOST_PIECES];
    for (int i = 0; i < n; i++) sorted[i] = values[i];
    bf_sort(sorted, (size_t)n);
    return bf_quantile_sorted(sorted, (size_t)n, 0.5);
}

static lying pile_of(const put_in *p) {
    lying pile = {0};
    for (int i = 0; i < p->n; i++) {
        if (!p->is_down[i]) continue;
        pile.x[pile.n] = p->landing[i].x_m;
        pile.y[pile.n] = p->landing[i].y_m;
        pile.time_s[pile.n] = p->landing[i].time_s;
        pile.n++;
    }
    pile.middle_x = middle_of(pile.x, pile.n);
    pile.middle_y = middle_of(pile.y, pile.n);
    return pile;
}

/* Unit vector along which the pile is longest: the first axis of its covariance. */
static void longest_axis(const lying *pile, double *ax, double *ay) {
    double xx = 0, xy = 0, yy = 0;
    for (int i = 0; i < pile->n; i++) {
        double dx = pile->x[i] - pile->middle_x, dy = pile->y[i] - pile->middle_y;
        xx += dx * dx;
        xy += dx * dy;
        yy += dy * dy;
    }
    double turn = 0.5 * bf_atan2(2 * xy, xx - yy);
    *ax = bf_cos(turn);
    *ay = bf_sin(turn);
}

/* Axis of the ellipse that holds nine in ten of a normal pile with the same middle nine tenths along this
 * direction. */
static double axis_along(const lying *pile, double ax, double ay) {
    double at[BF_SPREAD_MOST_PIECES];
    for (int i = 0; i < pile->n; i++) at[i] = pile->x[i] * ax + pile->y[i] * ay;
    bf_sort(at, (size_t)pile->n);
    double range =
        bf_quantile_sorted(at, (size_t)pile->n, 0.95) - bf_quantile_sorted(at, (size_t)pile->n, 0.05);
    return range * NINE_TENTHS_RADIUS / NINE_TENTHS_HALF_RANGE;
}

static void describe(const lying *pile, bf_spread_out *out) {
    double away[BF_SPREAD_MOST_PIECES], time_s[BF_SPREAD_MOST_PIECES], ax, ay;
    size_t n = (size_t)pile->n;
    for (size_t i = 0; i < n; i++) {
        away[i] = bf_hypot(pile->x[i] - pile->middle_x, pile->y[i] - pile->middle_y);
        time_s[i] = pile->time_s[i];
    }
    bf_sort(away, n);
    bf_sort(time_s, n);
    longest_axis(pile, &ax, &ay);
    out->wide_m = 2 * bf_quantile_sorted(away, n, 0.9);
    out->half_wide_m = 2 * bf_quantile_sorted(away, n, 0.5);
    out->long_m = axis_along(pile, ax, ay);
    out->narrow_m = axis_along(pile, -ay, ax);
    out->out_m = pile->middle_x;
    out->right_m = pile->middle_y;
    out->miss_m = bf_hypot(pile->middle_x, pile->middle_y);
    out->first_s = bf_quantile_sorted(time_s, n, 0.1);
    out->last_s = bf_quantile_sorted(time_s, n, 0.9);
}

#define OUT(member, dimension, least, help)                                                                  \
    BF_R(bf_spread_out, member, dimension, least, BF_INFINITY, BF_NAN, help)

static const bf_field spread_out_fields[] = {
    OUT(wide_m, BF_LENGTH, 0,
        "nine pieces in ten lie inside a ring of this diameter about the middle of the pile"),
    OUT(half_wide_m, BF_LENGTH, 0, "half of them lie inside a ring of this diameter"),
    OUT(long_m, BF_LENGTH, 0, "length of the ellipse that holds nine in ten"),
    OUT(narrow_m, BF_LENGTH, 0, "its width"),
    OUT(out_m, BF_LENGTH, -BF_INFINITY, "the middle of the pile lies this much further out than meant"),
    OUT(right_m, BF_LENGTH, -BF_INFINITY, "and this much to the right"),
    OUT(miss_m, BF_LENGTH, 0, "and this far from the point meant"),
    OUT(first_s, BF_TIME, 0, "one piece in ten is down by then"),
    OUT(last_s, BF_TIME, 0, "nine in ten are down by then"),
    OUT(hang_frac, BF_PURE, 0, "part of the pieces that hang on the surface film for a while"),
    OUT(afloat_frac, BF_PURE, 0, "part of the pieces that never sink"),
};

const bf_table bf_spread_out_table = BF_TABLE("spread", bf_spread_out, spread_out_fields);

#define N_OUT ((int)(sizeof spread_out_fields / sizeof spread_out_fields[0]))

static void write_raw(const put_in *p, double *raw) {
    for (int i = 0; i < BF_SPREAD_RAW_PIECES; i++, raw += 3) {
        int is_there = i < p->n && p->is_down[i];
        raw[0] = is_there ? p->landing[i].x_m : BF_NAN;
        raw[1] = is_there ? p->landing[i].y_m : BF_NAN;
        raw[2] = is_there ? p->landing[i].time_s : BF_NAN;
    }
}

bf_status bf_spread_model(const void *scene, const bf_draw *draw, double *out) {
    put_in p;
    for (int i = 0; i < N_OUT + BF_SPREAD_RAW; i++) out[i] = BF_NAN;
    bf_status status = put_in_all(&p, scene, draw, BF_SPREAD_MOST_PIECES);
    if (status) return status;
    wander(&p);

    int n_hang = 0;
    for (int i = 0; i < p.n; i++) n_hang += p.hangs[i];
    lying pile = pile_of(&p);
    bf_spread_out answer;
    memcpy(&answer, out, sizeof answer); /* NaN so far */
    answer.hang_frac = (double)n_hang / p.n;
    answer.afloat_frac = 1.0 - (double)pile.n / p.n;
    if (pile.n > 0) describe(&pile, &answer);

    memcpy(out, &answer, sizeof answer);
    write_raw(&p, out + N_OUT);
    return pile.n == 0 && draw->is_nominal ? BF_E_MODEL_RANGE : BF_OK;
}

size_t bf_spread_points(const double *rows, size_t n_rows, double *x_m, double *y_m) {
    size_t n = 0;
    for (size_t k = 0; k < n_rows; k++, rows += N_OUT + BF_SPREAD_RAW)
        for (int i = 0; i < BF_SPREAD_RAW_PIECES; i++) {
            const double *at = rows + N_OUT + 3 * i;
            if (at[0] != at[0]) continue;
            x_m[n] = at[0];
            y_m[n] = at[1];
            n++;
        }
    return n;
}

/* For drawings and remarks ------------------------------------------------------------------------------- */

bf_status bf_spread_path(const bf_scene *scene, int n, double *s, double *x_m, double *z_m) {
    BF_ASSERT(n >= 2 && n <= 64);
    bf_current current;
    bf_status status = bf_current_of(&scene->lake, scene->spot.depth_m.value, &current);
    bf_piece middle = bf_piece_of(&scene->bait, &scene->lake);
    bf_entry entry = {0, 0, 0, 0, 0, 0};
    s[0] = x_m[0] = z_m[0] = 0;
    for (int i = 1; i < n && status == BF_OK; i++) {
        double depth_m = scene->spot.depth_m.value * i / (n - 1);
        bf_floor level = {depth_m < LEAST_DEPTH_M ? LEAST_DEPTH_M : depth_m, 0};
        double part = depth_m / level.depth_m; /* 1, but for the first centimetres, passed at one speed */
        bf_landing landing;
        status = bf_fall_land(&middle, &entry, &current, &level, &landing);
        s[i] = part * landing.time_s;
        x_m[i] = part * landing.x_m;
        z_m[i] = part * landing.z_m;
    }
    return status;
}

/* Steeper than this, round pieces may roll: a judgement, no source. */
#define ROLLING_DEG 15.0

static int throw_notes(const bf_scene *scene, const bf_ensemble_result *result, bf_note *notes) {
    double meant = bf_hypot(scene->spot.distance_m.value, scene->spot.side_m.value);
    double off = result->range[offsetof(bf_spread_out, out_m) / sizeof(double)].mid;
    int n = 0;
    notes[n++] = (bf_note){BF_NOTE_MEASURE_THROW, {0, 0, 0}};
    if (fabs(off) > 1.0) notes[n++] = (bf_note){BF_NOTE_THROW_OFF_SPOT, {meant + off, meant, 0}};
    return n;
}

int bf_spread_notes(const void *record, const bf_ensemble_result *result, bf_note *notes) {
    const bf_scene *scene = record;
    const bf_range *hang = &result->range[offsetof(bf_spread_out, hang_frac) / sizeof(double)];
    const bf_range *afloat = &result->range[offsetof(bf_spread_out, afloat_frac) / sizeof(double)];
    int n = 0;
    int is_by_pole = scene->put.how == BF_CLUMP || scene->put.how == BF_SPRINKLE;
    notes[n++] = (bf_note){BF_NOTE_ESTIMATE, {0, 0, 0}};
    if (is_by_pole) notes[n++] = (bf_note){BF_NOTE_POWER_LINES, {0, 0, 0}};
    n += bf_bait_notes(&scene->bait, notes + n);
    n += bf_wind_notes(&scene->lake, scene->spot.depth_m.value, notes + n);
    if (scene->lake.drift == BF_DRIFT_WIND && scene->lake.wind_side_deg.is_unknown)
        notes[n++] = (bf_note){BF_NOTE_WIND_SIDE, {0, 0, 0}};
    if (scene->put.how == BF_THROW) n += throw_notes(scene, result, notes + n);
    if (hang->hi > BFI_WORTH_A_WORD)
        notes[n++] = (bf_note){BF_NOTE_HANGING, {hang->lo, hang->hi, 0}};
    else if (bf_film_may_hang(&scene->bait, &scene->lake))
        notes[n++] = (bf_note){BF_NOTE_PUNCHES, {0, 0, 0}};
    if (afloat->hi > BFI_WORTH_A_WORD) notes[n++] = (bf_note){BF_NOTE_AFLOAT, {afloat->hi, 0, 0}};
    if (fabs(scene->spot.slope_deg.value) > ROLLING_DEG) notes[n++] = (bf_note){BF_NOTE_ROLLING, {0, 0, 0}};
    return n;
}
