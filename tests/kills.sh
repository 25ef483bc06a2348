#!/bin/bash
# Whenever a run is killed, the order's folder is wholly the former one or the new one, and the next
# run clears what is left.  The same of two runs at once, and of tools that fail at length.  KILLS
# runs are killed, each at a time by chance; with TORTURE some print by the real tools.
. "$(dirname "$0")/shared.sh"
. "$(dirname "$0")/generations.sh"
cd "$scratch" || exit 2
RANDOM=1
kills=${KILLS:-24}
mkdir tmp
export TMPDIR=$scratch/tmp

# lasts ARGUMENT...: how long a run takes, in microseconds.
lasts() {
    local start=${EPOCHREALTIME/[.,]/}
    "$program" "$@" >/dev/null 2>&1 </dev/null
    echo $((${EPOCHREALTIME/[.,]/} - start))
}

# killed WITHIN ARGUMENT...: at a time by chance within so many microseconds.
killed() {
    local after=$((RANDOM * 32768 + RANDOM))
    after=$((after % $1))
    shift
    rm -rf out && cp -a former out
    { # the shell's own words of a kill are not wanted
        "$program" "$@" >/dev/null 2>&1 </dev/null &
        sleep "$(printf '%d.%06d' $((after / 1000000)) $((after % 1000000)))"
        kill -KILL $! && lost=$((lost + 1))
        wait $!
    } 2>/dev/null
    one_generation || return
    if stands new; then late=$((late + 1)); fi
    next_run_clears "$@"
}

# kill_each COUNT ARGUMENT...
kill_each() {
    local count=$1 time i
    shift
    lost=0 late=0
    time=$(lasts "$@")
    for ((i = 0; i < count; i++)); do
        it "kill $i of $count leaves one generation: $*" killed $((time * 11 / 10)) "$@"
    done
    echo "kills: $lost of $count runs were killed before their end, $late after the exchange: $*"
}

place=grebe
first_recipe
generations order -o out grebe.yaml
kill_each "$kills" order -o out grebe.yaml

if [ -n "${TORTURE:-}" ]; then
    first_recipe
    generations order --pdf -o out grebe.yaml
    kill_each $((kills / 10)) order --pdf -o out grebe.yaml
fi
first_recipe
stand_ins 'sleep 0.02'
generations order --pdf -o out grebe.yaml
kill_each $((kills / 2)) order --pdf -o out grebe.yaml
it "a run more" gives 0 order --pdf -o out grebe.yaml
it "nothing is left in TMPDIR" [ -z "$(ls -A tmp)" ]

# --- two at once ----------------------------------------------------------------------------------

# at_once: the older and the newer recipe, written to one place by two runs at once; whoever is
# last has it wholly.
at_once() {
    local first second
    rm -rf out && cp -a former out
    "$program" order --force -o out grebe.yaml >/dev/null 2>&1 </dev/null &
    first=$!
    "$program" order --force -o out other/grebe.yaml >/dev/null 2>&1 </dev/null &
    second=$!
    wait $first || return
    wait $second || return
    rm -rf stands && cp -a out/grebe stands
    stands new || stands second || { echo "mixed" && return 1; }
    next_run_clears order --force -o out grebe.yaml
}
mkdir other
cp kept.yaml other/grebe.yaml
rm -rf former new
"$program" order -o new grebe.yaml >/dev/null 2>&1
"$program" order -o former other/grebe.yaml >/dev/null 2>&1
cp -a former second
for ((i = 0; i < kills / 2; i++)); do it "two runs at once leave one of them" at_once; done

# --- tools ----------------------------------------------------------------------------------------

# fails_so: the order is there without its sheet, and little is said.
fails_so() {
    rm -rf out && cp -a former out
    gives 2 order --pdf -o out grebe.yaml || return
    says 'error: ' && [ "$(wc -c <"$scratch/said")" -lt 8192 ] || return
    [ -s out/grebe/grebe.md ] && [ ! -e out/grebe/grebe.pdf ]
}
stand_ins "yes 'it does not work' | head -c 1048576 >&2; exit 1"
it "a megabyte of errors is cut" fails_so
stand_ins "yes | tr -d '\\n' | head -c 1048576; exit 1"
it "also on one line" fails_so
stand_ins "printf '\\033[31m\\377\\000' >&2; exit 3"
it "also where it is no text" fails_so
stand_ins 'kill -KILL $$'
it "a tool that is killed is told of" fails_so
stand_ins 'exit 0'
it "so is one that makes nothing" fails_so
# shellcheck disable=SC2016 # for the stand-in
stand_ins 'mkdir "$file"; exit 0'
it "or a folder" fails_so
# shellcheck disable=SC2016
stand_ins 'mkfifo "$file"; exit 0'
it "or a pipe" fails_so
# shellcheck disable=SC2016
stand_ins 'ln -s /etc/passwd "$file"; exit 0'
it "or a link" fails_so
it "nothing is left in TMPDIR" [ -z "$(ls -A tmp)" ]

finish
