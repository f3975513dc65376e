"""The ways of glazing that ``tiles palette`` lists, the best first, and what is known of them."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from tiles.cli import caution
from tiles.cli.find_early import Late, came_late_on, looked_too_early
from tiles.cli.off_label import Cones, cones_of_labels
from tiles.cli.palette_left import Left, parted, retired_names
from tiles.cli.palette_order import Looks, best_first, looks
from tiles.cli.palette_rows import how


@dataclass(frozen=True)
class Sheet:
    """What is listed, and what its rows tell.

    ``made`` are the ways listed, ``every`` those that were found, ``left`` what is left out of
    them. By `how` a way is made: ``others`` are its layers made otherwise, ``doubts`` what
    others of its glaze show. ``late`` is what came late on their glazes and clays; ``early`` and
    ``of_clay`` are the clean areas that were looked at too early, by glaze and by clay, ``looks``
    which were late enough; ``targets`` what each firing was set for; ``hazards`` what the glazes
    name, as `caution.by_coat` has it; ``unread`` what of them was not understood.
    """

    made: list
    every: list
    left: Left
    others: dict
    doubts: dict
    late: Late
    early: list
    of_clay: list
    looks: Looks
    labels: "Labels"
    targets: dict[str, str]
    hazards: dict
    unread: dict

    def holds(self, made) -> list[str]:
        """The poisons that the glazes of one line name by recipe or label."""
        return _poisons(self.hazards, made)

    def not_understood(self, made) -> list[str]:
        """What the labels of one line say, or its recipes name, that was not understood."""
        return caution.of_coats(self.unread, caution.on_areas(made.areas))

    @property
    def too_early(self) -> frozenset[tuple[str, int]]:
        """The clean areas that were looked at too early, for their glaze or on their clay."""
        return _areas_of(self.early) | _areas_of(self.of_clay)


def sheet(session, search, *, only_clean: bool, layered: bool, no_poison: bool = False) -> Sheet:
    """The ways of glazing of the tiles that a search finds.

    Parameters
    ----------
    only_clean, layered, no_poison : bool
        Without those that failed on any tile; only those of several glazes; without those that
        name a poison or are not understood.
    """
    from tiles.cli.find_early_clay import early_on_clays
    from tiles.queries.combinations import combinations
    from tiles.queries.search import run
    from tiles.queries.summaries import food_labels, targets_of_firings

    found = combinations(run(session, search))
    others, doubts = _others(session, search, found)
    every = [*found.values()]
    late = came_late_on(session, areas(every))
    early = looked_too_early(late, areas(every))
    of_clay = early_on_clays(session, late, areas(every), early)
    looked = looks(session, areas(every), early, of_clay)
    made = sorted(every, key=lambda each: best_first(each, doubts[how(each)], looked))
    # Two layers of one glaze are coats of it.
    made = [each for each in made if not layered or len(set(each.areas[0].glazes)) > 1]
    names = retired_names(session, made)
    made, gone = parted(made, lambda each: not _names(each).isdisjoint(names))
    made, faulty = parted(made, lambda each: only_clean and each.defects)
    coats = caution.on_areas(areas(every))
    hazards, unread = caution.by_coat(session, coats), caution.unread(session, coats)
    labels = Labels(food_labels(session), cones_of_labels(session))
    ranks = {how(each): _rank(each, hazards, unread, labels) for each in made}
    made.sort(key=lambda each: ranks[how(each)])
    made, poisonous = parted(made, lambda each: no_poison and ranks[how(each)] in _UNSURE)
    left = Left(
        faulty, poisonous, [name for name in names if any(name in _names(each) for each in gone)]
    )
    told = left, others, doubts, late, early, of_clay, looked, labels
    return Sheet(made, every, *told, targets_of_firings(session), hazards, unread)


_SOUND, _NOT_UNDERSTOOD, _POISON, _OUT = range(4)
"""What is not to be handed out comes last, before it what nobody hands out unwarned."""
_UNSURE = (_NOT_UNDERSTOOD, _POISON)


def _rank(made, hazards: dict, unread: dict, labels: "Labels") -> int:
    if labels.cones.stops(made.areas):
        return _OUT
    if _poisons(hazards, made):
        return _POISON
    is_read = not caution.of_coats(unread, caution.on_areas(made.areas))
    return _SOUND if is_read else _NOT_UNDERSTOOD


def _names(made) -> set[str]:
    """The clay and the glazes of one way."""
    area = made.areas[0]
    return {area.body, *area.glazes}


def _poisons(hazards: dict, made) -> list[str]:
    return caution.poisons(hazards, caution.on_areas(made.areas))


def _others(session, search, found: dict) -> tuple[dict, dict]:
    """The same layers made otherwise, and what others of its glaze show, by how a way is made."""
    from tiles.cli.palette_others import others_with
    from tiles.queries.combinations import combinations, made_otherwise, on_its_clay
    from tiles.queries.search import run

    otherwise = replace(search, body=None, coats=None)
    every = found if otherwise == search else combinations(run(session, otherwise))
    clay = on_its_clay(every)
    doubts = {made: others_with(each, clay[made]) for made, each in found.items()}
    return made_otherwise(every), doubts


def _areas_of(early: Iterable) -> frozenset[tuple[str, int]]:
    return frozenset().union(*(each.areas for each in early))


def areas(made: list) -> list:
    """The areas of some ways of glazing."""
    return [area for each in made for area in each.areas]


@dataclass(frozen=True)
class Labels:
    """What labels say about food, and the cones they give, by the names of the glazes."""

    food: dict = field(default_factory=dict)
    cones: Cones = field(default_factory=Cones)
