#!/usr/bin/env bash
# Keep the screen lit while the program runs: blanking.sh off|on
set -euo pipefail

case "${1-}" in
  off) saver=off power=-dpms signal=STOP ;;
  on) saver=default power=+dpms signal=CONT ;;
  *)
    echo "blanking.sh: say off or on" >&2
    exit 2
    ;;
esac

if [[ ${XDG_SESSION_TYPE-} == wayland ]]; then
  # In labwc's session swayidle counts the idle minutes; while it stands still the screen stays lit.
  pkill "-$signal" --exact --euid "$EUID" swayidle || echo "blanking.sh: no swayidle runs, nothing to hold" >&2
elif [[ -n ${DISPLAY-} ]]; then
  xset s "$saver"
  xset "$power" || true # some servers cannot switch a screen's power at all
fi
