/* Water at one atmosphere; temperature in degC, practical salinity; 0..40 degC, 0..42. */
#ifndef PLUGWRIGHT_FLOAT_WATER_H
#define PLUGWRIGHT_FLOAT_WATER_H

/* kg/m3; the temperature is taken as IPTS-68.  UNESCO Technical Papers in Marine Science 44 (1983),
 * EOS-80 (docs/physics.md, 5.1). */
double water_density(double temperature, double salinity);

/* Pa s.  Fresh water: the two forms of the CRC Handbook, below and from 20 degC; the first from
 * memory, within 0.3 % of IAPWS.  What salt adds is a FACT (docs/physics.md, 15.4).
 */
double water_viscosity(double temperature, double salinity);

#endif
