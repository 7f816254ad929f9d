/* match.h -- match arithmetic: what is in the nets, how the angler guesses, the pace, and what is left in the bait box.
 *
 * Sentences   "Net 1 about 18 kg (16-21)"; "Change net: the next fish may go over 22.7 kg"; "You guess 10 % light (2-17)";
 *             "needs 3.1 kg an hour from here, last hour 2.4 (1.9-3.0)"; "micros for about 6 more pots (4-9)".
 *
 * Which fish count   a drop or stretch with BF_LANDED. Foul-hooked fish are not counted in the weight (common practice, no
 *                    source; matches differ): one that is kept is to be logged as landed, held outside or body.
 * Which net          the one named by the last `net` without a mass, net 1 before any. A `net` with a mass weighs that net: the
 *                    scales then replace every guess in it, and it is empty from then on. Weighed again with no fish entered
 *                    in between, it is the same fish: what the scales say last counts.
 *
 * Pure arithmetic over a fold; allocates nothing. Model and checks: docs/models/match.md. Tests: tests/record/match_test.c, box_test.c
 */
#ifndef BAITFALL_MATCH_H
#define BAITFALL_MATCH_H

#include "baitfall/fold.h"
#include "baitfall/summary.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ---- What fish weigh ---- */

/* A one-tap size: eight fish in ten of that tap lie between these, and it is log-normal. From memory, no source: under half
 * a pound 0.06 to 0.25 kg, about one pound 0.32 to 0.65, about two 0.65 to 1.3, four and more 1.4 to 3.6. */
typedef struct bf_size_class {
    double lo_kg, hi_kg; /* 10 and 90 % */
    double mean_kg;      /* of the log-normal through both */
    double log_sd;
} bf_size_class;
bf_size_class bf_size_class_of(int size);

/* Start values, all from memory or judgement, no source; SD: standard deviation of a logarithm.
 *
 *     GUESS_SD       how far anglers' guesses are off as a habit: 15 %, and what our size classes' middles are off
 *     GUESS_DAY_SD   how that moves from day to day
 *     GUESS_FISH_SD  how one typed guess scatters about the habit
 *     FISH_KG        the mean fish of a lake nobody has told us about
 *     FISH_LAKE_SD   how lakes' means differ
 *     FISH_DAY_SD    how one lake's mean moves from day to day
 *     FISH_CV        standard deviation of one fish over the mean; weighs as much as five fish told
 *     TOLD_SD        how far fish that are told may differ in the mean from those that are not */
#define BF_GUESS_SD 0.20
#define BF_GUESS_DAY_SD 0.08
#define BF_GUESS_FISH_SD 0.20
#define BF_FISH_KG 0.6
#define BF_FISH_LAKE_SD 0.7
#define BF_FISH_DAY_SD 0.35
#define BF_FISH_CV 0.7
#define BF_TOLD_SD 0.20

/* What we know when we ask what the fish of one session weigh: four numbers, jointly normal,
 *
 *     habit   log of real over guessed weight, of this angler
 *     today   the same on the session's day:   today = habit + N(0, BF_GUESS_DAY_SD^2)
 *     lake    log of the mean fish at the session's venue, kg
 *     level   the same on the session's day:   level = lake + N(0, BF_FISH_DAY_SD^2)
 *
 * learned by a Kalman filter over every session of the journal: those at other venues first (they tell about the habit
 * only), then those at the same venue, the asked one last. A session without a venue has no lake but its own. In each session
 * the mean of guessed fish is an observation of level - today, that of weighed fish one of level (variance
 * spread_cv^2/n + BF_TOLD_SD^2), and each weighed net one of
 *
 *     log mass = log(scales + guessed e^today + n_untold e^level)      variance: that of its fish / its square
 *
 * taken by five Gauss-Newton steps (iterated extended Kalman filter). Guesses alone say nothing about the habit: lake and
 * level learn from them, the others are left as they were (S. F. Schmidt's filter). A weighing more than four standard
 * deviations off is not believed, as fish are probably missing from the log: n_refused.
 *
 * Source:   the filter is textbook (A. H. Jazwinski, Stochastic Processes and Filtering Theory, 1970; from memory).
 * Validity: one angler a journal. What is wrong with the middle of one size class alone, or grows with the fish, is not
 *           parted from the habit. */
enum { BF_HABIT, BF_TODAY, BF_LAKE, BF_LEVEL, BF_N_KNOWN };
typedef struct bf_guessing {
    int session;
    double mean[BF_N_KNOWN];
    double cov[BF_N_KNOWN][BF_N_KNOWN];
    double spread_cv; /* of one fish of the session over their mean */
    int n_weighings;  /* of nets, in the whole journal, that were of use */
    int n_refused;    /* not believed                            */
    int n_told;       /* fish of the session guessed, sized or weighed */
} bf_guessing;

/* session: an index of fold->session, or -1: the habit alone (no lake known). O(events). */
bf_guessing bf_guessing_of(const bf_fold *fold, int session);

/* In all that follows guessing->session must be a session of the fold. */

/* Real over guessed weight as a habit: 1 before any weighing, 0.77 to 1.29. nominal is the middle. */
bf_range bf_guessing_factor(const bf_guessing *guessing);

/* The mean fish of the session, kg. */
bf_range bf_guessing_fish_kg(const bf_guessing *guessing);

/* The weight that nine of the session's fish in ten stay below: "one fish" of the net warning, kg. */
double bf_guessing_big_kg(const bf_guessing *guessing);

/* ---- How much there is of it ---- */

/* Fish together, before it is asked what guesses are worth. Sums add up by fields. */
typedef struct bf_load {
    int n_scales;               /* told by scales                                                           */
    double scales_kg;           /* their sum: exact                                                         */
    int n_guessed;              /* guessed or sized                                                         */
    double guess_kg, guess_kg2; /* their sum, and the variance of what they weigh were the angler unbiased  */
    double untold; /* fish nobody told the size of; may have a part of one, from a stretch cut in two */
} bf_load;

/* How many fish; whole but for stretches cut in two. */
double bf_load_fish(const bf_load *load);

/* The p-quantile of a load's weight, kg: scales_kg, plus a log-normal with the mean and variance of
 *
 *     guessed e^today + sum over untold fish of e^level (1 + spread)
 *
 * `today` is common to all guesses, so the range does not shrink with their number.
 *
 * Source:   L. F. Fenton, IRE Trans. Commun. Syst. 8(1), 1960 (sums of log-normals by two moments; from memory).
 * Accuracy: mean and variance exact; 10, 50 and 90 % points within 2 % of 1e5 drawn sums (match_test.c).
 * p in (0, 1). Example: 20 fish tapped "about two", no weighing: mid 19.0 kg, 14.3 to 25.4. */
double bf_load_kg(const bf_guessing *guessing, const bf_load *load, double p);

/* 10, 50, 90 %; nominal: at the middle of what is known. */
bf_range bf_load_range(const bf_guessing *guessing, const bf_load *load);

/* ---- Nets ---- */

/* The net warning's upper end. The 95 % point, not the 90 % of ranges: the fish that goes over is more often a big one.
 * What other points give: docs/models/match.md. */
#define BF_NET_WARN_P 0.95

typedef struct bf_net {
    int net;        /* 1 .. BF_NETS_MOST */
    int n_fish;     /* in it now; when it was weighed and has had none since: that were weighed */
    bf_load load;   /* of them */
    bf_range mass;  /* kg; the scales' when is_weighed */
    int is_weighed; /* weighed, and nothing in it since */
    int is_over;    /* it is more likely over the limit than not */
    int is_change;  /* its upper end (BF_NET_WARN_P) and one big fish reach the limit, or it is over */
    int is_current; /* fish go into it now */
    int over_live; /* is_over and not weighed: the entry reckoned to have taken it over, index into fold.live; else -1 */
} bf_net;

typedef struct bf_nets {
    int n;             /* nets named or with fish, and those that `open` says there are; at least net 1 */
    int current;       /* the net that fish go into */
    double limit_kg;   /* NaN: not told */
    double weighed_kg; /* all weighings together; of what was weighed again, the last */
    int n_weighed;     /* fish in them */
    bf_load unweighed; /* all that is in nets and not weighed */
    bf_net net[BF_NETS_MOST];
} bf_nets;

bf_nets bf_nets_of(const bf_fold *fold, const bf_guessing *guessing);

/* ---- Pace ---- */

/* Under so many fish: "too early to say". */
#define BF_PACE_LEAST 5

typedef struct bf_pace {
    bf_range mass_kg; /* all of the session, weighed nets as weighed */
    int n_fish;
    double hours;       /* from `open` to now or `close`           */
    bf_range per_h_kg;  /* since the start; NaN: under ten minutes */
    bf_range last_h_kg; /* in the last hour, by the guesses even where nets are weighed; NaN: under an hour */
    double fish_per_h, last_h_fish;
    double hours_left; /* NaN: no length told; 0 at least         */
    /* From now on, to reach the target; 0 when it is reached. NaN: no target, no length or no time left. */
    bf_range needs_per_h_kg;
} bf_pace;

bf_pace bf_pace_of(const bf_fold *fold, const bf_guessing *guessing, double now_ms);

/* ---- The bait box ---- */

typedef enum bf_amount { BF_BY_COUNT, BF_BY_VOLUME, BF_BY_MASS, BF_N_AMOUNTS } bf_amount;

/* How counts, poured volumes and masses of a bait go into each other, with standard deviations of logarithms:
 * pieces x piece_m3 = volume x solid_frac = mass / density. All NaN: not known, and only like amounts are added. */
typedef struct bf_bait_measure {
    double piece_m3, solid_frac, density_kg_m3;
    double piece_sd, solid_sd, density_sd;
} bf_bait_measure;

/* How exactly a pot is filled by eye: standard deviation over the filling (judgement, no source). */
#define BF_FILL_SD 0.10
#define BF_HOURS_MOST 24

/* One bait: prepared (`box`, topped up by more of it) less put in. It counts as it goes in: soaked bait is to be told soaked. */
typedef struct bf_box {
    int bait;
    int by; /* bf_amount: as the first `box` says; the unit of all below: pieces, m3 or kg */
    double prepared;
    bf_range used, left; /* left 0 at least */
    int n_put_ins;
    int n_guessed; /* of them, without an amount: taken as the mean of the others; without others, not counted */
    int n_after_end; /* put-ins entered as after the session's end: not counted, as the bed account ends there too */
    int n_mixed;      /* put-ins and top-ups in a unit that cannot be turned into this one: not counted */
    bf_range put_ins; /* how many more there are in it, of the size of the last five; NaN: none yet */
    int how;          /* of the last one: bf_how, -1 */
    int n_hours;      /* hours of the session begun, at most BF_HOURS_MOST */
    double by_hour[BF_HOURS_MOST]; /* used in each; what comes after the last is in the last */
    /* From now, at the rate of the last hour, or of all the time since the start when that is shorter; NaN: under three
     * put-ins in it. */
    bf_range lasts_s;
} bf_box;

/* The baits that the session's `box` events name, in order, at most `most`; returns how many. */
int bf_box_baits(const bf_fold *fold, int session, int *baits, int most);

/* measure->piece_m3 NaN: unknown. The range is that of the conversions (common to all put-ins) and of filling by eye. */
bf_box bf_box_of(const bf_fold *fold, int session, int bait, const bf_bait_measure *measure, double now_ms);

#ifdef __cplusplus
}
#endif
#endif
