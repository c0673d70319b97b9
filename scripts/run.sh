#!/usr/bin/env bash
# The demo house on this machine: http://127.0.0.1:8000, or PORT=8001 make run.
set -euo pipefail
cd "$(dirname "$0")/.."
# shellcheck source=scripts/common.sh
. scripts/common.sh

port=${PORT:-8000}
[[ $port =~ ^[0-9]{1,5}$ ]] || stop "PORT must be a number, not '$port'."

bash scripts/setup.sh
need_text_layout

.venv/bin/python - "$port" <<'PY' || stop "Port $port is in use or not yours to open. Try another: PORT=$((port + 1)) make run"
import socket, sys
with socket.socket() as door:
    door.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        door.bind(("127.0.0.1", int(sys.argv[1])))
    except (OSError, OverflowError):
        sys.exit(1)
PY

address=http://127.0.0.1:$port
export BARCOURSE_BASE_URL=$address
demo migrate --verbosity 0
demo seed_demo

echo
echo "Barcourse is opening at $address (Ctrl+C closes)."
export BARCOURSE_DEMO=1
exec .venv/bin/python -m gunicorn barcourse.wsgi --bind "127.0.0.1:$port" --workers 2 \
    --log-level warning --no-control-socket
