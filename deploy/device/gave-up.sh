#!/usr/bin/env bash
# Say on the screen that Fellside does not start, and what to do: gave-up.sh window|terminal
# Needs nothing of Fellside, whose fault it may be: a page in the browser, or text on the terminal.
set -euo pipefail

case "${1-}" in
  window) manager=(--user) unit=fellside.service control='systemctl --user' ;;
  terminal) manager=() unit=fellside-kiosk.service control='sudo systemctl' ;;
  *)
    echo "gave-up.sh: say window or terminal" >&2
    exit 2
    ;;
esac
warps=${FELLSIDE_HOME:-${XDG_DATA_HOME:-$HOME/.local/share}/fellside}
current=$HOME/.local/lib/fellside/current
log=$(journalctl "${manager[@]}" --unit "$unit" --output cat --lines 200 2>/dev/null || true)
last=$(grep '^fellside' <<<"$log" | tail -n 3 || true)

page() {
  cat <<END
Fellside does not start

It was started five times within three minutes and gave up.
Your warps are where they were: $warps

What it said last:
${last:-(nothing; see journalctl ${manager[*]} --unit $unit)}

What to do:
1. Switch the device off and on again.
2. If that is no help, go back to the release before, in a terminal:
   $current/deploy/device.sh roll-back
3. To weave meanwhile, in a terminal:
   $current/.venv/bin/fellside weave --text
4. To try again:
   $control reset-failed $unit
   $control start $unit
END
}

if [[ $1 == terminal ]]; then
  page
  printf '\nAlt and F2 together open a terminal.\n'
else
  file=${XDG_RUNTIME_DIR:-/tmp}/fellside-does-not-start.html
  {
    printf '<!DOCTYPE html><meta charset="utf-8"><title>Fellside does not start</title>'
    printf '<pre style="font-size: 1.4em; white-space: pre-wrap; margin: 2em">'
    page | sed 's/&/\&amp;/g; s/</\&lt;/g'
    printf '</pre>\n'
  } >"$file"
  xdg-open "$file"
fi
