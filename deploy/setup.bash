# Sourced by the scripts of this folder: system packages from deploy/packages, and the virtual environment in .venv.
# Writes inside the project's .venv only, apart from system packages; speaks on stderr, so that stdout is the program's.
# shellcheck shell=bash

# A failure inside $(...) ends the script as well.
shopt -s inherit_errexit

project=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd -P)
venv=$project/.venv
stamp=$venv/fellside-set-up
unfinished=$venv/fellside-unfinished
readonly project venv stamp unfinished

speaker='fellside set-up'
say() { printf '%s: %s\n' "$speaker" "$*" >&2; }

# Say what is wrong and how to mend it, and end with the status for bad input.
stop() {
  say "$*"
  exit 2
}

# --- Python ---------------------------------------------------------------------------------------------------------

# Print 3.11, 3.12 or 3.13, or fail when the interpreter $1 does not run or is another version.
fitting_version() {
  "$1" -c 'import sys
if not (3, 11) <= sys.version_info[:2] < (3, 14): sys.exit(1)
print("%d.%d" % sys.version_info[:2])' 2>/dev/null
}

# Print the first interpreter that fits.
find_python() {
  local name
  for name in python3 python3.13 python3.12 python3.11; do
    if fitting_version "$name" >/dev/null; then
      command -v "$name"
      return
    fi
  done
  stop "no Python 3.11, 3.12 or 3.13 found ($(python3 --version 2>&1 || true)); install one of them, for example: apt-get install python3"
}

# --- System packages ------------------------------------------------------------------------------------------------

# Print the package entries of the groups named, one a line.
packages_of() {
  local group entry wanted
  for wanted in "$@"; do
    while read -r group entry _; do
      if [[ $group == "$wanted" ]]; then printf '%s\n' "$entry"; fi
    done <"$project/deploy/packages"
  done
}

# Tell whether one of the names in an entry such as `libmtdev1|libmtdev1t64` is installed.
is_installed() {
  local name
  for name in ${1//|/ }; do
    if [[ $(dpkg-query --show --showformat='${db:Status-Status}' "$name" 2>/dev/null) == installed ]]; then return; fi
  done
  return 1
}

# Print the name in an entry that this release has; the first when apt knows none of them yet.
name_here() {
  local name
  for name in ${1//|/ }; do
    if apt-cache show --quiet=2 --no-all-versions "$name" 2>/dev/null | grep --quiet '^Filename:'; then
      printf '%s\n' "$name"
      return
    fi
  done
  printf '%s\n' "${1%%|*}"
}

as_root() {
  if [[ $EUID -eq 0 ]]; then "$@"; else sudo -n "$@"; fi
}

may_install() { [[ $EUID -eq 0 ]] || sudo -n true 2>/dev/null; }

apt_get() {
  as_root env DEBIAN_FRONTEND=noninteractive apt-get --quiet --yes -o DPkg::Lock::Timeout=120 -o Dpkg::Use-Pty=0 "$@" \
    </dev/null >&2
}

# Install the entries given that are missing, or name them and stop where this user may not.
require_packages() {
  local entry missing=() names=()
  for entry in "$@"; do
    if ! is_installed "$entry"; then missing+=("$entry"); fi
  done
  if [[ ${#missing[@]} -eq 0 ]]; then return; fi
  if ! may_install; then
    for entry in "${missing[@]}"; do names+=("$(name_here "$entry")"); done
    stop "missing system packages, and no right to install them; ask for: apt-get install ${names[*]}"
  fi
  if ! apt-cache show "${missing[@]%%|*}" >/dev/null 2>&1; then
    apt_get update || say "apt-get update failed; trying with the lists that are here"
  fi
  for entry in "${missing[@]}"; do names+=("$(name_here "$entry")"); done
  say "installing system packages: ${names[*]}"
  apt_get install --no-install-recommends "${names[@]}" ||
    { apt_get update && apt_get install --no-install-recommends "${names[@]}"; } ||
    stop "system packages could not be installed (see above); mend that, or ask for: apt-get install ${names[*]}"
}

# Install the packages of the groups named; where there is no apt, name them once and go on.
require_groups() {
  local entries
  mapfile -t entries < <(packages_of "$@")
  if command -v apt-get >/dev/null && command -v dpkg-query >/dev/null; then
    require_packages "${entries[@]}"
  elif [[ ! -e $stamp ]]; then
    say "not a Debian system: if something is missing, install what Debian calls ${entries[*]}"
  fi
}

# --- The virtual environment ----------------------------------------------------------------------------------------

# Print what the environment was made from: it fits only the same Python, place and dependencies. The settings of tools
# that follow in pyproject.toml are left out: nothing need be installed when they change.
description() {
  { "$venv/bin/python" -c 'import sys; print(sys.version)' && printf '%s\n' "$project" &&
    sed '/^\[tool\./,$d' "$project/pyproject.toml"; } | sha256sum | cut -d ' ' -f 1
}

# Tell whether the environment is there and of use: not cut off half made, its Python fits and it has pip.
venv_is_sound() {
  [[ ! -e $unfinished ]] && fitting_version "$venv/bin/python" >/dev/null && "$venv/bin/python" -c 'import pip' 2>/dev/null
}

# Stop where the environment was made by somebody else, root above all: this user can neither use nor mend it.
require_ours() {
  local owner
  if [[ -e $venv && ! -w $venv ]]; then
    owner=$(stat --format=%U "$venv")
    stop "$venv belongs to $owner; have it taken away (sudo rm -rf $venv), then run this again"
  fi
  [[ -w $project ]] || stop "$project may not be written by you; run this as the user whom it belongs to"
}

make_venv() {
  local python version
  python=$(find_python)
  version=$(fitting_version "$python")
  if ! "$python" -c 'import ensurepip, venv' 2>/dev/null; then
    local entries
    mapfile -t entries < <(packages_of python | sed "s/3\.X/$version/")
    if command -v apt-get >/dev/null; then require_packages "${entries[@]}"; fi
    "$python" -c 'import ensurepip, venv' 2>/dev/null ||
      stop "$python cannot make virtual environments; install what Debian calls ${entries[*]}"
  fi
  require_ours
  rm -rf -- "$venv"
  mkdir -- "$venv"
  : >"$unfinished"
  "$python" -m venv "$venv" >&2 || stop "$python could not make $venv (see above)"
}

# Make .venv hold the project and the extra $1 (`test`, or nothing); no network and no pip when it already does.
require_venv() {
  local extra=$1 made=()
  if venv_is_sound; then
    if [[ -e $stamp ]]; then mapfile -t made <"$stamp"; fi
    if [[ ${made[0]-} == "$(description)" && (${made[1]-} == test || ${made[1]-} == "$extra") ]]; then return; fi
  else
    make_venv
  fi
  require_ours
  say "installing into $venv (this needs the network, and a few minutes on a small computer)"
  install_project "$extra"
  printf '%s\n%s\n' "$(description)" "$extra" >"$stamp"
}

# Run pip under the mark that tells, should the power fail meanwhile, that nothing in .venv can be trusted. Where pip
# itself gives up it has changed nothing (it fetches everything first), so an environment that was whole stays in use.
install_project() {
  local extra=$1 was_whole=''
  if [[ ! -e $unfinished ]]; then was_whole=yes; fi
  : >"$unfinished"
  if ! "$venv/bin/python" -m pip install --quiet --no-input --no-cache-dir --disable-pip-version-check \
    --progress-bar off --editable "$project${extra:+[$extra]}" >&2; then
    if [[ -n $was_whole ]]; then rm -f -- "$unfinished"; fi
    stop "Python packages could not be installed (see above); is the network there? Run this again when it is"
  fi
  rm -f -- "$unfinished"
}
