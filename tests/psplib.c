#include "psplib.h"

/* A file has headed sections.  What is read: the numbers behind "jobs" and "- renewable", then the
 * rows under "PRECEDENCE RELATIONS" (job, modes, successors, each successor), "REQUESTS/DURATIONS"
 * (job, mode, duration, demands) and "RESOURCEAVAILABILITIES".  Jobs count from 1.
 */

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LINE_BYTES = 1024, MOST_JOBS = 1000, NUMBERS = 128 };

struct reader {
    FILE *file;
    char line[LINE_BYTES];
    long number[NUMBERS]; /* of the row read last */
};

/* Goes on to the line that begins with `head`. */
static bool find_line(struct reader *r, const char *head) {
    while (fgets(r->line, sizeof r->line, r->file))
        if (strncmp(r->line, head, strlen(head)) == 0) return true;
    return false;
}

static long number_behind_colon(const struct reader *r) {
    const char *colon = strchr(r->line, ':');
    return colon ? strtol(colon + 1, NULL, 10) : -1;
}

/* Reads the next line as numbers; returns how many there are. */
static int read_row(struct reader *r) {
    if (!fgets(r->line, sizeof r->line, r->file)) return 0;
    int count = 0;
    char *rest = r->line;
    while (count < NUMBERS) {
        char *end;
        long number = strtol(rest, &end, 10);
        if (end == rest) break;
        r->number[count++] = number;
        rest = end;
    }
    return count;
}

/* Goes on past the next line, which heads columns or is a rule. */
static void skip_line(struct reader *r) {
    if (!fgets(r->line, sizeof r->line, r->file)) r->line[0] = '\0';
}

static bool read_links(struct arena *arena, struct reader *r, struct project *project) {
    if (!find_line(r, "PRECEDENCE RELATIONS")) return false;
    skip_line(r);
    struct activity_link *links = NEW(arena, struct activity_link, project->count * NUMBERS);
    for (int i = 0; i < project->count; i++) {
        int count = read_row(r);
        if (count < 3 || r->number[0] != i + 1 || r->number[1] != 1 || r->number[2] != count - 3)
            return false;
        for (int k = 3; k < count; k++) {
            if (r->number[k] < 1 || r->number[k] > project->count) return false;
            links[project->link_count++] = (struct activity_link){i, (int)r->number[k] - 1, -1};
        }
    }
    project->links = links;
    return true;
}

static bool read_activities(struct arena *arena, struct reader *r, struct project *project) {
    if (!find_line(r, "REQUESTS/DURATIONS")) return false;
    skip_line(r);
    skip_line(r);
    struct activity *activities = NEW(arena, struct activity, project->count);
    for (int i = 0; i < project->count; i++) {
        if (read_row(r) != 3 + project->resources || r->number[0] != i + 1) return false;
        activities[i].first = r->number[2];
        activities[i].pieces = 1;
        for (int k = 0; k < project->resources; k++) activities[i].work[k] = (int)r->number[3 + k];
    }
    project->activities = activities;
    return true;
}

static bool read_capacities(struct reader *r, struct project *project) {
    if (!find_line(r, "RESOURCEAVAILABILITIES")) return false;
    skip_line(r);
    if (read_row(r) != project->resources) return false;
    for (int k = 0; k < project->resources; k++) project->capacity[k] = (int)r->number[k];
    return true;
}

static bool read_project(struct arena *arena, struct reader *r, struct project *project) {
    *project = (struct project){0};
    if (!find_line(r, "jobs")) return false;
    long count = number_behind_colon(r);
    if (count < 1 || count > MOST_JOBS || !find_line(r, "  - renewable")) return false;
    long resources = number_behind_colon(r);
    if (resources < 0 || resources > SCHEDULE_MAX_RESOURCES) return false;
    project->count = (int)count;
    project->resources = (int)resources;
    return read_links(arena, r, project) && read_activities(arena, r, project) &&
           read_capacities(r, project);
}

bool psplib_read(struct arena *arena, const char *path, struct project *project) {
    struct reader r = {.file = fopen(path, "r")};
    if (!r.file) {
        perror(path);
        return false;
    }
    bool sound = read_project(arena, &r, project);
    if (!sound) fprintf(stderr, "%s: not an instance that this program reads\n", path);
    fclose(r.file);
    return sound;
}

long psplib_optimum(const char *table_path, const char *problem) {
    struct reader r = {.file = fopen(table_path, "r")};
    if (!r.file) return -1;
    size_t size = strlen(problem);
    long optimum = -1;
    while (optimum < 0 && fgets(r.line, sizeof r.line, r.file))
        if (strncmp(r.line, problem, size) == 0 && r.line[size] == ',')
            optimum = strtol(r.line + size + 1, NULL, 10);
    fclose(r.file);
    return optimum;
}
