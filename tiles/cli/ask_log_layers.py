"""What ``tiles log`` asks of the bucket the top glaze is from, and of the coat it lies on.

``offered`` and ``found`` are the answers offered and those given so far (``ask_log_answers``).
"""

from datetime import date

from tiles.cli import common
from tiles.cli.ask import CLEAR, ask_or_back
from tiles.cli.ask_log_answers import has_layer_beneath, is_faulty, one_top_glaze, under_glazes
from tiles.errors import InvalidValue


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
    from tiles.records.words import name_key, refuse_dash

    with common.looking_up(db) as session:
        known = store.look_up_batch(store.find(session, models.Glaze, glaze), text)
        if known is not None:
            return known.name
    name = forms.read(forms.BatchRecord, {"name": text}).name
    refuse_dash(name)
    key = models.Batch, name_key(glaze), name_key(name)
    if key not in new:
        common.talk(f"{glaze} has no batch {name!r} on record.")
        common.require_yes(f"Add {name!r} as a new batch of {glaze}?")
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
    """Whether it is asked what the colours under a glaze were put on: a fault may come from it.

    Of a clean tile where one is new, or where it was told of the last tile that has it.
    """
    from sqlalchemy import select

    from tiles.cli.ask_names import key
    from tiles.records import models, store

    colours = _colours(db, found)
    if not colours or is_faulty(found):
        return bool(colours)
    if any(key(models.Glaze, each) in found.new for each in colours):
        return True
    newest = select(models.Layer.applied_on).order_by(models.Layer.layer_id.desc()).limit(1)
    with common.looking_up(db) as session:
        known = (store.look_up(session, models.Glaze, each) for each in colours)
        return any(
            session.scalar(newest.where(models.Layer.glaze_id == each.glaze_id)) for each in known
        )


def ask_colour(db, offered, found) -> str | None:
    """Raw clay, so that the bisque fired it on, or bisque: of each colour, as ``colour_on`` is."""
    from diagnose.wording import listed
    from tiles.records.words import APPLIED_ON, read_word

    before = put_on_before(db, offered, found)
    colours = list(before)

    def read(text: str) -> list[str | None]:
        given = [each.strip() for each in text.split(",")]
        if len(given) not in (1, len(colours)):
            raise InvalidValue(
                f"{text!r} has {len(given)} answers for {len(colours)} colours.",
                f"one word for all, or one for each in this order: {', '.join(colours)}.",
            )
        read = [None if each in ("", CLEAR) else read_word(each, APPLIED_ON, "answer")
                for each in given]  # fmt: skip
        return read * len(colours) if len(read) == 1 else read

    words = [each or CLEAR for each in before.values()]
    is_known = set(words) != {CLEAR}
    many = len(colours) > 1
    each_own = " (or one for each: greenware, bisque)" if many else ""
    put_on = ask_or_back(
        f"{'Were' if many else 'Was'} {listed(colours)} put on greenware (raw clay) or bisque"
        f"{each_own}",
        ", ".join(words if len(set(words)) > 1 else words[:1]) if is_known else None,
        check=read,
        choices=lambda: list(APPLIED_ON),
    )
    told = zip(colours, put_on or [], strict=False)
    return "\n".join(f"{colour}={word}" for colour, word in told if word) or None


def put_on_before(db, offered, found) -> dict[str, str | None]:
    """What each colour was put on by the answers so far or on the last tile, if it has that colour.

    Else on today's tiles of that firing. None where that is not known, or where it was one thing on
    some of them and one on others.
    """
    from tiles.records.words import name_key

    own = offered_on(offered)
    return {
        each: own[key] or None
        if (key := name_key(each)) in own
        else _put_on_today(db, offered, each)
        for each in _colours(db, found)
    }


def offered_on(offered) -> dict[str, str]:
    """What is offered of each colour, by its name as `name_key` has it."""
    from tiles.records.words import name_key

    typed = (line.rpartition("=") for line in (offered.colour_on or "").splitlines())
    return {name_key(colour): word for colour, _, word in typed}


def _put_on_today(db, offered, colour: str) -> str | None:
    from sqlalchemy import select

    from tiles.records import models, store

    with common.looking_up(db) as session:
        glaze = store.look_up(session, models.Glaze, colour)
        firing = offered.firing and store.look_up(session, models.Firing, offered.firing)
        if not (glaze and firing):
            return None
        layer, tile = models.Layer, models.Tile
        told = select(layer.applied_on).join(models.Area).join(tile).distinct()
        of_it = told.where(layer.glaze_id == glaze.glaze_id, layer.applied_on.is_not(None))
        today = (tile.firing_id == firing.firing_id, tile.written_on == date.today())
        words = session.scalars(of_it.where(*today)).all()
        return words[0] if len(words) == 1 else None


def _colours(db, found) -> list[str]:
    """The colours that lie under a glaze, by name, from the clay up."""
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
