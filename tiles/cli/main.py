"""The ``tiles`` command: puts the subjects together, and turns every known error into one line."""

import json
import os
import sys

import typer

from tiles.cli import (
    blend,
    body,
    compare,
    cone,
    demo,
    export,
    find,
    firing,
    fix,
    glaze,
    load,
    log,
    material,
    next,
    plan,
    recipe,
    record,
    rules,
    slip,
    unload,
    why,
    words,
)
from tiles.cli.common import version_option
from tiles.errors import TilesError

INTERRUPTED = 130
STOPPED = "Stopped. Nothing more was stored."

app = typer.Typer(
    rich_markup_mode=None,
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    help="Glaze test tiles on record: log what was fired, find what came out clean, ask why "
    "one failed.",
    epilog="New here? 'tiles demo' builds a sample studio and shows the three in a minute.",
)
app.callback()(version_option)

for _module in (
    *(demo, log, plan, load, unload, find, record, export, why, fix, compare, next, body, glaze),
    *(firing, rules, recipe, blend, material, cone, slip, words),
):
    _module.add_to(app)


def run(arguments: list[str] | None = None) -> None:
    """Run one command and exit: 0 done, 1 cannot be done, 2 wrong usage, 3 done in part."""
    try:
        code = _run(sys.argv[1:] if arguments is None else arguments)
        sys.stdout.flush()
    except (BrokenPipeError, SystemExit):
        # The reader (head, less) has gone: that is its good right, and no error. The framework
        # makes an exit of it, and of nothing else.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        code = 0
    sys.exit(code if isinstance(code, int) else 0)


def _run(arguments: list[str]) -> int | None:
    try:
        code = app(args=arguments, standalone_mode=False)
        if code == INTERRUPTED:
            print(file=sys.stderr)
            _say(STOPPED, code)
    except TilesError as error:
        code = _tell(error, as_json="--json" in arguments, debug="--debug" in arguments)
    except typer.Abort:
        code = _say(STOPPED, INTERRUPTED)
    except typer.Exit as done:
        code = done.exit_code
    except typer.BadParameter.__mro__[2] as error:  # every usage error of the framework
        code = _tell_usage(error)
    return code


def _tell(error: TilesError, *, as_json: bool, debug: bool) -> int:
    if debug:
        raise error
    if as_json:
        keys = ("message", "hint", "field", "value", "row")
        told = {"code": error.code} | {key: getattr(error, key) for key in keys}
        return _say(json.dumps({"error": told}, ensure_ascii=False, default=str), 1)
    return _say(f"Error: {error}", 1)


def _tell_usage(error: Exception) -> int:
    if type(error).__name__ == "NoArgsIsHelpError":  # a bare "tiles" or "tiles body"
        print(error.format_message())
        return 0
    context = getattr(error, "ctx", None)
    path = context.command_path if context else "tiles"
    return _say(f"Error: {error.format_message().rstrip('.')}. Try: '{path} --help'.", 2)


def _say(line: str, code: int) -> int:
    print(" ".join(line.splitlines()), file=sys.stderr)
    return code
