"""``tiles forecast``: what may go wrong, before the tile is fired."""

from typing import Annotated

import typer

from tiles.cli import caution, common, output, put_on
from tiles.errors import InvalidValue


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("forecast")(forecast)


def forecast(
    marks: Annotated[
        list[str] | None,
        typer.Argument(help="A tile on record; several, or runs M-41..M-52, a line each; or none."),
    ] = None,
    body: Annotated[str | None, typer.Option(help="Clay body.")] = None,
    glaze: Annotated[
        list[str] | None,
        typer.Option(help="NAME or NAME=COATS; repeat from the clay upwards for layers."),
    ] = None,
    coats: Annotated[int | None, typer.Option(help="Coats of the topmost glaze.")] = None,
    thickness_mm: Annotated[float | None, common.number("Dry coat [mm].")] = None,
    method: Annotated[str | None, typer.Option(help="brush, dip, pour, spray, ...")] = None,
    applied_on: Annotated[list[str] | None, typer.Option(help=put_on.HELP)] = None,
    beneath: Annotated[str | None, typer.Option(help="The layer beneath is damp or dry.")] = None,
    batch: Annotated[str | None, typer.Option(help="Batch (bucket) of the topmost glaze.")] = None,
    recipe_version: Annotated[
        int | None,
        typer.Option(help="Version of the topmost glaze's recipe; default the batch's, or newest."),
    ] = None,
    cone: Annotated[str | None, typer.Option(help="Cone you aim at.")] = None,
    bisque_cone: Annotated[str | None, typer.Option(help="Cone of the bisque.")] = None,
    kiln: Annotated[str | None, typer.Option(help="Kiln.")] = None,
    shelf: Annotated[str | None, typer.Option(help="Shelf or place in the kiln.")] = None,
    hold_min: Annotated[float | None, common.number("Hold at the top [min].")] = None,
    stood: Annotated[str | None, typer.Option(help="upright, sloped or flat.")] = None,
    surface: Annotated[str | None, typer.Option(help="smooth or textured.")] = None,
    clue: Annotated[list[str] | None, typer.Option(help="A clue, such as bisque_wiped=yes.")] = (
        None
    ),
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
    from tiles.cli import forecast_areas, forecast_planned, forecast_several, forecast_text
    from tiles.cli.marks import expand
    from tiles.cli.notices import doubt_of_shelf, tell_order, tell_over_label, tell_retired
    from tiles.cli.studio import all_records
    from tiles.records import words
    from tiles.records.failures_only import failures_only

    wanted = words.read_word(defect, words.DEFECTS, "defect") if defect else None
    given = {
        "body": body, "glaze": glaze, "coats": coats, "thickness_mm": thickness_mm,
        "method": method, "applied_on": applied_on, "beneath": beneath, "batch": batch,
        "cone": cone, "bisque_cone": bisque_cone, "kiln": kiln, "shelf": shelf,
        "hold_min": hold_min, "stood": stood, "surface": surface, "clue": clue,
        "recipe_version": recipe_version,
    }  # fmt: skip
    said = [name for name, value in given.items() if value is not None]
    if (not marks) == (not said):
        raise InvalidValue(
            "a forecast is of a tile on record or of one you mean to fire, not both."
            if said
            else "nothing was said of what to forecast.",
            '\'tiles forecast M-41\', or --body "red earthenware" --glaze "pond green".',
        )
    asked = expand(marks or [])
    records = _on_record(asked, db) if asked else [forecast_planned.planned(given, db)]
    if len(records) > 1 and show_all:
        raise InvalidValue("--all is for one tile.", "one mark, or several without --all.")
    if doubt := doubt_of_shelf(shelf, db):
        common.talk(doubt)
    known = all_records(db)
    found = [(each, forecast_areas.forecasts(known, each, wanted, db)) for each in records]
    # A forecast that stops says so, and more.
    tell_over_label([each for each, areas in found if not any(of.stop for of in areas)], db)
    if as_json:
        told = [forecast_text.as_dict(*each) for each in found]
        output.print_json(told if len(told) > 1 else told[0])
    else:
        note = failures_only(known)
        if len(found) > 1:
            lines = forecast_several.screen(found, defect=wanted, note=note)
        else:
            how = {"is_planned": not marks, "show_all": show_all, "note": note}
            lines = forecast_text.screen(*found[0], **how)
        print("\n".join(lines), flush=True)
        tell_order(records)
        tell_retired(records, db)
    caution.tell(caution.on_tiles(records), db)


def _on_record(marks: list[str], db: str | None) -> list:
    """The tiles with these marks; the words of one that were typed without quotes go together."""
    from tiles.records import reading, store
    from tiles.records.analyses import own_materials
    from tiles.records.derived import analysed

    with common.reading(db) as session:
        rows = store.get_tiles(session, store.put_together(session, marks))
        own = own_materials(session)
        return [analysed(reading.tile_record(row), own) for row in rows]
