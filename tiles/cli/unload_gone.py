"""A tile that is not there to be looked at in ``tiles unload``: its note says so, and no look."""

from tiles.cli import common, unload_store
from tiles.cli.ask import BACK, CLEAR, key
from tiles.cli.prose import between_words, say
from tiles.cli.same_db import with_db
from tiles.errors import shell_line, shell_word

GONE = CLEAR
MEANING = "broken or lost"
WORDS = {"b": "broken", "l": "lost"}


def ask() -> str | None:
    """What became of it; None where that is taken back."""
    asked = "      what became of it? b broken by hand (cracked in the firing: < d), l lost:"
    pressed = key("\n".join(between_words(asked, "      ")), WORDS | {BACK: "take it back"})
    return WORDS.get(pressed)


def of_words(text: str) -> str | None:
    """The same of a tile that is typed to be so; what broke may have cracked in the firing."""
    from tiles.records.gone import BROKEN, gone

    what = gone(text)
    return ask() if what == BROKEN else what


def put(record, own, what: str, db: str | None) -> bool:
    """Note that a tile is gone, in place of a look of one's own; as `unload_store.put`."""
    from tiles.records.gone import with_gone

    return _note(record, own, with_gone(record.note, what), db)


def take_back(record, what: str, db: str | None):
    """The tile without what was noted of it in this walk; None where it has changed since."""
    note = _without(record.note, what)
    is_done = _note(record, None, note, db)
    return record.model_copy(update={"note": note}) if is_done else None


def _without(note: str | None, what: str) -> str | None:
    from tiles.records.gone import with_gone

    return (note or "").removesuffix(with_gone(None, what)).removesuffix("; ") or None


def _note(record, own, note: str | None, db: str | None) -> bool:
    from tiles.records import store

    with common.writing(db) as session:
        now = unload_store.stands(session, record, own)
        if now is None or (now.inspections, now.note) != (record.inspections, record.note):
            return False
        store.replace_tile(session, now.model_copy(update={"note": note}), confirmed=True)
    return True


def tell_last(record, what: str) -> None:
    """What is kept of the last tile, and how to mend it."""
    before = shell_line(["--note", _without(record.note, what) or ""])
    say(f"{record.mark} is noted as {what}. If that was a slip:")
    print(with_db(f"  tiles change {shell_word(record.mark)} {before}"))


def parted(records: list) -> tuple[list, list]:
    """The tiles that are there, and those that are gone."""
    from tiles.records.gone import is_gone

    left = [each for each in records if is_gone(each)]
    return [each for each in records if each not in left], left


def tell_left(left: list, firing: str) -> None:
    """Which tiles are not asked about, and how to look at one all the same."""
    from tiles.records.spoken import some

    if left:
        marks = some([each.mark for each in left])
        one = f"tiles unload {shell_word(firing)} {shell_word(left[0].mark)}"
        said = f"Left out, noted as broken or lost: {marks}. To look at one all the same: {one}"
        common.talk(with_db(said))
