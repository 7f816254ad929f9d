/* day.c -- wind in words, and which plumbed place to fish; see baitfall/day.h. */
#include "baitfall/day.h"

#include <math.h>

#include "baitfall/field.h"
#include "baitfall/status.h"

const bf_wind_word bf_wind_words[] = {
    {"none", {0.4, 0.4, 0}},
    {"light", {2.5, 1.0, 0}},
    {"brisk", {6.0, 1.5, 0}},
};
const int bf_n_wind_words = sizeof bf_wind_words / sizeof bf_wind_words[0];

/* Give or take half of the sector that a word stands for, as an 80 % range. */
const bf_wind_side bf_wind_sides[] = {
    {"left", {90, 35, 0}},
    {"facing", {180, 35, 0}},
    {"right", {-90, 35, 0}},
    {"behind", {0, 35, 0}},
};
const int bf_n_wind_sides = sizeof bf_wind_sides / sizeof bf_wind_sides[0];

static const struct {
    const char *slug, *sentence;
} whys[BF_N_WHYS] = {
#define BF_WHY_SAID(name, slug, sentence) {slug, sentence},
    BF_PLACE_WHY_LIST(BF_WHY_SAID)
#undef BF_WHY_SAID
};

const char *bf_place_why_slug(bf_place_why why) {
    return whys[why].slug;
}

const char *bf_place_why_sentence(bf_place_why why) {
    return whys[why].sentence;
}

static double reach_of(const bf_place *place) {
    return sqrt(place->distance_m * place->distance_m + place->side_m * place->side_m);
}

/* Places within reach, nearest first; returns how many. */
static int sort_by_reach(const bf_place *places, int n, double reach_m, int order[BF_DAY_PLACES]) {
    int n_in = 0;
    for (int i = 0; i < n; i++) {
        BF_ASSERT(places[i].distance_m > 0 && places[i].depth_m > 0);
        if (reach_of(&places[i]) > reach_m) continue; /* a NaN reach keeps all */
        int k = n_in++;
        while (k > 0 && reach_of(&places[order[k - 1]]) > reach_of(&places[i])) {
            order[k] = order[k - 1];
            k--;
        }
        order[k] = i;
    }
    return n_in;
}

/* The steepest drop outward between neighbours; 0 when none is a shelf. */
static int find_shelf(const bf_place *places, const int *order, int n, bf_place_choice *choice) {
    double steepest = BF_SHELF_SLOPE;
    choice->shelf_from = choice->shelf_to = -1;
    for (int k = 0; k + 1 < n; k++) {
        const bf_place *a = &places[order[k]], *b = &places[order[k + 1]];
        double drop_m = b->depth_m - a->depth_m, run_m = reach_of(b) - reach_of(a);
        if (drop_m < BF_SHELF_DROP_M || run_m <= 0 || drop_m / run_m <= steepest) continue;
        steepest = drop_m / run_m;
        choice->shelf_from = order[k];
        choice->shelf_to = order[k + 1];
    }
    return choice->shelf_to >= 0;
}

/* The deepest (sign 1) or shallowest (sign -1) place that is at least so deep; the nearer of equals. */
static int extreme(const bf_place *places, const int *order, int n, double sign, double least_m) {
    int best = -1;
    for (int k = 0; k < n; k++) {
        if (places[order[k]].depth_m < least_m) continue;
        if (best < 0 || sign * places[order[k]].depth_m > sign * places[best].depth_m) best = order[k];
    }
    return best;
}

static void choose(bf_place_choice *choice, int place, bf_place_why why, double a, double b) {
    choice->place = place;
    choice->why = why;
    choice->number[0] = a;
    choice->number[1] = b;
}

int bf_place_choose(const bf_place *places, int n, double reach_m, double temp_c, bf_place_choice *choice) {
    int order[BF_DAY_PLACES];
    BF_ASSERT(n >= 1 && n <= BF_DAY_PLACES);
    int n_in = sort_by_reach(places, n, reach_m, order);
    choose(choice, -1, BF_WHY_ONLY, 0, 0);
    int has_shelf = find_shelf(places, order, n_in, choice);
    if (n_in == 0) return 0;
    int deepest = extreme(places, order, n_in, 1, 0);
    if (n_in == 1)
        choose(choice, order[0], BF_WHY_ONLY, 0, 0);
    else if (temp_c < BF_COLD_C)
        choose(choice, deepest, BF_WHY_COLD, temp_c, 0);
    else if (has_shelf)
        choose(choice, choice->shelf_to, BF_WHY_OFF_SHELF, places[choice->shelf_from].depth_m,
               places[choice->shelf_to].depth_m);
    else if (temp_c > BF_WARM_C)
        choose(choice, extreme(places, order, n_in, -1, places[deepest].depth_m / 2), BF_WHY_WARM, temp_c, 0);
    else
        choose(choice, order[n_in - 1], BF_WHY_FLAT, 0, 0);
    return 1;
}
