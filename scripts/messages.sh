#!/usr/bin/env bash
# Gathers every sentence for translators: make messages LOCALE=es writes locale/es.
set -euo pipefail
cd "$(dirname "$0")/.."
# shellcheck source=scripts/common.sh
. scripts/common.sh

bash scripts/setup.sh
command -v xgettext >/dev/null || install_packages "Gathering sentences (GNU gettext)" gettext
mkdir -p locale
demo makemessages --locale "${LOCALE:-en}" --ignore '.venv/*' --ignore 'tests/*' --no-obsolete
