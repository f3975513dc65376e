"""``tiles palette``: which glazes, coated how, on which clay and at which cone, came out clean."""

from dataclasses import asdict, dataclass, field, replace
from typing import Annotated

import typer

from tiles.cli import caution, common, find, output, stretch

COLUMNS = {
    "coat": "glaze x coats, from the clay up",
    "body": "body",
    "cone_reached": "cone",
    "counts": "clean",
    "told": "clean tiles; faults",
}
ONCE = ("body", "cone_reached")
MOST_BUCKETS = 3
"""Ways of glazing named of which one bucket alone failed."""
MISSED_BY = 1
"""A firing that went so far past its cone, or short of it, is not one to hand out. [cone steps]"""
MOST_MARKS = 3
"""Clean tiles named on one line of the table."""


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("palette")(palette)


def palette(
    body: find.Body = None,
    glaze: find.Glazes = None,
    cone: find.Cone = None,
    firing: find.Firing = None,
    bisque_firing: find.BisqueFiring = None,
    bisque_cone: find.BisqueCone = None,
    kiln: find.Kiln = None,
    batch: find.Batch = None,
    coats: find.Coats = None,
    only_clean: Annotated[
        bool, typer.Option("--only-clean", help="Leave out what failed on any tile.")
    ] = False,
    layered: Annotated[
        bool, typer.Option("--layered", help="Only glazes over another one.")
    ] = False,
    since: stretch.Since = None,
    until: stretch.Until = None,
    note: stretch.Note = None,
    limit: common.Limit = None,
    as_json: common.AsJson = False,
    as_csv: common.AsCsv = False,
    db: common.Db = None,
) -> None:
    """List what to hand out: layers and coats on a body at the cone reached, the best first.

    Each line counts the inspected tiles made so, of those that the options keep, and names the
    newest clean ones and the faults of the others. The best first: by the share of clean tiles,
    reckoned as if one more had come out clean and one more had failed, so that 3 of 3 stand before
    1 of 1; clean ones looked at too early count for neither, for half where only other glazes
    crazed late on that clay. Of equal ones those last whose glaze mostly failed on that clay
    otherwise.

    Example: tiles palette --cone 05 --body "red earthenware"
    """
    from tiles.cli.find_early import looked_too_early, told
    from tiles.cli.find_early_clay import early_on_clays
    from tiles.cli.palette_order import best_first, early_of
    from tiles.cli.palette_others import others_with
    from tiles.cli.prose import wrap
    from tiles.queries.combinations import Combination, combinations, made_otherwise, on_its_clay
    from tiles.queries.search import Search, run
    from tiles.queries.summaries import cone_labels, food_labels, targets_of_firings

    search = Search(
        body=body, glazes=tuple(glaze or ()), firing=firing, bisque_firing=bisque_firing,
        kiln=kiln, batch=batch, coats=coats, is_inspected=True,
        **find.cones(cone, ""), **find.cones(bisque_cone, "bisque_"),
        **stretch.read(since, until), note=note,
    )  # fmt: skip
    is_table = not (as_json or as_csv)
    with common.reading(db) as session:
        found = combinations(run(session, search))
        otherwise = replace(search, body=None, coats=None)
        every = found if otherwise == search else combinations(run(session, otherwise))
        others, clay = made_otherwise(every), on_its_clay(every)
        doubts = {how: others_with(each, clay[how]) for how, each in found.items()}
        early = looked_too_early(session, _areas([*found.values()]))
        too_early = frozenset().union(*(each.areas for each in early))
        of_clay = early_on_clays(session, _areas([*found.values()]), early)
        on_clay = frozenset().union(*(each.areas for each in of_clay))
        made = sorted(
            found.values(),
            key=lambda each: best_first(each, doubts[_how(each)], too_early, on_clay),
        )
        too_early |= on_clay
        # Two layers of one glaze are coats of it.
        made = [each for each in made if not layered or len(set(each.areas[0].glazes)) > 1]
        left = _left_out([each for each in made if only_clean and each.defects])
        made = [each for each in made if not (only_clean and each.defects)]
        gone = _retired(session, made)
        made.sort(key=lambda each: bool(gone.of(each)))  # not handed out any more: last
        labels = _Labels(food_labels(session), cone_labels(session))
        targets = targets_of_firings(session)
        empty = "" if made else _none(session, search, left, is_table=is_table)
        every = [area for each in found.values() for area in each.areas]
        above = find.stretched(session, search, _areas(made)) if is_table else ""
        shown = made[:limit] if is_table else []
        if len(shown) < len(found):
            early = looked_too_early(session, _areas(shown))
            of_clay = early_on_clays(session, _areas(shown), early)
        again = [*told(early), *(each.line for each in of_clay)]
        notes = _notes(session, search, shown, every, labels, gone, again) if shown else []
    rows = [
        _as_dict(each, labels, gone, others, doubts) | early_of(each, too_early) for each in made
    ]
    rows = [row | _missed(each, targets) for row, each in zip(rows, made, strict=True)]
    if is_table:
        rows = [
            _readable(row, each, others[_how(each)]) for row, each in zip(rows, made, strict=True)
        ]
    elif as_csv:
        rows = [row | _flat(row) for row in rows]
    none = Combination([find.blank()])
    keys = [*_as_dict(none, labels, gone, {}, {}), *early_of(none, too_early), *_missed(none, {})]
    how = {"as_json": as_json, "as_csv": as_csv, "limit": limit, "empty": empty}
    if above:
        print("\n".join([*wrap(above), ""]))
    output.rows(rows, COLUMNS, keys=keys, once=ONCE, **how)
    if notes:
        # With the table, so that they are on a sheet that is printed.
        _print_notes([*left, *notes])


def _none(session, search, left: list[str], *, is_table: bool) -> str:
    """What to say where there is nothing to hand out, and what would be there otherwise."""
    other = find.other_zero(session, search) if is_table and not left else []
    more = find.without_cone(session, search) if is_table else []
    more += find.failures_only(session) if is_table and left else []
    return " ".join([*(left or ["No such tile was inspected."]), *other, *more])


def _notes(
    session, search, made: list, every: list, labels: "_Labels", gone: "_Retired", again: list[str]
) -> list[str]:
    """What must be known of the ways of glazing that are shown; ``every`` area that was found.

    ``again`` says which tiles to look at again.
    """
    from tiles.cli import find_early
    from tiles.cli.food import claims

    areas = _areas(made)
    return [
        *find.failures_only(session),
        *_kilns_together(areas),
        *gone.told(made),
        *_off_label(areas, labels.cones),
        *claims(areas, labels.food, every),
        *again,
        *find.without_cone(session, search),
        find_early.no_proof(session, areas),
        *caution.line(caution.held(session, caution.on_areas(areas))),
    ]


def _areas(made: list) -> list:
    return [area for each in made for area in each.areas]


def _kilns_together(areas: list) -> list[str]:
    """A line where tiles of several kilns stand on the sheet: each line counts them together."""
    kilns = sorted({each.kiln for each in areas if each.kiln})
    told = f"Kilns are counted together ({', '.join(kilns)}); of one alone: --kiln NAME."
    return [told] if len(kilns) > 1 else []


def _outside(area, cones: dict[str, tuple[str, str]]) -> list[str]:
    """The glazes of an area whose label does not cover the cone it reached."""
    from tiles.chemistry.cones import in_range

    at = area.cone_reached
    known = [name for name in dict.fromkeys(area.glazes) if at and name in cones]
    return [name for name in known if not in_range(at, *cones[name])]


def _off_label(areas: list, cones: dict[str, tuple[str, str]]) -> list[str]:
    """A line for the glazes that stand here at cones which their labels do not cover."""
    from tiles.chemistry.cones import step
    from tiles.records.spoken import spoken_range

    found: dict[str, set[str]] = {}
    for area in areas:
        for name in _outside(area, cones):
            found.setdefault(name, set()).add(area.cone_reached)
    told = [
        f"{name} ({spoken_range(cones[name])}) at cone {', '.join(sorted(at, key=step))}"
        for name, at in sorted(found.items())
    ]
    return [f"Not what the label is for: {'; '.join(told)}."] if told else []


def _print_notes(notes: list[str]) -> None:
    from tiles.cli.prose import wrap

    # What belongs below a heading is indented, and goes on a little further in.
    lines = [line for note in notes for line in wrap(note, "     " * note.startswith(" "))]
    print("\n".join(["", *lines]))


def _left_out(faulty: list) -> list[str]:
    """How many ways of glazing were left out for their faults, and those of one bad bucket."""
    from tiles.cli.prose import counted

    if not faulty:
        return []
    ways = counted(len(faulty), "way")
    lines = [f"Left out because of faults: {ways} of glazing (shown without --only-clean)."]
    buckets = [_of_bucket(each, *bad) for each in faulty if (bad := each.only_bad_batch())]
    if buckets:
        more = len(buckets) - MOST_BUCKETS
        told = [*buckets[:MOST_BUCKETS], *([f"and {more} more"] if more > 0 else [])]
        lines.append(f"All faults are of one batch of: {'; '.join(told)}.")
        lines.append("Another batch alone: 'tiles palette --batch NAME'.")
    return lines


def _of_bucket(made, glaze: str, batch: str) -> str:
    """A way of glazing that failed from one bucket alone."""
    area, clean = made.areas[0], len(made.clean)
    cone = f" at cone {area.cone_reached}" if area.cone_reached else ""
    tiles = f"{clean} of {len(made.marks)} clean, none of them from it"
    return f"{find.coat(area)} on {area.body}{cone} ({glaze} batch {batch}; {tiles})"


def _how(made) -> tuple:
    from tiles.queries.combinations import made as how

    return how(made.areas[0])


@dataclass(frozen=True)
class _Labels:
    """What labels say about food, and the cones they give, by the names of the glazes."""

    food: dict = field(default_factory=dict)
    cones: dict[str, tuple[str, str]] = field(default_factory=dict)


@dataclass(frozen=True)
class _Retired:
    """The clays and the glazes of the sheet that are no longer handed out."""

    bodies: list[str]
    glazes: list[str]

    def of(self, made) -> list[str]:
        """Those of one line."""
        area = made.areas[0]
        body = [area.body] if area.body in self.bodies else []
        return body + [name for name in dict.fromkeys(area.glazes) if name in self.glazes]

    def told(self, made: list) -> list[str]:
        """A line that names those of the lines that are shown."""
        shown = {name for each in made for name in self.of(each)}
        names = [name for name in dict.fromkeys(self.bodies + self.glazes) if name in shown]
        return [f"Retired, so not to be handed out: {', '.join(names)}."] if names else []


def _retired(session, made: list) -> _Retired:
    from tiles.queries.summaries import retired
    from tiles.records import models

    areas = [each.areas[0] for each in made]
    bodies = retired(session, models.ClayBody, {each.body for each in areas})
    glazes = {name for each in areas for name in each.glazes}
    return _Retired(bodies, retired(session, models.Glaze, glazes))


def _as_dict(made, labels: _Labels, gone: _Retired, others: dict, doubts: dict) -> dict:
    """The row as ``tiles palette --json`` prints it; layers are listed from the clay upwards."""
    from tiles.cli.food import beside

    area, food = made.areas[0], labels.food
    otherwise = others.get(_how(made), [])
    doubt = doubts.get(_how(made))
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
        "clean_marks": made.clean,
        "outside_label": _outside(area, labels.cones),
        "food_label": {name: label.text for name, label in said.items()},
        "food_label_unmet": [name for name, is_met in met.items() if is_met is False],
        "food_label_not_judged": [name for name, is_met in met.items() if is_met is None],
        "food_label_of_one_layer": [
            name for name in said if any(beside(area, name, food).values())
        ],
        "retired": gone.of(made),
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


def _readable(row: dict, made, others: list) -> dict:
    """The cells of the table that put several fields into one."""
    from tiles.cli.palette_order import looked_at_early
    from tiles.records.spoken import some

    faults = output.cell(made.defects) + _all_of_one(made)
    retired = "retired" if row["retired"] else ""
    clean = some(made.clean, MOST_MARKS) + looked_at_early(row)
    missed = f"set for {row['set_for']}" if row["set_for"] else ""
    told = retired, missed, clean, faults, _doubt(row) or _failed_otherwise(row, made, others)
    return {
        **row,
        "coat": find.coat(made.areas[0]) or "no glaze",
        "counts": f"{row['clean']} of {row['tiles']}",
        "told": "; ".join(part for part in told if part),
    }


def _all_of_one(made) -> str:
    """The batch that all faults are of, or the kiln; of both the kiln where all of it failed."""
    bad, kiln = made.bad_batch(), made.only_bad_kiln()
    told = ""
    if bad:
        batch, failed, of_it = bad
        told = f", all of batch {batch}" + (f" ({failed} of {of_it})" if failed < of_it else "")
    if kiln and not (bad and made.by_kiln[kiln][0]):
        told += f", all in {kiln}"
    return told


def _failed_otherwise(row: dict, made, others: list) -> str:
    """With which coats and on which clays the glaze of a line that looks clean failed; else ""."""
    from tiles.cli.palette_others import failed_so

    return failed_so(made.areas[0], others) if 2 * row["clean"] > row["tiles"] else ""


def _doubt(row: dict) -> str:
    """What others of its glaze on its clay show, as the table says it.

    Those at other cones are counted for faults of fit alone, which is said.
    """
    from tiles.records.words import OF_FIT

    if not (doubt := row["others_on_clay"]):
        return ""
    many = f"{doubt['failed']} of {doubt['tiles']}"
    at = " at this cone" if row["cone_reached"] else " of no known cone"
    at = "" if doubt["defect"] in OF_FIT else at
    return f"{doubt['defect']} on {many} others of {row['glazes'][-1]} on this clay{at}"


def _flat(row: dict) -> dict:
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
