# qrecords: `make help` lists what can be made. Everything happens in .venv and var/; nothing is installed
# outside them, but for `make test`, which may ask the system's package manager for servers and a browser.
SHELL := /bin/bash
PORT ?= 8000
export PORT

.DEFAULT_GOAL := help
.PHONY: help demo demo-reset test lint bench

help: ## this list
	@grep -hE '^[a-z-]+:.*## ' $(MAKEFILE_LIST) | sed -E 's/:.*## /\t/' | expand -t 14

demo: ## install, load the demonstration (kept if it is there) and serve it at http://localhost:$PORT
	@deploy/environment requirements.txt
	@deploy/demo

demo-reset: ## throw the demonstration's data away and start it anew
	@deploy/demo --forget
	@$(MAKE) --no-print-directory demo

test: ## lint, then every test on SQLite, then what touches the database again on PostgreSQL
	@.ci/test

lint: ## style, types, import contracts, deployment checks, missing migrations
	@deploy/environment requirements-test.txt
	@.ci/lint

bench: ## the table of measured ratios to their named baselines
	@deploy/environment requirements-test.txt
	@.venv/bin/python -m tests.bench
