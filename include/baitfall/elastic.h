/* elastic.h -- pole elastic, and the strength chain hook - hooklength - knot - main line - elastic.
 *
 * Pure arithmetic. Model: docs/models/tackle.md. Tests: tests/tackle/elastic_test.c, tests/tackle/chain_test.c
 */
#ifndef BAITFALL_ELASTIC_H
#define BAITFALL_ELASTIC_H

#include "baitfall/field.h"
#include "baitfall/line.h"
#include "baitfall/summary.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum bf_barbs { BF_BARBLESS, BF_BARBED } bf_barbs;

typedef struct bf_hook {
    int size;       /* trade number, 8 .. 26                     */
    double mass_kg; /* NaN: by size (memory)                     */
    int barbs;      /* bf_barbs, -1: not said; read by the venue's rules */
} bf_hook;

typedef struct bf_elastic {
    double outer_m;  /* diameter at rest                                                      */
    double bore_m;   /* of hollow elastic; 0: solid                                           */
    double length_m; /* at rest, inside the pole                                              */
    bf_quantity
        force_frac; /* real force over that of the rubber law; start 1 +- 0.25, narrowed by a pull test */
} bf_elastic;

extern const bf_table bf_hook_table, bf_elastic_table;

/* Wire diameter of a hook by its number, m: 0.45 mm at 16, 6.8 % thicker a number. From memory of middling hooks: makers
 * differ by a third. Example   16 -> 0.45e-3. */
double bf_hook_wire_m(const bf_hook *hook);

/* Mass, kg: mass_kg, or wire 3.5 gapes long of steel, gape 4.6 mm at 16 and 8.5 % wider a number (memory).
 * Example   16 -> 2.0e-5. */
double bf_hook_mass_kg(const bf_hook *hook);

/* Its weight in water, N: steel of 7850 kg/m3. */
double bf_hook_weight_n(const bf_hook *hook, double water_kg_m3);

/* Pull that opens it, N: the wire bent fully plastic, strength x wire^3 / 6, by a pull half a gape off the shank, from the
 * eye to the bottom of the bend; 1800 MPa (memory, hardened high-carbon steel). Give or take 40 % by judgement: no
 * measurement was found.
 * Example   16 -> 11.9 N. */
double bf_hook_opens_n(const bf_hook *hook);

/* Force of rubber over its area at rest when it is drawn to `stretch` times its length, Pa:
 *
 *     sum over i of mu_i (stretch^(alpha_i - 1) - stretch^(-alpha_i / 2 - 1)),  0 up to stretch 1
 *     mu 617820, 1176.8, -9806.7 Pa; alpha 1.3, 5, -2
 *
 * Why this law: three terms follow rubber's S, the stiffening at its end too, where the one- and two-constant laws that were
 *           fitted stay 50 to 60 % low at stretch 7.
 * Source:   R. W. Ogden, Proc. R. Soc. Lond. A 326 (1972) 565 (constants from memory).
 * Validity: vulcanised natural rubber, drawn slowly for the first times, stretch 1 to 7.6. Letting go follows a lower curve
 *           (no number was found for it), and pole elastic is no standard rubber: force_frac carries that.
 * Accuracy: against L. R. G. Treloar, Trans. Faraday Soc. 40 (1944) 59, of which two public transcriptions disagree by up
 *           to 15 %: transcription B (preferred) within 12 % to stretch 7.4, 20.1 % low at 7.6; transcription A 17 to 24 %
 *           high at stretch 1.4 to 1.9, within 13 % elsewhere (measured by the test).
 * Example   stretch 2 -> 0.5911e6 Pa. */
double bf_rubber_stress_pa(double stretch);

/* Rubber in the cross-section at rest, m2; NaN when the bore is not narrower than the outside, which no single field's range
 * tells. */
double bf_elastic_area_m2(const bf_elastic *elastic);

/* Pull at a stretch, N: area x stress x force_frac; NaN as the area. Example   solid 1.0 mm at 2 -> 0.464 N, at 4 -> 0.930 N. */
double bf_elastic_pull_n(const bf_elastic *elastic, double stretch);

/* Pole elastic is fully out at five to six times its length (memory). */
#define BF_ELASTIC_FULL_STRETCH 5.5

/* What gives when a fish or a snag pulls ever harder -------------------------------------------------------------- */

/* hook: it opens. hooklength: the line away from its knots. knot: the hooklength wet and knotted. line: the main line wet
 * and knotted. elastic: it tears. */
typedef enum bf_chain_part {
    BF_CHAIN_HOOK,
    BF_CHAIN_HOOKLENGTH,
    BF_CHAIN_KNOT,
    BF_CHAIN_LINE,
    BF_CHAIN_ELASTIC,
    BF_N_CHAIN_PARTS
} bf_chain_part;

/* "hook", "hooklength", "knot", "main line", "elastic", NULL; static. */
extern const char *const bf_chain_words[];

typedef struct bf_chain_link {
    bf_range holds_n;
    double gives_first_frac; /* how often it is the weakest */
} bf_chain_link;

typedef struct bf_chain {
    bf_chain_link
        part[BF_N_CHAIN_PARTS]; /* gives_first_frac add up to 1                                            */
    bf_range full_n;            /* what the elastic pulls fully out                                        */
    bf_range spare_n;           /* the weakest part less that; below 0: it gives before the elastic is out */
    double
        gives_before_full_frac; /* how often spare_n is below 0                                            */
} bf_chain;

/* The strength chain, by 1024 deterministic draws (an even sequence, no seed) from what is uncertain:
 *
 *     hook        bf_hook_opens_n, give or take 40 %
 *     knot        bf_line_break_n(hooklength), strength_frac as it stands in the record
 *     hooklength  knot / (0.85 +- 0.10): a knot keeps 60 to 95 % (memory; good ones 85 to 90 %, read), so a sound
 *                 hooklength gives at its knot and not elsewhere
 *     line        bf_line_break_n(line)
 *     elastic     24.1 MPa (latex tubing, its least by one maker's sheet, read) x area x (0.5 +- 0.25) for how it is tied
 *                 in (judgement); its pull fully out at stretch 5.5 +- 0.5 with force_frac
 *
 * A slow steady pull; a jerk, a nick and wear are not modelled.
 * Accuracy: of the draws, 0.013 in gives_first_frac against a million random ones (measured by the test). Of the figures: the
 *           hook's and the elastic's are judgement.
 * Source:   as named; what anglers hold, a medium elastic for fish from 0.1 to 7 kg, is common practice with no source, and
 *           how a fish pulls is not modelled. Rule from memory: the elastic fully out should pull no more than about half of
 *           what the hooklength holds.
 * Returns BF_OK, or BF_E_RANGE when the elastic's bore is not narrower than its outside; then every number is NaN.
 * Example   hook 16, hooklength 0.12 mm, line 0.15 mm, elastic 1.2 mm solid: the knot holds 5.9 N and the elastic pulls
 *           2.4 N fully out; first gives the knot 79 times in 100, the main line 10, hook and elastic 5 each. */
BF_CHECK bf_status bf_chain_of(const bf_hook *hook, const bf_fishing_line *hooklength,
                               const bf_fishing_line *line, const bf_elastic *elastic, bf_chain *out);

#ifdef __cplusplus
}
#endif
#endif
