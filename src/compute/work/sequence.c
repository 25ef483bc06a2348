#include "compute/work/sequence.h"

#include <stdint.h>

enum { WORD_BITS = 64 };

/* Row i of `next` has a bit for every direct follower of i, row i of `reach` for every thing after
 * i. */
struct sequence {
    int count, words;
    uint64_t *next, *reach;
};

struct sequence *sequence_new(struct arena *arena, int count) {
    struct sequence *sequence = NEW(arena, struct sequence, 1);
    sequence->count = count;
    sequence->words = (count + WORD_BITS - 1) / WORD_BITS;
    sequence->next = arena_array(arena, (size_t)count, (size_t)sequence->words * sizeof(uint64_t));
    sequence->reach = arena_array(arena, (size_t)count, (size_t)sequence->words * sizeof(uint64_t));
    return sequence;
}

static uint64_t *row_of(const struct sequence *sequence, uint64_t *rows, int i) {
    return rows + (size_t)i * (size_t)sequence->words;
}

static bool bit_at(const uint64_t *row, int i) {
    return row[i / WORD_BITS] >> (i % WORD_BITS) & 1;
}

static void set_bit(uint64_t *row, int i) {
    row[i / WORD_BITS] |= (uint64_t)1 << (i % WORD_BITS);
}

bool sequence_linked(const struct sequence *sequence, int before, int after) {
    return bit_at(row_of(sequence, sequence->next, before), after);
}

bool sequence_holds(const struct sequence *sequence, int before, int after) {
    return bit_at(row_of(sequence, sequence->reach, before), after);
}

/* `i` now comes before `after`, and before all that `after` comes before. */
static void extend_reach(struct sequence *sequence, int i, int after) {
    uint64_t *row = row_of(sequence, sequence->reach, i);
    const uint64_t *more = row_of(sequence, sequence->reach, after);
    for (int w = 0; w < sequence->words; w++) row[w] |= more[w];
    set_bit(row, after);
}

bool sequence_add(struct sequence *sequence, int before, int after) {
    if (before == after || sequence_holds(sequence, after, before)) return false;
    set_bit(row_of(sequence, sequence->next, before), after);
    if (sequence_holds(sequence, before, after)) return true;
    for (int i = 0; i < sequence->count; i++)
        if (i == before || sequence_holds(sequence, i, before)) extend_reach(sequence, i, after);
    return true;
}

bool sequence_implied(const struct sequence *sequence, int before, int after, const bool *ignored) {
    for (int i = 0; i < sequence->count; i++)
        if (i != after && !ignored[i] && sequence_linked(sequence, before, i) &&
            sequence_holds(sequence, i, after))
            return true;
    return false;
}

/* Puts all direct followers of `at` that were not seen yet into the queue. */
static int queue_followers(const struct sequence *sequence, int at, uint64_t *seen, int *parent,
                           int *queue, int tail) {
    const uint64_t *next = row_of(sequence, sequence->next, at);
    for (int w = 0; w < sequence->words; w++) {
        uint64_t fresh = next[w] & ~seen[w];
        seen[w] |= fresh;
        for (int i = w * WORD_BITS; fresh; i++, fresh >>= 1) {
            if (!(fresh & 1)) continue;
            parent[i] = at;
            queue[tail++] = i;
        }
    }
    return tail;
}

/* Breadth first; `parent` remembers the way. */
int sequence_chain(struct arena *arena, const struct sequence *sequence, int from, int to,
                   int *chain) {
    uint64_t *seen = NEW(arena, uint64_t, sequence->words);
    int *parent = NEW(arena, int, sequence->count);
    int *queue = NEW(arena, int, sequence->count);
    int head = 0, tail = 0;
    queue[tail++] = from;
    while (head < tail && !bit_at(seen, to))
        tail = queue_followers(sequence, queue[head++], seen, parent, queue, tail);
    if (!bit_at(seen, to)) return 0;
    int length = 1;
    for (int i = to; i != from; i = parent[i]) length++;
    for (int i = to, at = length; at > 0; i = parent[i]) chain[--at] = i;
    return length;
}

void sequence_sort(struct arena *arena, const struct sequence *sequence, const double *key,
                   int *sorted) {
    int count = sequence->count;
    int *waits_for = NEW(arena, int, count);
    for (int i = 0; i < count; i++)
        for (int j = 0; j < count; j++) waits_for[j] += sequence_linked(sequence, i, j);
    for (int place = 0; place < count; place++) {
        int best = -1;
        for (int i = 0; i < count; i++)
            if (waits_for[i] == 0 && (best < 0 || key[i] < key[best])) best = i;
        sorted[place] = best; /* there is one, since no loop was let in */
        waits_for[best] = -1;
        for (int j = 0; j < count; j++) waits_for[j] -= sequence_linked(sequence, best, j);
    }
}
