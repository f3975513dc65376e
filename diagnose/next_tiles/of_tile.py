"""The next tiles to fire: single changes whose outcomes tell the likeliest causes apart.

For each change it is worked out how likely each cause would let the defect come again
(`diagnose.next_tiles.odds`). Those tiles are chosen whose outcomes together are expected to narrow
the causes most, in bits. What was tried for this tile already is not proposed again.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from diagnose.changed import changed
from diagnose.fixes.bench import Bench
from diagnose.fixes.hot_shelf import hot_shelf
from diagnose.fixes.ranges import ceiling, not_together
from diagnose.fixes.shapes import KILN, ORDER, UNDER, Trial
from diagnose.fixes.steps_coat import WHOLE_BAG, has_no_bag
from diagnose.fixes.trials import control, step_trial
from diagnose.measures.of_area import measures
from diagnose.next_tiles.changes import Candidate, Owned, candidates
from diagnose.next_tiles.choice import (
    LEAST_TILES,
    MOST_FIRST,
    MOVED,
    Rated,
    changes_little,
    choose,
    entropy,
    goes_first,
    information,
    mean,
    named,
    of_studio_count,
    only_open,
    outcomes,
    tells,
    twin_of,
)
from diagnose.next_tiles.in_vain import in_vain
from diagnose.next_tiles.odds import AS_IT_WAS, SWAPS, Like, chances, like
from diagnose.next_tiles.safety import brings, ran_before, runs_off, saves_shelf, would_wreck
from diagnose.next_tiles.swaps import outlook
from diagnose.own_tiles.against import goes_against, spoken_against
from diagnose.own_tiles.failures import OwnTiles, failed_beside, failed_ever, own_tiles
from diagnose.own_tiles.fit import FIT_CAUSES
from diagnose.own_tiles.other_areas import failed_so, sound_so
from diagnose.own_tiles.other_fault import other_fault
from diagnose.own_tiles.right_shelf import shelves_that_miss
from diagnose.own_tiles.twins import Twin
from diagnose.trials.changes import tested
from diagnose.trials.tried import Tried, is_control, waiting_for
from diagnose.unrecorded import most_telling
from diagnose.view import View, area_of
from diagnose.wording import listed, missing
from tiles.records.failures_only import failures_only
from tiles.records.spoken import spoken_kiln
from tiles.records.words import OTHER_FAULT, name_key

if TYPE_CHECKING:
    from diagnose.answer import Diagnosis
    from diagnose.body_limit.fit import Belief
    from diagnose.body_limit.glaze_expansion import Expansions
    from diagnose.case import Case
    from tiles.records.forms import TileRecord

MOST_TO_RECORD = 2
MOST_AGAINST = 3
"""Of so many causes it is told what own tiles say against them; as many are named first."""


@dataclass(frozen=True)
class NextTile:
    """One tile to fire, and what its outcome would mean.

    ``bits`` is what it tells by itself; ``chance_again`` how likely its causes let the defect come
    again, ``chance_known`` how likely it does with what own tiles and a computed fit tell besides,
    None where they tell nothing. ``if_again`` and ``if_sound`` hold the causes by share then, the
    likeliest first: what is believed after each outcome averages to what is believed now. ``like``
    counts own tiles made that way already, or at least of its glaze or clay; ``twin`` are those
    alike in all else as well; ``sound_areas`` are those of the failed tile made that way;
    ``holds`` are the poisons that its glaze brings, where no tile without one tells anything;
    ``other_fault`` counts the own tiles that failed otherwise on another clay.
    """

    trial: Trial
    kind: str
    bits: float
    chance_again: float
    if_again: list[tuple[str, float]]
    if_sound: list[tuple[str, float]]
    own_firing: str = ""
    limit_bits: float = 0.0
    like: Like = Like()
    twin: Twin | None = None
    sound_areas: tuple[int, ...] = ()
    holds: tuple[str, ...] = ()
    chance_known: float | None = None
    other_fault: str = ""


@dataclass(frozen=True)
class NextTiles:
    """The tiles to fire next for one defect of a tile, with a control.

    ``open_bits`` is how open the causes are now, ``told_bits`` what all tiles are expected to
    tell. ``left_out`` are changes that would wreck a shelf, and why; there is no ``control``
    where the tile as it was would, or where one waits already. ``tried`` are trials for this tile
    that were looked at, ``waiting`` the marks of those that were not. ``stop`` says why nothing is
    fired: glaze and clay have no firing in common. ``look_after_days``: before that no tile can be
    called sound, 0 where the fault is there at unloading. ``made`` are changes of which own tiles
    show that the fault came all the same, and those tiles; ``in_vain`` those of which most do, or
    that bring another fault they show, and how. ``would_tell`` says what to look at or measure on
    the failed tile, ``confirm`` how to make sure of its first cause where no tile does;
    ``saves_shelf`` what goes below tiles like one that ran, ``hot_shelf`` that their own shelf
    often goes hotter than they stand; ``kiln`` names the one
    they are fired in, where own tiles were fired in several. ``no_hotter`` is the limit of what
    went hotter than clay or label stand; ``cooler`` are changes that only so could be fired.
    ``against`` is what own tiles say against the likeliest causes, by their titles; ``of_kin``
    what trials for a tile akin told.
    """

    mark: str
    defect: str
    causes: list[tuple[str, float]]
    control: Trial | None
    tiles: list[NextTile]
    open_bits: float
    told_bits: float
    left_out: list[str] = field(default_factory=list)
    tried: list[Tried] = field(default_factory=list)
    waiting: list[str] = field(default_factory=list)
    stop: str = ""
    look_after_days: int = 0
    made: list[str] = field(default_factory=list)
    in_vain: list[str] = field(default_factory=list)
    would_tell: list[str] = field(default_factory=list)
    saves_shelf: str = ""
    hot_shelf: str = ""
    kiln: str = ""
    no_hotter: str = ""
    confirm: list[str] = field(default_factory=list)
    cooler: list[str] = field(default_factory=list)
    against: dict[str, str] = field(default_factory=dict)
    of_kin: list[str] = field(default_factory=list)

    @property
    def trials(self) -> list[Trial]:
        """Control first, where there is one."""
        first = [self.control] if self.control else []
        return [*first, *(each.trial for each in self.tiles)]


def next_tiles(
    diagnosis: "Diagnosis",
    owned: Owned,
    *,
    others: "Sequence[TileRecord]" = (),
    belief: "Belief | None" = None,
    expansions: "Expansions | None" = None,
) -> NextTiles:
    """Choose up to five tiles that tell the causes of a diagnosis apart.

    Parameters
    ----------
    diagnosis : Diagnosis
        As `report.why` gives it, with its case.
    owned : Owned
        What can be used.
    others : sequence of TileRecord
        Own tiles: those made like a proposed one tell how likely the fault comes again.
    belief : Belief, optional
        What is believed of the body's limit: glazes near it are then worth firing.
    expansions : Expansions, optional
        To compute those glazes.

    Returns
    -------
    NextTiles
        Fewer where no more changes are possible, or none would tell much.
    """
    case, open_case = diagnosis.case, only_open(diagnosis.case)
    record, view = case.record, case.view
    shares = tuple(row.share for row in case.rows)
    open_shares = tuple(row.share for row in open_case.rows)
    own = own_tiles(case, others)
    every = replace(case, off_shelves=shelves_that_miss(record, others))
    found = candidates(view, every, owned)
    done = [tested(trial, view, found, owned) for trial in own.trials]
    no_bag = WHOLE_BAG if has_no_bag(view, owned.batches_on(view)) else ""
    wanted = [each for each in found if not any(each is one for one in done)]
    wanted = [each for each in wanted if each.step.key != no_bag]
    is_told = diagnosis.enough_to_tell
    asked = [row.name for row in case.rows if row.cause and row.is_in_question]
    mended = _mended(set(asked[:1] if is_told else asked), found)
    if case.defect == OTHER_FAULT and not mended:
        wanted = []  # another glaze tells nothing of a smear, nor of a sharp stub
    wanted = [each for each in wanted if every.goes_to(each.step.edit.get("shelf", ""))]
    bench = Bench(view, "", case.setting)
    made, wanted = _told_of(wanted, lambda each: _failed(own, bench, each, owned))
    vain, wanted = _told_of(
        wanted, lambda each: in_vain(own, case, each, owned, changed(view, each.step, owned))
    )
    stop = not_together(view)
    if stop:  # whatever came of another pair would not tell why this one failed
        wanted = []
    # Of failures alone none tells how often a fault does not come.
    rest = {} if failures_only(others) else own.ever
    rated, left_out, cooler = _rate_all(view, case, wanted, owned, rest, (belief, expansions))
    both = shares, open_shares
    chosen = _chosen(case, open_case, both, rated)
    tiles = [_tile(view, case, both, each, "ABCDE"[at]) for at, each in enumerate(chosen)]
    tiles = [_with_other_fault(each, view, others) for each in tiles]
    told = information(open_shares, [each.again for each in chosen])
    # Over its label the tile is not fired again as it was: beside another kiln it goes less hot,
    # and a right cone or shelf is compared with the tile itself.
    is_safe = not ceiling(view) or any(each.kind == KILN for each in tiles)
    waits = any(is_control(each) and not each.inspections for each in own.trials)
    once_more = control(view, every.off_shelves) if is_safe and not waits and not stop else None
    return NextTiles(
        *(record.mark, case.defect, named(case, shares), once_more, tiles),
        *(entropy(open_shares), told),
        left_out=left_out,
        tried=list(case.tried),
        waiting=waiting_for(record, others),
        stop=stop,
        look_after_days=own.late.look_after_days(record.body.name),
        made=[f"{said} ({', '.join(marks)})" for said, marks in made.items()],
        in_vain=[f"{said} ({why_not})" for said, why_not in vain.items()],
        would_tell=[
            missing(each) for each in most_telling(open_case.rows, case.facts, MOST_TO_RECORD)
        ],
        confirm=[] if tiles or mended or not is_told else diagnosis.causes[0].confirm[:1],
        saves_shelf=saves_shelf(record),
        hot_shelf=hot_shelf(view, others),
        kiln=_kiln_of_several(view, others),
        no_hotter=ceiling(view) if cooler else "",
        cooler=cooler,
        against=_against(case),
    )


def _chosen(case: "Case", open_case: "Case", both: tuple, rated: Sequence[Rated]) -> list[Rated]:
    """The changes to fire; ``both`` are the shares of all causes, and those of the open ones."""
    shares, open_shares = both
    telling = [each for each in rated if tells(open_case, open_shares, each)]
    plain = [each for each in telling if _says_something(case, shares, each)]
    # What is said to change little either way stands beside nothing better.
    rated = plain or (telling if case.tried or len(telling) >= LEAST_TILES else rated)
    rated = [each for each in rated if not each.holds] or rated
    first = [each for each in rated if goes_first(case, each)]
    first.sort(key=lambda each: (_by_layers(each), each.chance))
    first += [each for each in of_studio_count(rated) if each not in first]
    return choose(rated, open_shares, 0 if case.tried else LEAST_TILES, first[:MOST_FIRST])


def _told_of(
    found: Sequence[Candidate], why_not: "Callable[[Candidate], Sequence[str]]"
) -> "tuple[dict[str, Sequence[str]], list[Candidate]]":
    """By what it changes why each is left out, where there is a reason; and the others."""
    told = {each.step.changes[0].said: said for each in found if (said := why_not(each))}
    return told, [each for each in found if each.step.changes[0].said not in told]


def _against(case: "Case") -> dict[str, str]:
    """What own tiles say against the likeliest causes, by their titles; the first of each."""
    rows = [row for row in case.rows[:MOST_AGAINST] if row.is_in_question and row.share >= MOVED]
    told = ((spoken_against(case, row.name), row.title) for row in rows)
    return {title: said[0] for said, title in told if said}


def _mended(asked: "set[str]", found: Sequence[Candidate]) -> bool:
    """Whether a change would mend one of some causes, or ease it."""
    return any(asked & (each.acts_on | each.eases) for each in found)


def _kiln_of_several(view: View, others: "Sequence[TileRecord]") -> str:
    """The kiln of the tile, where own tiles were fired in others as well."""
    kilns = {name_key(kiln) for each in others if (kiln := View(each).kiln)}
    return spoken_kiln(view.kiln) if view.kiln and kilns - {name_key(view.kiln)} else ""


def _by_layers(rated: Rated) -> bool:
    """What goes first by the layers of own tiles goes before what does so by a twin."""
    by_twin = rated.candidate.kind == UNDER and not rated.candidate.acts_on
    return rated.candidate.kind not in (UNDER, ORDER, "glaze") or by_twin


def _failed(own: OwnTiles, bench: Bench, candidate: Candidate, owned: Owned) -> list[str]:
    """The other areas of the tile, and the tiles, made as a changed one and failed as well."""
    areas = failed_so(bench, candidate.step)
    asked = bench, candidate.step, candidate.kind, owned
    failed = failed_beside(own.beside, *asked) or failed_ever(own.ever, *asked)
    here = [f"area{'s' if len(areas) > 1 else ''} {listed(list(map(str, areas)))} of it"]
    return [*(here if areas else []), *failed]


def _rate_all(
    view: View, case: "Case", wanted: Sequence[Candidate], owned: Owned, rest, limit: tuple
) -> tuple[list[Rated], list[str], list[str]]:
    """Each change that is safe, with its chances; why the others are not; and what is, cooler."""
    rated, left_out, cooler = [], [], []
    too_hot = would_wreck(view, case.record, case.facts)
    as_it_was = like(rest, case.record, case.area_number, case.defect, AS_IT_WAS)
    for each in wanted:
        then = changed(view, each.step, owned)
        facts = measures(then, case.area_number, case.defect)
        problem, said = would_wreck(view, then, facts), each.step.changes[0].said
        other = View(then, area_of(then, case.area_number))
        is_too_hot = problem and problem == too_hot
        if is_too_hot:
            problem = runs_off(view, other, facts)
        if each.kind == "glaze" and not problem:
            problem = ran_before(other, rest)
        if is_too_hot and not problem:
            cooler.append(said)
            continue
        if problem:
            left_out.append(f"{said}: {problem}")
            continue
        made = like(rest, then, case.area_number, case.defect, each.kind)
        again = chances(case, each, facts, as_it_was)
        chance, limit_bits = mean(case, again), 0.0
        if each.kind == "glaze" and not made.tiles:
            chance, limit_bits = _by_limit(case, each, owned, *limit, again)
        if each.kind in SWAPS:
            here = (case.area_number, case.defect)
            chance, made = outlook(rest, then, *here, each.kind, chance)
        else:
            chance = made.chance(chance)
        areas = tuple(sound_so(Bench(view, "", case.setting), each.step))
        chance = Like(0, min(1, len(areas))).chance(chance)  # they are one tile, which tells first
        holds = tuple(brings(view, each.step, owned))
        against = goes_against(case, each)
        parts = bool(case.studio) and not case.studio.holds_of(then, case.area_number)
        rated.append(Rated(each, again, chance, limit_bits, made, areas, holds, against, parts))
    return rated, left_out, cooler


def _by_limit(case, candidate, owned, belief, expansions, again) -> tuple[float, float]:
    """A glaze of computed expansion: its chance on this body, and the bits it tells of the limit.

    The chance is that of the computed fit where fit is the cause.
    """
    from diagnose.body_limit.fit import chance_and_worth

    name = candidate.step.edit["glaze"]
    recipe = owned.recipes.get(name)
    glass = expansions.of_recipe("", recipe) if recipe and expansions else None
    if glass is None or belief is None:
        return mean(case, again), 0.0
    span = (glass.value, glass.low, glass.high)
    chance, bits = chance_and_worth(belief, case.defect, *span, name)
    is_fit = [row.cause is not None and row.cause.name in FIT_CAUSES for row in case.rows]
    share = sum(row.share for row, fits in zip(case.rows, is_fit, strict=True) if fits)
    mixed = [chance if fits else before for before, fits in zip(again, is_fit, strict=True)]
    return mean(case, mixed), bits * share


def _says_something(case: "Case", shares: tuple[float, ...], rated: Rated) -> bool:
    """Whether an outcome reads as more than "little changes", or own tiles made so are sound."""
    if goes_first(case, rated) or rated.limit_bits or rated.parts:
        return True
    now = named(case, shares)
    then = (named(case, after) for after in outcomes(case, shares, rated.again))
    return not all(changes_little(each, now) for each in then)


def _tile(view: View, case: "Case", both: tuple, rated: Rated, name: str) -> NextTile:
    """A tile to fire; ``both`` are the shares of all causes, and those of the open ones."""
    shares, open_shares = both
    made = rated.candidate.step
    failed, sound = outcomes(case, shares, rated.again)
    by_causes = mean(case, rated.again)
    bench = Bench(view, "", case.setting, off_shelves=case.off_shelves)
    trial = replace(step_trial(bench, made), name=name)
    return NextTile(
        trial=trial,
        kind=rated.candidate.kind,
        bits=information(open_shares, [rated.again]),
        chance_again=by_causes,
        chance_known=None if math.isclose(rated.chance, by_causes) else rated.chance,
        if_again=named(case, failed),
        if_sound=named(case, sound),
        own_firing=made.firing,
        limit_bits=rated.limit_bits,
        like=rated.like,
        sound_areas=rated.sound_areas,
        holds=rated.holds,
        twin=twin_of(case, rated.candidate),
    )


def _with_other_fault(tile: NextTile, view: View, others: "Sequence[TileRecord]") -> NextTile:
    """With what else goes wrong on another clay, where own tiles of the glaze show it."""
    if tile.kind != "body":
        return tile
    body = tile.trial.tile["body"]["name"]
    return replace(tile, other_fault=other_fault(others, view.glaze_name, body, view.defect))
