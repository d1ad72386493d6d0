#!/usr/bin/env bash
# Make this computer the device beside the loom, keep it current, and undo it all: see assets/help/device.md.
#   device.sh install [--kiosk] [--button PIN]    starts with the desktop session, or alone on the whole screen
#   device.sh update [BRANCH or TAG]              the newest, set up and tried before it takes over
#   device.sh roll-back                           the release before the last update (twice: forth again)
#   device.sh status
#   device.sh remove                              everything that install did; the weaver's warps stay
set -euo pipefail
# shellcheck source=deploy/setup.bash
source "$(dirname "${BASH_SOURCE[0]}")/setup.bash"

speaker='fellside device'
device=$HOME/.local/lib/fellside
releases=$device/releases
source=$device/source.git
user_unit=$HOME/.config/systemd/user/fellside.service
autostart=$HOME/.config/autostart/fellside.desktop
menu=$HOME/.local/share/applications/fellside.desktop
gave_up_unit=$HOME/.config/systemd/user/fellside-gave-up.service
kiosk_gave_up_unit=/etc/systemd/system/fellside-kiosk-gave-up.service
kiosk_unit=/etc/systemd/system/fellside-kiosk.service
stick_unit=/etc/systemd/system/fellside-stick@.service
rules=/etc/udev/rules.d/61-fellside.rules
stick_script=/usr/local/lib/fellside/copy-to-stick.sh
former_target=$device/former-target
boot_config=/boot/firmware/config.txt

# --- Releases: two at most, each with its own environment; `current` and `previous` point at them ---------------------

# Print the folder a link points at, or nothing.
release_at() { readlink "$device/$1" || true; }

# Point `current` or `previous` at a release in one step: there is no moment without a program.
point() {
  ln --symbolic --force --no-dereference "$2" "$device/$1.next"
  mv --no-target-directory --force "$device/$1.next" "$device/$1"
}

# Lay out a commit as a release of its own, set it up and see it weave; prints its folder, relative to $device.
make_release() {
  local commit=$1 name folder trial
  name=$(git -C "$source" show --no-patch --date=format:%Y-%m-%d --format=%cd-%h "$commit")
  folder=$releases/$name
  if [[ ! -e $folder/.venv/fellside-tried ]]; then
    rm -rf -- "$folder"
    mkdir -p -- "$folder"
    git -C "$source" archive "$commit" | tar --extract --directory "$folder"
    trial=$(mktemp -d)
    if ! FELLSIDE_HOME=$trial "$folder/deploy/run.sh" rehearse >&2; then
      rm -rf -- "$folder" "$trial"
      stop "release $name could not be set up or did not weave its rehearsal (see above); nothing was changed"
    fi
    rm -rf -- "$trial"
    : >"$folder/.venv/fellside-tried"
  fi
  printf 'releases/%s\n' "$name"
}

# Let a release take over and keep the one before it.
take_over() {
  local release=$1 before folder
  before=$(release_at current)
  if [[ $before == "$release" ]]; then return; fi
  if [[ -n $before ]]; then point previous "$before"; fi
  point current "$release"
  for folder in "$releases"/*; do
    case "releases/${folder##*/}" in
      "$release" | "$before") ;;
      *) rm -rf -- "$folder" ;;
    esac
  done
}

# --- The system -------------------------------------------------------------------------------------------------------

system_runs() { [[ -d /run/systemd/system ]]; }
user_manager_runs() { system_runs && systemctl --user show-environment >/dev/null 2>&1; }

# Print a file of deploy/device with this user's name and home filled in.
filled_in() { sed "s|@USER@|$(id --user --name)|g; s|@HOME@|$HOME|g" "$project/deploy/device/$1"; }

put() {
  mkdir -p -- "$(dirname "$2")"
  filled_in "$1" >"$2"
}

put_system() { filled_in "$1" | as_root install -D --mode "${3-644}" /dev/stdin "$2"; }

tell_system() {
  if system_runs; then
    as_root systemctl daemon-reload
    as_root udevadm control --reload
    as_root udevadm trigger --subsystem-match=tty
  fi
  if user_manager_runs; then systemctl --user daemon-reload; fi
}

restart_program() {
  if user_manager_runs; then
    systemctl --user daemon-reload
    systemctl --user try-restart fellside.service
  fi
  if system_runs && [[ -e $kiosk_unit ]]; then as_root systemctl try-restart fellside-kiosk.service; fi
}

# --- What the weaver asks for -----------------------------------------------------------------------------------------

install_device() {
  local kiosk='' pin='' release url
  while [[ $# -gt 0 ]]; do
    case "$1" in
      --kiosk) kiosk=yes ;;
      --button) pin=${2-} && shift ;;
      *) stop "install knows --kiosk and --button PIN, not '$1'" ;;
    esac
    shift
  done
  may_install || stop "no right to change the system; run it as a user with sudo, after: sudo -v"
  if [[ -n $pin && ! -e $boot_config ]]; then stop "no $boot_config: a shutdown button needs a Raspberry Pi"; fi
  git -C "$project" rev-parse --quiet --verify HEAD >/dev/null 2>&1 ||
    stop "$project is no git checkout (or not yours); clone one and run it there"
  if [[ -n $pin ]]; then as_root "$project/deploy/device/shutdown-button.sh" add "$pin" "$boot_config"; fi

  mkdir -p -- "$releases"
  if [[ ! -e $source ]]; then git init --quiet --bare "$source"; fi
  url=$(git -C "$project" remote get-url origin 2>/dev/null || printf '%s\n' "$project")
  git -C "$source" config remote.origin.url "$url"
  git -C "$source" fetch --quiet "$project" HEAD
  release=$(make_release "$(git -C "$source" rev-parse FETCH_HEAD)")
  take_over "$release"

  if [[ -n $kiosk ]]; then install_kiosk; else install_desktop; fi
  put_system 61-fellside.rules "$rules"
  put_system copy-to-stick.sh "$stick_script" 755
  put_system fellside-stick@.service "$stick_unit"
  tell_system
  if [[ -n $kiosk ]]; then say "installed $release; it has the whole screen from the next boot on"; else
    say "installed $release; it starts with the next log-in, or now from the menu"
  fi
}

# Links: an update brings its own units along.
link_user_units() {
  local unit
  mkdir -p -- "$(dirname "$user_unit")"
  for unit in "$user_unit" "$gave_up_unit"; do
    ln --symbolic --force -- "$device/current/deploy/device/${unit##*/}" "$unit"
  done
}

install_desktop() {
  remove_kiosk
  link_user_units
  put fellside.desktop "$autostart"
  put fellside.desktop "$menu"
}

install_kiosk() {
  local entries
  mapfile -t entries < <(packages_of kiosk)
  require_packages "${entries[@]}"
  remove_desktop
  put_system fellside-kiosk.service "$kiosk_unit"
  put_system fellside-kiosk-gave-up.service "$kiosk_gave_up_unit"
  as_root systemctl --quiet enable fellside-kiosk.service
  if [[ ! -e $former_target ]]; then systemctl get-default >"$former_target"; fi
  as_root systemctl --quiet set-default multi-user.target
}

remove_desktop() {
  if user_manager_runs && [[ -e $user_unit ]]; then systemctl --user stop fellside.service; fi
  rm -f -- "$user_unit" "$gave_up_unit" "$autostart" "$menu"
}

remove_kiosk() {
  if [[ -e $kiosk_unit ]]; then
    as_root systemctl --quiet disable fellside-kiosk.service
    if system_runs; then as_root systemctl stop fellside-kiosk.service; fi
    as_root rm -f -- "$kiosk_unit" "$kiosk_gave_up_unit"
  fi
  # Also where the unit is gone already: nobody else gives the desktop back.
  if [[ -e $former_target ]]; then
    as_root systemctl --quiet set-default "$(<"$former_target")"
    rm -f -- "$former_target"
  fi
}

remove_device() {
  may_install || stop "no right to change the system; run it as a user with sudo, after: sudo -v"
  remove_desktop
  remove_kiosk
  as_root rm -f -- "$rules" "$stick_unit" "$stick_script"
  as_root rmdir --ignore-fail-on-non-empty "$(dirname "$stick_script")" 2>/dev/null || true
  if [[ -e $boot_config ]]; then as_root "$project/deploy/device/shutdown-button.sh" remove "$boot_config"; fi
  rm -rf -- "$device"
  tell_system
  tell_of_packages
  say "removed; the warps stay where they are, in ${FELLSIDE_HOME:-${XDG_DATA_HOME:-$HOME/.local/share}/fellside}"
}

# Name the packages that install may have brought: other programs may use them by now.
tell_of_packages() {
  local entry names=()
  while read -r entry; do
    if is_installed "$entry"; then names+=("$(name_here "$entry")"); fi
  done < <(packages_of window display kiosk)
  if [[ ${#names[@]} -gt 0 ]]; then say "these packages stay, as others may use them: ${names[*]}"; fi
}

installed_or_stop() { [[ -n $(release_at current) ]] || stop "nothing is installed here; run device.sh install first"; }

update_device() {
  local commit release wanted=${1-HEAD}
  installed_or_stop
  if [[ $wanted == -* ]] || ! git check-ref-format --allow-onelevel "$wanted"; then
    stop "'$wanted' is no name of a branch or tag"
  fi
  git -C "$source" fetch --quiet -- origin "$wanted" ||
    stop "$(git -C "$source" remote get-url origin) did not give ${1-its newest}; is the network there, and the name right?"
  commit=$(git -C "$source" rev-parse 'FETCH_HEAD^{commit}')
  release=$(make_release "$commit")
  if [[ $release == "$(release_at current)" ]]; then
    say "$release is the newest and in use already"
    return
  fi
  # The release in use may be what is broken; the new one knows old journals too.
  copy_warps_with current || copy_warps_with "$release" ||
    stop "the warps could not be copied first (see above); nothing was changed"
  take_over "$release"
  if [[ -e $user_unit ]]; then link_user_units; fi
  restart_program
  say "$release is in use; device.sh roll-back goes back to $(release_at previous)"
}

# Copy every warp that can be copied. Status 1 says that there is none yet, or which ones are damaged: no copy can be
# made of those, and the update may bring what mends them.
copy_warps_with() {
  local status=0
  "$device/$1/.venv/bin/fellside" backup >&2 || status=$?
  [[ $status -le 1 ]]
}

roll_back() {
  local current previous
  installed_or_stop
  current=$(release_at current) previous=$(release_at previous)
  if [[ -z $previous || $previous == "$current" ]]; then stop "there is no release before $current"; fi
  take_over "$previous"
  restart_program
  say "$previous is in use again; device.sh roll-back goes forth to $current"
}

show_status() {
  local current previous path
  current=$(release_at current) previous=$(release_at previous)
  printf 'in use:    %s\nbefore it: %s\n' "${current:-nothing installed}" "${previous:-none}"
  for path in "$user_unit" "$gave_up_unit" "$autostart" "$kiosk_unit" "$kiosk_gave_up_unit" "$rules" "$stick_unit" \
    "$stick_script"; do
    if [[ -e $path ]]; then printf 'installed: %s\n' "$path"; fi
  done
  if [[ -e $boot_config ]] && grep --quiet '^# fellside: shutdown button, begin$' "$boot_config"; then
    printf 'installed: a shutdown button, in %s\n' "$boot_config"
  fi
  if user_manager_runs; then printf 'desktop:   %s\n' "$(systemctl --user is-active fellside.service || true)"; fi
  if system_runs; then printf 'kiosk:     %s\n' "$(systemctl is-active fellside-kiosk.service || true)"; fi
}

[[ $EUID -ne 0 ]] || stop "run it as the weaver's own user, not as root"
case "${1-}" in
  install) install_device "${@:2}" ;;
  update) update_device "${@:2}" ;;
  roll-back) roll_back ;;
  status) show_status ;;
  remove) remove_device ;;
  *) stop "say install, update, roll-back, status or remove" ;;
esac
