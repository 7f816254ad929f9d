/* angler.c -- see angler.h. */
#include "worlds/angler.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "baitfall/choice.h"
#include "baitfall/random.h"

#define STREAM_ENTERED UINT64_C(0x3a03000000000000)
#define STREAM_WORD UINT64_C(0x3a04000000000000)
enum { N_BITE_WORDS = BF_FOUL + 1 };
#define LOOKS_UP_S 10.0 /* so often it is seen that thrown feed is due */

double outing_busy_s(int outcome) {
    switch (outcome) {
    case BF_LANDED:
    case BF_FOUL: return 75;
    case BF_LOST: return 40;
    case BF_MISSED: return 15;
    default: return 10;
    }
}

int outing_landed(const outing *o) {
    int n = 0;
    for (int h = 0; h <= SESSION_HOURS; h++) n += o->landed[h];
    return n;
}

void outing_open(outing *o, const world_kind *kind, uint64_t seed, journal *kept) {
    memset(o, 0, sizeof *o);
    o->kind = kind, o->seed = seed, o->journal = kept;
    o->scene = world_scene(seed);
    for (int s = 0; s < WORLD_SPOTS; s++) o->put_s[s] = -INFINITY;
    if (kept) kept->n = 0;
    kind->start(o->world, &o->scene, seed);
}

/* ---- The journal ---- */

static void enter(outing *o, bf_swim_event event) {
    if (!o->journal) return;
    if (o->journal->n == JOURNAL_MOST) abort();
    event.t_s = o->t_s, event.held = event.live = -1;
    o->journal->event[o->journal->n++] = event;
}

/* The word a bite is entered under; BF_NOTHING: it is not, and the rig came out for the angler's own reasons. */
static int word_of(const outing *o, int outcome) {
    uint64_t second = (uint64_t)o->t_s;
    double u = bf_uniform(o->seed, STREAM_ENTERED, second), v = bf_uniform(o->seed, STREAM_WORD, second);
    if (u < o->kind->unseen) return BF_NOTHING;
    if (u < o->kind->unseen + (1 - o->kind->unseen) * o->kind->wrong)
        return (outcome + 1 + (int)(v * (N_BITE_WORDS - 1))) % N_BITE_WORDS;
    return outcome;
}

static void lifted(outing *o, int word) {
    enter(o,
          (bf_swim_event){.kind = BF_SWIM_LIFT, .spot = o->rule.spot, .what = o->rule.hook, .outcome = word});
    if (word == BF_NOTHING) return;
    o->bite_s = o->t_s;
    for (int s = 0; s < WORLD_SPOTS; s++) o->n_since_put[s]++;
}

/* ---- On the bank ---- */

/* Time with the rig out. */
static void pass(outing *o, double s) {
    world_sign sign;
    o->t_s += s;
    if (o->kind->run(o->world, o->t_s, &sign)) abort(); /* nothing shows without a rig */
}

static int is_thrown(int how) {
    return how == BF_THROW || how == BF_HAND;
}

static void feed(outing *o, int spot, int what, int how, double count) {
    bf_swim_event put = {.kind = BF_SWIM_FEED,
                         .t_s = o->t_s,
                         .spot = spot,
                         .what = what,
                         .how = how,
                         .count = count,
                         .area_m2 = o->scene.spot[spot].area_m2[how]};
    o->kind->act(o->world, &put);
    enter(o, put);
    o->put_s[spot] = o->t_s, o->n_since_put[spot] = 0;
    o->n_puts++, o->fed_kg += count * o->scene.feed[what].piece_kg;
}

void outing_put_in(outing *o, int spot, int what, int how, double count) {
    feed(o, spot, what, how, count);
    if (!is_thrown(how)) pass(o, o->kind->put_in_s);
}

static int is_due(const outing *o) {
    const rule *r = &o->rule;
    return r->feed >= 0 && o->t_s >= r->pause_s && o->t_s >= o->put_s[r->spot] + r->every_s &&
           (!r->after_bite || o->n_since_put[r->spot] > 0 || o->put_s[r->spot] == -INFINITY);
}

/* ---- A drop ---- */

/* The rig is in until a bite, or until up_s. Returns the outcome in truth. */
static int wait(outing *o, double up_s) {
    const rule *r = &o->rule;
    world_sign sign;
    while (o->t_s < up_s) {
        double to_s = is_thrown(r->how) ? fmin(o->t_s + LOOKS_UP_S, up_s) : up_s;
        if (is_thrown(r->how) && is_due(o)) feed(o, r->spot, r->feed, r->how, r->count);
        if (!o->kind->run(o->world, to_s, &sign)) {
            o->t_s = to_s;
            continue;
        }
        o->t_s = sign.t_s;
        if (sign.outcome != BF_TOUCHED) return sign.outcome;
        enter(o, (bf_swim_event){.kind = BF_SWIM_TOUCH, .spot = o->rule.spot, .what = o->rule.hook, .n = 1});
    }
    return BF_NOTHING;
}

static void drop(outing *o) {
    bf_swim_event in = {.kind = BF_SWIM_IN, .t_s = o->t_s, .spot = o->rule.spot, .what = o->rule.hook};
    o->kind->act(o->world, &in);
    enter(o, in);
    int outcome = wait(o, o->t_s + BLANK_S), hour = (int)((o->t_s - 1) / 3600);
    if (outcome == BF_NOTHING) {
        bf_swim_event up = {.kind = BF_SWIM_LIFT, .t_s = o->t_s, .outcome = BF_NOTHING};
        o->kind->act(o->world, &up);
        lifted(o, BF_NOTHING);
    } else {
        lifted(o, word_of(o, outcome));
    }
    if (outcome == BF_LANDED && o->t_s <= o->end_s) o->landed[hour < SESSION_HOURS ? hour : SESSION_HOURS]++;
    pass(o, outing_busy_s(outcome));
}

void outing_fish(outing *o, const strategy *by, double end_s) {
    o->end_s = end_s;
    while (o->t_s < end_s) {
        if (by) by->decide(by->self, o);
        if (is_due(o) && !is_thrown(o->rule.how))
            outing_put_in(o, o->rule.spot, o->rule.feed, o->rule.how, o->rule.count);
        drop(o);
    }
}
