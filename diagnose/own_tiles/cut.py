"""One fact cut in two: other tiles of a glaze counted on this tile's side and on the other."""

from collections.abc import Sequence
from dataclasses import dataclass

from diagnose.comparing.counted import Counted, Fact, Sides, failed_and_all, most_uneven
from diagnose.own_tiles.lesson import Lesson
from diagnose.own_tiles.lift import lift_of_count
from diagnose.wording import DID

LEAST_EACH, LEAST_FAILED = 2, 2
"""Other tiles on each side, and of them failed, before a count is told."""
TELLING = 0.2
"""How often chance may part them so, all cuts of the fact allowed for, before nothing is said."""
EQUAL_FROM = 6
"""So many tiles on each side, and the same share failing, speak against a fact."""


def lesson_of_cut(
    name: str, cuts: Sequence[Fact], others: Sequence[Counted], value: float | str, defect: str
) -> Lesson | None:
    """The count by the cut of a fact that tells most, or None where none tells anything.

    Parameters
    ----------
    name : str
        The fact.
    cuts : sequence of Fact
        The ways to cut it in two.
    others : sequence of Counted
        The other tiles of the glaze.
    value : float or str
        Of the tile asked about. A word that no other tile has stands on no side.
    defect : str
        One word of the defect list.
    """
    is_word = isinstance(value, str)
    sides = [(cut, cut.has(value)) for cut in cuts if cut.is_number is not is_word]
    counted = [each for each in (_count(*each, others) for each in sides) if each]
    if not counted or is_word and not any(has for _, has in sides):
        return None
    most = _most_uneven(counted)
    many = len({each.areas for each in counted})
    failing = [
        each
        for each in counted
        if lift_of_count(each.here, each.there, each.p_value * many) > 0
        and not _is_lent(each, most, others)
    ]
    telling = [each for each in failing if each.p_value * many <= TELLING]
    best = _most_uneven(telling or counted)
    here, there = best.here, best.there
    if here[0] + there[0] < LEAST_FAILED:
        return None
    chance = min(1.0, best.p_value * many)
    lift = 0.0 if _is_lent(best, most, others) else lift_of_count(here, there, chance)
    is_equal = lift <= 0 and min(here[1], there[1]) >= EQUAL_FROM
    if chance > TELLING and not is_equal:
        return None
    told = _say(here, there, best.words, DID.get(defect, "failed"))
    is_more = best.side if cuts[0].is_number else None
    counts = name, *here, *there, chance, round(lift, 3), told
    return Lesson(*counts, best.is_here, is_more, holds_with=best.has)


@dataclass(frozen=True)
class _Cut:
    """One cut: the areas on the side of this tile and on the other; ``words`` say both sides."""

    fact: Fact
    side: bool
    sides: Sides
    words: tuple[str, str]

    @property
    def here(self) -> tuple[int, int]:
        """Failed and all tiles on this side."""
        return self.sides.tiles[0]

    @property
    def there(self) -> tuple[int, int]:
        """The same on the other."""
        return self.sides.tiles[1]

    @property
    def p_value(self) -> float:
        """How often chance parts them so."""
        return self.sides.p_value

    def is_here(self, each: Counted) -> bool | None:
        """Whether an area is on this side; None where that is not known."""
        holds = self.fact.holds(each)
        return None if holds is None else holds is self.side

    def has(self, value: float | str) -> bool:
        """Whether a tile with this value stands on this side."""
        return self.fact.has(value) is self.side

    @property
    def areas(self) -> frozenset[int]:
        """The areas on this side: two names, each against all others, make one cut."""
        return frozenset(map(id, self.sides.here))


def _most_uneven(cuts: Sequence[_Cut]) -> _Cut:
    """Of cuts that part alike that with more tiles on this side, and of numbers the greater."""
    return most_uneven(cuts, lambda each: each.sides, lambda each: (-sum(each.here), not each.side))


def _count(fact: Fact, side: bool, others: Sequence[Counted]) -> _Cut | None:
    """Failed and all on this tile's side and on the other; None where a side is too small."""
    here = [each for each in others if fact.holds(each) is side]
    there = [each for each in others if fact.holds(each) is (not side)]
    sides = Sides(here, there)
    if min(many for _, many in sides.tiles) < LEAST_EACH:
        return None
    # The other side is said first, so in full.
    words = (fact.said, fact.otherwise) if side else (fact.otherwise_after, fact.in_full)
    return _Cut(fact, side, sides, words)


def _is_lent(one: _Cut, most: _Cut, others: Sequence[Counted]) -> bool:
    """Whether the failures on this tile's side lie, all or nearly, beyond a more uneven cut.

    Two coats are no cause where three crawled and two came out as sound as one; or nearer to it
    than to three, by a difference that luck makes.
    """
    if one is most:
        return False
    side = [each for each in others if one.fact.holds(each) is one.side]
    own = [each for each in side if most.fact.holds(each) is most.side]
    beyond = [each for each in side if most.fact.holds(each) is (not most.side)]
    apart = Sides(own, one.sides.there)
    share, there, of_beyond = map(_share, (*apart.tiles, failed_and_all(beyond)))
    if apart.tiles[0][1] < LEAST_EACH:
        return False
    is_nearer = bool(beyond) and share - there < of_beyond - share
    return share <= there or is_nearer and apart.p_value > TELLING


def _share(failed_and_many: tuple[int, int]) -> float:
    failed, many = failed_and_many
    return failed / max(many, 1)


def _say(here: tuple, there: tuple, words: tuple[str, str], verb: str) -> str:
    """Both counts in one sentence."""
    did = f"{there[0] or 'none'} {verb}"
    also = f"{here[0] or 'none'} did"
    return f"of {there[1]} others {words[1]} {did}, of {here[1]} like this one, {words[0]}, {also}."
