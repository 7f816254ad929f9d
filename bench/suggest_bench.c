/* suggest_bench.c -- what to fish at a spot, and for a peg not yet drawn, at the inputs as given.
 *
 *     suggest_bench [runs]      CSV on stdout: what, rigs solved, milliseconds (middle of the runs; start: 5)
 *
 * The middle start rig's lines over 1.62 m, a hard 6 mm pellet; wind as little known as at the start about 0, 2 and 6 m/s from
 * the side (in the last nothing holds: the longest search), once with a rig of one's own; all what-ifs of it; and the rig set
 * for 0.8 to 2.2 m and winds up to 6 m/s. One thread. */
#define _POSIX_C_SOURCE 200809L

#include "baitfall/rigset.h"
#include "baitfall/whatif.h"
#include "bench/timing.h"

#define MOST_RUNS 99

static bf_stand stand_in(double wind_m_s) {
    bf_stand stand;
    bf_stand_start(&stand);
    stand.rig = bf_rigs[1].rig;
    stand.hook_bait = bf_catalogue[bf_catalogue_find("hard-6", 6)].bait;
    stand.scene.spot.depth_m = (bf_quantity){1.62, 0.02, 0};
    stand.scene.lake.wind_m_s.value = wind_m_s;
    stand.scene.lake.wind_side_deg = (bf_quantity){90, 15, 0};
    bf_stand_settle(&stand);
    return stand;
}

/* What is timed; returns how many rigs were solved, -1 when that is not counted. */
typedef int job(const bf_stand *stand);

static int suggest(const bf_stand *stand) {
    bf_suggest_ask ask = {.has_rig = 0};
    bf_suggestion out;
    if (bf_suggest(stand, &ask, &out)) give_up("suggest_bench", "no suggestion");
    return out.n_solves;
}

static int judge_own(const bf_stand *stand) {
    bf_suggest_ask ask = {.has_rig = 1};
    bf_suggestion out;
    if (bf_suggest(stand, &ask, &out)) give_up("suggest_bench", "no suggestion");
    return out.n_solves;
}

static int answer_what_ifs(const bf_stand *stand) {
    bf_judged was;
    if (bf_judge(stand, &was)) give_up("suggest_bench", "not judged");
    for (int what = 0; what < BF_N_WHATIFS; what++) {
        bf_whatif_out out;
        bf_status status = bf_whatif_answer(stand, &was, what, &out);
        if (status && status != BF_E_MISSING) give_up("suggest_bench", "no what-if");
    }
    return -1;
}

static int make_set(const bf_stand *stand) {
    bf_unknown_peg peg = {0.8, 2.2, 11, 0, 6};
    bf_rig_set set;
    if (bf_rigset(stand, &peg, &set)) give_up("suggest_bench", "no rig set");
    return set.n_solves;
}

static void time_it(const char *what, job *of, double wind_m_s, int n_runs) {
    bf_stand stand = stand_in(wind_m_s);
    double ms[MOST_RUNS];
    int n_solves = 0;
    for (int i = 0; i < n_runs; i++) {
        double start = now_ms();
        n_solves = of(&stand);
        ms[i] = now_ms() - start;
    }
    double middle_ms = middle_of(ms, n_runs);
    if (n_solves >= 0)
        printf("%s,%d,%.1f\n", what, n_solves, middle_ms);
    else
        printf("%s,,%.1f\n", what, middle_ms);
}

int main(int argc, char **argv) {
    int n_runs = argc > 1 ? atoi(argv[1]) : 5;
    if (n_runs < 1 || n_runs > MOST_RUNS) give_up("suggest_bench", "runs 1 .. 99");
    puts("what,rigs solved,ms");
    time_it("suggestion in a calm", suggest, 0, n_runs);
    time_it("suggestion in 2 m/s", suggest, 2, n_runs);
    time_it("suggestion in 6 m/s", suggest, 6, n_runs);
    time_it("own rig in 2 m/s", judge_own, 2, n_runs);
    time_it("what-ifs in 2 m/s", answer_what_ifs, 2, n_runs);
    time_it("rig set", make_set, 2, n_runs);
    return 0;
}
