"""``tiles find``: which areas of which tiles."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Annotated

import typer

from tiles.cli import asked, caution, common, output, stretch
from tiles.cli.prose import counted
from tiles.errors import InvalidValue, shell_word

COLUMNS = {
    "mark": "mark",
    "body": "body",
    "coat": "glaze x coats, from the clay up",
    "thickness_mm": "mm",
    "cone_reached": "cone",
    "firing": "firing",
    "result": "result",
}
CLEAN_COLUMNS = {key: head for key, head in COLUMNS.items() if key != "result"} | {
    "alike": "made so: clean"
}
"""Every row is clean: what tells more is how many tiles made alike were, and how they failed made
otherwise. A tile counts as one, and is not clean where another area made alike is not."""
ONCE = ("body", "cone_reached", "firing")
MOST_WORDS = 2
"""So much of what was written of another fault stands in a cell."""


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("find")(find)


@asked.spread
def find(
    *,
    mark: Annotated[
        str | None,
        typer.Option(help="With a mark that may be this, ? for a sign that cannot be read: M-1?7."),
    ] = None,
    made: asked.Made,
    thickness_from_mm: Annotated[
        float | None, common.number("Dry coat at least this.", "mm")
    ] = None,
    thickness_to_mm: Annotated[float | None, common.number("Dry coat at most this.", "mm")] = None,
    defect: Annotated[str | None, typer.Option(help="With this defect seen.")] = None,
    clean: Annotated[
        bool, typer.Option("--clean", help="Inspected, and no inspection saw a defect.")
    ] = False,
    faulty: Annotated[bool, typer.Option("--faulty", help="With any defect seen.")] = False,
    clue: Annotated[
        list[str] | None,
        typer.Option(help="With this recorded: bisque_dusty=yes; repeat for more."),
    ] = None,
    not_inspected: Annotated[bool, typer.Option("--not-inspected", help="Never looked at.")] = (
        False
    ),
    blank: Annotated[
        str | None,
        typer.Option(
            help="With this not recorded: firing, shelf, cone-reached, bisque-cone, coats or "
            "thickness."
        ),
    ] = None,
    doubtful: Annotated[
        bool, typer.Option("--doubtful", help="What is doubtful of them, and how to mend it.")
    ] = False,
    noted: asked.Noted,
    listing: asked.Listing,
) -> None:
    """Find tiles, one row for each area: what was on it, the cone reached, the result.

    With --clean the last column says how many tiles with the same layers and coats on the same
    body at the same cone were clean, of all that were inspected, and with which other coats or on
    which other body the same layers failed there.

    Example: tiles find --clean --cone 05 --body "red earthenware"
    """
    _refuse_contradictions(clean=clean, faulty=faulty or bool(defect), not_inspected=not_inspected)
    _refuse_backwards(thickness_from_mm, thickness_to_mm)
    search = _search(
        mark=mark,
        defect=defect,
        **made.searched,
        thickness_from_mm=thickness_from_mm,
        thickness_to_mm=thickness_to_mm,
        is_clean=True if clean else False if faulty else None,
        is_inspected=False if not_inspected else None,
        **noted.searched,
        clues=_clues(clue or ()),
        blank=blank,
    )
    if doubtful:
        from tiles.cli.find_doubtful import show_doubtful

        show_doubtful(search, listing)
        return
    _print(search, listing)


def _refuse_contradictions(*, clean: bool, faulty: bool, not_inspected: bool) -> None:
    if clean + faulty + not_inspected > 1:
        told = "a clean tile has been inspected and shows no defect."
        told = told if clean else "a tile that nobody looked at shows no defect."
        raise InvalidValue(told, "one of --clean, --faulty (or --defect), --not-inspected.")


def _clues(told: Iterable[str]) -> tuple[tuple[str, str], ...]:
    """Each clue with its answer, as they are stored.

    Raises
    ------
    InvalidValue
        One names an area: each area is looked at, and those are shown of which it is true.
    """
    from tiles.cli import entry
    from tiles.records import clues

    found = []
    for text in told:
        name, answer, area = entry.read_clue(text)
        if area is not None:
            raise InvalidValue(f"clue {text!r} names an area.", f"--clue {name}={answer}.")
        found.append(clues.read_clue(name, answer))
    return tuple(found)


def _refuse_backwards(from_mm: float | None, to_mm: float | None) -> None:
    if from_mm is not None and to_mm is not None and from_mm > to_mm:
        raise InvalidValue(
            f"no coat is at least {from_mm:g} mm and at most {to_mm:g} mm.",
            f"--thickness-from-mm {to_mm:g} --thickness-to-mm {from_mm:g}.",
        )


def _print(search, listing: asked.Listing) -> None:
    """Print the answer to a search."""
    with common.reading(listing.db) as session:
        answer = (
            _read_table(session, search, listing) if listing.is_table else _read(session, search)
        )
    if answer.above:
        common.talk(answer.above)
    how = {"as_json": listing.as_json, "as_csv": listing.as_csv, "limit": listing.limit}
    columns = CLEAN_COLUMNS if search.is_clean else COLUMNS
    keys = list(_row(blank(), {}))
    output.rows(answer.rows, columns, keys=keys, once=ONCE, may_go=True, empty=answer.empty, **how)
    for line in answer.below:
        common.talk(line)


@dataclass(frozen=True)
class _Answer:
    """The rows, what stands above and below them, and what is said where there are none."""

    rows: list[dict]
    empty: str = "No such tile."
    above: str = ""
    below: Sequence[str] = ()


def _read(session, search) -> _Answer:
    """The rows alone, as JSON and CSV have them."""
    from tiles.queries.combinations import alike
    from tiles.queries.search import run

    found = run(session, search)
    made_so = alike(session, search, otherwise=False) if found else {}
    return _Answer([_row(each, made_so) for each in found])


def _read_table(session, search, listing: asked.Listing) -> _Answer:
    """The rows as a person reads them, with what must be known of those that are shown."""
    from tiles.cli.find_unread import without_cone
    from tiles.cli.palette_others import failed_so
    from tiles.queries.combinations import alike, made, made_otherwise
    from tiles.queries.search import run

    found, is_clean = run(session, search), bool(search.is_clean)
    made_so = alike(session, search, otherwise=is_clean) if found else {}
    others = made_otherwise(made_so) if is_clean else {}
    failed = [failed_so(each, others.get(made(each), [])) for each in found]
    rows = [
        (row := _row(each, made_so)) | readable(row, each, made_so, otherwise)
        for each, otherwise in zip(found, failed, strict=True)
    ]
    shown = found[: listing.limit]
    below = failed_otherwise(shown, failed)
    below += _notes(session, search, shown)
    below += without_cone(session, search)
    below += _in_remarks(session, search)
    below += caution.line(caution.held(session, caution.on_areas(shown)))
    # Last, where the eye is when a long table has gone by.
    below += [_count(session, search, found, len(shown))] if found else []
    empty = "No such tile." if found else _none(session, search)
    return _Answer(rows, empty, stretched(session, search, found), below)


def _count(session, search, found: list, rows: int) -> str:
    """How many tiles and areas, and how to have fewer; of clean ones what that does not show."""
    from tiles.cli.find_early import no_proof
    from tiles.cli.narrower import narrower

    tiles = len({each.mark for each in found})
    areas = f", {len(found)} areas" if len(found) != tiles else ""
    told = [f"{counted(tiles, 'tile')}{areas}", narrower(search, rows, "--limit")]
    told += [no_proof(session, found)] if search.is_clean else []
    return ". ".join(filter(None, told))


def _notes(session, search, shown: list) -> list[str]:
    """What must be known of the tiles that are shown; of none, whether another cone has some."""
    from tiles.cli.find_early import came_late_on, looked_too_early, told
    from tiles.cli.find_early_clay import early_on_clays
    from tiles.cli.food import unmet
    from tiles.cli.off_label import cones_of_labels
    from tiles.queries.summaries import food_labels

    late = came_late_on(session, shown)
    early = looked_too_early(late, shown)
    notes = [*(told(early) if shown else other_zero(session, search)), *failures_only(session)]
    if search.is_clean:
        notes += (each.line for each in early_on_clays(session, late, shown, early))
        notes += cones_of_labels(session).told(shown)
        notes += unmet(shown, food_labels(session))
    return notes


def _in_remarks(session, search) -> list[str]:
    """Where else the words stand that were looked for in the notes on tiles."""
    from tiles.queries.remarks import remarks_with
    from tiles.records.spoken import some

    found = remarks_with(session, search.note) if search.note else {}
    if not found:
        return []
    told = "; ".join(f"{part} of {option} {some(names)}" for (option, part), names in found.items())
    (option, _part), (name, *_rest) = next(iter(found.items()))
    return [
        f"Elsewhere on record: {search.note!r} in {told}. What is on tiles of it: "
        f"'tiles find --{option} {shell_word(name)}'."
    ]


def stretched(session, search, found: list) -> str:
    """What stands above the tiles of a time or with words noted; "" where none was asked for."""
    from tiles.queries.unread import tiles_without_day

    fired = {each.mark: each.fired_on for each in found}
    undated = tiles_without_day(session, search)
    return stretch.heading(search, fired.values(), undated)


def failures_only(session) -> list[str]:
    """A line where hardly a tile of the studio is clean: such counts are no rates."""
    from tiles.queries.summaries import inspected_and_clean
    from tiles.records.failures_only import said

    told = said(*inspected_and_clean(session))
    return [told] if told else []


def _row(found, made_so: dict) -> dict:
    """An area as ``tiles find --json`` prints it."""
    return found.as_dict() | counts_alike(found, made_so)


def blank():
    """An area that was not found: its keys head a CSV without rows."""
    from tiles.queries.search import Found

    return Found("", 1, None, "", None, None, None, inspected=False)


def other_zero(session, search) -> list[str]:
    """Where nothing was found at cone 5: what there is at 05, or the other way round."""
    from tiles.queries.search import run, with_other_zero

    other = with_other_zero(search)
    there = len(run(session, other)) if other else 0
    return [f"At cone {other.cone_from}: {counted(there, 'area')}."] if there else []


def _none(session, search) -> str:
    """What to say where nothing was found; of clean tiles, what the inspected ones showed."""
    from collections import Counter
    from dataclasses import replace

    from tiles.queries.search import run
    from tiles.records.spoken import some
    from tiles.records.words import OTHER_FAULT

    faulty = run(session, replace(search, is_clean=False)) if search.is_clean else []
    if not faulty:
        return "No such tile."
    seen = {(each.mark, defect) for each in faulty for defect in each.severity}
    on = Counter(defect for _mark, defect in sorted(seen)).most_common()
    words = list(dict.fromkeys(each for area in faulty for each in area.other_words))
    told = some([
        f"{defect}{in_words(words) if defect == OTHER_FAULT else ''} on {count}"
        for defect, count in on
    ])  # fmt: skip
    tiles = counted(len({each.mark for each in faulty}), "tile")
    return f"None is clean: {tiles} inspected, {told}."


def _search(**parts):
    from tiles.queries.search import Search
    from tiles.records import words

    if parts["defect"]:
        parts["defect"] = words.read_word(parts["defect"], words.DEFECTS, "defect")
    if parts["blank"]:
        from tiles.queries.blank import BLANK

        parts["blank"] = words.read_word(parts["blank"], tuple(BLANK), "field to be blank")
    return Search(**parts)


def failed_otherwise(shown: Sequence, failed: Sequence) -> list[str]:
    """What the ways that the rows call "but" came to, each once however many rows name it.

    Parameters
    ----------
    shown : sequence of Found
        The rows that are shown; a body that is that of all of them goes without saying.
    failed : sequence of Otherwise or None
        Of each row the other way of putting on its layers that failed most.
    """
    of_all = {each.body for each in shown}
    told = dict.fromkeys(
        f"{coat(each.area)}{'' if of_all == {each.area.body} else f' on {each.area.body}'} "
        f"({each.fault})"
        for each in failed[: len(shown)]
        if each
    )
    return [f"But at least half failed of: {', '.join(told)}."] if told else []


def readable(row: dict, found, made_so: dict, otherwise) -> dict:
    """The cells of the table that put several fields into one."""
    but = f"; but {otherwise.way}" if otherwise else ""
    alike = _made_like(found, made_so).areas
    faulty = [each for each in alike if each.mark == found.mark and not each.clean]
    beside = f"; area {', '.join(str(each.area) for each in faulty)} not" if faulty else ""
    area = f" / {row['area']}" if found.areas_on_tile > 1 else ""
    return {
        "mark": row["mark"] + area,
        "coat": coat(found),
        "thickness_mm": row["thickness_mm"] if any(row["thickness_mm"]) else None,
        "result": result(row),
        "alike": f"{row['alike_clean']} of {row['alike_tiles']}{beside}{but}",
    }


def counts_alike(found, made_so: dict) -> dict[str, int]:
    """How many tiles made alike were inspected, and how many of them were clean."""
    alike = _made_like(found, made_so)
    return {"alike_tiles": len(alike.marks), "alike_clean": len(alike.clean)}


def _made_like(found, made_so: dict):
    from tiles.queries.combinations import Combination, made

    return made_so.get(made(found), Combination())


def coat(found) -> str:
    """The layers of an area with their coats: "white slip x2 + house white v2 x3"."""
    return " + ".join(
        f"{glaze}{f' v{version}' if (version or 1) > 1 else ''}{f' x{coats}' if coats else ''}"
        for glaze, version, coats in zip(found.glazes, found.versions, found.coats, strict=True)
    )


def result(row: dict) -> str:
    """Clean, the defects with the worst first, or not inspected."""
    if not row["inspected"]:
        return "not inspected"
    if row["clean"]:
        return "clean"
    from tiles.records.words import OTHER_FAULT, SEVERITIES

    ranks = {severity: rank for rank, severity in enumerate((None, *SEVERITIES))}
    seen = sorted(row["severity"].items(), key=lambda item: -ranks[item[1]])
    return ", ".join(
        (f"{severity} {name}" if severity else name)
        + (in_words(row["other_words"]) if name == OTHER_FAULT else "")
        for name, severity in seen
    )


def in_words(told: list[str]) -> str:
    """What was written of faults that have no word of their own, behind "other"; "" of nothing."""
    more = f"; {len(told) - MOST_WORDS} more" if len(told) > MOST_WORDS else ""
    return f" ({'; '.join(told[:MOST_WORDS])}{more})" if told else ""
