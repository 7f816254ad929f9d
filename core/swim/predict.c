/* predict.c -- see baitfall/predict.h. A set's row: for each drop [log evidence when it began][due][log of the rate at its end]. */
#include "baitfall/predict.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/random.h"
#include "core/base/room.h"
#include "core/swim/belief.h"
#include "core/swim/fixed.h"
#include "core/swim/state.h"
#include "core/swim/weights.h"

#define NONE (-BF_INFINITY)
#define SHARE_STREAM 0xB1F4000000000000u

enum { AT_EVIDENCE, AT_DUE, AT_LOG_RATE, AT_COLUMNS };

/* ---- Drops ---- */

/* The next drop at or after event *i that ends and lasts; *i becomes its end. Returns when the rig went in, NaN: none. */
static double next_drop(const bf_belief_job *job, int *i) {
    double in_s = BF_NAN;
    for (; *i < job->n_events; ++*i) {
        const bf_swim_event *event = &job->event[*i];
        if (event->kind == BF_SWIM_IN) in_s = event->t_s;
        if (event->kind != BF_SWIM_LIFT) continue;
        if (event->t_s > in_s) return in_s;
        in_s = BF_NAN;
    }
    return BF_NAN;
}

static int is_bite(const bf_swim_event *lift) {
    return lift->outcome >= 0 && lift->outcome < BF_NOTHING;
}

int bf_predict_drops(const bf_belief_job *job) {
    int n = 0;
    for (int i = 0; next_drop(job, &i) >= 0; i++) n++;
    return n;
}

int bf_predict_columns(const bf_belief_job *job) {
    return AT_COLUMNS * bf_predict_drops(job);
}

/* ---- A set ---- */

size_t bf_predict_scratch_bytes(const bf_belief_job *job) {
    return bfi_room(bf_belief_scratch_bytes(job)) + (size_t)bf_belief_columns(job) * sizeof(double);
}

/* What is known with the rig in: hazards of what is entered, by all particles' weights, 1/s, and the log evidence so far. */
typedef struct known {
    double bites, all, log_evidence;
} known;

static known known_now(bfi_filter *f, const bf_swim_event *in) {
    int n = f->job->n_particles;
    double *w = f->spare;
    known now = {0, 0, f->log_evidence};
    memcpy(w, f->log_w, (size_t)n * sizeof *w);
    now.log_evidence += bfi_weights_level(w, n);
    for (int p = 0; p < n; p++) {
        double h[N_SHOWN], weight = bf_exp(w[p]) / n;
        bfi_swim_shows(f->swim, n, f->x, in->spot, in->what, p, h);
        for (int i = 0; i < N_BITES; i++) now.bites += weight * h[i];
        now.all += weight * h[SHOWN_TOUCH];
    }
    now.bites *= 1 - NOT_ENTERED;
    now.all += now.bites;
    return now;
}

/* From from_s to to_s with the rig in. What the evidence lost over one of the model's steps, for nothing having shown, is what was due in
 * it; bites have their share of it. *now: in and out. */
static double due_between(bfi_filter *f, const bf_swim_event *in, double from_s, double to_s, known *now) {
    double due = 0;
    while (from_s < to_s) {
        double next_s = (floor(from_s / BFI_SWIM_STEP_S) + 1) * BFI_SWIM_STEP_S;
        known before = *now;
        next_s = next_s < to_s ? next_s : to_s;
        bfi_filter_pass(f, next_s);
        if (f->log_evidence == NONE) break;
        *now = known_now(f, in);
        due +=
            (before.log_evidence - now->log_evidence) * (before.bites + now->bites) / (before.all + now->all);
        from_s = next_s;
    }
    return due;
}

/* The story told once, each drop that next_drop tells of foretold on the way. */
static void foretell(bfi_filter *f, double *row) {
    const bf_belief_job *job = f->job;
    const bf_swim_event *in = NULL;
    double at_s = 0, due = 0, log_evidence = 0;
    known now = {0};
    for (int i = 0; i < job->n_events && f->log_evidence > NONE; i++) {
        const bf_swim_event *event = &job->event[i];
        if (in)
            due += due_between(f, in, at_s, event->t_s, &now);
        else
            bfi_filter_pass(f, event->t_s);
        at_s = event->t_s;
        if (event->kind == BF_SWIM_LIFT && in && at_s > in->t_s) {
            row[AT_EVIDENCE] = log_evidence;
            row[AT_DUE] = due;
            row[AT_LOG_RATE] = bf_log(now.bites);
            row += AT_COLUMNS;
        }
        if (f->log_evidence == NONE) return;
        bfi_filter_meet(f, event);
        if (event->kind == BF_SWIM_LIFT) in = NULL;
        if (event->kind == BF_SWIM_IN) in = event, due = 0, log_evidence = f->log_evidence;
        if (in && f->log_evidence > NONE) now = known_now(f, in);
    }
}

void bf_predict_rows(const bf_belief_job *job, int i, int j, void *scratch, double *rows) {
    bfi_filter f = bfi_filter_in(job, scratch);
    size_t columns = (size_t)bf_predict_columns(job);
    f.row = (double *)(void *)((char *)scratch + bfi_room(bf_belief_scratch_bytes(job)));
    for (f.set = i; f.set < j; f.set++) {
        double *row = rows + (size_t)(f.set - i) * columns;
        for (size_t c = 0; c < columns; c++) row[c] = c % AT_COLUMNS == AT_EVIDENCE ? NONE : BF_NAN;
        bfi_filter_begin(&f, NULL);
        foretell(&f, row);
    }
}

/* ---- Mixing ---- */

static bf_predicted mixed(const bf_belief_job *job, const double *rows, int drop, int bite, double *p) {
    int n = job->n_sets;
    size_t columns = (size_t)bf_predict_columns(job);
    const double *at = rows + (size_t)drop * AT_COLUMNS;
    double later = 0, density = 0, u = bf_uniform(job->seed, SHARE_STREAM, (uint64_t)drop);
    for (int s = 0; s < n; s++) p[s] = at[(size_t)s * columns + AT_EVIDENCE];
    if (bfi_weights_level(p, n) == NONE) return (bf_predicted){.share = BF_NAN, .log_score = BF_NAN};
    for (int s = 0; s < n; s++) {
        const double *of = at + (size_t)s * columns;
        if (of[AT_EVIDENCE] == NONE) continue;
        double none = bf_exp(p[s] - of[AT_DUE]) / n;
        later += none;
        density += bite ? 60 * none * bf_exp(of[AT_LOG_RATE]) : none;
    }
    return (bf_predicted){.share = bite ? 1 - later : 1 - u * later, .log_score = bf_log(density)};
}

void bf_predict_waits(const bf_belief_job *job, const double *rows, double *work, bf_predicted *predicted) {
    double in_s;
    int drop = 0;
    for (int i = 0; (in_s = next_drop(job, &i)) >= 0; i++, drop++) {
        const bf_swim_event *lift = &job->event[i];
        predicted[drop] = mixed(job, rows, drop, is_bite(lift), work);
        predicted[drop].t_s = lift->t_s;
        predicted[drop].wait_s = lift->t_s - in_s;
        predicted[drop].is_bite = is_bite(lift);
    }
}

/* ---- Beside the laws ---- */

bf_season_waits bf_predict_as_waits(const bf_predicted *predicted, int n, double temp_c) {
    bf_season_waits waits = {.band = bf_temp_band(temp_c)};
    for (int i = 0; i < n; i++)
        if (predicted[i].log_score == predicted[i].log_score)
            bf_season_add_wait(&waits, predicted[i].wait_s, predicted[i].is_bite);
    return waits;
}

bf_predict_session bf_predict_score(const bf_predicted *predicted, int n, double temp_c,
                                    const bf_season_waits *earlier, int n_earlier) {
    bf_season_waits waits = bf_predict_as_waits(predicted, n, temp_c);
    bf_season_law plain = bf_season_learn_power(earlier, n_earlier, BF_SEASON_POWER_1);
    bf_season_law weibull = bf_season_learn(earlier, n_earlier);
    bf_predict_session session = {.gamma_poisson = bf_season_log_score(&plain, &waits),
                                  .weibull = bf_season_log_score(&weibull, &waits)};
    for (int i = 0; i < n; i++) {
        if (!(predicted[i].log_score == predicted[i].log_score)) continue;
        session.n_waits++;
        session.n_bites += predicted[i].is_bite;
        session.model += predicted[i].log_score;
    }
    return session;
}

bf_predict_verdict bf_predict_judge(const bf_predict_session *session, int n, double level) {
    BF_ASSERT(n >= 0 && n <= BF_SEASON_MOST_LAST && level > 0 && level < 1);
    bf_banded unknown = {BF_NAN, BF_NAN, BF_NAN};
    bf_predict_verdict verdict = {.n_sessions = n, .over_gamma_poisson = unknown, .over_weibull = unknown};
    double plain[BF_SEASON_MOST_LAST], weibull[BF_SEASON_MOST_LAST];
    if (n == 0) return verdict;
    for (int i = 0; i < n; i++) {
        plain[i] = session[i].model - session[i].gamma_poisson;
        weibull[i] = session[i].model - session[i].weibull;
    }
    verdict.over_gamma_poisson = bf_season_mean(plain, n, level);
    verdict.over_weibull = bf_season_mean(weibull, n, level);
    verdict.is_enough = n >= BF_PREDICT_LEAST_SESSIONS;
    verdict.is_better_than_gamma_poisson = verdict.is_enough && verdict.over_gamma_poisson.lower > 0;
    verdict.is_better_than_weibull = verdict.is_enough && verdict.over_weibull.lower > 0;
    return verdict;
}

/* ---- Uniform? ---- */

double bf_predict_uniform_p(const double *sorted, int n) {
    double distance = 0, sum = 0, sign = 2;
    for (int i = 0; i < n; i++) {
        double below = sorted[i] - (double)i / n, above = (i + 1.0) / n - sorted[i];
        distance = below > distance ? below : distance;
        distance = above > distance ? above : distance;
    }
    double x = (sqrt(n) + 0.12 + 0.11 / sqrt(n)) * distance;
    if (x < 0.3) return 1; /* the series needs many terms there; 1 to five digits */
    for (int k = 1; k <= 20; k++, sign = -sign) sum += sign * bf_exp(-2 * k * k * x * x);
    return sum < 0 ? 0 : sum > 1 ? 1 : sum;
}
