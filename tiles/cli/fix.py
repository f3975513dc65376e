"""``tiles fix``: the fixes of the likeliest causes with amounts, and the tiles that prove them."""

from typing import Annotated

import typer

from tiles.cli import common, output
from tiles.errors import InvalidValue


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("fix")(fix)


def fix(
    mark: str,
    defect: Annotated[str | None, typer.Option(help="Only this defect.")] = None,
    body_limit_ppm_per_k: Annotated[
        float | None,
        common.number("Highest glaze expansion known to stay whole on this body [ppm/K].", "ppm/K"),
    ] = None,
    plan: Annotated[
        bool, typer.Option("--plan", help="Put the tiles to fire on record as planned tiles.")
    ] = False,
    commands: Annotated[
        bool, typer.Option("--commands", help="Print only the commands that plan the tiles.")
    ] = False,
    first_mark: Annotated[
        str | None,
        typer.Option(help="Mark of the first tile; default: after the last of its series."),
    ] = None,
    show_all: Annotated[
        bool, typer.Option("--all", help="Every cause in full, each estimate and each weight.")
    ] = False,
    yes: common.Yes = False,
    as_json: common.AsJson = False,
    db: common.Db = None,
) -> None:
    """Work the fixes out: what to weigh, coat or fire otherwise, and the tiles that prove it.

    A recipe gets small changes with the numbers before and after; a jar only what its user can
    change. Every tile to fire has one change; a control has none. What came out sound on one trial
    is to be fired once more, and nothing else.

    First what to try first, all on one screen; --all tells the rest.

    Example: tiles fix M-41 --plan
    """
    from tiles.cli import fix_plan, fix_screen, fix_text
    from tiles.cli.record import fetch

    fix_plan.refuse_beside_commands(plan=plan, as_json=as_json, commands=commands)
    if body_limit_ppm_per_k is not None and not 1 < body_limit_ppm_per_k < 30:
        raise InvalidValue(
            f"A limit of {body_limit_ppm_per_k:g} ppm/K cannot be right.",
            "the glaze expansion in millionths per K, such as 6.1.",
            field="body_limit_ppm_per_k",
            value=body_limit_ppm_per_k,
        )
    record = fetch(mark, db)
    answers = _answers(record, defect, body_limit_ppm_per_k, db)
    marked = fix_plan.give_marks(answers, record, first_mark, db)
    if plan:
        fix_plan.put_on_record(marked, db=db, yes=yes)
    if as_json:
        output.print_json(_as_json(record, answers, marked))
    elif commands:
        fix_plan.print_commands(marked)
    else:
        screen = fix_text.screen if show_all else fix_screen.screen
        print("\n".join(screen(record, answers, marked, is_planned=plan)))


def _answers(record, defect: str | None, body_limit: float | None, db: str | None) -> list:
    from diagnose.fixes.of_tile import fix as work_out
    from diagnose.report import defects_seen
    from tiles.cli import body_limits, fix_plan
    from tiles.cli.next_of import akin_to
    from tiles.cli.studio import others, over_all
    from tiles.records import words

    wanted = words.read_word(defect, words.DEFECTS, "defect") if defect else None
    if body_limit is None and _has_recipe(record):
        body_limit = body_limits.of_crazing(record.body.name, db)
    beside = others(record, db)
    known = {each.mark for each in beside}
    beside += [each for each in fix_plan.waiting_for_load(record, db) if each.mark not in known]
    known = {"others": beside, "trial_recipes": _of_trials(record, db), "count_of": over_all(db)}
    known["akin"] = akin_to(record, [wanted] if wanted else defects_seen(record), beside, db)
    return work_out(record, wanted, **_stock(db), **known, body_limit=body_limit)


def _of_trials(record, db: str | None) -> dict:
    """The recipes on record of the trial glazes of a tile, by name; retired ones as well."""
    from sqlalchemy import select

    from tiles.records import models, reading

    with common.reading(db) as session:
        named = models.Glaze.name.contains(f" {record.mark} ", autoescape=True)
        return {
            row.name: [reading.recipe_record(each) for each in row.recipe_versions]
            for row in session.scalars(select(models.Glaze).where(named))
        }


def _has_recipe(record) -> bool:
    return any(layer.recipe for area in record.areas for layer in area.layers)


def _stock(db: str | None) -> dict:
    """What is on record to choose from: own analyses, bodies, glazes in use and their batches."""
    from sqlalchemy import select

    from tiles.cli.next_stock import batches, glazes_in_use, may_be_taken
    from tiles.records import models, reading
    from tiles.records.analyses import own_materials

    with common.reading(db) as session:
        glazes = sorted((row for row, _ in glazes_in_use(session)), key=lambda row: row.name)
        bodies = session.scalars(select(models.ClayBody).order_by(models.ClayBody.name))
        bodies = list(filter(may_be_taken, bodies))
        return {
            "own": own_materials(session),
            "bodies": [reading.body_record(row) for row in bodies],
            "glazes": [reading.glaze_record(row) for row in glazes],
            "batches": batches(glazes),
        }


def _as_json(record, answers: list, marked: list) -> dict:
    from tiles.chemistry.hazards import REMINDER

    marks = [
        {"mark": each.mark, "trial": each.trial.name, "waits": each.waits, **each.values}
        for each in marked
    ]
    return {
        "mark": record.mark,
        "fixes": [answer.as_dict() for answer in answers],
        "tiles_to_fire": marks,
        "reminder": REMINDER,
    }
