"""``tiles palette``: which glazes, coated how, on which clay and at which cone, came out clean."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated

import typer

from tiles.cli import asked, caution, common, find, find_unread, output

if TYPE_CHECKING:
    from tiles.cli.palette_sheet import Sheet

COLUMNS = {
    "counts": "clean",
    "coat": "glaze x coats, from the clay up",
    "body": "body",
    "cone_reached": "cone",
    "see": "see tile",
    "told": "faults, cautions",
}
"""The count stands first, so that a name that goes on below cannot look like a row of its own."""
ONCE = ("body", "cone_reached")
MOST_WAYS = 30
"""Ways of glazing told of all cones together where nobody asked for more (estimate)."""


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
    no_poison: Annotated[
        bool,
        typer.Option("--no-poison", help="Leave out what names a poison, or is not understood."),
    ] = False,
    layered: Annotated[
        bool, typer.Option("--layered", help="Only glazes over another one.")
    ] = False,
    noted: asked.Noted,
    listing: asked.Listing,
) -> None:
    """List what to hand out: layers and coats on a body at the cone reached, the best first.

    Each line counts the inspected tiles made so, of those that the options keep, and names the
    newest clean one and the faults of the others. The best first: by the share of clean tiles,
    reckoned as if one more had come out clean and one more had failed, so that 3 of 3 stand before
    1 of 1; clean ones looked at too early count for neither, for half where only other glazes
    crazed late on a clay, and so do those not known to be looked at late enough. Of equal ones
    those last whose glaze mostly failed on that clay otherwise. Those with lead, cadmium or
    another poison by recipe or label come after all others, before them those with a label or a
    material that is not understood, and last those far outside the range of their clay or glaze.
    What is retired is left out. Without --cone a table has the best 30; --limit takes more.

    Example: tiles palette --cone 05 --body "red earthenware"
    """
    from tiles.cli.palette_sheet import sheet
    from tiles.queries.search import Search

    search = Search(is_inspected=True, **made.searched, **noted.searched)
    with common.reading(listing.db) as session:
        found = sheet(session, search, only_clean=only_clean, layered=layered, no_poison=no_poison)
        around = _around(session, search, found, listing)
    _print(found, around, listing, _limit(search, listing))


def _limit(search, listing: asked.Listing) -> int | None:
    """The sheet of a cone is whole; of all cones together a person gets what can be read."""
    is_sheet = search.cone_from or search.cone_to or not listing.is_table
    return listing.limit or (None if is_sheet else MOST_WAYS)


@dataclass(frozen=True)
class _Around:
    """What stands above and below the table, and what is said in place of it."""

    above: list[str]
    notes: list[str]
    empty: str


def _around(session, search, sheet: "Sheet", listing: asked.Listing) -> _Around:
    from tiles.cli.palette_sheet import areas

    left, is_table = sheet.left.told(), listing.is_table
    empty = "" if sheet.made else _none(session, search, left, is_table=is_table)
    shown = sheet.made[: _limit(search, listing)] if is_table else []
    above = [find.stretched(session, search, areas(sheet.made)) if is_table else ""]
    notes = [*left, *_notes(session, search, sheet, shown)] if shown else []
    # Last, where the eye is when a long sheet has gone by.
    notes += [_count(search, sheet, shown)] if shown else []
    return _Around([each for each in above if each], notes, empty)


def _count(search, sheet: "Sheet", shown: list) -> str:
    """How many ways of glazing and tiles there are, and how to have fewer."""
    from tiles.cli.narrower import narrower
    from tiles.cli.palette_sheet import areas
    from tiles.cli.prose import counted

    if len(shown) < len(sheet.made):
        return _best_of(sheet, shown)
    tiles = counted(len({each.mark for each in areas(shown)}), "tile")
    only_clean = ["--only-clean"] if any(each.defects for each in shown) else []
    fewer = narrower(search, len(shown), *only_clean)
    return ". ".join(filter(None, [f"{counted(len(shown), 'way')} of glazing, {tiles}", fewer]))


def _best_of(sheet: "Sheet", shown: list) -> str:
    """How many ways there are beside those shown, and how to ask for fewer."""
    every = sheet.made
    warned = sum(bool(sheet.holds(each)) for each in every[len(shown) :])
    holds = "holds" if warned == 1 else "hold"
    rest = f" Of the rest {warned} {holds} a poison by recipe or label." if warned else ""
    return (
        f"The best {len(shown)} of {len(every)} ways of glazing; all: --limit {len(every)}.{rest} "
        f"By the cone reached (--cone): {_by_cone(every)}."
    )


def _by_cone(ways: list) -> str:
    """How many ways there are at each cone, the most first."""
    from collections import Counter

    from tiles.records.spoken import some

    many = Counter(each.areas[0].cone_reached for each in ways)
    unknown = many.pop(None, 0)
    told = [f"{ways} at {cone}" for cone, ways in many.most_common()]
    return some([*told, *([f"{unknown} not known"] if unknown else [])])


def _print(sheet: "Sheet", around: _Around, listing: asked.Listing, limit: int | None) -> None:
    from tiles.cli.palette_rows import flat, legend, row
    from tiles.cli.prose import wrap
    from tiles.queries.combinations import Combination

    rows, above = [row(sheet, each) for each in sheet.made[:limit]], [*around.above]
    notes = around.notes
    if listing.is_table:
        rows, early = _readable(sheet, rows)
        above, notes = [*above, *early], [*legend(rows), *notes]
    elif listing.as_csv:
        rows = [told | flat(told) for told in rows]
    keys = list(row(sheet, Combination([find.blank()])))
    if above:
        print("\n".join([*(line for each in above for line in wrap(each)), ""]))
    form = {"as_json": listing.as_json, "as_csv": listing.as_csv}
    output.rows(rows, COLUMNS, keys=keys, once=ONCE, empty=around.empty, **form)
    if notes:
        # With the table, so that they are on a sheet that is printed.
        _print_notes(notes)


def _readable(sheet: "Sheet", rows: list[dict]) -> tuple[list[dict], list[str]]:
    """The lines as a person reads them, and what is said once of most of them."""
    from tiles.cli.palette_order import is_mostly_early
    from tiles.cli.palette_rows import readable

    early = is_mostly_early(rows)
    told = [
        readable(sheet, row, each, mostly_early=early)
        for row, each in zip(rows, sheet.made, strict=False)
    ]
    said = (
        "Unless its line says otherwise, each clean tile was looked at too early to tell of a "
        "fault that comes late: below."
    )
    return told, [said] if early else []


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
        *_failed_otherwise(sheet, made),
        *_kilns_together(shown),
        *sheet.labels.cones.told(shown),
        *claims(shown, sheet.labels.food, areas(sheet.every)),
        *_look_again(session, sheet, made),
        *find_unread.without_cone(session, search),
        find_early.no_proof(session, shown),
        *caution.line(caution.held(session, caution.on_areas(shown))),
    ]


def _failed_otherwise(sheet: "Sheet", made: list) -> list[str]:
    """With which coats and on which clays the layers of the lines failed that have no line here."""
    from tiles.cli.palette_rows import failed_otherwise, how
    from tiles.queries import combinations

    here = {how(each) for each in made}
    failed = [failed_otherwise(sheet, each) for each in made]
    elsewhere = [
        each if each and combinations.made(each.area) not in here else None for each in failed
    ]
    return find.failed_otherwise([each.areas[0] for each in made], elsewhere)


def _look_again(session, sheet: "Sheet", made: list) -> list[str]:
    """Which of the clean tiles that are shown to look at again."""
    from tiles.cli.find_early import looked_too_early, told
    from tiles.cli.find_early_clay import early_on_clays
    from tiles.cli.palette_sheet import areas

    early, of_clay = sheet.early, sheet.of_clay
    if len(made) < len(sheet.every):
        early = looked_too_early(sheet.late, areas(made))
        of_clay = early_on_clays(session, sheet.late, areas(made), early)
    return [*told(early), *(each.line for each in of_clay)]


def _kilns_together(areas: list) -> list[str]:
    """A line where tiles of several kilns stand on the sheet: each line counts them together."""
    kilns = sorted({each.kiln for each in areas if each.kiln})
    told = f"Kilns are counted together ({', '.join(kilns)}); of one alone: --kiln NAME."
    return [told] if len(kilns) > 1 else []


def _print_notes(notes: list[str]) -> None:
    from tiles.cli.prose import between_words
    from tiles.cli.same_db import with_db

    print()
    for note in notes:
        # What belongs below a heading is indented, and goes on a little further in. A command
        # stays on one line: it is to be pasted.
        for line in between_words(with_db(note), "     " * note.startswith(" ")):
            print(line)
