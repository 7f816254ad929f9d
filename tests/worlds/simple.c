/* simple.c -- see simple.h. */
#include "worlds/simple.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "baitfall/choice.h"
#include "baitfall/random.h"
#include "baitfall/special.h"

#define STREAM_CHANCE UINT64_C(0x3a05000000000000)
#define STREAM_THOMPSON UINT64_C(0x3a06000000000000)

/* ---- Fixed ways ---- */

enum { N_AMOUNTS = 3, N_GAPS = 2, N_POTS = WORLD_FEEDS * N_AMOUNTS * N_GAPS };
static const double pot_pieces[WORLD_FEEDS][N_AMOUNTS] = {{65, 200, 650}, {8, 25, 80}, {3, 8, 25}};
static const double gap_s[N_GAPS] = {240, 600};
_Static_assert(N_FIXED == N_POTS + 3, "pots, nothing, thrown, the other spot");

static rule pot(int feed, int amount, int gap) {
    return (rule){.feed = feed, .how = BF_CLUMP, .count = pot_pieces[feed][amount], .every_s = gap_s[gap]};
}

rule fixed_rule(int i) {
    if (i < N_POTS) return pot(i / (N_AMOUNTS * N_GAPS), i / N_GAPS % N_AMOUNTS, i % N_GAPS);
    if (i == N_POTS) return (rule){.feed = -1};
    if (i == N_POTS + 1) return (rule){.feed = WORLD_HARD_SIX, .how = BF_THROW, .count = 4, .every_s = 60};
    rule other = fixed_rule(USUAL_FIXED);
    other.spot = 1;
    return other;
}

static const char *fixed_words(int i) {
    static const char *const feeds[WORLD_FEEDS] = {"soft 2 mm", "hard 4 mm", "hard 6 mm"};
    static char words[64];
    rule r = fixed_rule(i);
    if (i < N_POTS)
        snprintf(words, sizeof words, "%.0f %s every %.0f min", r.count, feeds[r.feed], r.every_s / 60);
    else
        strcpy(words, i == N_POTS       ? "no feed"
                      : i == N_POTS + 1 ? "4 hard 6 mm thrown each minute"
                                        : "25 hard 4 mm every 4 min, the other spot");
    return words;
}

/* ---- Simple rules, all from the usual way ---- */

typedef struct by_rule {
    int which;
    rule start;
    double changed_s;
} by_rule;

enum {
    UP_A_SIZE,
    HALVE_BLANK,
    HALVE_AND_BACK,
    AFTER_BITE,
    DOUBLE_BLANK,
    MOVE_BLANK,
    OTHER_HOOK,
    SMALL_THEN_BIG
};
static const char *const rule_words[N_RULES] = {
    "soft 2 mm, up a size after 2 foul-hooks in 10 put-ins",
    "half the feed after 10 blank minutes",
    "the same, back to the usual after a bite",
    "top up only after a bite",
    "double the feed after 10 blank minutes",
    "the other spot after 20 blank minutes",
    "the other hook bait after 10 blank minutes",
    "soft 2 mm for 40 minutes, then hard 4 mm",
};

static double blank_s(const outing *o, const by_rule *r) {
    return o->t_s - fmax(o->bite_s, r->changed_s);
}

/* Foul-hooks entered since the put-in before last ten. */
static int fouls_in_ten(const outing *o) {
    int n_puts = 0, fouls = 0;
    for (int i = o->journal->n - 1; i >= 0 && n_puts < 10; i--) {
        const bf_swim_event *e = &o->journal->event[i];
        n_puts += e->kind == BF_SWIM_FEED;
        fouls += e->kind == BF_SWIM_LIFT && e->outcome == BF_FOUL;
    }
    return fouls;
}

static void up_a_size(outing *o, by_rule *r) {
    if (o->rule.feed == WORLD_HARD_SIX || fouls_in_ten(o) < 2 || o->t_s < r->changed_s + 600) return;
    int feed = o->rule.feed + 1;
    o->rule.feed = feed, o->rule.count = pot_pieces[feed][1];
    r->changed_s = o->t_s;
}

static void decide_by_rule(void *self, outing *o) {
    by_rule *r = self;
    int is_blank = blank_s(o, r) >= (r->which == MOVE_BLANK ? 1200 : 600);
    if (o->t_s == 0) o->rule = r->start;
    if (r->which == UP_A_SIZE) up_a_size(o, r);
    if (r->which == HALVE_AND_BACK && o->bite_s > r->changed_s) o->rule.count = r->start.count;
    if (r->which == SMALL_THEN_BIG && o->t_s >= 2400) o->rule = fixed_rule(USUAL_FIXED);
    if (!is_blank) return;
    switch (r->which) {
    case HALVE_BLANK:
    case HALVE_AND_BACK: o->rule.count = fmax(1, floor(o->rule.count / 2)); break;
    case DOUBLE_BLANK: o->rule.count = fmin(8 * r->start.count, 2 * o->rule.count); break;
    case MOVE_BLANK: o->rule.spot = 1 - o->rule.spot; break;
    case OTHER_HOOK: o->rule.hook = 1 - o->rule.hook; break;
    default: return;
    }
    r->changed_s = o->t_s;
}

static by_rule rule_of(int which) {
    by_rule r = {.which = which, .start = fixed_rule(USUAL_FIXED)};
    if (which == UP_A_SIZE || which == SMALL_THEN_BIG) r.start = pot(WORLD_SOFT_TWO, 1, 0);
    r.start.after_bite = which == AFTER_BITE;
    return r;
}

/* ---- Chance ---- */

static void decide_by_chance(void *self, outing *o) {
    double *next_s = self;
    if (o->t_s < *next_s) return;
    o->rule = fixed_rule((int)(N_FIXED * bf_uniform(o->seed, STREAM_CHANCE, (uint64_t)o->t_s)));
    *next_s = o->t_s + 600;
}

/* ---- Learners: each way's landed fish an hour, gamma and Poisson ---- */

enum { N_ARMS = 7 };
#define TRIED_S 1200.0
#define PRIOR_FISH 1.0
#define PRIOR_H 0.15 /* some seven an hour */

typedef struct learner {
    int is_thompson, arm, landed; /* landed: entered as such when the arm was begun */
    double begun_s, fish[N_ARMS], hours[N_ARMS];
} learner;

static rule arm_rule(int arm) {
    rule usual = fixed_rule(USUAL_FIXED);
    switch (arm) {
    case 1: usual.count = 12; break;
    case 2: usual.count = 50; break;
    case 3: return (rule){.feed = -1};
    case 4: return pot(WORLD_SOFT_TWO, 1, 0);
    case 5: return pot(WORLD_HARD_SIX, 1, 0);
    case 6: usual.spot = 1; break;
    default: break;
    }
    return usual;
}

static int entered_landed(const outing *o) {
    int n = 0;
    for (int i = 0; i < o->journal->n; i++)
        n += o->journal->event[i].kind == BF_SWIM_LIFT && o->journal->event[i].outcome == BF_LANDED;
    return n;
}

/* Posterior mean, or a draw. */
static double worth_of(const learner *l, const outing *o, int arm) {
    double shape = PRIOR_FISH + l->fish[arm], rate = PRIOR_H + l->hours[arm];
    if (!l->is_thompson) return shape / rate;
    double u = bf_uniform(o->seed, STREAM_THOMPSON, (uint64_t)o->t_s * N_ARMS + (uint64_t)arm);
    return bf_gamma_quantile(shape, u) / rate;
}

static void decide_by_learning(void *self, outing *o) {
    learner *l = self;
    if (o->t_s > 0 && o->t_s < l->begun_s + TRIED_S) return;
    if (o->t_s > 0) {
        l->fish[l->arm] += entered_landed(o) - l->landed;
        l->hours[l->arm] += (o->t_s - l->begun_s) / 3600;
    }
    int best = 0;
    for (int arm = 1; arm < N_ARMS; arm++)
        if (worth_of(l, o, arm) > worth_of(l, o, best)) best = arm;
    l->arm = best, l->begun_s = o->t_s, l->landed = entered_landed(o);
    o->rule = arm_rule(best);
}

/* ---- Seeing what is to come ---- */

/* Every 20 minutes each fixed way is tried on a copy of the world, for an hour that will really be so, luck and all; the best is taken. */
static void decide_by_seeing(void *self, outing *o) {
    double *next_s = self;
    int best = -1, most = -1;
    if (o->t_s < *next_s) return;
    *next_s = o->t_s + TRIED_S;
    for (int i = 0; i < N_FIXED; i++) {
        outing copy = *o;
        copy.journal = NULL;
        copy.rule = fixed_rule(i);
        outing_fish(&copy, NULL, fmin(o->t_s + 3600, SESSION_S));
        int landed = outing_landed(&copy);
        if (landed > most || (i == USUAL_FIXED && landed == most)) most = landed, best = i;
    }
    o->rule = fixed_rule(best);
}

/* ---- All of them ---- */

const char *simple_words(int i) {
    static const char *const others[] = {"by chance, anew each 10 minutes", "greedy gamma-Poisson",
                                         "Thompson sampling", "who sees what is to come"};
    return i < N_FIXED         ? fixed_words(i)
           : i < SIMPLE_RANDOM ? rule_words[i - SIMPLE_RULES]
                               : others[i - SIMPLE_RANDOM];
}

void simple_session(const world_kind *kind, uint64_t seed, int i, outing *o) {
    static journal kept;
    double next_s = 0;
    by_rule r = rule_of(i - SIMPLE_RULES);
    learner l = {.is_thompson = i == SIMPLE_THOMPSON};
    strategy by = {.decide = decide_by_rule, .self = &r};
    outing_open(o, kind, seed, &kept);
    o->rule = i < N_FIXED ? fixed_rule(i) : r.start;
    if (i == SIMPLE_RANDOM || i == SIMPLE_SEEING)
        by = (strategy){.decide = i == SIMPLE_RANDOM ? decide_by_chance : decide_by_seeing, .self = &next_s};
    if (i == SIMPLE_GREEDY || i == SIMPLE_THOMPSON) by = (strategy){.decide = decide_by_learning, .self = &l};
    outing_fish(o, i < N_FIXED ? NULL : &by, SESSION_S);
}
