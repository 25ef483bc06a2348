#!/bin/sh
# Writes C that holds the given files as slices: order.css becomes style_order_css (style.h).
set -eu
printf '#include "emit/print/style.h"\n'
for file; do
    name=style_$(basename "$file" | tr . _)
    printf '\nstatic const unsigned char %s_bytes[] = {\n' "$name"
    od -An -v -tx1 "$file" | sed 's/ \(..\)/0x\1,/g'
    printf '};\nconst struct str %s = {(const char *)%s_bytes, sizeof %s_bytes};\n' \
        "$name" "$name" "$name"
done
