"""The questions of ``tiles log``, in their order.

``offered`` and ``found`` are the answers offered and those given so far.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from tiles.cli import ask_log_firing, ask_log_kept, ask_log_layers, ask_names, common, entry
from tiles.cli.ask import LeaveOut, ask_or_back
from tiles.cli.ask_log_answers import (
    Answers,
    as_one,
    check_seen,
    kept_in_words,
    parts,
    read_seen,
    tile_with,
    values,
    with_whole_names,
)
from tiles.cli.marks import free, newest, next_mark
from tiles.errors import AlreadyOnRecord, InvalidValue

MOST_IN_A_MARK = 4
"""So many words go on the back of a tile; more are rather a whole line of notes (an estimate)."""
MAY_BE_COATS = range(1, 6)
"""Whole numbers that are rather coats than a thickness in mm."""


@dataclass(frozen=True)
class Question:
    """One question: the answer it is for, how it is asked, and whether it arises at all."""

    name: str
    ask: Callable[[str | None, Answers, Answers], str | None]
    arises: Callable[[str | None, Answers], bool] = lambda db, found: True

    def is_settled(self, db: str | None, offered: Answers, found: Answers) -> bool:
        """Whether it need not be asked; an answer that was taken over is then put down."""
        if ask_log_kept.keeps(db, self.name, offered, found):
            setattr(found, self.name, found.kept[self.name])
            return True
        if self.name == ask_log_kept.QUESTION:
            return not ask_log_kept.arises(offered)
        return not self.arises(db, found)


def _ask_mark(db, offered, found):
    return ask_or_back(
        "Mark",
        lambda: _mark_to_offer(db, offered.mark),
        check=lambda text: _free_mark(db, text),
        required=True,
    )


def _ask_body(db, offered, found):
    from tiles.records.models import ClayBody

    return ask_or_back("Clay body", offered.body, required=True, **_named(db, ClayBody, found))


def _ask_glaze(db, offered, found):
    from tiles.records.models import Glaze

    def read(text: str) -> str:
        layers = parts(with_whole_names(text, partial(_is_one, db)))
        named = [(part, entry.read_coat(part).glaze) for part in layers]
        try:
            return " + ".join(
                as_one(part.replace(name, _known_or_new(db, Glaze, name, found), 1))
                for part, name in named
            )
        except LeaveOut:
            if len(named) > 1:  # the other layers are not to go with the one left out
                raise common.AskAgain from None
            raise

    named = _named(db, Glaze, found) | {"check": read}
    return ask_or_back("Glaze (layers from the clay up: slip=2 + glaze)", offered.glaze, **named)


def _is_one(db: str | None, name: str) -> bool:
    """Whether a name that reads as several layers is that of one glaze on record."""
    from tiles.records.store.belongings import names_of_glazes
    from tiles.records.words import name_key

    with common.looking_up(db) as session:
        known = names_of_glazes(session)
    if name_key(name) not in known:
        return False
    if not all(name_key(entry.read_coat(each).glaze) in known for each in name.split(" + ")):
        return True
    common.talk(f"{name!r} is the name of one glaze on record, and its parts are glazes as well.")
    return bool(common.yes_or_no(f"Is it the one glaze {name!r}?"))


def _has_glaze(db, found):
    return bool(found.glaze)


def _lacks_coats(db, found):
    return _has_glaze(db, found) and entry.read_coat(parts(found.glaze)[-1]).coats is None


def _ask_coats(db, offered, found):
    layers = parts(found.glaze)
    return ask_or_back(
        "Coats of the top one (1,2,3 for three areas)",
        offered.coats,
        check=lambda text: tile_with(found, areas=entry.areas(layers, coats=text)) and text,
    )


def _ask_thickness(db, offered, found):
    made = partial(entry.areas, parts(found.glaze), coats=found.coats)
    each = ", one for each area (0.3,0.6)" if len(made()) > 1 else ""

    def read(text: str) -> str:
        areas = made(thickness_mm=text)
        tile_with(found, areas=areas)
        _ask_if_coats(text, [area["layers"][-1] for area in areas if area["layers"]])
        return text

    asked = f"Thickness of the dry coat in mm{each}"
    return ask_or_back(asked, offered.thickness_mm, check=read)


def _ask_if_coats(text: str, tops: list[dict]) -> None:
    """A whole number without its unit is rather a count of coats; 1 only where coats may be 1."""
    given = [top["thickness_mm"] for top in tops if top.get("thickness_mm")]
    is_count = all(each in MAY_BE_COATS for each in given) and "mm" not in text.casefold()
    fits = max(given, default=0) > 1 or any(top["coats"] in (None, 1) for top in tops)
    if given and is_count and fits:
        common.talk(f"{text} looks like coats. A dry coat is most often under 1.5 mm thick.")
        common.require_yes(f"Was {text} mm measured?")


def _ask_seen(db, offered, found):
    example = "pinholes@2" if len(values(found)["areas"]) > 1 else "pinholes"
    is_told, offers = False, [offered.seen]

    def read(text: str) -> str:
        try:
            return check_seen(text, found)
        except InvalidValue:
            offers.append(kept_in_words(text, found) or offers[-1])  # else Enter would lose them
            raise

    while True:
        seen = ask_or_back(
            f"What do you see? clean, or defects (severe crawling, {example})",
            lambda: offers[-1],
            check=read,
            choices=_known_faults,
        )
        if seen or found.firing or found.cone_reached:
            return seen
        common.talk("Without a firing, a cone or a look it goes on record as planned.")
        if common.yes_or_no("Is it still to be fired?", default=is_told):
            return None
        is_told = True
        common.talk("Then what is seen on it now, if only clean; < goes back to its cone.")


def _is_other(db, found):
    seen = read_seen(found.seen) if found.seen else []
    return any(map(entry.has_no_word, seen))


def _ask_other(db, offered, found):
    return ask_or_back("What is the other fault, in a few words", offered.other)


def _ask_note(db, offered, found):
    return ask_or_back("Note", offered.note)


QUESTIONS = (
    Question("mark", _ask_mark),
    Question("body", _ask_body),
    Question("glaze", _ask_glaze),
    Question("coats", _ask_coats, _lacks_coats),
    Question(ask_log_kept.QUESTION, ask_log_kept.ask_what_differs),
    Question("batch", ask_log_layers.ask_batch, ask_log_layers.has_batches),
    Question("method", ask_log_layers.ask_method, ask_log_layers.may_tell_method),
    Question("thickness_mm", _ask_thickness, _has_glaze),
    Question("bisque", ask_log_firing.ask_bisque),
    Question("firing", ask_log_firing.ask_firing),
    Question("shelf", ask_log_firing.ask_shelf, ask_log_firing.has_firing),
    Question("cone_reached", ask_log_firing.ask_cone),
    Question("seen", _ask_seen),
    Question("other", _ask_other, _is_other),
    Question("beneath", ask_log_layers.ask_beneath, ask_log_layers.may_tell),
    Question("colour_on", ask_log_layers.ask_colour, ask_log_layers.may_tell_colour),
    Question("glazed_on", ask_log_firing.ask_glazed, ask_log_firing.may_tell_glazed),
    Question("inspected_on", ask_log_firing.ask_day, ask_log_firing.was_seen),
    Question("note", _ask_note),
)


def _named(db, model, found) -> dict:
    return {
        "check": lambda text: _known_or_new(db, model, text, found),
        "choices": lambda: ask_names.names(db, model) or ["none yet"],
    }


def _known_or_new(db, model, name: str, found) -> str:
    return ask_names.known_or_new(db, model, name, found.new, found.before)


def _known_faults() -> list[str]:
    from tiles.records.words import DEFECTS, SEVERITIES

    *others, last = SEVERITIES
    return [*DEFECTS, f"each with {', '.join(others)} or {last} before it"]


def _mark_to_offer(db: str | None, mark: str | None) -> str | None:
    """The same where it is free, else the next one that is; without one, that after the last."""
    from tiles.records import store

    with common.looking_up(db) as session:
        if mark and store.has_mark(session, mark) is None:
            return mark
        first = mark if next_mark(mark) else next_mark(newest(session))
        return first and free(session, 1, first)[0]


def _free_mark(db: str | None, mark: str) -> str:
    """The mark, where no tile has it; one very like another on record is asked about."""
    from tiles.cli.alike import LOOKS
    from tiles.queries import marks_alike
    from tiles.records import forms, store
    from tiles.records.words import refuse_dash, refuse_no_name

    mark = forms.read(forms.TileRecord, {"mark": mark, "body": "any"}).mark
    refuse_no_name(mark, "mark")
    refuse_dash(mark, "mark")
    with common.looking_up(db) as session:
        if store.has_mark(session, mark):
            raise AlreadyOnRecord(f"a tile marked {mark!r} is already on record.", "another mark.")
        slips = (
            (marks_alike.marks_that_look_alike, f"the same but for {LOOKS}", "another tile"),
            (marks_alike.marks_of_one_tile, "a letter for a digit apart", "another tile"),
            (marks_alike.marks_but_for_a_zero, "with other zeros", "right"),
            (marks_alike.marks_with_a_letter, f"and {mark!r} has a letter for a digit", "right"),
        )
        found = [(pairs[0][1], how, is_so) for like, how, is_so in slips
                 if (pairs := like(session, [mark]))]  # fmt: skip
    if len(mark.split()) > MOST_IN_A_MARK:
        common.talk("The mark alone is asked for; body, glaze and all else have questions of their "
                    "own.")  # fmt: skip
        common.require_yes(f"Is {mark!r} the mark?")
    if found:
        known, how, is_so = found[0]
        common.talk(f"{known!r} is on record, {how}.")
        common.require_yes(f"Is {mark!r} {is_so}?")
    return mark
