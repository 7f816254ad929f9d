/* match.c -- nets, guessing and pace; see baitfall/match.h. The bait box: box.c. */
#include "baitfall/match.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/special.h"
#include "core/record/count.h"
#include "core/record/cycle.h"

#define HOUR_MS 3600000.0

static double square(double x) {
    return x * x;
}

static int is_told(double number) {
    return number == number;
}

/* ---- What a fish weighs ---- */

bf_size_class bf_size_class_of(int size) {
    static const double ends_kg[BF_N_SIZES][2] = {
        [BF_UNDER_HALF_LB] = {0.06, 0.25},
        [BF_ONE_LB] = {0.32, 0.65},
        [BF_TWO_LB] = {0.65, 1.3},
        [BF_FOUR_LB] = {1.4, 3.6},
    };
    BF_ASSERT(size >= 0 && size < BF_N_SIZES);
    double lo = ends_kg[size][0], hi = ends_kg[size][1];
    double sd = bf_log(hi / lo) / (2 * BF_PM_PER_SD);
    return (bf_size_class){lo, hi, sqrt(lo * hi) * bf_exp(sd * sd / 2), sd};
}

/* The variance of a log-normal over its squared mean. */
static double cv2_of(double log_sd) {
    return bf_expm1(log_sd * log_sd);
}

static void add_guess(bf_load *load, double kg, double log_sd) {
    load->n_guessed++;
    load->guess_kg += kg;
    load->guess_kg2 += kg * kg * cv2_of(log_sd);
}

static void add_fish(bf_load *load, const bf_drop *drop) {
    if (drop->mass_kg > 0) {
        load->n_scales++;
        load->scales_kg += drop->mass_kg;
    } else if (drop->guess_kg > 0) {
        add_guess(load, drop->guess_kg, BF_GUESS_FISH_SD);
    } else if (drop->size >= 0) {
        bf_size_class class = bf_size_class_of(drop->size);
        add_guess(load, class.mean_kg, class.log_sd);
    } else {
        load->untold += 1;
    }
}

/* ---- Which fish: of a net, between two entries, between two instants ---- */

typedef struct pick {
    int net;                /* 0: any                  */
    int live_from, live_to; /* entries: from <= i < to */
    double from_ms, to_ms;  /* instants: from < t <= to */
} pick;

static pick all_of(const bf_session *session) {
    return (pick){0, session->live_from, session->live_to, -BF_INFINITY, BF_INFINITY};
}

static int is_weighing(const bf_live *live) {
    return !live->is_crossed && live->kind == BF_NET && live->body.net > 0 && is_told(live->body.mass_kg);
}

static int is_change_of_net(const bf_live *live) {
    return !live->is_crossed && live->kind == BF_NET && !is_told(live->body.mass_kg) && live->body.net > 0;
}

static int net_before(const bf_fold *fold, const bf_session *session, int live) {
    while (--live >= session->live_from)
        if (is_change_of_net(&fold->live[live])) return fold->live[live].body.net;
    return 1;
}

static int net_of(const bf_drop *drop) {
    return drop->net > 0 ? drop->net : 1;
}

static int is_in(const pick *p, int live) {
    return live >= p->live_from && live < p->live_to;
}

static int is_fish(const bf_drop *drop) {
    return drop->outcome == BF_LANDED && drop->end_live >= 0;
}

static bf_load load_of(const bf_fold *fold, const bf_session *session, const pick *p) {
    bf_load load = {0};
    for (int i = session->drop_from; i < session->drop_to; i++) {
        const bf_drop *drop = &fold->drop[i];
        int is_then = drop->end_ms > p->from_ms && drop->end_ms <= p->to_ms;
        if (is_fish(drop) && is_then && is_in(p, drop->end_live) && (!p->net || net_of(drop) == p->net))
            add_fish(&load, drop);
    }
    int net = 1, live = session->live_from; // the net that fish go into at a stretch
    for (int i = session->stretch_from; i < session->stretch_to; i++) {
        const bf_stretch *stretch = &fold->stretch[i];
        for (; live < stretch->live; live++)
            if (is_change_of_net(&fold->live[live])) net = fold->live[live].body.net;
        if (is_in(p, stretch->live) && (!p->net || net == p->net))
            load.untold += stretch->count[BF_LANDED] * bfi_stretch_part(stretch, p->from_ms, p->to_ms);
    }
    return load;
}

static void add_load(bf_load *sum, const bf_load *load) {
    sum->n_scales += load->n_scales;
    sum->scales_kg += load->scales_kg;
    sum->n_guessed += load->n_guessed;
    sum->guess_kg += load->guess_kg;
    sum->guess_kg2 += load->guess_kg2;
    sum->untold += load->untold;
}

double bf_load_fish(const bf_load *load) {
    return load->n_scales + load->n_guessed + load->untold;
}

static int whole_fish(const bf_load *load) {
    double n = floor(bf_load_fish(load) + 0.5);
    return n < BFI_COUNT_MOST ? (int)n : BFI_COUNT_MOST;
}

/* The entry after which a net was empty: behind its last weighing before `live`, else the session's first. */
static int emptied_before(const bf_fold *fold, const bf_session *session, int net, int live) {
    while (--live >= session->live_from)
        if (is_weighing(&fold->live[live]) && fold->live[live].body.net == net) return live + 1;
    return session->live_from;
}

/* What was put into a net from when it was last empty until just before entry `live`. */
static bf_load net_load(const bf_fold *fold, const bf_session *session, int net, int live) {
    pick p = all_of(session);
    p.net = net;
    p.live_to = live;
    p.live_from = emptied_before(fold, session, net, live);
    return load_of(fold, session, &p);
}

/* What lay on the scales at entry `live`: with nothing put in since the weighing before, what was weighed then. */
static bf_load weighed_load(const bf_fold *fold, const bf_session *session, int live) {
    int net = fold->live[live].body.net;
    bf_load load = net_load(fold, session, net, live);
    while (bf_load_fish(&load) <= 0 &&
           (live = emptied_before(fold, session, net, live) - 1) >= session->live_from)
        load = net_load(fold, session, net, live);
    return load;
}

/* A weighing of what is not weighed again later. */
static int is_last_weighing(const bf_fold *fold, const bf_session *session, int live) {
    int net = fold->live[live].body.net;
    if (!is_weighing(&fold->live[live])) return 0;
    for (int i = live + 1; i < session->live_to; i++) {
        if (!is_weighing(&fold->live[i]) || fold->live[i].body.net != net) continue;
        bf_load since = net_load(fold, session, net, i);
        return bf_load_fish(&since) > 0;
    }
    return 1;
}

/* ---- The filter ---- */

static void forget_lake(bf_guessing *g) {
    g->mean[BF_LAKE] = bf_log(BF_FISH_KG);
    for (int i = 0; i < BF_N_KNOWN; i++) g->cov[BF_LAKE][i] = g->cov[i][BF_LAKE] = 0;
    g->cov[BF_LAKE][BF_LAKE] = square(BF_FISH_LAKE_SD);
}

/* A new day's value about its lasting one. */
static void new_day_of(bf_guessing *g, int lasting, int day, double sd) {
    g->mean[day] = g->mean[lasting];
    for (int i = 0; i < BF_N_KNOWN; i++)
        if (i != day) g->cov[day][i] = g->cov[i][day] = g->cov[lasting][i];
    g->cov[day][day] = g->cov[lasting][lasting] + sd * sd;
}

static void new_day(bf_guessing *g) {
    new_day_of(g, BF_HABIT, BF_TODAY, BF_GUESS_DAY_SD);
    new_day_of(g, BF_LAKE, BF_LEVEL, BF_FISH_DAY_SD);
}

/* An observation, at some state: what it should be, how it changes with the four, the variance of its own. */
typedef struct seen {
    double expected, slope[BF_N_KNOWN], variance;
} seen;
typedef seen (*look)(const double *state, const void *about);

/* cov = (1 - gain slope) cov (1 - gain slope)' + gain variance gain': right for any gain (P. D. Joseph). */
static void shrink(bf_guessing *g, const double *gain, const seen *s) {
    double keep[BF_N_KNOWN][BF_N_KNOWN], half[BF_N_KNOWN][BF_N_KNOWN];
    for (int i = 0; i < BF_N_KNOWN; i++)
        for (int j = 0; j < BF_N_KNOWN; j++) keep[i][j] = (i == j) - gain[i] * s->slope[j];
    for (int i = 0; i < BF_N_KNOWN; i++)
        for (int j = 0; j < BF_N_KNOWN; j++) {
            half[i][j] = 0;
            for (int k = 0; k < BF_N_KNOWN; k++) half[i][j] += keep[i][k] * g->cov[k][j];
        }
    for (int i = 0; i < BF_N_KNOWN; i++)
        for (int j = 0; j < BF_N_KNOWN; j++) {
            g->cov[i][j] = gain[i] * s->variance * gain[j];
            for (int k = 0; k < BF_N_KNOWN; k++) g->cov[i][j] += half[i][k] * keep[j][k];
        }
}

/* Takes an observation in; of the four, those from `first` on learn from it. Returns 0 and does nothing when it is more than
 * `most_sd` off. */
static int take(bf_guessing *g, double value, look at, const void *about, int first, double most_sd) {
    double state[BF_N_KNOWN], gain[BF_N_KNOWN] = {0};
    seen s = {0};
    memcpy(state, g->mean, sizeof state);
    for (int step = 0; step < 5; step++) {
        double with[BF_N_KNOWN] = {0};
        s = at(state, about);
        double off = value - s.expected, variance = s.variance;
        for (int i = 0; i < BF_N_KNOWN; i++) {
            for (int j = 0; j < BF_N_KNOWN; j++) with[i] += g->cov[i][j] * s.slope[j];
            off -= s.slope[i] * (g->mean[i] - state[i]);
        }
        for (int i = 0; i < BF_N_KNOWN; i++) variance += s.slope[i] * with[i];
        if (step == 0 && off * off > square(most_sd) * variance) return 0;
        for (int i = first; i < BF_N_KNOWN; i++) {
            gain[i] = with[i] / variance;
            state[i] = g->mean[i] + gain[i] * off;
        }
    }
    memcpy(g->mean, state, sizeof state);
    shrink(g, gain, &s);
    return 1;
}

/* The log mean of fish told of one session: guessed ones see level - today, weighed ones level. */
typedef struct told_mean {
    double today; /* 1: guessed, 0: weighed */
    double variance;
} told_mean;

static seen look_at_told(const double *state, const void *about) {
    const told_mean *told = about;
    seen s = {state[BF_LEVEL] - told->today * state[BF_TODAY], {0}, told->variance};
    s.slope[BF_LEVEL] = 1;
    s.slope[BF_TODAY] = -told->today;
    return s;
}

static void take_told(bf_guessing *g, double sum_kg, int n, int is_guessed) {
    if (n == 0) return;
    told_mean told = {is_guessed, square(g->spread_cv) / n + square(BF_TOLD_SD)};
    int is_taken = take(g, bf_log(sum_kg / n), look_at_told, &told, BF_LAKE, BF_INFINITY);
    BF_ASSERT(is_taken);
}

/* A net on the scales. */
typedef struct weighing {
    const bf_load *load;
    double spread_cv;
} weighing;

static seen look_at_weighing(const double *state, const void *about) {
    const weighing *w = about;
    double times = bf_exp(state[BF_TODAY]), fish_kg = bf_exp(state[BF_LEVEL]);
    double guessed = w->load->guess_kg * times, untold = w->load->untold * fish_kg;
    double kg = w->load->scales_kg + guessed + untold;
    double kg2 = w->load->guess_kg2 * times * times + w->load->untold * square(fish_kg * w->spread_cv);
    seen s = {bf_log(kg), {0}, kg2 / (kg * kg)};
    s.slope[BF_TODAY] = guessed / kg;
    s.slope[BF_LEVEL] = untold / kg;
    return s;
}

static void take_weighing(bf_guessing *g, const bf_load *load, double mass_kg) {
    weighing w = {load, g->spread_cv};
    if (mass_kg <= 0 || (load->n_guessed == 0 && load->untold <= 0)) return;
    if (take(g, bf_log(mass_kg), look_at_weighing, &w, BF_HABIT, 4))
        g->n_weighings++;
    else
        g->n_refused++;
}

/* One fish's spread about the mean of those told, as a standard deviation over the mean. */
static double spread_of(const bf_fold *fold, const bf_session *session, const bf_load *told) {
    const double start_weight = 5;
    int n = told->n_scales + told->n_guessed;
    if (n == 0) return BF_FISH_CV;
    double mean = (told->scales_kg + told->guess_kg) / n, sum = 0;
    for (int i = session->drop_from; i < session->drop_to; i++) {
        bf_load one = {0};
        if (!is_fish(&fold->drop[i])) continue;
        add_fish(&one, &fold->drop[i]);
        if (one.untold > 0) continue;
        // A size stands for a range: what lies within it belongs to the spread.
        sum += square((one.scales_kg + one.guess_kg) / mean - 1) +
               (is_told(fold->drop[i].guess_kg) ? 0 : one.guess_kg2 / (mean * mean));
    }
    return sqrt((start_weight * square(BF_FISH_CV) + sum) / (start_weight + n - 1));
}

static void learn_session(bf_guessing *g, const bf_fold *fold, int i_session) {
    const bf_session *session = &fold->session[i_session];
    pick all = all_of(session);
    bf_load load = load_of(fold, session, &all);
    new_day(g);
    g->spread_cv = spread_of(fold, session, &load);
    g->n_told = load.n_scales + load.n_guessed;
    take_told(g, load.guess_kg, load.n_guessed, 1);
    take_told(g, load.scales_kg, load.n_scales, 0);
    for (int i = session->live_from; i < session->live_to; i++) {
        if (!is_last_weighing(fold, session, i)) continue;
        load = weighed_load(fold, session, i);
        take_weighing(g, &load, fold->live[i].body.mass_kg);
    }
}

static int is_same_venue(const bf_fold *fold, int i, int j) {
    return j >= 0 && fold->session[j].venue >= 0 && fold->session[i].venue == fold->session[j].venue;
}

bf_guessing bf_guessing_of(const bf_fold *fold, int session) {
    bf_guessing g = {.session = session, .spread_cv = BF_FISH_CV};
    g.cov[BF_HABIT][BF_HABIT] = square(BF_GUESS_SD);
    for (int i = 0; i < fold->n_sessions; i++) {
        if (i == session || is_same_venue(fold, i, session)) continue;
        forget_lake(&g);
        learn_session(&g, fold, i);
    }
    forget_lake(&g);
    for (int i = 0; i < fold->n_sessions; i++)
        if (i != session && is_same_venue(fold, i, session)) learn_session(&g, fold, i);
    if (session >= 0) {
        learn_session(&g, fold, session);
    } else {
        new_day(&g);
        g.spread_cv = BF_FISH_CV;
        g.n_told = 0;
    }
    return g;
}

static bf_range log_normal(double mean, double variance) {
    double pm = BF_PM_PER_SD * sqrt(variance);
    return (bf_range){bf_exp(mean), bf_exp(mean), bf_exp(mean - pm), bf_exp(mean + pm)};
}

bf_range bf_guessing_factor(const bf_guessing *guessing) {
    return log_normal(guessing->mean[BF_HABIT], guessing->cov[BF_HABIT][BF_HABIT]);
}

bf_range bf_guessing_fish_kg(const bf_guessing *guessing) {
    return log_normal(guessing->mean[BF_LEVEL], guessing->cov[BF_LEVEL][BF_LEVEL]);
}

double bf_guessing_big_kg(const bf_guessing *guessing) {
    double own = bf_log1p(square(guessing->spread_cv));
    double sd = sqrt(own + guessing->cov[BF_LEVEL][BF_LEVEL]);
    return bf_exp(guessing->mean[BF_LEVEL] - own / 2 + BF_PM_PER_SD * sd);
}

/* ---- Sums of log-normals ---- */

double bf_load_kg(const bf_guessing *guessing, const bf_load *load, double p) {
    double v_today = guessing->cov[BF_TODAY][BF_TODAY], v_level = guessing->cov[BF_LEVEL][BF_LEVEL];
    double both = guessing->cov[BF_TODAY][BF_LEVEL];
    double times = bf_exp(guessing->mean[BF_TODAY] + v_today / 2);
    double fish_kg = bf_exp(guessing->mean[BF_LEVEL] + v_level / 2);
    double guessed = load->guess_kg * times, untold = load->untold * fish_kg;
    double mean = guessed + untold;
    if (mean <= 0) return load->scales_kg;
    double common = square(guessed) * bf_expm1(v_today) + square(untold) * bf_expm1(v_level) +
                    2 * guessed * untold * bf_expm1(both);
    double own = load->guess_kg2 * square(times) * bf_exp(v_today) +
                 load->untold * square(fish_kg * guessing->spread_cv) * bf_exp(v_level);
    double log_var = bf_log1p((common + own) / (mean * mean));
    return load->scales_kg + mean * bf_exp(bf_normal_quantile(p) * sqrt(log_var) - log_var / 2);
}

bf_range bf_load_range(const bf_guessing *guessing, const bf_load *load) {
    double nominal = load->scales_kg + load->guess_kg * bf_exp(guessing->mean[BF_TODAY]) +
                     load->untold * bf_exp(guessing->mean[BF_LEVEL]);
    return (bf_range){nominal, bf_load_kg(guessing, load, 0.5), bf_load_kg(guessing, load, 0.1),
                      bf_load_kg(guessing, load, 0.9)};
}

/* ---- Nets ---- */

static bf_range exactly(double value) {
    return (bf_range){value, value, value, value};
}

/* The entry at which a net's load is first more likely over the limit than not. */
static int over_since(const bf_fold *fold, const bf_guessing *g, int net, double limit_kg) {
    const bf_session *session = &fold->session[g->session];
    int below = emptied_before(fold, session, net, session->live_to), over = session->live_to;
    pick p = all_of(session);
    p.net = net;
    p.live_from = below;
    while (over - below > 1) {
        p.live_to = below + (over - below) / 2;
        bf_load load = load_of(fold, session, &p);
        if (bf_load_kg(g, &load, 0.5) > limit_kg)
            over = p.live_to;
        else
            below = p.live_to;
    }
    return over - 1;
}

static void judge(const bf_fold *fold, const bf_guessing *g, double limit_kg, bf_net *net) {
    if (!is_told(limit_kg)) return;
    net->is_over = net->mass.mid > limit_kg;
    if (net->is_weighed) return;
    double upper_kg = bf_load_kg(g, &net->load, BF_NET_WARN_P);
    net->is_change =
        net->is_over || (bf_load_fish(&net->load) > 0 && upper_kg + bf_guessing_big_kg(g) >= limit_kg);
    if (net->is_over) net->over_live = over_since(fold, g, net->net, limit_kg);
}

static bf_net net_now(const bf_fold *fold, const bf_guessing *g, int i_net, double limit_kg) {
    const bf_session *session = &fold->session[g->session];
    int emptied = emptied_before(fold, session, i_net, session->live_to);
    bf_net net = {.net = i_net, .over_live = -1};
    net.load = net_load(fold, session, i_net, session->live_to);
    net.mass = bf_load_range(g, &net.load);
    net.is_weighed = emptied > session->live_from && bf_load_fish(&net.load) <= 0;
    if (net.is_weighed) {
        net.load = weighed_load(fold, session, emptied - 1);
        net.mass = exactly(fold->live[emptied - 1].body.mass_kg);
    }
    net.n_fish = whole_fish(&net.load);
    judge(fold, g, limit_kg, &net);
    return net;
}

/* Which nets there are: bit n for net n. */
static uint32_t nets_there(const bf_fold *fold, const bf_session *session) {
    uint32_t there = 2;
    for (int n = 1; n <= session->nets && n <= BF_NETS_MOST; n++) there |= 1u << n;
    for (int i = session->live_from; i < session->live_to; i++) {
        const bf_live *live = &fold->live[i];
        if (!live->is_crossed && live->kind == BF_NET && live->body.net > 0) there |= 1u << live->body.net;
    }
    return there;
}

/* All weighings: their sum and their fish. */
static void add_weighings(const bf_fold *fold, const bf_session *session, bf_nets *nets) {
    for (int i = session->live_from; i < session->live_to; i++) {
        if (!is_last_weighing(fold, session, i)) continue;
        bf_load load = weighed_load(fold, session, i);
        nets->weighed_kg += fold->live[i].body.mass_kg;
        bfi_count(&nets->n_weighed, whole_fish(&load));
    }
}

bf_nets bf_nets_of(const bf_fold *fold, const bf_guessing *guessing) {
    const bf_session *session = &fold->session[guessing->session];
    uint32_t there = nets_there(fold, session);
    bf_nets nets = {.limit_kg = session->net_limit_kg};
    nets.current = net_before(fold, session, session->live_to);
    for (int n = 1; n <= BF_NETS_MOST; n++) {
        if (!(there >> n & 1)) continue;
        bf_net *net = &nets.net[nets.n++];
        *net = net_now(fold, guessing, n, nets.limit_kg);
        net->is_current = n == nets.current;
        if (!net->is_weighed) add_load(&nets.unweighed, &net->load);
    }
    add_weighings(fold, session, &nets);
    return nets;
}

/* ---- Pace ---- */

static bf_range times(bf_range range, double factor) {
    return (bf_range){range.nominal * factor, range.mid * factor, range.lo * factor, range.hi * factor};
}

static bf_range unknown(void) {
    return exactly(BF_NAN);
}

static double above_zero(double x) {
    return x > 0 ? x : 0;
}

/* What is missing to the target, an hour. The more there is, the less is missing. */
static bf_range needs_of(bf_range mass, double target_kg, double hours_left) {
    if (!is_told(target_kg) || !(hours_left > 0)) return unknown();
    return (bf_range){
        above_zero(target_kg - mass.nominal) / hours_left, above_zero(target_kg - mass.mid) / hours_left,
        above_zero(target_kg - mass.hi) / hours_left, above_zero(target_kg - mass.lo) / hours_left};
}

bf_pace bf_pace_of(const bf_fold *fold, const bf_guessing *guessing, double now_ms) {
    const bf_session *session = &fold->session[guessing->session];
    bf_nets nets = bf_nets_of(fold, guessing);
    bf_load all = nets.unweighed;
    all.scales_kg += nets.weighed_kg;
    double end_ms = is_told(session->closed_ms) ? session->closed_ms : now_ms;
    bf_pace pace = {.mass_kg = bf_load_range(guessing, &all), .per_h_kg = unknown(), .last_h_kg = unknown()};
    pace.n_fish = nets.n_weighed + whole_fish(&nets.unweighed);
    pace.hours = above_zero((end_ms - session->opened_ms) / HOUR_MS);
    pace.fish_per_h = pace.last_h_fish = BF_NAN;
    if (pace.hours >= 1.0 / 6) {
        pace.per_h_kg = times(pace.mass_kg, 1 / pace.hours);
        pace.fish_per_h = pace.n_fish / pace.hours;
    }
    if (pace.hours >= 1) {
        pick p = all_of(session);
        p.from_ms = end_ms - HOUR_MS;
        p.to_ms = end_ms;
        bf_load last = load_of(fold, session, &p);
        pace.last_h_kg = bf_load_range(guessing, &last);
        pace.last_h_fish = bf_load_fish(&last);
    }
    pace.hours_left = is_told(session->hours) ? above_zero(session->hours - pace.hours) : BF_NAN;
    pace.needs_per_h_kg = needs_of(pace.mass_kg, session->target_kg, pace.hours_left);
    return pace;
}
