/* season.h -- all sessions of a journal together: fish an hour by feed, method, water temperature, venue, month and time of
 * day, each borrowing from its like; and what waits to expect next time.
 *
 * Feed and catch are confounded in any such record: feed is changed when bites stop, and days differ. A row says how
 * often fish came while something was so, never because of it; trial.h is for that.
 *
 * Pure arithmetic; memory from the caller. Tests: tests/record/season_test.c
 */
#ifndef BAITFALL_SEASON_H
#define BAITFALL_SEASON_H

#include "baitfall/fold.h"
#include "baitfall/pool.h"
#include "baitfall/waits.h"

#ifdef __cplusplus
extern "C" {
#endif

/* X(name, word): by what the fish are sorted. */
#define BF_SEASON_FACTOR_LIST(X)                                                                             \
    X(BF_SEASON_FEED, "feed")        /* bait of the last put-in before the drop: a name             */       \
    X(BF_SEASON_HOW, "how")          /* how it went in: bf_how                                      */       \
    X(BF_SEASON_TEMP, "water")       /* band of the session's last water temperature: bf_temp_band  */       \
    X(BF_SEASON_VENUE, "venue")      /* a name                                                      */       \
    X(BF_SEASON_MONTH, "month")      /* 0 January .. 11 December                                    */       \
    X(BF_SEASON_HALF, "time of day") /* 0 midnight to half past .. 47                               */

typedef enum bf_season_factor {
#define BF_SEASON_NAME(name, word) name,
    BF_SEASON_FACTOR_LIST(BF_SEASON_NAME)
#undef BF_SEASON_NAME
        BF_N_SEASON_FACTORS
} bf_season_factor;

/* Water temperature bands: below 8 C, 8-12, 12-16, 16-20, 20 C and over (our choice; four degrees are about what pooled days can tell apart). */
#define BF_N_TEMP_BANDS 5
/* The band of a temperature, -1 for NaN. */
int bf_temp_band(double temp_c);
/* Its lower and upper end; -infinity, infinity at the ends. */
void bf_temp_band_ends(int band, double *lo_c, double *hi_c);

#define BF_SEASON_MOST_ROWS 48

typedef struct bf_season_row {
    int key; /* what it is about: see the factor's line above        */
    int n_sessions, n_drops;
    double n_fish, hours;
    bf_pool_rate rate; /* fish an hour: raw, pooled with interval, p_best      */
} bf_season_row;

typedef struct bf_season_table {
    int n_rows;
    bf_season_row row[BF_SEASON_MOST_ROWS]; /* best first (bf_pool_order)     */
    bf_pool pool;
    double dispersion; /* of bf_pool_gather: how much more days differ than chance */
    int n_left_out; /* drops and stretches without a key (nothing fed yet, no temperature), or of a 49th key */
} bf_season_table;

/* The usual rate behind bf_pool_weak: 6 fish an hour (our choice, no source; the prior allows 0.9 to 42). */
#define BF_SEASON_USUAL_PER_H 6.0

/* Bytes of work, 16-aligned, for bf_season_by over so many drops and tallied stretches. */
size_t bf_season_bytes(int n_drops, int n_stretches);

/* Sorts all fish by a factor. Each drop counts with its time from the end of the drop before it to its own end, so that netting,
 * feeding and shipping are in the hours; a tallied stretch with its own length and the feed before it. Crossed-out
 * entries and open waits are not in.
 *
 * Answers "on micros 5.1 fish an hour (4.0-6.3) over 6 sessions" and "4 mm was the best of five, 7 in 10 sure".
 *
 * level   of the intervals, in (0, 1) (asserted); 0.8 for screens
 *
 * Errors  BF_E_MISSING no drop with a key; then *table has no rows. Any of bf_pool_rates. */
BF_CHECK bf_status bf_season_by(const bf_fold *fold, bf_season_factor factor, double level, void *work,
                                bf_season_table *table);

/* ---- What waits to expect ---- */

/* Powers of the wait that a law may have: 0.6, 0.65 .. 2. */
#define BF_SEASON_N_POWERS 29
double bf_season_power(int i_power);
#define BF_SEASON_POWER_1 8

/* One session's waits, as sums over them; time in minutes. */
typedef struct bf_season_waits {
    int band;                           /* bf_temp_band, -1: not measured                 */
    double n_ended;                     /* ended with a bite                              */
    double total_s;                     /* all their time                                 */
    double sum_log;                     /* of the logarithms of those that ended          */
    double sum_pow[BF_SEASON_N_POWERS]; /* of each wait to each power  */
} bf_season_waits;

/* The waits of a session; those whose start is unknown are left out. */
bf_season_waits bf_season_waits_of(const bf_fold *fold, const bf_turnaround *turnaround, int session);

/* Adds one wait to a session's sums. wait_s > 0; is_event 0: it ended without a bite. */
void bf_season_add_wait(bf_season_waits *waits, double wait_s, int is_event);

/* How bites come on a day not yet fished: waits of the day are Weibull, their rate differs from day to day,
 *
 *     P(wait > t | rate) = exp(-rate t^k),   rate ~ Gamma(shape, shape / mean[band])       t in minutes
 *
 * k above 1: the longer the wait, the likelier the bite in the next second. Without a rate the wait has the heavier tail of
 * P(wait > t) = (1 + t^k / b)^-shape, b = shape / mean, and each wait of the day makes the next surer. */
typedef struct bf_season_law {
    int i_power; /* k = bf_season_power(i_power) */
    double shape;
    double mean[BF_N_TEMP_BANDS]; /* of the rate in a band, per minute^k */
    double mean_any;              /* temperature not known               */
    int n_sessions;               /* learned from; 0: the book           */
} bf_season_law;

/* What is expected before anything was learned: half the waits of a day over by 4 minutes, in 8 of 10 days between 1.2 and
 * 26 (k 1, shape 1, mean 1/4; common practice, no source). */
bf_season_law bf_season_book(void);

/* Learns the law from n sessions: the largest posterior of
 *
 *     sum over sessions of  d log k + (k - 1) sum log t + log Gamma(a + d) - log Gamma(a) + a log b - (a + d) log(b + T),
 *     b = a / m_band,   log m_band ~ normal(mu, 0.5),   mu flat,   log a ~ normal(log 4, 1),   log k ~ normal(0, 0.3)
 *
 * d waits that ended with a bite, T the sum of all t^k. A band borrows from the others through mu, which is also the mean
 * where the temperature is unknown or the band was never fished. The hyperpriors are our choice, no source.
 *
 * Validity:  bites of a day at one steady rate but for k; a rate that falls through the day makes each day look less certain
 *            than it is told to be. That a, k, mu and m are themselves estimates is not counted: with under ten
 *            sessions trust the range less.
 *
 * waits      (in n); those with total_s 0 count for nothing
 * Returns the book when no session has a bite. */
bf_season_law bf_season_learn(const bf_season_waits *waits, int n);

/* The same with the power given (BF_SEASON_POWER_1: gamma-Poisson). */
bf_season_law bf_season_learn_power(const bf_season_waits *waits, int n, int i_power);

/* log of the density a law gives to a session's waits (per minute), one after another, each predicted from those before it:
 *
 *     d log k + (k - 1) sum log t + log Gamma(a + d) - log Gamma(a) + a log b - (a + d) log(b + T)
 *
 * The higher of two laws' scores on the same session foresaw it better. */
double bf_season_log_score(const bf_season_law *law, const bf_season_waits *waits);

/* Does the learned law foretell better than the book? Learns from all sessions with waits but the last n_last of them, scores these under
 * both, and gives the mean gain a session, learned less book, with the interval of 2000 bootstrap resamples of
 * the n_last sessions (percentiles; B. Efron, Ann. Stat. 7, 1979; from memory).
 *
 * waits     (in n) in the order they were fished
 * n_last    2 to BF_SEASON_MOST_LAST
 * level     in (0, 1) (asserted)
 *
 * Errors    BF_E_MISSING fewer than BF_LEAST_TO_SAY sessions with waits would be left to learn from; *gain is then NaN. */
#define BF_SEASON_MOST_LAST 64
BF_CHECK bf_status bf_season_gain(const bf_season_waits *waits, int n, int n_last, double level,
                                  bf_banded *gain);

/* The mean of one number a session, with the interval of 2000 bootstrap resamples as above. n >= 1. */
bf_banded bf_season_mean(const double *each, int n, double level);

/* The middle wait of a day, (log 2 / rate)^(1/k): its p-quantile over days, s. Example: the book at 0.5: 240 s. */
double bf_season_middle_wait_s(const bf_season_law *law, int band, double p);

#ifdef __cplusplus
}
#endif
#endif
