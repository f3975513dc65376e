"""Numbers as they are typed, and ``NAME=NUMBER`` for recipe lines and analyses."""

from tiles.cli import common
from tiles.errors import InvalidValue

_AMOUNTS = ("g", "mL", "parts")
"""Units in which thousands are as usual as thousandths are."""


def read_pair(text: str, what: str, example: str, unit: str = "") -> tuple[str, float]:
    """``whiting=14`` as the name and the number.

    Parameters
    ----------
    text : str
        What was typed.
    what, example : str
        What it is called and how it should look, for the error.
    unit : str
        As for `read_number`.

    Raises
    ------
    InvalidValue
        No name, or no number after the sign.
    """
    from tiles.records.words import tidy_name

    name, sign, amount = text.rpartition("=")
    name = tidy_name(name)
    if not sign or not name:
        raise InvalidValue(
            f"{what} {text!r} is not a name and a number.", f"{example}.", field=what, value=text
        )
    return name, read_number(amount, f"{what} {name!r}", example, unit)


def read_number(text: str, what: str, example: str, unit: str = "") -> float:
    """A number as it is typed, its ``unit`` behind it or not.

    Of grams, mL and parts 10.000 may be ten thousand: it is refused; 12.125 is read and told.

    Raises
    ------
    InvalidValue
        It is absent, not a number, or may be one of two.
    """
    from tiles.records.number_text import two_readings, without_unit

    plain = without_unit(text, unit).strip()
    either = two_readings(plain)
    if either and ("," in plain or unit in _AMOUNTS and plain.endswith("0")):
        told = f"{what}: {text.strip()!r} may be either of two numbers."
        raise InvalidValue(told, f"{either}.", value=text)
    try:
        if "_" in plain:  # Python's own way to write thousands, nobody else's
            raise ValueError(plain)
        number = float(plain)
    except ValueError as error:
        told = f"{text.strip()!r} is not a number" if text.strip() else "the number is missing"
        raise InvalidValue(f"{what}: {told}.", f"{example}.", value=text) from error
    if either and unit in _AMOUNTS:
        whole = plain.replace(".", "")
        common.talk(f"{plain} is read with a decimal point; for {whole} {unit} leave it out.")
    return number
