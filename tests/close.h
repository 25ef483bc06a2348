/* Comparing doubles in tests: cmocka's own assert_float_equal casts to single precision. */
#ifndef PLUGWRIGHT_CLOSE_H
#define PLUGWRIGHT_CLOSE_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

static inline void close_check(double got, double want, double allowed, const char *file,
                               int line) {
    if (fabs(got - want) <= allowed) return;
    print_error("%.12g is not %.12g within %.3g\n", got, want, allowed);
    _fail(file, line);
}

#define assert_close(got, want, relative) \
    close_check((got), (want), fabs((double)(want)) * (relative), __FILE__, __LINE__)
#define assert_near(got, want, absolute) close_check((got), (want), (absolute), __FILE__, __LINE__)

#endif
