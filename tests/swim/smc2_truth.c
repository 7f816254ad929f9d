/* smc2_truth.c -- see smc2_truth.h. */
#include "swim/smc2_truth.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/swim/weights.h"
#include "swim/smc2_swim.h"

#define D BF_SWIM_N_PARAMETERS
#define SEED_BELIEF(k, again) (UINT64_C(0x50000000) + (k)*16 + (again))
#define SEED_SMC2(k, again) (UINT64_C(0x60000000) + (k)*16 + (again))
#define SEED_FRESH(k, again) (UINT64_C(0x70000000) + (k)*16 + (again))

/* Particles of either side with their weights. */
typedef struct gathered {
    int n;
    double *log_weight;
    double (*value)[N_BELIEVED];
} gathered;

static gathered room_of(int n) {
    gathered g = {n, malloc((size_t)n * sizeof *g.log_weight), malloc((size_t)n * sizeof *g.value)};
    if (!g.log_weight || !g.value) abort();
    return g;
}
static void forget(gathered *g) {
    free(g->log_weight), free(g->value);
}

/* Every state of every set. */
static gathered gathered_of(const smc2 *s, const made_session *made) {
    int n_x = s->size.n_x;
    gathered g = room_of(s->size.n_theta * n_x);
    double *shown = malloc(3 * (size_t)n_x * sizeof *shown);
    for (int t = 0; t < s->size.n_theta; t++) {
        const smc2_filter *f = &s->filter[t];
        smc2_swim_shown(f, n_x, made->spot, made->hook, shown, shown + n_x, shown + 2 * n_x);
        for (int p = 0; p < n_x; p++) {
            double *value = g.value[t * n_x + p];
            g.log_weight[t * n_x + p] = s->log_w[t] + f->log_w[p];
            memcpy(value, f->z, D * sizeof *value);
            for (int i = 0; i < 3; i++) value[D + i] = shown[i * n_x + p];
        }
    }
    free(shown);
    return g;
}

static double as_compared(int quantity, double value) {
    if (quantity < D) return value;
    return quantity == BELIEVED_BITES_H ? log(value) : log(1 + value);
}

static void moments_of(const gathered *g, truth_side *side) {
    double sum = 0;
    for (int p = 0; p < g->n; p++) sum += exp(g->log_weight[p]);
    for (int q = 0; q < N_BELIEVED; q++) {
        double mean = 0, squares = 0;
        for (int p = 0; p < g->n; p++) {
            double w = exp(g->log_weight[p]) / sum, value = as_compared(q, g->value[p][q]);
            mean += w * value;
            squares += w * value * value;
        }
        side->mean[q] = mean;
        side->sd[q] = sqrt(squares - mean * mean);
    }
}

/* Log-likelihoods of draws by weight. */
static void likelihoods_of(const gathered *g, const smc2_model *model, uint64_t seed, truth_side *side) {
    int from[TRUTH_DRAWS];
    double mean = 0, squares = 0;
    bfi_weights_draw(g->log_weight, g->n, 0.5, TRUTH_DRAWS, from);
    for (int i = 0; i < TRUTH_DRAWS; i++) {
        double each = smc2_log_likelihood(model, g->value[from[i]], TRUTH_STATES, seed, (uint64_t)i);
        mean += each / TRUTH_DRAWS;
        squares += each * each / TRUTH_DRAWS;
    }
    side->mean[TRUTH_LIKELIHOOD] = mean;
    side->sd[TRUTH_LIKELIHOOD] = sqrt((squares - mean * mean) * TRUTH_DRAWS / (TRUTH_DRAWS - 1));
}

/* z of the parameters a session was made with. */
static void made_with(const made_session *made, const bf_swim_prior *prior, double z[D]) {
    for (int i = 0; i < D; i++) z[i] = (log(made->truth.of[i]) - prior->mean[i]) / prior->sd[i];
}

/* Log density at z by the Gaussian of the particles' mean and covariance. */
static double score_of(const gathered *g, const truth_side *side, const double z[D]) {
    double root[D][D] = {{0}}, sum = 0, log_density = 0, e[D];
    for (int p = 0; p < g->n; p++) sum += exp(g->log_weight[p]);
    for (int i = 0; i < D; i++)
        for (int j = 0; j <= i; j++)
            for (int p = 0; p < g->n; p++)
                root[i][j] += exp(g->log_weight[p]) / sum * (g->value[p][i] - side->mean[i]) *
                              (g->value[p][j] - side->mean[j]);
    for (int i = 0; i < D; i++) {
        e[i] = z[i] - side->mean[i];
        for (int j = 0; j <= i; j++) {
            for (int k = 0; k < j; k++) root[i][j] -= root[i][k] * root[j][k];
            root[i][j] = j < i ? root[i][j] / root[j][j] : sqrt(root[i][i]);
        }
        for (int j = 0; j < i; j++) e[i] -= root[i][j] * e[j];
        e[i] /= root[i][i];
        log_density -= 0.5 * e[i] * e[i] + log(root[i][i]) + 0.5 * log(2 * 3.14159265358979323846);
    }
    return log_density;
}

/* A made-up session as both learn it. */
typedef struct lesson {
    made_session made;
    smc2_story story;
    smc2_model model;
} lesson;

static lesson *lesson_of(uint64_t k) {
    static lesson l;
    made_session_of(k, MADE_SECONDS, &l.made);
    l.story = (smc2_story){.scene = &l.made.scene,
                           .event = l.made.event,
                           .n_events = l.made.n_events,
                           .until_s = l.made.until_s,
                           .prior = bf_swim_book()};
    l.model = smc2_swim_model(&l.story);
    return &l;
}

static void tell(const gathered *g, const lesson *l, uint64_t seed, truth_side *side) {
    double z[D];
    made_with(&l->made, &l->story.prior, z);
    side->n_bites = l->made.n_bites;
    moments_of(g, side);
    likelihoods_of(g, &l->model, seed, side);
    side->log_score = score_of(g, side, z);
}

truth_side truth_by_smc2(uint64_t k, uint64_t again, smc2_size size) {
    const lesson *l = lesson_of(k);
    smc2 s;
    size.seed = SEED_SMC2(k, again);
    smc2_run(&s, &l->model, size);
    truth_side side = {.n_states = s.size.n_x,
                       .n_moves = s.n_moves,
                       .taken = s.n_taken / s.n_proposed,
                       .log_evidence = s.log_evidence};
    gathered g = gathered_of(&s, &l->made);
    tell(&g, l, SEED_FRESH(k, again), &side);
    forget(&g);
    smc2_free(&s);
    return side;
}

truth_side truth_by_belief(uint64_t k, uint64_t again, sbc_size size) {
    const lesson *l = lesson_of(k);
    truth_side side = {0};
    gathered g = room_of(size.n_sets * size.n_particles);
    side.log_evidence = believed_after(&l->made, size, SEED_BELIEF(k, again), g.log_weight, g.value);
    tell(&g, l, SEED_FRESH(k, again) + 8, &side);
    forget(&g);
    return side;
}
