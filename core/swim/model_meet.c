/* model_meet.c -- an entry meets the model: its chance, and what it does to the state; and what is read of the state. */
#include "core/swim/state.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/random.h"
#include "baitfall/special.h"
#include "core/swim/fixed.h"
#include "core/swim/shown.h"

static double *spot_of(const bfi_swim *swim, int n, double *x, int spot) {
    return x + (size_t)bfi_spot_column(swim, spot) * (size_t)n;
}
static const double *read_spot(const bfi_swim *swim, int n, const double *x, int spot) {
    return x + (size_t)bfi_spot_column(swim, spot) * (size_t)n;
}

static double larger(double a, double b) {
    return a > b ? a : b;
}

/* ---- What a rig would show --------------------------------------------------------------------------------------- */

/* As the step has them (model.c, spot_step), at this instant. */
void bfi_swim_shows(const bfi_swim *swim, int n, const double *x, int spot, int hook, int p,
                    double h[N_SHOWN]) {
    const double *c = read_spot(swim, n, x, spot) + p, *tight = c + PIECES * n,
                 *wide = tight + swim->n_classes * n;
    lanes search = lanes_of(0), handle = search, search_loose = search, small = search;
    for (int k = 0; k < swim->n_classes; k++) {
        lanes pieces = lanes_at(tight + k * n, 1), a = swim->search_by[k] * pieces;
        search += a, handle += a * swim->handle_by[k], small += swim->small[k] * pieces;
        search_loose += swim->search_by[k] * lanes_at(wide + k * n, 1);
    }
    bfi_whose own = bfi_whose_at(swim, n, x, p, 1);
    lanes searches = bfi_of(own, BF_SWIM_SEARCH);
    search *= searches, search_loose *= searches, handle *= searches * bfi_of(own, BF_SWIM_HANDLE);
    bfi_about about = {
        .at_m2 = lanes_at(c + TIGHT_M2 * n, 1), .small = small, .wary = lanes_at(c + WARY * n, 1)};
    lanes keen = bfi_keen(bfi_activity(swim, own), lanes_at(x + HUNGER * n + p, 1));
    about.on = bfi_on_patch(lanes_at(c + FISH * n, 1), about.wary, search, search_loose);
    about.rate = bfi_search_rate(keen, about.on, about.at_m2, handle);
    bfi_meets meets =
        bfi_meets_of(swim, own, spot, lanes_of(swim->hook_by[hook]), lanes_of(swim->hook_soft[hook]), &about);
    lanes each[N_SHOWN];
    bfi_meets_parted(own, &meets, about.on, each);
    for (int i = 0; i < N_SHOWN; i++) h[i] = each[i][0];
}

/* ---- Entries ------------------------------------------------------------------------------------------------------- */

static double pieces_left(const bfi_swim *swim, int n, const double *x, int spot, int p) {
    const double *pieces = read_spot(swim, n, x, spot) + PIECES * n;
    double left = 0;
    for (int k = 0; k < 2 * swim->n_classes; k++) left += pieces[k * n + p];
    return left;
}

/* What nobody can know of a put-in, each particle for itself: how many pieces it was, where that was not counted, and how long
 * they last. */
typedef struct put_in {
    double count, crumbling;
} put_in;

#define PUT_STREAM (UINT64_C(1) << 61)
#define SOON_STREAM (UINT64_C(1) << 60)

static put_in drawn_put_in(const bfi_swim *swim, const bf_swim_event *e, int p) {
    double u[2];
    uint64_t put = (uint64_t)swim->now.step * BF_SWIM_MOST_FEEDS + (uint64_t)e->what;
    bf_uniform2(swim->seed, swim->stream ^ PUT_STREAM, put * MOST_PARTICLES + (uint64_t)p, u);
    double far = e->count_pm_frac * sqrt(3.0) * (2 * u[0] - 1); /* even, of that standard deviation */
    return (put_in){.count = e->count * larger(1 + far, 0),
                    .crumbling = bf_exp((2 * u[1] - 1) * swim->log_lasting[e->what])};
}

static void feed_lands(bfi_swim *swim, int n, double *x, const bf_swim_event *e) {
    int loose = e->how == BF_THROW || e->how == BF_HAND, k = swim->class_of[e->what];
    double *c = spot_of(swim, n, x, e->spot);
    const double *wary = x + (bfi_own_column(swim) + BF_SWIM_WARY) * n;
    double *zone = c + (PIECES + (loose ? swim->n_classes : 0)) * n,
           *m2 = c + (loose ? LOOSE_M2 : TIGHT_M2) * n;
    for (int p = 0; p < n; p++) {
        put_in put = drawn_put_in(swim, e, p);
        double lay = 0, at_spot = pieces_left(swim, n, x, e->spot, p), *crumbling = c + CRUMBLING * n + p;
        for (int j = 0; j < swim->n_classes; j++) lay += zone[j * n + p];
        m2[p] = (m2[p] * lay + e->area_m2 * put.count) / (lay + put.count);
        *crumbling = (*crumbling * at_spot + put.crumbling * put.count) / (at_spot + put.count);
        zone[k * n + p] += put.count;
        if (!loose && !e->is_further)
            c[WARY * n + p] += WARY_POT * wary[p] * c[FISH * n + p] / (c[FISH * n + p] + 1);
    }
    swim->now.splash[e->spot] += loose ? SPLASH_LOOSE * sqrt(e->count) : !e->is_further;
    swim->now.expect += !e->is_further;
    swim->now.fed = (int)swim->now.fed | 1 << e->spot;
    if (loose) swim->now.loose = (int)swim->now.loose | 1 << e->spot;
}

/* What a drop's end does to particle p: a fish that was on the hook is gone, the others are scared. */
static void ends_for(const bfi_swim *swim, int n, double *x, int spot, int outcome, int p) {
    static const double scare[N_BITES] = {
        [BF_LANDED] = WARY_LANDED, [BF_LOST] = WARY_LOST, [BF_MISSED] = WARY_MISSED, [BF_FOUL] = WARY_LOST};
    double *c = spot_of(swim, n, x, spot) + p;
    if (outcome != BF_MISSED) c[FISH * n] = larger(c[FISH * n] - 1, 0);
    c[WARY * n] += scare[outcome] * x[(bfi_own_column(swim) + BF_SWIM_WARY) * n + p];
}

void bfi_swim_ends(bfi_swim *swim, int n, double *x, int spot, int outcome) {
    if (outcome >= N_BITES) return;
    for (int p = 0; p < n; p++) ends_for(swim, n, x, spot, outcome, p);
    if (outcome != BF_MISSED) swim->now.fight[spot]++;
}

double bfi_swim_top_lip(double hold, double left) {
    /* odds times HOLD with little feed about, divided by it with much */
    double little = (HOLD_HALF - left) / (HOLD_HALF + left);
    double odds = TOP_LIP / (1 - TOP_LIP) * bf_pow(hold, little);
    return odds / (1 + odds);
}

static void drop_ends(bfi_swim *swim, int n, double *x, const bf_swim_event *e, double *log_w) {
    int hook = (int)swim->now.last_hook[e->spot];
    swim->now.rig_spot = swim->now.rig_hook = -1;
    if (e->outcome < 0 || e->outcome >= N_BITES) return; /* nothing: the angler's choice */
    const double *hold = x + (bfi_own_column(swim) + BF_SWIM_HOLD) * n;
    int mouth = e->held >= BF_LIP_TOP_MIDDLE && e->held <= BF_CORNER;
    for (int p = 0; p < n; p++) {
        double h[N_SHOWN];
        bfi_swim_shows(swim, n, x, e->spot, hook, p, h);
        log_w[p] += bf_log(bfi_entered(h, e->outcome));
        if (mouth) {
            double top = bfi_swim_top_lip(hold[p], pieces_left(swim, n, x, e->spot, p));
            log_w[p] += bf_log(e->held == BF_LIP_TOP_MIDDLE ? top : 1 - top);
        }
    }
    bfi_swim_ends(swim, n, x, e->spot, e->outcome);
}

/* However many touches an entry counts, one movement was there to be seen; the others belong to the same. */
static void touched(bfi_swim *swim, int n, const double *x, const bf_swim_event *e, double *log_w) {
    for (int p = 0; p < n; p++) {
        double h[N_SHOWN];
        bfi_swim_shows(swim, n, x, e->spot, (int)swim->now.last_hook[e->spot], p, h);
        log_w[p] += bf_log(h[SHOWN_TOUCH]);
    }
}

/* Log of the chance that the eye says so of `left` pieces beside `shown` ones. */
static double eye_says(int eye, double left, double shown) {
    double more = bf_log((left + 1) / (shown + 1));
    double above = (more - LOOK_CUT) / LOOK_SD, below = (-LOOK_CUT - more) / LOOK_SD;
    double p = eye == BF_EYE_MORE   ? bf_normal_cdf(above)
               : eye == BF_EYE_LESS ? bf_normal_cdf(below)
                                    : bf_normal_cdf(-above) - bf_normal_cdf(below);
    return bf_log(larger(p, 1e-12));
}

static void looked(const bfi_swim *swim, int n, const double *x, const bf_swim_event *e, double *log_w) {
    double shown = e->count;
    if (!(shown >= 0)) {
        double most = log_w[0], sum = 0, all = 0;
        for (int p = 1; p < n; p++) most = larger(most, log_w[p]);
        for (int p = 0; p < n; p++) {
            double weight = bf_exp(log_w[p] - most);
            all += weight, sum += weight * pieces_left(swim, n, x, e->spot, p);
        }
        shown = sum / all;
    }
    for (int p = 0; p < n; p++) log_w[p] += eye_says(e->eye, pieces_left(swim, n, x, e->spot, p), shown);
}

static void stretch_begins(bfi_swim *swim, int n, double *x, int spot) {
    swim->now.stretch_spot = spot;
    memset(x + (size_t)bfi_stretch_column(swim) * (size_t)n, 0, N_SHOWN * (size_t)n * sizeof *x);
}

/* Counts against what the hazards of the stretch expected, Poisson; then the state moves as those bites would. */
static void tallied(bfi_swim *swim, int n, double *x, const bf_swim_event *e, double *log_w) {
    static const int word[N_SHOWN] = {BF_LANDED, BF_LOST, BF_MISSED, BF_FOUL, BF_TOUCHED};
    const double *sums = x + (size_t)bfi_stretch_column(swim) * (size_t)n;
    int told = (int)swim->now.stretch_spot == e->spot;
    for (int p = 0; p < n; p++) {
        double h[N_SHOWN];
        if (told)
            for (int i = 0; i < N_SHOWN; i++) h[i] = sums[i * n + p];
        else {
            bfi_swim_shows(swim, n, x, e->spot, (int)swim->now.last_hook[e->spot], p, h);
            for (int i = 0; i < N_SHOWN; i++) h[i] *= e->span_s;
        }
        for (int i = 0; i < N_SHOWN; i++) {
            double mean = RIG_IN_SHARE * (i < N_BITES ? bfi_entered(h, i) : h[i]);
            log_w[p] += e->tally[word[i]] * bf_log(larger(mean, 1e-9)) - mean;
        }
    }
    for (int i = 0; i < N_BITES; i++)
        for (int j = 0; j < e->tally[i]; j++) bfi_swim_ends(swim, n, x, e->spot, i);
    swim->now.stretch_spot = -1;
}

void bfi_swim_meet(bfi_swim *swim, int n, double *x, const bf_swim_event *e, double *log_w) {
    switch ((bf_swim_kind)e->kind) {
    case BF_SWIM_FEED:
        if (e->count > 0) feed_lands(swim, n, x, e);
        break;
    case BF_SWIM_IN:
        swim->now.rig_spot = e->spot;
        swim->now.rig_hook = swim->now.last_hook[e->spot] = e->what;
        break;
    case BF_SWIM_TOUCH: touched(swim, n, x, e, log_w); break;
    case BF_SWIM_LIFT: drop_ends(swim, n, x, e, log_w); break;
    case BF_SWIM_LOOK: looked(swim, n, x, e, log_w); break;
    case BF_SWIM_STRETCH: stretch_begins(swim, n, x, e->spot); break;
    case BF_SWIM_TALLY: tallied(swim, n, x, e, log_w); break;
    case BF_SWIM_TEMP: bfi_swim_warm(swim, e->value); break;
    case BF_SWIM_MARK: break;
    }
}

/* ---- Read ------------------------------------------------------------------------------------------------------------ */

void bfi_swim_left(const bfi_swim *swim, int n, const double *x, int spot, int of_class, double *out) {
    const double *pieces = read_spot(swim, n, x, spot) + PIECES * n;
    int K = swim->n_classes;
    for (int p = 0; p < n; p++)
        out[p] = of_class < 0 ? pieces_left(swim, n, x, spot, p)
                              : pieces[of_class * n + p] + pieces[(of_class + K) * n + p];
}

void bfi_swim_left_kg(const bfi_swim *swim, int n, const double *x, int spot, double *out) {
    const double *pieces = read_spot(swim, n, x, spot) + PIECES * n;
    int K = swim->n_classes;
    for (int p = 0; p < n; p++) {
        out[p] = 0;
        for (int k = 0; k < K; k++)
            out[p] += (pieces[k * n + p] + pieces[(k + K) * n + p]) * swim->piece_kg[k];
    }
}

void bfi_swim_fish(const bfi_swim *swim, int n, const double *x, int spot, double *out) {
    memcpy(out, read_spot(swim, n, x, spot) + FISH * n, (size_t)n * sizeof *out);
}

void bfi_swim_near(const bfi_swim *swim, int n, const double *x, double *out) {
    (void)swim;
    memcpy(out, x + NEAR_FISH * n, (size_t)n * sizeof *out);
}

void bfi_swim_eaten(const bfi_swim *swim, int n, const double *x, int spot, double *out) {
    memcpy(out, read_spot(swim, n, x, spot) + GONE * n, (size_t)n * sizeof *out);
}

/* Across the circle as large as the zones together, each by its share of the pieces. */
void bfi_swim_wide(const bfi_swim *swim, int n, const double *x, int spot, double *out) {
    const double *c = read_spot(swim, n, x, spot), *pieces = c + PIECES * n;
    int K = swim->n_classes;
    for (int p = 0; p < n; p++) {
        double tight = 0, loose = 0;
        for (int k = 0; k < K; k++) tight += pieces[k * n + p], loose += pieces[(k + K) * n + p];
        double all = tight + loose, spread = tight * c[TIGHT_M2 * n + p] + loose * c[LOOSE_M2 * n + p];
        out[p] = all > 0 ? 2 * sqrt(spread / all / BF_PI) : BF_NAN;
    }
}

/* What a fight does to particle p by itself: bfi_swim_ends remembers it for all alike and lets fish go one by one, here its share of them goes at once.
 * at: uniform, rounds them to whole ones. */
static void fight_scares(const bfi_swim *swim, int n, double *x, int spot, int p, double at) {
    double *fish = spot_of(swim, n, x, spot) + FISH * n + p, *near = x + NEAR_FISH * n + p;
    double go = *fish * (1 - bf_exp(-LEAVE_FIGHT * FIGHT_S * (1.5 - 0.5 * x[HUNGER * n + p])));
    double gone = floor(go + at);
    *fish -= gone, *near += gone;
}

/* Particle p's hazards over a step, h: where a bite happens, one at most, it ends as they say. */
static void may_bite(const bfi_swim *swim, int n, double *x, int spot, int p, const double h[N_BITES],
                     double all) {
    double u[2];
    int outcome = 0;
    bf_uniform2(swim->seed, swim->stream ^ SOON_STREAM,
                (uint64_t)swim->now.step * MOST_PARTICLES + (uint64_t)p, u);
    if (u[0] > all) return;
    double chance = 1 - bf_exp(-all);
    if (u[0] > chance) return;
    for (double at = u[1] * all; outcome < N_BITES - 1 && (at -= h[outcome]) >= 0;) outcome++;
    ends_for(swim, n, x, spot, outcome, p);
    if (outcome != BF_MISSED) fight_scares(swim, n, x, spot, p, u[0] / chance);
}

/* The rig's hazards step by step, as those of a stretch not logged. */
void bfi_swim_bites_soon_h(bfi_swim *swim, int n, double *x, int spot, int hook, double for_s, double *out) {
    const double *sums = x + (size_t)bfi_stretch_column(swim) * (size_t)n;
    double until_s = swim->now.t_s + for_s;
    swim->now.rig_spot = -1;
    swim->now.last_hook[spot] = hook;
    memset(out, 0, (size_t)n * sizeof *out);
    while (swim->now.t_s < until_s) {
        double next_s = swim->now.t_s + BFI_SWIM_STEP_S;
        stretch_begins(swim, n, x, spot);
        bfi_swim_run(swim, n, x, next_s < until_s ? next_s : until_s, NULL);
        for (int p = 0; p < n; p++) {
            double h[N_BITES], all = 0;
            for (int i = 0; i < N_BITES; i++) all += h[i] = sums[i * n + p];
            out[p] += 3600 / for_s * all;
            may_bite(swim, n, x, spot, p, h, all);
        }
    }
}

void bfi_swim_bites_h(const bfi_swim *swim, int n, const double *x, int spot, int hook, double *out) {
    for (int p = 0; p < n; p++) {
        double h[N_SHOWN];
        bfi_swim_shows(swim, n, x, spot, hook, p, h);
        out[p] = 3600 * (h[BF_LANDED] + h[BF_LOST] + h[BF_MISSED] + h[BF_FOUL]);
    }
}
