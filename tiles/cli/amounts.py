"""``NAME=NUMBER`` as it is typed for recipe lines and analyses."""

from tiles.errors import InvalidValue


def read_pair(text: str, what: str, example: str) -> tuple[str, float]:
    """``whiting=14`` as the name and the number.

    Parameters
    ----------
    text : str
        What was typed.
    what, example : str
        What it is called and how it should look, for the error.

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
    return name, read_number(amount, f"{what} {name!r}", example)


def read_number(text: str, what: str, example: str) -> float:
    """A number as it is typed.

    Raises
    ------
    InvalidValue
        It is absent, or not a number.
    """
    try:
        if "_" in text:  # Python's own way to write thousands, nobody else's
            raise ValueError(text)
        return float(text)
    except ValueError as error:
        told = f"{text.strip()!r} is not a number" if text.strip() else "the number is missing"
        hint = _without_comma(text.strip()) or f"{example}."
        raise InvalidValue(f"{what}: {told}.", hint, value=text) from error


def _without_comma(text: str) -> str:
    """What a number with a comma may mean: thousands or decimals, and both where it may be either.

    Examples
    --------
    >>> _without_comma("12,5"), _without_comma("1,200")
    ('12.5, with a point.', '1200 without the comma, or 1.200 with a point: whichever is meant.')
    """
    sign = "-" if text.startswith("-") else ""
    whole, _, rest = text.removeprefix(sign).partition(",")
    if not (whole.isdigit() and rest.isdigit()):
        return ""
    point = f"{sign}{whole}.{rest}"
    if len(rest) != 3 or whole.startswith("0"):
        return f"{point}, with a point."
    return f"{sign}{whole}{rest} without the comma, or {point} with a point: whichever is meant."
