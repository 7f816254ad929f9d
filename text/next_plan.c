/* next_plan.c -- what the plan brings to be chosen from: spots not yet fished, baits not yet fed, hook baits not yet tried. See
 * next.h. */
#include <math.h>
#include <string.h>

#include "baitfall/pot.h"
#include "text/next.h"

/* ---- Into the scene ---- */

/* The one of this name among n, else the first if that has no name and nobody told of it (is_free), else a further one, else -1. */
static int place_of(const bfi_next *n, const char *(*name)(const bfi_next *, int), int *count, int most,
                    int is_free, const char *text) {
    for (int i = 0; i < *count; i++)
        if (strcmp(name(n, i), text) == 0) return i;
    if (is_free && *count == 1 && !name(n, 0)[0]) return 0;
    return *count < most ? (*count)++ : -1;
}

static const char *planned_name(const bfi_next *n, int section, int row) {
    return bfi_name_of(&n->b->plan_names, &bf_plan_schema.section[section], row);
}

static void take_spot(bfi_next *n, int row) {
    bfi_bedded *b = n->b;
    const char *name = planned_name(n, BF_PLAN_SPOT, row);
    int had = b->scene.n_spots;
    int k = place_of(n, bfi_next_spot, &b->scene.n_spots, BF_SWIM_MOST_SPOTS, 1, name);
    n->planned_spot[row] = k;
    if (k < 0 || (k < had && bfi_next_spot(n, k)[0])) return;
    bf_swim_scene start;
    bf_story_start_scene(&start, 1, 1, 1);
    if (k >= had) b->scene.spot[k] = start.spot[0];
    b->scene.spot[k].depth_m = b->plan.spot[row].depth_m.value;
    b->scene.spot[k].distance_m = b->plan.spot[row].distance_m.value;
    b->scene.spot[k].side_m = b->plan.spot[row].side_m.value;
    n->spot_name[k] = name;
}

static int was_fed(const bfi_bedded *b) {
    for (int i = 0; i < b->n_events; i++)
        if (b->event[i].kind == BF_SWIM_FEED) return 1;
    return 0;
}

static void take_feed(bfi_next *n, int row) {
    bfi_bedded *b = n->b;
    const char *name = planned_name(n, BF_PLAN_KIT_BAITS, row);
    int k = place_of(n, bfi_next_feed, &b->scene.n_feeds, BF_SWIM_MOST_FEEDS, !was_fed(b), name);
    n->planned_feed[row] = k;
    if (k < 0 || bfi_next_feed(n, k)[0]) return;
    b->scene.feed[k] = bfi_bed_feed(&b->plan.bait[row], b->scene.temp_c);
    n->feed_name[k] = name;
}

static void take_hook(bfi_next *n, int row) {
    bfi_bedded *b = n->b;
    const char *name = planned_name(n, BF_PLAN_KIT_HOOK_BAITS, row);
    int k = place_of(n, bfi_next_hook, &b->scene.n_hooks, BF_SWIM_MOST_HOOKS, 0, name);
    if (k < 0 || bfi_next_hook(n, k)[0]) return;
    b->scene.hook[k] = bfi_bed_hook(&b->plan.hook_bait[row]);
    n->hook_name[k] = name;
}

/* What is still to come has no name of the journal's. */
static void clear_names(int *names, int from, int most) {
    for (int i = from; i < most; i++) names[i] = -1;
}

void bfi_next_take_plan(bfi_next *n) {
    bfi_bedded *b = n->b;
    for (int i = 0; i < BF_PLAN_SPOTS; i++) n->planned_spot[i] = -1;
    for (int i = 0; i < BF_PLAN_BAITS; i++) n->planned_feed[i] = -1;
    if (!b->has_plan) return;
    clear_names(b->names.spot, b->scene.n_spots, BF_SWIM_MOST_SPOTS);
    clear_names(b->names.feed, b->scene.n_feeds, BF_SWIM_MOST_FEEDS);
    clear_names(b->names.hook, b->scene.n_hooks, BF_SWIM_MOST_HOOKS);
    for (int l = 0; l < b->plan.n_lines; l++) { // only what is fed by the plan
        if (n->planned_spot[b->plan.line[l].spot] < 0) take_spot(n, b->plan.line[l].spot);
        if (n->planned_feed[b->plan.line[l].bait] < 0) take_feed(n, b->plan.line[l].bait);
    }
    for (int i = 0; i < b->plan.n_hook_baits; i++) take_hook(n, i);
}

/* ---- Ways ---- */

/* Pieces of one put-in; 0: it cannot be told. */
static double planned_pieces(const bfi_next *n, int line) {
    bf_plan_put put;
    bf_pot_out pot;
    bf_plan_put_in(&n->b->plan, line, &put);
    bf_scene_settle(&put.scene);
    if (!isnan(put.scene.put.count)) return put.scene.put.count;
    if (bf_pot_holds(&put.scene.bait, &put.scene.pot, &put.scene.counted, &pot)) return 0;
    return put.is_measured_out ? pot.pieces : bf_put_pieces(&put.scene, pot.pieces);
}

void bfi_next_planned_ways(bfi_next *n, void (*add)(bfi_next *n, bf_way way)) {
    const bf_plan *plan = &n->b->plan;
    for (int l = 0; n->b->has_plan && l < plan->n_lines; l++) {
        int spot = n->planned_spot[plan->line[l].spot], feed = n->planned_feed[plan->line[l].bait];
        int how = plan->put[l].how;
        double pieces = spot >= 0 && feed >= 0 ? floor(planned_pieces(n, l) + 0.5) : 0;
        if (pieces >= 1) add(n, (bf_way){spot, feed, how, pieces, n->b->scene.spot[spot].area_m2[how]});
    }
}

double bfi_next_planned_every_s(const bfi_next *n) {
    const bf_plan *plan = &n->b->plan;
    for (int l = 0; n->b->has_plan && l < plan->n_lines; l++)
        if (n->planned_spot[plan->line[l].spot] == n->b->job.spot && plan->line[l].every_s > 0)
            return plan->line[l].every_s;
    return BF_NAN;
}
