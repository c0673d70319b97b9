#!/usr/bin/env bash
# Everything that can be said about the code without running it. Stops at the first fault.
set -euo pipefail
cd "$(dirname "$0")/.."
# shellcheck source=scripts/common.sh
. scripts/common.sh

step() {
    echo "- $1"
    shift
    "$@"
}

bash scripts/setup.sh
need_text_layout

step "lint" .venv/bin/ruff check --quiet .
step "format" .venv/bin/ruff format --quiet --check .
step "templates" find templates -name '*.html' \
    -exec .venv/bin/djade --check --target-version 5.2 {} +
step "types" .venv/bin/mypy --no-error-summary
step "arrows between folders" .venv/bin/lint-imports --no-logo
step "dependencies" .venv/bin/deptry . --no-ansi
step "migrations" demo makemigrations --check --dry-run --verbosity 1
step "site" demo check --fail-level WARNING
if command -v shellcheck >/dev/null; then
    step "scripts" shellcheck --external-sources scripts/*.sh .ci/run
fi
