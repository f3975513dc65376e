"""``tiles forecast``: what may go wrong, before the tile is fired."""

from dataclasses import dataclass
from typing import Annotated

import typer

from tiles.cli import asked, caution, common, output, put_on
from tiles.errors import InvalidValue


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("forecast")(forecast)


@dataclass(frozen=True)
class Planned:
    """A tile that is to be fired, as far as it is told."""

    body: Annotated[str | None, typer.Option(help="Clay body.")] = None
    glaze: Annotated[
        list[str] | None,
        typer.Option(help="NAME or NAME=COATS; repeat from the clay upwards for layers."),
    ] = None
    coats: Annotated[int | None, typer.Option(help="Coats of the topmost glaze.")] = None
    thickness_mm: Annotated[float | None, common.number("Dry coat [mm].", "mm")] = None
    method: Annotated[str | None, typer.Option(help="brush, dip, pour, spray, ...")] = None
    applied_on: Annotated[list[str] | None, typer.Option(help=put_on.HELP)] = None
    beneath: Annotated[str | None, typer.Option(help="The layer beneath is damp or dry.")] = None
    batch: Annotated[str | None, typer.Option(help="Batch (bucket) of the topmost glaze.")] = None
    recipe_version: Annotated[
        int | None,
        typer.Option(help="Version of the topmost glaze's recipe; default the batch's, or newest."),
    ] = None
    cone: Annotated[str | None, typer.Option(help="Cone you aim at.")] = None
    bisque_cone: Annotated[str | None, typer.Option(help="Cone of the bisque.")] = None
    kiln: Annotated[str | None, typer.Option(help="Kiln.")] = None
    shelf: Annotated[str | None, typer.Option(help="Shelf or place in the kiln.")] = None
    hold_min: Annotated[float | None, common.number("Hold at the top [min].", "min")] = None
    stood: Annotated[str | None, typer.Option(help="upright, sloped or flat.")] = None
    surface: Annotated[str | None, typer.Option(help="smooth or textured.")] = None
    clue: Annotated[list[str] | None, typer.Option(help="A clue, such as bisque_wiped=yes.")] = None


@asked.spread
def forecast(
    *,
    marks: Annotated[
        list[str] | None,
        typer.Argument(help="A tile on record; several, or runs M-41..M-52, a line each; or none."),
    ] = None,
    planned: Planned,
    defect: Annotated[str | None, typer.Option(help="Only this defect.")] = None,
    show_all: Annotated[
        bool, typer.Option("--all", help="Also what is less likely than usual, and each driver.")
    ] = False,
    as_json: common.AsJson = False,
    db: common.Db = None,
) -> None:
    """Tell the chance of each defect, with a range, and what drives it.

    What you do not say is averaged over your own tiles, never taken for typical.

    Example: tiles forecast --body "red earthenware" --glaze "pond green" --coats 3
    --thickness-mm 0.9 --cone 05
    """
    from tiles.cli import forecast_areas
    from tiles.cli.notices import doubt_of_shelf, tell_order, tell_over_label, tell_retired
    from tiles.cli.studio import all_records
    from tiles.records import words
    from tiles.records.failures_only import failures_only

    wanted = words.read_word(defect, words.DEFECTS, "defect") if defect else None
    records = _records(marks or [], vars(planned), show_all=show_all, db=db)
    if doubt := doubt_of_shelf(planned.shelf, db):
        common.talk(doubt)
    known = all_records(db)
    found = [(each, forecast_areas.forecasts(known, each, wanted, db)) for each in records]
    # A forecast that stops says so, and more.
    tell_over_label([each for each, areas in found if not any(of.stop for of in areas)], db)
    if as_json:
        _print_json(found)
    else:
        note = failures_only(known)
        _print(found, wanted, note, is_planned=not marks, show_all=show_all)
        tell_order(records)
        tell_retired(records, db)
    caution.tell(caution.on_tiles(records), db)


def _records(marks: list[str], given: dict, *, show_all: bool, db: str | None) -> list:
    """The tiles on record that are asked for, or the one that is to be fired."""
    from tiles.cli import forecast_planned
    from tiles.cli.marks import expand

    is_given = any(value is not None for value in given.values())
    if bool(marks) == is_given:
        raise InvalidValue(
            "a forecast is of a tile on record or of one you mean to fire, not both."
            if is_given
            else "nothing was said of what to forecast.",
            '\'tiles forecast M-41\', or --body "red earthenware" --glaze "pond green".',
        )
    named = expand(marks)
    records = _on_record(named, db) if named else [forecast_planned.planned(given, db)]
    if len(records) > 1 and show_all:
        raise InvalidValue("--all is for one tile.", "one mark, or several without --all.")
    return records


def _on_record(marks: list[str], db: str | None) -> list:
    """The tiles with these marks; the words of one that were typed without quotes go together."""
    from tiles.records import reading, store
    from tiles.records.analyses import own_materials
    from tiles.records.derived import analysed

    with common.reading(db) as session:
        rows = store.get_tiles(session, store.put_together(session, marks))
        own = own_materials(session)
        return [analysed(reading.tile_record(row), own) for row in rows]


def _print_json(found: list[tuple]) -> None:
    from tiles.cli import forecast_text

    told = [forecast_text.as_dict(*each) for each in found]
    output.print_json(told if len(told) > 1 else told[0])


def _print(
    found: list[tuple], defect: str | None, note: str, *, is_planned: bool, show_all: bool
) -> None:
    """Print one tile in full, or a line for each of several."""
    from tiles.cli import forecast_several, forecast_text

    if len(found) > 1:
        lines = forecast_several.screen(found, defect=defect, note=note)
    else:
        how = {"is_planned": is_planned, "show_all": show_all, "note": note}
        lines = forecast_text.screen(*found[0], **how)
    print("\n".join(lines), flush=True)
