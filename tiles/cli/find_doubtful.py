"""``tiles find --doubtful``: what is doubtful on record, for whoever cleans up."""

from tiles.cli import asked, common, output
from tiles.cli.prose import counted, wrap

_LOOKED_FOR = (
    "Looked for: marks, names and shelves much alike; cones far from label, target or witness; two "
    "firings of a kiln on one day; odd coats, layers and trials; looks that disagree, or all of "
    "one person that found nothing; words in place of a fault."
)
MOST_TOLD = 15
"""Doubts told to a person who asked for no number (estimate)."""
KEYS = ("marks", "day", "doubt", "mend_if", "mend")


def show_doubtful(search, listing: asked.Listing) -> None:
    """Print what is doubtful of the tiles of a search, the newest first."""
    from tiles.cli.doubts import doubts
    from tiles.queries.search import records_of

    limit, how = listing.limit, {"as_json": listing.as_json, "as_csv": listing.as_csv}
    output.refuse_two_forms(**how)
    with common.reading(listing.db) as session:
        records = records_of(session, search)
        found = doubts(session, records)
    told = [(x.marks, x.day, x.said, x.mend_if, x.mend) for x in found]
    rows = [dict(zip(KEYS, each, strict=True)) for each in told]
    if not listing.is_table:
        output.rows(rows, {}, **how, empty="", limit=limit, keys=KEYS)
        return
    if not found:
        of = counted(len(records), "tile")
        told = wrap(f"Nothing is doubtful on {of}. {_LOOKED_FOR}")
        common.talk("\n".join(told) if records else "No such tile.")
        return
    shown = found[: limit or MOST_TOLD]
    for each in shown:
        _tell(each)
    if more := len(found) - len(shown):
        common.talk(f"... and {more} more: --limit {len(found)}")
    tiles = counted(len({mark for each in found for mark in each.marks}), "tile")
    common.talk(f"{counted(len(found), 'doubt')} on {tiles}. What is really so may stay so.")


def _tell(doubt) -> None:
    """A doubt and beneath it the command, which is not wrapped: it is to be pasted."""
    from tiles.cli.marks import runs
    from tiles.cli.same_db import with_db
    from tiles.records.spoken import some

    day = f" ({doubt.day})" if doubt.day else ""
    marks = some(runs(doubt.marks), 4)
    print("\n".join(wrap(f"{marks}{day}: {doubt.said}", "  ")))
    print(with_db(f"  If {doubt.mend_if}: {doubt.mend}"))
