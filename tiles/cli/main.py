"""The ``tiles`` command: puts the subjects together, and turns every known error into one line."""

import codecs
import errno
import json
import os
import sys
from io import TextIOWrapper
from pathlib import Path

import typer

from tiles.cli import output, quotes, same_db
from tiles.cli.app import command_for
from tiles.errors import InvalidValue, TilesError, UnknownName

INTERRUPTED = 130
STOPPED = "Stopped. Nothing more was stored."


def run(arguments: list[str] | None = None) -> None:
    """Run one command and exit: 0 done, 1 cannot be done, 2 wrong usage, 3 done in part."""
    _open_what_is_closed()
    _write_what_can_be()
    try:
        code = _run(sys.argv[1:] if arguments is None else arguments)
        sys.stdout.flush()
        _tell_numbers()
    except SystemExit:  # the framework makes an exit of a reader that has gone, and of nothing else
        _print_no_more()
        code = 0
    except OSError as error:
        if not _is_reader_gone(error) and (error.filename or "--debug" in sys.argv):
            raise
        _print_no_more()
        code = _tell_unprinted(error)
    sys.exit(code if isinstance(code, int) else 0)


def _is_reader_gone(error: OSError) -> bool:
    """Whether who read what is printed (head, more) has gone: its good right, and no error.

    Windows calls a pipe without a reader an invalid argument as well.
    """
    is_pipe = os.name == "nt" and error.errno == errno.EINVAL and not error.filename
    return is_pipe or isinstance(error, BrokenPipeError)


def _tell_unprinted(error: OSError) -> int:
    if _is_reader_gone(error):
        return 0
    said = (error.strerror or str(error)).rstrip(".")
    told = f"what was found cannot be printed: {said}."
    return _say_words(f"Error: {told} Try: another place to write to, with more space.", 1)


def _open_what_is_closed() -> None:
    """Who starts the command may have closed its output (``>&-``), or its input.

    Then nobody reads what is printed, and nobody answers what is asked.
    """
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, Path(os.devnull).open(mode, encoding="utf-8"))  # noqa: SIM115


def _write_what_can_be() -> None:
    """Where the output knows few letters (a pipe on Windows), any other is written by its number.

    An answer is not cut off for one sign in a name, and that sign is not lost; which, is told.
    """
    if isinstance(sys.stdout, TextIOWrapper) and not output.takes_any_letter(sys.stdout):
        codecs.register_error("tiles-by-number", _by_number)
        sys.stdout.reconfigure(errors="tiles-by-number")


_written_by_number: list[str] = []


def _by_number(error: UnicodeError) -> tuple[str, int]:
    replaced, end = codecs.backslashreplace_errors(error)
    _written_by_number.append(error.object[error.start : end])
    return replaced, end


def _tell_numbers() -> None:
    """A table that is read back in would else hold other names than the record, unseen."""
    if not _written_by_number:
        return
    from tiles.records.spoken import some

    letters = some(list(dict.fromkeys("".join(_written_by_number))))
    _written_by_number.clear()
    told = f"the output ({sys.stdout.encoding}) has no {letters}: written as a number above."
    hint = "PYTHONIOENCODING=utf-8 set, for a table that is to be read in again."
    _say_words(f"Note: {told} Try: {hint}", 0)


def _print_no_more() -> None:
    """Or what is left would be printed at the very end, and fail there once more."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _run(arguments: list[str]) -> int | None:
    same_db.remember(arguments)
    try:
        code = command_for(arguments).main(arguments, prog_name="tiles", standalone_mode=False)
        if code == INTERRUPTED:
            print(file=sys.stderr)
            _say(STOPPED, code)
    except TilesError as error:
        if isinstance(error, UnknownName | InvalidValue) and error.value in arguments:
            error.hint = quotes.hint(arguments, error.value) or error.hint
        code = _tell(error, as_json="--json" in arguments, debug="--debug" in arguments)
    except UnicodeEncodeError as error:  # typed in other letters than the terminal is set to
        if "--debug" in arguments:
            raise
        said = f"Error: {error.object[:60]!r} is no text that can be looked for or kept."
        code = _say_words(f"{said} Try: it typed anew, in a terminal that is set to UTF-8.", 1)
    except typer.Abort as stopped:
        code = _say(STOPPED, INTERRUPTED)
        if way_out := getattr(stopped.__cause__, "way_out", ""):  # after a no to a question
            _say_words(f"Try: {way_out}.", code)
    except typer.Exit as done:
        code = done.exit_code
    except typer.BadParameter.__mro__[2] as error:  # every usage error of the framework
        code = _tell_usage(error, arguments)
    return code


def _tell(error: TilesError, *, as_json: bool, debug: bool) -> int:
    if debug:
        raise error
    if as_json:
        keys = ("message", "hint", "field", "value", "row")
        told = {"code": error.code} | {key: getattr(error, key) for key in keys}
        return _say(json.dumps({"error": told}, ensure_ascii=False, default=str), 1)
    return _say_words(f"Error: {error}", 1)


def _tell_usage(error: Exception, arguments: list[str]) -> int:
    if type(error).__name__ == "NoArgsIsHelpError":  # a bare "tiles" or "tiles body"
        print(error.format_message())
        return 0
    context = getattr(error, "ctx", None)
    path = context.command_path if context else "tiles"
    message = error.format_message().rstrip(".")
    stop = "" if message.endswith("?") else "."
    quoted = quotes.hint(arguments) if "unexpected extra argument" in message else ""
    return _say_words(f"Error: {message}{stop} Try: " + (quoted or f"'{path} --help'."), 2)


def _say_words(line: str, code: int) -> int:
    """As one line; on a terminal it goes on below between words."""
    from tiles.cli.common import talk

    talk(" ".join(line.splitlines()))
    return code


def _say(line: str, code: int) -> int:
    print(" ".join(line.splitlines()), file=sys.stderr)
    return code
