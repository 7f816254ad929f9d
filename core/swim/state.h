/* state.h -- the inside of the swim's model, shared by the files of the model. Internal. */
#ifndef BFI_SWIM_STATE_H
#define BFI_SWIM_STATE_H

#include "core/swim/model.h"

/* Columns of a particle. Shared by the spots: */
enum { NEAR_FISH, HUNGER, CLOCK, N_SHARED };
/* then for each spot: fish on the bait, wariness, m2 of the tight and the scattered zone, pieces gone so far, how fast what lies
 * there crumbles against what the scene says, pieces by class in the tight zone and by class in the scattered one; */
enum { FISH, WARY, TIGHT_M2, LOOSE_M2, GONE, CRUMBLING, PIECES };
/* Hazards of what a rig would show: the outcomes of a bite in the order of bf_outcome, and a touch. */
enum { N_BITES = BF_FOUL + 1, SHOWN_TOUCH = N_BITES, N_SHOWN };
/* After the spots: the integrals of the hazards over a stretch not logged tap by tap; then the particle's own parameters, as
 * used: TAKE at most 1, APPETITE's odds as a factor of activity. */
#define STRETCH_COLUMNS N_SHOWN

/* Particles of a block at most: random numbers are numbered by it. */
#define MOST_PARTICLES 4096

/* What changes on the way, all of it the same for every particle: doubles only, saved as they lie. */
typedef struct bfi_swim_now {
    double t_s, step;
    double rig_spot, rig_hook; /* -1: not in */
    double stretch_spot;       /* -1: none */
    double temp_c, expect;     /* expect: put-ins remembered */
    double loose, fed;         /* bit s: loose feed was thrown at spot s; anything was put in there */
    double splash[BF_SWIM_MOST_SPOTS], fight[BF_SWIM_MOST_SPOTS], last_hook[BF_SWIM_MOST_SPOTS];
} bfi_swim_now;
_Static_assert(sizeof(bfi_swim_now) == BFI_SWIM_MOMENT * sizeof(double), "a moment is all that changes");

/* What is left of splash, fight and expectation after half of dt_s. */
typedef struct bfi_swim_fade {
    double dt_s, splash, fight, expect;
} bfi_swim_fade;

/* A scene made ready. What is a matter of parameters stands for a parameter of 1. Arrays by class k, spot s, hook h. */
struct bfi_swim {
    uint64_t seed, stream;
    int n_spots, n_classes, n_hooks, n_feeds;
    int class_of[BF_SWIM_MOST_FEEDS];
    double size_mm[BF_SWIM_MOST_CLASSES], search_by[BF_SWIM_MOST_CLASSES], handle_by[BF_SWIM_MOST_CLASSES];
    double piece_kg[BF_SWIM_MOST_CLASSES], rot_1_s[BF_SWIM_MOST_CLASSES];
    double log_lasting[BF_SWIM_MOST_FEEDS]; /* logarithm of the factor that a put-in's lasting is unsure by */
    double easy[BF_SWIM_MOST_CLASSES];      /* for nuisance fish, of the smallest soft piece */
    double small[BF_SWIM_MOST_CLASSES];     /* 1: small feed, else 0 */
    double counted;                         /* share of bites whose hazard the weight loses */
    double hook_by[BF_SWIM_MOST_HOOKS], hook_soft[BF_SWIM_MOST_HOOKS];
    double miss_m2[BF_SWIM_MOST_SPOTS]; /* circle of the hook bait's miss */
    double start_m2[BF_SWIM_MOST_SPOTS][2];
    double beside[BF_SWIM_MOST_SPOTS]
                 [BF_SWIM_MOST_SPOTS]; /* share of leavers of one that would try the other */
    double of[BF_SWIM_N_PARAMETERS];   /* the set that bfi_swim_begin gives to all */
    double activity, meal_kg;          /* of the temperature of now */
    bfi_swim_now now;
    bfi_swim_fade fade; /* of the step before: nearly all are as long */
};

/* Columns of a particle at most. */
#define BFI_SWIM_MOST_COLUMNS                                                                                \
    (N_SHARED + BF_SWIM_MOST_SPOTS * (PIECES + 2 * BF_SWIM_MOST_CLASSES) + STRETCH_COLUMNS +                 \
     BF_SWIM_N_PARAMETERS)

/* Ways on, side by side, where what changes on the way is each one's own (rollout.h): particle p of a block of n with its
 * memories and its rig. Instant, step, temperature and which spots have loose feed are swim->now's, the same for all. */
#define BFI_WAYS 16
typedef struct bfi_swim_ways {
    int n; /* even */
    double x[BFI_SWIM_MOST_COLUMNS * BFI_WAYS];
    double splash[BF_SWIM_MOST_SPOTS][BFI_WAYS], fight[BF_SWIM_MOST_SPOTS][BFI_WAYS], expect[BFI_WAYS];
    double fed[BFI_WAYS];                          /* bit s, as that of now */
    double rig_at[BFI_WAYS];                       /* the spot; -1: not in */
    double hook_by[BFI_WAYS], hook_soft[BFI_WAYS]; /* of its hook bait */
    uint64_t stream[BFI_WAYS]; /* of its numbers, those of slot 0: the same for ways that share their luck */
    uint64_t noise[BFI_WAYS];
    double hazard[BFI_WAYS]; /* out: of all that its rig may show in the step */
} bfi_swim_ways;

/* One step of all of them, to the next whole multiple of BFI_SWIM_STEP_S but not beyond to_s; returns how long it is. */
double bfi_swim_step_ways(bfi_swim *swim, bfi_swim_ways *ways, double to_s);

static inline int bfi_spot_column(const bfi_swim *swim, int spot) {
    return N_SHARED + spot * (PIECES + 2 * swim->n_classes);
}
static inline int bfi_stretch_column(const bfi_swim *swim) {
    return bfi_spot_column(swim, swim->n_spots);
}
static inline int bfi_own_column(const bfi_swim *swim) {
    return bfi_stretch_column(swim) + STRETCH_COLUMNS;
}
static inline int bfi_has_loose(const bfi_swim *swim, int spot) {
    return (int)swim->now.loose >> spot & 1;
}
/* Hazards, 1/s, of what really happens to particle p with the rig in (not of what is entered). */
void bfi_swim_shows(const bfi_swim *swim, int n, const double *x, int spot, int hook, int p,
                    double h[N_SHOWN]);
/* The state's jump when a drop ends with an outcome. */
void bfi_swim_ends(bfi_swim *swim, int n, double *x, int spot, int outcome);
/* Chance that a mouth hold is the middle of the top lip with so many pieces left. */
double bfi_swim_top_lip(double hold, double left);
void bfi_swim_warm(bfi_swim *swim, double temp_c);

#endif
