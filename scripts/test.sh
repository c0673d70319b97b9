#!/usr/bin/env bash
# Everything: the checks, the tests, a server killed at any moment, and the journey in a browser.
set -euo pipefail
cd "$(dirname "$0")/.."
# shellcheck source=scripts/common.sh
. scripts/common.sh

# Every process reads all tests: what one has compiled, the others need not.
unset PYTHONDONTWRITEBYTECODE

bash scripts/check.sh
want_chromium
.venv/bin/python -m pytest -q -n 2 -m "not browser and not kill"
# Only their folders: reading all the others takes longer than some of them run.
.venv/bin/python -m pytest -q -m kill tests/kill
# A browser mostly waits: three at a time keep two cores busy.
.venv/bin/python -m pytest -q -n 3 -m browser tests/browser
