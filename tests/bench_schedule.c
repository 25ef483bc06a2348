/* Measures the scheduler against published instances: bench_schedule DIR reads every `.sm` file of
 * a folder and the known optimum makespans in its optimum.csv. */
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "psplib.h"

static double seconds(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}
static int sm(const struct dirent *d) {
    size_t n = strlen(d->d_name);
    return n > 3 && !strcmp(d->d_name + n - 3, ".sm");
}

int main(int argc, char **argv) {
    if (argc < 2) return 2;
    struct dirent **names;
    int n = scandir(argv[1], &names, sm, alphasort);
    long limit = argc > 2 ? atol(argv[2]) : 1000000;
    double total = 0, gap = 0, worst = 0, tmax = 0;
    int opt = 0, proved = 0;
    for (int k = 0; k < n; k++) {
        char path[4096], csv[4096];
        snprintf(path, sizeof path, "%s/%s", argv[1], names[k]->d_name);
        snprintf(csv, sizeof csv, "%s/optimum.csv", argv[1]);
        struct arena arena = {0};
        struct project p;
        if (!psplib_read(&arena, path, &p)) return 1;
        long best = psplib_optimum(csv, names[k]->d_name);
        struct schedule serial = schedule_serial(&arena, &p);
        double t = seconds();
        struct schedule s = schedule_solve(&arena, &p, limit);
        t = seconds() - t;
        total += t;
        if (t > tmax) tmax = t;
        double g = best > 0 ? 100.0 * (double)(s.makespan - best) / (double)best : 0;
        gap += g;
        if (g > worst) worst = g;
        opt += s.makespan == best;
        proved += s.optimal;
        printf("%-14s %5ld lb %5ld known %5ld gap %6.2f %% serial %5ld nodes %9ld time %8.3f ms "
               "%s%s\n",
               names[k]->d_name, (long)s.makespan, (long)s.lower_bound, best, g,
               (long)serial.makespan, s.nodes, 1e3 * t, s.optimal ? "proved" : "",
               s.makespan > serial.makespan || (s.optimal && best > 0 && s.makespan != best) ||
                       (best > 0 && s.lower_bound > best)
                   ? " WRONG"
                   : "");
        arena_free(&arena);
    }
    printf("%d instances, %d optimal, %d proved, average gap %.3f %%, worst %.2f %%, total %.3f s, "
           "slowest %.3f s\n",
           n, opt, proved, gap / n, worst, total, tmax);
    return 0;
}
