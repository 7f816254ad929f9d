/* float.h -- a pole float: what it carries, what shows, how it moves.
 *
 * Pure arithmetic. Model: docs/models/tackle.md. Tests: tests/tackle/float_test.c
 *
 * A float is a stem below, a spindle body (an ellipsoid) and a bristle above. What it carries is said in grams of lead
 * shot, as it is printed and as it is tried in a tube; its buoyancy follows from that, not from its measures.
 */
#ifndef BAITFALL_FLOAT_H
#define BAITFALL_FLOAT_H

#include "baitfall/field.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct bf_float {
    double rating_kg; /* printed: grams of lead shot it is said to take, 3e-5 .. 0.02                   */
    double
        capacity_kg; /* lead shot (dry mass) it took in a tube to where the bristle begins; NaN: the rating */
    bf_quantity
        capacity_frac; /* real capacity over that figure; start 1 +- 0.12, narrowed by a float test      */
    double bristle_m;  /* diameter of the bristle                                                        */
    double
        bristle_long_m; /* its length                                                                     */
    double body_m, body_long_m,
        stem_long_m; /* NaN: from the rating (a slim spindle body)                        */
    double mass_kg;  /* of the float itself; NaN: from its parts                                       */
    bf_quantity
        meets_deg; /* contact angle of wet bristle and water: decides the meniscus' pull             */
} bf_float;

extern const bf_table bf_float_table;

/* A float with every NaN filled in.
 *
 * capacity   the rating.
 * stem       45 mm at 0.4 g, with the cube root of the rating; carbon of 0.8 mm.
 * body       the ellipsoid, four times as long as wide, that makes it carry its capacity: its volume is
 *            (carried + stem + bristle masses - water x stem volume) / (water - body density). With one of its two
 *            measures given the other follows from that volume.
 * mass       of stem (1600 kg/m3), body (200) and bristle (1100).
 *
 * Source:    proportions and densities are judgement: no drawing of a float was found. They enter how it rights itself,
 *            heaves and is drawn along by drift, never what it carries. */
bf_float bf_float_settled(const bf_float *given);

/* The downward force that brings it down to where the bristle begins, N:
 *
 *     capacity x capacity_frac x (1 - water / lead) x g
 *
 * A float rated in lead takes 5.7 % more dry mass of tin. Meniscus not counted: it hangs on the bristle.
 * Source:    printed ratings are often wrong by 5 to 20 % (memory): hence the start of 12 %; a tube tells.
 * Example    0.4 g, 999.1 kg/m3 -> 3.577e-3 N. */
double bf_float_lift_n(const bf_float *settled, double water_kg_m3);

/* How much more it carries for a metre more of bristle under water, N/m: water g pi d^2 / 4.
 * Example    1.0 mm -> 7.695e-3 N/m: 10 mg of pull move it 12.7 mm; 10 mg of lead shot, 9.12 mg in water, 11.6 mm. */
double bf_float_bristle_n_m(const bf_float *settled, double water_kg_m3);

/* How far one lead shot of so much dry mass moves the bristle, m. */
double bf_float_shot_moves_m(const bf_float *settled, double shot_kg, double water_kg_m3);

/* Downward pull of the water's skin on the bristle, N: pi d tension cos(angle); upward above 90 degrees.
 * Validity:  a round, upright bristle; the wetted perimeter counts, so a hollow one pulls by its outside.
 * Example    1.0 mm, 0.07349 N/m, 0 degrees -> 2.309e-4 N (23.5 mg); at 60 degrees half of it, at 90 none. */
double bf_float_meniscus_n(const bf_float *settled, double tension_n_m, double angle_deg);

/* Length of bristle left showing under a downward pull, m, with the meniscus at meets_deg's value:
 *
 *     bristle_long - (down + meniscus - lift) / bristle_n_m
 *
 * down_n     all that hangs on it: shot, line, hook and bait in water, and the line's pull. Of a rig that is dotted down by
 *            eye (stand.h's bf_dotting, the start) the solver adds the trimmers that make dotted_m show in calm water: then
 *            neither capacity nor the shot's true weight decides what shows, up to BF_TRIMS_FRAC of the lift.
 * Above bristle_long_m part of the body shows as well, and below 0 it has gone under: then only the sign holds.
 * Accuracy:  the angle decides. Between 60 and 90 degrees the pull changes by more than the smallest shot (No 13, 9.12 mg
 *            in water) from 0.8 mm up, so the same rig shows a different length when it last sank than when it last
 *            rose, and after the tip dries. No contact angle of a bristle material was found: 30 to 90 degrees. */
double bf_float_shows_m(const bf_float *settled, double down_n, double water_kg_m3, double tension_n_m);

/* The band that hysteresis makes of it: what shows at the lower and the upper end of meets_deg (value -+ pm; unknown: 30
 * and 90 degrees). lo <= hi. */
void bf_float_shows_band_m(const bf_float *settled, double down_n, double water_kg_m3, double tension_n_m,
                           double *lo_m, double *hi_m);

/* Rise of the water against the bristle, m, a its radius, lc = sqrt(tension / (water g)):
 *
 *     h = a cos(angle) [ln(4 lc / (a (1 + sin angle))) - 0.5772]
 *
 * Source:    D. F. James, J. Fluid Mech. 63 (1974) 657 (formula from memory).
 * Validity:  a much smaller than lc = 2.74 mm, angle 0 to 90 degrees.
 * Accuracy:  low: against the Young-Laplace equation integrated by up to 3.5 % at 0.8 mm, 6 % at 1 mm, 10 % at 1.5 mm and
 *            17 % at 2 mm; worst at large angles (measured by the test).
 * Example    1.0 mm, 30 degrees, 15 C -> 0.911 mm. */
double bf_float_meniscus_rise_m(const bf_float *settled, double angle_deg, double water_kg_m3,
                                double tension_n_m);

/* Time of one bob up and down, s: 2 pi sqrt(mass (1 + added) / bristle_n_m).
 *
 * moving_kg  what moves with it: the float, and the shot unless it hangs on a slack line.
 * added      water that moves along, over that mass. 0 to 0.5 are taken; none was found for floats.
 * Validity:  while the water's surface stays on the bristle. No damping: it dies away in a few bobs.
 * Example    0.45 g on 1.0 mm, added 0, water 999.10 kg/m3 -> 1.519 s. */
double bf_float_heave_s(const bf_float *settled, double moving_kg, double added, double water_kg_m3);

/* What its parts are made of. */
typedef struct bf_float_build {
    double stem_m; /* diameter */
    double stem_kg_m3, body_kg_m3, bristle_kg_m3;
} bf_float_build;

/* Carbon of 0.8 mm 1600, body 200, bristle 1100 kg/m3 (judgement). Steel wire is 7850, glass fibre 1900. */
extern const bf_float_build bf_float_usual_build;

/* How a float stands up, all of it below the waterline counted as it floats there. */
typedef struct bf_upright {
    double mass_kg;       /* of the float                                                   */
    double displaced_kg;  /* of water                                                       */
    double load_n;        /* weight in water that keeps it at this waterline, at the stem's foot */
    double buoyancy_m;    /* centre of buoyancy above the stem's foot                       */
    double weight_m;      /* centre of weight, the load included, above the stem's foot     */
    double waterplane_m;  /* second moment of the waterline over the volume: next to nothing */
    double metacentric_m; /* buoyancy + waterplane - weight: above 0 it stands              */
} bf_upright;

/* The same float, shows_m of its bristle above the water (0 .. bristle_long_m, asserted). The load is at the stem's foot,
 * where the line leaves: shot below hang straight down from there. Its mass is that of its parts; mass_kg is not read.
 *
 * Source:    metacentric height of a floating body (textbook).
 * Accuracy:  rows of float_gm.csv to their last digit. For a float whose measures came from its rating: an estimate, by
 *            proportions that are judgement. */
bf_upright bf_float_upright(const bf_float *settled, const bf_float_build *build, double shows_m,
                            double water_kg_m3);

/* Moment that rights it when it leans, N m: displaced g GM sin(lean).
 * Example    stem 60 x 0.8 mm of carbon, body 8 x 18 mm, bristle 1.2 x 40 mm half out, 5 degrees -> 25.5e-6 N m. */
double bf_float_righting_n_m(const bf_upright *upright, double lean_deg);

#ifdef __cplusplus
}
#endif
#endif
