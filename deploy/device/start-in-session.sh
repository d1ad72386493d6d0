#!/usr/bin/env bash
# Start Fellside from a desktop session, which alone knows its display: some (labwc on Raspberry Pi OS 12) tell systemd
# neither that they began nor where the display is.
set -euo pipefail

systemctl --user import-environment DISPLAY XAUTHORITY WAYLAND_DISPLAY XDG_SESSION_TYPE
# Whoever starts it by hand wants it tried, however often it failed before.
systemctl --user reset-failed fellside.service 2>/dev/null || true
exec systemctl --user --no-block start fellside.service
