# Two generations of an order's folder, for tests of what comes between: each stands in `former` and
# `new`, as $scratch/out would be.  $place is the folder within.  Behind shared.sh, in $scratch.
# shellcheck shell=bash disable=SC2154
same() { diff -r "$1" "$2" >/dev/null 2>&1; }

first_recipe() { sed 's/^name:.*/name: Earlier/' "$top/recipes/grebe.yaml" >grebe.yaml; }

# generations ARGUMENT...: what stands before, and what a whole run makes of it; also what it makes
# without its tools, which is the order without its sheet.
generations() {
    rm -rf former new bare out
    cp grebe.yaml kept.yaml
    "$program" "$@" >/dev/null 2>&1 </dev/null
    mv out former
    sed 's/^name:.*/name: Later/; /^lip:/,/^$/d' kept.yaml >grebe.yaml # fewer files
    cp -a former out
    "$program" "$@" >/dev/null 2>&1 </dev/null
    due=$?
    mv out new
    cp -a former out
    PATH=$scratch/none "$program" "$@" >/dev/null 2>&1 </dev/null
    mv out bare
    it "something is made: $*" [ "$due" = 0 ]
    it "of two generations: $*" not same former new
}

stands() { same "$scratch/stands" "$scratch/$1/$place"; }

one_generation() {
    rm -rf stands && cp -a "out/$place" stands
    stands new || stands former || stands bare || { echo "mixed" && return 1; }
}

# next_run_clears ARGUMENT...: it makes the new one and leaves nothing else.
next_run_clears() {
    "$program" "$@" >/dev/null 2>&1 </dev/null || { echo "the next run fails" && return 1; }
    same out new || { diff -rq out new && return 1; }
}

# stand_ins LINE: what writes what looks like a PDF stands in for the tools, and does LINE before.
stand_ins() {
    mkdir -p tools
    cat >tools/pandoc <<END
#!/bin/sh
for word; do case \$word in --output=*) file=\${word#--output=} ;; esac; done
$1
{ printf '%%PDF-1.7\n' && head -n 3 page.md && printf '\n%%%%EOF\n'; } >"\$file"
END
    cp tools/pandoc tools/weasyprint
    chmod +x tools/pandoc tools/weasyprint
    case $PATH in "$scratch/tools":*) ;; *) PATH=$scratch/tools:$PATH ;; esac
}
