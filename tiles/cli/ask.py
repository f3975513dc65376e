"""Asking a person at the keyboard, one question at a time, each answer checked at once."""

from collections.abc import Callable
from typing import Any

import typer

from tiles.cli.common import talk
from tiles.errors import TilesError

CLEAR = "-"


def ask(
    question: str,
    default: str | None = None,
    *,
    check: Callable[[str], Any] = str,
    choices: Callable[[], list[str]] | None = None,
    required: bool = False,
) -> Any:
    """Ask until the answer passes its check.

    Enter takes the default, "-" leaves the answer unrecorded, "?" lists the choices.

    Parameters
    ----------
    question : str
        A few words.
    default : str, optional
        Offered in brackets.
    check : callable
        Turns the text into the value; its TilesError is shown and the question asked again.
    choices : callable, optional
        Gives the names that "?" lists.
    required : bool
        Whether an answer must be given.
    """
    prompt = f"{question} [{default}]" if default else question
    while True:
        typed = _line(prompt)
        if typed == "?":
            talk(", ".join(choices()) if choices else "Enter takes the answer in brackets.")
            continue
        text = "" if typed == CLEAR else (typed or default or "")
        if not text:
            if not required:
                return None
            talk("This one is needed.")
            continue
        try:
            return check(text)
        except TilesError as error:
            talk(str(error))


def _line(prompt: str) -> str:
    try:
        return input(f"{prompt}: ").strip()
    except EOFError as error:
        raise typer.Abort from error


def key(prompt: str, allowed: dict[str, str]) -> str:
    """One key press, without Enter; any other key lists the keys again.

    Parameters
    ----------
    prompt : str
        Shown before the key is read.
    allowed : dict
        Key to what it means.
    """
    print(prompt, end=" ", flush=True)
    while True:
        pressed = typer.getchar()
        if pressed in ("\x03", "\x04"):
            print()
            raise typer.Abort
        pressed = "\n" if pressed in ("\r", "\n") else pressed.casefold()
        if pressed in allowed:
            print(allowed[pressed])
            return pressed
        keys = "  ".join(f"{_shown(each)} {meaning}" for each, meaning in allowed.items())
        print(f"\n  {keys}\n{prompt}", end=" ", flush=True)


def _shown(pressed: str) -> str:
    return {"\n": "Enter", " ": "Space"}.get(pressed, pressed)
