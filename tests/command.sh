#!/bin/bash
# The command as a user meets it: what it takes, where it writes, and how it ends.
# Exit status: 0 fine, 1 a recipe has errors, 2 wrong use, unreadable file, failed write, missing tool.
. "$(dirname "$0")/shared.sh"
needs python3
golden=$top/tests/golden
cd "$scratch" || exit 2

lines() { [ "$(wc -l <"$2")" = "$1" ]; }
coloured() { grep -q $'\033' "$1"; }

# on_full_disk ARGUMENT...: the program cannot print, and says so.
on_full_disk() {
    "$program" "$@" >/dev/full 2>said </dev/null
    [ $? = 2 ] && says "standard output: "
}

# on_terminal ARGUMENT...: what the program prints to a terminal is kept in printed.
on_terminal() {
    script -qec "$(printf '%q ' "$program" "$@")" /dev/null >printed 2>&1 </dev/null
    true
}

cp "$golden/solved.yaml" good.yaml
cp "$golden/unknown-keys.yaml" bad.yaml
mkdir folder

# --- help and misuse
it "help is printed and fine" gives 0 --help
it "help is no error" says_nothing
it "help names the exit statuses" prints "Exit status"
cp printed help
while read -r command; do
    it "$command has help" gives 0 "$command" --help
    it "the help of $command is on standard output" prints "usage: plugwright"
    it "$command does not know --bogus" gives 2 "$command" --bogus
done < <(awk '/^  [a-z]/ {print $1}' help)
it "-h is --help" gives 0 -h
it "the version is printed" gives 0 --version
it "the version is one line" lines 1 printed
it "without a command nothing is done" gives 2
it "that is said" says "a command is due"
it "an unknown command is wrong use" gives 2 carve good.yaml
it "the unknown command is named" says "there is no command 'carve'"
it "help is pointed at" says "try 'plugwright --help'"
it "a slip of a command is told" gives 2 wiegh x.yaml
it "with what was meant" says "there is no command 'wiegh' (did you mean weigh?)"
it "a slip of an option is told" gives 2 order --pfd x.yaml
it "with what was meant too" says "there is no option '--pfd' (did you mean --pdf?)"
it "the command's own help is pointed at" says "try 'plugwright order --help'"
it "an option that lacks its value is told" gives 2 order --copies
it "by its name" says "--copies is due with a value"
it "one that takes none too" gives 2 order --pdf=x x.yaml
it "by its name as well" says "--pdf takes no value"
it "a command's help has its own options" gives 0 order --help
it "such as this" prints "--copies N"
prints_not() { ! prints "$1"; }
it "and no other's" prints_not "--history"
it "and an example" prints "For example: plugwright order --pdf"
it "no number of copies is refused" gives 2 order --copies 0 x.yaml
it "and told" says "--copies takes a whole number from 1 to 500, not '0'"
it "what is done needs a date" gives 2 order --done 1-3 x.yaml
it "and that is told" says "--done is due with --from, a date"
it "it names the steps of one recipe" gives 2 order --done 1 --from 2027-01-16 x.yaml y.yaml
it "a step that is not there is refused" gives 2 order --done 1-99 --from 2027-01-16 "$top/recipes/grebe.yaml"
it "with those that are" says "there is no step 99, the order has steps 1 to "
it "as is one ahead of its time" gives 2 order --done 9 --from 2027-01-16 "$top/recipes/grebe.yaml"
it "with what comes before it" says ") comes before it and is not among the steps of --done"
it "a list is numbers" gives 2 order --done 1-9,x --from 2027-01-16 "$top/recipes/grebe.yaml"
it "such as these" says "such as 1-9,12, not '1-9,x'"
it "and not backwards" gives 2 order --done 9-1 --from 2027-01-16 "$top/recipes/grebe.yaml"
it "a day that does not exist is refused" gives 2 order --from 2027-02-30 "$top/recipes/grebe.yaml"
it "by its name" says "not '2027-02-30'"
it "what is left is planned" gives 0 order -o again --done 1-9 --from 2027-01-16 "$top/recipes/grebe.yaml"
it "the calendar begins there" [ "$(grep -c 'DTSTART:202612' again/grebe/grebe.ics)" = 0 ]
it "and has the rest" grep -q 'DTSTART:20270116T090000' again/grebe/grebe.ics
it "of a Monday's run the last opening was in the week before" gives 0 order -o again --done 1 --from 2027-01-18 "$top/recipes/cormorant.yaml"
it "on its own day" grep -q 'Fri 15 Jan, 22:00 or before' again/cormorant/cormorant.md
it "the usual order is made" gives 0 order -o usual "$top/recipes/grebe.yaml"
it "and with its own start" gives 0 order -o again --from 2026-12-05T09:00 "$top/recipes/grebe.yaml"
it "both have one calendar" cmp -s usual/grebe/grebe.ics again/grebe/grebe.ics
it "no such colour is refused" gives 2 check --color=blue x.yaml

# --- diagnostics for programs -------------------------------------------------------------------

it "several recipes are one list" gives 1 check --json good.yaml bad.yaml "$golden/unstable.yaml"
it "with their places" prints '"line": 3'
it "and their files" prints 'unstable.yaml"'
it "a sound recipe gives an empty one" gives 0 check --json good.yaml
it "which is JSON all the same" prints '"diagnostics": []'
cp bad.yaml "a b:c%.yaml"
it "code hosts get SARIF" gives 1 check --sarif "a b:c%.yaml" "$golden/unstable.yaml"
it "of the version that they read" prints '"version": "2.1.0"'
it "with its schema" prints 'sarif-schema-2.1.0.json"'
it "names are references" prints '"uri": "a%20b%3Ac%25.yaml"'
it "levels are the standard's" prints '"level": "warning"'
it "columns count code points" prints '"columnKind": "unicodeCodePoints"'
it "and rules have their ids" prints '"ruleId": "unknown-key"'
it "what cannot be read is trouble there too" gives 2 check --sarif none.yaml

# --- colour and strictness ----------------------------------------------------------------------

warned=$golden/unstable.yaml
it "a warning is fine" gives 0 check "$warned"
it "but not where warnings count" gives 1 check --strict "$warned"
escape=$(printf '\033')
it "a file gets no colour" says_not "$escape"
it "but when it is asked for" gives 1 check --strict --color=always "$warned"
it "then it does" says "${escape}["
it "NO_COLOR yields to what is asked for" ends 0 env NO_COLOR=1 "$program" check --color=always "$warned"
it "so it does" says "${escape}["

# --- the order of another recipe file -----------------------------------------------------------

mkdir -p "$scratch/one" "$scratch/two"
cp "$top/recipes/teal.yaml" "$scratch/one/heron.yaml"
{ cat "$top/recipes/teal.yaml" && echo "# another"; } >"$scratch/two/heron.yaml"
it "an order is written" gives 0 order -o "$scratch/forced" "$scratch/one/heron.yaml"
it "that of another file of the same name is not" gives 2 order -o "$scratch/forced" \
    "$scratch/two/heron.yaml"
it "and says how to go on" says "write over it with --force"
echo "# new" >>"$scratch/one/heron.yaml"
it "a new version of the same file is" gives 0 order -o "$scratch/forced" "$scratch/one/heron.yaml"
it "the other is when it is forced" gives 0 order --force -o "$scratch/forced" \
    "$scratch/two/heron.yaml"
it "and then its own" gives 2 order -o "$scratch/forced" "$scratch/one/heron.yaml"
grep -q "$scratch" "$scratch/forced/heron/.plugwright"
it "no path is kept in the folder" [ $? = 1 ]
it "an option in place of a command is wrong use" gives 2 --bogus
it "check needs a file" gives 2 check
it "weigh takes one file alone" gives 2 weigh good.yaml bad.yaml
it "facts does not take --json" gives 2 facts --json good.yaml
it "and says so" says "'facts' does not take --json"
it "nor its letter" gives 2 facts -j good.yaml
it "weigh does not take -o" gives 2 weigh -o there good.yaml
it "a letter is no option where none is public" gives 2 order -p good.yaml
it "an option without a command is wrong use" gives 2 --json
it "and it is said where options stand" says "options stand behind a command"
it "-o needs a folder" gives 2 order good.yaml -o

# --- check
it "a sound recipe is fine" gives 0 check good.yaml
it "and nothing is said about it" silent
it "a recipe with errors gives 1" gives 1 check bad.yaml
it "errors stand at their line and column" says "bad.yaml:3:27: error: unknown key 'desity'"
it "errors name their rule" says "[unknown-key]"
it "errors are counted" says "3 errors"
it "errors are not on standard output" prints_nothing
it "the worst of several recipes counts" gives 1 check good.yaml bad.yaml good.yaml
it "what cannot be read is worse than an error" gives 2 check bad.yaml none.yaml
it "the others are checked all the same" says "unknown key 'desity'"
it "warnings are no errors" gives 0 check "$golden/unstable.yaml"
it "options may stand behind files" gives 0 weigh good.yaml --json

# --- files
it "a file that is not there cannot be read" gives 2 check none.yaml
it "the missing file is named" says "none.yaml"
it "a folder is no recipe" gives 2 check folder
it "the folder is named" says "folder"
it "an empty name is no recipe" gives 2 check ""
it "a device is no recipe" gives 2 check /dev/zero
if [ "$(id -u)" != 0 ]; then
    cp good.yaml locked.yaml && chmod 000 locked.yaml
    it "a locked file cannot be read" gives 2 check locked.yaml
fi
cp good.yaml ./-odd.yaml
it "behind -- a name may begin with a hyphen" gives 0 check -- -odd.yaml
input=good.yaml it "- is standard input" gives 0 check -
input=bad.yaml it "errors may come from there" gives 1 check -
it "standard input is called -" says "-:3:27: error:"
{ printf 'base: good.yaml\n' && cat good.yaml; } >based
input=based it "standard input has no base" gives 1 check -
it "and the reason is given" says "a recipe from a pipe has no folder"
{ cat good.yaml && head -c 1100000 /dev/zero | tr '\0' '#'; } >long.yaml
it "more than a mebibyte is an error" gives 1 check long.yaml
it "the greatest size is named" says "a recipe has at most 1048576 bytes"
mkdir inner && cp good.yaml outer.yaml && printf 'base: ../outer.yaml\nname: Inner\n' >inner/leak.yaml
it "a base outside the folder is refused" gives 1 check inner/leak.yaml
it "and it is said where a base lies" says "the base leads out of the folder tree"

# --- weigh
it "weigh prints what the plug weighs" gives 0 weigh good.yaml
it "the plug is named" prints "Heron 140, 4 plugs of basswood"
it "of a recipe with errors nothing is weighed" gives 1 weigh bad.yaml
it "nothing is printed then" prints_nothing
it "the report is JSON" gives 0 weigh --json good.yaml
cp printed report
it "-j is --json" gives 0 weigh -j good.yaml
it "byte for byte" cmp printed report
it "the report names the recipe" prints '"name": "Heron 140"'
it "a report of errors is JSON too" gives 1 weigh --json bad.yaml
it "it holds the diagnostics" prints '"rule": "unknown-key"'
it "and nothing else" not prints '"recipe"'

# --- order
it "an order is written" gives 0 order -o orders good.yaml
it "its place is printed" prints "orders/good/good.md"
it "the order is there" [ -s orders/good/good.md ]
it "with its drawings" [ -n "$(find orders/good -name '*.svg')" ]
it "nothing is left beside it" [ "$(ls -A orders)" = good ]
cp -r orders first
TZ=Pacific/Chatham it "another clock" gives 0 order -o orders good.yaml
it "changes no byte of an order" diff -r first orders
it "--output is -o" gives 0 order --output=second good.yaml
it "with the same order" diff -r first/good second/good
it "the folder out is the usual place" gives 0 order good.yaml
it "and there it is" [ -s out/good/good.md ]
it "a recipe with errors has no order" gives 1 order -o orders bad.yaml
it "nothing is written for it" [ ! -e orders/bad ]
it "the sound ones among several are written" gives 1 order -o several bad.yaml good.yaml
it "beside the error" [ -s several/good/good.md ]
mkdir twin && cp good.yaml twin/good.yaml
it "two recipes with one name are not written over each other" gives 2 order -o twins good.yaml twin/good.yaml
it "the second is named" says "twin/good.yaml: another of these recipes already goes to twins/good"
it "the first is written" [ -s twins/good/good.md ]
input=good.yaml it "a recipe from standard input gets an order" gives 0 order -o piped -
it "called order" [ -s piped/order/order.md ]
touch blocked
it "a file in the folder's place is a failed write" gives 2 order -o blocked good.yaml
it "the place is named" says "blocked"
it "where nothing can be written the write fails" gives 2 order -o /proc/none good.yaml
mkdir empty
PATH=$PWD/empty it "without Pandoc there is no PDF" gives 2 order --pdf -o pages good.yaml
it "the missing tool is named" says "pandoc"
it "the order itself is written" [ -s pages/good/good.md ]
PATH=$PWD/empty it "and no page for a tablet" gives 2 order --html -o pages good.yaml

# --- tables and new
it "the tables are listed" gives 0 tables
cp printed tables
while read -r table; do
    it "the table $table is shown" gives 0 tables "$table"
    it "the table $table is not empty" [ -s printed ]
done < <(awk "{print \$1}" tables)
it "an unknown table is wrong use" gives 2 tables reels
it "and is told all that there are" says "tool, caution, fields, schema"
it "the known ones are named" says "wood, metal, wire"
shed=$top/tests/golden/base/shed.yaml
it "a workshop has woods of its own" gives 0 tables --workshop "$shed" wood
it "behind the table's" prints "balsa"
it "with what was weighed" prints "own workshop, weighed 5 times"
it "and hooks" gives 0 tables hook --workshop "$shed"
it "by their mass" prints "1.02      -  own workshop, weighed 20 times"
it "and rings" gives 0 tables ring --workshop="$shed"
it "likewise" prints_line "3                0.25  own workshop"
it "and products" gives 0 tables finish --workshop "$shed"
it "with what they are" prints "sealer, brush lacquer"
it "and what their rows say" prints "uptake 25 g/m2;"
it "a table without rows of its own is as ever" gives 0 tables drill --workshop "$shed"
it "a workshop needs its file" gives 2 tables wood --workshop
it "that is there" gives 2 tables wood --workshop none.yaml
it "and sound" gives 1 tables wood --workshop "$top/recipes/grebe.yaml"
mkdir -p anew/base
cp "$top/tests/golden/workshop-own.yaml" anew/
sed 's/density: 480/density: 520/' "$shed" >anew/base/shed.yaml
it "a wood weighed anew is a difference" gives 1 diff "$top/tests/golden/workshop-own.yaml" anew/workshop-own.yaml
it "and a cause" prints "wood"
it "with both densities" prints "0.47745 g/cm3 → 0.51741 g/cm3"
it "the same workshop is none" gives 0 diff "$top/tests/golden/workshop-own.yaml" "$top/tests/golden/workshop-own.yaml"
it "a starter takes no file" gives 2 new --workshop=shed.yaml heron
for recipe in "${shipped[@]}"; do
    it "nothing meets in $(basename "$recipe")" gives 0 check "$recipe"
    for rule in collision hook comment; do
        it "nor is there anything to say of a $rule" says_not "[$rule]"
    done
    it "nor of openings and the surface" says_not "and the surface ["
done
it "the workshop among them is checked as one" gives 0 check "$top"/recipes/*.yaml
mapfile -t sharing < <(grep -lx 'workshop: workshop.yaml' "${shipped[@]}")
it "several share it" [ ${#sharing[@]} -ge 5 ]
for recipe in "${sharing[@]}"; do
    sed -f "$top/tests/alone.sed" "$recipe" >alone.yaml
    it "$(basename "$recipe") can do without it" gives 0 check alone.yaml
done
it "beside recipes a workshop is passed over" gives 0 learn "$top"/recipes/*.yaml
it "which is said" says "workshop.yaml is a workshop and no recipe: passed over"
it "the workshop is no recipe to order" gives 1 order -o no-order "$top/recipes/workshop.yaml"
it "which it says" says "this is a workshop and no recipe"
for name in Heron "It's a \"plug\": #1" "- [x] {y} & *z" "Ørret 12 µm"; do
    it "a starter called $name is printed" gives 0 new -- "$name"
    cp printed starter.yaml
    it "the starter $name is sound" gives 0 check starter.yaml
    it "and leaves nothing to say" says_nothing
    it "and is weighed" gives 0 weigh starter.yaml
    it "under its name" prints "$name, 2 plugs"
    it "a workshop called $name is printed" gives 0 new --workshop -- "$name"
    cp printed workshop.yaml
    it "the workshop $name is sound" gives 0 check workshop.yaml
    it "and is no recipe" gives 1 weigh workshop.yaml
done

# --- streams and names
closed_out() { "$program" "$@" >&- 2>"$scratch/said"; }
it "a closed standard output fails order" not closed_out order -o closed good.yaml
it "which says so" says "standard output"
it "and writes the order as it is" cmp closed/good/good.md first/good/good.md
cp good.yaml "$(printf 'esc\033[31m.yaml')"
it "a file name with an escape is ordered" gives 0 order -o names "$(printf 'esc\033[31m.yaml')"
it "and told without it" not prints "$(printf '\033')"
if [ -w /dev/full ]; then
    lost() { "$program" check bad.yaml 2>/dev/full; [ $? = 2 ]; }
    it "diagnostics that nobody can read are a failure" lost
fi

# --- failed writes
if [ -w /dev/full ]; then
    it "a full disk fails --help" on_full_disk --help
    it "a full disk fails --version" on_full_disk --version
    it "a full disk fails weigh" on_full_disk weigh good.yaml
    it "a full disk fails the report" on_full_disk weigh --json good.yaml
    it "a full disk fails the report of errors" on_full_disk weigh --json bad.yaml
    it "a full disk fails the list of tables" on_full_disk tables
    it "a full disk fails a table" on_full_disk tables wood
    it "a full disk fails a starter" on_full_disk new Heron
    it "a full disk fails the list of orders" on_full_disk order -o full good.yaml
fi

# --- colour
it "errors go to a file" gives 1 check bad.yaml
it "without colour" not coloured said
if script -qec true /dev/null >/dev/null 2>&1 </dev/null; then
    unset NO_COLOR
    on_terminal check bad.yaml
    it "a terminal gets colour" coloured printed
    NO_COLOR=1 on_terminal check bad.yaml
    it "but not with NO_COLOR" not coloured printed
    NO_COLOR='' on_terminal check bad.yaml
    it "an empty NO_COLOR does not count" coloured printed
else
    echo "colour on a terminal is not tried: no terminal is to be had here"
fi

# --- several runs -------------------------------------------------------------------------------

recipes=$top/recipes
it "several runs are planned" gives 0 plan -o planned "$recipes/grebe.yaml" "$recipes/grebe-dusk.yaml"
it "and where is printed" prints_line planned/plan/plan.md
it "with a timeline" [ -s planned/plan/timeline.svg ]
it "and a calendar" [ -s planned/plan/plan.ics ]
it "the steps of one stand there" grep -q '^- \[ \] .* \*\*grebe\*\* ' planned/plan/plan.md
it "and of the other" grep -q '^- \[ \] .* \*\*grebe-dusk\*\* ' planned/plan/plan.md
colourways=("$recipes/grebe.yaml" "$recipes/grebe-dusk.yaml" "$recipes/grebe-perch.yaml")
it "colourways are planned" gives 0 plan -o planned "${colourways[@]}"
it "their bodies are shaped together" grep -q '^- \*\*grebe\*\*, \*\*grebe-dusk\*\* and \*\*grebe-perch\*\*: steps 1 to 1[0-9] ' planned/plan/plan.md
it "by one sheet" [ "$(grep -cE '\*\*grebe(-dusk|-perch)?\*\* 7\. .*, all 18 plugs' planned/plan/plan.md)" = 1 ]
it "their colours are their own" [ "$(grep -cE '\*\*grebe(-dusk|-perch)\*\* [0-9]+\. Colour 1' planned/plan/plan.md)" = 2 ]
it "with a lane of the timeline" grep -q 'Grebe 95 and 2 more' planned/plan/timeline.svg
it "and events of the calendar" grep -q '^SUMMARY:Grebe 95 and 2 more: ' planned/plan/plan.ics
it "for the tablet too" gives 0 plan --html -o planned "${colourways[@]}"
it "whose place is printed" prints_line planned/plan/plan.html
it "with its boxes" grep -q '<input type="checkbox"' planned/plan/plan.html
it "that keep what is ticked by what the plan is made of" grep -q '"digest": *"plan of [0-9a-f]' planned/plan/plan.html
it "and for programs" gives 0 plan --json "${colourways[@]}"
it "with the plugs of the lot" prints '"plugs": 18'
cp "$recipes/grebe.yaml" clad.yaml
printf 'recipe: 1\nname: Bare\nbase: clad.yaml\nfinish: none\n' >bare.yaml
it "what has no finish is planned too" gives 0 plan -o planned bare.yaml "$recipes/grebe.yaml"
it "it takes its own place again" gives 0 plan -o planned "$recipes/grebe.yaml"
it "another shop is another bench" gives 1 plan -o planned "$recipes/grebe.yaml" "$recipes/dipper.yaml"
it "by its first field" says "differ in shop.temperature"
{
    sed '/^measured:/,$d' "$recipes/sanderling.yaml" | sed -f "$top/tests/alone.sed"
    printf '%s\n' 'measured:' '  blank: [5.7 g, 5.9 g, 5.6 g]' '  sealed: [6.9 g, 7.2 g, 6.8 g]' \
        '  finished: [11.6 g, 11.9 g]' '  minutes: [{step: round, took: 100 min}]'
} >taught.yaml
it "the bench teaches" gives 0 learn taught.yaml
it "how many plugs did" prints_line 'What 3 plugs of 1 recipe taught'
it "what the wood is" prints 'density of basswood          405 kg/m³  430 kg/m³  401 kg/m³  462 kg/m³'
it "how good that is" prints 'Each plug foretold by the others'
it "how long an operation takes" prints 'time for round'
it "and what to weigh next" prints 'Weigh next'
it "machines learn too" gives 0 learn --json taught.yaml "$recipes/dipper.yaml"
it "of the same plugs" prints '"plugs": 3'
it "without weighings there is nothing to tell" gives 0 learn "$recipes/dipper.yaml"
it "which is said" prints_line '  Nothing of these recipes was weighed yet.'
it "a bad recipe teaches nothing" gives 1 learn taught.yaml bad.yaml
it "without a workshop there is no file to write into" gives 1 learn --write taught.yaml
it "--write goes without --json" gives 2 learn --write --json taught.yaml
sed '/^name:/a workshop: bench.yaml' taught.yaml >shopped.yaml
printf '\xEF\xBB\xBFworkshop: 1\nhooks: # mine\n  - {size: "8", kind: single, mass: 0.23 g}\n# end\n' >bench.yaml
it "what has proved itself is written" gives 0 learn --write shopped.yaml
it "and shown" prints_line '+  - {size: "8", kind: single, mass: 0.276 g, spread: 15 %, weighed: 2}'
it "with what stays out" prints 'not written: film of varnish: the workshop has no row of this name'
it "a wood has a row now" grep -q '^  - {name: "basswood", density: 43[0-9] kg/m3' bench.yaml
it "all else is as it was" [ "$(sed -n '2p;4p' bench.yaml)" = "$(printf 'hooks: # mine\n# end')" ]
it "its mark too" [ "$(head -c 3 bench.yaml | od -An -tx1)" = ' ef bb bf' ]
it "it is a workshop still" gives 0 check bench.yaml
cp bench.yaml bench-once.yaml
it "the same plugs teach nothing new" gives 0 learn --write shopped.yaml
it "and nothing is written" cmp -s bench.yaml bench-once.yaml
it "which is said" prints_line 'bench.yaml: nothing to write'
it "the recipe is better by it" gives 0 check shopped.yaml
it "a run is planned once" gives 1 plan -o planned "$recipes/grebe.yaml" "$recipes/grebe.yaml"
it "since names are told apart" says "have the same file name"
sed 's/^name:.*/name: plan/' "$recipes/grebe.yaml" >plan.yaml
it "an order called plan" gives 0 order -o taken plan.yaml
it "is not written over" gives 2 plan -o taken "$recipes/grebe.yaml"
it "unless asked" gives 0 plan --force -o taken "$recipes/grebe.yaml"
mkdir stocked && cp "$recipes"/*.yaml stocked
cat >>stocked/workshop.yaml <<'END'
stock:
  boards: [{species: western redcedar, length: 900 mm, width: 90 mm, thickness: 60 mm}]
  hooks: [{size: "4/0", count: 3}, {size: "10", count: 50}]
  eyes: [{size: 9 mm, count: 4}]
  pieces: [{mass: 5 g, count: 9}, {mass: 1 g, count: 20}]
  sealers: [{name: penetrating epoxy, volume: 10 ml}]
  paints: [{name: white ground, volume: 30 ml}]
END
neighbours=(stocked/{bittern,dipper,gannet,sanderling,skua}.yaml)
it "what five runs need is the sum of their orders" ends 0 python3 -B "$top/tests/shopping.py" "$program" "${neighbours[@]}"
it "they are planned" gives 0 plan -o planned "${neighbours[@]}"
it "what is on hand is taken off once" grep -qE 'treble hook 4/0 +\| +4 \| +3 \| +1 \|' planned/plan/plan.md
it "programs get it as JSON" gives 0 plan --json "$recipes/grebe.yaml"
it "with its end" prints '"end_s": '

finish
