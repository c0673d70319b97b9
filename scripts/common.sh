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

# Whatever a program of ours needs and pip cannot give.

need_text_layout() {
    text_layout_found && return
    install_packages "Text layout for papers (Pango, HarfBuzz)" \
        libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0
    text_layout_found || stop "Text layout for papers (Pango, HarfBuzz) still does not load."
}

text_layout_found() {
    .venv/bin/python - >/dev/null 2>&1 <<'PY'
import sys
from weasyprint.text import ffi
sys.exit(ffi.harfbuzz_subset is None)
PY
}

# A browser for the browser journey. Without one, and without the means to install one, its tests
# are reported as skipped.
want_chromium() {
    chromium_found && return
    if can_install && grep -q '^ID=debian' /etc/os-release; then
        install_packages "Chromium for the browser journey" chromium
    fi
}

chromium_found() {
    command -v chromium >/dev/null || command -v chromium-browser >/dev/null ||
        command -v google-chrome >/dev/null
}

# The demo house, and nothing else, runs without a key; and only for this machine.
demo() {
    BARCOURSE_DEMO=1 .venv/bin/python manage.py "$@"
}
