"""``tiles why``: the likely causes of what was seen on a tile, or on all tiles of a glaze."""

from typing import Annotated

import typer

from tiles.cli import asked, common, output
from tiles.errors import InvalidValue


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("why")(why)


@asked.spread
def why(
    *,
    mark: Annotated[str | None, typer.Argument(help="The tile.")] = None,
    defect: Annotated[
        str | None, typer.Option(help="Only this defect; with no tile named, on all of them.")
    ] = None,
    ask: Annotated[
        bool, typer.Option("--ask", help="Be asked up to three questions that narrow it down.")
    ] = False,
    show_all: Annotated[
        bool, typer.Option("--all", help="Every cause in full, and what was ruled out by what.")
    ] = False,
    arithmetic: Annotated[
        bool, typer.Option("--arithmetic", help="Every number, to recompute the answer by hand.")
    ] = False,
    glaze: Annotated[
        str | None, typer.Option(help="All tiles with this glaze, in place of one.")
    ] = None,
    noted: asked.Noted,
    yes: Annotated[
        bool, typer.Option("--yes", "-y", help="With --ask: keep the answers without asking.")
    ] = False,
    as_json: common.AsJson = False,
    db: common.Db = None,
) -> None:
    """Ask why a tile failed: causes in order, with the evidence, a test to confirm and a fix.

    Causes are common practice weighed against what is recorded of this tile. A share is how the
    likelihood divides among the causes listed, not a measured frequency.
    """
    wanted = _read_defect(defect)
    if glaze is not None or (mark is None and wanted):
        over = "--glaze" if glaze is not None else "--defect without a tile"
        _refuse_together(over, mark, ask=ask, arithmetic=arithmetic)
        from tiles.cli import why_glaze

        over_all = why_glaze.Asked(glaze, wanted, **noted.searched)
        why_glaze.tell(over_all, show_all=show_all, as_json=as_json, db=db)
        return
    _refuse_for_one(mark, noted, ask=ask, arithmetic=arithmetic)
    how = {"show_all": show_all, "as_json": as_json, "db": db}
    if ask:
        from tiles.cli import why_ask

        why_ask.ask_and_tell(mark, wanted, yes=yes, **how)
    else:
        _tell(mark, wanted, arithmetic=arithmetic, **how)


def _read_defect(defect: str | None) -> str | None:
    if defect is None:
        return None
    from tiles.records import words

    return words.read_word(defect, words.DEFECTS, "defect")


def _refuse_together(over: str, mark: str | None, *, ask: bool, arithmetic: bool) -> None:
    given = {f"the mark {mark}": mark, "--ask": ask, "--arithmetic": arithmetic}
    for what, is_given in given.items():
        if is_given:
            raise InvalidValue(f"{over} and {what} together.", "one of the two.", value=mark)


def _refuse_for_one(mark: str | None, noted: asked.Noted, *, ask: bool, arithmetic: bool) -> None:
    """Refuse what is missing, and what does not go with a single tile."""
    for name, value in vars(noted).items():
        if value is not None:
            told = f"--{name} goes with many tiles."
            raise InvalidValue(told, "--glaze NAME or --defect WORD.")
    if mark is None:
        raise InvalidValue("no tile is named.", "'tiles why M-41', --glaze NAME or --defect WORD.")
    if ask and arithmetic:
        raise InvalidValue("--ask and --arithmetic together.", "one after the other.")


def _tell(
    mark: str, defect: str | None, *, show_all: bool, arithmetic: bool, as_json: bool, db
) -> None:
    from diagnose.comparing.of_glaze import with_pairs
    from tiles.cli.next_of import with_akin
    from tiles.cli.studio import failures_only, others, over_all, why_beside_all

    record = _fetch(mark, db)
    own = others(record, db)
    diagnoses = why_beside_all(record, defect, own, over_all(db))
    if as_json or not arithmetic:  # the sums alone tell neither
        diagnoses = with_akin(record, with_pairs(diagnoses, own), own, db)
    if as_json:
        output.print_json({"mark": record.mark, "diagnoses": _shapes(diagnoses, arithmetic)})
        return
    if arithmetic:
        from tiles.cli import why_numbers, why_text

        lines = [*why_text.tile(record), *why_numbers.lines(diagnoses)]
    else:
        from tiles.cli import why_screen

        note = failures_only([record, *own], db)
        lines = why_screen.lines(record, diagnoses, show_all=show_all, note=note)
    print("\n".join(lines))


def _fetch(mark: str, db: str | None):
    """The tile, the quick way where there is one."""
    from tiles.cli.record import fetch
    from tiles.records.quick import find_record
    from tiles.settings import database_url

    return find_record(database_url(db), mark) or fetch(mark, db)


def _shapes(diagnoses: list, arithmetic: bool) -> list[dict]:
    shapes = [each.as_dict() for each in diagnoses]
    if arithmetic:
        from diagnose.arithmetic import arithmetic as numbers

        for shape, each in zip(shapes, diagnoses, strict=True):
            shape["arithmetic"] = numbers(each.case)
    return shapes
