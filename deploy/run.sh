#!/usr/bin/env bash
# Set Fellside up where it lies and start it: deploy/run.sh [ARGUMENTS OF fellside]
# Without arguments: the last warp, or what can be begun; a rehearsal where there is neither a display nor a terminal.
set -euo pipefail
# shellcheck source=deploy/setup.bash
source "$(dirname "${BASH_SOURCE[0]}")/setup.bash"

require_groups window display
require_venv ''

if [[ $# -eq 0 && -z ${DISPLAY-} && ! (-t 0 && -t 1) ]]; then
  set -- rehearse
fi
exec "$venv/bin/fellside" "$@"
