"""How likely the fault comes again on each changed tile, and which must not go on a shelf."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from diagnose.changed import changed
from diagnose.fixes.bench import Bench
from diagnose.measures.of_area import measures
from diagnose.next_tiles.changes import Candidate, Owned
from diagnose.next_tiles.choice import Rated, mean
from diagnose.next_tiles.odds import AS_IT_WAS, SWAPS, Like, chances, like
from diagnose.next_tiles.safety import brings, ran_before, runs_off, would_wreck
from diagnose.next_tiles.swaps import outlook
from diagnose.own_tiles.against import goes_against
from diagnose.own_tiles.fit import FIT_CAUSES
from diagnose.own_tiles.other_areas import sound_so
from diagnose.view import View, area_of

if TYPE_CHECKING:
    from diagnose.body_limit.fit import Belief
    from diagnose.body_limit.glaze_expansion import Expansions
    from diagnose.case import Case
    from diagnose.next_tiles.odds import Inspected
    from tiles.records.forms import TileRecord


@dataclass
class Ratings:
    """The changes that are safe with their chances; why others are not, and what is, cooler."""

    rated: list[Rated] = field(default_factory=list)
    left_out: list[str] = field(default_factory=list)
    cooler: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Rater:
    """What a change of a tile is judged with: its case, what is owned, and own tiles.

    ``belief`` and ``expansions`` are what is known of the body's limit, and to compute a fit.
    """

    case: "Case"
    owned: Owned
    rest: "Inspected"
    belief: "Belief | None" = None
    expansions: "Expansions | None" = None

    def rate_all(self, wanted: Sequence[Candidate]) -> Ratings:
        """Each change that is safe, with its chances; why the others are not; and what is, cooler.

        Parameters
        ----------
        wanted : sequence of Candidate
            From `next_tiles.wanted`.
        """
        found, case = Ratings(), self.case
        too_hot = would_wreck(case.view, case.record, case.facts)
        for each in wanted:
            then = changed(case.view, each.step, self.owned)
            facts = measures(then, case.area_number, case.defect)
            problem, is_too_hot = self._problem(each, then, facts, too_hot)
            said = each.step.changes[0].said
            if problem:
                found.left_out.append(f"{said}: {problem}")
            elif is_too_hot:
                found.cooler.append(said)
            else:
                found.rated.append(self._rate(each, then, facts))
        return found

    def _problem(
        self, candidate: Candidate, then: "TileRecord", facts: Mapping, too_hot: str
    ) -> tuple[str, bool]:
        """Why the changed tile must not go on a shelf; whether it may if only it goes less hot.

        ``too_hot`` is why the tile as it was must not.
        """
        view, other = self.case.view, View(then, area_of(then, self.case.area_number))
        problem = would_wreck(view, then, facts)
        is_too_hot = bool(problem) and problem == too_hot
        if is_too_hot:
            problem = runs_off(view, other, facts)
        if candidate.kind == "glaze" and not problem:
            problem = ran_before(other, self.rest)
        return problem, is_too_hot

    def _rate(self, candidate: Candidate, then: "TileRecord", facts: Mapping) -> Rated:
        """The chances of a change that is safe, and own tiles that were made so."""
        case = self.case
        made = like(self.rest, then, case.area_number, case.defect, candidate.kind)
        again = chances(case, candidate, facts, self._as_it_was)
        chance, limit_bits = mean(case, again), 0.0
        if candidate.kind == "glaze" and not made.is_told:
            chance, limit_bits = self._by_limit(candidate, again)
        if candidate.kind in SWAPS:
            here = (case.area_number, case.defect)
            chance, made = outlook(self.rest, then, *here, candidate.kind, chance)
        else:
            chance = made.chance(chance)
        areas = tuple(sound_so(Bench(case.view, "", case.setting), candidate.step))
        chance = Like(0, min(1, len(areas))).chance(chance)  # they are one tile, which tells first
        holds = tuple(brings(case.view, candidate.step, self.owned))
        against = goes_against(case, candidate)
        parts = bool(case.studio) and not case.studio.holds_of(then, case.area_number)
        return Rated(candidate, again, chance, limit_bits, made, areas, holds, against, parts)

    @cached_property
    def _as_it_was(self) -> Like:
        """Own tiles made as the failed one."""
        case = self.case
        return like(self.rest, case.record, case.area_number, case.defect, AS_IT_WAS)

    def _by_limit(self, candidate: Candidate, again: Sequence[float]) -> tuple[float, float]:
        """A glaze of computed expansion: its chance on this body, and the bits it tells.

        The chance is that of the computed fit where fit is the cause.
        """
        from diagnose.body_limit.fit import chance_and_worth

        case, name = self.case, candidate.step.edit["glaze"]
        recipe = self.owned.recipes.get(name)
        glass = self.expansions.of_recipe("", recipe) if recipe and self.expansions else None
        if glass is None or self.belief is None:
            return mean(case, again), 0.0
        span = (glass.value, glass.low, glass.high)
        chance, bits = chance_and_worth(self.belief, case.defect, *span, name)
        is_fit = [row.cause is not None and row.cause.name in FIT_CAUSES for row in case.rows]
        share = sum(row.share for row, fits in zip(case.rows, is_fit, strict=True) if fits)
        mixed = [chance if fits else before for before, fits in zip(again, is_fit, strict=True)]
        return mean(case, mixed), bits * share
