#!/usr/bin/env bash
# Builds .venv from requirements-dev.txt, every package checked against its hash.
# Does nothing when .venv was already made from the same files by the same Python.
set -euo pipefail
cd "$(dirname "$0")/.."
# shellcheck source=scripts/common.sh
. scripts/common.sh

python=${PYTHON:-python3}
command -v "$python" >/dev/null || stop "Python 3.11 or newer is needed, and '$python' was not found."
"$python" -c 'import sys; sys.exit(sys.version_info < (3, 11))' ||
    stop "Python 3.11 or newer is needed; '$python' is $("$python" -V 2>&1). Name another with: PYTHON=python3.12 make setup"

wanted=$("$python" - requirements-dev.txt <<'PY'
import hashlib, pathlib, sys
print(sys.version.split()[0], hashlib.sha256(pathlib.Path(sys.argv[1]).read_bytes()).hexdigest())
PY
)
stamp=.venv/made-from
if [ -x .venv/bin/python ] && [ -f "$stamp" ] && [ "$(cat "$stamp")" = "$wanted $PWD" ]; then
    exit 0
fi

echo "Building .venv (a minute or two, once)."
"$python" -c 'import ensurepip, venv' 2>/dev/null || install_packages "Python's venv module" python3-venv
"$python" -m venv --clear .venv
.venv/bin/python -m pip install --quiet --disable-pip-version-check --require-hashes \
    --requirement requirements-dev.txt
echo "$wanted $PWD" >"$stamp"
