#!/usr/bin/env bash
# Copy the warps of USER, verified, to the stick DEVICE: copy-to-stick.sh DEVICE USER PROGRAM (as root, to mount it)
# A stick may be anybody's: nothing on it is followed, owned or written but by USER.
set -euo pipefail

device=$1 user=$2 program=$3
refuse() {
  echo "copy-to-stick.sh: $*; nothing copied" >&2
  exit 2
}

label=$(blkid --probe --output value --match-tag LABEL "$device" || true)
if [[ $label != FELLSIDE ]]; then refuse "$device is labelled '$label', not FELLSIDE"; fi

as_weaver() {
  setpriv --reuid="$user" --regid="$(id --group "$user")" --init-groups --no-new-privs --inh-caps=-all -- \
    env --ignore-environment PATH=/usr/bin:/bin HOME="$(getent passwd "$user" | cut --delimiter : --fields 6)" "$@"
}

where=$(mktemp --directory "${RUNTIME_DIRECTORY:-/run}/fellside-stick.XXXXXX")
leave() {
  if mountpoint --quiet "$where"; then umount "$where"; fi
  rmdir "$where"
}
trap leave EXIT

options=nosuid,nodev,noexec,nosymfollow
case "$(blkid --probe --output value --match-tag TYPE "$device")" in
  vfat | exfat) options+=,uid=$(id --user "$user"),gid=$(id --group "$user") ;;
esac
mount --options "$options" "$device" "$where"

copies=$where/fellside
if [[ -L $copies ]]; then refuse "'fellside' on the stick is a link, and where it leads is not the stick's to say"; fi
if [[ -e $copies && ! -d $copies ]]; then refuse "'fellside' on the stick is no folder"; fi
as_weaver mkdir --parents "$copies" ||
  refuse "$user may not write on this stick; make a folder 'fellside' on it that $user owns, or format it as exFAT"
# A warp that could not be copied fails this service at the end; the copies of the others must be whole on the stick.
status=0
as_weaver "$program" backup "$copies" || status=$?
sync --file-system "$where"
if [[ $status -ne 0 ]]; then exit "$status"; fi
