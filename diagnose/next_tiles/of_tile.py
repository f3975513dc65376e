"""The next tiles to fire: single changes whose outcomes tell the likeliest causes apart.

For each change it is worked out how likely each cause would let the defect come again
(`diagnose.next_tiles.odds`). Those tiles are chosen whose outcomes together are expected to narrow
the causes most, in bits. What was tried for this tile already is not proposed again.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from diagnose.comparing.of_studio import fails_together
from diagnose.fixes.bench import Bench
from diagnose.fixes.hot_shelf import hot_shelf
from diagnose.fixes.ranges import ceiling
from diagnose.fixes.shapes import KILN, ORDER, UNDER, Trial
from diagnose.fixes.trial_set import control_of_load
from diagnose.fixes.trials import control, step_trial
from diagnose.next_tiles.changes import Owned
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
from diagnose.next_tiles.odds import Inspected, Like
from diagnose.next_tiles.rating import Rater, Ratings
from diagnose.next_tiles.safety import saves_shelf
from diagnose.next_tiles.wanted import Wanted, wanted
from diagnose.own_tiles.against import spoken_against
from diagnose.own_tiles.failures import own_tiles
from diagnose.own_tiles.load_or_make import LoadOrMake, load_or_make
from diagnose.own_tiles.other_fault import other_fault
from diagnose.own_tiles.other_words import that_mean_the_same
from diagnose.own_tiles.right_shelf import shelves_that_miss
from diagnose.own_tiles.twins import Twin
from diagnose.trials.other_load import chances_in_other_load
from diagnose.trials.tried import Tried, is_control, waiting_for
from diagnose.unrecorded import most_telling
from diagnose.view import View
from diagnose.wording import missing
from tiles.records.failures_only import failures_only
from tiles.records.spoken import spoken_kiln
from tiles.records.words import name_key

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
    ``other_fault`` counts the own tiles that failed otherwise on another clay; ``on_kin`` how
    trials of the very change for a tile akin came out.
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
    on_kin: str = ""


@dataclass(frozen=True)
class NextTiles:
    """The tiles to fire next for one defect of a tile, with a control.

    ``open_bits`` is how open the causes are now, ``told_bits`` what all tiles are expected to
    tell. ``left_out`` are changes that would wreck a shelf, and why; there is no ``control``
    where the tile as it was would, or where one waits already. ``tried`` are trials for this tile
    that were looked at, ``waiting`` the marks of those that were not. ``stop`` says why nothing is
    fired: glaze and clay have no firing in common. ``look_after_days``: before that no tile can be
    called sound, 0 where the fault is there at unloading; ``came_between``: between which looks
    the latest own tile came. ``made`` are changes of which own tiles
    show that the fault came all the same, and those tiles; ``in_vain`` those of which most do, or
    that bring another fault they show, and how. ``would_tell`` says what to look at or measure on
    the failed tile, ``confirm`` how to make sure of its first cause where no tile does;
    ``saves_shelf`` what goes below tiles like one that ran, ``hot_shelf`` that their own shelf
    often goes hotter than they stand; ``kiln`` names the one
    they are fired in, where own tiles were fired in several. ``no_hotter`` is the limit of what
    went hotter than clay or label stand; ``cooler`` are changes that only so could be fired.
    ``against`` is what own tiles say against the likeliest causes, by their titles; ``of_kin``
    what trials for a tile akin told. ``load`` is its load where that failed as a whole; while that
    is the first suspect (`LoadOrMake.leads`) there are no ``tiles``, and the control goes alone.
    ``all_glazes`` is what else most tiles of all glazes fail by, where the tile is one of those.
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
    came_between: str = ""
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
    load: LoadOrMake | None = None
    all_glazes: str = ""

    @property
    def is_of_load(self) -> bool:
        """Whether its load comes first, and its control goes alone."""
        return self.load is not None and self.load.leads

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
    case, record = diagnosis.case, diagnosis.case.record
    # Of the kiln, the coat and what waits all tiles tell, of the fault those that mean the same.
    of_fault = that_mean_the_same(others, case)
    own = own_tiles(case, of_fault)
    every = replace(case, off_shelves=shelves_that_miss(record, others))
    found = wanted(diagnosis, every, own, owned, others)
    # Of failures alone none tells how often a fault does not come.
    rest = Inspected() if failures_only(of_fault) else own.ever
    ratings = Rater(case, owned, rest, belief, expansions).rate_all(found.changes)
    load = load_or_make(diagnosis, others)
    leads = load is not None and load.leads
    chosen = [] if leads else _chosen(case, ratings.rated)
    tiles = [_tile(every, each, "ABCDE"[at]) for at, each in enumerate(chosen)]
    tiles = [_with_other_fault(each, case.view, of_fault) for each in tiles]
    is_told = diagnosis.enough_to_tell
    of_load = control_of_load(every, load) if leads else [_control(every, found, tiles, own.trials)]
    once_more = next(iter(of_load), None)
    return NextTiles(
        mark=record.mark,
        defect=case.defect,
        causes=named(case, _shares(case)),
        control=once_more,
        tiles=tiles,
        **_open_and_told(case, [each.again for each in chosen], load if leads else None),
        **_left_out(case.view, found, ratings),
        tried=list(case.tried),
        waiting=waiting_for(record, others),
        look_after_days=own.late.look_after_days(record.body.name),
        came_between=own.late.came_between(record.body.name),
        would_tell=_would_tell(case),
        confirm=[] if tiles or found.mends or not is_told else diagnosis.causes[0].confirm[:1],
        saves_shelf=saves_shelf(record),
        hot_shelf=hot_shelf(case.view, others),
        kiln=_kiln_of_several(case.view, others),
        against=_against(case),
        load=load,
        all_glazes=fails_together(case) if load is None else "",
    )


def _shares(case: "Case") -> tuple[float, ...]:
    return tuple(row.share for row in case.rows)


def _control(
    case: "Case", found: Wanted, tiles: Sequence[NextTile], trials: "Sequence[TileRecord]"
) -> Trial | None:
    """The tile once more; None where one waits, or where it would be too hot as it was.

    Beside another kiln it goes less hot; a right cone or shelf is compared with the tile itself.
    """
    is_safe = not ceiling(case.view) or any(each.kind == KILN for each in tiles)
    waits = any(is_control(each) and not each.inspections for each in trials)
    is_fired = is_safe and not waits and not found.stop
    return control(case.view, case.off_shelves) if is_fired else None


def _open_and_told(
    case: "Case", again: list[tuple[float, ...]], load: LoadOrMake | None
) -> dict[str, float]:
    """How open the causes in question are, and what some tiles tell of them together, in bits.

    Of a ``load`` what its control tells.
    """
    shares = _shares(only_open(case))
    told = information(shares, [chances_in_other_load(case)] if load else again)
    return {"open_bits": entropy(shares), "told_bits": told}


def _left_out(view: View, found: Wanted, ratings: Ratings) -> dict:
    """Why the other changes are not fired, as `NextTiles` tells it."""
    return {
        "stop": found.stop,
        "left_out": ratings.left_out,
        "made": [f"{said} ({', '.join(marks)})" for said, marks in found.made.items()],
        "in_vain": [f"{said} ({why_not})" for said, why_not in found.in_vain.items()],
        "no_hotter": ceiling(view) if ratings.cooler else "",
        "cooler": ratings.cooler,
    }


def _would_tell(case: "Case") -> list[str]:
    """What to look at or measure on the failed tile."""
    telling = most_telling(only_open(case).rows, case.facts, MOST_TO_RECORD)
    return [missing(each) for each in telling]


def _chosen(case: "Case", rated: Sequence[Rated]) -> list[Rated]:
    """The changes to fire, in their order."""
    open_case = only_open(case)
    open_shares = _shares(open_case)
    telling = [each for each in rated if tells(open_case, open_shares, each)]
    plain = [each for each in telling if _says_something(case, each)]
    # What is said to change little either way stands beside nothing better.
    rated = plain or (telling if case.tried or len(telling) >= LEAST_TILES else rated)
    rated = [each for each in rated if not each.holds] or rated
    # What changes little is not worth a firing of its own before others, whatever came of it.
    first = [
        each
        for each in rated
        if goes_first(case, each) and (not each.candidate.step.firing or _moves(case, each))
    ]
    first.sort(key=lambda each: (_by_layers(each), each.chance))
    first += [each for each in of_studio_count(rated) if each not in first]
    return choose(rated, open_shares, 0 if case.tried else LEAST_TILES, first[:MOST_FIRST])


def _against(case: "Case") -> dict[str, str]:
    """What own tiles say against the likeliest causes, by their titles; the first of each."""
    rows = [row for row in case.rows[:MOST_AGAINST] if row.is_in_question and row.share >= MOVED]
    told = ((spoken_against(case, row.name), row.title) for row in rows)
    return {title: said[0] for said, title in told if said}


def _kiln_of_several(view: View, others: "Sequence[TileRecord]") -> str:
    """The kiln of the tile, where own tiles were fired in others as well."""
    kilns = {name_key(kiln) for each in others if (kiln := View(each).kiln)}
    return spoken_kiln(view.kiln) if view.kiln and kilns - {name_key(view.kiln)} else ""


def _by_layers(rated: Rated) -> bool:
    """What goes first by the layers of own tiles goes before what does so by a twin."""
    by_twin = rated.candidate.kind == UNDER and not rated.candidate.acts_on
    return rated.candidate.kind not in (UNDER, ORDER, "glaze") or by_twin


def _says_something(case: "Case", rated: Rated) -> bool:
    """Whether an outcome reads as more than "little changes", or own tiles made so are sound."""
    is_worth_it = goes_first(case, rated) or rated.limit_bits or rated.parts
    return bool(is_worth_it) or _moves(case, rated)


def _moves(case: "Case", rated: Rated) -> bool:
    """Whether an outcome reads as more than "little changes"."""
    now = named(case, _shares(case))
    then = (named(case, after) for after in outcomes(case, _shares(case), rated.again))
    return not all(changes_little(each, now) for each in then)


def _tile(case: "Case", rated: Rated, name: str) -> NextTile:
    """A tile to fire."""
    made = rated.candidate.step
    failed, sound = outcomes(case, _shares(case), rated.again)
    by_causes = mean(case, rated.again)
    bench = Bench(case.view, "", case.setting, off_shelves=case.off_shelves)
    trial = replace(step_trial(bench, made), name=name)
    return NextTile(
        trial=trial,
        kind=rated.candidate.kind,
        bits=information(_shares(only_open(case)), [rated.again]),
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
