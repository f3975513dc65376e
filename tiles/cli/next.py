"""``tiles next``: the tiles to fire next, and what each outcome would mean."""

from functools import partial
from typing import Annotated

import typer

from tiles.cli import common, fix_plan, output
from tiles.cli.prose import counted
from tiles.errors import InvalidValue, Questioned


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("next")(next_tiles)


def next_tiles(
    mark: Annotated[
        str | None, typer.Argument(help="A tile with a fault; none: the whole studio.")
    ] = None,
    defect: Annotated[str | None, typer.Option(help="This defect; default: the worst.")] = None,
    body: Annotated[
        str | None, typer.Option(help="No tile: the glazes that tell what this body bears.")
    ] = None,
    cone: Annotated[
        str | None, typer.Option(help="The whole studio: for a firing to this cone only.")
    ] = None,
    limit: Annotated[
        int | None,
        typer.Option(min=2, help="The whole studio: tiles for one firing; default: 12, a shelf."),
    ] = None,
    plan: Annotated[bool, typer.Option("--plan", help="Put them on record as planned.")] = False,
    commands: Annotated[
        bool, typer.Option("--commands", help="Print only the commands that plan them.")
    ] = False,
    first_mark: Annotated[
        str | None,
        typer.Option(help="Mark of the first tile; default: after the last of its series."),
    ] = None,
    show_all: Annotated[
        bool, typer.Option("--all", help="Of a tile each outcome in words; all that was left out.")
    ] = False,
    yes: common.Yes = False,
    as_json: common.AsJson = False,
    db: common.Db = None,
) -> None:
    """Choose up to five tiles whose outcomes tell the likeliest causes apart.

    One change each, with what you own, on one shelf; none that would run or break on it. Without
    a tile: a shelf for the faults that are open in the studio, those of most tiles first.

    Example: tiles next M-60 --plan
    """
    from tiles.cli import (
        next_body,
        next_load,
        next_screen,
        next_studio,
        next_studio_text,
        next_text,
    )

    fix_plan.refuse_beside_commands(plan=plan, as_json=as_json, commands=commands)
    if mark is not None and body is not None:
        raise InvalidValue("a tile and a body were named.", "one of them.")
    if show_all and body is not None:
        raise InvalidValue("--all is for one tile or the whole studio.", "without --body or --all.")
    is_studio = mark is None and body is None
    if not is_studio and (cone is not None or limit is not None):
        raise InvalidValue("--cone and --limit go with no tile and no body.", "without them.")
    if is_studio:
        most = limit or next_studio.ONE_SHELF
        shown, trials = next_studio.choose(defect, cone, most, db)
        as_values = next_studio_text.as_dict
        text = partial(next_studio_text.screen, show_all=show_all)
    elif body is not None:
        shown, trials = next_body.choose(body, defect or "crazing", db)
        as_values, text = next_body.as_dict, next_body.screen
    else:
        shown, trials = _choose(mark, defect, db)
        common.confirmed(_ask_beside(shown, is_planned=plan and bool(trials)), yes=yes)
        as_values = next_text.as_dict
        text = next_text.screen if show_all else next_screen.screen
        text = next_load.screen if shown.is_of_load else text
    marked = _marked(shown.defect, trials, first_mark, mark or "", db)
    _caution(marked, db)
    if plan:
        beside = shown.waiting if mark else ()
        fix_plan.put_on_record(marked, db=db, yes=yes, beside=beside)
    if as_json:
        output.print_json(as_values(shown, marked))
    elif commands:
        fix_plan.print_commands(marked)
    else:
        print("\n".join(text(shown, marked, is_planned=plan)))


def _caution(marked: list, db: str | None) -> None:
    """What the glazes of the tiles to come hold."""
    from tiles.cli import caution
    from tiles.records import forms

    records = [forms.read(forms.TileRecord, each.values, each.mark) for each in marked]
    caution.tell(caution.on_tiles(records), db)


def _ask_beside(found, *, is_planned: bool):
    """A question where more is planned for a tile while trials for it wait."""

    def ask(confirmed: bool) -> None:
        if is_planned and found.waiting and not confirmed:
            raise Questioned(
                f"{', '.join(found.waiting)} are planned for {found.mark} and not looked at yet: "
                f"{counted(len(found.trials), 'more tile')} would be planned beside them.",
                "fire and look at those first, or --yes.",
            )

    return ask


def _marked(
    defect: str | None, trials: list, first_mark: str | None, like: str, db: str | None
) -> list:
    from tiles.cli.plan import free_marks

    marks = free_marks(len(trials), first_mark, db, like) if trials else []
    return [
        fix_plan.Marked(mark, trial.tile.get("trial_defect", defect), trial)
        for mark, trial in zip(marks, trials, strict=True)
    ]


def _choose(mark: str, defect: str | None, db: str | None) -> tuple:
    from tiles.cli.next_of import next_of
    from tiles.cli.next_stock import owned
    from tiles.cli.record import fetch
    from tiles.cli.studio import all_records
    from tiles.records import words

    record = fetch(mark, db)
    wanted = words.read_word(defect, words.DEFECTS, "defect") if defect else None
    _, found = next_of(record, wanted, owned(db), all_records(db), db)
    return found, found.trials if found.tiles or found.is_of_load else []
