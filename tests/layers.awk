# Who may include whom (DEVELOPERS.md): data flows down the ranks, and a few walls stand inside them.
# Usage: awk -f tests/layers.awk $(find src -name '*.[ch]')
function folder(path, parts, n) {
    n = split(path, parts, "/")
    return n > 1 ? parts[n - 1] : ""
}
function place(path) { sub(/^src\//, "", path); return path ~ /\// ? substr(path, 1, index(path, "/") - 1) : "top" }
function breach(why) { printf "%s:%d: %s includes %s: %s\n", FILENAME, FNR, FILENAME, wanted, why; bad = 1 }
BEGIN {
    rank["base"] = 0; rank["read"] = 1; rank["model"] = 2; rank["compute"] = 3; rank["emit"] = 4; rank["top"] = 5; rank["system"] = 0
}
/^#include "/ {
    wanted = $2; gsub(/"/, "", wanted)
    if (wanted ~ /\.def$/) next
    from = place(FILENAME); to = wanted ~ /\// ? substr(wanted, 1, index(wanted, "/") - 1) : "top"
    if (!(to in rank)) { breach("no such rank"); next }
    if (rank[to] > rank[from]) breach("a higher rank")
    if (from == "read" && to == "model") breach("read knows no model")
    if (FILENAME ~ /model\/recipe\.h$/ && to != "base") breach("recipe.h includes base only")
    if (from == "compute" && to == "read") breach("compute knows no text")
    if (from == "compute" && wanted ~ /^model\/(bind|value|grammar|walk|change|graft)\.h$/) breach("compute knows no grammar")
    if (from == "model" && wanted == "read/tree.h" && FILENAME !~ /model\/(bind|value)\.[ch]$/) breach("only bind and value see the tree")
    if (from == "emit" && to == "emit") {
        own = FILENAME; sub(/^src\/emit\//, "", own); other = wanted; sub(/^emit\//, "", other)
        sub(/[_.].*$/, "", own); sub(/[_.].*$/, "", other)
        if (own != other && other !~ /^(write|figure|print)/) breach("emitters do not see each other")
    }
}
/^#include <(stdio|time)\.h>/ {
    wanted = $2
    if (place(FILENAME) == "compute") breach("compute touches no file and no clock")
}
/^#include <yaml\.h>/ {
    wanted = $2
    if (FILENAME !~ /read\/tree\.c$/) breach("only the tree knows libyaml")
}
/^#include <jansson\.h>/ {
    wanted = $2
    if (FILENAME !~ /emit\/(report|schema|difference)[a-z_]*\.c$/) breach("only the JSON emitters know jansson")
}
END { if (!bad) print "ranks hold"; exit bad }
