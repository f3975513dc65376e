"""The mixtures of a blend with their figures, weights and, if wanted, picture and plan."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import typer

from tiles.cli import common, figures, output
from tiles.cli.recipe_show import Cone, OnRecord, fetch, shared_cone
from tiles.cli.recipe_text import ranged, share
from tiles.cli.user_files import refuse_existing
from tiles.cli.weighing import check_batch, decimals, spoken_g, too_little
from tiles.errors import InvalidValue


@dataclass(frozen=True)
class Wanted:
    """What is asked of a blend besides its corners."""

    batch_g: Annotated[float, common.number("Dry weight of each mixture [g].", "g")] = 100.0
    cone: Cone = None
    body: Annotated[str | None, typer.Option(help="Clay body to compare the fit with.")] = None
    plan: Annotated[
        bool,
        typer.Option("--plan", help="Put the recipes and planned tiles on record; needs --body."),
    ] = False
    coats: Annotated[
        str | None, typer.Option(help="With --plan: coats; 1,2,3 makes three areas.")
    ] = None
    bisque_cone: Annotated[str | None, typer.Option(help="With --plan: cone of the bisque.")] = None
    first_mark: Annotated[
        str | None,
        typer.Option(help="With --plan: mark of the first tile; default: after the last."),
    ] = None
    yes: common.Yes = False
    as_json: common.AsJson = False
    as_csv: common.AsCsv = False
    db: common.Db = None

    def check(self) -> None:
        """Raise for options that do not go together."""
        output.refuse_two_forms(as_json=self.as_json, as_csv=self.as_csv)
        check_batch(self.batch_g)
        if self.plan and self.body is None:
            raise InvalidValue("--plan without a clay body.", "--body NAME.", field="body")
        if not self.plan and (self.coats or self.bisque_cone or self.first_mark):
            raise InvalidValue("coats, bisque or mark without --plan.", "add --plan.")


def _check_picture(file: Path) -> None:
    """Raise for a picture of another kind, and one that is there already."""
    if file.suffix.casefold() not in (".png", ".svg"):
        raise InvalidValue(
            f"{file} is neither PNG nor SVG.",
            "a file ending in .png or .svg.",
            field="plot",
            value=str(file),
        )
    refuse_existing(file)


def answer(names: list[str], mix: Callable, wanted: Wanted, plot: Path | None = None) -> None:
    """Work the blend out and print it; draw and plan it where that is wanted."""
    from tiles.records.analyses import own_materials

    wanted.check()
    if plot:
        _check_picture(plot)
    with common.reading(wanted.db) as session:
        corners = [fetch(session, name, None, wanted.cone) for name in names]
        body = _body(session, wanted.body)
        own = own_materials(session)
    titles = _titles(corners)
    mixes = mix([(title, _parts(each)) for title, each in zip(titles, corners, strict=True)], own)
    cone, differ = shared_cone(corners, wanted.cone)
    rows = [_row(each, own, cone, wanted.batch_g, body) for each in mixes]
    if plot:
        from tiles.cli.plots import line_blend

        line_blend(rows, titles, body, plot)
        common.talk(f"Picture saved: {plot}")
    if wanted.plan:
        from tiles.cli.blend_plan import put_on_record

        marks = put_on_record(mixes, corners, titles, wanted)
        rows = [row | {"mark": mark} for row, mark in zip(rows, marks, strict=True)]
    _print(rows, corners, cone, wanted)
    if differ and not wanted.as_json:
        common.talk(f"Note: melt at cone {cone} for all of them: {differ}")


def _body(session, name: str | None) -> tuple[str, float | None] | None:
    from tiles.records import models, store

    if name is None:
        return None
    row = store.find(session, models.ClayBody, name)
    return row.name, row.expansion_ppm_per_k


def _titles(corners: list[OnRecord]) -> list[str]:
    """The names of the corners, with the version where two are of one glaze."""
    names = [each.name for each in corners]
    return [
        f"{each.name} v{each.recipe.version}" if names.count(each.name) > 1 else each.name
        for each in corners
    ]


def _parts(corner: OnRecord) -> list[tuple[str, float]]:
    return [(line.material, line.parts) for line in corner.recipe.lines]


def _row(mix, own: tuple, cone: str | None, batch_g: float, body) -> dict:
    from tiles.chemistry.formula import analyse
    from tiles.chemistry.hazards import REMINDER, screen_recipe

    found = figures.of_composition(analyse(mix.recipe, own=own), cone)
    kept = ("seger", "expansion", "melt", "surface_tension", "not_understood_pct", "cannot_tell")
    beside = None
    if body and body[1] is not None and found["expansion"]:
        beside = figures.margin(found["expansion"], body[1])
    return {
        "number": mix.number,
        "mixture": mix.title,
        "shares": mix.shares,
        "recipe": mix.recipe,
        "weights_g": mix.weighed_g(batch_g),
        **{key: found[key] for key in kept},
        "not_understood": list(found["suggestions"]),
        "body": body[0] if body else None,
        "margin": beside,
        "cautions": [vars(each) for each in screen_recipe(mix.recipe, own=own)],
        "reminder": REMINDER,
    }


def _print(rows, corners, cone, wanted: Wanted) -> None:
    if wanted.as_json or wanted.as_csv:
        shown = [_flat(row) for row in rows] if wanted.as_csv else rows
        output.rows(shown, {}, as_json=wanted.as_json, as_csv=wanted.as_csv, empty="")
    else:
        _print_figures(rows, cone)
        print(f"\nTo weigh [g], {spoken_g(wanted.batch_g)} g dry of each:")
        _print_weights(rows)
    if not wanted.as_json:
        _tell(rows, corners, cone, wanted.batch_g)


def _print_figures(rows: list[dict], cone: str | None) -> None:
    shown = [_spoken(row) for row in rows]
    columns = {"number": "no."}
    if "mark" in rows[0]:
        columns["mark"] = "mark"
    columns |= {"mixture": "mixture", "fit": "expansion ppm/K"}
    if any(row["margin"] for row in rows):
        columns["margin"] = f"below {rows[0]['body']}"
    if cone:
        columns["melt"] = f"melt at {cone}, log10 Pa.s"
    if any(row["not_understood"] for row in rows):
        columns["not_understood"] = "not understood"
    output.rows(shown, columns, as_json=False, as_csv=False, empty="")


def _spoken(row: dict) -> dict:
    expansion, margin, melt = row["expansion"], row["margin"], row["melt"]
    return {
        "number": row["number"],
        "mark": row.get("mark"),
        "mixture": row["mixture"],
        "fit": ranged(expansion, 1) if expansion else "cannot tell",
        "margin": margin and ranged(margin | {"value": margin["margin_ppm_per_k"]}, 1),
        "melt": f"{melt['word']} {ranged(melt, 1)}" if melt else "cannot tell",
        "not_understood": _not_understood(row),
    }


def _not_understood(row: dict) -> str | None:
    """The share of one mixture that its figures leave out, and which materials that is."""
    if not row["not_understood"]:
        return None
    return f"{share(row['not_understood_pct'])} ({', '.join(row['not_understood'])})"


def _print_weights(rows: list[dict]) -> None:
    materials = list(dict.fromkeys(name for row in rows for name in row["weights_g"]))
    shown = [
        {"number": row["number"]} | {name: _grams(row["weights_g"].get(name)) for name in materials}
        for row in rows
    ]
    columns = {"number": "no."} | {name: name for name in materials}
    output.rows(shown, columns, as_json=False, as_csv=False, empty="")


def _grams(value: float | None) -> str | None:
    return None if value is None else f"{value:.{decimals(value)}f}"


def _tell(rows, corners: list[OnRecord], cone: str | None, batch_g: float) -> None:
    """What must be known before the figures are used, each thing once."""
    from tiles.chemistry.hazards import REMINDER

    unknown = max(row["not_understood_pct"] for row in rows)
    if unknown:
        numbers = ", ".join(str(row["number"]) for row in rows if row["not_understood"])
        common.talk(
            f"WARNING: up to {share(unknown)} is not understood in no. {numbers}: their figures "
            "are of the rest only. 'tiles material add' takes the data sheet."
        )
    answers = [row[key] for row in rows for key in ("expansion", "melt") if row[key]]
    for remark in dict.fromkeys(remark for each in answers for remark in each["remarks"]):
        common.talk(f"But (some of them): {remark}.")
    for reason in dict.fromkeys(reason for row in rows for reason in row["cannot_tell"]):
        common.talk(f"Cannot tell: {reason}")
    for line in too_little([row["weights_g"] for row in rows], batch_g):
        common.talk(f"Note: {line}")
    if cone is None:
        common.talk("No cone on the labels: add --cone 05 for the melt.")
    common.talk("Ranges hold nine in ten; neighbours differ more surely than each is known.")
    hazards = dict.fromkeys(each.hazard for corner in corners for each in corner.cautions)
    if hazards:
        common.talk(f"Caution: {', '.join(hazards)}. 'tiles recipe show NAME --full' tells more.")
    common.talk(REMINDER)


def _flat(row: dict) -> dict:
    """One row of a spreadsheet: a column for each figure and each material."""
    expansion, melt, margin = (row[key] or {} for key in ("expansion", "melt", "margin"))
    weights = row["weights_g"]
    return {
        "number": row["number"],
        "mark": row.get("mark"),
        "mixture": row["mixture"],
        "expansion_ppm_per_k": expansion.get("value"),
        "expansion_low": expansion.get("low"),
        "expansion_high": expansion.get("high"),
        "body": row["body"],
        "margin_ppm_per_k": margin.get("margin_ppm_per_k"),
        "melt": melt.get("word"),
        "log10_viscosity_pa_s": melt.get("value"),
        "log10_viscosity_low": melt.get("low"),
        "log10_viscosity_high": melt.get("high"),
        "not_understood_pct": row["not_understood_pct"],
        "not_understood": ", ".join(row["not_understood"]),
        "weights_g": {
            name: round(grams, max(2, decimals(grams))) for name, grams in weights.items()
        },
    }
