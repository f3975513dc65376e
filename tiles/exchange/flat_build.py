"""From checked cells of the flat form to tile records.

Every cell has been checked by then, so tiles and layers are put together without a second check;
bodies, glazes and firings, which few rows share, are checked whole, once each.
"""

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import date
from functools import cache
from typing import Any

from tiles.errors import InvalidValue, TilesError
from tiles.exchange import flat_fault_words
from tiles.exchange.flat_columns import (
    FAULT_WORDS,
    MAIN,
    NO_LINES,
    NONE,
    NOT_RECORDED,
    PLACES,
    SEEN,
    columns,
    fields_of,
    header_of,
)
from tiles.exchange.flat_faults import FAULTS, is_later
from tiles.exchange.flat_looks import by_look, of_areas
from tiles.records import forms
from tiles.records.clues import clues
from tiles.records.words import PLAIN_GLAZE, name_key, same_value

UNNAMED = "not recorded"
"""Stands for the name of a body or glaze in a data frame that leaves it blank."""

NO_DAY = date.min
"""The day of a look whose day a data frame does not give."""

_NAMED = {
    "body": forms.BodyRecord,
    "glaze": forms.GlazeRecord,
    "batch": forms.BatchRecord,
    "firing": forms.FiringRecord,
    "bisque_firing": forms.FiringRecord,
}
_FIRING_KINDS = {"firing": "glaze", "bisque_firing": "bisque"}
_FREELY_NAMED = (*_FIRING_KINDS, "batch")
"""What often has no name until a sheet asks for one."""
_FROM_CLAY_UP = (*reversed(PLACES[1:]), MAIN, PLACES[0])


@dataclass(frozen=True)
class Row:
    """The filled cells of one row, checked, by column; and where they stand."""

    cells: dict[str, Any]
    number: int
    source: str = ""

    def refuse(self, column: str, what: str, hint: str) -> InvalidValue:
        """An error that names the row and the column."""
        place = ", ".join(p for p in (self.source, f"row {self.number}", f"column {column}") if p)
        value = self.cells.get(column)
        return InvalidValue(f"{what} ({place}).", hint, field=column, value=value, row=self.number)


@dataclass
class Builder:
    """Puts records together, sharing the parts that rows have in common.

    Parameters
    ----------
    is_strict : bool
        Refuse a row that lacks a name or a day; else ``UNNAMED`` and ``NO_DAY`` stand for them, and
        a named glaze is ``PLAIN_GLAZE`` in what the rows leave open.
    looked_when_fired : bool
        A result without a day of the look was seen on the day of its firing.
    fired_on : mapping
        The days of firings on record, by their names in small letters.
    blank_recipes : list of tuple
        Mark and layer wherever the recipe of a glaze was left blank.
    """

    is_strict: bool = True
    looked_when_fired: bool = False
    fired_on: Mapping[str, date] = field(default_factory=dict)
    blank_recipes: list[tuple[str, forms.LayerRecord]] = field(default_factory=list)
    _made: dict[tuple, Any] = field(default_factory=dict)

    def tile(self, rows: Sequence[Row]) -> forms.TileRecord:
        """The record of one tile, from the rows of its areas.

        Raises
        ------
        InvalidValue
            The rows do not agree, or lack a name; with row and column.
        """
        looks = by_look(rows, self._day)
        rows = list(of_areas(looks).values()) if looks else rows
        whole = _of_tile(rows)
        own = {name: whole.cells.get(header) for header, name in fields_of("tile")}
        if own["mark"] is None:
            own["mark"] = self._stand_in(whole, "mark", f"row {whole.number}")
        numbers = _area_numbers(rows)
        answers = [_clues(row) for row in rows]
        shared = _shared(answers)
        areas = [
            self._area(row, number, {k: v for k, v in own_clues.items() if k not in shared})
            for row, number, own_clues in zip(rows, numbers, answers, strict=True)
        ]
        return forms.TileRecord.model_construct(
            **own,
            body=self._named("body", whole) or self._unnamed("body", whole),
            bisque_firing=self._named("bisque_firing", whole),
            firing=self._named("firing", whole),
            areas=sorted(areas, key=lambda area: area.number),
            clues=shared,
            inspections=self._each_look(whole, looks)
            if looks
            else self._looks(whole, rows, numbers),
            photos=[],
        )

    def recipes(self, row: Row) -> list[tuple[str, forms.RecipeRecord]]:
        """The good recipes of a row by glaze; what is wrong with one is told with its tile."""
        found = []
        for place in _FROM_CLAY_UP:
            glaze = row.cells.get(header_of("glaze", "name", place))
            with suppress(TilesError):
                recipe = self._recipe(row, place)
                found += [(glaze, recipe)] if glaze and recipe else []
        return found

    def _area(self, row: Row, number: int, answers: dict[str, str]) -> forms.AreaRecord:
        values = {name: row.cells.get(header) for header, name in fields_of("area")}
        values["number"] = number
        layers = [self._layer(row, place) for place in _FROM_CLAY_UP]
        layers = [layer for layer in layers if layer is not None]
        return forms.AreaRecord.model_construct(**values, layers=layers, clues=answers)

    def _layer(self, row: Row, place: str) -> forms.LayerRecord | None:
        values = {name: row.cells.get(header) for header, name in fields_of("layer", place)}
        glaze = self._named("glaze", row, place)
        recipe = self._recipe(row, place)
        batch = self._named("batch", row, place)
        if glaze is None:
            if recipe is None and batch is None and not any(values.values()):
                return None
            glaze = self._unnamed("glaze", row, place)
        layer = forms.LayerRecord.model_construct(glaze=glaze, recipe=recipe, batch=batch, **values)
        if header_of("recipe", "lines", place) not in row.cells:
            self.blank_recipes.append((row.cells.get("mark"), layer))
        return layer

    def _recipe(self, row: Row, place: str) -> forms.RecipeRecord | None:
        values = {f: row.cells[h] for h, f in fields_of("recipe", place) if h in row.cells}
        if not values:
            return None
        header = header_of("recipe", "lines", place)
        if values == {"lines": NO_LINES}:
            return None
        if values.get("lines", NO_LINES) == NO_LINES:
            if self.is_strict and "lines" in values:
                more = next(h for h, f in fields_of("recipe", place)[1:] if h in row.cells)
                raise row.refuse(header, f"{NOT_RECORDED!r} and a {more} contradict each other",
                                 f"its lines, or {more} blank.")  # fmt: skip
            if self.is_strict:
                raise row.refuse(header, "a recipe is described but its lines are blank",
                                 "the lines, such as whiting=14; silica=20.")  # fmt: skip
            return None
        lines = [dict(zip(("material", "parts", "is_addition"), line, strict=True))
                 for line in values["lines"]]  # fmt: skip
        return self._once(forms.RecipeRecord, values, row, header, lines=lines)

    def _named(self, part: str, row: Row, place: str = MAIN):
        """The part of the record with a name of its own; None when nothing of it is given."""
        fields = fields_of(part, place)
        values = {name: row.cells[header] for header, name in fields if header in row.cells}
        if not values:
            return None
        header = header_of(part, "name", place)
        if "name" not in values:
            if self.is_strict and part in _FREELY_NAMED:
                raise _unnamed_facts(row, header, next(h for h, _name in fields if h in row.cells))
            values["name"] = self._stand_in(row, header, UNNAMED)
        elif part == "glaze" and not self.is_strict:
            values = PLAIN_GLAZE | values  # as the store has it: an import leaves that to it
        more = {"kind": _FIRING_KINDS[part]} if part in _FIRING_KINDS else {}
        if "witness_cones" in values:
            more["witness_cones"] = [
                {"shelf": shelf, "cone": cone} for shelf, cone in values["witness_cones"]
            ]
        return self._once(_NAMED[part], values, row, header, **more)

    def _once(self, form: type, values: dict, row: Row, header: str, **more):
        key = (header, *values.items())
        if key not in self._made:
            try:
                self._made[key] = forms.read(form, values | more)
            except TilesError as error:
                raise row.refuse(header, error.message.rstrip("."), error.hint) from error
        return self._made[key]

    def _unnamed(self, part: str, row: Row, place: str = MAIN):
        header = header_of(part, "name", place)
        return _NAMED[part](name=self._stand_in(row, header, UNNAMED))

    def _stand_in(self, row: Row, header: str, name: str) -> str:
        if self.is_strict:
            raise row.refuse(header, f"{header} is blank", f"fill in {header}.")
        return name

    def _each_look(self, whole: Row, looks: list[dict[int, Row]]) -> list:
        """Each of several looks, with what its own rows tell of it."""
        found = []
        for look in looks:
            rows = list(look.values())
            of_look = Row(whole.cells | _of_tile(rows).cells, rows[0].number, whole.source)
            found += self._looks(of_look, rows, list(look))
        return found

    def _looks(self, whole: Row, rows: Sequence[Row], numbers: list[int]) -> list:
        seen, is_looked_at = [], False
        for row, number in zip(rows, numbers, strict=True):
            found = {f: row.cells[h] for h, f in fields_of("defect") if h in row.cells}
            words = dict(row.cells.get(FAULTS, ()))
            is_looked_at |= bool(found)
            seen_there = [fault for fault, level in found.items() if level != NONE]
            apart = dict(row.cells.get(FAULT_WORDS, ()))
            flat_fault_words.refuse_of_none(row, apart, seen_there)
            self._refuse_later(row, words)
            if self.is_strict and not found and "inspected_on" in whole.cells:
                raise row.refuse(
                    "inspected_on",
                    "there is a day of inspection but no result",
                    "none in faults, or in the column of a defect looked for.",
                )
            seen += [
                forms.DefectSeen.model_construct(
                    defect=defect,
                    severity=None if level == SEEN else level,
                    area=number if len(rows) > 1 else None,
                    place=None,
                    note=words.get(defect, apart.get(defect)),
                )
                for defect, level in found.items()
                if level != NONE
            ]
        return self._look(whole, seen) if is_looked_at or "inspected_on" in whole.cells else []

    def _refuse_later(self, row: Row, words: Mapping[str, str]) -> None:
        """What was seen later is no look of the day of the firing."""
        day = self._day(row) if self.is_strict else None
        is_of_firing = day and day in (row.cells.get("fired_on"), self._fired_on(row))
        for defect, told in words.items():
            if is_of_firing and is_later(told):
                raise row.refuse(
                    FAULTS,
                    f"{told!r} beside {defect} is not of the day of the firing",
                    f"a further row of this mark for it, with {defect} and an inspected_on of its "
                    "own: the day it was seen.",
                )

    def _look(self, whole: Row, seen: list) -> list[forms.InspectionRecord]:
        day = self._day(whole)
        if day is None:
            if self.is_strict:
                fired = "fired_on" if self.looked_when_fired else (
                    "--looked-when-fired to take the day of the firing")  # fmt: skip
                raise whole.refuse("inspected_on", "defects are filled in but inspected_on is "
                                   "blank", f"the day of the look, or {fired}.")  # fmt: skip
            day = NO_DAY
        note = whole.cells.get("inspection_note")
        return [forms.InspectionRecord.model_construct(inspected_on=day, defects=seen, note=note)]

    def _day(self, row: Row) -> date | None:
        """The day of the look that a row tells of, where it is known."""
        day = row.cells.get("inspected_on")
        if day is None and self.looked_when_fired:
            day = row.cells.get("fired_on", self._fired_on(row))
        return day

    def _fired_on(self, row: Row) -> date | None:
        return self.fired_on.get(name_key(row.cells.get("firing", "")))


def _unnamed_facts(row: Row, header: str, given: str) -> InvalidValue:
    return row.refuse(
        header,
        f"{given} is given, but {header} is blank",
        f"any name for it, such as {header.replace('_', ' ')} 1, the same where it was the same "
        f"one; or {given} blank.",
    )


@cache
def _tile_columns() -> tuple[str, ...]:
    return tuple(each.name for each in columns() if each.of_tile)


def _of_tile(rows: Sequence[Row]) -> Row:
    """What the rows say of the whole tile. A blank agrees with everything."""
    if len(rows) == 1:
        return rows[0]
    told: dict[str, Any] = {}
    by: dict[str, int] = {}
    for row in rows:
        for header in _tile_columns():
            value = row.cells.get(header)
            if value is None:
                continue
            if not same_value(told.setdefault(header, value), value):
                raise row.refuse(
                    header,
                    f"{header} is {value!s}, but row {by[header]} of {rows[0].cells.get('mark')} "
                    f"says {told[header]!s}",
                    "another mark if these are two tiles; if it is one, the same on all its rows.",
                )
            by.setdefault(header, row.number)
    return Row(told, rows[0].number, rows[0].source)


def _area_numbers(rows: Sequence[Row]) -> list[int]:
    if len(rows) == 1:
        return [rows[0].cells.get("area", 1)]
    numbers: list[int] = []
    _refuse_twins(rows)
    for row in rows:
        number = row.cells.get("area")
        mark = row.cells.get("mark")
        if number is None:
            raise row.refuse(
                "area",
                f"{mark} has several rows, and this one has no area",
                "another mark if these are several tiles; for areas of one tile 1, 2, 3 ...; for "
                "a later look at it an inspected_on of its own on each row.",
            )
        if number in numbers:
            raise row.refuse(
                "area",
                f"two rows of {mark} are both area {number}",
                "another number, or another mark if it is another tile; for a later look an "
                "inspected_on of its own on each row.",
            )
        numbers.append(number)
    return numbers


def _refuse_twins(rows: Sequence[Row]) -> None:
    """A row that says all that one before it says was typed or pasted twice, most often."""
    for at, row in enumerate(rows):
        twin = next((other for other in rows[:at] if other.cells == row.cells), None)
        if twin:
            raise row.refuse(
                "mark",
                f"{row.cells.get('mark')} stands twice: row {twin.number} says the same",
                "strike one of the two out, or another mark if it is another tile.",
            )


def _clues(row: Row) -> dict[str, str]:
    return {name: row.cells[h] for h, name in fields_of("clue") if h in row.cells}


def _shared(by_row: list[dict[str, str]]) -> dict[str, str]:
    """Answers about the tile as a whole on which all rows agree."""
    first, *others = by_row
    return {
        name: answer
        for name, answer in first.items()
        if clues()[name].about == "tile" and all(row.get(name) == answer for row in others)
    }
