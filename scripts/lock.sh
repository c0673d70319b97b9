#!/usr/bin/env bash
# Writes requirements.txt and requirements-dev.txt from pyproject.toml, with hashes, for every
# platform. Takes newer versions only with: scripts/lock.sh --upgrade
set -euo pipefail
cd "$(dirname "$0")/.."

tools=$(mktemp -d)
trap 'rm -rf "$tools"' EXIT
python3 -m venv "$tools"
"$tools/bin/python" -m pip install --quiet uv

compile=("$tools/bin/uv" pip compile --quiet --universal --generate-hashes --python-version 3.11
         --no-emit-index-url --no-header "$@" pyproject.toml)
"${compile[@]}" --output-file requirements.txt
"${compile[@]}" --constraint requirements.txt --group dev --output-file requirements-dev.txt
