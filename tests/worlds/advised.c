/* advised.c -- see advised.h. */
#include "worlds/advised.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/swim/advise.h"
#include "worlds/simple.h"

/* What the adviser takes for every outcome: the mean of a usual hour's. */
#define BUSY_S 45.0
#define PUT_IN_S 15.0
#define FISH_KG 1.2
#define MOST_EVERY_S 3600.0
#define LEAST_EVERY_S 60.0
#define PLANNED_EVERY_S 240.0
#define TRUTH_SD 1e-3 /* of logarithms: as good as known */
#define SEEDS_A_SESSION 1024
#define AGAIN_SEED (UINT64_C(1) << 40)
enum { MOST_GAPS = 64 };

/* ---- Ways that the angler has along ---- */

enum { N_WAYS = WORLD_FEEDS + 1, WAY_THROWN = WORLD_FEEDS };
static const struct {
    int feed, how;
    double count; /* to begin with: some 1.5 g */
} ways[N_WAYS] = {{WORLD_SOFT_TWO, BF_CLUMP, 200},
                  {WORLD_HARD_FOUR, BF_CLUMP, 25},
                  {WORLD_HARD_SIX, BF_CLUMP, 8},
                  {WORLD_HARD_SIX, BF_THROW, 8}};

typedef struct adviser {
    advised *out;
    advised_size size;
    FILE *tell;
    bf_belief_job belief;
    void *scratch, *work, *snapshots, *saved;
    double *rows, saved_s;
    int has_saved;
    bf_advise_job job;
    bf_advice advice;
    double look_s, given_s; /* instants */
    int n_entered;          /* when the advice was given */
} adviser;

static void *room_of(size_t bytes) {
    void *memory = aligned_alloc(16, (bytes + 15) / 16 * 16);
    if (!memory) abort();
    return memory;
}

static size_t row_bytes(const bf_belief_job *job) {
    return (size_t)job->n_sets * (size_t)bf_belief_columns(job) * sizeof(double);
}

/* ---- Belief ---- */

/* Up to now, from the last snapshot. */
static void believe(adviser *a, const outing *o) {
    bf_belief_job *job = &a->belief;
    job->event = o->journal->event, job->n_events = o->journal->n, job->until_s = o->t_s;
    double grid_s = bf_belief_grid_s(o->t_s - 1); /* what is entered at this very instant is still to come */
    const void *from = a->has_saved ? a->snapshots : NULL;
    int is_new = grid_s > a->saved_s;
    bf_belief_rows_from(job, 0, job->n_sets, from, is_new ? a->saved : NULL, is_new ? grid_s : 0, a->scratch,
                        a->rows);
    if (!is_new) return;
    void *old = a->snapshots;
    a->snapshots = a->saved, a->saved = old;
    a->saved_s = grid_s, a->has_saved = 1;
}

/* ---- What is asked ---- */

/* Half of the drops are longer; 0: there was none. */
static double usual_drop_s(const journal *kept) {
    double drop_s[MOST_GAPS], in_s = 0;
    int n = 0;
    for (int i = 0; i < kept->n; i++) {
        const bf_swim_event *e = &kept->event[i];
        if (e->kind == BF_SWIM_IN) in_s = e->t_s;
        if (e->kind == BF_SWIM_LIFT) drop_s[n++ % MOST_GAPS] = e->t_s - in_s;
    }
    n = n < MOST_GAPS ? n : MOST_GAPS;
    bf_sort(drop_s, (size_t)n);
    return n ? bf_quantile_sorted(drop_s, (size_t)n, 0.5) : 0;
}

/* As text/next.c: a pot that is due waits until the rig is out, half a drop as a rule. */
static double usual_every_s(const journal *kept) {
    double gap_s[MOST_GAPS], later_s = -1;
    int n = 0;
    for (int i = kept->n - 1; i >= 0 && n < MOST_GAPS; i--) {
        if (kept->event[i].kind != BF_SWIM_FEED) continue;
        if (later_s >= 0) gap_s[n++] = later_s - kept->event[i].t_s;
        later_s = kept->event[i].t_s;
    }
    if (!n) return PLANNED_EVERY_S;
    bf_sort(gap_s, (size_t)n);
    double every_s = bf_quantile_sorted(gap_s, (size_t)n, 0.5) - 0.5 * usual_drop_s(kept);
    return fmin(fmax(every_s, LEAST_EVERY_S), MOST_EVERY_S);
}

static bf_way way_of(const outing *o, int spot, int w) {
    bf_way way = {spot, ways[w].feed, ways[w].how, ways[w].count, o->scene.spot[spot].area_m2[ways[w].how]};
    for (int i = 0; i < o->journal->n; i++) {
        const bf_swim_event *e = &o->journal->event[i];
        if (e->kind == BF_SWIM_FEED && e->spot == spot && e->what == way.feed && e->how == way.how)
            way.count = e->count;
    }
    return way;
}

/* The way fed last at a spot, else anywhere, else the usual. */
static int last_way(const outing *o, int spot) {
    int anywhere = -1;
    for (int i = o->journal->n - 1; i >= 0; i--) {
        const bf_swim_event *e = &o->journal->event[i];
        if (e->kind != BF_SWIM_FEED) continue;
        int w = e->how == BF_THROW ? WAY_THROWN : e->what;
        if (e->spot == spot) return w;
        if (anywhere < 0) anywhere = w;
    }
    return anywhere >= 0 ? anywhere : WORLD_HARD_FOUR;
}

static void find_ways(bf_advise_job *job, const outing *o) {
    int spot = o->rule.spot, usual = last_way(o, spot);
    job->n_ways = 0;
    job->way[job->n_ways++] = way_of(o, spot, usual);
    for (int w = 0; w < N_WAYS; w++)
        if (w != usual) job->way[job->n_ways++] = way_of(o, spot, w);
    for (int s = 0; s < WORLD_SPOTS; s++)
        if (s != spot) job->way[job->n_ways++] = way_of(o, s, usual);
}

/* Nearly what was said. */
static int is_as_given(const bf_act *given, const bf_swim_event *fed) {
    return given->every_s > 0 && fed->spot == given->spot && fed->what == given->feed &&
           fed->how == given->how && fed->count < 1.5 * given->count && given->count < 1.5 * fed->count;
}

/* As text/next.c: feed that has gone in since as it was not said ends the advice given; a bite upsets it. */
static void take_given(adviser *a, const outing *o) {
    bf_advise_job *job = &a->job;
    if (!a->advice.is_known || a->given_s < 0) return;
    job->given = a->advice.act[a->advice.best];
    job->given_ago_s = o->t_s - a->given_s;
    job->given.wait_s = fmax(0, job->given.wait_s - job->given_ago_s);
    job->has_given = job->given.feed < 0 ||
                     (job->given.every_s < INFINITY &&
                      (job->given.what != BF_WHAT_WAIT || job->given.wait_s > 0 || job->given.every_s > 0));
    for (int i = a->n_entered; i < o->journal->n; i++) {
        const bf_swim_event *e = &o->journal->event[i];
        if (e->kind == BF_SWIM_FEED && !is_as_given(&job->given, e)) job->has_given = 0;
        job->is_upset |= e->kind == BF_SWIM_LIFT && e->outcome != BF_NOTHING;
    }
}

static void put_question(adviser *a, const outing *o, uint64_t seed) {
    bf_advise_job *job = &a->job;
    *job = (bf_advise_job){.belief = &a->belief,
                           .every_s = usual_every_s(o->journal),
                           .n_bites = o->n_since_put[o->rule.spot],
                           .most_kg = INFINITY,
                           .objective = BF_FOR_NUMBER,
                           .fish_kg = FISH_KG,
                           .for_s = fmax(BF_ADVISE_LEAST_S, fmin(3600, SESSION_S - o->t_s)),
                           .busy_s = BUSY_S,
                           .put_in_s = PUT_IN_S,
                           .blank_s = BLANK_S,
                           .n_acts_most = BF_ADVISE_PHONE_ACTS,
                           .n_scenarios = a->size.n_scenarios,
                           .n_run_off = a->size.n_run_off,
                           .seed = seed};
    find_ways(job, o);
    for (int h = 0; h < WORLD_HOOKS; h++) job->hook[job->n_hooks++] = h ? 1 - o->rule.hook : o->rule.hook;
    for (int s = 0; s < BF_SWIM_MOST_SPOTS; s++)
        job->since_put_s[s] = s < WORLD_SPOTS ? o->t_s - o->put_s[s] : INFINITY;
    take_given(a, o);
}

/* ---- Doing it ---- */

/* By which rule it goes on after act k: its own, else the one the advice names, of the usual way. */
static rule rule_after(const bf_advice *advice, const bf_advise_job *job, int k) {
    const bf_act *act = &advice->act[k];
    const bf_way *usual = &job->way[0];
    rule r = {.spot = act->spot, .hook = act->hook, .feed = -1};
    if (act->every_s > 0) {
        r.feed = act->feed, r.how = act->how;
        r.count = act->count, r.every_s = act->every_s, r.after_bite = act->after_bite;
    } else if (k == advice->best && advice->is_fed) {
        r.feed = usual->feed, r.how = usual->how;
        r.count = advice->count, r.every_s = advice->every_s, r.after_bite = advice->after_bites;
    }
    return r;
}

/* An act, and from then on its rule. */
static void follow(outing *o, const bf_advice *advice, const bf_advise_job *job, int k) {
    const bf_act *act = &advice->act[k];
    double now_s = o->t_s;
    o->rule = rule_after(advice, job, k);
    double due_s = o->put_s[act->spot] + o->rule.every_s;
    if (act->feed >= 0 && act->what != BF_WHAT_WAIT)
        outing_put_in(o, act->spot, act->feed, act->how, act->count);
    else if (act->what == BF_WHAT_MOVE)
        o->rule.pause_s = now_s + BF_ADVISE_LOOK_S;
    else if (!o->rule.after_bite && now_s + act->wait_s > due_s)
        o->rule.pause_s = now_s + act->wait_s;
}

/* What act k brings over the time ahead, in a copy of the world. */
static int comes_of(const outing *o, const bf_advice *advice, const bf_advise_job *job, int k) {
    static outing copy;
    copy = *o;
    copy.journal = NULL;
    copy.end_s = o->t_s + job->for_s;
    follow(&copy, advice, job, k);
    outing_fish(&copy, NULL, o->t_s + job->for_s);
    return outing_landed(&copy) - outing_landed(o);
}

/* ---- In words ---- */

static void tell_act(FILE *tell, const char *before, const bf_act *act) {
    static const char *const whats[BF_N_WHATS] = {"feed", "wait", "move"};
    fprintf(tell, "%s%s spot %d hook %d feed %d/%d x %.0f wait %.0f, then each %.0f s%s", before,
            whats[act->what], act->spot, act->hook, act->feed, act->how, act->count, act->wait_s,
            act->every_s, act->after_bite ? " after bites" : "");
}

static void tell_advice(const adviser *a, const outing *o) {
    const bf_advice *advice = &a->advice;
    if (!a->tell) return;
    fprintf(a->tell, "%5.0f s  landed %2d  bites since %2d  ", o->t_s, outing_landed(o),
            o->n_since_put[o->rule.spot]);
    tell_act(a->tell, "", &advice->act[advice->best]);
    fprintf(a->tell, "; %s p %.2f hour %.1f gain %+.2f (%+.2f to %+.2f)",
            advice->is_either ? "either"
            : advice->is_kept ? "kept"
                              : "clear",
            advice->p_best, advice->hour.mid, advice->gain.mid, advice->gain.lo, advice->gain.hi);
}

/* ---- Keeping count ---- */

static void count_gain(adviser *a, const outing *o) {
    const bf_advice *advice = &a->advice;
    if (advice->best == 0) return;
    double said = advice->gain.mid,
           came = comes_of(o, advice, &a->job, advice->best) - comes_of(o, advice, &a->job, 0);
    advised *out = a->out;
    out->n_gains++, out->said += said, out->came += came;
    out->said_said += said * said, out->said_came += said * came;
    if (a->tell) fprintf(a->tell, "  said %+.2f came %+.0f", said, came);
}

/* The same question to another belief and other scenarios, `times` as many sets and scenarios; 1 when it advises the same. */
static int asked_again(adviser *a, uint64_t seed, int times) {
    bf_belief_job belief = a->belief;
    bf_advise_job job = a->job;
    bf_advice again;
    belief.seed = job.seed = seed, job.belief = &belief;
    belief.n_sets *= times, job.n_scenarios *= times, job.n_run_off *= times;
    double *rows = room_of(row_bytes(&belief));
    void *work = room_of(bf_advise_bytes(&job));
    bf_belief_rows(&belief, 0, belief.n_sets, a->scratch, rows);
    bf_advise(&job, rows, work, &again);
    free(rows), free(work);
    if (a->tell && again.is_known) tell_act(a->tell, "  asked again: ", &again.act[again.best]);
    return again.is_known && bfi_advise_is_same(&again.act[again.best], &a->advice.act[a->advice.best]);
}

static void count_sure(adviser *a, const outing *o) {
    uint64_t seed = AGAIN_SEED + o->seed * SEEDS_A_SESSION + (uint64_t)a->out->n_decisions;
    double p = a->advice.p_best;
    if (a->out->n_sure++ % AGAIN_EACH == 0) a->out->n_again++, a->out->n_same += asked_again(a, seed, 1);
    if (o->kind != &own_model || a->size.n_sets * LARGER > BF_BELIEF_MOST_SETS) return;
    int bin = p >= 0.9;
    a->out->bin[bin].n++, a->out->bin[bin].said += p;
    a->out->bin[bin].n_kept += asked_again(a, seed + AGAIN_SEED, LARGER);
}

/* Another way, place or amount to go on by; waiting for its time and doing it are the same. */
static int is_switch(const bf_advice *now, const bf_advice *before) {
    const bf_act *x = &now->act[now->best], *y = &before->act[before->best];
    int is_alike = x->spot == y->spot && x->hook == y->hook && x->feed == y->feed && x->how == y->how;
    return !is_alike || x->after_bite != y->after_bite || x->count > 1.5 * y->count ||
           y->count > 1.5 * x->count;
}

static void count_advice(adviser *a, const bf_advice *before, const outing *o) {
    const bf_advice *advice = &a->advice;
    advised *out = a->out;
    out->n_decisions++;
    out->n_either += advice->is_either, out->n_kept += advice->is_kept;
    if (a->given_s >= 0 && before->is_known && is_switch(advice, before))
        out->n_switches++, out->n_quiet += !a->job.is_upset;
    if (advice->p_best >= 0.8) count_sure(a, o);
}

/* ---- Deciding ---- */

static void decide(void *self, outing *o) {
    adviser *a = self;
    int is_over = SESSION_S - o->t_s < BF_ADVISE_LEAST_S || a->out->n_decisions == a->size.most_decisions;
    if (o->t_s < a->look_s || is_over) return;
    const bf_advice before = a->advice;
    believe(a, o);
    put_question(a, o, o->seed * SEEDS_A_SESSION + (uint64_t)a->out->n_decisions);
    bf_advise(&a->job, a->rows, a->work, &a->advice);
    a->look_s = o->t_s + fmax(LEAST_LOOK_S, a->advice.look_s);
    if (!a->advice.is_known) {
        a->out->n_unknown++, a->given_s = -1;
        return;
    }
    tell_advice(a, o);
    count_advice(a, &before, o);
    count_gain(a, o);
    if (a->tell) fputc('\n', a->tell);
    a->given_s = o->t_s, a->n_entered = o->journal->n;
    follow(o, &a->advice, &a->job, a->advice.best);
}

/* ---- A session ---- */

static bf_swim_prior prior_of(const world_kind *kind, uint64_t seed, advised_who who) {
    bf_swim_prior prior = bf_swim_book();
    double truth[BF_SWIM_N_PARAMETERS];
    if (who != ADVISED_BY_TRUTH) return prior;
    if (kind != &own_model) abort();
    own_model_truth(seed, truth);
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) prior.mean[i] = log(truth[i]), prior.sd[i] = TRUTH_SD;
    return prior;
}

static void sum_fed(const outing *o, advised *out) {
    for (int i = 0; i < o->journal->n; i++) {
        const bf_swim_event *e = &o->journal->event[i];
        int quarter = (int)(e->t_s / 900);
        if (e->kind == BF_SWIM_FEED && quarter < FED_QUARTERS)
            out->fed_kg[quarter] += e->count * o->scene.feed[e->what].piece_kg;
    }
}

advised advised_session(const world_kind *kind, uint64_t seed, advised_who who, advised_size size,
                        FILE *tell) {
    static outing o;
    static journal kept;
    advised out = {.n_decisions = 0};
    int n = size.n_particles;
    outing_open(&o, kind, seed, &kept);
    o.rule = fixed_rule(USUAL_FIXED);
    adviser a = {.out = &out, .size = size, .tell = tell, .given_s = -1};
    a.belief = (bf_belief_job){.scene = &o.scene,
                               .event = kept.event,
                               .prior = prior_of(kind, seed, who),
                               .seed = seed,
                               .n_sets = size.n_sets,
                               .n_particles = n,
                               .n_drawn = n < BF_ADVISE_DRAWN ? n : BF_ADVISE_DRAWN};
    put_question(&a, &o, seed);
    size_t snapshots = (size_t)size.n_sets * bf_belief_snapshot_bytes(&a.belief);
    a.scratch = room_of(bf_belief_scratch_bytes(&a.belief));
    a.work = room_of(bf_advise_bytes(&a.job));
    a.snapshots = room_of(snapshots), a.saved = room_of(snapshots);
    a.rows = room_of(row_bytes(&a.belief));
    strategy by = {decide, &a};
    outing_fish(&o, &by, SESSION_S);
    memcpy(out.landed, o.landed, sizeof out.landed);
    sum_fed(&o, &out);
    free(a.scratch), free(a.work), free(a.snapshots), free(a.saved), free(a.rows);
    return out;
}
