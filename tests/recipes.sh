#!/bin/sh
# Prints the recipes of a folder, a line each: what begins with `recipe: 1`, so not the workshop that
# lies beside them.  Usage: recipes.sh FOLDER.
exec grep -lx 'recipe: 1' "$1"/*.yaml
