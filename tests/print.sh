#!/bin/bash
# The printed order: its paper, that templates measure true on the rendered page, that the same
# recipe gives the same bytes everywhere, and that no recipe prints anything but words.
. "$(dirname "$0")/shared.sh"
needs pandoc weasyprint pdfinfo pdftotext pdftoppm
recipes=$top/recipes
cd "$scratch" || exit 2

# lacks FILE PATTERN: there is such a file, and the pattern is nowhere in it.
lacks() { [ -s "$1" ] && ! grep -aqE -- "$2" "$1"; }

# --- looking at pages ---------------------------------------------------------------------------

pages() { pdfinfo "$1" | awk '/^Pages:/ {print $2}'; }

# pages_are PDF LEAST MOST
pages_are() { [ "$(pages "$1")" -ge "$2" ] && [ "$(pages "$1")" -le "$3" ]; }

has_size() { pdfinfo "$1" | grep -q "^Page size: *$2"; }

# page_with PDF WORDS: the first page that says so.
page_with() {
    local page
    for page in $(seq "$(pages "$1")"); do
        pdftotext -f "$page" -l "$page" -layout "$1" - | grep -qF -- "$2" && echo "$page" && return
    done
    return 1
}

# place_of PDF PAGE WORD NEXT: right end and lower edge of WORD before NEXT, in points.
place_of() {
    pdftotext -f "$2" -l "$2" -bbox "$1" - |
        sed -n 's/.*xMin="\([^"]*\)" yMin="[^"]*" xMax="\([^"]*\)" yMax="\([^"]*\)">\(.*\)<.word>/\2 \3 \4/p' |
        awk -v word="$3" -v next_word="$4" \
            'kept && $3 == next_word {print place; exit} {kept = $3 == word; place = $1 " " $2}'
}

# strip PDF PAGE FROM HEIGHT: rows of a page between two heights in mm, rendered at 600 dpi, each
# as the left and right end of every dark run, in mm.
strip() {
    local from rows # at 600 dpi
    from=$(awk -v y="$3" 'BEGIN {print int(y * 600 / 25.4)}')
    rows=$(awk -v h="$4" 'BEGIN {print int(h * 600 / 25.4)}')
    pdftoppm -r 600 -gray -f "$2" -l "$2" -x 0 -y "$from" -W 5100 -H "$rows" "$1" strip
    od -An -v -tu1 -w1 strip-*.pgm | awk -v mm=0.0423333 '
        !width { # the head: P5, width, height and 255, each ended by one white byte
            byte = $1 <= 32 ? " " : sprintf("%c", $1)
            head = head byte
            if (split(head, part, " ") == 4 && byte == " ") width = part[2]
            next
        }
        {
            dark = $1 < 128
            if (dark && !run) start = at
            if (!dark && run || dark && at == width - 1) printf "%.3f %.3f ", start * mm, at * mm
            run = dark
            if (++at == width) { print ""; at = run = 0 }
        }'
    rm -f strip-*.pgm
}

# near VALUE WANTED: within 0.2 mm.
near() {
    awk -v a="$1" -v b="$2" 'BEGIN {exit !(a != "" && (a > b ? a - b : b - a) <= 0.2)}' ||
        { echo "measured $1 mm, not $2 mm" && return 1; }
}

# bar PDF PAGE NUMBER UNIT: length of the scale bar before these words, between the middles of its
# end strokes, which are 0.2 mm wide.
bar() {
    local foot
    foot=$(place_of "$1" "$2" "$3" "$4" | awk '{print $2 * 25.4 / 72}')
    strip "$1" "$2" "$(awk -v y="$foot" 'BEGIN {print y - 4.5}')" 6 |
        awk '{for (i = 1; i < NF; i += 2) if ($(i + 1) - $i > long) long = $(i + 1) - $i}
            END {print long - 0.2}'
}

# profile PDF PAGE DATUM: length of the side profile, 1 to 2 mm above a datum that lies DATUM mm
# under the foot of its heading, between the middles of its strokes, which are 0.45 mm wide.
profile() {
    local foot
    foot=$(place_of "$1" "$2" SIDE: glue | awk '{print $2 * 25.4 / 72}')
    strip "$1" "$2" "$(awk -v y="$foot" -v d="$3" 'BEGIN {print y + d - 2}')" 1 |
        awk 'NF {print $NF - $1 - 0.45}' | sort -n | awk '{all[NR] = $1} END {print all[int((NR + 1) / 2)]}'
}

# every_page_is_headed PDF NAME RUN RECIPE: with plug, run, digest, and page of pages.
every_page_is_headed() {
    local page count digest
    count=$(pages "$1")
    digest=$({ printf 'blob %d\0' "$(wc -c <"$4")" && cat "$4"; } | sha1sum | cut -c 1-8)
    for page in $(seq "$count"); do
        pdftotext -f "$page" -l "$page" -layout "$1" page
        grep -qF "Work order: $2 · $3 · sheet $digest" page || return 1
        grep -qF "page $page of $count" page || return 1
    done
}

# every_order CHECK ARGUMENT...: the check holds for every order that was printed.
every_order() {
    local check=$1 pdf
    shift
    for pdf in out/*/*.pdf; do
        "$check" "$pdf" "$@" || { echo "$pdf" && return 1; }
    done
}

no_word_over_another() { ! pdftotext -bbox "$1" - | awk -f "$top/tests/boxes.awk" | grep .; }

# full_pages PDF: a page that ends above its middle is followed by a sheet of templates, or is the last
# of them: what is true to size is not broken.
full_pages() {
    local page part
    while read -r page part; do
        [ "$part" -ge 50 ] && continue
        pdftotext -f "$((page + 1))" -l "$((page + 1))" "$1" - | grep -qE 'Template, |sheet [0-9]+ of' ||
            { echo "page $page ends at $part %" && return 1; }
    done < <(pdftotext -bbox "$1" - | awk -f "$top/tests/fullness.awk")
}

# --- paper and measure --------------------------------------------------------------------------

it "all orders are printed" gives 0 order -o out --pdf "${shipped[@]}"
a4=out/grebe/grebe.pdf
letter=out/sandpiper/sandpiper.pdf
it "A4 is A4" has_size $a4 "595.276 x 841.89"
it "Letter is Letter" has_size $letter "612 x 792"
it "the order of six plugs has twelve pages" pages_are $a4 9 12
it "that of a small plug has nine" pages_are out/sanderling/sanderling.pdf 7 9
it "none has more than fourteen" every_order pages_are 7 14
it "no word is printed over another" every_order no_word_over_another
it "no page is less than half full but before a sheet of templates" every_order full_pages
it "every page says what it is" every_page_is_headed $a4 "Grebe 95" "Run of 6 plugs" \
    "$recipes/grebe.yaml"
it "so it does on Letter" every_page_is_headed $letter "Sandpiper 2 3/4" "Run of 12 plugs" \
    "$recipes/sandpiper.yaml"

sheet=$(page_with $a4 "SIDE: glue")
it "100 mm measure 100 mm on A4" near "$(bar $a4 "$sheet" 100 mm:)" 100
it "4 in measure 4 in on A4" near "$(bar $a4 "$sheet" 4 in:)" 101.6
it "the lip's 50 mm measure 50 mm" near "$(bar $a4 "$(page_with $a4 "Lip in true size")" 50 mm:)" 50
# The datum lies 9 mm and the greatest height of the back (12.6 mm) under the heading's base line.
it "a template of 95 mm is 95 mm long" near "$(profile $a4 "$sheet" 21)" 95
sheet=$(page_with $letter "SIDE: glue")
it "100 mm measure 100 mm on Letter" near "$(bar $letter "$sheet" 100 mm:)" 100
it "4 in measure 4 in on Letter" near "$(bar $letter "$sheet" 4 in:)" 101.6
it "a template of 2 3/4 in is 2 3/4 in long" near "$(profile $letter "$sheet" 19.5)" 69.85
sheet=$(page_with $a4 "Sections and gauges")
it "the gauges' 50 mm measure 50 mm" near "$(bar $a4 "$sheet" 50 mm:)" 50

# --- the card alone, and as many templates as were asked for ------------------------------------

it "the card is printed alone" gives 0 order -o cards --card --pdf "$recipes/sandpiper.yaml" \
    "$recipes/turnstone.yaml" # the fullest on both papers
one_page() { pages_are "$1" 1 1; }
every_card() {
    local pdf
    for pdf in cards/*/*-card.pdf; do one_page "$pdf" || { echo "$pdf" && return 1; }; done
}
it "every card is one page" every_card
it "four copies of the templates are printed" gives 0 order -o copies --copies 4 --pdf "$recipes/teal.yaml"
it "so that there are four" [ "$(pdftotext copies/teal/teal.pdf - | grep -c 'SIDE: glue')" = 4 ]

# --- the same bytes everywhere ------------------------------------------------------------------

mkdir -p far/away/recipes
cp "$recipes/grebe.yaml" far/away/recipes
elsewhere() (
    cd far/away || exit
    TZ=Asia/Tokyo LANG=C LC_ALL=C TMPDIR=$scratch/far "$program" order -o there --pdf recipes/grebe.yaml
)
it "the order is printed again elsewhere" ends 0 elsewhere
for file in grebe.md grebe.pdf template-1.svg plug.svg; do
    it "$file has the same bytes" cmp out/grebe/$file far/away/there/grebe/$file
done
it "nothing is left behind" [ -z "$(ls -d far/plugwright-* 2>/dev/null)" ]

# --- words stay words ---------------------------------------------------------------------------

{
    # shellcheck disable=SC2016 # the recipe's own dollars and backticks
    printf '%s\n' 'recipe: 1' 'currency: EUR' 'name: "**Bold** <b>x</b> ![i](/etc/passwd)"' 'note: |' \
        '  <script>alert(1)</script> [l](http://evil.example) www.evil.example' \
        '  $m$ `r`{=html} \input{/etc/passwd} <img src="file:///etc/passwd">'
    sed -e '/^recipe:/d' -e '/^name:/d' -e '/^note:/,/^currency:/d' \
        -e 's%comb held 5 mm off%"| # </style><style>*{display:none}</style>"%' \
        "$recipes/grebe.yaml"
} >hostile.yaml
it "a hostile recipe prints" gives 0 order -o out --pdf --html hostile.yaml
it "no word of it is printed over another" no_word_over_another out/hostile/hostile.pdf
pdftotext -layout out/hostile/hostile.pdf words
it "its name stands as it was written" grep -qF '**Bold** <b>x</b> ![i](/etc/passwd)' words
it "so does its note" grep -qF '<script>alert(1)</script> [l](http://evil.example)' words
# shellcheck disable=SC2016
it "nothing in it is read as TeX or raw HTML" grep -qF '$m$ `r`{=html} \input{/etc/passwd}' words
it "nor what its mask is" grep -qF '| # </style><style>*{display:none}</style>' words
it "no file of the machine is in it" lacks words 'root:'
it "it links to nothing" lacks out/hostile/hostile.pdf '/URI'
page=out/hostile/hostile.html
it "on the tablet it is words too" lacks $page '<script>alert|<style>\*|<b>x<|<a '
it "the tablet's page takes nothing from elsewhere" lacks $page '(src|href)="[^d]'
it "its drawings are inside" grep -q 'src="data:image/svg+xml' $page

# --- without the tools --------------------------------------------------------------------------

mkdir empty
it "without Pandoc there is no PDF" ends 2 env PATH="$scratch/empty" "$program" order -o bare --pdf \
    "$recipes/teal.yaml"
it "Pandoc's package is named" says 'Debian package pandoc'
it "the Markdown is there all the same" test -s bare/teal/teal.md
it "and no half of a PDF" test ! -e bare/teal/teal.pdf
ln -s "$(command -v pandoc)" empty/pandoc
it "without WeasyPrint there is none either" ends 2 env PATH="$scratch/empty" "$program" order -o bare \
    --pdf "$recipes/teal.yaml"
it "WeasyPrint's package is named" says 'Debian package weasyprint'

finish
