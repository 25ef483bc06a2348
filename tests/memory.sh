#!/bin/bash
# Memory that runs out ends the program with status 2 and nothing printed; never with an output that
# lacks something.  A small allocator before the C library's refuses one request, each in its turn.
. "$(dirname "$0")/shared.sh"
golden=$top/tests/golden
cd "$scratch" || exit 2
if ldd "$program" | grep -q libasan; then
    echo "memory: not with the address sanitizer, which has an allocator of its own"
    exit 0
fi

cc -shared -fPIC -x c -o refuse.so - <<'END' || exit 2
#include <stdlib.h>
#include <unistd.h>
void *__libc_malloc(size_t);
void *__libc_calloc(size_t, size_t);
void *__libc_realloc(void *, size_t);
static long calls, refused = -1;
static int refuse(void) {
    if (refused < 0) refused = getenv("REFUSE") ? atol(getenv("REFUSE")) : 0;
    return ++calls == refused;
}
void *malloc(size_t n) { return refuse() ? NULL : __libc_malloc(n); }
void *calloc(size_t n, size_t s) { return refuse() ? NULL : __libc_calloc(n, s); }
void *realloc(void *p, size_t n) { return refuse() ? NULL : __libc_realloc(p, n); }
__attribute__((destructor)) static void tell(void) {
    char digits[24], *at = digits + sizeof digits;
    if (!getenv("COUNT")) return;
    do *--at = (char)('0' + calls % 10); while (calls /= 10);
    (void)!write(3, at, (size_t)(digits + sizeof digits - at));
}
END

# refused NUMBER ARGUMENT...: the program without its NUMBERth request ends as it should.
refused() {
    local number=$1 status
    shift
    REFUSE=$number LD_PRELOAD=$scratch/refuse.so "$program" "$@" >got 2>said </dev/null
    status=$?
    if [ $status = 2 ] && [ ! -s got ] && grep -q 'out of memory' said; then
        passed=$((passed + 1))
    elif [ $status = "$due" ] && cmp -s whole got; then
        spared=$((spared + 1)) # somebody could do without
    else
        failed=$((failed + 1))
        echo "not so: request $number of $*: status $status, $(wc -c <got) of $(wc -c <whole) bytes"
    fi
}

# each ARGUMENT...: about 120 requests, from the first to the last.
each() {
    local count spared=0 before=$passed
    COUNT=1 LD_PRELOAD=$scratch/refuse.so "$program" "$@" >whole 2>said 3>count </dev/null
    due=$?
    count=$(cat count)
    for ((number = 1; number <= count; number += 1 + count / 120)); do refused "$number" "$@"; done
    if [ $spared -gt $((passed - before)) ]; then
        failed=$((failed + 1)) && echo "not so: requests of $* are needed ($spared are not)"
    fi
}

each weigh --json "$golden/box.yaml"
each weigh --json "$golden/rules-bores.yaml"
each diff --json "$golden/box.yaml" "$golden/inches.yaml"
each tables schema
each facts "$golden/box.yaml"
finish
