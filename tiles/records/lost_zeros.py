"""Which cone was meant, where the one with the other zero would raise no question.

A spreadsheet turns 06 into 6, nine steps hotter; a hand that is used to 06 writes it for 6.
"""

from collections.abc import Collection

from tiles.chemistry.cones import for_sheets, steps_between, with_other_zero
from tiles.errors import OtherZero, Questioned, shell_line
from tiles.records import questions
from tiles.records.answered import not_answered
from tiles.records.derived import label_range, layers_of
from tiles.records.far_labels import FAR_OUTSIDE_STEPS
from tiles.records.forms import FiringRecord, TileRecord

_PLACES = (("cone", "cone_reached", "firing"), ("bisque cone", "bisque_cone", "bisque_firing"))
"""What its cone is called, the tile's own field, and the firing that tells of it as well."""


def require_confirmation(record: TileRecord, before: Collection[str] = ()) -> None:
    """As :func:`tiles.records.questions.require_confirmation`, naming the cone that was meant."""
    try:
        questions.require_confirmation(record, before)
    except Questioned as question:
        question.zeros = _zeros(record, before)
        if question.zeros:
            meant = " and ".join(f"{zero.what} {zero.meant}" for zero in question.zeros)
            if (last := question.zeros[-1].meant).startswith("0"):
                meant = f"{meant} ({for_sheets(last)} in a sheet)"
            way = _first_of_firing(record, question.zeros) or f"{meant} if this was a slip"
            question.hint = f"{way}, or --yes if it really was so."
        raise


def tells_low_from_mid(record: TileRecord) -> bool:
    """Whether the kind of clay, or a label with two ends, tells cone 6 from cone 06.

    A range that lost its zeros runs backwards and is refused; one cone alone may have lost its 0.
    """
    labels = [label_range(record.body)]
    labels += [label_range(layer.glaze) for layer in layers_of(record)]
    return bool(record.body.kind) or any(known and known[0] != known[1] for known in labels)


def _first_of_firing(record: TileRecord, zeros: tuple[OtherZero, ...]) -> str:
    """The command to be given first, where the tile's own cone stands and its firing's does not.

    Its witness cones that lost the same 0 go with it: the target alone would be questioned.
    """
    firing, (zero, *others) = record.firing, zeros
    is_own = zero.what != "cone" or not record.cone_reached or record.cone_reached == zero.cone
    if others or is_own or firing.target_cone != zero.cone:
        return ""
    cones = other_witnesses(firing, zero.meant)
    change = ["tiles", "firing", "change", firing.name, "--target-cone", zero.meant, *cones]
    return f"'{shell_line(change)}' first if it was set for that, then the same again"


def other_witnesses(firing: FiringRecord, target: str) -> list[str]:
    """The witness cones far from a target, with their other zero, as a command is given them."""
    read = [
        f"{other}@{each.shelf}" if each.shelf else other
        for each in firing.witness_cones
        if abs(steps_between(target, each.cone)) >= FAR_OUTSIDE_STEPS
        and (other := with_other_zero(each.cone))
    ]
    return [part for each in read for part in ("--witness-cone", each)]


def _zeros(record: TileRecord, before: Collection[str]) -> tuple[OtherZero, ...]:
    """The cones to be written otherwise; none where that does not answer every question."""
    found = []
    for what, own, held in _PLACES:
        # What the tile was answered for stays doubtful: of two ways the one that leaves none of it.
        tries = [
            (_doubts(changed, before), OtherZero(what, cone, other), changed)
            for cone in _cones(record, own, held)
            if (other := with_other_zero(cone))
            for changed in [_written(record, own, held, cone, other)]
        ]
        fewest, zero, changed = min(tries, key=lambda each: each[0], default=((0, 0), None, None))
        if zero and fewest[0] < len(_asked(record, before)):
            found.append(zero)
            record = changed
    return tuple(found) if not _asked(record, before) else ()


def _doubts(record: TileRecord, before: Collection[str]) -> tuple[int, int]:
    """How many questions would be asked, and how many there are with those answered before."""
    return len(_asked(record, before)), len(questions.questions(record))


def _asked(record: TileRecord, before: Collection[str]) -> list[str]:
    return not_answered(questions.questions(record), before)


def _cones(record: TileRecord, own: str, held: str) -> list[str]:
    firing: FiringRecord | None = getattr(record, held)
    told = [getattr(record, own)]
    if firing:
        told += [firing.target_cone, *(read.cone for read in firing.witness_cones)]
    return list(dict.fromkeys(cone for cone in told if cone))


def _written(record: TileRecord, own: str, held: str, cone: str, other: str) -> TileRecord:
    """The record with one cone written as another, on the tile and in its firing."""
    changes: dict = {own: other} if getattr(record, own) == cone else {}
    firing: FiringRecord | None = getattr(record, held)
    if firing:
        reads = [
            read.model_copy(update={"cone": other}) if read.cone == cone else read
            for read in firing.witness_cones
        ]
        target = other if firing.target_cone == cone else firing.target_cone
        of_firing = {"target_cone": target, "witness_cones": reads}
        changes[held] = firing.model_copy(update=of_firing)
    return record.model_copy(update=changes)
