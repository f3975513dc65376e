"""The day that the looks of ``tiles unload`` get, settled before the walk."""

from datetime import date

from tiles.cli.ask import ask
from tiles.cli.same_db import with_db
from tiles.errors import shell_word

TODAY = "today"


def checked(records: list, name: str, day: str | date) -> date:
    """A day that looks at these tiles can have been on.

    Raises
    ------
    InvalidValue
        It is no day, one to come, or one before a tile was fired.
    """
    from tiles.records import forms, questions

    look = forms.read(forms.InspectionRecord, {"inspected_on": day})
    questions.refuse_days_to_come(f"the tiles of {name}", [look])
    for record in records:
        looked_at = record.model_copy(update={"inspections": [*record.inspections, look]})
        questions.refuse_contradictions(looked_at)
    return look.inspected_on


def settle(records: list, day: date, others: date | None, *, is_given: bool) -> date:
    """Ask for the day where a walk goes on that was stopped on another; else tell it.

    ``others`` is the day of the latest look at the other tiles, which is offered then.
    """
    firing = records[0].firing
    if is_given or others in (None, day):
        _tell(records, firing, day, is_given=is_given)
        return day
    print(f"  Others of {firing.name} were looked at on {others}.")
    day = ask(
        f"  Day of these looks (YYYY-MM-DD or {TODAY})",
        str(others),
        check=lambda text: _read(records, firing.name, text),
        choices=lambda: [f"Enter for {others}, {TODAY}, or another day as YYYY-MM-DD"],
        required=True,
    )
    print()
    return day


def _read(records: list, name: str, text: str) -> date:
    from tiles.cli.ask_names import read_day

    is_today = text.casefold() == TODAY
    return checked(records, name, date.today() if is_today else read_day(text))


def _tell(records: list, firing, day: date, *, is_given: bool) -> None:
    """The day, and how to give another where it is most likely not today."""
    from tiles.records import notices

    print(f"  Day of these looks: {day}{', today' if day == date.today() else ''}.")
    ago = notices.days_since_long_ago(firing)
    if not is_given and ago and not all(record.inspections for record in records):
        again = f"tiles unload {shell_word(firing.name)} --inspected-on YYYY-MM-DD"
        print(f"  That is {ago} days after the firing. If they were earlier:")
        print(with_db(f"  q, then {again}"))
    print()
