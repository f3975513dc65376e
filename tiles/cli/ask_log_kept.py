"""What ``tiles log`` takes over from the last tile of the same firing, on one line and one answer.

``offered`` and ``found`` are the answers offered and those given so far (``ask_log_answers``).
"""

from collections.abc import Callable
from dataclasses import dataclass

from tiles.cli import ask_log_layers, common
from tiles.cli.ask import ask_or_back
from tiles.cli.ask_log_answers import Answers, one_top_glaze
from tiles.cli.ask_log_firing import firing_of
from tiles.cli.ask_names import key
from tiles.errors import InvalidValue

QUESTION = "differs"
NOTHING, ALL = "nothing", "all"
_OF_FIRING = ("colour", "firing", "cone", "day")
"""What is no more known of a tile that was in another firing."""


@dataclass(frozen=True)
class _Fact:
    """One fact: the word for it, the answer it is, and how it is told."""

    word: str
    name: str
    value: str | None
    told: str


def arises(offered: Answers) -> bool:
    """Whether anything can be taken over: only what belongs to a firing on record."""
    from tiles.records.models import Firing

    return bool(offered.firing) and key(Firing, offered.firing) not in offered.new


def ask_what_differs(db: str | None, offered: Answers, found: Answers) -> str:
    """Show what would be taken over, and keep of it what the person does not name."""
    facts = [fact for tell in _TELL if (fact := tell(db, offered, found))]
    words = [each.word for each in facts]
    common.talk(
        f"{f'As {offered.like}' if offered.like else 'So far'}: "
        f"{', '.join(each.told for each in facts)}."
    )
    differs = ask_or_back(
        f"What differs: {', '.join(words)}, or {ALL}",
        offered.differs or NOTHING,
        check=lambda text: _read(text, words, is_measured=bool(found.glaze)),
        choices=lambda: [NOTHING, *words, ALL],
        required=True,
    )
    named = differs.split(", ")
    gone = {ALL: words, "firing": _OF_FIRING}
    left = set(words).difference(*(gone.get(each, [each]) for each in named))
    found.kept = {each.name: each.value for each in facts if each.word in left}
    return differs


def keeps(db: str | None, name: str, offered: Answers, found: Answers) -> bool:
    """Whether an answer stays as it was taken over, so that it need not be asked for.

    A cone belongs to its shelf: to another one only where that has a witness cone of its own, or
    where none was read of the last tile's either.
    """
    if name not in found.kept:
        return False
    from tiles.records.derived import witness_cone
    from tiles.records.words import same_name

    if name != "cone_reached" or same_name(offered.shelf, found.shelf):
        return True
    firing = firing_of(db, found)
    there, here = (witness_cone(firing, each.shelf) for each in (offered, found))
    return found.kept[name] is None and bool(here or not there)


def _read(text: str, words: list[str], *, is_measured: bool = False) -> str:
    """The words that are meant, parted by commas; or all, or nothing.

    ``is_measured``: there is a coat, which is asked for where it is not taken over.
    """
    from tiles.records.words import fold

    given = [fold(each) for each in text.replace(" and ", ",").split(",") if each.strip()]
    if given == ["none"]:
        return NOTHING
    found = []
    for each in given:
        near = [word for word in (*words, ALL, NOTHING) if each in (word, f"{word}s")]
        near = near or [word for word in words if len(each) > 2 and word.startswith(each)]
        if not near:
            next_ = "Thickness, shelf" if is_measured and "thickness" not in words else "Shelf"
            raise InvalidValue(
                f"{each!r} is nothing of what is taken over.",
                f"some of {', '.join(words)}; {ALL} to be asked each; Enter where nothing differs. "
                f"{next_}, look and note are asked next; < goes back to glaze and coats.",
            )
        found += near
    if NOTHING in found and len(found) > 1:
        raise InvalidValue(f"{text!r} is nothing and something.", f"{NOTHING}, or what differs.")
    return ", ".join(found) or NOTHING


def _batch(db, offered, found) -> _Fact | None:
    from tiles.records import models
    from tiles.records.words import name_key, same_name

    glaze = one_top_glaze(found)
    if not (offered.batch and glaze and same_name(one_top_glaze(offered), glaze)):
        return None
    is_new = (models.Batch, name_key(glaze), name_key(offered.batch)) in offered.new
    if is_new or not ask_log_layers.has_batches(db, found):
        return None
    return _Fact("batch", "batch", offered.batch, f"batch {offered.batch}")


def _method(db, offered, found) -> _Fact | None:
    method = offered.method
    if not method or not ask_log_layers.may_tell_method(db, found):
        return None
    return _Fact("method", "method", method, f"put on by {method}")


def _thickness(db, offered, found) -> _Fact | None:
    """Where the last coat was measured, this one is to be as well, and is asked for."""
    if not found.glaze or offered.is_measured:
        return None
    thickness = offered.thickness_mm
    if thickness and (offered.glaze, offered.coats) != (found.glaze, found.coats):
        return None
    told = f"dry coat {thickness} mm" if thickness else "dry coat not measured"
    return _Fact("thickness", "thickness_mm", thickness, told)


_AS_BEFORE = " as on the tiles before"
"""Of a colour that the last tile does not have, but others of today and its firing do."""


def _colour(db, offered, found) -> _Fact | None:
    from tiles.records.words import name_key

    known = ask_log_layers.put_on_before(db, offered, found)
    if not known or None in known.values():
        return None
    lines = "\n".join(f"{colour}={put_on}" for colour, put_on in known.items())
    own = ask_log_layers.offered_on(offered)
    told = ", ".join(
        f"{colour} on {put_on}{'' if name_key(colour) in own else _AS_BEFORE}"
        for colour, put_on in known.items()
    )
    return _Fact("colour", "colour_on", lines, told)


def _bisque(db, offered, found) -> _Fact | None:
    """Bisque that was bought has a cone of its own."""
    from diagnose.bought_bisque import is_called_bisque

    if is_called_bisque(found.body) != is_called_bisque(offered.body):
        return None
    told = f"bisque {offered.bisque}" if offered.bisque else "bisque not noted"
    return _Fact("bisque", "bisque", offered.bisque, told)


def _firing(db, offered, found) -> _Fact:
    return _Fact("firing", "firing", offered.firing, f"firing {offered.firing}")


def _cone(db, offered, found) -> _Fact:
    from tiles.records.derived import witness_cone

    if offered.cone_reached:
        shelf = f" on shelf {offered.shelf}" if offered.shelf else ""
        told = f"cone {offered.cone_reached}{shelf}"
    elif witness_cone(firing_of(db, offered), offered.shelf):
        told = "cone by the witness cones"
    else:
        told = "cone not read"
    return _Fact("cone", "cone_reached", offered.cone_reached, told)


def _day(db, offered, found) -> _Fact | None:
    day = offered.inspected_on
    return _Fact("day", "inspected_on", day, f"looked at {day}") if day else None


_TELL: tuple[Callable[..., _Fact | None], ...] = (
    _batch, _method, _thickness, _colour, _bisque, _firing, _cone, _day,
)  # fmt: skip
