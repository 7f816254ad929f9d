/* review_tables.c -- the numbers of a review, and the same as small tables for people. */
#include <math.h>

#include "text/bank.h"
#include "text/reviewed.h"

/* ---- Numbers ---- */

static void json_waits_of(bfi_json *out, const bf_review_group *g) {
    bfi_told told;
    bfi_told_start(&told);
    bfi_put_wait(&told.pen, g->median_s);
    bfi_json_key_real(out, "n_waits", g->n_waits);
    bfi_json_key_real(out, "n_ended", g->n_ended);
    bfi_json_key_real(out, "n_unseen", g->n_unseen);
    bfi_json_key_real(out, "n_unknown", g->n_unknown);
    bfi_json_key(out, "median_s");
    bfi_json_object(out);
    bfi_json_key_real(out, "mid", g->median_s.value);
    bfi_json_key_real(out, "lo", g->median_s.lower);
    bfi_json_key_real(out, "hi", g->median_s.upper);
    bfi_json_key_text(out, "text", told.text);
    bfi_json_close(out);
}

static void json_waits(bfi_json *out, const bfi_reviewed *rd) {
    const bf_review *r = &rd->review;
    bfi_json_key(out, "waits");
    bfi_json_object(out);
    json_waits_of(out, &r->all);
    bfi_json_key_real(out, "unseen_pm_s", r->unseen_pm_s);
    bfi_json_key(out, "by_age");
    bfi_json_array(out);
    for (int i = 0; i < BF_REVIEW_N_AGES; i++) {
        bfi_json_object(out);
        bfi_json_key_real(out, "from_s", bf_review_age_from_s[i]);
        bfi_json_key_real(out, "to_s", bf_review_age_from_s[i + 1]);
        json_waits_of(out, &r->age[i]);
        bfi_json_close(out);
    }
    bfi_json_close(out);
    bfi_json_close(out);
}

static void json_estimate_of(bfi_json *out, const char *key, bf_estimate e) {
    bfi_json_estimate(out, key, e.mid, e.lo, e.hi);
}

static void json_rates(bfi_json *out, const bfi_reviewed *rd) {
    const bf_review *r = &rd->review;
    bfi_json_key(out, "rates");
    bfi_json_object(out);
    json_estimate_of(out, "fish_per_h", r->all.fish_per_h);
    json_estimate_of(out, "bites_per_h", r->all.bites_per_h);
    bfi_json_key_real(out, "best_half", r->best_half < 0 ? BF_NAN : r->best_half);
    bfi_json_key(out, "halves");
    bfi_json_array(out);
    for (int i = 0; i < r->n_halves; i++) {
        const bf_review_half *half = &r->half[i];
        bfi_json_object(out);
        bfi_json_instant(out, "from", half->from_ms, rd->session->east_min);
        bfi_json_instant(out, "to", half->to_ms, rd->session->east_min);
        bfi_json_key_real(out, "n_fish", half->n_fish);
        json_estimate_of(out, "fish_per_h", half->fish_per_h.rate);
        bfi_json_key_real(out, "p_best", half->fish_per_h.p_best);
        bfi_json_close(out);
    }
    bfi_json_close(out);
    bfi_json_key_real(out, "n_fish_outside", r->n_fish_outside);
    bfi_json_close(out);
}

static void json_change(bfi_json *out, const bfi_reviewed *rd) {
    const bf_change *c = &rd->review.change;
    double from_ms = rd->review.bin_from_ms, bin_ms = 1000 * BF_REVIEW_BIN_S;
    int east_min = rd->session->east_min;
    bfi_json_key(out, "change");
    if (!rd->review.has_change) {
        bfi_json_real(out, BF_NAN);
        return;
    }
    bfi_json_object(out);
    bfi_json_instant(out, "mid", from_ms + bin_ms * c->k_mid, east_min);
    bfi_json_instant(out, "lo", from_ms + bin_ms * c->k_lo, east_min);
    bfi_json_instant(out, "hi", from_ms + bin_ms * c->k_hi, east_min);
    bfi_json_key_real(out, "p_change", c->p_change);
    bfi_json_key_real(out, "p_slowed", c->p_slowed);
    bfi_json_key_real(out, "before_per_h", c->rate_before);
    bfi_json_key_real(out, "after_per_h", c->rate_after);
    bfi_json_close(out);
}

static void json_ratio(bfi_json *out, const char *key, bf_banded ratio) {
    bfi_told told;
    bfi_told_start(&told);
    bfi_put_ratio(&told.pen, ratio);
    bfi_json_key(out, key);
    bfi_json_object(out);
    bfi_json_key_real(out, "mid", ratio.value);
    bfi_json_key_real(out, "lo", ratio.lower);
    bfi_json_key_real(out, "hi", ratio.upper);
    bfi_json_key_text(out, "text", told.text);
    bfi_json_close(out);
}

static void json_feeds(bfi_json *out, const bfi_reviewed *rd) {
    const bf_review *r = &rd->review;
    bfi_json_key(out, "changes");
    if (r->feeds.from < 0) {
        bfi_json_real(out, BF_NAN);
        return;
    }
    bfi_json_object(out);
    bfi_json_key_text(out, "from", bfi_feed_name(rd, r->feed[r->feeds.from].key));
    bfi_json_key_text(out, "to", bfi_feed_name(rd, r->feed[r->feeds.to].key));
    json_ratio(out, "waits_ratio", r->feeds.ratio);
    json_ratio(out, "waits_ratio_per_min_of_feed", r->feeds.per_min);
    json_ratio(out, "waits_ratio_sprinkled", r->feeds.sprinkled);
    bfi_json_key_real(out, "n_put_ins", r->feeds.n_clusters);
    bfi_json_key_text(out, "more_bites",
                      r->feed_most < 0 ? "" : bfi_feed_name(rd, r->feed[r->feed_most].key));
    bfi_json_key_real(out, "p_more_bites", r->p_feed_most);
    bfi_json_close(out);
}

static const struct {
    const char *key, *word;
    int outcome;
} outcomes[] = {{"landed", "fish", BF_LANDED},      {"lost", "lost", BF_LOST},
                {"foul", "foul", BF_FOUL},          {"missed", "missed", BF_MISSED},
                {"nothing", "nothing", BF_NOTHING}, {"touch", "touches", BF_TOUCHED}};
#define N_OUTCOMES_SHOWN (sizeof outcomes / sizeof outcomes[0])

static void json_outcomes(bfi_json *out, const bfi_reviewed *rd) {
    const bf_review *r = &rd->review;
    bfi_json_key(out, "outcomes");
    bfi_json_array(out);
    for (int i = 0; i < r->n_feeds; i++) {
        const bf_review_group *g = &r->feed[i];
        bfi_json_object(out);
        bfi_json_key_text(out, "feed", bfi_feed_name(rd, g->key));
        bfi_json_key_real(out, "drops", g->n_drops);
        for (size_t k = 0; k < N_OUTCOMES_SHOWN; k++)
            bfi_json_key_real(out, outcomes[k].key, g->count[outcomes[k].outcome]);
        json_estimate_of(out, "clean_frac", g->clean.share);
        bfi_json_key_real(out, "hours", g->hours);
        json_estimate_of(out, "fish_per_h", g->fish_per_h);
        json_estimate_of(out, "bites_per_h", g->bites_per_h);
        json_waits_of(out, g);
        bfi_json_close(out);
    }
    bfi_json_close(out);
}

static void json_held(bfi_json *out, const bfi_reviewed *rd) {
    const bf_review *r = &rd->review;
    bfi_json_key(out, "held");
    bfi_json_object(out);
    for (int i = 0; i < BF_N_HELD; i++) bfi_json_key_real(out, bf_held_words[i], r->holds.count[i]);
    json_estimate_of(out, "in_lip_frac", r->in_lip.share);
    bfi_json_close(out);
}

void bfi_json_review_numbers(bfi_json *out, const bfi_reviewed *rd) {
    json_outcomes(out, rd);
    json_waits(out, rd);
    json_rates(out, rd);
    json_change(out, rd);
    json_feeds(out, rd);
    json_held(out, rd);
}

/* ---- Tables ---- */

#define TOSS_UP 0.6 /* up to so much either feed may be the better one */

static void finding_clean(bfi_told *told, const bfi_reviewed *rd) {
    const bf_review *r = &rd->review;
    bfi_told_start(told);
    if (r->feed_clean < 0) return;
    if (r->p_feed_clean < TOSS_UP) {
        bfi_put(&told->pen, "About as many bites were landed on one feed as on the other.");
        return;
    }
    bfi_put(&told->pen, "More of the bites were landed on ");
    bfi_put(&told->pen, bfi_feed_said(rd, r->feed[r->feed_clean].key));
    bfi_put(&told->pen, ", ");
    bfi_put_in_ten(&told->pen, r->p_feed_clean);
    bfi_put(&told->pen, " sure, if one bite does not bring another.");
}

/* Drops on a feed that has no row of its own. */
static void count_of_other_feeds(const bf_review *r, int count[BF_N_OUTCOMES]) {
    for (int o = 0; o < BF_N_OUTCOMES; o++) {
        count[o] = r->all.count[o];
        for (int i = 0; i < r->n_feeds; i++) count[o] -= r->feed[i].count[o];
    }
}

static void count_of_stretches(const bfi_reviewed *rd, int count[BF_N_OUTCOMES]) {
    for (int i = rd->session->stretch_from; i < rd->session->stretch_to; i++)
        for (int o = 0; o < BF_N_OUTCOMES; o++) count[o] += rd->ask->fold->stretch[i].count[o];
}

/* A row without a share of clean bites; none when it would be empty. */
static void row_counts(bfi_json *out, const char *what, const int count[BF_N_OUTCOMES]) {
    int n = 0;
    for (int o = 0; o < BF_N_OUTCOMES; o++) n += count[o] > 0;
    if (n == 0) return;
    bfi_json_array(out);
    bfi_json_text(out, what);
    for (size_t k = 0; k < N_OUTCOMES_SHOWN; k++) bfi_cell_count(out, count[outcomes[k].outcome]);
    bfi_json_text(out, "");
    bfi_json_close(out);
}

/* Its columns add up to the session's counts. */
static void table_outcomes(bfi_json *out, const bfi_reviewed *rd) {
    static const char *const heads[] = {"feed",    "fish",    "lost",        "foul", "missed",
                                        "nothing", "touches", "clean bites", NULL};
    const bf_review *r = &rd->review;
    bfi_told told;
    finding_clean(&told, rd);
    bfi_table_start(out, "outcomes", "How drops ended", told.text, heads);
    for (int i = 0; i < r->n_feeds; i++) {
        bfi_json_array(out);
        bfi_json_text(out, bfi_feed_said(rd, r->feed[i].key));
        for (size_t k = 0; k < N_OUTCOMES_SHOWN; k++)
            bfi_cell_count(out, r->feed[i].count[outcomes[k].outcome]);
        bfi_told_start(&told);
        bfi_put_share(&told.pen, r->feed[i].clean.share);
        bfi_cell_told(out, &told);
        bfi_json_close(out);
    }
    int others[BF_N_OUTCOMES], tallied[BF_N_OUTCOMES] = {0};
    count_of_other_feeds(r, others);
    count_of_stretches(rd, tallied);
    row_counts(out, "other feeds", others);
    row_counts(out, "counted over a stretch", tallied);
    bfi_table_end(out);
}

static void row_waits(bfi_json *out, const char *what, const bf_review_group *g) {
    bfi_told told;
    bfi_json_array(out);
    bfi_json_text(out, what);
    bfi_cell_count(out, g->n_waits);
    bfi_cell_count(out, g->n_ended);
    bfi_told_start(&told);
    bfi_put_wait(&told.pen, g->median_s);
    bfi_cell_told(out, &told);
    bfi_json_close(out);
}

static void table_waits(bfi_json *out, const bfi_reviewed *rd) {
    static const char *const heads[] = {"waits", "how many", "ended by a bite", "half ended by (8 in 10)",
                                        NULL};
    const bf_review *r = &rd->review;
    bfi_told told;
    bfi_table_start(out, "waits", "How long till a bite", "", heads);
    row_waits(out, "all", &r->all);
    for (int i = 0; i < BF_REVIEW_N_AGES; i++) {
        bfi_told_start(&told);
        bfi_put_age(&told.pen, i);
        row_waits(out, told.text, &r->age[i]);
    }
    for (int i = 0; i < r->n_feeds; i++) row_waits(out, bfi_feed_said(rd, r->feed[i].key), &r->feed[i]);
    bfi_table_end(out);
}

static void finding_rates(bfi_told *told, const bfi_reviewed *rd) {
    const bf_review *r = &rd->review;
    bfi_told_start(told);
    if (r->feed_most < 0) return;
    if (r->p_feed_most < TOSS_UP) {
        bfi_put(&told->pen, "Bites came about as often on one feed as on the other.");
        return;
    }
    bfi_put(&told->pen, "More bites an hour on ");
    bfi_put(&told->pen, bfi_feed_said(rd, r->feed[r->feed_most].key));
    bfi_put(&told->pen, ", ");
    bfi_put_in_ten(&told->pen, r->p_feed_most);
    bfi_put(&told->pen, " sure, if each came at one steady rate.");
}

static void row_rates(bfi_json *out, const char *what, const bf_review_group *g) {
    bfi_told told;
    bfi_json_array(out);
    bfi_json_text(out, what);
    bfi_told_start(&told);
    bfi_put_figures(&told.pen, g->hours, 2);
    bfi_cell_told(out, &told);
    bfi_told_start(&told);
    bfi_put_estimate(&told.pen, g->fish_per_h);
    bfi_cell_told(out, &told);
    bfi_told_start(&told);
    bfi_put_estimate(&told.pen, g->bites_per_h);
    bfi_cell_told(out, &told);
    bfi_json_close(out);
}

static void table_rates(bfi_json *out, const bfi_reviewed *rd) {
    static const char *const heads[] = {"while feeding", "hours", "fish an hour (8 in 10)", "bites an hour",
                                        NULL};
    const bf_review *r = &rd->review;
    bfi_told finding;
    finding_rates(&finding, rd);
    bfi_table_start(out, "rates", "How often", finding.text, heads);
    row_rates(out, "all", &r->all);
    for (int i = 0; i < r->n_feeds; i++) row_rates(out, bfi_feed_said(rd, r->feed[i].key), &r->feed[i]);
    bfi_table_end(out);
}

static void table_halves(bfi_json *out, const bfi_reviewed *rd) {
    static const char *const heads[] = {"half hour", "fish", "fish an hour (8 in 10)", "best", NULL};
    const bf_review *r = &rd->review;
    bfi_told told;
    bfi_told_start(&told);
    bfi_put_change(&told.pen, rd);
    bfi_table_start(out, "halves", "Half hour by half hour", told.text, heads);
    for (int i = 0; i < r->n_halves; i++) {
        const bf_review_half *half = &r->half[i];
        bfi_json_array(out);
        bfi_told_start(&told);
        bfi_put_hours(&told.pen, half->from_ms, half->to_ms, rd->session->east_min);
        bfi_cell_told(out, &told);
        bfi_cell_count(out, half->n_fish);
        bfi_told_start(&told);
        bfi_put_estimate(&told.pen, half->fish_per_h.rate);
        bfi_cell_told(out, &told);
        bfi_told_start(&told);
        if (half->fish_per_h.p_best >= 0.05) bfi_put_in_ten(&told.pen, half->fish_per_h.p_best);
        bfi_cell_told(out, &told);
        bfi_json_close(out);
    }
    if (r->n_fish_outside > 0) {
        bfi_json_array(out);
        bfi_json_text(out, "outside of these");
        bfi_cell_count(out, r->n_fish_outside);
        bfi_json_text(out, "");
        bfi_json_text(out, "");
        bfi_json_close(out);
    }
    bfi_table_end(out);
}

static void row_ratio(bfi_json *out, const char *what, bf_banded ratio) {
    bfi_told told;
    if (isnan(ratio.value)) return;
    bfi_json_array(out);
    bfi_json_text(out, what);
    bfi_told_start(&told);
    bfi_put_ratio(&told.pen, ratio);
    bfi_cell_told(out, &told);
    bfi_json_close(out);
}

static void table_changes(bfi_json *out, const bfi_reviewed *rd) {
    static const char *const heads[] = {"with", "waits so many times as long (8 in 10)", NULL};
    const bf_review *r = &rd->review;
    bfi_told told;
    if (r->feeds.from < 0 || isnan(r->feeds.ratio.value)) return;
    bfi_table_start(out, "changes", "What longer and shorter waits went with", "", heads);
    bfi_told_start(&told);
    bfi_put(&told.pen, bfi_feed_said(rd, r->feed[r->feeds.to].key));
    bfi_put(&told.pen, " rather than ");
    bfi_put(&told.pen, bfi_feed_said(rd, r->feed[r->feeds.from].key));
    row_ratio(out, told.text, r->feeds.ratio);
    row_ratio(out, "each minute since feed", r->feeds.per_min);
    row_ratio(out, "sprinkled rather than tipped", r->feeds.sprinkled);
    bfi_table_end(out);
}

static void table_nets(bfi_json *out, const bfi_reviewed *rd) {
    static const char *const heads[] = {"net", "fish", "weight", NULL};
    bfi_told told;
    bfi_table_start(out, "nets", "Nets", "", heads);
    for (int i = 0; i < rd->nets.n; i++) {
        const bf_net *net = &rd->nets.net[i];
        if (net->n_fish == 0 && !net->is_weighed) continue;
        bfi_json_array(out);
        bfi_cell_count(out, net->net);
        bfi_cell_count(out, net->n_fish);
        bfi_told_start(&told);
        bfi_put_weight(&told.pen, net->mass);
        if (net->is_weighed) bfi_put(&told.pen, ", weighed");
        if (net->is_over) bfi_put(&told.pen, ", over the limit");
        bfi_cell_told(out, &told);
        bfi_json_close(out);
    }
    bfi_table_end(out);
}

static void table_held(bfi_json *out, const bfi_reviewed *rd) {
    static const char *const heads[] = {"hook held in", "fish", NULL};
    const bf_review *r = &rd->review;
    bfi_told told;
    int n = 0;
    for (int i = 0; i < BF_N_HELD; i++) n += r->holds.count[i];
    if (n == 0) return;
    bfi_told_start(&told);
    bfi_put_share(&told.pen, r->in_lip.share);
    bfi_put(&told.pen, isnan(r->in_lip.share.mid) ? "" : " in the lip.");
    bfi_table_start(out, "held", "Where hooks held, of those looked at", told.text, heads);
    for (int i = 0; i < BF_N_HELD; i++) {
        bfi_json_array(out);
        bfi_json_text(out, bfi_held_said[i]);
        bfi_cell_count(out, r->holds.count[i]);
        bfi_json_close(out);
    }
    bfi_table_end(out);
}

void bfi_json_review_tables(bfi_json *out, const bfi_reviewed *rd) {
    bfi_json_key(out, "tables");
    bfi_json_array(out);
    table_outcomes(out, rd);
    table_waits(out, rd);
    table_rates(out, rd);
    table_halves(out, rd);
    table_changes(out, rd);
    table_nets(out, rd);
    table_held(out, rd);
    bfi_json_close(out);
}
