# shellcheck shell=bash
# Shared by ./start and ./check: asking for what is missing, and building with progress. Sourced by bash, not run.
# Uses: ROOT (the project's folder), YES (1: ask nothing). Everything it says goes to standard error.

say() { printf '%s\n' "$@" >&2; }
die() { say "$@"; exit 1; }

# packages_of SECTION...: the lines of those sections of tools/packages.
packages_of() {
  local line section=""
  while read -r line; do
    case $line in
      '' | '#'*) ;;
      '['*']') section=${line:1:-1} ;;
      *) [[ " $* " == *" $section "* ]] && printf '%s\n' "$line" ;;
    esac
  done <"$ROOT/tools/packages"
  return 0
}

# missing_packages SECTION...: those neither installed nor stood in for by a command, one a line.
missing_packages() {
  local package command
  while read -r package command; do
    [[ $(dpkg-query -W -f='${db:Status-Abbrev}' "$package" 2>/dev/null) == ii* ]] && continue
    [[ -n $command ]] && command -v "$command" >/dev/null && continue
    printf '%s\n' "$package"
  done < <(packages_of "$@")
}

# "123 MB" from bytes.
megabytes() { awk -v b="$1" 'BEGIN { printf(b < 1e6 ? "under 1 MB" : "%.0f MB", b / 1e6) }'; }

# What apt would fetch for these packages, in bytes; nothing when it does not know them.
download_bytes() {
  local uris
  uris=$(apt-get --print-uris -qq -y install --no-install-recommends "$@" 2>/dev/null) || return 1
  awk '{ sum += $3 } END { print sum + 0 }' <<<"$uris"
}

# need_packages SECTION...: returns when everything is there; asks once before installing; explains itself otherwise.
need_packages() {
  command -v dpkg-query >/dev/null ||
    die "This is not a Debian system (no dpkg). Lampside is built on Debian 12; tools/packages lists what it needs."
  local missing=() as_root=() bytes size answer log=$ROOT/build/packages.log
  mapfile -t missing < <(missing_packages "$@")
  ((${#missing[@]})) || return 0

  local by_hand="  sudo apt-get update && sudo apt-get install --no-install-recommends ${missing[*]}"
  if (($(id -u) != 0)); then
    if ! command -v sudo >/dev/null; then
      die "Missing: ${missing[*]}" "You are not root and there is no sudo here. Somebody with root should run:" "${by_hand//sudo /}" \
        "and then you can run this again."
    fi
    as_root=(sudo)
    if [[ $YES == 1 && ! -t 0 ]]; then
      sudo -n true 2>/dev/null || die "Missing: ${missing[*]}" "sudo wants a password and there is no terminal to type it on. Run:" "$by_hand"
    fi
  fi
  mkdir -p "$ROOT/build"
  if ! bytes=$(download_bytes "${missing[@]}"); then
    say "Fetching Debian's package lists first (about 10 MB), to see how big what is missing is."
    "${as_root[@]}" apt-get update >"$log" 2>&1 || { tail -n 5 "$log" >&2; die "apt-get update failed (above). Is this machine online?"; }
    bytes=$(download_bytes "${missing[@]}") ||
      die "Debian here does not know all of: ${missing[*]}" "Lampside is built on Debian 12 (bookworm) with its updates; /etc/apt/sources.list may lack them."
  fi
  size=$(megabytes "$bytes")
  say "Missing: ${missing[*]}" "To fetch with what they need themselves: $size, from Debian."
  if [[ $YES != 1 ]]; then
    [[ -t 0 ]] || die "There is no terminal to ask on. Run again with --yes, or install them by hand:" "$by_hand"
    read -r -p "Install them now? [Y/n] " answer
    [[ -z $answer || $answer == [yYjJ]* ]] || die "Nothing was installed. By hand it would be:" "$by_hand"
  fi
  say "Installing; what apt says goes to build/packages.log"
  if ! "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -q -y -o DPkg::Lock::Timeout=120 \
    install --no-install-recommends "${missing[@]}" >"$log" 2>&1; then
    tail -n 15 "$log" >&2
    die "apt-get failed; the end of its log stands above. Try it by hand:" "$by_hand"
  fi
}

# How many compilers at once: one a core, but each wants about a gigabyte.
how_many_at_once() {
  local cores memory
  cores=$(nproc)
  memory=$(awk '/MemAvailable/ { print int($2 / 1000000) }' /proc/meminfo)
  ((memory < 1)) && memory=1
  echo "${LAMPSIDE_JOBS:-$((cores < memory ? cores : memory))}"
}

# Reads a build's output. Terminal: one line that moves. Otherwise: a plain line at every tenth of the way.
show_progress() {
  local what=$1 line step all tenth last=-1 shown=0
  while IFS= read -r line; do
    # Ninja counts its own look at the folders too ("[0/2] Re-checking"); that is not a step of ours.
    [[ $line =~ ^\[([0-9]+)/([0-9]+)\] && $line != *"] Re-"* ]] || continue
    step=${BASH_REMATCH[1]} all=${BASH_REMATCH[2]}
    if [[ -t 2 ]]; then
      printf '\r\033[K%s: %d of %d steps' "$what" "$step" "$all" >&2
      shown=1
    else
      tenth=$((step * 10 / all))
      ((tenth != last)) && say "$what: $step of $all steps"
      last=$tenth
    fi
  done
  ((shown)) && printf '\r\033[K' >&2
  return 0
}

# build PRESET WHAT [TARGET...]: configures if need be and builds; the whole output goes to build/PRESET.log.
build() {
  local preset=$1 what=$2 log=$ROOT/build/$1.log started=$SECONDS
  shift 2
  mkdir -p "$ROOT/build"
  : >"$log"
  if [[ ! -f $ROOT/build/$preset/build.ninja ]]; then
    say "$what: looking for the parts"
    (cd "$ROOT" && cmake --preset "$preset") >>"$log" 2>&1 || build_failed "$preset" "configuring" || return 1
  fi
  (cd "$ROOT" && cmake --build "build/$preset" -j "$(how_many_at_once)" ${1:+--target "$@"} 2>&1) | tee -a "$log" | show_progress "$what"
  ((PIPESTATUS[0] == 0)) || build_failed "$preset" "building" || return 1
  say "$what: built in $((SECONDS - started)) s"
}

build_failed() {
  local log=$ROOT/build/$1.log
  {
    echo
    echo "The $2 of '$1' failed. The end of build/$1.log:"
    # The first error says more than the last line; show it with what follows, else the end.
    if grep -q -m1 -E '(error|CMake Error|FAILED)' "$log"; then grep -m3 -A6 -E '(error:|CMake Error|FAILED:)' "$log" | cut -c1-300; fi
    echo "..."
    tail -n 8 "$log" | cut -c1-300
    echo
    echo "What to do: if it speaks of a full disk or of being killed, free some or run with LAMPSIDE_JOBS=1. If the build"
    echo "folder is from another machine or compiler, remove build/$1 and run this again."
  } >&2
  return 1
}
