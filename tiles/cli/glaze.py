"""``tiles glaze``: jars and recipes, and ``tiles batch``: mixed or revived buckets."""

from collections.abc import Container
from dataclasses import dataclass
from typing import Annotated

import typer

from tiles.cli import asked, belonging_commands, caution, common, prose
from tiles.errors import InvalidValue

COLUMNS = {
    "name": "glaze",
    "kind": "kind",
    "role": "role",
    "finish": "finish",
    "cones": "cones",
    "colour": "colour",
    "food_label": "food label",
    "tiles": "tiles",
    "retired": "retired",
    "hazards": "caution",
    "remark": "remark",
}

_BATCH_FIELDS = "mixed_on specific_gravity sieve_mesh dry_portion is_revived note".split()

Role = Annotated[
    str | None, typer.Option(help="glaze, underglaze, slip, wash (raw oxide) or stain.")
]
Finish = Annotated[str | None, typer.Option(help="clear, gloss, satin, matt, textured or crackle.")]
Cones = Annotated[str | None, typer.Option(help="Cone range on the label, such as 06-04.")]
Remark = Annotated[str | None, typer.Option(help="Anything else.")]
MixedOn = Annotated[str | None, common.day("Day it was mixed, YYYY-MM-DD.")]
GRAVITY = "Weight of 100 mL in grams / 100, such as 1.45."
MESH = "Sieve, meshes to the inch."
DryPortion = Annotated[
    str | None, typer.Option(help="Mixed from the 'whole bag' or 'part of bag'.")
]
Revived = Annotated[
    bool | None, typer.Option("--revived/--not-revived", help="Brought back from dried-out.")
]


@dataclass(frozen=True)
class Facts:
    """What is known of a glaze, beside its kind and its role."""

    finish: Finish = None
    cones: Cones = None
    colour: Annotated[str | None, typer.Option(help="Fired colour.")] = None
    maker: Annotated[str | None, typer.Option(help="Maker, in your own words.")] = None
    supplied_as: Annotated[str | None, typer.Option(help="liquid or dry.")] = None
    food_label: Annotated[str | None, typer.Option(help="What the label says about food.")] = None
    remark: Remark = None


def add_to(app: typer.Typer) -> None:
    """Add the two subjects."""
    sub = common.subject(app, "glaze", "Glazes, underglazes, slips, washes and stains.")
    sub.command("add")(add)
    sub.command("change")(change)
    belonging_commands.add_common(
        sub,
        "Glaze",
        COLUMNS,
        can_retire=True,
        learned=_handling,
        spoken=_spoken,
        listed=_add_hazards,
    )
    batches = common.subject(app, "batch", "Mixed or revived buckets of a glaze.")
    batches.command("add")(add_batch)
    batches.command("change")(change_batch)
    batches.command("list")(list_batches)
    batches.command("rename")(rename_batch)
    batches.command("remove")(remove_batch)
    batches.command("retire")(retire_batch)
    batches.command("restore")(restore_batch)


@asked.spread
def add(
    name: str,
    *,
    kind: Annotated[str, typer.Option(help="jar or recipe.")] = "jar",
    role: Role = "glaze",
    facts: Facts,
    yes: common.Yes = False,
    db: common.Db = None,
) -> None:
    """Put a glaze on record: a jar as its label describes it, or a recipe."""
    values = {"name": name} | vars(facts) | {"kind": kind, "role": role}
    belonging_commands.add("Glaze", values, db, yes=yes)
    for line in _spoken(_handling(name, db)):
        print(line)


def _handling(name: str, db: str | None) -> dict:
    """The usual cautions for what the label, or the newest recipe, names or may name."""
    from tiles.chemistry.hazards import REMINDER
    from tiles.records import models, store
    from tiles.records.analyses import own_materials

    with common.reading(db) as session:
        glaze = store.find(session, models.Glaze, name)
        found = caution.of_glaze(glaze, own_materials(session))
        unread = caution.unread(session, [(glaze.name, None)]).get((glaze.name, None), [])
    told = [f"{each.hazard}: {each.handling}" for each in found]
    told += [
        f'"{each}" is not understood and may name a poison: read it yourself.' for each in unread
    ]
    return {
        "cautions": told,
        "reminder": REMINDER,
    }


def _add_hazards(rows: list[dict], db: str | None) -> None:
    """What the label, or the newest recipe, of each names: also of jars on no tile."""
    with common.reading(db) as session:
        known = caution.by_coat(session, [(row["name"], None) for row in rows])
    for row in rows:
        row["hazards"] = known.get((row["name"], None), [])


def _spoken(found: dict) -> list[str]:
    """The cautions, and what no record can show, below what is recorded."""
    if not found["cautions"]:
        return []
    said = [f"Caution: {each}" for each in found["cautions"]] + [found["reminder"]]
    return [line for each in said for line in prose.wrap(each, "  ")]


@asked.spread
def change(
    name: str,
    *,
    kind: Annotated[str | None, typer.Option(help="jar or recipe.")] = None,
    role: Role = None,
    facts: Facts,
    yes: common.Yes = False,
    db: common.Db = None,
) -> None:
    """Change what is known of a glaze; what is not named stays.

    An empty text ("") clears a field.
    """
    values = vars(facts) | {"kind": kind, "role": role}
    belonging_commands.change("Glaze", name, values, db, yes=yes)


def add_batch(
    glaze: str,
    name: Annotated[str, typer.Argument(help="What you call it: a date, a number.")],
    mixed_on: MixedOn = None,
    specific_gravity: Annotated[float | None, common.number(GRAVITY, "g/mL")] = None,
    sieve_mesh: Annotated[str | None, common.number_or_blank(MESH, "mesh")] = None,
    dry_portion: DryPortion = None,
    revived: Revived = None,
    note: Remark = None,
    db: common.Db = None,
) -> None:
    """Put a bucket on record."""
    from tiles.records import forms, store

    is_revived = revived
    values = common.fields(_BATCH_FIELDS, locals())
    record = forms.read(forms.BatchRecord, {"name": name} | values)
    with common.writing(db) as session:
        of = store.add_batch(session, glaze, record).glaze
        named, role = of.name, of.role
    print(f"Batch {record.name} of {glaze} is on record.")
    _tell_batch(record, role, values)
    caution.tell([(named, None)], db)


def change_batch(
    glaze: str,
    name: str,
    mixed_on: MixedOn = None,
    specific_gravity: Annotated[str | None, common.number_or_blank(GRAVITY, "g/mL")] = None,
    sieve_mesh: Annotated[str | None, common.number_or_blank(MESH, "mesh")] = None,
    dry_portion: DryPortion = None,
    revived: Revived = None,
    revived_unknown: Annotated[
        bool, typer.Option("--revived-unknown", help="Whether it was is not recorded.")
    ] = False,
    note: Remark = None,
    yes: common.Yes = False,
    db: common.Db = None,
) -> None:
    """Correct what is known of a bucket and so of all tiles coated from it; the rest stays.

    A bucket that has changed since is another batch: add it under a name of its own. An empty
    text ("") clears a field.
    """
    from tiles.records import models, reading, store

    if revived_unknown and revived is not None:
        raise InvalidValue("what is said of revived contradicts itself.", "one of the options.")
    is_revived = "" if revived_unknown else revived
    given = belonging_commands.to_change(common.fields(_BATCH_FIELDS, locals()))

    def write(confirmed: bool) -> tuple:
        with common.writing(db, create=False) as session:
            found = store.find_batch(store.find(session, models.Glaze, glaze), name)
            before = reading.batch_record(found)
            row = store.change_batch(session, glaze, name, given, confirmed=confirmed)
            marks = store.marks_from(session, row)
            return row.glaze.name, row.glaze.role, before, reading.batch_record(row), len(marks)

    of, role, before, record, tiles = common.confirmed(write, yes=yes)
    what = f"Batch {record.name} of {of}"
    changed = belonging_commands.tell_changed(what, before, record, given)
    if tiles and changed:
        common.talk(f"That holds for {prose.counted(tiles, 'tile')} coated from it.")
    _tell_batch(record, role, changed)


def rename_batch(glaze: str, name: str, new_name: str, db: common.Db = None) -> None:
    """Give a bucket another name; its tiles stay with it."""
    from tiles.records import store

    with common.writing(db, create=False) as session:
        row = store.change_batch(session, glaze, name, {"name": new_name})
        print(f"Batch {name} of {row.glaze.name} is now {row.name}.")


def remove_batch(glaze: str, name: str, yes: common.Yes = False, db: common.Db = None) -> None:
    """Take a bucket that was added by mistake off the record, if no tile is from it."""
    from functools import partial

    from tiles.records import store

    remove = partial(store.remove_batch, glaze_name=glaze, name=name)
    belonging_commands.take_off(remove, db, yes=yes)


def retire_batch(glaze: str, name: str, db: common.Db = None) -> None:
    """Mark a bucket as used up: no further tile is proposed from it; its tiles stay."""
    _set_retired(glaze, name, True, db)


def restore_batch(glaze: str, name: str, db: common.Db = None) -> None:
    """Mark a bucket as in use again."""
    _set_retired(glaze, name, False, db)


def _set_retired(glaze: str, name: str, is_retired: bool, db: str | None) -> None:
    from tiles.records import store

    with common.writing(db, create=False) as session:
        row = store.change_batch(session, glaze, name, {"is_retired": is_retired})
        said = "retired; its tiles stay on record" if is_retired else "in use"
        print(f"Batch {row.name} of {row.glaze.name} is {said}.")


def _tell_batch(record, role: str, given: Container[str]) -> None:
    """What a bucket may do otherwise than the label says, by the facts that were just given."""
    from tiles.chemistry.slip import BRUSHING_SG, DIPPING_SG, GUM_PCT, THIN_SLOP_SG
    from tiles.records.words import COLOUR_ROLES

    sg = record.specific_gravity
    if record.dry_portion == "part of bag" and "dry_portion" in given:
        common.talk(
            "Note: a bag sorts itself on the road, so part of it may not be the glaze on the "
            "label. Mix the whole bag where you can."
        )
    if record.is_revived and "is_revived" in given:
        common.talk(
            "Note (common practice): a jar that dried out has lost its gum, so its coat may powder "
            f"and crawl. Soak it 24 to 48 hours, sieve it at 80 mesh, add {GUM_PCT} gum (of the "
            "dry weight), and fire a test tile first."
        )
    if sg and sg < THIN_SLOP_SG and "specific_gravity" in given and role not in COLOUR_ROLES:
        common.talk(
            f"Note (common practice): SG {sg:g} is thin; 1.45 to 1.55 is usual for dipping, about "
            f"{BRUSHING_SG:g} for brushing. What to take off: tiles slip --sg {sg:g} "
            f"--to-sg {DIPPING_SG:g} --volume-l LITRES"
        )


def list_batches(
    glaze: Annotated[str | None, typer.Argument(help="Of this glaze alone.")] = None,
    as_json: common.AsJson = False,
    as_csv: common.AsCsv = False,
    db: common.Db = None,
) -> None:
    """List the buckets of a glaze, or of all glazes."""
    from sqlalchemy import select

    from tiles.cli import output
    from tiles.records import models, reading, store
    from tiles.records.mark_looks import natural_key

    with common.reading(db) as session:
        rows = [store.find(session, models.Glaze, glaze)] if glaze else []
        rows = rows or sorted(
            session.scalars(select(models.Glaze).options(*reading.parts(models.Glaze))),
            key=lambda r: natural_key(r.name),
        )
        found = [
            {"glaze": row.name} | reading.batch_record(batch).model_dump()
            for row in rows
            for batch in row.batches
        ]
    columns = {
        "glaze": "glaze",
        "name": "batch",
        "mixed_on": "mixed",
        "specific_gravity": "SG",
        "sieve_mesh": "mesh",
        "dry_portion": "from",
        "is_revived": "revived",
        "note": "note",
        "is_retired": "retired",
    }
    output.rows(found, columns, as_json=as_json, as_csv=as_csv, may_go=True, empty="No batch yet.")
