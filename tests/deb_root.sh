#!/bin/bash
# The Debian package in a clean root of its own: installed by apt with what it needs, used there by a
# user who is not root, and removed without a trace.  Needs root, the network and mmdebstrap.
# Usage: deb_root.sh PACKAGE
. "$(dirname "$0")/shared.sh"
needs mmdebstrap chroot
package=$(realpath "$1") || exit 2
root=$scratch/root
suite=$(sed -n 's/^VERSION_CODENAME=//p' /etc/os-release)

in_root() { ends 0 chroot "$root" /usr/bin/env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin HOME=/home/builder \
    DEBIAN_FRONTEND=noninteractive TERM=dumb "$@"; }
as_builder() { in_root su builder -s /bin/sh -c "cd && $1"; }

it "a root is made" ends 0 mmdebstrap --variant=apt --mode=root "${suite:-stable}" "$root"
[ -d "$root/usr" ] || { finish; exit 1; }
cp "$package" "$root/plugwright.deb" && cp "$top/recipes/grebe.yaml" "$root/grebe.yaml" || exit 2
cp /etc/resolv.conf "$root/etc/resolv.conf" 2>/dev/null
it "its lists of packages are read" in_root apt-get update -qq
it "the package is installed, with what it needs" in_root apt-get install -y -qq --no-install-recommends /plugwright.deb
it "there is a builder" in_root useradd -m builder
it "who begins a recipe" as_builder 'plugwright new heron >heron.yaml'
it "which is sound" as_builder 'plugwright check heron.yaml'
it "whose editor finds the schema" as_builder 'sed -n "1s/.*schema=//p" heron.yaml | xargs test -s'
it "and gets an order" as_builder 'plugwright order heron.yaml && test -s out/heron/heron.md'
it "without the tools for a PDF" as_builder '! plugwright order --pdf heron.yaml 2>said && grep -q pandoc said'
it "they are installed, as it recommends" in_root apt-get install -y -qq --no-install-recommends pandoc weasyprint fonts-liberation
it "and a PDF is made" as_builder 'plugwright order --pdf heron.yaml && test -s out/heron/heron.pdf'
it "another recipe too" as_builder 'plugwright order --pdf /grebe.yaml && test -s out/grebe/grebe.pdf'
it "it is removed" in_root apt-get purge -y -qq plugwright
it "without a trace" [ -z "$(find "$root/usr" "$root/etc" -name '*plugwright*')" ]
finish
