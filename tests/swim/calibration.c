/* calibration.c -- see calibration.h. */
#include "swim/calibration.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "baitfall/random.h"
#include "core/base/room.h"
#include "core/swim/belief.h"
#include "core/swim/weights.h"

const char *const fault_words[N_FAULTS] = {
#define FAULT_WORDS(name, what) what,
    FAULT_LIST(FAULT_WORDS)
#undef FAULT_WORDS
};
const char *const rank_words[N_RANKS] = {"bite rate", "feed left", "fish present", "log-likelihood"};

/* Streams of the random numbers of session k (its number is the seed); the world, the bank and fresh estimates have seeds of
 * their own. */
enum { DICE_SCENE, DICE_ANGLER, DICE_DRAWS, DICE_TIES, DICE_SHARE };
#define SEED_TRUTH(k) (UINT64_C(0x10000000) + (k))
#define SEED_WORLD(k) (UINT64_C(0x20000000) + (k))
#define SEED_BANK(k) (UINT64_C(0x30000000) + (k))
#define SEED_FRESH(k, i) (UINT64_C(0x4000000000) + (k)*256 + (uint64_t)(i))

typedef struct dice {
    uint64_t seed, stream, n;
} dice;

static double between(dice *d, double least, double most) {
    return least + (most - least) * bf_uniform(d->seed, d->stream, d->n++);
}
static int one_of(dice *d, int n) {
    return (int)between(d, 0, n);
}

/* ---- A made-up peg -------------------------------------------------------------------------------------------- */

/* Feed 0: hard pellets of 4 mm (session k even) or 6 mm; 1: soft ones of 2 mm. Hooks: a hard pellet of 6 mm, a soft one of
 * 4 mm. Densities 1200 kg/m3. */
static void make_scene(uint64_t k, bf_swim_scene *scene) {
    dice d = {k, DICE_SCENE, 0};
    bf_story_start_scene(scene, 1 + one_of(&d, 2), 2, 2);
    double hard_m = k % 2 ? 0.006 : 0.004, of_1_mm_kg = 1200 * 0.5236 * 1e-9;
    scene->feed[0] =
        (bf_swim_feed){hard_m, of_1_mm_kg * pow(1000 * hard_m, 3), 3600, 0, 0, BF_STORY_LASTING_FACTOR};
    scene->feed[1] = (bf_swim_feed){0.002, of_1_mm_kg * 8, 1200, 1, 0, BF_STORY_LASTING_FACTOR};
    scene->hook[0] = (bf_swim_hook){0.006, 1, 0};
    scene->hook[1] = (bf_swim_hook){0.004, 0, 0};
    for (int s = 0; s < scene->n_spots; s++) {
        scene->spot[s].distance_m = s ? 5 : 13;
        scene->spot[s].depth_m = between(&d, 0.8, 2);
    }
    scene->temp_c = between(&d, 8, 22);
}

/* ---- A made-up angler ------------------------------------------------------------------------------------------ */

typedef struct angler {
    made_session *made;
    bf_play *play;
    dice dice;
    double now_s, pot_due_s;
} angler;

static void enter(made_session *made, const bf_swim_event *event) {
    if (made->n_events == MADE_MOST_EVENTS) abort();
    made->event[made->n_events++] = *event;
}

static void act(angler *a, bf_swim_event event) {
    event.t_s = a->now_s;
    event.held = event.live = -1;
    bf_play_act(a->play, &event);
    enter(a->made, &event);
}

static void feed(angler *a, int what, bf_how how, double count) {
    double area_m2 = a->made->scene.spot[a->made->spot].area_m2[how];
    act(a, (bf_swim_event){.kind = BF_SWIM_FEED,
                           .spot = a->made->spot,
                           .what = what,
                           .how = (int)how,
                           .count = count,
                           .area_m2 = area_m2});
}

/* Out of the water nothing is entered. */
static void let_pass(angler *a, double seconds) {
    bf_swim_event none;
    a->now_s += seconds;
    if (bf_play_run(a->play, a->now_s, &none)) abort();
}

static void pot(angler *a) {
    int is_soft = one_of(&a->dice, 4) == 0;
    feed(a, is_soft, BF_CLUMP,
         is_soft ? floor(between(&a->dice, 80, 300)) : floor(between(&a->dice, 10, 50)));
    a->pot_due_s = a->now_s + between(&a->dice, 180, 480);
}

/* Fishes until to_s is reached, something is entered that ends the drop, or a bite does that is not entered. Returns 1 when the
 * drop has ended. The outcome entered, or BF_NOTHING, in *outcome. */
static int wait(angler *a, double to_s, int *outcome) {
    for (;;) {
        bf_swim_event event;
        int what = bf_play_run(a->play, to_s, &event);
        a->now_s = what ? event.t_s : to_s;
        *outcome = BF_NOTHING;
        if (what == 0) return 0;
        if (what == 2) { /* the angler notes no bite: for the journal the drop just ended */
            enter(a->made, &(bf_swim_event){.t_s = a->now_s,
                                            .kind = BF_SWIM_LIFT,
                                            .spot = a->made->spot,
                                            .outcome = BF_NOTHING,
                                            .held = -1,
                                            .live = -1});
            return 1;
        }
        enter(a->made, &event);
        if (event.kind != BF_SWIM_LIFT) continue;
        *outcome = event.outcome;
        a->made->n_bites++;
        return 1;
    }
}

/* One drop: given up after a blank time; now and then a dozen pellets are thrown meanwhile. */
static void fish_a_drop(angler *a, double end_s) {
    made_session *made = a->made;
    int outcome = BF_NOTHING, has_ended = 0;
    made->hook = one_of(&a->dice, 4) == 0;
    act(a, (bf_swim_event){.kind = BF_SWIM_IN, .spot = made->spot, .what = made->hook, .pm_s = 2});
    double up_s = fmin(end_s, a->now_s + between(&a->dice, 90, 420));
    int throws = one_of(&a->dice, 3) == 0;
    if (throws && a->now_s + 40 < up_s) {
        has_ended = wait(a, a->now_s + 40, &outcome);
        if (!has_ended) feed(a, 0, BF_THROW, 12);
    }
    if (!has_ended) has_ended = wait(a, up_s, &outcome);
    if (!has_ended) act(a, (bf_swim_event){.kind = BF_SWIM_LIFT, .spot = made->spot, .outcome = BF_NOTHING});
    double busy_s =
        outcome == BF_LANDED || outcome == BF_FOUL ? between(&a->dice, 60, 150) : between(&a->dice, 15, 40);
    let_pass(a, fmin(busy_s, end_s - a->now_s));
}

/* The rig is put in once more and left in. */
static double next_bite_s(angler *a) {
    bf_swim_event event;
    let_pass(a, MADE_PAUSE_S);
    double from_s = a->now_s, to_s = from_s + MADE_WAIT_MOST_S;
    bf_play_act(a->play, &(bf_swim_event){.t_s = from_s,
                                          .kind = BF_SWIM_IN,
                                          .spot = a->made->spot,
                                          .what = a->made->hook,
                                          .pm_s = 2,
                                          .held = -1,
                                          .live = -1});
    for (;;) {
        int what = bf_play_run(a->play, to_s, &event);
        if (what == 0) return INFINITY;
        if (what == 2 || event.kind == BF_SWIM_LIFT) return event.t_s - from_s;
    }
}

void made_session_of(uint64_t k, double seconds, made_session *made) {
    bf_swim_prior book = bf_swim_book();
    memset(made, 0, sizeof *made);
    make_scene(k, &made->scene);
    made->truth = bf_swim_drawn_set(&book, SEED_TRUTH(k), 0, 1);
    made->until_s = seconds;
    angler a = {made, malloc(bf_play_bytes()), {k, DICE_ANGLER, 0}, 0, 0};
    bf_play_start(a.play, &made->scene, &made->truth, SEED_WORLD(k));
    while (a.now_s < seconds) {
        if (made->scene.n_spots > 1 && one_of(&a.dice, 12) == 0) made->spot = !made->spot;
        if (a.now_s >= a.pot_due_s) pot(&a);
        let_pass(&a, fmin(between(&a.dice, 15, 40), seconds - a.now_s));
        if (a.now_s < seconds) fish_a_drop(&a, seconds);
    }
    made->seen = bf_play_see(a.play, made->spot, made->hook);
    made->bite_after_s = next_bite_s(&a);
    free(a.play);
}

/* ---- Faults --------------------------------------------------------------------------------------------------- */

/* The program is linked so that calls of these core functions come here first (--wrap, cmake): the core itself has no fault in
 * it. A fault acts on inference only, never on play. */
static fault planted = FAULT_NONE;
static const double *kept_of; /* whose weights are to come back, and how many */
static double *kept;
static int n_kept;

void __wrap_bfi_weights_resample(const double *log_w, int n, double u, int *from);
void __real_bfi_weights_resample(const double *log_w, int n, double u, int *from);
void __wrap_bfi_swim_run(bfi_swim *swim, int n, double *x, double to_s, double *log_w);
void __real_bfi_swim_run(bfi_swim *swim, int n, double *x, double to_s, double *log_w);

void __wrap_bfi_weights_resample(const double *log_w, int n, double u, int *from) {
    __real_bfi_weights_resample(log_w, n, u, from);
    if (planted == FAULT_RESAMPLED_BLIND)
        for (int i = 0; i < n; i++) from[i] = i;
    if (planted == FAULT_WEIGHTS_KEPT) {
        free(kept);
        kept = malloc((size_t)n * sizeof *kept);
        kept_of = log_w;
        n_kept = n;
        for (int i = 0; i < n; i++) kept[i] = log_w[from[i]];
    }
}

void __wrap_bfi_swim_run(bfi_swim *swim, int n, double *x, double to_s, double *log_w) {
    if (planted == FAULT_NONE || !log_w) { /* no weights: only looking ahead */
        __real_bfi_swim_run(swim, n, x, to_s, log_w);
        return;
    }
    double *before = malloc((size_t)n * sizeof *before);
    memcpy(before, log_w, (size_t)n * sizeof *before);
    __real_bfi_swim_run(swim, n, x, to_s, log_w);
    if (planted == FAULT_NO_INTEGRAL) memcpy(log_w, before, (size_t)n * sizeof *before);
    if (planted == FAULT_WEIGHTS_KEPT && kept_of == log_w && n_kept == n) {
        for (int i = 0; i < n; i++) log_w[i] += kept[i];
        kept_of = NULL;
    }
    free(before);
}

/* Takes the last drop out again; what was thrown in meanwhile stays. */
static int without_last_drop(bf_swim_event *event, int n) {
    int i_in = n, to;
    while (event[--i_in].kind != BF_SWIM_IN) {
    }
    to = i_in;
    for (int i = i_in; i < n; i++)
        if (event[i].kind == BF_SWIM_FEED) event[to++] = event[i];
    return to;
}

/* Puts a drop's beginning where the drop before ended; what was fed between comes after it then. */
static int begin_early(bf_swim_event *event, int n, bf_swim_event in) {
    int at = n;
    while (at > 0 && event[at - 1].kind != BF_SWIM_LIFT) at--;
    memmove(event + at + 1, event + at, (size_t)(n - at) * sizeof *event);
    in.t_s = at > 0 ? event[at - 1].t_s : 0;
    event[at] = in;
    return n + 1;
}

/* The story as a faulty reader has it. event (out twice made's) */
static int misread(const made_session *made, bf_swim_event *event) {
    int n = 0;
    for (int i = 0; i < made->n_events; i++) {
        bf_swim_event e = made->event[i];
        int is_lift = e.kind == BF_SWIM_LIFT;
        if (e.kind == BF_SWIM_FEED && planted == FAULT_HALF_FED) e.count /= 2;
        if (e.kind == BF_SWIM_TOUCH && planted == FAULT_TOUCHES_TWICE) event[n++] = e;
        if (is_lift && planted == FAULT_OUTCOMES && (e.outcome == BF_LANDED || e.outcome == BF_MISSED))
            e.outcome = e.outcome == BF_LANDED ? BF_MISSED : BF_LANDED;
        if (is_lift && planted == FAULT_BLANKS_LOST && e.outcome == BF_NOTHING)
            n = without_last_drop(event, n);
        else if (e.kind == BF_SWIM_IN && planted == FAULT_BEGUN_EARLY)
            n = begin_early(event, n, e);
        else
            event[n++] = e;
    }
    return n;
}

/* ---- Belief --------------------------------------------------------------------------------------------------- */

/* What is asked of the belief, with the memory it needs; f: a set's particles at the end, taken up. */
typedef struct asked {
    bf_swim_scene scene;
    bf_swim_event event[2 * MADE_MOST_EVENTS];
    bf_belief_job job;
    bfi_belief_shape shape;
    void *scratch;
    char *snapshots;
    double *rows, *weight; /* weight: of a set */
    bfi_filter f;
} asked;

static void ask(asked *q, const made_session *made, sbc_size size, uint64_t seed) {
    q->scene = made->scene;
    if (planted == FAULT_DECAY)
        for (int i = 0; i < q->scene.n_feeds; i++) q->scene.feed[i].lasting_s /= 1.5;
    q->job = (bf_belief_job){.scene = &q->scene,
                             .event = q->event,
                             .until_s = made->until_s,
                             .spot = made->spot,
                             .prior = bf_swim_book(),
                             .seed = seed,
                             .n_sets = size.n_sets,
                             .n_particles = size.n_particles};
    q->job.n_events = misread(made, q->event);
    if (planted == FAULT_PRIOR_SHIFTED) q->job.prior.mean[BF_SWIM_STOCK] += log(3);
    q->shape = bfi_belief_shape_of(&q->job);
    size_t sets = (size_t)size.n_sets, n = (size_t)size.n_particles;
    q->scratch = aligned_alloc(16, bfi_room(bf_belief_scratch_bytes(&q->job)));
    q->snapshots = aligned_alloc(16, sets * bf_belief_snapshot_bytes(&q->job));
    q->rows = malloc(sets * (size_t)q->shape.n_columns * sizeof *q->rows);
    q->weight = malloc(2 * sets * sizeof *q->weight);
    q->f = (bfi_filter){.job = &q->job, .shape = q->shape, .swim = malloc(bfi_swim_bytes())};
    q->f.x = malloc((size_t)q->shape.n_carried * n * sizeof *q->f.x);
    q->f.family = q->f.x + (size_t)(q->shape.n_carried - 2) * n;
    q->f.log_w = q->f.family + n;
}

static void forget(asked *q) {
    free(q->scratch), free(q->snapshots), free(q->rows), free(q->weight), free(q->f.swim), free(q->f.x);
}

/* The story believed, with the snapshot every set leaves at its end. */
static void believe(asked *q) {
    bf_belief_rows_from(&q->job, 0, q->job.n_sets, NULL, q->snapshots, q->job.until_s, q->scratch, q->rows);
    bfi_belief_weights(&q->job, q->rows, q->weight);
}

/* Takes up the particles that a set left at the end. */
static void take_up(asked *q, int set) {
    bf_swim_set none = {{0}};
    q->f.set = set;
    q->f.n_marks = q->f.n_ledger = 0;
    bfi_swim_prepare(q->f.swim, q->job.scene, &none, q->job.seed, (uint64_t)set);
    bfi_filter_load(&q->f, q->snapshots + (size_t)set * bf_belief_snapshot_bytes(&q->job));
}

/* The parameters of particle p of those taken up. */
static bf_swim_set parameters_of(const asked *q, int p) {
    bf_swim_set set;
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) {
        double z = q->f.x[(q->shape.z_column + i) * q->job.n_particles + p];
        set.of[i] = exp(q->job.prior.mean[i] + q->job.prior.sd[i] * z);
    }
    return set;
}

/* One of n by weights whose running sum reaches u times their sum. */
static int one_by(double u, const double *weight, int n) {
    double sum = 0, reached = 0;
    int i = 0;
    for (int k = 0; k < n; k++) sum += weight[k];
    while (i + 1 < n && (reached += weight[i]) <= u * sum) i++;
    return i;
}

/* As a row of one set would have it, but nothing else of the row is worked out. */
static double evidence_of(asked *q) {
    bfi_filter f = bfi_filter_in(&q->job, q->scratch);
    f.row = q->rows;
    bfi_filter_begin(&f, NULL);
    for (int i = 0; i < q->job.n_events && f.log_evidence > -INFINITY; i++) {
        bfi_filter_pass(&f, q->job.event[i].t_s);
        if (f.log_evidence > -INFINITY) bfi_filter_meet(&f, &q->job.event[i]);
    }
    if (f.log_evidence > -INFINITY) bfi_filter_pass(&f, q->job.until_s);
    return f.log_evidence + bfi_weights_level(f.log_w, q->job.n_particles);
}

/* The log-likelihood of one parameter set by a fresh filter of its own. */
static double fresh_likelihood(const made_session *made, const bf_swim_set *set, uint64_t seed) {
    static asked q;
    ask(&q, made, (sbc_size){.n_sets = 1, .n_particles = FRESH_PARTICLES}, seed);
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) {
        q.job.prior.mean[i] = log(set->of[i]);
        q.job.prior.sd[i] = 0;
    }
    double evidence = evidence_of(&q);
    forget(&q);
    return evidence;
}

/* Parameter sets that count, as the bed says it. */
static double counting(const asked *q) {
    static bf_bed bed;
    void *work = aligned_alloc(16, bfi_room(bf_belief_merge_bytes(&q->job)));
    bf_belief_bed(&q->job, q->rows, work, &bed);
    free(work);
    return bed.n_effective_sets;
}

/* The set taken up, a row of `value` each. */
static void read_particles(const asked *q, const made_session *made, double (*value)[N_BELIEVED]) {
    int n = q->job.n_particles, spot = q->job.spot;
    double *shown = malloc(3 * (size_t)n * sizeof *shown);
    bfi_swim_bites_h(q->f.swim, n, q->f.x, spot, made->hook, shown);
    bfi_swim_left(q->f.swim, n, q->f.x, spot, -1, shown + n);
    bfi_swim_fish(q->f.swim, n, q->f.x, spot, shown + 2 * n);
    for (int p = 0; p < n; p++) {
        for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) value[p][i] = q->f.x[(q->shape.z_column + i) * n + p];
        for (int i = 0; i < 3; i++) value[p][BELIEVED_BITES_H + i] = shown[i * n + p];
    }
    free(shown);
}

double believed_after(const made_session *made, sbc_size size, uint64_t seed, double *log_weight,
                      double (*value)[N_BELIEVED]) {
    static asked q;
    static bf_bed bed;
    ask(&q, made, size, seed);
    believe(&q);
    void *work = aligned_alloc(16, bfi_room(bf_belief_merge_bytes(&q.job)));
    bf_belief_bed(&q.job, q.rows, work, &bed);
    free(work);
    for (int set = 0, n = size.n_particles; set < size.n_sets; set++) {
        take_up(&q, set);
        read_particles(&q, made, value + set * n);
        for (int p = 0; p < n; p++) log_weight[set * n + p] = log(q.weight[set]) + q.f.log_w[p];
    }
    forget(&q);
    return bed.log_evidence;
}

/* ---- Prediction ------------------------------------------------------------------------------------------------ */

#define PREDICT_STEP_S 5.0

/* Chance that no bite comes within wait_s, one particle's share of it in no_bite[p] (out n): its hazard integrated by the
 * trapezoid rule along its own future. Touches on the way tell nothing here. */
static void wait_blindly(bfi_swim *swim, const made_session *made, int n, double *x, double wait_s,
                         double *no_bite) {
    double *before = malloc(3 * (size_t)n * sizeof *before), *after = before + n, *unused = after + n;
    double from_s = made->until_s + MADE_PAUSE_S;
    memset(unused, 0, (size_t)n * sizeof *unused);
    bfi_swim_run(swim, n, x, from_s, unused);
    bfi_swim_meet(swim, n, x,
                  &(bf_swim_event){.t_s = from_s,
                                   .kind = BF_SWIM_IN,
                                   .spot = made->spot,
                                   .what = made->hook,
                                   .pm_s = 2,
                                   .held = -1,
                                   .live = -1},
                  unused);
    for (int p = 0; p < n; p++) no_bite[p] = 0;
    bfi_swim_bites_h(swim, n, x, made->spot, made->hook, before);
    for (double done_s = 0; done_s < wait_s; done_s += PREDICT_STEP_S) {
        double step_s = fmin(PREDICT_STEP_S, wait_s - done_s);
        bfi_swim_run(swim, n, x, from_s + done_s + step_s, unused);
        bfi_swim_bites_h(swim, n, x, made->spot, made->hook, after);
        for (int p = 0; p < n; p++) no_bite[p] -= 0.5 * (before[p] + after[p]) / 3600 * step_s;
        memcpy(before, after, (size_t)n * sizeof *before);
    }
    for (int p = 0; p < n; p++) no_bite[p] = exp(no_bite[p]);
    free(before);
}

/* Of what is believed, its particles used up. */
static double share_of(asked *q, const made_session *made, uint64_t k) {
    int n = q->job.n_particles;
    double none = 0, all = 0, *no_bite = malloc((size_t)n * sizeof *no_bite);
    for (int set = 0; set < q->job.n_sets; set++) {
        if (!(q->weight[set] > 0)) continue;
        take_up(q, set);
        wait_blindly(q->f.swim, made, n, q->f.x, fmin(made->bite_after_s, MADE_WAIT_MOST_S), no_bite);
        for (int p = 0; p < n; p++) {
            double weight = q->weight[set] * exp(q->f.log_w[p]);
            none += weight * no_bite[p];
            all += weight;
        }
    }
    none /= all;
    free(no_bite);
    if (made->bite_after_s <= MADE_WAIT_MOST_S) return 1 - none;
    return 1 - none * bf_uniform(k, DICE_SHARE, 0);
}

double predicted_share(uint64_t k, sbc_size size) {
    static made_session made;
    static asked q;
    made_session_of(k, MADE_SECONDS, &made);
    ask(&q, &made, size, SEED_BANK(k));
    believe(&q);
    double share = share_of(&q, &made, k);
    forget(&q);
    return share;
}

/* ---- Ranks ---------------------------------------------------------------------------------------------------- */

/* How many of the draws lie under the truth; those equal to it by lot. */
static int rank_of(double truth, const double *draw, int n, dice *lots) {
    int under = 0, equal = 0;
    for (int i = 0; i < n; i++) {
        under += draw[i] < truth;
        equal += draw[i] == truth;
    }
    return under + one_of(lots, equal + 1);
}

/* What one draw of the belief says of each quantity. */
static void draw_one(asked *q, const made_session *made, dice *d, uint64_t seed, double said[N_RANKS]) {
    int n = q->job.n_particles, spot = q->job.spot;
    double *values = malloc((size_t)n * sizeof *values);
    take_up(q, one_by(between(d, 0, 1), q->weight, q->job.n_sets));
    for (int p = 0; p < n; p++) values[p] = exp(q->f.log_w[p]);
    int p = one_by(between(d, 0, 1), values, n);
    bfi_swim_bites_h(q->f.swim, n, q->f.x, spot, made->hook, values);
    said[RANK_BITES] = values[p];
    bfi_swim_left(q->f.swim, n, q->f.x, spot, -1, values);
    said[RANK_LEFT] = values[p];
    bfi_swim_fish(q->f.swim, n, q->f.x, spot, values);
    said[RANK_FISH] = values[p];
    free(values);
    bf_swim_set set = parameters_of(q, p);
    said[RANK_LIKELIHOOD] = fresh_likelihood(made, &set, seed);
}

sbc_ranks sbc_session(uint64_t k, sbc_size size, fault plant) {
    static made_session made;
    static asked q;
    double draw[N_RANKS][SBC_MOST_DRAWS], said[N_RANKS];
    made_session_of(k, MADE_SECONDS, &made);
    planted = plant;
    kept_of = NULL;
    ask(&q, &made, size, SEED_BANK(k));
    believe(&q);
    dice d = {k, DICE_DRAWS, 0}, lots = {k, DICE_TIES, 0};
    for (int i = 0; i < size.n_draws; i++) {
        draw_one(&q, &made, &d, SEED_FRESH(k, i), said);
        for (int r = 0; r < N_RANKS; r++) draw[r][i] = said[r];
    }
    const double truth[N_RANKS] = {made.seen.bites_h, made.seen.left, made.seen.fish,
                                   fresh_likelihood(&made, &made.truth, SEED_FRESH(k, SBC_MOST_DRAWS))};
    sbc_ranks ranks = {.effective_sets = counting(&q), .n_bites = made.n_bites};
    for (int r = 0; r < N_RANKS; r++) ranks.rank[r] = rank_of(truth[r], draw[r], size.n_draws, &lots);
    if (plant == FAULT_NONE && size.foretells) ranks.share = share_of(&q, &made, k);
    forget(&q);
    planted = FAULT_NONE;
    return ranks;
}

uniformity uniformity_of(const int *rank, int n, int n_draws, int n_bins) {
    int in_bin[SBC_MOST_DRAWS + 1] = {0}, at_rank[SBC_MOST_DRAWS + 1] = {0}, up_to = 0;
    uniformity u = {0, 0};
    for (int i = 0; i < n; i++) {
        in_bin[rank[i] * n_bins / (n_draws + 1)]++;
        at_rank[rank[i]]++;
    }
    double due = (double)n / n_bins;
    for (int b = 0; b < n_bins; b++) u.chi2 += (in_bin[b] - due) * (in_bin[b] - due) / due;
    for (int r = 0; r <= n_draws; r++) {
        up_to += at_rank[r];
        u.distance = fmax(u.distance, fabs((double)up_to / n - (r + 1.0) / (n_draws + 1)));
    }
    return u;
}
