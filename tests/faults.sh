#!/bin/bash
# Calls of the system that fail, one in its turn: the program ends with a known status, tells of it
# unless what it puts out is complete, and the folder of an order is wholly the former one or the new
# one.  The same where the program is killed at that call.  Of each kind of call some places are
# tried; all of them, with every error, where TORTURE is set.
. "$(dirname "$0")/shared.sh"
. "$(dirname "$0")/generations.sh"
needs git ldd
if ldd "$program" | grep -q libasan; then
    echo "faults: not with the address sanitizer, which has to come first"
    exit 0
fi
cd "$scratch" || exit 2
${CC:-cc} -shared -fPIC -o fault.so "$top/tests/fault.c" -ldl || exit 2
export FAULT_PROGRAM=${program##*/}
export GIT_CONFIG_NOSYSTEM=1 HOME=$scratch
ENOSPC=28 EIO=5 EINTR=4 EMFILE=24 EACCES=13 HALF=-1 KILLED=-9

# with_fault KIND AT ERROR ARGUMENT...: the status is left in $status.
with_fault() {
    { # the shell's own words of a kill are not wanted
        FAULT_KIND=$1 FAULT_AT=$2 FAULT_ERROR=$3 LD_PRELOAD=$scratch/fault.so "$program" "${@:4}" \
            >"$scratch/printed" 2>"$scratch/said" </dev/null
        status=$?
    } 2>/dev/null
}

# count KIND ARGUMENT...: how many calls there are of this kind.
count() {
    FAULT_COUNT=$scratch/count with_fault "$1" 0 0 "${@:2}"
    cat "$scratch/count"
}

# errors_of KIND: what may become of such a call.
errors_of() {
    case $1 in
    write) echo $ENOSPC $EIO $EINTR $HALF ;;
    read) echo $EIO $EINTR $HALF ;;
    open) echo $EMFILE $EACCES $EIO $EINTR ;;
    any) echo $KILLED ;;
    *) echo $ENOSPC $EIO $EINTR ;;
    esac
}

# each_fault CHECK KINDS ARGUMENT...: CHECK KIND AT ERROR ARGUMENT... for places of every kind.
each_fault() {
    local check=$1 kinds=$2 kind at all step turn=0 error
    shift 2
    for kind in $kinds; do
        ready
        all=$(count "$kind" "$@")
        [ -n "${TORTURE:-}" ] && step=1 || step=$((1 + (all - 1) / 6))
        for ((at = all; at >= 1; at -= step)); do
            read -r -a list <<<"$(errors_of "$kind")"
            [ -n "${TORTURE:-}" ] || list=("${list[turn++ % ${#list[@]}]}")
            for error in "${list[@]}"; do
                ready
                with_fault "$kind" "$at" "$error" "$@"
                tried=$((tried + 1))
                it "$kind $at of $all ends by $error as it should: $*" "$check" "$error" "$@"
            done
        done
    done
}
tried=0

# known ERROR: an end by itself, or by the kill that was asked for.
known() {
    [ "$status" -le 2 ] || { [ "$1" = $KILLED ] && [ "$status" = 137 ]; } ||
        { echo "exit status $status" && return 1; }
}

# --- folders --------------------------------------------------------------------------------------

first_recipe
ready() { rm -rf out && cp -a former out; }

# whole ERROR ARGUMENT...: one generation stands, the new one where all is well, and the next run
# makes it and leaves nothing else.
whole() {
    local error=$1
    shift
    known "$error" && one_generation || return
    [ "$status" != 0 ] || stands new || { echo "no error, nothing new" && return 1; }
    [ "$status" = 0 ] || [ "$error" = $KILLED ] || says 'error: ' || { echo "nothing said" && return 1; }
    next_run_clears "$@"
}

every="open write read sync rename close make remove any"
place=grebe
generations order -o out grebe.yaml
each_fault whole "$every" order -o out grebe.yaml

stand_ins ''
cp kept.yaml grebe.yaml
generations order --pdf -o out grebe.yaml
mkdir tmp
export TMPDIR=$scratch/tmp
each_fault whole "$every" order --pdf -o out grebe.yaml
"$program" order --pdf -o out grebe.yaml >/dev/null 2>&1 </dev/null # clears what the last has left
it "nothing is left in TMPDIR" [ -z "$(ls -A tmp)" ]

place=plan
cp kept.yaml grebe.yaml
generations plan -o out grebe.yaml
each_fault whole "$every" plan -o out grebe.yaml

place=learn
cp kept.yaml grebe.yaml && printf 'measured: {blank: 10 g}\n' >>grebe.yaml
generations learn --html -o out grebe.yaml
each_fault whole "$every" learn --html -o out grebe.yaml

# --- the page that is renewed ---------------------------------------------------------------------

# renewed ERROR ARGUMENT...: the page is a whole one; it may tell that the recipe cannot be read.
renewed() {
    known "$1" || return
    cmp -s out/grebe/view.html former/grebe/view.html || cmp -s out/grebe/view.html new/grebe/view.html ||
        { [ "$status" != 0 ] && grep -q 'cannot read' out/grebe/view.html &&
            tail -n 1 out/grebe/view.html | grep -q '</html>$'; } || { echo "no whole page" && return 1; }
    [ "$status" != 0 ] || cmp -s out/grebe/view.html new/grebe/view.html || { echo "no error, nothing new" && return 1; }
    [ "$status" = 0 ] || [ "$1" = $KILLED ] || says 'error: '
}
place=grebe
cp kept.yaml grebe.yaml
generations watch --once -o out grebe.yaml
each_fault renewed "$every" watch --once -o out grebe.yaml

# --- what is printed ------------------------------------------------------------------------------

ready() { :; }

# complete ERROR ARGUMENT...: all of it, with the usual status, or an error.
complete() {
    known "$1" || return
    [ "$1" = $KILLED ] && return
    [ "$status" = "$due" ] && cmp -s printed printed-whole && cmp -s said said-whole && return
    if [ "$2" = facts ] && [ "$status" = 0 ]; then # git shows what is printed
        prints 'error['
    elif [ "$2" = diff ] && prints 'no plug: '; then # in the row of a version that git does not hand over
        true
    elif [ "$2" = learn ] && prints 'is left out: '; then # likewise
        true
    else
        [ "$status" != 0 ] && says 'error: '
    fi
}

# printed KINDS ARGUMENT...
printed() {
    "$program" "${@:2}" >printed-whole 2>said-whole </dev/null
    due=$?
    each_fault complete "$@"
}
recipes=$top/recipes
printed "open read close" check grebe.yaml "$recipes/teal.yaml" "$top/tests/golden/unstable.yaml"
printed "open read close" weigh --json "$recipes/grebe-dusk.yaml"
printed "open read close" facts "$recipes/grebe-dusk.yaml"
printed "open read close" diff "$recipes/grebe.yaml" "$recipes/grebe-dusk.yaml"
printed "open read close" diff --json "$recipes/grebe.yaml" "$recipes/grebe-dusk.yaml"
git init -q -b main . && git config user.name Builder && git config user.email builder@example.org
cp kept.yaml grebe.yaml && git add grebe.yaml && git commit -q -m Carve
cp "$recipes/grebe.yaml" . && git commit -q -am Mend
printed "open read close write make" diff --history grebe.yaml
printed "open read close write make" learn --history grebe.yaml

# --- full, closed, read only, limited -------------------------------------------------------------

loses() { # loses ARGUMENT...: what is printed is lost, and that is told
    "$program" "$@" >/dev/full 2>said </dev/null
    status=$?
    [ "$status" = 2 ] && says 'error: '
}
closed() {
    "$program" "$@" >&- 2>said </dev/null
    status=$?
    [ "$status" = 2 ] && says 'error: '
}
for words in "weigh grebe.yaml" "weigh --json grebe.yaml" "facts grebe.yaml" "plan --json grebe.yaml" \
    "diff grebe.yaml kept.yaml" "diff --history grebe.yaml" "check --json grebe.yaml" \
    "learn grebe.yaml" "learn --json --history grebe.yaml" "learn --html -o full grebe.yaml" \
    "order -o full grebe.yaml" "plan -o full grebe.yaml" "watch --once -o full grebe.yaml"; do
    read -r -a list <<<"$words"
    [ ! -w /dev/full ] || it "a full disk is told of" loses "${list[@]}"
    it "a closed output is told of" closed "${list[@]}"
done

# limited BLOCKS: no file may grow beyond so many KiB.
limited() {
    cp kept.yaml grebe.yaml
    rm -rf out && cp -a former out
    # through pipes, since the limit holds for what is said too
    { (ulimit -f "$1" && exec "$program" order -o out grebe.yaml) 2>&1 >/dev/null </dev/null; } | cat >said
    status=${PIPESTATUS[0]}
    whole 0 order -o out grebe.yaml
}
place=grebe
rm -rf former new out
cp "$recipes/grebe.yaml" grebe.yaml && "$program" order -o former grebe.yaml >/dev/null
cp kept.yaml grebe.yaml && cp -a former out && "$program" order -o out grebe.yaml >/dev/null && mv out new
for blocks in 0 1 2 4 8 16 32; do
    it "files that may not grow beyond $blocks KiB are told of" limited $blocks
done

refused() { # a folder that is for reading only, unless one is root
    rm -rf out && cp -a former out && chmod a-w "$1"
    "$program" order -o out grebe.yaml >printed 2>said </dev/null
    status=$?
    chmod u+w "$1"
    whole 0 order -o out grebe.yaml
}
it "an order's folder may be for reading only" refused out/grebe
it "or what it lies in" refused out

echo "faults: $tried calls failed in their turn"
finish
