#!/bin/sh
# Builds out/plugwright_VERSION_ARCHITECTURE.deb of what `make install` puts below PREFIX=/usr.
# Usage: deb.sh STAGE OUT VERSION MAKE..., where MAKE... installs to DESTDIR=STAGE.  The same source
# gives the same bytes: times are SOURCE_DATE_EPOCH's or the last commit's.
set -eu
stage=$1 out=$2 version=$3
shift 3
here=$(dirname "$0")
SOURCE_DATE_EPOCH=${SOURCE_DATE_EPOCH:-$(git log -1 --format=%ct 2>/dev/null || echo 1767225600)}
export SOURCE_DATE_EPOCH

rm -rf "$stage"
umask 022
"$@" DESTDIR="$stage"

# Where Debian has it otherwise.
doc=$stage/usr/share/doc/plugwright
mkdir -p "$stage/usr/share/zsh/vendor-completions" "$doc"
mv "$stage/usr/share/zsh/site-functions/_plugwright" "$stage/usr/share/zsh/vendor-completions/"
rmdir "$stage/usr/share/zsh/site-functions"
chmod 755 "$stage/usr/share/plugwright/pre-commit"
strip --strip-unneeded --remove-section=.comment --remove-section=.note "$stage/usr/bin/plugwright"
{
    echo 'Format: https://www.debian.org/doc/packaging-manuals/copyright-format/1.0/'
    echo 'Upstream-Name: plugwright'
    echo
    echo 'Files: *'
    sed -n 's/^Copyright (c) /Copyright: /p' "$here/../../LICENSE"
    echo 'License: Expat'
    sed '1,/^Copyright/d; 1,/^$/{/^$/d}; s/^$/./; s/^/ /' "$here/../../LICENSE"
} >"$doc/copyright"
{
    echo "plugwright ($version) unstable; urgency=low"
    echo
    echo '  * Built from its source by make deb.'
    echo
    printf ' -- plugwright authors <plugwright@example.org>  %s\n' \
        "$(LC_ALL=C date -u -R -d "@$SOURCE_DATE_EPOCH")"
} >"$doc/changelog"
gzip -9n "$doc/changelog" "$stage"/usr/share/man/man?/*

# The libraries that the program was linked with, as the packages here call them.
mkdir -p "$stage/work/debian" "$stage/DEBIAN"
printf 'Source: plugwright\n\nPackage: plugwright\nArchitecture: any\n' >"$stage/work/debian/control"
depends=$(cd "$stage/work" && dpkg-shlibdeps -O ../usr/bin/plugwright 2>/dev/null)
rm -r "$stage/work"
sed -e "s/@VERSION@/$version/; s/@ARCHITECTURE@/$(dpkg --print-architecture)/" \
    -e "s/@SIZE@/$(du -k -s "$stage/usr" | cut -f 1)/; s/@DEPENDS@/${depends#shlibs:Depends=}/" \
    "$here/control" >"$stage/DEBIAN/control"
(cd "$stage" && find usr -type f -exec md5sum {} + | LC_ALL=C sort -k 2) >"$stage/DEBIAN/md5sums"
find "$stage" -exec touch -h -d "@$SOURCE_DATE_EPOCH" {} +
dpkg-deb --root-owner-group -Zxz --build "$stage" "$out"
