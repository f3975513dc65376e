"""``tiles next``: the tiles to fire next, and what each outcome would mean."""

from typing import Annotated

import typer

from tiles.cli import common, fix_plan, output
from tiles.cli.prose import counted
from tiles.errors import InvalidValue, Questioned


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("next")(next_tiles)


def next_tiles(
    mark: Annotated[str | None, typer.Argument(help="A tile with a fault.")] = None,
    defect: Annotated[str | None, typer.Option(help="This defect; default: the worst.")] = None,
    body: Annotated[
        str | None, typer.Option(help="No tile: the glazes that tell what this body bears.")
    ] = None,
    plan: Annotated[bool, typer.Option("--plan", help="Put them on record as planned.")] = False,
    commands: Annotated[
        bool, typer.Option("--commands", help="Print only the commands that plan them.")
    ] = False,
    first_mark: Annotated[
        str | None,
        typer.Option(help="Mark of the first tile; default: after the last of its series."),
    ] = None,
    yes: common.Yes = False,
    as_json: common.AsJson = False,
    db: common.Db = None,
) -> None:
    """Choose up to five tiles whose outcomes tell the likeliest causes apart.

    One change each, with what you own, on one shelf; none that would run or break on it.

    Example: tiles next M-60 --plan
    """
    from tiles.cli import next_body, next_text

    if (mark is None) == (body is None):
        raise InvalidValue("name a tile or a body.", "'tiles next M-60' or --body NAME.")
    if body is not None:
        shown, trials = next_body.choose(body, defect or "crazing", db)
        as_values, text = next_body.as_dict, next_body.screen
    else:
        shown, trials = _choose(mark, defect, db)
        common.confirmed(_ask_beside(shown, is_planned=plan and bool(trials)), yes=yes)
        as_values, text = next_text.as_dict, next_text.screen
    marked = _marked(shown.defect, trials, first_mark, mark, db)
    _caution(marked, db)
    if plan:
        fix_plan.put_on_record(marked, db=db, yes=yes)
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
    defect: str, trials: list, first_mark: str | None, like: str | None, db: str | None
) -> list:
    from tiles.cli.plan import free_marks

    marks = free_marks(len(trials), first_mark, db, like) if trials else []
    return [fix_plan.Marked(m, defect, trial) for m, trial in zip(marks, trials, strict=True)]


def _choose(mark: str, defect: str | None, db: str | None) -> tuple:
    from diagnose.next_tiles import next_tiles as choose
    from diagnose.report import why
    from tiles.cli.next_stock import owned
    from tiles.cli.record import fetch
    from tiles.cli.studio import all_records, others
    from tiles.records import words

    record = fetch(mark, db)
    wanted = words.read_word(defect, words.DEFECTS, "defect") if defect else None
    told = why(record, wanted, others(record, db))
    # Where the fault was misnamed, the diagnosis under its right name is the one to test.
    diagnosis = next((each for each in told if not each.look_alike), told[0])
    limit = _limit(record, diagnosis.defect, db)
    found = choose(diagnosis, owned(db), others=all_records(db), **limit)
    return found, found.trials if found.tiles else []


def _limit(record, defect: str, db: str | None) -> dict:
    """What is believed of the body's limit, where the defect is one of fit."""
    from diagnose.body_fit import RISES, believe
    from diagnose.body_tiles import seen_on_body
    from diagnose.glaze_expansion import Expansions
    from tiles.cli.body_limits import tiles_of_body

    if defect not in RISES:
        return {}
    records, own = tiles_of_body(record.body.name, db)
    seen, _ = seen_on_body(records, record.body.name, defect, own)
    belief = believe(seen, defect, record.body.expansion_ppm_per_k)
    return {"belief": belief, "expansions": Expansions(own)}
