"""``tiles unload``: walk the load just unloaded; a clean tile costs one key."""

from datetime import date
from functools import partial
from typing import Annotated

import typer

from tiles.cli import (
    common,
    food,
    unload_cones,
    unload_day,
    unload_gone,
    unload_lost,
    unload_store,
    unload_told,
    unload_words,
)
from tiles.cli.ask import BACK, CLEAN, ENTER, Word, is_meant, key, key_list, single_keys, yes_by_key
from tiles.cli.marks import expand
from tiles.cli.prose import counted, say
from tiles.cli.same_db import with_db
from tiles.cli.unload_faults import HOW_BAD, TAKEN_BACK, ask_fault
from tiles.errors import InvalidValue, shell_word

NEXT, STOP = "n", "q"
ALONE = (NEXT, STOP, CLEAN, BACK, unload_gone.GONE)
"""Keys that end the question for a tile: Enter out of habit is not to say the next one clean."""
DEFECT_KEYS = {
    "c": "crazing",
    "h": "shivering",
    "w": "crawling",
    "p": "pinholes",
    "b": "blisters",
    "r": "running",
    "u": "underfired",
    "l": "bloating",
    "d": "dunting",
    "m": "unwanted matt",
    "s": "specks",
    "o": "colour shift",
    "y": "cloudiness",
    "k": "metal marking",
    "x": "other",
}


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("unload")(unload)


def unload(
    firing: str,
    marks: Annotated[
        list[str] | None, typer.Argument(help="Only these of its tiles: marks, or runs M-41..M-52.")
    ] = None,
    again: Annotated[
        bool, typer.Option("--again", help="Walk tiles that were looked at before, too.")
    ] = False,
    inspected_on: Annotated[str | None, common.day("Day of the look; default today.")] = (None),
    batch: Annotated[
        str | None, typer.Option(help="Batch (bucket) of the glaze that has one of this name.")
    ] = None,
    yes: common.Yes = False,
    db: common.Db = None,
) -> None:
    """Walk the tiles of a firing and write down what is seen. Enter means clean, or as last seen.

    A word and Enter (clean, crawling) do for a key, too. Every tile is stored as soon as it is
    done, so that stopping loses nothing.
    """
    if not common.is_interactive():
        raise InvalidValue(
            "unload reads single keys, and there is no keyboard here.",
            "'tiles inspect MARK --clean' or 'tiles inspect MARK --defect ...'.",
        )
    from tiles.cli.notices import tell_bisques

    records, name, others = _load(firing, marks or [], again, db)
    day = unload_day.checked(records, name, inspected_on or date.today())
    tell_bisques(records)
    if batch and records:
        records = _from_batch(records, batch, db, yes=yes)
    _introduce(name, records)
    if not records:
        return
    day = unload_day.settle(records, day, others, is_given=inspected_on is not None)
    cone, firing_read = unload_cones.ask_load(records, db, confirmed=yes)
    if firing_read is not None:
        records = [record.model_copy(update={"firing": firing_read}) for record in records]
    with single_keys():
        done = _walk(records, day, cone, db)
    if records and records[-1].mark in done:
        unload_told.tell_last(records[-1], day, done[records[-1].mark])
    looked_at = {mark: seen for mark, seen in done.items() if isinstance(seen, list)}
    faulty = [mark for mark, seen in looked_at.items() if seen]
    clean = len(looked_at) - len(faulty)
    print(f"{len(looked_at)} looked at: {clean} clean, {len(faulty)} with a defect.")
    if gone := len(done) - len(looked_at):
        print(f"{gone} noted as {unload_gone.MEANING}.")
    food.tell_kept(
        (each, [fault["defect"] for fault in looked_at[each.mark]])
        for each in records
        if each.mark in looked_at
    )
    if faulty:
        print(with_db(f"Ask why: tiles why {shell_word(faulty[0])}"))


def _load(
    firing: str, marks: list[str], again: bool, db: str | None
) -> tuple[list, str, date | None]:
    """The tiles to walk, from the top shelf down, and the firing's name as it is on record.

    Last the day of the latest look at the others, where a walk left off.
    """
    from tiles.records import models, reading, store
    from tiles.records.mark_looks import natural_key

    with common.reading(db) as session:
        row = store.find(session, models.Firing, firing)
        records = reading.records_fired_in(session, row)
        if marks:
            named = {each.mark for each in store.get_tiles(session, expand(marks))}
            _refuse_not_there(named - {each.mark for each in records}, row.name)
            records = [each for each in records if each.mark in named]
        chosen = [record for record in records if again or not record.inspections]
        if not again and not marks:
            chosen, gone = unload_gone.parted(chosen)
            unload_gone.tell_left(gone, row.name)
        days = [look.inspected_on for each in records if not again for look in each.inspections]
        in_order = sorted(
            chosen, key=lambda r: (unload_cones.from_the_top(r.shelf), natural_key(r.mark))
        )
        return in_order, row.name, max(days, default=None)


def _refuse_not_there(marks: set[str], firing: str) -> None:
    """Tiles that are on record, but not in the firing."""
    from tiles.records.mark_looks import natural_key
    from tiles.records.spoken import some

    if marks:
        told = some(sorted(marks, key=natural_key))
        shown = f"the tiles that 'tiles find --firing {shell_word(firing)}' lists."
        raise InvalidValue(f"{told} {'are' if len(marks) > 1 else 'is'} not in {firing}.", shown)


def _from_batch(records: list, batch: str, db: str | None, *, yes: bool) -> list:
    """Note the batch on the tiles of its glaze, before the walk."""
    from tiles.cli.batch_versions import tell_other_version
    from tiles.cli.load import tell_batch
    from tiles.records import store

    def note(confirmed: bool) -> list:
        with common.writing(db) as session:
            changed = store.from_batch(session, records, batch)
            return [store.replace_tile(session, each, confirmed=confirmed) for each in changed]

    noted = common.confirmed(note, yes=yes)
    tell_batch(noted, batch)
    tell_other_version(noted, db)
    return noted


def _introduce(name: str, records: list) -> None:
    if not records:
        print(f"{name}: no tile waits to be looked at. --again walks them all once more.")
        return
    print(f"{name}: {counted(len(records), 'tile')} to look at.\n")
    controls = {ENTER: "clean", NEXT: "not now", BACK: "back one", STOP: "stop here"}
    controls |= {unload_gone.GONE: unload_gone.MEANING, "?": "the keys again"}
    print(key_list(controls, "  "))
    print(key_list(DEFECT_KEYS, "  "))
    after = f"  after a defect:  {HOW_BAD}, {BACK} takes it back"
    say(after, "  ")
    print()


def _walk(records: list, day: date, cone: str | None, db: str | None) -> dict:
    """Ask for each tile in turn. Returns the defects seen by mark, or what became of the tile.

    What others do meanwhile is told; a tile that they took off leaves the list. A fault keyed while
    another person stored a look is held, and offered back beside that.
    """
    done: dict[str, list | str] = {}
    place, held = 0, []
    while place < len(records):
        before = records[place]
        kept = done.get(before.mark)
        own = unload_store.look_of(day, kept) if isinstance(kept, list) else None
        look_up = partial(unload_store.as_it_stands, before, own, db)
        record = unload_lost.once_it_can(look_up, before, held or None, done)
        if record is None:
            print(f"{before.mark} is no longer in {before.firing.name}: on to the next.")
            del records[place]
            held = []
            continue
        held = [] if unload_store.is_seen(record, day, held) else held
        unload_store.tell_met(before, record, held)
        records[place] = record
        count = f"{place + 1}/{len(records)}"
        answer = _ask_tile(record, count, kept, day, held, can_go_back=place > 0)
        if answer == STOP:
            break
        if answer == BACK:
            place, held = place - 1, []
            continue
        if answer not in (NEXT, kept):
            look = unload_store.look_of(day, answer) if isinstance(answer, list) else None
            if look and answer != held and not _is_meant(record, look):
                continue
            put = partial(_put, record, look or answer, (kept, own), cone, db)
            if not unload_lost.once_it_can(put, record, answer, done):
                held = answer if look else []
                continue
            done[record.mark] = answer
        place, held = place + 1, []
    return done


def _put(record, said, was: tuple, cone: str | None, db: str | None) -> bool:
    """Store a look, or in words that the tile is gone, in place of what this walk said of it.

    False where another person has changed the tile: it is asked about once more.
    """
    kept, own = was
    if isinstance(kept, str):
        record = unload_gone.take_back(record, kept, db)
    if record is None:
        return False
    if isinstance(said, str):
        return unload_gone.put(record, own, said, db)
    return unload_store.put(record, said, own, cone, db)


def _ask_tile(
    record, count: str, kept: list | str | None, day: date, held: list, *, can_go_back: bool
) -> list | str:
    """What is seen on a tile, or became of it, or a control.

    Of a tile done before, ``kept`` is what stands. ``held`` was keyed for it and is not stored yet:
    it is as if it had just been keyed once more.
    """
    unload_told.tell_tile(record, count)
    if held:
        unload_told.tell_held(held, len(record.areas) > 1)
        stands, enter = NEXT, {ENTER: "as it stands", NEXT: "as it stands"}
    else:
        stands, enter = _stands(record, kept, day)
    controls = enter | {unload_gone.GONE: unload_gone.MEANING, STOP: "stop here"}
    controls |= {BACK: "back"} if can_go_back else {}
    seen: list[dict] = list(held)
    try:
        return _ask_of(record, seen, stands, controls)
    except (typer.Abort, KeyboardInterrupt):
        if seen:
            print()
            say(f"    {unload_lost.lost(record, seen)}", "    ")
        raise


def _ask_of(record, seen: list[dict], stands: list | str, controls: dict[str, str]) -> list | str:
    """As `_ask_tile`, of a tile that was told; what is keyed is noted in ``seen``."""
    was_refused = False
    while True:
        first, too = {ENTER: "done", BACK: TAKEN_BACK} if seen else controls, _too(record, seen)
        try:
            pressed = _press(seen, first, too)
            if pressed == ENTER:
                if was_refused and not seen and not is_meant(controls[ENTER]):
                    continue
                return seen or stands
            if pressed == unload_gone.GONE:
                if what := unload_gone.ask():
                    return what
                continue
            if pressed in first:
                if not seen:
                    return [] if pressed == CLEAN else pressed
                seen.pop()
                continue
            if pressed in too:
                found = [seen[-1] | {"area": int(pressed)}]
            else:
                found = [ask_fault({"defect": DEFECT_KEYS[pressed]}, record, begun=pressed)]
        except Word as word:
            if not seen and (what := unload_gone.of_words(word.text)):
                return what
            found = _ask_of_words(word.text, record, seen)
            if found == []:
                return []
            was_refused = found is None and bool(word.text)
        _add(record, seen, found or [])


def _press(seen: list[dict], first: dict[str, str], too: dict[str, str]) -> str:
    """The next key for a tile of which so much was seen."""
    hint = f" ({', '.join(too)}: {seen[-1]['defect']} there, too)" if too else ""
    asked = f"    another?{hint}" if seen else "   "
    words = () if seen else unload_words.NOT_KEYS
    keys = first | too | DEFECT_KEYS
    # Enter given to the key of an area, out of habit, does not say that this was the last fault.
    is_new = not seen or bool(seen[-1].get("area"))
    return key(asked, keys, begun="", words=words, alone=ALONE, is_new=is_new)


def _stands(record, kept: list | str | None, day: date) -> tuple[list | str, dict[str, str]]:
    """What Enter says of a tile, told first; and what it and the keys beside it mean there."""
    if kept is not None:
        unload_told.tell_kept(kept, len(record.areas) > 1)
        keys = {ENTER: "as it stands", NEXT: "as it stands"}
        return kept, keys | ({CLEAN: "clean after all"} if kept else {})
    unload_told.tell_looks(record, day)
    look = unload_told.last_look(record, day)
    faults = look.defects if look else []
    keys = {NEXT: "not now"} | ({CLEAN: "clean now"} if faults else {})
    if look and look.inspected_on == day:  # not stored a second time
        return NEXT, {ENTER: "as it stands"} | keys
    said = [each.model_dump(exclude_none=True) for each in faults]
    return said, {ENTER: "as last seen" if said else "clean"} | keys


def _ask_of_words(text: str, record, seen: list[dict]) -> list | None:
    """The faults that words name, or an empty list for clean; None where nothing is noted."""
    if not text:  # erased again
        return None
    try:
        named = unload_words.read(text, len(record.areas))
        if named or not seen:
            return [ask_fault(each, record) for each in named]
        said = f"{text!r} beside a fault: {BACK} takes the fault back, Enter is done."
    except InvalidValue as error:
        said = f"Nothing is noted: {error}"
    say(f"      {said}", "      ")
    return None


def _add(record, seen: list[dict], found: list) -> None:
    """Note the faults found beside those seen; None is one that was taken back."""
    for each in filter(None, found):
        if _is_told(record, [*seen, each]):
            print(f"      {each['defect']} is told already: {BACK} takes the last one back.")
        else:
            seen.append(each)


def _too(record, seen: list[dict]) -> dict[str, str]:
    """The areas that the last fault may be on as well, each by its one key."""
    last = seen[-1] if seen else {}
    if not last.get("area"):
        return {}
    told = {each["area"] for each in seen if each["defect"] == last["defect"]}
    left = [each.number for each in record.areas if each.number not in told and each.number < 10]
    return {str(each): f"{last['defect']} on area {each}, too" for each in left}


def _is_told(record, seen: list[dict]) -> bool:
    """Whether a fault stands twice among those seen."""
    from tiles.records import forms
    from tiles.records.looks import fault_twice

    return bool(fault_twice(record, [forms.read(forms.DefectSeen, each) for each in seen]))


def _is_meant(record, look) -> bool:
    """A look that is unlikely, or contradicts an earlier one, is asked about."""
    doubts = unload_cones.new_questions(record, {"inspections": [*record.inspections, look]})
    if not doubts and not look.defects:
        doubts = unload_told.doubt_of_clean(record, look.inspected_on)
    return not doubts or yes_by_key(f"    {doubts} Is that really so?")
