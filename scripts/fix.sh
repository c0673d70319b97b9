#!/usr/bin/env bash
# Puts into shape whatever a program can.
set -euo pipefail
cd "$(dirname "$0")/.."

bash scripts/setup.sh
.venv/bin/ruff check --fix --quiet . || echo "ruff: some findings are yours to fix (make check lists them)"
.venv/bin/ruff format --quiet .
# Its exit tells that it changed a file, which is no fault here.
find templates -name '*.html' -exec .venv/bin/djade --target-version 5.2 {} + || true
