"""``tiles words``: the controlled words; ``tiles clues``: the facts that diagnosis asks for."""

import typer

from tiles.cli import common, output


def add_to(app: typer.Typer) -> None:
    """Add the commands."""
    app.command("clues")(clues)
    app.command("words")(show_words)


def clues(as_json: common.AsJson = False, as_csv: common.AsCsv = False) -> None:
    """List the clues that can be logged with --clue NAME=yes or NAME=no."""
    from dataclasses import asdict

    from tiles.records.clues import clues as all_clues

    found = [asdict(clue) for clue in all_clues().values()]
    columns = {"name": "clue", "question": "question", "about": "of", "group": "stage"}
    output.rows(found, columns, as_json=as_json, as_csv=as_csv, empty="None.")


def show_words(as_json: common.AsJson = False, as_csv: common.AsCsv = False) -> None:
    """List the words that each field takes: defects, severities, finishes, methods ..."""
    from tiles.records import words

    lists = {
        "defect": words.DEFECTS,
        "severity": words.SEVERITIES,
        "body kind": words.BODY_KINDS,
        "glaze kind": words.GLAZE_KINDS,
        "role": words.GLAZE_ROLES,
        "finish": words.FINISHES,
        "supplied as": words.SUPPLIED_AS,
        "dry portion": words.DRY_PORTIONS,
        "firing kind": words.FIRING_KINDS,
        "atmosphere": words.ATMOSPHERES,
        "tile form": words.TILE_FORMS,
        "stood": words.STOOD,
        "surface": words.SURFACES,
        "method": words.METHODS,
        "applied on": words.APPLIED_ON,
        "beneath": words.BENEATH,
    }
    found = [{"field": field, "words": ", ".join(each)} for field, each in lists.items()]
    columns = {"field": "field", "words": "words"}
    output.rows(found, columns, as_json=as_json, as_csv=as_csv, empty="None.")
