"""How to part again what a merge made one, and to take off what the name that stays took over."""

from collections.abc import Sequence

from tiles.cli.marks import runs
from tiles.errors import shell_line

_ENDS = ("cone_low", "cone_high")
_NO_OPTIONS = ("is_retired", "witness_cones")


def undo(model, before, kept) -> str:
    """The command that describes ``kept`` as it was ``before``; empty where nothing was taken."""
    from tiles.records.store.belongings import command

    told, was = dict(kept), dict(before)
    changed = [field for field in told if told[field] != was[field] and field not in _NO_OPTIONS]
    options = _options(before, changed)
    for read in told.get("witness_cones") or []:
        if read.shelf and read not in was["witness_cones"]:
            options += ["--witness-cone", f"@{read.shelf}"]
    if not options:
        return ""
    return f"{command(model)} {shell_line(['change', kept.name, *options])}"


def apart(model, gone, kept, firings: Sequence[str]) -> list[str]:
    """The commands that put ``gone`` on record again, with the firings that were of that kiln."""
    from tiles.queries.search import natural_key
    from tiles.records.store.belongings import command

    told = [field for field, value in gone if value is not None and field != "name"]
    options = _options(gone, [field for field in told if field not in _NO_OPTIONS])
    for read in dict(gone).get("witness_cones") or []:
        options += ["--witness-cone", f"{read.cone}@{read.shelf}" if read.shelf else read.cone]
    if not firings:
        return [f"{command(model)} {shell_line(['add', gone.name, *options])}"]
    named = runs(sorted(firings, key=natural_key))
    split = shell_line(["split", kept.name, *named, "--to", gone.name])
    change = [shell_line(["change", gone.name, *options])] if options else []
    return [f"{command(model)} {each}" for each in (split, *change)]


def held_by(row) -> tuple[set[int], set[str]]:
    """The numbers of a glaze's recipe versions and the names of its buckets; none of another."""
    versions, batches = (getattr(row, each, ()) for each in ("recipe_versions", "batches"))
    return {each.version for each in versions}, {each.name for each in batches}


def along(row, held: tuple[set[int], set[str]]) -> list[str]:
    """The commands that take off what came to a glaze by a merge, beside what it ``held``."""
    versions, batches = (now - before for now, before in zip(held_by(row), held, strict=True))
    recipes = [["recipe", "remove", row.name, "--version", f"{each}"]
               for each in sorted(versions, reverse=True)]  # fmt: skip
    buckets = [["batch", "remove", row.name, each] for each in sorted(batches)]
    return [f"tiles {shell_line(each)}" for each in (*recipes, *buckets)]


def _options(record, fields: Sequence[str]) -> list[str]:
    """These fields as options; what is blank clears."""
    from tiles.records.derived import label_range

    values = dict(record)
    options = [
        each
        for field in fields
        if field not in _ENDS
        for each in (
            f"--{field.replace('_', '-')}",
            "" if values[field] is None else f"{values[field]}",
        )
    ]
    if any(field in _ENDS for field in fields):
        options += ["--cones", "-".join(label_range(record) or ())]
    return options
