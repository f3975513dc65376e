"""What ``tiles unload`` tells of a tile: how it was made, and what was seen on it before."""

from datetime import date

from tiles.cli import unload_gone
from tiles.cli.ask import BACK, CLEAN
from tiles.cli.prose import say
from tiles.cli.same_db import with_db
from tiles.errors import shell_word


def tell_tile(record, count: str) -> None:
    """Which tile it is, how it was made, and what it is a trial of."""
    from tiles.records.spoken import spoken_make, spoken_trial

    shelf = record.shelf or ""
    place = f", {shelf if 'shelf' in shelf.casefold() else f'shelf {shelf}'}" if shelf else ""
    say(f"{count}  {spoken_make(record)}{place}", "    ")
    if record.trial_of:
        say(f"    a trial {spoken_trial(record)}", "      ")


def last_look(record, day: date):
    """The last look at a tile up to a day; None where it was looked at only later, or never."""
    looks = sorted(record.inspections, key=lambda look: look.inspected_on)
    return next((look for look in reversed(looks) if look.inspected_on <= day), None)


def _later_look(record, day: date):
    """The first look at a tile after a day."""
    later = (look for look in record.inspections if look.inspected_on > day)
    return min(later, key=lambda look: look.inspected_on, default=None)


def tell_looks(record, day: date) -> None:
    """What was seen last up to a day, else soon after it, and what Enter says beside that."""
    if look := last_look(record, day):
        clean = f", {CLEAN} is clean now" if look.defects else ""
        if look.inspected_on == day:
            said = f"seen already, {_seen(record, look)}. Enter leaves it so{clean}."
        else:
            again = f" Enter says so again{clean}." if look.defects else ""
            said = f"last seen, {_seen(record, look)}.{again}"
    elif look := _later_look(record, day):
        said = f"seen later, {_seen(record, look)}. Enter is clean on {day}."
    else:
        return
    say(f"    {said}", "    ")


def doubt_of_clean(record, day: date) -> str:
    """What another look saw on a tile that is to be clean on a day; empty for nothing."""
    look = last_look(record, day)
    if look:
        return f"Last seen, {_seen(record, look)}; clean now." if look.defects else ""
    look = _later_look(record, day)
    is_faulty = look and look.defects
    return f"Seen later, {_seen(record, look)}; clean on {day}." if is_faulty else ""


def _seen(record, look) -> str:
    from tiles.records.spoken import spoken_look

    seen = spoken_look(look, with_area=len(record.areas) > 1).rstrip(".")
    return f"on {look.inspected_on}: {seen}"


def tell_kept(kept: list | str, has_areas: bool) -> None:
    """What was stored of a tile a moment ago, and how to leave it or say it anew."""
    instead = "a defect takes its place" + (f", {CLEAN} is clean after all" if kept else "")
    line = f"    stored: {spoken(kept, has_areas)}. Enter leaves it so; {instead}."
    say(line, "    ")


def tell_held(held: list, has_areas: bool) -> None:
    """A fault that was keyed while another person stored a look, and what Enter does with it."""
    line = f"    not stored yet: your {spoken(held, has_areas)}. Enter stores it as well, "
    say(f"{line}{BACK} takes it back.", "    ")


def spoken(seen: list | str, has_areas: bool) -> str:
    """What was keyed for a tile, in words."""
    if isinstance(seen, str):  # what became of it
        return seen
    from tiles.records import forms
    from tiles.records.spoken import spoken_defect

    defects = [forms.read(forms.DefectSeen, each) for each in seen]
    return "; ".join(spoken_defect(each, with_area=has_areas) for each in defects) or "clean"


def tell_last(record, day: date, seen: list | str) -> None:
    """What is kept of the last tile, after which there is no going back, and how to mend it."""
    if isinstance(seen, str):
        unload_gone.tell_last(record, seen)
        return
    from tiles.records.looks import day_of_next_look

    mark, told = shell_word(record.mark), spoken(seen, len(record.areas) > 1)
    then = "" if day == date.today() else f" --inspected-on {day}"
    say(f"{record.mark} is kept as {told}. If that was a slip:")
    forget = f"--forget-inspection {day_of_next_look(record, day)}"
    print(with_db(f"  tiles change {mark} {forget}"))
    print(with_db(f"  tiles inspect {mark} {'--clean' if seen else '--defect NAME'}{then}"))
