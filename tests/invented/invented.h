/* invented.h -- makes journals of days that never were, on the invented Withy Pool, for tests and the demo.
 *
 * Everything in them is invented, and each session's first note says so. The world behind them shares no code and no parameter with
 * the program: random numbers, functional forms and text are its own (libm, xorshift). Bites come from a renewal process whose
 * waiting times are Weibull with a day effect, a temperature effect, a lull while feed is fresh and a slow fading of the feed; fish weights are
 * log-normal; the angler guesses them with a bias of his own.
 *
 *     invented_day day = invented_start(7, 3);      the world of seed 7, its day number 3
 *     day.guess_factor = 0.9;                       change what the test is about
 *     invented_write(&day, take, user, &truth);     lines to take(), and what really happened
 */
#ifndef BF_INVENTED_H
#define BF_INVENTED_H

#include <stddef.h>
#include <stdint.h>

#define INVENTED_NETS 4

/* One block of a comparison: from its start until the next one's the angler feeds a (0) or b (1). */
typedef struct invented_block {
    double from_s;
    int is_b;
} invented_block;

typedef struct invented_day {
    uint64_t seed;
    int number; /* of the day: decides date, peg, temperature, how well the fish feed */
    double hours;
    /* how the angler logs */
    double rig_in_p;      /* chance that the lowering of the rig is logged                    */
    double nothing_p;     /* chance that a blank drop is logged by a press                    */
    double touch_p;       /* chance that a touch on the float is logged                       */
    double told_p;        /* chance that a fish's size is told                                */
    double turnaround_s;  /* middle time from lift or put-in until the rig is in              */
    double guess_factor;  /* what the angler takes a fish of 1 kg for                         */
    double guess_scatter; /* standard deviation of the log of a single guess                  */
    int is_typed;         /* 1: guesses are typed as numbers; 0: one tap of four sizes        */
    int is_weighed;       /* 1: nets are weighed at the end                                   */
    /* the match */
    int nets;
    double net_limit_kg; /* 0: none                                                          */
    int changes_net;     /* 1: the next net once his own count reaches the limit             */
    double fish_kg;      /* middle weight of a fish                                          */
    /* the fish */
    double wait_s;      /* middle wait for a bite on a good day at 15 C                     */
    double day_sd;      /* of the log of the day's own factor on waits                      */
    double warm_effect; /* log change of waits per degree above 15                          */
    double b_rate;      /* bites on b come so many times as often as on a                   */
    /* what is fed */
    const char *a, *b; /* names of the two feeds: start on a, to b half way unless blocks say */
    const invented_block *block;
    int n_blocks;
    const char *note; /* of the open event, after the words that it is invented; NULL      */
} invented_day;

typedef struct invented_truth {
    int n_lines, n_drops, n_fish, n_lost, n_missed, n_foul;
    double kg; /* all fish landed                       */
    double net_kg[INVENTED_NETS];
    double over_s[INVENTED_NETS]; /* when a net really went over its limit; -1: never */
    double temp_c;
    double start_ms; /* since 1970 UTC                        */
    char session[33];
} invented_truth;

/* Start values of a day: five hours, one net of 22.7 kg (50 lb) after another, typed guesses 8 % light. */
invented_day invented_start(uint64_t seed, int number);

/* Calls take(user, line, n) for each line, in order, without a newline. *truth may be NULL. */
void invented_write(const invented_day *day, void (*take)(void *user, const char *line, size_t n), void *user,
                    invented_truth *truth);

#endif
