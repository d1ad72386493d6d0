#!/usr/bin/env bash
# Copy the warps of USER, verified, to the stick DEVICE: copy-to-stick.sh DEVICE USER PROGRAM (as root)
set -euo pipefail

device=$1 user=$2 program=$3
label=$(blkid --output value --match-tag LABEL "$device" || true)
if [[ $label != FELLSIDE ]]; then
  echo "copy-to-stick.sh: $device is labelled '$label', not FELLSIDE: nothing copied" >&2
  exit 2
fi

where=$(mktemp --directory /run/fellside-stick.XXXXXX)
leave() {
  if mountpoint --quiet "$where"; then umount "$where"; fi
  rmdir "$where"
}
trap leave EXIT

options=nosuid,nodev,noexec
case "$(blkid --output value --match-tag TYPE "$device")" in
  vfat | exfat) options+=,uid=$(id --user "$user"),gid=$(id --group "$user") ;;
esac
mount --options "$options" "$device" "$where"
mkdir --parents "$where/fellside"
if [[ $(stat --format %U "$where/fellside") != "$user" ]]; then chown "$user:" "$where/fellside"; fi
runuser --user "$user" -- env HOME="$(getent passwd "$user" | cut --delimiter : --fields 6)" \
  "$program" backup "$where/fellside"
sync --file-system "$where"
