"""``tiles plan``: a set of tiles to make."""

from datetime import date
from functools import partial
from itertools import product
from typing import Annotated

import typer

from tiles.cli import asked, caution, common, entry, marks, notices, output, plan_layers
from tiles.cli.prose import counted
from tiles.errors import InvalidValue

COLUMNS = {"mark": "mark", "body": "body", "layers": "glaze", "coats": "coats", "bisque": "bisque"}


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("plan")(plan)


@asked.spread
def plan(
    *,
    body: Annotated[list[str], typer.Option(help="Clay body; repeat for more.")],
    glaze: Annotated[list[str], typer.Option(help="Glaze; repeat for more.")],
    coats: Annotated[
        str | None, typer.Option(help="Coats; 1,2,3 makes three areas on every tile.")
    ] = None,
    separate: Annotated[
        bool, typer.Option("--separate", help="A tile for each number of coats, not an area.")
    ] = False,
    under: Annotated[
        list[str] | None,
        typer.Option(
            help="A layer beneath on every tile, such as white slip=2 or =1,2,3; repeat for more, "
            "from the clay up."
        ),
    ] = None,
    in_turn: Annotated[
        bool, typer.Option("--in-turn", help="One --under on each tile, in turn, not all of them.")
    ] = False,
    method: Annotated[
        str | None, typer.Option(help="How the glaze on top is put on: brush, dip, pour, ...")
    ] = None,
    over_each_other: Annotated[
        bool,
        typer.Option(
            "--over-each-other", help="Each glaze over every other, in place of each alone."
        ),
    ] = False,
    bands: Annotated[
        bool,
        typer.Option(
            "--bands", help="With it: three areas, the lower alone, the overlap, the upper alone."
        ),
    ] = False,
    recipe_version: Annotated[
        int | None, typer.Option(help="Version of the glaze's recipe; default the newest.")
    ] = None,
    bisque_cone: Annotated[
        str | None,
        typer.Option(help="Cone of the bisque; leave it out where its firing is still to say it."),
    ] = None,
    trial_of: Annotated[
        str | None, typer.Option(help="Mark of the failed tile it is a trial for.")
    ] = None,
    trial: asked.OfTrial,
    first_mark: Annotated[
        str | None,
        typer.Option(
            help="Mark of the first; default: after the last test tile (a trial: of its series)."
        ),
    ] = None,
    dry_run: Annotated[bool, typer.Option("--dry-run", help="Show the tiles only.")] = False,
    yes: common.Yes = False,
    as_json: common.AsJson = False,
    as_csv: common.AsCsv = False,
    db: common.Db = None,
) -> None:
    """Plan test tiles: one for every crossing of body and glaze, with marks handed out.

    A tile that differs from a failed one in one thing is a trial for it, and 'tiles why' counts
    it: give --trial-of, --trial-defect and --trial-change ("coats 3 -> 2", or with --yes in your
    own words). --over-each-other takes both ways of every two glazes, 12 tiles of four.

    Example: tiles plan --body "red earthenware" --body "white earthenware"
    --glaze "pond green" --glaze "studio clear" --coats 1,2,3
    """
    from tiles.records import forms

    output.refuse_two_forms(as_json=as_json, as_csv=as_csv)
    beneath = under or []
    plan_layers.refuse_areas(glaze, beneath)
    ways_beneath = plan_layers.beneath_each(beneath, in_turn=in_turn, separate=separate)
    entry.ask_of_trial(trial.trial_change, yes=yes)
    recipe = _recipe(glaze, recipe_version, db)
    if bands and not over_each_other:
        raise InvalidValue("--bands without --over-each-other.", "both.", field="bands")
    if over_each_other:
        ways = plan_layers.over_each_other(glaze, ways_beneath, coats, bands=bands)
    else:
        shares = coats.split(",") if separate and coats else [coats]
        ways = plan_layers.alone(glaze, ways_beneath, shares, recipe)
    _put_on(ways, method)
    crossings = list(product(body, ways))
    free = free_marks(len(crossings), first_mark, db, trial_of)
    told = vars(trial) | {"bisque_cone": bisque_cone, "trial_of": trial_of}
    records = [
        forms.read(forms.TileRecord, told | {"mark": mark, "body": on, "areas": areas})
        for mark, (on, areas) in zip(free, crossings, strict=True)
    ]
    rows, confirmed = _try_out(records, first_mark, db, yes=yes)
    show = partial(output.rows, columns=COLUMNS, as_json=as_json, as_csv=as_csv, empty="")
    shown = rows if dry_run or not (as_json or as_csv) else []
    if shown:
        show(shown)  # before the person is asked
    if dry_run:
        return
    common.ask_to_plan(counted(len(records), "planned tile"), yes=yes)
    stored = _store(records, first_mark, db, confirmed=confirmed, keep=True)
    planned = [_row(record) for record in stored]
    if planned != shown:
        show(planned)
    given = [record.mark for record in stored]
    notices.tell_new_marks(given, db)
    common.talk(f"Planned. {marks.load_hint(given)}")


def _recipe(glazes: list[str], version: int | None, db: str | None) -> dict:
    """The version of the one glaze that is planned, as a field of its layers."""
    from tiles.cli.log import recipe_of

    if version is not None and len(glazes) > 1:
        raise InvalidValue(
            "--recipe-version beside several glazes.",
            "a plan of its own for each glaze.",
            field="glaze",
        )
    recipe = recipe_of(glazes, version, db)
    return {"recipe": recipe} if recipe else {}


def _put_on(ways: list[list[dict]], method: str | None) -> None:
    """How the layer on top is put on, on each area of each tile."""
    for area in (area for areas in ways for area in areas) if method else ():
        area["layers"][-1]["method"] = method


def free_marks(count: int, first: str | None, db: str | None, like: str | None = None) -> list[str]:
    """So many marks that no tile has, as `marks.free` counts them up; tells of a first in use."""
    with common.reading(db) as session:
        found = marks.free(session, count, first, like)
    if first and found[0] != first:
        common.talk(f"Note: {first} is taken, so the marks start at {found[0]}.")
    return found


def _try_out(
    records: list, first: str | None, db: str | None, *, yes: bool
) -> tuple[list[dict], bool]:
    """The rows as they would be, and whether the person confirmed what is unlikely of them.

    Nothing is stored and nobody else waits while the person is asked.
    """

    def try_out(confirmed: bool) -> tuple[list, bool]:
        return _store(records, first, db, confirmed=confirmed, keep=False), confirmed

    tried, confirmed = common.confirmed(try_out, yes=yes)
    notices.tell_mismatches(tried)
    notices.tell_order(tried)
    notices.tell_retired(tried, db)
    caution.tell(caution.on_tiles(tried), db)
    return [_row(record) for record in tried], confirmed


def _store(
    records: list, first: str | None, db: str | None, *, confirmed: bool, keep: bool
) -> list:
    from tiles.records import store
    from tiles.records.store.named import Names

    with common.writing(db) as session:
        names = Names(session, newest_recipe=True)
        # Handed out again here, where nobody else can take one before it is stored.
        free = marks.free(session, len(records), first, records[0].trial_of)
        marked = zip(free, records, strict=True)
        planned = [record.model_copy(update={"mark": mark}) for mark, record in marked]
        stored = [
            store.add_tile(session, each, names=names, confirmed=confirmed) for each in planned
        ]
        if not keep:
            session.rollback()
        return stored


def _row(record) -> dict:
    layers = max((area.layers for area in record.areas), key=len)  # of bands the overlap
    *beneath, top = layers
    under = [_with_coats(record, place) for place in range(len(beneath))]
    return {
        "mark": record.mark,
        "body": record.body.name,
        "coat": [layer.glaze.name for layer in layers],
        "layers": [*under, top.glaze.name],
        "coats": ", ".join(str(area.layers[-1].coats or "?") for area in record.areas),
        "bisque": record.bisque_cone,
        "planned_on": date.today(),
    }


def _with_coats(record, place: int) -> str:
    """A layer beneath with its coats: one number, or that of each area."""
    layers = [area.layers[place] for area in record.areas if place < len(area.layers)]
    coats = list(dict.fromkeys(str(each.coats) for each in layers if each.coats))
    return f"{layers[0].glaze.name} x{','.join(coats)}" if coats else layers[0].glaze.name
