"""What was asked of tiles and firings before they were stored, and stands so on record."""

from collections import Counter
from collections.abc import Callable, Iterator

from tiles.cli.doubts import Doubt
from tiles.cli.doubts_labels import borne_out, labels, of_right_labels
from tiles.cli.marks import runs
from tiles.cli.prose import counted
from tiles.errors import Questioned, shell_line

_FIRING = {"cone_reached": "firing", "bisque_cone": "bisque_firing"}
"""Where a cone comes from that is not the tile's own."""
MOST_OF = 3
"""Of so many tiles at a place most tell of its cone; two may be of one glaze (an estimate)."""


def of_firings(session, records: list) -> Iterator[Doubt]:
    """What is unlikely of the firings of some tiles by themselves."""
    from tiles.records.questions import firing_questions

    held: dict[str, list] = {}
    firings = {}
    for record in records:
        for firing in filter(None, (record.firing, record.bisque_firing)):
            firings[firing.name] = firing
            held.setdefault(firing.name, []).append(record)
    odd = _odd_targets(session, list(firings.values()))
    for name, firing in firings.items():
        if asked := [*firing_questions(firing), *odd.get(name, ())]:
            mend = ["tiles", "firing", "change", name, *_option(firing, asked, held[name])]
            said = " ".join(dict.fromkeys(asked))
            marks = [record.mark for record in held[name]]
            yield Doubt(marks, f"{name}: {said}", shell_line(mend))


def _odd_targets(session, firings: list) -> dict[str, list[str]]:
    """What is asked of a target far hotter than a kiln's others, where no other one is as hot.

    A kiln that goes to mid range now and then raises it each time, and none of them is a slip.
    """
    from tiles.records import reading
    from tiles.records.usual_target import target_questions
    from tiles.records.words import name_key

    known = reading.all_firings(session)
    asked = {each.name: said for each in known if (said := target_questions(each, known))}
    often = Counter(name_key(each.kiln or "") for each in known if each.name in asked)
    return {
        each.name: asked[each.name]
        for each in firings
        if each.name in asked and often[name_key(each.kiln or "")] == 1
    }


def _option(firing, asked: list[str], records: list) -> list[str]:
    """What of a firing to put right, with the cone with the other zero if that answers all.

    Of a witness cone and a target far apart it is the one that the labels of its tiles gainsay.
    """
    from tiles.records.questions import OF_DAY

    if all(each.startswith("peak") for each in asked):
        return ["--peak-c", "C"]
    if all(each.startswith(OF_DAY) for each in asked):
        return ["--fired-on", "YYYY-MM-DD"]
    is_of_cones = all(each.startswith("witness cone") for each in asked)
    if is_of_cones and not _are_as_labelled(firing, asked, records):
        return ["--witness-cone", _witness_meant(firing) or "CONE"]
    return ["--target-cone", _target_meant(firing) or "CONE"]


def _are_as_labelled(firing, asked: list[str], records: list) -> bool:
    """Whether labels of tiles tell, and agree with the witness cones that are asked about."""
    from tiles.records.derived import witness_cone
    from tiles.records.lost_zeros import tells_low_from_mid
    from tiles.records.questions import far_outside

    beside = []
    for record in filter(tells_low_from_mid, records):
        cone = witness_cone(firing, record.shelf)
        if any(each.startswith(f"witness cone {cone} (") for each in asked):
            beside.append(record)
    return bool(beside) and not any(map(far_outside, beside))


def _target_meant(firing) -> str | None:
    from tiles.chemistry.cones import with_other_zero
    from tiles.records.questions import firing_questions

    other = firing.target_cone and with_other_zero(firing.target_cone)
    mended = firing.model_copy(update={"target_cone": other})
    return None if firing_questions(mended) else other


def _witness_meant(firing) -> str | None:
    """The witness cone with the other zero, where that alone answers all; None for several."""
    from tiles.chemistry.cones import with_other_zero
    from tiles.records.questions import firing_questions

    found = []
    for at, read in enumerate(firing.witness_cones):
        cones = list(firing.witness_cones)
        if other := with_other_zero(read.cone):
            cones[at] = read.model_copy(update={"cone": other})
            if not firing_questions(firing.model_copy(update={"witness_cones": cones})):
                found.append(f"{other}@{read.shelf}" if read.shelf else other)
    return found[0] if len(found) == 1 else None


def of_tiles(records: list) -> Iterator[Doubt]:
    """What is unlikely of tiles, by what was most likely mistaken.

    Where most tiles at a place of a firing are far outside their labels it is its cone; other tiles
    that are far beyond the same end of one label are one doubt.
    """
    from tiles.exchange.json_layers import layer_questions
    from tiles.records.questions import questions

    of_cones = []
    for record in records:
        others = _others(record)
        for said in questions(record):
            if said in others:
                yield _doubt(record, said, others[said](record, said))
            elif not (_is_of_firing(record, said) or _is_of_reading(record, said)):
                of_cones.append((record, said))
        for said in layer_questions(record).values():
            yield _doubt(record, said, ["--glaze", "NAME=COATS"])
    yield from _of_cones(records, of_cones)


def _of_cones(records: list, asked: list[tuple]) -> Iterator[Doubt]:
    from tiles.records.answered import beyond
    from tiles.records.lost_zeros import tells_low_from_mid

    right = borne_out(asked)
    yield from of_right_labels(right)
    proved = [each for told in right.values() for each in told]
    asked = [each for each in asked if each not in proved]
    tell = filter(tells_low_from_mid, records)  # of the others no cone would be doubtful
    held = Counter(place for record in tell for place in _places(record).values())
    far = Counter(place for place, _mark in {(_place(*told), told[0].mark) for told in asked})
    most = {each for each in far if each and (
        far[each] >= held[each] or far[each] >= MOST_OF and far[each] > held[each] / 2
    )}  # fmt: skip
    # One label alone that loads of several firings gainsay is wrong itself, most often.
    labels, firings = {}, {}
    for told in asked:
        if place := _place(*told):
            labels.setdefault(place, set()).add(beyond(told[1]))
            firings.setdefault(beyond(told[1]), set()).add(place[0])
    wrong = {each for each in most
             if len(labels[each]) > 1 or len(firings[next(iter(labels[each]))]) == 1}  # fmt: skip
    by_cause: dict[object, list[tuple]] = {}
    for told in asked:
        place = _place(*told)
        by_cause.setdefault(place if place in wrong else _of_tile(*told), []).append(told)
    for cause, told in by_cause.items():
        marks = list(dict.fromkeys(record.mark for record, _said in told))
        if cause in wrong:
            yield Doubt(marks, told[0][1], shell_line(["tiles", *_mend_of_place(told)]))
        elif label := _label_of_many(told):
            yield Doubt(marks, _of_many(told), shell_line(["tiles", *label]))
        else:
            yield Doubt(marks, told[0][1], shell_line(["tiles", *_mend_of_tiles(told)]))


def _of_tile(record, said: str) -> tuple:
    """Tiles of which the same is doubtful, and mended alike."""
    from tiles.records.answered import beyond

    own = _own_field(record, said)
    return beyond(said), own, getattr(record, own)


def _places(record) -> dict[str, tuple]:
    """The firing, and its shelf where that was read, that a cone is known by; by the tile's field.

    A cone of the tile's own counts before it, and nothing tells the shelf of a bisque.
    """
    found = {}
    if record.firing and not record.cone_reached:
        is_read = record.shelf in {each.shelf for each in record.firing.witness_cones}
        found["cone_reached"] = (record.firing.name, record.shelf if is_read else None)
    if record.bisque_firing and not record.bisque_cone:
        found["bisque_cone"] = (record.bisque_firing.name, None)
    return found


def _own_field(record, said: str) -> str:
    """The field of a tile that holds the cone a question is about."""
    from tiles.records.answered import FAR

    bisque, what = record.bisque_firing, said.partition(FAR)[0]
    is_its_peak = bool(bisque) and what.startswith("peak") and what.endswith(f" of {bisque.name}")
    return "bisque_cone" if is_its_peak or what.startswith("bisque cone") else "cone_reached"


def _place(record, said: str) -> tuple | None:
    return _places(record).get(_own_field(record, said))


def _is_of_firing(record, said: str) -> bool:
    """Whether a witness cone is far from the target and nothing else: told of the firing itself."""
    name = record.firing.name if record.firing else None
    return not record.cone_reached and said.endswith(f", the target of {name}.")


def _is_of_reading(record, said: str) -> bool:
    """Whether it is a tile's own cone, which its shelf's witness cone gainsays: told as that."""
    from tiles.records.own_cone import OF_TARGET, read_otherwise

    read = read_otherwise(record) if _own_field(record, said) == "cone_reached" else None
    return bool(read) and read[0] != OF_TARGET


def _doubt(record, said: str, options: list[str]) -> Doubt:
    return Doubt([record.mark], said, shell_line(["tiles", "change", record.mark, *options]))


def _others(record) -> dict[str, Callable]:
    """The questions about something else than a cone, each with what gives its options."""
    from tiles.records.bare_clay import bare_questions
    from tiles.records.coats import coat_questions
    from tiles.records.looks import day_doubted, look_questions
    from tiles.records.trial_questions import trial_questions

    found: dict[str, Callable] = {}
    for asks, options in (
        (coat_questions, lambda _tile, _said: ["--thickness-mm", "MM"]),
        (bare_questions, lambda _tile, _said: ["--glaze", "NAME=COATS"]),
        (trial_questions, lambda _tile, _said: ["--batch", "NAME"]),
        (look_questions, lambda tile, said: ["--forget-inspection", day_doubted(tile, [said])]),
    ):
        found |= dict.fromkeys(asks(record), options)
    return found


def _mend_of_place(told: list[tuple]) -> list[str]:
    """The command that mends the cone of a firing, or of one shelf in it."""
    newest, said = told[0]
    own = _own_field(newest, said)
    firing = newest.firing if own == "cone_reached" else newest.bisque_firing
    name, shelf = _places(newest)[own]
    cone = _meant(newest, own)
    if firing.witness_cones:
        return ["firing", "change", name, "--witness-cone", f"{cone}@{shelf}" if shelf else cone]
    option = ["--target-cone", cone] if firing.target_cone else ["--peak-c", "C"]
    return ["firing", "change", name, *option]


def _mend_of_tiles(told: list[tuple]) -> list[str]:
    """The command that mends some tiles: their own cone, or in which firing they were."""
    newest, said = told[0]
    own = _own_field(newest, said)
    marks = runs([record.mark for record, _said in told])
    if getattr(newest, own):
        return ["change", *marks, f"--{own.replace('_', '-')}", _meant(newest, own)]
    return ["change", *marks, f"--{_FIRING[own].replace('_', '-')}", "NAME"]


def _label_of_many(told: list[tuple]) -> list[str] | None:
    """The command for a label that loads of several firings gainsay: it is wrong, most often."""
    own = _own_field(*told[0])
    firings = {firing.name for each, _said in told if (firing := getattr(each, _FIRING[own]))}
    label = _label(told[0]) if len(firings) > 1 else None
    return [*label, "--cones", "LOW-HIGH"] if label else None


def _of_many(told: list[tuple]) -> str:
    """What is said of the newest of them, and how many others are as far from the label."""
    more = counted(len({record.mark for record, _said in told}) - 1, "more tile")
    return f"{told[0][0].mark}: {told[0][1]} As far beyond it: {more}, of other firings too."


def _label(told: tuple) -> list[str] | None:
    """The command that changes the label a question is about; None where it names none."""
    return next(([what, "change", name] for what, name in labels(told)), None)


def _meant(record, own: str) -> str:
    """The cone with the other zero, where that would raise no question; else CONE."""
    from tiles.records.lost_zeros import require_confirmation

    try:
        require_confirmation(record)
    except Questioned as asked:
        what = own.removesuffix("_reached").replace("_", " ")
        return next((zero.meant for zero in asked.zeros if zero.what == what), "CONE")
    return "CONE"
