# Who may include whom (DEVELOPERS.md).  A room is a folder; `rooms` lists them from the ground up,
# and a file includes its own room or a lower one.  A few walls stand beside that.
# Usage: awk -f tests/layers.awk $(find src -name '*.[ch]')
function room(path) { sub(/^src\//, "", path); if (path == "main.c") return "main"; return path ~ /\// ? substr(path, 1, match(path, /\/[^\/]*$/) - 1) : "top" }
function breach(why) { printf "%s:%d: %s includes %s: %s\n", FILENAME, FNR, FILENAME, wanted, why; bad = 1 }
function within(place, top) { return place == top || index(place, top "/") == 1 }
BEGIN {
    rooms = "base system read model compute/schedule compute/cutting compute/shape compute/float compute/plug" \
            " compute/ballast compute/running compute/learn compute/work compute emit/write emit/words emit/print emit/drawing emit/order emit/plan" \
            " emit/difference emit top serve command main"
    count = split(rooms, named, " ")
    for (i = 1; i <= count; i++) rank[named[i]] = i
}
FNR == 1 { from = room(FILENAME); if (!(from in rank)) { printf "%s: no such room\n", FILENAME; bad = 1 } }
/^#include "/ {
    wanted = $2; gsub(/"/, "", wanted)
    if (wanted ~ /\.def$/) next
    to = room(wanted)
    if (!(to in rank)) { breach("no such room"); next }
    if (rank[to] > rank[from]) breach("a higher room")
    if (from == "system" && to != "base" && to != from) breach("the system knows no recipe")
    if (from == "compute/schedule" && to != "base" && to != from) breach("the scheduler knows no plug")
    if (from == "compute/cutting" && to != "base" && to != from) breach("the saw knows no plug")
    if (from == "emit/write" && to != "base" && to != from) breach("writers know no plug")
    if (FILENAME ~ /model\/recipe\.h$/ && to != "base") breach("recipe.h includes base only")
    if (within(from, "compute") && (to == "read" || to == "system")) breach("compute knows no text and no system")
    if (within(from, "compute") && wanted ~ /^model\/(bind|value|grammar|walk|change|graft)\.h$/) breach("compute knows no grammar")
    if (from == "model" && wanted == "read/tree.h" && FILENAME !~ /model\/(bind|value|supplied)\.[ch]$/) breach("only bind, value and supplied see the tree")
    if (within(from, "emit") && within(to, "emit") && to !~ /^emit\/(write|words|print)$/ && wanted != "emit/drawing/figure.h") {
        own = FILENAME; other = wanted
        sub(/\.[ch]$/, "", own); sub(/\.h$/, "", other)
        if (from != to || (from == "emit" && own != "src/" other)) breach("emitters do not see each other")
    }
}
/^#include <(stdio|time)\.h>/ {
    wanted = $2
    if (within(from, "compute")) breach("compute touches no file and no clock")
}
/^#include <yaml\.h>/ {
    wanted = $2
    if (FILENAME !~ /read\/tree\.c$/) breach("only the tree knows libyaml")
}
/^#include <jansson\.h>/ {
    wanted = $2
    if (FILENAME !~ /(emit\/write|base)\/json\.c$/) breach("only base/json and emit/write/json know jansson")
}
/^#include <utf8proc\.h>/ {
    wanted = $2
    if (FILENAME !~ /base\/unicode\.c$/) breach("only base/unicode knows utf8proc")
}
/^#include <(sha1\.h|CommonCrypto\/.*)>/ {
    wanted = $2
    if (FILENAME !~ /base\/digest\.c$/) breach("only base/digest knows how digests are made")
}
/^#include <(minizip\/.*|zlib\.h)>/ {
    wanted = $2
    if (FILENAME !~ /emit\/write\/zip\.c$/) breach("only emit/write/zip knows minizip")
}
END { if (!bad) print "ranks hold"; exit bad }
