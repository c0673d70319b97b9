#!/usr/bin/env bash
# Everything: the checks, the tests, and the journey in a real browser.
set -euo pipefail
cd "$(dirname "$0")/.."
# shellcheck source=scripts/common.sh
. scripts/common.sh

bash scripts/check.sh
want_chromium
.venv/bin/python -m pytest -q -n 2 -m "not browser"
.venv/bin/python -m pytest -q -m browser
