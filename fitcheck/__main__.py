"""`python -m fitcheck` does what the `fitcheck` command does."""

from fitcheck.cli.main import run

run()
