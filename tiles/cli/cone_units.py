"""A temperature or rate given in C or F, and the question whether the other unit was meant."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from tiles.cli import common
from tiles.errors import OutOfRange, Questioned


@dataclass(frozen=True)
class Unit:
    """A unit a number can be given in; ``beyond`` is what a number is when only the other fits."""

    name: str
    letter: str
    option: str
    field: str
    beyond: str

    def in_c(self, number: float) -> float:
        """The number in C or C/h."""
        return number if self.letter == "C" else self._converted(number)

    def in_other(self, number: float) -> str:
        """The number in the unit it was not given in, as text."""
        other = self.name.replace(self.letter, "F" if self.letter == "C" else "C")
        return f"{self._converted(number):.0f} {other}"

    def _converted(self, number: float) -> float:
        from tiles.chemistry.cones import celsius_to_fahrenheit, fahrenheit_to_celsius

        if self.name.endswith("/h"):
            return number * 1.8 if self.letter == "C" else number / 1.8
        return (celsius_to_fahrenheit if self.letter == "C" else fahrenheit_to_celsius)(number)


TEMPERATURE_C = Unit("C", "C", "--temperature-c", "temperature_c", "hotter than any cone")
TEMPERATURE_F = Unit("F", "F", "--temperature-f", "temperature_c", "cooler than any cone")
RATE_C = Unit("C/h", "C", "--rate-c-per-h", "rate_c_per_h", "faster than any published")
RATE_F = Unit("F/h", "F", "--rate-f-per-h", "rate_c_per_h", "slower than any published")
_OTHER = {TEMPERATURE_C: TEMPERATURE_F, TEMPERATURE_F: TEMPERATURE_C, RATE_C: RATE_F}
_OTHER[RATE_F] = RATE_C


def in_the_unit_meant(number: float, unit: Unit, ask: Callable[[float], Any]) -> Any:
    """``ask`` of the number in C; one that only makes sense in the other unit is asked about.

    Raises
    ------
    Questioned
        The other unit would fit, and there is no person to ask.
    OutOfRange
        Neither fits, or the person meant what was given.
    """
    try:
        return ask(unit.in_c(number))
    except OutOfRange as error:
        if error.field != unit.field:
            raise
        outside = _outside(number, unit, error)
    other = _OTHER[unit]
    try:
        answer = ask(other.in_c(number))
    except OutOfRange:
        raise outside from None
    if not _is_meant(number, unit, other):
        raise outside
    return answer


def _outside(number: float, unit: Unit, error: OutOfRange) -> OutOfRange:
    """The error in the words of the unit given."""
    if unit.letter == "C":
        return error
    message = f"{number:g} {unit.name} is {unit.in_other(number)}. {error.message}"
    return OutOfRange(message, "'tiles cone' for the chart.", field=unit.field, value=number)


def _is_meant(number: float, unit: Unit, other: Unit) -> bool:
    """Whether the person meant the other unit; without a person the question is the error."""
    turned = "" if unit.letter == "C" else f"{unit.in_other(number)}, "
    question = (
        f"{number:g} {unit.name} is {turned}{unit.beyond}; "
        f"{number:g} {other.name} is {other.in_other(number)}."
    )
    if not common.is_interactive():
        raise Questioned(question, f"{other.option} {number:g} if it is in {other.letter}.")
    common.talk(question)
    return common.yes_or_no(f"Did you mean {other.letter}?")
