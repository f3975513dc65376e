"""``python -m tiles``."""

from tiles.cli.main import run

run()
