/* dormand_prince.h -- the numbers of Runge and Kutta's method 5(4) by Dormand and Prince.
 *
 * Stage i starts from the sum of the weights of row i times the rates before it. Row 6 is the step itself, so that its rate is the
 * next step's first; the other weights give its difference from the embedded fourth order.
 * Source: J. R. Dormand and P. J. Prince, J. Comput. Appl. Math. 6 (1980) 19. Tests: those of who marches by it (throw, cable). */
#ifndef BFI_DORMAND_PRINCE_H
#define BFI_DORMAND_PRINCE_H

#define BFI_STAGES 7

static const double bfi_stage_weight[BFI_STAGES][BFI_STAGES - 1] = {
    {0},
    {1.0 / 5},
    {3.0 / 40, 9.0 / 40},
    {44.0 / 45, -56.0 / 15, 32.0 / 9},
    {19372.0 / 6561, -25360.0 / 2187, 64448.0 / 6561, -212.0 / 729},
    {9017.0 / 3168, -355.0 / 33, 46732.0 / 5247, 49.0 / 176, -5103.0 / 18656},
    {35.0 / 384, 0, 500.0 / 1113, 125.0 / 192, -2187.0 / 6784, 11.0 / 84},
};

static const double bfi_error_weight[BFI_STAGES] = {71.0 / 57600,      0,          -71.0 / 16695, 71.0 / 1920,
                                                    -17253.0 / 339200, 22.0 / 525, -1.0 / 40};

#endif
