/* advise_offer.c -- what may be done, and by which rule one goes on. See baitfall/advise.h. */
#include <math.h>

#include "baitfall/choice.h"
#include "baitfall/field.h"
#include "baitfall/status.h"
#include "core/swim/advise.h"

/* Nothing is fed oftener than this; a put-in after which none is due by itself. */
#define LEAST_EVERY_S 60.0
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

static bfi_rule the_same_again(const bf_advise_job *job) {
    const bf_way *way = &job->way[0];
    return (bfi_rule){.spot = way->spot,
                      .hook = job->hook[0],
                      .feed = way->feed,
                      .how = way->how,
                      .count = way->count,
                      .area_m2 = way->area_m2,
                      .every_s = job->every_s,
                      .blank_s = job->blank_s};
}

/* What a rule feeds in the time ahead, at most. */
static double feeds_kg(const bf_advise_job *job, const bfi_rule *rule) {
    return (floor(job->for_s / rule->every_s) + 1) * rule->count * piece_kg(job, rule->feed);
}

static double whole(double pieces) {
    return pieces < 1 ? 1 : floor(pieces + 0.5);
}

int bfi_advise_rules(const bf_advise_job *job, bfi_rule *rule) {
    static const struct {
        double count, every;
        int after_bite;
    } by[] = {{1, 1, 0},     {0.5, 1, 0}, {2, 1, 0},   {1, 0.5, 0},  {1, 2, 0},
              {0.5, 0.5, 0}, {2, 2, 0},   {1, 0.5, 1}, {0.5, 0.5, 1}};
    int n = 0;
    for (size_t i = 0; i < sizeof by / sizeof by[0]; i++) {
        bfi_rule r = the_same_again(job);
        r.count = whole(r.count * by[i].count), r.every_s *= by[i].every, r.after_bite = by[i].after_bite;
        if (r.every_s < LEAST_EVERY_S) r.every_s = LEAST_EVERY_S;
        if (feeds_kg(job, &r) <= job->most_kg) rule[n++] = r;
    }
    rule[n] = the_same_again(job);
    rule[n++].feed = -1;
    return n;
}

double bfi_advise_due_s(const bf_advise_job *job, const bfi_rule *rule) {
    if (rule->feed < 0) return BF_INFINITY;
    double due_s = rule->every_s - job->since_put_s[rule->spot];
    return due_s > 0 ? due_s : 0;
}

/* ---- Acts ---- */

int bfi_advise_is_same(const bf_act *a, const bf_act *b) {
    if (a->what != b->what || a->spot != b->spot || a->hook != b->hook) return 0;
    if (a->what == BF_WHAT_WAIT) return fabs(a->wait_s - b->wait_s) < SAME_WAIT_S;
    if (a->feed < 0 || b->feed < 0) return a->feed == b->feed;
    return a->feed == b->feed && a->how == b->how && a->count == b->count;
}

typedef struct offer {
    const bf_advise_job *job;
    const bfi_rule *base;
    bf_act *act;
    int n;
} offer;

static void add(offer *o, bf_act act) {
    int is_now = act.feed >= 0 && act.what != BF_WHAT_WAIT;
    if (o->n == o->job->n_acts_most) return;
    if (is_now && act.count * piece_kg(o->job, act.feed) > o->job->most_kg) return;
    for (int i = 0; i < o->n; i++)
        if (bfi_advise_is_same(&o->act[i], &act)) return;
    o->act[o->n++] = act;
}

/* Going on by the base: a put-in now, or waiting for it. */
static bf_act base_act(const offer *o, int hook) {
    const bfi_rule *base = o->base;
    double due_s = bfi_advise_due_s(o->job, base);
    int waits = due_s > 0 || (base->after_bite && !o->job->n_bites);
    bf_act act = {.what = waits ? BF_WHAT_WAIT : BF_WHAT_FEED,
                  .spot = base->spot,
                  .hook = hook,
                  .feed = base->feed,
                  .how = base->how,
                  .count = base->count,
                  .area_m2 = base->area_m2};
    if (act.what == BF_WHAT_WAIT) act.wait_s = due_s > 0 && due_s < BF_INFINITY ? due_s : NO_FEED_LOOK_S;
    return act;
}

static bf_act feeding(const bf_way *way, int hook, double times) {
    return (bf_act){.what = BF_WHAT_FEED,
                    .spot = way->spot,
                    .hook = hook,
                    .feed = way->feed,
                    .how = way->how,
                    .count = whole(way->count * times),
                    .area_m2 = way->area_m2};
}

static void add_amounts(offer *o, const bf_way *way) {
    static const double times[] = {1, 0.5, 2};
    for (size_t i = 0; i < sizeof times / sizeof times[0]; i++)
        add(o, feeding(way, o->job->hook[0], times[i]));
}

/* Past the time it is due, by a rule that feeds by the clock. */
static void add_waits(offer *o) {
    static const double wait_s[] = {300, 600, 900, 1200};
    double due_s = bfi_advise_due_s(o->job, o->base);
    bf_act act = base_act(o, o->job->hook[0]);
    act.what = BF_WHAT_WAIT;
    for (size_t i = 0; i < sizeof wait_s / sizeof wait_s[0] && due_s < BF_INFINITY && !o->base->after_bite;
         i++) {
        act.wait_s = wait_s[i];
        if (wait_s[i] > due_s + SAME_WAIT_S) add(o, act);
    }
}

static void add_hooks(offer *o) {
    for (int i = 1; i < o->job->n_hooks && i <= MOST_OTHER_HOOKS; i++) {
        add(o, base_act(o, o->job->hook[i]));
        add(o, feeding(&o->job->way[0], o->job->hook[i], 1));
    }
}

static void add_moves(offer *o) {
    const bf_advise_job *job = o->job;
    for (int i = 0; i < job->n_ways; i++) {
        bf_act act = feeding(&job->way[i], job->hook[0], 1);
        if (act.spot == job->way[0].spot) continue;
        act.what = BF_WHAT_MOVE;
        add(o, act);
        act.feed = -1;
        add(o, act);
    }
}

int bfi_advise_offer(const bf_advise_job *job, const bfi_rule *base, bf_act *act) {
    offer o = {job, base, act, 0};
    add(&o, base_act(&o, job->hook[0]));
    add_amounts(&o, &job->way[0]);
    add_waits(&o);
    add_hooks(&o);
    add_moves(&o);
    for (int i = 1; i < job->n_ways; i++)
        if (job->way[i].spot == job->way[0].spot) add_amounts(&o, &job->way[i]);
    return o.n;
}

int bf_advise_offer(const bf_advise_job *job, bf_act *act) {
    bfi_rule rule[BFI_ADVISE_RULES];
    bfi_advise_rules(job, rule);
    return bfi_advise_offer(job, &rule[0], act);
}

/* ---- Doing it ---- */

static void go_to(const bf_advise_job *job, const bf_act *act, bfi_rule *rule) {
    rule->spot = act->spot, rule->hook = act->hook;
    if (rule->feed >= 0 && act->spot != job->way[0].spot)
        rule->area_m2 = job->belief->scene->spot[act->spot].area_m2[rule->how];
}

bfi_rollout bfi_advise_rollout(const bf_advise_job *job, const bfi_rule *base, const bf_act *act) {
    bfi_rollout rollout = {.then = *base,
                           .for_s = job->for_s,
                           .since_put_s = job->since_put_s[act->spot],
                           .n_bites = act->spot == job->way[0].spot ? job->n_bites : 0,
                           .hands = {.put_in_s = job->put_in_s, .fish_kg = job->fish_kg, .fish_spread = 1},
                           .seed = job->seed};
    for (int outcome = 0; outcome < BF_TOUCHED; outcome++) rollout.hands.busy_s[outcome] = job->busy_s;
    go_to(job, act, &rollout.then);
    rollout.first = rollout.then;
    int is_now = act->feed >= 0 && act->what != BF_WHAT_WAIT;
    if (is_now) {
        rollout.first.feed = act->feed, rollout.first.how = act->how;
        rollout.first.count = act->count, rollout.first.area_m2 = act->area_m2;
        rollout.first.every_s = ONCE_S, rollout.first.after_bite = 0;
        rollout.first_s = 1; /* the drop that begins with it */
        rollout.since_put_s = BF_INFINITY;
    } else if (act->what == BF_WHAT_MOVE ||
               (!base->after_bite && act->wait_s > bfi_advise_due_s(job, &rollout.then))) {
        rollout.first.feed = -1;
        rollout.first_s = act->what == BF_WHAT_MOVE ? BF_ADVISE_LOOK_S : act->wait_s;
    }
    return rollout;
}
