# Sourced by run, check and measure: says what it does, installs what is missing, builds.
# shellcheck shell=bash
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

say() { printf '\n== %s\n' "$*"; }
fail() {
  printf '%s: %s\n' "$(basename "$0")" "$*" >&2
  exit 1
}

# Compilers, libraries and fonts that building and running need.
build_packages=(
  g++ cmake ninja-build pkg-config mold ccache git ca-certificates nodejs
  libboost-dev libsqlite3-dev libsqlitecpp-dev nlohmann-json3-dev libcli11-dev libfmt-dev
  libhowardhinnant-date-dev libsodium-dev libqrencode-dev libcairo2-dev libpango1.0-dev
  libjpeg62-turbo-dev libpng-dev libtomlplusplus-dev libpugixml-dev coinor-libcbc-dev tzdata fonts-dejavu-core
)
# What tests and measurements need beside those.
test_packages=(
  libgtest-dev libgmock-dev libgeographiclib-dev libz3-dev poppler-utils zbar-tools chromium sqlite3 curl xz-utils
)

as_root() {
  if [ "$(id -u)" = 0 ]; then "$@"; else
    command -v sudo >/dev/null || fail "this needs root, or sudo, to install packages"
    sudo "$@"
  fi
}

# Installs the Debian packages named that are not there yet.
install_packages() {
  local missing=() package
  for package in "$@"; do
    dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q 'install ok installed' ||
      missing+=("$package")
  done
  # A node that is there already (another source than Debian) is as good.
  if command -v node >/dev/null && command -v npm >/dev/null; then
    missing=("${missing[@]/nodejs/}") && missing=("${missing[@]/npm/}")
  fi
  local wanted=()
  for package in "${missing[@]}"; do [ -n "$package" ] && wanted+=("$package"); done
  [ ${#wanted[@]} = 0 ] && return 0
  say "Installing ${#wanted[@]} Debian packages: ${wanted[*]}"
  local log=build/packages.log
  mkdir -p build
  as_root apt-get update >"$log" 2>&1 ||
    fail "the Debian packages cannot be reached: is there a network? (details in $log)"
  as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends \
    -o DPkg::Lock::Timeout=300 "${wanted[@]}" >>"$log" 2>&1 ||
    fail "installing packages failed; the last line of $log: $(tail -n 1 "$log")"
}

need_space() { # megabytes
  local free
  free=$(df -Pm . | awk 'NR == 2 {print $4}')
  [ "$free" -ge "$1" ] || fail "only $free MB of disk are free here; at least $1 MB are needed"
}

need_node() {
  command -v npm >/dev/null || install_packages npm
  local major
  major=$(node --version | sed 's/^v\([0-9]*\).*/\1/')
  [ "$major" -ge 18 ] || fail "node $(node --version) is too old for the pages; 18 or newer is needed"
}

# Builds the targets named, or everything, in build/release. With `tests=ON` in front, tests and
# measurements are part of it; once they are, they stay.
tests=OFF
build() {
  export CCACHE_BASEDIR=$PWD CCACHE_NOHASHDIR=1
  mkdir -p build
  if [ ! -f build/release/build.ninja ] ||
    { [ $tests = ON ] && grep -q '^ROLLWRIGHT_TESTS:BOOL=OFF' build/release/CMakeCache.txt; }; then
    cmake --preset release -DROLLWRIGHT_TESTS=$tests >build/configure.log 2>&1 ||
      { tail -n 15 build/configure.log >&2; fail "configuring failed; see build/configure.log"; }
  fi
  cmake --build build/release -j"$(nproc)" --target "$@" ||
    fail "building failed; what is wrong stands above"
}
