#!/bin/bash
# README.md and the pages below docs/ are followed to the letter, each in a copy of the project that
# is a git repository of its own:
#   ```sh      every line is run, in order
#   ```yaml    is a file where its first line names it (# heron.yaml); language.md has its own test
#   ```        consecutive lines of what the last command printed, `...` for those left out
#   ```lua, ```lisp, ```json   are settings of editors; lsp.sh tries those that it has an editor for
#   <!-- sh: COMMAND -->    is run too, but not shown
# A command ends with 0; `diff`, and `check` that is not shown, may end with 1.
# shellcheck source-path=SCRIPTDIR
. "$(dirname "$0")/shared.sh"
needs git pandoc weasyprint

# What is shown and not run.
not_run=(
    "make demo"      # fetches what is missing, as root
    "make check"     # the same, and runs this
    "make git-setup" # builds anew; tests/install.sh runs it
)

export HOME=$scratch XDG_CONFIG_HOME=$scratch GIT_CONFIG_NOSYSTEM=1 GIT_PAGER=cat NO_COLOR=1
unset GIT_DIR GIT_WORK_TREE GIT_INDEX_FILE GIT_PREFIX
mkdir "$scratch/bin" && ln -s "$program" "$scratch/bin/plugwright" || exit 2
PATH=$scratch/bin:$PATH

# parts PAGE FOLDER: what the page has, in order, as files NUMBER.sh, .hidden, .out, .yaml; .other is
# a block of another kind.
parts() {
    awk -v folder="$2" '
        function part(kind) { file = sprintf("%s/%03d.%s", folder, ++count, kind); printf "" >file }
        !inside && /^<!-- sh: .* -->$/ { part("hidden"); print substr($0, 10, length($0) - 13) >file }
        /^```/ {
            inside = !inside
            kind = substr($0, 4)
            if (kind ~ /^(lua|lisp|json)$/) kind = "settings"
            else kind = kind == "" ? "out" : kind == "sh" || kind == "yaml" ? kind : "other"
            if (inside && kind != "sh" && kind != "settings") part(kind)
            next
        }
        inside && kind == "sh" && !carried { part("sh") }
        inside && kind != "settings" { print >file; carried = kind == "sh" && /\\$/ }' "$1"
}

# runs COMMAND WHICH: in the folder where the last one ended, on a day of its own, with what it prints
# and says in $scratch/printed.  WHICH may end with 1.
runs() {
    local status
    day=$((day + 1))
    (
        cd "$(cat "$scratch/where")" || exit 2
        GIT_AUTHOR_DATE=$(date -u -d "2026-01-01 + $((day - 1)) days" +%Y-%m-%dT20:00:00Z)
        export GIT_AUTHOR_DATE GIT_COMMITTER_DATE=$GIT_AUTHOR_DATE
        bash -c "$1
            status=\$?; pwd >'$scratch/where'; exit \$status"
    ) >"$scratch/printed" 2>&1 </dev/null
    status=$?
    : >"$scratch/said"
    [ $status = 0 ] || { [ $status = 1 ] && [[ $1 =~ plugwright\ $2 ]]; }
}

# shows FILE: its lines stand one behind the other in what was printed, `...` for any between.  The
# ids of commits are not compared.
shows() {
    sed -E 's/\b[0-9a-f]{10}\b/ID/g' "$scratch/printed" >"$scratch/whole"
    sed -E 's/\b[0-9a-f]{10}\b/ID/g' "$1" | awk -v whole="$scratch/whole" '
        { due[++n] = $0 }
        END {
            while ((getline line < whole) > 0) text[++m] = line
            at = 1 # the first line where the next part may stand
            for (i = 1; i <= n; i = j + 1) {
                for (j = i; j <= n && due[j] != "..."; j++);
                for (start = at; start + (j - i) - 1 <= m; start++) {
                    for (k = 0; k < j - i && due[i + k] == text[start + k]; k++);
                    if (k == j - i) break
                }
                if (start + (j - i) - 1 > m) { print "not printed: " due[i]; exit 1 }
                at = start + (j - i)
            }
        }'
}

# follow PAGE NAME: all that stands in the page.
follow() {
    local copy=$scratch/$2 part command name
    : >"$scratch/printed"
    mkdir "$copy" "$copy.parts" && cp -R "$top"/{README.md,docs,grammar,recipes} "$copy" || exit 2
    mkdir -p "$copy/out/bin" && ln -s "$program" "$copy/out/bin/plugwright"
    (
        cd "$copy" && echo /out/ >.gitignore && git init -q -b main . &&
            git config user.name Builder && git config user.email builder@example.org &&
            git add -A && GIT_AUTHOR_DATE=2026-01-01T20:00:00Z GIT_COMMITTER_DATE=2026-01-01T20:00:00Z \
            git commit -q -m "Carve the first Grebe"
    ) || exit 2
    echo "$copy" >"$scratch/where"
    day=1
    parts "$1" "$copy.parts"
    for part in "$copy.parts"/*; do
        [ -e "$part" ] || continue # a page without any
        command=$(cat "$part")
        case $part in
        *.sh)
            [[ " ${not_run[*]} " == *" ${command%%  *} "* ]] && continue
            it "$2: $command" runs "$command" diff
            ;;
        *.hidden) it "$2: $command" runs "$command" "(diff|check)" ;;
        *.out) it "$2: the sample is what is printed" shows "$part" ;;
        *.yaml)
            name=$(sed -n '1s/^# \([a-z-]*\.yaml\)$/\1/p' "$part")
            [ "$2" = language ] || it "$2: a recipe has a name" [ -n "$name" ]
            [ -z "$name" ] || cp "$part" "$(cat "$scratch/where")/$name"
            ;;
        *) it "$2: there are only blocks of sh, yaml and what is printed" false ;;
        esac
    done
}

# Mistakes are found.
cat >"$scratch/wrong.md" <<'END'
```sh
plugwright new One > one.yaml    # fine
plugwright check none.yaml
```
<!-- sh: printf 'one\ntwo\nthree\nfour\n' -->
```
one
...
three
four
```
```
one
three
```
```
three
...
one
```
```yaml
recipe: 1
```
```text
one
```
END
follow "$scratch/wrong.md" wrong >/dev/null
it "five mistakes in a page are found, and what is right in it" [ "$passed $failed" = "3 5" ]
failed=$((failed - 5))

follow "$top/README.md" README
for page in "$top"/docs/*.md; do follow "$page" "$(basename "$page" .md)"; done

# Pictures.
shown() {
    local page
    for page in README.md docs/*.md; do
        grep -o '!\[[^]]*\]([^)]*' "$page" | sed "s,.*(,$(dirname "$page")/,; s,^\./,,"
    done | sort -u
}
# shellcheck disable=SC2016 # of make
made() { make -s --no-print-directory --eval='list: ; @echo $(PICTURES)' list | tr ' ' '\n' | sort; }
cd "$top" || exit 2
shown >"$scratch/printed"
it "pages show pictures" not prints_nothing
it "all of which make pictures makes, and no more" test "$(shown)" = "$(made)"
finish
