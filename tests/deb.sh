#!/bin/bash
# The Debian package, unpacked: lintian has nothing against it, it works from where it lies, and the
# same source gives the same bytes.  Usage: deb.sh PACKAGE
. "$(dirname "$0")/shared.sh"
needs lintian dpkg-deb mandoc
package=$(realpath "$1") || exit 2
cd "$scratch" || exit 2

lintian_is_silent() { # of errors and warnings
    ends 0 lintian --allow-root --fail-on error,warning "$package" && ! grep -q '^[EW]:' printed
}
it "lintian has nothing against it" lintian_is_silent
it "it is unpacked" ends 0 dpkg-deb -x "$package" root
it "its fields are read" ends 0 dpkg-deb -f "$package"
for field in "Package: plugwright" "Recommends: fonts-liberation, pandoc, weasyprint"; do
    it "one is $field" prints_line "$field"
done
it "it depends on what it was linked with" grep -q '^Depends: .*libyaml-0-2' printed
program=$scratch/root/usr/bin/plugwright
it "the program tells its version" gives 0 --version
it "which is the package's" prints "plugwright $(dpkg-deb -f "$package" Version)"
it "it writes an order" gives 0 order "$top/recipes/grebe.yaml"
it "with its drawings" [ -s out/grebe/side.svg ]
it "one of an example too" gives 0 order root/usr/share/doc/plugwright/examples/bittern.yaml
it "which found its workshop" grep -q 'workshop .workshop[.]yaml' out/bittern/bittern.md
it "a starter names the schema of the package" gives 0 new heron
it "where it is" [ -s "root$(sed -n '1s/.*schema=//p' printed)" ]
for page in man1/plugwright.1 man5/plugwright-recipe.5; do
    gunzip -c "root/usr/share/man/$page.gz" >"$scratch/unpacked"
    it "$page is a manual page" ends 0 mandoc -T lint -W warning "$scratch/unpacked"
done
for file in bash-completion/completions/plugwright zsh/vendor-completions/_plugwright \
    fish/vendor_completions.d/plugwright.fish doc/plugwright/copyright doc/plugwright/changelog.gz \
    doc/plugwright/tutorial.md plugwright/pre-commit; do
    it "there is $file" [ -s "root/usr/share/$file" ]
done
it "nothing lies elsewhere" [ "$(ls root root/usr)" = "$(printf 'root:\nusr\n\nroot/usr:\nbin\nshare')" ]
finish
