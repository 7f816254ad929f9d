/* advise.c -- trying what may be done, and choosing. See baitfall/advise.h. */
#include "core/swim/advise.h"

#include <math.h>
#include <string.h>

#include "baitfall/random.h"
#include "baitfall/special.h"
#include "baitfall/status.h"
#include "core/base/room.h"

#define NORMAL_90 1.2815515655446004
#define RUN_OFF_LEFT 5
/* Sets disagree, as a rule, so that the variance of a mean does not fall below this share of a scenario's over the effective number of sets: the middle
 * of sixty made-up hours, 0.00 to 0.5. Few scenarios cannot show it. */
#define USUAL_KIN 0.05
/* Sure is what another belief would say too, with this chance; then the run-off ends. */
#define AGAIN 0.95
/* What is advised only when sure, another belief says again only when sure as well: twice as many standard deviations (advise.h, Sure). */
#define AGAIN_SURE 0.9995
/* Less feed than this of the same again is a bold cut; a hold-off longer than what is due by this is one. */
#define BOLD_CUT 0.45
#define BOLD_WAIT_S 60.0
#define LEAST_LOOK_S 60.0
#define MOST_LOOK_S 900.0

const char *const bf_objective_words[] = {"weight", "number", "target", "species", NULL};

/* ---- Memory ---- */

static size_t of_scenarios(const bf_advise_job *job, size_t of) {
    return bfi_room((size_t)job->n_run_off * of * sizeof(double));
}

static size_t key_bytes(const bf_advise_job *job) {
    return bfi_room((size_t)job->n_run_off * sizeof(bfi_key));
}

static size_t weight_bytes(const bf_advise_job *job) {
    return bfi_room(2 * (size_t)job->belief->n_sets * sizeof(double));
}

static size_t set_bytes(const bf_advise_job *job) {
    return bfi_room((size_t)job->n_run_off * sizeof(int));
}

size_t bf_advise_bytes(const bf_advise_job *job) {
    return bfi_room(bfi_swim_bytes()) + bfi_room(sizeof(bfi_rollouts)) + weight_bytes(job) +
           of_scenarios(job, BF_ADVISE_MOST_ACTS) + of_scenarios(job, BF_N_READINGS) + of_scenarios(job, 1) +
           2 * key_bytes(job) + weight_bytes(job) + set_bytes(job);
}

static void *taken(char **at, size_t bytes) {
    void *memory = *at;
    *at += bytes;
    return memory;
}

static bfi_advising laid_out(const bf_advise_job *job, const double *rows, void *work, bf_advice *advice) {
    char *at = work;
    bfi_advising a = {.job = job, .rows = rows, .shape = bfi_belief_shape_of(job->belief), .advice = advice};
    bf_swim_set none = {{0}}; /* each truth has its own */
    a.ready = taken(&at, bfi_room(bfi_swim_bytes()));
    a.block = taken(&at, bfi_room(sizeof(bfi_rollouts)));
    a.weight = taken(&at, weight_bytes(job));
    a.value = taken(&at, of_scenarios(job, BF_ADVISE_MOST_ACTS));
    a.reading = taken(&at, of_scenarios(job, BF_N_READINGS));
    a.spare = taken(&at, of_scenarios(job, 1));
    a.key = taken(&at, key_bytes(job));
    a.spare_key = taken(&at, key_bytes(job));
    a.of_sets = taken(&at, weight_bytes(job));
    a.set = taken(&at, set_bytes(job));
    bfi_swim_prepare(a.ready, job->belief->scene, &none, job->seed, 0);
    bfi_belief_weights(job->belief, rows, a.weight);
    return a;
}

static void check_job(const bf_advise_job *job) {
    BF_ASSERT(job->belief->n_drawn >= 1);
    BF_ASSERT(job->n_ways >= 1 && job->n_ways <= BF_ADVISE_MOST_WAYS);
    BF_ASSERT(job->n_hooks >= 1 && job->n_hooks <= BF_SWIM_MOST_HOOKS);
    BF_ASSERT(job->n_acts_most >= 2 && job->n_acts_most <= BF_ADVISE_MOST_ACTS);
    BF_ASSERT(job->n_scenarios >= 16 && job->n_run_off >= job->n_scenarios && job->n_run_off <= 4096);
    BF_ASSERT(job->every_s > 0 && job->blank_s > 0 && job->busy_s > 0 && job->put_in_s > 0);
    BF_ASSERT(job->for_s >= BF_ADVISE_LEAST_S && job->for_s <= 18000 && job->fish_kg > 0);
}

/* ---- Truths ---- */

/* Where in a belief: sets by their weights; *share is then the place within the set. */
static int set_at(const bfi_advising *a, double *share) {
    int set = 0, last = a->job->belief->n_sets - 1;
    while (set < last && *share >= a->weight[set]) *share -= a->weight[set++];
    while (!(a->weight[set] > 0)) set--; /* rounding left a little over */
    *share /= a->weight[set];
    return set;
}

/* The particles drawn of a set evenly. */
void bfi_advise_truth(const bfi_advising *a, int scenario, bfi_swim_alone *alone) {
    double share = bfi_planner_share(a->job->seed, scenario);
    int set = set_at(a, &share), m = a->shape.n_drawn, k = (int)(share * m);
    k = k < m ? k : m - 1;
    const double *moment = a->rows + (size_t)set * (size_t)a->shape.n_columns + bfi_row_drawn(&a->shape);
    const double *drawn = moment + BFI_SWIM_MOMENT;
    alone->swim = *a->ready;
    bfi_swim_restore(&alone->swim, moment);
    for (int c = 0; c < a->shape.model_columns; c++) alone->x[c] = drawn[c * m + k];
}

/* ---- Trying ---- */

double bfi_advise_worth(const bf_advise_job *job, const bfi_haul *haul) {
    double n = haul->n[BF_LANDED], kg = n * job->fish_kg;
    switch (job->objective) {
    case BF_FOR_WEIGHT: return kg;
    case BF_FOR_TARGET: return kg < job->target_kg ? kg / job->target_kg : 1;
    default: return n;
    }
}

/* Each tried once, side by side: rollout[i] in scenario[i], n <= BFI_WAYS; those of a scenario follow each other. */
static void try_block(bfi_advising *a, int n, const bfi_rollout *const rollout[], const int scenario[],
                      int luck) {
    bfi_swim_alone truth;
    bfi_rollouts_begin(a->block, n);
    for (int i = 0; i < n; i++) {
        if (!i || scenario[i] != scenario[i - 1]) bfi_advise_truth(a, scenario[i], &truth);
        bfi_rollouts_add(a->block, rollout[i], &truth, scenario[i] + luck);
    }
    bfi_rollouts_run(a->block);
    a->advice->n_rollouts += n;
}

static double worth_of(const bfi_advising *a, int i) {
    return bfi_advise_worth(a->job, &a->block->outing[i].haul);
}

/* All that the planner wants until it wants no more. */
static void try_all(bfi_advising *a, const bfi_rollout *rollout, int luck) {
    do {
        int n_items = bfi_planner_items(&a->planner);
        for (int i = 0, n; i < n_items; i += n) {
            const bfi_rollout *of[BFI_WAYS];
            int scenario[BFI_WAYS], at[BFI_WAYS];
            for (n = 0; n < BFI_WAYS && i + n < n_items; n++) {
                bfi_planner_item item = bfi_planner_item_of(&a->planner, i + n);
                of[n] = &rollout[item.candidate], scenario[n] = item.scenario, at[n] = item.at;
            }
            try_block(a, n, of, scenario, luck);
            for (int k = 0; k < n; k++) a->value[at[k]] = worth_of(a, k);
        }
    } while (bfi_planner_next(&a->planner, a->value));
}

/* ---- The acts ---- */

static int place_of(const bfi_advising *a, const bf_act *act) {
    for (int k = 0; k < a->advice->n_acts; k++)
        if (bfi_advise_is_same(&a->advice->act[k], act)) return k;
    return -1;
}

/* What the advice given comes to now: what was to be done is done, or the wait is over: it goes on by its rule. */
static bf_act given_now(const bfi_advising *a) {
    const bf_advise_job *job = a->job;
    bf_act given = job->given;
    int is_done = given.what == BF_WHAT_MOVE   ? given.spot == job->way[0].spot
                  : given.what == BF_WHAT_WAIT ? !(given.wait_s > 0)
                                               : job->since_put_s[given.spot] < job->given_ago_s;
    if (!is_done || !(given.every_s > 0)) return given;
    bfi_rule rule = bfi_advise_rule_of(job, &a->base, &given);
    return bfi_advise_act_of(job, &rule);
}

/* The advice given is tried too, though it would not be offered now. */
static void offer_acts(bfi_advising *a) {
    bf_advice *advice = a->advice;
    advice->n_acts = bfi_advise_offer(a->job, &a->base, advice->act);
    a->given = -1;
    if (!a->job->has_given) return;
    bf_act given = given_now(a);
    a->given = place_of(a, &given);
    if (a->given >= 0) return;
    if (advice->n_acts == a->job->n_acts_most) advice->n_acts--;
    a->given = advice->n_acts;
    advice->act[advice->n_acts++] = given;
}

/* So large a part of what the same again brings, or what counts as a fish at all. */
static double bound_of(const bfi_advising *a, double part) {
    const bfi_haul fish = {.n = {[BF_LANDED] = 1}};
    double sum = 0, n_least = BF_ADVISE_LEAST_FISH_H * a->job->for_s / 3600;
    if (n_least < BF_ADVISE_LEAST_FISH) n_least = BF_ADVISE_LEAST_FISH;
    int n = a->planner.seen[0];
    for (int s = 0; s < n; s++) sum += a->value[s];
    double share = part * sum / n, least = n_least * bfi_advise_worth(a->job, &fish);
    return share > least ? share : least;
}

/* What an act may be better by and still count as alike. */
static double margin_of(const bfi_advising *a) {
    return bound_of(a, BF_ADVISE_MARGIN);
}

static int needs_more(const bfi_advising *a) {
    return a->planner.to < a->job->n_run_off && !(a->verdict.p_again >= AGAIN);
}

static double n_effective(const bfi_advising *a) {
    double squares = 0;
    for (int s = 0; s < a->job->belief->n_sets; s++) squares += a->weight[s] * a->weight[s];
    return 1 / squares;
}

/* Particles of a set are kin: what a set has wrong, all of its scenarios have. */
static void judge(bfi_advising *a) {
    for (int s = 0; s < a->planner.to; s++) {
        double share = bfi_planner_share(a->job->seed, s);
        a->set[s] = set_at(a, &share);
    }
    double kin = bfi_planner_kin(&a->planner, a->value, a->set, a->job->belief->n_sets, a->of_sets),
           usual = a->job->belief->n_sets > 1 ? 1 + USUAL_KIN * a->planner.to / n_effective(a) : 1;
    bfi_planner_widen(&a->planner, a->value, a->set, a->job->belief->n_sets, n_effective(a) - 1,
                      kin > usual ? kin : usual, a->of_sets);
    a->planner.margin = margin_of(a);
    a->verdict = bfi_planner_verdict(&a->planner, a->value);
}

static void try_acts(bfi_advising *a) {
    bfi_rollout rollout[BF_ADVISE_MOST_ACTS];
    int given = a->given, n_acts = a->advice->n_acts;
    for (int k = 0; k < n_acts; k++) rollout[k] = bfi_advise_rollout(a->job, &a->base, &a->advice->act[k]);
    bfi_planner_begin(&a->planner, n_acts, 0, a->job->n_scenarios, a->job->n_run_off);
    try_all(a, rollout, 0);
    for (int n = a->job->n_scenarios;;) {
        bfi_planner_run_off(&a->planner, RUN_OFF_LEFT, &given, given >= 0, n);
        try_all(a, rollout, 0);
        judge(a);
        if (!needs_more(a)) break;
        n = 2 * n < a->job->n_run_off ? 2 * n : a->job->n_run_off;
    }
    a->advice->n_scenarios = a->planner.to;
    int runner_up = a->verdict.runner_up < 0 ? a->verdict.best : a->verdict.runner_up;
    a->advice->kin =
        a->planner.inflation[a->planner.inflation[a->verdict.best] > a->planner.inflation[runner_up]
                                 ? a->verdict.best
                                 : runner_up];
}

/* ---- Choosing ---- */

/* Chance that the mean of a difference is above a bound. */
static double chance_above(bf_range difference, double bound) {
    double half = difference.hi - difference.mid, off = difference.mid - bound;
    if (!(half > 0)) return off > 0 ? 1 : 0;
    return bf_normal_cdf(NORMAL_90 * off / half);
}

/* Feed an hour, kg, by the rule that an act goes on by. */
static double feeds_kg_h(const bfi_advising *a, const bf_act *act) {
    bfi_rule rule = bfi_advise_rule_of(a->job, &a->base, act);
    if (rule.feed < 0 || rule.after_bite) return 0;
    return rule.count * a->job->belief->scene->feed[rule.feed].piece_kg * 3600 / rule.every_s;
}

/* A move, less than half of the feed, holding off past the time it is due: what it loses is not seen, and does not come back. */
static int is_hard_to_undo(const bfi_advising *a, int k) {
    const bf_act *act = &a->advice->act[k];
    return act->what == BF_WHAT_MOVE || feeds_kg_h(a, act) < BOLD_CUT * feeds_kg_h(a, &a->advice->act[0]) ||
           (act->what == BF_WHAT_WAIT && act->wait_s > bfi_advise_due_s(a->job, &a->base) + BOLD_WAIT_S);
}

/* Of a spot where nothing was seen yet the model alone speaks. */
static double bound_of_best(const bfi_advising *a) {
    return a->advice->act[a->verdict.best].what == BF_WHAT_MOVE ? bound_of(a, BF_ADVISE_MOVE_MARGIN)
                                                                : margin_of(a);
}

static int is_over_bound(const bfi_advising *a) {
    return chance_above(a->verdict.gain, bound_of_best(a)) >= BF_ADVISE_CHANCE;
}

/* Chance that a gain reckoned anew, as well as this one, would be over the bound as well: twice the variance, and that one's own certainty. */
static double chance_over_again(const bfi_advising *a) {
    bf_range gain = a->verdict.gain;
    double se = (gain.hi - gain.mid) / NORMAL_90, least = bound_of_best(a) + NORMAL_90 * se;
    if (!(se > 0)) return gain.mid > least;
    return bf_normal_cdf((gain.mid - least) / (sqrt(2) * se));
}

static int is_sure_by(const bfi_advising *a, double again) {
    const bfi_verdict *v = &a->verdict;
    return v->p_first >= BFI_PLANNER_SURE && v->p_again >= again &&
           (v->best == 0 || chance_over_again(a) >= again);
}

static int is_worth_it(const bfi_advising *a) {
    int best = a->verdict.best;
    return best == 0 || (is_over_bound(a) && (is_sure_by(a, AGAIN) || !is_hard_to_undo(a, best)));
}

/* Would be advised again, with the chance AGAIN. */
static int is_sure(const bfi_advising *a) {
    int is_hard = a->verdict.best != 0 && is_hard_to_undo(a, a->verdict.best);
    return is_sure_by(a, is_hard ? AGAIN_SURE : AGAIN);
}

/* Another than the same again only where it is better by the margin, with the chance; what is hard to undo only when sure. What is barred by that gives way to
 * the next best that is not. */
static void choose_by_value(bfi_advising *a) {
    bf_advice *advice = a->advice;
    int barred = -1;
    while (!is_worth_it(a) && is_hard_to_undo(a, a->verdict.best) && a->planner.n_left > 2) {
        barred = barred < 0 ? a->verdict.best : barred;
        bfi_planner_bar(&a->planner, a->verdict.best);
        a->verdict = bfi_planner_verdict(&a->planner, a->value);
    }
    const bfi_verdict *v = &a->verdict;
    int is_worth = is_worth_it(a);
    advice->best = is_worth ? v->best : 0;
    advice->other = !is_worth ? v->best : barred >= 0 ? barred : v->runner_up;
    advice->is_either = !is_worth || barred >= 0 || !is_sure(a) || (v->best == 0 && !(v->margin.lo > 0));
}

/* Advice given stays unless what would take its place is better by the margin, with the chance. */
static void keep_given(bfi_advising *a) {
    bf_advice *advice = a->advice;
    int given = a->given;
    if (given < 0 || given == advice->best) return;
    bf_range lead = bfi_planner_difference(&a->planner, a->value, advice->best, given);
    int is_too_soon = !a->job->is_upset && a->job->given_ago_s < BF_ADVISE_KEEP_S;
    if (!is_too_soon && chance_above(lead, margin_of(a)) >= BF_ADVISE_CHANCE) return;
    advice->other = advice->best;
    advice->best = given;
    advice->is_kept = 1;
}

static void say_how_good(bfi_advising *a) {
    bf_advice *advice = a->advice;
    int best = advice->best, n = a->planner.seen[best];
    int is_top = best == a->verdict.best;
    memcpy(a->spare, a->value + (size_t)best * (size_t)a->job->n_run_off, (size_t)n * sizeof(double));
    advice->hour = bf_range_of(a->spare, (size_t)n, BF_NAN);
    advice->gain = is_top ? a->verdict.gain : bfi_planner_difference(&a->planner, a->value, best, 0);
    advice->lead =
        is_top ? a->verdict.margin : bfi_planner_difference(&a->planner, a->value, best, a->verdict.best);
    advice->p_best = is_top && !advice->is_either ? a->verdict.p_first : BF_NAN;
}

/* ---- Until the next look ---- */

static double look_s(const bfi_advising *a, const bf_act *act) {
    double s = act->what == BF_WHAT_WAIT   ? act->wait_s
               : act->what == BF_WHAT_MOVE ? BF_ADVISE_LOOK_S
                                           : a->advice->every_s;
    return s < LEAST_LOOK_S ? LEAST_LOOK_S : s > MOST_LOOK_S ? MOST_LOOK_S : s;
}

/* By which rule it goes on. */
static void tell_rule(bfi_advising *a) {
    bf_advice *advice = a->advice;
    bfi_rule rule = bfi_advise_rule_of(a->job, &a->base, &advice->act[advice->best]);
    advice->every_s = rule.every_s, advice->count = rule.count;
    advice->after_bites = rule.after_bite, advice->is_fed = rule.feed >= 0;
}

static void foretell_fish(bfi_advising *a) {
    bf_advice *advice = a->advice;
    const bf_act *act = &advice->act[advice->best];
    bfi_rollout rollout = bfi_advise_rollout(a->job, &a->base, act);
    int n_with = 0;
    rollout.for_s = advice->look_s = look_s(a, act);
    for (int s = 0, n; s < a->job->n_scenarios; s += n) {
        const bfi_rollout *of[BFI_WAYS];
        int scenario[BFI_WAYS];
        for (n = 0; n < BFI_WAYS && s + n < a->job->n_scenarios; n++) of[n] = &rollout, scenario[n] = s + n;
        try_block(a, n, of, scenario, 0);
        for (int i = 0; i < n; i++) n_with += a->block->outing[i].haul.n[BF_LANDED] > 0;
    }
    advice->p_fish = (n_with + 0.5) / (a->job->n_scenarios + 1);
}

/* ---- The whole ---- */

static int is_explained(const bfi_advising *a) {
    double all = 0;
    for (int s = 0; s < a->job->belief->n_sets; s++) all += a->weight[s];
    return all > 0;
}

void bf_advise(const bf_advise_job *job, const double *rows, void *work, bf_advice *advice) {
    check_job(job);
    memset(advice, 0, sizeof *advice);
    bfi_advising a = laid_out(job, rows, work, advice);
    advice->is_known = is_explained(&a);
    if (!advice->is_known) return;
    a.base = bfi_advise_same_again(job);
    offer_acts(&a);
    try_acts(&a);
    choose_by_value(&a);
    keep_given(&a);
    tell_rule(&a);
    say_how_good(&a);
    foretell_fish(&a);
    bfi_advise_why(&a);
}
