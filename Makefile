# `make run` and `make test` are all that a newcomer needs: both build .venv first.
.DEFAULT_GOAL := help
.PHONY: help run test setup check fix seed messages bench lighthouse screenshots lock

help:           ## list what can be made
	@sed -n 's/^\([a-z]*\):.*## \(.*\)/make \1|\2/p' Makefile | column -t -s '|'

run:            ## open the demo house at http://127.0.0.1:8000 (or PORT=8001)
	@bash scripts/run.sh

test:           ## all checks and all tests, the browser journey too
	@bash scripts/test.sh

setup:          ## build .venv from the hashed requirements
	@bash scripts/setup.sh

check:          ## lint, types, arrows between folders, missing migrations
	@bash scripts/check.sh

fix:            ## put code and templates into shape
	@bash scripts/fix.sh

seed: setup     ## load the shipped course and the demo house (safe to run again)
	@BARCOURSE_DEMO=1 .venv/bin/python manage.py migrate --verbosity 0
	@BARCOURSE_DEMO=1 .venv/bin/python manage.py seed_demo

messages:       ## gather every sentence for translators (LOCALE=es)
	@bash scripts/messages.sh

bench: setup    ## what pages and sealed rows cost, as ratios to a floor
	@.venv/bin/python scripts/bench.py

lighthouse: setup  ## Lighthouse, mobile, on Next shift, a card and a quiz item: at least 95
	@.venv/bin/python scripts/lighthouse.py

screenshots: setup  ## take the README's pictures anew
	@.venv/bin/python scripts/screenshots.py

lock:           ## write the requirements files from pyproject.toml
	@bash scripts/lock.sh
