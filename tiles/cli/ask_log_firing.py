"""What ``tiles log`` asks of the firing a tile was in: its shelf, the cone, the day of a look.

``offered`` and ``found`` are the answers offered and those given so far (``ask_log.Answers``).
"""

from datetime import date

from tiles.cli.ask import ask


def ask_place(firing, offered, found) -> None:
    """The shelf, and the cone reached there.

    A cone offered belongs to its own firing and shelf: anywhere else none is, so that Enter never
    puts a tile's reading over the witness cone of another place.
    """
    from tiles.chemistry.cones import read_cone
    from tiles.records.derived import witness_cone
    from tiles.records.words import same_name

    if firing is None:
        return
    found.shelf = ask("Shelf", offered.shelf)
    places = ((offered.firing, found.firing), (offered.shelf, found.shelf))
    is_there = all(same_name(then, now) for then, now in places)
    cone = offered.cone_reached if is_there else None
    read = witness_cone(firing, found.shelf)
    known = f" (Enter: {read}, the witness cone of {firing.name})" if read and not cone else ""
    found.cone_reached = ask(f"Cone reached there{known}", cone, check=read_cone)


def ask_day(firing, offered, found) -> None:
    """The day of the look, where the firing was long ago; else it is today's."""
    from tiles.records import forms, notices, questions

    days = notices.days_since_long_ago(firing) if found.seen and firing else None
    if days is None:
        return

    def read(text: str) -> str:
        looked_at = {"mark": found.mark, "body": found.body, "firing": firing.model_dump()}
        look = {"inspected_on": text}
        record = forms.read(forms.TileRecord, looked_at | {"inspections": [look]})
        questions.refuse_days_to_come(record.mark, record.inspections)
        questions.refuse_contradictions(record)
        return text

    found.inspected_on = ask(
        f"Day of the look (fired {days} days ago, on {firing.fired_on})",
        offered.inspected_on or date.today().isoformat(),
        check=read,
        required=True,
    )
