#!/usr/bin/env bash
# Let a button shut a Raspberry Pi down: shutdown-button.sh add PIN CONFIG | remove CONFIG
# PIN is a GPIO number (3 also wakes the board), CONFIG the firmware's config.txt. Only lines between our marks change.
set -euo pipefail

begin='# fellside: shutdown button, begin'
end='# fellside: shutdown button, end'

refuse() {
  echo "shutdown-button.sh: $*; nothing was changed" >&2
  exit 2
}

# Print the file $1 without our lines; refuse where what stands between the marks is not all ours.
without_our_lines() {
  local config=$1 line bare inside=''
  while IFS= read -r line || [[ -n $line ]]; do
    bare=${line%$'\r'}
    if [[ -z $inside ]]; then
      if [[ $bare == "$begin" ]]; then inside=yes; else printf '%s\n' "$line"; fi
      continue
    fi
    case "$bare" in
      "$end") inside='' ;;
      '[all]' | dtoverlay=gpio-shutdown,*) ;;
      *) refuse "'$bare' in $config stands after '$begin' and is not ours; take our four lines out by hand" ;;
    esac
  done <"$config"
  if [[ -n $inside ]]; then refuse "'$end' is missing in $config; take our lines out by hand"; fi
}

# Replace the file $1 by stdin in one step: a board whose config.txt is half written does not start.
replace() {
  local config=$1 next
  next=$config.fellside-new
  cat >"$next"
  sync "$next"
  mv --force "$next" "$config"
  sync "$(dirname "$config")"
}

case "${1-}" in
  add)
    pin=$2 config=$3
    if ! [[ $pin =~ ^([2-9]|1[0-9]|2[0-7])$ ]]; then
      refuse "'$pin' is no pin; give the GPIO number, 2 to 27"
    fi
    text=$(without_our_lines "$config")
    printf '%s\n%s\n[all]\ndtoverlay=gpio-shutdown,gpio_pin=%s,active_low=1,gpio_pull=up\n%s\n' \
      "$text" "$begin" "$pin" "$end" | replace "$config"
    ;;
  remove)
    config=$2
    text=$(without_our_lines "$config")
    if grep --quiet --fixed-strings -- "$begin" "$config"; then printf '%s\n' "$text" | replace "$config"; fi
    ;;
  *)
    echo "shutdown-button.sh: say add PIN CONFIG, or remove CONFIG" >&2
    exit 2
    ;;
esac
