"""What is wrong with a value from outside, in plain words."""

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, Any, get_args

from tiles.chemistry.cones import fahrenheit_to_celsius
from tiles.errors import InvalidValue, TilesError, UnknownName, nearest

if TYPE_CHECKING:
    from pydantic import BaseModel

_ISO_DAY = re.compile(r"\d{4}-\d\d-\d\d")
_LIMITS = {
    "greater_than": ("more than", "gt"),
    "greater_than_equal": ("at least", "ge"),
    "less_than": ("less than", "lt"),
    "less_than_equal": ("at most", "le"),
}
_DIGITS = "write it in digits, such as 7.5"
_SAID = {
    "float_parsing": _DIGITS,
    "float_type": _DIGITS,
    "int_parsing": "write it in digits, as a whole number",
    "int_type": "write it in digits, as a whole number",
    "int_from_float": "it must be a whole number",
    "finite_number": "it must be a number",
    "bool_parsing": "it must be yes or no",
    "bool_type": "it must be yes or no",
    "string_type": "it must be text",
    "string_unicode": "it holds half of a sign, which no text can; leave that half out",
    "list_type": "a list is wanted here",
    "too_short": "it is empty",
    "string_too_short": "it is empty",
}
_SINGULAR = {
    "areas": "area",
    "layers": "layer",
    "inspections": "inspection",
    "defects": "defect",
    "lines": "line",
    "photos": "photo",
    "witness_cones": "witness cone",
    "bodies": "body",
    "glazes": "glaze",
    "kilns": "kiln",
    "firings": "firing",
    "materials": "material",
    "recipes": "recipe",
    "batches": "batch",
}
LONGEST_SHOWN = 60


def plain(problem: Mapping[str, Any], field: str) -> str:
    """What is wrong, without a full stop.

    Parameters
    ----------
    problem : mapping
        One entry of ``pydantic.ValidationError.errors()``.
    field : str
        Name of the field; one in C may hold a temperature in F.

    Examples
    --------
    >>> told = {"type": "less_than_equal", "ctx": {"le": 1450.0}, "input": 1888.0}
    >>> plain(told, "peak_c")
    'it must be at most 1450; is it in F? 1888 F is 1031 C'
    """
    kind, limits = problem["type"], problem.get("ctx", {})
    if kind in _LIMITS:
        words, limit = _LIMITS[kind]
        said = f"it must be {words} {limits[limit]:g}"
        is_too_hot = field.endswith("_c") and kind.startswith("less")
        return said + (_in_fahrenheit(problem["input"], limits[limit]) if is_too_hot else "")
    if kind.startswith("date"):
        is_day = _ISO_DAY.fullmatch(str(problem["input"]))
        return "there is no such day" if is_day else "a day is year-month-day, such as 2026-03-01"
    if kind in ("too_long", "string_too_long"):
        return f"it must be at most {limits['max_length']} letters long"
    if kind in ("model_type", "model_attributes_type", "dict_type"):
        return "its parts are wanted here, each by its name"
    said = _SAID.get(kind) or problem["msg"].removeprefix("Value error, ").rstrip(".")
    return said[0].lower() + said[1:]


def _in_fahrenheit(value: Any, most: float) -> str:
    """What a temperature that is too hot for C would be if it were in F."""
    celsius = fahrenheit_to_celsius(float(value))
    return f"; is it in F? {float(value):g} F is {celsius:.0f} C" if celsius <= most else ""


def shown(value: Any) -> str:
    """A value as it is repeated to the person who gave it."""
    if isinstance(value, date):
        return str(value)
    text = f"{value:g}" if isinstance(value, float) else repr(value)
    return text if len(text) <= LONGEST_SHOWN else text[: LONGEST_SHOWN - 4] + "...'"


def spoken_place(path: tuple, where: str) -> tuple[str, str]:
    """The field, and where it stands as a person counts: "tiles.json, area 1, layer 2"."""
    *outer, field = [part for part in path if not str(part).startswith("function-")] or [""]
    words_ = [
        f"{_SINGULAR.get(part, part)} {outer[at + 1] + 1}"
        if at + 1 < len(outer) and isinstance(outer[at + 1], int)
        else str(part)
        for at, part in enumerate(outer)
        if not isinstance(part, int)
    ]
    return str(field), ", ".join(part for part in (where, *words_) if part)


def one_line(
    problems: Sequence[Mapping[str, Any]],
    where: str,
    form: "type[BaseModel]",
    beside: Iterable[str],
) -> TilesError:
    """The error of the first problem: what, the value, where, what to do.

    Parameters
    ----------
    problems : sequence of mapping
        Each as for `plain`.
    where : str
        Where the values came from.
    form : type
        The form that they were checked against.
    beside : iterable of str
        Keys that are understood beside the fields of a tile.
    """
    problem = _first(problems)
    inner = problem.get("ctx", {}).get("error")
    field, place = spoken_place(problem["loc"], where)
    suffix = f" ({place})" if place else ""
    if isinstance(inner, TilesError):
        outside = ", ".join(part for part in (place, field if place else "") if part)
        inner.message = inner.message.rstrip(".") + (f" ({outside})." if outside else ".")
        return inner
    if problem["type"] == "extra_forbidden":
        known = _known_keys(form, problem["loc"][:-1], beside)
        close = nearest(field, known)
        hint = f"{f'{close!r}, or one of' if close else 'one of'} {', '.join(known)}."
        return UnknownName(f"there is no field {field!r}{suffix}.", hint, field=field)
    if problem["type"] == "missing":
        return InvalidValue(f"{field} is missing{suffix}.", f"give {field} a value.", field=field)
    what = plain(problem, field)
    if not field:
        return InvalidValue(f"{what}{suffix}.", "correct the record.")
    value = problem.get("input")
    given = "" if isinstance(value, dict | list) or value is None else f" {shown(value)}"
    return InvalidValue(
        f"{field}{given} is not possible: {what}{suffix}.",
        f"correct {field} or leave it out.",
        field=field,
        value=value,
    )


def _first(problems: Sequence[Mapping[str, Any]]) -> Mapping[str, Any]:
    """The first problem; of a key that is missing the one beside it that is mistyped."""
    first = problems[0]
    if first["type"] != "missing":
        return first
    beside = (each for each in problems if each["loc"][:-1] == first["loc"][:-1])
    return next((each for each in beside if each["type"] == "extra_forbidden"), first)


def _known_keys(form: "type[BaseModel]", path: tuple, beside: Iterable[str]) -> list[str]:
    """The keys of the part of a form that a path leads to."""
    names = [part for part in path if isinstance(part, str) and not part.startswith("function-")]
    for name in names:
        form = next(_forms_in(form.model_fields[name].annotation))
    return [*form.model_fields, *(beside if "mark" in form.model_fields else ())]


def _forms_in(annotation: Any) -> "Iterable[type[BaseModel]]":
    """The forms in an annotation such as ``list[AreaRecord] | None``."""
    if hasattr(annotation, "model_fields"):
        yield annotation
    for inner in get_args(annotation):
        yield from _forms_in(inner)
