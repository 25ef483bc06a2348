#include "base/str.h"

#include <stdlib.h>
#include <string.h>

enum { WORD_MAX = 64 }; /* longest word that takes part in edit distances */

struct str str_of(const char *text) {
    return (struct str){text, strlen(text)};
}

bool str_equal(struct str a, struct str b) {
    return a.size == b.size && (a.size == 0 || memcmp(a.data, b.data, a.size) == 0);
}

bool str_is(struct str a, const char *text) {
    return str_equal(a, str_of(text));
}

static char lower(char c) {
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

bool str_is_any_case(struct str a, const char *text) {
    size_t i = 0;
    while (i < a.size && text[i] && lower(a.data[i]) == lower(text[i])) i++;
    return i == a.size && text[i] == '\0';
}

int str_compare(struct str a, struct str b) {
    size_t common = a.size < b.size ? a.size : b.size;
    int order = common ? memcmp(a.data, b.data, common) : 0;
    return order ? order : (a.size > b.size) - (a.size < b.size);
}

static bool is_blank(char c) {
    return c == ' ' || c == '\t';
}

struct str str_trim(struct str text) {
    while (text.size && is_blank(text.data[0])) {
        text.data++;
        text.size--;
    }
    while (text.size && is_blank(text.data[text.size - 1])) text.size--;
    return text;
}

static int minimum(int a, int b) {
    return a < b ? a : b;
}

/* Three rows of the table of distances between the prefixes of a and b are enough: the row of this
 * prefix of a, the one before, and the one before that for a swap of neighbours. */
int str_distance(struct str a, struct str b, int most) {
    if (a.size > WORD_MAX || b.size > WORD_MAX) return str_equal(a, b) ? 0 : most + 1;
    int m = (int)a.size, n = (int)b.size;
    if (abs(m - n) > most) return most + 1;
    int rows[3][WORD_MAX + 1];
    int *before = rows[0], *last = rows[1], *row = rows[2];
    for (int j = 0; j <= n; j++) last[j] = j;
    for (int i = 1; i <= m; i++) {
        int best = row[0] = i;
        for (int j = 1; j <= n; j++) {
            bool same = a.data[i - 1] == b.data[j - 1];
            row[j] = minimum(minimum(last[j], row[j - 1]) + 1, last[j - 1] + !same);
            bool swap =
                i > 1 && j > 1 && a.data[i - 1] == b.data[j - 2] && a.data[i - 2] == b.data[j - 1];
            if (swap) row[j] = minimum(row[j], before[j - 2] + 1);
            best = minimum(best, row[j]);
        }
        if (best > most) return most + 1;
        int *free_row = before;
        before = last, last = row, row = free_row;
    }
    return minimum(last[n], most + 1);
}

/* Copies at most WORD_MAX bytes in lower case; longer words are given back as they are. */
static struct str lower_copy(struct str word, char *copy) {
    if (word.size > WORD_MAX) return word;
    for (size_t i = 0; i < word.size; i++) copy[i] = lower(word.data[i]);
    return (struct str){copy, word.size};
}

const char *str_nearest(struct str word, const char *const *names, size_t count) {
    char word_copy[WORD_MAX], name_copy[WORD_MAX];
    const char *nearest = NULL;
    int most = word.size < 9 ? 2 : (int)(minimum((int)word.size, WORD_MAX) / 3);
    word = lower_copy(word, word_copy);
    for (size_t i = 0; i < count; i++) {
        struct str name = lower_copy(str_of(names[i]), name_copy);
        int longest = (int)(word.size > name.size ? word.size : name.size);
        int distance = str_distance(word, name, minimum(most, longest - 1));
        if (distance > minimum(most, longest - 1)) continue;
        nearest = names[i];
        if (distance == 0) break;
        most = distance - 1;
    }
    return nearest;
}
