/* The place where a function changes its sign. */
#ifndef PLUGWRIGHT_RUNNING_ROOT_H
#define PLUGWRIGHT_RUNNING_ROOT_H

struct bracket {
    double low, high;       /* places */
    double at_low, at_high; /* values there, of different signs; may be infinite */
};

/* Narrows a bracket to `width`, by false position with the Illinois rule (Dowell and Jarratt 1971,
 * BIT 11, 168-174), and returns a place in it.  The function is asked within the bracket alone:
 * less than ten times as a rule, never more than 200 times. */
double root_between(struct bracket bracket, double width,
                    double (*function)(const void *context, double at), const void *context);

/* The place between `low` and `high` that halving leads to, below a middle where the function is
 * above 0, above it elsewhere: where it rises through 0, or an end. */
double root_rising(double low, double high, double width,
                   double (*function)(const void *context, double at), const void *context);

#endif
