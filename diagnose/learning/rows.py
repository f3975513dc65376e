"""From a flat frame, or from tile records, to what the learner looks at: one row an area.

What a row knows is read from a record whose inspections are taken off, so that nothing that was
seen after the firing can find its way into a forecast.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from copy import deepcopy
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from tiles.errors import TilesError
from tiles.records.words import DEFECTS, SEVERITIES, name_key

if TYPE_CHECKING:
    import numpy as np
    import pandas as pd

    from tiles.exchange.flat_shared import Shared
    from tiles.records.forms import TileRecord

NOT_SEEN, JUST_SEEN = ("no", "false"), ("yes", "true")
"""How tables of other origin say ``none`` and ``seen``; a number above 0 says seen too."""
NOT_SAID = float("nan")


@dataclass(frozen=True)
class Row:
    """One area of one tile, its inspections taken off, and the day it was looked at."""

    record: "TileRecord"
    area: int | None
    looked_on: Any = None


@dataclass
class Observed:
    """Rows with their outcomes.

    ``outcomes`` holds for each defect 1 where it was seen, 0 where it was not, NaN where nobody
    looked; ``worse``, where it was seen, 1 for worse than slight and 0 for slight, NaN elsewhere
    and where nobody said. shape (rows,) each. ``passed_over`` counts, by column, the values (each
    once) and the rows that could not be read and were taken for blank; a column that is not known
    counts once. ``shared`` holds what the rows of a frame told of the glazes, bodies and firings
    they share.
    """

    rows: list[Row]
    outcomes: "dict[str, np.ndarray]"
    worse: "dict[str, np.ndarray]"
    passed_over: dict[str, int] = field(default_factory=dict)
    shared: "Shared | None" = None


def looked_at(outcomes: "dict[str, np.ndarray]") -> "np.ndarray":
    """Rows with an outcome of any defect. shape (rows,)."""
    import numpy as np

    return np.any([np.isfinite(y) for y in outcomes.values()], axis=0)


def from_records(records: "Iterable[TileRecord]") -> Observed:
    """Every area of every tile; a tile that was never inspected has no outcome."""
    import numpy as np

    rows: list[Row] = []
    told: list[list[tuple[float, float]]] = []
    for record in records:
        bare = record.model_copy(update={"inspections": []})
        looked_on = max((look.inspected_on for look in record.inspections), default=None)
        for number in [area.number for area in record.areas] or [None]:
            rows.append(Row(bare, number, looked_on))
            told.append([_found(record, number, defect) for defect in DEFECTS])
    seen, worse = np.array(told, float).reshape(-1, len(DEFECTS), 2).transpose(2, 1, 0)
    return Observed(
        rows, dict(zip(DEFECTS, seen, strict=True)), dict(zip(DEFECTS, worse, strict=True))
    )


def _found(record: "TileRecord", area: int | None, defect: str) -> tuple[float, float]:
    """Whether a defect was seen on an area, and whether it was worse than slight in any look."""
    found = [
        each.severity
        for look in record.inspections
        for each in look.defects
        if each.defect == defect and each.area in (None, area)
    ]
    said = [_worse(severity) for severity in found if severity]
    return float(bool(found)) if record.inspections else NOT_SAID, max(said, default=NOT_SAID)


def from_frame(frame: "pd.DataFrame", told_before: "Shared | None" = None) -> Observed:
    """Every row of a flat frame.

    Parameters
    ----------
    frame : pandas.DataFrame
        Any of the flat columns. A cell that cannot be read, and a column that is not known, are
        passed over and counted: a forecast must not fail for one odd word. A fact about a glaze,
        a body or a firing that is blank on one row is taken from the others that name it.
    told_before : Shared, optional
        What earlier rows told of the same glazes, bodies and firings.
    """
    from tiles.exchange.flat_shared import Shared

    passed: Counter[str] = Counter()
    shared = deepcopy(told_before) if told_before else Shared(with_recipes=True)
    rows = _records(frame, passed, shared)
    told = {defect: _outcome(frame, defect, passed) for defect in DEFECTS}
    outcomes, worse = ({defect: each[at] for defect, each in told.items()} for at in (0, 1))
    return Observed(rows, outcomes, worse, dict(passed), shared)


def join_looks(observed: Observed, frame: "pd.DataFrame") -> Observed:
    """Every area once, by all that was seen of it.

    Further rows of an area (``mark`` and ``area``) whose looks were on other days are later looks
    at it, as a sheet has them. The row that says most of the tile stands for it, with the last day.
    A row of a mark that stands there again, alike in every column, was pasted twice.

    Parameters
    ----------
    observed : Observed
        All rows of the frame.
    frame : pandas.DataFrame
        The frame they were read from.
    """
    import numpy as np

    filled, rows = frame.notna().sum(axis=1).to_numpy(), list(observed.rows)
    stays = ~_pasted_again(frame)
    told = np.array([[*observed.outcomes.values()], [*observed.worse.values()]])
    for places in _looks(frame, rows, stays):
        fullest = max(places, key=lambda at: filled[at])
        rows[fullest] = replace(rows[fullest], looked_on=max(rows[at].looked_on for at in places))
        told[:, :, fullest] = np.fmax.reduce(told[:, :, places], axis=-1)
        stays[places] = np.array(places) == fullest
    outcomes, worse = (
        dict(zip(observed.outcomes, each, strict=True)) for each in told[:, :, stays]
    )
    rows = [row for row, is_kept in zip(rows, stays, strict=True) if is_kept]
    return replace(observed, rows=rows, outcomes=outcomes, worse=worse)


def _pasted_again(frame: "pd.DataFrame") -> "np.ndarray":
    """Rows that repeat an earlier one of their mark in every column. shape (rows,)."""
    import numpy as np

    if "mark" not in frame.columns:
        return np.zeros(len(frame), bool)
    marks = frame["mark"].astype(str)
    is_marked = frame["mark"].notna() & (marks.str.strip() != "")
    again = (is_marked & marks.duplicated(keep=False)).to_numpy(bool, copy=True)
    again[again] = frame[again].astype(str).duplicated()
    return again


def _looks(frame: "pd.DataFrame", rows: list[Row], stays: "np.ndarray") -> Iterator[list[int]]:
    """Places of the looks at one area, where there were several among the rows that stay."""
    areas = frame["area"].astype(str) if "area" in frame.columns else [""] * len(frame)
    found: dict[tuple[str, str], list[int]] = {}
    for at, (row, area) in enumerate(zip(rows, areas, strict=True)):
        if row.looked_on and stays[at]:
            found.setdefault((name_key(row.record.mark), area), []).append(at)
    for places in found.values():
        if 1 < len(places) == len({rows[at].looked_on for at in places}):
            yield places


def _records(frame: "pd.DataFrame", passed: Counter, shared: "Shared") -> list[Row]:
    from tiles.exchange.flat_build import Builder
    from tiles.exchange.flat_build import Row as Cells

    cells = [Cells({}, number) for number in range(len(frame))]
    for name in frame.columns:
        _read_column(frame, name, cells, passed)
    shared.gather(cells)
    shared.fill(cells)
    builder = Builder(is_strict=False)
    rows = []
    for each in cells:
        looked_on = each.cells.pop("inspected_on", None)
        each.cells.pop("inspection_note", None)
        each.cells.pop("area", None)  # a row stands for itself: one area a record
        rows.append(Row(_build(builder, each, passed), 1, looked_on))
    return rows


def _read_column(frame: "pd.DataFrame", name: str, rows: Sequence, passed: Counter) -> None:
    """Fill the cells of one column; each different value is read once."""
    from tiles.exchange.flat_cells import is_blank, read_cell
    from tiles.exchange.flat_columns import by_name

    column = by_name().get(str(name))
    if column is None:
        passed[str(name)] += 1
        return
    if column.part == "defect":
        return
    known: dict[Any, Any] = {}
    for place, value in _filled(frame[name]):
        try:
            hash(value)
        except TypeError:  # a list in a cell
            passed[str(name)] += 1
            continue
        if value not in known:
            try:
                known[value] = None if is_blank(value) else read_cell(column, value)
            except TilesError:
                known[value] = None
                passed[str(name)] += 1
        if known[value] is not None:
            rows[place].cells[column.name] = known[value]


def _filled(column: "pd.Series") -> Iterator[tuple[int, Any]]:
    """Place and value of every cell that is not NaN, None or pandas' NA."""
    filled = column.notna().to_numpy()
    return zip(filled.nonzero()[0], column.to_numpy(dtype=object)[filled], strict=True)


def _build(builder, row, passed: Counter) -> "TileRecord":
    """The record of one row; a part that contradicts itself keeps its name alone, or goes."""
    try:
        return builder.tile([row])
    except TilesError as error:
        part = _part_of(error.field)
        passed[error.field or "row"] += 1
        gone = [h for h in row.cells if _part_of(h) == part and h != error.field]
        for header in gone or ([error.field] if error.field in row.cells else list(row.cells)):
            del row.cells[header]
    return _build(builder, row, passed)


def _part_of(header: str | None) -> tuple[str, str] | None:
    from tiles.exchange.flat_columns import by_name

    column = by_name().get(header or "")
    return (column.part, column.place) if column else None


def _outcome(frame: "pd.DataFrame", defect: str, passed: Counter) -> "tuple[np.ndarray, ...]":
    """Whether the defect was seen, and whether it was worse than slight, as in `Observed`."""
    import numpy as np

    from tiles.exchange.flat_columns import defect_column

    name = defect_column(defect)
    told = np.full((2, len(frame)), np.nan)
    if name not in frame.columns:
        return tuple(told)
    known: dict[Any, tuple[float, float]] = {}
    for place, value in _filled(frame[name]):
        if str(value) not in known:
            known[str(value)] = _graded(value)
            if np.isnan(known[str(value)][0]) and str(value).strip():
                passed[name] += 1
        told[:, place] = known[str(value)]
    return tuple(told)


def _graded(value: Any) -> tuple[float, float]:
    """Seen or not, and worse than slight or not; NaN for what is neither or was not said.

    How numbers count severities is not known: one above 0 says that the defect was seen.

    Examples
    --------
    >>> [_graded(each) for each in ("Severe", "slight", "none", 2, False, "n/a")]
    [(1.0, 1.0), (1.0, 0.0), (0.0, nan), (1.0, nan), (0.0, nan), (nan, nan)]
    """
    from tiles.exchange.flat_columns import NONE, SEVERITY_WORDS
    from tiles.records.words import read_word

    text = str(value).strip().casefold()
    if text in NOT_SEEN + JUST_SEEN:
        return float(text in JUST_SEEN), NOT_SAID
    try:
        word = read_word(text, SEVERITY_WORDS, "severity")
        return float(word != NONE), _worse(word)
    except TilesError:
        pass
    try:
        number = float(text)
    except ValueError:
        return NOT_SAID, NOT_SAID
    return (float(number > 0) if 0 <= number < float("inf") else NOT_SAID), NOT_SAID


def _worse(severity: str | None) -> float:
    """1 for a severity above the least, 0 for the least, NaN where there is none."""
    return float(severity != SEVERITIES[0]) if severity in SEVERITIES else NOT_SAID
