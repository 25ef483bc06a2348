/* With J the slopes of the readings of one plug at the present means, R = doubt^2 + J scatter^2 J'
 * is what they may be off together.  Plugs add J' R^-1 J to the normal equations; R = L L', so that
 * the rows of L^-1 J add up.  Gauss-Newton rounds, the first at the prediction, until the means
 * rest.
 */
#include "compute/learn/estimate.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

enum { PLUGS_FOR_SCATTER = 3, SCATTERS = 9 };

/* How far plugs may differ, in parts of what is expected. */
static const double scatters[SCATTERS] = {0.25, 0.35, 0.5, 0.7, 1, 1.4, 2, 2.8, 4};

struct solver {
    const struct learn_task *task;
    int count;
    double scatter;
    double *slopes, *residuals, *errors; /* of the plug in hand */
    double *own;                         /* scatter of each unknown in that plug */
    int *active, active_count;           /* the unknowns that bear on it, rising */
    double *normal, *right, *former;     /* former: means before a round */
    double log_determinants, squares;    /* of the readings, as they come to be expected */
};

static double part_value(const struct learn_part *part, const double *unknowns) {
    double exponent = 0;
    for (int i = 0; i < part->factor_count; i++) exponent += unknowns[part->of[i].unknown];
    return part->amount * exp(exponent);
}

double learn_predict(const struct learn_reading *reading, const double *unknowns) {
    double sum = 0;
    for (int i = 0; i < reading->part_count; i++) sum += part_value(&reading->parts[i], unknowns);
    return sum;
}

/* --- triangles ------------------------------------------------------------------------------- */

/* A = L L' in the lower triangle; the matrix must be positive definite.  The logarithm of its
 * determinant. */
static double factorise(double *a, int n) {
    double log_determinant = 0;
    for (int j = 0; j < n; j++)
        for (int i = j; i < n; i++) {
            double sum = a[i * n + j];
            for (int k = 0; k < j; k++) sum -= a[i * n + k] * a[j * n + k];
            if (i == j) log_determinant += log(sum);
            a[i * n + j] = i == j ? sqrt(sum) : sum / a[j * n + j];
        }
    return log_determinant;
}

/* x becomes L^-1 x; its elements stand `step` apart. */
static void forward(const double *l, int n, double *x, int step) {
    for (int i = 0; i < n; i++) {
        for (int k = 0; k < i; k++) x[i * step] -= l[i * n + k] * x[k * step];
        x[i * step] /= l[i * n + i];
    }
}

/* x becomes L'^-1 x. */
static void backward(const double *l, int n, double *x) {
    for (int i = n - 1; i >= 0; i--) {
        for (int k = i + 1; k < n; k++) x[i] -= l[k * n + i] * x[k];
        x[i] /= l[i * n + i];
    }
}

/* --- one plug -------------------------------------------------------------------------------- */

static void add_slopes(const struct learn_reading *reading, const double *mean, double *slopes,
                       double *own) {
    for (int i = 0; i < reading->part_count; i++) {
        const struct learn_part *part = &reading->parts[i];
        double value = part_value(part, mean);
        for (int k = 0; k < part->factor_count; k++) {
            slopes[part->of[k].unknown] += value;
            own[part->of[k].unknown] = part->of[k].scatter;
        }
    }
}

double learn_slopes(const struct learn_task *task, const struct learn_reading *reading,
                    const double *unknowns, double scatter, double *slopes) {
    double variance = 0;
    memset(slopes, 0, sizeof *slopes * (size_t)task->count);
    for (int i = 0; i < reading->part_count; i++) {
        const struct learn_part *part = &reading->parts[i];
        for (int k = 0; k < part->factor_count; k++)
            slopes[part->of[k].unknown] += part_value(part, unknowns);
    }
    for (int i = 0; i < reading->part_count; i++) {
        const struct learn_part *part = &reading->parts[i];
        for (int k = 0; k < part->factor_count; k++) {
            double *slope = &slopes[part->of[k].unknown];
            bool counted = false; /* an unknown of several parts once */
            for (int b = 0; b < i && !counted; b++)
                for (int f = 0; f < reading->parts[b].factor_count; f++)
                    counted |= reading->parts[b].of[f].unknown == part->of[k].unknown;
            if (!counted) variance += pow(*slope * scatter * part->of[k].scatter, 2);
        }
    }
    return variance;
}

/* Slopes of a reading, and what it says the unknowns should explain, measured from their prior. */
static void linearise(struct solver *s, int row, const struct learn_reading *reading,
                      const double *mean) {
    double *slopes = s->slopes + (size_t)row * (size_t)s->count;
    memset(slopes, 0, sizeof *slopes * (size_t)s->count);
    add_slopes(reading, mean, slopes, s->own);
    s->residuals[row] = reading->value - learn_predict(reading, mean);
    for (int j = 0; j < s->count; j++) s->residuals[row] += slopes[j] * mean[j];
}

/* Of many unknowns a plug has few. */
static void note_active(struct solver *s, int rows) {
    s->active_count = 0;
    for (int j = 0; j < s->count; j++)
        for (int r = 0; r < rows; r++)
            if (s->slopes[r * s->count + j] != 0) {
                s->active[s->active_count++] = j;
                break;
            }
}

/* What the readings of one plug may be off together. */
static void fill_errors(struct solver *s, const struct learn_reading *readings, int rows) {
    int n = s->count;
    for (int a = 0; a < rows; a++)
        for (int b = 0; b <= a; b++) {
            double sum = a == b ? readings[a].doubt * readings[a].doubt : 0;
            for (int i = 0; i < s->active_count; i++) {
                int j = s->active[i];
                sum += s->slopes[a * n + j] * s->slopes[b * n + j] * s->scatter * s->scatter *
                       s->own[j] * s->own[j];
            }
            s->errors[a * rows + b] = sum;
        }
}

/* Slopes and residuals of a plug, scaled so that their errors are 1 each and independent. */
static void take_plug(struct solver *s, const struct learn_reading *readings, int rows,
                      const double *mean) {
    int n = s->count;
    memset(s->own, 0, sizeof *s->own * (size_t)n);
    for (int i = 0; i < rows; i++) linearise(s, i, &readings[i], mean);
    note_active(s, rows);
    fill_errors(s, readings, rows);
    s->log_determinants += factorise(s->errors, rows);
    for (int i = 0; i < s->active_count; i++) forward(s->errors, rows, s->slopes + s->active[i], n);
    forward(s->errors, rows, s->residuals, 1);
}

/* Adds what a plug tells to the normal equations; `sign` -1 takes it away again. */
static void add_plug(struct solver *s, const struct learn_reading *readings, int rows,
                     const double *mean, double sign) {
    int n = s->count;
    take_plug(s, readings, rows, mean);
    for (int r = 0; r < rows; r++) {
        s->squares += s->residuals[r] * s->residuals[r];
        for (int a = 0; a < s->active_count; a++) {
            int i = s->active[a];
            double slope = sign * s->slopes[r * n + i];
            s->right[i] += slope * s->residuals[r];
            for (int b = 0; b <= a; b++) {
                int j = s->active[b];
                s->normal[i * n + j] += slope * s->slopes[r * n + j];
            }
        }
    }
}

/* How many readings of the plug that begins here. */
static int plug_rows(const struct learn_task *task, int first) {
    int rows = 1;
    while (first + rows < task->reading_count &&
           task->readings[first + rows].plug == task->readings[first].plug)
        rows++;
    return rows;
}

/* --- all plugs ------------------------------------------------------------------------------- */

/* The normal equations at `mean`. */
static void set_up(struct solver *s, const double *mean) {
    int n = s->count;
    memset(s->normal, 0, sizeof *s->normal * (size_t)n * (size_t)n);
    memset(s->right, 0, sizeof *s->right * (size_t)n);
    s->log_determinants = s->squares = 0;
    for (int i = 0; i < n; i++) s->normal[i * n + i] = 1 / pow(s->task->prior[i], 2);
    for (int i = 0, rows; i < s->task->reading_count; i += rows) {
        rows = plug_rows(s->task, i);
        add_plug(s, &s->task->readings[i], rows, mean, 1);
    }
}

/* One round; twice the logarithm of how likely the readings are, but for a constant: with the
 * unknowns integrated out, this is the restricted likelihood. */
static double improve(struct solver *s, double *mean) {
    int n = s->count;
    set_up(s, mean);
    double likelihood = -s->log_determinants - s->squares - factorise(s->normal, n);
    forward(s->normal, n, s->right, 1);
    for (int i = 0; i < n; i++) likelihood += s->right[i] * s->right[i];
    backward(s->normal, n, s->right);
    memcpy(mean, s->right, sizeof *mean * (size_t)n);
    return likelihood;
}

/* Where a round moves the means by more than `most`, goes that far towards them.  Returns how far
 * it would have gone. */
static double rein(const double *from, double *mean, int n, double most) {
    double moved = 0;
    for (int i = 0; i < n; i++) moved = fmax(moved, fabs(mean[i] - from[i]));
    for (int i = 0; i < n && moved > most; i++)
        mean[i] = from[i] + (mean[i] - from[i]) * most / moved;
    return moved;
}

/* Rounds from `mean` on.  A reading that is several times what was computed is overshot at first.
 */
static double solve(struct solver *s, double scatter, double *mean) {
    double likelihood = 0, moved = INFINITY;
    s->scatter = scatter;
    for (int round = 0; round < LEARN_ROUNDS && moved > LEARN_AT_REST; round++) {
        memcpy(s->former, mean, sizeof *mean * (size_t)s->count);
        likelihood = improve(s, mean);
        moved = rein(s->former, mean, s->count, 1);
    }
    return likelihood;
}

static int plugs_of(const struct learn_task *task) {
    int plugs = 0;
    for (int i = 0; i < task->reading_count; i += plug_rows(task, i)) plugs++;
    return plugs;
}

/* The covariance where the solver stands. */
static void covariance_of(const struct solver *s, double *covariance) {
    int n = s->count;
    memset(covariance, 0, sizeof *covariance * (size_t)n * (size_t)n);
    for (int i = 0; i < n; i++) {
        double *column = covariance + (size_t)i * (size_t)n;
        column[i] = 1;
        forward(s->normal, n, column, 1);
        backward(s->normal, n, column);
    }
}

static double dot(const double *x, const double *y, int n) {
    double sum = 0;
    for (int i = 0; i < n; i++) sum += x[i] * y[i];
    return sum;
}

/* How likely each scatter of the grid is; of few plugs only what was expected is asked.  Returns
 * the likeliest; `means` are those of each. */
static double weigh_scatters(struct solver *s, double *means, double weights[SCATTERS]) {
    double best = 1, most = -INFINITY, sum = 0;
    bool few = plugs_of(s->task) < PLUGS_FOR_SCATTER;
    for (int i = 0; i < SCATTERS; i++) {
        double *mean = means + (ptrdiff_t)i * s->count;
        weights[i] = few ? (scatters[i] == 1 ? 0 : -INFINITY) : solve(s, scatters[i], mean);
        if (weights[i] > most) most = weights[i], best = scatters[i];
    }
    for (int i = 0; i < SCATTERS; i++) sum += weights[i] = exp((weights[i] - most) / 2);
    for (int i = 0; i < SCATTERS; i++) weights[i] /= sum;
    return best;
}

/* Means and covariance over all scatters by their weights: to trust the likeliest alone would make
 * the intervals too narrow. */
static void average(struct solver *s, const double weights[SCATTERS], double *means,
                    double *covariance, struct learn_estimate *e) {
    int n = s->count;
    for (int k = 0; k < SCATTERS; k++) {
        double *mean = means + (ptrdiff_t)k * n;
        if (weights[k] < 1e-9) continue;
        solve(s, scatters[k], mean);
        covariance_of(s, covariance);
        for (int i = 0; i < n; i++) {
            e->mean[i] += weights[k] * mean[i];
            for (int j = 0; j < n; j++)
                e->covariance[i * n + j] +=
                    weights[k] * (covariance[i * n + j] + mean[i] * mean[j]);
        }
    }
    for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++) e->covariance[i * n + j] -= e->mean[i] * e->mean[j];
}

bool learn_bears(const struct learn_reading *reading, int unknown) {
    for (int i = 0; i < reading->part_count; i++)
        for (int k = 0; k < reading->parts[i].factor_count; k++)
            if (reading->parts[i].of[k].unknown == unknown) return true;
    return false;
}

/* Readings of the plug that has most of them. */
static int most_rows(const struct learn_task *task) {
    int most = 1;
    for (int i = 0, rows; i < task->reading_count; i += rows) {
        rows = plug_rows(task, i);
        if (rows > most) most = rows;
    }
    return most;
}

static struct solver solver_of(struct arena *arena, const struct learn_task *task) {
    struct solver s = {.task = task, .count = task->count};
    int most = most_rows(task), n = task->count;
    s.slopes = NEW(arena, double, most *n);
    s.residuals = NEW(arena, double, most);
    s.errors = NEW(arena, double, most *most);
    s.own = NEW(arena, double, n);
    s.active = NEW(arena, int, n);
    s.normal = NEW(arena, double, n *n);
    s.right = NEW(arena, double, n);
    s.former = NEW(arena, double, n);
    return s;
}

struct learn_estimate learn_estimate_of(struct arena *arena, const struct learn_task *task) {
    int n = task->count;
    struct solver s = solver_of(arena, task);
    struct learn_estimate e = {.mean = NEW(arena, double, n),
                               .deviation = NEW(arena, double, n),
                               .covariance = NEW(arena, double, n *n),
                               .prior_share = NEW(arena, double, n),
                               .readings = NEW(arena, int, n)};
    double weights[SCATTERS], *means = NEW(arena, double, SCATTERS *n);
    e.scatter = weigh_scatters(&s, means, weights);
    average(&s, weights, means, NEW(arena, double, n *n), &e);
    for (int j = 0; j < n; j++) {
        double variance = e.covariance[j * n + j];
        e.deviation[j] = sqrt(variance);
        e.prior_share[j] = variance / (task->prior[j] * task->prior[j]);
        for (int i = 0; i < task->reading_count; i++)
            e.readings[j] += learn_bears(&task->readings[i], j);
    }
    return e;
}

void learn_leave_out(struct arena *arena, const struct learn_task *task,
                     const struct learn_estimate *estimate, double *means) {
    struct solver s = solver_of(arena, task);
    size_t n = (size_t)s.count;
    double *normal = NEW(arena, double, n *n), *right = NEW(arena, double, n);
    s.scatter = estimate->scatter;
    set_up(&s, estimate->mean);
    memcpy(normal, s.normal, sizeof *normal * n * n);
    memcpy(right, s.right, sizeof *right * n);
    for (int i = 0, rows; i < task->reading_count; i += rows, means += n) {
        rows = plug_rows(task, i);
        memcpy(s.normal, normal, sizeof *normal * n * n);
        memcpy(s.right, right, sizeof *right * n);
        add_plug(&s, &task->readings[i], rows, estimate->mean, -1);
        factorise(s.normal, s.count);
        forward(s.normal, s.count, s.right, 1);
        backward(s.normal, s.count, s.right);
        memcpy(means, s.right, sizeof *means * n);
    }
}

/* --- single plugs ---------------------------------------------------------------------------- */

/* Of a plug with scaled slopes W and residuals y, where the estimate has mean m and covariance V:
 * with S = 1 - W V W' the covariance without the plug is V + V W' S^-1 W V, and the mean m + V W'
 * S^-1 (W m - y) (Woodbury 1950). */
struct leaver {
    const double *covariance, *mean;
    double *root;    /* S = L L' */
    double *inverse; /* S^-1 = 1 + W (covariance without) W' */
    double *miss;    /* y - W m, then what the plug is off without taking part: S^-1 (y - W m) */
    double *pull;    /* of one unknown W V, then W (covariance without): S^-1 W V */
    double *slope;   /* of one unknown: W */
    double *errors;  /* covariance of what the plug is off, but for that unknown's own share */
};

static struct leaver leaver_of(struct arena *arena, int rows, const double *covariance,
                               const double *mean) {
    return (struct leaver){covariance,
                           mean,
                           NEW(arena, double, rows *rows),
                           NEW(arena, double, rows *rows),
                           NEW(arena, double, rows),
                           NEW(arena, double, rows),
                           NEW(arena, double, rows),
                           NEW(arena, double, rows *rows)};
}

static double spread_to(const struct solver *s, const struct leaver *l, int row, int unknown) {
    double sum = 0;
    for (int a = 0; a < s->active_count; a++)
        sum += s->slopes[row * s->count + s->active[a]] *
               l->covariance[s->active[a] * s->count + unknown];
    return sum;
}

static void solve_root(const double *root, int rows, double *x) {
    forward(root, rows, x, 1);
    backward(root, rows, x);
}

static void leave(const struct solver *s, struct leaver *l, int rows) {
    memset(l->inverse, 0, sizeof *l->inverse * (size_t)rows * (size_t)rows);
    for (int r = 0; r < rows; r++) {
        const double *slopes = s->slopes + (size_t)r * (size_t)s->count;
        l->miss[r] = s->residuals[r];
        for (int a = 0; a < s->active_count; a++)
            l->miss[r] -= slopes[s->active[a]] * l->mean[s->active[a]];
        for (int q = 0; q <= r; q++) {
            double sum = r == q;
            for (int a = 0; a < s->active_count; a++)
                sum -= s->slopes[q * s->count + s->active[a]] * spread_to(s, l, r, s->active[a]);
            l->root[r * rows + q] = sum;
        }
        l->inverse[r * rows + r] = 1;
    }
    factorise(l->root, rows);
    for (int r = 0; r < rows; r++) solve_root(l->root, rows, l->inverse + (ptrdiff_t)r * rows);
    solve_root(l->root, rows, l->miss);
}

/* What is left of the plug's misses is laid to this unknown, by least squares. */
static struct learn_claim claim_of(const struct solver *s, struct leaver *l, int rows,
                                   int unknown) {
    double variance = l->covariance[unknown * s->count + unknown], mean = l->mean[unknown];
    double precision = 0, moved = 0;
    for (int r = 0; r < rows; r++) l->slope[r] = s->slopes[r * s->count + unknown];
    for (int r = 0; r < rows; r++) l->pull[r] = spread_to(s, l, r, unknown);
    mean -= dot(l->pull, l->miss, rows);
    memcpy(l->errors, l->pull, sizeof *l->errors * (size_t)rows);
    solve_root(l->root, rows, l->pull);
    variance += dot(l->errors, l->pull, rows);
    for (int r = 0; r < rows; r++)
        for (int q = 0; q < rows; q++)
            l->errors[r * rows + q] = l->inverse[r * rows + q] - l->pull[r] * l->slope[q] -
                                      l->slope[r] * l->pull[q] +
                                      variance * l->slope[r] * l->slope[q];
    factorise(l->errors, rows);
    forward(l->errors, rows, l->slope, 1);
    memcpy(l->pull, l->miss, sizeof *l->pull * (size_t)rows);
    forward(l->errors, rows, l->pull, 1);
    precision = dot(l->slope, l->slope, rows);
    moved = dot(l->slope, l->pull, rows);
    return (struct learn_claim){
        .unknown = unknown, .mean = mean + moved / precision, .deviation = 1 / sqrt(precision)};
}

struct learn_claim *learn_claims(struct arena *arena, const struct learn_task *task,
                                 const struct learn_estimate *estimate, int *count) {
    struct solver s = solver_of(arena, task);
    int n = s.count;
    double *covariance = NEW(arena, double, n *n), *mean = NEW(arena, double, n);
    struct leaver l = leaver_of(arena, most_rows(task), covariance, mean);
    struct learn_claim *claims = NULL;
    size_t capacity = 0;
    *count = 0;
    s.scatter = estimate->scatter;
    set_up(&s, estimate->mean);
    factorise(s.normal, n);
    covariance_of(&s, covariance);
    for (int i = 0; i < n; i++) mean[i] = dot(covariance + (ptrdiff_t)i * n, s.right, n);
    for (int i = 0, rows; i < task->reading_count; i += rows) {
        rows = plug_rows(task, i);
        take_plug(&s, &task->readings[i], rows, estimate->mean);
        leave(&s, &l, rows);
        for (int a = 0; a < s.active_count; a++) {
            struct learn_claim claim = claim_of(&s, &l, rows, s.active[a]);
            if (!isfinite(claim.mean) || !isfinite(claim.deviation)) continue;
            GROW(arena, claims, *count, capacity);
            claim.plug = task->readings[i].plug;
            claims[(*count)++] = claim;
        }
    }
    return claims;
}
