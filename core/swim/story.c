/* story.c -- a session of a fold as the swim's model reads it. See baitfall/story.h. */
#include "baitfall/story.h"

#include <math.h>
#include <string.h>

#include "core/record/mix.h"

/* ---- The scene at start values ---- */

static bf_swim_spot start_spot(void) {
    // Nine pieces in ten: a circle of 30 cm tipped, 40 cm shaken out, 2 m thrown, 1.1 m by hand (judgement).
    bf_swim_spot spot = {.depth_m = 1.5, .distance_m = 11, .side_m = 0, .miss_m = 0.08, .miss_pm_m = 0.05};
    spot.area_m2[BF_CLUMP] = 0.07;
    spot.area_m2[BF_SPRINKLE] = 0.13;
    spot.area_m2[BF_THROW] = 3;
    spot.area_m2[BF_HAND] = 1;
    return spot;
}

void bf_story_start_scene(bf_swim_scene *scene, int n_spots, int n_feeds, int n_hooks) {
    *scene = (bf_swim_scene){.n_spots = n_spots, .n_feeds = n_feeds, .n_hooks = n_hooks, .temp_c = BF_NAN};
    for (int i = 0; i < BF_SWIM_MOST_SPOTS; i++) scene->spot[i] = start_spot();
    for (int i = 0; i < BF_SWIM_MOST_FEEDS; i++)
        scene->feed[i] = (bf_swim_feed){.diameter_m = 0.004,
                                        .piece_kg = 4e-5,
                                        .lasting_s = 7200,
                                        .is_guess = 1,
                                        .lasting_factor = BF_STORY_LASTING_FACTOR};
    for (int i = 0; i < BF_SWIM_MOST_HOOKS; i++)
        scene->hook[i] = (bf_swim_hook){.diameter_m = 0.006, .is_hard = 1, .is_guess = 1};
}

/* ---- Which names there are ---- */

/* Adds a name that is told and not there yet; the last index takes all that no longer fit. */
static void add_name(int *name, int *n, int most, int told) {
    if (told < 0) return;
    for (int i = 0; i < *n; i++)
        if (name[i] == told) return;
    if (*n < most) name[(*n)++] = told;
}

int bf_story_index(const int *name, int n, int most, int told) {
    if (told < 0) return 0;
    for (int i = 0; i < n; i++)
        if (name[i] == told) return i;
    return n == most ? most - 1 : 0;
}

/* Where something is fed or fished, or said of it; plumbing alone is not. */
static int is_told(const bf_live *live) {
    if (live->is_crossed) return 0;
    switch (live->kind) {
    case BF_FEED:
    case BF_LOWER:
    case BF_TOUCH:
    case BF_LIFT:
    case BF_TALLY:
    case BF_LOOK: return 1;
    default: return 0;
    }
}

static int at_least_1(int n) {
    return n > 0 ? n : 1;
}

void bf_story_cast(const bf_fold *fold, int session, double until_ms, bf_swim_scene *scene,
                   bf_story_names *names) {
    const bf_session *s = &fold->session[session];
    int n_spots = 0, n_feeds = 0, n_hooks = 0;
    double temp_c = BF_NAN;
    names->spot[0] = names->feed[0] = names->hook[0] = -1;
    for (int i = s->live_from; i < s->live_to && fold->live[i].t_ms <= until_ms; i++) {
        const bf_live *live = &fold->live[i];
        int is_measured = live->kind == BF_WATER && !live->is_crossed && !isnan(live->body.temp_c);
        if (is_measured && isnan(temp_c)) temp_c = live->body.temp_c;
        if (live->kind == BF_OPEN && !live->is_crossed)
            add_name(names->hook, &n_hooks, BF_SWIM_MOST_HOOKS, live->body.hook_bait);
        if (!is_told(live)) continue;
        add_name(names->spot, &n_spots, BF_SWIM_MOST_SPOTS, live->body.spot);
        add_name(names->hook, &n_hooks, BF_SWIM_MOST_HOOKS, live->body.hook_bait);
        if (live->kind == BF_FEED) add_name(names->feed, &n_feeds, BF_SWIM_MOST_FEEDS, live->body.bait);
    }
    bf_story_start_scene(scene, at_least_1(n_spots), at_least_1(n_feeds), at_least_1(n_hooks));
    scene->temp_c = temp_c;
}

/* ---- The telling ---- */

typedef struct telling {
    const bf_fold *fold;
    const bf_session *session;
    const bf_turnaround *turnaround;
    const bf_swim_scene *scene;
    const bf_story_names *names;
    double begins_ms, until_ms;
    bf_swim_event *event;
    int n, most;
} telling;

static int spot_of(const telling *t, int name) {
    return bf_story_index(t->names->spot, t->scene->n_spots, BF_SWIM_MOST_SPOTS, name);
}

static bf_swim_event nothing_yet(int kind) {
    return (bf_swim_event){
        .kind = kind, .held = -1, .live = -1, .count = BF_NAN, .area_m2 = BF_NAN, .value = BF_NAN};
}

/* What happened before the story begins or after it ends is no part of it. */
static void tell(telling *t, double ms, bf_swim_event event) {
    if (!(ms >= t->begins_ms && ms <= t->until_ms)) return;
    event.t_s = (ms - t->begins_ms) / 1000;
    if (t->n < t->most) t->event[t->n] = event;
    t->n++;
}

double bf_story_begins_ms(const bf_fold *fold, int session, double until_ms) {
    const bf_session *s = &fold->session[session];
    double begins_ms = s->opened_ms;
    for (int i = s->live_from; i < s->live_to; i++) {
        const bf_live *live = &fold->live[i];
        if (!is_told(live)) continue;
        if (live->t_ms < begins_ms) begins_ms = live->t_ms;
        break; // they stand in order of time
    }
    double least_ms = until_ms - 1000 * BF_STORY_MOST_S;
    return begins_ms < least_ms ? least_ms : begins_ms;
}

/* ---- Drops ---- */

static double smaller(double a, double b) {
    return b < a ? b : a; // a when b is NaN
}

/* Where nobody can know when the rig went in: some time before it was first seen to be in, but after the last stretch
 * that was not logged. */
static double guessed_in_ms(const telling *t, const bf_drop *drop) {
    double seen_ms = drop->n_touches ? drop->first_touch_ms : drop->end_ms;
    double in_ms = seen_ms - 1000 * BF_STORY_UNKNOWN_WAIT_S;
    for (int i = t->session->stretch_from; i < t->session->stretch_to; i++) {
        double to_ms = t->fold->stretch[i].to_ms;
        if (to_ms > in_ms && to_ms < seen_ms) in_ms = to_ms;
    }
    return in_ms;
}

/* When the rig went in, and how unsure that is. before_ms: when it was last seen out. */
static double went_in_ms(const telling *t, const bf_drop *drop, double before_ms, double *pm_s) {
    const bf_turnaround *around = t->turnaround;
    double in_ms = drop->base_ms;
    *pm_s = drop->base_pm_s;
    if (drop->start == BF_START_LOWER) return in_ms;
    if (drop->start == BF_START_UNKNOWN) {
        *pm_s = BF_STORY_UNKNOWN_WAIT_S;
        in_ms = guessed_in_ms(t, drop);
    } else {
        double around_pm_s = (around->hi_s - around->lo_s) / 2;
        *pm_s = sqrt(drop->base_pm_s * drop->base_pm_s + around_pm_s * around_pm_s);
        in_ms += 1000 * around->mid_s;
    }
    double end_ms = drop->end_live >= 0 ? drop->end_ms : BF_NAN;
    in_ms = smaller(smaller(in_ms, end_ms - 500), drop->first_touch_ms);
    return in_ms < before_ms ? before_ms : in_ms;
}

/* When it came out; NaN: not yet. A wait that nobody ended by a lift is forgotten after a while. */
static double came_out_ms(const bf_drop *drop, double in_ms) {
    double end_ms = drop->end_live >= 0 ? drop->end_ms : BF_NAN, last_ms = in_ms + 1000 * BF_STORY_LONGEST_S;
    int is_lifted = drop->end_live >= 0 && !drop->is_implied;
    return is_lifted || end_ms < last_ms ? end_ms : last_ms;
}

/* How the angler enters drops so far: with `lower` or without. */
typedef struct habit {
    int n_lowered, n_not;
} habit;

/* Whether there was a drop at all. One that is only implied, since feed came late after the last lift, did not take place
 * when this angler enters each `lower`: a fish was played, or a bait tied on. */
static int is_drop(const bf_drop *drop, const habit *of) {
    if (drop->start == BF_START_LOWER || drop->n_touches > 0) return 1;
    if (drop->end_live < 0) return 0;
    return !drop->is_implied || of->n_lowered <= of->n_not;
}

static void tell_drop(telling *t, const bf_drop *drop, double *before_ms) {
    double pm_s, in_ms = went_in_ms(t, drop, *before_ms, &pm_s), out_ms = came_out_ms(drop, in_ms);
    if (!(out_ms > in_ms)) return;
    *before_ms = out_ms;
    bf_swim_event in = nothing_yet(BF_SWIM_IN), lift = nothing_yet(BF_SWIM_LIFT);
    in.spot = lift.spot = spot_of(t, drop->spot);
    in.what = lift.what =
        bf_story_index(t->names->hook, t->scene->n_hooks, BF_SWIM_MOST_HOOKS, drop->hook_bait);
    in.live = drop->start == BF_START_LOWER ? drop->start_live : -1;
    in.pm_s = pm_s;
    // One that began before the story does is in from the story's beginning.
    tell(t, in_ms < t->begins_ms && out_ms > t->begins_ms ? t->begins_ms : in_ms, in);
    lift.live = drop->is_implied ? -1 : drop->end_live;
    lift.outcome = drop->outcome;
    lift.held = drop->held;
    lift.pm_s = drop->end_pm_s;
    if (out_ms > t->begins_ms) tell(t, out_ms, lift);
}

static void tell_drops(telling *t) {
    double before_ms = t->begins_ms;
    habit of = {0};
    for (int i = t->session->drop_from; i < t->session->drop_to; i++) {
        const bf_drop *drop = &t->fold->drop[i];
        if (is_drop(drop, &of)) tell_drop(t, drop, &before_ms);
        if (drop->start == BF_START_LOWER)
            of.n_lowered++;
        else
            of.n_not += !drop->is_implied;
    }
}

/* ---- Feed ---- */

/* Pieces of put-in i; comes_to: of the session's put-ins, NULL: as counted. */
static double pieces_of(const telling *t, const bf_story_put *comes_to, int i) {
    return comes_to ? comes_to[i - t->session->put_from].pieces : t->fold->put_in[i].count;
}

/* Whether a bait before it in the same put-in is told. */
static int is_further(const telling *t, const bf_story_put *comes_to, int i) {
    int first = t->fold->put_in[i].first;
    for (int k = first; k < i; k++)
        if (t->fold->put_in[k].first == first && pieces_of(t, comes_to, k) > 0) return 1;
    return 0;
}

static void tell_put_in(telling *t, const bf_story_put *comes_to, int i) {
    const bf_put_in *put = &t->fold->put_in[i];
    double pieces = pieces_of(t, comes_to, i);
    if (!(pieces > 0)) return;
    bf_swim_event feed = nothing_yet(BF_SWIM_FEED);
    feed.spot = spot_of(t, put->spot);
    feed.what = bf_story_index(t->names->feed, t->scene->n_feeds, BF_SWIM_MOST_FEEDS, put->bait);
    feed.how = put->how < 0 ? BF_CLUMP : put->how;
    feed.is_further = is_further(t, comes_to, i);
    feed.live = put->live;
    feed.count = pieces;
    feed.count_pm_frac = comes_to ? comes_to[i - t->session->put_from].pieces_pm_frac : 0;
    feed.area_m2 = comes_to ? comes_to[i - t->session->put_from].area_m2 : BF_NAN;
    if (!(feed.area_m2 > 0)) feed.area_m2 = t->scene->spot[feed.spot].area_m2[feed.how];
    feed.pm_s = put->pm_s;
    tell(t, put->t_ms, feed);
}

/* ---- What stands alone ---- */

/* Where something without a spot of its own is: where was fed by the pole or fished last. */
static void keep_spot(const bf_live *live, int *spot) {
    int is_far = live->kind == BF_FEED && (live->body.how == BF_THROW || live->body.how == BF_HAND);
    int is_of_pole =
        live->kind == BF_LIFT || live->kind == BF_LOWER || live->kind == BF_TOUCH || live->kind == BF_FEED;
    if (is_of_pole && !is_far && live->body.spot >= 0) *spot = live->body.spot;
}

static void tell_touch(telling *t, const bf_live *live, int i_live, int spot) {
    bf_swim_event touch = nothing_yet(BF_SWIM_TOUCH);
    touch.spot = spot_of(t, spot);
    touch.n = live->body.n > 0 ? live->body.n : 1;
    touch.live = i_live;
    touch.pm_s = live->pm_s;
    tell(t, live->t_ms, touch);
}

static void tell_look(telling *t, const bf_live *live, int i_live, int spot) {
    bf_swim_event look = nothing_yet(BF_SWIM_LOOK);
    look.spot = spot_of(t, live->body.spot >= 0 ? live->body.spot : spot);
    look.eye = live->body.eye;
    look.count = live->body.shown;
    look.live = i_live;
    tell(t, live->t_ms, look);
}

/* Where a stretch begins that nothing told before it covers: there is but one rig. */
static double tally_from_ms(const telling *t, const bf_stretch *stretch) {
    double from_ms = stretch->from_ms;
    for (const bf_stretch *s = &t->fold->stretch[t->session->stretch_from]; s < stretch; s++)
        if (s->from_ms <= from_ms && s->to_ms > from_ms) from_ms = s->to_ms;
    return from_ms;
}

static void tell_tally(telling *t, const bf_stretch *stretch, int spot) {
    const bf_live *live = &t->fold->live[stretch->live];
    bf_swim_event tally = nothing_yet(BF_SWIM_TALLY);
    double from_ms = tally_from_ms(t, stretch);
    tally.span_s = (stretch->to_ms - from_ms) / 1000;
    if (tally.span_s < 1) return;
    tally.spot = spot_of(t, live->body.spot >= 0 ? live->body.spot : spot);
    tally.live = stretch->live;
    memcpy(tally.tally, stretch->count, sizeof tally.tally);
    bf_swim_event begins = tally;
    begins.kind = BF_SWIM_STRETCH;
    tell(t, from_ms, begins);
    tell(t, stretch->to_ms, tally);
}

static void tell_temp(telling *t, const bf_live *live, int i_live) {
    bf_swim_event temp = nothing_yet(BF_SWIM_TEMP);
    if (isnan(live->body.temp_c)) return;
    temp.value = live->body.temp_c;
    temp.live = i_live;
    tell(t, live->t_ms, temp);
}

static void tell_rest(telling *t) {
    const bf_session *s = t->session;
    int spot = -1, stretch = s->stretch_from;
    for (int i = s->live_from; i < s->live_to; i++) {
        const bf_live *live = &t->fold->live[i];
        if (live->is_crossed) continue;
        keep_spot(live, &spot);
        if (live->kind == BF_TOUCH) tell_touch(t, live, i, spot);
        if (live->kind == BF_LOOK) tell_look(t, live, i, spot);
        if (live->kind == BF_WATER) tell_temp(t, live, i);
        if (live->kind == BF_TALLY && stretch < s->stretch_to)
            tell_tally(t, &t->fold->stretch[stretch++], spot);
    }
}

/* ---- In order ---- */

static int rank_of(int kind) {
    switch (kind) {
    case BF_SWIM_LIFT: return 0;
    case BF_SWIM_FEED: return 1;
    case BF_SWIM_IN: return 2;
    case BF_SWIM_MARK: return 4;
    default: return 3;
    }
}

static int is_before(const bf_swim_event *a, const bf_swim_event *b) {
    if (a->t_s != b->t_s) return a->t_s < b->t_s;
    int rank_a = rank_of(a->kind), rank_b = rank_of(b->kind);
    return rank_a != rank_b ? rank_a < rank_b : a->live < b->live;
}

static void swap(bf_swim_event *a, bf_swim_event *b) {
    bf_swim_event held = *a;
    *a = *b;
    *b = held;
}

/* Lets event i of a heap of n sink until no event below it is later. */
static void sink(bf_swim_event *event, int i, int n) {
    for (int below = 2 * i + 1; below < n; i = below, below = 2 * i + 1) {
        if (below + 1 < n && is_before(&event[below], &event[below + 1])) below++;
        if (!is_before(&event[i], &event[below])) return;
        swap(&event[i], &event[below]);
    }
}

/* Heapsort: it needs no memory, and no two events are alike in time, rank and origin. */
static void sort(bf_swim_event *event, int n) {
    for (int i = n / 2 - 1; i >= 0; i--) sink(event, i, n);
    for (int i = n - 1; i > 0; i--) {
        swap(&event[0], &event[i]);
        sink(event, 0, i);
    }
}

/* A touch while no rig is in tells nothing the model knows: it is left out. */
static int without_loose_touches(bf_swim_event *event, int n) {
    int kept = 0, is_in = 0;
    for (int i = 0; i < n; i++) {
        if (event[i].kind == BF_SWIM_IN) is_in = 1;
        if (event[i].kind == BF_SWIM_LIFT) is_in = 0;
        if (event[i].kind != BF_SWIM_TOUCH || is_in) event[kept++] = event[i];
    }
    return kept;
}

int bf_story_of(const bf_fold *fold, int session, const bf_turnaround *turnaround, const bf_swim_scene *scene,
                const bf_story_names *names, const bf_story_put *put, double until_ms, bf_swim_event *event,
                int most) {
    const bf_session *s = &fold->session[session];
    telling t = {.fold = fold,
                 .session = s,
                 .turnaround = turnaround,
                 .scene = scene,
                 .names = names,
                 .begins_ms = bf_story_begins_ms(fold, session, until_ms),
                 .until_ms = until_ms,
                 .event = event,
                 .most = most};
    for (int i = s->put_from; i < s->put_to; i++) tell_put_in(&t, put, i);
    tell_drops(&t);
    tell_rest(&t);
    if (t.n > most) return t.n;
    sort(event, t.n);
    return without_loose_touches(event, t.n);
}

int bf_story_mark(bf_swim_event *event, int n, int most, const double *at_s, int n_marks) {
    for (int i = 0; i < n_marks && n < most; i++) {
        event[n] = nothing_yet(BF_SWIM_MARK);
        event[n++].t_s = at_s[i];
    }
    sort(event, n);
    return n;
}

/* ---- The key of a snapshot ---- */

/* Field by field: records have gaps between them whose bytes mean nothing. */
static uint64_t mix_real(uint64_t hash, double x) {
    uint64_t bits = 0;
    if (x == x) {
        x += 0; // minus nothing is nothing
        memcpy(&bits, &x, sizeof bits);
    } else
        bits = ~bits;
    return bfi_mix(hash, bits);
}

static uint64_t mix_whole(uint64_t hash, int x) {
    return bfi_mix(hash, (uint64_t)(int64_t)x);
}

static uint64_t hash_scene(const bf_swim_scene *scene) {
    uint64_t hash = mix_real(0, scene->temp_c);
    hash = mix_whole(mix_whole(mix_whole(hash, scene->n_spots), scene->n_feeds), scene->n_hooks);
    for (int i = 0; i < scene->n_spots; i++) {
        const bf_swim_spot *spot = &scene->spot[i];
        hash = mix_real(mix_real(mix_real(hash, spot->depth_m), spot->distance_m), spot->side_m);
        hash = mix_real(mix_real(hash, spot->miss_m), spot->miss_pm_m);
        for (int how = 0; how < BF_N_HOWS; how++) hash = mix_real(hash, spot->area_m2[how]);
    }
    for (int i = 0; i < scene->n_feeds; i++) {
        const bf_swim_feed *feed = &scene->feed[i];
        hash = mix_real(mix_real(mix_real(hash, feed->diameter_m), feed->piece_kg), feed->lasting_s);
        hash = mix_real(mix_whole(hash, feed->is_soft), feed->lasting_factor);
    }
    for (int i = 0; i < scene->n_hooks; i++)
        hash = mix_whole(mix_real(hash, scene->hook[i].diameter_m), scene->hook[i].is_hard);
    return hash;
}

static uint64_t hash_event(uint64_t hash, const bf_swim_event *e) {
    const int whole[] = {e->kind, e->spot, e->what, e->how, e->is_further, e->n, e->outcome, e->held, e->eye};
    const double real[] = {e->t_s, e->count, e->count_pm_frac, e->area_m2, e->pm_s, e->span_s, e->value};
    for (size_t i = 0; i < sizeof whole / sizeof whole[0]; i++) hash = mix_whole(hash, whole[i]);
    for (size_t i = 0; i < sizeof real / sizeof real[0]; i++) hash = mix_real(hash, real[i]);
    for (int i = 0; i < BF_N_OUTCOMES; i++) hash = mix_whole(hash, e->tally[i]);
    return hash;
}

uint64_t bf_story_hash(const bf_swim_scene *scene, const bf_swim_event *event, int n) {
    uint64_t hash = hash_scene(scene);
    for (int i = 0; i < n; i++)
        if (event[i].kind != BF_SWIM_MARK) hash = hash_event(hash, &event[i]);
    return hash;
}
