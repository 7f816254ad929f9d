/* wander.c -- see spread.h: the chance that a piece that wanders comes to lie within a circle. */
#include <math.h>

#include "baitfall/elementary.h"
#include "baitfall/special.h"
#include "baitfall/spread.h"

/* So many standard deviations off the circle's edge it is taken as certain: less than 1e-5. */
#define CERTAIN 4.5

#define MOST_NODES 32

/* Cosines of the middles of 8, 16, 32 equal parts of half a turn. */
static const double cosines[3][MOST_NODES] = {
    {0.9807852804032304, 0.8314696123025452, 0.5555702330196023, 0.19509032201612833, -0.1950903220161282,
     -0.555570233019602, -0.8314696123025453, -0.9807852804032304},
    {0.9951847266721969, 0.9569403357322088, 0.881921264348355, 0.773010453362737, 0.6343932841636455,
     0.4713967368259978, 0.29028467725446233, 0.09801714032956077, -0.09801714032956065, -0.29028467725446216,
     -0.4713967368259977, -0.6343932841636454, -0.773010453362737, -0.8819212643483549, -0.9569403357322088,
     -0.9951847266721968},
    {0.9987954562051724,   0.989176509964781,    0.970031253194544,    0.9415440651830208,
     0.9039892931234433,   0.8577286100002721,   0.8032075314806449,   0.7409511253549591,
     0.6715589548470183,   0.5956993044924335,   0.5141027441932217,   0.4275550934302822,
     0.33688985339222005,  0.24298017990326398,  0.14673047445536175,  0.049067674327418126,
     -0.04906767432741801, -0.14673047445536164, -0.24298017990326387, -0.33688985339221994,
     -0.42755509343028186, -0.5141027441932217,  -0.5956993044924334,  -0.6715589548470184,
     -0.7409511253549589,  -0.8032075314806448,  -0.857728610000272,   -0.9039892931234433,
     -0.9415440651830207,  -0.970031253194544,   -0.989176509964781,   -0.9987954562051724},
};

/* The flux through the circle of a field whose divergence is the piece's density,
 *
 *     P = 1/pi  integral over half a turn of  (1 - exp(-d^2 / 2 sd^2)) R (R - a cos phi) / d^2,  d^2 = R^2 + a^2 - 2 a R cos phi
 *
 * smooth and periodic, so that equal steps converge faster than any power: with n of them to about exp(-2 n^2 / k), k = a R / sd^2. */
static double flux(double a, double sd, double R, int n, const double *cosine) {
    double sum = 0;
    for (int i = 0; i < n; i++) {
        double d2 = R * R + a * a - 2 * a * R * cosine[i], t = d2 / (2 * sd * sd);
        double part = t > 1e-9 ? (1 - bf_exp(-t)) / d2 : 1 / (2 * sd * sd);
        sum += part * R * (R - a * cosine[i]);
    }
    return sum / n;
}

double bf_wander_within(double off_m, double sd_m, double radius_m) {
    double inside = radius_m - off_m;
    if (fabs(inside) >= CERTAIN * sd_m) return inside > 0 || (inside == 0 && sd_m == 0);
    double k = off_m * radius_m / (sd_m * sd_m);
    for (int i = 0; i < 3; i++) {
        int n = 8 << i;
        if (k * 5.5 <= n * n) return flux(off_m, sd_m, radius_m, n, cosines[i]);
    }
    return bf_normal_cdf(inside / sd_m - sd_m / (2 * off_m)); /* the edge is all but straight */
}
