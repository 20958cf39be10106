# Sourced by cmake/run and cmake/test: installs what is missing, configures, builds. Needs nothing but git and apt.
set -eu
top=$(cd "$(dirname "$0")/.." && pwd)
build=${HOOPWRIGHT_BUILD:-$top/build}

say() { printf '%s\n' "$*" >&2; }

# install run|test...: the packages of these uses that are not there yet.
install() {
    command -v apt-get >/dev/null || { say "This script sets up Debian 12 and Ubuntu 24.04; elsewhere install the packages named in cmake/packages and build with cmake."; return 0; }
    missing=""
    for use in "$@"; do
        for package in $(sed -n "s/^$use //p" "$top/cmake/packages"); do
            dpkg-query -W -f '${Status}' "$package" 2>/dev/null | grep -q 'ok installed' || missing="$missing $package"
        done
    done
    [ -n "$missing" ] || return 0
    say "Installing:$missing"
    as_root=""
    if [ "$(id -u)" -ne 0 ]; then
        command -v sudo >/dev/null || { say "These packages need root: run  apt-get install$missing  as root, then this again."; exit 1; }
        say "(sudo may ask for your password)"
        as_root=sudo
    fi
    $as_root apt-get update -q >&2
    # A second opinion or a tool one release does not carry is left out, and the tests that want it say so.
    here=""
    for package in $missing; do
        if apt-cache show "$package" >/dev/null 2>&1; then here="$here $package"; else say "Not in this release: $package"; fi
    done
    [ -n "$here" ] || return 0
    missing=$here
    # shellcheck disable=SC2086
    DEBIAN_FRONTEND=noninteractive $as_root apt-get install -y -q --no-install-recommends $missing >&2
}

# build_targets TESTS TARGET...
build_targets() {
    tests=$1
    shift
    export CCACHE_BASEDIR="$top" CCACHE_NOHASHDIR=1
    [ -f "$build/build.ninja" ] || say "First build: some minutes on two cores."
    cmake -S "$top" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DHOOPWRIGHT_TESTS="$tests" >"$build.configure.log" 2>&1 || {
        cat "$build.configure.log" >&2
        exit 1
    }
    rm -f "$build.configure.log"
    cmake --build "$build" --target "$@"
}
