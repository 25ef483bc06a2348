/* Measures the scheduler.
 *
 *   bench_schedule DIR [NODES]   every `.sm` file of a folder, beside the known optimum makespans
 * in its optimum.csv; without NODES with four times what a run gets bench_schedule runs of 1 to 500
 * made-up plugs, as a recipe would get them
 *
 * Instances of a folder are also read as several projects at once, four by four, that share their
 * resources: no schedule of them is shorter than the longest critical path, and one need not be
 * longer than the known optima one after the other.
 *
 * Every schedule is judged by validate_schedule; the exit status is 1 when one is not sound, beats
 * a known optimum, or is longer than serial generation by latest finish time.
 */
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "compute/schedule/joint.h"
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

/* --- several instances at once --------------------------------------------------------------- */

enum { TOGETHER = 4 };

/* Projects side by side, with as much of each resource as the one that has most. */
struct group {
    struct project project;
    struct job jobs[TOGETHER];
    int64_t start[TOGETHER << 8]; /* one after the other, each as solved alone */
    int64_t critical, in_turn;    /* the longest critical path; the known optima's sum */
    bool known;
};

static struct project without_limits(const struct project *project) {
    struct project own = *project;
    for (int r = 0; r < own.resources; r++) own.capacity[r] = 1 << 12;
    return own;
}

static bool add_project(struct arena *arena, struct group *g, int k, const struct project *own,
                        long optimum, long nodes) {
    struct project free_of = without_limits(own);
    struct schedule path = schedule_serial(arena, &free_of), alone;
    alone = schedule_solve(arena, own, nodes);
    int first = g->project.count;
    if (first + own->count > TOGETHER << 8 || own->resources > SCHEDULE_MAX_RESOURCES) return false;
    struct activity *activities = NEW(arena, struct activity, first + own->count);
    struct activity_link *links =
        NEW(arena, struct activity_link, g->project.link_count + own->link_count);
    for (int i = 0; i < first; i++) activities[i] = g->project.activities[i];
    for (int i = 0; i < own->count; i++) {
        activities[first + i] = own->activities[i];
        g->start[first + i] = g->in_turn + alone.start[i];
    }
    for (int i = 0; i < g->project.link_count; i++) links[i] = g->project.links[i];
    for (int i = 0; i < own->link_count; i++) {
        struct activity_link link = own->links[i];
        link.before += first, link.after += first;
        links[g->project.link_count++] = link;
    }
    for (int r = 0; r < own->resources; r++)
        if (own->capacity[r] > g->project.capacity[r]) g->project.capacity[r] = own->capacity[r];
    g->project.resources = own->resources;
    g->project.activities = activities, g->project.links = links;
    g->project.count += own->count;
    g->jobs[k] = (struct job){first, own->count, .due = -1, .least = path.makespan};
    if (path.makespan > g->critical) g->critical = path.makespan;
    g->in_turn += alone.makespan;
    g->known = g->known && alone.makespan == optimum;
    return alone.feasible;
}

static bool measure_group(struct arena *arena, const char *folder, struct dirent **entries,
                          long nodes) {
    struct group *g = NEW(arena, struct group, 1);
    g->known = true;
    for (int k = 0; k < TOGETHER; k++) {
        struct project own;
        const char *name = entries[k]->d_name;
        long optimum = psplib_optimum(arena_printf(arena, "%s/optimum.csv", folder), name);
        if (!psplib_read(arena, arena_printf(arena, "%s/%s", folder, name), &own)) return false;
        if (!add_project(arena, g, k, &own, optimum, nodes)) return false;
    }
    double begin = seconds();
    struct joint_schedule joint =
        schedule_joint(arena, &g->project, g->jobs, TOGETHER, g->start, nodes);
    double took = seconds() - begin;
    struct schedule *s = &joint.schedule;
    const char *fault = validate_schedule(&g->project, s);
    bool sound = !fault && s->makespan >= g->critical && s->makespan <= g->in_turn &&
                 s->lower_bound >= g->critical;
    printf("%-14s and %d more: %5ld  bound %4ld  critical path %4ld  in turn %5ld%s  %8.2f ms%s\n",
           entries[0]->d_name, TOGETHER - 1, (long)s->makespan, (long)s->lower_bound,
           (long)g->critical, (long)g->in_turn, g->known ? " (known optima)" : "", 1e3 * took,
           sound ? s->optimal ? "  proved" : "" : "  NOT SOUND");
    if (fault) printf("%s\n", fault);
    return sound;
}

static bool measure_groups(const char *folder, long nodes) {
    struct dirent **entries;
    int count = scandir(folder, &entries, is_instance, alphasort);
    bool sound = count > 0;
    for (int k = 0; k + TOGETHER <= count; k += TOGETHER) {
        struct arena arena = {0};
        sound = measure_group(&arena, folder, entries + k, nodes) && sound;
        arena_free(&arena);
    }
    for (int k = 0; k < count; k++) free(entries[k]);
    if (count >= 0) free(entries);
    return sound;
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
    int status = measure_folder(argv[1], nodes);
    return status ? status : !measure_groups(argv[1], nodes);
}
