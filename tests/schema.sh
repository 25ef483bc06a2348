#!/bin/bash
# The JSON Schemas for editors agree with `check`, by an independent validator (schema.py).
. "$(dirname "$0")/shared.sh"
needs /usr/bin/python3
cd "$scratch" || exit 2
it "the schemas were tried to the end" ends 0 /usr/bin/python3 -B "$top/tests/schema.py" "$program" "$top"
cp printed lines
while read -r mark sentence; do it "$sentence" [ "$mark" = + ]; done <lines
it "to the last thing" grep -qx '+ all of it was tried' lines
finish
