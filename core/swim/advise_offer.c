/* advise_offer.c -- what may be done, and by which rule one goes on. See baitfall/advise.h. */
#include <math.h>

#include "baitfall/choice.h"
#include "baitfall/field.h"
#include "baitfall/status.h"
#include "core/swim/advise.h"

/* Nothing is fed oftener than this, or in a smaller put-in where it was not (judgement); a put-in after which none is due by itself. */
#define LEAST_EVERY_S 60.0
#define LEAST_PIECES 3.0
#define ONCE_S 1e9
/* Without feed the next look comes so soon. */
#define NO_FEED_LOOK_S 600.0
/* Waits nearer to each other than this are the same. */
#define SAME_WAIT_S 60.0
#define MOST_OTHER_HOOKS 3

static double piece_kg(const bf_advise_job *job, int feed) {
    return job->belief->scene->feed[feed].piece_kg;
}

/* ---- Rules ---- */

/* 1 when what went in last is what the advice given named: its rule is in force, and not what the record's gaps come to. */
static int is_in_force(const bf_advise_job *job) {
    const bf_way *way = &job->way[0];
    const bf_act *given = &job->given;
    return job->has_given && given->feed == way->feed && given->how == way->how && given->spot == way->spot &&
           given->every_s > 0 && given->every_s < BF_INFINITY && given->count < 1.5 * way->count &&
           way->count < 1.5 * given->count;
}

static bfi_rule usual_of(const bf_advise_job *job) {
    const bf_way *way = &job->way[0];
    bfi_rule rule = {.spot = way->spot,
                     .hook = job->hook[0],
                     .feed = way->feed,
                     .how = way->how,
                     .count = way->count,
                     .area_m2 = way->area_m2,
                     .every_s = job->every_s,
                     .blank_s = job->blank_s};
    if (is_in_force(job)) {
        rule.count = job->given.count, rule.every_s = job->given.every_s;
        rule.after_bite = job->given.after_bite;
    }
    return rule;
}

/* What a rule feeds in the time ahead, at most. */
static double feeds_kg(const bf_advise_job *job, const bfi_rule *rule) {
    return (floor(job->for_s / rule->every_s) + 1) * rule->count * piece_kg(job, rule->feed);
}

static double whole(double pieces) {
    return pieces < 1 ? 1 : floor(pieces + 0.5);
}

/* The rule, by another way of feeding. */
static bfi_rule by_way(const bfi_rule *rule, const bf_way *way) {
    bfi_rule r = *rule;
    r.spot = way->spot, r.feed = way->feed, r.how = way->how;
    r.count = way->count, r.area_m2 = way->area_m2;
    return r;
}

/* The rule with so many times the count and the time between; after a bite alone, or not. Not below LEAST_PIECES but where it is already. */
static bfi_rule changed(const bfi_rule *rule, double count, double every, int after_bite) {
    bfi_rule r = *rule;
    double least = rule->count < LEAST_PIECES ? rule->count : LEAST_PIECES;
    r.count = whole(rule->count * count), r.every_s *= every, r.after_bite = after_bite;
    if (r.count < least) r.count = least;
    if (r.every_s < LEAST_EVERY_S) r.every_s = LEAST_EVERY_S;
    return r;
}

/* What goes in over the rig costs no fishing time, so it need not come in lumps: each minute, so many times the feed of the rule in all. */
static bfi_rule little_and_often(const bfi_rule *rule, double times) {
    return changed(rule, times * LEAST_EVERY_S / rule->every_s, LEAST_EVERY_S / rule->every_s, 0);
}

static int goes_over_the_rig(int how) {
    return how == BF_THROW || how == BF_HAND;
}

static int is_same_rule(const bfi_rule *a, const bfi_rule *b) {
    return a->feed == b->feed && a->how == b->how && a->count == b->count && a->every_s == b->every_s &&
           a->after_bite == b->after_bite;
}

static void add_rule(const bf_advise_job *job, bfi_rule one, bfi_rule *rule, int *n) {
    if (*n == BFI_ADVISE_RULES - 1 || feeds_kg(job, &one) > job->most_kg) return;
    for (int i = 0; i < *n; i++)
        if (is_same_rule(&rule[i], &one)) return;
    rule[(*n)++] = one;
}

int bfi_advise_rules(const bf_advise_job *job, bfi_rule *rule) {
    static const struct {
        double count, every;
        int after_bite;
    } by[] = {{1, 1, 0}, {0.5, 1, 0},  {2, 1, 0},      {1, 0.5, 0}, {1, 2, 0},  {0.5, 0.5, 0},
              {2, 2, 0}, {0.25, 1, 0}, {0.5, 0.25, 0}, {4, 1, 0},   {1, 0.5, 1}};
    int n = 0;
    bfi_rule usual = usual_of(job);
    for (size_t i = 0; i < sizeof by / sizeof by[0]; i++)
        add_rule(job, changed(&usual, by[i].count, by[i].every, by[i].after_bite), rule, &n);
    for (int i = 0; i < job->n_ways; i++) {
        if (job->way[i].spot != usual.spot) continue;
        bfi_rule other = by_way(&usual, &job->way[i]);
        if (goes_over_the_rig(other.how)) {
            add_rule(job, little_and_often(&other, 1), rule, &n);
            add_rule(job, little_and_often(&other, 2), rule, &n);
        }
        add_rule(job, other, rule, &n);
    }
    rule[n] = usual;
    rule[n++].feed = -1;
    return n;
}

bfi_rule bfi_advise_same_again(const bf_advise_job *job) {
    bfi_rule rule[BFI_ADVISE_RULES];
    bfi_advise_rules(job, rule);
    return rule[0];
}

double bfi_advise_due_s(const bf_advise_job *job, const bfi_rule *rule) {
    if (rule->feed < 0) return BF_INFINITY;
    double due_s = rule->every_s - job->since_put_s[rule->spot];
    return due_s > 0 ? due_s : 0;
}

bfi_rule bfi_advise_rule_of(const bf_advise_job *job, const bfi_rule *base, const bf_act *act) {
    bfi_rule rule = *base;
    rule.spot = act->spot, rule.hook = act->hook;
    if (act->every_s > 0) {
        rule.feed = act->feed, rule.how = act->how, rule.count = act->count, rule.area_m2 = act->area_m2;
        rule.every_s = act->every_s, rule.after_bite = act->after_bite;
    } else if (rule.feed >= 0 && act->spot != base->spot)
        rule.area_m2 = job->belief->scene->spot[act->spot].area_m2[rule.how];
    return rule;
}

/* ---- Acts ---- */

int bfi_advise_does_same(const bf_act *a, const bf_act *b) {
    if (a->what != b->what || a->spot != b->spot || a->hook != b->hook) return 0;
    if (a->what == BF_WHAT_WAIT) return fabs(a->wait_s - b->wait_s) < SAME_WAIT_S;
    if (a->feed < 0 || b->feed < 0) return a->feed == b->feed;
    return a->feed == b->feed && a->how == b->how && a->count == b->count;
}

int bfi_advise_is_same(const bf_act *a, const bf_act *b) {
    return bfi_advise_does_same(a, b) && a->feed == b->feed && a->how == b->how && a->count == b->count &&
           (a->every_s == b->every_s || fabs(a->every_s - b->every_s) < 1) && a->after_bite == b->after_bite;
}

/* Nothing in the time ahead; looked at again after so long. */
static bf_act feeding_nothing(const bfi_rule *rule, double for_s) {
    return (bf_act){.what = BF_WHAT_WAIT,
                    .spot = rule->spot,
                    .hook = rule->hook,
                    .feed = -1,
                    .wait_s = for_s,
                    .every_s = BF_INFINITY};
}

static bf_act feeding_by(const bfi_rule *rule, bf_what what, double wait_s) {
    return (bf_act){.what = (int)what,
                    .spot = rule->spot,
                    .hook = rule->hook,
                    .feed = rule->feed,
                    .how = rule->how,
                    .after_bite = rule->after_bite,
                    .count = rule->count,
                    .area_m2 = rule->area_m2,
                    .wait_s = wait_s,
                    .every_s = rule->every_s};
}

/* Where no put-in comes in the time ahead, it is nothing. */
bf_act bfi_advise_act_of(const bf_advise_job *job, const bfi_rule *rule) {
    double due_s = bfi_advise_due_s(job, rule),
           look_s = job->for_s < NO_FEED_LOOK_S ? job->for_s : NO_FEED_LOOK_S;
    if (rule->feed < 0) return feeding_nothing(rule, look_s);
    if (!(due_s < job->for_s)) return feeding_nothing(rule, job->for_s);
    if (due_s > 0) return feeding_by(rule, BF_WHAT_WAIT, due_s);
    return rule->after_bite && !job->n_bites ? feeding_by(rule, BF_WHAT_WAIT, look_s)
                                             : feeding_by(rule, BF_WHAT_FEED, 0);
}

typedef struct offer {
    const bf_advise_job *job;
    bf_act *act;
    int n;
} offer;

static void add(offer *o, bf_act act) {
    const bf_advise_job *job = o->job;
    double puts = act.every_s > 0 ? floor(job->for_s / act.every_s) + 1 : 1;
    if (o->n == job->n_acts_most) return;
    if (act.feed >= 0 && puts * act.count * piece_kg(job, act.feed) > job->most_kg) return;
    for (int i = 0; i < o->n; i++)
        if (bfi_advise_is_same(&o->act[i], &act)) return;
    o->act[o->n++] = act;
}

static void add_rule_act(offer *o, const bfi_rule *rule) {
    add(o, bfi_advise_act_of(o->job, rule));
}

/* A single put-in of the usual way: where no more may go in, or nothing at all is best from then on. */
static void add_once(offer *o) {
    static const double times[] = {1, 0.5};
    const bf_way *way = &o->job->way[0];
    for (size_t i = 0; i < sizeof times / sizeof times[0]; i++)
        add(o, (bf_act){.what = BF_WHAT_FEED,
                        .spot = way->spot,
                        .hook = o->job->hook[0],
                        .feed = way->feed,
                        .how = way->how,
                        .count = whole(way->count * times[i]),
                        .area_m2 = way->area_m2});
}

/* At once, or past the time it is due, by a rule that feeds by the clock. */
static void add_times(offer *o, const bfi_rule *base) {
    static const double wait_s[] = {600, 1200};
    if (base->feed < 0) add_once(o);
    if (base->feed < 0 || base->after_bite) return;
    double due_s = bfi_advise_due_s(o->job, base);
    add(o, feeding_by(base, BF_WHAT_FEED, 0));
    for (size_t i = 0; i < sizeof wait_s / sizeof wait_s[0]; i++)
        if (wait_s[i] > due_s + SAME_WAIT_S && wait_s[i] < o->job->for_s)
            add(o, feeding_by(base, BF_WHAT_WAIT, wait_s[i]));
}

static void add_hooks(offer *o, const bfi_rule *base) {
    for (int i = 1; i < o->job->n_hooks && i <= MOST_OTHER_HOOKS; i++) {
        bfi_rule rule = *base;
        rule.hook = o->job->hook[i];
        add_rule_act(o, &rule);
    }
}

static void add_moves(offer *o, const bfi_rule *base) {
    const bf_advise_job *job = o->job;
    for (int i = 0; i < job->n_ways; i++) {
        bfi_rule rule = by_way(base, &job->way[i]);
        if (rule.spot == base->spot) continue;
        rule.after_bite = 0;
        if (rule.feed >= 0) add(o, feeding_by(&rule, BF_WHAT_MOVE, 0));
        bf_act bare = feeding_nothing(&rule, 0);
        bare.what = BF_WHAT_MOVE;
        add(o, bare);
    }
}

static void add_other_amounts(offer *o, const bfi_rule *base) {
    static const double times[] = {0.5, 2};
    const bf_advise_job *job = o->job;
    for (size_t t = 0; t < sizeof times / sizeof times[0]; t++)
        for (int i = 1; i < job->n_ways; i++) {
            bfi_rule way = by_way(base, &job->way[i]), rule = changed(&way, times[t], 1, 0);
            if (rule.spot == base->spot && base->feed >= 0) add_rule_act(o, &rule);
        }
}

int bfi_advise_offer(const bf_advise_job *job, const bfi_rule *base, bf_act *act) {
    offer o = {job, act, 0};
    bfi_rule rule[BFI_ADVISE_RULES];
    int n_rules = bfi_advise_rules(job, rule);
    for (int i = 0; i < n_rules; i++) add_rule_act(&o, &rule[i]);
    add_times(&o, base);
    add_hooks(&o, base);
    add_moves(&o, base);
    add_other_amounts(&o, base);
    return o.n;
}

int bf_advise_offer(const bf_advise_job *job, bf_act *act) {
    bfi_rule same = bfi_advise_same_again(job);
    return bfi_advise_offer(job, &same, act);
}

/* ---- Doing it ---- */

bfi_rollout bfi_advise_rollout(const bf_advise_job *job, const bfi_rule *base, const bf_act *act) {
    bfi_rollout rollout = {.then = bfi_advise_rule_of(job, base, act),
                           .for_s = job->for_s,
                           .since_put_s = job->since_put_s[act->spot],
                           .n_bites = act->spot == job->way[0].spot ? job->n_bites : 0,
                           .hands = {.put_in_s = job->put_in_s, .fish_kg = job->fish_kg, .fish_spread = 1},
                           .seed = job->seed};
    for (int outcome = 0; outcome < BF_TOUCHED; outcome++) rollout.hands.busy_s[outcome] = job->busy_s;
    rollout.first = rollout.then;
    int is_now = act->feed >= 0 && act->what != BF_WHAT_WAIT;
    if (is_now) {
        rollout.first.feed = act->feed, rollout.first.how = act->how;
        rollout.first.count = act->count, rollout.first.area_m2 = act->area_m2;
        rollout.first.every_s = ONCE_S, rollout.first.after_bite = 0;
        rollout.first_s = 1; /* the drop that begins with it */
        rollout.since_put_s = BF_INFINITY;
    } else if (act->what == BF_WHAT_MOVE || act->feed < 0 ||
               (!rollout.then.after_bite && act->wait_s > bfi_advise_due_s(job, &rollout.then))) {
        rollout.first.feed = -1;
        rollout.first_s = act->what == BF_WHAT_MOVE ? BF_ADVISE_LOOK_S : act->wait_s;
    }
    return rollout;
}
