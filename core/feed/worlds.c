/* worlds.c -- worlds drawn from what is believed, weighed by how well they explain the readings. */
#include "core/feed/worlds.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/random.h"
#include "baitfall/special.h"

#define SEED 1u
#define SCATTER_SD 0.5 /* of the logarithm of a believed scatter (judgement) */
#define WORLDS 4096
#define ROUNDS 8
#define MOST_UNKNOWNS 64
#define DOUBT_P 0.2 /* chance that what was believed of the measured quantity is worthless */
#define ENOUGH_EFFECTIVE 200
#define LEAST_EFFECTIVE 20
#define IMPOSSIBLE (-BF_INFINITY)

/* A quantity of the record, ready to be drawn. */
typedef struct unknown {
    size_t offset;
    int is_doubted;
    bf_sampler believed;
    double usual_least, usual_most;
} unknown;

typedef struct unknowns {
    int n;
    unknown of[MOST_UNKNOWNS];
} unknowns;

static int is_doubted(const bfi_method *how, size_t offset) {
    for (int i = 0; i < how->n_doubted; i++)
        if (how->doubted[i] == offset) return 1;
    return 0;
}

static unknowns unknowns_of(const bfi_method *how, const void *asked) {
    unknowns all = {0};
    for (int i = 0; i < how->schema->n_sections; i++) {
        const bf_section *section = &how->schema->section[i];
        for (int j = 0; j < section->table->n_fields; j++) {
            const bf_field *f = &section->table->field[j];
            size_t offset = section->offset + f->offset;
            if (f->kind != BF_QUANTITY) continue;
            bf_quantity q = *(const bf_quantity *)(const void *)((const char *)asked + offset);
            BF_ASSERT(all.n < MOST_UNKNOWNS);
            unknown *u = &all.of[all.n++];
            u->offset = offset;
            u->is_doubted = is_doubted(how, offset) && !q.is_unknown && q.pm > 0;
            u->usual_least = f->usual_least;
            u->usual_most = f->usual_most;
            u->believed = bf_sampler_of(q, f->least, f->most, f->usual_least, f->usual_most);
        }
    }
    return all;
}

/* Distribution function of a doubted quantity: normal, or with DOUBT_P uniform over the usual range. */
static double doubted_p(const unknown *u, double x) {
    const bf_sampler *s = &u->believed;
    double z = (x - s->quantity.value) * BF_PM_PER_SD / s->quantity.pm;
    double normal = (bf_normal_cdf(z) - s->p_least) / (s->p_most - s->p_least);
    double uniform = (x - u->usual_least) / (u->usual_most - u->usual_least);
    uniform = uniform < 0 ? 0 : uniform > 1 ? 1 : uniform;
    return normal + DOUBT_P * (uniform - normal);
}

static double value_at(const unknown *u, double p) {
    if (!u->is_doubted) return bf_sampler_at(&u->believed, p);
    double lo = u->believed.least, hi = u->believed.most;
    for (int i = 0; i < 30; i++) {
        double middle = (lo + hi) / 2;
        if (doubted_p(u, middle) < p)
            lo = middle;
        else
            hi = middle;
    }
    return (lo + hi) / 2;
}

/* Where worlds are looked for: every unknown is a standard normal number, the scatter's factor the last of them, and is
 * drawn about `middle` with `width`. The first look is the prior itself: 0 and 1. */
typedef struct look {
    double middle[MOST_UNKNOWNS + 1], width[MOST_UNKNOWNS + 1];
} look;

static look look_anywhere(void) {
    look at;
    for (int i = 0; i <= MOST_UNKNOWNS; i++) at.middle[i] = 0, at.width[i] = 1;
    return at;
}

static double number_of(const look *at, int i, int k) {
    return at->middle[i] + at->width[i] * bf_normal(SEED, (uint64_t)i, (uint64_t)k);
}

/* Logarithm of prior over look for one number. */
static double log_prior_over_look(const look *at, int i, double number) {
    double off = (number - at->middle[i]) / at->width[i];
    return (off * off - number * number) / 2 + bf_log(at->width[i]);
}

size_t bfi_worlds_bytes(size_t record_bytes) {
    return (3 + BFI_MOST_VALUES) * WORLDS * sizeof(double) + record_bytes;
}

bfi_worlds bfi_worlds_in(void *work) {
    double *at = work;
    bfi_worlds w = {at, at + WORLDS, {0}, at + 2 * WORLDS, at + (3 + BFI_MOST_VALUES) * WORLDS};
    for (int i = 0; i < BFI_MOST_VALUES; i++) w.value[i] = at + (3 + i) * WORLDS;
    return w;
}

static void explain_world(const bfi_method *how, const unknowns *all, const look *at, int k, bfi_worlds *w) {
    double values[BFI_MOST_VALUES] = {0}, log_weight = 0;
    for (int i = 0; i < all->n; i++) {
        double number = number_of(at, i, k), p = bf_normal_cdf(number);
        bf_quantity *q = (bf_quantity *)(void *)((char *)w->record + all->of[i].offset);
        q->value = value_at(&all->of[i], p < 1e-15 ? 1e-15 : p > 1 - 1e-15 ? 1 - 1e-15 : p);
        log_weight += log_prior_over_look(at, i, number);
    }
    double scatter = number_of(at, all->n, k);
    log_weight += log_prior_over_look(at, all->n, scatter);

    bfi_explained how_well = how->explain(w->record, bf_exp(SCATTER_SD * scatter), values);
    log_weight += how_well.log_likely;
    w->weight[k] = log_weight == log_weight ? log_weight : IMPOSSIBLE;
    w->misfit[k] = how_well.misfit;
    for (int i = 0; i < how->n_values; i++) w->value[i][k] = values[i];
}

/* From logarithms to weights that add up to 1; returns how many equal worlds they are worth. */
static double normalise(bfi_worlds *w) {
    double most = IMPOSSIBLE, sum = 0, squares = 0;
    for (int k = 0; k < WORLDS; k++)
        if (w->weight[k] > most) most = w->weight[k];
    if (!(most > IMPOSSIBLE)) return 0;
    for (int k = 0; k < WORLDS; k++) {
        w->weight[k] = bf_exp(w->weight[k] - most);
        sum += w->weight[k];
        squares += w->weight[k] * w->weight[k];
    }
    for (int k = 0; k < WORLDS; k++) w->weight[k] /= sum;
    return sum * sum / squares;
}

/* Look next where the weight was, half as wide again as what was found there. */
static look look_there(const look *at, const bfi_worlds *w, int n_numbers) {
    look next = *at;
    for (int i = 0; i < n_numbers; i++) {
        double mean = 0, square = 0;
        for (int k = 0; k < WORLDS; k++) {
            double number = number_of(at, i, k);
            mean += w->weight[k] * number;
            square += w->weight[k] * number * number;
        }
        double width = 1.5 * sqrt(fabs(square - mean * mean));
        next.middle[i] = mean;
        next.width[i] = width < 0.3 ? 0.3 : width > 1 ? 1 : width;
    }
    return next;
}

/* Rounds of worlds until enough of them explain the readings. */
bf_status bfi_weigh_worlds(const bfi_method *how, const void *asked, int n_readings, bfi_worlds *w) {
    unknowns all = unknowns_of(how, asked);
    look at = look_anywhere();
    double effective = 0, misfit = 0;
    memcpy(w->record, asked, how->schema->bytes);
    for (int round = 0; round < ROUNDS; round++) {
        if (round > 0) at = look_there(&at, w, all.n + 1);
        for (int k = 0; k < WORLDS; k++) explain_world(how, &all, &at, k, w);
        effective = normalise(w);
        if (effective == 0 || effective >= ENOUGH_EFFECTIVE) break;
    }
    for (int k = 0; k < WORLDS; k++)
        if (w->weight[k] > 0) misfit += w->weight[k] * w->misfit[k];
    /* 1 is expected, with a standard deviation of sqrt(2 / n). */
    double most_misfit = 2 + 8 / sqrt(n_readings);
    return effective >= LEAST_EFFECTIVE && misfit <= most_misfit ? BF_OK : BF_E_DATA;
}

/* Range of a value: worlds picked at even steps of the summed weight, sorted. */
bf_quantity bfi_range_of(bfi_worlds *w, int i_value) {
    double passed = w->weight[0];
    int world = 0;
    for (int k = 0; k < WORLDS; k++) {
        while (passed < (k + 0.5) / WORLDS && world < WORLDS - 1) passed += w->weight[++world];
        w->room[k] = w->value[i_value][world];
    }
    bf_sort(w->room, WORLDS);
    double lo = bf_quantile_sorted(w->room, WORLDS, 0.1), hi = bf_quantile_sorted(w->room, WORLDS, 0.9);
    bf_quantity now = {(lo + hi) / 2, (hi - lo) / 2, 0};
    return now;
}

void bfi_change(bf_measured *out, const bf_schema *schema, int i_section, size_t offset, bf_quantity was,
                bf_quantity now) {
    const bf_table *table = schema->section[i_section].table;
    int i_field = 0;
    while (table->field[i_field].offset != offset) i_field++;
    out->change[out->n_changes++] = (bf_before_after){i_section, i_field, was, now};
}

void bfi_add_reading(bfi_explained *so_far, int n, double off, double sd, double log_slope) {
    double squared = off * off / (sd * sd);
    so_far->log_likely += log_slope - squared / 2 - bf_log(sd);
    so_far->misfit += squared / n;
}

bfi_explained bfi_impossible(void) {
    return (bfi_explained){IMPOSSIBLE, 0};
}
