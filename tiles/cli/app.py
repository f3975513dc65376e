"""Which module holds which command; a run builds no more of them than it needs.

Building all commands costs more than most of them take to run, so ``tiles find`` builds only
``find``. Help, and a command nobody knows, need them all.
"""

from functools import cache
from importlib import import_module

import typer

from tiles.cli.common import version_option
from tiles.cli.overview import Overview

MODULES: dict[str, tuple[str, ...]] = {
    "demo": ("demo",),
    "log": ("log",),
    "plan": ("plan",),
    "load": ("load",),
    "unload": ("unload",),
    "find": ("find",),
    "palette": ("palette",),
    "record": ("show", "inspect", "change", "remove", "photo", "import"),
    "export": ("export",),
    "why": ("why",),
    "fix": ("fix",),
    "compare": ("compare",),
    "next": ("next",),
    "forecast": ("forecast",),
    "learn": ("learn",),
    "body": ("body",),
    "glaze": ("glaze", "batch"),
    "firing": ("firing", "kiln"),
    "rules": ("rules",),
    "recipe": ("recipe",),
    "blend": ("blend",),
    "material": ("material",),
    "cone": ("cone",),
    "slip": ("slip",),
    "words": ("clues", "words"),
}


def command_for(arguments: list[str]):
    """The command tree that these arguments need."""
    words = iter(arguments)
    for word in words:
        if word == "--db":
            next(words, None)
        elif not word.startswith("-"):
            return _tree(_module_of(word))
    return _tree(None)


def _module_of(command: str) -> str | None:
    return next((module for module, names in MODULES.items() if command in names), None)


@cache
def _tree(only: str | None):
    app = typer.Typer(
        cls=Overview,
        rich_markup_mode=None,
        no_args_is_help=True,
        add_completion=False,
        pretty_exceptions_enable=False,
        help="Glaze test tiles on record: log what was fired, find what came out clean, ask why "
        "one failed.",
        epilog="New here? 'tiles demo' builds a sample studio and shows the three in a minute.",
    )
    app.callback()(version_option)
    for module in [only] if only else MODULES:
        import_module(f"tiles.cli.{module}").add_to(app)
    return typer.main.get_command(app)
