#!/usr/bin/env bash
# Lay out what a package for a tablet is made of: lay-out.sh [FOLDER], by default app/ beside this file.
set -euo pipefail

here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd -P)
project=$(cd "$here/../.." && pwd -P)
app=${1-$here/app}

rm -rf -- "$app"
mkdir -p -- "$app"
cp -r -- "$here/main.py" "$project/companion" "$project/drivers" "$app"
# Where the program looks for them once it is installed.
cp -r -- "$project/assets" "$app/companion/assets"
find "$app" -name __pycache__ -type d -prune -exec rm -rf {} +
echo "lay-out.sh: $app is laid out" >&2
