# Sourced by the other scripts.
# shellcheck shell=bash

stop() {
    echo "$*" >&2
    exit 1
}

# install_packages WHAT-FOR PACKAGE...
# Installs Debian packages when that is possible without asking anyone; otherwise prints the one
# command that does it, and stops.
install_packages() {
    local purpose=$1
    shift
    if ! can_install; then
        stop "$purpose: not found on this machine. On Debian or Ubuntu install it with:
    sudo apt-get install -y $*
(on another system, install its packages of the same libraries)."
    fi
    echo "$purpose: installing $*"
    export DEBIAN_FRONTEND=noninteractive
    apt-get update -qq </dev/null
    apt-get install -y -qq --no-install-recommends "$@" </dev/null >/dev/null ||
        stop "$purpose: apt-get could not install $*"
}

can_install() {
    [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null
}
