"""The ways of glazing that ``tiles palette`` lists, the best first, and what is known of them."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from tiles.cli import caution
from tiles.cli.find_early import Late, came_late_on, looked_too_early
from tiles.cli.off_label import Cones, cones_of_labels
from tiles.cli.palette_order import Looks, best_first, looks
from tiles.cli.palette_rows import how


@dataclass(frozen=True)
class Sheet:
    """What is listed, and what its rows tell.

    ``made`` are the ways listed, ``every`` those that were found, ``faulty`` those left out for
    their faults. By `how` a way is made: ``others`` are its layers made otherwise, ``doubts`` what
    others of its glaze show. ``late`` is what came late on their glazes and clays; ``early`` and
    ``of_clay`` are the clean areas that were looked at too early, by glaze and by clay, ``looks``
    which were late enough; ``targets`` what each firing was set for; ``hazards`` what the glazes
    name, as `caution.by_coat` has it.
    """

    made: list
    every: list
    faulty: list
    others: dict
    doubts: dict
    late: Late
    early: list
    of_clay: list
    looks: Looks
    gone: "Retired"
    labels: "Labels"
    targets: dict[str, str]
    hazards: dict

    def holds(self, made) -> list[str]:
        """The poisons that the glazes of one line name by recipe or label."""
        return _poisons(self.hazards, made)

    @property
    def too_early(self) -> frozenset[tuple[str, int]]:
        """The clean areas that were looked at too early, for their glaze or on their clay."""
        return _areas_of(self.early) | _areas_of(self.of_clay)


def sheet(session, search, *, only_clean: bool, layered: bool) -> Sheet:
    """The ways of glazing of the tiles that a search finds.

    Parameters
    ----------
    only_clean, layered : bool
        Without those that failed on any tile; only those of several glazes.
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
    faulty = [each for each in made if only_clean and each.defects]
    made = [each for each in made if not (only_clean and each.defects)]
    gone, hazards = (
        _retired(session, made),
        caution.by_coat(session, caution.on_areas(areas(every))),
    )
    labels = Labels(food_labels(session), cones_of_labels(session))
    # What is not to be handed out comes last, before it what nobody hands out unwarned.
    made.sort(key=lambda each: (_is_out(each, gone, labels), bool(_poisons(hazards, each))))
    told = others, doubts, late, early, of_clay, looked, gone, labels
    return Sheet(made, every, faulty, *told, targets_of_firings(session), hazards)


def _is_out(made, gone: "Retired", labels: "Labels") -> bool:
    return bool(gone.of(made) or labels.cones.stops(made.areas))


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


@dataclass(frozen=True)
class Retired:
    """The clays and the glazes of the sheet that are no longer handed out."""

    bodies: list[str]
    glazes: list[str]

    def of(self, made) -> list[str]:
        """Those of one line."""
        area = made.areas[0]
        body = [area.body] if area.body in self.bodies else []
        return body + [name for name in dict.fromkeys(area.glazes) if name in self.glazes]

    def told(self, made: list) -> list[str]:
        """A line that names those of the lines that are shown."""
        shown = {name for each in made for name in self.of(each)}
        names = [name for name in dict.fromkeys(self.bodies + self.glazes) if name in shown]
        return [f"Retired, so not to be handed out: {', '.join(names)}."] if names else []


def _retired(session, made: list) -> Retired:
    from tiles.queries.summaries import retired
    from tiles.records import models

    areas = [each.areas[0] for each in made]
    bodies = retired(session, models.ClayBody, {each.body for each in areas})
    glazes = {name for each in areas for name in each.glazes}
    return Retired(bodies, retired(session, models.Glaze, glazes))
