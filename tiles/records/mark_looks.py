"""What a mark looks like on the back of a tile, and what it shares with a slip of the pen."""

import re
import unicodedata

from tiles.records.words import name_key

_DASHES = re.compile("[\u2010-\u2015\u2212\ufe58\ufe63\uff0d_./'\u2019-]+")
_UNSEEN = re.compile("[\\s\u00ad\u200b-\u200f\u2060\ufeff]+")
_BETWEEN = re.compile(r"(?<=[^\W\d])-(?=\d)|(?<=\d)-(?=[^\W\d])|^-|-$")
"""A dash that parts nothing: letters and digits are told apart without it."""
_LOOK_LATIN = str.maketrans(
    # Cyrillic, then Greek.
    "\u0410\u0412\u0415\u041a\u041c\u041d\u041e\u0420\u0421\u0422\u0423\u0425\u0430\u0435\u043e\u0440\u0441\u0443\u0445"
    "\u0391\u0392\u0395\u0396\u0397\u0399\u039a\u039c\u039d\u039f\u03a1\u03a4\u03a5\u03a7\u03bf",
    "ABEKMHOPCTYXaeopcyxABEZHIKMNOPTYXo",
)
_DIGITS_AND_LETTERS = re.compile(r"(?:(?<![^\W_])|(?=\d))(?=\D*\d)[\doOlI]{1,18}$", re.ASCII)
LETTERS_FOR_DIGITS = str.maketrans("oOlI", "0011")


def natural_key(mark: str) -> list:
    """Sorts M-9 before M-10."""
    parts = re.split(r"(\d+)", mark.casefold())
    return [(0, int(part), "") if part.isdecimal() else (1, 0, part) for part in parts]


def look_key(mark: str) -> str:
    """What a mark looks like on the back of a tile: blanks, dashes and alphabets tell none apart.

    Examples
    --------
    >>> look_key("T-160") == look_key("T 160") == look_key("t160") == look_key("T.160")
    True
    >>> look_key("1-12") == look_key("11-2")
    False
    """
    latin = unicodedata.normalize("NFKC", mark).translate(_LOOK_LATIN).casefold()
    return _BETWEEN.sub("", _DASHES.sub("-", _UNSEEN.sub("", latin)))


def digit_key(mark: str) -> str:
    """What a mark looks like with the digits that its letters may stand for.

    Examples
    --------
    >>> digit_key("T-O1") == digit_key("T-01") == digit_key("T 0l")
    True
    """
    latin = unicodedata.normalize("NFKC", mark).translate(_LOOK_LATIN)
    digits = _DIGITS_AND_LETTERS.sub(lambda run: run[0].translate(LETTERS_FOR_DIGITS), latin)
    return look_key(digits)


def slip_key(mark: str) -> str:
    """What a mark has in common with itself mistyped: other zeros, a letter for a digit, or both.

    Examples
    --------
    >>> slip_key("T-27") == slip_key("T-027") == slip_key("T-O27") == slip_key("T 27")
    True
    """
    return re.sub(r"(?<!\d)0+(?=\d)", "", digit_key(mark))


def could_be(mark: str, legible: str) -> bool:
    """Whether a mark of which not all can be read may be this one.

    Parameters
    ----------
    mark : str
        A whole mark.
    legible : str
        What can be read of one: "?" stands for a sign that cannot, "*" for any number of them.

    Examples
    --------
    >>> could_be("M-107", "m-1?7"), could_be("M-17", "M-1?7"), could_be("TT-44", "*-44")
    (True, False, True)
    """
    signs = {"?": ".", "*": ".*"}
    pattern = "".join(signs.get(sign) or re.escape(sign) for sign in name_key(legible))
    return re.fullmatch(pattern, name_key(mark), re.DOTALL) is not None
