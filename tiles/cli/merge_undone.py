"""How to take off again what a merge had the name that stays take over."""

from tiles.errors import shell_line

_ENDS = ("cone_low", "cone_high")
_NO_OPTIONS = ("is_retired", "witness_cones")


def undo(model, before, kept) -> str:
    """The command that describes ``kept`` as it was ``before``; empty where nothing was taken."""
    from tiles.records.derived import label_range
    from tiles.records.store.belongings import command

    told, was = dict(kept), dict(before)
    changed = [field for field in told if told[field] != was[field] and field not in _NO_OPTIONS]
    options = [
        each
        for field in changed
        if field not in _ENDS
        for each in (f"--{field.replace('_', '-')}", "" if was[field] is None else f"{was[field]}")
    ]
    if any(field in _ENDS for field in changed):
        options += ["--cones", "-".join(label_range(before) or ())]
    for read in told.get("witness_cones") or []:
        if read.shelf and read not in was["witness_cones"]:
            options += ["--witness-cone", f"@{read.shelf}"]
    if not options:
        return ""
    return f"{command(model)} {shell_line(['change', kept.name, *options])}"
