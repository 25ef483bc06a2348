/* Density of water at one atmosphere: UNESCO Technical Papers in Marine Science 44 (1983), EOS-80
 * (docs/physics.md, 5.1).
 */
#ifndef PLUGWRIGHT_FLOAT_WATER_H
#define PLUGWRIGHT_FLOAT_WATER_H

/* kg/m3; temperature in degC (taken as IPTS-68), practical salinity.  Valid 0..40 degC, 0..42. */
double water_density(double temperature, double salinity);

#endif
