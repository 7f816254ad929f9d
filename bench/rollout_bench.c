/* rollout_bench.c -- what advice waits for: rules tried on the scenarios of a session's beginning, an hour ahead.
 *
 *     rollout_bench      CSV on stdout: what, wall ms, CPU ms; middle of RUNS runs
 *
 * 48 rules: two sizes of feed x eight counts x three times between put-ins; one spot, three sizes of feed in the scene.
 * A whole advice chooses its base policy first, and ends with a run-off and the reasons. */
#define _POSIX_C_SOURCE 200809L
#include <math.h>
#include <pthread.h>
#include <time.h>

#include "baitfall/choice.h"
#include "bench/advice_case.h"
#include "bench/timing.h"
#include "core/swim/planner.h"
#include "core/swim/rollout.h"
#include "swim/days.h"

#define RUNS 3
#define PROGRAM "rollout_bench"
#define RULES 48
#define SCENARIOS 256
#define PHONE_RULES 24
#define PHONE_SCENARIOS 64

static bfi_rollout rollout[RULES];
static bfi_swim_alone begun[SCENARIOS];
static double value[RULES * SCENARIOS];

static void make_rules(void) {
    static const double count[8] = {4, 8, 12, 16, 24, 32, 48, 64}, every_s[3] = {90, 180, 360};
    for (int k = 0; k < RULES; k++) {
        bfi_rule rule = {.hook = DAYS_SOFT_SIX,
                         .feed = k % 2 ? DAYS_HARD_FOUR : DAYS_HARD_SIX,
                         .how = BF_CLUMP,
                         .count = count[k / 2 % 8],
                         .area_m2 = 0.07,
                         .every_s = every_s[k / 16],
                         .blank_s = 150};
        rollout[k] =
            (bfi_rollout){.first = rule, .then = rule, .for_s = 3600, .since_put_s = INFINITY, .seed = 5};
        rollout[k].hands = (bfi_hands){.put_in_s = 15, .fish_kg = 1.2, .fish_spread = 2};
        for (int outcome = 0; outcome <= BF_NOTHING; outcome++)
            rollout[k].hands.busy_s[outcome] = days_busy_s(outcome);
    }
}

static void make_scenarios(void) {
    static double x[BFI_SWIM_MOST_COLUMNS];
    static bfi_swim swim;
    bf_swim_scene scene = days_scene(18);
    bf_swim_prior book = bf_swim_book();
    for (int s = 0; s < SCENARIOS; s++) {
        bf_swim_set set = bf_swim_drawn_set(&book, 1, s, SCENARIOS);
        bfi_swim_prepare(&swim, &scene, &set, 1, (uint64_t)s);
        bfi_swim_begin(&swim, 1, x);
        bfi_swim_take(&swim, 1, x, 0, &begun[s]);
    }
}

/* ---- Measuring ---- */

static double cpu_ms(void) {
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec * 1e3 + (double)t.tv_nsec / 1e6;
}

typedef struct worker {
    bfi_rollouts block;
    bfi_planner_item item[BFI_WAYS];
    int n;
} worker;
static worker workers[2];

static void run(worker *w) {
    bfi_rollouts_begin(&w->block, w->n);
    for (int i = 0; i < w->n; i++)
        bfi_rollouts_add(&w->block, &rollout[w->item[i].candidate], &begun[w->item[i].scenario],
                         w->item[i].scenario);
    bfi_rollouts_run(&w->block);
    for (int i = 0; i < w->n; i++) value[w->item[i].at] = w->block.outing[i].haul.n[BF_LANDED];
    w->n = 0;
}

static void add(worker *w, bfi_planner_item item) {
    w->item[w->n++] = item;
    if (w->n == BFI_WAYS) run(w);
}

/* All values of every second scenario. */
static void *half_of_all(void *first) {
    worker *w = first;
    for (int s = (int)(w - workers); s < SCENARIOS; s += 2)
        for (int k = 0; k < RULES; k++) add(w, (bfi_planner_item){k, s, k * SCENARIOS + s});
    return NULL;
}

static void all(void) {
    pthread_t other;
    if (pthread_create(&other, NULL, half_of_all, &workers[1])) give_up(PROGRAM, "no thread");
    half_of_all(&workers[0]);
    pthread_join(other, NULL);
}

static void by_halving(int n_rules, int n_scenarios) {
    bfi_planner planner;
    bfi_planner_begin(&planner, n_rules, 0, n_scenarios, n_scenarios);
    do {
        for (int i = 0; i < bfi_planner_items(&planner); i++)
            add(&workers[0], bfi_planner_item_of(&planner, i));
        if (workers[0].n) run(&workers[0]);
    } while (bfi_planner_next(&planner, value));
    if (!(bfi_planner_verdict(&planner, value).p_best > 0)) give_up(PROGRAM, "no verdict");
}

static void halving(void) {
    by_halving(RULES, SCENARIOS);
}
static void phone(void) {
    by_halving(PHONE_RULES, PHONE_SCENARIOS);
}

/* Another seed each time: what is tried differs. */
static void advice(void) {
    static uint64_t seed;
    if (!case_advise(0, ++seed)) give_up(PROGRAM, "no advice");
}
static void phone_advice(void) {
    static uint64_t seed;
    if (!case_advise(1, ++seed)) give_up(PROGRAM, "no advice");
}

static void measure(const char *what, void (*work)(void)) {
    double wall[RUNS], cpu[RUNS];
    for (int run = 0; run < RUNS; run++) {
        wall[run] = -now_ms(), cpu[run] = -cpu_ms();
        work();
        wall[run] += now_ms(), cpu[run] += cpu_ms();
    }
    printf("%s,%.2f,%.2f\n", what, middle_of(wall, RUNS), middle_of(cpu, RUNS));
    fflush(stdout);
}

int main(void) {
    make_rules();
    make_scenarios();
    case_believe();
    puts("what,wall_ms,cpu_ms");
    measure("48 rules x 256 scenarios x 1 h on two threads", all);
    measure("the same by halving on one thread", halving);
    measure("24 rules x 64 scenarios x 1 h by halving on one thread", phone);
    measure("a whole advice on one thread", advice);
    measure("a whole advice by the phone's setting on one thread", phone_advice);
    return 0;
}
