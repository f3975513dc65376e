"""The temperature of one glass, or of each row of a frame of glasses, checked."""

from typing import Any

from tiles.chemistry._glass import Glass
from tiles.chemistry._number import read_number
from tiles.errors import InvalidValue, OutOfRange


def read_temperature(glass: Glass, temperature_c: Any, what: str, span: tuple[float, float]) -> Any:
    """One number for one glass; one for each row of a frame.

    Parameters
    ----------
    glass : Glass
        The checked composition.
    temperature_c : float, array-like or pandas.Series
        A number, numpy's included. For a frame also one per row: a list or an array goes by
        position, a Series by the labels of its index. [C].
    what : str
        What is estimated, for the error.
    span : (float, float)
        Lowest and highest temperature allowed. [C].

    Raises
    ------
    InvalidValue
        No number; not one per row; labels that are not those of the frame.
    OutOfRange
        A temperature outside ``span``.
    """
    if glass.index is None or _is_single(temperature_c):
        single = _checked(temperature_c, what, span)
        return single if glass.index is None else glass.numbers.full(len(glass.index), single)
    given = _by_row(temperature_c, glass.index)
    checked = [
        _checked(each, what, span, f" of row {label}")
        for label, each in zip(glass.index, given, strict=True)
    ]
    return glass.numbers.array(checked, dtype=float)


def _is_single(value: Any) -> bool:
    is_text = isinstance(value, str | bytes)
    return is_text or not hasattr(value, "__len__") or getattr(value, "ndim", 1) == 0


def _by_row(temperature_c: Any, index: Any) -> list:
    """One temperature for each label of the frame, in the frame's order."""
    if hasattr(temperature_c, "keys") and not hasattr(temperature_c, "reindex"):
        raise InvalidValue(
            f"The temperatures are a {type(temperature_c).__name__}.",
            "a list, an array or a Series, one per row.",
            field="temperature_c",
        )
    if getattr(temperature_c, "ndim", 1) > 1:
        raise InvalidValue(
            f"The temperatures have the shape {temperature_c.shape}.",
            "one column: one temperature per row.",
            field="temperature_c",
        )
    if len(temperature_c) != len(index):
        raise InvalidValue(
            f"{len(temperature_c)} temperatures for {len(index)} glasses.",
            "one temperature, or one per row.",
            field="temperature_c",
        )
    if not hasattr(temperature_c, "reindex") or temperature_c.index.equals(index):
        return list(temperature_c)
    return list(_aligned(temperature_c, index))


def _aligned(series: Any, index: Any) -> Any:
    """The Series in the frame's order; position says nothing where the labels differ."""
    missing = [label for label in index if label not in series.index]
    if missing or not (series.index.is_unique and index.is_unique):
        told = f"has no row {missing[0]}" if missing else "has a label twice in another order"
        raise InvalidValue(
            f"The index of the temperatures {told}, so they cannot be matched to the glasses.",
            "temperature_c.to_numpy() to go by position.",
            field="temperature_c",
        )
    return series.reindex(index)


def _checked(given: Any, what: str, span: tuple[float, float], where: str = "") -> float:
    what_is = f"The temperature{where}"
    temperature = read_number(given, what_is, "1060 for 1060 C.", "temperature_c")
    if not span[0] <= temperature <= span[1]:
        place = where.replace(" of", " in")
        raise OutOfRange(
            f"{what} is estimated between {span[0]:g} and {span[1]:g} C, not at "
            f"{temperature:g} C{place}.",
            "the temperature in degrees C (1940 F is 1060 C).",
            field="temperature_c",
            value=given,
        )
    return temperature
