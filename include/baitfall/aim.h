/* aim.h -- how far hook bait and bed miss each other, whose fault it is, and what to mend first.
 *
 * Pure arithmetic, no memory of its own. Axes: x out from the bank, y to the angler's right; x = y = 0 is the point of the
 * surface that was meant. Model: docs/models/aim.md. Tests: tests/tackle/aim_test.c, aim_fit_test.c, aim_mend_test.c
 *
 * How to ask, of a settled stand (bf_stand_settle):
 *
 *     bf_aiming aiming;                                    the stand, and the fit of its rig's hang
 *     status = bf_aim_prepare(&stand, &aiming);            solves the rig BF_AIM_SOLVES times, once a request
 *     bf_ensemble ensemble = bf_aim_ensemble(&aiming, seed, n_draws);      any cut of its rows gives the same bytes
 *     ... bf_ensemble_nominal, bf_ensemble_range, bf_ensemble_finish as ever ...
 *     bf_aim_chance_of(rows, n_draws, &chance);
 *     n = bf_aim_mends(&aiming, seed, rows, n_draws, work, mends);
 *
 * For the inputs as given alone ("nominal") bf_aim_bare takes bf_aim_prepare's place: no fit, one solve.
 */
#ifndef BAITFALL_AIM_H
#define BAITFALL_AIM_H

#include "baitfall/lay.h"

#ifdef __cplusplus
extern "C" {
#endif

/* The rig's hang, fitted ----------------------------------------------------------------------------------- */

/* Solves that one fit stands on. */
#define BF_AIM_SOLVES 64

/* Where the hook bait hangs against the point under the tip, as a function of what the rig's solver reads.
 *
 * The rig is solved at the 64 points of a digital net over the quantities of the stand that move the bait, at most 25 of
 * them, each point at the quantities' own odds: where the ensemble's draws will be. A draw between them is sketched: the same balance
 * in a few strides (core/tackle/sketch.h), put right by what the solves have beyond their sketches, the middle of those that moved and
 * of those that are held. A draw that has no sketch is solved.
 *
 * Accuracy: error_m says it, each solve predicted from all others: 80 to 99 % of held-out solves are within it.
 *           Everything as little known as at the start, 95 % of held-out solves are within (tests/tackle/aim_fit_test.c)
 *           1.2 mm on the starts of the form (2 000 solves), 0.4 mm on the example plan's spots (750), 0.9 mm on 60 ordinary stands at
 *           random (6 000; on 3 of the 60 by themselves more than 3 mm), 0.8 mm on them with a measured drift about along the wind and
 *           1.1 mm with one that crosses it at any angle (6 000 each; 2 and 2 of 60), 0.1 mm where all is better known (6 000).
 *           The rest are baits that hang on a few micronewtons between held and dragged off, and line above the float that is slack
 *           and has more than one balance: they can be decimetres off. Where error_m is above 3 mm a note says so
 *           (BF_NOTE_AIM_FIT_ROUGH). */
typedef struct bf_aim_fit {
    int n;              /* solves that had an answer; 0: no fit, every draw is solved         */
    int n_failed;       /* without: the float goes under, or the line is too short            */
    double error_m;     /* 95 % point of |fit - solved|, each solve predicted from all others */
    double beyond_m[2]; /* added to a sketch along the wind: to a bait that moved, to one held */
} bf_aim_fit;

/* A stand with the fit of its rig: what bf_aim_model answers for, and the record of bf_aim_schema. The fit is no part of
 * any section. */
typedef struct bf_aiming {
    bf_stand stand; /* first: an aiming is a stand */
    bf_aim_fit fit;
} bf_aiming;

/* An aiming without a fit: each draw solves the rig, which is exact and takes about a millisecond. */
void bf_aim_bare(const bf_stand *settled, bf_aiming *aiming);

/* An aiming with its fit: 64 solves, about 20 ms; 30 kB of stack.
 * Returns BF_OK; when fewer than a quarter of the solves have an answer, the last of their statuses (bf_rig_solve), and the
 * fit is empty. */
BF_CHECK bf_status bf_aim_prepare(const bf_stand *settled, bf_aiming *aiming);

/* The same by parts, of which the solves may be done side by side: solve i of the 64, all numbers, so that a row of an answer can
 * hold it; and the fit from all of them. */
typedef struct bf_aim_solved {
    double status;         /* a bf_status; the others are NaN when it is not BF_OK  */
    double out_m, right_m; /* the bait against the point under the tip              */
} bf_aim_solved;

void bf_aim_solve(const bf_stand *settled, int i, bf_aim_solved *solved);
BF_CHECK bf_status bf_aim_prepare_from(const bf_stand *settled, const bf_aim_solved solved[BF_AIM_SOLVES],
                                       bf_aiming *aiming);

/* The error budget ----------------------------------------------------------------------------------------- */

/* Outputs of the aim command, in order. */
typedef struct bf_aim_out {
    double miss_m;  /* from the pile's middle to the hook bait; mid and hi are its 50 and 90 % points */
    double out_m;   /* the bait against the pile's middle: outward                               */
    double right_m; /* ... and to the right                                                      */
    double on_frac; /* chance that some piece lies within 5 cm of the bait, in this draw         */
    double within10_frac, within15_frac; /* ... within 10, 15 cm                                 */
} bf_aim_out;
extern const bf_table bf_aim_out_table;

/* After the outputs the model passes on, against the point meant: x_m, y_m of the bait, of the pile's middle, and of a
 * few pieces, NaN where there is none. */
#define BF_AIM_RAW_PIECES 4
#define BF_AIM_RAW (4 + 2 * BF_AIM_RAW_PIECES)

/* Doubles of one row, outputs and these. */
#define BF_AIM_ROW ((int)(sizeof(bf_aim_out) / sizeof(double)) + BF_AIM_RAW)

#define BF_AIM_DRAWS_START 4096

/* Pieces of a put-in that one draw follows. */
#define BF_AIM_PIECES 8

/* The ensemble of an aiming, which must outlive it. */
bf_ensemble bf_aim_ensemble(const bf_aiming *aiming, uint64_t seed, int n_draws);

/* The aim command's model: a bf_aiming in, the doubles of bf_aim_out and BF_AIM_RAW more out. One draw is one put-in and one
 * drop over it. With L the distance of the spot, M that of the marker, along and across the pole:
 *
 *     tip, fishing    along  ship,                            across  L tan(bearing) + moves L / M    (M not given: 0)
 *                     and steady_m away, whichever way
 *     feed let go     along  ship' + pot_comp - behind_tip,   across  the same with bearing', moves'
 *     bait            tip + hang                (bf_rig_solve, or the fit; nominal: always solved)
 *     bed             bf_spread_pile from where it is let go
 *
 * ship', bearing', moves' are aim.feeding's: slips of their own, as large as those of fishing unless said. Lean and pot are
 * for clump and sprinkle; a throw has its own scatter of distance (sling) and only its bearing slips. put's offset is
 * where it is meant to go and adds to that.
 *
 * miss   against the middle of the pieces followed, the median along each axis, before their wander.
 * chance of some piece within R of the bait, in this draw:
 *
 *     1 - (product over the pieces followed of (1 - bf_wander_within(off, wander, R))) ^ (pieces / followed)
 *
 *        a put-in of up to BF_AIM_PIECES is followed whole and the chance is exact; of more, each one followed stands
 *        for pieces / followed like it. That errs to the low side: against all of 48 hard 4 mm followed by 0.01, of
 *        about 400 micros by 0.02 to 0.03 (tests; measured).
 *
 * Validity: that of spread.h and rig.h. The bait is taken to follow the tip in full, which one that lies on the bottom does
 *           not; the rig hangs as over the spot's own depth wherever the slips carry it; feed that lay there before, fish,
 *           and what the strike moves are not modelled.
 * Accuracy: the Monte Carlo error of the chances is at most 0.008 at 4096 draws, of the miss' points about 1.5 %.
 *           Against drops at a real ring: not checked; `measure aim` gives the slips of one angler.
 *
 * Returns BF_OK, with NaN outputs when no piece comes to lie (BF_E_MODEL_RANGE at the inputs as given), or the status of
 * the part that failed, outputs NaN.
 * Example   still water, all exact, pot 5.5 cm behind the tip, nobody leans: out_m 5.5 cm, give or take the pile's own middle. */
bf_status bf_aim_model(const void *aiming, const bf_draw *draw, double *out);

/* Its remarks; returns how many. */
int bf_aim_notes(const void *aiming, const bf_ensemble_result *result, bf_note notes[BF_MOST_NOTES]);

/* Chances over many drops: means of on_frac, within10_frac and within15_frac over the rows that have them; NaN without
 * any. */
typedef struct bf_aim_chance {
    double within_5cm, within_10cm, within_15cm;
} bf_aim_chance;
void bf_aim_chance_of(const double *rows, int n_rows, bf_aim_chance *chance);

/* What to mend first --------------------------------------------------------------------------------------- */

/* X(name, input, sentence): what is mended, the request's key that it is about, and the sentence with up to two numbers
 * as in note.h; {0:g} is a mass in grams. */
#define BF_MEND_LIST(X)                                                                                      \
    X(BF_MEND_MARK, "aim.ship_m", "Bring the pole back to its mark within {0:cm}, feeding and fishing.")     \
    X(BF_MEND_BEARING, "aim.bearing_deg",                                                                    \
      "Line the pole up with a small, low marker on the far bank each time: within {0:cm} out there.")       \
    X(BF_MEND_MARKER, "aim.marker_moves_m",                                                                  \
      "Take a marker that stands still: a post, not a reed or a shadow.")                                    \
    X(BF_MEND_LEAN, "aim.pot_comp_m", "Lean forward {0:cm} when you feed, and back to fish.")                \
    X(BF_MEND_POT, "pot.behind_tip_m", "Measure how far the pot sits behind the tip, to {0:cm}.")            \
    X(BF_MEND_PLUMB, "hold.overdepth_m", "Plumb and set the depth to within {0:cm}.")                        \
    X(BF_MEND_DRIFT, "water.drift",                                                                          \
      "Watch which way the drift goes and how fast, and feed {0:cm} to the side that makes up for it.")      \
    X(BF_MEND_STEADY, "aim.steady_m", "Rest the pole and hold the tip within {0:cm}.")                       \
    X(BF_MEND_WET, "bait.state", "Wet the feed, so that none of it hangs on the surface and drifts off.")    \
    X(BF_MEND_BACK_SHOT, "rig.back_shots", "Pinch a back shot on, {0:cm} above the float.")                  \
    X(BF_MEND_SHORT_LINE, "rig.tip_to_float_m",                                                              \
      "Fish {0:cm} of line from tip to float, the tip {1:cm} above the water.")                              \
    X(BF_MEND_FLOAT, "rig.float", "Fish a float of {0:g}, shotted to match.")

typedef enum bf_mend_kind {
#define BF_MEND_NAME(name, input, sentence) name,
    BF_MEND_LIST(BF_MEND_NAME)
#undef BF_MEND_NAME
        BF_N_MENDS
} bf_mend_kind;

/* Of BF_MEND_LIST; static, never NULL; kind asserted. */
const char *bf_mend_input(int kind);
const char *bf_mend_sentence(int kind);

/* One thing mended, everything else as it is, in the very same draws. */
typedef struct bf_mend {
    int kind;          /* bf_mend_kind                                                             */
    double number[2];  /* for the sentence                                                         */
    double share_frac; /* part of the mean square of the miss that goes with it; 0 when none does  */
    double gain_m;     /* how much the 90 % point of the miss falls                                */
    double miss_50_m, miss_90_m; /* with it mended                                                 */
} bf_mend;

/* What gains less is not worth a word: over seeds a gain from 512 draws scatters by 0.6 to 2.5 mm. Another rig must gain more, since
 * it hangs by another fit. */
#define BF_MEND_WORTH_M 0.003
#define BF_MEND_RIG_WORTH_M 0.01

/* Draws that the mends are tried on: the first of the ensemble's, at most so many. Both 50 and 90 % points with and without
 * a mend are of these draws, so that gain_m is that mend's and not luck's. */
#define BF_MEND_DRAWS 512

/* One mend tried. */
typedef struct bf_mend_tried {
    double is_answered, number[2], mean_square_m2, miss_50_m, miss_90_m;
} bf_mend_tried;

/* Tries every mend that has something to mend, and writes those that gain, best first; returns how many, 0 also when the
 * draws have no answer.
 *
 * What is reached with care is judgement, no source: pole within 1.5 cm of its mark; bearing 0.15 degrees, 3 cm at
 * 11.5 m; pot's place 5 mm; depth and setting 1 cm; tip held within 1 cm; speeds of wind and drift to a quarter and
 * their direction to 15 degrees, the feed then let go so far to the side that bed and bait meet at the inputs as given;
 * a No 10 back shot 20 cm above the float; 30 cm of line under a tip at 15 cm; the next float 1.4 times as heavy or more,
 * shotted as a bulk. A slip's bias goes with its give or take. The last three are fitted anew, from a quarter as many solves, and
 * meet the beds of the rows.
 *
 * What mends a slip (mark, bearing, marker, lean, pot, steady) moves bed and bait as a whole, so it follows from the ensemble's
 * rows. That leaves out that on a slope the feed then falls through a little more water or less: a lean of 5.5 cm over 6 degrees
 * changes the depth by 6 mm, and where it lands by up to 1 mm (tests).
 *
 * rows     (in n_draws x BF_AIM_ROW) of the ensemble
 * work     bf_aim_mend_bytes(n_draws), 8-aligned
 * Example  a pot 5.5 cm behind the tip, nobody leans, the pole within 2 cm: BF_MEND_LEAN comes first. */
int bf_aim_mends(const bf_aiming *aiming, uint64_t seed, const double *rows, int n_draws, void *work,
                 bf_mend mends[BF_N_MENDS]);

/* The same by parts, which may be done side by side, from the ensemble's rows: those mends that need more than the rows, each tried
 * (what mends a slip stays unanswered at once); then all of them. */
size_t bf_aim_mend_bytes(int n_draws);
void bf_aim_mend_try(const bf_aiming *aiming, uint64_t seed, const double *rows, int n_draws, int kind,
                     void *work, bf_mend_tried *tried);
int bf_aim_mends_of(const bf_aiming *aiming, uint64_t seed, const double *rows, int n_rows,
                    const bf_mend_tried tried[BF_N_MENDS], void *work, bf_mend mends[BF_N_MENDS]);

#ifdef __cplusplus
}
#endif
#endif
