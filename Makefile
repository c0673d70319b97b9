# `make run` and `make test` are all that a newcomer needs; both build .venv first.
.PHONY: setup lock

setup:                  ## build .venv from the hashed requirements
	@bash scripts/setup.sh

lock:                   ## write the requirements files from pyproject.toml
	@bash scripts/lock.sh
