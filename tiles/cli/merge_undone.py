"""How to part again what a merge made one, and to take off what the name that stays took over."""

from collections.abc import Sequence

from tiles.cli.marks import runs
from tiles.errors import shell_line

_ENDS = ("cone_low", "cone_high")
_REVIVED = "is_revived"
_NO_OPTIONS = ("is_retired", "witness_cones")


def undo(model, before, kept) -> str:
    """The command that describes ``kept`` as it was ``before``; empty where nothing was taken."""
    from tiles.records.store.belongings import command

    told, was = dict(kept), dict(before)
    changed = [field for field in told if told[field] != was[field] and field not in _NO_OPTIONS]
    options = _options(before, changed)
    options += _cones(was.get("witness_cones", []), told.get("witness_cones", []))
    if not options:
        return ""
    return f"{command(model)} {shell_line(['change', kept.name, *options])}"


def _cones(before: Sequence, now: Sequence) -> list[str]:
    """Those of the shelves by themselves; that of the whole load goes with all but these."""
    new = [read for read in now if read not in before]
    if all(read.shelf for read in new):
        told = [f"@{read.shelf}" for read in new]
    else:
        told = ["", *(f"{read.cone}@{read.shelf}" for read in before)]
    return [each for text in told for each in ("--witness-cone", text)]


def apart(gone, kept, firings: Sequence[str]) -> list[str]:
    """The commands that give the kiln ``gone`` its firings again."""
    from tiles.records.mark_looks import natural_key

    named = runs(sorted(firings, key=natural_key))
    split = ["split", kept.name, *named, "--to", gone.name]
    change = [["change", gone.name, "--remark", gone.remark]] if gone.remark else []
    return [f"tiles kiln {shell_line(each)}" for each in (split, *change)]


def held_by(row) -> tuple[set[int], dict]:
    """The numbers of a glaze's recipe versions, and its buckets by name; none of another."""
    from tiles.records.reading import batch_record

    versions, batches = (getattr(row, each, ()) for each in ("recipe_versions", "batches"))
    return {each.version for each in versions}, {each.name: batch_record(each) for each in batches}


def along(row, held: tuple[set[int], dict]) -> list[str]:
    """The commands that take off what came to a glaze by a merge, beside what it ``held``."""
    (versions, batches), (versions_before, batches_before) = held_by(row), held
    recipes = [["recipe", "remove", row.name, "--version", f"{each}"]
               for each in sorted(versions - versions_before, reverse=True)]  # fmt: skip
    buckets = [["batch", "remove", row.name, each] for each in sorted(batches)
               if each not in batches_before]  # fmt: skip
    for name, before in batches_before.items():
        if filled := [each for each, value in before if getattr(batches[name], each) != value]:
            options = _options(before, filled)
            buckets.append(["batch", "change", row.name, name, *options, "--yes"])
    return [f"tiles {shell_line(each)}" for each in (*recipes, *buckets)]


def _options(record, fields: Sequence[str]) -> list[str]:
    """These fields as options; what is blank clears."""
    from tiles.records.derived import label_range

    values = dict(record)
    options = [
        each
        for field in fields
        if field not in (*_ENDS, _REVIVED)
        for each in (
            f"--{field.replace('_', '-')}",
            "" if values[field] is None else f"{values[field]}",
        )
    ]
    if _REVIVED in fields:  # a merge fills only what was blank
        options.append("--revived-unknown")
    if any(field in _ENDS for field in fields):
        options += ["--cones", "-".join(label_range(record) or ())]
    return options
