/* Millero and Poisson (1981) as adopted by UNESCO (1983): the density of standard mean ocean water
 * without salt, plus A S + B S^1.5 + C S^2 with A and B polynomials in temperature.
 */
#include "compute/float/water.h"

#include <math.h>

#include "model/reference.h"

double water_density(double temperature, double salinity) {
    double t = temperature, s = salinity;
    double fresh =
        999.842594 +
        t * (6.793952e-2 +
             t * (-9.095290e-3 + t * (1.001685e-4 + t * (-1.120083e-6 + t * 6.536332e-9))));
    double a = 8.24493e-1 + t * (-4.0899e-3 + t * (7.6438e-5 + t * (-8.2467e-7 + t * 5.3875e-9)));
    double b = -5.72466e-3 + t * (1.0227e-4 - t * 1.6546e-6);
    double c = 4.8314e-4;
    return fresh + s * (a + b * sqrt(s) + c * s);
}

double water_viscosity(double temperature, double salinity) {
    double warmer = temperature - 20;
    double cool = 1301 / (998.333 + warmer * (8.1855 + 0.00585 * warmer)) - 1.30233;
    double warm = (-1.3272 * warmer - 0.001053 * warmer * warmer) / (temperature + 105);
    double fresh = warmer < 0 ? pow(10, cool) * 1e-3 : 1.002e-3 * pow(10, warm);
    return fresh * (1 + reference_fact[FACT_SALT_VISCOSITY].value * salinity);
}
