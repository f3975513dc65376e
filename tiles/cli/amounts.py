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
    name, sign, amount = text.rpartition("=")
    name = " ".join(name.split())
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
        return float(text)
    except ValueError as error:
        told = f"{text.strip()!r} is not a number" if text.strip() else "the number is missing"
        point = text.replace(",", ".") if text.count(",") == 1 else ""
        raise InvalidValue(
            f"{what}: {told}.",
            f"{point.strip()}, with a point." if _is_number(point) else f"{example}.",
            value=text,
        ) from error


def _is_number(text: str) -> bool:
    return text.strip().replace(".", "", 1).lstrip("-").isdigit()
