"""``tiles learn``: what the studio's own tiles teach, and whether it is of use."""

from pathlib import Path
from typing import Annotated

import typer

from tiles.cli import common, output


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("learn")(learn)


def learn(
    plot: Annotated[
        Path | None, typer.Option(help="Draw it: reliability, learning curve, strongest lessons.")
    ] = None,
    defect: Annotated[str | None, typer.Option(help="Only this defect, in full.")] = None,
    show_all: Annotated[
        bool, typer.Option("--all", help="Every way it was judged, and all lessons.")
    ] = False,
    as_json: common.AsJson = False,
    db: common.Db = None,
) -> None:
    """Learn from your own tiles, and say how well that forecasts tiles it had not seen.

    Common practice is what is believed before the first tile; each tile moves it as far as its
    evidence goes. What was learned is kept as text beside the database, for forecasts.
    """
    from diagnose.learner import fit_records
    from diagnose.learning import report
    from tiles.cli import learn_plot, learn_screen, learn_text, learned
    from tiles.cli.studio import all_records
    from tiles.records import words

    wanted = words.read_word(defect, words.DEFECTS, "defect") if defect else None
    if plot is not None:
        learn_plot.check_name(plot)
    records = all_records(db)
    model = fit_records(records)
    learned.keep(model, records, db)
    drawn = [each for each in report.learned_defects(model) if wanted in (None, each)]
    if plot is not None:
        learn_plot.check_learned(drawn)
    found = _found(model, records, [wanted] if wanted else list(words.DEFECTS))
    if as_json:
        output.print_json(learn_text.as_dict(found))
    else:
        show = learn_text.in_full if show_all or wanted else learn_screen.screen
        print("\n".join(show(found)), flush=True)
    if plot is not None:
        _draw(model, drawn, plot)


def _found(model, records: list, defects: list[str]):
    """What was learned of some defects, and how it was judged."""
    from diagnose.forecasts.early import early_of_all
    from tiles.cli.learn_text import Found
    from tiles.records.failures_only import failures_only

    return Found(
        sum(bool(each.inspections) for each in records),
        model,
        model.verdicts,
        model.tile_verdicts,
        model.validate("forward"),
        defects,
        failures_only(records),
        {each: early_of_all(records, each) for each in defects},
    )


def _draw(model, defects: list[str], file: Path) -> None:
    from tiles.cli import learn_plot

    common.talk("\nDrawing. For what more tiles are worth, parts of yours are learned from")
    common.talk("again, some hundred times: half a minute or longer.")
    learn_plot.draw(model, defects, file)
    common.talk(f"Drawn: {file}")
