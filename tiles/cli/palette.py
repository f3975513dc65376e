"""``tiles palette``: which glazes, coated how, on which clay and at which cone, came out clean."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated

import typer

from tiles.cli import asked, caution, common, find, find_unread, output

if TYPE_CHECKING:
    from tiles.cli.palette_sheet import Sheet

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


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("palette")(palette)


@asked.spread
def palette(
    *,
    made: asked.Made,
    only_clean: Annotated[
        bool, typer.Option("--only-clean", help="Leave out what failed on any tile.")
    ] = False,
    layered: Annotated[
        bool, typer.Option("--layered", help="Only glazes over another one.")
    ] = False,
    noted: asked.Noted,
    listing: asked.Listing,
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
    from tiles.cli.palette_sheet import sheet
    from tiles.queries.search import Search

    search = Search(is_inspected=True, **made.searched, **noted.searched)
    with common.reading(listing.db) as session:
        found = sheet(session, search, only_clean=only_clean, layered=layered)
        around = _around(session, search, found, listing)
    _print(found, around, listing)


@dataclass(frozen=True)
class _Around:
    """What stands above and below the table, and what is said in place of it."""

    above: str
    notes: list[str]
    empty: str


def _around(session, search, sheet: "Sheet", listing: asked.Listing) -> _Around:
    from tiles.cli.palette_sheet import areas

    left, is_table = _left_out(sheet.faulty), listing.is_table
    empty = "" if sheet.made else _none(session, search, left, is_table=is_table)
    above = find.stretched(session, search, areas(sheet.made)) if is_table else ""
    shown = sheet.made[: listing.limit] if is_table else []
    notes = [*left, *_notes(session, search, sheet, shown)] if shown else []
    return _Around(above, notes, empty)


def _print(sheet: "Sheet", around: _Around, listing: asked.Listing) -> None:
    from tiles.cli.palette_rows import flat, how, readable, row
    from tiles.cli.prose import wrap
    from tiles.queries.combinations import Combination

    rows = [row(sheet, each) for each in sheet.made]
    if listing.is_table:
        rows = [
            readable(told, each, sheet.others[how(each)])
            for told, each in zip(rows, sheet.made, strict=True)
        ]
    elif listing.as_csv:
        rows = [told | flat(told) for told in rows]
    keys = list(row(sheet, Combination([find.blank()])))
    if around.above:
        print("\n".join([*wrap(around.above), ""]))
    form = {"as_json": listing.as_json, "as_csv": listing.as_csv, "limit": listing.limit}
    output.rows(rows, COLUMNS, keys=keys, once=ONCE, empty=around.empty, **form)
    if around.notes:
        # With the table, so that they are on a sheet that is printed.
        _print_notes(around.notes)


def _none(session, search, left: list[str], *, is_table: bool) -> str:
    """What to say where there is nothing to hand out, and what would be there otherwise."""
    other = find.other_zero(session, search) if is_table and not left else []
    more = find_unread.without_cone(session, search) if is_table else []
    more += find.failures_only(session) if is_table and left else []
    return " ".join([*(left or ["No such tile was inspected."]), *other, *more])


def _notes(session, search, sheet: "Sheet", made: list) -> list[str]:
    """What must be known of the ways of glazing that are shown."""
    from tiles.cli import find_early
    from tiles.cli.food import claims
    from tiles.cli.palette_sheet import areas

    shown = areas(made)
    return [
        *find.failures_only(session),
        *_kilns_together(shown),
        *sheet.gone.told(made),
        *_off_label(shown, sheet.labels.cones),
        *claims(shown, sheet.labels.food, areas(sheet.every)),
        *_look_again(session, sheet, made),
        *find_unread.without_cone(session, search),
        find_early.no_proof(session, shown),
        *caution.line(caution.held(session, caution.on_areas(shown))),
    ]


def _look_again(session, sheet: "Sheet", made: list) -> list[str]:
    """Which of the clean tiles that are shown to look at again."""
    from tiles.cli.find_early import looked_too_early, told
    from tiles.cli.find_early_clay import early_on_clays
    from tiles.cli.palette_sheet import areas

    early, of_clay = sheet.early, sheet.of_clay
    if len(made) < len(sheet.every):
        early = looked_too_early(session, areas(made))
        of_clay = early_on_clays(session, areas(made), early)
    return [*told(early), *(each.line for each in of_clay)]


def _kilns_together(areas: list) -> list[str]:
    """A line where tiles of several kilns stand on the sheet: each line counts them together."""
    kilns = sorted({each.kiln for each in areas if each.kiln})
    told = f"Kilns are counted together ({', '.join(kilns)}); of one alone: --kiln NAME."
    return [told] if len(kilns) > 1 else []


def _off_label(areas: list, cones: dict[str, tuple[str, str]]) -> list[str]:
    """A line for the glazes that stand here at cones which their labels do not cover."""
    from tiles.chemistry.cones import step
    from tiles.cli.palette_rows import outside
    from tiles.records.spoken import spoken_range

    found: dict[str, set[str]] = {}
    for area in areas:
        for name in outside(area, cones):
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
