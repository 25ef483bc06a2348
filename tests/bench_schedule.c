/* Measures the scheduler.
 *
 *   bench_schedule DIR [NODES]   every `.sm` file of a folder, beside the known optimum makespans
 * in its optimum.csv; without NODES with four times what a run gets bench_schedule runs of 1 to 500
 * made-up plugs, as a recipe would get them
 *
 * Every schedule is judged by validate_schedule; the exit status is 1 when one is not sound, beats
 * a known optimum, or is longer than serial generation by latest finish time.
 */
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "psplib.h"
#include "validate_schedule.h"
#include "workshop.h"

static double seconds(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* One project solved and timed. */
struct measure {
    struct schedule best, serial;
    double seconds;
    const char *fault;
};

static struct measure measure(struct arena *arena, const struct project *project, long nodes) {
    struct measure m = {.serial = schedule_serial(arena, project)};
    double begin = seconds();
    m.best = schedule_solve(arena, project, nodes);
    m.seconds = seconds() - begin;
    m.fault = m.best.feasible ? validate_schedule(project, &m.best) : "no schedule found";
    return m;
}

/* --- published instances --------------------------------------------------------------------- */

struct total {
    int count, known, optimal, proved, worse, faults;
    double gap, worst_gap, seconds, slowest;
};

static void add_up(struct total *total, const struct measure *m, long optimum) {
    total->count++;
    total->proved += m->best.optimal;
    total->worse += m->serial.feasible && m->best.makespan > m->serial.makespan;
    total->faults += m->fault != NULL;
    total->seconds += m->seconds;
    if (m->seconds > total->slowest) total->slowest = m->seconds;
    if (optimum <= 0) return;
    double gap = (double)(m->best.makespan - optimum) / (double)optimum;
    total->known++;
    total->optimal += m->best.makespan == optimum;
    total->faults += m->best.makespan < optimum || m->best.lower_bound > optimum;
    total->gap += gap;
    if (gap > total->worst_gap) total->worst_gap = gap;
}

static void print_instance(const char *name, const struct measure *m, long optimum) {
    double gap = optimum > 0 ? 100.0 * (double)(m->best.makespan - optimum) / (double)optimum : 0;
    printf(
        "%-14s %6ld  known %4ld  gap %5.2f %%  bound %4ld  serial %4ld  nodes %8ld  %8.2f ms%s\n",
        name, (long)m->best.makespan, optimum, gap, (long)m->best.lower_bound,
        (long)m->serial.makespan, m->best.nodes, 1e3 * m->seconds,
        m->best.optimal ? "  proved" : "");
    if (m->fault) printf("%-14s %s\n", name, m->fault);
}

static void print_total(const struct total *t, long nodes) {
    printf("%d instances, at most %ld nodes each: %d of %d optimal, %d proved\n", t->count, nodes,
           t->optimal, t->known, t->proved);
    printf("average gap %.3f %%, worst gap %.2f %%, total time %.2f s, slowest %.2f s\n",
           t->known ? 100 * t->gap / t->known : 0.0, 100 * t->worst_gap, t->seconds, t->slowest);
    if (t->worse)
        printf("%d WORSE THAN SERIAL GENERATION\n", t->worse);
    else
        puts("none is worse than serial generation");
    if (t->faults) printf("%d FAULTS\n", t->faults);
}

static int is_instance(const struct dirent *entry) {
    size_t size = strlen(entry->d_name);
    return size > 3 && strcmp(entry->d_name + size - 3, ".sm") == 0;
}

static int measure_folder(const char *folder, long nodes) {
    struct dirent **entries;
    int count = scandir(folder, &entries, is_instance, alphasort);
    if (count <= 0) {
        fprintf(stderr, "%s: no .sm files\n", folder);
        return 2;
    }
    struct total total = {0};
    for (int k = 0; k < count; k++) {
        struct arena arena = {0};
        struct project project;
        const char *name = entries[k]->d_name;
        if (psplib_read(&arena, arena_printf(&arena, "%s/%s", folder, name), &project)) {
            long optimum = psplib_optimum(arena_printf(&arena, "%s/optimum.csv", folder), name);
            struct measure m = measure(&arena, &project, nodes);
            print_instance(name, &m, optimum);
            add_up(&total, &m, optimum);
        } else {
            total.faults++;
        }
        arena_free(&arena);
        free(entries[k]);
    }
    free(entries);
    print_total(&total, nodes);
    return total.worse || total.faults;
}

/* --- runs ------------------------------------------------------------------------------------ */

static bool measure_run(int make, int topcoats, bool evenings) {
    struct arena arena = {0};
    const struct workshop shop = {make, 6, 4, topcoats, evenings};
    struct project project = workshop_project(&arena, &shop);
    struct measure m = measure(&arena, &project, SCHEDULE_NODE_LIMIT);
    const struct schedule *s = &m.best;
    printf("make %3d  topcoats %d  %-8s  activities %3d  %8.1f h  bound %8.1f h  gap %5.2f %%  "
           "nodes %7ld  %8.2f ms  %s\n",
           make, topcoats, evenings ? "evenings" : "always", project.count,
           (double)s->makespan / HOUR, (double)s->lower_bound / HOUR,
           100 * (double)(s->makespan - s->lower_bound) / (double)s->lower_bound, s->nodes,
           1e3 * m.seconds,
           m.fault      ? m.fault
           : s->optimal ? "proved"
                        : "");
    bool sound = !m.fault && s->makespan <= m.serial.makespan;
    arena_free(&arena);
    return sound;
}

static int measure_runs(void) {
    static const int make[] = {1, 6, 12, 40, 100, 500};
    bool sound = true;
    for (int evenings = 0; evenings < 2; evenings++)
        for (size_t k = 0; k < sizeof make / sizeof *make; k++)
            for (int topcoats = 2; topcoats <= 4; topcoats++)
                sound = measure_run(make[k], topcoats, evenings) && sound;
    return !sound;
}

int main(int argc, char **argv) {
    if (argc < 2) return measure_runs();
    long nodes = argc > 2 ? strtol(argv[2], NULL, 10) : 4L * SCHEDULE_NODE_LIMIT;
    return measure_folder(argv[1], nodes);
}
