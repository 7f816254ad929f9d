/* lay.c -- the lay command: see lay.h. */
#include "baitfall/lay.h"

#include <string.h>

#include "baitfall/spread.h"
#include "core/tackle/lay_way.h"

#define OUT(member, dimension, help) BF_R(bf_lay_out, member, dimension, 0, BF_INFINITY, BF_NAN, help)

static const bf_field lay_out_fields[] = {
    OUT(down_s, BF_TIME, "from letting go until the bait is on the bottom, or as deep as it hangs"),
    OUT(settled_s, BF_TIME, "from letting go until the bait lies or hangs still"),
    OUT(feed_s, BF_TIME, "nine pieces in ten of the put-in are down, from the put-in"),
    OUT(wait_s, BF_TIME,
        "start to lower so long after the put-in, and the bait comes down on feed that lies; 0: at once"),
    OUT(off_m, BF_LENGTH, "how far from the point under the tip the bait is when it gets down"),
};

const bf_table bf_lay_out_table = BF_TABLE("lay", bf_lay_out, lay_out_fields);

/* When nine in ten of the put-in are down; NaN when nothing sinks. */
static bf_status feed_down(const bf_scene *scene, const bf_draw *draw, double *feed_s) {
    double row[sizeof(bf_spread_out) / sizeof(double) + BF_SPREAD_RAW];
    bf_status status = bf_spread_model(scene, draw, row);
    *feed_s = row[offsetof(bf_spread_out, last_s) / sizeof(double)];
    return status == BF_E_MODEL_RANGE ? BF_OK : status;
}

bf_status bf_lay_model(const void *record, const bf_draw *draw, double *out) {
    const bf_stand *stand = record;
    bfi_way way;
    bf_lay_out answer = {BF_NAN, BF_NAN, BF_NAN, BF_NAN, BF_NAN};
    memcpy(out, &answer, sizeof answer);
    bf_status status = feed_down(&stand->scene, draw, &answer.feed_s);
    if (status) return status;
    status = bfi_way_of(stand, &bfi_usual_care, &way);
    int is_lost = status == BF_E_MODEL_RANGE || status == BF_E_NO_CONVERGE;
    if (status && (draw->is_nominal || !is_lost)) return status;

    answer.down_s = way.down_s;
    answer.settled_s = way.settled_s;
    answer.off_m = way.off_m;
    answer.wait_s = answer.feed_s - answer.down_s;
    if (answer.wait_s < 0) answer.wait_s = 0;
    memcpy(out, &answer, sizeof answer);
    return BF_OK;
}

/* A bait that is still moved by the line so long after it got down is worth a word. */
#define LONG_SETTLING_S 3.0

static const bf_range *range_of(const bf_ensemble_result *result, size_t offset) {
    return &result->range[offset / sizeof(double)];
}

int bf_lay_notes(const void *record, const bf_ensemble_result *result, bf_note notes[BF_MOST_NOTES]) {
    const bf_stand *stand = record;
    const bf_scene *scene = &stand->scene;
    const bf_range *down = range_of(result, offsetof(bf_lay_out, down_s));
    const bf_range *feed = range_of(result, offsetof(bf_lay_out, feed_s));
    const bf_range *wait = range_of(result, offsetof(bf_lay_out, wait_s));
    double still_s = range_of(result, offsetof(bf_lay_out, settled_s))->mid - down->mid;
    int n = 0;
    notes[n++] = (bf_note){BF_NOTE_ESTIMATE, {0, 0, 0}};
    notes[n++] = (bf_note){BF_NOTE_POWER_LINES, {0, 0, 0}};
    if (feed->nominal != feed->nominal)
        notes[n++] = (bf_note){BF_NOTE_FLOATS, {0, 0, 0}};
    else if (wait->hi > 0)
        notes[n++] = (bf_note){BF_NOTE_LAY_WAIT, {wait->hi, down->mid, 0}};
    else
        notes[n++] = (bf_note){BF_NOTE_LAY_AT_ONCE, {feed->hi, down->lo, 0}};
    if (feed->hi > 0) notes[n++] = (bf_note){BF_NOTE_LAY_PRACTICE, {feed->hi, 0, 0}};
    if (still_s > LONG_SETTLING_S) notes[n++] = (bf_note){BF_NOTE_LAY_DRAWN, {still_s, 0, 0}};
    notes[n++] = (bf_note){BF_NOTE_LAY_UNTIMED, {0, 0, 0}};
    return n + bf_wind_notes(&scene->lake, scene->spot.depth_m.value, notes + n);
}

/* Between steps k - 1 and k. */
static void place_at(double places[][3], int k, double part, double to[3]) {
    for (int i = 0; i < 3; i++) to[i] = places[k - 1][i] + part * (places[k][i] - places[k - 1][i]);
}

bf_status bf_lay_path(const bf_stand *stand, bf_lay_way *way) {
    bfi_way full;
    for (int i = 0; i < BF_LAY_POINTS; i++) {
        way->at_s[i] = BF_NAN;
        for (int k = 0; k < 3; k++) way->float_m[i][k] = way->bulk_m[i][k] = way->bait_m[i][k] = BF_NAN;
    }
    bf_status status = bfi_way_of(stand, &bfi_usual_care, &full);
    for (int i = 0, k = 1; i < BF_LAY_POINTS && status == BF_OK; i++) {
        double at_s = full.down_s * i / (BF_LAY_POINTS - 1);
        while (k + 1 < full.n && full.at_s[k] < at_s) k++;
        double part = (at_s - full.at_s[k - 1]) / (full.at_s[k] - full.at_s[k - 1]);
        way->at_s[i] = at_s;
        place_at(full.float_m, k, part, way->float_m[i]);
        place_at(full.heavy_m, k, part, way->bulk_m[i]);
        place_at(full.bait_m, k, part, way->bait_m[i]);
    }
    return status;
}
