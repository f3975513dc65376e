"""Asking a person at the keyboard, one question at a time, each answer checked at once."""

import codecs
import os
import shutil
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from functools import partial
from typing import Any

import typer

from tiles.cli.common import talk
from tiles.cli.prose import between_words, width
from tiles.errors import TilesError

CLEAR, BACK, ENTER, CLEAN = "-", "<", "\n", "0"
ROOM = 12
"""Columns beside a question for its answer; with fewer left it is typed on the line below."""


class GoBack(Exception):
    """A person wants to answer the question before once more."""


class LeaveOut(Exception):
    """A person left the answer unrecorded while it was being checked."""


def ask(
    question: str,
    default: str | Callable[[], str | None] | None = None,
    *,
    check: Callable[[str], Any] = str,
    choices: Callable[[], list[str]] | None = None,
    required: bool = False,
    may_go_back: bool = False,
) -> Any:
    """Ask until the answer passes its check.

    Enter takes the default, "-" leaves the answer unrecorded, "?" lists the choices.

    Parameters
    ----------
    question : str
        A few words.
    default : str or callable, optional
        Offered in brackets; a callable gives it anew each time the question is asked.
    check : callable
        Turns the text into the value; its TilesError is shown and the question asked again.
    choices : callable, optional
        Gives the names that "?" lists.
    required : bool
        Whether an answer must be given.
    may_go_back : bool
        Whether "<" is taken for a wish to go back.

    Raises
    ------
    GoBack
        A person wants to answer the question before once more.
    """
    while True:
        offered = default() if callable(default) else default
        typed = _line(f"{question} [{offered}]" if offered else question)
        if typed == BACK and may_go_back:
            raise GoBack
        if typed == "?":
            talk(", ".join(choices()) if choices else _enter(offered, required))
            continue
        text = "" if typed == CLEAR else (typed or offered or "")
        try:
            if text:
                return check(text)
        except TilesError as error:
            if error.message:
                talk(str(error))
            continue
        except LeaveOut:
            pass
        if not required:
            return None
        talk(_needed(offered, can_list=bool(choices)))


def _enter(offered: str | None, required: bool) -> str:
    if offered:
        return "Enter takes the answer in brackets."
    return _needed(offered) if required else "Enter leaves it unrecorded."


def _needed(offered: str | None, *, can_list: bool = False) -> str:
    """That a question cannot be left open, and what to type."""
    answer = f"Enter for {offered!r}" if offered else "an answer"
    listed = ", ? for the choices" if can_list else ""
    return f"This one is needed. Try: {answer}{listed}; Ctrl-C stops, and nothing is stored."


ask_or_back = partial(ask, may_go_back=True)
"""As :func:`ask`, for one of several questions."""


def _line(prompt: str) -> str:
    with suppress(ImportError):  # where there is none, the terminal has keys of its own
        import readline  # noqa: F401  (the arrow keys then move within what is typed)
    lines = [part for line in f"{prompt}:".split("\n") for part in between_words(line)]
    if len(lines[-1]) > shutil.get_terminal_size().columns - ROOM:
        lines.append(" ")
    *before, last = lines
    for line in before:
        print(line)
    try:
        return input(f"{last} ").strip()
    except EOFError as error:
        print()
        raise typer.Abort from error


@contextmanager
def single_keys() -> Iterator[None]:
    """While this lasts, keys are read one by one, unechoed, and none typed ahead is lost."""
    if os.name == "nt":
        yield
        return
    import termios
    import tty

    keyboard = sys.stdin.fileno()
    before = termios.tcgetattr(keyboard)
    # Not the default "flush", which would throw away keys pressed while a tile was being stored.
    tty.setcbreak(keyboard, termios.TCSADRAIN)
    try:
        yield
    finally:
        termios.tcsetattr(keyboard, termios.TCSADRAIN, before)


def line(prompt: str) -> str:
    """One line as it is typed, shown and ended with Enter; inside :func:`single_keys`, too."""
    _last.update(key=ENTER)  # that of the line, so that one after it is no habit
    if os.name == "nt":
        return _line(prompt)
    import termios

    keyboard = sys.stdin.fileno()
    single = termios.tcgetattr(keyboard)
    typed = [*single]
    typed[3] |= termios.ICANON | termios.ECHO
    termios.tcsetattr(keyboard, termios.TCSADRAIN, typed)
    try:
        return _line(prompt)
    finally:
        termios.tcsetattr(keyboard, termios.TCSADRAIN, single)


class Word(Exception):
    """A person typed a word where single keys are read; ``text`` is all of it."""

    def __init__(self, text: str):
        super().__init__(text)
        self.text = text


READ_WITHIN = 0.5
"""Nobody reads a question in so many seconds: Enter pressed by then belongs to the key before."""
_last = {"key": ENTER}
"""The key pressed last."""
_ahead: list[str] = []
"""A key that was read to see whether the one before it begins a word, and did not."""
AT_ONCE = 0.15
"""Keys that follow one another within so many seconds are typed as one."""
UNREADABLE = "\ufffd"
"""Stands for bytes that are no letter in the code that the terminal says it has."""


def _read_key() -> str:
    if _ahead:
        return _ahead.pop()
    if os.name == "nt":
        first, *rest = typer.getchar()
        return f"\x1b[{rest[0]}" if rest else first  # an arrow or function key comes as two
    pressed = _read_letter()
    return _rest_of_sequence() if pressed == "\x1b" else pressed


def _read_letter() -> str:
    """One letter, of however many bytes; `UNREADABLE` for what is none in the terminal's code."""
    letters = codecs.getincrementaldecoder(sys.stdin.encoding or "utf-8")("replace")
    byte = os.read(sys.stdin.fileno(), 1)
    read = letters.decode(byte)
    while byte and not read and _is_typed_on():
        byte = os.read(sys.stdin.fileno(), 1)
        read = letters.decode(byte)
    read = read or letters.decode(b"", final=True)
    _ahead.extend(reversed(read[1:]))  # a byte that was none, and the key after it
    return read[:1]


def _is_typed_on(seconds: float = AT_ONCE) -> bool:
    """Whether another key follows so soon that it belongs to the one before."""
    if _ahead:
        return True
    if os.name == "nt":
        return _is_waiting_on_windows(seconds)
    import select

    return bool(select.select([sys.stdin.fileno()], [], [], seconds)[0])


def _is_waiting_on_windows(seconds: float) -> bool:
    """Nothing there waits for a key and the time at once, so it is asked for again and again."""
    import msvcrt

    until = time.monotonic() + seconds
    while not msvcrt.kbhit():
        if time.monotonic() >= until:
            return False
        time.sleep(min(seconds, 0.01))
    return True


def _rest_of_sequence() -> str:
    """An arrow or function key comes as several bytes: take them all, and no more."""
    sequence = "\x1b"
    while _is_typed_on(0.02):
        sequence += os.read(sys.stdin.fileno(), 1).decode(errors="replace")
        if len(sequence) > 2 and sequence[-1].isalpha() or sequence[-1] == "~":
            break
    return sequence


def _press() -> str:
    """The next key as it is typed, Enter as a line's end; Ctrl-C, Ctrl-D and Ctrl-Z stop."""
    pressed = _read_key()
    if pressed in ("", "\x03", "\x04"):
        print()
        raise typer.Abort
    pressed = ENTER if pressed in ("\r", "\n") else pressed
    _last.update(key=pressed)
    return pressed


def _press_once_read() -> str:
    """The next key, but for Enter that a hand still gives to the letter or digit before it."""
    before, was_waiting, shown = _last["key"], _is_typed_on(0), time.monotonic()
    pressed = _press()
    is_soon = was_waiting or time.monotonic() - shown < READ_WITHIN
    return _press() if pressed == ENTER != before and is_soon else pressed


def key(
    prompt: str,
    allowed: dict[str, str],
    *,
    begun: str | None = None,
    words: tuple[str, ...] = (),
    alone: tuple[str, ...] = (BACK,),
    is_new: bool = False,
) -> str:
    """One key press, without Enter; any other key lists the keys again.

    Enter after such a key is asked about: a hand may give it out of habit. Only inside
    :func:`single_keys`.

    Parameters
    ----------
    prompt : str
        Shown before the key is read.
    allowed : dict
        Key to what it means.
    begun : str, optional
        Where a word may be typed: its letters that were taken as keys already.
    words : tuple of str, optional
        Words whose first letter is a key of its own, which the next one shows not to be meant.
    alone : tuple of str
        Keys after which Enter typed at once is theirs, out of habit: it says nothing of its own.
    is_new : bool
        It is about something else than the question before, and Enter answers it: not before it
        can be read.

    Raises
    ------
    Word
        What is typed is a word, up to Enter.
    """
    print(prompt, end=" ", flush=True)
    press, wrong = _press_once_read if is_new else _press, ""
    while True:
        pressed, press = press(), _press
        small = pressed.casefold()
        may_go_on = small in alone or any(each.startswith(small) for each in words)
        following = _typed_on() if may_go_on else ""
        if _begins_word(small, following, words):
            raise Word(_whole_word(pressed))
        if small in alone and following == ENTER:
            _ahead.pop()
        if small in allowed:
            print(allowed[small])
            if small != ENTER or not wrong or is_meant(allowed[ENTER]):
                return small
            print(prompt, end=" ", flush=True)
            continue
        if begun is not None and _goes_on(begun, pressed):
            raise Word(_whole_word(begun + pressed))
        told = _told_wrong(_typed_at_once(pressed), allowed)
        print(f"\n{told}{key_list(allowed, '      ')}\n{prompt}", end=" ", flush=True)
        press, wrong = _press_once_read if told else _press, wrong or told


def _goes_on(begun: str, pressed: str) -> bool:
    """Whether a key that is none here is a letter of a word.

    After the key of a fault a plain letter is, and anything else only if letters follow at once:
    é alone is most often the 2 of a French keyboard without Shift.
    """
    if pressed.isascii() and (pressed.isalpha() or pressed.isdecimal() and not begun):
        return bool(begun) or _is_typed_on()
    return (pressed.isalnum() or pressed == UNREADABLE) and _typed_on() not in ("", ENTER)


def _told_wrong(typed: str, allowed: dict[str, str]) -> str:
    """That this is no key here; nothing of the question mark, an arrow or a blank."""
    if not typed.strip() or typed == "?" or typed.startswith("["):
        return ""
    asks_shift = not (typed.isascii() and typed.isalnum()) and any(map(str.isdecimal, allowed))
    return f"      {typed} is no key here{' (a digit without Shift?)' if asks_shift else ''}:\n"


def _typed_on() -> str:
    """The key that follows so soon that it belongs to the one before, left to be read; or none."""
    if not _is_typed_on():
        return ""
    following = _press()
    _ahead.append(following)
    return following


def _begins_word(pressed: str, following: str, words: tuple[str, ...]) -> bool:
    """Whether a key and the one typed with it are how one of these words begins."""
    begun = pressed + following.casefold()
    return bool(following) and any(each.startswith(begun) for each in words)


def _typed_at_once(pressed: str) -> str:
    """A wrong key with those that came in one go with it, a line's end among them."""
    typed, is_word = pressed, pressed.isalnum()
    while pressed != ENTER and (following := _typed_on()) and (is_word or following == ENTER):
        typed += _ahead.pop()
        if following == ENTER:
            break
    return "".join(filter(str.isprintable, typed))


def _whole_word(text: str) -> str:
    """All of a word that was begun, shown as it is typed and ended with Enter."""
    print(f"\n      in words (Enter ends them): {text}", end="", flush=True)
    while (pressed := _press()) != ENTER:
        if pressed in ("\x7f", "\b"):
            print("\b \b" * bool(text), end="", flush=True)
            text = text[:-1]
        elif pressed.isprintable():
            print(pressed, end="", flush=True)
            text += pressed
    print()
    return " ".join(text.split())


def key_list(allowed: dict[str, str], indent: str) -> str:
    """Keys and what they mean, in as many columns as the screen takes."""
    keys = [f"{_shown(each)}  {meaning}" for each, meaning in allowed.items()]
    each = max(map(len, keys)) + 2
    count = max((width() + 2 - len(indent)) // each, 1)
    rows = [keys[at : at + count] for at in range(0, len(keys), count)]
    return "\n".join(indent + "".join(f"{text:<{each}}" for text in row).rstrip() for row in rows)


def _shown(pressed: str) -> str:
    return {ENTER: "Enter", " ": "Space"}.get(pressed, pressed)


def is_meant(said: str) -> bool:
    """Whether Enter is to say so after what was no answer."""
    return yes_by_key(f"      That was no answer, and Enter says: {said}. Is it so?")


def yes_by_key(question: str, no: str = "no, once more") -> bool:
    """Yes or no by a key, or typed out; what is shown for a no."""
    answers = {"y": "yes", "n": no}
    while True:
        try:
            return key(question, answers, words=("yes", "no"), alone=tuple(answers)) == "y"
        except Word as word:
            if (said := word.text.casefold()) in ("yes", "no"):
                return said == "yes"
