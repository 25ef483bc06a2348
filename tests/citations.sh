#!/bin/bash
# What points somewhere leads there: citations of pages and their sections in code, grammar and
# tests, links between pages, and the files and folders that DEVELOPERS.md names.
# shellcheck source-path=SCRIPTDIR
. "$(dirname "$0")/shared.sh"

# sections PAGE...: a line "NAME.md <tab> section" for the number and for the title of every heading.
sections() {
    awk '/^##/ {
        page = FILENAME; sub(/.*\//, "", page); sub(/^#+ /, "")
        print page "\t" $0
        if (!match($0, /^[0-9.]+ /)) next
        print page "\t" substr($0, 1, RLENGTH - 1)
        print page "\t" substr($0, RLENGTH + 1)
    }' "$@"
}

# citations FOLDER: every citation below it that names no section, or one that is not there.  A
# section is a number, or several ("2.1, 2.3 and 4"), or a title.  Of fields.md, which is written
# from the grammar's rows, the whole page may be meant; a path or a name in quotes is no citation.
# shellcheck disable=SC2016 # an awk program
citations() {
    sections "$1"/docs/*.md >"$scratch/sections"
    find "$1"/{src,grammar,tests,recipes,Makefile} -type f ! -path '*/golden/*' -print0 |
        xargs -0 awk -v known="$scratch/sections" '
        BEGIN { while ((getline line < known) > 0) if (split(line, at, "\t") == 2) there[at[1], at[2]] = 1 }
        function tell(what) { printf "%s:%d: docs/%s%s: %s\n", FILENAME, FNR, page, substr(rest, 1, 40), what }
        function numbers(list,    n, i, each) {
            n = split(list, each, /(, | and | to )/)
            for (i = 1; i <= n; i++) if (!((page, each[i]) in there)) tell("there is no section " each[i])
        }
        function titled(words,    key, at) {
            for (key in there) {
                split(key, at, SUBSEP)
                if (at[1] == page && index(words, at[2]) == 1 && substr(words, length(at[2]) + 1) !~ /^[A-Za-z0-9]/) return 1
            }
            return 0
        }
        { # a citation may break behind its comma
            if (carried != "") { sub(/^[ \t]*[*#]?[ \t]*/, ""); $0 = carried " " $0; carried = "" }
            if ($0 ~ /docs\/[a-z-]+\.md,$/) { carried = $0; next }
            for (rest = $0; match(rest, /docs\/[a-z-]+\.md/);) {
                page = substr(rest, RSTART + 5, RLENGTH - 5)
                path = substr(rest, RSTART - 1, 1) == "/" || substr(rest, RSTART + RLENGTH, 1) == "\""
                rest = substr(rest, RSTART + RLENGTH)
                if (match(rest, /^, [0-9]+(\.[0-9]+)?((,| and| to) [0-9]+(\.[0-9]+)?)*/)) numbers(substr(rest, 3, RLENGTH - 2))
                else if (sub(/^, /, "", rest)) { if (!titled(rest)) tell("there is no such section") }
                else if (page != "fields.md" && !path) tell("no section is named")
            }
        }'
}

# links PAGE...: every link of a page that leads to no file, or to no heading of it.
links() {
    local page link file anchor
    for page; do
        while read -r link; do
            [[ $link =~ ^[a-z]+: ]] && continue
            file=$(dirname "$page")/${link%%#*}
            [ "${link%%#*}" ] || file=$page
            anchor=${link#"${link%%#*}"}
            [ -e "$file" ] || echo "$page: $link leads to no file"
            [ -z "$anchor" ] || grep '^#' "$file" | sed 's/^#* //' | tr '[:upper:] ' '[:lower:]-' |
                tr -cd 'a-z0-9\n-' | grep -qxF "${anchor#\#}" || echo "$page: $link leads to no heading"
        done < <(grep -o '](<\?[^)>]*' "$page" | sed 's/^](<\?//')
    done
}

# paths FOLDER: what DEVELOPERS.md names in `…` as a path below the folder and is not there; folders
# of src that it does not name.
# shellcheck disable=SC2016 # marks of Markdown
paths() {
    local path
    while read -r path; do
        compgen -G "$1/$path" >/dev/null || echo "DEVELOPERS.md: there is no $path"
    done < <(grep -oE '`(src|grammar|tests|docs|recipes|\.ci)/[^` ]*`' "$1/DEVELOPERS.md" | tr -d '`')
    while read -r path; do
        grep -qF "$path/" "$1/DEVELOPERS.md" || echo "DEVELOPERS.md does not name $path/"
    done < <(cd "$1" && find src -mindepth 1 -type d)
}

# Mistakes of every kind are found.
wrong=$scratch/wrong
pages=docs
page=$pages/page.md
mkdir -p "$wrong"/{src/room,grammar,tests,recipes,docs}
printf '# Page\n\n## 1 First\n\n### 1.2 Second part\n\n## Plain title\n' >"$wrong/$page"
cat >"$wrong/src/right.c" <<END
/* $page, 1.2; $page, 1 and 1.2; ($page, Plain title); $page,
 * Second part.  $page, 1.2. */
END
cat >"$wrong/src/wrong.c" <<END
/* $page alone. */
/* $page, 2 */
/* $page, 1, 1.3 */
/* $page, Plain titles */
/* ${page/page/none}, 1 */
/* $page,
 * 7 */
END
# shellcheck disable=SC2016 # marks of Markdown
printf '[a](%s) [b](%s#first) [c](#here) [d](%s#1-first)\n`src/right.c` `src/n*.c`\n' $page $page $page \
    >"$wrong/DEVELOPERS.md"
: >"$wrong/Makefile"
citations "$wrong" >"$scratch/printed"
it "six wrong citations are found" test "$(wc -l <"$scratch/printed")" = 6
it "right ones are none of them" not prints right.c
links "$wrong/DEVELOPERS.md" >"$scratch/printed"
it "two wrong links are found" test "$(wc -l <"$scratch/printed")" = 2
paths "$wrong" >"$scratch/printed"
it "a path that is not there is found" prints 'no src/n*.c'
it "a folder that is not named is found" prints 'name src/room/'

cd "$top" || exit 2
citations . >"$scratch/printed"
it "every citation names a section that is there" prints_nothing
links README.md DEVELOPERS.md docs/*.md >"$scratch/printed"
it "every link leads to a file and a heading" prints_nothing
paths . >"$scratch/printed"
it "DEVELOPERS.md names what is there" prints_nothing
finish
