"""``tiles firing`` and ``tiles kiln``."""

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Annotated, NamedTuple

import typer

from tiles.cli import alike, asked, belonging_commands, common, notices, output
from tiles.errors import InvalidValue, shell_line

_OFF = re.compile(r"\s*@\s*\S")

COLUMNS = {
    "name": "firing",
    "kind": "kind",
    "kiln": "kiln",
    "fired_on": "fired",
    "target_cone": "target",
    "read": "witness cones",
    "hold_min": "hold min",
    "opened_c": "opened C",
    "tiles": "tiles",
}

Remark = Annotated[str | None, typer.Option(help="Anything else.")]


@dataclass(frozen=True)
class Facts:
    """What is known of a firing, beside its kind."""

    kiln: Annotated[str | None, typer.Option(help="The kiln.")] = None
    fired_on: Annotated[str | None, common.day("Day it was fired, YYYY-MM-DD.")] = None
    target_cone: Annotated[str | None, typer.Option(help="The cone aimed at.")] = None
    rate_c_per_h: Annotated[
        str | None, common.number_or_blank("Heating rate near the top [C/h].", "C/h")
    ] = None
    hold_min: Annotated[str | None, common.number_or_blank("Hold at the top [min].", "min")] = None
    atmosphere: Annotated[str | None, typer.Option(help="oxidation, neutral or reduction.")] = None
    peak_c: Annotated[str | None, common.number_or_blank("Peak temperature [C].", "C")] = None
    opened_c: Annotated[
        str | None, common.number_or_blank("Temperature when the lid was opened [C].", "C")
    ] = None
    witness_cone: Annotated[
        list[str] | None,
        typer.Option(
            help="Witness cone read: 05, or 05@top for one shelf. Repeat. Of a small cone, as in a "
            "kiln sitter, say so in --remark: it does not bend quite with a large one."
        ),
    ] = None
    remark: Remark = None

    def values(self, kind: str | None) -> dict:
        """As the record has them, but for the witness cones, which are read apart."""
        plain = {name: value for name, value in vars(self).items() if name != "witness_cone"}
        return {"kind": kind} | plain


def add_to(app: typer.Typer) -> None:
    """Add the two subjects."""
    sub = common.subject(app, "firing", "Firings.")
    sub.command("add")(add)
    sub.command("change")(change)
    belonging_commands.add_common(
        sub, "Firing", COLUMNS, can_retire=False, learned=_cones_say, spoken=_spoken_cones,
        tabled=_with_peak,
    )  # fmt: skip
    kilns = common.subject(app, "kiln", "Kilns.")
    kilns.command("add")(add_kiln)
    kilns.command("change")(change_kiln)
    columns = {"name": "kiln", "remark": "remark", "tiles": "tiles"}
    belonging_commands.add_common(
        kilns, "Kiln", columns, can_retire=False, learned=_kiln_habit, spoken=_spoken
    )


@asked.spread
def add(
    name: str,
    *,
    kind: Annotated[str, typer.Option(help="bisque or glaze.")] = "glaze",
    facts: Facts,
    yes: common.Yes = False,
    db: common.Db = None,
) -> None:
    """Put a firing on record, planned or done."""
    cones = witnesses(facts.witness_cone or [])
    values = facts.values(kind) | {"name": name, "witness_cones": cones}
    belonging_commands.add("Firing", values, db, yes=yes)
    _tell_not_asked(name, db)
    _tell_read(_read(name, db), was_asked=not yes)


@asked.spread
def change(
    name: str,
    *,
    kind: Annotated[str | None, typer.Option(help="bisque or glaze.")] = None,
    facts: Facts,
    yes: common.Yes = False,
    db: common.Db = None,
) -> None:
    """Change what is known of a firing, such as its witness cones once it is unloaded.

    What is not named stays, the witness cones of other shelves too. An empty text ("") clears a
    field; --witness-cone @top takes that shelf's reading off.
    """
    values = facts.values(kind)
    if facts.witness_cone:
        _change_cones(name, values, _Read.of(facts.witness_cone), db, yes=yes)
    else:
        belonging_commands.change("Firing", name, values, db, yes=yes)
        if facts.target_cone:
            _tell_not_asked(name, db)
            notices.tell_own_cones(_records_in(name, db))
    if facts.kiln or facts.fired_on:
        _tell_twice(name, db)


def _change_cones(name: str, values: dict, read: "_Read", db: str | None, *, yes: bool) -> None:
    """Change it with the witness cones just read, beside those of other shelves; tell of them."""
    before, gone = _read(name, db), []

    def beside(session) -> dict:
        from tiles.records import store

        cones, gone[:] = store.witness_cones_with(session, name, *read)
        return {"witness_cones": cones}

    given = values | {"witness_cones": read}
    belonging_commands.change("Firing", name, given, db, yes=yes, held=beside)
    tell_gone(gone)
    _tell_read(_read(name, db), before, was_asked=not yes)
    _tell_cones(name, db)


def _tell_not_asked(name: str, db: str | None) -> None:
    """What of its cone its kiln was confirmed for: said, as it may be a slip all the same."""
    from tiles.cli.studio import all_firings
    from tiles.records.usual_target import said_of_confirmed

    if said := said_of_confirmed(_read(name, db), all_firings(db)):
        common.talk(f"Note: {said}")


def _tell_twice(name: str, db: str | None) -> None:
    """Where another firing of its kiln and day is on record: the two are one, most often."""
    with common.reading(db) as session:
        like = belonging_commands.very_like(session, "Firing", name)
    alike.tell([each for each in like if each.day])


def tell_gone(cones: list) -> None:
    """One line on the witness cones that others have taken the place of, or that were taken off."""
    from tiles.records.spoken import spoken_witness

    if cones:
        told = ", ".join(map(spoken_witness, cones))
        common.talk(f"Read before, and no longer on record: {told}.")


class _Read(NamedTuple):
    """What ``--witness-cone`` says of a firing on record."""

    cones: list
    off: list[str]
    is_all: bool

    @classmethod
    def of(cls, texts: list[str]) -> "_Read":
        """05@top is a reading, @top takes that shelf's off, an empty text takes all off.

        Raises
        ------
        InvalidValue
            A shelf is read and taken off at once.
        """
        from tiles.records import forms
        from tiles.records.words import name_key

        off = [text.strip().removeprefix("@").strip() for text in texts if _OFF.match(text)]
        given = [text for text in texts if text.strip() and not _OFF.match(text)]
        cones = [forms.read(forms.WitnessCone, each) for each in witnesses(given)]
        read = {name_key(each.shelf) for each in cones if each.shelf}
        if both := [shelf for shelf in off if name_key(shelf) in read]:
            raise InvalidValue(
                f"the witness cone of shelf {both[0]!r} is read and taken off at once.",
                f"one of the two: 05@{both[0]} takes the place of what was read there before.",
                field="witness_cones",
                value=f"@{both[0]}",
            )
        return cls(cones, off, is_all=len(off) + len(given) < len(texts))


def _tell_read(firing, before=None, *, was_asked: bool) -> None:
    """What the witness cones of a firing say against each other, or against its target."""
    notices.tell_load_cones([firing], was_asked=was_asked)
    notices.tell_off_target(firing, before)


def _tell_cones(name: str, db: str | None) -> None:
    """Tiles that the witness cones just read leave out, by their shelf or a cone of their own."""
    is_bisque = _read(name, db).kind == "bisque"
    (notices.tell_bisques if is_bisque else notices.tell_shelves)(_records_in(name, db))


def _records_in(name: str, db: str | None) -> list:
    """The records of the tiles in a firing."""
    from tiles.records import models, reading, store

    with common.reading(db) as session:
        return reading.records_in(session, store.find(session, models.Firing, name))


def _read(name: str, db: str | None):
    """The record of a firing."""
    from tiles.records import models, reading, store

    with common.reading(db) as session:
        return reading.firing_record(store.find(session, models.Firing, name))


def _cones_say(name: str, db: str | None) -> dict:
    """What 'show' says of a cone of the whole load that none of the shelves read."""
    from tiles.records.load_cone import load_against_shelves

    return {"witness_cones_say": load_against_shelves(_read(name, db))}


def _with_peak(row: dict) -> dict:
    """A firing as the table lists it: by its peak, where neither a target nor a cone is known."""
    is_peak_alone = row["peak_c"] and not (row["target_cone"] or row["read"])
    return row | {"read": [f"peak {row['peak_c']:g} C"]} if is_peak_alone else row


def _spoken_cones(learned: dict) -> list[str]:
    said = learned["witness_cones_say"]
    return output.facts("", said) if said else []


def witnesses(texts: Iterable[str]) -> list[dict]:
    """Witness cones as they are typed: 05, or 05@top for one shelf."""
    from tiles.records.witness_text import read_witness_cones

    read = [each for text in texts for each in read_witness_cones(text)]
    return [{"shelf": shelf, "cone": cone} for shelf, cone in read]


def _kiln_habit(name: str, db: str | None) -> dict:
    """How the kiln misses its targets, under ``habit``: None where it hits, or nobody can tell.

    Then ``habit_untold`` says why. ``shelves`` are those hotter or cooler than the others,
    ``shelves_off_target`` those that missed what was set, where not all shelves did alike. All
    tell of the first of the ``periods``, where its misses changed: each with what it did then.
    ``controller`` says whether the peaks that it showed agree with the cones.
    """
    from tiles.cli.studio import all_firings, all_records
    from tiles.records import models, store
    from tiles.records.kiln_habit import (
        habit_or_why_none,
        shelf_habits,
        shelf_misses,
        told_by_period,
    )
    from tiles.records.kiln_peaks import controller_of
    from tiles.records.one_firing import firings_twice
    from tiles.records.words import same_name

    with common.reading(db) as session:
        named = store.find(session, models.Kiln, name).name
    records, firings = all_records(db), all_firings(db)
    of_kiln = {each.name for each in firings if same_name(each.kiln, named)}
    held = (each for record in records for each in (record.firing, record.bisque_firing) if each)
    tiles = Counter(each.name for each in held)
    habit, why_none = habit_or_why_none(named, records, firings)
    by_period = told_by_period(named, records, firings)
    since = by_period[0][0].since if by_period else None
    shown = controller_of(named, records, firings, since)
    return {
        "habit": habit and {"cones_over_target": habit.cones, "firings": habit.alike,
                            "firings_read": habit.read, "say": habit.said()},
        "habit_untold": why_none or None,
        "controller": shown and {"c_over_cones": shown.over_c, "firings": shown.alike,
                                 "firings_read": shown.read, "say": shown.said()},
        "shelves": [
            {"shelf": each.shelf, "cones_over_others": each.cones, "firings": each.alike,
             "firings_read": each.read, "say": each.said()}
            for each in shelf_habits(named, firings, since)
        ],
        "shelves_off_target": [
            {"shelf": each.shelf or None, "cones_over_target": each.cones,
             "firings": each.alike, "firings_read": each.read, "say": each.said()}
            for each in shelf_misses(named, records, firings)
        ],
        "periods": [
            {"since": each.since, "until": each.until, "firings_read": len(each.read), "say": say}
            for each, say in by_period
        ],
        "perhaps_one": [
            {"firings": [one, other], "fired_on": day,
             "say": alike.said_of_one_day(one, other, day),
             "mend": shell_line(["tiles", "firing", "merge", one, other])}
            for one, other, day in firings_twice(firings, tiles)
            if one in of_kiln
        ],
    }  # fmt: skip


def _spoken(learned: dict) -> list[str]:
    shown = [learned["controller"]["say"]] if learned["controller"] else []
    twice = _spoken_twice(learned["perhaps_one"])
    if learned["periods"]:
        return _spoken_periods([each["say"] for each in learned["periods"]], shown) + twice
    told = [each["say"] for each in (learned["habit"], *learned["shelves"]) if each]
    said = [*told, learned["habit_untold"]] if learned["habit_untold"] else told
    lines = ["; ".join(said), *shown] if told else [*shown, "; ".join(said)]
    return output.facts("from your tiles", *lines) + twice


def _spoken_twice(pairs: list[dict]) -> list[str]:
    """Firings that count as two in the lines above, and are one perhaps, with the command."""
    from tiles.cli.same_db import with_db

    lines = []
    for each in pairs:
        lines += output.facts("counted twice?", each["say"])
        lines.append(with_db(f"{'':<{output.LABEL}} If they are one: {each['mend']}"))
    return lines


def _spoken_periods(told: list[str], shown: list[str]) -> list[str]:
    """What it does now and what it did before, each on a line of its own, and how sure that is."""
    from tiles.records.kiln_drift import CLEAR

    sure = (
        f"(Chance alone would part the firings so less than 1 time in {1 / CLEAR:.0f}. Forecasts "
        "go by those since the last change.)"
    )
    return output.facts("from your tiles", *told, sure, *shown)


def change_kiln(name: str, remark: Remark = None, db: common.Db = None) -> None:
    """Change what is known of a kiln.

    An empty text ("") clears the remark.
    """
    belonging_commands.change("Kiln", name, {"remark": remark}, db)


def add_kiln(name: str, remark: Remark = None, db: common.Db = None) -> None:
    """Put a kiln on record."""
    from tiles.records import store

    with common.writing(db) as session:
        row = store.add_kiln(session, name, remark)
        like = belonging_commands.very_like(session, "Kiln", row.name)
    print(f"{row.name} is on record.")
    alike.tell(like)
