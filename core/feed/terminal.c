/* terminal.c -- see fall.h and terminal.h: a piece of bait, and the speed at which it sinks steadily. */
#include "core/feed/terminal.h"

#include <math.h>

#include "baitfall/elementary.h"

/* A drag law's own give or take in Cd, 80 % range: see drag.h. */
#define GIVE_OR_TAKE_ROUND 0.10
#define GIVE_OR_TAKE_SHAPE 0.20

/* Relative motion pushes water along; for a sphere its mass is half of the water displaced. Standard potential-flow
 * result, used for every form. */
#define ADDED_MASS 0.5

static double clamp(double x, double least, double most) {
    return x < least ? least : x > most ? most : x;
}

bf_piece bf_piece_of_form(int form, double diameter_m, double length_m, double density_kg_m3,
                          double water_kg_m3, double viscosity_pa_s) {
    bf_piece piece = {.equivalent_m = bf_piece_equivalent_m(form, diameter_m, length_m),
                      .density_kg_m3 = density_kg_m3,
                      .water_kg_m3 = water_kg_m3,
                      .viscosity_pa_s = viscosity_pa_s};
    double sphericity = bf_piece_sphericity(form, diameter_m, length_m);
    piece.drag = sphericity > BF_DRAG_ROUND_SPHERICITY ? bf_drag_sphere() : bf_drag_shape(sphericity);
    return piece;
}

bf_piece bf_piece_of(const bf_bait *bait, const bf_lake *lake) {
    bf_piece piece =
        bf_piece_of_form(bait->form, bait->diameter_m.value, bait->length_m.value, bait->density_kg_m3.value,
                         bf_lake_density_kg_m3(lake), bf_water_viscosity_pa_s(lake->temp_c.value));
    double give_or_take = bf_is_round(bait->form) ? GIVE_OR_TAKE_ROUND : GIVE_OR_TAKE_SHAPE;
    double factor = 1.0 + give_or_take * bait->drag_law_error.value;
    piece.drag.a *= factor;
    piece.drag.c *= factor;
    return piece;
}

bf_piece bf_piece_other(const bf_piece *middle, const bf_bait *bait, double size_z, double density_z) {
    bf_piece other = *middle;
    other.equivalent_m *= clamp(1.0 + bait->size_scatter_frac * clamp(size_z, -3, 3), 0.1, 2.2);
    other.density_kg_m3 =
        clamp(other.density_kg_m3 + bait->density_scatter_kg_m3 * clamp(density_z, -3, 3), 100, 20000);
    return other;
}

static bf_status check_piece(const bf_piece *piece) {
    bf_status status = bfi_first_wrong(BF_OK, piece->equivalent_m, 1e-5, 0.2);
    status = bfi_first_wrong(status, piece->density_kg_m3, 100, 20000);
    status = bfi_first_wrong(status, piece->water_kg_m3, 0.5, 1200);
    status = bfi_first_wrong(status, piece->viscosity_pa_s, 1e-6, 1e-2);
    status = bfi_first_wrong(status, piece->drag.a, 1e-3, 1e6);
    status = bfi_first_wrong(status, piece->drag.b, 0, 1e3);
    status = bfi_first_wrong(status, piece->drag.n, 0, 1);
    status = bfi_first_wrong(status, piece->drag.c, 1e-3, 1e6);
    return bfi_first_wrong(status, piece->drag.d, 1e-3, 1e6);
}

/* Drag at a Reynolds number, Cd Re^2, in its three parts. */
typedef struct drag_parts {
    double viscous, mixed, inertial;
} drag_parts;

static drag_parts drag_at(const bf_drag *law, double re, double re_to_n) {
    double viscous = law->a * re;
    return (drag_parts){viscous, viscous * law->b * re_to_n, law->c * re * re * (re / (re + law->d))};
}

/* x^n near x = 1: the [2/2] Pade approximant, within 1e-6 for x in 0.8 .. 1.25. */
static double power_near_one(double x, double n) {
    double s = x - 1.0;
    double over = 1.0 + s * ((2.0 + n) / 2.0 + s * ((2.0 + n) * (1.0 + n) / 12.0));
    return over / (1.0 + s * ((2.0 - n) / 2.0 + s * ((2.0 - n) * (1.0 - n) / 12.0)));
}

/* By what to multiply `re` so that drag becomes `best`: Newton's rule on the logarithms of drag and Re, between which
 * the law is nearly straight (slope 1 to 2). Logarithm and exponential of the step are taken as rational functions,
 * exact enough because the steps shrink to nothing. */
static double newton_factor(const bf_drag *law, double re, double re_to_n, double best) {
    drag_parts part = drag_at(law, re, re_to_n);
    double drag = part.viscous + part.mixed + part.inertial;
    double rise = part.viscous + (1.0 + law->n) * part.mixed + (2.0 + law->d / (re + law->d)) * part.inertial;
    double step = 2.0 * (best - drag) / ((best + drag) * (rise / drag));
    return (2.0 + step) / (2.0 - step);
}

/* The Reynolds number at which drag equals weight less buoyancy, both as Cd Re^2, and its n-th power.
 * First guess: Cd = (sqrt(a / Re) + sqrt(c))^2, exact at both ends of the law and within 30 % between; three steps
 * leave rounding. The power is computed twice and carried along by the steps in between. */
static double solve_reynolds(const bf_drag *law, double best, double *re_to_n) {
    double root = 2.0 * sqrt(best) / (sqrt(law->a) + sqrt(law->a + 4.0 * sqrt(best * law->c)));
    double re = root * root, power = bf_pow(re, law->n);
    double factor = newton_factor(law, re, power, best);
    re *= factor;
    power *= power_near_one(factor, law->n);
    re *= newton_factor(law, re, power, best);
    power = bf_pow(re, law->n);
    factor = newton_factor(law, re, power, best);
    *re_to_n = power * power_near_one(factor, law->n);
    return re * factor;
}

static bf_status sinking_piece(const bf_piece *piece) {
    bf_status status = check_piece(piece);
    if (status) return status;
    return piece->density_kg_m3 > piece->water_kg_m3 ? BF_OK : BF_E_MODEL_RANGE;
}

bf_status bfi_terminal_of(const bf_piece *piece, bfi_terminal *terminal) {
    bf_status status = sinking_piece(piece);
    double viscosity_m2_s = piece->viscosity_pa_s / piece->water_kg_m3, d_m = piece->equivalent_m;
    double excess_kg_m3 = piece->density_kg_m3 - piece->water_kg_m3;
    double re = 0, re_to_n = 0;
    if (!status) {
        double weight_m_s2 = BF_GRAVITY_M_S2 * excess_kg_m3 / piece->water_kg_m3;
        double length = d_m / viscosity_m2_s;
        re = solve_reynolds(&piece->drag, 4.0 / 3.0 * weight_m_s2 * d_m * length * length, &re_to_n);
        if (re > BF_DRAG_MOST_REYNOLDS) status = BF_E_MODEL_RANGE;
    }
    if (status) {
        *terminal = (bfi_terminal){BF_NAN, BF_NAN, BF_NAN, BF_NAN, BF_NAN, BF_NAN, BF_NAN, BF_NAN, BF_NAN};
        return status;
    }

    /* Start without drag: weight less buoyancy moves the piece and the water it pushes along. */
    double start_m_s2 =
        BF_GRAVITY_M_S2 * excess_kg_m3 / (piece->density_kg_m3 + ADDED_MASS * piece->water_kg_m3);
    double speed_m_s = re * viscosity_m2_s / d_m, start_s = speed_m_s / start_m_s2;

    /* The law as Cd |V| over its own value at terminal speed. */
    double a = piece->drag.a / re, b = a * piece->drag.b * re_to_n, d = piece->drag.d / re;
    double whole = a + b + piece->drag.c / (1.0 + d);
    *terminal = (bfi_terminal){.speed_m_s = speed_m_s,
                               .start_s = start_s,
                               .length_m = speed_m_s * start_s,
                               .reynolds = re,
                               .a = a / whole,
                               .b = b / whole,
                               .n = piece->drag.n,
                               .c = piece->drag.c / whole,
                               .d = d};
    return BF_OK;
}

bf_status bf_fall_speed(const bf_piece *piece, double *speed_m_s, double *reynolds) {
    bfi_terminal terminal;
    bf_status status = bfi_terminal_of(piece, &terminal);
    *speed_m_s = terminal.speed_m_s;
    *reynolds = terminal.reynolds;
    return status;
}
