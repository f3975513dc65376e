"""What an import says of what it added, and of tiles on record: what they gained, which it left."""

from collections.abc import Sequence

from tiles.cli import common
from tiles.cli.prose import counted

MOST = 8
"""So many tiles are told one by one; of more, how many and what they gained in all."""


def tell(done, beside: Sequence[str] = ()) -> None:
    """What is stored otherwise than the file has it, what tiles gained or lost, the names added.

    Parameters
    ----------
    done : tiles.exchange.json_file.Outcome
        What became of the records.
    beside : sequence of str
        What is stored otherwise of what stands in the file beside its tiles.
    """
    told = [each for each in done.told if each[1] not in beside]
    _tell_lost([*beside, *done.gained, *done.lost], told)
    _tell_joined(done.joined)
    _tell_added(done.added)


def _tell_lost(lost: list[str], told: list[tuple[str, str]]) -> None:
    """What tiles that were written over no longer hold, and what is stored otherwise of which."""
    from tiles.records.spoken import some

    marks: dict[str, list[str]] = {}
    for mark, said in told:
        marks.setdefault(said, []).append(mark)
    for line in [*lost, *(f"{some(of)}: {said}" for said, of in marks.items())]:
        common.talk(f"{line}.")


def _tell_joined(joined: list) -> None:
    """A line for each tile that gained something, and one for all that were left."""
    from tiles.records.spoken import some

    more = [each for each in joined if each.has_more]
    for each in more[:MOST]:
        common.talk(f"{each.record.mark} gained {_gained(each)}.")
    if rest := more[MOST:]:
        common.talk(f"{counted(len(rest), 'more tile')} gained {_in_all(rest)}.")
    if same := [each.record.mark for each in joined if not each.has_more]:
        common.talk(f"Same as on record, left: {some(same)}.")


def _tell_added(added: list) -> None:
    """A line for each kind of thing that was not on record before."""
    from tiles.records.spoken import some

    names: dict[str, list[str]] = {}
    for each in dict.fromkeys(added):
        names.setdefault(each.what, []).append(each.name)
    for what, of_it in names.items():
        common.talk(f"Added {what} {some(of_it)}.")


def on_record(done, count: int, what: str = "") -> str:
    """How many of so many records are on record now: new ones, and those that were before.

    Parameters
    ----------
    done : tiles.exchange.json_file.Outcome
        What became of them.
    count : int
        How many there are in the file.
    what : str
        What is counted, one of it: "tile".
    """
    from diagnose.wording import listed
    from tiles.records.spoken import some

    if not count:
        return "No tiles in it."
    stored, joined = done.stored, done.joined
    marks = some([record.mark for record in stored]) or "none"
    of = counted(count, what) if what else count
    told = f"{len(stored) + len(joined)} of {of} on record"
    if not joined:
        return f"{told}: {marks}"
    more = [each.record.mark for each in joined if each.has_more]
    same = len(joined) - len(more)
    if not stored and not more:
        return f"{told} as before" + ("" if done.gained else ": nothing was changed")
    parts = [f"{len(stored)} stored ({marks})"] if stored else []
    parts += [f"{len(more)} with more ({some(more)})"] if more else []
    parts += [f"{same} as before"] if same else []
    return f"{told}: {listed(parts)}"


def _gained(joined) -> str:
    from diagnose.wording import listed
    from tiles.records.spoken import spoken_day

    looks = [spoken_day(joined.record, look) for look in joined.looks]
    pictures = [counted(joined.pictures, "picture")] if joined.pictures else []
    return listed([*looks, *pictures, *joined.fields])


def _in_all(joined: list) -> str:
    from diagnose.wording import listed

    counts = {
        "look": sum(len(each.looks) for each in joined),
        "picture": sum(each.pictures for each in joined),
        "other field": sum(len(each.fields) for each in joined),
    }
    return listed([counted(count, what) for what, count in counts.items() if count])
