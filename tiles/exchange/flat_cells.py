"""One cell of the flat form: text or number in, checked value out, and back."""

import math
import re
from contextlib import suppress
from dataclasses import dataclass
from datetime import date, datetime
from functools import cache
from typing import Annotated, Any

from pydantic import TypeAdapter, ValidationError

from tiles.chemistry.cones import for_sheets
from tiles.errors import InvalidValue, TilesError
from tiles.exchange.flat_columns import NO_LINES, NOT_RECORDED, SEVERITY_WORDS, Column
from tiles.records import forms
from tiles.records.clues import read_clue
from tiles.records.coats import inches_in_mm
from tiles.records.number_text import HEAT, in_celsius, two_readings, with_point
from tiles.records.problems import plain
from tiles.records.witness_text import read_witness_cones
from tiles.records.words import read_word, tidy_name

_FORMS = {
    "tile": forms.TileRecord,
    "area": forms.AreaRecord,
    "body": forms.BodyRecord,
    "glaze": forms.GlazeRecord,
    "layer": forms.LayerRecord,
    "recipe": forms.RecipeRecord,
    "batch": forms.BatchRecord,
    "firing": forms.FiringRecord,
    "bisque_firing": forms.FiringRecord,
    "look": forms.InspectionRecord,
}
_TRUTH = dict.fromkeys(("true", "1", *"ja oui si sí sim tak".split()), "yes") | dict.fromkeys(
    ("false", "0", *"nein non nee nej nei não nie".split()), "no"
)
"""Yes and no as spreadsheets have them, and in other languages: none of these words means the
other in any of them."""
_ISO_DAY = re.compile(r"\d{4}-\d\d-\d\d(?:[T ]00:00(?::00)?)?")


_SLASHED_DAY = re.compile(r"(\d{1,2})([/.-])(\d{1,2})\2(\d{4}|\d\d)")
DAY_ORDERS = ("dmy", "mdy")


@dataclass(frozen=True)
class Style:
    """What a cell alone does not tell of how its sheet was written.

    ``decimal_comma``: 0,9 is 0.9, as spreadsheets write it where the comma is the decimal sign.
    ``days``: how days are written that are not 2026-03-01; ``dmy`` 1/3/26, ``mdy`` 3/1/26.
    """

    decimal_comma: bool = False
    days: str | None = None


PLAIN = Style()


def is_blank(value: Any) -> bool:
    """Whether a cell says nothing: empty text, None or NaN.

    Examples
    --------
    >>> is_blank("  "), is_blank(float("nan")), is_blank(0)
    (True, True, False)
    """
    if value is None or value != value:
        return True
    return isinstance(value, str) and not value.strip()


def read_cell(column: Column, value: Any, style: Style = PLAIN) -> Any:
    """The checked value of one filled cell.

    Parameters
    ----------
    column : Column
        Where it stands.
    value : str, number, bool or date
        What was found there; not blank.
    style : Style
        How its sheet is written.

    Returns
    -------
    object
        Recipe lines and witness cones as tuples of tuples, all else as in the record forms;
        of a recipe that is ``NOT_RECORDED`` it is ``NO_LINES``.

    Raises
    ------
    InvalidValue
        With column, value and reason; the caller adds the row.
    """
    try:
        return _read(column, value, style)
    except TilesError as error:
        error.field = column.name
        error.value = value
        raise
    except ValidationError as error:
        raise _told(column, value, error) from error


def _read(column: Column, value: Any, style: Style) -> Any:
    if column.part == "defect":
        return read_word(value, SEVERITY_WORDS, f"value of {column.name}")
    if column.part == "clue":
        return read_clue(column.field, _as_answer(value))[1]
    if column.unit == "parts":
        return _read_recipe(value, style.decimal_comma)
    if column.unit == "cones":
        return _read_witness_cones(value)
    if column.is_number and isinstance(value, str):
        value = value.replace(",", ".") if style.decimal_comma else with_point(value)
        value = in_celsius(value, column.unit)
    elif column.unit == "YYYY-MM-DD":
        value = _as_day(value, style.days)
    elif column.unit == "yes / no":
        value = _as_answer(value)
    elif column.unit != "cone" and not column.is_number:
        value = _as_text(value)
    return _adapter(column.part, column.field).validate_python(value)


@cache
def _adapter(part: str, field: str) -> TypeAdapter:
    """The check that the record form itself makes of this field."""
    info = _FORMS[part].model_fields[field]
    annotated = Annotated[info.annotation, *info.metadata] if info.metadata else info.annotation
    return TypeAdapter(annotated)


def _as_text(value: Any) -> Any:
    """A mark or name that a table reader took for a number, as it was written."""
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return value if isinstance(value, str) else str(value)


def _as_answer(value: Any) -> str:
    """Yes or no, also as spreadsheets and data frames have it: TRUE, 1, 0.0, oui, nein."""
    text = str(_as_text(value)).strip()
    return _TRUTH.get(text.casefold(), text)


def _as_day(value: Any, order: str | None) -> Any:
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, str) and _ISO_DAY.fullmatch(value.strip()):
        return value.strip()[:10]
    if isinstance(value, date):
        return value
    told = _SLASHED_DAY.fullmatch(value.strip()) if isinstance(value, str) else None
    if told and order:
        return _slashed_day(value, told, order)
    orders = ", or --days dmy (or mdy) where all are written like this one" if told else ""
    rest = "" if told else "; where the day is not known blank, and the words in note"
    hint = f"year-month-day, such as 2026-03-01{orders}{rest}."
    raise InvalidValue(f"{value!r} is not a date.", hint, value=value)


def _slashed_day(value: str, told: re.Match, order: str) -> date:
    found = {each: _day_of(told, each) for each in DAY_ORDERS}
    if day := found[order]:
        return day
    others = [f"--days {each} if the sheet is written so" for each in found if found[each]]
    hint = f"{others[0] if others else 'a day of the calendar'}, or year-month-day."
    raise InvalidValue(f"{value!r} is not a date read as {order}.", hint, value=value)


def _day_of(told: re.Match, order: str) -> date | None:
    """The day in this order; None where there is none."""
    first, second, year = int(told[1]), int(told[3]), int(told[4])
    day, month = (first, second) if order == "dmy" else (second, first)
    with suppress(ValueError):
        return date(year if year > 99 else 2000 + year, month, day)
    return None


def _told(column: Column, value: Any, error: ValidationError) -> TilesError:
    inner = error.errors()[0].get("ctx", {}).get("error")
    if isinstance(inner, TilesError):
        inner.field, inner.value = column.name, value
        return inner
    if column.is_number and error.errors()[0]["type"].endswith("_parsing"):
        unit = "" if column.unit == "number" else f", in {column.unit}"
        unit += " (or with F behind them)" if column.unit in HEAT else ""
        is_whole = error.errors()[0]["type"].startswith("int")
        in_mm = inches_in_mm(str(value)) if column.unit == "mm" else None
        unit += f" ({in_mm})" if in_mm else ""
        hint = (
            "one whole number, or blank where it is not known"
            if is_whole
            else f"digits alone{unit}, with a point or comma for decimals"
        )
        return InvalidValue(
            f"{column.name} {value!r} is not a number.",
            f"{hint}{_words_apart(str(value), is_whole)}.",
            field=column.name,
            value=value,
        )
    return InvalidValue(
        f"{column.name} {value!r} is not possible: {plain(error.errors()[0], column.field)}.",
        f"correct {column.name} or leave it blank.",
        field=column.name,
        value=value,
    )


def _words_apart(text: str, is_whole: bool) -> str:
    """Where to put the words of a cell that should be a number.

    Beside a measure they may be its unit, as in "3 cm".
    """
    number, words = re.fullmatch(r"\s*(\d+(?:\.\d+)?)?(.*)", text, re.DOTALL).groups()
    if not re.search(r"[^\W\d_]{2}", words) or re.search(r"\d", words):
        return ""
    if number and not is_whole:
        return ""
    return f"; here {number or 'blank'}, and {words.strip()!r} in note"


def _parts_of(text: Any) -> list[str]:
    return [part.strip() for part in str(text).split(";") if part.strip()]


def _read_recipe(text: Any, decimal_comma: bool) -> tuple:
    if tidy_name(str(text)).casefold() == NOT_RECORDED:
        return NO_LINES
    return tuple(_read_line(part, decimal_comma) for part in _parts_of(text))


def _read_line(part: str, decimal_comma: bool) -> tuple[str, float, bool]:
    material, sign, amount = part.rpartition("=")
    either = two_readings(amount)
    if either and amount.strip().endswith("0") and not (decimal_comma and "," in amount):
        raise InvalidValue(f"recipe line {part!r} is either of two numbers.", f"{either}.")
    amount = amount.replace(",", ".") if decimal_comma else with_point(amount)
    try:
        parts = float(amount)
    except ValueError:
        parts = math.nan
    if not sign or not material.strip(" +") or not 0 < parts < math.inf:
        raise InvalidValue(
            f"recipe line {part!r} is not a material and its parts.",
            f"whiting=14; silica=20; +tin oxide=4, or the words {NOT_RECORDED}.",
        )
    name = material.strip().removeprefix("+")
    return tidy_name(name), parts, material.strip().startswith("+")


def _read_witness_cones(text: Any) -> tuple[tuple[str | None, str], ...]:
    if not isinstance(text, str):
        forms.read_cone(text)  # says why a number is no cone
    return tuple(read_witness_cones(text))


def recipe_text(lines: list[forms.RecipeLine]) -> str | None:
    """Recipe lines as one cell; None when a name cannot be told from the signs between.

    Examples
    --------
    >>> recipe_text([forms.RecipeLine(material="whiting", parts=14),
    ...              forms.RecipeLine(material="tin oxide", parts=4, is_addition=True)])
    'whiting=14; +tin oxide=4'
    """
    as_read = tuple((line.material, line.parts, line.is_addition) for line in lines)
    text = "; ".join(f"{'+' if extra else ''}{name}={parts!r}".removesuffix(".0")
                     for name, parts, extra in as_read)  # fmt: skip
    return text if _reads_back(_read_recipe, (text, False), as_read) else None


def witness_text(cones: list[forms.WitnessCone]) -> str | None:
    """Witness cones as one cell; None when a shelf cannot be told from the signs between."""
    as_read = tuple((read.shelf, read.cone) for read in cones)
    text = "; ".join(f"{shelf}={cone}" if shelf else cone for shelf, cone in as_read)
    return text if _reads_back(_read_witness_cones, (text,), as_read) else None


def _reads_back(read, arguments: tuple, expected: tuple) -> bool:
    try:
        return read(*arguments) == expected
    except TilesError:
        return False


def csv_text(column: Column, value: Any, *, decimal_comma: bool = False) -> str:
    """A value as it stands in a file; with ``decimal_comma`` a number of 0.9 as 0,9.

    Examples
    --------
    >>> from tiles.exchange.flat_columns import by_name
    >>> csv_text(by_name()["cone_reached"], "05"), csv_text(by_name()["thickness_mm"], 0.9)
    ('^05', '0.9')
    """
    if value is None:
        return ""
    if column.unit in ("cone", "cones"):
        return for_sheets(value)
    if isinstance(value, float):
        number = repr(value).removesuffix(".0")
        return number.replace(".", ",") if decimal_comma else number
    return str(value)
