# What the tests of the command have in common: each begins with `. "$(dirname "$0")/shared.sh"` and
# ends with `finish`.  $program is what is tested, $top the project's folder, $scratch a private
# folder that is removed in the end; nothing is written elsewhere.
# shellcheck shell=bash
set -u
top=$(realpath "$(dirname "${BASH_SOURCE[0]}")/..") || exit 2
program=$(realpath "${PLUGWRIGHT:-$top/out/bin/plugwright}") || exit 2
export PLUGWRIGHT=$program # for what the tests start themselves
scratch=$(mktemp -d) || exit 2
trap 'rm -rf "$scratch"' EXIT
# The recipes that are shipped, without the workshop that they share.
# shellcheck disable=SC2034 # for the tests
mapfile -t shipped < <(sh "$top/tests/recipes.sh" "$top/recipes")
passed=0
failed=0

# needs TOOL...: without them nothing is tested, which is a failure.
needs() {
    local tool
    for tool; do
        command -v "$tool" >/dev/null 2>&1 && continue
        echo "$0 needs $tool ('.ci/setup print test tablet editor' installs it)"
        exit 1
    done
}

# it SENTENCE COMMAND...: the sentence is true if the command succeeds.
it() {
    local sentence=$1
    shift
    if "$@"; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        echo "not so: $sentence ($*)"
        head -n 10 "$scratch/printed" "$scratch/said" 2>/dev/null
    fi
}

# ends STATUS COMMAND...: the command ends so; what it prints is kept in $scratch/printed and
# $scratch/said.  $input, if set, is its standard input.
ends() {
    local due=$1 status
    shift
    "$@" >"$scratch/printed" 2>"$scratch/said" <"${input:-/dev/null}"
    status=$?
    [ $status = "$due" ] || { echo "exit status $status, not $due: $*" && return 1; }
}

# gives STATUS ARGUMENT...: the program ends so.
gives() {
    local due=$1
    shift
    ends "$due" "$program" "$@"
}

# Of what was printed last, on standard output and on standard error.
prints() { grep -qF -e "$1" "$scratch/printed"; }
prints_line() { grep -qxF -e "$1" "$scratch/printed"; }
says() { grep -qF -e "$1" "$scratch/said"; }
says_not() { ! says "$1"; }
prints_nothing() { [ ! -s "$scratch/printed" ]; }
says_nothing() { [ ! -s "$scratch/said" ]; }
silent() { prints_nothing && says_nothing; }

not() { ! "$@"; }

finish() {
    echo "$(basename "$0" .sh): $passed passed, $failed failed"
    [ $failed = 0 ]
}
