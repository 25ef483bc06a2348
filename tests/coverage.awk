# Figures a room of src/, from gcovr's table of files (--csv): lines and branches that the tests reach.
# With ROOMS, a list of name=lines/branches, it fails where a room falls below its percentages.
BEGIN { FS = "," }
function share(reached, all) { return all ? 100 * reached / all : 100 }
FNR > 1 {
    parts = split($1, part, "/")
    room = parts > 2 ? part[2] : "src"
    lines[room] += $2; lines_reached[room] += $3
    branches[room] += $5; branches_reached[room] += $6
}
END {
    print "room      lines   reached      %   branches   reached      %"
    for (room in lines) printf "%-9s %5d %9d %6.2f %10d %9d %6.2f\n", room, lines[room], lines_reached[room],
        share(lines_reached[room], lines[room]), branches[room], branches_reached[room],
        share(branches_reached[room], branches[room]) | "sort"
    close("sort")
    count = split(ROOMS, asked, " ")
    for (i = 1; i <= count; i++) {
        split(asked[i], a, "[=/]")
        if (!(a[1] in lines)) { print a[1] ": no such room"; low = 1; continue }
        if (share(lines_reached[a[1]], lines[a[1]]) < a[2] ||
            share(branches_reached[a[1]], branches[a[1]]) < a[3]) {
            print a[1] ": below " a[2] " % of lines or " a[3] " % of branches"; low = 1
        }
    }
    exit low
}
