"""``tiles show`` without a mark: what is on record of the studio, on one screen."""

from collections.abc import Iterator

from tiles.cli import caution, common, output
from tiles.cli.prose import counted
from tiles.errors import shell_word

LABEL = 10
MOST_FAULTS, MOST_YEARS = 6, 8


def show_record(*, as_json: bool, db: str | None) -> None:
    """Print the counts of a record, each with the command that lists what is behind it."""
    from tiles.cli.doubts import doubts
    from tiles.queries.overview import overview
    from tiles.records import models, reading

    with common.reading(db) as session:
        every = reading.whole_tiles().order_by(models.Tile.tile_id)
        records = reading.read_tiles(session, every)
        found = overview(session, records)
        names = session.query(models.Glaze.name).order_by(models.Glaze.name)
        found["hazards"] = caution.held(session, [(name, None) for (name,) in names])
        doubted = doubts(session, records)
    found["doubts"] = len(doubted)
    found["doubtful_tiles"] = len({mark for each in doubted for mark in each.marks})
    if as_json:
        output.print_json(found)
        return
    for label, text in _lines(found):
        _print(label, text)


def _print(label: str, text: str) -> None:
    """Commands stay whole: they are to be pasted."""
    from tiles.cli.prose import say
    from tiles.cli.same_db import with_db

    start = f"{label:<{LABEL}} "
    say(start + with_db(text), " " * len(start))


def _lines(found: dict) -> Iterator[tuple[str, str]]:
    from tiles.records.spoken import some

    yield "tiles", _tiles(found)
    if found["tiles"]:
        yield "looked at", _looked_at(found)
    if found["tiles_with"]:
        commonest = shell_word(next(iter(found["tiles_with"])))
        told = some([f"{name} {many}" for name, many in found["tiles_with"].items()], MOST_FAULTS)
        yield "faults", f"{told} ('tiles find --defect {commonest}')"
    yield "firings", _firings(found["firings"])
    for label, noun in (("kilns", "kiln"), ("bodies", "body")):
        if found[label]:
            told = some([f"{name} {many}" for name, many in found[label].items()])
            yield label, f"{told} ('tiles {noun} list')"
    yield "glazes", _glazes(found["glazes"])
    yield from _hazards(found["hazards"])
    if found["tiles"]:
        yield "blank", _blank(found)
        yield "doubtful", _doubtful(found)


def _tiles(found: dict) -> str:
    from tiles.records.spoken import some

    many = found["tiles"]
    if not found["by_year"]:
        return f"{many}, none with a day" if many else "none yet"
    years = some([f"{year} {tiles}" for year, tiles in found["by_year"].items()], MOST_YEARS)
    undated = f", without a day {found['without_day']}" if found["without_day"] else ""
    span = f"{found['first_day']} to {found['last_day']}"
    last = [*found["by_year"]][-1]
    return f"{many}, of {span}: {years}{undated} ('tiles find --since {last}')"


def _looked_at(found: dict) -> str:
    faulty = found["inspected"] - found["clean"]
    told = f"{found['inspected']}: {found['clean']} clean"
    told += f", {faulty} with a fault ('tiles find --faulty')" if faulty else ""
    left = found["tiles"] - found["inspected"]
    return f"{told}; {left} not yet ('tiles find --not-inspected')" if left else told


def _firings(found: dict) -> str:
    told = f"{found['glaze']} glaze, {found['bisque']} bisque ('tiles firing list')"
    unread = found["without_cone"]
    return f"{told}; no cone was read of {counted(unread, 'glaze firing')}" if unread else told


def _glazes(found: dict) -> str:
    from tiles.records.spoken import some

    on_none, retired = found["on_no_tile"], found["retired"]
    parts = [f"{found['on_tiles']} on tiles"]
    parts += [f"{len(on_none)} on none ({some(on_none, 4)})"] if on_none else []
    parts += [f"{len(retired)} retired ({some(retired, 4)})"] if retired else []
    parts += [f"{found['with_remark']} with a remark"] if found["with_remark"] else []
    batches = found["batches"]
    parts += [f"{batches} batch{'' if batches == 1 else 'es'}"] if batches else []
    lists = "'tiles glaze list', 'tiles batch list'" if batches else "'tiles glaze list'"
    return f"{', '.join(parts)} ({lists})"


def _hazards(found: dict) -> Iterator[tuple[str, str]]:
    from tiles.records.spoken import some

    if found:
        told = "; ".join(f"{hazard} in {some(names, 4)}" for hazard, names in found.items())
        yield "caution", f"{told} ('tiles glaze show NAME')"


def _blank(found: dict) -> str:
    blank = {name: many for name, many in found["blank"].items() if many}
    if not blank:
        return "of no tile what most answers rest on"
    told = ", ".join(f"{name} {many}" for name, many in blank.items())
    most = max(blank, key=blank.__getitem__).replace(" ", "-")
    return f"not recorded of so many tiles: {told} ('tiles find --blank {most}')"


def _doubtful(found: dict) -> str:
    if not found["doubts"]:
        return "nothing that 'tiles find --doubtful' looks for"
    many, tiles = counted(found["doubts"], "doubt"), counted(found["doubtful_tiles"], "tile")
    return f"{many} on {tiles} ('tiles find --doubtful')"
