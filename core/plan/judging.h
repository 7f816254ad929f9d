/* judging.h -- a rig put together to be tried, and judged at winds that are given. Internal. */
#ifndef BAITFALL_CORE_PLAN_JUDGING_H
#define BAITFALL_CORE_PLAN_JUDGING_H

#include "baitfall/suggest.h"

/* Winds a rig is judged at, in the order in which they are asked; in_wind of each as in bf_judged. */
typedef struct bfi_winds {
    int n;
    double m_s[3];
    int in_wind[3];
} bfi_winds;

/* The winds of a stand: the high end of its 80 % range, as given, the low end; one when it is known exactly. */
bfi_winds bfi_winds_of(const bf_stand *stand);

/* One wind alone. */
bfi_winds bfi_one_wind(double m_s);

/* How far a judgement goes. */
typedef enum bfi_depth {
    BFI_IN_ALL, /* in all winds                                                                                      */
    BFI_TO_LIMIT, /* to the first limit that is broken, which is enough to reject it                                   */
    BFI_WHETHER /* ... and a rig whose body shows by a sketch, with a good margin, is not solved: miss_frac is then
                   * the sketch's. What holds is the same, at the cost of a solve or two less for most of what does not */
} bfi_depth;

/* As bf_judge, at these winds; n_solves is added to. */
BF_CHECK bf_status bfi_judge(const bf_stand *stand, const bfi_winds *winds, bfi_depth depth,
                             bf_judged *judged, int *n_solves);

/* What keeps a rig from holding, as a sentence. */
bf_said bfi_why_it_fails(const bfi_winds *winds, const bf_judged *judged);

/* Nothing judged: all NaN, BF_LIMIT_SOLVED, miss_frac infinite. */
bf_judged bfi_unjudged(void);

/* A stand's rig with another float, shotted by pattern; back shots stay. BF_E_MODEL_RANGE: not even one shot goes on. */
BF_CHECK bf_status bfi_shot_by(const bf_stand *stand, const bf_float *settled, int pattern, bf_rig *rig);

/* Puts a choice of back shots on in place of those there are. */
void bfi_put_back_shots(bf_rig *rig, int back);

/* The most that the rig's float may bear, an index into bf_back_choices; 0: none. */
int bfi_most_back_shots(const bf_rig *rig);

/* What a rig's back shots weigh. */
double bfi_back_kg(const bf_rig *rig);

/* The lightest float of the catalogue that holds for a stand as given, with back shots if need be; -1: none. */
BF_CHECK bf_status bfi_lightest_float(const bf_stand *stand, int *i_float);

#endif
