"""Which of the possible trials are fired: those that tell most, together, of the cause."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from diagnose.fixes.shapes import KILN, ORDER, OVER, UNDER
from diagnose.next_tiles.odds import Like
from diagnose.own_tiles.other_areas import only_on_overlap

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.next_tiles.changes import Candidate
    from diagnose.own_tiles.twins import Twin

LEAST_TILES, MOST_TILES = 3, 5
MOST_OF_A_KIND = 2
MOST_FIRST = 2
"""So many go first because own tiles made so, though never as a trial, came out sound."""
LEAST_BITS, NO_BITS = 0.01, 0.0001
"""What a tile must add to be worth firing; what it must where there are fewer than three, and
nothing was tried yet."""
OF_WHAT_SHOWS = ("colour shift", "cloudiness")
"""Faults that are seen through a clear."""
_PARTED_BY = {UNDER: "under", ORDER: "under", KILN: "kiln"}
"""Changes that go first where own tiles are parted by such a thing."""
MOVED = 0.05
"""Where an outcome moves no share of a cause by more, it changes little."""
OWN_FIRING_COUNTS = 0.5
"""A tile that needs a firing of its own is worth so much of what it tells ..."""
AGAINST_COUNTS = 0.5
"""... and so is one for a cause that own tiles speak against: one of these is enough (estimate)."""


@dataclass(frozen=True)
class Rated:
    """A change; ``again`` is the chance that its outcome will be weighed by, for each cause.

    ``chance`` holds what is known besides: own tiles made that way, a body's limit;
    ``is_against``: most of what it acts on is what own tiles speak against. ``parts``: it puts the
    tile on the other side of what is clear over tiles of all glazes.
    """

    candidate: "Candidate"
    again: tuple[float, ...]
    chance: float
    limit_bits: float = 0.0
    like: Like = Like()
    sound_areas: tuple[int, ...] = ()
    holds: tuple[str, ...] = ()
    is_against: bool = False
    parts: bool = False

    @property
    def factor(self) -> float:
        """What a tile is worth that needs a firing of its own, or is against what own tiles say."""
        return of_firing(self.candidate) * (AGAINST_COUNTS if self.is_against else 1.0)


def of_firing(candidate: "Candidate") -> float:
    """What a tile is worth that needs a firing of its own, or none."""
    return OWN_FIRING_COUNTS if candidate.step.firing else 1.0


def tells(case: "Case", shares: tuple[float, ...], rated: Rated) -> bool:
    """Whether one outcome moves a cause, or tells of the body's limit what is worth a tile.

    What goes first is worth one in any case: it may mend what no cause accounts for.
    """
    moved = (
        abs(after - before)
        for then in outcomes(case, shares, rated.again)
        for after, before in zip(then, shares, strict=True)
    )
    is_worth_it = rated.parts or rated.limit_bits >= LEAST_BITS or goes_first(case, rated)
    return is_worth_it or any(by > MOVED for by in moved)


def changes_little(then: Sequence[tuple[str, float]], now: Sequence[tuple[str, float]]) -> bool:
    """Whether an outcome leaves the first cause first, about as likely, and lifts no other one.

    Parameters
    ----------
    then, now : sequence of tuple
        The causes by share after the outcome, and before it, the likeliest first.
    """
    before = dict(now)
    first, share = then[0]
    if first != now[0][0] or abs(share - before[first]) > MOVED:
        return False
    return riser(then, now) is None


def riser(
    then: Sequence[tuple[str, float]], now: Sequence[tuple[str, float]]
) -> tuple[str, float] | None:
    """The cause among the next two that an outcome lifts most, with its share then; or none."""
    before = dict(now)
    most = max(then[:3], key=lambda each: each[1] - before[each[0]])
    is_other = most[0] != then[0][0] and most[1] - before[most[0]] > MOVED / 2
    return most if is_other else None


def outcomes(
    case: "Case", shares: tuple[float, ...], chances: Sequence[float]
) -> tuple[list[float], list[float]]:
    """The shares of the causes where the fault comes again, and where it does not."""
    again = mean(case, chances)
    failed = [s * c / again for s, c in zip(shares, chances, strict=True)]
    sound = [s * (1 - c) / (1 - again) for s, c in zip(shares, chances, strict=True)]
    return failed, sound


def named(case: "Case", shares: Sequence[float]) -> list[tuple[str, float]]:
    """The causes in question, as `tiles why` lists them."""
    rows = zip(case.rows, shares, strict=True)
    told = [(row.title, share) for row, share in rows if row.is_in_question]
    return sorted(told, key=lambda each: -each[1])


def only_open(case: "Case") -> "Case":
    """The case with nothing left of the causes out of the question: no trial is for them."""
    left = [row.share if row.is_in_question else 0.0 for row in case.rows]
    rows = (
        replace(row, share=share / sum(left)) for row, share in zip(case.rows, left, strict=True)
    )
    return replace(case, rows=tuple(rows))


def of_studio_count(rated: Sequence[Rated]) -> list[Rated]:
    """The changes that test what is clear over tiles of all glazes, one of a kind.

    Another clay comes last: a person would rather keep the one they have.
    """
    found: dict[str, Rated] = {}
    for each in sorted(rated, key=lambda each: each.chance):
        if each.parts:
            found.setdefault(each.candidate.kind, each)
    return sorted(found.values(), key=lambda each: each.candidate.kind == "body")


def goes_first(case: "Case", rated: Rated) -> bool:
    """Whether own tiles made so came out sound: twins, or those over another layer or none.

    Those in another kiln, where kilns part them clearly; of two glazes laid the other way round
    none that failed; of another clear over the same colour some that did not.
    """
    kind = rated.candidate.kind
    if kind in ("glaze", OVER) and case.defect in OF_WHAT_SHOWS and case.view.colours:
        return rated.like == Like(0, rated.like.tiles) and rated.like.tiles > 0
    if kind not in _PARTED_BY:
        return twin_of(case, rated.candidate) is not None
    lessons = case.own.lessons if case.own else ()
    is_parted = any(each.measure == _PARTED_BY[kind] and each.lift > 0 for each in lessons)
    if kind == ORDER:
        is_known = rated.like.tiles and only_on_overlap(case.view)
        return not rated.like.failed and bool(is_parted or is_known)
    return is_parted or bool(rated.sound_areas) or twin_of(case, rated.candidate) is not None


def mean(case: "Case", chances_of: Sequence[float]) -> float:
    """A chance over all causes, by their shares."""
    return sum(row.share * chance for row, chance in zip(case.rows, chances_of, strict=True))


def twin_of(case: "Case", candidate: "Candidate") -> "Twin | None":
    """The sound tiles that a change would make another one of."""
    return next((each for each in case.twins if each.is_made_by(candidate.step)), None)


def choose(
    rated: Sequence[Rated], shares: tuple[float, ...], at_least: int, first: Sequence[Rated]
) -> list[Rated]:
    """Some first, then one by one the tile that adds most to what the others tell.

    Of these what own tiles speak against stands last, after it what needs a firing of its own.
    """
    chosen = list(first)
    # Of two that tell as much, the one that is likelier to come out sound.
    left = [each for each in sorted(rated, key=lambda each: each.chance) if each not in chosen]
    while left and len(chosen) < MOST_TILES:
        have = information(shares, [each.again for each in chosen])

        def gain(each: Rated, have: float = have) -> float:
            together = information(shares, [*(c.again for c in chosen), each.again])
            return (together - have) * each.factor + each.limit_bits

        left = [each for each in left if _has_room(each, chosen)]
        best = max(left, key=gain, default=None)
        least = LEAST_BITS if len(chosen) >= at_least else NO_BITS
        if best is None or gain(best) < least:
            break
        chosen.append(best)
        left.remove(best)
    then = sorted(
        chosen[len(first) :], key=lambda each: (bool(each.candidate.step.firing), each.is_against)
    )
    return [*first, *then]


def _has_room(each: Rated, chosen: Sequence[Rated]) -> bool:
    kinds = [one.candidate.kind for one in chosen]
    own_firing = each.candidate.step.firing and any(c.candidate.step.firing for c in chosen)
    against = each.is_against and any(c.is_against for c in chosen)
    return kinds.count(each.candidate.kind) < MOST_OF_A_KIND and not own_firing and not against


def information(shares: tuple[float, ...], tiles: Sequence[tuple[float, ...]]) -> float:
    """Bits that the outcomes of some tiles are expected to tell of the cause."""
    expected = 0.0
    for outcome in range(2 ** len(tiles)):
        joint = list(shares)
        for at, again in enumerate(tiles):
            seen = outcome >> at & 1
            joint = [
                share * (chance if seen else 1 - chance)
                for share, chance in zip(joint, again, strict=True)
            ]
        whole = sum(joint)
        if whole > 0:
            expected += whole * entropy([each / whole for each in joint])
    return max(0.0, entropy(shares) - expected)


def entropy(shares: Sequence[float]) -> float:
    """How open the causes are, in bits."""
    return -sum(share * math.log2(share) for share in shares if share > 0)
