"""What ``tiles log`` asks of the bucket the top glaze is from, and of the coat it lies on.

``offered`` and ``found`` are the answers offered and those given so far (``ask_log_answers``).
"""

from tiles.cli import common
from tiles.cli.ask import ask_or_back
from tiles.cli.ask_log_answers import has_layer_beneath, is_faulty, one_top_glaze, under_glazes
from tiles.errors import TilesError


def has_batches(db, found) -> bool:
    """Whether the glaze on top has buckets on record."""
    return bool(_batches(db, found))


def ask_batch(db, offered, found) -> str | None:
    """The bucket; the last tile's is offered for the same glaze."""
    from tiles.records.words import same_name

    glaze = one_top_glaze(found)
    is_same = same_name(one_top_glaze(offered), glaze)
    return ask_or_back(
        f"Batch of {glaze}",
        offered.batch if is_same else None,
        check=lambda text: _known_or_new(db, glaze, text, found.new),
        choices=lambda: _batches(db, found),
    )


def _known_or_new(db: str | None, glaze: str, text: str, new: dict[tuple, dict]) -> str:
    """The bucket as it is on record; one that the person says is new is added with the tile."""
    from tiles.records import forms, models, store
    from tiles.records.words import name_key

    with common.looking_up(db) as session:
        known = store.look_up_batch(store.find(session, models.Glaze, glaze), text)
        if known is not None:
            return known.name
    name = forms.read(forms.BatchRecord, {"name": text}).name
    key = models.Batch, name_key(glaze), name_key(name)
    if key not in new:
        common.talk(f"{glaze} has no batch {name!r} on record.")
        if not common.yes_or_no(f"Add {name!r} as a new batch of {glaze}?"):
            raise TilesError("")
        new[key] = {"name": name}
    return new[key]["name"]


_METHOD_KEYS = {"b": "brush", "d": "dip", "p": "pour", "s": "spray"}


def may_tell_method(db, found) -> bool:
    """Whether it is asked how the top glaze was put on: where nothing tells, or is told each time.

    Not where the last coat of that glaze, or of a new one the last of all, is without it.
    """
    from sqlalchemy import select

    from tiles.records import models, store

    glaze, layer = one_top_glaze(found), models.Layer
    if glaze is None:
        return False
    with common.looking_up(db) as session:
        row = store.look_up(session, models.Glaze, glaze)
        newest = select(layer.method).order_by(layer.layer_id.desc()).limit(1)
        of_it = newest.where(layer.glaze_id == (row and row.glaze_id))
        last = session.execute(of_it).first() or session.execute(newest).first()
        return (
            bool(last and last.method)
            or session.scalar(newest.where(layer.method.is_not(None))) is None
        )


def ask_method(db, offered, found) -> str | None:
    """Brushed, dipped or otherwise."""
    from tiles.records.words import METHODS, read_word

    keys = ", ".join(f"{each} {word}" for each, word in _METHOD_KEYS.items())
    return ask_or_back(
        f"Put on by ({keys})",
        offered.method,
        check=lambda text: read_word(_METHOD_KEYS.get(text.casefold(), text), METHODS, "method"),
        choices=lambda: list(METHODS),
    )


def may_tell(db, found) -> bool:
    """Whether the state of the coat beneath is asked for: where a fault may come from it.

    Of a clean tile only where it was noted of this glaze before and no batch was asked for, so that
    a tile like the last costs one question more at most.
    """
    if not has_layer_beneath(found):
        return False
    return is_faulty(found) or _is_noted(db, found) and not has_batches(db, found)


def ask_beneath(db, offered, found) -> str | None:
    """Damp or dry."""
    from tiles.records.words import BENEATH, read_word

    is_same = offered.glaze == found.glaze
    return ask_or_back(
        "Was the layer or coat beneath damp or dry when the top one went on",
        offered.beneath if is_same else None,
        check=lambda text: read_word(text, BENEATH, "state beneath"),
        choices=lambda: list(BENEATH),
    )


def may_tell_colour(db, found) -> bool:
    """Whether it is asked what a colour under the glaze was put on: where a fault may come from it.

    Of a clean tile once, where the colour is new.
    """
    from tiles.cli.ask_names import key
    from tiles.records import models

    colours = _colours(db, found)
    is_new = any(key(models.Glaze, each) in found.new for each in colours)
    return bool(colours) and (is_faulty(found) or is_new)


def ask_colour(db, offered, found) -> str | None:
    """Raw clay, so that the bisque fired it on, or bisque: of each colour, as ``colour_on`` is."""
    from diagnose.wording import listed
    from tiles.records.words import APPLIED_ON, read_word

    colours = _colours(db, found)
    were = "Was" if len(colours) == 1 else "Were"
    is_same = offered.glaze == found.glaze and offered.colour_on
    put_on = ask_or_back(
        f"{were} {listed(colours)} put on greenware (raw clay) or bisque",
        offered.colour_on.rpartition("=")[2] if is_same else None,
        check=lambda text: read_word(text, APPLIED_ON, "answer"),
        choices=lambda: list(APPLIED_ON),
    )
    return put_on and "\n".join(f"{each}={put_on}" for each in colours)


def _colours(db, found) -> list[str]:
    """The colours that lie next under a glaze, by name."""
    from tiles.records.words import COLOUR_ROLES

    under = under_glazes(found)
    is_colour = {
        each: _role(db, found, each) in COLOUR_ROLES
        for each in {*under, *(name for names in under.values() for name in names)}
    }
    below = (name for top, names in under.items() if not is_colour[top] for name in names)
    return list(dict.fromkeys(name for name in below if is_colour[name]))


def _role(db, found, name: str) -> str | None:
    """What a glaze is for, whether it is on record or added with the tile."""
    from tiles.cli.ask_names import key
    from tiles.records import models, store

    new = found.new.get(key(models.Glaze, name))
    if new:
        return new.get("role")
    with common.looking_up(db) as session:
        row = store.look_up(session, models.Glaze, name)
        return row and row.role


def _is_noted(db, found) -> bool:
    """Whether the coat beneath the same glaze was noted on a tile before."""
    from sqlalchemy import select

    from tiles.records import models, store

    glaze = one_top_glaze(found)
    with common.looking_up(db) as session:
        row = store.look_up(session, models.Glaze, glaze) if glaze else None
        if row is None:
            return False
        layer = models.Layer
        noted = select(layer.layer_id).where(layer.beneath.is_not(None))
        return session.scalar(noted.where(layer.glaze_id == row.glaze_id).limit(1)) is not None


def _batches(db, found) -> list[str]:
    from tiles.records import models, store

    glaze = one_top_glaze(found)
    if glaze is None:
        return []
    with common.looking_up(db) as session:
        row = store.look_up(session, models.Glaze, glaze)
        return [each.name for each in row.batches if not each.is_retired] if row else []
