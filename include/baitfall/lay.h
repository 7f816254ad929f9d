/* lay.h -- how the rig goes down, when the bait is down and settled, and when to lower after a put-in.
 *
 * Pure arithmetic, no memory of its own. Axes: x out from the bank, y to the angler's right, z down from the surface; the
 * origin is the surface straight under the pole tip. Model: docs/models/lay.md. Tests: tests/tackle/lay_test.c,
 * lumped_test.c
 *
 * The rig is a chain of lumps of mass joined by line that pulls and does not push, let down in time:
 *
 *     m dv/dt = weight less buoyancy + drag of line, shot, float and bait + pull of the line + push of the bottom
 *
 * with the currents, the wind, the drag laws and the weights that the rig at rest has (rig.h), so that it comes to rest as
 * that one hangs. Half of a segment's mass and weight goes to either end (M. Hall and A. Goupee, Ocean Engineering 104
 * (2015) 590), shot go to the two nodes beside them, and the water a thing moves along counts as mass. Time goes in
 * backward Euler steps that are as long as they may be.
 *
 * lowering 0, "lower"   It hangs straight from a tip so high that the bait is at the surface; the tip then goes down at
 *                       hold.lower_m_s as far as hold.tip_height_m, and the float goes in last.
 * lowering 1, "lay"     The tip is where it stays, the float under it, and the line below the float lies straight out from the
 *                       bank on the surface, and is let go.
 *
 * Validity: still air and water but for the lake's drift and mean wind; a pole that is not moved sideways. Not modelled: the
 *           line's own stiffness (it matters to the last centimetres of slack line), the water's skin on line that lies
 *           on it, twist, a hook length that spins, a bait that planes or swings, a bulk that is held up by its own wake,
 *           fish. Shot of a bulk drag as if each were alone. The float carries what hangs below it however it is dotted
 *           down (rig.dotting). Slack line between tip and float goes as far under as it
 *           likes.
 * Accuracy: against four times as many nodes down_s of half the rigs is within 2 %, of nine in ten within 6 %, off_m within 1
 *           and 4 cm; steps add 1 to 2 %. It comes to hang where rig.h has it: half within 4 mm, nine in ten within
 *           1.5 cm, in winds of 1.5 to 4.5 m/s; in lighter ones neither place is well determined. Against rigs that
 *           were timed: not checked, none were found. */
#ifndef BAITFALL_LAY_H
#define BAITFALL_LAY_H

#include "baitfall/rig.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Outputs of the lay command, in order.
 *
 * down_s     from letting go, the bait at the surface, until it touches the bottom; one that comes to hang: until it is
 *            within 1 cm of that depth
 * settled_s  until it never again moves faster than 1 mm/s; not before down_s
 * wait_s     feed_s - down_s, 0 when that is less: started so long after the put-in the bait comes down on feed that
 *            lies */
typedef struct bf_lay_out {
    double down_s;    /* letting go to down                                       */
    double settled_s; /* letting go to still                                      */
    double feed_s;    /* put-in to nine pieces in ten down (spread.h's last_s)    */
    double wait_s;    /* put-in to letting go; 0: at once                         */
    double off_m;     /* the bait, when down, from the point under the tip        */
} bf_lay_out;

extern const bf_table bf_lay_out_table;

/* The lay command's model: a settled bf_stand in, the doubles of bf_lay_out out. One draw is one put-in and one lowering,
 * some 7 ms: a hundred draws or two.
 *
 * The high end of wait_s is the safe wait: nine times in ten the feed lies when the bait arrives. To hold the float out
 * until the feed has settled and then to lower slowly (common practice, no source) is a wait of feed_s: safer still, by
 * down_s.
 *
 * Returns BF_OK. A draw that has no answer leaves NaN: feed of which nothing sinks in feed_s and wait_s; a tip as high as
 * its line is long, and steps that find no answer (none in 5000 rigs over 0.5 to 4 m in winds up to 6 m/s, 2 of 1000 at
 * the ends of all ranges), in all but feed_s. For the inputs as given the latter are BF_E_MODEL_RANGE and
 * BF_E_NO_CONVERGE. Else the status of the part that failed. */
bf_status bf_lay_model(const void *stand, const bf_draw *draw, double *out);

/* Its remarks, at most BF_MOST_NOTES; returns how many. */
int bf_lay_notes(const void *stand, const bf_ensemble_result *result, bf_note notes[BF_MOST_NOTES]);

/* The way down at the inputs as given, for a drawing. */
#define BF_LAY_POINTS 25

typedef struct bf_lay_way {
    double at_s[BF_LAY_POINTS]; /* from letting go (0) to down_s, in equal steps  */
    double float_m[BF_LAY_POINTS][3], bulk_m[BF_LAY_POINTS][3],
        bait_m[BF_LAY_POINTS][3]; /* bulk: where most of the shot is; without shot the bait */
} bf_lay_way;

/* Returns as bf_lay_model for the inputs as given; *way is then NaN.
 * Example   the middle start rig, 1.5 m of still water, no wind, lowered at 0.3 m/s -> down after 7.9 s under the tip; laid
 *           flat 12.3 s, 0.60 m out. */
BF_CHECK bf_status bf_lay_path(const bf_stand *stand, bf_lay_way *way);

#ifdef __cplusplus
}
#endif
#endif
