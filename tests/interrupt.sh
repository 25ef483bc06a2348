#!/bin/bash
# A program that is interrupted ends by that signal, stops what it has started, and leaves nothing
# behind.  Stand-ins for the tools wait for the signal.
. "$(dirname "$0")/shared.sh"
needs git
set -m # jobs in the background take interrupts
mkdir "$scratch/tools" "$scratch/tmp" "$scratch/shop"
export TMPDIR=$scratch/tmp

# stand_in NAME: a tool that waits, as does a program that it starts.  Both hold a lock.
stand_in() {
    cat >"$scratch/tools/$1" <<END
#!/bin/sh
exec 9>"$scratch/lock"
flock 9
sleep 60 &
echo \$\$ >"$scratch/started"
wait
END
    chmod +x "$scratch/tools/$1"
}

# interrupted STATUS SIGNAL ARGUMENT...: the program starts a stand-in, gets the signal, and ends so.
# $pid is what its processes were a group of.
interrupted() {
    local due=$1 signal=$2 status
    shift 2
    rm -f "$scratch/started"
    PATH=$scratch/tools:$PATH "$program" "$@" >"$scratch/printed" 2>"$scratch/said" </dev/null &
    pid=$!
    for ((i = 0; i < 200; i++)); do
        [ -s "$scratch/started" ] && break
        sleep 0.05
    done
    kill -s "$signal" $pid
    wait $pid 2>/dev/null
    status=$?
    [ $status = "$due" ] || { echo "exit status $status, not $due: $*" && return 1; }
}

# stopped: nobody holds the lock any longer.
stopped() { flock -w 5 "$scratch/lock" true; }

left_nothing() { [ -z "$(ls -A "$TMPDIR")" ]; }

cd "$scratch/shop" || exit 2
cp "$top/recipes/grebe.yaml" "$top/recipes/grebe-dusk.yaml" .
stand_in pandoc
stand_in weasyprint
while read -r signal number; do
    it "printing ends by $signal" interrupted $((128 + number)) "$signal" order --pdf -o out grebe.yaml
    it "and Pandoc with it" stopped
    it "and nothing is left in TMPDIR" left_nothing
    it "and no PDF" [ ! -e out/grebe/grebe.pdf ]
done <<<"$(printf 'INT 2\nTERM 15\nHUP 1\nQUIT 3')"

# The real git begins a history; a stand-in is to hand over the base of a version.
export HOME=$scratch GIT_CONFIG_NOSYSTEM=1
git init -q -b main . && git config user.name Builder && git config user.email builder@example.org
git add -A && git commit -q -m "Carve"
git=$(command -v git)
stand_in git
sed -i "2i case \" \$* \" in *' cat-file '*:grebe.yaml*) ;; *) exec '$git' \"\$@\" ;; esac" "$scratch/tools/git"
while read -r signal number; do
    it "a history ends by $signal" interrupted $((128 + number)) "$signal" diff --history grebe-dusk.yaml
    it "and nothing is left in TMPDIR either" left_nothing
    kill -KILL -- "-$pid" 2>/dev/null # the stand-in; git itself has little left to do
done <<<"$(printf 'INT 2\nTERM 15\nHUP 1')"

finish
