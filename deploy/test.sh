#!/usr/bin/env bash
# Set Fellside up where it lies and run every check: deploy/test.sh [ARGUMENTS OF pytest]
# Starts a virtual display where there is none, and ends it again.
set -euo pipefail
# shellcheck source=deploy/setup.bash
source "$(dirname "${BASH_SOURCE[0]}")/setup.bash"

require_groups window display test
require_venv test

start_display() {
  local scratch number=''
  scratch=$(mktemp -d)
  mkfifo "$scratch/number"
  Xvfb -displayfd 3 -screen 0 1280x800x24 -nolisten tcp 3>"$scratch/number" 2>"$scratch/complaint" &
  display_process=$!
  trap 'end_display' EXIT
  read -r -t 30 number <"$scratch/number" || stop "no virtual display: $(tail -n 1 "$scratch/complaint")"
  rm -r -- "$scratch"
  export DISPLAY=:$number
}

end_display() {
  kill "$display_process" 2>/dev/null || true
  wait "$display_process" 2>/dev/null || true
}

if [[ -z ${DISPLAY-} ]]; then start_display; fi

cd "$project"
# Compiled once, not by every worker and every program that a test starts anew.
unset PYTHONDONTWRITEBYTECODE
"$venv/bin/python" -m pytest -n 3 --dist worksteal "$@"
