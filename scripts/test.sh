#!/usr/bin/env bash
# Everything: the checks, the tests, a server killed at any moment, and the journey in a browser.
set -euo pipefail
cd "$(dirname "$0")/.."
# shellcheck source=scripts/common.sh
. scripts/common.sh

bash scripts/check.sh
want_chromium
.venv/bin/python -m pytest -q -n 2 -m "not browser and not kill"
.venv/bin/python -m pytest -q -m kill
# A browser mostly waits: three at a time keep two cores busy.
.venv/bin/python -m pytest -q -n 3 -m browser
