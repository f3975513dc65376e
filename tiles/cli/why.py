"""``tiles why``: the likely causes of what was seen on a tile."""

import shutil
import textwrap
from typing import Annotated

import typer

from tiles.cli import common, output

IN_FULL = 3
"""So many causes are told in full, as long as each holds ..."""
WORTH_TELLING = 0.05
"""... this share."""
WORTH_NAMING = 0.01
LABEL_WIDTH = 14


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("why")(why)


def why(
    mark: str,
    defect: Annotated[str | None, typer.Option(help="Only this defect.")] = None,
    show_all: Annotated[
        bool, typer.Option("--all", help="Every cause in full, not only the first three.")
    ] = False,
    as_json: common.AsJson = False,
    db: common.Db = None,
) -> None:
    """Ask why a tile failed: causes in order, with the evidence, a test to confirm and a fix.

    Causes are common practice weighed against what is recorded of this tile. A share is how the
    likelihood divides among the causes listed, not a measured frequency.
    """
    from diagnose.report import why as explain
    from tiles.cli.record import fetch
    from tiles.records import words

    record = fetch(mark, db)
    wanted = words.read_word(defect, words.DEFECTS, "defect") if defect else None
    diagnoses = explain(record, wanted)
    if as_json:
        found = [diagnosis.as_dict() for diagnosis in diagnoses]
        output.print_json({"mark": record.mark, "diagnoses": found})
        return
    print("\n".join(_lines(record, diagnoses, show_all)))


def _lines(record, diagnoses: list, show_all: bool) -> list[str]:
    from tiles.records import derived
    from tiles.records.spoken import spoken_layers

    reached = derived.cone_reached(record)
    coats = " | ".join(dict.fromkeys(spoken_layers(area.layers) for area in record.areas))
    cone = f"cone {reached.cone}" if reached else "cone reached not recorded"
    lines = [f"{record.mark}: {record.body.name}, {coats}, {cone}"]
    for diagnosis in diagnoses:
        lines += ["", *_diagnosis(diagnosis, show_all, many_areas=len(record.areas) > 1)]
    return lines


def _diagnosis(diagnosis, show_all: bool, *, many_areas: bool) -> list[str]:
    where = f", area {', '.join(map(str, diagnosis.areas))}" if many_areas else ""
    severity = f", {diagnosis.severity}" if diagnosis.severity else ""
    lines = [f"{diagnosis.defect.upper()}{severity}{where}", *_wrap(diagnosis.say)]
    in_full = diagnosis.causes if show_all else _leading(diagnosis.causes)
    for place, cause in enumerate(in_full, start=1):
        lines += ["", *_cause(place, cause)]
    rest = diagnosis.causes[len(in_full) :]
    return [*lines, "", *_wrap(_rest(rest))] if rest else lines


def _leading(causes: list) -> list:
    """The first cause always; the next ones while they are worth a person's time."""
    worth = [cause for cause in causes[1:IN_FULL] if cause.share >= WORTH_TELLING]
    return [*causes[:1], *worth]


def _rest(causes: list) -> str:
    named = [cause for cause in causes if cause.share >= WORTH_NAMING]
    less = "; ".join(f"{cause.title} ({cause.share:.0%})" for cause in named)
    tiny = len(causes) - len(named)
    text = f"Less likely: {less}. " if named else ""
    if tiny:
        under = f"{tiny} more cause{'s' if tiny > 1 else ''} under {WORTH_NAMING:.0%}"
        text += f"And {under}. " if named else f"Also weighed: {under}. "
    return f"{text}All in full: --all."


def _cause(place: int, cause) -> list[str]:
    title = cause.title[:1].upper() + cause.title[1:]
    lines = [f"{place}. {title}  ({cause.share:.0%})"]
    parts = (
        ("for", cause.for_),
        ("against", cause.against),
        ("not recorded", cause.not_recorded),
        ("to be sure", cause.confirm),
        ("fix", cause.fixes),
        ("caution", cause.cautions),
    )
    for label, sentences in parts:
        for number, sentence in enumerate(sentences):
            lines += _labelled(label if number == 0 else "", sentence)
    return [*lines, *_labelled("basis", cause.basis)]


def _width() -> int:
    return min(shutil.get_terminal_size().columns, 96)


def _labelled(label: str, text: str) -> list[str]:
    indent = " " * (LABEL_WIDTH + 3)
    wrapped = textwrap.wrap(text, _width() - len(indent))
    first = f"   {label:<{LABEL_WIDTH}}"
    return [(first if not number else indent) + line for number, line in enumerate(wrapped)]


def _wrap(text: str) -> list[str]:
    return textwrap.wrap(text, _width())
