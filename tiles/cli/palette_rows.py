"""The rows of ``tiles palette``: a way of glazing each, as JSON, CSV and the table hold it."""

from dataclasses import asdict

from tiles.cli import find, output

MISSED_BY = 1
"""A firing that went so far past its cone, or short of it, is not one to hand out. [cone steps]"""
EARLY = (
    "early: its clean tiles were looked at too early to tell of a fault that comes late (with a "
    "number: so many of them); below."
)
BUT = "but: with so many coats on that clay at least half failed."
READ = (
    "read it: what the label says, or a material of the recipe, was not understood and may be a "
    "poison; read it yourself."
)
OTHERS = (
    "others: other tiles of its uppermost glaze on that clay; of crazing and shivering at any "
    "cone, of another fault at its own."
)
"""What the short words of a line mean."""


def row(sheet, made) -> dict:
    """The row of a way as ``tiles palette --json`` prints it."""
    from tiles.cli.palette_order import early_of

    early = early_of(made, sheet.too_early)
    return _as_dict(sheet, made) | early | _missed(made, sheet.targets)


def _as_dict(sheet, made) -> dict:
    """What is known of a way by itself; layers are listed from the clay upwards."""
    from tiles.cli.food import beside

    area, food = made.areas[0], sheet.labels.food
    otherwise, doubt = sheet.others.get(how(made), []), sheet.doubts.get(how(made))
    said = {name: food[name] for name in area.glazes if name in food}
    met = {name: label.is_met(area.cone_reached) for name, label in said.items()}
    return {
        "glazes": area.glazes,
        "recipe_versions": made.versions,
        "coats": area.coats,
        "body": area.body,
        "cone_reached": area.cone_reached,
        "tiles": len(made.marks),
        "clean": len(made.clean),
        "tiles_with": made.defects,
        "other_words": made.other_words,
        "clean_marks": made.clean,
        "outside_label": sheet.labels.cones.outside(area),
        "stop": sheet.labels.cones.stops(made.areas),
        "food_label": {name: label.text for name, label in said.items()},
        "food_label_unmet": [name for name, is_met in met.items() if is_met is False],
        "food_label_not_judged": [name for name, is_met in met.items() if is_met is None],
        "food_label_of_one_layer": [
            name for name in said if any(beside(area, name, food).values())
        ],
        "holds": sheet.holds(made),
        "not_understood": sheet.not_understood(made),
        "by_kiln": [
            {"kiln": kiln, "tiles": tiles, "clean": clean}
            for kiln, (clean, tiles) in made.by_kiln.items()
        ],
        "otherwise_tiles": sum(len(each.marks) for each in otherwise),
        "otherwise_clean": sum(len(each.clean) for each in otherwise),
        "others_on_clay": doubt and asdict(doubt),
    }


def _missed(made, targets: dict[str, str]) -> dict[str, str | None]:
    """The cone that all its firings were set for, where none of them reached it."""
    from tiles.chemistry.cones import steps_between

    reached = made.areas[0].cone_reached
    cones = {targets.get(each.firing) for each in made.areas}
    known = cones.pop() if len(cones) == 1 else None
    is_missed = bool(known and reached) and abs(steps_between(known, reached)) >= MISSED_BY
    return {"set_for": known if is_missed else None}


def readable(sheet, row: dict, made, *, mostly_early: bool) -> dict:
    """The cells of the table that put several fields into one.

    Short, so that a line on the wall is one line: what the words mean stands below, see `legend`.
    ``mostly_early``: above the table it is said that clean tiles were looked at too early.
    """
    from tiles.cli.off_label import STOP
    from tiles.cli.palette_order import looked_at_early, looked_at_late

    early = looked_at_late(made, sheet.looks) if mostly_early else looked_at_early(row)
    others = _others(row)
    but = "" if others else _but(sheet, made)
    unread = () if row["holds"] else row["not_understood"]
    told = (
        STOP if row["stop"] else "",
        f"caution: {', '.join(row['holds'])}" if row["holds"] else "",
        *(f'"{each}": read it' for each in unread),
        f"set for {row['set_for']}" if row["set_for"] else "",
        early,
        output.cell(_in_words(made)) + all_of_one(made),
        others,
        but,
    )
    short = {EARLY: early and not mostly_early, OTHERS: others, BUT: but, READ: bool(unread)}
    return {
        **row,
        "coat": find.coat(made.areas[0]) or "no glaze",
        "counts": f"{row['clean']} of {row['tiles']}",
        "see": made.clean[:1],
        "told": "; ".join(part for part in told if part),
        "legend": [meaning for meaning, said in short.items() if said],
    }


def legend(rows: list[dict]) -> list[str]:
    """What the short words of some lines mean, each once."""
    told = {said for row in rows for said in row["legend"]}
    return [said for said in (EARLY, BUT, OTHERS, READ) if said in told]


def _in_words(made) -> dict[str, int]:
    """How many tiles show each defect, "other" with the words that were written of it."""
    from tiles.records.words import OTHER_FAULT

    other = f"{OTHER_FAULT}{find.in_words(made.other_words)}"
    return {other if name == OTHER_FAULT else name: many for name, many in made.defects.items()}


def all_of_one(made) -> str:
    """The batch that all faults are of, or the kiln; of both the kiln where all of it failed."""
    bad, kiln = made.bad_batch(), made.only_bad_kiln()
    told = ""
    if bad:
        batch, failed, of_it = bad
        told = f", all of batch {batch}" + (f" ({failed} of {of_it})" if failed < of_it else "")
    if kiln and not (bad and made.by_kiln[kiln][0]):
        told += f", all in {kiln}"
    return told


def failed_otherwise(sheet, made):
    """With which coats, or on which clay, the layers of a line that looks clean failed.

    None where they did not. See `palette_others.failed_so`.
    """
    from tiles.cli.palette_others import failed_so

    looks_clean = 2 * len(made.clean) > len(made.marks)
    return failed_so(made.areas[0], sheet.others[how(made)]) if looks_clean else None


def _but(sheet, made) -> str:
    """With which coats the layers of a line that looks clean failed on its clay; else "".

    On another clay they have a line of their own.
    """
    failed = failed_otherwise(sheet, made)
    is_here = failed and failed.area.body == made.areas[0].body
    return f"but {failed.way}" if is_here else ""


def _others(row: dict) -> str:
    """What others of its glaze on its clay show, as short as a line has it; else ""."""
    doubt = row["others_on_clay"]
    return f"others: {doubt['defect']} {doubt['failed']} of {doubt['tiles']}" if doubt else ""


def _doubt(row: dict) -> str:
    """What others of its glaze on its clay show, as the CSV says it.

    Those at other cones are counted for faults of fit alone, which is said.
    """
    from tiles.records.words import OF_FIT

    if not (doubt := row["others_on_clay"]):
        return ""
    many = f"{doubt['failed']} of {doubt['tiles']}"
    at = " at this cone" if row["cone_reached"] else " of no known cone"
    at = "" if doubt["defect"] in OF_FIT else at
    return f"{doubt['defect']} on {many} others of {row['glazes'][-1]} on this clay{at}"


def flat(row: dict) -> dict:
    """The cells of the CSV that would read badly as JSON holds them."""
    said = [f"{name}: {text}" for name, text in row["food_label"].items()]
    return {
        "recipe_versions": row["recipe_versions"] if any(row["recipe_versions"]) else None,
        "clean_marks": ", ".join(row["clean_marks"]),
        "others_on_clay": (_doubt(row) or None),
        "food_label": "; ".join(said),
        "by_kiln": "; ".join(
            f"{of['kiln']} {of['clean']} of {of['tiles']}" for of in row["by_kiln"]
        ),
    }


def how(made) -> tuple:
    """How a way of glazing is made: tiles made so are one row."""
    from tiles.queries import combinations

    return combinations.made(made.areas[0])
