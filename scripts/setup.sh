#!/usr/bin/env bash
# Builds .venv from requirements-dev.txt, every package checked against its hash.
# Does nothing when .venv was already made here from the same file. PYTHON=python3.13 make setup
# builds it with that Python, and it stays with it until another is named.
set -euo pipefail
cd "$(dirname "$0")/.."
# shellcheck source=scripts/common.sh
. scripts/common.sh

# Building clears the folder, and a link's folder is somebody else's.
[ ! -L .venv ] || stop ".venv is a link; remove it, and it is built here."

stamp=.venv/made-from
fresh() {
    [ -f "$stamp" ] && .venv/bin/python - requirements-dev.txt "$stamp" "$PWD" "$@" <<'PY'
import hashlib, pathlib, sys
lock, stamp, here, *named = sys.argv[1:]
digest = hashlib.sha256(pathlib.Path(lock).read_bytes()).hexdigest()
made_from = pathlib.Path(stamp).read_text().splitlines()
sys.exit(made_from != [digest, here] or named not in ([], [sys.version]))
PY
}

if [ -z "${PYTHON:-}" ] && fresh; then
    exit 0
fi

python=${PYTHON:-python3}
command -v "$python" >/dev/null || stop "Python 3.11 or newer is needed, and '$python' was not found."
"$python" -c 'import sys; sys.exit(sys.version_info < (3, 11))' ||
    stop "Python 3.11 or newer is needed; '$python' is $("$python" -V 2>&1). Name another with: PYTHON=python3.12 make setup"
if fresh "$("$python" -c 'import sys; print(sys.version)')"; then
    exit 0
fi

echo "Building .venv (a minute or two, once)."
"$python" -c 'import ensurepip, venv' 2>/dev/null ||
    install_packages "Python's own environments (venv)" python3-venv
"$python" -m venv --clear .venv
.venv/bin/python -m pip install --quiet --disable-pip-version-check --require-hashes \
    --requirement requirements-dev.txt
printf '%s\n' "$(.venv/bin/python -c 'import hashlib, pathlib; print(hashlib.sha256(pathlib.Path("requirements-dev.txt").read_bytes()).hexdigest())')" \
    "$PWD" >"$stamp"
