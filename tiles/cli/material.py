"""``tiles material``: what raw materials are made of, the user's own data sheets included."""

from typing import Annotated

import typer

from tiles.cli import common, output, studio
from tiles.cli.amounts import read_pair
from tiles.errors import shell_word

COLUMNS = {
    "name": "material",
    "also_called": "also called",
    "kind": "analysis",
    "loss_on_ignition_pct": "loss %",
    "whose": "whose",
    "cautions": "caution",
}
KIND_SAID = {
    "measured": "measured",
    "derived": "computed from the ideal formula",
    "estimated": "our own estimate: replace it by your supplier's",
}
NONE = "none: not understood"


def add_to(app: typer.Typer) -> None:
    """Add the subject."""
    what = "Raw materials: analysis, source, loss on ignition, cautions."
    sub = common.subject(app, "material", what)
    sub.command("list")(list_all)
    sub.command("show")(show)
    sub.command("add")(add)


def list_all(
    own: Annotated[bool, typer.Option("--own", help="Only those on your record.")] = False,
    as_json: common.AsJson = False,
    as_csv: common.AsCsv = False,
    limit: common.Limit = None,
    db: common.Db = None,
) -> None:
    """List the materials that recipes may name, and those named that nobody has an analysis of."""
    mine, bare = _on_record(db)
    shipped = () if own else _shipped_beside(mine)
    found = [_row(each, "yours", mine) for each in mine]
    found += [_bare_row(name) for name in bare]
    found += [_row(each, "shipped") for each in shipped]
    found.sort(key=lambda row: row["name"].casefold())
    if not (as_json or as_csv):
        for row in found:
            row |= {key: ", ".join(row[key]) for key in ("also_called", "cautions")}
    output.rows(found, COLUMNS, as_json=as_json, as_csv=as_csv, limit=limit, empty="None yet.")


def _shipped_beside(mine: tuple) -> list:
    from tiles.chemistry.materials import fold, shipped

    replaced = {fold(name) for each in mine for name in each.names}
    return [each for each in shipped() if fold(each.name) not in replaced]


def _on_record(db: str | None) -> tuple[tuple, list[str]]:
    """The user's materials with an analysis, and names in recipes that go by none.

    A studio without a database yet has neither.
    """
    from sqlalchemy import select

    from tiles.chemistry.materials import fold, index
    from tiles.records import models
    from tiles.records.analyses import own_materials

    with studio.looking(db) as session:
        if session is None:
            return (), []
        mine = own_materials(session)
        known = index(mine)
        names = session.scalars(select(models.Material.name).order_by(models.Material.name))
        return mine, [name for name in names if fold(name) not in known]


def _row(material, whose: str, mine: tuple = ()) -> dict:
    from tiles.chemistry.hazards import screen_material

    return {
        "name": material.name,
        "also_called": list(material.aliases),
        "kind": material.kind,
        "clay": material.clay or None,
        "loss_on_ignition_pct": round(material.loss_percent, 2),
        "source": material.source or None,
        "whose": whose,
        "cautions": [each.hazard for each in screen_material(material.name, mine)],
        "analysis": dict(material.analysis),
    }


def _bare_row(name: str) -> dict:
    from tiles.chemistry.hazards import screen_material

    return {
        "name": name,
        "also_called": [],
        "kind": NONE,
        "clay": None,
        "loss_on_ignition_pct": None,
        "source": None,
        "whose": "yours",
        "cautions": [each.hazard for each in screen_material(name)],
        "analysis": {},
    }


def show(
    name: str,
    as_json: common.AsJson = False,
    db: common.Db = None,
) -> None:
    """Show a material: its analysis, how it is known, loss on ignition, names and cautions."""
    from tiles.chemistry.hazards import screen_material
    from tiles.chemistry.materials import find, fold, sum_percent

    mine = studio.own_materials(db)
    material = find(name, mine)
    is_own = any(fold(each.name) == fold(material.name) for each in mine)
    row = _row(material, "yours" if is_own else "shipped", mine)
    row["sum_pct"] = round(sum_percent(material.analysis, material.loss_on_ignition_percent), 2)
    row["note"] = material.note or None
    row["cautions"] = {each.hazard: each.handling for each in screen_material(material.name, mine)}
    if as_json:
        output.print_json(row)
        return
    _print(material, row, asked=name)


def _print(material, row: dict, asked: str) -> None:
    from tiles.chemistry.materials import OXYGEN_PER_FLUORINE, fold

    alias = f" ({asked})" if fold(asked) != fold(material.name) else ""
    print(f"{material.name}{alias}, {row['whose']}")
    if material.aliases:
        print(f"  also called        {', '.join(material.aliases)}")
    for oxide, percent in sorted(material.analysis.items(), key=lambda pair: -pair[1]):
        print(f"  {oxide:<18} {percent:6.2f} %")
    print(f"  {'loss on ignition':<18} {material.loss_on_ignition_percent:6.2f} %")
    oxygen = OXYGEN_PER_FLUORINE * material.analysis.get("F", 0.0)
    if oxygen:
        print(f"  {'oxygen in place of':<18} {-oxygen:6.2f} %  F, counted twice above")
    print(f"  {'sum':<18} {row['sum_pct']:6.2f} %")
    if abs(material.loss_percent - material.loss_on_ignition_percent) > 0.005:
        print(f"  {'leaves on firing':<18} {material.loss_percent:6.2f} %  volatile ones with it")
    print(f"  analysis           {KIND_SAID[material.kind]}")
    print(f"  source             {material.source or 'not recorded'}")
    if material.clay:
        print(f"  counts as          {material.clay} clay")
    if material.note:
        print(f"  note               {material.note}")
    for hazard, handling in row["cautions"].items():
        print(f"  caution            {hazard}: {handling}")


def add(
    name: Annotated[str, typer.Argument(help="The name on the bag.")],
    oxide: Annotated[
        list[str], typer.Option(help="An oxide and its weight %, such as SiO2=68.5; repeat.")
    ],
    loi: Annotated[float | None, common.number("Loss on ignition [weight %].", "%")] = None,
    source: Annotated[str, typer.Option(help="Where the figures are from.")] = "data sheet",
    remark: Annotated[str | None, typer.Option(help="Anything else.")] = None,
    replace: Annotated[
        bool, typer.Option("--replace", help="Write over an analysis on record, if it was wrong.")
    ] = False,
    yes: common.Yes = False,
    db: common.Db = None,
) -> None:
    """Put the analysis of a material on record, from its data sheet; a new lot under a new name.

    Example: tiles material add "our feldspar" --oxide SiO2=68.5 --oxide Al2O3=18.6
    --oxide Na2O=9.8 --oxide K2O=2.4 --oxide CaO=0.5 --loi 0.2 --source "bag sheet 2026"
    """
    from tiles.chemistry.hazards import screen_material
    from tiles.chemistry.materials import from_analysis, sum_percent
    from tiles.records.analyses import own_materials
    from tiles.records.store.material import add_material
    from tiles.records.words import tidy_name

    material = from_analysis(
        tidy_name(name),
        _analysis(oxide),
        loss_on_ignition_percent=loi,
        source=source,
    )

    def write(confirmed: bool):
        with common.writing(db) as session:
            before = _before(session, material.name)
            how = {"remark": remark, "replace": replace, "confirmed": confirmed}
            add_material(session, material, **how)
            cautions = screen_material(material.name, own_materials(session))
            return before, _takes_over(session, material.name), cautions

    before, takes_over, cautions = common.confirmed(write, yes=yes)
    total = sum_percent(material.analysis, material.loss_on_ignition_percent)
    print(f"{material.name} is on record; its analysis adds up to {total:.1f} %.")
    for line in filter(None, (before, takes_over)):
        common.talk(line)
    for each in cautions:
        common.talk(f"Caution: {each.hazard}: {each.handling}")


def _before(session, name: str) -> str:
    """The analysis that is to be written over, as it was entered; empty where there is none."""
    from tiles.records import models, store

    row = store.look_up(session, models.Material, name)
    if row is None or not row.oxides:
        return ""
    oxides = [f"--oxide {each.oxide}={each.weight_pct:.10g}" for each in row.oxides]
    told = {"source": row.source, "remark": row.remark}
    words = [f"--{key} {shell_word(text)}" for key, text in told.items() if text]
    loss = [f"--loi {row.loss_on_ignition_pct:.10g}"] if row.loss_on_ignition_pct else []
    return f"Written over: {' '.join([*oxides, *loss, *words])}"


def _takes_over(session, name: str) -> str:
    """Which other names the new analysis stands for, and how many recipes that changes."""
    from tiles.chemistry.materials import fold
    from tiles.records.store.material import own_material, reckoned_with

    own = own_material(session, name)
    if not own.aliases:
        return ""
    count = len(reckoned_with(session, own).recipes)
    others = ", ".join(each for each in own.aliases if fold(each) != fold(name))
    also = f" and under its other names ({others})" if others else ""
    return (
        f"From now on {own.name} goes before the shipped analysis of that name{also}, in "
        f"{count} recipe version{'s' * (count != 1)} on record too. To keep the shipped one for "
        f'those, enter yours under a name of its own, such as "our {own.name}".'
    )


def _analysis(pairs: list[str]) -> dict[str, float]:
    from tiles.chemistry.oxides import read_oxide
    from tiles.errors import InvalidValue

    found: dict[str, float] = {}
    for text in pairs:
        name, percent = read_pair(text, "--oxide", "SiO2=68.5")
        oxide = read_oxide(name)
        if oxide in found:
            raise InvalidValue(f"{oxide} is listed twice.", "one value.", field="oxide")
        found[oxide] = percent
    return found
